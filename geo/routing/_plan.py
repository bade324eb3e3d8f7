"""From a task to a plan: dates opened, routes made, filled, brought together, checked."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from geo.routing._board import Board, Draft
from geo.routing._finish import costs_of, finish
from geo.routing._master import is_needed, open_days
from geo.routing._mend import close_thin_days, fill, served_of, settle, together
from geo.routing._simple import k_means_with_repair, street_order
from geo.routing._solver import solve_routes
from geo.routing._values import CannotPlan, Plan, Task

__all__ = ["K_MEANS", "ROUTED", "STREET_ORDER", "plan"]

ROUTED = "routed"
K_MEANS = "k-means with repair"
STREET_ORDER = "street order"

Progress = Callable[[float, str], object]


def plan(
    task: Task,
    *,
    seed: int = 0,
    iterations: int | None = None,
    tries: int | None = None,
    method: str = ROUTED,
    neighbors: bool = True,
    progress: Progress | None = None,
) -> Plan:
    """Choose who is visited, on which date, by which crew, in which order.

    A small mixed-integer program opens dates where a least number or price
    steps make that a question; PyVRP routes (in zones above 150 stops); waiting
    stops are inserted where they pay; neighbors are brought to one date; the
    validator checks everything again. Nothing is stopped by the clock: equal
    arguments give an equal plan.

    Parameters
    ----------
    task
        Stops, days, travel times, costs.
    seed
        Of every random choice.
    iterations
        Of the routing, for each try (and zone, and drawing of zones); when None 1,200 up to 300 stops,
        700 above.
    tries
        Seeds of which the best plan is kept: three up to 300 stops, one above, when None.
    method
        `ROUTED`; `K_MEANS`, also the fallback where PyVRP is missing or fails;
        `STREET_ORDER`, for comparison only.
    neighbors
        Whether neighbors are brought to one date at the end (`K_MEANS` and `ROUTED`).
    progress
        Called with a share from 0 to 1 and a few words.

    Returns
    -------
    Plan
        Also where some or all days are unusable for some stops: those are unserved with a reason.

    Raises
    ------
    CannotPlan
        The task cannot be read, or no day has a crew and enough hours, or no stop can do any day.
        All problems at once.
    """
    rounds = _usual(len(task.stops)) if iterations is None else iterations
    problems = []
    if method not in (ROUTED, K_MEANS, STREET_ORDER):
        problems.append(f"There is no method '{method}'; choose '{ROUTED}', '{K_MEANS}' or '{STREET_ORDER}'.")
    if rounds < 1 or (tries is not None and tries < 1):
        problems.append("At least one iteration and one try are needed.")
    if problems:
        raise CannotPlan(problems)
    tell: Progress = progress or (lambda share, words: None)
    tell(0.0, "reading the task")
    board = Board(task)
    days: Sequence[int] = board.open_days
    price: dict[int, int] = {}
    said: list[str] = []
    if is_needed(board):
        tell(0.02, "choosing the dates")
        opened = open_days(board)
        days, price = sorted(opened.crews), opened.price
        if not opened.proven:
            said.append("The choice of dates was stopped before it was proven best.")
    routes = _routes(board, days, price, seed, rounds, tries, method, said, tell)
    if method != STREET_ORDER:
        tell(0.85, "filling what is left")
        routes = fill(board, routes, _waiting(board, routes), days=set(days))
    if neighbors and method != STREET_ORDER:
        routes = together(board, routes, progress=lambda share, words: tell(0.9 + 0.05 * share, words))
    routes, usable = close_thin_days(board, routes, _waiting(board, routes), days=days)
    if method != STREET_ORDER:
        live = {r.day for r in routes} & usable
        routes = fill(board, routes, _waiting(board, routes), days=live)
        routes, _ = close_thin_days(board, routes, _waiting(board, routes), days=live)
    used = {r.day for r in routes}
    if not routes:
        said.append("No day can be held: see why for each home.")
    tell(0.97, "checking the plan")
    thin = {d for d in board.open_days if d not in used and (board.days[d].min_stops > 1 or board.days[d].price_steps)}
    made = finish(
        board,
        routes,
        method=K_MEANS if any("k-means" in s for s in said) else method,
        sentences=said,
        seed=seed,
        iterations=rounds,
        closed=thin,
    )
    tell(1.0, "done")
    return made


def _usual(stops: int) -> int:
    """Iterations that keep 1,000 stops under 90 seconds and 3,000 under 180 on one slow core."""
    return 1_200 if stops <= 300 else 700


def _waiting(board: Board, routes: Sequence[Draft]) -> list[int]:
    served = set(served_of(routes))
    return [i for i in range(len(board.stops)) if i not in served]


def _routes(
    board: Board,
    days: Sequence[int],
    price: dict[int, int],
    seed: int,
    iterations: int,
    tries: int | None,
    method: str,
    said: list[str],
    tell: Progress,
) -> list[Draft]:
    if method == STREET_ORDER:
        return street_order(board, days)
    tell(0.05, "clustering")
    simple = settle(board, k_means_with_repair(board, seed, days))
    if method == K_MEANS:
        said.append("This plan was made by k-means with repair, as asked: a simpler and rougher way.")
        return simple
    count = tries if tries is not None else (3 if len(board.stops) <= 300 else 1)
    try:
        routed = solve_routes(
            board,
            days,
            price=price,
            seed=seed,
            iterations=iterations,
            tries=count,
            start=simple,
            progress=lambda share, words: tell(0.08 + 0.77 * share, words),
        )
    except ImportError:
        said.append(
            "The routing library (PyVRP) is not installed; this plan was made by k-means with repair, a simpler way "
            "that leaves about a tenth more value unserved. Install the package to get better plans."
        )
        return simple
    except (RuntimeError, ValueError, TypeError, AttributeError, MemoryError) as error:
        said.append(
            f"The routing library failed ({type(error).__name__}: {error}); this plan was made by k-means with "
            "repair, a simpler and rougher way."
        )
        return simple
    routed = fill(board, settle(board, routed), _waiting(board, routed), days=set(days))
    # The simple plan is at hand: never hand out a worse one.
    return min((routed, simple), key=lambda r: _worth(board, r))


def _worth(board: Board, routes: Sequence[Draft]) -> int:
    cost = costs_of(board, routes)
    pinned = {i for i, s in enumerate(board.stops) if s.pinned is not None}
    lost = len(pinned - set(served_of(routes)))
    return cost.total - cost.split_neighbors + lost * 100_000_000
