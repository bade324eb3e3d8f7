"""What is worked out once for several screens: the right is asked for although the result is there already."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterator
from datetime import datetime
from itertools import count
from pathlib import Path
from typing import Any

import pytest

import survey_app.ui
from survey_app.access import Action, Actor, NotAllowed, Role, allowed
from survey_app.survey import Survey, open_store
from survey_app.ui import session
from survey_app.ui.shared_pages import SHARED_PAGES, SharedPage, shared_page

NOW = datetime(2026, 5, 2, 9, 30)
VOLUNTEER = Actor(name="vera", role=Role.VOLUNTEER)
COMMITTEE = Actor(name="carla", role=Role.COMMITTEE)
VISITOR = Actor(name="a visitor", role=Role.RESIDENT)
HOMES = [Actor(name="r", role=Role.RESIDENT, home_id=h) for h in ("R-1", "R-2")]
EVERYBODY = [VOLUNTEER, COMMITTEE, VISITOR, *HOMES]

every_page = pytest.mark.parametrize("page", SHARED_PAGES.values(), ids=lambda p: p.__name__)


@pytest.fixture
def sit_down(place: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[Actor], None]]:
    """Puts somebody in front of the screen."""
    store = open_store(place)

    def sit(who: Actor) -> None:
        monkeypatch.setattr(session, "survey", lambda: Survey(store, who, now=NOW))

    yield sit
    store.close()


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> Callable[[SharedPage[..., Any]], list[Actor]]:
    """Has a page make a number of its own each time, and tells for whom it was made."""

    def watch(page: SharedPage[..., Any]) -> list[Actor]:
        numbers, seen = count(), []

        def make(found: Survey, *given: object) -> int:
            seen.append(found.actor)
            return next(numbers)

        monkeypatch.setattr(page, "make", make)
        return seen

    return watch


def given_to(page: SharedPage[..., Any], word: str = "1") -> list[str]:
    """Something for each argument of a page but the survey; what it is does not matter where nothing is worked out."""
    return [word for _ in list(inspect.signature(page.make).parameters)[1:]]


@every_page
def test_nobody_without_the_right_gets_a_result_that_is_there_already(
    page: SharedPage[..., Any],
    sit_down: Callable[[Actor], None],
    made: Callable[[SharedPage[..., Any]], list[Actor]],
) -> None:
    """The cache is warm, as asking twice shows; whoever may not see the page gets NotAllowed and no result."""
    words = given_to(page)
    seen = made(page)
    sit_down(VOLUNTEER)
    assert page(*words) == page(*words)
    assert seen == [VOLUNTEER]
    outside = [who for who in EVERYBODY if not allowed(who, page.right, who.home_id).ok]
    assert VISITOR in outside, "a page that everybody may see needs no right, and another place"
    for who in outside:
        sit_down(who)
        with pytest.raises(NotAllowed):
            page(*words)

    assert seen == [VOLUNTEER]


@every_page
def test_roles_share_a_result_only_where_the_page_says_so(
    page: SharedPage[..., Any],
    sit_down: Callable[[Actor], None],
    made: Callable[[SharedPage[..., Any]], list[Actor]],
) -> None:
    """Each role that may see the page has its own result, unless it is the same to all of them."""
    words = given_to(page)
    seen = made(page)
    inside = [who for who in (VOLUNTEER, COMMITTEE) if allowed(who, page.right).ok]
    results = []
    for who in inside:
        sit_down(who)
        results.append(page(*words))

    assert seen == (inside[:1] if page.same_to_every_role else inside)
    assert len({*results}) == len(seen)


def test_no_two_pages_share_a_result(
    sit_down: Callable[[Actor], None], made: Callable[[SharedPage[..., Any]], list[Actor]]
) -> None:
    """All of them asked with the same words: each works out its own."""
    seen = [(page, given_to(page), made(page)) for page in SHARED_PAGES.values()]
    sit_down(VOLUNTEER)
    for page, words, _ in seen:
        page(*words)

    assert [len(times) for _, _, times in seen] == [1] * len(SHARED_PAGES)
    assert len(seen) >= 14


@pytest.fixture
def of_a_home(monkeypatch: pytest.MonkeyPatch) -> Iterator[SharedPage[[str, int], str]]:
    """A page of one home, with an argument that has a usual value; it is forgotten after the test."""
    before = dict(SHARED_PAGES)

    @shared_page(right=Action.READ_HOME, spinner="…")
    def homes_own(found: Survey, word: str, number: int = 3) -> str:
        return f"{found.actor.home_id} {word} {number} {found.state().data_version}"

    yield homes_own
    SHARED_PAGES.clear()
    SHARED_PAGES.update(before)


def test_what_is_one_homes_is_never_anothers(
    of_a_home: SharedPage[[str, int], str], sit_down: Callable[[Actor], None]
) -> None:
    """Two homes ask with the same words: each gets its own, and a visitor without a code nothing."""
    for who in HOMES:
        sit_down(who)
        assert of_a_home("word", 3).startswith(f"{who.home_id} word 3")
    sit_down(VISITOR)
    with pytest.raises(NotAllowed):
        of_a_home("word", 3)


def test_a_result_is_for_its_arguments_its_data_and_its_day(
    of_a_home: SharedPage[[str, int], str],
    made: Callable[[SharedPage[..., Any]], list[Actor]],
    place: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """By place, by name or left out is one call; another argument, a write or the next day is another."""
    seen, store = made(of_a_home), open_store(place)
    who = HOMES[0]
    monkeypatch.setattr(session, "survey", lambda: Survey(store, who, now=NOW))
    of_a_home("word", 3), of_a_home(number=3, word="word"), of_a_home("word")  # type: ignore[call-arg]
    assert len(seen) == 1
    of_a_home("another", 3), of_a_home("word", 4)
    assert len(seen) == 3
    Survey(store, VOLUNTEER, now=NOW).set_up().name_community("Fernhill (synthetic)", synthetic=True)
    of_a_home("word", 3)
    assert len(seen) == 4
    monkeypatch.setattr(session, "survey", lambda: Survey(store, who, now=NOW.replace(day=3)))
    of_a_home("word", 3)
    assert len(seen) == 5
    store.close()


def test_a_page_without_a_right_is_refused_where_it_is_written() -> None:
    """No right, a word instead of one, or one home's results for everybody: an error at the definition."""
    with pytest.raises(TypeError, match="right"):
        shared_page(spinner="…")  # type: ignore[call-arg]
    for wrong in (None, "read everything", lambda found: found.standings()):
        with pytest.raises(TypeError, match="needs the action"):
            shared_page(right=wrong, spinner="…")  # type: ignore[arg-type]
    with pytest.raises(TypeError, match="nobody else"):
        shared_page(right=Action.READ_HOME, spinner="…", same_to_every_role=True)


def test_no_other_module_of_the_app_caches_a_result() -> None:
    """`st.cache_data` stands in one place of the app: a new result that is shared cannot go round its right."""
    app = Path(survey_app.ui.__file__).parent
    found = {
        path.relative_to(app).as_posix()
        for path in app.rglob("*.py")
        if re.search(r"\bcache_data\b|\blru_cache\b|functools\.cache", path.read_text(encoding="utf-8"))
    }
    assert found == {"shared_pages.py"}
