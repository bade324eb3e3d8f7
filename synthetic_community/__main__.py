"""Write an invented community: ``python -m synthetic_community --homes 1200 --seed 7 --as-of 2026-11-25 --out DIR``."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from synthetic_community.community import build

__all__ = ["main"]


def main(arguments: Sequence[str] | None = None) -> int:
    """Read the command line, write the files, say where they are.

    Returns
    -------
    int
        0 when the files are written, 2 when what was asked for cannot be done.
    """
    parser = argparse.ArgumentParser(
        prog="python -m synthetic_community",
        description="Write an invented community with a known truth: parcels, streets, answers.",
        epilog="Example: python -m synthetic_community --homes 1200 --seed 7 --as-of 2026-11-25 --out demo",
    )
    parser.add_argument("--homes", type=int, default=1200, help="number of homes, 10 or more (default 1200)")
    parser.add_argument("--seed", type=int, default=7, help="same seed, same community (default 7)")
    parser.add_argument(
        "--as-of", type=date.fromisoformat, default=date(2026, 11, 25), help="day of looking, YYYY-MM-DD"
    )
    parser.add_argument("--out", type=Path, required=True, help="folder to write to")
    given = parser.parse_args(arguments)
    try:
        paths = build(given.homes, given.seed, given.as_of, given.out)
    except ValueError as problem:
        print(problem, file=sys.stderr)
        return 2
    except OSError as problem:
        print(f"Cannot write to {given.out}: {problem.strerror}. Choose another folder.", file=sys.stderr)
        return 2
    print(f"Wrote {given.homes} synthetic homes to {paths.folder}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
