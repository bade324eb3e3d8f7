"""What the board is shown: ten years under each policy, from the records."""

from __future__ import annotations

from survey_app.economics import Amounts, household_of
from survey_app.forecast import LifeFit
from survey_app.policies import TenYears, ten_years
from survey_app.survey.context import Context

__all__ = ["policy_study"]


def policy_study(
    context: Context,
    fitted: LifeFit,
    *,
    draws: int,
    discount: float,
    followed_by: float,
    amounts: Amounts,
    seed: int,
) -> TenYears:
    """Let every home live through ten years under each policy.

    Parameters
    ----------
    context
        The records, who asks and when; the right to totals was checked.
    fitted
        What the answers say about lives.
    draws, discount, followed_by, seed
        As for :func:`survey_app.policies.ten_years`.
    amounts
        What things cost.

    Raises
    ------
    ValueError
        When a share is out of its bounds, or there are no homes.
    """
    settings = context.settings()
    heated = [s for s in context.standings() if s.answered and s.heater is not None]
    return ten_years(
        fitted.posterior,
        {s.home.home_id: household_of(s) for s in heated},
        {s.home.home_id: s.warranty_years for s in heated if s.warranty_years},
        amounts,
        heat_pump_usd=settings.planned_price_heat_pump_usd,
        default_warranty_years=settings.default_warranty_years,
        discount=discount,
        followed_by=followed_by,
        draws=draws,
        seed=seed,
    )
