"""The same records on a PostgreSQL server: what SQLite lets pass, and what many writers do there.

A throw-away server is started in a folder of its own, on a socket without a
network address. Skipped where PostgreSQL or its driver is not installed.
"""

from __future__ import annotations

import itertools
import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from geo.parcels import read_parcels
from survey_app.access import Actor, Role
from survey_app.csv_import import read_rows
from survey_app.histories import READING_VERSION
from survey_app.joins import JoinState
from survey_app.records import AnswerChannel, Heater, Home, Parcel, Phase
from survey_app.response import Contacted
from survey_app.store import Store, UnusableData, tables
from survey_app.survey import Doors, SignInRefused, Survey, open_store

pytestmark = pytest.mark.postgresql

NOW = datetime(2026, 5, 2, 9, 30)
VOLUNTEER = Actor(name="vera", role=Role.VOLUNTEER)
VISITOR = Actor(name="a visitor", role=Role.RESIDENT)
PASSWORD = "three unrelated words"


def _programs() -> Path | None:
    """The folder with `initdb`: on the path, or where Debian keeps it."""
    found = shutil.which("initdb")
    if found:
        return Path(found).parent
    return next(iter(sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)), None)


@pytest.fixture(scope="module")
def new_database() -> Iterator[Callable[[], str]]:
    """Gives the URL of a new, empty database of a server that runs for this module."""
    programs = _programs()
    if programs is None:
        pytest.skip("PostgreSQL is not installed on this machine")
    psycopg = pytest.importorskip("psycopg", reason="the driver psycopg is not installed")
    # The server refuses to run as root, and its socket's path must be short.
    user = "postgres" if os.geteuid() == 0 else None
    place = Path(tempfile.mkdtemp(prefix="pg"))
    if user:
        shutil.chown(place, user)

    def run(*words: str) -> None:
        subprocess.run([str(programs / words[0]), *words[1:]], user=user, cwd=place, check=True, capture_output=True)

    run("initdb", "-D", str(place / "d"), "-A", "trust", "-U", "survey", "-E", "UTF8", "--no-sync")
    options = f"-c listen_addresses='' -c unix_socket_directories='{place}' -c fsync=off"
    run("pg_ctl", "-D", str(place / "d"), "-o", options, "-l", str(place / "log"), "-w", "start")
    numbers = itertools.count()

    def new() -> str:
        name = f"s{next(numbers)}"
        with psycopg.connect(host=str(place), user="survey", dbname="postgres", autocommit=True) as admin:
            admin.execute(f"CREATE DATABASE {name}")
        return f"postgresql+psycopg://survey@/{name}?host={place}"

    yield new
    run("pg_ctl", "-D", str(place / "d"), "-m", "immediate", "stop")
    shutil.rmtree(place, ignore_errors=True)


def loaded(place: str | Path, invented: Path) -> Survey:
    """The invented community and its answers, brought in the usual way."""
    survey = Survey(open_store(place), VOLUNTEER, now=NOW)
    survey.set_up().load_parcels(read_parcels(invented / "parcels.geojson"))
    survey.answers().import_answers(read_rows(invented / "answers.csv"))
    return survey


@pytest.fixture(scope="module")
def on_server(new_database: Callable[[], str], invented: Path) -> Iterator[Survey]:
    """The invented community on the server."""
    survey = loaded(new_database(), invented)
    yield survey
    survey._context.store.close()


def given(address: str) -> dict[str, str]:
    """An answer with little in it."""
    return {"address": address, "kind": "gas storage", "installed": "2014", "consent": "yes"}


def test_the_steps_lead_to_the_tables_of_the_code(new_database: Callable[[], str]) -> None:
    """Every step runs there, types and lengths included."""
    store = Store.open(new_database())
    with store._engine.connect() as connection:
        differences = compare_metadata(MigrationContext.configure(connection), tables.metadata)
    store.close()

    assert differences == []


def test_several_that_open_a_new_database_at_once_make_one_survey(new_database: Callable[[], str]) -> None:
    """One makes the tables and the community; the others wait for it and find them made."""
    url = new_database()
    with ThreadPoolExecutor(4) as pool:
        stores = list(pool.map(lambda _: open_store(url, now=NOW), range(4)))

    assert {s.state().reading_version for s in stores} == {READING_VERSION}
    for store in stores:
        store.close()


def test_answers_are_read_again_once_by_several_that_open_at_once(new_database: Callable[[], str]) -> None:
    """On a server, too, whoever comes second waits, and finds nothing left to read again."""
    url = new_database()
    store = Store.open(url)
    with store.writing(who="vera", action="load", at=NOW) as write:
        write.put(
            [
                Parcel(
                    parcel_id="R-1",
                    address="1 FERN ST",
                    built_year=2004,
                    phase_id=None,
                    land_use=None,
                    lon=-87.0,
                    lat=43.0,
                    area_m2=600.0,
                    outline_wkb=b"",
                )
            ]
        )
        write.put(
            [Home(home_id="R-1", parcel_id="R-1", address="1 FERN ST", street="F", phase_id=None, built_year=2004)]
        )
        write.put_histories(["R-1"], [Heater(heater_id="R-1/heater-1", home_id="R-1", sequence=1)], [])
    with ThreadPoolExecutor(4) as pool:
        stores = list(pool.map(lambda _: open_store(url, now=NOW), range(4)))

    assert store.heaters() == []  # no answer tells of one
    assert [c.subject_id for c in store.changes() if c.subject_kind == "reading"] == ["1 of 1 homes changed"]
    assert store.state().data_version == 2
    for one in (*stores, store):
        one.close()


def test_a_reading_sees_one_state_while_another_writes(new_database: Callable[[], str]) -> None:
    """As in a folder: what is committed in the middle of a reading is in none of it."""
    store = Store.open(new_database())
    with store.read() as read:
        before = read.state()
        with store.writing(who="vera", action="load", at=NOW) as write:
            write.put([Phase(phase_id="P1", first_built_year=2003, last_built_year=2005)])
        assert read.phases() == []
        assert read.changes() == []
    with store.read() as later:
        assert [p.phase_id for p in later.phases()] == ["P1"]
        assert later.state().data_version == before.data_version + 1
    store.close()


def test_the_same_files_give_the_same_survey_as_in_a_folder(on_server: Survey, invented: Path, tmp_path: Path) -> None:
    """Standings, rates and doubtful answers are those of SQLite, to the last one."""
    in_folder = loaded(tmp_path / "data", invented)

    assert on_server.standings() == in_folder.standings()
    assert on_server.responses().rates() == in_folder.responses().rates()
    there = [(d.answer.given, d.state, d.candidates) for d in on_server.answers().doubtful()]
    assert there == [(d.answer.given, d.state, d.candidates) for d in in_folder.answers().doubtful()]
    assert there


def test_every_outcome_at_the_door_can_be_stored(on_server: Survey) -> None:
    """One of them is 41 letters long, which a column of 40 refused."""
    responses = on_server.responses()
    home = on_server.standings()[0].home
    for outcome in Contacted:
        responses.note(home.home_id, outcome, on=date(2026, 5, 1), words="é" * 5_000)

    assert {n.outcome for n in on_server._context.store.contact_notes()} == set(Contacted)


def test_residents_who_send_twice_at_once_are_stored_once(new_database: Callable[[], str], invented: Path) -> None:
    """Sixteen threads, two servers on one database, each answer sent through both."""
    url = new_database()
    survey = Survey(open_store(url), VOLUNTEER, now=NOW)
    survey.set_up().load_parcels(read_parcels(invented / "parcels.geojson"))
    homes = [s.home for s in survey.standings()][:40]
    servers = [open_store(url), open_store(url)]
    before = survey.state().data_version

    def send(number: int) -> bool:
        home = homes[number // 2]
        who = Actor(name="r", role=Role.RESIDENT, home_id=home.home_id)
        answers = Survey(servers[number % 2], who, now=NOW).answers()
        words = given(home.address)
        return answers.submit(words, channel=AnswerChannel.FORM, answer_id=f"a{number // 2}").stored

    with ThreadPoolExecutor(16) as pool:
        assert all(pool.map(send, range(80)))

    ids = [s.answer.answer_id for s in survey._context.store.answers()]
    assert sorted(ids) == sorted(f"a{n}" for n in range(40))
    assert survey.state().data_version == before + 80
    for store in (*servers, survey._context.store):
        store.close()


def test_of_visitors_at_once_for_one_home_one_joins_and_the_others_wait(on_server: Survey) -> None:
    """The server's own lock decides, not this process's."""
    home = next(s.home for s in on_server.standings() if not s.answered)

    def send(number: int) -> JoinState:
        store = open_store(str(on_server._context.store._engine.url.render_as_string(hide_password=False)))
        visitor = Survey(store, VISITOR, now=NOW)
        found = visitor.answers().submit(
            given(home.address), channel=AnswerChannel.FORM, home_id=home.home_id, answer_id=f"v{number}"
        )
        store.close()
        assert found.join is not None
        return found.join.state

    with ThreadPoolExecutor(6) as pool:
        states = sorted(pool.map(send, range(6)))

    assert states == sorted([JoinState.JOINED, *[JoinState.SECOND] * 5])


def test_wrong_codes_at_once_do_not_slip_through_the_limit(on_server: Survey) -> None:
    """Twelve tries for one code at the same moment: five are looked at, then the right one is refused too."""
    [(_, code)] = on_server.sign_in_rights().issue_codes([on_server.standings()[3].home.home_id])
    url = on_server._context.store._engine.url.render_as_string(hide_password=False)
    stores = [open_store(url) for _ in range(12)]
    wrong = code[:-1] + ("2" if code[-1] != "2" else "3")

    def attempt(store: Store) -> str:
        try:
            Doors(store).open_home(wrong, now=NOW)
        except SignInRefused as refused:
            return str(refused)
        return "in"

    with ThreadPoolExecutor(12) as pool:
        said = list(pool.map(attempt, stores))
    with pytest.raises(SignInRefused):
        Doors(stores[0]).open_home(code, now=NOW)
    for store in stores:
        store.close()

    assert "in" not in said
    assert len({*said}) == 2
    assert max(said.count(s) for s in said) == 7


def test_deleting_a_home_leaves_none_of_its_words(on_server: Survey) -> None:
    """No table holds the word that only this home's answer held."""
    home = on_server.standings()[5].home
    told = {**given(home.address), "remarks": "quokkaword"}
    stored = on_server.answers().submit(told, channel=AnswerChannel.PAPER, home_id=home.home_id)
    assert stored.stored
    assert "quokkaword" in dump(on_server._context.store)

    on_server.one_home(home.home_id).forget()

    assert "quokkaword" not in dump(on_server._context.store)


def test_an_act_is_undone_there_too(on_server: Survey) -> None:
    """A note at a door is found among its home's acts and taken back."""
    home = on_server.standings()[9].home
    later = Survey(on_server._context.store, VOLUNTEER, now=NOW + timedelta(minutes=1))
    later.responses().note(home.home_id, Contacted.REFUSED, on=date(2026, 5, 1), words="no, thanks")
    (act, *_) = later.change_log().acts(limit=3, home_id=home.home_id)
    later.change_log().undo(act.act_id)

    assert act.addresses == (home.address,)
    assert all(n.words != "no, thanks" for n in on_server._context.store.contact_notes())


def test_text_that_the_server_cannot_hold_is_taken_without_it(on_server: Survey) -> None:
    """A NUL, half a surrogate pair and a megabyte: stored or refused in a sentence, never a broken transaction."""
    home = on_server.standings()[7].home
    for number, words in enumerate(["a\x00b", "a\ud83db", "x" * 1_000_000]):
        told = {**given(home.address), "remarks": words, "contact": words}
        found = on_server.answers().submit(
            told, channel=AnswerChannel.PAPER, home_id=home.home_id, answer_id=f"hostile{number}"
        )
        assert found.stored or found.checked.problems


def dump(store: Store) -> str:
    """Everything in every table."""
    with store._engine.connect() as connection:
        return "\n".join(str(connection.execute(sa.select(t)).all()) for t in tables.metadata.sorted_tables)


def test_a_database_that_is_not_there_is_one_sentence_without_its_password(new_database: Callable[[], str]) -> None:
    """The message says what to check, and shows no password."""
    there = new_database()
    url = there.replace("survey@/", "survey:hushhush@/gone")

    with pytest.raises(UnusableData, match="Check that its server runs") as told:
        open_store(url)

    assert "hushhush" not in str(told.value)
    with pytest.raises(UnusableData, match="not a database") as told:
        open_store("postgresql+nodriver://survey:hushhush@/x")
    assert "hushhush" not in str(told.value)
