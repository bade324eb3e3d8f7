"""An expansion tank's size against a published worked example."""

from __future__ import annotations

import pytest

from survey_app.advice.draining import expansion_tank_gallons


def test_an_expansion_tank_for_two_gallons_holds_5_44() -> None:
    """Griffith, Thermal Expansion Tanks, part 2 (2015), in a reprint: 2 gallons between 80 and 135 psi ask for 5.44."""
    assert expansion_tank_gallons(2, 80, 135) == pytest.approx(5.44, abs=0.005)
