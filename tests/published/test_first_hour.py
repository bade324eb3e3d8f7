"""The first-hour worksheet against its own published example."""

from __future__ import annotations

import pytest

from survey_app.advice.sizing import WORKSHEETS, first_hour_need


def test_the_worksheets_example_asks_for_44_to_48_gallons() -> None:
    """Three showers 36, a shave 2, a shampoo 4 and dishes by hand 4 make 46; buy a first-hour rating of 44 to 48.

    US Department of Energy, Energy Savers, the worksheet for the first-hour rating, older edition, as printed on p. 237
    of a copy without a date: its last two lines are cut off there; 46 and 44 to 48 stand in it.
    """
    need = first_hour_need({"shower": 3, "shave": 1, "shampoo": 1, "hand-dishes": 1})

    assert need.gallons == 46
    assert (need.ask_low, need.ask_high) == (44, 48)
    assert "Energy Savers" in need.worksheet.edition


@pytest.mark.parametrize(
    ("use", "gallons"),
    [("shower", 10), ("clothes-washer", 7), ("dishwasher", 6), ("kitchen-tap-minute", 2), ("bath-tap-minute", 0.5)],
)
def test_the_second_edition_counts_by_the_federal_programs_volumes(use: str, gallons: float) -> None:
    """FEMP, Energy Cost Calculator for Electric and Gas Water Heaters, assumptions: one of each use."""
    need = first_hour_need({use: 1}, WORKSHEETS["femp"])

    assert need.gallons == gallons
    assert "Federal Energy Management Program" in need.worksheet.edition
