"""The routing library on public instances for 10 and 60 seconds: gap to the best known, one seed.

Run: ``python tests/benchmarks/routing_instances.py [--seconds 10 60]``; needs ``../shared/data/routing``.
"""

from __future__ import annotations

import argparse
from pathlib import Path

import pyvrp
from pyvrp.stop import MaxRuntime

HERE = Path(__file__).resolve().parents[2].parent / "shared" / "data" / "routing"
INSTANCES = [
    ("X-n101-k25", "round", 27_591),
    ("X-n200-k36", "round", 58_578),
    ("PCVRPTW/C1_10_1", "dimacs", 245_391),
]


def main() -> None:
    """Print a line for each instance and time."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--seconds", nargs="*", type=float, default=[10.0, 60.0])
    given = arguments.parse_args()
    for name, rounding, best in INSTANCES:
        data = pyvrp.read(HERE / f"{name}.vrp", round_func=rounding)
        for seconds in given.seconds:
            result = pyvrp.solve(data, stop=MaxRuntime(seconds), seed=1, collect_stats=False, display=False)
            gap = result.cost() / best - 1 if result.is_feasible() else float("nan")
            rounds = result.num_iterations
            print(
                f"{name:18s} {seconds:4.0f} s  {result.cost():9,.0f}  {gap:+.2%}  {rounds:7,d} iterations", flush=True
            )


if __name__ == "__main__":
    main()
