"""`Responses`: who answered, who is late, what the answers say of the whole community."""

from __future__ import annotations

import uuid
from collections import Counter
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from survey_app.records import Home, WarrantyClass
from survey_app.reports.letters import in_walking_order
from survey_app.response_rates import (
    Contacted,
    ContactNote,
    Disposition,
    Estimate,
    Rates,
    Stratum,
    answers_needed,
    disposition,
    post_stratified,
    rates,
)
from survey_app.store import tables

if TYPE_CHECKING:
    from survey_app.survey.front import Survey

__all__ = ["PhaseResponse", "Responses", "WalkStop"]

_KEY_QUESTIONS = ("kind", "installed", "place", "last_flush", "last_anode")
"""A complete answer says most of these; an installation date may also be told by a label's code."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PhaseResponse:
    """One phase: homes, answers, its RR1, and how many answers in all bring the share to plus or minus five points."""

    phase: str
    homes: int
    answered: int
    rr1: float | None
    needed: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkStop:
    """A home to knock at: its address, how often it was tried, and what came of the last try."""

    home_id: str
    address: str
    street: str
    tried: int
    last: str


class Responses:
    """The response of one survey, for the volunteer. Made by :meth:`Survey.responses`, which checks who asks."""

    def __init__(self, survey: Survey) -> None:
        self._survey, self._store = survey, survey._store

    def dispositions(self) -> dict[str, Disposition]:
        """The outcome of every home."""
        answers = self._survey._answers_by_home(None)
        notes: dict[str, list[ContactNote]] = {}
        for row in self._store.contact_notes():
            notes.setdefault(row["home_id"], []).append(
                ContactNote(
                    home_id=row["home_id"],
                    on=row["on_date"],
                    outcome=Contacted(row["outcome"]),
                    by=row["told_by"],
                    words=row["words"],
                )
            )
        found = {}
        for home in self._store.homes():
            mine = answers.get(home.home_id, [])
            given: dict[str, str] = {}
            for answer in sorted(mine, key=lambda a: (a.answered_on, a.submitted_at)):
                given.update({k: v for k, v in answer.given.items() if v})
            known = sum(
                bool(given.get(k)) or (k == "installed" and bool(given.get("date_code"))) for k in _KEY_QUESTIONS
            )
            found[home.home_id] = disposition(
                answered=bool(mine),
                refused=given.get("consent", "").strip().lower() in ("no", "n"),
                key_questions=known,
                of=len(_KEY_QUESTIONS),
                notes=notes.get(home.home_id, ()),
            )
        return found

    def rates(self) -> Rates:
        """Every rate for the whole community."""
        return rates(Counter(self.dispositions().values()))

    def by_phase(self) -> list[PhaseResponse]:
        """Each phase with its RR1 and how many answers it takes for plus or minus five points."""
        outcome = self.dispositions()
        share = {s.name: s for s in self._strata()}
        groups: dict[str, list[Home]] = {}
        for home in self._store.homes():
            groups.setdefault(home.phase_id or "no phase", []).append(home)
        rows = []
        for phase, homes in sorted(groups.items()):
            counts = Counter(outcome[h.home_id] for h in homes)
            stratum = share[phase]
            looks = stratum.yes / stratum.answered if stratum.answered else 0.5
            rows.append(
                PhaseResponse(
                    phase=phase,
                    homes=len(homes),
                    answered=counts[Disposition.COMPLETE] + counts[Disposition.PARTIAL],
                    rr1=rates(counts).rr1,
                    needed=answers_needed(len(homes), looks),
                )
            )
        return rows

    def over_time(self) -> list[tuple[date, int]]:
        """Homes that had answered by each day on which an answer was given."""
        first: dict[str, date] = {}
        for stored in self._store.answers():
            home = stored.answer.home_id
            if home is not None:
                day = stored.answer.answered_on
                first[home] = min(first.get(home, day), day)
        total, rows = 0, []
        for day, count in sorted(Counter(first.values()).items()):
            total += count
            rows.append((day, total))
        return rows

    def past_twice(self) -> Estimate:
        """How many of all homes have a heater past twice its warranty, from those whose age is known.

        Raises
        ------
        ValueError
            When there are too few answers.
        """
        return post_stratified(self._strata())

    def walk(self) -> list[WalkStop]:
        """Homes that have neither answered nor refused nor are empty, street by street."""
        late = {Disposition.UNKNOWN_HOUSEHOLD, Disposition.NON_CONTACT, Disposition.OTHER, Disposition.UNKNOWN_OTHER}
        outcome = self.dispositions()
        tried: dict[str, list[dict[str, object]]] = {}
        for row in self._store.contact_notes():
            tried.setdefault(row["home_id"], []).append(row)
        homes = [h for h in self._store.homes() if outcome[h.home_id] in late]
        return [
            WalkStop(
                home_id=h.home_id,
                address=h.address,
                street=h.street,
                tried=len(tried.get(h.home_id, ())),
                last=str(tried[h.home_id][-1]["outcome"]) if h.home_id in tried else "",
            )
            for h in in_walking_order(homes)
        ]

    def note(self, home_id: str, outcome: Contacted, *, on: date, words: str = "") -> None:
        """Note an attempt to reach a home.

        Raises
        ------
        LookupError
            When the survey has no such home.
        """
        if not self._store.homes(home_id):
            raise LookupError("That home is not in this survey. Choose one from the list.")
        row = {
            "note_id": uuid.uuid4().hex,
            "home_id": home_id,
            "on_date": on,
            "outcome": str(outcome),
            "told_by": self._survey.actor.name,
            "words": words,
        }
        with self._survey._writing("note a contact") as write:
            write.put(tables.contact_note, [row])

    def _strata(self) -> list[Stratum]:
        standings = self._survey._standings()
        groups: dict[str, list[int]] = {}
        for s in standings:
            n = groups.setdefault(s.home.phase_id or "no phase", [0, 0, 0])
            n[0] += 1
            if s.warranty_class is not WarrantyClass.UNKNOWN and s.answered:
                n[1] += 1
                n[2] += s.warranty_class is WarrantyClass.PAST_TWICE
        return [Stratum(name=k, homes=n[0], answered=n[1], yes=n[2]) for k, n in sorted(groups.items())]
