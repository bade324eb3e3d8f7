"""Life data with published or library answers: our likelihood must give the same numbers.

Every case goes through the one likelihood that the product uses, without a prior.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from survey_app.lifetime import LAWS, Likelihood, durations, maximum_likelihood

NIST_FAILURES = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386]

SHOCK_ABSORBER = [
    6700, 6950, 7820, 8790, 9120, 9660, 9820, 11310, 11690, 11850, 11880, 12140, 12200, 12870, 13150, 13330,
    13470, 14040, 14300, 17520, 17540, 17890, 18450, 18960, 18980, 19410, 20100, 20100, 20150, 20320, 20900,
    22700, 23490, 26510, 27410, 27490, 27890, 28100,
]  # fmt: skip
SHOCK_FAILED = {6700, 9120, 12200, 13150, 14300, 17520, 20900, 22700, 26510, 27490}

CAGE_FAILURES = [230, 334, 423, 990, 1009, 1510]
CAGE_CENSORED = {
    50: 288, 150: 148, 250: 124, 350: 111, 450: 106, 550: 99, 650: 110, 750: 114, 850: 119, 950: 127,
    1050: 123, 1150: 93, 1250: 47, 1350: 41, 1450: 27, 1550: 11, 1650: 6, 1850: 1, 2050: 2,
}  # fmt: skip


def bearing_cages() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Hours, failed, number of units."""
    hours = np.array(CAGE_FAILURES + list(CAGE_CENSORED), dtype=float)
    failed = np.array([True] * 6 + [False] * len(CAGE_CENSORED))
    return hours, failed, np.array([1] * 6 + list(CAGE_CENSORED.values()), dtype=float)


def test_weibull_fit_against_nist_handbook() -> None:
    """Right censoring: NIST/SEMATECH e-Handbook of Statistical Methods, section 8.4.1.3.

    It prints eta 606.5280, beta 1.7208, mean 540.737, sd 323.806, log likelihood -75.135, AIC 154.27.
    The printed eta is off in its seventh digit (lifelines 0.30.3 and surpyval 0.25 give 606.5275), so 1e-3.
    """
    found = maximum_likelihood(durations(NIST_FAILURES + [500] * 10, [1] * 10 + [0] * 10))
    assert found.scale == pytest.approx(606.5280, abs=1e-3)
    assert found.shape == pytest.approx(1.7208, abs=5e-5)
    assert found.log_likelihood == pytest.approx(-75.135, abs=5e-4)
    assert -2 * found.log_likelihood + 4 == pytest.approx(154.27, abs=5e-3)
    mean = found.scale * math.gamma(1 + 1 / found.shape)
    sd = found.scale * math.sqrt(math.gamma(1 + 2 / found.shape) - math.gamma(1 + 1 / found.shape) ** 2)
    assert mean == pytest.approx(540.737, abs=2e-3)
    assert sd == pytest.approx(323.806, abs=2e-3)
    assert LAWS["weibull"].mean_years(math.exp(found.log_median), found.shape) == pytest.approx(mean, rel=1e-9)


def test_weibull_fit_against_shock_absorber() -> None:
    """38 vehicles, 11 failures: data O'Connor, Practical Reliability Engineering, 1985.

    Check values: lifelines 0.30.3 (eta 27718.72, beta 3.160470, log likelihood -123.9954). Meeker and
    Escobar 1998 give mu 10.23 and sigma 0.3164 (from memory).
    """
    failed = [int(t in SHOCK_FAILED) for t in SHOCK_ABSORBER]
    failed[26] = 1  # one of the two at 20100 failed
    found = maximum_likelihood(durations(SHOCK_ABSORBER, failed))
    assert found.scale == pytest.approx(27718.72, rel=1e-4)
    assert found.shape == pytest.approx(3.160470, rel=1e-4)
    assert found.log_likelihood == pytest.approx(-123.9954, abs=5e-5)
    assert found.log_scale == pytest.approx(10.229863, rel=1e-5)
    assert 1 / found.shape == pytest.approx(0.316409, rel=1e-4)
    tenth = math.exp(found.log_scale + math.log(-math.log(0.9)) / found.shape)
    assert tenth == pytest.approx(13600.0, rel=1e-4)


def test_weibull_fit_against_bearing_cages() -> None:
    """Six failures among 1703 units, with counts as weights: data Abernethy and others, 1983.

    Check values: lifelines 0.30.3 (eta 11792.178, beta 2.035319), log likelihood -76.4369. Meeker and
    Escobar 1998 give 11792, 2.035 and t.10 = 3903 (from memory).
    """
    hours, failed, units = bearing_cages()
    found = maximum_likelihood(durations(hours, failed, weights=units))
    assert found.scale == pytest.approx(11792.178, rel=1e-4)
    assert found.shape == pytest.approx(2.035319, rel=1e-4)
    assert found.log_likelihood == pytest.approx(-76.4369, abs=5e-5)
    tenth = math.exp(found.log_scale + math.log(-math.log(0.9)) / found.shape)
    assert tenth == pytest.approx(3903.13, rel=1e-4)


def test_expected_failures_of_survivors_against_bearing_cages() -> None:
    """Within-sample prediction: failures of the 1697 survivors within 300 hours.

    Meeker and Escobar 1998, chapter 12, print 5.057 (from memory); the same data and fit give 5.0582.
    """
    hours, failed, units = bearing_cages()
    found = maximum_likelihood(durations(hours, failed, weights=units))
    law, median = LAWS["weibull"], math.exp(found.log_median)
    now = law.survival(hours[~failed], median, found.shape)
    later = law.survival(hours[~failed] + 300, median, found.shape)
    expected = float(units[~failed] @ (1 - later / now))
    assert expected == pytest.approx(5.0582, abs=2e-4)
    assert expected == pytest.approx(5.057, abs=2e-3)


def test_posterior_by_quadrature_against_bearing_cages() -> None:
    """Few failures and an informative prior: posterior from our likelihood on a grid.

    Prior as in Meeker and Escobar 1998, chapter 14 (from memory): sigma lognormal with 99% in (.2, .5),
    t.01 log-uniform on (100, 5000) hours. Reference: two-dimensional quadrature with an independent
    likelihood, beta mean 2.7679, quantiles 2.0407 / 2.7429 / 3.6458; t.10 mean 2975.9.
    """
    hours, failed, units = bearing_cages()
    likelihood = Likelihood(durations(hours, failed, weights=units))
    z99 = 2.5758
    center, spread = (math.log(0.2) + math.log(0.5)) / 2, (math.log(0.5) - math.log(0.2)) / (2 * z99)
    log_sigma = np.linspace(center - 5 * spread, center + 5 * spread, 201)
    log_first = np.linspace(math.log(100), math.log(5000), 201)
    sigma, first = np.meshgrid(np.exp(log_sigma), log_first, indexing="ij")
    mu = first - sigma * math.log(-math.log(0.99))
    log_median = mu + sigma * math.log(math.log(2))
    theta = np.column_stack([log_median.ravel(), -np.log(sigma).ravel()])
    value = np.concatenate([likelihood.value(part) for part in np.array_split(theta, 20)]).reshape(sigma.shape)
    value -= 0.5 * ((np.log(sigma) - center) / spread) ** 2
    mass = np.exp(value - value.max())
    mass /= mass.sum()
    beta = 1 / sigma
    assert float((mass * beta).sum()) == pytest.approx(2.7679, abs=2e-3)
    order = np.argsort(beta.ravel())
    running = np.cumsum(mass.ravel()[order])
    quantiles = beta.ravel()[order][np.searchsorted(running, [0.025, 0.5, 0.975])]
    assert quantiles == pytest.approx([2.0407, 2.7429, 3.6458], abs=0.03)  # the grid's step
    tenth = np.exp(mu + sigma * math.log(-math.log(0.9)))
    assert float((mass * tenth).sum()) == pytest.approx(2975.9, rel=2e-3)


def test_interval_censoring_against_heat_exchanger() -> None:
    """Inspection data: 4 failures in (0, 1], 5 in (1, 2], 2 in (2, 3] years; 99, 95, 95 survivors.

    Data: Meeker and Escobar 1998, chapters 1 and 7. Check values: lifelines 0.30.3,
    ``WeibullFitter.fit_interval_censoring``: eta 23.6199, beta 1.345515, log likelihood -54.414705.
    """
    found = maximum_likelihood(
        durations([0, 1, 2, 1, 2, 3], upper=[1, 2, 3, np.inf, np.inf, np.inf], weights=[4, 5, 2, 99, 95, 95])
    )
    assert found.scale == pytest.approx(23.6199, rel=1e-4)
    assert found.shape == pytest.approx(1.345515, rel=1e-4)
    assert found.log_likelihood == pytest.approx(-54.414705, abs=1e-5)


def test_fit_is_unchanged_by_order_and_unit_of_time() -> None:
    """Shuffling the units changes nothing; measuring in days instead of years scales the life alone."""
    rng = np.random.default_rng(4)
    life, entry = 14 * rng.weibull(2.6, 400), rng.uniform(0, 5, 400)
    exit_age = np.minimum(life, rng.uniform(4, 25, 400))
    seen = exit_age > entry
    age, failed, start = exit_age[seen], (life <= exit_age)[seen], entry[seen]
    base = maximum_likelihood(durations(age, failed, entry=start))
    order = rng.permutation(len(age))
    mixed = maximum_likelihood(durations(age[order], failed[order], entry=start[order]))
    days = maximum_likelihood(durations(age * 365.25, failed, entry=start * 365.25))
    assert mixed.log_median == pytest.approx(base.log_median, abs=2e-6)
    assert days.log_median - math.log(365.25) == pytest.approx(base.log_median, abs=2e-5)
    assert days.shape == pytest.approx(base.shape, rel=2e-5)


def test_immortal_time_is_not_counted_where_a_service_splits_the_life() -> None:
    """With no true effect, "ever serviced" as a fixed covariate adds 23% of life; our dated split adds none.

    200,000 lives, Weibull(14, 2.6), first service at a rate of 6% a year from age 2, observed up to a
    uniform age: the published trap (immortal time bias; Suissa, Am J Epidemiol 167:492, 2008, from memory),
    with the size this simulation has.
    """
    from dataclasses import replace

    from scipy.optimize import minimize

    rng = np.random.default_rng(1)
    n = 200_000
    life = 14 * rng.weibull(2.6, n)
    service = rng.exponential(1 / 0.06, n) + 2
    until = rng.uniform(0, 25, n)
    failed, age = life <= until, np.minimum(life, until)
    ever = service < age
    naive = maximum_likelihood(durations(age, failed, factors=ever.astype(float)))
    assert math.exp(naive.factors["factor 1"]) == pytest.approx(1.229, abs=0.01)
    dated = replace(durations(age, failed), anode_from=np.where(ever, service, np.inf))
    likelihood = Likelihood(dated, acts=("anode changed",))

    def descend(v: np.ndarray) -> tuple[float, np.ndarray]:
        value, slope = likelihood.value_and_slope(v)
        return -value / n, -slope / n

    split = minimize(descend, np.array([2.5, 0.9, 0.0]), jac=True).x
    assert math.exp(split[2]) == pytest.approx(1.0, abs=0.02)
