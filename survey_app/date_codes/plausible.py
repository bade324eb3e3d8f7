"""How plausible each year of manufacture is, before the code is looked at.

Heaters follow one another in a house: the first goes in when it is finished,
and each next one when the one before it is lost. How long they live is the
project's own prior (Weibull, median 13.5 years, shape 2.6: sources in
``survey_app/lifetime/prior.toml``); a quarter of the weight is spread evenly
over the years since, so that a neighborhood whose heaters live otherwise is not
read wrongly (the quarter is common practice, no source). A year that is not
possible at all has no weight; that is decided in `impossible`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from functools import lru_cache

from survey_app.date_codes.forms import OLDEST_YEARS
from survey_app.records import Dated
from survey_app.typed_dates import add_months

__all__ = ["Against", "Beside", "impossible", "year_weights"]

MEDIAN_LIFE_YEARS, SHAPE = 13.5, 2.6
EVEN = 0.25
"""The share of weight that is spread evenly over the years."""
MADE_THE_YEAR_BEFORE, MADE_THE_YEAR_AFTER = 0.2, 0.02
"""First heaters made in the year before the house's, and (a county's year may be one early) in the year after."""
STOCK_MONTHS = 12
"""Months a heater may wait between the factory and the house (common practice, no source)."""
SETTLED_YEARS = 90
"""So long after a house was finished, losses are as many every year, and its own year tells nothing any more."""
EMPTY_YEARS = 2
"""A house may stand unsold and without a heater for so long (common practice, no source)."""
CODE_SLACK_MONTHS = 24
"""A heater installed longer than this after the date on its plate is doubted (common practice, no source)."""
CHANGEOVER_DAYS = 365
"""An old heater and its successor are taken to meet within a year (common practice, no source)."""
UNSEEN = 0.1
"""Weight of heaters older than the move of people who tell how the one before ended (common practice, no source)."""


class Against(StrEnum):
    """Why a reading cannot be: last words of the messages' names."""

    FUTURE = "future"
    TOO_OLD = "too-old"
    HOUSE = "house"
    FIRST = "first"
    PREVIOUS = "previous"
    STATED = "stated"


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """What is known of the heater besides its code.

    Parameters
    ----------
    first
        Whether it is the first heater of the house; None where nobody says.
    previous_gone
        When the heater before it went.
    moved_in
        When the people came who tell how the heater before it ended.
    stated
        The installation date that was given.
    """

    first: bool | None = None
    previous_gone: Dated | None = None
    moved_in: Dated | None = None
    stated: Dated | None = None

    @property
    def confirms(self) -> bool:
        """Whether a reading that fits agrees with more than the house's year as the earliest there can be."""
        return self.first is True or self.previous_gone is not None or self.stated is not None


def impossible(made: Dated, *, house_year: int | None, beside: Beside, today: date) -> Against | None:
    """What speaks against a heater made in a window; None where nothing does."""
    if made.earliest > today:
        return Against.FUTURE
    if made.latest < add_months(today, -12 * OLDEST_YEARS):
        return Against.TOO_OLD
    if house_year is not None and made.latest.year < house_year - 1:
        return Against.HOUSE
    if house_year is not None and beside.first and made.earliest.year > house_year + EMPTY_YEARS:
        return Against.FIRST
    if (gone := beside.previous_gone) is not None:
        slack = timedelta(days=CHANGEOVER_DAYS)
        soonest = add_months(_shifted(gone.earliest, -slack), -CODE_SLACK_MONTHS)
        if made.latest < soonest or made.earliest > _shifted(gone.latest, slack):
            return Against.PREVIOUS
    if (stated := beside.stated) is not None and (
        made.earliest > stated.latest or made.latest < add_months(stated.earliest, -CODE_SLACK_MONTHS)
    ):
        return Against.STATED
    return None


def _shifted(day: date, by: timedelta) -> date:
    return date.fromordinal(min(max(day.toordinal() + by.days, 1), date.max.toordinal()))


def year_weights(*, house_year: int | None, beside: Beside, today: date) -> Mapping[int, float]:
    """The weight of each year of manufacture that is possible beside what is known, at most 1 in all."""
    weights = _since_the_house(house_year, beside.first, today.year)
    if beside.moved_in is None or beside.first:
        return weights
    unseen = beside.moved_in.earliest.year - STOCK_MONTHS // 12
    return {year: weight * (UNSEEN if year < unseen else 1.0) for year, weight in weights.items()}


@lru_cache(maxsize=500)
def _since_the_house(house_year: int | None, first: bool | None, now: int) -> Mapping[int, float]:
    years = range(now - OLDEST_YEARS - 1, now + 1)
    if house_year is None or house_year > now + 1:
        # Of a stock that renews itself as many are of an age as live to it.
        alive = {year: _surviving(now - year) for year in years}
        return _mixed(alive, dict.fromkeys(years, 1.0))
    house_year = max(house_year, now - SETTLED_YEARS)
    firsts = {
        house_year - 1: MADE_THE_YEAR_BEFORE,
        house_year: 1.0 - MADE_THE_YEAR_BEFORE - MADE_THE_YEAR_AFTER,
        house_year + 1: MADE_THE_YEAR_AFTER,
    }
    if first:
        return _mixed(firsts, dict.fromkeys(range(house_year - 1, house_year + EMPTY_YEARS + 1), 1.0))
    renewed = _renewals(max(now - house_year, 0))
    weights = {house_year + t: lost * _surviving(now - house_year - t) for t, lost in enumerate(renewed)}
    if first is None:
        for year, share in firsts.items():
            weights[year] = weights.get(year, 0.0) + share * _surviving(now - house_year)
    return _mixed(weights, {year: 1.0 for year in years if year >= house_year - 1})


def _mixed(told: Mapping[int, float], even: Mapping[int, float]) -> Mapping[int, float]:
    """What is told of the years, and some of even weights, each scaled to add up to 1."""
    parts = ((told, 1.0 - EVEN), (even, EVEN))
    mixed: dict[int, float] = {}
    for part, share in parts:
        total = sum(part.values())
        for year, weight in part.items():
            mixed[year] = mixed.get(year, 0.0) + (share * weight / total if total else 0.0)
    return mixed


def _surviving(age_years: float) -> float:
    return math.exp(-math.log(2) * (max(age_years, 0.0) / MEDIAN_LIFE_YEARS) ** SHAPE)


@lru_cache(maxsize=200)
def _renewals(years: int) -> tuple[float, ...]:
    """How many heaters are lost in each year after the house was finished (the renewal equation, year by year)."""
    lost = [_surviving(t) - _surviving(t + 1) for t in range(years + 1)]
    renewed: list[float] = []
    for t in range(years + 1):
        renewed.append(lost[t] + sum(renewed[u] * lost[t - u - 1] for u in range(t)))
    return tuple(renewed)
