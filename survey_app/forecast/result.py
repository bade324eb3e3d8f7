"""What a forecast says, as values, and as one JSON object."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

__all__ = [
    "Diagnostics",
    "Expected",
    "FanYear",
    "Forecast",
    "HomeChance",
    "HorizonForecast",
    "PhaseForecast",
    "Weighing",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """A count of heaters lost.

    Parameters
    ----------
    homes
        Number of homes it is about.
    mean
        Expected number of heaters that fail.
    low, high
        90% interval of the number that will be counted, chance and ignorance together.
    """

    homes: int
    mean: float
    low: int
    high: int

    def to_dict(self) -> dict[str, Any]:
        """As plain data: ``homes``, ``mean``, ``low``, ``high``."""
        return {"homes": self.homes, "mean": round(self.mean, 3), "low": self.low, "high": self.high}


@dataclass(frozen=True, slots=True, kw_only=True)
class PhaseForecast:
    """One phase within a horizon; `phase` is None for homes of no phase."""

    phase: str | None
    answered: Expected
    everyone: Expected
    silent_way: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HorizonForecast:
    """How many heaters fail within `years`: in homes that answered, in all, and by phase."""

    years: float
    answered: Expected
    everyone: Expected
    by_phase: tuple[PhaseForecast, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FanYear:
    """Losses in the `year`-th year from now, and from now to its end; replacements of today's heaters included."""

    year: int
    in_year: Expected
    so_far: Expected


@dataclass(frozen=True, slots=True, kw_only=True)
class HomeChance:
    """One home that answered: its chance to lose a heater within `years`, and how sure that is (90%)."""

    home_id: str
    years: float
    chance: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighing:
    """One parameter before and after the local answers.

    Parameters
    ----------
    name
        In plain words.
    prior, prior_low, prior_high
        Center and 90% range before; in years for the median life, as a factor on life for effects.
    now, now_low, now_high
        The same after.
    local_weight
        Share of what is now known that comes from the answers: one minus the ratio of the variances.
    distinguishable
        For effects: whether the 90% range excludes "no effect". None for others.
    source
        What the prior rests on.
    """

    name: str
    prior: float
    prior_low: float
    prior_high: float
    now: float
    now_low: float
    now_high: float
    local_weight: float
    distinguishable: bool | None
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnostics:
    """What a volunteer should look at before believing the forecast.

    Parameters
    ----------
    failures, replaced_early
        Dated ends the answers report.
    effective_failures
        The answers say as much about the median life as this many heaters watched from
        installation to failure.
    known_history
        Homes that say how an earlier heater ended.
    law_weights
        Probability of each law of life.
    effective_draws
        Share of effective draws; below 0.3 another method took over.
    method
        How the draws were made.
    response_tilt, response_tilt_low, response_tilt_high
        Estimated factor by which a leak in the last five years made a home keener to answer;
        None where it cannot be estimated.
    prior_conflict
        By how many standard deviations of prior and data together the local median life differs
        from the prior's.
    set_aside
        Sentences on records that were not used.
    """

    failures: int
    replaced_early: int
    effective_failures: float
    known_history: int
    law_weights: Mapping[str, float]
    effective_draws: float
    method: str
    response_tilt: float | None
    response_tilt_low: float | None
    response_tilt_high: float | None
    prior_conflict: float
    set_aside: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """How many heaters a community will lose, and what that rests on.

    Parameters
    ----------
    as_of
        Day from which the years are counted.
    homes, answered
        Homes of the community, and those that said something about a heater.
    refusal
        None, or the sentence why the answers were not used; then the numbers are the prior's.
    horizons
        One entry per horizon.
    fan
        Ten years, one entry each.
    chances
        One entry per home that answered and horizon; empty for tankless homes.
    expected_by_home
        Expected failures within the first horizon, for every home; for aggregation only.
    weighing
        Prior and local data side by side.
    diagnostics
        See :class:`Diagnostics`.
    sentences
        What it all means, in plain words.
    """

    as_of: date
    homes: int
    answered: int
    refusal: str | None
    horizons: tuple[HorizonForecast, ...]
    fan: tuple[FanYear, ...]
    chances: tuple[HomeChance, ...]
    expected_by_home: Mapping[str, float] = field(repr=False)
    weighing: tuple[Weighing, ...]
    diagnostics: Diagnostics
    sentences: tuple[str, ...]

    def horizon(self, years: float) -> HorizonForecast:
        """The forecast for a horizon.

        Raises
        ------
        KeyError
            When it was not asked for.
        """
        for entry in self.horizons:
            if entry.years == years:
                return entry
        raise KeyError(f"No horizon of {years} years. There are {[h.years for h in self.horizons]}.")

    def to_dict(self) -> dict[str, Any]:
        """As plain data for JSON; names no home and no address.

        Returns
        -------
        dict
            ``as_of``, ``homes``, ``answered``, ``refusal``; ``horizons``: list of ``years``,
            ``answered`` and ``everyone`` (each ``homes``, ``mean``, ``low``, ``high``: number of
            heaters that fail and its 90% interval) and ``by_phase`` (list of ``phase``,
            ``answered``, ``everyone``, ``silent_homes``: how homes that have not answered were
            forecast); ``fan``: list of ``year``, ``in_year``, ``so_far``; ``weighing``: list of
            parameters with ``prior`` and ``now`` (value, low, high), ``local_weight``,
            ``distinguishable_from_none``, ``source``; ``diagnostics``; ``sentences``.
        """
        d = self.diagnostics
        return {
            "as_of": self.as_of.isoformat(),
            "homes": self.homes,
            "answered": self.answered,
            "refusal": self.refusal,
            "horizons": [
                {
                    "years": h.years,
                    "answered": h.answered.to_dict(),
                    "everyone": h.everyone.to_dict(),
                    "by_phase": [
                        {
                            "phase": p.phase,
                            "answered": p.answered.to_dict(),
                            "everyone": p.everyone.to_dict(),
                            "silent_homes": p.silent_way,
                        }
                        for p in h.by_phase
                    ],
                }
                for h in self.horizons
            ],
            "fan": [{"year": f.year, "in_year": f.in_year.to_dict(), "so_far": f.so_far.to_dict()} for f in self.fan],
            "weighing": [
                {
                    "name": w.name,
                    "prior": [round(v, 4) for v in (w.prior, w.prior_low, w.prior_high)],
                    "now": [round(v, 4) for v in (w.now, w.now_low, w.now_high)],
                    "local_weight": round(w.local_weight, 3),
                    "distinguishable_from_none": w.distinguishable,
                    "source": w.source,
                }
                for w in self.weighing
            ],
            "diagnostics": {
                "failures": d.failures,
                "replaced_early": d.replaced_early,
                "effective_failures": round(d.effective_failures, 1),
                "known_history": d.known_history,
                "law_weights": {k: round(v, 4) for k, v in d.law_weights.items()},
                "effective_draws": round(d.effective_draws, 3),
                "method": d.method,
                "response_tilt": None
                if d.response_tilt is None
                else [round(v, 3) for v in (d.response_tilt, d.response_tilt_low or 0.0, d.response_tilt_high or 0.0)],
                "prior_conflict": round(d.prior_conflict, 2),
                "set_aside": list(d.set_aside),
            },
            "sentences": list(self.sentences),
        }
