"""Pages of the volunteer that keep the survey for years: response, letters, settings."""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path

from streamlit.testing.v1 import AppTest

import survey_app.ui
from survey_app.access import Actor, Role
from survey_app.records import AnswerChannel, Tri
from survey_app.response import Contacted, Disposition
from survey_app.survey import Survey, open_store

APP = Path(survey_app.ui.__file__).with_name("app.py")


def front(place: Path) -> Survey:
    """The records as the volunteer sees them."""
    return Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime.now())


def opened(page: str) -> AppTest:
    """The app with the volunteer come in, on a page."""
    at = AppTest.from_file(str(APP), default_timeout=120).run()
    at.button(key="welcome.volunteer").click().run()
    at.switch_page(f"volunteer/{page}.py").run()
    return at


def errors(at: AppTest) -> list[str]:
    """What went wrong on the page."""
    return [e.value for e in at.error] + [e.message for e in at.exception]


def said(at: AppTest) -> str:
    """Everything a person reads on the page."""
    kinds = ("title", "header", "markdown", "info", "success", "warning", "error")
    return "\n".join(str(e.value) for kind in kinds for e in at.get(kind))


def test_who_answered_shows_rates_and_takes_a_note(place: Path) -> None:
    """RR1 and its kin in words, the estimate with its interval, and a note at a door."""
    at = opened("who_answered")
    assert errors(at) == []
    assert "Response rate RR2" in said(at)
    assert "past twice its warranty" in said(at)
    assert re.search(r"doors in \d+ walks", said(at))
    for part in ("By street", "Over time", "Every rate", "By phase"):
        at.segmented_control(key="answered.part").set_value(part).run()
        assert errors(at) == []
    phase = at.selectbox(key="answered.phase").options[1]
    at.selectbox(key="answered.phase").set_value(phase).run()
    at.number_input(key="answered.doors").set_value(10).run()
    assert errors(at) == []
    box = at.selectbox(key="answered.home")
    address = box.options[0]
    box.set_value(address)
    at.radio(key="answered.outcome").set_value(Contacted.NOBODY)
    next(b for b in at.button if b.form_id == "note").click().run()

    assert errors(at) == []
    assert Disposition.NON_CONTACT in front(place).responses().dispositions().values()


def test_letters_are_made_again_for_one_home(place: Path) -> None:
    """Without an address of the survey nothing is made; with it, a file for the chosen home alone."""
    at = opened("print_letters")
    assert at.button(key="letters.go").disabled
    at.text_input(key="letters.address").input("https://survey.example.org").run()
    assert at.button(key="letters.go").disabled, "nobody to ask"
    at.text_input(key="letters.ask").input("Vera Example, 555-0100").run()
    at.multiselect(key="letters.some").set_value([at.multiselect(key="letters.some").options[0]]).run()
    at.button(key="letters.go").click().run()

    assert errors(at) == []
    assert "Letters made: 1" in said(at)
    assert {str(b.proto.label) for b in at.get("download_button")} == {"Get the letters (PDF)"}


def test_a_setting_is_changed_refused_and_put_back(place: Path) -> None:
    """A possible value is kept and logged; an impossible one is said; the default comes back by one button."""
    at = opened("community_settings")
    at.selectbox(key="settings.name").set_value("flush_every_years").run()
    at.text_input(key="settings.value.flush_every_years.1").input("2").run()
    at.button(key="settings.keep").click().run()
    assert errors(at) == []
    assert front(place).settings().flush_every_years == 2
    assert any(c.action == "change settings" for c in front(place).change_log().entries())
    at.text_input(key="settings.value.flush_every_years.2").input("soon").run()
    at.button(key="settings.keep").click().run()
    assert at.error
    assert front(place).settings().flush_every_years == 2
    at.button(key="settings.default").click().run()
    assert front(place).settings().flush_every_years == 1
    assert at.text_input(key="settings.value.flush_every_years.1").value == "1"


def test_a_setting_that_is_a_word_is_chosen_kept_and_put_back(place: Path) -> None:
    """Whether the water lines are closed is one of three words: picked, logged, and back to not sure by one button."""
    at = opened("community_settings")
    at.selectbox(key="settings.name").set_value("closed_system").run()
    assert at.radio(key="settings.value.closed_system.not sure").options == ["yes", "no", "not sure"]
    at.radio(key="settings.value.closed_system.not sure").set_value("yes").run()
    at.button(key="settings.keep").click().run()
    assert errors(at) == []
    assert front(place).settings().closed_system is Tri.YES
    at.button(key="settings.default").click().run()
    assert front(place).settings().closed_system is Tri.UNKNOWN


def test_settings_travel_as_a_file(place: Path) -> None:
    """A file with one changed line is taken; a file with an unknown line is refused, and nothing changes."""
    at = opened("community_settings")
    at.file_uploader(key="settings.file").upload("s.toml", b"anode_every_years = 3.5\n", "text/plain").run()
    assert "1 settings would change" in said(at)
    at.button(key="settings.take").click().run()
    assert errors(at) == []
    assert front(place).settings().anode_every_years == 3.5
    at.file_uploader(key="settings.file").upload("s.toml", b"colour = 3\n", "text/plain").run()
    assert "settings.take" not in {b.key for b in at.button}
    assert any("no setting 'colour'" in e.value for e in at.error)
    assert front(place).settings().anode_every_years == 3.5


def test_differences_are_settled_and_undone_on_the_page(place: Path) -> None:
    """Keep one answer alone, then bring the other back."""
    survey = front(place)
    home = next(s.home for s in survey.standings() if not s.answered)
    for day, year in (("2026-04-01", "2010"), ("2026-04-20", "2018")):
        given = {"address": home.address, "installed": year, "answered_on": day, "consent": "yes"}
        survey.answers().submit(given, channel=AnswerChannel.PAPER, home_id=home.home_id)
    first = survey.one_home(home.home_id).record().answers[0]
    at = opened("settle_differences")
    at.button(key=f"differ.keep.{first.answer_id}").click().run()
    assert errors(at) == []
    assert len(survey.one_home(home.home_id).record().answers) == 1
    next(b for b in at.button if str(b.key).startswith("differ.back.")).click().run()
    assert errors(at) == []
    assert len(survey.one_home(home.home_id).record().answers) == 2


def test_paper_forms_come_in_the_order_of_the_letters(place: Path) -> None:
    """The first sheet without an answer is there; short codes are stored as what they mean; the next sheet comes."""
    at = opened("enter_paper")
    first, second = front(place).paper_forms().waiting()[:2]
    assert at.text_input(key="paper.0.which").value == first.sheet
    at.text_input(key="paper.0.consent").input("y")
    at.text_input(key="paper.0.kind").input("g")
    at.text_input(key="paper.0.pan").input("/")
    next(b for b in at.button if b.form_id == "paper.0").click().run()
    assert errors(at) == []
    assert at.text_input(key="paper.1.which").value == second.sheet
    assert at.text_input(key="paper.1.kind").value == ""
    (stored,) = open_store(place).answers(home_ids=[first.home_id])
    assert (stored.answer.given["kind"], stored.answer.given["pan"]) == ("gas storage", "not sure")


def test_a_paper_form_of_no_known_home_waits_for_a_decision(place: Path) -> None:
    """An address that fits nowhere may be stored as written; nothing is stored before that is said."""
    at = opened("enter_paper")
    at.text_input(key="paper.0.which").input("7 Nowhere Lane").run()
    assert not [b for b in at.button if b.form_id == "paper.0"]
    pick = next(r for r in at.radio if str(r.key).startswith("paper.0.pick"))
    pick.set_value(pick.options[-1]).run()
    at.text_input(key="paper.0.kind").input("e")
    next(b for b in at.button if b.form_id == "paper.0").click().run()
    assert errors(at) == []
    assert "It waits under" in said(at)
    assert [d.answer.address_as_typed for d in front(place).answers().doubtful()].count("7 Nowhere Lane") == 1


def test_a_code_with_several_meanings_is_asked_about_before_it_is_stored(place: Path) -> None:
    """The label's code alone tells the age: the person picks what it means, and that is the date."""
    at = opened("enter_paper")
    at.text_input(key="paper.0.date_code").input("0512")
    button = next(b for b in at.button if b.form_id == "paper.0")
    button.click().run()
    reading = at.radio(key="paper.0.reading")
    assert len(reading.options) > 2
    reading.set_value(reading.options[0])
    home = front(place).paper_forms().waiting()[0]
    next(b for b in at.button if b.form_id == "paper.0").click().run()
    assert errors(at) == []
    (stored,) = open_store(place).answers(home_ids=[home.home_id])
    assert stored.answer.given["installed"]
    assert stored.answer.given["installed_evidence"] == "date code"


def test_the_change_log_tells_and_takes_back(place: Path) -> None:
    """A note at a door is found under its home, undone with one tap, and the undoing is an entry too."""
    home = front(place).standings()[0].home
    front(place).responses().note(home.home_id, Contacted.NOBODY, on=datetime.now().date(), words="gate")
    at = opened("change_log")
    assert errors(at) == []
    box = at.selectbox(key="log.home")
    box.set_value(next(o for o in box.options if o.upper() == home.address)).run()
    at.selectbox(key="log.act.0").select_index(0).run()
    next(b for b in at.button if str(b.key).startswith("log.undo.")).click().run()
    assert errors(at) == []
    assert "Taken back: note a contact" in said(at)
    assert front(place)._context.store.contact_notes() == []
    assert "undo: note a contact" in str(front(place).change_log().acts(limit=1)[0])


def test_three_quotes_make_the_price_here_and_offers_are_judged_by_it(place: Path) -> None:
    """Set up asks for them; the change is logged; from then on the page on buying calls them "here" and judges."""
    at = opened("set_up")
    at.segmented_control(key="setup.part").set_value("Prices").run()
    assert "national figure" in said(at)
    for which, usd in (("low", 1900.0), ("usual", 2300.0), ("high", 2600.0)):
        at.number_input(key=f"prices.own_price_gas_{which}_usd.0").set_value(usd)
    at.button(key="prices.keep").click().run()
    assert errors(at) == []
    assert "The prices are kept" in said(at)

    resident = AppTest.from_file(str(APP), default_timeout=120).run()
    resident.switch_page("resident/buy_the_next_one.py").run()
    for usd, judged in ((1800.0, "below the usual here"), (2300.0, "about what is usual"), (2700.0, "above the usual")):
        resident.number_input(key="buying.offer").set_value(usd).run()
        assert judged in said(resident)
    assert "price here, of" in said(resident)
