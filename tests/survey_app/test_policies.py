"""Ten years under a policy: published optima, and what must hold whatever the numbers."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey_app.access import Actor, NotAllowed, Role
from survey_app.economics import Amounts, Household
from survey_app.lifetime import LAWS, LifeDraws
from survey_app.lifetime.laws import Floats
from survey_app.policies import Fleet, Way, _Rule, fleet_life, simulate, ten_years
from survey_app.records import HeaterKind, Place
from survey_app.settings import Settings
from survey_app.survey import Survey, open_store

# Rows of age replacement with a Weibull law of scale 13 and shape 2.5, planned 1, failure 3: best age 8.539125, cost
# rate 0.204754, run to failure 0.260091. From the Barlow-Proschan equation (Mathematical Theory of Reliability, 1965,
# chapter 4), agreed to 4 digits by two libraries; see tests/published/test_age_replacement.py.
SCALE, SHAPE, BEST, RATE, RUN_TO_FAILURE = 13.0, 2.5, 8.539125, 0.204754, 0.260091


def cost_rate(replace_at: float, *, homes: int = 3000, years: float = 260.0, seed: int = 4) -> float:
    """Dollars a home and year in the long run: planned 1, a failure 3."""
    rng = np.random.default_rng(seed)
    units: list[Floats] = []
    median = np.full(homes, math.log(SCALE * math.log(2) ** (1 / SHAPE)))
    shape = np.full(homes, SHAPE)

    def life(k: int, reached: Floats) -> Floats:
        while len(units) <= k:
            units.append(rng.random(homes))
        return fleet_life(LAWS["weibull"], median, shape, units[k], reached)

    rule = _Rule(
        replace_at=np.full(homes, replace_at),
        planned_usd=np.ones(homes),
        flood_share=np.zeros(homes),
        flood_usd=np.zeros(homes),
        at_once_usd=np.zeros(homes),
        yearly=False,
    )
    cost, *_ = simulate(
        life,
        np.zeros(homes),
        rule,
        years=years,
        planned_usd=np.ones(homes),
        premium_usd=2.0,
        flood_luck=lambda k: np.ones(homes),
    )
    return float(cost.mean() / years)


def test_the_long_run_costs_what_the_published_optimum_says() -> None:
    """At the best age the cost rate is the published one, and no other fixed age, nor waiting, is cheaper."""
    best = cost_rate(BEST)

    assert best == pytest.approx(RATE, rel=0.02)
    assert cost_rate(np.inf) == pytest.approx(RUN_TO_FAILURE, rel=0.02)
    assert all(cost_rate(age) > best for age in (4.5, 6.0, 12.0, 18.0, np.inf))


@pytest.mark.parametrize("name", ["weibull", "lognormal"])
def test_lives_follow_their_law_from_the_age_reached(name: str) -> None:
    """Drawn lives outlive each age as often as the law says, conditional on the age reached."""
    law, n = LAWS[name], 200_000
    uniform = np.random.default_rng(2).random(n)
    for reached in (0.0, 6.0, 12.0):
        ends = fleet_life(law, np.full(n, math.log(13.0)), np.full(n, 2.4), uniform, np.full(n, reached))
        assert ends.min() >= reached
        alive = law.survival(np.array([max(reached, 1e-9), 15.0, 20.0]), 13.0, 2.4)
        for at, age in ((1, 15.0), (2, 20.0)):
            assert float((ends > age).mean()) == pytest.approx(alive[at] / alive[0], abs=0.005)


def fleet(homes: int = 300, *, place: Place = Place.CLOSET, known: float = 1.0, seed: int = 1) -> Fleet:
    """Homes of one kind, ages 0 to 16, one law with some spread."""
    rng = np.random.default_rng(seed)
    age = rng.uniform(0, 16, homes)
    age[rng.random(homes) > known] = np.nan
    draws = LifeDraws(LAWS["weibull"], rng.normal(2.56, 0.05, 50), np.exp(rng.normal(0.95, 0.08, 50)), np.ones(50) / 50)
    return Fleet(
        age_years=age,
        phase=np.zeros(homes, dtype=int),
        lives=np.zeros(homes, dtype=int),
        laws=[(draws,)],
        group=np.zeros(homes, dtype=int),
        households=[Household(kind=HeaterKind.GAS_STORAGE, place=place)],
        warranty_years=np.full(homes, 6.0),
    )


AMOUNTS = Amounts.from_settings(Settings(), HeaterKind.GAS_STORAGE)


def test_the_same_seed_gives_the_same_study_and_luck_is_shared() -> None:
    """Policies that do the same thing cost the same to the cent, draw by draw."""
    one, two = (ten_years(fleet(), AMOUNTS, draws=20, seed=5) for _ in range(2))
    assert one == two
    wait = one.outcomes[0]
    assert wait.way is Way.WAIT
    assert (wait.more_than_waiting_usd.low, wait.more_than_waiting_usd.high) == (0.0, 0.0)
    caught = next(o for o in one.outcomes if o.way is Way.CATCH)
    assert caught.failures == wait.failures, "a pan keeps no heater from failing"
    assert caught.floods.mean < wait.floods.mean


def test_replacing_in_time_has_fewer_failures_and_a_younger_fleet() -> None:
    """Each policy that replaces ahead trades failures for planned replacements."""
    found = {o.way: o for o in ten_years(fleet(), AMOUNTS, draws=20, seed=5).outcomes}

    for way in (Way.TWICE, Way.BEST_AGE, Way.ROUNDS):
        assert found[way].failures.mean < found[Way.WAIT].failures.mean
        assert found[way].replaced_ahead.mean > 0
        assert found[way].age_at_end_years < found[Way.WAIT].age_at_end_years
    assert found[Way.WAIT].replaced_ahead.mean == 0


def test_costs_so_far_end_at_the_cost_and_never_fall() -> None:
    """The years add up."""
    for outcome in ten_years(fleet(), AMOUNTS, draws=20, seed=5).outcomes:
        means = [span.mean for span in outcome.by_year_usd]
        assert means == sorted(means)
        assert means[-1] == pytest.approx(outcome.cost_usd.mean)


@settings(max_examples=8, deadline=None)
@given(premium=st.floats(0, 3000), more=st.floats(1, 3000))
def test_a_dearer_emergency_never_makes_waiting_cheaper(premium: float, more: float) -> None:
    """With the same luck, every failure costs at least as much."""
    cheap, dear = (
        ten_years(fleet(80), replace(AMOUNTS, emergency_premium_usd=usd), draws=5, seed=5).outcomes[0].cost_usd.mean
        for usd in (premium, premium + more)
    )
    assert dear >= cheap


@settings(max_examples=8, deadline=None)
@given(discount=st.floats(0.0, 0.4), more=st.floats(0.01, 0.4))
def test_a_larger_discount_makes_more_homes_buy(discount: float, more: float) -> None:
    """A lower price is taken at an earlier age."""
    few, many = (
        next(
            o for o in ten_years(fleet(80), AMOUNTS, draws=5, discount=d, seed=5).outcomes if o.way is Way.ROUNDS
        ).replaced_ahead.mean
        for d in (discount, discount + more)
    )
    assert many >= few


def test_homes_without_an_age_are_played_as_their_phase_and_it_is_said() -> None:
    """Half the ages missing changes the cost little, and the study says for how many."""
    full, half = (ten_years(fleet(known=k), AMOUNTS, draws=30, seed=5) for k in (1.0, 0.5))

    assert half.outcomes[0].cost_usd.mean == pytest.approx(full.outcomes[0].cost_usd.mean, rel=0.1)
    assert "not known for" in half.sentences[1]
    with pytest.raises(ValueError, match="No heater's age is known"):
        ten_years(fleet(known=0.0), AMOUNTS, draws=5, seed=1)
    with pytest.raises(ValueError, match="not a share"):
        ten_years(fleet(), AMOUNTS, draws=5, discount=15, seed=1)


def test_the_board_sees_totals_alone(data: Path) -> None:
    """The committee reads the study; it names no home; the resident's door has none of it."""
    survey = Survey(open_store(data), Actor(name="c", role=Role.COMMITTEE), now=datetime(2026, 5, 2, 9))
    found = survey.policies(draws=5)
    addresses = [h.address for h in open_store(data).homes()]

    assert [o.way for o in found.outcomes] == list(Way)
    assert not any(a in str(found) for a in addresses)
    with pytest.raises(NotAllowed):
        Survey(open_store(data), Actor(name="v", role=Role.RESIDENT), now=datetime(2026, 5, 2, 9)).policies(draws=5)
