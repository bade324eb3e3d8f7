"""What answers mean is stored: a better reading is raised in its version, and every survey is then read again."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import MISSING, fields, replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from survey_app.access import Actor, Role
from survey_app.cli import base
from survey_app.histories import READING_VERSION, HomeHistory, home_history
from survey_app.plain_data import from_plain, to_plain
from survey_app.records import Answer, AnswerChannel, Event, HeaterKind, Home
from survey_app.store import Reading, Store, row_of
from survey_app.survey import Survey, open_store, rereading
from survey_app.survey.change_log import CannotUndo

NOW = datetime(2026, 5, 2, 9, 30)
LATER = NOW + timedelta(hours=1)
VOLUNTEER = Actor(name="vera", role=Role.VOLUNTEER)
READINGS = Path(__file__).parent / "readings"
_WORDS = frozenset({"findings"})
"""Fields that hold sentences: how something is said is no reading."""


def fixed_homes() -> list[tuple[Home, list[Answer], list[Event]]]:
    """Synthetic homes with answers as people type them, and with what crews did; the same for good."""
    found = []
    for number, told in enumerate(json.loads((READINGS / "homes.json").read_text(encoding="utf-8"))):
        home_id = f"h{number}"
        home = Home(
            home_id=home_id, parcel_id=home_id, address="1 FERN ST", street="F", phase_id=None, built_year=told["built"]
        )
        answers = [
            Answer(
                answer_id=f"{home_id}a{n}",
                home_id=home_id,
                address_as_typed="1 fern st",
                channel=AnswerChannel.FORM,
                submitted_at=datetime.fromisoformat(one["on"]),
                submitted_by="resident",
                answered_on=date.fromisoformat(one["on"]),
                given={"address": "1 fern st", **one["given"]},
            )
            for n, one in enumerate(told["answers"])
        ]
        events = [
            from_plain(Event, {"event_id": f"{home_id}e{n}", "home_id": home_id, "told_by": "crew", **one})
            for n, one in enumerate(told.get("events", ()))
        ]
        found.append((home, answers, events))
    return found


def digest_of(histories: Sequence[HomeHistory]) -> str:
    """A digest of what is stored of homes; what a record does not say, as a field that is new, is not in it."""
    told = [[_said(record) for record in (one.home, *one.heaters, *one.services)] for one in histories]
    return hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()[:20]


def _said(record: Any) -> dict[str, Any]:
    plain: Mapping[str, Any] = to_plain(record)
    usual = {f.name: to_plain(f.default) for f in fields(record) if f.default is not MISSING}
    return {k: v for k, v in plain.items() if k not in _WORDS and (k not in usual or usual[k] != v)}


def test_the_same_answers_are_read_as_this_version_reads_them() -> None:
    """Fixed answers give the digest that is on file for the version: another reading needs another version."""
    known: dict[str, str] = json.loads((READINGS / "digests.json").read_text(encoding="utf-8"))
    found = digest_of([home_history(*home) for home in fixed_homes()])
    version = str(READING_VERSION)

    assert list(known) == [str(n) for n in range(1, len(known) + 1)], "digests.json: versions follow one another"
    if version not in known:
        pytest.fail(
            f'READING_VERSION is {version}: add "{version}": "{found}" to tests/survey_app/readings/digests.json'
        )
    if known[version] != found:
        pytest.fail(
            "The same answers are read differently now, and surveys have the earlier reading on file: raise "
            f'READING_VERSION in survey_app/histories.py to {READING_VERSION + 1}, and add "{READING_VERSION + 1}": '
            f'"{found}" to tests/survey_app/readings/digests.json.'
        )
    assert len(known) == READING_VERSION, "digests.json holds a version that the code has not reached"


def test_the_digest_follows_what_is_read_and_not_how_it_is_said() -> None:
    """One year less in one answer is another digest; other words of a finding or a disagreement are not."""
    histories = [home_history(*home) for home in fixed_homes()]
    at = next(i for i, one in enumerate(histories) if one.services and one.heaters)
    one = histories[at]
    older = replace(one, heaters=(replace(one.heaters[0], number_in_home=7), *one.heaters[1:]))
    said = replace(one, services=tuple(replace(s, findings="said so") for s in one.services), disagreements=("No.",))

    assert digest_of([*histories[:at], older, *histories[at + 1 :]]) != digest_of(histories)
    assert digest_of([*histories[:at], said, *histories[at + 1 :]]) == digest_of(histories)


# ---- records that an earlier reading has left ----------------------------------------------


def read_all(records: Reading) -> tuple[Any, ...]:
    """What is stored of homes."""
    return records.homes(), records.heaters(), records.services()


def as_an_earlier_reading_left_it(place: Path) -> str:
    """Make two homes' heaters what the answers do not say, and the version one that nobody knows; one of the homes."""
    store = Store.open(place)
    with store.read() as records:
        first, second = [h for h in records.heaters() if h.kind is HeaterKind.GAS_STORAGE and h.in_service][:2]
        act = next(s for s in records.services() if s.heater_id not in (first.heater_id, second.heater_id))
    with store.writing(who="an earlier version", action="take answers", at=NOW) as write:
        write.put([replace(first, kind=HeaterKind.TANKLESS), replace(second, number_in_home=9)])
        write.put([replace(act, record_id="an-act-nobody-told-of/flush")])
        write.set_reading(0)
    store.close()
    return first.home_id


@pytest.fixture
def opened(data: Path) -> Store:
    """The synthetic community, read by this version."""
    return open_store(data, now=NOW)


def readings(store: Store) -> list[str]:
    """What the change log says of reading again, newest first."""
    with store.read() as records:
        return [c.subject_id for c in records.changes(limit=10_000_000) if c.subject_kind == "reading"]


def test_records_of_another_reading_are_read_again_when_they_are_opened(opened: Store, data: Path) -> None:
    """Heaters and acts are what this version reads; the change log says of how many homes; the data version moves."""
    with opened.read() as records:
        right, before = read_all(records), records.state()
    opened.close()
    as_an_earlier_reading_left_it(data)
    told: list[tuple[int, int]] = []
    store = open_store(data, now=LATER, progress=lambda done, of: told.append((done, of)))

    with store.read() as records:
        homes = len(records.homes())
        assert read_all(records) == right
        assert records.state().reading_version == READING_VERSION
        assert records.state().data_version == before.data_version + 2  # the earlier version's write, and this one
        assert records.last_change(rereading.READ_AGAIN) == LATER
    assert readings(store) == [f"3 of {homes} homes changed"]
    assert told[-1] == (homes, homes)


def test_records_of_this_reading_are_left_alone(opened: Store, data: Path) -> None:
    """Opening again changes nothing: not the data version, not the log."""
    with opened.read() as records:
        before = records.state(), len(records.changes(limit=10_000_000))
    again = open_store(data, now=LATER)

    with again.read() as records:
        assert before == (records.state(), len(records.changes(limit=10_000_000)))


def test_a_new_survey_begins_with_this_reading(tmp_path: Path) -> None:
    """Nothing is there to be read: the version is noted, the log stays empty."""
    store = open_store(tmp_path / "data", now=NOW)

    with store.read() as records:
        assert (records.state().reading_version, records.state().data_version) == (READING_VERSION, 0)
        assert records.changes() == []


def test_several_that_open_at_once_read_again_once(opened: Store, data: Path) -> None:
    """Whoever comes second waits, finds it done, and leaves the records as they are."""
    with opened.read() as records:
        right, before = read_all(records), records.state().data_version
    opened.close()
    as_an_earlier_reading_left_it(data)
    with ThreadPoolExecutor(4) as pool:
        stores = list(pool.map(lambda _: open_store(data, now=LATER), range(4)))

    with stores[0].read() as records:
        assert read_all(records) == right
        assert records.state().data_version == before + 2
    assert len(readings(stores[0])) == 1


def test_progress_is_shown_to_whoever_has_waited(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture
) -> None:
    """What is over in a moment says nothing; what takes long has a line on the error stream, and ends it."""
    clock = [100.0]
    monkeypatch.setattr(base.time, "monotonic", lambda: clock[0])
    monkeypatch.setattr(base.sys.stderr, "isatty", lambda: True)
    soon = base.progress("Homes", patience_s=1.0)
    soon(1, 2)
    soon(2, 2)
    assert capsys.readouterr().err == ""
    late = base.progress("Homes", patience_s=1.0)
    late(1, 3)
    clock[0] += 1.5
    late(2, 3)
    late(3, 3)
    assert [line.strip() for line in capsys.readouterr().err.split("\r")] == ["", "Homes: 2 of 3", "Homes: 3 of 3"]


def test_a_reading_that_breaks_off_leaves_everything_as_it_was(
    opened: Store, data: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All homes or none: after a fault the earlier reading stands whole, and the next opening tries again."""
    opened.close()
    as_an_earlier_reading_left_it(data)
    with Store.open(data).read() as records:
        before, state = read_all(records), records.state()
    calls = []

    def breaks_off(*home: Any, **more: Any) -> HomeHistory:
        calls.append(home)
        if len(calls) > 50:
            raise RuntimeError("power cut")
        return home_history(*home, **more)

    with monkeypatch.context() as patch:
        patch.setattr(rereading, "home_history", breaks_off)
        with pytest.raises(RuntimeError):
            open_store(data, now=LATER)
    with Store.open(data).read() as records:
        assert read_all(records) == before
        assert records.state() == state
    assert len(readings(open_store(data, now=LATER))) == 1


def test_what_was_deleted_or_set_aside_does_not_come_back(opened: Store, data: Path) -> None:
    """A home that was forgotten stays forgotten, an answer that counts for nothing still does."""
    survey = Survey(opened, VOLUNTEER, now=NOW)
    with opened.read() as records:
        gone, aside = [s for s in records.answers(join_state="joined") if s.answer.given.get("kind")][:2]
    gone_home, aside_home = str(gone.answer.home_id), str(aside.answer.home_id)
    assert gone_home != aside_home
    survey.one_home(gone_home).forget()
    survey.answers().set_aside(aside.answer.answer_id)
    opened.close()
    as_an_earlier_reading_left_it(data)
    store = open_store(data, now=LATER)

    with store.read() as records:
        assert records.heaters(gone_home) == records.answers(home_ids=[gone_home]) == []
        home = records.homes(gone_home)[0]
        assert (home.moved_in, str(home.softener)) == (None, "not sure")
        assert records.heaters(aside_home) == []
        assert [s.join_state for s in records.answers(answer_id=aside.answer.answer_id)] == ["set aside"]
        logged = str([row_of(c) for c in records.changes(limit=10_000_000)])
    assert gone.answer.answer_id not in logged.replace(f"'subject_id': '{gone.answer.answer_id}'", "")


def test_a_reading_cannot_be_undone_and_what_came_before_it_can(opened: Store, data: Path) -> None:
    """The log says in words what was read again; an import from before is taken back as ever, with its heaters."""
    opened.close()
    as_an_earlier_reading_left_it(data)
    store = open_store(data, now=LATER)
    log = Survey(store, VOLUNTEER, now=LATER + timedelta(hours=1)).change_log()
    acts = {act.action: act for act in log.acts()}
    act = acts[rereading.READ_AGAIN]

    assert "homes changed" in act.what
    assert "worked out anew" in act.why_not
    with pytest.raises(CannotUndo):
        log.undo(act.act_id)
    brought = next(a for a in log.acts(limit=1000) if a.action == "take answers" and a.who == "vera")
    log.undo(brought.act_id)
    with store.read() as records:
        assert records.heaters() == records.services() == []
        assert records.state().reading_version == READING_VERSION


def test_homes_of_two_readings_are_read_again_at_the_next_opening(opened: Store, data: Path) -> None:
    """The program runs on while a later one opens the records: what it writes is noted as of several readings."""
    with opened.writing(who="a later version", action="read the answers again", at=NOW) as write:
        write.set_reading(READING_VERSION + 1)
    survey = Survey(opened, VOLUNTEER, now=LATER)
    with opened.read() as records:
        home = records.homes()[0]
    survey.answers().submit(
        {"address": home.address, "kind": "gas storage", "consent": "yes"},
        channel=AnswerChannel.PAPER,
        home_id=home.home_id,
    )

    with opened.read() as records:
        assert records.state().reading_version == 0
    assert len(readings(open_store(data, now=LATER))) == 1
