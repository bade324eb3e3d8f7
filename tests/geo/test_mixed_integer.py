"""The solver: right answers, told what is proven, and nothing written to the process's own files."""

from __future__ import annotations

import dataclasses
import itertools
import re
from pathlib import Path

import numpy as np
import pytest
from scipy import sparse

from geo.mixed_integer import Program, solve

ROOT = Path(__file__).resolve().parents[2]


def knapsack(seed: int, n: int = 9) -> Program:
    """Things worth and heavy at random, in whole numbers up to two, for two bags."""
    rng = np.random.default_rng(seed)
    return Program(
        cost=-rng.integers(5, 40, n).astype(float),
        whole=np.ones(n, dtype=bool),
        lower=np.zeros(n),
        upper=np.full(n, 2.0),
        rows=sparse.coo_array(rng.integers(1, 20, (2, n)).astype(float)),
        row_lower=np.full(2, -np.inf),
        row_upper=np.full(2, 45.0),
    )


@pytest.mark.parametrize("seed", range(6))
def test_whole_numbers_equal_every_choice_tried(seed: int) -> None:
    """Nothing lighter than the bags is worth more; the bound is the answer, and it says proven."""
    program = knapsack(seed, 7)
    rows = program.rows.toarray()
    every = np.array(list(itertools.product((0, 1, 2), repeat=7)), dtype=float)
    least = (every @ program.cost)[(every @ rows.T <= program.row_upper).all(axis=1)].min()
    found = solve(program)
    assert found.x is not None
    assert program.cost @ found.x == pytest.approx(least)
    assert np.abs(found.x - np.round(found.x)).max() < 1e-6
    assert found.proven
    assert found.bound == pytest.approx(least)


def test_without_whole_numbers_the_answer_is_a_corner() -> None:
    """Two alike share one place: all of it goes to one of them, though half and half would cost the same."""
    program = Program(
        cost=np.array([-1.0, -1.0]),
        whole=np.zeros(2, dtype=bool),
        lower=np.zeros(2),
        upper=np.ones(2),
        rows=sparse.coo_array(np.ones((1, 2))),
        row_lower=np.array([-np.inf]),
        row_upper=np.array([1.0]),
    )
    found = solve(program)
    assert found.x is not None
    assert sorted(found.x.tolist()) == pytest.approx([0.0, 1.0])
    assert found.bound == pytest.approx(-1.0)


def test_nothing_fits_and_a_stopped_search_say_so() -> None:
    """What cannot be has no answer; a search without a node proves nothing; a gap is kept to and its bound holds."""
    program = knapsack(1)
    none = solve(dataclasses.replace(program, row_lower=np.full(2, 1e6), row_upper=np.full(2, 1e7)))
    assert none.x is None
    assert not none.proven
    large = dataclasses.replace(knapsack(3, 60), row_upper=np.full(2, 301.0))
    assert not solve(large, node_limit=0).proven
    best, rough = solve(large), solve(large, relative_gap=0.2)
    assert best.x is not None
    assert rough.x is not None
    assert rough.bound is not None
    assert rough.bound <= large.cost @ best.x + 1e-6 <= large.cost @ rough.x + 2e-6
    assert rough.bound >= 1.2 * (large.cost @ rough.x) - 1e-6


def test_parts_that_do_not_fit_are_refused() -> None:
    """A bound too few is a fault of whoever asked, and raised."""
    with pytest.raises(ValueError, match="do not fit together"):
        solve(dataclasses.replace(knapsack(1), upper=np.ones(2)))


@pytest.mark.parametrize("package", ["survey_app", "geo", "synthetic_community"])
def test_nothing_of_the_program_bends_file_descriptors(package: str) -> None:
    """They belong to all threads at once: no module duplicates one onto another, nor calls SciPy's solvers."""
    forbidden = re.compile(r"\bdup2?\(|redirect_stdout|\bimport milp|\bmilp\(|\blinprog\(")
    files = sorted((ROOT / package).rglob("*.py"))
    assert len(files) > 5
    assert [str(f) for f in files if forbidden.search(f.read_text(encoding="utf-8"))] == []
