"""Ten years under five policies: what must hold whatever the figures, and the board's way to them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import numpy as np
import pytest
import simulated_worlds
from hypothesis import given, settings
from hypothesis import strategies as st

from geo.parcels import read_parcels
from survey_app.access import Actor, NotAllowed, Role
from survey_app.economics import Amounts, Catch, Household, optimal_age
from survey_app.forecast import forecast_from
from survey_app.lifetime import LAWS, HomeState, Posterior, fit, load_prior, observations
from survey_app.policies import (
    Costs,
    PolicyName,
    Rule,
    Run,
    Stock,
    TenYears,
    best_ages,
    policies_for,
    run,
    stock_today,
    ten_years,
    uniform_stock,
)
from survey_app.prices import SizeClass
from survey_app.records import HeaterKind, Place
from survey_app.reports.policy_report import (
    MEASURES,
    chart_of_policies,
    policy_rows,
    policy_sentences,
    what_it_rests_on,
)
from survey_app.settings import Settings
from survey_app.survey import Survey, open_store

AMOUNTS = Amounts.from_settings(Settings())
NEVER = np.full(1, np.inf)
INSIDE = Household(kind=HeaterKind.GAS_STORAGE, place=Place.CLOSET)
PUMPS = {(HeaterKind.HEAT_PUMP_STORAGE, size): 3000.0 for size in SizeClass}


def world(*, age: float = 9.0, household: Household = INSIDE, homes: int = 150, draws: int = 40) -> Stock:
    """Homes alike in everything but luck."""
    stock = uniform_stock(LAWS["weibull"], 12.0, 2.6, homes=homes, draws=draws, age_years=age)
    return replace(stock, households=(household,))


def passed(stock: Stock, rule: Rule, amounts: Amounts = AMOUNTS, *, years: float = 10.0) -> Run:
    """Some years under one rule, always with the same luck."""
    return run(stock, rule, Costs.of(amounts, stock.households, PUMPS), amounts, years=years, seed=5)


def compared(stock: Stock, amounts: Amounts = AMOUNTS, *, discount: float = 0.15, followed: float = 1.0) -> TenYears:
    """All five policies."""
    return policies_for(stock, amounts, planned_usd=PUMPS, discount=discount, followed_by=followed, years=10, seed=5)


@pytest.fixture(scope="module")
def posterior() -> Posterior:
    """What 600 simulated homes, some silent and some of unknown age, say about lives."""
    w = simulated_worlds
    found = w.build(w.World(homes=(600, 600), report="form"), 21)
    prior = load_prior()
    seen = observations(
        found.homes,
        found.heaters,
        found.services,
        as_of=date(2026, 1, 1),
        long_warranty_years=prior.long_warranty_years,
    )
    return fit(seen, prior, draws=400, seed=1)


def test_a_year_of_waiting_loses_what_the_forecast_says(posterior: Posterior) -> None:
    """Two ways to one figure: heaters played through a year, and the forecast's chances added up.

    The forecast leaves out the few that are replaced early before they would have failed, hence the 6 percent.
    """
    stock = stock_today(posterior, {}, {}, default_warranty_years=6.0, draws=300, seed=2)
    played = passed(
        stock, Rule(np.full(len(stock.households), np.inf), np.full(len(stock.households), np.inf)), years=1
    )
    told = forecast_from(posterior, seed=1, fan=False).horizon(1.0).everyone

    assert float(played.failed.mean()) == pytest.approx(told.mean, rel=0.06)
    low, high = np.quantile(played.failed, [0.05, 0.95])
    assert low == pytest.approx(told.low, rel=0.15)
    assert high == pytest.approx(told.high, rel=0.15)


def test_every_home_stands_for_itself_or_for_an_answer_of_its_phase(posterior: Posterior) -> None:
    """Homes that answered keep their own heater in every draw; silent ones take one of their phase's, varying."""
    stock = stock_today(posterior, {}, {}, default_warranty_years=6.0, draws=50, seed=2)
    obs = posterior.observations
    known = np.flatnonzero(obs.home_state == HomeState.AGE_KNOWN)
    silent = np.flatnonzero(obs.home_state == HomeState.SILENT)

    assert (stock.of[:, known] == stock.of[0, known]).all()
    row = obs.home_row[known]
    plain = ~obs.maybe_original[row]
    ages = stock.age[:, stock.of[0, known[plain]]]
    assert (ages >= -obs.began[row[plain], 1] - 1e-3).all()
    assert (ages <= -obs.began[row[plain], 0] + 1e-3).all()
    assert len(np.unique(stock.of[:, silent[0]])) > 5
    type_phase = {int(t): int(p) for t, p in zip(stock.of[0, known], obs.home_phase[known], strict=True)}
    for home in silent[:20]:
        donors = {type_phase[int(t)] for t in stock.of[:, home] if int(t) in type_phase}
        assert donors <= {int(obs.home_phase[home])}


def test_the_same_seed_gives_the_same_figures_and_another_seed_others(posterior: Posterior) -> None:
    """Seeds are explicit: nothing depends on anything else."""
    one, two, other = (
        ten_years(posterior, {}, {}, AMOUNTS, planned_usd=PUMPS, default_warranty_years=6.0, draws=20, seed=s)
        for s in (4, 4, 5)
    )

    assert one == two
    assert one != other


def test_policies_share_their_luck_so_that_differences_are_surer_than_costs(posterior: Posterior) -> None:
    """The interval of a difference is narrower than that of either cost; waiting differs from itself by nothing."""
    found = ten_years(posterior, {}, {}, AMOUNTS, planned_usd=PUMPS, default_warranty_years=6.0, draws=200, seed=4)
    wait = found.of(PolicyName.WAIT)

    assert (wait.against_waiting.total.low, wait.against_waiting.total.high) == (0.0, 0.0)
    for name in (PolicyName.TWICE_WARRANTY, PolicyName.ALARMS):
        p = found.of(name)
        assert p.against_waiting.total.high - p.against_waiting.total.low < p.figures.total.high - p.figures.total.low


def test_alarms_and_shutoffs_prevent_damage_and_no_failure() -> None:
    """With the same luck every leak that still does damage did so without the shut-off, too; no pan is added."""
    found = compared(world())
    wait, caught = found.of(PolicyName.WAIT), found.of(PolicyName.ALARMS)

    assert caught.figures.failed == wait.figures.failed
    assert caught.figures.leaked == wait.figures.leaked
    assert caught.against_waiting.flooded.high <= 0
    share = caught.figures.flooded.middle / wait.figures.flooded.middle
    assert share == pytest.approx(AMOUNTS.factor_shutoff, abs=0.05)


def test_leaks_and_damage_come_in_the_shares_that_were_given() -> None:
    """Of the failures, the leak share leaks; of the leaks in a closet, the given chance does damage."""
    one = passed(world(homes=600), Rule(NEVER, NEVER))

    assert one.leaked.sum() / one.failed.sum() == pytest.approx(AMOUNTS.leak_share, abs=0.01)
    assert one.flooded.sum() / one.leaked.sum() == pytest.approx(AMOUNTS.damage_chance_inside, abs=0.01)
    assert (one.replaced == one.failed).all()


def test_the_bill_of_waiting_is_what_the_failures_cost() -> None:
    """Without discounting, bills are the price and haste of every failure and the damage of every flood."""
    flat = AMOUNTS.changed({"discount_rate": 0.0})
    one = passed(world(), Rule(NEVER, NEVER), flat)
    by_hand = one.failed * (flat.planned_price_usd + flat.emergency_premium_usd) + one.flooded * flat.damage_usd_inside

    assert one.bills == pytest.approx(by_hand)
    assert one.by_year.sum(axis=0) == pytest.approx(one.bills)
    assert one.damage == pytest.approx(one.flooded * flat.damage_usd_inside)


def test_a_heat_pump_costs_a_heat_pump() -> None:
    """The planned price is that of the kind in the home."""
    flat = AMOUNTS.changed({"discount_rate": 0.0, "leak_share": 0.0})
    pump = replace(INSIDE, kind=HeaterKind.HEAT_PUMP_STORAGE)
    usual, dear = (passed(world(household=h), Rule(NEVER, NEVER), flat) for h in (INSIDE, pump))

    assert (dear.bills - usual.bills) == pytest.approx(usual.failed * (3000.0 - flat.planned_price_usd))


def test_a_home_without_a_tank_has_nothing_to_lose() -> None:
    """No tank: no bill under any policy."""
    found = compared(replace(world(), tank=np.zeros(1, dtype=bool)))

    assert {p.figures.total.high for p in found.policies} == {0.0}
    assert policy_sentences(found)


def test_the_best_age_is_that_of_the_decision_of_one_household() -> None:
    """With one law, the age found by averaging over draws is the one that the replace-or-wait page uses."""
    stock = world()
    extra = (
        AMOUNTS.emergency_premium_usd + AMOUNTS.leak_share * AMOUNTS.damage_chance_inside * AMOUNTS.damage_usd_inside
    )

    def survival(ages: np.ndarray) -> np.ndarray:
        return LAWS["weibull"].survival(ages, 12.0, 2.6)

    planned = AMOUNTS.planned_price_usd
    theirs = optimal_age(survival, planned, planned + extra, rate=AMOUNTS.discount_rate).age[0]

    assert best_ages(stock, AMOUNTS, planned_usd=PUMPS)[0] == pytest.approx(theirs, abs=0.05)


def test_heaters_past_the_age_are_replaced_within_the_first_year() -> None:
    """A policy that begins today finds old heaters: they go over the year, not all at once and not never."""
    late = world(age=20.0)
    one = passed(late, Rule(np.full(1, 12.0), NEVER), years=1.0)
    half = passed(late, Rule(np.full(1, 12.0), NEVER), years=0.5)

    assert (one.replaced >= late.of.shape[1]).all()
    assert 0.4 < float(half.replaced.mean()) / late.of.shape[1] < 0.75


def test_rounds_are_held_once_a_year_and_cost_less_a_heater() -> None:
    """Everybody who buys in a round pays the price less the discount, on one of ten days."""
    flat = AMOUNTS.changed({"discount_rate": 0.0})
    rule = Rule(NEVER, np.full(1, 1e-6), discount=0.2)
    one = passed(world(age=3.0), rule, flat, years=1.0)
    bought = one.replaced - one.failed
    first = passed(world(age=3.0), rule, flat, years=0.49)

    assert (first.replaced == first.failed).all(), "no round before the middle of the year"
    assert one.bills - one.damage == pytest.approx(
        bought * 0.8 * flat.planned_price_usd + one.failed * (flat.planned_price_usd + flat.emergency_premium_usd)
    )


@settings(max_examples=15, deadline=None)
@given(premium=st.floats(0, 3000), more=st.floats(1, 1500), age=st.floats(0.5, 25))
def test_a_dearer_emergency_never_makes_waiting_cheaper(premium: float, more: float, age: float) -> None:
    """With the same luck, every failure costs at least as much."""
    stock = world(age=age, homes=40, draws=5)
    cheap, dear = (
        passed(stock, Rule(NEVER, NEVER), AMOUNTS.changed({"emergency_premium_usd": usd})).bills
        for usd in (premium, premium + more)
    )
    assert (dear >= cheap).all()


@settings(max_examples=10, deadline=None)
@given(share=st.floats(0, 1))
def test_nobody_following_is_waiting_and_some_following_lies_between(share: float) -> None:
    """A policy that nobody follows changes nothing; replacements grow with those who follow."""
    stock = world(homes=60, draws=8)
    nobody, some, all_ = (compared(stock, followed=f) for f in (0.0, share, 1.0))
    for name in PolicyName:
        assert nobody.of(name).figures == nobody.of(PolicyName.WAIT).figures
    at = [found.of(PolicyName.TWICE_WARRANTY).figures.failed.middle for found in (nobody, some, all_)]
    assert at == sorted(at, reverse=True)


@settings(max_examples=10, deadline=None)
@given(discount=st.floats(0.0, 0.4), more=st.floats(0.01, 0.4))
def test_a_larger_discount_makes_more_homes_buy(discount: float, more: float) -> None:
    """A lower price is taken at an earlier age."""
    few, many = (
        compared(world(homes=40, draws=6), discount=d).of(PolicyName.ROUNDS).figures.replaced.middle
        for d in (discount, discount + more)
    )
    assert many >= few


def test_old_heaters_left_behind_are_counted() -> None:
    """What the heaters at the end still cost grows with their age, and is never more than a planned one's price."""
    found = compared(world())
    wait, best = found.of(PolicyName.WAIT).figures, found.of(PolicyName.BEST_AGE).figures

    assert 0 < best.left_to_pay.middle < wait.left_to_pay.middle
    assert wait.left_to_pay.high <= found.homes * AMOUNTS.planned_price_usd
    assert wait.total.middle == pytest.approx(wait.bills.middle + wait.left_to_pay.middle)


def test_heat_pumps_and_tankless_homes_are_priced_as_what_they_are_or_said_to_be_left_out() -> None:
    """Heat pumps at their own price, said with it; tankless homes in no figure, said aloud; tanks alone: neither."""
    tanks = world(homes=40, draws=6)
    pumps = replace(tanks, households=tuple(replace(h, kind=HeaterKind.HEAT_PUMP_STORAGE) for h in tanks.households))
    none = replace(tanks, tank=np.zeros_like(tanks.tank))
    usual, dear, without = (compared(stock) for stock in (tanks, pumps, none))

    assert (usual.heat_pumps, usual.without_tank) == (0, 0)
    assert (dear.heat_pumps, without.without_tank) == (40, 40)
    waits = [f.of(PolicyName.WAIT).figures for f in (usual, dear, without)]
    # Waiting: the same failures, each dearer by the difference of the planned prices at most (later ones discounted).
    assert waits[1].failed == waits[0].failed
    most = waits[0].failed.middle * (3000.0 - AMOUNTS.planned_price_usd)
    assert 0.6 * most < waits[1].bills.middle - waits[0].bills.middle <= most
    assert (waits[2].failed.middle, waits[2].bills.middle) == (0, 0)
    told = [" ".join(what_it_rests_on(f)) for f in (usual, dear, without)]
    assert "with a heat pump" not in told[0]
    assert "tankless" not in told[0]
    assert "About 40 homes are counted with a heat pump" in told[1]
    assert "heat pump 3,000 (over 55 gallons 3,000)" in told[1]
    assert "About 40 homes are counted as tankless. They are in no figure here" in told[2]


def test_what_cannot_be_is_refused(posterior: Posterior) -> None:
    """Shares out of bounds, no years, and a rule that replaces without end."""
    with pytest.raises(ValueError, match="discount must be"):
        ten_years(
            posterior, {}, {}, AMOUNTS, planned_usd=PUMPS, default_warranty_years=6.0, discount=15, draws=3, seed=1
        )
    with pytest.raises(ValueError, match="above zero"):
        passed(world(), Rule(NEVER, NEVER), years=0.0)
    with pytest.raises(ValueError, match="without end"):
        passed(world(homes=2, draws=2), Rule(np.full(1, 1e-3), NEVER), years=50.0)


def test_a_shutoff_is_bought_again_when_it_has_served_its_time() -> None:
    """In twenty years one that lasts ten is bought twice, the second time later and so for less of today's money."""
    dry = AMOUNTS.changed({"leak_share": 0.0})
    caught = Rule(NEVER, NEVER, adds=Catch(alarm=True, shutoff=True))
    stock = world(homes=10, draws=3)
    more = passed(stock, caught, dry, years=20.0).bills - passed(stock, Rule(NEVER, NEVER), dry, years=20.0).bills
    once = 10 * (dry.shutoff_price_usd + dry.alarm_price_usd)

    assert more == pytest.approx(once * (1 + np.exp(-10 * dry.discount_rate)))


def test_the_words_and_the_plot_tell_every_policy_without_color() -> None:
    """Each policy is named on the axis with its figure; each has a sentence; rows show intervals."""
    found = compared(world())
    said, rows = policy_sentences(found), policy_rows(found)

    assert len(said) == len(rows) == len(PolicyName)
    assert all("None" not in s and "nan" not in s for s in said)
    saved = {v["policy"]: v for v in chart_of_policies(found, "saved")["data"]["values"]}
    caught = found.of(PolicyName.ALARMS).against_waiting.total
    assert saved["wait until it fails"]["mean"] == 0
    assert saved[str(PolicyName.ALARMS)]["high"] == round(-caught.low)
    for measure in MEASURES:
        chart = chart_of_policies(found, measure)
        assert [v["policy"] for v in chart["data"]["values"]] == list(map(str, PolicyName))
        assert all(v["words"].lower().startswith(v["policy"].lower()) for v in chart["data"]["values"])
        colors = [layer["encoding"].get("color") for layer in chart["layer"]]
        assert colors == [None] * 3


def test_the_board_sees_totals_alone(data: Path) -> None:
    """The committee reads the study; it names no home; the resident's door has none of it."""
    store = open_store(data)
    found = (
        Survey(store, Actor(name="c", role=Role.COMMITTEE), now=datetime(2026, 5, 2, 9)).figures().policies(draws=10)
    )
    shown = str(found) + str(policy_sentences(found)) + str(policy_rows(found))

    assert [p.name for p in found.policies] == list(PolicyName)
    assert found.homes == len(store.homes())
    assert not any(h.address in shown or h.home_id in shown.split() for h in store.homes())
    with pytest.raises(NotAllowed):
        Survey(store, Actor(name="v", role=Role.RESIDENT), now=datetime(2026, 5, 2, 9)).figures().policies(draws=5)


def test_without_homes_or_answers_it_says_so(tmp_path: Path, invented: Path) -> None:
    """No homes: a sentence on what to do. Homes without an answer: published lives, and a warning that says so."""
    survey = Survey(open_store(tmp_path), Actor(name="v", role=Role.VOLUNTEER), now=datetime(2026, 5, 2, 9))
    with pytest.raises(ValueError, match="no homes in this survey yet"):
        survey.figures().policies(draws=5)
    survey.set_up().load_parcels(read_parcels(invented / "parcels.geojson"))
    found = survey.figures().policies(draws=20)

    assert found.homes == 120
    assert found.refusal is not None
    assert "published lives alone" in what_it_rests_on(found)[0]
    assert survey.figures().board_report().policies is None, "the board is not told what no answer supports"


def test_a_difference_that_chance_may_explain_is_said_to_be_unsure() -> None:
    """Where the interval holds nothing gained, the sentence gives both ends and the odds."""
    found = compared(world(homes=15, draws=60, age=5.0), discount=0.02)
    unsure = [
        (p, s)
        for p, s in zip(found.policies, policy_sentences(found), strict=True)
        if p.against_waiting.total.low < 0 < p.against_waiting.total.high
    ]

    assert unsure
    assert all("not sure" in s and "of 100 cases" in s for _, s in unsure)
