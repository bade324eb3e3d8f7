"""The rounds of a purchase as values: what was asked for, who buys from whom and when, who buys alone and why.

What checks the rounds reads these values, too: nothing is imported here that makes them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from survey_app.purchase.households import PurchaseRound
from survey_app.records import HeaterKind

__all__ = ["Alone", "AskedRounds", "EdgeCase", "Fairness", "FormedRounds", "Order", "Purchase", "Rounds", "WhyAlone"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """One home's place: ``price_usd`` is the complete job."""

    home_id: str
    group: str
    contractor: str
    round_name: str
    price_usd: float
    waiting_loss_usd: float
    alone_usd: float
    kind: HeaterKind | None = None
    """The kind of heater that both prices are for; None in rounds formed before it was kept."""

    @property
    def saving_usd(self) -> float:
        """What the household gains over buying alone, expected loss while waiting taken off."""
        return self.alone_usd - self.price_usd - self.waiting_loss_usd


class WhyAlone(StrEnum):
    """Why a home is in no round; the value is the sentence."""

    NO_BID = "There is no bid that can be used."
    OTHER_KIND = "No bid is for its kind of heater."
    NO_TIME = "No round ends by its latest date, or no bid is still valid then."
    OVER_LIMIT = "Every complete price lies above its limit."
    CHEAPER_ALONE = "Buying alone costs it less than any bid."
    NO_ROOM = "No step within its limit is reached, or the rounds that would suit it are full."


@dataclass(frozen=True, slots=True, kw_only=True)
class Alone:
    """A home that does better alone, or that no round suits."""

    home_id: str
    group: str
    alone_usd: float
    reason: WhyAlone


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """The homes of one bid in one round.

    ``bid_usd`` is what price steps and mobilization come to, ``shared_usd`` a
    home's equal share of it; ``extras_usd`` what the homes' own scopes add, by
    the bid's extras and by assumption. ``days`` are the crew's days, formed
    after the rounds so that neighbors share a day.
    """

    contractor: str
    round_name: str
    homes: tuple[str, ...]
    bid_usd: float
    extras_usd: float
    mobilization_usd: float
    days: tuple[tuple[str, ...], ...]
    groups_per_day: float

    @property
    def shared_usd(self) -> float:
        """A home's equal share of price steps and mobilization."""
        return self.bid_usd / len(self.homes)


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeCase:
    """What becomes of an order when homes drop out of it, recomputed exactly.

    ``more_usd`` is what each remaining home pays more (None when the bid no
    longer holds: then ``why_not`` says why); ``past_limit`` counts those that
    would then be over their limit or better off alone.
    """

    contractor: str
    round_name: str
    homes: int
    dropped: int
    more_usd: float | None
    past_limit: int
    why_not: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fairness:
    """How the saving is shared over the homes that buy together."""

    buyers: int
    worse_off: int
    least_saving_usd: float
    median_saving_usd: float
    most_saving_usd: float
    half_goes_to: float
    """Share of the buyers, those with the largest savings first, that holds half of the saving (.5 is even)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rounds:
    """The result.

    ``gap`` is how far the total may lie above the least possible one, as a
    share of it; None when the search ended without a proof. ``total_usd`` counts
    price, loss while waiting, and the price alone of those outside.
    """

    as_of: date
    interested: int
    orders: tuple[Order, ...]
    purchases: tuple[Purchase, ...]
    alone: tuple[Alone, ...]
    set_aside: tuple[str, ...]
    total_usd: float
    alone_total_usd: float
    single_bid: str
    single_bid_total_usd: float
    gap: float | None
    nodes: int
    fairness: Fairness | None
    edges: tuple[EdgeCase, ...]
    sentences: tuple[str, ...]

    @property
    def saving_usd(self) -> float:
        """Saving over everybody buying alone."""
        return self.alone_total_usd - self.total_usd

    @property
    def saving_over_single_bid_usd(self) -> float:
        """Saving over the best single bid, most urgent first."""
        return self.single_bid_total_usd - self.total_usd


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedRounds:
    """What the committee asked for.

    Parameters
    ----------
    rounds
        The rounds in time.
    with_maybe
        Whether a maybe counts as a yes.
    needed
        Firm yes at which the order of a bid in a round goes ahead.
    firm_only
        Whether only replies to an offer count. Else what a home said in the survey stands until it replies.
    """

    rounds: tuple[PurchaseRound, ...]
    with_maybe: bool = True
    needed: int = 10
    firm_only: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class FormedRounds:
    """Rounds as they were formed, by whom and when; ``other_kinds`` homes wait for bids on their kind of heater."""

    plan_id: str
    made_at: datetime
    made_by: str
    asked: AskedRounds
    rounds: Rounds
    other_kinds: int = 0
