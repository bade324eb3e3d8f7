"""The ground of an invented community: streets, parcels, house numbers, phases.

The plan is drawn as pods (loops, courts, ladders, rings, serpentines) hung on
collectors in a plain plane, and then bent by a smooth one-to-one warp, so that
nothing is a grid and nothing crosses. Lots are the Voronoi cells of points
walked along both sides of each street, cut to a usual depth: neighbors share
their lines exactly, lots on the bulb of a court come out as wedges, and no two
parcels can overlap. What is left over is common ground.

The community lies, on paper, in the open water of a Great Lake, so that no
parcel of it covers anybody's real house.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

import numpy as np
import pyproj
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from synthetic_community.names import Address, NameBook, StreetName
from synthetic_community.plan import HALF_WIDTH, Points, Street, Warp, dense, draw_pod, insert
from synthetic_community.platting import Pod, RawLot, opened, plat, right_of_way

__all__ = ["Common", "Layout", "Lot", "Phase", "Segment", "lay_out", "to_lon_lat"]

_LOCAL_EPSG = 32616
# Geometry is worked in meters from this corner: small numbers keep the Voronoi diagram sound.
_EAST, _NORTH = 492_000.0, 4_827_000.0
_FIRST_YEAR, _LAST_YEAR = 2003, 2011


@dataclass(frozen=True, slots=True)
class Segment:
    """A piece of street between two junctions, in meters from the corner."""

    name: StreetName
    klass: str
    line: Points


@dataclass(frozen=True, slots=True)
class Lot:
    """A parcel with one home, or two where `units` is not empty."""

    parcel_no: str
    address: Address
    units: tuple[str, ...]
    phase: int
    built_fraction: float
    """Where in its phase's building time the house was finished, 0 to 1."""
    klass: str
    outline: Polygon

    @property
    def homes(self) -> int:
        """How many homes stand on it."""
        return len(self.units) or 1


@dataclass(frozen=True, slots=True)
class Common:
    """Common ground: a pond, a park, a clubhouse, a greenbelt."""

    parcel_no: str
    what: str
    situs: str
    phase: int
    outline: Polygon


@dataclass(frozen=True, slots=True)
class Phase:
    """A part built together."""

    name: str
    first_year: int
    last_year: int


@dataclass(frozen=True, slots=True)
class Layout:
    """Everything the county and the street department know."""

    segments: tuple[Segment, ...]
    lots: tuple[Lot, ...]
    commons: tuple[Common, ...]
    phases: tuple[Phase, ...]


# ---------------------------------------------------------------------------
# Names and numbers


def _name_pod(pod: Pod, partner: Pod | None, book: NameBook, rng: np.random.Generator, paired: bool) -> None:
    """Name a pod's streets; a ladder across the collector continues its partner's names."""
    rungs = [s for s in pod.streets if s.role == "rung"]
    if rungs:
        _name_rungs(rungs, pod, partner, book, rng, paired)
    family: StreetName | None = None
    for street in pod.streets:
        if street.name is not None or street.role in ("court west", "court east"):
            continue
        klass = {"main loop": "loop", "ring": "loop", "court": "court"}.get(street.role, "local")
        if family is not None and street.role in ("court", "link") and rng.random() < 0.6:
            street.name = book.name(klass, family.stem, suffix=book.suffix(klass, family.suffix))
        else:
            street.name = book.name(klass)
        if street.role in ("main loop", "ring", "spine", "snake"):
            family = street.name
    west = [s for s in pod.streets if s.role == "court west"]
    east = [s for s in pod.streets if s.role == "court east"]
    for a, b in zip(west, east, strict=True):
        style = rng.random()
        suffix = book.suffix("court")
        if style < 0.3:
            stem = book.stem()
            a.name = book.name("court", stem, before="W", suffix=suffix)
            b.name = book.name("court", stem, before="E", suffix=suffix)
        elif style < 0.5:
            stem = book.stem()
            a.name = book.name("court", stem, after="W", suffix=suffix)
            b.name = book.name("court", stem, after="E", suffix=suffix)
        elif style < 0.68:
            stem = book.stem()
            a.name = book.name("court", stem, suffix=suffix)
            b.name = book.name("court", stem, suffix=book.suffix("court", suffix))
        else:
            a.name = book.name("court")
            b.name = book.name("court")


def _name_rungs(
    rungs: list[Street],
    pod: Pod,
    partner: Pod | None,
    book: NameBook,
    rng: np.random.Generator,
    paired: bool,
) -> None:
    north = pod.row % 2 == 1
    other = [s for s in partner.streets if s.role == "rung"] if partner is not None else []
    if other and other[0].name is not None and (other[0].name.before or other[0].name.after):
        flip = {"N": "S", "S": "N", "NE": "SE", "SE": "NE", "NW": "SW", "SW": "NW"}
        for mine, theirs in zip(rungs, other, strict=True):
            assert theirs.name is not None
            old = theirs.name
            mine.name = book.name(
                "local", old.stem, flip.get(old.before, ""), flip.get(old.after, ""), suffix=old.suffix
            )
        return
    ordinals = book.ordinals(len(rungs)) if rng.random() < 0.45 else None
    half = "E" if pod.col % 2 else "W"
    for k, street in enumerate(rungs):
        if ordinals is not None:
            after = ("N" if north else "S") + half
            street.name = book.name("local", ordinals[k], after=after, suffix="Ave" if k % 2 else "St")
        elif paired:
            street.name = book.name("local", before="N" if north else "S")
        else:
            street.name = book.name("local")


def _number(pod: Pod, step: float) -> None:
    """House numbers: rising along each street, odd on its left, even on its right."""
    for street in pod.streets:
        for side in (True, False):
            row = sorted((x for x in pod.lots if x.street is street and x.left is side), key=lambda x: x.along)
            last = street.start_number
            for lot in row:
                number = street.start_number + 2 * int(lot.along / step) + 2 + (1 if side else 0)
                last = max(last + (2 if last % 2 == number % 2 else (1 if side else 2)), number)
                lot.number = last


# ---------------------------------------------------------------------------
# The whole


def lay_out(homes: int, seed: int) -> Layout:
    """Invent streets, parcels, house numbers and phases.

    Parameters
    ----------
    homes
        Number of homes, counting both homes of a duplex: met exactly. At least 10.
    seed
        Same seed, same layout.

    Returns
    -------
    Layout
        Coordinates in meters from a corner of the community (see `to_lon_lat`).

    Raises
    ------
    ValueError
        When fewer than 10 homes are asked for.
    """
    if homes < 10:
        raise ValueError(f"A community of {homes} homes is too small to lay out: ask for 10 or more.")
    rng = np.random.default_rng([seed, 1])
    book = NameBook(np.random.default_rng([seed, 2]))
    warp = Warp(rng)
    columns = max(1, round(math.sqrt(homes / 62.0) * 0.95))
    xs = np.concatenate([[0.0], np.cumsum(rng.choice([262.0, 270.0, 336.0, 344.0], columns))])
    upright = dict.fromkeys(range(3, columns, 4), "collector")
    upright[0] = "arterial"

    pods: list[Pod] = []
    ys = [0.0]
    capacity = 0
    main: dict[tuple[str, int], Street] = {}
    templates: dict[tuple[int, int], str] = {}
    frontages: dict[tuple[int, int], float] = {}
    row = -1
    parcels = homes - _duplex_count(homes)
    while capacity < parcels:
        row += 1
        ys.append(round(ys[-1] + float(rng.uniform(262.0, 292.0)), 2))
        order = range(columns) if row % 2 == 0 else range(columns - 1, -1, -1)
        for col in order:
            template = _pick(row, col, templates, rng)
            templates[row, col] = template
            frontages[row, col] = float(rng.choice([17.0, 18.5, 20.0, 22.0, 24.0], p=[0.2, 0.3, 0.25, 0.15, 0.1]))
        new = [_start_pod(len(pods) + k, row, col, xs, ys, templates, warp, rng) for k, col in enumerate(order)]
        _draw_main(row, xs, ys, upright, new, main, warp)
        around = _roads_beside(row, ys, main, warp)
        for pod in new:
            near = [around[key] for key in _touching(pod, upright) if key in around]
            plat(pod, near, frontages[row, pod.col], rng)
            pods.append(pod)
            capacity += len(pod.lots)
            if capacity >= parcels:
                break
    return _finish(pods, main, homes, rng, book, warp)


def _pick(row: int, col: int, drawn: dict[tuple[int, int], str], rng: np.random.Generator) -> str:
    if (row, col) == (0, 0):
        return "green ring"
    below = drawn.get((row - 1, col), "")
    if row % 2 == 1 and below == "ladder" and rng.random() < 0.85:
        return "ladder"
    if row % 2 == 0 and below == "spine through":
        return "spine through"
    names = ["loop", "ladder", "spine", "spine through", "ring", "serpentine"]
    weights = [0.28, 0.16, 0.2, 0.1 if row % 2 == 1 else 0.0, 0.12, 0.16]
    total = sum(weights)
    return str(rng.choice(names, p=[x / total for x in weights]))


def _start_pod(
    index: int,
    row: int,
    col: int,
    xs: Points,
    ys: list[float],
    templates: dict[tuple[int, int], str],
    warp: Warp,
    rng: np.random.Generator,
) -> Pod:
    x0, x1, y0, y1 = float(xs[col]), float(xs[col + 1]), ys[row], ys[row + 1]
    w, h = x1 - x0, y1 - y0
    streets = draw_pod(templates[row, col], w, h, rng)
    upside_down = row % 2 == 0
    for street in streets:
        local = np.array(street.base)
        if upside_down:
            local[:, 1] = h - local[:, 1]
        if street.role == "ring" and upside_down:
            local = local[::-1]
        street.base = local + np.array((x0, y0))
    # A vertex wherever another street of the pod begins or ends.
    ends = [p for s in streets for p in (s.base[0], s.base[-1])]
    for street in streets:
        for p in ends:
            street.base = insert(street.base, p)
    corners = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)])
    for street in streets:
        street.base = _exact(dense(street.base))
        street.line = warp(street.base)
    return Pod(index, row, col, templates[row, col], streets, Polygon(warp(dense(corners))[:-1]))


def _draw_main(
    row: int,
    xs: Points,
    ys: list[float],
    upright: dict[int, str],
    new: list[Pod],
    main: dict[tuple[str, int], Street],
    warp: Warp,
) -> None:
    """Draw or lengthen the collectors and the arterial for one more row of pods."""
    level = row + 1 if row % 2 == 0 else row
    y = ys[row + 1] if row % 2 == 0 else ys[row]
    if ("across", level) not in main:
        line = np.array([(x, y) for x in xs])
        main["across", level] = Street("across", "collector", line)
    top = ys[row + 1]
    for k, klass in upright.items():
        old = main.get(("up", k))
        base = np.array([(xs[k], -60.0), (xs[k], top)]) if old is None else np.vstack([old.base, [xs[k], top]])
        main["up", k] = Street("up", klass, base, name=old.name if old is not None else None)
        main["up", k].base = insert(main["up", k].base, np.array([xs[k], y]))
    across = main["across", level]
    for pod in new:
        for street in pod.streets:
            for p in (street.base[0], street.base[-1]):
                if abs(p[1] - y) < 1e-9:
                    across.base = insert(across.base, p)
    for street in main.values():
        street.line = warp(_exact(dense(street.base)))


def _roads_beside(
    row: int, ys: list[float], main: dict[tuple[str, int], Street], warp: Warp
) -> dict[tuple[str, int], BaseGeometry]:
    """Right of way of the collectors and the arterial, as far as one row of pods needs it."""
    out = {}
    for (kind, k), street in main.items():
        base = dense(street.base)
        if kind == "across" and k not in (row, row + 1):
            continue
        near = base[(base[:, 1] >= ys[row] - 60) & (base[:, 1] <= ys[row + 1] + 60)]
        out[kind, k] = LineString(warp(near)).buffer(HALF_WIDTH[street.klass], quad_segs=6)
    return out


def _touching(pod: Pod, upright: dict[int, str]) -> list[tuple[str, int]]:
    keys = [("across", pod.row + 1 if pod.row % 2 == 0 else pod.row)]
    keys += [("up", k) for k in (pod.col, pod.col + 1) if k in upright]
    return keys


def _finish(
    pods: list[Pod],
    main: dict[tuple[str, int], Street],
    homes: int,
    rng: np.random.Generator,
    book: NameBook,
    warp: Warp,
) -> Layout:
    for street in main.values():
        street.name = book.name("arterial" if street.klass == "arterial" else "collector")
    at = {(p.row, p.col): p for p in pods}
    for pod in pods:
        across = at.get((pod.row + 1 if pod.row % 2 == 0 else pod.row - 1, pod.col))
        paired = across is not None and across.template == "ladder"
        earlier = across if across is not None and across.index < pod.index else None
        _name_pod(pod, earlier, book, rng, paired)
        # Both sides of a collector are numbered outward from it, so that N and S share their numbers.
        hundred = 100 * (1 + (5 * pod.col + 3 * (pod.row // 2)) % 17)
        for k, street in enumerate(pod.streets):
            street.start_number = hundred + (0 if street.klass == "court" or k < 4 else 100)
        _number(pod, step=float(rng.choice([4.6, 6.2, 9.0])))

    ordered = [
        lot
        for pod in pods
        for street in pod.streets
        for lot in sorted((x for x in pod.lots if x.street is street), key=lambda x: (x.number, x.left))
    ]
    ordered = ordered[: homes - _duplex_count(homes)]
    duplexes = _pick_duplexes(ordered, _duplex_count(homes), rng)
    kept = [(lot, i in duplexes) for i, lot in enumerate(ordered)]
    return _assemble(pods, kept, main, homes, rng, warp)


def _duplex_count(homes: int) -> int:
    """How many parcels hold two homes: about one in twenty, and at least one."""
    return max(1, round(0.052 * homes))


def _pick_duplexes(ordered: list[RawLot], count: int, rng: np.random.Generator) -> set[int]:
    """Duplexes stand together: whole streets of them, on the larger lots first."""
    streets: dict[int, list[int]] = {}
    for i, lot in enumerate(ordered):
        streets.setdefault(id(lot.street), []).append(i)
    groups = list(streets.values())
    turn = rng.permutation(len(groups))
    in_turn = [i for k in turn for i in groups[int(k)]]
    large = [i for i in in_turn if ordered[i].outline.area > 560.0]
    small = [i for i in in_turn if ordered[i].outline.area <= 560.0]
    return set([*large, *small][:count])


def _assemble(
    pods: list[Pod],
    kept: list[tuple[RawLot, bool]],
    main: dict[tuple[str, int], Street],
    homes: int,
    rng: np.random.Generator,
    warp: Warp,
) -> Layout:
    count = int(rng.integers(4, 7)) if homes >= 60 else max(1, min(3, homes // 12))
    phase_of, fraction = _phase(kept, pods, count)
    edges = np.linspace(_FIRST_YEAR, _LAST_YEAR + 1, count + 1)
    phases = tuple(
        Phase(f"Phase {k + 1}", int(edges[k]), min(_LAST_YEAR, int(edges[k + 1] + 0.4))) for k in range(count)
    )
    book_page = 10 + int(rng.integers(80))
    lots = []
    serial = [0] * len(pods)
    for (raw, two), phase, part in zip(kept, phase_of, fraction, strict=True):
        serial[raw.pod] += 1
        assert raw.street.name is not None
        lots.append(
            Lot(
                parcel_no=f"{book_page:02d}-{raw.pod + 101:03d}-{serial[raw.pod]:03d}",
                address=Address(raw.number, raw.street.name),
                units=("A", "B") if two else (),
                phase=phase,
                built_fraction=part,
                klass=raw.street.klass,
                outline=raw.outline,
            )
        )
    used = {id(raw.street) for raw, _ in kept}
    last_pod = max(raw.pod for raw, _ in kept)
    _reserve(pods[last_pod], [raw.outline for raw, _ in kept if raw.pod == last_pod], used, main)
    pod_phase = {raw.pod: phase for (raw, _), phase in zip(kept, phase_of, strict=True)}
    commons = []
    for pod in pods:
        if pod.index > last_pod:
            continue
        for k, (what, outline) in enumerate(pod.leftovers):
            name = pod.streets[0].name
            situs = name.text if name is not None and what != "greenbelt" else ""
            number = f"{book_page:02d}-{pod.index + 101:03d}-9{k + 1:02d}"
            commons.append(Common(number, what, situs, pod_phase.get(pod.index, 0), outline))
    streets = [s for p in pods if p.index <= last_pod for s in p.streets if _needed(s, p, used)]
    return Layout(tuple(_segments(streets, main, warp)), tuple(lots), tuple(commons), phases)


def _reserve(pod: Pod, built: list[Polygon], used: set[int], main: dict[tuple[str, int], Street]) -> None:
    """What the last pod does not build stays common ground, unbuilt courts and all."""
    if len(built) == len(pod.lots):
        return
    roads = right_of_way([*(s for s in pod.streets if _needed(s, pod, used)), *main.values()])
    ground = pod.outline.buffer(-1.5, join_style="mitre").difference(shapely.union_all([*roads, *built]))
    named = [(what, shape) for what, shape in pod.leftovers if what != "greenbelt"]
    ground = ground.difference(shapely.union_all([shape for _, shape in named]))
    pod.leftovers = named + [("greenbelt", bit) for bit in opened(ground)]


def _needed(street: Street, pod: Pod, used: set[int]) -> bool:
    """Whether a street is built: it has homes, or leads to some that do."""
    return id(street) in used or (street.klass != "court" and any(id(s) in used for s in pod.streets))


def _phase(kept: list[tuple[RawLot, bool]], pods: list[Pod], count: int) -> tuple[list[int], list[float]]:
    """Phases as runs of whole pods in the order of building (of streets when there are few pods)."""
    key = [raw.pod if len(pods) >= 2 * count else id(raw.street) for raw, _ in kept]
    groups: list[list[int]] = []
    for i, k in enumerate(key):
        if i and k == key[i - 1]:
            groups[-1].append(i)
        else:
            groups.append([i])
    phase = [0] * len(kept)
    done = 0
    for group in groups:
        p = min(count - 1, int((done + len(group) / 2) / len(kept) * count))
        for i in group:
            phase[i] = p
        done += len(group)
    fraction = [0.0] * len(kept)
    for p in range(count):
        members = [i for i, q in enumerate(phase) if q == p]
        for n, i in enumerate(members):
            fraction[i] = (n + 0.5) / len(members)
    return phase, fraction


def _segments(streets: list[Street], main: dict[tuple[str, int], Street], warp: Warp) -> list[Segment]:
    """Streets cut at every junction, ends meeting exactly."""
    everything = [*main.values(), *streets]
    bases = [_exact(dense(s.base)) for s in main.values()] + [s.base for s in streets]
    ends = {_key(p) for b in bases for p in (b[0], b[-1])}
    crossings = {_key(p) for s in main.values() for p in s.base}
    out = []
    for k, (street, base) in enumerate(zip(everything, bases, strict=True)):
        stops = ends | crossings if k < len(main) else ends
        line = warp(base)
        cuts = [0, *(i for i in range(1, len(base) - 1) if _key(base[i]) in stops), len(base) - 1]
        for a, b in itertools.pairwise(cuts):
            piece = np.asarray(LineString(line[a : b + 1]).simplify(0.15).coords)
            assert street.name is not None
            out.append(Segment(street.name, street.klass, piece))
    return out


def _exact(points: Points) -> Points:
    """To a thousandth of a millimeter, so that a junction reckoned in two ways is one and the same point."""
    return np.round(points, 6)


def _key(point: Points) -> tuple[int, int]:
    return round(float(point[0]) * 1000), round(float(point[1]) * 1000)


def to_lon_lat(points: Points) -> Points:
    """Longitude and latitude (degrees, WGS 84, to 1e-7) of a layout's points."""
    transform = pyproj.Transformer.from_crs(_LOCAL_EPSG, 4326, always_xy=True)
    lon, lat = transform.transform(points[:, 0] + _EAST, points[:, 1] + _NORTH)
    return np.round(np.column_stack([lon, lat]), 7)
