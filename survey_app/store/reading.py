"""What can be read of the records, and one state of them: what is read from a reading was true at the same moment."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from typing import Any, TypeVar

import sqlalchemy as sa

from survey_app.records import (
    Answer,
    ContactNote,
    Event,
    Heater,
    Home,
    OfferReply,
    Parcel,
    Phase,
    PlatePhoto,
    ServiceRecord,
    Visit,
)
from survey_app.store import tables
from survey_app.store.entries import (
    AccessCode,
    Account,
    Change,
    CommunityState,
    JoinCandidate,
    KeptBid,
    KeptInvitation,
    KeptRounds,
    KeptServicePlan,
    StoredAnswer,
)
from survey_app.store.rows import Kept

__all__ = ["Reading", "Records", "chunks"]

R = TypeVar("R")
_CHUNK = 400  # keys in one IN (...): below every database's limit on parameters
_MOST_SUBJECTS = 300  # of one home: more answers than anybody gives


class Records(ABC):
    """What can be read, each as records of its table.

    Of :class:`Reading`, all of it is one state. :class:`.Store` answers each call in a transaction of its own: for one
    look at the records, never for two that belong together.
    """

    @abstractmethod
    def _run(self, query: sa.Executable) -> Sequence[Any]:
        """Every row of a query."""

    # ---- the community -------------------------------------------------

    def state(self) -> CommunityState:
        """The community, its settings and the data version."""
        return self._all(tables.COMMUNITY)[0]

    def how_many(self) -> tuple[int, int]:
        """How many homes there are, and how many an answer is joined to."""
        homes = sa.select(sa.func.count()).select_from(tables.HOME.table).scalar_subquery()
        answered = sa.select(sa.func.count(tables.ANSWER.c.home_id.distinct())).scalar_subquery()
        found = self._run(sa.select(homes, answered))[0]
        return int(found[0]), int(found[1])

    def phases(self) -> list[Phase]:
        """Every phase, in order of name."""
        return self._all(tables.PHASE, order=[tables.PHASE.c.phase_id])

    def parcels(self, home_id: str | None = None) -> list[Parcel]:
        """Every parcel, or the one that holds `home_id`."""
        here = sa.select(tables.HOME.c.parcel_id).where(tables.HOME.c.home_id == home_id)
        mine = [] if home_id is None else [tables.PARCEL.c.parcel_id.in_(here)]
        return self._all(tables.PARCEL, *mine, order=[tables.PARCEL.c.parcel_id])

    def streets(self) -> list[tuple[str, str, bytes]]:
        """Every street line: name, kind, well-known binary in WGS 84."""
        return [(s.name, s.kind, s.line_wkb) for s in self._all(tables.STREET, order=[tables.STREET.c.street_id])]

    # ---- homes and what is known of them -------------------------------

    def homes(self, home_id: str | None = None) -> list[Home]:
        """Every home, or one."""
        return self._all(tables.HOME, *_one(tables.HOME.c.home_id, home_id), order=[tables.HOME.c.home_id])

    def homes_of(self, home_ids: Iterable[str]) -> list[Home]:
        """These homes."""
        return self._of(tables.HOME, home_ids)

    def heaters(self, home_id: str | None = None) -> list[Heater]:
        """Every heater, oldest first in each home, or those of one home."""
        c = tables.HEATER.c
        return self._all(tables.HEATER, *_one(c.home_id, home_id), order=[c.home_id, c.sequence])

    def heaters_of(self, home_ids: Iterable[str]) -> list[Heater]:
        """The heaters of these homes."""
        return self._of(tables.HEATER, home_ids)

    def services_of(self, home_ids: Iterable[str], *, or_named: Iterable[str] = ()) -> list[ServiceRecord]:
        """The service records of these homes' heaters, and those of these names wherever they are."""
        c, found = tables.SERVICE_RECORD.c, dict[str, ServiceRecord]()
        names = chunks(sorted(set(or_named)))
        for chunk in chunks(sorted(set(home_ids))):
            here = sa.select(tables.HEATER.c.heater_id).where(tables.HEATER.c.home_id.in_(chunk))
            wanted = c.heater_id.in_(here) | c.record_id.in_(next(names, ()))
            found |= {one.record_id: one for one in self._all(tables.SERVICE_RECORD, wanted)}
        for more in names:
            found |= {one.record_id: one for one in self._all(tables.SERVICE_RECORD, c.record_id.in_(more))}
        return list(found.values())

    def services(self, home_id: str | None = None) -> list[ServiceRecord]:
        """Every service record, or those of one home."""
        c = tables.SERVICE_RECORD.c
        here = sa.select(tables.HEATER.c.heater_id).where(tables.HEATER.c.home_id == home_id)
        mine = [] if home_id is None else [c.heater_id.in_(here)]
        return self._all(tables.SERVICE_RECORD, *mine, order=[c.done_latest, c.record_id])

    def events(self, home_id: str | None = None) -> list[Event]:
        """What crews and volunteers did, oldest first; of one home if asked."""
        c = tables.EVENT.c
        return self._all(tables.EVENT, *_one(c.home_id, home_id), order=[c.on_date, c.event_id])

    def events_by_home(self, home_ids: Iterable[str] | None = None) -> dict[str, list[Event]]:
        """What was done at these homes, or at all, by home."""
        found: dict[str, list[Event]] = {}
        for event in self.events() if home_ids is None else self._of(tables.EVENT, home_ids):
            found.setdefault(event.home_id, []).append(event)
        return found

    def contact_notes(self, home_id: str | None = None) -> list[ContactNote]:
        """Every attempt to reach a home, oldest first; of one home if asked."""
        c = tables.CONTACT_NOTE.c
        return self._all(tables.CONTACT_NOTE, *_one(c.home_id, home_id), order=[c.on_date, c.note_id])

    def plate_photos(self, home_id: str) -> list[PlatePhoto]:
        """The photographs of one home's data plates, oldest first."""
        c = tables.PLATE_PHOTO.c
        return self._all(tables.PLATE_PHOTO, c.home_id == home_id, order=[c.at, c.photo_id])

    def homes_with_photos(self, state: str) -> list[str]:
        """The homes with a photograph in this state, the longest waiting first; no picture is read."""
        c = tables.PLATE_PHOTO.c
        query = sa.select(c.home_id).where(c.state == state).group_by(c.home_id)
        return self._firsts(query.order_by(sa.func.min(c.at), c.home_id))

    def sheets(self) -> dict[str, str]:
        """The number of each home's letter, by home id, in the order of the numbers."""
        found = sorted(self._all(tables.SHEET), key=lambda s: (Decimal(s.number), s.home_id))
        return {s.home_id: s.number for s in found}

    def homes_with_history(self) -> frozenset[str]:
        """Homes that something is on file for: an answer, an event or a visit."""
        told = (
            tables.ANSWER.table,
            tables.EVENT.table,
            tables.VISIT.table,
            tables.OFFER_REPLY.table,
            tables.CONTACT_NOTE.table,
            tables.PLATE_PHOTO.table,
        )
        query = sa.union(*(sa.select(t.c.home_id).where(t.c.home_id.is_not(None)) for t in told))
        return frozenset(row[0] for row in self._run(query))

    # ---- answers -------------------------------------------------------

    def answers(
        self, *, home_ids: Iterable[str] | None = None, join_state: str | None = None, answer_id: str | None = None
    ) -> list[StoredAnswer]:
        """Answers in the order they were given, narrowed as asked."""
        c = tables.ANSWER.c
        narrow = [*_one(c.join_state, join_state), *_one(c.answer_id, answer_id)]
        order = [c.answered_on, c.submitted_at, c.answer_id]
        if home_ids is None:
            return self._all(tables.ANSWER, *narrow, order=order)
        wanted = sorted(set(home_ids))
        return [
            found
            for chunk in chunks(wanted)
            for found in self._all(tables.ANSWER, *narrow, c.home_id.in_(chunk), order=order)
        ]

    def answers_about(self, home_id: str | None, answer_id: str) -> list[StoredAnswer]:
        """The answers that are joined to a home, and the one of this id wherever it is."""
        c = tables.ANSWER.c
        wanted = sa.or_(c.answer_id == answer_id, *_one(c.home_id, home_id))
        return self._all(tables.ANSWER, wanted, order=[c.answer_id])

    def answers_by_home(self, home_ids: Iterable[str] | None = None) -> dict[str, list[Answer]]:
        """The answers that are joined to a home, by home, in the order they were given."""
        found: dict[str, list[Answer]] = {}
        for stored in self.answers(home_ids=home_ids):
            if stored.answer.home_id is not None:
                found.setdefault(stored.answer.home_id, []).append(stored.answer)
        return found

    def answered_homes(self) -> frozenset[str]:
        """The homes that at least one answer is joined to."""
        c = tables.ANSWER.c
        return frozenset(self._firsts(sa.select(c.home_id).where(c.home_id.is_not(None)).distinct()))

    def candidates(self) -> list[tuple[JoinCandidate, str]]:
        """The homes each doubtful answer may belong to, best first, each with its address."""
        kept, c = tables.JOIN_CANDIDATE, tables.JOIN_CANDIDATE.c
        query = sa.select(*kept.columns, tables.HOME.c.address).join_from(
            tables.JOIN_CANDIDATE.table, tables.HOME.table
        )
        query = query.order_by(c.answer_id, c.score.desc(), tables.HOME.c.home_id)
        return [(kept.of_values(row[:-1]), row[-1]) for row in self._run(query)]

    def homes_before(self, answer_ids: Iterable[str]) -> dict[str, tuple[str, datetime]]:
        """The home each answer was last joined to before a change, by the change log, and when that change was."""
        self._log_is_whole()
        log = tables.CHANGE_LOG.c
        last: dict[str, tuple[str, datetime]] = {}
        for chunk in chunks(sorted(set(answer_ids))):
            mine = (log.subject_kind == "answer") & log.subject_id.in_(chunk)
            query = sa.select(log.subject_id, log.before, log.at).where(mine).order_by(log.change_id)
            for answer_id, before, at in self._run(query):
                if before and before.get("home_id"):
                    last[answer_id] = (str(before["home_id"]), at)
        return last

    # ---- service days and the group purchase ---------------------------

    def service_plans(self, plan_id: str | None = None) -> list[KeptServicePlan]:
        """Every service plan, newest first, or one."""
        c = tables.SERVICE_PLAN.c
        return self._all(tables.SERVICE_PLAN, *_one(c.plan_id, plan_id), order=[c.made_at.desc(), c.plan_id])

    def visits(self, plan_id: str | None = None) -> list[Visit]:
        """The visits of one service plan, or of all."""
        c = tables.VISIT.c
        return self._all(tables.VISIT, *_one(c.plan_id, plan_id), order=[c.plan_id, c.home_id])

    def bids(self) -> list[KeptBid]:
        """Every bid on file, by contractor."""
        return self._all(tables.BID, order=[tables.BID.c.contractor])

    def purchase_plans(self, *, limit: int | None = None) -> list[KeptRounds]:
        """Formings of rounds, newest first."""
        c = tables.PURCHASE_PLAN.c
        return self._all(tables.PURCHASE_PLAN, order=[c.made_at.desc(), c.plan_id], limit=limit)

    def offer_replies(self, home_id: str | None = None) -> list[OfferReply]:
        """What homes said to their offer, or one home's word."""
        c = tables.OFFER_REPLY.c
        return self._all(tables.OFFER_REPLY, *_one(c.home_id, home_id), order=[c.home_id])

    # ---- the change log ------------------------------------------------

    def changes(self, *, limit: int = 200) -> list[Change]:
        """The newest entries of the change log."""
        self._log_is_whole()
        return self._all(tables.CHANGE_LOG, order=[tables.CHANGE_LOG.c.change_id.desc()], limit=limit)

    def acts(self, *, limit: int, subjects: Sequence[tuple[str, str]] | None = None) -> list[int]:
        """The newest acts (one person, one moment, one purpose), each by its first entry's number.

        `subjects` narrows them to those that touched one of these kinds and names.
        """
        self._log_is_whole()
        log = tables.CHANGE_LOG.table
        first = sa.func.min(log.c.change_id)
        query = sa.select(first).group_by(log.c.at, log.c.who, log.c.action).order_by(first.desc()).limit(limit)
        if subjects is not None:
            touched = sa.tuple_(log.c.subject_kind, log.c.subject_id).in_(subjects[:_MOST_SUBJECTS])
            moments = sa.select(log.c.at, log.c.who, log.c.action).where(touched).distinct().subquery()
            same = (log.c.at == moments.c.at) & (log.c.who == moments.c.who) & (log.c.action == moments.c.action)
            query = query.join_from(log, moments, same)
        return self._firsts(query)

    def changes_of_act(self, change_id: int) -> list[Change]:
        """All entries of the act that an entry belongs to, in their order."""
        self._log_is_whole()
        c = tables.CHANGE_LOG.c
        one = next(iter(self._all(tables.CHANGE_LOG, c.change_id == change_id)), None)
        if one is None:
            return []
        same = (c.at == one.at) & (c.who == one.who) & (c.action == one.action)
        return self._all(tables.CHANGE_LOG, same, order=[c.change_id])

    def settled_differences(self) -> dict[str, list[str]]:
        """Homes whose different answers somebody decided to leave, with the answers that were there then."""
        self._log_is_whole()
        c = tables.CHANGE_LOG.c
        query = sa.select(c.subject_id, c.after).where(c.subject_kind == "difference").order_by(c.change_id)
        newest: dict[str, Any] = {row[0]: row[1] for row in self._run(query)}
        return {home_id: list(after) for home_id, after in newest.items() if after}

    def last_change(self, action: str) -> datetime | None:
        """When something was last done that the change log calls `action`; None when never."""
        self._log_is_whole()
        c = tables.CHANGE_LOG.c
        found: datetime | None = self._run(sa.select(sa.func.max(c.at)).where(c.action == action))[0][0]
        return found

    # ---- who may sign in -----------------------------------------------

    def account(self, name: str) -> Account | None:
        """An account by name."""
        return next(iter(self._all(tables.ACCOUNT, tables.ACCOUNT.c.name == name)), None)

    def account_names(self) -> list[tuple[str, str]]:
        """Every account's name and role."""
        c = tables.ACCOUNT.c
        return [(name, role) for name, role in self._run(sa.select(c.name, c.role).order_by(c.name))]

    def access_code(self, locator: str) -> AccessCode | None:
        """A private code by its public first part."""
        return next(iter(self._all(tables.ACCESS_CODE, tables.ACCESS_CODE.c.locator == locator)), None)

    def live_codes(self, home_id: str | None = None) -> list[AccessCode]:
        """The private codes that open a home now; of every home, or of one."""
        c = tables.ACCESS_CODE.c
        return self._all(tables.ACCESS_CODE, c.revoked_at.is_(None), *_one(c.home_id, home_id), order=[c.locator])

    def invitation(self, locator: str) -> KeptInvitation | None:
        """An invitation by the public first part of its code."""
        return next(iter(self._all(tables.INVITATION, tables.INVITATION.c.locator == locator)), None)

    def invitations(self) -> list[KeptInvitation]:
        """Every invitation, the next to run out first; the hash of its code is left out."""
        c = tables.INVITATION.c
        found = self._all(tables.INVITATION, order=[c.expires_at, c.locator])
        return [replace(one, code_hash="") for one in found]

    def taken_locators(self, *, but_of: set[str]) -> set[str]:
        """The first parts of every code and invitation, but for codes of homes that are about to be replaced."""
        c = tables.ACCESS_CODE.c
        codes = self._run(sa.select(c.locator, c.home_id))
        taken = {locator for locator, home_id in codes if home_id not in but_of}
        return taken | set(self._firsts(sa.select(tables.INVITATION.c.locator)))

    # ---- inside --------------------------------------------------------

    def _log_is_whole(self) -> None:  # noqa: B027, only an open transaction has something to do
        """Entries that wait to be written are written: nothing waits in a reading."""

    def _all(
        self,
        kept: Kept[R],
        *where: sa.ColumnElement[bool],
        order: Sequence[sa.ColumnElement[Any]] = (),
        limit: int | None = None,
    ) -> list[R]:
        query = sa.select(*kept.columns).where(*where).order_by(*order).limit(limit)
        return [kept.of_values(row) for row in self._run(query)]

    def _of(self, kept: Kept[R], home_ids: Iterable[str]) -> list[R]:
        mine = kept.c.home_id
        wanted = sorted(set(home_ids))
        return [
            record
            for chunk in chunks(wanted)
            for record in self._all(kept, mine.in_(chunk), order=list(kept.table.primary_key))
        ]

    def _firsts(self, query: sa.Select[Any]) -> list[Any]:
        return [row[0] for row in self._run(query)]


class Reading(Records):
    """The records as they stood when the reading began. Made by :meth:`Store.read`.

    An open transaction of :meth:`Store.writing` is a reading, too: of what it has changed so far.
    """

    def __init__(self, connection: sa.Connection, state: CommunityState | None = None) -> None:
        self._connection = connection
        self._state = state

    def state(self) -> CommunityState:
        """The community, its settings and the data version."""
        if self._state is None:
            self._state = super().state()
        return self._state

    def _run(self, query: sa.Executable) -> Sequence[Any]:
        return self._connection.execute(query).all()


def _one(column: sa.ColumnElement[Any], value: str | None) -> list[sa.ColumnElement[bool]]:
    return [] if value is None else [column == value]


def chunks(values: Sequence[Any]) -> Iterator[Sequence[Any]]:
    """Keys in portions that one `IN (...)` of any database takes."""
    for start in range(0, len(values), _CHUNK):
        yield values[start : start + _CHUNK]
