"""How far a year that is told from memory may be off.

Whoever says "2012" from memory says about when. The longer ago, the rounder:
years are given in fives and tens, more so for what is longer past (Bar and
Lillard, *Statistics in Medicine* 31(27), 2012; their figures were not reached,
so the years below are common practice, no source). A month or a day is left as
it is told, since who names one has an occasion in mind; so is what was already
told as a range or with "about".
"""

from __future__ import annotations

from datetime import date

from survey_app.records import Dated
from survey_app.typed_dates.windows import add_months

__all__ = ["from_memory"]

SURE_YEARS = 2
"""This year and the last are told right (common practice, no source)."""
NEAR_YEARS, FAR_YEARS = 1, 2
"""How far a year may be off, either way, within the last ten years and before (common practice, no source)."""
LONG_AGO_YEARS = 10
A_YEAR = range(360, 371)
"""Days from end to end of a year that was named, and of "5 years ago" (half a year either way)."""
TWO_YEARS = range(725, 737)
"""Those of "12 years ago" (a year either way), and of a range of two calendar years, which is left as it is."""


def from_memory(told: Dated, *, on: date) -> Dated:
    """The window that a year told from memory stands for; other windows as they are.

    Parameters
    ----------
    told
        The window of the words ("2012", "5 years ago").
    on
        The day they were said.

    Examples
    --------
    >>> from_memory(Dated(earliest=date(2012, 1, 1), latest=date(2012, 12, 31)), on=date(2026, 1, 31)).earliest
    datetime.date(2010, 1, 1)
    """
    ago, days = on.year - told.best.year, (told.latest - told.earliest).days
    if ago < SURE_YEARS:
        return told
    if days in A_YEAR:
        off = FAR_YEARS if ago >= LONG_AGO_YEARS else NEAR_YEARS
    elif days in TWO_YEARS and told.earliest != date(told.earliest.year, 1, 1):
        off = FAR_YEARS - 1
    else:
        return told
    latest = min(add_months(told.latest, 12 * off), on)
    return Dated(earliest=add_months(told.earliest, -12 * off), latest=max(told.latest, latest), evidence=told.evidence)
