"""Groups of neighboring places, large enough to publish figures about.

A block is a street's frontage, or several neighboring ones joined until enough
is known about them together that no single place shows through.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import geopandas as gpd
import numpy as np
import pandas as pd
import shapely
from shapely.geometry.base import BaseGeometry

__all__ = ["block_outlines", "join_small_streets", "shares"]


def join_small_streets(
    streets: Sequence[str], known: Sequence[bool], x: Sequence[float], y: Sequence[float], *, minimum: int
) -> list[str]:
    """A block's name for each place, such that every block has at least `minimum` known places.

    Streets start as blocks of their own; the block with the fewest known places
    is joined to the nearest other block (by the middle of its places) until all
    have enough. Where even all together have too few, one block remains and the
    caller must show no figure.

    Parameters
    ----------
    streets, known, x, y
        Street, whether something is known, and projected coordinates in metres,
        one each a place.
    minimum
        How many known places a block needs.

    Returns
    -------
    list of str
        Names such as ``"ALDER CT"`` or ``"ALDER CT, BIRCH LN"``, one a place.
    """
    frame = pd.DataFrame({"street": list(streets), "known": np.asarray(known, dtype=int), "x": x, "y": y})
    grouped = frame.groupby("street", sort=True)
    totals = grouped.agg(known=("known", "sum"), n=("known", "size"), x=("x", "mean"), y=("y", "mean"))
    members = {str(street): [str(street)] for street in totals.index}
    blocks = {str(street): [int(r.known), int(r.n), float(r.x), float(r.y)] for street, r in totals.iterrows()}
    while len(blocks) > 1:
        small = min(blocks, key=lambda b: (blocks[b][0], b))
        if blocks[small][0] >= minimum:
            break
        here = blocks.pop(small)
        near = min(blocks, key=lambda b: ((blocks[b][2] - here[2]) ** 2 + (blocks[b][3] - here[3]) ** 2, b))
        there = blocks[near]
        n = here[1] + there[1]
        blocks[near] = [
            here[0] + there[0],
            n,
            (here[1] * here[2] + there[1] * there[2]) / n,
            (here[1] * here[3] + there[1] * there[3]) / n,
        ]
        members[near] += members.pop(small)
    names = {street: ", ".join(sorted(group)) for group in members.values() for street in group}
    return [names[street] for street in frame["street"]]


def block_outlines(
    frame: gpd.GeoDataFrame, blocks: Sequence[str], *, local_epsg: int, gap_m: float = 12.0
) -> gpd.GeoDataFrame:
    """One outline a block, closing the gaps between its places.

    Parameters
    ----------
    frame
        Polygons in WGS 84.
    blocks
        The block of each.
    local_epsg
        A metric projection of the neighborhood.
    gap_m
        Places up to twice this far apart (across a street) grow together.

    Returns
    -------
    GeoDataFrame
        Columns ``block`` and ``geometry``, in WGS 84, sorted by block.
    """
    local = frame[["geometry"]].to_crs(local_epsg).assign(block=list(blocks))
    rows = []
    for block, group in local.groupby("block", sort=True):
        grown = shapely.union_all(group.geometry.buffer(gap_m, quad_segs=2).to_numpy())
        rows.append({"block": block, "geometry": shapely.simplify(grown.buffer(-gap_m + 1.0, quad_segs=2), 0.7)})
    return gpd.GeoDataFrame(rows, columns=["block", "geometry"], geometry="geometry", crs=local_epsg).to_crs(4326)


def shares(outline: BaseGeometry, n: int) -> list[BaseGeometry]:
    """A shape cut into `n` strips of about equal area, for several dwellings on one parcel.

    The cuts run across the longer side of the smallest surrounding rectangle. A
    shape that cannot be cut is returned `n` times.
    """
    if n <= 1 or outline.is_empty:
        return [outline] * max(n, 1)
    box = outline.minimum_rotated_rectangle
    if box.geom_type != "Polygon":
        return [outline] * n
    corners = np.asarray(box.exterior.coords)[:4]
    if np.hypot(*(corners[1] - corners[0])) < np.hypot(*(corners[2] - corners[1])):
        corners = np.roll(corners, -1, axis=0)
    a, b, c, d = corners  # ab and dc are the longer sides

    def strip(start: float, end: float) -> BaseGeometry:
        quad = shapely.Polygon([a + (b - a) * start, a + (b - a) * end, d + (c - d) * end, d + (c - d) * start])
        return outline.intersection(quad)

    def area_up_to(t: float) -> float:
        return float(strip(0.0, t).area)

    total = outline.area
    cuts = [0.0]
    for k in range(1, n):
        low, high = cuts[-1], 1.0
        for _ in range(30):  # bisection: 2**-30 of the side is far below a millimetre
            middle = (low + high) / 2
            low, high = (middle, high) if area_up_to(middle) < total * k / n else (low, middle)
        cuts.append((low + high) / 2)
    cuts.append(1.0)
    parts = [strip(s, e) for s, e in pairwise(cuts)]
    return parts if all(p.area > 0 for p in parts) else [outline] * n
