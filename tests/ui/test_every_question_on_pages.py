"""Every question of the list on the resident's form, in every language, and on the volunteer's page for paper forms.

No question is named here but the one on consent: a new one is filled in as it stands in the list.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

import survey_app.ui
from survey_app.access import Actor, Role
from survey_app.intake import QUESTIONS, Kind, Question, question
from survey_app.records import Venting
from survey_app.survey import Survey, open_store
from survey_app.texts import LANGUAGES, texts

APP = Path(survey_app.ui.__file__).with_name("app.py")
ASKED = [q for q in QUESTIONS if q.of_resident and q.key != "address"]
WRITTEN = {Kind.NUMBER: "12", Kind.DATE: "May 2016", Kind.DONE: "May 2016", Kind.CODE: "0519", Kind.TEXT: "by the gate"}


def answer_to(asked: Question) -> str:
    """The first answer there is, or what one writes."""
    return str(asked.values[0]) if asked.choices else WRITTEN[asked.kind]


def silent_home(place: Path) -> str:
    """A home that nobody has answered for, the first to come among the paper forms."""
    volunteer = Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2, 12))
    return volunteer.paper_forms().waiting()[0].home_id


def with_reasons(at: AppTest, form: str) -> AppTest:
    """Give a reason for all that contradicts itself (each question is filled in without a look at the others)."""
    for field in at.text_input:
        if str(field.key).startswith(f"{form}.why."):
            field.input("so it is")
    return at


def errors(at: AppTest) -> list[str]:
    """What went wrong on the page."""
    return [e.value for e in at.error] + [e.message for e in at.exception]


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_residents_form_asks_and_stores_every_question(place: Path, language: str) -> None:
    """Each is asked in the language with its choices; what is picked or written is what is stored."""
    home_id, say = silent_home(place), texts(language)
    volunteer = Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2, 12))
    ((_, code),) = volunteer.sign_in_rights().issue_codes([home_id])
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    if language != "en":
        at.button(key=f"head.language.{language}").click().run()
    at.switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    at.button[-1].click().run()
    at.switch_page("resident/answer_for_my_home.py").run()
    shown = "\n".join(str(m.value) for m in at.markdown)
    drawn = "".join(str(e.proto.body) for e in at.get("html") if "vents" in str(e.proto.body))
    assert drawn.count("<img") == 3
    assert all(question("venting").label(v, say) in drawn for v in (Venting.METAL, Venting.PLASTIC, Venting.IN_A_PIPE))
    for asked in ASKED:
        key, answer = f"answer.{asked.key}", answer_to(asked)
        assert f"**{asked.text(say)}**" in shown
        assert asked.help(say) in shown
        if asked.one_of:
            assert at.radio(key=key).options == [asked.label(value, say) for value in asked.values]
            at.radio(key=key).set_value(asked.values[0])
        elif asked.any_of:
            at.button_group(key=key).set_value([asked.values[0]])
        else:
            at.text_input(key=key).input(answer)
    at.button(key="answer.send").click().run()
    with_reasons(at, "answer").button(key="answer.send").click().run()

    assert errors(at) == []
    (stored,) = open_store(place).answers(home_ids=[home_id])
    assert {q.key: stored.answer.given.get(q.key) for q in ASKED} == {q.key: answer_to(q) for q in ASKED}


def test_the_page_for_paper_takes_every_question_by_its_letters(place: Path) -> None:
    """A field each, with what its letters stand for beside it; one letter is the answer."""
    home_id = silent_home(place)
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.button(key="welcome.volunteer").click().run()
    at.switch_page("volunteer/enter_paper.py").run()
    for asked in ASKED:
        field = at.text_input(key=f"paper.0.{asked.key}")
        assert field.label.startswith(asked.text())
        for choice in asked.choices:
            assert f"{choice.short}\u00a0=\u00a0{asked.label(choice.value).split(' (')[0]}" in field.label
        field.input(asked.choices[0].short if asked.choices else answer_to(asked))
    next(b for b in at.button if b.form_id == "paper.0").click().run()
    next(b for b in with_reasons(at, "paper.0").button if b.form_id == "paper.0").click().run()

    assert errors(at) == []
    (stored,) = open_store(place).answers(home_ids=[home_id])
    assert {q.key: stored.answer.given.get(q.key) for q in ASKED} == {q.key: answer_to(q) for q in ASKED}
