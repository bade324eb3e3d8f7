"""What one answer says once it is understood, and what was found wrong with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import Literal, TypeVar

from survey_app.date_codes import MOST_SHOWN, Reading, probable, years
from survey_app.records import Answer, Dated, EndCause, HeaterKind, Symptom, Tri

__all__ = ["NEVER", "Checked", "Content", "Done", "InstalledBasis", "Problem", "Said", "Severity"]

NEVER: Literal["never"] = "never"
Done = Dated | Literal["never"] | None
"""When something was done: a window, never, or left open."""


class InstalledBasis(StrEnum):
    """Where an answer's installation date comes from."""

    STATED = "stated"
    CODE = "probable reading of the date code"
    PREVIOUS = "when the heater before it went"
    HOUSE = "first heater of the house"


Said = str | float | date | Dated | tuple[str, ...]
"""One answer, understood: a stored value (a word of the records), a number, a day, a window, several values, a text."""
T = TypeVar("T")
_NUMBER_IN_HOME: Mapping[str, Literal[1, 2, 3]] = {"first": 1, "second": 2, "third or later": 3}


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """One answer, understood.

    Parameters
    ----------
    address, answered_on
        Which home, as typed, and the day the answer speaks of.
    said
        What each question was answered with; one that was left open, or is not
        known, is not in it. Choices are the records' own words (`Tri.YES`), acts
        windows or `NEVER`. An empty tuple says that none of the choices is so.
        The installation carries its evidence.
    installed_basis
        How the installation date was come by.
    installed_as_told
        The date as it was told; ``installed`` is wider where it rests on memory.
    code_readings
        Readings of the date code, those that fit first.
    """

    address: str
    answered_on: date
    said: Mapping[str, Said] = field(default_factory=dict)
    installed_basis: InstalledBasis | None = None
    installed_as_told: Dated | None = None
    code_readings: tuple[Reading, ...] = ()

    def the(self, key: str, kind: type[T]) -> T | None:
        """What was answered to a question whose answers are of this kind."""
        value = self.said.get(key)
        return value if isinstance(value, kind) else None

    @property
    def code_meanings(self) -> tuple[Reading, ...]:
        """The years among which somebody has to pick, the likeliest first; none where nothing is left to pick."""
        return () if probable(self.code_readings) else years(self.code_readings)[:MOST_SHOWN]

    @property
    def refused(self) -> bool:
        """Whether the person said no to the survey: then nothing else is kept."""
        return self.consent is Tri.NO

    @property
    def consent(self) -> Tri:
        """Whether the answers may be kept."""
        return self.the("consent", Tri) or Tri.UNKNOWN

    @property
    def kind(self) -> HeaterKind:
        """What heats the water."""
        return self.the("kind", HeaterKind) or HeaterKind.UNKNOWN

    @property
    def tank_gallons(self) -> float | None:
        """What the tank holds."""
        return self.the("tank_gallons", float)

    @property
    def installed(self) -> Dated | None:
        """When the heater went in, as stated or as inferred."""
        return self.the("installed", Dated)

    @property
    def date_code(self) -> str:
        """The code on the label."""
        return self.the("date_code", str) or ""

    @property
    def warranty_years(self) -> float | None:
        """The warranty's term."""
        return self.the("warranty_years", float)

    @property
    def warranty_end(self) -> date | None:
        """The day the warranty ends."""
        return self.the("warranty_end", date)

    @property
    def last_anode(self) -> Done:
        """When the anode rod was last looked at."""
        return NEVER if self.said.get("last_anode") == NEVER else self.the("last_anode", Dated)

    @property
    def anode_work(self) -> str | None:
        """What was done to the anode rod: "checked" or "changed"."""
        return self.the("anode_work", str)

    @property
    def symptoms(self) -> tuple[Symptom, ...]:
        """What is noticed today."""
        return tuple(map(Symptom, self.the("symptoms", tuple) or ()))

    @property
    def number_in_home(self) -> Literal[1, 2, 3] | None:
        """1, 2, or 3 for the third or any later heater."""
        return _NUMBER_IN_HOME.get(self.the("heater_number", str) or "")

    @property
    def previous_gone(self) -> Dated | None:
        """When the heater before it went."""
        return self.the("previous_gone", Dated)

    @property
    def previous_end(self) -> EndCause | None:
        """Why the heater before it went."""
        return self.the("previous_end", EndCause)

    @property
    def moved_in(self) -> Dated | None:
        """Since when the people know the home."""
        return self.the("moved_in", Dated)


class Severity(StrEnum):
    """How much a problem stands in the way."""

    ERROR = "error"
    CONTRADICTION = "contradiction"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """Something to tell the person about one answer.

    Parameters
    ----------
    field
        The question's key ("" where it concerns the answer as a whole).
    what, remedy
        What is wrong, and what to do about it, in plain sentences.
    severity
        An error or a contradiction keeps the answer from being taken; a note does not.
    key
        A stable name, under which the problem can be overruled.
    overrulable
        Whether a reason sets it aside: every contradiction, and what cannot be
        read in a field that may be left open (it then counts as left open).
    overruled_because
        The reason the person gave, "" when none.
    """

    field: str
    what: str
    remedy: str
    severity: Severity
    key: str
    overrulable: bool = False
    overruled_because: str = ""

    @property
    def blocking(self) -> bool:
        """Whether the answer cannot be taken as long as this stands."""
        return self.severity is not Severity.NOTE and not self.overruled_because

    @property
    def sentence(self) -> str:
        """What is wrong and what to do, in one piece."""
        return f"{self.what} {self.remedy}".strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """An answer after the check.

    ``answer`` is None while a problem blocks it; ``content`` is what could be
    understood, also then (None only without an address). ``problems`` holds all
    of them at once, what concerns safety first.
    """

    answer: Answer | None
    content: Content | None
    problems: tuple[Problem, ...] = ()

    @property
    def blocking(self) -> tuple[Problem, ...]:
        """The problems that keep the answer from being taken."""
        return tuple(problem for problem in self.problems if problem.blocking)

    @property
    def must_settle(self) -> bool:
        """Whether something must be corrected, or overruled with a reason, before the answer is taken."""
        return self.answer is None

    @property
    def notes(self) -> tuple[Problem, ...]:
        """What the person is told without being asked to change anything."""
        return tuple(problem for problem in self.problems if problem.severity is Severity.NOTE)
