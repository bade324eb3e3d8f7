"""Several answers about one home read as one history."""

from dataclasses import replace
from datetime import date, datetime

from survey_app.histories import home_history, wishes_of
from survey_app.records import (
    Answer,
    AnswerChannel,
    EndCause,
    Event,
    EventKind,
    HalfDay,
    HeaterKind,
    Home,
    Interest,
    ServiceKind,
    Symptom,
    Tri,
)

HOME = Home(home_id="R-1", parcel_id="R-1", address="1 FERN ST", street="FERN ST", phase_id="P1", built_year=2004)


def answer(day: date, **given: str) -> Answer:
    """An answer given on a day."""
    return Answer(
        answer_id=f"a{day:%Y%m%d}{len(given)}",
        home_id="R-1",
        address_as_typed="1 fern st",
        channel=AnswerChannel.FORM,
        submitted_at=datetime(day.year, day.month, day.day, 12),
        submitted_by="resident",
        answered_on=day,
        given={"address": "1 fern st", "consent": "yes", **given},
    )


def test_a_later_answer_fills_what_the_earlier_left_open() -> None:
    """Kind from the first, date from the second; "not sure" wipes out nothing."""
    told = home_history(
        HOME,
        [
            answer(date(2025, 5, 1), kind="gas storage", softener="yes"),
            answer(date(2026, 5, 1), installed="2012", kind="unknown", softener="not sure"),
        ],
    )

    assert len(told.heaters) == 1
    assert told.heaters[0].kind == "gas storage"
    assert told.heaters[0].installed.best.year == 2012  # type: ignore[union-attr]
    assert Tri.YES is told.home.softener
    assert told.disagreements == ()


def test_the_order_of_the_answers_does_not_matter() -> None:
    """Answers are put in the order they were given."""
    answers = [
        answer(date(2024, 5, 1), installed="2012", heater_number="first"),
        answer(date(2025, 5, 1), installed="2013"),
        answer(date(2026, 5, 1), installed="2025", previous_end="failed"),
    ]

    assert home_history(HOME, answers) == home_history(HOME, answers[::-1])


def test_a_heater_installed_after_the_last_answer_is_the_next_one() -> None:
    """The earlier heater ends in between, with the cause told in the later answer."""
    told = home_history(
        HOME,
        [
            answer(date(2024, 5, 1), installed="2012", kind="gas storage"),
            answer(date(2026, 5, 1), installed="2025", previous_end="failed", kind="electric storage"),
        ],
    )

    assert [h.sequence for h in told.heaters] == [1, 2]
    gone, current = told.heaters
    assert EndCause.FAILED is gone.end_cause
    assert gone.removed is not None
    assert date(2025, 1, 1) <= gone.removed.earliest <= gone.removed.latest <= date(2025, 12, 31)
    assert current.in_service
    assert current.kind == "electric storage"


def test_the_next_heater_is_known_by_its_year_though_memory_is_wider() -> None:
    """2027, told in 2030 from memory, is after the answer of 2026: a new heater, not in place before that answer."""
    told = home_history(
        HOME,
        [
            answer(date(2026, 5, 1), installed="2012", kind="gas storage"),
            answer(date(2030, 5, 1), installed="2027", installed_evidence="memory", previous_end="failed"),
        ],
    )
    first, second = told.heaters
    assert second.installed is not None
    assert (second.installed.earliest, second.installed.latest) == (date(2026, 5, 1), date(2028, 12, 31))
    assert first.removed is not None
    assert first.removed.earliest == date(2026, 5, 1)


def test_answers_that_contradict_each_other_are_told() -> None:
    """Both dates are named; the newest counts until the volunteer decides."""
    told = home_history(
        HOME,
        [answer(date(2025, 5, 1), installed="2012"), answer(date(2025, 9, 1), installed="2016")],
    )

    assert len(told.disagreements) == 1
    assert "2012" in told.disagreements[0]
    assert "2016" in told.disagreements[0]
    assert told.heaters[0].installed.best.year == 2016  # type: ignore[union-attr]


def test_an_earlier_ten_years_ago_still_counts_from_its_own_day() -> None:
    """Words like "10 years ago" are read on the day they were said, also after a later answer."""
    told = home_history(
        HOME,
        [answer(date(2016, 5, 1), installed="10 years ago"), answer(date(2026, 5, 1), kind="gas storage")],
    )

    assert told.heaters[0].installed is not None
    assert told.heaters[0].installed.best.year == 2006


def test_a_refusal_ends_what_was_told_before() -> None:
    """Who says no later is not counted by what was said before."""
    told = home_history(HOME, [answer(date(2025, 5, 1), installed="2012"), answer(date(2026, 5, 1), consent="no")])

    assert told.heaters == ()


def test_no_answer_leaves_a_home_as_the_county_has_it() -> None:
    """Nothing told, nothing known."""
    told = home_history(HOME, [])

    assert told.home == HOME
    assert told.heaters == ()


def test_every_flush_told_over_the_years_is_kept_once() -> None:
    """A record of maintenance loses nothing: last year's flush stays when this year's is told, and none is doubled."""
    told = home_history(
        HOME,
        [
            answer(date(2024, 6, 1), installed="2012", last_flush="2024", remarks="a"),
            answer(date(2024, 7, 1), last_flush="May 2024"),
            answer(date(2026, 5, 1), last_flush="2026-04-02", last_anode="2023", anode_work="changed"),
        ],
    )

    flushes = [s.done.best for s in told.services if s.kind == "flush"]
    assert [d.year for d in flushes] == [2024, 2026]
    assert flushes[0].month == 5, "the narrower date of the same act is kept"
    assert [s.kind for s in told.services].count("anode change") == 1
    assert {s.heater_id for s in told.services} == {told.heaters[-1].heater_id}


def visit(day: date, *acts: ServiceKind, seen: tuple[Symptom, ...] = (), findings: str = "") -> Event:
    """A crew's visit."""
    return Event(
        event_id=f"v{day:%Y%m%d}", home_id="R-1", kind=EventKind.VISIT, on=day, told_by="crew", acts=acts, seen=seen,
        findings=findings,
    )  # fmt: skip


def test_a_crews_visit_is_on_file_beside_what_was_answered() -> None:
    """A flush by the crew is dated to the day, its findings kept, and "never flushed" no longer holds."""
    told = home_history(
        HOME,
        [answer(date(2026, 1, 5), installed="2018", last_flush="never", last_anode="2024")],
        [visit(date(2026, 3, 4), ServiceKind.FLUSH, findings="white grit")],
    )

    flush = next(s for s in told.services if s.kind is ServiceKind.FLUSH)
    assert (flush.done.earliest, flush.findings) == (date(2026, 3, 4), "white grit")
    assert ServiceKind.FLUSH not in told.heaters[-1].never_done
    assert any(s.kind is ServiceKind.ANODE_CHECK for s in told.services)


def test_the_crews_day_replaces_a_rougher_date_of_the_same_act() -> None:
    """The resident later says "2026"; the crew's day stays, once."""
    told = home_history(
        HOME,
        [answer(date(2026, 6, 5), installed="2018", last_flush="2026")],
        [visit(date(2026, 3, 4), ServiceKind.FLUSH)],
    )

    assert [s.done.earliest for s in told.services] == [date(2026, 3, 4)]


def test_a_leak_the_crew_found_shows_on_the_heater_in_service() -> None:
    """What the crew saw counts like a resident's own report."""
    told = home_history(
        HOME, [answer(date(2026, 1, 5), installed="2018")], [visit(date(2026, 3, 4), seen=(Symptom.LEAK,))]
    )

    assert told.heaters[-1].symptoms == (Symptom.LEAK,)


def bought(day: date) -> Event:
    """A heater bought with the neighbors."""
    return Event(
        event_id="b1", home_id="R-1", kind=EventKind.REPLACEMENT, on=day, told_by="vera",
        kind_of_heater=HeaterKind.GAS_STORAGE, tank_gallons=50, warranty_years=9, end_cause=EndCause.REPLACED,
    )  # fmt: skip


def test_a_replacement_ends_the_old_heater_and_begins_a_new_one() -> None:
    """The old one was replaced before failing, on that day; the new one carries its warranty and no old symptom."""
    told = home_history(
        HOME,
        [answer(date(2026, 1, 5), installed="2012", heater_number="first", symptoms="rumbling or popping")],
        [bought(date(2026, 4, 1))],
    )
    old, new = told.heaters

    assert old.removed is not None
    assert (old.removed.earliest, old.end_cause) == (date(2026, 4, 1), EndCause.REPLACED)
    assert new.in_service
    assert (new.warranty_years, new.number_in_home, new.symptoms) == (9, 2, ())
    assert new.installed is not None
    assert new.installed.earliest == date(2026, 4, 1)


def test_a_replacement_the_resident_also_tells_of_is_counted_once() -> None:
    """An answer after the purchase speaks of the same heater: two heaters, not three; the event's day is kept."""
    told = home_history(
        HOME,
        [answer(date(2026, 1, 5), installed="2012"), answer(date(2027, 1, 5), installed="2026", kind="gas storage")],
        [bought(date(2026, 4, 1))],
    )

    assert len(told.heaters) == 2
    assert told.heaters[0].end_cause is EndCause.REPLACED
    assert told.heaters[1].installed is not None
    assert told.heaters[1].installed.earliest == date(2026, 4, 1)


def test_wishes_are_the_latest_word_on_each_and_a_refusal_ends_them() -> None:
    """What is "not sure" wipes out nothing; the first wish is dated; after a no to the survey nothing is left."""
    answers = [
        answer(date(2025, 1, 5), flush_day="yes", weekdays="mon;tue", contact="555-0100"),
        answer(date(2026, 1, 5), flush_day="not sure", anode_day="maybe", half_day="am"),
    ]
    wish = wishes_of(HOME, answers)

    assert (wish.flush_day, wish.anode_day) == (Interest.YES, Interest.MAYBE)
    assert (wish.weekdays, wish.half_day, wish.contact) == (("mon", "tue"), HalfDay.MORNING, "555-0100")
    assert wish.asked_on == date(2025, 1, 5)
    refused = replace(answers[1], answer_id="no", answered_on=date(2026, 2, 1), given={"address": "x", "consent": "no"})
    assert wishes_of(HOME, [*answers, refused]).flush_day is Interest.UNKNOWN
