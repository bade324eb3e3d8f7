"""Rows of a spreadsheet as values, and how text is kept from being run as a formula."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from survey_app.errors import SurveyError
from survey_app.intake import Problem

__all__ = [
    "DICTIONARY_SHEET",
    "EXAMPLE_WORD",
    "OVERRULE",
    "REASON",
    "ROW_IN_FILE",
    "WHAT_TO_DO",
    "RejectedRow",
    "Row",
    "Sheet",
    "UnusableAnswerFile",
    "neutralise",
    "restore",
    "writable",
]

REASON, WHAT_TO_DO, OVERRULE, ROW_IN_FILE = "reason", "what to do", "overrule", "row in file"
EXAMPLE_WORD = "EXAMPLE"
"""An address that begins with this word marks a row that only shows how to fill in the template."""
DICTIONARY_SHEET = "dictionary"
_UNWRITABLE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
LONGEST_CELL = 32_000
"""Signs in one cell of a workbook; the format's own limit is 32,767."""
_AT_START = r"(?=['\s]*[=+\-@＝＋－＠\t\r])"
_WITHIN = r"(?=['\s]*[=+\-@＝＋－＠])"
_COULD_BEGIN = re.compile(rf"\A{_AT_START}|(?<=[;|\t\r\n]){_WITHIN}")
_NEUTRALISED = re.compile(rf"\A'{_AT_START}|(?<=[;|\t\r\n])'{_WITHIN}")


class UnusableAnswerFile(SurveyError, ValueError):
    """A file from which no answers can be read; the message says why and what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row: its number as a spreadsheet shows it, its texts by question key, and all cells as they stood."""

    number: int
    given: Mapping[str, str]
    cells: tuple[str, ...]
    overrule: str = ""

    @property
    def address(self) -> str:
        """The address as typed."""
        return self.given.get("address", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The rows of a file.

    Parameters
    ----------
    name
        The file's name, for messages.
    columns
        The headers as they stand, without the columns that a mend file adds.
    rows
        The rows that hold anything, without example rows.
    unknown_columns
        Headers that no question understands; they are kept in a mend file.
    notes
        What was assumed or passed over while reading.
    """

    name: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    unknown_columns: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def addresses(self) -> tuple[str, ...]:
        """Every address in the file, each once, in the order of the rows, blanks left out."""
        return tuple(dict.fromkeys(row.address for row in self.rows if row.address))


@dataclass(frozen=True, slots=True, kw_only=True)
class RejectedRow:
    """A row that was not taken, with everything that stands in its way."""

    number: int
    row: Row
    problems: tuple[Problem, ...]

    @property
    def reason(self) -> str:
        """What is wrong with it, all of it."""
        return " ".join(problem.what for problem in self.problems)

    @property
    def what_to_do(self) -> str:
        """What to do about it; each remedy once."""
        return " ".join(dict.fromkeys(problem.remedy for problem in self.problems))


def writable(text: str) -> str:
    """The text without the signs that no table can hold: a blank for each control sign and half of a pair."""
    return _UNWRITABLE.sub(" ", text)


def neutralise(text: str) -> str:
    """The text so that no spreadsheet program runs it as a formula: an apostrophe before what could begin one.

    That is at the start, and after a sign at which a program of another language may begin a new cell: OWASP, "CSV
    Injection", warns of both. `read_rows` takes the apostrophes away again, so that every text comes back as it was.
    """
    return _COULD_BEGIN.sub("'", text)


def restore(text: str) -> str:
    """The text without the apostrophes that `neutralise` put in."""
    return _NEUTRALISED.sub("", text)
