## The form's own words. The questions stand in survey_app/intake/questions.py; a translation has them here as q-….

form-lead = Three minutes, standing in front of it. **Not sure is a good answer**, and everything but the address may stay open. Your answers are seen by the volunteer who runs the survey. The neighbors and the committee see only figures for many homes together.
form-thanks = Thank you. Your answer is stored.
form-address-waits = The volunteer will look at the address: { $why }
form-by-what-you-told = By what you told us:
form-another = Answer for another home
form-before-sent = Before it is sent
form-send = Send
form-address = Which address is it?
form-address-example = House number and street
form-address-type = Type the house number and the street, then press Enter.
form-address-pick = Is it one of these?
form-address-none = None of these: go on with what I typed
form-address-by-hand = The volunteer will look up the address by hand.
form-any = Any that apply
form-why = If it is right as it stands, say why
form-code-no-date = The code from the label fits no date that is possible here. Leave it, or check it once more.
form-code-which = The code from the label can be read like this. Which one fits?
form-code-cannot-tell = I can't tell

## Three doors.

welcome-title = How old is your water heater?
welcome-lead = Most heaters here went in together and are growing old together. This survey finds out which ones are past their warranty, so that neighbors can have them looked after, or replaced, before they leak.
welcome-gas = <b>Smell gas?</b> Leave now, and call the gas utility or the emergency number from outside.
welcome-water = <b>Water on the floor?</b> Close the cold water at the heater or at the house main. Shut off the gas at the heater, or the breaker if it is electric. The water can be scalding. Everything else can wait.
welcome-answer = **I live here.** Tell us about my heater: three minutes
welcome-letter = **I live here and have a letter.** See how my heater stands
welcome-wrong = **Something is wrong.** Find out what it is
welcome-demo-home = Open a home of this demo (no code needed)
welcome-demo-volunteer = Open the volunteer's door (demo: no password)
welcome-demo-committee = Open the committee's door (demo: no password)
welcome-volunteer = **I run the survey** (volunteer)
welcome-committee = **I am on the committee**
