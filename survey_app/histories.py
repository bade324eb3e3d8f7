"""Several answers about one home, over the years, read as one history.

Answers are kept as given; what they say together is read from them anew each
time. Within one heater's life a later answer fills what an earlier one left
open and wins where they differ, and the difference is told. An answer whose
heater went in after the earlier answer was given speaks of the next heater:
the earlier one then ended in between.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from survey_app.intake import Checked, History, check, to_history
from survey_app.records import Answer, Dated, EndCause, Heater, Home, ServiceRecord

__all__ = ["HomeHistory", "home_history"]


@dataclass(frozen=True, slots=True, kw_only=True)
class HomeHistory:
    """A home with the heaters and acts that its answers tell of, and where they disagree."""

    home: Home
    heaters: tuple[Heater, ...]
    services: tuple[ServiceRecord, ...]
    disagreements: tuple[str, ...]


@dataclass(slots=True)
class _Life:
    """One heater's life: the merged answers about it."""

    given: dict[str, str]
    answers: list[Answer]
    checked: Checked
    previous_end: EndCause | None = None


def home_history(home: Home, answers: Sequence[Answer]) -> HomeHistory:
    """What the answers about `home` say together.

    Parameters
    ----------
    home
        The home; what earlier answers changed on it is set anew.
    answers
        All answers joined to it, in any order.
    """
    lives: list[_Life] = []
    disagreements: list[str] = []
    for answer in sorted(answers, key=lambda a: (a.answered_on, a.submitted_at, a.answer_id)):
        alone = _read(answer, answer.given, home)
        if alone.content is None:
            continue
        if lives and not _is_next_heater(lives[-1], alone):
            life = lives[-1]
            disagreements += _differences(life, alone, answer)
            life.given = {**life.given, **_known(answer.given)}
            life.answers.append(answer)
            merged = _read(answer, life.given, home)
            life.checked = merged if merged.content is not None else alone
        else:
            lives.append(_Life(given=_known(answer.given), answers=[answer], checked=alone))
    base = replace(home, moved_in=None, softener=type(home.softener).UNKNOWN)
    if not lives:
        return HomeHistory(home=base, heaters=(), services=(), disagreements=())
    return _chain(base, lives, tuple(disagreements))


def _read(answer: Answer, given: Mapping[str, str], home: Home) -> Checked:
    """What is given, read again; contradictions were settled when the answer was taken."""
    return check(
        given,
        channel=answer.channel,
        today=answer.answered_on,
        house_year=home.built_year,
        submitted_by=answer.submitted_by,
        submitted_at=answer.submitted_at,
        answer_id=answer.answer_id,
        overruled=answer.overruled,
    )


def _known(given: Mapping[str, str]) -> dict[str, str]:
    """What was answered, without blanks and "not sure": they never wipe out knowledge."""
    open_words = {"", "not sure", "unknown"}
    return {key: text for key, text in given.items() if str(text).strip().lower() not in open_words}


def _is_next_heater(life: _Life, alone: Checked) -> bool:
    content = alone.content
    return (
        content is not None
        and content.installed is not None
        and content.installed.earliest > life.answers[-1].answered_on
    )


def _differences(life: _Life, alone: Checked, answer: Answer) -> list[str]:
    """Sentences on where a later answer contradicts what was known of the same heater."""
    old, new = life.checked.content, alone.content
    if old is None or new is None:
        return []
    day = f"the answer of {answer.answered_on:%d %B %Y}"
    found = []
    if old.installed and new.installed and _apart(old.installed, new.installed):
        found.append(
            f"Installed around {old.installed.best.year} by an earlier answer, around {new.installed.best.year} by {day}."
        )
    for name, words in (("kind", "kind of heater"), ("number_in_home", "which heater in this home it is"), ("previous_end", "how the previous one ended")):
        a, b = getattr(old, name), getattr(new, name)
        if a is not None and b is not None and str(a) != "unknown" and str(b) != "unknown" and a != b:
            found.append(f"The {words}: '{a}' by an earlier answer, '{b}' by {day}.")
    return found


def _apart(a: Dated, b: Dated) -> bool:
    return a.latest < b.earliest or b.latest < a.earliest


def _chain(home: Home, lives: Sequence[_Life], disagreements: tuple[str, ...]) -> HomeHistory:
    """The heaters of successive lives, one after another."""
    heaters: list[Heater] = []
    services: list[ServiceRecord] = []
    for life in lives:
        last = life.answers[-1]
        content = life.checked.content
        assert content is not None  # only readable answers become a life
        told: History = to_history(
            content,
            home_id=home.home_id,
            answer_id=last.answer_id,
            built_year=home.built_year,
            answered_on=last.answered_on,
        )
        home = replace(
            home,
            moved_in=home.moved_in or told.moved_in,
            softener=told.softener if told.softener is not type(home.softener).UNKNOWN else home.softener,
        )
        new = list(told.heaters)
        if heaters and new:
            current = new[-1]
            former = heaters[-1]
            cause = content.previous_end or EndCause.UNKNOWN
            heaters[-1] = replace(former, removed=_between(former, current, life.answers[0].answered_on), end_cause=cause)
            number = current.number_in_home or (former.number_in_home + 1 if former.number_in_home else None)
            new = [replace(current, number_in_home=number)]
        start = len(heaters)
        renamed = {h.heater_id: f"{home.home_id}#{start + i}" for i, h in enumerate(new, start=1)}
        heaters += [
            replace(h, heater_id=renamed[h.heater_id], sequence=start + i) for i, h in enumerate(new, start=1)
        ]
        services += [replace(s, heater_id=renamed[s.heater_id]) for s in told.services if s.heater_id in renamed]
    return HomeHistory(
        home=home, heaters=tuple(heaters), services=tuple(services), disagreements=disagreements
    )


def _between(former: Heater, current: Heater, told_on: date) -> Dated:
    """When the former heater went: not before it went in, not after its successor did."""
    if current.installed is not None:
        earliest = max(current.installed.earliest, former.installed.earliest if former.installed else date.min)
        return Dated(earliest=min(earliest, current.installed.latest), latest=current.installed.latest)
    return Dated.on(told_on)
