"""What is worked out once for all who may see it, and the only way to do so.

A function with :func:`shared_page` over it is asked like any other, without the survey: the right is checked first,
whether or not the result is already there; then the cache is asked for this place, this state of the data, this day,
whoever may share it, and the arguments. It reads nothing but the survey and its arguments, so that nobody is ever
shown another person's result. What belongs to one screen alone is in :mod:`survey_app.ui.session`.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Any, Concatenate, Generic, ParamSpec, TypeVar

import streamlit as st

from survey_app.access import Action, Actor, require
from survey_app.economics import Amounts
from survey_app.forecast import Forecast, Help, LookBack
from survey_app.lifetime.diagnostics import CutCheck
from survey_app.policies import TenYears
from survey_app.records import Home
from survey_app.reports.as_upload import standing_bytes
from survey_app.reports.board_report import board_pdf
from survey_app.reports.service_papers import (
    ServicePapers,
    call_rows,
    day_rows,
    day_sheets_pdf,
    notices_pdf,
    visit_calendar,
)
from survey_app.reports.standing_table import standing_rows
from survey_app.response import PublishedFigures
from survey_app.survey import Survey, Walk
from survey_app.texts import ENGLISH
from survey_app.ui import session

__all__ = [
    "SHARED_PAGES",
    "SharedPage",
    "board_paper",
    "days_map_page",
    "days_papers",
    "disagreements",
    "forecast",
    "home_table",
    "look_back",
    "losses_map_page",
    "policies",
    "public_map_page",
    "published_figures",
    "shared_page",
    "walk",
    "what_would_help",
    "whole_map_page",
]

Given = ParamSpec("Given")
Made = TypeVar("Made")

SHARED_PAGES: dict[str, SharedPage[..., Any]] = {}
"""Every shared page by its name; the tests ask each of them as somebody without its right."""


class SharedPage(Generic[Given, Made]):
    """A function of the survey, behind its right and a cache; made by :func:`shared_page` alone."""

    def __init__(
        self, make: Callable[Concatenate[Survey, Given], Made], right: Action, spinner: str, entries: int, to_all: bool
    ) -> None:
        self.make, self.right, self.same_to_every_role = make, right, to_all
        self.__doc__, self.__name__ = make.__doc__, make.__name__
        self._signature = inspect.signature(make)

        def made(place: str, version: int, day: str, who: tuple[str, ...], _found: Survey, *given: object) -> Made:
            return self.make(_found, *given)  # type: ignore[call-arg, arg-type]

        # Streamlit tells cached functions apart by these names and the source, which is the same for all of them.
        made.__module__, made.__qualname__ = make.__module__, make.__qualname__
        self._cached = st.cache_data(max_entries=entries, show_spinner=spinner)(made)

    def __call__(self, *given: Given.args, **named: Given.kwargs) -> Made:
        """Give the result to whoever is at the screen; NotAllowed before the cache is asked."""
        found = session.survey()
        require(found.actor, self.right, found.actor.home_id)
        bound = self._signature.bind(found, *given, **named)
        bound.apply_defaults()
        _, *values = bound.arguments.values()
        return self._cached(*session.state_of_data(found), self._shared_by(found.actor), found, *values)

    def _shared_by(self, who: Actor) -> tuple[str, ...]:
        """Who gets one and the same result: the role's people, one home's for what is a home's, or everybody."""
        return () if self.same_to_every_role else (str(who.role), who.home_id or "")


def shared_page(
    *, right: Action, spinner: str, entries: int = 4, same_to_every_role: bool = False
) -> Callable[[Callable[Concatenate[Survey, Given], Made]], SharedPage[Given, Made]]:
    """Work something out once for all who have a right to it.

    Parameters
    ----------
    right
        What the person at the screen must be allowed to do, each time, before the cache is asked.
    spinner
        What the page says while it is worked out.
    entries
        How many results are kept.
    same_to_every_role
        Whether all roles that have the right get one and the same; else each role has its own, and each home too.

    Raises
    ------
    TypeError
        Where it is defined, if `right` is no action, or if what is one home's would be given to everybody.
    """
    if not isinstance(right, Action):
        raise TypeError(f"A shared page needs the action that a person must be allowed, not {right!r}.")
    if same_to_every_role and right in (Action.READ_HOME, Action.CHANGE_HOME):
        raise TypeError("What is one home's is the same to nobody else.")

    def decorate(make: Callable[Concatenate[Survey, Given], Made]) -> SharedPage[Given, Made]:
        page = SharedPage(make, right, spinner, entries, same_to_every_role)
        SHARED_PAGES[f"{make.__module__}.{make.__qualname__}"] = page
        return page

    return decorate


# ---- every home: the volunteer's alone -------------------------------------------------------


@shared_page(right=Action.READ_ALL_HOMES, spinner="Drawing the map …")
def whole_map_page(found: Survey) -> str:
    """The volunteer's map."""
    return found.figures().whole_map()


@shared_page(right=Action.READ_ALL_HOMES, spinner="Working out where every home stands …")
def home_table(found: Survey) -> tuple[list[dict[str, Any]], bytes]:
    """Every home as rows and as a workbook."""
    standings = found.standings()
    return standing_rows(standings), standing_bytes(standings)


@shared_page(right=Action.READ_ALL_HOMES, spinner="Comparing the answers …")
def disagreements(found: Survey) -> list[tuple[Home, tuple[str, ...]]]:
    """Homes whose answers contradict one another."""
    return [(d.home, d.sentences) for d in found.differences().all()]


@shared_page(right=Action.READ_ALL_HOMES, spinner="Comparing what more answers would do …")
def what_would_help(found: Survey) -> tuple[Help, CutCheck]:
    """Which answers would help most."""
    return found.foresight().what_would_help()


@shared_page(right=Action.READ_ALL_HOMES, spinner="Measuring the ways …", entries=8)
def walk(found: Survey, phase: str | None, doors: int) -> Walk:
    """Doors to knock at in an order that saves steps."""
    return found.responses().walk(phase=phase, doors=doors)


# ---- figures and groups of homes: the same to the volunteer and the committee ----------------


@shared_page(right=Action.READ_TOTALS, spinner="Drawing the map …", same_to_every_role=True)
def public_map_page(found: Survey) -> str:
    """The map without single homes."""
    return found.figures().public_map()


@shared_page(right=Action.READ_TOTALS, spinner="Counting …", same_to_every_role=True)
def published_figures(found: Survey) -> PublishedFigures:
    """The committee's figures."""
    return found.figures().published()


@shared_page(right=Action.READ_TOTALS, spinner="Working out the forecast …", same_to_every_role=True)
def forecast(found: Survey) -> Forecast:
    """Today's forecast."""
    return found.foresight().forecast()


@shared_page(right=Action.READ_TOTALS, spinner="Drawing the map …", same_to_every_role=True)
def losses_map_page(found: Survey) -> str:
    """Expected losses by groups of homes."""
    return found.foresight().losses_map()


@shared_page(right=Action.READ_TOTALS, spinner="Playing ten years …", entries=8, same_to_every_role=True)
def policies(found: Survey, discount: float, followed_by: float, amounts: Amounts) -> TenYears:
    """What each policy costs over ten years."""
    return found.figures().policies(
        discount=discount, followed_by=followed_by, amounts=amounts, fit=lambda: session.life_fit(found)
    )


@shared_page(right=Action.READ_TOTALS, spinner="Writing the report …", entries=2, same_to_every_role=True)
def board_paper(found: Survey) -> bytes:
    """The report to the board."""
    return board_pdf(found.figures().board_report(fit=lambda: session.life_fit(found)), ENGLISH)


# ---- what a role is told in its own way ------------------------------------------------------


@shared_page(right=Action.READ_TOTALS, spinner="Looking back …", entries=16)
def look_back(found: Survey, years: int) -> LookBack:
    """The forecast of some years ago against what happened since."""
    return found.foresight().look_back(found.foresight().years_ago(years))


@shared_page(right=Action.PLAN_DAYS, spinner="Drawing the map …")
def days_map_page(found: Survey, plan_id: str) -> str:
    """The map of one plan's days."""
    rounds = found.service_rounds()
    return rounds.map_of_days(rounds.get(plan_id))


@shared_page(right=Action.PLAN_DAYS, spinner="Writing the papers …")
def days_papers(
    found: Survey, plan_id: str
) -> tuple[ServicePapers, list[dict[str, Any]], list[dict[str, Any]], bytes, bytes, bytes]:
    """One plan with its homes, as rows, homes to call, day sheets, door notices and a calendar of all its visits."""
    rounds = found.service_rounds()
    papers = rounds.papers(rounds.get(plan_id), weighed=True)
    every = [v.home_id for v in papers.plan.visits]
    return (
        papers,
        day_rows(papers, ENGLISH),
        call_rows(papers),
        day_sheets_pdf(papers, ENGLISH),
        notices_pdf(papers, ENGLISH),
        visit_calendar(papers, every, ENGLISH, now=found.now),
    )
