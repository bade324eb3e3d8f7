"""The commands for what neighbors do together: one JSON object, one sentence for what cannot be, files to hand out."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from survey_app.prices import PriceList, list_rows
from survey_app.service_days import JOBS
from survey_app.settings import Settings

Run = Callable[..., Any]
"""The fixture `run`: a command in this process."""


def test_days_are_planned_into_one_json_object_and_papers(run: Run, data: Path, tmp_path: Path) -> None:
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


def test_a_word_that_is_no_job_is_answered_with_all_jobs(run: Run, data: Path) -> None:
    """The help says that it does, and the refusal names every row of the table."""
    told = " ".join(run("days", "--help", data=data).stdout.replace("│", " ").split())
    assert "any other word lists all jobs" in told
    done = run("days", "--job", "polish", "--dates", "2027-03-01", data=data)

    assert done.returncode == 2
    assert "There is no job 'polish'" in done.stderr
    for job in JOBS:
        assert job.name in done.stderr


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
def test_days_that_cannot_be_planned_are_one_sentence(run: Run, data: Path, words: list[str], sentence: str) -> None:
    """Code 2, the sentence on the error stream, nothing on the output stream, no traceback."""
    done = run("days", "--job", "flush", *words, data=data)

    assert done.returncode == 2
    assert sentence in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""


BID = "contractor,item,answer,from homes,price\n{rows}"
WHOLE = "A,tank,included,,\nA,labor,included,,\n"


def test_a_purchase_is_compared_and_formed_into_one_json_object(run: Run, data: Path, tmp_path: Path) -> None:
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
    assert told["prices_alone"] == list_rows(PriceList(Settings()))
    assert (tmp_path / "out" / "bid_request.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("rows", "sentence"),
    [
        ("A,price step,,1,100\nA,price step,,1,90\nA,step kind,all units,,\n" + WHOLE, "row"),
        ("A,price step,,1,-100\n" + WHOLE, "row 2"),
        ("A,price step,,1,100\nA,valid until,2001-01-01,,\n" + WHOLE, "expired"),
        ("A,price step,,1,100\n", "leaves out the tank"),
        ("A,price step,,1,100\nA,price step,,10,120\nA,step kind,all units,,\n" + WHOLE, "The price rises"),
        ("A,price step,,1-12,100\nA,price step,,10,90\nA,step kind,all units,,\n" + WHOLE, "overlaps"),
        ("A,price step,,1,a lot\n" + WHOLE, "cannot be read as a price"),
    ],
)
def test_bids_that_cannot_be_used_are_said_and_set_aside(
    run: Run, data: Path, tmp_path: Path, rows: str, sentence: str
) -> None:
    """Steps at one number, a negative price, an expired bid, no tank: a sentence each, code 1, no traceback."""
    sheet = tmp_path / "bids.csv"
    sheet.write_text(BID.format(rows=rows))
    done = run("purchase", "--bids", sheet, data=data)

    assert done.returncode == 1, done.stderr
    assert sentence in done.stderr + done.stdout
    assert "Traceback" not in done.stderr


def test_a_missing_sheet_of_bids_is_written_to_be_filled_in(run: Run, data: Path, tmp_path: Path) -> None:
    """The template is there afterward, and the sentence says so."""
    done = run("purchase", "--bids", tmp_path / "bids.xlsx", data=data)

    assert done.returncode == 2
    assert "a sheet to fill in was written there" in done.stderr
    assert (tmp_path / "bids.xlsx").exists()


def test_a_corrected_mend_file_adds_to_its_bid(run: Run, data: Path, tmp_path: Path) -> None:
    """One row of the scope is wrong: the bid is kept without it; the mended row alone completes the bid."""
    sheet = tmp_path / "bids.csv"
    sheet.write_text(BID.format(rows="A,price step,,1,1100\nA,permit,perhaps,,\n" + WHOLE))
    first = run("purchase", "--bids", sheet, "--json", data=data)
    told = json.loads(first.stdout)
    assert first.returncode == 1
    assert told["rejected_rows"] == 1
    assert told["orders"] or told["alone"]
    fixed = tmp_path / "mended.csv"
    fixed.write_text(BID.format(rows="A,permit,included,,\n"))
    again = run("purchase", "--bids", fixed, "--json", data=data)
    mended = json.loads(again.stdout)

    assert mended["rejected_rows"] == 0
    assert [r["contractor"] for r in mended["bids"]] == ["A"] * 3
    gap = "of that assumed for what it leaves out, USD"
    # The permit's assumed price, 100 dollars a home, is no longer filled in.
    assert mended["bids"][0][gap] == pytest.approx(told["bids"][0][gap] - 100, abs=0.02)


def test_a_purchase_of_nobody_says_so(run: Run, tmp_path: Path) -> None:
    """No home has said yes or maybe: bids are compared, no round is formed, code 1, nothing breaks."""
    sheet = tmp_path / "bids.csv"
    sheet.write_text(BID.format(rows="A,price step,,1,1100\n" + WHOLE))
    done = run("purchase", "--bids", sheet, "--out", tmp_path / "out", data=tmp_path / "data")

    assert done.returncode == 1, done.stderr
    assert "No home is interested yet" in done.stdout
    assert "there is no round to form" in done.stdout
    assert "Traceback" not in done.stderr
    assert (tmp_path / "out" / "rounds.csv").exists()


def test_a_sheet_that_is_none_is_one_sentence(run: Run, data: Path, tmp_path: Path) -> None:
    """A sheet without the columns: code 2 and what to start from."""
    sheet = tmp_path / "bids.csv"
    sheet.write_text("name,amount\nA,100\n")
    done = run("purchase", "--bids", sheet, data=data)

    assert done.returncode == 2
    assert "bids.csv" in done.stderr
    assert done.stdout == ""
