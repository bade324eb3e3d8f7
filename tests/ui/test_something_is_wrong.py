"""The triage as a page: every path walked, dangers at hand at every step, one tap on the record."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

import survey_app.ui
from survey_app.access import Actor, Role
from survey_app.advice.cautions import cautions, first_things
from survey_app.advice.triage import TREE, Outcome, Question, explain, interrupts, option_text, paths, step
from survey_app.records import Symptom
from survey_app.survey import Survey, open_store
from survey_app.texts import texts

APP = Path(survey_app.ui.__file__).with_name("app.py")
PAGE = "resident/something_is_wrong.py"
PATHS = list(paths())
DANGERS = tuple(o.key for o in interrupts())


def opened(language: str = "en") -> AppTest:
    """The page, as somebody without a code sees it."""
    at = AppTest.from_file(str(APP), default_timeout=60)
    at.session_state["language"] = language
    return at.run().switch_page(PAGE).run()


def shown(at: AppTest) -> str:
    """Everything a person reads on the page."""
    kinds = ("title", "header", "markdown", "success", "error")
    found = [str(e.value) for kind in kinds for e in at.get(kind)]
    return "\n".join([*found, *(str(e.proto.body) for e in at.get("html"))])


def faults_of(at: AppTest) -> list[str]:
    """What went wrong on the page."""
    return [e.value for e in at.error] + [e.message for e in at.exception]


def keys(at: AppTest) -> set[str]:
    """The buttons of the triage."""
    return {str(b.key) for b in at.button if str(b.key).startswith("triage.")}


def press(at: AppTest, path: tuple[str, ...], n: int) -> None:
    """Give the answer number `n` of a path."""
    here = step(path[:n])
    assert isinstance(here, Question)
    danger = n == 0 and path[0] in DANGERS
    at.button(key=f"triage.now.{path[0]}" if danger else f"triage.{here.key}.{path[n]}").click().run()


def check_step(at: AppTest, path: tuple[str, ...]) -> None:
    """What every step must show: its question and answers, or its outcome in full; the dangers and the way back."""
    say, here, text = texts("en"), step(path), shown(at)
    assert faults_of(at) == []
    assert "None" not in [e.value.strip("`") for e in at.markdown]
    assert {f"triage.now.{d}" for d in DANGERS} <= keys(at)
    assert {"triage.back", "triage.again"} <= keys(at) or not path
    if isinstance(here, Question):
        labels = [b.label for b in at.button]
        assert say(f"triage-ask-{here.key}") in text
        assert all(option_text(here.key, o.key) in labels for o in here.options)
        return
    found = explain(here)
    for sentence in (found.title, found.why, *found.yours, found.theirs, found.standing, *found.first):
        assert sentence in text
    # In an emergency: no verdict on the heater, no money, no word of the record before what is to be done.
    assert (found.fate in text) is not here.emergency
    assert (say("triage-head-cost") in text) is not here.emergency
    assert (say("triage-head-standing") in text) is not here.emergency
    assert all(line.replace("$", "\\$") in text for line in found.cost)
    assert all(line in text for line in cautions())


# One start of the app for all paths that begin alike: the last answer is taken back by "Back one step".
@pytest.mark.parametrize("first", [o.key for o in TREE.questions["what"].options])
def test_every_path_of_the_triage_ends_in_its_outcome_on_the_page(place: Path, first: str) -> None:
    """All answers pressed, one after the other: every step shows its question, every end its outcome and cautions."""
    at = opened()
    for path in [p for p in PATHS if p[:2] == ("none", first)]:
        for n in range(len(path)):
            press(at, path, n)
            check_step(at, path[: n + 1])
        assert isinstance(step(path), Outcome)
        at.button(key="triage.again").click().run()


@pytest.mark.parametrize("path", [p for p in PATHS if p[0] != "none"], ids=lambda p: p[0])
def test_every_path_of_danger_ends_in_its_outcome_on_the_page(place: Path, path: tuple[str, ...]) -> None:
    """The first question stands alone, and each of its answers says at once what to do."""
    at = opened()
    check_step(at, ())
    press(at, path, 0)

    assert len(path) == 1
    check_step(at, path)


def test_the_page_is_walked_for_every_path() -> None:
    """The two tests above leave no path out."""
    walked = [p for first in TREE.questions["what"].options for p in PATHS if p[:2] == ("none", first.key)]
    walked += [p for p in PATHS if p[0] != "none"]

    assert sorted(walked) == sorted(PATHS)


@pytest.mark.parametrize("danger", DANGERS)
def test_a_danger_interrupts_at_every_question(place: Path, danger: str) -> None:
    """From each question, one press leads to the danger's outcome."""
    at = opened()
    before = sorted({p[:n] for p in PATHS for n in range(1, len(p)) if isinstance(step(p[:n]), Question)})
    for path in before:
        for n in range(len(path)):
            press(at, path, n)
        at.button(key=f"triage.now.{danger}").click().run()
        check_step(at, (danger,))
        at.button(key="triage.again").click().run()


def test_back_goes_one_step_and_start_over_to_the_first(place: Path) -> None:
    """Nobody is caught in a wrong answer."""
    at = opened()
    for n in range(3):
        press(at, ("none", "leak", "top"), n)
    at.button(key="triage.back").click().run()
    check_step(at, ("none", "leak"))
    at.button(key="triage.again").click().run()

    check_step(at, ())


def test_a_visitor_is_shown_the_form_and_no_button_to_record(place: Path) -> None:
    """Without a code nothing is written; the form is one press away."""
    at = opened()
    for n in range(2):
        press(at, ("none", "noise"), n)

    assert "triage.record" not in keys(at)
    assert texts("en")("triage-record-form") in [link.proto.label for link in at.get("page_link")]


def test_one_tap_records_what_is_wrong(place: Path) -> None:
    """With the home's code open, the symptom joins what is on file, once, and the standing says it."""
    survey = Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2, 12))
    known = next(s for s in survey.standings() if s.heater and not s.comes_first and s.heater.symptoms)
    code = survey.sign_in_rights().issue_codes([known.home.home_id])[0][1]
    at = AppTest.from_file(str(APP), default_timeout=60).run().switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    next(b for b in at.button if b.label == texts("en")("door-code-open")).click().run()
    at.switch_page(PAGE).run()
    at.button(key="triage.now.relief").click().run()
    at.button(key="triage.record").click().run()

    assert faults_of(at) == []
    assert texts("en")("triage-recorded") in shown(at)
    after = Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 12, 2, 12))
    heater = next(s for s in after.standings() if s.home.home_id == known.home.home_id)
    assert heater.comes_first == (Symptom.RELIEF_OPENED,)
    assert set(known.heater.symptoms) <= set(heater.heater.symptoms)
    at.run()
    assert "triage.record" not in keys(at)


def test_the_page_speaks_spanish(place: Path) -> None:
    """The same path in the other language, with its cautions."""
    say = texts("es")
    at = opened("es")
    at.button(key="triage.now.gas-smell").click().run()

    assert faults_of(at) == []
    assert first_things([Symptom.GAS_SMELL], say)[0] in shown(at)
    assert all(line in shown(at) for line in cautions(say))
