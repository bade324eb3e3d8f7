"""Fifty residents submit at once, each answer sent twice; then the writer is killed in the middle and counted.

Run as a file, it prints answers a second, the 95th percentile of a submission,
and what was lost or doubled. ``tests/survey_app/test_load.py`` runs a small
version. What is measured is the survey's own path (check, join, store, change
log, reading the home anew), without the web server's share.
"""

from __future__ import annotations

import argparse
import json
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from survey_app.access import Actor, Role
from survey_app.records import AnswerChannel
from survey_app.survey import Survey, open_store

RESIDENTS = 50


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a rush left behind."""

    sent: int
    stored: int
    lost: int
    doubled: int
    per_second: float
    p95_s: float


def community(place: Path, homes: int, seed: int = 7) -> list[tuple[str, str]]:
    """A data folder with an invented community and no answers; returns home ids with their addresses."""
    import synthetic_community
    from geo.parcels import read_parcels

    day = datetime(2026, 5, 2, 9)
    files = synthetic_community.build(homes=homes, seed=seed, as_of=day.date(), out=place / "files")
    survey = Survey(open_store(place / "data"), Actor(name="v", role=Role.VOLUNTEER), now=day)
    survey.set_up().load_parcels(read_parcels(files.parcels))
    return [(h.home_id, h.address) for h in survey._context.store.homes()]


def rush(place: Path, homes: Sequence[tuple[str, str]], *, residents: int = RESIDENTS, each: int = 4) -> Outcome:
    """Every resident sends `each` answers for homes of their own, each of them twice, all at once."""
    store = open_store(place / "data")
    store.homes()
    times: list[float] = []

    def resident(number: int) -> int:
        sent = 0
        for turn in range(each):
            home_id, address = homes[number * each + turn]
            who = Actor(name=f"resident {number}", role=Role.RESIDENT, home_id=home_id)
            given = {"address": address, "kind": "gas storage", "installed": "2014", "consent": "yes"}
            for _ in range(2):
                began = time.perf_counter()
                done = (
                    Survey(store, who, now=datetime.now())
                    .answers()
                    .submit(given, channel=AnswerChannel.FORM, home_id=home_id, answer_id=f"r{number}t{turn}")
                )
                times.append(time.perf_counter() - began)
                sent += done.stored
        return sent

    began = time.perf_counter()
    with ThreadPoolExecutor(residents) as pool:
        list(pool.map(resident, range(residents)))
    took = time.perf_counter() - began
    ids = [s.answer.answer_id for s in store.answers()]
    expected = {f"r{n}t{t}" for n in range(residents) for t in range(each)}
    store.close()
    return Outcome(
        sent=len(times),
        stored=len(ids),
        lost=len(expected - set(ids)),
        doubled=len(ids) - len(set(ids)),
        per_second=len(times) / took,
        p95_s=sorted(times)[int(0.95 * len(times))],
    )


_WRITER = """
import json, sys
from datetime import datetime
from survey_app.access import Actor, Role
from survey_app.records import AnswerChannel
from survey_app.survey import Survey, open_store
place, homes = sys.argv[1], json.loads(sys.stdin.readline())
survey = Survey(open_store(place), Actor(name="v", role=Role.VOLUNTEER), now=datetime.now())
for number, (home_id, address) in enumerate(homes):
    given = {"address": address, "kind": "gas storage", "consent": "yes"}
    survey.answers().submit(given, channel=AnswerChannel.PAPER, home_id=home_id, answer_id=f"k{number}")
    print(number, flush=True)
"""


def killed_in_the_middle(place: Path, homes: Sequence[tuple[str, str]], *, after: int = 10) -> tuple[int, int]:
    """Kill a writing process outright after so many acknowledged answers.

    Returns
    -------
    tuple of int
        Answers it had acknowledged, and those of them that are missing from the store opened afresh.
    """
    writer = subprocess.Popen(
        [sys.executable, "-c", _WRITER, str(place / "data")], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert writer.stdin is not None
    assert writer.stdout is not None
    writer.stdin.write(json.dumps(list(homes)) + "\n")
    writer.stdin.flush()
    said = []
    for line in writer.stdout:
        said.append(int(line))
        if len(said) >= after:
            os.kill(writer.pid, signal.SIGKILL)
            break
    writer.wait(timeout=30)
    said += [int(line) for line in writer.stdout if line.strip()]
    there = {s.answer.answer_id for s in open_store(place / "data").answers()}
    return len(said), sum(f"k{n}" not in there for n in said)


def main() -> None:
    """Print what a rush of residents does."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--residents", type=int, default=RESIDENTS)
    parser.add_argument("--each", type=int, default=8)
    wanted = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        homes = community(place, max(1200, wanted.residents * wanted.each))
        found = rush(place, homes, residents=wanted.residents, each=wanted.each)
        print(found)
        print("killed in the middle (acknowledged, missing):", killed_in_the_middle(place, homes[-200:], after=40))


if __name__ == "__main__":
    main()
