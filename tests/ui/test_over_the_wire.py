"""The real server, spoken to as a browser speaks to it: a small rush, a kill, and strangers who send what they like."""

from __future__ import annotations

import asyncio
import hashlib
import json
import os
import re
import signal
import sqlite3
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Mapping
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from fifty_residents import community
from residents_over_the_wire import Screen, forged, free_port, rush, served
from websockets.asyncio.client import connect
from websockets.exceptions import ConnectionClosed, InvalidStatus

from geo.addresses import readable
from survey_app.access import Actor, Role
from survey_app.survey import Survey, open_store


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A community with shut doors, a volunteer, and no answers."""
    where = tmp_path_factory.mktemp("wire")
    community(where, 60)
    survey = Survey(open_store(where / "data"), Actor(name="v", role=Role.VOLUNTEER), now=datetime.now())
    survey.sign_in_rights().create_account("vera", "three unrelated words", Role.VOLUNTEER)
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


# ---- the server's own settings ---------------------------------------------------------------

_LOOSE = """
[server]
enableCORS = false
enableXsrfProtection = false
enableAgentApi = true
maxUploadSize = 500
maxWidgetStateSize = 100
enableStaticServing = true
[client]
showErrorDetails = "full"
[browser]
gatherUsageStats = true
"""


def asked(port: int, path: str, **more: Any) -> tuple[int, str, Mapping[str, str]]:
    """What the server answers: status, text, headers."""
    request = urllib.request.Request(f"http://127.0.0.1:{port}{path}", **more)
    try:
        with urllib.request.urlopen(request, timeout=10) as answer:
            return answer.status, answer.read().decode("utf-8", "replace"), answer.headers
    except urllib.error.HTTPError as error:
        return error.code, error.read().decode("utf-8", "replace"), error.headers


async def drawn(port: int, *, origin: str | None = None, host: str = "127.0.0.1", signs: int = 0) -> str:
    """Whether a browser of some origin, speaking to some name, gets a page; "refused" or "cut off" else."""
    url = f"ws://{host}:{port}/_stcore/stream"
    try:
        async with connect(  # type: ignore[list-item]
            url, subprotocols=["streamlit"], origin=origin, host="127.0.0.1", port=port, max_size=None
        ) as wire:
            screen = Screen(wire, "")
            await screen.touch(raw={"x": "y" * signs} if signs else {})
            return "drawn" if screen.read else "empty"
    except InvalidStatus as refusal:
        return f"refused {refusal.response.status_code}"
    except ConnectionClosed:
        return "cut off"


def test_the_servers_settings_hold_against_a_loosened_configuration_of_the_user(
    place: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another origin's page, a forged upload, a flood of a field, the programs' door: refused, whatever is configured.

    OWASP Cross-Site Request Forgery Prevention and WebSocket Security cheat sheets: check the origin, ask for a token.
    """
    (tmp_path / ".streamlit").mkdir()
    (tmp_path / ".streamlit" / "config.toml").write_text(_LOOSE)
    monkeypatch.setenv("HOME", str(tmp_path))
    with served(place, port := free_port()):
        own = f"http://127.0.0.1:{port}"
        assert asyncio.run(drawn(port, origin=own)) == "drawn"
        ours_by_name = (f"http://{h}:{port}" for h in ("evil.example", "localhost.evil.example"))
        for origin in ("https://evil.example", "null", *ours_by_name):
            assert asyncio.run(drawn(port, origin=origin)) == "refused 403", origin
        assert asyncio.run(drawn(port, signs=8_000_000)) == "cut off"
        assert asyncio.run(drawn(port, origin=own)) == "drawn", "and the server goes on"

        status, _, _ = asked(port, "/_stcore/upload_file/session/file", method="PUT", data=b"x")
        assert status == 403, "no token"
        status, text, _ = asked(port, "/_stcore/agent/openapi.json")
        assert status == 404 or "switched off" in text
        _, text, headers = asked(port, "/_stcore/host-config", headers={"Origin": "https://evil.example"})
        assert "Access-Control-Allow-Origin" not in headers
        assert json.loads(text)["allowedOrigins"] == ["http://localhost"], "no host may steer the app from around it"
        for path in ("/media/" + "0" * 56 + ".json", "/app/static/../app.py", "/..%2f..%2fetc/passwd", "/_stcore/x"):
            status, text, _ = asked(port, path)
            assert status == 404 or "root:" not in text
            assert "import streamlit" not in text


def test_the_demo_answers_to_this_machines_own_names_only(place: Path) -> None:
    """A page elsewhere whose name was made to mean this machine does not walk into its open doors."""
    port = free_port()
    code = f"from survey_app.cli.serving import _serve; _serve({str(place)!r}, {port}, False, here_alone=True)"
    server = subprocess.Popen([sys.executable, "-c", code], stderr=subprocess.DEVNULL, start_new_session=True)
    try:
        for _ in range(300):
            with suppress(OSError):
                if asked(port, "/_stcore/health")[0] == 200:
                    break
            time.sleep(0.1)
        assert asyncio.run(drawn(port, origin=f"http://localhost:{port}", host="localhost")) == "drawn"
        rebound = asyncio.run(drawn(port, origin=f"http://evil.example:{port}", host="evil.example"))
        assert rebound.startswith("refused")
        server.terminate()
        server.wait(timeout=20)
        with pytest.raises(OSError, match=r"refused|reset"):
            asked(port, "/_stcore/health")
    finally:
        with suppress(ProcessLookupError):
            os.killpg(server.pid, signal.SIGKILL)
        server.wait(timeout=20)


def test_a_file_made_for_one_screen_has_an_address_that_is_a_digest_and_answers_no_other(place: Path) -> None:
    """The address of a download is a digest of its content, told to the screen it is for; a guess finds nothing."""

    async def made(port: int) -> tuple[str, int, int]:
        url = f"ws://127.0.0.1:{port}/_stcore/stream"
        async with connect(url, subprotocols=["streamlit"], max_size=None) as wire:  # type: ignore[list-item]
            screen = Screen(wire, "leaking_now")
            await screen.touch()
            path = screen.files[0]
            there, _, _ = await asyncio.to_thread(asked, port, path)
            name = path.rsplit("/", 1)[1]
            guess = path.replace(name, name[::-1].removeprefix("lmth.") + ".html")
            return path, there, (await asyncio.to_thread(asked, port, guess))[0]

    with served(place, port := free_port()):
        path, there, guessed = asyncio.run(made(port))
    assert re.search(r"/media/[0-9a-f]{32,64}\.html", path), path
    assert (there, guessed) == (200, 404)
