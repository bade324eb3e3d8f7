"""Walks from door to door: every door once, short, and the same every time."""

from __future__ import annotations

from itertools import pairwise, permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geo.walking import parts_to_walk, put_in, shortest_walk, walk_length, walks_of


def matrix(n: int, seed: int) -> np.ndarray:
    """Distances between random places in a square of a kilometer."""
    x, y = np.random.default_rng(seed).random((2, n)) * 1000
    return np.rint(np.hypot(x[:, None] - x, y[:, None] - y)).astype(np.int32)


def test_small_walks_are_nearly_the_shortest_of_all_orders() -> None:
    """Of all orders of seven places, by trying each: within a twentieth in every one of 30, exact in most."""
    exact = 0
    for seed in range(30):
        far = matrix(7, seed)
        best = min(walk_length(far, np.array(order)) for order in permutations(range(7)))
        found = walk_length(far, shortest_walk(far))
        assert best <= found <= 1.05 * best
        exact += found == best
    assert exact >= 24


def test_a_row_of_doors_is_walked_from_end_to_end() -> None:
    """Doors in a line, given in any order, come out in line."""
    at = np.array([50, 10, 90, 30, 70, 0, 100])
    far = np.abs(at[:, None] - at).astype(np.int32)

    assert walk_length(far, shortest_walk(far)) == 100


def test_a_long_walk_is_close_to_what_is_known_of_random_places() -> None:
    """500 places at random: within a tenth of .7124 sqrt(n A), the limit for the shortest tour.

    Beardwood, Halton and Hammersley (1959); the constant as estimated by Johnson and McGeoch (1996), from memory,
    with their correction 1 + .33 / n for a finite number of places being small against the edge's effect here.
    """
    far = matrix(500, 4)
    found = walk_length(far, shortest_walk(far))

    assert found < 1.15 * 0.7124 * np.sqrt(500) * 1000


@settings(max_examples=30, deadline=None)
@given(n=st.integers(0, 40), seed=st.integers(0, 10_000))
def test_every_door_comes_once_and_a_start_is_never_made_longer(n: int, seed: int) -> None:
    """The result is a permutation, no longer than the order it was given, and the same again."""
    far = matrix(n, seed)
    start = np.random.default_rng(seed).permutation(n)
    found = shortest_walk(far, start=start)

    assert sorted(found.tolist()) == list(range(n))
    assert walk_length(far, found) <= walk_length(far, start)
    assert (found == shortest_walk(far, start=start)).all()


@pytest.mark.parametrize(("doors", "most", "sizes"), [(0, 5, []), (5, 5, [5]), (11, 5, [4, 4, 3]), (3, 1, [1, 1, 1])])
def test_a_walk_is_cut_into_equal_parts(doors: int, most: int, sizes: list[int]) -> None:
    """No part is longer than asked, and none much shorter than another."""
    assert [len(p) for p in walks_of(np.arange(doors), most)] == sizes


def test_new_places_are_put_in_where_they_lengthen_the_walk_least() -> None:
    """On a line: between its neighbors, before the first, after the last; the others keep their order."""
    x = np.array([0, 10, 20, 30, 14, -5, 33])
    metres = np.abs(x[:, None] - x[None, :]).astype(np.int32)
    order = put_in(metres, np.array([0, 1, 2, 3]), [4, 5, 6])
    assert x[order].tolist() == [-5, 0, 10, 14, 20, 30, 33]
    assert put_in(metres, np.array([], dtype=np.int64), [2, 0]).tolist() in ([2, 0], [0, 2])


def test_parts_to_walk_hold_every_place_once_and_are_compact() -> None:
    """None larger than asked; a long strip is cut across, so that parts do not overlap along it."""
    rng = np.random.default_rng(5)
    x, y = rng.uniform(0, 1000, 100), rng.uniform(0, 10, 100)
    parts = parts_to_walk(x, y, 30)
    assert sorted(int(i) for part in parts for i in part) == list(range(100))
    assert max(map(len, parts)) <= 30
    assert all(x[a].max() <= x[b].min() for a, b in pairwise(parts))
    assert parts_to_walk(x[:0], y[:0], 30) == []
