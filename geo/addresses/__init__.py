"""Addresses as people and counties write them, and which place one of them means."""

from geo.addresses._match import AddressBook, Candidate, Differs, Doubt, Match, MatchStatus
from geo.addresses._parse import Address, expand, is_box, mend_letters, parse, readable

__all__ = [
    "Address",
    "AddressBook",
    "Candidate",
    "Differs",
    "Doubt",
    "Match",
    "MatchStatus",
    "expand",
    "is_box",
    "mend_letters",
    "parse",
    "readable",
]
