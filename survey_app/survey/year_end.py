"""The end of a year and of a volunteer's time: records in open formats, and what is left before handing over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Any

from survey_app.access import Action, Role
from survey_app.intake import QUESTIONS
from survey_app.prices import PriceList, price_line
from survey_app.records import Community, Home, VisitOutcome
from survey_app.settings import explain, in_words, write_settings
from survey_app.standing import Standing, add_years
from survey_app.store import StoredAnswer, row_of
from survey_app.survey.answers import Answers
from survey_app.survey.context import Context
from survey_app.survey.differences import Differences
from survey_app.survey.one_home import OneHome
from survey_app.survey.service_rounds import plan_of
from survey_app.survey.sign_in_rights import SignInRights

__all__ = ["ArchiveContent", "Done", "Step", "YearEnd"]

_BACKUP = "make a backup"
_BACKUP_LASTS = timedelta(days=30)


class Done(StrEnum):
    """How far one step of handing over is."""

    YES = "done"
    NO = "to do"
    BY_HAND = "look yourself"


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of handing over: what it is, how far it is by the records, where it is done."""

    what: str
    done: Done
    found: str
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ArchiveContent:
    """Everything on file as plain rows, by the name of their table, with what each holds; and the standings."""

    community: Community
    at: datetime
    settings: str
    tables: Mapping[str, Sequence[Mapping[str, Any]]]
    standings: Sequence[Standing]
    outlines: Sequence[bytes]


class YearEnd:
    """Closing a year of one survey, for the volunteer. Refused to everybody else."""

    def __init__(self, context: Context) -> None:
        context.require(Action.READ_ALL_HOMES)
        self._context = context

    def note_backup(self, name: str) -> None:
        """Put on record that a backup was written, so that the next volunteer sees when."""
        with self._context.write(_BACKUP) as write:
            write.log("backup", name[:160])

    def content(self) -> ArchiveContent:
        """Everything on file but what lets people in: no code, no password, no invitation."""
        with self._context.read() as records:
            address = {h.home_id: h.address for h in records.homes()}
            standings = self._context.standings()
            outlines = {p.parcel_id: p.outline_wkb for p in records.parcels()}
            return ArchiveContent(
                community=records.state().community,
                at=self._context.now,
                settings=write_settings(self._context.settings()),
                tables={
                    "answers": [_answer_row(s, address.get(s.answer.home_id or "")) for s in records.answers()],
                    "homes": [asdict(h) for h in records.homes()],
                    "heaters": [asdict(h) for h in records.heaters()],
                    "care": [asdict(s) for s in records.services()],
                    "events": [asdict(e) for e in records.events()],
                    "service_visits": [row_of(v) for v in records.visits()],
                    "offer_replies": [row_of(r) for r in records.offer_replies()],
                    "contact_notes": [row_of(n) for n in records.contact_notes()],
                    "changes": [row_of(c) for c in reversed(records.changes(limit=10_000_000))],
                },
                standings=standings,
                outlines=[outlines[s.home.parcel_id] for s in standings],
            )

    def checklist(self) -> list[Step]:
        """What is to be done before handing over, as the records show it, and what only a person can know."""
        with self._context.read():
            return self._checklist()

    def _checklist(self) -> list[Step]:
        now, settings = self._context.now, self._context.settings()
        rights = SignInRights(self._context)
        volunteers = [n for n, role in rights.accounts() if role is Role.VOLUNTEER]
        invited = [i.name for i in rights.invitations() if i.role is Role.VOLUNTEER]
        waiting, differing = len(Answers(self._context).doubtful()), len(Differences(self._context).all())
        unclosed = self._unclosed_visits()
        with self._context.read() as records:
            last = records.last_change(_BACKUP)
            homes, answered = records.how_many()
        old, no_code = len(self.too_old()), len(rights.without_code())
        numbers = [str(line) for _, line in settings.contacts if line]
        changed = [r["setting"] for r in explain(settings) if r["value"] != r["default"]]
        return [
            Step(
                what="Somebody else can run the survey",
                done=_done(len(volunteers) > 1),
                found=f"Volunteers with an account: {len(volunteers)}"
                + (f"; invited: {', '.join(invited)}" if invited else ""),
                where="Who may sign in",
            ),
            Step(
                what="No answer waits for a decision on its address",
                done=_done(waiting == 0),
                found=f"Waiting: {waiting}",
                where="Decide doubtful addresses",
            ),
            Step(
                what="No home has answers that contradict one another",
                done=_done(differing == 0),
                found=f"Homes: {differing}",
                where="Settle differences",
            ),
            Step(
                what="Every past service day is closed",
                done=_done(unclosed == 0),
                found=f"Visits of past days without an outcome: {unclosed}",
                where="Close a service day",
            ),
            Step(
                what="What is older than the survey promises to keep is deleted",
                done=_done(old == 0),
                found=f"Homes that answered last more than {settings.keep_answers_years:g} years ago: {old}",
                where="Set up, Old answers",
            ),
            Step(
                what="A backup was made in the last 30 days",
                done=_done(last is not None and now - last <= _BACKUP_LASTS),
                found=f"Last one on {last:%d %B %Y}" if last else "None on record",
                where="heater-survey backup",
            ),
            Step(
                what="The next volunteer has tried to restore that backup",
                done=Done.BY_HAND,
                found="A backup that nobody has restored is a hope.",
                where="heater-survey restore",
            ),
            Step(
                what="The year's archive is made and stored apart from the machine",
                done=Done.BY_HAND,
                found=f"Homes that have answered: {answered} of {homes}",
                where="Hand over, or heater-survey archive",
            ),
            Step(
                what="Settings and why they were chosen are with the minutes",
                done=Done.BY_HAND,
                found=f"Settings that differ from their default: {len(changed)}"
                + (f" ({', '.join(map(in_words, changed[:8]))})" if changed else ""),
                where="Community settings",
            ),
            Step(
                what="Prices are those of this community",
                done=_done(all(price.is_own for price in PriceList(settings).of_kinds())),
                found="; ".join(price_line(price) for price in PriceList(settings).of_kinds()),
                where="Set up, Prices",
            ),
            Step(
                what="The numbers to call on the page Leaking now are still right",
                done=Done.BY_HAND if numbers else Done.NO,
                found="; ".join(numbers) if numbers else "None is filled in",
                where="Community settings",
            ),
            Step(
                what="Every home has a code that works, or a letter is planned",
                done=_done(no_code == 0),
                found=f"Homes without one: {no_code}",
                where="Print letters",
            ),
            Step(
                what="Letters and codes as files, and backups no longer needed, are deleted",
                done=Done.BY_HAND,
                found="What people asked to be deleted lives on in old backups and archives.",
                where="every machine and stick they were on",
            ),
            Step(
                what="Machine, address on the web, its certificate and who pays for them are written down",
                done=Done.BY_HAND,
                found="The survey does not know them.",
                where="with this list",
            ),
            Step(
                what="The old volunteer's account is removed once the new one has signed in",
                done=Done.BY_HAND,
                found="The last volunteer's account cannot be removed.",
                where="Who may sign in",
            ),
        ]

    def too_old(self) -> list[Home]:
        """Homes whose last answer is older than the setting allows."""
        with self._context.read() as records:
            settings, told, homes = self._context.settings(), self._context.answers_by_home(), records.homes()
        edge = add_years(self._context.today, -settings.keep_answers_years)
        last = {home_id: max(a.answered_on for a in answers) for home_id, answers in told.items()}
        return [h for h in homes if h.home_id in last and last[h.home_id] < edge]

    def forget_too_old(self) -> int:
        """Delete what people told about homes whose last answer is too old; returns how many homes."""
        homes = self.too_old()
        for home in homes:
            OneHome(self._context, home.home_id).forget()
        return len(homes)

    def _unclosed_visits(self) -> int:
        """Visits planned for days that are past, without an outcome."""
        with self._context.read() as records:
            visits = records.visits()
            plans = [plan_of(kept) for kept in records.service_plans()]
        closed = {(v.plan_id, v.home_id) for v in visits if v.outcome is not VisitOutcome.PLANNED}
        return sum(v.on < self._context.today and (p.plan_id, v.home_id) not in closed for p in plans for v in p.visits)


def _answer_row(stored: StoredAnswer, joined_to: str | None) -> dict[str, Any]:
    """An answer as a row of the archive."""
    answer = stored.answer
    return {
        "answer_id": answer.answer_id,
        "home_id": answer.home_id,
        "joined_to": joined_to,
        "join_state": stored.join_state,
        "join_why": stored.join_why,
        "channel": str(answer.channel),
        "submitted_at": answer.submitted_at,
        "submitted_by": answer.submitted_by,
        "answered_on": answer.answered_on,
        "address": answer.address_as_typed,
        **{q.key: answer.given.get(q.key, "") for q in QUESTIONS if q.key not in ("address", "answered_on")},
        "overruled": "; ".join(f"{k}: {v}" for k, v in answer.overruled.items()),
    }


def _done(so: bool) -> Done:
    return Done.YES if so else Done.NO
