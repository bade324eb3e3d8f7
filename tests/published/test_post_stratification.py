"""Estimates for all homes against published and computed reference values.

The California schools data (``apisrs``: a simple random sample of 200 of 6,194 schools; by school type 142, 33 and 25
of 4,421, 1,018 and 755) are those of the R package `survey` (Lumley), whose documentation prints total and error of
the enrollment; the means by type are computed from the same public data.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.response import (
    Part,
    Stratum,
    answers_needed,
    early_against_late,
    post_stratified,
    post_stratified_mean,
)


def test_a_random_samples_mean_and_total_equal_the_printed_ones() -> None:
    """Enrollment: mean 584.61, error 27.3684 (27.8212 uncorrected); total 3,621,074.34, error 169,519.65."""
    one = Part(name="all", homes=6194, answered=200, mean=584.61, variance=200 * 27.8212**2)
    found = post_stratified_mean([one])

    assert found.se == pytest.approx(27.3684, abs=1e-4)
    assert found.se_uncorrected == pytest.approx(27.8212, abs=1e-9)
    assert found.total == pytest.approx(3_621_074.34, abs=0.01)
    assert found.se_total == pytest.approx(169_519.65, rel=3e-6)
    assert found.se_unconditional == pytest.approx(found.se)


def test_a_random_samples_error_of_another_mean_equals_the_printed_one() -> None:
    """The test score api00: mean 656.585, error 9.2497 (9.4028 uncorrected)."""
    found = post_stratified_mean([Part(name="all", homes=6194, answered=200, mean=656.585, variance=200 * 9.4028**2)])

    assert found.se == pytest.approx(9.2497, abs=1e-4)


def test_a_textbook_sample_of_farms_is_reproduced() -> None:
    """Lohr, Sampling: Design and Analysis (agricultural census, from memory): 300 of 3,078, s 344,551.9: 18,898."""
    found = post_stratified_mean([Part(name="all", homes=3078, answered=300, mean=297_897.0, variance=344_551.9**2)])

    assert found.se == pytest.approx(18_898, abs=1)
    assert (found.mean - 1.96 * found.se, found.mean + 1.96 * found.se) == pytest.approx((260_706, 335_088), abs=250)


@pytest.mark.parametrize(
    ("means", "mean"),
    [((420.6479, 861.5455, 1150.36), 582.0567), ((666.1408, 654.2727, 605.36), 656.7816)],
)
def test_post_stratified_means_equal_the_reference(means: tuple[float, float, float], mean: float) -> None:
    """Enrollment and test score weighed by school type: 582.0567 (total 3,605,259.4) and 656.7816."""
    sizes = (("E", 4421, 142), ("M", 1018, 33), ("H", 755, 25))
    found = post_stratified_mean(
        Part(name=n, homes=h, answered=a, mean=m, variance=1.0) for (n, h, a), m in zip(sizes, means, strict=True)
    )

    assert found.mean == pytest.approx(mean, abs=1e-4)
    if mean < 600:
        assert found.total == pytest.approx(3_605_259.4, abs=0.5)


def test_the_error_before_the_answers_are_counted_equals_cochrans() -> None:
    """Homes 400, 250, 150; answers 180, 90, 75; yes 23, 2, 3: 8.638230, by the formula of Cochran (1977), 5A.9."""
    found = post_stratified(
        Stratum(name=n, homes=h, answered=a, yes=y)
        for n, h, a, y in (("1", 400, 180, 23), ("2", 250, 90, 2), ("3", 150, 75, 3))
    )

    assert found.se_total_unconditional == pytest.approx(8.638230, abs=1e-5)


def test_intervals_hold_the_truth_as_often_as_they_say() -> None:
    """4,000 samples of one community: the interval of the share holds it 93 to 97.5 of 100 times, rare or not."""
    rng = np.random.default_rng(3)
    for shares in ((0.3, 0.5, 0.2), (0.02, 0.05, 0.03)):
        sizes, answers = (400, 250, 150), (100, 60, 40)
        yes = [round(n * p) for n, p in zip(sizes, shares, strict=True)]
        truth, held = sum(yes) / sum(sizes), 0
        for _ in range(4000):
            found = post_stratified(
                Stratum(name=str(k), homes=n, answered=a, yes=int(rng.hypergeometric(y, n - y, a)))
                for k, (n, a, y) in enumerate(zip(sizes, answers, yes, strict=True))
            )
            held += found.low <= truth <= found.high
        assert 0.93 <= held / 4000 <= 0.975, shares


def test_no_yes_at_all_still_has_an_interval() -> None:
    """Nobody of 40 answers says yes: the truth may be above nothing all the same."""
    found = post_stratified([Stratum(name="1", homes=100, answered=40, yes=0)])

    assert found.low == 0.0
    assert 0.02 < found.high < 0.12


def test_late_answers_are_told_from_early_ones_only_beyond_chance() -> None:
    """A clear difference is said, a chance one is not, and few answers are not compared."""
    rng = np.random.default_rng(1)
    assert early_against_late([True] * 10) is None
    clear = early_against_late([True] * 40 + [False] * 40 + [False] * 40)
    assert clear is not None
    assert clear.sure
    assert "more than chance" in clear.sentence
    alike = [early_against_late((rng.random(300) < 0.3).tolist()) for _ in range(400)]
    false_alarms = sum(found is not None and found.sure for found in alike)
    assert false_alarms / 400 < 0.14


def test_a_post_stratified_total_equals_a_survey_librarys() -> None:
    """Homes 400, 250, 150; answers 180, 90, 75; yes 23, 2, 3: total and errors as the library `svy` 0.35 gives them."""
    found = post_stratified(
        Stratum(name=n, homes=h, answered=a, yes=y)
        for n, h, a, y in (("1", 400, 180, 23), ("2", 250, 90, 2), ("3", 150, 75, 3))
    )

    assert found.total == pytest.approx(62.6667, abs=1e-4)
    assert found.se_total_uncorrected == pytest.approx(11.2497, abs=1e-4)
    assert found.se_total == pytest.approx(8.3902, abs=1e-4)
    assert found.low < found.share < found.high


def test_a_post_stratified_share_equals_the_textbook_data() -> None:
    """California schools, the `apisrs` sample of the R package `survey`, "sch.wide" by school type: share .816396."""
    found = post_stratified(
        Stratum(name=n, homes=h, answered=a, yes=y)
        for n, h, a, y in (("E", 4421, 142, 127), ("M", 1018, 33, 24), ("H", 755, 25, 12))
    )

    assert found.share == pytest.approx(0.816396, abs=5e-6)


def test_the_finite_population_correction_equals_the_textbook_data() -> None:
    """The same source, N 6,194, n 200: standard error 27.3684 corrected, 27.8212 not; the ratio is the correction's."""
    one = post_stratified([Stratum(name="all", homes=6194, answered=200, yes=80)])

    assert one.se_total / one.se_total_uncorrected == pytest.approx(27.3684 / 27.8212, abs=4e-6)


@given(st.lists(st.tuples(st.integers(2, 500), st.floats(0, 1), st.floats(0, 1)), min_size=1, max_size=6))
def test_an_estimate_stays_within_what_is_possible(parts: list[tuple[int, float, float]]) -> None:
    """Shares stay in 0 to 1, and with every home answered there is no error left."""
    strata = []
    for k, (homes, answered, yes) in enumerate(parts):
        n = max(2, round(homes * answered))
        strata.append(Stratum(name=str(k), homes=homes, answered=n, yes=round(n * yes)))
    found = post_stratified(strata)
    assert 0 <= found.low <= found.share <= found.high <= 1
    whole = post_stratified([replace(s, answered=s.homes) for s in strata])
    assert whole.se_total == pytest.approx(0.0, abs=1e-9)


def test_answers_needed_make_the_interval_that_narrow() -> None:
    """With as many answers as asked for the half width is at most five points, with one fewer it is more."""
    for homes, share in ((200, 0.5), (1200, 0.3), (60, 0.5)):
        n = answers_needed(homes, share)

        def half(n: int, homes: int = homes, share: float = share) -> float:
            return 1.959963984540054 * math.sqrt(share * (1 - share) / n * (homes - n) / (homes - 1))

        assert half(n) <= 0.05 + 1e-9
        assert half(n - 1) > 0.05


def test_impossible_counts_are_said() -> None:
    """More yes than answers, or nothing to estimate from."""
    with pytest.raises(ValueError, match="cannot be together"):
        post_stratified([Stratum(name="P1", homes=5, answered=9, yes=1)])
    with pytest.raises(ValueError, match="too few answers"):
        post_stratified([Stratum(name="P1", homes=5, answered=1, yes=1)])
