"""Two plain methods, and the clusters they rest on: the fallback without a solver, and what the benchmark beats."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.cluster.vq import kmeans2
from scipy.optimize import linear_sum_assignment

from geo.routing._board import Board, Draft
from geo.routing._mend import best_place, fill, order_well, within_most

__all__ = ["clusters", "crew_days", "k_means_with_repair", "street_order", "worth_serving"]


def crew_days(board: Board, days: Sequence[int]) -> list[int]:
    """A day's index once for each of its crews."""
    return [d for d in days for _ in range(board.days[d].crews)]


def worth_serving(board: Board, days: Sequence[int]) -> list[int]:
    """The stops a knapsack of all crews' hours would take, best prize for its time first."""
    hours = float(sum(board.work_s(d) for d in crew_days(board, days)))
    takes = [board.service[i] + float(board.hop_s[i]) for i in range(len(board.stops))]
    chosen = []
    for i in sorted(range(len(takes)), key=lambda k: (-board.prize[k] / takes[k], k)):
        if not any(d in board.windows[i] for d in days):
            continue
        if hours < takes[i]:
            break
        hours -= takes[i]
        chosen.append(i)
    return sorted(chosen)


def clusters(xy: NDArray[np.float64], k: int, seed: int) -> NDArray[np.int64]:
    """Cluster of each point, by k-means started from k-means++; always the same for a seed."""
    if k <= 1 or len(xy) <= 1:
        return np.zeros(len(xy), dtype=np.int64)
    spread = xy.std(axis=0).max()
    if spread == 0:
        return np.arange(len(xy), dtype=np.int64) % k
    _, label = kmeans2(
        (xy - xy.mean(axis=0)) / spread, min(k, len(xy)), iter=30, minit="++", seed=np.random.default_rng(seed)
    )
    return np.asarray(label, dtype=np.int64)


def k_means_with_repair(board: Board, seed: int, days: Sequence[int]) -> list[Draft]:
    """One cluster a crew-day, given to the date that suits most of it, then filled by cheapest insertion."""
    slots = crew_days(board, days)
    chosen = worth_serving(board, days)
    if not chosen or not slots:
        return []
    k = min(len(slots), len(chosen))
    label = clusters(board.xy[chosen], k, seed)
    value = np.zeros((k, len(slots)))
    for i, c in zip(chosen, label.tolist(), strict=True):
        for s, d in enumerate(slots):
            if d in board.windows[i]:
                value[c, s] += board.prize[i]
    rows, columns = linear_sum_assignment(value, maximize=True)
    routes: list[Draft] = []
    for c, s in zip(rows.tolist(), columns.tolist(), strict=True):
        route = Draft(slots[s], [])
        members = [i for i, at in zip(chosen, label.tolist(), strict=True) if at == c]
        for i in sorted(members, key=lambda m: (-board.prize[m] / board.service[m], m)):
            if route.day in board.windows[i]:
                found = best_place(board, route, i, board.prize[i])
                if found is not None:
                    route.order.insert(found[1], i)
        if route.order and sum(board.prize[i] for i in route.order) > board.route_cents(route.order):
            order_well(board, route)
            routes.append(route)
    routes = within_most(board, routes)
    served = {i for r in routes for i in r.order}
    return fill(board, routes, [i for i in range(len(board.stops)) if i not in served], days=set(days))


def street_order(board: Board, days: Sequence[int]) -> list[Draft]:
    """Street by street: each crew drives on to the nearest street not done and serves whoever can that day."""
    left: dict[int, list[int]] = {}
    for i in range(len(board.stops)):
        if board.windows[i]:
            left.setdefault(board.street[i], []).append(i)
    counts = Counter[int]()
    routes = []
    for d in crew_days(board, days):
        route = Draft(d, [])
        at = board.base
        tried: set[int] = set()
        while True:
            open_stops = [i for s, group in left.items() if s not in tried for i in group if d in board.windows[i]]
            if not open_stops:
                break
            here = board.street[min(open_stops, key=lambda i: (board.travel[at, board.place[i]], i))]
            tried.add(here)
            while True:
                most = board.days[d].max_stops
                nearby = [i for i in left[here] if d in board.windows[i]] if most is None or counts[d] < most else []
                nearby = [i for i in nearby if board.fits(d, [*route.order, i])]
                if not nearby:
                    break
                i = min(nearby, key=lambda k: (board.travel[at, board.place[k]], k))
                route.order.append(i)
                counts[d] += 1
                left[here].remove(i)
                at = board.place[i]
            spare = board.work_s(d) - sum(board.service[i] for i in route.order)
            if spare < min(board.service):
                break
        if route.order:
            routes.append(route)
    return routes
