"""Which answers would help, and how expected losses may be shown on a map."""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping
from dataclasses import dataclass

import numpy as np

from survey_app.lifetime import Posterior
from survey_app.lifetime.laws import Floats
from survey_app.lifetime.observations import HomeState, Ints

from .chances import Plan, batches
from .predict import resample
from .result import Forecast

__all__ = ["BlockExpected", "Help", "MoreAnswers", "blocks_expected", "what_would_help"]

_Z = 1.645
_DRAWS = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class MoreAnswers:
    """What `answers` more answers from one phase would do to the interval."""

    phase: str | None
    silent: int
    answers: int
    plus_minus: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Help:
    """Which answers would help most.

    Parameters
    ----------
    years
        The horizon.
    plus_minus
        Half the width of the 90% interval today, in heaters.
    by_phase
        The same with more answers, the most helpful phase first; empty when every home answered.
    without_date
        Homes that answered but whose heater's age is unknown.
    without_history
        Homes that know only today's heater although it is not the first.
    sentences
        What to do next, in plain words.
    """

    years: float
    plus_minus: float
    by_phase: tuple[MoreAnswers, ...]
    without_date: int
    without_history: int
    sentences: tuple[str, ...]


def what_would_help(posterior: Posterior, *, years: float = 1.0, answers: int = 20, seed: int) -> Help:
    """How much narrower the interval would be with more answers.

    The interval's variance has three parts: chance itself, not knowing the silent homes'
    heaters, and not knowing the law of life. More answers from a phase lessen the second at
    once (the silent homes become known, and stand better represented) and the third as far
    as an answer of that phase has informed the law so far. A first-order estimate.

    Parameters
    ----------
    posterior
        From :func:`survey_app.lifetime.fit`.
    years
        The horizon.
    answers
        How many more answers to imagine, per phase.
    seed
        Seed of the draws.

    Returns
    -------
    Help
    """
    obs = posterior.observations
    plan = Plan.of(obs)
    rng = np.random.default_rng([seed, 2])
    drawn = np.concatenate([p.weights for p in posterior.laws])
    pick = np.sort(resample(drawn, _DRAWS, rng))
    chances = np.zeros((_DRAWS, len(plan.homes)))
    silent_mean = np.zeros((len(plan.strata), _DRAWS))
    for batch in batches(posterior, plan, (years,), include_silent=True, rng=rng, pick=pick):
        chances[batch.draws] = batch.homes[0]
        for s, parts in enumerate(batch.silent):
            for homes, p in parts:
                silent_mean[s, batch.draws] += homes * p[0]
    spread = np.zeros(len(plan.strata))
    total = silent_mean.sum(axis=0)
    chance_part = 0.0
    boot = np.zeros(len(plan.strata))
    for s, stratum in enumerate(plan.strata):
        mine = chances[:, stratum.answered]
        chance_part += float((mine * (1 - mine)).sum(axis=1).mean())
        total = total + mine.sum(axis=1)
        quiet = len(stratum.silent)
        if not quiet:
            continue
        donors = chances[:, stratum.donors] if len(stratum.donors) else chances
        mean = silent_mean[s] / quiet
        if donors.shape[1]:
            spread[s] = float(donors.var(axis=1).mean())
        if len(stratum.donors):
            boot[s] = quiet**2 * spread[s] / (len(stratum.donors) + 1)
        chance_part += float((quiet * mean * (1 - mean)).mean())
    expected = float(total.var())  # of the expected count: the law of life, and how well the answers stand for all
    law_part = max(expected - float(boot.sum()), 0.0)
    now = _Z * math.sqrt(chance_part + expected)
    shrink = _information(posterior, plan, total, pick, answers)
    options = []
    for s, stratum in enumerate(plan.strata):
        quiet = len(stratum.silent)
        if not quiet:
            continue
        more = min(answers, quiet)
        left = quiet - more
        new_boot = left**2 * spread[s] / (len(stratum.donors) + more + 1)
        variance = chance_part - more * spread[s] + law_part * shrink[s] + expected - law_part - boot[s] + new_boot
        options.append(
            MoreAnswers(phase=stratum.phase, silent=quiet, answers=more, plus_minus=_Z * math.sqrt(max(variance, 0.0)))
        )
    options.sort(key=lambda o: o.plus_minus)
    without_date = int((obs.home_state == HomeState.AGE_UNKNOWN).sum())
    without_history = int(np.isin(obs.start, (0, 1)).sum())
    return Help(
        years=years,
        plus_minus=now,
        by_phase=tuple(options),
        without_date=without_date,
        without_history=without_history,
        sentences=_sentences(years, now, options, without_date, without_history),
    )


def _information(posterior: Posterior, plan: Plan, total: Floats, pick: Ints, answers: int) -> Floats:
    """By what factor more answers of each phase would shrink the variance that the law of life causes."""
    best = posterior.laws[0]
    obs = posterior.observations
    mine = pick < len(best.draws)
    result = np.ones(len(plan.strata))
    if posterior.refusal is not None or not len(obs) or mine.sum() < 50:
        return result
    theta = best.draws[pick[mine]]
    covariance = np.cov(theta.T) + 1e-10 * np.eye(theta.shape[1])
    centered = total[mine] - total[mine].mean()
    slope = np.linalg.solve(covariance, (theta - theta.mean(axis=0)).T @ centered / max(mine.sum() - 1, 1))
    before = float(slope @ covariance @ slope)
    if before <= 0:
        return result
    rows = best.likelihood.row_slopes(best.mode)
    precision = np.linalg.inv(covariance)
    for s, stratum in enumerate(plan.strata):
        homes = set(plan.homes[stratum.answered].tolist())
        use = np.array([h in homes for h in obs.home]) if homes else np.ones(len(obs), bool)
        count = max(len(homes) if homes else obs.respondents, 1)
        per_answer = rows[use].T @ rows[use] / count
        result[s] = float(slope @ np.linalg.solve(precision + answers * per_answer, slope)) / before
    return np.minimum(result, 1.0)


def _sentences(
    years: float, now: float, options: list[MoreAnswers], without_date: int, without_history: int
) -> tuple[str, ...]:
    span = "12-month" if years == 1 else f"{years:g}-year"
    said = [f"With these answers the {span} interval is ±{now:.0f} heaters."]
    if options:
        best = options[0]
        where = f"from {best.phase}" if best.phase is not None else "from homes of no phase"
        change = f"{best.plus_minus:.0f}" if now - best.plus_minus >= 0.5 else f"{best.plus_minus:.1f}"
        said.append(f"{best.answers} more answers {where} would bring it to about ±{change}.")
    else:
        said.append("Every home has answered: what is left is mostly chance.")
    if without_history:
        said.append(
            f"{without_history} homes know only today's heater. Ask them when the previous one went and whether it "
            "leaked or was replaced before failing."
        )
    if without_date:
        said.append(f"{without_date} homes gave no usable installation date. A photo of the data plate would do.")
    return tuple(said)


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockExpected:
    """Expected failures in one block of homes; `block` is None for the small blocks taken together."""

    block: Hashable
    homes: int
    expected: float


def blocks_expected(
    result: Forecast, block_of: Mapping[str, Hashable], *, minimum: int = 5
) -> tuple[BlockExpected, ...]:
    """Expected failures by street or block, never for fewer than `minimum` homes.

    Parameters
    ----------
    result
        A forecast; its first horizon is used.
    block_of
        The block of each home; homes that are not in it are left out.
    minimum
        Smallest number of homes that may be shown together, 3 at least.

    Returns
    -------
    tuple of BlockExpected
        By expected failures per home, largest first. Blocks below the minimum are taken
        together under None; if these are still too few, the smallest shown block joins them,
        so that nothing can be found by subtraction. Empty when there are too few homes in all.

    Raises
    ------
    ValueError
        When `minimum` is below 3.
    """
    if minimum < 3:
        raise ValueError("A block must hold at least 3 homes, or it would show a single household. Give 3 or more.")
    groups: dict[Hashable, list[float]] = {}
    for home, expected in result.expected_by_home.items():
        if home in block_of:
            groups.setdefault(block_of[home], []).append(expected)
    shown = {block: values for block, values in groups.items() if len(values) >= minimum and block is not None}
    pooled = [v for block, values in groups.items() if block not in shown for v in values]
    while pooled and len(pooled) < minimum and shown:
        smallest = min(shown, key=lambda b: (len(shown[b]), str(b)))
        pooled += shown.pop(smallest)
    entries = [BlockExpected(block=b, homes=len(v), expected=sum(v)) for b, v in shown.items()]
    if len(pooled) >= minimum:
        entries.append(BlockExpected(block=None, homes=len(pooled), expected=sum(pooled)))
    return tuple(sorted(entries, key=lambda e: (-e.expected / e.homes, str(e.block))))
