"""The outcome of every home, and the response of phases and streets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from survey_app.records import Answer, ContactNote, Home, WarrantyClass
from survey_app.response.estimates import Stratum, answers_needed
from survey_app.response.outcomes import Disposition, Rates, disposition, rates
from survey_app.standing import Standing

__all__ = ["NO_PHASE", "GroupResponse", "by_phase", "by_street", "dispositions", "strata"]

NO_PHASE = "no phase"
"""How homes are grouped that are of no phase."""
_KEY_QUESTIONS = ("kind", "installed", "place", "last_flush", "last_anode")
"""A complete answer says most of these; an installation date may also be told by a label's code."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupResponse:
    """A phase or a street: homes, answers, rates, and how many answers in all bring a share to plus or minus 5 points.

    ``told`` are the homes whose heater's class is known, which is what ``needed`` counts; None for streets.
    """

    group: str
    homes: int
    answered: int
    rates: Rates
    told: int | None = None
    needed: int | None = None

    @property
    def missing(self) -> int | None:
        """How many more answers it takes; None for streets."""
        return None if self.needed is None or self.told is None else max(0, self.needed - self.told)


def dispositions(
    homes: Iterable[Home], answers: Mapping[str, Sequence[Answer]], notes: Iterable[ContactNote]
) -> dict[str, Disposition]:
    """The outcome of every home, by its id.

    Parameters
    ----------
    homes
        All homes.
    answers
        What each home answered, by its id.
    notes
        Every attempt to reach a home, oldest first.
    """
    tried: dict[str, list[ContactNote]] = {}
    for note in notes:
        tried.setdefault(note.home_id, []).append(note)
    return {home.home_id: _outcome(answers.get(home.home_id, ()), tried.get(home.home_id, ())) for home in homes}


def _outcome(answers: Sequence[Answer], notes: Sequence[ContactNote]) -> Disposition:
    """The outcome of one home: what it said last to each question, and what the notes tell."""
    given: dict[str, str] = {}
    for answer in sorted(answers, key=lambda a: (a.answered_on, a.submitted_at)):
        given.update({k: v for k, v in answer.given.items() if v})
    told = [k for k in _KEY_QUESTIONS if given.get(k) or (k == "installed" and given.get("date_code"))]
    return disposition(
        answered=bool(answers),
        refused=given.get("consent", "").strip().lower() in ("no", "n"),
        key_questions=len(told),
        of=len(_KEY_QUESTIONS),
        notes=notes,
    )


def strata(standings: Iterable[Standing]) -> list[Stratum]:
    """Each phase: its homes, those that told of a heater whose class is known, and those past twice the warranty."""
    groups: dict[str, list[int]] = {}
    for s in standings:
        n = groups.setdefault(s.home.phase_id or NO_PHASE, [0, 0, 0])
        n[0] += 1
        if s.warranty_class is not WarrantyClass.UNKNOWN and s.answered:
            n[1] += 1
            n[2] += s.warranty_class is WarrantyClass.PAST_TWICE
    return [Stratum(name=k, homes=n[0], answered=n[1], yes=n[2]) for k, n in sorted(groups.items())]


def by_phase(
    homes: Iterable[Home], outcome: Mapping[str, Disposition], phases: Iterable[Stratum]
) -> list[GroupResponse]:
    """Each phase with its rates and how many answers it takes for plus or minus five points.

    Parameters
    ----------
    homes, outcome
        All homes, and from :func:`dispositions`.
    phases
        From :func:`strata`.
    """
    known = {t.name: t for t in phases}
    rows = []
    for row in _grouped(homes, outcome, lambda home: home.phase_id or NO_PHASE):
        phase = known[row.group]
        looks = phase.yes / phase.answered if phase.answered else 0.5
        rows.append(replace(row, told=phase.answered, needed=answers_needed(row.homes, looks)))
    return rows


def by_street(homes: Iterable[Home], outcome: Mapping[str, Disposition]) -> list[GroupResponse]:
    """Each street with its rates, the one with most homes still silent first."""
    rows = _grouped(homes, outcome, lambda home: home.street)
    return sorted(rows, key=lambda r: (r.answered - r.homes, r.group))


def _grouped(
    homes: Iterable[Home], outcome: Mapping[str, Disposition], group_of: Callable[[Home], str]
) -> list[GroupResponse]:
    groups: dict[str, Counter[Disposition]] = {}
    for home in homes:
        groups.setdefault(group_of(home), Counter())[outcome[home.home_id]] += 1
    return [
        GroupResponse(
            group=name,
            homes=counts.total(),
            answered=counts[Disposition.COMPLETE] + counts[Disposition.PARTIAL],
            rates=rates(counts),
        )
        for name, counts in sorted(groups.items())
    ]
