"""Groups of places large enough to publish, and strips of shared parcels."""

import geopandas as gpd
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from geo.blocks import block_outlines, join_small_streets, shares


def test_small_streets_join_their_nearest_neighbor() -> None:
    """A court with too few known places joins the street beside it, not the one far away."""
    streets = ["COURT"] * 3 + ["NEAR"] * 4 + ["FAR"] * 4
    x = [0.0] * 3 + [50.0] * 4 + [900.0] * 4
    names = join_small_streets(streets, [True] * 11, x, [0.0] * 11, minimum=4)

    assert {"COURT, NEAR", "FAR"} == set(names)
    assert names[0] == names[3] == "COURT, NEAR"


@given(
    st.lists(
        st.tuples(st.sampled_from("ABCDEFG"), st.booleans(), st.floats(-500, 500), st.floats(-500, 500)), max_size=60
    ),
    st.integers(1, 15),
)
def test_every_block_has_enough_or_there_is_only_one(
    places: list[tuple[str, bool, float, float]], minimum: int
) -> None:
    """No block of a published map rests on fewer known places than the minimum; streets are never split."""
    columns = list(zip(*places, strict=True)) or [(), (), (), ()]
    names = join_small_streets(columns[0], columns[1], columns[2], columns[3], minimum=minimum)
    counts: dict[str, int] = {}
    for name, known in zip(names, columns[1], strict=True):
        counts[name] = counts.get(name, 0) + known

    assert len(counts) <= 1 or min(counts.values()) >= minimum
    assert len({(s, n) for s, n in zip(columns[0], names, strict=True)}) == len(set(columns[0]))


def test_outlines_cover_their_places() -> None:
    """A block's outline holds the lots of both sides of its street, and is drawn in WGS 84."""
    lots = [box(x, y, x + 20, y + 30) for x in (0, 20, 40) for y in (0, 45)]
    frame = gpd.GeoDataFrame(geometry=lots, crs=32616).translate(450_000, 4_800_000)
    frame = gpd.GeoDataFrame(geometry=frame, crs=32616).to_crs(4326)
    found = block_outlines(frame, ["A"] * 6, local_epsg=32616)

    assert found.crs.to_epsg() == 4326
    local = found.to_crs(32616).geometry.iloc[0]
    assert local.geom_type == "Polygon"
    assert local.buffer(2.5).covers(shapely.union_all(frame.to_crs(32616).geometry.to_numpy()))


@pytest.mark.parametrize("n", [2, 3, 4])
def test_strips_share_a_parcel_evenly(n: int) -> None:
    """A crooked lot is cut into parts of equal area that do not overlap and together make the lot."""
    lot = Polygon([(0, 0), (40, 3), (44, 25), (10, 28), (-3, 12)])
    parts = shares(lot, n)

    assert n == len(parts)
    assert [pytest.approx(lot.area / n, rel=1e-6)] * n == [p.area for p in parts]
    assert lot.area == pytest.approx(shapely.union_all(parts).area, rel=1e-9)


def test_one_dwelling_keeps_the_whole_parcel() -> None:
    """Nothing is cut where nothing is shared."""
    assert [box(0, 0, 1, 1)] == shares(box(0, 0, 1, 1), 1)
