"""Invented street names, and addresses in the form a county prints them.

The names are made to be hard in the ways real ones are: families that share a
stem (a Lane, a Court and a Circle off one another), pairs that differ by one
or two letters, directions before and after the name, ordinals, names of
several words, and names that contain a word which is a suffix elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

__all__ = ["SUFFIX_WORDS", "TWIN_ENDINGS", "Address", "NameBook", "StreetName"]

# What each abbreviation stands for: ordinary American usage.
SUFFIX_WORDS: dict[str, str] = {
    "Ave": "Avenue",
    "Blvd": "Boulevard",
    "Cir": "Circle",
    "Ct": "Court",
    "Cv": "Cove",
    "Dr": "Drive",
    "Ln": "Lane",
    "Loop": "Loop",
    "Path": "Path",
    "Pkwy": "Parkway",
    "Pl": "Place",
    "Pt": "Point",
    "Rd": "Road",
    "Rdg": "Ridge",
    "Run": "Run",
    "St": "Street",
    "Ter": "Terrace",
    "Trl": "Trail",
    "Way": "Way",
    "Xing": "Crossing",
}

_SUFFIXES_BY_CLASS: dict[str, tuple[str, ...]] = {
    "arterial": ("Rd", "Blvd"),
    "collector": ("Pkwy", "Blvd", "Dr", "Ave"),
    "local": ("Dr", "Ln", "St", "Rd", "Way", "Trl", "Path", "Run", "Xing", "Ave", "Rdg"),
    "loop": ("Loop", "Cir", "Dr", "Way"),
    "court": ("Ct", "Pl", "Cir", "Ter", "Cv", "Pt", "Ct", "Ct"),
}

_FIRST_TEXT = (
    "Alder Amber Bracken Bramble Brindle Candle Cinder Clover Copper Cotter Curlew Dapple Dunlin Elder Ember "
    "Fallow Fern Flax Gander Garnet Gorse Hazel Heron Hollin Juniper Kindle Larch Linden Marsh Mallow Nettle "
    "Otter Pebble Plover Quill Rowan Rush Sable Sedge Sorrel Spindle Tallow Tansy Teasel Thistle Umber Wicker "
    "Willet Withy Yarrow"
)
_FIRST = _FIRST_TEXT.split()
# Endings that a hurried hand swaps for one another.
TWIN_ENDINGS: tuple[tuple[str, str], ...] = (
    ("hill", "hall"),
    ("mere", "more"),
    ("brook", "brock"),
    ("field", "fold"),
    ("wood", "ward"),
    ("gate", "gale"),
    ("dale", "dell"),
    ("ley", "low"),
    ("wick", "week"),
    ("ton", "tan"),
)
_ADJECTIVES_TEXT = "Old Long Upper Lower Quiet Crooked Broad Little Far Stony Windy Early Silver Winter"
_ADJECTIVES = _ADJECTIVES_TEXT.split()
_NOUNS_TEXT = (
    "Barn,Bell,Orchard,Hollow,Mill Race,Mill Pond,Ox Bow,Hay Rake,Sheep Gate,Plum Tree,Stone Wall,Kiln,Weir,Spring "
    "House,Cooper,Ferry Landing,Park Ridge,Court Yard,Lantern,Apple Loft,Grange,Drover"
)
_NOUNS = _NOUNS_TEXT.split(",")
_SAINTS = ("Saint Orrin", "Saint Ebba", "Mount Tansy", "Mount Verrel", "Saint Corwen", "Fort Wether")
_PLAIN = ("West", "Northlake", "Broadlea Park", "Harrier's Rest", "Glen Loop", "Southern Cross")
_ORDINALS = ("1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th", "9th", "10th", "11th", "12th")


@dataclass(frozen=True, slots=True)
class StreetName:
    """A street's name in its parts; any but `stem` may be empty."""

    stem: str
    suffix: str
    before: str = ""
    after: str = ""

    @property
    def text(self) -> str:
        """The name as the county prints it, for example ``N Tallow Ave`` or ``Withy Ct W``."""
        return " ".join(part for part in (self.before, self.stem, self.suffix, self.after) if part)


@dataclass(frozen=True, slots=True)
class Address:
    """A house number on a street, and the unit where one parcel holds two homes."""

    number: int
    street: StreetName
    unit: str = ""

    @property
    def base(self) -> str:
        """The address of the parcel, without a unit."""
        return f"{self.number} {self.street.text}"

    @property
    def text(self) -> str:
        """The address of the home."""
        return f"{self.base} Unit {self.unit}" if self.unit else self.base

    def with_unit(self, unit: str) -> Address:
        """The same house number, another unit."""
        return replace(self, unit=unit)


class NameBook:
    """Draws street names, each used once, from one stream of random numbers."""

    def __init__(self, rng: np.random.Generator) -> None:
        self._rng = rng
        self._used: set[str] = set()
        self._stems: set[str] = set()
        self._last: str = ""
        self._specials = [*_SAINTS, *_PLAIN]

    def stem(self) -> str:
        """A stem not used before; now and then the near twin of the one drawn before it."""
        rng = self._rng
        if self._last and rng.random() < 0.22:
            twin = _twin(self._last)
            if twin and twin not in self._stems:
                return self._take(twin)
        for _ in range(400):
            kind = rng.random()
            if kind < 0.2:
                candidate = str(rng.choice(_FIRST))
            elif kind < 0.7:
                ending = TWIN_ENDINGS[int(rng.integers(len(TWIN_ENDINGS)))]
                candidate = str(rng.choice(_FIRST)) + ending[int(rng.integers(2))]
            elif kind < 0.92:
                candidate = f"{rng.choice(_ADJECTIVES)} {rng.choice(_NOUNS)}"
            elif self._specials:
                candidate = self._specials.pop(int(rng.integers(len(self._specials))))
            else:
                continue
            if candidate not in self._stems:
                return self._take(candidate)
        # Very large communities run out of short stems: join two of them.
        while True:
            candidate = f"{rng.choice(_FIRST)} {rng.choice(_FIRST)}{TWIN_ENDINGS[int(rng.integers(10))][0]}"
            if candidate not in self._stems:
                return self._take(candidate)

    def _take(self, stem: str) -> str:
        self._stems.add(stem)
        self._last = stem
        return stem

    def name(
        self, klass: str, stem: str | None = None, before: str = "", after: str = "", suffix: str | None = None
    ) -> StreetName:
        """A full name for a street of a class, new to this community."""
        choices = _SUFFIXES_BY_CLASS[klass]
        for _ in range(60):
            chosen = suffix if suffix is not None else choices[int(self._rng.integers(len(choices)))]
            name = StreetName(stem if stem is not None else self.stem(), chosen, before, after)
            if name.text not in self._used:
                self._used.add(name.text)
                return name
            if suffix is not None:
                stem = None
        return self.name(klass, None, before, after, suffix)

    def ordinals(self, count: int) -> list[str] | None:
        """`count` consecutive ordinals not used before, or None when they have run out."""
        free = [o for o in _ORDINALS if o not in self._stems]
        if len(free) < count:
            return None
        for ordinal in free[:count]:
            self._stems.add(ordinal)
        return free[:count]

    def suffix(self, klass: str, other_than: str = "") -> str:
        """A suffix that suits a class of street."""
        choices = [s for s in _SUFFIXES_BY_CLASS[klass] if s != other_than]
        return choices[int(self._rng.integers(len(choices)))]

    def outsider(self) -> StreetName:
        """A name that belongs to no street here and resembles none (for addresses of no home)."""
        number = int(self._rng.integers(21, 99))
        return StreetName(f"County Highway {'ABCEFGHJKM'[number % 10]}{'XYZ'[number % 3]}", "")


def _twin(stem: str) -> str:
    for one, other in TWIN_ENDINGS:
        if stem.endswith(one) and len(stem) > len(one):
            return stem[: -len(one)] + other
        if stem.endswith(other) and len(stem) > len(other):
            return stem[: -len(other)] + one
    return ""
