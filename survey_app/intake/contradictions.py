"""What cannot all be true of one heater, told in plain words.

Dates are windows, so two of them contradict each other only when no day in
the one goes with any day in the other, with some slack for houses that stood
empty and records that are a year off. The slacks are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import reduce

from survey_app.date_codes import STOCK_MONTHS
from survey_app.intake.content import NEVER, Content, InstalledBasis, Problem, Severity
from survey_app.intake.wording import amount, day, problem, when, window
from survey_app.records import Dated, DateEvidence, EndCause, HeaterKind
from survey_app.texts import ENGLISH, Texts
from survey_app.typed_dates import add_months, describe

__all__ = ["ACTS", "FUTURE_FIELDS", "contradictions"]

HOUSE_YEARS_OFF = 1
"""A county's year of completion may be a year after the heater went in (common practice, no source)."""
EMPTY_YEARS = 2
"""A house may stand unsold and without a heater for so long (common practice, no source)."""
CHANGEOVER_DAYS = 365
"""An old heater and its successor are taken to meet within a year (common practice, no source)."""
CODE_SLACK_MONTHS = 24
"""A heater installed longer than this after the date on its plate is doubted (common practice, no source)."""
LONGEST_WARRANTY_YEARS = 15
TANK_GALLONS = (10.0, 130.0)

FUTURE_FIELDS = ("installed", "last_flush", "last_anode", "relief_valve_test", "previous_gone", "moved_in")
"""Dates of things that have happened, so that none may lie ahead."""
ACTS = ("last_flush", "last_anode", "relief_valve_test")
"""Dates of work on the heater, which come after its installation."""


def contradictions(content: Content, *, house_year: int | None, today: date, say: Texts = ENGLISH) -> Iterator[Problem]:
    """Everything in one answer that cannot all be true, or is hard to believe.

    Parameters
    ----------
    content
        The answer, understood.
    house_year
        The year the house was finished; None where nobody knows.
    today
        The day of the check.
    say
        The language in which they are told.
    """
    yield from _ahead_of_today(content, today, say)
    if house_year is not None:
        yield from _against_the_house(content, house_year, say)
    yield from _acts(content, say)
    yield from _succession(content, say)
    yield from _warranty(content, say)
    yield from _tank(content, say)
    yield from _code(content, say)


def _problem(field: str, key: str, say: Texts, **values: str) -> Problem:
    return problem(field, key, Severity.CONTRADICTION, say, overrulable=True, **values)


def _ahead_of_today(content: Content, today: date, say: Texts) -> Iterator[Problem]:
    for field in FUTURE_FIELDS:
        given = getattr(content, field)
        if isinstance(given, Dated) and given.earliest > today:
            yield _problem(field, f"{field}-in-future", say, when=describe(given, say), today=day(today, say))
    if content.answered_on > today:
        yield _problem(
            "answered_on", "answered-in-future", say, when=day(content.answered_on, say), today=day(today, say)
        )


def _against_the_house(content: Content, house_year: int, say: Texts) -> Iterator[Problem]:
    year = str(house_year)
    installed, first = content.installed, content.number_in_home == 1
    stated = installed is not None and content.installed_basis is InstalledBasis.STATED
    if installed is not None and stated and installed.latest.year < house_year - HOUSE_YEARS_OFF:
        yield _problem("installed", "installed-before-house", say, when=when(installed, say), year=year)
    if installed is not None and stated and first and installed.earliest.year > house_year + EMPTY_YEARS:
        yield _problem("heater_number", "first-but-later-than-house", say, when=when(installed, say), year=year)
    if content.moved_in is not None and content.moved_in.latest.year < house_year - HOUSE_YEARS_OFF:
        yield _problem("moved_in", "moved-in-before-house", say, when=when(content.moved_in, say), year=year)
    gone = content.previous_gone
    if gone is not None and gone.latest.year < house_year:
        yield _problem("previous_gone", "previous-gone-before-house", say, when=when(gone, say), year=year)


def _acts(content: Content, say: Texts) -> Iterator[Problem]:
    if content.last_anode == NEVER and content.anode_work is not None:
        yield _problem("anode_work", "anode-never-but-work", say, work=content.anode_work)
    installed = content.installed
    if installed is None:
        return
    for field in ACTS:
        done = getattr(content, field)
        if isinstance(done, Dated) and done.latest < installed.earliest:
            dates = {"done": window(done, say), "installed": window(installed, say)}
            yield _problem(field, f"{field}-before-installed", say, **dates)


def _succession(content: Content, say: Texts) -> Iterator[Problem]:
    installed, gone = content.installed, content.previous_gone
    told = gone is not None or content.previous_end not in (None, EndCause.UNKNOWN)
    if content.number_in_home == 1 and told:
        field = "previous_gone" if gone is not None else "previous_end"
        yield _problem(field, "first-but-previous", say)
    evidence = installed.evidence if installed is not None else None
    stated = content.installed_basis is InstalledBasis.STATED
    if stated and evidence is DateEvidence.HOUSE_COMPLETION and content.number_in_home in (2, 3):
        yield _problem("installed_evidence", "later-heater-dated-by-house", say)
    if installed is None or gone is None or content.installed_basis is InstalledBasis.PREVIOUS:
        return
    slack = timedelta(days=CHANGEOVER_DAYS)
    dates = {"gone": when(gone, say), "installed": when(installed, say)}
    if gone.earliest > installed.latest + slack:
        yield _problem("previous_gone", "previous-gone-after-installed", say, **dates)
    if gone.latest < installed.earliest - slack:
        yield _problem("previous_gone", "previous-gone-before-installed", say, **dates)


def _warranty(content: Content, say: Texts) -> Iterator[Problem]:
    installed, years, end = content.installed, content.warranty_years, content.warranty_end
    if years is not None and not 0 < years <= LONGEST_WARRANTY_YEARS:
        yield _problem("warranty_years", "warranty-term", say, years=amount(years, say))
    if installed is not None and end is not None and end < installed.earliest:
        dates = {"end": day(end, say), "installed": window(installed, say)}
        yield _problem("warranty_end", "warranty-ends-before-installed", say, **dates)


def _tank(content: Content, say: Texts) -> Iterator[Problem]:
    gallons = content.tank_gallons
    if content.kind is HeaterKind.TANKLESS:
        if gallons is not None and gallons > 0:
            yield _problem("tank_gallons", "tankless-with-tank", say, gallons=amount(gallons, say))
        if isinstance(content.last_anode, Dated) or content.anode_work is not None:
            yield _problem("last_anode", "tankless-with-anode", say)
    elif gallons is not None and not TANK_GALLONS[0] <= gallons <= TANK_GALLONS[1]:
        low, high = (amount(one, say) for one in TANK_GALLONS)
        yield _problem("tank_gallons", "tank-size", say, gallons=amount(gallons, say), low=low, high=high)


def _code(content: Content, say: Texts) -> Iterator[Problem]:
    installed = content.installed
    if installed is None or content.installed_basis is not InstalledBasis.STATED:
        return
    # A code whose readings all disagree with the house is a note elsewhere: it may be misread.
    fitting = [reading for reading in content.code_readings if reading.fits]
    since = add_months(installed.earliest, -CODE_SLACK_MONTHS)
    if not fitting or any(r.made.earliest <= installed.latest and r.made.latest >= since for r in fitting):
        return
    first, *others = dict.fromkeys(describe(reading.made, say) for reading in fitting[:3])
    said = reduce(lambda some, one: say("dates-or", first=some, second=one), others, first)
    yield _problem(
        "date_code",
        "code-against-date",
        say,
        code=content.date_code,
        made=said,
        when=when(installed, say),
        months=str(STOCK_MONTHS),
    )
