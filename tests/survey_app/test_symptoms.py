"""One table says what each symptom means: complete, in the order of danger, and read by everything that should."""

from __future__ import annotations

import pytest

from survey_app.advice.cautions import first_things
from survey_app.advice.triage import TREE, interrupts
from survey_app.records import Symptom
from survey_app.symptoms import SYMPTOMS, Crew, Handling, Settled, handling, leading, odds_stand, strictest_crew
from survey_app.texts import LANGUAGES, texts

DANGERS = [row.symptom for row in SYMPTOMS if row.comes_first]


def test_every_symptom_has_one_row() -> None:
    """None is missing, so that none passes for harmless, and none stands twice."""
    assert sorted(row.symptom for row in SYMPTOMS) == sorted(Symptom)


def test_dangers_come_first_and_gas_before_all() -> None:
    """The table's order is the order in which a page leads with what was reported."""
    assert DANGERS[0] is Symptom.GAS_SMELL
    assert [row.comes_first for row in SYMPTOMS] == sorted((row.comes_first for row in SYMPTOMS), reverse=True)
    assert leading([Symptom.RUMBLE, Symptom.LEAK, Symptom.GAS_SMELL])[0].symptom is Symptom.GAS_SMELL


@pytest.mark.parametrize("symptom", DANGERS)
def test_a_danger_stops_everything(symptom: Symptom) -> None:
    """No odds, no crew, not settled by the people alone; at hand in the triage; with words of its own."""
    row = handling(symptom)

    assert not row.odds
    assert row.crew is Crew.STAYS_AWAY
    assert row.settled is not Settled.PEOPLE
    assert row.outcome in [o.leads_to for o in interrupts()]
    assert first_things([symptom])


@pytest.mark.parametrize("row", SYMPTOMS, ids=lambda row: str(row.outcome))
def test_every_row_leads_to_an_outcome_of_the_triage_and_has_a_name(row: Handling) -> None:
    """What to do next is known for each, and pages can name it in every language."""
    assert row.outcome in TREE.outcomes
    for language in LANGUAGES:
        assert texts(language).has(f"symptom-{row.symptom.replace(' ', '-')}")


def test_a_leak_or_rust_gets_no_odds_and_a_cold_or_unlit_heater_no_crew_unasked() -> None:
    """A tank that leaks is not "0.3 of 100"; a heater that does not work is the contractor's to look at first."""
    assert not odds_stand([Symptom.LEAK])
    assert not odds_stand([Symptom.RUMBLE, Symptom.RUSTY_WATER])
    assert odds_stand([Symptom.RUMBLE])
    for symptom in (Symptom.PILOT_OUT, Symptom.NO_HOT_WATER, Symptom.RUNS_OUT):
        assert strictest_crew([symptom]) is Crew.CONTRACTOR_FIRST
    assert strictest_crew([Symptom.RUMBLE, Symptom.LEAK]) is Crew.STAYS_AWAY
    assert strictest_crew([]) is Crew.COMES
