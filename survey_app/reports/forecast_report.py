"""The forecast as plain rows and chart data."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from survey_app.forecast import Forecast, LookBack

__all__ = [
    "calibration_rows",
    "chart_of_calibration",
    "fan_chart",
    "fan_rows",
    "phase_rows",
    "weighing_rows",
    "without_homes",
]

_INK = "#1D4865"


def without_homes(found: Forecast, minimum: int) -> Forecast:
    """The forecast without anything about a single home or a phase of fewer homes, fit to be shown to neighbors."""
    return replace(
        found,
        horizons=tuple(
            replace(h, by_phase=tuple(p for p in h.by_phase if p.everyone.homes >= minimum)) for h in found.horizons
        ),
        chances=(),
        expected_by_home={},
        diagnostics=replace(found.diagnostics, set_aside=()),
    )


def fan_rows(found: Forecast) -> list[dict[str, Any]]:
    """Ten years, a row each: losses in that year and up to its end, with 90% intervals."""
    return [
        {
            "year": f"{found.as_of.year + f.year - 1} to {found.as_of.year + f.year}",
            "years ahead": f.year,
            "in this year": round(f.in_year.mean, 1),
            "in this year, low": f.in_year.low,
            "in this year, high": f.in_year.high,
            "up to its end": round(f.so_far.mean, 1),
            "low": f.so_far.low,
            "high": f.so_far.high,
        }
        for f in found.fan
    ]


def fan_chart(found: Forecast) -> dict[str, Any]:
    """The fan as a Vega-Lite specification: the expected number as a line, its 90% interval as a band."""
    rows: list[dict[str, float]] = [{"years": 0, "mean": 0, "low": 0, "high": 0}]
    rows += [
        {"years": f.year, "mean": round(f.so_far.mean, 1), "low": f.so_far.low, "high": f.so_far.high}
        for f in found.fan
    ]
    x = {"field": "years", "type": "quantitative", "title": "years from now", "axis": {"tickMinStep": 1}}
    band = {
        "mark": {"type": "area", "color": "#79B4AE", "opacity": 0.55},
        "encoding": {
            "x": x,
            "y": {"field": "low", "type": "quantitative", "title": "heaters lost, in all"},
            "y2": {"field": "high"},
        },
    }
    line = {
        "mark": {"type": "line", "color": _INK, "strokeWidth": 3, "point": {"color": _INK, "size": 45}},
        "encoding": {
            "x": x,
            "y": {"field": "mean", "type": "quantitative"},
            "tooltip": [{"field": name, "type": "quantitative"} for name in ("years", "mean", "low", "high")],
        },
    }
    return {"data": {"values": rows}, "height": 320, "layer": [band, line]}


def phase_rows(found: Forecast, years: float, *, minimum: int) -> list[dict[str, Any]]:
    """A row a phase: homes and expected losses with the 90% interval; small phases are left out."""
    return [
        {
            "phase": p.phase or "no phase",
            "homes": p.everyone.homes,
            "expected losses": round(p.everyone.mean, 1),
            "low": p.everyone.low,
            "high": p.everyone.high,
            "homes that did not answer": p.silent_way,
        }
        for p in found.horizon(years).by_phase
        if p.everyone.homes >= minimum
    ]


def weighing_rows(found: Forecast) -> list[dict[str, Any]]:
    """Published figures and local answers side by side, a row a quantity."""
    return [
        {
            "what": w.name,
            "before the answers": f"{w.prior:.2f} ({w.prior_low:.2f} to {w.prior_high:.2f})",
            "with the answers": f"{w.now:.2f} ({w.now_low:.2f} to {w.now_high:.2f})",
            "weight of the answers": f"{w.local_weight:.0%}",
            "effect": "" if w.distinguishable is None else "seen here" if w.distinguishable else "not told from none",
            "rests on": w.source,
        }
        for w in found.weighing
    ]


def calibration_rows(found: LookBack) -> list[dict[str, Any]]:
    """The earlier forecast against what happened, a row a range of chances."""
    return [
        {
            "chance": f"{b.chance_from:.0%} to {b.chance_to:.0%}",
            "homes": b.homes,
            "expected": round(b.expected, 1),
            "low": b.low,
            "high": b.high,
            "happened": "not shown" if b.happened is None else str(b.happened),
        }
        for b in found.bins
        if b.homes
    ]


def chart_of_calibration(rows: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """Expected against happened as a Vega-Lite specification: interval as a bar, what happened as a diamond."""
    x = {"field": "chance", "type": "nominal", "sort": None, "title": "chance that was forecast"}
    y = {"field": "low", "type": "quantitative", "title": "heaters lost"}
    return {
        "data": {"values": [{**r, "happened": _number(r["happened"])} for r in rows]},
        "height": 260,
        "layer": [
            {
                "mark": {"type": "rule", "strokeWidth": 8, "color": "#79B4AE"},
                "encoding": {"x": x, "y": y, "y2": {"field": "high"}},
            },
            {
                "mark": {"type": "point", "shape": "diamond", "filled": True, "size": 140, "color": "#6A2150"},
                "encoding": {"x": x, "y": {"field": "happened", "type": "quantitative"}},
            },
        ],
    }


def _number(told: str) -> int | None:
    return int(told) if told.isdecimal() else None
