"""The commands for what neighbors do together: one JSON object, one sentence for what cannot be, files to hand out."""

from __future__ import annotations

import csv
import json
import os
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path

import pytest


def run(*words: str | Path, data: Path) -> subprocess.CompletedProcess[str]:
    """Run a command in a process of its own, as a person would."""
    environment = {k: v for k, v in os.environ.items() if k not in ("HEATER_SURVEY_DATA", "HEATER_SURVEY_DEBUG")}
    return subprocess.run(
        [sys.executable, "-m", "survey_app", *map(str, words)],
        capture_output=True,
        text=True,
        env={**environment, "HEATER_SURVEY_DATA": str(data)},
        timeout=300,
        check=False,
    )


def test_days_are_planned_into_one_json_object_and_papers(data: Path, tmp_path: Path) -> None:
    """JSON names the same visits as the files; code 1 says that homes wait."""
    monday = date.today() + timedelta(days=14)
    days = ",".join((monday + timedelta(days=i)).isoformat() for i in range(3))
    out = tmp_path / "days"
    done = run("days", "--job", "flush and anode", "--dates", days, "--least", "2", "--iterations", "80", "--out", out,
               "--json", data=data)  # fmt: skip
    told = json.loads(done.stdout)

    assert done.returncode in (0, 1), done.stderr
    assert told["visits"]
    assert (done.returncode == 1) is bool(told["waiting"] or told["too_few"])
    names = {p.name for p in out.iterdir()}
    assert names == {"day_sheets.pdf", "door_notices.pdf", "map_of_days.html", "visits.csv", "visits.ics"}
    with (out / "visits.csv").open(encoding="utf-8-sig", newline="") as file:
        assert [r["home_id"] for r in csv.DictReader(file)] == [v["home_id"] for v in told["visits"]]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["--dates", "tomorrow"], "'tomorrow' in --dates is not a date"),
        (["--dates", "2027-03-01", "--crews", "0"], "no crew"),
        (["--dates", "2027-03-01", "--hours", "0.5"], "shorter than the shortest job"),
        (["--dates", ","], "at least one date"),
        (["--dates", "2027-03-01", "--prices", "10: 5, 5: 9"], "go up in homes"),
    ],
)
def test_days_that_cannot_be_planned_are_one_sentence(data: Path, words: list[str], sentence: str) -> None:
    """Code 2, the sentence on the error stream, nothing on the output stream, no traceback."""
    done = run("days", "--job", "flush", *words, data=data)

    assert done.returncode == 2
    assert sentence in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""


BID = "contractor,item,answer,from homes,price\n{rows}"
WHOLE = "A,tank,included,,\nA,labor,included,,\n"


def test_a_purchase_is_compared_and_formed_into_one_json_object(data: Path, tmp_path: Path) -> None:
    """Currency signs and thousands separators are read; the rounds add up."""
    sheet = tmp_path / "bids.csv"
    sheet.write_text(
        BID.format(rows='A,price step,,1,"$1,150.00"\nA,price step,,10,1040\nA,step kind,all units,,\n' + WHOLE)
    )
    done = run("purchase", "--bids", sheet, "--out", tmp_path / "out", "--json", data=data)
    told = json.loads(done.stdout)

    assert done.returncode in (0, 1), done.stderr
    assert {r["contractor"] for r in told["bids"]} == {"A"}
    assert told["gap"] is not None
    assert told["gap"] <= 1e-4
    assert (tmp_path / "out" / "bid_request.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("rows", "sentence"),
    [
        ("A,price step,,1,100\nA,price step,,1,90\nA,step kind,all units,,\n" + WHOLE, "row"),
        ("A,price step,,1,-100\n" + WHOLE, "row 2"),
        ("A,price step,,1,100\nA,valid until,2001-01-01,,\n" + WHOLE, "expired"),
        ("A,price step,,1,100\n", "leaves out the tank"),
    ],
)
def test_bids_that_cannot_be_used_are_said_and_set_aside(data: Path, tmp_path: Path, rows: str, sentence: str) -> None:
    """Steps at one number, a negative price, an expired bid, no tank: a sentence each, code 1, no traceback."""
    sheet = tmp_path / "bids.csv"
    sheet.write_text(BID.format(rows=rows))
    done = run("purchase", "--bids", sheet, data=data)

    assert done.returncode == 1, done.stderr
    assert sentence in done.stderr + done.stdout
    assert "Traceback" not in done.stderr


def test_a_missing_sheet_of_bids_is_written_to_be_filled_in(data: Path, tmp_path: Path) -> None:
    """The template is there afterward, and the sentence says so."""
    done = run("purchase", "--bids", tmp_path / "bids.xlsx", data=data)

    assert done.returncode == 2
    assert "a sheet to fill in was written there" in done.stderr
    assert (tmp_path / "bids.xlsx").exists()
