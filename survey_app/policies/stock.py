"""What stands in every home today, as far as anybody can know: one plausible picture a draw.

Homes are treated as in the forecast. A heater of known age has that age, within
its window. A home whose heater nobody can date, and a silent home of a phase
with too few answers, gets an age by living through the years since the house
was finished. Any other silent home is taken to be like one of the answers of
its phase, picked anew for every draw, less often like those whom a leak made
keener to answer.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri_exp

from survey_app.economics import Household
from survey_app.forecast.chances import Plan, quiet_weight
from survey_app.forecast.predict import resample
from survey_app.lifetime import HomeState, Law, Posterior
from survey_app.lifetime.layout import band_years
from survey_app.lifetime.observations import Ints

__all__ = ["Stock", "stock_today", "uniform_stock"]

Floats = NDArray[np.float64]

_OLD_HOUSE_YEARS = 40.0  # of a house whose year nobody knows, as in the forecast
_WIDE_YEARS = 1.2
_NODES = (np.arange(6) + 0.5) / 6


@dataclass(frozen=True, eq=False)
class Stock:
    """Today's heaters under every draw.

    Parameters
    ----------
    laws
        Each law with the draws that follow it.
    shape
        Of the law, shape (draws,).
    log_median, age
        Log of the median life in years, and age today in years, shape (draws, types).
    tank
        Whether a type has a tank, shape (types,).
    households
        What is known of each type's household.
    warranty_years
        Warranty term of each type, shape (types,).
    of
        Which type each home is, shape (draws, homes).
    """

    laws: tuple[tuple[Law, slice], ...]
    shape: Floats
    log_median: Floats
    age: Floats
    tank: NDArray[np.bool_]
    households: tuple[Household, ...]
    warranty_years: Floats
    of: Ints

    @property
    def draws(self) -> int:
        """Number of draws."""
        return len(self.shape)

    def hazard_lived(self, draw: Ints, log_median: Floats, age: Floats) -> Floats:
        """Cumulative hazard at an age; `draw` says under which draw each entry lives, in rising order."""
        shape = self.shape[draw]
        with np.errstate(divide="ignore"):
            u = shape * (np.log(age) - log_median)
        out = np.empty_like(u)
        for law, rows in self._rows(draw):
            out[rows] = law.cumulative(u[rows] + law.offset)
        return out

    def age_at(self, draw: Ints, log_median: Floats, hazard: Floats) -> Floats:
        """The age at which this much cumulative hazard has been lived through: the inverse of :meth:`hazard_lived`."""
        out = np.empty_like(hazard)
        for law, rows in self._rows(draw):
            h = hazard[rows]
            u = np.log(h) if law.name == "weibull" else -ndtri_exp(-h)
            out[rows] = np.exp(log_median[rows] + (u - law.offset) / self.shape[draw[rows]])
        return out

    def _rows(self, draw: Ints) -> list[tuple[Law, slice]]:
        return [
            (law, slice(int(np.searchsorted(draw, span.start)), int(np.searchsorted(draw, span.stop))))
            for law, span in self.laws
        ]


def uniform_stock(
    law: Law, median_years: float, shape: float, *, homes: int, draws: int, age_years: float = 0.0
) -> Stock:
    """A community whose heaters all follow one known law and are of one age; for checks and for teaching."""
    return Stock(
        laws=((law, slice(0, draws)),),
        shape=np.full(draws, shape),
        log_median=np.full((draws, 1), np.log(median_years)),
        age=np.full((draws, 1), age_years),
        tank=np.ones(1, dtype=bool),
        households=(Household(),),
        warranty_years=np.full(1, 6.0),
        of=np.zeros((draws, homes), dtype=np.int64),
    )


def stock_today(
    posterior: Posterior,
    households: Mapping[str, Household],
    warranty_years: Mapping[str, float],
    *,
    default_warranty_years: float,
    draws: int,
    seed: int,
) -> Stock:
    """What may stand in the homes today.

    Parameters
    ----------
    posterior
        From :func:`survey_app.lifetime.fit`.
    households, warranty_years
        By home id, for the homes that answered; a home that is not in them counts as one nobody knows about.
    default_warranty_years
        Where no term is known.
    draws
        Plausible pictures, 1 or more.
    seed
        Of the draws.
    """
    rng = np.random.default_rng([seed, 2])
    plan = Plan.of(posterior.observations)
    obs = plan.observations
    weights = np.concatenate([part.weights for part in posterior.laws])
    picked = resample(weights, draws, rng)
    alone = [s.silent for s in plan.strata if not len(s.donors)]
    by_house = np.concatenate([plan.homes[plan.unknown], *alone]).astype(np.int64)
    types = np.concatenate([plan.homes, *alone]).astype(np.int64)
    log_median, age, shape = np.empty((draws, len(types))), np.empty((draws, len(types))), np.empty(draws)
    of = np.empty((draws, len(obs.home_ids)), dtype=np.int64)
    of[:, types] = np.arange(len(types))
    where_by_house = of[0, by_house] if len(by_house) else by_house
    laws, first, offset = [], 0, 0
    for part in posterior.laws:
        mine = picked[(picked >= offset) & (picked < offset + len(part.draws))] - offset
        offset += len(part.draws)
        if not len(mine):
            continue
        rows = slice(first, first + len(mine))
        first += len(mine)
        laws.append((part.law, rows))
        theta = part.draws[mine]
        lay = part.layout
        shape[rows] = np.exp(theta[:, 1])
        known = plan.known & (plan.observations.home_row[plan.homes] < len(obs))
        factors = np.zeros((len(types), obs.factors.shape[1]))
        factors[: len(plan.homes)][known] = obs.factors[obs.home_row[plan.homes[known]]]
        life = theta[:, :1] + posterior.prior.discrepancy_sd * rng.standard_normal((len(theta), 1))
        life = life + theta[:, lay.factors] @ factors.T
        phase = obs.home_phase[types]
        if part.likelihood.groups > 1:
            effects = np.column_stack([theta[:, lay.phases], np.zeros(len(theta))])  # the last for homes of no phase
            life = life + effects[:, np.where(phase < 0, effects.shape[1] - 1, phase)]
        log_median[rows] = life
        keen = np.zeros(len(plan.homes))
        if lay.tilt is not None:
            keen[plan.known] = part.likelihood.recent_leak_chance(part.mode)[plan.row]
        for stratum in plan.strata:
            if not len(stratum.silent) or not len(stratum.donors):
                continue
            stands = rng.standard_exponential((len(theta), len(stratum.donors))) * stratum.stands_for
            if lay.tilt is not None:
                rate = len(stratum.donors) / (len(stratum.donors) + len(stratum.silent))
                stands = stands * quiet_weight(theta[:, lay.tilt], keen[stratum.donors], rate)
            running = np.cumsum(stands, axis=1)
            for i, row in enumerate(running):
                at = np.searchsorted(row, rng.random(len(stratum.silent)) * row[-1])
                of[rows.start + i, stratum.silent] = stratum.donors[np.minimum(at, len(row) - 1)]
        age[rows] = 0.0
        age[rows, : len(plan.homes)] = _ages(plan, part.law, life, shape[rows], rng)
        house = -np.nan_to_num(obs.home_built[by_house], nan=-_OLD_HOUSE_YEARS)
        age[rows, where_by_house] = _ages_by_house(
            part.law,
            life[:, where_by_house],
            shape[rows],
            np.maximum(house, 0.0),
            np.exp(theta[:, lay.bands]),
            part.likelihood.bands_from,
            rng,
        )
    ids = [obs.home_ids[t] for t in types]
    return Stock(
        laws=tuple(laws),
        shape=shape,
        log_median=log_median,
        age=np.maximum(age, 1e-6),
        tank=obs.home_state[types] != HomeState.NO_TANK,
        households=tuple(households.get(i, Household()) for i in ids),
        warranty_years=np.array([warranty_years.get(i, default_warranty_years) for i in ids], dtype=np.float64),
        of=of,
    )


def _ages(plan: Plan, law: Law, log_median: Floats, shape: Floats, rng: np.random.Generator) -> Floats:
    """Ages of the homes that answered, shape (draws, homes); zero where none is known."""
    obs = plan.observations
    draws = len(shape)
    out = np.zeros((draws, len(plan.homes)))
    if not len(plan.row):
        return out
    began = obs.began[plan.row].copy()
    original = obs.maybe_original[plan.row]
    began[original] = obs.built[plan.row[original], None]
    low, high = -began[:, 1], -began[:, 0]
    at = low + (high - low) * rng.random((draws, len(low)))
    wide = np.flatnonzero(high - low > _WIDE_YEARS)
    if len(wide):
        # The heater is in service: of the ages within a wide window, those it is unlikely to have reached count less.
        ages = np.maximum(low[wide] + np.multiply.outer(_NODES, high[wide] - low[wide]), 1e-6)
        middle = log_median[:, np.flatnonzero(plan.known)[wide]]
        stays = np.exp(-law.cumulative(shape[None, :, None] * (np.log(ages)[:, None, :] - middle[None]) + law.offset))
        running = np.cumsum(stays, axis=0)
        node = (running < rng.random((draws, len(wide))) * running[-1]).sum(axis=0)
        spot = (np.minimum(node, len(_NODES) - 1) + rng.random(node.shape)) / len(_NODES)
        at[:, wide] = low[wide] + spot * (high[wide] - low[wide])
    out[:, plan.known] = np.maximum(at, 1e-6)
    return out


def _ages_by_house(
    law: Law,
    log_median: Floats,
    shape: Floats,
    house: Floats,
    early: Floats,
    bands_from: Floats,
    rng: np.random.Generator,
) -> Floats:
    """Ages today of heaters about which only the house's age is known: one life after another since it was built."""
    left = np.broadcast_to(house, log_median.shape).copy()  # years from the newest installation to today
    going = np.ones(left.shape, dtype=bool)
    grid = np.arange(0.0, 80.25, 0.25)
    lived = band_years(grid, bands_from) @ early.T if early.shape[1] else np.zeros((len(grid), len(shape)))
    for _ in range(60):
        if not going.any():
            break
        draw, at = np.nonzero(going)
        hazard = rng.standard_exponential(len(draw))
        u = np.log(hazard) if law.name == "weibull" else -ndtri_exp(-hazard)
        life = np.exp(log_median[draw, at] + (u - law.offset) / shape[draw])
        chosen = rng.standard_exponential(len(draw))
        for d in np.unique(draw):
            mine = draw == d
            life[mine] = np.minimum(life[mine], np.interp(chosen[mine], lived[:, d], grid, right=np.inf))
        ended = life < left[draw, at]
        left[draw[ended], at[ended]] -= life[ended]
        going[draw[~ended], at[~ended]] = False
    return left
