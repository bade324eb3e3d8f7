"""The card for a leak: self-contained, escaped, with the home's own data or blanks."""

from __future__ import annotations

import base64
import hashlib
import re
from datetime import date
from html import escape
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey_app.advice.cautions import cautions
from survey_app.advice.leaking import Energy, leak_steps
from survey_app.records import Dated, DateEvidence, Heater, HeaterKind, Home, Place, Tri
from survey_app.reports.leak_card import leak_card_html
from survey_app.settings import Settings
from survey_app.standing import Standing, standing
from survey_app.texts import LANGUAGES, texts

DAY = date(2026, 11, 25)
HOSTILE = "<script>alert('1')</script>\"><img src=x onerror=alert(2)>&amp;</td>"


def known(address: str = "104 ALDER CT", **changes: object) -> Standing:
    """The standing of an invented home with a heater of eight years."""
    heater = {
        "heater_id": "h",
        "home_id": "1",
        "sequence": 1,
        "kind": HeaterKind.GAS_STORAGE,
        "tank_gallons": 50.0,
        "installed": Dated.on(date(2018, 11, 20), DateEvidence.DOCUMENT),
        "warranty_years": 9.0,
        "place": Place.UPPER_FLOOR,
        "auto_shutoff": Tri.NO,
    } | changes
    return standing(
        Home(home_id="1", parcel_id="1", address=address, street="ALDER CT", phase_id=None, built_year=None),
        [Heater(**heater)],  # type: ignore[arg-type]
        [],
        answered=True,
        settings=Settings(),
        as_of=DAY,
    )


class Page(HTMLParser):
    """Elements, attributes and text of a page, as a browser would take them in."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.words: list[str] = []
        self.feed(page)
        self.text = " ".join(" ".join(self.words).split())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """An element begins."""
        self.tags.append(tag)
        self.attributes += [(key, value or "") for key, value in attrs]

    def handle_data(self, data: str) -> None:
        """Text between elements."""
        self.words.append(data)


def cells(page: str) -> dict[str, str]:
    """The rows of the card's tables."""
    rows = re.findall(r'<tr><th scope="row">(.*?)</th><td[^>]*>(.*?)</td></tr>', page)
    return dict(rows)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("home", [None, known()], ids=["blank", "known"])
def test_the_card_has_every_step_in_both_variants_and_every_caution(language: str, home: Standing | None) -> None:
    """A card is complete with and without a home: steps, gas and electric, how to tell, calls, what not to do."""
    say = texts(language)
    page = Page(leak_card_html(home, say))
    for step in leak_steps(say):
        assert f"{step.number}. {step.title}" in page.text
        for line in (*step.lines, *(line for lines in step.variants.values() for line in lines)):
            assert line in page.text
    assert all(say(f"leaking-{energy}") in page.text for energy in Energy)
    assert all(line in page.text for line in (*cautions(say), *say.lines("leaking-not"), *say.lines("leaking-photos")))
    assert "911" in page.text
    assert ("lang", language) in page.attributes


def test_the_card_asks_for_nothing() -> None:
    """No script, no address of a server, and a policy that allows only the page's own style sheet, by its hash."""
    text = leak_card_html(known(), contacts={"gas-utility": "555-0100"})
    page = Page(text)
    style = re.search(r"<style>(.*?)</style>", text, re.S)
    policy = next(value for key, value in page.attributes if key == "content" and "default-src" in value)

    assert not re.search(r"https?:|//|url\(|@import", text)
    assert set(page.tags).isdisjoint({"script", "img", "iframe", "a", "form", "object", "embed", "base"})
    assert [v for k, v in page.attributes if k in ("src", "href")] == ["data:,"]
    assert not [k for k, _ in page.attributes if k == "style" or k.startswith("on")]
    assert style
    digest = base64.b64encode(hashlib.sha256(style.group(1).encode()).digest()).decode()
    assert f"'sha256-{digest}'" in policy
    assert policy.startswith("default-src 'none'")


def test_a_hostile_address_and_number_stay_text() -> None:
    """What somebody typed never becomes an element, nor leaves its cell."""
    plain, hostile = Page(leak_card_html(known())), leak_card_html(known(HOSTILE), contacts={"insurer": HOSTILE})

    assert "<script" not in hostile.lower()
    assert "<img" not in hostile.lower()
    assert sorted(Page(hostile).tags) == sorted(plain.tags)
    assert escape(HOSTILE) in hostile


@given(st.text(max_size=60))
@settings(max_examples=100, deadline=None)
def test_no_address_changes_the_cards_elements(address: str) -> None:
    """Any text at all as an address leaves the page's structure as it is, and can be written as UTF-8."""
    page = leak_card_html(known(address))

    assert Page(page).tags == Page(leak_card_html(known())).tags
    page.encode("utf-8")


def test_the_card_carries_the_homes_own_data() -> None:
    """Address, kind, size with liters, age, place, automatic shut-off, end of the warranty."""
    rows = cells(leak_card_html(known()))

    assert rows["Address"] == "104 Alder Ct"
    assert rows["Kind"] == "Gas tank"
    assert rows["Tank"] == "50 gallons (189 liters)"
    assert rows["Age"] == "about 8 years on November 25, 2026"
    assert rows["Where it stands"] == "upper floor"
    assert rows["Automatic shut-off"] == "no"
    assert rows["Warranty ends"] == "about November 2027"
    assert rows["Cold valve: where, wheel or lever"] == ""


def test_what_is_not_known_is_left_blank_to_write_in() -> None:
    """Neither a guess nor an assumed warranty is printed on a card that hangs beside the heater for years."""
    unsure = known(
        kind=HeaterKind.UNKNOWN,
        tank_gallons=None,
        installed=None,
        warranty_years=None,
        place=Place.UNKNOWN,
        auto_shutoff=Tri.UNKNOWN,
    )
    for rows in (cells(leak_card_html(unsure)), cells(leak_card_html(None))):
        keys = ("Kind", "Tank", "Age", "Where it stands", "Automatic shut-off", "Warranty ends")
        assert [rows[k] for k in keys] == [""] * len(keys)
    assert cells(leak_card_html(None))["Address"] == ""
    assert cells(leak_card_html(known(warranty_years=None)))["Warranty ends"] == ""


def test_an_age_known_roughly_is_a_range_and_a_warranty_that_is_over_says_so() -> None:
    """The card is no surer than the record."""
    rough = Dated(earliest=date(2008, 1, 1), latest=date(2012, 12, 31), evidence=DateEvidence.MEMORY)
    rows = cells(leak_card_html(known(installed=rough)))

    assert rows["Age"] == "between 14 and 19 years on November 25, 2026"
    assert rows["Warranty ended"] == "about July 2019"


def test_the_communitys_numbers_are_on_the_card_and_the_others_blank() -> None:
    """Given numbers are printed, the emergency number always."""
    rows = cells(leak_card_html(None, contacts={"volunteer": "555-0100"}))
    numbers = {key.partition(":")[0]: value for key, value in rows.items()}

    assert numbers["HOA volunteer"] == "555-0100"
    assert numbers["Danger to anyone"] == "911"
    assert numbers["Licensed contractor"] == ""


def test_the_card_of_an_invented_home_says_that_it_is_invented() -> None:
    """A synthetic home's card cannot be taken for a real one."""
    assert "Synthetic demo" in leak_card_html(known(), synthetic=True)
    assert "Synthetic" not in leak_card_html(known())
