"""Every rule checked again on a finished plan, by code that shares nothing with the code that made it."""

from __future__ import annotations

import math
from collections import Counter
from datetime import date
from itertools import pairwise

from geo.routing._values import CostBreakdown, Day, Half, Plan, Route, Stop, Task

__all__ = ["validate"]


def validate(task: Task, plan: Plan) -> tuple[str, ...]:
    """Every rule that a plan breaks, a sentence each; empty when it keeps them all.

    Checked: each stop once or unserved with a reason, its days and halves, pins
    and bans; hours, crews, travel times, jobs one after the other, nobody at
    work or on the road during the break; least and most stops of a date; and
    the cost, added again to the cent.
    """
    stops = {s.stop_id: s for s in task.stops}
    days = {d.date: d for d in task.days}
    wrong: list[str] = []
    seen = Counter(v.stop_id for r in plan.routes for v in r.visits)
    seen.update(u.stop_id for u in plan.unserved)
    wrong += [f"{k} is in the plan {n} times." for k, n in seen.items() if n > 1]
    wrong += [f"{k} is neither visited nor listed as unserved." for k in stops if k not in seen]
    wrong += [f"{k} is in the plan but was not asked for." for k in seen if k not in stops]
    wrong += [f"{u.stop_id} is unserved without a reason." for u in plan.unserved if not u.reason]
    crews = Counter((r.date, r.crew) for r in plan.routes)
    wrong += [f"{d}: crew {c} has {n} routes." for (d, c), n in crews.items() if n > 1]
    per_day = Counter[date]()
    for route in plan.routes:
        day = days.get(route.date)
        if day is None:
            wrong.append(f"{route.date} is not one of the days.")
            continue
        per_day[route.date] += len(route.visits)
        if not 1 <= route.crew <= day.crews:
            wrong.append(f"{route.date}: there is no crew {route.crew} of {day.crews}.")
        if not route.visits:
            wrong.append(f"{route.date}, crew {route.crew}: a route without a visit.")
            continue
        if all(v.stop_id in stops for v in route.visits):
            wrong += _route(task, stops, day, route)
    for when, n in per_day.items():
        day = days[when]
        if n < day.min_stops:
            wrong.append(f"{when}: {n} homes are fewer than the least, {day.min_stops}.")
        if day.max_stops is not None and n > day.max_stops:
            wrong.append(f"{when}: {n} homes are more than the most, {day.max_stops}.")
    if not wrong:
        again = _costs(task, stops, days, plan, per_day)
        if again != plan.cost:
            wrong.append(f"The cost is {again}, not {plan.cost}.")
    return tuple(wrong)


def _route(task: Task, stops: dict[str, Stop], day: Day, route: Route) -> list[str]:
    called = f"{route.date}, crew {route.crew}"
    wrong = []
    if route.start_s < day.start_s or route.end_s > day.end_s:
        wrong.append(f"{called}: outside the day's hours.")
    rest = route.lunch
    free, where = route.start_s, task.depot.place
    used = rest is None
    for visit in route.visits:
        stop = stops[visit.stop_id]
        way = int(task.travel_s[where, stop.place])
        before_way = rest is not None and not used and free <= rest[0] and rest[1] + way <= visit.arrive_s
        after_way = (
            rest is not None and not used and free + way <= visit.arrive_s <= rest[0] and rest[1] <= visit.start_s
        )
        used = used or before_way or after_way
        if visit.arrive_s < free + way:
            wrong.append(f"{called}: {visit.stop_id} is reached sooner than the way takes.")
        if visit.start_s < max(visit.arrive_s, free):
            wrong.append(f"{called}: {visit.stop_id} begins before the crew is there and free: two homes at once.")
        if visit.leave_s - visit.start_s != stop.service_s:
            wrong.append(f"{called}: {visit.stop_id} does not get the time of its job.")
        if rest is not None and visit.start_s < rest[1] and rest[0] < visit.leave_s:
            wrong.append(f"{called}: {visit.stop_id} is worked on during the break.")
        wrong += [f"{called}: {visit.stop_id} {what}." for what in _presence(stop, day, visit.start_s, visit.leave_s)]
        free, where = visit.leave_s, stop.place
    if route.end_s < free + int(task.travel_s[where, task.depot.place]):
        wrong.append(f"{called}: the way back does not fit.")
    wrong += [f"{called}: {what}." for what in _break(day, route, used)]
    return wrong


def _presence(stop: Stop, day: Day, start: int, leave: int) -> list[str]:
    wrong = []
    if stop.pinned is not None and stop.pinned != day.date:
        wrong.append("is pinned to another day")
    if day.date in stop.forbidden:
        wrong.append("must not be visited that day")
    if start < day.start_s or leave > day.end_s:
        wrong.append("is visited outside the day's hours")
    if stop.allowed is not None:
        halves = dict(stop.allowed)
        half = halves.get(day.date)
        if half is None:
            wrong.append("cannot do that day")
        elif (half is Half.AM and leave > day.noon_s) or (half is Half.PM and start < day.noon_s):
            wrong.append("cannot do that half of the day")
    return wrong


def _break(day: Day, route: Route, used: bool) -> list[str]:
    lunch = day.lunch
    if lunch is None:
        return [] if route.lunch is None else ["a break that nobody asked for"]
    if route.lunch is None:
        late = any(v.start_s >= lunch.start_s or v.leave_s > lunch.latest_s for v in route.visits)
        return ["no break"] if late else []
    wrong = []
    if route.lunch[1] - route.lunch[0] != lunch.length_s:
        wrong.append("the break has not its length")
    if not lunch.start_s <= route.lunch[0] <= lunch.latest_s:
        wrong.append("the break is too early or too late")
    if not used:
        wrong.append("the break falls into a job or a drive")
    return wrong


def _costs(
    task: Task, stops: dict[str, Stop], days: dict[date, Day], plan: Plan, per_day: Counter[date]
) -> CostBreakdown:
    travel = changes = 0
    when: dict[str, date] = {}
    for route in plan.routes:
        places = [task.depot.place, *(stops[v.stop_id].place for v in route.visits), task.depot.place]
        for a, b in pairwise(places):
            travel += math.floor(int(task.travel_s[a, b]) * task.costs.travel_cents_per_s + 0.5)
        names = [stops[v.stop_id].street for v in route.visits]
        changes += sum(a != b for a, b in pairwise(names))
        when.update((v.stop_id, route.date) for v in route.visits)
    prices = 0
    for d, n in per_day.items():
        steps = sorted((s.from_n, s.price_cents) for s in days[d].price_steps)
        if steps:
            prices += n * [price for from_n, price in steps if from_n <= n or from_n == steps[0][0]][-1]
    split = 0
    position = {s.stop_id: k for k, s in enumerate(task.stops)}
    streets: dict[str, list[str]] = {}
    for k in sorted(when, key=position.__getitem__):
        streets.setdefault(stops[k].street, []).append(k)
    for street, kin in streets.items():
        for one in kin if street else ():
            others = [k for k in kin if k != one]
            if others:
                near = min(others, key=lambda k: (int(task.travel_s[stops[one].place, stops[k].place]), position[k]))
                split += when[near] != when[one]
    parts = {
        "travel": travel,
        "street_changes": changes * task.costs.street_change_cents,
        "crew_days": len(plan.routes) * task.costs.crew_day_cents,
        "prices": prices,
        "unserved": sum(stops[u.stop_id].prize_cents for u in plan.unserved),
        "split_neighbors": split * task.costs.split_neighbor_cents,
    }
    return CostBreakdown(**parts, total=sum(parts.values()))
