"""When homes answered, and whether those that answered late differ from the others."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from survey_app.records import Answer, Home, WarrantyClass
from survey_app.response.estimates import EarlyLate, early_against_late
from survey_app.response.groups import NO_PHASE
from survey_app.standing import Standing

__all__ = ["answered_by_day", "early_and_late", "first_answers", "share_by_day"]


def first_answers(answers: Mapping[str, Sequence[Answer]]) -> dict[str, date]:
    """The day on which each home first answered."""
    return {home_id: min(a.answered_on for a in mine) for home_id, mine in answers.items()}


def answered_by_day(first: Mapping[str, date]) -> list[tuple[date, int]]:
    """Homes that had answered by each day on which a home first did."""
    total, rows = 0, []
    for day, count in sorted(Counter(first.values()).items()):
        total += count
        rows.append((day, total))
    return rows


def share_by_day(homes: Iterable[Home], first: Mapping[str, date]) -> list[tuple[str, date, float]]:
    """The share of each phase's homes that had answered by each day on which one of them did."""
    last = max(first.values(), default=date.min)
    groups: dict[str, list[Home]] = {}
    for home in homes:
        groups.setdefault(home.phase_id or NO_PHASE, []).append(home)
    rows: list[tuple[str, date, float]] = []
    for phase, some in sorted(groups.items()):
        mine = answered_by_day({h.home_id: first[h.home_id] for h in some if h.home_id in first})
        rows += [(phase, day, total / len(some)) for day, total in mine]
        if mine and mine[-1][0] < last:
            rows.append((phase, last, mine[-1][1] / len(some)))  # nobody since, which is news, too
    return rows


def early_and_late(standings: Iterable[Standing], first: Mapping[str, date]) -> EarlyLate | None:
    """Whether homes that answered late have old heaters more or less often than those that answered early."""
    known = [s for s in standings if s.home.home_id in first and s.warranty_class is not WarrantyClass.UNKNOWN]
    known.sort(key=lambda s: (first[s.home.home_id], s.home.home_id))
    return early_against_late(s.warranty_class is WarrantyClass.PAST_TWICE for s in known)
