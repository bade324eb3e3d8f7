"""The web page around a map: a folium map with everything it needs inside one file.

folium's own page asks ten files of four hosts, forbids zooming by hand, names
its elements at random and writes texts into HTML and JavaScript as they are.
:class:`OfflineMap` is a :class:`folium.Map` without those habits: Leaflet comes
from the ``django-js-lib-leaflet`` package, element names are fixed, and the
page locks itself with a Content-Security-Policy that allows exactly the
scripts and styles it was written with, by their SHA-256 (CSP Level 3,
"hash-source"). An event handler smuggled into a text would not run even if it
reached the HTML.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from html import escape
from importlib import resources
from typing import Any

import folium
from branca.element import Element, Figure, MacroElement
from folium.template import Template

__all__ = ["MapPage", "OfflineMap", "render_page"]

_MAP_ID = "the_map"
_CSP_PLACE = "@@content-security-policy@@"
_DATA_PLACE = "@@packed-data@@"


@dataclass(frozen=True, slots=True, kw_only=True)
class MapPage:
    """What a map's page says around the map.

    Attributes
    ----------
    title, intro
        Heading, and a sentence below it.
    notes
        Sentences below the legend: sources, cautions, how to read the map.
    synthetic
        Whether the places are invented; the page then says so at the top.
    data_date
        The date of the data, as it shall be read.
    lang
        Language of the page's texts, as a BCP 47 tag. The page's own words are English.
    answers
        How many places answered, if that is to be told.
    asked
        Out of how many; the number of places drawn when left out.
    """

    title: str
    intro: str
    notes: tuple[str, ...] = ()
    synthetic: bool
    data_date: str
    lang: str = "en"
    answers: int | None = None
    asked: int | None = None


class _Page(Figure):
    """The frame of the page; folium writes its parts into ``header``, ``html`` and ``script``."""

    _template = Template(
        "<!DOCTYPE html>\n"
        '<html lang="{{ this.words.lang }}">\n'
        "<head>\n"
        '<meta charset="utf-8">\n'
        '<meta http-equiv="Content-Security-Policy" content="' + _CSP_PLACE + '">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="referrer" content="no-referrer">\n'
        "<title>{{ this.words.title }}</title>\n"
        "{{ this.header.render(**kwargs) }}\n"
        "</head>\n"
        "<body>\n"
        "{% if this.words.synthetic %}"
        '<p class="synthetic" role="note"><strong>Synthetic data.</strong> '
        "The community, its {{ this.words.many }} and every answer are invented.</p>\n"
        "{% endif %}"
        '<header class="top"><h1>{{ this.words.title }}</h1>'
        '<p class="intro">{{ this.words.intro }}</p>'
        '<p class="facts"><span>Data of <strong>{{ this.words.data_date }}</strong></span>'
        "{% if this.words.answered %}<span>{{ this.words.answered }}</span>{% endif %}</p></header>\n"
        "{{ this.html.render(**kwargs) }}\n"
        "{% if this.with_map %}<script>\n{{ this.script.render(**kwargs) }}\n</script>\n{% endif %}"
        "</body>\n"
        "</html>\n"
    )

    def __init__(self, words: Mapping[str, str], *, with_map: bool) -> None:
        super().__init__()
        self.header = Element()  # drops the Figure's own content-type element: the page has one
        self.header._parent = self
        self.words = words
        self.with_map = with_map


class OfflineMap(folium.Map):
    """A :class:`folium.Map` that needs nothing from outside and renders the same bytes every time.

    Other folium elements can be added as long as they need no jQuery and no
    files of their own (no ``Popup``, no ``Icon``).

    Parameters
    ----------
    label
        What the map shows, for a screen reader.
    **options
        As for :class:`folium.Map`; ``tiles`` stay off.
    """

    default_js = []  # noqa: RUF012  (folium reads and may extend the class's list)
    default_css = []  # noqa: RUF012

    _template = Template(
        "{% macro html(this, kwargs) %}"
        '<div class="folium-map" id="{{ this.get_name() }}" role="region" aria-label="{{ this.label }}"></div>'
        "{% endmacro %}"
        "{% macro script(this, kwargs) %}"
        'var {{ this.get_name() }} = L.map("{{ this.get_name() }}", '
        "{ center: {{ this.location|tojson }}, crs: L.CRS.{{ this.crs }}, ...{{ this.options|tojavascript }} });\n"
        'L.control.zoom({ position: "bottomright" }).addTo({{ this.get_name() }});\n'
        "{% if this.control_scale %}L.control.scale().addTo({{ this.get_name() }});\n{% endif %}"
        "{% endmacro %}"
    )

    def __init__(self, *, label: str, **options: Any) -> None:
        super().__init__(tiles=None, **options)
        self.label = escape(label)

    def get_name(self) -> str:
        """The fixed name of the map's element and variable."""
        return _MAP_ID


class _Places(MacroElement):
    """The packed places, the controls around the map and the call that starts the page."""

    _template = Template(
        "{% macro html(this, kwargs) %}"
        '<script type="application/json" id="packed">' + _DATA_PLACE + "</script>"
        "{% endmacro %}"
        "{% macro script(this, kwargs) %}"
        "neighborhoodMap({{ this._parent.get_name() }}, "
        'JSON.parse(document.getElementById("packed").textContent));'
        "{% endmacro %}"
    )

    def get_name(self) -> str:
        """A fixed name."""
        return "the_places"


_BEFORE_MAP = (
    '<main><section class="find" aria-label="Find and choose">'
    "{search}"
    '<fieldset id="views" hidden><legend>Show</legend></fieldset>'
    '<div class="buttons"><button type="button" id="swap" aria-pressed="false">Show the same as a list</button>'
    '<button type="button" id="whole">Show the whole map</button></div>'
    '<p id="status" class="hide" role="status"></p>'
    '</section><section id="stage" aria-label="Map and list">'
)
_SEARCH = (
    '<div class="field"><label for="search">Find an address</label><div class="combo">'
    '<input type="search" id="search" role="combobox" aria-autocomplete="list" aria-expanded="false" '
    'aria-controls="hits" aria-describedby="told" autocomplete="off" spellcheck="false" '
    'placeholder="Number and street">'
    '<ul id="hits" role="listbox" aria-label="Addresses found" hidden></ul></div>'
    '<p class="told" id="told" role="status"></p></div>'
)
_AFTER_MAP = (
    '<div id="tip" aria-hidden="true" hidden></div>'
    '<section id="card" aria-label="Details" tabindex="-1" hidden></section>'
    '<div id="list" hidden><div class="tools"><div class="field"><label for="filter">Filter the list</label>'
    '<input type="search" id="filter" autocomplete="off" spellcheck="false"></div>'
    '<p id="rows" role="status"></p></div>'
    '<div id="table" tabindex="0" role="region" aria-label="List"></div>'
    '<div class="buttons"><button type="button" id="more">Show more rows</button>'
    '<button type="button" id="all">Show all rows</button></div></div></section>'
    '<aside class="key" aria-label="Legend and notes" tabindex="0"><details open><summary>Legend</summary>'
    '<div id="legend"></div></details>{notes}</aside>'
    "<noscript><p>The map and the list need JavaScript, which is switched off in this browser.</p></noscript>"
    "</main>"
)


@cache
def _file(name: str) -> str:
    return resources.files("geo.maps").joinpath(name).read_text(encoding="utf-8")


@cache
def _scripts() -> tuple[str, str]:
    """Leaflet and the page's script, without comments on lines of their own and without indentation."""
    static = resources.files("js_lib_leaflet") / "static" / "js_lib_leaflet"
    leaflet = (static / "leaflet.js").read_text(encoding="utf-8").replace("\r\n", "\n")
    leaflet = re.sub(r"\n//# sourceMappingURL=.*", "", leaflet).strip()
    lines = (line.strip() for line in _file("page.js").splitlines())
    own = "\n".join(line for line in lines if line and not line.startswith("//"))
    return leaflet, own


@cache
def _styles() -> str:
    """Leaflet's rules for what this page uses, and the page's own.

    Rules that fetch an image or speak of markers, popups, tooltips and tiles are
    left out: nothing here uses them.
    """
    static = resources.files("js_lib_leaflet") / "static" / "js_lib_leaflet"
    text = _squeezed((static / "leaflet.css").read_text(encoding="utf-8"))
    unused = re.compile(r"url\(|popup|tooltip|marker|tile|vml|control-layers|div-icon|oldie|attribution-flag|@media")
    rules = [rule for rule in re.findall(r"[^{}]+\{[^{}]*\}", text) if not unused.search(rule)]
    # The selectors list panes of every kind together; those rules are needed, with what they also name.
    panes = [rule for rule in re.findall(r"[^{}]+\{[^{}]*\}", text) if rule.startswith(".leaflet-pane,")]
    return "".join(panes + rules) + _squeezed(_file("page.css"))


def _squeezed(css: str) -> str:
    css = re.sub(r"/\*.*?\*/", "", css.replace("\r\n", "\n"), flags=re.DOTALL)
    css = re.sub(r"\s+", " ", css)
    return re.sub(r" ?([{};,]) ?", r"\1", css).strip()


def safe_json(value: Any) -> str:
    """JSON that can stand inside a script element: no ``<``, no line separators."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")


def _one_sha(text: str) -> str:
    return "'sha256-" + base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii") + "'"


def _policy(page: str) -> str:
    """The Content-Security-Policy that lets this page's own scripts and styles run and nothing else."""
    scripts = re.findall(r"<script>(.*?)</script>", page, flags=re.DOTALL)
    styles = re.findall(r"<style>(.*?)</style>", page, flags=re.DOTALL)
    return "; ".join(
        [
            "default-src 'none'",
            "script-src " + (" ".join(_one_sha(s) for s in scripts) or "'none'"),
            "style-src " + (" ".join(_one_sha(s) for s in styles) or "'none'"),
            "img-src data: blob:",
            "base-uri 'none'",
            "form-action 'none'",
        ]
    )


def render_page(
    page: MapPage,
    data: Mapping[str, Any] | None,
    *,
    places: int,
    noun: tuple[str, str],
    search: bool,
    center: tuple[float, float] = (0.0, 0.0),
) -> str:
    """The whole HTML page.

    Parameters
    ----------
    page
        The words around the map.
    data
        What ``page.js`` unfolds, or None when there is nothing to show.
    places
        How many places are drawn.
    noun
        What a place is called, singular and plural.
    search
        Whether places can be found by their names.
    center
        Latitude and longitude, degrees, of the middle of the places.

    Returns
    -------
    str
        HTML, the same for the same input.
    """
    asked = places if page.asked is None else page.asked
    words = {
        "lang": escape(page.lang),
        "title": escape(_utf8(page.title)),
        "intro": escape(_utf8(page.intro)),
        "data_date": escape(_utf8(page.data_date)),
        "synthetic": "yes" if page.synthetic else "",
        "many": escape(noun[1]),
        "answered": ""
        if page.answers is None
        else f"<strong>{page.answers:,}</strong> of {asked:,} {escape(noun[0] if asked == 1 else noun[1])} answered",
    }
    notes = "".join(f"<li>{escape(_utf8(note))}</li>" for note in page.notes)
    notes = f'<ul class="notes">{notes}</ul>' if notes else ""
    figure = _Page(words, with_map=data is not None)
    figure.header.add_child(Element("{% raw %}<style>" + _styles() + "</style>{% endraw %}"), name="style")
    if data is None:
        body = (
            f'<main><p class="nothing">There is nothing to show on the map yet: no {escape(noun[0])} was '
            f"handed to it. Load the parcels first, then draw the map again.</p>"
            f'<div class="key">{notes}</div></main>'
        )
        figure.html.add_child(Element("{% raw %}" + _braces(body) + "{% endraw %}"), name="nothing")
        return _locked(figure.render(), "")
    for name, script in zip(("leaflet", "page"), _scripts(), strict=True):
        figure.header.add_child(
            Element("{% raw %}<script>" + script + "</script>{% endraw %}"), name=name
        )
    before = _BEFORE_MAP.replace("{search}", _SEARCH if search else "")
    figure.html.add_child(Element("{% raw %}" + before + "{% endraw %}"), name="before")
    offline = OfflineMap(
        label=f"Map of {places:,} {noun[0] if places == 1 else noun[1]}. The list holds the same.",
        location=center,
        zoom_start=15,
        zoom_control=False,
        control_scale=True,
        max_zoom=21,
        zoom_snap=0.25,
        zoom_delta=1,
        wheel_px_per_zoom_level=90,
        attribution_control=False,
        max_bounds_viscosity=0.6,
    )
    offline.add_to(figure)
    _Places().add_to(offline)
    offline.render()
    after = _AFTER_MAP.replace("{notes}", _braces(notes))
    figure.html.add_child(Element("{% raw %}" + after + "{% endraw %}"), name="after")
    return _locked(figure.render(), safe_json(data))


def _locked(html: str, data: str) -> str:
    html = html.replace(_CSP_PLACE, _policy(html), 1)
    head, mark, tail = html.partition(_DATA_PLACE)
    return head + data + tail if mark else html


def _utf8(text: str) -> str:
    return text.encode("utf-8", "replace").decode("utf-8")


def _braces(html: str) -> str:
    """Braces as character references, so that no text can end the template's raw block."""
    return html.replace("{", "&#123;").replace("}", "&#125;")
