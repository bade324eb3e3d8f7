"""One key for one answer: the letters printed in the paper form's boxes, and what they stand for when typed.

They are the same in every language, so that whoever types needs no Spanish for a Spanish form. Words are still
understood wherever they are typed in full.
"""

from __future__ import annotations

from collections.abc import Mapping

from survey_app.intake.questions import WEEKDAYS, Question, Widget, question
from survey_app.records import DateEvidence, EndCause, HalfDay, HeaterKind, Interest, Place, Symptom, Tri

__all__ = ["from_short", "one_key", "short_codes"]

_TRI: Mapping[str, str] = {Tri.YES: "y", Tri.NO: "n", Tri.UNKNOWN: "?"}
_INTEREST: Mapping[str, str] = {Interest.YES: "y", Interest.MAYBE: "m", Interest.NO: "n", Interest.UNKNOWN: "?"}
_CODES: Mapping[str, Mapping[str, str]] = {
    **dict.fromkeys(("pan", "leak_alarm", "auto_shutoff", "softener", "expansion_tank", "consent"), _TRI),
    **dict.fromkeys(("flush_day", "anode_day", "group_purchase"), _INTEREST),
    "kind": {
        HeaterKind.GAS_STORAGE: "g",
        HeaterKind.ELECTRIC_STORAGE: "e",
        HeaterKind.HEAT_PUMP_STORAGE: "h",
        HeaterKind.TANKLESS: "t",
        HeaterKind.UNKNOWN: "?",
    },
    "installed_evidence": {
        DateEvidence.DOCUMENT: "p",
        DateEvidence.DATA_PLATE: "l",
        DateEvidence.DATE_CODE: "c",
        DateEvidence.HOUSE_COMPLETION: "h",
        DateEvidence.MEMORY: "m",
    },
    "place": {
        Place.GARAGE: "g",
        Place.OUTSIDE: "o",
        Place.BASEMENT: "b",
        Place.CLOSET: "c",
        Place.UPPER_FLOOR: "u",
        Place.ATTIC: "a",
        Place.OTHER: "s",
        Place.UNKNOWN: "?",
    },
    "anode_work": {"checked": "c", "changed": "n"},
    # Figures where several may be ticked, so that no word is taken for a row of them.
    "symptoms": {
        Symptom.GAS_SMELL: "1",
        Symptom.RELIEF_OPENED: "2",
        Symptom.SAFETY_SWITCH: "3",
        Symptom.LEAK: "4",
        Symptom.RELIEF_DRIPS: "5",
        Symptom.RUSTY_WATER: "6",
        Symptom.RUMBLE: "7",
        Symptom.SMELLY_WATER: "8",
        Symptom.RUNS_OUT: "9",
        Symptom.PILOT_OUT: "p",
        Symptom.NO_HOT_WATER: "h",
        "none": "0",
    },
    "heater_number": {"first": "1", "second": "2", "third or later": "3", "not sure": "?"},
    "previous_end": {EndCause.FAILED: "f", EndCause.REPLACED: "r", EndCause.CONVERTED: "k", EndCause.UNKNOWN: "?"},
    "weekdays": {day: str(number) for number, day in enumerate(WEEKDAYS, start=1)},
    "half_day": {HalfDay.ANY: "e", HalfDay.MORNING: "m", HalfDay.AFTERNOON: "a"},
}
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
    return {str(value): _CODES[key][value] for value in question(key).values} if key in _CODES else {}


def one_key(asked: Question) -> bool:
    """Whether one key answers the question, so that the next one may come by itself."""
    return asked.widget is Widget.CHOICE


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
    values = {code: value for value, code in short_codes(key).items()}
    letters = [_SAME_KEY.get(letter, letter) for letter in text.casefold() if letter not in " ,;"]
    several = asked.widget is Widget.CHOICES
    if not letters or not values or (len(letters) > 1 and not several) or any(one not in values for one in letters):
        return text
    return ";".join(dict.fromkeys(values[one] for one in letters))
