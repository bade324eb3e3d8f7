"""The renewal terms of one evaluation of the likelihood: values, and on demand slopes."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from .laws import Floats
from .layout import act_pace, act_pattern
from .observations import Ints
from .renewal import Spectra

if TYPE_CHECKING:
    from .likelihood import Likelihood

__all__ = ["END_WEIGHT", "GRID_YEARS", "RECENT_CELLS", "RECENT_YEARS", "SocketTerms"]

RECENT_YEARS = 5.0
"""How far back a leak still makes a home keener to answer."""
GRID_YEARS = 0.5
RECENT_CELLS = round(RECENT_YEARS / GRID_YEARS)
END_WEIGHT = np.concatenate([[0.5], np.ones(RECENT_CELLS - 1), [0.5]])  # trapezoid rule over the recent cells
_FLOOR = 1e-300


class SocketTerms:
    """The renewal part of one evaluation: its values, and on demand its slope."""

    def __init__(self, of: Likelihood, theta: Floats, spectra: Spectra, masses: Floats, ended: Floats) -> None:
        young = ended[..., : RECENT_CELLS + 1]
        self._young = 1 - np.cumsum(young, axis=-1) + 0.5 * young
        self._of, self._theta, self._spectra, self._masses = of, theta, spectra, masses
        kind, group, cell, part = of._socket_kind, of._socket_group, of._socket_cell, of._socket_part
        groups, cells = masses.shape[2:]
        by_place = masses.transpose(1, 0, 2, 3).reshape(len(theta), -1)  # draws, then kinds x groups x cells
        place = (kind * groups + group) * cells + cell
        below, above = by_place.take(place, axis=1), by_place.take(place + 1, axis=1)
        density = (below + part * (above - below)) / GRID_YEARS
        self.gain = np.zeros(len(theta))
        self.tilt_value = np.zeros(len(theta))
        tilt = of.layout.tilt
        self._leak = None
        if tilt is not None:
            self.gain = np.expm1(theta[:, tilt])
            hit = of._tilted
            k2, g, c, p = of._tilted_kind[hit], group[hit], cell[hit], part[hit]
            place = (k2 * groups + g) * cells + c
            below, above = by_place.take(place, axis=1), by_place.take(place + 1, axis=1)
            leak = (below + p * (above - below)) / GRID_YEARS
            self._leak = leak
            density[:, hit] += self.gain[:, None] * leak
            self.recent = self._recent_leaks(masses)
            self.bias = 1 + self.gain[:, None] * self.recent
            count = of._openers[2]
            self.tilt_value = theta[:, tilt] * of._reported_leaks - np.log(np.maximum(self.bias, _FLOOR)) @ count
        self._density = np.maximum(density, _FLOOR)
        self.log_density = np.log(self._density)

    @property
    def leak_share(self) -> Floats:
        """Share of leaks among the replacements of unknown cause in the last five years."""
        assert self._leak is not None
        share = self._leak / self._density[:, self._of._tilted]
        return np.asarray(np.clip(share, 0.0, 1.0), dtype=np.float64)

    def _recent_leaks(self, masses: Floats) -> Floats:
        """Chance that today's heater took the place of a failed one in these years: (draws, openers)."""
        of = self._of
        failed = masses[of._kinds.index(2)]
        rate = failed[:, of._openers[0][:, None], of._opened_cells] * of._opened_weight
        return np.asarray(np.einsum("doa,doa->do", rate, self._young[:, of._openers[0]]), dtype=np.float64)

    def slope(self, share: Floats) -> Floats:
        """Gradient of the renewal terms for the one parameter set; `share` weighs the terms."""
        of, theta, lay = self._of, self._theta, self._of.layout
        result = np.zeros(lay.size)
        weight = share[of._socket_term] / self._density[0] / GRID_YEARS
        shape = self._masses[:, 0].shape  # kinds, groups, cells
        place = (of._socket_kind * shape[1] + of._socket_group) * shape[2] + of._socket_cell
        back = _collect(place, weight * (1 - of._socket_part), shape)
        back += _collect(place + 1, weight * of._socket_part, shape)
        direct = np.zeros(shape[1:])
        if lay.tilt is not None:
            assert self._leak is not None
            gain, hit = float(self.gain[0]), of._tilted
            tilted = of._tilted_kind[hit] * shape[1] + of._socket_group[hit]
            tilted = tilted * shape[2] + of._socket_cell[hit]
            extra = gain * weight[hit]
            back += _collect(tilted, extra * (1 - of._socket_part[hit]), shape)
            back += _collect(tilted + 1, extra * of._socket_part[hit], shape)
            group, _, count = of._openers
            rise = np.exp(theta[0, lay.tilt])
            result[lay.tilt] = (
                rise * (weight[hit] * GRID_YEARS * self._leak[0]).sum()
                + of._reported_leaks
                - (count * rise * self.recent[0] / self.bias[0]).sum()
            )
            pull = -count * gain / self.bias[0]
            failed = of._kinds.index(2)
            amount = pull[:, None] * of._opened_weight
            cells, wide = of._opened_cells, group[:, None] * back.shape[2]
            back[failed] += _collect(wide + cells, amount * self._young[0, group], back.shape[1:])
            at = amount * self._masses[failed, 0][group[:, None], cells]
            by_group = np.zeros((back.shape[1], RECENT_CELLS + 1))
            np.add.at(by_group, group, at)
            # the chance to be young is one, less what ended before, less half of the cell itself
            later = np.cumsum(by_group[:, ::-1], axis=1)[:, ::-1] - by_group
            direct[:, : RECENT_CELLS + 1] -= later + 0.5 * by_group
        to_failed, to_ended = self._spectra.pull_back(of._kinds, back[:, None])
        self._to_parameters(to_failed[0], to_ended[0] + direct, result)
        return result

    def _to_parameters(self, to_failed: Floats, to_ended: Floats, result: Floats) -> None:
        of, theta, lay = self._of, self._theta, self._of.layout
        law, k = of.law, float(np.exp(theta[0, 1]))
        log_life = of.group_log_life(theta)[0][:, None]
        log_edges, segments = np.log(of._edges), of._edge_segments
        if segments is not None:
            pace = act_pace(theta[:, lay.acts])[0]
            used = segments @ pace
            log_edges = np.log(used)
        u = k * (log_edges - log_life) + law.offset
        cumulative = law.cumulative(u)
        stay = np.exp(-cumulative)
        rates = np.exp(theta[0, lay.bands])
        kept = np.exp(-(of._edge_bands @ rates))
        middle = 0.5 * (kept[1:] + kept[:-1])
        # slopes with respect to the survival at each edge
        to_stay = np.zeros_like(stay)
        to_stay[:, :-1] += to_failed * middle + to_ended * kept[:-1]
        to_stay[:, 1:] -= to_failed * middle + to_ended * kept[1:]
        to_kept = np.zeros_like(kept)
        drop = (to_failed * (stay[:, :-1] - stay[:, 1:])).sum(axis=0) * 0.5
        to_kept[:-1] += drop + (to_ended * stay[:, :-1]).sum(axis=0)
        to_kept[1:] += drop - (to_ended * stay[:, 1:]).sum(axis=0)
        steep = np.exp(law.log_slope(u, cumulative))
        to_u = -to_stay * stay * np.where(np.isfinite(steep), steep, 0.0)
        by_group = -k * to_u.sum(axis=1)
        result[0] += by_group.sum()
        result[1] += (to_u * (u - law.offset)).sum()
        result[lay.factors] += by_group @ of._group_factors
        if of.groups > 1:
            result[lay.phases] += by_group
        if segments is not None:
            has = act_pattern(lay.acts.stop - lay.acts.start)
            result[lay.acts] -= k * (to_u.sum(axis=0) / used) @ (segments @ (pace[:, None] * has))
        result[lay.bands] += -rates * ((to_kept * kept) @ of._edge_bands)


def _collect(place: Ints, amount: Floats, shape: tuple[int, ...]) -> Floats:
    """Add amounts up at flat places of an array of `shape`."""
    total = np.bincount(place.ravel(), amount.ravel(), math.prod(shape))
    return np.asarray(total.reshape(shape), dtype=np.float64)
