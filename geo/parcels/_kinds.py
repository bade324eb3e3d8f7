"""What a map file is by its content, before GDAL opens it.

GDAL looks at the content, not at the name, and some of its formats are no data but instructions: a virtual data source
names files of this machine or addresses in the network that GDAL then reads. A file from elsewhere must not be able to
ask for that, so only the kinds that hold their data themselves are let through (OWASP File Upload Cheat Sheet: an allow
list, checked against the content; OWASP Server-Side Request Forgery Prevention Cheat Sheet).
"""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

__all__ = ["why_not_a_map_file"]

_LOOKED_AT = 65_536
_LARGEST_UNPACKED = 4_000_000_000
_MOST_PACKED = 200
"""Times smaller than its content a zip may be, where the content is large: a county's shapefile shrinks about fourfold
(common practice, no source)."""
_SMALL = 200_000_000
_SHAPEFILE, _SQLITE, _FLATGEOBUF = b"\x00\x00\x27\x0a", b"SQLite format 3\x00", b"fgb"
_INSTRUCTIONS = re.compile(rb"<\s*(OGR|VRT|WMS|WFS|GDAL)|gdal_streamed_alg", re.IGNORECASE)
_JSON_MAP = (b'"Feature', b'"geometry', b'"Topology"')
"""One of these stands early in every kind of map written as JSON."""
_FETCHES = "holds no map but says where to fetch one"
_WITH_DATA = (".shp", ".geojson", ".json", ".gpkg", ".fgb", ".csv", ".gdbtable")


def why_not_a_map_file(path: Path) -> str | None:
    """Why a file is not to be opened, in the middle of a sentence; None where it may be."""
    if path.is_dir():  # a file geodatabase; nobody uploads a folder
        return None if path.suffix.lower() == ".gdb" else "is a folder"
    if path.name.lower().endswith(".gdalg.json"):
        return _FETCHES
    with path.open("rb") as file:
        start = file.read(_LOOKED_AT)
    if start.startswith(b"PK"):
        return _why_not_zip(path)
    return _why_not(start)


def _why_not(start: bytes) -> str | None:
    if start.startswith((_SHAPEFILE, _SQLITE, _FLATGEOBUF)):
        return None
    if _INSTRUCTIONS.search(start):
        return _FETCHES
    text = start.removeprefix(b"\xef\xbb\xbf").lstrip()
    if text.startswith(b"{") and any(sign in text for sign in _JSON_MAP):
        return None
    return "is none of the kinds of map file that can be read"


def _why_not_zip(path: Path) -> str | None:
    try:
        with zipfile.ZipFile(path) as packed:
            members = [m for m in packed.infolist() if not m.is_dir()]
            size = sum(m.file_size for m in members)
            if size > _LARGEST_UNPACKED or size > max(_SMALL, _MOST_PACKED * path.stat().st_size):
                return "is far larger when unpacked than a map of parcels"
            endings = {Path(m.filename).suffix.lower() for m in members}
            if not endings.intersection(_WITH_DATA):
                return "is a zip file without a map in it"
            for member in members:
                with packed.open(member) as file:
                    start = file.read(_LOOKED_AT)
                # Beside a shapefile a description in XML is usual, and the shapefile is what is opened.
                instructs = _INSTRUCTIONS.search(start) and not start.startswith((_SHAPEFILE, _SQLITE))
                named = member.filename.lower().endswith(".gdalg.json")
                if instructs or named or (".shp" not in endings and start.lstrip()[:1] == b"<"):
                    return _FETCHES
    except (zipfile.BadZipFile, OSError, RuntimeError, NotImplementedError, EOFError):
        return "is a damaged or locked zip file"
    return None
