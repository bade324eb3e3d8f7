"""Checks that a volunteer can act on before believing the posterior."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from survey_app.records import Heater, Home, ServiceRecord

from .likelihood import Likelihood
from .observations import IN_SERVICE, NO_START, Observations
from .posterior import PriorDensity, posterior_mode
from .prior import Prior
from .reading import observations

__all__ = ["CutCheck", "cut_five"]

CUT_YEARS = 5.0
SUSPICIOUS = 1.64
"""One-sided 5% point of the standard normal."""
_MOST_UNKNOWN = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class CutCheck:
    """Whether answers seem tied to recent leaks.

    Parameters
    ----------
    possible
        Whether the answers allow the check.
    z
        Difference of the median life without and with the last five years, in its standard
        deviations (Hausman, Econometrica 46, 1978); nan where not possible.
    homes
        Homes used: those whose people came before the cut and whose heater of that day is known.
    unknown
        Homes left out because they replaced a heater since the cut without saying how old it was.
    median_years, median_years_before
        Median life from these homes with and without the last five years.
    sentence
        What it means and what to do.
    """

    possible: bool
    z: float
    homes: int
    unknown: int
    median_years: float
    median_years_before: float
    sentence: str


def cut_five(
    homes: Iterable[Home],
    heaters: Iterable[Heater],
    services: Iterable[ServiceRecord] = (),
    *,
    as_of: date,
    prior: Prior,
) -> CutCheck:
    """Compare the lives seen up to five years ago with all that were seen.

    People who had a leak lately are keener to answer a survey about heaters. Then the last
    five years hold too many failures, and a fit without them gives longer lives. Only homes
    whose people moved in before the cut are used, with left truncation at their arrival, so
    that the comparison is not disturbed by what nobody can have seen.

    Parameters
    ----------
    homes, heaters, services, as_of
        As for :func:`survey_app.lifetime.observations`.
    prior
        Used in both fits.

    Returns
    -------
    CutCheck
    """
    home_list = list(homes)
    found = observations(home_list, heaters, services, as_of=as_of, history="move-in")
    moved = {h.home_id: -h.moved_in.years_until(as_of) for h in home_list if h.moved_in is not None}
    came = np.array([moved.get(h, math.inf) for h in found.home_ids])
    known, unknown = _known_at_cut(found, came)
    if len(known) < 20 or unknown > _MOST_UNKNOWN * max(_ended_since(found, known) + unknown, 1):
        why = (
            "too few homes with people who came more than five years ago tell their heater's history"
            if len(known) < 20
            else f"{unknown} homes replaced a heater in the last five years without saying how old it was"
        )
        return CutCheck(
            possible=False,
            z=math.nan,
            homes=len(known),
            unknown=unknown,
            median_years=math.nan,
            median_years_before=math.nan,
            sentence=f"Whether recent leaks prompted answers cannot be checked this way: {why}. "
            "Ask which heater in the home it is, and when the one before was installed.",
        )
    full = _conditional(found, known, came)
    middle, variance = _log_median(full, prior)
    before, variance_before = _log_median(_cut(full), prior)
    gap = max(variance_before - variance, 0.05 * variance_before)
    z = (before - middle) / math.sqrt(gap)
    if z > SUSPICIOUS:
        sentence = (
            "Homes seem to have answered because of recent leaks: the lives of the last five years are shorter than "
            "those before. The forecast allows for it; answers from homes without trouble would help."
        )
    else:
        sentence = "No sign that recent leaks prompted people to answer."
    return CutCheck(
        possible=True,
        z=z,
        homes=len(known),
        unknown=unknown,
        median_years=math.exp(middle),
        median_years_before=math.exp(before),
        sentence=sentence,
    )


def _known_at_cut(found: Observations, came: np.ndarray) -> tuple[np.ndarray, int]:
    """Homes of people who came before the cut: those whose heater at the cut is known, and how many are not."""
    early = came <= -CUT_YEARS
    covers = (found.began.mean(axis=1) <= -CUT_YEARS) & (found.ended.mean(axis=1) > -CUT_YEARS)
    has_row, has_cover = np.zeros(len(came), bool), np.zeros(len(came), bool)
    has_row[found.home] = True
    has_cover[found.home[covers]] = True
    return np.flatnonzero(early & has_cover), int((early & has_row & ~has_cover).sum())


def _ended_since(found: Observations, known: np.ndarray) -> int:
    recent = (found.end != IN_SERVICE) & (found.ended.mean(axis=1) > -CUT_YEARS)
    return int(np.isin(known, found.home[recent]).sum())


def _conditional(found: Observations, known: np.ndarray, came: np.ndarray) -> Observations:
    """The rows of these homes, each watched from the later of its installation and the people's arrival."""
    rows = found.rows(np.isin(found.home, known) & (found.ended.mean(axis=1) > came[found.home]))
    arrival = came[rows.home]
    n = len(rows)
    return replace(
        rows,
        watched_from=np.where(arrival > rows.began.mean(axis=1), arrival, -np.inf),
        start=np.full(n, NO_START),
        from_construction=np.zeros(n, bool),
        maybe_original=np.zeros(n, bool),
    )


def _cut(rows: Observations) -> Observations:
    """The same rows as they stood at the cut."""
    kept = rows.rows((rows.began.mean(axis=1) < -CUT_YEARS) & (rows.watched_from < -CUT_YEARS))
    later = kept.ended.mean(axis=1) > -CUT_YEARS
    ended = np.where(later[:, None], -CUT_YEARS, kept.ended)
    return replace(
        kept,
        began=np.minimum(kept.began, -CUT_YEARS),
        ended=ended,
        end=np.where(later, IN_SERVICE, kept.end),
        anode_from=np.where(kept.anode_from > -CUT_YEARS, np.inf, kept.anode_from),
        flush_from=np.where(kept.flush_from > -CUT_YEARS, np.inf, kept.flush_from),
    )


def _log_median(rows: Observations, prior: Prior) -> tuple[float, float]:
    likelihood = Likelihood(rows, "weibull", bands_from=prior.early_ages_from)
    mode, covariance, _ = posterior_mode(likelihood, PriorDensity(prior, likelihood.layout, "weibull"))
    return float(mode[0]), float(covariance[0, 0])
