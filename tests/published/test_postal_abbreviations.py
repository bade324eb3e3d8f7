"""USPS Publication 28, Postal Addressing Standards: abbreviations and the rules for them.

The rows below were written down from memory of the publication (edition not
verified), apart from the package's own table: they catch a slip in the table.
"""

from __future__ import annotations

import pytest

from geo.addresses import parse

# Appendix C1: (the commonly used ways to write it, the standard abbreviation). From memory.
C1 = [
    ("ALLEE ALLEY ALLY ALY", "ALY"),
    ("ANEX ANNEX ANNX ANX", "ANX"),
    ("AV AVE AVEN AVENU AVENUE AVN AVNUE", "AVE"),
    ("BAYOO BAYOU", "BYU"),
    ("BLUF BLUFF BLF", "BLF"),
    ("BLVD BOUL BOULEVARD BOULV", "BLVD"),
    ("CIR CIRC CIRCL CIRCLE CRCL CRCLE", "CIR"),
    ("COURT CT", "CT"),
    ("COVE CV", "CV"),
    ("CRES CRESCENT CRSENT CRSNT", "CRES"),
    ("CROSSING CRSSNG XING", "XING"),
    ("DR DRIV DRIVE DRV", "DR"),
    ("EXT EXTENSION EXTN EXTNSN", "EXT"),
    ("HIGHWAY HIGHWY HIWAY HIWY HWAY HWY", "HWY"),
    ("LANE LN", "LN"),
    ("LOOP LOOPS", "LOOP"),
    ("PARKWAY PARKWY PKWAY PKWY PKY", "PKWY"),
    ("PL PLACE", "PL"),
    ("POINT PT", "PT"),
    ("RDG RDGE RIDGE", "RDG"),
    ("RD ROAD", "RD"),
    ("SQ SQR SQRE SQU SQUARE", "SQ"),
    ("STREET STRT ST STR", "ST"),
    ("TER TERR TERRACE", "TER"),
    ("TRACE TRACES TRCE", "TRCE"),
    ("TRAIL TRAILS TRL TRLS", "TRL"),
    ("TRNPK TURNPIKE TURNPK", "TPKE"),
    ("VALLEY VALLY VLLY VLY", "VLY"),
    ("VIEW VW", "VW"),
    ("WAY WY", "WAY"),
]
# Appendix C2: designators that need a number, and those that stand alone.
C2_NUMBERED = [
    ("APARTMENT", "APT"),
    ("BUILDING", "BLDG"),
    ("DEPARTMENT", "DEPT"),
    ("FLOOR", "FL"),
    ("HANGAR", "HNGR"),
    ("LOT", "LOT"),
    ("PIER", "PIER"),
    ("ROOM", "RM"),
    ("SLIP", "SLIP"),
    ("SPACE", "SPC"),
    ("STOP", "STOP"),
    ("SUITE", "STE"),
    ("TRAILER", "TRLR"),
    ("UNIT", "UNIT"),
]
C2_ALONE = [
    ("BASEMENT", "BSMT"),
    ("FRONT", "FRNT"),
    ("LOBBY", "LBBY"),
    ("LOWER", "LOWR"),
    ("OFFICE", "OFC"),
    ("PENTHOUSE", "PH"),
    ("REAR", "REAR"),
    ("SIDE", "SIDE"),
    ("UPPER", "UPPR"),
]
DIRECTIONS = [
    ("NORTH", "N"),
    ("EAST", "E"),
    ("SOUTH", "S"),
    ("WEST", "W"),
    ("NORTHEAST", "NE"),
    ("SOUTHEAST", "SE"),
    ("SOUTHWEST", "SW"),
    ("NORTHWEST", "NW"),
]


@pytest.mark.parametrize(("ways", "standard"), C1)
def test_suffixes_against_publication_28_appendix_c1(ways: str, standard: str) -> None:
    """Every common way to write a suffix becomes its standard abbreviation."""
    assert {standard} == {parse(f"100 ZEBRA {way}").suffix for way in ways.split()}


@pytest.mark.parametrize(("word", "standard"), C2_NUMBERED)
def test_numbered_units_against_publication_28_appendix_c2(word: str, standard: str) -> None:
    """A designator with a number is a unit; the identifier is what tells homes apart."""
    address = parse(f"100 ZEBRA ST {word} 4")
    assert f"{standard} 4" == address.unit
    assert address.unit_id() == "4"


@pytest.mark.parametrize(("word", "standard"), C2_ALONE)
def test_standing_units_against_publication_28_appendix_c2(word: str, standard: str) -> None:
    """A designator that stands alone needs no number."""
    assert standard == parse(f"100 ZEBRA ST {word}").unit


@pytest.mark.parametrize(("word", "standard"), DIRECTIONS)
def test_directionals_against_publication_28_appendix_b(word: str, standard: str) -> None:
    """Directionals are abbreviated before and after the name."""
    assert standard == parse(f"100 {word} ZEBRA ST").predirection
    assert standard == parse(f"100 ZEBRA ST {word}").postdirection


def test_two_suffixes_against_publication_28_section_234_2() -> None:
    """Of two suffix words only the second is abbreviated: "789 MAIN AVENUE DR"."""
    assert parse("789 Main Av Drive").display() == "789 MAIN AVENUE DR"
    assert parse("789 Main Avenue Dr").display() == "789 MAIN AVENUE DR"


def test_pound_sign_against_publication_28_section_213() -> None:
    """The pound sign is kept where the designator is not known, and means the same unit."""
    assert parse("100 Zebra St #4").unit == "# 4"
    assert parse("100 Zebra St #4").key() == parse("100 Zebra St Apt 4").key()


def test_highways_against_publication_28_appendix_f() -> None:
    """Highways are spelled out, whichever way they are typed."""
    for typed in ("SR 39", "ST RT 39", "State Route 39", "State Rte 39", "SR39", "State Highway 39"):
        assert parse(f"100 {typed}").street() == "STATE ROUTE 39"
    for typed in ("CR 441", "Co Rd 441", "County Road 441", "Cnty Rd 441"):
        assert parse(f"100 {typed}").street() == "COUNTY ROAD 441"
