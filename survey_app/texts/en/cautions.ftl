## The usual cautions. Common practice, no source. Never drop one of them.

cautions-first-gas-smell = You smell gas. { -gas-out }
# CPSC, Carbon Monoxide Questions and Answers (as quoted): fresh air first, 911 from there, off until serviced.
cautions-first-carbon-monoxide = There may be carbon monoxide, a deadly gas with no smell. Get everyone out into fresh air now. Call 911 from there. Go back in only when they say so. The heater stays off until a licensed contractor has looked at it.
# Signs to see: CPSC's list of carbon monoxide clues (as quoted).
cautions-first-bad-flue = The burner or its flue is not right. Carbon monoxide, a deadly gas with no smell, may get into the house. If an alarm sounds, or someone feels dizzy or sick: everyone out, then call 911. Else turn the gas control on the heater to off, open a window, and call a licensed contractor now. Do not light it again.
cautions-first-relief-opened = The relief valve has opened. The water may be too hot, or the pressure too high. Keep away from its pipe: it can scald you. Turn the heater off. Gas: turn the control to off. Electric: switch the breaker off. Call a licensed contractor now. Never plug or cap the valve.
cautions-first-safety-switch = The burner's safety switch has tripped. The burner may lack air, or the flue may be blocked. Carbon monoxide, a deadly gas with no smell, may be in the room. Do not reset it. If a carbon monoxide alarm sounds, or someone feels dizzy or sick, get everyone out and call 911 from outside. Else open a window. Call a licensed contractor now.

cautions-gas-smell = Smell gas? { -gas-out }
cautions-relief-or-switch = If the relief valve has opened, or the burner's safety switch has tripped: call a licensed contractor now.
cautions-hot-water = Hot water burns. A tank stays hot for hours after it is turned off.
cautions-breaker-first = Electric heater: breaker off first, always, before any water is drained. A heating element that runs dry burns out.
cautions-carbon-monoxide = Gas heater: have a carbon monoxide alarm near the bedrooms. The flue and the burner are for a licensed contractor.
cautions-licensed-work = Anode rods, gas lines, relief valves and new heaters are work for a licensed contractor. Get a permit where the local code asks for one.
cautions-code-and-maker = The local code and the maker's instructions go before all that is said here.
