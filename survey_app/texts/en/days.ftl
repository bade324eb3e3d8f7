## Service days: who is for one, what to know before, what the papers say.

days-no-tank = Tankless: no tank to flush and no anode.
days-something-wrong = Something is wrong ({ $what }). That is for a licensed contractor now, not for a service day.
days-look-first = Something was reported ({ $what }). The contractor looks first and decides.
days-flush-due = The flush is due.
days-flush-fine = The flush is not due yet.
days-flush-never = Not flushed for many years, as far as anyone knows. Stirring up the old sediment can start a leak, or the drain valve may not close again. The contractor decides, and the people are told first.
days-flush-unknown = Nobody knows when it was last flushed.
days-flush-no-age = Neither the age nor the last flush is known. The contractor looks first.
days-anode-due = The anode is due for a look.
days-anode-closing = The good time for the first anode change is closing.
days-anode-fine = The anode is not due yet.
days-anode-late = The good time for the first anode change has passed. The plug may be stuck. The contractor decides.
days-anode-unknown = The age or the anode's past is not known. The contractor decides.

days-pays-not = The money is not shown to pay: by what is known, a visit brings about { $mean } a home and year (likely between { $low } and { $high }).
days-pays-some = By what is known, a visit brings about { $mean } a home and year (likely between { $low } and { $high }).
days-pays-why-flush = What speaks for a flush all the same: sediment comes out, and somebody looks at the heater.
days-pays-why-anode = What speaks for a look at the anode all the same: a spent one is found before the steel is next.
days-pays-most = It helps most where an old heater was never served and the contractor agrees, and least in the first years of a warranty.
days-pays = Nobody has measured how much longer a tank lasts with it, so the money is not shown to pay. What speaks for it all the same: sediment comes out, somebody looks at the heater, and the good time for the anode is not missed. It helps most where an old heater was never served and the contractor agrees, and least in the first years of a warranty.

days-caution-never-flushed = Not flushed for many years: it may start to leak, or the drain valve may not close. Tell the people before. Have a hose cap at hand.
    .people = The tank was not flushed for many years, as far as anyone knows. Stirred up, it may start to leak, or its drain valve may not close again. The crew looks first and asks you before it begins. You may say no.
days-caution-seized = The anode plug may be stuck. Do not force it. Tell the people before.
    .people = The plug of the anode may be stuck. Then the crew leaves it as it is, and tells you what it found.
days-caution-in-warranty = Still in warranty: keep to the maker's instructions, and leave a dated invoice.
    .people = Your heater may still be in warranty. Keep the dated invoice that the crew leaves.
days-caution-flush = Unplug the recirculation pump, if there is one. Check that the drain valve works before you begin. The water can scald.
    .people = The water that runs out can scald. Keep children and pets away from the heater and the hose.
days-caution-electric = Electric: breaker off first, always. Power only when the tank is full again.
    .people = Electric heater: the crew switches its breaker off and on again. Leave it alone while they work.
days-caution-gas = Gas: control to pilot first, or off where the maker says so: no burner may start under an empty tank. Smell gas? { -gas-out }
    .people = Gas heater: the crew turns its burner down and up again. Smell gas at any time? { -gas-out }
days-caution-hidden-rod = The rod may hide under the hot outlet, so that pipes must come apart. Ask before the day.
    .people = On some heaters the anode hides under the hot water pipe. Then the crew asks you before it takes pipes apart.
days-caution-relief-drips = The relief valve drips: look at it first.
days-caution-rumble = It rumbles: expect much sediment, and a slow drain.

## Jobs: what each is called, the head of its door notice, and what a home is told is done.

job-flush = Flush
    .notice = We come to flush your water heater
    .visit = your tank is flushed
job-anode = Anode
    .notice = We come to look at your water heater's anode
    .visit = your anode is looked at
job-flush-and-anode = Flush and anode
    .notice = We come to flush your water heater and look at its anode
    .visit = your tank is flushed, and your anode is looked at

found-white-grit = white grit
found-soft-jelly = soft jelly
found-drain-valve-will-not-close = drain valve will not close
found-anode-spent = anode spent
found-anode-fine = anode fine
found-anode-changed = anode changed
found-anode-would-not-come-out = anode would not come out
found-rust-or-flakes = rust or flakes
found-leak-found = leak found

paper-synthetic = Synthetic demo: every home and person on this paper is invented.
paper-day-sheet = Day sheet
paper-crew = Crew { $n }
paper-homes = { $n ->
    [one] one home
   *[other] { $n } homes
 }
paper-start = Start { $when }, back by { $until }
paper-lunch = Lunch break of { $minutes } minutes, from { $when }
paper-tank = { $kind }, { $size }, { $age }
paper-gallons = { $gallons } gal ({ $liters } L)
paper-size-unknown = size not known
paper-age = about { $years } years old
paper-age-unknown = age not known
paper-place = In: { $place }
paper-contact = Reach: { $contact }
paper-contact-kept = Phone or e-mail: ask the volunteer
paper-no-contact = No phone or e-mail on file
paper-remark = They said: { $remark }
paper-know = Know before you start
paper-note = Write down
paper-note-outcome = done    not done    nobody home
paper-note-why = Why, if not:
paper-note-more = Other:
paper-crew-law = A licensed contractor does this work. The local code and the maker's instructions go before this sheet. Smell gas? { -gas-out } Has the relief valve opened? Stop the work: find the cause first.

paper-notice-when = { $day }, between { $from } and { $to }
paper-notice-dear = To the people at { $address }
paper-notice-why = You said that you would join. The crew is on your street that day, so it costs less for each home.
paper-notice-who = Who comes: { $who }, a contractor. Ask for the license.
paper-notice-who-open = Who comes: ask the volunteer for the name of the contractor.
paper-notice-price = Price: { $usd } for this visit, as planned. Ask for it in writing before the work.
paper-notice-price-open = Price: ask for it in writing before the work.
paper-notice-call = Call { $who }.
paper-notice-ready-head = Please have ready
paper-notice-ready = Somebody at home who can say yes or no.
    A free way to the heater, about 3 feet (1 meter) all round.
    Pets shut away, and cars out of the garage if the heater is there.
    No hot water for about two hours.
paper-notice-before-head = Good to know
paper-notice-cannot = Cannot be there? Tell us soon, so that a neighbor on the waiting list can have your place.
paper-notice-contract = The work is between you and the contractor. The HOA does not do it and does not warrant it. Ask for the license number, the insurance paper and the price in writing.
paper-notice-by = Your neighborhood's volunteers

paper-calls = Homes to call
paper-calls-why = Not yet confirmed, or the contractor must decide first. Ask, and tick.
paper-call-line = yes    no    no answer

paper-few = Three more homes would bring the crew
paper-few-title = { $missing ->
    [one] One more home
   *[other] { $missing } more homes
 } on your streets would fill a day
paper-few-body = A crew would come to { $streets } on { $day } if { $missing ->
    [one] one more home
   *[other] { $missing } more homes
 } joined. Then each home pays less than alone. Joining is a yes to the visit. The contract is between you and the contractor.
paper-few-how = To join, answer the survey with the code of your letter, or tell a volunteer.

ics-visit = Water heater: the crew comes
ics-visit-body = { $address }, between { $from } and { $to }.

visit-head = A crew is planned for you
visit-when = **{ $day }, between { $from } and { $to }**: { $what }.
visit-asked = Please say whether somebody will be there.
visit-yes = Somebody will be there
visit-no = We cannot: give our place to a neighbor
visit-confirmed = You said that somebody will be there. Thank you.
visit-no-sure = A neighbor may then get your place, so it cannot be undone here. To come back later, ask the volunteer.
visit-no-yes = Yes, give our place away
visit-gone = Thank you for telling us. Your place goes to a neighbor who waits.
visit-calendar = Put it in my calendar
