"""Does the forecast keep its word? A study over communities with known truth.

    python tests/benchmarks/simulation_study.py --communities 200 --seed 11 [--worlds base,lognormal] [--jobs 2]

prints one markdown table: for each world and each way of forecasting, how often
the 90% intervals held the number of failures that then happened (for all homes,
within 1, 3 and 5 years, and for the homes that answered), how far the sum of the
forecasts was from the sum of what happened, and how wide the intervals were. The
ways include the model with one of its parts taken out, so that each part's worth
is seen failing. A second table scores single homes (Brier) against an oracle that
knows the true law and against the rule "past twice its warranty it will fail"; a
third is the calibration of single homes, pooled. With --alarms it counts instead how
often the signs of answers prompted by leaks are raised, with and without reason.
"""

from __future__ import annotations

import argparse
import math
import sys
import time
from collections import defaultdict
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent))
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from simulated_worlds import AS_OF, Community, World, build

from survey_app.forecast import Forecast, forecast_from
from survey_app.lifetime import Observations, Posterior, cut_five, fit, load_prior, observations
from survey_app.lifetime.observations import EARLY, FAILED, NO_START

HORIZONS = (1.0, 3.0, 5.0)
WORLDS = {
    "base": World(),
    "form answers": World(report="form"),
    "lognormal": World(law="lognormal"),
    "two batches": World(law="two batches"),
    "steps": World(law="steps"),
    "phase effects .15": World(phase_sd=0.15),
    "leak odds x2.7": World(leak_odds=2.7),
    "response ignorable": World(leak_odds=1.0),
    "300 homes": World(homes=(300, 300)),
    "300 homes built 2013-19": World(homes=(300, 300), built=(2013, 2019), phases=(2, 4)),
    "300 homes 10% know history": World(homes=(300, 300), know_history=0.1),
}


def without_renewal(found: Observations) -> Observations:
    """A heater known only as today's counts as plain right-censored."""
    nothing = np.full(len(found), NO_START)
    return replace(
        found,
        start=nothing,
        from_construction=np.zeros(len(found), bool),
        maybe_original=np.zeros(len(found), bool),
    )


def without_truncation(found: Observations) -> Observations:
    """A heater found at move-in counts as if watched from its installation."""
    return replace(found, watched_from=np.full(len(found), -np.inf))


def early_as_failure(found: Observations) -> Observations:
    """Replacing a working heater counts as a failure."""
    start = np.where(found.start >= 4, found.start - 2, found.start)
    return replace(found, end=np.where(found.end == EARLY, FAILED, found.end), start=start)


def plug_in(posterior: Posterior) -> Posterior:
    """As if the most likely parameters were the truth."""
    best = posterior.laws[0]
    draws = np.repeat(best.mode[None, :], 200, axis=0)
    only = replace(best, draws=draws, weights=np.full(200, 1 / 200))
    return replace(posterior, laws=(only,), prior=replace(posterior.prior, discrepancy_sd=0.0))


def ways(community: Community, seed: int, ablations: bool) -> dict[str, tuple[Forecast, Posterior]]:
    """Every way of forecasting one community."""
    prior = load_prior()
    records = (community.homes, community.heaters, community.services)
    found = observations(*records, as_of=AS_OF)
    result: dict[str, tuple[Forecast, Posterior]] = {}

    def run(name: str, posterior: Posterior) -> None:
        result[name] = forecast_from(posterior, horizons=HORIZONS, seed=seed), posterior

    full = fit(found, prior, seed=seed)
    run("full model", full)
    run("plug-in", plug_in(full))
    if ablations:
        run("no discrepancy", replace(full, prior=replace(prior, discrepancy_sd=0.0)))
        run("no response tilt", fit(found, prior, seed=seed, tilt=False))
        run("Weibull alone", fit(found, prior, seed=seed, laws=("weibull",)))
        run("early replacement counted as failure", fit(early_as_failure(found), prior, seed=seed))
        watched = observations(*records, as_of=AS_OF, history="move-in")
        run("history from move-in only", fit(watched, prior, seed=seed))
        run("no renewal term", fit(without_renewal(watched), prior, seed=seed, tilt=False))
        run("no truncation", fit(without_truncation(watched), prior, seed=seed))
        run("prior alone", fit(replace(found, refusal="Shown for comparison."), prior, seed=seed))
    return result


def one(job: tuple[str, int, bool]) -> dict[str, object]:
    """Everything that the tables need from one community."""
    world, seed, ablations = job
    community = build(WORLDS[world], seed)
    truth = community.truth
    rows = []
    homes = {h.home_id: i for i, h in enumerate(community.homes)}
    pairs: dict[str, tuple[np.ndarray, np.ndarray]] = {}
    for name, (result, posterior) in ways(community, seed, ablations).items():
        for h, years in enumerate(HORIZONS):
            entry = result.horizon(years)
            for who, expected, count in (
                ("all", entry.everyone, truth.failures[:, h].sum()),
                ("answered", entry.answered, truth.failures[truth.answered, h].sum()),
            ):
                rows.append((name, years, who, expected.mean, expected.low, expected.high, float(count)))
        index = [homes[c.home_id] for c in result.chances if c.years == 1]
        chance = np.array([c.chance for c in result.chances if c.years == 1])
        pairs[name] = (chance, np.minimum(truth.failures[index, 0], 1))
        if name == "full model":
            happened = pairs[name][1]
            pairs["oracle"] = (truth.oracle[index], happened)
            pairs["base rate"] = (np.full(len(index), happened.mean()), happened)
            rule = (truth.age_years[index] > 2 * truth.warranty_years[index]).astype(float)
            pairs["rule: past twice its warranty"] = (rule, happened)
            life = math.log(posterior.median_life_years()[0] / truth.median_years)
            effective, failures = posterior.effective, posterior.observations.failures
            covered = posterior.median_life_years()[1] <= truth.median_years <= posterior.median_life_years()[2]
    return {
        "world": world,
        "rows": rows,
        "pairs": pairs,
        "life": life,
        "covered": covered,
        "effective": effective,
        "failures": failures,
    }


def study(
    worlds: list[str], communities: int, seed: int, *, jobs: int = 1, ablations: bool = True
) -> list[dict[str, object]]:
    """Run the study; ablations in the first world only."""
    todo = [
        (world, seed * 100_000 + i, ablations and world == worlds[0]) for world in worlds for i in range(communities)
    ]
    if jobs == 1:
        return [one(job) for job in todo]
    with ProcessPoolExecutor(jobs) as pool:
        return list(pool.map(one, todo, chunksize=2))


def summary(results: list[dict[str, object]]) -> dict[tuple[str, str], dict[str, float]]:
    """Coverage, bias and width by world and way."""
    grouped: dict[tuple[str, str, float, str], list[tuple[float, ...]]] = defaultdict(list)
    for result in results:
        for name, years, who, *numbers in result["rows"]:  # type: ignore[attr-defined]
            grouped[(str(result["world"]), name, years, who)].append(tuple(numbers))
    table: dict[tuple[str, str], dict[str, float]] = defaultdict(dict)
    for (world, name, years, who), entries in grouped.items():
        mean, low, high, count = np.array(entries).T
        key = f"{who} {years:g}"
        row = table[(world, name)]
        row[f"coverage {key}"] = float(((low <= count) & (count <= high)).mean())
        row[f"bias {key}"] = float(mean.sum() / count.sum() - 1)
        row[f"width {key}"] = float(np.median((high - low) / mean))
    return dict(table)


def markdown(results: list[dict[str, object]]) -> str:
    """The tables."""
    table = summary(results)
    lines = [
        "| world | way | coverage, all homes, 1/3/5 y | bias 1/3/5 y | width/mean 1/5 y | coverage, answered, 1/3/5 y "
        "| bias, answered, 1 y |",
        "|---|---|---|---|---|---|---|",
    ]
    for (world, name), row in table.items():

        def three(what: str, who: str, form: Callable[[float], str], years: tuple[int, ...] = (1, 3, 5)) -> str:
            return " / ".join(form(row[f"{what} {who} {y}"]) for y in years)  # noqa: B023

        lines.append(
            f"| {world} | {name} | {three('coverage', 'all', '{:.3f}'.format)} "
            f"| {three('bias', 'all', '{:+.1%}'.format)} | {three('width', 'all', '{:.2f}'.format, (1, 5))} "
            f"| {three('coverage', 'answered', '{:.3f}'.format)} | {row['bias answered 1']:+.1%} |"
        )
    lines += [
        "",
        "| world | communities | median dated failures | median life: bias, rmse, 90% range holds it "
        "| effective draws: mean, least |",
        "|---|---|---|---|---|",
    ]
    for world in dict.fromkeys(str(r["world"]) for r in results):
        mine = [r for r in results if r["world"] == world]
        life = np.array([r["life"] for r in mine], dtype=float)
        draws = np.array([r["effective"] for r in mine], dtype=float)
        failures = np.median(np.array([r["failures"] for r in mine], dtype=float))
        held = np.mean([bool(r["covered"]) for r in mine])
        lines.append(
            f"| {world} | {len(mine)} | {failures:.0f} "
            f"| {life.mean():+.1%}, {math.sqrt((life**2).mean()):.1%}, {held:.2f} "
            f"| {draws.mean():.2f}, {draws.min():.2f} |"
        )
    lines += ["", *_brier(results), "", *_calibration(results)]
    return "\n".join(lines)


def brier(results: list[dict[str, object]]) -> dict[tuple[str, str], float]:
    """Mean squared error of each way's chances within a year, pooled over homes that answered."""
    total: dict[tuple[str, str], list[float]] = defaultdict(lambda: [0.0, 0.0])
    for result in results:
        for name, (chance, happened) in result["pairs"].items():  # type: ignore[attr-defined]
            entry = total[(str(result["world"]), name)]
            entry[0] += float(((chance - happened) ** 2).sum())
            entry[1] += len(chance)
    return {key: s / n for key, (s, n) in total.items() if n}


def _brier(results: list[dict[str, object]]) -> list[str]:
    lines = ["| world | way | Brier score within a year |", "|---|---|---|"]
    return lines + [f"| {world} | {name} | {score:.5f} |" for (world, name), score in brier(results).items()]


def calibration(results: list[dict[str, object]], world: str) -> list[tuple[float, float, int, float, float]]:
    """Pooled bins of the full model's chances: from, to, homes, mean chance, share that failed."""
    mine = [r["pairs"]["full model"] for r in results if r["world"] == world]  # type: ignore[index]
    chance, happened = (np.concatenate(part) for part in zip(*mine, strict=True))
    edges = (0, 0.01, 0.03, 0.06, 0.1, 0.14, 0.2, 1.0)
    bins = []
    for low, high in pairwise(edges):
        inside = (chance >= low) & (chance < high)
        if inside.any():
            bins.append((low, high, int(inside.sum()), float(chance[inside].mean()), float(happened[inside].mean())))
    return bins


def _calibration(results: list[dict[str, object]]) -> list[str]:
    lines = ["| world | chance within a year | homes | mean chance | share that failed |", "|---|---|---|---|---|"]
    for world in dict.fromkeys(str(r["world"]) for r in results):
        lines += [
            f"| {world} | {low:g} to {high:g} | {homes} | {mean:.4f} | {share:.4f} |"
            for low, high, homes, mean, share in calibration(results, world)
        ]
    return lines


def alarm(job: tuple[str, int]) -> tuple[str, float, bool, float]:
    """The five-year check's z in one community, and whether the response tilt is clearly above none."""
    world, seed = job
    c = build(WORLDS[world], seed)
    check = cut_five(c.homes, c.heaters, c.services, as_of=AS_OF, prior=load_prior())
    found = observations(c.homes, c.heaters, c.services, as_of=AS_OF)
    mean, _, low, _ = fit(found, load_prior(), seed=seed, draws=400).parameter("response tilt")
    return world, check.z, low > 0, math.exp(mean)


def alarms(communities: int, seed: int, jobs: int) -> str:
    """How often the two signs of answers prompted by leaks are raised, with and without reason."""
    worlds = ("response ignorable", "base", "leak odds x2.7")
    todo = [(world, seed * 100_000 + i) for world in worlds for i in range(communities)]
    if jobs == 1:
        results = [alarm(job) for job in todo]
    else:
        with ProcessPoolExecutor(jobs) as pool:
            results = list(pool.map(alarm, todo, chunksize=2))
    lines = [
        "| world | communities | could be judged | z: mean, sd | z > 1.64 | tilt's 90% range above one | mean tilt |",
        "|---|---|---|---|---|---|---|",
    ]
    for world in worlds:
        mine = [r for r in results if r[0] == world]
        z = np.array([r[1] for r in mine])
        z = z[np.isfinite(z)]
        lines.append(
            f"| {world} | {len(mine)} | {len(z)} | {z.mean():+.2f}, {z.std():.2f} | {(z > 1.64).mean():.3f} "
            f"| {np.mean([r[2] for r in mine]):.3f} | {np.mean([r[3] for r in mine]):.2f} |"
        )
    return "\n".join(lines)


def main() -> None:
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--communities", type=int, default=200)
    parser.add_argument("--seed", type=int, default=11)
    parser.add_argument("--worlds", default=",".join(WORLDS), help="names separated by commas")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--no-ablations", action="store_true")
    parser.add_argument("--alarms", action="store_true", help="study the signs of answers prompted by leaks instead")
    arguments = parser.parse_args()
    if arguments.alarms:
        print(alarms(arguments.communities, arguments.seed, arguments.jobs))
        return
    names = [name.strip() for name in arguments.worlds.split(",")]
    unknown = [name for name in names if name not in WORLDS]
    if unknown:
        parser.error(f"No world {', '.join(unknown)}. There are: {', '.join(WORLDS)}.")
    started = time.perf_counter()
    results = study(
        names, arguments.communities, arguments.seed, jobs=arguments.jobs, ablations=not arguments.no_ablations
    )
    print(markdown(results))
    print(f"\nSeed {arguments.seed}, {arguments.communities} communities each, {time.perf_counter() - started:.0f} s.")


if __name__ == "__main__":
    main()
