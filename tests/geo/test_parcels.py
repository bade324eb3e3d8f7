"""Parcel files with the traps that counties' files really have: mended, refused or assumed, and always said."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import geopandas as gpd
import pandas as pd
import pyproj
import pytest
import shapely
from shapely.geometry import GeometryCollection, LineString, MultiPolygon, Point, Polygon, box

from geo.parcels import Notice, ParcelFile, UnusableParcelFile, read_parcels

UTM = 32616
EAST, NORTH = 430_000.0, 4_762_000.0
"""An invented spot in UTM zone 16 (metres)."""
WISCONSIN_SOUTH_FEET = 2289
"""NAD83 / Wisconsin South (ftUS): a State Plane grid in US survey feet."""


def lot(column: int, row: int = 0, width: float = 20.0, depth: float = 30.0) -> Polygon:
    """A rectangular lot on a grid of 25 by 40 m."""
    x, y = EAST + 25 * column, NORTH + 40 * row
    return box(x, y, x + width, y + depth)


def county(shapes: list[Any], **columns: list[Any]) -> gpd.GeoDataFrame:
    """A county's layer in metres; numbers and addresses are made up where not given."""
    table: dict[str, list[Any]] = {
        "PARCEL_NO": [f"00{i + 1}" for i in range(len(shapes))],
        "SITUS_ADDR": [f"{100 + 2 * i} OAK ST" for i in range(len(shapes))],
    }
    return gpd.GeoDataFrame(table | columns, geometry=shapes, crs=UTM)


def read(frame: gpd.GeoDataFrame, folder: Path, **options: Any) -> ParcelFile:
    """Write a layer as a GeoPackage and read it as a volunteer would."""
    path = folder / "parcels.gpkg"
    frame.to_file(path, driver="GPKG")
    return read_parcels(path, **options)


def raw_geojson(frame: gpd.GeoDataFrame, folder: Path) -> Path:
    """The layer as GeoJSON whose numbers are its own coordinates and that declares nothing."""
    path = folder / "parcels.geojson"
    path.write_text(frame.set_crs(None, allow_override=True).to_json(), encoding="utf-8")
    return path


def in_feet(frame: gpd.GeoDataFrame, *, with_degrees: bool) -> gpd.GeoDataFrame:
    """The layer in State Plane feet, with the county's own latitude and longitude columns or without."""
    feet = frame.to_crs(WISCONSIN_SOUTH_FEET)
    if with_degrees:
        middles = frame.geometry.representative_point().to_crs(4326)
        feet["Latitude"], feet["Longitude"] = middles.y, middles.x
    return feet


def kinds(notices: tuple[Notice, ...]) -> list[str]:
    """What was said, in a word each."""
    return [notice.kind for notice in notices]


def metres_apart(parcels: gpd.GeoDataFrame, shapes: list[Any]) -> float:
    """The largest distance between a parcel's inner point and the lot it came from."""
    points = gpd.GeoSeries(gpd.points_from_xy(parcels["lon"], parcels["lat"]), crs=4326).to_crs(UTM)
    return float(points.distance(gpd.GeoSeries(shapes, crs=UTM)).max())


# ---- formats ---------------------------------------------------------------------------------


def test_read_a_clean_geopackage_keeps_everything(tmp_path: Path) -> None:
    """Nothing to mend: numbers with their zeros, addresses, years, phases and areas come through."""
    shapes = [lot(i) for i in range(4)]
    frame = county(shapes, YR_BUILT=[1998, 0, 2004, None], PHASE=["I", "I", None, "II"], LANDUSE_CD=[11, 11, 91, 12])
    file = read(frame, tmp_path)
    assert (file.repaired, file.refused, file.assumed) == ((), (), ())
    parcels = file.parcels
    assert parcels.crs == 4326
    assert parcels["parcel_id"].tolist() == ["001", "002", "003", "004"]
    assert parcels["address"].tolist() == ["100 OAK ST", "102 OAK ST", "104 OAK ST", "106 OAK ST"]
    assert parcels["built_year"].fillna(-1).tolist() == [1998, -1, 2004, -1]
    assert parcels["phase"].tolist()[:2] == ["I", "I"]
    assert parcels["phase"].isna().tolist() == [False, False, True, False]
    assert parcels["land_use"].tolist() == ["11", "11", "91", "12"]
    assert parcels["area_m2"].tolist() == pytest.approx([600.0] * 4, rel=1e-6)
    assert file.local_epsg == UTM
    assert metres_apart(parcels, shapes) == 0.0


def test_read_a_zipped_shapefile(tmp_path: Path) -> None:
    """The usual download: one zip with a shapefile's four files, column names of ten letters at most."""
    inside = tmp_path / "inside"
    inside.mkdir()
    county([lot(0), lot(1)]).to_file(inside / "parcels.shp")
    archive = shutil.make_archive(str(tmp_path / "parcels"), "zip", inside)
    file = read_parcels(archive)
    assert file.columns_used["address"] == "SITUS_ADDR"
    assert file.parcels["address"].tolist() == ["100 OAK ST", "102 OAK ST"]
    assert file.parcels["area_m2"].tolist() == pytest.approx([600.0, 600.0], rel=1e-6)


def test_read_a_csv_with_coordinates_draws_marks_and_says_so(tmp_path: Path) -> None:
    """A table with longitude and latitude gives points; the squares drawn for them are not called lots."""
    path = tmp_path / "homes.csv"
    path.write_text(
        "apn,address,longitude,latitude\n007,5 Oak St,-87.85,43.01\n008,7 Oak St,-87.851,43.01\n009,9 Oak St,,\n",
        encoding="utf-8",
    )
    file = read_parcels(path)
    assert file.parcels["parcel_id"].tolist() == ["007", "008"]
    assert file.parcels["lon"].tolist() == pytest.approx([-87.85, -87.851], abs=1e-6)
    assert any("points, not outlines" in sentence for sentence in file.assumed)
    assert [(n.row, n.parcel_id) for n in file.refused] == [(3, "009")]


def test_read_a_csv_with_outlines_as_text(tmp_path: Path) -> None:
    """WKT in a column is a layer as good as any, if its coordinates are degrees or --crs says what they are."""
    path = tmp_path / "homes.csv"
    pd.DataFrame({"pin": ["1"], "address": ["5 Oak St"], "the_geom": [lot(0).wkt]}).to_csv(path, index=False)
    file = read_parcels(path, crs=UTM)
    assert file.parcels["area_m2"].tolist() == pytest.approx([600.0], rel=1e-6)


def test_read_a_csv_without_coordinates_says_what_it_needs(tmp_path: Path) -> None:
    """A bare table is refused with the two remedies and the columns it has."""
    path = tmp_path / "homes.csv"
    path.write_text("apn,address\n1,5 Oak St\n", encoding="utf-8")
    with pytest.raises(UnusableParcelFile, match=r"without shapes.*longitude and latitude.*apn, address"):
        read_parcels(path)


@pytest.mark.parametrize("name", ["missing.geojson", "letter.docx", "broken.geojson", "empty.geojson", "broken.zip"])
def test_read_what_is_no_map_file_is_a_sentence(tmp_path: Path, name: str) -> None:
    """A wrong, broken or empty file is named and comes with something to do; no traceback of a library."""
    path = tmp_path / name
    if name.startswith("empty"):
        path.write_text('{"type": "FeatureCollection", "features": []}', encoding="utf-8")
    elif not name.startswith("missing"):
        path.write_bytes(b'{"type": "FeatureCollection", "features": [')
    with pytest.raises(UnusableParcelFile) as refusal:
        read_parcels(path)
    assert name in str(refusal.value)
    assert str(refusal.value).endswith(".")


# ---- columns ---------------------------------------------------------------------------------


def test_columns_no_address_lists_the_files_own_and_the_option(tmp_path: Path) -> None:
    """The volunteer sees the column names and how to choose one."""
    frame = county([lot(0)]).rename(columns={"SITUS_ADDR": "WHERE_IT_IS"})
    with pytest.raises(UnusableParcelFile, match=r"--address COLUMN.*WHERE_IT_IS"):
        read(frame, tmp_path)
    assert read(frame, tmp_path, address_column="where_it_is").parcels["address"].tolist() == ["100 OAK ST"]


def test_columns_named_ones_that_are_not_there_are_told_all_at_once(tmp_path: Path) -> None:
    """Two wrong names are one message, not two runs."""
    with pytest.raises(UnusableParcelFile, match=r"'nope'.*'neither'"):
        read(county([lot(0)]), tmp_path, id_column="nope", built_column="neither")


def test_columns_no_parcel_number_uses_the_place_in_the_file(tmp_path: Path) -> None:
    """Without numbers R1, R2 stand in, and the report says so."""
    file = read(county([lot(0), lot(1)]).drop(columns="PARCEL_NO"), tmp_path)
    assert file.parcels["parcel_id"].tolist() == ["R1", "R2"]
    assert any("No column holds a parcel number" in sentence for sentence in file.assumed)


def test_columns_an_address_column_without_any_number_is_pointed_out(tmp_path: Path) -> None:
    """A guessed column that holds street names only would join nothing: the report says which to name."""
    file = read(county([lot(0), lot(1)], SITUS_ADDR=["OAK ST", "ELM ST"]), tmp_path)
    assert any("--address" in sentence for sentence in file.assumed)


# ---- coordinate systems ----------------------------------------------------------------------


def test_crs_missing_but_settled_by_the_files_own_degrees(tmp_path: Path) -> None:
    """Feet without a declared system, latitude and longitude in columns: the right State Plane grid is found."""
    shapes = [lot(i) for i in range(6)]
    file = read_parcels(raw_geojson(in_feet(county(shapes), with_degrees=True), tmp_path))
    assert "Wisconsin South (ftUS)" in file.source_crs
    assert (
        pyproj.CRS.from_user_input(file.source_crs.split("(")[-1].rstrip(")")).axis_info[0].unit_name
        == "US survey foot"
    )
    assert metres_apart(file.parcels, shapes) < 2.0
    assert file.parcels["area_m2"].tolist() == pytest.approx([600.0] * 6, rel=1e-3)
    assert len(file.assumed) == 1
    assert "own columns" in file.assumed[0]


def test_crs_missing_and_nothing_settles_it_is_refused_with_the_remedy(tmp_path: Path) -> None:
    """Numbers that cannot be degrees and no columns to check by: a sentence with State Plane, EPSG and --crs."""
    path = raw_geojson(in_feet(county([lot(0), lot(1)]), with_degrees=False), tmp_path)
    with pytest.raises(UnusableParcelFile, match=r"State Plane feet.*--crs EPSG:NUMBER\.$"):
        read_parcels(path)


def test_crs_told_by_the_person_overrules_a_file_without_one(tmp_path: Path) -> None:
    """The same file loads with --crs, in the right place."""
    shapes = [lot(0), lot(1)]
    path = raw_geojson(in_feet(county(shapes), with_degrees=False), tmp_path)
    file = read_parcels(path, crs=f"EPSG:{WISCONSIN_SOUTH_FEET}")
    assert metres_apart(file.parcels, shapes) == pytest.approx(0.0, abs=0.01)


@pytest.mark.parametrize("wrong", ["EPSG:999999", "state plane", 4326, 2154])
def test_crs_told_wrongly_is_refused(tmp_path: Path, wrong: str | int) -> None:
    """An unknown number, words, degrees for feet, another country's grid: none is taken on trust."""
    path = raw_geojson(in_feet(county([lot(0)]), with_degrees=False), tmp_path)
    with pytest.raises(UnusableParcelFile, match="--crs"):
        read_parcels(path, crs=wrong)


def test_crs_wrongly_declared_is_overruled_by_the_files_own_degrees(tmp_path: Path) -> None:
    """A layer in feet that declares a metre grid would land elsewhere; its own columns settle it."""
    shapes = [lot(i) for i in range(6)]
    wrong = in_feet(county(shapes), with_degrees=True).set_crs(32614, allow_override=True)
    file = read(wrong, tmp_path)
    assert "ftUS" in file.source_crs
    assert metres_apart(file.parcels, shapes) < 2.0
    assert "declared" in file.assumed[0]


def test_crs_declared_feet_are_measured_in_metres(tmp_path: Path) -> None:
    """Feet that say they are feet need no word, and areas are square metres."""
    file = read(in_feet(county([lot(0)]), with_degrees=False), tmp_path)
    assert file.assumed == ()
    assert file.parcels["area_m2"].tolist() == pytest.approx([600.0], rel=1e-3)


def test_crs_degrees_with_latitude_first_are_turned_and_told(tmp_path: Path) -> None:
    """West of 90 degrees west a latitude-first file shows itself, and is read the right way round."""
    straight = gpd.GeoDataFrame(
        {"PIN": ["1"], "ADDRESS": ["5 OAK ST"]}, geometry=[box(-122.2700, 46.8600, -122.2697, 46.8603)], crs=4326
    )
    turned = straight.set_geometry([shapely.transform(g, lambda xy: xy[:, ::-1]) for g in straight.geometry], crs=4326)
    file = read_parcels(raw_geojson(turned, tmp_path))
    assert file.parcels["lon"].iloc[0] == pytest.approx(-122.26985, abs=1e-5)
    assert any("exchanged" in sentence for sentence in file.assumed)


# ---- outlines --------------------------------------------------------------------------------


def test_outline_with_heights_loses_them_and_says_so(tmp_path: Path) -> None:
    """Z values are dropped once for the file."""
    file = read(county([shapely.force_3d(lot(0), 250.0), shapely.force_3d(lot(1), 251.0)]), tmp_path)
    assert not file.parcels.geometry.has_z.any()
    assert sum("heights" in sentence.lower() for sentence in file.assumed) == 1


def test_outline_slivers_beside_a_lot_are_removed(tmp_path: Path) -> None:
    """Strips centimetres wide go, the lot stays a plain polygon; a real second part stays."""
    strip = box(EAST - 5, NORTH, EAST - 4.9, NORTH + 30)
    garden = box(EAST + 500, NORTH, EAST + 510, NORTH + 10)
    file = read(county([MultiPolygon([lot(0), strip]), MultiPolygon([lot(2), garden])]), tmp_path)
    assert kinds(file.repaired) == ["slivers removed"]
    assert file.parcels.geometry.geom_type.tolist() == ["Polygon", "MultiPolygon"]
    assert file.parcels["area_m2"].tolist() == pytest.approx([600.0, 700.0], rel=1e-6)


def test_outline_that_is_only_a_sliver_is_kept_and_told(tmp_path: Path) -> None:
    """A lot cut off by the county's frame is somebody's home all the same."""
    file = read(county([box(EAST, NORTH, EAST + 0.1, NORTH + 20), lot(3)]), tmp_path)
    assert kinds(file.repaired) == ["only a sliver"]
    assert len(file.parcels) == 2


def test_outline_that_crosses_itself_is_rebuilt(tmp_path: Path) -> None:
    """A bow tie becomes two triangles with their area, and the row is named."""
    tie = Polygon([(EAST, NORTH), (EAST + 20, NORTH + 20), (EAST + 20, NORTH), (EAST, NORTH + 20)])
    file = read(county([lot(4), tie]), tmp_path)
    assert kinds(file.repaired) == ["outline rebuilt"]
    assert (file.repaired[0].row, file.repaired[0].parcel_id) == (2, "002")
    assert file.parcels.geometry.is_valid.all()
    assert file.parcels["area_m2"].iloc[1] == pytest.approx(200.0, rel=1e-6)


def test_outline_missing_empty_or_no_area_is_refused_by_row(tmp_path: Path) -> None:
    """Four records without an outline are left out, each with its row, and the fifth is kept."""
    flat = Polygon([(EAST, NORTH), (EAST + 9, NORTH), (EAST + 18, NORTH), (EAST, NORTH)])
    shapes = [None, Polygon(), LineString([(EAST, NORTH), (EAST + 9, NORTH)]), flat, lot(0)]
    file = read(county(shapes), tmp_path)
    assert [n.row for n in file.refused] == [1, 2, 3, 4]
    assert all(n.what.endswith(".") and n.remedy.endswith(".") for n in file.refused)
    assert file.parcels["parcel_id"].tolist() == ["005"]


def test_outline_in_a_collection_keeps_its_polygons(tmp_path: Path) -> None:
    """A polygon stored with a stray line is the polygon."""
    stray = GeometryCollection([lot(0), LineString([(EAST, NORTH), (EAST + 90, NORTH)])])
    file = read(county([stray, lot(1)]), tmp_path)
    assert file.parcels["area_m2"].tolist() == pytest.approx([600.0, 600.0], rel=1e-6)


def test_outline_points_with_a_system_become_marks(tmp_path: Path) -> None:
    """An address-point layer is drawn as squares around the points."""
    file = read(county([Point(EAST, NORTH), Point(EAST + 30, NORTH)]), tmp_path)
    assert set(file.parcels.geometry.geom_type) == {"Polygon"}
    assert any("points, not outlines" in sentence for sentence in file.assumed)


def test_outline_none_usable_is_refused(tmp_path: Path) -> None:
    """A layer of lines has no parcel, and the first reason is given."""
    with pytest.raises(UnusableParcelFile, match=r"usable outline.*linestring"):
        read(county([LineString([(EAST, NORTH), (EAST + 9, NORTH)])]), tmp_path)


# ---- numbers, addresses, homes ---------------------------------------------------------------


def test_number_twice_for_different_lots_gets_a_new_name(tmp_path: Path) -> None:
    """No parcel is lost and no number stands for two."""
    file = read(county([lot(0), lot(1), lot(2)], PARCEL_NO=["7", "7", "7-2"]), tmp_path)
    numbers = file.parcels["parcel_id"].tolist()
    assert len(set(numbers)) == 3
    assert numbers[0] == "7"
    assert "7-2" in numbers
    assert kinds(file.repaired) == ["number stands twice"]


def test_number_twice_with_one_address_is_one_parcel(tmp_path: Path) -> None:
    """Two outlines of one address are its parts; the same record twice is one."""
    frame = county(
        [lot(0), lot(1), lot(2), lot(2)], PARCEL_NO=["7", "7", "8", "8"], SITUS_ADDR=["5 OAK ST"] * 2 + ["9 OAK ST"] * 2
    )
    file = read(frame, tmp_path)
    assert file.parcels["parcel_id"].tolist() == ["7", "8"]
    assert file.parcels["area_m2"].tolist() == pytest.approx([1200.0, 600.0], rel=1e-6)
    assert kinds(file.repaired) == ["merged", "merged"]


@pytest.mark.parametrize(
    ("column", "address", "expected"),
    [
        ("A;B", "412 TALLOW CT", ("A", "B")),
        ("3", "412 TALLOW CT", ("1", "2", "3")),
        ("1", "412 TALLOW CT", ()),
        ("", "412 TALLOW CT", ()),
        ("", "412 TALLOW CT UNIT A & B", ("A", "B")),
    ],
)
def test_units_several_homes_on_a_lot_are_told_apart(
    tmp_path: Path, column: str, address: str, expected: tuple[str, ...]
) -> None:
    """Names of units, their count, or an address that lists them: one lot, several homes."""
    file = read(county([lot(0), lot(1)], SITUS_ADDR=[address, "9 OAK ST"], UNITS=[column, ""]), tmp_path)
    assert file.parcels["units"].iloc[0] == expected
    assert file.parcels["address"].iloc[0] == "412 TALLOW CT"
    assert kinds(file.repaired) == (["several homes"] if expected else [])


def test_units_one_record_each_on_one_outline_become_one_lot(tmp_path: Path) -> None:
    """A duplex given as two records with one outline is one lot with two homes."""
    frame = county([lot(0), lot(0), lot(1)], SITUS_ADDR=["412 TALLOW CT UNIT A", "412 TALLOW CT UNIT B", "9 OAK ST"])
    file = read(frame, tmp_path)
    assert file.parcels["address"].tolist() == ["412 TALLOW CT", "9 OAK ST"]
    assert file.parcels["units"].tolist() == [("A", "B"), ()]


@pytest.mark.parametrize("address", ["XXX OAK ST", "UNDETERMINED SITUS", "OAK ST", "", None, "TRACT B"])
def test_address_without_a_number_is_kept_but_joins_nothing(tmp_path: Path, address: str | None) -> None:
    """Roads, ponds and open lots are drawn; the report names them, and no answer can land there."""
    file = read(county([lot(0), lot(1)], SITUS_ADDR=[address, "9 OAK ST"]), tmp_path)
    assert file.parcels["has_number"].tolist() == [False, True]
    assert kinds(file.repaired) == ["no house number"]


def test_address_with_a_letter_for_a_figure_is_mended(tmp_path: Path) -> None:
    """A county's slip of the key is read as meant, and told."""
    file = read(county([lot(0)], SITUS_ADDR=["43 1O9TH AV E"]), tmp_path)
    assert file.parcels["address"].tolist() == ["43 109TH AV E"]
    assert kinds(file.repaired) == ["letter for a figure"]


def test_notices_are_sentences_in_the_files_order(tmp_path: Path) -> None:
    """The volunteer reads them from the top of the file, each with what and what to do."""
    strip = box(EAST - 5, NORTH, EAST - 4.9, NORTH + 30)
    frame = county([MultiPolygon([lot(0), strip]), lot(1), None], SITUS_ADDR=["XXX OAK ST", "XXX ELM ST", "9 OAK ST"])
    file = read(frame, tmp_path)
    assert [n.row for n in file.repaired] == sorted(n.row or 0 for n in file.repaired)
    assert len(file.repaired) == 3
    assert all(n.what.endswith(".") and n.remedy.endswith(".") and n.kind for n in (*file.repaired, *file.refused))


def test_progress_runs_from_nothing_to_one(tmp_path: Path) -> None:
    """A long file shows that it moves, in words."""
    told: list[tuple[float, str]] = []
    read(county([lot(0)]), tmp_path, progress=lambda share, words: told.append((share, words)))
    shares = [share for share, _ in told]
    assert shares == sorted(shares)
    assert (shares[0], shares[-1]) == (0.0, 1.0)
    assert all(words for _, words in told)
