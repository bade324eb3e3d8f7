"""The resident's door: my heater, my record, in English and in Spanish, and the way to help from every page."""

from __future__ import annotations

import os
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

import survey_app.ui
from survey_app.access import Actor, Role
from survey_app.service_days import Asked, Job
from survey_app.survey import Survey, open_store

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


@pytest.fixture
def place(data: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The data folder the app opens; caches of other tests are forgotten."""
    monkeypatch.setenv("HEATER_SURVEY_DATA", str(data))
    st.cache_data.clear()
    st.cache_resource.clear()
    return data


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
    ((_, code),) = front(place).issue_codes([home_id])
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
    """A visitor sees no error on any page; the way to "leaking now" is first on each; Spanish says it is unreviewed."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    if spanish:
        at.button(key="head.language.es").click().run()
    at.switch_page(f"resident/{page}.py").run()

    assert errors(at) == []
    links = [str(e.proto.label) for e in at.get("page_link")]
    assert any(
        ("fuga" in label or "Qué hacer ahora" in label) if spanish else "What to do now" in label for label in links
    )
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


def test_an_answer_is_taken_back_by_one_tap(place: Path) -> None:
    """The answer no longer counts on the page that follows."""
    home_id = aged_home(place)
    at = at_home(place, home_id)
    at.switch_page("resident/my_record.py").run()
    before = len(front(place).one_home(home_id).record().answers)
    next(b for b in at.button if str(b.key).startswith("record.back.")).click().run()

    assert errors(at) == []
    assert len(front(place).one_home(home_id).record().answers) == before - 1


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

    first = session._life_fit(_Found(1))  # type: ignore[arg-type]
    assert session._life_fit(_Found(2)) is first  # type: ignore[arg-type]
    fits = session._fits(str(place))
    fits["last"] = (1, fits["last"][1] - session._FIT_SERVES, fits["last"][2])
    assert session._life_fit(_Found(2)) is not first  # type: ignore[arg-type]
    assert asked == [1, 2]


def test_a_planned_visit_is_confirmed_on_my_heater(place: Path) -> None:
    """The home sees the day, what to know before, and says yes by one tap."""
    days = tuple(date(2026, 12, 7) + timedelta(days=i) for i in range(5))
    rounds = front(place).service_rounds()
    plan = rounds.plan(Asked(job=Job.BOTH, dates=days, min_homes=2, iterations=80))
    home_id = plan.visits[0].home_id
    at = at_home(place, home_id)
    assert "A crew is planned for you" in said(at)
    at.button(key=f"visit.yes.{plan.plan_id}").click().run()

    assert errors(at) == []
    assert "Thank you" in said(at)
    assert home_id in rounds.get(plan.plan_id).asked.confirmed
