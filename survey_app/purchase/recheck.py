"""A plan added up again, by other means than those that made it.

Prices are counted home by home, dates and weeks looked up anew. A plan with
anything wrong is never returned.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from survey_app.purchase.bids import USUAL_HOMES_PER_DAY, Bid, StepKind
from survey_app.purchase.households import Household, PurchaseRound
from survey_app.purchase.plan import Alone, Order, Purchase

__all__ = ["WrongPlan", "price_home_by_home", "recheck"]

CENT = 0.01
_WORKING_DAYS = 5


class WrongPlan(RuntimeError):
    """The plan does not hold what it promises; the message says where. A fault of this program, not of the input."""


def price_home_by_home(bid: Bid, homes: int) -> float:
    """Price steps for a number of homes, one home after the other.

    Written apart from :meth:`.bids.Bid.steps_usd` on purpose.
    """

    def reached(number: int) -> float:
        price = bid.steps[0].price_usd
        for step in bid.steps:
            if number >= step.from_homes:
                price = step.price_usd
        return price

    if bid.step_kind is StepKind.ALL_UNITS:
        return reached(homes) * homes
    return float(sum(reached(number) for number in range(1, homes + 1)))


def _most_a_day(bid: Bid) -> int:
    """Homes in a crew's day at most; written apart from :attr:`.bids.Bid.day_size` on purpose."""
    if bid.homes_per_day is not None:
        return bid.homes_per_day
    most = USUAL_HOMES_PER_DAY
    if bid.units_per_week is not None:
        most = next(n for n in range(1, bid.units_per_week + 2) if n * _WORKING_DAYS >= bid.units_per_week)
    return max(most, bid.minimum_homes_per_day)


def recheck(
    orders: Sequence[Order],
    purchases: Sequence[Purchase],
    alone: Sequence[Alone],
    households: Sequence[Household],
    bids: Sequence[Bid],
    rounds: Sequence[PurchaseRound],
    own_usd: NDArray[np.float64],
) -> float:
    """Add the plan up again and hold it against every rule.

    Parameters
    ----------
    orders, purchases, alone
        The plan.
    households, bids, rounds
        What it was made from.
    own_usd
        What each home's own scope adds, (bids, households).

    Returns
    -------
    float
        The total expected cost.

    Raises
    ------
    WrongPlan
        With a sentence for everything that does not hold.
    """
    wrong: list[str] = []
    place = {one.home_id: i for i, one in enumerate(households)}
    bid_at = {one.contractor: b for b, one in enumerate(bids)}
    round_at = {one.name: r for r, one in enumerate(rounds)}
    told = [one.home_id for one in purchases] + [one.home_id for one in alone]
    if sorted(told) != sorted(place):
        wrong.append("Not every home stands in the plan exactly once.")
    if sorted(home for one in orders for home in one.homes) != sorted(one.home_id for one in purchases):
        wrong.append("Orders and purchases do not name the same homes.")
    if wrong:
        # Without every home in its place there is nothing to add up.
        raise WrongPlan(" ".join(wrong))
    bought = {one.home_id: one for one in purchases}
    total = sum(households[place[one.home_id]].outside_price_usd for one in alone)
    for order in orders:
        b, r = bid_at[order.contractor], round_at[order.round_name]
        bid, when, n = bids[b], rounds[r], len(order.homes)
        where = f"{order.round_name}, {order.contractor}"
        if bid.units_per_week is not None and n > bid.units_per_week * when.weeks:
            wrong.append(f"{where}: more homes than the weeks hold.")
        if bid.homes_per_day is not None and n > bid.homes_per_day * _WORKING_DAYS * when.weeks:
            wrong.append(f"{where}: more homes than the working days hold.")
        if bid.valid_until is not None and bid.valid_until < when.begins:
            wrong.append(f"{where}: the bid is no longer valid.")
        if n < bid.steps[0].from_homes:
            wrong.append(f"{where}: fewer homes than the bid begins at.")
        if sorted(home for day in order.days for home in day) != sorted(order.homes):
            wrong.append(f"{where}: the days do not hold the homes of the order.")
        for day in order.days:
            if not bid.minimum_homes_per_day <= len(day) <= _most_a_day(bid):
                wrong.append(f"{where}: a day of {len(day)} homes.")
        bill = price_home_by_home(bid, n) + len(order.days) * bid.mobilization_usd_per_day
        if abs(bill - order.bid_usd) > CENT:
            wrong.append(f"{where}: the bill is {bill:,.2f} dollars, not {order.bid_usd:,.2f}.")
        total += bill
        for home_id in order.homes:
            i, one = place[home_id], bought[home_id]
            home = households[i]
            price, loss = bill / n + own_usd[b, i], home.waiting_loss_usd_per_round[r]
            total += own_usd[b, i] + loss
            if abs(price - one.price_usd) > CENT or (one.contractor, one.round_name) != (
                order.contractor,
                order.round_name,
            ):
                wrong.append(f"Home {home_id}: its price is {price:,.2f} dollars, not {one.price_usd:,.2f}.")
            if one.kind not in bid.kinds or one.kind is not home.needs.kind:
                wrong.append(f"Home {home_id} is offered a price for another kind of heater.")
            if home.limit_price_usd is not None and price > home.limit_price_usd + CENT:
                wrong.append(f"Home {home_id} pays more than its limit.")
            if price + loss > home.outside_price_usd + CENT:
                wrong.append(f"Home {home_id} is worse off than alone.")
            if home.latest is not None and when.ends > home.latest:
                wrong.append(f"Home {home_id} gets its heater too late.")
    if wrong:
        raise WrongPlan(" ".join(wrong))
    return float(total)
