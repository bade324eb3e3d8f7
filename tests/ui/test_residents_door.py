"""The resident's door: my heater, my record, in English and in Spanish, and the way to help from every page."""

from __future__ import annotations

import os
import re
from datetime import date, datetime, timedelta
from html import escape
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

import survey_app.ui
from survey_app.access import Actor, Role
from survey_app.service_days import FLUSH_AND_ANODE, Asked
from survey_app.settings import with_contacts
from survey_app.survey import Survey, open_store
from survey_app.texts import texts

APP = Path(survey_app.ui.__file__).with_name("app.py")
PAGES = (
    "leaking_now",
    "something_is_wrong",
    "answer_for_my_home",
    "my_heater",
    "replace_or_wait",
    "buy_the_next_one",
    "flush_and_anode",
    "my_record",
    "group_offer",
    "who_sees_what",
)


def front(place: Path) -> Survey:
    """The records as the volunteer sees them."""
    return Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2, 12))


def aged_home(place: Path) -> str:
    """A home with a tank of known age."""
    return next(
        s.home.home_id
        for s in front(place).standings()
        if s.age_years and s.heater and s.heater.kind.has_tank and not s.heater.symptoms
    )


def at_home(place: Path, home_id: str, *, spanish: bool = False) -> AppTest:
    """The app with a home opened by its private code."""
    ((_, code),) = front(place).sign_in_rights().issue_codes([home_id])
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    if spanish:
        at.button(key="head.language.es").click().run()
    at.switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    at.button[-1].click().run()
    assert errors(at) == []
    return at


def said(at: AppTest) -> str:
    """Everything a person reads on the page."""
    kinds = ("title", "header", "markdown", "info", "success", "warning", "error")
    return "\n".join(
        [str(e.value) for kind in kinds for e in at.get(kind)] + [str(e.proto.body) for e in at.get("html")]
    )


def errors(at: AppTest) -> list[str]:
    """What went wrong on the page."""
    return [e.value for e in at.error] + [e.message for e in at.exception]


@pytest.mark.parametrize("spanish", [False, True], ids=["en", "es"])
@pytest.mark.parametrize("page", PAGES)
def test_every_page_opens_without_a_code_and_leads_to_help(place: Path, page: str, spanish: bool) -> None:
    """A visitor sees no error on any page; the way to "leaking now" is first on each other; Spanish is unreviewed."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    if spanish:
        at.button(key="head.language.es").click().run()
    at.switch_page(f"resident/{page}.py").run()

    assert errors(at) == []
    help_link = texts("es" if spanish else "en")("door-leaking")
    links = [str(e.proto.label) for e in at.get("page_link")]
    assert (links[0] == f"**{help_link}**") is (page != "leaking_now")
    assert ("hablante nativo" in said(at)) is spanish


@pytest.mark.parametrize("spanish", [False, True], ids=["en", "es"])
@pytest.mark.parametrize("page", PAGES)
def test_every_page_opens_for_a_home_with_its_code(place: Path, page: str, spanish: bool) -> None:
    """With a home open, no page fails, in either language."""
    at = at_home(place, aged_home(place), spanish=spanish)
    at.switch_page(f"resident/{page}.py").run()

    assert errors(at) == []


def test_my_heater_says_the_odds_in_words_with_the_neighborhoods_average(place: Path) -> None:
    """Frequencies with a range, the average, what it rests on, and one picture with its words."""
    at = at_home(place, aged_home(place))
    text = said(at)

    assert "Of 100 heaters like yours, about" in text
    assert "The average of this neighborhood is" in text
    assert text.count("●") > 0
    assert "Nobody can say which ones" in text
    assert "Before anyone touches a heater" in text


def test_a_record_is_deleted_only_after_a_second_yes(place: Path) -> None:
    """The button is closed until the box is ticked; then everything about the home is gone, and it is said."""
    home_id = aged_home(place)
    at = at_home(place, home_id)
    at.switch_page("resident/my_record.py").run()
    assert at.button(key="record.delete").disabled
    at.checkbox(key="record.sure").check().run()
    at.button(key="record.delete").click().run()

    assert errors(at) == []
    assert "Deleted:" in said(at)
    found = front(place).one_home(home_id).record()
    assert found.answers == ()
    assert found.heaters == ()


def test_an_answer_is_taken_back_by_a_second_yes_and_brought_back(place: Path) -> None:
    """The first tap says what will happen and changes nothing; the second takes it back; undo makes it count again."""
    home_id = aged_home(place)
    at = at_home(place, home_id)
    at.switch_page("resident/my_record.py").run()
    before = front(place).one_home(home_id).record().answers
    (answer,) = [a for a in before if a.answer_id == before[-1].answer_id]
    at.button(key=f"record.no.{answer.answer_id}").click().run()
    assert "will no longer count" in said(at)
    assert front(place).one_home(home_id).record().answers == before
    at.button(key=f"record.leave.{answer.answer_id}").click().run()
    assert "will no longer count" not in said(at)
    at.button(key=f"record.no.{answer.answer_id}").click().run()
    at.button(key=f"record.sure.{answer.answer_id}").click().run()

    assert errors(at) == []
    assert answer not in front(place).one_home(home_id).record().answers
    assert "It no longer counts" in said(at)
    at.button(key=f"record.bring.{answer.answer_id}").click().run()
    assert errors(at) == []
    assert front(place).one_home(home_id).record().answers == before


def test_a_code_mistyped_is_told_in_the_residents_language_and_stays_in_the_field(place: Path) -> None:
    """Too short, or not known: a Spanish sentence that says what to do, and no English one."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.button(key="head.language.es").click().run()
    at.switch_page("resident/my_heater.py").run()
    for typed, key in (("hola", "door-code-shape"), ("ABCD-EFGHJ-KMNPQ", "door-code-unknown")):
        at.text_input(key="code.text").input(typed)
        next(b for b in at.button if b.label == texts("es")("door-code-open")).click().run()

        assert [e.value for e in at.error] == [texts("es")(key)]
        assert at.text_input(key="code.text").value == typed


def test_a_lost_letter_leads_to_the_volunteer_by_number_and_nothing_typed_there_is_markup(place: Path) -> None:
    """The volunteer's number is on the sign-in page and on "leaking now", as text, to be dialed by a tap."""
    hostile = "<img src=x onerror=alert(1)> 555-0104 ![x](//e.test)"
    survey = front(place)
    survey.set_up().change_settings(
        with_contacts(survey.settings(), {"volunteer": hostile, "gas_utility": "Gas 555-0101"})
    )
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    for page in ("my_heater", "leaking_now"):
        at.switch_page(f"resident/{page}.py").run()
        html = "\n".join(str(e.proto.body) for e in at.get("html"))

        assert errors(at) == []
        assert f'<a href="tel:5550104">{escape(hostile)}</a>' in html
        assert "<img" not in html
        assert all(hostile not in str(m.value) for m in at.markdown)
    assert '<a href="tel:5550101">Gas 555-0101</a>' in html
    assert html.count(texts("en")("leaking-call-blank")) == 4


def test_a_date_nobody_understands_is_told_in_spanish(place: Path) -> None:
    """The question is named, the way to write it is shown, and what was typed stays in the field."""
    at = at_home(place, aged_home(place), spanish=True)
    at.switch_page("resident/answer_for_my_home.py").run()
    at.text_input(key="answer.installed").input("el día que murió el gato")
    next(b for b in at.button if b.label == "Enviar").click().run()
    warned = "\n".join(str(w.value) for w in at.warning)

    assert f'"el día que murió el gato" no se puede leer como respuesta a "{texts("es")("q-installed")}"' in warned
    assert texts("es")("typed-remedy") in warned
    assert "cannot be read" not in warned
    assert at.text_input(key="answer.installed").value == "el día que murió el gato"


ENGLISH_WORDS = re.compile(r"\b(?:the|is|was|and|of|date|year|installed|correct|say|leave|made|week|letter)\b", re.I)


def warnings_of(at: AppTest) -> list[str]:
    """What has to be settled, as the page shows it."""
    return [str(w.value) for w in at.warning]


def test_what_must_be_settled_is_told_in_spanish_and_again_when_the_language_is_changed(place: Path) -> None:
    """An impossible date and dates that contradict each other: no English sentence, the days as Spanish has them."""
    at = at_home(place, aged_home(place), spanish=True)
    at.switch_page("resident/answer_for_my_home.py").run()
    for key, typed in {
        "installed": "30/02/2010",
        "moved_in": "3 de marzo de 1950",
        "relief_valve_test": "2050",
        "tank_gallons": "500",
    }.items():
        at.text_input(key=f"answer.{key}").input(typed)
    next(b for b in at.button if b.label == "Enviar").click().run()
    spanish = warnings_of(at)

    assert errors(at) == []
    assert len(spanish) == 4
    assert "Ese día no existe en el calendario" in spanish[0]
    assert any("Usted se mudó el 3 de marzo de 1950" in w for w in spanish)
    assert [w for w in spanish if ENGLISH_WORDS.search(w)] == []
    at.button(key="head.language.en").click().run()
    english = warnings_of(at)
    assert len(english) == len(spanish)
    assert any("You moved in on March 3, 1950" in w for w in english)
    at.button(key="head.language.es").click().run()
    assert warnings_of(at) == spanish


def test_a_visitors_address_code_and_date_are_explained_in_spanish_to_the_end(place: Path) -> None:
    """What the code may mean, why the address waits, how the date was read: the page after sending has no English."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.button(key="head.language.es").click().run()
    at.switch_page("resident/answer_for_my_home.py").run()
    at.text_input(key="answer.address_typed").input("9999 Nowhere Boulevard").run()
    at.radio(key="answer.address_pick").set_value(texts("es")("form-address-none")).run()
    at.text_input(key="answer.date_code").input("0612")
    at.text_input(key="answer.last_flush").input("05/12/2013")
    at.text_input(key="answer.tank_gallons").input("no sé")
    next(b for b in at.button if b.label == "Enviar").click().run()
    offered = at.radio(key="answer.reading").options

    assert errors(at) == warnings_of(at) == []
    in_2012 = next(o for o in offered if "junio de 2012 (mes, luego año)" in o)
    assert offered[-1] == texts("es")("form-code-cannot-tell")
    assert [o for o in offered if ENGLISH_WORDS.search(o)] == []
    at.radio(key="answer.reading").set_value(in_2012)
    next(b for b in at.button if b.label == "Enviar").click().run()

    assert errors(at) == []
    assert texts("es")("form-thanks") in said(at)
    assert texts("es")("form-address-waits", why=texts("es")("waits-no-home")) in [i.value for i in at.info]
    assert "Puede ser el 12 de mayo de 2013 o el 5 de diciembre de 2013" in said(at)
    shown = [str(e.value) for kind in ("header", "info", "success", "markdown") for e in at.get(kind)]
    assert [s for s in shown if ENGLISH_WORDS.search(s)] == []


def test_a_resident_who_leaves_consent_open_is_spoken_to_not_of(place: Path) -> None:
    """The sentence for the volunteer ("ask before the home is contacted") is not shown to the home itself."""
    at = at_home(place, next(s.home.home_id for s in front(place).standings() if not s.answered))
    at.switch_page("resident/answer_for_my_home.py").run()
    at.text_input(key="answer.installed").input("2012")
    next(b for b in at.button if b.label == "Send").click().run()

    assert texts("en")("form-thanks") in said(at)
    assert texts("en")("form-consent-open") in said(at)
    assert "Ask before the home is contacted" not in said(at)


def test_a_home_without_an_answer_is_led_to_the_form_first(place: Path) -> None:
    """With the code of a home nobody has answered for, the first link below the address is the form."""
    home_id = next(s.home.home_id for s in front(place).standings() if not s.answered)
    at = at_home(place, home_id)
    links = [str(e.proto.label) for e in at.get("page_link")]

    assert links[1] == f"**{texts('en')('door-answer-new')}**"
    assert texts("en")("door-stay") in said(at)


@pytest.mark.parametrize(("phone", "title"), [("es-MX", "welcome-title"), ("fr-CA", "welcome-title")])
def test_the_first_page_speaks_the_phones_language_where_it_can(
    place: Path, phone: str, title: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A phone set to Spanish opens in Spanish, any other in English; a tap on the other language goes before it."""
    monkeypatch.setattr("streamlit.runtime.context.ContextProxy.locale", phone)
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    spoken, other = ("es", "en") if phone.startswith("es") else ("en", "es")
    assert at.title[0].value == texts(spoken)(title)
    at.button(key=f"head.language.{other}").click().run()

    assert errors(at) == []
    assert at.title[0].value == texts(other)(title)


def test_the_form_asks_in_spanish_and_understands_spanish_dates(place: Path) -> None:
    """Questions, choices and buttons in Spanish; "mayo de 2011" is stored and read."""
    home_id = aged_home(place)
    at = at_home(place, home_id, spanish=True)
    at.switch_page("resident/answer_for_my_home.py").run()
    assert "¿Qué calienta el agua?" in said(at)
    at.text_input(key="answer.last_flush").input("mayo de 2024")
    at.radio(key="answer.consent").set_value("yes")
    next(b for b in at.button if b.label == "Enviar").click().run()
    flushes = [s.done.best for s in front(place).one_home(home_id).record().services if s.kind == "flush"]

    assert errors(at) == []
    assert any((d.year, d.month) == (2024, 5) for d in flushes), said(at)


def test_a_stale_fit_is_used_again_for_ten_minutes_and_no_longer(place: Path) -> None:
    """Odds do not wait for a new fit after every neighbor's answer."""
    from survey_app.ui import session

    assert os.environ["HEATER_SURVEY_DATA"] == str(place)
    asked: list[int] = []

    class _Found:
        def __init__(self, version: int) -> None:
            self.version = version

        def state(self) -> object:
            return type("S", (), {"data_version": self.version})()

        def life_fit(self) -> object:
            asked.append(self.version)
            return object()

    first = session.life_fit(_Found(1))  # type: ignore[arg-type]
    assert session.life_fit(_Found(2)) is first  # type: ignore[arg-type]
    fits = session._fits(str(place))
    fits["last"] = (1, fits["last"][1] - session._FIT_SERVES, fits["last"][2])
    assert session.life_fit(_Found(2)) is not first  # type: ignore[arg-type]
    assert asked == [1, 2]


def test_a_planned_visit_is_confirmed_on_my_heater(place: Path) -> None:
    """The home sees the day, what to know before, and says yes by one tap."""
    days = tuple(date(2026, 12, 7) + timedelta(days=i) for i in range(5))
    rounds = front(place).service_rounds()
    plan = rounds.plan(Asked(job=FLUSH_AND_ANODE, dates=days, min_homes=2, iterations=80))
    home_id = plan.visits[0].home_id
    at = at_home(place, home_id)
    assert "A crew is planned for you" in said(at)
    at.button(key=f"visit.yes.{plan.plan_id}").click().run()

    assert errors(at) == []
    assert "Thank you" in said(at)
    assert home_id in rounds.get(plan.plan_id).asked.confirmed


def test_a_planned_visit_is_given_away_only_after_a_second_yes(place: Path) -> None:
    """The first tap says that a neighbor may get the place; until the second the home is still planned."""
    days = tuple(date(2026, 12, 7) + timedelta(days=i) for i in range(5))
    rounds = front(place).service_rounds()
    plan = rounds.plan(Asked(job=FLUSH_AND_ANODE, dates=days, min_homes=2, iterations=80))
    home_id = plan.visits[0].home_id
    at = at_home(place, home_id)
    at.button(key=f"visit.no.{plan.plan_id}").click().run()
    assert texts("en")("visit-no-sure") in said(at)
    assert home_id not in rounds.get(plan.plan_id).asked.cancelled
    at.button(key=f"visit.sure.{plan.plan_id}").click().run()

    assert errors(at) == []
    assert home_id in rounds.get(plan.plan_id).asked.cancelled
    assert texts("en")("visit-gone") in said(at)
