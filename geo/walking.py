"""An order in which to walk from door to door that saves steps.

A walk begins and ends anywhere. The order begins with the nearest place next,
then pieces of it are turned round (2-opt) and moved elsewhere (Or-opt) as long
as that makes the walk shorter: simple, the same every time, and within a few
percent of the best for such lists.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

__all__ = ["parts_to_walk", "put_in", "shortest_walk", "walk_length", "walks_of"]

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

_ROUNDS = 60


def walk_length(metres: NDArray[np.int32], order: Ints) -> int:
    """Length of a walk in the matrix's unit, from its first place to its last."""
    return int(metres[order[:-1], order[1:]].sum(dtype=np.int64)) if len(order) > 1 else 0


def shortest_walk(metres: NDArray[np.int32], *, start: Ints | None = None) -> Ints:
    """An order of all places whose walk is short.

    Parameters
    ----------
    metres
        Symmetric matrix of distances.
    start
        An order to better as well; the shorter of the two results is taken, so that it is never longer than this.

    Returns
    -------
    ndarray
        Every place once.
    """
    n = len(metres)
    if n < 3:
        return np.arange(n)
    candidates = [_improved(metres, _nearest_next(metres))]
    if start is not None:
        candidates.append(_improved(metres, np.asarray(start, dtype=np.int64)))
    return min(candidates, key=lambda order: walk_length(metres, order))


def walks_of(order: Ints, most: int) -> list[Ints]:
    """A long walk cut into walks of about equal length, none with more than `most` places."""
    count = -(-len(order) // max(most, 1))
    return [part for part in np.array_split(order, count) if len(part)] if count else []


def put_in(metres: NDArray[np.int32], order: Ints, new: Sequence[int]) -> Ints:
    """An order with new places put in, each where it lengthens the walk least; the others keep theirs.

    Parameters
    ----------
    metres
        Symmetric matrix of distances, of all places.
    order
        The places that have an order.
    new
        The places that have none; put in one after the other.
    """
    walk = [int(i) for i in order]
    for one in new:
        here = metres[one, walk].astype(np.int64)
        if len(walk) < 2:
            walk.append(int(one))
            continue
        links = metres[walk[:-1], walk[1:]].astype(np.int64)
        longer = np.concatenate([here[:1], here[:-1] + here[1:] - links, here[-1:]])
        # At the walk's end where it is as good as elsewhere: the last number plus one reads best.
        best = len(longer) - 1 - int(longer[::-1].argmin())
        walk.insert(best, int(one))
    return np.asarray(walk, dtype=np.int64)


def parts_to_walk(x: Floats, y: Floats, most: int) -> list[Ints]:
    """Places in compact parts of at most `most`, for lists too long for one matrix: halved across their longer side."""
    waiting, parts = [np.arange(len(x))], []
    while waiting:
        part = waiting.pop()
        if len(part) <= max(most, 1):
            parts.append(part)
            continue
        wide = np.ptp(x[part]) >= np.ptp(y[part])
        across = part[np.argsort((x if wide else y)[part], kind="stable")]
        half = len(across) // 2
        waiting += [across[half:], across[:half]]
    return parts if len(x) else []


def _nearest_next(metres: NDArray[np.int32]) -> Ints:
    n = len(metres)
    # From a place at the edge: the one farthest from all others.
    here = int(metres.sum(axis=1, dtype=np.int64).argmax())
    left = np.ones(n, dtype=bool)
    order = np.empty(n, dtype=np.int64)
    for k in range(n):
        order[k] = here
        left[here] = False
        if k < n - 1:
            open_ = np.flatnonzero(left)
            here = int(open_[metres[here, open_].argmin()])
    return order


def _improved(metres: NDArray[np.int32], order: Ints) -> Ints:
    # An extra place at no distance closes the walk, so that its two ends are free.
    n = len(order)
    far = np.zeros((n + 1, n + 1), dtype=np.int64)
    far[1:, 1:] = metres[np.ix_(order, order)]
    tour = np.arange(n + 1)
    for _ in range(_ROUNDS):
        turned, better = _two_opt(far, tour)
        tour, moved = _or_opt(far, turned)
        if not better and not moved:
            break
    return order[tour[1:] - 1]


def _two_opt(far: Ints, tour: Ints) -> tuple[Ints, bool]:
    """One pass: for each link the best other link to exchange it with."""
    n, any_better = len(tour), False
    for i in range(n - 2):
        after = np.append(tour[i + 3 :], tour[0])
        a, b = tour[i], tour[i + 1]
        c = tour[i + 2 :]
        gain = far[a, b] + far[c, after] - far[a, c] - far[b, after]
        best = int(gain.argmax())
        if gain[best] > 0:
            j = i + 2 + best
            tour[i + 1 : j + 1] = tour[i + 1 : j + 1][::-1].copy()
            any_better = True
    return tour, any_better


def _or_opt(far: Ints, tour: Ints) -> tuple[Ints, bool]:
    """One pass: pieces of one to three places moved to where they fit best, either way round."""
    n, any_better = len(tour), False
    for length in (1, 2, 3):
        i = 1
        while i + length <= n:
            piece = tour[i : i + length]
            before, behind = tour[i - 1], tour[(i + length) % n]
            saved = far[before, piece[0]] + far[piece[-1], behind] - far[before, behind]
            if saved > 0:
                rest = np.concatenate([tour[:i], tour[i + length :]])
                following = np.roll(rest, -1)
                link = far[rest, following]
                straight = far[rest, piece[0]] + far[piece[-1], following] - link
                back = far[rest, piece[-1]] + far[piece[0], following] - link
                at, at_back = int(straight.argmin()), int(back.argmin())
                turn = back[at_back] < straight[at]
                where = at_back if turn else at
                if min(straight[at], back[at_back]) < saved:
                    tour = np.concatenate([rest[: where + 1], piece[::-1] if turn else piece, rest[where + 1 :]])
                    any_better = True
            i += 1
    return tour, any_better
