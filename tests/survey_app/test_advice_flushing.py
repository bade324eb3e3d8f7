"""The flush and the anode: the order of work, its cautions, and when to leave it alone."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.advice.flushing import (
    FLUSH_STEPS,
    NOT_YOURSELF,
    anode_sentences,
    finding_rows,
    flush_steps,
    reasons_not_to,
    relief_valve_sentences,
)
from survey_app.records import Heater, HeaterKind, ServiceKind, Symptom
from survey_app.texts import LANGUAGES, texts

TANKS = [k for k in HeaterKind if k.has_tank]


def heater(**given_: object) -> Heater:
    """A gas tank in service."""
    return Heater(heater_id="h", home_id="1", sequence=1, kind=HeaterKind.GAS_STORAGE, **given_)  # type: ignore[arg-type]


@pytest.mark.parametrize("language", sorted(LANGUAGES))
@pytest.mark.parametrize("kind", TANKS)
def test_no_kind_and_no_language_loses_a_step_or_a_caution(kind: HeaterKind, language: str) -> None:
    """Every step is there in its order, with its caution and with what one sees."""
    say = texts(language)
    told = flush_steps(kind, say)

    assert len(told) == len(FLUSH_STEPS)
    for step, sentence in zip(FLUSH_STEPS, told, strict=True):
        if step.caution:
            assert say("flushing-caution", what=say(f"flushing-step-{step.key}.caution")) in sentence
        if step.look:
            assert say(f"flushing-step-{step.key}.look") in sentence


def test_heat_is_off_first_and_on_last_and_the_tank_is_full_before() -> None:
    """The order that keeps an element from running dry (common practice, no source)."""
    keys = [s.key for s in FLUSH_STEPS]
    wanted = ["heat-off", "inlet-closed", "hose", "tap-open", "drain-open", "stir", "drain-closed", "fill", "heat-on"]

    assert [k for k in keys if k in wanted] == wanted
    assert keys[0] == "heat-off"


def test_each_kind_is_told_its_own_way_and_an_unknown_one_both() -> None:
    """Gas: pilot or off, so that no burner can start. Electric and heat pump: the breaker. Both if nobody knows."""
    first = {kind: flush_steps(kind)[0] for kind in TANKS}

    assert "pilot" in first[HeaterKind.GAS_STORAGE]
    assert "first, always" not in first[HeaterKind.GAS_STORAGE]
    for kind in (HeaterKind.ELECTRIC_STORAGE, HeaterKind.HEAT_PUMP_STORAGE):
        assert "breaker off, first, always" in first[kind]
        assert "pilot" not in first[kind]
    assert "pilot" in first[HeaterKind.UNKNOWN]
    assert "first, always" in first[HeaterKind.UNKNOWN]
    assert flush_steps(HeaterKind.TANKLESS) == []


@pytest.mark.parametrize(
    ("age", "flushed", "never", "warned"),
    [
        (8.0, False, True, True),
        (8.0, False, False, True),
        (7.9, False, True, False),
        (12.0, True, False, False),
        (None, False, True, True),
        (None, False, False, False),
    ],
)
def test_an_old_tank_that_was_never_flushed_is_left_to_a_contractor(
    age: float | None, flushed: bool, never: bool, warned: bool
) -> None:
    """From eight years on without a known flush; said to be never flushed at an unknown age counts as old."""
    kept = heater(never_done=(ServiceKind.FLUSH,) if never else ())

    assert ("never-flushed" in reasons_not_to(kept, age, flushed=flushed)) is warned


@given(st.lists(st.sampled_from(Symptom), max_size=4), st.one_of(st.none(), st.floats(0, 40)), st.booleans())
def test_what_was_seen_is_never_forgotten(seen: list[Symptom], age: float | None, flushed: bool) -> None:
    """A leak, rust, an opened relief valve and a tripped switch each keep hands off; nothing is told twice."""
    reasons = reasons_not_to(heater(symptoms=tuple(seen)), age, flushed=flushed)

    assert len(set(reasons)) == len(reasons)
    assert set(reasons) <= set(NOT_YOURSELF)
    assert (Symptom.LEAK in seen) <= ("tank-leaks" in reasons)
    assert (Symptom.RELIEF_OPENED in seen) <= ("relief-opened" in reasons)
    assert (Symptom.SAFETY_SWITCH in seen) <= ("safety-switch" in reasons)
    assert (Symptom.RUSTY_WATER in seen) <= ("rust" in reasons)


@pytest.mark.parametrize("language", sorted(LANGUAGES))
def test_reasons_findings_anode_and_relief_valve_are_all_in_words(language: str) -> None:
    """Every reason, finding and fact has its sentence; the anode and the relief valve are a contractor's."""
    say = texts(language)
    contractor = {"en": "licensed contractor", "es": "contratista con licencia"}[language]

    assert all(say(f"flushing-not-{key}", years=8) for key in NOT_YOURSELF)
    assert all(seen and says for seen, says in finding_rows(say))
    assert contractor in anode_sentences(say)[-1]
    assert contractor in " ".join(relief_valve_sentences(say))
    assert "1993" in " ".join(relief_valve_sentences(say))


def test_without_records_nothing_is_claimed() -> None:
    """No heater on file: no reasons from records; the page shows the general list."""
    assert reasons_not_to(None, 20) == ()
