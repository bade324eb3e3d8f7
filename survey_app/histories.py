"""Several answers about one home, over the years, read as one history.

Answers are kept as given; what they say together is read from them anew each
time. Within one heater's life a later answer fills what an earlier one left
open and wins where they differ, and the difference is told. An answer whose
heater went in after the earlier answer was given speaks of the next heater:
the earlier one then ended in between.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, replace
from datetime import date
from typing import Any

from survey_app.intake import QUESTIONS, Content, History, Kind, Lands, content_of, heater_id, landed, to_history
from survey_app.records import (
    Answer,
    Dated,
    DateEvidence,
    EndCause,
    Event,
    EventKind,
    Heater,
    HeaterKind,
    Home,
    Interest,
    Place,
    Report,
    ServiceRecord,
    Symptom,
    Wishes,
)
from survey_app.reported import reports_of

__all__ = ["READING_VERSION", "Difference", "HomeHistory", "difference_of", "home_history", "wishes_of"]

READING_VERSION = 3
"""Which reading this is. Raise it whenever the same answers come to mean something else, here or in
:mod:`survey_app.intake`, :mod:`survey_app.typed_dates` or :mod:`survey_app.date_codes`: the homes of every survey are
then read again when it is next opened. A test knows the reading of each version by its digest and says so."""
_OPEN = (None, "unknown")
_INTERESTS = tuple(q.key for q in QUESTIONS if q.kind is Kind.INTEREST)
_ACTS = (*(q.key for q in QUESTIONS if q.lands is Lands.ACT), "anode_work")
_OF_HOMES = {q.key for q in QUESTIONS if q.lands is Lands.HOME}
_UNTOLD: dict[str, Any] = {field.name: field.default for field in fields(Home) if field.name in _OF_HOMES}
"""What answers tell of a home, as it is before anybody answers."""
_COMPARED = (
    ("kind", "kind of heater"),
    ("number_in_home", "number of the heater in this home"),
    ("previous_end", "end of the heater before it"),
)


_NOT_COMPARED = frozenset({"address", "answered_on", "remarks", "contact", "consent"})
"""Questions that two answers about one home may say different things to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HomeHistory:
    """A home with the heaters and acts that its answers tell of, and where they disagree."""

    home: Home
    heaters: tuple[Heater, ...]
    services: tuple[ServiceRecord, ...]
    disagreements: tuple[str, ...]
    reports: tuple[Report, ...] = ()
    """What was ever reported of the heater in service, settled or not."""


@dataclass(slots=True)
class _Life:
    """One heater's life: what the answers about it say together."""

    content: Content
    answers: list[Answer]
    contents: list[Content]
    """Each answer's own words, in the order of `answers`: an act told earlier stays done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One home whose answers differ.

    Parameters
    ----------
    home, answers
        The home and all its answers, oldest first.
    sentences
        What contradicts what, where the tool can tell.
    lines
        Questions answered differently: the question, and what each answer says ("" where it is silent).
    """

    home: Home
    answers: tuple[Answer, ...]
    sentences: tuple[str, ...]
    lines: tuple[tuple[str, tuple[str, ...]], ...]


def home_history(
    home: Home, answers: Sequence[Answer], events: Sequence[Event] = (), *, contents: Mapping[str, Content] = {}
) -> HomeHistory:
    """What the answers about `home` say together.

    Parameters
    ----------
    home
        The home; what earlier answers changed on it is set anew.
    answers
        All answers joined to it, in any order. A refusal ends what was told before it.
    events
        What crews and volunteers did there, in any order.
    contents
        What answers say, by their id, where that has just been read.
    """
    lives: list[_Life] = []
    disagreements: list[str] = []
    nexts: dict[str, date] = {}
    in_order = sorted(answers, key=lambda a: (a.answered_on, a.submitted_at, a.answer_id))
    for answer in in_order:
        content = contents.get(answer.answer_id) or content_of(answer, house_year=home.built_year)
        if content is None:
            continue
        if content.refused:
            lives, disagreements = [], []
        elif lives and (swapped := _swapped_between(lives[-1], content, events)) is not None:
            if content.installed is None:
                said = {**content.said, "installed": Dated.on(swapped, DateEvidence.DOCUMENT)}
                content = replace(content, said=said)
            nexts[answer.answer_id] = lives[-1].answers[-1].answered_on
            lives.append(_Life(content=content, answers=[answer], contents=[content]))
        elif lives and not _is_next_heater(lives[-1], content):
            life = lives[-1]
            disagreements += _differences(life.content, content)
            life.content = _merged(life.content, content)
            life.answers.append(answer)
            life.contents.append(content)
        else:
            if lives:
                nexts[answer.answer_id] = lives[-1].answers[-1].answered_on
                content = _since(nexts[answer.answer_id], content)
            lives.append(_Life(content=content, answers=[answer], contents=[content]))
    base = replace(home, **_UNTOLD)
    told = _with_events(_chain(base, lives, tuple(disagreements)), events)
    reports = reports_of(in_order, events, house_year=home.built_year, contents=contents, nexts=nexts)
    return _with_reports(told, reports)


def wishes_of(home: Home, answers: Sequence[Answer]) -> Wishes:
    """What a home would take part in, by its latest word on each; "not sure" wipes out nothing.

    Parameters
    ----------
    home
        The home.
    answers
        All answers joined to it, in any order. A refusal ends what was told before it.
    """
    found = Wishes(home_id=home.home_id)
    for answer in sorted(answers, key=lambda a: (a.answered_on, a.submitted_at, a.answer_id)):
        content = content_of(answer, house_year=home.built_year)
        if content is None:
            continue
        if content.refused:
            found = Wishes(home_id=home.home_id)
            continue
        told = landed(content, Lands.WISHES)
        wished = any(told.get(key) in (Interest.YES, Interest.MAYBE) for key in _INTERESTS)
        found = replace(found, **told, asked_on=found.asked_on or (content.answered_on if wished else None))
    return found


def difference_of(home: Home, answers: Sequence[Answer], *, settled: Sequence[str] = ()) -> Difference | None:
    """How a home's answers contradict one another; None where they do not, or were left to stand as they are.

    Parameters
    ----------
    home, answers
        The home, and its answers in any order.
    settled
        The ids of the answers that somebody has decided to leave as they are.
    """
    mine = sorted(answers, key=lambda a: (a.answered_on, a.submitted_at, a.answer_id))
    if len(mine) < 2 or sorted(settled) == sorted(a.answer_id for a in mine):
        return None
    sentences = home_history(home, mine).disagreements
    if not sentences:
        return None
    return Difference(home=home, answers=tuple(mine), sentences=sentences, lines=tuple(_lines(mine)))


def _lines(answers: list[Answer]) -> list[tuple[str, tuple[str, ...]]]:
    """Questions that two answers say different things to."""
    rows = []
    for question in QUESTIONS:
        if question.key in _NOT_COMPARED:
            continue
        said = tuple(question.label(a.given.get(question.key, "").strip()) for a in answers)
        if len({s.lower() for s in said if s}) > 1:
            rows.append((question.text(), said))
    return rows


def _with_reports(told: HomeHistory, reports: Sequence[Report]) -> HomeHistory:
    """The history with what was reported of the heater in service; what was told of an earlier one went with it."""
    heater = told.heaters[-1] if told.heaters else None
    if heater is None or not heater.in_service:
        return told
    since = heater.installed.earliest if heater.installed else date.min
    mine = tuple(r for r in reports if r.on is None or r.on >= since)
    known = set(map(str, Symptom))
    symptoms = tuple(Symptom(r.what) for r in mine if r.settled is None and r.what in known)
    return replace(told, heaters=(*told.heaters[:-1], replace(heater, symptoms=symptoms)), reports=mine)


def _with_events(told: HomeHistory, events: Sequence[Event]) -> HomeHistory:
    """The history with what crews and volunteers did: acts on the heater of that day, and new heaters."""
    for event in sorted(events, key=lambda e: (e.on, e.event_id)):
        told = _with_visit(told, event) if event.kind is EventKind.VISIT else _with_replacement(told, event)
    return told


def _with_visit(told: HomeHistory, event: Event) -> HomeHistory:
    heater = next((h for h in reversed(told.heaters) if h.installed is None or h.installed.earliest <= event.on), None)
    if heater is None:
        return told
    acts = tuple(
        ServiceRecord(
            record_id=f"{event.event_id}/{act.replace(' ', '-')}",
            heater_id=heater.heater_id,
            kind=act,
            done=Dated.on(event.on),
            findings=event.findings,
        )
        for act in event.acts
    )
    # The crew's day is the surer one: an answer's rougher date of the same act gives way.
    kept = tuple(s for s in told.services if not any(_same_act(s, act) for act in acts))
    never = tuple(k for k in heater.never_done if k not in event.acts)
    heaters = tuple(replace(h, never_done=never) if h is heater else h for h in told.heaters)
    return replace(told, heaters=heaters, services=(*kept, *acts))


def _with_replacement(told: HomeHistory, event: Event) -> HomeHistory:
    """The new heater after the old one; where an answer already tells of it, the event makes it exact."""
    day = Dated.on(event.on, DateEvidence.DOCUMENT)
    last = told.heaters[-1] if told.heaters else None
    facts = {
        "kind": event.kind_of_heater if event.kind_of_heater is not HeaterKind.UNKNOWN else None,
        "tank_gallons": event.tank_gallons,
        "warranty_years": event.warranty_years,
    }
    known = {name: value for name, value in facts.items() if value is not None}
    if last is not None and last.installed is not None and last.installed.earliest <= event.on <= last.installed.latest:
        heaters = [*told.heaters[:-1], replace(last, installed=day, **known)]  # type: ignore[arg-type]
        if len(heaters) > 1:
            cause = event.end_cause or heaters[-2].end_cause or EndCause.UNKNOWN
            heaters[-2] = replace(heaters[-2], removed=Dated.on(event.on), end_cause=cause)
        return replace(told, heaters=tuple(heaters))
    if last is not None and last.installed is not None and last.installed.earliest > event.on:
        return told
    sequence = last.sequence + 1 if last else 1
    old = []
    if last is not None:
        old = [
            *told.heaters[:-1],
            replace(last, removed=Dated.on(event.on), end_cause=event.end_cause or EndCause.UNKNOWN, symptoms=()),
        ]
    new = Heater(
        heater_id=heater_id(told.home.home_id, sequence),
        home_id=told.home.home_id,
        sequence=sequence,
        installed=day,
        number_in_home=last.number_in_home + 1 if last and last.number_in_home else None,
        place=last.place if last else Place.UNKNOWN,
        **known,  # type: ignore[arg-type]
    )
    return replace(told, heaters=(*old, new))


def _merged(old: Content, new: Content) -> Content:
    """The later answer, with what it left open filled from the earlier one: "not sure" wipes out nothing."""
    # Nor does a size of 0, which is written where there is no tank.
    told = {key: value for key, value in new.said.items() if value != 0}
    return replace(
        new,
        said={**old.said, **told},
        installed_basis=new.installed_basis or old.installed_basis,
        installed_as_told=new.installed_as_told or old.installed_as_told,
        code_readings=new.code_readings or old.code_readings,
    )


def _is_next_heater(life: _Life, content: Content) -> bool:
    """Whether an answer speaks of a heater that went in after all that was told of this one, by its own words."""
    told = content.installed_as_told
    return told is not None and told.earliest > life.answers[-1].answered_on


def _since(answered_on: date, content: Content) -> Content:
    """The next heater's content: it did not go in before the one that was still told of on a day."""
    installed = content.installed
    if installed is None or installed.earliest > answered_on:
        return content
    return replace(content, said={**content.said, "installed": replace(installed, earliest=answered_on)})


def _swapped_between(life: _Life, content: Content, events: Sequence[Event]) -> date | None:
    """The day a new heater went in since this life was last told of, if the answer can speak of the new one."""
    for event in events:
        since = life.answers[-1].answered_on < event.on <= content.answered_on
        of_the_new = content.installed is None or content.installed.latest >= event.on
        if event.kind is EventKind.REPLACEMENT and since and of_the_new:
            return event.on
    return None


def _differences(old: Content, new: Content) -> list[str]:
    """Sentences on where a later answer contradicts what was known of the same heater."""
    day = f"the answer of {new.answered_on:%d %B %Y}"
    found = []
    if old.installed and new.installed and _apart(old.installed, new.installed):
        found.append(
            f"Installed around {old.installed.best.year} by an earlier answer, "
            f"around {new.installed.best.year} by {day}."
        )
    for name, words in _COMPARED:
        a, b = getattr(old, name), getattr(new, name)
        if a not in _OPEN and b not in _OPEN and a != b:
            found.append(f"The {words}: {a} by an earlier answer, {b} by {day}.")
    return found


def _apart(a: Dated, b: Dated) -> bool:
    return a.latest < b.earliest or b.latest < a.earliest


def _chain(home: Home, lives: Sequence[_Life], disagreements: tuple[str, ...]) -> HomeHistory:
    """The heaters of successive lives, one after another."""
    heaters: list[Heater] = []
    services: list[ServiceRecord] = []
    for life in lives:
        content = life.content
        told = _told(content, life.answers[-1], home)
        acts = _every_act(life, told.services, home)
        # Of several lives the first tells since when the home's story is known.
        kept = {"moved_in": home.moved_in} if home.moved_in else {}
        home = replace(home, **{**told.home, **kept})
        new = list(told.heaters)
        if heaters and new:
            current = new[-1]
            former = heaters[-1]
            cause = content.previous_end or EndCause.UNKNOWN
            heaters[-1] = replace(
                former, removed=_between(former, current, life.answers[0].answered_on), end_cause=cause
            )
            number = current.number_in_home or (former.number_in_home + 1 if former.number_in_home else None)
            new = [replace(current, number_in_home=number)]
        start = len(heaters)
        renamed = {h.heater_id: heater_id(home.home_id, start + i) for i, h in enumerate(new, start=1)}
        heaters += [replace(h, heater_id=renamed[h.heater_id], sequence=start + i) for i, h in enumerate(new, start=1)]
        services += [replace(s, heater_id=renamed[s.heater_id]) for s in acts if s.heater_id in renamed]
    return HomeHistory(home=home, heaters=tuple(heaters), services=tuple(services), disagreements=disagreements)


def _told(content: Content, answer: Answer, home: Home) -> History:
    return to_history(
        content,
        home_id=home.home_id,
        answer_id=answer.answer_id,
        built_year=home.built_year,
        answered_on=content.answered_on,
    )


def _every_act(life: _Life, latest: Sequence[ServiceRecord], home: Home) -> list[ServiceRecord]:
    """Every act any answer of this life tells of, once: the same act told twice is kept by its narrower date."""
    found = list(latest)
    for answer, content in zip(life.answers[:-1], life.contents[:-1], strict=True):
        # By what is known together of the heater, so that an act lands on the heater it was done to.
        together = {key: value for key, value in life.content.said.items() if key not in _ACTS}
        told = {key: value for key, value in content.said.items() if key in _ACTS}
        own = replace(life.content, said={**together, **told})
        for act in _told(own, answer, home).services:
            same = [i for i, f in enumerate(found) if _same_act(f, act)]
            if not same:
                found.append(act)
            elif _days(act) < _days(found[same[0]]):
                found[same[0]] = act
    return sorted(found, key=lambda a: (a.done.earliest, a.done.latest, a.record_id))


def _same_act(a: ServiceRecord, b: ServiceRecord) -> bool:
    return (
        a.kind is b.kind
        and a.heater_id == b.heater_id
        and not (a.done.latest < b.done.earliest or b.done.latest < a.done.earliest)
    )


def _days(act: ServiceRecord) -> int:
    return (act.done.latest - act.done.earliest).days


def _between(former: Heater, current: Heater, told_on: date) -> Dated:
    """When the former heater went: not before it went in, not after its successor did."""
    if current.installed is not None:
        earliest = max(current.installed.earliest, former.installed.earliest if former.installed else date.min)
        return Dated(earliest=min(earliest, current.installed.latest), latest=current.installed.latest)
    return Dated.on(told_on)
