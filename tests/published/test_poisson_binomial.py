"""Exact counts of unequal chances, against hand calculation, libraries and exact rational arithmetic."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey_app.forecast import poisson_binomial
from survey_app.forecast.counts import CountMixture, fill_groups


def rational(chances: np.ndarray) -> list[Fraction]:
    """The distribution in exact arithmetic on the doubles given."""
    result = [Fraction(1)]
    for chance in chances:
        p = Fraction(float(chance))
        grown = [Fraction(0)] * (len(result) + 1)
        for i, mass in enumerate(result):
            grown[i] += mass * (1 - p)
            grown[i + 1] += mass * p
        result = grown
    return result


def test_three_chances_by_hand() -> None:
    """(.1, .2, .3): .9*.8*.7 = .504, and so on."""
    assert poisson_binomial(np.array([0.1, 0.2, 0.3])) == pytest.approx([0.504, 0.398, 0.092, 0.006], abs=1e-15)


def test_thirty_chances_against_fast_poibin() -> None:
    """P = linspace(.01, .30, 30) against PyPI fast-poibin (``PoiBin(p).pmf``) and 40-digit arithmetic."""
    found = poisson_binomial(np.linspace(0.01, 0.30, 30))
    assert found[:6] == pytest.approx(
        [0.00545377, 0.03208259, 0.08996015, 0.16005644, 0.20292615, 0.19519412], abs=5e-9
    )
    assert found[:5].sum() == pytest.approx(0.490479114, abs=1e-9)
    counts = np.arange(31)
    assert found @ counts == pytest.approx(4.65, abs=1e-12)
    assert found @ (counts - 4.65) ** 2 == pytest.approx(3.7045, abs=1e-12)
    assert np.searchsorted(np.cumsum(found), [0.05, 0.95]).tolist() == [2, 8]


def test_error_against_exact_arithmetic_is_rounding() -> None:
    """At most 1e-14 from exact rational arithmetic, for 30 and for 150 chances."""
    rng = np.random.default_rng(0)
    for chances in (np.linspace(0.01, 0.30, 30), rng.beta(1, 12, 150), rng.random(80)):
        exact = np.array([float(v) for v in rational(chances)])
        assert np.abs(poisson_binomial(chances) - exact).max() <= 1e-14


@given(st.lists(st.floats(0, 1), min_size=1, max_size=25))
@settings(deadline=None, max_examples=60)
def test_any_chances_give_a_distribution_with_their_mean(chances: list[float]) -> None:
    """It sums to one, is never negative, and has the sum of the chances as its mean, in any order."""
    p = np.array(chances)
    found = poisson_binomial(p)
    assert found.min() >= 0
    assert found.sum() == pytest.approx(1, abs=1e-12)
    assert found @ np.arange(len(p) + 1) == pytest.approx(p.sum(), abs=1e-10)
    assert poisson_binomial(p[::-1].copy()) == pytest.approx(found, abs=1e-14)


@pytest.mark.parametrize(("homes", "a", "b"), [(20, 1, 8), (300, 1, 12), (900, 1, 2), (1500, 2, 2)])
def test_mixture_by_power_sums_against_multiplying_out(homes: int, a: float, b: float) -> None:
    """The fast mixture over draws is the mean of the exact distributions: small, large and high chances."""
    rng = np.random.default_rng(homes)
    chances = np.clip(rng.beta(a, b, homes) * rng.normal(1, 0.1, (20, 1)), 0, 0.999)
    weights = rng.random(20)
    weights /= weights.sum()
    exact = weights @ poisson_binomial(chances)
    mixture = CountMixture(20, homes)
    mixture.fill(slice(0, 12), chances[:12])
    mixture.fill(slice(12, 20), chances[12:])
    found = mixture.mix(weights)
    wide = np.zeros(homes + 1)
    wide[found.first : found.first + len(found.probabilities)] = found.probabilities
    assert np.abs(wide - exact).max() <= 1e-14
    assert found.mean == pytest.approx(float(weights @ chances.sum(axis=1)), rel=1e-10)


def test_groups_and_homes_alike_add_up_to_one_count() -> None:
    """Two groups and 40 homes of one common chance, put together, equal all of them multiplied out."""
    rng = np.random.default_rng(8)
    chances = rng.beta(1, 9, (10, 130))
    common = rng.uniform(0.05, 0.6, 10)
    groups = [CountMixture(10, 70), CountMixture(10, 60)]
    fill_groups(groups, [slice(0, 70), slice(70, 130)], slice(0, 10), chances)
    together = CountMixture.together(groups)
    together.add_alike(40, common)
    weights = np.full(10, 0.1)
    exact = weights @ poisson_binomial(np.column_stack([chances, np.tile(common[:, None], 40)]))
    found = together.mix(weights)
    wide = np.zeros(171)
    wide[found.first : found.first + len(found.probabilities)] = found.probabilities
    assert np.abs(wide - exact).max() <= 1e-10


def test_chance_outside_zero_to_one_is_refused() -> None:
    """A sentence, not a silent number."""
    with pytest.raises(ValueError, match="outside 0 to 1"):
        poisson_binomial(np.array([0.2, 1.2]))
