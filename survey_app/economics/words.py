"""The decision in words: every sentence a household reads, in its language."""

from __future__ import annotations

import math
from collections.abc import Mapping

from survey_app.forecast import Odds
from survey_app.records import HeaterKind, Place
from survey_app.settings import bounds, plausible
from survey_app.texts import Texts

from .amounts import Amounts
from .decision import Answer, Decision, Row, Span, Verdict
from .risk import ASKED_BILL_USD, Tolerance

__all__ = [
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
    "rests_on_lines",
    "risk_labels",
    "risk_question",
    "summary_lines",
    "verdict_lines",
]

_FAR = 30.0
"""Years beyond which no best age is named: hardly any tank has been seen that old."""


def summary_lines(say: Texts, decision: Decision, odds: Odds | None = None) -> list[str]:
    """The verdict as it is, and how often heaters like this one fail; or why there is no answer."""
    if decision.refused is not None:
        return [say(f"decision-refused-{decision.refused}")]
    answer = decision.rows[0].neutral
    # A wait is told by how often waiting is cheaper.
    share = 1 - answer.chance_cheaper if answer.verdict is Verdict.WAIT else answer.chance_cheaper
    values = {"share": say.number(100 * share)}
    if decision.offer_usd is None:
        lines = [say(f"decision-says-{answer.verdict}", **values)]
    else:
        lines = [say(f"decision-offer-{answer.verdict}", offer=say.usd(decision.offer_usd), **values)]
    if decision.chance is not None:
        chance = decision.chance
        mean, low, high = (_of_100(say, 100 * x) for x in (chance.mean, chance.low, chance.high))
        lines.append(say("decision-chance", mean=mean, low=low, high=high))
    if odds is not None:
        lines[-1] += " " + say("decision-average", average=_of_100(say, odds.average_of_100))
    if decision.if_insured is not None and decision.if_insured is not answer.verdict:
        lines.append(say("decision-if-insured", verdict=say(f"decision-verdict-{decision.if_insured}").lower()))
    if decision.household.place in (Place.UNKNOWN, Place.OTHER):
        lines.append(say("decision-place-unknown"))
    return lines


def verdict_lines(say: Texts, decision: Decision, answer: Answer) -> list[str]:
    """One answer: its verdict, what is gained on average and its range, the best age, what a failure costs."""
    offer = "offer-" if decision.offer_usd is not None else ""
    gain = answer.gain_usd
    lines = [say("decision-verdict-line", verdict=say(f"decision-verdict-{answer.verdict}"))]
    lines.append(say(f"decision-{offer}gain-{'now' if gain.middle > 0 else 'wait'}", usd=_about(say, abs(gain.middle))))
    lines.append(say(f"decision-{offer}gain-range", low=_about(say, gain.low), high=_about(say, gain.high)))
    lines.append(_age_line(say, answer.optimal_age))
    if answer.pays_from_age is not None:
        lines.append(
            say("decision-offer-age", age=say.number(answer.pays_from_age))
            if math.isfinite(answer.pays_from_age)
            else say("decision-offer-age-never")
        )
    return lines


def personal_lines(say: Texts, decision: Decision) -> list[str]:
    """The household's own answer as it is: how its tolerance weighs a failure, then the same as for anybody."""
    first, head = decision.rows[0], f"**{say('decision-personal-head')}**"
    if decision.tolerance is None or first.personal is None:
        return [head, say("decision-personal-none")]
    if decision.tolerance is Tolerance.NEUTRAL:
        verdict = say(f"decision-verdict-{first.personal.verdict}")
        return [head, say("decision-verdict-line", verdict=verdict), say("decision-personal-same")]
    how = say(
        "decision-personal-how",
        pay=_about(say, decision.tolerance.would_pay_usd),
        bill=say.usd(ASKED_BILL_USD),
        felt=_about(say, first.personal.failure_usd),
        failure=_about(say, first.neutral.failure_usd),
    )
    return [head, *verdict_lines(say, decision, first.personal), how]


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
    """Every row's figures by the dollars alone, one paragraph each."""
    return [
        f"**{say(f'decision-row-{choice.row}')}.** "
        + " ".join(verdict_lines(say, decision, choice.neutral))
        + " "
        + say("decision-failure", usd=_about(say, choice.neutral.failure_usd))
        for choice in decision.rows
    ]


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
            found.append(say("decision-rests-age", low=say.number(low), high=say.number(high)))
        else:
            found.append(say("decision-rests-age-sure", age=say.number(best)))
    found += [say("decision-rests-inputs"), say("decision-rests-rule")]
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


def amount_source(say: Texts, name: str, kind: HeaterKind = HeaterKind.UNKNOWN) -> str:
    """Where an amount's default comes from, and from what to what it is usual; a heat pump has a price of its own."""
    own = name == "planned_price_usd" and kind is HeaterKind.HEAT_PUMP_STORAGE
    text = say(_amount_key(name) + (".from-heat-pump" if own else ".from"))
    usual = plausible("planned_price_heat_pump_usd" if own else name)
    if usual is None:
        return text
    low, high = (say.number(x * amount_scale(name), 0 if amount_scale(name) == 100 or x >= 10 else 1) for x in usual)
    return text + " " + say("decision-amount-range", low=low, high=high)


def amount_scale(name: str) -> float:
    """What an amount is multiplied by for people: shares and rates are asked of a hundred."""
    return 100.0 if name.startswith(("factor_", "damage_chance_")) or name in ("leak_share", "discount_rate") else 1.0


def amount_limits(name: str) -> tuple[float, float]:
    """Least and largest value that may be typed, as people see it."""
    least, most = bounds(name)
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


def _of_100(say: Texts, count: float) -> str:
    return say.number(count) if count >= 0.5 else say("decision-less-than-one")


def _age_line(say: Texts, age: Span) -> str:
    if not math.isfinite(age.middle):
        return say("decision-age-never")
    if age.middle > _FAR:
        return say("decision-age-far", age=say.number(_FAR))
    if age.high > _FAR:
        return say("decision-age-open", age=say.number(age.middle), low=say.number(age.low))
    return say("decision-age", age=say.number(age.middle), low=say.number(age.low), high=say.number(age.high))
