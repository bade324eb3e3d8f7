"""Plain rows as a spreadsheet or a map layer: .csv, .xlsx, .gpkg, .geojson.

Text that a spreadsheet would run as a formula (it begins with ``=``, ``+``,
``-``, ``@``, a tab or a carriage return, or does so after a sign that may begin
a new cell) gets an apostrophe there, as the OWASP page "CSV Injection" advises.
Control signs, which no workbook can hold, become blanks.
"""

from __future__ import annotations

import csv
import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from survey_app.csv_import import neutralise, writable
from survey_app.csv_import.sheet import LONGEST_CELL
from survey_app.errors import SurveyError

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["FORMATS", "UnknownFormat", "harmless", "write_rows"]

FORMATS = (".csv", ".xlsx", ".gpkg", ".geojson")


class UnknownFormat(SurveyError, ValueError):
    """A file name whose ending is none of :data:`FORMATS`."""


def harmless(value: Any) -> Any:
    """`value` such that a spreadsheet shows it and never runs it."""
    return neutralise(writable(value)) if isinstance(value, str) else value


def _cell(value: Any) -> Any:
    """`value` as one cell of a workbook can hold it."""
    found = harmless(value)
    return found[:LONGEST_CELL] if isinstance(found, str) else found


def _write_csv(rows: Sequence[Mapping[str, Any]], path: Path, columns: Mapping[str, str]) -> None:
    # With its mark, spreadsheet programs take the file for UTF-8.
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        write = csv.writer(file)
        write.writerow([harmless(c) for c in columns])
        write.writerows([harmless(row.get(c)) for c in columns] for row in rows)


def _frame(rows: Sequence[Mapping[str, Any]], columns: Mapping[str, str]) -> pd.DataFrame:
    import pandas as pd

    texts = [[writable(v) if isinstance(v := row.get(c), str) else v for c in columns] for row in rows]
    return pd.DataFrame(texts, columns=[harmless(c) for c in columns])


def _write_workbook(rows: Sequence[Mapping[str, Any]], path: Path, columns: Mapping[str, str]) -> None:
    import pandas as pd

    with pd.ExcelWriter(path, engine="openpyxl") as book:
        _frame(rows, columns).map(_cell).to_excel(book, sheet_name="standing", index=False)
        pd.DataFrame(list(columns.items()), columns=["column", "what it holds"]).map(_cell).to_excel(
            book, sheet_name="what the columns hold", index=False
        )


def _write_layer(
    rows: Sequence[Mapping[str, Any]], path: Path, columns: Mapping[str, str], outlines: Sequence[bytes] | None
) -> None:
    import geopandas as gpd
    import shapely

    from geo.parcels import write_geojson

    shapes = shapely.from_wkb(list(outlines)) if outlines else []
    layer = gpd.GeoDataFrame(_frame(rows, columns), geometry=shapes, crs="EPSG:4326")
    if path.suffix == ".gpkg":
        layer.to_file(path, driver="GPKG", layer="homes")
    else:
        write_geojson(layer, path)


def write_rows(
    rows: Sequence[Mapping[str, Any]],
    path: Path,
    *,
    columns: Mapping[str, str],
    outlines: Sequence[bytes] | None = None,
) -> Path:
    """Write rows in the format that the file's ending names, replacing the file only when all of it is there.

    Parameters
    ----------
    rows
        Plain rows with the keys of `columns`.
    path
        Where to; the ending is one of :data:`FORMATS`.
    columns
        Every column with what it holds; an .xlsx gets it as a second sheet.
    outlines
        Well-known binary in WGS 84, one for each row; needed for map layers.

    Raises
    ------
    UnknownFormat
        When the ending is none of the four.
    """
    ending = path.suffix.lower()
    if ending not in FORMATS:
        raise UnknownFormat(f"'{path.name}' does not say which format: end the name in {', '.join(FORMATS)}.")
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f".{path.stem}.part{ending}")
    part.unlink(missing_ok=True)
    if ending == ".csv":
        _write_csv(rows, part, columns)
    elif ending == ".xlsx":
        _write_workbook(rows, part, columns)
    else:
        _write_layer(rows, part, columns, outlines)
    os.replace(part, path)
    return path
