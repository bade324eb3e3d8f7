"""Response rates against worked examples and the formulas of the AAPOR Standard Definitions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.response import Disposition, rates

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


@given(st.lists(st.integers(0, 400), min_size=8, max_size=8))
def test_rates_keep_their_order_whatever_the_counts(n: list[int]) -> None:
    """A rate with partial answers is never below the one without; RR1 <= RR3 <= RR5; all lie in 0 to 1."""
    found = rates(counts(*n))
    named = [found.rr1, found.rr2, found.rr3, found.rr4, found.rr5, found.rr6, found.coop1, found.ref1, found.con1]
    assert all(v is None or 0 <= v <= 1 + 1e-12 for v in named)
    for least, most in ((found.rr1, found.rr2), (found.rr3, found.rr4), (found.rr5, found.rr6), (found.rr1, found.rr3)):
        assert least is None or most is None or least <= most + 1e-12
    if found.rr5 is not None and found.rr3 is not None:
        assert found.rr3 <= found.rr5 + 1e-12


def test_impossible_counts_are_refused() -> None:
    """A negative count, or an e that is no share."""
    with pytest.raises(ValueError, match="zero or more"):
        rates({D.COMPLETE: -1})
    with pytest.raises(ValueError, match="between 0 and 1"):
        rates(counts(5), e=1.5)
