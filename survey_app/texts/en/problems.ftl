## What is wrong or doubtful in an answer. A problem's message is problem- and its key; the remedy says what to do.
## Those of the words "cannot be read" and "was read as" are shared by all questions.

problem-unreadable = "{ $typed }" cannot be read as an answer to "{ $question }"{ $why }
    .remedy = { $remedy } Or leave it open.
problem-unreadable-minor = "{ $typed }" could not be read and was left open.
    .remedy = { $remedy }
problem-read-as = { $how }
problem-date-read-as = "{ $typed }" for "{ $question }": { $how }
problem-choose = Choose from: { $choices }.
problem-choose-any = Choose { $choices }.
problem-any-of = any of these: { $choices }
problem-write-number = Write a number.
problem-give-date = Give a date.
problem-on = on { $when }
problem-in = in { $when }

problem-address-missing = The address is missing.
    .remedy = Give the house number and the street.
problem-refused = Consent was refused: only the address and the refusal are kept.
problem-consent-open = Consent was left open.
    .remedy = Ask before the home is contacted or counted among those that take part.
problem-symptoms-and-none = "none" was passed over, since something else was named with it.

# Common practice, no source.
problem-safety-smell-of-gas = A smell of gas comes before everything else.
    .remedy = { -gas-out } Work on gas belongs to a licensed contractor. { $rest }
problem-safety-carbon-monoxide-alarm-or-illness = Carbon monoxide comes before everything else.
    .remedy = Get everyone out into fresh air, call 911 from there, go back in only when they say so, and leave the heater off until a licensed contractor has looked at it. { $rest }
problem-safety-soot-or-a-bad-flue = Soot, scorch marks or a bad flue can mean carbon monoxide in the house.
    .remedy = If an alarm sounds or someone feels unwell, everyone out, and call 911. Else turn the gas control to off, open a window, light nothing again, and call a licensed contractor now. { $rest }
problem-safety-relief-valve-has-opened = A relief valve that has opened means water too hot or pressure too high.
    .remedy = Keep away from the scalding water, shut off the heater's gas or breaker if that is safe, never plug the valve, and call a licensed contractor now. { $rest }
problem-safety-burner-safety-switch-has-tripped = A tripped burner safety switch means too little air, a blocked flue, or a burner that does not shut off.
    .remedy = If anyone feels unwell or a carbon monoxide alarm sounds, everyone out, and call 911. Else open a window, leave the heater off, do not reset it, and call a licensed contractor now. { $rest }
problem-safety-water-on-or-under-the-heater = Water on or under the heater needs a look today.
    .remedy = If the tank leaks: close the cold water at the heater, shut off its gas or breaker, mind the scalding water, and call a licensed contractor. { $rest }
problem-safety-code-first = Local code and the maker's instructions come first.

problem-code-without-reading = The code "{ $code }" gives no date that fits.
    .remedy = Check that it is typed as printed; the maker's warranty page can tell.
problem-code-without-reading-house = The code "{ $code }" gives no date that fits a house finished in { $year }.
    .remedy = Check that it is typed as printed; the maker's warranty page can tell.
problem-code-has-several-readings = The code "{ $code }" can mean: { $readings }.
    .remedy = Pick the one that fits and give it as the date, with "date code" as how you know it.
problem-code-has-one-reading = The code "{ $code }" can mean: { $readings }. It may also follow a form that is not known here.
    .remedy = If that fits, give it as the date, with "date code" as how you know it.
problem-installed-from-code = The code "{ $code }" probably says made in { $made }; the installation is counted from then.
    .remedy = Give the date if you know better.
problem-installed-from-previous = The installation is taken from when the previous heater went ({ $when }).
problem-installed-from-house = The first heater is taken to be as old as the house (finished in { $year }).
problem-anode-work-open = It is not said whether the anode rod was checked or changed; it is kept as checked.
problem-anode-date-open = Work on the anode rod without a date cannot be kept.
    .remedy = Add a year.
problem-warranty-term-and-end = The warranty's end ({ $end }) does not go with a term of { $years } years from the installation; the stated end counts.

problem-in-future = "{ $question }" is answered with { $when }, but that has not come yet: today is { $today }.
    .remedy = Correct the date; with a reason instead, it is left open.
problem-year-or-age = "{ $question }": "{ $typed }" can mean the year { $year }, or { $years } years ago (around { $then }).
    .remedy = Write "{ $year }" or "{ $years } years ago"; with a reason instead, it is read as { $year }.
problem-answered-in-future = The answer is dated { $when }, after today ({ $today }).
    .remedy = Correct the date, or leave it open.

problem-installed-before-house = The heater was installed { $when }, but the house was finished in { $year }.
    .remedy = Check the date and the address, or say why both are right.
problem-first-but-later-than-house = It is said to be the first heater, but it was installed { $when } and the house was finished in { $year }.
    .remedy = Correct the date, or say that it is the second one, or say why both are right.
problem-moved-in-before-house = You moved in { $when }, but the house was finished in { $year }.
    .remedy = Give the date you moved into this house, or say why both are right.
problem-previous-gone-before-house = The previous heater went { $when }, but the house was finished in { $year }.
    .remedy = Correct the date, or say why both are right.

problem-first-but-code-later = It is said to be the first heater of a house finished in { $year }, but the code "{ $code }" says made in one of these years: { $made }.
    .remedy = Check the code; if it is as printed, say that this is the second heater or a later one, or say why both are right.
problem-first-lasted-long = It is said to be the second heater: then the first one lasted { $years } years in a house finished in { $year }. Hardly any does.
    .remedy = Say that it is the third or a later one, or "not sure", or correct the date; or say why it is right.
problem-first-heater-very-old = As the first heater of a house finished in { $year } it would be { $years } years old. Hardly any gets so old.
    .remedy = If there was another before it, say that it is the second or a later one; if nobody knows, "not sure". Or say why it is right.
problem-heater-very-old = The heater would be { $years } years old. Hardly any gets so old.
    .remedy = Check the date and leave it open if nobody knows, or say why it is right.

problem-anode-never-but-work = The anode rod was "never" looked at, but it is said to have been { $work ->
    [checked] checked
   *[changed] changed
}.
    .remedy = Give the date of the anode work or leave open what was done, or say why both are right.
problem-before-installed = "{ $question }" is answered with { $done }, but the heater was installed later ({ $installed }).
    .remedy = Correct one of the dates; if it was done to the heater before this one, say so as the reason.

problem-first-but-previous = It is said to be the first heater in this home, but a heater before it is told of.
    .remedy = Say that it is the second one, or leave the previous heater open, or say why both are right.
problem-later-heater-dated-by-house = The date is that of the house, but it is said not to be the first heater.
    .remedy = Give the date of this heater and how you know it, or say why both are right.
problem-previous-gone-after-installed = The previous heater went { $gone }, but this one was installed { $installed }, long before.
    .remedy = Correct one of the dates, or say why both are right.
problem-previous-gone-before-installed = The previous heater went { $gone }, but this one was only installed { $installed }.
    .remedy = Correct one of the dates, or say why both are right.

problem-warranty-term = A warranty of { $years } years is not usual; 6, 9 and 12 are.
    .remedy = Check the label or leave it open, or say why it is right.
problem-warranty-ends-before-installed = The warranty ended on { $end }, before the heater was installed ({ $installed }).
    .remedy = Correct one of the dates, or say why both are right.
problem-warranty-ends-late = A warranty until { $end } would run { $years } years; the longest usual ones run 12.
    .remedy = Check the date or leave it open, or say why it is right.
problem-tankless-with-tank = A tankless heater has no tank, but a tank of { $gallons } gallons is given.
    .remedy = Correct the kind or leave the size open, or say why both are right.
problem-tankless-with-anode = A tankless heater has no anode rod, but work on one is given.
    .remedy = Correct the kind or leave the anode rod open, or say why both are right.
problem-tank-size = A tank of { $gallons } gallons is hard to believe; homes have { $low } to { $high }.
    .remedy = Check the label or leave it open, or say why it is right.
problem-code-against-date = The code "{ $code }" says made in { $made }, which does not go with an installation { $when } (usually up to { $months } months later).
    .remedy = Check the code and the date, or say why both are right.
