"""`Survey`: what an actor may ask of the records, in one place."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from typing import TYPE_CHECKING

from survey_app.access import Action, Actor
from survey_app.settings import Settings
from survey_app.store import CommunityState, Store
from survey_app.survey.context import Context
from survey_app.survey.handed_back import Glance
from survey_app.texts import ENGLISH, Texts

if TYPE_CHECKING:
    from survey_app.forecast import LifeFit
    from survey_app.standing import Standing
    from survey_app.survey.answers import Answers
    from survey_app.survey.change_log import ChangeLog
    from survey_app.survey.differences import Differences
    from survey_app.survey.figures import CommunityFigures
    from survey_app.survey.foresight import Foresight
    from survey_app.survey.one_home import OneHome
    from survey_app.survey.paper_forms import PaperForms
    from survey_app.survey.plates import Plates
    from survey_app.survey.purchase_rounds import PurchaseRounds
    from survey_app.survey.responses import Responses
    from survey_app.survey.service_rounds import ServiceRounds
    from survey_app.survey.set_up import SetUp
    from survey_app.survey.sheets import Sheets
    from survey_app.survey.sign_in_rights import SignInRights
    from survey_app.survey.year_end import YearEnd

__all__ = ["Survey"]


class Survey:
    """One actor's survey: it hands out the parts, each of which checks what this actor may do.

    A part is imported when it is asked for, so that a command pays for no library that it does not use.

    Parameters
    ----------
    store, actor, now
        As for :class:`.context.Context`.

    Raises
    ------
    NotAllowed
        By every method, when the actor may not do it.
    """

    def __init__(self, store: Store, actor: Actor, *, now: datetime) -> None:
        self._context = Context(store, actor, now)
        self.actor, self.now = actor, now

    @property
    def today(self) -> date:
        """The day the survey is judged by."""
        return self._context.today

    # ---- what every page needs -------------------------------------------------

    def state(self) -> CommunityState:
        """The community, how fresh its data are, and their version."""
        self._context.require(Action.READ_COMMUNITY)
        with self._context.read() as records:
            return records.state()

    def at_a_glance(self) -> Glance:
        """What every page says at its head, of one moment."""
        self._context.require(Action.READ_COMMUNITY)
        with self._context.read() as records:
            homes, answered = records.how_many()
            return Glance(state=records.state(), homes=homes, answered=answered)

    def how_many(self) -> tuple[int, int]:
        """How many homes there are, and how many have answered."""
        self._context.require(Action.READ_COMMUNITY)
        with self._context.read() as records:
            return records.how_many()

    def settings(self) -> Settings:
        """The community's settings."""
        self._context.require(Action.READ_COMMUNITY)
        return self._context.settings()

    def home_address(self, home_id: str) -> str:
        """The address of one home; an address alone is a public record."""
        self._context.require(Action.READ_COMMUNITY)
        return self._context.home_address(home_id)

    def standings(self) -> list[Standing]:
        """Where every home stands today."""
        self._context.require(Action.READ_ALL_HOMES)
        return self._context.standings()

    def life_fit(self) -> LifeFit:
        """What the community's answers say about lives, for whoever sees figures or a home."""
        return self._context.life_fit()

    # ---- its parts ---------------------------------------------------------------

    def answers(self) -> Answers:
        """Answers of all homes, to be given or decided: a visitor may give one."""
        from survey_app.survey.answers import Answers

        return Answers(self._context)

    def one_home(self, home_id: str, *, say: Texts = ENGLISH, fit: Callable[[], LifeFit] | None = None) -> OneHome:
        """One home, for the people who live there and for the volunteer; see :class:`.one_home.OneHome`."""
        from survey_app.survey.one_home import OneHome

        return OneHome(self._context, home_id, say=say, fit=fit)

    def figures(self) -> CommunityFigures:
        """Figures, maps and the report to the board."""
        from survey_app.survey.figures import CommunityFigures

        return CommunityFigures(self._context)

    def foresight(self) -> Foresight:
        """Forecasts of the whole community."""
        from survey_app.survey.foresight import Foresight

        return Foresight(self._context)

    def service_rounds(self) -> ServiceRounds:
        """Service days: for the committee, homes that asked to take part; for the volunteer, all."""
        from survey_app.survey.service_rounds import ServiceRounds

        return ServiceRounds(self._context)

    def purchase_rounds(self) -> PurchaseRounds:
        """The group purchase: bids, rounds, what was bought; single homes only where they asked to take part."""
        from survey_app.survey.purchase_rounds import PurchaseRounds

        return PurchaseRounds(self._context)

    def responses(self) -> Responses:
        """Who answered, who is late, what the answers say of the whole community."""
        from survey_app.survey.responses import Responses

        return Responses(self._context)

    def differences(self) -> Differences:
        """Answers that contradict one another, to be settled."""
        from survey_app.survey.differences import Differences

        return Differences(self._context)

    def plates(self) -> Plates:
        """Photographs of data plates that homes sent, to be read."""
        from survey_app.survey.plates import Plates

        return Plates(self._context)

    def sheets(self) -> Sheets:
        """The numbers on the letters: one walking order for handing out and for what comes back."""
        from survey_app.survey.sheets import Sheets

        return Sheets(self._context)

    def paper_forms(self) -> PaperForms:
        """Paper forms as they come back: the next one in the pile, or the one that is named."""
        from survey_app.survey.paper_forms import PaperForms

        return PaperForms(self._context)

    def set_up(self) -> SetUp:
        """The community's name, settings, parcels and streets."""
        from survey_app.survey.set_up import SetUp

        return SetUp(self._context)

    def sign_in_rights(self) -> SignInRights:
        """Who may sign in: accounts, invitations, private codes."""
        from survey_app.survey.sign_in_rights import SignInRights

        return SignInRights(self._context)

    def change_log(self) -> ChangeLog:
        """Who did what when, and the way back."""
        from survey_app.survey.change_log import ChangeLog

        return ChangeLog(self._context)

    def year_end(self) -> YearEnd:
        """The records in open formats, and what is left to do before handing over."""
        from survey_app.survey.year_end import YearEnd

        return YearEnd(self._context)
