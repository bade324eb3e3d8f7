"""The database: one data folder, one transaction a write, every change logged.

SQLite in the data folder is the default and needs no server; a SQLAlchemy URL
opens any other database that SQLAlchemy speaks to. Only :mod:`survey_app.survey`
imports this package, so nothing goes round access control.
"""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

import sqlalchemy as sa
from alembic import command
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from survey_app.records import Answer, Community, Event, Heater, Home, Parcel, Phase, ServiceRecord
from survey_app.store import rows, tables

__all__ = ["Changes", "CommunityState", "Store", "StoredAnswer", "UnusableData", "taken_back_by"]

DATABASE_FILE = "survey.sqlite"
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
# Secrets, and plans that name many homes at once: the act is logged, never the content.
_NOT_LOGGED = {"account", "access_code", "invitation", "service_plan", "purchase_plan"}


def taken_back_by(home_id: str) -> str:
    """Why an answer is for no home any more: its own people took it back. They may bring it back, or delete it."""
    return f"Taken back by the people of home {home_id}."


class UnusableData(ValueError):
    """A data folder or database that cannot be opened; the message says what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CommunityState:
    """The community's one row: what it is and how fresh its data are."""

    community: Community
    open_doors: bool
    settings: str
    data_version: int
    changed_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredAnswer:
    """An answer and how it was joined to its home."""

    answer: Answer
    join_state: str
    join_why: str


class Store:
    """A survey's records in one database.

    Use :meth:`open`. Reads are plain methods returning records; writes go
    through :meth:`writing`, which is one transaction.
    """

    def __init__(self, engine: sa.Engine, folder: Path | None) -> None:
        self._engine = engine
        self.folder = folder
        self._gate = threading.Lock()

    # ---- opening -------------------------------------------------------

    @classmethod
    def open(cls, place: str | Path) -> Store:
        """Open a data folder (made when absent) or a SQLAlchemy URL, and bring its tables up to date.

        Raises
        ------
        UnusableData
            When the place cannot be used, with what to do about it.
        """
        text = str(place)
        folder: Path | None = None
        if "://" in text:
            url = text
        else:
            folder = Path(text).expanduser()
            if folder.exists() and not folder.is_dir():
                raise UnusableData(
                    f"{folder} is a file, not a data folder. Name a folder, or one that does not exist yet."
                )
            try:
                folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            except OSError as error:
                raise UnusableData(
                    f"The data folder {folder} cannot be made: {error.strerror}. Choose another with --data."
                ) from None
            url = f"sqlite:///{folder / DATABASE_FILE}"
        try:
            # Many residents at once must not wait for, or open and close, connections.
            in_memory = sa.make_url(url).database in (None, "", ":memory:")
            engine = sa.create_engine(url) if in_memory else sa.create_engine(url, pool_size=20, max_overflow=60)
        except (sa.exc.ArgumentError, ModuleNotFoundError) as error:
            raise UnusableData(f"'{text}' is not a database this tool can open: {error}") from None
        if engine.dialect.name == "sqlite":
            _prepare_sqlite(engine)
        store = cls(engine, folder)
        try:
            store._upgrade()
        except sa.exc.DatabaseError as error:
            engine.dispose()
            raise UnusableData(
                f"The database in {text} cannot be read ({error.orig}). "
                "If a backup exists, restore it into a new folder and name that with --data."
            ) from None
        return store

    def _upgrade(self) -> None:
        config = Config()
        config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
        steps = ScriptDirectory.from_config(config)
        head = steps.get_current_head()
        with self._engine.connect() as connection:
            current = MigrationContext.configure(connection).get_current_revision()
        if current is not None and current not in {s.revision for s in steps.walk_revisions()}:
            self.close()
            raise UnusableData(
                "These records were written by a later version of this tool. Install that version first."
            )
        if current != head:
            with self._engine.begin() as connection:
                config.attributes["connection"] = connection
                command.upgrade(config, "head")
        with self._engine.begin() as connection:
            if connection.execute(sa.select(tables.community.c.id)).first() is None:
                connection.execute(
                    sa.insert(tables.community).values(
                        id=1,
                        name="Our community",
                        synthetic=False,
                        open_doors=False,
                        local_epsg=None,
                        settings="",
                        data_version=0,
                        changed_at=datetime(1970, 1, 1),
                    )
                )

    def close(self) -> None:
        """Let go of the database."""
        self._engine.dispose()

    # ---- reading -------------------------------------------------------

    def _all(self, query: sa.Select[Any]) -> list[dict[str, Any]]:
        with self._engine.connect() as connection:
            return [dict(row) for row in connection.execute(query).mappings()]

    def state(self) -> CommunityState:
        """The community, its settings and the data version."""
        row = self._all(sa.select(tables.community))[0]
        return CommunityState(
            community=Community(name=row["name"], synthetic=row["synthetic"], local_epsg=row["local_epsg"]),
            open_doors=row["open_doors"],
            settings=row["settings"],
            data_version=row["data_version"],
            changed_at=row["changed_at"],
        )

    def phases(self) -> list[Phase]:
        """Every phase, in order of name."""
        return [rows.phase_from(r) for r in self._all(sa.select(tables.phase).order_by(tables.phase.c.phase_id))]

    def parcels(self, home_id: str | None = None) -> list[Parcel]:
        """Every parcel, or the one that holds `home_id`."""
        query = sa.select(tables.parcel).order_by(tables.parcel.c.parcel_id)
        if home_id is not None:
            query = query.join(tables.home).where(tables.home.c.home_id == home_id)
        return [rows.parcel_from(r) for r in self._all(query)]

    def streets(self) -> list[tuple[str, str, bytes]]:
        """Every street line: name, kind, well-known binary in WGS 84."""
        query = sa.select(tables.street).order_by(tables.street.c.street_id)
        return [(r["name"], r["kind"], r["line_wkb"]) for r in self._all(query)]

    def homes(self, home_id: str | None = None) -> list[Home]:
        """Every home, or one."""
        query = sa.select(tables.home).order_by(tables.home.c.home_id)
        if home_id is not None:
            query = query.where(tables.home.c.home_id == home_id)
        return [rows.home_from(r) for r in self._all(query)]

    def heaters(self, home_id: str | None = None) -> list[Heater]:
        """Every heater, oldest first in each home, or those of one home."""
        query = sa.select(tables.heater).order_by(tables.heater.c.home_id, tables.heater.c.sequence)
        if home_id is not None:
            query = query.where(tables.heater.c.home_id == home_id)
        return [rows.heater_from(r) for r in self._all(query)]

    def services(self, home_id: str | None = None) -> list[ServiceRecord]:
        """Every service record, or those of one home."""
        query = sa.select(tables.service_record).order_by(
            tables.service_record.c.done_latest, tables.service_record.c.record_id
        )
        if home_id is not None:
            query = query.join(tables.heater).where(tables.heater.c.home_id == home_id)
        return [rows.service_from(r) for r in self._all(query)]

    def answers(
        self, *, home_ids: Iterable[str] | None = None, join_state: str | None = None, answer_id: str | None = None
    ) -> list[StoredAnswer]:
        """Answers in the order they were given, narrowed as asked."""
        query = sa.select(tables.answer).order_by(
            tables.answer.c.answered_on, tables.answer.c.submitted_at, tables.answer.c.answer_id
        )
        if join_state is not None:
            query = query.where(tables.answer.c.join_state == join_state)
        if answer_id is not None:
            query = query.where(tables.answer.c.answer_id == answer_id)
        found: list[dict[str, Any]] = []
        if home_ids is None:
            found.extend(self._all(query))
        else:
            for chunk in _chunks(sorted(set(home_ids))):
                found.extend(self._all(query.where(tables.answer.c.home_id.in_(chunk))))
        return [
            StoredAnswer(answer=rows.answer_from(r), join_state=r["join_state"], join_why=r["join_why"]) for r in found
        ]

    def answered_homes(self) -> frozenset[str]:
        """The homes that at least one answer is joined to."""
        query = sa.select(tables.answer.c.home_id).where(tables.answer.c.home_id.is_not(None)).distinct()
        return frozenset(r["home_id"] for r in self._all(query))

    def how_many(self) -> tuple[int, int]:
        """How many homes there are, and how many an answer is joined to."""
        joined = sa.func.count(tables.answer.c.home_id.distinct())
        homes, answered = sa.select(sa.func.count()).select_from(tables.home), sa.select(joined)
        with self._engine.connect() as connection:
            return connection.execute(homes).scalar_one(), connection.execute(answered).scalar_one()

    def events(self, home_id: str | None = None) -> list[Event]:
        """What crews and volunteers did, oldest first; of one home if asked."""
        query = sa.select(tables.event).order_by(tables.event.c.on_date, tables.event.c.event_id)
        if home_id is not None:
            query = query.where(tables.event.c.home_id == home_id)
        return [rows.event_from(r) for r in self._all(query)]

    def service_plans(self, plan_id: str | None = None) -> list[dict[str, Any]]:
        """Every service plan, newest first, or one."""
        query = sa.select(tables.service_plan).order_by(
            tables.service_plan.c.made_at.desc(), tables.service_plan.c.plan_id
        )
        if plan_id is not None:
            query = query.where(tables.service_plan.c.plan_id == plan_id)
        return self._all(query)

    def visits(self, plan_id: str | None = None) -> list[dict[str, Any]]:
        """The visits of one service plan, or of all."""
        query = sa.select(tables.visit).order_by(tables.visit.c.plan_id, tables.visit.c.home_id)
        if plan_id is not None:
            query = query.where(tables.visit.c.plan_id == plan_id)
        return self._all(query)

    def contact_notes(self) -> list[dict[str, Any]]:
        """Every attempt to reach a home, oldest first."""
        return self._all(
            sa.select(tables.contact_note).order_by(tables.contact_note.c.on_date, tables.contact_note.c.note_id)
        )

    def home_before(self, answer_id: str) -> tuple[str, datetime] | None:
        """The home an answer was joined to before it was last set aside, and when that was; None where none was."""
        log = tables.change_log
        query = (
            sa.select(log)
            .where((log.c.subject_kind == "answer") & (log.c.subject_id == answer_id))
            .order_by(log.c.change_id.desc())
        )
        for row in self._all(query):
            before = (row["before"] or {}).get("home_id")
            if before:
                return str(before), row["at"]
        return None

    def bids(self) -> list[dict[str, Any]]:
        """Every bid on file, by contractor."""
        return self._all(sa.select(tables.bid).order_by(tables.bid.c.contractor))

    def purchase_plans(self, *, limit: int | None = None) -> list[dict[str, Any]]:
        """Formings of rounds, newest first."""
        query = sa.select(tables.purchase_plan).order_by(
            tables.purchase_plan.c.made_at.desc(), tables.purchase_plan.c.plan_id
        )
        return self._all(query.limit(limit))

    def offer_replies(self, home_id: str | None = None) -> list[dict[str, Any]]:
        """What homes said to their offer, or one home's word."""
        query = sa.select(tables.offer_reply).order_by(tables.offer_reply.c.home_id)
        if home_id is not None:
            query = query.where(tables.offer_reply.c.home_id == home_id)
        return self._all(query)

    def homes_with_history(self) -> frozenset[str]:
        """Homes that something is on file for: an answer, an event or a visit."""
        found: set[str] = set(self.answered_homes())
        for table in (tables.event, tables.visit, tables.offer_reply, tables.contact_note):
            found |= {r["home_id"] for r in self._all(sa.select(table.c.home_id).distinct())}
        return frozenset(found)

    def candidates(self) -> list[dict[str, Any]]:
        """The homes each doubtful answer may belong to, best first."""
        query = (
            sa.select(tables.join_candidate, tables.home.c.address)
            .join(tables.home)
            .order_by(tables.join_candidate.c.answer_id, tables.join_candidate.c.score.desc(), tables.home.c.home_id)
        )
        return [dict(r) for r in self._all(query)]

    def changes(self, *, limit: int = 200) -> list[dict[str, Any]]:
        """The newest entries of the change log."""
        query = sa.select(tables.change_log).order_by(tables.change_log.c.change_id.desc()).limit(limit)
        return [dict(r) for r in self._all(query)]

    def settled_differences(self) -> dict[str, list[str]]:
        """Homes whose different answers somebody decided to leave, with the answers that were there then."""
        log = tables.change_log
        query = sa.select(log.c.subject_id, log.c.after).where(log.c.subject_kind == "difference")
        newest = {r["subject_id"]: r["after"] for r in self._all(query.order_by(log.c.change_id))}
        return {home_id: list(after) for home_id, after in newest.items() if after}

    def last_change(self, action: str) -> datetime | None:
        """When something was last done that the change log calls `action`; None when never."""
        with self._engine.connect() as connection:
            newest = sa.select(sa.func.max(tables.change_log.c.at)).where(tables.change_log.c.action == action)
            found: datetime | None = connection.execute(newest).scalar_one()
        return found

    def account(self, name: str) -> dict[str, Any] | None:
        """An account by name."""
        found = self._all(sa.select(tables.account).where(tables.account.c.name == name))
        return dict(found[0]) if found else None

    def account_names(self) -> list[tuple[str, str]]:
        """Every account's name and role."""
        query = sa.select(tables.account.c.name, tables.account.c.role).order_by(tables.account.c.name)
        return [(r["name"], r["role"]) for r in self._all(query)]

    def access_code(self, locator: str) -> dict[str, Any] | None:
        """A private code's row by its public first part."""
        found = self._all(sa.select(tables.access_code).where(tables.access_code.c.locator == locator))
        return dict(found[0]) if found else None

    # ---- writing -------------------------------------------------------

    @contextmanager
    def writing(self, *, who: str, action: str, at: datetime) -> Iterator[Changes]:
        """One transaction: all of it is stored, with its entries in the change log, or none.

        Parameters
        ----------
        who, action, at
            What the change log says of it.
        """
        # Writers of this process wait here in turn: SQLite's own waiting polls, and some would starve.
        with (
            self._gate,
            self._engine.connect().execution_options(writing=True) as connection,
            connection.begin(),
        ):
            # First of all, so that a second writer waits here on any database.
            connection.execute(
                sa.update(tables.community).values(data_version=tables.community.c.data_version + 1, changed_at=at)
            )
            yield Changes(connection, who=who, action=action, at=at)

    @contextmanager
    def writing_apart(self) -> Iterator[sa.Connection]:
        """One transaction for what is no part of the data: neither their version nor the change log moves."""
        with (
            self._gate,
            self._engine.connect().execution_options(writing=True) as connection,
            connection.begin(),
        ):
            # SQLite has taken its write lock already; any other database makes the second comer wait here.
            connection.execute(sa.select(tables.community.c.id).with_for_update())
            yield connection


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
        for chunk in _chunks(sorted({row[keys[0]] for row in new_rows})):
            for row in self._connection.execute(sa.select(table).where(first.in_(chunk))).mappings():
                found[tuple(row[k] for k in keys)] = dict(row)
        return found

    def drop(self, table: sa.Table, column: str, values: Iterable[Any], *, keep: Iterable[str] = ()) -> int:
        """Delete the rows whose `column` is one of `values`, but those whose primary key is in `keep`.

        The rows' contents go to the change log.
        """
        kept = set(keep)
        keys = [c.name for c in table.primary_key]
        gone = 0
        for chunk in _chunks(sorted(set(values))):
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
            (mine & ((tables.answer.c.home_id == home_id) | tables.answer.c.answer_id.not_in(others)))
            | (tables.answer.c.home_id.is_(None) & (tables.answer.c.join_why == taken_back_by(home_id)))
        )
        answers = [r[0] for r in c.execute(doomed)]
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
        for chunk in _chunks(answers):
            c.execute(sa.delete(tables.join_candidate).where(tables.join_candidate.c.answer_id.in_(chunk)))
        c.execute(sa.delete(tables.event).where(tables.event.c.home_id == home_id))
        c.execute(sa.delete(tables.visit).where(tables.visit.c.home_id == home_id))
        noted = sa.select(tables.contact_note.c.note_id).where(tables.contact_note.c.home_id == home_id)
        for (note_id,) in c.execute(noted).all():
            told.add(("contact_note", note_id))
        c.execute(sa.delete(tables.contact_note).where(tables.contact_note.c.home_id == home_id))
        c.execute(sa.delete(tables.offer_reply).where(tables.offer_reply.c.home_id == home_id))
        for table, parts in ((tables.service_plan, ("asked", "planned")), (tables.purchase_plan, ("asked", "formed"))):
            for plan in c.execute(sa.select(table)).mappings().all():
                left = {part: _without_home(plan[part], home_id) for part in parts}
                if left != {part: plan[part] for part in parts}:
                    c.execute(sa.update(table).where(table.c.plan_id == plan["plan_id"]).values(**left))
        c.execute(sa.delete(tables.service_record).where(tables.service_record.c.heater_id.in_(of_home)))
        c.execute(sa.delete(tables.heater).where(tables.heater.c.home_id == home_id))
        for chunk in _chunks(answers):
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
            for chunk in _chunks(home_ids)
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
            for chunk in _chunks(sorted(set(home_ids)))
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
        for chunk in _chunks(sorted(home_ids)):
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

    def set_community(self, **values: Any) -> None:
        """Change the community's row: name, synthetic, open_doors, local_epsg, settings."""
        old = self._connection.execute(sa.select(tables.community)).mappings().one()
        changed = {name: value for name, value in values.items() if old[name] != value}
        if changed:
            self._connection.execute(sa.update(tables.community).values(**changed))
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


def _chunks(values: Sequence[Any]) -> Iterator[Sequence[Any]]:
    for start in range(0, len(values), _CHUNK):
        yield values[start : start + _CHUNK]


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


def _prepare_sqlite(engine: sa.Engine) -> None:
    """Foreign keys on, write-ahead log, and writers that queue instead of failing."""

    @sa.event.listens_for(engine, "connect")
    def _connect(raw: Any, _record: Any) -> None:
        raw.isolation_level = None  # we begin transactions ourselves, below
        cursor = raw.cursor()
        cursor.execute("PRAGMA foreign_keys = ON")
        cursor.execute("PRAGMA journal_mode = WAL")
        cursor.execute("PRAGMA synchronous = NORMAL")
        cursor.execute("PRAGMA busy_timeout = 15000")
        cursor.execute("PRAGMA secure_delete = ON")  # what a resident deletes is overwritten, not only unlinked
        cursor.close()

    @sa.event.listens_for(engine, "begin")
    def _begin(connection: sa.Connection) -> None:
        # A writer that starts as a reader can deadlock with another: take the write lock at once.
        immediate = connection.get_execution_options().get("writing")
        connection.exec_driver_sql("BEGIN IMMEDIATE" if immediate else "BEGIN")
