"""Price steps against a published group purchase."""

from __future__ import annotations

import pytest

from survey_app.purchase.bids import Bid, PriceStep, StepKind
from survey_app.purchase.thresholds import next_step


def test_all_units_steps_against_solarize_acton_2012() -> None:
    """Solarize Acton archive, November 2012: from 4.89 dollars a watt to 4.14 in the last tier, 15.3% less.

    37 contracts from 36 customers. Everyone gets the price of the last tier reached (Massachusetts Clean Energy
    Center, Solarize Mass, program design): that is all units. The numbers of the tiers between are not given there, so
    the last tier is put at the 37 contracts it was reached with. The reduction lies in the range of 13 to 22% told of
    the program's 2011 pilot (CommonWealth, 2012).
    """
    own = Bid(
        contractor="installer of the program",
        steps=(PriceStep(from_homes=1, price_usd=4.89), PriceStep(from_homes=37, price_usd=4.14)),
        step_kind=StepKind.ALL_UNITS,
    )
    saved = 1 - own.home_usd(37) / own.home_usd(1)
    assert round(100 * saved, 1) == 15.3
    assert own.total_usd(37) == pytest.approx(37 * 4.14)
    # The 36th contract still pays the first price, and one more makes all of them cheaper in total: 176.04 to 153.18.
    assert own.total_usd(36) == pytest.approx(176.04)
    assert own.total_usd(37) == pytest.approx(153.18)
    ahead = next_step(own, 36)
    assert ahead is not None
    assert (ahead.lacking, ahead.home_usd_now, ahead.home_usd_then) == (1, pytest.approx(4.89), pytest.approx(4.14))
