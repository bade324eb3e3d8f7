"""Service days for 200, 1,000 and 3,000 homes, against street order and k-means with repair, in one run.

An invented grid of streets (blocks of 12 homes a side, numbered outward), jobs
of 60 to 120 minutes, half of the homes there any day, three tenths on two or
three weekdays, the rest in one half of one to three weekdays; what a visit is
worth is lognormal about $120. Demand is about 1.7 times what the crews can do.

Run: ``python tests/benchmarks/service_days.py 200 1000 3000 [--iterations N]``
"""

from __future__ import annotations

import argparse
import dataclasses
import math
import resource
import time
from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np

from geo.routing import K_MEANS, ROUTED, STREET_ORDER, Day, Depot, Half, Plan, PriceStep, Stop, Task, plan, validate
from geo.streets import read_streets, snap
from geo.travel import drive_seconds, street_travel

SIZES = {60: (15, 2), 120: (15, 4), 200: (5, 4), 1000: (10, 10), 3000: (20, 15)}
"""Homes -> dates and crews, 8 hours each."""
_EAST, _NORTH, _EPSG = 500_000.0, 4_500_000.0, 32616


def grid_of_homes(homes: int, seed: int) -> tuple[np.ndarray, list[str], np.ndarray]:
    """Travel seconds (row 0: the entrance), street of each home, and coordinates in metres."""
    import pyproj
    import shapely

    rng = np.random.default_rng([seed, homes])
    blocks = max(2, math.ceil(math.sqrt(homes / 20)))
    wide, deep = 170.0, 75.0
    xs, ys = np.arange(blocks + 1) * wide, np.arange(blocks * 2 + 1) * deep
    back = pyproj.Transformer.from_crs(_EPSG, 4326, always_xy=True)

    def line(points: Sequence[tuple[float, float]]) -> bytes:
        lon, lat = back.transform([_EAST + p[0] for p in points], [_NORTH + p[1] for p in points])
        return bytes(shapely.to_wkb(shapely.LineString(np.column_stack([lon, lat]))))

    lines = [(f"Row {k} St", "local", line([(0, y), (float(xs[-1]), y)])) for k, y in enumerate(ys)]
    lines += [(f"Column {k} Ave", "collector", line([(x, 0), (x, float(ys[-1]))])) for k, x in enumerate(xs)]
    spots = [
        (k, float(x0 + 20 + 12 * j), y + side * 18.0)
        for k, y in enumerate(ys)
        for x0 in xs[:-1]
        for j in range(12)
        for side in (-1, 1)
    ]
    chosen = [spots[i] for i in sorted(rng.choice(len(spots), homes, replace=False))]
    xy = np.array([(0.0, 0.0), *((x, y) for _, x, y in chosen)])
    streets = ["", *(f"Row {k} St" for k, _, _ in chosen)]
    network = read_streets(lines, local_epsg=_EPSG)
    lon, lat = back.transform(_EAST + xy[:, 0], _NORTH + xy[:, 1])
    travel = street_travel(network, snap(network, lon, lat, streets))
    return drive_seconds(travel.metres), streets[1:], xy


def weekdays(days: int) -> list[date]:
    """So many working days from a Monday on."""
    first = date(2027, 4, 5)
    return [d for k in range(days * 2) if (d := first + timedelta(days=k)).weekday() < 5][:days]


def invented_task(homes: int, seed: int = 1, *, dates: int | None = None, crews: int | None = None) -> Task:
    """A task of the size asked for."""
    rng = np.random.default_rng([seed, 9, homes])
    travel, streets, xy = grid_of_homes(homes, seed)
    n_dates, n_crews = SIZES[homes] if dates is None or crews is None else (dates, crews)
    days = weekdays(n_dates)
    stops = []
    for i, street in enumerate(streets):
        kind = rng.random()
        allowed: list[tuple[date, Half]] | None = None
        if kind >= 0.5:
            count = int(rng.integers(2, 4)) if kind < 0.8 else int(rng.integers(1, 4))
            on = set(rng.choice(5, count, replace=False).tolist())
            half = Half.ANY if kind < 0.8 else (Half.AM if rng.random() < 0.5 else Half.PM)
            allowed = [(d, half) for d in days if d.weekday() in on]
        stops.append(
            Stop(
                stop_id=f"H{i:04d}",
                place=i + 1,
                street=street,
                service_s=int(rng.choice([60, 75, 90, 120])) * 60,
                prize_cents=int(np.clip(rng.lognormal(math.log(12_000), 0.8), 1_500, 150_000)),
                allowed=None if allowed is None else tuple(allowed),
                x_m=float(xy[i + 1, 0]),
                y_m=float(xy[i + 1, 1]),
            )
        )
    made = tuple(Day(date=d, crews=n_crews) for d in days)
    return Task(stops=tuple(stops), days=made, travel_s=travel, depot=Depot(place=0))


def objective(made: Plan) -> float:
    """Dollars of travel, street changes, crew-days, prices and value left unserved (neighbors not counted)."""
    return (made.cost.total - made.cost.split_neighbors) / 100


def same_date(task: Task, made: Plan) -> float:
    """Share of visited homes whose nearest visited home on their street comes on the same date."""
    when = made.date_of()
    home = {s.stop_id: s for s in task.stops}
    streets: dict[str, list[str]] = {}
    for k in when:
        streets.setdefault(home[k].street, []).append(k)
    pairs = same = 0
    for kin in streets.values():
        for k in kin:
            others = [o for o in kin if o != k]
            if others:
                near = min(others, key=lambda o: (int(task.travel_s[home[k].place, home[o].place]), o))
                pairs += 1
                same += when[near] == when[k]
    return same / max(pairs, 1)


def lower_bound(task: Task) -> float:
    """Dollars that no plan can go below: all crews' hours as one sack, the cheapest way into each home, any day.

    The fractional knapsack of a relaxation without half-days, street changes and whole jobs: loose.
    """
    ways = task.travel_s.astype(float)
    np.fill_diagonal(ways, np.inf)
    into = ways.min(axis=0)
    hours = float(sum(d.crews * (d.end_s - d.start_s) for d in task.days))
    longest = max(d.end_s - d.start_s for d in task.days)
    total = float(sum(s.prize_cents for s in task.stops))
    choices = []
    for s in task.stops:
        takes = s.service_s + into[s.place]
        way = math.floor(into[s.place] * task.costs.travel_cents_per_s)
        choices.append((s.prize_cents - way - task.costs.crew_day_cents * takes / longest, takes))
    for gain, takes in sorted(choices, key=lambda c: -c[0] / c[1]):
        part = min(1.0, hours / takes)
        if gain <= 0 or part <= 0:
            break
        total -= gain * part
        hours -= takes * part
    return total / 100


def travel_hours(made: Plan, task: Task) -> float:
    """Hours on the road of all crews."""
    return made.cost.travel / task.costs.travel_cents_per_s / 3600


def compare(homes: int, *, seed: int, iterations: int | None) -> None:
    """Print one size's table."""
    task = invented_task(homes, seed)
    dates, crews = SIZES[homes]
    print(f"\n{homes} homes, {dates} dates x {crews} crews")
    print("way                     dollars  ratio  served  travel h  unserved $  same date  seconds  peak MB")
    base: dict[str, float] = {}
    runs = [(STREET_ORDER, True), (K_MEANS, False), (ROUTED, False), (ROUTED, True)]
    for method, neighbors in runs:
        began = time.perf_counter()
        made = plan(task, seed=seed, method=method, iterations=iterations, neighbors=neighbors)
        took = time.perf_counter() - began
        assert validate(task, made) == ()
        name = method + (" + neighbors" if method == ROUTED and neighbors else "")
        base[name] = objective(made)
        served = sum(len(r.visits) for r in made.routes)
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        ratio = base[name] / base.get(K_MEANS, base[name])
        print(
            f"{name:22s} {base[name]:9,.0f} {ratio:6.3f} {served:7d} {travel_hours(made, task):9.1f} "
            f"{made.cost.unserved / 100:11,.0f} {same_date(task, made):10.3f} {took:8.1f} {peak:8.0f}",
            flush=True,
        )
    best = base[ROUTED + " + neighbors"]
    print(
        f"to k-means {best / base[K_MEANS]:.3f}, to street order {best / base[STREET_ORDER]:.3f}, "
        f"to the lower bound {best / lower_bound(task):.3f}, price of neighbors {best / base[ROUTED] - 1:+.2%}"
    )


def _counts(made: Plan) -> dict[date, int]:
    counts: dict[date, int] = {}
    for route in made.routes:
        counts[route.date] = counts.get(route.date, 0) + len(route.visits)
    return counts


def compare_dates(homes: int, *, seed: int, iterations: int | None) -> None:
    """At least 5 homes a date, $150 / $130 / $115 a home from 1 / 10 / 20 on: chosen dates against all dates.

    Routing over all dates sees a flat $150 and no least number; its dates are then charged by their true step.
    """
    base = invented_task(homes, seed)
    steps = tuple(PriceStep(from_n=n, price_cents=c) for n, c in ((1, 15_000), (10, 13_000), (20, 11_500)))
    # Every visit is worth its price at least.
    stops = tuple(dataclasses.replace(s, prize_cents=s.prize_cents + steps[0].price_cents) for s in base.stops)
    days = tuple(dataclasses.replace(d, min_stops=5, price_steps=steps) for d in base.days)
    began = time.perf_counter()
    chosen = plan(dataclasses.replace(base, stops=stops, days=days), seed=seed, iterations=iterations)
    took = time.perf_counter() - began
    everywhere = plan(base, seed=seed, iterations=iterations)
    ours, theirs = (_counts(chosen), _counts(everywhere))
    paid = sum(n * min(s.price_cents for s in steps if s.from_n <= max(n, 1)) for n in theirs.values())
    total = objective(everywhere) + paid / 100 + 150 * (homes - sum(theirs.values()))
    held, all_held = list(ours.values()), list(theirs.values())
    print(
        f"\n{homes} homes, least 5 a date, price steps: chosen dates ${objective(chosen):,.0f} ({len(held)} dates, "
        f"least {min(held)}), all dates ${total:,.0f} ({len(all_held)} dates, least {min(all_held)}); "
        f"ratio {objective(chosen) / total:.3f}; {took:.1f} s",
        flush=True,
    )


if __name__ == "__main__":
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("sizes", nargs="*", type=int, default=[200])
    arguments.add_argument("--iterations", type=int, default=None)
    arguments.add_argument("--seed", type=int, default=1)
    given = arguments.parse_args()
    for size in given.sizes:
        if size in (60, 120):
            compare_dates(size, seed=given.seed, iterations=given.iterations)
        else:
            compare(size, seed=given.seed, iterations=given.iterations)
