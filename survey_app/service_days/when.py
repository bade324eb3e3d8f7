"""From homes and agreements to service days, over geo.routing: the task, the plan, and changes to it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from geo.routing import (
    CannotPlan,
    Changes,
    CostBreakdown,
    Costs,
    Day,
    Depot,
    Half,
    Lunch,
    Plan,
    PlanFault,
    PriceStep,
    Replanned,
    Route,
    Stop,
    Task,
    Unserved,
    Visit,
    plan,
    reorder,
    replan,
    too_few,
)
from geo.routing import TooFew as DayLacking
from geo.streets import StreetNetwork, UnusableStreets, infer_streets, read_streets, snap
from geo.travel import Travel, drive_seconds, foot_travel, straight_travel, street_travel
from survey_app.records import Interest
from survey_app.service_days.jobs import Fitness
from survey_app.service_days.plan import Asked, Moved, PlannedVisit, ServicePlan, TooFew, Waiting
from survey_app.service_days.who import Candidate
from survey_app.settings import Settings

__all__ = ["CannotPlan", "Ground", "change_days", "plan_days", "reorder_day", "ways_between"]

Made = TypeVar("Made")
Progress = Callable[[float, str], object]

_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_HALVES = {"either": Half.ANY, "morning": Half.AM, "afternoon": Half.PM}
_LUNCH_FROM, _LUNCH_UNTIL = 11 * 3600 + 1800, 13 * 3600 + 1800
_MAYBE = 0.5
"""A "maybe" counts half: common practice, no source."""
_CENTS = 100
_PARTS = ("travel", "street_changes", "crew_days", "prices", "unserved", "split_neighbors", "total")


@dataclass(frozen=True, eq=False)
class Ground:
    """Where homes stand and what streets there are.

    Parameters
    ----------
    where
        Longitude and latitude by home id.
    streets
        Name, kind and line (well-known binary, WGS 84) of each street; empty where there is no street file.
    outlines, addresses
        The parcels' outlines and the homes' addresses, by home id: streets are inferred from them where there is
        no street file.
    obstacles
        Outlines of parcels without a home.
    local_epsg
        A projection in meters; None to choose one.
    """

    where: Mapping[str, tuple[float, float]]
    streets: Sequence[tuple[str, str, bytes]]
    outlines: Mapping[str, bytes]
    addresses: Mapping[str, str]
    obstacles: Sequence[bytes]
    local_epsg: int | None


def plan_days(
    homes: Sequence[Candidate],
    asked: Asked,
    ground: Ground,
    settings: Settings,
    *,
    plan_id: str,
    made_at: datetime,
    made_by: str,
    progress: Progress | None = None,
) -> ServicePlan:
    """Who is visited on which day.

    Parameters
    ----------
    homes
        Every home that was looked at, from :func:`.candidates`.
    asked
        What the committee and the contractor agreed on.
    ground
        Where the homes stand.
    settings
        What driving, days and promises count for.
    plan_id, made_at, made_by
        Its name, and who made it when.
    progress
        Called with a share from 0 to 1 and a few words.

    Raises
    ------
    CannotPlan
        Nothing can be planned; every reason is a sentence.
    """
    chosen = _chosen(homes, asked)
    if not chosen:
        raise CannotPlan(
            [
                "No home is left to plan for: none that said yes or maybe is due for this job. Ask more homes, or "
                "choose another job."
            ]
        )
    task, network = _task(chosen, asked, ground, settings, progress)
    made = _checked(lambda: plan(task, seed=asked.seed, iterations=asked.iterations or None, progress=progress))
    lacking = too_few(task, made, _not_asked(homes, chosen, ground, task))
    return _told(homes, chosen, asked, made, lacking, network, plan_id=plan_id, made_at=made_at, made_by=made_by)


def change_days(
    old: ServicePlan,
    asked: Asked,
    homes: Sequence[Candidate],
    ground: Ground,
    settings: Settings,
    *,
    plan_id: str,
    made_at: datetime,
    made_by: str,
) -> ServicePlan:
    """The plan after something changed, around what is fixed: what moved, why, and what it costs.

    Parameters
    ----------
    old
        The plan so far.
    asked
        What is agreed now; confirmed homes keep their day unless it is off.
    homes, ground, settings, plan_id, made_at, made_by
        As for :func:`plan_days`.
    """
    before, made, task, network, chosen = _again(old, asked, homes, ground, settings)
    known = {c.home_id for c in chosen}
    changes = Changes(
        cancelled=tuple(h for h in asked.cancelled if h not in old.asked.cancelled and h in before),
        confirmed=tuple(h for h in asked.confirmed if h in before),
        freed=tuple(
            h
            for h in {*old.asked.confirmed, *old.asked.pinned}
            if h not in asked.confirmed and h not in asked.pinned and h in known
        ),
        crews={
            d: max(0, asked.crews - asked.off.get(d, 0))
            for d in asked.dates
            if asked.off.get(d, 0) != old.asked.off.get(d, 0) and asked.off.get(d, 0) < asked.crews
        },
        rained_out=tuple(d for d in asked.dates if asked.off.get(d, 0) >= asked.crews > old.asked.off.get(d, 0)),
        added=tuple(s for s in task.stops if s.stop_id not in before),
        pinned={h: d for h, d in asked.pinned.items() if old.asked.pinned.get(h) != d and h in known},
        forbidden=tuple(
            (h, d)
            for h, days in asked.forbidden.items()
            for d in days
            if d not in old.asked.forbidden.get(h, ()) and h in known
        ),
    )
    was = replace(task, stops=tuple(s for s in task.stops if s.stop_id in before), days=_days(old.asked))
    was = replace(was, stops=tuple(_stop_before(s, old.asked) for s in was.stops))
    result = _checked(lambda: replan(was, made, changes))
    return _replanned(result, old, asked, homes, chosen, ground, task, network, plan_id, made_at, made_by)


def reorder_day(
    old: ServicePlan,
    on: date,
    crew: int,
    order: Sequence[str],
    homes: Sequence[Candidate],
    ground: Ground,
    settings: Settings,
    *,
    plan_id: str,
    made_at: datetime,
    made_by: str,
) -> ServicePlan:
    """One crew's day in another order, and what that costs.

    Raises
    ------
    CannotPlan
        A home would be visited outside its hours or the crew's; the sentences say which.
    """
    _, made, task, network, chosen = _again(old, old.asked, homes, ground, settings)
    result = _checked(lambda: reorder(task, made, on, crew, order))
    return _replanned(result, old, old.asked, homes, chosen, ground, task, network, plan_id, made_at, made_by)


def _checked(make: Callable[[], Made]) -> Made:
    """A plan, or the sentence that none can be shown: one that breaks its own rules never is."""
    try:
        return make()
    except PlanFault as fault:
        raise CannotPlan([f"{fault} Try other days or fewer homes."]) from None


# ---- the task -----------------------------------------------------------------


def _chosen(homes: Sequence[Candidate], asked: Asked) -> list[Candidate]:
    wanted = {Interest.YES, Interest.MAYBE} if asked.maybe_too else {Interest.YES}
    agreed, gone = set(asked.contractor_agreed), set(asked.cancelled)
    return [
        c
        for c in homes
        if c.interest in wanted
        and c.home_id not in gone
        and (c.fitness is Fitness.YES or (c.fitness is Fitness.ASK and c.home_id in agreed))
    ]


def _days(asked: Asked) -> tuple[Day, ...]:
    fits = asked.start_s < _LUNCH_FROM and asked.end_s > _LUNCH_UNTIL
    lunch = Lunch(start_s=_LUNCH_FROM, length_s=asked.lunch_s, latest_s=_LUNCH_UNTIL)
    return tuple(
        Day(
            date=d,
            crews=max(0, asked.crews - asked.off.get(d, 0)),
            start_s=asked.start_s,
            end_s=asked.end_s,
            lunch=lunch if asked.lunch_s and fits else None,
            min_stops=asked.min_homes,
            max_stops=asked.max_homes or None,
            price_steps=tuple(PriceStep(from_n=n, price_cents=round(_CENTS * usd)) for n, usd in asked.price_steps),
        )
        for d in sorted(set(asked.dates))
    )


def _stop(home: Candidate, place: int, x: float, y: float, rank: int, asked: Asked, settings: Settings) -> Stop:
    dates = sorted(set(asked.dates))
    half = _HALVES.get(home.half_day, Half.ANY)
    suits = [d for d in dates if not home.weekdays or _WEEKDAYS[d.weekday()] in home.weekdays]
    firm = asked.confirmed.get(home.home_id) or asked.pinned.get(home.home_id)
    if firm is not None and firm in dates and firm not in suits:
        suits = sorted([*suits, firm])  # agreed by hand: it goes before the weekdays of the answer
    every = len(suits) == len(dates) and half is Half.ANY
    asks = settings.request_worth_usd * (1.0 if home.interest is Interest.YES else _MAYBE)
    # Sediment and a spent anode matter most where nobody ever looked; the contractor has said yes to those here.
    neglected = settings.neglected_first_usd if home.fitness is Fitness.ASK else 0.0
    # A home that asked is willing to pay the dearest step: the steps decide on which days, not whether it is served.
    pays = max((usd for _, usd in asked.price_steps), default=0.0)
    # Whoever asked first comes first among equals: less than a dollar in all.
    first = max(0, _CENTS - 1 - rank)
    return Stop(
        stop_id=home.home_id,
        place=place,
        street=home.street,
        service_s=home.minutes * 60,
        prize_cents=round(_CENTS * (asks + neglected + pays + max(0.0, home.worth_usd[1]))) + first,
        allowed=None if every else tuple((d, half) for d in suits),
        pinned=firm,
        forbidden=tuple(sorted(asked.forbidden.get(home.home_id, ()))),
        x_m=x,
        y_m=y,
    )


def _stop_before(stop: Stop, asked: Asked) -> Stop:
    """The stop as it was before the change: pinned and forbidden as then."""
    return replace(
        stop,
        pinned=asked.pinned.get(stop.stop_id),
        forbidden=tuple(sorted(asked.forbidden.get(stop.stop_id, ()))),
    )


def _task(
    chosen: Sequence[Candidate], asked: Asked, ground: Ground, settings: Settings, progress: Progress | None
) -> tuple[Task, tuple[str, tuple[str, ...]]]:
    """The routing task, and what its distances rest on: a name and sentences."""
    if progress:
        progress(0.0, "measuring the ways between the homes")
    at = [ground.where[c.home_id] for c in chosen]
    start = asked.start_place or (float(np.median([p[0] for p in at])), float(np.median([p[1] for p in at])))
    lon, lat = [start[0], *(p[0] for p in at)], [start[1], *(p[1] for p in at)]
    names = ["", *(c.street for c in chosen)]
    labels = ["The starting place", *(c.address for c in chosen)]
    travel, x, y, said = ways_between(ground, lon, lat, names, labels)
    asked_first = sorted(range(len(chosen)), key=lambda i: (chosen[i].asked_on or date.max, chosen[i].home_id))
    rank = {i: n for n, i in enumerate(asked_first)}
    task = Task(
        stops=tuple(
            _stop(c, i + 1, float(x[i + 1]), float(y[i + 1]), rank[i], asked, settings) for i, c in enumerate(chosen)
        ),
        days=_days(asked),
        travel_s=drive_seconds(travel.metres),
        depot=Depot(place=0, x_m=float(x[0]), y_m=float(y[0])),
        costs=Costs(
            travel_cents_per_s=_CENTS * settings.crew_hour_usd / 3600,
            crew_day_cents=round(_CENTS * settings.crew_day_usd),
        ),
    )
    return task, (travel.method, said)


def ways_between(
    ground: Ground,
    lon: Sequence[float],
    lat: Sequence[float],
    streets: Sequence[str],
    labels: Sequence[str],
    *,
    on_foot: bool = False,
) -> tuple[Travel, NDArray[np.float64], NDArray[np.float64], tuple[str, ...]]:
    """How far it is between places along the streets, or in straight lines where no streets are to be had.

    Parameters
    ----------
    ground
        What streets there are.
    lon, lat, streets, labels
        Each place's position (WGS 84), the street of its address, and what to call it.
    on_foot
        Whether crossing a street counts.

    Returns
    -------
    travel
        The distances.
    x, y
        The places' positions in meters.
    said
        What the distances rest on.
    """
    found = _network(ground)
    if isinstance(found, StreetNetwork):
        places = snap(found, lon, lat, streets, labels)
        travel = (foot_travel if on_foot else street_travel)(found, places)
        return travel, places.x, places.y, travel.sentences
    y = np.asarray([v * 111_195.0 for v in lat])
    x = np.asarray([v * 111_195.0 * float(np.cos(np.radians(lat[0]))) for v in lon])
    travel = straight_travel(x, y)
    return travel, x, y, (found, *travel.sentences)


def _network(ground: Ground) -> StreetNetwork | str:
    """The street file; else streets inferred from the parcels; else the sentence why neither will do."""
    why = ""
    if ground.streets:
        try:
            return read_streets(ground.streets, local_epsg=ground.local_epsg)
        except UnusableStreets as error:
            why = str(error)
    try:
        ids = sorted(ground.outlines)
        return infer_streets(
            [ground.outlines[k] for k in ids],
            [ground.addresses[k] for k in ids],
            obstacles=ground.obstacles,
            local_epsg=ground.local_epsg,
        )
    except UnusableStreets as error:
        return " ".join(filter(None, (why, str(error))))


def _not_asked(
    homes: Sequence[Candidate], chosen: Sequence[Candidate], ground: Ground, task: Task
) -> list[tuple[str, float, float]]:
    """Homes that might join: due, and neither planned nor unwilling; with places in the task's meters."""
    have = {c.home_id for c in chosen}
    near = next(iter(task.stops), None)
    if near is None:
        return []
    lon0, lat0 = ground.where[near.stop_id]
    east = 111_195.0 * float(np.cos(np.radians(lat0)))
    found = []
    for c in homes:
        if c.home_id in have or c.fitness is Fitness.NO or c.interest is Interest.NO or c.home_id not in ground.where:
            continue
        lon, lat = ground.where[c.home_id]
        found.append((c.street, near.x_m + (lon - lon0) * east, near.y_m + (lat - lat0) * 111_195.0))
    return found


# ---- the plan in our words ------------------------------------------------------


def _told(
    homes: Sequence[Candidate],
    chosen: Sequence[Candidate],
    asked: Asked,
    made: Plan,
    lacking: Sequence[DayLacking],
    network: tuple[str, tuple[str, ...]],
    *,
    plan_id: str,
    made_at: datetime,
    made_by: str,
    moved: Sequence[Moved] = (),
    more: Sequence[str] = (),
) -> ServicePlan:
    address = {c.home_id: c.address for c in homes}
    visits = [
        PlannedVisit(
            home_id=v.stop_id, on=r.date, crew=r.crew, order=n, arrive_s=int(v.start_s), leave_s=int(v.leave_s)
        )
        for r in made.routes
        for n, v in enumerate(r.visits, start=1)
    ]
    waiting = [Waiting(home_id=u.stop_id, reason=_named(u.reason, address)) for u in made.unserved]
    planned = {c.home_id for c in chosen}
    waiting += [
        Waiting(home_id=c.home_id, reason=" ".join(c.reasons))
        for c in homes
        if c.home_id not in planned
        and c.fitness is Fitness.ASK
        and c.interest in (Interest.YES, Interest.MAYBE)
        and c.home_id not in asked.cancelled
    ]
    return ServicePlan(
        plan_id=plan_id,
        asked=asked,
        made_at=made_at,
        made_by=made_by,
        visits=tuple(visits),
        waiting=tuple(waiting),
        too_few=tuple(
            TooFew(on=t.date, missing=t.missing, streets=tuple(name for name, _ in t.streets)) for t in lacking
        ),
        costs_usd={part: getattr(made.cost, part) / _CENTS for part in _PARTS},
        method=made.method,
        network=network[0],
        sentences=tuple(dict.fromkeys(_named(s, address) for s in (*more, *made.sentences, *network[1]))),
        moved=tuple(moved),
    )


def _named(sentence: str, address: Mapping[str, str]) -> str:
    """A sentence of the routing with home ids at its start said as addresses."""
    first, _, rest = sentence.partition(" ")
    return f"{address[first]} {rest}" if first in address else sentence


def _again(
    old: ServicePlan, asked: Asked, homes: Sequence[Candidate], ground: Ground, settings: Settings
) -> tuple[set[str], Plan, Task, tuple[str, tuple[str, ...]], list[Candidate]]:
    """The old plan in the routing's words, with a task that holds its homes and those that came since."""
    on_plan = {v.home_id for v in old.visits}
    was_waiting = {w.home_id for w in old.waiting}
    now = {c.home_id for c in _chosen(homes, replace(asked, cancelled=old.asked.cancelled))}
    # A home on the plan stays in the task although its standing may have changed since.
    chosen = [c for c in homes if c.home_id in on_plan or c.home_id in now]
    before = {c.home_id for c in chosen if c.home_id in on_plan or (c.home_id in now and c.home_id in was_waiting)}
    task, network = _task(chosen, asked, ground, settings, None)
    routes = []
    for day in old.days:
        for crew in sorted({v.crew for v in old.on(day)}):
            mine = [v for v in old.on(day) if v.crew == crew and v.home_id in before]
            if mine:
                stops = tuple(
                    Visit(stop_id=v.home_id, arrive_s=v.arrive_s, start_s=v.arrive_s, leave_s=v.leave_s) for v in mine
                )
                end = max(v.leave_s for v in mine)
                routes.append(
                    Route(date=day, crew=crew, visits=stops, lunch=None, start_s=old.asked.start_s, end_s=end)
                )
    cents = {part: round(_CENTS * old.costs_usd.get(part, 0.0)) for part in _PARTS}
    served = {v.stop_id for r in routes for v in r.visits}
    made = Plan(
        routes=tuple(routes),
        unserved=tuple(Unserved(stop_id=k, reason="") for k in sorted(before - served)),
        cost=CostBreakdown(**cents),
        method=old.method,
        too_few=(),
        sentences=(),
        seed=old.asked.seed,
        iterations=old.asked.iterations,
    )
    return before, made, task, network, chosen


def _replanned(
    result: Replanned,
    old: ServicePlan,
    asked: Asked,
    homes: Sequence[Candidate],
    chosen: Sequence[Candidate],
    ground: Ground,
    task: Task,
    network: tuple[str, tuple[str, ...]],
    plan_id: str,
    made_at: datetime,
    made_by: str,
) -> ServicePlan:
    moved = [Moved(home_id=m.stop_id, before=m.before, after=m.after, why=m.why) for m in result.moved]
    usd = result.cost_difference / _CENTS
    less = "more" if usd >= 0 else "less"
    count = len(result.retimed)
    more = [
        f"This change costs ${abs(usd):,.2f} {less} by the plan's own reckoning: driving, crew-days, homes waiting.",
        *([f"{count} homes keep their day and get another time."] if count else []),
        *result.sentences,
    ]
    left = [c for c in chosen if c.home_id not in asked.cancelled]
    lacking = too_few(result.task, result.plan, _not_asked(homes, left, ground, task))
    return _told(
        homes,
        left,
        asked,
        result.plan,
        lacking,
        network,
        plan_id=plan_id,
        made_at=made_at,
        made_by=made_by,
        moved=moved,
        more=more,
    )
