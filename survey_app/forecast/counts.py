r"""How many of many unequal chances come true: exact counts.

The number of failures among homes with chances :math:`p_i` is Poisson-binomial.
Its characteristic function is :math:`\prod_i (1 + p_i z)` with
:math:`z = e^{i\omega} - 1`. Few homes are multiplied out directly. For many,

.. math:: \log \prod_i (1 + p_i z) = \sum_k (-1)^{k+1} \frac{z^k}{k} \sum_i p_i^k

needs only the power sums of the chances, which add up over groups of homes and
can be taken for a thousand parameter draws at once. Chances above one half
enter through their complement. Where :math:`|p z|` is large the function itself
is below :math:`e^{-2 v \sin^2(\omega/2)}`, v the variance, so that the series is
exact to rounding wherever it matters. Terms are added until a bound says that
nothing above 1e-13 is missing; where 48 terms leave more than 1e-10, the homes
are multiplied out after all.
A mixture over draws is the weighted mean of their characteristic functions.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["CountMixture", "Counts", "fill_groups", "poisson_binomial"]

Floats = NDArray[np.float64]

_DIRECT_HOMES = 40
_TOLERANCE = 1e-10
_MOST_TERMS = 48
_KEPT_HOMES = 400


def poisson_binomial(chances: Floats) -> Floats:
    """Exact distribution of the number of successes.

    Parameters
    ----------
    chances
        Chances in [0, 1], shape (n,) or (draws, n).

    Returns
    -------
    ndarray
        Probabilities of 0..n, shape (n + 1,) or (draws, n + 1).

    Raises
    ------
    ValueError
        When a chance lies outside [0, 1].

    Examples
    --------
    >>> poisson_binomial(np.array([0.1, 0.2, 0.3])).round(3)
    array([0.504, 0.398, 0.092, 0.006])
    """
    p = np.asarray(chances, dtype=np.float64)
    if p.size and not ((p >= 0) & (p <= 1)).all():
        raise ValueError("A chance lies outside 0 to 1. Check where it was computed.")
    if p.ndim == 1:
        return _halves(p)
    return _one_by_one(p, p.shape[1])


def _halves(p: Floats) -> Floats:
    """Multiply out by halves: few long convolutions instead of many short ones."""
    if len(p) <= 64:
        result = np.ones(1)
        for chance in p:
            result = np.convolve(result, (1 - chance, chance))
        return result
    middle = len(p) // 2
    return np.convolve(_halves(p[:middle]), _halves(p[middle:]))


def _one_by_one(p: Floats, most: int) -> Floats:
    """Multiply out home by home for all draws, keeping counts up to `most`."""
    result = np.zeros((len(p), most + 1))
    result[:, 0] = 1.0
    for i in range(p.shape[1]):
        top = min(i + 1, most)
        chance = p[:, i : i + 1]
        moved = result[:, :top] * chance
        result[:, : top + 1] *= 1 - chance
        result[:, 1 : top + 1] += moved
    return result


@dataclass(frozen=True, slots=True)
class Counts:
    """A distribution of a count.

    Parameters
    ----------
    first
        The count of the first entry.
    probabilities
        Of `first`, `first` + 1, ...; they sum to one.
    """

    first: int
    probabilities: Floats

    @property
    def mean(self) -> float:
        """Expected count."""
        return float(self.probabilities @ (self.first + np.arange(len(self.probabilities))))

    @property
    def sd(self) -> float:
        """Standard deviation of the count."""
        counts = self.first + np.arange(len(self.probabilities))
        return math.sqrt(max(float(self.probabilities @ (counts - self.mean) ** 2), 0.0))

    def quantile(self, at: float) -> int:
        """Smallest count with at least the share `at` of probability up to it."""
        running = np.cumsum(self.probabilities)
        return self.first + min(int(np.searchsorted(running, at - 1e-12)), len(running) - 1)

    def interval(self, level: float = 0.9) -> tuple[int, int]:
        """Equal-tailed interval that holds at least `level`."""
        return self.quantile((1 - level) / 2), self.quantile((1 + level) / 2)


class CountMixture:
    """Collects a group's chances draw by draw and mixes the counts over the draws.

    Parameters
    ----------
    draws
        Number of draws that will be added.
    homes
        Number of homes in the group with chances of their own.
    """

    def __init__(self, draws: int, homes: int) -> None:
        self.homes = homes
        self.means = np.zeros(draws)
        self.squares = np.zeros(draws)
        self._low = np.zeros((draws, _MOST_TERMS))
        self._high = np.zeros((draws, _MOST_TERMS))  # of the complements, where the chance is above a half
        self._above_half = np.zeros(draws)
        self._terms = 1
        self._chances = np.zeros((draws, homes)) if homes <= _KEPT_HOMES else None
        self._alike: list[tuple[int, Floats]] = []

    def fill(self, rows: slice, chances: Floats) -> None:
        """Add the chances of the draws `rows`, shape (draws, homes)."""
        fill_groups([self], [slice(0, self.homes)], rows, chances)

    def add_alike(self, homes: int, chance: Floats) -> None:
        """Add `homes` homes that all have the draw's `chance`, shape (draws,)."""
        if homes:
            self._alike.append((homes, chance))
            high = chance > 0.5
            order = np.arange(1, _MOST_TERMS + 1)
            self._low += homes * np.where(high, 0.0, chance)[:, None] ** order
            if high.any():
                self._high += homes * np.where(high, 1 - chance, 0.0)[:, None] ** order
                self._above_half += homes * high
            self._terms = _MOST_TERMS
            self.means = self.means + homes * chance
            self.squares = self.squares + homes * chance**2

    @classmethod
    def together(cls, parts: list[CountMixture]) -> CountMixture:
        """The groups as one; the chances of small groups are kept so that they can be multiplied out."""
        homes = sum(p.homes for p in parts)
        result = cls(len(parts[0].means), 0)
        result.homes = homes
        for part in parts:
            result.means = result.means + part.means
            result.squares = result.squares + part.squares
            result._low += part._low
            result._high += part._high
            result._above_half += part._above_half
            result._terms = max(result._terms, part._terms)
            result._alike += part._alike
        kept = [p._chances for p in parts]
        small = homes <= _KEPT_HOMES and all(c is not None for c in kept)
        result._chances = np.concatenate([c for c in kept if c is not None], axis=1) if small else None
        return result

    @property
    def variance(self) -> Floats:
        """Variance of the count within each draw."""
        return np.maximum(self.means - self.squares, 0.0)

    def mix(self, weights: Floats) -> Counts:
        """The count over all draws; `weights` sum to one."""
        everyone = self.homes + sum(homes for homes, _ in self._alike)
        if everyone == 0:
            return Counts(0, np.ones(1))
        spread = np.sqrt(self.variance)
        low = max(0, math.floor(float((self.means - 10 * spread).min())) - 10)
        high = min(everyone, math.ceil(float((self.means + 10 * spread).max())) + 10)
        window = 2 * ((high - low + 2) // 2 + 1)
        omega = 2 * np.pi * np.arange(window // 2 + 1) / window
        # beyond this frequency no draw's characteristic function reaches 1e-15
        quiet = 2 * float(self.variance.min()) * np.sin(omega / 2) ** 2 > 36
        heard = omega[: max(int(np.argmax(quiet)), 1)] if quiet.any() else omega
        cf = np.exp(self._log_series(heard))
        if self._chances is not None and (
            self.homes <= _DIRECT_HOMES or self._missing(heard, cf, weights) > _TOLERANCE
        ):
            heard, cf = omega, self._product(omega, min(high, self.homes))
        omega = heard
        full = np.zeros(window // 2 + 1, dtype=np.complex128)
        full[: len(omega)] = (weights @ cf) * np.exp(1j * omega * low)
        mixed = np.maximum(np.fft.irfft(full, window)[: high - low + 1], 0.0)
        return Counts(low, mixed / mixed.sum())

    def _missing(self, omega: Floats, cf: NDArray[np.complex128], weights: Floats) -> float:
        """Bound on what the terms left out could change in any one probability."""
        k = self._terms
        last = (self._low[:, k - 1] + self._high[:, k - 1]) / k
        at = (2 * np.sin(omega / 2)) ** k
        return float((weights @ (np.abs(cf) * last[:, None] * at)).mean())

    def _product(self, omega: Floats, most: int) -> NDArray[np.complex128]:
        """The characteristic functions from homes multiplied out one by one."""
        assert self._chances is not None
        own = _one_by_one(self._chances, most)
        cf = own @ np.exp(-1j * np.outer(np.arange(most + 1), omega))
        for homes, chance in self._alike:
            cf = cf * (1 + chance[:, None] * (np.exp(-1j * omega) - 1)) ** homes
        return np.asarray(cf, dtype=np.complex128)

    def _log_series(self, omega: Floats) -> NDArray[np.complex128]:
        z = np.exp(-1j * omega) - 1
        order = np.arange(1, self._terms + 1)
        powers = z ** order[:, None] * ((-1.0) ** (order + 1) / order)[:, None]
        low = self._low[:, : self._terms]
        result = (low @ powers.real) + 1j * (low @ powers.imag)
        if self._above_half.any():
            # 1 + p z = e^{-i omega} (1 + (1 - p) conj(z))
            result = result + self._high[:, : self._terms] @ np.conj(powers)
            result = result - 1j * np.outer(self._above_half, omega)
        return np.asarray(result, dtype=np.complex128)


def fill_groups(groups: list[CountMixture], spans: list[slice], rows: slice, chances: Floats) -> None:
    """Add the chances of the draws `rows` to several groups at once.

    Parameters
    ----------
    groups, spans
        The groups, and which columns of `chances` each takes.
    rows
        Which draws.
    chances
        Shape (draws, homes of all groups).
    """
    if not chances.size:
        return
    member = np.zeros((chances.shape[1], len(groups)))
    for j, (group, span) in enumerate(zip(groups, spans, strict=True)):
        member[span, j] = 1.0
        if group._chances is not None:
            group._chances[rows] = chances[:, span]
    means, squares = chances @ member, (chances * chances) @ member
    high = chances > 0.5
    above = high.any()
    low_sums = _power_sums(np.where(high, 0.0, chances) if above else chances, spans, means - squares)
    high_sums = None
    if above:  # few homes are that likely to fail: only their columns are looked at
        columns = np.flatnonzero(high.any(axis=0))
        places = [slice(*np.searchsorted(columns, [span.start, span.stop]).tolist()) for span in spans]
        rest = np.where(high[:, columns], 1 - chances[:, columns], 0.0)
        high_sums = _power_sums(rest, places, means - squares)
    for j, group in enumerate(groups):
        group.means[rows], group.squares[rows] = means[:, j], squares[:, j]
        group._low[rows, : len(low_sums)] = low_sums[:, :, j].T
        group._terms = max(group._terms, len(low_sums))
        if high_sums is not None:
            group._above_half[rows] = high[:, spans[j]].sum(axis=1)
            group._high[rows, : len(high_sums)] = high_sums[:, :, j].T
            group._terms = max(group._terms, len(high_sums))


def _power_sums(values: Floats, spans: list[slice], variance: Floats) -> Floats:
    """Sums of the first powers by group, shape (terms, draws, groups), as many as are needed.

    The k-th term of the series is at most ``sum(p^k) (2 s)^k / k`` with ``s = sin(omega / 2)``, and
    counts only as far as the characteristic function itself, at most ``exp(-2 v s^2)``: their
    product is largest at ``s^2 = k / (4 v)``. It stops below 1e-13.

    Sixteen sums come from one small matrix product: of p, p^2, p^3, p^4 with 1, p^4, p^8, p^12.
    """
    draws, homes = values.shape
    low, high = np.empty((4, draws, homes)), np.empty((4, draws, homes))
    low[0] = values
    np.multiply(values, values, out=low[1])
    np.multiply(low[1], values, out=low[2])
    np.multiply(low[1], low[1], out=low[3])
    high[0] = 1.0
    high[1] = low[3]
    np.multiply(low[3], low[3], out=high[2])
    np.multiply(high[2], low[3], out=high[3])
    sixteenth = high[2] * high[2]
    result = np.empty((_MOST_TERMS, draws, len(spans)))
    for last in range(16, _MOST_TERMS + 1, 16):
        if last > 16:
            high *= sixteenth
        for j, span in enumerate(spans):
            block = low[:, :, span].transpose(1, 0, 2) @ high[:, :, span].transpose(1, 2, 0)
            result[last - 16 : last, :, j] = block.transpose(2, 1, 0).reshape(16, draws)
        worst = np.minimum(last / (4 * np.maximum(variance, 1e-9)), 1.0)
        log_bound = 0.5 * last * np.log(4 * worst) - 2 * variance * worst - math.log(last)
        if (result[last - 1] * np.exp(log_bound)).max() < 1e-13:
            return result[:last]
    return result
