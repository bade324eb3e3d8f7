"""`Survey`: what an actor may ask of the records, in one place."""

from __future__ import annotations

import os
import uuid
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date, datetime
from typing import Any
from weakref import WeakKeyDictionary

from geo.addresses import AddressBook, Candidate
from geo.parcels import ParcelFile
from survey_app import credentials
from survey_app.access import Action, Actor, Role, require
from survey_app.csv_import import Sheet, check_rows
from survey_app.economics import Amounts
from survey_app.forecast import (
    Forecast,
    Help,
    LifeFit,
    LookBack,
    fit_summary,
    forecast,
    look_back,
    what_would_help,
)
from survey_app.histories import home_history
from survey_app.intake import Checked, check
from survey_app.joins import Join, JoinState, address_book, homes_on_parcels, join_all
from survey_app.lifetime import Observations, Prior, fit, load_prior, observations
from survey_app.lifetime.diagnostics import CutCheck, cut_five
from survey_app.policies import TenYears
from survey_app.records import Answer, AnswerChannel, Heater, Home, ServiceRecord
from survey_app.reports.board_report import BoardReport, few
from survey_app.reports.forecast_report import losses_map, without_homes
from survey_app.reports.letters import in_walking_order
from survey_app.reports.standing_map import public_map, volunteer_map
from survey_app.response import Coverage, PublishedFigures, coverage, published_figures
from survey_app.service_days import ServicePlan
from survey_app.settings import Settings, read_settings, write_settings
from survey_app.standing import Standing, add_years, class_counts, standing, standings
from survey_app.store import Changes, CommunityState, Store, StoredAnswer, tables
from survey_app.store.sign_ins import taken_locators
from survey_app.survey.board import policy_study
from survey_app.survey.differences import Differences
from survey_app.survey.handed_back import DoubtfulAnswer, ImportReport, LoadReport, Submission
from survey_app.survey.one_home import OneHome
from survey_app.survey.purchase_rounds import PurchaseRounds
from survey_app.survey.responses import Responses
from survey_app.survey.service_rounds import ServiceRounds
from survey_app.survey.sign_in_rights import SignInRights
from survey_app.survey.year_end import YearEnd
from survey_app.texts import ENGLISH, Texts

__all__ = ["FORECAST_DRAWS", "FORECAST_SEED", "Progress", "Survey"]

FORECAST_SEED = 1
"""The same records give the same forecast, whoever looks."""
FORECAST_DRAWS = 1000
LONGEST_ADDRESS = 300
"""Signs looked at: comparing a megabyte that a stranger sends with every home would keep the server busy."""
Progress = Callable[[int, int], object]


class Survey:
    """One actor's survey.

    Parameters
    ----------
    store
        The open records.
    actor
        Who asks; every method checks what this actor may do.
    now
        The moment the work happens: ages, due dates and the change log use it.

    Raises
    ------
    NotAllowed
        By every method, when the actor may not do it.
    """

    def __init__(self, store: Store, actor: Actor, *, now: datetime) -> None:
        self._store = store
        self.actor = actor
        self.now = now

    @property
    def today(self) -> date:
        """The day the survey is judged by."""
        return self.now.date()

    # ---- the community --------------------------------------------------

    def state(self) -> CommunityState:
        """The community, how fresh its data are, and their version."""
        require(self.actor, Action.READ_COMMUNITY)
        return self._store.state()

    def how_many(self) -> tuple[int, int]:
        """How many homes there are, and how many have answered."""
        require(self.actor, Action.READ_COMMUNITY)
        return self._store.how_many()

    def settings(self) -> Settings:
        """The community's settings."""
        require(self.actor, Action.READ_COMMUNITY)
        return read_settings(self._store.state().settings)

    def change_settings(self, settings: Settings) -> None:
        """Store new settings; each change is in the change log with the value before."""
        require(self.actor, Action.SET_UP)
        before, after = self.settings().model_dump(), settings.model_dump()
        with self._writing("change settings") as write:
            write.set_community(settings=write_settings(settings))
            for name, value in after.items():
                if before[name] != value:
                    write.log("setting", name, before[name], value)

    def name_community(self, name: str, *, synthetic: bool, open_doors: bool = False) -> None:
        """Name the community and say whether it is invented."""
        require(self.actor, Action.SET_UP)
        with self._writing("name the community") as write:
            write.set_community(name=name, synthetic=synthetic, open_doors=open_doors and synthetic)

    def load_parcels(self, file: ParcelFile, *, home_uses: frozenset[str] | None = None) -> LoadReport:
        """Store parcels and the homes on them; homes that were answered for are never dropped."""
        require(self.actor, Action.SET_UP)
        phases, parcels, homes = homes_on_parcels(file, home_uses=home_uses)
        answered = self._store.homes_with_history()
        known = {h.home_id: h for h in self._store.homes()}
        gone = set(known) - {h.home_id for h in homes}
        kept = sorted(gone & answered)
        with self._writing("load parcels") as write:
            write.set_community(local_epsg=file.local_epsg)
            write.put_phases(phases)
            write.put_parcels(parcels)
            write.put_homes([_with_facts(h, known.get(h.home_id)) for h in homes])
            dropped = sorted(gone - answered)
            write.drop(tables.join_candidate, "home_id", dropped)
            write.drop_access_codes(dropped)
            write.drop(tables.home, "home_id", dropped)
            still = {h.parcel_id for h in homes} | {known[k].parcel_id for k in kept}
            old_parcels = {p.parcel_id for p in self._store.parcels()} - {p.parcel_id for p in parcels}
            write.drop(tables.parcel, "parcel_id", sorted(old_parcels - still))
        _BOOKS.pop(self._store, None)
        return LoadReport(
            parcels=len(parcels),
            homes=len(homes),
            phases=len(phases),
            repaired=file.repaired,
            refused=file.refused,
            assumed=file.assumed,
            kept_without_parcel=tuple(known[k].address for k in kept),
        )

    def load_streets(self, lines: Sequence[tuple[str, str, bytes]]) -> int:
        """Store street lines (name, kind, well-known binary in WGS 84) for the map's background."""
        require(self.actor, Action.SET_UP)
        with self._writing("load streets") as write:
            return int(write.put_streets(lines))

    def may_see_all(self) -> None:
        """Raise unless this actor may see every home."""
        require(self.actor, Action.READ_ALL_HOMES)

    def may_see_totals(self) -> None:
        """Raise unless this actor may see figures for the community."""
        require(self.actor, Action.READ_TOTALS)

    def accounts(self) -> list[tuple[str, str]]:
        """Every account's name and role."""
        require(self.actor, Action.MANAGE_SIGN_IN)
        return self._store.account_names()

    # ---- answers ---------------------------------------------------------

    def suggest(self, typed: str) -> list[Candidate]:
        """Homes whose address resembles what is being typed. Addresses alone are public records."""
        require(self.actor, Action.SUBMIT_ANSWER)
        return list(self._book().suggest(typed[:LONGEST_ADDRESS]))

    def home_address(self, home_id: str) -> str:
        """The address of one home; an address alone is a public record."""
        require(self.actor, Action.READ_COMMUNITY)
        return next((h.address for h in self._store.homes(home_id)), "")

    def check_answer(
        self, given: Mapping[str, str], *, home_id: str | None = None, overruled: Mapping[str, str] = {}
    ) -> Checked:
        """What an answer means and every problem in it, without storing anything."""
        require(self.actor, Action.SUBMIT_ANSWER)
        home = next(iter(self._store.homes(home_id)), None) if home_id else None
        return self._check(given, AnswerChannel.FORM, home, overruled, uuid.uuid4().hex)

    def submit(
        self,
        given: Mapping[str, str],
        *,
        channel: AnswerChannel,
        home_id: str | None = None,
        overruled: Mapping[str, str] = {},
        answer_id: str | None = None,
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
        """
        require(self.actor, Action.SUBMIT_ANSWER)
        answer_id = answer_id or uuid.uuid4().hex
        join = self._join_one(given.get("address", "")[:LONGEST_ADDRESS], home_id, answer_id)
        # A second answer waits for the volunteer, but is about that home all the same: its year is public.
        about = join.candidates[0].place_id if join.state is JoinState.SECOND else join.home_id
        home = next(iter(self._store.homes(about)), None) if about else None
        checked = self._check(given, channel, home, overruled, answer_id)
        if checked.answer is None or checked.must_settle:
            return Submission(stored=False, checked=checked, join=join, standing=None)
        join = self._save_one(checked.answer, join)
        return Submission(stored=True, checked=checked, join=join, standing=self._standing_alone(home, checked.answer))

    def import_answers(self, sheet: Sheet, *, progress: Progress | None = None) -> ImportReport:
        """Import a sheet of answers: good rows are stored and joined, the others handed back."""
        require(self.actor, Action.IMPORT)
        typed = sheet.addresses
        joins = dict(zip(typed, join_all(self._book(), list(typed)), strict=True))
        years = {h.home_id: h.built_year for h in self._store.homes()}
        imported = check_rows(
            sheet,
            today=self.today,
            house_year_of=lambda address: years.get(joins[address].home_id or "") if address in joins else None,
            submitted_by=self.actor.name,
            submitted_at=self.now,
            progress=progress,
        )
        fresh = [c.answer for c in imported.accepted if c.answer is not None]
        there = {s.answer.answer_id for s in self._store.answers()}
        new = [
            (a, joins.get(a.address_as_typed) or self._join_one(a.address_as_typed, None))
            for a in fresh
            if a.answer_id not in there
        ]
        homes = self._save(new)
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
        require(self.actor, Action.DECIDE_JOINS)
        found: dict[str, list[Candidate]] = {}
        for row in self._store.candidates():
            found.setdefault(row["answer_id"], []).append(
                Candidate(place_id=row["home_id"], address=row["address"], score=row["score"], why=row["why"])
            )
        return [
            DoubtfulAnswer(
                answer=s.answer,
                state=JoinState(s.join_state),
                why=s.join_why,
                candidates=tuple(found.get(s.answer.answer_id, ())),
            )
            for state in (JoinState.DOUBTFUL, JoinState.SECOND, JoinState.NO_HOME)
            for s in self._store.answers(join_state=state)
        ]

    def accept(self, answer_id: str, home_id: str) -> None:
        """Decide that an answer is for this home."""
        require(self.actor, Action.DECIDE_JOINS)
        if not self._store.homes(home_id):
            raise LookupError(f"There is no home '{home_id}' in this survey. Choose one from the list.")
        self._decide(answer_id, JoinState.JOINED, home_id, f"Decided by {self.actor.name}.")

    def set_aside(self, answer_id: str) -> None:
        """Decide that an answer is for none of the community's homes. It is kept, and counts for nothing."""
        require(self.actor, Action.DECIDE_JOINS)
        self._decide(answer_id, JoinState.SET_ASIDE, None, f"Set aside by {self.actor.name}.")

    def disagreements(self) -> list[tuple[Home, tuple[str, ...]]]:
        """Homes whose answers contradict one another and nobody has settled, with the sentences that say how."""
        require(self.actor, Action.READ_ALL_HOMES)
        return [(d.home, d.sentences) for d in Differences(self).all()]

    # ---- standing and figures ---------------------------------------------

    def standings(self) -> list[Standing]:
        """Where every home stands today."""
        require(self.actor, Action.READ_ALL_HOMES)
        return self._standings()

    def one_home(self, home_id: str, *, say: Texts = ENGLISH, fit: Callable[[], LifeFit] | None = None) -> OneHome:
        """One home, for the people who live there and for the volunteer.

        Parameters
        ----------
        home_id
            The home.
        say
            The language of what is said.
        fit
            Gives what the community's answers say about lives, where that is already worked out.
        """
        require(self.actor, Action.READ_HOME, home_id)
        return OneHome(self, home_id, say=say, fit=fit)

    def service_rounds(self) -> ServiceRounds:
        """Service days: for the committee, homes that asked to take part; for the volunteer, all."""
        require(self.actor, Action.PLAN_DAYS)
        return ServiceRounds(self)

    def purchase_rounds(self) -> PurchaseRounds:
        """The group purchase: bids, rounds, what was bought; single homes only where they asked to take part."""
        require(self.actor, Action.PLAN_PURCHASE)
        return PurchaseRounds(self)

    def policies(
        self,
        *,
        draws: int = 200,
        discount: float = 0.15,
        followed_by: float = 1.0,
        amounts: Amounts | None = None,
        fit: Callable[[], LifeFit] | None = None,
    ) -> TenYears:
        """What each policy costs over ten years, by the community's amounts or others; it names no home."""
        require(self.actor, Action.READ_TOTALS)
        fitted = (fit or self.life_fit)()
        return policy_study(
            self,
            fitted,
            draws=draws,
            discount=discount,
            followed_by=followed_by,
            amounts=amounts or self.amounts(),
            seed=FORECAST_SEED,
        )

    def amounts(self) -> Amounts:
        """What things cost by the community's settings, for a heater of the usual kind."""
        require(self.actor, Action.READ_COMMUNITY)
        return Amounts.from_settings(self.settings())

    def responses(self) -> Responses:
        """Who answered, who is late, what the answers say of the whole community."""
        require(self.actor, Action.READ_ALL_HOMES)
        return Responses(self)

    def homes_to_enter(self, *, after: str | None = None) -> list[Home]:
        """Homes without an answer in the order of the letters, those that come after `after` first."""
        require(self.actor, Action.READ_ALL_HOMES)
        ordered = in_walking_order(self._store.homes())
        answered = self._answered_homes()
        at = next((i + 1 for i, h in enumerate(ordered) if h.home_id == after), 0)
        return [h for h in (*ordered[at:], *ordered[:at]) if h.home_id not in answered]

    def home_addresses(self) -> dict[str, str]:
        """Every home's address by its id, for whoever manages the private codes."""
        require(self.actor, Action.MANAGE_SIGN_IN)
        return {h.home_id: h.address for h in self._store.homes()}

    def board_report(self, *, fit: Callable[[], LifeFit] | None = None) -> BoardReport:
        """Everything the board is told: what may be published, and nothing else."""
        require(self.actor, Action.READ_TOTALS)
        study = self.policies(fit=fit) if self._store.how_many()[1] else None
        response, twice = Responses.for_totals(self)
        done = Counter(v["plan_id"] for v in self._store.visits() if v["outcome"] == "done")
        plans = [ServicePlan.from_rows(row) for row in self._store.service_plans()]
        least = self.settings().public_minimum_answers
        return BoardReport(
            community=self._store.state().community,
            as_of=self.today,
            figures=self.published_figures(),
            response=response,
            twice=twice,
            forecast=self.forecast(),
            policies=study,
            service_days=tuple(
                (str(p.asked.job), str(p.days[0]), few(len(p.visits), least), few(done[p.plan_id], least))
                for p in plans
                if p.days
            ),
        )

    def year_end(self) -> YearEnd:
        """The records in open formats, and what is left to do before handing over."""
        require(self.actor, Action.READ_ALL_HOMES)
        return YearEnd(self)

    def differences(self) -> Differences:
        """Answers that contradict one another, to be settled."""
        require(self.actor, Action.DECIDE_JOINS)
        return Differences(self)

    def too_old(self) -> list[Home]:
        """Homes whose last answer is older than the setting allows."""
        require(self.actor, Action.READ_ALL_HOMES)
        edge = add_years(self.today, -self.settings().keep_answers_years)
        last: dict[str, date] = {}
        for home_id, answers in self._answers_by_home(None).items():
            last[home_id] = max(a.answered_on for a in answers)
        return [h for h in self._store.homes() if h.home_id in last and last[h.home_id] < edge]

    def forget_too_old(self) -> int:
        """Delete what people told about homes whose last answer is too old; returns how many homes."""
        homes = self.too_old()
        for home in homes:
            self.one_home(home.home_id).forget()
        return len(homes)

    def standing_of(self, home_id: str) -> Standing:
        """Where one home stands today."""
        return self.one_home(home_id).standing()

    def life_fit(self) -> LifeFit:
        """What the community's answers say about lives: what figures and one home's odds are worked out from.

        Nobody gets it who sees neither figures nor a home.
        """
        if self.actor.role is Role.RESIDENT:
            require(self.actor, Action.READ_HOME, self.actor.home_id)
        else:
            require(self.actor, Action.READ_TOTALS)
        prior = load_prior()
        return fit_summary(
            fit(self._observations(prior), prior, draws=FORECAST_DRAWS, seed=FORECAST_SEED), seed=FORECAST_SEED
        )

    def latest_given(self, home_id: str) -> dict[str, str]:
        """What was last answered for one home, to start a new answer from."""
        require(self.actor, Action.READ_HOME, home_id)
        given: dict[str, str] = {}
        for stored in self._store.answers(home_ids=[home_id]):
            given.update({k: v for k, v in stored.answer.given.items() if v})
        return given

    def totals(self) -> Mapping[str, int]:
        """How many homes stand in each class, exactly."""
        require(self.actor, Action.READ_ALL_HOMES)
        return class_counts(self._standings())

    def published_figures(self) -> PublishedFigures:
        """Figures for the committee, small cells left out."""
        require(self.actor, Action.READ_TOTALS)
        return published_figures(
            class_counts(self._standings()),
            coverage(self._store.homes(), self._answered_homes()),
            minimum=self.settings().public_minimum_answers,
        )

    def coverage(self) -> Coverage:
        """How many homes answered: in all, by phase and by street."""
        require(self.actor, Action.READ_ALL_HOMES)
        return coverage(self._store.homes(), self._answered_homes())

    def whole_map(self) -> str:
        """The volunteer's map: every home, its standing and its card, as one self-contained page."""
        require(self.actor, Action.READ_ALL_HOMES)
        return volunteer_map(**self._map_inputs())

    def public_map(self) -> str:
        """The map without a single home: blocks of at least the set number of answers."""
        require(self.actor, Action.READ_TOTALS)
        return public_map(**self._map_inputs())

    # ---- foreseeing ---------------------------------------------------------

    def forecast(self, *, as_of: date | None = None) -> Forecast:
        """How many heaters the community will lose in 1, 3 and 5 years, and what that rests on.

        Nothing in it speaks of a single home: chances by home, records set aside and small phases are left out.
        """
        require(self.actor, Action.READ_TOTALS)
        return without_homes(self._forecast(as_of or self.today), self.settings().public_minimum_answers)

    def records_not_used(self) -> tuple[str, ...]:
        """Records that the forecast could not use, a sentence each."""
        require(self.actor, Action.READ_ALL_HOMES)
        return tuple(problem.sentence for problem in self._observations(load_prior()).problems)

    def what_would_help(self) -> tuple[Help, CutCheck]:
        """Which answers would narrow the forecast most, and whether answers seem tied to recent leaks."""
        require(self.actor, Action.READ_ALL_HOMES)
        prior = load_prior()
        posterior = fit(self._observations(prior), prior, draws=FORECAST_DRAWS, seed=FORECAST_SEED)
        help_ = what_would_help(posterior, seed=FORECAST_SEED)
        return help_, cut_five(*self._records(), as_of=self.today, prior=prior)

    def look_back(self, as_of_past: date) -> LookBack:
        """A forecast from what was known on an earlier day, against what happened since."""
        require(self.actor, Action.READ_TOTALS)
        answered_then = {
            s.answer.home_id
            for s in self._store.answers()
            if s.answer.home_id is not None and s.answer.answered_on <= as_of_past
        }
        return look_back(
            *self._records(),
            as_of_past=as_of_past,
            today=self.today,
            seed=FORECAST_SEED,
            answered_then=answered_then or None,
        )

    def years_ago(self, years: int) -> date:
        """The day some years before today."""
        return add_years(self.today, -years)

    def losses_map(self) -> str:
        """Expected losses by groups of homes, never a single one, as a self-contained page."""
        require(self.actor, Action.READ_TOTALS)
        inputs = self._map_inputs()
        del inputs["found"]
        return losses_map(self._forecast(self.today), self._store.homes(), **inputs)

    def _forecast(self, as_of: date) -> Forecast:
        return forecast(*self._records(), as_of=as_of, seed=FORECAST_SEED)

    def _observations(self, prior: Prior) -> Observations:
        return observations(*self._records(), as_of=self.today, long_warranty_years=prior.long_warranty_years)

    def _records(self) -> tuple[list[Home], list[Heater], list[ServiceRecord]]:
        return self._store.homes(), self._store.heaters(), self._store.services()

    def outlines(self) -> dict[str, bytes]:
        """Every parcel's outline, well-known binary in WGS 84, by parcel number."""
        require(self.actor, Action.READ_ALL_HOMES)
        return {p.parcel_id: p.outline_wkb for p in self._store.parcels()}

    def records(self) -> tuple[list[Home], list[Heater], list[ServiceRecord]]:
        """All homes, heaters and service records."""
        require(self.actor, Action.READ_ALL_HOMES)
        return self._records()

    def changes(self, limit: int = 200) -> list[dict[str, Any]]:
        """The newest entries of the change log."""
        require(self.actor, Action.READ_ALL_HOMES)
        return self._store.changes(limit=limit)

    # ---- sign-in ------------------------------------------------------------

    def issue_codes(
        self, home_ids: Iterable[str] | None = None, *, progress: Progress | None = None
    ) -> list[tuple[Home, str]]:
        """Make new private codes; the old ones of these homes stop working.

        Returns
        -------
        list of (Home, str)
            The codes in plain text, shown this once: only their hashes are stored.
        """
        require(self.actor, Action.MANAGE_SIGN_IN)
        wanted = None if home_ids is None else set(home_ids)
        homes = [h for h in self._store.homes() if wanted is None or h.home_id in wanted]
        taken = taken_locators(self._store, but_of={h.home_id for h in homes})
        issued: list[tuple[Home, credentials.PrivateCode]] = []
        for home in homes:
            code = credentials.new_code(taken)
            taken.add(code.locator)
            issued.append((home, code))
        rows: list[dict[str, Any]] = []
        with ThreadPoolExecutor(os.cpu_count()) as pool:  # Argon2 works outside Python's lock
            hashes = pool.map(credentials.hash_secret, [code.secret for _, code in issued])
            for (home, code), code_hash in zip(issued, hashes, strict=True):
                rows.append(
                    {
                        "locator": code.locator,
                        "home_id": home.home_id,
                        "code_hash": code_hash,
                        "issued_at": self.now,
                        "revoked_at": None,
                    }
                )
                if progress:
                    progress(len(rows), len(homes))
        with self._writing("issue private codes") as write:
            write.drop_access_codes([h.home_id for h in homes])
            write.put_access_codes(rows)
            write.log("access_code", f"{len(rows)} homes")
        return [(home, str(code)) for home, code in issued]

    def sign_in_rights(self) -> SignInRights:
        """Who may sign in: accounts, invitations, private codes taken back."""
        require(self.actor, Action.MANAGE_SIGN_IN)
        return SignInRights(self)

    def create_account(self, name: str, password: str, role: Role) -> None:
        """Make an account for another volunteer or a committee member."""
        self.sign_in_rights().create_account(name, password, role)

    # ---- inside ---------------------------------------------------------------

    def _writing(self, action: str) -> Any:
        return self._store.writing(who=self.actor.name, action=action, at=self.now)

    def _book(self) -> AddressBook:
        """The community's addresses, built once for an open store."""
        book = _BOOKS.get(self._store)
        if book is None:
            book = _BOOKS[self._store] = address_book(self._store.homes())
        return book

    def _join_one(self, typed: str, picked: str | None, answer_id: str = "") -> Join:
        if self.actor.home_id is not None:
            return Join(state=JoinState.JOINED, home_id=self.actor.home_id, why="Opened with this home's private code.")
        if picked is not None and self._store.homes(picked):
            join = Join(state=JoinState.JOINED, home_id=picked, why="Picked from the list of addresses.")
        else:
            join = join_all(self._book(), [typed])[0]
        there = self._store.answers(home_ids=[join.home_id]) if join.home_id is not None else []
        return self._second(join) if self._not_the_first([s.answer for s in there], answer_id) else join

    def _not_the_first(self, there: Sequence[Answer], answer_id: str) -> bool:
        """Whether this person, without a private code, would change what another answer has told of a home."""
        without_code = self.actor.role is Role.RESIDENT and self.actor.home_id is None
        return without_code and any(a.answer_id != answer_id for a in there)

    def _second(self, join: Join) -> Join:
        """The join of an answer that waits, since its home has been answered for."""
        home_id = join.home_id or ""
        why = "This home has been answered for, and this answer came without its private code."
        candidate = Candidate(place_id=home_id, address=self.home_address(home_id), score=100.0, why=why)
        return Join(state=JoinState.SECOND, home_id=None, why=why, candidates=(candidate,))

    def _check(
        self,
        given: Mapping[str, str],
        channel: AnswerChannel,
        home: Home | None,
        overruled: Mapping[str, str],
        answer_id: str,
    ) -> Checked:
        return check(
            given,
            channel=channel,
            today=self.today,
            house_year=home.built_year if home else None,
            submitted_by=self.actor.name,
            submitted_at=self.now,
            answer_id=answer_id,
            overruled=overruled,
        )

    def _standing_alone(self, home: Home | None, answer: Answer) -> Standing:
        """The standing by one answer alone: never mixed with what others said of the home."""
        place = home or Home(
            home_id="?", parcel_id="?", address=answer.address_as_typed, street="", phase_id=None, built_year=None
        )
        told = home_history(place, [answer])
        return standing(
            told.home, told.heaters, told.services, answered=True, settings=self.settings(), as_of=self.today
        )

    def _answers_by_home(self, home_ids: Iterable[str] | None) -> dict[str, list[Answer]]:
        found: dict[str, list[Answer]] = {}
        for stored in self._store.answers(home_ids=home_ids):
            if stored.answer.home_id is not None:
                found.setdefault(stored.answer.home_id, []).append(stored.answer)
        return found

    def _save_one(self, answer: Answer, join: Join) -> Join:
        """Store one answer; of two for a home at the same moment, both without its code, one joins and one waits."""
        with self._writing("take answers") as write:
            if join.home_id is not None:
                there = write.answers_of([join.home_id]).get(join.home_id, [])
                join = self._second(join) if self._not_the_first(there, answer.answer_id) else join
            self._put(write, [(answer, join)])
            self._reread(write, {join.home_id} if join.home_id else set())
        return join

    def _save(self, new: Sequence[tuple[Answer, Join]]) -> int:
        """Store joined answers and read the homes concerned anew; returns how many homes."""
        homes = {j.home_id for _, j in new if j.home_id}
        with self._writing("take answers") as write:
            self._put(write, new)
            return self._reread(write, homes)

    @staticmethod
    def _put(write: Changes, new: Sequence[tuple[Answer, Join]]) -> None:
        write.put_answers(
            [
                StoredAnswer(answer=_of_home(answer, join.home_id), join_state=str(join.state), join_why=join.why)
                for answer, join in new
            ]
        )
        write.put_candidates(
            [
                {"answer_id": a.answer_id, "home_id": c.place_id, "score": c.score, "why": c.why}
                for a, join in new
                if join.home_id is None
                for c in join.candidates
            ]
        )

    def _decide(self, answer_id: str, state: JoinState, home_id: str | None, why: str) -> None:
        found = self._store.answers(answer_id=answer_id)
        if not found:
            raise LookupError(
                f"There is no answer '{answer_id}'. It may have been decided already; look at the list again."
            )
        before = found[0].answer.home_id
        changed = StoredAnswer(answer=_of_home(found[0].answer, home_id), join_state=str(state), join_why=why)
        with self._writing("decide an address") as write:
            write.put_answers([changed])
            self._reread(write, {h for h in (before, home_id) if h})

    def _reread(self, write: Changes, homes: set[str]) -> int:
        """Read these homes anew from their answers and events, inside a transaction; returns how many."""
        answers, events = write.answers_of(sorted(homes)), write.events_of(sorted(homes))
        told = [
            home_history(h, answers.get(h.home_id, []), events.get(h.home_id, []))
            for h in write.homes_of(sorted(homes))
        ]
        write.put_homes([t.home for t in told])
        write.put_histories(sorted(homes), [h for t in told for h in t.heaters], [s for t in told for s in t.services])
        return len(told)

    def _map_inputs(self) -> dict[str, Any]:
        state = self._store.state()
        return {
            "found": self._standings(),
            "parcels": self._store.parcels(),
            "streets": self._store.streets(),
            "community": state.community,
            "changed_at": state.changed_at,
            "settings": read_settings(state.settings),
        }

    def _answered_homes(self) -> frozenset[str]:
        return self._store.answered_homes()

    def _standings(self) -> list[Standing]:
        return standings(
            self._store.homes(),
            self._store.heaters(),
            self._store.services(),
            answered=self._answered_homes(),
            settings=read_settings(self._store.state().settings),
            as_of=self.today,
        )


_BOOKS: WeakKeyDictionary[Store, AddressBook] = WeakKeyDictionary()


def _of_home(answer: Answer, home_id: str | None) -> Answer:
    return replace(answer, home_id=home_id)


def _with_facts(new: Home, old: Home | None) -> Home:
    """A reloaded home keeps what its people told."""
    return new if old is None else replace(new, moved_in=old.moved_in, softener=old.softener)
