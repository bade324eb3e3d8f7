"""The decision in words: every sentence a household reads, in its language."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from survey_app.forecast import Odds
from survey_app.prices import Price, price_line, source_line
from survey_app.records import Place
from survey_app.settings import plausible
from survey_app.texts import Texts

from .amounts import PLANNED, Amounts, limits
from .decision import OVER_YEARS, REPLACE_FROM, WAIT_UP_TO, Answer, Choice, Decision, Row, Span, Verdict, Way
from .risk import ASKED_BILL_USD, Tolerance

__all__ = [
    "WayRow",
    "amount_label",
    "amount_limits",
    "amount_scale",
    "amount_source",
    "as_typed",
    "detail_lines",
    "from_typed",
    "mitigation_rows",
    "neutral_lines",
    "personal_lines",
    "price_source",
    "rests_on_lines",
    "risk_labels",
    "risk_question",
    "summary_lines",
    "verdict_lines",
    "way_rows",
    "ways_lines",
]

_FAR = 30.0
"""Years beyond which no best age is named: hardly any tank has been seen that old."""
_FELT_TIMES = 5.0
"""Beyond so many times its average what a failure feels like is not told: nobody knows it of themselves so well."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WayRow:
    """One way in words, and its figures to draw: the average and the ends of its 90% range."""

    way: Way
    label: str
    cost: str
    range: str
    usd: Span
    least: bool


def summary_lines(say: Texts, decision: Decision, odds: Odds | None = None) -> list[str]:
    """The verdict as it is, and how often heaters like this one fail; or why there is no answer."""
    if decision.refused is not None:
        return [say(f"decision-refused-{decision.refused}")]
    answer = decision.rows[0].neutral
    lines = [" ".join([*_says(say, decision, answer), *_price_lines(say, decision, answer)])]
    if decision.chance is not None:
        chance = decision.chance
        mean, low, high = say.numbers(*(100 * x for x in (chance.mean, chance.low, chance.high)))
        key = "decision-chance" if low != high else "decision-chance-sure"
        lines.append(say(key, mean=mean, low=low, high=high) if low != high else say(key, mean=mean))
    if odds is not None:
        lines[-1] += " " + say("decision-average", average=say.numbers(odds.average_of_100)[0])
    if decision.if_insured is not None and decision.if_insured is not answer.verdict:
        lines.append(say("decision-if-insured", verdict=say(f"decision-verdict-{decision.if_insured}").lower()))
    if decision.household.place in (Place.UNKNOWN, Place.OTHER):
        lines.append(say("decision-place-unknown"))
    return lines


def _says(say: Texts, decision: Decision, answer: Answer) -> list[str]:
    """The verdict with its price, by how often it is the cheaper."""
    # A wait is told by how often waiting is cheaper.
    wait = answer.verdict is Verdict.WAIT
    share = _share(say, 1 - answer.chance_cheaper if wait else answer.chance_cheaper)
    said = [say(f"decision-says-{answer.verdict}", share=share, buy=say.usd(decision.buy_usd))]
    settled = answer.chance_cheaper >= REPLACE_FROM or answer.chance_cheaper <= WAIT_UP_TO
    # Nearly all cases say one thing: then the average alone has made it the household's call.
    return [*said, say("decision-says-average")] if settled and answer.verdict is Verdict.YOUR_CALL else said


def _price_lines(say: Texts, decision: Decision, answer: Answer) -> list[str]:
    """An offer against one's own price, and up to which price for now it would be taken."""
    lines, own, limit = [], say.usd(decision.own_usd), _limit(decision, answer)
    if answer.verdict is Verdict.TAKE:
        if answer.take_up_to_usd < decision.own_usd:
            lines.append(say("decision-take-up-to", usd=say.usd(limit)))
        else:
            lines.append(say("decision-take-up-to-own"))
    elif answer.verdict is not Verdict.REPLACE:
        lines.append(say("decision-take-below", usd=say.usd(limit)) if limit >= 1 else say("decision-take-none"))
    if decision.offer_usd is not None:
        offer, gap = say.usd(decision.offer_usd), decision.offer_usd - decision.own_usd
        if say.usd(gap) == say.usd(0):
            return [*lines, say("decision-gap-none", offer=offer)]
        key = "decision-gap-lower" if gap < 0 else "decision-gap-dearer"
        lines.append(say(key, offer=offer, own=own, usd=say.usd(abs(gap))))
    return lines


def _limit(decision: Decision, answer: Answer) -> int:
    """The price up to which an offer would be taken, as round as does not fall below the one that is there."""
    round_down = 10 * math.floor(answer.take_up_to_usd / 10)
    taken = decision.offer_usd if answer.verdict is Verdict.TAKE else None
    return round_down if taken is None or round_down > taken else math.floor(answer.take_up_to_usd)


def way_rows(say: Texts, decision: Decision) -> list[WayRow]:
    """The three ways by the dollars alone as it is, in the order take, replace, wait; none where there is no answer."""
    if decision.refused is not None:
        return []
    ways = decision.rows[0].neutral.ways
    found: list[tuple[Way, str, Span]] = []
    if ways.offer is not None and decision.offer_usd is not None:
        found.append((Way.OFFER, say("decision-way-offer", usd=say.usd(decision.offer_usd)), ways.offer))
    found.append((Way.OWN, say("decision-way-own", usd=say.usd(decision.own_usd)), ways.own))
    found.append((Way.WAIT, say("decision-way-wait"), ways.wait))
    return [
        WayRow(
            way=way,
            label=label,
            cost=_about(say, usd.middle),
            range=_likely(say, usd),
            usd=usd,
            least=way is ways.least,
        )
        for way, label, usd in found
    ]


def ways_lines(say: Texts, decision: Decision) -> list[str]:
    """What a wait of just a year, or until it fails, costs beside the three ways; and that all of it is averages."""
    if decision.refused is not None:
        return []
    ways = decision.rows[0].neutral.ways
    each = [
        say(f"decision-way-{way}", usd=_about(say, span.middle), range=_likely(say, span))
        for way, span in ((Way.A_YEAR, ways.a_year), (Way.UNTIL_IT_FAILS, ways.until_it_fails))
    ]
    return [" ".join([*each, say("decision-ways-note")])]


def verdict_lines(say: Texts, decision: Decision, answer: Answer) -> list[str]:
    """One answer by the dollars: its verdict, what is gained on average and its range, the best age."""
    gain, now = answer.gain_usd, say.usd(decision.buy_usd)
    lines = [say("decision-verdict-line", verdict=say(f"decision-verdict-{answer.verdict}"))]
    key = "decision-gain-now" if gain.middle > 0 else "decision-gain-wait"
    lines.append(say(key, usd=_about(say, abs(gain.middle)), buy=now))
    low, high = _ends(say, gain)
    lines.append(say("decision-gain-range", low=low, high=high) if low != high else say("decision-gain-sure"))
    return [*lines, *_age_lines(say, answer)]


def _age_lines(say: Texts, answer: Answer) -> list[str]:
    lines = [_age_line(say, answer.optimal_age)]
    if answer.pays_from_age is not None:
        lines.append(
            say("decision-offer-age", age=say.number(answer.pays_from_age))
            if answer.pays_from_age <= _FAR
            else say("decision-offer-age-never", age=say.number(_FAR))
        )
    return lines


def _felt_lines(say: Texts, decision: Decision, answer: Answer) -> list[str]:
    """One's own answer: its verdict and what is gained as it feels, in dollars up to the price of a new heater only."""
    gain, price = answer.gain_usd.middle, decision.own_usd
    size = "little" if abs(gain) < 0.1 * price else "much" if abs(gain) > price else "some"
    way = "now" if gain > 0 else "wait"
    if size == "some":
        felt = say(f"decision-felt-{way}", usd=_about(say, abs(gain)))
    else:
        felt = say("decision-felt-little" if size == "little" else f"decision-felt-{way}-much")
    verdict = say(f"decision-verdict-{answer.verdict}")
    return [say("decision-verdict-line", verdict=verdict), felt, *_age_lines(say, answer)]


def personal_lines(say: Texts, decision: Decision) -> list[str]:
    """The household's own answer as it is: how its tolerance weighs a failure, then the same as for anybody."""
    first, head = decision.rows[0], f"**{say('decision-personal-head')}**"
    if decision.tolerance is None or first.personal is None:
        return [head, say("decision-personal-none")]
    if decision.tolerance is Tolerance.NEUTRAL:
        verdict = say(f"decision-verdict-{first.personal.verdict}")
        return [head, say("decision-verdict-line", verdict=verdict), say("decision-personal-same")]
    times = (first.personal.failure_usd - decision.own_usd) / max(first.neutral.failure_usd - decision.own_usd, 1e-9)
    how = say(
        "decision-personal-how" if times <= _FELT_TIMES else "decision-personal-how-much",
        pay=_about(say, decision.tolerance.would_pay_usd),
        bill=say.usd(ASKED_BILL_USD),
        times=say.number(times, 1) if times <= _FELT_TIMES else say.number(_FELT_TIMES),
        extra=_about(say, first.neutral.failure_usd - decision.own_usd),
    )
    return [head, *_felt_lines(say, decision, first.personal), how]


def neutral_lines(say: Texts, decision: Decision) -> list[str]:
    """The answer by the dollars alone as it is, under its head."""
    lines = [f"**{say('decision-neutral-head')}**", *verdict_lines(say, decision, decision.rows[0].neutral)]
    return [*lines, say("decision-failure", usd=_about(say, decision.rows[0].neutral.failure_usd))]


def mitigation_rows(say: Texts, decision: Decision) -> list[str]:
    """What could catch the water, as the lines of a Markdown table; as it is first."""
    personal = decision.tolerance not in (None, Tolerance.NEUTRAL)
    years = say.number(decision.amounts.mitigation_lasts_years)
    heads = [say(f"decision-table-{head}") for head in ("what", "failure", "neutral", *(["personal"] * personal))]
    table = [[*heads, say("decision-table-worth", years=years)]]
    table.append(["---"] * len(table[0]))
    for choice in decision.rows:
        what = say(f"decision-row-{choice.row}")
        if choice.price_usd:
            what = say("decision-row-price", what=what, usd=say.usd(choice.price_usd))
        row = [what, _about(say, choice.neutral.failure_usd), say(f"decision-verdict-{choice.neutral.verdict}")]
        if personal and choice.personal is not None:
            row.append(say(f"decision-verdict-{choice.personal.verdict}"))
        worth = choice.neutral.worth_usd.middle
        row.append(say("decision-row-nothing") if choice.row is Row.AS_IS else _about(say, worth))
        table.append(row)
    lines = ["| " + " | ".join(row) + " |" for row in table]
    return lines if len(decision.rows) > 1 else [*lines, "", say("decision-catch-none")]


def detail_lines(say: Texts, decision: Decision) -> list[str]:
    """How the ways are counted, then every row's figures by the dollars alone, one paragraph each."""
    return [
        say("decision-ways-help", years=say.number(OVER_YEARS)),
        *(_row_line(say, decision, choice) for choice in decision.rows),
    ]


def _row_line(say: Texts, decision: Decision, choice: Choice) -> str:
    answer = choice.neutral
    ways = say(
        "decision-row-ways",
        years=say.number(OVER_YEARS),
        buy=say.usd(decision.buy_usd),
        now=_about(say, answer.ways.now.middle),
        wait=_about(say, answer.ways.wait.middle),
    )
    failure = say("decision-failure", usd=_about(say, answer.failure_usd))
    lines = [f"**{say(f'decision-row-{choice.row}')}.**", *verdict_lines(say, decision, answer), failure, ways]
    return " ".join(lines)


def rests_on_lines(say: Texts, decision: Decision, odds: Odds | None = None) -> list[str]:
    """What the answer rests on (lives, age, amounts, the rule of the verdict), and what it leaves out."""
    found = [say("decision-cases")]
    if odds is not None and not odds.refused:
        found.append(say("decision-rests-local", failures=odds.failures, weight=say.number(100 * odds.local_weight)))
    else:
        found.append(say("decision-rests-prior"))
    if decision.age_years is not None:
        low, best, high = decision.age_years
        if high - low >= 1:
            found.append(say("decision-rests-age", **dict(zip(("low", "high"), say.numbers(low, high), strict=True))))
        else:
            found.append(say("decision-rests-age-sure", age=say.number(best)))
    found += [say("decision-rests-inputs"), say("decision-rests-later"), say("decision-rests-rule")]
    left_out = [f"- {line}" for line in say.lines("decision-not-modeled")]
    return [
        f"**{say('decision-rests-head')}**",
        "",
        *(f"- {line}" for line in found),
        "",
        f"**{say('decision-not-head')}**",
        "",
        *left_out,
    ]


def risk_question(say: Texts) -> str:
    """The one question about risk."""
    return say("decision-risk", bill=say.usd(ASKED_BILL_USD))


def risk_labels(say: Texts) -> dict[str, str]:
    """Its answers with the sums they stand for, by tolerance; empty for not answering."""
    answers = {str(t): say(f"decision-risk-{t}", usd=_about(say, t.would_pay_usd)) for t in Tolerance}
    return answers | {"": say("decision-risk-skip")}


def amount_label(say: Texts, name: str) -> str:
    """What an amount is called."""
    return say(_amount_key(name))


def price_source(say: Texts, price: Price) -> str:
    """Where the planned price comes from: its row of the price list, and what "complete" means."""
    return " ".join([price_line(price, say), source_line(price, say), say("price-complete")])


def amount_source(say: Texts, name: str) -> str:
    """Where an amount's default comes from, and from what to what it is usual; :func:`price_source` for the price."""
    text = say(_amount_key(name) + ".from")
    usual = None if name == PLANNED else plausible(name)
    if usual is None:
        return text
    low, high = (say.number(x * amount_scale(name), 0 if amount_scale(name) == 100 or x >= 10 else 1) for x in usual)
    return text + " " + say("decision-amount-range", low=low, high=high)


def amount_scale(name: str) -> float:
    """What an amount is multiplied by for people: shares and rates are asked of a hundred."""
    return 100.0 if name.startswith(("factor_", "damage_chance_")) or name in ("leak_share", "discount_rate") else 1.0


def amount_limits(name: str) -> tuple[float, float]:
    """Least and largest value that may be typed, as people see it."""
    least, most = limits(name)
    return least * amount_scale(name), most * amount_scale(name)


def as_typed(amounts: Amounts, name: str) -> float:
    """An amount as people see it."""
    return float(round(getattr(amounts, name) * amount_scale(name), 6))


def from_typed(amounts: Amounts, typed: Mapping[str, float | None]) -> Amounts:
    """The amounts with what was typed; a field left empty keeps its default.

    Raises
    ------
    ValueError
        Naming every amount that is out of its bounds.
    """
    return amounts.changed({name: x / amount_scale(name) for name, x in typed.items() if x is not None})


def _amount_key(name: str) -> str:
    return "decision-amount-" + name.replace("_", "-")


def _about(say: Texts, dollars: float) -> str:
    """Dollars without false precision: to the ten, from a thousand on to the fifty."""
    step = 50 if abs(dollars) >= 1000 else 10
    return say.usd(step * round(dollars / step))


def _share(say: Texts, share: float) -> str:
    """Of 100 cases: never all of them or none, which nobody can know from trying some."""
    if share > 0.99:
        return say("decision-share-over", n=say.number(99))
    return (
        say("decision-share-under", n=say.number(1))
        if share < 0.01
        else say("decision-share", n=say.number(100 * share))
    )


def _ends(say: Texts, span: Span) -> tuple[str, str]:
    """The ends of a range in dollars, as round as keeps them apart; the same where there is no range."""
    low, high = _about(say, span.low), _about(say, span.high)
    for step in (10.0, 1.0):
        if low != high:
            break
        low, high = (say.usd(step * round(end / step)) for end in (span.low, span.high))
    return low, high


def _likely(say: Texts, span: Span) -> str:
    """A range of dollars; where there is none, that it is the same in all cases."""
    low, high = _ends(say, span)
    return say("decision-way-likely", low=low, high=high) if low != high else say("decision-way-sure")


def _age_line(say: Texts, age: Span) -> str:
    if not math.isfinite(age.middle):
        return say("decision-age-never")
    if age.middle > _FAR:
        return say("decision-age-far", age=say.number(_FAR))
    if age.high > _FAR:
        return say("decision-age-open", age=say.number(age.middle), low=say.number(age.low))
    middle, low, high = say.numbers(age.middle, age.low, age.high)
    return say("decision-age", age=middle, low=low, high=high) if low != high else say("decision-age-sure", age=middle)
