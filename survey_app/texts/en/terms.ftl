## Words that several messages share, each said once.

# Out first, then what not to touch, then the call from outside: PHMSA, Recognizing and Responding to Pipeline
# Emergencies (no switch, no garage door opener, no engine, no telephone). Every place that tells of it says these words.
-gas-out = Go out now, with everyone. Switch nothing on or off. Use no garage door opener, no car and no phone inside. Call the gas utility or 911 from outside.
