"""How many heaters a community will lose in the coming years, and how sure that is.

:func:`forecast` is the way in. :mod:`.chances` computes each home's chance draw
by draw, :mod:`.counts` turns chances into exact counts, :mod:`.planning` says
which answers would help, :mod:`.look_back` compares an earlier forecast with
what happened.
"""

from .counts import Counts, poisson_binomial
from .look_back import CalibrationBin, LookBack, look_back
from .odds import LifeFit, Odds, chance_within, fit_summary, odds
from .planning import BlockExpected, Help, MoreAnswers, blocks_expected, what_would_help
from .predict import forecast, forecast_from
from .result import (
    Diagnostics,
    Expected,
    FanYear,
    Forecast,
    HomeChance,
    HorizonForecast,
    PhaseForecast,
    Weighing,
)

__all__ = [
    "BlockExpected",
    "CalibrationBin",
    "Counts",
    "Diagnostics",
    "Expected",
    "FanYear",
    "Forecast",
    "Help",
    "HomeChance",
    "HorizonForecast",
    "LifeFit",
    "LookBack",
    "MoreAnswers",
    "Odds",
    "PhaseForecast",
    "Weighing",
    "blocks_expected",
    "chance_within",
    "fit_summary",
    "forecast",
    "forecast_from",
    "look_back",
    "odds",
    "poisson_binomial",
    "what_would_help",
]
