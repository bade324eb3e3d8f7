"""A real county's parcel file: read, mended, and joined to messy answers. Skipped where the file is absent."""

from __future__ import annotations

import importlib.util
import sys
from collections import Counter
from pathlib import Path
from types import ModuleType

import pytest

from geo.addresses import AddressBook, MatchStatus, parse
from geo.parcels import ParcelFile, read_parcels

ROOT = Path(__file__).resolve().parents[2]
COUNTY = ROOT.parent / "shared" / "data" / "county_parcels" / "parcels.geojson"
SINGLE_FAMILY = "11"

pytestmark = pytest.mark.skipif(
    not COUNTY.exists(), reason="the real county's parcels are not beside the project (../shared/data/county_parcels)"
)


@pytest.fixture(scope="module")
def county() -> ParcelFile:
    """The county's file as the tool reads it, with nothing told."""
    return read_parcels(COUNTY)


@pytest.fixture(scope="module")
def benchmark() -> ModuleType:
    """The address benchmark, whose ways of typing are used here."""
    path = ROOT / "tests" / "benchmarks" / "address_join.py"
    spec = importlib.util.spec_from_file_location("address_join_benchmark", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def test_real_file_undeclared_feet_are_found_out(county: ParcelFile) -> None:
    """GeoJSON that declares nothing and holds State Plane feet is settled by its own latitude and longitude."""
    assert "Washington South (ftUS)" in county.source_crs
    assert county.local_epsg == 32610
    assert len(county.assumed) == 1
    parcels = county.parcels
    assert parcels["lon"].between(-122.30, -122.24).all()
    assert parcels["lat"].between(46.84, 46.89).all()


def test_real_file_every_record_is_kept_or_refused_by_row(county: ParcelFile) -> None:
    """1,302 records come in; each is a parcel, was put together with another, or is named as refused."""
    merged = sum(n.kind == "merged" for n in county.repaired)
    joined_units = sum(len(units) for units in county.parcels["units"]) if county.parcels["units"].map(len).any() else 0
    assert len(county.parcels) + merged + len(county.refused) <= 1_302
    assert len(county.parcels) + merged + len(county.refused) + joined_units >= 1_302
    assert county.parcels["parcel_id"].is_unique
    assert county.parcels.geometry.is_valid.all()
    assert not county.parcels.geometry.has_z.any()


def test_real_file_repairs_are_those_counted_by_hand(county: ParcelFile) -> None:
    """The letter typed for a figure, the addresses without a number and the slivers are all told, and nothing else."""
    counts = Counter(n.kind for n in county.repaired)
    assert counts["letter for a figure"] == 1
    assert counts["no house number"] == int((~county.parcels["has_number"]).sum())
    assert counts["slivers removed"] + counts["only a sliver"] >= 10
    assert set(counts) <= {
        "letter for a figure",
        "no house number",
        "slivers removed",
        "only a sliver",
        "several homes",
        "shared outline",
        "number stands twice",
        "merged",
        "outline rebuilt",
    }


def test_real_file_single_family_homes_nearly_all_have_a_number(county: ParcelFile) -> None:
    """829 of the records are single-family dwellings; all but a few can be joined."""
    homes = county.parcels[county.parcels["land_use"] == SINGLE_FAMILY]
    assert len(homes) == 829
    assert int(homes["has_number"].sum()) >= 820


def test_real_addresses_own_spelling_is_certain_or_an_honest_tie(county: ParcelFile) -> None:
    """The county's own addresses find their parcels; those that several parcels share are asked about."""
    numbered = county.parcels[county.parcels["has_number"]]
    book = AddressBook(list(zip(numbered["parcel_id"], numbered["address"], strict=True)))
    keys = Counter(parse(address).key() for address in numbered["address"])
    shared = 0
    for parcel_id, address in zip(numbered["parcel_id"], numbered["address"], strict=True):
        match = book.match(address)
        if keys[parse(address).key()] == 1:
            assert (match.status, match.place_id) == (MatchStatus.CERTAIN, parcel_id)
        else:
            shared += 1
            assert match.status is MatchStatus.DOUBTFUL
            assert parcel_id in {c.place_id for c in match.candidates}
    assert shared == 82  # counted: 82 records share their address with another one, shops and open lots mostly


def test_real_homes_typed_messily_are_joined_or_offered(benchmark: ModuleType) -> None:
    """Of 826 messy answers no visible mistake is made, and hardly one is lost (the benchmark prints the table).

    A wrong number that is another house's own cannot be told from a right one, so those rows are set apart.
    """
    result = benchmark.run_county(seed=1)
    assert result.wrong == result.wrong_number_on_file
    assert (result.right + result.in_review) / result.with_parcel >= 0.97
    assert result.right / result.with_parcel >= 0.80
