"""Each form in which people write a date, as a function from the text to a window."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date, timedelta

from survey_app.errors import SurveyError
from survey_app.texts import ENGLISH, Message
from survey_app.typed_dates.patterns import (
    ABOUT_AFTER,
    ABOUT_BEFORE,
    AFTER,
    AGO,
    BEFORE,
    CLOCK,
    DAY_MONTH_YEAR,
    DECADE,
    LEAD,
    LONE_YEAR,
    MONTH_DAY_YEAR,
    MONTH_NAME,
    MONTH_YEAR,
    MONTHS,
    NEGATION,
    NUMBER_WORDS,
    PART,
    PARTS,
    QUARTER,
    SEASON,
    SEASONS,
    THREE,
    TWO,
    WEEKDAY,
    YEAR_MONTH,
    YEAR_MONTH_DAY,
)
from survey_app.typed_dates.windows import add_months, month_end, month_end_after, valid_day

__all__ = ["CannotReadError", "Found", "Frame", "parse"]

_m = Message.of

ABOUT_YEARS = 2
"""How far "about 2009" reaches on either side (common practice, no source)."""
ABOUT_MONTHS = 3
"""How far "about May 2009" reaches on either side (common practice, no source)."""
ABOUT_DAYS = 31
"""How far "about 12 May 2009" reaches on either side (common practice, no source)."""
OPEN_ENDED_YEARS = 5
"""How far back "before 2010" and "more than 10 years ago" reach (common practice, no source)."""
OLDEST_AGE_YEARS = 45
"""Two digits above are no heater's age (common practice, no source)."""
EARLIEST_YEAR = 1900
LATEST_YEAR = 2199
SPREADSHEET_EPOCH = date(1899, 12, 30)
"""Day 0 of a spreadsheet's day numbers (1900 system, right for every day since 1 March 1900)."""
SPREADSHEET_DAYS = range(29_221, 60_000)
"""Day numbers taken for dates: January 1980 to April 2064; lower ones are more likely a mistyped year."""


class CannotReadError(SurveyError, ValueError):
    """A text that looks like a date but names none; ``why`` is for the person."""

    def __init__(self, why: Message) -> None:
        super().__init__(why.said(ENGLISH))
        self.why = why


@dataclass(frozen=True, slots=True)
class Frame:
    """What the parsers need to know besides the text."""

    today: date
    may_be_future: bool

    def year(self, digits: str) -> int:
        """A two- or four-digit year; two digits mean the latest such year that makes sense."""
        number = int(digits)
        if len(digits) <= 2:
            horizon = self.today.year + (20 if self.may_be_future else 0)
            century = horizon - horizon % 100
            number = century + number if century + number <= horizon else century - 100 + number
            # "May 31" would be May 1931: a day without a year, not a two-digit year.
            if number < self.today.year - 76:
                raise CannotReadError(_m("typed-year-missing", digits=digits))
        if not EARLIEST_YEAR <= number <= LATEST_YEAR:
            raise CannotReadError(_m("typed-not-the-year", year=str(number)))
        return number


@dataclass(frozen=True, slots=True)
class Found:
    """A window before it is cut at today."""

    earliest: date
    latest: date
    step: str
    """day, month or year: what "about" widens by; or "wide" for ranges and words that are wide already."""
    note: Message | None = None
    preferred: date | None = None
    age: tuple[date, date] | None = None
    """For two digits alone: the window they mean as an age."""


def parse(text: str, frame: Frame) -> Found:
    """The text as a window: a plain date, a date with "about", an age, or a range of dates."""
    core, about = _strip_about(text)
    core = _strip_words(core)
    core, about_inside = _strip_about(core)
    found = _simple(core, frame) or _range(core, frame) or _open_ended(core, frame)
    if found is not None:
        return _widen(found) if about or about_inside else found
    years = LONE_YEAR.findall(core)
    without = LONE_YEAR.sub("", core)
    if len(years) == 1 and not re.search(r"[0-9]", without) and not NEGATION.search(without):
        year = frame.year(years[0])
        plain = _year_found(year, note=_m("typed-only-the-year", year=str(year)))
        return _widen(plain) if about or about_inside else plain
    if len(years) > 1:
        raise CannotReadError(_m("typed-several-years"))
    raise CannotReadError(_m("typed-no-date"))


def _strip_about(text: str) -> tuple[str, bool]:
    """The text without "about", "?" and the like, and whether any was there."""
    about = False
    while True:
        shorter = ABOUT_BEFORE.sub("", text, count=1) if ABOUT_BEFORE.match(text) else text
        shorter = ABOUT_AFTER.sub("", shorter).strip(" ,.;:")
        if shorter == text or not shorter:
            return text, about
        text, about = shorter, True


def _strip_words(text: str) -> str:
    """The text without weekdays, a time of day and lead-in words ("installed in", "sometime in")."""
    text = CLOCK.sub("", text).strip()
    text = WEEKDAY.sub("", text).strip(" ,") or text
    while (match := LEAD.match(text)) and match.end() < len(text):
        text = text[match.end() :]
    return text.strip(" ,.;:()")


def _simple(text: str, frame: Frame) -> Found | None:
    """One date, no range; None when the text has no such form."""
    for parser in (_bare_number, _with_month_name, _numeric, _part_of_year, _relative):
        found = parser(text, frame)
        if found is not None:
            return found
    return None


def _bare_number(text: str, frame: Frame) -> Found | None:
    match = re.fullmatch(r"'?([0-9]{1,8})(?:\.0+)?", text)
    if match is None:
        return None
    digits = match[1]
    if len(digits) == 4:
        return _year_found(frame.year(digits))
    if len(digits) == 2:
        year = frame.year(digits)
        return replace(
            _year_found(year, note=_m("typed-as-year", year=str(year))), age=_as_age(int(digits), year, frame)
        )
    if len(digits) == 5 and int(digits) in SPREADSHEET_DAYS:
        counted = SPREADSHEET_EPOCH + timedelta(days=int(digits))
        return Found(counted, counted, "day", _m("typed-spreadsheet-day"), counted)
    if len(digits) == 6:
        for year_digits, month in ((digits[:4], int(digits[4:])), (digits[2:], int(digits[:2]))):
            if year_digits[:2] in ("19", "20") and 1 <= month <= 12:
                return _month_found(frame.year(year_digits), month)
    if len(digits) == 8:
        if digits[:2] in ("19", "20") and (day := _day(digits[:4], digits[4:6], digits[6:], frame)):
            return Found(day, day, "day", None, day)
        if digits[4:6] in ("19", "20"):
            return _two_readings(digits[:2], digits[2:4], digits[4:], frame)
    raise CannotReadError(_m("typed-number-no-date", digits=digits))


def _as_age(number: int, year: int, frame: Frame) -> tuple[date, date] | None:
    """The window of "15 years ago" for a bare 15, where that is another one than the year 2015's."""
    if not 10 <= number <= OLDEST_AGE_YEARS:
        return None
    middle = add_months(frame.today, -12 * number)
    earliest, latest = add_months(middle, -12), min(add_months(middle, 12), frame.today)
    return None if earliest.year <= year <= latest.year else (earliest, latest)


def _with_month_name(text: str, frame: Frame) -> Found | None:
    # Names longer than three letters may be misspelled, but must begin like the month ("Febuary").
    if not re.search(MONTH_NAME, text):
        return None
    for pattern, order in (
        (DAY_MONTH_YEAR, "dmy"),
        (MONTH_DAY_YEAR, "mdy"),
        (YEAR_MONTH_DAY, "ymd"),
        (MONTH_YEAR, "my"),
        (YEAR_MONTH, "ym"),
    ):
        match = pattern.fullmatch(text)
        if match is None:
            continue
        parts = dict(zip(order, match.groups(), strict=True))
        month = MONTHS[parts["m"]]
        year = frame.year(parts["y"])
        if "d" not in order:
            return _month_found(year, month)
        day = valid_day(year, month, int(parts["d"]))
        if day is None:
            raise CannotReadError(_m("typed-no-such-day-of-month", month=date(year, month, 1), day=parts["d"]))
        return Found(day, day, "day", None, day)
    return None


def _numeric(text: str, frame: Frame) -> Found | None:
    if match := THREE.fullmatch(text):
        first, separator, second, third = match.groups()
        if len(first) == 4:
            day = _day(first, second, third, frame)
            if day is None and (day := _day(first, third, second, frame)):
                return Found(day, day, "day", _m("typed-day-first"), day)
            if day is None:
                raise CannotReadError(_m("typed-no-such-day"))
            return Found(day, day, "day", None, day)
        if len(first) <= 2 and len(third) in (2, 4):
            return _two_readings(first, second, third, frame, day_first=separator == ".")
        raise CannotReadError(_m("typed-no-such-day"))
    if match := TWO.fullmatch(text):
        first, separator, second = match.groups()
        if len(first) == 4 and len(second) == 4:
            return None  # two years: a range
        if len(first) == 4 and len(second) <= 2:
            return _year_and_two_digits(first, second, frame)
        if len(first) <= 2 and (len(second) == 4 or (len(second) == 2 and separator != ".")):
            month = int(first)
            if 1 <= month <= 12:
                return _month_found(frame.year(second), month)
            if len(second) == 2:
                return None  # "98-02" may be two years
        raise CannotReadError(_m("typed-no-such-month"))
    return None


def _year_and_two_digits(year_digits: str, digits: str, frame: Frame) -> Found:
    """Read "2008-10": October 2008, or 2008 to 2010; the window holds both."""
    year, number = frame.year(year_digits), int(digits)
    until = year - year % 100 + number
    is_month, is_range = 1 <= number <= 12, len(digits) == 2 and 0 < until - year <= 30
    if is_range:
        note = _m("typed-month-or-year" if is_month else "typed-range-of-years")
        return Found(date(year, 1, 1), date(until, 12, 31), "wide", note)
    if is_month:
        return _month_found(year, number)
    raise CannotReadError(_m("typed-no-such-month"))


def _two_readings(first: str, second: str, year: str, frame: Frame, *, day_first: bool = False) -> Found:
    """Read "05/12/2009" as month and day, as day and month, or as a window that holds both."""
    month_first = _day(year, first, second, frame)
    other = _day(year, second, first, frame)
    if month_first is None and other is None:
        raise CannotReadError(_m("typed-no-such-day"))
    if month_first and other and not frame.may_be_future and max(month_first, other) > frame.today:
        kept = min(month_first, other)
        if kept <= frame.today:
            note = None if kept == month_first else _m("typed-day-first-else-future")
            return Found(kept, kept, "day", note, kept)
    if month_first is not None and other in (None, month_first):
        return Found(month_first, month_first, "day", None, month_first)
    if month_first is None:
        assert other is not None  # settled at the top
        note = None if day_first else _m("typed-day-first")
        return Found(other, other, "day", note, other)
    assert other is not None  # settled above
    low, high = min(month_first, other), max(month_first, other)
    preferred = other if day_first else month_first
    note = _m("typed-two-days", first=low, second=high)
    return Found(low, high, "day", note, preferred)


def _part_of_year(text: str, frame: Frame) -> Found | None:
    if match := SEASON.fullmatch(text):
        season = match[1] or match[4]
        year = frame.year(match[2] or match[3])
        if season == "winter":
            return Found(
                date(year - 1, 12, 1),
                month_end(year + 1, 2),
                "wide",
                _m("typed-two-winters", year=str(year)),
            )
        first, last = SEASONS[season]
        return Found(date(year, first, 1), month_end(year, last), "month")
    if match := PART.fullmatch(text):
        first, last = PARTS[match[1]]
        year = frame.year(match[2])
        return Found(date(year, first, 1), month_end(year, last), "month")
    if match := QUARTER.fullmatch(text):
        quarter = int(match[1] or match[2] or match[3])
        year = frame.year(match[4])
        return Found(date(year, quarter * 3 - 2, 1), month_end(year, quarter * 3), "month")
    if match := DECADE.fullmatch(text):
        year = frame.year(match[2])
        first, last = {"early": (0, 3), "mid": (3, 6), "middle": (3, 6)}.get(match[1] or "", (0, 9))
        if match[1] in ("late", "end"):
            first, last = 6, 9
        return Found(date(year + first, 1, 1), date(year + last, 12, 31), "wide")
    inner = re.fullmatch(rf"(?:early|mid|middle|late|end|beginning)[\s-]*(?:of\s+|in\s+)?({MONTH_NAME}.*)", text)
    return _with_month_name(inner[1], frame) if inner else None


def _relative(text: str, frame: Frame) -> Found | None:
    today = frame.today
    fixed = {
        "today": (today, today),
        "now": (today, today),
        "yesterday": (today - timedelta(days=1), today - timedelta(days=1)),
        "this week": (today - timedelta(days=7), today),
        "last week": (today - timedelta(days=14), today),
        "recently": (add_months(today, -12), today),
        "just now": (today - timedelta(days=7), today),
        "this month": (today.replace(day=1), today),
        "last month": (add_months(today.replace(day=1), -1), today.replace(day=1) - timedelta(days=1)),
        "this year": (date(today.year, 1, 1), date(today.year, 12, 31)),
        "last year": (date(today.year - 1, 1, 1), date(today.year - 1, 12, 31)),
        "the year before last": (date(today.year - 2, 1, 1), date(today.year - 2, 12, 31)),
        "year before last": (date(today.year - 2, 1, 1), date(today.year - 2, 12, 31)),
    }
    if text in fixed:
        return Found(*fixed[text], "year" if "year" in text else "wide")
    if season := re.fullmatch(r"(this|last) (spring|summer|fall|autumn|winter)", text):
        return _recent_season(season[1], season[2], today)
    match = AGO.fullmatch(re.sub(r"^(?:a )?few\b(?: of)?", "3", text))
    return _ago(match, today, few="few" in text) if match else None


def _recent_season(which: str, season: str, today: date) -> Found | None:
    """Read "last spring": the latest one that is over, or the one before it."""
    if season == "winter":
        starts = [date(year, 12, 1) for year in range(today.year - 3, today.year + 1)]
        spans = [(start, month_end(start.year + 1, 2)) for start in starts]
    else:
        first, last = SEASONS[season]
        spans = [(date(y, first, 1), month_end(y, last)) for y in range(today.year - 3, today.year + 1)]
    begun = [span for span in spans if span[0] <= today]
    if which == "this":
        return Found(*begun[-1], "month")
    over = [span for span in begun if span[1] < today]
    return Found(over[-2][0], over[-1][1], "wide")


def _ago(match: re.Match[str], today: date, *, few: bool) -> Found | None:
    """Read "10 years ago": the time rounded as people round it."""
    word = match["low"]
    if word in NUMBER_WORDS:
        low = float(NUMBER_WORDS[word])
    elif re.fullmatch(r"[0-9.]+", word):
        low = float(word)
    else:
        return None
    high = float(match["high"] or low)
    if few:
        low, high = 2.0, 5.0
    unit = match["unit"][0]
    per = {"y": 12.0, "m": 1.0}.get(unit)
    if per is None:
        days = 7 if unit == "w" else 1
        if high * days > 4000:
            raise CannotReadError(_m("typed-too-long-ago"))
        day = today - timedelta(days=round(low * days))
        slack = timedelta(days=days // 2)
        return Found(today - timedelta(days=round(high * days)) - slack, day + slack, "day")
    if max(low, high) * per > 100 * 12:
        raise CannotReadError(_m("typed-too-long-ago"))
    if low > high:
        low, high = high, low
    if match[1] or match["plus"] or match["plus2"]:
        high = low + (OPEN_ENDED_YEARS if unit == "y" else 6)
        note = _m("typed-years-ago" if unit == "y" else "typed-months-ago", low=f"{low:g}", high=f"{high:g}")
        return Found(add_months(today, -round(high * per)), add_months(today, -round(low * per)), "wide", note)
    # People round: a year to the nearest year, ten years and more to the nearest two or three.
    slack_months = (12 if low >= 10 else 6) if unit == "y" else 1
    earliest = add_months(today, -round(high * per) - slack_months)
    latest = min(add_months(today, -round(low * per) + slack_months), today)
    return Found(earliest, latest, "year" if unit == "y" else "month")


def _range(text: str, frame: Frame) -> Found | None:
    """Two dates: "2008-2010", "2008 or 2009", "May to July 2009"."""
    for match in _split_points(text):
        left, right = match
        left_core, left_about = _strip_about(left)
        right_core, right_about = _strip_about(right)
        try:
            later = _simple(right_core, frame)
            if later is None:
                continue
            earlier = _simple(left_core, frame)
            if earlier is None and re.fullmatch(MONTH_NAME, left_core):
                earlier = _simple(f"{left_core} {later.latest.year}", frame)
        except CannotReadError:
            continue
        if earlier is None:
            continue
        if left_about:
            earlier = _widen(earlier)
        if right_about:
            later = _widen(later)
        note = None if earlier.earliest <= later.earliest else _m("typed-wrong-order")
        return Found(min(earlier.earliest, later.earliest), max(earlier.latest, later.latest), "wide", note)
    return None


def _split_points(text: str) -> list[tuple[str, str]]:
    text = re.sub(r"^(?:between|from)\s+", "", text)
    separators = re.finditer(r"\s*(?:–|—|\b(?:to|or|and|through|thru|until)\b|/|-|;|,|&)\s*", text)
    return [(text[: m.start()], text[m.end() :]) for m in separators if m.start() > 0 and m.end() < len(text)][:8]


def _open_ended(text: str, frame: Frame) -> Found | None:
    """Read "before 2010" and "after 2010": a window that ends, or begins, at the date named."""
    if match := BEFORE.fullmatch(text):
        found = _simple(_strip_words(match[2]), frame)
        if found is not None:
            earliest = add_months(found.earliest, -12 * OPEN_ENDED_YEARS)
            note = _m("typed-years-before", years=str(OPEN_ENDED_YEARS))
            latest = found.earliest - timedelta(days=1) if match[1] else found.latest
            return Found(earliest, latest, "wide", note)
    if match := AFTER.fullmatch(text):
        found = _simple(_strip_words(match[1] or match[2]), frame)
        if found is not None and found.earliest <= frame.today:
            note = _m("typed-since-then")
            return Found(found.earliest, max(frame.today, found.latest), "wide", note)
    return None


def _widen(found: Found) -> Found:
    """Spread a window by what "about" means for a day, a month, a year or a range."""
    if found.step == "day":
        low, high = found.earliest - timedelta(days=ABOUT_DAYS), found.latest + timedelta(days=ABOUT_DAYS)
    elif found.step == "month":
        low = add_months(found.earliest, -ABOUT_MONTHS)
        high = month_end_after(found.latest, ABOUT_MONTHS)
    else:
        years = ABOUT_YEARS if found.step == "year" else 1
        low, high = add_months(found.earliest, -12 * years), add_months(found.latest, 12 * years)
    return replace(found, earliest=low, latest=high, step="wide", preferred=None)


def _day(year: str, month: str, day: str, frame: Frame) -> date | None:
    return valid_day(frame.year(year), int(month), int(day))


def _year_found(year: int, note: Message | None = None) -> Found:
    return Found(date(year, 1, 1), date(year, 12, 31), "year", note)


def _month_found(year: int, month: int) -> Found:
    return Found(date(year, month, 1), month_end(year, month), "month")
