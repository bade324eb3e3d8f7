"""A year's records as one zip file in formats that need no program of ours: CSV, GeoPackage, TOML, words.

Text in the tables is kept from running as a formula (OWASP "CSV Injection").
``SHA256SUMS`` lists every file's checksum in the form that ``sha256sum -c`` reads.
"""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
import zipfile
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any, Protocol

from survey_app.records import Community
from survey_app.reports.as_file import write_rows
from survey_app.reports.as_pdf import pdf
from survey_app.reports.standing_table import STANDING_COLUMNS, standing_rows
from survey_app.standing import Standing

__all__ = ["HOLDS", "archive_bytes", "hand_over_pdf", "write_archive"]

HOLDS: Mapping[str, str] = {
    "answers": "every answer as it was given, a row each, with how it was joined to its home",
    "homes": "every home of the survey",
    "heaters": "heaters as the answers and events tell them; the newest of a home is in service",
    "care": "what was done to heaters",
    "events": "what crews and volunteers did and found",
    "service_visits": "visits of service days and what came of them",
    "offer_replies": "what homes said to an offer to buy together",
    "contact_notes": "who was reached at the door, and what came of it",
    "changes": "the change log: who changed what, when, before and after",
}
"""What each table of an archive holds."""


class Content(Protocol):
    """What an archive is made of."""

    @property
    def community(self) -> Community:
        """Whose survey it is."""

    @property
    def at(self) -> datetime:
        """The moment of the records."""

    @property
    def settings(self) -> str:
        """The settings as TOML."""

    @property
    def tables(self) -> Mapping[str, Sequence[Mapping[str, Any]]]:
        """Rows by table."""

    @property
    def standings(self) -> Sequence[Standing]:
        """Where every home stands."""

    @property
    def outlines(self) -> Sequence[bytes]:
        """Their parcels, well-known binary in WGS 84."""


class StepOfList(Protocol):
    """A line of the list for handing over."""

    @property
    def what(self) -> str:
        """What is to be done."""

    @property
    def done(self) -> str:
        """How far it is."""

    @property
    def found(self) -> str:
        """What the records show."""

    @property
    def where(self) -> str:
        """Where it is done."""


def archive_bytes(content: Content) -> bytes:
    """The archive as the bytes of a zip file."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        for name, rows in content.tables.items():
            flat = [_flat(row) for row in rows]
            columns = {key: "" for row in flat[:1] for key in row} or {"nothing on file": ""}
            write_rows(flat, place / f"{name}.csv", columns=columns)
        standing = standing_rows(content.standings)
        write_rows(standing, place / "standing.csv", columns=STANDING_COLUMNS)
        if standing:
            write_rows(standing, place / "survey.gpkg", columns=STANDING_COLUMNS, outlines=content.outlines)
        (place / "settings.toml").write_text(content.settings, encoding="utf-8")
        (place / "README.txt").write_text(_words(content), encoding="utf-8")
        files = sorted(p for p in place.iterdir() if p.is_file())
        sums = "".join(f"{hashlib.sha256(p.read_bytes()).hexdigest()}  {p.name}\n" for p in files)
        bundle_path = place / "archive.zip"
        with zipfile.ZipFile(bundle_path, "w", zipfile.ZIP_DEFLATED) as bundle:
            for path in files:
                bundle.write(path, path.name)
            bundle.writestr("SHA256SUMS", sums)
        return bundle_path.read_bytes()


def write_archive(content: Content, file: Path) -> int:
    """Write the archive where only its owner can read it; returns its size in bytes."""
    made = archive_bytes(content)
    file.parent.mkdir(parents=True, exist_ok=True)
    part = file.with_name(file.name + ".part")
    part.write_bytes(made)
    part.chmod(0o600)
    os.replace(part, file)
    return len(made)


def hand_over_pdf(steps: Sequence[StepOfList], community: Community, at: datetime) -> bytes:
    """The list for handing over, to print, tick and sign."""
    return pdf(
        "hand_over",
        {
            "community": community.name,
            "synthetic": community.synthetic,
            "at": f"{at:%d %B %Y}",
            "steps": [{"what": s.what, "done": str(s.done), "found": s.found, "where": s.where} for s in steps],
        },
    )


def _flat(row: Mapping[str, Any]) -> dict[str, Any]:
    """One row with plain values: what has parts becomes columns of its own or one text."""
    out: dict[str, Any] = {}
    for key, value in row.items():
        if isinstance(value, Mapping) and set(value) == {"earliest", "latest", "evidence"}:
            out |= {f"{key}_{part}": _plain(told) for part, told in value.items()}
        else:
            out[key] = _plain(value)
    return out


def _plain(value: Any) -> Any:
    if isinstance(value, (date, datetime)):
        return value.isoformat()
    if isinstance(value, (list, tuple)) and all(isinstance(v, str) for v in value):
        return "; ".join(value)
    if isinstance(value, (Mapping, list, tuple)):
        return json.dumps(value, ensure_ascii=False, default=str)
    return value


def _words(content: Content) -> str:
    lines = [
        f"Water-heater survey of {content.community.name}, records as of {content.at:%d %B %Y, %H:%M}.",
        *(["The community is synthetic: invented for trying the survey out."] if content.community.synthetic else []),
        "",
        "It holds addresses with their equipment, and how to reach people: keep it as you keep the records.",
        "What a home asks to be deleted later is still in here: delete old archives when they are no longer needed.",
        "",
        "standing.csv: where every home stands that day; survey.gpkg: the same as a layer for any GIS (WGS 84).",
        "settings.toml: the settings with their sources and effects.",
        *(f"{name}.csv: {HOLDS[name]} ({len(rows)} rows)." for name, rows in content.tables.items()),
        "",
        "CSV files are UTF-8, comma-separated. A text that begins with ' is one that a spreadsheet would have run.",
        "Check that all is whole: sha256sum -c SHA256SUMS",
        "",
    ]
    return "\n".join(lines)
