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


def test_a_lettered_street_is_no_misspelling_of_the_next() -> None:
    """Avenue B and Avenue C differ by one letter of seven, and are two streets."""
    book = AddressBook([("c", "143 AVENUE C"), ("d", "5 OAK ST")])
    assert book.match("143 Avenue B").place_id is None


def test_another_street_type_is_another_street_however_long_the_name() -> None:
    """Lane and Place are two streets, though two letters of twenty are a small share of a long name."""
    book = AddressBook([("p", "7 QUIET MEADOW SPRINGS PL"), ("d", "5 OAK ST")])
    assert book.match("7 Quiet Meadow Springs Ln").place_id is None


def test_a_unit_where_the_home_has_none_is_doubtful_when_the_street_type_is_missing_too() -> None:
    """Teaseldell, A is perhaps a duplex on a street of that name that is not on file."""
    book = AddressBook([("h", "416 TEASELDELL CIR"), ("d", "5 OAK ST")])
    assert book.match("416 Teaseldell, A").place_id is None
    assert book.match("416 Teaseldell Cir, Apt A").place_id == "h"


def test_a_spelling_between_two_streets_is_doubtful_even_where_one_of_them_has_the_number() -> None:
    """Dele is as near to Dell as to Dale; the number is not proof enough."""
    book = AddressBook([("dale", "1067 DALE DR"), ("dell", "12 DELL DR")])
    assert book.match("1067 Dele Dr").place_id is None


def test_a_figure_typed_as_a_letter_is_read_only_where_no_home_fits_the_letter() -> None:
    """12L is unit L of number 12 where number 12 exists, and number 121 only where it does not."""
    both = AddressBook([("12", "12 OAK ST"), ("121", "121 OAK ST")])
    assert both.match("12l Oak St").place_id != "121"
    assert AddressBook([("121", "121 OAK ST"), ("d", "5 ELM ST")]).match("12l Oak St").place_id == "121"
