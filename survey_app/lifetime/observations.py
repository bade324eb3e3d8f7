"""From homes, heaters and dated acts to what the statistics may use.

One row is one heater's time under observation::

    house built                                                    as_of
    |--- heater 1 (original) ---X failed                             |
    |                           |--- heater 2 ---O replaced early    |
    |                                            |--- heater 3 ----->| in service
    |
    |          ? nobody knows   |---- today's heater --------------->|  renewal term: *some* heater
    |                           ^ installed x years after the house      was replaced at x
    |     ^ moved in
    |     |----------- watched from here (left truncation) --------->|  only where asked for

    date known to a window:   |~~~~|  the row averages over the window
    dated anode change:  ----A====>   life counts differently from A on, never before

A home is a *socket*: from construction on, one heater follows another. The
chain opens in one of three ways, and each has its own likelihood:

- the first known heater is the one the house was built with: nothing to add;
- it is a later one, and nobody knows what came before: its *start* is one of
  :data:`survey_app.lifetime.renewal.SOCKET_KINDS`, the renewal term;
- the start cannot be used (``history="move-in"``): the row is watched from the
  day the people moved in, and says nothing about the time before.

What contradicts itself is set aside with a sentence; nothing is repaired.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .laws import Floats

__all__ = [
    "EARLY",
    "FAILED",
    "IN_SERVICE",
    "NO_START",
    "UNKNOWN",
    "HomeState",
    "Observations",
    "Problem",
    "durations",
]

Ints = NDArray[np.int64]

IN_SERVICE, FAILED, EARLY, UNKNOWN = 0, 1, 2, 3
NO_START = -1


class HomeState:
    """What is known about the heater in a home today: the codes of `Observations.home_state`."""

    AGE_KNOWN = 0
    AGE_UNKNOWN = 1
    NO_TANK = 2
    SILENT = 3


@dataclass(frozen=True, slots=True)
class Problem:
    """Something set aside, as a sentence that names no address.

    Parameters
    ----------
    home_id, heater_id
        Where; `heater_id` is None when the whole home is meant.
    sentence
        What is wrong and what to do.
    """

    home_id: str
    heater_id: str | None
    sentence: str


@dataclass(frozen=True, kw_only=True, eq=False)
class Observations:
    """Spells as arrays: one entry per heater's time under observation (see the drawing above).

    Times are years before or after `as_of` (so the past is negative); `n` is the
    number of rows, `q` of factors.

    Parameters
    ----------
    as_of
        The day up to which everything is known.
    heater_ids
        Length n.
    home
        Index into `home_ids`, shape (n,).
    phase
        Index into `phases`, -1 for none, shape (n,).
    began, ended
        Windows, shape (n, 2). A row in service ends at `as_of`.
    end
        `IN_SERVICE`, `FAILED`, `EARLY` (replaced or converted before failing) or `UNKNOWN`.
    watched_from
        Left truncation; -inf where the row is watched from its beginning.
    start
        Index into `SOCKET_KINDS`, or `NO_START`.
    built
        When the house was finished; nan where nobody knows.
    from_construction
        Whether the row opens a chain known back to the construction.
    maybe_original
        Whether the window of a row with a start includes the completion of the house, so that
        the heater may also be the one the house was built with.
    anode_from, flush_from
        The first dated act; inf where there is none.
    factors, factor_names
        What does not change during a life, shape (n, q), centered on the homes that answered.
    weight
        How often the row counts.
    home_ids, home_phase, home_built, home_state, home_row
        One entry per home in the survey: `home_row` is the row of the heater in service, or -1.
    known_history
        Number of homes that say how an earlier heater ended.
    problems
        What was set aside.
    refusal
        None, or the sentence that says why these rows must not be fitted.
    narrow_years
        An end known to a window no wider than this counts as exact, at its middle.
    """

    as_of: date
    heater_ids: tuple[str, ...]
    home: Ints
    phase: Ints
    phases: tuple[str, ...]
    began: Floats
    ended: Floats
    end: Ints
    watched_from: Floats
    start: Ints
    built: Floats
    from_construction: NDArray[np.bool_]
    maybe_original: NDArray[np.bool_]
    anode_from: Floats
    flush_from: Floats
    factors: Floats
    factor_names: tuple[str, ...]
    weight: Floats
    home_ids: tuple[str, ...] = ()
    home_phase: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.int64))
    home_built: Floats = field(default_factory=lambda: np.zeros(0))
    home_state: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.int64))
    home_row: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.int64))
    known_history: int = 0
    problems: tuple[Problem, ...] = ()
    refusal: str | None = None
    narrow_years: float = 0.15

    def __len__(self) -> int:
        return len(self.end)

    @property
    def first_acts(self) -> dict[str, Floats]:
        """The first dated act of every kind whose effect on life is looked for, by its name among the parameters."""
        return {"anode changed": self.anode_from, "flushed": self.flush_from}

    @property
    def failures(self) -> int:
        """Failures that someone dated: as a heater's end, or as the end of the one before it."""
        dated = (self.end == FAILED).sum() + np.isin(self.start, (2, 3)).sum()
        return int(dated)

    @property
    def replaced_early(self) -> int:
        """Replacements before failing that someone dated."""
        return int((self.end == EARLY).sum() + np.isin(self.start, (4, 5)).sum())

    @property
    def respondents(self) -> int:
        """Homes that said something about their heater."""
        return int((self.home_state != HomeState.SILENT).sum())

    def home_opened(self) -> NDArray[np.bool_]:
        """Whether the row belongs to a home whose chain is known back to construction."""
        opened = np.zeros(max(len(self.home_ids), int(self.home.max(initial=-1)) + 1), dtype=bool)
        opened[self.home[self.from_construction]] = True
        return np.asarray(opened[self.home], dtype=np.bool_)

    def rows(self, which: NDArray[np.bool_]) -> Observations:
        """The rows of `which` alone; homes and problems stay."""
        return replace(
            self,
            heater_ids=tuple(h for h, keep in zip(self.heater_ids, which, strict=True) if keep),
            home=self.home[which],
            phase=self.phase[which],
            began=self.began[which],
            ended=self.ended[which],
            end=self.end[which],
            watched_from=self.watched_from[which],
            start=self.start[which],
            built=self.built[which],
            from_construction=self.from_construction[which],
            maybe_original=self.maybe_original[which],
            anode_from=self.anode_from[which],
            flush_from=self.flush_from[which],
            factors=self.factors[which],
            weight=self.weight[which],
            home_row=np.full(len(self.home_row), -1, dtype=np.int64),
        )


def durations(
    durations: ArrayLike,
    event_observed: ArrayLike | None = None,
    *,
    entry: ArrayLike | None = None,
    upper: ArrayLike | None = None,
    weights: ArrayLike | None = None,
    factors: ArrayLike | None = None,
    factor_names: Sequence[str] = (),
    as_of: date = date(2000, 1, 1),
) -> Observations:
    """Plain life data as observations: for comparison with the literature and other libraries.

    Parameters
    ----------
    durations
        Ages at exit, shape (n,); the lower bound where `upper` is given.
    event_observed
        Whether the exit was a failure; all of them when None. Ignored where `upper` is given.
    entry
        Ages at which each unit came under observation (left truncation); zero when None.
    upper
        Upper bounds of interval-censored ages, inf for right censoring. An entry equal to
        the lower bound is an exact failure; a lower bound of zero is left censoring.
    weights
        How often each entry counts.
    factors, factor_names
        Covariates, shape (n, q).
    as_of
        Any day; ages are counted from it.

    Returns
    -------
    Observations
    """
    low = np.asarray(durations, dtype=np.float64)
    n = len(low)
    if upper is None:
        high = low.copy()
        failed = np.ones(n, bool) if event_observed is None else np.asarray(event_observed).astype(bool)
    else:
        high = np.asarray(upper, dtype=np.float64)
        failed = np.isfinite(high)
        high = np.where(failed, high, low)
    entered = np.zeros(n) if entry is None else np.asarray(entry, dtype=np.float64)
    table = np.zeros((n, 0)) if factors is None else np.asarray(factors, dtype=np.float64).reshape(n, -1)
    names = tuple(factor_names) or tuple(f"factor {i + 1}" for i in range(table.shape[1]))
    return Observations(
        as_of=as_of,
        heater_ids=tuple(map(str, range(n))),
        home=np.arange(n),
        phase=np.full(n, -1),
        phases=(),
        began=np.zeros((n, 2)),
        ended=np.column_stack([low, high]),
        end=np.where(failed, FAILED, IN_SERVICE),
        watched_from=np.where(entered > 0, entered, -np.inf),
        start=np.full(n, NO_START),
        built=np.full(n, np.nan),
        from_construction=np.zeros(n, bool),
        maybe_original=np.zeros(n, bool),
        anode_from=np.full(n, np.inf),
        flush_from=np.full(n, np.inf),
        factors=table,
        factor_names=names,
        weight=np.ones(n) if weights is None else np.asarray(weights, dtype=np.float64),
        narrow_years=0.0,
    )
