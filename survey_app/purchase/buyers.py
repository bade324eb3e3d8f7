"""The rounds as the committee follows them: how far each order is, who is in it, which homes wait for a bid."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from datetime import date

from survey_app.purchase.bids import TANK_KINDS, Bid, check_bid
from survey_app.purchase.keen import Keen
from survey_app.purchase.offers import BuyerRow, OrderState
from survey_app.purchase.plan import FormedRounds
from survey_app.purchase.thresholds import NextStep, next_step, threshold
from survey_app.records import HeaterKind, Interest

__all__ = ["buyer_rows", "kinds_of", "next_steps", "order_states", "served_kinds", "waiting_kinds"]


def kinds_of(bids: Iterable[Bid]) -> list[tuple[HeaterKind, ...]]:
    """Kinds of heater that bids are for: bids of one entry are for the same, the tanks first."""
    return list(dict.fromkeys(bid.kinds for bid in sorted(bids, key=lambda b: b.kinds != TANK_KINDS)))


def served_kinds(bids: Iterable[Bid], *, as_of: date) -> set[HeaterKind]:
    """Kinds of heater that a bid which can be used on this day is for."""
    usable = (bid for bid in bids if not any(f.fatal for f in check_bid(bid, as_of=as_of)))
    return {kind for bid in usable for kind in bid.kinds}


def waiting_kinds(keen: Iterable[Keen], served: set[HeaterKind]) -> dict[HeaterKind, int]:
    """How many homes have (or ask for) a kind of heater that no bid is for; nothing where there is no bid at all."""
    return Counter(k.need.kind for k in keen if served and k.need.kind not in served)


def next_steps(bids: Iterable[Bid], keen: Iterable[Keen]) -> list[NextStep]:
    """What the next price step of each bid would take, by how many whose heater it is for say yes now."""
    yes = [k.need.kind for k in keen if k.says is Interest.YES]
    found = (next_step(bid, sum(kind in bid.kinds for kind in yes)) for bid in bids)
    return [step for step in found if step is not None]


def order_states(formed: FormedRounds, said: Mapping[str, Interest]) -> list[OrderState]:
    """Each order of the rounds as they were formed: how many of its homes have said a firm yes."""
    begins = {r.name: r.begins for r in formed.asked.rounds}
    return [
        OrderState(
            contractor=one.contractor,
            round_name=one.round_name,
            begins=begins[one.round_name],
            homes=len(one.homes),
            home_usd=one.shared_usd,
            state=threshold(formed.asked.needed, [said.get(h, Interest.UNKNOWN) for h in one.homes]),
        )
        for one in formed.rounds.orders
    ]


def buyer_rows(formed: FormedRounds, address: Mapping[str, str], said: Mapping[str, Interest]) -> list[BuyerRow]:
    """The homes of the rounds by round, bid, crew-day and street; those without an address are left out."""
    day_of = {home: n for one in formed.rounds.orders for n, day in enumerate(one.days, start=1) for home in day}
    rows = [
        BuyerRow(
            home_id=p.home_id,
            address=address[p.home_id],
            street=p.group,
            round_name=p.round_name,
            contractor=p.contractor,
            crew_day=day_of.get(p.home_id, 0),
            price_usd=p.price_usd,
            saving_usd=p.saving_usd,
            says=str(said[p.home_id]) if p.home_id in said else "no reply yet",
        )
        for p in formed.rounds.purchases
        if p.home_id in address
    ]
    return sorted(rows, key=lambda r: (r.round_name, r.contractor, r.crew_day, r.street, r.address))
