"""Who answered, what became of the others, and what the answers say of all homes.

:mod:`.coverage` counts, and says what of it may be published; :mod:`.outcomes`
is the AAPOR Standard Definitions; :mod:`.estimates` weighs the answers by phase.
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
from .outcomes import Contacted, ContactNote, Disposition, Rates, disposition, rates

__all__ = [
    "ContactNote",
    "Contacted",
    "Coverage",
    "Disposition",
    "EarlyLate",
    "Estimate",
    "MeanEstimate",
    "Part",
    "PublishedFigures",
    "Rates",
    "Share",
    "Stratum",
    "answers_needed",
    "coverage",
    "disposition",
    "early_against_late",
    "post_stratified",
    "post_stratified_mean",
    "published_figures",
    "rates",
]
