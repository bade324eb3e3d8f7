"""Age replacement against published equations, other libraries' values and a dynamic programme."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from survey_app.economics import AgeReplacement, break_even_age, keep_value, optimal_age
from survey_app.lifetime import LAWS


def weibull(scale: float, shape: float) -> Callable[[np.ndarray], np.ndarray]:
    """Survival of a Weibull law."""
    return lambda t: np.exp(-((t / scale) ** shape))


@pytest.mark.parametrize(
    ("scale", "shape", "planned", "failure", "age", "rate"),
    [
        # The first is the worked example of the documentation of the Python package `reliability`
        # (optimal replacement time), whose grid search gives 493.185 and .0034620; the root is exact here.
        (1000, 2.5, 1, 5, 493.0470, 0.00346200),
        (1000, 2.0, 1, 5, 510.6552, 0.004085),
        (1000, 3.0, 1, 10, 382.4555, 0.003949),
        (13, 2.5, 1, 2, 11.486822, 0.159728),
        (13, 2.5, 1, 3, 8.539125, 0.204754),
        (13, 2.5, 1, 5, 6.409610, 0.266311),
    ],
)
def test_optimal_age_without_discounting_against_barlow_and_proschan(
    scale: float, shape: float, planned: float, failure: float, age: float, rate: float
) -> None:
    """Root of h(T) * integral of S up to T - F(T) = cp / (cf - cp), found elsewhere by quadrature and bisection.

    Barlow and Proschan, Mathematical Theory of Reliability, 1965, chapter 4. Their identity
    (cf - cp) h(T) = cost rate holds at the age found here.
    """
    found = optimal_age(weibull(scale, shape), planned, failure)
    best = float(found.age[0])

    assert best == pytest.approx(age, abs=1e-3 if scale < 100 else 1e-3 * scale / 13)
    assert float(found.cost_rate[0]) == pytest.approx(rate, rel=2e-4)
    hazard = shape / scale * (best / scale) ** (shape - 1)
    assert (failure - planned) * hazard == pytest.approx(float(found.cost_rate[0]), rel=1e-6)


@pytest.mark.parametrize(
    ("rate", "age", "worth"), [(0.0, 8.539121, math.nan), (0.03, 8.864563, 6.218994), (0.05, 9.093688, 3.500410)]
)
def test_optimal_age_with_discounting_against_relife(rate: float, age: float, worth: float) -> None:
    """Weibull, scale 13, shape 2.5, costs 1 and 3.

    Ages by relife 3.0.0, ``AgeReplacementPolicy(Weibull(2.5, 1 / 13)).compute_optimal_ar(rate, cf=3, cp=1)``;
    present values by quadrature of Fox's formula (Operations Research 14, 1966).
    """
    found = optimal_age(weibull(13, 2.5), 1, 3, rate=rate)

    assert float(found.age[0]) == pytest.approx(age, abs=1e-3)
    if rate:
        assert float(found.cost_rate[0]) / rate == pytest.approx(worth, abs=2e-6)


@pytest.mark.reference
def test_optimal_age_against_relife_itself() -> None:
    """The same by the library where it is installed, at a rate and costs of no example."""
    models = pytest.importorskip("relife.lifetime_models", reason="relife lives in an environment of its own")
    policies = pytest.importorskip("relife.policies")
    theirs = policies.AgeReplacementPolicy(models.Weibull(2.6, 1 / 14.0)).compute_optimal_ar(0.04, cf=4.0, cp=1.5)

    assert float(optimal_age(weibull(14, 2.6), 1.5, 4.0, rate=0.04).age[0]) == pytest.approx(float(theirs), abs=1e-3)


@pytest.mark.parametrize("shape", [0.7, 1.0])
def test_a_hazard_that_does_not_rise_is_never_replaced_early(shape: float) -> None:
    """Barlow and Proschan 1965, chapter 4: no finite optimum without a rising hazard; cost rate is cf / mean life."""
    found = optimal_age(weibull(13, shape), 1, 3)

    assert math.isinf(float(found.age[0]))
    assert float(found.cost_rate[0]) == pytest.approx(3 / (13 * math.gamma(1 + 1 / shape)), rel=1e-3)


def test_a_failure_that_costs_no_more_is_never_forestalled() -> None:
    """Without a penalty for failing, waiting for the failure is best."""
    assert math.isinf(float(optimal_age(weibull(13, 2.5), 2, 2, rate=0.03).age[0]))


def by_months(stays: np.ndarray, planned: float, failure: float, rate: float) -> tuple[np.ndarray, float]:
    """Value of keeping at each month of age, and of a new unit, by backward recursion until it settles.

    Parameters
    ----------
    stays
        Survival at months 0, 1, 2, ...
    """
    dies = 1 - stays[1:] / np.maximum(stays[:-1], 1e-300)
    month = math.exp(-rate / 12)
    new = 0.0
    while True:
        value = np.empty(len(stays))
        value[-1] = planned + new
        for i in range(len(stays) - 2, -1, -1):
            keep = month**0.5 * dies[i] * (failure + new) + (1 - dies[i]) * month * value[i + 1]
            value[i] = keep if i == 0 else min(planned + new, keep)
        if abs(value[0] - new) < 1e-7:
            return value, new
        new = float(value[0])


@pytest.mark.parametrize("law", ["weibull", "lognormal"])
def test_optimum_and_keep_value_against_a_monthly_dynamic_programme(law: str) -> None:
    """Optimal age and the age from which 15% off pays agree within .05 year with backward recursion by months.

    Median life 12.2 years, shape 2.6 (Weibull) or 2.3 (lognormal), planned 1,800, failure 4,500, rate 3%.
    The recursion knows months only; its threshold is placed between two of them by linear interpolation.
    """
    shape = {"weibull": 2.6, "lognormal": 2.3}[law]

    def survival(ages: np.ndarray) -> np.ndarray:
        return LAWS[law].survival(ages, 12.2, shape)

    planned, failure, rate, off = 1800.0, 4500.0, 0.03, 0.85
    months = np.arange(12 * 45 + 1)
    value, new = by_months(survival(months / 12), planned, failure, rate)
    model = AgeReplacement.of(survival, rate=rate)
    policy = model.policy(planned, failure)

    assert float(policy.cost_rate[0]) / rate == pytest.approx(new, rel=2e-3)
    best = float(policy.age[0])
    first = int(np.argmax(value >= planned + new - 1e-6))
    assert first / 12 - 1 / 12 - 0.05 <= best <= first / 12 + 0.05
    gain = value - new - off * planned
    after = int(np.argmax(gain[1:] > 0)) + 1
    crossing = (after - 1 + gain[after - 1] / (gain[after - 1] - gain[after])) / 12
    assert float(break_even_age(survival, planned, failure, off * planned, rate=rate)[0]) == pytest.approx(
        crossing, abs=0.05
    )
    for age in (3.0, 6.0, 9.0):
        kept = float(keep_value(age, survival, planned, failure, rate=rate)[0])
        assert kept == pytest.approx(value[round(12 * age)] - new, abs=15)


def test_a_lognormal_optimum_is_the_least_of_all_ages_though_its_hazard_falls_again() -> None:
    """The first-order condition has two roots; the age found has the lower cost, also than never."""
    for shape in (1.2, 1.6, 2.2, 3.5):

        def survival(ages: np.ndarray, shape: float = shape) -> np.ndarray:
            return LAWS["lognormal"].survival(ages, 12.0, shape)

        found = optimal_age(survival, 1800, 6000, rate=0.03)
        ages = np.linspace(0.05, 150, 30001)
        discounted = np.exp(-0.03 * ages) * survival(ages)
        area = np.concatenate([[0.0], np.cumsum((discounted[1:] + discounted[:-1]) / 2 * np.diff(ages))]) + 0.05
        costs = (6000 - 4200 * discounted) / area
        assert float(found.index[0]) == pytest.approx(costs.min(), rel=1e-4)
        if np.isfinite(found.age[0]):
            assert float(found.age[0]) == pytest.approx(ages[np.argmin(costs)], abs=0.05)
