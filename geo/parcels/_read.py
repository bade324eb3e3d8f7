"""Reading a parcel file of any format GDAL knows, traps included."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import geopandas as gpd
import numpy as np
import pandas as pd
import pyogrio
import shapely

from geo.addresses import expand, mend_letters, parse
from geo.parcels._columns import clean_text, find_columns, years
from geo.parcels._crs import UnusableParcelFile, local_epsg, settle_crs
from geo.parcels._kinds import why_not_a_map_file
from geo.parcels._outlines import SQUARE_M, mend_outlines, squares

__all__ = ["Notice", "ParcelFile", "read_parcels"]

Progress = Callable[[float, str], object]

_ROLES = ("id", "address", "built", "phase", "land_use", "units")


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """One thing that was mended or left out, for a volunteer to read.

    ``row`` counts the file's records from 1; ``what`` and ``remedy`` are
    sentences; ``kind`` is a few words that are equal for equal troubles, to count them.
    """

    row: int | None
    parcel_id: str | None
    what: str
    remedy: str
    kind: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ParcelFile:
    """What a parcel file holds, ready to store.

    ``parcels`` is in WGS 84 (EPSG:4326) with columns parcel_id, address, units
    (tuple of identifiers, empty for one home), built_year (Int64), phase,
    land_use, has_number (False: no home can be joined to it), lon, lat (a point
    inside), area_m2 (in ``local_epsg``), geometry; the index counts from 0.
    ``columns_used`` maps id, address, built, phase, land_use, units, lon, lat to
    the file's columns. ``assumed`` are sentences on choices made for the whole file.
    """

    parcels: gpd.GeoDataFrame
    local_epsg: int
    source_crs: str
    columns_used: dict[str, str]
    repaired: tuple[Notice, ...]
    refused: tuple[Notice, ...]
    assumed: tuple[str, ...]


class _Log:
    """Notices gathered while the rows still have their numbers and parcel numbers."""

    def __init__(self, ids: list[str]) -> None:
        self._ids = ids
        self.repaired: list[Notice] = []
        self.refused: list[Notice] = []

    def repair(self, row: int, kind: str, what: str, remedy: str) -> None:
        self.repaired.append(self._notice(row, kind, what, remedy))

    def refuse(self, row: int, kind: str, what: str, remedy: str) -> None:
        self.refused.append(self._notice(row, kind, what, remedy))

    def _notice(self, row: int, kind: str, what: str, remedy: str) -> Notice:
        ended = [text if text.endswith(".") else text + "." for text in (what, remedy)]
        return Notice(row=row + 1, parcel_id=self._ids[row] or None, what=ended[0], remedy=ended[1], kind=kind)


def read_parcels(
    path: str | Path,
    *,
    id_column: str | None = None,
    address_column: str | None = None,
    built_column: str | None = None,
    phase_column: str | None = None,
    land_use_column: str | None = None,
    units_column: str | None = None,
    crs: str | int | None = None,
    progress: Progress | None = None,
) -> ParcelFile:
    """Read a county's parcels and say what was mended, what was left out, and what was assumed.

    Parameters
    ----------
    path
        A zipped shapefile, GeoJSON, GeoPackage, FlatGeobuf or a file geodatabase, or a CSV file
        with a WKT column or with longitude and latitude columns.
    id_column, address_column, built_column, phase_column, land_use_column, units_column
        Columns of the file; guessed from their names when None. Without an id column the
        record's number in the file is the parcel's id.
    crs
        An EPSG number (2927 or "EPSG:2927") that overrules what the file declares.
    progress
        Called with a share from 0 to 1 and a few words, now and then.

    Returns
    -------
    ParcelFile
        Never empty: a file without a usable parcel is refused.

    Raises
    ------
    UnusableParcelFile
        The file cannot be read, no column is an address, or its coordinates cannot be placed.
    """
    tell: Progress = progress or (lambda share, words: None)
    path = Path(path)
    tell(0.0, "reading the file")
    frame = _open(path)
    given = {
        "id": id_column,
        "address": address_column,
        "built": built_column,
        "phase": phase_column,
        "land_use": land_use_column,
        "units": units_column,
    }
    columns = [str(c) for c in frame.columns if c != "geometry"]
    used = find_columns(columns, given, path.name)
    assumed: list[str] = []
    frame, from_points = _with_geometry(frame, used, path, assumed)

    tell(0.2, "settling the coordinate system")
    if frame.geometry.isna().all() or frame.geometry.is_empty.all():
        raise UnusableParcelFile(
            f"{path.name}: none of its {len(frame):,} records has a shape; choose the county's parcel polygons instead."
        )
    if np.any(shapely.has_z(frame.geometry.to_numpy())):
        assumed.append("The outlines carry heights (Z values); heights are not used and were dropped.")
        frame = frame.set_geometry(
            gpd.GeoSeries(shapely.force_2d(frame.geometry.to_numpy()), frame.index, crs=frame.crs)
        )
    settled = settle_crs(frame, None if from_points else _own_degrees(frame, used), crs)
    assumed += settled.assumed
    metric = local_epsg(settled.frame)

    ids = _ids(frame, used, assumed)
    log = _Log(ids)
    tell(0.4, "mending outlines")
    outlines = settled.frame.geometry.to_crs(metric).to_numpy()
    if from_points or set(np.unique(shapely.get_type_id(outlines))) <= {-1, 0}:
        outlines = _as_squares(outlines, assumed)
    mended = mend_outlines(outlines)
    for row, (what, remedy) in mended.refusals.items():
        log.refuse(row, "no outline", what, remedy)
    for row, troubles in mended.repairs.items():
        for what, remedy in troubles:
            log.repair(row, _kind_of(what), what, remedy)

    tell(0.7, "reading addresses and parcel numbers")
    table = _table(frame, used, ids, mended.outlines, log)
    table = _same_number(table, log)
    table = _same_outline(table, log)
    if not len(table):
        raise UnusableParcelFile(
            f"{path.name}: none of its {len(frame):,} records has a usable outline; the first reason is: "
            f"{log.refused[0].what}"
        )
    if not table["has_number"].any():
        assumed.append(
            f"No address in column '{used['address']}' begins with a house number, so no answer can be joined; "
            "name the right column with --address."
        )
    tell(0.9, "measuring")
    parcels = _finished(table, metric)
    tell(1.0, "done")
    return ParcelFile(
        parcels=parcels,
        local_epsg=metric,
        source_crs=settled.name,
        columns_used=used,
        repaired=tuple(sorted(log.repaired, key=lambda n: n.row or 0)),
        refused=tuple(sorted(log.refused, key=lambda n: n.row or 0)),
        assumed=tuple(assumed),
    )


def _open(path: Path) -> gpd.GeoDataFrame | pd.DataFrame:
    if not path.exists():
        raise UnusableParcelFile(f"There is no file '{path}'; check its name and folder.")
    try:
        if path.suffix.lower() in (".csv", ".txt", ".tsv"):
            # Text stays text: parcel numbers have leading zeros.
            frame = pd.read_csv(path, dtype=str, sep=None, engine="python", encoding="utf-8-sig", keep_default_na=False)
        else:
            if (why := why_not_a_map_file(path)) is not None:
                raise UnusableParcelFile(
                    f"'{path.name}' {why}; send a zipped shapefile, GeoJSON, GeoPackage or CSV file."
                )
            frame = gpd.read_file(path)
    except UnusableParcelFile:
        raise
    except (pyogrio.errors.DataSourceError, pyogrio.errors.DataLayerError, ValueError, OSError) as error:
        raise UnusableParcelFile(
            f"'{path.name}' cannot be read as a map file; send a zipped shapefile, GeoJSON, GeoPackage or CSV file."
        ) from error
    except Exception as error:
        if type(error).__module__.split(".")[0] not in ("pyogrio", "pandas", "_csv"):
            raise
        raise UnusableParcelFile(
            f"'{path.name}' cannot be read; open it in the program it came from and save it again."
        ) from error
    if not len(frame):
        raise UnusableParcelFile(f"'{path.name}' has no records; choose the county's parcel layer.")
    if isinstance(frame, gpd.GeoDataFrame) and frame.geometry.name != "geometry":
        frame = frame.rename_geometry("geometry")
    return frame.reset_index(drop=True)


def _with_geometry(
    frame: gpd.GeoDataFrame | pd.DataFrame, used: dict[str, str], path: Path, assumed: list[str]
) -> tuple[gpd.GeoDataFrame, bool]:
    """A frame with shapes, and whether they were made from longitude and latitude columns."""
    if isinstance(frame, gpd.GeoDataFrame):
        return frame, False
    for column in frame.columns:
        texts = clean_text(frame[column])
        shown = texts[texts != ""]
        if len(shown) and shown.str.match(r"(?i)(SRID=\d+;)?\s*(MULTI)?(POLYGON|POINT)\s*(Z\s*)?\(").mean() > 0.5:
            shapes = shapely.from_wkt(
                texts.where(texts != "").str.replace(r"^SRID=\d+;", "", regex=True), on_invalid="ignore"
            )
            return gpd.GeoDataFrame(frame.drop(columns=column), geometry=shapes, crs=None), False
    if "lon" in used and "lat" in used:
        lon, lat = (pd.to_numeric(clean_text(frame[used[k]]), errors="coerce") for k in ("lon", "lat"))
        points = [shapely.Point(x, y) if pd.notna(x) and pd.notna(y) else None for x, y in zip(lon, lat, strict=True)]
        return gpd.GeoDataFrame(frame, geometry=np.array(points, dtype=object), crs=None), True
    raise UnusableParcelFile(
        f"{path.name}: it is a table without shapes. It needs a column with outlines as WKT text, or columns named "
        f"longitude and latitude. The file's columns are: {', '.join(map(str, frame.columns))}."
    )


def _own_degrees(frame: gpd.GeoDataFrame, used: dict[str, str]) -> tuple[Any, Any] | None:
    """The file's own longitude and latitude columns, when they hold degrees."""
    if "lon" not in used or "lat" not in used:
        return None
    lon, lat = (pd.to_numeric(frame[used[k]], errors="coerce").to_numpy(dtype=float) for k in ("lon", "lat"))
    bad = (np.abs(lon) > 180) | (np.abs(lat) > 90) | ((lon == 0) & (lat == 0))
    lon, lat = np.where(bad, np.nan, lon), np.where(bad, np.nan, lat)
    return (lon, lat) if np.isfinite(lon + lat).mean() >= 0.5 else None


def _ids(frame: gpd.GeoDataFrame, used: dict[str, str], assumed: list[str]) -> list[str]:
    if "id" not in used:
        assumed.append("No column holds a parcel number; the record's place in the file stands for it (R1, R2, ...).")
        return [f"R{i + 1}" for i in range(len(frame))]
    texts = clean_text(frame[used["id"]]).tolist()
    return [text or f"R{i + 1}" for i, text in enumerate(texts)]


def _as_squares(outlines: Any, assumed: list[str]) -> Any:
    assumed.append(
        f"The file has points, not outlines: each home is drawn as a square of {SQUARE_M:.0f} m around its point, and "
        "areas say nothing about the lots."
    )
    present = np.array([g is not None and not g.is_empty for g in outlines])
    boxes = np.full(len(outlines), None, dtype=object)
    boxes[present] = squares(outlines[present])
    return boxes


def _kind_of(what: str) -> str:
    if "removed" in what:
        return "slivers removed"
    return "only a sliver" if what.startswith("Only") else "outline rebuilt"


def _table(frame: gpd.GeoDataFrame, used: dict[str, str], ids: list[str], outlines: Any, log: _Log) -> pd.DataFrame:
    """One row per kept record, the values cleaned; the index is the record's place in the file."""
    kept = [i for i, shape in enumerate(outlines) if shape is not None]
    texts = clean_text(frame[used["address"]]).tolist()
    counts = clean_text(frame[used["units"]]).tolist() if "units" in used else [""] * len(frame)
    rows: list[dict[str, Any]] = []
    for i in kept:
        address = mend_letters(texts[i])
        if address != texts[i]:
            log.repair(
                i,
                "letter for a figure",
                f"'{texts[i]}' has a letter where a figure belongs; it was read as '{address}'",
                "Tell the county if you like; answers are joined to the mended address",
            )
        base, units = _units(address, counts[i])
        if len(units) > 1:
            log.repair(
                i,
                "several homes",
                f"'{texts[i]}' holds {len(units)} homes ({', '.join(units)}); each can have its own answer",
                "Check the unit names with someone who lives there",
            )
        has_number = bool(parse(base).number)
        if not has_number:
            shown = f"'{texts[i]}'" if texts[i] else "is empty and"
            log.repair(
                i,
                "no house number",
                f"Its address {shown} has no house number: no home can be joined",
                "Usually land, a road or a common area; if someone lives there, give it an address",
            )
        rows.append({"parcel_id": ids[i], "address": base, "units": units, "has_number": has_number})
    table = pd.DataFrame(rows, index=kept, columns=["parcel_id", "address", "units", "has_number"])
    table["built_year"] = (
        years(frame[used["built"]]).iloc[kept] if "built" in used else pd.array([pd.NA] * len(kept), "Int64")
    )
    for column in ("phase", "land_use"):
        source = clean_text(frame[used[column]]).tolist() if column in used else [""] * len(frame)
        table[column] = pd.Series([source[i] or None for i in kept], index=kept, dtype=object)
    table["geometry"] = np.asarray(outlines)[kept] if kept else []
    return table


def _units(address: str, told: str) -> tuple[str, tuple[str, ...]]:
    """(the address of the parcel, its units): from the address ("UNIT A & B"), or the file's units column."""
    several = expand(address)
    if len(several) > 1 and len({a.number for a in several}) == 1 and all(a.unit_id() for a in several):
        first = several[0]
        return f"{first.number} {first.street()}", tuple(a.unit_id() for a in several)
    number = pd.to_numeric(told, errors="coerce")
    if told and pd.notna(number):
        count = int(number)
        return address, tuple(str(k) for k in range(1, count + 1)) if 1 < count <= 200 else ()
    names = [n.strip() for n in told.replace("&", ",").replace(";", ",").replace("/", ",").split(",") if n.strip()]
    return address, tuple(n.upper() for n in names)


def _same_number(table: pd.DataFrame, log: _Log) -> pd.DataFrame:
    """Records that share a parcel number: one parcel where they agree, several where they do not."""
    twice = table["parcel_id"].duplicated(keep=False)
    if not twice.any():
        return table
    table = table.copy()
    at: Any = table.at
    taken = set(table["parcel_id"])
    drop: list[int] = []
    for parcel_id, group in table[twice].groupby("parcel_id", sort=False):
        leaders: list[int] = []
        for i in group.index:
            twin = next((j for j in leaders if _belong_together(table, j, i)), None)
            if twin is not None:
                equal = _same_shape(at[twin, "geometry"], at[i, "geometry"])
                if not equal:
                    at[twin, "geometry"] = _union(at[twin, "geometry"], at[i, "geometry"])
                at[twin, "units"] = _all_units(table, [twin, i])
                if parse(at[twin, "address"]).unit_id() and len(at[twin, "units"]) > 1:
                    at[twin, "address"] = _base(at[twin, "address"])
                drop.append(i)
                what = "the same outline" if equal else "the same address, so their outlines are parts of one parcel"
                log.repair(
                    i,
                    "merged",
                    f"Parcel number {parcel_id} stands twice with {what}; the two records were made one",
                    "No need to act",
                )
                continue
            if leaders:
                new = _free(f"{parcel_id}-{len(leaders) + 1}", taken)
                at[i, "parcel_id"] = new
                log.repair(
                    i,
                    "number stands twice",
                    f"Parcel number {parcel_id} stands for different parcels; this one is called {new} here",
                    "Ask the county which number is right; nothing else is affected",
                )
            leaders.append(i)
    return table.drop(index=drop)


def _free(wanted: str, taken: set[str]) -> str:
    while wanted in taken:
        head, _, tail = wanted.rpartition("-")
        wanted = f"{head}-{int(tail) + 1}"
    taken.add(wanted)
    return wanted


def _belong_together(table: pd.DataFrame, first: int, second: int) -> bool:
    """One parcel told twice: the same outline with addresses that differ by unit at most, or the same address."""
    at: Any = table.at
    a, b = parse(at[first, "address"]), parse(at[second, "address"])
    if a.key() == b.key() and (a.number or a.name):
        return True
    same_house = a.house_key() == b.house_key()
    return same_house and _same_shape(at[first, "geometry"], at[second, "geometry"])


def _same_shape(first: Any, second: Any) -> bool:
    return bool(first.equals(second))


def _union(first: Any, second: Any) -> Any:
    shape = shapely.union(first, second)
    return shape if shape.geom_type in ("Polygon", "MultiPolygon") else first


def _same_outline(table: pd.DataFrame, log: _Log) -> pd.DataFrame:
    """Different parcel numbers on one outline: units of one house become one parcel, other homes stay as they are."""
    normal = shapely.to_wkb(shapely.set_precision(shapely.normalize(table["geometry"].to_numpy()), 0.01))
    shared = pd.Series(normal, index=table.index).duplicated(keep=False)
    if not shared.any():
        return table
    table = table.copy()
    at: Any = table.at
    drop: list[int] = []
    keys = pd.Series(normal, index=table.index)[shared]
    for _, members in keys.groupby(keys, sort=False):
        houses: dict[str, list[int]] = {}
        for i in members.index:
            houses.setdefault(parse(at[i, "address"]).house_key(), []).append(i)
        for rows in houses.values():
            named = [i for i in rows if parse(at[i, "address"]).unit_id() or at[i, "units"]]
            if len(named) < 2 or not at[named[0], "has_number"]:
                continue
            first, *others = named
            ids = ", ".join(table.loc[others, "parcel_id"])
            at[first, "units"] = _all_units(table, named)
            at[first, "address"] = _base(at[first, "address"])
            drop += others
            log.repair(
                first,
                "several homes",
                f"{at[first, 'address']} has {len(at[first, 'units'])} homes on one outline; "
                f"parcel numbers {ids} were put together with this one",
                "No need to act: each unit can have its own answer",
            )
        if len(houses) > 1 or any(len(rows) > 1 for rows in houses.values()):
            left = [i for i in members.index if i not in drop]
            if len(left) > 1:
                log.repair(
                    left[0],
                    "shared outline",
                    f"{len(left)} parcels share this outline: {', '.join(table.loc[left, 'address'].head(6))}",
                    "No need to act; the map draws them on top of each other",
                )
    return table.drop(index=drop)


def _all_units(table: pd.DataFrame, rows: list[int]) -> tuple[str, ...]:
    at: Any = table.at
    found: list[str] = []
    for i in rows:
        own = parse(at[i, "address"]).unit_id()
        found += [*at[i, "units"], *([own] if own and not at[i, "units"] else [])]
    return tuple(dict.fromkeys(found))


def _base(address: str) -> str:
    """The address without its unit."""
    parts = parse(address)
    fraction = f" {parts.number_suffix}" if "/" in parts.number_suffix else ""
    return f"{parts.number}{fraction} {parts.street()}"


def _finished(table: pd.DataFrame, metric: int) -> gpd.GeoDataFrame:
    outlines = gpd.GeoSeries(table["geometry"].to_numpy(), crs=metric)
    inside = outlines.representative_point().to_crs(4326)
    frame = table.drop(columns="geometry").reset_index(drop=True)
    frame["lon"], frame["lat"], frame["area_m2"] = inside.x, inside.y, outlines.area
    order = ["parcel_id", "address", "units", "built_year", "phase", "land_use", "has_number", "lon", "lat", "area_m2"]
    return gpd.GeoDataFrame(frame[order], geometry=outlines.to_crs(4326), crs=4326)
