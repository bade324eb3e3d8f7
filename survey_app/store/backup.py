"""A consistent copy of the records while they are in use, and a restore that is verified before anything is replaced.

A backup is one zip file: the database as SQLite's online backup makes it, and a
manifest with its checksum, its tables' step and the number of rows of each. It
holds everything that is personal in the survey: keep it as you keep the records.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
import tempfile
import zipfile
from collections.abc import Mapping
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from survey_app.errors import SurveyError
from survey_app.store.steps import STEPS

__all__ = ["BackupReport", "UnusableBackup", "back_up", "restore", "verify"]

_DATABASE = "survey.sqlite"
_MANIFEST = "manifest.json"
_FORMAT = 1
_LARGEST_BYTES = 4_000_000_000


class UnusableBackup(SurveyError, ValueError):
    """A backup that cannot be made or used; the message says why and what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BackupReport:
    """What a backup holds: when it was made, the step of its tables, rows by table, bytes of the database."""

    made_at: datetime
    step: str
    rows: Mapping[str, int]
    size: int


def back_up(folder: Path, file: Path, *, now: datetime) -> BackupReport:
    """Write a backup of a data folder while it may be in use.

    Raises
    ------
    UnusableBackup
        When the folder holds no records, or the file cannot be written.
    """
    source = folder / _DATABASE
    if not source.exists():
        raise UnusableBackup(f"{folder} holds no records to back up. Name the data folder with --data.")
    with tempfile.TemporaryDirectory() as place:
        copy = Path(place) / _DATABASE
        # Closed here and now: left to the garbage collector, it would be an opening that a restore takes for another's.
        with closing(sqlite3.connect(source)) as live, closing(sqlite3.connect(copy)) as other:
            live.backup(other)
        _closed(copy)
        report = _look(copy, now)
        manifest = {
            "format": _FORMAT,
            "made_at": now.isoformat(),
            "step": report.step,
            "rows": dict(report.rows),
            "size": report.size,
            "sha256": _digest(copy),
        }
        part = file.with_name(file.name + ".part")
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as bundle:
                bundle.write(copy, _DATABASE)
                bundle.writestr(_MANIFEST, json.dumps(manifest, indent=1))
            part.chmod(0o600)
            part.replace(file)
        except OSError as error:
            part.unlink(missing_ok=True)
            raise UnusableBackup(f"{file} cannot be written ({error.strerror}). Choose another place.") from None
    return report


def verify(file: Path) -> BackupReport:
    """Check a backup without touching any records.

    Raises
    ------
    UnusableBackup
        With what is wrong: no backup, damaged, or made by a later version.
    """
    with tempfile.TemporaryDirectory() as place:
        return _unpacked(file, Path(place))


def restore(file: Path, folder: Path, *, replace: bool, now: datetime) -> tuple[BackupReport, Path | None]:
    """Put a verified backup into a data folder.

    Parameters
    ----------
    file
        The backup.
    folder
        The data folder; made when absent.
    replace
        Whether records that are there may be set aside (renamed, never deleted).
    now
        Names the records set aside.

    Returns
    -------
    tuple of BackupReport, Path or None
        What was restored, and where the records that were there are now.

    Raises
    ------
    UnusableBackup
        When the backup is not sound, or records are there and may not be replaced or are in use.
    """
    with tempfile.TemporaryDirectory() as place:
        report = _unpacked(file, Path(place))
        target = folder / _DATABASE
        aside: Path | None = None
        if target.exists():
            if not replace:
                raise UnusableBackup(
                    f"{folder} holds records already. Restore into a new folder, or say --replace: they are then set "
                    "aside under another name, not deleted."
                )
            if _in_use(target):
                raise UnusableBackup(f"The records in {folder} are in use. Stop the app, then restore.")
            aside = folder / f"set_aside_{now:%Y%m%d_%H%M%S}"
            aside.mkdir(parents=True)
            for name in (_DATABASE, f"{_DATABASE}-wal", f"{_DATABASE}-shm"):
                if (folder / name).exists():
                    (folder / name).replace(aside / name)
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        fresh = folder / f"{_DATABASE}.part"
        fresh.write_bytes((Path(place) / _DATABASE).read_bytes())
        fresh.replace(target)
    return report, aside


def _unpacked(file: Path, place: Path) -> BackupReport:
    if not file.exists():
        raise UnusableBackup(f"There is no file {file}. Check its name and folder.")
    try:
        with zipfile.ZipFile(file) as bundle:
            names = set(bundle.namelist())
            if names != {_DATABASE, _MANIFEST}:
                raise UnusableBackup(f"{file.name} is not a backup of this survey: it holds other files.")
            if bundle.getinfo(_DATABASE).file_size > _LARGEST_BYTES:
                raise UnusableBackup(f"{file.name} is larger than a survey can be. It was left alone.")
            told: dict[str, Any] = json.loads(bundle.read(_MANIFEST))
            (place / _DATABASE).write_bytes(bundle.read(_DATABASE))
    except (zipfile.BadZipFile, KeyError, ValueError, EOFError) as error:
        if isinstance(error, UnusableBackup):
            raise
        raise UnusableBackup(f"{file.name} is damaged or no backup. Use another one.") from None
    if told.get("format") != _FORMAT:
        raise UnusableBackup(f"{file.name} was made by a later version of this tool. Install that version first.")
    if _digest(place / _DATABASE) != told.get("sha256"):
        raise UnusableBackup(f"{file.name} is damaged: its checksum does not fit. Use another one.")
    report = _look(place / _DATABASE, datetime.fromisoformat(told["made_at"]))
    if report.step not in STEPS:
        raise UnusableBackup(f"{file.name} was made by a later version of this tool. Install that version first.")
    if dict(report.rows) != told.get("rows"):
        raise UnusableBackup(f"{file.name} is damaged: rows are missing. Use another one.")
    return report


def _look(database: Path, made_at: datetime) -> BackupReport:
    db = sqlite3.connect(database)
    try:
        (sound,) = db.execute("PRAGMA integrity_check").fetchone()
        if sound != "ok":
            raise UnusableBackup(f"The database is damaged: {sound}. Use an earlier backup.")
        names = [
            r[0] for r in db.execute("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
        ]
        rows = {n: int(db.execute(f'SELECT count(*) FROM "{n}"').fetchone()[0]) for n in sorted(names)}
        step = db.execute("SELECT version_num FROM alembic_version").fetchone()[0] if "alembic_version" in rows else ""
    except sqlite3.DatabaseError as error:
        raise UnusableBackup(f"The database cannot be read ({error}). Use an earlier backup.") from None
    finally:
        db.close()
    return BackupReport(made_at=made_at, step=str(step), rows=rows, size=database.stat().st_size)


def _in_use(database: Path) -> bool:
    """Whether another program has the records open: what it would still write would go astray.

    Leaving the write-ahead mode is only possible for the last connection
    (SQLite documentation, "Write-Ahead Logging"); it also empties the log into
    the file. The next opening enters that mode again.
    """
    db = sqlite3.connect(database, timeout=1)
    try:
        return bool(db.execute("PRAGMA journal_mode = DELETE").fetchone()[0] != "delete")
    except sqlite3.DatabaseError as error:
        return "locked" in str(error)  # one that is damaged may be set aside
    finally:
        db.close()


def _closed(database: Path) -> None:
    """Bring the write-ahead log into the file itself."""
    db = sqlite3.connect(database)
    try:
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    finally:
        db.close()


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()
