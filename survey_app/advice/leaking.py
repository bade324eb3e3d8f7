"""The heater leaks now: numbered steps, gas and electric, who to call, what not to do, as data.

Common practice, no source. Both variants are always told, since a record can be
wrong and the person stands before the heater. The words are in
``texts/*/leaking.ftl``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from survey_app.texts import ENGLISH, Texts

__all__ = ["CONTACTS", "EMERGENCY_NUMBER", "STEPS", "Call", "Energy", "LeakStep", "calls", "leak_steps"]

EMERGENCY_NUMBER = "911"
"""The emergency number of the United States (47 U.S.C. 251(e)(3))."""
CONTACTS: tuple[str, ...] = (
    "emergency",
    "gas-utility",
    "electric-utility",
    "water-utility",
    "contractor",
    "insurer",
    "volunteer",
)
"""Whom to call, the most pressing first."""
STEPS: tuple[str, ...] = ("safe", "water", "heat", "drain", "photos", "keep", "call", "dry")
"""The steps by name, in the order in which they are done."""


class Energy(StrEnum):
    """What heats the water, as far as a leak is concerned."""

    GAS = "gas"
    ELECTRIC = "electric"
    UNSURE = "unsure"


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakStep:
    """One numbered step: what to do whatever the heater, and what depends on its kind."""

    number: int
    key: str
    title: str
    lines: tuple[str, ...]
    variants: Mapping[Energy, tuple[str, ...]]
    """Empty, or what to do for gas, for electric, and how to tell for who does not know."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """Somebody to call: who, when, and the number; empty where it has to be written in."""

    key: str
    who: str
    why: str
    number: str


def leak_steps(say: Texts = ENGLISH) -> tuple[LeakStep, ...]:
    """The steps in one language, numbered from 1."""
    return tuple(
        LeakStep(
            number=number,
            key=key,
            title=say(f"leaking-step-{key}"),
            lines=tuple(say.lines(f"leaking-step-{key}.do")),
            variants={e: tuple(say.lines(f"leaking-step-{key}.{e}")) for e in Energy}
            if say.has(f"leaking-step-{key}.{Energy.GAS}")
            else {},
        )
        for number, key in enumerate(STEPS, 1)
    )


def calls(say: Texts = ENGLISH, contacts: Mapping[str, str] | None = None) -> tuple[Call, ...]:
    """Whom to call.

    Parameters
    ----------
    say
        The language.
    contacts
        Numbers the community knows, by the names of :data:`CONTACTS`.

    Raises
    ------
    ValueError
        When a contact has another name: it would be left out in silence.
    """
    known = {"emergency": EMERGENCY_NUMBER, **(contacts or {})}
    strange = sorted(set(known) - set(CONTACTS))
    if strange:
        raise ValueError(f"There is no contact '{', '.join(strange)}'. The contacts are: {', '.join(CONTACTS)}.")
    return tuple(
        Call(
            key=key,
            who=say(f"leaking-call-{key}"),
            why=say(f"leaking-call-{key}.why"),
            number=known.get(key, "").strip(),
        )
        for key in CONTACTS
    )
