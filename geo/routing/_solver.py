"""The routing itself, by PyVRP: one vehicle type a date, one profile for each distinct pattern of who can come when.

PyVRP is imported here and nowhere else. Its time runs without the break; the
board's clock puts the break in afterwards, and what does not fit any more is
taken out and offered again.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from geo.routing._board import Board, Draft
from geo.routing._simple import clusters, crew_days, worth_serving

__all__ = ["solve_routes"]

_ZONE = 80
"""Stops a zone, about: in equal time zones of 80 beat 60, 110, 150, 200 and the whole (1,000 and 3,000 homes)."""
_WHOLE = 150
_LEAST_CREW_DAYS = 6
"""A zone with fewer crew-days cannot offer its stops the dates that they can do."""
_AGAIN = 3
"""How often zones are drawn anew around the routes and improved: three short rounds beat one long one."""
_FORBIDDEN_CENTS = 1_000_000_000
_BIG_S = 400_000

Progress = Callable[[float, str], object]


def solve_routes(
    board: Board,
    days: Sequence[int],
    *,
    price: dict[int, int],
    seed: int,
    iterations: int,
    tries: int,
    start: Sequence[Draft] = (),
    progress: Progress,
) -> list[Draft]:
    """Routes on the given days; the best of `tries` seeds, in zones where there are many stops.

    Raises
    ------
    ImportError
        PyVRP is not installed.
    """
    import pyvrp  # noqa: F401 -- fail before any work is done

    stops = [i for i in range(len(board.stops)) if any(d in board.windows[i] for d in days)]
    crews = {d: board.days[d].crews for d in days}
    if len(stops) <= _WHOLE:
        return _best(board, stops, crews, price, seed, iterations, tries, start, progress)
    k = _zones(board, stops, days)
    label = clusters(board.xy[stops], k, seed)
    zones = [[i for i, c in zip(stops, label.tolist(), strict=True) if c == z] for z in range(int(label.max()) + 1)]
    zones = [z for z in zones if z]
    routes: list[Draft] = []
    for z, (members, share) in enumerate(zip(zones, _deal(board, zones, days), strict=True)):
        told = _part(progress, z, len(zones) * (1 + _AGAIN), f"routing zone {z + 1} of {len(zones)}")
        routes += _best(board, members, share, price, seed + z, iterations, tries, (), told)
    for turn in range(_AGAIN):
        routes = _regroup(board, stops, routes, crews, price, seed + 100 * (turn + 1), iterations, turn, progress)
    return routes


def _zones(board: Board, stops: Sequence[int], days: Sequence[int]) -> int:
    """How many zones: about `_ZONE` stops, and enough crew-days in each that its stops find their dates."""
    return max(1, min(round(len(stops) / _ZONE), len(crew_days(board, days)) // _LEAST_CREW_DAYS))


def _part(progress: Progress, z: int, count: int, words: str) -> Progress:
    return lambda share, _: progress((z + share) / count, words)


def _regroup(
    board: Board,
    stops: Sequence[int],
    routes: Sequence[Draft],
    crews: dict[int, int],
    price: dict[int, int],
    seed: int,
    iterations: int,
    turn: int,
    progress: Progress,
) -> list[Draft]:
    """Other zones, drawn around the routes there are, each improved from what it has: old borders disappear."""
    k = _zones(board, stops, sorted(crews))
    middle = np.array([board.xy[r.order].mean(axis=0) for r in routes])
    label = clusters(middle, k, seed)
    zones = [[r for r, c in zip(routes, label.tolist(), strict=True) if c == z] for z in range(int(label.max()) + 1)]
    zones = [z for z in zones if z]
    served = {i for r in routes for i in r.order}
    waiting = [i for i in stops if i not in served]
    _, nearest = cKDTree(middle).query(board.xy[waiting]) if waiting else (None, np.array([], dtype=int))
    zone_of = {id(r): z for z, group in enumerate(zones) for r in group}
    near: list[list[int]] = [[] for _ in zones]
    for i, r in zip(waiting, nearest.tolist(), strict=True):
        near[zone_of[id(routes[r])]].append(i)
    idle = dict(crews)
    for r in routes:
        idle[r.day] -= 1
    out: list[Draft] = []
    for z, group in enumerate(zones):
        share = dict.fromkeys(crews, 0)
        for r in group:
            share[r.day] += 1
        for d, n in idle.items():  # crews that nobody uses are offered to the first zones in turn
            share[d] += n
        members = sorted({i for r in group for i in r.order} | set(near[z]))
        told = _part(progress, (turn + 1) * len(zones) + z, len(zones) * (1 + _AGAIN), f"improving zone {z + 1}")
        better = _best(board, members, share, price, seed + z, iterations, 1, group, told) or group
        for d in idle:
            idle[d] = share[d] - sum(r.day == d for r in better)
        out += better
    return out


def _deal(board: Board, zones: Sequence[Sequence[int]], days: Sequence[int]) -> list[dict[int, int]]:
    """Crew-days dealt to the zones in proportion to the work worth doing there, spread over the dates."""
    worth = set(worth_serving(board, days))
    work = np.array([sum(board.service[i] + board.hop_s[i] for i in z if i in worth) for z in zones], dtype=float)
    total = len(crew_days(board, days))
    exact = work / max(work.sum(), 1.0) * total
    share = np.floor(exact).astype(int)
    for z in np.argsort(-(exact - share), kind="stable")[: total - int(share.sum())]:
        share[z] += 1
    free = {d: board.days[d].crews for d in days}
    dealt: list[dict[int, int]] = [dict.fromkeys(days, 0) for _ in zones]
    wanting = share.tolist()
    while any(wanting):
        for z in sorted(range(len(zones)), key=lambda k: (-wanting[k], k)):
            if not wanting[z]:
                continue
            # The date where the zone has fewest crews; among those, the one with most crews to give.
            d = min((d for d in days if free[d]), key=lambda d: (dealt[z][d], -free[d], d))
            dealt[z][d] += 1
            free[d] -= 1
            wanting[z] -= 1
    return dealt


def _best(
    board: Board,
    stops: Sequence[int],
    crews: dict[int, int],
    price: dict[int, int],
    seed: int,
    iterations: int,
    tries: int,
    start: Sequence[Draft],
    progress: Progress,
) -> list[Draft]:
    from pyvrp import Solution, SolveParams, solve
    from pyvrp.stop import MaxIterations

    if not stops or not any(crews.values()):
        return []
    model = _Model(board, stops, crews, price)
    best: list[Draft] = []
    lowest = None
    for k in range(tries):
        progress(k / tries, "routing")
        first = model.solution(start) if start and k == 0 else None
        result = solve(
            model.data,
            stop=MaxIterations(iterations),
            seed=seed + 1_000 * k,
            collect_stats=False,
            display=False,
            params=SolveParams(),
            initial_solution=first,
        )
        found: Solution = result.best
        if result.is_feasible() and (lowest is None or result.cost() < lowest):
            lowest, best = result.cost(), model.drafts(found)
    return best


class _Model:
    """A PyVRP problem: stops (copied where their halves differ by date), vehicles, profiles."""

    def __init__(self, board: Board, stops: Sequence[int], crews: dict[int, int], price: dict[int, int]) -> None:
        import pyvrp

        self._pyvrp = pyvrp
        self._days = [d for d in sorted(crews) if crews[d]]
        copies = self._copies(board, stops)
        self._stop_of = [i for i, _, _ in copies]
        base = board.task.depot
        places = np.array([base.place, *(board.place[i] for i in self._stop_of)])
        seconds = board.travel_s[np.ix_(places, places)].astype(np.int64)
        cents = board.cents[np.ix_(places, places)].astype(np.int64)
        street = np.array([board.street[i] for i in self._stop_of])
        cents[1:, 1:] += board.costs.street_change_cents * (street[:, None] != street[None, :])
        np.fill_diagonal(cents, 0)
        locations = [pyvrp.Location(base.x_m, base.y_m)]
        locations += [pyvrp.Location(*map(float, board.xy[i])) for i in self._stop_of]
        mean_price = round(sum(price.values()) / len(price)) if price else 0
        limited = any(board.days[d].max_stops is not None for d in self._days)
        twice: dict[int, list[int]] = {}
        for k, (i, _, _) in enumerate(copies):
            twice.setdefault(i, []).append(k)
        groups = [members for members in twice.values() if len(members) > 1]
        group_of = {k: g for g, members in enumerate(groups) for k in members}
        clients = [
            pyvrp.Client(
                location=k + 1,
                delivery=[1] if limited else [],
                service_duration=board.service[i],
                tw_early=low,
                tw_late=max(low, high - board.service[i]),
                prize=max(0, board.prize[i] - mean_price),
                required=False,
                group=group_of.get(k),
            )
            for k, (i, (low, high), _) in enumerate(copies)
        ]
        profiles: dict[bytes, int] = {}
        distances: list[NDArray[np.int64]] = []
        durations: list[NDArray[np.int64]] = []
        vehicles = []
        self._day_of: list[int] = []
        for d in self._days:
            allowed = np.array([d in on for _, _, on in copies], dtype=bool)
            key = allowed.tobytes()
            if key not in profiles:
                profiles[key] = len(distances)
                distances.append(_without(cents, allowed, _FORBIDDEN_CENTS))
                durations.append(_without(seconds, allowed, _BIG_S))
            day = board.days[d]
            rest = day.end_s - day.start_s - board.work_s(d)
            # A zone's share of the date's most stops goes with its share of the crews.
            most = len(clients) if day.max_stops is None else day.max_stops * crews[d] // day.crews
            for capacity, number in _capacities(most, crews[d]) if limited else ((0, crews[d]),):
                vehicles.append(
                    pyvrp.VehicleType(
                        num_available=number,
                        capacity=[capacity] if limited else [],
                        fixed_cost=board.costs.crew_day_cents,
                        tw_early=day.start_s,
                        tw_late=day.end_s - rest,
                        unit_distance_cost=1,
                        profile=profiles[key],
                    )
                )
                self._day_of.append(d)
        self.data = pyvrp.ProblemData(
            locations=locations,
            clients=clients,
            depots=[pyvrp.Depot(location=0)],
            vehicle_types=vehicles,
            distance_matrices=cast(Any, distances),
            duration_matrices=cast(Any, durations),
            groups=[pyvrp.ClientGroup(members, required=False) for members in groups],
        )

    def _copies(self, board: Board, stops: Sequence[int]) -> list[tuple[int, tuple[int, int], frozenset[int]]]:
        """A stop once for each part of the day it can do, with the dates of that part."""
        out = []
        for i in stops:
            parts: dict[tuple[int, int], set[int]] = {}
            for d in self._days:
                if d in board.windows[i]:
                    parts.setdefault(self._part(board, i, d), set()).add(d)
            out += [(i, part, frozenset(on)) for part, on in sorted(parts.items())]
        return out

    def _part(self, board: Board, i: int, d: int) -> tuple[int, int]:
        """Earliest start and latest end on PyVRP's clock, which has no break; the whole day as one part."""
        low, high = board.windows[i][d]
        day = board.days[d]
        if low >= day.noon_s > day.start_s:
            return day.noon_s, 86_400
        if high <= day.noon_s < day.end_s:
            lunch = day.lunch
            # A break before noon pushes the last morning jobs: leave it room.
            rest = lunch.length_s if lunch is not None and lunch.start_s + lunch.length_s < day.noon_s else 0
            return 0, day.noon_s - rest
        return 0, 86_400

    def solution(self, routes: Sequence[Draft]) -> Any:
        """A draft as PyVRP's starting solution; None where it does not fit this model."""
        client: dict[int, list[int]] = {}
        for k, i in enumerate(self._stop_of):
            client.setdefault(i, []).append(k)
        used = [0] * len(self._day_of)
        number = [v.num_available for v in self.data.vehicle_types()]
        made = []
        for route in routes:
            kinds = [v for v, d in enumerate(self._day_of) if d == route.day and used[v] < number[v]]
            if not kinds or any(len(client.get(i, ())) != 1 for i in route.order):
                return None
            used[kinds[0]] += 1
            made.append(self._pyvrp.Route(self.data, [client[i][0] for i in route.order], kinds[0]))
        return self._pyvrp.Solution(self.data, made)

    def drafts(self, solution: Any) -> list[Draft]:
        """A solution's routes, in the board's own words."""
        out = []
        for route in solution.routes():
            order = [self._stop_of[a.idx] for a in route if a.is_client()]
            if order:
                out.append(Draft(self._day_of[route.vehicle_type()], order))
        return out


def _capacities(most: int, crews: int) -> list[tuple[int, int]]:
    """A date's most stops dealt to its crews: (stops a crew, crews)."""
    share, more = divmod(most, crews)
    return [(c, n) for c, n in ((share + 1, more), (share, crews - more)) if n and c]


def _without(matrix: NDArray[np.int64], allowed: NDArray[np.bool_], weight: int) -> NDArray[np.int64]:
    """The matrix with the ways into stops that cannot come made hopeless; a way to itself stays zero."""
    out = matrix.copy()
    out[:, 1:][:, ~allowed] = weight
    np.fill_diagonal(out, 0)
    return out
