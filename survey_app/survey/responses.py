"""`Responses`: who answered, who is late, what the answers say of the whole community."""

from __future__ import annotations

import uuid
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from geo.walking import shortest_walk, walk_length, walks_of
from survey_app.access import Action
from survey_app.records import Home, WarrantyClass
from survey_app.response import (
    Contacted,
    ContactNote,
    Disposition,
    EarlyLate,
    Estimate,
    Rates,
    Stratum,
    answers_needed,
    disposition,
    early_against_late,
    post_stratified,
    rates,
)
from survey_app.service_days import ways_between
from survey_app.survey.context import Context
from survey_app.survey.service_rounds import ground_of
from survey_app.survey.sheets import by_street, house_number

__all__ = ["GroupResponse", "Responses", "Walk", "WalkStop", "response_for_totals"]

_KEY_QUESTIONS = ("kind", "installed", "place", "last_flush", "last_anode")
"""A complete answer says most of these; an installation date may also be told by a label's code."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupResponse:
    """A phase or a street: homes, answers, rates, and how many answers in all bring a share to plus or minus 5 points.

    ``told`` are the homes whose heater's class is known, which is what ``needed`` counts; None for streets.
    """

    group: str
    homes: int
    answered: int
    rates: Rates
    told: int | None = None
    needed: int | None = None

    @property
    def missing(self) -> int | None:
        """How many more answers it takes; None for streets."""
        return None if self.needed is None or self.told is None else max(0, self.needed - self.told)


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkStop:
    """A door to knock at.

    Parameters
    ----------
    walk, stop
        Which walk, and the how-manieth door of it, both from 1.
    meters
        From the door before; zero for the first of a walk.
    tried, last
        How often it was tried, and what came of the last try.
    """

    home_id: str
    address: str
    street: str
    phase: str
    walk: int
    stop: int
    meters: int
    tried: int
    last: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """Doors to knock at in an order that saves steps.

    Parameters
    ----------
    stops
        In order.
    meters, meters_by_address
        Length of the whole way, and of the same list in the order of the addresses.
    rests_on
        What the distances rest on.
    """

    stops: tuple[WalkStop, ...]
    meters: int
    meters_by_address: int
    rests_on: tuple[str, ...]


_LATE = {
    Disposition.UNKNOWN_HOUSEHOLD,
    Disposition.UNKNOWN_OTHER,
    Disposition.NON_CONTACT,
    Disposition.OTHER,
}
_NOT_KNOWN = WarrantyClass.UNKNOWN


class Responses:
    """The response of one survey, for the volunteer. Refused to everybody else."""

    def __init__(self, context: Context) -> None:
        context.require(Action.READ_ALL_HOMES)
        self._context = context

    def dispositions(self) -> dict[str, Disposition]:
        """The outcome of every home."""
        return _dispositions(self._context)

    def rates(self) -> Rates:
        """Every rate for the whole community."""
        return rates(Counter(self.dispositions().values()))

    def by_phase(self) -> list[GroupResponse]:
        """Each phase with its rates and how many answers it takes for plus or minus five points."""
        with self._context.read():
            strata = {t.name: t for t in _strata(self._context)}
            grouped = self._grouped(lambda home: home.phase_id or "no phase")
        rows = []
        for row in grouped:
            known = strata[row.group]
            looks = known.yes / known.answered if known.answered else 0.5
            rows.append(replace(row, told=known.answered, needed=answers_needed(row.homes, looks)))
        return rows

    def by_street(self) -> list[GroupResponse]:
        """Each street with its rates, the one with most homes still silent first."""
        rows = self._grouped(lambda home: home.street)
        return sorted(rows, key=lambda r: (r.answered - r.homes, r.group))

    def _grouped(self, group_of: Callable[[Home], str]) -> list[GroupResponse]:
        with self._context.read() as records:
            outcome, homes = self.dispositions(), records.homes()
        groups: dict[str, Counter[Disposition]] = {}
        for home in homes:
            groups.setdefault(group_of(home), Counter())[outcome[home.home_id]] += 1
        return [
            GroupResponse(
                group=name,
                homes=counts.total(),
                answered=counts[Disposition.COMPLETE] + counts[Disposition.PARTIAL],
                rates=rates(counts),
            )
            for name, counts in sorted(groups.items())
        ]

    def _first_answers(self) -> dict[str, date]:
        """The day on which each home first answered."""
        answers = self._context.answers_by_home()
        return {home: min(a.answered_on for a in mine) for home, mine in answers.items()}

    def over_time(self) -> list[tuple[date, int]]:
        """Homes that had answered by each day on which an answer was given."""
        total, rows = 0, []
        for day, count in sorted(Counter(self._first_answers().values()).items()):
            total += count
            rows.append((day, total))
        return rows

    def over_time_by_phase(self) -> list[tuple[str, date, float]]:
        """The share of each phase's homes that had answered by each day on which one of them did."""
        with self._context.read() as records:
            first, every = self._first_answers(), records.homes()
        last = max(first.values(), default=date.min)
        groups: dict[str, list[Home]] = {}
        for home in every:
            groups.setdefault(home.phase_id or "no phase", []).append(home)
        rows: list[tuple[str, date, float]] = []
        for phase, homes in sorted(groups.items()):
            total = 0
            for day, count in sorted(Counter(first[h.home_id] for h in homes if h.home_id in first).items()):
                total += count
                rows.append((phase, day, total / len(homes)))
            if rows and rows[-1][0] == phase and rows[-1][1] < last:
                rows.append((phase, last, total / len(homes)))  # nobody since, which is news, too
        return rows

    def early_and_late(self) -> EarlyLate | None:
        """Whether homes that answered late have old heaters more or less often than those that answered early."""
        with self._context.read():
            first, standings = self._first_answers(), self._context.standings()
        known = [s for s in standings if s.home.home_id in first and s.warranty_class is not _NOT_KNOWN]
        known.sort(key=lambda s: (first[s.home.home_id], s.home.home_id))
        return early_against_late(s.warranty_class is WarrantyClass.PAST_TWICE for s in known)

    def past_twice(self) -> Estimate:
        """How many of all homes have a heater past twice its warranty, from those whose age is known.

        Raises
        ------
        ValueError
            When there are too few answers.
        """
        return post_stratified(_strata(self._context))

    def late(self) -> list[Home]:
        """Homes that have neither answered nor refused nor are empty, in the order of their addresses."""
        with self._context.read() as records:
            outcome, homes = self.dispositions(), records.homes()
        return sorted(
            (h for h in homes if outcome[h.home_id] in _LATE),
            key=lambda h: (h.street, house_number(h), h.address),
        )

    def walk(self, *, phase: str | None = None, doors: int = 40) -> Walk:
        """The late homes in an order that saves steps, cut into walks.

        Parameters
        ----------
        phase
            Only this phase; None for all.
        doors
            Most doors in a walk.
        """
        with self._context.read() as records:
            homes = [h for h in self.late() if phase in (None, h.phase_id or "no phase")]
            if not homes:
                return Walk(stops=(), meters=0, meters_by_address=0, rests_on=())
            ground, written = ground_of(records), records.contact_notes()
        at = [ground.where[h.home_id] for h in homes]
        travel, _, _, rests_on = ways_between(
            ground,
            [p[0] for p in at],
            [p[1] for p in at],
            [h.street for h in homes],
            [h.address for h in homes],
            on_foot=True,
        )
        by_id = {h.home_id: i for i, h in enumerate(homes)}
        as_streets = np.array([by_id[h.home_id] for h in by_street(homes)])
        order = shortest_walk(travel.metres, start=as_streets)
        tried: dict[str, list[ContactNote]] = {}
        for note in written:
            tried.setdefault(note.home_id, []).append(note)
        stops = []
        for w, part in enumerate(walks_of(order, doors), start=1):
            for k, i in enumerate(part):
                home = homes[int(i)]
                notes = tried.get(home.home_id, [])
                stops.append(
                    WalkStop(
                        home_id=home.home_id,
                        address=home.address,
                        street=home.street,
                        phase=home.phase_id or "no phase",
                        walk=w,
                        stop=k + 1,
                        meters=int(travel.metres[part[k - 1], i]) if k else 0,
                        tried=len(notes),
                        last=str(notes[-1].outcome) if notes else "",
                    )
                )
        return Walk(
            stops=tuple(stops),
            meters=walk_length(travel.metres, order),
            meters_by_address=walk_length(travel.metres, np.arange(len(homes))),
            rests_on=rests_on,
        )

    def note(self, home_id: str, outcome: Contacted, *, on: date, words: str = "") -> None:
        """Note an attempt to reach a home.

        Raises
        ------
        LookupError
            When the survey has no such home.
        """
        with self._context.read() as records:
            if not records.homes(home_id):
                raise LookupError("That home is not in this survey. Choose one from the list.")
        note = ContactNote(
            note_id=uuid.uuid4().hex,
            home_id=home_id,
            on=on,
            outcome=outcome,
            by=self._context.actor.name,
            words=words,
        )
        with self._context.write("note a contact") as write:
            write.put([note])


def response_for_totals(context: Context) -> tuple[Rates, Estimate | None]:
    """Response rates without their counts, and the estimate for all homes where enough answered: for the board."""
    context.require(Action.READ_TOTALS)
    with context.read():
        outcome, strata = _dispositions(context), _strata(context)
    # A rate of refusals or of homes reached would give small counts away.
    told = replace(rates(Counter(outcome.values())), counts={}, coop1=None, ref1=None, con1=None)
    try:
        return told, post_stratified(strata)
    except ValueError:
        return told, None


def _dispositions(context: Context) -> dict[str, Disposition]:
    with context.read() as records:
        answers, homes, written = context.answers_by_home(), records.homes(), records.contact_notes()
    notes: dict[str, list[ContactNote]] = {}
    for note in written:
        notes.setdefault(note.home_id, []).append(note)
    found = {}
    for home in homes:
        mine = answers.get(home.home_id, [])
        given: dict[str, str] = {}
        for answer in sorted(mine, key=lambda a: (a.answered_on, a.submitted_at)):
            given.update({k: v for k, v in answer.given.items() if v})
        known = sum(bool(given.get(k)) or (k == "installed" and bool(given.get("date_code"))) for k in _KEY_QUESTIONS)
        found[home.home_id] = disposition(
            answered=bool(mine),
            refused=given.get("consent", "").strip().lower() in ("no", "n"),
            key_questions=known,
            of=len(_KEY_QUESTIONS),
            notes=notes.get(home.home_id, ()),
        )
    return found


def _strata(context: Context) -> list[Stratum]:
    standings = context.standings()
    groups: dict[str, list[int]] = {}
    for s in standings:
        n = groups.setdefault(s.home.phase_id or "no phase", [0, 0, 0])
        n[0] += 1
        if s.warranty_class is not WarrantyClass.UNKNOWN and s.answered:
            n[1] += 1
            n[2] += s.warranty_class is WarrantyClass.PAST_TWICE
    return [Stratum(name=k, homes=n[0], answered=n[1], yes=n[2]) for k, n in sorted(groups.items())]
