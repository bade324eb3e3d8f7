"""Map files that are no maps: what GDAL would fetch or run for them is never fetched or run."""

from __future__ import annotations

import json
import zipfile
from pathlib import Path

import geopandas as gpd
import pytest
import shapely

from geo.parcels import UnusableParcelFile, read_parcels

_FIELDS = '<GeometryField encoding="PointFromColumns" x="lon" y="lat"/>'


@pytest.fixture
def secret(tmp_path: Path) -> Path:
    """A table on this machine that no uploaded file may make the reader open."""
    path = tmp_path / "elsewhere" / "secret.csv"
    path.parent.mkdir()
    path.write_text("APN,SITUS_ADDRESS,lon,lat\nP1,12 SECRET ST,-100.0,40.0\nP2,14 SECRET ST,-100.001,40.0\n")
    return path


def virtual(source: Path | str) -> str:
    """A virtual data source that points at another one."""
    return (
        f'<OGRVRTDataSource><OGRVRTLayer name="secret"><SrcDataSource>{source}</SrcDataSource>'
        f"<GeometryType>wkbPoint</GeometryType><LayerSRS>EPSG:4326</LayerSRS>{_FIELDS}</OGRVRTLayer></OGRVRTDataSource>"
    )


def test_gdal_itself_would_follow_the_file(tmp_path: Path, secret: Path) -> None:
    """The danger is real: what the file points at is read, whatever the file's name says."""
    path = tmp_path / "parcels.geojson"
    path.write_text(virtual(secret))

    assert "12 SECRET ST" in set(gpd.read_file(path)["SITUS_ADDRESS"])


@pytest.mark.parametrize("name", ["parcels.geojson", "parcels.json", "parcels.gpkg", "parcels.zip", "parcels.shp"])
@pytest.mark.parametrize("before", ["", " \n", "\ufeff", '<?xml version="1.0"?>\n'])
def test_a_file_that_points_elsewhere_is_refused_whatever_its_name(
    tmp_path: Path, secret: Path, name: str, before: str
) -> None:
    """To a file of this machine or into the network: refused in a sentence, unopened."""
    for source in (secret, "/vsicurl/http://192.0.2.9/x.csv"):
        path = tmp_path / name
        path.write_text(before + virtual(source), encoding="utf-8")
        with pytest.raises(UnusableParcelFile, match="GeoPackage or CSV"):
            read_parcels(path)


def test_a_pipeline_dressed_as_json_is_refused(tmp_path: Path) -> None:
    """A stream of commands is none of the kinds, by its content and by its name; nor is one beside true features."""
    command = {"type": "gdal_streamed_alg", "command_line": "gdal vector pipeline ! read /etc/passwd"}
    for name, content in (
        ("a.json", command),
        ("a.geojson", {**command, "features": [], "note": '"FeatureCollection"'}),
        ("a.gdalg.json", {"type": "FeatureCollection", "features": []}),
    ):
        (tmp_path / name).write_text(json.dumps(content))
        with pytest.raises(UnusableParcelFile, match="GeoPackage or CSV"):
            read_parcels(tmp_path / name)


def test_zips_that_hide_or_burst_are_refused(tmp_path: Path, secret: Path) -> None:
    """A virtual source in a zip, alone or beside a map; a zip a thousand times larger inside; a damaged one."""
    map_ = '{"type": "FeatureCollection", "features": []}'
    zips = {
        "alone.zip": {"a.vrt": virtual(secret)},
        "named.zip": {"a.geojson": virtual(secret)},
        "beside.zip": {"a.geojson": map_, "b.vrt": virtual(secret)},
        "bomb.zip": {"a.geojson": map_ + " " * 300_000_000},
        "none.zip": {"readme.txt": "nothing"},
    }
    for name, members in zips.items():
        with zipfile.ZipFile(tmp_path / name, "w", zipfile.ZIP_DEFLATED) as packed:
            for member, text in members.items():
                packed.writestr(member, text)
        with pytest.raises(UnusableParcelFile, match="GeoPackage or CSV"):
            read_parcels(tmp_path / name)
    (tmp_path / "cut.zip").write_bytes((tmp_path / "beside.zip").read_bytes()[:60])
    with pytest.raises(UnusableParcelFile, match="damaged"):
        read_parcels(tmp_path / "cut.zip")


def test_true_maps_of_every_kind_are_still_read(tmp_path: Path) -> None:
    """GeoJSON, GeoPackage, FlatGeobuf, a shapefile and the same zipped with its description in XML."""
    boxes = [shapely.box(-100 + i / 1000, 40, -99.9995 + i / 1000, 40.0005) for i in range(3)]
    frame = gpd.GeoDataFrame(
        {"APN": ["P1", "P2", "P3"], "SITUS": ["12 FERN ST", "14 FERN ST", "16 FERN ST"]}, geometry=boxes, crs=4326
    )
    for name, driver in (("a.geojson", "GeoJSON"), ("a.gpkg", "GPKG"), ("a.fgb", "FlatGeobuf"), ("a.shp", None)):
        frame.to_file(tmp_path / name, **({"driver": driver} if driver else {}))
        assert len(read_parcels(tmp_path / name).parcels) == 3, name
    with zipfile.ZipFile(tmp_path / "a.zip", "w") as packed:
        for part in tmp_path.glob("a.[sdp][hbr]*"):
            packed.write(part, part.name)
        packed.writestr("a.shp.xml", '<?xml version="1.0"?><metadata><title>Parcels</title></metadata>')
    assert len(read_parcels(tmp_path / "a.zip").parcels) == 3
