"""Ten years under each policy, as sentences, rows and a plot: plain data, no home named."""

from __future__ import annotations

import math
from typing import Any

from survey_app.access import few
from survey_app.economics import Span
from survey_app.policies import PolicyName, PolicyOutcome, TenYears
from survey_app.prices import SizeClass
from survey_app.records import HeaterKind

__all__ = ["MEASURES", "chart_of_policies", "chart_values", "policy_rows", "policy_sentences", "what_it_rests_on"]

MEASURES = {
    "total": "What it costs, dollars",
    "saved": "Cheaper than waiting by, dollars",
    "bills": "Bills in the years, dollars",
    "failed": "Heaters that fail",
    "leaked": "Failures that leak",
    "flooded": "Leaks that do damage",
    "replaced": "Heaters replaced in all",
}
"""What may be plotted, with the words for it."""
_INK, _BAND = "#1D4865", "#79B4AE"
_DOLLARS = ("total", "saved", "bills")


def policy_rows(found: TenYears) -> list[dict[str, str]]:
    """A row a policy: means with their 90% intervals."""
    return [
        {
            "policy": str(p.name),
            "cost, USD": _span(p.figures.total, dollars=True),
            "against waiting, USD": "–"
            if p.name is PolicyName.WAIT
            else _span(p.against_waiting.total, dollars=True, sign=True),
            "bills, USD": _span(p.figures.bills, dollars=True),
            "heaters replaced": _span(p.figures.replaced),
            "heaters that fail": _span(p.figures.failed),
            "leaks": _span(p.figures.leaked),
            "with damage": _span(p.figures.flooded),
        }
        for p in found.policies
    ]


def policy_sentences(found: TenYears) -> tuple[str, ...]:
    """What each policy comes to, a few plain sentences each, waiting first."""
    said = []
    for p in found.policies:
        f, d = p.figures, p.against_waiting
        if p.name is PolicyName.WAIT:
            said.append(
                f"If every home waits until its heater fails, {_about(f.failed)} heaters fail in {found.years} years "
                f"({_range(f.failed)}), {_about(f.leaked)} of them leak and {_about(f.flooded)} leaks do damage. All "
                f"homes together pay {_money(f.bills.middle)} ({_money(f.bills.low)} to {_money(f.bills.high)}); with "
                f"what their heaters have then used up, it costs {_money(f.total.middle)}."
            )
            continue
        said.append(f"{_HEADS[p.name].capitalize()}: {_difference(p)} {_fewer(d.failed, d.flooded)}")
    return tuple(said)


_HEADS = {
    PolicyName.TWICE_WARRANTY: "replacing every heater at twice its warranty",
    PolicyName.BEST_AGE: "replacing every heater at the best age for where it stands",
    PolicyName.ALARMS: "an alarm and an automatic shut-off at every heater, and else waiting",
    PolicyName.ROUNDS: "a group round every year, for homes it pays for",
}


def _difference(p: PolicyOutcome) -> str:
    change = p.against_waiting.total
    chance = 100 * (p.cheaper_chance if change.middle < 0 else 1 - p.cheaper_chance)
    way = "less" if change.middle < 0 else "more"
    inside = sorted((abs(change.low), abs(change.high)))
    if change.low < 0 < change.high:
        return (
            f"about {_money(abs(change.middle))} {way} than waiting, but that is not sure: from {_money(-change.low)} "
            f"less to {_money(change.high)} more ({way} in {chance:.0f} of 100 cases)."
        )
    return f"{_money(abs(change.middle))} {way} than waiting ({_money(inside[0])} to {_money(inside[1])} {way})."


def _fewer(failed: Span, flooded: Span) -> str:
    if abs(failed.middle) < 0.5 and abs(flooded.middle) < 0.5:
        return "As many heaters fail, and as many leaks do damage."
    if abs(failed.middle) < 0.5:
        return f"As many heaters fail, but {_count(flooded, 'leaks do damage')}."
    return f"{_count(failed, 'heaters fail')}, and {_count(flooded, 'leaks do damage')}."


def _count(change: Span, what: str) -> str:
    word = "fewer" if change.middle <= 0 else "more"
    low, high = sorted((abs(change.low), abs(change.high)))
    if change.low < 0 < change.high:
        low = 0.0
    return f"{abs(change.middle):,.0f} {word} {what} ({low:,.0f} to {high:,.0f})"


def what_it_rests_on(found: TenYears, *, minimum: int = 1) -> tuple[str, ...]:
    """How the figures came about, and what is not in them; counts of 1 to ``minimum - 1`` homes are not told."""
    a = found.amounts
    best = next(p.best_age_years for p in found.policies if p.name is PolicyName.BEST_AGE)
    ages = "No heater has a best age below its failure."
    if best is not None and math.isfinite(best[0]):
        until = f"{best[1]:.0f} years" if math.isfinite(best[1]) else "never, where a failure costs little more"
        ages = f"The best age is from {best[0]:.0f} years, where a leak does most damage, to {until}."
    return (
        *((f"{found.refusal} These figures rest on published lives alone.",) if found.refusal else ()),
        f"{found.homes} homes lived through {found.years} years in the computer, {found.draws} times under each "
        "policy. Each time all policies met the same luck, so the difference between two is surer than the cost of "
        "either.",
        "A range is a 90% interval: in 90 of 100 cases the figure lies in it. Chance and what is not known about "
        "lives are both in it; how sure the amounts are is not.",
        f"A dollar a year later counts {100 * a.discount_rate:g}% less. The cost has two parts: the bills, and what "
        "the heaters then in service have already used up of their lives. Without the second part a policy that "
        "leaves old heaters behind would look cheaper than it is.",
        f"A planned replacement counts by the price list, in dollars: {_planned(found)}. Haste is "
        f"{a.emergency_premium_usd:,.0f} more, a group round {100 * found.discount:.0f}% less. Damage counts in full, "
        "whoever pays for it.",
        *_other_kinds(found, minimum),
        f"Of 100 homes, {100 * found.followed_by:.0f} do what the policy says; the others wait. Heaters past the age "
        "of a policy when it begins are replaced in the first year; rounds are held in the middle of each year.",
        ages,
        "Homes that did not answer are taken to be like answers of their phase. Waiting means waiting: some owners "
        "will replace early all the same, so fewer heaters fail than it says here, as the forecast shows.",
        "Not counted: energy, what a newer code asks for, time without hot water, worry. What alarms and shut-offs "
        "prevent is an assumption with little evidence. No pan is counted as added: none can be put under a tank that "
        "stands. It belongs to the next heater, and the planned price here holds none. Pans that are there count.",
    )


def _planned(found: TenYears) -> str:
    """The price of each kind of tank in both its sizes."""
    told = []
    for kind in (HeaterKind.GAS_STORAGE, HeaterKind.ELECTRIC_STORAGE, HeaterKind.HEAT_PUMP_STORAGE):
        usual, large = (found.planned_usd.get((kind, s), found.amounts.planned_price_usd) for s in SizeClass)
        told.append(f"{kind.removesuffix(' storage')} {usual:,.0f} (over 55 gallons {large:,.0f})")
    return ", ".join(told)


def _other_kinds(found: TenYears, minimum: int) -> tuple[str, ...]:
    """What is assumed of heat pumps and tankless units, where there are any."""

    def about(homes: float) -> str:
        told = few(round(homes), minimum)
        return f"About {told}" if told.isdecimal() else told.capitalize()

    said = []
    if found.heat_pumps >= 0.5:
        said.append(
            f"{about(found.heat_pumps)} homes are counted with a heat pump, at its own price and else like any tank. "
            "A group round takes as much off, which needs bids for heat pumps."
        )
    if found.without_tank >= 0.5:
        said.append(
            f"{about(found.without_tank)} homes are counted as tankless. They are in no figure here: no tank to "
            "leak, no known law of life, so what their replacements cost comes on top, under every policy alike."
        )
    return tuple(said)


def chart_of_policies(found: TenYears, measure: str = "total") -> dict[str, Any]:
    """One measure as a Vega-Lite specification: a bar for the 90% interval, a diamond and the figure for the mean.

    Every policy is named on the axis and every mean is written out: nothing is told by color.

    Parameters
    ----------
    found
        From :func:`survey_app.policies.ten_years`.
    measure
        One of :data:`MEASURES`.
    """
    values = chart_values(found, measure)
    most = max(float(v["high"]) for v in values) * 1.05 or 1.0
    least = min(0.0, *(float(v["low"]) for v in values))
    x = {"type": "quantitative", "scale": {"domain": [least, most]}, "axis": {"format": "~s", "tickCount": 5}}
    y = {"field": "policy", "type": "nominal", "sort": None, "axis": None}
    return {
        "data": {"values": values},
        "height": {"step": 58},
        "layer": [
            {
                "mark": {"type": "bar", "height": 14, "color": _BAND, "stroke": _INK, "yOffset": 10},
                "encoding": {"y": y, "x": {**x, "field": "low", "title": MEASURES[measure]}, "x2": {"field": "high"}},
            },
            {
                "mark": {
                    "type": "point",
                    "shape": "diamond",
                    "filled": True,
                    "size": 130,
                    "color": _INK,
                    "opacity": 1,
                    "yOffset": 10,
                },
                "encoding": {"y": y, "x": {**x, "field": "mean"}},
            },
            {
                # Above its bar, from the left edge on, so that it is read on a phone as well.
                "mark": {"type": "text", "align": "left", "dy": -12, "fontSize": 14, "color": "#1F2A33"},
                "encoding": {"y": y, "x": {"value": 2}, "text": {"field": "words"}},
            },
        ],
    }


def chart_values(found: TenYears, measure: str = "total") -> list[dict[str, Any]]:
    """What is drawn for each policy: its name, mean, low, high, and the words beside it."""
    values = []
    for p in found.policies:
        span: Span = _saved(p) if measure == "saved" else getattr(p.figures, measure)
        figure = _money(span.middle) if measure in _DOLLARS else f"{span.middle:,.0f}"
        values.append(
            {
                "policy": str(p.name),
                "mean": round(span.middle),
                "low": round(span.low),
                "high": round(span.high),
                "words": f"{str(p.name).capitalize()}: {figure}",
            }
        )
    return values


def _saved(p: PolicyOutcome) -> Span:
    """What a policy saves against waiting: the difference with its sign turned."""
    d = p.against_waiting.total
    return Span(0.0 - d.middle, 0.0 - d.high, 0.0 - d.low)


def _about(span: Span) -> str:
    return f"about {span.middle:,.0f}"


def _range(span: Span) -> str:
    return f"{span.low:,.0f} to {span.high:,.0f}"


def _span(value: Span, *, dollars: bool = False, sign: bool = False) -> str:
    if dollars:
        mark = "+" if sign else ""
        mean, low, high = (
            f"{round(v, -3):{mark},.0f}".replace("-", "−") for v in (value.middle, value.low, value.high)
        )
        return f"{mean} ({low} to {high})"
    return f"{value.middle:,.0f} ({_range(value)})"


def _money(usd: float) -> str:
    """Dollars no finer than they are known."""
    if usd < 0:
        return "−" + _money(-usd)
    if usd >= 999_500:
        return f"${usd / 1e6:,.2f} million"
    return f"${round(usd, -3):,.0f}" if abs(usd) >= 10_000 else f"${round(usd, -2):,.0f}"
