"""What was reported of a home's heater, from the day it was told until it is settled, and the words for it.

What only a licensed contractor or the gas utility can settle stands until
somebody says that it was looked at, and when: a later answer that names nothing
wrong is not enough. What the people can judge themselves ends with the first
answer that no longer names it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from survey_app.intake import Content, content_of
from survey_app.records import CREW_NOTE, Answer, Event, EventKind, Report, ServiceKind, ServiceRecord, Symptom
from survey_app.symptoms import FINDINGS, Settled, most_pressing, settled_by
from survey_app.texts import Texts

__all__ = [
    "SETTLED",
    "SETTLED_ON",
    "named",
    "reports_of",
    "settled_line",
    "settled_words",
    "standing_reports",
    "told_line",
]

SETTLED, SETTLED_ON = "settled", "settled_on"
"""Under these names an answer says what is settled, and since when: no questions of the form."""
_BETWEEN = "; "


def reports_of(
    answers: Sequence[Answer],
    events: Iterable[Event],
    *,
    house_year: int | None,
    contents: Mapping[str, Content] = {},
    nexts: Mapping[str, date] = {},
) -> tuple[Report, ...]:
    """All that was ever reported of the heater in service, in the order in which it was told; settled or not.

    Parameters
    ----------
    answers
        All answers of the home in the order in which they were given.
    events
        What crews and volunteers did there, in any order.
    house_year
        The year the house was finished.
    contents
        What answers say, by their id, where that is known already.
    nexts
        Answers, by their id, that are the first to speak of a next heater; with the last day on which the one before
        was told of.
    """
    waiting = sorted(events, key=lambda e: (e.on, e.event_id))
    reports: list[Report] = []
    crews: list[Report] = []  # what crews saw, whether or not the people had told of it
    for answer in answers:
        content = contents.get(answer.answer_id) or content_of(answer, house_year=house_year)
        if content is None:
            continue
        # A crew of the same day came first; a heater that came that day is the one an answer speaks of only where
        # it is the first to speak of a next one.
        last = (answer.answered_on, answer.answer_id in nexts)
        while waiting and (waiting[0].on, waiting[0].kind is EventKind.REPLACEMENT) <= last:
            event = waiting.pop(0)
            reports, crews = _after(event, reports), _after(event, crews)
        if answer.answer_id in nexts:
            came = nexts[answer.answer_id]
            reports, crews = ([r for r in rs if r.on is not None and r.on > came] for rs in (reports, crews))
        if content.refused:
            # What its people told goes with their consent; what a crew saw is no answer of theirs.
            reports = list(crews)
        elif SETTLED in answer.given:
            reports, crews = (_settled(rs, answer.given, answer.answered_on) for rs in (reports, crews))
        elif "symptoms" in content.said:
            reports = _told(reports, content.symptoms, content.answered_on)
    for event in waiting:
        reports = _after(event, reports)
    return tuple(reports)


def standing_reports(
    reports: Iterable[Report], symptoms: Iterable[Symptom], acts: Iterable[ServiceRecord]
) -> tuple[Report, ...]:
    """What stands of the heater in service, the most pressing first."""
    done = list(acts)
    standing = [r for r in reports if r.settled is None and _act_since(r, done) is None]
    missing = [Report(what=str(s), on=None) for s in symptoms if str(s) not in {r.what for r in standing}]
    return most_pressing([*standing, *missing])


def named(what: str, say: Texts) -> str:
    """A symptom or a finding in words."""
    key = what.replace(" ", "-")
    return say(f"reported-found-{key}" if any(row.finding == what for row in FINDINGS) else f"symptom-{key}")


def told_line(report: Report, say: Texts, *, to_people: bool = True) -> str:
    """Who told what, and on which day: to the people of the home, or about them."""
    key = "reported-crew" if report.by_crew else "reported-you" if to_people else "reported-home"
    what = named(report.what, say)
    if report.on is None:
        return say(f"{key}.undated", what=what)
    return say(key, what=what, day=say.day(report.on))


def settled_words(what: str, say: Texts) -> str:
    """Whose look settles it, to be ticked; empty where the people of the home can say so by themselves."""
    by = settled_by(what)
    return "" if by is Settled.PEOPLE else say("reported-tick-utility" if by is Settled.UTILITY else "reported-tick")


def settled_line(report: Report, say: Texts) -> str:
    """A report with the day it was settled, if it was."""
    line = told_line(report, say)
    return line if report.settled is None else f"{line} {say('reported-settled-on', day=say.day(report.settled))}"


def _after(event: Event, reports: list[Report]) -> list[Report]:
    """The reports after a visit or a new heater."""
    if event.kind is EventKind.REPLACEMENT:
        return []
    words = {part.strip() for part in event.findings.partition(CREW_NOTE)[0].split(_BETWEEN)}
    found = [*map(str, event.seen), *(row.finding for row in FINDINGS if row.finding in words)]
    there = {r.what for r in reports if r.settled is None}
    return [*reports, *(Report(what=w, on=event.on, by_crew=True) for w in found if w not in there)]


def _told(reports: list[Report], symptoms: Sequence[Symptom], on: date) -> list[Report]:
    now = [str(s) for s in symptoms]
    kept = [
        replace(r, settled=on)
        if r.settled is None and r.what not in now and settled_by(r.what) is Settled.PEOPLE
        else r
        for r in reports
    ]
    there = {r.what for r in kept if r.settled is None}
    return [*kept, *(Report(what=w, on=on) for w in now if w not in there)]


def _settled(reports: list[Report], given: Mapping[str, str], answered_on: date) -> list[Report]:
    try:
        day = date.fromisoformat(given.get(SETTLED_ON, ""))
    except ValueError:
        day = answered_on
    return [replace(r, settled=day) if r.what == given[SETTLED] and r.settled is None else r for r in reports]


def _act_since(report: Report, acts: Sequence[ServiceRecord]) -> ServiceKind | None:
    kind = next((row.settled_by_act for row in FINDINGS if row.finding == report.what), None)
    after = [a for a in acts if a.kind is kind and report.on is not None and a.done.earliest >= report.on]
    return kind if after else None
