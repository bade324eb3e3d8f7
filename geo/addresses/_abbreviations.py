"""The postal tables: street suffixes, unit designators, directionals, ordinals.

The rows are in ``postal_abbreviations.csv`` beside this file; its head names the
source (USPS Publication 28, Appendices B, C1, C2).
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from importlib import resources
from types import MappingProxyType

__all__ = [
    "DIRECTIONS",
    "ORDINALS",
    "ORDINAL_WORDS",
    "SPELLED",
    "SPELLED_SUFFIX",
    "STANDING_UNITS",
    "SUFFIXES",
    "SUFFIX_WORDS",
    "UNITS",
]


def _rows() -> list[dict[str, str]]:
    text = resources.files(__package__).joinpath("postal_abbreviations.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


def _table(column: str, *kinds: str) -> Mapping[str, str]:
    return MappingProxyType({row["word"]: row[column] for row in _ROWS if row["kind"] in kinds})


_ROWS = _rows()

SUFFIXES = _table("standard", "suffix")
"""Every way to write a street suffix -> its standard abbreviation (AVENUE, AV, AVE -> AVE)."""
SUFFIX_WORDS = _table("primary", "suffix")
"""Every way to write a street suffix -> the word in full (AV -> AVENUE), used inside a street's name."""
SPELLED_SUFFIX = MappingProxyType({row["standard"]: row["primary"] for row in _ROWS if row["kind"] == "suffix"})
"""Standard suffix abbreviations -> the word in full (AVE -> AVENUE)."""
UNITS = _table("standard", "unit")
"""Unit designators that need an identifier after them (APARTMENT -> APT)."""
STANDING_UNITS = _table("standard", "place")
"""Unit designators that stand alone (REAR, BASEMENT -> BSMT)."""
DIRECTIONS = _table("standard", "direction")
"""Directionals (NORTHWEST -> NW)."""
SPELLED = MappingProxyType({row["standard"]: row["primary"] for row in _ROWS if row["kind"] == "direction"})
"""Directional abbreviations -> the word, used inside a street's name."""


def _ordinals() -> dict[str, str]:
    """FIRST -> 1ST ... TWENTYFIRST -> 21ST ... NINETYNINTH -> 99TH (one token, no hyphen)."""
    ones = ["FIRST", "SECOND", "THIRD", "FOURTH", "FIFTH", "SIXTH", "SEVENTH", "EIGHTH", "NINTH"]
    teens = [
        "TENTH",
        "ELEVENTH",
        "TWELFTH",
        "THIRTEENTH",
        "FOURTEENTH",
        "FIFTEENTH",
        "SIXTEENTH",
        "SEVENTEENTH",
        "EIGHTEENTH",
        "NINETEENTH",
    ]
    tens = ["TWENTY", "THIRTY", "FORTY", "FIFTY", "SIXTY", "SEVENTY", "EIGHTY", "NINETY"]
    endings = ["ST", "ND", "RD", *["TH"] * 6]
    table = {word: f"{i}{ending}" for i, (word, ending) in enumerate(zip(ones, endings, strict=True), 1)}
    table |= {word: f"{i}TH" for i, word in enumerate(teens, 10)}
    for ten, word in enumerate(tens, 2):
        table[word[:-1] + "IETH"] = f"{ten}0TH"
        table |= {word + one: f"{ten}{i}{ending}" for i, (one, ending) in enumerate(zip(ones, endings, strict=True), 1)}
    table["HUNDREDTH"] = "100TH"
    return table


ORDINALS = MappingProxyType(_ordinals())
"""Ordinal words of one token -> figures."""
ORDINAL_WORDS = MappingProxyType({figures: word for word, figures in ORDINALS.items()})
"""Figures -> the ordinal word of one token (21ST -> TWENTYFIRST)."""
