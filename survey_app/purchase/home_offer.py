"""What one home is offered: like beside like, its kind of heater alone and in the group."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from survey_app.purchase.bids import OFFERED, Bid
from survey_app.purchase.compare import offer_lines
from survey_app.purchase.keen import holds_up_to, wanted
from survey_app.purchase.offers import Offer
from survey_app.purchase.plan import FormedRounds, Order, Purchase
from survey_app.purchase.prices_of_home import complete_usd, price_of_need
from survey_app.purchase.scope import HomeNeed, extras_alone, need_of_heater
from survey_app.purchase.thresholds import Threshold, smallest_number_below, threshold
from survey_app.records import Heater, HeaterKind, Interest, OfferReply
from survey_app.settings import Settings
from survey_app.standing import Standing

__all__ = ["BidOnFile", "offer_to"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BidOnFile:
    """A bid, and since when it is on file as it is."""

    bid: Bid
    put_at: datetime


def offer_to(
    home: Standing,
    formed: FormedRounds,
    on_file: Mapping[str, BidOnFile],
    replies: Mapping[str, OfferReply],
    settings: Settings,
    *,
    has_bought: bool,
) -> Offer | None:
    """What one home is offered by the rounds as they stand; None where it has no heater.

    Parameters
    ----------
    home
        Where the home stands. Of any other home nothing is looked at but counts of replies.
    formed
        The rounds as they were last formed.
    on_file
        The bids, by contractor.
    replies
        What homes said to their offers, by home id.
    settings
        The community's, for prices.
    has_bought
        Whether a heater of the group purchase is on file for it.
    """
    if home.heater is None:
        return None
    home_id = home.home.home_id
    reply = replies.get(home_id)
    need = wanted(home.heater, reply, closed_system=settings.closed_system)
    offer = _wherever_it_is(home.heater, need, reply, formed, on_file, replies, settings)
    kinds = _kinds(on_file)
    place = next((p for p in formed.rounds.purchases if p.home_id == home_id), None)
    if place is None:
        why = _why(formed, home_id, reply, has_bought=has_bought, offered=not kinds or need.kind in kinds)
        return _outside(offer, formed, on_file, need, reply, why)
    kept = on_file.get(place.contractor)
    if not _same_kind(place, need, kept.bid if kept else None):
        return _outside(offer, formed, on_file, need, reply, "kind-changed" if need.kind in kinds else "other-kind")
    return _inside(offer, formed, place, kept, need, replies)


def _wherever_it_is(
    heater: Heater,
    need: HomeNeed,
    reply: OfferReply | None,
    formed: FormedRounds,
    on_file: Mapping[str, BidOnFile],
    replies: Mapping[str, OfferReply],
    settings: Settings,
) -> Offer:
    """What an offer says whether or not the home is in a round; the rest is still blank."""
    today = need_of_heater(heater, closed_system=settings.closed_system)
    extras = extras_alone(need)
    return Offer(
        plan_id=formed.plan_id,
        kind=need.kind,
        wants=need.kind is not today.kind,
        now_kind=today.kind,
        now_alone_usd=complete_usd(settings, today),
        other_kinds=tuple(kind for kind in OFFERED if kind in _kinds(on_file) - {today.kind}),
        gallons=heater.tank_gallons if heater.kind.has_tank else None,
        contractor="",
        round_name="",
        begins=None,
        price_usd=None,
        about_usd=None,
        alone_usd=complete_usd(settings, need),
        alone_price=price_of_need(settings, need),
        certain_usd=extras[0],
        possible_usd=extras[1],
        why_not="",
        holds_from=None,
        needed_usd=None,
        lines=(),
        changed=False,
        round=_state(formed, _for_its_kind(formed, on_file, need), replies),
        says=reply.says if reply else Interest.UNKNOWN,
        limit_usd=reply.limit_usd if reply else None,
        latest=reply.latest if reply else None,
        said_to_usd=reply.price_usd if reply else None,
    )


def _kinds(on_file: Mapping[str, BidOnFile]) -> set[HeaterKind]:
    """Kinds of heater that bids on file are for."""
    return {kind for kept in on_file.values() for kind in kept.bid.kinds}


def _inside(
    offer: Offer,
    formed: FormedRounds,
    place: Purchase,
    kept: BidOnFile | None,
    need: HomeNeed,
    replies: Mapping[str, OfferReply],
) -> Offer:
    """The offer of a home that has a place in a round."""
    mine = next((o for o in formed.rounds.orders if place.home_id in o.homes), None)
    as_it_was = kept is not None and kept.put_at <= formed.made_at
    holds_from, needed_usd = None, None
    if mine is not None and kept is not None and as_it_was:
        holds_from, needed_usd = _what_it_hangs_on(kept.bid, place, mine, formed.asked.needed)
    return replace(
        offer,
        contractor=place.contractor,
        round_name=place.round_name,
        begins=next((r.begins for r in formed.asked.rounds if r.name == place.round_name), None),
        price_usd=place.price_usd,
        holds_from=holds_from,
        needed_usd=needed_usd,
        lines=offer_lines(kept.bid, need) if kept else (),
        changed=not as_it_was,
        round=_state(formed, [mine], replies) if mine else offer.round,
    )


def _what_it_hangs_on(bid: Bid, place: Purchase, order: Order, needed: int) -> tuple[int | None, float | None]:
    """Homes from which on the price holds, and the price if only so many bought as the round needs to go ahead."""
    holds_from = smallest_number_below(bid, order.shared_usd + 0.005, most=len(order.homes))
    if bid.why_not(needed):
        return holds_from, None
    return holds_from, place.price_usd - order.shared_usd + bid.home_usd(needed)


def _outside(
    offer: Offer,
    formed: FormedRounds,
    on_file: Mapping[str, BidOnFile],
    need: HomeNeed,
    reply: OfferReply | None,
    why: str,
) -> Offer:
    """The offer of a home that is in no round, and why it is in none."""
    about = _cheapest_usd(_with_bids(formed.rounds.orders, on_file), need)
    if why == "no-room" and reply is not None and about is not None:
        limit = reply.limit_usd or holds_up_to(reply.price_usd)
        why = "over-limit" if limit is not None and about > limit else why
    return replace(offer, about_usd=about, why_not=why)


def _why(formed: FormedRounds, home_id: str, reply: OfferReply | None, *, has_bought: bool, offered: bool) -> str:
    """Why a home is in no round, as the end of a message's name."""
    if has_bought:
        return "bought"
    if not offered:
        return "other-kind"
    if reply is not None and reply.says is Interest.NO:
        return "said-no"
    reason = next((a.reason.name for a in formed.rounds.alone if a.home_id == home_id), "")
    # A kind that no bid was for when the rounds were formed may have one by now: the next forming counts it.
    return "not-yet" if reason in ("", "OTHER_KIND") else reason.lower().replace("_", "-")


def _same_kind(place: Purchase, need: HomeNeed, bid: Bid | None) -> bool:
    """Whether the price in a round is for the heater that is to be priced; it may have been corrected since."""
    if bid is not None and need.kind not in bid.kinds:
        return False
    if place.kind is None or place.kind is need.kind:
        return True
    return bid is not None and HeaterKind.UNKNOWN in (place.kind, need.kind)


def _with_bids(orders: Iterable[Order], on_file: Mapping[str, BidOnFile]) -> list[tuple[Order, Bid]]:
    return [(o, on_file[o.contractor].bid) for o in orders if o.contractor in on_file]


def _for_its_kind(formed: FormedRounds, on_file: Mapping[str, BidOnFile], need: HomeNeed) -> list[Order]:
    """Orders that a home could join: yes for another kind of heater brings no round of its own kind nearer."""
    return [order for order, bid in _with_bids(formed.rounds.orders, on_file) if need.kind in bid.kinds]


def _state(formed: FormedRounds, orders: Sequence[Order], replies: Mapping[str, OfferReply]) -> Threshold:
    """What the homes of some orders have said, against the number at which a round goes ahead."""
    homes = [home_id for order in orders for home_id in order.homes]
    return threshold(formed.asked.needed, [replies[h].says if h in replies else Interest.UNKNOWN for h in homes])


def _cheapest_usd(orders: Iterable[tuple[Order, Bid]], need: HomeNeed) -> float | None:
    """The least that a complete job comes to in an order there is for its kind of heater; None without one."""
    found = []
    for order, bid in orders:
        if need.kind not in bid.kinds:
            continue
        lines = offer_lines(bid, need)
        if order.homes and all(line.usd is not None for line in lines):
            found.append(order.shared_usd + sum(line.usd or 0.0 for line in lines))
    return min(found, default=None)
