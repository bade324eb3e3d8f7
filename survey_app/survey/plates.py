"""Photographs of data plates: which wait, and what a volunteer read from them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from survey_app.access import Action
from survey_app.records import AnswerChannel, Home, PlatePhoto, PlateState
from survey_app.survey.answers import Answers
from survey_app.survey.context import Context
from survey_app.survey.handed_back import Submission
from survey_app.survey.one_home import OneHome

__all__ = ["Plates"]


class Plates:
    """Photographs to be read, for the volunteer. Refused to everybody else."""

    def __init__(self, context: Context) -> None:
        context.require(Action.READ_ALL_HOMES)
        self._context = context

    def waiting(self) -> list[Home]:
        """Homes with a photograph that nobody has read, the longest waiting first."""
        with self._context.read() as records:
            waiting = records.homes_with_photos(str(PlateState.WAITING))
            return [home for home_id in waiting for home in records.homes(home_id)]

    def photos(self, home_id: str) -> list[PlatePhoto]:
        """The photographs of one home, oldest first."""
        return OneHome(self._context, home_id).photos()

    def meanings(self, home_id: str, code: str) -> dict[str, str]:
        """What a code on the plate can mean for this home, unless it is settled: the date to file, and its words."""
        content = (
            Answers(self._context).check_answer(self._words(home_id, {"date_code": code}), home_id=home_id).content
        )
        return {one.as_typed: one.words for one in (content.code_meanings if content else ())}

    def put_reading(
        self,
        home_id: str,
        given: Mapping[str, str],
        *,
        overruled: Mapping[str, str] = {},
        answer_id: str | None = None,
    ) -> Submission:
        """Put what the plate says on file as an answer for the home; its photographs are read then.

        Parameters
        ----------
        home_id
            The home.
        given
            Question keys and what was read (``installed``, ``date_code``, ``tank_gallons``, …).
        overruled
            Contradictions to let stand, each with the reason given.
        answer_id
            Names the reading, so that sending it twice stores it once.
        """
        words = self._words(home_id, given)
        found = Answers(self._context).submit(
            words, channel=AnswerChannel.PAPER, home_id=home_id, overruled=overruled, answer_id=answer_id
        )
        if found.stored:
            self._mark(home_id, PlateState.READ)
        return found

    def cannot_be_read(self, home_id: str) -> None:
        """Say that nothing can be read from what the home sent: its people are asked for another."""
        self._mark(home_id, PlateState.UNREADABLE)

    def _words(self, home_id: str, given: Mapping[str, str]) -> dict[str, str]:
        return {**given, "address": self._context.home_address(home_id), "consent": "yes"}

    def _mark(self, home_id: str, state: PlateState) -> None:
        with self._context.read() as records:
            waiting = [p for p in records.plate_photos(home_id) if p.state is PlateState.WAITING]
        with self._context.write("read a photo") as write:
            write.put([replace(photo, state=state) for photo in waiting])
            write.log("plate_photo", home_id, None, str(state))
