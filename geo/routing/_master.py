"""Which dates to open, and with how many crews and at which price step: a small mixed-integer program.

Stopped by its gap and its number of nodes, never by the clock, so that it can
be repeated.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_array

from geo.mixed_integer import Program, Solved, solve
from geo.routing._board import PIN_CENTS, Board
from geo.routing._values import PriceStep

__all__ = ["Opened", "is_needed", "open_days"]

_GAP = 0.005
_NODES = 4_000
_PACKED = 0.97
"""Share of a crew's day that whole jobs can fill: jobs are not sand (measured on the benchmark's days)."""


@dataclass(frozen=True, slots=True)
class Opened:
    """Dates to use (by index), the crews expected there, and the price of one stop."""

    crews: dict[int, int]
    price: dict[int, int]
    proven: bool


def is_needed(board: Board) -> bool:
    """Whether dates cannot simply be left to the routing: least numbers, or prices that fall with numbers."""
    return any(board.days[d].min_stops > 1 or board.days[d].price_steps for d in board.open_days)


def open_days(board: Board) -> Opened:
    """Choose dates, crews and price steps for the whole task, travel taken as usual ways.

    Stops with the same days, the same job and about the same prize are counted
    together; with the dates fixed the rest is a flow, so that only dates,
    crews and steps need to be whole numbers.
    """
    groups: dict[tuple[tuple[tuple[int, int], ...], int, int], list[int]] = {}
    prizes = np.array([min(p, PIN_CENTS) for p in board.prize], dtype=float)
    n = len(prizes)
    buckets = prizes if n <= 150 else np.searchsorted(np.quantile(prizes, np.linspace(0, 1, 11)[1:-1]), prizes)
    for i in range(n):
        if board.windows[i]:
            halves = tuple((d, _half(board, i, d)) for d in sorted(board.windows[i]))
            groups.setdefault((halves, board.service[i], int(buckets[i])), []).append(i)
    model = _Model()
    days = board.open_days
    opened = {d: model.variable(0.0, 1, whole=True) for d in days}
    there = np.array([board.travel[board.base, p] for p in board.place], dtype=float)
    reach = float(np.median(there)) if n else 0.0
    rate = board.costs.travel_cents_per_s
    crews = {
        d: model.variable(board.costs.crew_day_cents + 2 * reach * rate, board.days[d].crews, whole=True) for d in days
    }
    steps: dict[int, list[tuple[int, int, PriceStep]]] = {}
    for d in days:
        ordered = sorted(board.days[d].price_steps, key=lambda s: s.from_n)
        steps[d] = []
        for k, step in enumerate(ordered):
            reached = model.variable(0.0, 1, whole=True)
            counted = model.variable(float(step.price_cents), float(n), whole=False)
            low = step.from_n if k else min(step.from_n, 1)
            high = ordered[k + 1].from_n - 1 if k + 1 < len(ordered) else n
            model.row({counted: 1.0, reached: -float(low)}, 0.0, np.inf)
            model.row({counted: 1.0, reached: -float(high)}, -np.inf, 0.0)
            steps[d].append((reached, counted, step))
        if ordered:
            model.row({**{r: 1.0 for r, _, _ in steps[d]}, opened[d]: -1.0}, -np.inf, 0.0)
    count: dict[int, dict[int, float]] = {d: {} for d in days}
    work: dict[int, dict[int, float]] = {d: {} for d in days}
    half: dict[tuple[int, int], dict[int, float]] = {(d, h): {} for d in days for h in (1, 2)}
    for (halves, service, _), members in groups.items():
        hop = float(np.mean(board.hop_s[members]))
        prize = float(np.mean(prizes[members]))
        taken = {}
        for d, h in halves:
            x = model.variable(hop * rate - prize, float(len(members)), whole=False)
            taken[x] = 1.0
            count[d][x] = 1.0
            work[d][x] = service + hop
            if h:
                half[d, h][x] = service + hop
        model.row(taken, -np.inf, float(len(members)))
    for d in days:
        day = board.days[d]
        hours = (board.work_s(d) - 2 * reach + float(np.median(board.hop_s))) * _PACKED
        model.row({**work[d], crews[d]: -max(hours, 1.0)}, -np.inf, 0.0)
        morning = max(day.noon_s - day.start_s - reach, 0.0)
        lunch = day.lunch.length_s if day.lunch is not None else 0
        evening = max(day.end_s - day.noon_s - reach - lunch, 0.0)
        for h, hours in ((1, morning), (2, evening)):
            if half[d, h]:
                model.row({**half[d, h], crews[d]: -hours}, -np.inf, 0.0)
        model.row({crews[d]: 1.0, opened[d]: -float(day.crews)}, -np.inf, 0.0)
        model.row({**count[d], opened[d]: -float(max(day.min_stops, 1))}, 0.0, np.inf)
        most = day.max_stops if day.max_stops is not None else n
        model.row({**count[d], opened[d]: -float(most)}, -np.inf, 0.0)
        if steps[d]:
            model.row({**count[d], **{c: -1.0 for _, c, _ in steps[d]}}, 0.0, 0.0)
    solved = model.solve()
    found = solved.x
    use = [d for d in days if found is not None and found[opened[d]] > 0.5]
    price = {}
    for d in use:
        reached_steps = [s.price_cents for r, _, s in steps[d] if found is not None and found[r] > 0.5]
        price[d] = reached_steps[0] if reached_steps else 0
    return Opened({d: round(float(found[crews[d]])) for d in use} if found is not None else {}, price, solved.proven)


def _half(board: Board, i: int, d: int) -> int:
    """0 any time, 1 morning, 2 afternoon."""
    low, high = board.windows[i][d]
    day = board.days[d]
    if high <= day.noon_s < day.end_s:
        return 1
    return 2 if low >= day.noon_s > day.start_s else 0


class _Model:
    """A mixed-integer program, gathered row by row."""

    def __init__(self) -> None:
        self._cost: list[float] = []
        self._most: list[float] = []
        self._whole: list[bool] = []
        self._at: list[tuple[int, int, float]] = []
        self._low: list[float] = []
        self._high: list[float] = []

    def variable(self, cost: float, most: float, *, whole: bool) -> int:
        self._cost.append(cost)
        self._most.append(most)
        self._whole.append(whole)
        return len(self._cost) - 1

    def row(self, terms: dict[int, float], low: float, high: float) -> None:
        self._at += [(len(self._low), k, v) for k, v in terms.items()]
        self._low.append(low)
        self._high.append(high)

    def solve(self) -> Solved:
        rows, columns, values = zip(*self._at, strict=True)
        program = Program(
            cost=np.array(self._cost),
            whole=np.array(self._whole),
            lower=np.zeros(len(self._cost)),
            upper=np.array(self._most),
            rows=coo_array((values, (rows, columns)), shape=(len(self._low), len(self._cost))),
            row_lower=np.array(self._low),
            row_upper=np.array(self._high),
        )
        return solve(program, relative_gap=_GAP, node_limit=_NODES)
