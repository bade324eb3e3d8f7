## The record of one home: on the screen, printed, and in a calendar.

record-title = My record
record-lead = Everything on file for this home. It is yours: check it, correct it, print it, or delete it.
record-paper-title = Maintenance record of a water heater
record-paper-for = For a warranty claim, an insurer or a buyer. By the home's own answers; nobody has checked them.
    .crew = For a warranty claim, an insurer or a buyer. By the home's own answers, and by what a crew of a service day did and found, last on { $day }. The answers themselves nobody has checked.
record-synthetic = Synthetic demo: this home and everything about it is invented.
record-as-of = As of { $day }
record-address = Address
record-heater-now = The heater in service
record-heater-before = The heater before it
record-kind = Kind
record-size = Tank
record-size-gallons = { $gallons } gallons ({ $liters } liters)
record-installed = Installed
record-installed-between = between { $from } and { $to }
record-evidence = The date rests on
record-warranty = Warranty
record-warranty-term = { $years } years
record-warranty-until = until about { $when }
record-warranty-assumed = { $years } years, assumed
record-removed = Taken out
record-cause = Why
record-place = Where it stands
record-symptoms = What was reported and is not settled
record-settled = What was reported and is settled
record-answer-settled = Said on { $day }: settled ({ $what })
record-unknown = not known
record-acts = Work done
record-no-acts = No work is on file. If it was flushed, or the anode or relief valve was looked at, put it in your answer.
record-act = What
record-when = When
record-found = What was found
record-due = What is due
record-answers = Your answers
record-answer-line = Answered { $day }, by { $channel }
record-take-back = Take back this answer
record-take-back-sure = This answer will no longer count: your heater's age, and what is due, follow from the answers that are left. It is not deleted. You can bring it back here.
record-take-back-yes = Yes, take it back
record-took-back = Taken back: the answer of { $day }. It no longer counts.
record-bring-back = Bring this answer back
record-correct = Correct it: answer again
record-correct-help = Your last answer is filled in. Change what is wrong and send it. The old answer is kept with it, so nothing gets lost.
record-export = All data on file (JSON)
record-print = Record to print (PDF)
record-calendar = Calendar file of what is due
record-calendar-help = Open it on your phone. It puts each date in your calendar, with a reminder two weeks before.
record-calendar-none = Nothing is due on a known date yet, so there is no calendar file.
record-delete = Delete my data
record-delete-help = This deletes all answers about this home, and all that was worked out from them. It cannot be undone. The address stays, because the county's list has it. Copies that the volunteer has saved before are not changed by this.
record-delete-sure = Yes, delete everything about my home
record-deleted = Deleted: { $n ->
    [one] one answer
   *[other] { $n } answers
 } and all that came from { $n ->
    [one] it
   *[other] them
 }.
record-nothing = Nothing is on file for this home.

channel-form = form
channel-paper = paper
channel-import = spreadsheet

act-flush = Tank flushed
act-anode-check = Anode checked
act-anode-change = Anode changed
act-relief-valve-test = Relief valve tested
act-part-replaced = Part replaced

kind-gas-storage = Gas tank
kind-electric-storage = Electric tank
kind-heat-pump-storage = Heat pump tank
kind-tankless = Tankless
kind-unknown = not known
place-garage = garage
place-outside = outside
place-basement = basement
place-closet = closet
place-upper-floor = upper floor
place-attic = attic
place-other = another place
place-unknown = not known
tri-yes = yes
tri-no = no
tri-not-sure = not sure
cause-failed = it failed
cause-replaced-before-failing = replaced before it failed
cause-converted = changed to another kind
cause-unknown = not known

due-flush = Water heater: flush is due
due-anode = Water heater: have the anode looked at
due-relief-valve = Water heater: relief valve test is due
due-warranty = Water heater: warranty ends soon
due-warranty-body = Have it looked at before { $when }, and claim what is wrong.

symptom-smell-of-gas = smell of gas
symptom-carbon-monoxide-alarm-or-illness = carbon monoxide alarm, or illness near the heater
symptom-soot-or-a-bad-flue = soot, scorch marks, or a bad flue
symptom-water-far-too-hot = water far too hot
symptom-relief-valve-has-opened = the relief valve opened
symptom-burner-safety-switch-has-tripped = the burner's safety switch tripped
symptom-water-on-or-under-the-heater = water on or under the heater
symptom-relief-valve-drips = the relief valve drips
symptom-rusty-hot-water = rusty hot water
symptom-rumbling-or-popping = rumbling or popping
symptom-hot-water-smells = the hot water smells
symptom-hot-water-runs-out-early = hot water runs out early
symptom-pilot-will-not-stay-lit = the pilot will not stay lit
symptom-no-hot-water = no hot water
