"""Linear programs, some of whose unknowns must be whole numbers: the one place where a solver is called.

HiGHS is called through its own interface. SciPy's, which carries a HiGHS of its
own, writes a line to the process's standard output now and then although it is
told not to (seen with SciPy 1.17); to keep it from there a program would have
to bend its file descriptors, which belong to all its threads.

One thread, and no clock: the same program gives the same answer every time, as
long as HiGHS is the same: among answers that are equally good, its next version
may choose another. So it is held at one in pyproject.toml.
"""

from __future__ import annotations

from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray
from scipy import sparse

__all__ = ["Program", "Solved", "solve"]

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False, kw_only=True)
class Program:
    """Make ``cost @ x`` least where ``row_lower <= rows @ x <= row_upper`` and ``lower <= x <= upper``.

    ``whole`` tells which x are whole numbers. Bounds may be infinite.
    """

    cost: Floats
    whole: NDArray[np.bool_]
    lower: Floats
    upper: Floats
    rows: sparse.sparray
    row_lower: Floats
    row_upper: Floats


@dataclass(frozen=True, eq=False, kw_only=True)
class Solved:
    """What the solver found.

    Parameters
    ----------
    x
        The best it has; None when it has none.
    proven
        Whether it is within the gap of the least possible.
    bound
        No x costs less; None when unknown.
    nodes
        Searched.
    """

    x: Floats | None
    proven: bool
    bound: float | None
    nodes: int


def solve(program: Program, *, relative_gap: float = 0.0, node_limit: int | None = None) -> Solved:
    """Solve a program, to a gap or a number of nodes, and write nothing anywhere.

    Without a whole x the simplex method solves it, so that the answer is a corner.

    Parameters
    ----------
    program
        What to solve.
    relative_gap
        Stop when the best is proven within this share of the least possible.
    node_limit
        Stop after so many nodes, whatever the gap; None for no limit.

    Returns
    -------
    Solved
        Several programs may be solved at once, each in a thread of its own.
    """
    options = highspy.HighsOptions()
    options.log_to_console = options.output_flag = False
    options.threads = 1
    options.mip_rel_gap = relative_gap
    if node_limit is not None:
        options.mip_max_nodes = node_limit
    if not program.whole.any():
        options.solver = "simplex"
    highs = highspy.Highs()  # type: ignore[no-untyped-call]
    taken = (highs.passOptions(options), highs.passModel(_as_highs(program)))
    if highspy.HighsStatus.kError in taken:
        raise ValueError("The solver refuses the program: its parts do not fit together.")
    highs.run()
    info = highs.getInfo()
    proven = highs.getModelStatus() == highspy.HighsModelStatus.kOptimal
    has_any = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    bound = info.mip_dual_bound if program.whole.any() else info.objective_function_value if proven else np.inf
    return Solved(
        x=np.array(highs.getSolution().col_value, dtype=np.float64) if has_any else None,
        proven=proven,
        bound=float(bound) if np.isfinite(bound) else None,
        nodes=max(0, int(info.mip_node_count)),
    )


def _as_highs(program: Program) -> highspy.HighsLp:
    columns = sparse.csc_array(program.rows)
    model = highspy.HighsLp()
    model.num_row_, model.num_col_ = columns.shape
    model.col_cost_ = program.cost
    model.col_lower_, model.col_upper_ = program.lower, program.upper
    model.row_lower_, model.row_upper_ = program.row_lower, program.row_upper
    model.a_matrix_.num_row_, model.a_matrix_.num_col_ = columns.shape
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    model.a_matrix_.start_, model.a_matrix_.index_ = columns.indptr, columns.indices
    model.a_matrix_.value_ = columns.data
    if program.whole.any():
        kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
        model.integrality_ = [kinds[int(one)] for one in program.whole]
    return model
