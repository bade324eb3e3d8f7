"""What one heater's age says about its future."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from .laws import Floats, Law
from .layout import band_years
from .observations import HomeState
from .posterior import LawPosterior, Posterior, weighted_quantiles

__all__ = ["Chance", "LifeDraws", "conditional_failure_probability", "lives_of_home", "thinned"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chance:
    """A probability and its 90% range from not knowing the law exactly."""

    mean: float
    low: float
    high: float


@dataclass(frozen=True, eq=False)
class LifeDraws:
    """Plausible laws of life for one heater, for whoever weighs costs.

    Parameters
    ----------
    law
        The law.
    log_median, shape
        One entry per draw.
    weights
        Over all laws they sum to one.
    """

    law: Law
    log_median: Floats
    shape: Floats
    weights: Floats

    def survival(self, ages_years: Floats) -> Floats:
        """Share that outlives each age under each draw, shape (draws, ages)."""
        with np.errstate(divide="ignore"):
            u = self.shape[:, None] * (np.log(np.asarray(ages_years)) - self.log_median[:, None])
        return np.exp(-self.law.cumulative(u + self.law.offset))


def _lives(part: LawPosterior, factors: Floats, phase: int, discrepancy: float) -> LifeDraws:
    lay = part.layout
    log_median = part.draws[:, 0] + part.draws[:, lay.factors] @ factors
    if phase >= 0 and part.likelihood.groups > 1:
        log_median = log_median + part.draws[:, lay.phases.start + phase]
    noise = np.random.default_rng(0).standard_normal(len(log_median))
    return LifeDraws(part.law, log_median + discrepancy * noise, np.exp(part.draws[:, 1]), part.weights)


def lives_of_home(posterior: Posterior, home_id: str) -> tuple[LifeDraws, ...]:
    """Plausible laws of life of the heater in one home, one entry per law.

    Dated acts are not in it: their effects concern the remaining life and are rarely
    distinguishable from none.

    Parameters
    ----------
    posterior
        From :func:`survey_app.lifetime.fit`.
    home_id
        A home of the survey; one that has not answered gets its phase's typical law.

    Returns
    -------
    tuple of LifeDraws

    Raises
    ------
    KeyError
        When the survey has no such home.
    """
    obs = posterior.observations
    if home_id not in obs.home_ids:
        raise KeyError(f"No home {home_id!r} in this survey. Check the identifier.")
    home = obs.home_ids.index(home_id)
    row = int(obs.home_row[home])
    known = obs.home_state[home] == HomeState.AGE_KNOWN and row >= 0 and row < len(obs)
    factors = obs.factors[row] if known else np.zeros(obs.factors.shape[1])
    phase = int(obs.home_phase[home])
    return tuple(_lives(part, factors, phase, posterior.prior.discrepancy_sd) for part in posterior.laws)


def conditional_failure_probability(
    posterior: Posterior,
    age_years: float,
    within_years: float,
    *,
    factors: Mapping[str, float] | None = None,
    phase: str | None = None,
    unless_replaced: bool = False,
) -> Chance:
    """Chance that a heater of this age fails within some years.

    Parameters
    ----------
    posterior
        From :func:`survey_app.lifetime.fit`.
    age_years, within_years
        Age today, zero or more, and years ahead, above zero.
    factors
        Values of the posterior's factors as in its observations; zero (the average) where not given.
    phase
        Phase of the home; the community's average where None.
    unless_replaced
        Whether a replacement before failing, at the community's rate, may come first.

    Returns
    -------
    Chance

    Raises
    ------
    ValueError
        When an age is negative or the years ahead are not above zero.
    """
    if age_years < 0 or within_years <= 0:
        raise ValueError("The age must be zero or more and the years ahead above zero.")
    obs = posterior.observations
    given = dict(factors or {})
    values = np.array([given.get(name, 0.0) for name in obs.factor_names])
    index = obs.phases.index(phase) if phase in obs.phases else -1
    ages = np.linspace(age_years, age_years + within_years, 13)
    chances, weights = [], []
    for part in posterior.laws:
        stay = _lives(part, values, index, posterior.prior.discrepancy_sd).survival(np.maximum(ages, 1e-9))
        stay = stay / np.maximum(stay[:, :1], 1e-300)
        if unless_replaced:
            years = band_years(ages, part.likelihood.bands_from)
            kept = np.exp(-np.exp(part.draws[:, part.layout.bands]) @ (years - years[:1]).T)
            lost = ((stay[:, :-1] - stay[:, 1:]) * 0.5 * (kept[:, :-1] + kept[:, 1:])).sum(axis=1)
        else:
            lost = 1 - stay[:, -1]
        chances.append(lost)
        weights.append(part.weights)
    value, weight = np.concatenate(chances), np.concatenate(weights)
    low, high = weighted_quantiles(value, weight, (0.05, 0.95))
    return Chance(mean=float(weight @ value / weight.sum()), low=float(low), high=float(high))


def thinned(draws: LifeDraws, count: int = 64) -> LifeDraws:
    """The same laws by fewer draws of equal weight, taken evenly along the weights: fast, and the same every time."""
    total = float(draws.weights.sum())
    if len(draws.weights) <= count or total <= 0:
        return draws
    edges = np.cumsum(draws.weights) / total
    chosen = np.minimum(np.searchsorted(edges, (np.arange(count) + 0.5) / count), len(edges) - 1)
    return LifeDraws(draws.law, draws.log_median[chosen], draws.shape[chosen], np.full(count, total / count))
