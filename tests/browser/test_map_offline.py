"""The map page in Chromium: it fetches nothing, runs nothing it was not given, and serves hand, eye and keyboard."""

import shutil
import threading
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import geopandas as gpd
import numpy as np
import pytest
import shapely

from geo.maps import MapPage, draw_blocks, draw_places
from geo.maps.palette import BLANK, DEEP, MIDDLE, PALE, SHARE_CLASSES, UNKNOWN, swatch

CHROMIUM = "/usr/bin/chromium"
sync_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(shutil.which(CHROMIUM) is None, reason=f"{CHROMIUM} is not installed"),
]

HOSTILE = (
    "<img src=x onerror=window.hacked=1>",
    "</script><script>window.hacked=1</script>",
    "`${window.hacked=1}`",
    "\"'><svg onload=window.hacked=1>",
    "{{7*7}}<!--",
    "javascript:window.hacked=1",
)
CLASSES = (
    swatch(PALE, key="a", label="In warranty", letter="W"),
    swatch(MIDDLE, key="b", label="Past its warranty", letter="P"),
    swatch(DEEP, key="c", label="Past twice its warranty", letter="2"),
    swatch(UNKNOWN, key="d", label="Age unknown", letter="?"),
    swatch(BLANK, key="e", label="No answer yet"),
)
N = 240


def lots(n):
    """`n` simple lots in rows of twenty."""
    i, j = np.arange(n) % 20, np.arange(n) // 20
    x, y = -87.1 + i * 0.00025, 43.6 + j * 0.0004
    return gpd.GeoDataFrame(geometry=shapely.box(x, y, x + 0.00025, y + 0.0003), crs=4326)


def streets(name="Alder Ct"):
    """One street below the lots."""
    line = shapely.LineString([(-87.1, 43.59985), (-87.095, 43.59985)])
    return gpd.GeoDataFrame({"name": [name], "kind": ["local"]}, geometry=[line], crs=4326)


def places():
    """A page of 240 homes in five classes with a street and a second layer."""
    addresses = [f"{100 + 2 * k} Alder Ct" for k in range(N)]
    areas = gpd.GeoDataFrame(
        {"block": ["West", "East"], "label": ["18 of 25 answered", "3 of 30 answered"], "shade": ["shade3", "shade0"]},
        geometry=[shapely.box(-87.1, 43.6, -87.0975, 43.605), shapely.box(-87.0975, 43.6, -87.095, 43.605)],
        crs=4326,
    )
    return draw_places(
        lots(N),
        class_of=["abcde"[k % 5] for k in range(N)],
        classes=CLASSES,
        fields=[("Address", addresses), ("Age", [f"{k % 24} years" for k in range(N)])],
        search_labels=addresses,
        page=MapPage(
            title="Alder Flat", intro="192 of 240 homes have answered.", notes=("A note.",), synthetic=True,
            data_date="25 November 2026",
        ),
        streets=streets(),
        blocks=areas,
        block_layer_label="Who has answered",
    )  # fmt: skip


@pytest.fixture(scope="module")
def chromium():
    """Debian's browser, once for all tests of this file."""
    with sync_api.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        yield browser
        browser.close()


@pytest.fixture
def show(chromium, tmp_path):
    """Opens a page from a file, with the page's policy in force; `.asked` and `.said` hold requests and console."""
    contexts = []

    def open_page(html, *, width=1280, height=800, touch=False, bypass=False):
        file = Path(tmp_path, f"map{len(contexts)}.html")
        file.write_text(html, encoding="utf-8")
        context = chromium.new_context(
            viewport={"width": width, "height": height}, has_touch=touch, is_mobile=touch, bypass_csp=bypass
        )
        contexts.append(context)
        page = context.new_page()
        page.asked, page.said = [], []
        page.on("request", lambda request: page.asked.append(request.url))
        page.on("console", lambda message: page.said.append(message.text))
        page.on("pageerror", lambda error: page.said.append(str(error)))
        page.goto(file.as_uri())
        page.wait_for_selector("html[data-drawn]" if "<script" in html else ".nothing", state="attached")
        return page

    yield open_page
    for context in contexts:
        context.close()


def test_page_asks_for_nothing_but_itself(show):
    """One request, the file; none more after search, second layer, list and zoom; nothing on the console."""
    page = show(places())
    page.fill("#search", "110 alder")
    page.keyboard.press("Enter")
    page.locator("#views label").nth(1).click()
    page.click("#swap")
    page.click("#swap")
    page.click(".leaflet-control-zoom-in")
    page.wait_for_timeout(600)
    assert len(page.asked) == 1
    assert page.said == []


def test_policy_stops_what_the_page_did_not_bring(show):
    """With the policy in force an injected script or handler does not run, and a picture or fetch reaches no server."""
    hits = []

    class Counting(BaseHTTPRequestHandler):
        def do_GET(self):
            hits.append(self.path)
            self.send_response(204)
            self.end_headers()

        def log_message(self, *_):
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), Counting)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    inject = """(place) => { const box = document.createElement("div");
        box.innerHTML = `<img src="${place}x.png" onerror="window.hacked=1">`;
        document.body.append(box);
        const own = document.createElement("script"); own.textContent = "window.hacked=2"; document.body.append(own);
        return fetch(place, { mode: "no-cors" }).catch(() => 0); }"""
    try:
        for bypass, reached in ((False, 0), (True, 2)):
            page = show(places(), bypass=bypass)
            page.evaluate(inject, f"http://127.0.0.1:{server.server_port}/")
            page.wait_for_timeout(300)
            assert len(hits) == reached
            assert (page.evaluate("window.hacked") is not None) == bypass
    finally:
        server.shutdown()
        server.server_close()


@pytest.mark.parametrize("audience", ["places", "blocks"])
def test_hostile_text_runs_nowhere(show, audience):
    """Breakouts in every text, every card opened and hovered, the list and the search: nothing runs.

    The policy is switched off here, so that the page's own handling of text is what is tested.
    """
    n = len(HOSTILE)
    whole = " ".join(HOSTILE)
    own = tuple(swatch(PALE, key=str(k), label=text) for k, text in enumerate(HOSTILE))
    page_words = MapPage(title=whole, intro=whole, notes=HOSTILE, synthetic=True, data_date=whole)
    keys = [str(k) for k in range(n)]
    fields = [(text, list(HOSTILE)) for text in HOSTILE]
    if audience == "places":
        blocks = lots(n).assign(block=list(HOSTILE), label=list(HOSTILE), shade=keys)
        html = draw_places(
            lots(n), class_of=keys, classes=own, fields=fields, search_labels=list(HOSTILE), page=page_words,
            streets=streets(whole), blocks=blocks, block_layer_label=whole, block_classes=own, layer_label=whole,
        )  # fmt: skip
    else:
        html = draw_blocks(lots(n), class_of=keys, classes=own, fields=fields, page=page_words, streets=streets(whole))
    page = show(html, bypass=True)
    seen = set()
    for view in range(2 if audience == "places" else 1):
        if audience == "places":
            page.locator("#views label").nth(view).click()
        page.click("#swap")
        for k in range(n):
            page.locator(".go").nth(k).click()
            seen.add(page.inner_text("#card .place"))
            page.click(".close")
            page.click("#swap")
        page.click("#swap")
        page.click("#whole")
        page.wait_for_timeout(500)
        box = page.locator(".folium-map").bounding_box()
        for k in range(1, 12):
            page.mouse.move(box["x"] + box["width"] * k / 12, box["y"] + box["height"] / 2)
    if audience == "places":
        page.fill("#search", "window")
        page.wait_for_selector("#hits li")
    page.wait_for_timeout(200)
    assert len(seen) == n
    assert page.evaluate("window.hacked") is None
    assert page.locator("img, svg[onload]").count() == 0


def test_search_finds_an_address_and_opens_its_card(show):
    """Number and first letters suffice; Enter opens the card, Escape closes it and gives the field back."""
    page = show(places())
    page.fill("#search", "300 al")
    page.keyboard.press("Enter")
    assert page.inner_text("#card .place") == "300 Alder Ct"
    assert page.inner_text("#card .kind") == "In warranty"
    page.keyboard.press("Escape")
    assert page.locator("#card").is_hidden()
    assert page.evaluate("document.activeElement.id") == "search"
    page.fill("#search", "9999 nowhere")
    assert "Nothing found" in page.inner_text("#told")


def test_card_opens_on_tap_and_tip_shows_on_hover(show):
    """A pointer over a lot shows a tip; a click, and a tap on a phone, open the card."""
    page = show(places())
    box = page.locator(".folium-map").bounding_box()
    x, y = box["x"] + box["width"] * 0.52, box["y"] + box["height"] * 0.5
    for dy in (0, 8, 16, 24, 32):
        page.mouse.move(x, y + dy)
        page.wait_for_timeout(60)
        if page.locator("#tip").is_visible():
            break
    hovered = page.inner_text("#tip .place")
    assert hovered.endswith("Alder Ct")
    page.mouse.click(x, y + dy)
    assert page.inner_text("#card .place") == hovered
    phone = show(places(), width=390, height=844, touch=True)
    spot = phone.locator(".folium-map").bounding_box()
    for dy in (0, 6, 12, 18):
        phone.touchscreen.tap(spot["x"] + spot["width"] * 0.52, spot["y"] + spot["height"] * 0.5 + dy)
        phone.wait_for_timeout(350)
        if phone.locator("#card").is_visible():
            break
    assert phone.inner_text("#card .place").endswith("Alder Ct")


def test_legend_tells_each_class_in_words_with_its_count(show):
    """Every class is named and counted, and unticking one takes its color off the map and its rows off the list."""
    page = show(places())
    entries = page.locator("#legend .entry")
    assert entries.locator(".words").all_inner_texts() == [own.label for own in CLASSES]
    assert entries.locator(".count").all_inner_texts() == ["48"] * 5
    deep = """() => { const c = document.querySelector('.folium-map canvas'), d = c.getContext('2d')
        .getImageData(0, 0, c.width, c.height).data; let n = 0;
        for (let i = 0; i < d.length; i += 4) if (d[i] === 0x6A && d[i+1] === 0x21 && d[i+2] === 0x50) n++;
        return n; }"""
    assert page.evaluate(deep) > 1000
    entries.nth(2).locator("input").uncheck()
    assert page.evaluate(deep) == 0
    page.click("#swap")
    assert "of 192" in page.inner_text("#rows")


def test_second_layer_has_its_own_legend_and_list(show):
    """Choosing the areas swaps legend and list; the words given for each area are in the list."""
    page = show(places())
    page.locator("#views label").nth(1).click()
    assert page.locator("#legend .words").all_inner_texts() == [own.label for own in SHARE_CLASSES]
    page.click("#swap")
    assert "18 of 25 answered" in page.inner_text("#table")
    assert page.locator("#table tbody tr").count() == 2


def test_list_holds_every_home_in_full(show):
    """All rows can be had, in order, each with address, class and fields as they were given."""
    page = show(places())
    page.click("#swap")
    assert page.locator("#table tbody tr").count() == 200
    page.click("#all")
    rows = page.evaluate(
        "[...document.querySelectorAll('#table tbody tr')].map(r => [...r.children].map(c => c.textContent))"
    )
    assert rows == [[f"{100 + 2 * k} Alder Ct", CLASSES[k % 5].label, f"{k % 24} years"] for k in range(N)]
    page.fill("#filter", "338 alder")
    assert page.inner_text("#rows") == "Rows 1 to 1 of 1"


def test_page_says_synthetic_and_the_date_of_its_data(show):
    """The band and the date stand in the page where they are seen without scrolling."""
    page = show(places(), width=390, height=844)
    for text in ("Synthetic", "25 November 2026", "192 of 240 homes have answered."):
        assert page.get_by_text(text).first.bounding_box()["y"] < 844


@pytest.mark.parametrize("state", ["map", "card", "list", "areas", "public", "empty"])
@pytest.mark.parametrize("width", [1280, 390])
def test_axe_finds_nothing_serious(show, state, width):
    """axe-core reports no serious or critical violation in any state of the page."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe-playwright-python is absent")
    words = MapPage(title="Alder Flat", intro="Areas.", synthetic=False, data_date="25 November 2026")
    html = places()
    if state == "public":
        fields = [("Streets", ["A", "B"])]
        html = draw_blocks(
            lots(2), class_of=["shade1", "not shown"], classes=SHARE_CLASSES, fields=fields, page=words
        )  # fmt: skip
    if state == "empty":
        html = draw_places(
            lots(0), class_of=[], classes=CLASSES, fields=[], search_labels=None, page=words
        )  # fmt: skip
    page = show(html, width=width, height=844, bypass=True)
    if state == "card":
        page.fill("#search", "300 al")
        page.keyboard.press("Enter")
    if state == "list":
        page.click("#swap")
    if state == "areas":
        page.locator("#views label").nth(1).click()
    found = axe.Axe().run(page).response["violations"]
    assert [v["id"] for v in found if v["impact"] in ("serious", "critical")] == []


@pytest.mark.parametrize("state", ["map", "card", "list"])
def test_phone_has_no_sideways_scroll(show, state):
    """At 390 px the page is as wide as the screen in each state, and buttons are at least 24 px (SC 2.5.8)."""
    page = show(places(), width=390, height=844, touch=True)
    if state == "card":
        page.fill("#search", "300 al")
        page.keyboard.press("Enter")
    if state == "list":
        page.click("#swap")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    for button in page.locator("button:visible").all()[:12]:
        size = button.bounding_box()
        assert size["width"] >= 24
        assert size["height"] >= 24
