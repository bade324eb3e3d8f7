"""What heaters like this one do in the next twelve months, for the household that owns it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from survey_app.lifetime import Chance, LifeDraws, Posterior
from survey_app.lifetime.posterior import weighted_quantiles

from .predict import forecast_from

__all__ = ["LifeFit", "Odds", "chance_within", "fit_summary", "odds"]

# Weights of a window's earliest, middle and latest day: Simpson's rule for a window in which every day is as likely.
_WINDOW = np.array([1.0, 4.0, 1.0]) / 6.0


@dataclass(frozen=True, eq=False)
class LifeFit:
    """What the community's answers say about lives, ready to be asked about one home.

    Parameters
    ----------
    posterior
        From :func:`survey_app.lifetime.fit`.
    average
        Share of the community's heaters expected to fail within twelve months.
    refused
        Whether the answers were not used and this is the prior's answer.
    failures
        Dated ends that the answers report.
    local_weight
        Share of what is known of the median life that comes from the answers.
    """

    posterior: Posterior
    average: float
    refused: bool
    failures: int
    local_weight: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Odds:
    """Of 100 heaters like this one: how many fail within `years`, and the community's average."""

    years: float
    of_100: float
    low: float
    high: float
    average_of_100: float
    refused: bool
    failures: int
    local_weight: float


def fit_summary(posterior: Posterior, *, seed: int) -> LifeFit:
    """A posterior with the figures every household is compared with.

    Parameters
    ----------
    posterior
        From :func:`survey_app.lifetime.fit`.
    seed
        Seed of the draws.
    """
    found = forecast_from(posterior, horizons=(1.0,), seed=seed, fan=False)
    everyone = found.horizon(1.0).everyone
    weight = next((w.local_weight for w in found.weighing if w.name.startswith("median")), 0.0)
    return LifeFit(
        posterior=posterior,
        average=everyone.mean / everyone.homes if everyone.homes else 0.0,
        refused=found.refusal is not None,
        failures=found.diagnostics.failures,
        local_weight=weight,
    )


def chance_within(lives: Sequence[LifeDraws], age_years: tuple[float, float, float], years: float) -> Chance:
    """Chance that a heater still in service fails within some years if it is kept.

    Parameters
    ----------
    lives
        Plausible laws of its life, from :func:`survey_app.lifetime.lives_of_home`.
    age_years
        Youngest, likeliest and oldest age today; the window is averaged over.
    years
        Years ahead, above zero.

    Returns
    -------
    Chance
        With the 90% range that comes from not knowing the law.
    """
    ages = np.maximum(np.asarray(age_years, dtype=np.float64), 1e-6)
    chances, weights = [], []
    for draws in lives:
        now, then = draws.survival(ages), draws.survival(ages + years)
        # A heater is in service, so the ages it is unlikely to have reached count for less.
        reached = _WINDOW * np.maximum(now, 1e-300)
        chances.append(((now - then) * _WINDOW).sum(axis=1) / reached.sum(axis=1))
        weights.append(draws.weights)
    value, weight = np.concatenate(chances), np.concatenate(weights)
    low, high = weighted_quantiles(value, weight, (0.05, 0.95))
    return Chance(mean=float(weight @ value / weight.sum()), low=float(low), high=float(high))


def odds(fit: LifeFit, lives: Sequence[LifeDraws], age_years: tuple[float, float, float], years: float = 1.0) -> Odds:
    """The odds of one heater beside the community's average.

    Parameters
    ----------
    fit
        From :func:`fit_summary`.
    lives, age_years, years
        As for :func:`chance_within`.
    """
    chance = chance_within(lives, age_years, years)
    return Odds(
        years=years,
        of_100=100 * chance.mean,
        low=100 * chance.low,
        high=100 * chance.high,
        average_of_100=100 * fit.average,
        refused=fit.refused,
        failures=fit.failures,
        local_weight=fit.local_weight,
    )
