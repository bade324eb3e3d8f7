## Replace it, or wait: the three ways, the verdict, the two ways to weigh risk, what could catch the water, the amounts.

decision-title = Replace it, or wait?
decision-lead = Every tank leaks in the end. This page puts odds and money side by side. You decide.
decision-open-first = Open your home first. Then this page can weigh the money for your own heater.
decision-open = Open my home
decision-answer = Tell us more about your heater
decision-refused-no-age = Without an age there is no answer. The data plate on the heater has a date. Tell us that date, then come back.
decision-refused-no-tank = You have a tankless unit. It has no tank that can leak. This page has no answer for it.
decision-refused-no-lives = There is nothing to work with yet. Come back when the survey knows your home.
decision-leak-first = Your record says there is water on or under the heater. Find out first where it comes from. A tank that leaks from its shell is done: no sum on this page will save it.

decision-verdict-take = Take the price
decision-verdict-replace = Replace it on your own
decision-verdict-your-call = Your call
decision-verdict-wait = Wait

decision-says-take = **The money says: take the price of { $buy }.** In { $share } of 100 cases that costs less than to wait.
decision-says-replace = **The money says: replace it now, on your own, for { $buy }.** In { $share } of 100 cases that costs less than to wait.
decision-says-your-call = **The money does not settle it: it is your call.** In { $share } of 100 cases it costs less to replace it now for { $buy }. In the rest it costs less to wait.
decision-says-wait = **The money says: wait.** In { $share } of 100 cases that costs less than to replace it now for { $buy }.
decision-says-average = The average says the opposite: in a few cases the gap is large.
decision-share = about { $n }
decision-share-over = more than { $n }
decision-share-under = less than { $n }
decision-gap-lower = The price of { $offer } is { $usd } less than your own price of { $own }.
decision-gap-dearer = The price of { $offer } is { $usd } more than your own price of { $own }. So to take it never pays: it costs less on your own.
decision-gap-none = The price of { $offer } is the same as your own.
decision-take-up-to = It would stay so up to a price of about { $usd }.
decision-take-up-to-own = It would stay so up to your own price.
decision-take-below = A price for now below about { $usd } would be one to take.
decision-take-none = No price for now would change that.
decision-cases = Nobody knows for sure how long heaters here last. So we tried many likely answers. Each one is a case.

decision-ways-head = What each way costs over { $years } years
decision-ways-least = costs least
decision-way-offer = Take the price of { $usd }
decision-way-own = Replace it now on your own, for { $usd }
decision-way-wait = Wait as long as is best
decision-way-likely = likely between { $low } and { $high }
decision-way-sure = the same in nearly all cases
decision-way-a-year = To wait just a year costs about { $usd } ({ $range }).
decision-way-until-it-fails = To wait until it fails costs about { $usd } ({ $range }).
decision-ways-note = These are averages. Your own bill may be far from them.
decision-ways-help = Each way is counted over { $years } years, in dollars of today. In it is what you pay, what failures cost by their odds, and the wear of the heater that stands there in the end. "Likely" means 90 of 100 cases. A dear case is dear for every way, so ranges may meet though one way is the cheapest.

decision-chance = Of 100 heaters like yours, about { $mean } fail in the next 12 months. It may be as few as { $low } or as many as { $high }.
decision-chance-sure = Of 100 heaters like yours, about { $mean } fail in the next 12 months.
decision-average = The average here is about { $average } of 100.

decision-neutral-head = By the dollars alone
decision-personal-head = By how you feel about risk
decision-verdict-line = **{ $verdict }.**
decision-gain-now = To replace it now for { $buy } saves about { $usd } on average. That is against waiting as long as is best.
decision-gain-wait = To wait as long as is best saves about { $usd } on average. That is against replacing it now for { $buy }.
decision-gain-range = In 90 of 100 cases the gain of replacing it now is between { $low } and { $high }. A minus means that waiting is cheaper.
decision-gain-sure = It is the same in nearly all cases.
decision-offer-age = The price pays from an age of about { $age } years on.
decision-offer-age-never = Up to an age of { $age } years the price does not pay.
decision-age = At your own price the best age to replace it is about { $age } years. It may be { $low } to { $high }.
decision-age-sure = At your own price the best age to replace it is about { $age } years.
decision-age-open = At your own price the best age to replace it is about { $age } years. It may be { $low }, or later, or never.
decision-age-never = At your own price there is no age that beats waiting until it fails.
decision-age-far = At your own price no age up to { $age } years beats waiting until it fails.
decision-failure = A failure costs about { $usd }, with the new heater in it.
decision-felt-little = By your feel there is little between now and later.
decision-felt-now = To replace it now feels to you like a gain of about { $usd }.
decision-felt-now-much = To replace it now feels to you like a gain of more than the price of a new heater.
decision-felt-wait = To wait feels to you like a gain of about { $usd }.
decision-felt-wait-much = To wait feels to you like a gain of more than the price of a new heater.
decision-personal-none = Answer the question about risk under "About your home". Your own answer will then stand here.
decision-personal-same = You weigh a dollar at risk like any other dollar. So your answer is the same.
decision-personal-how = You would pay about { $pay } to be rid of one chance in ten of a bill of { $bill }. What a failure costs beyond the new heater is about { $extra } on average. On you it weighs about { $times } times as much.
decision-personal-how-much = You would pay about { $pay } to be rid of one chance in ten of a bill of { $bill }. What a failure costs beyond the new heater is about { $extra } on average. On you it weighs more than { $times } times as much.

decision-catch-head = What could catch the water
decision-catch-help = Often it is cheaper to catch the water than to replace the heater. Each line says what would change. What it saves is the cheapest way without it less the cheapest way with it. A pan with a drain is not in the list: nobody can put one under a tank that stands. It belongs to the next heater. A pan that is there already is counted. The price of a new heater here counts no gain from its pan.
decision-catch-none = You have the best of what we can weigh. Nothing here would lower the damage more.
decision-table-what = What you have or add
decision-table-failure = A failure then costs
decision-table-neutral = By the dollars alone
decision-table-personal = Your own answer
decision-table-worth = Saves in { $years } years, after its price
decision-row-as-is = As it is now
decision-row-alarm = Add a leak alarm on the floor
decision-row-alarm-shutoff = Add an alarm and an automatic shut-off
decision-row-price = { $what } ({ $usd })
decision-row-nothing = –
decision-row-ways = Over { $years } years: about { $now } if you replace it now for { $buy }, about { $wait } if you wait.
decision-details-head = All the figures

decision-household-head = About your home
decision-place-unknown = We do not know where your heater stands. So each kind of place counts one third: garage, basement, inside. Tell us, and the answer gets better.
decision-drained = Is the pan under the heater piped to a drain?
decision-insured = Does your policy pay for sudden water damage?
decision-insured-help = Damage from age and rust is often not paid. Sudden water damage often is. It depends on your policy: ask your insurer before it happens. "Not sure" counts as no.
decision-if-insured = If your policy does pay, the answer by the dollars alone is: { $verdict }.
decision-days-empty = Days a year when nobody is home
decision-days-empty-help = A leak that nobody sees does more harm. An alarm that nobody hears does no good.
decision-yes = Yes
decision-no = No
decision-not-sure = Not sure

decision-risk = A bill of { $bill } may come this year. The chance is 1 in 10. What would you pay, at most, to be rid of that risk?
decision-risk-neutral = { $usd }: that is the average, and no more
decision-risk-high = About { $usd }
decision-risk-middle = About { $usd }
decision-risk-low = About { $usd }, or more
decision-risk-skip = I would rather not say

decision-own = Your own price for a new heater, in dollars
decision-own-help = A full job, planned ahead, with nobody else. Put in a price you have in writing.
decision-offer = Group price for a new heater now, in dollars
decision-offer-help = The full price for your home, with permit, haul-away and tax. Leave it open if there is none.
decision-offer-on-file = { $usd } is the price on file for your home, from "Buying together".
decision-other-kind = The prices are for the kind you asked for: { $kind }.
decision-typed = What you put in here lasts for this visit. It is not stored. Nobody else sees it.

decision-amounts-head = The amounts: change what you know better
decision-amounts-help = What you change here changes your answer.
decision-amount-range = Usual range: { $low } to { $high }.
decision-amount-planned-price-usd = Planned new heater, all in, in dollars
    .from = The price list of the community, or the national figure.
decision-amount-emergency-premium-usd = More for a rush job, in dollars
    .from = An example, no source. A call in a rush costs more. Ask a contractor, and put in the amount.
decision-amount-leak-share = Of 100 heaters that fail, how many leak
    .from = Our guess, no source. Of 100 insurance claims for heaters, 69 were leaks (IBHS, about 2007 to 2010, as insurers quote it). Who only lost hot water makes no claim, so it may be fewer.
decision-amount-damage-chance-garage = Of 100 leaks in a garage or outside, how many do damage
    .from = An example, no source. Put in what you think.
decision-amount-damage-usd-garage = Damage by such a leak (garage or outside), in dollars
    .from = An example, no source. Put in what you think.
decision-amount-damage-chance-basement = Of 100 leaks in a basement, how many do damage
    .from = An example, no source. Put in what you think.
decision-amount-damage-usd-basement = Damage by such a leak (basement), in dollars
    .from = An example, no source. Put in what you think.
decision-amount-damage-chance-inside = Of 100 leaks inside the house, how many do damage
    .from = An example, no source. Inside means a closet, an upper floor or an attic.
decision-amount-damage-usd-inside = Damage by such a leak (inside), in dollars
    .from = An example, no source. To compare: insurers paid $4,444 for a failed heater on average, after the deductible (IBHS, about 2005 to 2009, old dollars). They paid $11,098 for water damage of all kinds (Insurance Information Institute, 2015 to 2019).
decision-amount-away-damage-factor = How many times worse when nobody is home
    .from = An example, no source. Put in what you think.
decision-amount-factor-pan = Of $100 damage, what is left with a pan but no drain
    .from = An example, no source. Such a pan holds a few gallons.
decision-amount-factor-alarm = Of $100 damage, what is left with an alarm alone
    .from = An example, no source.
decision-amount-factor-pan-drain = Of $100 damage, what is left with a pan and a drain
    .from = Our guess, no source. We found no trial.
decision-amount-factor-pan-drain-alarm = Of $100 damage, what is left with pan, drain and alarm
    .from = Our guess, no source. We found no trial.
decision-amount-factor-shutoff = Of $100 damage, what is left with an automatic shut-off
    .from = Our guess. The proof is weak. One insurer said in 2011 that up to 93 of 100 dollars could be saved or made less. That was its own guess.
decision-amount-alarm-price-usd = Price of a leak alarm, in dollars
    .from = An example, no source.
decision-amount-shutoff-price-usd = Price of an automatic shut-off, fitted, in dollars
    .from = An example, no source.
decision-amount-mitigation-lasts-years = Years that such a thing lasts
    .from = An example, no source.
decision-amount-discount-rate = What money in a year is worth less today, in percent
    .from = An example. A tool of the US Department of Energy uses 3.2 percent.
decision-amount-deductible-usd = Your deductible, in dollars
    .from = An example, no source. Your policy says how much it is.

decision-rests-head = What this rests on
decision-rests-local = How long heaters last: answers of this neighborhood, with { $failures ->
    [one] one heater that went
   *[other] { $failures } heaters that went
 }, and published lives of heaters. Of what is known of the typical life, about { $weight } of 100 parts come from here.
decision-rests-prior = How long heaters last: published lives of heaters alone. There are too few answers here yet.
decision-rests-age = The age: { $low } to { $high } years, averaged over.
decision-rests-age-sure = The age: { $age } years.
decision-rests-inputs = All amounts of money: the defaults or what you put in. Each says where it comes from.
decision-rests-later = A group price is for now only. Who waits pays their own price later, or that of a failure. The wait is a year at least.
decision-rests-rule = "Take the price" or "replace it on your own" means that now is cheaper in at least 80 of 100 cases. "Wait" means in 20 or fewer. The average must say the same. All else is your call.
decision-not-head = What is not in it
decision-not-modeled =
    What a new heater may save in energy.
    What new building rules may ask for when a heater is replaced.
    Safety. A smell of gas or a relief valve that opened is never a matter of money.
    Cold showers, lost days and worry.
    Prices that rise faster than money loses worth.
    What a flush or a new anode adds to the life: that is not proven.
