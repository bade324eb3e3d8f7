"""`Responses`: who answered, who is late, what the answers say of the whole community."""

from __future__ import annotations

import uuid
from collections import Counter
from dataclasses import replace
from datetime import date

from survey_app.access import Action
from survey_app.errors import NotThere
from survey_app.on_foot import Walk, by_address, walk_of
from survey_app.records import Home
from survey_app.response import (
    LATE,
    NO_PHASE,
    Contacted,
    ContactNote,
    Disposition,
    EarlyLate,
    Estimate,
    GroupResponse,
    Rates,
    answered_by_day,
    by_phase,
    by_street,
    dispositions,
    early_and_late,
    first_answers,
    post_stratified,
    rates,
    share_by_day,
    strata,
)
from survey_app.survey.context import Context
from survey_app.survey.service_rounds import ground_of

__all__ = ["GroupResponse", "Responses", "Walk", "response_for_totals"]


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
        with self._context.read() as records:
            return by_phase(records.homes(), self.dispositions(), strata(self._context.standings()))

    def by_street(self) -> list[GroupResponse]:
        """Each street with its rates, the one with most homes still silent first."""
        with self._context.read() as records:
            return by_street(records.homes(), self.dispositions())

    def over_time(self) -> list[tuple[date, int]]:
        """Homes that had answered by each day on which an answer was given."""
        return answered_by_day(first_answers(self._context.answers_by_home()))

    def over_time_by_phase(self) -> list[tuple[str, date, float]]:
        """The share of each phase's homes that had answered by each day on which one of them did."""
        with self._context.read() as records:
            return share_by_day(records.homes(), first_answers(self._context.answers_by_home()))

    def early_and_late(self) -> EarlyLate | None:
        """Whether homes that answered late have old heaters more or less often than those that answered early."""
        with self._context.read():
            return early_and_late(self._context.standings(), first_answers(self._context.answers_by_home()))

    def past_twice(self) -> Estimate:
        """How many of all homes have a heater past twice its warranty, from those whose age is known.

        Raises
        ------
        ValueError
            When there are too few answers.
        """
        return post_stratified(strata(self._context.standings()))

    def late(self) -> list[Home]:
        """Homes that have neither answered nor refused nor are empty, in the order of their addresses."""
        with self._context.read() as records:
            outcome, homes = self.dispositions(), records.homes()
        return by_address(h for h in homes if outcome[h.home_id] in LATE)

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
            late, ground, notes = self.late(), ground_of(records), records.contact_notes()
        homes = [h for h in late if phase in (None, h.phase_id or NO_PHASE)]
        return walk_of(homes, ground, notes, doors=doors)

    def note(self, home_id: str, outcome: Contacted, *, on: date, words: str = "") -> None:
        """Note an attempt to reach a home.

        Raises
        ------
        NotThere
            When the survey has no such home.
        """
        with self._context.read() as records:
            if not records.homes(home_id):
                raise NotThere("That home is not in this survey. Choose one from the list.")
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
        outcome, phases = _dispositions(context), strata(context.standings())
    # A rate of refusals or of homes reached would give small counts away.
    told = replace(rates(Counter(outcome.values())), counts={}, coop1=None, ref1=None, con1=None)
    try:
        return told, post_stratified(phases)
    except ValueError:
        return told, None


def _dispositions(context: Context) -> dict[str, Disposition]:
    with context.read() as records:
        return dispositions(records.homes(), records.answers_by_home(), records.contact_notes())
