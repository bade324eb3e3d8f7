"""What one answer says about a home's heaters, as records."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from survey_app.intake.content import NEVER, Content, InstalledBasis, Said
from survey_app.intake.kinds import Lands
from survey_app.intake.questions import QUESTIONS
from survey_app.records import Dated, DateEvidence, EndCause, Heater, HeaterKind, ServiceKind, ServiceRecord

__all__ = ["History", "heater_id", "landed", "to_history"]


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """One answer as records.

    Parameters
    ----------
    home
        What the answer says of the home, by the home's fields; what it is silent on is not in it.
    heaters
        Oldest first; the last is the one in service. Empty for a refusal.
    services
        Dated acts, on the heater they were done to.
    """

    home: Mapping[str, Any] = field(default_factory=dict)
    heaters: tuple[Heater, ...] = ()
    services: tuple[ServiceRecord, ...] = ()


def heater_id(home_id: str, sequence: int) -> str:
    """The id of a home's n-th known heater: the same in every answer that tells of it."""
    return f"{home_id}/heater-{sequence}"


def to_history(content: Content, *, home_id: str, answer_id: str, built_year: int | None, answered_on: date) -> History:
    """Turn one answer into heaters and service records.

    The heater in service is the last; the one before it is added when the
    answer tells of one: its end, its end cause, or that this is the second or
    a later heater. The end of a previous heater that is not dated is taken
    from the installation of the next; a second heater's predecessor was
    installed when the house was finished.

    Parameters
    ----------
    content
        The answer, understood.
    home_id, answer_id
        Heater ids are made from the home, record ids from the answer, so that
        the same answer makes the same records every time.
    built_year
        The year the house was finished; None where nobody knows.
    answered_on
        The day of the answer; no window reaches beyond it unless it begins later.

    Returns
    -------
    History
        With no heaters when the person refused.
    """
    if content.refused:
        return History()
    previous = _previous(content, home_id, built_year, answered_on)
    current = _current(content, home_id, sequence=2 if previous else 1)
    heaters = (previous, current) if previous else (current,)
    services = _services(content, heaters, answer_id)
    return History(home=landed(content, Lands.HOME), heaters=heaters, services=services)


def landed(content: Content, where: Lands) -> dict[str, Any]:
    """What an answer says of the heater, the home or the wishes, by their fields."""
    return {q.key: content.said[q.key] for q in QUESTIONS if q.lands is where and q.key in content.said}


def _current(content: Content, home_id: str, *, sequence: int) -> Heater:
    number = content.number_in_home
    if number is None and content.installed_basis is InstalledBasis.HOUSE:
        number = 1
    return Heater(
        heater_id=heater_id(home_id, sequence),
        home_id=home_id,
        sequence=sequence,
        number_in_home=number,
        never_done=_never_done(content),
        **landed(content, Lands.HEATER),
    )


def _previous(content: Content, home_id: str, built_year: int | None, answered_on: date) -> Heater | None:
    """The heater before this one, or None where the answer tells of none."""
    number = content.number_in_home
    told = content.previous_gone is not None or content.previous_end not in (None, EndCause.UNKNOWN)
    if not told and number not in (2, 3):
        return None
    removed = content.previous_gone
    if removed is None and content.installed is not None:
        removed = replace(content.installed, evidence=None)
    if removed is not None and removed.earliest <= answered_on < removed.latest:
        removed = replace(removed, latest=answered_on)
    installed = None
    if number == 2 and built_year is not None and 1 <= built_year <= date.max.year:
        installed = Dated(
            earliest=date(built_year, 1, 1),
            latest=date(built_year, 12, 31),
            evidence=DateEvidence.HOUSE_COMPLETION,
        )
        # An overruled contradiction must not make a heater leave before it came.
        if removed is not None and removed.latest < installed.earliest:
            installed = None
    cause = content.previous_end or EndCause.UNKNOWN
    # A heater that made way for another kind was not of that kind; otherwise like follows like,
    # but nobody said so, and it is left open.
    return Heater(
        heater_id=heater_id(home_id, 1),
        home_id=home_id,
        sequence=1,
        number_in_home=1 if number == 2 else None,
        kind=HeaterKind.UNKNOWN,
        installed=installed,
        removed=removed,
        end_cause=cause,
    )


def _acts(content: Content) -> Iterator[tuple[ServiceKind, Said | None, str]]:
    """Each act the form asks for: what it was, when it was done, the question."""
    for asked in QUESTIONS:
        if asked.act is not None:
            changed = asked.act is ServiceKind.ANODE_CHECK and content.anode_work == "changed"
            yield ServiceKind.ANODE_CHANGE if changed else asked.act, content.said.get(asked.key), asked.key


def _never_done(content: Content) -> tuple[ServiceKind, ...]:
    """What was said never to have been done; an anode never looked at was never changed either."""
    never = [kind for kind, done, _ in _acts(content) if done == NEVER]
    if content.last_anode == NEVER:
        never = [kind for kind in never if kind not in (ServiceKind.ANODE_CHECK, ServiceKind.ANODE_CHANGE)]
        never += [ServiceKind.ANODE_CHECK, ServiceKind.ANODE_CHANGE]
    return tuple(never)


def _services(content: Content, heaters: tuple[Heater, ...], answer_id: str) -> tuple[ServiceRecord, ...]:
    records: list[ServiceRecord] = []
    for kind, done, key in _acts(content):
        if not isinstance(done, Dated):
            continue
        heater = _heater_then(heaters, done)
        if heater is not None:
            records.append(
                ServiceRecord(record_id=f"{answer_id}/{key}", heater_id=heater.heater_id, kind=kind, done=done)
            )
    return tuple(records)


def _heater_then(heaters: tuple[Heater, ...], done: Dated) -> Heater | None:
    """The heater an act was done to: the one in service, or, if it was not there yet, the one before it."""
    current = heaters[-1]
    if current.installed is None or done.latest >= current.installed.earliest:
        return current
    return heaters[0] if len(heaters) > 1 else None
