"""`PaperForms`: paper forms as they come back, in the order of the sheets or one by one."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from geo.addresses import Candidate, readable
from survey_app import credentials
from survey_app.access import Action
from survey_app.intake import from_short
from survey_app.joins import JoinState, join_all
from survey_app.records import AnswerChannel
from survey_app.survey.answers import Answers, book_of
from survey_app.survey.context import Context
from survey_app.survey.handed_back import Submission
from survey_app.survey.sheets import Sheets

__all__ = ["Found", "PaperForms", "PaperHome"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperHome:
    """The home of a form: its sheet's number, its address, and whether it has answered before."""

    home_id: str
    sheet: str
    address: str
    answered: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What somebody typed to name a form's home: the home; or homes that it may be; or why it is none."""

    home: PaperHome | None = None
    may_be: tuple[Candidate, ...] = ()
    why: str = ""


class PaperForms:
    """Paper forms of one survey. Made by :meth:`Survey.paper_forms`; refused to whoever may not see every home."""

    def __init__(self, context: Context) -> None:
        context.require(Action.READ_ALL_HOMES)
        self._context = context

    def waiting(self, *, after: str | None = None) -> list[PaperHome]:
        """Homes without an answer in the order of the sheets, those behind `after` first."""
        ordered = self._homes()
        at = next((i + 1 for i, h in enumerate(ordered) if h.home_id == after), 0)
        return [h for h in (*ordered[at:], *ordered[:at]) if not h.answered]

    def find(self, typed: str) -> Found:
        """The home that a sheet's number, a private code (or its first part) or an address names.

        The code's secret is not asked for: whoever may enter forms for every home needs no key to one.
        """
        text = typed.strip()
        homes = {h.home_id: h for h in self._homes()}
        if re.fullmatch(r"\d{1,9}(\.\d{1,9})?", text):
            number = Decimal(text)
            home = next((h for h in homes.values() if Decimal(h.sheet) == number), None)
            if home is not None:
                return Found(home=home)
        code = credentials.read_code(text)
        locator = code.locator if code is not None else text.upper()
        with self._context.read() as records:
            known = records.access_code(locator)
        if known is not None:
            return Found(home=homes[known.home_id])
        if code is not None:
            return Found(why="No home has this code now: newer letters void the codes before. Type the sheet's number.")
        join = join_all(book_of(self._context), [text])[0]
        if join.state is JoinState.JOINED and join.home_id is not None:
            return Found(home=homes[join.home_id])
        return Found(
            may_be=tuple(Answers(self._context).suggest(text)[:6]),
            why="No sheet has this number, and no home this code or exactly this address.",
        )

    @staticmethod
    def read(typed: Mapping[str, str], address: str) -> dict[str, str]:
        """The answers of a form as typed with short codes, written out, with the home's address."""
        return {key: from_short(key, text) for key, text in typed.items()} | {"address": address}

    def store(
        self, given: Mapping[str, str], *, home_id: str | None, overruled: Mapping[str, str], answer_id: str
    ) -> Submission:
        """Take one form; without a home it is joined by its address, or waits for a decision.

        Parameters
        ----------
        given
            From :meth:`read`.
        home_id, overruled, answer_id
            As for :meth:`.Answers.submit`.
        """
        return Answers(self._context).submit(
            given, channel=AnswerChannel.PAPER, home_id=home_id, overruled=overruled, answer_id=answer_id
        )

    def _homes(self) -> list[PaperHome]:
        numbers = Sheets(self._context).numbers()
        with self._context.read() as records:
            answered = records.answered_homes()
            addresses = {h.home_id: readable(h.address) for h in records.homes()}
        return [
            PaperHome(home_id=k, sheet=n, address=addresses[k], answered=k in answered)
            for k, n in numbers.items()
            if k in addresses
        ]
