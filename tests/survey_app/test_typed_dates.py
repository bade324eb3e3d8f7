"""Dates as people write them, read into windows."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.records import Dated
from survey_app.typed_dates import DateReading, add_months, describe, from_memory, read_date

TODAY = date(2026, 11, 25)


def _window(text: str, today: date = TODAY) -> tuple[str, str]:
    dated = read_date(text, today=today).dated
    assert dated is not None, text
    return dated.earliest.isoformat(), dated.latest.isoformat()


@pytest.mark.parametrize(
    ("text", "earliest", "latest"),
    [
        ("2009", "2009-01-01", "2009-12-31"),
        ("2009.0", "2009-01-01", "2009-12-31"),
        ("'09", "2009-01-01", "2009-12-31"),
        ("98", "1998-01-01", "1998-12-31"),
        ("about 2009", "2007-01-01", "2011-12-31"),
        ("2009?", "2007-01-01", "2011-12-31"),
        ("~2009", "2007-01-01", "2011-12-31"),
        ("circa 2009", "2007-01-01", "2011-12-31"),
        ("2009 or so", "2007-01-01", "2011-12-31"),
        ("2010ish", "2008-01-01", "2012-12-31"),
        ("about May 2009", "2009-02-01", "2009-08-31"),
        ("about 12 May 2009", "2009-04-11", "2009-06-12"),
        ("2008-2010", "2008-01-01", "2010-12-31"),
        ("2008 – 2010", "2008-01-01", "2010-12-31"),
        ("between 2008 and 2010", "2008-01-01", "2010-12-31"),
        ("2008 or 2009", "2008-01-01", "2009-12-31"),
        ("2008/2009", "2008-01-01", "2009-12-31"),
        ("2008-2010?", "2007-01-01", "2011-12-31"),
        ("2007 to 08", "2007-01-01", "2008-12-31"),
        ("12/2010 - 3/2011", "2010-12-01", "2011-03-31"),
        ("May to July 2009", "2009-05-01", "2009-07-31"),
        ("2008-13", "2008-01-01", "2013-12-31"),
        ("2008-10", "2008-01-01", "2010-12-31"),
        ("2008-05", "2008-05-01", "2008-05-31"),
        ("5/2009", "2009-05-01", "2009-05-31"),
        ("05/09", "2009-05-01", "2009-05-31"),
        ("052009", "2009-05-01", "2009-05-31"),
        ("May 2009", "2009-05-01", "2009-05-31"),
        ("may, 09", "2009-05-01", "2009-05-31"),
        ("Febuary 2012", "2012-02-01", "2012-02-29"),
        ("12 May 09", "2009-05-12", "2009-05-12"),
        ("May 12th, 2009", "2009-05-12", "2009-05-12"),
        ("Tue May 12 2009", "2009-05-12", "2009-05-12"),
        ("2009-05-12", "2009-05-12", "2009-05-12"),
        ("2009-05-12 00:00:00", "2009-05-12", "2009-05-12"),
        ("2009-05-12T10:15:00Z", "2009-05-12", "2009-05-12"),
        ("20090512", "2009-05-12", "2009-05-12"),
        ("05/13/2009", "2009-05-13", "2009-05-13"),
        ("13.5.2009", "2009-05-13", "2009-05-13"),
        ("5/5/09", "2009-05-05", "2009-05-05"),
        ("39945", "2009-05-12", "2009-05-12"),
        ("spring 2009", "2009-03-01", "2009-05-31"),
        ("fall of '09", "2009-09-01", "2009-11-30"),
        ("winter 2009", "2008-12-01", "2010-02-28"),
        ("early 2009", "2009-01-01", "2009-04-30"),
        ("mid-2009", "2009-05-01", "2009-08-31"),
        ("end of 2009", "2009-09-01", "2009-12-31"),
        ("Q2 2009", "2009-04-01", "2009-06-30"),
        ("the 90s", "1990-01-01", "1999-12-31"),
        ("early 2000s", "2000-01-01", "2003-12-31"),
        ("10 years ago", "2015-11-25", "2017-11-25"),
        ("10 yrs", "2015-11-25", "2017-11-25"),
        ("ten years ago", "2015-11-25", "2017-11-25"),
        ("3 years ago", "2023-05-25", "2024-05-25"),
        ("3 yrs ago", "2023-05-25", "2024-05-25"),
        ("3yrs. ago", "2023-05-25", "2024-05-25"),
        ("3-4 years ago", "2022-05-25", "2024-05-25"),
        ("10+ years ago", "2011-11-25", "2016-11-25"),
        ("6 months ago", "2026-04-25", "2026-06-25"),
        ("last year", "2025-01-01", "2025-12-31"),
        ("this year", "2026-01-01", "2026-11-25"),
        ("last month", "2026-10-01", "2026-10-31"),
        ("before 2010", "2005-01-01", "2009-12-31"),
        ("by 2010", "2005-01-01", "2010-12-31"),
        ("since 2015", "2015-01-01", "2026-11-25"),
        ("installed in 2009", "2009-01-01", "2009-12-31"),
        ("2009 (per invoice)", "2009-01-01", "2009-12-31"),
        ("2009 I think", "2007-01-01", "2011-12-31"),
    ],
)
def test_read_date_gives_the_window_a_person_means(text: str, earliest: str, latest: str) -> None:
    """Each usual way to write a date becomes the first and last day it can mean."""
    assert _window(text) == (earliest, latest)


@pytest.mark.parametrize(
    "text", ["", "  ", "?", "???", "not sure", "IDK", "I don’t know", "N/A", "-", "unknown", "nan"]
)
def test_read_date_leaves_open_what_nobody_knows(text: str) -> None:
    """Blank and every spelling of "not sure" are valid answers, not errors."""
    assert read_date(text, today=TODAY).kind is DateReading.UNKNOWN


@pytest.mark.parametrize("text", ["never", "Never.", "never that I know of", "not yet", "no", "none"])
def test_read_date_understands_never(text: str) -> None:
    """A service that was never done is told apart from one nobody remembers."""
    assert read_date(text, today=TODAY).kind is DateReading.NEVER


@pytest.mark.parametrize(
    "text",
    [
        "May 31",
        "12 May",
        "02/30/2009",
        "31.4.2010",
        "13/13/2009",
        "original",
        "200",
        "banana",
        "999 years ago",
        "x" * 500,
    ],
)
def test_read_date_says_why_and_what_to_write_when_unreadable(text: str) -> None:
    """What cannot be read comes with a reason and a remedy, never with a guess."""
    read = read_date(text, today=TODAY)
    assert read.kind is DateReading.UNREADABLE
    assert read.dated is None
    assert read.note
    assert "2009" in read.remedy


@pytest.mark.parametrize(
    "text", ["not in 2009", "never before 2009 but after 2007 or 2010", "2005, 2009, 2014", "until someone says 2009"]
)
def test_read_date_does_not_pick_a_year_out_of_a_negation_or_a_list(text: str) -> None:
    """A lone year inside other words counts, but not when the words may turn it around."""
    assert read_date(text, today=TODAY).kind in (DateReading.UNREADABLE, DateReading.NEVER)


def test_read_date_covers_both_readings_of_an_ambiguous_day() -> None:
    """05/12/2009 is May 12 or 5 December: the window holds both, the note says so, month first is preferred."""
    read = read_date("05/12/2009", today=TODAY)
    assert read.dated == Dated(earliest=date(2009, 5, 12), latest=date(2009, 12, 5))
    assert read.kind is DateReading.WINDOW
    assert read.preferred == date(2009, 5, 12)
    assert "May 12" in read.note
    assert "December 5" in read.note


def test_read_date_prefers_day_first_with_dots() -> None:
    """12.5.2009 is usually 12 May, though its window holds December 5 too."""
    assert read_date("12.5.2009", today=TODAY).preferred == date(2009, 5, 12)


def test_read_date_drops_the_reading_that_lies_in_the_future() -> None:
    """12/11/2026 written on 25 November 2026 about the past can only be 12 November."""
    assert _window("12/11/2026") == ("2026-11-12", "2026-11-12")


def test_read_date_keeps_future_readings_when_the_future_makes_sense() -> None:
    """The end of a warranty may lie ahead, so nothing is cut or ruled out."""
    read = read_date("12/11/2026", today=TODAY, may_be_future=True)
    assert read.dated == Dated(earliest=date(2026, 11, 12), latest=date(2026, 12, 11))
    assert read_date("31", today=TODAY, may_be_future=True).dated == Dated(
        earliest=date(2031, 1, 1), latest=date(2031, 12, 31)
    )


def test_read_date_hands_back_a_future_date_as_it_stands() -> None:
    """A year to come is read, so that the check can say that it has not come yet."""
    assert _window("2091") == ("2091-01-01", "2091-12-31")


def test_read_date_takes_dates_and_times_from_a_spreadsheet() -> None:
    """Dates and datetimes, as a workbook hands them over, are exact days."""
    for value in (date(2009, 5, 12), datetime(2009, 5, 12, 13, 30)):
        assert read_date(value, today=TODAY).dated == Dated.on(date(2009, 5, 12))
    assert read_date(None, today=TODAY).kind is DateReading.UNKNOWN


@given(st.text(max_size=60), st.booleans())
def test_read_date_never_raises_on_any_text(text: str, future: bool) -> None:
    """Whatever is typed, a reading comes back, and unless the future makes sense no window straddles today."""
    read = read_date(text, today=TODAY, may_be_future=future)
    assert (read.dated is None) == (read.kind not in (DateReading.EXACT, DateReading.WINDOW))
    if read.dated is not None and not future and read.dated.earliest <= TODAY:
        assert read.dated.latest <= TODAY


@given(
    st.lists(
        st.sampled_from(
            [
                "about",
                "~",
                "?",
                "2009",
                "09",
                "5",
                "13",
                "/",
                "-",
                ".",
                " ",
                "may",
                "spring",
                "or",
                "to",
                "ago",
                "years",
                "10",
                "late",
                "before",
                "after",
                "'",
                "s",
                "last",
                "12",
                "0",
                "99999999",
                "q2",
                "winter",
                "early",
                "+",
            ]
        ),
        max_size=8,
    ),
    st.dates(min_value=date(1990, 1, 1), max_value=date(2060, 12, 31)),
)
def test_read_date_never_raises_on_pieces_of_dates(pieces: list[str], today: date) -> None:
    """Scrambled pieces of dates reach every parser, on any day, and none of them breaks."""
    for joined in ("".join(pieces), " ".join(pieces)):
        read_date(joined, today=today)
        read_date(joined, today=today, may_be_future=True)


@given(st.dates(min_value=date(1950, 1, 1), max_value=TODAY))
def test_read_date_reads_every_written_day_back(day: date) -> None:
    """A day written out in several forms is that day; where day and month can be swapped, it is in the window."""
    for form in ("%Y-%m-%d", "%B %d, %Y", "%d %b %Y", "%d-%b-%Y", "%Y%m%d", "%Y/%m/%d"):
        assert read_date(day.strftime(form), today=TODAY).dated == Dated.on(day), form
    for form in ("%m/%d/%Y", "%d.%m.%Y", "%m-%d-%Y"):
        dated = read_date(day.strftime(form), today=TODAY).dated
        assert dated is not None
        assert dated.earliest <= day <= dated.latest
    two_digits = read_date(day.strftime("%b %d, %y"), today=TODAY).dated
    assert two_digits is not None
    assert two_digits.earliest == day


@given(st.integers(min_value=1950, max_value=2024), st.integers(min_value=1950, max_value=2024))
def test_read_date_range_holds_both_years_in_either_order(first: int, second: int) -> None:
    """A range is the same whichever year is written first."""
    low, high = min(first, second), max(first, second)
    for text in (f"{first}-{second}", f"{first} or {second}", f"{first} to {second}"):
        assert _window(text) == (f"{low}-01-01", f"{high}-12-31")


@given(st.integers(min_value=1950, max_value=2024))
def test_about_only_ever_widens(year: int) -> None:
    """A date with "about" holds everything the date without it holds."""
    for core in (str(year), f"May {year}", f"12 May {year}", f"spring {year}", f"{year}-{year + 1}"):
        plain, about = read_date(core, today=TODAY).dated, read_date(f"about {core}", today=TODAY).dated
        assert plain is not None
        assert about is not None
        assert about.earliest < plain.earliest
        assert about.latest >= plain.latest


@given(
    st.dates(min_value=date(1950, 1, 1), max_value=date(2050, 1, 1)),
    st.integers(min_value=0, max_value=4000),
    st.booleans(),
)
def test_describe_is_read_back_as_the_same_window(start: date, days: int, future: bool) -> None:
    """What is told to the person, typed back, means the same: nothing is lost in the words."""
    dated = Dated(earliest=start, latest=start + timedelta(days=days))
    words = describe(dated)
    read = read_date(words, today=date(2062, 1, 1), may_be_future=future).dated
    if words.startswith("the week of"):
        assert days == 6
    else:
        assert read == dated, words


@given(st.integers(min_value=1950, max_value=2026))
def test_a_year_from_memory_holds_the_year_and_ends_by_the_day_it_was_told(year: int) -> None:
    """Never narrower, never after that day, a year or two either way once it is two years past."""
    told = read_date(str(year), today=TODAY).dated
    assert told is not None
    wide = from_memory(told, on=TODAY)
    assert wide.earliest <= told.earliest
    assert told.latest <= wide.latest <= TODAY
    off = 0 if year > TODAY.year - 2 else 1 if year > TODAY.year - 10 else 2
    assert (wide.earliest.year, wide.latest.year) == (year - off, min(year + off, TODAY.year))


@pytest.mark.parametrize("words", ["May 2009", "12 May 2009", "about 2009", "2008-2010", "the 90s", "spring 2009"])
def test_what_is_no_bare_year_is_as_wide_as_it_was_told(words: str) -> None:
    """A month has an occasion behind it, a range says itself how sure it is."""
    told = read_date(words, today=TODAY).dated
    assert told is not None
    assert from_memory(told, on=TODAY) == told


def test_two_digits_carry_the_age_they_may_mean() -> None:
    """15 is the year 2015, and 15 years ago beside it; where both are one year, or one is none, there is one."""
    fifteen = read_date("15", today=TODAY)
    assert fifteen.dated == read_date("2015", today=TODAY).dated
    assert fifteen.age == read_date("15 years ago", today=TODAY).dated
    middle = (TODAY.year - 2000) // 2
    for words in (f"{middle}", "'15", "05", "98", "2015"):
        assert read_date(words, today=TODAY).age is None, words


def test_add_months_stays_in_the_month() -> None:
    """A month after 31 January is the last of February; very early dates do not break."""
    assert add_months(date(2024, 1, 31), 1) == date(2024, 2, 29)
    assert add_months(date(2024, 3, 31), -13) == date(2023, 2, 28)
    assert add_months(date(1, 1, 1), -50).year == 1
    assert add_months(date(9999, 12, 31), 50).year == 9999


@pytest.mark.parametrize(
    ("spanish", "english"),
    [
        ("5 de mayo de 2009", "5 May 2009"),
        ("Mayo de 2009", "May 2009"),
        ("ago 2012", "Aug 2012"),
        ("hacia 2009", "about 2009"),
        ("antes de 2010", "before 2010"),
        ("después del 2010", "after 2010"),
        ("entre 2008 y 2010", "between 2008 and 2010"),
        ("hace diez años", "10 years ago"),
        ("hace unos 10 años", "about 10 years ago"),
        ("primavera de 2009", "spring 2009"),
        ("finales de 2009", "end of 2009"),
        ("el año pasado", "last year"),
        ("nunca", "never"),
        ("no sé", "not sure"),
    ],
)
def test_a_spanish_date_means_what_its_english_means(spanish: str, english: str) -> None:
    """The Spanish form takes dates as Spanish speakers write them; "10 years ago" is not August."""
    today = date(2026, 11, 25)
    read, same = read_date(spanish, today=today), read_date(english, today=today)

    assert read.kind is same.kind
    assert read.dated == same.dated
    assert read_date("10 years ago", today=today).dated is not None
