## The invitation letter.

letter-from = From your neighbors who run the water heater survey, as volunteers
letter-title = How old is your water heater?
letter-body = Most heaters here went in together, and they grow old together. Each one leaks in the end. A leak means a wet floor, a rushed job and a high price.
    Tell us about yours. It takes three minutes. Then you see how your heater stands, and neighbors can get it looked after or replaced together, for less. It is up to you, it costs nothing, and a yes binds you to nothing.
letter-until = Please answer by { $day }. Later is fine, too.
letter-how-head = By phone or computer
letter-how = Point your phone's camera at the square, or type { $address }.
    Then type the code below. It opens your home and no other.
letter-code = Your private code
letter-code-signs = It has no letters I, L or O and no figures 0 or 1. Capitals and dashes do not matter.
letter-privacy-head = Who sees what
letter-privacy = The volunteers who run the survey see your answers.
    The committee and the neighbors see only figures for many homes together.
    If you say yes or maybe to a service day or a group purchase, the committee and the crew see your address.
    Nothing is sold or sent to anybody else. Answers older than { $years } years are deleted.
    You can see, correct, print and delete all of it with your code.
letter-paper-head = Or on paper.
letter-paper = Fill in the back of this page and bring it to whoever is named below. "Not sure" is a good answer.
letter-ask = Questions, or a lost code?
letter-other = In short: neighbors ask about your water heater, so that all can look after it or replace it together, for less.
    Point your phone's camera at the square. Tap "English" and type the code above. Please answer by { $day }.
    Volunteers see your answers. The committee and neighbors see only figures for many homes; if you say yes or maybe to a service day or a purchase, the committee and the crew see your address.
    You can ask for this letter and its form in English, too.
letter-first = Smell gas? { -gas-out } Has the relief valve opened? Keep away: the water is scalding. Call a licensed contractor. Water on the floor? Close the cold water at the heater. The survey can wait.
letter-form = The paper form
letter-look = Just look. Do not open or turn anything. Tick the boxes that fit. Leave blank what you do not know. Dates may be rough: "about 2012" or "never" will do.
letter-bring = Please bring it by { $day } to:
letter-sheet = Sheet { $number }
