"""The routing library on public benchmark instances, read with vrplib: an independent check of engine and costs.

Instances: CVRP set X (Uchoa et al. 2017, European Journal of Operational Research
257(3)), C1_10_1 and RC2_10_5 with hours and prizes (Gehring and Homberger 1999; prizes added
by the PyVRP project), with the best known solutions beside them (MIT licence).
They are public files kept outside this project, at ``../shared/data/routing``.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest

HERE = Path(__file__).resolve().parents[2].parent / "shared" / "data" / "routing"
pyvrp = pytest.importorskip("pyvrp", reason="PyVRP is not installed")
vrplib = pytest.importorskip("vrplib", reason="vrplib is not installed (the `test` extra has it)")

pytestmark = pytest.mark.skipif(not HERE.exists(), reason="the instances are not beside the project")

BEST_KNOWN = {"X-n101-k25": 27_591, "X-n200-k36": 58_578, "PCVRPTW/C1_10_1": 245_391, "RC2_10_5": 181_292}
"""Best known costs as stated in the .sol files (the last two: ways times ten, truncated, plus prizes not collected)."""


def distances(instance: dict[str, Any], scale: int) -> np.ndarray:
    """Euclidean distances from the coordinates, times a scale: rounded for scale 1, truncated otherwise."""
    xy = np.asarray(instance["node_coord"], dtype=float)
    d = np.hypot(xy[:, None, 0] - xy[None, :, 0], xy[:, None, 1] - xy[None, :, 1])
    return np.rint(d).astype(int) if scale == 1 else np.floor(d * scale).astype(int)


def length(matrix: np.ndarray, routes: list[list[int]]) -> int:
    """Sum of the ways of routes that begin and end at the depot (place 0)."""
    return sum(int(matrix[a, b]) for route in routes for a, b in pairwise([0, *route, 0]))


@pytest.mark.parametrize("name", ["X-n101-k25", "X-n200-k36"])
def test_stated_costs_of_capacity_instances_are_recomputed_exactly(name: str) -> None:
    """Adding the ways of the published solution gives the published cost, and no vehicle carries too much."""
    instance = vrplib.read_instance(HERE / f"{name}.vrp")
    solution = vrplib.read_solution(HERE / f"{name}.sol")
    assert length(distances(instance, 1), solution["routes"]) == solution["cost"] == BEST_KNOWN[name]
    demand = np.asarray(instance["demand"])
    assert all(demand[route].sum() <= instance["capacity"] for route in solution["routes"])
    assert sorted(i for r in solution["routes"] for i in r) == list(range(1, len(demand)))


@pytest.mark.parametrize("name", ["PCVRPTW/C1_10_1", "RC2_10_5"])
def test_stated_costs_with_hours_and_prizes_are_recomputed_exactly(name: str) -> None:
    """Ways in truncated tenths plus ten times the prizes of those left out are the stated cost; windows are kept."""
    instance = vrplib.read_instance(HERE / f"{name}.vrp")
    solution = vrplib.read_solution(HERE / f"{name}.sol")
    prize = np.asarray(instance["prize"]) * 10
    seen = {i for r in solution["routes"] for i in r}
    lost = sum(int(prize[i]) for i in range(1, len(prize)) if i not in seen)
    matrix = distances(instance, 10)
    assert length(matrix, solution["routes"]) + lost == solution["cost"] == BEST_KNOWN[name]
    windows = np.asarray(instance["time_window"]) * 10
    service = np.broadcast_to(np.asarray(instance["service_time"]) * 10, len(windows))
    for route in solution["routes"]:
        t, at = int(windows[0, 0]), 0
        for i in route:
            t = max(t + int(matrix[at, i]), int(windows[i, 0]))
            assert t <= windows[i, 1]
            t, at = t + int(service[i]), i
        assert t + matrix[at, 0] <= windows[0, 1]


@pytest.mark.parametrize(
    ("name", "rounding", "iterations", "gap"),
    [("X-n101-k25", "round", 6_000, 0.015), ("X-n200-k36", "round", 2_000, 0.04)],
)
def test_a_short_run_comes_near_the_best_known(name: str, rounding: str, iterations: int, gap: float) -> None:
    """A few seconds' worth of iterations, one seed: within a generous gap, never below the best known.

    The 60-second version is ``tests/benchmarks/routing_instances.py``.
    """
    from pyvrp.stop import MaxIterations

    data = pyvrp.read(HERE / f"{name}.vrp", round_func=rounding)
    result = pyvrp.solve(data, stop=MaxIterations(iterations), seed=1, collect_stats=False, display=False)
    assert result.is_feasible()
    assert BEST_KNOWN[name] <= result.cost() <= BEST_KNOWN[name] * (1 + gap)
    # Its own routes, added by our own matrix, cost what it says.
    routes = [[a.idx + 1 for a in route if a.is_client()] for route in result.best.routes()]
    assert length(distances(vrplib.read_instance(HERE / f"{name}.vrp"), 1), routes) == result.cost()


def test_the_same_seed_repeats_the_same_routes() -> None:
    """Two runs of X-n101 with one seed and 300 iterations are the same solution."""
    from pyvrp.stop import MaxIterations

    data = pyvrp.read(HERE / "X-n101-k25.vrp", round_func="round")
    one, two = (pyvrp.solve(data, stop=MaxIterations(300), seed=3, display=False).best for _ in range(2))
    assert str(one) == str(two)
