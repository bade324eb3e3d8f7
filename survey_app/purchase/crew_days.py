"""The crew's days of an order, formed after the rounds so that a day stays in few clusters.

The price depends on how many days there are, never on who shares one; so the
days cost nothing to form afterward, in the fewest there can be.
"""

from __future__ import annotations

from collections.abc import Sequence

from survey_app.purchase.bids import Bid

__all__ = ["crew_days"]


def crew_days(homes: Sequence[tuple[str, str]], bid: Bid) -> tuple[tuple[str, ...], ...]:
    """Put homes into the fewest days, neighbors together.

    First every cluster fills whole days of its own; what is left of the
    clusters is laid one after the other, the largest rest first, and cut into
    the remaining days.

    Parameters
    ----------
    homes
        Cluster and id of each home.
    bid
        For the most and the fewest homes in a day.

    Returns
    -------
    tuple of tuple of str
        The homes of each day; no day is larger than the bid's day, none smaller
        than its minimum where the number of homes allows it.
    """
    clusters: dict[str, list[str]] = {}
    for group, home in sorted(homes):
        clusters.setdefault(group, []).append(home)
    size, least = bid.day_size, bid.minimum_homes_per_day
    total = bid.days(len(homes))
    days: list[tuple[str, ...]] = []
    rests: list[list[str]] = []
    for members in clusters.values():
        whole = len(members) // size * size
        days += [tuple(members[k : k + size]) for k in range(0, whole, size)]
        if members[whole:]:
            rests.append(members[whole:])
    rests.sort(key=lambda rest: (-len(rest), rest))
    bins: list[list[str]] = []
    for rest in rests:  # best fit: the fullest day that still takes the whole rest
        open_days = [one for one in bins if len(one) + len(rest) <= size]
        if open_days:
            max(open_days, key=len).extend(rest)
        else:
            bins.append(list(rest))
    left = total - len(days)
    if len(bins) > left or any(len(one) < least for one in bins):
        line = [home for one in bins for home in one]
        bins = []
        while line:
            # The last day must not fall below the minimum: the days before it give up what it lacks.
            lacking = max(0, least - (len(line) - size)) if 0 < len(line) - size < least else 0
            bins.append(line[: size - lacking])
            line = line[size - lacking :]
    days += [tuple(one) for one in bins]
    if any(len(day) < least for day in days):
        return _evened([home for day in days for home in day], total)
    return tuple(days)


def _evened(line: Sequence[str], days: int) -> tuple[tuple[str, ...], ...]:
    """The homes in order, cut into days as even as can be."""
    base, more = divmod(len(line), days)
    cut, at = [], 0
    for k in range(days):
        size = base + (k < more)
        cut.append(tuple(line[at : at + size]))
        at += size
    return tuple(cut)
