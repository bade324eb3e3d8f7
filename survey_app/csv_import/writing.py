"""The template and the mend file written, as csv or as a workbook."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from survey_app.csv_import.sheet import (
    DICTIONARY_SHEET,
    EXAMPLE_WORD,
    LONGEST_CELL,
    OVERRULE,
    REASON,
    ROW_IN_FILE,
    WHAT_TO_DO,
    RejectedRow,
    Sheet,
    UnusableAnswerFile,
    neutralise,
    writable,
)
from survey_app.intake import KEYS, QUESTIONS

__all__ = ["write_mend_file", "write_tables", "write_template"]


def write_template(path: str | Path) -> tuple[Path, ...]:
    """Write the import template, with a data dictionary and an example row.

    Parameters
    ----------
    path
        A ``.csv`` file, whose dictionary goes into ``<name>.dictionary.csv``
        beside it, or an ``.xlsx`` file, whose dictionary is its second sheet.

    Returns
    -------
    tuple of Path
        The files written.

    Raises
    ------
    UnusableAnswerFile
        When the name ends in neither, or the file cannot be written.
    """
    target = Path(path)
    example = [
        f"{EXAMPLE_WORD} (this row is ignored): {one.example}" if one.required else one.example for one in QUESTIONS
    ]
    rows = [list(KEYS), example]
    dictionary = [["column", "question", "how to answer", "may be blank", "example"]]
    for one in QUESTIONS:
        allowed = one.allowed() if one.required else f'{one.allowed()}; or blank, or "not sure"'
        dictionary.append([one.key, one.text(), allowed, "no" if one.required else "yes", one.example])
    return write_tables(target, {"answers": rows, DICTIONARY_SHEET: dictionary})


def write_mend_file(path: str | Path, rejected: Sequence[RejectedRow], *, sheet: Sheet) -> Path:
    """Write the rejected rows, each with its reason, ready to be corrected and imported again.

    The sheet's own columns come first, as they were; then the row's number in
    the file, the reason, what to do, and ``overrule``, where a reason typed by
    the person lets the row pass as it is.

    Parameters
    ----------
    path
        A ``.csv`` or ``.xlsx`` file.
    rejected
        The rows; none makes a file with a header alone.
    sheet
        The sheet they came from, for its columns.

    Returns
    -------
    Path
        The file.

    Raises
    ------
    UnusableAnswerFile
        When the name ends in neither, or the file cannot be written.
    """
    target = Path(path)
    rows = [[*sheet.columns, ROW_IN_FILE, REASON, WHAT_TO_DO, OVERRULE]]
    rows += [[*one.row.cells, str(one.number), one.reason, one.what_to_do, one.row.overrule] for one in rejected]
    write_tables(target, {"mend": rows})
    return target


def write_tables(path: str | Path, tables: Mapping[str, Sequence[Sequence[str]]]) -> tuple[Path, ...]:
    """Write named tables, every text kept from being run as a formula.

    Parameters
    ----------
    path
        An ``.xlsx`` file, with a sheet for each table, or a ``.csv`` file for
        the first, with ``<name>.<table>.csv`` beside it for each of the others.
    tables
        Rows of cells by the table's name, the most important first.

    Returns
    -------
    tuple of Path
        The files written.

    Raises
    ------
    UnusableAnswerFile
        When the name ends in neither, or the file cannot be written.
    """
    target = Path(path)
    if _suffix(target) == ".xlsx":
        _write_workbook(target, tables)
        return (target,)
    written: list[Path] = []
    for title, rows in tables.items():
        file = target.with_name(f"{target.stem}.{title}.csv") if written else target
        _write_csv(file, rows)
        written.append(file)
    return tuple(written)


def _suffix(path: Path) -> str:
    suffix = path.suffix.lower()
    if suffix not in (".csv", ".xlsx"):
        raise UnusableAnswerFile(f'"{path.name}" ends in neither .csv nor .xlsx. Choose one of the two.')
    return suffix


def _write_csv(path: Path, rows: Iterable[Sequence[str]]) -> None:
    try:
        # With its mark, spreadsheet programs take the file for UTF-8.
        with path.open("w", encoding="utf-8-sig", errors="replace", newline="") as file:
            csv.writer(file).writerows([neutralise(cell) for cell in row] for row in rows)
    except OSError as problem:
        raise _cannot_write(path, problem) from problem


def _write_workbook(path: Path, sheets: Mapping[str, Iterable[Sequence[str]]]) -> None:
    import openpyxl

    book = openpyxl.Workbook(write_only=True)
    for title, rows in sheets.items():
        worksheet = book.create_sheet(title)
        for row in rows:
            worksheet.append([_for_workbook(neutralise(cell)) for cell in row])
    # Saved in memory first: a folder that cannot be written to must not leave a half-open workbook behind.
    packed = io.BytesIO()
    book.save(packed)
    try:
        path.write_bytes(packed.getvalue())
    except OSError as problem:
        raise _cannot_write(path, problem) from problem


def _for_workbook(text: str) -> str:
    """Without the signs that the workbook format cannot hold, within the length of one cell."""
    return writable(text)[:LONGEST_CELL]


def _cannot_write(path: Path, problem: OSError) -> UnusableAnswerFile:
    why = problem.strerror or "unknown reason"
    return UnusableAnswerFile(
        f"{path.name} cannot be written ({why}). Close it if it is open, or choose another folder."
    )
