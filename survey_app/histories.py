"""Several answers about one home, over the years, read as one history.

Answers are kept as given; what they say together is read from them anew each
time. Within one heater's life a later answer fills what an earlier one left
open and wins where they differ, and the difference is told. An answer whose
heater went in after the earlier answer was given speaks of the next heater:
the earlier one then ended in between.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from datetime import date

from survey_app.intake import Content, History, check, heater_id, to_history
from survey_app.records import Answer, Dated, EndCause, Heater, Home, ServiceRecord, Tri

__all__ = ["HomeHistory", "home_history"]

_OPEN = {None, "", "not sure", "unknown", False, ()}
_COMPARED = (
    ("kind", "kind of heater"),
    ("number_in_home", "number of the heater in this home"),
    ("previous_end", "end of the heater before it"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class HomeHistory:
    """A home with the heaters and acts that its answers tell of, and where they disagree."""

    home: Home
    heaters: tuple[Heater, ...]
    services: tuple[ServiceRecord, ...]
    disagreements: tuple[str, ...]


@dataclass(slots=True)
class _Life:
    """One heater's life: what the answers about it say together."""

    content: Content
    answers: list[Answer]
    contents: list[Content]
    """Each answer's own words, in the order of `answers`: an act told earlier stays done."""


def home_history(home: Home, answers: Sequence[Answer]) -> HomeHistory:
    """What the answers about `home` say together.

    Parameters
    ----------
    home
        The home; what earlier answers changed on it is set anew.
    answers
        All answers joined to it, in any order. A refusal ends what was told before it.
    """
    lives: list[_Life] = []
    disagreements: list[str] = []
    for answer in sorted(answers, key=lambda a: (a.answered_on, a.submitted_at, a.answer_id)):
        content = _read(answer, home)
        if content is None:
            continue
        if content.refused:
            lives, disagreements = [], []
        elif lives and not _is_next_heater(lives[-1], content):
            life = lives[-1]
            disagreements += _differences(life.content, content)
            life.content = _merged(life.content, content)
            life.answers.append(answer)
            life.contents.append(content)
        else:
            lives.append(_Life(content=content, answers=[answer], contents=[content]))
    base = replace(home, moved_in=None, softener=Tri.UNKNOWN)
    return _chain(base, lives, tuple(disagreements))


def _read(answer: Answer, home: Home) -> Content | None:
    """What an answer says; its contradictions were settled on the day it was taken."""
    return check(
        answer.given,
        channel=answer.channel,
        today=max(answer.answered_on, answer.submitted_at.date()),
        house_year=home.built_year,
        submitted_by=answer.submitted_by,
        submitted_at=answer.submitted_at,
        answer_id=answer.answer_id,
        overruled=answer.overruled,
    ).content


def _merged(old: Content, new: Content) -> Content:
    """The later answer, with what it left open filled from the earlier one: "not sure" wipes out nothing."""
    kept = {}
    for field in fields(Content):
        value = getattr(new, field.name)
        if isinstance(value, (list, dict)) or value not in _OPEN:
            continue
        kept[field.name] = getattr(old, field.name)
    if new.no_symptoms:
        kept.pop("symptoms", None)
    return replace(new, **kept)


def _is_next_heater(life: _Life, content: Content) -> bool:
    return content.installed is not None and content.installed.earliest > life.answers[-1].answered_on


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
        home = replace(
            home,
            moved_in=home.moved_in or told.moved_in,
            softener=told.softener if told.softener is not Tri.UNKNOWN else home.softener,
        )
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
        own = replace(
            life.content,
            last_flush=content.last_flush,
            last_anode=content.last_anode,
            anode_work=content.anode_work,
            relief_valve_test=content.relief_valve_test,
        )
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
