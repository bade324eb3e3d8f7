"""Ten years under each policy, as rows and as a plot: plain data, no home named."""

from __future__ import annotations

from typing import Any

from survey_app.policies import PolicyStudy, Span

__all__ = ["chart_of_policies", "policy_rows"]


def policy_rows(found: PolicyStudy) -> list[dict[str, str]]:
    """A row a policy: means with their 90% intervals."""
    return [
        {
            "policy": str(o.way),
            "cost, USD": _span(o.cost_usd),
            "against waiting, USD": _span(o.more_than_waiting_usd),
            "heaters that fail": _span(o.failures),
            "with water damage": _span(o.floods),
            "replaced in time": _span(o.replaced_ahead),
            "mean age at the end": f"{o.age_at_end_years:.1f} years",
        }
        for o in found.outcomes
    ]


def _span(value: Span) -> str:
    return f"{value.mean:,.0f} ({value.low:,.0f} to {value.high:,.0f})"


def chart_of_policies(found: PolicyStudy) -> dict[str, Any]:
    """A dot and a bar a policy, named on the axis: no color carries anything."""
    values = [
        {"policy": str(o.way), "mean": o.cost_usd.mean, "low": o.cost_usd.low, "high": o.cost_usd.high}
        for o in found.outcomes
    ]
    axis = {"field": "policy", "type": "nominal", "sort": None, "title": None, "axis": {"labelLimit": 360}}
    dollars = f"dollars in {found.years} years, all {found.homes} homes"
    return {
        "data": {"values": values},
        "layer": [
            {
                "mark": {"type": "rule", "strokeWidth": 6, "color": "#79B4AE"},
                "encoding": {
                    "y": axis,
                    "x": {"field": "low", "type": "quantitative", "title": dollars, "scale": {"zero": True}},
                    "x2": {"field": "high"},
                },
            },
            {
                "mark": {"type": "point", "shape": "diamond", "filled": True, "size": 140, "color": "#1D4865"},
                "encoding": {"y": axis, "x": {"field": "mean", "type": "quantitative"}},
            },
        ],
        "height": 240,
    }
