"""Who may do what: actor, role, action, and a verdict with its reason.

Three people use the survey. A **resident** sees and changes one home: the one
whose private code they hold, or only what they are typing when they hold none.
The **committee** sees what is aggregated and never a single home. The
**volunteer** runs the survey and sees everything, and everything they change is
in the change log. The check is made in each part of :mod:`survey_app.survey`, before
anything is loaded; hiding a page is a courtesy, not a lock.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from survey_app.errors import SurveyError

__all__ = ["Action", "Actor", "NotAllowed", "Role", "Verdict", "allowed", "few", "require", "share_band", "suppress"]


class Role(StrEnum):
    """Who someone is to the survey."""

    RESIDENT = "resident"
    VOLUNTEER = "volunteer"
    COMMITTEE = "committee"


class Action(StrEnum):
    """What someone wants to do."""

    READ_COMMUNITY = "see the community's name and when its data were last changed"
    SUBMIT_ANSWER = "answer for a home"
    READ_HOME = "see one home"
    CHANGE_HOME = "correct or delete what is on file for one home"
    READ_ALL_HOMES = "see every home"
    READ_TOTALS = "see figures for the community"
    PLAN_DAYS = "plan service days for homes that asked to take part"
    PLAN_PURCHASE = "compare bids and form rounds for homes that asked to take part"
    SET_UP = "load parcels and change settings"
    IMPORT = "import answers"
    DECIDE_JOINS = "decide doubtful addresses"
    MANAGE_SIGN_IN = "manage accounts and private codes"


class NotAllowed(SurveyError, PermissionError):
    """Somebody asked for what is not theirs to see or do; the message says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Actor:
    """Somebody at one of the three doors.

    ``home_id`` is the one home a resident's private code opens; None for a
    resident without a code, who can submit and sees nothing stored.
    """

    name: str
    role: Role
    home_id: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """Yes or no, and the sentence that says why."""

    ok: bool
    reason: str


_ROLE_ACTIONS: Mapping[Role, frozenset[Action]] = {
    Role.VOLUNTEER: frozenset(Action),
    Role.COMMITTEE: frozenset({Action.READ_COMMUNITY, Action.READ_TOTALS, Action.PLAN_DAYS, Action.PLAN_PURCHASE}),
    Role.RESIDENT: frozenset({Action.READ_COMMUNITY, Action.SUBMIT_ANSWER, Action.READ_HOME, Action.CHANGE_HOME}),
}


def allowed(actor: Actor, action: Action, home_id: str | None = None) -> Verdict:
    """Whether `actor` may do `action` (to `home_id`), with the reason.

    Parameters
    ----------
    actor
        Who asks.
    action
        What they ask for.
    home_id
        The home concerned; needed for reading or changing a home.
    """
    if action not in _ROLE_ACTIONS[actor.role]:
        return Verdict(ok=False, reason=f"The {actor.role} door does not open this: to {action.value}.")
    if action in (Action.READ_HOME, Action.CHANGE_HOME) and actor.role is Role.RESIDENT:
        if actor.home_id is None:
            return Verdict(ok=False, reason="To see what is stored about a home, use the private code in its letter.")
        if home_id != actor.home_id:
            return Verdict(ok=False, reason="A private code opens its own home and no other.")
    return Verdict(ok=True, reason=f"The {actor.role} may {action.value}.")


def require(actor: Actor, action: Action, home_id: str | None = None) -> None:
    """Raise :class:`NotAllowed` unless `actor` may do `action`."""
    verdict = allowed(actor, action, home_id)
    if not verdict.ok:
        raise NotAllowed(verdict.reason)


def suppress(counts: Mapping[str, int], minimum: int) -> dict[str, int | None]:
    """Hide the cells that would point at single homes.

    A count of 1 to ``minimum - 1`` becomes None. The total less what is shown
    gives the sum of what is hidden: where that would be one cell, or so small a
    sum that its parts can be guessed, the smallest shown cell that is not zero
    is hidden too, and where there is none, all are.

    Parameters
    ----------
    counts
        Count by cell; the total is assumed to be published.
    minimum
        The smallest count that may be shown; zero may always be.

    Returns
    -------
    dict
        The same cells; None where hidden.
    """
    hidden = {k for k, n in counts.items() if 0 < n < minimum}
    while hidden and (len(hidden) == 1 or sum(counts[k] for k in hidden) < minimum):
        others = [k for k, n in counts.items() if n and k not in hidden]
        if not others:
            hidden = set(counts)
            break
        hidden.add(min(others, key=lambda k: (counts[k], k)))
    return {k: None if k in hidden else n for k, n in counts.items()}


def few(count: int, minimum: int) -> str:
    """A count as it may be published, in a sentence or a cell."""
    return f"fewer than {minimum}" if 0 < count < minimum else str(count)


def share_band(part: int, whole: int) -> str:
    """A share told so coarsely that it does not settle any single home.

    Five bands, open at both ends: 'all of them' would tell about each.
    """
    if whole <= 0:
        return "nothing known"
    share = part / whole
    for edge, words in ((0.2, "under 20 %"), (0.4, "20 to 40 %"), (0.6, "40 to 60 %"), (0.8, "60 to 80 %")):
        if share < edge:
            return words
    return "over 80 %"
