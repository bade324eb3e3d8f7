"""A file of street lines as a street department hands it over, faults included."""

from __future__ import annotations

from pathlib import Path

import geopandas as gpd
import pytest
import shapely
from shapely.geometry import LineString, Point

from geo.parcels import UnusableParcelFile, street_lines

LINES = [LineString([(500_000, 4_500_000), (500_100, 4_500_000)]), LineString([(500_000, 0), (500_000, 90)])]


def written(path: Path, **columns: list[object]) -> Path:
    """A street file in meters, with these columns."""
    gpd.GeoDataFrame(columns, geometry=LINES, crs=32616).to_file(path)
    return path


def test_lines_come_with_name_and_kind_in_degrees(tmp_path: Path) -> None:
    """Columns are found whatever their capitals; an empty cell is no name, not the word nan."""
    found = street_lines(written(tmp_path / "s.gpkg", NAME=["Elm St", None], Class=["local", "collector"]))

    assert [(n, k) for n, k, _ in found] == [("Elm St", "local"), ("", "collector")]
    (lon, lat), _ = shapely.from_wkb(found[0][2]).coords
    assert lon == pytest.approx(-87.0, abs=1e-6)
    assert 40 < lat < 41


def test_lines_without_columns_have_no_names(tmp_path: Path) -> None:
    """A file of bare lines is good for walking all the same."""
    assert [(n, k) for n, k, _ in street_lines(written(tmp_path / "s.geojson"))] == [("", ""), ("", "")]


def test_points_among_the_lines_are_left_out_and_points_alone_refused(tmp_path: Path) -> None:
    """Only lines are streets; a file without any is the wrong file, and the sentence says so."""
    mixed, alone = tmp_path / "m.geojson", tmp_path / "p.geojson"
    gpd.GeoDataFrame(geometry=[LineString([(0, 0), (1, 1)]), Point(0, 0)], crs=4326).to_file(mixed)
    gpd.GeoDataFrame(geometry=[Point(0, 0)], crs=4326).to_file(alone)

    assert len(street_lines(mixed)) == 1
    with pytest.raises(UnusableParcelFile, match="holds no street lines"):
        street_lines(alone)


def test_a_file_that_does_not_say_where_it_lies_is_refused(tmp_path: Path) -> None:
    """Without a coordinate system the lines could lie anywhere."""
    path = tmp_path / "s.shp"
    gpd.GeoDataFrame(geometry=LINES).to_file(path)

    with pytest.raises(UnusableParcelFile, match="coordinate system"):
        street_lines(path)


@pytest.mark.parametrize("content", [b"", b"\x00\x01", b"{}", b'{"type": "FeatureCollection", "features": ['])
def test_a_file_that_is_no_map_is_refused_in_a_sentence(tmp_path: Path, content: bytes) -> None:
    """What cannot be read is said with what to send instead."""
    path = tmp_path / "s.geojson"
    path.write_bytes(content)

    with pytest.raises(UnusableParcelFile, match="zipped shapefile"):
        street_lines(path)
