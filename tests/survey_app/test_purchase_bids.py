"""What a bid costs for any number of homes, and what is wrong with it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey_app.purchase.bids import Bid, Offered, PriceStep, ScopeOffer, StepKind, anomalies, cautions, check_bid
from survey_app.purchase.recheck import price_home_by_home

TODAY = date(2026, 11, 25)


def bid(*steps: tuple[int, float], kind: StepKind = StepKind.ALL_UNITS, **terms: object) -> Bid:
    """A bid of these steps."""
    return Bid(
        contractor="Contractor A",
        steps=tuple(PriceStep(from_homes=n, price_usd=usd) for n, usd in steps),
        step_kind=kind,
        **terms,  # type: ignore[arg-type]
    )


THREE = ((1, 1200.0), (5, 1100.0), (10, 1000.0))


@pytest.mark.parametrize(
    ("homes", "expected"),
    [(1, 1200.0), (4, 4800.0), (5, 5500.0), (9, 9900.0), (10, 10000.0), (12, 12000.0)],
)
def test_all_units_price_holds_for_every_home(homes: int, expected: float) -> None:
    """By hand: 4 x 1,200 = 4,800; 5 x 1,100 = 5,500; 9 x 1,100 = 9,900; 10 x 1,000 = 10,000; 12 x 1,000 = 12,000."""
    assert bid(*THREE).total_usd(homes) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("homes", "expected"),
    [(1, 1200.0), (4, 4800.0), (5, 5900.0), (9, 10300.0), (10, 11300.0), (12, 13300.0)],
)
def test_incremental_price_holds_from_its_step_on(homes: int, expected: float) -> None:
    """By hand: 4 x 1,200 = 4,800; + 1,100 = 5,900; + 4 x 1,100 = 10,300 for 9; + 1,000 = 11,300; + 2 x 1,000 = 13,300.

    A home's equal share at 12 homes is 13,300 / 12 = 1,108.33 dollars.
    """
    own = bid(*THREE, kind=StepKind.INCREMENTAL)
    assert own.total_usd(homes) == pytest.approx(expected)
    assert own.home_usd(12) == pytest.approx(13300 / 12)


def test_all_units_anomaly_is_told_where_one_more_home_lowers_the_total() -> None:
    """By hand: with 1,200 below 10 and 1,000 from 10 on, 9 homes cost 10,800 and 10 only 10,000; 8 cost 9,600, less.

    With steps at 5 and 10 there is none: 4 x 1,200 = 4,800 < 5,500, and 9 x 1,100 = 9,900 < 10,000.
    """
    assert [(one.homes, one.more_homes) for one in anomalies(bid(*THREE))] == []
    (found,) = anomalies(bid((1, 1200.0), (10, 1000.0)))
    assert (found.homes, found.total_usd, found.more_homes, found.more_total_usd) == (9, 10800.0, 10, 10000.0)
    assert "one more home pays for itself" in found.sentence
    assert anomalies(bid((1, 1200.0), (10, 1000.0), kind=StepKind.INCREMENTAL)) == ()


def test_mobilization_is_charged_by_the_day_and_shared() -> None:
    """By hand: 7 homes at 3 a day take 3 days: 7 x 1,000 + 3 x 150 = 7,450, a share of 1,064.29 dollars."""
    own = bid((1, 1000.0), homes_per_day=3, mobilization_usd_per_day=150.0)
    assert (own.days(7), own.total_usd(7)) == (3, 7450.0)
    assert own.home_usd(7) == pytest.approx(1064.2857, abs=1e-4)


def test_bid_says_why_it_does_not_hold_for_a_number_of_homes() -> None:
    """Below its first step, and where the minimum a day cannot be kept (4 homes, 3 a day: two days of 2)."""
    own = bid((2, 1000.0), homes_per_day=3, minimum_homes_per_day=3)
    assert "begins at 2" in own.why_not(1)
    assert "do not fill their days" in own.why_not(4)
    assert own.why_not(3) == own.why_not(6) == ""


def test_day_size_follows_what_the_bid_states() -> None:
    """Stated; else a fifth of the week, never below the minimum a day; else three (common practice, no source)."""
    assert bid((1, 1.0), homes_per_day=4, units_per_week=50).day_size == 4
    assert bid((1, 1.0), units_per_week=12).day_size == 3
    assert bid((1, 1.0), units_per_week=10, minimum_homes_per_day=4).day_size == 4
    assert bid((1, 1.0)).day_size == 3
    assert bid((1, 1.0), homes_per_day=1, units_per_week=20).week_size == 5


@pytest.mark.parametrize(
    ("own", "words"),
    [
        (bid(), "no price step"),
        (bid((1, -5.0)), "no heater costs"),
        (bid((1, 0.0)), "no heater costs"),
        (bid((1, float("nan"))), "no heater costs"),
        (bid((1, 1e9)), "no heater costs"),
        (bid((0, 900.0)), "begins at 0 homes"),
        (bid((1, 900.0), (5, 950.0)), "rises from 900.00 to 950.00"),
        (bid((1, 900.0), (5, 850.0), (5, 800.0)), "overlap"),
        (bid((1, 900.0), mobilization_usd_per_day=-1.0), "is no price"),
        (bid((1, 900.0), units_per_week=0), "no number of homes"),
        (bid((1, 900.0), minimum_homes_per_day=5, homes_per_day=3), "does at most 3"),
        (bid((1, 900.0), minimum_homes_per_day=5, units_per_week=3), "at most 3 heaters a week"),
        (bid((1, 900.0), valid_until=date(2026, 11, 24)), "expired on 2026-11-24"),
        (replace(bid((1, 900.0)), contractor=" "), "names no contractor"),
        (
            bid((1, 900.0), scope=(ScopeOffer(item="permit", offered=Offered.EXTRA, extra_usd=-3.0),)),
            "extra for 'permit' is -3.00",
        ),
        (
            bid((1, 900.0), scope=(ScopeOffer(item="permit", offered=Offered.INCLUDED),) * 2),
            "stands twice",
        ),
    ],
)
def test_fatal_findings_say_what_is_wrong_and_what_to_do(own: Bid, words: str) -> None:
    """Each wrong bid has a fatal finding with the words, and a remedy."""
    found = [one for one in check_bid(own, as_of=TODAY) if one.fatal and words in one.what]
    assert found
    assert all(one.remedy for one in found)


def test_all_findings_come_at_once() -> None:
    """Three faults, three findings; a bid valid to the very day is still good."""
    own = bid((1, -1.0), mobilization_usd_per_day=-2.0, valid_until=date(2020, 1, 1))
    assert len([one for one in check_bid(own, as_of=TODAY) if one.fatal]) == 3
    assert check_bid(bid((1, 900.0), valid_until=TODAY), as_of=TODAY) == ()


def test_unknown_item_and_extra_without_price_are_told_but_not_fatal() -> None:
    """Both leave a gap, which an assumption fills."""
    own = bid(
        (1, 900.0),
        scope=(
            ScopeOffer(item="garden", offered=Offered.INCLUDED),
            ScopeOffer(item="permit", offered=Offered.EXTRA),
        ),
    )
    found = check_bid(own, as_of=TODAY)
    assert len(found) == 2
    assert not any(one.fatal for one in found)


def test_cautions_ask_for_what_was_not_seen_in_writing() -> None:
    """License, insurance that reaches the work, labor warranty, validity (common practice, no source)."""
    assert len(cautions(bid((1, 900.0)))) == 4
    seen = bid(
        (1, 900.0),
        license_number="X1",
        license_seen_on=TODAY,
        insurance_seen_on=TODAY,
        insurance_until=date(2027, 1, 31),
        labor_warranty_years=2.0,
        valid_until=date(2027, 6, 30),
    )
    assert cautions(seen, work_until=date(2027, 1, 31)) == ()
    assert "before the work does" in cautions(seen, work_until=date(2027, 2, 1))[0]


prices = st.lists(st.integers(50_000, 200_000), min_size=1, max_size=4, unique=True)


@st.composite
def any_bid(draw: st.DrawFn, kind: StepKind | None = None) -> Bid:
    """A bid without faults."""
    cents = sorted(draw(prices), reverse=True)
    begins = sorted(draw(st.lists(st.integers(1, 30), min_size=len(cents), max_size=len(cents), unique=True)))
    return bid(
        *((n, usd / 100) for n, usd in zip(begins, cents, strict=True)),
        kind=kind or draw(st.sampled_from(StepKind)),
        mobilization_usd_per_day=float(draw(st.sampled_from([0, 75, 200]))),
        homes_per_day=draw(st.integers(1, 5)),
    )


@given(any_bid(), st.integers(1, 60))
def test_price_steps_equal_a_count_home_by_home(own: Bid, homes: int) -> None:
    """The closed form of the price steps against the plain count that the recheck uses."""
    if own.why_not(homes) == "":
        assert own.steps_usd(homes) == pytest.approx(price_home_by_home(own, homes))


@given(any_bid(), st.integers(1, 60), st.integers(0, 3), st.floats(0.5, 1.0))
def test_lower_step_never_costs_anybody_more(own: Bid, homes: int, which: int, factor: float) -> None:
    """With any step's price lowered, no number of homes pays a larger share."""
    k = which % len(own.steps)
    steps = list(own.steps)
    steps[k] = replace(steps[k], price_usd=steps[k].price_usd * factor)
    if own.why_not(homes) == "":
        assert replace(own, steps=tuple(steps)).home_usd(homes) <= own.home_usd(homes) + 1e-9


@given(any_bid(kind=StepKind.INCREMENTAL), st.integers(1, 60))
def test_incremental_steps_never_cost_less_than_all_units(own: Bid, homes: int) -> None:
    """All units is the better of the two for the buyer, and incremental totals never fall as homes are added."""
    if own.why_not(homes) == "":
        assert own.total_usd(homes) >= replace(own, step_kind=StepKind.ALL_UNITS).total_usd(homes) - 1e-9
        assert own.total_usd(homes + 1) >= own.total_usd(homes)


@settings(max_examples=200)
@given(any_bid(kind=StepKind.ALL_UNITS))
def test_anomalies_are_all_the_numbers_at_which_the_next_step_costs_less(own: Bid) -> None:
    """Against a count of every number of homes: below a step, a larger total than at the step itself."""
    plain = replace(own, mobilization_usd_per_day=0.0)
    by_count = []
    for one, after in zip(plain.steps, plain.steps[1:], strict=False):
        at_step = after.from_homes * after.price_usd
        dear = [n for n in range(one.from_homes, after.from_homes) if n * one.price_usd > at_step + 1e-6]
        if dear:
            by_count.append((dear[0], after.from_homes))
    assert [(one.homes, one.more_homes) for one in anomalies(plain)] == by_count
