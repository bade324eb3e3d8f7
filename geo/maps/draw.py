"""Maps of places and of areas as one file that needs nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import geopandas as gpd
import numpy as np
import numpy.typing as npt

from geo.maps.packing import pack_codes, pack_column, pack_lines, pack_shapes
from geo.maps.page import MapPage, render_page
from geo.maps.palette import (
    INK,
    PAPER,
    PATTERNS,
    STREET,
    SUPPRESSED,
    MapClass,
    Ramp,
    contrast_ratio,
    readable_on,
    swatch,
)

__all__ = ["EMBED_HEIGHT_PX", "ColorView", "MapInputError", "draw_blocks", "draw_places"]

EMBED_HEIGHT_PX = 760
"""A height in CSS pixels at which a page reads well inside another page, on a desk and on a phone."""

_CURB = "#D3D8D1"
_STREET_INK = "#55626B"


class MapInputError(ValueError):
    """What was handed to a map does not fit together; the text lists every problem found."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ColorView:
    """Another way to color the same places, offered beside the first.

    Attributes
    ----------
    label
        The words beside the switch and above the legend.
    class_of
        The key of a class for each place.
    classes
        The classes, in the order of the legend.
    """

    label: str
    class_of: Sequence[str]
    classes: Sequence[MapClass]


def draw_places(
    frame: gpd.GeoDataFrame,
    *,
    class_of: Sequence[str],
    classes: Sequence[MapClass],
    fields: Sequence[tuple[str, Sequence[str]]],
    search_labels: Sequence[str] | None,
    page: MapPage,
    view_label: str = "Kind",
    other_views: Sequence[ColorView] = (),
    streets: gpd.GeoDataFrame | None = None,
    street_name_column: str = "name",
    street_width_m: float = 9.0,
    blocks: gpd.GeoDataFrame | None = None,
    block_layer_label: str | None = None,
    block_values: Sequence[float] | None = None,
    block_ramp: Ramp | None = None,
    block_fields: Sequence[tuple[str, Sequence[str]]] = (),
    block_names: Sequence[str] | None = None,
    block_marks: Sequence[str] | None = None,
    noun: tuple[str, str] = ("home", "homes"),
    block_noun: tuple[str, str] = ("block", "blocks"),
    name_label: str = "Address",
) -> str:
    """Draw places, each in the color of its class, with search, legend, card and list.

    Parameters
    ----------
    frame
        One row per place, polygons, multipolygons or points in EPSG:4326. A row without a shape is in the
        search and the list, not on the map.
    class_of
        The key of a class for each row.
    classes
        Classes in the order of the legend.
    fields
        Label and one text per row, shown on hover, in the card and in the list. Texts are shown as they
        are: no text can act as HTML or script.
    search_labels
        What each place is found by, usually its address; also the heading of its card. None leaves the
        search out.
    page
        The words around the map.
    view_label
        What the classes speak of; heads the legend.
    other_views
        More ways to color the same places (who answered, which phase), each behind a switch.
    streets
        Lines in EPSG:4326, drawn below the places; names from ``street_name_column`` where there is one.
    street_width_m
        Width to draw streets with, meters.
    blocks, block_layer_label, block_values, block_ramp
        Areas in EPSG:4326 as one more view: its label, a value per area (NaN: nothing known) and the
        ramp that colors it. All four or none.
    block_fields, block_names, block_marks
        Texts per area: rows of its card, its heading, and a short text drawn in its middle.
    noun, block_noun
        What a place and an area are called, singular and plural.
    name_label
        Heading of the names' column in the list.

    Returns
    -------
    str
        A whole HTML page that makes no request. The same input gives the same bytes.

    Raises
    ------
    MapInputError
        If lengths, classes, colors or coordinate systems do not fit; every problem is named.
    """
    n = len(frame)
    problems = _frame_problems(frame, "places") + _view_problems(class_of, classes, n, view_label)
    problems += _field_problems(fields, search_labels, n, "places")
    for view in other_views:
        problems += _view_problems(view.class_of, view.classes, n, view.label)
    if streets is not None:
        problems += _frame_problems(streets, "streets")
    block_parts = (blocks, block_layer_label, block_values, block_ramp)
    if any(part is not None for part in block_parts) and any(part is None for part in block_parts):
        problems.append(
            "A layer of areas needs blocks, block_layer_label, block_values and block_ramp together. "
            "Give all four or none."
        )
    elif blocks is not None:
        problems += _frame_problems(blocks, "blocks")
        problems += _field_problems(block_fields, block_names, len(blocks), "blocks")
        problems += _length_problem(block_values, len(blocks), "block_values")
        problems += _length_problem(block_marks, len(blocks), "block_marks")
    _refuse(problems)
    if n == 0:
        return render_page(page, None, places=0, noun=noun, search=False)
    sets = [
        _pack_set(
            frame, fields, search_labels, marks=None, noun=noun, name_label=name_label, numbered=True
        )
    ]
    views = [_pack_view(view_label, 0, class_of, classes, areas=False)]
    views += [_pack_view(v.label, 0, v.class_of, v.classes, areas=False) for v in other_views]
    if blocks is not None and block_values is not None and block_ramp is not None and len(blocks):
        sets.append(
            _pack_set(
                blocks,
                block_fields,
                block_names,
                marks=block_marks,
                noun=block_noun,
                name_label=block_noun[0].capitalize(),
                numbered=False,
            )
        )
        keys, shown = _ramp_keys(block_values, [False] * len(blocks), block_ramp, "Nothing known")
        views.append(_pack_view(block_layer_label or "", 1, keys, shown, areas=True))
    return render_page(
        page,
        _data(sets, views, streets, street_name_column, street_width_m),
        places=n,
        noun=noun,
        search=search_labels is not None,
        center=_center(frame),
    )


def draw_blocks(
    blocks: gpd.GeoDataFrame,
    *,
    values: Sequence[float],
    suppressed: Sequence[bool],
    ramp: Ramp,
    fields: Sequence[tuple[str, Sequence[str]]],
    page: MapPage,
    minimum: int,
    view_label: str = "Share",
    names: Sequence[str] | None = None,
    marks: Sequence[str] | None = None,
    streets: gpd.GeoDataFrame | None = None,
    street_name_column: str = "name",
    street_width_m: float = 9.0,
    noun: tuple[str, str] = ("block", "blocks"),
) -> str:
    """Draw areas alone, for readers who may see no single home.

    A suppressed area is drawn and named, and nothing else about it enters the
    page: neither its value nor a text of its fields nor its mark.

    Parameters
    ----------
    blocks
        One row per area, polygons or multipolygons in EPSG:4326.
    values
        A number per area; NaN where nothing is known.
    suppressed
        True where fewer than ``minimum`` answers stand behind the value.
    ramp
        Colors of the values.
    fields
        Label and one text per area, for those not suppressed.
    page
        The words around the map. ``answers`` and ``asked`` count homes.
    minimum
        The fewest answers that are shown; the legend states it.
    view_label
        What the values are; heads the legend.
    names
        What an area is called.
    marks
        A short text drawn in the middle of each area that is not suppressed.
    streets, street_name_column, street_width_m
        As in :func:`draw_places`.
    noun
        What an area is called, singular and plural.

    Returns
    -------
    str
        A whole HTML page that makes no request.

    Raises
    ------
    MapInputError
        If lengths, colors or coordinate systems do not fit; every problem is named.
    """
    n = len(blocks)
    problems = _frame_problems(blocks, "blocks") + _field_problems(fields, names, n, "blocks")
    problems += _length_problem(values, n, "values") + _length_problem(suppressed, n, "suppressed")
    problems += _length_problem(marks, n, "marks")
    if minimum < 2:
        problems.append(f"A minimum of {minimum} would show single homes. State a minimum of 2 or more.")
    if streets is not None:
        problems += _frame_problems(streets, "streets")
    _refuse(problems)
    if n == 0:
        return render_page(page, None, places=page.asked or 0, noun=noun, search=False)
    hidden = [bool(flag) for flag in suppressed]
    kept = [(label, ["" if h else t for h, t in zip(hidden, texts, strict=True)]) for label, texts in fields]
    kept_marks = None if marks is None else ["" if h else t for h, t in zip(hidden, marks, strict=True)]
    keys, shown = _ramp_keys(
        [float("nan") if h else float(v) for h, v in zip(hidden, values, strict=True)],
        hidden,
        ramp,
        "Nothing known",
        f"Fewer than {minimum} answers: not shown",
    )
    packed = _pack_set(
        blocks,
        kept,
        names,
        marks=kept_marks,
        noun=noun,
        name_label=noun[0].capitalize(),
        numbered=False,
    )
    return render_page(
        page,
        _data(
            [packed],
            [_pack_view(view_label, 0, keys, shown, areas=True)],
            streets,
            street_name_column,
            street_width_m,
        ),
        places=n,
        noun=noun,
        search=False,
        center=_center(blocks),
    )


def _data(
    sets: list[dict[str, Any]],
    views: list[dict[str, Any]],
    streets: gpd.GeoDataFrame | None,
    name_column: str,
    width_m: float,
) -> dict[str, Any]:
    data: dict[str, Any] = {
        "sets": sets,
        "views": views,
        "ink": INK,
        "paper": PAPER,
        "street": STREET,
        "curb": _CURB,
        "streetInk": _STREET_INK,
        "streets": None,
    }
    if streets is not None and len(streets):
        named = name_column in streets.columns
        data["streets"] = {
            "lines": pack_lines(_degrees(streets).geometry),
            "width": width_m,
            "rows": len(streets),
            "names": pack_column(_texts(streets[name_column])) if named else None,
        }
    return data


def _texts(column: Any) -> list[str]:
    return ["" if value is None or value != value else str(value) for value in column]


def _degrees(frame: gpd.GeoDataFrame) -> gpd.GeoDataFrame:
    return frame if frame.crs.to_epsg() == 4326 else frame.to_crs(4326)


def _center(frame: gpd.GeoDataFrame) -> tuple[float, float]:
    west, south, east, north = (float(v) for v in _degrees(frame).total_bounds)
    return (0.0, 0.0) if np.isnan(west) else ((south + north) / 2, (west + east) / 2)


def _pack_set(
    frame: gpd.GeoDataFrame,
    fields: Sequence[tuple[str, Sequence[str]]],
    names: Sequence[str] | None,
    *,
    marks: Sequence[str] | None,
    noun: tuple[str, str],
    name_label: str,
    numbered: bool,
) -> dict[str, Any]:
    """Shapes and texts of one kind of place; a column that occurs twice is written once."""
    columns: list[dict[str, Any]] = []
    seen: list[list[str | None]] = []

    def place(texts: Sequence[str]) -> int:
        wanted: list[str | None] = list(texts)
        for index, known in enumerate(seen):
            if known == wanted:
                return index
        seen.append(wanted)
        columns.append(pack_column(wanted))
        return len(columns) - 1

    return {
        "shapes": pack_shapes(_degrees(frame).geometry),
        "names": None if names is None else place(names),
        "fields": [[label, place(texts)] for label, texts in fields],
        "marks": None if marks is None else place(marks),
        "columns": columns,
        "noun": list(noun),
        "nameLabel": name_label,
        "numbered": numbered,
    }


def _pack_view(
    label: str, of_set: int, class_of: Sequence[str], classes: Sequence[MapClass], *, areas: bool
) -> dict[str, Any]:
    index = {own.key: i for i, own in enumerate(classes)}
    codes: npt.NDArray[np.int64] = np.fromiter(
        (index[key] for key in class_of), dtype=np.int64, count=len(class_of)
    )
    return {
        "label": label,
        "set": of_set,
        "areas": areas,
        "codes": list(pack_codes(codes, len(classes))),
        "classes": [
            {
                "label": own.label,
                "fill": own.fill,
                "outline": own.outline,
                "ink": _pattern_ink(own),
                "text": readable_on(own.fill),
                "pattern": own.pattern,
                "letter": own.letter,
            }
            for own in classes
        ],
    }


def _pattern_ink(own: MapClass) -> str:
    """The color of a class's pattern: its outline, or the ink or white if that would not stand out.

    WCAG 2.2, success criterion 1.4.11: graphics need a contrast of 3 to 1.
    """
    return own.outline if contrast_ratio(own.outline, own.fill) >= 3.0 else readable_on(own.fill)


def _ramp_keys(
    values: Sequence[float], hidden: Sequence[bool], ramp: Ramp, unknown: str, withheld: str = ""
) -> tuple[list[str], list[MapClass]]:
    """Class per area, and the classes for the legend: highest first, then what is not known or not shown."""
    keys = [
        "withheld" if h else "unknown" if value != value else ramp.class_of(value).key
        for value, h in zip(values, hidden, strict=True)
    ]
    shown = list(reversed(ramp.classes))
    if "unknown" in keys:
        shown.append(
            MapClass(key="unknown", label=unknown, fill="#FBFAF6", outline="#777C79", pattern="dots")
        )
    if withheld:
        shown.append(swatch(SUPPRESSED, key="withheld", label=withheld))
    return keys, shown


def _refuse(problems: list[str]) -> None:
    if problems:
        raise MapInputError(" ".join(problems))


def _frame_problems(frame: gpd.GeoDataFrame, what: str) -> list[str]:
    if len(frame) == 0:
        return []
    if frame.crs is None:
        return [f"The {what} have no coordinate system. Set it first (the map wants EPSG:4326)."]
    west, south, east, north = frame.to_crs(4326).total_bounds if frame.crs.to_epsg() != 4326 else frame.total_bounds
    if not np.isnan(west) and (west < -180 or east > 180 or south < -90 or north > 90):
        return [
            f"The {what} reach from {west:.0f}, {south:.0f} to {east:.0f}, {north:.0f}: that cannot be degrees. "
            "Set the coordinate system they are really in, then convert them to EPSG:4326."
        ]
    return []


def _length_problem(column: Sequence[Any] | None, n: int, what: str) -> list[str]:
    if column is None or len(column) == n:
        return []
    return [f"{what} has {len(column)} entries for {n} rows. Give one for each row."]


def _field_problems(
    fields: Sequence[tuple[str, Sequence[str]]], names: Sequence[str] | None, n: int, what: str
) -> list[str]:
    problems = _length_problem(names, n, f"The names of the {what}")
    for label, texts in fields:
        problems += _length_problem(texts, n, f"The field “{label}” of the {what}")
    return problems


def _view_problems(
    class_of: Sequence[str], classes: Sequence[MapClass], n: int, label: str
) -> list[str]:
    problems = _length_problem(class_of, n, f"class_of of “{label}”")
    keys = [own.key for own in classes]
    twice = sorted({key for key in keys if keys.count(key) > 1})
    if twice:
        problems.append(f"Classes of “{label}” share a key: {', '.join(twice)}. Give each its own.")
    unknown = sorted({str(key) for key in class_of} - set(keys))
    if unknown:
        problems.append(
            f"class_of of “{label}” names {', '.join(unknown[:5])}, which is not among the classes. Add it."
        )
    for own in classes:
        if own.pattern not in PATTERNS:
            problems.append(
                f"Class “{own.key}” asks for the pattern “{own.pattern}”. Choose one of {', '.join(PATTERNS)}."
            )
        for color in (own.fill, own.outline):
            try:
                contrast_ratio(color, PAPER)
            except ValueError as problem:
                problems.append(f"Class “{own.key}”: {problem}")
    return problems
