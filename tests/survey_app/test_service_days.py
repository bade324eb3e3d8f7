"""Service days: who is for one, what serving is worth, the plan, its changes, its papers, and closing a day."""

from __future__ import annotations

import shutil
from collections import Counter
from dataclasses import replace
from datetime import date, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from survey_app.access import Actor, NotAllowed, Role
from survey_app.lifetime import LAWS, LifeDraws, thinned
from survey_app.records import AnswerChannel, Interest, Place, ServiceKind, Symptom
from survey_app.reports.service_papers import (
    call_rows,
    day_rows,
    day_sheets_pdf,
    notices_pdf,
    too_few_pdf,
    visit_calendar,
)
from survey_app.service_days import (
    ANODE,
    FLUSH,
    FLUSH_AND_ANODE,
    ActEffect,
    Asked,
    CannotPlan,
    Closing,
    Fitness,
    Job,
    Outcome,
    ServicePlan,
    clock,
    job_minutes,
    read_closings,
    read_price_steps,
    worth_of_serving,
)
from survey_app.settings import Settings
from survey_app.survey import Survey, open_store
from survey_app.survey.service_rounds import ServiceRounds
from survey_app.texts import texts

NOW = datetime(2026, 5, 2, 9, 30)
DAYS = tuple(date(2026, 5, 11) + timedelta(days=i) for i in range(5))
SAY = texts("en")


def front(place: Path, role: Role = Role.VOLUNTEER, *, now: datetime = NOW) -> Survey:
    """The survey as a volunteer or a committee member."""
    return Survey(open_store(place), Actor(name=str(role), role=role), now=now)


def asked(job: Job = FLUSH_AND_ANODE, **more: object) -> Asked:
    """Five weekdays of one crew, quick to plan."""
    return Asked(**{"job": job, "dates": DAYS, "crews": 1, "min_homes": 2, "iterations": 150, **more})  # type: ignore[arg-type]


@pytest.fixture
def rounds(data: Path) -> ServiceRounds:
    """Service days of the small synthetic community."""
    return front(data).service_rounds()


@pytest.fixture(scope="module")
def planned(demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> ServicePlan:
    """A plan that has homes on days and homes that wait, worked out once."""
    place = tmp_path_factory.mktemp("planned") / "data"
    shutil.copytree(demo_data, place)
    made = front(place).service_rounds().plan(asked())
    assert len(made.visits) >= 4
    return made


@pytest.fixture
def plan(rounds: ServiceRounds, planned: ServicePlan) -> ServicePlan:
    """That plan, on file in this test's own community, which is the one it was made for."""
    return rounds._keep(planned, "plan service days")


def lives(median: float = 13.0, shape: float = 2.6) -> list[LifeDraws]:
    """One law, known exactly."""
    one = np.ones(1)
    return [LifeDraws(LAWS["weibull"], one * np.log(median), one * shape, one)]


def test_the_residents_door_plans_nothing(data: Path) -> None:
    """Neither a visitor nor a home with its code reaches service days."""
    for who in (Actor(name="v", role=Role.RESIDENT), Actor(name="h", role=Role.RESIDENT, home_id="x")):
        with pytest.raises(NotAllowed):
            Survey(open_store(data), who, now=NOW).service_rounds()


def test_the_committee_sees_only_homes_that_asked_to_take_part(data: Path) -> None:
    """A neighbor on the committee learns nothing of a home that did not say yes or maybe."""
    mine = front(data, Role.COMMITTEE).service_rounds()
    shown = mine.candidates(FLUSH)

    assert shown
    assert {c.interest for c in shown} <= {Interest.YES, Interest.MAYBE}
    assert len(front(data).service_rounds().candidates(FLUSH)) > len(shown)
    made = mine.plan(asked(FLUSH))
    keen = {c.home_id for c in shown}
    assert {v.home_id for v in made.visits} | {w.home_id for w in made.waiting} <= keen
    assert set(mine.papers(made).homes) <= keen


def test_no_home_with_something_wrong_is_planned(data: Path) -> None:
    """A leak, an opened relief valve or rusty water is for a contractor now, whatever is due."""
    for c in front(data).service_rounds().candidates(FLUSH_AND_ANODE):
        heater = front(data).one_home(c.home_id).standing().heater
        assert heater is not None
        if {Symptom.LEAK, Symptom.RELIEF_OPENED, Symptom.GAS_SMELL, Symptom.RUSTY_WATER} & set(heater.symptoms):
            assert c.fitness is Fitness.NO
            assert "not for a service day" in c.reasons[0]


def test_a_tank_long_unflushed_waits_for_the_contractor_and_its_people_are_told(rounds: ServiceRounds) -> None:
    """Never flushed in eight years: the contractor decides, with the caution on its papers; then it is planned."""
    first = next(
        c
        for c in rounds.candidates(FLUSH)
        if c.fitness is Fitness.ASK and c.interest is Interest.YES and c.age_years and c.age_years >= 8
    )
    assert any("contractor decides" in r for r in first.reasons)
    assert any("may start to leak" in r for r in first.cautions)
    made = rounds.plan(asked(FLUSH))
    assert first.home_id in {w.home_id for w in made.waiting}
    again = rounds.plan(asked(FLUSH, contractor_agreed=(first.home_id,), pinned={first.home_id: DAYS[0]}, min_homes=1))
    assert first.home_id in {v.home_id for v in again.visits}


def test_a_window_that_closes_is_worth_more_than_one_that_stays() -> None:
    """Waiting a year loses more where the anode may not come out any more; no effect is worth nothing."""
    effect = ActEffect(mean=0.075, sd=0.10)
    money = {"usd_per_year": 100.0, "failure_extra_usd": 1000.0, "discount": 0.03}
    stays = worth_of_serving(lives(), 4.5, effect, still_possible=1.0, **money)
    closes = worth_of_serving(lives(), 4.5, effect, still_possible=0.5, **money)

    assert closes[1] > stays[1] > 0
    assert closes[0] < 0 < closes[2], "the effect is not proven, and the interval says so"
    assert worth_of_serving(lives(), 4.5, ActEffect(mean=0, sd=0), still_possible=0.5, **money) == (0, 0, 0)


@settings(deadline=None, max_examples=30)
@given(age=st.floats(0, 25), extra=st.floats(0, 20_000), mean=st.floats(0.001, 0.2))
def test_a_dearer_failure_never_makes_serving_worth_less(age: float, extra: float, mean: float) -> None:
    """Worth grows with what a failure costs where the act cannot be done later."""
    effect = ActEffect(mean=mean, sd=0.0)
    less, more = (
        worth_of_serving(
            lives(), age, effect, still_possible=0.0, usd_per_year=100, failure_extra_usd=usd, discount=0.03
        )[1]
        for usd in (extra, extra + 500)
    )
    assert more >= less - 1e-9


def test_thinned_draws_keep_the_weight_and_the_middle() -> None:
    """Fewer draws of equal weight say the same on average, every time alike."""
    rng = np.random.default_rng(5)
    many = LifeDraws(LAWS["weibull"], rng.normal(2.5, 0.1, 1000), np.full(1000, 2.6), rng.random(1000) / 500)
    few = thinned(many)

    assert len(few.weights) == 64
    assert few.weights.sum() == pytest.approx(many.weights.sum())
    share = many.weights / many.weights.sum()
    assert few.log_median.mean() == pytest.approx(float(share @ many.log_median), abs=0.02)
    assert np.array_equal(thinned(many).log_median, few.log_median)


def test_time_on_site_grows_with_the_tank_and_the_way_to_it() -> None:
    """A large tank drains longer; an attic is hard to reach; an anode's time does not hang on the size."""
    usual = Settings()
    assert job_minutes(FLUSH, 50, Place.GARAGE, usual) == 75
    assert job_minutes(FLUSH, 80, Place.GARAGE, usual) > 75
    assert job_minutes(FLUSH, None, Place.ATTIC, usual) == 90
    assert job_minutes(ANODE, 80, Place.GARAGE, usual) == job_minutes(ANODE, 40, Place.GARAGE, usual) == 60


def test_every_visit_keeps_hours_days_and_wishes(rounds: ServiceRounds, plan: ServicePlan) -> None:
    """Weekday and half-day as answered, within the crew's hours, one home at a time, each once."""
    homes = {c.home_id: c for c in rounds.candidates(FLUSH_AND_ANODE)}
    names = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")

    assert len({v.home_id for v in plan.visits}) == len(plan.visits)
    for v in plan.visits:
        home = homes[v.home_id]
        assert not home.weekdays or names[v.on.weekday()] in home.weekdays
        assert plan.asked.start_s <= v.arrive_s < v.leave_s <= plan.asked.end_s
        assert v.leave_s - v.arrive_s == home.minutes * 60
        assert home.interest in (Interest.YES, Interest.MAYBE)
    for day in plan.days:
        ours = plan.on(day)
        assert len(ours) >= plan.asked.min_homes
        assert all(a.leave_s <= b.arrive_s for a, b in pairwise(ours) if a.crew == b.crew)


def test_a_plan_survives_the_store_and_is_the_same_for_the_same_seed(rounds: ServiceRounds, plan: ServicePlan) -> None:
    """What is read back is what was made; planning again gives the same days and order."""
    assert rounds.get(plan.plan_id) == plan
    again = rounds.plan(asked())
    assert again.visits == plan.visits
    assert len(rounds.plans()) == 2


def test_confirmed_homes_stay_when_a_crew_is_ill(rounds: ServiceRounds, plan: ServicePlan) -> None:
    """A day lost moves its homes only; homes confirmed for other days stay, and each move has its reason."""
    lost, kept = plan.days[0], [v for v in plan.visits if v.on != plan.days[0]][:2]
    firm = rounds.confirm(plan.plan_id, [v.home_id for v in kept])
    after = rounds.change(plan.plan_id, replace(firm.asked, off={lost: 1}))
    now = {v.home_id: v.on for v in after.visits}

    assert lost not in after.days
    for v in kept:
        assert now[v.home_id] == v.on
    assert after.moved
    assert all(m.why for m in after.moved)
    assert any("costs $" in s for s in after.sentences)


def test_a_home_that_cancels_is_gone_and_its_place_may_be_filled(rounds: ServiceRounds, plan: ServicePlan) -> None:
    """The home is on no list of the plan any more; nobody is doubled."""
    gone = plan.visits[0].home_id
    after = rounds.change(plan.plan_id, replace(plan.asked, cancelled=(gone,)))

    assert gone not in {v.home_id for v in after.visits} | {w.home_id for w in after.waiting}
    assert max(Counter(v.home_id for v in after.visits).values()) == 1
    assert any(m.home_id == gone and "cancelled" in m.why for m in after.moved)


def test_a_home_set_to_a_day_is_there_and_one_kept_from_it_is_not(rounds: ServiceRounds, plan: ServicePlan) -> None:
    """What the volunteer sets by hand holds."""
    some = plan.visits[0]
    other = next(d for d in DAYS if d != some.on)
    pinned = rounds.change(plan.plan_id, replace(plan.asked, pinned={some.home_id: other}))
    day_of = {v.home_id: v.on for v in pinned.visits}
    assert day_of.get(some.home_id) == other
    kept = rounds.plan(asked(forbidden={some.home_id: (some.on,)}))
    assert {v.home_id: v.on for v in kept.visits}.get(some.home_id) != some.on


def test_another_order_is_driven_as_asked_or_refused_with_its_reason(rounds: ServiceRounds, plan: ServicePlan) -> None:
    """The order set by hand is kept where it fits the hours; one with a home too few is refused."""
    day = max(plan.days, key=lambda d: len(plan.on(d)))
    mine = [v.home_id for v in plan.on(day)]
    with pytest.raises(CannotPlan, match="same homes"):
        rounds.reorder(plan.plan_id, day, 1, mine[1:])
    try:
        after = rounds.reorder(plan.plan_id, day, plan.on(day)[0].crew, mine[::-1])
        assert [v.home_id for v in after.on(day)] == mine[::-1]
    except CannotPlan as why:
        assert "cannot be done within its hours" in str(why)  # noqa: PT017


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"crews": 0}, "no crew"),
        ({"dates": ()}, "at least one date"),
        ({"start_s": 8 * 3600, "end_s": 8 * 3600 + 1200}, "shorter than the shortest job"),
    ],
)
def test_what_cannot_be_planned_is_said(rounds: ServiceRounds, wrong: dict[str, object], sentence: str) -> None:
    """No crews, no days, hours shorter than one job: a sentence each, and nothing is stored."""
    with pytest.raises(CannotPlan, match=sentence):
        rounds.plan(asked(**wrong))
    assert rounds.plans() == []


def test_nobody_interested_is_a_sentence(data: Path) -> None:
    """A community in which nobody said yes gets told what to do."""
    survey = front(data)
    rounds = survey.service_rounds()
    keen = [c.home_id for c in rounds.candidates(ANODE) if c.interest in (Interest.YES, Interest.MAYBE)]
    with pytest.raises(CannotPlan, match="Ask more homes"):
        rounds.plan(asked(ANODE, cancelled=tuple(keen)))


def test_without_a_street_file_streets_are_inferred_and_it_is_said(data: Path) -> None:
    """The plan stands on the parcels' fronts then, and says so."""
    survey = front(data)
    survey.set_up().load_streets([])
    made = survey.service_rounds().plan(asked())

    assert made.network == "inferred streets"
    assert any("inferred" in s for s in made.sentences)


def test_a_day_with_too_few_homes_is_not_opened_and_says_what_would_fill_it(rounds: ServiceRounds) -> None:
    """Below the minimum nobody comes; the letter names streets and no home."""
    made = rounds.plan(asked(ANODE, min_homes=9))
    papers = rounds.papers(made)

    assert all(len(made.on(d)) >= 9 for d in made.days)
    assert made.too_few
    assert all(t.missing > 0 for t in made.too_few)
    assert too_few_pdf(papers, made.too_few[0], SAY).startswith(b"%PDF")


def test_the_papers_hold_every_visit_and_the_cautions(rounds: ServiceRounds, plan: ServicePlan) -> None:
    """Rows, day sheets, notices, calls and calendars are about the same visits."""
    papers = rounds.papers(plan)
    rows = day_rows(papers, SAY)

    assert len(rows) == len(plan.visits)
    assert all("licensed" not in r["address"] and r["know before"] for r in rows)
    assert day_sheets_pdf(papers, SAY).startswith(b"%PDF")
    assert notices_pdf(papers, SAY).startswith(b"%PDF")
    calls = call_rows(papers)
    assert {r["address"] for r in calls} >= {r["address"] for r in rows}
    days = [datetime.strptime(r["day"].partition(",")[0] + " 2026", "%a %d %b %Y") for r in calls if r["day"]]
    assert days == sorted(days), "the first day to call for comes first, not the first by its name"
    assert not any(r["day"] for r in calls[len(days) :])
    one = plan.visits[0].home_id
    events = Calendar.from_ical(visit_calendar(papers, [one], SAY, now=NOW)).walk("VEVENT")
    assert len(events) == 1
    assert events[0].decoded("dtstart").date() == plan.visits[0].on
    assert "licensed contractor" in str(events[0]["description"])
    assert clock(8 * 3600 + 300) == "8:05 am"


def test_a_map_of_days_shows_each_visit_and_asks_no_network(rounds: ServiceRounds, plan: ServicePlan) -> None:
    """One self-contained page; a number stands for each day beside its color."""
    page = rounds.map_of_days(plan)

    assert "connect-src 'none'" in page or "default-src 'none'" in page
    assert "http://" not in page.replace("http://www.w3.org", "")
    assert all(f"{day:%a %d %b %Y}" in page for day in plan.days)


def test_closing_a_visit_writes_the_record_and_moves_the_standing(data: Path, plan: ServicePlan) -> None:
    """Done: the flush is on file with its findings and not due any more; a leak found comes to the standing."""
    visit = plan.visits[0]
    later = front(data, now=datetime.combine(visit.on, datetime.min.time()) + timedelta(hours=18))
    closing = Closing(home_id=visit.home_id, outcome=Outcome.DONE, findings=("white grit", "anode spent", "leak found"))
    assert later.service_rounds().close(plan.plan_id, [closing]) == 1
    record = later.one_home(visit.home_id).record()
    acts = {s.kind: s for s in record.services if s.done.earliest == visit.on}

    assert {ServiceKind.FLUSH, ServiceKind.ANODE_CHECK} <= set(acts)
    assert acts[ServiceKind.FLUSH].findings == "white grit; anode spent; leak found"
    heater = record.standing.heater
    assert heater is not None
    assert Symptom.LEAK in heater.symptoms
    care = next(c for c in record.standing.cares if c.what == "flush")
    assert care.last is not None
    assert care.last.earliest == visit.on


def test_closing_again_corrects_and_a_visit_not_done_leaves_no_act(data: Path, plan: ServicePlan) -> None:
    """The second closing replaces the first; nothing is doubled; the home waits for the next plan."""
    visit = plan.visits[0]
    rounds = front(data, now=datetime.combine(visit.on, datetime.min.time())).service_rounds()
    for outcome in (Outcome.DONE, Outcome.DONE, Outcome.NOBODY_HOME):
        rounds.close(plan.plan_id, [Closing(home_id=visit.home_id, outcome=outcome)])
    record = front(data).one_home(visit.home_id).record()

    assert not [s for s in record.services if s.done.earliest == visit.on and s.record_id.startswith("visit-")]
    assert rounds.papers(plan).outcomes[visit.home_id] is Outcome.NOBODY_HOME


def test_a_closed_visit_stays_closed_when_the_plan_changes(data: Path, plan: ServicePlan) -> None:
    """What was done is not planned away."""
    rounds = front(data).service_rounds()
    visit = plan.visits[0]
    rounds.close(plan.plan_id, [Closing(home_id=visit.home_id, outcome=Outcome.DONE)])
    other = plan.visits[-1].home_id
    after = rounds.change(plan.plan_id, replace(plan.asked, cancelled=(other,)))

    assert rounds.papers(after).outcomes[visit.home_id] is Outcome.DONE


def test_a_closed_sheet_is_taken_row_by_row_and_bad_rows_are_named(plan: ServicePlan) -> None:
    """Good rows are taken, each bad one named with its row and remedy; blank rows are visits still open."""
    a, b, c, d = (v.home_id for v in plan.visits[:4])
    planned = {v.home_id: v.home_id for v in plan.visits}
    rows = [
        {"home_id": a, "outcome": "Done", "findings": "white grit, anode spent"},
        {"home_id": b, "outcome": "", "findings": ""},
        {"home_id": c, "outcome": "not done", "why": ""},
        {"home_id": "nowhere", "outcome": "done"},
        {"home_id": d, "outcome": "finished", "findings": "gold"},
        {"home_id": a, "outcome": "done"},
    ]
    good, problems = read_closings(rows, planned)

    assert [g.home_id for g in good] == [a]
    assert good[0].findings == ("white grit", "anode spent")
    assert [p.row for p in problems] == [4, 5, 6, 6, 7]
    assert all(p.sentence.startswith(f"Row {p.row}:") for p in problems)


def test_deleting_a_homes_data_takes_it_out_of_plans_visits_and_events(data: Path, plan: ServicePlan) -> None:
    """After "delete my data" neither the plan, nor the visits, nor the records name the home."""
    visit = plan.visits[0]
    survey = front(data)
    survey.service_rounds().close(plan.plan_id, [Closing(home_id=visit.home_id, outcome=Outcome.DONE)])
    survey.one_home(visit.home_id).forget()
    after = survey.service_rounds().get(plan.plan_id)

    assert visit.home_id not in str(after.to_dict()) + str(after.asked.to_dict())
    assert visit.home_id not in survey.service_rounds().papers(after).outcomes
    assert not survey.one_home(visit.home_id).record().services


def test_parcels_loaded_anew_keep_homes_that_crews_have_visited(data: Path, plan: ServicePlan) -> None:
    """A home with a visit and no answer is not dropped with a new county file."""
    home = plan.visits[0].home_id
    survey = front(data)
    survey.service_rounds().close(plan.plan_id, [Closing(home_id=home, outcome=Outcome.DONE)])

    assert home in open_store(data).homes_with_history()


def test_an_answer_after_the_visit_keeps_the_visit(data: Path, plan: ServicePlan) -> None:
    """The resident answers next month and leaves the flush open: the crew's flush stays on file."""
    visit = plan.visits[0]
    survey = front(data)
    survey.service_rounds().close(plan.plan_id, [Closing(home_id=visit.home_id, outcome=Outcome.DONE)])
    given = {"address": survey.home_address(visit.home_id), "remarks": "thanks", "consent": "yes"}
    survey.answers().submit(given, channel=AnswerChannel.PAPER, home_id=visit.home_id)

    assert any(s.kind is ServiceKind.FLUSH and s.record_id.startswith("visit-")
               for s in survey.one_home(visit.home_id).record().services)  # fmt: skip


def test_a_home_confirms_or_gives_up_its_own_visit_and_no_other(data: Path, plan: ServicePlan) -> None:
    """By its private code a home sees its visit and calendar file, confirms it, or withdraws and is planned around."""
    home_id = plan.visits[0].home_id
    who = Actor(name="h", role=Role.RESIDENT, home_id=home_id)
    home = Survey(open_store(data), who, now=NOW).one_home(home_id)
    (found,) = home.visits()

    assert found.visit == plan.visits[0]
    assert b"BEGIN:VALARM" in found.calendar
    home.confirm_visit(plan.plan_id)
    assert home.visits()[0].confirmed
    home.cancel_visit(plan.plan_id)
    assert home.visits() == []
    rounds = front(data).service_rounds()
    assert home_id not in {v.home_id for v in rounds.get(plan.plan_id).visits}
    with pytest.raises(NotAllowed):
        Survey(open_store(data), Actor(name="x", role=Role.RESIDENT), now=NOW).one_home(home_id)


def test_a_home_reads_the_same_hours_on_its_page_as_on_its_door(data: Path, plan: ServicePlan) -> None:
    """The first visit of a day is promised from the beginning of work on, and not before."""
    first = plan.on(plan.days[0])[0]
    who = Actor(name="h", role=Role.RESIDENT, home_id=first.home_id)
    (found,) = Survey(open_store(data), who, now=NOW).one_home(first.home_id).visits()

    assert first.arrive_s - 45 * 60 < plan.asked.start_s
    assert found.expect == ("8:00 am", clock(first.arrive_s + 45 * 60))


def test_crews_start_where_the_committee_says(rounds: ServiceRounds) -> None:
    """An address is found by its home; words that fit no home give no place."""
    some = rounds.candidates(FLUSH)[0]
    assert rounds.place_of(some.address) is not None
    made = rounds.plan(asked(start_place=rounds.place_of(some.address)))
    assert made.asked.start_place == rounds.place_of(some.address)


def test_price_steps_bring_homes_to_fewer_fuller_days(rounds: ServiceRounds) -> None:
    """A step at six homes fills days where one price for all would spread the homes out; both serve as many."""
    spread = rounds.plan(asked(min_homes=1, crews=2))
    steps = read_price_steps("1: 150, 6: 90")
    full = rounds.plan(asked(min_homes=1, crews=2, price_steps=steps))

    assert len(full.days) <= len(spread.days)
    paid = sum(len(full.on(d)) * (90 if len(full.on(d)) >= 6 else 150) for d in full.days)
    assert full.costs_usd["prices"] == pytest.approx(paid)
    assert len(full.visits) >= 0.9 * len(spread.visits)
    assert rounds.get(full.plan_id).asked.price_steps == steps


@pytest.mark.parametrize(
    ("text", "sentence"),
    [("ten: 130", "not a price step"), ("10: 130, 5: 120", "go up in homes"), ("1: 100, 5: 120", "go up in homes"),
     ("0: 100", "one home or more"), ("5: -3", "not below zero")],
)  # fmt: skip
def test_price_steps_that_cannot_be_are_said(text: str, sentence: str) -> None:
    """Each fault is a sentence with what to write."""
    with pytest.raises(ValueError, match=sentence):
        read_price_steps(text)


def test_a_plan_stored_before_price_steps_is_still_read(data: Path, rounds: ServiceRounds, plan: ServicePlan) -> None:
    """A field that an earlier version did not write is taken as left open."""
    told = plan.asked.to_dict()
    del told["price_steps"]

    assert Asked.from_dict(told) == plan.asked


def test_the_committee_is_not_told_how_few_have_not_asked(data: Path) -> None:
    """Homes that said yes or maybe are the committee's; a small count of the others, or one that gives it, is not."""
    exact = front(data).service_rounds().interested(FLUSH)
    told = front(data, Role.COMMITTEE).service_rounds().interested(FLUSH)
    assert exact.due is not None
    assert exact.silent is not None
    no = exact.due - exact.yes - exact.maybe - exact.silent

    assert 0 < exact.silent < 11 or 0 < no < 11, "there is something to hide"
    assert (told.yes, told.maybe, told.ask) == (exact.yes, exact.maybe, exact.ask)
    assert (told.due, told.silent) == (None, None)
    assert "Some are due and have not said" in told.sentence
    assert str(exact.due) in exact.sentence
