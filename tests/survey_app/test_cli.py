"""The commands: exit codes, one sentence on the error stream, one JSON object on the output stream."""

from __future__ import annotations

import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import geopandas as gpd
import pytest

Run = Callable[..., Any]
"""The fixture `run`: a command in this process."""


def program(*words: str | Path, data: Path) -> subprocess.CompletedProcess[str]:
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


def test_the_program_leaves_with_its_code_and_keeps_its_streams_apart(data: Path, tmp_path: Path) -> None:
    """`python -m survey_app` in processes of their own: codes 0, 1, 2; only JSON where JSON was asked for.

    One command plans with both solvers, which must write nothing to the stream that they share with it.
    """
    monday = date.today() + timedelta(days=14)
    done = program("standing", "--json", data=data)
    eye = program("days", "--job", "flush and anode", "--dates", monday.isoformat(), "--least", "2", "--iterations",
                  "40", "--json", data=data)  # fmt: skip
    wrong = program("parcels", "nowhere.zip", data=tmp_path / "none")

    assert (done.returncode, eye.returncode, wrong.returncode) == (0, 1, 2)
    assert len(json.loads(done.stdout)["homes"]) == 120
    assert json.loads(eye.stdout)["waiting"]
    assert wrong.stdout == ""
    assert "There is no file nowhere.zip" in wrong.stderr
    assert "Traceback" not in done.stderr + eye.stderr + wrong.stderr


def test_the_demo_makes_the_map_and_the_standing_table_from_nothing(run: Run, tmp_path: Path) -> None:
    """One command, every output, all of it called synthetic; a second run replaces the first."""
    for _ in range(2):
        done = run("demo", "--homes", "60", "--no-open", "--out", tmp_path / "out")

        assert done.returncode == 0, done.stderr
    files = {p.name for p in (tmp_path / "out").iterdir()}
    assert {"map_for_the_volunteer.html", "map_to_publish.html", "standing.csv", "survey.gpkg"} <= files
    assert {"forecast.json", "map_of_expected_losses.html"} <= files
    assert len((tmp_path / "out" / "standing.csv").read_text(encoding="utf-8-sig").splitlines()) - 1 == 60
    assert "ynthetic" in (tmp_path / "out" / "map_to_publish.html").read_text()
    assert "synthetic" in done.stdout


def test_the_demo_never_replaces_somebodys_records(run: Run, tmp_path: Path) -> None:
    """A folder that a demo did not make is left alone."""
    (tmp_path / "out" / "data").mkdir(parents=True)
    (tmp_path / "out" / "data" / "survey.sqlite").write_text("precious")
    done = run("demo", "--homes", "60", "--no-open", "--out", tmp_path / "out")

    assert done.returncode == 2
    assert "Choose another folder" in done.stderr
    assert (tmp_path / "out" / "data" / "survey.sqlite").read_text() == "precious"


def test_a_round_by_hand_from_parcels_to_export(run: Run, invented: Path, tmp_path: Path) -> None:
    """parcels, template, answers (twice), matches, standing, map, export: each does what README says."""
    data = tmp_path / "data"
    loaded = run("parcels", invented / "parcels.geojson", "--name", "Ours", "--json", data=data)
    assert loaded.returncode in (0, 1), loaded.stderr
    assert json.loads(loaded.stdout)["homes"] == 120

    assert run("template", tmp_path / "answers.xlsx").returncode == 0
    sheet = shutil.copy(invented / "answers.csv", tmp_path / "answers.csv")
    first = run("answers", sheet, "--mend", tmp_path / "mend.csv", "--json", data=data)
    told = json.loads(first.stdout)
    assert told["new"] > 30
    assert told["new"] == told["joined"] + told["doubtful"] + told["no_such_home"]
    assert (1 if told["rejected"] or told["doubtful"] or told["no_such_home"] else 0) == first.returncode
    again = json.loads(run("answers", sheet, "--mend", tmp_path / "mend.csv", "--json", data=data).stdout)
    assert again["new"] == 0

    waiting = json.loads(run("matches", "--json", data=data).stdout)["doubtful"]
    assert waiting
    item = next(w for w in waiting if w["candidates"])
    home = item["candidates"][0]["home"]
    decided = run("matches", "--accept", f"{item['answer']}={home}", "--json", data=data)
    assert item["answer"] not in decided.stdout

    standing = json.loads(run("standing", "--csv", tmp_path / "standing.csv", "--json", data=data).stdout)
    assert 120 == sum(standing["counts"].values()) == len(standing["homes"])
    assert next(h for h in standing["homes"] if h["home_id"] == home)["answered"] == "yes"
    for audience in ("volunteer", "public"):
        assert run("map", tmp_path / f"{audience}.html", "--audience", audience, data=data).returncode == 0
    for name in ("survey.gpkg", "survey.geojson", "survey.csv", "survey.xlsx"):
        assert run("export", tmp_path / name, data=data).returncode == 0
    foreseen = run("forecast", "--as-of", "2027-01-01", "--json", data=data)
    told = json.loads(foreseen.stdout)
    assert told["as_of"] == "2027-01-01"
    assert [h["years"] for h in told["horizons"]] == [1.0, 3.0, 5.0]
    assert all(h["everyone"]["low"] <= h["everyone"]["mean"] <= h["everyone"]["high"] for h in told["horizons"])
    assert home not in foreseen.stdout
    layer = gpd.read_file(tmp_path / "survey.gpkg")
    assert len(layer) == 120
    assert layer.crs.to_epsg() == 4326


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("parcels", "nowhere.zip"), "There is no file nowhere.zip"),
        (("answers", "nowhere.csv"), "There is no file nowhere.csv"),
        (("export", "survey.pdf"), "does not say which format"),
        (("matches", "--accept", "onlyananswer"), "does not say which home"),
        (("matches", "--reject", "nosuchanswer"), "There is no answer"),
    ],
)
def test_wrong_use_gets_one_sentence_and_exit_code_2(
    run: Run, tmp_path: Path, words: tuple[str, ...], sentence: str
) -> None:
    """No traceback, nothing on the output stream, the sentence names what is wrong."""
    done = run(*words, data=tmp_path / "data")

    assert done.returncode == 2
    assert sentence in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""


def test_a_parcel_file_that_is_none_gets_a_sentence(run: Run, tmp_path: Path) -> None:
    """A picture with the ending of a GeoJSON: a sentence, no traceback, nothing stored."""
    path = tmp_path / "parcels.geojson"
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(200))
    done = run("parcels", path, data=tmp_path / "data")

    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert "parcels.geojson" in done.stderr


def test_an_empty_survey_still_answers(run: Run, tmp_path: Path) -> None:
    """Before any parcels are loaded every look-up says so, and the map is a page that says it is empty."""
    data = tmp_path / "data"

    assert run("standing", "--json", data=data).returncode == 0
    assert run("matches", data=data).returncode == 0
    assert run("map", tmp_path / "m.html", data=data).returncode == 0
    assert run("map", tmp_path / "v.html", "--audience", "volunteer", data=data).returncode == 0


@pytest.mark.parametrize(
    "command",
    ["demo", "start", "parcels", "template", "answers", "matches", "standing", "map", "forecast", "export"],
)
def test_every_command_has_help_with_an_example(run: Run, command: str) -> None:
    """--help explains the command and shows one use of it."""
    done = run(command, "--help")

    assert done.returncode == 0
    assert f"Example: heater-survey {command}" in " ".join(done.stdout.split())


def test_a_formula_in_a_remark_does_not_run_in_the_exported_sheet(tmp_path: Path) -> None:
    """OWASP, "CSV Injection": a cell that begins with = + - @, a tab or a carriage return is made harmless."""
    from survey_app.reports.as_file import harmless

    assert harmless("=1+1") == "'=1+1"
    assert [harmless(t) for t in ("+a", "-a", "@a", "\ta", "\ra")] == ["'+a", "'-a", "'@a", "'\ta", "'\ra"]
    assert harmless("12 A ST") == "12 A ST"
    assert harmless(-3) == -3


def test_a_whole_number_stays_whole_where_another_row_lacks_it(tmp_path: Path) -> None:
    """A table of numbers with gaps gave "6.0 years" of warranty for 6; nothing is invented for what is not there."""
    from survey_app.reports.as_file import write_rows

    rows = [{"years": 6, "gallons": 50.0, "asked": True}, {"years": None, "gallons": None, "asked": False}]
    written = write_rows(rows, tmp_path / "t.csv", columns={k: k for k in rows[0]})

    assert written.read_bytes().decode("utf-8-sig") == "years,gallons,asked\r\n6,50.0,True\r\n,,False\r\n"


def test_the_app_starts_on_a_fresh_machine_without_asking_anything(tmp_path: Path) -> None:
    """An empty home folder and no terminal: the app answers, nobody is asked for an e-mail address, and it stops."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    environment = {**os.environ, "HOME": str(tmp_path), "HEATER_SURVEY_DATA": str(tmp_path / "data"), "BROWSER": "true"}
    server = subprocess.Popen(
        [sys.executable, "-m", "survey_app", "start", "--port", str(port)],
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    try:
        answer = ""
        for _ in range(240):
            try:
                with urllib.request.urlopen(f"http://127.0.0.1:{port}/_stcore/health", timeout=1) as page:
                    answer = page.read().decode()
                break
            except OSError:
                time.sleep(0.25)
    finally:
        time.sleep(1)
        os.killpg(server.pid, signal.SIGINT)
        told = "".join(server.communicate(timeout=30))

    assert answer == "ok"
    assert f"http://localhost:{port}" in told
    assert "email" not in told.lower()


def test_a_taken_port_gets_a_sentence(tmp_path: Path) -> None:
    """Another program holds the port: what is wrong and what to try."""
    with socket.socket() as taken:
        taken.bind(("0.0.0.0", 0))
        taken.listen()
        port = taken.getsockname()[1]
        done = program("start", "--port", str(port), "--no-open", data=tmp_path / "data")

    assert done.returncode == 2
    assert f"Is port {port} taken" in done.stderr
    assert "Traceback" not in done.stderr
