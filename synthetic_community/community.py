"""One invented community, written out as the files a county and a volunteer would hand over."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from synthetic_community.answers import COLUMNS, Row, write_answers
from synthetic_community.bids import write_bids
from synthetic_community.heaters import World, day, live
from synthetic_community.streets import Layout, lay_out, to_lon_lat

__all__ = ["NAME", "REGION", "Paths", "build"]

NAME = "Sedgewether Fold"
REGION = (
    "An invented planned community in the cold, wet farm country of an inland-lake shore in the upper Midwest: "
    "hard well water, long winters, most heaters in basements."
)
_HOME_COLUMNS = (
    "home_id parcel_no unit address number street phase built_year completed_on moved_in rental softener "
    "place pan leak_alarm auto_shutoff expansion_tank answered failed_in_last_5_years"
)
_HEATER_COLUMNS = (
    "heater_id home_id sequence kind tank_gallons warranty_years manufactured installed removed end_cause "
    "log_life_shift flush_level flush_from anode_renewed fails_on replaced_unless_failed_on"
)
_README = """SYNTHETIC: everything in this folder is invented.

The community "{name}" does not exist. Its streets, parcels, homes, heaters and
answers were drawn from random numbers (seed {seed}, {homes} homes, as of {as_of}).
Its coordinates lie in the open water of a Great Lake, so that no parcel covers
a real house. The city, the ZIP code, the phone numbers and the e-mail
addresses are not anybody's.

parcels.geojson   as a county would hand over: one feature per parcel
streets.geojson   as a street department would: one feature per block of street
answers.csv       as a volunteer would: one row per answer, typed by many hands
bids.csv          three bids for a group purchase, as contractors would hand them over
community.json    the community's name, region and building phases
truth/            what is really so, for checking; no survey has this
  homes.csv         every home and its household
  heaters.csv       every heater that ever stood in a home, and when it will fail
  service.csv       every act of care, with its date
  answers_join.csv  for each row of answers.csv the parcel it belongs to, and what is wrong with it
  law.json          the law that the lives were drawn from
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paths:
    """The files that were written."""

    folder: Path
    parcels: Path
    streets: Path
    answers: Path
    bids: Path
    community: Path
    readme: Path
    homes: Path
    heaters: Path
    service: Path
    answers_join: Path
    law: Path


def build(homes: int, seed: int, as_of: date, out: Path) -> Paths:
    """Invent a community and write it to a folder.

    Parameters
    ----------
    homes
        Number of homes (both homes of a duplex count), 10 or more; met exactly.
    seed
        Same seed, homes and day: byte-identical files.
    as_of
        The day of looking, 2013-01-01 or later.
    out
        Folder; made if it is not there. Files of the same names are replaced.

    Returns
    -------
    Paths
        Where everything is.

    Raises
    ------
    ValueError
        When `homes` is below 10, `seed` is negative, or `as_of` is too early.
    """
    if seed < 0:
        raise ValueError(f"The seed {seed} is negative: use 0 or a positive whole number.")
    layout = lay_out(homes, seed)
    world = live(layout, seed, as_of)
    rows = write_answers(world, layout, seed)
    truth = out / "truth"
    truth.mkdir(parents=True, exist_ok=True)
    paths = Paths(
        folder=out,
        parcels=out / "parcels.geojson",
        streets=out / "streets.geojson",
        answers=out / "answers.csv",
        bids=out / "bids.csv",
        community=out / "community.json",
        readme=out / "README.txt",
        homes=truth / "homes.csv",
        heaters=truth / "heaters.csv",
        service=truth / "service.csv",
        answers_join=truth / "answers_join.csv",
        law=truth / "law.json",
    )
    _write_parcels(paths.parcels, layout, world)
    _write_streets(paths.streets, layout)
    _write_csv(paths.answers, COLUMNS, ([row.values[c] for c in COLUMNS] for row in rows))
    write_bids(paths.bids, seed=seed, as_of=as_of)
    _write_community(paths.community, layout, homes, seed, as_of)
    paths.readme.write_text(
        _README.format(name=NAME, seed=seed, homes=homes, as_of=as_of), encoding="utf-8", newline="\n"
    )
    _write_truth(paths, layout, world, rows)
    return paths


def _write_csv(path: Path, header: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as handle:
        writer = csv.writer(handle, lineterminator="\n")
        writer.writerow(header)
        writer.writerows(rows)


def _write_features(path: Path, features: Iterable[tuple[dict[str, object], dict[str, object]]]) -> None:
    """A FeatureCollection in the form of RFC 7946, one feature a line."""
    lines = [
        json.dumps({"type": "Feature", "properties": properties, "geometry": geometry}, separators=(",", ":"))
        for properties, geometry in features
    ]
    text = '{"type":"FeatureCollection","features":[\n' + ",\n".join(lines) + "\n]}\n"
    path.write_text(text, encoding="utf-8", newline="\n")


def _polygons(shapes: Sequence[Polygon]) -> list[dict[str, object]]:
    """GeoJSON geometries, exterior rings counterclockwise (RFC 7946, section 3.1.6), all projected at once."""
    oriented = shapely.orient_polygons(np.asarray(shapes, dtype=object))
    rings: list[list[NDArray[np.float64]]] = [
        [shapely.get_coordinates(ring) for ring in (shape.exterior, *shape.interiors)] for shape in oriented
    ]
    flat = to_lon_lat(np.concatenate([ring for shape in rings for ring in shape]))
    out: list[dict[str, object]] = []
    at = 0
    for shape in rings:
        degrees = []
        for ring in shape:
            degrees.append(flat[at : at + len(ring)])
            at += len(ring)
        out.append({"type": "Polygon", "coordinates": _sound(degrees)})
    return out


def _sound(rings: list[NDArray[np.float64]]) -> list[list[list[float]]]:
    """Rings rounded to 1e-7 degree (a centimeter), mended where the rounding has folded a narrow corner."""
    if not Polygon(rings[0], rings[1:]).is_valid:
        mended = shapely.make_valid(Polygon(rings[0], rings[1:]))
        snapped = shapely.set_precision(mended, 1e-7)
        parts = [part for part in shapely.get_parts(snapped) if isinstance(part, Polygon)]
        largest = shapely.orient_polygons(max(parts, key=lambda part: part.area))
        rings = [np.round(shapely.get_coordinates(r), 7) for r in (largest.exterior, *largest.interiors)]
    return [_without_repeats(ring) for ring in rings]


def _without_repeats(points: NDArray[np.float64]) -> list[list[float]]:
    listed: list[list[float]] = points.tolist()
    return [p for i, p in enumerate(listed) if i == 0 or p != listed[i - 1]]


def _write_parcels(path: Path, layout: Layout, world: World) -> None:
    outlines = [lot.outline for lot in layout.lots] + [common.outline for common in layout.commons]
    shapes = _polygons(outlines)
    built: dict[int, int] = {}
    for lot, completed in zip(world.homes.lot, world.homes.completed, strict=True):
        built[int(lot)] = day(int(completed)).year
    records: list[dict[str, object]] = [
        {
            "PARCEL_NO": lot.parcel_no,
            "SITUS_ADDRESS": lot.address.base,
            "UNITS": ";".join(lot.units),
            "YEAR_BUILT": built[i],
            "PHASE": layout.phases[lot.phase].name,
            "LAND_USE": "duplex" if lot.units else "single family",
            "NOTE": "SYNTHETIC",
        }
        for i, lot in enumerate(layout.lots)
    ]
    records += [
        {
            "PARCEL_NO": common.parcel_no,
            "SITUS_ADDRESS": common.situs,
            "UNITS": "",
            "YEAR_BUILT": None,
            "PHASE": layout.phases[common.phase].name,
            "LAND_USE": "common area",
            "NOTE": "SYNTHETIC",
        }
        for common in layout.commons
    ]
    _write_features(path, zip(records, shapes, strict=True))


def _write_streets(path: Path, layout: Layout) -> None:
    features: list[tuple[dict[str, object], dict[str, object]]] = []
    flat = to_lon_lat(np.concatenate([s.line for s in layout.segments]))
    at = 0
    for segment in layout.segments:
        n = len(segment.line)
        line = {"type": "LineString", "coordinates": flat[at : at + n].tolist()}
        features.append(({"NAME": segment.name.text, "CLASS": segment.klass, "NOTE": "SYNTHETIC"}, line))
        at += n
    _write_features(path, features)


def _write_community(path: Path, layout: Layout, homes: int, seed: int, as_of: date) -> None:
    content = {
        "name": NAME,
        "synthetic": True,
        "region": REGION,
        "as_of": as_of.isoformat(),
        "seed": seed,
        "homes": homes,
        "phases": [{"phase": p.name, "first_year": p.first_year, "last_year": p.last_year} for p in layout.phases],
        "amenities": [{"parcel_no": c.parcel_no, "what": c.what} for c in layout.commons if c.what != "greenbelt"],
    }
    path.write_text(json.dumps(content, indent=2) + "\n", encoding="utf-8", newline="\n")


def _iso(number: int) -> str:
    return day(number).isoformat()


def _yes(value: object) -> str:
    return "yes" if value else "no"


def _write_truth(paths: Paths, layout: Layout, world: World, rows: list[Row]) -> None:
    h, t = world.homes, world.heaters
    lots = [layout.lots[int(i)] for i in h.lot]
    _write_csv(
        paths.homes,
        _HOME_COLUMNS.split(),
        (
            [
                str(h.home_id[i]),
                lot.parcel_no,
                str(h.unit[i]),
                lot.address.with_unit(str(h.unit[i])).text,
                lot.address.number,
                lot.address.street.text,
                layout.phases[lot.phase].name,
                day(int(h.completed[i])).year,
                _iso(int(h.completed[i])),
                _iso(int(h.moved_in[i])),
                _yes(h.rental[i]),
                _yes(h.softener[i]),
                str(h.place[i]),
                _yes(h.pan[i]),
                _yes(h.leak_alarm[i]),
                _yes(h.auto_shutoff[i]),
                _yes(h.expansion_tank[i]),
                _yes(world.answers[i]),
                _yes(world.leaked_lately[i]),
            ]
            for i, lot in enumerate(lots)
        ),
    )
    heater_ids = [f"{h.home_id[int(home)]}-{int(s)}" for home, s in zip(t.home, t.sequence, strict=True)]
    horizon = 10**7  # never
    _write_csv(
        paths.heaters,
        _HEATER_COLUMNS.split(),
        (
            [
                heater_ids[i],
                str(h.home_id[int(t.home[i])]),
                int(t.sequence[i]),
                str(t.kind[i]),
                int(t.gallons[i]) or "",
                int(t.warranty[i]),
                _iso(int(t.made[i])),
                _iso(int(t.installed[i])),
                _iso(int(t.removed[i])) if t.removed[i] >= 0 else "",
                str(t.cause[i]),
                f"{t.shift[i]:.4f}",
                int(t.flush_level[i]),
                _iso(int(t.flush_from[i])) if t.flush_from[i] < horizon else "",
                _iso(int(t.anode_renewed[i])) if t.anode_renewed[i] < horizon else "",
                _iso(int(t.fails[i])) if t.removed[i] < 0 else "",
                _iso(int(t.quits[i])) if t.removed[i] < 0 else "",
            ]
            for i in range(len(t.home))
        ),
    )
    s = world.service
    _write_csv(
        paths.service,
        ("heater_id", "home_id", "done_on", "act", "finding"),
        (
            [heater_ids[int(i)], str(h.home_id[int(t.home[int(i)])]), _iso(int(when)), str(act), str(found)]
            for i, when, act, found in zip(s.heater, s.day, s.act, s.finding, strict=True)
        ),
    )
    _write_csv(
        paths.answers_join,
        ("row", "parcel_no", "unit", "home_id", "answered_by", "heater_id", "mess"),
        (
            [
                k + 1,
                lots[row.home].parcel_no if row.home is not None else "",
                str(h.unit[row.home]) if row.home is not None else "",
                str(h.home_id[row.home]) if row.home is not None else "",
                str(h.home_id[row.typed_by]) if row.typed_by is not None else "",
                heater_ids[row.heater] if row.heater is not None else "",
                ";".join(row.mess),
            ]
            for k, row in enumerate(rows)
        ),
    )
    law: dict[str, object] = {
        "synthetic": True,
        "life": "years without care = eta_years * exp(log_life_shift) * E ** (1 / beta), E standard exponential",
        "shift": (
            "long_warranty if a storage heater has 9 years or more; softener if the home has one; tankless if it "
            "is one; batch of the phase for the first heater of a house"
        ),
        "care": (
            "from anode_renewed on, the life that is left is multiplied by exp(anode); from flush_from on, by "
            "exp(flush_per_level * flush_level)"
        ),
        "replacement": "piecewise constant hazard per year by age, whichever comes first ends the heater",
        "batch_by_phase": {p.name: float(b) for p, b in zip(layout.phases, world.batch, strict=True)},
        **asdict(world.law),
    }
    paths.law.write_text(json.dumps(law, indent=2) + "\n", encoding="utf-8", newline="\n")
