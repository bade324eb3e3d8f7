"""Records written by every earlier version of the tables, row by row as that version had them, open in this one."""

from __future__ import annotations

import json
import sqlite3
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory

import survey_app.store
from survey_app import credentials
from survey_app.access import Actor, Role
from survey_app.store import steps
from survey_app.survey import Doors, Survey, UnusableBackup, UnusableData, back_up, open_store, restore_backup

NOW = datetime(2026, 5, 2, 9, 30)
AT, DAY = "2026-05-01 10:00:00.000000", "2026-05-01"
PASSWORD = "three unrelated words"
CODE = credentials.PrivateCode(locator="ABCD", secret="EFGHJKMNPQ")
CONFIG = Config()
CONFIG.set_main_option("script_location", str(Path(survey_app.store.__file__).parent / "migrations"))
STEPS = [s.revision for s in reversed(list(ScriptDirectory.from_config(CONFIG).walk_revisions()))]

GIVEN = {
    "address": "1 fern",
    "kind": "gas storage",
    "installed": "2009",
    "installed_evidence": "data plate",
    "consent": "yes",
}
ROWS: dict[str, dict[str, dict[str, object]]] = {
    "0001": {
        "community": {
            "id": 1,
            "name": "Fernhill",
            "synthetic": 1,
            "open_doors": 0,
            "settings": "flush_every_years = 2",
            "data_version": 41,
            "changed_at": AT,
        },
        "account": {
            "name": "vera",
            "role": "volunteer",
            "password_hash": credentials.hash_secret(PASSWORD),
            "created_at": AT,
            "failed_tries": 3,
        },
        "phase": {"phase_id": "A", "first_built_year": 2001},
        "parcel": {
            "parcel_id": "R-1",
            "address": "1 FERN ST",
            "lon": -90.0,
            "lat": 40.0,
            "area_m2": 500.0,
            "outline_wkb": b"\x01",
        },
        "home": {"home_id": "R-1", "parcel_id": "R-1", "address": "1 FERN ST", "street": "FERN ST", "softener": "yes"},
        "access_code": {
            "locator": CODE.locator,
            "home_id": "R-1",
            "code_hash": credentials.hash_secret(CODE.secret),
            "issued_at": AT,
            "failed_tries": 2,
            "locked_until": "2026-05-02 09:45:00.000000",
        },
        "answer": {
            "answer_id": "a1",
            "home_id": "R-1",
            "address_as_typed": "1 fern",
            "channel": "paper",
            "submitted_at": AT,
            "submitted_by": "vera",
            "answered_on": DAY,
            "given": json.dumps(GIVEN),
            "overruled": "{}",
            "join_state": "joined",
            "join_why": "",
        },
        "heater": {
            "heater_id": "R-1/heater-1",
            "home_id": "R-1",
            "sequence": 1,
            "kind": "tankless",  # as another version had read it
            "installed_earliest": "2009-01-01",
            "installed_latest": "2009-12-31",
            "installed_evidence": "data plate",
            "place": "unknown",
            "pan": "not sure",
            "leak_alarm": "not sure",
            "auto_shutoff": "not sure",
            "expansion_tank": "not sure",
            "symptoms": "[]",
            "never_done": "[]",
        },
        "change_log": {
            "at": AT,
            "who": "vera",
            "action": "take answers",
            "subject_kind": "answer",
            "subject_id": "a1",
            "after": json.dumps({"home_id": "R-1"}),
        },
    },
    "0002": {
        "event": {
            "event_id": "e1",
            "home_id": "R-1",
            "kind": "service visit",
            "on_date": DAY,
            "told_by": "crew",
            "acts": '["flush"]',
            "seen": "[]",
            "findings": "",
            "kind_of_heater": "unknown",
        },
    },
    "0003": {"offer_reply": {"home_id": "R-1", "says": "yes", "limit_usd": 1200.0, "at": AT}},
    "0004": {
        "contact_note": {
            "note_id": "n1",
            "home_id": "R-1",
            "on_date": DAY,
            "outcome": "nobody there",
            "told_by": "vera",
            "words": "",
        },
    },
    "0005": {
        "invitation": {
            "locator": "WXYZ",
            "code_hash": "x",
            "name": "dora",
            "role": "committee",
            "made_at": AT,
            "made_by": "vera",
            "expires_at": "2026-05-08 10:00:00.000000",
        },
    },
    "0006": {
        "parcel": {
            "parcel_id": "R-2",
            "address": "3 FERN ST",
            "lon": -90.0,
            "lat": 40.001,
            "area_m2": 500.0,
            "outline_wkb": b"\x01",
        },
        "home": {"home_id": "R-2", "parcel_id": "R-2", "address": "3 FERN ST", "street": "FERN ST", "softener": "no"},
        "offer_reply": {"home_id": "R-2", "says": "yes", "plan_id": "p1", "price_usd": 2310.0, "at": AT},
    },
    "0008": {"plate_photo": {"photo_id": "f1", "home_id": "R-1", "at": AT, "state": "waiting", "jpeg": b"\xff\xd8"}},
    "0009": {
        "parcel": {
            "parcel_id": "R-3",
            "address": "5 FERN ST",
            "lon": -90.0,
            "lat": 40.002,
            "area_m2": 500.0,
            "outline_wkb": b"\x01",
        },
        "home": {"home_id": "R-3", "parcel_id": "R-3", "address": "5 FERN ST", "street": "FERN ST", "softener": "no"},
        "offer_reply": {"home_id": "R-3", "says": "yes", "wants_kind": "gas storage", "at": AT},
    },
    "0010": {"sheet": {"home_id": "R-1", "number": "412.5"}},
}


def written_by(step: str, place: Path) -> Path:
    """A data folder whose tables and rows are those of an earlier step."""
    place.mkdir()
    engine = sa.create_engine(f"sqlite:///{place / 'survey.sqlite'}")
    with engine.begin() as connection:
        CONFIG.attributes["connection"] = connection
        command.upgrade(CONFIG, step)
    engine.dispose()
    with sqlite3.connect(place / "survey.sqlite") as db:
        for earlier in STEPS[: STEPS.index(step) + 1]:
            for table, row in ROWS.get(earlier, {}).items():
                there = {r[1] for r in db.execute(f"PRAGMA table_info({table})")}
                kept = {k: v for k, v in row.items() if k in there}  # columns that a later step has dropped
                names, marks = ", ".join(kept), ", ".join("?" * len(kept))
                db.execute(f"INSERT INTO {table} ({names}) VALUES ({marks})", tuple(kept.values()))
    db.close()
    return place


def test_every_step_has_rows_to_test_with(tmp_path: Path) -> None:
    """A new step must bring rows of its new tables into this test; one that adds a column is tried with old rows."""
    assert list(ROWS) == [step for step in STEPS if step in ROWS]
    there: set[str] = set()
    for step in STEPS:
        place = written_by(step, tmp_path / step)
        with sqlite3.connect(place / "survey.sqlite") as db:
            now = {name for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        db.close()
        assert now == there or step in ROWS, f"step {step} makes {now - there}"
        there = now


def test_the_steps_known_by_their_files_are_alembics_own() -> None:
    """Records are opened by the files' numbers alone; a file misnamed, or a second branch, would be passed over."""
    assert list(steps.STEPS) == STEPS
    assert ScriptDirectory.from_config(CONFIG).get_heads() == [steps.STEPS[-1]]


def test_alembic_is_loaded_only_where_a_step_is_to_be_taken(tmp_path: Path) -> None:
    """Opening records that are up to date asks the database for its step and no more."""
    place = written_by(STEPS[-2], tmp_path / "old")
    code = (
        "import sys; from survey_app.survey import open_store; store = open_store(sys.argv[1]); "
        "print(store.state().data_version, 'alembic' in sys.modules)"
    )
    told = [
        subprocess.run([sys.executable, "-c", code, place], capture_output=True, text=True, check=True).stdout.split()
        for _ in range(2)
    ]

    assert [loaded for _, loaded in told] == ["True", "False"]


@pytest.mark.parametrize("step", STEPS)
def test_rows_of_every_earlier_version_open_and_mean_the_same(step: str, tmp_path: Path) -> None:
    """Answers, heaters, settings, log, events, replies and notes are there; password and code still open."""
    place = written_by(step, tmp_path / "old")
    store = open_store(place)
    survey = Survey(store, Actor(name="vera", role=Role.VOLUNTEER), now=NOW)

    assert store.state().community.name == "Fernhill"
    assert store.state().data_version == 42  # one more: the answers were read again
    assert survey.settings().flush_every_years == 2
    (stored,) = store.answers()
    assert dict(stored.answer.given) == GIVEN
    assert survey.one_home("R-1").standing().answered
    assert [h.kind for h in store.heaters("R-1")] == ["gas storage"]
    assert [c.subject_id for c in store.changes() if c.subject_kind == "answer"] == ["a1"]
    assert next(c.subject_kind for c in store.changes() if c.who != "vera") == "reading"
    assert len(store.events()) == (step >= "0002")
    assert len(store.offer_replies()) == (step >= "0003") + (step >= "0006") + (step >= "0009")
    assert len(store.contact_notes()) == (step >= "0004")
    assert len(survey.sign_in_rights().invitations()) == (step >= "0005")
    assert len(survey.one_home("R-1").photos()) == (step >= "0008")
    assert store.sheets() == ({"R-1": "412.5"} if step >= "0010" else {})
    doors = Doors(store)
    assert doors.sign_in("vera", PASSWORD, now=NOW).role is Role.VOLUNTEER
    assert doors.open_home(str(CODE), now=NOW).home_id == "R-1"
    with store._engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_key_check").all() == []
        assert connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalar_one() == STEPS[-1]


@pytest.mark.parametrize("step", STEPS)
def test_a_backup_of_every_earlier_version_restores_and_opens(step: str, tmp_path: Path) -> None:
    """A backup made before an upgrade is good after it."""
    place = written_by(step, tmp_path / "old")
    assert back_up(place, tmp_path / "b.zip", now=NOW).step == step
    restore_backup(tmp_path / "b.zip", tmp_path / "new", replace=False, now=NOW)
    assert [s.answer.answer_id for s in open_store(tmp_path / "new").answers()] == ["a1"]


def test_records_of_a_later_version_are_refused_in_a_sentence(tmp_path: Path) -> None:
    """Tables of a step this version does not know are left alone."""
    place = written_by(STEPS[-1], tmp_path / "later")
    with sqlite3.connect(place / "survey.sqlite") as db:
        db.execute("UPDATE alembic_version SET version_num = '9999'")
    db.close()
    with pytest.raises(UnusableData, match="later version"):
        open_store(place)
    back_up(place, tmp_path / "b.zip", now=NOW)
    with pytest.raises(UnusableBackup, match="later version"):
        restore_backup(tmp_path / "b.zip", tmp_path / "new", replace=False, now=NOW)
    assert not (tmp_path / "new").exists()
