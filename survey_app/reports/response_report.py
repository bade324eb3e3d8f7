"""Who answered, as sentences, rows and charts: plain data for the volunteer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from survey_app.response import Disposition, Estimate, Rates

__all__ = ["answers_chart", "estimate_sentence", "group_rows", "percent", "rate_rows", "rate_sentence"]

_INK = "#1D4865"
_WORDS = {
    "rr1": "RR1: complete answers, of all homes that are or may be lived in",
    "rr2": "RR2: complete or partial answers, of the same",
    "rr3": "RR3: complete answers, of homes known or estimated to be lived in",
    "rr4": "RR4: complete or partial answers, of the same",
    "rr5": "RR5: complete answers, of homes known to be lived in",
    "rr6": "RR6: complete or partial answers, of the same",
    "coop1": "COOP1: complete answers, of homes that were reached",
    "ref1": "REF1: refusals, of all homes that are or may be lived in",
    "con1": "CON1: homes that were reached, of the same",
}


def percent(value: float | None) -> str:
    """A share in percent; a dash where there is none."""
    return "–" if value is None else f"{100 * value:.1f}%"


def rate_sentence(found: Rates) -> str:
    """The rates that are told first."""
    done = found.counts[Disposition.COMPLETE] + found.counts[Disposition.PARTIAL]
    return (
        f"{done:,} of {sum(found.counts.values()):,} homes have told about their heater, and "
        f"{found.counts[Disposition.REFUSAL]:,} have said no. Response rate RR2 {percent(found.rr2)}; complete answers "
        f"alone RR1 {percent(found.rr1)}. By the AAPOR Standard Definitions; of the homes nobody has reached, "
        f"{percent(found.e)} are taken as lived in."
    )


def rate_rows(found: Rates) -> list[dict[str, str]]:
    """Every rate with what it means."""
    return [{"rate": words, "value": percent(getattr(found, name))} for name, words in _WORDS.items()]


def group_rows(found: Iterable[Any], what: str) -> list[dict[str, Any]]:
    """A row a phase or street: homes, answers, rates, and answers that are still missing where that is known."""
    rows = []
    for g in found:
        row = {
            what: g.group,
            "homes": g.homes,
            "answered": g.answered,
            "RR1": percent(g.rates.rr1),
            "RR2": percent(g.rates.rr2),
            "refused": g.rates.counts[Disposition.REFUSAL],
        }
        if g.needed is not None:
            row |= {"heater known": g.told, "needed for ±5 points": g.needed, "still missing": g.missing}
        rows.append(row)
    return rows


def estimate_sentence(found: Estimate) -> str:
    """How many of all homes have a heater past twice its warranty."""
    said = (
        f"**About {found.total:.0f} of {found.homes} homes ({percent(found.share)}, between {percent(found.low)} and "
        f"{percent(found.high)}) have a heater past twice its warranty.** Weighed by phase; in 95 of 100 cases it lies "
        "between, if those who answered are like their phase."
    )
    if found.left_out:
        said += " Not in it, for want of answers: " + ", ".join(found.left_out) + "."
    return said


def answers_chart(days: Sequence[tuple[str, date, float]]) -> dict[str, Any]:
    """The share of homes that had answered by each day, a small drawing a phase, as a Vega-Lite specification.

    Each phase has a drawing of its own under its name, so that nothing is told by color.
    """
    values = [{"phase": phase, "day": day.isoformat(), "share": round(share, 4)} for phase, day, share in days]
    return {
        "data": {"values": values},
        "facet": {"field": "phase", "type": "nominal", "title": None},
        "columns": 1,  # a phone shows no more
        "spec": {
            "width": 270,
            "height": 90,
            "mark": {"type": "line", "interpolate": "step-after", "color": _INK, "strokeWidth": 2.5},
            "encoding": {
                "x": {"field": "day", "type": "temporal", "title": None},
                "y": {
                    "field": "share",
                    "type": "quantitative",
                    "title": "answered",
                    "axis": {"format": ".0%"},
                    "scale": {"domain": [0, 1]},
                },
            },
        },
    }
