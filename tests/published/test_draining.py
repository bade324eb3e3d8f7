"""Emptying under a falling level, and water that swells, against worked examples."""

from __future__ import annotations

import math

import pytest

from survey_app.advice.draining import (
    COMMON_GALLONS,
    COMMON_MINUTES,
    VALVE_BORES_IN,
    Hose,
    drain_seconds,
    expansion_gallons,
    expansion_tank_gallons,
    tank_drain_minutes,
    water_density,
)


def test_a_textbook_tank_empties_in_102_99_seconds() -> None:
    """Worked physics example: A 1 m^2, a 0.01 m^2, h 2 m, Cd 0.62, g 9.81.

    The law: N. Midoux, Mécanique et rhéologie des fluides en génie chimique, p. 51.
    """
    assert drain_seconds(1, 0.01, 2, coefficient=0.62, gravity=9.81) == pytest.approx(102.99, abs=0.005)


def test_an_ideal_cylinder_empties_in_39909_seconds() -> None:
    """The form (R/r)^2 sqrt(2h/g) with R 2.5 m, r 0.01 m, h 2 m, as in a public demonstration of Torricelli's law."""
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
    """Densities at 50, 90 and 140 °F as in common tables of water, in kg/m^3."""
    assert water_density(celsius) == pytest.approx(density, abs=0.06)


@pytest.mark.parametrize(("gallons", "cold", "hot", "more"), [(50, 50, 140, 0.84), (40, 90, 140, 0.48)])
def test_heated_water_swells_as_in_the_engineering_articles(
    gallons: float, cold: float, hot: float, more: float
) -> None:
    """50 gallons from 50 to 140 °F: 0.84; 40 gallons from 90 to 140 °F: "almost one-half" (0.48 by the densities)."""
    assert expansion_gallons(gallons, cold, hot) == pytest.approx(more, abs=0.005)


def test_an_expansion_tank_for_two_gallons_holds_5_44() -> None:
    """Griffith, Thermal Expansion Tanks, part 2 (2015), in a reprint: 2 gallons between 80 and 135 psi ask for 5.44."""
    assert expansion_tank_gallons(2, 80, 135) == pytest.approx(5.44, abs=0.005)
