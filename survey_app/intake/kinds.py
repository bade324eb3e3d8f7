"""What a question is: how it is answered, where the answer lands, and the words in which it is asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache

from survey_app.intake import spellings
from survey_app.intake.spellings import Spelled
from survey_app.records import Interest, ServiceKind, Tri
from survey_app.texts import ENGLISH, Texts, texts

__all__ = ["NO", "SECTIONS", "YES", "Choice", "Kind", "Lands", "Question", "Section"]


class Kind(StrEnum):
    """How a question is answered."""

    YES_NO = "yes or no"
    INTEREST = "yes, maybe or no"
    CHOICE = "one of several"
    CHOICES = "any of several"
    DATE = "date"
    DONE = "date or never"
    NUMBER = "number"
    CODE = "code"
    TEXT = "text"


class Lands(StrEnum):
    """Where an answer lands, in a field named like the question."""

    HEATER = "heater"
    HOME = "home"
    WISHES = "wishes"
    ACT = "act"
    """Not a field: a dated act on the heater, or one that was never done."""


class Section(StrEnum):
    """The parts of the form, in order."""

    HOME = "home"
    HEATER = "heater"
    AGE = "age"
    AROUND = "around"
    CARE = "care"
    TODAY = "today"
    BEFORE = "before"
    TOGETHER = "together"
    CONTACT = "contact"

    def head(self, say: Texts = ENGLISH) -> str:
        """What stands over this part of the form."""
        return _words(say.language, f"q-section-{self}")


SECTIONS = tuple(Section)


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer to choose: the value that is stored, and the letter in its box on paper, which is typed for it.

    Letters are the same in every language, so that whoever types needs no Spanish for a Spanish form.
    """

    value: str
    short: str


YES, NO = Choice(Tri.YES, "y"), Choice(Tri.NO, "n")
_SHARED_CHOICES: Mapping[Kind, tuple[Choice, ...]] = {
    Kind.YES_NO: (YES, NO, Choice(Tri.UNKNOWN, "?")),
    Kind.INTEREST: (
        Choice(Interest.YES, "y"),
        Choice(Interest.MAYBE, "m"),
        Choice(Interest.NO, "n"),
        Choice(Interest.UNKNOWN, "?"),
    ),
}
_SHARED_SPELLINGS = {Kind.YES_NO: spellings.YES_NO, Kind.INTEREST: spellings.INTEREST}
_SHARED_LABELS = {Kind.YES_NO: "q-yes-no", Kind.INTEREST: "q-interest"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question, as data.

    Parameters
    ----------
    key
        Its name in an answer's ``given``, as a column of the import, and as the field where it lands.
    kind
        How it is answered.
    section
        Where it is asked.
    lands
        Where the answer goes; None where it is only read together with others (`reading`, `history`).
    act
        What was done, for one that lands as an act.
    choices
        The answers in order, where one chooses; those of its kind unless given.
    spelled
        Spellings that are its own, beside those of its kind.
    headers
        Other names that its column has in spreadsheets.
    example
        What the template's example row shows.
    required
        Whether it must be answered (the address alone).
    of_resident
        Whether the resident is asked; if not, only the volunteer or the import gives it.
    may_be_future
        For dates, whether the day may lie ahead.
    one_day
        For dates, whether a day is meant, so that the middle of a window is kept.
    never_is_open
        For dates, whether "never" leaves it open instead of being no date.
    minor
        Whether an answer that cannot be read is only noted, since nothing rests on it.
    """

    key: str
    kind: Kind
    section: Section
    lands: Lands | None = None
    act: ServiceKind | None = None
    choices: tuple[Choice, ...] = ()
    spelled: Spelled = field(default_factory=Spelled)
    headers: tuple[str, ...] = ()
    example: str = ""
    required: bool = False
    of_resident: bool = True
    may_be_future: bool = False
    one_day: bool = False
    never_is_open: bool = False
    minor: bool = False

    def __post_init__(self) -> None:
        object.__setattr__(self, "choices", self.choices or _SHARED_CHOICES.get(self.kind, ()))
        object.__setattr__(self, "spelled", _SHARED_SPELLINGS.get(self.kind, Spelled()) | self.spelled)

    @property
    def one_of(self) -> bool:
        """Whether one answer is chosen out of some."""
        return self.kind in (Kind.YES_NO, Kind.INTEREST, Kind.CHOICE)

    @property
    def any_of(self) -> bool:
        """Whether any number of answers is chosen."""
        return self.kind is Kind.CHOICES

    @property
    def is_date(self) -> bool:
        """Whether a date answers it."""
        return self.kind in (Kind.DATE, Kind.DONE)

    @property
    def never(self) -> bool:
        """Whether "never" is an answer."""
        return self.kind is Kind.DONE

    @property
    def values(self) -> tuple[str, ...]:
        """The stored values of the choices, in order."""
        return tuple(choice.value for choice in self.choices)

    def stored(self, value: str) -> str:
        """The stored value itself, a word of the records, for its text."""
        return next(one for one in self.values if one == value)

    def text(self, say: Texts = ENGLISH) -> str:
        """The question itself."""
        return _words(say.language, f"q-{self.key}")

    def help(self, say: Texts = ENGLISH) -> str:
        """A line of help, "" where there is none."""
        return _words(say.language, f"q-{self.key}.help", missing="")

    def short(self, say: Texts = ENGLISH) -> str:
        """What it asks about in a word or two, for lists of what is on file; the question where it has none."""
        return _words(say.language, f"q-{self.key}.short", missing="") or self.text(say)

    def label(self, value: str, say: Texts = ENGLISH) -> str:
        """What a person reads for a stored value (the value itself when it is none of the choices)."""
        if value not in self.values:
            return value
        own = f"q-{self.key}.{value.replace(' ', '-')}"
        shared = f"{_SHARED_LABELS.get(self.kind, '')}.{value.replace(' ', '-')}"
        return _words(say.language, own, missing="") or _words(say.language, shared)

    def allowed(self, say: Texts = ENGLISH) -> str:
        """What may be written: in English the values as a sheet has them, else the labels of the form."""
        if self.one_of or self.any_of:
            english = say.language == "en"
            shown = ", ".join(value if english else self.label(value, say) for value in self.values)
            if not self.any_of:
                return shown
            return f'any of these, separated by ";": {shown}' if english else say("problem-any-of", choices=shown)
        if self.is_date:
            forms = '2009, about 2009, 5/2009, May 2009, 2009-05-12, 05/12/2009, 2008-2010, spring 2009, "10 years ago"'
            return f"a date as people write it: {forms}" + (", or never" if self.never else "")
        if self.kind is Kind.NUMBER:
            return "a number"
        return "the code as printed" if self.kind is Kind.CODE else "text"


@cache
def _words(language: str, key: str, *, missing: str | None = None) -> str:
    """A question's words, formed once: a form has hundreds of them on every run."""
    say = texts(language)
    return say(key) if missing is None or say.has(key) else missing
