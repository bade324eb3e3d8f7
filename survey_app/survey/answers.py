"""Answers as they come in: checked, joined to their home, stored, and decided where that is in doubt."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from weakref import WeakKeyDictionary

from geo.addresses import AddressBook, Candidate
from survey_app.access import Action, Role
from survey_app.csv_import import Sheet, check_rows
from survey_app.errors import NotThere
from survey_app.histories import home_history
from survey_app.intake import Checked, Content, check
from survey_app.joins import Join, JoinState, address_book, join_all
from survey_app.records import Answer, AnswerChannel, Home
from survey_app.settings import Settings
from survey_app.standing import Standing, standing
from survey_app.store import Changes, JoinCandidate, Store, StoredAnswer
from survey_app.survey.context import Context
from survey_app.survey.handed_back import DoubtfulAnswer, ImportReport, Submission
from survey_app.survey.rereading import reread
from survey_app.texts import ENGLISH, Texts

__all__ = ["Answers", "Progress", "address_book_changed", "book_of", "decide", "put_on_file"]

Progress = Callable[[int, int], object]
LONGEST_ADDRESS = 300
"""Signs looked at: comparing a megabyte that a stranger sends with every home would keep the server busy."""


class Answers:
    """Answers of all homes, as one actor may give or decide them. Made by :meth:`Survey.answers`.

    Parameters
    ----------
    context
        The records, who asks and when; every method checks what they may do.
    """

    def __init__(self, context: Context) -> None:
        context.require(Action.SUBMIT_ANSWER)
        self._context = context

    def suggest(self, typed: str) -> list[Candidate]:
        """Homes whose address resembles what is being typed. Addresses alone are public records."""
        self._context.require(Action.SUBMIT_ANSWER)
        return list(book_of(self._context).suggest(typed[:LONGEST_ADDRESS]))

    def check_answer(
        self,
        given: Mapping[str, str],
        *,
        home_id: str | None = None,
        overruled: Mapping[str, str] = {},
        say: Texts = ENGLISH,
    ) -> Checked:
        """What an answer means and every problem in it, told in one language, without storing anything."""
        self._context.require(Action.SUBMIT_ANSWER)
        home = self._home(home_id)
        return self._check(given, AnswerChannel.FORM, home, overruled, uuid.uuid4().hex, say)

    def submit(
        self,
        given: Mapping[str, str],
        *,
        channel: AnswerChannel,
        home_id: str | None = None,
        overruled: Mapping[str, str] = {},
        answer_id: str | None = None,
        say: Texts = ENGLISH,
    ) -> Submission:
        """Take one answer, unless something in it must be settled first.

        Parameters
        ----------
        given
            Question keys and the text typed or chosen.
        channel
            Form or paper.
        home_id
            The home picked from :meth:`suggest`; None joins by the address.
        overruled
            Contradictions to let stand, each with the reason given.
        answer_id
            Names the submission, so that sending it twice stores it once.
        say
            The language of whoever sends it: problems and the standing are told in it.
        """
        self._context.require(Action.SUBMIT_ANSWER)
        answer_id = answer_id or uuid.uuid4().hex
        with self._context.read():
            picked = None if self._context.actor.home_id else self._home(home_id)
            join = self._join_one(given.get("address", "")[:LONGEST_ADDRESS], picked, answer_id)
            # A second answer waits for the volunteer, but is about that home all the same: its year is public.
            about = join.candidates[0].place_id if join.state is JoinState.SECOND else join.home_id
            home = picked if picked and picked.home_id == about else self._home(about)
        checked = self._check(given, channel, home, overruled, answer_id, say)
        if checked.answer is None or checked.must_settle:
            return Submission(stored=False, checked=checked, join=join, standing=None)
        join, settings = self._save_one(checked.answer, join)
        alone = self._standing_alone(home, checked.answer, settings, say)
        return Submission(stored=True, checked=checked, join=join, standing=alone)

    def import_answers(self, sheet: Sheet, *, progress: Progress | None = None) -> ImportReport:
        """Import a sheet of answers: good rows are stored and joined, the others handed back."""
        self._context.require(Action.IMPORT)
        typed = sheet.addresses
        joins = dict(zip(typed, join_all(book_of(self._context), list(typed)), strict=True))
        with self._context.read() as records:
            years = {h.home_id: h.built_year for h in records.homes()}
        imported = check_rows(
            sheet,
            today=self._context.today,
            house_year_of=lambda address: years.get(joins[address].home_id or "") if address in joins else None,
            submitted_by=self._context.actor.name,
            submitted_at=self._context.now,
            progress=progress,
        )
        fresh = [c.answer for c in imported.accepted if c.answer is not None]
        with self._context.read() as records:
            there = {s.answer.answer_id for s in records.answers()}
        new = [
            (a, joins.get(a.address_as_typed) or self._join_one(a.address_as_typed, None))
            for a in fresh
            if a.answer_id not in there
        ]
        homes = self._save(new, {c.answer.answer_id: c.content for c in imported.accepted if c.answer and c.content})
        states = [join.state for _, join in new]
        return ImportReport(
            rows=len(sheet.rows),
            new=len(new),
            already_there=len(fresh) - len(new),
            joined=states.count(JoinState.JOINED),
            doubtful=states.count(JoinState.DOUBTFUL) + states.count(JoinState.SECOND),
            no_such_home=states.count(JoinState.NO_HOME),
            homes=homes,
            imported=imported,
        )

    def doubtful(self) -> list[DoubtfulAnswer]:
        """Answers that wait for a decision, with the homes they may be for."""
        self._context.require(Action.DECIDE_JOINS)
        found: dict[str, list[Candidate]] = {}
        with self._context.read() as records:
            candidates = records.candidates()
            waiting = [
                s
                for state in (JoinState.DOUBTFUL, JoinState.SECOND, JoinState.NO_HOME)
                for s in records.answers(join_state=state)
            ]
        for one, address in candidates:
            found.setdefault(one.answer_id, []).append(
                Candidate(place_id=one.home_id, address=address, score=one.score, why=one.why)
            )
        return [
            DoubtfulAnswer(
                answer=s.answer,
                state=JoinState(s.join_state),
                why=s.join_why,
                candidates=tuple(found.get(s.answer.answer_id, ())),
            )
            for s in waiting
        ]

    def accept(self, answer_id: str, home_id: str) -> None:
        """Decide that an answer is for this home."""
        self._context.require(Action.DECIDE_JOINS)
        if self._home(home_id) is None:
            raise NotThere(f"There is no home '{home_id}' in this survey. Choose one from the list.")
        decide(self._context, answer_id, JoinState.JOINED, home_id, f"Decided by {self._context.actor.name}.")

    def set_aside(self, answer_id: str) -> None:
        """Decide that an answer is for none of the community's homes. It is kept, and counts for nothing."""
        self._context.require(Action.DECIDE_JOINS)
        decide(self._context, answer_id, JoinState.SET_ASIDE, None, f"Set aside by {self._context.actor.name}.")

    # ---- inside ----------------------------------------------------------

    def _home(self, home_id: str | None) -> Home | None:
        """A home; None where none is named or the survey has none of that id."""
        if not home_id:
            return None
        with self._context.read() as records:
            return next(iter(records.homes(home_id)), None)

    def _join_one(self, typed: str, picked: Home | None, answer_id: str = "") -> Join:
        if self._context.actor.home_id is not None:
            return Join(
                state=JoinState.JOINED, home_id=self._context.actor.home_id, why="Opened with this home's private code."
            )
        if picked is not None:
            join = Join(state=JoinState.JOINED, home_id=picked.home_id, why="Picked from the list of addresses.")
        else:
            join = join_all(book_of(self._context), [typed])[0]
        with self._context.read() as records:
            there = records.answers(home_ids=[join.home_id]) if join.home_id and self._without_code else []
        return self._second(join) if self._not_the_first(there, join.home_id, answer_id) else join

    @property
    def _without_code(self) -> bool:
        return self._context.actor.role is Role.RESIDENT and self._context.actor.home_id is None

    def _not_the_first(self, there: Sequence[StoredAnswer], home_id: str | None, answer_id: str) -> bool:
        """Whether this person, without a private code, would change what another answer has told of a home."""
        others = (s for s in there if s.answer.home_id == home_id and s.answer.answer_id != answer_id)
        return home_id is not None and self._without_code and any(others)

    def _second(self, join: Join) -> Join:
        """The join of an answer that waits, since its home has been answered for."""
        home_id = join.home_id or ""
        why = "This home has been answered for, and this answer came without its private code."
        candidate = Candidate(place_id=home_id, address=self._context.home_address(home_id), score=100.0, why=why)
        return Join(state=JoinState.SECOND, home_id=None, why=why, candidates=(candidate,))

    def _check(
        self,
        given: Mapping[str, str],
        channel: AnswerChannel,
        home: Home | None,
        overruled: Mapping[str, str],
        answer_id: str,
        say: Texts,
    ) -> Checked:
        return check(
            given,
            channel=channel,
            today=self._context.today,
            house_year=home.built_year if home else None,
            submitted_by=self._context.actor.name,
            submitted_at=self._context.now,
            answer_id=answer_id,
            overruled=overruled,
            say=say,
        )

    def _standing_alone(self, home: Home | None, answer: Answer, settings: Settings, say: Texts) -> Standing:
        """The standing by one answer alone: never mixed with what others said of the home."""
        place = home or Home(
            home_id="?", parcel_id="?", address=answer.address_as_typed, street="", phase_id=None, built_year=None
        )
        told = home_history(place, [answer])
        return standing(
            told.home,
            told.heaters,
            told.services,
            answered=True,
            settings=settings,
            as_of=self._context.today,
            reports=told.reports,
            say=say,
        )

    def _save_one(self, answer: Answer, join: Join) -> tuple[Join, Settings]:
        """Store one answer; of two for a home at the same moment, both without its code, one joins and one waits.

        Returns how it was joined, and the settings of that moment.
        """
        with self._context.write("take answers") as write:
            there = write.answers_about(join.home_id, answer.answer_id)
            join = self._second(join) if self._not_the_first(there, join.home_id, answer.answer_id) else join
            sent_before = [s for s in there if s.answer.answer_id == answer.answer_id]
            self._put(write, [(answer, join)], over=sent_before)
            # Sent again, it may be about another home than before.
            homes = {h for h in (join.home_id, *(s.answer.home_id for s in sent_before)) if h}
            told: dict[str, list[Answer]] | None = None
            if join.home_id is not None and homes == {join.home_id}:
                others = (s.answer for s in there if s not in sent_before)
                told = {join.home_id: [*others, _of_home(answer, join.home_id)]}
            reread(write, homes, answers=told)
            return join, self._context.settings()

    def _save(self, new: Sequence[tuple[Answer, Join]], contents: Mapping[str, Content]) -> int:
        """Store joined answers and read the homes concerned anew; returns how many homes."""
        homes = {j.home_id for _, j in new if j.home_id}
        with self._context.write("take answers") as write:
            self._put(write, new)
            return reread(write, homes, contents=contents).homes

    @staticmethod
    def _put(write: Changes, new: Sequence[tuple[Answer, Join]], *, over: Sequence[StoredAnswer] | None = None) -> None:
        write.put(
            [
                StoredAnswer(answer=_of_home(answer, join.home_id), join_state=str(join.state), join_why=join.why)
                for answer, join in new
            ],
            over=over,
        )
        write.put(
            [
                JoinCandidate(answer_id=a.answer_id, home_id=c.place_id, score=c.score, why=c.why)
                for a, join in new
                if join.home_id is None
                for c in join.candidates
            ]
        )


def put_on_file(context: Context, answer: Answer, home_id: str, why: str) -> None:
    """Put what was said of a home on file, as an answer of its own; whoever calls has checked who asks."""
    kept = StoredAnswer(answer=_of_home(answer, home_id), join_state=str(JoinState.JOINED), join_why=why)
    with context.write("settle a report") as write:
        write.put([kept])
        reread(write, {home_id})


def decide(context: Context, answer_id: str, state: JoinState, home_id: str | None, why: str) -> None:
    """Put an answer to a home, or to none, with the reason; whoever calls has checked who asks.

    Raises
    ------
    NotThere
        When there is no such answer.
    """
    with context.read() as records:
        found = records.answers(answer_id=answer_id)
    if not found:
        raise NotThere(f"There is no answer '{answer_id}'. It may have been decided already; look at the list again.")
    before = found[0].answer.home_id
    changed = StoredAnswer(answer=_of_home(found[0].answer, home_id), join_state=str(state), join_why=why)
    with context.write("decide an address") as write:
        write.put([changed])
        reread(write, {h for h in (before, home_id) if h})


def book_of(context: Context) -> AddressBook:
    """The community's addresses, built once for an open store. Addresses alone are public records."""
    book = _BOOKS.get(context.store)
    if book is None:
        with context.read() as records:
            book = _BOOKS[context.store] = address_book(records.homes())
    return book


def address_book_changed(context: Context) -> None:
    """Forget the address book kept for an open store: its homes have changed."""
    _BOOKS.pop(context.store, None)


_BOOKS: WeakKeyDictionary[Store, AddressBook] = WeakKeyDictionary()


def _of_home(answer: Answer, home_id: str | None) -> Answer:
    return replace(answer, home_id=home_id)
