"""A resident with one hand and no mouse: the way through the resident's door by keyboard alone, on a phone's width."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from serving import served

from survey_app.texts import texts

playwright_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
CHROMIUM = shutil.which("chromium")
pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(CHROMIUM is None, reason="Debian's chromium is not installed"),
]
SAY = texts("en")
FAR = 90
"""Presses of the Tab key after which a thing counts as out of reach."""


@pytest.fixture(scope="module")
def address_of_app(demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The app on a copy of the demo's data folder, once for these tests."""
    place = tmp_path_factory.mktemp("door") / "data"
    shutil.copytree(demo_data, place)
    with served(place) as app:
        yield app.url


@pytest.fixture
def phone(address_of_app: str) -> Iterator[Any]:
    """A page of 390 px at the start of the app."""
    with playwright_api.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_context(viewport={"width": 390, "height": 850}, bypass_csp=True).new_page()
        page.set_default_timeout(90_000)
        page.goto(address_of_app)
        heading(page, "How old is your water heater?")
        yield page
        browser.close()


def heading(page: Any, words: str) -> None:
    """Wait for a heading, and for the page to stand still."""
    page.get_by_role("heading", name=words).first.wait_for()
    page.wait_for_timeout(700)


_FOCUSED = """() => {
  const e = document.activeElement;
  const ours = ['A', 'BUTTON', 'INPUT'].includes(e?.tagName);
  return ours ? (e.innerText || e.getAttribute('aria-label') || '').trim() : '';
}"""


def press_on(page: Any, words: str) -> None:
    """Go with Tab to what reads `words`, and press Enter."""
    for _ in range(FAR):
        page.keyboard.press("Tab")
        if words.lower() in page.evaluate(_FOCUSED).lower():
            page.keyboard.press("Enter")
            page.wait_for_timeout(900)
            return
    raise AssertionError(f"'{words}' is out of the keyboard's reach")


def test_from_the_start_to_what_is_wrong_and_to_help_by_keyboard_alone(phone: Any) -> None:
    """The triage from its first question to an outcome, then "leaking now", with Tab and Enter only."""
    press_on(phone, "Something is wrong.")
    heading(phone, "Something is wrong")
    for _ in range(8):
        if phone.get_by_text(SAY("triage-head-cautions")).count():
            break
        press_on(phone, "not sure")
    assert phone.get_by_text(SAY("triage-head-cautions")).count()
    press_on(phone, "What to do now")
    heading(phone, "Leaking now")
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390


def test_from_my_home_to_the_decision_by_keyboard_alone(phone: Any) -> None:
    """A home is opened, its odds are read, the decision is reached; nothing needs a pointer."""
    press_on(phone, "Open a home of this demo")
    heading(phone, "My heater")
    phone.get_by_text("Of 100 heaters like yours").first.wait_for()
    press_on(phone, "Replace it, or wait?")
    phone.get_by_text("Of 100 heaters like yours").first.wait_for()
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390


@pytest.mark.parametrize(
    "path",
    [
        "leaking_now",
        "something_is_wrong",
        "my_heater",
        "replace_or_wait",
        "buy_the_next_one",
        "flush_and_anode",
        "my_record",
    ],
)
def test_no_page_of_the_resident_has_a_serious_fault_of_access(phone: Any, address_of_app: str, path: str) -> None:
    """Axe on every page with a home open, at a phone's width: nothing serious but what Streamlit's own menu brings."""
    axe_api = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe is not installed")
    press_on(phone, "Open a home of this demo")
    heading(phone, "My heater")
    titles = {
        "leaking_now": "Leaking now",
        "something_is_wrong": "Something is wrong",
        "my_heater": "My heater",
        "replace_or_wait": "Replace or wait",
        "buy_the_next_one": "Buying the next one",
        "flush_and_anode": "Flush and anode",
        "my_record": "My record",
    }
    phone.get_by_test_id("stExpandSidebarButton").click()
    phone.get_by_test_id("stSidebarNav").get_by_role("link", name=titles[path], exact=True).click()
    phone.wait_for_timeout(2500)
    assert phone.locator("#stSidebar").get_attribute("data-collapsed") == "true"  # the choice has closed the menu
    # Streamlit's own menu gives its lists roles of its own; everything else is ours.
    ours = {"exclude": [["[data-testid=stSidebar]"]]}
    result = axe_api.Axe().run(phone, context=ours).response
    faults = [
        (v["id"], n["target"], n["html"][:120])
        for v in result["violations"]
        if v["impact"] in ("serious", "critical")
        for n in v["nodes"]
    ]

    assert faults == []
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390
