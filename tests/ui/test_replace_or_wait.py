"""The page that weighs replacing against waiting: verdict first, both answers, every amount open to change."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

import survey_app.ui
from survey_app.access import Actor, Role
from survey_app.records import HeaterKind
from survey_app.standing import Standing
from survey_app.survey import Survey, open_store
from survey_app.texts import texts

APP = Path(survey_app.ui.__file__).with_name("app.py")
PAGE = "resident/replace_or_wait.py"


def at_page(place: Path, wanted: str) -> AppTest:
    """The page, opened by the private code of the first home that is as wanted."""
    survey = Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2, 12))
    fits = {"aged": _aged, "old": _old, "no age": _no_age, "tankless": _tankless}[wanted]
    home_id = next(s.home.home_id for s in survey.standings() if fits(s))
    return opened(AppTest.from_file(str(APP), default_timeout=60).run(), survey, home_id)


def opened(at: AppTest, survey: Survey, home_id: str) -> AppTest:
    """The page with this home opened by a new code of its own."""
    ((_, code),) = survey.sign_in_rights().issue_codes([home_id])
    at.switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    at.button[-1].click().run()
    at.switch_page(PAGE).run()
    assert errors(at) == []
    return at


def _aged(found: Standing) -> bool:
    return bool(found.age_years and found.heater and found.heater.kind.has_tank and not found.heater.symptoms)


def _old(found: Standing) -> bool:
    return _aged(found) and (found.age_years or (0,))[0] > 12


def _no_age(found: Standing) -> bool:
    return found.age_years is None and (found.heater is None or found.heater.kind.has_tank)


def _tankless(found: Standing) -> bool:
    return found.heater is not None and found.heater.kind is HeaterKind.TANKLESS


def errors(at: AppTest) -> list[str]:
    """What went wrong on the page."""
    return [e.value for e in at.error] + [e.message for e in at.exception]


def said(at: AppTest) -> str:
    """Everything a person reads, dollar signs as they are seen."""
    return "\n".join(str(e.value) for kind in ("title", "header", "markdown") for e in at.get(kind)).replace("\\$", "$")


def test_the_page_gives_verdict_both_answers_table_and_cautions(place: Path) -> None:
    """In this order: the money's verdict, frequencies, the two answers, what could catch the water, the cautions."""
    at, say = at_page(place, "aged"), texts("en")
    words = said(at)
    order = [
        "The money",
        "Of 100 heaters like yours",
        say("decision-neutral-head"),
        say("decision-personal-head"),
        say("decision-table-what"),
        say("decision-not-head"),
        texts("en")("care-cautions-line"),
    ]
    places = [words.index(part) for part in order]

    assert places == sorted(places)
    assert say("decision-row-alarm-shutoff") in words
    assert say("decision-personal-none") in words


def test_the_risk_question_fills_the_personal_answer_and_leaves_the_neutral_one(place: Path) -> None:
    """Answering changes the second answer alone."""
    at, say = at_page(place, "aged"), texts("en")
    before = next(m.value for m in at.markdown if say("decision-neutral-head") in m.value)
    at.radio(key="decision.risk").set_value("low").run()

    assert errors(at) == []
    assert say("decision-personal-none") not in said(at)
    assert "1,250" in said(at)
    assert next(m.value for m in at.markdown if say("decision-neutral-head") in m.value) == before
    assert say("decision-table-personal") in said(at)


def test_the_ways_are_drawn_with_their_figures_as_text(place: Path) -> None:
    """Two bars without an offer, three with one; what a picture shows stands in words beside it."""
    at = at_page(place, "aged")
    assert drawn(at).count("<li>") == 2
    at.number_input(key="decision.offer").set_value(900.0).run()

    assert errors(at) == []
    assert drawn(at).count("<li>") == 3
    assert drawn(at).count("likely between $") == 3
    assert drawn(at).count("<mark>costs least</mark>") == 1
    assert "Take the price of $900" in drawn(at)


def drawn(at: AppTest) -> str:
    """The picture of the ways, as it is given to the browser."""
    (found,) = [e.proto.body for e in at.get("html") if '<ul class="ways">' in e.proto.body]
    return str(found)


def test_what_is_typed_lasts_for_the_visit_and_not_longer(place: Path) -> None:
    """To another page and back: every field as it was left; after signing out and in again as on file."""
    at = at_page(place, "aged")
    own = at.number_input(key="decision.planned_price_usd").value
    at.number_input(key="decision.planned_price_usd").set_value(2100.0).run()
    at.number_input(key="decision.offer").set_value(1575.0).run()
    at.number_input(key="decision.emergency_premium_usd").set_value(650.0).run()
    at.radio(key="decision.insured").set_value("yes").run()
    at.radio(key="decision.risk").set_value("low").run()
    before = said(at)
    for _ in range(2):
        at.switch_page("resident/my_heater.py").run()
        at.switch_page(PAGE).run()
        assert errors(at) == []
        assert at.number_input(key="decision.planned_price_usd").value == 2100.0
        assert at.number_input(key="decision.offer").value == 1575.0
        assert at.number_input(key="decision.emergency_premium_usd").value == 650.0
        assert at.radio(key="decision.insured").value == "yes"
        assert at.radio(key="decision.risk").value == "low"
        assert said(at) == before
    home_id = at.session_state["actor"].home_id
    at.button(key="head.sign_out").click().run()
    survey = Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2, 12))
    opened(at, survey, home_id)
    assert at.number_input(key="decision.planned_price_usd").value == own
    assert at.number_input(key="decision.offer").value is None
    assert at.radio(key="decision.insured").value == "not sure"


def test_a_dear_price_does_not_turn_replace_into_wait(place: Path) -> None:
    """An old tank where every leak does much harm: replace, whatever dearer price is typed; and by how much."""
    at = at_page(place, "old")
    for field in at.number_input:
        if str(field.key).startswith("decision.damage_"):
            field.set_value(100.0 if "chance" in str(field.key) else 40000.0)
    at.run()
    assert "replace it now, on your own" in said(at)
    own = float(at.number_input(key="decision.planned_price_usd").value or 0)
    at.number_input(key="decision.offer").set_value(own + 25).run()

    assert errors(at) == []
    assert "replace it now, on your own" in said(at)
    assert "$25 more than your own price" in said(at)
    assert "keep" not in said(at).lower()
    at.number_input(key="decision.offer").set_value(own - 25).run()
    assert f"take the price of ${own - 25:,.0f}." in said(at)


def test_an_offer_changes_the_question(place: Path) -> None:
    """With a group price the verdict is about that price; at one dollar it says take it."""
    at = at_page(place, "aged")
    at.number_input(key="decision.offer").set_value(1.0).run()

    assert errors(at) == []
    assert "take the price of $1." in said(at)


def test_a_changed_amount_changes_the_answer(place: Path) -> None:
    """A planned price ten times as high shows in what a failure costs; nothing is stored."""
    at = at_page(place, "aged")
    before = said(at)
    at.number_input(key="decision.planned_price_usd").set_value(12750.0).run()

    assert errors(at) == []
    assert said(at) != before
    assert "A failure costs about $1" in said(at)


def test_insurance_and_empty_days_open_their_own_amounts(place: Path) -> None:
    """The deductible is asked of who is insured, the factor of an empty house of who leaves it."""
    at = at_page(place, "aged")
    assert "decision.deductible_usd" not in {n.key for n in at.number_input}
    at.radio(key="decision.insured").set_value("yes").run()
    at.number_input(key="decision.days_empty").set_value(30).run()

    assert errors(at) == []
    assert {"decision.deductible_usd", "decision.away_damage_factor"} <= {n.key for n in at.number_input}


@pytest.mark.parametrize(
    ("wanted", "key"), [("no age", "decision-refused-no-age"), ("tankless", "decision-refused-no-tank")]
)
def test_without_an_age_or_a_tank_the_page_says_so(place: Path, wanted: str, key: str) -> None:
    """A clear reason instead of figures, and the way to tell more."""
    at = at_page(place, wanted)

    assert texts("en")(key) in said(at)
    assert texts("en")("decision-neutral-head") not in said(at)
    assert texts("en")("care-cautions-line") in said(at)


def test_a_visitor_without_a_code_is_shown_the_way(place: Path) -> None:
    """No figures; a link to open one's home."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.switch_page(PAGE).run()

    assert errors(at) == []
    assert texts("en")("decision-open-first") in said(at)
    assert not at.number_input
