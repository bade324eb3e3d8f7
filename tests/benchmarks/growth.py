"""How time grows with what is put in: an invented community, a sheet of answers, one household's decision.

Run: ``python tests/benchmarks/growth.py``. Processor time; each line is a ratio within one run.
"""

from __future__ import annotations

import csv
import tempfile
import time
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

import numpy as np

import synthetic_community
from survey_app.csv_import import check_rows, read_rows
from survey_app.economics import Amounts, Household, Tolerance, decide
from survey_app.lifetime import LAWS, LifeDraws
from survey_app.records import Place
from survey_app.settings import Settings

AS_OF = date(2026, 5, 2)


def cost(work: Callable[[], object]) -> float:
    """The least processor time of two runs, seconds."""
    times = []
    for _ in range(2):
        began = time.process_time()
        work()
        times.append(time.process_time() - began)
    return min(times)


def sheet(rows: int, place: Path) -> Path:
    """A sheet of different answers."""
    file = place / f"{rows}.csv"
    with file.open("w", newline="", encoding="utf-8") as out:
        write = csv.writer(out)
        write.writerow(["address", "kind", "installed", "moved_in", "last_flush", "remarks"])
        for n in range(rows):
            when = f"{n % 12 + 1}/{n % 27 + 1}/{2000 + n % 26}"
            kind, flush = ("gas", "elec", "tankless")[n % 3], ("never", f"about {2000 + n % 26}")[n % 2]
            write.writerow([f"{n} Street {n % 97}", kind, when, "2010", flush, f"remark {n}"])
    return file


def imported(file: Path) -> object:
    """A sheet read and checked."""
    return check_rows(
        read_rows(file),
        today=AS_OF,
        house_year_of=lambda _: 1999,
        submitted_by="v",
        submitted_at=datetime(2026, 5, 2, 9),
    )


def decision(draws: int) -> object:
    """One household's decision over so many draws of each of two laws."""
    rng = np.random.default_rng(1)
    laws = tuple(
        LifeDraws(
            LAWS[name],
            rng.normal(np.log(13), 0.05, draws),
            rng.uniform(2.2, 3.0, draws),
            np.full(draws, 0.5 / draws),
        )
        for name in ("weibull", "lognormal")
    )
    return decide(
        laws, (10, 12, 13), Amounts.from_settings(Settings()), Household(place=Place.CLOSET), tolerance=Tolerance.MIDDLE
    )


def main() -> None:
    """Print a line for each."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        few, many = (
            cost(lambda n=n: synthetic_community.build(homes=n, seed=3, as_of=AS_OF, out=place / str(n)))
            for n in (1200, 9600)
        )
        print(f"invented community, 1,200 homes: {few:.2f} s; 8 times the homes: {many / few:.1f} times as long")
        files = [sheet(n, place) for n in (1_000, 10_000)]
        few, many = (cost(lambda f=f: imported(f)) for f in files)
        print(f"a sheet of 10,000 rows read and checked: {many:.2f} s; {many / few:.1f} times that of 1,000 rows")
    few, many = (cost(lambda n=n: decision(n)) for n in (50, 500))
    print(f"a decision over 1,000 draws: {many:.3f} s; {many / few:.1f} times that over 100 draws")


if __name__ == "__main__":
    main()
