"""Answers about one home that contradict one another: side by side, one decision, nothing lost, undoable."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from survey_app.access import Action
from survey_app.errors import NotThere
from survey_app.histories import Difference, difference_of
from survey_app.joins import JoinState
from survey_app.records import Answer
from survey_app.survey.answers import decide
from survey_app.survey.context import Context

__all__ = ["Differences", "SetAside"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside:
    """An answer that does not count, the home it was for, and when it was set aside."""

    answer: Answer
    home_id: str
    address: str
    at: datetime


class Differences:
    """Differences of one survey, for the volunteer. Refused to everybody else."""

    def __init__(self, context: Context) -> None:
        context.require(Action.DECIDE_JOINS)
        self._context = context

    def all(self) -> list[Difference]:
        """Homes whose answers contradict one another, with the lines that differ; not those left as they are."""
        with self._context.read() as records:
            answers, settled, homes = self._context.answers_by_home(), records.settled_differences(), records.homes()
        told = (difference_of(h, answers.get(h.home_id, ()), settled=settled.get(h.home_id, ())) for h in homes)
        return [difference for difference in told if difference is not None]

    def keep(self, home_id: str, answer_id: str) -> None:
        """Let one answer stand and set the home's other answers aside; each can be brought back."""
        for other in self._answers_of(home_id):
            if other != answer_id:
                self.set_aside(other)

    def leave_both(self, home_id: str) -> None:
        """Decide that a home's answers stand as they are, until another answer comes or it is looked at again."""
        mine = sorted(self._answers_of(home_id))
        with self._context.write("leave a difference") as write:
            write.log("difference", home_id, None, mine)

    def look_again(self, home_id: str) -> None:
        """Undo :meth:`leave_both`."""
        with self._context.write("look at a difference again") as write:
            write.log("difference", home_id)

    def left_as_they_are(self) -> list[tuple[str, str]]:
        """Homes whose different answers were left to stand, with their addresses."""
        with self._context.read() as records:
            settled = records.settled_differences()
            return [(h.home_id, h.address) for h in records.homes() if h.home_id in settled]

    def set_aside(self, answer_id: str) -> None:
        """Set one answer aside: it is kept and counts for nothing."""
        decide(self._context, answer_id, JoinState.SET_ASIDE, None, f"Set aside by {self._context.actor.name}.")

    def set_aside_so_far(self) -> list[SetAside]:
        """Answers that were set aside from a home, newest first, with the home they were for."""
        with self._context.read() as records:
            address = {h.home_id: h.address for h in records.homes()}
            aside = {s.answer.answer_id: s.answer for s in records.answers(join_state=str(JoinState.SET_ASIDE))}
            before = records.homes_before(aside)
        found = [
            SetAside(answer=answer, home_id=home_id, address=address[home_id], at=at)
            for answer, (home_id, at) in ((aside[k], before[k]) for k in aside if k in before)
            if home_id in address
        ]
        return sorted(found, key=lambda s: s.at, reverse=True)

    def bring_back(self, answer_id: str) -> None:
        """Undo a setting aside: the answer counts for its home again.

        Raises
        ------
        NotThere
            When nothing says which home it was for.
        """
        with self._context.read() as records:
            before = records.homes_before([answer_id]).get(answer_id)
        if before is None:
            raise NotThere("Nothing says which home that answer was for. Decide its address by hand.")
        decide(self._context, answer_id, JoinState.JOINED, before[0], f"Brought back by {self._context.actor.name}.")

    def _answers_of(self, home_id: str) -> list[str]:
        """The answers that count for a home, by their ids."""
        with self._context.read() as records:
            return [s.answer.answer_id for s in records.answers(home_ids=[home_id])]
