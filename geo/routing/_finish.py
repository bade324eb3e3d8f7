"""A draft as a plan: crews numbered, times, reasons, costs, and the last check before anybody sees it."""

from __future__ import annotations

import dataclasses
from collections import Counter
from collections.abc import Collection, Sequence
from datetime import date
from itertools import pairwise

from geo.routing._board import Board, Draft, day_price, street_neighbors
from geo.routing._mend import served_of
from geo.routing._validate import validate
from geo.routing._values import CostBreakdown, Plan, Route, Stop, Task, TooFew, Unserved, Visit

__all__ = ["PlanFault", "costs_of", "drafts_of", "finish", "too_few"]


class PlanFault(RuntimeError):
    """A plan broke a rule of its own: a fault of this program, never shown as a plan."""


def costs_of(board: Board, routes: Sequence[Draft]) -> CostBreakdown:
    """What a draft costs, in whole cents."""
    served = served_of(routes)
    inside = set(served)
    day = {i: r.day for r in routes for i in r.order}
    near = street_neighbors(board.stops, board.travel_s, served)
    counts = Counter(day.values())
    crew_days = len(routes) * board.costs.crew_day_cents
    changes = board.costs.street_change_cents * sum(
        board.street[a] != board.street[b] for r in routes for a, b in pairwise(r.order)
    )
    parts = {
        "travel": sum(board.route_cents(r.order) for r in routes) - changes - crew_days,
        "street_changes": changes,
        "crew_days": crew_days,
        "prices": sum(day_price(board.days[d], n) for d, n in counts.items()),
        "unserved": sum(s.prize_cents for i, s in enumerate(board.stops) if i not in inside),
        "split_neighbors": board.costs.split_neighbor_cents * sum(day[i] != day[k] for i, k in near.items()),
    }
    return CostBreakdown(**parts, total=sum(parts.values()))


def finish(
    board: Board,
    routes: Sequence[Draft],
    *,
    method: str,
    sentences: Sequence[str],
    seed: int,
    iterations: int,
    closed: Collection[int] = (),
) -> Plan:
    """The plan of a draft, checked by the validator.

    Raises
    ------
    PlanFault
        The validator found a broken rule.
    """
    numbered = _number(board, routes)
    made = []
    for draft in numbered:
        found = board.clock(draft.day, draft.order)
        if found is None:
            raise PlanFault(f"A route of {board.days[draft.day].date} does not fit its day.")
        times, lunch, end = found
        visits = tuple(
            Visit(stop_id=board.stops[i].stop_id, arrive_s=a, start_s=s, leave_s=t)
            for i, (a, s, t) in zip(draft.order, times, strict=True)
        )
        day = board.days[draft.day]
        made.append(Route(date=day.date, crew=draft.crew, visits=visits, lunch=lunch, start_s=day.start_s, end_s=end))
    served = set(served_of(routes))
    unserved = tuple(
        Unserved(stop_id=s.stop_id, reason=_reason(board, numbered, i, closed))
        for i, s in enumerate(board.stops)
        if i not in served
    )
    plan = Plan(
        routes=tuple(made),
        unserved=unserved,
        cost=costs_of(board, numbered),
        method=method,
        too_few=(),
        sentences=tuple(dict.fromkeys([*board.said, *sentences])),
        seed=seed,
        iterations=iterations,
    )
    plan = dataclasses.replace(plan, too_few=too_few(board.task, plan))
    wrong = validate(board.task, plan)
    if wrong:
        raise PlanFault("A plan was made that breaks its own rules, and is not shown: " + " ".join(wrong[:5]))
    return plan


def drafts_of(board: Board, plan: Plan) -> list[Draft]:
    """A plan's routes on the board; stops and days that are no longer there are left out."""
    stop = {s.stop_id: i for i, s in enumerate(board.stops)}
    day = {d.date: k for k, d in enumerate(board.days)}
    out = []
    for route in plan.routes:
        if route.date in day:
            order = [stop[v.stop_id] for v in route.visits if v.stop_id in stop]
            out.append(Draft(day[route.date], order, route.crew))
    return out


def too_few(task: Task, plan: Plan, others: Sequence[tuple[str, float, float]] = ()) -> tuple[TooFew, ...]:
    """Dates that stay closed for want of a few more stops, and the two streets to ask.

    Parameters
    ----------
    others
        Street and coordinates (metres) of places that are not in the task: not
        yet asked, or not yet decided. With them the streets named are those
        with most such places near the stops that want the date; without them
        the streets where most stops want it.
    """
    used = {r.date for r in plan.routes}
    waiting = {u.stop_id for u in plan.unserved}
    out = []
    for day in sorted(task.days, key=lambda d: d.date):
        if day.date in used or not day.crews or not day.min_stops:
            continue
        wanting = [s for s in task.stops if s.stop_id in waiting and _could(s.allowed, s.pinned, s.forbidden, day.date)]
        missing = day.min_stops - len(wanting)
        if missing <= 0:
            continue
        streets = _streets_to_ask(wanting, others)
        where = " and ".join(name for name, _ in streets)
        more = "home" if missing == 1 else "homes"
        out.append(
            TooFew(
                date=day.date,
                missing=missing,
                wanting=tuple(s.stop_id for s in wanting),
                streets=streets,
                sentence=f"{day.date.isoformat()}: {len(wanting)} of the {day.min_stops} homes needed can come; "
                f"{missing} more {more}{f' on {where}' if where else ''} would fill the day.",
            )
        )
    return tuple(out)


def _could(
    allowed: tuple[tuple[date, object], ...] | None, pinned: date | None, forbidden: tuple[date, ...], when: date
) -> bool:
    if when in forbidden or pinned not in (None, when):
        return False
    return allowed is None or any(d == when for d, _ in allowed)


def _streets_to_ask(wanting: Sequence[Stop], others: Sequence[tuple[str, float, float]]) -> tuple[tuple[str, int], ...]:
    here = Counter(s.street for s in wanting if s.street)
    if not others:
        ranked = sorted(here.items(), key=lambda kv: (-kv[1], kv[0]))
        return tuple(ranked[:2])
    number = Counter(street for street, _, _ in others)
    spots = [(s.x_m, s.y_m) for s in wanting]
    nearest: dict[str, float] = {}
    for street, x, y in others:
        away = min((((x - a) ** 2 + (y - b) ** 2) ** 0.5 for a, b in spots), default=0.0)
        nearest[street] = min(away, nearest.get(street, away))
    # On the way already first; then near with many homes to ask: 100 m farther must be worth another home.
    order = sorted(number, key=lambda s: (-(here[s] > 0), nearest[s] / 100.0 - number[s], s))
    return tuple((s, number[s]) for s in order[:2])


def _number(board: Board, routes: Sequence[Draft]) -> list[Draft]:
    """Routes in order of date and crew; crews that have a number keep it."""
    out = []
    for d in sorted({r.day for r in routes}):
        mine = sorted((r for r in routes if r.day == d), key=lambda r: (r.crew or 1_000_000, min(r.order)))
        crews = board.days[d].crews
        taken: set[int] = set()
        for r in mine:
            if not 1 <= r.crew <= crews or r.crew in taken:
                r.crew = 0
            taken.add(r.crew)
        free = iter([c for c in range(1, crews + len(mine) + 1) if c not in taken])
        for r in mine:
            r.crew = r.crew or next(free)
        out += sorted(mine, key=lambda r: r.crew)
    return out


def _reason(board: Board, routes: Sequence[Draft], i: int, closed: Collection[int]) -> str:
    stop = board.stops[i]
    windows = board.windows[i]
    if not windows:
        return _no_day(board, i)
    live = [d for d in sorted(windows) if d not in closed]
    if not live:
        names = _dates(board, sorted(windows))
        return f"Its days ({names}) stay closed: too few homes for the crew to come, or not worth the trip."
    price = min(day_price(board.days[d], 1) for d in live)
    alone = board.route_cents([i]) + price
    used = Counter(r.day for r in routes)
    idle = [d for d in live if used[d] < board.days[d].crews and board.fits(d, [i])]
    if idle and stop.prize_cents <= alone:
        return (
            f"On {_dates(board, idle)} a crew could come, but the trip costs more than the visit is worth; "
            "neighbors who join would change that."
        )
    minutes = -(-stop.service_s // 60)
    return (
        f"Its days ({_dates(board, live)}) are full; it would need another {minutes} minutes of a crew there, "
        "or another day that suits."
    )


def _no_day(board: Board, i: int) -> str:
    stop = board.stops[i]
    given = {d.date for d in board.days}
    if stop.pinned is not None:
        return f"It is pinned to {stop.pinned.isoformat()}, when no crew can come for it; free it or add a crew."
    wished = [d for d, _ in stop.allowed] if stop.allowed is not None else sorted(given)
    if not any(d in given for d in wished):
        return "None of the days suits this home; offer another day."
    if all(d in stop.forbidden for d in wished if d in given):
        return "Every day that suits this home is forbidden for it; allow one again."
    return "On the days that suit this home its hours, or the day's, are too short for the job; offer a longer time."


def _dates(board: Board, days: Sequence[int]) -> str:
    names = [board.days[d].date.isoformat() for d in days]
    return ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")
