"""The measure of `date_code_readings` at a smaller size: right years come early, wrong ones are never taken."""

from __future__ import annotations

import random

import date_code_readings as benchmark
import pytest

from survey_app.date_codes import probable, readings

SERIALS, SEED = 2_000, 11
BY_DIGITS = ("YYWW", "WWYY", "MMYY", "YYMM", "YYDDD")


@pytest.fixture(scope="module")
def measured() -> benchmark.Measured:
    """Two thousand serial numbers of heaters that live 12 years, the house's year known and nothing else."""
    return benchmark.measure(benchmark.WORLDS[0], SERIALS, SEED)


def test_the_right_year_is_among_the_first_three(measured: benchmark.Measured) -> None:
    """At least 95 of 100, less two standard errors of a sample of this size."""
    assert measured.share(measured.first_three) >= 0.95 - 2 * (0.05 * 0.95 / SERIALS) ** 0.5
    assert measured.share(measured.shown) >= 0.985


@pytest.mark.parametrize(
    ("form", "least"),
    [
        *((form, 0.99) for form in BY_DIGITS),
        ("YWW", 0.91),
        ("YDDD", 0.91),
        ("month letter", 0.90),
        ("two letters", 0.96),
        # Cycles of 20 to 23 letters: the best reader there can be finds 80 of 100 (run the benchmark).
        ("year letter", 0.64),
    ],
)
def test_each_form_has_its_bound(measured: benchmark.Measured, form: str, least: float) -> None:
    """No form is bought with another: letters with a known cycle, which were read in 1 of 100, are in 96."""
    assert measured.share(measured.first_three, form) >= least


@pytest.mark.parametrize("alone", [False, True])
@pytest.mark.parametrize("told", [False, True])
def test_a_wrong_single_reading_is_hardly_ever_taken_unasked(alone: bool, told: bool) -> None:
    """At most 5 in 1,000, of serial numbers and of codes typed alone; and those typed alone are not all asked about."""
    found = benchmark.measure(benchmark.WORLDS[0], 800, SEED, alone=alone, told=told)
    assert found.taken_wrong / 800 <= 0.005
    assert (found.taken > 50) is alone


def test_serial_numbers_of_no_known_form_are_never_taken() -> None:
    """Running numbers, and letters of another table: one year may fit by chance, and somebody is asked."""
    rng = random.Random(SEED)
    for _ in range(500):
        number = "".join(rng.choices("0123456789", k=8))
        for serial in (number, rng.choice("ADFGHLMRSTVZ") + rng.choice("ADFGHLMRSTVZ") + number[:6]):
            assert probable(readings(serial, house_year=2005, today=benchmark.TODAY)) is None
