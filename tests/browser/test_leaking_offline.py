"""Water on the floor and the network gone: the page and the card stay readable, on a phone and on paper."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from serving import App, served

from survey_app.advice.leaking import leak_steps
from survey_app.records import Dated, DateEvidence, Heater, HeaterKind, Home, Place, Tri
from survey_app.reports.leak_card import leak_card_html
from survey_app.settings import Settings
from survey_app.standing import standing
from survey_app.texts import LANGUAGES, texts

playwright_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
CHROMIUM = shutil.which("chromium")
pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(CHROMIUM is None, reason="Debian's chromium is not installed"),
]


@pytest.fixture
def app(data: Path) -> Iterator[App]:
    """The app, served on the demo's data folder as `heater-survey start` serves it."""
    with served(data) as running:
        yield running


@pytest.fixture(scope="module")
def chromium() -> Iterator[object]:
    """Debian's browser, once for all tests of this file."""
    with playwright_api.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        yield browser
        browser.close()


def card(language: str, *, blank: bool = False) -> str:
    """The card of an invented home."""
    heater = Heater(
        heater_id="h",
        home_id="1",
        sequence=1,
        kind=HeaterKind.HEAT_PUMP_STORAGE,
        tank_gallons=50,
        installed=Dated.on(date(2015, 5, 2), DateEvidence.DOCUMENT),
        warranty_years=12,
        place=Place.UPPER_FLOOR,
        auto_shutoff=Tri.YES,
    )
    home = Home(
        home_id="1", parcel_id="1", address="104 N ALDER CT UNIT B", street="ALDER CT", phase_id=None, built_year=None
    )
    found = standing(home, [heater], [], answered=True, settings=Settings(), as_of=date(2026, 11, 25))
    return leak_card_html(None if blank else found, texts(language), synthetic=not blank)


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_card_is_readable_offline_on_a_phone_and_can_be_ticked(
    chromium: object, tmp_path: Path, language: str
) -> None:
    """From a file with the network off: every step in sight, one request, ticked by keyboard, no scroll sideways."""
    file = tmp_path / "leak-card.html"
    file.write_text(card(language), encoding="utf-8")
    context = chromium.new_context(viewport={"width": 390, "height": 850})
    context.set_offline(True)
    page = context.new_page()
    asked: list[str] = []
    said: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.goto(file.as_uri())

    for step in leak_steps(texts(language)):
        assert page.get_by_text(f"{step.number}. {step.title}").is_visible()
        for line in step.lines:
            assert page.get_by_text(line, exact=True).first.is_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    assert page.get_by_role("checkbox").first.is_checked()
    # The style sheet is in force: its hash is the one the policy allows.
    assert page.evaluate("getComputedStyle(document.querySelector('.safe')).borderTopWidth") == "4px"
    assert [u for u in asked if not u.startswith("data:")] == [file.as_uri()]
    assert said == []
    context.close()


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("blank", [True, False], ids=["blank", "known"])
def test_the_card_fits_two_letter_pages(chromium: object, tmp_path: Path, language: str, blank: bool) -> None:
    """Both sides of one sheet hold all of it."""
    file = tmp_path / "leak-card.html"
    file.write_text(card(language, blank=blank), encoding="utf-8")
    page = chromium.new_page()
    page.goto(file.as_uri())
    paper = page.pdf(prefer_css_page_size=True, print_background=True)
    page.close()

    assert 1 <= len(re.findall(rb"/Type\s*/Page\b", paper)) <= 2
    assert re.search(rb"/MediaBox\s*\[\s*0 0 612 792\s*\]", paper)


def test_the_card_has_no_serious_fault_of_access(chromium: object, tmp_path: Path) -> None:
    """Axe finds nothing serious in it."""
    axe_api = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe is not installed")
    file = tmp_path / "leak-card.html"
    file.write_text(card("en"), encoding="utf-8")
    context = chromium.new_context(viewport={"width": 390, "height": 850}, bypass_csp=True)
    page = context.new_page()
    page.goto(file.as_uri())
    found = axe_api.Axe().run(page).response["violations"]
    context.close()

    assert [v["id"] for v in found if v["impact"] in ("serious", "critical")] == []


def test_the_page_stays_readable_when_the_network_goes(chromium: object, app: App) -> None:
    """Opened once on a phone, then no network and no server: every step can still be read, scrolled to and selected."""
    context = chromium.new_context(viewport={"width": 390, "height": 850})
    page = context.new_page()
    page.set_default_timeout(90_000)
    page.goto(f"{app.url}/leaking_now")
    say = texts("en")
    page.get_by_text(say("leaking-wrong")).last.wait_for()
    with page.expect_download() as download:
        page.get_by_role("button", name=say("leaking-card")).click()
    saved = Path(download.value.path()).read_text(encoding="utf-8")
    assert saved.startswith("<!DOCTYPE html>")
    assert "Synthetic demo" in saved
    # The browser's switch alone leaves an open connection as it is: the server goes as well.
    context.set_offline(True)
    app.stop()
    page.get_by_test_id("stStatusWidget").wait_for()
    page.wait_for_timeout(12_000)

    assert page.get_by_role("dialog").count() == 0
    assert page.locator("#root[inert]").count() == 0
    before = page.evaluate("document.querySelector('[data-testid=stMain]').scrollTop")
    page.mouse.move(195, 500)
    page.mouse.wheel(0, -5_000)
    page.wait_for_timeout(500)
    assert page.evaluate("document.querySelector('[data-testid=stMain]').scrollTop") < before

    for step in leak_steps(say):
        head = page.get_by_role("heading", name=f"{step.number}. {step.title}")
        head.scroll_into_view_if_needed()
        assert head.is_visible()
        for line in step.lines:
            text = page.get_by_text(line, exact=True).first
            text.scroll_into_view_if_needed()
            box = text.bounding_box()
            assert box
            # What is on top at that place is the line itself, not a message that covers it.
            assert page.evaluate(
                "([x, y, words]) => (document.elementFromPoint(x, y)?.textContent ?? '').includes(words)",
                [box["x"] + box["width"] / 2, box["y"] + min(box["height"] / 2, 12), line],
            )
    context.close()


def test_the_triage_is_walked_with_the_keyboard_alone(chromium: object, app: App) -> None:
    """Tab and Enter lead from the first question to an outcome, and to a danger from there."""
    context = chromium.new_context(viewport={"width": 390, "height": 850})
    page = context.new_page()
    page.set_default_timeout(90_000)
    page.goto(f"{app.url}/something_is_wrong")
    say = texts("en")

    def press(label: str) -> None:
        page.get_by_role("button", name=label, exact=True).wait_for()
        for _ in range(80):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement?.innerText?.trim()") == label:
                break
        else:
            raise AssertionError(f"'{label}' cannot be reached with Tab.")
        page.keyboard.press("Enter")

    press(say("triage-ask-safety.none"))
    press(say("triage-ask-what.rust"))
    press(say("triage-ask-rust.hot"))
    page.get_by_role("heading", name=say("triage-out-rust-hot")).wait_for()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    press(say("triage-now.gas-smell"))
    page.get_by_role("heading", name=say("triage-out-gas-smell")).wait_for()
    context.close()
