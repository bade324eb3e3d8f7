"""The generic forms of date codes: every way in which the printed characters can be a date.

No maker is named, and no maker's table is known here. Ten forms are read, each
after up to four letters of the factory, and a few that are seldom met:

====  ====================================================  ======================
1, 2  year and week, in either order                        `YYWW`, `WWYY`
3, 4  month and year, in either order                       `MMYY`, `YYMM`
5     last digit of the year, week                          `YWW`
6, 7  last digit, or two, of the year, day of the year      `YDDD`, `YYDDD`
8     letter of the month, one digit or two of the year     `A9`, `A09`
9     letter of the year, letter of the month               `FA`
10    letter of the year, month or week in digits           `F01`, `F03`
====  ====================================================  ======================

All are common practice, no source, except

- weeks: ISO 8601, week 1 holds the year's first Thursday (some United States
  codes count from the first full calendar week instead, 49 CFR 574; the
  difference is at most a week);
- the letters of a 20-year cycle (I, O, Q, R, U and V left out) and that A is
  1984, 2004 and 2024: from memory. That longer cycles begin in the same year
  is an assumption;
- the 30-year letter cycle: 49 CFR 565.15, Table VII (1980 is A, the letters
  I, O, Q, U and Z and the digit 0 are not used, digits 1 to 9 follow Y), and a
  20-year cycle with one-character months: IEC 60062, from memory. No heater is
  known to use them; they are read last.

Each way comes with its weight: how likely a heater's plate with such a code is
to show just these characters. A form that explains more of them weighs more,
since the rest must be chance.
"""

from __future__ import annotations

import calendar
import math
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from survey_app.typed_dates import DateReading, read_date

__all__ = ["BY_YEAR_LETTER", "OLDEST_YEARS", "Candidate", "candidates", "iso_weeks_in"]

OLDEST_YEARS = 45
"""A heater in service is not taken to be older than this (common practice, no source)."""

MONTH_LETTERS = "ABCDEFGHJKLM"
"""A to H and J to M for January to December; I is not used (common practice, no source)."""
FIRST_LETTER_YEAR = 1984
"""The year of the letter A in the cycles below (from memory for the first, assumed for the others)."""
CYCLE = "ABCDEFGHJKLMNPSTWXYZ"
"""Twenty letters: I, O, Q, R, U and V are left out (from memory)."""
CYCLES = (
    (CYCLE, 0.4),
    ("ABCDEFGHJKLMNPRSTWXYZ", 0.2),
    ("ABCDEFGHJKLMNPRSTVWXYZ", 0.2),
    ("ABCDEFGHJKLMNPRSTUVWXYZ", 0.2),
)
"""Cycles of 20 to 23 letters and how often each is supposed to be met before digits (common practice, no source)."""
CYCLE_30 = "ABCDEFGHJKLMNPRSTVWXY123456789"
"""49 CFR 565.15, Table VII: 1980 = A, again A in 2010."""
CYCLE_IEC = "ABCDEFHJKLMNPRSTUVWX"
"""IEC 60062, from memory: 1990 = A, again A in 2010."""
MONTH_CHARACTERS = "123456789OND"
"""IEC 60062, from memory: 1 to 9, then O, N, D."""
BY_YEAR_LETTER = frozenset(
    (
        "year-letter",
        "year-letter-month",
        "year-letter-week",
        "year-letter-month-letter",
        "year-letter-month-character",
    )
)
"""Forms whose year is a letter: without the maker's table they are a guess at the letters left out."""

# How often what is met, before any code is seen: the ten forms in equal shares, half of them after letters of the
# factory (common practice, no source). What is not among the ten is seldom: one in a thousand.
FORM = 0.1
SELDOM = 0.001
LETTERS_BEFORE = (0.5, 0.25, 0.25, 0.01, 0.01)
NO_DIGITS_AFTER, FEW_DIGITS_AFTER, DIGITS_AFTER = 0.3, 0.03, 0.09
"""The code alone; one or two digits of a running number after it; any other number of them."""
PART_OF_GROUPS = 0.1
"""A code that does not begin at the first character, but at a later group."""
_PLAIN = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One way to read a code.

    Parameters
    ----------
    form, where
        How, and where in the code ("" for all of it, "start", "inside"): last words of the messages' names.
    part
        The characters that were read.
    year
        The year it names. A week's year is that of ISO 8601: its first days may lie in the year before.
    first, last
        First and last day of manufacture.
    log_weight
        Natural log of how likely these characters are in this form and year; comparable within one code.
    """

    form: str
    where: str
    part: str
    year: int
    first: date
    last: date
    log_weight: float


def candidates(code: str, today: date) -> Iterator[Candidate]:
    """Each form that the characters allow, a date printed in full first.

    Parameters
    ----------
    code
        The code as typed.
    today
        The day of reading: two digits of a year mean the latest such year up to it.
    """
    plain = unicodedata.normalize("NFKC", code).upper().strip()
    full = read_date(plain, today=today, may_be_future=True)
    written_out = re.search(r"[/. -]", plain) or re.fullmatch(r"(19|20)[0-9]{2}", plain)
    if written_out and full.kind in (DateReading.EXACT, DateReading.WINDOW) and full.dated is not None:
        # "JUNE 2009" leaves nothing to guess; "2002" alone may still be February 2020, and "06-09" is a code, too.
        leaves_nothing = re.search(r"(?<![0-9])(19|20)[0-9]{2}(?![0-9])", plain) and len(plain) > 4
        dated = full.dated
        yield Candidate(
            form="full",
            where="",
            part=plain,
            year=dated.best.year,
            first=dated.earliest,
            last=dated.latest,
            log_weight=math.log(_PLAIN if leaves_nothing else FORM * NO_DIGITS_AFTER / 12),
        )
        if leaves_nothing:
            return
    tokens = [token for token in re.split(r"[^A-Z0-9]+", plain) if token]
    joined = "".join(tokens)
    # "06 09" and "06-09" are one code; a serial number in groups is read from its first group as well.
    for token in dict.fromkeys([joined, *(token for token in tokens if len(token) >= 3)]):
        reader = _Reader(token=token, all_of_it=joined, today=today)
        yield from reader.read()


def iso_weeks_in(year: int) -> int:
    """The number of ISO 8601 weeks in a year: 53 in long years, else 52.

    28 December always lies in the last week of its year (ISO 8601: week 1 is
    the week with the year's first Thursday).
    """
    return date(year, 12, 28).isocalendar().week


@dataclass(slots=True)
class _Reader:
    """One group of characters, read in every form."""

    token: str
    all_of_it: str
    today: date

    def read(self) -> Iterator[Candidate]:
        match = re.match(r"([A-Z]*)([0-9]*)", self.token)
        assert match is not None  # both parts may be empty
        letters, digits = match.groups()
        before = len(letters)
        if before < len(LETTERS_BEFORE):
            yield from self._digits(before, digits)
        if 1 <= before <= len(LETTERS_BEFORE):
            yield from self._letter_then_digits(letters, digits)
        # Two letters in front of nothing but a few digits would be a month in words or a model: a code has a number.
        if 2 <= before <= len(LETTERS_BEFORE) + 1 and (len(digits) >= 3 or len(self.token) == 2):
            yield from self._two_letters(letters, digits)
        yield from self._seldom(letters, digits)

    # ---- digits alone

    def _digits(self, before: int, digits: str) -> Iterator[Candidate]:
        if len(digits) >= 4:
            low, high = int(digits[:2]), int(digits[2:4])
            four = digits[:4]
            if 1 <= low <= 12:
                yield from self._months("month-year", four, [self._full_year(high)], low, before, digits[4:])
            if 1 <= high <= 12:
                yield from self._months("year-month", four, [self._full_year(low)], high, before, digits[4:])
            yield from self._weeks("year-week", four, [self._full_year(low)], high, before, digits[4:])
            yield from self._weeks("week-year", four, [self._full_year(high)], low, before, digits[4:])
            yield from self._days("digit-day", four, self._years_ending(digits[0]), digits[1:4], before, digits[4:])
        if len(digits) >= 5:
            two = [self._full_year(int(digits[:2]))]
            yield from self._days("year-day", digits[:5], two, digits[2:5], before, digits[5:])
        if len(digits) >= 3:
            one = self._years_ending(digits[0])
            yield from self._weeks("digit-week", digits[:3], one, int(digits[1:3]), before, digits[3:])

    # ---- a letter or two

    def _letter_then_digits(self, letters: str, digits: str) -> Iterator[Candidate]:
        letter, before = letters[-1], len(letters) - 1
        if letter in MONTH_LETTERS and digits:
            month = MONTH_LETTERS.index(letter) + 1
            half = 0.5 * FORM
            if len(digits) >= 2:
                year, part = self._full_year(int(digits[:2])), letter + digits[:2]
                yield from self._months("month-letter-year", part, [year], month, before, digits[2:], half)
            if len(digits) != 2:
                years, part = self._years_ending(digits[0]), letter + digits[0]
                yield from self._months("month-letter-digit", part, years, month, before, digits[1:], half)
        if len(digits) < 2:
            return
        number, part = int(digits[:2]), letter + digits[:2]
        for cycle, share in CYCLES:
            years = self._cycle_years(letter, cycle, FIRST_LETTER_YEAR)
            half = 0.5 * FORM * share
            if 1 <= number <= 12:
                yield from self._months("year-letter-month", part, years, number, before, digits[2:], half)
            yield from self._weeks("year-letter-week", part, years, number, before, digits[2:], half)

    def _two_letters(self, letters: str, digits: str) -> Iterator[Candidate]:
        year_letter, month_letter = letters[-2], letters[-1]
        if month_letter in MONTH_LETTERS:
            years = self._cycle_years(year_letter, CYCLE, FIRST_LETTER_YEAR)
            month = MONTH_LETTERS.index(month_letter) + 1
            yield from self._months("year-letter-month-letter", letters[-2:], years, month, len(letters) - 2, digits)

    # ---- what is not among the ten

    def _seldom(self, letters: str, digits: str) -> Iterator[Candidate]:
        token = self.token
        if 1 <= len(letters) <= len(LETTERS_BEFORE) and len(digits) >= 2:
            yield from self._unknown_cycles(letters[-1], digits[:2], len(letters) - 1, digits[2:])
        if embedded := re.match(r"([0-9]{1,4})([A-Z])([0-9]{2})", token):
            letter, two = embedded[2], embedded[3]
            if letter in MONTH_LETTERS:
                year, month = self._full_year(int(two)), MONTH_LETTERS.index(letter) + 1
                yield from self._inside("month-letter-year", letter + two, [year], month)
            if 1 <= int(two) <= 12:
                years = self._cycle_years(letter, CYCLE, FIRST_LETTER_YEAR)
                yield from self._inside("year-letter-month", letter + two, years, int(two))
        if (after := re.match(r"[A-Z]{0,4}([0-9]{2})([A-Z])(?![A-Z])", token)) and after[2] in MONTH_LETTERS:
            year, month = self._full_year(int(after[1])), MONTH_LETTERS.index(after[2]) + 1
            where = "" if token == after[1] + after[2] else "start"
            yield from self._inside("year-month-letter", after[1] + after[2], [year], month, where)
        if len(token) == 2 and token[0] in CYCLE_IEC and token[1] in MONTH_CHARACTERS:
            years = self._cycle_years(token[0], CYCLE_IEC, 1990)
            yield from self._inside(
                "year-letter-month-character", token, years, MONTH_CHARACTERS.index(token[1]) + 1, ""
            )
        if len(token) == 1 and token.isalpha():
            yield from self._letter_alone(token)

    def _unknown_cycles(self, letter: str, two: str, before: int, after: str) -> Iterator[Candidate]:
        years = self._years_of_unknown_cycles(letter)
        if 1 <= int(two) <= 12:
            yield from self._months("year-letter-month", letter + two, years, int(two), before, after, SELDOM)
        yield from self._weeks("year-letter-week", letter + two, years, int(two), before, after, SELDOM)

    def _letter_alone(self, letter: str) -> Iterator[Candidate]:
        shares = [(y, share) for c, share in CYCLES for y in self._cycle_years(letter, c, FIRST_LETTER_YEAR)]
        for year, share in [*shares, *((y, SELDOM) for y in self._years_of_unknown_cycles(letter))]:
            yield Candidate(
                form="year-letter",
                where="",
                part=letter,
                year=year,
                first=date(year, 1, 1),
                last=date(year, 12, 31),
                log_weight=math.log(share),
            )

    # ---- weights and days

    def _weight(self, part: str, share: float, *, one_of: int) -> float:
        """What the characters read and the characters not read weigh together."""
        unread_digits = sum(c.isdigit() for c in self.all_of_it) - sum(c.isdigit() for c in part)
        unread_letters = len(self.all_of_it) - len(part) - unread_digits
        chance = unread_digits * math.log(10) + unread_letters * math.log(26)
        # A group that is not at the beginning is seldom where the date stands.
        away = 0.0 if self.all_of_it.startswith(self.token) else math.log(PART_OF_GROUPS)
        return math.log(share / one_of) - chance + away

    def _at_start(self, part: str, share: float, before: int, after: str, one_of: int) -> tuple[str, float]:
        """Where a code stands that begins after `before` letters, and its weight."""
        where = "" if part == self.all_of_it else "start"
        following = {0: NO_DIGITS_AFTER, 1: FEW_DIGITS_AFTER, 2: FEW_DIGITS_AFTER}.get(len(after), DIGITS_AFTER)
        return where, self._weight(part, share * LETTERS_BEFORE[before] * following, one_of=one_of)

    def _months(
        self, form: str, part: str, years: list[int], month: int, before: int, after: str, share: float = FORM
    ) -> Iterator[Candidate]:
        where, weight = self._at_start(part, share, before, after, 12)
        yield from (_month(form, where, part, year, month, weight) for year in years)

    def _inside(self, form: str, part: str, years: list[int], month: int, where: str = "inside") -> Iterator[Candidate]:
        weight = self._weight(part, SELDOM, one_of=12)
        yield from (_month(form, where, part, year, month, weight) for year in years)

    def _weeks(
        self, form: str, part: str, years: list[int], week: int, before: int, after: str, share: float = FORM
    ) -> Iterator[Candidate]:
        where, weight = self._at_start(part, share, before, after, 52)
        for year in years:
            if 1 <= week <= iso_weeks_in(year):
                monday = date.fromisocalendar(year, week, 1)
                yield Candidate(
                    form=form,
                    where=where,
                    part=part,
                    year=year,
                    first=monday,
                    last=monday + timedelta(days=6),
                    log_weight=weight,
                )

    def _days(
        self, form: str, part: str, years: list[int], day_of_year: str, before: int, after: str
    ) -> Iterator[Candidate]:
        where, weight = self._at_start(part, FORM, before, after, 365)
        for year in years:
            if 1 <= int(day_of_year) <= 365 + calendar.isleap(year):
                day = date(year, 1, 1) + timedelta(days=int(day_of_year) - 1)
                yield Candidate(form=form, where=where, part=part, year=year, first=day, last=day, log_weight=weight)

    # ---- years

    def _full_year(self, two_digits: int) -> int:
        """The latest year up to this one that ends in two digits."""
        century = self.today.year - self.today.year % 100
        return century + two_digits if century + two_digits <= self.today.year else century - 100 + two_digits

    def _years_ending(self, digit: str) -> list[int]:
        """The years within living memory of heaters that end in a digit."""
        return [y for y in range(self.today.year - OLDEST_YEARS, self.today.year + 1) if y % 10 == int(digit)]

    def _cycle_years(self, letter: str, cycle: str, first_year: int) -> list[int]:
        """The years within living memory of heaters that a letter stands for on a repeating cycle."""
        if letter not in cycle:
            return []
        start = first_year + cycle.index(letter) - 4 * len(cycle)
        years = range(start, self.today.year + 1, len(cycle))
        return [year for year in years if year >= self.today.year - OLDEST_YEARS]

    def _years_of_unknown_cycles(self, letter: str) -> list[int]:
        return sorted({*self._cycle_years(letter, CYCLE_30, 1980), *self._cycle_years(letter, CYCLE_IEC, 1990)})


def _month(form: str, where: str, part: str, year: int, month: int, weight: float) -> Candidate:
    last = date(year, month, calendar.monthrange(year, month)[1])
    return Candidate(
        form=form, where=where, part=part, year=year, first=date(year, month, 1), last=last, log_weight=weight
    )
