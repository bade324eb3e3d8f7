"""Ten years under a policy: what it costs, how many heaters leak, how many floods, with intervals.

Every home's succession of heaters is played through to the horizon under each
policy, for many plausible laws of life from the lifetime posterior. All policies
see the same luck (common random numbers), so what they differ by is known more
closely than what each costs. Homes that did not answer, or whose heater's age
nobody knows, are played as a home of their phase that did (a different one in
each draw). Amounts are today's dollars, not discounted; who pays (owner or
insurer) is not told apart.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from scipy.special import ndtri

from survey_app.economics import Amounts, Catch, Household, break_even_age, optimal_age
from survey_app.economics.amounts import outcomes
from survey_app.economics.decision import thin
from survey_app.lifetime import LifeDraws
from survey_app.lifetime.laws import Floats, Law

__all__ = ["Fleet", "PolicyOutcome", "PolicyStudy", "Span", "Way", "fleet_life", "simulate", "ten_years"]

_NEVER = np.inf
_LEAST_U = 1e-12
_LAWS_FOR_AGES = 60


class Way(StrEnum):
    """What a community may do."""

    WAIT = "wait until each heater fails"
    TWICE = "replace at twice the warranty"
    BEST_AGE = "replace at the best age"
    CATCH = "pans with drains and alarms for all, else wait"
    ROUNDS = "a group round every year, for whom it pays"


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A mean with its 90% interval over draws: luck and ignorance together."""

    mean: float
    low: float
    high: float

    @classmethod
    def of(cls, values: Floats) -> Span:
        """The summary of one value a draw."""
        low, high = np.quantile(values, [0.05, 0.95])
        return cls(mean=float(values.mean()), low=float(low), high=float(high))


@dataclass(frozen=True, eq=False, kw_only=True)
class Fleet:
    """The homes that are played, one row each.

    Parameters
    ----------
    age_years
        Age of today's heater; nan where nobody knows.
    phase
        Index of the phase.
    lives
        For each home an index into `laws`.
    laws
        Plausible lives (:class:`survey_app.lifetime.LifeDraws`), a tuple for each index.
    group
        For each home an index into `households`: who shares place, kind and what catches the water.
    households
        One of each group.
    warranty_years
        Warranty term of today's heater, an assumed one where nobody knows.
    """

    age_years: Floats
    phase: np.ndarray
    lives: np.ndarray
    laws: Sequence[tuple[LifeDraws, ...]]
    group: np.ndarray
    households: Sequence[Household]
    warranty_years: Floats

    def __len__(self) -> int:
        return len(self.age_years)


@dataclass(frozen=True, slots=True, kw_only=True)
class PolicyOutcome:
    """One policy over the horizon.

    Parameters
    ----------
    way
        Which.
    cost_usd, failures, floods, replaced_ahead
        In all homes over all years: dollars, heaters that fail, failures with water damage, heaters replaced in time.
    more_than_waiting_usd
        Cost less that of waiting, draw by draw.
    age_at_end_years
        Mean age of the heaters at the end: what is left for those who come after.
    by_year_usd
        Cost so far at the end of each year.
    sentence
        What it means, in words.
    """

    way: Way
    cost_usd: Span
    failures: Span
    floods: Span
    replaced_ahead: Span
    more_than_waiting_usd: Span
    age_at_end_years: float
    by_year_usd: tuple[Span, ...]
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PolicyStudy:
    """All policies side by side, with what they rest on."""

    homes: int
    years: int
    draws: int
    outcomes: tuple[PolicyOutcome, ...]
    sentences: tuple[str, ...]


def fleet_life(law: Law, log_median: Floats, shape: Floats, uniform: Floats, age: Floats) -> Floats:
    """Age at failure of units that have reached `age`, by inversion.

    Parameters
    ----------
    law
        Weibull or lognormal, in the standard form of :mod:`survey_app.lifetime.laws`.
    log_median, shape
        One entry a unit.
    uniform
        One number in (0, 1) a unit: the luck.
    age
        Age reached, years.

    Returns
    -------
    ndarray
        Age at failure, never below `age`.
    """
    with np.errstate(divide="ignore"):
        u = shape * (np.log(np.maximum(age, 1e-12)) - log_median) + law.offset
    lived = np.where(age > 0, law.cumulative(u), 0.0)
    risk = lived - np.log(np.maximum(uniform, _LEAST_U))
    ends = np.log(risk) if law.name == "weibull" else -ndtri(np.exp(-risk))
    ends = np.where(np.isfinite(ends), ends, 38.0)
    return np.maximum(np.exp(log_median + (ends - law.offset) / shape), age)


@dataclass(frozen=True, eq=False)
class _Rule:
    """A policy as numbers, one entry a home: the age to replace at, dollars planned, share of damage left."""

    replace_at: Floats
    planned_usd: Floats
    flood_share: Floats
    flood_usd: Floats
    at_once_usd: Floats
    yearly: bool


@dataclass(frozen=True, eq=False)
class _Played:
    cost: float
    failures: float
    floods: float
    ahead: float
    age_end: float
    by_year: Floats


def simulate(
    life: Callable[[int, Floats], Floats],
    age: Floats,
    rule: _Rule,
    *,
    years: float,
    planned_usd: Floats,
    premium_usd: float,
    flood_luck: Callable[[int], Floats],
) -> tuple[Floats, Floats, Floats, Floats, Floats, Floats]:
    """Play every home through the horizon.

    Parameters
    ----------
    life
        Gives the age at failure of each home's k-th unit, from the age it has reached.
    age
        Age of each home's first unit.
    rule
        The policy.
    years
        The horizon.
    planned_usd
        What a replacement costs after a failure, before the emergency's premium.
    premium_usd
        What an emergency adds.
    flood_luck
        Gives each home's luck on whether its k-th failure floods.

    Returns
    -------
    tuple of ndarray
        Cost, failures, floods, replacements ahead, age at the end (one entry a home), and cost by year
        (years, rounded up; homes summed).
    """
    n = len(age)
    now = np.zeros(n)
    reached = age.astype(float).copy()
    cost = rule.at_once_usd.copy()
    failures, floods, ahead = np.zeros(n), np.zeros(n), np.zeros(n)
    by_year = np.zeros(max(1, math.ceil(years)))
    by_year[0] += float(cost.sum())
    alive = np.ones(n, dtype=bool)
    k = 0
    while alive.any():
        ends = life(k, reached)
        until_failure = now + ends - reached
        wanted = now + np.maximum(rule.replace_at - reached, 0.0)
        if rule.yearly:
            # Rounds are held once a year: whoever is due joins the next one.
            wanted = np.where(np.isfinite(wanted), np.ceil(np.maximum(wanted, 1e-9)), wanted)
        fails = until_failure <= wanted
        when = np.minimum(until_failure, wanted)
        happens = alive & (when <= years)
        lost = happens & fails
        planned = happens & ~fails
        flood = lost & (flood_luck(k) < rule.flood_share)
        bill = np.where(lost, planned_usd + premium_usd + np.where(flood, rule.flood_usd, 0.0), 0.0)
        bill = np.where(planned, rule.planned_usd, bill)
        cost += bill
        failures += lost
        floods += flood
        ahead += planned
        at = np.minimum(when[happens].astype(int), len(by_year) - 1)
        np.add.at(by_year, at, bill[happens])
        stop = alive & ~happens
        reached[stop] += years - now[stop]
        alive = happens
        now = np.where(happens, when, now)
        reached = np.where(happens, 0.0, reached)
        k += 1
    return cost, failures, floods, ahead, reached, by_year


def ten_years(
    fleet: Fleet,
    amounts: Amounts,
    *,
    years: int = 10,
    draws: int = 100,
    discount: float = 0.15,
    seed: int,
) -> PolicyStudy:
    """What each policy costs over the years.

    Parameters
    ----------
    fleet
        The homes.
    amounts
        What things cost.
    years
        The horizon.
    draws
        Plausible laws that are played.
    discount
        How much cheaper a group round is, as a share of the planned price (an assumption, no source: edit it).
    seed
        Of the luck and the choice of laws; the same seed gives the same study.

    Raises
    ------
    ValueError
        When no home's heater has a known age, or the discount is not between 0 and 0.9.
    """
    if not 0 <= discount <= 0.9:
        raise ValueError(f"A discount of {discount:g} is not a share between 0 and 0.9. Write 0.15 for 15 percent.")
    known = np.isfinite(fleet.age_years)
    if not known.any():
        raise ValueError("No heater's age is known yet, so there is nothing to play. Ask for answers first.")
    rng = np.random.default_rng([seed, 3])
    rules = {way: _rule(way, fleet, amounts, discount) for way in Way}
    played: dict[Way, list[_Played]] = {way: [] for way in Way}
    for _ in range(draws):
        stand_in = _stand_ins(fleet, known, rng)
        law, log_median, shape = _one_law(fleet, stand_in, rng)
        age = fleet.age_years[stand_in]
        luck, floods = np.random.default_rng(rng.integers(2**63)), np.random.default_rng(rng.integers(2**63))
        units: list[Floats] = []
        water: list[Floats] = []
        n = len(fleet)

        def life(
            k: int,
            reached: Floats,
            units: list[Floats] = units,
            luck: np.random.Generator = luck,
            law: Law = law,
            log_median: Floats = log_median,
            shape: Floats = shape,
            n: int = n,
        ) -> Floats:
            while len(units) <= k:
                units.append(luck.random(n))
            return fleet_life(law, log_median, shape, units[k], reached)

        def flood_luck(k: int, water: list[Floats] = water, floods: np.random.Generator = floods, n: int = n) -> Floats:
            while len(water) <= k:
                water.append(floods.random(n))
            return water[k]

        for way, rule in rules.items():
            mine = _of(rule, stand_in)
            cost, failed, wet, ahead, end, by_year = simulate(
                life,
                age,
                mine,
                years=years,
                planned_usd=np.full(n, amounts.planned_price_usd),
                premium_usd=amounts.emergency_premium_usd,
                flood_luck=flood_luck,
            )
            played[way].append(
                _Played(
                    cost=float(cost.sum()),
                    failures=float(failed.sum()),
                    floods=float(wet.sum()),
                    ahead=float(ahead.sum()),
                    age_end=float(end.mean()),
                    by_year=np.cumsum(by_year),
                )
            )
    waiting = np.array([p.cost for p in played[Way.WAIT]])
    outcomes_ = tuple(_outcome(way, played[way], waiting, years) for way in Way)
    share = 1 - known.mean()
    return PolicyStudy(
        homes=len(fleet),
        years=years,
        draws=draws,
        outcomes=outcomes_,
        sentences=(
            f"{len(fleet)} homes were played through {years} years under each policy, {draws} times, with the same "
            "luck for all policies.",
            f"The age of today's heater is not known for {100 * share:.0f} of 100 homes; they were played as homes of "
            "their phase that answered.",
            f"A planned replacement counts {amounts.planned_price_usd:,.0f} dollars, an emergency "
            f"{amounts.emergency_premium_usd:,.0f} more, a group round {100 * discount:.0f} percent less. Damage is by "
            "place, with or without insurance. All these amounts can be changed in the settings.",
            "Not counted: energy, code upgrades, lost time and worry. Heaters that owners replace early by their own "
            "choice are not foreseen.",
        ),
    )


def _stand_ins(fleet: Fleet, known: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """Which home each home is played as: itself, or a home of its phase whose heater's age is known."""
    found = np.arange(len(fleet))
    everywhere = np.flatnonzero(known)
    for phase in np.unique(fleet.phase):
        here = np.flatnonzero((fleet.phase == phase) & known)
        silent = np.flatnonzero((fleet.phase == phase) & ~known)
        found[silent] = rng.choice(here if len(here) >= 5 else everywhere, len(silent))
    return found


def _one_law(fleet: Fleet, stand_in: np.ndarray, rng: np.random.Generator) -> tuple[Law, Floats, Floats]:
    """One plausible law for the whole community, each home with its own median: the same draw everywhere."""
    parts = fleet.laws[0]
    weights = np.array([part.weights.sum() for part in parts])
    which = int(rng.choice(len(parts), p=weights / weights.sum()))
    draw = int(rng.choice(len(parts[which].weights), p=parts[which].weights / parts[which].weights.sum()))
    medians = np.array([laws[which].log_median[draw] for laws in fleet.laws])
    shapes = np.array([laws[which].shape[draw] for laws in fleet.laws])
    of = fleet.lives[stand_in]
    return parts[which].law, medians[of], shapes[of]


def _rule(way: Way, fleet: Fleet, amounts: Amounts, discount: float) -> _Rule:
    n = len(fleet)
    catch = Catch(pan=True, drain=True, alarm=True)
    share, usd, extra, price = [], [], [], []
    for house in fleet.households:
        has = house.has.with_more(catch) if way is Way.CATCH else house.has
        ends = outcomes(amounts, house, has)
        wet = ends[1:]
        chance = sum(o.chance for o in wet)
        share.append(chance)
        usd.append(sum(o.chance * (o.extra_usd - amounts.emergency_premium_usd) for o in wet) / chance if chance else 0)
        extra.append(sum(o.chance * o.extra_usd for o in ends))
        price.append(catch.price(amounts, house.has) if way is Way.CATCH else 0.0)
    at = np.full(n, _NEVER)
    planned = np.full(n, amounts.planned_price_usd)
    if way is Way.TWICE:
        at = 2.0 * fleet.warranty_years
    elif way in (Way.BEST_AGE, Way.ROUNDS):
        pairs = sorted({(int(g), int(k)) for g, k in zip(fleet.group, fleet.lives, strict=True)})
        ages = {pair: _age(way, fleet.laws[pair[1]], amounts, extra[pair[0]], discount) for pair in pairs}
        at = np.array([ages[int(g), int(k)] for g, k in zip(fleet.group, fleet.lives, strict=True)])
        if way is Way.ROUNDS:
            planned = planned * (1.0 - discount)
    group = fleet.group
    return _Rule(
        replace_at=at,
        planned_usd=planned,
        flood_share=np.array(share)[group],
        flood_usd=np.array(usd)[group],
        at_once_usd=np.array(price)[group],
        yearly=way is Way.ROUNDS,
    )


def _age(way: Way, lives: tuple[LifeDraws, ...], amounts: Amounts, extra: float, discount: float) -> float:
    """The age from which a planned (or a group's) replacement pays, by the law averaged over draws."""
    few = thin(lives, _LAWS_FOR_AGES, seed=0)

    def survival(ages: Floats) -> Floats:
        flat = np.atleast_1d(np.asarray(ages, dtype=float)).ravel()
        total = sum(float(part.weights.sum()) for part in few)
        mean = sum(part.weights @ part.survival(flat) for part in few) / total
        return np.asarray(mean, dtype=float).reshape(np.shape(ages))

    failure = amounts.planned_price_usd + extra
    if way is Way.BEST_AGE:
        found = optimal_age(survival, amounts.planned_price_usd, failure, rate=amounts.discount_rate).age
    else:
        offer = (1.0 - discount) * amounts.planned_price_usd
        found = break_even_age(survival, amounts.planned_price_usd, failure, offer, rate=amounts.discount_rate)
    value = float(np.ravel(np.asarray(found))[0])
    return value if np.isfinite(value) else _NEVER


def _of(rule: _Rule, stand_in: np.ndarray) -> _Rule:
    return _Rule(
        replace_at=rule.replace_at[stand_in],
        planned_usd=rule.planned_usd[stand_in],
        flood_share=rule.flood_share[stand_in],
        flood_usd=rule.flood_usd[stand_in],
        at_once_usd=rule.at_once_usd[stand_in],
        yearly=rule.yearly,
    )


def _outcome(way: Way, played: Sequence[_Played], waiting: Floats, years: int) -> PolicyOutcome:
    cost = np.array([p.cost for p in played])
    more = Span.of(cost - waiting)
    failures, floods = (Span.of(np.array([getattr(p, f) for p in played])) for f in ("failures", "floods"))
    by_year = np.array([p.by_year for p in played])
    words = (
        f"{way.capitalize()}: about {Span.of(cost).mean:,.0f} dollars in {years} years, {failures.mean:,.0f} heaters "
        f"fail, {floods.mean:,.0f} of them with water damage."
    )
    if way is not Way.WAIT:
        sure = more.low > 0 or more.high < 0
        less = "more" if more.mean > 0 else "less"
        words += f" That is {abs(more.mean):,.0f} dollars {less} than waiting"
        words += (
            f" ({more.low:,.0f} to {more.high:,.0f})."
            if sure
            else f", and may be neither ({more.low:,.0f} to {more.high:,.0f})."
        )
    return PolicyOutcome(
        way=way,
        cost_usd=Span.of(cost),
        failures=failures,
        floods=floods,
        replaced_ahead=Span.of(np.array([p.ahead for p in played])),
        more_than_waiting_usd=more,
        age_at_end_years=float(np.mean([p.age_end for p in played])),
        by_year_usd=tuple(Span.of(by_year[:, y]) for y in range(by_year.shape[1])),
        sentence=words,
    )
