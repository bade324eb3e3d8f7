"""What the answers say of all homes: weighed by phase, with the finite population correction.

A community is a small population of which a good part answers, so a standard
error without the correction would be far too wide. Formulas: Cochran, *Sampling
Techniques* (3rd edition, 1977; section numbers from memory): 2.6 for a random
sample, 5.4 to 5A.9 for strata and post-stratification, 4.4 for the number of
answers. Intervals of a share are Wilson's (Journal of the American Statistical
Association 22, 1927) with the effective number of answers: at a share of nothing
or all the usual one would have no width.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

__all__ = [
    "HALF_WIDTH",
    "EarlyLate",
    "Estimate",
    "MeanEstimate",
    "Part",
    "Stratum",
    "answers_needed",
    "early_against_late",
    "post_stratified",
    "post_stratified_mean",
]

_Z95 = 1.959963984540054
_SURE = 1.645
HALF_WIDTH = 0.05
"""The interval aimed at: plus or minus five points."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stratum:
    """A part of the community: all its homes, those that answered the question, and the yes among them."""

    name: str
    homes: int
    answered: int
    yes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """The same for a number: its mean among the answers, and their variance (divided by one less than their count)."""

    name: str
    homes: int
    answered: int
    mean: float
    variance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MeanEstimate:
    """A mean and a total for all homes with their standard errors, with and without the finite population correction.

    ``se_unconditional`` is the corrected error of the mean before it is known how many would answer in each part.
    """

    homes: int
    mean: float
    se: float
    se_uncorrected: float
    se_unconditional: float
    left_out: tuple[str, ...]

    @property
    def total(self) -> float:
        """The mean times the homes."""
        return self.mean * self.homes

    @property
    def se_total(self) -> float:
        """Standard error of the total."""
        return self.se * self.homes


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
    se_total_unconditional: float
    share: float
    low: float
    high: float
    left_out: tuple[str, ...]


def post_stratified_mean(parts: Iterable[Part]) -> MeanEstimate:
    """The mean among all homes, each part weighed by its own homes; one part is a simple random sample.

    Parameters
    ----------
    parts
        Phases, as a rule; each with at least two answers to count.

    Raises
    ------
    ValueError
        When no part has two answers, or a part has more answers than homes.
    """
    given = list(parts)
    for p in given:
        if not 0 <= p.answered <= p.homes or p.variance < 0:
            raise ValueError(f"{p.name}: {p.answered} answers and {p.homes} homes cannot be together.")
    used = [p for p in given if p.answered >= 2]
    if not used:
        raise ValueError("There are too few answers for an estimate: a phase needs two.")
    homes, answers = sum(p.homes for p in used), sum(p.answered for p in used)
    mean = corrected = plain = average = extra = 0.0
    for p in used:
        weight = p.homes / homes
        spread = weight**2 * p.variance / p.answered
        mean += weight * p.mean
        plain += spread
        corrected += spread * (1 - p.answered / p.homes)
        average += weight * p.variance
        extra += (1 - weight) * p.variance
    before = (1 - answers / homes) * average / answers + extra / answers**2
    return MeanEstimate(
        homes=homes,
        mean=mean,
        se=math.sqrt(corrected),
        se_uncorrected=math.sqrt(plain),
        se_unconditional=math.sqrt(before),
        left_out=tuple(p.name for p in given if p.answered < 2),
    )


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
    parts = []
    for s in given:
        if not 0 <= s.yes <= s.answered <= s.homes:
            raise ValueError(f"{s.name}: {s.yes} yes, {s.answered} answers and {s.homes} homes cannot be together.")
        p = s.yes / s.answered if s.answered else 0.0
        variance = p * (1 - p) * s.answered / (s.answered - 1) if s.answered >= 2 else 0.0
        parts.append(Part(name=s.name, homes=s.homes, answered=s.answered, mean=p, variance=variance))
    found = post_stratified_mean(parts)
    answers = sum(p.answered for p in parts if p.answered >= 2)
    low, high = _wilson(found, answers)
    return Estimate(
        homes=found.homes,
        total=found.total,
        se_total=found.se_total,
        se_total_uncorrected=found.se_uncorrected * found.homes,
        se_total_unconditional=found.se_unconditional * found.homes,
        share=found.mean,
        low=low,
        high=high,
        left_out=found.left_out,
    )


def _wilson(found: MeanEstimate, answers: int) -> tuple[float, float]:
    """Wilson's 95% interval with as many answers as would give this standard error in a simple random sample."""
    p, missing = found.mean, 1 - answers / found.homes
    if missing <= 0:
        return p, p
    usual = answers / missing
    effective = usual if found.se <= 0 else p * (1 - p) / found.se**2
    n = min(max(effective, 1.0), 4 * usual)  # parts that all say one thing must not make it look surer than it is
    middle = (p + _Z95**2 / (2 * n)) / (1 + _Z95**2 / n)
    half = _Z95 / (1 + _Z95**2 / n) * math.sqrt(p * (1 - p) / n + _Z95**2 / (4 * n**2))
    return max(0.0, min(middle - half, p)), min(1.0, max(middle + half, p))


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


@dataclass(frozen=True, slots=True, kw_only=True)
class EarlyLate:
    """The homes that answered first against those that answered last: how many, and what share says yes.

    ``sure`` is True where the two differ by more than chance would (90 of 100 cases).
    """

    early: int
    early_share: float
    late: int
    late_share: float
    sure: bool

    @property
    def sentence(self) -> str:
        """What it means for the homes that have not answered."""
        shares = f"{100 * self.early_share:.0f}% of the first third and {100 * self.late_share:.0f}% of the last third"
        if not self.sure:
            return (
                f"Past twice its warranty: {shares} of the homes that answered. That may be chance: nothing says that "
                "those still silent differ."
            )
        return (
            f"Past twice its warranty: {shares} of the homes that answered. That is more than chance: those still "
            "silent are likely to be more like the late ones, and the estimate may be off the same way."
        )


def early_against_late(in_order: Iterable[bool]) -> EarlyLate | None:
    """Whether those who answered late differ from those who answered early; None with fewer than 30 answers.

    Parameters
    ----------
    in_order
        The yes or no of each home, in the order in which they first answered.
    """
    given = list(in_order)
    if len(given) < 30:
        return None
    third = len(given) // 3
    first, last = given[:third], given[-third:]
    a, b = sum(first) / third, sum(last) / third
    together = (a + b) / 2
    error = math.sqrt(2 * together * (1 - together) / third)
    return EarlyLate(
        early=third, early_share=a, late=third, late_share=b, sure=error > 0 and abs(a - b) > _SURE * error
    )
