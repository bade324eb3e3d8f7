"""Outlines made usable: valid, flat, without slivers; and written as RFC 7946 wants them."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import geopandas as gpd
import numpy as np
import pandas as pd
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

__all__ = ["Mended", "mend_outlines", "squares", "write_geojson"]

SLIVER_WIDTH_M = 0.3
SLIVER_AREA_M2 = 1.0
NOTHING_M2 = 1e-4
"""An outline smaller than this encloses nothing: what is left of a line after rounding."""
SQUARE_M = 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """Outlines in the order they came; None where nothing could be kept, and why in ``refusals``."""

    outlines: NDArray[Any]
    repairs: dict[int, list[tuple[str, str]]]
    refusals: dict[int, tuple[str, str]]


def mend_outlines(outlines: NDArray[Any]) -> Mended:
    """Repair polygons given in metres.

    Z values are dropped; an outline that crosses itself is rebuilt (shapely's
    ``make_valid``, structure method); parts narrower than 0.3 m or smaller
    than 1 m2 beside a larger part are removed (they are left over where two
    layers were cut against each other); lines and points are refused.

    Returns
    -------
    Mended
        Polygons and multipolygons, valid; repairs and refusals by position, as (what, remedy).
    """
    shapes = np.array(shapely.force_2d(outlines), dtype=object)
    repairs: dict[int, list[tuple[str, str]]] = {}
    refusals: dict[int, tuple[str, str]] = {}
    missing = np.array([g is None or g.is_empty for g in shapes])
    kinds = shapely.get_type_id(shapes)
    for i in np.flatnonzero(missing):
        refusals[int(i)] = (
            "It has no outline, so it cannot be shown on a map",
            "Ask the county for the parcel's shape, or add the home by hand",
        )
    areal = np.isin(kinds, (3, 6, 7))
    for i in np.flatnonzero(~missing & ~areal):
        refusals[int(i)] = (
            f"Its shape is a {shapes[i].geom_type.lower()}, not an outline",
            "Load the county's parcel polygons instead of this layer",
        )
    broken = ~missing & areal & (~shapely.is_valid(shapes) | (kinds == 7))
    for i in np.flatnonzero(broken):
        reason = shapely.is_valid_reason(shapes[i]).split("[")[0].strip().lower()
        polygons = _polygons(shapely.make_valid(shapes[i], method="structure", keep_collapsed=False))
        if not polygons:
            refusals[int(i)] = (
                f"Its outline encloses nothing ({reason})",
                "Ask the county for the parcel's shape, or add the home by hand",
            )
            continue
        shapes[i] = _joined(polygons)
        repairs.setdefault(int(i), []).append(
            (
                f"Its outline crossed or touched itself ({reason}) and was rebuilt",
                "Look at it on the map; no need to act",
            )
        )
    for row, shape in enumerate(shapes):
        if row not in refusals and shape.area < NOTHING_M2:
            refusals[row] = (
                "Its outline encloses nothing: it is drawn as a line",
                "Ask the county for the parcel's shape, or add the home by hand",
            )
    for row in refusals:
        shapes[row] = None
        repairs.pop(row, None)
    _drop_slivers(shapes, repairs)
    return Mended(outlines=shapes, repairs=repairs, refusals=refusals)


def _drop_slivers(shapes: NDArray[Any], repairs: dict[int, list[tuple[str, str]]]) -> None:
    """Remove leftover parts in place, all parts of all shapes measured at once."""
    present = np.flatnonzero([g is not None for g in shapes])
    parts, owner = shapely.get_parts(shapes[present], return_index=True)
    area = shapely.area(parts)
    width = 2 * area / np.maximum(shapely.length(parts), 1e-9)  # of a long strip: its width
    largest = np.zeros(len(present))
    np.maximum.at(largest, owner, area)
    thin = (width < SLIVER_WIDTH_M) | (area < SLIVER_AREA_M2)
    drop = thin & (area < largest[owner])
    counts = np.bincount(owner, minlength=len(present))
    dropped = np.bincount(owner, weights=drop, minlength=len(present)).astype(int)
    only_thin = np.bincount(owner, weights=~thin, minlength=len(present)) == 0
    offset = np.concatenate([[0], np.cumsum(counts)])
    for k, i in enumerate(present):
        mine = slice(offset[k], offset[k + 1])
        kept = list(parts[mine][~drop[mine]])
        if dropped[k] or shapes[i].geom_type == "MultiPolygon":
            shapes[i] = _joined(kept)  # one part left: a plain polygon; several parts stay a multipolygon
        if dropped[k]:
            word = "part" if dropped[k] == 1 else "parts"
            repairs.setdefault(int(i), []).append(
                (
                    f"{dropped[k]} sliver {word} of its outline removed",
                    "No need to act: they are leftovers of map cutting",
                )
            )
        if only_thin[k]:
            repairs.setdefault(int(i), []).append(
                (
                    f"Only a sliver of {area[mine].max():.1f} square metres of this parcel is in the file; it was kept",
                    "If it should be a whole lot, ask the county for the full parcel; most of it seems to lie outside",
                )
            )


def _polygons(shape: BaseGeometry) -> list[BaseGeometry]:
    return (
        [p for p in shapely.get_parts(shape) if p.geom_type == "Polygon" and not p.is_empty]
        if (shape.geom_type != "GeometryCollection")
        else [q for p in shapely.get_parts(shape) for q in _polygons(p)]
    )


def _joined(polygons: list[BaseGeometry]) -> BaseGeometry:
    return polygons[0] if len(polygons) == 1 else shapely.MultiPolygon(polygons)


def squares(points: NDArray[Any]) -> NDArray[Any]:
    """Squares of 12 m around points given in metres: a mark to click on, not a lot."""
    x, y = shapely.get_x(points), shapely.get_y(points)
    half = SQUARE_M / 2
    boxes: NDArray[Any] = shapely.box(x - half, y - half, x + half, y + half)
    return boxes


def write_geojson(frame: gpd.GeoDataFrame, path: str | Path) -> None:
    """Write a frame as GeoJSON (RFC 7946).

    WGS 84 longitude and latitude (section 4, no ``crs`` member), outer rings
    counterclockwise and holes clockwise (section 3.1.6), two coordinates with
    seven decimals, about 1 cm (section 11.2), ``bbox`` west-south-east-north
    (section 5). Missing values become null. The text is UTF-8.

    Raises
    ------
    ValueError
        The frame has no coordinate system, so its degrees cannot be known.
    """
    if frame.crs is None:
        raise ValueError("The frame has no coordinate system; set one before writing GeoJSON.")
    # Heights go first: a shape with heights in some of its parts cannot be projected.
    degrees = frame.set_geometry(gpd.GeoSeries(shapely.force_2d(frame.geometry.to_numpy()), frame.index, crs=frame.crs))
    degrees = degrees.to_crs(4326)
    shapes = degrees.geometry.to_numpy()
    shapes = np.array([None if g is None else shapely.orient_polygons(g) for g in shapes], dtype=object)
    columns = [c for c in degrees.columns if c != degrees.geometry.name]
    rows = degrees[columns].to_dict("records")
    features = [
        {
            "type": "Feature",
            "properties": {str(k): _plain_value(v) for k, v in row.items()},
            "geometry": None if shape is None or shape.is_empty else _rounded(shapely.geometry.mapping(shape)),
        }
        for row, shape in zip(rows, shapes, strict=True)
    ]
    document: dict[str, Any] = {"type": "FeatureCollection"}
    if len(degrees) and not np.isnan(degrees.total_bounds).any():
        document["bbox"] = [round(float(v), 7) for v in degrees.total_bounds]
    document["features"] = features
    with Path(path).open("w", encoding="utf-8") as file:
        json.dump(document, file, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def _rounded(geometry: dict[str, Any]) -> dict[str, Any]:
    if geometry["type"] == "GeometryCollection":
        return {"type": geometry["type"], "geometries": [_rounded(g) for g in geometry["geometries"]]}
    return {"type": geometry["type"], "coordinates": _round_all(geometry["coordinates"])}


def _round_all(value: Any) -> Any:
    return round(value, 7) if isinstance(value, float) else [_round_all(v) for v in value]


def _plain_value(value: Any) -> Any:
    if value is None or value is pd.NA or value is pd.NaT:
        return None
    if isinstance(value, (list, tuple)):
        return [_plain_value(v) for v in value]
    if isinstance(value, np.generic):
        value = value.item()
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, (str, int, bool)):
        return value
    return value.isoformat() if hasattr(value, "isoformat") else str(value)
