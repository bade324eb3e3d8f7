"""The bid request: what is asked of every bidder alike, and nothing that names a home."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from survey_app.purchase.scope import SCOPE, HomeNeed, ScopeItem
from survey_app.records import HeaterKind, Place, Venting

__all__ = ["ELSEWHERE", "BidRequest", "Lot", "RequestedItem", "bid_request"]

ELSEWHERE = "elsewhere in the community"
SMALLEST_GROUP = 3
"""Homes a group needs to be named: one or two on a street could be told apart (common practice, no source)."""
ASKED = (
    "Your price a home in steps by the number of homes, and whether a step's price holds for all homes "
    "(all units) or only for those from that number on (incremental).",
    "For which kinds of heater that price is (gas and electric tanks, heat pump tanks, tankless units). A price for "
    "another kind is a bid of its own.",
    "Every line of the scope: included, extra at a price, or not offered.",
    "Any charge for each day you come, the fewest homes you come for, homes a day and heaters a week.",
    "Until when the prices hold, the years of warranty on labor, and who pays the labor when a part fails that the "
    "maker's warranty replaces.",
    "Which vent pipe the heater you offer needs, and whether the one that is there fits it.",
    "Who registers each heater for the maker's warranty, in the owner's name.",
    "Your license number, and a certificate of insurance with its dates, in writing.",
)
NOT_BINDING = (
    "This request binds nobody. Each owner decides alone and contracts for their own home; "
    "the association does not warrant the work."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """Homes of one kind; the venting is the pipe that is there today."""

    kind: HeaterKind
    gallons: float
    venting: Venting
    place: Place
    homes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RequestedItem:
    """A line of the scope in words for the kinds of heater there are, and how many homes need it, surely or perhaps."""

    item: ScopeItem
    label: str
    homes_certain: int
    homes_unsure: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BidRequest:
    """What goes to every bidder.

    ``groups`` are places with the number of homes, the largest first; groups of
    one or two homes are told together, so that no home is named.
    """

    homes: int
    as_of: date
    by_when: date | None
    bids_until: date | None
    lots: tuple[Lot, ...]
    scope: tuple[RequestedItem, ...]
    groups: tuple[tuple[str, int], ...]
    asked: tuple[str, ...]
    sentences: tuple[str, ...]


def bid_request(
    homes: Sequence[tuple[str, HomeNeed]],
    *,
    as_of: date,
    by_when: date | None = None,
    bids_until: date | None = None,
) -> BidRequest:
    """Make the request from what each interested home needs.

    Parameters
    ----------
    homes
        The group (cluster or street) and the need of each home.
    as_of
        The day of the survey's data.
    by_when
        The day by which the work should be done.
    bids_until
        The day by which bids are asked for.

    Returns
    -------
    BidRequest
        With no homes, a request that says so.
    """
    lots = Counter((need.kind, need.gallons, need.venting, need.place) for _, need in homes)
    by_group = Counter(group.strip() or ELSEWHERE for group, _ in homes)
    named = {group: n for group, n in by_group.items() if n >= SMALLEST_GROUP and group != ELSEWHERE}
    rest = len(homes) - sum(named.values())
    groups = sorted(named.items(), key=lambda one: (-one[1], one[0]))
    if rest:
        groups.append((ELSEWHERE, rest))
    kinds = {need.kind for _, need in homes}
    scope = tuple(
        RequestedItem(
            item=item,
            label=item.asked_for(kinds),
            homes_certain=sum(1 for _, need in homes if item.key in need.needed),
            homes_unsure=sum(1 for _, need in homes if item.key in need.unsure),
        )
        for item in SCOPE
    )
    return BidRequest(
        homes=len(homes),
        as_of=as_of,
        by_when=by_when,
        bids_until=bids_until,
        lots=tuple(
            Lot(kind=kind, gallons=gallons, venting=venting, place=place, homes=n)
            for (kind, gallons, venting, place), n in sorted(lots.items(), key=lambda one: (-one[1], str(one[0])))
        ),
        scope=scope,
        groups=tuple(groups),
        asked=ASKED,
        sentences=_sentences(len(homes), as_of, by_when, bids_until),
    )


def _sentences(homes: int, as_of: date, by_when: date | None, bids_until: date | None) -> tuple[str, ...]:
    if not homes:
        return ("No home has said yes or maybe to a group purchase yet, so there is nothing to ask a bid for.",)
    noun, verb = ("home", "is") if homes == 1 else ("homes", "are")
    said = [f"{homes} {noun} {verb} interested in a new water heater, by the answers up to {as_of.isoformat()}."]
    if by_when:
        said.append(f"The work should be done by {by_when.isoformat()}.")
    if bids_until:
        said.append(f"Bids are asked for by {bids_until.isoformat()}.")
    return (*said, NOT_BINDING)
