"""GeoJSON output against RFC 7946 (H. Butler and others, The GeoJSON Format, IETF, August 2016)."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import geopandas as gpd
import numpy as np
import pandas as pd
import pytest
from shapely.geometry import MultiPolygon, Polygon, shape
from shapely.geometry.polygon import LinearRing

from geo.parcels import write_geojson

X, Y = 555_000, 5_190_000
HOLED = Polygon(
    [(X, Y, 9), (X, Y + 40, 9), (X + 40, Y + 40, 9), (X + 40, Y, 9)],
    [[(X + 10, Y + 10, 9), (X + 20, Y + 10, 9), (X + 20, Y + 20, 9), (X + 10, Y + 20, 9)]],
)
FLAT = Polygon([(X + 50, Y), (X + 50, Y + 9), (X + 59, Y + 9), (X + 59, Y)])


@pytest.fixture
def document(tmp_path: Path) -> dict[str, Any]:
    """A clockwise lot with a hole and heights, in metres, and a multipolygon, as written."""
    lots = gpd.GeoSeries([HOLED, MultiPolygon([HOLED, FLAT]), None], crs=32610)
    frame = gpd.GeoDataFrame(
        {
            "parcel_id": ["0012", "é\u2028", None],
            "built_year": pd.array([1999, pd.NA, 2001], dtype="Int64"),
            "area_m2": [1.5, np.nan, np.inf],
            "units": [("A", "B"), (), ()],
        },
        geometry=lots,
        crs=32610,
    )
    path = tmp_path / "out.geojson"
    write_geojson(frame, path)
    read: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"), parse_constant=_refuse)
    return read


def _refuse(name: str) -> None:
    raise AssertionError(f"{name} is not JSON (RFC 8259, section 6)")


def _polygons(document: dict[str, Any]) -> list[list[list[list[float]]]]:
    found: list[list[list[list[float]]]] = []
    for feature in document["features"]:
        geometry = feature["geometry"]
        if geometry:
            found += [geometry["coordinates"]] if geometry["type"] == "Polygon" else geometry["coordinates"]
    return found


def test_document_is_a_feature_collection_section_3_3(document: dict[str, Any]) -> None:
    """A FeatureCollection of Features, each with properties and geometry (null where there is none: section 3.2)."""
    assert document["type"] == "FeatureCollection"
    assert all({"type", "properties", "geometry"} == set(f) for f in document["features"])
    assert document["features"][2]["geometry"] is None


def test_no_crs_member_section_4(document: dict[str, Any]) -> None:
    """The coordinate system is WGS 84 and goes without saying; the old crs member is gone."""
    assert "crs" not in document
    assert all(-180 <= x <= 180 and -90 <= y <= 90 for p in _polygons(document) for ring in p for x, y in ring)


def test_rings_follow_the_right_hand_rule_section_3_1_6(document: dict[str, Any]) -> None:
    """Outer rings run counterclockwise, holes clockwise."""
    for outer, *holes in _polygons(document):
        assert LinearRing(outer).is_ccw
        assert not any(LinearRing(hole).is_ccw for hole in holes)


def test_rings_are_closed_and_have_four_positions_section_3_1_6(document: dict[str, Any]) -> None:
    """The first and the last position of a ring are the same, and there are at least four."""
    assert all(ring[0] == ring[-1] and len(ring) >= 4 for polygon in _polygons(document) for ring in polygon)


def test_positions_are_plane_and_short_sections_3_1_1_and_11_2(document: dict[str, Any]) -> None:
    """Two numbers to a position, no heights; at most seven decimals, about a centimetre."""
    positions = [p for polygon in _polygons(document) for ring in polygon for p in ring]
    assert all(len(p) == 2 for p in positions)
    assert all(round(v, 7) == v for p in positions for v in p)


def test_bounding_box_is_west_south_east_north_section_5(document: dict[str, Any]) -> None:
    """The bbox holds all that is drawn, in the order of the axes."""
    west, south, east, north = document["bbox"]
    points = [p for polygon in _polygons(document) for ring in polygon for p in ring]
    assert (west, south) == pytest.approx((min(p[0] for p in points), min(p[1] for p in points)), abs=1e-6)
    assert (east, north) == pytest.approx((max(p[0] for p in points), max(p[1] for p in points)), abs=1e-6)


def test_values_are_json_and_missing_ones_null(document: dict[str, Any]) -> None:
    """Leading zeros, accents and line separators survive; NaN, infinity and NA become null."""
    first, second, third = (f["properties"] for f in document["features"])
    assert first["parcel_id"] == "0012"
    assert first["units"] == ["A", "B"]
    assert second == {"parcel_id": "é\u2028", "built_year": None, "area_m2": None, "units": []}
    assert third["area_m2"] is None


def test_what_was_written_reads_back_in_place(document: dict[str, Any]) -> None:
    """Back in metres the lot has its area again, the hole taken off."""
    lot = gpd.GeoSeries([shape(document["features"][0]["geometry"])], crs=4326).to_crs(32610)
    assert lot.area.iloc[0] == pytest.approx(HOLED.area, rel=1e-3)


def test_a_frame_without_a_coordinate_system_is_refused(tmp_path: Path) -> None:
    """Nobody can know what its numbers mean, so nothing is written."""
    with pytest.raises(ValueError, match="no coordinate system"):
        write_geojson(gpd.GeoDataFrame(geometry=[HOLED]), tmp_path / "x.geojson")
