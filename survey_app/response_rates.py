"""Response by the AAPOR Standard Definitions, and estimates for the whole community.

Outcomes and rates follow the American Association for Public Opinion Research,
*Standard Definitions* (9th edition, 2016): RR1 to RR6, COOP1, REF1, CON1, with
*e*, the share of homes of unknown eligibility taken as eligible, by proportional
allocation. Estimates for all homes are post-stratified by phase, with the finite
population correction (Cochran, *Sampling Techniques*, 3rd edition, 1977; its
section numbers from memory: 5.4 to 5A.9, and 4.4 for the number of answers).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

__all__ = [
    "ContactNote",
    "Contacted",
    "Disposition",
    "Estimate",
    "Rates",
    "Stratum",
    "answers_needed",
    "disposition",
    "post_stratified",
    "rates",
]

_Z95 = 1.959963984540054
HALF_WIDTH = 0.05
"""The interval aimed at: plus or minus five points."""


class Disposition(StrEnum):
    """What became of one home (the Standard Definitions' groups)."""

    COMPLETE = "complete"
    PARTIAL = "partial"
    REFUSAL = "refusal"
    NON_CONTACT = "non-contact"
    OTHER = "other"
    UNKNOWN_HOUSEHOLD = "unknown if household"
    UNKNOWN_OTHER = "unknown, other"
    NOT_ELIGIBLE = "not eligible"


class Contacted(StrEnum):
    """What came of one attempt to reach a home."""

    SPOKE = "spoke, answer promised"
    REFUSED = "refused"
    NOBODY = "nobody there"
    EMPTY = "empty or no dwelling"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class ContactNote:
    """One attempt to reach a home."""

    home_id: str
    on: date
    outcome: Contacted
    by: str
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """Rates by the Standard Definitions; None where the denominator is zero."""

    counts: Mapping[Disposition, int]
    e: float
    rr1: float | None
    rr2: float | None
    rr3: float | None
    rr4: float | None
    rr5: float | None
    rr6: float | None
    coop1: float | None
    ref1: float | None
    con1: float | None


def rates(counts: Mapping[Disposition, int], *, e: float | None = None) -> Rates:
    """Every rate from the counts of outcomes.

    Parameters
    ----------
    counts
        Number of homes of each outcome; one that is absent counts zero.
    e
        Share of homes of unknown eligibility taken as eligible; by proportional allocation where None.

    Raises
    ------
    ValueError
        For a negative count, or `e` outside 0 to 1.
    """
    if any(n < 0 for n in counts.values()) or (e is not None and not 0 <= e <= 1):
        raise ValueError("Counts are zero or more, and e lies between 0 and 1.")
    d = Disposition
    i, p, r, nc, o, uh, uo, ne = (
        counts.get(k, 0)
        for k in (d.COMPLETE, d.PARTIAL, d.REFUSAL, d.NON_CONTACT, d.OTHER, d.UNKNOWN_HOUSEHOLD, d.UNKNOWN_OTHER,
                  d.NOT_ELIGIBLE)
    )  # fmt: skip
    eligible = i + p + r + nc + o
    share = e if e is not None else (eligible / (eligible + ne) if eligible + ne else 1.0)
    unknown = uh + uo

    def over(part: float, whole: float) -> float | None:
        return part / whole if whole else None

    return Rates(
        counts={k: counts.get(k, 0) for k in Disposition},
        e=share,
        rr1=over(i, eligible + unknown),
        rr2=over(i + p, eligible + unknown),
        rr3=over(i, eligible + share * unknown),
        rr4=over(i + p, eligible + share * unknown),
        rr5=over(i, eligible),
        rr6=over(i + p, eligible),
        coop1=over(i, i + p + r + o),
        ref1=over(r, eligible + unknown),
        con1=over(i + p + r + o, eligible + unknown),
    )


def disposition(
    *, answered: bool, refused: bool, key_questions: int, of: int, notes: Sequence[ContactNote]
) -> Disposition:
    """The outcome of one home.

    Parameters
    ----------
    answered, refused
        Whether an answer is joined to it, and whether that answer was a no to the survey.
    key_questions, of
        How many of the key questions were answered; a complete answer has at least 80 of 100 of them, as the
        Standard Definitions suggest for a complete interview (from memory).
    notes
        Attempts to reach it, in any order.

    Returns
    -------
    Disposition
        A home that never was reached and never answered is of unknown eligibility: nobody knows if it is lived in.
    """
    if refused:
        return Disposition.REFUSAL
    if answered:
        return Disposition.COMPLETE if key_questions >= 0.8 * of else Disposition.PARTIAL
    if not notes:
        return Disposition.UNKNOWN_HOUSEHOLD
    last = max(notes, key=lambda n: n.on).outcome
    return {
        Contacted.REFUSED: Disposition.REFUSAL,
        Contacted.NOBODY: Disposition.NON_CONTACT,
        Contacted.EMPTY: Disposition.NOT_ELIGIBLE,
        Contacted.SPOKE: Disposition.OTHER,
        Contacted.OTHER: Disposition.OTHER,
    }[last]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stratum:
    """A part of the community: all its homes, those that answered the question, and the yes among them."""

    name: str
    homes: int
    answered: int
    yes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """A total and a share for all homes with their standard errors, and what could not be estimated.

    ``low`` and ``high`` are the 95% interval of the share, never outside 0 to 1.
    ``left_out`` names strata with fewer than two answers: their homes are not in it.
    """

    homes: int
    total: float
    se_total: float
    se_total_uncorrected: float
    share: float
    low: float
    high: float
    left_out: tuple[str, ...]


def post_stratified(strata: Iterable[Stratum]) -> Estimate:
    """The number of homes with a yes among all, each stratum weighed by its own homes.

    Parameters
    ----------
    strata
        Phases, as a rule; each with at least two answers to count.

    Raises
    ------
    ValueError
        When no stratum has two answers, or a stratum has more answers than homes.
    """
    given = list(strata)
    for s in given:
        if not 0 <= s.yes <= s.answered <= s.homes:
            raise ValueError(f"{s.name}: {s.yes} yes, {s.answered} answers and {s.homes} homes cannot be together.")
    used = [s for s in given if s.answered >= 2]
    if not used:
        raise ValueError("There are too few answers for an estimate: a phase needs two.")
    homes = sum(s.homes for s in used)
    total = sum(s.homes * s.yes / s.answered for s in used)
    corrected = plain = 0.0
    for s in used:
        p = s.yes / s.answered
        spread = s.homes**2 * p * (1 - p) / (s.answered - 1)
        plain += spread
        corrected += spread * (1 - s.answered / s.homes)
    share, half = total / homes, _Z95 * math.sqrt(corrected) / homes
    return Estimate(
        homes=homes,
        total=total,
        se_total=math.sqrt(corrected),
        se_total_uncorrected=math.sqrt(plain),
        share=share,
        low=max(0.0, share - half),
        high=min(1.0, share + half),
        left_out=tuple(s.name for s in given if s.answered < 2),
    )


def answers_needed(homes: int, share: float, *, half_width: float = HALF_WIDTH) -> int:
    """How many answers in all make the 95% interval of a share as narrow as this.

    From n0 = z^2 p (1 - p) / d^2 and n = n0 / (1 + (n0 - 1) / N) (Cochran 1977, section 4.4).

    Parameters
    ----------
    homes
        Homes of the stratum.
    share
        The share as it looks now; one half where nobody knows.
    half_width
        Half the interval, as a share.
    """
    if homes <= 0:
        return 0
    p = min(max(share, 0.05), 0.95)
    first = _Z95**2 * p * (1 - p) / half_width**2
    return min(homes, math.ceil(first / (1 + (first - 1) / homes)))
