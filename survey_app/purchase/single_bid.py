"""The plain way, to compare with: everybody takes one bid, the most urgent first."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from survey_app.purchase.program import ALONE, TINY, Terms

__all__ = ["best_single_bid"]


def best_single_bid(terms: Terms) -> tuple[NDArray[np.int64], tuple[int, ...], float]:
    """The cheapest single bid; one for each kind of heater where bids are for different kinds.

    With each bid in turn the homes are taken by what the last round would cost
    them in waiting, the largest first, into the first round with room; whoever
    cannot pay the price that comes of it buys alone, until nobody has to leave.

    Returns
    -------
    choice, bids, total_usd
        The choice as in :meth:`.program.Terms.total_usd`; the bids' places, none
        where everybody alone is cheapest.
    """
    alone = np.full(terms.homes, ALONE)
    urgent_first = np.argsort(-terms.loss_usd[:, -1], kind="stable") if terms.homes else np.array([], dtype=int)
    taken, used = alone.copy(), []
    for rivals in _for_the_same_heaters(terms):
        best = alone, -1, terms.total_usd(alone)
        for b in rivals:
            choice = _everybody(terms, b, urgent_first)
            total = terms.total_usd(choice)
            if total < best[2] - 1e-9:
                best = choice, b, total
        if best[1] >= 0:
            taken = np.where(best[0] == ALONE, taken, best[0])
            used.append(best[1])
    return taken, tuple(used), terms.total_usd(taken)


def _for_the_same_heaters(terms: Terms) -> list[list[int]]:
    """Bids that compete for the same homes, group by group; no home is in two groups."""
    groups: list[tuple[set[str], list[int]]] = []
    for b, bid in enumerate(terms.bids):
        kinds, members = set(map(str, bid.kinds)), [b]
        for group in [g for g in groups if g[0] & kinds]:
            groups.remove(group)
            kinds |= group[0]
            members = [*group[1], *members]
        groups.append((kinds, members))
    return [members for _, members in groups]


def _everybody(terms: Terms, b: int, urgent_first: NDArray[np.int64]) -> NDArray[np.int64]:
    bid, rounds = terms.bids[b], terms.loss_usd.shape[1]
    possible = np.isfinite(terms.ceiling_usd[b])
    while True:
        choice = np.full(terms.homes, ALONE)
        taken = np.zeros(rounds, dtype=int)
        for i in urgent_first:
            for r in range(rounds):
                if possible[i, r] and taken[r] < terms.capacity[b, r]:
                    choice[i] = b * rounds + r
                    taken[r] += 1
                    break
        gone = False
        for r in range(rounds):
            homes = np.flatnonzero(choice == b * rounds + r)
            if not len(homes):
                continue
            if bid.why_not(len(homes)):
                # Too few, or a day left too empty: the least urgent home of the round leaves it.
                last = next(i for i in urgent_first[::-1] if choice[i] == b * rounds + r)
                possible[last, r] = False
                gone = True
                continue
            over = homes[bid.home_usd(len(homes)) > terms.ceiling_usd[b, homes, r] + TINY]
            if len(over):
                possible[over, r] = False
                gone = True
        if not gone:
            return choice
