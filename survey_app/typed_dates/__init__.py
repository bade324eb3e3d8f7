"""Dates as people write them: "about 2009", "5/2009", "spring 09", "10 years ago".

A resident seldom knows the day a heater went in, and a form that insists on
one collects inventions. So whatever is typed becomes a window, the earliest
and the latest day it can mean, together with a note wherever a choice was
made for the writer. How far "about" or "10 years ago" reach is common
practice, no source: the figures stand as constants in `forms`.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from functools import lru_cache

from survey_app.records import Dated
from survey_app.texts import ENGLISH, Message
from survey_app.typed_dates.forms import CannotReadError, Found, Frame, parse
from survey_app.typed_dates.memory import from_memory
from survey_app.typed_dates.patterns import NEVER, UNKNOWN
from survey_app.typed_dates.spanish import in_english
from survey_app.typed_dates.windows import add_months, describe

__all__ = ["DateReading", "ReadDate", "add_months", "describe", "from_memory", "read_date"]

LONGEST_TEXT = 200
"""Longer texts are remarks, not dates."""
_REMEDY = Message("typed-remedy")


class DateReading(StrEnum):
    """What a typed date turned out to be."""

    EXACT = "exact"
    WINDOW = "window"
    NEVER = "never"
    UNKNOWN = "unknown"
    UNREADABLE = "unreadable"


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadDate:
    """A typed date, understood.

    Parameters
    ----------
    kind
        Exact day, window, never, unknown (left open or "not sure"), or unreadable.
    dated
        The window, without evidence; None unless `kind` is exact or window.
    noted
        What was assumed on the way; for an unreadable text, why it could not be read.
    to_write
        For an unreadable text, what to write instead.
    preferred
        The one day of the usual reading where the text named a day (month
        before day in "05/12/2009"); None otherwise.
    age
        For two digits alone ("15"), which are read as a year: the window they mean
        as an age in years, where that is another one.
    """

    kind: DateReading
    dated: Dated | None = None
    noted: Message | None = None
    to_write: Message | None = None
    preferred: date | None = None
    age: Dated | None = None

    @property
    def note(self) -> str:
        """What was assumed, or why it could not be read, in English; "" where there is nothing to say."""
        return self.noted.said(ENGLISH) if self.noted else ""

    @property
    def remedy(self) -> str:
        """What to write instead, in English; "" where it was read."""
        return self.to_write.said(ENGLISH) if self.to_write else ""


def read_date(text: str | date | None, *, today: date, may_be_future: bool = False) -> ReadDate:
    """Read a date as a person wrote it.

    A plain year is any day of that year; "about" widens a year by two years on
    either side. "05/12/2009" is read as May 12 or as 5 December, so its window
    holds both days and the note says so; where one of the two lies after
    `today` only the other is meant.

    Parameters
    ----------
    text
        What was typed; None and "" are left open. A `date` or `datetime`, as a
        spreadsheet hands over, is that day.
    today
        The day of writing, for "10 years ago", two-digit years and for cutting
        "this year" at today.
    may_be_future
        Whether days after `today` make sense (the end of a warranty): then
        nothing is cut or ruled out for lying ahead.

    Returns
    -------
    ReadDate
        Never raises: what cannot be read has kind ``UNREADABLE``, a reason and
        a remedy. A date wholly after `today` is returned as it stands; whether
        that is a contradiction is for the reader to say.

    Examples
    --------
    >>> read_date("about 2009", today=date(2026, 1, 31)).dated
    Dated(earliest=datetime.date(2007, 1, 1), latest=datetime.date(2011, 12, 31), evidence=None)
    >>> read_date("idk", today=date(2026, 1, 31)).kind.value
    'unknown'
    """
    if text is None:
        return ReadDate(kind=DateReading.UNKNOWN)
    if isinstance(text, datetime):
        text = text.date()
    if isinstance(text, date):
        text = text.isoformat()
    return _read_cached(text, today, may_be_future)


@lru_cache(maxsize=20_000)
def _read_cached(text: str, today: date, may_be_future: bool) -> ReadDate:
    cleaned = _clean(text)
    # Whoever writes '15 means the year.
    a_year = text.strip()[:1] in ("'", "’", "‘", "`")
    if cleaned in UNKNOWN or not cleaned.strip(" ?.-_"):
        return ReadDate(kind=DateReading.UNKNOWN)
    if len(cleaned) > LONGEST_TEXT:
        return _unreadable(Message("typed-too-long"))
    if NEVER.fullmatch(cleaned):
        return ReadDate(kind=DateReading.NEVER)
    try:
        found = parse(cleaned, Frame(today=today, may_be_future=may_be_future))
    except CannotReadError as cannot:
        return _unreadable(cannot.why)
    return _finish(found, today=today, may_be_future=may_be_future, a_year=a_year)


def _unreadable(why: Message) -> ReadDate:
    return ReadDate(kind=DateReading.UNREADABLE, noted=why, to_write=_REMEDY)


def _clean(text: str) -> str:
    plain = unicodedata.normalize("NFKC", text[: LONGEST_TEXT + 200]).casefold()
    plain = plain.replace("’", "'").replace("‘", "'").replace("`", "'").replace("−", "-").replace("‐", "-")
    plain = plain.replace("‑", "-").strip("\"' \t\r\n\u200b\ufeff;,!")
    return in_english(re.sub(r"\s+", " ", plain))


def _finish(found: Found, *, today: date, may_be_future: bool, a_year: bool) -> ReadDate:
    earliest, latest = found.earliest, found.latest
    if not may_be_future and earliest <= today < latest:
        latest = today
    kind = DateReading.EXACT if earliest == latest else DateReading.WINDOW
    return ReadDate(
        kind=kind,
        dated=Dated(earliest=earliest, latest=latest),
        noted=found.note,
        preferred=found.preferred,
        age=Dated(earliest=found.age[0], latest=found.age[1]) if found.age and not a_year else None,
    )
