"""Closing a day: what became of each visit, and what of it goes on file."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from survey_app.records import CREW_NOTE, Event, EventKind
from survey_app.service_days.jobs import Job, findings_known
from survey_app.service_days.plan import Outcome

__all__ = ["Closing", "ClosingProblem", "closing_columns", "event_of", "read_closings", "visit_event_id"]


def closing_columns(job: Job) -> dict[str, str]:
    """The columns of a closed day's sheet, and what to write in each."""
    return {
        "home_id": "the home, as on the day sheet's file; do not change it",
        "address": "for people; not read back",
        "outcome": "done, not done, or nobody home",
        "why": "why it was not done",
        "findings": 'any of these, separated by ";": ' + ", ".join(job.findings),
        "notes": "anything else the crew wrote",
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """What became of one visit."""

    home_id: str
    outcome: Outcome
    why: str = ""
    findings: tuple[str, ...] = ()
    notes: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosingProblem:
    """A row of a closed day that cannot be taken: where, what is wrong, and what to do."""

    row: int
    sentence: str


def event_of(closing: Closing, job: Job, *, plan_id: str, on: date, told_by: str) -> Event | None:
    """What goes on file for a visit; None unless something was done or found.

    Each act of the job counts as done unless what was found says otherwise: an
    anode that would not come out was not looked at, one that the crew says is
    changed was changed.

    Parameters
    ----------
    closing
        What became of the visit.
    job
        What the crew came for.
    plan_id, on, told_by
        Which plan, which day, who says so.
    """
    done = job.acts if closing.outcome is Outcome.DONE else ()
    acts = [kind for act in done if (kind := act.on_file(closing.findings)) is not None]
    meaning = findings_known()
    seen = tuple(dict.fromkeys(symptom for found in closing.findings for symptom in meaning[found]))
    if not acts and not closing.findings and not closing.notes:
        return None
    words = "; ".join([*closing.findings, *([f"{CREW_NOTE}{closing.notes}"] if closing.notes else [])])
    return Event(
        event_id=visit_event_id(plan_id, closing.home_id),
        home_id=closing.home_id,
        kind=EventKind.VISIT,
        on=on,
        told_by=told_by,
        acts=tuple(acts),
        seen=seen,
        findings=words,
    )


def visit_event_id(plan_id: str, home_id: str) -> str:
    """The name under which a plan's visit to a home goes on file: closing it again corrects it."""
    return "visit-" + hashlib.sha256(f"{plan_id}/{home_id}".encode()).hexdigest()[:32]


def read_closings(
    rows: Sequence[Mapping[str, str]], planned: Mapping[str, str]
) -> tuple[list[Closing], list[ClosingProblem]]:
    """Rows of a closed day's sheet, checked: good ones, and every problem with its row.

    Parameters
    ----------
    rows
        Column to text, as in :func:`closing_columns`; row 1 is the header.
    planned
        Home ids of the plan, with their addresses.
    """
    good: list[Closing] = []
    problems: list[ClosingProblem] = []
    seen: set[str] = set()
    for number, row in enumerate(rows, start=2):
        told = {k.strip().lower(): (v or "").strip() for k, v in row.items() if k}
        home_id, outcome = told.get("home_id", ""), told.get("outcome", "").lower()
        if not any(told.values()) or (home_id in planned and not outcome):
            continue  # a row left blank is a visit not yet closed
        wrong = _wrong(told, home_id, outcome, planned, seen)
        if wrong:
            problems += [ClosingProblem(row=number, sentence=f"Row {number}: {w}") for w in wrong]
            continue
        seen.add(home_id)
        good.append(
            Closing(
                home_id=home_id,
                outcome=Outcome(outcome),
                why=told.get("why", ""),
                findings=tuple(f for f in _parts(told.get("findings", ""))),
                notes=told.get("notes", ""),
            )
        )
    return good, problems


def _parts(text: str) -> list[str]:
    return [p.strip().lower() for p in text.replace(",", ";").split(";") if p.strip()]


def _wrong(
    told: Mapping[str, str], home_id: str, outcome: str, planned: Mapping[str, str], seen: set[str]
) -> list[str]:
    found = []
    if home_id not in planned:
        found.append(f"home_id '{home_id}' is not in this plan. Use the file that was made for this day.")
    elif home_id in seen:
        found.append(f"{planned[home_id]} is there twice. Keep one of the rows.")
    allowed = [str(o) for o in Outcome if o is not Outcome.PLANNED]
    if outcome not in allowed:
        found.append(f"outcome '{outcome}' is not known. Write one of: {', '.join(allowed)}.")
    elif outcome == Outcome.NOT_DONE and not told.get("why"):
        found.append("it says not done but not why. Write the reason in column 'why'.")
    known = findings_known()
    unknown = [f for f in _parts(told.get("findings", "")) if f not in known]
    if unknown:
        found.append(f"findings '{'; '.join(unknown)}' are not known. Use: {', '.join(known)}; or column 'notes'.")
    return found
