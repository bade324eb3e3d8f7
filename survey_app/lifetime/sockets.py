"""Homes whose heaters came one after the other: what is read off their renewal densities, and with which slopes.

:class:`Sockets` holds what the observations say of them, laid out once;
:class:`SocketTerms` is one evaluation.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .laws import Floats, Law
from .layout import SHORTEST_LIFE, Layout, act_pace, act_pattern, band_years
from .observations import FAILED, IN_SERVICE, NO_START, Ints, Observations
from .renewal import Spectra

__all__ = ["GRID_YEARS", "SocketTerms", "Sockets", "leak_rows"]

_RECENT_YEARS = 5.0
"""How far back a leak still makes a home keener to answer."""
GRID_YEARS = 0.5
_RECENT_CELLS = round(_RECENT_YEARS / GRID_YEARS)
_END_WEIGHT = np.concatenate([[0.5], np.ones(_RECENT_CELLS - 1), [0.5]])  # trapezoid rule over the recent cells
_FLOOR = 1e-300
_LEAK = 2
"""The kind of a start that a failed heater made; see `renewal.SOCKET_KINDS`."""


def leak_rows(observations: Observations, cause: int) -> NDArray[np.bool_]:
    """Rows in service since a heater before them ended, by `cause`, in the last five years."""
    obs = observations
    recent = (obs.end == IN_SERVICE) & (obs.began.mean(axis=1) >= -_RECENT_YEARS)
    after = np.r_[False, (obs.home[1:] == obs.home[:-1]) & (obs.end[:-1] == cause)] & (obs.start == NO_START)
    started = np.isin(obs.start, (2, 3)) if cause == FAILED else np.zeros(len(obs), bool)
    return np.asarray(recent & (after | started) & obs.home_opened(), dtype=np.bool_)


@dataclass(frozen=True, slots=True)
class _Grid:
    """Cell edges of age, the years in each band up to them, and in each combination of acts (None without acts)."""

    edges: Floats
    bands: Floats
    segments: Floats | None


@dataclass(frozen=True, slots=True)
class _Openers:
    """Homes watched since they were built, by group and house age in half years, and the cells of their last years."""

    group: Ints
    count: Floats
    cells: Ints
    weight: Floats

    @classmethod
    def of(cls, group: Ints, house_age: Floats) -> _Openers:
        cell = np.maximum(np.round(house_age / GRID_YEARS), 0).astype(np.int64)
        pairs, count = np.unique(np.stack([group, cell]), axis=1, return_counts=True)
        opened = pairs[1][:, None] - np.arange(_RECENT_CELLS + 1)
        weight = np.where(opened >= 0, _END_WEIGHT, 0.0)
        return cls(pairs[0], count.astype(np.float64), np.maximum(opened, 0), weight)


@dataclass(frozen=True, slots=True)
class _Starts:
    """Terms whose heater began at a known age of its house: where each reads its density.

    ``kind`` is a position in `Sockets.kinds`; ``cell`` and ``part`` the place on
    the grid of ages. ``tilted`` marks recent starts that may be a leak's, for
    which ``tilted_kind`` is the density if it was.
    """

    term: Ints
    kind: Ints
    group: Ints
    cell: Ints
    part: Floats
    tilted: NDArray[np.bool_]
    tilted_kind: Ints


class Sockets:
    """What the observations say of homes with more than one heater, laid out for evaluation.

    Parameters
    ----------
    observations, law, layout, bands_from, acts
        As of the likelihood they belong to.
    row, began, original
        Of each term: its row, when its heater began, and whether that one came with the house.

    Attributes
    ----------
    groups, cells
        How many groups of homes have a density of their own, and how far its grid goes.
    term
        The terms that are weighed with a density.
    renews
        Whether there is anything to weigh at all.
    """

    def __init__(
        self,
        observations: Observations,
        law: Law,
        layout: Layout,
        bands_from: Floats,
        acts: tuple[str, ...],
        *,
        row: Ints,
        began: Floats,
        original: NDArray[np.bool_],
    ) -> None:
        obs, tilt = observations, layout.tilt is not None
        self.law, self.layout = law, layout
        self._observations, self._bands_from, self._acts = obs, bands_from, acts
        several = layout.phases.stop > layout.phases.start
        group_of_row = np.maximum(obs.phase, 0) if several else np.zeros(len(obs), dtype=np.int64)
        self.groups = max(len(obs.phases), 1) if several else 1
        self.term = np.flatnonzero((obs.start[row] != NO_START) & ~original)
        own = row[self.term]
        house_age = np.maximum(began[self.term] - obs.built[own], 0.5 * GRID_YEARS)
        kind = obs.start[own]
        opener = obs.from_construction & tilt
        self.openers = _Openers.of(group_of_row[opener], -obs.built[opener])
        self.renews = bool(len(self.term) or opener.any())
        oldest = max(
            float(house_age.max(initial=0.0)),
            float((-obs.built[opener]).max(initial=0.0)),
            0.0 if self.renews else 1.0,
        )
        self.cells = max(int(np.ceil(oldest / GRID_YEARS)) + 3, _RECENT_CELLS + 2)
        kinds = {int(k) for k in np.unique(kind)}
        recent = (obs.began.mean(axis=1)[own] >= -_RECENT_YEARS) & (obs.end[own] == IN_SERVICE)
        unknown = recent & (kind < _LEAK) & tilt
        if unknown.any() or opener.any():
            kinds |= {_LEAK} if (kind[unknown] == 0).any() or opener.any() else set()
            kinds |= {_LEAK + 1} if (kind[unknown] == 1).any() else set()
        self.kinds = tuple(sorted(kinds))
        position = {k: i for i, k in enumerate(self.kinds)}
        grid = house_age / GRID_YEARS
        cell = grid.astype(np.int64)
        as_leak = [position[_LEAK + int(k)] if u else 0 for k, u in zip(kind, unknown, strict=True)]
        self.starts = _Starts(
            term=self.term,
            kind=np.array([position[int(k)] for k in kind], dtype=np.int64),
            group=group_of_row[own],
            cell=cell,
            part=grid - cell,
            tilted=unknown,
            tilted_kind=np.array(as_leak, dtype=np.int64),
        )
        self.reported_leaks = float(leak_rows(obs, FAILED).sum()) if tilt else 0.0
        # mean factors of each group: one renewal density for all its homes
        totals = np.zeros((self.groups, obs.factors.shape[1]))
        np.add.at(totals, group_of_row, obs.factors)
        sizes = np.bincount(group_of_row, minlength=self.groups)[:, None]
        self.group_factors = totals / np.maximum(sizes, 1)
        self._grids: dict[int, _Grid] = {}

    def grid(self, cells: int | None = None) -> _Grid:
        """The grid of ages; kept once made.

        The lives that make up a renewal density are those of an average heater, acts included:
        otherwise an effect of acts could raise every survival without lengthening the chain.
        """
        size = self.cells if cells is None else cells
        if size not in self._grids:
            self._grids[size] = self._laid_out(size)
        return self._grids[size]

    def _laid_out(self, cells: int) -> _Grid:
        edges = np.maximum(np.maximum(np.arange(cells + 1) - 0.5, 0.0) * GRID_YEARS, SHORTEST_LIFE)
        bands = band_years(edges, self._bands_from)
        if not self._acts:
            return _Grid(edges, bands, None)
        obs = self._observations
        began = obs.began.mean(axis=1)
        age = (obs.ended.mean(axis=1) - began)[:, None]
        middle = 0.5 * (edges[1:] + edges[:-1])
        at_risk = age > middle
        code = np.zeros(at_risk.shape, dtype=np.int64)
        for bit, first in enumerate(first for name, first in obs.first_acts.items() if name in self._acts):
            code += ((first - began)[:, None] < middle).astype(np.int64) << bit
        share = np.stack([(at_risk & (code == c)).sum(axis=0) for c in range(2 ** len(self._acts))], axis=1)
        total = share.sum(axis=1)
        last = int(np.flatnonzero(total >= min(10, total.max())).max(initial=0))
        share = share / np.maximum(total, 1)[:, None]
        share[last:] = share[last]
        segments = np.concatenate([np.zeros((1, share.shape[1])), np.cumsum(share * np.diff(edges)[:, None], axis=0)])
        segments[0, 0] = edges[0]
        return _Grid(edges, bands, segments)

    def log_life(self, theta: Floats) -> Floats:
        """Log median life of each group of homes at its mean factors, shape (draws, groups)."""
        lay = self.layout
        result = theta[:, :1] + theta[:, lay.factors] @ self.group_factors.T
        if self.groups > 1:
            result = result + theta[:, lay.phases]
        return np.asarray(result, dtype=np.float64)

    def masses(self, theta: Floats, cells: int | None = None) -> tuple[Floats, Floats]:
        """Chance to fail, and to leave service, in each half year of age: (draws, groups, cells) each."""
        grid = self.grid(cells)
        shape = np.exp(theta[:, 1])[:, None, None]
        log_age = np.log(grid.edges)
        if grid.segments is not None:
            log_age = np.log(act_pace(theta[:, self.layout.acts]) @ grid.segments.T)[:, None, :]
        u = shape * (log_age - self.log_life(theta)[:, :, None]) + self.law.offset
        stay = np.exp(-self.law.cumulative(u))
        kept = np.exp(-(np.exp(theta[:, self.layout.bands]) @ grid.bands.T))[:, None, :]
        both = stay * kept
        failed = (stay[..., :-1] - stay[..., 1:]) * 0.5 * (kept[..., 1:] + kept[..., :-1])
        return failed, both[..., :-1] - both[..., 1:]

    def terms(self, theta: Floats) -> SocketTerms:
        """One evaluation, for parameter sets of shape (draws, size)."""
        return SocketTerms(self, theta)


class SocketTerms:
    """The renewal part of one evaluation: its values, and on demand its slope."""

    def __init__(self, sockets: Sockets, theta: Floats) -> None:
        failed, ended = sockets.masses(theta)
        spectra = Spectra.of(failed, ended)
        masses = np.stack([spectra.masses(k) for k in sockets.kinds])
        young = ended[..., : _RECENT_CELLS + 1]
        self._young = 1 - np.cumsum(young, axis=-1) + 0.5 * young
        self._sockets, self._theta, self._spectra, self._masses = sockets, theta, spectra, masses
        starts = sockets.starts
        groups, cells = masses.shape[2:]
        by_place = masses.transpose(1, 0, 2, 3).reshape(len(theta), -1)  # draws, then kinds x groups x cells
        place = (starts.kind * groups + starts.group) * cells + starts.cell
        below, above = by_place.take(place, axis=1), by_place.take(place + 1, axis=1)
        density = (below + starts.part * (above - below)) / GRID_YEARS
        self.gain = np.zeros(len(theta))
        self.tilt_value = np.zeros(len(theta))
        tilt = sockets.layout.tilt
        self._leak = None
        if tilt is not None:
            self.gain = np.expm1(theta[:, tilt])
            hit = starts.tilted
            k2, g, c, p = starts.tilted_kind[hit], starts.group[hit], starts.cell[hit], starts.part[hit]
            place = (k2 * groups + g) * cells + c
            below, above = by_place.take(place, axis=1), by_place.take(place + 1, axis=1)
            leak = (below + p * (above - below)) / GRID_YEARS
            self._leak = leak
            density[:, hit] += self.gain[:, None] * leak
            self.recent = self._recent_leaks(masses)
            self.bias = 1 + self.gain[:, None] * self.recent
            count = sockets.openers.count
            self.tilt_value = theta[:, tilt] * sockets.reported_leaks - np.log(np.maximum(self.bias, _FLOOR)) @ count
        self._density = np.maximum(density, _FLOOR)
        self.log_density = np.log(self._density)

    @property
    def leak_share(self) -> Floats:
        """Share of leaks among the replacements of unknown cause in the last five years."""
        assert self._leak is not None
        share = self._leak / self._density[:, self._sockets.starts.tilted]
        return np.asarray(np.clip(share, 0.0, 1.0), dtype=np.float64)

    def _recent_leaks(self, masses: Floats) -> Floats:
        """Chance that today's heater took the place of a failed one in these years: (draws, openers)."""
        openers = self._sockets.openers
        failed = masses[self._sockets.kinds.index(_LEAK)]
        rate = failed[:, openers.group[:, None], openers.cells] * openers.weight
        return np.asarray(np.einsum("doa,doa->do", rate, self._young[:, openers.group]), dtype=np.float64)

    def slope(self, share: Floats) -> Floats:
        """Gradient of the renewal terms for the one parameter set; `share` weighs the terms."""
        sockets, theta, lay = self._sockets, self._theta, self._sockets.layout
        starts, openers = sockets.starts, sockets.openers
        result = np.zeros(lay.size)
        weight = share[starts.term] / self._density[0] / GRID_YEARS
        shape = self._masses[:, 0].shape  # kinds, groups, cells
        place = (starts.kind * shape[1] + starts.group) * shape[2] + starts.cell
        back = _collect(place, weight * (1 - starts.part), shape)
        back += _collect(place + 1, weight * starts.part, shape)
        direct = np.zeros(shape[1:])
        if lay.tilt is not None:
            assert self._leak is not None
            gain, hit = float(self.gain[0]), starts.tilted
            tilted = starts.tilted_kind[hit] * shape[1] + starts.group[hit]
            tilted = tilted * shape[2] + starts.cell[hit]
            extra = gain * weight[hit]
            back += _collect(tilted, extra * (1 - starts.part[hit]), shape)
            back += _collect(tilted + 1, extra * starts.part[hit], shape)
            group, count = openers.group, openers.count
            rise = np.exp(theta[0, lay.tilt])
            result[lay.tilt] = (
                rise * (weight[hit] * GRID_YEARS * self._leak[0]).sum()
                + sockets.reported_leaks
                - (count * rise * self.recent[0] / self.bias[0]).sum()
            )
            pull = -count * gain / self.bias[0]
            failed = sockets.kinds.index(_LEAK)
            amount = pull[:, None] * openers.weight
            cells, wide = openers.cells, group[:, None] * back.shape[2]
            back[failed] += _collect(wide + cells, amount * self._young[0, group], back.shape[1:])
            at = amount * self._masses[failed, 0][group[:, None], cells]
            by_group = np.zeros((back.shape[1], _RECENT_CELLS + 1))
            np.add.at(by_group, group, at)
            # the chance to be young is one, less what ended before, less half of the cell itself
            later = np.cumsum(by_group[:, ::-1], axis=1)[:, ::-1] - by_group
            direct[:, : _RECENT_CELLS + 1] -= later + 0.5 * by_group
        to_failed, to_ended = self._spectra.pull_back(sockets.kinds, back[:, None])
        self._to_parameters(to_failed[0], to_ended[0] + direct, result)
        return result

    def _to_parameters(self, to_failed: Floats, to_ended: Floats, result: Floats) -> None:
        sockets, theta, lay = self._sockets, self._theta, self._sockets.layout
        law, k, grid = sockets.law, float(np.exp(theta[0, 1])), sockets.grid()
        log_life = sockets.log_life(theta)[0][:, None]
        log_edges, segments = np.log(grid.edges), grid.segments
        if segments is not None:
            pace = act_pace(theta[:, lay.acts])[0]
            used = segments @ pace
            log_edges = np.log(used)
        u = k * (log_edges - log_life) + law.offset
        cumulative = law.cumulative(u)
        stay = np.exp(-cumulative)
        rates = np.exp(theta[0, lay.bands])
        kept = np.exp(-(grid.bands @ rates))
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
        result[lay.factors] += by_group @ sockets.group_factors
        if sockets.groups > 1:
            result[lay.phases] += by_group
        if segments is not None:
            has = act_pattern(lay.acts.stop - lay.acts.start)
            result[lay.acts] -= k * (to_u.sum(axis=0) / used) @ (segments @ (pace[:, None] * has))
        result[lay.bands] += -rates * ((to_kept * kept) @ grid.bands)


def _collect(place: Ints, amount: Floats, shape: tuple[int, ...]) -> Floats:
    """Add amounts up at flat places of an array of `shape`."""
    total = np.bincount(place.ravel(), amount.ravel(), math.prod(shape))
    return np.asarray(total.reshape(shape), dtype=np.float64)
