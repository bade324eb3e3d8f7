"""The task as arrays, and the clock: when a crew arrives, starts and leaves, or why it cannot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from geo.routing._values import CannotPlan, Costs, Day, Half, Stop, Task

__all__ = ["PIN_CENTS", "Board", "Draft", "arc_cents", "day_price", "street_neighbors"]

PIN_CENTS = 100_000_000
"""A pinned stop counts this much more than its prize, so that it never yields to one that is not pinned."""

Clock = tuple[list[tuple[int, int, int]], tuple[int, int] | None, int]


def arc_cents(travel_s: NDArray[np.int32], costs: Costs) -> NDArray[np.int32]:
    """Each way's cost in whole cents, halves rounded up: what is added is exact."""
    cents: NDArray[np.int32] = np.floor(travel_s * costs.travel_cents_per_s + 0.5).astype(np.int32)
    return cents


def day_price(day: Day, n: int) -> int:
    """What `n` stops cost on a day: the price of the highest step reached, for all of them."""
    if not n or not day.price_steps:
        return 0
    reached = [s for s in day.price_steps if s.from_n <= n]
    step = max(reached, key=lambda s: s.from_n) if reached else min(day.price_steps, key=lambda s: s.from_n)
    return n * step.price_cents


def street_neighbors(stops: Sequence[Stop], travel_s: NDArray[np.int32], served: Sequence[int]) -> dict[int, int]:
    """For each visited stop its nearest visited stop on the same street (ties: the first given)."""
    by_street: dict[str, list[int]] = {}
    for i in served:
        if stops[i].street:
            by_street.setdefault(stops[i].street, []).append(i)
    out = {}
    for group in by_street.values():
        if len(group) < 2:
            continue
        group = sorted(group)
        places = np.array([stops[i].place for i in group])
        between = travel_s[np.ix_(places, places)].astype(np.int64)
        np.fill_diagonal(between, np.iinfo(np.int64).max)
        for i, k in zip(group, between.argmin(axis=1).tolist(), strict=True):
            out[i] = group[k]
    return out


@dataclass(slots=True)
class Draft:
    """A route being worked on: the index of its day, its stops in order, its crew's number (0: any)."""

    day: int
    order: list[int]
    crew: int = 0


class Board:
    """A task checked and unpacked for quick look-ups; stops and days by their index."""

    def __init__(self, task: Task) -> None:
        self.task = task
        self.stops, self.costs = task.stops, task.costs
        self.days: tuple[Day, ...] = tuple(sorted(task.days, key=lambda d: d.date))
        self.said: list[str] = []
        self._check()
        travel = np.ascontiguousarray(task.travel_s, dtype=np.int32)
        self.travel_s = travel
        self.cents = arc_cents(travel, task.costs)
        self.travel: memoryview[int] = memoryview(cast(Any, travel))
        self.arc: memoryview[int] = memoryview(cast(Any, self.cents))
        self.place = [s.place for s in self.stops]
        self.service = [s.service_s for s in self.stops]
        self.prize = [s.prize_cents + (PIN_CENTS if s.pinned is not None else 0) for s in self.stops]
        self.base = task.depot.place
        codes = {name: k for k, name in enumerate(dict.fromkeys(s.street for s in self.stops))}
        self.street = [codes[s.street] for s in self.stops]
        usable = self._usable_days()
        self.windows = [self._windows(stop, usable) for stop in self.stops]
        self.open_days = [d for d, ok in enumerate(usable) if ok]
        self.xy = np.array([(s.x_m, s.y_m) for s in self.stops], dtype=float).reshape(-1, 2)
        self._hops()
        if not any(self.windows):
            raise CannotPlan(["None of the homes can do any of the days: offer other days, or ask the homes again."])

    # ---- what is given -----------------------------------------------------------------------

    def _check(self) -> None:
        task, bad = self.task, list[str]()
        matrix = task.travel_s
        if not task.stops:
            bad.append("There is nobody to visit: no home was given.")
        if not task.days:
            bad.append("There is no day to plan: give at least one date.")
        if matrix.ndim != 2 or matrix.shape[0] != matrix.shape[1]:
            bad.append("The travel matrix must be square: a row and a column for each place.")
        elif not np.issubdtype(matrix.dtype, np.integer):
            bad.append("The travel matrix must hold whole seconds.")
        elif matrix.size and matrix.min() < 0:
            bad.append("The travel matrix holds a negative time; travel takes zero seconds or more.")
        places = matrix.shape[0] if matrix.ndim == 2 else 0
        if not 0 <= task.depot.place < places:
            bad.append("The crews' start is not a row of the travel matrix.")
        seen: set[str] = set()
        for stop in task.stops:
            if stop.stop_id in seen:
                bad.append(f"{stop.stop_id} is given twice; give each home once.")
            seen.add(stop.stop_id)
            if stop.service_s <= 0:
                bad.append(f"{stop.stop_id}: a job takes more than {stop.service_s} seconds; give its length.")
            if stop.prize_cents < 0:
                bad.append(f"{stop.stop_id}: what a visit is worth cannot be negative; leave the home out instead.")
            if not 0 <= stop.place < places:
                bad.append(f"{stop.stop_id}: its place {stop.place} is not a row of the travel matrix.")
            if not (np.isfinite(stop.x_m) and np.isfinite(stop.y_m)):
                bad.append(f"{stop.stop_id}: its coordinates are not numbers.")
        dates = [d.date for d in task.days]
        bad += [
            f"{d.isoformat()} is given twice; give each date once." for d in sorted(set(dates)) if dates.count(d) > 1
        ]
        for day in task.days:
            bad += _day_problems(day)
        amounts = (
            task.costs.travel_cents_per_s,
            task.costs.street_change_cents,
            task.costs.crew_day_cents,
            task.costs.split_neighbor_cents,
        )
        if min(amounts) < 0 or not all(np.isfinite(a) for a in amounts):
            bad.append("Costs cannot be negative.")
        if bad:
            raise CannotPlan(bad)

    def _usable_days(self) -> list[bool]:
        shortest = min(s.service_s for s in self.stops)
        usable, why = [], []
        for day in self.days:
            name = day.date.isoformat()
            if day.crews == 0:
                why.append(f"{name} has no crew and is left out.")
            elif day.max_stops == 0:
                why.append(f"{name} allows no home and is left out.")
            elif day.end_s - day.start_s < shortest:
                why.append(
                    f"{name}: its {(day.end_s - day.start_s) // 60} minutes are shorter than the shortest job "
                    f"({shortest // 60} minutes); the day is left out."
                )
            usable.append(len(why) == 0 or not why[-1].startswith(name))
        if not any(usable):
            raise CannotPlan([*why, "No day is left to plan: give a day with a crew and enough hours."])
        self.said += why
        return usable

    def _windows(self, stop: Stop, usable: Sequence[bool]) -> dict[int, tuple[int, int]]:
        """Index of each day that suits -> earliest start and latest end of the job there."""
        halves = dict(stop.allowed) if stop.allowed is not None else None
        out = {}
        for d, day in enumerate(self.days):
            if not usable[d] or day.date in stop.forbidden or (stop.pinned not in (None, day.date)):
                continue
            if halves is not None and day.date not in halves:
                continue
            half = halves[day.date] if halves is not None else Half.ANY
            low = max(day.start_s, day.noon_s) if half is Half.PM else day.start_s
            high = min(day.end_s, day.noon_s) if half is Half.AM else day.end_s
            there = int(self.task.travel_s[self.task.depot.place, stop.place])
            back = int(self.task.travel_s[stop.place, self.task.depot.place])
            low = max(low, day.start_s + there)
            if high - low >= stop.service_s and low + stop.service_s + back <= day.end_s:
                out[d] = (low, high)
        return out

    def _hops(self) -> None:
        """A stop's usual way to the next: the mean of its four nearest others."""
        places = np.array(self.place)
        n = len(places)
        if n < 2:
            self.hop_s = np.zeros(n)
            return
        k = min(4, n - 1)
        self.hop_s = np.empty(n)
        for low in range(0, n, 500):
            rows = self.travel_s[np.ix_(places[low : low + 500], places)].astype(float)
            rows[np.arange(len(rows)), low + np.arange(len(rows))] = np.inf
            self.hop_s[low : low + 500] = np.partition(rows, k - 1, axis=1)[:, :k].mean(axis=1)

    def nearest_by_air(self, k: int) -> NDArray[np.int64]:
        """Indices of each stop's k nearest stops by their coordinates, itself first."""
        k = min(k, len(self.stops))
        return np.asarray(cKDTree(self.xy).query(self.xy, k=k)[1], dtype=np.int64).reshape(len(self.stops), -1)

    # ---- the clock ---------------------------------------------------------------------------

    def clock(self, d: int, order: Sequence[int]) -> Clock | None:
        """Arrival, start and end of each job, the break, and the return; None where the day is too short.

        Every crew leaves at the day's start and takes its break at the first
        moment from the lunch's start on when it is not at a job.
        """
        day = self.days[d]
        lunch = day.lunch
        t, at = day.start_s, self.base
        taken: tuple[int, int] | None = None
        out: list[tuple[int, int, int]] = []
        travel = self.travel
        for i in order:
            window = self.windows[i].get(d)
            if window is None:
                return None
            if lunch is not None and taken is None and t >= lunch.start_s:
                if t > lunch.latest_s:
                    return None
                taken = (t, t + lunch.length_s)
                t = taken[1]
            place = self.place[i]
            arrive = t + travel[at, place]
            start = max(arrive, window[0])
            if (
                lunch is not None
                and taken is None
                and (start >= lunch.start_s or start + self.service[i] > lunch.latest_s)
            ):
                begin = max(arrive, lunch.start_s)
                if begin > lunch.latest_s:
                    return None
                taken = (begin, begin + lunch.length_s)
                start = max(taken[1], window[0])
            t = start + self.service[i]
            if t > window[1]:
                return None
            out.append((arrive, start, t))
            at = place
        end = t + travel[at, self.base]
        return (out, taken, end) if end <= day.end_s else None

    def fits(self, d: int, order: Sequence[int]) -> bool:
        """Whether a crew can do these stops in this order."""
        return self.clock(d, order) is not None

    def work_s(self, d: int) -> int:
        """Seconds of work and driving in a crew's day."""
        day = self.days[d]
        rest = day.lunch.length_s if day.lunch is not None and day.end_s > day.lunch.latest_s else 0
        return day.end_s - day.start_s - rest

    # ---- money -------------------------------------------------------------------------------

    def step(self, i: int | None, j: int | None) -> int:
        """Cents from stop i to stop j (None: the start): the way, and the change of street."""
        if i is None or j is None:
            a = self.base if i is None else self.place[i]
            b = self.base if j is None else self.place[j]
            return int(self.arc[a, b])
        change = self.costs.street_change_cents if self.street[i] != self.street[j] else 0
        return int(self.arc[self.place[i], self.place[j]]) + change

    def route_cents(self, order: Sequence[int]) -> int:
        """Cents of ways, street changes and the crew's day."""
        if not order:
            return 0
        path = [None, *order, None]
        return self.costs.crew_day_cents + sum(self.step(a, b) for a, b in pairwise(path))

    def insertion(self, order: Sequence[int], i: int, at: int) -> int:
        """Cents more when stop i comes before position `at`."""
        before = order[at - 1] if at else None
        after = order[at] if at < len(order) else None
        gone = self.step(before, after) if order else 0
        return self.step(before, i) + self.step(i, after) - gone

    def removal(self, order: Sequence[int], at: int) -> int:
        """Cents more (negative: less) when the stop at a position is taken out; the crew's day not counted."""
        before = order[at - 1] if at else None
        after = order[at + 1] if at + 1 < len(order) else None
        kept = self.step(before, after) if len(order) > 1 else 0
        return kept - self.step(before, order[at]) - self.step(order[at], after)


def _day_problems(day: Day) -> list[str]:
    name, bad = day.date.isoformat(), list[str]()
    if day.crews < 0:
        bad.append(f"{name}: the number of crews cannot be negative.")
    if day.start_s < 0 or day.end_s <= day.start_s or day.end_s > 86_400:
        bad.append(f"{name}: the day must end after it starts, within one date.")
    if day.min_stops < 0 or (day.max_stops is not None and day.max_stops < 0):
        bad.append(f"{name}: numbers of homes cannot be negative.")
    if day.max_stops is not None and day.max_stops < day.min_stops:
        bad.append(f"{name}: at most {day.max_stops} homes cannot be fewer than the least, {day.min_stops}.")
    lunch = day.lunch
    if lunch is not None and (lunch.length_s <= 0 or lunch.latest_s < lunch.start_s or lunch.start_s < day.start_s):
        bad.append(
            f"{name}: lunch must have a length and begin within the day; leave it out where a day begins after it."
        )
    steps = [s.from_n for s in day.price_steps]
    if any(s.from_n < 1 or s.price_cents < 0 for s in day.price_steps) or len(set(steps)) < len(steps):
        bad.append(f"{name}: price steps begin at one home or more, each at another number, with no negative price.")
    return bad
