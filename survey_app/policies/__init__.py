"""What ten years cost a community under five policies, by simulation over what is believed of the lives.

:mod:`.stock` says what stands in the homes today, :mod:`.simulation` lets the
years pass under one rule, :mod:`.ten_years` sets the rules and compares them.
Every policy meets the same luck, so that the difference between two of them is
known far better than either.
"""

from .simulation import Costs, Rule, Run, run
from .stock import Stock, stock_today, uniform_stock
from .ten_years import Figures, PolicyName, PolicyOutcome, TenYears, best_ages, policies_for, ten_years, ten_years_of

__all__ = [
    "Costs",
    "Figures",
    "PolicyName",
    "PolicyOutcome",
    "Rule",
    "Run",
    "Stock",
    "TenYears",
    "best_ages",
    "policies_for",
    "run",
    "stock_today",
    "ten_years",
    "ten_years_of",
    "uniform_stock",
]
