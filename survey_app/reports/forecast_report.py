"""The forecast as plain rows and chart data, and as a map of groups of homes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from geo.blocks import block_outlines, join_small_streets
from geo.maps import MapPage, draw_blocks, shades_ramp
from survey_app.forecast import BlockExpected, Forecast, LookBack, blocks_expected
from survey_app.records import Community, Home, Parcel
from survey_app.reports.standing_map import Street, homes_frame, streets_frame
from survey_app.settings import Settings

__all__ = [
    "calibration_rows",
    "chart_of_calibration",
    "fan_chart",
    "fan_rows",
    "losses_map",
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


def losses_map(
    found: Forecast,
    homes: Sequence[Home],
    parcels: Sequence[Parcel],
    streets: Sequence[Street],
    community: Community,
    changed_at: datetime,
    settings: Settings,
) -> str:
    """Expected losses in the first horizon by groups of streets, per 100 homes; never a single home.

    Each group holds at least the set number of homes, answered or not.
    """
    frame = homes_frame([h.parcel_id for h in homes], [h.home_id for h in homes], parcels)
    epsg = community.local_epsg or 3857
    names: list[str] = []
    if len(frame):
        middles = frame.geometry.representative_point().to_crs(epsg)
        minimum = 2 * settings.public_minimum_answers
        names = join_small_streets(
            [h.street for h in homes], [True] * len(homes), middles.x, middles.y, minimum=minimum
        )
    block_of = {h.home_id: name for h, name in zip(homes, names, strict=True)}
    blocks = {b.block: b for b in blocks_expected(found, block_of, minimum=settings.public_minimum_answers)}
    areas = block_outlines(frame, names, local_epsg=epsg).loc[lambda a: a["block"].isin(blocks)].reset_index(drop=True)
    shown = [blocks[name] for name in areas["block"]]
    return draw_blocks(
        areas,
        class_of=[_RAMP.class_of(100 * b.expected / b.homes).key for b in shown],
        classes=_RAMP.classes,
        fields=[
            ("Streets", [str(b.block) for b in shown]),
            ("Homes", [str(b.homes) for b in shown]),
            (f"Expected to be lost within {_years(found)}", [_about(b) for b in shown]),
        ],
        page=MapPage(
            title=f"Expected losses in {community.name}",
            intro=f"How many of 100 heaters are expected to be lost within {_years(found)}, by groups of streets.",
            notes=(
                "The numbers are for planning. Which home it will be is mostly chance, so no single home is shown.",
            ),
            synthetic=community.synthetic,
            data_date=f"{changed_at:%d %B %Y}",
        ),
        streets=streets_frame(streets),
        layer_label=f"Lost within {_years(found)}, of 100 homes",
    )


_RAMP = shades_ramp((3, 6, 9, 12), ("under 3", "3 to 6", "6 to 9", "9 to 12", "12 and more"))


def _years(found: Forecast) -> str:
    years = found.horizons[0].years
    return "a year" if years == 1 else f"{years:g} years"


def _about(block: BlockExpected) -> str:
    return f"about {block.expected:.1f} of {block.homes} homes"


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
