"""Response rates and post-stratified estimates against published and computed reference values."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.response_rates import Disposition, Stratum, answers_needed, post_stratified, rates

D = Disposition


def counts(i: int, p: int = 0, r: int = 0, nc: int = 0, o: int = 0, uh: int = 0, uo: int = 0, ne: int = 0) -> dict:
    """Counts in the Standard Definitions' own order."""
    return {D.COMPLETE: i, D.PARTIAL: p, D.REFUSAL: r, D.NON_CONTACT: nc, D.OTHER: o, D.UNKNOWN_HOUSEHOLD: uh,
            D.UNKNOWN_OTHER: uo, D.NOT_ELIGIBLE: ne}  # fmt: skip


def test_rates_equal_the_worked_example_of_an_open_implementation() -> None:
    """I 4, P 2, R 1, NC 1, O 1, UH 1, UO 1, NE 1: README of the R package `outcomerate` (rOpenSci)."""
    found = rates(counts(4, 2, 1, 1, 1, 1, 1, 1))

    assert found.e == pytest.approx(0.9)
    expected = (0.364, 0.545, 0.370, 0.556, 0.444, 0.667)
    assert [found.rr1, found.rr2, found.rr3, found.rr4, found.rr5, found.rr6] == pytest.approx(expected, abs=5e-4)
    assert [found.coop1, found.ref1, found.con1] == pytest.approx((0.500, 0.091, 0.727), abs=5e-4)


def test_rates_equal_the_trivial_case_of_another_implementation() -> None:
    """I 100, NC 20: README of the R package `responserates`: every RR 83.3%, cooperation 100%, refusal 0."""
    found = rates(counts(100, nc=20))

    assert found.rr1 == found.rr3 == found.rr6 == pytest.approx(0.8333, abs=5e-5)
    assert (found.coop1, found.ref1) == (1.0, 0.0)


def test_rates_equal_the_formulas_of_the_standard_definitions() -> None:
    """I 300, P 60, R 120, NC 200, O 20, UH 60, UO 10, 30 ineligible, by the formulas (AAPOR, 2016), to six figures."""
    found = rates(counts(300, 60, 120, 200, 20, 60, 10, 30))

    assert found.e == pytest.approx(0.958904, abs=1e-6)
    expected = (0.389610, 0.467532, 0.391071, 0.469286, 0.428571, 0.514286)
    assert [found.rr1, found.rr2, found.rr3, found.rr4, found.rr5, found.rr6] == pytest.approx(expected, abs=1e-6)
    assert [found.coop1, found.ref1, found.con1] == pytest.approx((0.6, 0.155844, 0.649351), abs=1e-6)


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
    with pytest.raises(ValueError, match="zero or more"):
        rates({D.COMPLETE: -1})
