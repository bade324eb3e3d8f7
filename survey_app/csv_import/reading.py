"""A csv or xlsx file read into rows, whatever program and hand it comes from."""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from pathlib import Path

import openpyxl

from survey_app.csv_import.sheet import (
    DICTIONARY_SHEET,
    EXAMPLE_WORD,
    OVERRULE,
    REASON,
    ROW_IN_FILE,
    WHAT_TO_DO,
    Row,
    Sheet,
    UnusableAnswerFile,
    restore,
)
from survey_app.intake import KEYS, QUESTIONS, Widget, plain, question, simplify
from survey_app.intake.spellings import HEADERS

__all__ = ["read_rows"]

HEADER_WITHIN_ROWS = 20
"""The header is looked for in this many rows; above it may stand a title."""
LARGEST_BYTES = 50_000_000
LARGEST_UNPACKED_BYTES = 500_000_000
MOST_ROWS = 200_000
MOST_COLUMNS = 500
_OWN_COLUMNS = {
    REASON: REASON,
    WHAT_TO_DO: WHAT_TO_DO,
    "what to do about it": WHAT_TO_DO,
    OVERRULE: OVERRULE,
    "overrule because": OVERRULE,
    ROW_IN_FILE: ROW_IN_FILE,
}
_MAGIC = (
    (b"%PDF", "a PDF"),
    (b"\xd0\xcf\x11\xe0", "a workbook in the old .xls form"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"SQLite format 3", "a database"),
    (b"\x1f\x8b", "a compressed file"),
)


def read_rows(path: str | Path) -> Sheet:
    """Read a csv or xlsx file of answers.

    A csv file may be in UTF-8, UTF-16 or Windows' Western encoding, separated
    by commas, semicolons or tabs. Columns are recognized by their names or
    other usual names, in any order and case; a mend file is read as it was
    written, its reasons passed over.

    Returns
    -------
    Sheet
        Possibly without rows, when nothing stands below the header.

    Raises
    ------
    UnusableAnswerFile
        When the file is missing, empty, no spreadsheet, too large, or has no
        address column, or two columns for one question.
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
        return _read_workbook(source, data)
    for magic, words in _MAGIC:
        if data.startswith(magic):
            raise UnusableAnswerFile(
                f"{source.name} is {words}, not a table that can be read. Open it in a spreadsheet program and save "
                "it as csv or xlsx."
            )
    text, encoding_note = _decode(source.name, data)
    table, separator_note = _csv_table(source.name, text)
    return _sheet(source.name, table, [note for note in (encoding_note, separator_note) if note])


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


def _csv_table(name: str, text: str) -> tuple[list[tuple[int, list[str]]], str]:
    """The records of a csv file, numbered as a spreadsheet numbers them, and a note when the separator is unusual."""
    text = text.replace("\x00", "")
    delimiter, declared = _delimiter(text)
    csv.field_size_limit(10_000_000)
    rows: list[tuple[int, list[str]]] = []
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


def _delimiter(text: str) -> tuple[str, bool]:
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
            score = (sum(1 for cell in cells if _column(cell) is not None), len(cells))
            if score[0] and score > most:
                best, most = delimiter, score
    return best, False


def _read_workbook(source: Path, data: bytes) -> Sheet:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            if sum(entry.file_size for entry in packed.infolist()) > LARGEST_UNPACKED_BYTES:
                raise UnusableAnswerFile(f"{source.name} is too large when unpacked. Save the answers alone as csv.")
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
    except UnusableAnswerFile:
        raise
    # openpyxl lets many kinds of errors out of a damaged or foreign zip file.
    except Exception as problem:
        raise UnusableAnswerFile(
            f"{source.name} is not a workbook that can be read. Open it in a spreadsheet program and save it as csv "
            "or xlsx."
        ) from problem
    notes = [] if source.suffix.lower() == ".xlsx" else ["The file is a workbook (xlsx) and was read as one."]
    reasons: list[UnusableAnswerFile] = []
    try:
        for worksheet in book.worksheets:
            if worksheet.title == DICTIONARY_SHEET:
                continue
            try:
                table = _worksheet_table(source.name, worksheet)
                if not any(any(cells) for _, cells in table):
                    continue
                sheet = _sheet(source.name, table, notes)
            except UnusableAnswerFile as reason:
                reasons.append(reason)
                continue
            except Exception as problem:
                raise UnusableAnswerFile(
                    f"The sheet {worksheet.title!r} of {source.name} is damaged. Save it as csv and try again."
                ) from problem
            return sheet
    finally:
        book.close()
    if reasons:
        raise reasons[0]
    raise UnusableAnswerFile(f"{source.name} holds no rows. Fill in the template and try again.")


def _worksheet_table(name: str, worksheet: object) -> list[tuple[int, list[str]]]:
    # The size a file states for its sheet may be wrong; without it, rows are read as they come.
    worksheet.reset_dimensions()  # type: ignore[attr-defined]
    rows: list[tuple[int, list[str]]] = []
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
            f"{name} has more than {MOST_ROWS} rows or {MOST_COLUMNS} columns. Keep the answers alone in the file."
        )


def _sheet(name: str, table: Sequence[tuple[int, list[str]]], notes: Iterable[str]) -> Sheet:
    notes = list(notes)
    header_at = _header_row(name, table)
    headers = [plain(restore(cell)) for cell in table[header_at][1]]
    body = table[header_at + 1 :]
    width = max([len(headers), *(len(cells) for _, cells in body)])
    headers += [""] * (width - len(headers))
    meaning = [_column(header) for header in headers]
    _refuse_doubles(name, headers, meaning)
    used = [i for i in range(width) if headers[i] or any(len(c) > i and c[i].strip() for _, c in body)]
    own = set(_OWN_COLUMNS.values())
    kept = [i for i in used if meaning[i] not in own]
    unknown = tuple(headers[i] or f"column {_letter(i)}" for i in kept if meaning[i] is None)
    if unknown:
        notes.append(f"Not understood and passed over: {', '.join(unknown)}. The template shows the columns there are.")
    rows: list[Row] = []
    examples = 0
    for number, raw in body:
        cells = [restore(cell) for cell in raw] + [""] * (width - len(raw))
        if not any(cells[i].strip() for i in kept):
            continue
        row = _row(number, cells, meaning, kept)
        if re.match(rf"{EXAMPLE_WORD}\b", row.address, re.IGNORECASE):
            examples += 1
            continue
        rows.append(row)
    if examples:
        notes.append("The template's example row was passed over.")
    if not rows:
        notes.append("There are no answers below the header.")
    return Sheet(
        name=name,
        columns=tuple(headers[i] for i in kept),
        rows=tuple(rows),
        unknown_columns=unknown,
        notes=tuple(notes),
    )


def _row(number: int, cells: list[str], meaning: Sequence[str | None], kept: Sequence[int]) -> Row:
    given: dict[str, str] = {}
    overrule = ""
    for i, key in enumerate(meaning):
        if key == OVERRULE:
            overrule = plain(cells[i])
        elif key in KEYS and (text := plain(cells[i])):
            given[key] = f"{given[key]}; {text}" if key in given else text
    return Row(number=number, given=given, cells=tuple(cells[i] for i in kept), overrule=overrule)


def _header_row(name: str, table: Sequence[tuple[int, list[str]]]) -> int:
    """Where the header stands: the first row with an address column and another one that is understood."""
    candidates = []
    for at, (_, cells) in enumerate(table[:HEADER_WITHIN_ROWS]):
        meanings = {_column(cell) for cell in cells} - {None}
        if "address" in meanings:
            candidates.append((len(meanings), at))
    if candidates:
        most = max(known for known, _ in candidates)
        return next(at for known, at in candidates if known == most)
    first = next((cells for _, cells in table if any(cell.strip() for cell in cells)), [])
    shown = ", ".join(cell.strip()[:30] for cell in first[:8] if cell.strip())
    raise UnusableAnswerFile(
        f'{name} has no column "address" (its first row holds: {shown}). Name the column with the street addresses '
        '"address", or start from the template.'
    )


def _refuse_doubles(name: str, headers: Sequence[str], meaning: Sequence[str | None]) -> None:
    """Two columns for one question: only free text can be put together."""
    for key in dict.fromkeys(key for key in meaning if key is not None):
        same = [headers[i] for i, one in enumerate(meaning) if one == key]
        if len(same) > 1 and key in KEYS and (question(key).widget is not Widget.TEXT or key == "address"):
            raise UnusableAnswerFile(
                f'{name} has {len(same)} columns that mean "{key}" ({", ".join(same)}). Keep one and rename or delete '
                "the others."
            )


def _column(header: str) -> str | None:
    """The question key, or the column of a mend file, that a header names."""
    return _HEADER_TABLE.get(_header_key(header))


def _header_key(header: str) -> str:
    return re.sub(r"[^a-z0-9&]+", " ", simplify(header)).strip()


def _header_table() -> dict[str, str]:
    table = {_header_key(spelling): key for key, spellings in HEADERS.items() for spelling in spellings}
    table |= {_header_key(one.text): one.key for one in QUESTIONS}
    table |= {_header_key(key): key for key in KEYS}
    return table | {_header_key(header): meaning for header, meaning in _OWN_COLUMNS.items()}


_HEADER_TABLE = _header_table()


def _letter(index: int) -> str:
    """The letter over a spreadsheet's column."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
