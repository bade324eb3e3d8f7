"""Colors of a map that stay apart for every eye and on a grey printer.

The colors were chosen afresh along published advice, not taken from any
program:

* order is carried by lightness, from pale to deep, so that a grey print keeps
  it (C. A. Brewer, "Color Use Guidelines for Mapping and Visualization", in
  *Visualization in Modern Cartography*, 1994, sequential schemes);
* hue moves along blue, ochre and purple instead of red against green, which
  people with a red or green deficiency confuse (F. Crameri, G. E. Shephard,
  P. J. Heron, "The misuse of colour in science communication", *Nature
  Communications* 11, 5444, 2020);
* color never stands alone: each class has a pattern and may have a letter
  (WCAG 2.2, success criterion 1.4.1 "Use of Color").

``tests/geo/test_maps.py`` simulates three deficiencies and a grey print over
these constants, and ``tests/published/test_color_contrast.py`` checks their
contrast.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

__all__ = [
    "BLANK",
    "DEEP",
    "INK",
    "MIDDLE",
    "PALE",
    "PALETTE",
    "PAPER",
    "PATTERNS",
    "SHADES",
    "SHARE_CLASSES",
    "STREET",
    "SUPPRESSED",
    "UNKNOWN",
    "MapClass",
    "Ramp",
    "contrast_ratio",
    "numbered_classes",
    "pattern_ink",
    "readable_on",
    "relative_luminance",
    "shades_ramp",
    "swatch",
]

PATTERNS = ("plain", "hatch", "backhatch", "crosshatch", "bars", "lines", "dots", "ring")
"""Second cues the page can draw. ``ring`` is one open circle in the middle of a shape."""

INK = "#1F2A33"
"""Text and the darkest lines."""
PAPER = "#E9ECE6"
"""Ground of the map, where there is neither a lot nor a street."""
STREET = "#FFFFFF"
"""Streets."""

_HEX = re.compile(r"#[0-9A-Fa-f]{6}")


@dataclass(frozen=True, slots=True, kw_only=True)
class MapClass:
    """One kind of place on the map: how it is called and how it looks.

    Attributes
    ----------
    key
        What ``class_of`` holds for a place of this class.
    label
        The words in the legend.
    fill, outline
        Colors as ``#rrggbb``.
    pattern
        One of :data:`PATTERNS`: the second cue, drawn over the fill.
    letter
        Third cue, drawn in the shape where it is large enough. May be empty.
    """

    key: str
    label: str
    fill: str
    outline: str
    pattern: str = "plain"
    letter: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ramp:
    """Numbers to classes: ``classes[i]`` holds from ``breaks[i-1]`` up to below ``breaks[i]``.

    Attributes
    ----------
    breaks
        Ascending inner limits, in the unit of the values; one fewer than the classes.
    classes
        From the lowest values to the highest.
    """

    breaks: tuple[float, ...]
    classes: tuple[MapClass, ...]

    def __post_init__(self) -> None:
        """Refuse limits that do not fit the classes."""
        if len(self.breaks) != len(self.classes) - 1 or list(self.breaks) != sorted(set(self.breaks)):
            raise ValueError(
                f"A ramp of {len(self.classes)} classes needs {len(self.classes) - 1} ascending limits; "
                f"it was given {self.breaks}. Give one limit between each two classes."
            )

    def class_of(self, value: float) -> MapClass:
        """The class a value falls in; a value on a limit belongs to the upper class."""
        return self.classes[bisect_right(self.breaks, value)]


def _channels(color: str) -> tuple[float, float, float]:
    if not _HEX.fullmatch(color):
        raise ValueError(f"“{color}” is not a color this map can draw. Write it as #rrggbb.")
    return int(color[1:3], 16) / 255, int(color[3:5], 16) / 255, int(color[5:7], 16) / 255


def relative_luminance(color: str) -> float:
    """Relative luminance of an sRGB color, 0 (black) to 1 (white).

    Formula: WCAG 2.2, definition of "relative luminance" (threshold 0.04045, as
    in IEC 61966-2-1).

    Parameters
    ----------
    color
        ``#rrggbb``.

    Raises
    ------
    ValueError
        If the text is no such color.
    """
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in _channels(color)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast_ratio(one: str, other: str) -> float:
    """Contrast of two colors, 1 to 21 (WCAG 2.2, definition of "contrast ratio").

    Parameters
    ----------
    one, other
        ``#rrggbb``, in either order.
    """
    low, high = sorted((relative_luminance(one), relative_luminance(other)))
    return (high + 0.05) / (low + 0.05)


def readable_on(fill: str) -> str:
    """The ink or white, whichever stands out more on a fill."""
    return max((INK, "#FFFFFF"), key=lambda text: contrast_ratio(text, fill))


def pattern_ink(own: MapClass) -> str:
    """The color of a class's pattern: its outline, or, on a deep fill, the fill lightened until it shows.

    Lightened no further than to 3:1 (WCAG 2.2, success criterion 1.4.11), so that a
    pattern does not turn the darkest class of an order into a middle one.
    """
    if contrast_ratio(own.outline, own.fill) >= 3 and relative_luminance(own.outline) < relative_luminance(own.fill):
        return own.outline
    base = [round(c * 255) for c in _channels(own.fill)]
    for share in range(1, 101):
        mixed = "#" + "".join(f"{round(c + (255 - c) * share / 100):02X}" for c in base)
        if contrast_ratio(mixed, own.fill) >= 3:
            return mixed
    return INK


def swatch(look: MapClass, *, key: str, label: str, letter: str = "") -> MapClass:
    """A class with the look of a palette constant and words of its own."""
    return MapClass(key=key, label=label, fill=look.fill, outline=look.outline, pattern=look.pattern, letter=letter)


PALE = MapClass(key="pale", label="least", fill="#A9CFDB", outline="#3E6B7B", pattern="plain")
"""Lowest of three ordered classes."""
MIDDLE = MapClass(key="middle", label="middle", fill="#D8993F", outline="#6B400A", pattern="hatch")
"""Middle of three ordered classes."""
DEEP = MapClass(key="deep", label="most", fill="#6A2150", outline="#C79BB7", pattern="crosshatch")
"""Highest of three ordered classes."""
UNKNOWN = MapClass(key="unknown", label="unknown", fill="#CDCDC8", outline="#666A68", pattern="dots")
"""Something was said, but not enough to put it in order."""
BLANK = MapClass(key="blank", label="no data", fill="#FBFAF6", outline="#777C79", pattern="ring")
"""Nothing was said."""
SUPPRESSED = MapClass(key="suppressed", label="not shown", fill="#E2E1DC", outline="#666A68", pattern="backhatch")
"""Known, but withheld because too few stand behind it."""

PALETTE = (PALE, MIDDLE, DEEP, UNKNOWN, BLANK)
"""Three ordered looks, one for "unknown" and one for "no data"."""

SHADES = ("#EEF2DF", "#B2D5C0", "#79B4AE", "#3C7F93", "#1D4865")
"""A sequential ramp of five, light for little and dark for much, for areas and shares."""


def shades_ramp(breaks: Sequence[float], labels: Sequence[str]) -> Ramp:
    """A ramp of up to five shades over areas.

    Parameters
    ----------
    breaks
        Ascending inner limits; one fewer than the labels.
    labels
        Two to five wordings, from the lowest values to the highest. Each class gets its rank as its letter.

    Raises
    ------
    ValueError
        If there are fewer than two or more than five labels, or the limits do not fit.
    """
    if not 2 <= len(labels) <= len(SHADES):
        raise ValueError(f"A ramp of shades has 2 to {len(SHADES)} classes; {len(labels)} were given.")
    step = (len(SHADES) - 1) / (len(labels) - 1)
    return Ramp(
        breaks=tuple(breaks),
        classes=tuple(
            MapClass(
                key=f"shade{i}",
                label=label,
                fill=(fill := SHADES[round(i * step)]),
                outline="#35505A" if relative_luminance(fill) > 0.3 else "#FFFFFF",
                letter=str(i + 1),
            )
            for i, label in enumerate(labels)
        ),
    )


_DAY_FILLS = ("#A9CFDB", "#D8993F", "#6A2150", "#EEF2DF", "#3C7F93", "#CDB7C8")


def numbered_classes(labels: Sequence[str]) -> tuple[MapClass, ...]:
    """Classes without an order, such as days: the number is what tells them apart, color and pattern help.

    Parameters
    ----------
    labels
        One wording a class; the class's letter is its number from 1, its key ``n1``, ``n2``, ...
    """
    found = []
    for i, label in enumerate(labels):
        fill = _DAY_FILLS[i % len(_DAY_FILLS)]
        outline = "#35505A" if relative_luminance(fill) > 0.2 else "#FFFFFF"
        pattern = PATTERNS[(i + i // len(_DAY_FILLS)) % (len(PATTERNS) - 1)]
        found.append(
            MapClass(key=f"n{i + 1}", label=label, fill=fill, outline=outline, pattern=pattern, letter=str(i + 1))
        )
    return tuple(found)


SHARE_CLASSES: tuple[MapClass, ...] = (
    *shades_ramp((0.2, 0.4, 0.6, 0.8), ("under 20 %", "20 to 40 %", "40 to 60 %", "60 to 80 %", "over 80 %")).classes,
    swatch(SUPPRESSED, key="not shown", label="Too few: not shown"),
)
"""Five shares (keys ``shade0`` to ``shade4``) and ``not shown``: the usual classes of a layer of areas."""
