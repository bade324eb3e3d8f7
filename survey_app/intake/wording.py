"""What is said about an answer, in the language of whoever gave it.

Every problem has the message ``problem-<its key>`` in ``texts/*/problems.ftl``,
with the remedy as its attribute; problems that any question can have share
one. The question's own words are English; a translation has them as ``q-…``.
"""

from __future__ import annotations

from datetime import date

from survey_app.intake.content import Problem, Severity
from survey_app.intake.questions import Question, Widget
from survey_app.records import Dated
from survey_app.texts import ENGLISH, Texts
from survey_app.typed_dates import describe

__all__ = [
    "allowed",
    "amount",
    "day",
    "label_in",
    "message_of",
    "problem",
    "question_help",
    "question_text",
    "when",
    "window",
]

_SHARED = ("-unreadable", "-read-as")


def message_of(key: str) -> str:
    """The message of a problem's key: its own, or the one that all questions share."""
    for ending in _SHARED:
        if key.endswith(ending):
            return f"problem{ending}"
    return "problem-" + key.replace(":", "-").replace(" ", "-")


def problem(
    field: str,
    key: str,
    severity: Severity,
    say: Texts,
    *,
    message: str | None = None,
    overrulable: bool = False,
    **values: str,
) -> Problem:
    """A problem in one language.

    Parameters
    ----------
    field, key, severity, overrulable
        As the problem has them.
    say
        The language.
    message
        The message, where it is not that of the key.
    values
        What the message needs, as text already written for the language.
    """
    name = message or message_of(key)
    remedy = say(f"{name}.remedy", **values) if say.has(f"{name}.remedy") else ""
    what = say(name, **values)
    return Problem(field=field, what=what, remedy=remedy, severity=severity, key=key, overrulable=overrulable)


def question_text(asked: Question, say: Texts) -> str:
    """A question in one language: the translation's words, or the question's own."""
    return say(f"q-{asked.key}") if say.has(f"q-{asked.key}") else asked.text


def question_help(asked: Question, say: Texts) -> str:
    """A question's line of help in one language."""
    return say(f"q-{asked.key}.help") if say.has(f"q-{asked.key}.help") else asked.help


def label_in(asked: Question, value: str, say: Texts) -> str:
    """The label of a stored value in one language."""
    key = f"q-{asked.key}.{value.replace(' ', '-')}"
    return say(key) if say.has(key) else asked.label(value)


def allowed(asked: Question, say: Texts) -> str:
    """What may be chosen: in English the values as a sheet has them, else the labels of the form."""
    if say is ENGLISH:
        return asked.allowed
    labels = ", ".join(label_in(asked, value, say) for value in asked.values)
    return say("problem-any-of", choices=labels) if asked.widget is Widget.CHOICES else labels


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
