"""A real browser reads hostile words: it asks nobody but the app, and nothing of theirs runs."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from serving import served

from survey_app.access import Actor, Role
from survey_app.records import AnswerChannel
from survey_app.survey import Doors, Survey, open_store

playwright_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
CHROMIUM = shutil.which("chromium")
pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(CHROMIUM is None, reason="Debian's chromium is not installed"),
]
OUT = "192.0.2.9"
BAD = f"![p](http://{OUT}/p.png) <img src=http://{OUT}/i onerror=window.hacked=1> :red[red] $y$ http://{OUT}/a"
PAGES = ("Decide doubtful addresses", "Settle differences", "Where the survey stands", "Who may sign in", "Set up",
         "Map of every home", "List of every home", "My record")  # fmt: skip


@pytest.fixture
def poisoned(data: Path) -> Iterator[str]:
    """The app on a community with hostile words in remarks, addresses, names and its own name."""
    store = open_store(data)
    survey = Survey(store, Actor(name=f"vera {BAD}", role=Role.VOLUNTEER), now=datetime.now())
    survey.set_up().name_community(f"Fernhill {BAD}", synthetic=True, open_doors=True)
    mine = Doors(store).step_into_a_home().home_id
    with store.writing(who="p", action="poison", at=survey.now) as write:
        write.put([replace(h, address=f"{h.address} {BAD}", street=f"{h.street} {BAD}") for h in store.homes()])
    survey.sign_in_rights().invite(f"dora {BAD}"[:110], Role.VOLUNTEER)
    home = next(h for h in store.homes() if h.home_id == mine)
    for year in ("2011", "2019"):
        given = {"address": home.address, "installed": year, "remarks": BAD, "contact": BAD, "consent": "yes"}
        survey.answers().submit({**given, "kind": "gas storage"}, channel=AnswerChannel.PAPER, home_id=mine)
    stranger = Survey(store, Actor(name="stranger", role=Role.RESIDENT), now=datetime.now())
    stranger.answers().submit(
        {"address": BAD, "remarks": BAD, "contact": BAD, "consent": "yes"}, channel=AnswerChannel.FORM
    )
    store.close()
    with served(data) as app:
        yield app.url


HEADERS = {
    "Content-Security-Policy": "frame-ancestors 'none'; base-uri 'self'; object-src 'none'; form-action 'self'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
}
"""What DEVELOPERS.md advises a web server before the app to send."""


def with_headers(route: Any) -> None:
    """The app's own pages with the headers of a web server before it."""
    if not route.request.is_navigation_request():
        route.continue_()
        return
    answer = route.fetch()
    kept = {k: v for k, v in answer.headers.items() if k not in ("content-encoding", "content-length")}
    route.fulfill(status=answer.status, body=answer.body(), headers={**kept, **HEADERS})


def test_a_picture_in_a_note_makes_no_browser_call_out(poisoned: str) -> None:
    """Page by page: every request goes to the app, no picture, no script, no formula; with the headers advised, too."""
    with playwright_api.sync_playwright() as play:
        # A page that a test hands over is not taken for one of this machine: its websocket would be blocked.
        flags = ["--no-sandbox", "--disable-gpu", "--disable-features=LocalNetworkAccessChecks"]
        browser = play.chromium.launch(executable_path=CHROMIUM, args=flags)
        page = browser.new_context(viewport={"width": 1280, "height": 900}).new_page()
        page.set_default_timeout(40_000)
        page.route("**/*", with_headers)
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.goto(poisoned)
        page.get_by_role("button", name="Open the volunteer's door").click()
        page.get_by_role("heading", name="Where the survey stands").first.wait_for()
        seen = 0
        for name in PAGES:
            page.get_by_test_id("stSidebarNav").get_by_role("link", name=name, exact=True).click()
            if name != "My record":
                page.get_by_role("heading", name=name).first.wait_for()
            page.wait_for_timeout(1500)
            words = page.locator("section.stMain, [data-testid=stMain]").first.inner_text()
            seen += words.count(f"![p](http://{OUT}/p.png)")
            assert page.locator(f"img[src*='{OUT}']").count() == 0, name
            assert page.evaluate("window.hacked") is None, name
            assert page.locator(".katex").count() == 0, name
        browser.close()
    strange = [url for url in asked if not url.startswith((poisoned, poisoned.replace("http", "ws"), "data:", "blob:"))]
    assert [u for u in strange if not u.startswith("about:")] == []
    assert seen >= len(PAGES), "the words were on every page, as words"
