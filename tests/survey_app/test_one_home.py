"""One home's own door: its odds, its record, its corrections, and its right to be forgotten."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from icalendar import Calendar

from survey_app.access import Actor, NotAllowed, Role
from survey_app.forecast import chance_within
from survey_app.joins import JoinState
from survey_app.records import AnswerChannel, Symptom
from survey_app.reports.home_record import due_calendar, record_parts, record_pdf
from survey_app.survey import Survey, open_store
from survey_app.survey.one_home import OneHome
from survey_app.texts import texts

NOW = datetime(2026, 5, 2, 9, 30)
VERA = Actor(name="vera", role=Role.VOLUNTEER)


def front(place: Path, actor: Actor = VERA) -> Survey:
    """The survey of a data folder as an actor."""
    return Survey(open_store(place), actor, now=NOW)


def a_home(place: Path) -> str:
    """A home that answered, with an age known and no symptom."""
    for found in front(place).standings():
        if found.age_years and found.heater and found.heater.kind.has_tank and not found.heater.symptoms:
            return found.home.home_id
    raise AssertionError("the invented community has such a home")


def resident(home_id: str) -> Actor:
    """Somebody whose private code opened this home."""
    return Actor(name="resident", role=Role.RESIDENT, home_id=home_id)


def own(place: Path, home_id: str, language: str = "en", *, later: int = 0) -> OneHome:
    """The home as its own people see it, some seconds later."""
    survey = Survey(open_store(place), resident(home_id), now=NOW + timedelta(seconds=later))
    return survey.one_home(home_id, say=texts(language))


def test_a_code_opens_its_own_home_and_no_other(data: Path) -> None:
    """Neither reading nor deleting another home is possible, whatever its id."""
    mine, other = [s.home.home_id for s in front(data).standings() if s.answered][:2]

    with pytest.raises(NotAllowed, match="opens its own home"):
        front(data, resident(mine)).one_home(other)
    with pytest.raises(NotAllowed):
        front(data, Actor(name="v", role=Role.RESIDENT)).one_home(mine)
    with pytest.raises(NotAllowed):
        front(data, Actor(name="c", role=Role.COMMITTEE)).one_home(mine)


def test_the_odds_are_frequencies_with_a_range_beside_the_neighborhoods(data: Path) -> None:
    """The range holds the estimate; the average is the forecast's own total over all homes."""
    home = own(data, a_home(data))
    found = home.odds()
    everyone = front(data).foresight().forecast().horizon(1).everyone

    assert found is not None
    assert 0 < found.low < found.of_100 < found.high < 100
    assert found.average_of_100 == pytest.approx(100 * everyone.mean / everyone.homes, rel=1e-9)
    assert found.failures == front(data).foresight().forecast().diagnostics.failures


def test_the_odds_grow_with_age_and_with_the_years_ahead(data: Path) -> None:
    """Older heaters fail more, and three years hold more than one; a wider window of age changes little."""
    home = own(data, a_home(data))
    lives, key = home.lives()
    assert lives is not None
    assert key in ("odds-local", "odds-prior")

    means = [chance_within(lives, (age, age, age), 1).mean for age in (2, 6, 10, 14)]
    assert means == sorted(means)
    assert chance_within(lives, (8, 8, 8), 3).mean > chance_within(lives, (8, 8, 8), 1).mean
    narrow, wide = (chance_within(lives, (8 - w, 8, 8 + w), 1).mean for w in (0, 1))
    assert wide == pytest.approx(narrow, rel=0.1)


def test_one_tap_puts_a_symptom_on_file_beside_the_others(data: Path) -> None:
    """What was reported adds up; other answers stay."""
    home = own(data, a_home(data))
    before = home.standing()
    home.report_symptom(Symptom.RUMBLE)
    own(data, home.home_id, later=1).report_symptom(Symptom.LEAK)

    heater = home.standing().heater
    assert heater is not None
    assert set(heater.symptoms) == {Symptom.RUMBLE, Symptom.LEAK}
    assert home.standing().age_years == before.age_years


def test_a_safety_symptom_comes_first_in_the_standing(data: Path) -> None:
    """A relief valve that opened, recorded by one tap, leads the standing from then on."""
    home = own(data, a_home(data))
    home.report_symptom(Symptom.RELIEF_OPENED)

    assert home.standing().comes_first == (Symptom.RELIEF_OPENED,)


def test_an_answer_taken_back_no_longer_counts_and_is_not_lost(data: Path) -> None:
    """The standing follows; the volunteer still has the answer, set aside."""
    home_id = a_home(data)
    home = own(data, home_id)
    for answer in home.record().answers:
        home.take_back(answer.answer_id)

    assert home.standing().heater is None
    aside = open_store(data).answers(join_state=str(JoinState.SET_ASIDE))
    assert aside
    with pytest.raises(LookupError, match="not on file"):
        home.take_back("someone-else")


def test_what_was_taken_back_comes_back_to_its_own_home_alone(data: Path) -> None:
    """Undo restores the standing; another home, or a second undo, brings back nothing."""
    home_id = a_home(data)
    home = own(data, home_id)
    before, standing = home.record().answers, home.standing()
    for answer in before:
        home.take_back(answer.answer_id)
    assert {a.answer_id for a in home.taken_back()} == {a.answer_id for a in before}
    other = next(s.home.home_id for s in front(data).standings() if s.home.home_id != home_id)
    with pytest.raises(LookupError, match="taken back no such answer"):
        own(data, other).bring_back(before[0].answer_id)
    for answer in before:
        home.bring_back(answer.answer_id)

    assert home.record().answers == before
    assert home.standing() == standing
    with pytest.raises(LookupError, match="taken back no such answer"):
        home.bring_back(before[0].answer_id)


def test_what_the_volunteer_set_aside_is_not_the_homes_to_bring_back(data: Path) -> None:
    """A decision of the volunteer stands, also about an answer that the home had taken back before."""
    home = own(data, a_home(data))
    answer_id = home.record().answers[0].answer_id
    home.take_back(answer_id)
    front(data).answers().set_aside(answer_id)

    with pytest.raises(LookupError, match="volunteer has decided"):
        home.bring_back(answer_id)


def test_deleting_reaches_answers_that_were_taken_back_before(data: Path) -> None:
    """Take back, then delete: the phone number is gone from every table, and the answer is counted as deleted."""
    home_id = a_home(data)
    marker = "giraffe-marker-5559876"
    given = {"address": own(data, home_id).home().address, "contact": marker, "consent": "yes"}
    sent = front(data, resident(home_id)).answers().submit(given, channel=AnswerChannel.FORM, home_id=home_id)
    assert sent.checked.answer is not None
    home = own(data, home_id)
    count = len(home.record().answers)
    home.take_back(sent.checked.answer.answer_id)
    assert marker in _dump(data)
    assert marker in home.export()

    assert home.forget() == count
    assert marker not in _dump(data)


def test_deleting_removes_the_persons_words_from_every_table_and_from_the_file(data: Path) -> None:
    """Nothing the home typed is left: not in the tables, not in the change log, not in the bytes of the database."""
    home_id = a_home(data)
    home = own(data, home_id)
    marker = "zebra-marker-5551234"
    given = {"address": home.home().address, "contact": marker, "remarks": marker, "moved_in": "2011", "consent": "yes"}
    front(data, resident(home_id)).answers().submit(given, channel=AnswerChannel.FORM, home_id=home_id)
    assert marker in _dump(data)
    others = front(data).how_many()

    assert home.forget() >= 2

    assert marker not in _dump(data)
    assert home.standing().heater is None
    assert home.home().moved_in is None
    assert not home.record().answers
    assert front(data).how_many() == (others[0], others[1] - 1)
    log = [c for c in front(data).change_log().entries() if c.action == "delete a home's data"]
    assert log
    assert all(c.before is None and c.after is None for c in log)
    told = [c for c in front(data).change_log().entries(limit=100_000) if c.subject_id.startswith(f"{home_id}/heater-")]
    assert told
    assert all(c.before is None and c.after is None for c in told)
    open_store(data)._engine.raw_connection().execute("PRAGMA wal_checkpoint(TRUNCATE)")
    for file in data.iterdir():
        assert marker.encode() not in file.read_bytes(), file.name


def test_deleting_one_home_leaves_every_other_as_it_was(data: Path) -> None:
    """The neighbors' standings and log entries do not change."""
    home_id = a_home(data)
    before = [s for s in front(data).standings() if s.home.home_id != home_id]
    own(data, home_id).forget()

    assert [s for s in front(data).standings() if s.home.home_id != home_id] == before


def _dump(place: Path) -> str:
    with sqlite3.connect(place / "survey.sqlite") as db:
        return "\n".join(db.iterdump())


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_record_holds_every_heater_every_act_and_what_is_due(data: Path, language: str) -> None:
    """All that is on file is on the paper; the PDF is one and carries no script."""
    say = texts(language)
    with_acts = next(
        s.home.home_id for s in front(data).standings() if s.last_maintenance and s.heater and s.heater.kind.has_tank
    )
    record = own(data, with_acts, language).record()
    parts = record_parts(record, say)

    assert len(parts) == len(record.heaters) + 2
    acts = next(p for p in parts if p.heading == say("record-acts"))
    assert len(acts.lines) == len(record.services)
    paper = record_pdf(record, say)
    assert paper.startswith(b"%PDF")
    assert b"/JavaScript" not in paper


def test_hostile_words_in_a_record_are_printed_not_run(data: Path) -> None:
    """Typst markup, code and quotes in an address or finding are text on paper."""
    home_id = a_home(data)
    record = own(data, home_id).record()
    hostile = '#read("/etc/passwd") *x* \\ "quote" $1$ <script>'
    service = replace(record.services[0], findings=hostile) if record.services else None
    bad = replace(
        record, home=replace(record.home, address=hostile), services=(service,) if service else record.services
    )

    assert record_pdf(bad, texts("en")).startswith(b"%PDF")


def test_the_calendar_has_every_known_due_day_with_an_alarm(data: Path) -> None:
    """RFC 5545: one event a due day, in the future, with a display alarm two weeks before."""
    record = next(
        r
        for s in front(data).standings()
        if s.age_years and any(c.on for c in s.cares)
        for r in [own(data, s.home.home_id).record()]
    )
    made = due_calendar(record, texts("en"), now=NOW)
    assert made is not None
    calendar = Calendar.from_ical(made)
    events = calendar.walk("VEVENT")

    assert len(events) >= sum(c.on is not None for c in record.standing.cares)
    for event in events:
        assert event.decoded("dtstart") > NOW.date()
        assert "licensed contractor" in str(event["description"])
        (alarm,) = event.walk("VALARM")
        assert alarm.decoded("trigger") == timedelta(days=-14)
    assert calendar["version"] == "2.0"
    assert len({str(e["uid"]) for e in events}) == len(events)


def test_nothing_due_on_a_known_day_gives_no_calendar(data: Path) -> None:
    """No empty file is handed out."""
    silent = next(s.home.home_id for s in front(data).standings() if not s.answered)

    assert due_calendar(own(data, silent).record(), texts("en"), now=NOW) is None


def test_the_record_can_be_given_as_plain_data(data: Path) -> None:
    """Its parts are plain text, ready for any file."""
    parts = record_parts(own(data, a_home(data)).record(), texts("en"))

    assert json.loads(json.dumps([[p.heading, p.lines] for p in parts]))
