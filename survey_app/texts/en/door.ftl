## The door itself.

door-language = Language
door-review = This translation has not been checked by a native speaker yet.
door-leaking = Water on the floor? Smell gas? What to do now
door-something-wrong = Something is wrong with my heater
door-decide = Replace it, or wait?
door-buy = Buying the next one
door-flush = Flush and anode, explained
door-offer = Buying together: your offer
door-record = My record
door-answer = Answer, or correct an answer
door-answer-new = Tell us about your heater: three minutes
door-my-heater = My heater
door-my-heater-title = My heater
door-code-help = Your letter has a private code. It opens your home, and no other.
door-code = Private code
door-code-open = Open my home
door-no-letter = No letter? Tell us about your heater without a code
door-open-first = Open your home with the private code of your letter first.
door-more = More
door-first = First of all

nav-start = Start
nav-resident = Resident
nav-answer = Tell us about your heater
nav-my-heater = My heater
nav-decide = Replace or wait
nav-wrong = Something is wrong
nav-leaking = Leaking now
nav-buy = Buying the next one
nav-flush = Flush and anode
nav-offer = Buying together
nav-privacy = Who sees what
nav-record = My record

head-synthetic = Synthetic demo.
head-synthetic-help = This community is invented: no home, person or heater in it is real.
head-open-doors = Its doors stand open: anyone may try every page.
head-fresh = data of { $day } · { $answered } of { $homes } homes have answered
head-no-homes = no homes yet
head-signed-in = Signed in: { $name }
head-sign-out = Sign out
