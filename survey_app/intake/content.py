"""What one answer says once it is understood, and what was found wrong with it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Literal

from survey_app.date_codes import Reading
from survey_app.records import Answer, Dated, EndCause, HalfDay, HeaterKind, Interest, Place, Symptom, Tri

__all__ = ["NEVER", "Checked", "Content", "Done", "InstalledBasis", "Problem", "Severity"]

NEVER: Literal["never"] = "never"
Done = Dated | Literal["never"] | None
"""When something was done: a window, never, or left open."""


class InstalledBasis(StrEnum):
    """Where an answer's installation date comes from."""

    STATED = "stated"
    CODE = "probable reading of the date code"
    PREVIOUS = "when the heater before it went"
    HOUSE = "first heater of the house"


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """One answer, understood. None, unknown and empty mean left open.

    ``installed`` carries its evidence and ``installed_basis`` says how it was
    come by; ``code_readings`` are the readings of the date code, those that fit
    first. ``number_in_home`` is 1, 2, or 3 for the third or any later heater.
    ``answered_on`` is the day the answer speaks of.
    """

    address: str
    answered_on: date
    kind: HeaterKind = HeaterKind.UNKNOWN
    tank_gallons: float | None = None
    installed: Dated | None = None
    installed_basis: InstalledBasis | None = None
    date_code: str = ""
    code_readings: tuple[Reading, ...] = ()
    warranty_years: float | None = None
    warranty_end: date | None = None
    place: Place = Place.UNKNOWN
    pan: Tri = Tri.UNKNOWN
    leak_alarm: Tri = Tri.UNKNOWN
    auto_shutoff: Tri = Tri.UNKNOWN
    softener: Tri = Tri.UNKNOWN
    expansion_tank: Tri = Tri.UNKNOWN
    last_flush: Done = None
    last_anode: Done = None
    anode_work: Literal["checked", "changed"] | None = None
    relief_valve_test: Done = None
    symptoms: tuple[Symptom, ...] = ()
    no_symptoms: bool = False
    """Whether the person said that nothing is unusual (a blank is not that)."""
    number_in_home: Literal[1, 2, 3] | None = None
    previous_gone: Dated | None = None
    previous_end: EndCause | None = None
    moved_in: Dated | None = None
    flush_day: Interest = Interest.UNKNOWN
    anode_day: Interest = Interest.UNKNOWN
    group_purchase: Interest = Interest.UNKNOWN
    weekdays: tuple[str, ...] = ()
    half_day: HalfDay | None = None
    consent: Tri = Tri.UNKNOWN
    contact: str = ""
    remarks: str = ""

    @property
    def refused(self) -> bool:
        """Whether the person said no to the survey: then nothing else is kept."""
        return self.consent is Tri.NO


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
