"""Homes brought onto the network: the street of the address first, the nearest one only then."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import geopandas as gpd
import numpy as np
import shapely
from numpy.typing import NDArray

from geo.streets._network import StreetNetwork, street_key

__all__ = ["Snapped", "snap"]

_OWN_STREET_M = 60.0
"""How far the street of the address may lie: a deep lot; beyond, the address and the map disagree."""
_OFF_M = 250.0
"""Farther than this from every street, a home is off the network."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Snapped:
    """Where each place stands on the network.

    ``segment``, ``along_m`` (from the segment's start) and ``aside_m`` (from
    the place to the street) have one entry a place; ``x`` and ``y`` are the
    place's own position in metres of the network's projection. ``own_street``
    is True where the street of the address was found; ``off`` lists the places
    off every street.
    """

    segment: NDArray[np.int64]
    along_m: NDArray[np.float64]
    aside_m: NDArray[np.float64]
    x: NDArray[np.float64]
    y: NDArray[np.float64]
    own_street: NDArray[np.bool_]
    off: tuple[int, ...]
    sentences: tuple[str, ...]


def snap(
    network: StreetNetwork,
    lon: Sequence[float],
    lat: Sequence[float],
    streets: Sequence[str],
    labels: Sequence[str] | None = None,
) -> Snapped:
    """Bring places onto the network.

    Parameters
    ----------
    lon, lat
        Degrees, WGS 84, one each a place.
    streets
        The street's name of each place's address; empty where there is none (an entrance).
    labels
        What to call a place in a sentence; its number when None.

    Returns
    -------
    Snapped
        One entry a place, in the order given.
    """
    points = gpd.GeoSeries.from_xy(list(lon), list(lat), crs=4326).to_crs(network.local_epsg)
    shapes = points.to_numpy()
    drawn = np.flatnonzero(~network.connector)
    lines = network.lines[drawn]
    tree = shapely.STRtree(lines)
    segment = np.full(len(shapes), -1, dtype=np.int64)
    nearest = tree.query_nearest(shapes, all_matches=False)
    segment[nearest[0]] = drawn[nearest[1]]
    own = np.zeros(len(shapes), dtype=bool)
    keys = [street_key(s) for s in streets]
    at, near = tree.query(shapes, predicate="dwithin", distance=_OWN_STREET_M)
    distance = shapely.distance(shapes[at], lines[near])
    best = np.full(len(shapes), np.inf)
    for i, k, d in zip(at.tolist(), drawn[near].tolist(), distance.tolist(), strict=True):
        if keys[i] and network.names[k] == keys[i] and (d, k) < (best[i], segment[i] if own[i] else np.inf):
            best[i], segment[i], own[i] = d, k, True
    along = shapely.line_locate_point(network.lines[segment], shapes)
    aside = shapely.distance(network.lines[segment], shapes)
    # A line's length and its course between merged nodes differ by the width of the merging.
    along = np.clip(along, 0.0, network.lengths[segment])
    off = tuple(int(i) for i in np.flatnonzero(aside > _OFF_M))
    return Snapped(
        segment=segment,
        along_m=along,
        aside_m=aside,
        x=points.x.to_numpy(),
        y=points.y.to_numpy(),
        own_street=own,
        off=off,
        sentences=tuple(_words(off, aside, own, keys, labels)),
    )


def _words(
    off: Sequence[int],
    aside: NDArray[np.float64],
    own: NDArray[np.bool_],
    keys: Sequence[str],
    labels: Sequence[str] | None,
) -> list[str]:
    words = []
    for i in off[:5]:
        called = labels[i] if labels is not None else f"Place {i + 1}"
        words.append(
            f"{called} is {aside[i]:,.0f} m from the nearest street; it is reached by a straight line. "
            "Check where it lies, or whether a street is missing from the file."
        )
    if len(off) > 5:
        words.append(f"{len(off) - 5} more places lie farther than {_OFF_M:.0f} m from every street.")
    lost = sum(bool(key) and not found for key, found in zip(keys, own.tolist(), strict=True))
    if lost:
        words.append(
            f"{lost} of {len(keys)} places have no street of their address's name within {_OWN_STREET_M:.0f} m; "
            "the nearest street was taken."
        )
    return words
