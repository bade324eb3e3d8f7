r"""Which homes buy from which bid in which round: the mixed-integer program.

For home :math:`i`, bid :math:`b`, round :math:`r` and level :math:`t`,

.. math::

    \min \sum_i o_i + \sum_{ibr} (e_{ib} + l_{ir} - o_i) x_{ibr}
         + \sum_{brt} (k_{bt} y_{brt} + p_{bt} w_{brt}) + \sum_{br} m_b d_{br}

with :math:`\sum_{br} x_{ibr} \le 1`, :math:`\sum_i x_{ibr} = \sum_t w_{brt}`,
:math:`\mathrm{lo}\, y \le w \le \mathrm{hi}\, y`, :math:`\sum_t y_{brt} \le 1`
and days :math:`d` that hold the homes. :math:`o` is the price alone, :math:`e`
the home's own extras, :math:`l` its loss while waiting. Within a level the price
steps cost :math:`k y + p w`: all units has :math:`k = 0`, incremental has what
the steps below cost more in :math:`k`. Homes that cannot pay the dearest levels
are counted: :math:`\sum_{i\ \mathrm{not\ at}\ T} x_{ibr} \le \sum_{t \notin T} w_{brt}`
for every set :math:`T` of dearest levels, which keeps them out when one of T is open.

Once y and d are fixed the rest is a flow through a network with whole bounds, so
x and w may be continuous; only y (yes or no) and d (whole) are not.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy import sparse

from geo import mixed_integer
from survey_app.purchase.bids import Bid, StepKind

__all__ = ["Assignment", "Level", "Terms", "levels", "solve"]

Floats = NDArray[np.float64]
TINY = 1e-7
ALONE = -1


@dataclass(frozen=True, slots=True)
class Level:
    """Numbers of homes ``lo`` to ``hi`` at which the price steps cost ``constant + slope * homes``.

    ``dearest`` is the largest share of a home, mobilization included, at any of
    these numbers: who can pay it can pay every other.
    """

    lo: int
    hi: int
    constant: float
    slope: float
    dearest: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """The purchase as arrays, for n homes, B bids and R rounds.

    ``alone_usd`` (n); ``extra_usd`` (B, n) what each home's own scope adds;
    ``loss_usd`` (n, R); ``ceiling_usd`` (B, n, R) the most the shared price may
    come to for that home there, minus infinity where it cannot buy;
    ``capacity`` (B, R) homes.
    """

    bids: tuple[Bid, ...]
    alone_usd: Floats
    extra_usd: Floats
    loss_usd: Floats
    ceiling_usd: Floats
    capacity: NDArray[np.int64]

    @property
    def homes(self) -> int:
        """How many homes there are."""
        return len(self.alone_usd)

    def total_usd(self, choice: NDArray[np.int64]) -> float:
        """Total expected cost of a choice (n): ``bid * R + round``, or -1 alone; exact."""
        rounds = self.loss_usd.shape[1]
        total = float(self.alone_usd[choice == ALONE].sum())
        for b, bid in enumerate(self.bids):
            for r in range(rounds):
                at = choice == b * rounds + r
                if n := int(at.sum()):
                    total += bid.total_usd(n) + float((self.extra_usd[b, at] + self.loss_usd[at, r]).sum())
        return total


@dataclass(frozen=True, slots=True, kw_only=True)
class Assignment:
    """What the solver found.

    ``choice`` as in `Terms.total_usd`, None when it stopped without any;
    ``bound_usd`` no choice costs less (None when unknown); ``nodes`` searched.
    """

    choice: NDArray[np.int64] | None
    bound_usd: float | None
    nodes: int


def levels(bid: Bid, most: int, spread_usd: float) -> list[Level]:
    """The levels of a bid up to ``most`` homes.

    Each price step is cut so that the shares of a home within a level lie at
    most ``spread_usd`` apart. Without mobilization an all-units step is one level.
    """
    found: list[Level] = []
    first = bid.steps[0].from_homes
    lo, low, high, law = 0, 0.0, 0.0, (0.0, 0.0)
    for n in range(first, most + 1):
        if bid.why_not(n):
            continue
        share, now = bid.home_usd(n), _law(bid, n)
        if lo and now == law and max(high, share) - min(low, share) <= spread_usd + TINY:
            low, high = min(low, share), max(high, share)
            found[-1] = Level(lo, n, *law, high)
        else:
            lo, low, high, law = n, share, share, now
            found.append(Level(n, n, *law, share))
    return found


def _law(bid: Bid, homes: int) -> tuple[float, float]:
    """Constant and slope of the price steps' cost at a number of homes."""
    step = [one for one in bid.steps if one.from_homes <= homes][-1]
    if bid.step_kind is StepKind.ALL_UNITS:
        return 0.0, step.price_usd
    return bid.steps_usd(step.from_homes) - step.from_homes * step.price_usd, step.price_usd


def solve(terms: Terms, *, relative_gap: float, node_limit: int, spread_usd: float) -> Assignment:
    """Solve the program, to a gap or a number of nodes; never by the clock.

    Parameters
    ----------
    terms
        The purchase.
    relative_gap
        Stop when the total is proven within this share of the least possible.
    node_limit
        Stop after this many nodes, whatever the gap.
    spread_usd
        See `levels`.

    Returns
    -------
    Assignment
        Every home's price lies within its ceiling at every number of homes of
        its level.
    """
    offers = list(_offers(terms, spread_usd))
    if not offers:
        return Assignment(choice=np.full(terms.homes, ALONE), bound_usd=float(terms.alone_usd.sum()), nodes=0)
    model = _Model(terms, offers)
    found = mixed_integer.solve(model.program(), relative_gap=relative_gap, node_limit=node_limit)
    if found.x is None:
        return Assignment(choice=None, bound_usd=found.bound, nodes=found.nodes)
    solution = found.x
    share = solution[: model.homes_columns]
    if np.any(np.abs(share - np.round(share)) > 1e-5):
        solution = model.at_a_corner(solution)
    return Assignment(choice=model.choice(solution), bound_usd=found.bound, nodes=found.nodes)


@dataclass(slots=True)
class _Offer:
    """One bid in one round: the homes that may take it, its levels, and where its columns begin."""

    bid: int
    round: int
    homes: NDArray[np.int64]
    allowed: NDArray[np.bool_]
    levels: list[Level]
    x: int = 0
    w: int = 0
    y: int = 0
    d: int = -1


class _Model:
    """Columns: x of every offer, then w, y and d of every offer, then one column fixed at 1 for the price alone.

    That last column keeps the total in the objective, so that the solver's
    relative gap is a share of the total and not of the saving.
    """

    def __init__(self, terms: Terms, offers: list[_Offer]) -> None:
        self.terms, self.offers = terms, offers
        at = 0
        for offer in self.offers:
            offer.x, at = at, at + len(offer.homes)
        self.homes_columns = at
        for offer in self.offers:
            offer.w, at = at, at + len(offer.levels)
        for offer in self.offers:
            offer.y, at = at, at + len(offer.levels)
        for offer in self.offers:
            bid = terms.bids[offer.bid]
            if bid.mobilization_usd_per_day > 0 or bid.minimum_homes_per_day > 1:
                offer.d, at = at, at + 1
        self.columns = at + 1
        self._columns()
        self._rows()

    def _columns(self) -> None:
        terms = self.terms
        self.cost = np.zeros(self.columns)
        self.whole = np.zeros(self.columns, dtype=bool)
        self.lower = np.zeros(self.columns)
        self.upper = np.ones(self.columns)
        self.cost[-1], self.lower[-1] = terms.alone_usd.sum(), 1.0
        for offer in self.offers:
            i, size = offer.homes, len(offer.levels)
            self.cost[offer.x : offer.x + len(i)] = (
                terms.extra_usd[offer.bid, i] + terms.loss_usd[i, offer.round] - terms.alone_usd[i]
            )
            self.cost[offer.w : offer.w + size] = [one.slope for one in offer.levels]
            self.upper[offer.w : offer.w + size] = [one.hi for one in offer.levels]
            self.cost[offer.y : offer.y + size] = [one.constant for one in offer.levels]
            self.whole[offer.y : offer.y + size] = True
            if offer.d >= 0:
                bid = terms.bids[offer.bid]
                self.cost[offer.d] = bid.mobilization_usd_per_day
                self.whole[offer.d] = True
                self.upper[offer.d] = bid.days(offer.levels[-1].hi)

    def _rows(self) -> None:
        rows: list[NDArray[np.int64]] = []
        columns: list[NDArray[np.int64]] = []
        values: list[Floats] = []
        low: list[Floats] = []
        high: list[Floats] = []
        count = 0

        def add(row: NDArray[np.int64], column: NDArray[np.int64], value: Floats) -> None:
            rows.append(row + count)
            columns.append(column)
            values.append(value)

        def close(lower: Floats, upper: Floats) -> None:
            nonlocal count
            low.append(lower)
            high.append(upper)
            count += len(lower)

        n = self.terms.homes
        for offer in self.offers:  # every home buys at most once
            add(offer.homes, offer.x + np.arange(len(offer.homes)), np.ones(len(offer.homes)))
        close(np.full(n, -np.inf), np.ones(n))
        for offer in self.offers:
            size, homes = len(offer.levels), len(offer.homes)
            w, y = offer.w + np.arange(size), offer.y + np.arange(size)
            zero = np.zeros(size, dtype=np.int64)
            # The homes are counted in the level that is open.
            add(np.zeros(homes, dtype=np.int64), offer.x + np.arange(homes), np.ones(homes))
            add(zero, w, -np.ones(size))
            close(np.zeros(1), np.zeros(1))
            each = np.arange(size)
            add(each, w, np.ones(size))
            add(each, y, -np.array([one.lo for one in offer.levels], dtype=float))
            close(np.zeros(size), np.full(size, np.inf))
            add(each, w, np.ones(size))
            add(each, y, -np.array([one.hi for one in offer.levels], dtype=float))
            close(np.full(size, -np.inf), np.zeros(size))
            add(zero, y, np.ones(size))
            close(np.full(1, -np.inf), np.ones(1))
            # Those who cannot pay the dearest levels are at most as many as are counted in the others.
            dearest_first = np.argsort([-one.dearest for one in offer.levels], kind="stable")
            first = offer.allowed[:, dearest_first].argmax(axis=1)
            for k in range(1, size):
                some = np.flatnonzero(first >= k)
                if not len(some) or np.array_equal(some, np.flatnonzero(first >= k + 1)):
                    continue
                add(np.zeros(len(some), dtype=np.int64), offer.x + some, np.ones(len(some)))
                add(np.zeros(size - k, dtype=np.int64), w[dearest_first[k:]], -np.ones(size - k))
                close(np.full(1, -np.inf), np.zeros(1))
            if offer.d >= 0:
                bid = self.terms.bids[offer.bid]
                for per_day, lower, upper in (
                    (bid.day_size, -np.inf, 0.0),
                    (bid.minimum_homes_per_day, 0.0, np.inf),
                ):
                    add(zero, w, np.ones(size))
                    add(np.zeros(1, dtype=np.int64), np.array([offer.d]), np.array([-float(per_day)]))
                    close(np.array([lower]), np.array([upper]))
                # Follows from the rows above for whole days; tightens the bound while they are not.
                add(zero, y, np.array([bid.days(one.lo) for one in offer.levels], dtype=float))
                add(np.zeros(1, dtype=np.int64), np.array([offer.d]), np.array([-1.0]))
                close(np.full(1, -np.inf), np.zeros(1))
        self.matrix = sparse.csr_array(
            (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))), shape=(count, self.columns)
        )
        self.row_lower, self.row_upper = np.concatenate(low), np.concatenate(high)

    def program(self) -> mixed_integer.Program:
        """As the solver takes it."""
        return mixed_integer.Program(
            cost=self.cost,
            whole=self.whole,
            lower=self.lower,
            upper=self.upper,
            rows=self.matrix,
            row_lower=self.row_lower,
            row_upper=self.row_upper,
        )

    def at_a_corner(self, solution: Floats) -> Floats:
        """The same levels and days with the homes assigned anew by the simplex method, whose corners are whole."""
        lower, upper = self.lower.copy(), self.upper.copy()
        lower[self.whole] = upper[self.whole] = np.round(solution[self.whole])
        found = mixed_integer.solve(replace(self.program(), whole=np.zeros_like(self.whole), lower=lower, upper=upper))
        return found.x if found.x is not None and found.proven else solution

    def choice(self, solution: Floats) -> NDArray[np.int64]:
        """Bid and round of every home."""
        chosen = np.full(self.terms.homes, ALONE)
        rounds = self.terms.loss_usd.shape[1]
        for offer in self.offers:
            takes = solution[offer.x : offer.x + len(offer.homes)] > 0.5
            chosen[offer.homes[takes]] = offer.bid * rounds + offer.round
        return chosen


def _offers(terms: Terms, spread_usd: float) -> Iterator[_Offer]:
    for b, bid in enumerate(terms.bids):
        most = int(min(terms.homes, terms.capacity[b].max(initial=0)))
        whole = levels(bid, most, spread_usd)
        for r in range(terms.loss_usd.shape[1]):
            ceiling = terms.ceiling_usd[b, :, r]
            cap = int(min(terms.capacity[b, r], np.isfinite(ceiling).sum()))
            fits = [replace(one, hi=min(one.hi, cap)) for one in whole if one.lo <= cap]
            if not fits:
                continue
            allowed = ceiling[:, None] + TINY >= np.array([one.dearest for one in fits])
            homes = np.flatnonzero(allowed.any(axis=1))
            merged, keep = _merged(fits, allowed[homes])
            # A level holds no more homes than can pay it; one that cannot be filled is no level.
            able = keep.sum(axis=0)
            fillable = np.array([n >= one.lo for n, one in zip(able, merged, strict=True)])
            open_levels = [
                replace(one, hi=min(one.hi, int(n))) for n, one in zip(able, merged, strict=True) if n >= one.lo
            ]
            keep = keep[:, fillable]
            some = keep.any(axis=1) if open_levels else np.zeros(len(homes), dtype=bool)
            if some.any():
                yield _Offer(bid=b, round=r, homes=homes[some], allowed=keep[some], levels=open_levels)


def _merged(fits: Sequence[Level], allowed: NDArray[np.bool_]) -> tuple[list[Level], NDArray[np.bool_]]:
    """Neighboring levels made one where they cost alike and nobody is allowed at one and not the other."""
    merged, kept = [fits[0]], [0]
    for k in range(1, len(fits)):
        last, own = merged[-1], fits[k]
        same = (last.constant, last.slope) == (own.constant, own.slope)
        if same and np.array_equal(allowed[:, kept[-1]], allowed[:, k]):
            merged[-1] = Level(last.lo, own.hi, own.constant, own.slope, max(last.dearest, own.dearest))
        else:
            merged.append(own)
            kept.append(k)
    return merged, allowed[:, kept]
