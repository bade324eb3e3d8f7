"""Keeping the survey for years: response, letters, backup and restore, upgrades of earlier records."""

from __future__ import annotations

import gc
import json
import sqlite3
import zipfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from alembic import command
from alembic.config import Config

import survey_app.store
from survey_app.access import Actor, NotAllowed, Role, few
from survey_app.privacy import KEPT, NOT_PERSONAL
from survey_app.records import AnswerChannel
from survey_app.reports.board_report import board_pdf, fan_svg, policies_svg, response_lines, visits_done
from survey_app.reports.letters import Sender, letters_pdf, paper_form
from survey_app.response import Contacted, Disposition
from survey_app.survey import (
    Doors,
    SignInRefused,
    Survey,
    UnusableBackup,
    back_up,
    open_store,
    restore_backup,
    verify_backup,
)
from survey_app.texts import texts

NOW = datetime(2026, 5, 2, 9, 30)
SENDER = Sender(
    address="https://survey.example.org", ask="Vera Example, 555-0100", until=date(2026, 5, 23), keep_years=10
)


def front(place: Path, role: Role = Role.VOLUNTEER, *, now: datetime = NOW) -> Survey:
    """The survey as a volunteer or a committee member."""
    return Survey(open_store(place), Actor(name=str(role), role=role), now=now)


# ---- response -------------------------------------------------------------------


def test_every_home_has_one_outcome_and_the_rates_follow(data: Path) -> None:
    """Outcomes add up to all homes; complete and partial are those that answered and did not refuse."""
    survey = front(data)
    outcome = survey.responses().dispositions()
    counts = Counter(outcome.values())
    homes, answered = survey.how_many()

    assert len(outcome) == homes
    assert counts[Disposition.COMPLETE] + counts[Disposition.PARTIAL] + counts[Disposition.REFUSAL] == answered
    assert survey.responses().rates().rr2 == pytest.approx(
        (counts[Disposition.COMPLETE] + counts[Disposition.PARTIAL]) / homes
    )
    with pytest.raises(NotAllowed):
        front(data, Role.COMMITTEE).responses()


def test_a_note_at_the_door_changes_a_homes_outcome_until_it_answers(data: Path) -> None:
    """Nobody there, then a refusal, then an answer after all: the last word counts, and an answer before any note."""
    survey = front(data)
    found = survey.responses()
    home = next(k for k, d in found.dispositions().items() if d is Disposition.UNKNOWN_HOUSEHOLD)
    found.note(home, Contacted.NOBODY, on=date(2026, 5, 1))
    assert found.dispositions()[home] is Disposition.NON_CONTACT
    assert next(w for w in found.walk().stops if w.home_id == home).tried == 1
    found.note(home, Contacted.REFUSED, on=date(2026, 5, 2), words="not interested")
    assert found.dispositions()[home] is Disposition.REFUSAL
    assert home not in {w.home_id for w in found.walk().stops}
    found.note(home, Contacted.NOBODY, on=date(2026, 5, 3))
    assert found.dispositions()[home] is Disposition.REFUSAL, "nobody there later does not undo a refusal"
    given = {"address": survey.home_address(home), "kind": "gas storage", "consent": "yes"}
    survey.answers().submit(given, channel=AnswerChannel.PAPER, home_id=home)
    assert found.dispositions()[home] is Disposition.PARTIAL
    with pytest.raises(LookupError, match="not in this survey"):
        found.note("nowhere", Contacted.NOBODY, on=date(2026, 5, 1))


def test_the_estimate_for_all_homes_holds_the_invented_truth(data: Path, invented: Path) -> None:
    """The 95% interval is wide and holds a share that is possible; phases and days add up."""
    found = front(data).responses()
    twice = found.past_twice()
    phases = found.by_phase()
    days = found.over_time()

    assert 0 <= twice.low < twice.share < twice.high <= 1
    assert sum(p.homes for p in phases) == 120
    assert all(0 < p.needed <= p.homes for p in phases)
    assert all(p.missing == max(0, p.needed - p.told) for p in phases)
    assert sum(s.homes for s in found.by_street()) == 120
    assert sum(s.answered for s in found.by_street()) == sum(p.answered for p in phases)
    shares = found.over_time_by_phase()
    last = {phase: share for phase, _, share in shares}
    for p in phases:
        told = sum(p.rates.counts[d] for d in (Disposition.COMPLETE, Disposition.PARTIAL, Disposition.REFUSAL))
        assert last.get(p.group, 0.0) == pytest.approx(told / p.homes)
    assert [n for _, n in days] == sorted(n for _, n in days)
    assert days[-1][1] == front(data).how_many()[1]


def test_a_walk_visits_every_late_door_once_and_saves_steps(data: Path) -> None:
    """All late homes, in walks of the asked size, on a way not longer than in the order of the addresses."""
    found = front(data).responses()
    walk = found.walk(doors=15)

    assert sorted(s.home_id for s in walk.stops) == sorted(h.home_id for h in found.late())
    assert max(s.stop for s in walk.stops) <= 15
    assert 0 < walk.meters <= walk.meters_by_address
    within = sum(s.meters for s in walk.stops)
    assert within <= walk.meters, "the ways from one walk to the next are not walked"
    phase = walk.stops[0].phase
    assert {s.phase for s in found.walk(phase=phase).stops} == {phase}
    assert found.walk(phase="no such phase").stops == ()


def test_the_two_kinds_of_unknown_are_told_apart(data: Path) -> None:
    """A door that could not be reached is not known to be lived in; a home without its own heater is another thing."""
    found = front(data).responses()
    one, two = [k for k, d in found.dispositions().items() if d is Disposition.UNKNOWN_HOUSEHOLD][:2]
    found.note(one, Contacted.UNREACHED, on=date(2026, 5, 1))
    found.note(two, Contacted.UNSURE, on=date(2026, 5, 1))

    assert found.dispositions()[one] is Disposition.UNKNOWN_HOUSEHOLD
    assert found.dispositions()[two] is Disposition.UNKNOWN_OTHER


def test_deleting_a_home_deletes_the_notes_about_it(data: Path) -> None:
    """What was noted at the door goes with the rest, its words in the change log included."""
    survey = front(data)
    home = next(s.home.home_id for s in survey.standings() if s.answered)
    survey.responses().note(home, Contacted.SPOKE, on=date(2026, 5, 1), words="quokka-4711")
    survey.one_home(home).forget()
    with sqlite3.connect(data / "survey.sqlite") as db:
        assert "quokka-4711" not in "\n".join(db.iterdump())


# ---- letters ----------------------------------------------------------------------


def test_letters_carry_code_form_and_no_secret_in_the_qr(data: Path) -> None:
    """A PDF of two pages a home; the code opens its home; a code made anew voids the one before."""
    survey = front(data)
    homes = [h.home_id for h in open_store(data).homes()][:3]
    first = survey.sign_in_rights().issue_codes(homes)
    paper = letters_pdf(first, survey.sheets().numbers(), survey.state().community, SENDER, texts("en"))
    assert paper.startswith(b"%PDF")
    doors = Doors(open_store(data))
    assert doors.open_home(first[0][1], now=NOW).home_id == first[0][0].home_id
    survey.sign_in_rights().issue_codes(homes)
    with pytest.raises(SignInRefused):
        doors.open_home(first[0][1], now=NOW)
    asked = [q["text"] for section in paper_form(texts("en")) for q in section["questions"]]
    assert "What heats the water?" in asked
    assert len(asked) >= 25


def test_hostile_words_reach_no_markup_in_a_letter(data: Path) -> None:
    """Quotes, Typst and HTML in a community's name are printed."""
    survey = front(data)
    survey.set_up().name_community('#read("/etc/passwd") <script> *x* $1$', synthetic=True)
    home = open_store(data).homes()[0].home_id
    issued = survey.sign_in_rights().issue_codes([home])
    numbers = survey.sheets().numbers()
    assert letters_pdf(issued, numbers, survey.state().community, SENDER, texts("en")).startswith(b"%PDF")


# ---- backup ---------------------------------------------------------------------------


def test_a_backup_taken_in_use_restores_to_the_same_records(data: Path, tmp_path: Path) -> None:
    """While the store is open and written to, the copy is consistent; the restore gives the same standings."""
    survey = front(data)
    before = survey.standings()
    file = tmp_path / "b.zip"
    with survey._context.store.writing(who="v", action="busy", at=NOW) as write:
        write.log("test", "1")
        report = back_up(data, file, now=NOW)
    assert verify_backup(file).rows == report.rows
    restored, aside = restore_backup(file, tmp_path / "new", replace=False, now=NOW)
    assert aside is None
    assert restored.rows == report.rows
    assert front(tmp_path / "new").standings() == before
    assert file.stat().st_mode & 0o077 == 0, "a backup is for its owner's eyes"


@pytest.fixture
def uncollected() -> Iterator[None]:
    """Nothing is tidied from memory while the test runs."""
    gc.disable()
    yield
    gc.enable()


def test_a_backup_lets_go_of_the_records_it_copied(data: Path, tmp_path: Path, uncollected: None) -> None:
    """What it opened is closed when it returns, not when memory is next tidied: a restore would find them in use."""
    back_up(data, tmp_path / "b.zip", now=NOW)
    _, aside = restore_backup(tmp_path / "b.zip", data, replace=True, now=NOW)
    assert aside is not None


def test_a_restore_never_deletes_what_is_there(data: Path, tmp_path: Path) -> None:
    """Without a word it refuses; with --replace the records that were there are set aside, whole."""
    file = tmp_path / "b.zip"
    back_up(data, file, now=NOW)
    survey = front(data)
    survey.set_up().name_community("Changed since", synthetic=True)
    survey._context.store.close()
    with pytest.raises(UnusableBackup, match="holds records already"):
        restore_backup(file, data, replace=False, now=NOW)
    _, aside = restore_backup(file, data, replace=True, now=NOW)
    assert aside is not None
    assert open_store(aside).state().community.name == "Changed since"
    assert open_store(data).state().community.name != "Changed since"


@pytest.mark.parametrize("harm", ["flip", "cut", "foreign", "later", "missing"])
def test_a_damaged_backup_is_refused_before_anything_is_touched(data: Path, tmp_path: Path, harm: str) -> None:
    """A changed byte, a cut file, another zip, a later format, no file: a sentence each, no folder made."""
    file = tmp_path / "b.zip"
    back_up(data, file, now=NOW)
    with zipfile.ZipFile(file) as bundle:
        parts = {n: bundle.read(n) for n in bundle.namelist()}
    if harm == "flip":
        body = bytearray(parts["survey.sqlite"])
        body[len(body) // 2] ^= 0xFF
        parts["survey.sqlite"] = bytes(body)
    elif harm == "foreign":
        parts = {"notes.txt": b"hello"}
    elif harm == "later":
        parts["manifest.json"] = parts["manifest.json"].replace(b'"format": 1', b'"format": 99')
    with zipfile.ZipFile(file, "w") as bundle:
        for name, content in parts.items():
            bundle.writestr(name, content)
    if harm == "cut":
        file.write_bytes(file.read_bytes()[:-2000])
    if harm == "missing":
        file.unlink()
    with pytest.raises(UnusableBackup):
        restore_backup(file, tmp_path / "new", replace=False, now=NOW)
    assert not (tmp_path / "new").exists()


# ---- upgrades ----------------------------------------------------------------------------


@pytest.mark.parametrize("step", ["0001", "0002", "0003"])
def test_records_of_every_earlier_version_are_brought_up_to_date(data: Path, step: str) -> None:
    """Taken back to an earlier step, the same records open, and nothing in them has changed."""
    survey = front(data)
    before = survey.standings()
    answers = len(open_store(data).answers())
    survey._context.store.close()
    config = Config()
    config.set_main_option("script_location", str(Path(survey_app.store.__file__).parent / "migrations"))
    store = open_store(data)
    with store._engine.begin() as connection:
        config.attributes["connection"] = connection
        command.downgrade(config, step)
    store.close()
    assert front(data).standings() == before
    assert len(open_store(data).answers()) == answers


# ---- doors ----------------------------------------------------------------------------------


def test_a_code_is_locked_after_five_wrong_tries_and_says_nothing_of_which_part(data: Path) -> None:
    """Brute force meets a lock; after it has run out, the right code opens again."""
    survey = front(data)
    home = open_store(data).homes()[0].home_id
    ((_, code),) = survey.sign_in_rights().issue_codes([home])
    wrong = code[:-3] + ("AAA" if not code.endswith("AAA") else "BBB")
    doors = Doors(open_store(data))
    said = set()
    for _ in range(7):
        with pytest.raises(SignInRefused) as refused:
            doors.open_home(wrong, now=NOW)
        said.add(str(refused.value))
    with pytest.raises(SignInRefused):
        doors.open_home(code, now=NOW)
    assert doors.open_home(code, now=NOW + timedelta(minutes=20)).home_id == home
    assert not any(home in s for s in said)


def test_a_password_is_changed_only_with_the_old_one(data: Path) -> None:
    """A wrong old password is refused and counted; a weak new one is refused; then the new one alone opens."""
    survey = front(data)
    survey.sign_in_rights().create_account("carla", "three unrelated words", Role.COMMITTEE)
    doors = Doors(open_store(data))
    carla = doors.sign_in("carla", "three unrelated words", now=NOW)
    with pytest.raises(SignInRefused, match="The password now is another one"):
        doors.change_password(carla, "wrong", "four other unrelated words", now=NOW)
    with pytest.raises(SignInRefused, match="without a password of your own"):
        doors.change_password(replace(carla, name="demo committee"), "wrong", "four other unrelated words", now=NOW)
    with pytest.raises(SignInRefused):
        doors.change_password(carla, "three unrelated words", "short", now=NOW)
    doors.change_password(carla, "three unrelated words", "four other unrelated words", now=NOW)
    assert doors.sign_in("carla", "four other unrelated words", now=NOW).role is Role.COMMITTEE
    with pytest.raises(SignInRefused):
        doors.sign_in("carla", "three unrelated words", now=NOW)
    assert "unrelated" not in str(survey.change_log().entries())


def test_the_report_to_the_board_names_no_home_and_no_small_count(data: Path) -> None:
    """Figures, forecast, policies and service days on paper; the committee may have it, a visitor not."""
    report = front(data, Role.COMMITTEE).figures().board_report()
    paper = board_pdf(report, texts("en"))
    addresses = [h.address for h in open_store(data).homes()]

    assert paper.startswith(b"%PDF")
    assert not any(a in str(report.forecast) + str(report.policies) for a in addresses)
    assert all(n is None or n == 0 or n > 10 for n in report.figures.classes.values())
    assert (few(5, 11), few(0, 11), few(11, 11)) == ("fewer than 11", "0", "11")
    told = [visits_done(n, k, 11) for n, k in ((60, 0), (60, 5), (60, 30), (60, 55), (60, 60), (12, 12), (8, 8))]
    assert told == [
        ("60", "0"),
        ("60", "fewer than 11"),
        ("60", "30"),
        ("60", "all but fewer than 11"),
        ("60", "60"),
        ("12", "12"),
        ("fewer than 11", "fewer than 11"),
    ]
    assert fan_svg(report.forecast).count("<polyline") == 1
    assert "RR2" in response_lines(report)[0]
    hidden = replace(report, figures=replace(report.figures, classes={"past twice warranty": None}))
    assert len(response_lines(hidden)) == 1, "no estimate of a class that is not shown"
    drawn = policies_svg(report.policies)
    assert (drawn.count("<rect"), drawn.count("<path")) == (4, 4)
    assert all(str(p.name).capitalize() in drawn for p in report.policies.policies[1:])
    with pytest.raises(NotAllowed):
        Survey(open_store(data), Actor(name="v", role=Role.RESIDENT), now=NOW).figures().board_report()


def test_one_homes_data_are_handed_over_whole_and_no_others(data: Path) -> None:
    """Everything on file for a home as one file of plain data; nothing of a neighbor, no code and no hash."""
    survey = front(data)
    home_id = next(s.home.home_id for s in survey.standings() if s.answered and s.last_maintenance)
    told = json.loads(survey.one_home(home_id).export())

    assert told["home"]["home_id"] == home_id
    assert len(told["answers"]) == len(survey.one_home(home_id).record().answers)
    assert told["heaters"]
    assert told["services"]
    assert "hash" not in json.dumps(told)
    others = [h.address for h in open_store(data).homes() if h.home_id != home_id]
    assert not any(a in json.dumps(told) for a in others)
    with pytest.raises(NotAllowed):
        front(data, Role.COMMITTEE).one_home(home_id)


# ---- differences and privacy ----------------------------------------------------------


def test_answers_that_differ_stand_side_by_side_and_one_decision_is_undone(data: Path) -> None:
    """The lines that differ are shown; keeping one sets the other aside; bringing it back restores the home."""
    survey = front(data)
    home = next(s.home for s in survey.standings() if not s.answered)
    for day, kind, year in (("2026-04-01", "gas storage", "2010"), ("2026-04-20", "electric storage", "2018")):
        given = {"address": home.address, "kind": kind, "installed": year, "answered_on": day, "consent": "yes"}
        assert survey.answers().submit(given, channel=AnswerChannel.PAPER, home_id=home.home_id).stored
    found = survey.differences()
    (mine,) = [d for d in found.all() if d.home.home_id == home.home_id]
    texts_ = dict(mine.lines)
    assert texts_["What heats the water?"] == ("Gas, with a tank", "Electric, with a tank")
    before = survey.one_home(home.home_id).standing()
    first, second = mine.answers
    found.keep(home.home_id, first.answer_id)
    heater = survey.one_home(home.home_id).standing().heater
    assert heater is not None
    assert heater.kind == "gas storage"
    (aside,) = [a for a in found.set_aside_so_far() if a.home_id == home.home_id]
    assert aside.answer.answer_id == second.answer_id
    found.bring_back(second.answer_id)
    assert survey.one_home(home.home_id).standing() == before
    with pytest.raises(LookupError, match="by hand"):
        found.bring_back("nothing")
    with pytest.raises(NotAllowed):
        front(data, Role.COMMITTEE).differences()


def test_every_table_is_told_on_the_privacy_page_or_said_to_be_not_personal(data: Path) -> None:
    """A new table cannot hold people's data without a line of the page about it."""
    with sqlite3.connect(data / "survey.sqlite") as db:
        there = {r[0] for r in db.execute("SELECT name FROM sqlite_master WHERE type='table'")} - {"sqlite_sequence"}
    told = {t for kept in KEPT for t in kept.tables}
    assert told.isdisjoint(NOT_PERSONAL)
    assert there == told | set(NOT_PERSONAL)
    for kept in KEPT:
        for say in (texts("en"), texts("es")):
            assert all(say.has(f"privacy-{kept.key}{part}") for part in ("", ".why", ".who"))


def test_what_is_too_old_is_offered_and_deleted_on_a_volunteers_word(data: Path) -> None:
    """Only homes whose last answer is older than the setting; the committee may not."""
    survey = front(data)
    assert survey.year_end().too_old() == []
    later = front(data, now=NOW + timedelta(days=round(12 * 365.25)))
    old = later.year_end().too_old()
    answered = survey.how_many()[1]
    assert len(old) == answered
    assert later.year_end().forget_too_old() == answered
    assert front(data).how_many()[1] == 0
    with pytest.raises(NotAllowed):
        front(data, Role.COMMITTEE).year_end().too_old()
