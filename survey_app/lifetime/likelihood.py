r"""How well a law of life explains the observations, with its slope, for one or many parameter sets.

One row (one heater) contributes, with :math:`F` the failures, :math:`R` the early
replacements, :math:`S = e^{-H_F - H_R}` what survives both, averaged over the window
in which the heater may have been installed:

======================= =====================================================
end                     contribution at age t
======================= =====================================================
in service              S(t)
failed                  h_F(t) S(t), or the mass between two ages
replaced early          h_R(t) S(t), likewise
gone, nobody knows why  (h_F(t) + h_R(t)) S(t), likewise
watched from age e      divided by S(e)
start at house age x    times the renewal density of its kind, m(x)
======================= =====================================================

Replacement before failing is thus censoring for the failure law, with a rate of
its own that is constant within bands of age. A dated act changes the speed at
which life is used up from its day on: with effect :math:`\delta` on log life
the heater ages by :math:`e^{-\delta}` a year, so that its remaining life is
longer by :math:`e^{\delta}`; what it lived before is untouched.

Homes whose last heater leaked in the last five years may be keener to answer.
With a tilt :math:`e^{\gamma}` a home's contribution is multiplied by it where it
reports such a leak, and divided by :math:`1 + (e^{\gamma} - 1) q`, where q is the
chance of such a leak in a house of its age. This is the retrospective
likelihood of biased sampling with one unknown weight.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from .laws import LAWS, Floats, Law
from .layout import SHORTEST_LIFE, Layout, act_pace, act_pattern, act_segments, band_years, usable_acts
from .observations import EARLY, FAILED, IN_SERVICE, NO_START, UNKNOWN, Ints, Observations
from .prior import Prior
from .sockets import Sockets, leak_rows

__all__ = ["Likelihood"]

_GAUSS = {count: np.polynomial.legendre.leggauss(count) for count in (1, 2, 4, 6)}
_FLOOR = 1e-300


@dataclass(frozen=True, slots=True)
class _Nodes:
    """Rows repeated at the nodes of their installation windows.

    A row that may be the heater the house was built with has one node more: the house's
    completion, against the density of a later installation within the window.
    """

    row: Ints
    began: Floats
    log_weight: Floats
    original: NDArray[np.bool_]

    @classmethod
    def of(cls, began: Floats, built: Floats, maybe_original: NDArray[np.bool_]) -> _Nodes:
        width = began[:, 1] - began[:, 0]
        counts = np.select([width <= 0.15, width <= 1.2, width <= 5.0], [1, 2, 4], 6)
        rows, places, weights = [], [], []
        for count in (1, 2, 4, 6):
            which = np.flatnonzero(counts == count)
            x, w = _GAUSS[count]
            rows.append(np.repeat(which, count))
            places.append((began[which, :1] + width[which, None] * (x + 1) / 2).ravel())
            weights.append(np.tile(w / 2, len(which)))
        maybe = np.flatnonzero(maybe_original)
        rows.append(maybe)
        places.append(built[maybe])
        weights.append(1 / width[maybe])
        row = np.concatenate(rows)
        original = np.arange(len(row)) >= len(row) - len(maybe)
        order = np.argsort(row, kind="stable")
        weight = np.log(np.concatenate(weights)[order])
        return cls(row[order], np.concatenate(places)[order], weight, original[order])


class Likelihood:
    """The log likelihood of one law for one set of observations.

    Parameters
    ----------
    observations
        What is known.
    law
        ``"weibull"`` or ``"lognormal"``.
    bands_from
        Ages at which the bands of early replacement begin; empty: early
        replacement is plain censoring and has no rate of its own.
    phase_effects, acts, tilt
        Which optional parts to carry.

    Attributes
    ----------
    layout : Layout
        The parameters.
    sockets : Sockets
        Homes whose heaters came one after the other.
    groups : int
        Groups of homes with a phase effect of their own.
    """

    def __init__(
        self,
        observations: Observations,
        law: str = "weibull",
        *,
        bands_from: tuple[float, ...] = (),
        phase_effects: bool = False,
        acts: tuple[str, ...] = (),
        tilt: bool = False,
    ) -> None:
        self.observations = observations
        self.law: Law = LAWS[law]
        self.bands_from = np.asarray(bands_from, dtype=np.float64)
        obs = observations
        renewing = (obs.start != NO_START) | (obs.from_construction & tilt)
        if renewing.any() and not bands_from:
            raise ValueError("Renewal terms need bands of early replacement: pass bands_from.")
        phases = obs.phases if phase_effects else ()
        self.layout = Layout.of(obs.factor_names, acts, phases, len(bands_from), tilt)
        self._acts = acts
        self._build_points(tilt)
        self.sockets = Sockets(
            obs,
            self.law,
            self.layout,
            self.bands_from,
            acts,
            row=self._row,
            began=self._node_began,
            original=self._node_original,
        )
        self.groups = self.sockets.groups

    @classmethod
    def standard(cls, observations: Observations, prior: Prior, law: str, *, tilt: bool = True) -> Likelihood:
        """With every part that the observations can carry."""
        sockets = bool((observations.start != NO_START).any())
        return cls(
            observations,
            law,
            bands_from=prior.early_ages_from,
            phase_effects=len(observations.phases) > 1,
            acts=usable_acts(observations),
            tilt=tilt and sockets,
        )

    # ------------------------------------------------------------------ building

    def _build_points(self, tilt: bool) -> None:
        """Lay the ages at which the law is needed end to end, by what they are needed for."""
        obs = self.observations
        nodes = _Nodes.of(obs.began, obs.built, obs.maybe_original)
        end = obs.end[nodes.row]
        low = np.maximum(obs.ended[nodes.row, 0] - nodes.began, 0.0)
        high = obs.ended[nodes.row, 1] - nodes.began
        if not len(self.bands_from):
            end = np.where(end == EARLY, IN_SERVICE, end)
        wide = (high - low > obs.narrow_years) | ((low <= 0) & (high > 0))
        wide &= end != IN_SERVICE
        followed = np.r_[leak_rows(obs, UNKNOWN)[1:], False] if tilt else np.zeros(len(obs), bool)
        doubtful = followed[nodes.row] & (end == UNKNOWN)
        wide &= ~doubtful
        exact = np.where(low > 0, (low + high) / 2, high)
        exact[end == IN_SERVICE] = low[end == IN_SERVICE]
        groups = [(code, False) for code in (IN_SERVICE, FAILED, EARLY, UNKNOWN)]
        groups += [(code, True) for code in (FAILED, EARLY, UNKNOWN)]
        picks = [np.flatnonzero((end == code) & (wide == is_wide)) for code, is_wide in groups]
        order = np.concatenate(picks)
        edges = np.concatenate([[0], np.cumsum([len(p) for p in picks])])
        self._slices = [slice(int(a), int(b)) for a, b in pairwise(edges)]
        self.exact, self.terms = int(edges[4]), int(edges[7])
        self._row = nodes.row[order]
        self._node_began = nodes.began[order]
        self._node_original = nodes.original[order]
        self._log_weight = nodes.log_weight[order]
        term_low = np.where(wide, low, exact)[order]
        term_high = high[order][self.exact :]
        entry_age = (obs.watched_from[nodes.row] - nodes.began)[order]
        watched = np.flatnonzero(np.isfinite(entry_age))
        self._entry_term = watched
        age = np.concatenate([term_low, term_high, entry_age[watched]])
        term = np.concatenate([np.arange(self.terms), np.arange(self.exact, self.terms), watched])
        row = self._row[term]
        self._age = np.maximum(age, SHORTEST_LIFE)
        self._log_age = np.log(self._age)
        self._factors = obs.factors[row]
        self._design = self._factors
        if self.layout.phases.stop > self.layout.phases.start:
            one_hot = obs.phase[row][:, None] == np.arange(len(obs.phases))
            self._design = np.column_stack([self._factors, one_hot.astype(np.float64)])
        self._band_years = band_years(self._age, self.bands_from)
        band = np.searchsorted(self.bands_from, self._age, side="right") - 1
        self._early_band = np.maximum(band[: self.terms], 0)
        self._doubtful = doubtful[order][self._slices[3]].astype(np.float64)
        self._segments = None
        if self._acts:
            when = [
                np.clip(first[row] - self._node_began[term], 0.0, np.inf)
                for name, first in obs.first_acts.items()
                if name in self._acts
            ]
            self._segments = act_segments(self._age, when)
            self._act_now = np.column_stack([self._age > w for w in when]).astype(np.float64)
        self._group_rows()

    def _group_rows(self) -> None:
        """Which terms stand alone in their row, and which are averaged over an installation window."""
        counts = np.bincount(self._row, minlength=len(self.observations))
        alone = counts[self._row] == 1
        weight = self.observations.weight[self._row]
        self._alone = np.where(alone, weight, 0.0)
        self._averaged = _Groups.of(np.flatnonzero(~alone), self._row, self.observations.weight)
        rows = self._row[self._entry_term]
        alone_entry = counts[rows] == 1
        self._entry_alone = np.where(alone_entry, self.observations.weight[rows], 0.0)
        self._entry_averaged = _Groups.of(np.flatnonzero(~alone_entry), rows, self.observations.weight)

    # ---------------------------------------------------------------- evaluating

    def value(self, theta: Floats) -> Floats:
        """Log likelihood for parameter sets, shape (draws, size) -> (draws,)."""
        return self._evaluate(np.atleast_2d(theta), slopes=False)[0]

    def value_and_slope(self, theta: Floats) -> tuple[float, Floats]:
        """Log likelihood and its gradient for one parameter set."""
        value, slope = self._evaluate(theta[None, :], slopes=True)
        assert slope is not None
        return float(value[0]), slope

    def row_slopes(self, theta: Floats) -> Floats:
        """Gradient of each row's own log likelihood, shape (rows, size), renewal terms left out."""
        return self._evaluate(theta[None, :], slopes=True, by_row=True)[1]  # type: ignore[return-value]

    def _log_life(self, theta: Floats, design: Floats) -> Floats:
        lay = self.layout
        parts = theta[:, lay.factors.start : lay.factors.stop]
        if design.shape[1] > parts.shape[1]:
            parts = np.concatenate([parts, theta[:, lay.phases]], axis=1)
        return theta[:, :1] + parts @ design.T

    def _evaluate(self, theta: Floats, *, slopes: bool, by_row: bool = False) -> tuple[Floats, Floats | None]:
        lay, law = self.layout, self.law
        shape = np.exp(theta[:, 1:2])
        log_age, pace = self._log_age, None
        acted = None
        if self._segments is not None:
            acts = theta[:, lay.acts]
            pace = act_pace(acts)
            acted = pace @ self._segments.T
            log_age = np.log(acted)
        u = shape * (log_age - self._log_life(theta, self._design)) + law.offset
        failed = law.cumulative(u)
        rates = np.exp(theta[:, lay.bands])
        early = rates @ self._band_years.T
        low, high = slice(0, self.terms), slice(self.terms, 2 * self.terms - self.exact)
        entry = slice(2 * self.terms - self.exact, None)
        _, fail, swap, gone, fail_w, swap_w, gone_w = self._slices
        with np.errstate(divide="ignore", over="ignore", invalid="ignore"):
            term = -(failed[:, low] + early[:, low])
            log_hazard = self._log_hazard(theta, u, failed, log_age, slice(fail.start, gone.stop))
            shift = fail.start
            term[:, fail] += log_hazard[:, : fail.stop - shift]
            log_rate = theta[:, lay.bands][:, self._early_band[swap.start : gone.stop]] if len(rates[0]) else None
            if log_rate is not None:
                term[:, swap] += log_rate[:, : swap.stop - swap.start]
                tilted = log_hazard[:, gone.start - shift :]
                if lay.tilt is not None:
                    tilted = tilted + theta[:, lay.tilt, None] * self._doubtful
                both = np.logaddexp(tilted, log_rate[:, gone.start - swap.start :])
                term[:, gone] += both
            elif gone.stop > gone.start:
                term[:, gone] += log_hazard[:, gone.start - shift :]
            wide = slice(fail_w.start - self.exact, fail_w.stop - self.exact)
            high_failed, high_early = failed[:, high], early[:, high]
            d_fail = np.maximum(high_failed[:, wide] - failed[:, fail_w], _FLOOR)
            term[:, fail_w] += np.log(-np.expm1(-d_fail)) - 0.5 * (high_early[:, wide] - early[:, fail_w])
            wide_s = slice(swap_w.start - self.exact, swap_w.stop - self.exact)
            d_swap = np.maximum(high_early[:, wide_s] - early[:, swap_w], _FLOOR)
            term[:, swap_w] += np.log(-np.expm1(-d_swap)) - 0.5 * (high_failed[:, wide_s] - failed[:, swap_w])
            wide_g = slice(gone_w.start - self.exact, gone_w.stop - self.exact)
            d_gone = high_failed[:, wide_g] + high_early[:, wide_g] - failed[:, gone_w] - early[:, gone_w]
            d_gone = np.maximum(d_gone, _FLOOR)
            term[:, gone_w] += np.log(-np.expm1(-d_gone))
        socket = self.sockets.terms(theta) if self.sockets.renews else None
        if socket is not None:
            term[:, self.sockets.term] += socket.log_density
        term = term + self._log_weight
        entering = -(failed[:, entry] + early[:, entry])
        if len(self._entry_term):
            entering = entering + self._log_weight[self._entry_term]
        value = term @ self._alone - entering @ self._entry_alone
        shares = self._averaged.add_up(term, value, 1.0)
        entry_shares = self._entry_averaged.add_up(entering, value, -1.0)
        if socket is not None:
            value = value + socket.tilt_value
        if not slopes:
            return np.where(np.isfinite(value), value, -np.inf), None
        # ---- slopes, for the one parameter set
        share = self._alone.copy() if shares is None else self._alone + self._averaged.spread(shares[0], self.terms)
        entry_share = self._entry_alone.copy()
        if entry_shares is not None:
            entry_share = entry_share + self._entry_averaged.spread(entry_shares[0], len(entry_share))
        slope_failed, slope_early = np.zeros(len(u[0])), np.zeros(len(u[0]))
        slope_log = np.zeros(len(u[0]))
        slope_failed[low] = slope_early[low] = -share
        slope_failed[entry] = slope_early[entry] = entry_share
        slope_log[fail] = share[fail]
        band_slope = np.zeros(len(rates[0]))
        row_band = []
        if log_rate is not None:
            np.add.at(band_slope, self._early_band[swap], share[swap])
            part = np.exp(tilted[0] - both[0])
            slope_log[gone] = share[gone] * part
            np.add.at(band_slope, self._early_band[gone], share[gone] * (1 - part))
            row_band = [(swap, share[swap]), (gone, share[gone] * (1 - part))]
        else:
            slope_log[gone] = share[gone]
        at_high = np.arange(self.terms, 2 * self.terms - self.exact)

        def widen(where: slice, width: Floats, main: Floats, other: Floats) -> None:
            gain = share[where] / np.expm1(np.minimum(width[0], 600.0))
            above = at_high[where.start - self.exact : where.stop - self.exact]
            main[where] -= gain
            main[above] += gain
            other[where] += 0.5 * share[where]
            other[above] -= 0.5 * share[where]

        widen(fail_w, d_fail, slope_failed, slope_early)
        widen(swap_w, d_swap, slope_early, slope_failed)
        gain = share[gone_w] / np.expm1(np.minimum(d_gone[0], 600.0))
        above = at_high[gone_w.start - self.exact : gone_w.stop - self.exact]
        for target in (slope_failed, slope_early):
            target[gone_w] -= gain
            target[above] += gain
        with np.errstate(over="ignore"):
            slope_u = np.exp(law.log_slope(u[0], failed[0]))
        slope_u = np.where(np.isfinite(slope_u), slope_u, 0.0)
        force = slope_failed * slope_u + slope_log * law.bend(u[0], slope_u)
        k = float(shape[0, 0])
        acts = self._act_slopes(acted, pace, force, slope_log, k)
        if by_row:
            full = np.zeros((len(force), lay.size))
            full[:, 0] = -k * force
            full[:, 1] = force * (u[0] - self.law.offset) + slope_log
            full[:, lay.factors] = -k * force[:, None] * self._factors
            if self.groups > 1:
                full[:, lay.phases] = -k * force[:, None] * self._design[:, self._factors.shape[1] :]
            full[:, lay.acts] = acts.T
            full[:, lay.bands] = slope_early[:, None] * self._band_years * rates[0]
            for where, amount in row_band:
                np.add.at(full[:, lay.bands], (np.arange(where.start, where.stop), self._early_band[where]), amount)
            terms = np.concatenate([np.arange(self.terms), np.arange(self.exact, self.terms), self._entry_term])
            result = np.zeros((len(self.observations), lay.size))
            np.add.at(result, self._row[terms], full)
            return value, result
        slope = np.zeros(lay.size)
        slope[0] = -k * force.sum()
        slope[1] = force @ (u[0] - self.law.offset) + slope_log.sum()
        by_design = -k * (force @ self._design)
        slope[lay.factors], slope[lay.phases] = np.split(by_design, [lay.factors.stop - lay.factors.start])
        slope[lay.acts] = acts.sum(axis=1)
        slope[lay.bands] = rates[0] * (slope_early @ self._band_years) + band_slope
        if socket is not None:
            slope += socket.slope(share)
        if lay.tilt is not None and log_rate is not None:
            slope[lay.tilt] += (share[gone] * part) @ self._doubtful
        return value, slope

    def _act_slopes(
        self, acted: Floats | None, pace: Floats | None, force: Floats, slope_log: Floats, k: float
    ) -> Floats:
        """Slope of every act's effect at every point, shape (acts, points)."""
        count = self.layout.acts.stop - self.layout.acts.start
        result = np.zeros((count, len(force)))
        if self._segments is None or acted is None or pace is None:
            return result
        pattern = act_pattern(count)
        for j in range(count):
            log_change = -(self._segments @ (pace[0] * pattern[:, j])) / acted[0]
            result[j] = force * k * log_change + slope_log * (-self._act_now[:, j] - log_change)
        return result

    def _log_hazard(self, theta: Floats, u: Floats, failed: Floats, log_age: Floats, where: slice) -> Floats:
        """Log of the failure rate per year of age at some of the points."""
        part = u[:, where]
        result = self.law.log_slope(part, failed[:, where]) + theta[:, 1:2]
        log_of_age = log_age[where] if log_age.ndim == 1 else log_age[:, where]
        result = result - log_of_age
        if self._segments is not None:
            result = result - theta[:, self.layout.acts] @ self._act_now[where].T
        return np.asarray(result, dtype=np.float64)

    def recent_leak_chance(self, theta: Floats) -> Floats:
        """Chance, per row, that the heater took the place of one that leaked in the last five years."""
        result = leak_rows(self.observations, FAILED).astype(np.float64)
        sockets, tilt = self.sockets, self.layout.tilt
        if sockets.renews and tilt is not None and sockets.starts.tilted.any():
            flat = theta.copy()
            flat[tilt] = 0.0
            share = sockets.terms(flat[None, :]).leak_share[0]
            rows = self._row[sockets.term[sockets.starts.tilted]]
            count = np.bincount(rows, minlength=len(result))
            total = np.bincount(rows, share, minlength=len(result))
            result = np.where(count > 0, total / np.maximum(count, 1), result)
        return result


@dataclass(frozen=True, slots=True)
class _Groups:
    """Terms that are averaged within their row."""

    index: Ints
    starts: Ints
    sizes: Ints
    weight: Floats

    @classmethod
    def of(cls, index: Ints, rows: Ints, weight: Floats) -> _Groups:
        index = index[np.argsort(rows[index], kind="stable")]
        mine = rows[index]
        starts = np.flatnonzero(np.r_[True, mine[1:] != mine[:-1]]) if len(mine) else np.zeros(0, dtype=np.int64)
        sizes = np.diff(np.r_[starts, len(mine)])
        return cls(index, starts, sizes, weight[mine[starts]] if len(mine) else np.zeros(0))

    def add_up(self, term: Floats, value: Floats, sign: float) -> Floats | None:
        """Add the rows' log averages to `value` in place; returns each term's share within its row."""
        if not len(self.index):
            return None
        mine = term[:, self.index]
        top = np.maximum.reduceat(mine, self.starts, axis=1)
        top = np.maximum(top, -1e290)
        relative = np.exp(mine - np.repeat(top, self.sizes, axis=1))
        total = np.add.reduceat(relative, self.starts, axis=1)
        value += sign * ((np.log(total) + top) @ self.weight)
        return np.asarray(relative / np.repeat(total, self.sizes, axis=1), dtype=np.float64)

    def spread(self, shares: Floats, length: int) -> Floats:
        """Shares, weighted, at the places of their terms."""
        result = np.zeros(length)
        result[self.index] = shares * np.repeat(self.weight, self.sizes)
        return result
