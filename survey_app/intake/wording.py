"""What is said about an answer, in the language of whoever gave it.

Every problem has the message ``problem-<its key>`` in ``texts/*/problems.ftl``,
with the remedy as its attribute; problems that any question can have share
one.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from survey_app.intake.content import Problem, Severity
from survey_app.intake.questions import KEYS
from survey_app.records import Dated
from survey_app.texts import ENGLISH, Texts
from survey_app.typed_dates import describe

__all__ = ["Finding", "Words", "amount", "day", "message_of", "when", "window"]

_SHARED = ("unreadable", "read-as", "in-future", "before-installed", "year-or-age")

Words = Callable[[Texts], Mapping[str, str]]
"""What a message needs, written for a language."""


def _nothing(_: Texts) -> Mapping[str, str]:
    return {}


def message_of(key: str) -> str:
    """The message of a problem's key: its own, or the one that all questions share."""
    stem, _, ending = key.partition("-")
    if stem in KEYS and ending in _SHARED:
        return f"problem-{ending}"
    return "problem-" + key.replace(":", "-").replace(" ", "-")


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """A problem not yet told: most answers are read without anybody being told a word.

    Parameters
    ----------
    field, key, severity, overrulable
        As the problem will have them.
    message
        Its message, with the remedy as the message's attribute.
    words
        What the message needs.
    """

    field: str
    key: str
    severity: Severity
    message: str
    overrulable: bool = False
    words: Words = _nothing

    @classmethod
    def of(
        cls,
        field: str,
        key: str,
        severity: Severity,
        words: Words | None = None,
        *,
        message: str | None = None,
        overrulable: bool = False,
    ) -> Finding:
        """A finding with the message of its key, unless another is named."""
        return cls(
            field=field,
            key=key,
            severity=severity,
            message=message or message_of(key),
            overrulable=overrulable,
            words=words or _nothing,
        )

    def told(self, say: Texts) -> Problem:
        """The problem in one language."""
        words = self.words(say)
        remedy = say(f"{self.message}.remedy", **words) if say.has(f"{self.message}.remedy") else ""
        return Problem(
            field=self.field,
            what=say(self.message, **words),
            remedy=remedy,
            severity=self.severity,
            key=self.key,
            overrulable=self.overrulable,
        )


def amount(value: float, say: Texts) -> str:
    """A size or a term: in English as sheets and reports always had it."""
    return f"{value:g}" if say is ENGLISH else say.number(value, 0 if value == int(value) else 1)


def day(on: date, say: Texts) -> str:
    """A day: in English as sheets have it (2009-05-12)."""
    return on.isoformat() if say is ENGLISH else say.day(on)


def when(dated: Dated, say: Texts) -> str:
    """A window with its preposition: "on May 12, 2009", "in 2009"."""
    return say("problem-on" if dated.earliest == dated.latest else "problem-in", when=window(dated, say))


def window(dated: Dated, say: Texts) -> str:
    """A window in words; windows wider than a month by their years."""
    if (dated.latest - dated.earliest).days <= 31:
        return describe(dated, say)
    first, last = str(dated.earliest.year), str(dated.latest.year)
    return first if first == last else say("dates-years", first=first, last=last)
