## The heater leaks now: steps, and the card to print. Common practice, no source.

leaking-title = Leaking now
leaking-lead = Stay calm. Do these steps in order. All of it is on this one screen: it stays here when the network goes.
leaking-wrong = Not sure that it is a leak? Answer a few questions
leaking-gas = Gas heater
leaking-electric = Electric or heat pump heater
leaking-unsure = You do not know which
leaking-on-file = Your record says: { $kind }. Look for yourself before you trust it.

leaking-step-safe = Is it safe to go near?
    .do =
        Smell gas? { -gas-out }
        A carbon monoxide alarm sounds, or someone is dizzy or sick: everyone out into fresh air now. Call 911 from there.
        Water or steam shoots out of the pipe on the side: keep everyone away. It scalds. Turn the heater off only from where it cannot reach you. Call a licensed contractor now.
        Never touch an electric panel, a plug or a wire with wet feet or wet hands.
        Water stands near the panel or an outlet: stay out of it, and call 911 or the electric utility.
leaking-step-water = Close the cold water
    .do =
        Look on top of the heater for the cold pipe. It is often marked blue or "cold". Close its valve.
        A round wheel: turn it to the right until it stops. A lever: turn it until it stands across the pipe.
        If it will not close, or water still comes, or you cannot reach it: close the house main.
leaking-step-heat = Turn off the heat
    .do =
        Do this before you drain any water.
        Unplug the hot water pump, if there is one and its plug is dry. It is a small motor on the pipe.
    .gas =
        Turn the control knob on the heater to "off".
        Or close the valve in the gas pipe: its lever then stands across the pipe.
        Do not light it again yourself.
    .electric =
        Switch off its breaker in the panel. It is often a double one.
        Do it only with dry feet, dry hands and a dry floor on the way.
        If the way is wet, leave the panel alone and call the electric utility.
    .unsure =
        Gas: a metal pipe for smoke on top, a gas pipe and a small window below.
        Electric: only water pipes and a thick wire.
        Heat pump: a fan and a display on top. Treat it as electric.
        Still not sure? Close the water, leave the rest and call a licensed contractor.
leaking-step-drain = Drain the tank, if it still leaks
    .do =
        Warning: the water is hot for hours. It burns. Keep children and pets away.
        Only do this when the heat is off. If you are not sure how, wait for the contractor.
        Screw a garden hose onto the drain valve near the floor. Lead it downhill, to a drain or outside, where it hurts nobody.
        Open a hot faucet in the house to let air in. Then open the drain valve slowly.
        A heater with no tank need not be drained.
leaking-step-keep = Keep the water off walls and things
    .do =
        Lay towels against the walls. Put a bucket under the drip. Do not lift or tilt the heater: full, it weighs 400 pounds (180 kg) or more.
        Move boxes, rugs and furniture, or put them on blocks.
        Leave things that are plugged in where they are if the floor is wet.
leaking-step-photos = Take photographs before you clean up
    .do = The insurer wants to see them. The list is below.
leaking-step-call = Call for help
    .do = The list is below. A heater that leaks is work for a licensed contractor.
leaking-step-dry = Dry all of it within a day
    .do =
        Mold begins to grow in a day or two. Open windows and let fans run, on a dry floor only.
        Lift wet rugs and pads. Take things out of wet cabinets.
        Wet walls or a wet ceiling: ask the insurer about a drying company.

leaking-find-head = Find the shut-offs
leaking-find =
    The heater's cold valve: on top, in the pipe where cold water comes in.
    The house main: where the water pipe comes into the house. Look in the garage, on an outside wall at the front, in the basement or by the softener.
    The meter box near the street has one too. It may need a tool. The water utility can close it.
    The heater's gas valve: in the gas pipe beside it. If you close the gas for the whole house at the meter, only the gas utility may open it again.
    Try the water valves once a year, so that they turn when you need them.
leaking-photos-head = Photographs for the insurer
leaking-photos =
    The leak itself, near and from farther away
    The whole heater, and its label with the date
    The floor, the walls and the ceiling that got wet
    Each thing that was harmed
    The part that broke: keep it
    Bills for towels, fans, drying and a hotel
    A clock or a phone with the date in one of the pictures
leaking-insurer = In general, the worn heater is not covered, but sudden water damage to walls and things often is. It depends on your policy. Ask.
leaking-calls-head = Who to call
leaking-call-emergency = Danger to anyone
    .why = Gas, fire, or someone is hurt or dizzy
leaking-call-gas-utility = Gas utility
    .why = Any smell of gas, from outside
leaking-call-electric-utility = Electric utility
    .why = Water near the panel or an outlet
leaking-call-water-utility = Water utility
    .why = The house main will not close
leaking-call-contractor = Licensed contractor
    .why = To look at the heater, mend it or change it
leaking-call-insurer = Insurer
    .why = Before you clean up or throw things out
leaking-call-volunteer = HOA volunteer
    .why = Neighbors may know a contractor. The HOA does not do the work
leaking-call-blank = write the number here: __________
leaking-not-head = What not to do
leaking-not =
    Do not go to an electric panel with wet feet.
    Do not plug or cap the relief valve or its pipe.
    Do not light the burner or switch the breaker on before an open hot tap runs without air.
    Do not use a heater again that stood in flood water. Its gas control and wires must be replaced.
    Do not drain an electric tank with the breaker on. The elements burn out.
    Do not try to seal the tank. It cannot be mended.
    Do not force a stuck valve. Close the house main.
    Do not throw things out before the insurer has seen them or has the pictures.

leaking-card = Download this as a card to print
leaking-card-help = Print it now and hang it beside the heater. It works with no network and no power.
leaking-card-title = If the water heater leaks
leaking-card-home = This home
leaking-card-blank = Write in by hand what is left open.
leaking-card-age = Age
leaking-card-age-years = about { $best } { $count ->
    [one] year
   *[other] years
 } on { $day }
leaking-card-age-between = between { $low } and { $high } years on { $day }
leaking-card-warranty-end = Warranty ends
leaking-card-warranty-ended = Warranty ended
leaking-card-about = about { $when }
leaking-card-cold-valve = Cold valve: where, wheel or lever
leaking-card-main = House main: where, which tool
leaking-card-breaker = Breaker: which number, or gas valve: where
leaking-card-policy = Insurer's policy number
leaking-card-done = done
leaking-card-cautions = Be careful
leaking-card-made = Made on { $day } from this home's own answers. Look for yourself before you trust it.
