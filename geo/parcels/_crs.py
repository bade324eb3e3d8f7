"""In which coordinate system is this file really? Degrees, feet, metres, or nobody said."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import geopandas as gpd
import numpy as np
import pyproj
import pyproj.exceptions
import shapely
from numpy.typing import NDArray
from pyproj.aoi import AreaOfInterest
from pyproj.database import query_crs_info
from pyproj.enums import PJType

from geo.errors import GeoError

__all__ = ["Settled", "UnusableParcelFile", "local_epsg", "settle_crs"]

Degrees = tuple[NDArray[np.float64], NDArray[np.float64]]

_GEOD = pyproj.Geod(ellps="WGS84")
_CLOSE_METRES = 30.0
"""A parcel's own latitude and longitude may be its label point: the median parcel must lie this near."""
_SAME_GRID_METRES = 5.0
"""Candidates that agree within this are one grid under two datum realizations (HARN, NSRS2007, 2011)."""


class UnusableParcelFile(GeoError):
    """The file cannot be taken in as it is; the message says what, where, and what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """The frame in the coordinate system it is really in, and how that was found out."""

    frame: gpd.GeoDataFrame
    name: str
    assumed: tuple[str, ...]


def local_epsg(frame: gpd.GeoDataFrame) -> int:
    """EPSG code of the UTM zone (WGS 84) around the middle of the frame, for everything in metres.

    In a zone a length is off by at most 0.1 percent and an area by 0.2 percent
    (scale 0.9996 on the central meridian; tests/published measures it).

    Raises
    ------
    ValueError
        The frame is empty or has no coordinate system.
    """
    if frame.crs is None or not len(frame):
        raise ValueError("No metric projection can be chosen for an empty frame or one without a coordinate system.")
    west, south, east, north = frame.to_crs(4326).total_bounds
    lon, lat = (west + east) / 2, (south + north) / 2
    zone = min(60, int((lon + 180) // 6) + 1)
    return (32600 if lat >= 0 else 32700) + zone


def settle_crs(frame: gpd.GeoDataFrame, degrees: Degrees | None, given: str | int | None) -> Settled:
    """Decide the coordinate system of a frame as read.

    Parameters
    ----------
    frame
        As read; its ``crs`` is what the file declares (GeoJSON without a word: WGS 84).
    degrees
        The file's own longitude and latitude columns, NaN where a row has none; None without such columns.
    given
        What the person said with ``--crs``; it wins, but not against the coordinates.

    Raises
    ------
    UnusableParcelFile
        Nothing fits; the sentence names the likely remedy.
    """
    points = _middles(frame)
    if given is not None:
        return _as_given(frame, points, given)
    declared = frame.crs
    if declared is not None and _plausible(declared, points, degrees):
        return Settled(frame=frame, name=_label(declared), assumed=())
    said = f"the file says {_label(declared)}" if declared is not None else "the file does not say which system it uses"
    if _look_like_degrees(points):
        swapped = _look_swapped(points)
        straight = points[:, ::-1] if swapped else points
        if degrees is None or _median_metres(straight[:, 0], straight[:, 1], degrees) <= 1_000:
            if swapped:
                frame = frame.set_geometry(_swap(frame.geometry))
            note = f"The coordinates are degrees, although {said}; they were read as WGS 84 longitude and latitude"
            note += ", with the two exchanged (latitude stood first)." if swapped else "."
            return Settled(frame=frame.set_crs(4326, allow_override=True), name="EPSG:4326", assumed=(note,))
    if degrees is not None:
        found = _search(points, degrees)
        if found is not None:
            crs, median, share, same = found
            others = (
                f" The same grid under another datum realization ({same}) would differ by a metre or two."
                if same
                else ""
            )
            note = (
                f"The coordinates do not fit what was declared ({said}). {_label(crs)} was taken instead: it puts "
                f"{share:.0%} of the parcels within {_CLOSE_METRES:.0f} m of the latitude and longitude in the file's "
                f"own columns (median {median:.2f} m).{others}"
            )
            return Settled(frame=frame.set_crs(crs, allow_override=True), name=_label(crs), assumed=(note,))
    x, y = np.nanmedian(points, axis=0)
    also = (
        " and do not match its latitude and longitude columns under any system known for that place" if degrees else ""
    )
    raise UnusableParcelFile(
        f"The coordinates (about {x:,.0f}, {y:,.0f}) cannot be right: {said}{also}. County files are most often "
        "in State Plane feet: find the coordinate system on the county's download page (an EPSG number, such "
        "as EPSG:2927 for Washington South in feet) and load the file again with --crs EPSG:NUMBER."
    )


def _as_given(frame: gpd.GeoDataFrame, points: NDArray[np.float64], given: str | int) -> Settled:
    try:
        crs = pyproj.CRS.from_user_input(int(given) if str(given).isdigit() else given)
    except pyproj.exceptions.CRSError as error:
        raise UnusableParcelFile(
            f"'{given}' is not a coordinate system that can be looked up; give an EPSG number, as in --crs EPSG:2927."
        ) from error
    if not _plausible(crs, points, None):
        x, y = np.nanmedian(points, axis=0)
        raise UnusableParcelFile(
            f"The coordinates (about {x:,.1f}, {y:,.1f}) do not lie where {_label(crs)} is used; check the number "
            "given with --crs: feet and metres, and neighboring zones, have different ones."
        )
    return Settled(
        frame=frame.set_crs(crs, allow_override=True), name=_label(crs), assumed=(f"Read as {_label(crs)}, as told.",)
    )


def _middles(frame: gpd.GeoDataFrame) -> NDArray[np.float64]:
    """Centroid of each geometry, n x 2, in the file's own units; NaN where there is none.

    An outline that crosses itself can have its centroid anywhere (its areas cancel):
    the middle of its box stands for it.
    """
    shapes = frame.geometry.to_numpy()
    shapes = np.where(shapely.is_empty(shapes), None, shapes)  # an empty point has no coordinate to ask for
    centroid = shapely.centroid(shapes)
    found: NDArray[np.float64] = np.column_stack([shapely.get_x(centroid), shapely.get_y(centroid)])
    box = shapely.bounds(shapes)
    outside = (found < box[:, :2]).any(axis=1) | (found > box[:, 2:]).any(axis=1) | ~np.isfinite(found).all(axis=1)
    found[outside] = (box[outside, :2] + box[outside, 2:]) / 2
    return found


def _plausible(crs: pyproj.CRS, points: NDArray[np.float64], degrees: Degrees | None) -> bool:
    """Whether the coordinates can be in this system: inside its area of use and near the file's own degrees."""
    if crs.is_geographic and not _within_degrees(points):
        return False
    if crs.is_projected and np.all(np.abs(np.nanmedian(points, axis=0)) <= (180, 90)):
        return False  # nothing a county maps lies within 180 m (or feet) of a grid's origin
    lon, lat = _to_degrees(crs, points)
    good = np.isfinite(lon) & np.isfinite(lat)
    if not good.any():
        return False
    area = crs.area_of_use
    x, y = float(np.median(lon[good])), float(np.median(lat[good]))
    if area is not None:
        wide = area.east < area.west
        inside = (x >= area.west - 1 or x <= area.east + 1) if wide else area.west - 1 <= x <= area.east + 1
        if not (inside and area.south - 1 <= y <= area.north + 1):
            return False
    return degrees is None or _median_metres(lon, lat, degrees) <= 1_000


def _to_degrees(crs: pyproj.CRS, points: NDArray[np.float64]) -> Degrees:
    try:
        lon, lat = _transformer(crs.to_wkt()).transform(points[:, 0], points[:, 1])
    except pyproj.exceptions.ProjError:  # a few entries of the database name a family, not a projection
        nowhere = np.full(len(points), np.nan)
        return nowhere, nowhere
    return np.asarray(lon, dtype=float), np.asarray(lat, dtype=float)


@lru_cache(maxsize=128)
def _transformer(wkt: str) -> pyproj.Transformer:
    return pyproj.Transformer.from_crs(pyproj.CRS.from_wkt(wkt), 4326, always_xy=True)


def _within_degrees(points: NDArray[np.float64]) -> bool:
    good = points[np.isfinite(points).all(axis=1)]
    return bool(len(good)) and bool((np.abs(good[:, 0]) <= 180.0).all() and (np.abs(good[:, 1]) <= 90.0).all())


def _look_like_degrees(points: NDArray[np.float64]) -> bool:
    good = points[np.isfinite(points).all(axis=1)]
    if not len(good):
        return False
    spread = good.max(axis=0) - good.min(axis=0)
    # A community spans less than five degrees, and no one lives at 0, 0.
    near_origin = np.all(np.abs(np.median(good, axis=0)) < 0.5)
    return bool((spread < 5).all()) and not near_origin and (_within_degrees(good) or _look_swapped(good))


def _look_swapped(points: NDArray[np.float64]) -> bool:
    """Latitude first: the second number is beyond 90 degrees, as every place west of 90 W or east of 90 E shows."""
    return not _within_degrees(points) and _within_degrees(points[:, ::-1])


def _swap(geometry: gpd.GeoSeries) -> gpd.GeoSeries:
    flipped = shapely.transform(geometry.to_numpy(), lambda xy: xy[:, ::-1])
    return gpd.GeoSeries(flipped, index=geometry.index)


def _median_metres(lon: NDArray[np.float64], lat: NDArray[np.float64], degrees: Degrees) -> float:
    distance = _metres(lon, lat, degrees)
    return float(np.median(distance)) if len(distance) else 0.0


def _metres(lon: NDArray[np.float64], lat: NDArray[np.float64], degrees: Degrees) -> NDArray[np.float64]:
    both = np.isfinite(lon) & np.isfinite(lat) & np.isfinite(degrees[0]) & np.isfinite(degrees[1])
    both &= (np.abs(lat) <= 90) & (np.abs(degrees[1]) <= 90)
    distance = _GEOD.inv(lon[both], lat[both], degrees[0][both], degrees[1][both])[2]
    return np.asarray(distance, dtype=float)


def _search(points: NDArray[np.float64], degrees: Degrees) -> tuple[pyproj.CRS, float, float, str] | None:
    """The projected system that puts the parcels on their own latitude and longitude.

    Every projected system in EPSG's database whose area of use holds the place is
    tried (State Plane in feet and metres, UTM, and the rest): about fifty.
    """
    x, y = float(np.nanmedian(degrees[0])), float(np.nanmedian(degrees[1]))
    window = AreaOfInterest(x - 0.01, y - 0.01, x + 0.01, y + 0.01)
    found = query_crs_info(
        auth_name="EPSG",
        pj_types=[PJType.PROJECTED_CRS],
        area_of_interest=window,
        contains=True,
        allow_deprecated=False,
    )
    fits: list[tuple[float, int, float]] = []
    for info in found:
        lon, lat = _to_degrees(pyproj.CRS.from_epsg(int(info.code)), points)
        distance = _metres(lon, lat, degrees)
        if len(distance) and float(np.median(distance)) <= _CLOSE_METRES:
            share = float((distance <= _CLOSE_METRES).mean())
            fits.append((round(float(np.median(distance)), 2), int(info.code), share))
    if not fits:
        return None
    # Equal to the centimetre: the lowest number is the plain datum, before its later realizations.
    median, code, share = min(fits)
    same = [f"EPSG:{c}" for m, c, _ in sorted(fits) if c != code and m - median <= _SAME_GRID_METRES]
    return pyproj.CRS.from_epsg(code), median, share, ", ".join(same[:3])


def _label(crs: pyproj.CRS | None) -> str:
    if crs is None:
        return "no coordinate system"
    code = pyproj.CRS(crs).to_epsg()
    return f"{crs.name} (EPSG:{code})" if code else str(crs.name)
