"""The simulation of policies against age replacement theory.

Sources: the cost rate of replacing at age T is that of Barlow and Proschan, Mathematical Theory of Reliability
(1965), chapter 4; with discounting that of Fox, Age replacement with discounting, Operations Research 14 (1966).
The figures below are the numerical solutions for a Weibull law of scale 13 and shape 2.5, a planned replacement
for 1 and one after a failure for 3 (and 5); two independent libraries reproduce them (see
``test_age_replacement.py``). For costs without discounting: best age 8.539125, cost a year .204754 (6.409610 and
.266311); at 3% and 5%: best age 8.864567 and 9.093693, present value of all costs 6.218994 and 3.500410.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from survey_app.economics import Amounts
from survey_app.lifetime import LAWS
from survey_app.policies import Costs, Rule, Run, Stock, best_ages, run, uniform_stock
from survey_app.settings import Settings

SCALE, SHAPE = 13.0, 2.5
MEDIAN = SCALE * math.log(2) ** (1 / SHAPE)


def amounts(failure: float, rate: float) -> Amounts:
    """A planned replacement for 1,000, a failure for so many times that, and no water."""
    usual = Amounts.from_settings(Settings())
    return usual.changed(
        {
            "planned_price_usd": 1000.0,
            "emergency_premium_usd": 1000.0 * (failure - 1),
            "leak_share": 0.0,
            "discount_rate": rate,
        }
    )


def world(homes: int = 200, draws: int = 40) -> Stock:
    """New heaters of one known law everywhere."""
    return uniform_stock(LAWS["weibull"], MEDIAN, SHAPE, homes=homes, draws=draws, age_years=1e-9)


def passed(stock: Stock, money: Amounts, age: float, years: float) -> Run:
    """So many years of replacing at one age."""
    rule = Rule(np.full(1, age), np.full(1, np.inf))
    return run(stock, rule, Costs.of(money, stock.households, {}), money, years=years, seed=5)


@pytest.mark.parametrize(("failure", "age", "rate"), [(3.0, 8.539125, 0.204754), (5.0, 6.409610, 0.266311)])
def test_the_best_age_costs_a_year_what_the_theory_says(failure: float, age: float, rate: float) -> None:
    """In a long run at the best age each home pays the published cost rate, within the error of the simulation."""
    money, stock = amounts(failure, 0.0), world(homes=500)
    found = best_ages(stock, money, planned_usd={})[0]
    # From 200 years on, so that the common start in new heaters is forgotten.
    early, late = passed(stock, money, found, 200.0), passed(stock, money, found, 600.0)
    per_year = (late.bills - early.bills) / (400.0 * stock.of.shape[1])
    error = float(per_year.std(ddof=1)) / math.sqrt(stock.draws)

    assert found == pytest.approx(age, abs=0.03)
    assert error < 0.0015 * 1000 * rate
    assert float(per_year.mean()) == pytest.approx(1000 * rate, abs=4 * error)


def test_waiting_costs_a_year_the_price_of_a_failure_over_the_mean_life() -> None:
    """Renewal reward: run to failure is 3 / (13 gamma(1.4)) a year; common knowledge of renewal theory."""
    money, stock = amounts(3.0, 0.0), world()
    early, late = passed(stock, money, np.inf, 200.0), passed(stock, money, np.inf, 600.0)
    per_year = (late.bills - early.bills) / (400.0 * stock.of.shape[1])
    error = float(per_year.std(ddof=1)) / math.sqrt(stock.draws)

    assert float(per_year.mean()) == pytest.approx(3000 / (SCALE * math.gamma(1 + 1 / SHAPE)), abs=4 * error)
    assert np.array_equal(late.replaced, late.failed)


def test_no_other_fixed_age_is_cheaper_than_the_best() -> None:
    """With the same luck for every age, the best one is beaten by none, and clearly better than ages far from it."""
    money, stock = amounts(3.0, 0.0), world()
    best = best_ages(stock, money, planned_usd={})[0]
    at_best = passed(stock, money, best, 600.0).bills
    for age in (3.0, 5.0, 7.0, 8.0, 9.2, 10.5, 13.0, 17.0, np.inf):
        more = passed(stock, money, age, 600.0).bills - at_best
        error = float(more.std(ddof=1)) / math.sqrt(len(more))

        assert float(more.mean()) > -3 * error, age
        if abs(age - best) > 3:
            assert float(more.mean()) > 10 * error, age


@pytest.mark.parametrize(("rate", "age", "value"), [(0.03, 8.864567, 6.218994), (0.05, 9.093693, 3.500410)])
def test_discounted_costs_of_all_time_are_those_of_the_theory(rate: float, age: float, value: float) -> None:
    """From a new heater on, the present value of everything paid is Fox's."""
    money, stock = amounts(3.0, rate), world(homes=2000)
    found = best_ages(stock, money, planned_usd={})[0]
    # The first heater is there already; what is paid within 400 years is all but a millionth.
    bills = passed(stock, money, found, 400.0).bills / stock.of.shape[1]
    error = float(bills.std(ddof=1)) / math.sqrt(len(bills))

    assert found == pytest.approx(age, abs=0.03)
    assert float(bills.mean()) == pytest.approx(1000 * value, abs=4 * error)
    assert error < 0.002 * 1000 * value
