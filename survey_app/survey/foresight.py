"""What is foreseen for the whole community: losses, what would narrow them, and a look back."""

from __future__ import annotations

from datetime import date

from survey_app.access import Action, Role
from survey_app.forecast import Forecast, Help, LookBack, forecast, look_back, what_would_help
from survey_app.lifetime import fit, load_prior
from survey_app.lifetime.diagnostics import CutCheck, cut_five
from survey_app.reports.forecast_report import without_homes
from survey_app.standing import add_years
from survey_app.survey.context import FORECAST_DRAWS, FORECAST_SEED, Context

__all__ = ["Foresight"]


class Foresight:
    """Forecasts of the whole community. Made by :meth:`Survey.foresight`.

    Parameters
    ----------
    context
        The records, who asks and when; every method checks what they may do.
    """

    def __init__(self, context: Context) -> None:
        context.require(Action.READ_TOTALS)
        self._context = context

    def forecast(self, *, as_of: date | None = None) -> Forecast:
        """How many heaters the community will lose in 1, 3 and 5 years, and what that rests on.

        Nothing in it speaks of a single home: chances by home, records set aside and small phases are left out.
        """
        self._context.require(Action.READ_TOTALS)
        with self._context.read():
            found = self._forecast(as_of or self._context.today)
            least = self._context.settings().public_minimum_answers
        return without_homes(found, least)

    def records_not_used(self) -> tuple[str, ...]:
        """Records that the forecast could not use, a sentence each."""
        self._context.require(Action.READ_ALL_HOMES)
        return tuple(problem.sentence for problem in self._context.observations(load_prior()).problems)

    def what_would_help(self) -> tuple[Help, CutCheck]:
        """Which answers would narrow the forecast most, and whether answers seem tied to recent leaks."""
        self._context.require(Action.READ_ALL_HOMES)
        prior = load_prior()
        with self._context.read():
            seen, told = self._context.observations(prior), self._context.heater_records()
        posterior = fit(seen, prior, draws=FORECAST_DRAWS, seed=FORECAST_SEED)
        help_ = what_would_help(posterior, seed=FORECAST_SEED)
        return help_, cut_five(*told, as_of=self._context.today, prior=prior)

    def look_back(self, as_of_past: date) -> LookBack:
        """A forecast from what was known on an earlier day, against what happened since.

        Only the volunteer is told small counts; for the committee, homes are put together until a group is large
        enough to be shown.
        """
        self._context.require(Action.READ_TOTALS)
        exact = self._context.actor.role is Role.VOLUNTEER
        with self._context.read():
            told, settings = self._context.heater_records(), self._context.settings()
            answers = self._context.answers_by_home()
        answered_then = {k for k, mine in answers.items() if any(a.answered_on <= as_of_past for a in mine)}
        return look_back(
            *told,
            as_of_past=as_of_past,
            today=self._context.today,
            seed=FORECAST_SEED,
            answered_then=answered_then or None,
            minimum=1 if exact else settings.public_minimum_answers,
        )

    def years_ago(self, years: int) -> date:
        """The day some years before today."""
        return add_years(self._context.today, -years)

    def losses_map(self) -> str:
        """Expected losses by groups of homes, never a single one, as a self-contained page."""
        from survey_app.reports.losses_map import losses_map

        self._context.require(Action.READ_TOTALS)
        with self._context.read() as records:
            inputs, homes = self._context.map_inputs(), records.homes()
            found = self._forecast(self._context.today)
        del inputs["found"]
        return losses_map(found, homes, **inputs)

    def _forecast(self, as_of: date) -> Forecast:
        with self._context.read():
            told, least = self._context.heater_records(), self._context.settings().public_minimum_answers
        return forecast(*told, as_of=as_of, seed=FORECAST_SEED, minimum=least)
