"""Which parameters there are, and the small tables that turn ages into what they need."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .laws import Floats
from .observations import IN_SERVICE, Observations

__all__ = ["SHORTEST_LIFE", "Layout", "act_pace", "act_pattern", "act_segments", "band_years", "usable_acts"]

SHORTEST_LIFE = 1e-30
"""Years: an age of zero, where its logarithm is needed."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where each parameter stands in the vector.

    Parameters
    ----------
    names
        One per parameter, in plain words.
    factors, acts, phases, bands
        Slices: factors of the heater, dated acts, phase effects, early-replacement rates.
    tilt
        Position of the response tilt, or None.
    """

    names: tuple[str, ...]
    factors: slice
    acts: slice
    phases: slice
    bands: slice
    tilt: int | None

    @property
    def size(self) -> int:
        """Number of parameters."""
        return len(self.names)

    @classmethod
    def of(
        cls, factors: tuple[str, ...], acts: tuple[str, ...], phases: tuple[str, ...], bands: int, tilt: bool
    ) -> Layout:
        """The layout for what the observations contain."""
        names: list[str] = ["log median life", "log shape"]

        def take(more: list[str]) -> slice:
            names.extend(more)
            return slice(len(names) - len(more), len(names))

        places = (
            take(list(factors)),
            take(list(acts)),
            take([f"phase {p}" for p in phases]),
            take([f"replaced early, band {b + 1}" for b in range(bands)]),
        )
        if tilt:
            names.append("response tilt")
        return cls(tuple(names), *places, len(names) - 1 if tilt else None)


def band_years(ages: Floats, bands_from: Floats) -> Floats:
    """Years spent in each band of age by each age, shape (ages, bands)."""
    if not len(bands_from):
        return np.zeros((len(ages), 0))
    upper = np.append(bands_from[1:], np.inf)
    return np.clip(ages[:, None], bands_from, upper) - bands_from


def act_pattern(acts: int) -> NDArray[np.float64]:
    """Which acts are done in each segment, shape (2 ** acts, acts)."""
    codes = np.arange(2**acts)[:, None]
    return ((codes >> np.arange(acts)) & 1).astype(np.float64)


def act_pace(effects: Floats) -> Floats:
    """How fast life is used up in each segment, shape (draws, 2 ** acts)."""
    return np.exp(-(effects @ act_pattern(effects.shape[1]).T))


def act_segments(age: Floats, act_ages: list[Floats]) -> Floats:
    """Years lived in each combination of acts done, up to each age: shape (ages, 2 ** acts)."""
    acts = len(act_ages)
    result = np.zeros((len(age), 2**acts))
    cuts = np.sort(np.column_stack([np.zeros(len(age)), *act_ages, age]), axis=1)
    cuts = np.minimum(cuts, age[:, None])
    for j in range(acts + 1):
        length = cuts[:, j + 1] - cuts[:, j]
        code = np.zeros(len(age), dtype=np.int64)
        for bit, at in enumerate(act_ages):
            code += (at <= cuts[:, j]).astype(np.int64) << bit
        result[np.arange(len(age)), code] += length
    return result


def usable_acts(observations: Observations) -> tuple[str, ...]:
    """The acts whose effect can be learned without favoring survivors.

    Where only heaters in service have dated acts, those who acted are survivors
    by construction. An act counts only if heaters that ended carry it at least a
    quarter as often as heaters in service, and three times at least.
    """
    result = []
    for name, first in observations.first_acts.items():
        has, ended = np.isfinite(first), observations.end != IN_SERVICE
        if not has.any():
            continue
        in_service = has[~ended].mean() if (~ended).any() else 0.0
        if has[ended].sum() >= max(3.0, 0.25 * in_service * ended.sum()):
            result.append(name)
    return tuple(result)
