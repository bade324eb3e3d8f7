"""Take an offer, replace on one's own, or wait: three ways side by side, with and without what could catch the water.

Every way is told by what it costs over the same ten years, in today's dollars:
bills, failures by their chance, and what the heater in service at the end has
used up by then. For any law of life that is the cost per year of always doing
what is best, ten years of it, plus what this heater costs more than a new one
would (W of :mod:`.replacement`), so that two ways differ by exactly what one
saves against the other. A price for today only is set against waiting for a
year or longer, as long as is best; whoever waits pays their own price later.

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
from .replacement import AgeReplacement, Floats, Policy
from .risk import Tolerance, felt_extra_usd, mean_extra_usd

__all__ = [
    "OVER_YEARS",
    "REPLACE_FROM",
    "WAIT_UP_TO",
    "Answer",
    "Choice",
    "Decision",
    "Refusal",
    "Row",
    "Span",
    "Verdict",
    "Way",
    "Ways",
    "decide",
    "thin",
]

OVER_YEARS = 10.0
"""Years over which every way is counted; as many as the committee's policies."""

REPLACE_FROM, WAIT_UP_TO = 0.8, 0.2
"""Chance that replacing now is cheaper, from which and up to which the figures speak for themselves."""
_WAIT = 1.0  # years: the shortest wait that is weighed
_DRAWS = 1000
_CELLS = 240
# Weights of a window's earliest, middle and latest day, as in the odds: Simpson's rule, every day as likely.
_WINDOW = np.array([1.0, 4.0, 1.0]) / 6.0


class Verdict(StrEnum):
    """What the figures say: take the price offered, replace on one's own, the household's call, or wait."""

    TAKE = "take"
    REPLACE = "replace"
    YOUR_CALL = "your-call"
    WAIT = "wait"


class Way(StrEnum):
    """What a household can do; waiting in three manners."""

    OFFER = "offer"
    OWN = "own"
    WAIT = "wait"
    A_YEAR = "a-year"
    UNTIL_IT_FAILS = "until-it-fails"


class Refusal(StrEnum):
    """Why there is no answer."""

    NO_AGE = "no-age"
    NO_TANK = "no-tank"
    NO_LIVES = "no-lives"


class Row(StrEnum):
    """What the household could have to catch the water."""

    AS_IS = "as-is"
    ALARM = "alarm"
    ALARM_SHUTOFF = "alarm-shutoff"


_ADDS = {
    Row.AS_IS: Catch(),
    Row.ALARM: Catch(alarm=True),
    Row.ALARM_SHUTOFF: Catch(alarm=True, shutoff=True),
}


@dataclass(frozen=True, slots=True)
class Span:
    """A figure with its 90% range from not knowing the law of life and the age exactly."""

    middle: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Ways:
    """What every way costs over :data:`OVER_YEARS` years, the mean in the middle.

    The ranges come from one and the same not knowing: a case in which one way is dear is dear for the others, too.
    They may overlap although one way is the cheapest in every case.

    Parameters
    ----------
    offer, own
        Replace now at the price offered (None without one), or on one's own.
    wait
        A year or longer, as long as is best in each case; then at one's own price, planned or after a failure. Nobody
        knows which case is true, so this is a little kind to waiting.
    a_year, until_it_fails
        The same for a wait of just a year, and for never replacing before it fails.
    """

    offer: Span | None
    own: Span
    wait: Span
    a_year: Span
    until_it_fails: Span

    @property
    def now(self) -> Span:
        """Replacing now, at the lower of both prices."""
        return self.own if self.offer is None or self.own.middle <= self.offer.middle else self.offer

    @property
    def least(self) -> Way:
        """Which of offer, own and wait costs least on average; of two that cost the same, the one that binds less."""
        if self.wait.middle <= self.now.middle:
            return Way.WAIT
        return Way.OWN if self.now is self.own else Way.OFFER


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What the figures say for one row and one way to weigh risk.

    Parameters
    ----------
    failure_usd
        What a failure costs, planned price included; as it is felt where risk is weighed.
    optimal_age
        Years, with the median in the middle; infinite where no age is better than waiting for the failure.
    ways
        Each way's cost.
    gain_usd
        What replacing now, at the lower of both prices, saves against waiting as long as is best. Below zero: what
        it costs. The mean is in the middle.
    chance_cheaper
        Probability that replacing now, at the lower of both prices, is cheaper than waiting a year or longer.
    chance_take
        Probability that taking the offer is the cheapest of the three ways; zero without one, and for one that is
        not below one's own price.
    verdict
        By these chances, and only where the average says the same.
    worth_usd
        What the row's addition saves over the years it lasts, less its price: the cheapest way without it less the
        cheapest way with it. Zeros where nothing is added. The mean is in the middle.
    pays_from_age
        Age from which the offer is worth taking, the median; None without one that is below one's own price.
    take_up_to_usd
        Prices below this would be taken: the verdict would be to take them. Not above zero where none would.
    """

    failure_usd: float
    optimal_age: Span
    ways: Ways
    gain_usd: Span
    chance_cheaper: float
    chance_take: float
    verdict: Verdict
    worth_usd: Span
    pays_from_age: float | None
    take_up_to_usd: float


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

    @property
    def own_usd(self) -> float:
        """What a planned replacement costs this household on its own."""
        return self.amounts.planned_price_usd

    @property
    def buy_usd(self) -> float:
        """What replacing now costs: the lower of both prices."""
        return self.own_usd if self.offer_usd is None else min(self.own_usd, self.offer_usd)

    @property
    def offer_is_lower(self) -> bool:
        """Whether there is an offer below one's own price."""
        return self.buy_usd < self.own_usd


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
    """Weigh taking an offer, replacing on one's own, and waiting.

    Parameters
    ----------
    lives
        Plausible laws of this heater's life, from :func:`survey_app.lifetime.lives_of_home`; None where there are none.
    age_years
        Youngest, likeliest and oldest age today, which is averaged over; None where it is not known.
    amounts, household
        What things cost (the planned price is what this household would pay on its own) and what the household tells.
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
        self._buy = min(amounts.planned_price_usd, math.inf if offer_usd is None else offer_usd)
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
        found = self._value(extra_after)
        # Later than today's price, under each law and at each age, flat as the weights are.
        later, flat = found.later.ravel(), (self._weights[:, None] * self._window).ravel()
        chance = float(np.clip(flat @ (later > self._buy), 0.0, 1.0))
        lower = self._buy < self._amounts.planned_price_usd
        gain = _span(later - self._buy, flat)
        age = Span(*(float(q) for q in weighted_quantiles(found.age, self._weights, (0.5, 0.05, 0.95))))
        limits = self._amounts.planned_price_usd, _exceeded(later, flat, REPLACE_FROM), gain.middle + self._buy
        return Answer(
            failure_usd=self._amounts.planned_price_usd + extra_after,
            optimal_age=age,
            ways=self._ways(found, flat),
            gain_usd=gain,
            chance_cheaper=chance,
            chance_take=chance if lower else 0.0,
            verdict=_verdict(chance, gain.middle, lower=lower),
            worth_usd=self._worth(self._value(extra_before), found, price),
            pays_from_age=self._pays_from(found) if lower else None,
            take_up_to_usd=min(limits),
        )

    def _ways(self, found: _Valued, flat: Floats) -> Ways:
        years = self._annuity(OVER_YEARS) * np.repeat(found.cost_rate, len(self._ages))
        own = self._amounts.planned_price_usd
        return Ways(
            offer=None if self._offer is None else _span(years + self._offer, flat),
            own=_span(years + own, flat),
            wait=_span(years + found.later.ravel(), flat),
            a_year=_span(years + found.a_year.ravel(), flat),
            until_it_fails=_span(years + found.until_it_fails.ravel(), flat),
        )

    def _worth(self, before: _Valued, after: _Valued, price: float) -> Span:
        """What an addition saves while it lasts: whichever way is cheapest on average, without it and with it."""
        years = self._annuity(self._amounts.mitigation_lasts_years)

        def least(found: _Valued) -> Floats:
            wait = (found.later * self._window).sum(axis=1)
            now = np.full_like(wait, self._buy)
            cheapest = min((wait, now), key=lambda costs: float(self._weights @ costs))
            return np.asarray(years * found.cost_rate + cheapest)

        return _span(least(before) - least(after) - price, self._weights)

    def _pays_from(self, found: _Valued) -> float:
        planned, failure = self._amounts.planned_price_usd, self._amounts.planned_price_usd + found.extra
        age = self._model.break_even(planned, failure, self._buy, found.policy)
        # That allows for waits of less than a year, and stops where next to nothing is left of a law; today is known.
        today = np.where(found.later > self._buy, self._ages, np.inf).min(axis=1)
        return float(weighted_quantiles(np.minimum(age, today), self._weights, (0.5,))[0])

    def _annuity(self, years: float) -> float:
        """What a dollar a year for so many years is worth today."""
        rate = self._amounts.discount_rate
        return -math.expm1(-rate * years) / rate if rate > 0 else years

    def _value(self, extra: float) -> _Valued:
        if extra not in self._valued:
            self._valued[extra] = self._work_out(extra)
        return self._valued[extra]

    def _work_out(self, extra: float) -> _Valued:
        planned, failure = self._amounts.planned_price_usd, self._amounts.planned_price_usd + extra
        policy = self._model.policy(planned, failure, exact=False)
        later, a_year, until_it_fails = [], [], []
        for age in self._ages:
            ages, costs = self._model.wait_costs(float(age), planned, failure, policy)
            year = int(np.searchsorted(ages, age + _WAIT - 1e-9))
            # A hazard that falls again may make a long wait cheaper where a short one is not.
            later.append(costs[:, year:].min(axis=1))
            a_year.append(costs[:, year])
            until_it_fails.append(costs[:, -1])
        return _Valued(
            extra=extra,
            policy=policy,
            later=np.stack(later, axis=1),
            a_year=np.stack(a_year, axis=1),
            until_it_fails=np.stack(until_it_fails, axis=1),
        )


@dataclass(frozen=True, slots=True)
class _Valued:
    """What one cost of failure comes to, under each law (first axis) and at each age (second).

    The waits are what this heater costs more than a new one would, if it is kept so long.
    """

    extra: float
    policy: Policy
    later: Floats
    a_year: Floats
    until_it_fails: Floats

    @property
    def age(self) -> Floats:
        """The best age to replace at."""
        return self.policy.age

    @property
    def cost_rate(self) -> Floats:
        """Dollars a year, always doing what is best."""
        return self.policy.cost_rate


def _verdict(chance_cheaper: float, gain_usd: float, *, lower: bool) -> Verdict:
    """What the figures say; `lower` where an offer is the cheaper price.

    The chance that replacing now is cheaper than waiting decides, unless the average says the opposite: a few cases in
    which one way is much dearer are a reason to leave it to the household.
    """
    if chance_cheaper >= REPLACE_FROM and gain_usd > 0:
        return Verdict.TAKE if lower else Verdict.REPLACE
    return Verdict.WAIT if chance_cheaper <= WAIT_UP_TO and gain_usd < 0 else Verdict.YOUR_CALL


def _exceeded(values: Floats, weights: Floats, share: float) -> float:
    """The largest of the values that so much of the weight reaches or exceeds."""
    order = np.argsort(values)[::-1]
    reached = np.cumsum(weights[order])
    place = int(np.searchsorted(reached, share * reached[-1] * (1 - 1e-12)))
    return float(values[order][min(place, len(values) - 1)])


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
