"""Different answers about one home that are left to stand: a decision that holds, ends with a new answer, is undone."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from survey_app.access import Actor, Role
from survey_app.records import AnswerChannel
from survey_app.survey import Survey, open_store

NOW = datetime(2026, 5, 2, 9, 30)


def front(place: Path) -> Survey:
    """The survey as a volunteer."""
    return Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=NOW)


def answer(survey: Survey, home_id: str, day: str, year: str, channel: AnswerChannel = AnswerChannel.PAPER) -> None:
    """One more answer about a home."""
    given = {"address": survey.home_address(home_id), "installed": year, "answered_on": day, "consent": "yes"}
    assert survey.answers().submit(given, channel=channel, home_id=home_id).stored


def test_answers_left_as_they_are_are_settled_until_another_one_comes(data: Path) -> None:
    """Resident against volunteer, left: gone from every list; a third answer brings the question back."""
    survey = front(data)
    home_id = next(s.home.home_id for s in survey.standings() if not s.answered)
    answer(survey, home_id, "2026-04-01", "2010", AnswerChannel.FORM)
    answer(survey, home_id, "2026-04-20", "2018")
    found = survey.differences()
    assert home_id in {d.home.home_id for d in found.all()}
    before = survey.one_home(home_id).standing()

    found.leave_both(home_id)
    assert home_id not in {d.home.home_id for d in found.all()}
    assert home_id in dict(found.left_as_they_are())
    assert survey.one_home(home_id).standing() == before, "nothing but the list has changed"

    answer(survey, home_id, "2026-04-25", "2005")
    assert home_id in {d.home.home_id for d in found.all()}


def test_a_difference_that_was_left_is_looked_at_again(data: Path) -> None:
    """Undone by one word, and forgotten with the home's data."""
    survey = front(data)
    home_id = next(s.home.home_id for s in survey.standings() if not s.answered)
    answer(survey, home_id, "2026-04-01", "2010")
    answer(survey, home_id, "2026-04-20", "2018")
    found = survey.differences()
    found.leave_both(home_id)
    found.look_again(home_id)
    assert home_id in {d.home.home_id for d in found.all()}
    found.leave_both(home_id)
    survey.one_home(home_id).forget()
    assert home_id not in dict(found.left_as_they_are())
