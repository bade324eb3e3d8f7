r"""How much risk a household will live with, from one plain question.

A household of risk tolerance :math:`\rho` dollars feels a loss :math:`X` that may
come as much as a sure one of

.. math:: \rho \log E\,e^{X/\rho}

its certainty equivalent (exponential utility, Pratt, Risk aversion in the small
and in the large, Econometrica 32, 1964). A household that is neutral, of infinite
tolerance, feels the average. The question asks what one would pay, once, to be
rid of a chance of one in ten of a large bill; the answer weighs a failure the
same way: what one would pay to be rid of one chance in ten of it, times ten.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum

import numpy as np

from .amounts import Outcome

__all__ = ["ASKED_BILL_USD", "ASKED_CHANCE", "Tolerance", "certainty_equivalent", "felt_extra_usd", "mean_extra_usd"]

ASKED_CHANCE = 0.10
"""The chance in the question; also about what an aging heater's year holds."""
ASKED_BILL_USD = 4500.0
"""The bill in the question."""


class Tolerance(StrEnum):
    """Answers to the question; each stands for a risk tolerance in dollars."""

    NEUTRAL = "neutral"
    HIGH = "high"
    MIDDLE = "middle"
    LOW = "low"

    @property
    def dollars(self) -> float:
        """The risk tolerance."""
        return _DOLLARS[self]

    @property
    def would_pay_usd(self) -> float:
        """What such a household would pay to be rid of the chance in the question."""
        return certainty_equivalent([(1 - ASKED_CHANCE, 0.0), (ASKED_CHANCE, ASKED_BILL_USD)], self.dollars)


_DOLLARS = {
    Tolerance.NEUTRAL: math.inf,
    Tolerance.HIGH: 20_000.0,
    Tolerance.MIDDLE: 5_000.0,
    Tolerance.LOW: 2_000.0,
}


def certainty_equivalent(chances: Sequence[tuple[float, float]], tolerance_usd: float) -> float:
    """The sure loss that is felt as much as a loss that may come.

    Parameters
    ----------
    chances
        (chance, loss in dollars); the chances sum to one.
    tolerance_usd
        Risk tolerance, above zero; infinite for the average.

    Raises
    ------
    ValueError
        When the tolerance is not above zero.

    Examples
    --------
    >>> round(certainty_equivalent([(0.9, 0.0), (0.1, 4500.0)], 5000.0))
    681
    """
    if not tolerance_usd > 0:
        raise ValueError("The risk tolerance must be above zero.")
    weight, loss = np.array(chances, dtype=np.float64).T
    if math.isinf(tolerance_usd):
        return float(weight @ loss)
    may = weight > 0
    return float(tolerance_usd * np.logaddexp.reduce(np.log(weight[may]) + loss[may] / tolerance_usd))


def mean_extra_usd(found: Sequence[Outcome]) -> float:
    """What a failure costs beyond the planned price, on average."""
    return sum(o.chance * o.extra_usd for o in found)


def felt_extra_usd(found: Sequence[Outcome], tolerance: Tolerance) -> float:
    """The same as a household of this tolerance feels it: ten times what it would pay to be rid of a tenth of it."""
    event = [(1 - ASKED_CHANCE, 0.0), *((ASKED_CHANCE * o.chance, o.extra_usd) for o in found)]
    return certainty_equivalent(event, tolerance.dollars) / ASKED_CHANCE
