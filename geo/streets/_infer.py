"""Streets where no street file exists: what the parcels leave free between them.

A street runs where the lots of its addresses face each other. Each home's lot
gives a point on the middle of its street; points that see each other across
ground that is nobody's lot are joined. A lot is crossed only where the way
round would be absurd, and by the connectors that join parts, which are said aloud.
"""

from __future__ import annotations

from collections.abc import Sequence

import geopandas as gpd
import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra
from scipy.spatial import Delaunay, QhullError, cKDTree
from shapely.geometry import LineString, MultiPoint
from shapely.geometry.base import BaseGeometry

from geo.addresses import parse
from geo.parcels import local_epsg as epsg_of
from geo.streets._network import Piece, StreetNetwork, UnusableStreets, as_shapes, build_network

__all__ = ["infer_streets"]

Floats = NDArray[np.float64]

_STEP_M = 3.0
"""Spacing of the points tried along a lot's outline."""
_OPEN_M = 3.0
"""An outline point with no other lot this near faces open ground: a street, as a rule."""
_ACROSS_M = 45.0
"""Lots that face each other across a street are at most this far apart."""
_HALF_STREET_M = 8.0
"""From a lot's front to the middle of the street where nobody lives opposite: half of a usual right of way."""
_SIGHT_M = 250.0
"""Points farther apart than this are not joined: open country between them says nothing of a street."""
_LINK_M = 200.0
"""The same between points of two different streets."""
_INSIDE_M = 2.0
"""A line may cut this much off lots' corners."""
_YARD_M = 25.0
"""Half a lot's depth: the most a line may cut through where the way round is `_DETOUR` times longer."""
_DETOUR = 4.0
_SAME_M = 6.0
"""Points nearer than this are one."""


def infer_streets(
    outlines: Sequence[bytes | BaseGeometry],
    addresses: Sequence[str],
    *,
    obstacles: Sequence[bytes | BaseGeometry] = (),
    local_epsg: int | None = None,
) -> StreetNetwork:
    """A usable network from parcels and their addresses alone.

    Parameters
    ----------
    outlines
        Parcel polygons in WGS 84, WKB or shapely, one a home (several homes of one parcel may repeat it).
    addresses
        The address of each.
    obstacles
        Other ground that no street crosses: commons, parcels without a home.
    local_epsg
        A projection in metres; the UTM zone of the parcels when None.

    Returns
    -------
    StreetNetwork
        ``source`` is "parcels"; its first sentence says that streets were inferred.

    Raises
    ------
    UnusableStreets
        Fewer than two parcels have an outline and a street name.
    """
    shapes = as_shapes(outlines)
    names = [parse(a).street() for a in addresses]
    usable = np.array([s is not None and s.geom_type in ("Polygon", "MultiPolygon") and not s.is_empty for s in shapes])
    usable &= np.array([bool(n) for n in names], dtype=bool)
    if usable.sum() < 2:
        raise UnusableStreets(
            "Streets cannot be inferred: fewer than two parcels have both an outline and a street in their address. "
            "Load a street file, or plan with straight lines."
        )
    others = [s for s in as_shapes(obstacles) if s is not None and s.geom_type in ("Polygon", "MultiPolygon")]
    frame = gpd.GeoDataFrame(geometry=[*shapes[usable], *others], crs=4326)
    epsg = local_epsg or epsg_of(frame)
    local = shapely.make_valid(frame.to_crs(epsg).geometry.to_numpy())
    homes = int(usable.sum())
    streets = [n for n, u in zip(names, usable.tolist(), strict=True) if u]
    front, open_fronts = _fronts(local, streets, homes)
    middles = _middles(front, local, streets)
    nodes, street = _thin(middles, streets)
    pieces = _sights(nodes, street, local)
    if not pieces:  # a single street of two far lots: a line between them is all there is
        pieces = [Piece(street[0], "inferred", LineString(nodes[:2]))] if len(nodes) > 1 else []
    if not pieces:
        raise UnusableStreets(
            "Streets cannot be inferred: all homes stand at one point. Load a street file, or plan with straight lines."
        )
    lone = set(range(len(nodes))) - {k for p in pieces for k in _ends(p, nodes)}
    pieces += [_stub(nodes[k], street[k]) for k in sorted(lone)]
    said = [
        f"There is no street file: streets were inferred from the fronts of {homes:,} parcels and their addresses. "
        "Distances are estimates; a street file gives better ones."
    ]
    if open_fronts < homes:
        said.append(f"{homes - open_fronts} parcels face no open ground; the middle of the lot stands for the front.")
    return build_network(pieces, epsg, source="parcels", said=said)


def _fronts(local: NDArray[np.object_], streets: Sequence[str], homes: int) -> tuple[Floats, int]:
    """The middle of each home lot's front, and how many lots have one."""
    tree = shapely.STRtree(local)
    out = np.empty((homes, 2))
    found = 0
    by_street: dict[str, list[int]] = {}
    for i, name in enumerate(streets):
        by_street.setdefault(name, []).append(i)
    groups = {name: (np.array(group), shapely.STRtree(local[group])) for name, group in by_street.items()}
    for i in range(homes):
        lot = local[i]
        ring = shapely.segmentize(lot.convex_hull if lot.geom_type != "Polygon" else lot.exterior, _STEP_M)
        xy = shapely.get_coordinates(ring)
        points = shapely.points(xy)
        near = tree.query(lot, predicate="dwithin", distance=_OPEN_M)
        # Two homes may stand on one lot: an outline that covers this one hides nothing.
        near = [k for k in near.tolist() if k != i and not _same(local[k], lot)]
        if near:
            points_open = shapely.distance(points, shapely.union_all(local[near])) > _OPEN_M
        else:
            points_open = np.ones(len(points), dtype=bool)
        if not points_open.any():
            out[i] = shapely.get_coordinates(shapely.point_on_surface(lot))[0]
            continue
        found += 1
        xy, points = xy[points_open], points[points_open]
        group, group_tree = groups[streets[i]]
        around = group[group_tree.query(lot, predicate="dwithin", distance=_ACROSS_M)]
        across = [k for k in around.tolist() if k != i and shapely.distance(local[k], lot) > _OPEN_M]
        if across:
            away = shapely.distance(points, shapely.union_all(local[across]))
            best = away <= away.min() + 4.0
        else:  # nobody opposite: the longest open stretch that looks along the street's own lots
            kin = group[group != i]
            center = shapely.get_coordinates(shapely.centroid(MultiPoint(xy)))[0]
            if len(kin):
                mid = shapely.get_coordinates(shapely.centroid(local[kin]))
                center = mid[np.argmin(np.hypot(*(mid - center).T))]
            away = np.hypot(*(xy - center).T)
            best = away <= np.quantile(away, 0.5)
        chosen = xy[best]
        mean = chosen.mean(axis=0)
        out[i] = chosen[np.argmin(np.hypot(*(chosen - mean).T))]
    return out, found


def _same(one: BaseGeometry, other: BaseGeometry) -> bool:
    return bool(shapely.area(shapely.intersection(one, other)) > 0.5 * min(one.area, other.area))


def _middles(front: Floats, local: NDArray[np.object_], streets: Sequence[str]) -> Floats:
    """From each front to the middle of its street: half-way to the lot opposite, or half a street out."""
    lots = shapely.STRtree(local)
    tree = cKDTree(front)
    center = shapely.get_coordinates(shapely.centroid(local[: len(front)]))
    out = np.empty_like(front)
    for i, near in enumerate(tree.query_ball_point(front, _ACROSS_M)):
        away = front[i] - center[i]
        away /= max(float(np.hypot(*away)), 1e-9)
        best: tuple[float, int] | None = None
        for k in near:
            gap = front[k] - front[i]
            wide = float(np.hypot(*gap))
            # Opposite means outward from this lot, not along its row.
            if k == i or streets[k] != streets[i] or wide < 6.0 or float(gap @ away) < 0.6 * wide:
                continue
            if best is None or (wide, k) < best:
                best = (wide, k)
        if best is not None:
            out[i] = (front[i] + front[best[1]]) / 2
            continue
        out[i] = front[i] + away * _HALF_STREET_M
        if len(lots.query(shapely.points(out[i]), predicate="within")):
            out[i] = front[i] + away * 1.0
    return out


def _thin(middles: Floats, streets: Sequence[str]) -> tuple[Floats, list[str]]:
    """Points of one street that nearly coincide become one."""
    kept: list[int] = []
    taken = np.zeros(len(middles), dtype=bool)
    tree = cKDTree(middles)
    for i in range(len(middles)):
        if taken[i]:
            continue
        kept.append(i)
        for k in tree.query_ball_point(middles[i], _SAME_M):
            if streets[k] == streets[i]:
                taken[k] = True
    return middles[kept], [streets[i] for i in kept]


def _sights(nodes: Floats, street: Sequence[str], local: NDArray[np.object_]) -> list[Piece]:
    """Lines between neighboring points that cross no lot."""
    try:
        triangles = Delaunay(nodes).simplices
        pairs = np.vstack([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [0, 2]]])
    except (QhullError, ValueError):  # fewer than three points, or all on one line
        order = np.lexsort((nodes[:, 1], nodes[:, 0]))
        pairs = np.column_stack([order[:-1], order[1:]])
    pairs = np.unique(np.sort(pairs, axis=1), axis=0)
    length = np.hypot(*(nodes[pairs[:, 0]] - nodes[pairs[:, 1]]).T)
    alike = np.array([street[a] == street[b] for a, b in pairs.tolist()], dtype=bool)
    pairs = pairs[(length <= np.where(alike, _SIGHT_M, _LINK_M)) & (length > 0)]
    lines = shapely.linestrings(nodes[pairs])
    tree = shapely.STRtree(local)
    at, lot = tree.query(lines, predicate="intersects")
    inside = np.bincount(at, shapely.length(shapely.intersection(lines[at], local[lot])), minlength=len(lines))
    free = inside <= _INSIDE_M
    length = shapely.length(lines)
    # A file's lots overlap streets here and there: what would be a long way round is let through a side yard.
    maybe = np.flatnonzero(~free & (inside <= _YARD_M))
    if len(maybe):
        graph = csr_array((length[free], (pairs[free, 0], pairs[free, 1])), shape=(len(nodes), len(nodes)))
        begin, position = np.unique(pairs[maybe, 0], return_inverse=True)
        way = np.asarray(dijkstra(graph, directed=False, indices=begin))[position, pairs[maybe, 1]]
        free[maybe[way > _DETOUR * length[maybe]]] = True
    return [
        Piece(street[a] if street[a] == street[b] else "", "inferred", line)
        for (a, b), line in zip(pairs[free].tolist(), lines[free], strict=True)
    ]


def _ends(piece: Piece, nodes: Floats) -> list[int]:
    ends = np.array([piece.line.coords[0], piece.line.coords[-1]])
    return [int(np.argmin(np.hypot(*(nodes - e).T))) for e in ends]


def _stub(at: Floats, name: str) -> Piece:
    """A street that sees no other: a few metres of it, to be joined by a connector."""
    return Piece(name, "inferred", LineString([at, at + np.array((3.0, 0.0))]))
