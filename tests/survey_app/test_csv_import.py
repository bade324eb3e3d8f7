"""A spreadsheet of answers read, checked, and handed back for mending."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from survey_app.csv_import import (
    Imported,
    UnusableAnswerFile,
    check_rows,
    neutralise,
    read_rows,
    write_mend_file,
    write_template,
)
from survey_app.intake import KEYS
from survey_app.records import AnswerChannel, Dated

TODAY = date(2026, 11, 25)


def _import(path: Path, house_year: int | None = None) -> Imported:
    return check_rows(read_rows(path), today=TODAY, house_year_of=lambda _: house_year)


def _csv(path: Path, rows: Iterable[Sequence[str]], *, delimiter: str = ",", encoding: str = "utf-8") -> Path:
    text = io.StringIO()
    csv.writer(text, delimiter=delimiter).writerows(rows)
    path.write_bytes(text.getvalue().encode(encoding))
    return path


def _xlsx(path: Path, rows: Iterable[Sequence[object]], title: str = "answers") -> Path:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = title
    for row in rows:
        sheet.append(list(row))
    book.save(path)
    return path


def _cells(path: Path) -> list[list[str]]:
    if path.suffix == ".xlsx":
        sheet = openpyxl.load_workbook(path).worksheets[0]
        return [["" if v is None else str(v) for v in row] for row in sheet.iter_rows(values_only=True)]
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.reader(file))


# ---- template ------------------------------------------------------------


@pytest.mark.parametrize("suffix", [".csv", ".xlsx"])
def test_template_has_every_question_and_imports_as_nothing(tmp_path: Path, suffix: str) -> None:
    """The template's columns are the questions, and its example row is no answer."""
    written = write_template(tmp_path / f"answers{suffix}")
    assert _cells(written[0])[0] == list(KEYS)
    sheet = read_rows(written[0])
    assert sheet.rows == ()
    assert sheet.unknown_columns == ()
    assert any("example" in note for note in sheet.notes)


def test_template_dictionary_explains_every_column(tmp_path: Path) -> None:
    """Beside the csv template stands a dictionary with a line for each column."""
    _, dictionary = write_template(tmp_path / "answers.csv")
    assert dictionary.name == "answers.dictionary.csv"
    lines = _cells(dictionary)
    assert [line[0] for line in lines[1:]] == list(KEYS)
    assert all(line[1] and line[2] for line in lines[1:])
    book = openpyxl.load_workbook(write_template(tmp_path / "answers.xlsx")[0])
    assert book.sheetnames == ["answers", "dictionary"]


def test_template_example_is_a_valid_answer(tmp_path: Path) -> None:
    """What the example row shows can be imported once it is given an address."""
    (written, _) = write_template(tmp_path / "answers.csv")
    header, example = _cells(written)
    filled = _csv(tmp_path / "filled.csv", [header, ["12 Sample Street", *example[1:]]])
    imported = _import(filled, house_year=2009)
    assert [len(imported.accepted), len(imported.rejected)] == [1, 0]


@pytest.mark.parametrize("name", ["answers.txt", "answers", "answers.xls"])
def test_template_refuses_other_endings(tmp_path: Path, name: str) -> None:
    """Only csv and xlsx are written; the sentence says so."""
    with pytest.raises(UnusableAnswerFile, match=r"\.csv"):
        write_template(tmp_path / name)


def test_template_says_when_the_folder_is_not_there(tmp_path: Path) -> None:
    """A missing folder is a sentence, not a traceback."""
    for name in ("a.csv", "a.xlsx"):
        with pytest.raises(UnusableAnswerFile, match="cannot be written"):
            write_template(tmp_path / "nowhere" / name)


# ---- reading -------------------------------------------------------------


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16", "utf-16-le", "utf-16-be"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_read_rows_takes_every_encoding_and_separator(tmp_path: Path, encoding: str, delimiter: str) -> None:
    """Whatever program saved the file, accents and columns arrive."""
    rows = [["address", "kind", "remarks"], ["12 Piñon Street", "gas", "café, behind; the|wall"]]
    sheet = read_rows(_csv(tmp_path / "a.csv", rows, delimiter=delimiter, encoding=encoding))
    assert [dict(row.given) for row in sheet.rows] == [
        {"address": "12 Piñon Street", "kind": "gas", "remarks": "café, behind; the|wall"}
    ]


def test_read_rows_numbers_rows_as_a_spreadsheet_does(tmp_path: Path) -> None:
    """Blank rows count, a line break inside a cell does not start a row, a title above the header is passed over."""
    rows = [["Survey of 2026"], [], ["Address", "Remarks"], ["1 A St", "two\nlines"], ["", ""], ["2 B St", "x"]]
    for path in (_csv(tmp_path / "a.csv", rows), _xlsx(tmp_path / "a.xlsx", rows)):
        sheet = read_rows(path)
        assert [(row.number, row.address) for row in sheet.rows] == [(4, "1 A St"), (6, "2 B St")]
        assert sheet.rows[0].given["remarks"] == "two\nlines"


def test_read_rows_understands_other_column_names_in_any_order(tmp_path: Path) -> None:
    """Headers are recognized in any case and by usual names; the question itself is one of them."""
    header = ["Comments", " TANK SIZE ", "Street Address", "When did you move in?", "Heater Type", "E-mail", "Phone"]
    sheet = read_rows(
        _csv(tmp_path / "a.csv", [header, ["hi", "50", "1 A St", "2010", "gas", "a@example.org", "555-0100"]])
    )
    assert dict(sheet.rows[0].given) == {
        "remarks": "hi",
        "tank_gallons": "50",
        "address": "1 A St",
        "moved_in": "2010",
        "kind": "gas",
        "contact": "a@example.org; 555-0100",
    }


def test_read_rows_lists_what_it_does_not_understand(tmp_path: Path) -> None:
    """Unknown columns are named and kept for the mend file, not lost silently."""
    sheet = read_rows(_csv(tmp_path / "a.csv", [["address", "Dog's name", ""], ["1 A St", "Rex", "loose"]]))
    assert sheet.unknown_columns == ("Dog's name", "column C")
    assert sheet.rows[0].cells == ("1 A St", "Rex", "loose")


def test_read_rows_reads_typed_cells_of_a_workbook(tmp_path: Path) -> None:
    """Dates, times, numbers and ticks of a workbook become what a person sees in the cell."""
    rows = [
        ["address", "installed", "tank_gallons", "pan", "moved_in", "last_flush"],
        ["1 A St", datetime(2009, 5, 12, 8), 50.0, True, 2010, date(2020, 1, 2)],
    ]
    imported = _import(_xlsx(tmp_path / "a.xlsx", rows))
    (checked,) = imported.accepted
    assert checked.content is not None
    assert checked.content.installed is not None
    assert checked.content.installed.earliest == date(2009, 5, 12)
    assert checked.content.tank_gallons == 50
    assert checked.content.said["pan"] == "yes"
    assert checked.content.moved_in == Dated(earliest=date(2010, 1, 1), latest=date(2010, 12, 31))
    assert checked.content.said["last_flush"] == Dated.on(date(2020, 1, 2))


def test_read_rows_finds_the_sheet_with_the_answers(tmp_path: Path) -> None:
    """A cover sheet before the answers does no harm."""
    book = openpyxl.Workbook()
    cover = book.active
    assert cover is not None
    cover.append(["Welcome to the survey"])
    answers = book.create_sheet("replies")
    answers.append(["address", "kind"])
    answers.append(["1 A St", "gas"])
    book.save(tmp_path / "a.xlsx")
    assert len(read_rows(tmp_path / "a.xlsx").rows) == 1


def test_read_rows_reads_a_workbook_whatever_its_name(tmp_path: Path) -> None:
    """A workbook renamed to .csv is read as the workbook it is, and the note says so."""
    path = _xlsx(tmp_path / "a.xlsx", [["address"], ["1 A St"]]).rename(tmp_path / "a.csv")
    sheet = read_rows(path)
    assert [row.address for row in sheet.rows] == ["1 A St"]
    assert any("workbook" in note for note in sheet.notes)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"\n\n  \r\n", "empty"),
        (b"\xef\xbb\xbf", "empty"),
        (b"%PDF-1.7 whatever", "PDF"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\x00" * 600, "old .xls"),
        (b"\x89PNG\r\n\x1a\n" + bytes(range(256)), "picture"),
        (bytes(range(256)) * 8, "not a text file"),
        (bytes((i * 37 + i // 7) % 255 + 1 for i in range(4000)), "not a text file"),
        (b"PK\x03\x04 not really a zip", "not a workbook"),
        (b"name,kind\nsomeone,gas\n", 'no column "address"'),
        (b"just one line of prose", 'no column "address"'),
        (b"address,Street address\n1 A St,1 A St\n", "2 columns"),
        (b"address,kind,Heater type\n1 A St,gas,gas\n", "2 columns"),
        ("\ufeffaddress,kind\n1 A St,gas\n".encode("utf-16-le")[:-1], "damaged"),
    ],
)
def test_read_rows_refuses_what_is_no_table_of_answers(tmp_path: Path, content: bytes, words: str) -> None:
    """Each unusable file gets one sentence that says what it is, and what to do."""
    path = tmp_path / "answers.csv"
    path.write_bytes(content)
    with pytest.raises(UnusableAnswerFile, match=words) as caught:
        read_rows(path)
    assert "answers.csv" in str(caught.value)
    assert str(caught.value).endswith(".")


def test_read_rows_says_when_there_is_no_file(tmp_path: Path) -> None:
    """A wrong name or a folder is told in a sentence."""
    for path in (tmp_path / "missing.csv", tmp_path):
        with pytest.raises(UnusableAnswerFile, match="cannot be read"):
            read_rows(path)


def test_read_rows_accepts_a_header_without_rows(tmp_path: Path) -> None:
    """No answers yet is not an error, but it is said."""
    sheet = read_rows(_csv(tmp_path / "a.csv", [["address", "kind"]]))
    assert sheet.rows == ()
    assert any("no answers" in note for note in sheet.notes)


def test_read_rows_survives_ragged_rows_and_odd_quotes(tmp_path: Path) -> None:
    """Rows that are too short or too long, stray quotes and zero bytes lose no row."""
    text = 'address,kind,remarks\n1 A St\n2 B St,gas,x,extra,more\n3 C St,"ga""s",5\'6" tall\n4 D St,g\x00as,\n'
    path = tmp_path / "a.csv"
    path.write_text(text.replace("\x00", ""), encoding="utf-8")
    sheet = read_rows(path)
    assert [row.address for row in sheet.rows] == ["1 A St", "2 B St", "3 C St", "4 D St"]
    assert sheet.unknown_columns == ("column D", "column E")


def test_read_rows_honors_a_declared_separator(tmp_path: Path) -> None:
    """A first line "sep=;" is an instruction to spreadsheet programs, not a row; numbering still counts it."""
    path = tmp_path / "a.csv"
    path.write_text("sep=;\naddress;kind\n1 A St;gas\n", encoding="utf-8")
    (row,) = read_rows(path).rows
    assert (row.number, row.address) == (3, "1 A St")


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.one_of(
        st.binary(max_size=300), st.text(max_size=200).map(lambda t: f"address,kind\n{t}".encode("utf-8", "replace"))
    )
)
def test_read_rows_raises_nothing_but_its_own_sentence(tmp_path: Path, content: bytes) -> None:
    """On any bytes the file is read or refused in one sentence; what is read can be checked."""
    path = tmp_path / "any.csv"
    path.write_bytes(content)
    try:
        sheet = read_rows(path)
    except UnusableAnswerFile:
        return
    imported = check_rows(sheet, today=TODAY, house_year_of=lambda _: None)
    assert len(imported.accepted) + len(imported.rejected) <= len(sheet.rows)


# ---- checking ------------------------------------------------------------

_GOOD = ["1 A St", "gas", "2015", "yes"]
_BAD = ["2 B St", "gas", "2031", "yes"]
_HEADER = ["address", "kind", "installed", "consent"]


def test_check_rows_takes_good_rows_and_rejects_contradictions(tmp_path: Path) -> None:
    """Good rows become answers of the import; a contradiction goes to the mend file with its row number."""
    imported = _import(_csv(tmp_path / "a.csv", [_HEADER, _GOOD, _BAD, ["", "gas", "", ""]]))
    assert imported.accepted_rows == (2,)
    answer = imported.accepted[0].answer
    assert answer is not None
    assert answer.channel is AnswerChannel.IMPORT
    assert [row.number for row in imported.rejected] == [3, 4]
    assert "2031" in imported.rejected[0].reason
    assert "address is missing" in imported.rejected[1].reason


def test_check_rows_gives_the_house_year_of_each_address(tmp_path: Path) -> None:
    """The year of the house at the typed address decides what contradicts it."""
    path = _csv(tmp_path / "a.csv", [_HEADER, ["1 A St", "", "2001", ""], ["2 B St", "", "2001", ""]])
    years = {"1 A St": 2010, "2 B St": 2001}
    imported = check_rows(read_rows(path), today=TODAY, house_year_of=years.get)
    assert [row.row.address for row in imported.rejected] == ["1 A St"]


def test_importing_twice_gives_the_same_ids(tmp_path: Path) -> None:
    """The id follows from the row's content, so that a second import changes nothing, on any day and from any form."""
    rows = [_HEADER, _GOOD, ["3 C St", "electric", "about 2012", "yes"]]
    first = _import(_csv(tmp_path / "a.csv", rows))
    shuffled = [[row[i] for i in (2, 0, 3, 1)] for row in rows]
    again = check_rows(
        read_rows(_xlsx(tmp_path / "a.xlsx", shuffled)), today=date(2026, 12, 24), house_year_of=lambda _: None
    )
    ids = [c.answer.answer_id for c in first.accepted if c.answer]
    assert ids == [c.answer.answer_id for c in again.accepted if c.answer]
    assert len(set(ids)) == 2


def test_rows_that_say_the_same_count_once(tmp_path: Path) -> None:
    """A row pasted twice is one answer, and the note names the row; a second answer for the address is kept."""
    other = ["1 A St", "gas", "2016", "yes"]
    imported = _import(_csv(tmp_path / "a.csv", [_HEADER, _GOOD, [" 1  a st ", "GAS", "2015", "yes"], other]))
    assert imported.accepted_rows == (2, 4)
    assert any("3" in note and "same" in note for note in imported.notes)


def test_progress_is_told_up_to_the_last_row(tmp_path: Path) -> None:
    """Progress rises and ends with all rows."""
    told: list[tuple[int, int]] = []
    rows = [[f"{n} A St", "gas", "2015", "yes"] for n in range(250)]
    check_rows(
        read_rows(_csv(tmp_path / "a.csv", [_HEADER, *rows])),
        today=TODAY,
        house_year_of=lambda _: None,
        progress=lambda done, total: told.append((done, total)),
    )
    assert told == [(100, 250), (200, 250), (250, 250)]


@pytest.mark.slow
def test_of_ten_thousand_rows_none_is_lost(tmp_path: Path) -> None:
    """Ten thousand different rows are read and checked, and none of them is lost."""
    rows = [
        [
            f"{n} Street {n % 97}",
            ("gas", "elec", "tankless")[n % 3],
            f"{n % 12 + 1}/{n % 27 + 1}/{2000 + n % 26}",
            "2010",
            ("never", f"about {2000 + n % 26}")[n % 2],
            f"{n % 12 + 1:02}{n % 20:02}",
            "mon;tue",
            f"remark {n}",
        ]
        for n in range(10_000)
    ]
    header = ["address", "kind", "installed", "moved_in", "last_flush", "date_code", "weekdays", "remarks"]
    path = _csv(tmp_path / "a.csv", [header, *rows])
    imported = _import(path, house_year=1999)
    assert len(imported.accepted) + len(imported.rejected) == 10_000


# ---- mend file -----------------------------------------------------------


@pytest.mark.parametrize("suffix", [".csv", ".xlsx"])
def test_mend_file_comes_back_as_it_went(tmp_path: Path, suffix: str) -> None:
    """Imported again unchanged, the mend file rejects the same rows for the same reasons."""
    rows = [[*_HEADER, "Dog"], [*_BAD, "Rex"], ["", "gas", "", "", "=Fido"], ["5 E St", "banana", "2001", "yes", ""]]
    first = _import(_csv(tmp_path / "a.csv", rows), house_year=2010)
    mend = write_mend_file(tmp_path / f"mend{suffix}", first.rejected, sheet=first.sheet)
    header = _cells(mend)[0]
    assert header == [*_HEADER, "Dog", "row in file", "reason", "what to do", "overrule"]

    second = _import(mend, house_year=2010)
    assert [r.reason for r in second.rejected] == [r.reason for r in first.rejected]
    assert [dict(r.row.given) for r in second.rejected] == [dict(r.row.given) for r in first.rejected]
    assert [r.row.cells for r in second.rejected] == [r.row.cells for r in first.rejected]
    assert not any("reason" in note for note in second.notes)
    again = write_mend_file(tmp_path / f"again{suffix}", second.rejected, sheet=second.sheet)
    assert _cells(again)[0] == header


def test_a_mended_row_is_taken(tmp_path: Path) -> None:
    """Correct the cell, import the mend file: the row is an answer now."""
    first = _import(_csv(tmp_path / "a.csv", [_HEADER, _GOOD, _BAD]))
    mend = write_mend_file(tmp_path / "mend.csv", first.rejected, sheet=first.sheet)
    mend.write_text(
        mend.read_text(encoding="utf-8-sig").replace("2 B St,gas,2031", "2 B St,gas,2013"), encoding="utf-8"
    )
    second = _import(mend)
    assert len(second.accepted) == 1
    assert second.rejected == ()


def test_a_reason_in_the_overrule_column_lets_the_row_pass(tmp_path: Path) -> None:
    """The person types a reason: the row passes, and the reason is kept with the answer."""
    first = _import(_csv(tmp_path / "a.csv", [_HEADER, ["2 B St", "gas", "2001", "yes"]]), house_year=2010)
    mend = write_mend_file(tmp_path / "mend.csv", first.rejected, sheet=first.sheet)
    cells = _cells(mend)
    cells[1][cells[0].index("overrule")] = "Moved over from the old house."
    second = _import(_csv(tmp_path / "mend.csv", cells), house_year=2010)
    (checked,) = second.accepted
    assert checked.answer is not None
    assert checked.answer.overruled == {"installed-before-house": "Moved over from the old house."}
    assert set(checked.answer.given) == set(_HEADER)


def test_a_mend_file_without_rows_is_a_header(tmp_path: Path) -> None:
    """Nothing rejected makes a mend file that imports as nothing."""
    first = _import(_csv(tmp_path / "a.csv", [_HEADER, _GOOD]))
    mend = write_mend_file(tmp_path / "mend.csv", first.rejected, sheet=first.sheet)
    assert read_rows(mend).rows == ()


@pytest.mark.parametrize(
    "text",
    ["=1+1", "+1 555 0100", "-2", "@cmd", "\tx", "\r=x", " =1+1", "'=1", "''=1", "＝1", "\n=1", "'", "a=b", "'a"],
)
def test_neutralised_text_is_no_formula_and_comes_back(tmp_path: Path, text: str) -> None:
    """No cell that is written begins like a formula, and the import gives the text back as it was."""
    written = neutralise(text)
    assert written.lstrip(" \n")[:1] not in ("=", "+", "-", "@", "\t", "\r", "＝")
    rejected = _import(_csv(tmp_path / "a.csv", [["address", "note x"], ["", written]])).rejected
    for suffix in (".csv", ".xlsx"):
        mend = write_mend_file(tmp_path / f"mend{suffix}", rejected, sheet=read_rows(tmp_path / "a.csv"))
        (again,) = read_rows(mend).rows
        assert again.cells[1].replace("\r", "\n") == text.replace("\r", "\n")


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.tuples(
            st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=12),
            st.text(st.characters(blacklist_categories=("Cs",), blacklist_characters="\x00\r"), max_size=12),
            st.sampled_from(["=SUM(A1)", "-1", "plain", "'=", "", "2031"]),
        ),
        min_size=1,
        max_size=6,
    )
)
def test_mend_file_round_trip_keeps_every_cell(tmp_path: Path, rows: list[tuple[str, str, str]]) -> None:
    """Whatever people typed into rejected rows, the mend file brings every cell back, through csv."""
    path = _csv(
        tmp_path / "a.csv", [["address", "loose", "kind"], *([neutralise(c) for c in ("", b, k)] for _, b, k in rows)]
    )
    first = _import(path)
    mend = write_mend_file(tmp_path / "mend.csv", first.rejected, sheet=first.sheet)
    second = _import(mend)
    assert [r.row.cells for r in second.rejected] == [r.row.cells for r in first.rejected]
    assert [r.reason for r in second.rejected] == [r.reason for r in first.rejected]


def test_synthetic_answers_are_mostly_accepted(tmp_path: Path, run_synthetic: Callable[[Path], Path]) -> None:
    """Of an invented community's messy answers fewer than one in ten is rejected, and importing again adds nothing."""
    path = run_synthetic(tmp_path)
    imported = _import(path)
    assert len(imported.accepted) > 20
    assert len(imported.rejected) < 0.1 * len(imported.sheet.rows)
    assert all(row.problems and row.what_to_do for row in imported.rejected)
    again = _import(path)
    assert [c.answer and c.answer.answer_id for c in again.accepted] == [
        c.answer and c.answer.answer_id for c in imported.accepted
    ]


@pytest.fixture
def run_synthetic() -> Callable[[Path], Path]:
    """Writes a small synthetic community and gives the path of its answers."""

    def run(folder: Path) -> Path:
        from synthetic_community.__main__ import main

        arguments = ["--homes", "150", "--seed", "11", "--as-of", TODAY.isoformat(), "--out", str(folder / "made")]
        assert main(arguments) == 0
        return folder / "made" / "answers.csv"

    return run
