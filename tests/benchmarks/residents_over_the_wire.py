"""Residents who send the form through the real server, over its own websocket, all at once; then the server is killed.

Run as a file::

    PYTHONPATH=. python tests/benchmarks/residents_over_the_wire.py --residents 50

It starts the app as ``start`` does on a folder with an invented community, lets
every resident open the form, pick an address and send, and prints how many
answers a second were stored, how long a submission took, and what was lost or
doubled. Then residents send again while the server is killed outright, and what
was acknowledged is looked for in the records. The residents share the machine's
cores with the server.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections import Counter
from collections.abc import Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import streamlit as st  # noqa: F401  (its messages can be imported only after it)
from fifty_residents import community
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from websockets.asyncio.client import connect

from geo.addresses import readable
from survey_app.survey import open_store

RESIDENTS = 50
_FIELDS = ("text_input", "radio", "button", "multiselect", "checkbox", "selectbox")


@dataclass
class Screen:
    """One browser tab: what the server has drawn on it, and how to touch it."""

    wire: Any
    page: str
    ids: dict[str, str] = field(default_factory=dict)
    states: dict[str, str] = field(default_factory=dict)
    read: list[str] = field(default_factory=list)
    files: list[str] = field(default_factory=list)

    async def touch(
        self, *, button: str | None = None, raw: Mapping[str, str] = {}, query: str = "", times: int = 1
    ) -> None:
        """Send every field's text (and a button, pressed so often at once) and wait until the page is drawn again."""
        back = BackMsg()
        back.rerun_script.page_name = self.page
        back.rerun_script.query_string = query
        for key, text in self.states.items():
            one = back.rerun_script.widget_states.widgets.add()
            one.id, one.string_value = self.ids[key], text
        for identity, text in raw.items():
            one = back.rerun_script.widget_states.widgets.add()
            one.id, one.string_value = identity, text
        if button is not None:
            one = back.rerun_script.widget_states.widgets.add()
            one.id, one.trigger_value = self.ids[button], True
        for _ in range(times):
            await self.wire.send(back.SerializeToString())
        await self.drawn()

    async def drawn(self) -> None:
        """Read what the server draws until its run is over."""
        self.read = []
        while True:
            message = ForwardMsg.FromString(await self.wire.recv())
            kind = message.WhichOneof("type")
            if kind == "delta" and message.delta.WhichOneof("type") == "new_element":
                element = message.delta.new_element
                what = element.WhichOneof("type")
                if what in _FIELDS:
                    identity = getattr(element, what).id
                    self.ids[identity.split("-", 2)[-1]] = identity
                elif what == "download_button":
                    self.files.append(element.download_button.url)
                elif what in ("markdown", "alert", "heading", "html"):
                    self.read.append(getattr(element, what).body)
            elif kind == "script_finished" and message.script_finished == ForwardMsg.FINISHED_SUCCESSFULLY:
                return

    def find(self, end: str) -> str:
        """The field whose key ends so."""
        return next(k for k in self.ids if k.endswith(end))


async def one_resident(port: int, address: str, times: list[float], sent: list[str], gate: asyncio.Event) -> None:
    """Open the form, type and pick the address, wait for the others, tap send twice; note how long it took."""
    url = f"ws://localhost:{port}/_stcore/stream"
    async with connect(url, subprotocols=["streamlit"], max_size=None) as wire:  # type: ignore[list-item]
        screen = Screen(wire, "answer_for_my_home")
        await screen.touch()
        screen.states[screen.find("answer.address_typed")] = address
        await screen.touch()
        screen.states[screen.find("answer.address_pick")] = address
        await screen.touch()
        screen.states[screen.find("answer.kind")] = "Gas, with a tank"
        screen.states[screen.find("answer.installed")] = "2014"
        screen.states[screen.find("answer.consent")] = "Yes"
        await gate.wait()
        began = time.perf_counter()
        await screen.touch(button=screen.find("answer.send"), times=2)
        if not any("Thank" in text for text in screen.read):
            raise AssertionError(f"{address}: not taken: {screen.read[-5:]}")
        times.append(time.perf_counter() - began)
        sent.append(address)


@contextmanager
def served(place: Path, port: int, *, said: Path | None = None) -> Any:
    """The app on a data folder, as ``start`` serves it; ended at the end if it is still there.

    What its terminal would show goes to the file `said`.
    """
    with (said or Path(os.devnull)).open("w") as terminal:
        server = subprocess.Popen(
            [sys.executable, "-m", "survey_app", "start", "--no-open", "--port", str(port), "--data", str(place)],
            stdout=subprocess.DEVNULL,
            stderr=terminal,
            start_new_session=True,
        )
    try:
        for _ in range(600):
            try:
                urllib.request.urlopen(f"http://localhost:{port}/_stcore/health", timeout=1).read()
                break
            except OSError:
                time.sleep(0.1)
        else:
            raise TimeoutError("the server did not start")
        yield server
    finally:
        with suppress(ProcessLookupError):  # it may be gone already
            os.killpg(server.pid, signal.SIGKILL)
        server.wait(timeout=30)


def free_port() -> int:
    """A port that nobody uses now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@dataclass(frozen=True, slots=True)
class Rush:
    """What a rush over the wire left behind."""

    sent: int
    acknowledged: int
    stored: int
    lost: int
    doubled: int
    per_second: float
    median_s: float
    p95_s: float


async def _all(port: int, addresses: Sequence[str], after: float | None, server: subprocess.Popen[bytes]) -> Any:
    times: list[float] = []
    sent: list[str] = []
    gate = asyncio.Event()
    going = [asyncio.create_task(one_resident(port, a, times, sent, gate)) for a in addresses]
    await asyncio.sleep(0)
    ready = asyncio.create_task(_until_ready(going, gate, len(addresses)))
    await ready
    began = time.perf_counter()
    gate.set()
    if after is not None:
        while len(sent) < after * len(addresses):
            await asyncio.sleep(0.002)
        os.killpg(server.pid, signal.SIGKILL)
    ended = await asyncio.gather(*going, return_exceptions=True)
    return times, sent, time.perf_counter() - began, [e for e in ended if e is not None]


async def _until_ready(going: Sequence[asyncio.Task[None]], gate: asyncio.Event, wanted: int) -> None:
    """Until everybody stands at the send button."""
    waiters: Any = gate._waiters  # type: ignore[attr-defined]
    while len(waiters) < wanted:
        if any(t.done() for t in going):
            await asyncio.gather(*(t for t in going if t.done()))
        await asyncio.sleep(0.05)


def rush(place: Path, addresses: Sequence[str], *, kill_after: float | None = None) -> Rush:
    """Let every address's resident send at the same moment; kill the server after a share of them, if asked.

    Returns
    -------
    Rush
        ``lost`` counts acknowledged answers that the records opened afresh do not hold; ``doubled`` homes with two.
    """
    port = free_port()
    store = open_store(place)
    before = Counter(s.answer.home_id for s in store.answers())
    store.close()
    with served(place, port) as server:
        times, sent, took, failed = asyncio.run(_all(port, addresses, kill_after, server))
    if failed and kill_after is None:
        raise failed[0]
    store = open_store(place)
    home_of = {readable(h.address): h.home_id for h in store.homes()}
    there = Counter(s.answer.home_id for s in store.answers()) - before
    store.close()
    mine = {home_of[a] for a in addresses}
    ordered = sorted(times) or [0.0]
    return Rush(
        sent=len(addresses),
        acknowledged=len(sent),
        stored=sum(there[h] for h in mine),
        lost=sum(there[home_of[a]] == 0 for a in sent),
        doubled=sum(there[h] > 1 for h in mine),
        per_second=len(sent) / took,
        median_s=ordered[len(ordered) // 2],
        p95_s=ordered[int(0.95 * len(ordered))],
    )


async def forged(port: int, query: str = "", raw: Mapping[str, str] = {}) -> list[str]:
    """What a stranger reads who sends fields and parameters that no page has drawn."""
    url = f"ws://localhost:{port}/_stcore/stream"
    headers = {"Cookie": "actor=volunteer; session=1; _streamlit_user=eyJpc19sb2dnZWRfaW4iOnRydWV9"}
    async with connect(url, subprotocols=["streamlit"], additional_headers=headers, max_size=None) as wire:  # type: ignore[list-item]
        screen = Screen(wire, "")
        await screen.touch(query=query, raw=raw)
        screen.page = "home_list"
        await screen.touch(query=query, raw=raw)
        return screen.read


def main() -> None:
    """Print what a rush over the wire does."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--residents", type=int, default=RESIDENTS)
    wanted = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        homes = community(place, max(1200, 3 * wanted.residents))
        addresses = [readable(a) for _, a in homes]
        n = wanted.residents
        print(rush(place / "data", addresses[:n]))
        print("killed in the middle:", rush(place / "data", addresses[n : 2 * n], kill_after=0.4))


if __name__ == "__main__":
    main()
