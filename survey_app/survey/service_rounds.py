"""`ServiceRounds`: what the committee and the volunteer do about service days."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from survey_app.access import Action, Role
from survey_app.errors import NotThere
from survey_app.histories import wishes_of
from survey_app.records import Event, Visit, Wishes
from survey_app.reports.service_map import day_map
from survey_app.reports.service_papers import ServicePapers
from survey_app.service_days import (
    KEEN,
    Asked,
    Candidate,
    Closing,
    ClosingProblem,
    Ground,
    Interested,
    Job,
    Outcome,
    ServicePlan,
    candidates,
    change_days,
    event_of,
    interested_in,
    plan_days,
    read_closings,
    reorder_day,
    visit_event_id,
    worth_of_homes,
)
from survey_app.store import KeptServicePlan, Reading
from survey_app.survey.answers import book_of
from survey_app.survey.context import Context
from survey_app.survey.rereading import reread
from survey_app.texts import ENGLISH, Texts

__all__ = ["ServiceRounds", "ground_of", "plan_of"]


class ServiceRounds:
    """Service days of one survey, for the committee and the volunteer.

    Parameters
    ----------
    context
        The records, who asks and when.
    for_home
        The home whose people ask, by way of :class:`OneHome`; None for those who plan.

    Raises
    ------
    NotAllowed
        When this actor may not plan service days, or that home is not theirs.
    """

    def __init__(self, context: Context, *, for_home: str | None = None) -> None:
        if for_home is None:
            context.require(Action.PLAN_DAYS)
        else:
            context.require(Action.READ_HOME, for_home)
        self._context = context

    # ---- who ------------------------------------------------------------------

    def interested(self, job: Job) -> Interested:
        """How many homes a job is about; counts only."""
        exact = self._context.actor.role is Role.VOLUNTEER
        with self._context.read():
            found, least = self._candidates(job, weighed=False), self._context.settings().public_minimum_answers
        return interested_in(found, minimum=1 if exact else least)

    def candidates(self, job: Job) -> list[Candidate]:
        """Homes looked at for a job; for the committee those that asked to take part, without phones and remarks."""
        found = self._candidates(job)
        if self._context.actor.role is Role.VOLUNTEER:
            return found
        return [c for c in found if c.interest in KEEN]

    def place_of(self, address: str) -> tuple[float, float] | None:
        """Longitude and latitude of the home an address most likely means; None where none fits."""
        found = book_of(self._context).suggest(address[:200])  # addresses alone are public records
        if not found:
            return None
        with self._context.read() as records:
            parcel = next(iter(records.parcels(found[0].place_id)), None)
        return (parcel.lon, parcel.lat) if parcel else None

    # ---- plans ----------------------------------------------------------------

    def plan(self, asked: Asked, *, progress: Callable[[float, str], object] | None = None) -> ServicePlan:
        """Plan service days and keep the plan.

        Raises
        ------
        CannotPlan
            Nothing can be planned; every reason is a sentence.
        """
        with self._context.read() as records:
            homes, ground, settings = self._candidates(asked.job), ground_of(records), self._context.settings()
        made = plan_days(
            homes,
            asked,
            ground,
            settings,
            plan_id=uuid.uuid4().hex,
            made_at=self._context.now,
            made_by=self._context.actor.name,
            progress=progress,
        )
        return self._keep(made, "plan service days")

    def change(self, plan_id: str, asked: Asked) -> ServicePlan:
        """Change a plan around what is fixed; the plan keeps its name, the old one is in no list any more.

        Raises
        ------
        CannotPlan
            A name or day in the change is unknown, or nothing is left to plan.
        """
        with self._context.read() as records:
            old, homes = self.get(plan_id), self._candidates(asked.job)
            ground, settings = ground_of(records), self._context.settings()
        made = change_days(
            old,
            asked,
            homes,
            ground,
            settings,
            plan_id=plan_id,
            made_at=self._context.now,
            made_by=self._context.actor.name,
        )
        return self._keep(made, "change service days")

    def reorder(self, plan_id: str, on: date, crew: int, order: Sequence[str]) -> ServicePlan:
        """Drive one crew's day in another order."""
        with self._context.read() as records:
            old = self.get(plan_id)
            homes, ground, settings = self._candidates(old.asked.job), ground_of(records), self._context.settings()
        made = reorder_day(
            old,
            on,
            crew,
            order,
            homes,
            ground,
            settings,
            plan_id=plan_id,
            made_at=self._context.now,
            made_by=self._context.actor.name,
        )
        return self._keep(made, "reorder a service day")

    def confirm(self, plan_id: str, home_ids: Sequence[str]) -> ServicePlan:
        """Note that homes have confirmed the day they are planned for; nothing moves."""
        plan = self.get(plan_id)
        days = {v.home_id: v.on for v in plan.visits}
        firm = {**plan.asked.confirmed, **{h: days[h] for h in home_ids if h in days}}
        return self._keep(replace(plan, asked=replace(plan.asked, confirmed=firm)), "confirm a visit")

    def plans(self) -> list[ServicePlan]:
        """Every plan, newest first."""
        with self._context.read() as records:
            return [plan_of(kept) for kept in records.service_plans()]

    def get(self, plan_id: str) -> ServicePlan:
        """One plan.

        Raises
        ------
        NotThere
            When there is none.
        """
        with self._context.read() as records:
            rows = records.service_plans(plan_id)
        if not rows:
            raise NotThere("That plan is not on file any more. Look at the list of plans again.")
        return plan_of(rows[0])

    def papers(self, plan: ServicePlan, *, weighed: bool = False, say: Texts = ENGLISH) -> ServicePapers:
        """A plan with what is known of its homes and what became of the visits, for paper, screens and calendars.

        `weighed` works out what serving each home is worth, too; `say` is the language of the paper.
        """
        wanted = {v.home_id for v in plan.visits} | {w.home_id for w in plan.waiting}
        wanted |= {m.home_id for m in plan.moved}
        with self._context.read() as records:
            return ServicePapers(
                community=records.state().community,
                plan=plan,
                call=self._context.settings().contacts.volunteer,
                with_contacts=self._context.actor.role is Role.VOLUNTEER,
                homes={
                    c.home_id: c
                    for c in self._candidates(plan.asked.job, weighed=weighed, say=say)
                    if c.home_id in wanted
                },
                outcomes={v.home_id: v.outcome for v in records.visits(plan.plan_id)},
            )

    def map_of_days(self, plan: ServicePlan) -> str:
        """The plan's days on a map, a color and a number each, as a self-contained page."""
        with self._context.read() as records:
            papers, parcels, homes, streets = self.papers(plan), records.parcels(), records.homes(), records.streets()
        return day_map(papers, parcels, homes, streets, plan)

    # ---- closing a day ----------------------------------------------------------

    def close(self, plan_id: str, closings: Sequence[Closing]) -> int:
        """Put on file what became of visits: acts and findings go to the homes' histories, in one transaction.

        Returns
        -------
        int
            How many visits were closed.

        Raises
        ------
        NotThere
            A home is not on the plan.
        """
        plan = self.get(plan_id)
        days = {v.home_id: v.on for v in plan.visits}
        strange = [c.home_id for c in closings if c.home_id not in days]
        if strange:
            raise NotThere(f"Not on this plan: {', '.join(strange)}. Look at the list of visits again.")
        events = []
        visits = []
        for closing in closings:
            on = min(days[closing.home_id], self._context.today)
            event = event_of(closing, plan.asked.job, plan_id=plan_id, on=on, told_by=self._context.actor.name)
            events += [event] if event else []
            visits.append(
                Visit(
                    plan_id=plan_id,
                    home_id=closing.home_id,
                    on=on,
                    confirmed=closing.home_id in plan.asked.confirmed,
                    outcome=closing.outcome,
                    why=closing.why,
                    findings=(*closing.findings, *([closing.notes] if closing.notes else [])),
                    closed_by=self._context.actor.name,
                )
            )
        with self._context.write("close visits") as write:
            write.put(visits)
            told = {e.event_id for e in events}
            mine = {visit_event_id(plan_id, c.home_id) for c in closings}
            write.drop(Event, "event_id", mine - told)  # a closing corrected to "nothing done"
            write.put(events)
            reread(write, {c.home_id for c in closings})
        return len(visits)

    def read_closings(
        self, plan_id: str, rows: Sequence[Mapping[str, str]]
    ) -> tuple[list[Closing], list[ClosingProblem]]:
        """Rows of a closed day's sheet, checked against the plan."""
        with self._context.read() as records:
            plan = self.get(plan_id)
            address = {h.home_id: h.address for h in records.homes()}
        return read_closings(rows, {v.home_id: address.get(v.home_id, v.home_id) for v in plan.visits})

    # ---- inside -------------------------------------------------------------------

    def _keep(self, plan: ServicePlan, action: str) -> ServicePlan:
        with self._context.read() as records:
            before = {v.home_id: v.outcome for v in records.visits(plan.plan_id)}
        planned = [
            Visit(plan_id=plan.plan_id, home_id=v.home_id, on=v.on, confirmed=v.home_id in plan.asked.confirmed)
            for v in plan.visits
            # What was closed stays closed, whatever is planned around it.
            if before.get(v.home_id, Outcome.PLANNED) is Outcome.PLANNED
        ]
        still = {v.home_id for v in planned}
        gone = [h for h, outcome in before.items() if outcome is Outcome.PLANNED and h not in still]
        with self._context.write(action) as write:
            write.put([_kept(plan)])
            write.log("service_plan", plan.plan_id)
            write.drop_visits(plan.plan_id, gone)
            write.put(planned)
        return plan

    def _wishes(self) -> dict[str, Wishes]:
        with self._context.read() as records:
            answers, homes = self._context.answers_by_home(), records.homes()
        return {h.home_id: wishes_of(h, answers[h.home_id]) for h in homes if h.home_id in answers}

    def _candidates(self, job: Job, *, weighed: bool = True, say: Texts = ENGLISH) -> list[Candidate]:
        with self._context.read():
            standings, wishes, settings = self._context.standings(), self._wishes(), self._context.settings()
            worth: Mapping[str, tuple[float, float, float]] = {}
            if weighed:
                worth = worth_of_homes(standings, wishes, job, fitted=self._context.life_fit(), settings=settings)
        found = candidates(standings, wishes, job, settings=settings, worth=worth, say=say)
        if self._context.actor.role is Role.VOLUNTEER:
            return found
        # Phones, e-mails and remarks were given to the volunteers: they leave by nobody else.
        return [replace(c, contact="", remarks="") for c in found]


def plan_of(kept: KeptServicePlan) -> ServicePlan:
    """A plan as it was kept."""
    asked = Asked.from_dict(kept.asked)
    return ServicePlan.from_dict(
        kept.planned, plan_id=kept.plan_id, asked=asked, made_at=kept.made_at, made_by=kept.made_by
    )


def _kept(plan: ServicePlan) -> KeptServicePlan:
    return KeptServicePlan(
        plan_id=plan.plan_id,
        job=str(plan.asked.job),
        made_at=plan.made_at,
        made_by=plan.made_by,
        asked=plan.asked.to_dict(),
        planned=plan.to_dict(),
    )


def ground_of(records: Reading) -> Ground:
    """Where the homes stand and what streets there are."""
    parcels = {p.parcel_id: p for p in records.parcels()}
    homes = records.homes()
    held = {h.parcel_id for h in homes}
    return Ground(
        where={
            h.home_id: (parcels[h.parcel_id].lon, parcels[h.parcel_id].lat) for h in homes if h.parcel_id in parcels
        },
        streets=records.streets(),
        outlines={h.home_id: parcels[h.parcel_id].outline_wkb for h in homes if h.parcel_id in parcels},
        addresses={h.home_id: h.address for h in homes},
        obstacles=[p.outline_wkb for k, p in parcels.items() if k not in held],
        local_epsg=records.state().community.local_epsg,
    )
