"""Hostile words through to every file that leaves: workbooks, tables, layers, papers, calendars; and what arrives."""

from __future__ import annotations

import csv
import io
import json
import shutil
import time
import zipfile
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import geopandas as gpd
import openpyxl
import pandas as pd
import pypdfium2
import pytest
import shapely
from icalendar import Calendar

from survey_app.access import Actor, Role
from survey_app.csv_import import UnusableAnswerFile, neutralise, read_rows, restore
from survey_app.records import AnswerChannel, Community
from survey_app.reports.as_file import write_rows
from survey_app.reports.as_upload import rows_bytes, rows_from_upload
from survey_app.reports.home_record import due_calendar
from survey_app.reports.service_papers import ServicePapers, day_sheets_pdf, notices_pdf, visit_calendar
from survey_app.service_days import FLUSH_AND_ANODE, Asked
from survey_app.survey import Doors, SignInRefused, Survey, open_store
from survey_app.texts import texts

NOW = datetime(2026, 5, 2, 9, 30)
SAY = texts("en")
FORMULAS = [
    "=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", " =1", "＝1", "＋1", "－1", "＠x", "'=1",
    "a;=1+1", "a|=cmd", "a\t=1", "x\n=cmd|' /C calc'!A0", "x;  @y", "x;'=1", 'say "=1"', "1;2;+3",
]  # fmt: skip
ODD = [
    "\x00nul", "bell\x07", "\x0b\x0c", "\ud800half", "\u202eRTL\u202c\u2066", "<b>&amp;",
    '$x$ #read("/etc/passwd")', "{{7*7}}{% raw %}", "{ $x }", "w" * 1_000_000,
]  # fmt: skip


def front(place: Path, role: Role = Role.VOLUNTEER) -> Survey:
    """The survey as somebody."""
    return Survey(open_store(place), Actor(name=str(role), role=role), now=NOW)


def could_run(cell: str) -> bool:
    """Whether a spreadsheet program, of any language's separator, could take a part of this for a formula."""
    parts = [cell]
    for sign in (";", "|", "\t", "\n", "\r"):
        parts = [p for part in parts for p in part.split(sign)]
    return any(p.strip()[:1] in set("=+-@＝＋－＠") for p in parts if p.strip())


@pytest.mark.parametrize("text", FORMULAS)
def test_no_part_of_a_cell_can_run_and_the_text_comes_back(text: str) -> None:
    """At the start and after a sign at which another program begins a cell (OWASP, "CSV Injection")."""
    written = neutralise(text)

    assert not could_run(written)
    assert restore(written) == text


@pytest.mark.parametrize("ending", ["csv", "xlsx", "gpkg", "geojson"])
def test_every_format_takes_every_text_and_no_formula_runs(tmp_path: Path, ending: str) -> None:
    """Control signs, halves of pairs, a megabyte: written, and read back as text; formulas are no formulas."""
    rows = [{"words": text, "=head": i} for i, text in enumerate([*FORMULAS, *ODD])]
    outlines = [shapely.to_wkb(shapely.box(-100, 40, -99.999, 40.001))] * len(rows)
    path = write_rows(
        rows,
        tmp_path / f"x.{ending}",
        columns={"words": "", "=head": "=1"},
        outlines=outlines if ending in ("gpkg", "geojson") else None,
    )
    if ending == "xlsx":
        book = openpyxl.load_workbook(path)
        cells = [c for sheet in book for row in sheet.iter_rows() for c in row]
        assert not [c.coordinate for c in cells if c.data_type == "f"]
        assert not [c.value for c in cells if isinstance(c.value, str) and could_run(c.value)]
    elif ending == "csv":
        csv.field_size_limit(10_000_000)
        cells = [c for row in csv.reader(io.StringIO(path.read_text("utf-8-sig"), newline="")) for c in row]
        assert not [c for c in cells if could_run(c)]
    else:
        back = gpd.read_file(path)
        assert len(back) == len(rows)
        assert back["words"].str.contains("/etc/passwd").sum() == 1


def test_one_hostile_note_stops_no_list(data: Path) -> None:
    """A control sign in a note at the door or in a closing is written into the next workbook, as a blank."""
    made = rows_bytes("walk.xlsx", [{"address": "1 A ST", "last": "bell\x07 =1"}], {"address": "", "last": ""})

    sheet = openpyxl.load_workbook(io.BytesIO(made)).worksheets[0]
    assert [c.value for c in sheet[2]] == ["1 A ST", "bell  =1"]


@pytest.fixture(scope="module")
def papers(demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> ServicePapers:
    """A plan of service days whose papers can be poisoned: values, which no test can change for another."""
    place = tmp_path_factory.mktemp("papers") / "data"
    shutil.copytree(demo_data, place)
    rounds = front(place).service_rounds()
    days = tuple(date(2026, 5, 11) + timedelta(days=i) for i in range(3))
    return rounds.papers(rounds.plan(Asked(job=FLUSH_AND_ANODE, dates=days, min_homes=2, iterations=30)))


def poisoned(papers: ServicePapers, word: str) -> ServicePapers:
    """The same papers with a word in every field."""
    homes = {
        k: replace(c, address=f"1 {word}", contact=word, remarks=word, cautions=(word,), home_id=f"{k}{word[:30]}")
        for k, c in papers.homes.items()
    }
    return replace(papers, community=Community(name=word, synthetic=True, local_epsg=None), homes=homes)


@pytest.mark.parametrize("word", ["x\r\nATTENDEE:mailto:a@b.c\r\nBEGIN:VALARM", "\x00\x07\x0bx", *ODD[4:9], "w" * 3000])
def test_papers_and_calendars_take_hostile_words_as_words(papers: ServicePapers, word: str) -> None:
    """Typst runs none of it, a calendar has no line that was not meant (RFC 5545), and nobody's words stop a paper."""
    bad = poisoned(papers, word)
    for made in (day_sheets_pdf(bad, SAY), notices_pdf(bad, SAY)):
        shown = "".join(p.get_textpage().get_text_bounded() for p in pypdfium2.PdfDocument(made))
        assert "root:" not in shown
        if word == ODD[6]:
            assert "#read" in "".join(shown.split())
    ids = [v.home_id for v in papers.plan.visits]
    good, made = (visit_calendar(p, ids, SAY, now=NOW) for p in (papers, bad))
    names = [[line.split(b":")[0] for line in c.replace(b"\r\n ", b"").split(b"\r\n")] for c in (good, made)]
    assert names[0] == names[1], "the same lines in the same order"
    assert not [b for b in made if b < 0x20 and b not in b"\r\n\t"]
    assert b"\n" not in made.replace(b"\r\n", b"")
    assert len(Calendar.from_ical(made).walk("VEVENT")) == len(ids)


def test_the_calendar_of_what_is_due_takes_hostile_ids(data: Path) -> None:
    """A parcel number with line breaks in it adds no line to the calendar."""
    survey = front(data)
    calendars = []
    for home in (s.home.home_id for s in survey.standings() if s.answered):
        record = survey.one_home(home).record()
        bad = replace(record, home=replace(record.home, home_id="x\r\nATTENDEE:mailto:a@b.c\r\n\x00"))
        if (made := due_calendar(bad, SAY, now=NOW)) is not None:
            calendars.append(made)
    assert calendars
    assert not [c for c in calendars if b"\r\nATTENDEE" in c or b"\x00" in c]


def test_a_stranger_who_sends_megabytes_costs_little_more_than_one_who_sends_a_line(data: Path) -> None:
    """A megabyte in every field is cut before it is compared with every home: a few times a line's processor time."""
    stranger = front(data, Role.RESIDENT)
    huge = "1 A " * 250_000
    fields = ("address", "remarks", "contact", "installed", "date_code", "kind", "last_flush")

    def cost(text: str) -> float:
        began = time.process_time()
        stranger.answers().suggest(text)
        sent = stranger.answers().submit({**dict.fromkeys(fields, text), "consent": "yes"}, channel=AnswerChannel.FORM)
        assert sent.checked.problems
        for way in (
            lambda d: d.sign_in(text, text, now=NOW),
            lambda d: d.open_home(text, now=NOW),
            lambda d: d.accept_invitation(text, text, text, now=NOW),
        ):
            with pytest.raises(SignInRefused):
                way(Doors(open_store(data), source=text[:20]))
        return time.process_time() - began

    line = min(cost(huge[:300]) for _ in range(2))
    assert min(cost(huge) for _ in range(2)) < 8 * line
    given = {"address": "1 No Such St", "remarks": huge, "contact": huge, "consent": "yes"}
    assert stranger.answers().submit(given, channel=AnswerChannel.FORM, answer_id="long").stored
    (stored,) = open_store(data).answers(answer_id="long")
    assert max(map(len, stored.answer.given.values())) <= 2000


def test_an_archive_and_a_homes_export_keep_hostile_words_as_words(data: Path) -> None:
    """JSON is JSON, and the change log holds the words as text."""
    survey = front(data)
    home = survey.standings()[0].home
    word = '","x":"=1\u2028</script>{{7*7}}'
    given = {"address": home.address, "remarks": word, "consent": "yes", "kind": "gas storage"}
    assert survey.answers().submit(given, channel=AnswerChannel.PAPER, home_id=home.home_id).stored
    told = json.loads(survey.one_home(home.home_id).export())
    assert word.replace("\u2028", " ") in {
        a["given"].get("remarks", "").replace("\u2028", " ") for a in told["answers"]
    }
    assert "</script>" in str(survey.change_log().entries())


# ---- files that arrive -------------------------------------------------------------------


def test_workbooks_that_burst_or_lie_are_refused(tmp_path: Path) -> None:
    """Half a gigabyte of blanks in a small file; a zip that is no workbook; external entities in its XML."""
    bomb = tmp_path / "bomb.xlsx"
    with (
        zipfile.ZipFile(bomb, "w", zipfile.ZIP_DEFLATED) as packed,
        packed.open("xl/worksheets/sheet1.xml", "w", force_zip64=True) as sheet,
    ):
        for _ in range(501):
            sheet.write(b" " * 1_000_000)
    assert bomb.stat().st_size < 2_000_000
    with pytest.raises(UnusableAnswerFile, match="too large when unpacked"):
        read_rows(bomb)

    book = openpyxl.Workbook()
    book.active.append(["address", "kind", "remarks"])
    book.active.append(["1 A ST", "gas", "MARK"])
    book.save(tmp_path / "plain.xlsx")
    secret = tmp_path / "secret.txt"
    secret.write_text("TOP-SECRET-4711")
    entity = tmp_path / "entity.xlsx"
    with zipfile.ZipFile(tmp_path / "plain.xlsx") as old, zipfile.ZipFile(entity, "w") as new:
        for member in old.namelist():
            content = old.read(member)
            if b"MARK" in content:
                head = f'<!DOCTYPE s [<!ENTITY x SYSTEM "file://{secret}">]>'.encode()
                body = content[content.find(b"?>") + 2 :] if content.startswith(b"<?xml") else content
                content = head + body.replace(b"MARK", b"&x;")
            new.writestr(member, content)
    try:
        read = str(read_rows(entity).rows)
    except UnusableAnswerFile:
        read = ""
    assert "TOP-SECRET" not in read


def test_header_cells_that_are_hostile_come_back_harmless(tmp_path: Path) -> None:
    """A header nobody knows is kept in the mend file, as a text; a home id in a day's sheet is only compared."""
    rows = rows_from_upload("d.csv", b"home_id,address,=cmd\nx,=1,y\n", ("home_id", "address"))
    assert rows == [{"home_id": "x", "address": "=1", "=cmd": "y"}]
    frame = pd.DataFrame([["", "x"]], columns=["address", "=cmd|'/C calc'!A0"])
    frame.to_csv(tmp_path / "h.csv", index=False)
    assert read_rows(tmp_path / "h.csv").unknown_columns == ("=cmd|'/C calc'!A0",)
