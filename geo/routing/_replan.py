"""Real days change: plan again around what is fixed, and say what moved, why, and what it costs."""

from __future__ import annotations

import dataclasses
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from geo.routing._board import Board, Draft
from geo.routing._finish import drafts_of, finish
from geo.routing._mend import best_place, close_thin_days, fill, served_of, settle
from geo.routing._values import CannotPlan, Plan, Stop, Task

__all__ = ["Changes", "Moved", "Replanned", "forbid", "pin", "reorder", "replan"]

_ALWAYS = 1 << 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What became different.

    ``confirmed`` stops keep their date unless they are also ``freed`` or the
    date is ``rained_out``. ``crews`` gives the new number of crews of a date.
    """

    cancelled: tuple[str, ...] = ()
    confirmed: tuple[str, ...] = ()
    freed: tuple[str, ...] = ()
    crews: Mapping[date, int] = field(default_factory=dict)
    rained_out: tuple[date, ...] = ()
    added: tuple[Stop, ...] = ()
    pinned: Mapping[str, date] = field(default_factory=dict)
    forbidden: tuple[tuple[str, date], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """A stop that has another date than before (None: not visited), and why."""

    stop_id: str
    before: date | None
    after: date | None
    why: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Replanned:
    """The changed task, its plan, what moved, who keeps the date but gets another time, and the cost in cents.

    ``cost_difference`` is the new total less the old one; positive is dearer.
    What a cancelled stop was worth is in neither.
    """

    task: Task
    plan: Plan
    moved: tuple[Moved, ...]
    retimed: tuple[str, ...]
    cost_difference: int
    sentences: tuple[str, ...]


def replan(task: Task, plan: Plan, changes: Changes) -> Replanned:
    """A new plan that changes as little as it can.

    Routes that nothing touches stay as they are, their order included. Stops
    that lost their place are inserted where they fit best, confirmed ones
    first and on their own date; if need be the least valuable stop that is not
    confirmed makes room for them.

    Raises
    ------
    CannotPlan
        A name or date in the changes is unknown, or nothing is left to plan.
    """
    _check(task, plan, changes)
    new = _changed(task, changes)
    was = plan.date_of()
    left = {d.date for d in new.days if d.crews}
    # A crew that is ill leaves a date with none: like rain, the confirmation is void then.
    held = {k for k in changes.confirmed if k in was and k not in changes.freed and was[k] in left}
    firm = dataclasses.replace(
        new,
        stops=tuple(
            dataclasses.replace(s, pinned=was[s.stop_id]) if s.stop_id in held and s.pinned is None else s
            for s in new.stops
        ),
    )
    board = Board(firm)
    routes, _ = _survivors(board, plan)
    routes = settle(board, routes)
    used = {r.day for r in routes}
    waiting = _waiting(board, routes)
    for i in [i for i in waiting if board.stops[i].pinned is not None]:
        _make_room(board, routes, i)
    waiting = _waiting(board, routes)
    if used:
        routes = fill(board, routes, waiting, days=used)
    lost = [i for i in _waiting(board, routes) if board.stops[i].stop_id in was]
    if lost:  # dates that were not needed before may be opened for stops that lost theirs
        routes = fill(board, routes, _waiting(board, routes), days=set(board.open_days))
    routes, usable = close_thin_days(board, routes, _waiting(board, routes), days=board.open_days)
    routes = fill(board, routes, _waiting(board, routes), days={r.day for r in routes} & usable)
    final = Board(new)
    closed = {d for d in final.open_days if d not in {r.day for r in routes} and final.days[d].min_stops > 1}
    made = finish(
        final,
        routes,
        method=plan.method,
        sentences=[s for s in plan.sentences if "left out" not in s],
        seed=plan.seed,
        iterations=plan.iterations,
        closed=closed,
    )
    return _compare(task, plan, new, made, changes, held)


def pin(task: Task, plan: Plan, stop_id: str, when: date) -> Replanned:
    """Hold a stop to a date; the result says what that costs."""
    return replan(task, plan, Changes(pinned={stop_id: when}))


def forbid(task: Task, plan: Plan, stop_id: str, when: date) -> Replanned:
    """Keep a stop from a date; the result says what that costs."""
    return replan(task, plan, Changes(forbidden=((stop_id, when),)))


def reorder(task: Task, plan: Plan, when: date, crew: int, order: Sequence[str]) -> Replanned:
    """Drive a route in another order; the result says what that costs.

    Raises
    ------
    CannotPlan
        There is no such route, the order leaves out or adds a stop, or somebody would be visited
        outside their hours or the crew's; the sentences say which.
    """
    route = next((r for r in plan.routes if (r.date, r.crew) == (when, crew)), None)
    if route is None:
        raise CannotPlan([f"On {when.isoformat()} there is no route of crew {crew}."])
    old = [v.stop_id for v in route.visits]
    if sorted(order) != sorted(old):
        raise CannotPlan(["The new order must hold the same homes as the old one, each once."])
    board = Board(task)
    stop = {s.stop_id: i for i, s in enumerate(board.stops)}
    d = next(k for k, day in enumerate(board.days) if day.date == when)
    indices = [stop[k] for k in order]
    for n in range(1, len(indices) + 1):
        if not board.fits(d, indices[:n]):
            raise CannotPlan(
                [
                    f"In this order {order[n - 1]} cannot be done within its hours and the crew's on "
                    f"{when.isoformat()}; put it at another place."
                ]
            )
    routes = drafts_of(board, plan)
    for r in routes:
        if (r.day, r.crew) == (d, crew):
            r.order = indices
    made = finish(
        board,
        routes,
        method=plan.method,
        sentences=plan.sentences,
        seed=plan.seed,
        iterations=plan.iterations,
        closed=[k for k in board.open_days if k not in {r.day for r in routes} and board.days[k].min_stops > 1],
    )
    return _compare(task, plan, task, made, Changes(), set())


def _check(task: Task, plan: Plan, changes: Changes) -> None:
    known = {s.stop_id for s in task.stops} | {s.stop_id for s in changes.added}
    dates = {d.date for d in task.days}
    named = [
        *changes.cancelled,
        *changes.confirmed,
        *changes.freed,
        *changes.pinned,
        *(k for k, _ in changes.forbidden),
    ]
    bad = [f"{k} is not in the plan; check the name." for k in dict.fromkeys(named) if k not in known]
    when = [*changes.crews, *changes.rained_out, *changes.pinned.values()]
    bad += [f"{d.isoformat()} is not one of the days." for d in dict.fromkeys(when) if d not in dates]
    bad += [f"{d.isoformat()}: crews cannot be negative." for d, n in changes.crews.items() if n < 0]
    bad += [f"{k} is both cancelled and pinned; decide for one." for k in changes.pinned if k in set(changes.cancelled)]
    if bad:
        raise CannotPlan(bad)


def _changed(task: Task, changes: Changes) -> Task:
    days = tuple(
        dataclasses.replace(d, crews=changes.crews.get(d.date, d.crews))
        for d in task.days
        if d.date not in changes.rained_out
    )
    stops = []
    for s in (*task.stops, *changes.added):
        if s.stop_id in changes.cancelled:
            continue
        pinned = changes.pinned.get(s.stop_id, None if s.stop_id in changes.freed else s.pinned)
        if pinned in changes.rained_out:
            pinned = None
        forbidden = (*s.forbidden, *(d for k, d in changes.forbidden if k == s.stop_id))
        stops.append(dataclasses.replace(s, pinned=pinned, forbidden=tuple(sorted(set(forbidden)))))
    return dataclasses.replace(task, days=days, stops=tuple(stops))


def _survivors(board: Board, plan: Plan) -> tuple[list[Draft], list[int]]:
    """The old routes without what cannot stay; where crews are missing, the least valuable routes go."""
    routes = drafts_of(board, plan)
    for r in routes:
        r.order = [i for i in r.order if r.day in board.windows[i]]
    routes = [r for r in routes if r.order]
    gone: list[int] = []
    for d in {r.day for r in routes}:
        mine = sorted((r for r in routes if r.day == d), key=lambda r: (sum(board.prize[i] for i in r.order), r.crew))
        for r in mine[: max(0, len(mine) - board.days[d].crews)]:
            routes.remove(r)
            gone += r.order
    return routes, gone


def _make_room(board: Board, routes: list[Draft], i: int) -> None:
    """Put a pinned stop on its day: into a gap, with an idle crew, or in the place of the least valuable others."""
    on = [r for r in routes if r.day in board.windows[i]]
    for d in board.windows[i]:
        full = board.days[d].max_stops
        count = sum(len(r.order) for r in routes if r.day == d)
        if full is None or count < full:
            spots = [(found, k) for k, r in enumerate(on) if (found := best_place(board, r, i, _ALWAYS)) is not None]
            if spots:
                (_, at), k = min(spots)
                on[k].order.insert(at, i)
                return
            if sum(r.day == d for r in routes) < board.days[d].crews and board.fits(d, [i]):
                routes.append(Draft(d, [i]))
                return
    best: tuple[int, int, list[int]] | None = None
    for k, r in enumerate(on):
        loose = sorted((j for j in r.order if board.stops[j].pinned is None), key=lambda j: (board.prize[j], j))
        for n in range(len(loose)):
            # One stop alone first, then the cheapest together.
            for out in ([loose[n]], loose[: n + 1]):
                rest = [j for j in r.order if j not in out]
                found = best_place(board, Draft(r.day, rest), i, _ALWAYS)
                lost = sum(board.prize[j] for j in out)
                if found is not None and (best is None or lost < best[0]):
                    best = (lost, k, [*rest[: found[1]], i, *rest[found[1] :]])
    if best is not None:
        on[best[1]].order = best[2]


def _waiting(board: Board, routes: Sequence[Draft]) -> list[int]:
    served = set(served_of(routes))
    return [i for i in range(len(board.stops)) if i not in served]


def _compare(task: Task, plan: Plan, new: Task, made: Plan, changes: Changes, held: Collection[str]) -> Replanned:
    before, after = plan.date_of(), made.date_of()
    start = {v.stop_id: v.start_s for r in plan.routes for v in r.visits}
    again = {v.stop_id: v.start_s for r in made.routes for v in r.visits}
    moved = []
    for stop in (*task.stops, *changes.added):
        k = stop.stop_id
        was, now = before.get(k), after.get(k)
        if was != now:
            moved.append(Moved(stop_id=k, before=was, after=now, why=_why(k, was, now, changes)))
    kept = tuple(k for k in before if before[k] == after.get(k) and start[k] != again[k])
    gone = sum(s.prize_cents for s in task.stops if s.stop_id in changes.cancelled and s.stop_id not in before)
    fresh = sum(s.prize_cents for s in changes.added)
    words = [
        f"{k} was confirmed for {before[k].isoformat()}, where there is no room any more; free it to offer other days."
        for k in sorted(held)
        if k not in after
    ]
    return Replanned(
        task=new,
        plan=made,
        moved=tuple(moved),
        retimed=kept,
        cost_difference=made.cost.total - (plan.cost.total - gone) - fresh,
        sentences=tuple(words),
    )


def _why(k: str, was: date | None, now: date | None, changes: Changes) -> str:
    if k in changes.cancelled:
        return "It was cancelled."
    if k in changes.pinned:
        return f"It was pinned to {changes.pinned[k].isoformat()}."
    if any(k == name and d == was for name, d in changes.forbidden):
        return f"{was.isoformat() if was else 'That day'} was forbidden for it."
    if was in changes.rained_out:
        return f"No crew comes on {was.isoformat() if was else 'that day'}."
    if was in changes.crews:
        return f"There is another number of crews on {was.isoformat() if was else ''}."
    if was is None:
        return "Room became free."
    if now is None:
        return "It made room for a home that must come that day, or its day has too few homes left."
    return "It was moved so that others have room, or so that its old day need not be held with too few homes."
