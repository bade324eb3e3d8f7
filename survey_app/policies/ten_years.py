"""Five ways to go about it for ten years, and what each comes to.

The ages at which a rule acts rest on what a household can know: the law of life
is uncertain, so the best age is the one that costs least *on average over the
draws*, never the best age of a draw that nobody can tell from another. Where
there is one law only, it is the published optimum.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from survey_app.economics import (
    AgeReplacement,
    Amounts,
    Catch,
    Household,
    Span,
    household_of,
    mean_extra_usd,
    outcomes,
)
from survey_app.lifetime import LifeDraws, Posterior
from survey_app.policies.simulation import Costs, Planned, Rule, Run, run
from survey_app.policies.stock import Floats, Stock, stock_today
from survey_app.prices import PriceList, SizeClass
from survey_app.records import HeaterKind
from survey_app.settings import Settings
from survey_app.standing import Standing

__all__ = [
    "Figures",
    "PolicyName",
    "PolicyOutcome",
    "TenYears",
    "best_ages",
    "policies_for",
    "ten_years",
    "ten_years_of",
]

_SHIFT = 0.05  # homes whose log lives differ by less share one decision
_CELLS = 240
_CURVE_YEARS = np.arange(0.0, 60.25, 0.25)
_DECISION_DRAWS = 64


class PolicyName(StrEnum):
    """The five policies, in the words of the board."""

    WAIT = "wait until it fails"
    TWICE_WARRANTY = "replace at twice the warranty"
    BEST_AGE = "replace at the best age"
    ALARMS = "alarms and shut-offs for all"
    ROUNDS = "a group round every year"


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """What some years come to, each with its 90% interval from chance and from what is not known.

    Dollars are today's: later ones are discounted. `bills` is what is paid; `left_to_pay` what the heaters in
    service at the end will cost beyond new ones, because they are partly used up; `total` is both.
    """

    total: Span
    bills: Span
    left_to_pay: Span
    damage: Span
    replaced: Span
    failed: Span
    leaked: Span
    flooded: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class PolicyOutcome:
    """One policy, and its difference to waiting (below zero: less than waiting)."""

    name: PolicyName
    figures: Figures
    against_waiting: Figures
    bills_by_year: tuple[float, ...]
    cheaper_chance: float
    """Share of the draws in which its total is below that of waiting."""
    best_age_years: tuple[float, float] | None
    """Earliest and latest best age among the homes, for that policy; infinite where waiting is never beaten."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TenYears:
    """Five policies side by side.

    ``refusal`` is None, or says why the answers were not used for the lives: then the figures rest on what is
    published alone. ``planned_usd`` is what a planned replacement counts, by kind and size. ``heat_pumps`` and
    ``without_tank`` are homes, on average over the draws, the second in no figure.
    """

    refusal: str | None
    years: int
    homes: int
    draws: int
    discount: float
    followed_by: float
    amounts: Amounts
    policies: tuple[PolicyOutcome, ...]
    planned_usd: Planned
    heat_pumps: float
    without_tank: float

    def of(self, name: PolicyName) -> PolicyOutcome:
        """The outcome of one policy."""
        return next(p for p in self.policies if p.name is name)


def ten_years(
    posterior: Posterior,
    households: Mapping[str, Household],
    warranty_years: Mapping[str, float],
    amounts: Amounts,
    *,
    planned_usd: Planned,
    default_warranty_years: float,
    discount: float = 0.15,
    followed_by: float = 1.0,
    years: int = 10,
    draws: int = 200,
    seed: int,
) -> TenYears:
    """Ten years under five policies.

    Parameters
    ----------
    posterior
        From :func:`survey_app.lifetime.fit`.
    households, warranty_years
        By home id, for the homes that answered.
    amounts
        What things cost.
    planned_usd
        Planned price by kind and size; others cost what `amounts` says.
    default_warranty_years
        Warranty term where none is known.
    discount
        What a group round takes off the planned price, 0 to below 1.
    followed_by
        Share of homes that do what the policy says, 0 to 1.
    years, draws, seed
        How long, how many plausible pictures, and the seed of all chance numbers.

    Raises
    ------
    ValueError
        When a share is out of its bounds, or there are no homes.
    """
    if not posterior.observations.home_ids:
        raise ValueError("There are no homes in this survey yet. Load the parcels first.")
    if not 0 <= discount < 1 or not 0 <= followed_by <= 1:
        raise ValueError("The discount must be from 0 to below 100% and the share that follows from 0 to 100%.")
    stock = stock_today(
        posterior, households, warranty_years, default_warranty_years=default_warranty_years, draws=draws, seed=seed
    )
    found = policies_for(
        stock, amounts, planned_usd=planned_usd, discount=discount, followed_by=followed_by, years=years, seed=seed
    )
    return replace(found, refusal=posterior.refusal)


def ten_years_of(
    posterior: Posterior,
    standings: Iterable[Standing],
    settings: Settings,
    amounts: Amounts,
    *,
    discount: float,
    followed_by: float,
    draws: int,
    seed: int,
) -> TenYears:
    """:func:`ten_years` of a community as it stands: homes that answered have the heater they told of."""
    heated = [s for s in standings if s.answered and s.heater is not None]
    return ten_years(
        posterior,
        {s.home.home_id: household_of(s) for s in heated},
        {s.home.home_id: s.warranty_years for s in heated if s.warranty_years},
        amounts,
        planned_usd=_planned(settings, amounts),
        default_warranty_years=settings.default_warranty_years,
        discount=discount,
        followed_by=followed_by,
        draws=draws,
        seed=seed,
    )


def _planned(settings: Settings, amounts: Amounts) -> dict[tuple[HeaterKind, SizeClass], float]:
    """Every row of the price list; where the price of a usual gas tank was changed, all others in proportion."""
    table = PriceList(settings)
    times = amounts.planned_price_usd / table.at(HeaterKind.UNKNOWN).usual_usd
    return {(kind, size): table.at(kind, size).usual_usd * times for kind in HeaterKind for size in SizeClass}


def policies_for(
    stock: Stock,
    amounts: Amounts,
    *,
    planned_usd: Planned,
    discount: float,
    followed_by: float,
    years: int,
    seed: int,
) -> TenYears:
    """The five policies for a stock that is already there; see :func:`ten_years`."""
    costs = Costs.of(amounts, stock.households, planned_usd)
    decided = _Decisions(stock, amounts, costs, discount)
    never = np.full(len(stock.households), np.inf)
    # No pan: under a standing tank nobody puts one. It comes with the next heater, where its price holds one.
    caught = Catch(alarm=True, shutoff=True)
    rules = {
        PolicyName.WAIT: Rule(never, never),
        PolicyName.TWICE_WARRANTY: Rule(2 * stock.warranty_years, never, followed_by=followed_by),
        PolicyName.BEST_AGE: Rule(decided.best_age, never, followed_by=followed_by),
        PolicyName.ALARMS: Rule(never, never, adds=caught, followed_by=followed_by),
        PolicyName.ROUNDS: Rule(never, decided.joins_from, discount=discount, followed_by=followed_by),
    }
    found: dict[PolicyName, tuple[Run, Floats]] = {}
    for name, rule in rules.items():
        one = run(stock, rule, costs, amounts, years=years, seed=seed)
        found[name] = one, decided.left_to_pay(one) * np.exp(-amounts.discount_rate * years)
    base = _values(*found[PolicyName.WAIT])
    results = []
    for name, (one, left) in found.items():
        values = _values(one, left)
        change = {k: v - base[k] for k, v in values.items()}
        ages = decided.best_age if name is PolicyName.BEST_AGE else None
        results.append(
            PolicyOutcome(
                name=name,
                figures=Figures(**{k: _span(v) for k, v in values.items()}),
                against_waiting=Figures(**{k: _span(v) for k, v in change.items()}),
                bills_by_year=tuple(float(v) for v in one.by_year.mean(axis=1)),
                cheaper_chance=float((change["total"] < 0).mean()),
                best_age_years=None
                if ages is None or not stock.tank.any()
                else (float(ages[stock.tank].min()), float(ages[stock.tank].max())),
            )
        )
    return TenYears(
        refusal=None,
        years=years,
        homes=stock.of.shape[1],
        draws=stock.draws,
        discount=discount,
        followed_by=followed_by,
        amounts=amounts,
        policies=tuple(results),
        planned_usd=planned_usd,
        heat_pumps=_homes(stock, np.array([h.kind is HeaterKind.HEAT_PUMP_STORAGE for h in stock.households])),
        without_tank=_homes(stock, ~stock.tank),
    )


def _homes(stock: Stock, which: NDArray[np.bool_]) -> float:
    """How many homes are of these types, on average over the draws."""
    return float(which[stock.of].sum(axis=1).mean())


def best_ages(stock: Stock, amounts: Amounts, *, planned_usd: Planned) -> Floats:
    """The best age to replace at for each type of home, years; infinite where waiting is never beaten."""
    costs = Costs.of(amounts, stock.households, planned_usd)
    return _Decisions(stock, amounts, costs, 0.0).best_age


class _Decisions:
    """The ages at which rules act, and what a heater of some age still costs; one answer for homes that are alike."""

    def __init__(self, stock: Stock, amounts: Amounts, costs: Costs, discount: float) -> None:
        self._stock = stock
        types = len(stock.households)
        extra = np.array([mean_extra_usd(outcomes(amounts, h, h.has)) for h in stock.households])
        shift = np.round(stock.log_median.mean(axis=0) / _SHIFT)
        keys = np.column_stack([shift, np.round(extra), costs.planned])
        _, first, self._of = np.unique(keys, axis=0, return_index=True, return_inverse=True)
        self._of = self._of.ravel()
        self.best_age, self.joins_from = np.full(types, np.inf), np.full(types, np.inf)
        self._curves = np.zeros((len(first), len(_CURVE_YEARS)))
        some = np.unique(np.linspace(0, stock.draws - 1, min(stock.draws, _DECISION_DRAWS)).astype(np.int64))
        models: dict[float, AgeReplacement] = {}
        for g, t in enumerate(first):
            alike = self._of == g
            if not stock.tank[alike].any():
                continue
            if shift[t] not in models:
                same = (shift == shift[t]) & stock.tank
                models[shift[t]] = self._model(
                    np.asarray(stock.log_median[:, same].mean(axis=1)), some, amounts.discount_rate
                )
            model = models[shift[t]]
            planned, failure = float(costs.planned[t]), float(costs.planned[t] + extra[t])
            policy = model.policy(planned, failure, exact=False)
            index = (failure - (failure - planned) * model.discounted[:, 1:]) / model.area[:, 1:]
            rate = index.mean(axis=0)
            least = int(np.argmin(rate))
            if least < len(rate) - 2 and rate[-1] - rate[least] > 1e-6 * rate[-1]:
                self.best_age[alike] = _lowest(model.ages[1:], rate, least)
            # At ages that hardly any unit reaches the values rest on nothing: hold the last sound one.
            sound = int(np.searchsorted(-model.stays.mean(axis=0), -1e-5))
            keep = model.keep_values(planned, failure, policy).mean(axis=0)[:sound]
            offer = planned * (1 - discount)
            pays = np.flatnonzero(keep > offer)
            if len(pays):
                self.joins_from[alike] = max(float(model.ages[pays[0]]), 1e-6)
            self._curves[g] = np.minimum(np.interp(_CURVE_YEARS, model.ages[:sound], keep), planned)

    def _model(self, log_median: Floats, some: NDArray[np.int64], rate: float) -> AgeReplacement:
        stock = self._stock
        parts = []
        for law, rows in stock.laws:
            mine = some[(some >= rows.start) & (some < rows.stop)].astype(np.int64)
            if len(mine):
                parts.append(LifeDraws(law, log_median[mine], stock.shape[mine], np.full(len(mine), 1.0)))
        return AgeReplacement.of(
            lambda ages: np.concatenate([p.survival(ages) for p in parts]), rate=rate, cells=_CELLS
        )

    def left_to_pay(self, one: Run) -> Floats:
        """What the heaters in service at the end cost beyond new ones, dollars of that day, shape (draws,)."""
        stock = self._stock
        tank = stock.tank[stock.of]
        step = np.clip(np.nan_to_num(one.end_age) / _CURVE_YEARS[1], 0, len(_CURVE_YEARS) - 1.001)
        low = step.astype(np.int64)
        group = self._of[stock.of]
        below, above = self._curves[group, low], self._curves[group, low + 1]
        return np.asarray(np.where(tank, below + (step - low) * (above - below), 0.0).sum(axis=1))


def _lowest(ages: Floats, rate: Floats, least: int) -> float:
    """The lowest point of the parabola through three ages."""
    if least == 0:
        return float(ages[0])
    x, y = ages[least - 1 : least + 2], rate[least - 1 : least + 2]
    a, b, _ = np.polyfit(x - x[1], y, 2)
    return float(x[1]) if a <= 0 else float(np.clip(x[1] - b / (2 * a), x[0], x[2]))


def _values(one: Run, left: Floats) -> dict[str, Floats]:
    return {
        "total": one.bills + left,
        "bills": one.bills,
        "left_to_pay": left,
        "damage": one.damage,
        "replaced": one.replaced,
        "failed": one.failed,
        "leaked": one.leaked,
        "flooded": one.flooded,
    }


def _span(values: Floats) -> Span:
    low, high = np.quantile(values, [0.05, 0.95])
    return Span(float(values.mean()), float(low), float(high))
