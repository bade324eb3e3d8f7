"""Was an earlier forecast right? What was known then against what has happened since."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

import numpy as np

from survey_app.access import few, suppress
from survey_app.lifetime import Prior, fit, load_prior, observations, rewind
from survey_app.lifetime.observations import HomeState, Observations
from survey_app.records import DAYS_PER_YEAR, EndCause, Heater, Home, ServiceRecord

from .chances import Plan, batches
from .counts import poisson_binomial

__all__ = ["CalibrationBin", "LookBack", "look_back"]

_EDGES = (0.0, 0.02, 0.05, 0.1, 0.2, 0.35, 0.6, 1.0)
_MOST_UNKNOWN = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class CalibrationBin:
    """Homes with a chance between two values: how many were expected to fail, and how many did.

    ``low`` and ``high`` are the 90% interval of the number that should have failed; ``happened`` is None where it is
    too small a count to be told.
    """

    chance_from: float
    chance_to: float
    homes: int
    expected: float
    low: int
    high: int
    happened: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LookBack:
    """An earlier forecast, judged.

    Parameters
    ----------
    as_of, today, years
        When the forecast would have been made, when it is judged, and the years between.
    homes
        Homes judged: those whose heater of that day is known.
    total
        All of them as one bin.
    bins
        By chance.
    unknown_cause
        Heaters that left service since, nobody knows why; not counted as failures. None where too few to be told.
    not_known_then
        Homes that replaced a heater since whose age at that day nobody knows. None where too few to be told.
    usable
        Whether so few of these are missing that the comparison is fair.
    sentences
        What it means.
    """

    as_of: date
    today: date
    years: float
    homes: int
    total: CalibrationBin
    bins: tuple[CalibrationBin, ...]
    unknown_cause: int | None
    not_known_then: int | None
    usable: bool
    sentences: tuple[str, ...]


def look_back(
    homes: Iterable[Home],
    heaters: Iterable[Heater],
    services: Iterable[ServiceRecord] = (),
    *,
    as_of_past: date,
    today: date,
    seed: int,
    prior: Prior | None = None,
    draws: int = 400,
    answered_then: Collection[str] | None = None,
    minimum: int = 1,
) -> LookBack:
    """Forecast from what was known on an earlier day and compare with what happened since.

    Parameters
    ----------
    homes, heaters, services
        Today's records.
    as_of_past, today
        The earlier day and the day of judgment.
    seed, draws
        Of the forecast.
    prior
        The published one when None.
    answered_then
        Homes that had answered by the earlier day. Without it, homes whose people lived
        there by then stand for them; what they did not say about earlier heaters is missing,
        and it is missing just where a heater was lost.
    minimum
        The smallest count that is told: ranges of chances are put together until each holds so many homes, and where
        1 to ``minimum - 1`` heaters were lost, or kept, the number is left out.

    Returns
    -------
    LookBack
        With empty bins and a sentence when there is nothing to compare.

    Raises
    ------
    ValueError
        When the days are not in order.
    """
    years = (today - as_of_past).days / DAYS_PER_YEAR
    if years <= 0:
        raise ValueError(f"The earlier day {as_of_past} must come before {today}.")
    belief = load_prior() if prior is None else prior
    home_list, heater_list = list(homes), list(heaters)
    if answered_then is None:
        answered_then = {h.home_id for h in home_list if h.moved_in is not None and h.moved_in.best <= as_of_past}
    allowed = set(answered_then)
    heater_list = [h for h in heater_list if h.home_id in allowed]
    past = rewind(home_list, heater_list, services, as_of=as_of_past)
    found = observations(*past, as_of=as_of_past, long_warranty_years=belief.long_warranty_years)
    failed, unclear = _what_happened(heater_list, as_of_past, today)
    lost = failed | unclear | _installed_since(heater_list, as_of_past)
    known = {found.home_ids[i] for i in np.flatnonzero(found.home_state == HomeState.AGE_KNOWN)}
    missing = len(lost - known)
    chances = _chances(found, belief, years, draws, seed)
    ids = sorted(chances) if len(chances) >= minimum else []
    p = np.array([chances[i][0] for i in ids])
    some = np.array([chances[i][1] for i in ids]).T if ids else np.zeros((1, 0))
    happened = np.array([i in failed for i in ids], bool)
    ranges = _ranges(p, minimum)
    bins = tuple(_bin(low, high, some[:, inside], p[inside], happened[inside]) for low, high, inside in ranges)
    total, bins = _told(_bin(0.0, 1.0, some, p, happened), bins, minimum)
    usable = bool(ids) and missing <= _MOST_UNKNOWN * max(len(lost), 1)
    return LookBack(
        as_of=as_of_past,
        today=today,
        years=years,
        homes=len(ids),
        total=total,
        bins=bins,
        unknown_cause=None if 0 < len(unclear & known) < minimum else len(unclear & known),
        not_known_then=None if 0 < missing < minimum else missing,
        usable=usable,
        sentences=_sentences(as_of_past, total, int(happened.sum()), missing, usable, found, minimum),
    )


def _ranges(p: np.ndarray, minimum: int) -> list[tuple[float, float, np.ndarray]]:
    """Ranges of chances and the homes within, each of at least so many homes: a small one joins its neighbor."""
    ranges: list[tuple[float, float, np.ndarray]] = []
    for low, high in pairwise(_EDGES):
        inside = (p >= low) & ((p < high) | (high == 1.0))
        if ranges and 0 < ranges[-1][2].sum() < minimum:
            ranges[-1] = (ranges[-1][0], high, ranges[-1][2] | inside)
        elif inside.any():
            ranges.append((low, high, inside))
    if len(ranges) > 1 and ranges[-1][2].sum() < minimum:
        _, high, rest = ranges.pop()
        ranges[-1] = (ranges[-1][0], high, ranges[-1][2] | rest)
    return ranges


def _told(
    total: CalibrationBin, bins: tuple[CalibrationBin, ...], minimum: int
) -> tuple[CalibrationBin, tuple[CalibrationBin, ...]]:
    """All of them and each range without counts of 1 to ``minimum - 1``, lost or kept; none follows from the others."""

    def small(one: CalibrationBin) -> bool:
        lost = one.happened or 0
        return lost > 0 and (lost < minimum or 0 < one.homes - lost < minimum)

    hidden = {i for i, one in enumerate(bins) if small(one)}
    if not small(total):
        shown = suppress({str(i): one.happened or 0 for i, one in enumerate(bins)}, minimum)
        hidden |= {int(i) for i, n in shown.items() if n is None}
        if len(hidden) == 1:  # a range of which few were kept: the total would give it away
            hidden |= {min((i for i in range(len(bins)) if i not in hidden), key=lambda i: bins[i].homes, default=0)}
    return (
        replace(total, happened=None) if small(total) else total,
        tuple(replace(one, happened=None) if i in hidden else one for i, one in enumerate(bins)),
    )


def _what_happened(heaters: list[Heater], past: date, today: date) -> tuple[set[str], set[str]]:
    """Homes in which a heater failed since, and in which one left for an unknown reason."""
    failed, unclear = set(), set()
    for heater in heaters:
        if heater.removed is None or not past < heater.removed.best <= today:
            continue
        if heater.end_cause is EndCause.FAILED:
            failed.add(heater.home_id)
        elif heater.end_cause in (None, EndCause.UNKNOWN):
            unclear.add(heater.home_id)
    return failed, unclear - failed


def _installed_since(heaters: list[Heater], past: date) -> set[str]:
    return {h.home_id for h in heaters if h.installed is not None and h.installed.best > past}


def _chances(
    found: Observations, prior: Prior, years: float, draws: int, seed: int
) -> dict[str, tuple[float, np.ndarray]]:
    """Chance of a failure by home, and its draws."""
    posterior = fit(found, prior, draws=draws, seed=seed)
    plan = Plan.of(found)
    weights = np.concatenate([p.weights for p in posterior.laws])
    rng = np.random.default_rng([seed, 3])
    values = np.zeros((len(weights), len(plan.homes)))
    for batch in batches(posterior, plan, (years,), include_silent=False, rng=rng):
        values[batch.draws] = batch.homes[0]
    pick = rng.choice(len(weights), 200, p=weights / weights.sum())
    return {
        found.home_ids[home]: (float(weights @ values[:, i]), values[pick, i])
        for i, home in enumerate(plan.homes)
        if plan.known[i]
    }


def _bin(low: float, high: float, some: np.ndarray, p: np.ndarray, happened: np.ndarray) -> CalibrationBin:
    counts = poisson_binomial(some).mean(axis=0)
    running = np.cumsum(counts)
    return CalibrationBin(
        chance_from=low,
        chance_to=high,
        homes=len(p),
        expected=float(p.sum()),
        low=int(np.searchsorted(running, 0.05)),
        high=min(int(np.searchsorted(running, 0.95)), len(running) - 1),
        happened=int(happened.sum()),
    )


def _sentences(
    past: date, total: CalibrationBin, lost: int, missing: int, usable: bool, found: Observations, minimum: int
) -> tuple[str, ...]:
    """The comparison in plain words."""
    if not total.homes:
        return (
            f"No home's heater of {past} is known, so there is nothing to compare."
            if minimum == 1
            else f"The heater of {past} is known of fewer than {minimum} homes: too few to compare.",
        )
    words = str(lost)
    least, most = lost, lost  # what is told of the number
    if total.happened is None:
        few_lost = lost < minimum
        words = few(lost, minimum) if few_lost else "nearly all"
        least, most = (1, minimum - 1) if few_lost else (total.homes - minimum + 1, total.homes - 1)
    said = [
        f"Of {total.homes} homes whose heater of {past} is known, {total.expected:.1f} were expected to lose it "
        f"({total.low} to {total.high}, a 90% interval), and {words} did"
    ]
    if usable:
        inside = {total.low <= n <= total.high for n in range(least, most + 1)}
        if len(inside) == 1:
            said[0] += f": {'within' if inside.pop() else 'outside'} the interval."
        else:
            said[0] += ". Whether that is within the interval would give the number away; the volunteer is told it."
    else:
        said[0] += "."
        said.append(
            f"This is no fair comparison: {few(missing, minimum)} homes that replaced a heater since do not say how "
            "old it was, so losses are missing. It becomes fair for homes that had answered by then."
        )
    if found.refusal is not None:
        said.append(found.refusal)
    return tuple(said)
