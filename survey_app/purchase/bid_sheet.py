"""Bids in a spreadsheet: one row for each thing that a contractor says.

Columns: contractor, item, answer, from homes, price. An item is a price step, a
term (mobilization per day, valid until, ...) or a line of the scope. Good bids
are kept; rows that cannot be used come back in a mend file, each with its
reason. A bid whose price or validity cannot be trusted comes back whole.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

from survey_app.csv_import import UnusableAnswerFile, read_tables, restore, write_tables
from survey_app.errors import SurveyError
from survey_app.intake import plain, simplify
from survey_app.purchase.bid_words import (
    COLUMNS,
    EXTRA,
    HEATERS,
    INCLUDED,
    MEND_COLUMNS,
    MISSING,
    STEP,
    STEP_KINDS,
    TERMS,
    column_of,
    item_of,
)
from survey_app.purchase.bids import Bid, Offered, PriceStep, ScopeOffer, check_bid
from survey_app.purchase.money import read_count, read_usd
from survey_app.purchase.scope import SCOPE, SCOPE_KEYS
from survey_app.typed_dates import DateReading, read_date

__all__ = [
    "COLUMNS",
    "BidProblem",
    "BidSheet",
    "RejectedBidRow",
    "UnusableBidFile",
    "read_bids",
    "template",
    "write_mend",
]

EXAMPLE_WORD = "EXAMPLE"
HEADER_WITHIN_ROWS = 20

_SEVERE_ITEMS = frozenset(
    {STEP, "step kind", "heater kinds", "mobilization per day", "minimum homes per day", "valid until"}
)
"""Terms without which a price cannot be trusted: a bad row among them sets the whole bid aside."""
_COLUMN_OF = {STEP: "price", "mobilization per day": "price"}


class UnusableBidFile(SurveyError, ValueError):
    """A file from which no bids can be read; the message says why and what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BidProblem:
    """Something wrong in a sheet of bids: where, what, and what to do."""

    file: str
    row: int
    column: str
    contractor: str
    what: str
    remedy: str

    @property
    def sentence(self) -> str:
        """All of it in one line."""
        where = f'{self.file}, row {self.row}, column "{self.column}"' if self.row else self.file
        return f"{where}: {self.what} {self.remedy}"


@dataclass(frozen=True, slots=True, kw_only=True)
class RejectedBidRow:
    """A row that was not taken, as it stood, with its reason."""

    row: int
    cells: tuple[str, ...]
    reason: str
    what_to_do: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BidSheet:
    """What a sheet of bids held.

    ``bids`` can all be used; ``rejected`` are the rows for the mend file;
    ``problems`` are told, those of rejected rows and those that only leave a
    gap; ``notes`` say what was assumed.
    """

    file: str
    bids: tuple[Bid, ...]
    rejected: tuple[RejectedBidRow, ...]
    problems: tuple[BidProblem, ...]
    notes: tuple[str, ...]


@dataclass(slots=True)
class _Row:
    number: int
    cells: dict[str, str]
    item: str = ""
    wrong: list[tuple[str, str, str]] = field(default_factory=list)

    def bad(self, column: str, what: str, remedy: str) -> None:
        self.wrong.append((column, what, remedy))


def read_bids(path: str | Path, *, as_of: date, known: Sequence[Bid] = ()) -> BidSheet:
    """Read bids from a csv or xlsx file in the layout of `template`.

    Columns may stand in any order and under other usual names. A row whose
    contractor begins with EXAMPLE is passed over.

    Parameters
    ----------
    path
        The file.
    as_of
        Today: a bid that is no longer valid is set aside.
    known
        Bids read before. Rows about one of them (a corrected mend file) add to
        it and replace what it said; price steps are replaced together.

    Returns
    -------
    BidSheet
        With the known bids, brought up to date, before the new ones; possibly without any.

    Raises
    ------
    UnusableBidFile
        When the file is no spreadsheet or lacks the columns contractor and item.
    """
    name = Path(path).name
    try:
        reasons = []
        for table, notes in read_tables(path, known=lambda header: column_of(header) is not None):
            try:
                return _sheet(name, table, list(notes), as_of, known)
            except UnusableBidFile as reason:
                reasons.append(reason)
    except UnusableAnswerFile as problem:
        raise UnusableBidFile(str(problem)) from problem
    raise reasons[0]


def _sheet(
    name: str, table: Sequence[tuple[int, list[str]]], notes: list[str], as_of: date, known: Sequence[Bid]
) -> BidSheet:
    headers = [[column_of(restore(cell)) for cell in cells] for _, cells in table[:HEADER_WITHIN_ROWS]]
    at = next((k for k, one in enumerate(headers) if "contractor" in one and "item" in one), None)
    if at is None:
        raise UnusableBidFile(
            f'{name} has no row with the columns "contractor" and "item". Start from the template of bids.'
        )
    meaning = headers[at]
    doubles = [column for column in COLUMNS if meaning.count(column) > 1]
    if doubles:
        raise UnusableBidFile(
            f"{name} has two columns for {', '.join(doubles)}. Keep one of each and rename or delete the other."
        )
    by_bid: dict[str, list[_Row]] = {}
    spelled: dict[str, str] = {}
    astray: list[_Row] = []
    examples = 0
    for number, raw in table[at + 1 :]:
        cells_of = {
            column: plain(restore(raw[k])) for k, column in enumerate(meaning) if column in COLUMNS and k < len(raw)
        }
        if not any(cells_of.values()):
            continue
        row = _Row(number=number, cells={column: cells_of.get(column, "") for column in COLUMNS})
        contractor = row.cells["contractor"]
        if re.match(rf"{EXAMPLE_WORD}\b", contractor, re.IGNORECASE):
            examples += 1
        elif not contractor:
            row.bad("contractor", "The row names no contractor.", "Write who says it, in every row.")
            astray.append(row)
        else:
            key = simplify(contractor)
            spelled.setdefault(key, contractor)
            by_bid.setdefault(key, []).append(row)
    if examples:
        notes.append("The template's example rows were passed over.")
    if not by_bid and not astray:
        notes.append(f"{name} holds no bids below its header.")
    desk = _Desk(name, as_of, notes)
    desk.reject(astray, "")
    before = {simplify(bid.contractor): bid for bid in known}
    bids: dict[str, Bid] = dict(before)
    for key, rows in by_bid.items():
        bid = desk.bid(spelled[key], rows, before.get(key))
        if bid is not None:
            bids[key] = bid
    return BidSheet(
        file=name,
        bids=tuple(bids.values()),
        rejected=tuple(sorted(desk.rejected, key=lambda one: one.row)),
        problems=tuple(sorted(desk.problems, key=lambda one: one.row)),
        notes=tuple(dict.fromkeys(notes)),
    )


class _Desk:
    """Reads the rows of one bid after the other and keeps what is wrong with them."""

    def __init__(self, file: str, as_of: date, notes: list[str]) -> None:
        self.file, self.as_of, self.notes = file, as_of, notes
        self.problems: list[BidProblem] = []
        self.rejected: list[RejectedBidRow] = []

    def reject(self, rows: Sequence[_Row], contractor: str, because: str = "") -> None:
        """Tell what is wrong with rows and hand them back; rows that are right themselves go `because` of others."""
        for row in rows:
            self._tell(row, contractor)
            self.rejected.append(
                RejectedBidRow(
                    row=row.number,
                    cells=tuple(row.cells[column] for column in COLUMNS),
                    reason=" ".join(what for _, what, _ in row.wrong) or because,
                    what_to_do=" ".join(dict.fromkeys(remedy for _, _, remedy in row.wrong))
                    or "Nothing, if it is right: import it again with the corrected rows.",
                )
            )

    def _tell(self, row: _Row, contractor: str) -> None:
        self.problems += [
            BidProblem(file=self.file, row=row.number, column=column, contractor=contractor, what=what, remedy=remedy)
            for column, what, remedy in row.wrong
        ]

    def bid(self, contractor: str, rows: Sequence[_Row], before: Bid | None) -> Bid | None:
        """One bid from its rows, and from what was known before; None when its rows have to come back whole."""
        kept = self._without_doubles(rows)
        values = _Values()
        first: dict[str, _Row] = {}
        ranges: list[tuple[_Row, int, int | None]] = []
        for row in kept:
            if row.wrong:
                continue
            self._read(row, values, ranges)
            first.setdefault(row.item, row)
        _check_ranges(ranges)
        if len(values.steps) > 1 and "step kind" not in {row.item for row in rows} and before is None:
            ranges[0][0].bad(
                "item",
                f"{contractor} has price steps, but no row says whether they are for all units or incremental.",
                'Ask, and add a row "step kind" with "all units" or "incremental".',
            )
        if [step.from_homes for step in values.steps] != sorted(step.from_homes for step in values.steps):
            self.notes.append(f"The price steps of {contractor} do not stand in order; they were put in order.")
        given: dict[str, Any] = {"scope": tuple(values.scope), **values.terms}
        if values.steps or before is None:
            given["steps"] = tuple(values.steps)
        if before is not None:
            named = {one.item for one in values.scope}
            given["scope"] = (*(one for one in before.scope if one.item not in named), *values.scope)
        bid = Bid(contractor=contractor, **given) if before is None else replace(before, **given)
        self._check(bid, first, values, rows)
        severe = [row for row in rows if row.wrong and (row.item in _SEVERE_ITEMS or row.item == "")]
        whole = bool(severe) or any(one.fatal for one in check_bid(bid, as_of=self.as_of))
        if whole:
            self.reject(
                rows, contractor, because=f"The bid of {contractor} is set aside until its other rows are right."
            )
            return None
        self.reject([row for row in rows if row.wrong and row.number not in values.gaps], contractor)
        for row in rows:
            if row.number in values.gaps:
                self._tell(row, contractor)
        if before is None and "kinds" not in values.terms:
            self.notes.append(f"{contractor} does not say for which heaters: counted for gas and electric tanks.")
        missing = [item for item in SCOPE_KEYS if item not in {one.item for one in bid.scope}]
        if missing:
            self.notes.append(f"{contractor} says nothing about {', '.join(missing)}: counted as missing.")
        return bid

    def _without_doubles(self, rows: Sequence[_Row]) -> list[_Row]:
        kept: dict[tuple[str, str], _Row] = {}
        for row in rows:
            row.item = item_of(row.cells["item"])
            if not row.item:
                written = row.cells["item"]
                row.bad(
                    "item",
                    f'"{written[:60]}" is no item of a bid.' if written else "The row names no item.",
                    f"The items are: {', '.join([*TERMS, *SCOPE_KEYS])}.",
                )
                # A row nobody understands spoils the bid only where it may be a price step.
                row.item = "" if row.cells["from homes"] else "?"
                kept[("?", str(row.number))] = row
                continue
            where = str(read_count(row.cells["from homes"]).first or 1) if row.item == STEP else ""
            before = kept.get((row.item, where))
            if before is None:
                kept[(row.item, where)] = row
            elif _same(before, row):
                self.notes.append(f"Row {row.number} says the same as row {before.number} and was counted once.")
            else:
                row.bad(
                    "from homes" if row.item == STEP else "item",
                    f"Row {before.number} already says something else about {row.item}"
                    + (f" from {where} homes on." if where else "."),
                    "Keep the row that the contractor wrote.",
                )
        return list(kept.values())

    def _read(self, row: _Row, values: _Values, ranges: list[tuple[_Row, int, int | None]]) -> None:
        if row.item == STEP:
            amount, number = self._usd(row), read_count(row.cells["from homes"])
            if number.wrong:
                row.bad(
                    "from homes",
                    f'"{row.cells["from homes"][:40]}" {number.wrong}.',
                    'Write the number from which the price holds, like "10" or "10-19".',
                )
            if amount is not None and not number.wrong:
                first = 1 if number.first is None else number.first
                values.steps.append(PriceStep(from_homes=first, price_usd=amount))
                ranges.append((row, first, number.last))
        elif row.item in SCOPE_KEYS:
            self._read_scope(row, values)
        elif row.item == "mobilization per day":
            if (amount := self._usd(row)) is not None:
                values.terms["mobilization_usd_per_day"] = amount
        else:
            _READERS[row.item](self, row, values.terms)

    def _usd(self, row: _Row) -> float | None:
        text = row.cells["price"] or row.cells["answer"]
        read = read_usd(text)
        if read.wrong or read.value is None:
            row.bad(
                "price",
                f'The price "{text[:40]}" {read.wrong}.' if read.wrong else "The price is missing.",
                'Write dollars a home, like "1,234.00".' if row.item == STEP else 'Write dollars, like "150".',
            )
            return None
        if read.note:
            self.notes.append(f"Row {row.number}: {read.note}")
        return read.value

    def _read_scope(self, row: _Row, values: _Values) -> None:
        word, price = simplify(row.cells["answer"]), row.cells["price"]
        read = read_usd(price)
        if read.wrong:
            row.bad("price", f'The price "{price[:40]}" {read.wrong}.', 'Write dollars a home, like "75".')
            return
        if read.note:
            self.notes.append(f"Row {row.number}: {read.note}")
        if word in INCLUDED or (word in EXTRA and read.value == 0):
            offered, extra = Offered.INCLUDED, None
        elif word in EXTRA or (not word and read.value is not None):
            offered, extra = Offered.EXTRA, read.value
        elif word in MISSING or not word:
            offered, extra = Offered.MISSING, None
        else:
            row.bad(
                "answer",
                f'"{row.cells["answer"][:40]}" is no answer for {row.item}.',
                'Write "included", "extra" with a price, or "missing".',
            )
            return
        if offered is not Offered.EXTRA and read.value:
            row.bad(
                "price",
                f"{row.item} is {offered.value} and yet has a price of {read.value:,.2f} dollars.",
                'Write "extra" if it costs more, or leave the price out.',
            )
            return
        values.scope.append(ScopeOffer(item=row.item, offered=offered, extra_usd=extra))

    def _check(self, bid: Bid, first: Mapping[str, _Row], values: _Values, rows: Sequence[_Row]) -> None:
        """What `check_bid` finds, told at the row it concerns (the bid's first row where there is none)."""
        for one in check_bid(bid, as_of=self.as_of):
            row = first.get(one.item, rows[0])
            if one.item == STEP:
                said = one.what
                row = next((r for r in rows if r.item == STEP and _names_step(said, r)), row)
            if any(row_wrong for r in rows if r.item == one.item for row_wrong in r.wrong) and one.item == STEP:
                continue  # already told at the row that could not be read
            row.bad(one.column, one.what, one.remedy)
            if not one.fatal:
                values.gaps.add(row.number)

    def number(self, row: _Row, terms: dict[str, Any]) -> None:
        """A whole number of homes."""
        text = row.cells["answer"] or row.cells["from homes"]
        read = read_count(text)
        if read.wrong or read.first is None or read.last is not None:
            row.bad("answer", f'"{text[:40]}" is no whole number.', "Write a whole number of homes, 1 or more.")
            return
        terms[row.item.replace(" ", "_")] = read.first

    def day(self, row: _Row, terms: dict[str, Any]) -> None:
        """A day."""
        text = row.cells["answer"]
        read = read_date(text, today=self.as_of, may_be_future=True)
        if read.dated is None:
            if read.kind is not DateReading.UNKNOWN:
                row.bad("answer", f'"{text[:40]}" is no day. {read.note}'.strip(), 'Write a day like "2027-03-31".')
            return
        if read.note:
            self.notes.append(f"Row {row.number}: {read.note}")
        terms[row.item.replace(" ", "_")] = read.preferred or read.dated.latest

    def years(self, row: _Row, terms: dict[str, Any]) -> None:
        """Years, possibly with a fraction."""
        text = re.sub(r"\s*(?:years?|yrs?)\b\.?", "", simplify(row.cells["answer"]))
        months = re.fullmatch(r"(\d{1,3})\s*(?:months?|mo)", text)
        if months:
            terms["labor_warranty_years"] = int(months[1]) / 12
        elif re.fullmatch(r"\d{1,3}(?:\.\d+)?", text):
            terms["labor_warranty_years"] = float(text)
        elif text:
            row.bad("answer", f'"{row.cells["answer"][:40]}" is no number of years.', 'Write years, like "2".')

    def kind(self, row: _Row, terms: dict[str, Any]) -> None:
        """All units or incremental."""
        word = simplify(row.cells["answer"]).replace("-", " ")
        if word in STEP_KINDS:
            terms["step_kind"] = STEP_KINDS[word]
        else:
            row.bad(
                "answer",
                f'"{row.cells["answer"][:40]}" is no kind of price step.',
                'Write "all units" or "incremental".',
            )

    def kinds(self, row: _Row, terms: dict[str, Any]) -> None:
        """Kinds of heater, one or more."""
        words = [w.strip() for w in re.split(r"[,;/+&]|\band\b", simplify(row.cells["answer"]).replace("-", " "))]
        unknown = [w for w in words if w and w not in HEATERS]
        found = tuple(kind for w in words for kind in HEATERS.get(w, ()))
        if unknown or not found:
            row.bad(
                "answer",
                f'"{(unknown or [row.cells["answer"]])[0][:40]}" is no kind of heater.',
                'Write "gas storage, electric storage", "heat pump storage" or "tankless".',
            )
        else:
            terms["kinds"] = found

    def text(self, row: _Row, terms: dict[str, Any]) -> None:
        """Text as it stands."""
        terms[row.item.replace(" ", "_")] = row.cells["answer"]


@dataclass(slots=True)
class _Values:
    steps: list[PriceStep] = field(default_factory=list)
    scope: list[ScopeOffer] = field(default_factory=list)
    terms: dict[str, Any] = field(default_factory=dict)
    gaps: set[int] = field(default_factory=set)
    """Rows with a problem that only leaves a gap: the bid keeps them."""


_READERS: Mapping[str, Callable[[_Desk, _Row, dict[str, Any]], None]] = {
    "step kind": _Desk.kind,
    "heater kinds": _Desk.kinds,
    "minimum homes per day": _Desk.number,
    "homes per day": _Desk.number,
    "units per week": _Desk.number,
    "valid until": _Desk.day,
    "labor warranty years": _Desk.years,
    "license number": _Desk.text,
    "license seen on": _Desk.day,
    "insurance seen on": _Desk.day,
    "insurance until": _Desk.day,
}


def _same(one: _Row, other: _Row) -> bool:
    """Whether two rows say the same, however they spell it."""

    def said(row: _Row) -> tuple[object, ...]:
        price = read_usd(row.cells["price"])
        return (simplify(row.cells["answer"]), price.value if price.value is not None else row.cells["price"])

    return said(one) == said(other)


def _check_ranges(ranges: Sequence[tuple[_Row, int, int | None]]) -> None:
    """Steps written as ranges must not reach into one another."""
    ordered = sorted(ranges, key=lambda one: one[1])
    for (row, first, last), (after, begins, _) in pairwise(ordered):
        if last is not None and last >= begins > first:
            after.bad(
                "from homes",
                f"The step from {begins} homes on overlaps the step {first} to {last} of row {row.number}.",
                "Ask the contractor which price holds where both do.",
            )


def _names_step(sentence: str, row: _Row) -> bool:
    """Whether a finding speaks of the step of that row."""
    number = read_count(row.cells["from homes"]).first
    number = 1 if number is None else number
    return re.search(rf"\b{number} homes\b", sentence) is not None


def template(path: str | Path) -> tuple[Path, ...]:
    """Write the empty bid sheet, with example rows and a dictionary.

    Parameters
    ----------
    path
        A ``.csv`` or ``.xlsx`` file.

    Returns
    -------
    tuple of Path
        The files written.

    Raises
    ------
    UnusableBidFile
        When the name ends in neither, or the file cannot be written.
    """
    who = f"{EXAMPLE_WORD} (these rows are ignored)"
    rows: list[list[str]] = [list(COLUMNS)]
    rows += [
        [who, STEP, "", "1", "$1,234.00"],
        [who, STEP, "", "10", "$1,150.00"],
        [who, "step kind", "all units", "", ""],
        [who, "heater kinds", "gas storage, electric storage", "", ""],
        [who, "mobilization per day", "", "", "150"],
        [who, "units per week", "12", "", ""],
        [who, "valid until", "2027-06-30", "", ""],
        [who, "permit", "included", "", ""],
        [who, "drain pan", "extra", "", "45"],
        [who, "sales tax", "missing", "", ""],
    ]
    dictionary = [["item", "what it says", "answer", "from homes", "price"]]
    for key, words in TERMS.items():
        priced = key in _COLUMN_OF
        dictionary.append(
            [key, words, "" if priced else "fill in", "fill in" if key == STEP else "", "fill in" if priced else ""]
        )
    dictionary += [[item.key, item.label, "included, extra or missing", "", "where extra"] for item in SCOPE]
    return _write(path, {"bids": rows, "dictionary": dictionary})


def write_mend(path: str | Path, sheet: BidSheet) -> Path:
    """Write the rejected rows with their reasons, ready to be corrected and read again.

    Raises
    ------
    UnusableBidFile
        When the file cannot be written.
    """
    rows = [[*COLUMNS, *MEND_COLUMNS]]
    rows += [[*one.cells, str(one.row), one.reason, one.what_to_do] for one in sheet.rejected]
    return _write(path, {"mend": rows})[0]


def _write(path: str | Path, tables: Mapping[str, Sequence[Sequence[str]]]) -> tuple[Path, ...]:
    try:
        return write_tables(path, tables)
    except UnusableAnswerFile as problem:
        raise UnusableBidFile(str(problem)) from problem
