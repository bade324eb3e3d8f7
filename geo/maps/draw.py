"""From frames to pages: every place with its card, or areas only.

Both functions check all they are given at once, pack it (``geo.maps.packing``)
and hand it to the page (``geo.maps.page``). The data that ``page.js`` reads is::

    sets     things that lie on the map: shapes, columns of text, which columns are fields,
             which one is the name, which one is the short mark written into a shape
    views    ways to color a set: classes and a code a shape
    streets  lines, their width in metres and their names
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import geopandas as gpd
import numpy as np

from geo.maps.packing import pack_codes, pack_column, pack_lines, pack_shapes
from geo.maps.page import MapPage, SelfContainedMap, empty_page
from geo.maps.palette import (
    INK,
    PAPER,
    PATTERNS,
    SHARE_CLASSES,
    STREET,
    MapClass,
    contrast_ratio,
    pattern_ink,
    readable_on,
)

__all__ = ["draw_blocks", "draw_places"]

Fields = Sequence[tuple[str, Sequence[str]]]

_CURB = "#C3C9C3"
_STREET_INK = "#4B5963"
_STREET_WIDTH_M = 8.5  # a residential street of two lanes with parking; drawn, not measured
_WGS84 = 4326


def draw_places(
    frame: gpd.GeoDataFrame,
    *,
    class_of: Sequence[str],
    classes: Sequence[MapClass],
    fields: Fields,
    search_labels: Sequence[str] | None,
    page: MapPage,
    streets: gpd.GeoDataFrame | None = None,
    blocks: gpd.GeoDataFrame | None = None,
    block_layer_label: str | None = None,
    block_classes: Sequence[MapClass] = SHARE_CLASSES,
    layer_label: str = "Each home",
) -> str:
    """Every place in its class's color, with a card, as one self-contained page.

    Parameters
    ----------
    frame
        One row a place, EPSG:4326: polygons, multipolygons or points. A row without geometry is
        found by search and in the list.
    class_of
        Key of the class of each row.
    classes
        The classes, in the order of the legend.
    fields
        What the card shows: a label and one text a row. A field equal to `search_labels` is the card's heading.
    search_labels
        What search looks through (addresses), one a row; None for a map without search. House numbers at
        their beginning are written into the lots.
    page
        The words around the map.
    streets
        Lines with columns ``name`` and ``kind``, EPSG:4326.
    blocks
        Areas of a second layer, EPSG:4326, with columns ``block`` (name), ``label`` (text shown, such as
        "18 of 25 answered") and ``shade`` (key of one of `block_classes`).
    block_layer_label
        What the second layer is called; needed with `blocks`.
    block_classes
        Classes of the second layer; by default five shares and "not shown".
    layer_label
        What the first layer is called.

    Returns
    -------
    str
        HTML. An empty frame gives a page that says there is nothing to show.

    Raises
    ------
    ValueError
        If the arguments do not fit together; the sentences name everything that is wrong.
    """
    wrong = _faults("frame", frame, class_of, classes, fields)
    wrong += _street_faults(streets)
    if search_labels is not None and len(search_labels) != len(frame):
        wrong.append(f"search_labels holds {len(search_labels)} texts for {len(frame)} places. Give one a place.")
    if blocks is not None:
        missing = [name for name in ("block", "label", "shade") if name not in blocks.columns]
        if missing:
            wrong.append(f"blocks lacks the column {', '.join(missing)}. It needs block, label and shade.")
        else:
            wrong += _faults("blocks", blocks, _texts(blocks["shade"]), block_classes, ())
        if not block_layer_label:
            wrong.append("blocks is given without block_layer_label. Say what the second layer is called.")
    _refuse(wrong)
    if len(frame) == 0:
        return empty_page(page, "There are no homes to show yet. Load the parcels first, then make the map again.")

    sets = [_set(frame, fields, names=search_labels, noun=("home", "homes"), name_label="Address", numbered=True)]
    views = [_view(0, layer_label, class_of, classes, areas=False)]
    if blocks is not None and len(blocks):
        names = _texts(blocks["block"])
        told: Fields = (("Answers", _texts(blocks["label"])),)
        sets.append(_set(blocks, told, names=names, noun=("area", "areas"), name_label="Area", numbered=False))
        shades = _texts(blocks["shade"])
        views.append(_view(1, str(block_layer_label), shades, block_classes, areas=True))
    return _render(page, sets, views, streets, searchable=search_labels is not None, count=len(frame), noun="homes")


def draw_blocks(
    blocks: gpd.GeoDataFrame,
    *,
    class_of: Sequence[str],
    classes: Sequence[MapClass],
    fields: Fields,
    page: MapPage,
    streets: gpd.GeoDataFrame | None = None,
    layer_label: str = "Each area",
) -> str:
    """Areas only, for everybody to see: no outline, address or text of a single place is in the page.

    Parameters
    ----------
    blocks
        One row an area, EPSG:4326.
    class_of, classes
        As for :func:`draw_places`.
    fields
        What the card shows; the first field is its heading.
    page
        The words around the map.
    streets
        Lines with columns ``name`` and ``kind``, EPSG:4326.
    layer_label
        What the layer is called.

    Returns
    -------
    str
        HTML. An empty frame gives a page that says there is nothing to show.

    Raises
    ------
    ValueError
        If the arguments do not fit together; the sentences name everything that is wrong.
    """
    _refuse(_faults("blocks", blocks, class_of, classes, fields) + _street_faults(streets))
    if len(blocks) == 0:
        return empty_page(page, "There are no areas to show yet. Load the parcels first, then make the map again.")
    names = list(fields[0][1]) if fields else None
    label = fields[0][0] if fields else "Area"
    one = _set(blocks, fields, names=names, noun=("area", "areas"), name_label=label, numbered=False)
    view = _view(0, layer_label, class_of, classes, areas=True)
    return _render(page, [one], [view], streets, searchable=False, count=len(blocks), noun="areas")


def _faults(
    what: str, frame: gpd.GeoDataFrame, class_of: Sequence[str], classes: Sequence[MapClass], fields: Fields
) -> list[str]:
    wrong = _place_faults(what, frame)
    if len(class_of) != len(frame):
        wrong.append(f"{what} has {len(frame)} rows and {len(class_of)} classes. Give one class key a row.")
    keys = [own.key for own in classes]
    if not keys or len(set(keys)) < len(keys):
        wrong.append(f"The classes have the keys {keys}. Give at least one class, and each key once.")
    unknown = sorted(set(class_of) - set(keys))
    if unknown:
        wrong.append(f"No class has the key “{unknown[0]}” that {what} uses. Add the class or mend the key.")
    for own in classes:
        if own.pattern not in PATTERNS:
            wrong.append(
                f"Class “{own.key}” asks for the pattern “{own.pattern}”. Choose one of {', '.join(PATTERNS)}."
            )
        try:
            contrast_ratio(own.fill, own.outline)
        except ValueError as fault:
            wrong.append(f"Class “{own.key}”: {fault}")
    for label, texts in fields:
        if len(texts) != len(frame):
            wrong.append(f"The field “{label}” holds {len(texts)} texts for {len(frame)} rows. Give one a row.")
    return wrong


def _street_faults(streets: gpd.GeoDataFrame | None) -> list[str]:
    if streets is None:
        return []
    missing = [name for name in ("name", "kind") if name not in streets.columns]
    wrong = _place_faults("streets", streets)
    return wrong + ([f"streets lacks the column {', '.join(missing)}. It needs name and kind."] if missing else [])


def _place_faults(what: str, frame: gpd.GeoDataFrame) -> list[str]:
    if len(frame) == 0:
        return []
    if frame.crs is None or not frame.crs.equals(_WGS84):
        return [f"{what} is not in EPSG:4326 (degrees). Turn it with to_crs(4326) first."]
    low_x, low_y, high_x, high_y = frame.total_bounds
    if np.isfinite(low_x) and (low_x < -180 or high_x > 180 or low_y < -85 or high_y > 85):
        return [f"{what} holds coordinates that a map in degrees cannot show. Look at its coordinate system."]
    return []


def _refuse(wrong: list[str]) -> None:
    if wrong:
        raise ValueError(" ".join(wrong))


def _texts(column: Any) -> list[str]:
    return [str(value) for value in column]


def _set(
    frame: gpd.GeoDataFrame,
    fields: Fields,
    *,
    names: Sequence[str] | None,
    noun: tuple[str, str],
    name_label: str,
    numbered: bool,
) -> dict[str, Any]:
    columns: list[dict[str, Any]] = []
    shown: list[tuple[str, int]] = []
    name_column: int | None = None
    wanted = None if names is None else list(names)
    for label, texts in fields:
        column = list(texts)
        if wanted is not None and name_column is None and column == wanted:
            name_column, name_label = len(columns), label
        shown.append((label, len(columns)))
        columns.append(pack_column(column))
    if wanted is not None and name_column is None:
        name_column = len(columns)
        columns.append(pack_column(wanted))
    return {
        "shapes": pack_shapes(frame.geometry),
        "columns": columns,
        "fields": shown,
        "names": name_column,
        "marks": None,
        "numbered": numbered,
        "noun": noun,
        "nameLabel": name_label,
    }


def _view(
    of_set: int, label: str, class_of: Sequence[str], classes: Sequence[MapClass], *, areas: bool
) -> dict[str, Any]:
    place = {own.key: i for i, own in enumerate(classes)}
    looks = [
        {
            "label": own.label,
            "fill": own.fill,
            "outline": own.outline,
            "ink": pattern_ink(own),
            "text": readable_on(own.fill),
            "pattern": own.pattern,
            "letter": own.letter,
        }
        for own in classes
    ]
    codes = pack_codes([place[key] for key in class_of], len(classes))
    return {"label": label, "set": of_set, "areas": areas, "classes": looks, "codes": codes}


def _render(
    page: MapPage,
    sets: list[dict[str, Any]],
    views: list[dict[str, Any]],
    streets: gpd.GeoDataFrame | None,
    *,
    searchable: bool,
    count: int,
    noun: str,
) -> str:
    data: dict[str, Any] = {
        "paper": PAPER,
        "street": STREET,
        "curb": _CURB,
        "streetInk": _STREET_INK,
        "ink": INK,
        "sets": sets,
        "views": views,
    }
    if streets is not None and len(streets):
        data["streets"] = {
            "lines": pack_lines(streets.geometry),
            "width": _STREET_WIDTH_M,
            "names": pack_column(_texts(streets["name"].fillna(""))),
            "rows": len(streets),
        }
    shown = f"{count:,} {noun if count != 1 else noun.removesuffix('s')}"
    own = SelfContainedMap(
        zoom_start=15, control_scale=True, zoom_snap=0.25, zoom_delta=0.75, attribution_control=False
    )
    own.options["max_zoom"] = 21
    return own.render_page(page, data, searchable=searchable, facts=(shown,))
