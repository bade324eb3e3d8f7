"""The same files as bytes, for pages that take uploads and offer downloads."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any, TypeVar

from geo.parcels import ParcelFile, read_parcels, street_lines
from survey_app.csv_import import (
    Imported,
    Sheet,
    UnusableAnswerFile,
    read_rows,
    read_tables,
    restore,
    write_mend_file,
    write_template,
)
from survey_app.purchase.bid_sheet import BidSheet, read_bids, write_mend
from survey_app.purchase.bid_sheet import template as bid_template
from survey_app.purchase.bids import Bid
from survey_app.records import Home
from survey_app.reports.as_file import write_rows
from survey_app.reports.standing_table import STANDING_COLUMNS, standing_rows
from survey_app.standing import Standing

__all__ = [
    "bid_mend_bytes",
    "bid_template_bytes",
    "bids_from_upload",
    "codes_bytes",
    "mend_file_bytes",
    "parcels_from_upload",
    "rows_bytes",
    "rows_from_upload",
    "sheet_from_upload",
    "standing_bytes",
    "streets_from_upload",
    "template_bytes",
]

Read = TypeVar("Read")

CODE_COLUMNS = {"address": "the home", "code": "its private code; it opens this home and no other"}


def _written(name: str, write: Callable[[Path], object]) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        write(path)
        return path.read_bytes()


def _with_upload(name: str, data: bytes, read: Callable[[Path], Read], *, stem: str = "upload") -> Read:
    # Only the ending of the person's file name is used: a name is not a path to trust.
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / (stem + Path(name).suffix.lower())
        path.write_bytes(data)
        return read(path)


def _readable(name: str) -> str:
    """A file's name without its ending, as its problems call it: letters, digits, spaces and dashes alone."""
    return re.sub(r"[^A-Za-z0-9 _-]+", "_", Path(name).stem)[:60].strip() or "upload"


def template_bytes() -> bytes:
    """The import template as a workbook with its data dictionary."""
    return _written("answers_template.xlsx", write_template)


def sheet_from_upload(name: str, data: bytes) -> Sheet:
    """Read an uploaded spreadsheet; raises `UnusableAnswerFile`."""
    return _with_upload(name, data, read_rows, stem=_readable(name))


def parcels_from_upload(name: str, data: bytes, crs: str | None) -> ParcelFile:
    """Read an uploaded parcel file; raises `UnusableParcelFile`."""
    return _with_upload(name, data, lambda path: read_parcels(path, crs=crs))


def streets_from_upload(name: str, data: bytes) -> list[tuple[str, str, bytes]]:
    """Read an uploaded file of street lines; raises `UnusableParcelFile`."""
    return _with_upload(name, data, street_lines)


def mend_file_bytes(imported: Imported) -> bytes:
    """The rejected rows with their reasons, as a workbook."""
    return _written("mend.xlsx", lambda path: write_mend_file(path, imported.rejected, sheet=imported.sheet))


def standing_bytes(found: Sequence[Standing]) -> bytes:
    """The standing of every home, as a workbook."""
    rows = standing_rows(found)
    return _written("standing.xlsx", lambda path: write_rows(rows, path, columns=STANDING_COLUMNS))


def rows_bytes(name: str, rows: Sequence[Mapping[str, Any]], columns: Mapping[str, str]) -> bytes:
    """Rows as a file of the kind that `name` ends in (.csv or .xlsx), every text kept from being run as a formula."""
    return _written(name, lambda path: write_rows(rows, path, columns=columns))


def rows_from_upload(name: str, data: bytes, columns: Iterable[str]) -> list[dict[str, str]]:
    """Rows of an uploaded sheet by column name, from the first line that holds at least two of `columns`.

    Raises
    ------
    UnusableAnswerFile
        When the file cannot be read, or no line holds those columns.
    """
    wanted = set(columns)

    def read(path: Path) -> list[dict[str, str]]:
        for table, _ in read_tables(path, known=lambda cell: cell.strip().lower() in wanted):
            for at, (_, cells) in enumerate(table):
                header = [c.strip().lower() for c in cells]
                if len(wanted.intersection(header)) >= 2:
                    return [
                        {k: restore(v) for k, v in zip(header, row, strict=False) if k} for _, row in table[at + 1 :]
                    ]
        raise UnusableAnswerFile(f"{name} has no line with the columns {', '.join(columns)}. Use the file made here.")

    return _with_upload(name, data, read)


def bid_template_bytes() -> bytes:
    """The sheet of bids to fill in."""
    return _written("bids.xlsx", bid_template)


def bids_from_upload(name: str, data: bytes, as_of: date, known: Sequence[Bid]) -> BidSheet:
    """Read an uploaded sheet of bids; raises `UnusableBidFile`."""
    return _with_upload(name, data, lambda path: read_bids(path, as_of=as_of, known=known), stem=_readable(name))


def bid_mend_bytes(sheet: BidSheet) -> bytes:
    """The rejected rows of a sheet of bids with their reasons, as a workbook."""
    return _written("mend.xlsx", lambda path: write_mend(path, sheet))


def codes_bytes(codes: Sequence[tuple[Home, str]]) -> bytes:
    """Private codes as a spreadsheet, in the order of addresses."""
    rows = [{"address": home.address, "code": code} for home, code in codes]
    return _written("codes.csv", lambda path: write_rows(rows, path, columns=CODE_COLUMNS))
