"""What is foreseen for the whole community: losses, what would narrow them, and a look back."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from survey_app.access import Action, Role, require
from survey_app.forecast import Forecast, Help, LookBack, forecast, look_back, what_would_help
from survey_app.lifetime import fit, load_prior
from survey_app.lifetime.diagnostics import CutCheck, cut_five
from survey_app.reports.forecast_report import losses_map, without_homes
from survey_app.standing import add_years

if TYPE_CHECKING:
    from survey_app.survey.front import Survey

__all__ = ["FORECAST_DRAWS", "FORECAST_SEED", "Foresight"]

FORECAST_SEED = 1
"""The same records give the same forecast, whoever looks."""
FORECAST_DRAWS = 1000


class Foresight:
    """Forecasts of the whole community. Made by :meth:`Survey.foresight`.

    Parameters
    ----------
    survey
        The survey as this person may use it; every method checks what they may do.
    """

    def __init__(self, survey: Survey) -> None:
        require(survey.actor, Action.READ_TOTALS)
        self._survey, self._store = survey, survey._store

    def forecast(self, *, as_of: date | None = None) -> Forecast:
        """How many heaters the community will lose in 1, 3 and 5 years, and what that rests on.

        Nothing in it speaks of a single home: chances by home, records set aside and small phases are left out.
        """
        require(self._survey.actor, Action.READ_TOTALS)
        found = self._forecast(as_of or self._survey.today)
        return without_homes(found, self._survey.settings().public_minimum_answers)

    def records_not_used(self) -> tuple[str, ...]:
        """Records that the forecast could not use, a sentence each."""
        require(self._survey.actor, Action.READ_ALL_HOMES)
        return tuple(problem.sentence for problem in self._survey._observations(load_prior()).problems)

    def what_would_help(self) -> tuple[Help, CutCheck]:
        """Which answers would narrow the forecast most, and whether answers seem tied to recent leaks."""
        require(self._survey.actor, Action.READ_ALL_HOMES)
        prior = load_prior()
        posterior = fit(self._survey._observations(prior), prior, draws=FORECAST_DRAWS, seed=FORECAST_SEED)
        help_ = what_would_help(posterior, seed=FORECAST_SEED)
        return help_, cut_five(*self._survey._records(), as_of=self._survey.today, prior=prior)

    def look_back(self, as_of_past: date) -> LookBack:
        """A forecast from what was known on an earlier day, against what happened since.

        Only the volunteer is told small counts; for the committee, homes are put together until a group is large
        enough to be shown.
        """
        require(self._survey.actor, Action.READ_TOTALS)
        exact = self._survey.actor.role is Role.VOLUNTEER
        answered_then = {
            s.answer.home_id
            for s in self._store.answers()
            if s.answer.home_id is not None and s.answer.answered_on <= as_of_past
        }
        return look_back(
            *self._survey._records(),
            as_of_past=as_of_past,
            today=self._survey.today,
            seed=FORECAST_SEED,
            answered_then=answered_then or None,
            minimum=1 if exact else self._survey.settings().public_minimum_answers,
        )

    def years_ago(self, years: int) -> date:
        """The day some years before today."""
        return add_years(self._survey.today, -years)

    def losses_map(self) -> str:
        """Expected losses by groups of homes, never a single one, as a self-contained page."""
        require(self._survey.actor, Action.READ_TOTALS)
        inputs = self._survey._map_inputs()
        del inputs["found"]
        return losses_map(self._forecast(self._survey.today), self._store.homes(), **inputs)

    def _forecast(self, as_of: date) -> Forecast:
        least = self._survey.settings().public_minimum_answers
        return forecast(*self._survey._records(), as_of=as_of, seed=FORECAST_SEED, minimum=least)
