"""`Context`: the records, who asks and when; what every part of the survey stands on."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from survey_app.access import Action, Actor, Role, require
from survey_app.records import Answer, Heater, Home, Report, ServiceRecord
from survey_app.settings import Settings, read_settings
from survey_app.store import Changes, Reading, Store

if TYPE_CHECKING:
    from survey_app.forecast import LifeFit
    from survey_app.lifetime import Observations, Prior
    from survey_app.standing import Standing

__all__ = ["FORECAST_DRAWS", "FORECAST_SEED", "Context"]

FORECAST_SEED = 1
"""The same records give the same forecast, whoever looks."""
FORECAST_DRAWS = 1000


class _Opened(threading.local):
    """The reading or writing that is open in this thread."""

    reading: Reading | None = None


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
    _opened: _Opened = field(default_factory=_Opened, init=False, repr=False, compare=False)

    @property
    def today(self) -> date:
        """The day the survey is judged by."""
        return self.now.date()

    def require(self, action: Action, home_id: str | None = None) -> None:
        """Raise :class:`survey_app.access.NotAllowed` unless this actor may do it."""
        require(self.actor, action, home_id)

    @contextmanager
    def read(self) -> Iterator[Reading]:
        """One state of the records: what is read inside one of these, by whatever it calls, was true together.

        Inside :meth:`write` it is what that transaction has changed so far.
        """
        if self._opened.reading is not None:
            yield self._opened.reading
            return
        with self.store.read() as reading, self._as_opened(reading):
            yield reading

    @contextmanager
    def write(self, action: str) -> Iterator[Changes]:
        """One transaction in this actor's name; `action` is what the change log calls it.

        Raises
        ------
        RuntimeError
            Inside :meth:`read` or another one: what has been read would be of another state than what is changed.
        """
        if self._opened.reading is not None:
            raise RuntimeError(f"'{action}' would be written in the middle of a reading. Read first, then write.")
        with (
            self.store.writing(who=self.actor.name, action=action, at=self.now) as changes,
            self._as_opened(changes),
        ):
            yield changes

    @contextmanager
    def _as_opened(self, reading: Reading) -> Iterator[None]:
        self._opened.reading = reading
        try:
            yield
        finally:
            self._opened.reading = None

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
        with self.read() as records:
            return records.answers_by_home()

    def heater_records(self) -> tuple[list[Home], list[Heater], list[ServiceRecord]]:
        """All homes, heaters and service records."""
        with self.read() as records:
            return records.homes(), records.heaters(), records.services()

    def standings(self) -> list[Standing]:
        """Where every home stands today."""
        from survey_app.standing import standings

        with self.read() as records:
            homes, heaters, services = self.heater_records()
            told_of = {e.home_id for e in records.events()} | {h.home_id for h in heaters if h.symptoms}
            return standings(
                homes,
                heaters,
                services,
                answered=records.answered_homes(),
                settings=self.settings(),
                as_of=self.today,
                reports=self.reports([h for h in homes if h.home_id in told_of]),
            )

    def reports(self, homes: Sequence[Home]) -> dict[str, tuple[Report, ...]]:
        """By home, all that was ever reported of the heater in service there."""
        from survey_app.histories import home_history

        ids = [h.home_id for h in homes]
        with self.read() as records:
            answers, events = records.answers_by_home(ids), records.events_by_home(ids)
        return {
            h.home_id: home_history(h, answers.get(h.home_id, []), events.get(h.home_id, [])).reports for h in homes
        }

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
