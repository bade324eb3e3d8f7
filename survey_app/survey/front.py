"""`Survey`: what an actor may ask of the records, in one place."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date, datetime
from typing import Any

from geo.parcels import ParcelFile
from survey_app import credentials
from survey_app.access import Action, Actor, Role, require
from survey_app.economics import Amounts
from survey_app.forecast import (
    LifeFit,
)
from survey_app.joins import homes_on_parcels
from survey_app.policies import TenYears
from survey_app.records import Heater, Home, ServiceRecord
from survey_app.reports.board_report import BoardReport, visits_done
from survey_app.reports.standing_map import public_map, volunteer_map
from survey_app.response import Coverage, PublishedFigures, coverage, published_figures
from survey_app.service_days import ServicePlan
from survey_app.settings import Settings, values_of, write_settings
from survey_app.standing import Standing, class_counts
from survey_app.store import CommunityState, Store, tables
from survey_app.store.sign_ins import taken_locators
from survey_app.survey.answers import Answers, Progress, address_book_changed
from survey_app.survey.board import policy_study
from survey_app.survey.change_log import ChangeLog
from survey_app.survey.context import FORECAST_SEED, Context
from survey_app.survey.differences import Differences
from survey_app.survey.foresight import Foresight
from survey_app.survey.handed_back import HomesWouldGo, LoadReport
from survey_app.survey.one_home import OneHome
from survey_app.survey.paper_forms import PaperForms
from survey_app.survey.plates import Plates
from survey_app.survey.purchase_rounds import PurchaseRounds
from survey_app.survey.responses import Responses
from survey_app.survey.service_rounds import ServiceRounds
from survey_app.survey.sheets import PRINTED, Sheets
from survey_app.survey.sign_in_rights import SignInRights
from survey_app.survey.year_end import YearEnd
from survey_app.texts import ENGLISH, Texts

__all__ = ["Survey"]


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
        self._context = Context(store, actor, now)

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
        return self._context.settings()

    def change_settings(self, settings: Settings) -> None:
        """Store new settings; each change is in the change log with the value before."""
        require(self.actor, Action.SET_UP)
        before, after = values_of(self.settings()), values_of(settings)
        with self._context.write("change settings") as write:
            write.set_community(settings=write_settings(settings))
            for name, value in after.items():
                if before[name] != value:
                    write.log("setting", name, before[name], value)

    def name_community(self, name: str, *, synthetic: bool, open_doors: bool = False) -> None:
        """Name the community and say whether it is invented."""
        require(self.actor, Action.SET_UP)
        with self._context.write("name the community") as write:
            write.set_community(name=name, synthetic=synthetic, open_doors=open_doors and synthetic)

    def load_parcels(
        self, file: ParcelFile, *, home_uses: frozenset[str] | None = None, drop_missing: bool = False
    ) -> LoadReport:
        """Store parcels and the homes on them; homes that something is on file for are never dropped.

        Raises
        ------
        HomesWouldGo
            When other homes of the survey are not in the file and `drop_missing` does not say that they go.
        """
        require(self.actor, Action.SET_UP)
        phases, parcels, homes = homes_on_parcels(file, home_uses=home_uses)
        answered = self._store.homes_with_history()
        known = {h.home_id: h for h in self._store.homes()}
        gone = set(known) - {h.home_id for h in homes}
        kept = sorted(gone & answered)
        if gone - answered and not drop_missing:
            raise HomesWouldGo(tuple(known[k].address for k in sorted(gone - answered)))
        nothing_printed = self._nothing_printed()
        with self._context.write("load parcels") as write:
            write.set_community(local_epsg=file.local_epsg)
            write.put_phases(phases)
            write.put_parcels(parcels)
            write.put_homes([_with_facts(h, known.get(h.home_id)) for h in homes])
            dropped = sorted(gone - answered)
            write.drop(tables.join_candidate, "home_id", dropped)
            write.drop_access_codes(dropped)
            write.drop_sheets(known if nothing_printed else dropped)
            write.drop(tables.home, "home_id", dropped)
            still = {h.parcel_id for h in homes} | {known[k].parcel_id for k in kept}
            old_parcels = {p.parcel_id for p in self._store.parcels()} - {p.parcel_id for p in parcels}
            write.drop(tables.parcel, "parcel_id", sorted(old_parcels - still))
        address_book_changed(self._store)
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
        nothing_printed = self._nothing_printed()
        with self._context.write("load streets") as write:
            if nothing_printed:
                write.drop_sheets(self._store.sheets())  # nobody holds a number yet: the better way gives them anew
            return int(write.put_streets(lines))

    def accounts(self) -> list[tuple[str, str]]:
        """Every account's name and role."""
        require(self.actor, Action.MANAGE_SIGN_IN)
        return self._store.account_names()

    # ---- answers ---------------------------------------------------------

    def home_address(self, home_id: str) -> str:
        """The address of one home; an address alone is a public record."""
        require(self.actor, Action.READ_COMMUNITY)
        return self._context.home_address(home_id)

    def answers(self) -> Answers:
        """Answers of all homes, to be given or decided: a visitor may give one."""
        require(self.actor, Action.SUBMIT_ANSWER)
        return Answers(self._context)

    def plates(self) -> Plates:
        """Photographs of data plates that homes sent, to be read."""
        require(self.actor, Action.READ_ALL_HOMES)
        return Plates(self._context)

    def change_log(self) -> ChangeLog:
        """Who did what when, and the way back."""
        require(self.actor, Action.READ_ALL_HOMES)
        return ChangeLog(self._context)

    def disagreements(self) -> list[tuple[Home, tuple[str, ...]]]:
        """Homes whose answers contradict one another and nobody has settled, with the sentences that say how."""
        require(self.actor, Action.READ_ALL_HOMES)
        return [(d.home, d.sentences) for d in Differences(self._context).all()]

    # ---- standing and figures ---------------------------------------------

    def standings(self) -> list[Standing]:
        """Where every home stands today."""
        require(self.actor, Action.READ_ALL_HOMES)
        return self._context.standings()

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
        return OneHome(self._context, home_id, say=say, fit=fit)

    def service_rounds(self) -> ServiceRounds:
        """Service days: for the committee, homes that asked to take part; for the volunteer, all."""
        require(self.actor, Action.PLAN_DAYS)
        return ServiceRounds(self._context)

    def purchase_rounds(self) -> PurchaseRounds:
        """The group purchase: bids, rounds, what was bought; single homes only where they asked to take part."""
        require(self.actor, Action.PLAN_PURCHASE)
        return PurchaseRounds(self._context)

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
            self._context,
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
        return Responses(self._context)

    def sheets(self) -> Sheets:
        """The numbers on the letters: one walking order for handing out and for what comes back."""
        require(self.actor, Action.READ_ALL_HOMES)
        return Sheets(self._context)

    def paper_forms(self) -> PaperForms:
        """Paper forms as they come back: the next one in the pile, or the one that is named."""
        require(self.actor, Action.READ_ALL_HOMES)
        return PaperForms(self._context)

    def home_addresses(self) -> dict[str, str]:
        """Every home's address by its id, for whoever manages the private codes."""
        require(self.actor, Action.MANAGE_SIGN_IN)
        return {h.home_id: h.address for h in self._store.homes()}

    def board_report(self, *, fit: Callable[[], LifeFit] | None = None) -> BoardReport:
        """Everything the board is told: what may be published, and nothing else."""
        require(self.actor, Action.READ_TOTALS)
        study = self.policies(fit=fit) if self._store.how_many()[1] else None
        response, twice = Responses.for_totals(self._context)
        done = Counter(v["plan_id"] for v in self._store.visits() if v["outcome"] == "done")
        plans = [ServicePlan.from_rows(row) for row in self._store.service_plans()]
        least = self.settings().public_minimum_answers
        return BoardReport(
            community=self._store.state().community,
            as_of=self.today,
            figures=self.published_figures(),
            response=response,
            twice=twice,
            forecast=self.foresight().forecast(),
            policies=study,
            service_days=tuple(
                (str(p.asked.job), str(p.days[0]), *visits_done(len(p.visits), done[p.plan_id], least))
                for p in plans
                if p.days
            ),
            minimum=least,
        )

    def year_end(self) -> YearEnd:
        """The records in open formats, and what is left to do before handing over."""
        require(self.actor, Action.READ_ALL_HOMES)
        return YearEnd(self._context)

    def differences(self) -> Differences:
        """Answers that contradict one another, to be settled."""
        require(self.actor, Action.DECIDE_JOINS)
        return Differences(self._context)

    def too_old(self) -> list[Home]:
        """Homes whose last answer is older than the setting allows."""
        require(self.actor, Action.READ_ALL_HOMES)
        return self.year_end().too_old()

    def forget_too_old(self) -> int:
        """Delete what people told about homes whose last answer is too old; returns how many homes."""
        return self.year_end().forget_too_old()

    def standing_of(self, home_id: str) -> Standing:
        """Where one home stands today."""
        return self.one_home(home_id).standing()

    def life_fit(self) -> LifeFit:
        """What the community's answers say about lives: what figures and one home's odds are worked out from.

        Nobody gets it who sees neither figures nor a home.
        """
        return self._context.life_fit()

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
        return class_counts(self._context.standings())

    def published_figures(self) -> PublishedFigures:
        """Figures for the committee, small cells left out."""
        require(self.actor, Action.READ_TOTALS)
        return published_figures(
            class_counts(self._context.standings()),
            coverage(self._store.homes(), self._store.answered_homes()),
            minimum=self.settings().public_minimum_answers,
        )

    def coverage(self) -> Coverage:
        """How many homes answered: in all, by phase and by street."""
        require(self.actor, Action.READ_ALL_HOMES)
        return coverage(self._store.homes(), self._store.answered_homes())

    def whole_map(self) -> str:
        """The volunteer's map: every home, its standing and its card, as one self-contained page."""
        require(self.actor, Action.READ_ALL_HOMES)
        return volunteer_map(**self._context.map_inputs())

    def public_map(self) -> str:
        """The map without a single home: blocks of at least the set number of answers."""
        require(self.actor, Action.READ_TOTALS)
        return public_map(**self._context.map_inputs())

    def foresight(self) -> Foresight:
        """Forecasts of the whole community."""
        require(self.actor, Action.READ_TOTALS)
        return Foresight(self._context)

    def outlines(self) -> dict[str, bytes]:
        """Every parcel's outline, well-known binary in WGS 84, by parcel number."""
        require(self.actor, Action.READ_ALL_HOMES)
        return {p.parcel_id: p.outline_wkb for p in self._store.parcels()}

    def records(self) -> tuple[list[Home], list[Heater], list[ServiceRecord]]:
        """All homes, heaters and service records."""
        require(self.actor, Action.READ_ALL_HOMES)
        return self._context.heater_records()

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
        with self._context.write(PRINTED) as write:
            write.drop_access_codes([h.home_id for h in homes])
            write.put_access_codes(rows)
            write.log("access_code", f"{len(rows)} homes")
        return [(home, str(code)) for home, code in issued]

    def sign_in_rights(self) -> SignInRights:
        """Who may sign in: accounts, invitations, private codes taken back."""
        require(self.actor, Action.MANAGE_SIGN_IN)
        return SignInRights(self._context)

    def create_account(self, name: str, password: str, role: Role) -> None:
        """Make an account for another volunteer or a committee member."""
        self.sign_in_rights().create_account(name, password, role)

    # ---- inside ---------------------------------------------------------------

    def _nothing_printed(self) -> bool:
        """Whether no letter was ever made, so that nobody holds a sheet with a number."""
        return self._store.last_change(PRINTED) is None


def _with_facts(new: Home, old: Home | None) -> Home:
    """A reloaded home keeps what its people told."""
    return new if old is None else replace(new, moved_in=old.moved_in, softener=old.softener)
