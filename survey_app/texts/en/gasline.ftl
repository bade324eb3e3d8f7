## Could the gas pipe feed a tankless heater? A first look by the formula of the fuel gas codes.

gasline-head = Tank or tankless: the gas line
gasline-lead =
    This check is for steel pipe at low pressure. A flexible tube (yellow or black) goes by its maker's table. Some homes get gas at 2 psi, with a small regulator inside. For both, ask a licensed contractor: this check does not fit.
    A tankless heater burns four to five times as much gas as a tank while it runs. So the gas pipe may be too thin. Check that first.
gasline-open = Check the gas line
gasline-tankless = What the new tankless heater burns, Btu an hour
gasline-tankless-help = It is on its data plate or in its papers. For a whole house it is mostly 150,000 to 199,000 (44 to 58 kW).
gasline-others = What else burns gas on the same pipe?
gasline-others-help = Leave out the old water heater. It goes. Nothing else? Tap none of these.
gasline-input = { $name }: Btu an hour on its plate
gasline-input-help = Leave it empty if you do not know.
gasline-furnace = Furnace
gasline-range = Stove or oven
gasline-dryer = Clothes dryer
gasline-fireplace = Fireplace
gasline-pool = Pool or spa heater
gasline-other = Something else
gasline-gas = What kind of gas?
gasline-gas-natural-gas = Natural gas, from the street
gasline-gas-propane = Propane, from a tank
gasline-pipe = The thinnest pipe that feeds everything
gasline-branch = The thinnest pipe that feeds the heater alone
gasline-pipe-inch = { $size } inch
gasline-pipe-help = The size is the pipe's name, not what you measure on the outside. First the pipe that comes from the meter, then the one that branches off to the heater. Is there no branch? Take the same size.
gasline-material = What is the pipe made of?
gasline-material-steel = Steel, black or galvanized
gasline-material-other = Copper, or a yellow or black bending tube
gasline-material-not-sure = Not sure
gasline-not-sure = Not sure
gasline-length = Feet of pipe from the meter to the farthest gas appliance (propane: from the second regulator, at the house)
gasline-drop = Pressure that may be lost on the way, inches of water
gasline-drop-help = 0.5 is usual. Some places ask for 0.3.
gasline-heat = Heat in a cubic foot of gas, Btu
gasline-heat-help = About 1,000 for natural gas. It is on the gas bill. Propane has about 2,500.
gasline-verdict-plausible = **Plausible.** By the formula, the pipe that is there could carry it. Have that checked before you buy.
gasline-verdict-needs-a-new-line = **It needs a new line.** By the formula, the pipe that is there is too thin for all of it at once.
gasline-verdict-cannot-say = **We cannot say yet.** Something is missing.
gasline-load = All on this pipe together: { $btu } Btu an hour ({ $kw } kW). That is { $cfh } cubic feet of gas an hour.
gasline-load-at-least = All on this pipe together: at least { $btu } Btu an hour ({ $kw } kW). That is { $cfh } cubic feet of gas an hour, or more.
gasline-carries = The pipe that feeds everything: { $pipe } inch steel carries { $cfh } cubic feet an hour over { $feet } feet ({ $meters } meters). It must carry { $load }.
gasline-branch-carries = The heater's own pipe: { $pipe } inch steel carries { $cfh } over { $feet } feet ({ $meters } meters). It must carry { $load }.
gasline-tight = That leaves little to spare. Many bends could use it up.
gasline-missing-pipe = Missing: the size of the pipe that feeds everything.
gasline-missing-branch = Missing: the size of the heater's own pipe.
gasline-missing-length = Missing: the length of the pipe.
gasline-missing-material = Missing: what the pipe is made of. Our formula is for steel.
gasline-missing-other-pipe = Missing: the maker's size table for this kind of pipe. Our formula is for steel.
gasline-missing-appliance = Missing: what some of the other appliances burn. Look on their plates.
gasline-needed = Over { $feet } feet all of it needs a steel pipe of { $pipe } inch, and the heater alone one of { $branch } inch.
gasline-needed-larger = This load needs a steel pipe of more than 2 inches. Ask a licensed contractor.
gasline-always =
    A new line needs a permit in most places. It needs a pressure test before any gas goes in.
    Plan ahead. If you start after the old heater has failed, you may wait one to two weeks for hot water.
    The meter must be large enough too. Ask the gas utility.
    A tankless heater also needs its own flue, and mostly an electric outlet.
    This is a first look, no design. The local code and a licensed contractor decide. Never work on a gas line yourself.
gasline-source = The formula is Equation 4-1 of the fuel gas code (IFGC 402.4, as in NFPA 54).
gasline-bad-appliance = { $name }: the input must be above 0 and at most { $most } Btu an hour. Read it again on the plate, or leave it empty.
gasline-bad-tankless = The tankless heater: the input must be above 0 and at most { $most } Btu an hour. Read it again on its plate.
gasline-bad-pipe = There is no pipe size { $pipe } here. Choose one of: { $sizes }.
gasline-bad-length = The length must be above 0 and at most { $most } feet. Measure along the pipe.
gasline-bad-drop = The pressure lost must be above 0 and at most 10 inches of water. Use 0.5 if you do not know it.
gasline-bad-heat = The heat of the gas must be from 100 to 4,000 Btu in a cubic foot. Use 1,000 for natural gas.
gasline-bad-figure = The { $name } must be a number above zero. Enter it again.
