"""Each home's chance to lose a heater, draw by draw.

For a heater of age a, a law of life and a rate of early replacement, the chance
to fail within h years before being replaced is

    integral over (a, a + h) of h_F(t) S(t) dt / S(a),

taken step by step between the horizons: within a step the failures' share of
all that leaves is the failures' share of the hazard. What fails again after a
replacement within the horizon is added through the renewal rate of new heaters.
Homes whose heater's age is unknown, and silent homes of phases with too few
answers, get the renewal rate at the age of their house.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from survey_app.lifetime.laws import Floats
from survey_app.lifetime.layout import act_pace, act_segments, band_years
from survey_app.lifetime.likelihood import Likelihood
from survey_app.lifetime.observations import HomeState, Ints, Observations
from survey_app.lifetime.posterior import LawPosterior, Posterior
from survey_app.lifetime.renewal import Spectra
from survey_app.lifetime.sockets import GRID_YEARS

__all__ = ["Batch", "Plan", "batches"]

ENOUGH_ANSWERS = 5
"""From this many answers on a phase's silent homes are taken to be like them."""
_CHUNK = 24_000
_FEWEST_DRAWS = 8


@dataclass(frozen=True, eq=False)
class Plan:
    """Which home is forecast how; the same for every draw.

    Parameters
    ----------
    homes
        Indices of the homes that answered, ordered by phase.
    known
        Which of `homes` have a heater of known age.
    row
        Their rows in the observations.
    unknown
        Positions in `homes` of those with a heater of unknown age.
    strata
        One per phase (and one for homes of no phase).
    """

    observations: Observations
    homes: Ints
    known: NDArray[np.bool_]
    row: Ints
    unknown: Ints
    strata: tuple[Stratum, ...]

    @classmethod
    def of(cls, observations: Observations) -> Plan:
        """Sort the homes."""
        obs = observations
        answered = np.flatnonzero(obs.home_state != HomeState.SILENT)
        homes = answered[np.argsort(obs.home_phase[answered], kind="stable")]
        known = obs.home_state[homes] == HomeState.AGE_KNOWN
        unknown = np.flatnonzero(obs.home_state[homes] == HomeState.AGE_UNKNOWN)
        silent = np.flatnonzero(obs.home_state == HomeState.SILENT)
        everywhere = np.arange(len(homes))
        strata = []
        for phase in np.unique(obs.home_phase):
            mine = np.flatnonzero(obs.home_phase[homes] == phase)
            quiet = silent[obs.home_phase[silent] == phase]
            donors, stands_for = _donors(obs.home_state[homes], mine)
            if len(donors) >= ENOUGH_ANSWERS:
                way = "like the answers of the phase"
            elif np.isfinite(obs.home_built[quiet]).all():
                way, donors, stands_for = "from the construction year", donors[:0], stands_for[:0]
            else:
                way, (donors, stands_for) = "like all answers", _donors(obs.home_state[homes], everywhere)
            span = slice(int(mine[0]), int(mine[-1]) + 1) if len(mine) else slice(0, 0)
            name = obs.phases[phase] if phase >= 0 else None
            strata.append(Stratum(name, max(int(phase), 0), span, donors, stands_for, quiet, way))
        return cls(obs, homes, known, obs.home_row[homes[known]], unknown, tuple(strata))


def _donors(state: NDArray[np.integer], among: Ints) -> tuple[Ints, Floats]:
    """Of these homes those whose heaters stand for silent ones', and for how many answers each stands.

    A tank of unknown age tells no age, but it is a tank: those of known age stand for it too, else the tankless would
    be too large a share of what is thought of the silent.
    """
    dated = among[state[among] == HomeState.AGE_KNOWN]
    undated = int((state[among] == HomeState.AGE_UNKNOWN).sum())
    if undated and not len(dated):
        return among[:0], np.empty(0)
    donors = among[state[among] != HomeState.AGE_UNKNOWN]
    each = (len(dated) + undated) / len(dated) if len(dated) else 1.0
    return donors, np.where(state[donors] == HomeState.AGE_KNOWN, each, 1.0)


@dataclass(frozen=True, eq=False)
class Stratum:
    """The homes of one phase.

    Parameters
    ----------
    phase
        Name, or None for homes of no phase.
    group
        Index of the phase in the likelihood.
    answered
        Where its homes stand in the plan.
    donors
        Positions in the plan of the homes whose heaters stand for the silent ones'.
    stands_for
        How many answers each of them stands for.
    silent
        Indices of the homes that have not answered.
    way
        How the silent ones are forecast.
    """

    phase: str | None
    group: int
    answered: slice
    donors: Ints
    stands_for: Floats
    silent: Ints
    way: str


@dataclass(frozen=True, eq=False)
class Batch:
    """Some draws' chances.

    Parameters
    ----------
    draws
        Where they stand among all draws.
    homes
        Chance per step and home of the plan, shape (steps, draws, homes).
    silent
        Per stratum: how many homes share a chance, and that chance, shape (steps, draws).
    """

    draws: slice
    homes: Floats
    silent: tuple[tuple[tuple[int, Floats], ...], ...]


@dataclass(frozen=True, eq=False)
class _Points:
    """Today's heaters: one point each, and a second one for those with a wide installation window.

    The first len(rows) points are in the order of the homes; `wide` names the homes whose
    second point follows at the end. The two are the nodes of a two-point Gauss rule.
    """

    age: Floats
    row: Ints
    wide: Ints

    @classmethod
    def of(cls, obs: Observations, row: Ints) -> _Points:
        began = obs.began[row].copy()
        original = obs.maybe_original[row]
        began[original] = obs.built[row[original], None]
        middle, half = began.mean(axis=1), 0.5 * (began[:, 1] - began[:, 0])
        wide = np.flatnonzero(half > 0.6)
        reach = half[wide] / np.sqrt(3.0)
        first = middle.copy()
        first[wide] -= reach
        began_at = np.concatenate([first, middle[wide] + reach])
        return cls(np.maximum(-began_at, 1e-6), np.concatenate([row, row[wide]]), wide)


def batches(
    posterior: Posterior,
    plan: Plan,
    steps_years: tuple[float, ...],
    *,
    include_silent: bool,
    rng: np.random.Generator,
    pick: NDArray[np.int64] | None = None,
) -> Iterator[Batch]:
    """Chances of all draws (or of those in `pick`) within each of the rising `steps_years`."""
    first = 0
    offset = 0
    for part in posterior.laws:
        chosen = np.arange(len(part.draws))
        if pick is not None:
            chosen = pick[(pick >= offset) & (pick < offset + len(part.draws))] - offset
        offset += len(part.draws)
        if not len(chosen):
            continue
        theta = part.draws[chosen].copy()
        theta[:, 0] += posterior.prior.discrepancy_sd * rng.standard_normal(len(theta))
        engine = _Engine(part, plan, steps_years, include_silent)
        step = max(_FEWEST_DRAWS, _CHUNK // max(len(engine.points.age), 1))
        for i in range(0, len(theta), step):
            some = theta[i : i + step]
            yield engine.batch(some, slice(first, first + len(some)), rng)
            first += len(some)


class _Engine:
    """One law's chances for one plan."""

    def __init__(self, part: LawPosterior, plan: Plan, steps_years: tuple[float, ...], include_silent: bool) -> None:
        self.likelihood: Likelihood = part.likelihood
        self.plan, self.steps, self.include_silent = plan, steps_years, include_silent
        obs, lay = plan.observations, part.layout
        self.points = points = _Points.of(obs, plan.row)
        design = obs.factors[points.row]
        if self.likelihood.groups > 1:
            one_hot = obs.phase[points.row][:, None] == np.arange(len(obs.phases))
            design = np.column_stack([design, one_hot.astype(np.float64)])
        self.design = design
        bands = self.likelihood.bands_from
        times = (0.0, *steps_years)
        ages = [points.age + t for t in times]
        self.log_ages = [np.log(a) for a in ages]
        self.bands = [band_years(a, bands) for a in ages]
        self.segments = None
        acts = lay.names[lay.acts]
        if acts:
            when = [
                np.maximum(first[points.row] + points.age, 0.0)
                for name, first in obs.first_acts.items()
                if name in acts
            ]
            acted = np.isfinite(np.column_stack(when)).any(axis=1)
            self.acted = np.flatnonzero(acted)
            self.segments = [act_segments(a[acted], [w[acted] for w in when]) for a in ages]
        group = np.zeros(len(points.age), dtype=np.int64)
        if self.likelihood.groups > 1:
            group = np.maximum(obs.phase[points.row], 0)
        cuts = np.flatnonzero(np.r_[True, group[1:] != group[:-1], True]) if len(group) else np.zeros(1, np.int64)
        self.spans = [(int(group[a]), slice(int(a), int(b))) for a, b in pairwise(cuts)]
        oldest = float(np.nan_to_num(-obs.home_built, nan=40.0).max(initial=1.0))
        self.cells = int((oldest + steps_years[-1]) / GRID_YEARS) + 3
        self.keen = np.zeros(len(plan.homes))
        if lay.tilt is not None:
            self.keen[plan.known] = self.likelihood.recent_leak_chance(part.mode)[plan.row]

    def batch(self, theta: Floats, draws: slice, rng: np.random.Generator) -> Batch:
        """The chances of some draws."""
        failed, ended = self.likelihood.sockets.masses(theta, self.cells)
        running = np.cumsum(Spectra.of(failed, ended).masses(2), axis=-1)
        chances = np.zeros((len(self.steps), len(theta), len(self.plan.homes)))
        if len(self.points.age):
            chances[:, :, self.plan.known] = self._known(theta, running)
        for position in self.plan.unknown:
            home = int(self.plan.homes[position])
            chances[:, :, position] = self._by_house(running, home)
        silent = tuple(self._silent(s, theta, chances, running, rng) for s in self.plan.strata)
        return Batch(draws, chances, silent)

    def _known(self, theta: Floats, running: Floats) -> Floats:
        law, lay, points = self.likelihood.law, self.likelihood.layout, self.points
        parts = theta[:, lay.factors]
        if self.likelihood.groups > 1:
            parts = np.concatenate([parts, theta[:, lay.phases]], axis=1)
        log_life = theta[:, :1] + parts @ self.design.T
        shape, rates = np.exp(theta[:, 1:2]), np.exp(theta[:, lay.bands])
        pace = act_pace(theta[:, lay.acts]) if self.segments is not None else None
        times = (0.0, *self.steps)
        draws, count = log_life.shape
        within = np.empty((len(self.steps), draws, count))
        left = np.empty((draws, len(self.steps), count))  # what leaves service in each step
        base = np.empty((draws, count))
        for s in range(len(times)):
            age = self.log_ages[s]
            if self.segments is not None and pace is not None:
                age = np.tile(age, (draws, 1))
                age[:, self.acted] = np.log(pace @ self.segments[s].T)
            u = age - log_life
            u *= shape
            u += law.offset
            hazard = law.cumulative(u)
            total = rates @ self.bands[s].T
            total += hazard
            if s == 0:
                base[:] = total
                stay_before, hazard_before, total_before = np.ones_like(base), hazard, total
                continue
            stay = np.exp(base - total)
            gone = stay_before - stay
            left[:, s - 1] = gone
            # of all that leaves in a step, failures have the failures' share of the hazard
            share = hazard - hazard_before
            share /= np.maximum(total - total_before, 1e-300)
            share *= gone
            within[s - 1] = share
            if s > 1:
                within[s - 1] += within[s - 2]
            stay_before, hazard_before, total_before = stay, hazard, total
        # what fails again after a replacement within the horizon
        again = np.zeros((running.shape[1], draws, len(self.steps), len(self.steps)))
        for s, t in enumerate(self.steps):
            for r in range(s + 1):
                again[:, :, s, r] = _read_at(running, t - 0.5 * (times[r] + times[r + 1])).T
        for group, span in self.spans:
            within[:, :, span] += np.matmul(again[group], left[:, :, span]).transpose(1, 0, 2)
        homes = len(self.plan.row)
        result = within[:, :, :homes]
        if len(points.wide):
            # of the two nodes, the one more likely to have survived so far counts more
            share = 1 / (1 + np.exp(np.clip(base[:, homes:] - base[:, points.wide], -50, 50)))
            result[:, :, points.wide] += share * (within[:, :, homes:] - result[:, :, points.wide])
        return np.minimum(result, 0.9999)

    def _by_house(self, running: Floats, home: int) -> Floats:
        """Chances from the age of the house, shape (steps, draws)."""
        obs = self.plan.observations
        age = -float(np.nan_to_num(obs.home_built[home], nan=-40.0))
        group = max(int(obs.home_phase[home]), 0) if running.shape[1] > 1 else 0
        now = _read_at(running, age)[:, group]
        return np.stack([np.minimum(_read_at(running, age + t)[:, group] - now, 0.9999) for t in self.steps])

    def _silent(
        self, stratum: Stratum, theta: Floats, chances: Floats, running: Floats, rng: np.random.Generator
    ) -> tuple[tuple[int, Floats], ...]:
        if not self.include_silent or not len(stratum.silent):
            return ()
        if not len(stratum.donors):
            built = np.round(np.nan_to_num(self.plan.observations.home_built[stratum.silent], nan=-40.0), 3)
            result = []
            for year in np.unique(built):
                same = stratum.silent[built == year]
                result.append((len(same), self._by_house(running, int(same[0]))))
            return tuple(result)
        # Bayesian bootstrap: Dirichlet weights over the answers, lighter where a leak made them keener to answer
        weight = rng.standard_exponential((len(theta), len(stratum.donors))) * stratum.stands_for
        tilt = self.likelihood.layout.tilt
        if tilt is not None:
            rate = len(stratum.donors) / (len(stratum.donors) + len(stratum.silent))
            weight = weight * quiet_weight(theta[:, tilt], self.keen[stratum.donors], rate)
        weight /= weight.sum(axis=1, keepdims=True)
        donors: slice | Ints = stratum.donors
        if len(stratum.donors) == stratum.donors[-1] - stratum.donors[0] + 1:
            donors = slice(int(stratum.donors[0]), int(stratum.donors[-1]) + 1)  # a view, not a copy
        mean = np.stack([np.einsum("di,di->d", weight, c[:, donors]) for c in chances])
        return ((len(stratum.silent), mean),)


def quiet_weight(tilt: Floats, leak: Floats, rate: float) -> Floats:
    """How many silent homes stand behind each answer, relative: (draws, answers).

    A home answers with chance c, or c times exp(tilt) after a recent leak; c makes the
    overall rate come out right, and (1 - chance) / chance silent homes stand behind an answer.
    """
    keen = np.exp(tilt)[:, None]
    share = float(leak.mean())
    plain = np.minimum(rate * (1 - share + share / keen), 0.97)
    eager = np.minimum(plain * keen, 0.97)
    behind = (1 - plain) / plain
    return np.asarray(behind + leak * ((1 - eager) / eager - behind), dtype=np.float64)


def _read_at(running: Floats, age: float) -> Floats:
    """Expected failures up to a house age, shape (draws, groups); cells are centered on the grid."""
    place = max(age / GRID_YEARS + 0.5, 0.0)
    cell = int(place)
    part = place - cell
    low = running[:, :, cell - 1] if cell > 0 else np.zeros(running.shape[:2])
    high = running[:, :, min(cell, running.shape[2] - 1)]
    return np.asarray(low + part * (high - low), dtype=np.float64)
