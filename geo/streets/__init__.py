"""A network of streets: from a street file, or inferred from parcels where there is none; homes brought onto it."""

from geo.streets._infer import infer_streets
from geo.streets._network import StreetNetwork, UnusableStreets, read_streets, street_key
from geo.streets._snap import Snapped, snap

__all__ = [
    "Snapped",
    "StreetNetwork",
    "UnusableStreets",
    "infer_streets",
    "read_streets",
    "snap",
    "street_key",
]
