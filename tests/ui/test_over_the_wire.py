"""The real server, spoken to as a browser speaks to it: a small rush, a kill, and strangers who send what they like."""

from __future__ import annotations

import asyncio
import hashlib
import re
import sqlite3
from datetime import datetime
from pathlib import Path

import pytest
from fifty_residents import community
from residents_over_the_wire import Screen, forged, free_port, rush, served
from websockets.asyncio.client import connect

from geo.addresses import readable
from survey_app.access import Actor, Role
from survey_app.survey import Survey, open_store


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A community with shut doors, a volunteer, and no answers."""
    where = tmp_path_factory.mktemp("wire")
    community(where, 60)
    survey = Survey(open_store(where / "data"), Actor(name="v", role=Role.VOLUNTEER), now=datetime.now())
    survey.create_account("vera", "three unrelated words", Role.VOLUNTEER)
    return where / "data"


def addresses(place: Path) -> list[str]:
    """The addresses as the form offers them."""
    return [readable(h.address) for h in open_store(place).homes()]


def test_residents_who_tap_send_twice_at_once_are_stored_once(place: Path) -> None:
    """Eight browsers at the same moment, each tapping twice: eight answers."""
    found = rush(place, addresses(place)[:8])

    assert (found.acknowledged, found.stored, found.lost, found.doubled) == (8, 8, 0, 0)


def test_what_the_server_had_thanked_for_is_there_after_it_was_killed(place: Path) -> None:
    """SIGKILL after a third of twelve: every answer that was thanked for is in the records, none twice."""
    found = rush(place, addresses(place)[20:32], kill_after=0.34)

    assert found.acknowledged >= 4
    assert (found.lost, found.doubled) == (0, 0)


def test_fields_parameters_and_cookies_that_no_page_has_made_open_nothing(place: Path) -> None:
    """An actor as a field, in the address and in a cookie: the visitor's start page, and no home list."""
    with served(place, port := free_port()):
        read = asyncio.run(
            forged(
                port,
                query="actor=volunteer&role=volunteer&home_id=R-1&signed_in_until=2999-01-01",
                raw={"actor": "volunteer", "signed_in_until": "2999-01-01", "stamp": "", "seen_at": "2999-01-01"},
            )
        )
    words = "\n".join(read)
    assert "have answered" in words, "the page was drawn"
    assert "Signed in" not in words
    assert "List of every home" not in words
    assert not [a for a in addresses(place) if a in words]


def test_a_stranger_at_an_empty_server_needs_the_code_that_its_terminal_shows(tmp_path: Path) -> None:
    """Over the websocket: without it nobody becomes the first volunteer; with it somebody does."""
    empty, said = tmp_path / "own", tmp_path / "said.txt"

    async def first(port: int, code: str) -> list[str]:
        url = f"ws://localhost:{port}/_stcore/stream"
        async with connect(url, subprotocols=["streamlit"], max_size=None) as wire:  # type: ignore[list-item]
            screen = Screen(wire, "volunteer_sign_in")
            await screen.touch()
            for end, typed in (("set_up", code), ("name", "vera"), ("password", "three unrelated words")):
                screen.states[screen.find(f"volunteer.{end}")] = typed
            await screen.touch(button=screen.find("volunteer.go"))
            return screen.read

    with served(empty, port := free_port(), said=said):
        told = asyncio.run(first(port, "ABCD-EFGHJ-KMNPQ"))
        assert any("not known" in text for text in told)
        assert open_store(empty).account_names() == []
        shown = re.findall(r"\b[2-9A-Z]{4}-[2-9A-Z]{5}-[2-9A-Z]{5}\b", said.read_text())
        assert len(shown) == 1, "the terminal shows one code"
        asyncio.run(first(port, shown[0]))
    assert open_store(empty).account_names() == [("vera", "volunteer")]


def test_a_try_is_counted_where_the_web_server_before_the_app_says_it_came_from(place: Path) -> None:
    """Behind a web server here, X-Forwarded-For tells two strangers apart; without it all are this machine."""

    async def guess(port: int, headers: dict[str, str]) -> None:
        url = f"ws://localhost:{port}/_stcore/stream"
        async with connect(url, subprotocols=["streamlit"], additional_headers=headers, max_size=None) as wire:  # type: ignore[list-item]
            screen = Screen(wire, "volunteer_sign_in")
            await screen.touch()
            screen.states[screen.find("volunteer.name")] = "vera"
            screen.states[screen.find("volunteer.password")] = "wrong"
            await screen.touch(button=screen.find("volunteer.go"))
            assert any("belong together" in text for text in screen.read)

    with served(place, port := free_port()):
        asyncio.run(guess(port, {"X-Forwarded-For": "203.0.113.5, 198.51.100.7"}))
        asyncio.run(guess(port, {}))
    with sqlite3.connect(place / "survey.sqlite") as db:
        sources = {row[0] for row in db.execute("SELECT source FROM sign_in_try")}
    assert sources == {hashlib.sha256(s.encode()).hexdigest() for s in ("198.51.100.7", "this machine")}
