"""Replace now, wait, or the household's call: what each costs and how sure one can be.

:mod:`.replacement` is the mathematics of age replacement for any law of life;
:mod:`.amounts` and :mod:`.risk` say what a failure costs one household and how it
feels that; :mod:`.decision` puts them together; :mod:`.words` says it.
"""

from .amounts import Amounts, Catch, DamageGroup, Household, Outcome, amounts_in_use, household_of, outcomes
from .decision import OVER_YEARS, Answer, Choice, Decision, Refusal, Row, Span, Verdict, Way, Ways, decide
from .replacement import AgeReplacement, Policy, break_even_age, keep_value, optimal_age, wait_index
from .risk import ASKED_BILL_USD, ASKED_CHANCE, Tolerance, certainty_equivalent, felt_extra_usd, mean_extra_usd

__all__ = [
    "ASKED_BILL_USD",
    "ASKED_CHANCE",
    "OVER_YEARS",
    "AgeReplacement",
    "Amounts",
    "Answer",
    "Catch",
    "Choice",
    "DamageGroup",
    "Decision",
    "Household",
    "Outcome",
    "Policy",
    "Refusal",
    "Row",
    "Span",
    "Tolerance",
    "Verdict",
    "Way",
    "Ways",
    "amounts_in_use",
    "break_even_age",
    "certainty_equivalent",
    "decide",
    "felt_extra_usd",
    "household_of",
    "keep_value",
    "mean_extra_usd",
    "optimal_age",
    "outcomes",
    "wait_index",
]
