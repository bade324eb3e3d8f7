"""Days and months as arithmetic and in words."""

from __future__ import annotations

import calendar
from datetime import date

from survey_app.records import Dated
from survey_app.texts import ENGLISH, Texts
from survey_app.typed_dates.patterns import MONTH_NAMES

__all__ = ["add_months", "day_words", "describe", "month_end", "month_end_after", "month_words", "valid_day"]


def add_months(day: date, months: int) -> date:
    """The same day of the month some months later (or earlier), or the month's last day."""
    index = max(12, min(9999 * 12 + 11, day.year * 12 + day.month - 1 + months))
    year, month = divmod(index, 12)
    return date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))


def valid_day(year: int, month: int, day: int) -> date | None:
    """The day, or None where the calendar has no such day."""
    if 1 <= month <= 12 and 1 <= day <= calendar.monthrange(year, month)[1]:
        return date(year, month, day)
    return None


def month_end(year: int, month: int) -> date:
    """The last day of a month."""
    return date(year, month, calendar.monthrange(year, month)[1])


def month_end_after(day: date, months: int) -> date:
    """The last day of the month that lies some months after a day."""
    later = add_months(day, months)
    return month_end(later.year, later.month)


def describe(dated: Dated, say: Texts = ENGLISH) -> str:
    """A window in plain words of a language, as short as it can be said.

    Examples
    --------
    >>> describe(Dated(earliest=date(2009, 1, 1), latest=date(2009, 12, 31)))
    '2009'
    >>> describe(Dated(earliest=date(2009, 5, 1), latest=date(2009, 5, 31)))
    'May 2009'
    """
    first, last = dated.earliest, dated.latest
    if first == last:
        return day_words(first, say)
    starts_year, ends_year = first == date(first.year, 1, 1), last == date(last.year, 12, 31)
    if starts_year and ends_year:
        years = str(first.year), str(last.year)
        return years[0] if years[0] == years[1] else say("dates-years", first=years[0], last=years[1])
    if first.day == 1 and last == month_end(last.year, last.month):
        start, end = month_words(first, say), month_words(last, say)
        return start if start == end else say("dates-span", first=start, last=end)
    if (last - first).days == 6:
        return say("dates-week", day=day_words(first, say))
    return say("dates-span", first=day_words(first, say), last=day_words(last, say))


# In English by hand: thousands of readings of codes are described at an import, and the library is slow.
def month_words(day: date, say: Texts = ENGLISH) -> str:
    """A day's month and year, as written in a sentence."""
    return f"{MONTH_NAMES[day.month - 1]} {day.year}" if say is ENGLISH else say.month(day)


def day_words(day: date, say: Texts = ENGLISH) -> str:
    """A day as written in a sentence."""
    return f"{MONTH_NAMES[day.month - 1]} {day.day}, {day.year}" if say is ENGLISH else say.day(day)
