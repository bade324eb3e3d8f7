"""What one home is offered, how far an order is, who buys, and what was bought: as values."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from survey_app.prices import Price
from survey_app.purchase.compare import OfferLine
from survey_app.purchase.thresholds import Threshold
from survey_app.records import HeaterKind, Interest

__all__ = [
    "YES_HOLDS_WITHIN_USD",
    "Bought",
    "BuyerRow",
    "Offer",
    "OrderState",
]

YES_HOLDS_WITHIN_USD = 25.0
"""A yes that named no limit holds for a price higher by so much: a neighbor more or less moves every share a little
(common practice, no source; the same as the spread within which the rounds weigh shares)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderState:
    """One bid's homes in one round, and how many of them have said a firm yes."""

    contractor: str
    round_name: str
    begins: date
    homes: int
    home_usd: float
    state: Threshold


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyerRow:
    """One home in the rounds: whose, on which of the crew's days, at what price, and what it has said so far."""

    home_id: str
    address: str
    street: str
    round_name: str
    contractor: str
    crew_day: int
    price_usd: float
    saving_usd: float
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """A heater that was put on file here."""

    event_id: str
    home_id: str
    address: str
    on: date
    kind: HeaterKind
    tank_gallons: float | None
    warranty_until: date | None
    contractor: str
    had_failed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """What one home is offered.

    Parameters
    ----------
    plan_id
        The forming it comes from.
    kind, wants
        The heater that every amount but `now_alone_usd` is for; and whether the home asked to change to that kind.
    now_kind, now_alone_usd
        The heater that stands there, and the same complete job for that kind bought alone.
    other_kinds
        Other kinds of heater that bids on file are for.
    gallons
        Size of the tank that stands there; None where nobody knows it, or without a tank.
    contractor, round_name, begins
        Whose order, in which round, from which day on; "" and None where the home is in none.
    price_usd
        Its complete price by the rounds as they stand; None where it is in none.
    about_usd
        What it would come to in the cheapest order there is, for a home that is in none; None without an order.
    alone_usd, alone_price, certain_usd, possible_usd
        The same complete job bought alone by the price list, and its parts: the row of the list, what the home needs
        besides, and what it may need.
    why_not
        Why it is in no round: the end of a message's name; "" where it is in one.
    holds_from, needed_usd
        Homes from which on the price holds as it is, and its complete price if only so many bought as the round needs
        to go ahead; None where it is in no round, or its bid is off or does not hold for so few.
    lines
        What the price holds and what comes on top.
    changed
        Whether the bid was changed or taken off since.
    round
        Firm yes, maybe and no of the homes of its order (of all orders for its kind of heater, where it is in none).
    says
        Its own reply to an offer; not sure where it has not replied.
    limit_usd, latest
        What it named with its reply.
    said_to_usd
        The price its reply was said to.
    """

    plan_id: str
    kind: HeaterKind
    wants: bool
    now_kind: HeaterKind
    now_alone_usd: float
    other_kinds: tuple[HeaterKind, ...]
    gallons: float | None
    contractor: str
    round_name: str
    begins: date | None
    price_usd: float | None
    about_usd: float | None
    alone_usd: float
    alone_price: Price
    certain_usd: float
    possible_usd: float
    why_not: str
    holds_from: int | None
    needed_usd: float | None
    lines: tuple[OfferLine, ...]
    changed: bool
    round: Threshold
    says: Interest
    limit_usd: float | None
    latest: date | None
    said_to_usd: float | None
