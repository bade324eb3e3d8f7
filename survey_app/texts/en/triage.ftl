## Something is wrong: a triage by what one sees, hears or smells. Common practice, no source, unless a line names one.

triage-title = Something is wrong
triage-lead = Answer one question at a time. Not sure is a good answer.
triage-box = At any time: is one of these true?
triage-now =
    .gas-smell = Smell of gas, or gas detector
    .alarm = Carbon monoxide alarm, or dizzy
    .relief = Water or steam shoots out
    .flue = Soot, or a loose flue
    .switch = Safety switch tripped
triage-back = Back one step
triage-again = Start over
triage-leaking = Water is running now? What to do at once
triage-so-far = You said: { $answers }
triage-head-first = Do this first
triage-head-why = The usual cause
triage-head-yours = What you can do
triage-head-theirs = What is for others
triage-head-cost = What it may cost
triage-head-standing = On your record
triage-head-cautions = Be careful
triage-record = Put this on my record
triage-recorded = It is on your record now.
triage-after = When everyone is safe: tell the survey
triage-after-why = Then nobody sends a crew to this heater before it has been looked at.
triage-record-form = Tell us about it in the form
triage-standing-yes = This changes what the survey says about your heater. So put it on record.
triage-standing-no = This changes nothing in what the survey says about your heater.
triage-fate-fatal = The heater is at its end. This cannot be repaired.
triage-fate-recoverable = This can be put right. The heater need not be lost.
triage-fate-unknown-until-seen = Nobody can tell until it has been looked at.
triage-price-dip-tube = A new dip tube: { $low } to { $high }.
triage-price-thermocouple = A new thermocouple: { $low } to { $high }.
triage-price-gas-control = A new gas control: { $low } to { $high }.
triage-price-relief-valve = A new relief valve: about { $low }.
triage-price-replacement = A new heater of the same kind, put in the same place. It costs more in a hurry.
triage-price-note = These are the usual prices of { $when }. They come from no published source. A part is priced alone: the service call comes on top.
triage-price-none = We have no price for this. Ask for the full price in writing first.

triage-any =
    .gas = Gas
    .electric = Electric, with a tank
    .heat-pump = A heat pump, with a tank
    .tankless = It has no tank
    .not-sure = I am not sure

triage-ask-safety = Is there danger right now?
    .gas-smell = I smell gas, or a gas detector sounds
    .alarm = A carbon monoxide alarm sounds, or somebody near it feels dizzy or sick
    .relief = The relief valve has opened: water or steam shoots out of the pipe on the side
    .flue = Soot, scorch marks or melted plastic at the heater, flames outside its door, or a flue pipe that is loose, rusted or sagging
    .switch = The burner's safety switch has tripped
    .none = None of these. Go on
triage-ask-what = What do you see, hear or smell?
    .leak = Water on, under or near the heater
    .no-hot = No hot water at all
    .runs-out = The hot water runs out too soon
    .too-hot = The water is far too hot
    .pilot = The pilot flame will not stay lit
    .noise = It rumbles or pops
    .smell = The water or the air smells bad
    .rust = The water is brown or red
    .flush = Something odd came up when the tank was flushed
triage-ask-leak = Where does the water come from?
    .shell = The tank itself: its wall, its seam or from under it
    .top = A pipe or a joint on top
    .relief = A few drops from the pipe on the side
    .drain = The drain valve near the floor
    .condensate = A thin plastic hose of a heat pump heater
triage-ask-no-hot = What heats your water?
triage-ask-gas-off = Look through the small window low on the heater. What do you see?
    .out = The pilot flame is out
    .stays-out = I have lit it, and it goes out again
    .switch = The safety switch has tripped
    .lit = The pilot burns, but the water stays cold
    .no-pilot = It has no pilot. It plugs into an outlet
triage-ask-electric-off = Look at the breaker for the heater. Only go to the panel with dry feet and dry hands. How is it?
    .tripped = It has tripped
    .on = It is on
triage-ask-heat-pump-off = Look at the heater's display. Look at its breaker too, with dry feet and dry hands. What do you find?
    .tripped = The breaker has tripped
    .message = The display shows a message, or nothing
    .runs = The fan runs, but the water stays cold
triage-ask-runs-out = How did it begin?
    .sudden = All at once
    .slow = Little by little, over months or years
    .always = It was always so, or since more people live here
triage-ask-runs-out-kind = What heats your water?
triage-ask-smell = Where is the bad smell?
    .air = In the air near the heater, or I cannot tell
    .hot = In the hot water only
    .both = In the cold water too
triage-ask-rust = Run the cold water alone, then the hot. Which is brown?
    .hot = Only the hot water
    .both = The cold water too
triage-ask-flush = What did you see?
    .grit = White grit or sand
    .jelly = Soft white jelly
    .rust = Rust, or thin flakes like glass
    .valve = The drain valve will not close
    .nothing = Little or no water came out

triage-out-gas-smell = You smell gas. Leave now
    .why = Gas leaks from a pipe, a joint or the heater. One spark can set it off.
    .yours =
        Go out now, with everyone. Leave the door open behind you.
        Switch nothing on or off: no light, no plug, no bell. Light nothing.
        Use no garage door opener, no car and no phone inside.
        Call the gas utility or 911 from outside, well away from the house. Warn the people next door.
        Go back in only when they say so.
    .theirs = The gas utility finds the leak. A licensed contractor mends it. Never look for it with a flame.
triage-out-carbon-monoxide = It may be carbon monoxide. Leave now
    .first = Get everyone out into fresh air now. Then call 911 from outside.
    .why = A burner that gets too little air, or a blocked flue, makes carbon monoxide. You cannot see it or smell it. It can kill.
    .yours =
        Get everyone out into fresh air at once.
        Call 911 from outside. Say that it may be carbon monoxide.
        Tell them who feels dizzy, sick or has a headache.
        Go back in only when they say so.
        Leave the heater off until it has been looked at.
    .theirs = The fire department or the gas utility measures the air. A licensed contractor looks at the burner and the flue before it is lit again.
triage-out-bad-flue = The burner or its flue is not right. Turn it off
    .why = Soot, scorch marks or flames outside the door say that the burner gets too little air, or that its smoke does not go up the flue. A flue that is loose, rusted through or sagging lets carbon monoxide into the house. You cannot smell it. It can kill.
    .yours =
        Does an alarm sound, or is someone dizzy, sick or with a headache? Everyone out into fresh air now. Call 911 from there.
        Else turn the gas control on the heater to off, if you can do it without reaching over flames or hot metal.
        Open a window. Keep people out of that room.
        Touch nothing on the flue: it is hot, and its parts can fall.
        Do not light it again. Call a licensed contractor now.
    .theirs = A licensed contractor looks at the burner, the air it gets and the whole flue before it is lit again. The gas utility can measure the air.
triage-out-relief-opened = The relief valve has opened. Keep away and turn the heater off
    .why = The control may not be shutting the burner off, so the water gets too hot. Or the pressure is too high. The valve has kept the tank from bursting.
    .yours =
        Keep everyone away from the pipe. The water and steam can scald.
        Gas: turn the control on the heater to off, if you can reach it safely.
        Electric or heat pump: switch the breaker off, with dry feet and dry hands.
        Let the valve run. Never plug it or cap it.
        Call a licensed contractor now.
    .theirs = A licensed contractor finds out why it opened. The heater stays off until then. The valve may need to be changed as well.
triage-out-safety-switch = The burner's safety switch has tripped. Leave it off
    .why = The burner got too little air, the flue is blocked, or the burner did not shut off. Heaters made since 2003 have a sealed burner: lint on its intake screen, or vapors of gasoline or solvents near it, trip the switch as well.
    .yours =
        Does an alarm sound, or is someone dizzy or sick? Everyone out into fresh air now. Call 911 from there.
        Else turn the gas control on the heater to off, and open a window.
        Do not reset the switch and do not light the burner.
        Look from outside, with a flashlight: is the screen under the burner full of lint? Note it for the contractor.
        Call a licensed contractor now.
    .theirs = A licensed contractor checks the air, the flue and the burner. Only then may the switch be reset.
triage-out-safety-not-sure = In doubt, act as if it were gas
    .why = What is put into gas so that people notice it smells of bad eggs. So does some water. Nobody can be blamed for leaving too soon.
    .yours =
        Go out now, with everyone. Switch nothing on or off. Use no garage door opener, no car and no phone inside.
        Call the gas utility or 911 from outside. They come and look.
        If you hear or see water or steam shoot out, keep away from it.
        Come back to these questions when they say that it is safe.
    .theirs = The gas utility measures the air. A licensed contractor looks at the heater.

triage-out-leak-shell = The tank itself leaks
    .why = The steel has rusted through. No repair can close it. It will get worse.
    .yours =
        Close the cold water valve on top of the heater. If it will not close, close the house main.
        Gas: turn the control on the heater to off. Electric or heat pump: breaker off, with dry feet and dry hands.
        Open the page for a leak and follow its steps.
        Take photographs before you clean up.
        Ask for two prices in writing, if you have the time.
    .theirs = A licensed contractor puts in a new heater, with a permit where the local code asks for one.
triage-out-leak-fitting = A joint or a pipe on top leaks, not the tank
    .why = A joint has come loose, a washer is worn, or a pipe has rusted. The tank may be quite sound.
    .yours =
        Close the cold water valve on top of the heater.
        Turn the heater off if water drips on it. Gas: the control. Electric or heat pump: the breaker, with dry feet and dry hands.
        Put a bucket or a towel under the drip. Keep the water off the wires.
        Dry the tank and look again in an hour. Then you see where it comes from.
        Take a photograph.
    .theirs = A licensed contractor makes the joint tight. Do not turn hot pipes or gas pipes yourself.
triage-out-relief-drips = The relief valve drips
    .why = A little dirt keeps it from closing, the water has no room to swell when it is heated, or the valve is worn.
    .yours =
        Put a bucket under the pipe. Count the drops in a minute, and note the date.
        Never plug the pipe or cap it.
        If the drops turn into a stream, turn the heater off and call a contractor at once.
        Ask whether your house needs an expansion tank, or has one that lost its air.
    .theirs = A licensed contractor cleans or changes the valve, and measures the pressure of the house. An old valve that is opened may not close tight again.
triage-out-leak-drain = The drain valve leaks, not the tank
    .why = Grit lies in the valve, or its washer is worn. This is often so after a flush.
    .yours =
        Turn it gently to close. Do not force it: some are plastic and break.
        Screw a hose cap onto its end. That often stops it.
        If it still runs, close the cold water valve on top of the heater and turn the heater off.
        The water is hot. Keep hands and feet away.
    .theirs = A licensed contractor changes the valve. Ask for a brass ball valve.
triage-out-leak-condensate = A heat pump makes water. Its hose may be blocked
    .why = A heat pump heater takes water out of the air. A thin hose carries it away. Slime or a bend can block it.
    .yours =
        See whether the hose is bent, frozen or full of slime.
        Lead it to a drain or a bucket for now.
        Dry the floor. See whether the water comes back, and from where.
        If it comes from the tank, go back one step and say so.
    .theirs = If it is still wet after that, a licensed contractor looks at the heat pump.
triage-out-leak-not-sure = Water, and nobody knows from where
    .why = It may be the tank, a joint, a valve, or only damp air on a cold tank that was just filled.
    .yours =
        If it runs or spreads, close the cold water valve on top of the heater. Then open the page for a leak.
        If it is only damp, dry all of it with a towel.
        Look again after an hour: top, side pipe, drain valve, then under it.
        Lay dry paper under the heater. It shows where the drops fall.
        Take photographs.
    .theirs = If you cannot find it within a day, call a licensed contractor. Water from the tank itself cannot wait.

triage-out-pilot-out = The pilot flame is out
    .why = A draft, a short break in the gas, or too little air. Heaters made since 2003 have a sealed burner: look first for lint on its intake screen. Or the thermocouple is worn. That is the small rod in the flame.
    .yours =
        Turn the gas control to off and wait five minutes. Smell all around the heater, and low at the floor.
        Smell gas? { -gas-out }
        Did the heater stand in water? Never light it again. Its gas control must be replaced.
        Keep gasoline, paint and solvents out of the room. Their vapors can trip or light at the burner.
        Read the label on the heater. Light it once, just as the label says, or leave it to others.
        If it goes out again, leave it out.
    .theirs = If it will not stay lit, a licensed contractor looks at the intake screen, the thermal cut-off, the thermocouple and the gas control.
triage-out-pilot = The pilot flame will not stay lit
    .why = Heaters made since 2003 have a sealed burner: lint on its intake screen, or a thermal cut-off that has tripped, is looked at first. Next is a thermocouple that is out of place or worn. Last is a gas control that sticks.
    .yours =
        Turn the gas control on the heater to off and wait five minutes. Smell all around the heater, and low at the floor.
        Smell gas? { -gas-out }
        Do not light it again and again. Gas can gather.
        Did it stand in water? Never light it again. Its gas control must be replaced.
        Is gasoline, paint or solvent stored near it? Take it out of the room. Look for lint on the screen under the burner.
        Write down the kind, the size and the age of the heater before you call.
    .theirs = A licensed contractor cleans the intake screen, finds out why a cut-off has tripped, and sets or changes the thermocouple. To change the gas control, the tank must be drained first.
triage-out-gas-control = The pilot burns, but the burner does not start
    .why = The control is set to pilot or vacation, or the gas control does not open.
    .yours =
        Read how the control is set. If it stands on pilot or vacation, set it back to its mark for every day.
        About 120 °F (49 °C) is a good setting. Hotter water scalds.
        Wait an hour. Then run a hot tap into a cup and hold a kitchen thermometer in it.
        If it stays cold, stop here and call.
    .theirs = A licensed contractor checks and changes the gas control. Do not open it yourself.
triage-out-gas-powered = It needs power as well as gas
    .why = A heater with a fan or a spark needs an outlet. The outlet may be dead, or the heater shows a fault by its blinking light.
    .yours =
        See whether it is plugged in, and whether a lamp works in that outlet.
        Do this only on a dry floor and with dry hands.
        Count the blinks of the light and write them down.
        The maker's sheet on the heater says what they mean.
    .theirs = The fan, the flue, the spark and the gas valve are for a licensed contractor.
triage-out-gas-not-sure = A gas heater that stays cold
    .why = Most often the pilot is out. The gas may also be off for the whole house.
    .yours =
        Smell all around the heater, and low at the floor. Smell gas? { -gas-out }
        See whether the stove or the furnace works. If no gas comes at all, call the gas utility.
        Leave the burner alone if you cannot see what is wrong.
        Photograph the control and the label for the contractor.
    .theirs = A licensed contractor looks at the pilot, the thermocouple and the gas control.
triage-out-breaker = The breaker has tripped
    .why = A heating element or a wire has a fault, or the breaker is worn.
    .yours =
        Look for water first. If the floor or the heater is wet, leave the breaker off and call.
        Open a hot tap. Does it run full, with no air? Only then may the breaker go on: an element that stands dry burns out.
        Stand on a dry floor, with dry hands. Turn the breaker fully off, then on. Do this once only.
        If it trips again, leave it off.
        If it stays on, wait two hours. Then run a hot tap into a cup and hold a kitchen thermometer in it.
    .theirs = A breaker that trips twice is for a licensed contractor or electrician. The parts behind the heater's covers can kill.
triage-out-element = There is power, but the water stays cold
    .why = The heater's own cut-out has tripped because the water got too hot, or a heating element has burned out.
    .yours =
        Leave the covers on. There are live wires behind them.
        Switch the breaker off until it has been looked at.
        Write down the size and the age of the heater.
    .theirs = A licensed contractor resets the cut-out, finds out why it tripped, and tests the elements.
triage-out-electric-not-sure = An electric heater that stays cold
    .why = Most often the breaker has tripped, or a heating element has burned out.
    .yours =
        Never go to the panel with wet feet or wet hands.
        The breaker for the heater is a double one. Often it is marked. A tripped one stands in the middle.
        Ask a neighbor to look with you, or leave it.
        If the heater or the floor is wet, touch neither.
    .theirs = A licensed contractor or electrician finds out which it is.
triage-out-heat-pump = A heat pump heater has trouble
    .why = It may be set to vacation, its air filter may be full, the air may be too cold, or a part has failed.
    .yours =
        Read the display and write the message down. The maker's book says what it means.
        Look at its setting. Set it back from vacation to its mark for every day.
        Clean the air filter as the maker's book says.
        Until it is mended you may set it to heat by electric element, if it still can.
    .theirs = The sealed cooling part and the wires are for a licensed contractor. Ask first whether the warranty still runs.
triage-out-tankless = A heater without a tank has trouble
    .why = Scale, a full water filter, too little gas or power, or a blocked flue. The display often shows a number.
    .yours =
        Smell gas? { -gas-out }
        Write the number down. The maker's book says what it means.
        See whether it has power and whether the gas is on.
        Clean the water filter if the maker's book shows you how.
        Note when it was last cleaned of scale.
    .theirs = Gas, flue and wires are for a licensed contractor. So is taking out scale, if you have not done it before.
triage-out-kind-not-sure = No hot water, and nobody knows which kind it is
    .why = Gas heaters mostly lose their pilot flame. Electric ones mostly trip their breaker.
    .yours =
        A gas heater has a metal pipe for its smoke on top, a gas pipe and a small window below.
        An electric one has only water pipes and a thick wire.
        A heat pump heater has a fan and a display on top. One without a tank is a box on the wall.
        Go back one step when you know. If you do not, leave it alone and call.
    .theirs = A licensed contractor can tell at a glance. Send a photograph when you call.

triage-out-dip-tube = The dip tube may be broken
    .why = A tube inside leads cold water to the bottom of the tank. When it breaks, cold water mixes with the hot at the top.
    .yours =
        See whether the control has been turned down by someone.
        Look for white bits of plastic in the faucet screens. They can come from the tube.
        Note since when it has been so.
    .theirs = A licensed contractor changes the tube. While the tank is open, ask for a look at the anode.
triage-out-lower-element = One of the two heating elements may be out
    .why = Most electric tanks have two elements. When the lower one burns out, only the top of the tank gets hot. A broken dip tube feels the same.
    .yours =
        Leave the covers on. There are live wires behind them.
        Note since when it has been so, and how many minutes of hot water you get.
    .theirs = A licensed contractor tests both elements and changes the one that failed. The tank is drained for it, with the breaker off first.
triage-out-runs-out-slow = The tank has likely filled with scale
    .why = Scale and grit take up room in the tank. They keep the heat from the water.
    .yours =
        Ask yourself when it was last flushed. Once a year is the usual advice.
        If it has never been flushed in eight years or more, do not do it yourself. It can start a leak.
        See whether more hot water is used than before.
    .theirs = A licensed contractor flushes the tank, or says why it should be left alone.
triage-out-too-small = The tank may be too small for the house
    .why = More people, a bigger tub or a wide shower head use it up. The heater may be quite sound.
    .yours =
        See how the control is set. About 120 °F (49 °C) is a good setting. Hotter water scalds.
        Take showers one after the other, not at once with the washer.
        A shower head that uses less water helps.
        Look at the page on buying the next one: it helps to find the right size.
    .theirs = A licensed contractor can fit a mixing valve, or a bigger heater when this one has done its time.
triage-out-runs-out-not-sure = The hot water runs out, and the cause is open
    .why = It can be a broken dip tube, an element that burned out, scale, or a tank that is too small.
    .yours =
        Time how long a hot shower lasts. Write it down with the date.
        See how the control is set, and whether someone has changed it.
        Note when the tank was last flushed.
        Do it again in a week. If it got worse, call.
    .theirs = A licensed contractor tests it. Show the dates and times you wrote down.
triage-ask-too-hot-kind = What heats your water?

# Third-degree burn of an adult's skin: U.S. Consumer Product Safety Commission, Tap Water Scalds (Document 5098).
# 120 °F: the same, and US DOE, energy.gov. 130 to 140 °F with a mixing valve: health agencies on Legionella.
-too-hot-warn = Warn everyone. Water of 140 °F (60 °C) burns the skin badly in about six seconds. Keep children from the taps.
-too-hot-measure = Run a hot tap into a cup for a minute. Hold a kitchen thermometer in the cup. Never test by feel. Write down what it shows.
-too-hot-boils = If you hear it boil, or steam comes out, keep everyone away from the heater and call a licensed contractor now.
-too-hot-setting = About 120 °F (49 °C) guards against scalds. Some keep 130 to 140 °F (54 to 60 °C) against germs: then a mixing valve has to cool the water at the taps.
triage-out-too-hot-gas = A gas heater makes the water far too hot
    .why = The control is set too high, or it no longer shuts the burner off. Then the relief valve may open next.
    .yours =
        { -too-hot-boils }
        { -too-hot-warn }
        { -too-hot-measure }
        Turn the knob of the gas control, on the outside of the heater, down. { -too-hot-setting }
        Wait two hours and measure again.
        Still too hot? Turn the gas control to off.
    .theirs = If turning it down does not help, the control has failed: call a licensed contractor now. It stays off until then.
triage-out-too-hot-electric = An electric tank makes the water far too hot
    .why = A thermostat is set too high or sticks, or an element has a fault. The thermostats stand behind covers, over wires of 240 volts.
    .yours =
        { -too-hot-boils }
        { -too-hot-warn }
        { -too-hot-measure }
        Leave the covers on. The wires behind them can kill.
        Switch the breaker off, with dry feet and dry hands, if it shows more than 140 °F (60 °C).
    .theirs = A licensed contractor or electrician sets or changes the thermostats. { -too-hot-setting }
triage-out-too-hot-heat-pump = A heat pump heater makes the water far too hot
    .why = It is set too high on its display, or a thermostat of its electric elements sticks. That one stands behind covers, over wires of 240 volts.
    .yours =
        { -too-hot-boils }
        { -too-hot-warn }
        { -too-hot-measure }
        Set it lower on the display, as the maker's book says. { -too-hot-setting }
        Wait two hours and measure again. Still too hot? Switch the breaker off, with dry feet and dry hands.
        Leave the covers on. The wires behind them can kill.
    .theirs = If the display does not help, call a licensed contractor now. The heater stays off until then.
triage-out-too-hot-tankless = A heater without a tank makes the water far too hot
    .why = It is set too high on its panel, or its sensor is covered with scale.
    .yours =
        { -too-hot-warn }
        { -too-hot-measure }
        Set it lower on its panel. { -too-hot-setting }
        Measure again. Still too hot? Switch it off on its panel.
        Write down the number on the display, if there is one.
    .theirs = A licensed contractor looks at the sensor and takes out the scale.
triage-out-too-hot-not-sure = The water is far too hot, and nobody knows which kind of heater it is
    .why = Each kind is set in another place. On an electric tank that place stands over wires that can kill.
    .yours =
        { -too-hot-boils }
        { -too-hot-warn }
        { -too-hot-measure }
        Open no cover and turn nothing that you do not know.
        A gas heater has a metal pipe for its smoke on top and a gas pipe. An electric one has only water pipes and a thick wire. Go back one step when you know.
    .theirs = A licensed contractor can tell at a glance. Send a photograph when you call. { -too-hot-setting }
triage-out-rumble = Scale on the bottom makes it rumble
    .why = Water boils under a layer of scale and grit. This is common with hard water. It wastes heat and wears the tank.
    .yours =
        If it bangs hard or steam comes out, keep everyone away. Turn the heater off if you can reach its control or breaker without going near. Call a licensed contractor now.
        Note when it was last flushed.
        A yearly flush is the usual care. Read the page on the flush first.
        If it has never been flushed in eight years or more, do not do it yourself. It can start a leak.
    .theirs = A licensed contractor flushes an old or neglected tank, or says that it is too late for it.
triage-out-smell-hot = The anode and germs make the hot water smell
    .why = Germs in the tank, mostly harmless, can feed on what the anode gives off. It smells of bad eggs. Softened water and a tank that stands idle make it worse.
    .yours =
        Smell the air near the heater too. If the air smells, it may be gas. { -gas-out }
        After two weeks or more away read the page on the flush: there it says how to come back.
        Do not take the anode out for good. The tank rusts through without it.
        Very hot water kills germs, but it scalds. Leave that to the contractor.
    .theirs = A licensed contractor can flush and clean the tank, and fit another kind of anode.
triage-out-smell-both = The smell comes with the water, not from the heater
    .why = When cold water smells too, the cause lies in the supply or in a filter or a softener.
    .yours =
        Smell the air too. If the air smells, it may be gas. { -gas-out }
        Ask a neighbor whether their water smells.
        Do not drink it. Call the water utility.
        See when the filter or the softener was last cared for.
    .theirs = The water utility tests the supply. A licensed contractor looks at a filter or a softener.
triage-out-rust-hot = The tank may be rusting inside
    .why = The anode is spent and the steel is next. Or an old iron pipe on the hot side is rusting.
    .yours =
        Fill a white cup each morning for three days, first cold, then hot. Photograph them.
        Lay a leak alarm on the floor beside the heater. A shut-off that closes the water by itself is better still.
        A pan with a drain belongs under the next heater. Nobody lifts this one: full, it weighs 400 pounds (180 kg) or more.
        Find the cold water valve now, and see that it turns.
        Start to ask for prices. Planned is cheaper than in a hurry.
    .theirs = A licensed contractor looks at the anode, and tells a rusty pipe from a rusty tank. If the tank rusts, it cannot be saved.
triage-out-rust-both = The rust comes with the water, not from the heater
    .why = When cold water is brown too, the cause lies in the street main or in the house pipes.
    .yours =
        Run the cold water at one tap for ten minutes. See if it clears.
        Ask a neighbor whether their water is brown.
        Use no hot water until it is clear, so that the tank stays clean.
        Call the water utility if it does not clear.
    .theirs = The water utility sees to the main. A licensed contractor sees to the pipes of the house.
triage-out-rust-not-sure = Find out which water is brown
    .why = Brown hot water alone points to the tank. Brown cold water points to the supply.
    .yours =
        Fill a white cup with cold water in the morning, before any other water runs.
        Then fill one with hot water, with care. Photograph both.
        Do it on three days. Then answer again.
        Look under the heater for water while you are there.
    .theirs = If only the hot one is brown, call a licensed contractor within days.

triage-out-flush-grit = White grit is scale. That is usual
    .why = Hard water leaves it. There is more of it with a softener or after years with no flush.
    .yours =
        Go on: stir, close, drain, until the water runs clear.
        Fill the tank until the open hot faucet runs with no air. Only then turn on gas or power.
        Flush once a year. Write the date down.
    .theirs = If the grit will not end, or blocks the valve, call a licensed contractor.
triage-out-flush-jelly = White jelly is a spent anode
    .why = The anode rod has done its work and is worn away. When it is gone, the steel tank is next.
    .yours =
        Rinse until the water runs clear. Fill the tank before you turn it on again.
        Ask for a new anode soon. It is cheap against a new heater.
        Note the date and what you saw. Take a photograph.
    .theirs = A licensed contractor changes the anode. On an older tank the plug may have seized: they decide whether to try.
triage-out-flush-rust = Rust or glass flakes: the tank is going
    .why = The lining of the tank has come off and the steel rusts. A leak comes next. Nobody can say when.
    .yours =
        Do not stir the tank any more. Fill it slowly. Turn gas or power on only when an open hot tap runs without air.
        Watch it for an hour.
        Lay a leak alarm on the floor beside it, and see that the cold water valve turns. A pan belongs under the next one.
        Ask for prices now, while it still works.
        Do not leave home for long without closing the cold water valve.
    .theirs = A licensed contractor puts in a new heater, with a permit where the local code asks for one. Ask them first to rule out a rusty pipe.
triage-out-flush-valve = The drain valve will not close
    .why = Grit lies in it, or its washer is worn. This is usual with an old valve that was opened for the first time.
    .yours =
        Open it wide for a few seconds to wash out the grit. Keep away from the hot water. Then close it gently.
        Screw a hose cap onto its end.
        If it still runs, close the cold water valve on top. Keep gas or power off.
        Leave the hose on and lead it to a drain.
    .theirs = A licensed contractor changes the valve. Ask for a brass ball valve.
triage-out-flush-clogged = The valve or the tank is clogged
    .why = Scale blocks the valve, or no air gets in because no hot faucet is open.
    .yours =
        Open a hot faucet in the house, so that air gets in.
        See that the hose has no bend in it.
        Do not poke into the valve. Hot water can shoot out.
        If nothing comes, close the valve and stop. Open the cold water, fill up, then turn the heater on.
    .theirs = A licensed contractor clears or changes the valve. If the tank is old and full of scale, they decide whether to flush it at all.
triage-out-flush-not-sure = Keep what came out and show it
    .why = White grit is scale. White jelly is a spent anode. Rust or glass flakes mean that the tank is going.
    .yours =
        Catch some in a white cup, with care: it is hot. Photograph it.
        Rub it when it is cool. Grit is hard, jelly is soft, flakes are thin and sharp. Wear gloves.
        See that the drain valve is tight. Look again tonight.
        Fill the tank until the hot faucet runs with no air. Only then turn on gas or power.
    .theirs = Send the photograph to a licensed contractor, and ask what it is.
triage-out-not-sure = Look at these five things
    .why = You need not know the cause. What you see is enough.
    .yours =
        Smell near the heater. Smell gas? { -gas-out }
        Look under and around it for water. Look at the pipe on the side.
        Run the hot water: is it hot, clear and without smell?
        Listen while it heats: does it rumble?
        Photograph the heater and its label. Then answer again, or call.
    .theirs = A licensed contractor can look at it. Call now if it is hot, wet or loud in a way that is new to you.
