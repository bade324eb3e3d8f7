## The deep flush and the anode, explained. Common practice, no source, unless a line names one.

flushing-title = Flush and anode
flushing-lead = Once a year a tank should be flushed. It washes out what settles on the bottom. Read it all before you start.
flushing-kind = What kind of heater?
flushing-tankless = This is for tanks. A tankless heater is cleaned of scale in its own way, by the maker's steps. Ask a licensed contractor.
flushing-head-not = When to leave it alone
flushing-not-lead = Do not do it yourself if one of these is true. Call a licensed contractor.
flushing-not-home = By what is on file, this holds for your heater:
flushing-not-never-flushed = The tank is { $years } years old or more and was never flushed, or nobody knows. Stirred up, it may start to leak, or its drain valve may not close again. The contractor decides, and tells you the risk before. Have a hose cap at hand.
flushing-not-valve-trouble = The drain valve drips, is stuck, or is plastic and old.
flushing-not-no-shut-off = The cold water valve is missing or does not close, or you cannot find the gas control or the breaker.
flushing-not-tank-leaks = Water comes from the tank. A tank that leaks is at its end.
flushing-not-rust = The hot water is rusty.
flushing-not-relief-opened = The relief valve has opened. Call a licensed contractor now.
flushing-not-safety-switch = The burner's safety switch has tripped. Call a licensed contractor now.
flushing-not-place = It stands in an attic, or above rooms, and no hose can run out safely.
flushing-not-person = You cannot kneel, lift a hose full of water, or get away from hot water fast.
flushing-not-unsure = You are not sure. That is reason enough.
flushing-not-now = What was reported of your heater comes first. The steps of a flush stand here again when it is settled. Until then, leave the tank alone and ask a licensed contractor.
flushing-head-steps = The order of work
flushing-steps-lead = Keep to this order. Read the maker's guide for your heater first. It goes before this list.
flushing-caution = **Careful:** { $what }

flushing-step-heat-off = **Turn off the heat.**
    .gas = Gas: turn the knob to "pilot", so that the burner cannot start under an empty tank. Where the maker's guide says "off", turn it off, and light it again only as the label says.
    .electric = Electric or heat pump: switch its breaker off, first, always.
    .look = You see: the burner goes out, or the breaker's lever points to "off".
    .caution = Smell gas? { -gas-out } An electric element that runs dry burns out.
flushing-step-pump-off = **Unplug the hot water pump,** if there is one. It is a small motor on the pipe.
flushing-step-cool = **Let it cool.** Use up hot water, or wait some hours. A tank stays hot for a long time.
    .caution = Water at 140 °F (60 °C) burns an adult badly in 6 seconds, and a child much faster. At 120 °F (49 °C) it takes 5 minutes. (US Consumer Product Safety Commission)
flushing-step-inlet-closed = **Close the cold water** on top of the heater.
    .look = You see: the pipe marked "cold" or blue, with a lever or a wheel. Turn the lever across the pipe, or the wheel to the right.
    .caution = If it does not turn by hand, stop. Do not force it.
flushing-step-hose = **Put a hose on the drain valve.** Run it out of the house, or to a floor drain.
    .look = You see: a small tap near the floor, with a thread for a hose.
    .caution = The end must lie where hot water hurts no person, no pet and no plant. Tie it down.
flushing-step-tap-open = **Open a hot tap** in the house. It lets air in. Else the tank will not drain.
flushing-step-drain-open = **Open the drain valve all the way.** Let the tank run empty.
    .look = You see: a strong stream, then a thin one. If it stops at once, grit blocks the valve.
    .caution = The water may be hot. Stand to the side. Do not poke with a tool into the valve: it may not close again.
flushing-step-stir = **Stir the bottom.** Open the cold water for about 10 seconds. Close it. Let the tank drain.
    .look = You see: cloudy water with white or brown grit.
flushing-step-again = **Do that { $low } or { $high } times more,** until the water runs clear.
flushing-step-drain-closed = **Close the drain valve.** Take off the hose.
    .caution = If it still drips, screw a hose cap on it and call a licensed contractor.
flushing-step-fill = **Fill the tank.** Open the cold water. Leave the hot tap open.
    .look = You see: the tap spits air, then runs smooth. Let it run smooth for a minute. Then close the tap.
flushing-step-heat-on = **Only now turn the heat back on.** The tank must be full.
    .gas = Gas: turn the knob back to "on". If the pilot does not light, follow the label, or call a licensed contractor.
    .electric = Electric or heat pump: switch the breaker on.
    .caution = In a tank that is not full an electric element burns out in seconds. Smell gas? { -gas-out }
# Vapors that catch fire at the burner: CPSC, 8 July 2003. That nothing of the kind is stored there: common practice.
flushing-step-look-again = **Look again after an hour, and the next day.** Touch the floor below. Write down the date. Take away what burns or smells of solvent beside the heater.
    .caution = If the tank itself drips, close the cold water, turn off the heat, and call a licensed contractor.

flushing-head-drain = How long does it take to drain?
flushing-drain-lead = Put in the size of the tank. The size is on its plate.
flushing-gallons = Gallons in the tank
flushing-valve = The drain valve
flushing-valve-clear = Clear, full 3/4 inch
flushing-valve-narrow = Narrow, about 3/8 inch inside
flushing-valve-clogged = Partly clogged, about 1/4 inch free
flushing-hose = Feet of hose
flushing-below = How far the hose end lies below the tank, inches
flushing-drain-time = { $gallons } gallons take about **{ $minutes } { $minutes ->
    [one] minute
   *[other] minutes
 }** to drain.
flushing-drain-common = The trade says { $low } to { $high } minutes for 40 to 50 gallons (150 to 190 liters) through a clear valve. That is common practice, with no source.
flushing-drain-long = This is longer. If it takes much longer still, the valve may be clogged. Do not poke into it. Ask a licensed contractor.
flushing-drain-assumed = The time comes from Torricelli's law for a tank that runs empty. We assume a tall tank and a smooth hose of 5/8 inch (16 mm). A kink, grit or a closed hot tap makes it longer.
flushing-head-findings = What comes out, and what it says
flushing-finding-clear = Clear water from the start
    .says = Good. There was little to wash out.
flushing-finding-white-grit = White grit
    .says = Scale from hard water. This is usual, more so with a softener.
flushing-finding-jelly = Soft white jelly
    .says = What is left of the anode. It is spent. Have a licensed contractor look at it soon.
flushing-finding-rust = Rusty water
    .says = The tank is going. Plan a new one now.
flushing-finding-flakes = Flakes of lining, like thin glass
    .says = The tank is going. Plan a new one now.
flushing-finding-nothing = Nothing comes, or a trickle
    .says = Grit blocks the valve. Stop, close it, and ask a licensed contractor.
flushing-head-anode = The anode
flushing-anode-what = The tank is made of steel with a thin lining of glass. The anode is a metal rod inside. Water eats the rod first. When the rod is gone, the water eats the tank.
flushing-anode-when = Have it looked at every 3 to 4 years. With softened water, sooner: it eats anodes much faster.
flushing-anode-first = The first change should come within 4 to 5 years. Later its plug may be stuck. Then it may not come out without harm.
flushing-anode-metal = Magnesium guards the tank best. Where the water makes it smell, aluminum-zinc may do better. A powered anode does not wear away, but needs an outlet.
flushing-anode-hidden = On some heaters the rod hides under the hot water outlet. Then pipes must be taken apart. Ask the maker or the contractor before the day.
flushing-anode-who = It is a job for a licensed contractor. The plug sits tight, and a tank that is turned can break its pipes.
flushing-head-relief = The relief valve
flushing-relief =
    The relief valve on the tank opens if it gets too hot or the pressure too high. Have it tested once a year.
    A test lifts its lever for a moment. Hot water shoots out of its pipe. An old valve may not close tight again.
    So a valve of more than 3 years should be taken out and looked at by a licensed contractor. A test with the lever only shows that it moves. (National Board of Boiler and Pressure Vessel Inspectors, Bulletin, Summer 1993)
    A few drops a minute are often dirt on its seat. Ask a licensed contractor. If it has opened by itself, call one now. Never plug or cap it.
flushing-head-away = Going away, and coming back
# Hydrogen: text of heaters' instruction manuals (as quoted). Cold first, then hot, against splashing: CDC, advice on
# reopening buildings after a week or more unused (as quoted). The rest is common practice, no source.
flushing-away =
    Before you go: close the cold water valve of the heater, or the house main. Gas: turn the control to "vacation" or "pilot". Electric or heat pump: use the vacation setting, or switch the breaker off.
    Back after two weeks or more: gas that can burn (hydrogen) may have gathered in the tank. Open the water first. Then open the hot kitchen tap for some minutes. Nobody smokes, no flame and no spark near that tap, and no dishwasher or washer, until it has run.
    Back after a week or more: run every cold tap two minutes. Do not let it splash: germs grow in water that stood still.
    Let an open hot tap run without air. Only then turn the heat up again, as the label says. Wait two hours.
    Then run every hot tap until hot water comes, again without splashing. Hold a thermometer in it, not your hand.
flushing-expansion = Heated from { $cold } to { $hot } °F, { $gallons } gallons of water swell by about { $more } gallons. In a closed system an expansion tank takes that up.
flushing-bad-gallons = A tank must hold from 1 to 500 gallons. Read its size again on the plate.
flushing-bad-valve = The free width of the valve must be from 0.05 to 3 inches. Measure it again.
flushing-bad-hose = The hose must be at most 300 feet long and from 0.2 to 3 inches wide. Its end must lie from 0 to 240 inches below the tank. Measure again.
flushing-bad-outlet = A tank that runs empty has an area, an outlet and a height above zero. Its level falls, and the outlet's factor is above 0 and at most 1. Check these figures.
flushing-bad-temperature = Water is from 32 to 212 °F (0 to 100 °C) here, the tank holds more than 0 gallons, and the hot water is not colder than the cold. Check these figures.
flushing-bad-pressure = The limit must be above the pressure of the house, and the water to take in above zero. Check these figures.
