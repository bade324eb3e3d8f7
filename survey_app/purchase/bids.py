"""A contractor's bid, what it costs for any number of homes, and what is wrong with it.

All units: the price of the step reached holds for every home. Incremental: each
home pays into the total by its own step, and the homes share the total equally.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from itertools import pairwise

from survey_app.purchase.scope import SCOPE_KEYS
from survey_app.records import HeaterKind

__all__ = [
    "OFFERED",
    "TANK_KINDS",
    "Anomaly",
    "Bid",
    "Finding",
    "Offered",
    "PriceStep",
    "ScopeOffer",
    "StepKind",
    "anomalies",
    "cautions",
    "check_bid",
]

TANK_KINDS = (HeaterKind.GAS_STORAGE, HeaterKind.ELECTRIC_STORAGE, HeaterKind.UNKNOWN)
"""Kinds that a bid's price is for unless the bid says otherwise: a heat pump or a tankless unit is another job. A kind
that nobody knows is counted as a gas tank."""
OFFERED = tuple(kind for kind in HeaterKind if kind is not HeaterKind.UNKNOWN)
"""Kinds that a bid can be for."""
USUAL_HOMES_PER_DAY = 3
"""A replacement takes two people 2.5 to 4 hours (common practice, no source)."""
WORKING_DAYS_PER_WEEK = 5
MOST_USD = 100_000.0
"""No price of a home is above this; a larger one is a slip of the keys."""


_Bad = Callable[..., None]


class StepKind(StrEnum):
    """To which homes the price of a step applies."""

    ALL_UNITS = "all units"
    INCREMENTAL = "incremental"


class Offered(StrEnum):
    """How a bid treats an item of the scope."""

    INCLUDED = "included"
    EXTRA = "extra"
    MISSING = "missing"


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceStep:
    """A price a home, from this number of homes on."""

    from_homes: int
    price_usd: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ScopeOffer:
    """One item of the scope in a bid; ``extra_usd`` a home, where it is an extra."""

    item: str
    offered: Offered
    extra_usd: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bid:
    """One contractor's offer for the stated scope.

    Parameters
    ----------
    contractor
        Who offers.
    steps
        Prices a home; kept in the order of their numbers. Below the first
        number the bid does not hold.
    step_kind
        All units or incremental.
    scope
        Items in any order; one that is not named counts as missing.
    mobilization_usd_per_day
        Charged for each day the crew comes, shared by the homes of the round.
    minimum_homes_per_day
        The crew does not come for fewer.
    homes_per_day
        The most in a day; None for a fifth of the week's, or three.
    units_per_week
        The most heaters a week; None for no limit.
    valid_until
        The last day on which it can be accepted; None where it does not say.
    labor_warranty_years
        None where it does not say.
    license_number, license_seen_on, insurance_seen_on, insurance_until
        What was shown in writing, and when.
    kinds
        Heaters that the price is for: no other home may be offered it. A home whose kind nobody knows counts as gas.
    """

    contractor: str
    steps: tuple[PriceStep, ...]
    step_kind: StepKind = StepKind.ALL_UNITS
    scope: tuple[ScopeOffer, ...] = ()
    mobilization_usd_per_day: float = 0.0
    minimum_homes_per_day: int = 1
    homes_per_day: int | None = None
    units_per_week: int | None = None
    valid_until: date | None = None
    labor_warranty_years: float | None = None
    license_number: str = ""
    license_seen_on: date | None = None
    insurance_seen_on: date | None = None
    insurance_until: date | None = None
    kinds: tuple[HeaterKind, ...] = TANK_KINDS

    def __post_init__(self) -> None:
        named = set(self.kinds) - {HeaterKind.UNKNOWN}
        if HeaterKind.GAS_STORAGE in named:
            named.add(HeaterKind.UNKNOWN)
        object.__setattr__(self, "kinds", tuple(kind for kind in HeaterKind if kind in named))
        object.__setattr__(self, "steps", tuple(sorted(self.steps, key=lambda step: step.from_homes)))

    def offer(self, item: str) -> ScopeOffer:
        """How the bid treats an item."""
        for one in self.scope:
            if one.item == item:
                return one
        return ScopeOffer(item=item, offered=Offered.MISSING)

    @property
    def day_size(self) -> int:
        """The most homes in a day."""
        if self.homes_per_day is not None:
            return self.homes_per_day
        if self.units_per_week is not None:
            # Never below the stated minimum: the contractor who asks for four a day does four a day.
            return max(1, math.ceil(self.units_per_week / WORKING_DAYS_PER_WEEK), self.minimum_homes_per_day)
        return max(USUAL_HOMES_PER_DAY, self.minimum_homes_per_day)

    @property
    def week_size(self) -> int | None:
        """The most homes in a week; None for no limit."""
        by_day = None if self.homes_per_day is None else self.homes_per_day * WORKING_DAYS_PER_WEEK
        stated = [size for size in (self.units_per_week, by_day) if size is not None]
        return min(stated, default=None)

    def days(self, homes: int) -> int:
        """Days the crew comes for so many homes."""
        return -(-homes // self.day_size)

    def steps_usd(self, homes: int) -> float:
        """What the price steps come to for so many homes, without mobilization.

        All units: homes times the price of the step reached. Incremental: each
        step's price times the homes between its number and the next; the homes
        before the first step's number pay the first step's price.
        """
        if homes <= 0:
            return 0.0
        reached = [step for step in self.steps if step.from_homes <= homes] or list(self.steps[:1])
        if self.step_kind is StepKind.ALL_UNITS:
            return homes * reached[-1].price_usd
        total = 0.0
        for k, step in enumerate(reached):
            begin = 1 if k == 0 else step.from_homes
            end = reached[k + 1].from_homes - 1 if k + 1 < len(reached) else homes
            total += (end - begin + 1) * step.price_usd
        return total

    def total_usd(self, homes: int) -> float:
        """Price steps and mobilization for so many homes, as the bid stands (no gaps filled)."""
        return self.steps_usd(homes) + self.days(homes) * self.mobilization_usd_per_day

    def home_usd(self, homes: int) -> float:
        """One home's share of `total_usd`, all shares alike."""
        return self.total_usd(homes) / homes

    def why_not(self, homes: int) -> str:
        """Why the bid does not hold for so many homes; "" when it does."""
        if not self.steps:
            return f"{self.contractor} gives no price."
        if homes < self.steps[0].from_homes:
            return f"{self.contractor} begins at {self.steps[0].from_homes} homes."
        if self.days(homes) * self.minimum_homes_per_day > homes:
            return (
                f"{self.contractor} comes for at least {self.minimum_homes_per_day} homes a day and does at most "
                f"{self.day_size}: {homes} homes do not fill their days."
            )
        return ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """Something wrong with a bid.

    ``item`` and ``column`` say where (names of the bid sheet); ``fatal`` means
    that the bid cannot be used until it is put right.
    """

    item: str
    column: str
    what: str
    remedy: str
    fatal: bool


def check_bid(bid: Bid, *, as_of: date) -> tuple[Finding, ...]:
    """Everything wrong with a bid, at once; empty when it can be used.

    Parameters
    ----------
    bid
        From a form or a sheet.
    as_of
        The day on which it would be accepted.
    """
    found: list[Finding] = []

    def bad(item: str, column: str, what: str, remedy: str, *, fatal: bool = True) -> None:
        found.append(Finding(item=item, column=column, what=what, remedy=remedy, fatal=fatal))

    if not bid.contractor.strip():
        bad("", "contractor", "The bid names no contractor.", "Write who offers it.")
    _check_steps(bid, bad)
    _check_days(bid, bad)
    if not _price_is_sound(bid.mobilization_usd_per_day):
        bad(
            "mobilization per day",
            "price",
            f"The mobilization of {bid.mobilization_usd_per_day:,.2f} dollars a day is no price.",
            "Write dollars a day, 0 where none is charged.",
        )
    if bid.valid_until is not None and bid.valid_until < as_of:
        bad(
            "valid until",
            "answer",
            f"The bid expired on {bid.valid_until.isoformat()}.",
            "Ask the contractor for a new date in writing, and write it here.",
        )
    if not bid.kinds:
        bad(
            "heater kinds",
            "answer",
            "The bid does not say for which kinds of heater it is.",
            'Write "gas storage, electric storage", "heat pump storage" or "tankless".',
        )
    _check_scope(bid, bad)
    if bid.labor_warranty_years is not None and not 0 <= bid.labor_warranty_years <= 30:
        bad(
            "labor warranty years",
            "answer",
            f"A labor warranty of {bid.labor_warranty_years:g} years is not possible.",
            "Write years, 0 to 30, or leave it out.",
            fatal=False,
        )
    return tuple(found)


def _price_is_sound(price: float, *, above_zero: bool = False) -> bool:
    return math.isfinite(price) and (price > 0 if above_zero else price >= 0) and price <= MOST_USD


def _check_steps(bid: Bid, bad: _Bad) -> None:
    if not bid.steps:
        bad("price step", "price", "The bid has no price step.", "Write at least one price a home, from 1 home on.")
    for step in bid.steps:
        if step.from_homes < 1:
            bad(
                "price step",
                "from homes",
                f"A price step begins at {step.from_homes} homes.",
                "Write the number of homes from which the price holds, 1 or more.",
            )
        if not _price_is_sound(step.price_usd, above_zero=True):
            bad(
                "price step",
                "price",
                f"The price from {step.from_homes} homes on is {step.price_usd:,.2f} dollars, which no heater costs.",
                f"Write dollars a home, above 0 and at most {MOST_USD:,.0f}.",
            )
    for one, after in pairwise(bid.steps):
        if one.from_homes == after.from_homes:
            bad(
                "price step",
                "from homes",
                f"Two price steps overlap: both {one.price_usd:,.2f} and {after.price_usd:,.2f} dollars from "
                f"{one.from_homes} homes on.",
                "Keep the one that the contractor wrote.",
            )
        elif after.price_usd > one.price_usd:
            bad(
                "price step",
                "price",
                f"The price rises from {one.price_usd:,.2f} to {after.price_usd:,.2f} dollars at "
                f"{after.from_homes} homes.",
                "A larger number must not cost more a home: check the two rows with the contractor.",
            )


def _check_days(bid: Bid, bad: _Bad) -> None:
    for item, value in (
        ("minimum homes per day", bid.minimum_homes_per_day),
        ("homes per day", bid.homes_per_day),
        ("units per week", bid.units_per_week),
    ):
        if value is not None and not 1 <= value <= 10_000:
            bad(item, "answer", f"{value} is no number of homes for '{item}'.", "Write a whole number, 1 or more.")
    if bid.homes_per_day is not None and bid.minimum_homes_per_day > bid.homes_per_day:
        bad(
            "minimum homes per day",
            "answer",
            f"The crew comes for at least {bid.minimum_homes_per_day} homes a day but does at most "
            f"{bid.homes_per_day}.",
            "Ask the contractor which of the two holds.",
        )
    if bid.units_per_week is not None and bid.minimum_homes_per_day > bid.units_per_week:
        bad(
            "minimum homes per day",
            "answer",
            f"The crew comes for at least {bid.minimum_homes_per_day} homes a day but installs at most "
            f"{bid.units_per_week} heaters a week.",
            "Ask the contractor which of the two holds.",
        )


def _check_scope(bid: Bid, bad: _Bad) -> None:
    seen: set[str] = set()
    for one in bid.scope:
        if one.item not in SCOPE_KEYS:
            bad(
                one.item,
                "item",
                f"The scope has no item '{one.item}'.",
                f"The items are: {', '.join(SCOPE_KEYS)}.",
                fatal=False,
            )
        if one.item in seen:
            bad(one.item, "item", f"'{one.item}' stands twice in the bid.", "Keep one of the two.")
        seen.add(one.item)
        if one.offered is Offered.EXTRA and one.extra_usd is None:
            bad(
                one.item,
                "price",
                f"'{one.item}' is an extra without a price.",
                "Ask for the price a home; until then the scope's own assumption fills the gap.",
                fatal=False,
            )
        if one.extra_usd is not None and not _price_is_sound(one.extra_usd):
            bad(
                one.item,
                "price",
                f"The extra for '{one.item}' is {one.extra_usd:,.2f} dollars.",
                f"Write dollars a home, 0 to {MOST_USD:,.0f}.",
            )


def cautions(bid: Bid, *, work_until: date | None = None) -> tuple[str, ...]:
    """What to ask for in writing before anybody signs.

    Parameters
    ----------
    bid
        A bid that can be used.
    work_until
        The last day of work; the insurance has to reach it.
    """
    who, said = bid.contractor, []
    if not bid.license_number.strip() or bid.license_seen_on is None:
        said.append(f"Nobody has seen the license of {who} in writing. Ask for its number and check it.")
    if bid.insurance_seen_on is None:
        said.append(f"Nobody has seen an insurance certificate of {who}. Ask for it in writing.")
    elif bid.insurance_until is None:
        said.append(f"The insurance certificate of {who} has no end date here. Look it up.")
    elif work_until is not None and bid.insurance_until < work_until:
        said.append(
            f"The insurance certificate of {who} ends on {bid.insurance_until.isoformat()}, before the work does. "
            "Ask for a new one."
        )
    if bid.labor_warranty_years is None:
        said.append(f"{who} does not say how long the labor is under warranty. Ask.")
    if bid.valid_until is None:
        said.append(f"{who} does not say until when the prices hold. Ask.")
    return tuple(said)


@dataclass(frozen=True, slots=True, kw_only=True)
class Anomaly:
    """A number of homes for which more homes cost less in total (only all-units steps have it)."""

    homes: int
    total_usd: float
    more_homes: int
    more_total_usd: float

    @property
    def sentence(self) -> str:
        """What it means."""
        return (
            f"{self.homes} homes cost {self.total_usd:,.0f} dollars in all, {self.more_homes} homes only "
            f"{self.more_total_usd:,.0f}: at this edge of a step one more home pays for itself."
        )


def anomalies(bid: Bid) -> tuple[Anomaly, ...]:
    """Where the total falls as homes are added: from which number on the next step costs less than stopping short.

    For each step the first number of homes with that property is given, by price
    steps alone; from there up to the step every number has it.
    """
    if bid.step_kind is not StepKind.ALL_UNITS:
        return ()
    found = []
    for one, after in pairwise(bid.steps):
        reached = after.from_homes * after.price_usd
        first = math.floor(reached / one.price_usd + 1e-9) + 1
        first = max(first, one.from_homes)
        if first < after.from_homes:
            found.append(
                Anomaly(
                    homes=first,
                    total_usd=bid.steps_usd(first),
                    more_homes=after.from_homes,
                    more_total_usd=reached,
                )
            )
    return tuple(found)
