"""Draining and swelling: what scales how, and what cannot be true."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.advice.draining import (
    COMMON_GALLONS,
    COMMON_MINUTES,
    VALVE_BORES_IN,
    Hose,
    UnusableDraining,
    drain_seconds,
    drain_sentences,
    expansion_gallons,
    expansion_sentence,
    expansion_tank_gallons,
    tank_drain_minutes,
    tank_shape_m,
    water_density,
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


# --- worked examples and the trade's minutes: none of them has a document of its own ------------------------------


def test_a_textbook_tank_empties_in_102_99_seconds() -> None:
    """A physics exercise whose book is not on file: A 1 m^2, a 0.01 m^2, h 2 m, Cd 0.62, g 9.81.

    The law: N. Midoux, Mécanique et rhéologie des fluides en génie chimique, p. 51, as quoted.
    """
    assert drain_seconds(1, 0.01, 2, coefficient=0.62, gravity=9.81) == pytest.approx(102.99, abs=0.005)


def test_an_ideal_cylinder_empties_in_39909_seconds() -> None:
    """By hand, (R/r)^2 sqrt(2h/g) with R 2.5 m, r 0.01 m, h 2 m."""
    found = drain_seconds(math.pi * 2.5**2, math.pi * 0.01**2, 2, coefficient=1, gravity=9.81)

    assert found == pytest.approx(39_909, abs=1)


def test_a_clear_valve_with_a_garden_hose_takes_the_trades_10_to_15_minutes(capsys: pytest.CaptureFixture[str]) -> None:
    """Common practice, no source: 40 to 50 gallons in 10 to 15 minutes.

    By Torricelli with our stated assumptions: a clear 3/4 inch valve, 25 feet of 5/8 inch hose, a heater that stands
    18 inches above the hose's end.
    """
    minutes = [tank_drain_minutes(g, VALVE_BORES_IN["clear"], hose=Hose()) for g in COMMON_GALLONS]
    with capsys.disabled():
        print("\n40 and 50 gallons drain in " + " and ".join(f"{m:.1f}" for m in minutes) + " minutes", end="")

    assert all(COMMON_MINUTES[0] <= m <= COMMON_MINUTES[1] for m in minutes)


def test_a_narrow_or_clogged_valve_takes_longer_than_the_trades_minutes() -> None:
    """Common practice, no source: much longer through a narrow or clogged valve."""
    for gallons in COMMON_GALLONS:
        clear, narrow, clogged = (tank_drain_minutes(gallons, b, hose=Hose()) for b in VALVE_BORES_IN.values())
        assert clear < narrow < clogged
        assert min(narrow, clogged) > COMMON_MINUTES[1]


@pytest.mark.parametrize(("celsius", "density"), [(10, 999.7), (32.2, 995.0), (60, 983.2)])
def test_water_has_the_density_of_the_tables(celsius: float, density: float) -> None:
    """Densities at 50, 90 and 140 °F as in common tables of water (from memory), in kg/m^3."""
    assert water_density(celsius) == pytest.approx(density, abs=0.06)


@pytest.mark.parametrize(("gallons", "cold", "hot", "more"), [(50, 50, 140, 0.84), (40, 90, 140, 0.48)])
def test_heated_water_swells_as_in_the_engineering_articles(
    gallons: float, cold: float, hot: float, more: float
) -> None:
    """Articles whose names are not on file: 50 gallons from 50 to 140 °F: 0.84; 40 from 90 to 140: "almost one-half".

    By the densities above: 0.839 and 0.480.
    """
    assert expansion_gallons(gallons, cold, hot) == pytest.approx(more, abs=0.005)
