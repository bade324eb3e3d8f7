"""The change log as acts: who did what when, in words, and the way back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from survey_app.access import Action
from survey_app.errors import SurveyError
from survey_app.joins import JoinState
from survey_app.settings import values_of, with_contacts, with_value, write_settings
from survey_app.store import Change, Changes, UndoConflict
from survey_app.survey.context import Context
from survey_app.survey.rereading import reread

__all__ = ["Act", "CannotUndo", "ChangeLog"]

_ROWS = frozenset({"answer", "event", "contact_note", "visit", "offer_reply", "bid"})
"""What is put back row by row. Heaters, acts on them and a home's facts follow from answers and events: read anew."""
_FOLLOWS = frozenset({"heater", "service_record", "home", "join_candidate"})
_WHY_NOT = {
    "parcel": "Parcels are not taken back from here: load the earlier file again.",
    "access_code": "Private codes are not kept, so they cannot come back: print new letters.",
    "account": "Accounts and invitations are changed under “Who may sign in”.",
    "invitation": "Accounts and invitations are changed under “Who may sign in”.",
    "plate_photo": "A photo's content is not in the log.",
    "community": "The community's name is changed under “Set up”.",
    "backup": "A backup is a file; there is nothing to take back.",
    "street": "Streets are not taken back from here: load the earlier file again.",
    "reading": "What the answers mean was worked out anew; the answers are as they were given.",
    "sheet": "Numbers of letters are given anew under “Print letters”.",
    "service_plan": "A plan is changed under “Service days: see and change”, or planned anew.",
    "purchase_plan": "Rounds are formed anew under “Form rounds”; what homes replied stays.",
}
_NAMES = {
    "answer": "answers",
    "event": "things done at homes",
    "contact_note": "notes at the door",
    "visit": "visits",
    "offer_reply": "replies to an offer",
    "bid": "bids",
    "setting": "settings",
    "difference": "differences left or looked at",
    "parcel": "parcels",
    "phase": "phases",
    "access_code": "private codes",
    "account": "accounts",
    "invitation": "invitations",
    "plate_photo": "photos",
    "community": "the community's name",
    "backup": "backups",
    "street": "streets",
    "sheet": "numbers of letters",
    "service_plan": "service plans",
    "purchase_plan": "formings of rounds",
}


class CannotUndo(SurveyError, ValueError):
    """An act that cannot be taken back; the message says why, and what to do instead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """Everything one person did at one moment.

    Parameters
    ----------
    act_id
        Names it: the number of its first entry in the log.
    at, who, action
        When, who, and what the log calls it.
    what
        How many of what were touched, in words.
    addresses
        Homes it was about, by address; at most six.
    why_not
        Why it cannot be undone; "" where it can.
    """

    act_id: int
    at: datetime
    who: str
    action: str
    what: str
    addresses: tuple[str, ...]
    why_not: str


class ChangeLog:
    """What was done, newest first, for the volunteer. Refused to everybody else."""

    def __init__(self, context: Context) -> None:
        context.require(Action.READ_ALL_HOMES)
        self._context = context

    def acts(self, *, limit: int = 60, home_id: str | None = None) -> list[Act]:
        """The newest acts, of one home if asked."""
        with self._context.read() as records:
            address = {h.home_id: h.address for h in records.homes()}
            mine = None if home_id is None else self._about(home_id)
            acts = [(first, records.changes_of_act(first)) for first in records.acts(limit=limit, subjects=mine)]
        found = []
        for first, rows in acts:
            homes = sorted({h for row in rows for h in _homes_of(row) if h in address})
            found.append(
                Act(
                    act_id=first,
                    at=rows[0].at,
                    who=rows[0].who,
                    action=rows[0].action,
                    what=_what(rows),
                    addresses=tuple(address[h] for h in homes[:6]),
                    why_not=_why_not(rows),
                )
            )
        return found

    def entries(self, limit: int = 200) -> list[Change]:
        """The newest entries one by one."""
        with self._context.read() as records:
            return records.changes(limit=limit)

    def undo(self, act_id: int) -> None:
        """Put back what one act changed: as an act of its own, which can be undone in turn.

        Answers that it brought are set aside, not deleted.

        Raises
        ------
        CannotUndo
            When it cannot be undone, or something has been changed again since.
        """
        with self._context.read() as records:
            rows = records.changes_of_act(act_id)
        if not rows:
            raise CannotUndo("That entry is not in the change log any more. Look at the list again.")
        if why_not := _why_not(rows):
            raise CannotUndo(why_not)
        action = rows[0].action
        named = action if action.startswith("undo: ") else f"undo: {action}"
        try:
            with self._context.write(named[:60]) as write:
                homes: set[str] = set()
                for row in reversed(rows):
                    homes |= self._put_back(write, row)
                self._settings_back(write, [r for r in rows if r.subject_kind == "setting"])
                reread(write, homes)
        except UndoConflict as conflict:
            raise CannotUndo(str(conflict)) from None

    def _put_back(self, write: Changes, row: Change) -> set[str]:
        """Put back what one entry changed; returns the homes to be read anew."""
        kind, subject, before, after = row.subject_kind, row.subject_id, row.before, row.after
        if _is_blank(row):
            return set()
        if kind == "difference":
            write.log("difference", subject, after, before)
        elif kind == "answer" and before is None:
            why = f"Its coming in was undone by {self._context.actor.name}."
            aside = {"home_id": None, "join_state": str(JoinState.SET_ASIDE), "join_why": why}
            write.put_back(kind, subject, {k: after[k] for k in aside}, aside)
        elif kind in _ROWS:
            write.put_back(kind, subject, after, before)
        return {h for h in _homes_of(row) if kind in ("answer", "event")}

    def _settings_back(self, write: Changes, rows: Sequence[Change]) -> None:
        """Put settings back to what they were, all of one act together."""
        if not rows:
            return
        settings = self._context.settings()
        for row in rows:
            name, before, after = row.subject_id, row.before, row.after
            if not _same_value(values_of(settings).get(name), after):
                raise UndoConflict(f"The setting {name} has been changed since. Undo the later change first.")
            kind, _, contact = name.partition(".")
            if kind == "contacts":
                settings = with_contacts(settings, {contact: str(before)})
            else:
                settings = with_value(settings, name, str(before))
            write.log("setting", name, after, before)
        write.set_community(settings=write_settings(settings))

    def _about(self, home_id: str) -> list[tuple[str, str]]:
        """The entries' subjects that are one home's."""
        subjects = [("home", home_id), ("offer_reply", home_id), ("difference", home_id), ("plate_photo", home_id)]
        with self._context.read() as records:
            subjects += [("answer", s.answer.answer_id) for s in records.answers(home_ids=[home_id])]
            subjects += [("event", e.event_id) for e in records.events(home_id)]
            subjects += [("contact_note", n.note_id) for n in records.contact_notes(home_id)]
        return subjects


def _homes_of(row: Change) -> set[str]:
    """The homes an entry speaks of."""
    kind, subject = row.subject_kind, row.subject_id
    if kind in ("home", "offer_reply", "difference", "plate_photo"):
        return {subject}
    if kind == "visit":
        return {subject.partition("/")[2]}
    return {side["home_id"] for side in (row.before, row.after) if isinstance(side, dict) and side.get("home_id")}


def _same_value(now: str | None, logged: object) -> bool:
    """Whether a setting is as the log says; earlier versions logged figures as numbers, not as text."""
    try:
        return now is not None and float(now.replace(",", "")) == float(str(logged).replace(",", ""))
    except ValueError:
        return now == str(logged)


def _is_settings_text(row: Change) -> bool:
    return row.subject_kind == "community" and isinstance(row.after, dict) and set(row.after) == {"settings"}


def _is_blank(row: Change) -> bool:
    """Whether the entry was emptied when a home's people had their data deleted."""
    return row.before is None and row.after is None and row.subject_kind in _ROWS


def _what(rows: Sequence[Change]) -> str:
    settings = any(row.subject_kind == "setting" for row in rows)
    counts = Counter(
        row.subject_kind
        for row in rows
        if row.subject_kind not in _FOLLOWS and not (settings and row.subject_kind == "community")
    )
    if readings := [row.subject_id for row in rows if row.subject_kind == "reading"]:
        return ", ".join(readings)
    if not counts:
        counts = Counter({"homes": len({h for row in rows for h in _homes_of(row)})})
    return ", ".join(f"{_NAMES.get(kind, kind)}: {count}" for kind, count in sorted(counts.items()))


def _why_not(rows: Sequence[Change]) -> str:
    """Why these entries cannot be put back; "" where they can."""
    # Settings are kept in the community's row: the entries of the settings themselves say what changed.
    kinds = {r.subject_kind for r in rows if not _is_settings_text(r)} - _FOLLOWS
    for kind, why in _WHY_NOT.items():
        if kind in kinds:
            return why
    told = [r for r in rows if r.subject_kind in {*_ROWS, "setting", "difference"}]
    if not told:
        return "There is nothing in it to put back."
    if all(_is_blank(r) for r in told):
        return "People asked for these data to be deleted. Nothing of them is kept, so nothing can come back."
    return ""
