"""Some years under one rule, home by home and draw by draw.

Every home and draw has its own chance numbers, one for the life and one for the
leak of its first, second, ... heater, and they are the same under every rule:
what differs between two rules is the rules, not luck.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from survey_app.economics import Amounts, Catch, DamageGroup, Household
from survey_app.policies.stock import Floats, Stock
from survey_app.prices import SizeClass
from survey_app.records import HeaterKind

__all__ = ["Costs", "Planned", "Rule", "Run", "run"]

_MOST_HEATERS = 400  # in one home; a rule that needs more is no rule
_BACKLOG_YEARS = 1.0
"""Heaters that are past a rule's age when it begins are replaced evenly over this time."""
_PLACES = tuple(DamageGroup)
NOTHING = Catch()


@dataclass(frozen=True, eq=False)
class Rule:
    """What homes do, by type of home.

    Parameters
    ----------
    replace_at
        Age at which a heater is replaced, years; infinite for never. Shape (types,).
    joins_from
        Age from which a home buys in a yearly round; infinite for never. Shape (types,).
    discount
        What a round takes off the planned price, a share.
    adds
        What is fitted on the first day to catch water.
    followed_by
        Share of homes that do what the rule says; the others wait for the failure.
    """

    replace_at: Floats
    joins_from: Floats
    discount: float = 0.0
    adds: Catch = NOTHING
    followed_by: float = 1.0


Planned = Mapping[tuple[HeaterKind, SizeClass], float]
"""Dollars of a planned replacement, by the kind and size of the heater."""


@dataclass(frozen=True, eq=False)
class Costs:
    """What things cost, by type of home and by where its heater stands: shape (types, 3) or (types,)."""

    planned: Floats
    premium: float
    leak_share: float
    damage_chance: Floats
    damage_usd: Floats
    left_before: Floats
    places: tuple[tuple[int, ...], ...]

    @classmethod
    def of(cls, amounts: Amounts, households: tuple[Household, ...], planned_usd: Planned) -> Costs:
        """The costs of each type of household; a heater that `planned_usd` does not name costs as the amounts say."""
        pairs = [amounts.damage(group) for group in _PLACES]
        return cls(
            planned=np.array([planned_usd.get((h.kind, h.size), amounts.planned_price_usd) for h in households]),
            premium=amounts.emergency_premium_usd,
            leak_share=amounts.leak_share,
            damage_chance=np.array([chance for chance, _ in pairs]),
            damage_usd=np.array([usd for _, usd in pairs]),
            left_before=np.array([h.has.damage_left(amounts) for h in households]),
            places=tuple(tuple(_PLACES.index(g) for g in h.groups) for h in households),
        )


@dataclass(frozen=True, eq=False)
class Run:
    """What happened under one rule, one entry a draw; `by_year` has one row a year.

    Parameters
    ----------
    bills
        Dollars of today for heaters, haste, damage and what was fitted.
    damage
        The part of `bills` that is water damage.
    replaced, failed, leaked, flooded
        Heaters replaced for any reason; failures among them; leaks among those; leaks with damage.
    by_year
        Bills of each year, shape (years, draws).
    end_age
        Ages in service at the end, shape (draws, homes); not a number where there is no tank.
    """

    bills: Floats
    damage: Floats
    replaced: Floats
    failed: Floats
    leaked: Floats
    flooded: Floats
    by_year: Floats
    end_age: Floats


def run(stock: Stock, rule: Rule, costs: Costs, amounts: Amounts, *, years: float, seed: int) -> Run:
    """Let some years pass.

    Parameters
    ----------
    stock
        What stands in the homes today.
    rule
        What homes do.
    costs, amounts
        What it costs; the discount rate and the price of what is fitted are the amounts'.
    years
        How long.
    seed
        Of the chance numbers; the same seed gives every rule the same luck.

    Raises
    ------
    ValueError
        When the years are not above zero, or a rule replaces without end.
    """
    if years <= 0:
        raise ValueError("The years to look ahead must be above zero.")
    draws, homes = stock.of.shape
    rows = max(1, int(np.ceil(years)))
    by_year = np.zeros((rows, draws))
    counts = {name: np.zeros(draws) for name in ("damage", "replaced", "failed", "leaked", "flooded")}
    rng = np.random.default_rng([seed, 3])
    start_by, follow, place_by = rng.random((3, draws, homes))
    kind = stock.of
    tank = stock.tank[kind]
    follows = (follow < rule.followed_by) & tank
    place = _places(costs, place_by, kind)
    left = costs.left_before[kind]
    if rule.adds != NOTHING:
        have = [h.has.with_more(rule.adds) for h in stock.households]
        after = np.array([h.damage_left(amounts) for h in have])
        left = np.where(follows, after[kind], left)
        price = np.array([rule.adds.price(amounts, h.has) for h in stock.households])
        fitted = np.where(follows, price[kind], 0.0).sum(axis=1)
        # Bought again when it has served its time, whole.
        again = np.where(follows, rule.adds.price(amounts, NOTHING), 0.0).sum(axis=1)
        for i, at in enumerate(np.arange(0.0, years, amounts.mitigation_lasts_years)):
            by_year[int(at)] += (fitted if i == 0 else again) * np.exp(-amounts.discount_rate * at)
    flood_chance = costs.leak_share * costs.damage_chance[place] * left

    draw, home = np.nonzero(tank)
    began = -stock.age[draw, kind[draw, home]]  # when the heater in service was installed, years from today
    end_began = np.full((draws, homes), np.nan)
    for k in range(_MOST_HEATERS):
        if not len(draw):
            break
        luck = np.random.default_rng([seed, 4, k])
        life_by, leak_by = luck.random((2, draws, homes))
        of = kind[draw, home]
        middle = stock.log_median[draw, of]
        now = np.maximum(began, 0.0)
        lived = stock.hazard_lived(draw, middle, now - began) if k == 0 else np.zeros(len(draw))
        fails = began + stock.age_at(draw, middle, lived - np.log1p(-life_by[draw, home]))
        does = follows[draw, home]
        limit = np.where(does, rule.replace_at[of], np.inf)
        due = began + limit
        late = due < now
        due[late] = _BACKLOG_YEARS * start_by[draw[late], home[late]]
        joins = np.maximum(began + np.where(does, rule.joins_from[of], np.inf), now)
        # Rounds are held in the middle of each year.
        joins = np.where(np.isfinite(joins), np.ceil(joins - 0.5) + 0.5, np.inf)
        at = np.minimum(np.minimum(fails, due), joins)
        ends = at < years
        end_began[draw[~ends], home[~ends]] = began[~ends]
        draw, home, of, at = draw[ends], home[ends], of[ends], at[ends]
        broke = fails[ends] <= at
        bought = ~broke & (joins[ends] <= due[ends])
        v = leak_by[draw, home]
        leaked = broke & (v < costs.leak_share)
        flooded = broke & (v < flood_chance[draw, home])
        damage = np.where(flooded, costs.damage_usd[place[draw, home]], 0.0)
        worth = np.exp(-amounts.discount_rate * at)
        bill = costs.planned[of] * np.where(bought, 1 - rule.discount, 1.0) + costs.premium * broke + damage
        cell = np.minimum(at.astype(np.int64), rows - 1) * draws + draw
        by_year += np.bincount(cell, bill * worth, rows * draws).reshape(rows, draws)
        counts["damage"] += np.bincount(draw, damage * worth, draws)
        for name, hit in (
            ("replaced", np.ones(len(draw), bool)),
            ("failed", broke),
            ("leaked", leaked),
            ("flooded", flooded),
        ):
            counts[name] += np.bincount(draw, hit, draws)
        began = at
    else:
        raise ValueError("This rule replaces heaters without end. Give a later age.")
    return Run(bills=by_year.sum(axis=0), by_year=by_year, end_age=years - end_began, **counts)


def _places(costs: Costs, place_by: Floats, kind: NDArray[np.int64]) -> NDArray[np.int64]:
    """Where each heater stands; one that nobody placed stands in each group of places as likely."""
    count = np.array([len(p) for p in costs.places])
    table = np.array([[p[min(i, len(p) - 1)] for i in range(len(_PLACES))] for p in costs.places], dtype=np.int64)
    pick = np.minimum((place_by * count[kind]).astype(np.int64), count[kind] - 1)
    return np.asarray(table[kind, pick])
