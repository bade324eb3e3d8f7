"""Bids read from a spreadsheet, with everything that spreadsheets do to them."""

from __future__ import annotations

import csv
from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from survey_app.purchase.bid_sheet import COLUMNS, BidSheet, UnusableBidFile, read_bids, template, write_mend
from survey_app.purchase.bids import TANK_KINDS, Offered, StepKind, check_bid
from survey_app.purchase.money import read_count, read_usd
from survey_app.records import HeaterKind

TODAY = date(2026, 11, 25)
GOOD = [
    ["A", "price step", "", "1", "$1,275.00"],
    ["A", "price step", "", "10", "1.150,00 €"],
    ["A", "price step", "", "20+", "1 099,50"],
    ["A", "step kind", "incremental", "", ""],
    ["A", "mobilization", "", "", "$150 per day"],
    ["A", "units per week", "12", "", ""],
    ["A", "valid until", "2027-06-30", "", ""],
    ["A", "labor warranty", "24 months", "", ""],
    ["A", "license", "X 123", "", ""],
    ["A", "license seen on", "2026-11-02", "", ""],
    ["A", "insurance until", "2027-12-31", "", ""],
    ["A", "tank", "included", "", ""],
    ["A", "labor", "yes", "", ""],
    ["A", "pan", "extra", "", "$45"],
    ["A", "sales tax", "not included", "", ""],
]


def write(path: Path, rows: list[list[str]], *, header: tuple[str, ...] = COLUMNS, sep: str = ",") -> Path:
    """A csv file of bids."""
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, delimiter=sep).writerows([list(header), *rows])
    return path


def read(tmp_path: Path, rows: list[list[str]]) -> BidSheet:
    """The sheet read from such a file."""
    return read_bids(write(tmp_path / "bids.csv", rows), as_of=TODAY)


def test_good_bid_is_read_with_all_its_terms(tmp_path: Path) -> None:
    """Currency signs, three kinds of thousands separators, other names of items."""
    sheet = read(tmp_path, GOOD)
    (bid,) = sheet.bids
    assert not sheet.rejected
    assert [(step.from_homes, step.price_usd) for step in bid.steps] == [(1, 1275.0), (10, 1150.0), (20, 1099.5)]
    assert (bid.step_kind, bid.mobilization_usd_per_day) == (StepKind.INCREMENTAL, 150.0)
    assert (bid.units_per_week, bid.valid_until, bid.labor_warranty_years) == (12, date(2027, 6, 30), 2.0)
    assert (bid.license_number, bid.license_seen_on) == ("X 123", date(2026, 11, 2))
    assert (bid.offer("drain pan").offered, bid.offer("drain pan").extra_usd) == (Offered.EXTRA, 45.0)
    assert bid.offer("tank").offered is bid.offer("labor").offered is Offered.INCLUDED
    assert bid.offer("sales tax").offered is Offered.MISSING
    assert any("taken as US dollars" in note for note in sheet.notes)
    assert any("counted as missing" in note for note in sheet.notes)


@pytest.mark.parametrize(
    ("written", "kinds"),
    [
        ("Heat pump", {HeaterKind.HEAT_PUMP_STORAGE}),
        ("tankless", {HeaterKind.TANKLESS}),
        ("gas storage, electric storage", set(TANK_KINDS)),
        ("gas tank and electric tank", set(TANK_KINDS)),
        ("electric", {HeaterKind.ELECTRIC_STORAGE}),
        ("gas", {HeaterKind.GAS_STORAGE, HeaterKind.UNKNOWN}),
    ],
)
def test_the_sheet_says_for_which_heaters_the_price_is(tmp_path: Path, written: str, kinds: set[HeaterKind]) -> None:
    """As people write it; a kind nobody knows counts as gas, so it goes with gas alone."""
    sheet = read(tmp_path, [*GOOD, ["A", "heater kinds", written, "", ""]])
    (bid,) = sheet.bids
    assert set(bid.kinds) == kinds
    assert not any("for which heaters" in note for note in sheet.notes)


def test_a_kind_of_heater_nobody_understands_sets_the_bid_aside(tmp_path: Path) -> None:
    """A price for who knows what is compared with nothing; where the row is missing, tanks are assumed and said."""
    sheet = read(tmp_path, [*GOOD, ["A", "heater kinds", "gas, steam engine", "", ""]])
    assert sheet.bids == ()
    assert any('"steam engine" is no kind of heater' in p.what for p in sheet.problems)
    silent = read(tmp_path, GOOD)
    assert silent.bids[0].kinds == TANK_KINDS
    assert any("does not say for which heaters" in note for note in silent.notes)


def test_workbook_and_semicolons_read_the_same(tmp_path: Path) -> None:
    """A workbook with numbers and dates as cells, and a csv with semicolons and columns moved, give the same bid."""
    (expected,) = read(tmp_path, GOOD).bids
    book = openpyxl.Workbook()
    book.active.append(["Offers for the board"])
    book.active.append(["Contractor", "Item", "Answer", "From", "Price per home"])
    typed = {"$1,275.00": 1275, "2027-06-30": datetime(2027, 6, 30), "1 099,50": 1099.5, "12": 12}
    for row in GOOD:
        book.active.append([typed.get(cell, cell) or None for cell in row])
    book.save(tmp_path / "bids.xlsx")
    assert read_bids(tmp_path / "bids.xlsx", as_of=TODAY).bids == (expected,)
    moved = write(
        tmp_path / "semicolons.csv",
        [[row[4], row[0], row[3], row[1], row[2]] for row in GOOD],
        header=("price", "contractor", "from homes", "item", "answer"),
        sep=";",
    )
    assert read_bids(moved, as_of=TODAY).bids == (expected,)


STEP_KIND = ["B", "step kind", "all units", "", ""]


@pytest.mark.parametrize(
    ("rows", "row", "column", "words"),
    [
        ([["B", "price step", "", "1", "-900"]], 2, "price", "is negative"),
        ([["B", "price step", "", "1", "(900)"]], 2, "price", "is negative"),
        ([["B", "price step", "", "1", "call us"]], 2, "price", "cannot be read as a price"),
        ([["B", "price step", "", "1", ""]], 2, "price", "missing"),
        ([["B", "price step", "", "1", "8%"]], 2, "price", "is a share"),
        ([["B", "price step", "", "1", "0"]], 2, "price", "no heater costs"),
        ([["B", "price step", "", "many", "900"]], 2, "from homes", "cannot be read as a number of homes"),
        ([["B", "price step", "", "0", "900"]], 2, "from homes", "begins at 0 homes"),
        (
            [["B", "price step", "", "1", "900"], ["B", "price step", "", "1", "950"], STEP_KIND],
            3,
            "from homes",
            "Row 2",
        ),
        (
            [["B", "price step", "", "1-10", "900"], ["B", "price step", "", "5", "800"], STEP_KIND],
            3,
            "from homes",
            "overlaps",
        ),
        (
            [["B", "price step", "", "1", "900"], ["B", "price step", "", "5", "950"], STEP_KIND],
            3,
            "price",
            "rises from 900.00 to 950.00",
        ),
        ([["B", "price step", "", "1", "900"], ["B", "price step", "", "5", "850"]], 2, "item", "incremental"),
        ([["B", "price step", "", "1", "900"], ["B", "valid until", "2026-01-31", "", ""]], 3, "answer", "expired"),
        ([["B", "price step", "", "1", "900"], ["B", "valid until", "soonish", "", ""]], 3, "answer", "no day"),
        (
            [["B", "price step", "", "1", "900"], ["B", "step kind", "stepwise", "", ""]],
            3,
            "answer",
            "kind of price step",
        ),
        ([["B", "price step", "", "1", "900"], ["B", "minimum per day", "-2", "", ""]], 3, "answer", "no whole number"),
        ([["B", "price step", "", "1", "900"], ["B", "mobilization", "", "", "-5"]], 3, "price", "is negative"),
        ([["B", "prise stepp", "", "5", "900"], ["B", "price step", "", "1", "900"]], 2, "item", "no item of a bid"),
    ],
)
def test_bid_whose_price_cannot_be_trusted_comes_back_whole(
    tmp_path: Path, rows: list[list[str]], row: int, column: str, words: str
) -> None:
    """The problem names file, row, column and remedy; that bid is handed back whole, the good one beside it kept."""
    sheet = read(tmp_path, [*rows, *GOOD])
    assert [bid.contractor for bid in sheet.bids] == ["A"]
    assert len(sheet.rejected) == len(rows)
    (found,) = [one for one in sheet.problems if one.row == row and words in one.what]
    assert found.column == column
    assert found.sentence.startswith(f'bids.csv, row {row}, column "{column}": ')
    assert found.remedy


@pytest.mark.parametrize(
    ("line", "words", "handed_back"),
    [
        (["A", "permit", "perhaps", "", ""], "no answer for permit", True),
        (["A", "permit", "included", "", "75"], "yet has a price", True),
        (["A", "permit", "extra", "", "-75"], "is negative", True),
        (["A", "permit", "extra", "", ""], "extra without a price", False),
        (["A", "garden gnome", "included", "", ""], "no item of a bid", True),
        (["A", "", "included", "", ""], "names no item", True),
        (["", "permit", "included", "", ""], "names no contractor", True),
        (["A", "tank", "missing", "", ""], "already says something else", True),
        (["A", "homes per day", "3-4", "", ""], "no whole number", True),
        (["A", "labor warranty years", "long", "", ""], "already says something else", True),
    ],
)
def test_bad_row_of_a_good_bid_comes_back_alone(tmp_path: Path, line: list[str], words: str, handed_back: bool) -> None:
    """A fault that cannot move the price steps leaves the bid in use."""
    sheet = read(tmp_path, [*GOOD, line])
    assert [bid.contractor for bid in sheet.bids] == ["A"]
    assert any(words in one.what and one.row == len(GOOD) + 2 for one in sheet.problems)
    assert [one.row for one in sheet.rejected] == ([len(GOOD) + 2] if handed_back else [])


def test_same_row_twice_counts_once_and_unsorted_steps_are_put_in_order(tmp_path: Path) -> None:
    """Neither is an error; both are told."""
    sheet = read(tmp_path, [GOOD[2], GOOD[0], GOOD[1], *GOOD[3:], ["a ", "Price Step", "", "1", "1275"]])
    (bid,) = sheet.bids
    assert [step.from_homes for step in bid.steps] == [1, 10, 20]
    assert any("do not stand in order" in note for note in sheet.notes)
    assert any("counted once" in note for note in sheet.notes)


def test_mend_file_comes_back_corrected_onto_what_was_kept(tmp_path: Path) -> None:
    """A corrected row adds to the known bid; a bid handed back whole comes in anew."""
    first = read(tmp_path, [*GOOD, ["A", "permit", "perhaps", "", ""], ["B", "price step", "", "1", "-900"]])
    mend = write_mend(tmp_path / "mend.csv", first)
    text = mend.read_text(encoding="utf-8-sig")
    assert "is negative" in text
    mend.write_text(text.replace("perhaps", "included").replace("'-900", "900"), encoding="utf-8")
    second = read_bids(mend, as_of=TODAY, known=first.bids)
    assert not second.rejected
    a, b = second.bids
    assert a.offer("permit").offered is Offered.INCLUDED
    assert a.steps == first.bids[0].steps
    assert (b.contractor, b.steps[0].price_usd) == ("B", 900.0)


@pytest.mark.parametrize("name", ["bids.csv", "bids.xlsx"])
def test_template_is_read_back_as_empty(tmp_path: Path, name: str) -> None:
    """The template as written holds examples only."""
    sheet = read_bids(template(tmp_path / name)[0], as_of=TODAY)
    assert (sheet.bids, sheet.rejected) == ((), ())
    assert any("example rows" in note for note in sheet.notes)


def test_text_that_looks_like_a_formula_is_kept_from_running(tmp_path: Path) -> None:
    """A contractor called =1+1 comes back from the mend file with an apostrophe in front, and reads as it was."""
    sheet = read(tmp_path, [["=1+1", "price step", "", "1", "-900"]])
    mend = write_mend(tmp_path / "mend.csv", sheet)
    assert "'=1+1" in mend.read_text(encoding="utf-8-sig")
    assert read_bids(mend, as_of=TODAY).rejected[0].cells[0] == "=1+1"


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"%PDF-1.4 ...", "PDF"),
        (b"name,price\nA,3\n", 'columns "contractor" and "item"'),
        (b"contractor,item,price,price\nA,price step,1,2\n", "two columns for price"),
        (b"PK\x03\x04broken", "not a workbook"),
        (b"\x00\x01\x02\x03", "not a text file"),
    ],
)
def test_unusable_file_is_refused_in_a_sentence(tmp_path: Path, content: bytes, words: str) -> None:
    """No traceback: one sentence with the remedy."""
    path = tmp_path / "bids.csv"
    path.write_bytes(content)
    with pytest.raises(UnusableBidFile, match=words):
        read_bids(path, as_of=TODAY)


def test_missing_file_and_foreign_ending_are_refused(tmp_path: Path) -> None:
    """Reading what is not there, and writing a template as a document."""
    with pytest.raises(UnusableBidFile, match="cannot be read"):
        read_bids(tmp_path / "nowhere.csv", as_of=TODAY)
    with pytest.raises(UnusableBidFile, match="neither"):
        template(tmp_path / "bids.doc")


def test_header_alone_says_that_there_are_no_bids(tmp_path: Path) -> None:
    """An empty table is no error."""
    sheet = read(tmp_path, [])
    assert sheet.bids == ()
    assert any("holds no bids" in note for note in sheet.notes)


@given(
    st.integers(1, 99_999_999), st.sampled_from(["us", "de", "fr", "ch", "bare"]), st.sampled_from(["", "$", "USD "])
)
def test_every_amount_reads_back_however_it_is_written(cents: int, way: str, sign: str) -> None:
    """Amounts to a million, with the separators of four countries or none."""
    us = f"{cents / 100:,.2f}"
    swap = {"us": ",.", "de": ".,", "fr": "\u202f,", "ch": "'.", "bare": ".."}[way]
    text = us.replace(",", "" if way == "bare" else "T").replace(".", swap[1]).replace("T", swap[0])
    assert read_usd(sign + text).value == pytest.approx(cents / 100)


@pytest.mark.parametrize(
    ("text", "value"),
    [("1,275", 1275.0), ("1.275", 1275.0), ("12.5", 12.5), ("1275.3333333", 1275.33), ("0,5", 0.5), ("free", 0.0)],
)
def test_single_separators_are_read_as_prices_use_them(text: str, value: float) -> None:
    """Three digits after a lone separator are thousands: prices have two decimals (common practice, no source)."""
    assert read_usd(text).value == value


@pytest.mark.parametrize("text", ["1,27,500", "1.2.3", "abc", "1e5", "$", "1,2345", "12,34,5", "--5", "nan", "inf"])
def test_what_is_no_price_is_never_taken_for_one(text: str) -> None:
    """Nothing comes of it but a reason."""
    read = read_usd(text)
    assert read.value is None
    assert read.wrong


@given(st.text(max_size=40))
def test_readers_of_numbers_never_fail(text: str) -> None:
    """Any text gives a value, a reason, or nothing; a value is never negative."""
    assert (read_usd(text).value or 0) >= 0
    assert (read_count(text).first or 0) >= 0


cells = st.one_of(
    st.sampled_from(
        ["A", "B", "a ", "", "price step", "step kind", "all units", "incremental", "valid until", "permit"]
    ),
    st.sampled_from(
        ["5-9", "1", "10+", "0", "-3", "$900", "1.275,00", "-5", "included", "extra", "missing", "2027-05-05"]
    ),
    st.sampled_from(["units per week", "minimum homes per day", "mobilization", "tank", "labor", "02/30/2027", "=1+1"]),
    st.text(st.characters(exclude_categories=["Cc", "Cs"]), max_size=12),
)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rows=st.lists(st.lists(cells, min_size=5, max_size=5), max_size=12))
def test_any_sheet_is_read_without_failing_and_no_row_is_lost(tmp_path: Path, rows: list[list[str]]) -> None:
    """Whatever the cells hold: every bid kept passes its own check, and every row is kept, handed back or counted once.

    A second reading of the mend file hands back no row that the first did not.
    """
    sheet = read(tmp_path, rows)
    assert all(not any(one.fatal for one in check_bid(bid, as_of=TODAY)) for bid in sheet.bids)
    assert len({one.row for one in sheet.rejected}) == len(sheet.rejected)
    assert all(one.reason and one.what_to_do for one in sheet.rejected)
    assert all(one.what and one.remedy for one in sheet.problems)
    again = read_bids(write_mend(tmp_path / "mend.csv", sheet), as_of=TODAY, known=sheet.bids)
    assert len(again.rejected) <= len(sheet.rejected)
