"""Areas and distances in the local projection against the geodesic on the ellipsoid.

Reference: pyproj's ``Geod`` (C. F. F. Karney, Algorithms for geodesics, Journal of
Geodesy 87, 2013), WGS 84. A UTM zone has scale 0.9996 on its central meridian (J. P. Snyder,
Map Projections: A Working Manual, USGS Professional Paper 1395, 1987): lengths are off by 0.04
percent there and by up to about 0.1 percent at the zone's edge, areas by twice that.
"""

from __future__ import annotations

from pathlib import Path

import geopandas as gpd
import pyproj
import pytest
from shapely.geometry import LineString, Point, Polygon

from geo.parcels import local_epsg, read_parcels

GEOD = pyproj.Geod(ellps="WGS84")
PLACES = [(-122.27, 46.86), (-87.9, 43.0), (-96.0, 30.3), (-81.0, 26.1), (-149.9, 61.2), (-157.9, 21.3), (151.2, -33.9)]


def _lot(lon: float, lat: float) -> Polygon:
    """A lot of about 100 by 100 m."""
    dx, dy = 0.0012, 0.0009
    return Polygon([(lon, lat), (lon + dx, lat), (lon + dx, lat + dy), (lon, lat + dy)])


@pytest.mark.parametrize(("lon", "lat"), PLACES)
def test_local_area_against_the_geodesic(lon: float, lat: float) -> None:
    """A lot's area in the local projection is within 0.2 percent of the ellipsoid's."""
    frame = gpd.GeoDataFrame(geometry=[_lot(lon, lat)], crs=4326)
    projected = frame.to_crs(local_epsg(frame)).area.iloc[0]
    true = abs(GEOD.geometry_area_perimeter(frame.geometry.iloc[0])[0])
    assert projected == pytest.approx(true, rel=0.002)


@pytest.mark.parametrize(("lon", "lat"), PLACES)
def test_local_distance_against_the_geodesic(lon: float, lat: float) -> None:
    """A kilometre across the community is within 0.1 percent of the ellipsoid's."""
    line = LineString([(lon, lat), (lon + 0.01, lat + 0.005)])
    frame = gpd.GeoDataFrame(geometry=[line], crs=4326)
    projected = frame.to_crs(local_epsg(frame)).length.iloc[0]
    assert projected == pytest.approx(GEOD.geometry_length(line), rel=0.001)


@pytest.mark.parametrize(
    ("lon", "epsg"), [(-122.27, 32610), (-87.9, 32616), (-180.0, 32601), (179.9, 32660), (3.1, 32631)]
)
def test_local_projection_is_the_zone_around_the_place(lon: float, epsg: int) -> None:
    """Zones are six degrees wide and begin at 180 degrees west (USGS Professional Paper 1395, section 8)."""
    frame = gpd.GeoDataFrame(geometry=[_lot(lon - 0.001 if lon > 179 else lon, 45.0)], crs=4326)
    assert epsg == local_epsg(frame)


def test_local_projection_south_of_the_equator() -> None:
    """The southern half of a zone has a number of its own."""
    assert local_epsg(gpd.GeoDataFrame(geometry=[_lot(151.2, -33.9)], crs=4326)) == 32756


@pytest.mark.parametrize(("lon", "lat"), PLACES)
def test_parcel_areas_and_inner_points_against_the_geodesic(tmp_path: Path, lon: float, lat: float) -> None:
    """What the parcel reader stores: area within 0.2 percent of the ellipsoid's, a point inside the lot."""
    lots = [_lot(lon, lat), _lot(lon + 0.002, lat)]
    path = tmp_path / "parcels.geojson"
    gpd.GeoDataFrame({"APN": ["1", "2"], "ADDRESS": ["5 OAK ST", "7 OAK ST"]}, geometry=lots, crs=4326).to_file(path)
    parcels = read_parcels(path).parcels
    for area, x, y, lot in zip(parcels["area_m2"], parcels["lon"], parcels["lat"], lots, strict=True):
        assert area == pytest.approx(abs(GEOD.geometry_area_perimeter(lot)[0]), rel=0.002)
        assert lot.contains(Point(x, y))
