"""Size, building time and first complete drawing of the map, against plain folium in the same run.

Run from the project root::

    python tests/benchmarks/map_size_and_draw.py [--homes 1000 5000 20000] [--loads 3] [--parcels FILE --crs EPSG]

Plain folium is ``GeoJson`` with a style function and a tooltip of six fields on a
canvas (``prefer_canvas``), with the same Leaflet files put into the page, so that
it draws without a network. Drawing is timed in headless Chromium from the start of
navigation to two animation frames after the last script of the page. With
``--parcels`` the outlines come from a file (repeated side by side as often as
needed) instead of simple lots.
"""

from __future__ import annotations

import argparse
import json
import platform
import re
import statistics
import tempfile
import time
from importlib.resources import files
from pathlib import Path

import folium
import geopandas as gpd
import numpy as np
import shapely
from branca.element import Element

from geo.maps import MapPage, draw_places
from geo.maps.palette import PALETTE

PAGE = MapPage(title="Size and drawing", intro="Synthetic lots.", synthetic=True, data_date="25 November 2026")
CHROMIUM = "/usr/bin/chromium"
WHEN_DRAWN = "requestAnimationFrame(()=>requestAnimationFrame(()=>{window.drawnAt=performance.now();}));"


class InlineFolium(folium.Map):
    """Stock folium with Leaflet in the page: all that is changed is where the library comes from."""

    default_js: list[tuple[str, str]] = []  # noqa: RUF012
    default_css: list[tuple[str, str]] = []  # noqa: RUF012


def simple_lots(n: int) -> gpd.GeoDataFrame:
    """`n` lots of four corners."""
    side = int(np.ceil(np.sqrt(n)))
    i, j = np.arange(n) % side, np.arange(n) // side
    x, y = -87.1 + i * 0.00025, 43.6 + j * 0.0004
    return gpd.GeoDataFrame(geometry=shapely.box(x, y, x + 0.00023, y + 0.0003), crs=4326)


def repeated(frame: gpd.GeoDataFrame, n: int) -> gpd.GeoDataFrame:
    """The file's outlines side by side, `n` in all."""
    x0, y0, x1, y1 = frame.total_bounds
    copies = int(np.ceil(n / len(frame)))
    side = int(np.ceil(np.sqrt(copies)))
    shapes = [frame.geometry.translate((k % side) * (x1 - x0), (k // side) * (y1 - y0)) for k in range(copies)]
    return gpd.GeoDataFrame(geometry=np.concatenate([s.to_numpy() for s in shapes])[:n], crs=4326)


def six_fields(n: int) -> list[tuple[str, list[str]]]:
    """An address of its own for each home, and five texts with the variety of a survey."""
    rng = np.random.default_rng(5)
    streets = [f"{a} {b}" for a in ("Alder", "Birch", "Cedar", "Dogwood", "Elder") for b in ("Ct", "Ln", "Way", "Loop")]
    months = [f"{m} {y}" for y in range(2004, 2030) for m in ("Jan", "Mar", "Jun", "Sep", "Nov")]

    def pick(words: list[str]) -> list[str]:
        return [words[k] for k in rng.integers(len(words), size=n)]

    return [
        ("Address", [f"{100 + 4 * (k % 40)} {streets[k // 40 % 20]}" for k in range(n)]),
        ("Stands", pick(["In warranty", "Past its warranty", "Past twice its warranty", ""])),
        ("Age", [f"{a} years" for a in rng.integers(1, 25, size=n)]),
        ("Warranty end", pick(months)),
        ("Last maintenance", pick([*months, "none known"])),
        ("Rests on", pick(["data plate", "permit or invoice", "house completion", "memory", ""])),
    ]


def ours(frame: gpd.GeoDataFrame, keys: list[str], fields: list[tuple[str, list[str]]]) -> str:
    """The page under test."""
    return draw_places(frame, class_of=keys, classes=PALETTE, fields=fields, search_labels=fields[0][1], page=PAGE)


def plain_folium(frame: gpd.GeoDataFrame, keys: list[str], fields: list[tuple[str, list[str]]]) -> str:
    """The usual way: GeoJSON, a style function, a tooltip."""
    looks = {own.key: own for own in PALETTE}
    table = frame.assign(key=keys, **dict(fields))
    own = InlineFolium(tiles=None, prefer_canvas=True)
    place = files("js_lib_leaflet").joinpath("static", "js_lib_leaflet")
    css = re.sub(r"background-image:\s*url\([^)]*\);", "", place.joinpath("leaflet.css").read_text())
    js = re.sub(r"//# sourceMappingURL.*", "", place.joinpath("leaflet.js").read_text())
    head = own.get_root().header
    head.add_child(Element("<style>{{ this.text }}</style><script>{{ this.js }}</script>"))
    list(head._children.values())[-1].text, list(head._children.values())[-1].js = css, js
    folium.GeoJson(
        table.__geo_interface__,
        style_function=lambda f: {
            "fillColor": looks[f["properties"]["key"]].fill,
            "color": looks[f["properties"]["key"]].outline,
            "weight": 1,
            "fillOpacity": 1,
        },
        tooltip=folium.GeoJsonTooltip([label for label, _ in fields]),
    ).add_to(own)
    x0, y0, x1, y1 = frame.total_bounds
    own.fit_bounds([[y0, x0], [y1, x1]])
    return str(own.get_root().render())


def first_drawing(browser, html: str, loads: int) -> float:
    """Median milliseconds from navigation to two frames after the page's last script."""
    timed = html.replace("</html>", f"<script>{WHEN_DRAWN}</script></html>")
    times = []
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, "map.html")
        file.write_text(timed, encoding="utf-8")
        for _ in range(loads):
            context = browser.new_context(viewport={"width": 1280, "height": 800}, bypass_csp=True)
            page = context.new_page()
            page.goto(file.as_uri())
            page.wait_for_function("window.drawnAt")
            times.append(page.evaluate("window.drawnAt"))
            context.close()
    return statistics.median(times)


def main() -> None:
    """Measure and print a table, then one JSON object."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--homes", type=int, nargs="+", default=[1000, 5000, 20000])
    parser.add_argument("--loads", type=int, default=3)
    parser.add_argument("--parcels", type=Path)
    parser.add_argument("--crs", type=int, help="EPSG code of the parcels, where the file does not say")
    given = parser.parse_args()
    source = None
    if given.parcels:
        source = gpd.read_file(given.parcels)
        source = source.set_crs(given.crs, allow_override=True) if given.crs else source
        source = source.to_crs(4326)
        source = source[~(source.geometry.is_empty | source.geometry.isna())]
    from playwright.sync_api import sync_playwright

    rows = []
    ours(simple_lots(10), ["pale"] * 10, six_fields(10))  # reads the library's files once
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        first_drawing(browser, ours(simple_lots(10), ["pale"] * 10, six_fields(10)), 1)
        for n in given.homes:
            frame = simple_lots(n) if source is None else repeated(source, n)
            keys, fields = [PALETTE[k % 5].key for k in range(n)], six_fields(n)
            for name, way in (("this map", ours), ("plain folium", plain_folium)):
                start = time.perf_counter()
                html = way(frame, keys, fields)
                built = time.perf_counter() - start
                size = len(html.encode())
                drawn = first_drawing(browser, html, given.loads)
                rows.append({"way": name, "homes": n, "bytes": size, "build_s": built, "drawn_ms": drawn})
                print(
                    f"{name:13} {n:6} homes  {size / 1e6:7.2f} MB  build {built:6.2f} s  drawn {drawn:6.0f} ms",
                    flush=True,
                )
        browser.close()
    for name in ("this map", "plain folium"):
        own = [r for r in rows if r["way"] == name]
        if len(own) > 1:
            each = (own[-1]["bytes"] - own[0]["bytes"]) / (own[-1]["homes"] - own[0]["homes"])
            fixed = own[0]["bytes"] - each * own[0]["homes"]
            print(f"{name:13} {each:6.1f} bytes a home on top of {fixed / 1e3:.0f} kB")
    for a, b in zip(rows[::2], rows[1::2], strict=True):
        print(
            f"{a['homes']:6} homes: folium / this map: bytes {b['bytes'] / a['bytes']:.1f}, "
            f"build {b['build_s'] / a['build_s']:.1f}, drawing {b['drawn_ms'] / a['drawn_ms']:.1f}"
        )
    print(json.dumps({"python": platform.python_version(), "rows": rows}))


if __name__ == "__main__":
    main()
