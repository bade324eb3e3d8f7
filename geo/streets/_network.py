"""Street lines as a network: cut where they meet, parts that hang apart joined and said aloud."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import geopandas as gpd
import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree
from shapely.geometry import LineString
from shapely.ops import substring

from geo.addresses import parse
from geo.errors import GeoError
from geo.parcels import local_epsg as epsg_of

__all__ = ["Piece", "StreetNetwork", "UnusableStreets", "as_shapes", "build_network", "read_streets", "street_key"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_TOUCH_M = 1.0
"""Ends this near to each other, or to another line, meet: drawn streets miss each other by less."""


class UnusableStreets(GeoError):
    """No network can be made; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A line before it is cut: street name, kind, and its course in metres."""

    name: str
    kind: str
    line: LineString


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StreetNetwork:
    """Streets as segments between nodes, in metres of ``local_epsg``; all in one piece.

    ``nodes`` is n x 2. Segment k runs from node ``start[k]`` to ``end[k]`` along
    ``lines[k]``, ``lengths[k]`` metres; ``names`` are street keys (`street_key`),
    ``kinds`` as in the file. ``connector[k]`` marks straight lines that no file
    drew and that only join parts. ``parts`` is the number of parts before they
    were joined. ``sentences`` say what was assumed.
    """

    nodes: Floats
    start: Ints
    end: Ints
    lines: NDArray[np.object_]
    lengths: Floats
    names: tuple[str, ...]
    kinds: tuple[str, ...]
    connector: NDArray[np.bool_]
    parts: int
    local_epsg: int
    source: str
    sentences: tuple[str, ...]


@lru_cache(maxsize=20_000)
def street_key(name: str) -> str:
    """A street's name as the addresses of its homes spell it: ``N Alder Court`` -> ``N ALDER CT``."""
    # With a house number before it, "5th Ave" is read as a street and not as number 5.
    return parse(f"1 {name}").street() if name.strip() else ""


def as_shapes(shapes: Sequence[object]) -> NDArray[np.object_]:
    """Shapes given as WKB or as shapely geometries; what cannot be read is None."""
    out = np.empty(len(shapes), dtype=object)
    for i, shape in enumerate(shapes):
        out[i] = shapely.from_wkb(bytes(shape), on_invalid="ignore") if isinstance(shape, bytes | memoryview) else shape
    return out


def read_streets(lines: Sequence[tuple[str, str, bytes]], *, local_epsg: int | None = None) -> StreetNetwork:
    """The network of a street file's lines.

    Lines are cut wherever they touch or cross, with or without a shared vertex:
    bridges and underpasses are taken for crossroads (they are rare inside a
    community; a sentence says so where it could matter). One-way streets are
    driven both ways. Parts that hang together with nothing are joined to the
    rest by a straight line between the nearest nodes, and a sentence says so.

    Parameters
    ----------
    lines
        Name, kind and WKB in WGS 84, one a line.
    local_epsg
        A projection in metres; the UTM zone of the lines when None.

    Raises
    ------
    UnusableStreets
        No line is usable.
    """
    shapes = as_shapes([line[2] for line in lines])
    pieces: list[tuple[str, str, object]] = []
    skipped = 0
    for (name, kind, _), shape in zip(lines, shapes, strict=True):
        parts = [] if shape is None else [p for p in shapely.get_parts(shape) if p.geom_type == "LineString"]
        good = [p for p in parts if not p.is_empty and np.isfinite(shapely.get_coordinates(p)).all()]
        skipped += not good
        pieces += [(street_key(name), kind, shapely.force_2d(p)) for p in good]
    if not pieces:
        raise UnusableStreets(
            f"None of the {len(lines)} street lines has a course that can be read; load a file of lines, or plan "
            "without a street file: the streets are then inferred from the parcels."
        )
    frame = gpd.GeoDataFrame(geometry=[p[2] for p in pieces], crs=4326)
    epsg = local_epsg or epsg_of(frame)
    local = frame.to_crs(epsg).geometry.to_numpy()
    said = [f"{skipped} of {len(lines)} street lines have no course and were left out."] if skipped else []
    made = [Piece(p[0], p[1], line) for p, line in zip(pieces, local, strict=True)]
    return build_network(made, epsg, source="street file", said=said)


def build_network(pieces: Sequence[Piece], epsg: int, *, source: str, said: Sequence[str]) -> StreetNetwork:
    """Cut lines in metres where they meet, find the nodes, join the parts."""
    cut, crossings = _cut(pieces)
    sentences = list(said)
    if crossings:
        sentences.append(
            f"{crossings} street lines cross without a shared vertex; each crossing is taken for a crossroads. "
            "If one is a bridge, travel there is reckoned too short."
        )
    ends = np.array([p.line.coords[k][:2] for p in cut for k in (0, -1)], dtype=float)
    node_of, nodes = _merge(ends)
    start, end = node_of[0::2], node_of[1::2]
    lengths = np.array([p.line.length for p in cut])
    keep = (start != end) | (lengths > 2 * _TOUCH_M)  # a crumb between two cuts at one crossing is nothing
    if not keep.any():
        raise UnusableStreets("All street lines are shorter than two metres; check the coordinates of the street file.")
    cut = [p for p, k in zip(cut, keep, strict=True) if k]
    start, end, lengths = start[keep], end[keep], lengths[keep]
    used, packed = np.unique(np.concatenate([start, end]), return_inverse=True)
    nodes, start, end = nodes[used], packed[: len(cut)], packed[len(cut) :]
    joined, parts, words = _join(nodes, start, end, lengths, [p.name for p in cut])
    sentences += words
    lines = np.empty(len(cut) + len(joined), dtype=object)
    lines[: len(cut)] = [p.line for p in cut]
    lines[len(cut) :] = [LineString([nodes[a], nodes[b]]) for a, b in joined]
    more = np.array(joined, dtype=np.int64).reshape(-1, 2)
    return StreetNetwork(
        nodes=nodes,
        start=np.concatenate([start, more[:, 0]]).astype(np.int64),
        end=np.concatenate([end, more[:, 1]]).astype(np.int64),
        lines=lines,
        lengths=np.concatenate([lengths, np.hypot(*(nodes[more[:, 0]] - nodes[more[:, 1]]).T)]),
        names=(*(p.name for p in cut), *[""] * len(joined)),
        kinds=(*(p.kind for p in cut), *["connector"] * len(joined)),
        connector=np.arange(len(lines)) >= len(cut),
        parts=parts,
        local_epsg=epsg,
        source=source,
        sentences=tuple(sentences),
    )


def _cut(pieces: Sequence[Piece]) -> tuple[list[Piece], int]:
    """Every line cut where another meets it; and how many crossings had no vertex on either line."""
    lines = np.array([p.line for p in pieces], dtype=object)
    tree = shapely.STRtree(lines)
    left, right = tree.query(lines, predicate="dwithin", distance=_TOUCH_M)
    apart = left != right
    left, right = left[apart], right[apart]
    met = shapely.intersection(lines[left], lines[right])
    coordinates = [{(round(x, 3), round(y, 3)) for x, y in shapely.get_coordinates(line)} for line in lines]
    at: list[list[float]] = [[] for _ in pieces]
    bare: set[tuple[float, float]] = set()
    for i, j, shape in zip(left.tolist(), right.tolist(), met, strict=True):
        points = [tuple(xy) for xy in shapely.get_coordinates(shape)]
        if shape.geom_type in ("Point", "MultiPoint"):
            for x, y in points:
                key = (round(x, 3), round(y, 3))
                if key not in coordinates[i] and key not in coordinates[j]:
                    near_end = min(
                        shapely.distance(shapely.points(x, y), shapely.points(lines[k].coords[e]))
                        for k in (i, j)
                        for e in (0, -1)
                    )
                    if near_end > _TOUCH_M:
                        bare.add(key)
        ends = shapely.points([lines[j].coords[0], lines[j].coords[-1]])
        close = shapely.distance(ends, lines[i]) <= _TOUCH_M
        where = [*shapely.points(points), *ends[close]] if points else list(ends[close])
        at[i] += [float(d) for d in shapely.line_locate_point(lines[i], np.array(where, dtype=object))]
    out: list[Piece] = []
    for piece, cuts in zip(pieces, at, strict=True):
        stops = [0.0]
        for d in sorted(cuts):
            if d - stops[-1] > _TOUCH_M and piece.line.length - d > _TOUCH_M:
                stops.append(d)
        stops.append(piece.line.length)
        if len(stops) == 2:
            out.append(piece)
        else:
            out += [Piece(piece.name, piece.kind, substring(piece.line, a, b)) for a, b in pairwise(stops)]
    return out, len(bare)


def _merge(ends: Floats) -> tuple[Ints, Floats]:
    """Ends within touching distance are one node, at their middle."""
    pairs = cKDTree(ends).query_pairs(_TOUCH_M, output_type="ndarray")
    graph = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(len(ends), len(ends)))
    count, label = connected_components(graph.tocsr(), directed=False)
    size = np.bincount(label, minlength=count)
    middle = np.column_stack([np.bincount(label, ends[:, k], minlength=count) / size for k in (0, 1)])
    return label.astype(np.int64), middle


def _join(
    nodes: Floats, start: Ints, end: Ints, lengths: Floats, names: Sequence[str]
) -> tuple[list[tuple[int, int]], int, list[str]]:
    """Straight connectors that bring every part to the longest one, nearest part first."""
    graph = coo_array((np.ones(len(start)), (start, end)), shape=(len(nodes), len(nodes)))
    parts, label = connected_components(graph.tocsr(), directed=False)
    if parts == 1:
        return [], 1, []
    total = np.bincount(label[start], lengths, minlength=parts)
    main = label == int(np.argmax(total))
    joined: list[tuple[int, int]] = []
    words: list[str] = []
    # Distances to what is already joined only shrink, so one pass over the rest a round is enough.
    rest = ~main
    near, where = cKDTree(nodes[main]).query(nodes)
    where = np.flatnonzero(main)[where]
    while rest.any():
        here = int(np.flatnonzero(rest)[np.argmin(near[rest])])
        part = label == label[here]
        joined.append((here, int(where[here])))
        by_length = Counter[str]()
        for k in np.flatnonzero(part[start]):
            by_length[names[int(k)]] += round(float(lengths[k]))
        called = [n for n, _ in by_length.most_common(3) if n]
        words.append(
            f"{', '.join(called) or 'A street without a name'} ({total[label[here]]:,.0f} m) meets no other street; "
            f"a straight line of {near[here]:,.0f} m joins it to the nearest one for reckoning travel."
        )
        rest &= ~part
        new, at = cKDTree(nodes[part]).query(nodes)
        better = new < near
        near[better], where[better] = new[better], np.flatnonzero(part)[at[better]]
    if len(words) > 5:
        longest = max(near_m for near_m in (float(np.hypot(*(nodes[a] - nodes[b]))) for a, b in joined))
        words = [
            f"The streets are in {parts} parts that do not meet; straight lines of up to {longest:,.0f} m join them "
            "for reckoning travel.",
            *words[:3],
        ]
    return joined, int(parts), words
