"""The record of one home: content as plain data once, for the screen, for paper and for a calendar."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from icalendar import Alarm, Calendar, Event

from geo.addresses import readable
from survey_app.advice.cautions import cautions
from survey_app.intake import QUESTIONS, Lands
from survey_app.records import CREW_NOTE, Answer, Community, Dated, Heater, Home, Report, ServiceRecord, Tri
from survey_app.reported import SETTLED, settled_line, told_line
from survey_app.reported import named as what_words
from survey_app.reports.as_pdf import pdf
from survey_app.service_days import findings_known
from survey_app.standing import Standing
from survey_app.texts import Texts

__all__ = [
    "HomeRecord",
    "RecordPart",
    "answer_line",
    "calendar_bytes",
    "due_calendar",
    "named",
    "record_parts",
    "record_pdf",
]

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
    reports: tuple[Report, ...] = ()
    """All that was ever reported of the heater in service."""
    crew_days: tuple[date, ...] = ()
    """When crews of service days were there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordPart:
    """One part of the record: a heading and its lines, label and value."""

    heading: str
    lines: tuple[tuple[str, str], ...]


def named(say: Texts, group: str, value: object) -> str:
    """A value of the records in this language, such as the place "upper floor"."""
    return say(f"{group}-{str(value).replace(' ', '-')}")


def record_parts(record: HomeRecord, say: Texts) -> list[RecordPart]:
    """The record as headings with lines: what was reported, heaters, the newest first, the work done, what is due.

    Parameters
    ----------
    record
        Everything on file.
    say
        The language.
    """
    standing = [("", told_line(r, say)) for r in record.standing.reported]
    parts = [RecordPart(heading=say("record-symptoms"), lines=tuple(standing))] if standing else []
    parts += [
        RecordPart(
            heading=say("record-heater-now" if heater.in_service else "record-heater-before"),
            lines=tuple(_heater_lines(record, heater, say)),
        )
        for heater in reversed(record.heaters)
    ]
    acts = [(named(say, "act", s.kind), ". ".join(filter(None, (_window(s.done, say), _found(s.findings, say)))))
            for s in reversed(record.services)]  # fmt: skip
    parts.append(RecordPart(heading=say("record-acts"), lines=tuple(acts) or (("", say("record-no-acts")),)))
    settled = [("", settled_line(r, say)) for r in record.reports if r.settled is not None]
    if settled:
        parts.append(RecordPart(heading=say("record-settled"), lines=tuple(settled)))
    due = [(named(say, "care-name", care.what), care.sentence) for care in record.standing.cares]
    if due:
        parts.append(RecordPart(heading=say("record-due"), lines=tuple(due)))
    return parts


def answer_line(answer: Answer, say: Texts) -> str:
    """One answer by its day: how it came, or what it said to be settled."""
    day = say.day(answer.answered_on)
    if SETTLED in answer.given:
        return say("record-answer-settled", day=day, what=what_words(answer.given[SETTLED], say))
    return say("record-answer-line", day=day, channel=named(say, "channel", answer.channel))


def record_pdf(record: HomeRecord, say: Texts) -> bytes:
    """The record as a dated paper for a warranty claim, an insurer or a buyer."""
    return pdf(
        "record",
        {
            "lang": say.language,
            "title": say("record-paper-title"),
            "for": _rests_on_whose_word(record, say),
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
    return lines


def _found(findings: str, say: Texts) -> str:
    """What a crew found, in this language; what it wrote in its own words as it is."""
    known = findings_known()
    words, _, note = findings.partition(CREW_NOTE)
    parts = [p for p in words.split("; ") if p]
    told = [say(f"found-{p.replace(' ', '-')}") if p in known else p for p in parts]
    return "; ".join([*told, *([note] if note else [])])


def _rests_on_whose_word(record: HomeRecord, say: Texts) -> str:
    """Whose word the record is: the home's own, and that of crews that were there."""
    if not record.crew_days:
        return say("record-paper-for")
    return say("record-paper-for.crew", day=say.day(max(record.crew_days)))


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
