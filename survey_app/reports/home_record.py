"""The record of one home: content as plain data once, for the screen, for paper and for a calendar."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from icalendar import Alarm, Calendar, Event

from geo.addresses import readable
from survey_app.advice.cautions import cautions
from survey_app.intake import QUESTIONS, Lands
from survey_app.records import Answer, Community, Dated, Heater, Home, ServiceRecord, Tri
from survey_app.reports.as_pdf import pdf
from survey_app.standing import Standing
from survey_app.texts import Texts

__all__ = ["HomeRecord", "RecordPart", "calendar_bytes", "due_calendar", "named", "record_parts", "record_pdf"]

LITERS_PER_GALLON = 3.785411784
_REMINDER_DAYS = 14
_CHOSEN = tuple(
    one
    for one in QUESTIONS
    if one.one_of and one.lands in (Lands.HEATER, Lands.HOME) and one.key not in ("kind", "place")
)
"""Questions shown by their short names; what the heater is and where it stands have lines of their own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HomeRecord:
    """Everything on file for one home."""

    community: Community
    home: Home
    standing: Standing
    heaters: tuple[Heater, ...]
    services: tuple[ServiceRecord, ...]
    answers: tuple[Answer, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordPart:
    """One part of the record: a heading and its lines, label and value."""

    heading: str
    lines: tuple[tuple[str, str], ...]


def named(say: Texts, group: str, value: object) -> str:
    """A value of the records in this language, such as the place "upper floor"."""
    return say(f"{group}-{str(value).replace(' ', '-')}")


def record_parts(record: HomeRecord, say: Texts) -> list[RecordPart]:
    """The record as headings with lines, newest heater first, then the work done, then what is due.

    Parameters
    ----------
    record
        Everything on file.
    say
        The language.
    """
    parts = [
        RecordPart(
            heading=say("record-heater-now" if heater.in_service else "record-heater-before"),
            lines=tuple(_heater_lines(record, heater, say)),
        )
        for heater in reversed(record.heaters)
    ]
    acts = [(named(say, "act", s.kind), _window(s.done, say) + (f". {s.findings}" if s.findings else ""))
            for s in reversed(record.services)]  # fmt: skip
    parts.append(RecordPart(heading=say("record-acts"), lines=tuple(acts) or (("", say("record-no-acts")),)))
    due = [(named(say, "care-name", care.what), care.sentence) for care in record.standing.cares]
    if due:
        parts.append(RecordPart(heading=say("record-due"), lines=tuple(due)))
    return parts


def record_pdf(record: HomeRecord, say: Texts) -> bytes:
    """The record as a dated paper for a warranty claim, an insurer or a buyer."""
    return pdf(
        "record",
        {
            "lang": say.language,
            "title": say("record-paper-title"),
            "for": say("record-paper-for"),
            "synthetic": say("record-synthetic") if record.community.synthetic else "",
            "as_of": say("record-as-of", day=say.day(record.standing.as_of)),
            "community": record.community.name,
            "address": readable(record.home.address),
            "parts": [
                {"heading": p.heading, "lines": [list(line) for line in p.lines]} for p in record_parts(record, say)
            ],
            "rests_on": f"{record.standing.headline} {record.standing.rests_on}",
            "cautions_head": say("care-cautions-head"),
            "cautions": list(cautions(say)),
        },
    )


def due_calendar(record: HomeRecord, say: Texts, *, now: datetime) -> bytes | None:
    """What is due on a known day as a calendar (RFC 5545), each with a reminder two weeks before.

    Parameters
    ----------
    record
        Everything on file.
    say
        The language.
    now
        The moment it is made; a date that has passed is put on the next day.

    Returns
    -------
    bytes or None
        None when nothing is due on a known day.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//Neighborhood water heater survey//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", say("record-paper-title"))
    events = [
        (f"due-{care.what.replace(' ', '-')}", care.sentence, max(care.on, now.date() + timedelta(days=1)))
        for care in record.standing.cares
        if care.on is not None
    ]
    end = record.standing.warranty_end
    if end is not None and end.earliest > now.date():
        first = max(end.earliest - timedelta(days=60), now.date() + timedelta(days=1))
        events.append(("due-warranty", say("due-warranty-body", when=say.month(end.earliest)), first))
    for key, body, day in events:
        calendar.add_component(_event(record.home.home_id, say(key), key, body, day, now, say))
    return calendar_bytes(calendar) if events else None


def calendar_bytes(calendar: Calendar) -> bytes:
    """A calendar as a file, without the control signs that RFC 5545, section 3.1, keeps out of every text."""
    return bytes(b for b in calendar.to_ical() if b >= 0x20 or b in b"\r\n\t")


def _event(home_id: str, summary: str, key: str, body: str, day: date, now: datetime, say: Texts) -> Event:
    event = Event()
    event.add("uid", f"{key}-{home_id.replace('/', '-')}@water-heater-survey.invalid")
    event.add("dtstamp", now)
    event.add("dtstart", day)
    event.add("summary", summary)
    event.add("description", f"{body}\n{say('care-cautions-short')}")
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", summary)
    alarm.add("trigger", timedelta(days=-_REMINDER_DAYS))
    event.add_component(alarm)
    return event


def _heater_lines(record: HomeRecord, heater: Heater, say: Texts) -> list[tuple[str, str]]:
    unknown = say("record-unknown")
    lines = [
        (say("record-kind"), named(say, "kind", heater.kind)),
        (say("record-installed"), _window(heater.installed, say) if heater.installed else unknown),
    ]
    if heater.tank_gallons:
        liters = say.number(heater.tank_gallons * LITERS_PER_GALLON)
        size = say("record-size-gallons", gallons=say.number(heater.tank_gallons), liters=liters)
        lines.insert(1, (say("record-size"), size))
    if not heater.in_service:
        if heater.removed:
            lines.append((say("record-removed"), _window(heater.removed, say)))
        if heater.end_cause:
            lines.append((say("record-cause"), named(say, "cause", heater.end_cause)))
        return lines
    found = record.standing
    if found.warranty_years:
        key = "record-warranty-assumed" if found.warranty_assumed else "record-warranty-term"
        # A term worked out from the day it ends has more digits than anybody knows.
        term = say(key, years=f"{round(found.warranty_years, 1):g}")
        until = say("record-warranty-until", when=say.month(found.warranty_end.best)) if found.warranty_end else ""
        lines.append((say("record-warranty"), ", ".join(filter(None, (term, until)))))
    lines.append((say("record-place"), named(say, "place", heater.place)))
    for asked in _CHOSEN:
        value = getattr(heater if asked.lands is Lands.HEATER else record.home, asked.key)
        words = named(say, "tri", value) if isinstance(value, Tri) else asked.label(value, say)
        lines.append((asked.short(say), words))
    if heater.symptoms:
        seen = "; ".join(named(say, "symptom", s) for s in heater.symptoms)
        lines.append((say("record-symptoms"), seen))
    return lines


def _window(when: Dated, say: Texts) -> str:
    """A day as exactly as it is known."""
    if when.earliest == when.latest:
        return say.day(when.earliest)
    first, last = when.earliest, when.latest
    if (first.year, first.month) == (last.year, last.month):
        return say.month(first)
    if first.year == last.year and (first.month, last.month) == (1, 12):
        return str(first.year)
    return say("record-installed-between", **{"from": say.month(first), "to": say.month(last)})
