"""Any csv or xlsx file as tables of text, whatever program and hand it comes from."""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections.abc import Callable, Iterator
from datetime import date, datetime
from pathlib import Path

from survey_app.csv_import.sheet import DICTIONARY_SHEET, UnusableAnswerFile

__all__ = ["HEADER_WITHIN_ROWS", "Table", "column_letter", "read_tables"]

HEADER_WITHIN_ROWS = 20
"""The header is looked for in this many rows; above it may stand a title."""
LARGEST_BYTES = 50_000_000
LARGEST_UNPACKED_BYTES = 500_000_000
MOST_ROWS = 200_000
MOST_COLUMNS = 500
_MAGIC = (
    (b"%PDF", "a PDF"),
    (b"\xd0\xcf\x11\xe0", "a workbook in the old .xls form"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"SQLite format 3", "a database"),
    (b"\x1f\x8b", "a compressed file"),
)
Table = list[tuple[int, list[str]]]
"""Rows of cells, each with its number as a spreadsheet shows it."""


def read_tables(path: str | Path, *, known: Callable[[str], bool]) -> Iterator[tuple[Table, tuple[str, ...]]]:
    """Read the tables of a csv or xlsx file: one of a csv file, one of each sheet of a workbook that holds anything.

    Parameters
    ----------
    path
        The file. A csv file may be in UTF-8, UTF-16 or Windows' Western
        encoding, separated by commas, semicolons, tabs or bars.
    known
        Whether a header is one that the reader understands; it decides which
        separator a csv file uses.

    Yields
    ------
    Table, tuple of str
        The rows, and what was assumed while reading.

    Raises
    ------
    UnusableAnswerFile
        When the file is missing, empty, no spreadsheet, or too large.
    """
    source = Path(path)
    try:
        size = source.stat().st_size
        if size > LARGEST_BYTES:
            raise UnusableAnswerFile(
                f"{source.name} is too large ({size // 1_000_000} MB). Split it into files below "
                f"{LARGEST_BYTES // 1_000_000} MB."
            )
        data = source.read_bytes()
    except OSError as problem:
        why = problem.strerror or "it cannot be opened"
        raise UnusableAnswerFile(f"{source.name} cannot be read ({why}). Check the name and the folder.") from problem
    if not data.strip(b" \t\r\n\x00\xef\xbb\xbf\xff\xfe"):
        raise UnusableAnswerFile(
            f"{source.name} is empty. Fill in the template (the command `template` writes one) and try again."
        )
    if data.startswith(b"PK\x03\x04"):
        yield from _workbook_tables(source, data)
        return
    for magic, words in _MAGIC:
        if data.startswith(magic):
            raise UnusableAnswerFile(
                f"{source.name} is {words}, not a table that can be read. Open it in a spreadsheet program and save "
                "it as csv or xlsx."
            )
    text, encoding_note = _decode(source.name, data)
    table, separator_note = _csv_table(source.name, text, known)
    yield table, tuple(note for note in (encoding_note, separator_note) if note)


def _decode(name: str, data: bytes) -> tuple[str, str]:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        try:
            return data.decode("utf-16"), ""
        except UnicodeDecodeError:
            raise UnusableAnswerFile(
                f"{name} is damaged: it ends in the middle of a sign. Save it again as csv."
            ) from None
    if data.count(0) > len(data) // 4:
        # UTF-16 without its mark: every second byte of plain text is zero.
        encoding = "utf-16-le" if data[1:2] == b"\x00" else "utf-16-be"
        decoded = data.decode(encoding, "replace")
        if "\ufffd" not in decoded and decoded.isprintable() is False and "\x00" not in decoded:
            return decoded, ""
    if 0 in data:
        raise UnusableAnswerFile(
            f"{name} is not a text file, whatever its name says. Save the table as csv or xlsx and try again."
        )
    try:
        return data.decode("utf-8-sig"), ""
    except UnicodeDecodeError:
        text = data.decode("cp1252", "replace")
    odd = sum(1 for sign in text if sign == "\ufffd" or (ord(sign) < 32 and sign not in "\t\r\n\f\v"))
    if odd > max(3, len(text) // 100):
        raise UnusableAnswerFile(
            f"{name} is not a text file, whatever its name says. Save the table as csv or xlsx and try again."
        )
    return text, "The file is not in UTF-8; it was read in Windows' Western encoding. Check names with accents."


def _csv_table(name: str, text: str, known: Callable[[str], bool]) -> tuple[Table, str]:
    """The records of a csv file, numbered as a spreadsheet numbers them, and a note when the separator is unusual."""
    text = text.replace("\x00", "")
    delimiter, declared = _delimiter(text, known)
    csv.field_size_limit(10_000_000)
    rows: Table = []
    try:
        for number, cells in enumerate(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter), start=1):
            if number == 1 and declared:
                continue
            _limit(name, number, len(cells))
            rows.append((number, cells))
    except csv.Error as problem:
        raise UnusableAnswerFile(
            f"{name} cannot be read as a table near row {len(rows) + 1} ({problem}). Open it in a spreadsheet program "
            "and save it again as csv."
        ) from None
    words = {";": "semicolons", "\t": "tabs", "|": "bars"}
    return rows, f"The columns are separated by {words[delimiter]}." if delimiter in words else ""


def _delimiter(text: str, known: Callable[[str], bool]) -> tuple[str, bool]:
    """The separator that makes the most known columns of one of the first lines; and whether line 1 declares it."""
    lines = [line for line in text.splitlines()[:HEADER_WITHIN_ROWS] if line.strip()]
    if lines and (match := re.fullmatch(r'"?sep=(.)"?', lines[0].strip(), re.IGNORECASE)):
        return match[1], True
    best, most = ",", (0, 0)
    for delimiter in (",", ";", "\t", "|"):
        for line in lines:
            try:
                cells = next(csv.reader([line], delimiter=delimiter), [])
            except csv.Error:
                continue
            score = (sum(1 for cell in cells if known(cell)), len(cells))
            if score[0] and score > most:
                best, most = delimiter, score
    return best, False


def _workbook_tables(source: Path, data: bytes) -> Iterator[tuple[Table, tuple[str, ...]]]:
    import openpyxl

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            if sum(entry.file_size for entry in packed.infolist()) > LARGEST_UNPACKED_BYTES:
                raise UnusableAnswerFile(f"{source.name} is too large when unpacked. Save the table alone as csv.")
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
    except UnusableAnswerFile:
        raise
    # openpyxl lets many kinds of errors out of a damaged or foreign zip file.
    except Exception as problem:
        raise UnusableAnswerFile(
            f"{source.name} is not a workbook that can be read. Open it in a spreadsheet program and save it as csv "
            "or xlsx."
        ) from problem
    notes = () if source.suffix.lower() == ".xlsx" else ("The file is a workbook (xlsx) and was read as one.",)
    found, reasons = False, []
    try:
        for worksheet in book.worksheets:
            if worksheet.title == DICTIONARY_SHEET:
                continue
            try:
                table = _worksheet_table(source.name, worksheet)
            except UnusableAnswerFile as reason:
                # Another sheet of the workbook may still be the one that is meant.
                reasons.append(reason)
                continue
            except Exception as problem:
                raise UnusableAnswerFile(
                    f"The sheet {worksheet.title!r} of {source.name} is damaged. Save it as csv and try again."
                ) from problem
            if any(any(cells) for _, cells in table):
                found = True
                yield table, notes
    finally:
        book.close()
    if not found and reasons:
        raise reasons[0]
    if not found:
        raise UnusableAnswerFile(f"{source.name} holds no rows. Fill in the template and try again.")


def _worksheet_table(name: str, worksheet: object) -> Table:
    # The size a file states for its sheet may be wrong; without it, rows are read as they come.
    worksheet.reset_dimensions()  # type: ignore[attr-defined]
    rows: Table = []
    for number, values in enumerate(worksheet.iter_rows(values_only=True), start=1):  # type: ignore[attr-defined]
        cells = [_cell_text(value) for value in values]
        while cells and not cells[-1]:
            cells.pop()
        _limit(name, number if cells else 0, len(cells))
        rows.append((number, cells))
        if number > 1_048_576:
            break
    return rows


def _cell_text(value: object) -> str:
    """A workbook's cell as the text a person sees in it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.date().isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    return str(value)


def _limit(name: str, row: int, columns: int) -> None:
    if row > MOST_ROWS or columns > MOST_COLUMNS:
        raise UnusableAnswerFile(
            f"{name} has more than {MOST_ROWS} rows or {MOST_COLUMNS} columns. Keep the one table alone in the file."
        )


def column_letter(index: int) -> str:
    """The letter over a spreadsheet's column."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
