"""Who answered, what became of the others, and what the answers say of all homes.

:mod:`.coverage` counts, and says what of it may be published; :mod:`.outcomes`
is the AAPOR Standard Definitions for one home, :mod:`.groups` for all of them, by
phase and street; :mod:`.over_time` says when they answered; :mod:`.estimates`
weighs the answers by phase.
"""

from .coverage import Coverage, PublishedFigures, Share, coverage, published_figures
from .estimates import (
    EarlyLate,
    Estimate,
    MeanEstimate,
    Part,
    Stratum,
    answers_needed,
    early_against_late,
    post_stratified,
    post_stratified_mean,
)
from .groups import NO_PHASE, GroupResponse, by_phase, by_street, dispositions, strata
from .outcomes import LATE, Contacted, ContactNote, Disposition, Rates, disposition, rates
from .over_time import answered_by_day, early_and_late, first_answers, share_by_day

__all__ = [
    "LATE",
    "NO_PHASE",
    "ContactNote",
    "Contacted",
    "Coverage",
    "Disposition",
    "EarlyLate",
    "Estimate",
    "GroupResponse",
    "MeanEstimate",
    "Part",
    "PublishedFigures",
    "Rates",
    "Share",
    "Stratum",
    "answered_by_day",
    "answers_needed",
    "by_phase",
    "by_street",
    "coverage",
    "disposition",
    "dispositions",
    "early_against_late",
    "early_and_late",
    "first_answers",
    "post_stratified",
    "post_stratified_mean",
    "published_figures",
    "rates",
    "share_by_day",
    "strata",
]
