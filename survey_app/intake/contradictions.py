"""What cannot all be true of one heater, or hardly ever is, told in plain words.

Dates are windows, so two of them contradict each other only when no day in
the one goes with any day in the other, with some slack for houses that stood
empty and records that are a year off. The slacks are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from functools import reduce

from survey_app.date_codes import STOCK_MONTHS
from survey_app.intake.content import NEVER, Content, InstalledBasis, Severity
from survey_app.intake.kinds import Lands, Question
from survey_app.intake.questions import QUESTIONS, question
from survey_app.intake.reading import HAPPENED
from survey_app.intake.wording import Finding, Words, amount, day, when, window
from survey_app.records import DAYS_PER_YEAR, Dated, DateEvidence, EndCause, HeaterKind
from survey_app.texts import Texts
from survey_app.typed_dates import add_months, describe

__all__ = ["contradictions"]

HOUSE_YEARS_OFF = 1
"""A county's year of completion may be a year after the heater went in (common practice, no source)."""
EMPTY_YEARS = 2
"""A house may stand unsold and without a heater for so long (common practice, no source)."""
CHANGEOVER_DAYS = 365
"""An old heater and its successor are taken to meet within a year (common practice, no source)."""
LONGEST_WARRANTY_YEARS = 15
"""Terms of 6, 9 and 12 years are usual; beyond this one is asked about (common practice, no source)."""
OLDEST_USUAL_YEARS = 30
"""A heater older than this is asked about: a maintained tank can reach it (common practice, no source).

Of main heaters 7.3% were 20 years old or more (EIA RECS 2015, table HC8.6).
"""
TANK_GALLONS = (10.0, 130.0)
"""Sizes outside are asked about (common practice, no source)."""

_TOLD_IN = {InstalledBasis.PREVIOUS: "previous_gone", InstalledBasis.CODE: "date_code"}
"""The question that an installation date was taken from, where it is not its own."""
_ACTS = tuple(one for one in QUESTIONS if one.lands is Lands.ACT)
"""Work on the heater, which comes after its installation."""


def contradictions(content: Content, *, house_year: int | None, today: date) -> Iterator[Finding]:
    """Everything in one answer that cannot all be true, or is hard to believe.

    Parameters
    ----------
    content
        The answer, understood, with dates that have not come yet.
    house_year
        The year the house was finished; None where nobody knows.
    today
        The day of the check.
    """
    yield from _ahead_of_today(content, today)
    if house_year is not None:
        yield from _against_the_house(content, house_year)
        yield from _first_of_the_house(content, house_year)
    yield from _age(content, house_year)
    yield from _acts(content)
    yield from _succession(content)
    yield from _warranty(content)
    yield from _tank(content)
    yield from _code(content)


def _problem(field: str, key: str, words: Words | None = None) -> Finding:
    return Finding.of(field, key, Severity.CONTRADICTION, words, overrulable=True)


def _ahead_of_today(content: Content, today: date) -> Iterator[Finding]:
    for key in HAPPENED:
        given = content.the(key, Dated)
        if given is not None and given.earliest > today:
            yield _problem(key, f"{key}-in-future", _in_future(question(key), given, today))
    if content.answered_on > today:
        yield _problem(
            "answered_on",
            "answered-in-future",
            lambda say: {"when": day(content.answered_on, say), "today": day(today, say)},
        )


def _in_future(asked: Question, given: Dated, today: date) -> Words:
    return lambda say: {"question": asked.text(say), "when": describe(given, say), "today": day(today, say)}


def _before_installed(asked: Question, done: Dated, installed: Dated) -> Words:
    return lambda say: {
        "question": asked.text(say),
        "done": window(done, say),
        "installed": window(installed, say),
    }


def _of_house(told: Dated, house_year: int) -> Words:
    return lambda say: {"when": when(told, say), "year": str(house_year)}


def _against_the_house(content: Content, house_year: int) -> Iterator[Finding]:
    installed, moved_in, gone = content.installed, content.moved_in, content.previous_gone
    if installed is not None and content.installed_basis is InstalledBasis.STATED:
        if installed.latest.year < house_year - HOUSE_YEARS_OFF:
            yield _problem("installed", "installed-before-house", _of_house(installed, house_year))
        if content.number_in_home == 1 and installed.earliest.year > house_year + EMPTY_YEARS:
            yield _problem("heater_number", "first-but-later-than-house", _of_house(installed, house_year))
    if moved_in is not None and moved_in.latest.year < house_year - HOUSE_YEARS_OFF:
        yield _problem("moved_in", "moved-in-before-house", _of_house(moved_in, house_year))
    if gone is not None and gone.latest.year < house_year:
        yield _problem("previous_gone", "previous-gone-before-house", _of_house(gone, house_year))


def _first_of_the_house(content: Content, house_year: int) -> Iterator[Finding]:
    """Whether the first heater, this one or the one before, can have been the first."""
    if content.number_in_home == 2:
        gone = content.previous_gone or content.installed
        lasted = gone.earliest.year - house_year if gone is not None else 0
        if lasted > OLDEST_USUAL_YEARS:
            yield _problem(
                "heater_number", "first-lasted-long", lambda _: {"years": str(lasted), "year": str(house_year)}
            )
    if content.number_in_home == 1 and content.installed_basis is not InstalledBasis.STATED:
        years = {r.year for r in content.code_readings if r.fits and not r.by_letter_alone}
        if years and min(years) > house_year + EMPTY_YEARS:
            made = ", ".join(str(year) for year in sorted(years))
            yield _problem(
                "heater_number",
                "first-but-code-later",
                lambda _: {"code": content.date_code, "made": made, "year": str(house_year)},
            )


def _age(content: Content, house_year: int | None) -> Iterator[Finding]:
    """A heater older than heaters get, asked about where its date comes from."""
    installed, basis = content.installed, content.installed_basis
    if installed is None:
        return
    years = int((content.answered_on - installed.latest).days // DAYS_PER_YEAR)
    if years <= OLDEST_USUAL_YEARS:
        return
    if basis is InstalledBasis.HOUSE:
        field = "heater_number" if content.number_in_home == 1 else "installed"
        words = {"years": str(years), "year": str(house_year)}
        yield _problem(field, "first-heater-very-old", lambda _: words)
    else:
        field = _TOLD_IN.get(basis, "installed") if basis else "installed"
        yield _problem(field, "heater-very-old", lambda _: {"years": str(years)})


def _acts(content: Content) -> Iterator[Finding]:
    work, installed = content.anode_work, content.installed
    if content.last_anode == NEVER and work is not None:
        yield _problem("anode_work", "anode-never-but-work", lambda _: {"work": work})
    if installed is None:
        return
    for asked in _ACTS:
        done = content.the(asked.key, Dated)
        if done is not None and done.latest < installed.earliest:
            words = _before_installed(asked, done, installed)
            yield _problem(asked.key, f"{asked.key}-before-installed", words)


def _succession(content: Content) -> Iterator[Finding]:
    installed, gone = content.installed, content.previous_gone
    told = gone is not None or content.previous_end not in (None, EndCause.UNKNOWN)
    if content.number_in_home == 1 and told:
        yield _problem("previous_gone" if gone is not None else "previous_end", "first-but-previous")
    evidence = installed.evidence if installed is not None else None
    stated = content.installed_basis is InstalledBasis.STATED
    if stated and evidence is DateEvidence.HOUSE_COMPLETION and content.number_in_home in (2, 3):
        yield _problem("installed_evidence", "later-heater-dated-by-house")
    if installed is None or gone is None or content.installed_basis is InstalledBasis.PREVIOUS:
        return
    slack = timedelta(days=CHANGEOVER_DAYS)

    def dates(say: Texts) -> Mapping[str, str]:
        return {"gone": when(gone, say), "installed": when(installed, say)}

    if gone.earliest > installed.latest + slack:
        yield _problem("previous_gone", "previous-gone-after-installed", dates)
    if gone.latest < installed.earliest - slack:
        yield _problem("previous_gone", "previous-gone-before-installed", dates)


def _warranty(content: Content) -> Iterator[Finding]:
    installed, years, end = content.installed, content.warranty_years, content.warranty_end
    if years is not None and not 0 < years <= LONGEST_WARRANTY_YEARS:
        yield _problem("warranty_years", "warranty-term", lambda say: {"years": amount(years, say)})
    if installed is not None and end is not None and end < installed.earliest:
        yield _problem(
            "warranty_end",
            "warranty-ends-before-installed",
            lambda say: {"end": day(end, say), "installed": window(installed, say)},
        )
    since = installed.latest if installed is not None else content.answered_on
    if end is not None and end > add_months(since, 12 * LONGEST_WARRANTY_YEARS):
        runs = str(end.year - since.year)
        yield _problem("warranty_end", "warranty-ends-late", lambda say: {"end": day(end, say), "years": runs})


def _tank(content: Content) -> Iterator[Finding]:
    gallons = content.tank_gallons
    if content.kind is HeaterKind.TANKLESS:
        if gallons is not None and gallons > 0:
            yield _problem("tank_gallons", "tankless-with-tank", lambda say: {"gallons": amount(gallons, say)})
        if isinstance(content.last_anode, Dated) or content.anode_work is not None:
            yield _problem("last_anode", "tankless-with-anode")
    elif gallons is not None and not TANK_GALLONS[0] <= gallons <= TANK_GALLONS[1]:
        yield _problem(
            "tank_gallons",
            "tank-size",
            lambda say: {
                "gallons": amount(gallons, say),
                "low": amount(TANK_GALLONS[0], say),
                "high": amount(TANK_GALLONS[1], say),
            },
        )


def _code(content: Content) -> Iterator[Finding]:
    installed = content.installed
    if installed is None or content.installed_basis is not InstalledBasis.STATED:
        return
    # A code whose readings all disagree with the house is a note elsewhere: it may be misread.
    possible = [reading for reading in content.code_readings if reading.possible]
    if not possible or any(reading.fits for reading in possible):
        return

    def words(say: Texts) -> Mapping[str, str]:
        first, *others = dict.fromkeys(describe(reading.made, say) for reading in possible[:3])
        made = reduce(lambda some, one: say("dates-or", first=some, second=one), others, first)
        return {"code": content.date_code, "made": made, "when": when(installed, say), "months": str(STOCK_MONTHS)}

    yield _problem("date_code", "code-against-date", words)
