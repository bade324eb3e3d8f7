"""What was reported leads everything said of a home until it is settled: every symptom, every finding, every paper."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from pathlib import Path

import pypdfium2
import pytest

from survey_app.access import Actor, Role
from survey_app.histories import home_history
from survey_app.records import Answer, AnswerChannel, Event, EventKind, Home, Report, ServiceKind, Symptom
from survey_app.reported import SETTLED, SETTLED_ON, named, reports_of, told_line
from survey_app.reports.home_record import answer_line, record_parts, record_pdf
from survey_app.reports.standing_map import volunteer_map
from survey_app.reports.standing_table import standing_rows
from survey_app.service_days import FLUSH, Closing, Fitness, Outcome, findings_known
from survey_app.service_days.closing import event_of
from survey_app.standing import CareState
from survey_app.survey import Survey, open_store
from survey_app.survey.one_home import OneHome
from survey_app.survey.rereading import reread
from survey_app.symptoms import FINDINGS, SYMPTOMS, Settled, handling, most_pressing, settled_by
from survey_app.texts import LANGUAGES, texts

NOW = datetime(2026, 5, 3, 9, 30)
TOLD = NOW.date()
VERA = Actor(name="vera", role=Role.VOLUNTEER)
EVERYTHING = [*(str(row.symptom) for row in SYMPTOMS), *(row.finding for row in FINDINGS)]
HOME = Home(home_id="R-1", parcel_id="R-1", address="1 FERN ST", street="FERN ST", phase_id=None, built_year=2005)


def front(place: Path, *, later: int = 0) -> Survey:
    """The survey as the volunteer sees it, some days later."""
    return Survey(open_store(place), VERA, now=NOW + timedelta(days=later))


def a_home(place: Path) -> str:
    """A home whose tank has an age and nothing wrong."""
    return next(
        s.home.home_id
        for s in front(place).standings()
        if s.age_years and s.heater and s.heater.kind.has_tank and not s.reported
    )


def own(place: Path, home_id: str, *, language: str = "en", later: int = 0) -> OneHome:
    """One home as its own people have it."""
    who = Actor(name="resident", role=Role.RESIDENT, home_id=home_id)
    return Survey(open_store(place), who, now=NOW + timedelta(days=later)).one_home(home_id, say=texts(language))


def crew_found(place: Path, home_id: str, findings: str, seen: Iterable[Symptom] = (), *, acts: tuple = ()) -> None:
    """Put a crew's visit on file."""
    event = Event(
        event_id=f"visit-{findings}",
        home_id=home_id,
        kind=EventKind.VISIT,
        on=TOLD,
        told_by="crew",
        findings=findings,
        seen=tuple(seen),
        acts=acts,
    )
    with front(place)._context.write("close visits") as write:
        write.put([event])
        reread(write, {home_id})


def reported(place: Path, what: str) -> str:
    """A home of which this was reported on 3 May 2026."""
    home_id = a_home(place)
    if what in set(map(str, Symptom)):
        own(place, home_id).report_symptom(Symptom(what))
    else:
        crew_found(place, home_id, what)
    return home_id


def words_of(paper: bytes) -> str:
    """The text of a PDF, lines joined."""
    return " ".join(" ".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(paper)).split())


@pytest.mark.parametrize("what", EVERYTHING)
def test_what_was_reported_stands_in_every_table_and_paper_until_it_is_settled(data: Path, what: str) -> None:
    """Standing, list of homes, card of the map, record and its PDF, in both languages; then it is settled and gone."""
    home_id = reported(data, what)
    tick = settled_by(what) is not Settled.PEOPLE
    forbids = what in set(map(str, Symptom)) and not handling(Symptom(what)).odds
    standing = next(s for s in front(data).standings() if s.home.home_id == home_id)
    (row,) = standing_rows([standing])
    assert (row["reported"], row["reported_on"]) == (what, "2026-05-03")
    drawn = volunteer_map(**{**front(data)._context.map_inputs(), "found": [standing]})
    assert told_line(standing.reported[0], texts("en"), to_people=False) in drawn
    for language in LANGUAGES:
        say, home = texts(language), own(data, home_id, language=language)
        found, record = home.standing(), home.record()
        line = told_line(found.reported[0], say)
        assert say.day(TOLD) in line
        assert named(what, say) in line
        assert (home.odds() is None) is forbids
        first = record_parts(record, say)[0]
        assert (first.heading, first.lines) == (say("record-symptoms"), (("", line),))
        assert line in words_of(record_pdf(record, say))

    home = own(data, home_id, later=5)
    if tick:
        with pytest.raises(ValueError, match="Tick who looked at it"):
            home.settle(what, on=TOLD)
    home.settle(what, on=TOLD + timedelta(days=2), looked_at=tick)

    after = own(data, home_id, later=6)
    assert after.standing().reported == ()
    assert after.odds() is not None
    say, parts = texts("en"), record_parts(after.record(), texts("en"))
    assert say("record-symptoms") not in [p.heading for p in parts]
    (line,) = next(p.lines for p in parts if p.heading == say("record-settled"))
    assert "It is settled, on May 5, 2026." in line[1]
    assert next(r for r in standing_rows(front(data).standings()) if r["home_id"] == home_id)["reported"] is None


def test_every_finding_that_leads_is_one_a_crew_can_write_down_and_comes_after_the_symptoms() -> None:
    """The table of findings speaks the jobs' own words."""
    assert {row.finding for row in FINDINGS} <= set(findings_known())
    told = [Report(what=what, on=TOLD) for what in reversed(EVERYTHING)]
    assert [r.what for r in most_pressing(told)] == EVERYTHING


def test_an_answer_that_names_nothing_wrong_ends_a_rumble_but_no_leak(data: Path) -> None:
    """What a contractor must look at is not settled by silence; what the people judge themselves is."""
    home_id = a_home(data)
    own(data, home_id).report_symptom(Symptom.RUMBLE)
    own(data, home_id, later=1).report_symptom(Symptom.LEAK)
    home = front(data, later=2).one_home(home_id)
    front(data, later=2).answers().submit(
        {"address": home.home().address, "symptoms": "none", "consent": "yes"},
        channel=AnswerChannel.PAPER,
        home_id=home_id,
    )

    assert [(r.what, r.on) for r in home.standing().reported] == [(str(Symptom.LEAK), TOLD + timedelta(days=1))]


def test_the_form_begins_with_what_still_stands(data: Path) -> None:
    """Sending the filled-in form again does not bring back what was settled, nor drop what a crew found."""
    home_id = reported(data, str(Symptom.RUSTY_WATER))
    own(data, home_id, later=1).settle(str(Symptom.RUSTY_WATER), on=TOLD, looked_at=True)
    given = own(data, home_id, later=1).latest_given()
    assert given["symptoms"] == "none"
    assert SETTLED not in given
    crew_found(data, home_id, "leak found", [Symptom.LEAK])
    assert own(data, home_id, later=1).latest_given()["symptoms"] == str(Symptom.LEAK)


def test_settling_is_undone_by_taking_the_answer_back_and_in_the_change_log(data: Path) -> None:
    """It is an act on file like any other: the home takes it back, the volunteer undoes it."""
    home_id = reported(data, str(Symptom.LEAK))
    home = own(data, home_id, later=1)
    home.settle(str(Symptom.LEAK), on=TOLD, looked_at=True)
    said = home.record().answers[-1]
    assert answer_line(said, texts("en")) == "Said on May 4, 2026: settled (water on or under the heater)"
    own(data, home_id, later=2).take_back(said.answer_id)
    assert [r.what for r in home.standing().reported] == [str(Symptom.LEAK)]

    own(data, home_id, later=3).settle(str(Symptom.LEAK), on=TOLD, looked_at=True)
    assert home.standing().reported == ()
    log = front(data, later=4).change_log()
    act = next(a for a in log.acts(limit=5) if a.action == "settle a report")
    log.undo(act.act_id)
    assert [r.what for r in home.standing().reported] == [str(Symptom.LEAK)]


def test_a_day_ahead_or_before_the_report_settles_nothing(data: Path) -> None:
    """The day has to fit, and something of the kind has to stand."""
    home = own(data, reported(data, str(Symptom.RUMBLE)))
    for what, day in (
        (str(Symptom.RUMBLE), TOLD + timedelta(days=1)),
        (str(Symptom.RUMBLE), TOLD - timedelta(days=1)),
        (str(Symptom.LEAK), TOLD),
    ):
        with pytest.raises(ValueError, match=r"day|no longer open"):
            home.settle(what, on=day, looked_at=True)
    assert len(home.standing().reported) == 1


def test_a_new_anode_settles_that_the_old_one_is_spent(data: Path) -> None:
    """The act on file is answer enough; a look that changed nothing is not."""
    home_id = a_home(data)
    crew_found(data, home_id, "anode spent", acts=(ServiceKind.ANODE_CHECK,))
    found = own(data, home_id).standing()
    assert [r.what for r in found.reported] == ["anode spent"]
    (care,) = (c for c in found.cares if c.what == "anode")
    assert (care.state, care.on) == (CareState.DUE, TOLD), "looked at that day, and yet due: it was found spent"
    crew_found(data, home_id, "anode changed", acts=(ServiceKind.ANODE_CHANGE,))
    found = own(data, home_id).standing()
    assert found.reported == ()
    assert next(c for c in found.cares if c.what == "anode").state is CareState.FINE


def test_a_record_says_what_a_crew_found_in_its_readers_language_and_that_a_crew_was_there(data: Path) -> None:
    """No raw keys, the crew's own words as they are, and not "nobody has checked them" where one has looked."""
    home_id, say = a_home(data), texts("es")
    unseen = words_of(record_pdf(own(data, home_id, language="es").record(), say))
    assert say("record-paper-for") in unseen
    crew_found(data, home_id, "anode spent; rod was bent", acts=(ServiceKind.ANODE_CHECK,))
    home = own(data, home_id, language="es")
    assert told_line(home.standing().reported[0], say) == (
        "El 3 de mayo de 2026 el equipo de servicio encontró: el ánodo está gastado."
    )
    paper = words_of(record_pdf(home.record(), say))
    assert "ánodo gastado; rod was bent" in paper
    assert "anode spent" not in paper
    assert say("record-paper-for") not in paper
    assert say("record-paper-for.crew", day=say.day(TOLD)) in paper


def answered(day: date, **given: str) -> Answer:
    """An answer of that day about the home of these tests."""
    return Answer(
        answer_id=f"a{day:%Y%m%d}{sorted(given)}",
        home_id="R-1",
        address_as_typed="1 Fern St",
        channel=AnswerChannel.FORM,
        submitted_at=datetime(day.year, day.month, day.day, 12),
        submitted_by="form",
        answered_on=day,
        given={"address": "1 Fern St", "consent": "yes", **given},
    )


def test_what_was_told_of_a_heater_goes_with_it() -> None:
    """A new heater, by an event or by an answer, begins with nothing reported."""
    leak = answered(date(2026, 5, 3), installed="2012", symptoms=str(Symptom.LEAK))
    new = Event(
        event_id="n", home_id="R-1", kind=EventKind.REPLACEMENT, on=date(2026, 5, 3), told_by="vera", findings=""
    )
    assert home_history(HOME, [leak]).heaters[-1].symptoms == (Symptom.LEAK,)
    assert home_history(HOME, [leak], [new]).reports == ()
    told = home_history(HOME, [leak, answered(date(2026, 7, 1), installed="2026-06-15")])
    assert (told.heaters[-1].symptoms, told.reports) == ((), ())


def test_what_the_first_answer_about_a_new_heater_says_is_of_the_new_one() -> None:
    """On the very day it went in, too; what was told of the old one that the answer replaces is gone."""
    old = answered(date(2026, 5, 3), installed="2012", symptoms=str(Symptom.RUSTY_WATER))
    new = Event(
        event_id="n", home_id="R-1", kind=EventKind.REPLACEMENT, on=date(2026, 7, 1), told_by="vera", findings=""
    )
    first = answered(date(2026, 7, 1), symptoms=str(Symptom.LEAK))

    told = home_history(HOME, [old, first], [new])

    assert [(r.what, r.on) for r in told.reports] == [(str(Symptom.LEAK), date(2026, 7, 1))]
    assert told.heaters[-1].symptoms == (Symptom.LEAK,)


def test_reported_again_after_it_was_settled_it_stands_from_the_new_day() -> None:
    """The same day included: what is told last counts."""
    leak = answered(date(2026, 5, 3), symptoms=str(Symptom.LEAK))
    over = answered(date(2026, 5, 5), **{SETTLED: str(Symptom.LEAK), SETTLED_ON: "2026-05-04"})
    again = answered(date(2026, 5, 5), symptoms=str(Symptom.LEAK))

    told = reports_of([leak, over, again], [], house_year=None)

    assert [(r.on, r.settled) for r in told] == [
        (date(2026, 5, 3), date(2026, 5, 4)),
        (date(2026, 5, 5), None),
    ]


def test_a_crews_own_words_are_no_finding_whatever_they_say() -> None:
    """A note that names a finding in passing leads no page; what was ticked does."""
    job, plan = FLUSH, {"plan_id": "p", "on": TOLD, "told_by": "crew"}
    noted = event_of(Closing(home_id="R-1", outcome=Outcome.DONE, notes="looked; anode spent? no"), job, **plan)
    listed = event_of(Closing(home_id="R-1", outcome=Outcome.DONE, notes="x; anode spent"), job, **plan)
    ticked = event_of(
        Closing(home_id="R-1", outcome=Outcome.DONE, findings=("drain valve will not close",), notes="anode spent"),
        job,
        **plan,
    )

    assert noted is not None
    assert listed is not None
    assert ticked is not None
    assert reports_of([], [noted], house_year=2005) == reports_of([], [listed], house_year=2005) == ()
    assert [r.what for r in reports_of([], [ticked], house_year=2005)] == ["drain valve will not close"]


def test_a_refusal_takes_back_what_its_people_told_and_not_what_a_crew_saw() -> None:
    """No consent is no repair: a leak that a crew found still keeps the next crew away."""
    seen = Event(
        event_id="v", home_id="R-1", kind=EventKind.VISIT, on=TOLD, told_by="crew", seen=(Symptom.LEAK,), findings=""
    )
    both = "rumbling or popping; water on or under the heater"
    told = answered(TOLD - timedelta(days=9), symptoms=both, consent="yes")
    refused = answered(TOLD + timedelta(days=9), consent="no")

    assert [(r.what, r.by_crew) for r in reports_of([told, refused], [seen], house_year=2005)] == [
        (str(Symptom.LEAK), True)
    ]


def test_a_drain_valve_that_will_not_close_is_the_contractors_first(data: Path) -> None:
    """What a crew found last time decides who comes next time."""
    home_id = a_home(data)
    rounds = front(data).service_rounds()
    before = next(c for c in rounds.candidates(FLUSH) if c.home_id == home_id)
    crew_found(data, home_id, "drain valve will not close")
    after = next(c for c in front(data).service_rounds().candidates(FLUSH) if c.home_id == home_id)

    words = named("drain valve will not close", texts("en"))
    assert words not in " ".join(before.reasons)
    assert after.fitness is not Fitness.YES
    if after.fitness is Fitness.ASK:
        assert words in " ".join(after.reasons)
