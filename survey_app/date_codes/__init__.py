"""Generic readings of the date code that is printed on a heater's data plate.

Makers hide the date of manufacture in a serial number, each in a form of its
own, and the same four digits can be a month and a year, or a year and a week.
No maker is named here: every form that the printed characters allow is read
(`forms`), checked against what else is known of the heater, and put in order
of plausibility (`plausible`); the person picks a year. Only the maker's own
warranty page can confirm the pick.

A code says when a heater was *made*. It was installed after that: up to a
year later (common practice, no source), which is the window a reading gives.
"""

from __future__ import annotations

import calendar
import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache

from survey_app.date_codes.forms import BY_YEAR_LETTER, Candidate, candidates, iso_weeks_in
from survey_app.date_codes.plausible import STOCK_MONTHS, Against, Beside, impossible, year_weights
from survey_app.records import Dated, DateEvidence
from survey_app.texts import ENGLISH, Texts
from survey_app.typed_dates import add_months, describe

__all__ = [
    "MOST_SHOWN",
    "STOCK_MONTHS",
    "Against",
    "Beside",
    "Reading",
    "installed_after",
    "iso_weeks_in",
    "probable",
    "readings",
    "years",
]

MOST_SHOWN = 6
"""Years among which a person is asked to choose; what stands behind them is hardly ever meant (see the benchmark)."""
_NONE = Beside()

_Way = tuple[str, str]
"""A form, and where in the code ("" for all of it): the last words of their messages' names."""
_Key = tuple[int, Dated]
"""A year, and a window of manufacture in it."""


@lru_cache(maxsize=2_000)
def _ways_in(ways: tuple[_Way, ...], parts: tuple[str, ...], say: Texts) -> str:
    """Ways to read a code in words: "month, then year; or year, then month, from "0609"."""
    words = ""
    for (form, where), part in zip(ways, parts, strict=True):
        one = say(f"code-form-{form}") + (say(f"code-where-{where}", part=part) if where else "")
        words = say("code-or", first=words, second=one) if words else one
    return words


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One date that a printed code can mean, or one year with all its dates.

    Parameters
    ----------
    year
        The year of manufacture.
    forms, parts
        How it was read: each way with where in the code, as the names of
        messages, and the characters it was read from. The likeliest way first.
    made
        The window of manufacture.
    against
        What makes it impossible; None where it fits.
    share
        How plausible its year is among all that fit, from 0 to 1.
    settled
        Whether it may be taken without asking where it is the only year that fits:
        the code stands alone, and its year is no letter or agrees with what is told.
    house_year, read_on
        The year the house was finished, and the day of reading.
    dates
        For a year with several dates: each of them.
    """

    year: int
    forms: tuple[_Way, ...]
    parts: tuple[str, ...]
    made: Dated
    against: Against | None
    share: float
    settled: bool
    house_year: int | None
    read_on: date
    dates: tuple[Reading, ...] = ()

    @property
    def fits(self) -> bool:
        """Whether nothing speaks against it."""
        return self.against is None

    @property
    def window(self) -> Dated:
        """The window of installation: from the first day of manufacture to a year after the last, never after today."""
        return installed_after(self.made, today=self.read_on, evidence=DateEvidence.DATE_CODE)

    @property
    def why(self) -> str:
        """A sentence that says what speaks for it or against it, in English."""
        said = _FITS_HOUSE if self.fits and self.house_year is not None else _WHY[self.against]
        return said.format(made=describe(self.made), house=self.house_year)

    @property
    def possible(self) -> bool:
        """Whether nothing but a date that was given speaks against it: either of the two may be wrong."""
        return self.against in (None, Against.STATED)

    @property
    def by_letter_alone(self) -> bool:
        """Whether its year rests on a cycle of letters and nothing else."""
        return all(form in BY_YEAR_LETTER for form, _ in self.forms)

    @property
    def as_typed(self) -> str:
        """The date of manufacture as text that `read_date` reads back, to put into the answer when picked."""
        first, last = self.made.earliest, self.made.latest
        if first == last:
            return first.isoformat()
        if first == date(first.year, 1, 1) and last == date(first.year, 12, 31):
            return str(first.year)
        if first.day == 1 and last.day == calendar.monthrange(last.year, last.month)[1]:
            return describe(self.made)
        return f"{first.isoformat()} to {last.isoformat()}"

    @property
    def form(self) -> str:
        """How it was read, in English ("month, then year")."""
        return _ways_in(self.forms, self.parts, ENGLISH)

    @property
    def words(self) -> str:
        """The reading as one line to choose from, in English."""
        return self.words_in(ENGLISH)

    def words_in(self, say: Texts) -> str:
        """The reading as one line to choose from, in one language."""
        return say("code-year", year=str(self.year), dates=self.how_in(say)) if self.dates else self.how_in(say)

    def how_in(self, say: Texts) -> str:
        """Its date and how it was read, in one language; of a year the two likeliest."""
        if not self.dates:
            return self.line(say, len(self.forms))
        # Of each date one way is enough to see whether it is meant.
        first, second = (one.line(say, 1) for one in self.dates[:2])
        return say("dates-or", first=first, second=second)

    def line(self, say: Texts, ways: int) -> str:
        """Its date, and so many of the ways to read it, in one language."""
        return f"{describe(self.made, say)} ({_ways_in(self.forms[:ways], self.parts[:ways], say)})"


def readings(code: str, *, house_year: int | None, today: date, beside: Beside = _NONE) -> tuple[Reading, ...]:
    """Every reading of a printed code, the most plausible first.

    The list begins with the likeliest date of each year that fits, in order of
    the years' plausibility, so that its first three name three years; then come
    other dates of those years, then what does not fit, newest first.

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
    beside
        What else is known of the heater. Where no reading goes with its being
        the first of the house, that is set aside: `fits` then tells the others.

    Returns
    -------
    tuple of Reading
        Empty when the characters allow no reading. Never raises.

    Examples
    --------
    >>> found = readings("0619", house_year=2012, today=date(2026, 1, 31))
    >>> [reading.words for reading in found if reading.fits]
    ['June 2019 (month, then year)', 'the week of February 4, 2019 (week, then year)']
    """
    return _readings_cached(code[:80], house_year, beside, today)


def years(found: Iterable[Reading]) -> tuple[Reading, ...]:
    """Readings that fit as one entry a year, the most plausible year first.

    Parameters
    ----------
    found
        What `readings` returned.

    Returns
    -------
    tuple of Reading
        A year with one date is that reading; a year with several holds them in
        ``dates``, and its window of manufacture is the months that span them.

    Examples
    --------
    >>> found = readings("0619", house_year=2012, today=date(2026, 1, 31))
    >>> [(reading.year, reading.as_typed) for reading in years(found)]
    [(2019, 'February 2019 to June 2019')]
    """
    by_year: dict[int, list[Reading]] = defaultdict(list)
    for reading in found:
        if reading.fits:
            by_year[reading.year].append(reading)
    return tuple(one[0] if len(one) == 1 else _one_year(one) for one in by_year.values())


def probable(found: Iterable[Reading]) -> Reading | None:
    """The year that may be taken as "probably" without asking; None where a person has to say.

    It is the only year that fits, and it was read from a code that stands alone:
    a longer serial number may follow a form that is not known here. A year that
    is a letter means whatever its maker's table says, so it is taken only where
    it agrees with what was told: the first heater of the house, or when the
    heater before it went.
    """
    one = years(found)
    return one[0] if len(one) == 1 and one[0].settled else None


def installed_after(made: Dated, *, today: date, evidence: DateEvidence) -> Dated:
    """The window of installation of a heater made in a window: up to a year later, never after `today`."""
    latest = max(made.earliest, min(add_months(made.latest, STOCK_MONTHS), today))
    return Dated(earliest=made.earliest, latest=latest, evidence=evidence)


@lru_cache(maxsize=20_000)
def _readings_cached(code: str, house_year: int | None, beside: Beside, today: date) -> tuple[Reading, ...]:
    merged: dict[tuple[int, Dated], list[Candidate]] = defaultdict(list)
    for one in candidates(code, today):
        merged[one.year, Dated(earliest=one.first, latest=one.last)].append(one)
    against = {key: impossible(key[1], house_year=house_year, beside=beside, today=today) for key in merged}
    if Against.FIRST in against.values() and None not in against.values():
        return _readings_cached(code, house_year, replace(beside, first=None), today)
    weights = _weights(merged, year_weights(house_year=house_year, beside=beside, today=today))
    by_year: dict[int, list[_Key]] = defaultdict(list)
    for key in sorted(merged, key=lambda k: (-weights[k], -k[1].earliest.toordinal(), k[1].latest)):
        if against[key] is None:
            by_year[key[0]].append(key)
    plausible = {year: sum(weights[key] for key in keys) for year, keys in by_year.items()}
    total = sum(plausible.values()) or 1.0
    in_order = sorted(by_year, key=lambda year: (-plausible[year], -year))
    first_of_each = [by_year[year][0] for year in in_order]
    others = [key for year in in_order for key in by_year[year][1:]]
    unfit = sorted((k for k in merged if against[k]), key=lambda k: (-k[1].earliest.toordinal(), k[1].latest))
    return tuple(
        _reading(
            merged[key],
            against[key],
            share=plausible[key[0]] / total if against[key] is None else 0.0,
            house_year=house_year,
            confirmed=beside.confirms,
            today=today,
        )
        for key in (*first_of_each, *others, *unfit)
    )


def _weights(ways: Mapping[_Key, list[Candidate]], years: Mapping[int, float]) -> dict[_Key, float]:
    """How plausible each date is: how well it explains the characters, times the weight of its year."""
    heaviest = max((one.log_weight for found in ways.values() for one in found), default=0.0)
    return {
        key: sum(math.exp(one.log_weight - heaviest) for one in found) * years.get(key[0], 0.0)
        for key, found in ways.items()
    }


def _reading(
    ways: list[Candidate],
    against: Against | None,
    *,
    share: float,
    house_year: int | None,
    confirmed: bool,
    today: date,
) -> Reading:
    kept: list[Candidate] = []
    for one in sorted(ways, key=lambda way: -way.log_weight):
        if all(one.form != other.form for other in kept):
            kept.append(one)
    made = Dated(earliest=kept[0].first, latest=kept[0].last)
    # What follows or goes before a code may as well be a part of a form that nobody has told of.
    alone = [one.form for one in kept if one.where == ""]
    return Reading(
        year=kept[0].year,
        forms=tuple((one.form, one.where) for one in kept),
        parts=tuple(one.part for one in kept),
        made=made,
        against=against,
        share=share,
        settled=bool(alone) and (confirmed or not BY_YEAR_LETTER.issuperset(alone)),
        house_year=house_year,
        read_on=today,
    )


_WHY = {
    Against.FUTURE: "{made} has not come yet.",
    Against.TOO_OLD: "{made} is longer ago than a heater lasts.",
    Against.HOUSE: "{made} is more than a year before the house was finished ({house}).",
    Against.FIRST: "{made} is too late for the first heater of a house finished in {house}.",
    Against.PREVIOUS: "{made} does not go with when the heater before it went.",
    Against.STATED: "{made} does not go with the date that was given.",
    None: "Made in {made}: nothing speaks against it.",
}
_FITS_HOUSE = "Made in {made}: agrees with a house finished in {house}."


def _one_year(dates: list[Reading]) -> Reading:
    """A year's dates as one entry: the months from the first of them to the last."""
    last = max(r.made.latest for r in dates)
    ways = [(way, part) for r in dates for way, part in zip(r.forms, r.parts, strict=True)]
    return replace(
        dates[0],
        forms=tuple(way for way, _ in ways),
        parts=tuple(part for _, part in ways),
        made=Dated(
            earliest=min(r.made.earliest for r in dates).replace(day=1),
            latest=last.replace(day=calendar.monthrange(last.year, last.month)[1]),
        ),
        settled=any(r.settled for r in dates),
        dates=tuple(dates),
    )
