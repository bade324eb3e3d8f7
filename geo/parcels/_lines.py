"""A file of street lines, as a street department hands it over."""

from __future__ import annotations

from pathlib import Path

import geopandas as gpd
import pyogrio

from geo.parcels._crs import UnusableParcelFile
from geo.parcels._kinds import why_not_a_map_file

__all__ = ["street_lines"]

_KINDS = "send a zipped shapefile, GeoJSON or GeoPackage file"
_WGS84 = 4326


def street_lines(path: Path) -> list[tuple[str, str, bytes]]:
    """Street lines of a file: name, kind, well-known binary in WGS 84.

    Raises
    ------
    UnusableParcelFile
        When it is no map file, holds no lines, or does not say its coordinate system.
    """
    if (why := why_not_a_map_file(path)) is not None:
        raise UnusableParcelFile(f"'{path.name}' {why}; {_KINDS}.")
    try:
        frame = gpd.read_file(path)
    except (pyogrio.errors.DataSourceError, pyogrio.errors.DataLayerError, ValueError, OSError) as error:
        raise UnusableParcelFile(f"'{path.name}' cannot be read as a map file; {_KINDS}.") from error
    if not isinstance(frame, gpd.GeoDataFrame):
        raise UnusableParcelFile(f"'{path.name}' holds no street lines; {_KINDS} of lines, one a block of street.")
    frame = frame[frame.geometry.geom_type.isin(("LineString", "MultiLineString"))]
    if not len(frame):
        raise UnusableParcelFile(f"'{path.name}' holds no street lines; {_KINDS} of lines, one a block of street.")
    if frame.crs is None:
        raise UnusableParcelFile(
            f"'{path.name}' does not say its coordinate system. Ask for the file with it (a .prj file in the zip)."
        )
    frame = frame.to_crs(_WGS84)
    columns = {str(c).lower(): c for c in frame.columns}
    names = frame[columns["name"]] if "name" in columns else [""] * len(frame)
    kinds = frame[columns["class"]] if "class" in columns else [""] * len(frame)
    return [(_word(n), _word(k), w) for n, k, w in zip(names, kinds, frame.geometry.to_wkb(), strict=True)]


def _word(cell: object) -> str:
    """A cell as text; an empty one, which the reader gives as a number that is none, as ""."""
    return cell.strip() if isinstance(cell, str) else ""
