"""The database: one data folder, one transaction a write, every change logged.

SQLite in the data folder is the default and needs no server; a SQLAlchemy URL
opens any other database that SQLAlchemy speaks to. Only :mod:`survey_app.survey`
imports this package, so nothing goes round access control.
"""

from __future__ import annotations

import threading
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

import sqlalchemy as sa
from alembic import command
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from survey_app.errors import SurveyError
from survey_app.records import Community, Event, Heater, Home, Parcel, Phase, ServiceRecord
from survey_app.store import rows, tables
from survey_app.store.changes import Changes, StoredAnswer, UndoConflict, chunks, homes_before, taken_back_by

__all__ = ["Changes", "CommunityState", "Store", "StoredAnswer", "UndoConflict", "UnusableData", "taken_back_by"]

DATABASE_FILE = "survey.sqlite"
_MOST_SUBJECTS = 300  # of one home: more answers than anybody gives


class UnusableData(SurveyError, ValueError):
    """A data folder or database that cannot be opened; the message says what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CommunityState:
    """The community's one row: what it is and how fresh its data are."""

    community: Community
    open_doors: bool
    settings: str
    data_version: int
    changed_at: datetime


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
            raise UnusableData(f"'{_without_password(text)}' is not a database this tool can open: {error}") from None
        if engine.dialect.name == "sqlite":
            _prepare_sqlite(engine)
        store = cls(engine, folder)
        try:
            store._upgrade()
        except sa.exc.DatabaseError as error:
            engine.dispose()
            what_to_do = (
                "If a backup exists, restore it into a new folder and name that with --data."
                if folder is not None
                else "Check that its server runs, that the database exists, and the name in --data."
            )
            raise UnusableData(
                f"The database in {_without_password(text)} cannot be read ({error.orig}). {what_to_do}"
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
            for chunk in chunks(sorted(set(home_ids))):
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

    def plate_photos(self, home_id: str) -> list[dict[str, Any]]:
        """The photographs of one home's data plates, oldest first."""
        photo = tables.plate_photo
        return self._all(sa.select(photo).where(photo.c.home_id == home_id).order_by(photo.c.at, photo.c.photo_id))

    def homes_with_photos(self, state: str) -> list[str]:
        """The homes with a photograph in this state, the longest waiting first; no picture is read."""
        photo = tables.plate_photo
        query = sa.select(photo.c.home_id, sa.func.min(photo.c.at).label("since")).where(photo.c.state == state)
        grouped = query.group_by(photo.c.home_id).order_by(sa.text("since"), photo.c.home_id)
        return [r["home_id"] for r in self._all(grouped)]

    def sheets(self) -> dict[str, str]:
        """The number of each home's letter, by home id, in the order of the numbers."""
        found = self._all(sa.select(tables.sheet))
        return {r["home_id"]: r["number"] for r in sorted(found, key=lambda r: (Decimal(r["number"]), r["home_id"]))}

    def homes_before(self, answer_ids: Iterable[str]) -> dict[str, tuple[str, datetime]]:
        """The home each answer was joined to before it was last set aside, and when; no entry where none was."""
        with self._engine.connect() as connection:
            return homes_before(connection, answer_ids)

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
        for table in (tables.event, tables.visit, tables.offer_reply, tables.contact_note, tables.plate_photo):
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

    def acts(self, *, limit: int, subjects: Sequence[tuple[str, str]] | None = None) -> list[int]:
        """The newest acts (one person, one moment, one purpose), each by its first entry's number.

        `subjects` narrows them to those that touched one of these kinds and names.
        """
        log = tables.change_log
        first = sa.func.min(log.c.change_id)
        query = sa.select(first).group_by(log.c.at, log.c.who, log.c.action).order_by(first.desc()).limit(limit)
        if subjects is not None:
            touched = sa.tuple_(log.c.subject_kind, log.c.subject_id).in_(subjects[:_MOST_SUBJECTS])
            moments = sa.select(log.c.at, log.c.who, log.c.action).where(touched).distinct().subquery()
            same = (log.c.at == moments.c.at) & (log.c.who == moments.c.who) & (log.c.action == moments.c.action)
            query = query.join_from(log, moments, same)
        with self._engine.connect() as connection:
            return [row[0] for row in connection.execute(query)]

    def changes_of_act(self, change_id: int) -> list[dict[str, Any]]:
        """All entries of the act that an entry belongs to, in their order."""
        log = tables.change_log
        one = self._all(sa.select(log).where(log.c.change_id == change_id))
        if not one:
            return []
        same = (log.c.at == one[0]["at"]) & (log.c.who == one[0]["who"]) & (log.c.action == one[0]["action"])
        return self._all(sa.select(log).where(same).order_by(log.c.change_id))

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


def _without_password(place: str) -> str:
    """A folder or URL as it may be shown: whoever reads a message need not learn the database's password."""
    try:
        return sa.make_url(place).render_as_string(hide_password=True) if "://" in place else place
    except sa.exc.ArgumentError:
        return place.partition("://")[0] + "://…"


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
