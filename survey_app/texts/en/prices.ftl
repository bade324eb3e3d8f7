## What a new heater costs: one table, told in the same words everywhere.

price-complete = "Complete" means the job that every home needs: the heater, the work, permit, old heater taken away, water lines, drain valve, relief valve, the link to gas or power, flue check, small code work, sales tax. What some homes need comes on top: a pan and its drain, an expansion tank, a leak alarm, work in an attic or upstairs.
price-size-usual = of up to 55 gallons (208 liters)
price-size-large = of more than 55 gallons (208 liters)
price-line = A { $heater }: complete, planned ahead, about **{ $usual }**, from { $low } to { $high } ({ $basis }).
price-line-one = A { $heater }: complete, planned ahead, about **{ $usual }** ({ $basis }).
price-basis-here = price here, of { $year }
price-basis-here-undated = price here
price-basis-from-here = our guess from the price here of { $year } for a smaller one
price-basis-from-here-undated = our guess from the price here for a smaller one
price-basis-national = national figure of { $year }
price-basis-from-national = our guess from the national figure of { $year } for a smaller one
price-basis-assumed-undated = an assumption: there is no public figure
price-not-here = This is no price from here. Prices differ a lot from place to place.
price-source-here = From quotes or bills that the community has entered.
price-source-assumed = An assumption with no source. No public figure was found.
price-source-national-gas-storage = The usual price: NREL, Buildings Annual Technology Baseline, in 2023 dollars, as cited in the open model inputs of a US Department of Energy laboratory. Low and high: program records of two dear counties.
price-source-national-electric-storage = The usual price: NREL, Buildings Annual Technology Baseline, in 2023 dollars, as cited in the open model inputs of a US Department of Energy laboratory. Low and high are assumptions with no source.
price-source-national-heat-pump-storage = The usual price: NREL, Buildings Annual Technology Baseline, for an efficient one, in 2023 dollars, as cited in the open model inputs of a US Department of Energy laboratory. Low: its plainest one. High: program records of two dear counties.
price-besides-certain = What your home needs besides: { $usd }.
price-besides-possible = What it may need (an answer is missing): { $usd }.
price-besides-assumed = These sums for extras are assumptions.
price-quoted-extras = On top of the price that is the same for all, this offer counts for your home: quoted { $quoted }, assumed { $assumed }, and { $possible } that you may not need.
price-default-to-blame = The price alone is the { $basis }, not a price from here. So the gap may come from that default, not from the bids.
price-default-own = The price to buy alone is the { $basis }, not one you have in writing. The group's price may look better or worse than it is beside it. Ask for a price of your own first.
