"""A county's parcel file -> homes on a map, with a word on everything that was mended or left out."""

from geo.parcels._crs import UnusableParcelFile, local_epsg
from geo.parcels._kinds import why_not_a_map_file
from geo.parcels._lines import street_lines
from geo.parcels._outlines import write_geojson
from geo.parcels._read import Notice, ParcelFile, read_parcels

__all__ = [
    "Notice",
    "ParcelFile",
    "UnusableParcelFile",
    "local_epsg",
    "read_parcels",
    "street_lines",
    "why_not_a_map_file",
    "write_geojson",
]
