"""What a volunteer meets in the course of a year: the order of the pages, empty states, what is said after each act."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

import survey_app.ui
from geo.addresses import readable
from survey_app.access import Actor, Role
from survey_app.records import AnswerChannel
from survey_app.settings import Settings, explain
from survey_app.survey import Doors, Survey, open_store

APP = Path(survey_app.ui.__file__).with_name("app.py")
NEEDS_HOMES = (
    "what_waits",
    "print_letters",
    "who_answered",
    "answers_that_help",
    "enter_paper",
    "import_sheet",
    "home_list",
    "homes_request",
)


@pytest.fixture
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> AppTest:
    """The first volunteer, signed in on a data folder that holds nothing yet."""
    monkeypatch.setenv("HEATER_SURVEY_DATA", str(tmp_path / "fresh"))
    st.cache_data.clear()
    st.cache_resource.clear()
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.switch_page("volunteer/volunteer_sign_in.py").run()
    code = str(Doors(open_store(tmp_path / "fresh")).set_up_code(now=datetime.now()))
    at.text_input(key="volunteer.set_up").input(code)
    at.text_input(key="volunteer.name").input("vera")
    at.text_input(key="volunteer.password").input("three unrelated words")
    at.button[-1].click().run()
    return at


def front(place: Path) -> Survey:
    """The records as the volunteer sees them."""
    return Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime.now())


def opened(page: str, role: str = "volunteer") -> AppTest:
    """The app with somebody come in by an open door, on a page."""
    at = AppTest.from_file(str(APP), default_timeout=120).run()
    at.button(key=f"welcome.{role}").click().run()
    at.switch_page(page).run()
    return at


def wrong(at: AppTest) -> list[str]:
    """What went wrong on the page."""
    return [e.value for e in at.error] + [e.message for e in at.exception]


def said(at: AppTest) -> str:
    """Everything a person reads on the page."""
    kinds = ("title", "header", "markdown", "info", "success", "warning", "error")
    return "\n".join(str(e.value) for kind in kinds for e in at.get(kind))


def pages(at: AppTest, role: str) -> dict[str, list[str]]:
    """The list of pages as somebody sees it: titles by head."""
    made = at.session_state[f"once.pages.en.{role}"]
    return {head: [p.title for p in some] for head, some in made.items()}


def test_the_volunteers_pages_stand_in_the_order_of_the_work(place: Path) -> None:
    """Heads in the order of a year, the way to help above them, every page once; committee and residents after."""
    found = pages(opened("volunteer/what_waits.py"), "volunteer")

    assert found[""] == ["Start", "Leaking now"]
    assert list(found)[1:7] == ["Volunteer", "Prepare", "Letters and doors", "Collect", "Check", "Keep and hand over"]
    assert list(found)[7:] == ["Committee", "Resident"]
    flat = [title for some in found.values() for title in some]
    assert len(flat) == len(set(flat))
    in_order = ["Set up", "Print letters", "Enter a paper form", "Decide doubtful addresses", "Change log", "Hand over"]
    assert sorted(in_order, key=flat.index) == in_order


def test_the_committee_finds_its_pages_before_those_of_residents(place: Path) -> None:
    """The committee's work comes first, with its password; no page of the volunteer but the door."""
    found = pages(opened("committee/neighborhood_figures.py", "committee"), "committee")

    assert list(found) == ["", "Committee", "Resident", "Volunteer"]
    assert found["Committee"][-1] == "My password"
    assert found["Volunteer"] == ["Volunteer: sign in"]


@pytest.mark.parametrize("page", NEEDS_HOMES)
def test_a_page_that_needs_homes_leads_to_the_set_up_where_there_are_none(empty: AppTest, page: str) -> None:
    """Nobody reads that every home has answered while there are no homes."""
    empty.switch_page(f"volunteer/{page}.py").run()

    assert wrong(empty) == []
    assert "There are no homes yet" in said(empty)
    assert not [words for words in ("has answered", "late here", "taken as lived in") if words in said(empty)]


def test_streets_are_loaded_on_the_page(place: Path, invented: Path) -> None:
    """A street file is stored and counted; one that holds no lines gets a sentence and changes nothing."""
    at = opened("volunteer/set_up.py")
    at.segmented_control(key="setup.part").set_value("Streets").run()
    parcels = (invented / "parcels.geojson").read_bytes()
    at.file_uploader(key="setup.streets").upload("s.geojson", parcels, "application/json").run()
    at.button(key="setup.streets.go").click().run()
    assert "holds no street lines" in " ".join(wrong(at))
    assert open_store(place).streets() == []
    streets = (invented / "streets.geojson").read_bytes()
    at.file_uploader(key="setup.streets").upload("s.geojson", streets, "application/json").run()
    at.button(key="setup.streets.go").click().run()

    assert wrong(at) == []
    count = len(json.loads(streets)["features"])
    assert len(open_store(place).streets()) == count
    assert f"{count} lines of streets are loaded." in said(at)


def test_settings_are_never_older_on_the_page_than_what_was_just_kept(place: Path) -> None:
    """After contacts or a value are kept, the page counts and the file to save holds them: no import wipes them out."""
    at = opened("volunteer/community_settings.py")
    assert f"0 of {len(explain(Settings()))}" in said(at)
    at.text_input(key="contacts.gas_utility").input("Example Gas, 555-0111")
    next(b for b in at.button if b.form_id == "contacts").click().run()
    assert wrong(at) == []
    assert "Kept. The change is in the log. Cards" in said(at)
    same = b'[contacts]\ngas_utility = "Example Gas, 555-0111"\n'
    at.file_uploader(key="settings.file").upload("s.toml", same, "text/plain").run()
    assert "0 settings would change" in said(at)
    at.text_input(key="settings.value.default_warranty_years.6").input("9").run()
    at.button(key="settings.keep").click().run()

    assert f"1 of {len(explain(Settings()))} settings differ" in said(at)
    shown = str(at.dataframe[0].value["setting"].tolist())
    assert "default warranty years" in shown


def test_new_codes_for_all_are_made_only_after_a_yes_where_codes_work(place: Path, quick_hashes: None) -> None:
    """Letters that are out are not made void by one tap; the homes without a code can be printed by themselves."""
    survey = front(place)
    homes = open_store(place).homes()
    survey.sign_in_rights().issue_codes([h.home_id for h in homes[:3]])
    at = opened("volunteer/print_letters.py")
    at.text_input(key="letters.address").input("https://survey.example.org").run()
    at.text_input(key="letters.ask").input("Vera Example, 555-0100").run()
    assert at.button(key="letters.go").disabled
    assert all(o != o.upper() for o in at.multiselect(key="letters.some").options)
    at.checkbox(key="letters.without").check().run()
    assert not at.button(key="letters.go").disabled
    before = set(survey.sign_in_rights().without_code())
    at.button(key="letters.go").click().run()

    assert wrong(at) == []
    assert f"Letters made: {len(before)}" in said(at)
    assert survey.sign_in_rights().without_code() == []


def test_the_set_up_asks_before_it_makes_codes_void(place: Path) -> None:
    """With no codes yet the list is made at once; afterwards only with a yes."""
    at = opened("volunteer/set_up.py")
    at.segmented_control(key="setup.part").set_value("Codes").run()
    assert not at.button(key="setup.codes").disabled
    front(place).sign_in_rights().issue_codes([open_store(place).homes()[0].home_id])
    at.run()
    assert at.button(key="setup.codes").disabled
    at.checkbox(key="setup.sure").check().run()

    assert not at.button(key="setup.codes").disabled


def test_a_note_without_its_outcome_is_asked_for_and_a_full_one_is_confirmed(place: Path) -> None:
    """Nothing is lost in silence at the door; addresses read as people write them."""
    at = opened("volunteer/who_answered.py")
    box = at.selectbox(key="answered.home")
    assert all(o == readable(o.upper()) for o in box.options)
    box.set_value(box.options[0])
    next(b for b in at.button if b.form_id == "note").click().run()
    assert any("Choose the home and what came of it" in w.value for w in at.warning)
    assert front(place)._context.store.contact_notes() == []
    at.radio(key="answered.outcome").set_value(at.radio(key="answered.outcome").options[0])
    next(b for b in at.button if b.form_id == "note").click().run()

    assert wrong(at) == []
    assert "Noted: " in said(at)
    assert len(front(place)._context.store.contact_notes()) == 1


def test_a_doubtful_answer_is_shown_in_the_words_of_the_form(place: Path) -> None:
    """Questions instead of keys, labels instead of stored values, addresses as people read them."""
    visitor = Survey(open_store(place), Actor(name="visitor", role=Role.RESIDENT), now=datetime.now())
    home = open_store(place).homes()[0]
    number, street = home.address.split(" ", 1)
    visitor.answers().submit(
        {"address": f"{number}1 {street}", "kind": "gas storage", "installed": "2011", "auto_shutoff": "no"},
        channel=AnswerChannel.FORM,
        answer_id="odd",
    )
    at = opened("volunteer/decide_addresses.py")
    at.selectbox(key="decide.answer").set_value("odd").run()

    assert wrong(at) == []
    assert "Is there an automatic water shut-off? **No**" in said(at)
    assert "auto_shutoff" not in said(at)
    assert all(o.split(" (")[0] == readable(o.split(" (")[0].upper()) for o in at.radio(key="decide.home.odd").options)


def test_rows_to_mend_are_told_in_full_sentences(place: Path) -> None:
    """The reason stands on the page as text, not in a cell that cuts it off."""
    address = front(place).standings()[0].home.address
    sheet = f"address,installed,kind\n{address},soonish,gas storage\n".encode()
    at = opened("volunteer/import_sheet.py")
    at.file_uploader(key="import.file").upload("rows.csv", sheet, "text/csv").run()
    at.button(key="import.go").click().run()

    assert wrong(at) == []
    assert "**Row 2.** " in said(at)
    assert 'cannot be read as an answer to "When was it installed?"' in said(at)


def test_a_homes_record_is_handed_out_on_paper_too(place: Path) -> None:
    """Who asks at the door gets a sheet to read, not only a file for a computer."""
    home = next(s.home for s in front(place).standings() if s.answered)
    at = opened("volunteer/homes_request.py")
    at.selectbox(key="request.home").select(readable(home.address)).run()

    assert wrong(at) == []
    labels = [str(b.proto.label) for b in at.get("download_button")]
    assert labels == ["What is on file, to print (PDF)", "Everything on file, for a computer (JSON)"]


def test_after_an_undo_no_entry_is_chosen_and_the_undo_can_be_undone(place: Path) -> None:
    """A second tap does not meet an act that is undone already; undoing the undo brings the answers back."""
    before = front(place).how_many()
    address = next(s.home.address for s in front(place).standings() if not s.answered)
    front(place).answers().submit({"address": address, "installed": "2012"}, channel=AnswerChannel.PAPER)
    at = opened("volunteer/change_log.py")
    assert not [b for b in at.button if str(b.key).startswith("log.undo")]
    for turn in (0, 1):
        box = at.selectbox(key=f"log.act.{turn}")
        box.select_index(0).run()
        next(b for b in at.button if str(b.key).startswith("log.undo")).click().run()
        assert wrong(at) == []
        assert not [b for b in at.button if str(b.key).startswith("log.undo")]
        answered = front(place).how_many()[1]
        assert answered == before[1] + turn


def test_a_sign_in_that_has_ended_is_said_once_and_signing_out_is_not(place: Path) -> None:
    """Who is put out reads why the pages are gone; who leaves needs no telling."""
    doors = Doors(open_store(place))
    front(place).set_up().name_community("Fold (synthetic)", synthetic=True, open_doors=False)
    code = str(doors.set_up_code(now=datetime.now()))
    doors.create_first_account(code, "vera", "three unrelated words", now=datetime.now())
    rights = front(place).sign_in_rights()
    rights.create_account("walt", "four other unrelated words", Role.VOLUNTEER)
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    for act in ("removed", "leaves"):
        name, password = (
            ("walt", "four other unrelated words") if act == "removed" else ("vera", "three unrelated words")
        )
        at.switch_page("volunteer/volunteer_sign_in.py").run()
        at.text_input(key="volunteer.name").input(name)
        at.text_input(key="volunteer.password").input(password)
        at.button(key="volunteer.go").click().run()
        assert f"Signed in: {name}" in said(at)
        if act == "removed":
            rights.remove_account("walt")
            at.run()
        else:
            at.button(key="head.sign_out").click().run()
        assert ("You are signed out" in said(at)) is (act == "removed")
        at.run()
        assert "You are signed out" not in said(at)


def test_the_hand_over_links_to_what_is_left(place: Path) -> None:
    """Each step still to do has the way to its page; settings are named in words."""
    front(place).set_up().change_settings(front(place).settings().model_copy(update={"default_warranty_years": 9.0}))
    at = opened("volunteer/hand_over.py")

    assert wrong(at) == []
    labels = {str(link.proto.label) for link in at.get("page_link")}
    assert {"Print letters", "Who may sign in"} <= labels
    assert "default warranty years" in said(at)
