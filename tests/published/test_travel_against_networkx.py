"""Our travel matrix against networkx's Dijkstra on the whole graph with the places as nodes."""

from __future__ import annotations

import networkx as nx
import numpy as np
import pyproj
import shapely
from shapely.geometry import LineString

from geo.streets import Snapped, StreetNetwork, read_streets, snap
from geo.travel import STRAIGHT_FACTOR, street_travel

BACK = pyproj.Transformer.from_crs(32616, 4326, always_xy=True)


def crooked_network(rng: np.random.Generator, size: int) -> StreetNetwork:
    """A bent grid with a sixth of its pieces missing, so that dead ends and parts occur."""
    x, y = np.meshgrid(np.arange(size) * 110.0, np.arange(size) * 90.0)
    x = x + rng.uniform(-25, 25, x.shape)
    y = y + rng.uniform(-25, 25, y.shape)
    lines = []
    for i in range(size):
        for j in range(size):
            for a, b in ((i + 1, j), (i, j + 1)):
                if a < size and b < size and rng.random() > 1 / 6:
                    ends = [(x[i, j], y[i, j]), (x[a, b], y[a, b])]
                    bend = tuple(np.mean(ends, axis=0) + rng.uniform(-12, 12, 2))
                    spots = [BACK.transform(5e5 + px, 4.5e6 + py) for px, py in (ends[0], bend, ends[1])]
                    lines.append(
                        (f"{'Row' if a > i else 'Col'} {i if a > i else j} St", "", shapely.to_wkb(LineString(spots)))
                    )
    return read_streets(lines, local_epsg=32616)


def full_graph(network: StreetNetwork, places: Snapped) -> nx.Graph:
    """Every segment cut at every place that stands on it; places off the streets hang on a spur."""
    graph = nx.Graph()

    def add(a: object, b: object, length: float) -> None:
        if not graph.has_edge(a, b) or graph[a][b]["weight"] > length:
            graph.add_edge(a, b, weight=max(length, 0.0))

    for k in range(len(network.start)):
        on = sorted((float(places.along_m[i]), int(i)) for i in np.flatnonzero(places.segment == k))
        previous, at = ("node", int(network.start[k])), 0.0
        for along, i in on:
            add(previous, ("foot", i), along - at)
            previous, at = ("foot", i), along
        add(previous, ("node", int(network.end[k])), float(network.lengths[k]) - at)
    for i in range(len(places.segment)):
        far = float(places.aside_m[i]) * STRAIGHT_FACTOR if i in places.off else 0.0
        add(("foot", i), ("place", i), far)
    return graph


def test_matrix_is_within_a_metre_of_dijkstra_on_the_full_graph() -> None:
    """120 homes on a crooked network of some 200 segments, one of them off every street: all 14,400 ways agree.

    The networkx project's `single_source_dijkstra_path_length` (networkx 3) is the reference.
    """
    rng = np.random.default_rng(20)
    network = crooked_network(rng, 11)
    x, y = rng.uniform(-30, 1_130, 120), rng.uniform(-30, 930, 120)
    x[0], y[0] = -600.0, 400.0
    lon, lat = BACK.transform(5e5 + x, 4.5e6 + y)
    streets = [f"Row {rng.integers(11)} St" if rng.random() < 0.7 else "" for _ in range(120)]
    places = snap(network, lon, lat, streets)
    assert places.off == (0,)
    metres = street_travel(network, places).metres
    graph = full_graph(network, places)
    worst = 0.0
    for i in range(120):
        reach = nx.single_source_dijkstra_path_length(graph, ("place", i), weight="weight")
        for k in range(120):
            worst = max(worst, abs(reach["place", k] - metres[i, k]))
    assert worst <= 1.0
