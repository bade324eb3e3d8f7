"""The renewal function and what follows from it, against other solvers and closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest

from survey_app.lifetime import renewal_function
from survey_app.lifetime.renewal import Spectra


def weibull(ages: np.ndarray, scale: float = 14.0, shape: float = 2.6) -> np.ndarray:
    """Share gone by an age."""
    return 1 - np.exp(-((ages / scale) ** shape))


def test_renewal_function_against_relife() -> None:
    """Weibull, scale 14, shape 2.6, at 5, 10, 20, 30 and 50 years.

    relife 3.0.0 (``RenewalProcess.renewal_function``) and an independent Volterra solver (midpoint
    Riemann-Stieltjes, Xie, Commun. Stat. Simul. 18:281, 1989) agree to five decimals.
    """
    found = renewal_function(weibull, np.array([5.0, 10.0, 20.0, 30.0, 50.0]))
    assert found == pytest.approx([0.06684, 0.35363, 1.20275, 1.99616, 3.60627], abs=1e-5)


def test_renewal_function_of_exponential_lives_is_a_line() -> None:
    """An exponential life of mean 14 years is replaced t/14 times (Cox, Renewal Theory, 1962, ch. 4)."""
    times = np.array([5.0, 20.0, 50.0])
    found = renewal_function(lambda t: 1 - np.exp(-t / 14), times)
    assert found == pytest.approx(times / 14, abs=1e-7)


def test_renewal_function_of_gamma_lives_against_closed_form() -> None:
    """Gamma of shape 2, rate r: M(t) = r t / 2 - (1 - exp(-2 r t)) / 4 (Cox 1962, ch. 4, worked there)."""
    rate, times = 0.2, np.array([3.0, 10.0, 40.0])
    found = renewal_function(lambda t: 1 - np.exp(-rate * t) * (1 + rate * t), times)
    assert found == pytest.approx(rate * times / 2 - (1 - np.exp(-2 * rate * times)) / 4, abs=1e-6)


@pytest.mark.parametrize(
    ("house_age", "expected"),
    [
        (5, [0.0387, 0.1455, 0.2868]),
        (10, [0.0804, 0.2528, 0.4301]),
        (20, [0.0790, 0.2355, 0.3925]),
        (45, [0.0804, 0.2414, 0.4023]),
    ],
)
def test_expected_failures_of_a_silent_home_against_volterra(house_age: float, expected: list[float]) -> None:
    """Failures within 1, 3 and 5 years in a house of known age, same law; an independent Volterra solver."""
    times = house_age + np.array([0.0, 1.0, 3.0, 5.0])
    found = renewal_function(weibull, times)
    assert found[1:] - found[0] == pytest.approx(expected, abs=6e-5)


def test_half_year_grid_of_the_likelihood_is_close_to_the_exact_density() -> None:
    """The grid used inside the likelihood is within 1% of the renewal density beyond the first two years."""
    edges = np.concatenate([[0.0], (np.arange(121) + 0.5) * 0.5])
    mass = np.diff(weibull(edges))
    grid = Spectra.of(mass, mass).masses(0) / 0.5
    times = np.arange(4, 120) * 0.5
    around = renewal_function(weibull, np.concatenate([times - 0.05, times + 0.05]), cells=4000)
    exact = (around[len(times) :] - around[: len(times)]) / 0.1
    assert grid[4:120] == pytest.approx(exact, rel=0.01)


def test_kinds_of_replacement_add_up() -> None:
    """Failures and early replacements make all; the second and the third-or-later make all but the first."""
    edges = np.concatenate([[0.0], (np.arange(81) + 0.5) * 0.5])
    stay, keep = np.exp(-((edges / 13) ** 2.4)), np.exp(-0.03 * edges)
    failed = (stay[:-1] - stay[1:]) * 0.5 * (keep[:-1] + keep[1:])
    ended = stay[:-1] * keep[:-1] - stay[1:] * keep[1:]
    spectra = Spectra.of(failed, ended)
    everything, later, fail, fail_later, early, early_later = (spectra.masses(k) for k in range(6))
    assert fail + early == pytest.approx(everything, abs=1e-10)
    assert everything - later == pytest.approx(ended, abs=1e-10)
    assert fail - fail_later == pytest.approx(failed, abs=1e-10)
    assert early - early_later == pytest.approx(ended - failed, abs=1e-10)


def test_long_run_replacement_rate_is_one_over_the_mean_life() -> None:
    """After a few lives the density settles at 1/mean (the elementary renewal theorem)."""
    found = renewal_function(weibull, np.array([150.0, 160.0]))
    mean = 14 * math.gamma(1 + 1 / 2.6)
    assert (found[1] - found[0]) / 10 == pytest.approx(1 / mean, rel=1e-4)
