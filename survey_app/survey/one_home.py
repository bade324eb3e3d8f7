"""`OneHome`: what the people of one home may see, correct and delete."""

from __future__ import annotations

import json
import uuid
from base64 import b64encode
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from datetime import date

from survey_app.access import Action
from survey_app.errors import NotThere, SurveyError
from survey_app.forecast import LifeFit, Odds, odds
from survey_app.joins import JoinState
from survey_app.lifetime import LifeDraws, lives_of_home
from survey_app.plate_photos import MOST_OF_A_HOME, UnusablePhoto, clean_photo
from survey_app.purchase.offers import Offer
from survey_app.records import (
    Answer,
    AnswerChannel,
    EventKind,
    HeaterKind,
    Home,
    Interest,
    OfferReply,
    PlatePhoto,
    PlateState,
    Report,
    Symptom,
)
from survey_app.reported import SETTLED, SETTLED_ON, settled_words
from survey_app.reports.home_record import HomeRecord
from survey_app.reports.service_papers import promised, visit_calendar
from survey_app.service_days import Job, Outcome, PlannedVisit
from survey_app.standing import Standing, standing
from survey_app.store import taken_back_by
from survey_app.survey.answers import Answers, decide, put_on_file
from survey_app.survey.context import Context
from survey_app.survey.handed_back import Submission
from survey_app.survey.purchase_rounds import PurchaseRounds
from survey_app.survey.service_rounds import ServiceRounds
from survey_app.texts import ENGLISH, Texts

__all__ = ["CannotSettle", "OneHome", "PlannedFor"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedFor:
    """A visit planned for one home: of which plan, for what, when, whether confirmed, and as a calendar file.

    ``expect`` is from when to when the home is told to expect the crew, as on its door notice.
    """

    plan_id: str
    job: Job
    visit: PlannedVisit
    expect: tuple[str, str]
    confirmed: bool
    calendar: bytes
    cautions: tuple[str, ...]


class CannotSettle(SurveyError, ValueError):
    """What was reported cannot be called settled this way; the message says why and what to do."""


class OneHome:
    """One home, for the people who live there and the volunteer.

    Parameters
    ----------
    context
        The records, who asks and when.
    home_id
        The home.
    say
        The language of what is said.
    fit
        Gives what the community's answers say about lives; None works it out anew.

    Raises
    ------
    NotAllowed
        When the home is not this actor's.
    """

    def __init__(
        self, context: Context, home_id: str, *, say: Texts = ENGLISH, fit: Callable[[], LifeFit] | None = None
    ) -> None:
        context.require(Action.READ_HOME, home_id)
        self._context = context
        self.home_id = home_id
        self._say = say
        self._fit = fit or context.life_fit

    def home(self) -> Home:
        """The home.

        Raises
        ------
        NotThere
            When the survey no longer has it.
        """
        with self._context.read() as records:
            found = next(iter(records.homes(self.home_id)), None)
        if found is None:
            raise NotThere("That home is not in this survey.")
        return found

    def standing(self) -> Standing:
        """Where the home stands today, in this language."""
        with self._context.read() as records:
            return standing(
                self.home(),
                records.heaters(self.home_id),
                records.services(self.home_id),
                answered=bool(records.answers(home_ids=[self.home_id])),
                settings=self._context.settings(),
                as_of=self._context.today,
                reports=self.reports(),
                say=self._say,
            )

    def reports(self) -> tuple[Report, ...]:
        """All that was ever reported of the heater in service, oldest first; settled or not."""
        return self._context.reports([self.home()])[self.home_id]

    def latest_given(self) -> dict[str, str]:
        """What was last answered to each question, to start a new answer from; of what was seen, what still stands."""
        given: dict[str, str] = {}
        with self._context.read() as records:
            for stored in records.answers(home_ids=[self.home_id]):
                given.update({k: v for k, v in stored.answer.given.items() if v})
            heater = next((h for h in records.heaters(self.home_id) if h.in_service), None)
        if "symptoms" in given and heater is not None:
            given["symptoms"] = ";".join(heater.symptoms) or "none"
        return {k: v for k, v in given.items() if k not in (SETTLED, SETTLED_ON)}

    def lives(self) -> tuple[tuple[LifeDraws, ...] | None, str]:
        """Plausible laws of life of this home's heater, and the message that says what they rest on."""
        fit = self._fit()
        try:
            return lives_of_home(fit.posterior, self.home_id), "odds-prior" if fit.refused else "odds-local"
        except KeyError:
            return None, "odds-none"

    def odds(self) -> Odds | None:
        """What heaters like this one do in the next twelve months.

        None without an age, for a tankless unit, and while something was reported of this very heater that makes it
        unlike the others.
        """
        found = self.standing()
        if not found.odds_stand or found.age_years is None or found.heater is None or not found.heater.kind.has_tank:
            return None
        lives, _ = self.lives()
        return odds(self._fit(), lives, found.age_years) if lives else None

    def record(self) -> HomeRecord:
        """Everything on file for this home."""
        with self._context.read() as records:
            return HomeRecord(
                community=records.state().community,
                home=self.home(),
                standing=self.standing(),
                heaters=tuple(records.heaters(self.home_id)),
                services=tuple(records.services(self.home_id)),
                answers=tuple(s.answer for s in records.answers(home_ids=[self.home_id])),
                reports=self.reports(),
                crew_days=tuple(e.on for e in records.events(self.home_id) if e.kind is EventKind.VISIT),
            )

    def visits(self) -> list[PlannedFor]:
        """Visits of service days that are planned for this home and not closed yet, soonest first."""
        rounds = ServiceRounds(self._context, for_home=self.home_id)
        with self._context.read():
            return self._visits(rounds)

    def _visits(self, rounds: ServiceRounds) -> list[PlannedFor]:
        found = []
        for plan in rounds.plans():
            mine = next((v for v in plan.visits if v.home_id == self.home_id), None)
            if mine is not None and mine.on >= self._context.today:
                papers = rounds.papers(plan, say=self._say)
                if papers.outcomes.get(self.home_id, Outcome.PLANNED) is Outcome.PLANNED:
                    found.append(
                        PlannedFor(
                            plan_id=plan.plan_id,
                            job=plan.asked.job,
                            visit=mine,
                            expect=promised(mine, plan.asked),
                            confirmed=self.home_id in plan.asked.confirmed,
                            calendar=visit_calendar(papers, [self.home_id], self._say, now=self._context.now),
                            cautions=papers.homes[self.home_id].for_people if self.home_id in papers.homes else (),
                        )
                    )
        return sorted(found, key=lambda p: p.visit.on)

    def confirm_visit(self, plan_id: str) -> None:
        """Say that somebody will be there."""
        self._may_change()
        ServiceRounds(self._context, for_home=self.home_id).confirm(plan_id, [self.home_id])

    def cancel_visit(self, plan_id: str) -> None:
        """Withdraw from a service day; a neighbor who waits may have the place."""
        self._may_change()
        rounds = ServiceRounds(self._context, for_home=self.home_id)
        asked = rounds.get(plan_id).asked
        firm = {h: d for h, d in asked.confirmed.items() if h != self.home_id}
        rounds.change(plan_id, replace(asked, cancelled=(*asked.cancelled, self.home_id), confirmed=firm))

    def offer(self) -> Offer | None:
        """What this home is offered in the group purchase as it stands; None where there is none yet."""
        with self._context.read():
            return self._purchase().offer(self.home_id, self.standing())

    def reply_to_offer(
        self,
        says: Interest,
        *,
        limit_usd: float | None = None,
        latest: date | None = None,
        to: Offer | None = None,
        wants: HeaterKind | None = None,
    ) -> None:
        """Say yes, maybe or no to buying together, the most one would pay and by when; nothing in it is binding.

        `to` is the offer as it was shown: a yes without a limit is a yes at its price. `wants` is another kind of
        heater that the home asks for; None for its own.
        """
        self._may_change()
        self._purchase().reply(self.home_id, says, limit_usd=limit_usd, latest=latest, to=to, wants=wants)

    def take_back_reply(self) -> OfferReply | None:
        """Withdraw what was said to the offer: only the answer's own word counts then. None when nothing was said.

        Returns
        -------
        OfferReply or None
            What had been said, for :meth:`put_back_reply`.
        """
        self._may_change()
        return self._purchase().take_back_reply(self.home_id)

    def put_back_reply(self, said: OfferReply) -> None:
        """Undo :meth:`take_back_reply`, to the same price and day as before."""
        self._may_change()
        self._purchase().put_back_reply(self.home_id, said)

    def export(self) -> str:
        """Everything on file for this home as JSON: for its people to keep or take elsewhere."""
        with self._context.read() as records:
            record = self.record()
            content = {
                "as_of": self._context.today,
                "home": asdict(record.home),
                "heaters": [asdict(h) for h in record.heaters],
                "services": [asdict(s) for s in record.services],
                "answers": [asdict(a) for a in record.answers],
                "answers_taken_back": [asdict(a) for a in self.taken_back()],
                "events": [asdict(e) for e in records.events(self.home_id)],
                "reply_to_offer": [asdict(r) for r in records.offer_replies(self.home_id)],
                "photos_of_data_plates": [
                    {"at": p.at, "state": p.state, "jpeg_base64": b64encode(p.jpeg).decode()} for p in self.photos()
                ],
                "contact_notes": [asdict(n) for n in records.contact_notes(self.home_id)],
            }
        return json.dumps(content, default=str, ensure_ascii=False, indent=1)

    def photos(self) -> list[PlatePhoto]:
        """The photographs of this home's data plates, oldest first."""
        with self._context.read() as records:
            return records.plate_photos(self.home_id)

    def add_photo(self, data: bytes) -> None:
        """Keep a photograph of a data plate, painted anew: the file itself, and all it tells beside, is not kept.

        Raises
        ------
        UnusablePhoto
            When the file is not a photograph, or the home has as many as it may.
        """
        self._may_change()
        photo = clean_photo(data)
        kept = PlatePhoto(
            photo_id=uuid.uuid4().hex,
            home_id=self.home_id,
            at=self._context.now,
            state=PlateState.WAITING,
            jpeg=photo.jpeg,
        )
        with self._context.write("keep a photo") as write:
            if write.count(PlatePhoto, "home_id", self.home_id) >= MOST_OF_A_HOME:
                raise UnusablePhoto("plate-enough")
            write.put([kept])
            write.log("plate_photo", self.home_id)

    def remove_photo(self, photo_id: str) -> None:
        """Delete one photograph; it cannot be brought back."""
        self._may_change()
        if photo_id in {p.photo_id for p in self.photos()}:
            with self._context.write("delete a photo") as write:
                write.drop(PlatePhoto, "photo_id", [photo_id])
                write.log("plate_photo", self.home_id)

    def report_symptom(self, symptom: Symptom) -> Submission:
        """Put one symptom on file beside those already there; what came back says whether it was stored."""
        found = self.standing()
        known = found.heater.symptoms if found.heater else ()
        return self._symptoms(";".join(dict.fromkeys([*map(str, known), str(symptom)])))

    def settle(self, what: str, *, on: date, looked_at: bool = False) -> None:
        """Put on file that something reported is settled; take the answer back to let it stand again.

        Parameters
        ----------
        what
            The symptom, or what a crew found.
        on
            The day it was settled.
        looked_at
            Whether those looked at it who must: a licensed contractor, or the gas utility.

        Raises
        ------
        CannotSettle
            When nothing of the kind stands, the day does not fit, or nobody looked who must.
        """
        self._may_change()
        report = next((r for r in self.standing().reported if r.what == what), None)
        if report is None:
            raise CannotSettle(self._say("reported-wrong-gone"))
        if on > self._context.today or (report.on is not None and on < report.on):
            raise CannotSettle(self._say("reported-wrong-day"))
        if settled_words(what, self._say) and not looked_at:
            raise CannotSettle(self._say("reported-wrong-tick"))
        address = self.home().address
        answer = Answer(
            answer_id=uuid.uuid4().hex,
            home_id=self.home_id,
            address_as_typed=address,
            channel=AnswerChannel.FORM,
            submitted_at=self._context.now,
            submitted_by=self._context.actor.name,
            answered_on=self._context.today,
            given={"address": address, "consent": "yes", SETTLED: what, SETTLED_ON: on.isoformat()},
        )
        put_on_file(self._context, answer, self.home_id, "Told at the home's own pages.")

    def take_back(self, answer_id: str) -> None:
        """Withdraw an answer: it no longer counts. The volunteer can bring it back.

        Raises
        ------
        NotThere
            When the home has no such answer.
        """
        self._may_change()
        with self._context.read() as records:
            mine = {s.answer.answer_id for s in records.answers(home_ids=[self.home_id])}
        if answer_id not in mine:
            raise NotThere("That answer is not on file for this home any more.")
        decide(self._context, answer_id, JoinState.SET_ASIDE, None, taken_back_by(self.home_id))

    def taken_back(self) -> list[Answer]:
        """Answers that this home took back and may bring back, oldest first."""
        with self._context.read() as records:
            aside = records.answers(join_state=str(JoinState.SET_ASIDE))
        return [s.answer for s in aside if s.join_why == taken_back_by(self.home_id)]

    def bring_back(self, answer_id: str) -> None:
        """Undo :meth:`take_back`: the answer counts again.

        Raises
        ------
        NotThere
            When this home has taken back no such answer, or the volunteer has decided about it since.
        """
        self._may_change()
        if answer_id not in {a.answer_id for a in self.taken_back()}:
            raise NotThere("This home has taken back no such answer, or the volunteer has decided about it since.")
        decide(self._context, answer_id, JoinState.JOINED, self.home_id, "Brought back by the home itself.")

    def forget(self) -> int:
        """Delete what people told about this home, its entries in the change log included.

        Returns
        -------
        int
            How many answers were deleted.
        """
        self._may_change()
        with self._context.write("delete a home's data") as write:
            return int(write.forget_home(self.home_id))

    def today(self) -> date:
        """The day the home is judged by."""
        return self._context.today

    def _purchase(self) -> PurchaseRounds:
        return PurchaseRounds(self._context, for_home=self.home_id)

    def _may_change(self) -> None:
        self._context.require(Action.CHANGE_HOME, self.home_id)

    def _symptoms(self, words: str) -> Submission:
        self._may_change()
        given = {"address": self.home().address, "symptoms": words, "consent": "yes"}
        return Answers(self._context).submit(given, channel=AnswerChannel.FORM, home_id=self.home_id)
