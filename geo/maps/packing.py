"""Shapes and columns of text written as short strings that the page can unfold.

A map of 20,000 homes as GeoJSON with six texts each is eleven megabytes. The
same information is small because neighbors share it: a corner is close to the
corner before it, and most columns hold few different texts. So coordinates are
whole millionths of a degree (0.11 m of latitude), each written as the
difference from the one before, and a column is a list of its different texts
plus one short code per row.

Numbers are written in the 64 letters of base64url (RFC 4648, section 5), which
mean nothing to HTML, JSON or JavaScript: packed data cannot break out of the
page by construction. A signed number is folded to an unsigned one (0, -1, 1,
-2 become 0, 1, 2, 3) and cut into groups of five bits, lowest first; the sixth
bit of a letter says that more follow. ``page.js`` holds the other half.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import geopandas as gpd
import numpy as np
import numpy.typing as npt
import pandas as pd
import shapely

__all__ = ["pack_codes", "pack_column", "pack_lines", "pack_numbers", "pack_shapes"]

DEGREE_UNITS = 1_000_000
"""Coordinates are kept to a millionth of a degree: 0.11 m north-south."""

POINT_RADIUS_M = 7.0
"""Half-width of the eight-cornered mark that stands for a place known only as a point."""

_METERS_PER_DEGREE = 111_195.0  # mean radius 6,371,008.8 m times pi / 180; enough for a mark's size
_ALPHABET = np.frombuffer(b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_", dtype=np.uint8)
_LEADING = re.compile(r"(0|[1-9][0-9]{0,7})(?![0-9])")

Ints = npt.NDArray[np.int64]


def pack_numbers(values: npt.ArrayLike) -> str:
    """Write whole numbers as base64url letters, five bits to a letter, sign folded in.

    Parameters
    ----------
    values
        Whole numbers, one dimension, each of magnitude below 2**29.

    Returns
    -------
    str
        One to six letters for each number.

    Raises
    ------
    ValueError
        If a number is too large for the page's 32-bit arithmetic.
    """
    signed = np.asarray(values, dtype=np.int64).ravel()
    if signed.size == 0:
        return ""
    if int(np.abs(signed).max()) >= 2**29:
        raise ValueError("A number is too large to be packed for the map: it must be below 2**29.")
    folded = (signed << 1) ^ (signed >> 63)
    groups = np.ones(folded.size, dtype=np.int64)
    for bits in range(5, 31, 5):
        groups += folded >= (1 << bits)
    ends = np.cumsum(groups)
    owner = np.repeat(np.arange(folded.size), groups)
    place = np.arange(int(ends[-1])) - np.repeat(ends - groups, groups)
    digits = (folded[owner] >> (5 * place)) & 31
    digits |= np.where(place < groups[owner] - 1, 32, 0)
    return str(_ALPHABET[digits].tobytes(), "ascii")


def pack_codes(codes: npt.ArrayLike, kinds: int) -> tuple[str, int]:
    """Write codes in ``range(kinds)`` with the same number of letters each.

    Parameters
    ----------
    codes
        Whole numbers from 0 to ``kinds - 1``.
    kinds
        How many different codes there may be.

    Returns
    -------
    tuple of str and int
        The letters, highest first, and how many letters a code takes (0 when there is only one kind).
    """
    array = np.asarray(codes, dtype=np.int64).ravel()
    width = 0
    while 64**width < kinds:
        width += 1
    if width == 0 or array.size == 0:
        return "", 0 if width == 0 else width
    powers = 6 * np.arange(width - 1, -1, -1)
    return _ALPHABET[(array[:, None] >> powers) & 63].tobytes().decode("ascii"), width


def pack_column(values: Sequence[str | None]) -> dict[str, Any]:
    """A column of texts as its different texts and a code per row, the shorter of two ways.

    Where the texts begin with a number (a house number, an age), the number may
    be split off and kept as differences, so that only what follows is listed.

    Parameters
    ----------
    values
        One text per row; None becomes the empty text.

    Returns
    -------
    dict
        ``d`` the different texts in order of first use, ``k`` the packed codes, ``w`` letters per code,
        and, where numbers were split off, ``n``: packed differences of (number + 1), 0 where there is none.
    """
    texts = [_clean(value) for value in values]
    codes, different = pd.factorize(np.array(texts, dtype=object))
    kinds = [str(text) for text in different]
    letters, width = pack_codes(codes, len(kinds))
    plain: dict[str, Any] = {"d": kinds, "k": letters, "w": width}
    plain_size = len(letters) + sum(len(text) + 3 for text in kinds)
    if plain_size < 2.5 * len(texts):
        return plain
    matches = [_LEADING.match(text) for text in kinds]
    kind_numbers = np.array([-1 if m is None else int(m.group()) for m in matches], dtype=np.int64)
    rests = [text if m is None else text[m.end() :] for text, m in zip(kinds, matches, strict=True)]
    rest_codes, rest_kinds = pd.factorize(np.array(rests, dtype=object))
    numbers = pack_numbers(np.diff(kind_numbers[codes] + 1, prepend=0))
    rest_letters, rest_width = pack_codes(rest_codes[codes], len(rest_kinds))
    split = {"d": [str(t) for t in rest_kinds], "k": rest_letters, "w": rest_width, "n": numbers}
    split_size = len(numbers) + len(rest_letters) + sum(len(t) + 3 for t in rest_kinds)
    return split if split_size < plain_size else plain


def pack_shapes(geometry: gpd.GeoSeries) -> dict[str, Any]:
    """Polygons as strings: rings per shape, corners per ring, differences of corners.

    Heights are dropped; rings are turned so that shells and holes run in opposite
    directions (the page fills by the nonzero rule, so that stacked lots do not
    cancel each other); a ring that falls together to fewer than three corners at
    the map's resolution is left out. A point becomes a small eight-cornered mark.
    A missing or empty geometry keeps its row and draws nothing.

    Parameters
    ----------
    geometry
        Polygons, multipolygons or points in degrees, longitude first.

    Returns
    -------
    dict
        ``r`` rings per shape, ``v`` corners per ring, ``c`` corner differences (longitude, latitude in turn)
        and ``n`` the number of shapes.
    """
    shapes = _marks_for_points(shapely.force_2d(np.asarray(geometry.to_numpy(), dtype=object)))
    shapes = shapely.orient_polygons(shapes)
    parts, part_owner = shapely.get_parts(shapes, return_index=True)
    is_area = shapely.get_type_id(parts) == 3
    parts, part_owner = parts[is_area], part_owner[is_area]
    rings, ring_part = shapely.get_rings(parts, return_index=True)
    ring_owner = part_owner[ring_part]
    corners, corner_ring = shapely.get_coordinates(rings, return_index=True)
    grid = np.rint(corners * DEGREE_UNITS).astype(np.int64)
    # A ring repeats its first corner at the end: dropping every corner equal to its follower takes care of
    # that corner only if the ring is read as a circle, so the last one of each ring goes first.
    last = np.append(corner_ring[1:] != corner_ring[:-1], True) if len(corner_ring) else np.zeros(0, bool)
    grid, corner_ring = grid[~last], corner_ring[~last]
    if len(grid):
        same = np.zeros(len(grid), dtype=bool)
        same[1:] = (corner_ring[1:] == corner_ring[:-1]) & (grid[1:] == grid[:-1]).all(axis=1)
        grid, corner_ring = grid[~same], corner_ring[~same]
    per_ring = np.bincount(corner_ring, minlength=len(rings))
    keep_ring = per_ring >= 3
    keep = keep_ring[corner_ring]
    grid, corner_ring = grid[keep], corner_ring[keep]
    per_shape = np.bincount(ring_owner[keep_ring], minlength=len(shapes))
    return {
        "n": len(shapes),
        "r": pack_numbers(per_shape),
        "v": pack_numbers(per_ring[keep_ring]),
        "c": pack_numbers(_differences(grid, corner_ring)),
    }


def pack_lines(geometry: gpd.GeoSeries) -> dict[str, Any]:
    """Lines as strings, one part each; ``o`` tells which row a part came from (as differences)."""
    lines = shapely.force_2d(np.asarray(geometry.to_numpy(), dtype=object))
    parts, owner = shapely.get_parts(lines, return_index=True)
    keep = shapely.get_type_id(parts) == 1
    parts, owner = parts[keep], owner[keep]
    corners, corner_part = shapely.get_coordinates(parts, return_index=True)
    grid = np.rint(corners * DEGREE_UNITS).astype(np.int64)
    return {
        "n": len(parts),
        "o": pack_numbers(np.diff(owner, prepend=0)),
        "v": pack_numbers(np.bincount(corner_part, minlength=len(parts))),
        "c": pack_numbers(_differences(grid, corner_part)),
    }


def _clean(value: str | None) -> str:
    """Text that UTF-8 can carry: half a surrogate pair becomes a question mark."""
    if value is None:
        return ""
    return str(value).encode("utf-8", "replace").decode("utf-8")


def _differences(grid: Ints, owner: Ints) -> Ints:
    """Corner minus the corner before; a ring's first corner minus the first of the ring before."""
    if len(grid) == 0:
        return np.zeros(0, dtype=np.int64)
    steps = np.diff(grid, axis=0, prepend=np.zeros((1, 2), dtype=np.int64))
    first = np.append(True, owner[1:] != owner[:-1])
    starts = grid[first]
    steps[first] = np.diff(starts, axis=0, prepend=np.zeros((1, 2), dtype=np.int64))
    return steps.ravel()


def _marks_for_points(shapes: npt.NDArray[Any]) -> npt.NDArray[Any]:
    """Points replaced by eight-cornered marks of :data:`POINT_RADIUS_M`; all else unchanged."""
    kinds = shapely.get_type_id(shapes)
    points = np.flatnonzero((kinds == 0) & ~shapely.is_empty(shapes))
    if points.size == 0:
        return shapes
    shapes = shapes.copy()
    angle = np.pi / 8 + np.arange(8) * np.pi / 4
    x, y = shapely.get_x(shapes[points]), shapely.get_y(shapes[points])
    size = POINT_RADIUS_M / _METERS_PER_DEGREE
    ring = np.stack(
        [
            x[:, None] + size * np.cos(angle) / np.cos(np.radians(y))[:, None],
            y[:, None] + size * np.sin(angle),
        ],
        axis=-1,
    )
    shapes[points] = shapely.polygons(ring)
    return shapes
