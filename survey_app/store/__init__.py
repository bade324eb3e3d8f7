"""The database: one data folder, one transaction a write, every change logged.

SQLite in the data folder is the default and needs no server; a SQLAlchemy URL
opens any other database that SQLAlchemy speaks to. Only :mod:`survey_app.survey`
imports this package, so nothing goes round access control.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

import sqlalchemy as sa

from survey_app.errors import SurveyError
from survey_app.records import Community
from survey_app.store import tables
from survey_app.store.changes import Changes, UndoConflict, taken_back_by
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
    Sheet,
    StoredAnswer,
)
from survey_app.store.reading import Reading, Records
from survey_app.store.steps import STEPS, step_of, take_steps

__all__ = [
    "AccessCode",
    "Account",
    "Change",
    "Changes",
    "CommunityState",
    "JoinCandidate",
    "KeptBid",
    "KeptInvitation",
    "KeptRounds",
    "KeptServicePlan",
    "Reading",
    "Sheet",
    "Store",
    "StoredAnswer",
    "UndoConflict",
    "UnusableData",
    "row_of",
    "taken_back_by",
]

DATABASE_FILE = "survey.sqlite"
_UPGRADE = 6_011_947
"""Names the lock under which a server's tables are brought up to date; any number will do."""
_FRESH = CommunityState(
    community=Community(name="Our community", synthetic=False, local_epsg=None),
    open_doors=False,
    settings="",
    reading_version=0,
    data_version=0,
    changed_at=datetime(1970, 1, 1),
)


class UnusableData(SurveyError, ValueError):
    """A data folder or database that cannot be opened; the message says what to do."""


class Store(Records):
    """A survey's records in one database.

    Use :meth:`open`. What belongs together is read inside :meth:`read`, which is one state; writes go through
    :meth:`writing`. Both are one transaction.
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
        with self._engine.connect() as connection:
            current = step_of(connection)
        if current is not None and current not in STEPS:
            self.close()
            raise UnusableData(
                "These records were written by a later version of this tool. Install that version first."
            )
        if current == STEPS[-1]:
            return
        with self._engine.connect().execution_options(writing=True) as connection, connection.begin():
            # Of several that open at once one takes the steps, and the others find them taken.
            if connection.dialect.name == "postgresql":
                connection.execute(sa.select(sa.func.pg_advisory_xact_lock(_UPGRADE)))
            if step_of(connection) == STEPS[-1]:
                return
            take_steps(connection)
            if connection.execute(sa.select(tables.COMMUNITY.c.id)).first() is None:
                fresh = tables.COMMUNITY.row(_FRESH)
                connection.execute(sa.insert(tables.COMMUNITY.table).values(id=1, **fresh))

    def close(self) -> None:
        """Let go of the database."""
        self._engine.dispose()

    # ---- reading -------------------------------------------------------

    @contextmanager
    def read(self) -> Iterator[Reading]:
        """One state of the records, whatever others write in the meantime: one transaction that changes nothing.

        SQLite's write-ahead log gives it from the first statement on (its documentation, "Isolation In SQLite"); a
        server is asked for it (PostgreSQL's documentation, "Transaction Isolation": Repeatable Read).
        """
        with self._engine.connect() as connection:
            if self._engine.dialect.name != "sqlite":
                connection = connection.execution_options(isolation_level="REPEATABLE READ")
            with connection.begin():
                yield Reading(connection)

    def _run(self, query: sa.Executable) -> Sequence[Any]:
        with self._engine.connect() as connection:
            return connection.execute(query).all()

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
            next_version = tables.COMMUNITY.c.data_version + 1
            begun = sa.update(tables.COMMUNITY.table).values(data_version=next_version, changed_at=at)
            kept = tables.COMMUNITY
            state = kept.of_values(connection.execute(begun.returning(*kept.columns)).one())
            changes = Changes(connection, state, who=who, action=action, at=at)
            yield changes
            changes.write_log()

    def note_reading(self, version: int) -> None:
        """Note which reading of the answers is stored, where there is nothing to be read."""
        with self.writing_apart() as connection:
            connection.execute(sa.update(tables.COMMUNITY.table).values(reading_version=version))

    @contextmanager
    def writing_apart(self) -> Iterator[sa.Connection]:
        """One transaction for what is no part of the data: neither their version nor the change log moves."""
        with (
            self._gate,
            self._engine.connect().execution_options(writing=True) as connection,
            connection.begin(),
        ):
            # SQLite has taken its write lock already; any other database makes the second comer wait here.
            connection.execute(sa.select(tables.COMMUNITY.c.id).with_for_update())
            yield connection


def row_of(record: Any) -> dict[str, Any]:
    """A record as the row it is kept as: by column, in the database's own types."""
    return tables.KEPT_BY_RECORD[type(record)].row(record)


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
