"""The change log: every act in words, and the way back from it."""

from __future__ import annotations

import itertools
import shutil
from collections.abc import Callable
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some

from survey_app.access import Actor, NotAllowed, Role
from survey_app.records import AnswerChannel, Interest
from survey_app.response import Contacted
from survey_app.settings import with_contacts
from survey_app.store import tables
from survey_app.survey import Survey, open_store
from survey_app.survey import change_log as log
from survey_app.survey.change_log import CannotUndo

NOW = datetime(2026, 5, 2, 9, 30)
SECONDS = itertools.count(1)


def front(place: Path, role: Role = Role.VOLUNTEER) -> Survey:
    """The survey, each time some seconds later than the last."""
    return Survey(open_store(place), Actor(name="vera", role=role), now=NOW + timedelta(seconds=next(SECONDS)))


def newest(place: Path) -> int:
    """The number of the newest act."""
    return front(place).change_log().acts(limit=1)[0].act_id


def picture(place: Path) -> dict[str, Any]:
    """What the records say, but for answers that count for nothing."""
    survey = front(place)
    store = survey._context.store
    at = Survey(store, survey.actor, now=NOW)
    found = {
        "standings": at.standings(),
        "doubtful": [(d.answer.answer_id, d.state, d.candidates) for d in survey.answers().doubtful()],
        "notes": store.contact_notes(),
        "settings": survey.settings(),
        "replies": store.offer_replies(),
        "differences": [(d.home.home_id, d.sentences) for d in survey.differences().all()],
        "left": survey.differences().left_as_they_are(),
    }
    store.close()
    return found


def answer(place: Path, number: int, year: int) -> None:
    """A paper form for one of the homes, an answered one or not."""
    survey = front(place)
    home = survey._context.store.homes()[number]
    words = {"address": home.address, "kind": "gas storage", "installed": str(year), "consent": "yes"}
    survey.answers().submit(words, channel=AnswerChannel.PAPER, home_id=home.home_id)


def decide(place: Path, number: int, year: int) -> None:
    """A doubtful answer joined to its first candidate, or set aside."""
    survey = front(place)
    waiting = survey.answers().doubtful()
    one = waiting[number % len(waiting)]
    if one.candidates and year % 2:
        survey.answers().accept(one.answer.answer_id, one.candidates[0].place_id)
    else:
        survey.answers().set_aside(one.answer.answer_id)


def note(place: Path, number: int, year: int) -> None:
    """A note at a door."""
    survey = front(place)
    outcome = list(Contacted)[year % len(Contacted)]
    survey.responses().note(survey._context.store.homes()[number].home_id, outcome, on=date(2026, 5, 1), words="gate")


def setting(place: Path, number: int, year: int) -> None:
    """Settings, one or two at once, or a number to call."""
    survey = front(place)
    now = survey.settings()
    if year % 3:
        survey.set_up().change_settings(
            now.model_copy(update={"flush_every_years": 0.5 + number % 5, "default_warranty_years": 7})
        )
    else:
        survey.set_up().change_settings(with_contacts(now, {"volunteer": f"Vera, 555-01{number:02d}"}))


def reply(place: Path, number: int, year: int) -> None:
    """A word about an offer."""
    survey = front(place)
    home_id = survey._context.store.homes()[number].home_id
    survey.one_home(home_id).reply_to_offer(
        Interest.MAYBE, limit_usd=float(year), latest=date(2027, 1, number % 28 + 1)
    )


def leave(place: Path, number: int, year: int) -> None:
    """A difference left as it is, or one answer kept alone."""
    survey = front(place)
    every = survey.differences().all()
    if every:
        one = every[number % len(every)]
        if year % 2:
            survey.differences().leave_both(one.home.home_id)
        else:
            survey.differences().keep(one.home.home_id, one.answers[0].answer_id)


ACTS: tuple[Callable[[Path, int, int], None], ...] = (answer, decide, note, setting, reply, leave)


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    some.lists(
        some.tuples(some.sampled_from(ACTS), some.integers(0, 40), some.integers(2006, 2024)), min_size=1, max_size=6
    )
)
def test_whatever_was_done_undone_from_the_newest_on_leaves_what_was_there(
    demo_data: Path, tmp_path: Path, acts: list[tuple[Callable[[Path, int, int], None], int, int]]
) -> None:
    """Any acts in any order: standings, lists, notes, settings and replies are as before; redoing brings them back."""
    place = tmp_path / f"data{next(SECONDS)}"
    shutil.copytree(demo_data, place)
    before, first = picture(place), newest(place)
    for act, number, year in acts:
        act(place, number, year)
    done = picture(place)
    fresh = [a.act_id for a in front(place).change_log().acts() if a.act_id > first]
    for act_id in fresh:
        front(place).change_log().undo(act_id)
    assert picture(place) == before
    undone = [a.act_id for a in front(place).change_log().acts(limit=len(fresh))]
    assert all(a.action.startswith("undo: ") for a in front(place).change_log().acts(limit=len(fresh)))
    for act_id in undone:
        front(place).change_log().undo(act_id)
    assert picture(place) == done


def test_an_import_is_undone_in_one_and_its_answers_are_kept(data: Path) -> None:
    """Every home is silent again; every answer is still on file, set aside; undoing the undoing restores it all."""
    before, count = picture(data), len(front(data)._context.store.answers())
    (taken,) = [a for a in front(data).change_log().acts(limit=9) if a.action == "take answers"]
    assert "answers: " in taken.what

    front(data).change_log().undo(taken.act_id)

    survey = front(data)
    assert survey.how_many()[1] == 0
    assert (
        len(survey._context.store.answers(join_state="set aside"))
        == len(survey._context.store.answers())
        == count
        >= 50
    )
    front(data).change_log().undo(newest(data))
    assert picture(data) == before


def test_what_was_changed_again_since_is_not_undone_under_it(data: Path) -> None:
    """The later change first: an undo never overwrites what somebody did after it."""
    setting(data, 1, 2010)
    first = newest(data)
    setting(data, 2, 2010)
    now = picture(data)

    with pytest.raises(CannotUndo, match="later change first"):
        front(data).change_log().undo(first)
    with pytest.raises(CannotUndo, match="Look at the list again"):
        front(data).change_log().undo(10_000_000)

    assert picture(data) == now


def test_an_answer_moved_since_is_not_undone_under_it(data: Path) -> None:
    """Taken, then set aside by hand: undoing the taking is refused, and nothing of it is half done."""
    answer(data, 3, 2015)
    taken = newest(data)
    survey = front(data)
    (stored,) = [
        s for s in survey._context.store.answers() if s.answer.submitted_by == "vera" and s.answer.channel == "paper"
    ]
    survey.answers().set_aside(stored.answer.answer_id)
    now = picture(data)

    with pytest.raises(CannotUndo, match="later change first"):
        front(data).change_log().undo(taken)
    assert picture(data) == now


def test_what_cannot_come_back_says_why_and_what_to_do(data: Path) -> None:
    """Codes, parcels, a deletion: each with its own sentence, and the undo refuses with the same."""
    answer(data, 3, 2015)
    given = newest(data)
    survey = front(data)
    home_id = survey._context.store.homes()[3].home_id
    survey.sign_in_rights().issue_codes([home_id])
    front(data).one_home(home_id).forget()
    acts = {a.act_id: a for a in front(data).change_log().acts()}
    why = {a.action: a.why_not for a in acts.values()}

    assert "print new letters" in why["issue private codes"]
    assert "load the earlier file" in why["load parcels"]
    assert why["delete a home's data"]
    assert "asked for these data to be deleted" in acts[given].why_not
    for act in acts.values():
        if act.why_not:
            with pytest.raises(CannotUndo, match=act.why_not[:20]):
                front(data).change_log().undo(act.act_id)


def test_undoing_an_import_leaves_out_a_home_that_had_its_data_deleted(data: Path) -> None:
    """The rest of it can still be undone and redone; the deleted home stays silent."""
    survey = front(data)
    home = next(s.home for s in survey.standings() if s.answered)
    (taken,) = [a for a in survey.change_log().acts(limit=9) if a.action == "take answers"]
    front(data).one_home(home.home_id).forget()
    answered = front(data).how_many()[1]

    front(data).change_log().undo(taken.act_id)
    assert front(data).how_many()[1] == 0
    front(data).change_log().undo(newest(data))

    assert front(data).how_many()[1] == answered
    assert not front(data).one_home(home.home_id).standing().answered


def test_the_log_of_one_home_holds_its_acts_and_no_others(data: Path) -> None:
    """A note and an answer of this home are there; the note of another home is not."""
    homes = front(data)._context.store.homes()
    note(data, 5, 2010)
    note(data, 6, 2011)
    answer(data, 5, 2012)
    found = front(data).change_log().acts(home_id=homes[5].home_id)

    assert [a.action for a in found][:2] == ["take answers", "note a contact"]
    assert found[1].addresses == (homes[5].address,)
    assert all(homes[6].address not in a.addresses for a in found if a.action == "note a contact")


def test_the_log_is_the_volunteers(data: Path) -> None:
    """Nobody else reads it."""
    with pytest.raises(NotAllowed):
        front(data, Role.COMMITTEE).change_log()
    with pytest.raises(NotAllowed):
        front(data, Role.RESIDENT).change_log()


def test_every_table_and_kind_of_entry_has_a_word_and_a_way() -> None:
    """A new table, or a new kind of entry, must be named here and be put back, follow from others, or say why not."""
    kinds = {t.name for t in tables.metadata.sorted_tables} - {"change_log", "sign_in_try"}
    for kind in kinds | {"setting", "difference", "backup"}:
        assert kind in log._NAMES or kind in log._FOLLOWS, kind
        with_others = {"setting", "difference", "phase"}
        assert kind in {*log._ROWS, *log._FOLLOWS, *log._WHY_NOT, *with_others}, kind
