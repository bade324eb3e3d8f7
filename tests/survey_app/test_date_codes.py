"""Generic readings of printed date codes."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.date_codes import Beside, installed_after, iso_weeks_in, probable, readings, years
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
    """A letter repeats every 20 to 23 years; cycles that no heater is known to use come last (49 CFR 565.15)."""
    found = [r.year for r in readings("L", house_year=None, today=TODAY)]
    assert set(found[:5]) == {1994, 2014, 2015, 2016, 2017}
    assert set(found[5:]) == {1990, 2020, 1999, 2019}
    usual = {1984, 2004, 2005, 2006, 2007, 2024, 2026}
    assert {r.year for r in readings("A", house_year=None, today=TODAY)} == usual | {1990, 2010}


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
    single = probable(readings("4815", house_year=2015, today=TODAY))
    assert single is not None
    assert single.form == "week, then year"
    # 1315 is week 13 of 2015, or day 315 of 2021.
    assert [r.year for r in years(readings("1315", house_year=2015, today=TODAY))] == [2015, 2021]
    assert probable(readings("1315", house_year=2015, today=TODAY)) is None


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
    found = readings(str(number), house_year=None, today=TODAY)
    for reading in (*found, *years(found)):
        assert read_date(reading.as_typed, today=TODAY, may_be_future=True).dated == reading.made


# ---- the ten forms, and what is known beside the code


@pytest.mark.parametrize(
    ("code", "form", "first_day"),
    [
        ("1923", "year, then week", date(2019, 6, 3)),
        ("2319", "week, then year", date(2019, 6, 3)),
        ("0619", "month, then year", date(2019, 6, 1)),
        ("1906", "year, then month", date(2019, 6, 1)),
        ("923", "the year's last digit, then week", date(2019, 6, 3)),
        ("9157", "the year's last digit, then day of the year", date(2019, 6, 6)),
        ("19157", "year, then day of the year", date(2019, 6, 6)),
        ("F19", "letter for the month, then year", date(2019, 6, 1)),
        ("F9", "letter for the month, then the year's last digit", date(2019, 6, 1)),
        ("SF", "letter for the year, letter for the month", date(2018, 6, 1)),
        ("S06", "letter for the year, then month", date(2018, 6, 1)),
        ("S23", "letter for the year, then week", date(2018, 6, 4)),
    ],
)
@pytest.mark.parametrize("before", ["", "T", "WZ"])
@pytest.mark.parametrize("after", ["", "4071", "40718"])
def test_each_generic_form_is_read_after_factory_letters_and_before_a_number(
    code: str, form: str, first_day: date, before: str, after: str
) -> None:
    """The ten forms, bare, with one or two letters of the factory, and with a running number behind."""
    if code == "SF" and before and not after:
        return  # three letters alone may be a word
    found = readings(before + code + after, house_year=2010, today=TODAY)
    assert any(r.made.earliest == first_day and form in r.form for r in found), [r.words for r in found]


def test_the_first_readings_name_as_many_years_and_one_entry_holds_a_year() -> None:
    """A person picks among years: 0609123456 is 2006 or 2009, however many months, weeks and days say so."""
    found = readings("0609123456", house_year=2005, today=TODAY)
    entries = years(found)
    assert [r.year for r in found[:2]] == [r.year for r in entries]
    assert {r.year for r in entries} == {2006, 2009}
    assert [len(r.dates) for r in entries if r.year == 2006] == [3]
    by_year = {r.year: r for r in entries}
    assert by_year[2009].words == (
        '2009: June 2009 (month, then year, from "0609") or the week of February 2, 2009 (week, then year, from "0609")'
    )
    assert by_year[2009].made == Dated(earliest=date(2009, 2, 1), latest=date(2009, 6, 30))
    assert sum(r.share for r in entries) == pytest.approx(1)


def test_letter_cycles_that_no_heater_is_known_to_use_come_last() -> None:
    """K23 is week 23 of 2019 on the cycle of road vehicles, of 2018 on that of capacitors: both stand behind."""
    entries = [r.year for r in years(readings("K23", house_year=None, today=TODAY))]
    assert set(entries[:6]) == {2023, 1993, 2013, 2014, 2015, 2016}
    assert set(entries[6:]) == {1989, 2019, 1998, 2018}


@pytest.mark.parametrize(
    ("beside", "fitting"),
    [
        (Beside(), {2005, 2015, 2025}),
        (Beside(first=True), {2005}),
        (Beside(previous_gone=Dated.on(date(2016, 5, 1))), {2015}),
        (Beside(stated=Dated(earliest=date(2024, 6, 1), latest=date(2026, 5, 31))), {2025}),
    ],
)
def test_a_reading_is_checked_against_all_that_is_known(beside: Beside, fitting: set[int]) -> None:
    """Week 12 of a 5: first heater of a house of 2005, the end of the one before, the date that was given."""
    found = readings("512", house_year=2005, today=TODAY, beside=beside)
    assert {r.year for r in years(found)} == fitting


def test_a_first_heater_whose_code_is_never_of_the_house_is_read_as_a_later_one() -> None:
    """Where no year goes with "first", the years are offered all the same: the person may be wrong about it."""
    found = readings("1419", house_year=2006, today=TODAY, beside=Beside(first=True))
    assert {r.year for r in years(found)} == {2014, 2019, 2011, 2021}


def test_people_who_saw_the_heater_before_it_go_hardly_have_an_older_one() -> None:
    """Moved in in 2018 and saw it fail: of 2011 and 2021, 2021 comes first; else the nearer to the usual age."""
    saw = Beside(first=False, moved_in=Dated.on(date(2018, 3, 1)))
    order = [r.year for r in years(readings("150", house_year=1995, today=TODAY, beside=saw))]
    shares = {r.year: r.share for r in years(readings("150", house_year=1995, today=TODAY, beside=saw))}
    before = {r.year: r.share for r in years(readings("150", house_year=1995, today=TODAY, beside=Beside(first=False)))}
    assert order[0] == 2021
    assert shares[2011] < before[2011]


def test_the_ages_that_heaters_reach_order_the_years() -> None:
    """Of the decades the likelier age comes first: few heaters reach 30 years."""
    order = [r.year for r in years(readings("612", house_year=1990, today=TODAY))]
    assert order == [2026, 2016, 2006, 1996]


def test_nothing_by_a_years_letter_alone_is_settled() -> None:
    """One year fits a letter's code, and is still not taken, unless it is the first heater's."""
    letter = readings("FA", house_year=2005, today=TODAY)
    assert [r.year for r in years(letter)] == [2009]
    assert years(letter)[0].by_letter_alone
    assert probable(letter) is None
    told = readings("FA", house_year=2009, today=TODAY, beside=Beside(first=True))
    assert probable(told) == told[0]


@given(st.from_regex(r"[A-Z]{0,2}[0-9]{5,10}", fullmatch=True), st.integers(1985, 2023))
def test_no_serial_number_is_taken_unasked(serial: str, house_year: int) -> None:
    """Behind a serial number may be a form that nobody has told of: somebody has to pick."""
    found = readings(serial, house_year=house_year, today=TODAY)
    assert probable(found) is None or len(serial) == 5
    assert [r.year for r in found[:3]] == [r.year for r in years(found)[:3]] or len(years(found)) < 3


def test_iso_weeks_in_counts_long_years() -> None:
    """2026 has 53 weeks, 2025 has 52."""
    assert (iso_weeks_in(2026), iso_weeks_in(2025)) == (53, 52)
