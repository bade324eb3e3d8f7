"""How fast the fit and the forecast are, and how much memory they take.

    python tests/benchmarks/lifetime_speed.py [--repeat 5]

prints a markdown table. The ratio to lifelines' Weibull AFT fit, on the same
likelihood and the same data in the same run, appears where lifelines is
installed (the `reference` extra). Times are processor time, so that other work on
the machine does not count; set OMP_NUM_THREADS=1. This script needs nothing else but numpy,
scipy and the package.
"""

from __future__ import annotations

import argparse
import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent))
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from simulated_worlds import AS_OF, World, build

from survey_app.forecast import forecast
from survey_app.lifetime import Likelihood, durations, fit, load_prior, maximum_likelihood, observations
from survey_app.lifetime.posterior import PriorDensity, posterior_mode


def best(run: Callable[[], object], repeat: int) -> float:
    """Shortest of several runs, in milliseconds of processor time (one thread, so an idle core's wall time)."""
    times = []
    for _ in range(repeat):
        started = time.process_time()
        run()
        times.append(time.process_time() - started)
    return 1000 * min(times)


def same_likelihood(n: int = 2000) -> dict[str, np.ndarray]:
    """Right-censored, left-truncated lives with three covariates."""
    rng = np.random.default_rng(0)
    x = rng.normal(size=(n, 3))
    life = 14 * np.exp(x @ [0.1, 0.05, 0.0]) * rng.weibull(2.6, n)
    until, entry = rng.uniform(2, 25, n), rng.uniform(0, 6, n)
    age = np.minimum(life, until)
    seen = age > entry
    return {"age": age[seen], "failed": (life <= until)[seen], "entry": entry[seen], "x": x[seen]}


def fits(repeat: int) -> tuple[float, float | None, float]:
    """Our fit and lifelines' on one likelihood, in ms, and the largest difference of a coefficient."""
    d = same_likelihood()

    def ours() -> object:
        return maximum_likelihood(durations(d["age"], d["failed"], entry=d["entry"], factors=d["x"]))

    mine = best(ours, 4 * repeat)
    try:
        import pandas as pd
        from lifelines import WeibullAFTFitter
    except ImportError:
        return mine, None, float("nan")
    frame = pd.DataFrame(np.column_stack([d["age"], d["failed"], d["entry"], d["x"]]), columns=list("tdeabc"))

    def theirs() -> object:
        return WeibullAFTFitter().fit(frame, "t", "d", entry_col="e")

    other = best(theirs, repeat)
    found, fitted = ours(), theirs()
    gaps = [
        abs(found.factors[f"factor {i + 1}"] - fitted.params_["lambda_"][name])  # type: ignore[attr-defined]
        for i, name in enumerate("abc")
    ]
    return mine, other, max(gaps)


def measured(homes: int, report: str, repeat: int) -> list[str]:
    """One community's lines of the table."""
    prior = load_prior()
    c = build(World(homes=(homes, homes), report=report), 1)
    found = observations(c.homes, c.heaters, c.services, as_of=AS_OF)
    likelihood = Likelihood.standard(found, prior, "weibull")
    density = PriorDensity(prior, likelihood.layout, "weibull")
    label = f"{homes:,} homes, {report}"
    steps: tuple[tuple[str, Callable[[], object]], ...] = (
        ("records to observations", lambda: observations(c.homes, c.heaters, c.services, as_of=AS_OF)),
        ("posterior mode and curvature", lambda: posterior_mode(likelihood, density)),
        ("posterior, two laws, 1,000 draws", lambda: fit(found, prior, seed=1)),
        (
            "whole forecast, three horizons",
            lambda: forecast(c.homes, c.heaters, c.services, as_of=AS_OF, seed=1, fan=False),
        ),
        ("whole forecast with ten-year fan", lambda: forecast(c.homes, c.heaters, c.services, as_of=AS_OF, seed=1)),
    )
    lines = [f"| {label}: {what} | {best(run, repeat):.0f} |" for what, run in steps]
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return [*lines, f"| {label}: peak memory of the process so far | {peak:.0f} MB |"]


def main() -> None:
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--repeat", type=int, default=5)
    parser.add_argument("--homes", type=int, nargs="*", default=[3000, 30000])
    arguments = parser.parse_args()
    lines = ["| what | ms |", "|---|---|"]
    mine, other, gap = fits(arguments.repeat)
    lines.append(f"| fit of 5 parameters, about 1,700 truncated lives, no prior | {mine:.1f} |")
    if other is not None:
        lines.append(f"| the same by lifelines | {other:.1f} (ratio {other / mine:.0f}, largest gap {gap:.1e}) |")
    for homes in arguments.homes:
        for report in ("histories", "form"):
            lines += measured(homes, report, arguments.repeat if homes <= 5000 else 1)
    print("\n".join(lines))


if __name__ == "__main__":
    main()
