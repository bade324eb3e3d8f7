"""Homes read anew from their answers and events: what is stored of heaters and acts follows from them.

It is done where an answer or an event changes, and for all homes at once where
this program reads answers in another way than the one that stored them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from survey_app.histories import READING_VERSION, HomeHistory, home_history
from survey_app.intake import Content
from survey_app.records import Answer, Heater, Home, ServiceRecord
from survey_app.store import Changes, Store

__all__ = ["READ_AGAIN", "Reread", "open_store", "reread"]

READ_AGAIN = "read the answers again"
"""What the change log calls it."""
_WHO = "this tool, opened"
_SEVERAL = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Reread:
    """How many homes were read anew, and of how many something else is known now."""

    homes: int
    changed: int


def reread(
    write: Changes,
    home_ids: Iterable[str] | None,
    *,
    answers: Mapping[str, Sequence[Answer]] | None = None,
    contents: Mapping[str, Content] = {},
    progress: Callable[[int, int], object] | None = None,
) -> Reread:
    """Read homes anew inside a transaction; None for every home.

    `answers` are those of the homes where they have just been read, and `contents` is what answers say, by their id,
    where that is known. Where another version of this program has read the records, the homes now follow two readings:
    that is noted, and whoever opens the records next reads all of them again.
    """
    if write.state().reading_version not in (_SEVERAL, READING_VERSION):
        write.set_reading(_SEVERAL)
    wanted = None if home_ids is None else set(home_ids)
    homes = write.homes() if wanted is None else write.homes_of(wanted)
    told_by, events = write.answers_by_home(wanted) if answers is None else answers, write.events_by_home(wanted)
    told = []
    for done, home in enumerate(homes, start=1):
        mine, done_there = told_by.get(home.home_id, []), events.get(home.home_id, [])
        told.append(home_history(home, mine, done_there, contents=contents))
        if progress:
            progress(done, len(homes))
    acts = [act.record_id for one in told for act in one.services]
    heaters = write.heaters() if wanted is None else write.heaters_of(wanted)
    services = write.services() if wanted is None else write.services_of(wanted, or_named=acts)
    changed = _changed(homes, told, heaters, services)
    theirs = {one.home.home_id for one in changed}
    write.put([one.home for one in changed], over=homes)
    write.put_histories(
        theirs,
        [heater for one in changed for heater in one.heaters],
        [act for one in changed for act in one.services],
        over=_stood(theirs, {act.record_id for one in changed for act in one.services}, heaters, services),
    )
    return Reread(homes=len(told), changed=len(changed))


def open_store(
    place: str | Path, *, now: datetime | None = None, progress: Callable[[int, int], object] | None = None
) -> Store:
    """Open the records, and read all answers again where another version of this program has read them.

    Parameters
    ----------
    place
        A data folder or a database URL, as for :meth:`Store.open`.
    now
        The moment that the change log gives to a reading; None for this machine's clock.
    progress
        Is told how many homes of how many are read.

    Raises
    ------
    UnusableData
        When the place cannot be used, with what to do about it.
    """
    store = Store.open(place)
    try:
        _read_again(store, now=now or datetime.now(), progress=progress)
    except BaseException:
        store.close()
        raise
    return store


class _ReadMeanwhile(Exception):
    """Another process has read the answers again while this one waited for its turn."""


def _read_again(store: Store, *, now: datetime, progress: Callable[[int, int], object] | None) -> None:
    if store.state().reading_version == READING_VERSION:
        return
    homes, _ = store.how_many()
    if not homes:
        store.note_reading(READING_VERSION)
        return
    try:
        with store.writing(who=_WHO, action=READ_AGAIN, at=now) as write:
            before = write.state().reading_version
            if before == READING_VERSION:
                raise _ReadMeanwhile
            found = reread(write, None, progress=progress)
            write.set_reading(READING_VERSION)
            write.log("reading", f"{found.changed} of {found.homes} homes changed", before, READING_VERSION)
    except _ReadMeanwhile:
        return


def _stood(
    home_ids: set[str], named: set[str], heaters: Iterable[Heater], services: Iterable[ServiceRecord]
) -> tuple[list[Heater], list[ServiceRecord]]:
    """What is stored of some homes, and acts of these names wherever they are."""
    mine = [heater for heater in heaters if heater.home_id in home_ids]
    of_mine = {heater.heater_id for heater in mine}
    return mine, [act for act in services if act.heater_id in of_mine or act.record_id in named]


def _changed(
    homes: Iterable[Home], told: Iterable[HomeHistory], heaters: Iterable[Heater], services: Iterable[ServiceRecord]
) -> list[HomeHistory]:
    """Histories that differ from what is stored of their home."""
    stood = {home.home_id: home for home in homes}
    home_of = {heater.heater_id: heater.home_id for heater in heaters}
    known: dict[str, set[Heater | ServiceRecord]] = {}
    for heater in heaters:
        known.setdefault(heater.home_id, set()).add(heater)
    for act in services:
        known.setdefault(home_of.get(act.heater_id, ""), set()).add(act)
    return [
        one
        for one in told
        if one.home != stood[one.home.home_id] or {*one.heaters, *one.services} != known.get(one.home.home_id, set())
    ]
