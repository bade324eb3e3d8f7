"""The usual cautions, shown wherever work on a heater is spoken of.

What is said here is common practice, no source, unless a line names one. It
never replaces the local code, the maker's instructions or a licensed
contractor, and says so. The words are in ``texts/*/cautions.ftl``.
"""

from __future__ import annotations

from collections.abc import Iterable

from survey_app.records import Symptom
from survey_app.texts import ENGLISH, Texts

__all__ = ["CAUTION_KEYS", "cautions", "first_things"]

CAUTION_KEYS: tuple[str, ...] = (
    "gas-smell",
    "relief-or-switch",
    "hot-water",
    "breaker-first",
    "carbon-monoxide",
    "licensed-work",
    "code-and-maker",
)
"""Every caution by its name, in the order in which they are read."""

_FIRST: dict[Symptom, str] = {
    Symptom.GAS_SMELL: "cautions-first-gas-smell",
    Symptom.CARBON_MONOXIDE: "cautions-first-carbon-monoxide",
    Symptom.RELIEF_OPENED: "cautions-first-relief-opened",
    Symptom.BAD_FLUE: "cautions-first-bad-flue",
    Symptom.SAFETY_SWITCH: "cautions-first-safety-switch",
}
"""What comes before everything else, the most pressing first."""


def cautions(say: Texts = ENGLISH, keys: Iterable[str] = CAUTION_KEYS) -> tuple[str, ...]:
    """The usual cautions in one language, one sentence group each.

    Parameters
    ----------
    say
        The language.
    keys
        Which of :data:`CAUTION_KEYS`; all of them unless told otherwise.
    """
    return tuple(say(f"cautions-{key}") for key in keys)


def first_things(symptoms: Iterable[Symptom], say: Texts = ENGLISH) -> tuple[str, ...]:
    """The sentences that come before everything else for these symptoms, gas first."""
    seen = set(symptoms)
    return tuple(say(key) for symptom, key in _FIRST.items() if symptom in seen)
