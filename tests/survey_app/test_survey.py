"""The front door: who gets in, what is stored, what follows from it."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from geo.parcels import read_parcels
from survey_app.access import Actor, NotAllowed, Role
from survey_app.csv_import import read_rows
from survey_app.intake import reading
from survey_app.joins import JoinState
from survey_app.records import AnswerChannel
from survey_app.reports.standing_table import chart_of_classes
from survey_app.settings import Settings
from survey_app.survey import Doors, HomesWouldGo, SignInRefused, Survey, open_store

NOW = datetime(2026, 5, 2, 9, 30)
VOLUNTEER = Actor(name="vera", role=Role.VOLUNTEER)
COMMITTEE = Actor(name="carl", role=Role.COMMITTEE)
VISITOR = Actor(name="visitor", role=Role.RESIDENT)


def survey(place: Path, actor: Actor = VOLUNTEER, now: datetime = NOW) -> Survey:
    """The survey of a data folder as an actor."""
    return Survey(open_store(place), actor, now=now)


EVERYTHING_PRIVATE = (
    lambda s: s.standings(),
    lambda s: s.figures().totals(),
    lambda s: s.figures().coverage(),
    lambda s: s.figures().whole_map(),
    lambda s: s.figures().outlines(),
    lambda s: s.change_log().entries(),
    lambda s: s.answers().doubtful(),
    lambda s: s.differences().all(),
    lambda s: s.answers().accept("a", "b"),
    lambda s: s.answers().set_aside("a"),
    lambda s: s.sign_in_rights().issue_codes(),
    lambda s: s.sign_in_rights().accounts(),
    lambda s: s.sign_in_rights().create_account("x", "three unrelated words", Role.VOLUNTEER),
    lambda s: s.set_up().change_settings(Settings()),
    lambda s: s.set_up().name_community("x", synthetic=False),
    lambda s: s.set_up().load_streets([]),
    lambda s: s.one_home("R-1").standing(),
    lambda s: s.one_home("R-1").latest_given(),
    lambda s: s.responses(),
    lambda s: s.foresight().what_would_help(),
    lambda s: s.foresight().records_not_used(),
)


@pytest.mark.parametrize("number", range(len(EVERYTHING_PRIVATE)))
@pytest.mark.parametrize("actor", [VISITOR, COMMITTEE, replace(VISITOR, home_id="R-2")])
def test_what_is_the_volunteers_is_closed_to_everybody_else(demo_data: Path, number: int, actor: Actor) -> None:
    """Every method that reads or changes single homes refuses everybody but the volunteer, before it loads anything."""
    with pytest.raises(NotAllowed):
        EVERYTHING_PRIVATE[number](survey(demo_data, actor))


def test_only_the_committee_and_the_volunteer_see_the_public_figures(demo_data: Path) -> None:
    """Aggregates are the committee's; a resident's door does not show them."""
    assert survey(demo_data, COMMITTEE).figures().published().homes == 120
    with pytest.raises(NotAllowed):
        survey(demo_data, VISITOR).figures().published()


def test_published_figures_show_no_small_cell(demo_data: Path) -> None:
    """No count from 1 to 10 appears (CMS Cell Size Suppression Policy, ResDAC, 26 January 2024)."""
    figures = survey(demo_data, COMMITTEE).figures().published()
    shown = [n for n in figures.classes.values() if n is not None] + [n for _, n in figures.phases if n is not None]

    assert all(n == 0 or n > 10 for n in shown)


def test_the_public_map_names_no_home(demo_data: Path) -> None:
    """No address of a home is anywhere in the public page's bytes; the volunteer's page has them."""
    page = survey(demo_data, COMMITTEE).figures().public_map()
    addresses = [h.address for h in survey(demo_data)._context.heater_records()[0]]

    assert not [a for a in addresses if a in page]
    assert re.search(r"synthetic", page, re.IGNORECASE)


def test_a_private_code_opens_its_own_home_and_no_other(data: Path) -> None:
    """The code's actor reads its home; another home's id is refused; a revoked code opens nothing."""
    volunteer = survey(data)
    first, second = [s.home.home_id for s in volunteer.standings()[:2]]
    (_, code), (_, other) = volunteer.sign_in_rights().issue_codes([first, second])
    doors = Doors(open_store(data))
    actor = doors.open_home(code.lower(), now=NOW)

    assert first == actor.home_id
    assert first == survey(data, actor).one_home(first).standing().home.home_id
    with pytest.raises(NotAllowed):
        survey(data, actor).one_home(second).standing()
    volunteer.sign_in_rights().issue_codes([first])
    with pytest.raises(SignInRefused):
        doors.open_home(code, now=NOW)
    assert second == doors.open_home(other, now=NOW).home_id


def test_codes_are_stored_only_as_hashes(data: Path) -> None:
    """Nothing in the data folder holds a code's secret part in plain text."""
    code = survey(data).sign_in_rights().issue_codes([open_store(data).homes()[0].home_id])[0][1]
    secret = code.replace("-", "")[4:]
    blob = b"".join(p.read_bytes() for p in data.iterdir() if p.is_file())

    assert secret.encode() not in blob
    assert code.encode() not in blob


def test_guessing_a_code_is_locked_out(data: Path) -> None:
    """Five wrong tries lock the home's code, also against the right one, for a quarter of an hour."""
    code = survey(data).sign_in_rights().issue_codes([open_store(data).homes()[0].home_id])[0][1]
    doors = Doors(open_store(data))
    wrong = code[:-1] + ("A" if code[-1] != "A" else "B")
    for _ in range(5):
        with pytest.raises(SignInRefused, match="not known"):
            doors.open_home(wrong, now=NOW)

    with pytest.raises(SignInRefused, match="15 minutes"):
        doors.open_home(code, now=NOW + timedelta(minutes=14))
    assert doors.open_home(code, now=NOW + timedelta(minutes=16))


def test_guessing_a_password_is_locked_out(tmp_path: Path) -> None:
    """The same for accounts; the refusal never says whether the name or the password was wrong."""
    doors = Doors(open_store(tmp_path / "data"))
    doors.create_first_account(str(doors.set_up_code(now=NOW)), "vera", "three unrelated words", now=NOW)
    messages = set()
    for name in ("vera", "vera", "vera", "vera", "vera", "nobody"):
        with pytest.raises(SignInRefused) as refusal:
            doors.sign_in(name, "wrong password here", now=NOW)
        messages.add(str(refusal.value))

    assert len(messages) == 1
    with pytest.raises(SignInRefused, match="15 minutes"):
        doors.sign_in("vera", "three unrelated words", now=NOW)
    assert Role.VOLUNTEER is doors.sign_in("vera", "three unrelated words", now=NOW + timedelta(hours=1)).role


def test_there_is_only_one_first_account(tmp_path: Path) -> None:
    """Whoever comes second cannot make themselves a volunteer."""
    doors = Doors(open_store(tmp_path / "data"))
    code = str(doors.set_up_code(now=NOW))
    doors.create_first_account(code, "vera", "three unrelated words", now=NOW)

    with pytest.raises(SignInRefused, match="exists already"):
        doors.create_first_account(code, "mallory", "three unrelated words", now=NOW)
    assert doors.set_up_code(now=NOW) is None


def test_the_doors_stand_open_only_for_a_synthetic_community(data: Path) -> None:
    """A real community cannot be left open, whatever is asked for."""
    assert Doors(open_store(data)).is_open_demo()
    survey(data).set_up().name_community("A real place", synthetic=False, open_doors=True)

    assert not Doors(open_store(data)).is_open_demo()
    with pytest.raises(SignInRefused):
        Doors(open_store(data)).step_in(Role.VOLUNTEER)


def test_sending_the_same_answer_twice_stores_it_once(data: Path) -> None:
    """A double tap on Send, or a retry after a lost connection, is one answer."""
    volunteer = survey(data)
    home = next(s.home for s in volunteer.standings() if not s.answered)
    for _ in range(2):
        volunteer.answers().submit(
            {"address": home.address, "installed": "2012"}, channel=AnswerChannel.PAPER, answer_id="x1"
        )

    assert len(list(volunteer._context.store.answers(home_ids=[home.home_id]))) == 1


def test_one_submission_is_read_once(data: Path) -> None:
    """Checked, told of, stored and read into the home's history: the answer's words are parsed one time."""
    home = open_store(data).homes()[0]
    given = {"address": home.address, "installed": "about 2012", "symptoms": "rumbling or popping", "consent": "yes"}
    reading._understood.cache_clear()
    sent = survey(data, VOLUNTEER).answers()
    sent.check_answer(given, home_id=home.home_id)
    assert sent.submit(given, channel=AnswerChannel.FORM, home_id=home.home_id).standing is not None

    others = [s for s in open_store(data).answers(home_ids=[home.home_id]) if s.answer.given != given]
    assert reading._understood.cache_info().misses == 1 + len(others)


def test_a_visitor_sees_nothing_stored_about_the_home(data: Path) -> None:
    """The standing after sending rests on what was sent alone, also where others told more."""
    known = next(s for s in survey(data).standings() if s.answered and s.age_years)
    sent = (
        survey(data, VISITOR)
        .answers()
        .submit(
            {"address": known.home.address, "kind": "gas storage"},
            channel=AnswerChannel.FORM,
            home_id=known.home.home_id,
        )
    )

    assert sent.stored
    assert sent.join is not None
    assert JoinState.SECOND is sent.join.state
    assert sent.standing is not None
    assert sent.standing.age_years is None


def test_importing_the_same_file_twice_changes_nothing(data: Path, invented: Path) -> None:
    """The second import of the sheet that built the demo finds every answer there already."""
    volunteer = survey(data)
    before = volunteer.standings()
    report = volunteer.answers().import_answers(read_rows(invented / "answers.csv"))

    assert report.new == 0
    assert report.already_there > 0
    assert before == volunteer.standings()


def test_loading_the_parcels_again_keeps_every_answer(data: Path, invented: Path) -> None:
    """The county's next file: homes, answers and what people told stay."""
    volunteer = survey(data)
    before = volunteer.standings()
    volunteer.set_up().load_parcels(read_parcels(invented / "parcels.geojson"))

    assert before == volunteer.standings()


def test_another_year_of_the_house_makes_its_first_heater_as_old(data: Path, invented: Path) -> None:
    """The county corrects a year: an answer that names the house means the corrected one, and the forecast follows."""
    volunteer = survey(data)
    home = next(s.home for s in volunteer.standings() if not s.answered and s.home.built_year)
    given = {"address": home.address, "installed": "with the house", "heater_number": "first", "consent": "yes"}
    volunteer.answers().submit(given, channel=AnswerChannel.PAPER, home_id=home.home_id)
    file = read_parcels(invented / "parcels.geojson")
    corrected = file.parcels.copy()
    corrected.loc[corrected["parcel_id"] == home.parcel_id, "built_year"] = home.built_year - 9

    def year() -> int:
        heater = volunteer.one_home(home.home_id).standing().heater
        assert heater is not None
        assert heater.installed is not None
        return heater.installed.best.year

    assert abs(year() - home.built_year) <= 1
    volunteer.set_up().load_parcels(replace(file, parcels=corrected))
    assert abs(year() - (home.built_year - 9)) <= 1


def test_a_parcel_that_vanishes_keeps_its_answered_home(data: Path, invented: Path) -> None:
    """Homes with answers are never dropped with their parcel; silent ones go only when that is said."""
    volunteer = survey(data)
    file = read_parcels(invented / "parcels.geojson")
    some = {s.home.parcel_id for s in volunteer.standings() if s.answered and "/" not in s.home.home_id}
    gone = sorted(some)[0]
    silent = sorted(
        {s.home.parcel_id for s in volunteer.standings()}
        - {s.home.parcel_id for s in volunteer.standings() if s.answered}
    )[0]
    rest = file.parcels[~file.parcels["parcel_id"].isin([gone, silent])].reset_index(drop=True)
    smaller = replace(file, parcels=rest)
    before, version = volunteer.standings(), volunteer.state().data_version
    with pytest.raises(HomesWouldGo, match="not in that file: 1 ") as told:
        volunteer.set_up().load_parcels(smaller)
    assert (volunteer.standings(), volunteer.state().data_version) == (before, version)
    assert [s.home.address for s in before if s.home.parcel_id == silent] == list(told.value.addresses)

    report = volunteer.set_up().load_parcels(smaller, drop_missing=True)

    assert len(report.kept_without_parcel) == 1
    homes = {s.home.parcel_id for s in volunteer.standings()}
    assert gone in homes
    assert silent not in homes


def test_a_decision_can_be_taken_back(data: Path) -> None:
    """Accepting a doubtful answer changes the standing; setting it aside restores it; the log has both."""
    volunteer = survey(data)
    home = next(s.home for s in volunteer.standings() if not s.answered)
    volunteer.answers().submit(
        {"address": "the blue house", "installed": "2011"}, channel=AnswerChannel.PAPER, answer_id="lost"
    )
    before = volunteer.one_home(home.home_id).standing()
    volunteer.answers().accept("lost", home.home_id)
    assert volunteer.one_home(home.home_id).standing().answered
    volunteer.answers().set_aside("lost")

    assert before == volunteer.one_home(home.home_id).standing()
    assert (
        len([c for c in volunteer.change_log().entries() if c.action == "decide an address" and c.subject_id == "lost"])
        == 2
    )


def test_the_demo_joins_without_a_wrong_house(data: Path, invented: Path) -> None:
    """Against the invented community's truth: no answer sits at a home it is not about."""
    import csv

    volunteer = survey(data)
    with (invented / "truth" / "answers_join.csv").open(newline="", encoding="utf-8") as file:
        truth = list(csv.DictReader(file))
    with (invented / "answers.csv").open(newline="", encoding="utf-8") as file:
        typed = [row["address"] for row in csv.DictReader(file)]
    want: dict[str, set[str]] = {}
    for address, row in zip(typed, truth, strict=True):
        home = f"{row['parcel_no']}/{row['unit']}" if row["unit"] else row["parcel_no"]
        want.setdefault(" ".join(address.split()), set()).add(home)
    stored = volunteer._context.store.answers(join_state="joined")

    assert len(stored) > 30
    for item in stored:
        assert item.answer.home_id in want[" ".join(item.answer.address_as_typed.split())]


def test_settings_change_the_standing_and_are_logged(data: Path) -> None:
    """A longer assumed warranty moves homes out of "past twice", and the log holds both values."""
    volunteer = survey(data)
    before = volunteer.figures().totals()["past twice warranty"]
    volunteer.set_up().change_settings(Settings(default_warranty_years=14))

    assert volunteer.figures().totals()["past twice warranty"] < before
    assert "default_warranty_years" in str(volunteer.change_log().entries(limit=2))


def test_the_forecast_the_committee_sees_names_no_home(data: Path) -> None:
    """Neither its values nor its JSON hold a home's id; chances by home are left out."""
    found = survey(data, COMMITTEE).foresight().forecast()
    ids = [h.home_id for h in survey(data)._context.heater_records()[0]]

    assert found.homes == 120
    assert found.chances == ()
    told = str(found.to_dict()) + repr(found) + survey(data, COMMITTEE).foresight().losses_map()
    assert not [i for i in ids if i in told]


def test_a_resident_sees_no_forecast_of_the_community(data: Path) -> None:
    """Figures for the community are the committee's and the volunteer's."""
    for ask in (
        lambda s: s.foresight().forecast(),
        lambda s: s.foresight().losses_map(),
        lambda s: s.foresight().look_back(NOW.date()),
    ):
        with pytest.raises(NotAllowed):
            ask(survey(data, VISITOR))


def test_a_second_answer_is_checked_against_the_houses_year_too(data: Path) -> None:
    """The year is public, so a heater older than the house is asked about, whoever answers."""
    known = next(s for s in survey(data).standings() if s.answered and s.home.built_year)
    sent = (
        survey(data, VISITOR)
        .answers()
        .submit(
            {"address": known.home.address, "installed": "1985"}, channel=AnswerChannel.FORM, home_id=known.home.home_id
        )
    )

    assert not sent.stored
    assert [p for p in sent.checked.blocking if p.field == "installed"]


def test_the_chart_of_classes_names_every_bar_and_draws_no_hidden_one() -> None:
    """A class that is not shown has no bar whose length could be read; the others carry their number."""
    chart = chart_of_classes({"in warranty": 251, "past warranty": None, "past twice warranty": None, "no answer": 0})

    assert [v["standing"] for v in chart["data"]["values"]] == ["in warranty", "no answer"]
    assert chart["layer"][1]["encoding"]["text"]["field"] == "homes"
    assert chart["encoding"]["y"]["axis"]["labelLimit"] >= 150, "room for the longest name"
