"""What the rounds weigh of each home: its price alone, what waiting may cost it, its limit and its word."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from survey_app.economics import Amounts, household_of, mean_extra_usd, outcomes
from survey_app.forecast import LifeFit, chance_within
from survey_app.lifetime import lives_of_home, thinned
from survey_app.prices import basis_words
from survey_app.purchase.households import Household
from survey_app.purchase.keen import Keen
from survey_app.purchase.plan import AskedRounds
from survey_app.purchase.prices_of_home import complete_usd, price_of_need
from survey_app.purchase.scope import HomeNeed
from survey_app.records import DAYS_PER_YEAR
from survey_app.settings import Settings
from survey_app.standing import Standing

__all__ = ["households"]


def households(
    asked: AskedRounds, keen: Sequence[Keen], fitted: LifeFit, settings: Settings, *, today: date
) -> list[Household]:
    """The homes that want to take part, as the rounds weigh them.

    Parameters
    ----------
    asked
        What the committee asked for.
    keen
        The homes.
    fitted
        What the answers say about lives.
    settings
        The community's, for prices.
    today
        The day waiting is counted from.
    """
    middles = tuple(((r.begins - today).days + 3.5 * r.weeks) / DAYS_PER_YEAR for r in asked.rounds)
    waiting = _Waiting(fitted, settings, middles)
    return [
        Household(
            home_id=one.home_id,
            group=one.home.home.street,
            needs=one.need,
            outside_price_usd=complete_usd(settings, one.need),
            outside_is_default=_default_words(settings, one.need),
            waiting_loss_usd_per_round=waiting.losses_usd(one.home),
            limit_price_usd=one.limit_usd,
            latest=one.reply.latest if one.reply else None,
            interest=one.firm if asked.firm_only else one.says,
        )
        for one in keen
    ]


def _default_words(settings: Settings, need: HomeNeed) -> str:
    price = price_of_need(settings, need)
    return "" if price.is_own else basis_words(price)


@dataclass(frozen=True, slots=True)
class _Waiting:
    """Expected loss until the middle of each round; homes that are alike share the sum."""

    fitted: LifeFit
    settings: Settings
    middles: tuple[float, ...]
    known: dict[object, tuple[float, ...]] = field(default_factory=dict)

    def losses_usd(self, home: Standing) -> tuple[float, ...]:
        heater = home.heater
        assert heater is not None
        house = household_of(home)
        age = round(home.age_years[1] * 2) if home.age_years else None
        key = (age, heater.kind, heater.warranty_years, home.home.phase_id, home.home.softener, house)
        if key not in self.known:
            amounts = Amounts.from_settings(self.settings, house.kind, house.size)
            extra = mean_extra_usd(outcomes(amounts, house, house.has))
            losses = [self._chance(home, max(0.0, years)) * extra for years in self.middles]
            # Later rounds never lose less, whatever the draws say in the last digit.
            self.known[key] = tuple(max(losses[: i + 1]) for i in range(len(losses)))
        return self.known[key]

    def _chance(self, home: Standing, ahead_years: float) -> float:
        """The chance to fail within so many years."""
        if ahead_years == 0.0:
            return 0.0
        if home.age_years is None or home.heater is None or not home.heater.kind.has_tank:
            return min(1.0, self.fitted.average * ahead_years)
        lives = [thinned(draws) for draws in lives_of_home(self.fitted.posterior, home.home.home_id)]
        return chance_within(lives, home.age_years, ahead_years).mean
