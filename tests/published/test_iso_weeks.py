"""Weeks in date codes against ISO 8601."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from survey_app.date_codes import iso_weeks_in, readings

TODAY = date(2042, 12, 31)


@pytest.mark.parametrize(
    ("day", "year", "week", "weekday"),
    [
        ("2005-01-01", 2004, 53, 6),
        ("2005-12-31", 2005, 52, 6),
        ("2006-12-31", 2006, 52, 7),
        ("2007-01-01", 2007, 1, 1),
        ("2008-12-28", 2008, 52, 7),
        ("2008-12-29", 2009, 1, 1),
        ("2010-01-03", 2009, 53, 7),
        ("2019-12-30", 2020, 1, 1),
    ],
)
def test_edge_days_fall_into_the_iso_week_against_iso_8601(day: str, year: int, week: int, weekday: int) -> None:
    """Days around New Year lie in the week that ISO 8601 gives them (week 1 holds the first Thursday).

    The cases are those of published week tables; `datetime` agrees with each.
    """
    expected = date.fromisoformat(day)
    assert expected.isocalendar()[:] == (year, week, weekday)

    code = f"{year % 100:02}{week:02}"
    found = [r for r in readings(code, house_year=None, today=TODAY) if "year, then week" in r.form]
    assert len(found) == 1
    assert found[0].made.earliest + timedelta(days=weekday - 1) == expected
    assert found[0].made.earliest <= expected <= found[0].made.latest


def test_long_years_against_iso_8601() -> None:
    """53-week years from 1990 to 2040, and 71 of them in 400 years, after which the calendar repeats (ISO 8601)."""
    assert [y for y in range(1990, 2041) if iso_weeks_in(y) == 53] == [
        1992,
        1998,
        2004,
        2009,
        2015,
        2020,
        2026,
        2032,
        2037,
    ]
    assert sum(iso_weeks_in(year) == 53 for year in range(2000, 2400)) == 71


def test_week_53_is_read_in_long_years_only_against_iso_8601() -> None:
    """Code 2653 (year, week) is a week of 2026; 2553 is none, since 2025 has 52 weeks."""
    assert any("year, then week" in r.form for r in readings("2653", house_year=None, today=TODAY))
    assert not any("year, then week" in r.form for r in readings("2553", house_year=None, today=TODAY))


def test_every_week_of_forty_years_against_datetime() -> None:
    """Each YYWW and WWYY code gives the seven days for which `datetime` names this ISO year and week."""
    today = date(2029, 12, 31)
    for year in range(1990, 2030):
        for week in range(1, 54):
            monday = date(year, 1, 4) + timedelta(weeks=week - 1)
            monday -= timedelta(days=monday.weekday())
            exists = monday.isocalendar()[:2] == (year, week)
            for code, form in (
                (f"{year % 100:02}{week:02}", "year, then week"),
                (f"{week:02}{year % 100:02}", "week, then year"),
            ):
                weeks = [r for r in readings(code, house_year=None, today=today) if form in r.form]
                assert len(weeks) == int(exists), code
                for reading in weeks:
                    assert (reading.made.earliest, reading.made.latest) == (monday, monday + timedelta(days=6))
