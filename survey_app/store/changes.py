"""One open transaction: what is put, dropped and forgotten, each with its entry in the change log."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import sqlalchemy as sa

from survey_app.errors import SurveyError
from survey_app.records import Answer, Event, Heater, Home, Parcel, Phase, ServiceRecord
from survey_app.store import rows, tables

__all__ = ["Changes", "StoredAnswer", "UndoConflict", "chunks", "homes_before", "taken_back_by"]

_CHUNK = 400  # keys in one IN (...): below every database's limit on parameters
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
# Secrets, photos, and plans and numbers of many homes at once: the act is logged, never the content.
_NOT_LOGGED = {"plate_photo", "account", "access_code", "invitation", "service_plan", "purchase_plan", "sheet"}


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredAnswer:
    """An answer and how it was joined to its home."""

    answer: Answer
    join_state: str
    join_why: str


def taken_back_by(home_id: str) -> str:
    """Why an answer is for no home any more: its own people took it back. They may bring it back, or delete it."""
    return f"Taken back by the people of home {home_id}."


class UndoConflict(SurveyError, ValueError):
    """What an entry of the log left is not there any more; the message says what to do."""


class Changes:
    """The open transaction of :meth:`Store.writing`."""

    def __init__(self, connection: sa.Connection, *, who: str, action: str, at: datetime) -> None:
        self._connection = connection
        self._who, self._action, self._at = who, action, at

    def log(self, subject_kind: str, subject_id: str, before: Any = None, after: Any = None) -> None:
        """Write one entry of the change log."""
        self._connection.execute(sa.insert(tables.change_log), [self._entry(subject_kind, subject_id, before, after)])

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

    def put(self, table: sa.Table, new_rows: Sequence[Mapping[str, Any]]) -> int:
        """Insert or update rows by primary key; unchanged rows are left alone.

        Returns
        -------
        int
            How many rows were new or changed.
        """
        if not new_rows:
            return 0
        keys = [column.name for column in table.primary_key]
        before = self._existing(table, keys, new_rows)
        inserts: list[dict[str, Any]] = []
        updates: list[dict[str, Any]] = []
        entries: list[dict[str, Any]] = []
        for new in new_rows:
            key = tuple(new[k] for k in keys)
            old = before.get(key)
            if old is None:
                inserts.append(dict(new))
            elif any(old[name] != value for name, value in new.items()):
                updates.append({**old, **new})
            else:
                continue
            if table.name not in _NOT_LOGGED:
                changed = {n: v for n, v in new.items() if old is None or old[n] != v}
                entries.append(
                    self._entry(
                        table.name,
                        "/".join(str(part) for part in key),
                        None if old is None else _for_log({n: old[n] for n in changed}),
                        _for_log(changed),
                    )
                )
            before[key] = dict(new)
        if inserts:
            self._connection.execute(sa.insert(table), inserts)
        if updates:
            statement = sa.update(table).where(*[table.c[k] == sa.bindparam(f"key_{k}") for k in keys])
            self._connection.execute(statement, [{**row, **{f"key_{k}": row[k] for k in keys}} for row in updates])
        if entries:
            self._connection.execute(sa.insert(tables.change_log), entries)
        return len(inserts) + len(updates)

    def _existing(
        self, table: sa.Table, keys: Sequence[str], new_rows: Sequence[Mapping[str, Any]]
    ) -> dict[tuple[Any, ...], dict[str, Any]]:
        first = table.c[keys[0]]
        found: dict[tuple[Any, ...], dict[str, Any]] = {}
        for chunk in chunks(sorted({row[keys[0]] for row in new_rows})):
            for row in self._connection.execute(sa.select(table).where(first.in_(chunk))).mappings():
                found[tuple(row[k] for k in keys)] = dict(row)
        return found

    def put_back(
        self, table: sa.Table, subject_id: str, left: Mapping[str, Any] | None, back: Mapping[str, Any] | None
    ) -> None:
        """Undo one entry of the log: where the row still is as the entry left it, make it what it was.

        Parameters
        ----------
        table, subject_id
            The row, as the log names it.
        left, back
            The columns as the entry left them and as they were, in the log's own types; None: no row.

        Raises
        ------
        UndoConflict
            When the row has been changed since, or what it belongs to is gone.
        """
        keys = [column.name for column in table.primary_key]
        where = dict(zip(keys, subject_id.split("/", len(keys) - 1), strict=True))
        rows = self._connection.execute(sa.select(table).filter_by(**where)).mappings().all()
        now = _for_log(dict(rows[0])) if rows else None
        same = now is None if left is None else now is not None and all(now[k] == v for k, v in left.items())
        if not same:
            raise UndoConflict("Something in it has been changed since. Undo the later change first.")
        if back is None:
            self.drop(table, keys[0], [where[keys[0]]], keep=self._others(table, where))
            return
        row = {**where, **{k: _from_log(table.c[k], v) for k, v in back.items()}}
        try:
            with self._connection.begin_nested():
                self.put(table, [row])
        except sa.exc.IntegrityError:
            raise UndoConflict("What it belongs to is not on file any more, so it cannot be put back.") from None

    def _others(self, table: sa.Table, where: Mapping[str, Any]) -> list[str]:
        """The keys of other rows that share this row's first key column."""
        keys = list(table.primary_key)
        query = sa.select(*keys).where(keys[0] == where[keys[0].name])
        found = ["/".join(str(part) for part in row) for row in self._connection.execute(query)]
        return [key for key in found if key != "/".join(str(where[k.name]) for k in keys)]

    def count(self, table: sa.Table, column: str, value: Any) -> int:
        """How many rows have this value, as this transaction sees them."""
        query = sa.select(sa.func.count()).select_from(table).where(table.c[column] == value)
        return int(self._connection.execute(query).scalar_one())

    def drop(self, table: sa.Table, column: str, values: Iterable[Any], *, keep: Iterable[str] = ()) -> int:
        """Delete the rows whose `column` is one of `values`, but those whose primary key is in `keep`.

        The rows' contents go to the change log.
        """
        kept = set(keep)
        keys = [c.name for c in table.primary_key]
        gone = 0
        for chunk in chunks(sorted(set(values))):
            old = [
                dict(r) for r in self._connection.execute(sa.select(table).where(table.c[column].in_(chunk))).mappings()
            ]
            doomed = [row for row in old if "/".join(str(row[k]) for k in keys) not in kept]
            if not doomed:
                continue
            self._connection.execute(
                sa.delete(table).where(*[table.c[k] == sa.bindparam(f"key_{k}") for k in keys]),
                [{f"key_{k}": row[k] for k in keys} for row in doomed],
            )
            if table.name not in _NOT_LOGGED:
                self._connection.execute(
                    sa.insert(tables.change_log),
                    [
                        self._entry(table.name, "/".join(str(row[k]) for k in keys), _for_log(row), None)
                        for row in doomed
                    ],
                )
            gone += len(doomed)
        return gone

    def forget_home(self, home_id: str) -> int:
        """Remove what people told about a home: answers, heaters, acts, and their contents in the change log.

        The home itself stays, as the county has it. The log keeps that something was changed and when,
        never what.

        Returns
        -------
        int
            How many answers were removed.
        """
        c = self._connection
        waiting = sa.select(tables.join_candidate.c.answer_id).where(tables.join_candidate.c.home_id == home_id)
        mine = (tables.answer.c.home_id == home_id) | (
            tables.answer.c.home_id.is_(None) & tables.answer.c.answer_id.in_(waiting)
        )
        # An answer that may be for several homes is somebody else's too: only what waits for this one goes.
        others = sa.select(tables.join_candidate.c.answer_id).where(tables.join_candidate.c.home_id != home_id)
        doomed = sa.select(tables.answer.c.answer_id).where(
            mine & ((tables.answer.c.home_id == home_id) | tables.answer.c.answer_id.not_in(others))
        )
        answers = sorted({r[0] for r in c.execute(doomed)} | self._set_aside_from(home_id))
        mine_ids = set(answers)
        events = {r[0] for r in c.execute(sa.select(tables.event.c.event_id).where(tables.event.c.home_id == home_id))}
        of_home = sa.select(tables.heater.c.heater_id).where(tables.heater.c.home_id == home_id)
        logged = sa.select(tables.change_log.c.subject_kind, tables.change_log.c.subject_id).where(
            tables.change_log.c.subject_kind.in_(_PERSONAL)
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
        for chunk in chunks(answers):
            c.execute(sa.delete(tables.join_candidate).where(tables.join_candidate.c.answer_id.in_(chunk)))
        c.execute(sa.delete(tables.event).where(tables.event.c.home_id == home_id))
        c.execute(sa.delete(tables.visit).where(tables.visit.c.home_id == home_id))
        noted = sa.select(tables.contact_note.c.note_id).where(tables.contact_note.c.home_id == home_id)
        for (note_id,) in c.execute(noted).all():
            told.add(("contact_note", note_id))
        c.execute(sa.delete(tables.contact_note).where(tables.contact_note.c.home_id == home_id))
        c.execute(sa.delete(tables.offer_reply).where(tables.offer_reply.c.home_id == home_id))
        c.execute(sa.delete(tables.plate_photo).where(tables.plate_photo.c.home_id == home_id))
        for table, parts in ((tables.service_plan, ("asked", "planned")), (tables.purchase_plan, ("asked", "formed"))):
            for plan in c.execute(sa.select(table)).mappings().all():
                left = {part: _without_home(plan[part], home_id) for part in parts}
                if left != {part: plan[part] for part in parts}:
                    c.execute(sa.update(table).where(table.c.plan_id == plan["plan_id"]).values(**left))
        c.execute(sa.delete(tables.service_record).where(tables.service_record.c.heater_id.in_(of_home)))
        c.execute(sa.delete(tables.heater).where(tables.heater.c.home_id == home_id))
        for chunk in chunks(answers):
            c.execute(sa.delete(tables.answer).where(tables.answer.c.answer_id.in_(chunk)))
        c.execute(
            sa.update(tables.home)
            .where(tables.home.c.home_id == home_id)
            .values(moved_in_earliest=None, moved_in_latest=None, softener="not sure")
        )
        for kind, subject in sorted(told):
            c.execute(
                sa.update(tables.change_log)
                .where((tables.change_log.c.subject_kind == kind) & (tables.change_log.c.subject_id == subject))
                .values(before=sa.null(), after=sa.null())
            )
        self.log("home", home_id)
        return len(answers)

    def _set_aside_from(self, home_id: str) -> set[str]:
        """Answers that count for nothing now, whoever set them aside, and counted for this home before."""
        aside = sa.select(tables.answer.c.answer_id).where(tables.answer.c.home_id.is_(None))
        before = homes_before(self._connection, [r[0] for r in self._connection.execute(aside)])
        return {answer_id for answer_id, (home, _) in before.items() if home == home_id}

    def homes_of(self, home_ids: Sequence[str]) -> list[Home]:
        """These homes, as this transaction sees them."""
        return [rows.home_from(r) for r in self._rows_of(tables.home, home_ids)]

    def answers_of(self, home_ids: Sequence[str]) -> dict[str, list[Answer]]:
        """The answers joined to these homes, as this transaction sees them."""
        found: dict[str, list[Answer]] = {}
        for row in self._rows_of(tables.answer, home_ids):
            found.setdefault(row["home_id"], []).append(rows.answer_from(row))
        return found

    def events_of(self, home_ids: Sequence[str]) -> dict[str, list[Event]]:
        """What was done at these homes, as this transaction sees it."""
        found: dict[str, list[Event]] = {}
        for row in self._rows_of(tables.event, home_ids):
            found.setdefault(row["home_id"], []).append(rows.event_from(row))
        return found

    def put_events(self, events: Sequence[Event]) -> int:
        """Store what was done at homes."""
        return self.put(tables.event, [rows.event_row(e) for e in events])

    def _rows_of(self, table: sa.Table, home_ids: Sequence[str]) -> list[dict[str, Any]]:
        return [
            dict(row)
            for chunk in chunks(home_ids)
            for row in self._connection.execute(
                sa.select(table).where(table.c.home_id.in_(chunk)).order_by(*table.primary_key)
            ).mappings()
        ]

    def put_phases(self, phases: Sequence[Phase]) -> int:
        """Store phases."""
        return self.put(tables.phase, [rows.phase_row(p) for p in phases])

    def put_parcels(self, parcels: Sequence[Parcel]) -> int:
        """Store parcels."""
        return self.put(tables.parcel, [rows.parcel_row(p) for p in parcels])

    def put_streets(self, lines: Sequence[tuple[str, str, bytes]]) -> int:
        """Replace the street lines."""
        self._connection.execute(sa.delete(tables.street))
        return self.put(
            tables.street,
            [{"street_id": i, "name": n, "kind": k, "line_wkb": w} for i, (n, k, w) in enumerate(lines, start=1)],
        )

    def put_homes(self, homes: Sequence[Home]) -> int:
        """Store homes."""
        return self.put(tables.home, [rows.home_row(h) for h in homes])

    def put_answers(self, stored: Sequence[StoredAnswer]) -> int:
        """Store answers with how they were joined."""
        return self.put(
            tables.answer,
            [{**rows.answer_row(s.answer), "join_state": s.join_state, "join_why": s.join_why} for s in stored],
        )

    def put_candidates(self, found: Sequence[Mapping[str, Any]]) -> int:
        """Store the homes doubtful answers may belong to."""
        return self.put(tables.join_candidate, found)

    def put_histories(
        self, home_ids: Sequence[str], heaters: Sequence[Heater], services: Sequence[ServiceRecord]
    ) -> None:
        """Replace what is known of the heaters of `home_ids`, changing only what differs."""
        keep_heaters = [h.heater_id for h in heaters]
        old = [
            row[0]
            for chunk in chunks(sorted(set(home_ids)))
            for row in self._connection.execute(
                sa.select(tables.heater.c.heater_id).where(tables.heater.c.home_id.in_(chunk))
            )
        ]
        self.drop(tables.service_record, "heater_id", old, keep=[s.record_id for s in services])
        self.drop(tables.heater, "home_id", home_ids, keep=keep_heaters)
        self.put(tables.heater, [rows.heater_row(h) for h in heaters])
        self.put(tables.service_record, [rows.service_row(s) for s in services])

    def drop_visits(self, plan_id: str, home_ids: Sequence[str]) -> None:
        """Take homes off a plan that were not visited yet; the act is logged with the plan."""
        for chunk in chunks(sorted(home_ids)):
            mine = (tables.visit.c.plan_id == plan_id) & tables.visit.c.home_id.in_(chunk)
            self._connection.execute(sa.delete(tables.visit).where(mine))

    def put_account(self, row: Mapping[str, Any]) -> None:
        """Store an account; only the act is logged."""
        self.put(tables.account, [row])

    def put_access_codes(self, new_rows: Sequence[Mapping[str, Any]]) -> None:
        """Store private codes; only the act is logged."""
        self.put(tables.access_code, new_rows)

    def drop_access_codes(self, home_ids: Sequence[str]) -> int:
        """Take back the private codes of homes."""
        return self.drop(tables.access_code, "home_id", home_ids)

    def drop_sheets(self, home_ids: Iterable[str]) -> int:
        """Forget the numbers of homes' letters."""
        return self.drop(tables.sheet, "home_id", home_ids)

    def set_community(self, **values: Any) -> None:
        """Change the community's row: name, synthetic, open_doors, local_epsg, settings."""
        old = self._connection.execute(sa.select(tables.community)).mappings().one()
        changed = {name: value for name, value in values.items() if old[name] != value}
        if changed:
            self._connection.execute(sa.update(tables.community).values(**changed))
            self.log("community", "1", _for_log({n: old[n] for n in changed}), _for_log(changed))


def homes_before(connection: sa.Connection, answer_ids: Iterable[str]) -> dict[str, tuple[str, datetime]]:
    """The home each answer was last joined to before a change, by the change log, and when that change was."""
    log = tables.change_log.c
    last: dict[str, tuple[str, datetime]] = {}
    for chunk in chunks(sorted(set(answer_ids))):
        mine = (log.subject_kind == "answer") & log.subject_id.in_(chunk)
        query = sa.select(log.subject_id, log.before, log.at).where(mine).order_by(log.change_id)
        for answer_id, before, at in connection.execute(query):
            if before and before.get("home_id"):
                last[answer_id] = (str(before["home_id"]), at)
    return last


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


def chunks(values: Sequence[Any]) -> Iterator[Sequence[Any]]:
    """Keys in portions that one `IN (...)` of any database takes."""
    for start in range(0, len(values), _CHUNK):
        yield values[start : start + _CHUNK]


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
