"""What a household brings to the purchase, and the rounds in time."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from survey_app.errors import SurveyError
from survey_app.purchase.scope import HomeNeed
from survey_app.records import Interest

__all__ = ["Household", "PurchaseRound", "UnusableRounds", "check_households", "check_rounds"]


class UnusableRounds(SurveyError, ValueError):
    """Input from which no rounds can be formed; the message names everything wrong."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Household:
    """One household that may buy.

    Parameters
    ----------
    home_id, group
        Which home, and the cluster it lies in.
    needs
        What a complete replacement takes there.
    outside_price_usd
        What the same complete job costs when bought alone, right away.
    outside_is_default
        What that price is where it is none of this community, in words ("national figure of 2023"); "" where it is.
    waiting_loss_usd_per_round
        Expected loss from today until each round, in dollars: chance of failure
        until then times what it costs. One for each round, never falling.
    limit_price_usd
        The most the household will pay a complete job; None where it names none.
    latest
        The day by which it wants the heater in; None where it does not mind.
    interest
        Yes, maybe, no, not sure.
    """

    home_id: str
    group: str
    needs: HomeNeed
    outside_price_usd: float
    waiting_loss_usd_per_round: tuple[float, ...]
    outside_is_default: str = ""
    limit_price_usd: float | None = None
    latest: date | None = None
    interest: Interest = Interest.YES


@dataclass(frozen=True, slots=True, kw_only=True)
class PurchaseRound:
    """A stretch of weeks in which the homes that buy together get their heaters."""

    name: str
    begins: date
    weeks: int

    @property
    def ends(self) -> date:
        """Its last day."""
        return self.begins + timedelta(weeks=self.weeks) - timedelta(days=1)


def check_rounds(rounds: Sequence[PurchaseRound]) -> tuple[str, ...]:
    """What is wrong with the rounds, a sentence each."""
    wrong = [] if rounds else ["There is no round. Give at least one, with its first day and its weeks."]
    for one in rounds:
        if one.weeks < 1:
            wrong.append(f"{one.name} lasts {one.weeks} weeks. Give 1 or more.")
    for one, after in pairwise(rounds):
        if after.begins <= one.ends:
            wrong.append(
                f"{after.name} begins on {after.begins.isoformat()}, before {one.name} ends ({one.ends.isoformat()}). "
                "Rounds follow one another: a crew cannot be in two at once."
            )
    names = [one.name for one in rounds]
    wrong += [
        f"Two rounds are called {name}. Give each its own name." for name in {n for n in names if names.count(n) > 1}
    ]
    return tuple(wrong)


def check_households(households: Sequence[Household], rounds: int) -> tuple[str, ...]:
    """What is wrong with the households, a sentence each."""
    wrong: list[str] = []
    seen: set[str] = set()
    for one in households:
        who, losses = f"Home {one.home_id}", one.waiting_loss_usd_per_round
        if one.home_id in seen:
            wrong.append(f"{who} stands twice in the list. Keep one.")
        seen.add(one.home_id)
        if not (math.isfinite(one.outside_price_usd) and one.outside_price_usd > 0):
            wrong.append(f"{who}: buying alone costs {one.outside_price_usd} dollars. Give a price above 0.")
        if len(losses) != rounds:
            wrong.append(f"{who}: {len(losses)} losses while waiting for {rounds} rounds. Give one for each round.")
        if not all(math.isfinite(loss) and loss >= 0 for loss in losses):
            wrong.append(f"{who}: a loss while waiting is no amount of dollars. Give 0 or more.")
        elif any(b < a - 1e-9 for a, b in pairwise(losses)):
            wrong.append(f"{who}: the expected loss falls while waiting longer. Give the loss from today on.")
        limit = one.limit_price_usd
        if limit is not None and not (math.isfinite(limit) and limit > 0):
            wrong.append(f"{who}: its limit is {limit} dollars. Give a price above 0, or leave it out.")
    return tuple(wrong)
