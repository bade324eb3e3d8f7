"""The plain way, to compare with: everybody takes one bid, the most urgent first."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from survey_app.purchase.program import ALONE, TINY, Terms

__all__ = ["best_single_bid"]


def best_single_bid(terms: Terms) -> tuple[NDArray[np.int64], int, float]:
    """The cheapest single bid.

    With each bid in turn the homes are taken by what the last round would cost
    them in waiting, the largest first, into the first round with room; whoever
    cannot pay the price that comes of it buys alone, until nobody has to leave.

    Returns
    -------
    choice, bid, total_usd
        The choice as in :meth:`.program.Terms.total_usd`; the bid's place, -1
        where everybody alone is cheapest.
    """
    best = np.full(terms.homes, ALONE), -1, float(terms.alone_usd.sum())
    urgent_first = np.argsort(-terms.loss_usd[:, -1], kind="stable") if terms.homes else np.array([], dtype=int)
    for b in range(len(terms.bids)):
        choice = _everybody(terms, b, urgent_first)
        total = terms.total_usd(choice)
        if total < best[2] - 1e-9:
            best = choice, b, total
    return best


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
