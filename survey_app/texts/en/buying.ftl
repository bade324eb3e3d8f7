## Buying the next heater. Common practice, no source, unless a code is named. The local code goes first.

buying-title = Buying the next one
buying-lead = Choose in calm, before the old heater fails. Here is what to ask for, what it should cost, and how large it should be.
buying-kind = What kind of tank?
buying-size = What size?
buying-place = Where will it stand?
buying-head-list = What to ask for
buying-list-lead = Take this list along. Tick what the offer has. Codes differ from place to place. Where a code is named, ask what the local code says.
buying-source-read = Source: { $source }.
buying-source-quoted = Source, as others quote it: { $source }.
buying-source-memory = From memory, check it: { $source }.
buying-more = A few more things to ask
buying-take = The list to print (PDF)
buying-paper-title = Water heater: what to ask for
buying-paper-for = Take it along when you ask for an offer. Tick what the offer has.

buying-spec-warranty = A warranty of 9 to 12 years
    .why = A longer term mostly means a thicker lining or a larger anode. Labor and parts cost nearly the same.
buying-spec-first-hour = The first-hour rating that your home needs
    .why = It says how much hot water comes in the busiest hour. The worksheet works it out.
buying-spec-anode-port = A port of its own for the anode, on top
    .why = Then the rod can be changed without taking pipes apart.
buying-spec-anode-rod = An anode rod that suits your water: magnesium, aluminum-zinc or powered
    .why = Magnesium guards the tank best. If hot water smells with it: aluminum-zinc. A powered one does not wear away, but needs an outlet.
buying-spec-drain-valve = A drain valve with a full 3/4 inch (19 mm) ball valve
    .why = A narrow valve clogs, and then the tank cannot be flushed. The code asks for an inlet of 3/4 inch and a hose thread.
buying-spec-pan-metal = A metal drain pan, with a drain pipe where one can be put
    .why = It must be at least 1 1/2 inches (38 mm) deep, with a drain of 3/4 inch. Never a plastic pan under gas. Where no drain was before, a new heater may not need one.
buying-spec-pan = A drain pan, with a drain pipe where one can be put
    .why = It must be at least 1 1/2 inches (38 mm) deep, with a drain of 3/4 inch. Where no drain was before, a new heater may not need one.
buying-spec-pan-inside = A leak here does the most harm, so do not go without it.
buying-spec-service-valves = Service valves with hose ports, cold and hot
    .why = Without them the scale cannot be washed out.
buying-spec-connectors = Water lines of corrugated stainless steel or copper
    .why = A braided hose has rubber inside. Rubber ages and bursts. Where copper meets steel, a dielectric union keeps rust away.
buying-spec-expansion-tank = An expansion tank, if the system is closed
    .why = A check valve or a pressure regulator closes it. Water swells when it is heated. The house pressure may be 80 psi (5.5 bar) at most. The air in the tank is set to the house pressure.
buying-spec-relief-valve = A new relief valve with a proper pipe
    .why = It opens at 210 °F (99 °C) or 150 psi (10 bar) at most. Its pipe runs down to where all can see it and nobody gets hurt. Never a plug, a cap or a valve in it.
buying-spec-leak-alarm = A leak alarm, or a valve that shuts the water off by itself
    .why = It costs little beside a wet floor. It helps most when nobody is home.
buying-spec-gas-valve = A gas shut-off valve close to the heater
    .why = You must reach it fast. The codes say in the same room and within 6 feet (1.8 m). Some places say 3 feet (0.9 m).
buying-spec-excess-flow = A gas excess-flow valve at the connector
    .why = It stops the gas if the line breaks.
buying-spec-sediment-trap = A sediment trap in the gas line
    .why = It keeps dirt and drops of water out of the gas control.
buying-spec-flue = The flue and the air for the burner, checked
    .why = A blocked flue or too little air makes carbon monoxide. You cannot smell it. Have an alarm near the bedrooms.
buying-spec-garage-height = The burner 18 inches (46 cm) above the garage floor, if the code asks for it
    .why = Fumes of gasoline lie low on the floor.
buying-spec-circuit = The wires and the breaker checked by a licensed electrician
    .why = They must fit the new heater.
buying-spec-air-room = Enough air around a heat pump
    .why = It takes its heat from the air of the room. It cools the room and hums. The maker says how much room it needs.
buying-spec-condensate = A drain for the water that a heat pump or a condensing gas heater makes
    .why = From a gas heater it is acid: the code may ask for a neutralizer.
buying-spec-fit = A heater that fits: its height and width, measured before
    .why = Since 2015 a tank of the same gallons is taller or wider.
buying-spec-straps = Straps where the ground can shake
    .why = One in the upper third and one in the lower third of the tank.
buying-spec-permit = A permit and an inspection
    .why = A second pair of eyes on gas, flue and relief valve. The date of the permit also proves the start of your warranty.
buying-spec-whole-price = One price in writing for all of it
    .why = Offers leave things out: permit, old heater taken away, pan, expansion tank, lines, valves, code work, sales tax.
buying-spec-papers = License number, proof of insurance, and a warranty on labor, in writing
    .why = Ask who pays the labor when a part fails that the maker replaces. You make the contract for your own home. The association does not vouch for the work.
buying-spec-gas-tube = A yellow flexible gas tube (CSST), if there is one, bonded to ground
    .why = Lightning can burn holes into it. Ask a licensed electrician.
buying-spec-clear-space = Nothing stored beside it that burns or smells of solvent
    .why = Vapors of gasoline, thinner or glue can catch fire at the burner.
buying-spec-register = The warranty registered in your name, and recalls looked up by model and serial number
    .why = Some makers ask for it within weeks. Some warranties end when the home is sold: if you moved in later, ask the maker. Recalls, also of the old heater: cpsc.gov/Recalls.

buying-head-price = What it should cost
buying-hurry = In a hurry it costs more.
buying-offer = The price you were offered, with all in it (dollars)
buying-offer-below = { $usd } is below the usual here. Ask what is left out: permit, pan, old heater taken away, tax.
buying-offer-within = { $usd } is about what is usual. Check that all on your list is in it.
buying-offer-above = { $usd } is above the usual here. It may hold more work. Ask what the extra is for, and ask a second contractor.
buying-offer-open = { $usd }: we cannot judge it, since we have no price from here. Ask two more contractors for the same list, and compare.
buying-offer-open-own = { $usd }: we cannot judge it yet. It takes three prices from here. Ask two more contractors for the same list, and compare.

buying-head-tankless = A tank, or tankless?
buying-tankless =
    A tank keeps hot water ready. It can run out, and in the end it leaks.
    A tankless heater makes hot water as it runs. It does not run out, and it has no tank that can burst. It costs more, and hard water scales it.
    To change from a tank to tankless is a project: mostly a new gas line, a new flue, a permit and a pressure test.
    So decide before the tank fails. Begun after that, it can mean one to two weeks with no hot water.

buying-head-setpoint = How hot to set it
buying-setpoint = Set it to 120 °F (49 °C). That is the advice of the US Consumer Product Safety Commission. So long until an adult is badly burned:
buying-burn-seconds = { $fahrenheit } °F ({ $celsius } °C): { $seconds } seconds.
buying-burn-minutes = { $fahrenheit } °F ({ $celsius } °C): { $minutes } minutes.
buying-setpoint-more =
    Children burn much faster.
    If the tank is kept hotter, have anti-scald valves at the showers (ASSE 1016) and faucets (ASSE 1070) too.
    Germs (Legionella) can grow in water that is only warm. If someone at home is weak or ill, ask a doctor and a licensed contractor about hotter storage with a mixing valve (ASSE 1017).

buying-bad-price = A price must be from { $least } to { $most }. Enter it again, in dollars.
