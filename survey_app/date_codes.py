"""Generic readings of the date code that is printed on a heater's data plate.

Makers hide the date of manufacture in a serial number, each in a form of its
own, and the same four digits can be a month and a year, or a year and a week.
No maker is named here: every form that the printed characters allow is read,
those that agree with the year the house was finished come first, and the
person picks. Only the maker's own warranty page can confirm the pick.

A code says when a heater was *made*. It was installed after that: up to a
year later (common practice, no source), which is the window a reading gives.
The forms with numbers and letters are common practice, no source, except

- weeks: ISO 8601, week 1 holds the year's first Thursday (some United States
  codes count from the first full calendar week instead, 49 CFR 574; the
  difference is at most a week);
- the 30-year letter cycle: 49 CFR 565.15, Table VII (1980 is A, the letters
  I, O, Q, U and Z and the digit 0 are not used, digits 1 to 9 follow Y);
- the 20-year letter cycle and its one-character months: IEC 60062, from memory.
"""

from __future__ import annotations

import calendar
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from survey_app.records import Dated, DateEvidence
from survey_app.texts import ENGLISH, Texts
from survey_app.typed_dates import DateReading, add_months, describe, read_date

__all__ = ["STOCK_MONTHS", "Reading", "installed_after", "iso_weeks_in", "probable", "readings"]

STOCK_MONTHS = 12
"""Months a heater may wait between the factory and the house (common practice, no source)."""
OLDEST_YEARS = 45
"""A heater in service is not taken to be older than this (common practice, no source)."""

MONTH_LETTERS = "ABCDEFGHJKLM"
"""A to H and J to M for January to December; I is not used (common practice, no source)."""
CYCLE_30 = "ABCDEFGHJKLMNPRSTVWXY123456789"
"""49 CFR 565.15, Table VII: 1980 = A, again A in 2010."""
CYCLE_20 = "ABCDEFHJKLMNPRSTUVWX"
"""IEC 60062, from memory: 1990 = A, again A in 2010."""
MONTH_CHARACTERS = "123456789OND"
"""IEC 60062, from memory: 1 to 9, then O, N, D."""


_Form = tuple[str, str]
"""A way to read a code, and where in it ("" for all of it): the last words of their messages' names."""


@lru_cache(maxsize=1_000)
def _forms_in(forms: tuple[_Form, ...], say: Texts) -> str:
    """Ways to read a code in words: "month, then year; or year, then month, at the start of the serial number"."""
    words = ""
    for form, where in forms:
        one = say(f"code-form-{form}") + (say(f"code-where-{where}") if where else "")
        words = say("code-or", first=words, second=one) if words else one
    return words


def _in_english(form: _Form) -> str:
    return _forms_in((form,), ENGLISH)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One way to read a printed code.

    Parameters
    ----------
    forms
        How it was read: each way with where in the code, as the names of messages.
    part
        The characters that were read.
    made
        The window of manufacture.
    window
        The window of installation: from the first day of manufacture to a year
        after the last, never after today. Evidence is the date code.
    fits
        Whether it agrees with the house's year and with today.
    why
        A sentence that says so, or why not.
    """

    forms: tuple[_Form, ...]
    part: str
    made: Dated
    window: Dated
    fits: bool
    why: str

    @property
    def as_typed(self) -> str:
        """The date of manufacture as text that `read_date` reads back, to put into the answer when picked."""
        first, last = self.made.earliest, self.made.latest
        if first == last:
            return first.isoformat()
        if first == date(first.year, 1, 1) and last == date(first.year, 12, 31):
            return str(first.year)
        if first.day == 1 and last == date(first.year, first.month, _days_in(first.year, first.month)):
            return describe(self.made)
        return f"{first.isoformat()} to {last.isoformat()}"

    @property
    def form(self) -> str:
        """How it was read, in English ("month, then year")."""
        return _forms_in(self.forms, ENGLISH)

    @property
    def words(self) -> str:
        """The reading as one line to choose from, in English."""
        return self.words_in(ENGLISH)

    def words_in(self, say: Texts) -> str:
        """The reading as one line to choose from, in one language."""
        return f"{describe(self.made, say)} ({_forms_in(self.forms, say)})"


def readings(code: str, *, house_year: int | None, today: date) -> tuple[Reading, ...]:
    """Every plausible reading of a printed code, those that fit first.

    Parameters
    ----------
    code
        The code as typed: four digits, a letter with digits, or a longer serial
        number with letters in front.
    house_year
        The year the house was finished, None where nobody knows. A heater made
        more than a year before that year began does not fit.
    today
        The day of reading; nothing made later fits.

    Returns
    -------
    tuple of Reading
        Fitting readings first, newest first within each part; empty when the
        characters allow no reading. Never raises.

    Examples
    --------
    >>> found = readings("0619", house_year=2012, today=date(2026, 1, 31))
    >>> [reading.words for reading in found if reading.fits]
    ['June 2019 (month, then year)', 'the week of February 4, 2019 (week, then year)']
    """
    return _readings_cached(code[:80], house_year, today)


def probable(found: tuple[Reading, ...]) -> Reading | None:
    """The only reading that fits, to be offered as "probably"; None when several fit, or none."""
    fitting = [reading for reading in found if reading.fits]
    return fitting[0] if len(fitting) == 1 else None


def installed_after(made: Dated, *, today: date, evidence: DateEvidence) -> Dated:
    """The window of installation of a heater made in a window: up to a year later, never after `today`."""
    latest = max(made.earliest, min(add_months(made.latest, STOCK_MONTHS), today))
    return Dated(earliest=made.earliest, latest=latest, evidence=evidence)


def iso_weeks_in(year: int) -> int:
    """The number of ISO 8601 weeks in a year: 53 in long years, else 52.

    28 December always lies in the last week of its year (ISO 8601: week 1 is
    the week with the year's first Thursday).
    """
    return date(year, 12, 28).isocalendar().week


@lru_cache(maxsize=20_000)
def _readings_cached(code: str, house_year: int | None, today: date) -> tuple[Reading, ...]:
    merged: dict[tuple[date, date], tuple[tuple[_Form, ...], str]] = {}
    for form, part, first, last in _candidates(code, today):
        before = merged.get((first, last))
        if before is None:
            merged[first, last] = ((form,), part)
        elif not any(_in_english(form) in _in_english(one) for one in before[0]):
            # "month, then year" adds nothing to "month, then year, at the start of the serial number".
            merged[first, last] = ((*before[0], form), before[1])
    found = [
        _judge(forms, part, Dated(earliest=first, latest=last), house_year, today)
        for (first, last), (forms, part) in merged.items()
    ]
    found.sort(key=lambda reading: (not reading.fits, -reading.made.earliest.toordinal(), reading.form))
    return tuple(found)


def _judge(forms: tuple[_Form, ...], part: str, made: Dated, house_year: int | None, today: date) -> Reading:
    words = describe(made)
    fits, why = True, f"Made in {words}: nothing speaks against it."
    if made.earliest > today:
        fits, why = False, f"{words} has not come yet."
    elif made.latest < add_months(today, -12 * OLDEST_YEARS):
        fits, why = False, f"{words} is more than {OLDEST_YEARS} years ago."
    elif house_year is not None and made.latest.year < house_year - 1:
        fits, why = False, f"{words} is more than a year before the house was finished ({house_year})."
    elif house_year is not None:
        why = f"Made in {words}: agrees with a house finished in {house_year}."
    window = installed_after(made, today=today, evidence=DateEvidence.DATE_CODE)
    return Reading(forms=forms, part=part, made=made, window=window, fits=fits, why=why)


_Candidate = tuple[_Form, str, date, date]


def _candidates(code: str, today: date) -> Iterator[_Candidate]:
    """Each form that the characters allow, with the part read, first and last day of manufacture."""
    plain = unicodedata.normalize("NFKC", code).upper().strip()
    full = read_date(plain, today=today, may_be_future=True)
    written_out = re.search(r"[/. -]", plain) or re.fullmatch(r"(19|20)[0-9]{2}", plain)
    if written_out and full.kind in (DateReading.EXACT, DateReading.WINDOW) and full.dated is not None:
        yield ("full", ""), plain, full.dated.earliest, full.dated.latest
        # "JUNE 2009" leaves nothing to guess; "2002" alone may still be February 2020.
        if re.search(r"(?<![0-9])(19|20)[0-9]{2}(?![0-9])", plain) and len(plain) > 4:
            return
    tokens = [token for token in re.split(r"[^A-Z0-9]+", plain) if token]
    joined = "".join(tokens)
    # "06 09" and "06-09" are one code; a serial number in groups is read from its first group as well.
    for token in dict.fromkeys([joined, *(token for token in tokens if len(token) >= 3)]):
        yield from _token(token, today)


def _token(token: str, today: date) -> Iterator[_Candidate]:
    match = re.match(r"([A-Z]{0,4})([0-9]*)", token)
    assert match is not None
    letters, digits = match.groups()
    inside = "" if token == letters + digits and len(digits) <= 4 else "start"
    if len(digits) >= 4:
        yield from _four_digits(digits[:4], inside, today)
    if letters and len(digits) >= 2:
        yield from _letter_and_digits(letters[-1], digits[:2], inside, today)
    if embedded := re.match(r"([0-9]{1,4})([A-Z])([0-9]{2})", token):
        yield from _letter_and_digits(embedded[2], embedded[3], "inside", today)
    if year_then_month := re.match(r"([0-9]{2})([A-Z])(?![A-Z])", token):
        alone = "" if len(token) == 3 else inside
        yield from _month_letter(year_then_month[2], year_then_month[1], alone, today)
    if len(token) == 2 and token[0] in CYCLE_20 and token[1] in MONTH_CHARACTERS:
        month = MONTH_CHARACTERS.index(token[1]) + 1
        for year in _cycle_years(token[0], CYCLE_20, 1990, today):
            yield ("year-letter-month-character", ""), token, *_month(year, month)
    if len(token) == 1 and token.isalpha():
        for year in sorted({*_cycle_years(token, CYCLE_30, 1980, today), *_cycle_years(token, CYCLE_20, 1990, today)}):
            yield ("year-letter", ""), token, date(year, 1, 1), date(year, 12, 31)


def _four_digits(digits: str, inside: str, today: date) -> Iterator[_Candidate]:
    low, high = int(digits[:2]), int(digits[2:])
    if 1 <= low <= 12:
        yield ("month-year", inside), digits, *_month(_full_year(high, today), low)
    if 1 <= high <= 12:
        yield ("year-month", inside), digits, *_month(_full_year(low, today), high)
    yield from _week(("year-week", inside), digits, _full_year(low, today), high)
    yield from _week(("week-year", inside), digits, _full_year(high, today), low)


def _letter_and_digits(letter: str, digits: str, inside: str, today: date) -> Iterator[_Candidate]:
    number, part = int(digits), letter + digits
    if letter in MONTH_LETTERS:
        month = MONTH_LETTERS.index(letter) + 1
        yield ("month-letter-year", inside), part, *_month(_full_year(number, today), month)
    years = sorted({*_cycle_years(letter, CYCLE_30, 1980, today), *_cycle_years(letter, CYCLE_20, 1990, today)})
    for year in years:
        if 1 <= number <= 12:
            yield ("year-letter-month", inside), part, *_month(year, number)
        yield from _week(("year-letter-week", inside), part, year, number)


def _month_letter(letter: str, digits: str, inside: str, today: date) -> Iterator[_Candidate]:
    if letter in MONTH_LETTERS:
        month = MONTH_LETTERS.index(letter) + 1
        yield (
            ("year-month-letter", inside),
            digits + letter,
            *_month(_full_year(int(digits), today), month),
        )


def _week(form: _Form, part: str, year: int, week: int) -> Iterator[_Candidate]:
    if 1 <= week <= iso_weeks_in(year):
        monday = date.fromisocalendar(year, week, 1)
        yield form, part, monday, monday + timedelta(days=6)


def _cycle_years(letter: str, cycle: str, first_year: int, today: date) -> list[int]:
    """The years within living memory of heaters that a letter stands for on a repeating cycle."""
    if letter not in cycle:
        return []
    start = first_year + cycle.index(letter) - 2 * len(cycle)
    years = range(start, today.year + 1, len(cycle))
    return [year for year in years if year >= today.year - OLDEST_YEARS]


def _full_year(two_digits: int, today: date) -> int:
    """The latest year up to this one that ends in two digits."""
    century = today.year - today.year % 100
    return century + two_digits if century + two_digits <= today.year else century - 100 + two_digits


def _month(year: int, month: int) -> tuple[date, date]:
    return date(year, month, 1), date(year, month, _days_in(year, month))


def _days_in(year: int, month: int) -> int:
    return calendar.monthrange(year, month)[1]
