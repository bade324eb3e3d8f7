"""Paper forms entered by keyboard alone, the keys counted, and what the keystroke-level model makes of them.

Card, Moran and Newell, "The keystroke-level model for user performance time with interactive systems", CACM 23(7),
1980. Operators, from memory: a key K .28 s for an average typist who is no secretary (40 words a minute), Shift
counting as a key; getting ready in the mind M 1.35 s. Their rules of placing M, from memory: none before what is typed
as data; one before the key that ends a text of varying length (Tab after a date), and before a command (Enter). A
stricter count has one M for every answer read off the paper, ticked boxes too. The model knows nothing of turning
pages, of bad handwriting or of mistakes.
"""

from __future__ import annotations

import shutil
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from serving import served

from geo.parcels import read_parcels
from survey_app.access import Actor, Role
from survey_app.csv_import import read_rows
from survey_app.intake import QUESTIONS, Question, from_short, one_key, read_choice, read_choices, short_codes
from survey_app.survey import Survey, open_store
from survey_app.survey.paper_forms import PaperHome

playwright_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
CHROMIUM = shutil.which("chromium")
pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(CHROMIUM is None, reason="Debian's chromium is not installed"),
]
KEY_S, READY_S = 0.28, 1.35
AIM_S = 40.0
ASKED = [q for q in QUESTIONS if q.of_resident and q.key != "address"]
FULL = {
    "kind": "g",
    "tank_gallons": "50",
    "installed": "5/2019",
    "installed_evidence": "p",
    "date_code": "0519",
    "warranty_years": "6",
    "warranty_end": "5/2025",
    "place": "g",
    "pan": "n",
    "leak_alarm": "n",
    "auto_shutoff": "/",
    "softener": "y",
    "expansion_tank": "n",
    "last_flush": "2023",
    "last_anode": "2022",
    "anode_work": "c",
    "relief_valve_test": "n",
    "symptoms": "67",
    "heater_number": "2",
    "previous_gone": "5/2019",
    "previous_end": "f",
    "moved_in": "2020",
    "flush_day": "y",
    "anode_day": "m",
    "group_purchase": "y",
    "weekdays": "26",
    "half_day": "m",
    "consent": "y",
    "contact": "555-0137",
    "remarks": "after 5 pm",
}
FULL = {q.key: FULL.get(q.key, q.choices[0].short if q.choices else "1") for q in ASKED}
COUNTING = """
window.keysPressed = 0; window.pointed = 0;
document.addEventListener('keydown', () => { window.keysPressed++; }, true);
for (const kind of ['mousedown', 'pointerdown', 'touchstart'])
  document.addEventListener(kind, () => { window.pointed++; }, true);
"""


@dataclass(frozen=True)
class Effort:
    """Keys of one form, and moments of getting ready: by the rules, and one for every answer."""

    keys: int
    ready: int
    ready_strict: int

    @property
    def seconds(self) -> float:
        """By the model's rules."""
        return KEY_S * self.keys + READY_S * self.ready

    @property
    def seconds_strict(self) -> float:
        """With one moment for every answer."""
        return KEY_S * self.keys + READY_S * self.ready_strict


@pytest.fixture(scope="module")
def place(invented: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder with the homes of a synthetic community that nobody has answered for yet."""
    folder = tmp_path_factory.mktemp("paper") / "data"
    survey = front(folder)
    survey.set_up().name_community("Fernhill (synthetic)", synthetic=True, open_doors=True)
    survey.set_up().load_parcels(read_parcels(invented / "parcels.geojson"))
    survey._context.store.close()
    return folder


@pytest.fixture(scope="module")
def page(place: Path) -> Iterator[Any]:
    """The entry page at a desk's width, opened; from here on keys only."""
    with served(place) as app:
        url = app.url
        with playwright_api.sync_playwright() as play:
            browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
            opened = browser.new_context(viewport={"width": 1280, "height": 850}, bypass_csp=True).new_page()
            opened.set_default_timeout(90_000)
            opened.goto(url)
            opened.get_by_role("button", name="volunteer's door").click()
            opened.get_by_role("heading", name="Where the survey stands").wait_for()
            opened.get_by_role("link", name="Enter a paper form").click()
            opened.get_by_role("heading", name="Enter a paper form").wait_for()
            opened.evaluate(COUNTING)
            yield opened
            browser.close()


def front(place: Path) -> Survey:
    """The records as the volunteer sees them."""
    return Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime.now())


def focused(page: Any) -> str:
    """The label of the field that has the focus."""
    return str(page.evaluate("document.activeElement.getAttribute('aria-label') || ''"))


def wait_for_sheet(page: Any, sheet: str) -> None:
    """Until the field for the sheet has the focus and holds this number, marked."""
    page.wait_for_function(
        """sheet => { const e = document.activeElement;
        return (e.getAttribute('aria-label') || '').startsWith('Sheet number') && e.value === sheet
          && e.selectionEnd - e.selectionStart === sheet.length; }""",
        arg=sheet,
    )


def enter(page: Any, answers: Mapping[str, str], *, sheet: str | None = None) -> Effort:
    """Type one form as somebody quick would: a key for a box, Tab after what is written and over what is blank."""
    before = page.evaluate("window.keysPressed")
    ready = strict = 1  # the sheet in hand is the one on the screen
    if sheet is not None:
        page.keyboard.type(sheet)
    page.keyboard.press("Tab")
    shifts = 0
    last = max(i for i, q in enumerate(ASKED) if answers.get(q.key))
    for i, asked in enumerate(ASKED):
        text = answers.get(asked.key, "")
        assert focused(page).startswith(asked.text()), f"{focused(page)!r} where {asked.text()!r} was due"
        page.keyboard.type(text)
        shifts += sum(letter.isupper() or letter in '~!@#$%^&*()_+{}|:"<>?' for letter in text)
        strict += bool(text)
        by_itself = one_key(asked) and len(text) == 1
        ready += bool(text) and not by_itself
        if i == last:
            ready, strict = ready + by_itself, strict + by_itself
            page.keyboard.press("Enter")
            break
        if by_itself:
            page.wait_for_function(
                "text => !(document.activeElement.getAttribute('aria-label') || '').startsWith(text)",
                arg=asked.text(),
            )
        else:
            page.keyboard.press("Tab")
    return Effort(page.evaluate("window.keysPressed") - before + shifts, ready, strict)


def test_a_full_form_is_entered_by_keyboard_alone(page: Any, place: Path) -> None:
    """Every question answered, stored with its meaning at the home shown; the next sheet has the focus; no pointer."""
    first, second = front(place).paper_forms().waiting()[:2]
    wait_for_sheet(page, first.sheet)
    assert page.get_by_role("heading", name=f"Sheet {first.sheet} · {first.address}").count() == 1
    effort = enter(page, FULL)
    started = time.perf_counter()
    wait_for_sheet(page, second.sheet)
    response = time.perf_counter() - started
    (stored,) = open_store(place).answers(home_ids=[first.home_id])

    given = stored.answer.given
    assert given["kind"] == "gas storage"
    assert given["auto_shutoff"] == "not sure"
    assert given["relief_valve_test"] == "never"
    assert given["weekdays"] == "tue;sat"
    assert {k for k in FULL if not given.get(k)} == set()
    assert page.evaluate("window.pointed") == 0
    print(f"\nfull form: {effort}, {effort.seconds:.1f} s, strict {effort.seconds_strict:.1f} s; then {response:.1f} s")
    assert effort.keys == sum(map(len, FULL.values())) + sum(not one_key(q) for q in ASKED) + 1


def test_what_contradicts_itself_is_mended_by_keyboard_alone(page: Any, place: Path) -> None:
    """The focus goes to the field in question with its text marked; what was typed stays; Enter stores it then."""
    home, following = front(place).paper_forms().waiting()[:2]
    enter(page, FULL | {"moved_in": "1901"})
    page.get_by_text("Before it can be stored").wait_for()
    page.wait_for_function("document.activeElement.value === '1901'")
    assert focused(page).startswith("When did you move in?")
    assert open_store(place).answers(home_ids=[home.home_id]) == []
    page.keyboard.type("2020")
    page.keyboard.press("Enter")
    wait_for_sheet(page, following.sheet)
    (stored,) = open_store(place).answers(home_ids=[home.home_id])

    assert stored.answer.given["moved_in"] == "2020"
    assert stored.answer.given["contact"] == FULL["contact"]
    assert page.evaluate("window.pointed") == 0


def test_a_form_out_of_order_is_reached_by_number_and_by_address(page: Any, place: Path) -> None:
    """A number or an address typed over the next sheet's; then the order goes on behind the home entered."""
    waiting = front(place).paper_forms().waiting()
    far = waiting[20]
    enter(page, {"kind": "e", "consent": "y"}, sheet=far.sheet)
    wait_for_sheet(page, waiting[21].sheet)
    farther = next(h for h in waiting[30:] if "Unit" not in h.address)
    behind = waiting[waiting.index(farther) + 1]
    enter(page, {"kind": "t", "consent": "y"}, sheet=farther.address.lower())
    wait_for_sheet(page, behind.sheet)

    for home, kind in ((far, "electric storage"), (farther, "tankless")):
        (stored,) = open_store(place).answers(home_ids=[home.home_id])
        assert stored.answer.given["kind"] == kind
    assert page.evaluate("window.pointed") == 0


def usual(invented: Path, survey: Survey) -> list[tuple[PaperHome, dict[str, str]]]:
    """Answers of the synthetic community as keys to type, those with a middling number of questions answered.

    Left out are those that nobody could type in one go: an address that is no home's for certain, or an answer that
    contradicts itself or cannot be read.
    """
    forms = []
    for row in read_rows(invented / "answers.csv").rows:
        home = survey.paper_forms().find(row.address).home
        keys = {q.key: as_typed(q, row.given.get(q.key, "").strip()) for q in ASKED}
        keys = {key: text for key, text in keys.items() if text}
        meant = {key: from_short(key, text) for key, text in keys.items()} | {"address": row.address}
        if home is not None and not survey.answers().check_answer(meant, home_id=home.home_id).blocking:
            forms.append((home, keys))
    forms.sort(key=lambda form: len(form[1]))
    middle = len(forms) // 2
    return sorted(forms[middle - 10 : middle + 11], key=lambda form: float(form[0].sheet))


def as_typed(asked: Question, written: str) -> str:
    """The keys for an answer as it was written: the letters in the boxes, "n" for never, anything else as it is."""
    codes = short_codes(asked.key)
    if asked.one_of and written:
        chosen = read_choice(asked.key, written).values
        return codes[chosen[0]].replace("?", "/") if chosen else "/" * ("?" in codes.values())
    if asked.any_of:
        return "".join(codes[v] for v in read_choices(asked.key, written).values)
    return "n" if asked.never and written.casefold() == "never" else " ".join(written.split())


def test_a_usual_form_takes_less_than_40_seconds_by_the_model(page: Any, place: Path, invented: Path) -> None:
    """The middle one of 21 forms with a middling number of answers, entered out of a pile in order."""
    efforts = []
    forms = usual(invented, front(place))
    for home, answers in forms:
        due = page.evaluate("document.activeElement.value")
        efforts.append(enter(page, answers, sheet=None if due == home.sheet else home.sheet))
        behind = front(place).paper_forms().waiting(after=home.home_id)
        wait_for_sheet(page, next(h for h in behind if h.home_id != home.home_id).sheet)
    assert {h.home_id for h, _ in forms} <= open_store(place).answered_homes()
    seconds, strict = sorted(e.seconds for e in efforts), sorted(e.seconds_strict for e in efforts)
    print(f"\n{sorted(len(a) for _, a in forms)[10]} answers, {sorted(e.keys for e in efforts)[10]} keys")
    for name, found in (("by the rules", seconds), ("one M an answer", strict)):
        print(f"{name}: {found[0]:.1f}, {found[10]:.1f}, {found[-1]:.1f} s")

    assert len(forms) == 21
    assert page.evaluate("window.pointed") == 0
    assert seconds[10] < AIM_S


def test_the_entry_page_has_no_serious_fault_of_access_and_fits_a_phone(page: Any) -> None:
    """Axe on all of the page but Streamlit's own menu; at a phone's width nothing has to be moved sideways."""
    axe_api = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe is not installed")
    result = axe_api.Axe().run(page, context={"exclude": [["[data-testid=stSidebar]"]]}).response
    faults = [
        (v["id"], n["html"][:120])
        for v in result["violations"]
        if v["impact"] in ("serious", "critical")
        for n in v["nodes"]
    ]
    assert faults == []
    page.set_viewport_size({"width": 390, "height": 850})
    page.wait_for_timeout(800)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
