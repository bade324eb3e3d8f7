"""Replace now, wait, or the household's call: the answer with and without what could catch the water.

One row for what the household has today and one for everything it could add.
Each row is answered twice where the household has told its tolerance of risk:
for somebody whom a dollar lost by chance costs a dollar, and for this household.
The two are never mixed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from survey_app.forecast import chance_within
from survey_app.lifetime import Chance, LifeDraws
from survey_app.lifetime.posterior import weighted_quantiles
from survey_app.records import Tri

from .amounts import Amounts, Catch, Household, outcomes
from .replacement import AgeReplacement, Floats
from .risk import Tolerance, felt_extra_usd, mean_extra_usd

__all__ = ["Answer", "Choice", "Decision", "Refusal", "Row", "Span", "Verdict", "decide", "thin"]

REPLACE_FROM, WAIT_UP_TO = 0.8, 0.2
"""Chance that replacing now is cheaper, from which and up to which the figures speak for themselves."""
_DRAWS = 1000
_CELLS = 240
# Weights of a window's earliest, middle and latest day, as in the odds: Simpson's rule, every day as likely.
_WINDOW = np.array([1.0, 4.0, 1.0]) / 6.0


class Verdict(StrEnum):
    """What the figures say, of three things only."""

    REPLACE = "replace"
    YOUR_CALL = "your-call"
    WAIT = "wait"


class Refusal(StrEnum):
    """Why there is no answer."""

    NO_AGE = "no-age"
    NO_TANK = "no-tank"
    NO_LIVES = "no-lives"


class Row(StrEnum):
    """What the household could have to catch the water."""

    AS_IS = "as-is"
    ALARM = "alarm"
    PAN_DRAIN_ALARM = "pan-drain-alarm"
    SHUTOFF = "shutoff"


_ADDS = {
    Row.AS_IS: Catch(),
    Row.ALARM: Catch(alarm=True),
    Row.PAN_DRAIN_ALARM: Catch(pan=True, drain=True, alarm=True),
    Row.SHUTOFF: Catch(shutoff=True),
}


@dataclass(frozen=True, slots=True)
class Span:
    """A figure with its 90% range from not knowing the law of life and the age exactly."""

    middle: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What the figures say for one row and one way to weigh risk.

    Parameters
    ----------
    failure_usd
        What a failure costs, planned price included; as it is felt where risk is weighed.
    optimal_age
        Years, with the median in the middle; infinite where no age is better than waiting for the failure.
    gain_usd
        What replacing now saves against waiting a year and then replacing; with an offer on the table, against
        keeping the heater as long as is best. Below zero: what it costs. The mean is in the middle.
    chance_cheaper
        Probability that replacing now is cheaper than waiting a year or longer; with an offer, than keeping.
    verdict
        By that probability.
    worth_usd
        What the row's addition saves over the years it lasts, less its price; zeros where nothing is added.
        The mean is in the middle.
    pays_from_age
        Age from which the offer is worth taking, the median; None without an offer.
    """

    failure_usd: float
    optimal_age: Span
    gain_usd: Span
    chance_cheaper: float
    verdict: Verdict
    worth_usd: Span
    pays_from_age: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One row: what would be added, for how much, and the answers. `personal` is None where nobody told a tolerance."""

    row: Row
    price_usd: float
    neutral: Answer
    personal: Answer | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """The answer to "replace now or wait?" and what it was worked out from.

    Parameters
    ----------
    refused
        Why there is none, or None. Without an answer there are no rows.
    chance
        Chance of a failure within twelve months if kept, the same for every row.
    rows
        As it is first; additions that would lessen nothing, or come to the same as another, are left out.
    if_insured
        The verdict as it is if the policy paid for sudden water damage, where the household is not sure.
    age_years, amounts, household, tolerance, offer_usd
        What was asked.
    """

    refused: Refusal | None
    chance: Chance | None
    rows: tuple[Choice, ...]
    if_insured: Verdict | None
    age_years: tuple[float, float, float] | None
    amounts: Amounts
    household: Household
    tolerance: Tolerance | None
    offer_usd: float | None


def decide(
    lives: Sequence[LifeDraws] | None,
    age_years: tuple[float, float, float] | None,
    amounts: Amounts,
    household: Household,
    *,
    tolerance: Tolerance | None = None,
    offer_usd: float | None = None,
    draws: int = _DRAWS,
    seed: int = 0,
) -> Decision:
    """Weigh replacing now against waiting.

    Parameters
    ----------
    lives
        Plausible laws of this heater's life, from :func:`survey_app.lifetime.lives_of_home`; None where there are none.
    age_years
        Youngest, likeliest and oldest age today, which is averaged over; None where it is not known.
    amounts, household
        What things cost and what the household tells.
    tolerance
        The answer to the question about risk, or None.
    offer_usd
        A price for a replacement now, today only, such as that of a group purchase; None where there is none.
    draws
        Largest number of laws that are followed; more are thinned by weighted systematic resampling.
    seed
        Seed of that resampling.

    Raises
    ------
    ValueError
        When the offer is not above zero, or the ages are negative or out of order.
    """
    if offer_usd is not None and offer_usd <= 0:
        raise ValueError("The price offered must be above zero. Leave it open where there is none.")
    refused = None
    if not household.kind.has_tank:
        refused = Refusal.NO_TANK
    elif age_years is None:
        refused = Refusal.NO_AGE
    elif not lives:
        refused = Refusal.NO_LIVES
    if refused is not None or age_years is None or not lives:
        return Decision(
            refused=refused,
            chance=None,
            rows=(),
            if_insured=None,
            age_years=age_years,
            amounts=amounts,
            household=household,
            tolerance=tolerance,
            offer_usd=offer_usd,
        )
    if not 0 <= age_years[0] <= age_years[1] <= age_years[2]:
        raise ValueError("The ages must be zero or more, youngest first.")
    weighing = _Weighing(lives, age_years, amounts, offer_usd, draws=draws, seed=seed)

    def choice(row: Row, has: Catch, price: float) -> Choice:
        now, then = outcomes(amounts, household, household.has), outcomes(amounts, household, has)
        neutral = weighing.answer(mean_extra_usd(now), mean_extra_usd(then), price)
        personal = None
        if tolerance is not None:
            personal = weighing.answer(felt_extra_usd(now, tolerance), felt_extra_usd(then, tolerance), price)
        return Choice(row=row, price_usd=price, neutral=neutral, personal=personal)

    has = household.has
    rows, seen = [choice(Row.AS_IS, has, 0.0)], {has}
    for row, adds in _ADDS.items():
        more = has.with_more(adds)
        if more not in seen and more.damage_left(amounts) < has.damage_left(amounts):
            seen.add(more)
            rows.append(choice(row, more, adds.price(amounts, has)))
    if_insured = None
    if household.insured is Tri.UNKNOWN:
        extra = mean_extra_usd(outcomes(amounts, replace(household, insured=Tri.YES), has))
        if_insured = weighing.answer(extra, extra, 0.0).verdict
    return Decision(
        refused=None,
        chance=chance_within(lives, age_years, 1.0),
        rows=tuple(rows),
        if_insured=if_insured,
        age_years=age_years,
        amounts=amounts,
        household=household,
        tolerance=tolerance,
        offer_usd=offer_usd,
    )


class _Weighing:
    """One heater's laws and ages on one grid, asked for one cost of failure after another."""

    def __init__(
        self,
        lives: Sequence[LifeDraws],
        age_years: tuple[float, float, float],
        amounts: Amounts,
        offer_usd: float | None,
        *,
        draws: int,
        seed: int,
    ) -> None:
        thinned = thin(lives, draws, seed=seed)
        self._weights = np.concatenate([part.weights for part in thinned])
        self._weights = self._weights / self._weights.sum()
        ages = np.maximum(np.asarray(age_years, dtype=np.float64), 1e-6)
        self._ages, place = np.unique(ages, return_inverse=True)
        window = np.bincount(place, weights=_WINDOW)
        # Months from today on, so that the year ahead is followed closely however old the heater is.
        months = (self._ages[:, None] + np.arange(13) / 12).ravel()

        def survival(at: Floats) -> Floats:
            if at.ndim == 1:
                return np.concatenate([part.survival(at) for part in thinned])
            cuts = np.cumsum([len(part.weights) for part in thinned])[:-1]
            pieces = np.split(at, cuts)
            return np.concatenate([part.survival(piece) for part, piece in zip(thinned, pieces, strict=True)])

        self._model = AgeReplacement.of(survival, rate=amounts.discount_rate, at=tuple(months), cells=_CELLS)
        # The heater is in service: the ages it is unlikely to have reached count for less.
        reached = window * np.maximum(survival(self._ages), 1e-300)
        self._window = reached / reached.sum(axis=1, keepdims=True)
        self._amounts, self._offer = amounts, offer_usd
        self._valued: dict[float, _Valued] = {}

    def answer(self, extra_before: float, extra_after: float, price: float) -> Answer:
        """The answer where a failure costs `extra_after` dollars beyond the planned price.

        Parameters
        ----------
        extra_before
            The same without what is added.
        price
            Of what is added.
        """
        before, after = self._value(extra_before), self._value(extra_after)
        saved = before.total - after.total - price
        flat = (self._weights[:, None] * self._window).ravel()
        chance = float(np.clip(flat @ after.cheaper.ravel(), 0.0, 1.0))
        verdict = Verdict.YOUR_CALL
        if chance >= REPLACE_FROM:
            verdict = Verdict.REPLACE
        elif chance <= WAIT_UP_TO:
            verdict = Verdict.WAIT
        age = Span(*(float(q) for q in weighted_quantiles(after.age, self._weights, (0.5, 0.05, 0.95))))
        pays = None
        if after.pays_from is not None:
            pays = float(weighted_quantiles(after.pays_from, self._weights, (0.5,))[0])
        return Answer(
            failure_usd=self._amounts.planned_price_usd + extra_after,
            optimal_age=age,
            gain_usd=_span(after.gain.ravel(), flat),
            chance_cheaper=chance,
            verdict=verdict,
            worth_usd=_span(saved, self._weights),
            pays_from_age=pays,
        )

    def _value(self, extra: float) -> _Valued:
        if extra not in self._valued:
            self._valued[extra] = self._work_out(extra)
        return self._valued[extra]

    def _work_out(self, extra: float) -> _Valued:
        planned, failure = self._amounts.planned_price_usd, self._amounts.planned_price_usd + extra
        policy = self._model.policy(planned, failure, exact=False)
        price_now = planned if self._offer is None else self._offer
        gains, cheaper, keeps = [], [], []
        for age in self._ages:
            ages, costs = self._model.wait_costs(float(age), planned, failure, policy)
            year = int(np.searchsorted(ages, age + 1 - 1e-9))
            keep = costs.min(axis=1)
            if self._offer is None:
                gains.append(costs[:, year] - planned)
                # A hazard that falls again may make a long wait cheaper where a short one is not.
                cheaper.append(costs[:, year:].min(axis=1) > planned)
            else:
                gains.append(keep - self._offer)
                cheaper.append(keep > self._offer)
            keeps.append(np.minimum(keep, price_now))
        lasts, rate = self._amounts.mitigation_lasts_years, self._amounts.discount_rate
        share = -math.expm1(-rate * lasts)
        annuity = share / rate if rate > 0 else lasts
        return _Valued(
            age=policy.age,
            gain=np.stack(gains, axis=1),
            cheaper=np.stack(cheaper, axis=1).astype(np.float64),
            # All costs from today on, g / rate and what this heater adds, as their share within the years that
            # the addition lasts if it is bought again and again.
            total=annuity * policy.cost_rate + share * (np.stack(keeps, axis=1) * self._window).sum(axis=1),
            pays_from=None if self._offer is None else self._model.break_even(planned, failure, self._offer, policy),
        )


@dataclass(frozen=True, slots=True)
class _Valued:
    """What one cost of failure comes to, under each law (first axis) and at each age (second)."""

    age: Floats
    gain: Floats
    cheaper: Floats
    total: Floats
    pays_from: Floats | None


def thin(lives: Sequence[LifeDraws], most: int, *, seed: int) -> tuple[LifeDraws, ...]:
    """At most so many laws that stand for all of them, by systematic resampling of the weights.

    Parameters
    ----------
    lives
        Weighted laws of life.
    most
        Largest number of laws, one or more.
    seed
        Seed of the one random number it needs.
    """
    weights = np.concatenate([part.weights for part in lives])
    if len(weights) <= most:
        return tuple(lives)
    at = (np.arange(most) + np.random.default_rng(seed).random()) / most
    picked = np.minimum(np.searchsorted(np.cumsum(weights) / weights.sum(), at), len(weights) - 1)
    chosen, times = np.unique(picked, return_counts=True)
    found, start = [], 0
    for part in lives:
        mine = (chosen >= start) & (chosen < start + len(part.weights))
        rows = chosen[mine] - start
        if rows.size:
            found.append(LifeDraws(part.law, part.log_median[rows], part.shape[rows], times[mine] / most))
        start += len(part.weights)
    return tuple(found)


def _span(values: Floats, weights: Floats) -> Span:
    low, high = weighted_quantiles(values, weights, (0.05, 0.95))
    return Span(float(weights @ values / weights.sum()), float(low), float(high))
