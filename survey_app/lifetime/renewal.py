r"""What the age of a house says about the heaters that came before today's.

A home is a *socket*: when one heater goes, the next goes in. If heaters leave
service with lives distributed as :math:`A` (failed or replaced early), the rate
at which some heater of a house ``x`` years old is replaced is the renewal
density (Cox, Renewal Theory, 1962, chapter 4)

.. math:: m = A + A * A + A * A * A + \dots = A / (1 - A)

read as a power series on a grid of ages. Someone who knows only today's heater,
installed when the house was ``x`` years old, has told us two things: a heater
was replaced at ``x`` (rate ``m(x)``) and the new one has survived since.
Forgetting the first is forgetting every heater that already failed.

The series is divided in one pair of fast Fourier transforms, after damping it
by :math:`r^n` with :math:`r^{L} = 10^{-8}`, so that what wraps around is a
hundred-millionth and everything is computed for many parameter draws at once.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray
from scipy.fft import irfft, next_fast_len, rfft

from .laws import Floats

__all__ = ["SOCKET_KINDS", "Spectra", "renewal_function"]

SOCKET_KINDS = ("any", "any, third or later", "failed", "failed, second or later", "early", "early, second or later")
"""What is known about the replacement that put today's heater in: in this order in every array.

``failed`` and ``early`` name how the one before ended; ``second or later`` says
that it was not the first in the house, ``third or later`` that today's is not
the second.
"""

_WRAP = 1e-8


@dataclass(frozen=True, slots=True)
class Spectra:
    """The damped transforms of one batch of sockets, and what is read from them.

    Parameters
    ----------
    cells
        Number of grid cells kept, from age 0.
    failed, ended
        Transforms of the chance to fail, and to leave service at all, in each
        cell of age; any leading shape, frequencies last.
    loop
        ``1 / (1 - ended)``: the chain of replacements, the first heater included.
    """

    cells: int
    failed: NDArray[np.complex128]
    ended: NDArray[np.complex128]
    loop: NDArray[np.complex128]

    @classmethod
    def of(cls, failed_mass: Floats, ended_mass: Floats) -> Spectra:
        """From masses per grid cell of age (last axis), damped against wrap-around."""
        cells = failed_mass.shape[-1]
        damp = cls._damping(cells)
        length = cls._length(cells)
        failed = rfft(failed_mass * damp, length)
        ended = rfft(ended_mass * damp, length)
        return cls(cells, failed, ended, 1.0 / (1.0 - ended))

    @staticmethod
    @cache
    def _length(cells: int) -> int:
        return int(next_fast_len(cells + cells // 4 + 1, real=True))

    @staticmethod
    @cache
    def _damping(cells: int) -> Floats:
        return np.asarray(_WRAP ** (np.arange(cells) / Spectra._length(cells)), dtype=np.float64)

    def _cause(self, kind: int) -> NDArray[np.complex128]:
        return self.failed if kind in (2, 3) else self.ended - self.failed

    def masses(self, kind: int) -> Floats:
        """Expected number of replacements of `kind` (index into `SOCKET_KINDS`) per cell of house age."""
        if kind == 0:
            spectrum = self.loop - 1.0
        elif kind == 1:
            spectrum = self.ended * (self.loop - 1.0)
        elif kind in (2, 4):
            spectrum = self._cause(kind) * self.loop
        else:
            spectrum = self._cause(kind) * (self.loop - 1.0)
        values = irfft(spectrum, self._length(self.cells))[..., : self.cells]
        return np.asarray(values / self._damping(self.cells), dtype=np.float64)

    def pull_back(self, kinds: tuple[int, ...], slopes: Floats) -> tuple[Floats, Floats]:
        """Turn slopes with respect to `masses` into slopes with respect to the two inputs.

        Parameters
        ----------
        kinds
            The kinds present, in the order of the first axis of `slopes`.
        slopes
            Shape (kinds, ..., cells).

        Returns
        -------
        (ndarray, ndarray)
            Slopes with respect to the failed and the ended masses of `Spectra.of`.
        """
        length, damp = self._length(self.cells), self._damping(self.cells)
        back = np.conj(rfft(slopes / damp, length))
        to_failed = np.zeros_like(self.failed)
        to_ended = np.zeros_like(self.failed)
        squared = self.loop**2
        for row, kind in zip(back, kinds, strict=True):
            if kind == 0:
                to_ended += row * squared
            elif kind == 1:
                to_ended += row * (squared - 1.0)
            else:
                factor = self.loop if kind in (2, 4) else self.loop - 1.0
                if kind in (2, 3):
                    to_failed += row * factor
                else:
                    to_failed -= row * factor
                    to_ended += row * factor
                to_ended += row * self._cause(kind) * squared
        failed = irfft(np.conj(to_failed), length)[..., : self.cells] * damp
        ended = irfft(np.conj(to_ended), length)[..., : self.cells] * damp
        return np.asarray(failed, dtype=np.float64), np.asarray(ended, dtype=np.float64)


def _coarse_renewal(distribution: Callable[[Floats], Floats], horizon: float, cells: int) -> Floats:
    step = horizon / cells
    edges = np.concatenate([[0.0], (np.arange(cells + 1) + 0.5) * step])
    mass = np.diff(distribution(edges))
    replaced = Spectra.of(mass, mass).masses(0)
    return np.cumsum(replaced) - 0.5 * replaced


def renewal_function(distribution: Callable[[Floats], Floats], times_years: Floats, *, cells: int = 2000) -> Floats:
    """Expected number of replacements in a socket within given times of the first installation.

    Parameters
    ----------
    distribution
        Share of heaters gone by an age in years, F, vectorized; F(0) = 0.
    times_years
        Times after the first installation; the largest must be positive.
    cells
        Grid cells up to the largest time. Two grids are combined (Richardson),
        so that the error falls with the fourth power of the cell where F is smooth.

    Returns
    -------
    ndarray
        M(t), of the shape of `times_years`.

    Examples
    --------
    An exponential life of mean 14 years is replaced once in 14 years:

    >>> lives = lambda t: 1 - np.exp(-t / 14)
    >>> round(float(renewal_function(lives, np.array([50.0]))[0]), 4)
    3.5714
    """
    times = np.asarray(times_years, dtype=np.float64)
    horizon = float(times.max())
    fine = _coarse_renewal(distribution, horizon, 2 * cells)
    coarse = _coarse_renewal(distribution, horizon, cells)
    better = (4 * fine[::2] - coarse) / 3
    return np.asarray(np.interp(times, np.linspace(0, horizon, cells + 1), better), dtype=np.float64)
