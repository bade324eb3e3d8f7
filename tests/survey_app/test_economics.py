"""The decision layer: costs of a failure, both ways to weigh risk, the verdicts, and what must never happen."""

from __future__ import annotations

import math
from dataclasses import fields, replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey_app.economics import (
    AgeReplacement,
    Amounts,
    Catch,
    DamageGroup,
    Decision,
    Household,
    Refusal,
    Row,
    Tolerance,
    Verdict,
    amounts_in_use,
    break_even_age,
    certainty_equivalent,
    decide,
    felt_extra_usd,
    household_of,
    keep_value,
    mean_extra_usd,
    optimal_age,
    outcomes,
    wait_index,
    words,
)
from survey_app.economics.decision import thin
from survey_app.lifetime import LAWS, LifeDraws
from survey_app.prices import PriceList
from survey_app.records import Heater, HeaterKind, Home, Place, Tri
from survey_app.settings import Settings
from survey_app.standing import standing
from survey_app.texts import texts

DEFAULTS = Amounts.from_settings(Settings())
AT_1800 = DEFAULTS.changed({"planned_price_usd": 1800.0})
SCALE, SHAPE = 14.0, 2.6
NO_CATCH, PAN_DRAIN_ALARM = Catch(), Catch(pan=True, drain=True, alarm=True)
# A law of scale 14 and shape 2.6, planned $1,800, rate 3%, damage figures as the defaults: worked elsewhere by
# quadrature of Fox's formula, of the one-year index and of the keep value on an even grid. The break-even age is
# the first tenth of a year at which 15% off pays.
WORKED = [
    (Place.GARAGE, NO_CATCH, 483, 23.9, -125, 14.9),
    (Place.BASEMENT, NO_CATCH, 1004, 16.6, -82, 10.8),
    (Place.CLOSET, PAN_DRAIN_ALARM, 2030, 12.1, 15, 8.0),
    (Place.UPPER_FLOOR, NO_CATCH, 5058, 8.2, 349, 5.4),
]


def survival(ages: np.ndarray) -> np.ndarray:
    """The worked law."""
    return np.exp(-((ages / SCALE) ** SHAPE))


def lives(count: int = 300, *, seed: int = 1, scatter: float = 1.0) -> tuple[LifeDraws, ...]:
    """Laws around the worked one: scale known to 5%, shape to 8%."""
    rng = np.random.default_rng(seed)
    shape = np.exp(math.log(SHAPE) + 0.08 * scatter * rng.standard_normal(count))
    log_scale = math.log(SCALE) + 0.05 * scatter * rng.standard_normal(count)
    log_median = log_scale + np.log(math.log(2)) / shape
    return (LifeDraws(LAWS["weibull"], log_median, shape, np.full(count, 1 / count)),)


def at(age: float) -> tuple[float, float, float]:
    """An age known for sure."""
    return age, age, age


@pytest.mark.parametrize(("place", "has", "extra", "age", "index", "pays_from"), WORKED)
def test_worked_table_of_places_and_mitigation(
    place: Place, has: Catch, extra: float, age: float, index: float, pays_from: float
) -> None:
    """Extra cost of a failure, optimal age, one-year index at 12 years, and where 15% off breaks even."""
    found = mean_extra_usd(outcomes(AT_1800, Household(place=place), has))
    failure = 1800 + found

    assert found == pytest.approx(extra, abs=0.6)
    assert float(optimal_age(survival, 1800, failure, rate=0.03).age[0]) == pytest.approx(age, abs=0.05)
    assert float(wait_index(12.0, survival, 1800, failure, rate=0.03)[0]) == pytest.approx(index, abs=0.6)
    pays = float(break_even_age(survival, 1800, failure, 0.85 * 1800, rate=0.03)[0])
    assert math.ceil(10 * pays) / 10 == pytest.approx(pays_from)


def test_more_of_the_worked_ages() -> None:
    """Closet with a drained pan alone, $2,729 and 10.6 years; with a shut-off, $1,332 and 14.6 years."""
    closet = Household(place=Place.CLOSET)
    for has, extra, age in ((Catch(pan=True, drain=True), 2729, 10.6), (Catch(shutoff=True), 1332, 14.6)):
        found = mean_extra_usd(outcomes(AT_1800, closet, has))
        assert found == pytest.approx(extra, abs=0.6)
        assert float(optimal_age(survival, 1800, 1800 + found, rate=0.03).age[0]) == pytest.approx(age, abs=0.05)


@pytest.mark.parametrize(
    ("extra", "gains"), [(483, (-689, -389, -162, 10)), (1004, (-514, -160, 93, 244)), (5058, (100, 270, 270, 270))]
)
def test_gain_of_fifteen_percent_off_by_keep_value(extra: float, gains: tuple[float, ...]) -> None:
    """Keep value less the price offered at 6, 9, 12 and 15 years; it can never exceed the discount itself."""
    for age, gain in zip((6.0, 9.0, 12.0, 15.0), gains, strict=True):
        kept = float(keep_value(age, survival, 1800, 1800 + extra, rate=0.03)[0])
        assert kept - 1530 == pytest.approx(gain, abs=1)


def test_the_one_year_index_misleads_when_a_price_is_offered_today_only() -> None:
    """Garage, 6 years, 15% off: the index says +$92, keeping is in truth $689 cheaper, and the decision says wait."""
    index = float(wait_index(6.0, survival, 1800, 2283, rate=0.03)[0]) + 0.15 * 1800
    found = decide(lives(), at(6), AT_1800, Household(place=Place.GARAGE), offer_usd=1530)

    assert index == pytest.approx(92, abs=1)
    assert found.rows[0].neutral.gain_usd.middle == pytest.approx(-689, abs=15)
    assert found.rows[0].neutral.verdict is Verdict.WAIT


def test_probability_that_replacing_is_cheaper_with_uncertain_laws() -> None:
    """With scale 5% and shape 8% uncertain: garage .00, basement .00, closet with pan and alarm .65, bare closet 1."""
    cases = [(Place.GARAGE, NO_CATCH, 0.0), (Place.BASEMENT, NO_CATCH, 0.0), (Place.CLOSET, NO_CATCH, 1.0)]
    cases.append((Place.CLOSET, PAN_DRAIN_ALARM, 0.65))
    for place, has, chance in cases:
        found = decide(lives(1000), at(12), AT_1800, Household(place=place, has=has)).rows[0].neutral
        # The worked .65 comes from 150 draws: its standard error is .04.
        assert found.chance_cheaper == pytest.approx(chance, abs=0.1 if chance == 0.65 else 0.01)
        expected = Verdict.REPLACE if chance >= 0.8 else Verdict.WAIT if chance <= 0.2 else Verdict.YOUR_CALL
        assert found.verdict is expected


@pytest.mark.parametrize(
    ("tolerance", "sure"),
    [(Tolerance.NEUTRAL, 450), (Tolerance.HIGH, 498), (Tolerance.MIDDLE, 681), (Tolerance.LOW, 1229)],
)
def test_certainty_equivalents_of_the_question(tolerance: Tolerance, sure: float) -> None:
    """One chance in ten of $4,500 at tolerance infinite, 20,000, 5,000, 2,000: rho log(.9 + .1 exp(4500 / rho))."""
    assert tolerance.would_pay_usd == pytest.approx(sure, abs=0.5)


def test_risk_is_shown_beside_the_average_and_never_mixed_into_it() -> None:
    """The neutral answer is the same whether or not a tolerance is told; the personal one is another."""
    home = Household(place=Place.BASEMENT)
    plain, told = (decide(lives(), at(12), AT_1800, home, tolerance=t) for t in (None, Tolerance.LOW))

    assert [c.neutral for c in plain.rows] == [c.neutral for c in told.rows]
    assert all(c.personal is None for c in plain.rows)
    first = told.rows[0]
    assert first.personal is not None
    assert first.personal.failure_usd > first.neutral.failure_usd
    assert first.personal.optimal_age.middle < first.neutral.optimal_age.middle
    neutral = decide(lives(), at(12), AT_1800, home, tolerance=Tolerance.NEUTRAL).rows[0]
    assert neutral.personal is not None
    assert neutral.personal.gain_usd.middle == pytest.approx(neutral.neutral.gain_usd.middle, abs=1e-6)


def test_every_amount_is_a_setting_with_source_unit_and_plausible_range() -> None:
    """No amount without a default, where it comes from, and low and high around it; the price has its list."""
    for field in fields(Amounts):
        if field.name == "planned_price_usd":
            continue
        info = Settings.model_fields[field.name]
        extra = info.json_schema_extra
        assert isinstance(extra, dict)
        assert extra["source"]
        assert extra["unit"]
        assert extra["low"] <= info.default <= extra["high"], field.name


def test_settings_of_the_community_reach_the_amounts() -> None:
    """A changed setting changes the amount; every kind has its own price; amounts out of bounds are told together."""
    changed = Settings(own_price_gas_usual_usd=999, leak_share=0.5)

    assert Amounts.from_settings(changed).planned_price_usd == 999
    assert Amounts.from_settings(changed, HeaterKind.HEAT_PUMP_STORAGE).planned_price_usd == 3170
    assert Amounts.from_settings(changed, HeaterKind.TANKLESS).planned_price_usd == 3000


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_heat_pumps_price_is_shown_with_its_own_source_and_range(language: str) -> None:
    """2,643 to 7,000 is a heat pump's range in the price list; a gas tank's usual price is 2,245."""
    tank, pump = (
        words.price_source(texts(language), PriceList(Settings()).at(kind))
        for kind in (HeaterKind.GAS_STORAGE, HeaterKind.HEAT_PUMP_STORAGE)
    )
    assert "2,643" in pump
    assert "7,000" in pump
    assert "2,643" not in tank
    assert "2,245" in tank
    with pytest.raises(ValueError, match=r"leak_share.*discount_rate"):
        DEFAULTS.changed({"leak_share": 1.5, "discount_rate": -1})


def test_insurance_caps_the_households_share_at_the_deductible() -> None:
    """Insured, a $9,000 damage costs the deductible; a damage below it costs itself; "not sure" counts as no."""
    closet, garage = Household(place=Place.CLOSET, insured=Tri.YES), Household(place=Place.GARAGE, insured=Tri.YES)

    assert mean_extra_usd(outcomes(DEFAULTS, closet, NO_CATCH)) == pytest.approx(400 + 0.69 * 0.75 * 1000)
    assert mean_extra_usd(outcomes(DEFAULTS, garage, NO_CATCH)) == pytest.approx(400 + 0.69 * 0.15 * 800)
    unsure, no = (replace(closet, insured=t) for t in (Tri.UNKNOWN, Tri.NO))
    assert outcomes(DEFAULTS, unsure, NO_CATCH) == outcomes(DEFAULTS, no, NO_CATCH)


def test_the_answer_with_insurance_is_told_to_who_is_not_sure_of_it() -> None:
    """A bare closet at 12 years: replace when uninsured, another verdict when the policy pays."""
    unsure = decide(lives(), at(12), AT_1800, Household(place=Place.CLOSET))
    insured = decide(lives(), at(12), AT_1800, Household(place=Place.CLOSET, insured=Tri.YES))

    assert unsure.rows[0].neutral.verdict is Verdict.REPLACE
    assert unsure.if_insured is insured.rows[0].neutral.verdict is Verdict.WAIT
    assert insured.if_insured is None


def test_an_empty_house_raises_the_damage_and_silences_the_alarm() -> None:
    """Empty all year: twice the damage by default, and an alarm alone lessens nothing; a shut-off still does."""
    home, away = Household(place=Place.CLOSET), Household(place=Place.CLOSET, days_empty=365)
    alarm = Catch(alarm=True)

    assert mean_extra_usd(outcomes(DEFAULTS, away, NO_CATCH)) == pytest.approx(400 + 0.69 * 0.75 * 18000)
    assert mean_extra_usd(outcomes(DEFAULTS, away, alarm)) == mean_extra_usd(outcomes(DEFAULTS, away, NO_CATCH))
    assert mean_extra_usd(outcomes(DEFAULTS, home, alarm)) < mean_extra_usd(outcomes(DEFAULTS, home, NO_CATCH))
    assert mean_extra_usd(outcomes(DEFAULTS, away, Catch(shutoff=True))) == pytest.approx(
        400 + 0.69 * 0.75 * 18000 * 0.2
    )


def test_an_unknown_place_counts_each_group_a_third() -> None:
    """The mean of the three groups, as the words say."""
    known = [mean_extra_usd(outcomes(DEFAULTS, Household(place=p), NO_CATCH)) for p in Place if p in _KNOWN]

    for place in (Place.UNKNOWN, Place.OTHER):
        found = outcomes(DEFAULTS, Household(place=place), NO_CATCH)
        assert mean_extra_usd(found) == pytest.approx(sum(known) / 3)
        assert sum(o.chance for o in found) == pytest.approx(1)


_KNOWN = (Place.GARAGE, Place.BASEMENT, Place.CLOSET)


def test_rows_are_what_the_household_lacks() -> None:
    """A bare home sees alarm and shut-off, never a pan; one with a shut-off only itself; a pan that is there counts."""
    bare = decide(lives(50), at(10), AT_1800, Household(place=Place.CLOSET))
    best = decide(lives(50), at(10), AT_1800, Household(place=Place.CLOSET, has=Catch(shutoff=True)))
    pan = decide(lives(50), at(10), AT_1800, Household(place=Place.CLOSET, has=Catch(pan=True, drain=True)))

    assert [(c.row, c.price_usd) for c in bare.rows] == [
        (Row.AS_IS, 0),
        (Row.ALARM, 25),
        (Row.ALARM_SHUTOFF, 425),
    ]
    assert [c.row for c in best.rows] == [Row.AS_IS]
    assert [(c.row, c.price_usd) for c in pan.rows] == [(c.row, c.price_usd) for c in bare.rows]
    assert pan.rows[0].neutral.failure_usd < bare.rows[0].neutral.failure_usd


def test_worth_of_an_addition_by_hand_for_a_constant_hazard() -> None:
    """Lives without aging: what is saved over ten years is hazard * damage avoided * annuity, less the price.

    Exponential life of mean 12 years, closet, alarm: a failure costs .69 * .75 * 9000 * .3 less; nothing is ever
    replaced early, so the saving per year from now on is the hazard times that.
    """
    flat = (LifeDraws(LAWS["weibull"], np.array([math.log(12 * math.log(2))]), np.array([1.0]), np.array([1.0])),)
    found = decide(flat, at(8), AT_1800, Household(place=Place.CLOSET)).rows[1]
    avoided = 0.69 * 0.75 * 9000 * (1 - 0.7)
    annuity = (1 - math.exp(-0.3)) / 0.03

    assert found.row is Row.ALARM
    assert found.neutral.worth_usd.middle == pytest.approx(avoided / 12 * annuity - 25, rel=2e-3)
    assert math.isinf(found.neutral.optimal_age.middle)


def test_without_an_age_a_tank_or_lives_there_is_a_clear_refusal() -> None:
    """No rows, and the reason; nothing is guessed."""
    home = Household(place=Place.CLOSET)

    assert decide(lives(), None, DEFAULTS, home).refused is Refusal.NO_AGE
    assert decide(None, at(9), DEFAULTS, home).refused is Refusal.NO_LIVES
    tankless = decide(lives(), at(9), DEFAULTS, replace(home, kind=HeaterKind.TANKLESS))
    assert tankless.refused is Refusal.NO_TANK
    assert tankless.rows == ()
    for reason in Refusal:
        assert texts("en").has(f"decision-refused-{reason}")


def test_unusable_questions_are_refused_with_a_sentence() -> None:
    """An offer of nothing, ages out of order, a tolerance of zero, a year of 400 empty days."""
    with pytest.raises(ValueError, match="above zero"):
        decide(lives(), at(9), DEFAULTS, Household(), offer_usd=0)
    with pytest.raises(ValueError, match="youngest first"):
        decide(lives(), (9, 8, 10), DEFAULTS, Household())
    with pytest.raises(ValueError, match="above zero"):
        certainty_equivalent([(1.0, 5.0)], 0)
    with pytest.raises(ValueError, match="between 0 and 365"):
        Household(days_empty=400)
    model = AgeReplacement.of(survival)
    policy = model.policy(1, 3)
    with pytest.raises(ValueError, match="not on the grid"):
        model.keep_value(3.21, 1, 3, policy)


def test_an_age_window_is_averaged_over_and_widens_the_range() -> None:
    """The answer over 6 to 18 years lies between those of its ends and is less sure than that of 12."""
    home = Household(place=Place.CLOSET, has=PAN_DRAIN_ALARM)
    gains = [decide(lives(), at(a), AT_1800, home).rows[0].neutral.gain_usd for a in (6.0, 12.0, 18.0)]
    window = decide(lives(), (6.0, 12.0, 18.0), AT_1800, home).rows[0].neutral.gain_usd

    assert gains[0].middle < window.middle < gains[2].middle
    assert window.high - window.low > gains[1].high - gains[1].low


def test_a_very_old_heater_is_replaced_and_breaks_nothing() -> None:
    """Ages at which a law leaves no survivors in double precision still give finite figures."""
    for age in (0.0, 45.0, 90.0):
        found = decide(lives(100), at(age), AT_1800, Household(place=Place.CLOSET)).rows[0].neutral
        assert math.isfinite(found.gain_usd.middle)
        assert found.verdict is (Verdict.WAIT if age == 0 else Verdict.REPLACE)


def test_thinning_keeps_the_weights_and_the_answer() -> None:
    """4,000 weighted draws of two laws thinned to 1,000 by systematic resampling: means and verdict stay."""
    rng = np.random.default_rng(5)
    weights = rng.gamma(0.5, size=4000)
    weights /= weights.sum()
    (many,) = lives(4000)
    both = (
        LifeDraws(LAWS["weibull"], many.log_median[:2500], many.shape[:2500], weights[:2500]),
        LifeDraws(LAWS["lognormal"], many.log_median[2500:], many.shape[2500:], weights[2500:]),
    )
    few = thin(both, 1000, seed=0)
    home = Household(place=Place.CLOSET, has=PAN_DRAIN_ALARM)

    assert sum(len(part.weights) for part in few) <= 1000
    assert sum(float(part.weights.sum()) for part in few) == pytest.approx(1)
    assert float(few[0].weights.sum()) == pytest.approx(float(weights[:2500].sum()), abs=1e-3)
    all_of_them, thinned = (decide(both, at(12), AT_1800, home, draws=n).rows[0].neutral for n in (4000, 1000))
    assert thinned.gain_usd.middle == pytest.approx(all_of_them.gain_usd.middle, abs=5)
    assert thinned.chance_cheaper == pytest.approx(all_of_them.chance_cheaper, abs=0.03)
    again = decide(both, at(12), AT_1800, home, draws=1000).rows[0].neutral
    assert again == thinned


_scales = st.floats(6, 30)
_shapes = st.floats(1.2, 6)
_costs = st.floats(100, 20000)


@settings(max_examples=60, deadline=None)
@given(_scales, _shapes, st.sampled_from(["weibull", "lognormal"]), _costs, _costs, st.floats(0, 0.1))
def test_a_dearer_failure_never_raises_the_optimal_age(
    median: float, shape: float, law: str, one: float, two: float, rate: float
) -> None:
    """The more a failure costs, the sooner one replaces; and no policy costs more than waiting for the failure."""

    def stays(ages: np.ndarray) -> np.ndarray:
        return LAWS[law].survival(ages, median, shape)

    low, high = sorted((one, two))
    model = AgeReplacement.of(stays, rate=rate)
    cheap, dear = model.policy(1500, 1500 + low), model.policy(1500, 1500 + high)

    assert float(dear.age[0]) <= float(cheap.age[0]) + 1e-4
    assert float(dear.index[0]) <= (1500 + high) / float(model.area[0, -1]) * (1 + 1e-9)


_tri = st.sampled_from(list(Tri))
_catch = st.builds(Catch, st.booleans(), st.booleans(), st.booleans(), st.booleans())
_household = st.builds(
    Household, place=st.sampled_from(list(Place)), insured=_tri, days_empty=st.integers(0, 365).map(float)
)


@st.composite
def _amounts(draw: st.DrawFn) -> Amounts:
    shares = [f.name for f in fields(Amounts) if f.name.startswith(("factor_", "damage_chance_"))]
    values = {name: draw(st.floats(0, 1)) for name in [*shares, "leak_share"]}
    return AT_1800.changed(values | {"away_damage_factor": draw(st.floats(1, 10))})


@settings(max_examples=200, deadline=None)
@given(_amounts(), _household, _catch, _catch, st.sampled_from(list(Tolerance)))
def test_mitigation_never_raises_what_a_failure_costs(
    amounts: Amounts, household: Household, has: Catch, more: Catch, tolerance: Tolerance
) -> None:
    """Whatever is typed, adding a pan, drain, alarm or shut-off never costs more; risk never weighs below average."""
    now, then = outcomes(amounts, household, has), outcomes(amounts, household, has.with_more(more))

    assert sum(o.chance for o in now) == pytest.approx(1)
    assert mean_extra_usd(then) <= mean_extra_usd(now) + 1e-9
    assert felt_extra_usd(then, tolerance) <= felt_extra_usd(now, tolerance) + 1e-6
    assert felt_extra_usd(now, tolerance) >= mean_extra_usd(now) - 1e-6


@settings(max_examples=40, deadline=None)
@given(st.floats(0, 30), st.floats(200, 4000), st.floats(200, 4000), _costs)
def test_a_lower_offer_never_makes_waiting_better(age: float, one: float, two: float, extra: float) -> None:
    """The gain of taking an offer falls dollar for dollar with its price up to one's own; it never gets likelier."""
    low, high = sorted((one, two))
    amounts = AT_1800.changed({"damage_usd_inside": extra})
    answers = [
        decide(lives(60), at(age), amounts, Household(place=Place.ATTIC), offer_usd=o).rows[0].neutral
        for o in (low, high)
    ]

    apart = min(high, 1800) - min(low, 1800)
    assert answers[0].gain_usd.middle - answers[1].gain_usd.middle == pytest.approx(apart, abs=1e-6)
    assert answers[0].chance_cheaper >= answers[1].chance_cheaper - 1e-12
    for offer, answer in zip((low, high), answers, strict=True):
        assert (answer.pays_from_age is None) == (offer >= 1800)
    if answers[0].pays_from_age is not None and answers[1].pays_from_age is not None:
        assert answers[0].pays_from_age <= answers[1].pays_from_age + 1e-9


@settings(max_examples=40, deadline=None)
@given(_shapes, st.floats(0, 40), _costs)
def test_index_and_keep_value_agree_where_the_hazard_rises(shape: float, age: float, extra: float) -> None:
    """One-step look-ahead: the index is above zero exactly where no longer wait is cheaper than replacing now."""
    laws = (LifeDraws(LAWS["weibull"], np.array([math.log(12.0)]), np.array([shape]), np.array([1.0])),)
    amounts = AT_1800.changed({"damage_usd_inside": extra})
    found = decide(laws, at(age), amounts, Household(place=Place.CLOSET)).rows[0].neutral
    if abs(found.gain_usd.middle) > 0.5:
        assert (found.chance_cheaper > 0.5) == (found.gain_usd.middle > 0)


def _heater(**known: object) -> Heater:
    return Heater(heater_id="h", home_id="1", sequence=1, kind=HeaterKind.GAS_STORAGE, **known)  # type: ignore[arg-type]


def test_the_household_comes_from_the_record() -> None:
    """Place, pan, alarm and shut-off as answered; a pan counts as drained only where the household says so."""
    home = Home(home_id="1", parcel_id="p", address="1 TEST LN", street="TEST LN", phase_id="a", built_year=2004)
    heater = _heater(place=Place.ATTIC, pan=Tri.YES, leak_alarm=Tri.YES, auto_shutoff=Tri.UNKNOWN)
    found = standing(home, [heater], [], answered=True, settings=Settings(), as_of=date(2026, 5, 2))

    assert household_of(found).has == Catch(pan=True, alarm=True)
    assert household_of(found, drained=Tri.YES).has == Catch(pan=True, drain=True, alarm=True)
    assert household_of(found).groups == (DamageGroup.INSIDE,)
    empty = standing(home, [], [], answered=False, settings=Settings(), as_of=date(2026, 5, 2))
    assert household_of(empty) == Household()


def _cases() -> list[Decision]:
    found = []
    for place in (Place.GARAGE, Place.CLOSET, Place.UNKNOWN):
        for tolerance in (None, Tolerance.NEUTRAL, Tolerance.LOW):
            for offer in (None, 1200.0):
                home = Household(place=place, days_empty=20)
                found.append(decide(lives(40), (8, 11, 13), AT_1800, home, tolerance=tolerance, offer_usd=offer))
    return [*found, decide(lives(40), None, AT_1800, Household())]


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_decision_can_be_said(language: str) -> None:
    """Whatever the answer, its words exist in both languages; the average and one's own stand side by side."""
    say = texts(language)
    for found in _cases():
        summary = words.summary_lines(say, found)
        assert summary
        if found.refused is not None:
            continue
        personal = words.personal_lines(say, found)
        assert say("decision-neutral-head") in words.neutral_lines(say, found)[0]
        assert say("decision-personal-head") in personal[0]
        rows = words.mitigation_rows(say, found)
        assert len(rows) == 2 + len(found.rows)
        assert len({row.count("|") for row in rows}) == 1
        assert all(
            f"decision-row-{c.row}" and say(f"decision-row-{c.row}") in r
            for c, r in zip(found.rows, rows[2:], strict=True)
        )
        assert len(words.detail_lines(say, found)) == 1 + len(found.rows)
        assert any(say.lines("decision-not-modeled")[0] in line for line in words.rests_on_lines(say, found))
    assert set(words.risk_labels(say)) == {*map(str, Tolerance), ""}
    assert "$4,500" in words.risk_question(say)


def test_the_verdict_of_a_wait_is_told_by_how_often_waiting_is_cheaper() -> None:
    """Never "in 0 of 100 cases waiting is cheaper" where it is cheaper in all."""
    found = decide(lives(), at(6), AT_1800, Household(place=Place.GARAGE))

    assert "wait.** In more than 99 of 100" in words.summary_lines(texts("en"), found)[0]


def test_no_best_age_is_named_beyond_what_tanks_reach() -> None:
    """A cheap failure has its optimum beyond 30 years: the words say that waiting is not beaten, and name no age."""
    cheap = AT_1800.changed({"emergency_premium_usd": 300.0, "damage_usd_garage": 50.0})
    found = decide(lives(), at(6), cheap, Household(place=Place.GARAGE))

    assert 30 < found.rows[0].neutral.optimal_age.middle < math.inf
    assert texts("en")("decision-age-far", age="30") in words.neutral_lines(texts("en"), found)


@pytest.mark.parametrize("place", list(Place))
def test_every_amount_in_use_has_a_name_a_source_and_limits(place: Place) -> None:
    """What is asked can be typed and comes back as it went; shares and rates are asked of a hundred."""
    home = Household(place=place, has=Catch(pan=True), insured=Tri.YES, days_empty=9)
    names = amounts_in_use(home)
    for language in ("en", "es"):
        for name in names:
            assert words.amount_label(texts(language), name)
            assert words.amount_source(texts(language), name)
    typed = {name: words.as_typed(DEFAULTS, name) for name in names}
    for name, value in typed.items():
        least, most = words.amount_limits(name)
        assert least <= value <= most
    back = words.from_typed(DEFAULTS, typed)
    assert all(getattr(back, n) == pytest.approx(getattr(DEFAULTS, n)) for n in names)
    assert words.from_typed(DEFAULTS, {"leak_share": 50.0}).leak_share == 0.5
    assert words.from_typed(DEFAULTS, {"leak_share": None}) == DEFAULTS
