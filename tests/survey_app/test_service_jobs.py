"""A job is a row of a table: a made-up one is walked through everything, and nothing else knows any by name."""

from __future__ import annotations

import ast
import json
import pickle
from collections.abc import Callable
from dataclasses import fields, replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pypdfium2
import pytest

import survey_app
import survey_app.service_days as service_days
from survey_app.access import Actor, Role
from survey_app.errors import SurveyError
from survey_app.intake import QUESTIONS, Kind, Lands
from survey_app.lifetime import load_prior
from survey_app.records import HeaterKind, Interest, Place, ServiceKind, Symptom, Wishes
from survey_app.reports.service_papers import day_rows, day_sheets_pdf, notices_pdf
from survey_app.service_days import (
    ANODE,
    FLUSH,
    JOBS,
    Act,
    Asked,
    Caution,
    Closing,
    Fitness,
    Job,
    Outcome,
    UnknownJob,
    closing_columns,
    event_of,
    findings_known,
    job_minutes,
    job_named,
    jobs,
)
from survey_app.settings import Settings
from survey_app.standing import CareState
from survey_app.survey import Survey, open_store
from survey_app.texts import LANGUAGES, Texts, message_keys, texts

NOW = datetime(2026, 5, 2, 9, 30)
DAYS = tuple(date(2026, 5, 11) + timedelta(days=i) for i in range(5))
SAY = texts("en")
PACKAGE = Path(survey_app.__file__).parent

VALVE = Job(
    name="relief valve",
    acts=(
        Act(
            care="relief valve tried",  # no standing tells of it, so its state is not known
            wish="group_purchase",  # a question that is there already stands in for the one such a job would need
            fits=lambda found, state: (Fitness.YES, "days-valve-due"),
            kind=ServiceKind.RELIEF_VALVE_TEST,
            instead={"valve stuck": None},
            risks=(Caution(key="days-caution-valve-old", states=frozenset({CareState.ASK})),),
            cautions=(
                Caution(key="days-caution-valve"),
                Caution(key="days-caution-valve-gas", kinds=frozenset({HeaterKind.GAS_STORAGE})),
            ),
            findings={"valve weeps": (Symptom.RELIEF_DRIPS,), "valve stuck": ()},
        ),
    ),
    minutes="hard_to_reach_minutes",
)
WORDS = {
    "job-relief-valve": "Valve",
    "job-relief-valve.notice": "We come to try your relief valve",
    "job-relief-valve.visit": "your relief valve is tried",
    "days-valve-due": "The valve is due for a try.",
    "days-caution-valve-old": "An old valve may not close again.",
    "days-caution-valve": "The water from the valve can scald.",
    "days-caution-valve-gas": "Gas: control to pilot first.",
    "found-valve-weeps": "the valve weeps",
    "found-valve-stuck": "the valve is stuck",
}


@pytest.fixture
def valve(monkeypatch: pytest.MonkeyPatch) -> Job:
    """The made-up job in the table, with its words: the row and the texts, and nothing else."""
    real = Texts.__call__

    def said(self: Texts, key: str, **values: str | int | float) -> str:
        return WORDS[key] if key in WORDS else real(self, key, **values)

    monkeypatch.setattr(Texts, "__call__", said)
    for place in (jobs, service_days):
        monkeypatch.setattr(place, "JOBS", (*JOBS, VALVE))
    return VALVE


def front(place: Path, *, now: datetime = NOW) -> Survey:
    """The survey as the volunteer."""
    return Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=now)


def asked(job: Job, **more: Any) -> Asked:
    """Five days of one crew, quick to plan."""
    return Asked(**{"job": job, "dates": DAYS, "min_homes": 2, "iterations": 100, **more})


def text_of(pdf: bytes) -> str:
    """All that a paper says, in one line."""
    pages = (page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf))
    return " ".join(" ".join(pages).split())


def test_a_job_added_to_the_table_chooses_its_own_homes(data: Path, valve: Job) -> None:
    """Wish, rule, minutes, worth and cautions are the row's: nothing of the flush's or the anode's comes in."""
    rounds = front(data).service_rounds()
    found = rounds.candidates(valve)
    fit = [c for c in found if c.fitness is Fitness.YES]
    told = rounds.interested(valve)

    assert len(fit) > 20
    assert {reason for c in fit for reason in c.reasons} == {"The valve is due for a try."}
    assert {c.minutes for c in found if c.place == "garage"} == {15}
    assert {c.worth_usd for c in found} == {(0.0, 0.0, 0.0)}, "nothing is believed of its effect on the tank"
    by_wish = {c.home_id: c.interest for c in found}
    flush = {c.home_id: c.interest for c in rounds.candidates(FLUSH)}
    assert by_wish != flush
    assert told.yes == sum(c.interest is Interest.YES for c in fit) > 0
    for c in found:
        own = [s for s in c.cautions if "warranty" not in s and "drips" not in s and "rumbles" not in s]
        gas = ["Gas: control to pilot first."] if c.kind == "gas storage" else []
        assert own == ["The water from the valve can scald.", *gas]
    tankless = [c for c in found if c.kind == "tankless"]
    assert tankless
    assert {c.fitness for c in tankless} == {Fitness.NO}
    anywhere = replace(valve, acts=tuple(replace(act, needs_tank=False) for act in valve.acts))
    assert {c.fitness for c in rounds.candidates(anywhere) if c.kind == "tankless"} == {Fitness.YES}


def test_a_job_added_to_the_table_is_planned_printed_and_closed(data: Path, valve: Job) -> None:
    """Its plan is kept and read back; its papers speak of it alone; what was done goes on file as its own act."""
    rounds = front(data).service_rounds()
    plan = rounds.plan(asked(valve))
    assert len(plan.visits) >= 4
    assert rounds.get(plan.plan_id).asked.job is valve
    assert pickle.loads(pickle.dumps(plan)) == plan, "a page's cache gives the same plan back"
    papers = rounds.papers(plan)
    assert len(day_rows(papers, SAY)) == len(plan.visits)
    sheet, notice = text_of(day_sheets_pdf(papers, SAY)), text_of(notices_pdf(papers, SAY))
    for words in ("Day sheet: Valve", "the valve weeps", "the valve is stuck", "leak found", "can scald"):
        assert words in sheet
    assert "We come to try your relief valve" in notice
    assert "We come to flush" not in notice
    for strange in ("grit", "anode", "flush"):
        assert strange not in sheet.lower()

    first, second = plan.visits[:2]
    home = Survey(open_store(data), Actor(name="h", role=Role.RESIDENT, home_id=first.home_id), now=NOW)
    (visit,) = home.one_home(first.home_id).visits()
    assert SAY(f"{visit.job.title}.visit") == "your relief valve is tried"
    assert "valve stuck" in closing_columns(valve)["findings"]
    rows = [
        {"home_id": first.home_id, "outcome": "done", "findings": "valve weeps"},
        {"home_id": second.home_id, "outcome": "done", "findings": "valve stuck"},
    ]
    later = front(data, now=datetime(2026, 5, 20, 18))
    good, problems = later.service_rounds().read_closings(plan.plan_id, rows)
    assert problems == []
    assert later.service_rounds().close(plan.plan_id, good) == 2
    one, other = (later.one_home(v.home_id).record() for v in (first, second))
    assert [s.kind for s in one.services if s.done.earliest == first.on] == [ServiceKind.RELIEF_VALVE_TEST]
    assert one.standing.heater is not None
    assert Symptom.RELIEF_DRIPS in one.standing.heater.symptoms
    assert [s for s in other.services if s.done.earliest == second.on] == []


def test_a_job_added_to_the_table_is_a_command(data: Path, valve: Job, run: Callable[..., Any]) -> None:
    """The command plans it by its name and says so."""
    days = ",".join((date.today() + timedelta(days=10 + i)).isoformat() for i in range(3))
    words = ("days", "--job", "relief valve", "--dates", days, "--least", "2", "--iterations", "60", "--json")
    done = run(*words, data=data)
    assert done.returncode in (0, 1), done.stderr
    told = json.loads(done.stdout)
    assert told["asked"]["job"] == valve.name
    assert told["visits"]


def test_a_job_taken_out_of_the_table_is_named_where_a_plan_is_read(
    data: Path, valve: Job, monkeypatch: pytest.MonkeyPatch, run: Callable[..., Any]
) -> None:
    """Nothing takes another job's place: records, a cached copy and the command say what is not known and what is."""
    rounds = front(data).service_rounds()
    plan = rounds.plan(asked(valve))
    copy = pickle.dumps(plan)
    monkeypatch.setattr(jobs, "JOBS", JOBS)
    sentence = "There is no job 'relief valve'. There are: flush, anode, flush and anode."

    for ask in (
        lambda: rounds.get(plan.plan_id),
        rounds.plans,
        lambda: pickle.loads(copy),
        lambda: job_named("relief valve"),
    ):
        with pytest.raises(UnknownJob) as why:
            ask()
        assert str(why.value) == sentence
        assert isinstance(why.value, SurveyError)
    done = run("days", "--job", "relief valve", "--dates", "2027-03-01", data=data)
    assert (done.returncode, done.stderr.strip()) == (2, sentence)


@pytest.mark.parametrize("job", JOBS, ids=str)
def test_every_row_of_the_table_is_whole(job: Job) -> None:
    """Its minutes and chances are settings, its wish a question, its effect believed in, its words there."""
    settings = set(Settings.model_fields)
    asked_for = {q.key for q in QUESTIONS if q.kind is Kind.INTEREST and q.lands is Lands.WISHES}
    keys = [job.title, f"{job.title}.notice", f"{job.title}.visit"]
    keys += [f"found-{found.replace(' ', '-')}" for found in job.findings]
    assert job.minutes in settings
    assert job_named(job.name) is job
    for act in job.acts:
        assert act.wish in asked_for
        assert act.wish in {f.name for f in fields(Wishes)}
        assert act.effect is None or act.effect in load_prior().acts
        assert act.closing is None or act.closing in settings
        assert set(act.instead) <= set(act.findings)
        keys += [c.key for c in (*act.risks, *act.cautions)]
    for language in LANGUAGES:
        there = message_keys(language)
        assert [key for key in keys if key not in there] == [], language


def test_every_state_of_a_care_has_a_reason_in_words(data: Path) -> None:
    """Whatever a standing says, the rule gives a fitness and a message that is there."""
    standing = next(s for s in front(data).standings() if s.heater is not None)
    for act in {act.care: act for job in JOBS for act in job.acts}.values():
        for state in CareState:
            for age in (None, (0.1, 0.2, 0.3), (3.0, 4.0, 5.0)):
                fitness, key = act.fits(replace(standing, age_years=age), state)
                assert fitness in Fitness
                assert SAY.has(key), key


def test_an_act_counts_by_what_was_found_and_a_job_by_its_acts() -> None:
    """An anode is looked at, changed when the crew says so, neither where it would not come out; a flush is a flush."""
    told = {"plan_id": "p", "on": DAYS[0], "told_by": "vera"}

    def acts(job: Job, *findings: str, outcome: Outcome = Outcome.DONE) -> tuple[ServiceKind, ...]:
        closing = Closing(home_id="h", outcome=outcome, findings=findings, notes="x")
        event = event_of(closing, job, **told)  # type: ignore[arg-type]
        assert event is not None
        return event.acts

    both = job_named("flush and anode")
    assert acts(FLUSH) == (ServiceKind.FLUSH,)
    assert acts(ANODE) == (ServiceKind.ANODE_CHECK,)
    assert acts(both) == (ServiceKind.FLUSH, ServiceKind.ANODE_CHECK)
    assert acts(ANODE, "anode spent", "anode changed") == (ServiceKind.ANODE_CHANGE,)
    assert acts(both, "anode changed", "anode would not come out") == (ServiceKind.FLUSH,)
    assert acts(both, outcome=Outcome.NOBODY_HOME) == ()
    assert acts(FLUSH, "leak found") == (ServiceKind.FLUSH,)
    assert findings_known()["leak found"] == (Symptom.LEAK,)


def test_the_time_of_a_job_is_its_settings() -> None:
    """Each row's minutes follow its own setting."""
    for job in JOBS:
        usual = Settings()
        longer = usual.model_copy(update={job.minutes: getattr(usual, job.minutes) + 60})
        for other in JOBS:
            more = job_minutes(other, 50, Place.GARAGE, longer) - job_minutes(other, 50, Place.GARAGE, usual)
            assert more == (60 if other.minutes == job.minutes else 0)


def test_a_crew_can_tick_all_that_decides_what_goes_on_file(data: Path) -> None:
    """An anode day's sheet has a box for an anode that was changed, and one for a plug that would not come out."""
    rounds = front(data).service_rounds()
    sheet = text_of(day_sheets_pdf(rounds.papers(rounds.plan(asked(ANODE))), SAY))

    for act in ANODE.acts:
        for found in act.instead:
            assert found in sheet
    assert "white grit" not in sheet


def test_nothing_but_the_table_knows_a_job_by_name() -> None:
    """No module that plans, prints, closes or shows a service day compares with a job's or an act's name."""
    names = {name for job in JOBS for name in (job.name, *(act.care for act in job.acts))}
    places = [
        *(PACKAGE / "service_days").glob("*.py"),
        *(PACKAGE / "survey").glob("*.py"),
        *(PACKAGE / "ui" / "committee").glob("*.py"),
        *(PACKAGE / "cli").glob("*.py"),
        *(PACKAGE / "ui").glob("*.py"),
        *(PACKAGE / "reports").glob("service_*.py"),
    ]
    assert len(places) > 40
    found = [
        (path.name, node.value)
        for path in places
        if path.name != "jobs.py"
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value in names
    ]
    assert found == [("app.py", "flush")], "the resident's page that explains a flush, and no job"
    assert "$job" not in (PACKAGE / "texts" / "en" / "days.ftl").read_text(encoding="utf-8")
