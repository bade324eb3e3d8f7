"""Generic readings of printed date codes."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.date_codes import installed_after, iso_weeks_in, probable, readings
from survey_app.records import Dated, DateEvidence
from survey_app.typed_dates import read_date

TODAY = date(2026, 11, 25)


def _fitting(code: str, house_year: int | None = None, today: date = TODAY) -> dict[str, str]:
    return {r.made.earliest.isoformat(): r.form for r in readings(code, house_year=house_year, today=today) if r.fits}


def test_four_digits_give_month_year_and_year_month_and_weeks() -> None:
    """0609 is June 2009, September 2006 or a week of either year: all are returned, the person picks."""
    assert _fitting("0609") == {
        "2009-06-01": "month, then year",
        "2006-09-01": "year, then month",
        "2006-02-27": "year, then week",
        "2009-02-02": "week, then year",
    }


def test_the_house_year_rules_out_what_is_too_old_and_keeps_it_last() -> None:
    """A heater made more than a year before the house was finished does not fit, and says why."""
    found = readings("0609", house_year=2008, today=TODAY)
    assert [r.fits for r in found] == [True, True, False, False]
    assert all("2008" in r.why for r in found)


def test_a_year_in_stock_before_the_house_still_fits() -> None:
    """A heater may be made in the year before the house is finished (a year in stock, common practice, no source)."""
    assert "2009-06-01" in _fitting("0609", house_year=2010)
    assert "2009-06-01" not in _fitting("0609", house_year=2011)


def test_nothing_made_after_today_fits() -> None:
    """A code cannot mean a day that has not come."""
    later = readings("1226", house_year=None, today=TODAY)
    december = next(r for r in later if r.made.earliest == date(2026, 12, 1))
    assert not december.fits
    assert "not come yet" in december.why


@pytest.mark.parametrize(("letter", "month"), list(zip("ABCDEFGHJKLM", range(1, 13), strict=True)))
def test_month_letters_skip_i(letter: str, month: int) -> None:
    """A to H and J to M are January to December (common practice, no source)."""
    assert _fitting(f"{letter}09").get(date(2009, month, 1).isoformat(), "").startswith("letter for the month")
    assert _fitting(f"09{letter}")[date(2009, month, 1).isoformat()] == "year, then letter for the month"


def test_the_letter_i_is_no_month_and_no_year() -> None:
    """I is used neither for months nor for years, since it looks like 1."""
    assert readings("I09", house_year=None, today=TODAY) == ()


def test_a_year_letter_returns_every_year_of_its_cycles() -> None:
    """A letter repeats every 20 or 30 years, so several years come back (49 CFR 565.15 for the 30-year cycle)."""
    years = {r.made.earliest.year for r in readings("L", house_year=None, today=TODAY)}
    assert years == {1990, 2020, 1999, 2019}
    assert {r.made.earliest.year for r in readings("A", house_year=None, today=TODAY)} == {1990, 2010}


def test_a_year_letter_with_two_digits_reads_month_and_week() -> None:
    """K23 on the 30-year cycle is week 23 of 2019; K is also the month October of 2023."""
    fitting = _fitting("K23", house_year=2015)
    assert fitting["2019-06-03"] == "letter for the year, then week"
    assert fitting["2023-10-01"] == "letter for the month, then year"


@pytest.mark.parametrize("code", ["XX0609123456", "xx 0609 123456", "0609123456", "AB-0609-77", "X0609A"])
def test_codes_are_found_at_the_start_of_longer_serial_numbers(code: str) -> None:
    """Letters in front, groups and what follows do not hide the code."""
    assert "2009-06-01" in _fitting(code)


def test_a_letter_inside_the_serial_number_is_read() -> None:
    """Digits, a month letter and a year: 1234F09 hides June 2009."""
    assert "inside the serial number" in _fitting("1234F0923")["2009-06-01"]


@pytest.mark.parametrize("code", ["June 2009", "06/2009", "2009-06", "JUN 2009"])
def test_a_date_printed_in_full_leaves_nothing_to_guess(code: str) -> None:
    """With a four-digit year and a month there is one reading."""
    only = readings(code, house_year=None, today=TODAY)
    assert [r.made.earliest for r in only] == [date(2009, 6, 1)]
    assert probable(only) == only[0]


def test_four_digits_that_look_like_a_year_may_be_a_code() -> None:
    """2002 may be the year, or February 2020."""
    assert {"2002-01-01", "2020-02-01"} <= set(_fitting("2002"))


def test_equal_readings_are_merged() -> None:
    """0909 read either way is September 2009, once."""
    forms = _fitting("0909")
    assert forms["2009-09-01"] == "month, then year; or year, then month"
    assert len(forms) == 2


def test_probable_is_offered_only_when_one_reading_fits() -> None:
    """With several that fit nothing is proposed; with one it is."""
    assert probable(readings("0609", house_year=None, today=TODAY)) is None
    single = probable(readings("1315", house_year=2015, today=TODAY))
    assert single is not None
    assert single.form == "week, then year"


def test_installation_runs_from_manufacture_to_a_year_later() -> None:
    """A heater is installed after it is made, within about a year, and not after today."""
    reading = next(r for r in readings("0609", house_year=None, today=TODAY) if r.form == "month, then year")
    assert reading.window == Dated(earliest=date(2009, 6, 1), latest=date(2010, 6, 30), evidence=DateEvidence.DATE_CODE)
    fresh = installed_after(Dated.on(date(2026, 9, 1)), today=TODAY, evidence=DateEvidence.DATA_PLATE)
    assert fresh.latest == TODAY


@pytest.mark.parametrize("code", ["", "   ", "abc", "0", "9999", "IIII", "???", "ÄÖÜ", "９９９９"])
def test_unreadable_codes_give_no_reading(code: str) -> None:
    """What allows no reading gives none, and no error."""
    assert [r for r in readings(code, house_year=2009, today=TODAY) if r.fits] == []


@given(st.text(max_size=40), st.one_of(st.none(), st.integers(0, 9999)), st.dates(date(1995, 1, 1), date(2060, 12, 31)))
def test_readings_never_raise_and_keep_their_promises(code: str, house_year: int | None, today: date) -> None:
    """On any text: fitting readings come first, none is made after today, no window ends after today."""
    found = readings(code, house_year=house_year, today=today)
    assert [r.fits for r in found] == sorted((r.fits for r in found), reverse=True)
    for reading in found:
        assert reading.window.evidence is DateEvidence.DATE_CODE
        assert reading.why.endswith(".")
        if reading.fits:
            assert reading.made.earliest <= today
            assert reading.window.latest <= today


@given(st.integers(1985, 2026), st.integers(1, 12))
def test_every_month_is_among_the_readings_of_its_own_codes(year: int, month: int) -> None:
    """Whatever form a maker used for a month, the truth is offered."""
    if date(year, month, 1) > TODAY:
        return
    letter = "ABCDEFGHJKLM"[month - 1]
    for code in (f"{month:02}{year % 100:02}", f"{year % 100:02}{month:02}", f"{letter}{year % 100:02}"):
        for printed in (code, f"{code}12345") if code[0] == letter else (code, f"{code}12345", f"QX{code}99"):
            made = [r.made for r in readings(printed, house_year=None, today=TODAY) if r.fits]
            assert any(m.earliest == date(year, month, 1) for m in made), printed


@given(st.integers(1000, 9999))
def test_a_picked_reading_typed_as_date_means_the_same_window(number: int) -> None:
    """`as_typed` put into the answer is read back as the date of manufacture that was picked."""
    for reading in readings(str(number), house_year=None, today=TODAY):
        assert read_date(reading.as_typed, today=TODAY, may_be_future=True).dated == reading.made


def test_iso_weeks_in_counts_long_years() -> None:
    """2026 has 53 weeks, 2025 has 52."""
    assert (iso_weeks_in(2026), iso_weeks_in(2025)) == (53, 52)
