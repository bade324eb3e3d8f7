"""The bid request and the comparison of bids: content as plain data once, for paper, tables and a plot."""

from __future__ import annotations

from typing import Any

from survey_app.advice.cautions import cautions
from survey_app.purchase.bids import Bid
from survey_app.purchase.compare import Comparison
from survey_app.purchase.request import BidRequest
from survey_app.purchase.scope import SCOPE
from survey_app.records import Community
from survey_app.reports.as_pdf import pdf
from survey_app.texts import Texts

__all__ = ["chart_of_bids", "comparison_rows", "request_pdf", "scope_rows"]


def request_pdf(request: BidRequest, community: Community, say: Texts) -> bytes:
    """The neutral request that goes to every contractor alike: counts and groups, no home."""
    return pdf(
        "bid_request",
        {
            "lang": say.language,
            "community": community.name,
            "synthetic": say("paper-synthetic") if community.synthetic else "",
            "sentences": list(request.sentences),
            "lots": [
                [str(lot.kind), f"{lot.gallons:g} gal", lot.venting, str(lot.place), str(lot.homes)]
                for lot in request.lots
            ],
            "groups": [[name, str(n)] for name, n in request.groups],
            "scope": [
                [row.item.label, row.item.why, str(row.homes_certain), str(row.homes_unsure)]
                for row in request.scope
                if row.homes_certain or row.homes_unsure
            ],
            "asked": list(request.asked),
            "cautions_head": say("care-cautions-head"),
            "cautions": list(cautions(say)),
        },
    )


def comparison_rows(found: Comparison) -> list[dict[str, Any]]:
    """A row for each bid and number of homes: dollars a home complete, of that gaps, in all."""
    return [
        {
            "homes": n,
            "contractor": cell.contractor,
            "a home, complete, USD": None if cell.home_usd is None else round(cell.home_usd, 2),
            "of that gaps filled, USD": round(cell.gaps_home_usd, 2),
            "in all, USD": None if cell.total_usd is None else round(cell.total_usd),
            "why not": cell.why_not,
        }
        for n, cells in found.table.items()
        for cell in cells
    ]


def scope_rows(bids: list[Bid]) -> list[dict[str, str]]:
    """Item by item, how each bid treats it."""
    rows = []
    for item in SCOPE:
        row = {"item": item.label}
        for bid in bids:
            offer = bid.offer(item.key)
            extra = f" {offer.extra_usd:,.0f} USD" if offer.extra_usd is not None else ""
            row[bid.contractor] = f"{offer.offered}{extra}"
        rows.append(row)
    return rows


def chart_of_bids(found: Comparison, up_to: int) -> dict[str, Any]:
    """Dollars a home complete by number of homes: a line each, told apart by dashes as well as color."""
    points = [
        {"homes": n, "usd": round(one.bid.home_usd(n) + one.mean_own_usd, 2), "contractor": one.bid.contractor}
        for one in found.bids
        if not one.why_not
        for n in range(1, up_to + 1)
        if not one.bid.why_not(n)
    ]
    return {
        "data": {"values": points},
        "mark": {"type": "line", "interpolate": "step-after", "strokeWidth": 2.5},
        "encoding": {
            "x": {"field": "homes", "type": "quantitative", "title": "homes that buy together"},
            "y": {
                "field": "usd",
                "type": "quantitative",
                "title": "dollars a home, complete",
                "scale": {"zero": False},
            },
            "color": {"field": "contractor", "type": "nominal", "scale": {"range": ["#1D4865", "#8A4B08", "#6A2150"]}},
            "strokeDash": {"field": "contractor", "type": "nominal"},
        },
        "height": 320,
    }
