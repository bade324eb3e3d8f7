"""Rounds formed: who buys from which bid in which round at what price, and who is better off alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from survey_app.purchase.bids import Bid, anomalies
from survey_app.purchase.compare import CompletedBid, complete, each_named_once
from survey_app.purchase.crew_days import crew_days
from survey_app.purchase.households import (
    Household,
    PurchaseRound,
    UnusableRounds,
    check_households,
    check_rounds,
)
from survey_app.purchase.plan import Alone, EdgeCase, Fairness, Order, Purchase, Rounds, WhyAlone
from survey_app.purchase.program import ALONE, Terms, solve
from survey_app.purchase.recheck import WrongPlan, recheck
from survey_app.purchase.single_bid import best_single_bid
from survey_app.records import Interest

__all__ = ["form_rounds"]

RELATIVE_GAP = 1e-4
NODE_LIMIT = 5_000
SPREAD_USD = 25.0
DROPPING_OUT = (1, 2)


def form_rounds(
    households: Sequence[Household],
    bids: Sequence[Bid],
    rounds: Sequence[PurchaseRound],
    *,
    as_of: date,
    with_maybe: bool = False,
    assumed_usd: Mapping[str, float] | None = None,
    relative_gap: float = RELATIVE_GAP,
    node_limit: int = NODE_LIMIT,
    spread_usd: float = SPREAD_USD,
) -> Rounds:
    """Form the rounds that cost the households least in all, nobody worse off than alone.

    A home buys only from a bid for its kind of heater, and only where its
    complete price keeps its limit and, with its expected loss while waiting,
    does not pass what it pays alone; where the round ends by its latest date
    and begins while the bid is valid; within the contractor's week. The homes
    of a bid in a round share the price steps and the mobilization equally and
    pay their own extras themselves.

    Where a price depends on every single home (mobilization, incremental
    steps), a home joins only if it could also pay the dearest price among
    numbers of homes whose prices lie within ``spread_usd``; 0 makes it exact to
    the home, at the cost of a larger program.

    Parameters
    ----------
    households
        All who were asked; only a firm yes counts, and a maybe when told so.
    bids, rounds
        The offers, and the stretches of time.
    as_of
        Today.
    with_maybe
        Whether a maybe counts as a yes.
    assumed_usd
        The community's own prices for gaps in the scope, by item.
    relative_gap, node_limit
        Where the search stops.
    spread_usd
        See above.

    Returns
    -------
    Rounds
        Checked afresh before it is returned. With no interested home, or no bid
        that can be used, everybody is alone and a sentence says why.

    Raises
    ------
    UnusableRounds
        When households or rounds contradict themselves; every problem at once.
    """
    wrong = check_rounds(rounds) + check_households(households, len(rounds))
    if wrong:
        raise UnusableRounds(" ".join(wrong))
    counted = (Interest.YES, Interest.MAYBE) if with_maybe else (Interest.YES,)
    takers = [one for one in households if one.interest in counted]
    needs = [one.needs for one in takers]
    finished = [complete(bid, needs, as_of=as_of, assumed_usd=assumed_usd) for bid in each_named_once(bids)]
    set_aside = tuple(one.why_not for one in finished if one.why_not)
    usable = [one for one in finished if not one.why_not]
    terms = _terms(takers, usable, rounds)
    choice, gap, nodes, single, single_total = _choose(terms, relative_gap, node_limit, spread_usd)
    plan = _written(takers, usable, rounds, terms, choice)
    used = [one.bid for one in usable]
    total = terms.total_usd(choice)
    again = recheck(plan.orders, plan.purchases, plan.alone, takers, used, rounds, terms.extra_usd)
    if abs(total - again) > 0.01:
        raise WrongPlan(f"The plan costs {again:,.2f} dollars, not {total:,.2f}.")
    result = Rounds(
        as_of=as_of,
        interested=len(takers),
        orders=plan.orders,
        purchases=plan.purchases,
        alone=plan.alone,
        set_aside=set_aside,
        total_usd=total,
        alone_total_usd=float(terms.alone_usd.sum()),
        single_bid=" and ".join(usable[b].bid.contractor for b in single),
        single_bid_total_usd=single_total,
        gap=gap,
        nodes=nodes,
        fairness=_fairness(plan.purchases),
        edges=plan.edges,
        sentences=(),
    )
    return _explained(result, households, len(bids), used)


def _terms(takers: Sequence[Household], usable: Sequence[CompletedBid], rounds: Sequence[PurchaseRound]) -> Terms:
    n, count = len(takers), len(rounds)
    alone = np.array([one.outside_price_usd for one in takers], dtype=float)
    loss = np.array([one.waiting_loss_usd_per_round for one in takers], dtype=float).reshape(n, count)
    limit = np.array([np.inf if one.limit_price_usd is None else one.limit_price_usd for one in takers], dtype=float)
    in_time = np.array([[one.latest is None or r.ends <= one.latest for r in rounds] for one in takers], dtype=bool)
    in_time = in_time.reshape(n, count)
    extra = np.array([one.own_usd for one in usable], dtype=float).reshape(len(usable), n)
    # A price for one kind of heater is never set against the price alone of another.
    serves = np.array([[home.needs.kind in one.bid.kinds for home in takers] for one in usable], dtype=bool)
    ceiling = np.full((len(usable), n, count), -np.inf)
    capacity = np.zeros((len(usable), count), dtype=np.int64)
    for b, one in enumerate(usable):
        for r, when in enumerate(rounds):
            if one.bid.valid_until is not None and one.bid.valid_until < when.begins:
                continue
            week = one.bid.week_size
            capacity[b, r] = n if week is None else min(n, week * when.weeks)
            most = np.minimum(limit, alone - loss[:, r]) - extra[b]
            ceiling[b, :, r] = np.where(in_time[:, r] & serves[b], most, -np.inf)
    return Terms(
        bids=tuple(one.bid for one in usable),
        alone_usd=alone,
        extra_usd=extra,
        loss_usd=loss,
        ceiling_usd=ceiling,
        capacity=capacity,
    )


def _choose(
    terms: Terms, relative_gap: float, node_limit: int, spread_usd: float
) -> tuple[NDArray[np.int64], float | None, int, tuple[int, ...], float]:
    """The cheaper of the program's choice and the best single bid, with the proven gap."""
    choice, single, single_total = best_single_bid(terms)
    if not terms.homes:
        return choice, 0.0, 0, single, single_total
    found = solve(terms, relative_gap=relative_gap, node_limit=node_limit, spread_usd=spread_usd)
    if found.choice is not None and terms.total_usd(found.choice) <= single_total:
        choice = found.choice
    total = terms.total_usd(choice)
    gap = None if found.bound_usd is None else max(0.0, (total - found.bound_usd) / max(abs(total), 1.0))
    return choice, gap, found.nodes, single, single_total


@dataclass(frozen=True, slots=True)
class _Plan:
    orders: tuple[Order, ...]
    purchases: tuple[Purchase, ...]
    alone: tuple[Alone, ...]
    edges: tuple[EdgeCase, ...]


def _written(
    takers: Sequence[Household],
    usable: Sequence[CompletedBid],
    rounds: Sequence[PurchaseRound],
    terms: Terms,
    choice: NDArray[np.int64],
) -> _Plan:
    orders, purchases, edges = [], [], []
    for r, when in enumerate(rounds):
        for b, own in enumerate(usable):
            members: list[int] = np.flatnonzero(choice == b * len(rounds) + r).tolist()
            if not members:
                continue
            bid, n = own.bid, len(members)
            days = crew_days([(takers[i].group, takers[i].home_id) for i in members], bid)
            group_of = {takers[i].home_id: takers[i].group for i in members}
            orders.append(
                Order(
                    contractor=bid.contractor,
                    round_name=when.name,
                    homes=tuple(takers[i].home_id for i in members),
                    bid_usd=bid.total_usd(n),
                    extras_usd=float(terms.extra_usd[b, members].sum()),
                    mobilization_usd=bid.days(n) * bid.mobilization_usd_per_day,
                    days=days,
                    groups_per_day=sum(len({group_of[home] for home in day}) for day in days) / len(days),
                )
            )
            for i in members:
                purchases.append(
                    Purchase(
                        home_id=takers[i].home_id,
                        group=takers[i].group,
                        contractor=bid.contractor,
                        round_name=when.name,
                        price_usd=bid.home_usd(n) + float(terms.extra_usd[b, i]),
                        waiting_loss_usd=float(terms.loss_usd[i, r]),
                        alone_usd=takers[i].outside_price_usd,
                        kind=takers[i].needs.kind,
                    )
                )
            edges += [_edge(bid, when, n, k, terms.ceiling_usd[b, members, r]) for k in DROPPING_OUT if k <= n]
    alone = tuple(
        Alone(
            home_id=takers[i].home_id,
            group=takers[i].group,
            alone_usd=takers[i].outside_price_usd,
            reason=_why_alone(takers[i], i, terms),
        )
        for i in np.flatnonzero(choice == ALONE).tolist()
    )
    return _Plan(tuple(orders), tuple(purchases), alone, tuple(edges))


def _edge(bid: Bid, when: PurchaseRound, homes: int, dropped: int, ceiling: NDArray[np.float64]) -> EdgeCase:
    left = homes - dropped
    words = "1 home drops" if dropped == 1 else f"{dropped} homes drop"
    begin = f"{when.name}, {bid.contractor}: if {words} out of {homes}, "
    more, past, why = None, 0, ""
    if left <= 0:
        why = "Nobody would be left."
        said = begin + "nobody is left."
    elif why := bid.why_not(left):
        said = begin + f"the bid no longer holds. {why}"
    else:
        more = bid.home_usd(left) - bid.home_usd(homes)
        past = int((bid.home_usd(left) > ceiling + 1e-6).sum())
        if more > 0.005:
            said = begin + f"every other home pays {more:,.2f} dollars more"
        elif more < -0.005:
            said = begin + f"every other home pays {-more:,.2f} dollars less (a day is saved)"
        else:
            said = begin + "nobody's price changes"
        # The least comfortable of those who stay; who drops out is not known, so at most `left` can be over.
        past = min(past, left)
        said += f"; {past} of them would then be over their limit or better off alone." if past else "."
    return EdgeCase(
        contractor=bid.contractor,
        round_name=when.name,
        homes=homes,
        dropped=dropped,
        more_usd=more,
        past_limit=past,
        why_not=why,
        sentence=said,
    )


def _why_alone(home: Household, i: int, terms: Terms) -> WhyAlone:
    if not len(terms.bids):
        return WhyAlone.NO_BID
    own = [b for b, bid in enumerate(terms.bids) if home.needs.kind in bid.kinds]
    if not own:
        return WhyAlone.OTHER_KIND
    if not np.isfinite(terms.ceiling_usd[:, i, :]).any():
        return WhyAlone.NO_TIME
    least = min(min(step.price_usd for step in terms.bids[b].steps) + terms.extra_usd[b, i] for b in own)
    if home.limit_price_usd is not None and least > home.limit_price_usd:
        return WhyAlone.OVER_LIMIT
    if least + terms.loss_usd[i].min() > home.outside_price_usd:
        return WhyAlone.CHEAPER_ALONE
    return WhyAlone.NO_ROOM


def _fairness(purchases: Sequence[Purchase]) -> Fairness | None:
    if not purchases:
        return None
    savings = np.sort(np.array([one.saving_usd for one in purchases]))[::-1]
    total = savings.sum()
    half = (int(np.searchsorted(np.cumsum(savings), total / 2)) + 1) / len(savings) if total > 0 else 1.0
    return Fairness(
        buyers=len(savings),
        worse_off=int((savings < -0.005).sum()),
        least_saving_usd=float(savings[-1]),
        median_saving_usd=float(np.median(savings)),
        most_saving_usd=float(savings[0]),
        half_goes_to=half,
    )


def _just_below_a_step(order: Order, bid: Bid) -> list[str]:
    """Said where more homes would make the whole order cheaper (only all-units steps do that)."""
    n = len(order.homes)
    return [
        f"{order.round_name}, {order.contractor}: {n} homes pay {bid.steps_usd(n):,.0f} dollars in all, "
        f"{one.more_homes} would pay only {one.more_total_usd:,.0f}. Look for {one.more_homes - n} more."
        for one in anomalies(bid)
        if one.homes <= n < one.more_homes
    ]


def _defaults(households: Sequence[Household]) -> str:
    """What the prices alone are that are none of this community, in words."""
    return ", ".join(sorted({one.outside_is_default for one in households} - {""}))


def _default_to_blame(households: Sequence[Household]) -> list[str]:
    """Said where all bids lie above a price alone that nobody here has paid: it may be the default that is too low."""
    if not (basis := _defaults(households)):
        return []
    return [
        f"All bids are above the price alone, and that is a default ({basis}), no price from here. The "
        "default is to blame before the bids are: enter what a complete job costs here (Community settings, three "
        "quotes), then form the rounds again."
    ]


def _explained(result: Rounds, households: Sequence[Household], bids: int, usable: Sequence[Bid]) -> Rounds:
    """The result with its sentences."""
    said = list(result.set_aside)
    if not result.interested:
        said.append(f"None of the {len(households)} homes has said a firm yes, so there is no round to form.")
    elif not usable:
        said.append("No bid can be used, so there is no round to form." if bids else "There is no bid yet.")
    elif not result.orders:
        said.append("No home does better together than alone with these bids, so there is no round to form.")
        dearer = {a.home_id for a in result.alone if a.reason is WhyAlone.CHEAPER_ALONE}
        said += _default_to_blame([h for h in households if h.home_id in dearer])
    for one in result.orders:
        noun = "home buys" if len(one.homes) == 1 else "homes buy"
        said.append(
            f"{one.round_name}: {len(one.homes)} {noun} from {one.contractor} at {one.shared_usd:,.2f} dollars a home "
            f"and their own extras, in {len(one.days)} crew-day{'' if len(one.days) == 1 else 's'}."
        )
    for one in result.orders:
        said += _just_below_a_step(one, next(bid for bid in usable if bid.contractor == one.contractor))
    if result.orders:
        if result.alone:
            reasons = Counter(one.reason for one in result.alone)
            said.append(
                f"{len(result.alone)} {'home buys' if len(result.alone) == 1 else 'homes buy'} alone. "
                + " ".join(f"{n}: {reason}" if len(reasons) > 1 else reason for reason, n in reasons.most_common())
            )
        said.append(
            f"Expected cost in all {result.total_usd:,.0f} dollars, {result.saving_usd:,.0f} less than everybody alone."
        )
        if basis := _defaults(households):
            said.append(
                f"The price alone is a default ({basis}), no price from here: what is saved against it is no promise. "
                "Enter what a complete job costs here (Community settings, three quotes)."
            )
        who = f"the best single bid ({result.single_bid})" if result.single_bid else "everybody alone"
        over = result.saving_over_single_bid_usd
        said.append(
            f"Forming rounds this way saves {over:,.0f} dollars over {who}."
            if over >= 0.5
            else f"Forming rounds this way saves nothing over {who}: the plain way is as good."
        )
        fair = result.fairness
        assert fair is not None
        said.append(
            "Nobody pays more than alone, expected loss while waiting counted. "
            f"The households save between {fair.least_saving_usd:,.0f} and {fair.most_saving_usd:,.0f} dollars, half "
            f"of them {fair.median_saving_usd:,.0f} or more."
        )
        said.append(
            "How far the total may be from the least possible is not known: the search was stopped first."
            if result.gap is None
            else "No other way of forming these rounds costs less."
            if result.gap < 5e-5
            else f"No other way of forming these rounds costs less by more than {result.gap:.2%} of the total."
        )
        said.append("The contract is between each owner and the contractor. Nothing here binds anybody.")
    return replace(result, sentences=tuple(said))
