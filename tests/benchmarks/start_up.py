"""What commands cost before and while they work: processor seconds, and the libraries that each loads.

Run: ``python tests/benchmarks/start_up.py [DATA_FOLDER] [--runs 5]``. The least of several runs, user and system time
together, since others may be at work on the machine; the data folder of a demo (``heater-survey demo``) is read, and
nothing is written into it. Without one, only the commands that need no records are measured.
"""

from __future__ import annotations

import argparse
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

LIBRARIES = (
    *("alembic", "babel", "fluent", "folium", "geopandas", "numpy", "openpyxl", "pandas", "pydantic", "pyproj"),
    *("pyvrp", "rapidfuzz", "rich", "scipy", "shapely", "sqlalchemy", "streamlit", "typst"),
)
_TELL = """
import runpy, sys
try:
    runpy.run_module("survey_app", run_name="__main__", alter_sys=True)
finally:
    print(len(sys.modules), *sorted({m.partition(".")[0] for m in sys.modules}), file=sys.stderr)
"""


def seconds(words: list[str], runs: int) -> float:
    """The least processor time of several runs of a command."""
    times = []
    for _ in range(runs):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        done = subprocess.run([sys.executable, "-m", "survey_app", *words], capture_output=True, text=True, check=False)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        if done.returncode not in (0, 1):
            raise SystemExit(f"{' '.join(words)}: {done.stderr}")
        times.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(times)


def loaded(words: list[str]) -> tuple[int, list[str]]:
    """How many modules a command loads, and which of :data:`LIBRARIES`."""
    done = subprocess.run([sys.executable, "-c", _TELL, *words], capture_output=True, text=True, check=False)
    count, *names = done.stderr.splitlines()[-1].split()
    return int(count), [name for name in LIBRARIES if name in names]


def main() -> None:
    """Measure and print, one line a command."""
    ask = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    ask.add_argument("data", nargs="?", type=Path, help="data folder of a demo")
    ask.add_argument("--runs", type=int, default=5)
    asked = ask.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        commands = [["--help"], ["template", f"{folder}/template.csv"]]
        if asked.data is not None:
            on = ["--data", str(asked.data)]
            commands += [
                ["standing", *on],
                ["matches", *on],
                ["map", f"{folder}/map.html", *on],
                ["export", f"{folder}/survey.gpkg", *on],
                ["forecast", "--json", *on],
            ]
        print(f"{'command':10} {'seconds':>7} {'modules':>7}  libraries")
        for words in commands:
            count, names = loaded(words)
            print(f"{words[0]:10} {seconds(words, asked.runs):7.2f} {count:7}  {' '.join(names)}")


if __name__ == "__main__":
    main()
