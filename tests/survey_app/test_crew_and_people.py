"""What a crew is told and what the people of a home are; whom a report keeps away; which price is told."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pypdfium2
import pytest

from survey_app.access import Actor, Role
from survey_app.records import (
    Dated,
    DateEvidence,
    Heater,
    HeaterKind,
    Home,
    ServiceKind,
    ServiceRecord,
    Symptom,
)
from survey_app.reports.service_papers import day_sheets_pdf, does_it_pay, notices_pdf
from survey_app.service_days import FLUSH, FLUSH_AND_ANODE, JOBS, Asked, Fitness, candidates, read_prices
from survey_app.settings import Settings
from survey_app.standing import standing
from survey_app.survey import Survey, open_store
from survey_app.texts import LANGUAGES, texts

NOW = datetime(2026, 5, 2, 9, 30)


def read(paper: bytes) -> list[str]:
    """The words of each page of a paper, on one line."""
    return [" ".join(page.get_textpage().get_text_range().split()) for page in pypdfium2.PdfDocument(paper)]


def test_every_caution_has_a_text_for_the_crew_and_the_homes_read_no_crews_order() -> None:
    """A door notice tells people what concerns them: never to check a valve, to set a control, to force a plug."""
    orders = ("check that", "before you begin", "control to pilot", "breaker off first", "do not force", "hose cap")
    keys = [c.key for job in JOBS for act in job.acts for c in (*act.risks, *act.cautions)] + [
        "days-caution-in-warranty"
    ]
    for language in LANGUAGES:
        say = texts(language)
        assert all(say.has(key) and say.has(f"{key}.people") for key in keys)
    read_at_home = " ".join(texts("en")(f"{key}.people") for key in keys).lower()
    assert [order for order in orders if order in read_at_home] == []


@pytest.mark.parametrize(
    ("symptom", "fitness"),
    [
        (Symptom.LEAK, Fitness.NO),
        (Symptom.CARBON_MONOXIDE, Fitness.NO),
        (Symptom.TOO_HOT, Fitness.NO),
        (Symptom.PILOT_OUT, Fitness.ASK),
        (Symptom.NO_HOT_WATER, Fitness.ASK),
        (Symptom.RUNS_OUT, Fitness.ASK),
        (Symptom.RUMBLE, Fitness.YES),
    ],
)
def test_what_was_reported_keeps_a_crew_away_or_the_contractor_looks_first(symptom: Symptom, fitness: Fitness) -> None:
    """A home due for a flush, by the one table of symptoms."""
    home = Home(home_id="A", parcel_id="A", address="1 FERN ST", street="FERN ST", phase_id=None, built_year=2018)
    today = date(2026, 5, 2)
    heater = Heater(
        heater_id="A/heater-1",
        home_id="A",
        sequence=1,
        kind=HeaterKind.GAS_STORAGE,
        installed=Dated.on(date(2022, 5, 2), DateEvidence.DOCUMENT),
        symptoms=(symptom,),
    )
    done = ServiceRecord(record_id="r", heater_id="A/heater-1", kind=ServiceKind.FLUSH, done=Dated.on(date(2024, 5, 2)))
    found = standing(home, [heater], [done], answered=True, settings=Settings(), as_of=today)

    (one,) = candidates([found], {}, FLUSH, settings=Settings(), worth={})

    assert one.fitness is fitness
    assert any(texts("en")(f"symptom-{symptom.replace(' ', '-')}") in r for r in one.reasons) is (
        fitness is not Fitness.YES
    )


def test_a_price_is_read_as_one_figure_or_as_steps_and_told_by_the_days_homes() -> None:
    """What a notice says a home pays is the step that its day has reached."""
    assert read_prices("$130") == ((), 130.0)
    assert read_prices("1: 150, 6: 90") == (((1, 150.0), (6, 90.0)), None)
    assert read_prices("") == ((), None)
    with pytest.raises(ValueError, match="price step"):
        read_prices("cheap")
    asked = Asked(job=FLUSH, dates=(date(2027, 3, 1),), price_steps=((1, 150.0), (6, 90.0)))
    assert [asked.home_usd(n) for n in (1, 5, 6, 9)] == [150.0, 150.0, 90.0, 90.0]
    assert Asked(job=FLUSH, dates=(), price_usd=130.0).home_usd(4) == 130.0
    assert Asked(job=FLUSH, dates=()).home_usd(4) is None
    assert Asked.from_dict(asked.to_dict()) == asked


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_door_notice_has_the_weekday_who_comes_the_price_and_whom_to_call(data: Path, language: str) -> None:
    """On paper, from a real plan; the crew's orders stand on the day sheet and not on the notice."""
    survey, say = Survey(open_store(data), Actor(name="v", role=Role.VOLUNTEER), now=NOW), texts(language)
    own = survey.settings()
    survey.set_up().change_settings(
        own.model_copy(update={"contacts": own.contacts.model_copy(update={"volunteer": "Vera, 555-0100"})})
    )
    days = tuple(date(2026, 5, 11) + timedelta(days=i) for i in range(5))
    rounds = survey.service_rounds()
    plan = rounds.plan(
        Asked(
            job=FLUSH_AND_ANODE,
            dates=days,
            min_homes=2,
            iterations=100,
            price_usd=130.0,
            contractor="Sample Service, 555-0150",
        )
    )
    papers = rounds.papers(plan, say=say)
    notices, sheets = read(notices_pdf(papers, say)), " ".join(read(day_sheets_pdf(papers, say)))

    # A page each.
    assert len(notices) == len(plan.visits) > 0
    for page in notices:
        assert any(say.weekday_day(day) in page for day in plan.days)
        assert "Sample Service, 555-0150" in page
        assert "$130" in page
        assert "Vera, 555-0100" in page
        assert say("days-caution-flush") not in page
    assert say("days-caution-flush")[:40] in sheets


def test_a_never_served_old_heater_comes_first_once_the_contractor_agreed(data: Path) -> None:
    """One crew with room for a few homes: what an agreed, neglected home counts for decides who gets the room."""
    survey = Survey(open_store(data), Actor(name="v", role=Role.VOLUNTEER), now=NOW)
    rounds, own = survey.service_rounds(), survey.settings()
    agreed = tuple(c.home_id for c in rounds.candidates(FLUSH) if c.fitness is Fitness.ASK)
    one_day = Asked(
        job=FLUSH, dates=(date(2026, 5, 11),), min_homes=1, max_homes=3, iterations=100, contractor_agreed=agreed
    )

    def share(usd: float) -> float:
        survey.set_up().change_settings(own.model_copy(update={"neglected_first_usd": usd}))
        visits = rounds.plan(one_day).visits
        return sum(v.home_id in agreed for v in visits) / len(visits)

    assert len(agreed) >= 3
    assert share(2000.0) == 1.0
    assert share(0.0) < 1.0


@pytest.mark.parametrize(
    ("worth", "said"),
    [
        ((-6.0, 2.0, 12.0), "The money is not shown to pay: by what is known, a visit brings about $2 a home and year"),
        ((3.0, 8.0, 14.0), "By what is known, a visit brings about $8 a home and year (likely between $3 and $14)"),
    ],
)
def test_whether_a_visit_pays_is_said_with_what_speaks_for_it_and_for_whom(
    data: Path, worth: tuple[float, float, float], said: str
) -> None:
    """No figure without its range; a range that holds zero is said to show nothing."""
    rounds = Survey(open_store(data), Actor(name="v", role=Role.VOLUNTEER), now=NOW).service_rounds()
    plan = rounds.plan(Asked(job=FLUSH, dates=(date(2026, 5, 11),), min_homes=1, max_homes=2, iterations=50))
    papers = rounds.papers(plan)
    known = replace(papers, homes={k: replace(h, worth_usd=worth) for k, h in papers.homes.items()})
    told = does_it_pay(known, texts("en"))

    assert told.startswith(said)
    assert "sediment comes out" in told
    assert "anode" not in told
    assert "an old heater was never served" in told
    assert "not shown to pay" in does_it_pay(papers, texts("en"))
