"""Homes that want to buy together: what each wants, and what the rounds weigh of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from survey_app.economics import Amounts, household_of, mean_extra_usd, outcomes
from survey_app.forecast import LifeFit, chance_within
from survey_app.lifetime import lives_of_home
from survey_app.purchase.households import Household
from survey_app.purchase.offers import AskedRounds
from survey_app.purchase.scope import USUAL_SIZES, HomeNeed
from survey_app.records import DAYS_PER_YEAR, HeaterKind, Interest
from survey_app.service_days import thinned
from survey_app.standing import Standing
from survey_app.survey.context import Context
from survey_app.survey.home_offer import alone_usd, holds_up_to

__all__ = ["KEEN", "Keen", "about_the_forming", "households"]

KEEN = (Interest.YES, Interest.MAYBE)
"""Words that count as wanting to take part."""
_USUAL_FROM, _USUAL_TO = USUAL_SIZES


@dataclass(frozen=True, slots=True, kw_only=True)
class Keen:
    """A home that wants to take part: what a complete job takes there, what it said in the survey and since."""

    home: Standing
    need: HomeNeed
    wish: Interest
    reply: dict[str, Any] | None

    @property
    def changes(self) -> bool:
        """Whether it asked for another kind of heater than stands there."""
        return self.home.heater is not None and self.need.kind is not self.home.heater.kind

    @property
    def home_id(self) -> str:
        """The home."""
        return self.home.home.home_id

    @property
    def firm(self) -> Interest:
        """Its reply to an offer; not sure where it has not replied."""
        return Interest(self.reply["says"]) if self.reply else Interest.UNKNOWN

    @property
    def says(self) -> Interest:
        """Its reply, else what it said in the survey."""
        return self.firm if self.reply else self.wish


def households(context: Context, asked: AskedRounds, keen: Sequence[Keen]) -> list[Household]:
    """What the rounds weigh of each home: its price alone, what waiting may cost it, its limit and its word."""
    fitted = context.life_fit()
    middles = [((r.begins - context.today).days + 3.5 * r.weeks) / DAYS_PER_YEAR for r in asked.rounds]
    known: dict[object, tuple[float, ...]] = {}
    found = []
    for one in keen:
        reply = one.reply or {}
        limit = reply.get("limit_usd")
        if limit is None and one.firm is Interest.YES:
            limit = holds_up_to(reply.get("price_usd"))
        found.append(
            Household(
                home_id=one.home_id,
                group=one.home.home.street,
                needs=one.need,
                outside_price_usd=alone_usd(context, one.need),
                waiting_loss_usd_per_round=_waiting(context, one.home, middles, fitted, known),
                limit_price_usd=limit,
                latest=reply.get("latest"),
                interest=one.firm if asked.firm_only else one.says,
            )
        )
    return found


def _waiting(
    context: Context,
    home: Standing,
    middles: Sequence[float],
    fitted: LifeFit,
    known: dict[object, tuple[float, ...]],
) -> tuple[float, ...]:
    """Expected loss until the middle of each round: chance to fail until then times what that costs extra."""
    heater = home.heater
    assert heater is not None
    house = household_of(home)
    age = round(home.age_years[1] * 2) if home.age_years else None
    key = (age, heater.kind, heater.warranty_years, home.home.phase_id, home.home.softener, house)
    if key not in known:
        amounts = Amounts.from_settings(context.settings(), heater.kind)
        extra = mean_extra_usd(outcomes(amounts, house, house.has))
        losses = []
        for years in middles:
            ahead = max(0.0, years)
            if ahead == 0.0:
                losses.append(0.0)
            elif home.age_years is None or not heater.kind.has_tank:
                losses.append(min(1.0, fitted.average * ahead) * extra)
            else:
                lives = [thinned(d) for d in lives_of_home(fitted.posterior, home.home.home_id)]
                losses.append(chance_within(lives, home.age_years, ahead).mean * extra)
        # Later rounds never lose less, whatever the draws say in the last digit.
        known[key] = tuple(max(losses[: i + 1]) for i in range(len(losses)))
    return known[key]


def about_the_forming(weighed: Sequence[Keen], waiting: Mapping[HeaterKind, int]) -> list[str]:
    """What the rounds rest on, said aloud."""
    said = [
        "Alone means: the settings' planned price for the same kind of heater, and the scope's assumed price of what "
        "the home needs besides (pan, expansion tank, alarm, hard access). Haste is not in it: it counts as loss while "
        "waiting, by each home's own chance to fail until the middle of the round."
    ]
    if waiting:
        count = sum(waiting.values())
        are = "home is" if count == 1 else "homes are"
        which = ", ".join(f"{n} {kind}" for kind, n in sorted(waiting.items()))
        said.append(f"{count} interested {are} left out: no bid is for their kind of heater ({which}).")
    sizes = sum(1 for k in weighed if k.need.kind.has_tank and not _USUAL_FROM <= k.need.gallons <= _USUAL_TO)
    if sizes:
        said.append(
            f"The price alone is for {_USUAL_FROM:g} to {_USUAL_TO:g} gallons. Homes with a tank of another size: "
            f"{sizes}. A bid has one price for all sizes: ask the contractors before anybody signs."
        )
    if changing := sum(1 for k in weighed if k.changes):
        said.append(
            f"Homes that asked to change to another kind of heater: {changing}. What the change itself takes (gas "
            "line, flue, circuit) is in no price here: the contractor has to settle it with the owner."
        )
    if unknown := sum(1 for k in weighed if k.need.kind is HeaterKind.UNKNOWN):
        said.append(f"Homes that do not know their kind of heater: {unknown}. They count as gas tanks.")
    return said
