"""The database: what is written is read back, all of it or none, and every change is logged."""

import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, fields, replace
from datetime import date, datetime
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from survey_app.records import (
    Answer,
    AnswerChannel,
    Dated,
    DateEvidence,
    EndCause,
    Heater,
    HeaterKind,
    Home,
    Parcel,
    Phase,
    Place,
    ServiceKind,
    ServiceRecord,
    Symptom,
    Tri,
)
from survey_app.store import Account, Store, StoredAnswer, UnusableData, tables
from survey_app.store.rows import Kept

AT = datetime(2026, 5, 2, 9, 30)


@pytest.fixture
def store(tmp_path: Path) -> Store:
    """A store with one phase, one parcel and two homes on it."""
    opened = Store.open(tmp_path / "data")
    with opened.writing(who="vera", action="load", at=AT) as write:
        write.put([Phase(phase_id="P1", first_built_year=2003, last_built_year=2005)])
        write.put([PARCEL])
        write.put([home("R-1/A"), home("R-1/B")])
    return opened


PARCEL = Parcel(
    parcel_id="R-1",
    address="1 FERN ST",
    built_year=2004,
    phase_id="P1",
    land_use="duplex",
    lon=-87.0,
    lat=43.0,
    area_m2=600.0,
    outline_wkb=b"\x01not really a polygon",
)


def home(home_id: str) -> Home:
    """A home of the parcel."""
    return Home(home_id=home_id, parcel_id="R-1", address="1 FERN ST", street="FERN ST", phase_id="P1", built_year=2004)


FULL_HEATER = Heater(
    heater_id="R-1/A/1",
    home_id="R-1/A",
    sequence=1,
    kind=HeaterKind.GAS_STORAGE,
    tank_gallons=50.0,
    installed=Dated(earliest=date(2008, 1, 1), latest=date(2008, 12, 31), evidence=DateEvidence.DATA_PLATE),
    number_in_home=1,
    warranty_years=6.0,
    warranty_end=date(2014, 6, 1),
    removed=Dated.on(date(2024, 3, 1)),
    end_cause=EndCause.FAILED,
    place=Place.GARAGE,
    pan=Tri.YES,
    leak_alarm=Tri.NO,
    auto_shutoff=Tri.UNKNOWN,
    expansion_tank=Tri.YES,
    symptoms=(Symptom.LEAK, Symptom.RUMBLE),
    never_done=(ServiceKind.FLUSH,),
)
FLUSH = ServiceRecord(
    record_id="a1/flush", heater_id="R-1/A/1", kind=ServiceKind.FLUSH, done=Dated.on(date(2020, 5, 5)), findings="grit"
)


def test_records_come_back_as_they_went_in(store: Store) -> None:
    """Every field of every record survives the database, enums, windows and tuples included."""
    with store.writing(who="vera", action="answer", at=AT) as write:
        write.put_histories(["R-1/A"], [FULL_HEATER], [FLUSH])

    assert store.parcels() == [PARCEL]
    assert [home("R-1/A")] == store.homes("R-1/A")
    assert store.heaters() == [FULL_HEATER]
    assert store.services("R-1/A") == [FLUSH]
    assert store.services("R-1/B") == []


def test_a_failed_write_leaves_nothing_behind(store: Store) -> None:
    """An exception inside a transaction undoes all of it: rows, log and data version."""
    before = store.state().data_version, len(store.changes())

    def interrupted() -> None:
        with store.writing(who="vera", action="answer", at=AT) as write:
            write.put_histories(["R-1/A"], [FULL_HEATER], [FLUSH])
            raise RuntimeError("power cut")

    with pytest.raises(RuntimeError):
        interrupted()

    assert store.heaters() == []
    assert before == (store.state().data_version, len(store.changes()))


def test_foreign_keys_are_enforced(store: Store) -> None:
    """A heater of a home that does not exist is refused (SQLite leaves this off unless asked)."""
    stray = Heater(heater_id="x/1", home_id="nowhere", sequence=1)

    with pytest.raises(sa.exc.IntegrityError), store.writing(who="vera", action="answer", at=AT) as write:
        write.put_histories(["nowhere"], [stray], [])


def test_unchanged_rows_are_not_written_again(store: Store) -> None:
    """Putting the same records twice adds no entry to the change log."""
    entries = len(store.changes())

    with store.writing(who="vera", action="load", at=AT) as write:
        assert write.put([PARCEL]) == 0
        assert write.put([home("R-1/A")]) == 0

    assert entries == len(store.changes())


def test_the_change_log_holds_who_when_before_and_after(store: Store) -> None:
    """A change of one field is logged with both values, and with nothing else."""
    moved = Home(
        home_id="R-1/A", parcel_id="R-1", address="1 FERN ST", street="FERN ST", phase_id="P1", built_year=2005
    )
    with store.writing(who="vera", action="correct", at=AT) as write:
        write.put([moved])

    entry = store.changes(limit=1)[0]
    assert (entry.who, entry.action, entry.at) == ("vera", "correct", AT)
    assert (entry.subject_kind, entry.subject_id) == ("home", "R-1/A")
    assert (entry.before, entry.after) == ({"built_year": 2004}, {"built_year": 2005})


def test_replaced_histories_drop_what_is_no_longer_told_and_log_it(store: Store) -> None:
    """A heater that the answers no longer tell of goes, with its acts; its content stays in the log."""
    with store.writing(who="vera", action="answer", at=AT) as write:
        write.put_histories(["R-1/A"], [FULL_HEATER], [FLUSH])
    with store.writing(who="vera", action="answer", at=AT) as write:
        write.put_histories(["R-1/A"], [], [])

    assert store.heaters() == []
    gone = [c for c in store.changes() if c.subject_kind == "heater" and c.after is None]
    assert gone[0].before["installed_earliest"] == "2008-01-01"


def test_an_act_goes_over_to_another_heater_of_the_home(store: Store) -> None:
    """One heater less in a home: the act that stays is the other heater's then, and nothing stands in its way."""
    first, second = replace(FULL_HEATER, heater_id="R-1/A/1"), replace(FULL_HEATER, heater_id="R-1/A/2", sequence=2)
    with store.writing(who="vera", action="answer", at=AT) as write:
        write.put_histories(["R-1/A"], [first, second], [replace(FLUSH, heater_id="R-1/A/2")])
    with store.writing(who="vera", action="answer", at=AT) as write:
        write.put_histories(["R-1/A"], [first], [FLUSH])

    assert store.heaters() == [first]
    assert store.services() == [FLUSH]


def test_a_reading_sees_one_state_while_another_writes(store: Store) -> None:
    """What is committed in the middle of a reading is in none of it: not in its version, nor in its records."""
    with store.read() as read:
        before = read.state()
        with store.writing(who="vera", action="answer", at=AT) as write:
            write.put_histories(["R-1/A"], [FULL_HEATER], [FLUSH])
        assert (read.heaters(), read.services()) == ([], [])
        assert read.changes(limit=1)[0].action == "load"
        assert read.state() == before
    with store.read() as later:
        assert later.heaters() == [FULL_HEATER]
        assert later.state().data_version == before.data_version + 1


def test_an_open_transaction_reads_what_it_has_changed(store: Store) -> None:
    """Inside a writing, records and the change log are read as it has left them so far."""
    with store.writing(who="vera", action="answer", at=AT) as write:
        write.put_histories(["R-1/A"], [FULL_HEATER], [FLUSH])
        write.set_community(name="Fernhill")

        assert write.heaters("R-1/A") == [FULL_HEATER]
        assert write.state().community.name == "Fernhill"
        assert [c.subject_kind for c in write.changes(limit=3)] == ["community", "service_record", "heater"]


def test_a_simple_field_more_is_a_column_more() -> None:
    """A choice, a number, a day, a word and several of a list on a record: the table and both ways follow by itself."""

    @dataclass(frozen=True, slots=True, kw_only=True)
    class Drained(Heater):
        drain: Place = Place.UNKNOWN
        flue_inches: float | None = None
        seen_on: date | None = None
        known: bool = True
        told: tuple[Tri, ...] = ()

    kept = Kept(Drained, "drained", sa.MetaData(), key=["heater_id"], evidence=["installed"])
    one = Drained(**{f.name: getattr(FULL_HEATER, f.name) for f in fields(Heater)}, drain=Place.ATTIC, told=(Tri.NO,))

    assert kept.of_row(kept.row(one)) == one
    assert kept.row(one).items() >= {"drain": "attic", "flue_inches": None, "known": True, "told": ["no"]}.items()
    new = {c.name: (str(c.type), c.nullable) for c in kept.table.c if c.name not in tables.HEATER.table.c}
    assert new == {
        "drain": ("VARCHAR", False),
        "flue_inches": ("FLOAT", True),
        "seen_on": ("DATE", True),
        "known": ("BOOLEAN", False),
        "told": ("JSON", False),
    }


def test_secrets_never_reach_the_change_log(store: Store) -> None:
    """A password's hash is stored, and appears nowhere in the log."""
    account = Account(name="vera", role="volunteer", password_hash="HASH-OF-A-SECRET", created_at=AT)
    with store.writing(who="vera", action="make an account", at=AT) as write:
        write.put([account])

    assert store.account("vera") == account
    assert "HASH-OF-A-SECRET" not in str(store.changes())


def test_migrations_lead_to_the_tables_of_the_code(store: Store) -> None:
    """The schema that the steps build is the schema that the code expects."""
    with store._engine.connect() as connection:
        context = MigrationContext.configure(connection)

        assert compare_metadata(context, tables.metadata) == []


def test_two_writers_at_once_both_succeed(store: Store) -> None:
    """Sixteen threads write; every answer is stored once, and the version counts every write."""
    before = store.state().data_version

    def write_one(number: int) -> None:
        answer = Answer(
            answer_id=f"a{number}",
            home_id="R-1/A",
            address_as_typed="1 fern",
            channel=AnswerChannel.FORM,
            submitted_at=AT,
            submitted_by="resident",
            answered_on=AT.date(),
            given={"kind": "gas storage"},
        )
        with store.writing(who="resident", action="answer", at=AT) as write:
            write.put([StoredAnswer(answer=answer, join_state="joined", join_why="")])

    threads = [threading.Thread(target=write_one, args=(n,)) for n in range(16)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert len(store.answers(home_ids=["R-1/A"])) == 16
    assert before + 16 == store.state().data_version


def test_several_that_open_a_new_folder_at_once_make_one_survey(tmp_path: Path) -> None:
    """One makes the tables and the community; the others wait for it and find them made."""
    with ThreadPoolExecutor(6) as pool:
        stores = list(pool.map(lambda _: Store.open(tmp_path / "data"), range(6)))

    assert {s.state().community.name for s in stores} == {"Our community"}
    with stores[0]._engine.connect() as connection:
        assert connection.execute(sa.select(sa.func.count()).select_from(tables.COMMUNITY.table)).scalar_one() == 1


def test_a_file_in_place_of_the_folder_is_refused_with_a_sentence(tmp_path: Path) -> None:
    """A file is no data folder: the sentence says what to name instead."""
    path = tmp_path / "data"
    path.write_text("hello")

    with pytest.raises(UnusableData, match="is a file, not a data folder"):
        Store.open(path)


def test_a_damaged_database_is_refused_with_a_sentence(tmp_path: Path) -> None:
    """A database that is none gives a sentence with the way out, not a traceback."""
    (tmp_path / "survey.sqlite").write_bytes(b"this is not a database, it is a shopping list" * 40)

    with pytest.raises(UnusableData, match="backup"):
        Store.open(tmp_path)


def test_reopening_keeps_everything(store: Store) -> None:
    """What one run stored the next one finds."""
    folder = store.folder
    assert folder is not None
    store.close()

    assert [h.home_id for h in Store.open(folder).homes()] == ["R-1/A", "R-1/B"]
