"""Closing a year: the archive anybody can open, the list for handing over, a restore that spares what is in use."""

from __future__ import annotations

import hashlib
import io
import subprocess
import zipfile
from datetime import datetime, timedelta
from pathlib import Path

import geopandas as gpd
import pandas as pd
import pypdfium2
import pytest
from typer.testing import CliRunner

from survey_app.access import Actor, NotAllowed, Role
from survey_app.cli import app
from survey_app.csv_import import read_rows
from survey_app.records import AnswerChannel
from survey_app.reports.archive import archive_bytes, hand_over_pdf
from survey_app.settings import read_settings
from survey_app.survey import Survey, UnusableBackup, back_up, open_store, restore_backup
from survey_app.survey.year_end import Done

NOW = datetime(2026, 5, 2, 9, 30)
HOSTILE = '=HYPERLINK("http://x","y")'


def front(place: Path, role: Role = Role.VOLUNTEER, *, now: datetime = NOW) -> Survey:
    """The survey as somebody."""
    return Survey(open_store(place), Actor(name=str(role), role=role), now=now)


def test_an_archive_opens_without_this_tool_and_holds_every_row(data: Path, tmp_path: Path) -> None:
    """Tables by pandas, the map layer by GeoPandas, settings by their reader; counts equal the records', sums fit."""
    survey = front(data)
    survey.sign_in_rights().issue_codes([open_store(data).homes()[0].home_id])
    survey.sign_in_rights().create_account("carla", "three unrelated words", Role.COMMITTEE)
    (tmp_path / "a").mkdir()
    with zipfile.ZipFile(io.BytesIO(archive_bytes(survey.year_end().content()))) as bundle:
        bundle.extractall(tmp_path / "a")
    place = tmp_path / "a"
    done = subprocess.run(["sha256sum", "-c", "SHA256SUMS"], cwd=place, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout
    store = open_store(data)

    assert len(pd.read_csv(place / "answers.csv")) == len(store.answers())
    assert len(pd.read_csv(place / "heaters.csv")) == len(store.heaters())
    assert len(pd.read_csv(place / "care.csv")) == len(store.services())
    assert len(pd.read_csv(place / "changes.csv")) == len(store.changes(limit=1_000_000))
    layer = gpd.read_file(place / "survey.gpkg")
    assert len(layer) == 120
    assert layer.crs.to_epsg() == 4326
    assert read_settings((place / "settings.toml").read_text()) == survey.settings()
    everything = b"".join(p.read_bytes() for p in place.iterdir())
    assert b"argon2" not in everything
    assert b"rows)" in (place / "README.txt").read_bytes()


def test_hostile_words_in_every_field_are_kept_as_text_in_every_table(data: Path, tmp_path: Path) -> None:
    """No cell of any table begins like a formula, and the words are there, neutralized (OWASP "CSV Injection")."""
    survey = front(data)
    home = open_store(data).homes()[0]
    given = {
        "address": home.address,
        "consent": "yes",
        "contact": HOSTILE,
        "remarks": "@SUM(A1)",
        "kind": "gas storage",
    }
    assert survey.answers().submit(given, channel=AnswerChannel.PAPER, home_id=home.home_id).stored
    odd = {"address": "+1 -2 <script>", "consent": "yes", "remarks": "\tx"}
    survey.answers().submit(odd, channel=AnswerChannel.PAPER)
    with zipfile.ZipFile(io.BytesIO(archive_bytes(survey.year_end().content()))) as bundle:
        for name in (n for n in bundle.namelist() if n.endswith(".csv")):
            cells = pd.read_csv(io.BytesIO(bundle.read(name)), dtype=str, keep_default_na=False, header=None)
            bad = [c for c in cells.to_numpy().ravel() if c[:1] in "=+@\t\r" and c]
            assert bad == [], name
        assert f"'{HOSTILE}" in set(pd.read_csv(io.BytesIO(bundle.read("answers.csv")), dtype=str)["contact"].dropna())


def test_answers_of_an_archive_can_be_imported_again(data: Path, tmp_path: Path) -> None:
    """The table of answers is a sheet the import reads: the way back needs no backup."""
    with zipfile.ZipFile(io.BytesIO(archive_bytes(front(data).year_end().content()))) as bundle:
        (tmp_path / "back.csv").write_bytes(bundle.read("answers.csv"))
    sheet = read_rows(tmp_path / "back.csv")
    stored = open_store(data).answers()
    assert len(sheet.rows) == len(stored)
    assert sorted(r.given.get("installed", "") for r in sheet.rows) == sorted(
        s.answer.given.get("installed", "") for s in stored
    )


def test_only_the_volunteer_closes_a_year(data: Path) -> None:
    """The archive holds every home: neither the committee nor a resident may have it."""
    for role in (Role.COMMITTEE, Role.RESIDENT):
        with pytest.raises(NotAllowed):
            front(data, role).year_end()


def test_the_list_changes_as_steps_are_done(data: Path, quick_hashes: None) -> None:
    """A second volunteer, a backup and letters for all turn their steps; what is by hand stays by hand."""
    survey = front(data)

    def state() -> dict[str, Done]:
        return {s.where: s.done for s in reversed(survey.year_end().checklist())}

    before = state()
    assert before["heater-survey backup"] is Done.NO
    assert before["Print letters"] is Done.NO
    assert before["heater-survey restore"] is Done.BY_HAND
    survey.year_end().note_backup("b.zip")
    survey.sign_in_rights().issue_codes()
    for name in ("vera", "wanda"):
        survey.sign_in_rights().create_account(name, "three unrelated words", Role.VOLUNTEER)
    for answer in survey.answers().doubtful():
        survey.answers().set_aside(answer.answer.answer_id)
    after = state()
    assert after["heater-survey backup"] is Done.YES
    assert after["Print letters"] is Done.YES
    assert after["Decide doubtful addresses"] is Done.YES
    assert survey.year_end().checklist()[0].done is Done.YES
    assert after["heater-survey restore"] is Done.BY_HAND
    late = front(data, now=NOW + timedelta(days=31)).year_end().checklist()
    assert {s.where: s.done for s in late}["heater-survey backup"] is Done.NO


def test_the_list_is_printed_with_hostile_words_as_words(data: Path) -> None:
    """A community's name with markup stands on the paper."""
    survey = front(data)
    survey.set_up().name_community('#read("/etc/passwd") *x*', synthetic=True)
    paper = hand_over_pdf(survey.year_end().checklist(), survey.state().community, NOW)
    document = pypdfium2.PdfDocument(paper)
    text = "".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    assert '#read("/etc/passwd") *x*' in text
    assert "root:" not in text
    assert "Taken over by" in text


def test_a_restore_spares_records_that_are_in_use(data: Path, tmp_path: Path) -> None:
    """While the app has them open, nothing is replaced, since what it still writes would go astray; then it works."""
    back_up(data, tmp_path / "b.zip", now=NOW)
    store = open_store(data)
    store.state()
    with pytest.raises(UnusableBackup, match="in use"):
        restore_backup(tmp_path / "b.zip", data, replace=True, now=NOW)
    assert store.how_many()[0] == 120
    store.close()
    _, aside = restore_backup(tmp_path / "b.zip", data, replace=True, now=NOW)
    assert aside is not None
    assert open_store(data).how_many()[0] == 120


def test_the_commands_write_backup_and_archive_and_the_list_knows(data: Path, tmp_path: Path) -> None:
    """Both files are for their owner's eyes; the backup is on record afterwards."""
    run = CliRunner()
    for command, name in (("backup", "b.zip"), ("archive", "a.zip")):
        done = run.invoke(app, [command, str(tmp_path / name), "--data", str(data)])
        assert done.exit_code == 0, done.output
        assert (tmp_path / name).stat().st_mode & 0o077 == 0
    steps = {s.where: s.done for s in front(data, now=datetime.now()).year_end().checklist()}
    assert steps["heater-survey backup"] is Done.YES
    assert hashlib.sha256((tmp_path / "a.zip").read_bytes()).hexdigest()
