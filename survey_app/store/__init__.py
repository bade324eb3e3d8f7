"""The database: one data folder, one transaction a write, every change logged.

SQLite in the data folder is the default and needs no server; a SQLAlchemy URL
opens any other database that SQLAlchemy speaks to. Only :mod:`survey_app.survey`
imports this package, so nothing goes round access control.
"""

from __future__ import annotations

import threading
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

import sqlalchemy as sa

from survey_app.errors import SurveyError
from survey_app.records import Event, Heater, Home, Parcel, Phase, ServiceRecord
from survey_app.store import tables
from survey_app.store.changes import Changes, UndoConflict, taken_back_by
from survey_app.store.entries import CommunityState, StoredAnswer
from survey_app.store.reading import Reading
from survey_app.store.steps import STEPS, step_of, take_steps

__all__ = [
    "Changes",
    "CommunityState",
    "Reading",
    "Store",
    "StoredAnswer",
    "UndoConflict",
    "UnusableData",
    "taken_back_by",
]

DATABASE_FILE = "survey.sqlite"


class UnusableData(SurveyError, ValueError):
    """A data folder or database that cannot be opened; the message says what to do."""


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
        with self._engine.connect() as connection:
            current = step_of(connection)
        if current is not None and current not in STEPS:
            self.close()
            raise UnusableData(
                "These records were written by a later version of this tool. Install that version first."
            )
        if current != STEPS[-1]:
            with self._engine.begin() as connection:
                take_steps(connection)
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

    # Single readings of their own, each as :class:`Reading` has it.

    def state(self) -> CommunityState:
        """See :meth:`.Reading.state`."""
        with self.read() as read:
            return read.state()

    def phases(self) -> list[Phase]:
        """See :meth:`.Reading.phases`."""
        with self.read() as read:
            return read.phases()

    def parcels(self, home_id: str | None = None) -> list[Parcel]:
        """See :meth:`.Reading.parcels`."""
        with self.read() as read:
            return read.parcels(home_id)

    def streets(self) -> list[tuple[str, str, bytes]]:
        """See :meth:`.Reading.streets`."""
        with self.read() as read:
            return read.streets()

    def homes(self, home_id: str | None = None) -> list[Home]:
        """See :meth:`.Reading.homes`."""
        with self.read() as read:
            return read.homes(home_id)

    def heaters(self, home_id: str | None = None) -> list[Heater]:
        """See :meth:`.Reading.heaters`."""
        with self.read() as read:
            return read.heaters(home_id)

    def services(self, home_id: str | None = None) -> list[ServiceRecord]:
        """See :meth:`.Reading.services`."""
        with self.read() as read:
            return read.services(home_id)

    def answers(
        self, *, home_ids: Iterable[str] | None = None, join_state: str | None = None, answer_id: str | None = None
    ) -> list[StoredAnswer]:
        """See :meth:`.Reading.answers`."""
        with self.read() as read:
            return read.answers(home_ids=home_ids, join_state=join_state, answer_id=answer_id)

    def answered_homes(self) -> frozenset[str]:
        """See :meth:`.Reading.answered_homes`."""
        with self.read() as read:
            return read.answered_homes()

    def how_many(self) -> tuple[int, int]:
        """See :meth:`.Reading.how_many`."""
        with self.read() as read:
            return read.how_many()

    def events(self, home_id: str | None = None) -> list[Event]:
        """See :meth:`.Reading.events`."""
        with self.read() as read:
            return read.events(home_id)

    def service_plans(self, plan_id: str | None = None) -> list[dict[str, Any]]:
        """See :meth:`.Reading.service_plans`; as rows."""
        with self.read() as read:
            return _rows(read.service_plans(plan_id))

    def visits(self, plan_id: str | None = None) -> list[dict[str, Any]]:
        """See :meth:`.Reading.visits`; as rows."""
        with self.read() as read:
            return _rows(read.visits(plan_id))

    def contact_notes(self) -> list[dict[str, Any]]:
        """See :meth:`.Reading.contact_notes`; as rows."""
        with self.read() as read:
            return _rows(read.contact_notes())

    def plate_photos(self, home_id: str) -> list[dict[str, Any]]:
        """See :meth:`.Reading.plate_photos`; as rows."""
        with self.read() as read:
            return _rows(read.plate_photos(home_id))

    def homes_with_photos(self, state: str) -> list[str]:
        """See :meth:`.Reading.homes_with_photos`."""
        with self.read() as read:
            return read.homes_with_photos(state)

    def sheets(self) -> dict[str, str]:
        """See :meth:`.Reading.sheets`."""
        with self.read() as read:
            return read.sheets()

    def homes_before(self, answer_ids: Iterable[str]) -> dict[str, tuple[str, datetime]]:
        """See :meth:`.Reading.homes_before`."""
        with self.read() as read:
            return read.homes_before(answer_ids)

    def bids(self) -> list[dict[str, Any]]:
        """See :meth:`.Reading.bids`; as rows."""
        with self.read() as read:
            return _rows(read.bids())

    def purchase_plans(self, *, limit: int | None = None) -> list[dict[str, Any]]:
        """See :meth:`.Reading.purchase_plans`; as rows."""
        with self.read() as read:
            return _rows(read.purchase_plans(limit=limit))

    def offer_replies(self, home_id: str | None = None) -> list[dict[str, Any]]:
        """See :meth:`.Reading.offer_replies`; as rows."""
        with self.read() as read:
            return _rows(read.offer_replies(home_id))

    def homes_with_history(self) -> frozenset[str]:
        """See :meth:`.Reading.homes_with_history`."""
        with self.read() as read:
            return read.homes_with_history()

    def changes(self, *, limit: int = 200) -> list[dict[str, Any]]:
        """See :meth:`.Reading.changes`; as rows."""
        with self.read() as read:
            return _rows(read.changes(limit=limit))

    def acts(self, *, limit: int, subjects: Sequence[tuple[str, str]] | None = None) -> list[int]:
        """See :meth:`.Reading.acts`."""
        with self.read() as read:
            return read.acts(limit=limit, subjects=subjects)

    def changes_of_act(self, change_id: int) -> list[dict[str, Any]]:
        """See :meth:`.Reading.changes_of_act`; as rows."""
        with self.read() as read:
            return _rows(read.changes_of_act(change_id))

    def settled_differences(self) -> dict[str, list[str]]:
        """See :meth:`.Reading.settled_differences`."""
        with self.read() as read:
            return read.settled_differences()

    def last_change(self, action: str) -> datetime | None:
        """See :meth:`.Reading.last_change`."""
        with self.read() as read:
            return read.last_change(action)

    def account_names(self) -> list[tuple[str, str]]:
        """See :meth:`.Reading.account_names`."""
        with self.read() as read:
            return read.account_names()

    def candidates(self) -> list[dict[str, Any]]:
        """See :meth:`.Reading.candidates`; as rows."""
        with self.read() as read:
            return [{**_rows([one])[0], "address": address} for one, address in read.candidates()]

    def account(self, name: str) -> dict[str, Any] | None:
        """See :meth:`.Reading.account`; as a row."""
        with self.read() as read:
            found = read.account(name)
        return None if found is None else _rows([found])[0]

    def access_code(self, locator: str) -> dict[str, Any] | None:
        """See :meth:`.Reading.access_code`; as a row."""
        with self.read() as read:
            found = read.access_code(locator)
        return None if found is None else _rows([found])[0]

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
            changes = Changes(connection, who=who, action=action, at=at)
            yield changes
            changes.write_log()

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


def _rows(records: Iterable[Any]) -> list[dict[str, Any]]:
    return [tables.KEPT_BY_RECORD[type(record)].row(record) for record in records]


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
