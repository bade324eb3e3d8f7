"""What one home is offered: like beside like, its kind of heater alone and in the group."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import TypeAdapter

from survey_app.purchase.bids import OFFERED, Bid
from survey_app.purchase.compare import offer_lines
from survey_app.purchase.offers import YES_HOLDS_WITHIN_USD, FormedRounds, Offer, cheapest_usd
from survey_app.purchase.plan import Order, Purchase
from survey_app.purchase.prices_of_home import complete_usd
from survey_app.purchase.scope import HomeNeed, need_of_heater, need_of_kind
from survey_app.purchase.thresholds import smallest_number_below, threshold
from survey_app.records import Heater, HeaterKind, Interest
from survey_app.standing import Standing
from survey_app.survey.context import Context

__all__ = ["BID", "BOUGHT", "alone_usd", "holds_up_to", "offer_to", "wanted"]

BID = TypeAdapter(Bid)
"""Bids as the records keep them."""
BOUGHT = "bought-"
"""How the names of events begin that put a heater of the group purchase on file."""


def alone_usd(context: Context, need: HomeNeed) -> float:
    """The same complete job, for the same kind of heater, bought alone."""
    return complete_usd(context.settings(), need)


def holds_up_to(price_usd: float | None) -> float | None:
    """The price up to which a yes holds that named no limit."""
    return None if price_usd is None else price_usd + YES_HOLDS_WITHIN_USD


def wanted(heater: Heater, reply: Mapping[str, Any] | None) -> HomeNeed:
    """What the home is to be priced for: its own kind of heater, or the one it asked to change to."""
    asked = reply.get("wants_kind") if reply else None
    return need_of_kind(heater, HeaterKind(asked)) if asked else need_of_heater(heater)


def offer_to(context: Context, formed: FormedRounds, home_id: str, home: Standing) -> Offer | None:
    """What one home is offered by the rounds as they stand; None where it has no heater.

    Parameters
    ----------
    context
        The records.
    formed
        The rounds as they were last formed.
    home_id, home
        The home and where it stands. Nothing of any other home is looked up but counts of replies.
    """
    if home.heater is None:
        return None
    with context.read() as records:
        reply = next(iter(records.offer_replies(home_id)), None)
        kept, replies = records.bids(), records.offer_replies()
        has_bought = any(e.event_id.startswith(BOUGHT) for e in records.events(home_id))
    need, today = wanted(home.heater, reply), need_of_heater(home.heater)
    on_file = {row["contractor"]: row for row in kept}
    bids = {name: BID.validate_python(row["content"]) for name, row in on_file.items()}
    kinds = {kind for bid in bids.values() for kind in bid.kinds}
    place = next((p for p in formed.rounds.purchases if p.home_id == home_id), None)
    reason = next((a.reason.name for a in formed.rounds.alone if a.home_id == home_id), "")
    why = "" if place else _why(has_bought, reply, reason, offered=not kinds or need.kind in kinds)
    if place is not None and not _same_kind(place, need, bids.get(place.contractor)):
        place, why = None, "kind-changed" if need.kind in kinds else "other-kind"
    mine = next((o for o in formed.rounds.orders if home_id in o.homes), None) if place else None
    row, bid = (on_file.get(place.contractor), bids.get(place.contractor)) if place else (None, None)
    about = None if place else cheapest_usd(_with_bids(formed.rounds.orders, bids), need)
    if why == "no-room" and reply is not None and about is not None:
        limit = reply["limit_usd"] or holds_up_to(reply["price_usd"])
        why = "over-limit" if limit is not None and about > limit else why
    said = {r["home_id"]: Interest(r["says"]) for r in replies}
    # Yes for another kind of heater brings no round of its own kind nearer: only orders that it could join count.
    near = [mine] if mine else [o for o, b in _with_bids(formed.rounds.orders, bids) if need.kind in b.kinds]
    among = [said.get(h, Interest.UNKNOWN) for o in near for h in o.homes]
    needed, holds_from, needed_usd = formed.asked.needed, None, None
    if place and mine and bid and row and row["put_at"] <= formed.made_at:
        holds_from = smallest_number_below(bid, mine.shared_usd + 0.005, most=len(mine.homes))
        if not bid.why_not(needed):
            needed_usd = place.price_usd - mine.shared_usd + bid.home_usd(needed)
    return Offer(
        plan_id=formed.plan_id,
        kind=need.kind,
        wants=need.kind is not today.kind,
        now_kind=today.kind,
        now_alone_usd=alone_usd(context, today),
        other_kinds=tuple(kind for kind in OFFERED if kind in kinds - {today.kind}),
        gallons=home.heater.tank_gallons if home.heater.kind.has_tank else None,
        contractor=place.contractor if place else "",
        round_name=place.round_name if place else "",
        begins=next((r.begins for r in formed.asked.rounds if r.name == place.round_name), None) if place else None,
        price_usd=place.price_usd if place else None,
        about_usd=about,
        alone_usd=place.alone_usd if place else alone_usd(context, need),
        why_not=why,
        holds_from=holds_from,
        needed_usd=needed_usd,
        lines=offer_lines(bid, need) if bid is not None else (),
        changed=place is not None and (row is None or row["put_at"] > formed.made_at),
        round=threshold(needed, among),
        says=Interest(reply["says"]) if reply else Interest.UNKNOWN,
        limit_usd=reply["limit_usd"] if reply else None,
        latest=reply["latest"] if reply else None,
        said_to_usd=reply["price_usd"] if reply else None,
    )


def _same_kind(place: Purchase, need: HomeNeed, bid: Bid | None) -> bool:
    """Whether the price in a round is for the heater that is to be priced; it may have been corrected since."""
    if bid is not None and need.kind not in bid.kinds:
        return False
    if place.kind is None or place.kind is need.kind:
        return True
    return bid is not None and HeaterKind.UNKNOWN in (place.kind, need.kind)


def _with_bids(orders: Sequence[Order], bids: Mapping[str, Bid]) -> list[tuple[Order, Bid]]:
    return [(o, bids[o.contractor]) for o in orders if o.contractor in bids]


def _why(has_bought: bool, reply: Mapping[str, Any] | None, reason: str, *, offered: bool) -> str:
    """Why a home is in no round, as the end of a message's name."""
    if has_bought:
        return "bought"
    if not offered:
        return "other-kind"
    if reply is not None and reply["says"] == Interest.NO:
        return "said-no"
    # A kind that no bid was for when the rounds were formed may have one by now: the next forming counts it.
    return "not-yet" if reason in ("", "OTHER_KIND") else reason.lower().replace("_", "-")
