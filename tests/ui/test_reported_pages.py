"""What was reported of a heater leads every page about that home, in both languages, until it is settled."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

import survey_app.ui
from geo.addresses import readable
from survey_app.access import Actor, Role
from survey_app.advice.triage import TREE, path_to, step
from survey_app.records import AnswerChannel, Event, EventKind, Symptom
from survey_app.reported import named
from survey_app.survey import Survey, open_store
from survey_app.survey.rereading import reread
from survey_app.symptoms import FINDINGS, SYMPTOMS, Crew, Settled, crew_while, handling, settled_by
from survey_app.texts import texts

APP = Path(survey_app.ui.__file__).with_name("app.py")
PAGES = ("my_heater", "replace_or_wait", "group_offer", "my_record", "flush_and_anode")
EVERYTHING = [*(str(row.symptom) for row in SYMPTOMS), *(row.finding for row in FINDINGS)]
NOW = datetime(2026, 5, 3, 9)


def front(place: Path) -> Survey:
    """The records as the volunteer sees them."""
    return Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=NOW)


def reported(place: Path, what: str) -> str:
    """A home with a tank of known age, of which this was reported on 3 May 2026."""
    home_id = next(
        s.home.home_id
        for s in front(place).standings()
        if s.age_years and s.heater and s.heater.kind.has_tank and not s.reported
    )
    if what in set(map(str, Symptom)):
        front(place).one_home(home_id).report_symptom(Symptom(what))
    else:
        event = Event(event_id="v", home_id=home_id, kind=EventKind.VISIT, on=NOW.date(), told_by="crew", findings=what)
        with front(place)._context.write("close visits") as write:
            write.put([event])
            reread(write, {home_id})
    return home_id


def opened(place: Path, home_id: str) -> AppTest:
    """The app with this home opened by its private code."""
    ((_, code),) = front(place).sign_in_rights().issue_codes([home_id])
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    at.button[-1].click().run()
    return at


def boxes(at: AppTest) -> list[str]:
    """What stands on the page, in order, the head left out."""
    return [str(m.value) for m in at.main.get("markdown")]


def said(at: AppTest) -> str:
    """Everything a person reads on the page."""
    assert not at.exception
    kinds = ("header", "markdown", "info", "success", "warning", "error")
    return "\n".join(
        [str(e.value) for kind in kinds for e in at.get(kind)] + [str(e.proto.body) for e in at.get("html")]
    )


@pytest.mark.parametrize("what", EVERYTHING)
def test_a_report_leads_every_page_of_the_home_until_it_is_settled(place: Path, what: str) -> None:
    """Told with its day, in both languages; no odds and no verdict where it forbids them; settled, it is gone."""
    home_id = reported(place, what)
    forbids = what in set(map(str, Symptom)) and not handling(Symptom(what)).odds
    at = opened(place, home_id)
    for language in ("en", "es"):
        if language == "es":
            at.button(key="head.language.es").click().run()
        say = texts(language)
        line = f"{named(what, say)}.**"
        for page in PAGES:
            at.switch_page(f"resident/{page}.py").run()
            words = said(at)
            assert line in words, page
            assert say.day(NOW.date()) in words, page
            assert (say("reported-no-odds") in words) is forbids, page
            if page == "flush_and_anode":
                # Nobody reads how to drain a tank that nobody should touch before it was looked at.
                stays_away = crew_while(what) is not Crew.COMES
                assert (say("flushing-not-now") in words) is stays_away
                assert (say("flushing-steps-lead") in words) is not stays_away
            if forbids:
                assert say("odds-head") not in words, page
                assert say("decision-ways-head", years=say.number(10)) not in words, page
    at.switch_page("resident/buy_the_next_one.py").run()
    if what in set(map(str, Symptom)) and handling(Symptom(what)).comes_first:
        assert texts("es")("door-first") in said(at), "a danger comes before a purchase, too"
    at.switch_page("resident/my_heater.py").run()
    key = f"reported.{home_id}.{what}"
    if settled_by(what) is not Settled.PEOPLE:
        at.button(key=f"{key}.send").click().run()
        assert texts("es")("reported-wrong-tick") in said(at)
        at.checkbox(key=f"{key}.tick").check()
    at.button(key=f"{key}.send").click().run()
    words = said(at)
    assert texts("es")("reported-thanks") in words
    assert line not in words
    assert texts("es")("odds-head") in words
    assert front(place).one_home(home_id).standing().reported == ()


def test_what_to_do_now_opens_that_outcome_of_the_triage(place: Path) -> None:
    """The next step is one tap away, and every row of the tables has one."""
    at = opened(place, reported(place, str(Symptom.RUSTY_WATER)))
    at.button(key=f"reported.next.{Symptom.RUSTY_WATER}").click().run()
    assert texts("en")("triage-out-rust-hot") in said(at)
    for outcome in [row.outcome for row in SYMPTOMS] + [row.outcome for row in FINDINGS if row.outcome]:
        assert step(path_to(outcome)) is TREE.outcomes[outcome]


def test_the_volunteer_sees_it_first_in_the_list_and_settles_it_for_a_home_that_telephones(place: Path) -> None:
    """The list begins with homes where something stands; a home's request tells it and takes the home's word."""
    home_id = reported(place, str(Symptom.LEAK))
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.button(key="welcome.volunteer").click().run()
    at.switch_page("volunteer/home_list.py").run()
    table = at.dataframe[0].value
    told = list(table["reported"].fillna(""))
    assert str(Symptom.LEAK) in told
    assert told == [t for t in told if t] + [""] * told.count("")

    at.switch_page("volunteer/homes_request.py").run()
    address = readable(front(place).home_address(home_id))
    at.selectbox(key="request.home").select(address).run()
    assert "On May 3, 2026 this home told: water on or under the heater.**" in said(at)
    at.checkbox(key=f"reported.{home_id}.{Symptom.LEAK}.tick").check()
    at.button(key=f"reported.{home_id}.{Symptom.LEAK}.send").click().run()
    assert front(place).one_home(home_id).standing().reported == ()


def test_a_form_that_tells_of_a_leak_says_so_first_and_settles_nothing(place: Path) -> None:
    """Whoever answered without a code reads what was told and what to do, and has no button that closes it."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    survey = Survey(open_store(place), Actor(name="form", role=Role.RESIDENT), now=NOW)
    silent = next(s.home for s in front(place).standings() if not s.answered)
    given = {"address": silent.address, "installed": "2015", "symptoms": str(Symptom.LEAK), "consent": "yes"}
    at.session_state["kept.sent"] = survey.answers().submit(given, channel=AnswerChannel.FORM)
    at.switch_page("resident/answer_for_my_home.py").run()

    assert "On May 3, 2026 you told us: water on or under the heater.**" in said(at)
    assert at.button(key=f"reported.next.{Symptom.LEAK}")
    assert not [b for b in at.button if str(b.key).endswith(".send")]
