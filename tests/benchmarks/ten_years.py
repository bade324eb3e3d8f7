"""How long ten years under five policies take: 3,000 simulated homes, 200 draws, one core.

Run as ``OMP_NUM_THREADS=1 python tests/benchmarks/ten_years.py [--homes 3000] [--draws 200]``.
"""

from __future__ import annotations

import argparse
import resource
import time
from datetime import date

import simulated_worlds

from survey_app.economics import Amounts
from survey_app.lifetime import fit, load_prior, observations
from survey_app.policies import ten_years
from survey_app.settings import Settings


def main() -> None:
    """Measure it once."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--homes", type=int, default=3000)
    asked.add_argument("--draws", type=int, default=200)
    given = asked.parse_args()
    w = simulated_worlds
    found = w.build(w.World(homes=(given.homes, given.homes), report="form"), 21)
    prior = load_prior()
    seen = observations(
        found.homes,
        found.heaters,
        found.services,
        as_of=date(2026, 1, 1),
        long_warranty_years=prior.long_warranty_years,
    )
    began = time.perf_counter()
    posterior = fit(seen, prior, draws=1000, seed=1)
    fitted = time.perf_counter()
    result = ten_years(
        posterior,
        {},
        {},
        Amounts.from_settings(Settings()),
        planned_usd={},
        default_warranty_years=6.0,
        draws=given.draws,
        seed=1,
    )
    ended = time.perf_counter()
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{result.homes} homes, {result.draws} draws, {len(result.policies)} policies, {result.years} years")
    print(f"fit {fitted - began:.2f} s, policies {ended - fitted:.2f} s, {peak:.0f} MB in all")


if __name__ == "__main__":
    main()
