"""A real browser, from the resident's form to the map: the way a neighbor and the volunteer would walk it."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from serving import served

from geo.addresses import readable
from survey_app.access import Actor, Role
from survey_app.survey import Survey, open_store

playwright_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
CHROMIUM = shutil.which("chromium")
pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(CHROMIUM is None, reason="Debian's chromium is not installed"),
]


@pytest.fixture
def address_of_app(data: Path) -> Iterator[str]:
    """The app, served on the demo's data folder as `heater-survey start` serves it."""
    with served(data) as app:
        yield app.url


@pytest.mark.parametrize("width", [390, 1280])
def test_from_the_residents_form_to_the_map(address_of_app: str, data: Path, width: int) -> None:
    """A resident answers on a phone or a desk; the volunteer finds that home's card on the map; nothing leaves."""
    volunteer = Survey(open_store(data), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2))
    home = next(s.home for s in volunteer.standings() if not s.answered and "UNIT" not in s.home.address)
    with playwright_api.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_context(viewport={"width": width, "height": 850}, bypass_csp=True).new_page()
        page.set_default_timeout(90_000)
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.goto(address_of_app)
        page.get_by_role("link", name=re.compile("Tell us about my heater")).click()
        page.get_by_label("Which address is it?").fill(home.address.lower())
        page.get_by_label("Which address is it?").press("Enter")
        page.get_by_text(readable(home.address), exact=True).first.click()
        page.get_by_text("Gas, with a tank").click()
        page.get_by_label("When was it installed?").fill("about 2010")
        page.get_by_label("How many years is its warranty?").fill("6")
        page.get_by_role("button", name="Send").click()
        page.get_by_text("Thank you. Your answer is stored.").wait_for()
        page.get_by_text("This heater is past twice its warranty.").wait_for()
        wide = page.evaluate("document.documentElement.scrollWidth")

        assert wide <= width

        page.goto(address_of_app)
        page.get_by_role("button", name=re.compile("volunteer's door")).click()
        page.get_by_role("heading", name="Where the survey stands").wait_for()
        if width < 700:
            page.get_by_test_id("stExpandSidebarButton").click()
        page.get_by_role("link", name="Map of every home").click()
        frame = page.frame_locator("iframe")
        frame.locator("#search").fill(home.address)
        frame.locator("#search").press("Enter")
        card = frame.locator("#card")
        card.get_by_text("Past twice its warranty").first.wait_for()

        assert home.address in card.inner_text()
        outside = [u for u in asked if not u.startswith((address_of_app, "ws://127.0.0.1", "data:", "blob:", "about:"))]
        assert not outside
        browser.close()


def test_the_residents_pages_have_no_serious_fault_of_access(address_of_app: str, data: Path) -> None:
    """Axe finds nothing serious on the start, the form and its answer, but what Streamlit's own menu brings."""
    axe_api = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe is not installed")
    volunteer = Survey(open_store(data), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2))
    home = next(s.home for s in volunteer.standings() if not s.answered and "UNIT" not in s.home.address)
    with playwright_api.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_context(viewport={"width": 390, "height": 850}, bypass_csp=True).new_page()
        page.set_default_timeout(90_000)
        page.goto(address_of_app)
        page.get_by_role("heading", name="How old is your water heater?").wait_for()
        found = faults(axe_api.Axe().run(page))
        page.get_by_role("link", name=re.compile("Tell us about my heater")).click()
        page.get_by_label("Which address is it?").fill(home.address)
        page.get_by_label("Which address is it?").press("Enter")
        page.get_by_text(readable(home.address), exact=True).first.click()
        page.get_by_role("heading", name="Your water heater").wait_for()
        found += faults(axe_api.Axe().run(page))
        page.get_by_label("When was it installed?").fill("2012")
        page.get_by_role("button", name="Send").click()
        page.get_by_text("Thank you. Your answer is stored.").wait_for()
        found += faults(axe_api.Axe().run(page))
        browser.close()

    assert not found


def faults(results: object) -> list[str]:
    """Serious faults by rule and element, without those of Streamlit's own menu."""
    return [
        f"{violation['id']}: {node['html'][:120]}"
        for violation in results.response["violations"]
        if violation["impact"] in ("serious", "critical")
        for node in violation["nodes"]
        if "stSidebarNav" not in node["html"] and "e1o1t1hb" not in node["html"]
    ]
