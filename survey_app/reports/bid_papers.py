"""The bid request and the comparison of bids: content as plain data once, for paper, tables and a plot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from geo.addresses import readable
from survey_app.purchase.bids import Bid
from survey_app.purchase.compare import Comparison
from survey_app.purchase.offers import Bought, BuyerRow, OrderState
from survey_app.purchase.plan import Alone, EdgeCase
from survey_app.purchase.request import ELSEWHERE, BidRequest
from survey_app.purchase.scope import SCOPE
from survey_app.records import Community, HeaterKind
from survey_app.reports.as_pdf import pdf
from survey_app.texts import Texts

__all__ = [
    "alone_rows",
    "bought_rows",
    "buyer_rows",
    "chart_of_bids",
    "comparison_rows",
    "edge_lines",
    "group_name",
    "kinds_words",
    "request_pdf",
    "scope_rows",
    "state_rows",
]


_INKS = ["#1D4865", "#8A4B08", "#6A2150", "#2E6B4F", "#55606B"]
_DASHES = [[1, 0], [9, 5], [2, 3], [12, 4, 2, 4], [5, 2]]


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
                [
                    str(lot.kind),
                    f"{lot.gallons:g} gal" if lot.gallons else "no tank",
                    str(lot.venting),
                    str(lot.place),
                    str(lot.homes),
                ]
                for lot in request.lots
            ],
            "groups": [[group_name(name), str(n)] for name, n in request.groups],
            "scope": [
                [row.label, row.item.why, str(row.homes_certain), str(row.homes_unsure)]
                for row in request.scope
                if row.homes_certain or row.homes_unsure
            ],
            "asked": list(request.asked),
            "cautions_head": say("care-cautions-head"),
            "cautions": [say("care-cautions-short")],
        },
    )


def group_name(name: str) -> str:
    """A street as people write it; what is told together keeps its words."""
    return name if name == ELSEWHERE else readable(name)


def edge_lines(edges: Sequence[EdgeCase]) -> list[str]:
    """What changes when homes drop out, a sentence each; the cases in which nothing does are told together."""
    calm = [e for e in edges if not e.why_not and e.more_usd is not None and abs(e.more_usd) <= 0.005 and e.homes > 0]
    lines = [e.sentence for e in edges if e not in calm]
    if calm:
        lines.append(f"In {len(calm)} of {len(edges)} cases of one or two homes dropping out nobody's price changes.")
    return lines


def comparison_rows(found: Comparison) -> list[dict[str, Any]]:
    """A row for each bid and number of homes: dollars a home complete, of that gaps, in all."""
    return [
        {
            "homes": n,
            "contractor": cell.contractor,
            "a home, complete, USD": None if cell.home_usd is None else round(cell.home_usd, 2),
            "of that assumed for what it leaves out, USD": round(cell.gaps_home_usd, 2),
            "in all, USD": None if cell.total_usd is None else round(cell.total_usd),
            "why not": cell.why_not,
        }
        for n, cells in found.table.items()
        for cell in cells
    ]


def kinds_words(kinds: Sequence[HeaterKind]) -> str:
    """The kinds of heater that a price is for; homes that do not know theirs count as gas and are not named."""
    return " and ".join(str(kind) for kind in kinds if kind is not HeaterKind.UNKNOWN)


def scope_rows(bids: list[Bid]) -> list[dict[str, str]]:
    """Item by item, how each bid treats it."""
    rows = [{"item": "the price is for"} | {bid.contractor: kinds_words(bid.kinds) for bid in bids}]
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
                "axis": {"format": ",.0f"},
                "scale": {"zero": False},
            },
            # Below the plot, a name a line: beside it the names leave a phone no room for the lines.
            "color": {
                "field": "contractor",
                "type": "nominal",
                "scale": {"range": _INKS},
                "legend": {"orient": "bottom", "columns": 1, "title": None, "symbolSize": 900, "labelLimit": 300},
            },
            "strokeDash": {"field": "contractor", "type": "nominal", "scale": {"range": _DASHES}},
        },
        "height": 380 + 28 * len(found.bids),  # the names below the plot are within it
    }


def state_rows(states: Sequence[OrderState]) -> list[dict[str, Any]]:
    """A row for each order: homes planned, firm yes, maybe and no, and whether it goes ahead."""
    return [
        {
            "round": one.round_name,
            "begins": one.begins.isoformat(),
            "contractor": one.contractor,
            "homes planned": one.homes,
            "price, without own extras, USD": round(one.home_usd, 2),
            "firm yes": one.state.yes,
            "maybe": one.state.maybe,
            "no": one.state.no,
            "no reply yet": one.state.open,
            "goes ahead": "yes" if one.state.goes_ahead else f"{one.state.lacking} more yes",
        }
        for one in states
    ]


def buyer_rows(rows: Sequence[BuyerRow]) -> list[dict[str, Any]]:
    """A row for each home of the rounds, by round, bid, crew-day and street."""
    return [
        {
            "address": readable(row.address),
            "round": row.round_name,
            "crew-day": row.crew_day,
            "street": readable(row.street),
            "contractor": row.contractor,
            "says": row.says,
            "price, USD": round(row.price_usd, 2),
            "saves, USD": round(row.saving_usd, 2),
        }
        for row in rows
    ]


def alone_rows(alone: Sequence[Alone], address: Mapping[str, str]) -> list[dict[str, Any]]:
    """A row for each home in no round, with the reason; those whose address may not be shown are left out."""
    return [
        {"address": readable(address[a.home_id]), "street": readable(a.group), "why": str(a.reason)}
        for a in alone
        if a.home_id in address
    ]


def bought_rows(done: Sequence[Bought]) -> list[dict[str, Any]]:
    """A row for each heater put on file."""
    return [
        {
            "address": readable(b.address),
            "installed": b.on.isoformat(),
            "kind": str(b.kind),
            "gallons": b.tank_gallons,
            "in warranty until": b.warranty_until.isoformat() if b.warranty_until else "",
            "contractor": b.contractor,
            "the old one": "had failed" if b.had_failed else "replaced before failing",
        }
        for b in done
    ]
