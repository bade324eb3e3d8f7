"""One key for one answer: the letters printed in the paper form's boxes, and what they stand for when typed.

They are the same in every language, so that whoever types needs no Spanish for a Spanish form. Words are still
understood wherever they are typed in full.
"""

from __future__ import annotations

from survey_app.intake.kinds import Question
from survey_app.intake.questions import question

__all__ = ["from_short", "one_key", "short_codes"]

_SAME_KEY = {"/": "?"}
"""The same key of a US keyboard without Shift."""
_NEVER = "n"


def short_codes(key: str) -> dict[str, str]:
    """The letter of each answer to a question with choices, by its stored value, in the order of the choices.

    Examples
    --------
    >>> short_codes("heater_number")
    {'first': '1', 'second': '2', 'third or later': '3', 'not sure': '?'}
    """
    return {str(choice.value): choice.short for choice in question(key).choices}


def one_key(asked: Question) -> bool:
    """Whether one key answers the question, so that the next one may come by itself."""
    return asked.one_of


def from_short(key: str, typed: str) -> str:
    """What was typed for a question with its short codes written out; anything else as it stands.

    Examples
    --------
    >>> from_short("kind", "g"), from_short("weekdays", "26"), from_short("last_flush", "n")
    ('gas storage', 'tue;sat', 'never')
    >>> from_short("kind", "natural gas"), from_short("remarks", "n")
    ('natural gas', 'n')
    """
    asked = question(key)
    text = typed.strip()
    if asked.never and text.casefold() == _NEVER:
        return "never"
    values = {choice.short: str(choice.value) for choice in asked.choices}
    letters = [_SAME_KEY.get(letter, letter) for letter in text.casefold() if letter not in " ,;"]
    several = asked.any_of
    if not letters or not values or (len(letters) > 1 and not several) or any(one not in values for one in letters):
        return text
    return ";".join(dict.fromkeys(values[one] for one in letters))
