"""`Context`: the records, who asks and when; what every part of the survey stands on."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from survey_app.access import Action, Actor, Role, require
from survey_app.records import Answer, Heater, Home, ServiceRecord
from survey_app.settings import Settings, read_settings
from survey_app.store import Changes, Store

if TYPE_CHECKING:
    from survey_app.forecast import LifeFit
    from survey_app.lifetime import Observations, Prior
    from survey_app.standing import Standing

__all__ = ["FORECAST_DRAWS", "FORECAST_SEED", "Context"]

FORECAST_SEED = 1
"""The same records give the same forecast, whoever looks."""
FORECAST_DRAWS = 1000


@dataclass(frozen=True, slots=True)
class Context:
    """The records as one actor works with them at one moment.

    It is made by :class:`.front.Survey` and handed to the parts. What it derives is shared by several of them; none of
    it checks a right by itself but :meth:`require` and :meth:`life_fit`: each public method of a part asks first.

    Parameters
    ----------
    store
        The open records.
    actor
        Who asks.
    now
        The moment the work happens: ages, due dates and the change log use it.
    """

    store: Store
    actor: Actor
    now: datetime

    @property
    def today(self) -> date:
        """The day the survey is judged by."""
        return self.now.date()

    def require(self, action: Action, home_id: str | None = None) -> None:
        """Raise :class:`survey_app.access.NotAllowed` unless this actor may do it."""
        require(self.actor, action, home_id)

    @contextmanager
    def read(self) -> Iterator[Store]:
        """The records, to be read; whatever is to be seen in one state is read inside one of these."""
        yield self.store

    def write(self, action: str) -> AbstractContextManager[Changes]:
        """One transaction in this actor's name; `action` is what the change log calls it."""
        return self.store.writing(who=self.actor.name, action=action, at=self.now)

    # ---- read from the records, for several parts ---------------------------------

    def settings(self) -> Settings:
        """The community's settings."""
        with self.read() as records:
            return read_settings(records.state().settings)

    def home_address(self, home_id: str) -> str:
        """The address of one home, "" where it is gone; an address alone is a public record."""
        with self.read() as records:
            return next((h.address for h in records.homes(home_id)), "")

    def answers_by_home(self) -> dict[str, list[Answer]]:
        """Answers joined to a home, by its id, in the order they were given."""
        found: dict[str, list[Answer]] = {}
        with self.read() as records:
            for stored in records.answers():
                if stored.answer.home_id is not None:
                    found.setdefault(stored.answer.home_id, []).append(stored.answer)
        return found

    def heater_records(self) -> tuple[list[Home], list[Heater], list[ServiceRecord]]:
        """All homes, heaters and service records."""
        with self.read() as records:
            return records.homes(), records.heaters(), records.services()

    def standings(self) -> list[Standing]:
        """Where every home stands today."""
        from survey_app.standing import standings

        with self.read() as records:
            return standings(
                *self.heater_records(),
                answered=records.answered_homes(),
                settings=self.settings(),
                as_of=self.today,
            )

    def map_inputs(self) -> dict[str, Any]:
        """What every map of the community is drawn from."""
        with self.read() as records:
            state = records.state()
            return {
                "found": self.standings(),
                "parcels": records.parcels(),
                "streets": records.streets(),
                "community": state.community,
                "changed_at": state.changed_at,
                "settings": read_settings(state.settings),
            }

    # ---- what the answers say of lives --------------------------------------------

    def observations(self, prior: Prior) -> Observations:
        """What the records tell of how long heaters live."""
        from survey_app.lifetime import observations

        return observations(*self.heater_records(), as_of=self.today, long_warranty_years=prior.long_warranty_years)

    def life_fit(self) -> LifeFit:
        """What the community's answers say about lives: what figures and one home's odds are worked out from.

        Nobody gets it who sees neither figures nor a home.
        """
        from survey_app.forecast import fit_summary
        from survey_app.lifetime import fit, load_prior

        if self.actor.role is Role.RESIDENT:
            self.require(Action.READ_HOME, self.actor.home_id)
        else:
            self.require(Action.READ_TOTALS)
        prior = load_prior()
        posterior = fit(self.observations(prior), prior, draws=FORECAST_DRAWS, seed=FORECAST_SEED)
        return fit_summary(posterior, seed=FORECAST_SEED)
