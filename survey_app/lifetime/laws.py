r"""Two laws of how long a heater lasts, in one standard form.

A life :math:`T` has a *median* and a *shape*. With the standardized log age

.. math:: u = k\,(\log t - \log m) + c

the law says how much risk a heater has lived through, its cumulative hazard
:math:`H(u)`; the chance of outliving age :math:`t` is :math:`e^{-H(u)}`. For a
household: *m* is the age by which half of such heaters are gone; *k* says how
closely the lives gather around it (twice as large: half the scatter on the
log scale).

======== ============================== ============= =====================
law      :math:`H(u)`                   c             shape
======== ============================== ============= =====================
weibull  :math:`e^u`                    log(log 2)    Weibull shape
lognormal :math:`-\log\Phi(-u)`         0             1 / sd of log life
======== ============================== ============= =====================

The formulas are the textbook ones (Meeker and Escobar, Statistical Methods
for Reliability Data, 1998, chapter 4), written around the median because a
median is what people have an opinion about.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import log_ndtr

__all__ = ["LAWS", "Floats", "Law"]

Floats = NDArray[np.float64]

_LOG_SQRT_TWO_PI = 0.5 * math.log(2 * math.pi)
_LARGEST_LOG_HAZARD = 50.0  # exp(50) is beyond any life; keeps wild trial parameters finite


@dataclass(frozen=True, slots=True)
class Law:
    """A law of life lengths in its standard form (see the module's text).

    Parameters
    ----------
    name
        ``"weibull"`` or ``"lognormal"``.
    offset
        The standardized log age at the median.
    log_scatter
        Standard deviation of log life times the shape: what makes the shapes of
        two laws comparable.
    """

    name: str
    offset: float
    log_scatter: float

    def cumulative(self, u: Floats) -> Floats:
        """Cumulative hazard at standardized log ages `u`."""
        if self.name == "weibull":
            return np.exp(np.minimum(u, _LARGEST_LOG_HAZARD))
        return np.asarray(-log_ndtr(-u), dtype=np.float64)

    def log_slope(self, u: Floats, cumulative: Floats) -> Floats:
        """Log of dH/du; `cumulative` is H(u), which the caller already has."""
        if self.name == "weibull":
            return np.minimum(u, _LARGEST_LOG_HAZARD)
        return -0.5 * u * u - _LOG_SQRT_TWO_PI + cumulative

    def bend(self, u: Floats, slope: Floats) -> Floats:
        """Derivative of log dH/du; `slope` is dH/du."""
        if self.name == "weibull":
            return np.ones_like(u)
        return slope - u

    def survival(self, ages_years: Floats, median_years: float, shape: float) -> Floats:
        """Share of heaters that outlive the ages.

        Parameters
        ----------
        ages_years
            Ages, zero or more.
        median_years, shape
            The law's two parameters, both positive.

        Returns
        -------
        ndarray
            Values in [0, 1], of the shape of `ages_years`.

        Examples
        --------
        >>> float(LAWS["weibull"].survival(np.array([13.0]), 13.0, 2.6)[0])
        0.5
        """
        with np.errstate(divide="ignore"):
            u = shape * (np.log(np.asarray(ages_years, dtype=np.float64)) - math.log(median_years))
        return np.exp(-self.cumulative(u + self.offset))

    def mean_years(self, median_years: float, shape: float) -> float:
        """Mean life of a law with this median and shape, in years."""
        if self.name == "weibull":
            return float(median_years / math.log(2) ** (1 / shape) * math.gamma(1 + 1 / shape))
        return median_years * math.exp(0.5 / shape**2)


LAWS = {
    "weibull": Law("weibull", math.log(math.log(2)), math.pi / math.sqrt(6)),
    "lognormal": Law("lognormal", 0.0, 1.0),
}
