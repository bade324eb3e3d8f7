"""What serving a home is worth: the dollars lost if it waits a year for the next round.

Since nobody has measured what a flush or an anode does for a tank's life, it
carries the uncertainty of that effect, which includes none.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from survey_app.economics import Amounts, household_of, mean_extra_usd, outcomes
from survey_app.forecast import LifeFit
from survey_app.lifetime import LifeDraws, lives_of_home, thinned
from survey_app.lifetime.laws import Floats
from survey_app.records import Interest, Wishes
from survey_app.service_days.jobs import Act, Job
from survey_app.settings import Settings
from survey_app.standing import CareState, Standing

__all__ = ["ActEffect", "worth_of_homes", "worth_of_serving"]

Worth = tuple[float, float, float]
"""Dollars, low, mean and high over the 90% range."""
_KEEN = (Interest.YES, Interest.MAYBE)
_YEARS_AHEAD = 40.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ActEffect:
    """What is believed of an act's effect: log factor on the remaining life, with its standard deviation."""

    mean: float
    sd: float


def worth_of_serving(
    lives: Sequence[LifeDraws],
    age_years: float,
    effect: ActEffect,
    *,
    still_possible: float,
    usd_per_year: float,
    failure_extra_usd: float,
    discount: float,
) -> Worth:
    """Dollars lost if an act waits a year: what it brings now, less what it will bring then if it still can.

    It brings added years of the unit (a factor on the mean remaining life) and
    a smaller chance of an emergency within the year.

    Parameters
    ----------
    lives
        Plausible laws of this heater's life.
    age_years
        Age today.
    effect
        What is believed of the act.
    still_possible
        Chance that the act can still be done in a year (below one where its window closes).
    usd_per_year
        What a year of a heater costs: price over mean life.
    failure_extra_usd
        What a failure costs above a planned replacement.
    discount
        Yearly discount rate.

    Returns
    -------
    tuple of float
        Low, mean and high over the 90% range of the effect; the low end may be below zero.
    """
    ahead = np.linspace(0.0, _YEARS_AHEAD, 81)
    remaining = np.zeros(2)
    chance = np.zeros(2)
    kept = total = 0.0
    for draws in lives:
        weight = draws.weights
        for i, age in enumerate((max(age_years, 1e-6), age_years + 1.0)):
            alive = draws.survival(age + ahead)
            share: Floats = alive / np.maximum(alive[:, :1], 1e-300)
            remaining[i] += float(weight @ np.trapezoid(share, ahead, axis=1))
            chance[i] += float(weight @ (1.0 - share[:, 2]))
        kept += float(weight @ (1.0 - _within_a_year(draws, age_years)))
        total += float(weight.sum())
    remaining, chance, kept = remaining / total, chance / total, kept / total

    def brings(i: int, log_factor: float) -> float:
        years = (math.exp(log_factor) - 1.0) * remaining[i]
        return float(years * usd_per_year + chance[i] * (1.0 - math.exp(-log_factor)) * failure_extra_usd)

    later = kept * still_possible / (1.0 + discount)
    spread = 1.645 * effect.sd
    low, mean, high = (
        brings(0, e) - later * brings(1, e) for e in (effect.mean - spread, effect.mean, effect.mean + spread)
    )
    return low, mean, high


def _within_a_year(draws: LifeDraws, age: float) -> Floats:
    alive = draws.survival(np.array([max(age, 1e-6), age + 1.0]))
    return np.asarray(1.0 - alive[:, 1] / np.maximum(alive[:, 0], 1e-300))


def worth_of_homes(
    standings: Sequence[Standing],
    wishes: Mapping[str, Wishes],
    job: Job,
    *,
    fitted: LifeFit,
    settings: Settings,
) -> dict[str, Worth]:
    """What serving each home that wants a job is worth, by home id.

    Homes of one half year of age, place and urgency share the sum, so that a
    thousand of them take as long as a hundred.

    Parameters
    ----------
    standings
        Where every home stands today.
    wishes
        What each home said, by home id.
    job
        What the crew comes for.
    fitted
        What the community's answers say about lives.
    settings
        Prices, and the chance that an act can still be done later.
    """
    known: dict[Any, Worth] = {}
    found: dict[str, Worth] = {}
    for home in standings:
        heater, wish = home.heater, wishes.get(home.home.home_id)
        if wish is None or job.interest(wish) not in _KEEN or home.age_years is None or heater is None:
            continue
        states = {c.what: c.state for c in home.cares}
        acts = [act for act in job.acts if heater.kind.has_tank or not act.needs_tank]
        half_years = round(home.age_years[1] * 2)
        key = (
            half_years,
            heater.place,
            heater.kind,
            heater.warranty_years,
            home.home.phase_id,
            home.home.softener,
            *(states.get(act.care) for act in acts),
            heater.pan,
            heater.leak_alarm,
            heater.auto_shutoff,
        )
        if key not in known:
            known[key] = _worth_of(home, half_years / 2, acts, states, fitted, settings)
        found[home.home.home_id] = known[key]
    return found


def _worth_of(
    home: Standing,
    age_years: float,
    acts: Sequence[Act],
    states: Mapping[str, CareState],
    fitted: LifeFit,
    settings: Settings,
) -> Worth:
    assert home.heater is not None
    lives = [thinned(draws) for draws in lives_of_home(fitted.posterior, home.home.home_id)]
    house = household_of(home)
    amounts = Amounts.from_settings(settings, house.kind, house.size)
    extra = mean_extra_usd(outcomes(amounts, house, house.has))
    low = mean = high = 0.0
    for act in acts:
        if act.effect is None:
            continue
        closing = act.closing is not None and states.get(act.care) is CareState.CLOSING
        one = worth_of_serving(
            lives,
            age_years,
            _effect(fitted, act.effect),
            still_possible=getattr(settings, act.closing) if closing and act.closing else 1.0,
            usd_per_year=amounts.planned_price_usd / math.exp(fitted.posterior.parameter("log median life")[0]),
            failure_extra_usd=extra,
            discount=settings.discount_rate,
        )
        low, mean, high = low + one[0], mean + one[1], high + one[2]
    return low, mean, high


def _effect(fitted: LifeFit, name: str) -> ActEffect:
    """What is believed of an act: by the community's dated acts where there are any, else what was believed before."""
    try:
        mean, sd, _, _ = fitted.posterior.parameter(name)
    except KeyError:
        belief = fitted.posterior.prior.acts[name]
        mean, sd = belief.mean, belief.sd
    return ActEffect(mean=mean, sd=sd)
