## The usual cautions. Common practice, no source. Never drop one of them.

cautions-first-gas-smell = You smell gas. Go out of the house now, with everyone in it. If you can do it safely on the way, shut off the gas at the heater. Touch no switch and light nothing. From outside, call the gas utility or the emergency number.
cautions-first-relief-opened = The relief valve has opened. The water may be too hot, or the pressure too high. Keep away from its pipe: it can scald you. Turn the heater off. Gas: turn the control to off. Electric: switch the breaker off. Call a licensed contractor now. Never plug or cap the valve.
cautions-first-safety-switch = The burner's safety switch has tripped. The burner may lack air, or the flue may be blocked. Carbon monoxide, a deadly gas with no smell, may be in the room. Do not reset it. Air the room. If a carbon monoxide alarm sounds, or someone feels dizzy or sick, get everyone out and call the emergency number. Call a licensed contractor now.

cautions-gas-smell = If you smell gas: shut it off if that is safe, go out, and call the gas utility or the emergency number from outside.
cautions-relief-or-switch = If the relief valve has opened, or the burner's safety switch has tripped: call a licensed contractor now.
cautions-hot-water = Hot water burns. A tank stays hot for hours after it is turned off.
cautions-breaker-first = Electric heater: breaker off first, always, before any water is drained. A heating element that runs dry burns out.
cautions-carbon-monoxide = Gas heater: have a carbon monoxide alarm near the bedrooms. The flue and the burner are for a licensed contractor.
cautions-licensed-work = Anode rods, gas lines, relief valves and new heaters are work for a licensed contractor. Get a permit where the local code asks for one.
cautions-code-and-maker = The local code and the maker's instructions go before all that is said here.
