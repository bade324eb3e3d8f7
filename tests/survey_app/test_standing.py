"""What the tool says about one home: age, class, what is due, what it rests on."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.records import (
    Dated,
    DateEvidence,
    Heater,
    HeaterKind,
    Home,
    ServiceKind,
    ServiceRecord,
    Symptom,
    Tri,
    WarrantyClass,
)
from survey_app.settings import Settings
from survey_app.standing import CareState, Standing, add_years, class_counts, standing, standings

TODAY = date(2026, 5, 2)
HOME = Home(home_id="R-1", parcel_id="R-1", address="1 FERN ST", street="FERN ST", phase_id="P1", built_year=2004)


def judged(
    heater: Heater | None, *acts: ServiceRecord, home: Home = HOME, settings: Settings | None = None
) -> Standing:
    """The standing of a home with one heater."""
    return standing(
        home,
        [heater] if heater else [],
        acts,
        answered=heater is not None,
        settings=settings or Settings(),
        as_of=TODAY,
    )


def installed(day: date, months: int = 0, **more: object) -> Heater:
    """A heater installed on a day, give or take."""
    window = Dated(
        earliest=add_years(day, -months / 12), latest=add_years(day, months / 12), evidence=DateEvidence.MEMORY
    )
    return Heater(heater_id="R-1/1", home_id="R-1", sequence=1, installed=window, **more)  # type: ignore[arg-type]


def act(kind: ServiceKind, day: date) -> ServiceRecord:
    """A dated act on the heater."""
    return ServiceRecord(record_id=f"{kind}-{day}", heater_id="R-1/1", kind=kind, done=Dated.on(day))


@pytest.mark.parametrize(
    ("day", "warranty", "cls"),
    [
        (date(2021, 5, 2), 6.0, WarrantyClass.IN_WARRANTY),
        (date(2020, 5, 1), 6.0, WarrantyClass.PAST_WARRANTY),
        (date(2014, 5, 3), 6.0, WarrantyClass.PAST_WARRANTY),
        (date(2014, 5, 1), 6.0, WarrantyClass.PAST_TWICE),
        (date(2014, 5, 1), 9.0, WarrantyClass.PAST_WARRANTY),
        (date(2014, 5, 1), 12.0, WarrantyClass.PAST_WARRANTY),
        (date(2014, 6, 1), 12.0, WarrantyClass.IN_WARRANTY),
    ],
)
def test_the_class_changes_at_one_and_two_warranty_terms(day: date, warranty: float, cls: WarrantyClass) -> None:
    """In warranty below 1, past from 1, past twice from 2 terms (common practice, no source)."""
    assert cls is judged(installed(day, warranty_years=warranty)).warranty_class


def test_an_unknown_term_is_assumed_and_said_so() -> None:
    """Nobody knows the term: the setting's is used, and the sentence says that it is assumed."""
    found = judged(installed(date(2014, 1, 1)))

    assert WarrantyClass.PAST_TWICE is found.warranty_class
    assert found.warranty_assumed
    assert "6 years is assumed" in found.rests_on
    assert (
        WarrantyClass.IN_WARRANTY
        is judged(installed(date(2014, 1, 1)), settings=Settings(default_warranty_years=13)).warranty_class
    )


@pytest.mark.parametrize(
    ("day", "months", "warranty", "settled", "headline"),
    [
        (date(2009, 5, 2), 1, 6.0, True, "This heater is past twice its warranty."),
        (
            date(2009, 5, 2),
            1,
            None,
            False,
            "This heater is probably past twice its warranty: sure if the term was 6 years.",
        ),
        (date(2001, 5, 2), 1, None, True, "This heater is past twice its warranty."),
        (date(2024, 5, 2), 1, None, True, "This heater is in warranty."),
        (
            date(2018, 5, 2),
            1,
            None,
            False,
            "This heater is probably past its warranty: sure if the term was 6 years.",
        ),
        (
            date(2020, 8, 2),
            12,
            6.0,
            False,
            "This heater is probably in warranty: the date is not known well enough to be sure.",
        ),
        (
            date(2013, 5, 2),
            24,
            None,
            False,
            "This heater is probably past twice its warranty: sure only if the term was 6 years and the date is right.",
        ),
    ],
)
def test_the_headline_is_as_sure_as_what_it_rests_on(
    day: date, months: int, warranty: float | None, settled: bool, headline: str
) -> None:
    """An assumed term counts as doubt where 12 years, as usual on better units, would give another class."""
    found = judged(installed(day, months=months, warranty_years=warranty))

    assert found.class_settled is settled
    assert found.headline == headline


def test_an_end_of_warranty_without_a_term_settles_whether_it_ran_out_and_not_how_often() -> None:
    """Only the day is known: long past, whether it is past twice hangs on the assumed term."""
    ended = Heater(heater_id="R-1/1", home_id="R-1", sequence=1, warranty_end=date(2018, 5, 2))
    lately = Heater(heater_id="R-1/1", home_id="R-1", sequence=1, warranty_end=date(2026, 1, 2))

    assert judged(ended).headline == "This heater is probably past twice its warranty: sure if the term was 6 years."
    assert judged(lately).headline == "This heater is past its warranty."


def test_a_rough_date_over_an_edge_leaves_the_class_unsettled() -> None:
    """12 years give or take two, with a six-year term: the class is said with a doubt."""
    rough = judged(installed(date(2014, 5, 1), months=24, warranty_years=6.0))
    sharp = judged(installed(date(2010, 5, 1), months=2, warranty_years=6.0))

    assert not rough.class_settled
    assert rough.age_years == pytest.approx((10.0, 12.0, 14.0), abs=0.02)
    assert sharp.class_settled


def test_a_known_end_of_warranty_gives_the_term() -> None:
    """Installed and end known: the term is the time between them."""
    found = judged(installed(date(2016, 5, 2), warranty_end=date(2025, 5, 2)))

    assert found.warranty_years == pytest.approx(9.0, abs=0.01)
    assert not found.warranty_assumed
    assert WarrantyClass.PAST_WARRANTY is found.warranty_class


def test_no_date_at_all_is_unknown_and_says_what_would_settle_it() -> None:
    """Unknown is a class of its own, and the sentence helps."""
    found = judged(Heater(heater_id="R-1/1", home_id="R-1", sequence=1))

    assert WarrantyClass.UNKNOWN is found.warranty_class
    assert "data plate" in found.rests_on
    assert found.map_class == "unknown"


def test_a_home_without_an_answer_is_shown_as_such() -> None:
    """Silence is not a class of heaters."""
    found = judged(None)

    assert found.map_class == "no answer"
    assert found.cares == ()


@pytest.mark.parametrize(
    ("age", "softener", "state"),
    [
        (2.0, Tri.NO, CareState.FINE),
        (4.5, Tri.NO, CareState.CLOSING),
        (3.5, Tri.YES, CareState.CLOSING),
        (3.5, Tri.NO, CareState.FINE),
        (7.0, Tri.NO, CareState.LATE),
    ],
)
def test_the_first_anode_change_has_a_window_that_closes(age: float, softener: Tri, state: CareState) -> None:
    """First change within 4 to 5 years, sooner with softened water, later it seizes (common practice, no source)."""
    from dataclasses import replace

    found = judged(installed(add_years(TODAY, -age)), home=replace(HOME, softener=softener))
    anode = next(c for c in found.cares if c.what == "anode")

    assert state is anode.state
    if state is not CareState.FINE:
        assert "licensed contractor" in anode.sentence


def test_a_tank_never_flushed_in_eight_years_is_for_a_contractor_to_decide() -> None:
    """Disturbing old sediment can start a leak (common practice, no source; facts: IBHS advice says the same)."""
    old = judged(installed(add_years(TODAY, -9), never_done=(ServiceKind.FLUSH,)))
    young = judged(installed(add_years(TODAY, -3), never_done=(ServiceKind.FLUSH,)))

    assert CareState.ASK is next(c for c in old.cares if c.what == "flush").state
    assert CareState.DUE is next(c for c in young.cares if c.what == "flush").state


def test_a_flush_is_due_a_year_after_the_last() -> None:
    """Only the latest act counts, whatever the order they are given in."""
    heater = installed(date(2018, 1, 1))
    old, new = act(ServiceKind.FLUSH, date(2020, 1, 1)), act(ServiceKind.FLUSH, date(2026, 1, 1))

    assert CareState.FINE is judged(heater, new, old).cares[0].state
    assert CareState.DUE is judged(heater, old).cares[0].state
    assert date(2026, 1, 1) == judged(heater, new, old).last_maintenance.best  # type: ignore[union-attr]


def test_an_old_relief_valve_is_for_a_contractor_though_its_lever_was_lifted_this_year() -> None:
    """More than three years in service: taken out and looked at (National Board BULLETIN, Summer 1993)."""
    test = act(ServiceKind.RELIEF_VALVE_TEST, date(2026, 2, 1))
    old = next(c for c in judged(installed(date(2012, 5, 2)), test).cares if c.what == "relief valve")
    young = next(c for c in judged(installed(date(2024, 5, 2)), test).cares if c.what == "relief valve")

    assert old.state is CareState.ASK
    assert "about 14 years" in old.sentence
    assert "licensed contractor" in old.sentence
    assert young.state is CareState.FINE


def test_a_tankless_unit_has_no_flush_day_and_no_anode() -> None:
    """Nothing about tanks is said to a home without one."""
    found = judged(installed(date(2018, 1, 1), kind=HeaterKind.TANKLESS))

    assert [c.state for c in found.cares] == [CareState.NONE]


def test_what_comes_first_is_carried_along() -> None:
    """A smell of gas in the latest answer is on the standing, a rumble is not."""
    found = judged(installed(date(2018, 1, 1), symptoms=(Symptom.RUMBLE, Symptom.GAS_SMELL)))

    assert found.comes_first == (Symptom.GAS_SMELL,)


def test_only_the_heater_in_service_counts() -> None:
    """A heater that was removed says nothing of today."""
    from dataclasses import replace

    gone = replace(installed(date(2004, 1, 1)), removed=Dated.on(date(2020, 1, 1)))
    now = replace(installed(date(2020, 1, 1)), heater_id="R-1/2", sequence=2)
    found = standings([HOME], [now, gone], [], answered=frozenset({"R-1"}), settings=Settings(), as_of=TODAY)[0]

    assert found.heater == now
    assert {k: n for k, n in class_counts([found]).items() if n} == {"past warranty": 1}


@given(
    days=st.integers(0, 20_000),
    months=st.integers(0, 60),
    term=st.floats(1, 15),
)
def test_older_is_never_better(days: int, months: int, term: float) -> None:
    """One more year never improves the class, and the age's range holds its best value."""
    order = list(WarrantyClass)
    day = add_years(TODAY, -days / 365.25)
    younger, older = (judged(installed(d, months=months, warranty_years=term)) for d in (day, add_years(day, -1.0)))

    assert order.index(younger.warranty_class) <= order.index(older.warranty_class)
    low, best, high = older.age_years  # type: ignore[misc]
    assert 0 <= low <= best <= high
