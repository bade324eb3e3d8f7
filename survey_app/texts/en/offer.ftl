## The offer of the group purchase to one home.

offer-title = Buying together
offer-lead = Neighbors ask contractors for one price for many heaters. Here is what that means for your home. Nothing here is binding.
offer-none = There is no offer for your home yet. Say in your answer whether you would join. Then look here again.
offer-price = Your full price would be about **{ $price }**, from { $contractor }. It is for the round "{ $round }", from { $begins } on.
offer-alone-price = Alone, the same full job costs about { $alone }.
offer-about = If your home joined, your full price would be about { $about }.
offer-holds = This price holds if at least { $homes } homes of your round buy.
offer-at-needed = With only { $needed } it would be about { $price }.
offer-changed = The bids have changed since. This price may change with the next plan.
offer-why-no-bid = No bid can be used yet, so no round suits your home.
offer-why-no-time = No round ends by the day you gave, so your home is in none.
offer-why-over-limit = The rounds cost more than you said you would pay, so your home is in none.
offer-why-cheaper-alone = Your home does better alone than with these bids.
offer-why-no-room = The rounds that would suit your home are full, or too few homes join. Your home is in none for now.
offer-why-other-kind = These bids are not for a heater like yours. The committee has to ask for other bids.
offer-why-said-no = You said no, so your home is in no round. You can change that below.
offer-why-not-yet = Your home is not in the plan yet. Say yes or maybe below, and the next plan counts you.
offer-why-bought = Your new heater is on file. You need no round.
offer-round = Your round goes ahead at { $needed } homes. { $yes } have said yes, { $maybe } maybe.
offer-round-all = A round goes ahead at { $needed } homes. In all, { $yes } have said yes, { $maybe } maybe.
offer-round-ahead = That is enough: it goes ahead.
offer-round-lacking = { $lacking ->
    [one] One more is needed.
   *[other] { $lacking } more are needed.
 }
offer-in-head = What the price holds
offer-in = In the price
offer-extra = { $usd } on top
offer-assumed = about { $usd } on top (we had to assume it)
offer-unknown = not priced: ask
offer-unsure = only if your home needs it
offer-contract = The contract is between you and the contractor. The HOA does not do the work and does not warrant it. Ask for the license number, the insurance paper and the price in writing before you sign.
offer-decide-head = Keep your heater, or take the price?
offer-reply-head = What do you say?
offer-reply-help = A yes helps the others: more homes, lower price. You can change it until you sign with the contractor.
offer-yes = Yes, at this price
offer-maybe = Maybe
offer-no = No, thank you
offer-limit = The most I would pay for the full job, in dollars. Leave it open if you mean the price above.
offer-latest = I need it by this day. Leave it open if it does not matter.
offer-send = Send
offer-sent = Noted. Thank you.
offer-now = So far you said: { $says }.
offer-yes-to = Your yes was to { $price }. If the price goes up by more than { $more }, your yes does not count until you say it again.
offer-choose = Choose yes, maybe or no first.
offer-decide-help = Keeping the heater has a value too: the years it has left, less the risk that it fails first. This weighs both.

offer-item-tank = The heater: 9 to 12 year warranty, magnesium anode with its own port
offer-item-labor = Work of a licensed contractor
offer-item-permit = Permit and inspection
offer-item-haul-away = Old heater drained and taken away
offer-item-water-connectors = New water lines of stainless steel or copper
offer-item-ball-valve = Full-port ball valve as drain, working cold shut-off
offer-item-relief-valve = New relief valve with its pipe
offer-item-gas-connector = Gas line with excess-flow valve, leak test
offer-item-vent-work = Flue checked and renewed as needed
offer-item-electrical = Electric connection as the code asks
offer-item-condensate-drain = Drain for the water a heat pump makes
offer-item-drain-pan = Drain pan
offer-item-pan-drain = Pipe from the pan to a drain
offer-item-expansion-tank = Expansion tank
offer-item-leak-alarm = Leak alarm or automatic shut-off
offer-item-hard-access = Extra work in an attic or upstairs
offer-item-code-upgrades = Other work that today's code asks for
offer-item-sales-tax = Sales tax
