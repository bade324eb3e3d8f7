"""One open transaction: what is put, dropped and forgotten, each with its entry in the change log."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from typing import Any

import sqlalchemy as sa

from survey_app.errors import SurveyError
from survey_app.records import Heater, ServiceRecord
from survey_app.store import tables
from survey_app.store.entries import AccessCode, CommunityState, Sheet, StreetLine
from survey_app.store.reading import Reading, chunks
from survey_app.store.rows import Kept, Row

__all__ = ["Changes", "UndoConflict", "taken_back_by"]

_PERSONAL = (
    "answer",
    "heater",
    "service_record",
    "join_candidate",
    "home",
    "event",
    "visit",
    "offer_reply",
    "contact_note",
    "difference",
)
_OF_A_HOME = (
    tables.EVENT,
    tables.VISIT,
    tables.CONTACT_NOTE,
    tables.OFFER_REPLY,
    tables.PLATE_PHOTO,
    tables.HEATER,
)
# Secrets, photos, and plans and numbers of many homes at once: the act is logged, never the content.
_NOT_LOGGED = {"plate_photo", "account", "access_code", "invitation", "service_plan", "purchase_plan", "sheet"}


def taken_back_by(home_id: str) -> str:
    """Why an answer is for no home any more: its own people took it back. They may bring it back, or delete it."""
    return f"Taken back by the people of home {home_id}."


class UndoConflict(SurveyError, ValueError):
    """What an entry of the log left is not there any more; the message says what to do."""


class Changes(Reading):
    """The open transaction of :meth:`Store.writing`: a reading of what it has changed so far."""

    def __init__(
        self, connection: sa.Connection, state: CommunityState, *, who: str, action: str, at: datetime
    ) -> None:
        super().__init__(connection, state)
        self._who, self._action, self._at = who, action, at
        self._entries: list[dict[str, Any]] = []

    def log(self, subject_kind: str, subject_id: str, before: Any = None, after: Any = None) -> None:
        """Write one entry of the change log."""
        self._entries.append(self._entry(subject_kind, subject_id, before, after))

    def _entry(self, subject_kind: str, subject_id: str, before: Any, after: Any) -> dict[str, Any]:
        return {
            "at": self._at,
            "who": self._who,
            "action": self._action,
            "subject_kind": subject_kind,
            "subject_id": subject_id,
            "before": before,
            "after": after,
        }

    def write_log(self) -> None:
        """Write the entries that wait, all at once; :meth:`Store.writing` does it at the end."""
        if self._entries:
            self._connection.execute(sa.insert(tables.CHANGE_LOG.table), self._entries)
            self._entries = []

    def _log_is_whole(self) -> None:
        self.write_log()

    def put(self, records: Sequence[Any], *, over: Iterable[Any] | None = None) -> int:
        """Insert records of one kind, or update them by their key; unchanged ones are left alone.

        Parameters
        ----------
        records
            All of one type; each type has its table.
        over
            The records with these keys as this transaction has read them; None looks them up.

        Returns
        -------
        int
            How many were new or changed.
        """
        if not records:
            return 0
        kept = tables.KEPT_BY_RECORD[type(records[0])]
        before = None if over is None else {_key(kept, row): row for row in map(kept.row, over)}
        return self._put_rows(kept, [kept.row(record) for record in records], before)

    def _put_rows(
        self, kept: Kept[Any], new_rows: Sequence[Row], before: Mapping[tuple[Any, ...], Row] | None = None
    ) -> int:
        if not new_rows:
            return 0
        there = dict(self._existing(kept, new_rows) if before is None else before)
        inserts: list[dict[str, Any]] = []
        updates: list[dict[str, Any]] = []
        for new in new_rows:
            key = _key(kept, new)
            old = there.get(key)
            if old is None:
                inserts.append(dict(new))
            elif any(old[name] != value for name, value in new.items()):
                updates.append({**old, **new})
            else:
                continue
            if kept.table.name not in _NOT_LOGGED:
                changed = {n: v for n, v in new.items() if old is None or old[n] != v}
                self.log(
                    kept.table.name,
                    "/".join(map(str, key)),
                    None if old is None else _for_log({n: old[n] for n in changed}),
                    _for_log(changed),
                )
            there[key] = dict(new)
        if inserts:
            self._connection.execute(sa.insert(kept.table), inserts)
        if updates:
            statement = sa.update(kept.table).where(*[kept.c[k] == sa.bindparam(f"key_{k}") for k in kept.keys])
            self._connection.execute(statement, [{**row, **{f"key_{k}": row[k] for k in kept.keys}} for row in updates])
        return len(inserts) + len(updates)

    def _existing(self, kept: Kept[Any], new_rows: Sequence[Row]) -> dict[tuple[Any, ...], Row]:
        first = kept.keys[0]
        found: dict[tuple[Any, ...], Row] = {}
        for chunk in chunks(sorted({row[first] for row in new_rows})):
            found |= self._by_key(kept, kept.c[first].in_(chunk))
        return found

    def _by_key(self, kept: Kept[Any], *where: sa.ColumnElement[bool]) -> dict[tuple[Any, ...], Row]:
        found = self._connection.execute(sa.select(kept.table).where(*where)).mappings()
        return {_key(kept, row): row for row in map(dict, found)}

    def put_back(
        self, kind: str, subject_id: str, left: Mapping[str, Any] | None, back: Mapping[str, Any] | None
    ) -> None:
        """Undo one entry of the log: where the row still is as the entry left it, make it what it was.

        Parameters
        ----------
        kind, subject_id
            The table and the row, as the log names them.
        left, back
            The columns as the entry left them and as they were, in the log's own types; None: no row.

        Raises
        ------
        UndoConflict
            When the row has been changed since, or what it belongs to is gone.
        """
        kept = tables.KEPT_BY_TABLE[kind]
        keys = kept.keys
        where = dict(zip(keys, subject_id.split("/", len(keys) - 1), strict=True))
        there = self._by_key(kept, *(kept.c[k] == v for k, v in where.items()))
        now = next((_for_log(row) for row in there.values()), None)
        same = now is None if left is None else now is not None and all(now[k] == v for k, v in left.items())
        if not same:
            raise UndoConflict("Something in it has been changed since. Undo the later change first.")
        if back is None:
            self._delete(kept, list(there.values()))
            return
        row = {**where, **{k: _from_log(kept.c[k], v) for k, v in back.items()}}
        try:
            with self._connection.begin_nested():
                self._put_rows(kept, [row])
        except sa.exc.IntegrityError:
            raise UndoConflict("What it belongs to is not on file any more, so it cannot be put back.") from None

    def count(self, record: type, column: str, value: Any) -> int:
        """How many records have this value, as this transaction sees them."""
        table = tables.KEPT_BY_RECORD[record].table
        query = sa.select(sa.func.count()).select_from(table).where(table.c[column] == value)
        return int(self._connection.execute(query).scalar_one())

    def drop(self, record: type, column: str, values: Iterable[Any]) -> int:
        """Delete the records of a kind whose `column` is one of `values`; their contents go to the change log."""
        kept = tables.KEPT_BY_RECORD[record]
        gone = 0
        for chunk in chunks(sorted(set(values))):
            doomed = list(self._by_key(kept, kept.c[column].in_(chunk)).values())
            self._delete(kept, doomed)
            gone += len(doomed)
        return gone

    def _delete(self, kept: Kept[Any], doomed: Sequence[Row]) -> None:
        if not doomed:
            return
        self._connection.execute(
            sa.delete(kept.table).where(*[kept.c[k] == sa.bindparam(f"key_{k}") for k in kept.keys]),
            [{f"key_{k}": row[k] for k in kept.keys} for row in doomed],
        )
        if kept.table.name not in _NOT_LOGGED:
            for row in doomed:
                self.log(kept.table.name, "/".join(str(row[k]) for k in kept.keys), _for_log(row), None)

    def forget_home(self, home_id: str) -> int:
        """Remove what people told about a home: answers, heaters, acts, and their contents in the change log.

        The home itself stays, as the county has it. The log keeps that something was changed and when,
        never what.

        Returns
        -------
        int
            How many answers were removed.
        """
        self.write_log()
        c = self._connection
        waiting = sa.select(tables.JOIN_CANDIDATE.c.answer_id).where(tables.JOIN_CANDIDATE.c.home_id == home_id)
        mine = (tables.ANSWER.c.home_id == home_id) | (
            tables.ANSWER.c.home_id.is_(None) & tables.ANSWER.c.answer_id.in_(waiting)
        )
        # An answer that may be for several homes is somebody else's too: only what waits for this one goes.
        others = sa.select(tables.JOIN_CANDIDATE.c.answer_id).where(tables.JOIN_CANDIDATE.c.home_id != home_id)
        doomed = sa.select(tables.ANSWER.c.answer_id).where(
            mine & ((tables.ANSWER.c.home_id == home_id) | tables.ANSWER.c.answer_id.not_in(others))
        )
        answers = sorted({r[0] for r in c.execute(doomed)} | self._set_aside_from(home_id))
        mine_ids = set(answers)
        events = {r[0] for r in c.execute(sa.select(tables.EVENT.c.event_id).where(tables.EVENT.c.home_id == home_id))}
        of_home = sa.select(tables.HEATER.c.heater_id).where(tables.HEATER.c.home_id == home_id)
        logged = sa.select(tables.CHANGE_LOG.c.subject_kind, tables.CHANGE_LOG.c.subject_id).where(
            tables.CHANGE_LOG.c.subject_kind.in_(_PERSONAL)
        )
        told = {
            (kind, subject)
            for kind, subject in c.execute(logged.distinct())
            if subject == home_id
            or (kind == "answer" and subject in mine_ids)
            or (kind == "heater" and subject.rpartition("/heater-")[0] == home_id)
            or (kind in ("service_record", "join_candidate") and subject.partition("/")[0] in mine_ids | events)
            or (kind == "event" and subject in events)
            or (kind == "offer_reply" and subject == home_id)
            or (kind == "visit" and subject.partition("/")[2] == home_id)
        }
        notes = tables.CONTACT_NOTE.c
        told |= {("contact_note", n) for (n,) in c.execute(sa.select(notes.note_id).where(notes.home_id == home_id))}
        for chunk in chunks(answers):
            c.execute(sa.delete(tables.JOIN_CANDIDATE.table).where(tables.JOIN_CANDIDATE.c.answer_id.in_(chunk)))
        c.execute(sa.delete(tables.SERVICE_RECORD.table).where(tables.SERVICE_RECORD.c.heater_id.in_(of_home)))
        for kept in _OF_A_HOME:
            c.execute(sa.delete(kept.table).where(kept.c.home_id == home_id))
        for plans, parts in ((tables.SERVICE_PLAN, ("asked", "planned")), (tables.PURCHASE_PLAN, ("asked", "formed"))):
            for plan in c.execute(sa.select(plans.table)).mappings().all():
                left = {part: _without_home(plan[part], home_id) for part in parts}
                if left != {part: plan[part] for part in parts}:
                    c.execute(sa.update(plans.table).where(plans.c.plan_id == plan["plan_id"]).values(**left))
        for chunk in chunks(answers):
            c.execute(sa.delete(tables.ANSWER.table).where(tables.ANSWER.c.answer_id.in_(chunk)))
        c.execute(
            sa.update(tables.HOME.table)
            .where(tables.HOME.c.home_id == home_id)
            .values(moved_in_earliest=None, moved_in_latest=None, softener="not sure")
        )
        for kind, subject in sorted(told):
            c.execute(
                sa.update(tables.CHANGE_LOG.table)
                .where((tables.CHANGE_LOG.c.subject_kind == kind) & (tables.CHANGE_LOG.c.subject_id == subject))
                .values(before=sa.null(), after=sa.null())
            )
        self.log("home", home_id)
        return len(answers)

    def _set_aside_from(self, home_id: str) -> set[str]:
        """Answers that count for nothing now, whoever set them aside, and counted for this home before."""
        aside = sa.select(tables.ANSWER.c.answer_id).where(tables.ANSWER.c.home_id.is_(None))
        before = self.homes_before([r[0] for r in self._connection.execute(aside)])
        return {answer_id for answer_id, (home, _) in before.items() if home == home_id}

    def put_streets(self, lines: Sequence[tuple[str, str, bytes]]) -> int:
        """Replace the street lines."""
        self._connection.execute(sa.delete(tables.STREET.table))
        new = [StreetLine(street_id=i, name=n, kind=k, line_wkb=w) for i, (n, k, w) in enumerate(lines, start=1)]
        return self.put(new, over=())

    def put_histories(
        self,
        home_ids: Iterable[str],
        heaters: Sequence[Heater],
        services: Sequence[ServiceRecord],
        *,
        over: tuple[Sequence[Heater], Sequence[ServiceRecord]] | None = None,
    ) -> None:
        """Put what is known of homes' heaters in the place of what was, changing only what differs.

        Parameters
        ----------
        home_ids, heaters, services
            Homes, all their heaters, and all acts on them.
        over
            Those homes' heaters and acts as this transaction has read them, and any act of the same name elsewhere;
            None looks them up.
        """
        heater, service = tables.HEATER, tables.SERVICE_RECORD
        if over is None:
            homes = set(home_ids)
            over = self.heaters_of(homes), self.services_of(homes, or_named=[s.record_id for s in services])
        keep_heaters = {h.heater_id for h in heaters}
        keep_services = {s.record_id for s in services}
        # An act may go over to another heater of the home: the new one is there before, the old one until after.
        self._delete(service, [service.row(s) for s in over[1] if s.record_id not in keep_services])
        self.put(heaters, over=over[0])
        self.put(services, over=over[1])
        self._delete(heater, [heater.row(h) for h in over[0] if h.heater_id not in keep_heaters])

    def drop_visits(self, plan_id: str, home_ids: Sequence[str]) -> None:
        """Take homes off a plan that were not visited yet; the act is logged with the plan."""
        for chunk in chunks(sorted(home_ids)):
            mine = (tables.VISIT.c.plan_id == plan_id) & tables.VISIT.c.home_id.in_(chunk)
            self._connection.execute(sa.delete(tables.VISIT.table).where(mine))

    def drop_access_codes(self, home_ids: Sequence[str]) -> int:
        """Take back the private codes of homes."""
        return self.drop(AccessCode, "home_id", home_ids)

    def drop_sheets(self, home_ids: Iterable[str]) -> int:
        """Forget the numbers of homes' letters."""
        return self.drop(Sheet, "home_id", home_ids)

    def set_reading(self, version: int) -> None:
        """Note which reading of the answers the stored heaters and acts follow; 0 for several."""
        self._state = replace(self.state(), reading_version=version)
        self._connection.execute(sa.update(tables.COMMUNITY.table).values(reading_version=version))

    def set_community(self, **values: Any) -> None:
        """Change the community's row: name, synthetic, open_doors, local_epsg, settings."""
        old = tables.COMMUNITY.row(self.state())
        changed = {name: value for name, value in values.items() if old[name] != value}
        if changed:
            self._state = None
            self._connection.execute(sa.update(tables.COMMUNITY.table).values(**changed))
            self.log("community", "1", _for_log({n: old[n] for n in changed}), _for_log(changed))


def _without_home(content: Any, home_id: str) -> Any:
    """Plain data without the entries that are about one home: list items that name it, and keys that are it."""
    if isinstance(content, dict):
        return {k: _without_home(v, home_id) for k, v in content.items() if k != home_id}
    if isinstance(content, list):
        return [
            _without_home(v, home_id)
            for v in content
            if v != home_id and not (isinstance(v, dict) and home_id in (v.get("home_id"), v.get("stop_id")))
        ]
    return content


def _key(kept: Kept[Any], row: Row) -> tuple[Any, ...]:
    return tuple(row[k] for k in kept.keys)


def _from_log(column: sa.Column[Any], value: Any) -> Any:
    """A value of the log in the type of its column."""
    if isinstance(value, str) and isinstance(column.type, sa.DateTime):
        return datetime.fromisoformat(value)
    if isinstance(value, str) and isinstance(column.type, sa.Date):
        return date.fromisoformat(value)
    return value


def _for_log(row: Mapping[str, Any]) -> dict[str, Any]:
    """A row in JSON's types; geometry as a digest, since the log is for people."""
    out: dict[str, Any] = {}
    for name, value in row.items():
        if isinstance(value, bytes):
            out[name] = "sha256:" + hashlib.sha256(value).hexdigest()[:16]
        elif isinstance(value, date):
            out[name] = value.isoformat()
        else:
            out[name] = value
    return out
