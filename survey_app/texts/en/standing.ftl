## Where one heater stands: age, warranty, what is due. { $when } and { $last } are months already written out.

standing-nobody-answered = Nobody has answered for this home yet.
standing-no-heater = No heater in service is recorded.

standing-head-in-warranty = This heater is in warranty.
    .probably = This heater is probably in warranty: { $doubt }.
standing-head-past-warranty = This heater is past its warranty.
    .probably = This heater is probably past its warranty: { $doubt }.
standing-head-past-twice-warranty = This heater is past twice its warranty.
    .probably = This heater is probably past twice its warranty: { $doubt }.
standing-doubt-term = sure if the term was { $term } years
standing-doubt-date = the date is not known well enough to be sure
standing-doubt-both = sure only if the term was { $term } years and the date is right
standing-head-unknown = This heater is of unknown age.
standing-age = It is about **{ $best } { $count ->
    [one] year
   *[other] years
 } old**.
standing-age-between = It is about **{ $best } years old** (between { $low } and { $high }).
standing-warranty-ends = Its warranty ends around **{ $when }**.
standing-warranty-ended = Its warranty ended around **{ $when }**.
standing-warranty-ends-soon = **That is within a year: have it looked at, and claim what is wrong, before then.**
standing-multiple = Its age is { $times } times its warranty term.
standing-care = Care
standing-surer = How to make it surer: look for the date and the warranty on the data plate, or find the permit or the invoice. Then correct your answer.

rests-no-date = No installation date is known: a photograph of the data plate, a permit or an invoice would settle it.
rests-document = a permit or invoice
rests-data-plate = the date printed on the data plate
rests-date-code = a date code read from the data plate
rests-house-completion = the year the house was finished, as this is its first heater
rests-memory = what the resident remembers
rests-date = The date rests on { $what }.
rests-date-rough = The date rests on { $what }, good to about ±{ $months } months.
rests-term-assumed = The warranty term is not known; { $term } years is assumed.

care-name-flush = Flush
care-name-anode = Anode
care-name-relief-valve = Relief valve
care-mark-not-due = ✓ Not due
care-mark-window-closing = ◔ Window closing
care-mark-due = ● Due
care-mark-window-passed = ✕ Window passed
care-mark-ask-a-contractor-first = ! Ask a contractor first
care-mark-not-known = ? Not known
care-mark-does-not-apply = – Does not apply
care-in-month = in { $when }
care-in-year = in { $when }
care-around-year = around { $when }

care-tankless = A tankless unit has no tank to flush and no anode; follow its maker's instructions on descaling.

care-flush-fine = Flushed { $last }; the next one is due { $when }.
care-flush-due = Last flushed { $last }; due since { $when }.
care-flush-no-age = Neither the age nor the last flush is known.
care-flush-never-old = Never flushed in { $years } years. Stirring old sediment can start a leak, or the drain valve may not close again: let a licensed contractor decide.
care-flush-none-old = No flush is known of in { $years } years. Stirring old sediment can start a leak, or the drain valve may not close again: let a licensed contractor decide.
care-flush-first-was = Never flushed; the first one was due { $when }.
care-flush-first-is = Never flushed; the first one is due { $when }.
care-flush-unknown = Nobody knows when it was last flushed. Once a year is the usual advice.

care-anode-fine = Anode looked after { $last }; the next look is due { $when }.
care-anode-due = Anode last looked after { $last }; a contractor should look again, due since { $when }.
care-anode-no-age = Neither the age nor any anode work is known.
care-anode-spent = The crew that looked in { $when } found it spent. A new one is due now: a job for a licensed contractor.
care-anode-first-between = The anode's first change is best done between { $from } and { $when }.
care-anode-never-closing = The anode is never changed. The good time for its first change closes { $when }: later the plug may seize. It is a job for a licensed contractor.
care-anode-unknown-closing = The anode is not known to have been changed. The good time for its first change closes { $when }: later the plug may seize. It is a job for a licensed contractor.
care-anode-never-late = The anode is never changed, and the good time for its first change passed { $when }. The plug may have seized: a licensed contractor decides whether to try.
care-anode-unknown-late = The anode is not known to have been changed, and the good time for its first change passed { $when }. The plug may have seized: a licensed contractor decides whether to try.

care-relief-fine = Relief valve tested { $last }; the next test is due { $when }.
care-relief-due = Relief valve last tested { $last }; due since { $when }.
care-relief-old = No test of the relief valve is known in { $years } years. An old valve that is opened may not close tight again: ask a licensed contractor to look at it.
care-relief-tested-old = Relief valve tested { $last }. As far as anyone knows it is as old as the heater: about { $years } years. The lever only shows that it moves. Ask a licensed contractor to take it out and look at it, or to change it.
care-relief-first-was = No test of the relief valve is known; the first was due { $when }.
care-relief-first-is = No test of the relief valve is known; the first is due { $when }.
care-relief-unknown = No test of the relief valve is known.

care-cautions-head = Before anyone touches a heater
care-cautions-line = Work on a heater can hurt: gas, scalding water, pressure, carbon monoxide, electricity. It is a licensed contractor's. The local code and the maker's instructions go first.
care-cautions-link = The cautions in full
care-cautions-short = Smell gas? { -gas-out } Has the relief valve opened? Keep away, and call a licensed contractor now. Hot water scalds. Gas lines, anodes, relief valves and replacements are work for a licensed contractor. The local code and the maker's instructions go before anything said here.

## What heaters like this one do.

odds-head = What to expect
odds-of-100 = Of 100 heaters like yours, about **{ $mean }** fail in the next 12 months (between { $low } and { $high }).
odds-average = The average of this neighborhood is { $average } of 100.
odds-local = This rests on the answers of this neighborhood ({ $failures } heaters that went, with dates) and on published lives of heaters. Of what is known of the typical life, about { $weight } of 100 parts come from the neighborhood.
odds-prior = There are too few answers here yet. So this rests on published lives of heaters alone.
odds-limits = Nobody can say which ones. Where a heater stands and how it was cared for matter, and the effect of care is not proven.
odds-none = Without an age there are no odds. The date on the data plate would give them.
odds-picture = Each mark is one heater of 100 like yours. Dark marks fail in the next 12 months.
odds-picture-this = yours
odds-picture-average = average


## What was reported and is not settled. { $what } is a symptom, or what a crew found; { $day } is a day written out.

reported-you = On { $day } you told us: { $what }.
    .undated = You told us: { $what }.
reported-home = On { $day } this home told: { $what }.
    .undated = This home told: { $what }.
reported-crew = On { $day } the crew found: { $what }.
    .undated = The crew found: { $what }.
reported-found-anode-spent = the anode is spent
reported-found-drain-valve-will-not-close = the drain valve will not close
reported-next = What to do now
reported-next-anode = A licensed contractor should put in a new anode. Until then the tank rusts faster.
reported-no-odds = Until this is settled, we tell no odds for this heater and do not say whether replacing it pays: what holds for other heaters does not hold for this one.
reported-settled = It is settled
reported-settled-help = Say so only when it is over. Then it no longer leads your pages. If it comes back, report it again.
reported-tick = A licensed contractor has looked at it
reported-tick-utility = The gas utility or the fire department said that it is safe
reported-when = Since when?
reported-send = Yes, it is settled
reported-thanks = Thank you. It is on file as settled. To undo this, take that answer back in My record.
reported-settled-on = It is settled, on { $day }.
reported-wrong-day = That day lies ahead, or before it was reported. Choose the day on which it was settled.
reported-wrong-tick = This is not for the people of the home alone to judge. Tick who looked at it; if nobody has yet, leave it open.
reported-wrong-gone = That is no longer open. Look at the page again.
