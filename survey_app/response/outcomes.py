"""What became of each home, and the response rates, by the AAPOR Standard Definitions.

Outcomes and rates follow the American Association for Public Opinion Research,
*Standard Definitions* (9th edition, 2016): RR1 to RR6, COOP1, REF1, CON1, with
*e*, the share of homes of unknown eligibility taken as eligible, by proportional
allocation. An outcome is read from the answers and the notes at the door; nobody
types it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from survey_app.records import Contacted, ContactNote

__all__ = ["COMPLETE_FROM", "LATE", "ContactNote", "Contacted", "Disposition", "Rates", "disposition", "rates"]

COMPLETE_FROM = 0.8
"""Share of the key questions from which on an answer is complete, as the Standard Definitions suggest (from memory)."""


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


LATE = frozenset({Disposition.UNKNOWN_HOUSEHOLD, Disposition.UNKNOWN_OTHER, Disposition.NON_CONTACT, Disposition.OTHER})
"""Homes that have neither answered nor refused nor are empty: worth another knock."""


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


# What a note says of a home, the telling ones: the last of these counts.
_TELLING = {
    Contacted.REFUSED: Disposition.REFUSAL,
    Contacted.EMPTY: Disposition.NOT_ELIGIBLE,
    Contacted.SPOKE: Disposition.OTHER,
    Contacted.OTHER: Disposition.OTHER,
    Contacted.UNSURE: Disposition.UNKNOWN_OTHER,
}


def disposition(
    *, answered: bool, refused: bool, key_questions: int, of: int, notes: Sequence[ContactNote]
) -> Disposition:
    """The outcome of one home.

    Parameters
    ----------
    answered, refused
        Whether an answer is joined to it, and whether that answer was a no to the survey.
    key_questions, of
        How many of the key questions were answered. Fewer than :data:`COMPLETE_FROM` of them make a partial
        answer, never a break-off: whatever an answer says is used.
    notes
        Attempts to reach it, in any order. Of those that tell something the last counts: nobody there the day after
        a refusal leaves the refusal.

    Returns
    -------
    Disposition
        A home that never was reached and never answered is of unknown eligibility: nobody knows if it is lived in.
    """
    if refused:
        return Disposition.REFUSAL
    if answered:
        return Disposition.COMPLETE if key_questions >= COMPLETE_FROM * of else Disposition.PARTIAL
    telling = [n for n in notes if n.outcome in _TELLING]
    if telling:
        # Of two notes on one day the later in the list.
        return _TELLING[max(enumerate(telling), key=lambda pair: (pair[1].on, pair[0]))[1].outcome]
    if any(n.outcome is Contacted.NOBODY for n in notes):
        return Disposition.NON_CONTACT
    return Disposition.UNKNOWN_HOUSEHOLD
