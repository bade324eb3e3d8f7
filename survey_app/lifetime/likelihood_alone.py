"""A law of lives fitted by likelihood alone, without a prior: the literature's worked examples are held against it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from .laws import LAWS, Floats
from .likelihood import Likelihood
from .observations import Observations
from .posterior import descend_bfgs

__all__ = ["MaximumLikelihood", "maximum_likelihood"]


@dataclass(frozen=True, slots=True)
class MaximumLikelihood:
    """A fit without any prior, for comparison with the literature.

    Parameters
    ----------
    log_median, log_shape
        The law's parameters.
    factors
        Effects on log life, by factor.
    log_likelihood
        At the maximum.
    """

    law: str
    log_median: float
    log_shape: float
    factors: dict[str, float]
    log_likelihood: float

    @property
    def shape(self) -> float:
        """The law's shape."""
        return math.exp(self.log_shape)

    @property
    def log_scale(self) -> float:
        """Log of the Weibull scale, the age by which 63.2% have failed (the median for the lognormal)."""
        return self.log_median - LAWS[self.law].offset / self.shape

    @property
    def scale(self) -> float:
        """Weibull scale in the unit of the ages."""
        return math.exp(self.log_scale)


def maximum_likelihood(observations: Observations, *, law: str = "weibull") -> MaximumLikelihood:
    """Fit a law by likelihood alone.

    Parameters
    ----------
    observations
        Typically from :func:`survey_app.lifetime.durations`; renewal terms are not allowed here.
    law
        ``"weibull"`` or ``"lognormal"``.

    Returns
    -------
    MaximumLikelihood

    Raises
    ------
    ValueError
        When nothing failed: the likelihood then has no maximum.
    """
    likelihood = Likelihood(observations, law)
    size = likelihood.layout.size
    ends = observations.ended[:, 1] - observations.began[:, 1]
    failed = observations.end != 0
    if not failed.any():
        raise ValueError("No failure was observed, so the likelihood has no maximum. Use fit() with a prior.")
    total = float(observations.weight.sum())
    mean = observations.factors.mean(axis=0) if observations.factors.shape[1] else np.zeros(0)
    spread = observations.factors.std(axis=0) if observations.factors.shape[1] else np.zeros(0)
    unit = np.concatenate([np.ones(2), 1 / np.maximum(spread, 1e-12)])

    def theta_of(v: Floats) -> Floats:
        theta = v * unit
        theta[0] -= mean @ theta[2:]  # the starting median is that of the average unit
        return np.asarray(theta, dtype=np.float64)

    def descend(v: Floats) -> tuple[float, Floats]:
        value, slope = likelihood.value_and_slope(theta_of(v))
        slope[2:] -= mean * slope[0]
        return -value / total, -slope * unit / total

    start = np.zeros(size)
    start[0] = math.log(float(np.average(np.maximum(ends, 1e-9), weights=observations.weight)))
    start[1] = 0.5 if law == "weibull" else 0.0

    def guess(v: Floats) -> Floats:
        """Inverse curvature from the rows' own slopes (Berndt and others, 1974)."""
        rows = likelihood.row_slopes(theta_of(v)) / np.sqrt(observations.weight)[:, None]
        rows[:, 2:] -= mean * rows[:, :1]
        rows *= unit
        return np.asarray(np.linalg.inv(rows.T @ rows / total + 0.01 * np.eye(size)), dtype=np.float64)

    v, lowest = descend_bfgs(descend, start, guess(start), tolerance=0.05)
    v, lowest = descend_bfgs(descend, v, guess(v), tolerance=5e-7)  # near the maximum the guess is good
    theta = theta_of(v)
    names = likelihood.layout.names
    return MaximumLikelihood(
        law,
        float(theta[0]),
        float(theta[1]),
        {names[i]: float(theta[i]) for i in range(2, size)},
        -lowest * total,
    )
