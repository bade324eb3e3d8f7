"""Draining and swelling: what scales how, and what cannot be true."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.advice.draining import (
    Hose,
    UnusableDraining,
    drain_seconds,
    drain_sentences,
    expansion_gallons,
    expansion_sentence,
    expansion_tank_gallons,
    tank_drain_minutes,
    tank_shape_m,
)
from survey_app.texts import LANGUAGES, texts

GALLONS = st.floats(10, 120)
BORES = st.floats(0.2, 1)


@given(GALLONS, BORES, st.floats(1.1, 3))
def test_without_a_hose_the_time_falls_with_the_square_of_the_bore(gallons: float, bore: float, times: float) -> None:
    """Twice as wide, a quarter of the time."""
    once, wider = tank_drain_minutes(gallons, bore), tank_drain_minutes(gallons, bore * times)

    assert once / wider == pytest.approx(times**2, rel=1e-9)


@given(GALLONS, BORES, st.floats(0, 100), st.floats(0, 60))
def test_a_hose_slows_and_a_lower_end_speeds(gallons: float, bore: float, feet: float, below: float) -> None:
    """More hose takes longer; a lower end takes less; a larger tank takes longer."""
    hose = Hose(length_ft=feet, end_below_in=below)
    here = tank_drain_minutes(gallons, bore, hose=hose)

    assert tank_drain_minutes(gallons, bore, hose=Hose(length_ft=feet + 10, end_below_in=below)) > here
    assert tank_drain_minutes(gallons, bore, hose=Hose(length_ft=feet, end_below_in=below + 12)) < here
    assert tank_drain_minutes(gallons * 1.1, bore, hose=hose) > here


@given(st.floats(0.5, 3), st.floats(0, 1), st.floats(0, 1))
def test_times_of_two_parts_add_up(start: float, one: float, other: float) -> None:
    """From full to a level and from there to a lower one is as long as all at once."""
    low, middle = sorted((one * start, other * start))
    parts = drain_seconds(0.2, 1e-4, start, middle)
    parts += drain_seconds(0.2, 1e-4, middle, low) if middle > 0 else 0.0

    assert parts == pytest.approx(drain_seconds(0.2, 1e-4, start, low), rel=1e-9, abs=1e-9)


@given(GALLONS)
def test_the_assumed_tank_holds_its_gallons(gallons: float) -> None:
    """The cylinder's volume is the tank's; a gallon is 3.785411784 liters."""
    height, width = tank_shape_m(gallons)

    assert 3.141592653589793 * width**2 / 4 * height == pytest.approx(gallons * 3.785411784e-3, rel=1e-9)


@given(GALLONS, st.floats(40, 150), st.floats(0.5, 60))
def test_hotter_water_swells_more_in_step_with_the_tank(gallons: float, cold: float, rise: float) -> None:
    """Above 40 °F every degree adds; twice the water adds twice."""
    more = expansion_gallons(gallons, cold, cold + rise)

    assert 0 < more < expansion_gallons(gallons, cold, cold + rise + 2)
    assert expansion_gallons(2 * gallons, cold, cold + rise) == pytest.approx(2 * more)


@given(st.floats(0.1, 3), st.floats(20, 100), st.floats(5, 60))
def test_an_expansion_tank_is_larger_than_what_it_takes_in(takes: float, line: float, above: float) -> None:
    """And smaller where more pressure is allowed."""
    size = expansion_tank_gallons(takes, line, line + above)

    assert size > takes
    assert expansion_tank_gallons(takes, line, line + above + 5) < size


@pytest.mark.parametrize("language", sorted(LANGUAGES))
def test_the_words_set_the_time_beside_the_trades_own(language: str) -> None:
    """The common 10 to 15 minutes are named as common; a slow valve is said to be slow; assumptions are said."""
    say = texts(language)
    fast, slow = (drain_sentences(50, bore, Hose(), say) for bore in (0.75, 0.25))

    assert say("flushing-drain-common", low="10", high="15") in fast
    assert say("flushing-drain-long") not in fast
    assert say("flushing-drain-long") in slow
    assert fast[-1] == slow[-1] == say("flushing-drain-assumed")
    assert "50" in expansion_sentence(50, say=say)


def test_what_cannot_be_true_is_all_told_with_the_remedy() -> None:
    """Tank, valve and hose wrong at once: three sentences."""
    with pytest.raises(UnusableDraining, match=r"A tank must.*width of the valve.*The hose must"):
        tank_drain_minutes(0, 0, hose=Hose(length_ft=-1))
    with pytest.raises(UnusableDraining, match="Check these figures"):
        drain_seconds(1, 0.01, 1, 2)
    with pytest.raises(UnusableDraining, match="Check these figures"):
        expansion_gallons(40, 140, 50)
    with pytest.raises(UnusableDraining, match="The limit must be above"):
        expansion_tank_gallons(2, 80, 80)
