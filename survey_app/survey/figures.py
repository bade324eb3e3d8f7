"""`CommunityFigures`: what the records say of the whole community, as figures, maps and the report to the board."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from survey_app.access import Action
from survey_app.records import VisitOutcome
from survey_app.response import Coverage, PublishedFigures, coverage, published_figures
from survey_app.standing import class_counts
from survey_app.survey.context import FORECAST_SEED, Context

if TYPE_CHECKING:
    from survey_app.economics import Amounts
    from survey_app.forecast import LifeFit
    from survey_app.policies import TenYears
    from survey_app.reports.board_report import BoardReport

__all__ = ["CommunityFigures"]


class CommunityFigures:
    """Figures for the community; those that could tell of a single home are the volunteer's alone.

    Parameters
    ----------
    context
        The records, who asks and when.
    """

    def __init__(self, context: Context) -> None:
        context.require(Action.READ_TOTALS)
        self._context = context

    def totals(self) -> Mapping[str, int]:
        """How many homes stand in each class, exactly."""
        self._context.require(Action.READ_ALL_HOMES)
        return class_counts(self._context.standings())

    def coverage(self) -> Coverage:
        """How many homes answered: in all, by phase and by street."""
        self._context.require(Action.READ_ALL_HOMES)
        with self._context.read() as records:
            return coverage(records.homes(), records.answered_homes())

    def published(self) -> PublishedFigures:
        """Figures for the committee, small cells left out."""
        self._context.require(Action.READ_TOTALS)
        with self._context.read() as records:
            standings, settings = self._context.standings(), self._context.settings()
            answers = coverage(records.homes(), records.answered_homes())
        return published_figures(class_counts(standings), answers, minimum=settings.public_minimum_answers)

    def whole_map(self) -> str:
        """The volunteer's map: every home, its standing and its card, as one self-contained page."""
        from survey_app.reports.standing_map import volunteer_map

        self._context.require(Action.READ_ALL_HOMES)
        return volunteer_map(**self._context.map_inputs())

    def public_map(self) -> str:
        """The map without a single home: blocks of at least the set number of answers."""
        from survey_app.reports.standing_map import public_map

        self._context.require(Action.READ_TOTALS)
        return public_map(**self._context.map_inputs())

    def outlines(self) -> dict[str, bytes]:
        """Every parcel's outline, well-known binary in WGS 84, by parcel number."""
        self._context.require(Action.READ_ALL_HOMES)
        with self._context.read() as records:
            return {p.parcel_id: p.outline_wkb for p in records.parcels()}

    def amounts(self) -> Amounts:
        """What things cost by the community's settings, for a heater of the usual kind."""
        from survey_app.economics import Amounts

        self._context.require(Action.READ_TOTALS)
        return Amounts.from_settings(self._context.settings())

    def policies(
        self,
        *,
        draws: int = 200,
        discount: float = 0.15,
        followed_by: float = 1.0,
        amounts: Amounts | None = None,
        fit: Callable[[], LifeFit] | None = None,
    ) -> TenYears:
        """What each policy costs over ten years, by the community's amounts or others; it names no home.

        Raises
        ------
        ValueError
            When a share is out of its bounds, or there are no homes.
        """
        from survey_app.economics import Amounts
        from survey_app.policies import ten_years_of

        self._context.require(Action.READ_TOTALS)
        with self._context.read():
            fitted = (fit or self._context.life_fit)()
            standings, settings = self._context.standings(), self._context.settings()
        return ten_years_of(
            fitted.posterior,
            standings,
            settings,
            amounts or Amounts.from_settings(settings),
            discount=discount,
            followed_by=followed_by,
            draws=draws,
            seed=FORECAST_SEED,
        )

    def board_report(self, *, fit: Callable[[], LifeFit] | None = None) -> BoardReport:
        """Everything the board is told: what may be published, and nothing else."""
        from survey_app.reports.board_report import BoardReport, visits_done
        from survey_app.survey.foresight import Foresight
        from survey_app.survey.responses import response_for_totals
        from survey_app.survey.service_rounds import plan_of

        self._context.require(Action.READ_TOTALS)
        with self._context.read() as records:
            study = self.policies(fit=fit) if records.how_many()[1] else None
            response, twice = response_for_totals(self._context)
            done = Counter(v.plan_id for v in records.visits() if v.outcome is VisitOutcome.DONE)
            plans = [plan_of(kept) for kept in records.service_plans()]
            least = self._context.settings().public_minimum_answers
            return BoardReport(
                community=records.state().community,
                as_of=self._context.today,
                figures=self.published(),
                response=response,
                twice=twice,
                forecast=Foresight(self._context).forecast(),
                policies=study,
                service_days=tuple(
                    (str(p.asked.job), str(p.days[0]), *visits_done(len(p.visits), done[p.plan_id], least))
                    for p in plans
                    if p.days
                ),
                minimum=least,
            )
