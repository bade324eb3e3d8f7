"""Several answers about one home read as one history."""

from datetime import date, datetime

from survey_app.histories import home_history
from survey_app.records import Answer, AnswerChannel, EndCause, Home, Tri

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
