## The form's own words. The questions stand in survey_app/intake/questions.py; a translation has them here as q-….

form-lead = Three minutes, standing in front of it. **Not sure is a good answer**, and everything but the address may stay open. Your answers are seen by the volunteer who runs the survey. Neighbors see only figures for many homes together. If you say yes or maybe to a day or to buying together, the committee sees your home too.
form-thanks = Thank you. Your answer is stored.
form-address-waits = The volunteer will look at the address: { $why }
form-by-what-you-told = By what you told us:
form-another = Answer for another home
form-before-sent = Before it is sent
form-send = Send
form-stay = No network just now? What you typed stays on this page. Wait, do not reload it, and send it later.
form-consent-open = You left open whether the survey may keep this. So you will be asked before you are counted in for anything. Answer again to change that.
form-address-find = Find my home
form-address = Which address is it?
form-address-example = House number and street
form-address-type = Type the house number and the street. Then tap "Find my home".
form-address-pick = Is it one of these?
form-address-none = None of these: go on with what I typed
form-address-by-hand = The volunteer will look up the address by hand.
form-any = Tap all that apply. A second tap takes one off.
form-why = If it is right as it stands, say why
form-code-no-date = The code from the label fits no date that is possible here. Leave it, or check it once more.
form-code-which = The code from the label can be read like this. Which one fits?
form-code-cannot-tell = I can't tell

## Three doors.

welcome-title = How old is your water heater?
welcome-lead = Most heaters here went in together and are growing old together. This survey finds out which ones are past their warranty, so that neighbors can have them looked after, or replaced, before they leak.
welcome-gas = <b>Smell gas?</b> Leave now, and call the gas utility or the emergency number from outside.
welcome-water = <b>Water on the floor?</b> Close the cold water at the heater or at the house main. Shut off the gas at the heater, or the breaker if it is electric. The water can be scalding. Everything else can wait.
welcome-answer = **No letter, or lost it?** Tell us about my heater: three minutes
welcome-letter = **I have the letter.** See how my heater stands
welcome-wrong = **Something is wrong.** Find out what it is
welcome-demo-home = Open a home of this demo (no code needed)
welcome-demo-volunteer = Open the volunteer's door (demo: no password)
welcome-demo-committee = Open the committee's door (demo: no password)
welcome-volunteer = **I run the survey** (volunteer)
welcome-committee = **I am on the committee**

## Why an address waits for a person. The volunteers read the same in geo/addresses.

waits-second = This home has been answered for, and this answer came without its private code.
waits-empty = No address was given.
waits-box = A post office box is not a home's address.
waits-no-number = There is no house number; these homes are on a street like that.
waits-no-number-no-street = There is no house number, and no street here is called that.
waits-no-home = No home here has this number on a street like this.
waits-one-slip = No home has this number on that street; these are one slip away.
waits-alike = Several homes fit alike.
waits-unit-missing = The unit is missing, and several homes share the number.
waits-same-address = Several parcels have this very address.
waits-differs = The nearest home differs: { $how }.
waits-how-spelling = the street is spelled differently
waits-how-type-missing = the street type is missing
waits-how-type = the street type differs
waits-how-direction-missing = the direction is missing
waits-how-direction = the direction differs
waits-how-figure = the number or letter in the street's name differs
waits-how-unit-needless = a unit is given, and the home has none
waits-how-unit-missing = the unit is missing
waits-how-unit = the unit differs
waits-how-writing = the same but for its writing
