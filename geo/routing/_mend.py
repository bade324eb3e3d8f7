"""Small moves on a draft: made to fit the clock, filled up, neighbors brought together, thin days closed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Sequence

from geo.routing._board import PIN_CENTS, Board, Draft, day_price, street_neighbors

__all__ = ["close_thin_days", "fill", "order_well", "served_of", "settle", "together"]

Progress = Callable[[float, str], object]


def served_of(routes: Sequence[Draft]) -> list[int]:
    """Every visited stop, by index."""
    return sorted(i for r in routes for i in r.order)


def settle(board: Board, routes: list[Draft]) -> list[Draft]:
    """Take out the cheapest stops until every route fits the clock, break included."""
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
    passes: int = 4,
    fixed: Collection[int] = (),
    progress: Progress | None = None,
) -> list[Draft]:
    """Bring neighbors of one street to one date, by moving or exchanging single stops.

    A move is made when it lowers the cost with `charge` cents (the task's own
    when None) for each visited stop whose nearest visited neighbor on its
    street comes on another date. Which stops are visited does not change.
    `fixed` stops keep their date.
    """
    charge = board.costs.split_neighbor_cents if charge is None else charge
    near = street_neighbors(board.stops, board.travel_s, served_of(routes))
    back: dict[int, list[int]] = {}
    for i, k in near.items():
        back.setdefault(k, []).append(i)
    where = {i: r for r in routes for i in r.order}
    still = set(fixed)
    for turn in range(passes if charge else 0):
        if progress is not None:
            progress(turn / passes, "bringing neighbors together")
        moved = 0
        for i in sorted(near):
            k = near[i]
            if where[i].day == where[k].day:
                continue
            for one, other in ((i, k), (k, i)):
                if one not in still and _bring(board, routes, where, near, back, one, where[other].day, charge, still):
                    moved += 1
                    break
        if not moved:
            break
    return [r for r in routes if r.order]


def _splits(
    where: dict[int, Draft], near: dict[int, int], back: dict[int, list[int]], changed: dict[int, int]
) -> tuple[int, int]:
    """Pairs on two dates that touch the changed stops: (now, after the change)."""
    now = after = 0
    pairs = {(j, near[j]) for i in changed for j in (i, *back.get(i, ())) if j in near}
    for a, b in pairs:
        da, db = where[a].day, where[b].day
        now += da != db
        after += changed.get(a, da) != changed.get(b, db)
    return now, after


def _bring(
    board: Board,
    routes: list[Draft],
    where: dict[int, Draft],
    near: dict[int, int],
    back: dict[int, list[int]],
    i: int,
    d: int,
    charge: int,
    still: Collection[int],
) -> bool:
    """Bring stop i to day d, alone or in exchange for another stop, where that pays."""
    if d not in board.windows[i]:
        return False
    here = where[i]
    k = here.order.index(i)
    rest = here.order[:k] + here.order[k + 1 :]
    saved = board.removal(here.order, k) - (0 if rest else board.costs.crew_day_cents)
    counts = Counter[int]()
    for r in routes:
        counts[r.day] += len(r.order)
    now, after = _splits(where, near, back, {i: d})
    targets = [r for r in routes if r.day == d and r is not here and r.order]
    day_here = board.days[here.day]
    free_to_move = counts[here.day] - 1 >= day_here.min_stops or counts[here.day] == 1
    if free_to_move and _room(board, counts, d):
        prices = _price_of_one_more(board, counts, d)
        prices += day_price(day_here, counts[here.day] - 1) - day_price(day_here, counts[here.day])
        limit = -(saved + prices + charge * (after - now))
        best: tuple[int, Draft, int] | None = None
        for r in targets:
            found = best_place(board, r, i, limit if best is None else best[0])
            if found is not None:
                best = (found[0], r, found[1])
        if best is not None:
            here.order = rest
            best[1].order.insert(best[2], i)
            where[i] = best[1]
            return True
    exchange: tuple[int, Draft, list[int], list[int], int] | None = None
    for r in targets:
        for m, j in enumerate(r.order):
            if j in still or here.day not in board.windows[j]:
                continue
            now, after = _splits(where, near, back, {i: d, j: here.day})
            others = r.order[:m] + r.order[m + 1 :]
            limit = 0 if exchange is None else exchange[0]
            lost = board.removal(here.order, k) + board.removal(r.order, m) + charge * (after - now)
            # What removing saves cannot be less than what inserting costs at its cheapest: look at cents first.
            if lost + min(board.insertion(others, i, at) for at in range(len(others) + 1)) >= limit:
                continue
            into = best_place(board, Draft(d, others), i, limit - lost)
            if into is None:
                continue
            home = best_place(board, Draft(here.day, rest), j, limit - lost - into[0])
            if home is None:
                continue
            there_order = [*others[: into[1]], i, *others[into[1] :]]
            here_order = [*rest[: home[1]], j, *rest[home[1] :]]
            exchange = (lost + into[0] + home[0], r, there_order, here_order, j)
    if exchange is None:
        return False
    _, r, there_order, here_order, j = exchange
    r.order, here.order = there_order, here_order
    where[i], where[j] = r, here
    return True


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
