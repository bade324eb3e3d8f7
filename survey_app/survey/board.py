"""What the board is shown: ten years under each policy, from the records."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from survey_app.economics import Amounts, Household, household_of
from survey_app.forecast import LifeFit
from survey_app.lifetime import LifeDraws, lives_of_home
from survey_app.policies import Fleet, PolicyStudy, ten_years
from survey_app.records import HeaterKind

if TYPE_CHECKING:
    from survey_app.survey.front import Survey

__all__ = ["policy_study"]


def policy_study(survey: Survey, fitted: LifeFit, *, draws: int, discount: float, seed: int) -> PolicyStudy:
    """Play every home with a tank, or of unknown kind, through ten years under each policy.

    Parameters
    ----------
    survey
        The survey of whoever asks; the right to totals was checked.
    fitted
        What the answers say about lives.
    draws, discount, seed
        As for :func:`survey_app.policies.ten_years`.
    """
    settings = survey.settings()
    homes = [s for s in survey._standings() if s.heater is None or s.heater.kind.has_tank]
    laws: list[tuple[LifeDraws, ...]] = []
    law_of: dict[object, int] = {}
    households: list[Household] = []
    group_of: dict[Household, int] = {}
    phases: dict[str | None, int] = {}
    rows: list[tuple[float, int, int, int, float]] = []
    for home in homes:
        heater = home.heater
        law_key = (
            home.home.phase_id,
            home.home.softener,
            heater.kind if heater and heater.installed else None,
            heater.warranty_years if heater and heater.installed else None,
        )
        if law_key not in law_of:
            law_of[law_key] = len(laws)
            laws.append(lives_of_home(fitted.posterior, home.home.home_id))
        house = household_of(home)
        if house not in group_of:
            group_of[house] = len(households)
            households.append(house)
        age = home.age_years[1] if home.age_years else np.nan
        phase = phases.setdefault(home.home.phase_id, len(phases))
        term = home.warranty_years or settings.default_warranty_years
        rows.append((age, phase, law_of[law_key], group_of[house], term))
    columns = np.array(rows, dtype=float).reshape(len(rows), 5).T
    fleet = Fleet(
        age_years=columns[0],
        phase=columns[1].astype(int),
        lives=columns[2].astype(int),
        laws=laws,
        group=columns[3].astype(int),
        households=households,
        warranty_years=columns[4],
    )
    return ten_years(
        fleet,
        Amounts.from_settings(settings, HeaterKind.GAS_STORAGE),
        draws=draws,
        discount=discount,
        seed=seed,
    )
