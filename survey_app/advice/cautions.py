"""The usual cautions, shown wherever work on a heater is spoken of.

What is said here is common practice, no source, unless a line names one. It
never replaces the local code, the maker's instructions or a licensed
contractor, and says so.
"""

from __future__ import annotations

from collections.abc import Iterable

from survey_app.records import Symptom

__all__ = ["CAUTIONS", "FIRST_THINGS", "first_things"]

FIRST_THINGS: dict[Symptom, str] = {
    Symptom.GAS_SMELL: (
        "You smell gas. If you can do it safely on the way, shut off the gas at the heater. Touch no switch, light "
        "nothing, leave the house with everyone in it, and call the gas utility or the emergency number from outside."
    ),
    Symptom.RELIEF_OPENED: (
        "The relief valve has opened: the water may have been too hot or the pressure too high. Keep away from its "
        "outlet, it can scald. Turn the heater off (gas: the control to off; electric: the breaker) and call a "
        "licensed contractor now. Never plug or cap the valve."
    ),
    Symptom.SAFETY_SWITCH: (
        "The burner's safety switch has tripped: the burner may be short of air or the flue blocked, and carbon "
        "monoxide may be in the room. Do not reset it. Air the room; if a carbon monoxide alarm sounds or anyone feels "
        "dizzy or sick, leave the house and call the emergency number. Call a licensed contractor now."
    ),
}
"""What comes before everything else, by what the resident sees or smells."""

CAUTIONS: tuple[str, ...] = (
    "Gas smell: shut off if it is safe, leave, call the gas utility or the emergency number from outside.",
    "A relief valve that has opened, or a burner safety switch that has tripped: a licensed contractor, now.",
    "Hot water scalds: a tank holds it for hours after it is turned off.",
    "Electric heaters: breaker off first, always, before any draining; an element that runs dry burns out.",
    "Gas heaters: a carbon monoxide alarm belongs near the bedrooms; flue and burner are for a licensed contractor.",
    "Anode rods, gas lines, relief valves and replacements are work for a licensed contractor with a permit where "
    "the local code asks for one.",
    "The local code and the maker's instructions go before anything said here.",
)


def first_things(symptoms: Iterable[Symptom]) -> tuple[str, ...]:
    """The sentences that come before everything else for these symptoms, gas first."""
    seen = set(symptoms)
    return tuple(sentence for symptom, sentence in FIRST_THINGS.items() if symptom in seen)
