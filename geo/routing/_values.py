"""The words of service days: stops, days, costs, and a plan. Frozen; money in cents, time in seconds."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from geo.errors import GeoError

__all__ = [
    "CannotPlan",
    "CostBreakdown",
    "Costs",
    "Day",
    "Depot",
    "Half",
    "Lunch",
    "Plan",
    "PriceStep",
    "Route",
    "Stop",
    "Task",
    "TooFew",
    "Unserved",
    "Visit",
]


class CannotPlan(GeoError):
    """What was asked for cannot be planned; ``problems`` holds every reason, a sentence each."""

    def __init__(self, problems: tuple[str, ...] | list[str]) -> None:
        self.problems = tuple(problems)
        super().__init__(" ".join(self.problems))


class Half(StrEnum):
    """The part of a day when somebody is there. A morning job is done by noon, an afternoon job begins at noon."""

    ANY = "any"
    AM = "am"
    PM = "pm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """A place to visit once, or not at all.

    ``place`` is its row of the travel matrix. ``allowed`` lists the days (and
    halves) that suit; None means every day. A ``pinned`` stop is visited on
    that day or not at all, and comes before every stop that is not pinned.
    ``prize_cents`` is what visiting it is worth. ``x_m`` and ``y_m`` (metres)
    only serve to form clusters.
    """

    stop_id: str
    place: int
    street: str
    service_s: int
    prize_cents: int
    allowed: tuple[tuple[date, Half], ...] | None = None
    pinned: date | None = None
    forbidden: tuple[date, ...] = ()
    x_m: float = 0.0
    y_m: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Lunch:
    """A break of ``length_s`` that begins between two jobs, from ``start_s`` to ``latest_s`` (seconds of the day).

    A crew whose last job begins before ``start_s`` and ends by ``latest_s``
    needs none.
    """

    start_s: int
    length_s: int
    latest_s: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceStep:
    """What one stop costs on a day with ``from_n`` stops or more (until the next step), all of them alike."""

    from_n: int
    price_cents: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A date on which crews could come; times in seconds after midnight.

    Below ``min_stops`` nobody comes; ``max_stops`` limits all crews together.
    """

    date: date
    crews: int
    start_s: int = 8 * 3600
    end_s: int = 16 * 3600
    lunch: Lunch | None = None
    min_stops: int = 0
    max_stops: int | None = None
    price_steps: tuple[PriceStep, ...] = ()
    noon_s: int = 12 * 3600


@dataclass(frozen=True, slots=True, kw_only=True)
class Depot:
    """Where the crews begin and end their day: the entrance, as a rule."""

    place: int = 0
    x_m: float = 0.0
    y_m: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """What is weighed against the prizes.

    ``street_change_cents`` for each pair of consecutive stops on two streets;
    ``split_neighbor_cents`` for each visited stop whose nearest visited stop on
    its street has another date.
    """

    travel_cents_per_s: float = 2.5
    street_change_cents: int = 500
    crew_day_cents: int = 5_000
    split_neighbor_cents: int = 500


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Task:
    """Everything a plan is made from. ``travel_s[i, j]``: seconds from place i to place j."""

    stops: tuple[Stop, ...]
    days: tuple[Day, ...]
    travel_s: NDArray[np.int32]
    depot: Depot = field(default_factory=Depot)
    costs: Costs = field(default_factory=Costs)


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """One stop of a route; seconds after midnight."""

    stop_id: str
    arrive_s: int
    start_s: int
    leave_s: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """One crew on one date, in order. ``lunch`` is the break's start and end, where there is one."""

    date: date
    crew: int
    visits: tuple[Visit, ...]
    lunch: tuple[int, int] | None
    start_s: int
    end_s: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Unserved:
    """A stop that is not visited, and what it would need."""

    stop_id: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CostBreakdown:
    """Whole cents. ``total`` is the sum of the rest."""

    travel: int
    street_changes: int
    crew_days: int
    prices: int
    unserved: int
    split_neighbors: int
    total: int


@dataclass(frozen=True, slots=True, kw_only=True)
class TooFew:
    """A date that stays closed because ``missing`` more stops would be needed, and the streets to ask.

    ``wanting`` are the unserved stops that could come that day; ``streets``
    names up to two streets and how many of the places there were not yet asked
    or are not yet in.
    """

    date: date
    missing: int
    wanting: tuple[str, ...]
    streets: tuple[tuple[str, int], ...]
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Who is visited when. Equal inputs, seed and iterations give an equal plan, byte for byte."""

    routes: tuple[Route, ...]
    unserved: tuple[Unserved, ...]
    cost: CostBreakdown
    method: str
    too_few: tuple[TooFew, ...]
    sentences: tuple[str, ...]
    seed: int
    iterations: int

    def date_of(self) -> dict[str, date]:
        """The date of every visited stop."""
        return {visit.stop_id: route.date for route in self.routes for visit in route.visits}
