"""Every page opens for its people, does its work, and is closed to everybody else."""

from __future__ import annotations

import json
import os
import re
from datetime import date, datetime
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

import survey_app.ui
from geo.addresses import readable
from survey_app.access import Actor, Role
from survey_app.records import AnswerChannel
from survey_app.survey import Doors, Survey, open_store

APP = Path(survey_app.ui.__file__).with_name("app.py")
VOLUNTEER_PAGES = (
    "what_waits",
    "enter_paper",
    "import_sheet",
    "decide_addresses",
    "whole_map",
    "home_list",
    "answers_that_help",
    "set_up",
)
COMMITTEE_PAGES = ("neighborhood_map", "neighborhood_figures", "foresee_losses", "forecast_against_facts")


def front_door(place: Path) -> Survey:
    """The records as the volunteer sees them, to look at what a page stored."""
    return Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2, 12))


def opened(role: Role | None = None, page: str | None = None) -> AppTest:
    """The app, with somebody come in by a door of the open demo, on a page."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    if role is not None:
        at.button(key=f"welcome.{role}").click().run()
    if page is not None:
        at.switch_page(page).run()
    return at


def texts(at: AppTest) -> str:
    """Everything a person reads on the page."""
    kinds = ("title", "header", "markdown", "info", "success", "warning", "error")
    found = [str(e.value) for kind in kinds for e in at.get(kind)]
    return "\n".join([*found, *(str(e.proto.body) for e in at.get("html"))])


def errors(at: AppTest) -> list[str]:
    """What went wrong on the page."""
    return [e.value for e in at.error] + [e.message for e in at.exception]


def test_the_start_shows_three_doors_and_says_that_it_is_synthetic(place: Path) -> None:
    """Who lives here, who runs the survey, who is on the committee: one click each."""
    at = opened()

    assert errors(at) == []
    assert "Synthetic demo" in texts(at)
    assert "of 120 homes have answered" in texts(at)
    assert {"welcome.volunteer", "welcome.committee"} <= {b.key for b in at.button}


@pytest.mark.parametrize("page", VOLUNTEER_PAGES)
def test_every_page_of_the_volunteer_opens(place: Path, page: str) -> None:
    """No page fails on a community with answers."""
    at = opened(Role.VOLUNTEER, f"volunteer/{page}.py")

    assert errors(at) == []
    assert at.title


@pytest.mark.parametrize("page", COMMITTEE_PAGES)
def test_every_page_of_the_committee_opens(place: Path, page: str) -> None:
    """No page fails on a community with answers."""
    at = opened(Role.COMMITTEE, f"committee/{page}.py")

    assert errors(at) == []
    assert at.title


@pytest.mark.parametrize(
    "page", [*(f"volunteer/{p}.py" for p in VOLUNTEER_PAGES), *(f"committee/{p}.py" for p in COMMITTEE_PAGES)]
)
def test_a_resident_cannot_open_anybody_elses_page(place: Path, page: str) -> None:
    """The page is not in the resident's app, even by its name in the address bar."""
    at = opened()

    with pytest.raises(ValueError, match="Could not find a navigation page"):
        at.switch_page(page)


def test_the_committee_never_reads_an_address(place: Path) -> None:
    """Nothing on the committee's pages names a home."""
    homes = [h.address for h in front_door(place)._context.heater_records()[0]]
    for page in COMMITTEE_PAGES:
        at = opened(Role.COMMITTEE, f"committee/{page}.py")
        shown = texts(at) + str(at.main)

        assert not [a for a in homes if a in shown]


def fill_and_send(at: AppTest, typed: str, **given: str) -> AppTest:
    """Type an address, pick the first that fits, answer, send."""
    pick_address(at, typed)
    for key, text in given.items():
        field = f"answer.{key}"
        if any(e.key == field for e in at.radio):
            at.radio(key=field).set_value(text)
        else:
            at.text_input(key=field).input(text)
    return send(at)


def pick_address(at: AppTest, typed: str) -> None:
    """Type an address and pick the first home that is offered."""
    at.text_input(key="answer.address_typed").input(typed).run()
    first = front_door(Path(os.environ["HEATER_SURVEY_DATA"])).answers().suggest(typed)[0]
    at.radio(key="answer.address_pick").set_value(first.place_id).run()


def send(at: AppTest) -> AppTest:
    """Press Send."""
    next(b for b in at.button if b.label == "Send").click().run()
    return at


def unanswered(place: Path) -> tuple[str, str]:
    """A home that nobody answered for: id and address."""
    return next(
        (s.home.home_id, s.home.address)
        for s in front_door(place).standings()
        if not s.answered and "UNIT" not in s.home.address
    )


def test_a_resident_answers_and_sees_where_the_heater_stands(place: Path) -> None:
    """From the address to the standing, and the answer is in the records under the right home."""
    home, address = unanswered(place)
    at = opened(None, "resident/answer_for_my_home.py")
    fill_and_send(at, address, kind="gas storage", installed="2012", warranty_years="6", consent="yes")

    assert errors(at) == []
    assert "past twice its warranty" in texts(at)
    assert "licensed contractor" in texts(at)
    stored = next(s for s in front_door(place).standings() if s.home.home_id == home)
    assert stored.answered
    assert stored.heater.installed.best.year == 2012


def test_a_contradiction_is_told_and_can_be_overruled_with_a_reason(place: Path) -> None:
    """A heater older than the house is asked about; what was typed stays; a reason lets it stand."""
    home, address = unanswered(place)
    at = opened(None, "resident/answer_for_my_home.py")
    fill_and_send(at, address, kind="gas storage", installed="1985", consent="yes")

    assert "Thank you" not in texts(at)
    assert at.text_input(key="answer.installed").value == "1985"
    reasons = [t for t in at.text_input if t.key.startswith("answer.why.")]
    assert reasons
    for reason in reasons:
        reason.input("it came from my old house")
    send(at)

    assert "Thank you" in texts(at)
    stored = next(s for s in front_door(place).standings() if s.home.home_id == home)
    assert stored.heater.installed.best.year == 1985


def test_a_code_with_several_meanings_is_for_the_person_to_pick(place: Path) -> None:
    """A code that fits as two dates is shown with both; the one picked is stored, as read from a date code."""
    home, address = unanswered(place)
    at = opened(None, "resident/answer_for_my_home.py")
    fill_and_send(at, address, kind="gas storage", date_code="1011", consent="yes")

    assert "Thank you" not in texts(at)
    choices = at.radio(key="answer.reading")
    assert len(choices.options) >= 3  # two readings or more, and "I can't tell"
    choices.set_value(next(one for one in choices.options if "October 2011 (month, then year)" in one))
    send(at)

    assert "Thank you" in texts(at), errors(at)
    stored = next(s for s in front_door(place).standings() if s.home.home_id == home)
    assert stored.heater is not None
    assert "date code" in stored.rests_on
    # Also week 10 and day 11 of 2011: a year is picked, and its months reach from the first of its dates to the last.
    assert stored.heater.installed.earliest == date(2011, 1, 1)


def test_a_smell_of_gas_comes_before_everything_else(place: Path) -> None:
    """The first thing on the page after sending is what to do now."""
    _, address = unanswered(place)
    at = opened(None, "resident/answer_for_my_home.py")
    pick_address(at, address)
    at.pills(key="answer.symptoms").set_value(["smell of gas"])
    send(at)

    body = [e for e in at.main if e.type in ("html", "success", "header")]
    first = next(e for e in body if "First of all" in str(getattr(e.proto, "body", "")))
    assert "Call the gas utility" in first.proto.body
    assert body.index(first) < min(i for i, e in enumerate(body) if e.type == "success")


def test_a_second_answer_without_the_code_changes_nothing_and_waits(place: Path) -> None:
    """Somebody answers for a home that is answered for: the volunteer decides; the stored standing stays."""
    before = next(s for s in front_door(place).standings() if s.answered and s.heater and "UNIT" not in s.home.address)
    waiting = len(front_door(place).answers().doubtful())
    at = opened(None, "resident/answer_for_my_home.py")
    fill_and_send(at, before.home.address, kind="electric storage", installed="2024", consent="yes")

    after = next(s for s in front_door(place).standings() if s.home.home_id == before.home.home_id)
    assert before.heater == after.heater
    assert waiting + 1 == len(front_door(place).answers().doubtful())
    assert "without its private code" in texts(at)


def test_a_private_code_opens_its_own_home(place: Path) -> None:
    """The code shows the stored standing of that home; a wrong one shows nothing."""
    survey = front_door(place)
    known = next(s for s in survey.standings() if s.answered and s.heater)
    code = survey.sign_in_rights().issue_codes([known.home.home_id])[0][1]
    at = opened(None, "resident/my_heater.py")
    at.text_input(key="code.text").input("AAAA-AAAAA-AAAAA")
    at.button[-1].click().run()

    assert "not known" in " ".join(errors(at))
    at.text_input(key="code.text").input(code.lower())
    at.button[-1].click().run()

    assert errors(at) == []
    assert readable(known.home.address) in texts(at)
    assert known.rests_on in texts(at)


def test_the_volunteer_decides_a_doubtful_address(place: Path) -> None:
    """An answer to no known address is joined to a home by hand, and counts from then on."""
    survey = front_door(place)
    home, address = unanswered(place)
    visitor = Survey(survey._context.store, Actor(name="visitor", role=Role.RESIDENT), now=survey.now)
    visitor.answers().submit(
        {"address": "the blue house by the pond", "installed": "2011"}, channel=AnswerChannel.FORM, answer_id="lost"
    )
    at = opened(Role.VOLUNTEER, "volunteer/decide_addresses.py")
    at.selectbox(key="decide.answer").set_value("lost").run()
    at.text_input(key="decide.search.lost").input(address).run()
    at.radio(key="decide.home.lost").set_value(home).run()
    next(b for b in at.button if b.key == "decide.yes.lost").click().run()

    assert errors(at) == []
    assert next(s for s in front_door(place).standings() if s.home.home_id == home).answered


def test_the_volunteer_imports_a_sheet_twice_and_the_second_changes_nothing(place: Path) -> None:
    """The page says what was new and what was there already; rows to mend come back."""
    _, address = unanswered(place)
    sheet = f"address,installed,kind\n{address},2013,gas storage\n{address},2013-99-99,\n".encode()
    at = opened(Role.VOLUNTEER, "volunteer/import_sheet.py")
    at.file_uploader(key="import.file").upload("rows.csv", sheet, "text/csv").run()
    at.button(key="import.go").click().run()

    assert errors(at) == []
    assert re.search(r"2 rows read: 1 new answers stored.*to be mended: 1", texts(at))
    at.button(key="import.go").click().run()
    assert re.search(r"0 new answers stored, 1 were there already", texts(at))


def test_a_sheet_without_an_address_column_gets_a_sentence(place: Path) -> None:
    """No traceback: what is missing, and what to do."""
    at = opened(Role.VOLUNTEER, "volunteer/import_sheet.py")
    at.file_uploader(key="import.file").upload("rows.csv", b"color,size\nred,3\n", "text/csv").run()
    at.button(key="import.go").click().run()

    assert "address" in " ".join(e.value for e in at.error)
    assert not at.exception


def test_the_first_start_forces_a_first_account(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An empty data folder: the volunteer's door makes the first account, the committee's has to wait."""
    monkeypatch.setenv("HEATER_SURVEY_DATA", str(tmp_path / "fresh"))
    st.cache_resource.clear()
    st.cache_data.clear()
    at = opened(None, "committee/committee_sign_in.py")
    assert "set this survey up" in texts(at)
    at.switch_page("volunteer/volunteer_sign_in.py").run()
    code = str(Doors(open_store(tmp_path / "fresh")).set_up_code(now=datetime.now()))
    at.text_input(key="volunteer.name").input("vera")
    at.text_input(key="volunteer.password").input("three unrelated words")
    for wrong in ("", "ABCD-EFGHJ-KMNPQ"):
        at.text_input(key="volunteer.set_up").input(wrong)
        at.button[-1].click().run()
        assert "terminal" in " ".join(errors(at))
    at.text_input(key="volunteer.set_up").input(code)
    at.text_input(key="volunteer.password").input("short")
    at.button[-1].click().run()
    assert "12 characters" in " ".join(errors(at))
    at.text_input(key="volunteer.password").input("three unrelated words")
    at.button[-1].click().run()

    assert errors(at) == []
    assert "There are no homes yet" in texts(at)


def test_a_failing_page_shows_a_sentence_and_no_traceback(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever breaks inside, a person reads one sentence."""

    def broken(self: Survey) -> None:
        raise RuntimeError("disk on fire at /secret/path")

    monkeypatch.setattr(Survey, "figures", broken)
    at = opened(Role.COMMITTEE, "committee/neighborhood_figures.py")

    assert not at.exception
    assert "Something went wrong" in " ".join(e.value for e in at.error)
    assert "/secret/path" not in texts(at)


def test_the_volunteer_loads_parcels_from_an_upload(
    invented: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From an empty folder to homes in the survey; a file that is none gets a sentence."""
    monkeypatch.setenv("HEATER_SURVEY_DATA", str(tmp_path / "fresh"))
    st.cache_resource.clear()
    st.cache_data.clear()
    at = opened(None, "volunteer/volunteer_sign_in.py")
    code = str(Doors(open_store(tmp_path / "fresh")).set_up_code(now=datetime.now()))
    at.text_input(key="volunteer.set_up").input(code)
    at.text_input(key="volunteer.name").input("vera")
    at.text_input(key="volunteer.password").input("three unrelated words")
    at.button[-1].click().run()
    at.switch_page("volunteer/set_up.py").run()
    at.file_uploader(key="setup.parcels").upload("bad.geojson", b"\x00\x01 no parcels", "application/json").run()
    at.button(key="setup.parcels.go").click().run()
    assert at.error
    assert not at.exception
    data = (invented / "parcels.geojson").read_bytes()
    at.file_uploader(key="setup.parcels").upload("parcels.geojson", data, "application/json").run()
    at.button(key="setup.parcels.go").click().run()

    assert errors(at) == []
    assert "with 120 homes" in texts(at)

    whole = json.loads(data)
    half = json.dumps({**whole, "features": whole["features"][: len(whole["features"]) // 2]}).encode()
    at.file_uploader(key="setup.parcels").upload("half.geojson", half, "application/json").run()
    at.button(key="setup.parcels.go").click().run()
    assert "Nothing was changed" in texts(at)
    assert Doors(open_store(tmp_path / "fresh"))._store.how_many()[0] == 120
    at.checkbox(key="setup.parcels.drop").check().run()
    at.button(key="setup.parcels.go").click().run()
    assert errors(at) == []
    assert Doors(open_store(tmp_path / "fresh"))._store.how_many()[0] < 70


@pytest.mark.parametrize("part", ["Name", "Parcels", "Codes", "Old answers"])
def test_every_part_of_the_set_up_opens(place: Path, part: str) -> None:
    """Each part of the page shows without a failure."""
    at = opened(Role.VOLUNTEER, "volunteer/set_up.py")
    at.segmented_control(key="setup.part").set_value(part).run()

    assert errors(at) == []


@pytest.mark.parametrize("part", ["By phase", "By year", "On the map", "What it rests on"])
def test_every_part_of_the_forecast_opens(place: Path, part: str) -> None:
    """Each view of the forecast shows without a failure, and the chart is there with each."""
    at = opened(Role.COMMITTEE, "committee/foresee_losses.py")
    at.segmented_control(key="losses.part").set_value(part).run()

    assert errors(at) == []
    assert "90 % interval" in texts(at)
