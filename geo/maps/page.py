"""The page around a map: a folium map that fetches nothing, and what stands beside it.

folium's own page asks ten files from the network before anything is drawn, and
writes names, tooltips and titles into the page as HTML; branca beneath it even
reads what a map element has written as a template once more. So
:class:`SelfContainedMap` keeps folium's map and leaves its page: Leaflet's files
come from the installed package ``js_lib_leaflet``, nothing that people typed
passes through a folium template, and all of it reaches the page either escaped
here or as JSON that ``page.js`` shows through ``textContent``.

A second lock is the Content-Security-Policy: it names the SHA-256 of each script
and style of the page, so that nothing else runs, not even an event handler in an
attribute, and no connection can be opened.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from dataclasses import dataclass
from functools import cache
from html import escape
from importlib.resources import files
from typing import Any

import folium
from branca.element import Figure
from folium.template import Template

__all__ = ["MapPage", "SelfContainedMap", "empty_page"]

_LANGUAGE = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*")


@dataclass(frozen=True, slots=True, kw_only=True)
class MapPage:
    """What the page says around its map. All texts are plain text and are escaped.

    Attributes
    ----------
    title
        Heading of the page and name of the browser's tab.
    intro
        A sentence or two below the heading.
    notes
        What a reader must know to read the map rightly, one paragraph each, below the legend.
    synthetic
        Whether the data are invented; the page then says so in a band at the top.
    data_date
        The day the data stand for, as it is to be read.
    lang
        Language of the page (BCP 47), which also settles how counts are written.
    """

    title: str
    intro: str
    notes: tuple[str, ...] = ()
    synthetic: bool
    data_date: str
    lang: str = "en"

    def __post_init__(self) -> None:
        """Refuse a page without a heading or with a language no browser knows."""
        if not self.title.strip():
            raise ValueError("A map page needs a title. Give it a few words, such as the community's name.")
        if not _LANGUAGE.fullmatch(self.lang):
            raise ValueError(f"“{self.lang}” is not a language code. Write it like “en” or “en-US”.")


class SelfContainedMap(folium.Map):
    """A folium map that loads nothing and whose ids are the same every time.

    Parameters
    ----------
    **options
        Passed to Leaflet's map, in folium's spelling (``zoom_snap=0.25``).
    """

    default_js: list[tuple[str, str]] = []  # noqa: RUF012  folium's own attribute, replaced as a whole
    default_css: list[tuple[str, str]] = []  # noqa: RUF012

    # folium's template without its viewport (which forbids zooming by hand) and its inline styles.
    _template = Template(
        """
        {% macro html(this, kwargs) %}<div class="folium-map" id={{ this.get_name()|tojson }}></div>{% endmacro %}
        {% macro script(this, kwargs) %}
        var {{ this.get_name() }} = L.map({{ this.get_name()|tojson }}, {
          center: {{ this.location|tojson }}, crs: L.CRS.{{ this.crs }}, ...{{ this.options|tojavascript }} });
        L.control.zoom({ position: "topright" }).addTo({{ this.get_name() }});
        {%- if this.control_scale %}
        L.control.scale().addTo({{ this.get_name() }});
        {%- endif %}
        {% endmacro %}
        """
    )

    def __init__(self, **options: Any) -> None:
        super().__init__(location=[0.0, 0.0], tiles=None, zoom_control=False, **options)
        self._name, self._id = "map", "page"

    def render_page(self, page: MapPage, data: dict[str, Any], *, searchable: bool, facts: tuple[str, ...]) -> str:
        """The whole page as HTML.

        Parameters
        ----------
        page
            The words around the map.
        data
            What ``page.js`` unfolds; see ``geo.maps.draw``.
        searchable
            Whether a search field is offered.
        facts
            Short lines beside the heading, after the date of the data.

        Returns
        -------
        str
            A document that needs no other file.
        """
        figure = self.get_root()
        assert isinstance(figure, Figure)
        self.render()  # type: ignore[no-untyped-call]
        markup = str(figure.html.render())
        script = str(figure.script.render()).strip()
        start = f'neighborhoodMap({self.get_name()}, JSON.parse(document.getElementById("data").textContent));'
        body = (
            "<main>"
            f"{_FIND_OPEN}{_SEARCH if searchable else ''}{_FIND_REST}"
            f'<section id="stage" aria-label="Map">{markup.strip()}{_STAGE}</section>'
            f'<aside class="key" aria-label="Legend and notes"><details open><summary>What the colors mean</summary>'
            f'<div id="legend"></div></details>{_notes(page)}</aside>'
            "</main>"
            f'<script type="application/json" id="data">{_script_json(data)}</script>'
        )
        return _document(page, body, (_leaflet_js(), _page_js(), f"{_lean(script)}\n{start}"), facts)


def empty_page(page: MapPage, sentence: str) -> str:
    """A page in the same dress that says why there is no map.

    Parameters
    ----------
    page
        The words around the map.
    sentence
        What is missing and what to do.
    """
    return _document(page, f'<main><p class="nothing">{_text(sentence)}</p></main>', (), ())


_FIND_OPEN = '<section class="find" aria-label="Find and choose">'
_SEARCH = (
    '<div class="field"><label for="search">Find an address</label><div class="combo">'
    '<input type="search" id="search" role="combobox" aria-expanded="false" aria-controls="hits" '
    'aria-autocomplete="list" autocomplete="off" spellcheck="false">'
    '<ul id="hits" role="listbox" aria-label="Addresses found" hidden></ul></div>'
    '<p class="told" id="told" role="status"></p></div>'
)
_FIND_REST = (
    '<fieldset id="views" hidden><legend>Show</legend></fieldset>'
    '<div class="buttons"><button type="button" id="whole">Show all</button>'
    '<button type="button" id="swap" aria-pressed="false">Show as a list</button></div></section>'
)
_STAGE = (
    '<div id="tip" hidden></div>'
    '<div id="card" role="region" aria-label="Details" tabindex="-1" hidden></div>'
    '<p class="hide" id="status" role="status"></p>'
    '<div id="list" hidden><div class="tools"><div class="field"><label for="filter">Keep rows with</label>'
    '<input type="search" id="filter" autocomplete="off" spellcheck="false"></div><p id="rows" role="status"></p></div>'
    '<div id="table" tabindex="0" role="region" aria-label="The map as a list"></div>'
    '<div class="buttons"><button type="button" id="more">More rows</button>'
    '<button type="button" id="all">All rows</button></div></div>'
)


def _document(page: MapPage, body: str, scripts: tuple[str, ...], facts: tuple[str, ...]) -> str:
    styles = (_leaflet_css(), _page_css()) if scripts else (_page_css(),)
    policy = (
        "default-src 'none'; "
        + (f"script-src {_hashes(scripts)}; " if scripts else "")
        + f"style-src {_hashes(styles)}; img-src data:; base-uri 'none'; form-action 'none'"
    )
    band = '<p class="synthetic">Synthetic: an invented community. No real home or person is shown.</p>'
    shown = (
        f"Data of <strong>{_text(page.data_date)}</strong>",
        *(f"<strong>{_text(fact)}</strong>" for fact in facts),
    )
    return "".join(
        (
            f'<!DOCTYPE html>\n<html lang="{_text(page.lang)}">\n<head>\n<meta charset="utf-8">\n',
            f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n',
            '<meta name="viewport" content="width=device-width, initial-scale=1">\n',
            '<meta name="referrer" content="no-referrer">\n<link rel="icon" href="data:,">\n',
            f"<title>{_text(page.title)}</title>\n",
            *(f"<style>{style}</style>\n" for style in styles),
            "</head>\n<body>\n<header>",
            band if page.synthetic else "",
            f'<div class="top"><h1>{_text(page.title)}</h1><p class="intro">{_text(page.intro)}</p>',
            f'<div class="facts">{"".join(f"<span>{fact}</span>" for fact in shown)}</div></div></header>\n',
            body,
            "\n",
            *(f"<script>{script}</script>\n" for script in scripts),
            "</body>\n</html>\n",
        )
    )


def _notes(page: MapPage) -> str:
    if not page.notes:
        return ""
    return '<ul class="notes">' + "".join(f"<li>{_text(note)}</li>" for note in page.notes) + "</ul>"


def _text(text: str) -> str:
    """Escaped for an element or a quoted attribute; what UTF-8 cannot carry becomes a question mark."""
    return escape(text.encode("utf-8", "replace").decode("utf-8"), quote=True)


def _script_json(data: dict[str, Any]) -> str:
    """JSON that cannot end its script element: HTML looks for ``<`` there, and for nothing else."""
    return json.dumps(data, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")


def _hashes(texts: tuple[str, ...]) -> str:
    digests = (base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() for text in texts)
    return " ".join(f"'sha256-{digest}'" for digest in digests)


def _lean(script: str) -> str:
    """A script without the lines that hold only a comment, and without indentation."""
    lines = (line.strip() for line in script.splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//"))


def _lean_css(css: str) -> str:
    css = re.sub(r"/\*.*?\*/", "", css, flags=re.DOTALL)
    css = re.sub(r"\s+", " ", css)
    return re.sub(r" ?([{};,]) ?", r"\1", css).replace(": ", ":").strip()


@cache
def _own(name: str) -> str:
    return files("geo.maps").joinpath(name).read_text(encoding="utf-8")


@cache
def _leaflet(name: str) -> str:
    return files("js_lib_leaflet").joinpath("static", "js_lib_leaflet", name).read_text(encoding="utf-8")


@cache
def _page_js() -> str:
    return _lean(_own("page.js"))


@cache
def _page_css() -> str:
    return _lean_css(_own("page.css"))


@cache
def _leaflet_js() -> str:
    return re.sub(r"\n?//# sourceMappingURL=\S+\s*", "", _leaflet("leaflet.js")).replace("\r\n", "\n")


@cache
def _leaflet_css() -> str:
    """Leaflet's style sheet without its pictures (markers, the layers icon), which this page does not use."""
    css = _lean_css(_leaflet("leaflet.css"))
    css = re.sub(r"background-image:url\([^)]*\);?", "", css)
    return re.sub(r"behavior:url\([^)]*\);?", "", css)
