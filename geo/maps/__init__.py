"""Maps as single files: a page carries its library, its data and its looks, and asks the network for nothing."""

from geo.maps.draw import draw_blocks, draw_places
from geo.maps.page import MapPage, SelfContainedMap
from geo.maps.palette import BLANK, MapClass, Ramp, numbered_classes, shades_ramp, swatch

__all__ = [
    "BLANK",
    "MapClass",
    "MapPage",
    "Ramp",
    "SelfContainedMap",
    "draw_blocks",
    "draw_places",
    "numbered_classes",
    "shades_ramp",
    "swatch",
]
