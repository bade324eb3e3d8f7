"""The deep flush and the anode, explained: the order of work, when to leave it alone, what comes out.

The order of work and the findings are common practice, no source; the relief
valve's three years are the National Board's (BULLETIN, Summer 1993). Every list
carries its cautions. The words are in ``texts/*/flushing.ftl``.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from survey_app.records import Heater, HeaterKind, ServiceKind, Symptom
from survey_app.symptoms import DRAIN_VALVE_STUCK
from survey_app.texts import ENGLISH, Texts

__all__ = [
    "ANODE_FACTS",
    "FINDINGS",
    "FLUSH_STEPS",
    "NOT_YOURSELF",
    "RINSES",
    "FlushStep",
    "anode_sentences",
    "finding_rows",
    "flush_steps",
    "reasons_not_to",
    "relief_valve_sentences",
]

RINSES = (3, 4)
"""How often the bottom is stirred and drained again after the first time (common practice, no source)."""
_GAS, _ELECTRIC, _HEAT_PUMP = HeaterKind.GAS_STORAGE, HeaterKind.ELECTRIC_STORAGE, HeaterKind.HEAT_PUMP_STORAGE
_VARIANT = {_GAS: "gas", _ELECTRIC: "electric", _HEAT_PUMP: "electric"}


@dataclass(frozen=True, slots=True)
class FlushStep:
    """One step; its words are the message ``flushing-step-<key>``.

    Parameters
    ----------
    key
        Its name.
    by_kind
        Whether gas and electric heaters differ here (attributes ``gas`` and ``electric``).
    caution
        Whether it can hurt or do harm (attribute ``caution``).
    look
        Whether what one sees is told (attribute ``look``): a picture in words.
    """

    key: str
    by_kind: bool = False
    caution: bool = False
    look: bool = False


FLUSH_STEPS: tuple[FlushStep, ...] = (
    FlushStep("heat-off", by_kind=True, caution=True, look=True),
    FlushStep("pump-off"),
    FlushStep("cool", caution=True),
    FlushStep("inlet-closed", caution=True, look=True),
    FlushStep("hose", caution=True, look=True),
    FlushStep("tap-open"),
    FlushStep("drain-open", caution=True, look=True),
    FlushStep("stir", look=True),
    FlushStep("again"),
    FlushStep("drain-closed", caution=True),
    FlushStep("fill", look=True),
    FlushStep("heat-on", by_kind=True, caution=True),
    FlushStep("look-again", caution=True),
)
"""The order of work; nothing in it may change places."""


def flush_steps(kind: HeaterKind, say: Texts = ENGLISH) -> list[str]:
    """The order of work in words, each step line by line: what to do with this kind of heater, what one sees, cautions.

    Parameters
    ----------
    kind
        The heater. Where nobody knows, each step tells both ways. A tankless heater has no tank: no steps.
    say
        The language.
    """
    if not kind.has_tank:
        return []
    ways = [_VARIANT[kind]] if kind in _VARIANT else ["gas", "electric"]
    told = []
    for step in FLUSH_STEPS:
        key = f"flushing-step-{step.key}"
        parts = [say(key, low=RINSES[0], high=RINSES[1])]
        parts += [say(f"{key}.{way}") for way in ways if step.by_kind]
        if step.look:
            parts.append(say(f"{key}.look"))
        if step.caution:
            parts.append(say("flushing-caution", what=say(f"{key}.caution")))
        told.append("\n".join(parts))
    return told


NOT_YOURSELF = (
    "never-flushed",
    "valve-trouble",
    "no-shut-off",
    "tank-leaks",
    "rust",
    "relief-opened",
    "safety-switch",
    "place",
    "person",
    "unsure",
)
"""When not to do it oneself, each the end of a message ``flushing-not-<key>``."""
_BY_SYMPTOM = {
    Symptom.LEAK: "tank-leaks",
    Symptom.RUSTY_WATER: "rust",
    Symptom.RELIEF_OPENED: "relief-opened",
    Symptom.SAFETY_SWITCH: "safety-switch",
}
_BY_FINDING = {DRAIN_VALVE_STUCK: "valve-trouble"}


def reasons_not_to(
    heater: Heater | None,
    age_years: float | None,
    *,
    flushed: bool = False,
    caution_years: float = 8.0,
    reported: Iterable[str] = (),
) -> tuple[str, ...]:
    """Which of :data:`NOT_YOURSELF` the records of one home already show.

    Parameters
    ----------
    heater
        The one in service, with what its people saw; None where nothing is on file.
    age_years
        Its age; None where nobody knows.
    flushed
        Whether a flush of it is on file.
    caution_years
        From this age on a tank without a known flush is not to be disturbed (the community's setting).
    reported
        What else stands of it, such as what a crew found.

    Returns
    -------
    tuple of str
        The keys. An empty tuple says nothing against it is known, not that all is well.
    """
    if heater is None:
        return ()
    never = ServiceKind.FLUSH in heater.never_done
    old = age_years is not None and age_years >= caution_years
    # Said to be never flushed, at an age nobody knows, is treated as old: the safe side.
    neglected = (not flushed and old) or (never and not flushed and age_years is None)
    shown = {_BY_SYMPTOM[s] for s in heater.symptoms if s in _BY_SYMPTOM}
    if neglected:
        shown.add("never-flushed")
    shown |= {_BY_FINDING[what] for what in reported if what in _BY_FINDING}
    return tuple(key for key in NOT_YOURSELF if key in shown)


FINDINGS = ("clear", "white-grit", "jelly", "rust", "flakes", "nothing")
"""What can come out, each the message ``flushing-finding-<key>`` with the attribute ``says``."""


def finding_rows(say: Texts = ENGLISH) -> list[tuple[str, str]]:
    """What comes out, and what it says."""
    return [(say(f"flushing-finding-{key}"), say(f"flushing-finding-{key}.says")) for key in FINDINGS]


ANODE_FACTS = ("what", "when", "first", "metal", "hidden", "who")
"""The anode explained, each the end of a message ``flushing-anode-<key>``."""


def anode_sentences(say: Texts = ENGLISH) -> list[str]:
    """What the anode is, when it is due, of which metal, where it can hide, and whose work it is."""
    return [say(f"flushing-anode-{key}") for key in ANODE_FACTS]


def relief_valve_sentences(say: Texts = ENGLISH) -> list[str]:
    """Testing the relief valve, with its dangers."""
    return say.lines("flushing-relief")
