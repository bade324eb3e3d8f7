"""Lots cut from a pod: wedge-shaped on the bulbs, never overlapping, with common ground in between."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from synthetic_community.plan import HALF_WIDTH, Points, Street

__all__ = ["Pod", "RawLot", "opened", "plat", "right_of_way"]

_BULB = 14.0
# Overlays snap to a millimeter, which makes them robust.
_GRID = 0.001
_DEPTH = 37.0
_SETBACK = 12.0
_MIN_AREA, _MAX_AREA = 330.0, 1500.0
_MIN_FRONTAGE = 8.0


@dataclass(slots=True)
class RawLot:
    """A lot before it has a parcel number; `along` is its order on its side of the street."""

    pod: int
    street: Street
    left: bool
    along: float
    outline: Polygon
    number: int = 0


@dataclass(slots=True)
class Pod:
    """A handful of streets with one outline, and what is cut from it."""

    index: int
    row: int
    col: int
    template: str
    streets: list[Street]
    outline: Polygon
    lots: list[RawLot] = field(default_factory=list)
    leftovers: list[tuple[str, Polygon]] = field(default_factory=list)


def _at(line: Points, along: Points) -> tuple[Points, Points]:
    """Positions and left-hand unit normals at distances along a polyline."""
    step = np.hypot(*np.diff(line, axis=0).T)
    s = np.concatenate([[0.0], np.cumsum(step)])
    k = np.clip(np.searchsorted(s, along, side="right") - 1, 0, len(step) - 1)
    t = (along - s[k]) / step[k]
    d = (line[k + 1] - line[k]) / step[k][:, None]
    return line[k] + (line[k + 1] - line[k]) * t[:, None], np.column_stack([-d[:, 1], d[:, 0]])


def _seeds(street: Street, frontage: float, rng: np.random.Generator) -> tuple[Points, NDArray[np.bool_], Points]:
    """Points where houses could stand: positions, whether on the left, order along the street."""
    length = float(np.hypot(*np.diff(street.line, axis=0).T).sum())
    out = HALF_WIDTH[street.klass] + _SETBACK
    closed = bool(np.allclose(street.line[0], street.line[-1]))
    points, left, order = [], [], []
    wide = bool(rng.random() < 0.5)
    clear = (27.0 if wide else 20.0) if street.bulb else 0.0
    for side in (True, False):
        if closed and not street.inner_lots and side:
            continue  # the ring is drawn counterclockwise: its left is the inside
        n = max(1, round((length - clear - 4.0) / frontage))
        along = 2.0 + (np.arange(n) + 0.5) * (length - clear - 4.0) / n
        at, normal = _at(street.line, along)
        points.append(at + normal * (out if side else -out))
        left.append(np.full(n, side))
        order.append(along)
    if street.bulb:
        end = street.line[-1]
        ahead = end - street.line[-2]
        heading = math.atan2(ahead[1], ahead[0])
        turn = np.radians([-100.0, -60.0, -20.0, 20.0, 60.0, 100.0] if wide else [-84.0, -42.0, 0.0, 42.0, 84.0])
        r = _BULB + _SETBACK
        points.append(end + r * np.column_stack([np.cos(heading + turn), np.sin(heading + turn)]))
        left.append(turn >= 0)
        order.append(length + r * (math.pi / 2 - np.abs(turn)) + 20.0)
    return np.concatenate(points), np.concatenate(left), np.concatenate(order)


def right_of_way(streets: Iterable[Street]) -> list[BaseGeometry]:
    """The ground each street takes, its bulb included."""
    out: list[BaseGeometry] = []
    for street in streets:
        road: BaseGeometry = LineString(street.line).buffer(HALF_WIDTH[street.klass], quad_segs=6)
        if street.bulb:
            road = road.union(Point(street.line[-1]).buffer(_BULB, quad_segs=8))
        out.append(road)
    return out


def plat(pod: Pod, roads_around: Sequence[BaseGeometry], frontage: float, rng: np.random.Generator) -> None:
    """Cut a pod into lots and leftovers, in place."""
    roads = right_of_way(pod.streets)
    # Buffers put a pair of vertices at each bend, centimeters apart: no surveyor would.
    paved = shapely.union_all([*roads, *roads_around]).simplify(0.06)
    shapely.prepare(paved)
    rings = [
        LineString(s.line).buffer(
            HALF_WIDTH[s.klass] + _DEPTH,
            quad_segs=6,
            cap_style="square" if s.role in ("rung", "bar") else "round",
        )
        if not s.bulb
        else LineString(s.line)
        .buffer(HALF_WIDTH[s.klass] + _DEPTH, quad_segs=6)
        .union(Point(s.line[-1]).buffer(_BULB + 31.0, quad_segs=8))
        for s in pod.streets
    ]
    ground = pod.outline.buffer(-1.5, join_style="mitre").difference(paved)
    if pod.template == "green ring":
        ground = ground.difference(Polygon(pod.streets[0].line))
    usable = ground.intersection(shapely.union_all(rings).simplify(0.06))

    seeds, left, order, owner = [], [], [], []
    for k, street in enumerate(pod.streets):
        p, side, s = _seeds(street, frontage, rng)
        seeds.append(p)
        left.append(side)
        order.append(s)
        owner.append(np.full(len(p), k))
    xy, on_left = np.concatenate(seeds), np.concatenate(left)
    along, whose = np.concatenate(order), np.concatenate(owner)
    # Bulbs first: their wedges leave the least choice; then in order of drawing.
    rank = np.lexsort((along, whose))
    pts = shapely.points(xy)
    fits = (shapely.distance(pts, paved) > 8.5) & shapely.contains(pod.outline.buffer(-7.0), pts)
    kept: list[int] = []
    for i in rank:
        if fits[i] and (not kept or np.hypot(*(xy[kept] - xy[i]).T).min() >= 0.78 * frontage):
            kept.append(int(i))

    pieces = [p for p in shapely.get_parts(usable) if isinstance(p, Polygon) and p.area > _MIN_AREA]
    chosen: dict[int, Polygon] = {}
    for piece in pieces:
        inside = [i for i in kept if piece.contains(pts[i])]
        for last in (False, False, True):
            if not inside:
                break
            cells = _cells(piece, xy[inside])
            bad = []
            for i, cell in zip(inside, cells, strict=True):
                # Only the ring of the lot that touches its own street counts as its front.
                front = cell.boundary.intersection(roads[int(whose[i])].buffer(0.2)).length
                if cell.area < _MIN_AREA or front < _MIN_FRONTAGE:
                    bad.append((cell.area, i))
                elif last or not bad:
                    chosen[i] = cell
            if not bad:
                chosen.update(zip(inside, cells, strict=True))
                break
            for i in inside:
                chosen.pop(i, None)
            if last:
                poor = {i for _, i in bad}
                chosen.update((i, c) for i, c in zip(inside, cells, strict=True) if i not in poor)
            else:
                # Give the land of every other poor lot to its neighbors and look again.
                drop = {i for _, i in sorted(bad)[: max(1, len(bad) // 2)]}
                inside = [i for i in inside if i not in drop]
    pod.lots = [
        RawLot(pod.index, pod.streets[int(whose[i])], bool(on_left[i]), float(along[i]), cell)
        for i, cell in sorted(chosen.items())
        if cell.area <= _MAX_AREA
    ]
    taken = shapely.union_all([lot.outline for lot in pod.lots])
    rest = pod.outline.buffer(-1.5, join_style="mitre").difference(paved).difference(taken)
    pod.leftovers = [("greenbelt", bit) for bit in opened(rest)]
    if pod.template == "green ring":
        pod.leftovers = _amenities(pod, pod.leftovers)


def _cells(piece: Polygon, xy: Points) -> list[Polygon]:
    """The Voronoi cells of points in a polygon, in the order of the points."""
    if len(xy) == 1:
        return [piece]
    # Such ground is convex; where a cut only grazes a corner, rounding can fold its ring, and the hull unfolds it.
    cells = shapely.convex_hull(np.asarray([Polygon(_nearest_ground(xy, i)) for i in range(len(xy))], dtype=object))
    clipped = shapely.intersection(cells, piece, grid_size=_GRID)
    out = []
    for cell, p in zip(clipped, xy, strict=True):
        parts = [c for c in shapely.get_parts(cell) if isinstance(c, Polygon)]
        here = Point(p)
        mine = min(parts, key=lambda c: (c.distance(here), -c.area)) if parts else Polygon()
        # A pocket that clipping left inside a lot belongs to the lot.
        out.append(Polygon(mine.exterior) if mine.interiors else mine)
    return out


def _nearest_ground(xy: Points, i: int, reach: float = 160.0) -> list[tuple[float, float]]:
    """The square about a point, cut down to the ground that is nearer to it than to any other point.

    Lots are symmetric so often that ready-made Voronoi diagrams (made from a triangulation) stumble over
    points on one circle; cutting by one perpendicular bisector after the other does not mind them.
    """
    px, py = float(xy[i, 0]), float(xy[i, 1])
    gap = np.hypot(xy[:, 0] - px, xy[:, 1] - py)
    ring = [(px - reach, py - reach), (px + reach, py - reach), (px + reach, py + reach), (px - reach, py + reach)]
    for j in np.argsort(gap, kind="stable").tolist():
        far = float(gap[j])
        if j == i:
            continue
        if far > 2 * max(math.hypot(x - px, y - py) for x, y in ring):
            break
        qx, qy = float(xy[j, 0]), float(xy[j, 1])
        nx, ny = qx - px, qy - py
        level = (qx * qx + qy * qy - px * px - py * py) / 2
        side = [nx * x + ny * y - level for x, y in ring]
        if max(side) <= 0:
            continue
        cut: list[tuple[float, float]] = []
        for k, (here, s) in enumerate(zip(ring, side, strict=True)):
            before, r = ring[k - 1], side[k - 1]
            if (s > 0) != (r > 0):
                t = r / (r - s)
                cut.append((before[0] + t * (here[0] - before[0]), before[1] + t * (here[1] - before[1])))
            if s <= 0:
                cut.append(here)
        ring = cut
    return ring


def _amenities(pod: Pod, leftovers: list[tuple[str, Polygon]]) -> list[tuple[str, Polygon]]:
    """Clubhouse, pond and park in the middle of the first pod."""
    middle = max((p for _, p in leftovers), key=lambda p: p.area)
    others = [(w, p) for w, p in leftovers if p is not middle]
    center = np.asarray(middle.centroid.coords[0])
    entry = np.asarray(pod.streets[1].line[-1])
    toward = (entry - center) / np.hypot(*(entry - center))
    across = np.array([-toward[1], toward[0]])
    reach = float(np.hypot(*(entry - center)))
    corners = [
        center + toward * (reach - 62) - across * 38,
        center + toward * (reach + 20) - across * 38,
        center + toward * (reach + 20) + across * 38,
        center + toward * (reach - 62) + across * 38,
    ]
    club = middle.intersection(Polygon(corners))
    hub = center - toward * 18
    bend = np.linspace(0, 2 * math.pi, 40, endpoint=False)
    wobble = 1 + 0.16 * np.sin(2 * bend + 0.6) + 0.07 * np.sin(3 * bend)
    pond = Polygon(
        hub + (np.cos(bend) * wobble * 48)[:, None] * across + (np.sin(bend) * wobble * 27)[:, None] * toward
    )
    pond = pond.intersection(middle.buffer(-6.0)).difference(club.buffer(2.0))
    park = middle.difference(club).difference(pond)
    return [
        ("clubhouse", _largest(club)),
        ("pond", _largest(pond)),
        ("park", max(opened(park), key=lambda bit: bit.area)),
        *others,
    ]


def _largest(shape: BaseGeometry) -> Polygon:
    return max((p for p in shapely.get_parts(shape) if isinstance(p, Polygon)), key=lambda p: p.area)


def opened(ground: BaseGeometry) -> list[Polygon]:
    """The parts of some ground worth a parcel: slivers between back fences belong to nobody's map."""
    out = []
    for part in shapely.get_parts(ground):
        kept = part.buffer(-2.0, join_style="mitre").buffer(2.0, join_style="mitre").intersection(part)
        out += [_whole(bit) for bit in shapely.get_parts(kept) if isinstance(bit, Polygon) and bit.area > 260]
    return out


def _whole(shape: Polygon) -> Polygon:
    """The polygon without the pinholes that clipping leaves (below a fifth of a square meter)."""
    holes = [ring for ring in shape.interiors if Polygon(ring).area > 0.2]
    return Polygon(shape.exterior, holes)
