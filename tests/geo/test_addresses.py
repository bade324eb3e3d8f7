"""Typed addresses: taken apart, normalized, and joined to a home, or honestly not."""

from __future__ import annotations

import random
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from geo.addresses import AddressBook, Match, MatchStatus, expand, is_box, parse

CERTAIN, DOUBTFUL, NONE = MatchStatus.CERTAIN, MatchStatus.DOUBTFUL, MatchStatus.NONE

PLACES = [
    ("tallow-a", "412 TALLOW CT UNIT A"),
    ("tallow-b", "412 TALLOW CT UNIT B"),
    ("tallow-14", "414 TALLOW CT"),
    ("n-quill", "20 N QUILL ST"),
    ("s-quill", "20 S QUILL ST"),
    ("n-quill-22", "22 N QUILL ST"),
    ("burdock-st", "7 BURDOCK ST"),
    ("burdock-ln", "7 BURDOCK LN"),
    ("burdock-ln-9", "9 BURDOCK LN"),
    ("pellow", "118 E PELLOWMERE DR"),
    ("marrow", "31 MARROW LN"),
    ("marlow", "31 MARLOW LN"),
    ("marlow-33", "33 MARLOW LN"),
    ("half", "12 1/2 HARTSEDGE AVE"),
    ("whole", "12 HARTSEDGE AVE"),
    ("fifth", "640 5TH AVE NW"),
    ("ridge", "800 QUIET PARK RIDGE CIR"),
]


@pytest.fixture(scope="module")
def book() -> AddressBook:
    """Seventeen invented homes with a trap or two on every street."""
    return AddressBook(PLACES)


def offered(match: Match) -> set[str]:
    """The ids that a match shows to a person."""
    return {candidate.place_id for candidate in match.candidates}


# ---- taking an address apart ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("12 1/2 Oak St", "12 1/2 OAK ST"),
        ("12½ Oak Street", "12 1/2 OAK ST"),
        ("1204-B Oak St", "1204-B OAK ST"),
        ("1204B Oak St", "1204-B OAK ST"),
        ("1204 B Oak St", "1204-B OAK ST"),
        ("1204 B St", "1204 B ST"),
        ("Unit 4, 12 Oak St", "12 OAK ST UNIT 4"),
        ("#4 104 Oak St", "104 OAK ST # 4"),
        ("104 Oak St, Apt. 4", "104 OAK ST APT 4"),
        ("104 Oak St Apartment B-2", "104 OAK ST APT B-2"),
        ("104 Oak St (B)", "104 OAK ST UNIT B"),
        ("104 Oak St rear", "104 OAK ST REAR"),
        ("104 West Ln", "104 WEST LN"),
        ("104 Sw Pkwy", "104 SW PKWY"),
        ("104 S West St", "104 S WEST ST"),
        ("104 N. W. 7th Ave.", "104 NW 7TH AVE"),
        ("104 7th Ave North West", "104 7TH AVE NW"),
        ("104 St. Charles Ave", "104 SAINT CHARLES AVE"),
        ("104 N St James Pl", "104 N SAINT JAMES PL"),
        ("104 Court Street", "104 COURT ST"),
        ("104 Avenue B", "104 AVENUE B"),
        ("104 First Street", "104 1ST ST"),
        ("104 Twenty-First St", "104 21ST ST"),
        ("5 O'Neil Ct", "5 ONEIL CT"),
        ("5 O Neil Court", "5 ONEIL CT"),
        ("104 Sr 9", "104 STATE ROUTE 9"),
        ("104 State Rte 9 N", "104 STATE ROUTE 9 N"),
        ("104 Co Rd 12", "104 COUNTY ROAD 12"),
        ("1O4 Oak St", "104 OAK ST"),
        ("104Oak St", "104 OAK ST"),
        ("104 - Oak St", "104 OAK ST"),
        ("00104 Oak St", "104 OAK ST"),
        ("104 oak   st .", "104 OAK ST"),
        ("104 Oak\xa0St", "104 OAK ST"),
        ("104 Oak St\nAnytown, WI 53000", "104 OAK ST"),
        ("104 Oak St, Anytown, Wisconsin 53000-0000", "104 OAK ST"),
        ("104 Oak St Anytown WI 53000", "104 OAK ST"),
        ("PO Box 12, 104 Oak St", "104 OAK ST"),
        ("we live at 104 Oak St", "104 OAK ST"),
        ("Oak St 104", "104 OAK ST"),
        ("104 Oak St (green door)", "104 OAK ST"),
        ("W7N1234 Oak St", "W7N1234 OAK ST"),
    ],
)
def test_parse_odd_forms_are_read_as_a_person_would(typed: str, shown: str) -> None:
    """Every form that people and counties write comes out in one spelling."""
    assert parse(typed).display() == shown


@pytest.mark.parametrize(
    ("line", "homes"),
    [
        ("101 TO 113 MAIN ST", ["101 MAIN ST", "113 MAIN ST"]),
        ("183 OAK LN UNIT A & B", ["183 OAK LN UNIT A", "183 OAK LN UNIT B"]),
        ("193 A TO 193 B OAK LN", ["193-A OAK LN", "193-B OAK LN"]),
        ("104 OAK LN", ["104 OAK LN"]),
    ],
)
def test_expand_a_county_line_for_several_homes_names_each(line: str, homes: list[str]) -> None:
    """One record of a county's file can hold several homes; none of them is lost."""
    assert [address.display() for address in expand(line)] == homes


def test_is_box_only_for_a_box_without_a_street() -> None:
    """A post office box beside a street address does not hide the street."""
    assert is_box("P.O. Box 12")
    assert not is_box("PO Box 12, 104 Oak St")
    assert not is_box("104 Boxwood St")


def test_key_spaces_inside_a_name_do_not_count() -> None:
    """Lake View and Lakeview are one street, whoever wrote it."""
    assert parse("5 Lake View Dr").key() == parse("5 lakeview drive").key()


# ---- what a typed address means --------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "place_id"),
    [
        ("412 tallow court, unit a", "tallow-a"),
        ("412-B Tallow Ct", "tallow-b"),
        ("Apt B, 412 Tallow Ct", "tallow-b"),
        ("414 Tallow", "tallow-14"),
        ("20 South Quill Street", "s-quill"),
        ("7 Burdock Lane", "burdock-ln"),
        ("118 East Pelowmere Drive", "pellow"),
        ("118 Pellowmere", "pellow"),
        ("31 Marlow Ln, Anytown, WI 53000", "marlow"),
        ("12 1/2 Hartsedge Avenue", "half"),
        ("12 Hartsedge Av", "whole"),
        ("640 Fifth Avenue North West", "fifth"),
        ("800 Quiet Park Ridge", "ridge"),
    ],
)
def test_match_an_address_that_means_one_home_is_certain(book: AddressBook, typed: str, place_id: str) -> None:
    """Abbreviations, misspelt streets and left-out parts do not stand in the way where nothing else fits."""
    match = book.match(typed)
    assert (match.status, match.place_id) == (CERTAIN, place_id), match


@pytest.mark.parametrize(
    ("typed", "must_offer"),
    [
        pytest.param("412 Tallow Ct", {"tallow-a", "tallow-b"}, id="unit missing where there are two"),
        pytest.param("20 Quill St", {"n-quill", "s-quill"}, id="direction missing where there are two"),
        pytest.param("7 Burdock", {"burdock-st", "burdock-ln"}, id="street type missing where there are two"),
        pytest.param("31 Marow Ln", {"marrow", "marlow"}, id="a spelling between two streets"),
        pytest.param("416 Tallow Ct", {"tallow-14"}, id="a number one slip away"),
        pytest.param("24 N Quill St", {"n-quill-22"}, id="a number one slip away, with a direction"),
        pytest.param("9 Burdock St", {"burdock-ln-9"}, id="another street of the same name where no such number is"),
        pytest.param("22 S Quill St", {"n-quill-22"}, id="the other direction's number"),
        pytest.param("33 Marrow Ln", {"marlow-33"}, id="a street that exists and has no such number"),
        pytest.param("412 Tallow Ct Unit C", {"tallow-a", "tallow-b"}, id="a unit that is not there"),
    ],
)
def test_match_more_than_one_meaning_asks_a_person(book: AddressBook, typed: str, must_offer: set[str]) -> None:
    """Where two homes compete, or one part contradicts, the tool does not choose; it offers."""
    match = book.match(typed)
    assert match.status is DOUBTFUL, match
    assert match.place_id is None
    assert must_offer <= offered(match)
    assert match.why.endswith(".")


@pytest.mark.parametrize("typed", ["", "   ", "???", "PO Box 12", "9999 Fennimark Blvd", "blue door", "5151"])
def test_match_what_means_no_home_is_none(book: AddressBook, typed: str) -> None:
    """No home is invented for a line that names none."""
    match = book.match(typed)
    assert (match.status, match.place_id) == (NONE, None), match
    assert match.why.endswith(".")


def test_match_same_address_twice_on_file_is_never_certain() -> None:
    """Two records with one address: the tool cannot know which, and says so."""
    match = AddressBook([("one", "5 OAK ST"), ("two", "5 OAK ST")]).match("5 Oak St")
    assert match.status is DOUBTFUL
    assert offered(match) == {"one", "two"}


def test_match_candidates_are_best_first_and_explained(book: AddressBook) -> None:
    """A volunteer reads the likeliest home first, and what differs."""
    candidates = book.match("416 Tallow Ct").candidates
    assert all(first.score >= second.score for first, second in pairwise(candidates))
    assert all(c.why and c.address for c in candidates)


def test_match_all_answers_in_order_and_tells_progress(book: AddressBook) -> None:
    """The import's rows keep their places; the last call of progress says all are done."""
    told: list[tuple[int, int]] = []
    typed = ["414 Tallow Ct", "nowhere", "7 Burdock Ln"] * 150
    matches = book.match_all(typed, progress=lambda done, of: told.append((done, of)))
    assert [m.typed for m in matches] == typed
    assert [m.place_id for m in matches[:3]] == ["tallow-14", None, "burdock-ln"]
    assert told[-1] == (450, 450)


def test_match_an_empty_book_has_no_home() -> None:
    """Before parcels are loaded nothing breaks."""
    book = AddressBook([])
    assert book.match("5 Oak St").status is NONE
    assert book.suggest("5 Oak") == []


# ---- typing on a form ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("412 T", {"tallow-a", "tallow-b"}),
        ("412 tal", {"tallow-a", "tallow-b"}),
        ("118 pell", {"pellow"}),
        ("640 5", {"fifth"}),
        ("640 5th", {"fifth"}),
        ("118 e pellowmere drive", {"pellow"}),
    ],
)
def test_suggest_the_beginning_of_an_address_finds_it(book: AddressBook, typed: str, first: set[str]) -> None:
    """A few letters are enough, and the right home stands first."""
    found = [c.place_id for c in book.suggest(typed)]
    assert set(found[: len(first)]) == first


def test_suggest_is_limited_and_never_empty_handed_on_a_number(book: AddressBook) -> None:
    """The limit holds; a number alone lists the homes that begin with it."""
    assert len(book.suggest("1", limit=2)) <= 2
    assert {c.place_id for c in book.suggest("412")} >= {"tallow-a", "tallow-b"}
    assert book.suggest("") == []


# ---- properties ------------------------------------------------------------------------------

NAMES = [
    "TALLOW",
    "TALLOWS",
    "QUILL",
    "QUIET PARK",
    "MARROW",
    "MARLOW",
    "HARTSEDGE",
    "5TH",
    "15TH",
    "SAINT CORWEN",
    "WEST",
]
TYPES = ["ST", "AVE", "CT", "LN", "CIR", "RDG", "LOOP", ""]
DIRECTIONS = ["", "", "N", "S", "E", "NW"]


@st.composite
def addresses(draw: st.DrawFn) -> str:
    """One address as a county writes it."""
    before, after = draw(st.sampled_from(DIRECTIONS)), draw(st.sampled_from(DIRECTIONS))
    unit = draw(st.sampled_from(["", "", "", "UNIT A", "UNIT B", "UNIT 12"]))
    number = str(draw(st.integers(1, 99_999)))
    parts = [number, before, draw(st.sampled_from(NAMES)), draw(st.sampled_from(TYPES)), "" if before else after, unit]
    return " ".join(p for p in parts if p)


neighborhoods = st.lists(addresses(), min_size=1, max_size=25, unique=True).map(
    lambda lines: [(f"home {i}", line) for i, line in enumerate(lines)]
)
relaxed = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@given(st.text(max_size=120) | st.from_regex(r"[0-9A-Za-z#,.&/' \-]{0,60}", fullmatch=True))
@settings(max_examples=500, deadline=None)
def test_parse_and_match_never_raise_whatever_is_typed(typed: str) -> None:
    """A resident may type anything: the answer is always an address and a match."""
    assert parse(typed).raw == typed
    assert len(expand(typed)) >= 1
    match = AddressBook(PLACES).match(typed) if len(typed) < 60 else None
    assert match is None or (match.place_id is not None) == (match.status is CERTAIN)


@given(addresses())
@relaxed
def test_parse_its_own_writing_changes_nothing(line: str) -> None:
    """Normalization is idempotent: what it wrote, it reads back the same."""
    once = parse(line)
    again = parse(once.display())
    assert again.display() == once.display()
    assert again.key() == once.key()


@given(addresses(), st.randoms(use_true_random=False))
@relaxed
def test_parse_case_points_and_spaces_do_not_count(line: str, luck: random.Random) -> None:
    """Capitals, doubled spaces, a stop at the end and blanks around change nothing."""
    noisy = "".join(c.lower() if luck.random() < 0.5 else c for c in line).replace(" ", " " * luck.randint(1, 3))
    assert parse(f"  {noisy} .").key() == parse(line).key()


@given(neighborhoods)
@relaxed
def test_match_a_homes_own_address_is_certain_or_an_honest_tie(places: list[tuple[str, str]]) -> None:
    """The county's own spelling finds its home, unless another home is written the same."""
    book = AddressBook(places)
    keys = [parse(line).key() for _, line in places]
    houses = [parse(line).house_key() for _, line in places]
    for (place_id, line), key, house in zip(places, keys, houses, strict=True):
        match = book.match(line)
        tie = keys.count(key) > 1 or (not parse(line).unit_id() and houses.count(house) > 1)
        if tie:
            assert match.status is DOUBTFUL
            assert place_id in offered(match)
        else:
            assert (match.status, match.place_id) == (CERTAIN, place_id)


@given(neighborhoods, addresses(), st.randoms(use_true_random=False))
@relaxed
def test_match_the_order_of_places_does_not_matter(
    places: list[tuple[str, str]], typed: str, luck: random.Random
) -> None:
    """The same homes in another order give the same match, candidates and all."""
    shuffled = places.copy()
    luck.shuffle(shuffled)
    assert AddressBook(places).match(typed) == AddressBook(shuffled).match(typed)
    assert AddressBook(places).suggest(typed) == AddressBook(shuffled).suggest(typed)


@given(neighborhoods, st.data())
@relaxed
def test_match_a_changed_digit_never_yields_the_old_house(places: list[tuple[str, str]], data: st.DataObject) -> None:
    """A wrong number is a wrong house: it is never corrected without asking."""
    place_id, line = data.draw(st.sampled_from(places))
    number, rest = line.split(" ", 1)
    at = data.draw(st.integers(0, len(number) - 1))
    digit = data.draw(st.sampled_from("0123456789"))
    changed = number[:at] + digit + number[at + 1 :]
    assume(changed.lstrip("0") not in ("", number))
    assert AddressBook(places).match(f"{changed} {rest}").place_id != place_id


@given(neighborhoods, addresses())
@relaxed
def test_match_is_never_certain_of_a_home_with_another_number(places: list[tuple[str, str]], typed: str) -> None:
    """Whatever is typed, a certain match has the number that was typed."""
    match = AddressBook(places).match(typed)
    if match.status is CERTAIN:
        own = dict(places)[match.place_id or ""]
        assert parse(own).number == parse(typed).number
