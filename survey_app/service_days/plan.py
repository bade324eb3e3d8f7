"""A plan of service days as values: what was asked, who is visited when, who waits and why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import Any

from survey_app.plain_data import from_plain, to_plain
from survey_app.records import VisitOutcome as Outcome
from survey_app.service_days.jobs import Job

__all__ = [
    "Asked",
    "Moved",
    "Outcome",
    "PlannedVisit",
    "ServicePlan",
    "TooFew",
    "Waiting",
    "clock",
    "read_price_steps",
    "read_prices",
]

_BESIDE = frozenset({"plan_id", "asked", "made_at", "made_by"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What the committee and the contractor agreed on.

    Parameters
    ----------
    job
        What the crews come for.
    dates
        Days offered.
    crews
        Crews on each day.
    start_s, end_s
        Working hours, seconds after midnight.
    lunch_s
        Length of the lunch break in seconds, taken around noon; zero for none.
    min_homes, max_homes
        Fewest and most homes a day over all crews; `max_homes` zero for no limit.
    price_steps
        What one home pays on a day with at least so many homes: pairs of number and dollars; empty where one price
        holds for any number.
    price_usd
        What one home pays where one price holds for any number; None where nobody has told it.
    contractor
        Who comes: name and phone, as the homes are to read it; "" while nobody is named.
    maybe_too
        Whether homes that said "maybe" are planned, not only those that said yes.
    contractor_agreed
        Homes the contractor has agreed to look at although the rules ask first.
    pinned, forbidden
        Days by home, set by hand: this day and no other; any but these.
    confirmed
        Homes that have confirmed their day: they stay on it unless freed.
    off
        Crews missing on a day (illness), by day; all of them for a day rained out.
    cancelled
        Homes that have withdrawn.
    start_place
        Longitude and latitude where the crews start; the middle of the homes where None.
    seed, iterations
        Of the search: the same give the same plan. Zero iterations are as many as the number of homes asks for.
    """

    job: Job
    dates: tuple[date, ...]
    crews: int = 1
    start_s: int = 8 * 3600
    end_s: int = 17 * 3600
    lunch_s: int = 1800
    min_homes: int = 5
    max_homes: int = 0
    price_steps: tuple[tuple[int, float], ...] = ()
    price_usd: float | None = None
    contractor: str = ""
    maybe_too: bool = True
    contractor_agreed: tuple[str, ...] = ()
    pinned: Mapping[str, date] = field(default_factory=dict)
    forbidden: Mapping[str, tuple[date, ...]] = field(default_factory=dict)
    confirmed: Mapping[str, date] = field(default_factory=dict)
    off: Mapping[date, int] = field(default_factory=dict)
    cancelled: tuple[str, ...] = ()
    start_place: tuple[float, float] | None = None
    seed: int = 1
    iterations: int = 0

    def home_usd(self, homes: int) -> float | None:
        """What one home pays on a day with so many homes; None where no price is known."""
        reached = [usd for least, usd in self.price_steps if homes >= least]
        return reached[-1] if reached else self.price_usd

    def to_dict(self) -> dict[str, Any]:
        """As plain data; every home is named only where one entry of a list or mapping is about it."""
        return dict(to_plain(self))

    @classmethod
    def from_dict(cls, told: Mapping[str, Any]) -> Asked:
        """From :meth:`to_dict`; what plans of an earlier version lack has its default.

        Raises
        ------
        UnknownJob
            When it is for a job that is not in the table any more.
        """
        return from_plain(cls, told)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedVisit:
    """One home on one day: which crew, the how-manieth, from when to when (seconds after midnight)."""

    home_id: str
    on: date
    crew: int
    order: int
    arrive_s: int
    leave_s: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """A home that is not on any day, and what it would need."""

    home_id: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TooFew:
    """A day that was not opened, how many homes it lacks, and the streets where they would be nearest."""

    on: date
    missing: int
    streets: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """A home whose day changed, and why."""

    home_id: str
    before: date | None
    after: date | None
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ServicePlan:
    """Service days: who is visited when, who waits.

    Parameters
    ----------
    visits, waiting, too_few
        The plan.
    costs_usd
        What it counts for: travel, crew-days, worth left waiting, and their sum.
    method, network
        How it was found and what the distances rest on, in words.
    sentences
        What to know about it, in plain words.
    moved
        What changed against the plan before it.
    """

    plan_id: str
    asked: Asked
    made_at: datetime
    made_by: str
    visits: tuple[PlannedVisit, ...]
    waiting: tuple[Waiting, ...]
    too_few: tuple[TooFew, ...] = ()
    costs_usd: Mapping[str, float] = field(default_factory=dict)
    method: str = ""
    network: str = ""
    sentences: tuple[str, ...] = ()
    moved: tuple[Moved, ...] = ()

    def on(self, day: date) -> tuple[PlannedVisit, ...]:
        """The visits of one day, by crew and order."""
        return tuple(sorted((v for v in self.visits if v.on == day), key=lambda v: (v.crew, v.order)))

    @property
    def days(self) -> tuple[date, ...]:
        """Days that are opened."""
        return tuple(sorted({v.on for v in self.visits}))

    def to_dict(self) -> dict[str, Any]:
        """The plan without its name, its maker and what was asked, as plain data."""
        return {name: told for name, told in to_plain(self).items() if name not in _BESIDE}

    @classmethod
    def from_dict(
        cls, told: Mapping[str, Any], *, plan_id: str, asked: Asked, made_at: datetime, made_by: str
    ) -> ServicePlan:
        """From :meth:`to_dict` and what it leaves out."""
        beside = {"plan_id": plan_id, "asked": to_plain(asked), "made_at": to_plain(made_at), "made_by": made_by}
        return from_plain(cls, {**told, **beside})

    def without(self, home_id: str) -> ServicePlan:
        """The plan after one home has withdrawn, nothing else changed."""
        return replace(
            self,
            visits=tuple(v for v in self.visits if v.home_id != home_id),
            waiting=tuple(w for w in self.waiting if w.home_id != home_id),
        )


def read_price_steps(text: str) -> tuple[tuple[int, float], ...]:
    """Price steps as people type them, such as "1: 150, 10: 130, 20: 115".

    Raises
    ------
    ValueError
        With a sentence that says which part cannot be read, or what is wrong with the steps.
    """
    found: list[tuple[int, float]] = []
    for part in filter(None, (p.strip() for p in text.replace(";", ",").split(","))):
        number, _, usd = part.partition(":")
        try:
            found.append((int(number.strip().rstrip("+")), float(usd.strip().lstrip("$"))))
        except ValueError:
            raise ValueError(
                f"'{part}' is not a price step. Write the number of homes and the price of one, such as 10: 130."
            ) from None
    counts, prices = [n for n, _ in found], [usd for _, usd in found]
    if any(n < 1 for n in counts) or any(usd < 0 for usd in prices):
        raise ValueError("A price step begins at one home or more, and its price is not below zero.")
    if counts != sorted(set(counts)) or prices != sorted(prices, reverse=True):
        raise ValueError("Price steps go up in homes and down in price: write 1: 150, 10: 130, 20: 115.")
    return tuple(found)


def read_prices(text: str) -> tuple[tuple[tuple[int, float], ...], float | None]:
    """Price steps, or the one price of any number of homes, as people type either: "10: 130, 20: 115" or "130".

    Raises
    ------
    ValueError
        As :func:`read_price_steps`.
    """
    alone = text.strip().lstrip("$")
    try:
        usd = float(alone) if alone else None
    except ValueError:
        return read_price_steps(text), None
    if usd is not None and not 0 <= usd < 100_000:
        raise ValueError("The price of one home is not below zero. Write dollars, such as 130.")
    return (), usd


def clock(seconds: int) -> str:
    """Seconds after midnight as people read them, such as "9:05 am"."""
    hour, minute = divmod(round(seconds / 60), 60)
    hour %= 24
    return f"{(hour - 1) % 12 + 1}:{minute:02d} {'am' if hour < 12 else 'pm'}"
