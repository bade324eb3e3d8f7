"""Take the offer, replace on one's own, or wait: told side by side, and never one against itself."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey_app.economics import (
    OVER_YEARS,
    Amounts,
    Answer,
    Decision,
    Household,
    Tolerance,
    Verdict,
    Way,
    decide,
    keep_value,
    words,
)
from survey_app.lifetime import LAWS, LifeDraws
from survey_app.records import Place, Tri
from survey_app.settings import Settings
from survey_app.texts import texts

DEFAULTS = Amounts.from_settings(Settings())
CLOSET = Household(place=Place.CLOSET)
WORSE_AND_WORSE = (Place.GARAGE, Place.BASEMENT, Place.CLOSET)
_RANK = {Verdict.WAIT: 0, Verdict.YOUR_CALL: 1, Verdict.REPLACE: 2, Verdict.TAKE: 2}


def lives(law: str = "weibull", *, median: float = 12.2, shape: float = 2.6, count: int = 60) -> tuple[LifeDraws, ...]:
    """Laws around one: the median known to 6%, the shape to 8% and above one, so that a Weibull hazard rises."""
    rng = np.random.default_rng(4)
    shapes = 1 + (shape - 1) * np.exp(0.08 * rng.standard_normal(count))
    medians = math.log(median) + 0.06 * rng.standard_normal(count)
    return (LifeDraws(LAWS[law], medians, shapes, np.full(count, 1 / count)),)


def at(age: float) -> tuple[float, float, float]:
    """An age known for sure."""
    return age, age, age


def priced(own_usd: float, **more: float) -> Amounts:
    """The default amounts at one's own price."""
    return DEFAULTS.changed({"planned_price_usd": own_usd, **more})


def answers(found: Decision) -> list[Answer]:
    """Every answer of a decision: all rows, both ways to weigh risk."""
    return [a for c in found.rows for a in (c.neutral, c.personal) if a is not None]


_laws = st.builds(
    lives,
    st.sampled_from(["weibull", "lognormal"]),
    median=st.floats(8, 20),
    shape=st.floats(1.3, 5),
)
_ages = st.floats(0, 40)
_own = st.floats(600, 4000)
_offers = st.none() | st.floats(100, 6000)
_damages = st.floats(0, 20000)
_tolerances = st.sampled_from([None, *Tolerance])
_places = st.sampled_from(list(Place))


def test_an_old_tank_is_replaced_at_the_lower_price_and_never_kept_for_a_dear_offer() -> None:
    """17 years, past twice a warranty of eight: without an offer, with a lower and with a dearer one, always now.

    Before, an offer $25 above one's own price turned "replace it now" into "keep the heater, it pays at no age".
    """
    law, own = lives(), 1275.0
    asked = {
        offer: decide(law, at(17), priced(own), CLOSET, offer_usd=offer) for offer in (None, 1179.0, 1300.0, 1575.0)
    }
    verdicts = {offer: found.rows[0].neutral.verdict for offer, found in asked.items()}
    said = texts("en")

    assert verdicts == {
        None: Verdict.REPLACE,
        1179.0: Verdict.TAKE,
        1300.0: Verdict.REPLACE,
        1575.0: Verdict.REPLACE,
    }
    dear = words.summary_lines(said, asked[1575.0])[0]
    assert "replace it now, on your own, for $1,275" in dear
    assert "$300 more than your own price" in dear
    assert "take the price of $1,179" in words.summary_lines(said, asked[1179.0])[0]
    for found in asked.values():
        told = " ".join([*words.summary_lines(said, found), *words.neutral_lines(said, found)])
        assert "keep" not in told.lower()
        assert "does not pay at any age" not in told


@settings(max_examples=60, deadline=None)
@given(_laws, _ages, _own, _damages, _tolerances)
def test_an_offer_at_ones_own_price_changes_nothing(
    laws: tuple[LifeDraws, ...], age: float, own: float, damage: float, tolerance: Tolerance | None
) -> None:
    """Every row, every figure but the bar of the offer, which is that of one's own price; and the same verdict."""
    amounts = priced(own, damage_usd_inside=damage)
    without, with_it = (decide(laws, at(age), amounts, CLOSET, tolerance=tolerance, offer_usd=o) for o in (None, own))

    for one, other in zip(answers(without), answers(with_it), strict=True):
        assert other.ways.offer == other.ways.own
        assert replace(other, ways=replace(other.ways, offer=None)) == one
    assert without.if_insured is with_it.if_insured


@settings(max_examples=60, deadline=None)
@given(_laws, _ages, _own, st.floats(100, 6000), st.floats(100, 6000), _damages)
def test_a_dearer_offer_never_makes_taking_it_likelier(
    laws: tuple[LifeDraws, ...], age: float, own: float, one: float, two: float, damage: float
) -> None:
    """Nor does it turn another verdict into taking it; above one's own price it changes nothing at all."""
    amounts = priced(own, damage_usd_inside=damage)
    cheap, dear = (decide(laws, at(age), amounts, CLOSET, offer_usd=o).rows[0].neutral for o in sorted((one, two)))
    plain = decide(laws, at(age), amounts, CLOSET).rows[0].neutral

    assert dear.chance_take <= cheap.chance_take
    assert dear.verdict is not Verdict.TAKE or cheap.verdict is Verdict.TAKE
    assert dear.take_up_to_usd == cheap.take_up_to_usd == plain.take_up_to_usd
    for offer, found in zip(sorted((one, two)), (cheap, dear), strict=True):
        assert (found.verdict is Verdict.TAKE) == (offer < found.take_up_to_usd) or math.isclose(
            offer, found.take_up_to_usd, abs_tol=1e-6
        )
        if offer > own:
            assert replace(found, ways=replace(found.ways, offer=None)) == plain


@settings(max_examples=60, deadline=None)
@given(_laws, _ages, _own, _offers, _damages, _damages, st.sampled_from(Tolerance))
def test_more_damage_never_makes_waiting_likelier(
    laws: tuple[LifeDraws, ...],
    age: float,
    own: float,
    offer: float | None,
    one: float,
    two: float,
    tolerance: Tolerance,
) -> None:
    """With an offer or none, by the dollars and by the household's own feeling; the verdict never moves to waiting."""
    less, more = (
        decide(laws, at(age), priced(own, damage_usd_inside=d), CLOSET, tolerance=tolerance, offer_usd=offer).rows[0]
        for d in sorted((one, two))
    )
    for mild, bad in ((less.neutral, more.neutral), (less.personal, more.personal)):
        assert mild is not None
        assert bad is not None
        assert bad.chance_cheaper >= mild.chance_cheaper - 1e-12
        if (
            laws[0].law is LAWS["weibull"]
        ):  # a lognormal survivor may be safer than a new heater: then it is dearer to lose
            # A dollar, since costs are worked out on a grid of ages.
            assert bad.gain_usd.middle >= mild.gain_usd.middle - 1
        assert _RANK[bad.verdict] >= _RANK[mild.verdict]


@settings(max_examples=40, deadline=None)
@given(_laws, _ages, _own, _offers, st.booleans())
def test_a_worse_place_never_makes_waiting_likelier(
    laws: tuple[LifeDraws, ...], age: float, own: float, offer: float | None, insured: bool
) -> None:
    """Garage, basement, closet, at the default damages, with an offer or none, insured or not."""
    household = Household(insured=Tri.YES if insured else Tri.NO)
    found = [
        decide(laws, at(age), priced(own), replace(household, place=place), offer_usd=offer).rows[0].neutral
        for place in WORSE_AND_WORSE
    ]
    chances = [a.chance_cheaper for a in found]

    assert chances == sorted(chances)
    assert [_RANK[a.verdict] for a in found] == sorted(_RANK[a.verdict] for a in found)


@settings(max_examples=60, deadline=None)
@given(st.floats(8, 20), st.floats(1.05, 6), _ages, _ages, _own, _offers, _damages)
def test_a_higher_age_never_makes_waiting_likelier_where_the_hazard_rises(
    median: float, shape: float, one: float, two: float, own: float, offer: float | None, damage: float
) -> None:
    """A Weibull hazard of shape above one rises throughout, so an older heater is replaced no later."""
    laws, amounts = lives(median=median, shape=shape), priced(own, damage_usd_inside=damage)
    young, old = (decide(laws, at(a), amounts, CLOSET, offer_usd=offer).rows[0].neutral for a in sorted((one, two)))

    assert old.chance_cheaper >= young.chance_cheaper - 1e-12
    assert _RANK[old.verdict] >= _RANK[young.verdict]


@settings(max_examples=40, deadline=None)
@given(_laws, _ages, _own, _own, _damages)
def test_a_dearer_price_of_ones_own_never_makes_replacing_on_ones_own_likelier(
    laws: tuple[LifeDraws, ...], age: float, one: float, two: float, damage: float
) -> None:
    """The dearer a new heater, the longer the old one is kept."""
    cheap, dear = (
        decide(laws, at(age), priced(own, damage_usd_inside=damage), CLOSET).rows[0].neutral
        for own in sorted((one, two))
    )

    assert dear.chance_cheaper <= cheap.chance_cheaper + 1e-12


@settings(max_examples=60, deadline=None)
@given(_laws, _ages, st.floats(0, 3), _own, _offers, _damages, _tolerances)
def test_no_interval_has_no_width(
    laws: tuple[LifeDraws, ...],
    age: float,
    window: float,
    own: float,
    offer: float | None,
    damage: float,
    tolerance: Tolerance | None,
) -> None:
    """As long as the law of life is not known for sure, neither is what any way costs, a sure price included.

    What replacing now saves is sure only where no law leaves a survivor: such a heater fails any day.
    """
    amounts = priced(own, damage_usd_inside=damage)
    found = decide(laws, (age, age + window, age + 2 * window), amounts, CLOSET, tolerance=tolerance, offer_usd=offer)

    for answer in answers(found):
        ways = answer.ways
        for span in (ways.own, ways.wait, ways.a_year, ways.until_it_fails, *([ways.offer] if ways.offer else [])):
            assert span.low < span.high
            assert math.isfinite(span.high)
        if laws[0].survival(np.array([age])).max() > 1e-200:
            assert answer.gain_usd.low < answer.gain_usd.high


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("age", [0.0, 6.0, 12.0, 17.0, 45.0, 95.0])
def test_no_range_is_told_between_a_figure_and_itself(language: str, age: float) -> None:
    """Neither by rounding nor where a law is known for sure: then it is said that it is the same in all cases."""
    say, one_law = texts(language), (LifeDraws(LAWS["weibull"], np.array([2.5]), np.array([2.6]), np.array([1.0])),)
    for laws in (lives(), lives(shape=5), one_law):
        for offer in (None, 1000.0, 1275.0, 1900.0):
            found = decide(laws, at(age), priced(1275.0), CLOSET, tolerance=Tolerance.LOW, offer_usd=offer)
            rows = words.way_rows(say, found)
            told = [
                *words.summary_lines(say, found),
                *words.neutral_lines(say, found),
                *words.personal_lines(say, found),
                *words.ways_lines(say, found),
                *words.detail_lines(say, found),
                *(row.range for row in rows),
            ]
            for line in told:
                for low, high in re.findall(
                    r"(-?\$?[\d,.]*\d)(?: (?:and|to|or as many as|y|a|o hasta)) (-?\$?[\d,.]*\d)", line
                ):
                    assert low != high, line
            if laws is one_law:
                assert all(row.range == say("decision-way-sure") for row in rows)


def test_two_prices_differ_by_their_difference_in_every_case() -> None:
    """Offer and own price over the same years: mean and both ends apart by exactly the dollars between them."""
    ways = decide(lives(), at(9), priced(1605.0), CLOSET, offer_usd=1179.0).rows[0].neutral.ways

    assert ways.offer is not None
    for name in ("middle", "low", "high"):
        assert getattr(ways.own, name) - getattr(ways.offer, name) == pytest.approx(426)
    assert ways.wait.middle <= min(ways.a_year.middle, ways.until_it_fails.middle)


@settings(max_examples=60, deadline=None)
@given(_laws, _ages, _own, _offers, _damages)
def test_a_verdict_names_the_way_that_costs_least_on_average(
    laws: tuple[LifeDraws, ...], age: float, own: float, offer: float | None, damage: float
) -> None:
    """The bars and the verdict cannot contradict one another."""
    found = decide(laws, at(age), priced(own, damage_usd_inside=damage), CLOSET, offer_usd=offer)
    named = {Verdict.TAKE: Way.OFFER, Verdict.REPLACE: Way.OWN, Verdict.WAIT: Way.WAIT}
    for answer in answers(found):
        if answer.verdict in named:
            assert answer.ways.least is named[answer.verdict]
        if answer.pays_from_age is not None and answer.verdict is Verdict.TAKE:
            assert answer.pays_from_age <= age + 1e-9


def test_ten_years_of_waiting_by_hand_for_a_constant_hazard() -> None:
    """Lives without aging are worth nothing less when old: waiting costs hazard * failure * annuity, at any age.

    Mean life 12 years, rate 3%, a failure at the own price of $1,500 and $400 for haste, no damage.
    """
    flat = (LifeDraws(LAWS["weibull"], np.array([math.log(12 * math.log(2))]), np.array([1.0]), np.array([1.0])),)
    amounts = priced(1500.0, leak_share=0.0)
    ways = decide(flat, at(8), amounts, CLOSET, offer_usd=900.0).rows[0].neutral.ways
    annuity = (1 - math.exp(-0.03 * OVER_YEARS)) / 0.03
    years = 1900 / 12 * annuity

    assert ways.wait.middle == pytest.approx(years, rel=2e-3)
    assert ways.until_it_fails.middle == pytest.approx(years, rel=2e-3)
    assert ways.own.middle == pytest.approx(1500 + years, rel=2e-3)
    assert ways.offer is not None
    assert ways.offer.middle == pytest.approx(900 + years, rel=2e-3)


def test_ten_years_against_a_walk_through_the_years() -> None:
    """A law of one shape, replaced at its best age: 40,000 histories played out, bills discounted, the end settled.

    At the end of ten years the heater in service has used up what this way of counting says that its age is worth;
    the histories know only bills and ages.
    """
    scale, shape, rate, own, age = 14.0, 2.6, 0.03, 1500.0, 9.0
    law = (
        LifeDraws(
            LAWS["weibull"],
            np.array([math.log(scale * math.log(2) ** (1 / shape))]),
            np.array([shape]),
            np.array([1.0]),
        ),
    )
    amounts = priced(own, discount_rate=rate)
    first = decide(law, at(age), amounts, CLOSET).rows[0].neutral
    best, failure = first.optimal_age.middle, first.failure_usd
    rng = np.random.default_rng(8)

    def played(homes: int, *, now: bool) -> float:
        bills, clock = np.full(homes, own if now else 0.0), np.zeros(homes)
        old = np.full(homes, 0.0 if now else age)
        ends = np.zeros(homes)
        running = np.ones(homes, dtype=bool)
        least_wait = np.full(homes, 0.0 if now else 1.0)
        while running.any():
            fails = scale * ((old / scale) ** shape - np.log(rng.random(homes))) ** (1 / shape)
            stops = np.maximum(best, old + least_wait)
            then = clock + np.minimum(fails, stops) - old
            over = then >= OVER_YEARS
            at_end = running & over
            ends[at_end] = (old + OVER_YEARS - clock)[at_end]
            going = running & ~over
            bill = np.where(fails < stops, failure, own) * np.exp(-rate * then)
            bills[going] += bill[going]
            clock[going], old[going], least_wait[going] = then[going], 0.0, 0.0
            running = going
        used_up = np.array([0.0 if a < 1e-6 else _worn(law, amounts, a) for a in np.linspace(0, 25, 251)])
        bills += np.exp(-rate * OVER_YEARS) * np.interp(ends, np.linspace(0, 25, 251), used_up)
        return float(bills.mean())

    assert played(40000, now=True) == pytest.approx(first.ways.own.middle, rel=0.02)
    assert played(40000, now=False) == pytest.approx(first.ways.wait.middle, rel=0.02)


def _worn(law: tuple[LifeDraws, ...], amounts: Amounts, age: float) -> float:
    """What a heater of this age costs more than a new one would: nothing new, the own price from its best age on."""
    failure = decide(law, at(age), amounts, CLOSET).rows[0].neutral.failure_usd
    return float(keep_value(age, law[0].survival, amounts.planned_price_usd, failure, rate=amounts.discount_rate)[0])


@settings(max_examples=30, deadline=None)
@given(_laws, _ages, _own, _offers, _places)
def test_what_an_addition_saves_is_the_cheapest_way_without_it_less_the_cheapest_with_it(
    laws: tuple[LifeDraws, ...], age: float, own: float, offer: float | None, place: Place
) -> None:
    """The table of what could catch the water adds up with the bars of the ways, to the cent."""
    amounts = priced(own, mitigation_lasts_years=OVER_YEARS)
    found = decide(laws, at(age), amounts, Household(place=place), offer_usd=offer)

    def least(answer: Answer) -> float:
        ways = answer.ways
        return min(span.middle for span in (ways.own, ways.wait, ways.offer) if span is not None)

    first = found.rows[0].neutral
    for choice in found.rows[1:]:
        expected = least(first) - least(choice.neutral) - choice.price_usd
        assert choice.neutral.worth_usd.middle == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_felt_gain_is_told_in_dollars_only_up_to_the_price_of_a_new_heater(language: str) -> None:
    """An attic, the house empty most of the year, no wish for risk: felt as tens of thousands, told in words."""
    say, household = texts(language), Household(place=Place.ATTIC, days_empty=300)
    for age in (8.0, 12.0, 17.0, 30.0):
        found = decide(lives(), at(age), priced(1275.0), household, tolerance=Tolerance.LOW)
        first = found.rows[0]
        assert first.personal is not None
        felt, *ages, how = words.personal_lines(say, found)[2:]
        dollars = [float(x.replace(",", "")) for x in re.findall(r"\$([\d,]+)", " ".join([felt, *ages]))]
        assert all(x <= 1275 for x in dollars)
        extra = first.neutral.failure_usd - 1275
        assert max(float(x.replace(",", "")) for x in re.findall(r"\$([\d,]+)", how)) <= max(4500, 1.05 * extra)
        if age >= 12:
            assert first.personal.gain_usd.middle > 10_000
            assert felt == say("decision-felt-now-much")


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_rows_of_the_picture_say_price_average_and_range(language: str) -> None:
    """Two rows without an offer, three with one; exactly one of them is the least; nothing without an answer."""
    say = texts(language)
    for offer in (None, 1179.0):
        found = decide(lives(), at(15), priced(1605.0), CLOSET, offer_usd=offer)
        rows = words.way_rows(say, found)
        assert [row.way for row in rows] == [*([Way.OFFER] if offer else []), Way.OWN, Way.WAIT]
        assert [row.least for row in rows].count(True) == 1
        assert "$1,605" in rows[-2].label
        assert offer is None or "$1,179" in rows[0].label
        for row in rows:
            assert row.usd.low <= row.usd.middle <= row.usd.high
            assert row.range.count("$") == 2
    assert words.way_rows(say, decide(None, at(9), priced(1605.0), CLOSET)) == []


def test_most_cases_against_the_average_leave_it_to_the_household() -> None:
    """In nine of ten cases waiting is cheaper by a little, in the tenth dearer by a lot: no verdict, and it says why.

    Lives of a median of 22 years, and one of 9 years with a weight of .1.
    """
    laws = (LifeDraws(LAWS["weibull"], np.log(np.array([22.0, 9.0])), np.array([3.5, 6.0]), np.array([0.9, 0.1])),)
    found = None
    for age in np.arange(4.0, 16.0, 0.25):
        answer = decide(laws, at(float(age)), priced(1800.0), CLOSET).rows[0].neutral
        if answer.chance_cheaper <= 0.2 and answer.gain_usd.middle > 0:
            found = decide(laws, at(float(age)), priced(1800.0), CLOSET)
            break

    assert found is not None
    assert found.rows[0].neutral.verdict is Verdict.YOUR_CALL
    assert texts("en")("decision-says-average") in words.summary_lines(texts("en"), found)[0]
    torn = next(
        d
        for d in (decide(lives(), at(float(age)), priced(1800.0), CLOSET) for age in np.arange(4.0, 16.0, 0.25))
        if 0.3 < d.rows[0].neutral.chance_cheaper < 0.7
    )
    assert texts("en")("decision-says-average") not in words.summary_lines(texts("en"), torn)[0]
