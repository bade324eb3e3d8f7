"""Joins that must never be made without asking: each was once made."""

from __future__ import annotations

from geo.addresses import AddressBook


def test_numbered_streets_are_not_misspellings_of_each_other() -> None:
    """106th is no slip for 109th: figures in a street's name are as strict as a house number."""
    book = AddressBook([("a", "43116 109TH AVE E"), ("b", "5 OAK ST")])
    assert book.match("43116 106th Ave E").place_id is None


def test_a_unit_left_out_is_doubtful_where_only_one_unit_is_on_file() -> None:
    """Unit B alone in the file still says that there is a unit A: nobody is joined to B without naming it."""
    book = AddressBook([("b", "1020 STONE RD UNIT B"), ("c", "16 OAK ST")])
    assert book.match("1020 Stone Rd").place_id is None
