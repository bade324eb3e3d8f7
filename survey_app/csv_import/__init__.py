"""A spreadsheet of answers: the template, the rows, the import, and the mend file.

Spreadsheets come from many hands: saved by programs with their own idea of
encoding and separator, with columns renamed and moved, with notes above the
header. What can be understood is read; what cannot is handed back as a mend
file, row by row with its reason, ready to be corrected and imported again.

Text that a spreadsheet program would take for a formula is written with an
apostrophe in front, which the import takes away again.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time

from survey_app.csv_import.reading import read_rows
from survey_app.csv_import.sheet import RejectedRow, Row, Sheet, UnusableAnswerFile, neutralise, restore, writable
from survey_app.csv_import.tables import Table, column_letter, read_tables
from survey_app.csv_import.writing import write_mend_file, write_tables, write_template
from survey_app.intake import OVERRULE_ALL, Checked, answer_id_of, check
from survey_app.records import AnswerChannel

__all__ = [
    "Imported",
    "RejectedRow",
    "Row",
    "Sheet",
    "Table",
    "UnusableAnswerFile",
    "check_rows",
    "column_letter",
    "neutralise",
    "read_rows",
    "read_tables",
    "restore",
    "writable",
    "write_mend_file",
    "write_tables",
    "write_template",
]

PROGRESS_EVERY = 100
Progress = Callable[[int, int], object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Imported:
    """What came of a sheet.

    ``accepted`` are the checked answers, ``accepted_rows`` the row each came
    from; ``rejected`` are the rows for the mend file; ``notes`` concern the
    file as a whole.
    """

    sheet: Sheet
    accepted: tuple[Checked, ...]
    accepted_rows: tuple[int, ...]
    rejected: tuple[RejectedRow, ...]
    notes: tuple[str, ...] = ()


def check_rows(
    sheet: Sheet,
    *,
    today: date,
    house_year_of: Callable[[str], int | None],
    submitted_by: str = "import",
    submitted_at: datetime | None = None,
    progress: Progress | None = None,
) -> Imported:
    """Check every row of a sheet.

    The id of an answer is made from what its row says, so that the same file
    imported twice, or a corrected mend file together with the first, brings no
    answer twice. Rows that say the same count once.

    Parameters
    ----------
    sheet
        The rows.
    today
        The day of the import.
    house_year_of
        The year the house at a typed address was finished, None where unknown.
    submitted_by, submitted_at
        Who imports, and when (None for the beginning of today, UTC).
    progress
        Called with rows done and rows in all, every hundred rows and at the end.

    Returns
    -------
    Imported
        A row with an error or a contradiction that is not overruled is
        rejected; notes reject nothing.
    """
    at = submitted_at or datetime.combine(today, time(), UTC)
    accepted: list[Checked] = []
    accepted_rows: list[int] = []
    rejected: list[RejectedRow] = []
    first_seen: dict[str, int] = {}
    doubles: list[int] = []
    total = len(sheet.rows)
    for done, row in enumerate(sheet.rows, start=1):
        identity = answer_id_of(row.given)
        if identity in first_seen:
            doubles.append(row.number)
        else:
            first_seen[identity] = row.number
            checked = check(
                row.given,
                channel=AnswerChannel.IMPORT,
                today=today,
                house_year=house_year_of(row.address) if row.address else None,
                submitted_by=submitted_by,
                submitted_at=at,
                overruled={OVERRULE_ALL: row.overrule} if row.overrule else {},
            )
            if checked.answer is None:
                rejected.append(RejectedRow(number=row.number, row=row, problems=checked.blocking))
            else:
                accepted.append(checked)
                accepted_rows.append(row.number)
        if progress is not None and (done % PROGRESS_EVERY == 0 or done == total):
            progress(done, total)
    notes = list(sheet.notes)
    if doubles:
        shown = ", ".join(str(number) for number in doubles[:20]) + (" and others" if len(doubles) > 20 else "")
        notes.append(f"{len(doubles)} rows say the same as an earlier row and were counted once: {shown}.")
    return Imported(
        sheet=sheet,
        accepted=tuple(accepted),
        accepted_rows=tuple(accepted_rows),
        rejected=tuple(rejected),
        notes=tuple(notes),
    )
