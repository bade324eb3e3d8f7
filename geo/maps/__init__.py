"""Self-contained maps of places, with no idea what the places are asked about.

The caller hands over shapes, a class for each, the looks of the classes and
columns of text; a whole HTML page comes back that makes no request, treats
every text as text, can be used by keyboard and screen reader, and prints.

>>> html = draw_places(
...     frame,  # doctest: +SKIP
...     class_of=["new", "old"],
...     classes=[swatch(PALE, key="new", label="New"), swatch(DEEP, key="old", label="Old", letter="O")],
...     fields=[("Built", ["2021", "1999"])],
...     search_labels=["4 Elm Ct", "6 Elm Ct"],
...     page=MapPage(
...         title="Homes by age", intro="Two homes.", synthetic=True, data_date="May 1, 2026", answers=2
...     ),
... )
"""

from __future__ import annotations

from geo.maps.draw import EMBED_HEIGHT_PX, ColorView, MapInputError, draw_blocks, draw_places
from geo.maps.page import MapPage, OfflineMap
from geo.maps.palette import (
    BLANK,
    DEEP,
    INK,
    MIDDLE,
    PALE,
    PALETTE,
    PAPER,
    PATTERNS,
    SHADES,
    STREET,
    SUPPRESSED,
    UNKNOWN,
    MapClass,
    Ramp,
    contrast_ratio,
    readable_on,
    relative_luminance,
    shades_ramp,
    swatch,
)

__all__ = [
    "BLANK",
    "DEEP",
    "EMBED_HEIGHT_PX",
    "INK",
    "MIDDLE",
    "PALE",
    "PALETTE",
    "PAPER",
    "PATTERNS",
    "SHADES",
    "STREET",
    "SUPPRESSED",
    "UNKNOWN",
    "ColorView",
    "MapClass",
    "MapInputError",
    "MapPage",
    "OfflineMap",
    "Ramp",
    "contrast_ratio",
    "draw_blocks",
    "draw_places",
    "readable_on",
    "relative_luminance",
    "shades_ramp",
    "swatch",
]
