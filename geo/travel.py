"""How far it is from every place to every other along the streets."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra

from geo.streets import Snapped, StreetNetwork

__all__ = [
    "CROSSING_M",
    "STRAIGHT_FACTOR",
    "Travel",
    "drive_seconds",
    "foot_travel",
    "straight_travel",
    "street_travel",
]

STRAIGHT_FACTOR = 1.35
"""Street distance over straight distance: the median measured on an invented grid of streets was 1.34 to 1.35."""
CROSSING_M = 11.0
"""Curb to curb on a residential street, about 36 feet: common practice, no source."""
_ASIDE_M = 250.0
"""A driveway is not counted; a place farther from every street than this is reached across the land."""
_FAR = np.iinfo(np.int32).max // 4


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Travel:
    """A full matrix: ``metres[i, j]`` (int32, symmetric, zero on its diagonal), and what it rests on."""

    metres: NDArray[np.int32]
    method: str
    sentences: tuple[str, ...]


def street_travel(network: StreetNetwork, places: Snapped) -> Travel:
    """Shortest ways along the streets between all places.

    Dijkstra's algorithm runs only from the end nodes of segments that hold a
    place: the way between two places is the shortest over the four pairs of
    end nodes, or the piece between them where they share a segment. Driveways
    are not counted; a place off every street is reached by a straight line
    times `STRAIGHT_FACTOR`.

    Returns
    -------
    Travel
        Metres, rounded to whole ones; symmetric.
    """
    # Equal segments hold the same answer: work with the segments that hold places.
    held, of = np.unique(places.segment, return_inverse=True)
    first, last, length = network.start[held], network.end[held], network.lengths[held]
    sources, position = np.unique(np.concatenate([first, last]), return_inverse=True)
    a, b = position[: len(held)], position[len(held) :]
    between = np.asarray(dijkstra(_graph(network), directed=False, indices=sources))[:, sources].astype(np.float32)
    t = places.along_m.astype(np.float32)
    rest = (length[of] - places.along_m).astype(np.float32)
    n = len(t)
    out = np.empty((n, n), dtype=np.int32)
    ends = ((a[of], t), (b[of], rest))
    aside = np.where(places.aside_m > _ASIDE_M, places.aside_m * STRAIGHT_FACTOR, 0.0).astype(np.float32)
    block = max(1, 2_000_000 // max(n, 1))  # rows at a time, so that little more than the result is held
    for low in range(0, n, block):
        rows = slice(low, min(n, low + block))
        best = np.full((rows.stop - low, n), np.float32(_FAR))
        for node_i, offset_i in ends:
            for node_j, offset_j in ends:
                way = between[node_i[rows][:, None], node_j[None, :]]
                way += offset_i[rows][:, None]
                way += offset_j[None, :]
                np.minimum(best, way, out=best)
        same_i, same_j = np.nonzero(of[rows][:, None] == of[None, :])
        straight = np.abs(t[rows][same_i] - t[same_j])
        best[same_i, same_j] = np.minimum(best[same_i, same_j], straight)
        best += aside[rows][:, None] + aside[None, :]
        out[rows] = np.rint(best)
    np.fill_diagonal(out, 0)
    # Sums taken in another order may differ in the last digit and round apart by a metre.
    for low in range(0, n, block):
        rows = slice(low, min(n, low + block))
        np.minimum(out[rows], out[:, rows].T, out=out[rows])
    for low in range(0, n, block):
        rows = slice(low, min(n, low + block))
        np.minimum(out[rows], out[:, rows].T, out=out[rows])
    return Travel(
        metres=out,
        method="streets" if network.source == "street file" else "inferred streets",
        sentences=network.sentences + places.sentences,
    )


def foot_travel(network: StreetNetwork, places: Snapped, *, crossing_m: float = CROSSING_M) -> Travel:
    """Ways on foot: along the streets, and never shorter than the straight line from curb to curb.

    A driver turns in on either side alike; a walker who changes sides walks across. Without that, an order of doors
    would zigzag at no cost and be longer on foot than up one side and down the other.

    Parameters
    ----------
    network, places
        As for :func:`street_travel`.
    crossing_m
        Curb to curb, in metres.

    Returns
    -------
    Travel
        The larger of two metrics, so one itself: symmetric, no detour is shorter than the direct way.
    """
    along = street_travel(network, places)
    at = shapely.line_interpolate_point(network.lines[places.segment], places.along_m)
    x, y = shapely.get_x(at), shapely.get_y(at)
    # The curb stands half the crossing from the middle of the street, on the place's side.
    off = np.hypot(places.x - x, places.y - y)
    share = np.minimum(crossing_m / 2, off) / np.maximum(off, 1e-9)
    x, y = x + share * (places.x - x), y + share * (places.y - y)
    out = along.metres
    block = max(1, 2_000_000 // max(len(x), 1))
    for low in range(0, len(x), block):
        rows = slice(low, low + block)
        straight = np.rint(np.hypot(x[rows, None] - x[None, :], y[rows, None] - y[None, :])).astype(np.int32)
        np.maximum(out[rows], straight, out=out[rows])
    said = f"Crossing a street counts {crossing_m:g} m (common practice, no source)."
    return Travel(metres=out, method=along.method, sentences=(*along.sentences, said))


def straight_travel(x: NDArray[np.float64], y: NDArray[np.float64], *, factor: float = STRAIGHT_FACTOR) -> Travel:
    """The last resort: straight lines times a stated factor. Coordinates in metres."""
    metres = np.rint(np.hypot(x[:, None] - x[None, :], y[:, None] - y[None, :]) * factor).astype(np.int32)
    return Travel(
        metres=metres,
        method="straight lines",
        sentences=(
            f"No streets are known: every distance is the straight line times {factor:.2f}. Rivers, walls and "
            "dead ends are not seen; load a street file for a plan that a crew can rely on.",
        ),
    )


def drive_seconds(
    metres: NDArray[np.int32], *, meters_per_second: float = 6.0, packing_s: int = 60
) -> NDArray[np.int32]:
    """Time from one place to another: packing up and unpacking, and the drive; zero from a place to itself.

    The defaults (6 m/s, 60 s) are a slow drive inside a community: common practice, no source.
    """
    seconds = np.rint(metres / meters_per_second).astype(np.int32) + np.int32(packing_s)
    np.fill_diagonal(seconds, 0)
    return seconds


def _graph(network: StreetNetwork) -> csr_array:
    """Shortest segment between each pair of nodes, each pair once."""
    low, high = np.minimum(network.start, network.end), np.maximum(network.start, network.end)
    order = np.lexsort((network.lengths, high, low))
    low, high, length = low[order], high[order], network.lengths[order]
    first = np.ones(len(low), dtype=bool)
    first[1:] = (low[1:] != low[:-1]) | (high[1:] != high[:-1])
    first &= low != high
    n = len(network.nodes)
    # A stored zero is no edge to csgraph: merged nodes are never at one place, but be safe.
    return csr_array((np.maximum(length[first], 1e-6), (low[first], high[first])), shape=(n, n))
