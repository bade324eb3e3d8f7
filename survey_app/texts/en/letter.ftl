## The invitation letter.

letter-title = How old is your water heater?
letter-body = Most heaters here went in together, and they grow old together. Each one leaks in the end. A leak means a wet floor, a rushed job and a high price.
    Tell us about yours. It takes three minutes. Then you see how your heater stands, and neighbors can get it looked after or replaced together, for less.
letter-how = Point your phone's camera at the square, or go to { $address }. Then type this code. It opens your home and no other.
letter-code = Your private code
letter-privacy-head = Who sees what
letter-privacy = The volunteers who run the survey see your answers.
    The committee and the neighbors see only figures for many homes together.
    If you say yes to a service day or a group purchase, the committee and the crew see your address.
    You can see, correct, print and delete all of it with your code.
letter-paper = No phone? Fill in the back of this page and hand it to a volunteer. "Not sure" is a good answer.
letter-first = Smell gas? Leave now, and call the gas utility or the emergency number from outside. Water on the floor? Close the cold water at the heater. The survey can wait.
letter-form = The paper form
letter-look = Just look. Do not open or turn anything. Leave blank what you do not know. Dates may be rough: "about 2012" will do.
