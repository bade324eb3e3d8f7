r"""When to replace something that fails at random and costs more when it does.

A unit in service fails by a law with survival :math:`S`. Replacing it as planned
costs :math:`c_p`, after a failure :math:`c_f`; money later counts less, at the
rate :math:`r` a year. With the discounted survival and its area

.. math:: D(t) = e^{-rt} S(t), \qquad M(t) = \int_0^t e^{-ru} S(u)\,du

always replacing at age :math:`T` costs, spread evenly over time,

.. math:: g(T) = \frac{c_f - (c_f - c_p)\,D(T)}{M(T)} - r\,c_f

dollars a year. For :math:`r = 0` this is the cost rate of Barlow and Proschan
(Mathematical Theory of Reliability, 1965, chapter 4); for :math:`r > 0`,
:math:`g/r` is the present value of Fox (Age replacement with discounting,
Operations Research 14, 1966), after one integration by parts, which spares the
density. Nothing but the survival function is needed, and one formula serves both.

Let :math:`G = g + r c_f` at its least. A unit of age :math:`a` that is kept until
age :math:`t` at most and then replaced costs, more than a new one would in the
same time,

.. math:: W(a, t) = c_f - \frac{Q(t) - G\,M(a)}{D(a)}, \qquad
          Q(t) = (c_f - c_p)\,D(t) + G\,M(t),

so the best stopping age is where :math:`Q` is largest from :math:`a` on, whatever
the shape of the hazard. Replacing now at price :math:`c` is cheaper than keeping
when :math:`\min_t W(a, t) > c`.

Minima are taken over a grid of ages, not as roots of a first-order condition: a
lognormal hazard falls again at high age and has two such roots.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

__all__ = ["AgeReplacement", "Policy", "break_even_age", "keep_value", "optimal_age", "wait_index"]

Floats = NDArray[np.float64]
Survival = Callable[[Floats], Floats]
"""Survival of one or more laws: ages (n,) give (n,) or (laws, n); ages (laws, n) give (laws, n)."""

_GONE = 1e-8  # a law is followed until this little of it, discounted, is left
_GOLDEN = (5**0.5 - 1) / 2
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(4)


@dataclass(frozen=True, eq=False)
class Policy:
    """The best age to replace at, for each law.

    Parameters
    ----------
    age
        In the unit of the laws' ages; infinite where waiting for the failure is never beaten.
    cost_rate
        Cost per unit of time, spread evenly (g of the module's text); its ratio to a positive discount rate
        is the present value of all costs from a new unit on.
    index
        The same plus the discount rate times the cost of a failure (G of the module's text).
    """

    age: Floats
    cost_rate: Floats
    index: Floats


@dataclass(frozen=True, eq=False)
class AgeReplacement:
    """Age replacement for several laws at once, on one grid of ages.

    Parameters
    ----------
    survival
        The laws.
    ages
        The grid, increasing from zero.
    stays
        Survival on the grid, shape (laws, ages).
    areas
        Area under the discounted survival within each cell of the grid, shape (laws, ages - 1).
    rate
        Discount rate per unit of age, continuous, zero or more.
    """

    survival: Survival
    ages: Floats
    stays: Floats
    areas: Floats
    rate: float

    @classmethod
    def of(cls, survival: Survival, *, rate: float = 0.0, at: Sequence[float] = (), cells: int = 480) -> AgeReplacement:
        """Lay the laws out on a grid that is fine where units are young and ends where none is left.

        Parameters
        ----------
        survival
            The laws; see :data:`Survival`.
        rate
            Discount rate per unit of age.
        at
            Ages that the grid must have.
        cells
            Cells of the grid. Simpson's rule in each gives the area under the survival.

        Raises
        ------
        ValueError
            When the rate or an age is negative, or a law never ends.
        """
        must = np.unique(np.asarray(at, dtype=np.float64))
        if rate < 0 or (must.size and must[0] < 0):
            raise ValueError("The discount rate and the ages must be zero or more.")
        ladder = np.geomspace(1e-6, 1e9, 241)
        left = np.max(np.atleast_2d(survival(ladder)), axis=0) * np.exp(-np.minimum(rate * ladder, 700.0))
        beyond = np.flatnonzero(left < _GONE)
        if not beyond.size:
            raise ValueError("A law of life must come to an end: its survival does not fall to zero.")
        end = max(float(ladder[beyond[0]]), float(must[-1]) * 1.0001 if must.size else 0.0)
        ages = np.union1d(end * (np.arange(cells + 1) / cells) ** 2, must)
        fine = np.empty(2 * len(ages) - 1)
        fine[::2], fine[1::2] = ages, (ages[1:] + ages[:-1]) / 2
        stays = np.atleast_2d(survival(fine))
        worth = stays * np.exp(-rate * fine)
        areas = np.diff(ages) / 6 * (worth[:, :-2:2] + 4 * worth[:, 1::2] + worth[:, 2::2])
        return cls(survival, ages, np.ascontiguousarray(stays[:, ::2]), areas, rate)

    @cached_property
    def discounted(self) -> Floats:
        """Discounted survival on the grid, shape (laws, ages)."""
        return np.asarray(self.stays * np.exp(-self.rate * self.ages))

    @cached_property
    def area(self) -> Floats:
        """Area under the discounted survival up to each age, shape (laws, ages)."""
        return np.concatenate([np.zeros((len(self.areas), 1)), np.cumsum(self.areas, axis=1)], axis=1)

    def policy(self, planned: float, failure: float, *, exact: bool = True) -> Policy:
        """The best age to replace at, and what that costs.

        Parameters
        ----------
        planned, failure
            Cost of a planned replacement, and of one after a failure.
        exact
            Whether to search between the ages of the grid as well: costs are as good without,
            the age is then good to about a hundredth.

        Raises
        ------
        ValueError
            When the planned cost is not above zero, or a failure costs less than nothing.
        """
        if planned <= 0 or failure < 0:
            raise ValueError("A planned replacement must cost more than zero and a failure zero or more.")
        more = failure - planned
        index = (failure - more * self.discounted[:, 1:]) / self.area[:, 1:]
        least = np.argmin(index, axis=1)
        rows = np.arange(len(index))
        best, run = index[rows, least], index[:, -1]
        # A gain too small to tell from the end of the grid is none: such a unit is kept until it fails.
        never = (least >= index.shape[1] - 2) | (run - best <= 1e-9 * run)
        inside = np.clip(least, 1, index.shape[1] - 2)
        if exact:
            age, value = self._search(inside, more, failure)
        else:
            age, value = self._parabola(inside, index)
        best = np.minimum(best, np.where(never, best, value))
        return Policy(np.where(never, np.inf, age), best - self.rate * failure, best)

    def wait_costs(self, age: float, planned: float, failure: float, policy: Policy) -> tuple[Floats, Floats]:
        """Ages from `age` on and what keeping until each of them costs, more than a new unit would.

        Parameters
        ----------
        age
            Age today; one of the grid's.
        planned, failure
            As for :meth:`policy`.
        policy
            What :meth:`policy` found.

        Returns
        -------
        ages : ndarray, shape (n,)
        costs : ndarray, shape (laws, n)
            W of the module's text. The first is the planned cost: replace now.
        """
        start = self._at(age)
        now = np.maximum(self.discounted[:, start], 1e-300)[:, None]
        # Areas are added up from today on: differences of areas since birth would lose the few that are left.
        area = np.cumsum(self.areas[:, start:], axis=1) / now
        later = self.discounted[:, start + 1 :] / now
        waits = failure - (failure - planned) * later - policy.index[:, None] * area
        return self.ages[start:], np.concatenate([np.full((len(waits), 1), planned), waits], axis=1)

    def keep_value(self, age: float, planned: float, failure: float, policy: Policy) -> Floats:
        """What a unit of this age costs if kept as long as is best, more than a new unit would.

        Replacing now for less than this is cheaper than keeping. It never exceeds the planned cost,
        because replacing today is one of the choices.
        """
        return np.asarray(self.wait_costs(age, planned, failure, policy)[1].min(axis=1))

    def wait_index(self, age: float, planned: float, failure: float, policy: Policy, *, wait: float = 1.0) -> Floats:
        """Cost of waiting and then replacing, less the cost of replacing now; above zero: replace now.

        The ages today and after the wait must be of the grid.
        """
        _, costs = self.wait_costs(age, planned, failure, policy)
        return np.asarray(costs[:, self._at(age + wait) - self._at(age)] - planned)

    def keep_values(self, planned: float, failure: float, policy: Policy) -> Floats:
        """:meth:`keep_value` at every age of the grid at once, shape (laws, ages), without replacing today as a choice.

        At ages that hardly any unit reaches it rests on almost nothing: use it where `stays` is not tiny.
        """
        gain = (failure - planned) * self.discounted + policy.index[:, None] * self.area
        most = np.maximum.accumulate(gain[:, ::-1], axis=1)[:, ::-1]
        with np.errstate(over="ignore"):
            left = (most - policy.index[:, None] * self.area) / np.maximum(self.discounted, 1e-300)
        return np.asarray(failure - left)

    def break_even(self, planned: float, failure: float, offer: float, policy: Policy) -> Floats:
        """The youngest age from which replacing now at the price `offer` beats keeping; infinite where none does."""
        keep = self.keep_values(planned, failure, policy)
        pays = (keep > offer) & (self.stays > 1e-7)
        first = np.argmax(pays, axis=1)
        rows = np.arange(len(pays))
        before = np.maximum(first - 1, 0)
        low, high = keep[rows, before] - offer, keep[rows, first] - offer
        share = np.clip(-low / np.where(high > low, high - low, 1.0), 0.0, 1.0)
        age = self.ages[before] + share * (self.ages[first] - self.ages[before])
        return np.asarray(np.where(pays.any(axis=1), np.where(first == 0, 0.0, age), np.inf))

    def _at(self, age: float) -> int:
        found = int(np.searchsorted(self.ages, age))
        for index in (found - 1, found):
            if 0 <= index < len(self.ages) and abs(self.ages[index] - age) <= 1e-9 * max(1.0, age):
                return index
        raise ValueError(f"Age {age:g} is not on the grid. Name it when the grid is laid out.")

    def _parabola(self, inside: NDArray[np.intp], index: Floats) -> tuple[Floats, Floats]:
        """Least point of the parabola through three ages; `inside` counts from the second age of the grid."""
        rows = np.arange(len(index))
        x = self.ages[1:][np.stack([inside - 1, inside, inside + 1])]
        y = np.stack([index[rows, inside + k] for k in (-1, 0, 1)])
        left, right = (y[1] - y[0]) / (x[1] - x[0]), (y[2] - y[1]) / (x[2] - x[1])
        bend = (right - left) / (x[2] - x[0])
        safe = bend > 0
        age = np.where(safe, (x[0] + x[1]) / 2 - left / (2 * np.where(safe, bend, 1.0)), x[1])
        age = np.clip(age, x[0], x[2])
        value = y[0] + (age - x[0]) * (left + bend * (age - x[1]))
        return age, np.where(safe, value, y[1])

    def _search(self, inside: NDArray[np.intp], more: float, failure: float) -> tuple[Floats, Floats]:
        """Golden section between the ages beside the grid's least one, areas by Gauss and Legendre."""
        rows = np.arange(len(self.area))
        start = self.ages[inside]
        base = self.area[rows, inside]

        def index(age: Floats) -> Floats:
            half = (age - start)[:, None] / 2
            nodes = np.concatenate([start[:, None] + half * (1 + _NODES), age[:, None]], axis=1)
            worth = np.atleast_2d(self.survival(nodes)) * np.exp(-self.rate * nodes)
            area = base + half[:, 0] * (worth[:, :-1] @ _WEIGHTS)
            return np.asarray((failure - more * worth[:, -1]) / area)

        low, high = start.copy(), self.ages[np.minimum(inside + 2, len(self.ages) - 1)].copy()
        one, two = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        at_one, at_two = index(one), index(two)
        for _ in range(40):
            left = at_one < at_two
            low, high = np.where(left, low, one), np.where(left, two, high)
            new = np.where(left, high - _GOLDEN * (high - low), low + _GOLDEN * (high - low))
            at_new = index(new)
            one, two = np.where(left, new, two), np.where(left, one, new)
            at_one, at_two = np.where(left, at_new, at_two), np.where(left, at_one, at_new)
        age = (low + high) / 2
        return age, index(age)


def optimal_age(survival: Survival, planned: float, failure: float, *, rate: float = 0.0) -> Policy:
    """The best age to replace at; see :meth:`AgeReplacement.policy`.

    Examples
    --------
    >>> found = optimal_age(lambda t: np.exp(-((t / 13) ** 2.5)), 1, 3)
    >>> round(float(found.age[0]), 4)
    8.5391
    """
    return AgeReplacement.of(survival, rate=rate).policy(planned, failure)


def keep_value(age: float, survival: Survival, planned: float, failure: float, *, rate: float = 0.0) -> Floats:
    """Value of keeping a unit of this age, for each law; see :meth:`AgeReplacement.keep_value`."""
    model = AgeReplacement.of(survival, rate=rate, at=(age,))
    return model.keep_value(age, planned, failure, model.policy(planned, failure))


def wait_index(
    age: float, survival: Survival, planned: float, failure: float, *, rate: float = 0.0, wait: float = 1.0
) -> Floats:
    """Cost of waiting less the cost of replacing now, for each law; see :meth:`AgeReplacement.wait_index`."""
    model = AgeReplacement.of(survival, rate=rate, at=(age, age + wait))
    return model.wait_index(age, planned, failure, model.policy(planned, failure), wait=wait)


def break_even_age(survival: Survival, planned: float, failure: float, offer: float, *, rate: float = 0.0) -> Floats:
    """Age from which an offer beats keeping, for each law; see :meth:`AgeReplacement.break_even`."""
    model = AgeReplacement.of(survival, rate=rate)
    return model.break_even(planned, failure, offer, model.policy(planned, failure))
