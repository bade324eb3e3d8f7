"""The standing of homes as plain rows, ready for any format."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from survey_app.records import Dated
from survey_app.standing import Standing

__all__ = ["STANDING_COLUMNS", "chart_of_classes", "standing_rows"]

STANDING_COLUMNS: dict[str, str] = {
    "home_id": "key of the home in this survey",
    "parcel_id": "the county's parcel number",
    "address": "address as the parcel file has it, in standard form",
    "street": "street without the number",
    "phase": "building phase",
    "built_year": "year the house was finished",
    "answered": "whether anyone answered for this home",
    "standing": "in warranty, past warranty, past twice warranty, unknown, no answer",
    "standing_settled": "no where the window of the date reaches over an edge between classes",
    "kind": "what heats the water",
    "tank_gallons": "size of the tank, US gallons",
    "installed": "middle of the window of the installation date (ISO 8601)",
    "installed_plus_minus_months": "half the width of that window",
    "installed_evidence": "what the date rests on",
    "age_years": "age today",
    "age_years_low": "age at the late end of the window",
    "age_years_high": "age at the early end of the window",
    "warranty_years": "warranty term",
    "warranty_assumed": "yes where the term is the community's default",
    "warranty_end": "day the warranty ends or ended (ISO 8601)",
    "warranty_multiple": "age divided by warranty term",
    "last_maintenance": "last known flush, anode work, relief valve test or part",
    "flush": "state of the flush",
    "anode": "state of the anode",
    "relief_valve": "state of the relief valve test",
    "place": "where the heater stands",
    "reported": "what was reported and is not settled, the most pressing first",
    "reported_on": "the day each was told or found (ISO 8601), in the same order",
    "reported_by": "people of the home or crew, in the same order",
}
"""Every column of the standing table with what it holds."""


def standing_rows(found: Iterable[Standing]) -> list[dict[str, Any]]:
    """One plain row a home; None where nothing is known.

    Returns
    -------
    list of dict
        With the keys of :data:`STANDING_COLUMNS`, in their order.
    """
    return [_row(s) for s in found]


def chart_of_classes(classes: Mapping[str, int | None]) -> dict[str, Any]:
    """Homes by class as a Vega-Lite specification: a bar each with its number; a class that is not shown has none."""
    y = {"field": "standing", "type": "nominal", "sort": None, "title": None, "axis": {"labelLimit": 200}}
    x = {"field": "homes", "type": "quantitative", "title": "homes"}
    return {
        "data": {"values": [{"standing": k, "homes": n} for k, n in classes.items() if n is not None]},
        "height": {"step": 34},
        "encoding": {"y": y, "x": x},
        "layer": [
            {"mark": {"type": "bar", "color": "#1D4865"}},
            {
                "mark": {"type": "text", "align": "left", "dx": 5},
                "encoding": {"text": {"field": "homes", "type": "quantitative"}},
            },
        ],
    }


def _row(s: Standing) -> dict[str, Any]:
    heater = s.heater
    installed = heater.installed if heater else None
    states = {care.what: str(care.state) for care in s.cares}
    return {
        "home_id": s.home.home_id,
        "parcel_id": s.home.parcel_id,
        "address": s.home.address,
        "street": s.home.street,
        "phase": s.home.phase_id,
        "built_year": s.home.built_year,
        "answered": _yes(s.answered),
        "standing": s.map_class,
        "standing_settled": _yes(s.class_settled) if s.heater else None,
        "kind": str(heater.kind) if heater else None,
        "tank_gallons": heater.tank_gallons if heater else None,
        "installed": _day(installed),
        "installed_plus_minus_months": round(installed.plus_minus_months, 1) if installed else None,
        "installed_evidence": str(installed.evidence) if installed and installed.evidence else None,
        "age_years": round(s.age_years[1], 2) if s.age_years else None,
        "age_years_low": round(s.age_years[0], 2) if s.age_years else None,
        "age_years_high": round(s.age_years[2], 2) if s.age_years else None,
        "warranty_years": round(s.warranty_years, 2) if s.warranty_years else None,
        "warranty_assumed": _yes(s.warranty_assumed) if heater else None,
        "warranty_end": _day(s.warranty_end),
        "warranty_multiple": round(s.warranty_multiple[1], 2) if s.warranty_multiple else None,
        "last_maintenance": _day(s.last_maintenance),
        "flush": states.get("flush"),
        "anode": states.get("anode"),
        "relief_valve": states.get("relief valve"),
        "place": str(heater.place) if heater else None,
        "reported": "; ".join(r.what for r in s.reported) or None,
        "reported_on": "; ".join(r.on.isoformat() if r.on else "?" for r in s.reported) or None,
        "reported_by": "; ".join("crew" if r.by_crew else "people" for r in s.reported) or None,
    }


def _day(window: Dated | None) -> str | None:
    return window.best.isoformat() if window else None


def _yes(value: bool) -> str:
    return "yes" if value else "no"
