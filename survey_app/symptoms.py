"""What a reported symptom means for everything else, once: pages, papers, odds and service days read this table.

A symptom stands until it is said to be settled, and by whom that may be said
is part of the table. The rules are common practice, no source: nobody works on
a heater that smells of gas, nobody is told odds for one that leaks.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from survey_app.records import Report, ServiceKind, Symptom

__all__ = [
    "ANODE_SPENT",
    "DRAIN_VALVE_STUCK",
    "FINDINGS",
    "SYMPTOMS",
    "Crew",
    "FoundByCrew",
    "Handling",
    "Settled",
    "crew_while",
    "handling",
    "leading",
    "most_pressing",
    "odds_stand",
    "settled_by",
    "strictest_crew",
]


class Crew(StrEnum):
    """Whether a crew of a service day may come while the symptom stands, the freest first."""

    COMES = "comes"
    CONTRACTOR_FIRST = "contractor decides first"
    STAYS_AWAY = "stays away"


class Settled(StrEnum):
    """Whose look settles it; the people of the home say that it happened and when."""

    PEOPLE = "the people of the home"
    CONTRACTOR = "a licensed contractor"
    UTILITY = "the gas utility or the fire department"


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """One symptom's row.

    Parameters
    ----------
    symptom
        What was seen, heard or smelled.
    comes_first
        Whether it is a danger that stops everything else: see the cautions.
    odds
        Whether odds and sums of money still speak of this heater while it stands.
    crew
        What it means for a service day.
    settled
        Whose look settles it.
    outcome
        The outcome of the triage that says what to do next.
    """

    symptom: Symptom
    comes_first: bool = False
    odds: bool = True
    crew: Crew = Crew.COMES
    settled: Settled = Settled.PEOPLE
    outcome: str


def _danger(symptom: Symptom, outcome: str, settled: Settled) -> Handling:
    return Handling(
        symptom=symptom, comes_first=True, odds=False, crew=Crew.STAYS_AWAY, settled=settled, outcome=outcome
    )


SYMPTOMS: tuple[Handling, ...] = (
    _danger(Symptom.GAS_SMELL, "gas-smell", Settled.UTILITY),
    _danger(Symptom.CARBON_MONOXIDE, "carbon-monoxide", Settled.UTILITY),
    _danger(Symptom.RELIEF_OPENED, "relief-opened", Settled.CONTRACTOR),
    _danger(Symptom.BAD_FLUE, "bad-flue", Settled.CONTRACTOR),
    _danger(Symptom.SAFETY_SWITCH, "safety-switch", Settled.CONTRACTOR),
    Handling(
        symptom=Symptom.LEAK,
        odds=False,
        crew=Crew.STAYS_AWAY,
        settled=Settled.CONTRACTOR,
        outcome="leak-not-sure",
    ),
    Handling(
        symptom=Symptom.TOO_HOT,
        odds=False,
        crew=Crew.STAYS_AWAY,
        settled=Settled.CONTRACTOR,
        outcome="too-hot-not-sure",
    ),
    Handling(
        symptom=Symptom.RUSTY_WATER,
        odds=False,
        crew=Crew.STAYS_AWAY,
        settled=Settled.CONTRACTOR,
        outcome="rust-hot",
    ),
    Handling(symptom=Symptom.PILOT_OUT, odds=False, crew=Crew.CONTRACTOR_FIRST, outcome="pilot"),
    Handling(symptom=Symptom.NO_HOT_WATER, odds=False, crew=Crew.CONTRACTOR_FIRST, outcome="kind-not-sure"),
    Handling(symptom=Symptom.RUNS_OUT, crew=Crew.CONTRACTOR_FIRST, outcome="runs-out-not-sure"),
    Handling(symptom=Symptom.RELIEF_DRIPS, outcome="relief-drips"),
    Handling(symptom=Symptom.RUMBLE, outcome="rumble"),
    Handling(symptom=Symptom.SMELLY_WATER, outcome="smell-hot"),
)
"""Every symptom of the survey, the most pressing first; a page leads with the first that stands."""

_BY_SYMPTOM = {row.symptom: row for row in SYMPTOMS}


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundByCrew:
    """What a crew found that nobody would report as a symptom, and that stands until somebody does something about it.

    Parameters
    ----------
    finding
        As the jobs of service days name it.
    settled
        Whose look settles it.
    settled_by_act
        An act on file since then that settles it, too.
    crew
        What it means for a service day, and for doing it oneself.
    outcome
        The outcome of the triage that says what to do next; None where there is none.
    """

    finding: str
    crew: Crew = Crew.COMES
    settled: Settled = Settled.CONTRACTOR
    settled_by_act: ServiceKind | None = None
    outcome: str | None = None


ANODE_SPENT = "anode spent"
"""As crews write it down: a new one is due, however lately it was looked at."""
DRAIN_VALVE_STUCK = "drain valve will not close"
"""As crews write it down."""
FINDINGS: tuple[FoundByCrew, ...] = (
    FoundByCrew(finding=DRAIN_VALVE_STUCK, crew=Crew.CONTRACTOR_FIRST, outcome="flush-valve"),
    FoundByCrew(finding=ANODE_SPENT, settled_by_act=ServiceKind.ANODE_CHANGE),
)
"""What else a crew finds that leads a home's pages, after every symptom, the most pressing first."""

_FOUND = {row.finding: row for row in FINDINGS}
_PRESSING = [*(str(row.symptom) for row in SYMPTOMS), *_FOUND]


def most_pressing(reports: Iterable[Report]) -> tuple[Report, ...]:
    """Reports in the order in which a page leads with them."""
    return tuple(sorted(reports, key=lambda report: _PRESSING.index(report.what)))


def settled_by(what: str) -> Settled:
    """Whose look settles what was reported, a symptom or a finding.

    Raises
    ------
    KeyError
        When no row knows it.
    """
    return _FOUND[what].settled if what in _FOUND else _BY_SYMPTOM[Symptom(what)].settled


def handling(symptom: Symptom) -> Handling:
    """The row of one symptom.

    Raises
    ------
    KeyError
        When it has none: a symptom without a row must not pass for harmless.
    """
    return _BY_SYMPTOM[symptom]


def leading(symptoms: Iterable[Symptom]) -> tuple[Handling, ...]:
    """The rows of what was reported, the most pressing first."""
    seen = set(symptoms)
    return tuple(row for row in SYMPTOMS if row.symptom in seen)


def odds_stand(symptoms: Iterable[Symptom]) -> bool:
    """Whether odds and money still speak of a heater with these symptoms."""
    return all(row.odds for row in leading(symptoms))


def crew_while(what: str) -> Crew:
    """What one report, a symptom or a finding, means for a service day while it stands.

    Raises
    ------
    KeyError
        When no row knows it.
    """
    return _FOUND[what].crew if what in _FOUND else _BY_SYMPTOM[Symptom(what)].crew


def strictest_crew(reported: Iterable[str]) -> Crew:
    """What all that stands means for a service day, and for touching the heater oneself."""
    order = list(Crew)
    return max((crew_while(what) for what in reported), key=order.index, default=Crew.COMES)
