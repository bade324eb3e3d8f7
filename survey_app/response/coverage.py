"""How many homes answered: in all, by phase and by street."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from survey_app.access import suppress
from survey_app.records import Home

__all__ = ["Coverage", "PublishedFigures", "Share", "coverage", "published_figures"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """A group of homes and how many of them answered."""

    group: str
    homes: int
    answered: int

    @property
    def share(self) -> float:
        """Answered homes over all homes of the group; 0 for an empty group."""
        return self.answered / self.homes if self.homes else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Coverage:
    """Who has answered so far."""

    whole: Share
    by_phase: tuple[Share, ...]
    by_street: tuple[Share, ...]


def coverage(homes: Iterable[Home], answered: frozenset[str]) -> Coverage:
    """Response by phase and by street.

    Parameters
    ----------
    homes
        All homes of the community.
    answered
        The ids of those that at least one answer is joined to.
    """
    phases: dict[str, list[int]] = {}
    streets: dict[str, list[int]] = {}
    total = [0, 0]
    for home in homes:
        hit = int(home.home_id in answered)
        for count in (
            total,
            phases.setdefault(home.phase_id or "no phase", [0, 0]),
            streets.setdefault(home.street, [0, 0]),
        ):
            count[0] += 1
            count[1] += hit
    return Coverage(
        whole=Share(group="all homes", homes=total[0], answered=total[1]),
        by_phase=_shares(phases),
        by_street=_shares(streets),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """A group of homes: its size is public, how many of them answered need not be."""

    group: str
    homes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedFigures:
    """Figures without small cells: None where a count is left out."""

    homes: int
    classes: Mapping[str, int | None]
    phases: tuple[tuple[Group, int | None], ...]


def published_figures(classes: Mapping[str, int], found: Coverage, *, minimum: int) -> PublishedFigures:
    """What may be told to everybody.

    A cell of 1 to ``minimum - 1`` homes is left out, and another one with it
    where the total would give it away; in a phase, so is a number of answers
    so close to all its homes that it tells who did not answer. How many homes
    answered in all stands at the head of every page: what is left out must not
    follow from that number either.

    Parameters
    ----------
    classes
        Homes by class.
    found
        Who has answered.
    minimum
        The smallest count that may be shown.
    """
    silent = {k: n for k, n in classes.items() if k == "no answer"}
    told = suppress({k: n for k, n in classes.items() if k not in silent}, minimum) | suppress(silent, minimum)
    hidden = _hidden_phases(found.by_phase, minimum)
    return PublishedFigures(
        homes=found.whole.homes,
        classes={k: told[k] for k in classes},
        phases=tuple(
            (Group(group=s.group, homes=s.homes), None if s.group in hidden else s.answered) for s in found.by_phase
        ),
    )


def _hidden_phases(phases: Iterable[Share], minimum: int) -> set[str]:
    """Phases whose number of answers is not told; they hide one another from the number of all answers."""
    left = sorted(phases, key=lambda s: (min(s.answered, s.homes - s.answered), s.group))
    hidden = [s for s in left if None in suppress({"yes": s.answered, "no": s.homes - s.answered}, minimum).values()]
    left = [s for s in left if s not in hidden]

    def guessable() -> bool:
        sums = (sum(s.answered for s in hidden), sum(s.homes - s.answered for s in hidden))
        return bool(hidden) and (len(hidden) == 1 or any(0 < n < minimum for n in sums))

    while left and guessable():
        hidden.append(left.pop(0))
    return {s.group for s in hidden}


def _shares(groups: dict[str, list[int]]) -> tuple[Share, ...]:
    return tuple(Share(group=g, homes=n, answered=k) for g, (n, k) in sorted(groups.items()))
