"""Small moves on a draft: made to fit the clock, filled up, neighbors brought together, thin days closed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Sequence

from geo.routing._board import PIN_CENTS, Board, Draft, day_price, street_neighbors

__all__ = ["best_place", "close_thin_days", "fill", "order_well", "served_of", "settle", "together", "within_most"]

_CHARGES = (0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.0, 1.0, 1.0)
"""Shares of the charge in turn; against three steps, 0.15% less in all and 3 more of 100 neighbors on one date."""

Progress = Callable[[float, str], object]


def served_of(routes: Sequence[Draft]) -> list[int]:
    """Every visited stop, by index."""
    return sorted(i for r in routes for i in r.order)


def settle(board: Board, routes: list[Draft]) -> list[Draft]:
    """Take out the cheapest stops until every route fits the clock, break included, and every date its most."""
    for route in routes:
        while route.order and not board.fits(route.day, route.order):
            # Leaving out one stop that mends everything beats leaving out two; then the least prize.
            choice = min(
                range(len(route.order)),
                key=lambda k: (
                    not board.fits(route.day, route.order[:k] + route.order[k + 1 :]),
                    board.prize[route.order[k]],
                    k,
                ),
            )
            del route.order[choice]
    return within_most(board, [r for r in routes if r.order])


def within_most(board: Board, routes: list[Draft]) -> list[Draft]:
    """The least valuable stops of a date beyond its most are taken out."""
    for d in {r.day for r in routes}:
        most = board.days[d].max_stops
        inside = sorted((board.prize[i], i) for r in routes if r.day == d for i in r.order)
        surplus = {i for _, i in inside[: max(0, len(inside) - most)]} if most is not None else set()
        for r in routes:
            if r.day == d:
                r.order = [i for i in r.order if i not in surplus]
    return [r for r in routes if r.order]


def _room(board: Board, counts: Counter[int], d: int) -> bool:
    most = board.days[d].max_stops
    return most is None or counts[d] < most


def _price_of_one_more(board: Board, counts: Counter[int], d: int) -> int:
    return day_price(board.days[d], counts[d] + 1) - day_price(board.days[d], counts[d])


def best_place(board: Board, route: Draft, i: int, below: int) -> tuple[int, int] | None:
    """The cheapest position for a stop that costs less than `below` and fits; (cents, position)."""
    order = route.order
    options = sorted((board.insertion(order, i, at), at) for at in range(len(order) + 1))
    for cents, at in options:
        if cents >= below:
            return None
        if board.fits(route.day, [*order[:at], i, *order[at:]]):
            return cents, at
    return None


def fill(
    board: Board,
    routes: list[Draft],
    waiting: Sequence[int],
    *,
    days: Collection[int],
    new_routes: bool = True,
    min_gain: int = 0,
) -> list[Draft]:
    """Insert waiting stops where their prize is worth more than the way, most valuable first.

    Only `days` may be used; an unused crew of theirs may start a route.
    """
    counts = Counter[int]()
    crews = Counter[int]()
    for r in routes:
        counts[r.day] += len(r.order)
        crews[r.day] += 1
    load = [sum(board.service[i] for i in r.order) + _ways(board, r.order) for r in routes]
    for i in sorted(waiting, key=lambda k: (-board.prize[k], k)):
        best: tuple[int, int, int] | None = None
        limit = board.prize[i] - min_gain
        for k, route in enumerate(routes):
            d = route.day
            if d not in days or d not in board.windows[i] or not _room(board, counts, d):
                continue
            if load[k] + board.service[i] > board.work_s(d):
                continue
            price = _price_of_one_more(board, counts, d)
            found = best_place(board, route, i, (limit if best is None else best[0]) - price)
            if found is not None:
                best = (found[0] + price, k, found[1])
        fresh: tuple[int, int] | None = None
        if new_routes:
            for d in sorted(board.windows[i]):
                if d in days and crews[d] < board.days[d].crews and _room(board, counts, d) and board.fits(d, [i]):
                    cents = board.route_cents([i]) + _price_of_one_more(board, counts, d)
                    if cents < (limit if best is None else best[0]) and (fresh is None or (cents, d) < fresh):
                        fresh = (cents, d)
        if fresh is not None:
            routes.append(Draft(fresh[1], [i]))
            load.append(board.service[i] + _ways(board, [i]))
            counts[fresh[1]] += 1
            crews[fresh[1]] += 1
        elif best is not None:
            route = routes[best[1]]
            route.order.insert(best[2], i)
            load[best[1]] = sum(board.service[k] for k in route.order) + _ways(board, route.order)
            counts[route.day] += 1
    return routes


def _ways(board: Board, order: Sequence[int]) -> int:
    at, total = board.base, 0
    for i in order:
        total += board.travel[at, board.place[i]]
        at = board.place[i]
    return total + board.travel[at, board.base]


def order_well(board: Board, route: Draft) -> None:
    """Move single stops within a route while that makes it cheaper."""
    improved = True
    while improved:
        improved = False
        for k in range(len(route.order)):
            gain = board.removal(route.order, k)
            rest = route.order[:k] + route.order[k + 1 :]
            found = best_place(board, Draft(route.day, rest), route.order[k], -gain)
            if found is not None:
                route.order = [*rest[: found[1]], route.order[k], *rest[found[1] :]]
                improved = True
                break


def together(
    board: Board,
    routes: list[Draft],
    *,
    charge: int | None = None,
    fixed: Collection[int] = (),
    progress: Progress | None = None,
) -> list[Draft]:
    """Bring neighbors of one street to one date, by moving or exchanging single stops.

    A move is made when it lowers the cost with `charge` cents (the task's own
    when None) for each visited stop whose nearest visited neighbor on its
    street comes on another date. Which stops are visited does not change.
    `fixed` stops keep their date.
    """
    whole = board.costs.split_neighbor_cents if charge is None else charge
    bring = _Together(board, routes, fixed)
    # Cheap moves first: a costly one made early may stand in the way of three cheap ones.
    for turn, part in enumerate(_CHARGES if whole else ()):
        if progress is not None:
            progress(turn / len(_CHARGES), "bringing neighbors together")
        if not bring.round(round(whole * part)) and part == 1.0:
            break
    for route in routes:
        order_well(board, route)
    return [r for r in routes if r.order]


_Step = tuple[int, list[tuple[Draft, list[int]]]]
"""Cents more, and the routes with their new orders."""


class _Together:
    """Moves that bring a pair of neighbors to one date, on routes that it changes in place."""

    def __init__(self, board: Board, routes: list[Draft], fixed: Collection[int]) -> None:
        self._board, self._routes, self._still = board, routes, set(fixed)
        self._near = street_neighbors(board.stops, board.travel_s, served_of(routes))
        self._back: dict[int, list[int]] = {}
        for i, k in self._near.items():
            self._back.setdefault(k, []).append(i)
        self._where = {i: r for r in routes for i in r.order}

    def round(self, charge: int) -> int:
        """Try every split pair once; how many moves were made."""
        made = 0
        for i, k in sorted(self._near.items()):
            here, there = self._where[i].day, self._where[k].day
            if here == there:
                continue
            steps = [self._bring(one, d, charge) for one, d in ((i, there), (k, here)) if one not in self._still]
            step = min((s for s in steps if s is not None), key=lambda s: s[0], default=None)
            if step is not None:
                made += 1
                for route, order in step[1]:
                    route.order = order
                    for j in order:
                        self._where[j] = route
        return made

    def _splits(self, changed: dict[int, int]) -> int:
        """How many more pairs are split once stops have their changed days."""
        more = 0
        pairs = {(j, self._near[j]) for i in changed for j in (i, *self._back.get(i, ())) if j in self._near}
        for a, b in pairs:
            da, db = self._where[a].day, self._where[b].day
            more += (changed.get(a, da) != changed.get(b, db)) - (da != db)
        return more

    def _bring(self, i: int, d: int, charge: int) -> _Step | None:
        """The cheapest way to bring stop i to day d, alone or in exchange for another; None where it does not pay."""
        board, here = self._board, self._where[i]
        if d not in board.windows[i]:
            return None
        k = here.order.index(i)
        rest = here.order[:k] + here.order[k + 1 :]
        gone = board.removal(here.order, k)
        best = self._move(i, d, here, rest, gone + charge * self._splits({i: d}))
        for r in self._routes:
            if r.day != d or r is here:
                continue
            for m, j in enumerate(r.order):
                if j in self._still or here.day not in board.windows[j]:
                    continue
                others = r.order[:m] + r.order[m + 1 :]
                limit = 0 if best is None else best[0]
                lost = gone + board.removal(r.order, m) + charge * self._splits({i: d, j: here.day})
                # Cents are quicker to look at than the clock.
                if lost + min(board.insertion(others, i, at) for at in range(len(others) + 1)) >= limit:
                    continue
                into = best_place(board, Draft(d, others), i, limit - lost)
                if into is None:
                    continue
                home = best_place(board, Draft(here.day, rest), j, limit - lost - into[0])
                if home is not None:
                    there_order = [*others[: into[1]], i, *others[into[1] :]]
                    here_order = [*rest[: home[1]], j, *rest[home[1] :]]
                    best = (lost + into[0] + home[0], [(r, there_order), (here, here_order)])
        return best

    def _move(self, i: int, d: int, here: Draft, rest: list[int], cents: int) -> _Step | None:
        board = self._board
        counts = Counter[int]()
        for r in self._routes:
            counts[r.day] += len(r.order)
        left = counts[here.day] - 1
        if 0 < left < board.days[here.day].min_stops or not _room(board, counts, d):
            return None
        cents += day_price(board.days[here.day], left) - day_price(board.days[here.day], left + 1)
        cents += _price_of_one_more(board, counts, d) - (0 if rest else board.costs.crew_day_cents)
        best: _Step | None = None
        for r in self._routes:
            if r.day == d and r is not here and r.order:
                found = best_place(board, r, i, -cents if best is None else best[0] - cents)
                if found is not None:
                    order = [*r.order[: found[1]], i, *r.order[found[1] :]]
                    best = (cents + found[0], [(r, order), (here, rest)])
        return best


def close_thin_days(
    board: Board, routes: list[Draft], waiting: Collection[int], *, days: Collection[int]
) -> tuple[list[Draft], set[int]]:
    """Bring every date to its least number of stops, or close it.

    A thin date is first filled from the waiting stops and from dates with some
    to spare; the thinnest that stays below its least is closed and its stops
    are offered to the others, until none is thin.

    Returns
    -------
    tuple
        The routes, and the dates (by index) that may still be used.
    """
    usable = set(days)
    while True:
        counts = Counter(r.day for r in routes for _ in r.order)
        thin = sorted((counts[d], d) for d in counts if 0 < counts[d] < board.days[d].min_stops)
        if not thin:
            return [r for r in routes if r.order], usable
        _, d = thin[0]
        if not _fill_up(board, routes, d, counts, waiting):
            usable.discard(d)
            loose = [i for r in routes if r.day == d for i in r.order]
            routes = [r for r in routes if r.day != d]
            # Only dates that already reach their least may take them: no new thin date is opened.
            alive = {k for k in usable if counts[k] >= max(1, board.days[k].min_stops)}
            thin_days = {k for k in usable if 0 < counts[k] < board.days[k].min_stops}
            routes = fill(board, routes, loose, days=alive | thin_days)


def _fill_up(board: Board, routes: list[Draft], d: int, counts: Counter[int], waiting: Collection[int]) -> bool:
    """Whether a thin date could be filled; the routes are changed only if so."""
    missing = board.days[d].min_stops - counts[d]
    trial = [Draft(r.day, list(r.order), r.crew) for r in routes]
    served = set(served_of(trial))
    gain = 0
    free = [i for i in sorted(waiting) if i not in served and d in board.windows[i]]
    spare = []
    for r in trial:
        if r.day == d or counts[r.day] <= board.days[r.day].min_stops:
            continue
        spare += [(board.removal(r.order, k), r.day, i) for k, i in enumerate(r.order) if d in board.windows[i]]
    left = Counter(counts)
    choices = [(-board.prize[i], -1, i) for i in free] + sorted(spare)
    for cost, source, i in choices:
        if missing == 0:
            break
        if source >= 0 and left[source] <= max(1, board.days[source].min_stops):
            continue
        best: tuple[int, int, int] | None = None
        own = [k for k, r in enumerate(trial) if r.day == d and i not in r.order]
        for k in own:
            found = best_place(board, trial[k], i, PIN_CENTS * 2 if best is None else best[0])
            if found is not None:
                best = (found[0], k, found[1])
        if best is None:
            continue
        if source >= 0:
            for r in trial:
                if r.day == source and i in r.order:
                    r.order.remove(i)
            left[source] -= 1
        trial[best[1]].order.insert(best[2], i)
        gain -= cost + best[0]
        missing -= 1
    lost = sum(board.prize[i] for r in routes if r.day == d for i in r.order)
    if missing or gain + lost < 0:
        return False
    for r, t in zip(routes, trial, strict=True):
        r.order = t.order
    return True
