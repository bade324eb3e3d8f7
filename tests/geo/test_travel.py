"""Travel matrices: along streets, straight, and as time."""

from __future__ import annotations

import numpy as np
import pyproj
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString

from geo.streets import read_streets, snap
from geo.travel import STRAIGHT_FACTOR, drive_seconds, foot_travel, straight_travel, street_travel

BACK = pyproj.Transformer.from_crs(32616, 4326, always_xy=True)


def ladder(rungs: int = 3) -> list[tuple[str, str, bytes]]:
    """Two rails 100 m apart and rungs 50 m apart."""

    def line(name: str, *points: tuple[float, float]) -> tuple[str, str, bytes]:
        return name, "local", shapely.to_wkb(LineString([BACK.transform(5e5 + x, 4.5e6 + y) for x, y in points]))

    far = 50.0 * (rungs - 1)
    lines = [line("Low St", (0, 0), (far, 0)), line("High St", (0, 100), (far, 100))]
    return lines + [line(f"Rung {k} Ave", (50.0 * k, 0), (50.0 * k, 100)) for k in range(rungs)]


def matrix_of(points: list[tuple[float, float]], rungs: int = 3) -> np.ndarray:
    """Metres between points along the ladder."""
    network = read_streets(ladder(rungs), local_epsg=32616)
    spots = [BACK.transform(5e5 + x, 4.5e6 + y) for x, y in points]
    places = snap(network, [p[0] for p in spots], [p[1] for p in spots], [""] * len(points))
    return street_travel(network, places).metres


def test_ways_along_a_ladder_are_those_reckoned_by_hand() -> None:
    """Same segment 20; around one corner 40 + 40; from rail to rail by the nearer rung 20 + 100 + 20."""
    metres = matrix_of([(10, 0), (30, 0), (50, 40), (30, 100), (10, 100)])
    assert metres.dtype == np.int32
    assert metres[0, 1] == 20
    assert metres[0, 2] == 40 + 40
    assert metres[1, 3] == 20 + 100 + 20
    assert metres[0, 4] == 10 + 100 + 10
    assert (metres == metres.T).all()
    assert (np.diag(metres) == 0).all()


def test_on_foot_the_other_side_of_the_street_is_a_crossing_away() -> None:
    """Across 11; the next door on the same side 10, across and on 15 (the root of 10 and 11 squared), as by hand."""
    spots = [BACK.transform(5e5 + x, 4.5e6 + y) for x, y in [(20, 9), (20, -9), (30, 9), (30, -9), (20, 3.5)]]
    network = read_streets(ladder(), local_epsg=32616)
    places = snap(network, [p[0] for p in spots], [p[1] for p in spots], [""] * 5)
    driven, walked = street_travel(network, places).metres, foot_travel(network, places)
    assert driven[0, 1] == 0
    assert walked.metres[0].tolist() == [0, 11, 10, 15, 2]
    assert (walked.metres == walked.metres.T).all()
    assert (walked.metres >= driven).all()
    assert "11 m" in walked.sentences[-1]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 100), st.sampled_from([0, 100])), min_size=2, max_size=12))
def test_travel_is_a_metric(points: list[tuple[int, int]]) -> None:
    """Symmetric, zero to itself, never shorter than the straight line, and no detour by a third place is shorter."""
    metres = matrix_of([(float(x), float(y)) for x, y in points]).astype(int)
    xy = np.array(points, dtype=float)
    air = np.hypot(xy[:, None, 0] - xy[None, :, 0], xy[:, None, 1] - xy[None, :, 1])
    assert (metres == metres.T).all()
    assert (metres >= air - 1.5).all()
    by_third = (metres[:, :, None] + metres[None, :, :]).min(axis=1)
    assert (metres <= by_third + 2).all()  # each of the three is rounded to a whole metre


def test_straight_lines_say_that_they_are() -> None:
    """3, 4, 5 times the stated factor, and a sentence that speaks of it."""
    travel = straight_travel(np.array([0.0, 300.0]), np.array([0.0, 400.0]))
    assert travel.metres[0, 1] == round(500 * STRAIGHT_FACTOR)
    assert "1.35" in travel.sentences[0]


def test_driving_takes_packing_and_the_way_and_nothing_to_oneself() -> None:
    """600 m at 6 m/s and a minute of packing are 160 s."""
    seconds = drive_seconds(np.array([[0, 600], [600, 0]], dtype=np.int32))
    assert seconds.tolist() == [[0, 160], [160, 0]]


def test_travel_between_thousands_is_whole() -> None:
    """1,500 places on a ladder of 800 rungs all have a way to one another (for its time see the benchmark)."""
    rng = np.random.default_rng(3)
    points = [
        (float(x), float(y)) for x, y in zip(rng.uniform(0, 39_000, 1_500), rng.choice([0, 100], 1_500), strict=True)
    ]
    network = read_streets(ladder(800), local_epsg=32616)
    spots = [BACK.transform(5e5 + x, 4.5e6 + y) for x, y in points]
    places = snap(network, [p[0] for p in spots], [p[1] for p in spots], [""] * len(points))
    travel = street_travel(network, places)
    assert travel.metres.shape == (1_500, 1_500)
    assert np.isfinite(travel.metres).all()


@pytest.mark.parametrize("factor", [1.0, 2.0])
def test_the_factor_can_be_chosen(factor: float) -> None:
    """A community that knows its own factor may say so."""
    assert straight_travel(np.array([0.0, 100.0]), np.zeros(2), factor=factor).metres[0, 1] == 100 * factor
