"""A csv or xlsx file read into rows, whatever program and hand it comes from."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path

from survey_app.csv_import.sheet import (
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
from survey_app.csv_import.tables import HEADER_WITHIN_ROWS, column_letter, read_tables
from survey_app.intake import KEYS, QUESTIONS, Kind, plain, question, simplify
from survey_app.texts import ENGLISH, LANGUAGES, texts

__all__ = ["read_rows"]

_OWN_COLUMNS = {
    REASON: REASON,
    WHAT_TO_DO: WHAT_TO_DO,
    "what to do about it": WHAT_TO_DO,
    OVERRULE: OVERRULE,
    "overrule because": OVERRULE,
    ROW_IN_FILE: ROW_IN_FILE,
}


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
    reasons: list[UnusableAnswerFile] = []
    for table, notes in read_tables(source, known=lambda header: _column(header) is not None):
        try:
            return _sheet(source.name, table, notes)
        except UnusableAnswerFile as reason:
            reasons.append(reason)
    raise reasons[0]


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
    unknown = tuple(headers[i] or f"column {column_letter(i)}" for i in kept if meaning[i] is None)
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
        if len(same) > 1 and key in KEYS and (question(key).kind is not Kind.TEXT or key == "address"):
            raise UnusableAnswerFile(
                f'{name} has {len(same)} columns that mean "{key}" ({", ".join(same)}). Keep one and rename or delete '
                "the others."
            )


def _column(header: str) -> str | None:
    """The question key, or the column of a mend file, that a header names."""
    named = _header_key(header)
    return _headers().get(named) or _headers_elsewhere().get(named)


def _header_key(header: str) -> str:
    return re.sub(r"[^a-z0-9&]+", " ", simplify(header)).strip()


@cache
def _headers() -> dict[str, str]:
    table = {_header_key(header): one.key for one in QUESTIONS for header in one.headers}
    table |= {_header_key(one.text()): one.key for one in QUESTIONS}
    table |= {_header_key(key): key for key in KEYS}
    return table | {_header_key(header): meaning for header, meaning in _OWN_COLUMNS.items()}


@cache
def _headers_elsewhere() -> dict[str, str]:
    """The questions in the other languages, read only where English does not know a header."""
    others = [texts(language) for language in LANGUAGES if language != ENGLISH.language]
    return {_header_key(one.text(say)): one.key for say in others for one in QUESTIONS}
