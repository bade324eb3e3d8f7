"""Service days on the screen: planned, changed, closed, by the committee and by nobody else."""

from __future__ import annotations

import shutil
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

import survey_app.service_days as service_days
import survey_app.ui
from survey_app.access import Actor, Role
from survey_app.reports.as_upload import rows_bytes
from survey_app.service_days import FLUSH, FLUSH_AND_ANODE, Asked, Outcome, ServicePlan, closing_columns
from survey_app.survey import Survey, open_store

APP = Path(survey_app.ui.__file__).with_name("app.py")


def front(place: Path) -> Survey:
    """The records as the volunteer sees them."""
    return Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2, 12))


def opened(page: str) -> AppTest:
    """The app with the committee come in by the open demo's door, on a page."""
    at = AppTest.from_file(str(APP), default_timeout=120).run()
    at.button(key="welcome.committee").click().run()
    at.switch_page(f"committee/{page}.py").run()
    return at


@pytest.fixture(scope="module")
def planned(demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> ServicePlan:
    """A plan of five days, worked out once."""
    place = tmp_path_factory.mktemp("planned") / "data"
    shutil.copytree(demo_data, place)
    days = tuple(date(2026, 12, 7) + timedelta(days=i) for i in range(5))
    return front(place).service_rounds().plan(Asked(job=FLUSH_AND_ANODE, dates=days, min_homes=2, iterations=100))


@pytest.fixture
def plan_id(place: Path, planned: ServicePlan) -> str:
    """That plan, on file in this test's own community, which is the one it was made for."""
    return front(place).service_rounds()._keep(planned, "plan service days").plan_id


def errors(at: AppTest) -> list[str]:
    """What went wrong on the page."""
    return [e.value for e in at.error] + [e.message for e in at.exception]


def said(at: AppTest) -> str:
    """Everything a person reads on the page."""
    kinds = ("title", "header", "markdown", "info", "success", "warning", "error")
    return "\n".join(str(e.value) for kind in kinds for e in at.get(kind))


@pytest.mark.parametrize("page", ["plan_crew_days", "crew_days", "close_a_day"])
def test_a_visitor_is_not_let_in(place: Path, page: str) -> None:
    """Without signing in the pages of service days are not there."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    with pytest.raises(ValueError, match="Could not find a navigation page"):
        at.switch_page(f"committee/{page}.py")


def test_every_job_of_the_table_is_offered(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A row added to the table can be chosen, and the page tells of its own homes."""
    rinse = replace(FLUSH, name="rinse", acts=tuple(replace(act, wish="group_purchase") for act in FLUSH.acts))
    for where in (service_days, service_days.jobs):
        monkeypatch.setattr(where, "JOBS", (*service_days.JOBS, rinse))
    at = opened("plan_crew_days")
    (choice,) = (radio for radio in at.radio if radio.key == "days.job")
    assert choice.options == ["Flush", "Anode", "Flush and anode", "Rinse"]
    before = said(at)
    choice.set_value("rinse").run()
    assert not errors(at)
    assert said(at) != before


def test_days_are_planned_from_the_form_and_shown(place: Path) -> None:
    """The form makes a plan; the next page shows its homes, papers and map without an error."""
    at = opened("plan_crew_days")
    assert "homes said yes" in said(at)
    at.number_input(key="days.least").set_value(2)
    at.multiselect(key="days.weekdays").set_value(["Monday", "Tuesday", "Wednesday", "Thursday", "Friday"])
    at.button[-1].click().run()

    assert errors(at) == []
    made = front(place).service_rounds().plans()
    assert len(made) == 1
    assert made[0].visits
    assert "homes on" in said(at)
    labels = {str(b.proto.label) for b in at.get("download_button")}
    assert {"Day sheets for the crews (PDF)", "Door notices (PDF)", "Homes to call"} <= labels


def test_what_cannot_be_planned_is_a_sentence_on_the_page(place: Path) -> None:
    """No weekday chosen: no day; the page says so and nothing is stored."""
    at = opened("plan_crew_days")
    at.multiselect(key="days.weekdays").set_value([])
    at.button[-1].click().run()

    assert [e.message for e in at.exception] == []
    assert any("at least one date" in e.value for e in at.error)
    assert front(place).service_rounds().plans() == []


def test_a_home_cancels_and_another_confirms_on_the_page(place: Path, plan_id: str) -> None:
    """Both are kept with the plan, and what moved is shown."""
    visits = front(place).service_rounds().get(plan_id).visits
    at = opened("crew_days")
    at.multiselect(key="change.confirm").set_value([visits[0].home_id]).run()
    at.button(key="change.confirm.go").click().run()
    at.multiselect(key="change.cancel").set_value([visits[1].home_id]).run()
    at.button(key="change.cancel.go").click().run()
    after = front(place).service_rounds().get(plan_id)

    assert errors(at) == []
    assert visits[0].home_id in after.asked.confirmed
    assert visits[1].home_id not in {v.home_id for v in after.visits}
    assert "What moved" in said(at)


def test_rain_takes_a_day_off_the_plan(place: Path, plan_id: str) -> None:
    """All crews of a day stay away: nobody is planned on it any more."""
    at = opened("crew_days")
    day = front(place).service_rounds().get(plan_id).days[0]
    at.selectbox(key="change.off.day").set_value(day).run()
    at.button(key="change.off.go").click().run()

    assert errors(at) == []
    assert day not in front(place).service_rounds().get(plan_id).days


def test_a_visit_is_closed_on_a_phone(place: Path, plan_id: str) -> None:
    """Outcome and findings go to the home's record; a visit without an outcome is not taken."""
    rounds = front(place).service_rounds()
    plan = rounds.get(plan_id)
    visit = plan.on(plan.days[0])[0]
    at = opened("close_a_day")
    at.button[-1].click().run()
    at.radio(key=f"close.o.{visit.home_id}").set_value(Outcome.DONE)
    at.multiselect(key=f"close.f.{visit.home_id}").set_value(["white grit"])
    next(b for b in at.button if b.form_id == f"close.{visit.home_id}").click().run()

    assert errors(at) == []
    assert front(place).service_rounds().papers(plan).outcomes[visit.home_id] is Outcome.DONE
    assert any("white grit" in s.findings for s in front(place).one_home(visit.home_id).record().services)


def test_a_filled_sheet_closes_its_visits_and_names_its_bad_rows(place: Path, plan_id: str) -> None:
    """The good row is stored, the bad one said with its row; a picture is no sheet."""
    plan = front(place).service_rounds().get(plan_id)
    first, second = plan.on(plan.days[0])[:2]
    rows = [
        {"home_id": first.home_id, "outcome": "done", "findings": "soft jelly"},
        {"home_id": second.home_id, "outcome": "not done"},
    ]
    at = opened("close_a_day")
    sheet = rows_bytes("day.xlsx", rows, closing_columns(FLUSH_AND_ANODE))
    at.file_uploader(key="close.file").upload("day.xlsx", sheet, "application/octet-stream").run()
    at.button(key="close.go").click().run()

    assert [e.message for e in at.exception] == []
    assert "Visits closed: 1" in said(at)
    assert "Row 3" in said(at)
    at.file_uploader(key="close.file").upload("day.xlsx", b"\x89PNG....", "application/octet-stream").run()
    at.button(key="close.go").click().run()
    assert any("picture" in e.value for e in at.error)


def test_a_day_that_lies_ahead_says_so_before_it_is_closed(place: Path) -> None:
    """Closing belongs after the crew has been there; the page says so while the day lies ahead."""
    days = tuple(datetime.now().date() + timedelta(days=10 + i) for i in range(5))
    front(place).service_rounds().plan(Asked(job=FLUSH_AND_ANODE, dates=days, min_homes=2, iterations=100))
    at = opened("close_a_day")

    assert errors(at) == []
    assert "This day lies ahead" in said(at)


def test_contacts_are_in_the_volunteers_papers_and_not_in_the_committees(place: Path, plan_id: str) -> None:
    """Both open the same page from one cache: the committee reads whom to ask, the volunteer how to reach them."""
    committee = opened("crew_days")
    volunteer = AppTest.from_file(str(APP), default_timeout=120).run()
    volunteer.button(key="welcome.volunteer").click().run()
    volunteer.switch_page("committee/crew_days.py").run()

    assert errors(committee) == errors(volunteer) == []
    tables = [next(d.value for d in at.dataframe if "know before" in d.value) for at in (committee, volunteer)]
    assert "contact" not in tables[0]
    assert tables[1]["contact"].str.len().sum() > 0
    assert "they get these papers with them" in said(committee)
    assert "they get these papers with them" not in said(volunteer)
