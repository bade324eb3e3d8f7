"""A network from street lines or from parcels alone, and homes brought onto it."""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from pathlib import Path

import geopandas as gpd
import numpy as np
import pyproj
import pytest
import shapely
from shapely.geometry import LineString, box

from geo.addresses import parse
from geo.parcels import read_parcels
from geo.streets import UnusableStreets, infer_streets, read_streets, snap, street_key
from geo.travel import street_travel
from synthetic_community.community import build

EPSG = 32616
EAST, NORTH = 500_000.0, 4_500_000.0
BACK = pyproj.Transformer.from_crs(EPSG, 4326, always_xy=True)
COUNTY = Path(__file__).resolve().parents[2].parent / "shared" / "data" / "county_parcels" / "parcels.geojson"


def degrees(*points: tuple[float, float]) -> list[tuple[float, float]]:
    """Points in metres from a corner, as longitude and latitude."""
    return [BACK.transform(EAST + x, NORTH + y) for x, y in points]


def line(name: str, *points: tuple[float, float]) -> tuple[str, str, bytes]:
    """A street line as a street file gives it."""
    return name, "local", shapely.to_wkb(LineString(degrees(*points)))


def test_lines_that_cross_without_a_vertex_meet_and_the_sentence_warns_of_bridges() -> None:
    """Two streets that cross in their middle are four segments and one crossroads."""
    network = read_streets([line("A St", (0, 0), (100, 0)), line("B St", (50, -50), (50, 50))])
    assert len(network.start) == 4
    assert len(network.nodes) == 5
    assert network.parts == 1
    assert any("bridge" in s for s in network.sentences)
    assert network.lengths.tolist() == pytest.approx([50.0] * 4, abs=0.01)


def test_an_end_that_nearly_reaches_a_street_meets_it() -> None:
    """A street drawn 60 cm short of the other still meets it, and no bridge is spoken of."""
    network = read_streets([line("A St", (0, 0), (100, 0)), line("B St", (40, 0.6), (40, 80))])
    assert network.parts == 1
    assert len(network.start) == 3
    assert network.sentences == ()


def test_parts_that_meet_nothing_are_joined_by_a_straight_line_and_named() -> None:
    """Two streets 30 m apart become one network by one connector of 30 m, said aloud with the street's name."""
    network = read_streets([line("Long St", (0, 0), (200, 0)), line("Lost Court", (0, 30), (0, 90))])
    assert network.parts == 2
    assert int(network.connector.sum()) == 1
    assert network.lengths[network.connector][0] == pytest.approx(30.0, abs=0.05)
    assert any("LOST CT" in s and "30 m" in s for s in network.sentences)


def test_two_lines_between_the_same_crossroads_keep_the_shorter_for_travel() -> None:
    """A loop and a straight street between two nodes: travel takes the straight one."""
    loop = line("Loop", (0, 0), (0, 80), (100, 80), (100, 0))
    network = read_streets([loop, line("Straight St", (0, 0), (100, 0)), line("W St", (-50, 0), (0, 0))])
    spots = degrees((-40, 1), (100, 0))
    places = snap(network, [p[0] for p in spots], [p[1] for p in spots], ["W St", "Straight St"])
    assert street_travel(network, places).metres[0, 1] == 140


def test_a_home_stands_on_the_street_of_its_address_even_where_another_is_nearer() -> None:
    """A corner lot is snapped to the street of its address; without an address to the nearest."""
    network = read_streets([line("A St", (0, 0), (200, 0)), line("B Street", (100, -100), (100, 100))])
    spots = degrees((110, 30), (110, 30))
    found = snap(network, [p[0] for p in spots], [p[1] for p in spots], ["A STREET", ""])
    assert [network.names[k] for k in found.segment.tolist()] == ["A ST", "B ST"]
    assert found.own_street.tolist() == [True, False]
    assert found.aside_m.tolist() == pytest.approx([30.0, 10.0], abs=0.1)


def test_a_street_of_that_name_far_away_is_not_taken() -> None:
    """The street of the address more than 60 m off is another one of the same name: the nearest is taken, and said."""
    network = read_streets([line("A St", (0, 0), (200, 0)), line("B St", (0, 0), (0, 300))])
    (spot,) = degrees((10, 200))
    found = snap(network, [spot[0]], [spot[1]], ["A St"])
    assert network.names[int(found.segment[0])] == "B ST"
    assert any("nearest street was taken" in s for s in found.sentences)


def test_a_home_off_every_street_is_named_and_its_way_across_is_counted() -> None:
    """A home 400 m from the only street is said aloud by its label and reached by a straight line times the factor."""
    network = read_streets([line("A St", (0, 0), (200, 0))])
    spots = degrees((0, 0), (100, 400))
    found = snap(network, [p[0] for p in spots], [p[1] for p in spots], ["A St", "A St"], ["Entrance", "7 Far Rd"])
    assert found.off == (1,)
    assert any(s.startswith("7 Far Rd is 400 m") for s in found.sentences)
    assert street_travel(network, found).metres[0, 1] == pytest.approx(100 + 400 * 1.35, abs=1)


@pytest.mark.parametrize(
    "lines",
    [[], [("A", "", b"nonsense")], [("A", "", shapely.to_wkb(shapely.Point(1, 2)))]],
    ids=["none", "bad", "point"],
)
def test_a_street_file_without_a_usable_line_is_refused_in_a_sentence(lines: list[tuple[str, str, bytes]]) -> None:
    """Nothing, broken bytes and points are no streets; the sentence says what to do."""
    with pytest.raises(UnusableStreets, match="parcels"):
        read_streets(lines)


def test_street_keys_agree_with_the_streets_of_addresses() -> None:
    """A street file's own spelling and the address's one are one key."""
    for street, address in [
        ("North Alder Court", "12 N Alder Ct"),
        ("5th Avenue", "640 5TH AVE"),
        ("BIRCH LN", "7 Birch Lane"),
    ]:
        assert street_key(street) == parse(address).street()
    assert street_key("  ") == ""


def test_streets_are_inferred_between_two_rows_of_lots() -> None:
    """Two facing rows of lots give one street down the middle; both ends of a row are its length apart."""
    lots, addresses = [], []
    for k in range(8):
        for side, y in ((0, 0.0), (1, 46.0)):
            corners = degrees((20.0 * k, y), (20.0 * k + 20, y), (20.0 * k + 20, y + 30), (20.0 * k, y + 30))
            lots.append(shapely.Polygon(corners))
            addresses.append(f"{100 + 2 * k + side} Alder St")
    network = infer_streets(lots, addresses, local_epsg=EPSG)
    middle = [shapely.centroid(lot) for lot in lots]
    places = snap(network, [p.x for p in middle], [p.y for p in middle], ["ALDER ST"] * len(lots))
    metres = street_travel(network, places).metres
    assert "inferred" in network.sentences[0]
    # The row is 140 m from the first lot's middle to the last one's.
    assert metres[0, 14] == pytest.approx(140, abs=25)
    assert metres[0, 1] <= 20
    assert np.ptp([y for _, y in network.nodes]) < 12


def test_inference_needs_two_homes_on_named_streets() -> None:
    """Without a street in any address there is nothing to infer, and a sentence says so."""
    lot = box(*degrees((0, 0))[0], *degrees((20, 30))[0])
    with pytest.raises(UnusableStreets, match="fewer than two"):
        infer_streets([lot, lot], ["", "no number"])


def test_inferred_streets_come_near_the_true_ones(tmp_path: Path) -> None:
    """In an invented community of 300 homes, travel up to 400 m along inferred streets is right in the middle.

    The median ratio to the true streets lies within 5% of 1 and half of the pairs within 20%; straight
    lines times 1.35 spread wider.
    """
    paths = build(300, 7, date(2026, 11, 25), tmp_path)
    parcels = read_parcels(paths.parcels).parcels
    homes = parcels[parcels["land_use"] != "common area"]
    rest = parcels[parcels["land_use"] == "common area"]
    file = gpd.read_file(paths.streets)
    names = [parse(a).street() for a in homes["address"]]
    true = read_streets(
        [(n, c, shapely.to_wkb(g)) for n, c, g in zip(file["NAME"], file["CLASS"], file.geometry, strict=True)]
    )
    at_true = snap(true, homes["lon"], homes["lat"], names)
    assert at_true.own_street.all()
    inferred = infer_streets(list(homes.geometry), list(homes["address"]), obstacles=list(rest.geometry))
    at_inferred = snap(inferred, homes["lon"], homes["lat"], names)
    assert at_inferred.own_street.mean() >= 0.98
    known, guess = street_travel(true, at_true).metres, street_travel(inferred, at_inferred).metres
    near = np.triu((known > 30) & (known < 400), 1)
    low, middle, high = np.quantile(guess[near] / known[near], [0.25, 0.5, 0.75])
    straight = np.hypot(at_true.x[:, None] - at_true.x, at_true.y[:, None] - at_true.y) * 1.35
    s_low, _, s_high = np.quantile(straight[near] / known[near], [0.25, 0.5, 0.75])
    assert middle == pytest.approx(1.0, abs=0.05)
    assert low >= 0.80
    assert high <= 1.20
    assert high - low < s_high - s_low


@pytest.mark.skipif(not COUNTY.exists(), reason="the real county's parcels are not beside the project")
def test_real_county_streets_are_inferred_and_said_to_be() -> None:
    """829 lots of a county without a street file: one network, near every home, never shorter than by air."""
    parcels = read_parcels(COUNTY).parcels
    homes, rest = parcels[parcels["land_use"] == "11"], parcels[parcels["land_use"] != "11"]
    network = infer_streets(list(homes.geometry), list(homes["address"]), obstacles=list(rest.geometry))
    names = [parse(a).street() for a in homes["address"]]
    places = snap(network, homes["lon"], homes["lat"], names)
    metres = street_travel(network, places).metres
    assert "no street file" in network.sentences[0]
    assert places.off == ()
    assert places.own_street.mean() >= 0.85
    assert int(metres.max()) < 20_000
    for a, b in pairwise(range(0, 800, 40)):
        air = np.hypot(places.x[a] - places.x[b], places.y[a] - places.y[b])
        assert metres[a, b] >= air - places.aside_m[a] - places.aside_m[b] - 2
