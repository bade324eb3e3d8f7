"""Travel matrix of 3,000 homes on about 4,600 street segments, and of 1,000: time and the worst gap to Dijkstra.

Run: ``python tests/benchmarks/travel_matrix.py``
"""

from __future__ import annotations

import time

import networkx as nx
import numpy as np
import pyproj
import shapely
from shapely.geometry import LineString

from geo.streets import read_streets, snap
from geo.travel import street_travel

BACK = pyproj.Transformer.from_crs(32616, 4326, always_xy=True)


def main() -> None:
    """Print a line for each number of homes."""
    rng = np.random.default_rng(4)
    size = 48
    x, y = np.meshgrid(np.arange(size) * 110.0, np.arange(size) * 90.0)
    x, y = x + rng.uniform(-20, 20, x.shape), y + rng.uniform(-20, 20, y.shape)
    lines = []
    for i in range(size):
        for j in range(size):
            for a, b in ((i + 1, j), (i, j + 1)):
                if a < size and b < size:
                    ends = [BACK.transform(5e5 + x[p], 4.5e6 + y[p]) for p in ((i, j), (a, b))]
                    lines.append((f"{'Row' if a > i else 'Col'} {i} St", "", shapely.to_wkb(LineString(ends))))
    began = time.perf_counter()
    network = read_streets(lines, local_epsg=32616)
    print(f"{len(network.start):,} segments, {len(network.nodes):,} nodes, read in {time.perf_counter() - began:.2f} s")
    graph = nx.Graph()
    for a, b, length in zip(network.start.tolist(), network.end.tolist(), network.lengths.tolist(), strict=True):
        graph.add_edge(a, b, weight=length)
    for homes in (1_000, 3_000):
        lon, lat = BACK.transform(5e5 + rng.uniform(0, 5_170, homes), 4.5e6 + rng.uniform(0, 4_230, homes))
        began = time.perf_counter()
        places = snap(network, lon, lat, [""] * homes)
        snapped = time.perf_counter()
        metres = street_travel(network, places).metres
        done = time.perf_counter()
        worst = 0.0
        ends = [(network.start, places.along_m), (network.end, network.lengths[places.segment] - places.along_m)]
        for i in range(0, homes, homes // 20):
            k = int(places.segment[i])
            reach = [nx.single_source_dijkstra_path_length(graph, int(n[k]), weight="weight") for n, _ in ends]
            for j in range(homes):
                if places.segment[j] == k:
                    continue
                m = int(places.segment[j])
                way = min(
                    reach[p][int(ends[q][0][m])] + ends[p][1][i] + ends[q][1][j] for p in range(2) for q in range(2)
                )
                worst = max(worst, abs(way - float(metres[i, j])))
        print(
            f"{homes:,} homes: snapped {snapped - began:.2f} s, matrix {done - snapped:.2f} s, "
            f"{metres.nbytes / 1e6:.0f} MB, worst gap of {20 * homes:,} ways to networkx {worst:.2f} m"
        )


if __name__ == "__main__":
    main()
