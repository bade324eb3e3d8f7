"""What crews come for, once: all that weighs, plans, prints or closes a service day follows from this table.

A job is made of acts. An act says which homes it is for and which question asks
for it, what it is believed to do for a tank, what must be known before, what a
crew may find, and what goes on file. To add a job: a row in `JOBS` (and its
acts), its words in every language (``job-<key>`` with ``.notice`` and
``.visit``, its reasons, cautions and findings), its usual minutes in
``settings/defaults.py``, and the question whether a home wants it in
``intake/questions.py``, which lands in `records.Wishes`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from survey_app.errors import SurveyError
from survey_app.records import HeaterKind, Interest, ServiceKind, Symptom, Wishes
from survey_app.standing import CareState, Standing
from survey_app.symptoms import ANODE_SPENT, DRAIN_VALVE_STUCK

__all__ = [
    "ANODE",
    "FLUSH",
    "FLUSH_AND_ANODE",
    "JOBS",
    "Act",
    "Caution",
    "Fitness",
    "Job",
    "UnknownJob",
    "findings_known",
    "job_named",
]


class Fitness(StrEnum):
    """Whether a home is for this service day."""

    YES = "yes"
    ASK = "contractor decides first"
    NO = "no"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """What must be known before an act: a message, and the kinds of heater and states of care it is told for.

    None is every kind, every state.
    """

    key: str
    kinds: frozenset[HeaterKind] | None = None
    states: frozenset[CareState] | None = None

    def holds(self, kind: HeaterKind, state: CareState | None) -> bool:
        """Whether it is told for this heater."""
        return (self.kinds is None or kind in self.kinds) and (self.states is None or state in self.states)


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One kind of work at a heater.

    Parameters
    ----------
    care
        As a standing names it.
    wish
        The question that says whether a home wants it: a field of `Wishes`.
    fits
        Whether a home is for it by its standing and the state of that care, and the message that says why.
    kind
        What goes on file when it was done.
    instead
        What goes on file where a crew found this: another kind, or nothing. The first that was found counts.
    effect
        The life model's name of what it does for the remaining life; None where nothing is believed of it.
    closing
        The setting that says how likely it can still be done in a year while its good time is closing.
    needs_tank
        Whether there must be a tank.
    risks
        What may go wrong at homes where the contractor decides first.
    cautions
        What is usual before the work.
    findings
        What a crew may find, and what it means for the home's standing (common practice, no source).
    """

    care: str
    wish: str
    fits: Callable[[Standing, CareState], tuple[Fitness, str]]
    kind: ServiceKind
    instead: Mapping[str, ServiceKind | None] = field(default_factory=dict)
    effect: str | None = None
    closing: str | None = None
    needs_tank: bool = True
    risks: tuple[Caution, ...] = ()
    cautions: tuple[Caution, ...] = ()
    findings: Mapping[str, tuple[Symptom, ...]] = field(default_factory=dict)

    def on_file(self, findings: Sequence[str]) -> ServiceKind | None:
        """What goes on file for a visit that was done, by what was found; None for nothing."""
        return next((kind for found, kind in self.instead.items() if found in findings), self.kind)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Job:
    """What a crew comes for: a row of the table, the same one wherever it is named.

    Parameters
    ----------
    name
        As people choose it and records keep it.
    acts
        What is done at a home.
    minutes
        The setting with its usual time on site at a 50 gallon tank.
    drains
        The share of that time that goes into draining, and so grows with the tank.
    """

    name: str
    acts: tuple[Act, ...]
    minutes: str
    drains: float = 0.0

    def __str__(self) -> str:
        return self.name

    def __reduce__(self) -> tuple[Callable[[str], Job], tuple[str]]:
        # A copy from a cache is the row itself.
        return job_named, (self.name,)

    @classmethod
    def named(cls, name: str) -> Job:
        """See :func:`job_named`: plain data hold a job by its name."""
        return job_named(name)

    @property
    def title(self) -> str:
        """The message that names it; ``.notice`` heads its door notice, ``.visit`` tells a home what is done."""
        return f"job-{self.name.replace(' ', '-')}"

    @property
    def findings(self) -> dict[str, tuple[Symptom, ...]]:
        """What a crew may find, and what it means for the home's standing."""
        return {**{found: seen for act in self.acts for found, seen in act.findings.items()}, **_FOUND_ANYWHERE}

    def interest(self, wishes: Wishes) -> Interest:
        """How keen a home is: on the act that it wants most."""
        order = (Interest.YES, Interest.MAYBE, Interest.UNKNOWN, Interest.NO)
        said: list[Interest] = [getattr(wishes, act.wish) for act in self.acts]
        return min(said, key=order.index)


_FOUND_ANYWHERE: Mapping[str, tuple[Symptom, ...]] = {
    "rust or flakes": (Symptom.RUSTY_WATER,),
    "leak found": (Symptom.LEAK,),
}


def _for_a_flush(found: Standing, state: CareState) -> tuple[Fitness, str]:
    # Where nobody knows the last flush, a tank in its first year needs none, and one of unknown age is looked at first.
    if state is CareState.UNKNOWN and found.age_years is not None and found.age_years[2] < 1.0:
        state = CareState.FINE
    if state is CareState.UNKNOWN and found.age_years is not None:
        return Fitness.YES, "days-flush-unknown"
    return {
        CareState.DUE: (Fitness.YES, "days-flush-due"),
        CareState.FINE: (Fitness.NO, "days-flush-fine"),
        CareState.ASK: (Fitness.ASK, "days-flush-never"),
    }.get(state, (Fitness.ASK, "days-flush-no-age"))


def _for_the_anode(found: Standing, state: CareState) -> tuple[Fitness, str]:
    return {
        CareState.DUE: (Fitness.YES, "days-anode-due"),
        CareState.CLOSING: (Fitness.YES, "days-anode-closing"),
        CareState.FINE: (Fitness.NO, "days-anode-fine"),
        CareState.LATE: (Fitness.ASK, "days-anode-late"),
    }.get(state, (Fitness.ASK, "days-anode-unknown"))


_FLUSHED = Act(
    care="flush",
    wish="flush_day",
    fits=_for_a_flush,
    kind=ServiceKind.FLUSH,
    effect="flushed",
    risks=(Caution(key="days-caution-never-flushed", states=frozenset({CareState.ASK})),),
    cautions=(
        Caution(key="days-caution-flush"),
        Caution(key="days-caution-electric", kinds=frozenset(HeaterKind) - {HeaterKind.GAS_STORAGE}),
        Caution(key="days-caution-gas", kinds=frozenset({HeaterKind.GAS_STORAGE, HeaterKind.UNKNOWN})),
    ),
    findings={"white grit": (), "soft jelly": (), DRAIN_VALVE_STUCK: ()},
)
_ANODE_LOOKED_AT = Act(
    care="anode",
    wish="anode_day",
    fits=_for_the_anode,
    # It counts as changed only when the crew says so.
    kind=ServiceKind.ANODE_CHECK,
    instead={"anode would not come out": None, "anode changed": ServiceKind.ANODE_CHANGE},
    effect="anode changed",
    closing="anode_still_comes_out",
    risks=(Caution(key="days-caution-seized", states=frozenset({CareState.LATE, CareState.UNKNOWN})),),
    cautions=(Caution(key="days-caution-hidden-rod"),),
    findings={ANODE_SPENT: (), "anode fine": (), "anode changed": (), "anode would not come out": ()},
)

# A flush is about half draining, which grows with the tank; an anode is not.
FLUSH = Job(name="flush", acts=(_FLUSHED,), minutes="flush_minutes", drains=0.5)
ANODE = Job(name="anode", acts=(_ANODE_LOOKED_AT,), minutes="anode_minutes")
FLUSH_AND_ANODE = Job(name="flush and anode", acts=(_FLUSHED, _ANODE_LOOKED_AT), minutes="both_minutes", drains=0.5)

JOBS: tuple[Job, ...] = (FLUSH, ANODE, FLUSH_AND_ANODE)


class UnknownJob(SurveyError, LookupError):
    """A job that no row of the table names; the message says which there are."""


def job_named(name: str) -> Job:
    """The job of a name, as people choose it and records keep it.

    Raises
    ------
    UnknownJob
        When there is none.
    """
    for job in JOBS:
        if job.name == name:
            return job
    raise UnknownJob(f"There is no job '{name}'. There are: {', '.join(job.name for job in JOBS)}.")


def findings_known() -> dict[str, tuple[Symptom, ...]]:
    """All that a crew may find on any job, and what it means for the home's standing."""
    return {found: seen for job in JOBS for found, seen in job.findings.items()}
