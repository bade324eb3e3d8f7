"""What cannot all be true of one heater, told in plain words.

Dates are windows, so two of them contradict each other only when no day in
the one goes with any day in the other, with some slack for houses that stood
empty and records that are a year off. The slacks are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from survey_app.date_codes import STOCK_MONTHS
from survey_app.intake.content import NEVER, Content, InstalledBasis, Problem, Severity
from survey_app.records import Dated, DateEvidence, EndCause, HeaterKind
from survey_app.typed_dates import add_months, describe

__all__ = ["FUTURE_FIELDS", "contradictions"]

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
_ACTS = {
    "last_flush": "the last flush",
    "last_anode": "the last anode work",
    "relief_valve_test": "the last test of the relief valve",
}
_DATES = {
    **_ACTS,
    "installed": "the installation",
    "previous_gone": "the end of the previous heater",
    "moved_in": "your move",
}
_OR_REASON = "or say why both are right"


def contradictions(content: Content, *, house_year: int | None, today: date) -> Iterator[Problem]:
    """Everything in one answer that cannot all be true, or is hard to believe.

    Parameters
    ----------
    content
        The answer, understood.
    house_year
        The year the house was finished; None where nobody knows.
    today
        The day of the check.
    """
    yield from _ahead_of_today(content, today)
    if house_year is not None:
        yield from _against_the_house(content, house_year)
    yield from _acts(content)
    yield from _succession(content)
    yield from _warranty(content)
    yield from _tank(content)
    yield from _code(content)


def _problem(field: str, key: str, what: str, remedy: str) -> Problem:
    return Problem(field=field, what=what, remedy=remedy, severity=Severity.CONTRADICTION, key=key, overrulable=True)


def _ahead_of_today(content: Content, today: date) -> Iterator[Problem]:
    for field in FUTURE_FIELDS:
        given = getattr(content, field)
        if isinstance(given, Dated) and given.earliest > today:
            yield _problem(
                field,
                f"{field}-in-future",
                f"The date of {_DATES[field]} ({describe(given)}) has not come yet: today is {today.isoformat()}.",
                "Correct the date; with a reason instead, it is left open.",
            )
    if content.answered_on > today:
        yield _problem(
            "answered_on",
            "answered-in-future",
            f"The answer is dated {content.answered_on.isoformat()}, after today ({today.isoformat()}).",
            "Correct the date, or leave it open.",
        )


def _against_the_house(content: Content, house_year: int) -> Iterator[Problem]:
    installed, first = content.installed, content.number_in_home == 1
    stated = installed is not None and content.installed_basis is InstalledBasis.STATED
    if installed is not None and stated and installed.latest.year < house_year - HOUSE_YEARS_OFF:
        yield _problem(
            "installed",
            "installed-before-house",
            f"The heater was installed {_when(installed)}, but the house was finished in {house_year}.",
            f"Check the date and the address, {_OR_REASON}.",
        )
    if installed is not None and stated and first and installed.earliest.year > house_year + EMPTY_YEARS:
        yield _problem(
            "heater_number",
            "first-but-later-than-house",
            f"It is said to be the first heater, but it was installed {_when(installed)} and the house was "
            f"finished in {house_year}.",
            f"Correct the date, or say that it is the second one, {_OR_REASON}.",
        )
    if content.moved_in is not None and content.moved_in.latest.year < house_year - HOUSE_YEARS_OFF:
        yield _problem(
            "moved_in",
            "moved-in-before-house",
            f"You moved in {_when(content.moved_in)}, but the house was finished in {house_year}.",
            f"Give the date you moved into this house, {_OR_REASON}.",
        )
    gone = content.previous_gone
    if gone is not None and gone.latest.year < house_year:
        yield _problem(
            "previous_gone",
            "previous-gone-before-house",
            f"The previous heater went {_when(gone)}, but the house was finished in {house_year}.",
            f"Correct the date, {_OR_REASON}.",
        )


def _acts(content: Content) -> Iterator[Problem]:
    if content.last_anode == NEVER and content.anode_work is not None:
        yield _problem(
            "anode_work",
            "anode-never-but-work",
            f'The anode rod was "never" looked at, but it is said to have been {content.anode_work}.',
            f"Give the date of the anode work or leave open what was done, {_OR_REASON}.",
        )
    installed = content.installed
    if installed is None:
        return
    for field, words in _ACTS.items():
        done = getattr(content, field)
        if isinstance(done, Dated) and done.latest < installed.earliest:
            yield _problem(
                field,
                f"{field}-before-installed",
                f"The date of {words} ({_short(done)}) is before the heater was installed ({_short(installed)}).",
                "Correct one of the dates; if it was done to the heater before this one, say so as the reason.",
            )


def _succession(content: Content) -> Iterator[Problem]:
    installed, gone = content.installed, content.previous_gone
    told = gone is not None or content.previous_end not in (None, EndCause.UNKNOWN)
    if content.number_in_home == 1 and told:
        field = "previous_gone" if gone is not None else "previous_end"
        yield _problem(
            field,
            "first-but-previous",
            "It is said to be the first heater in this home, but a heater before it is told of.",
            f"Say that it is the second one, or leave the previous heater open, {_OR_REASON}.",
        )
    evidence = installed.evidence if installed is not None else None
    stated = content.installed_basis is InstalledBasis.STATED
    if stated and evidence is DateEvidence.HOUSE_COMPLETION and content.number_in_home in (2, 3):
        yield _problem(
            "installed_evidence",
            "later-heater-dated-by-house",
            "The date is that of the house, but it is said not to be the first heater.",
            f"Give the date of this heater and how you know it, {_OR_REASON}.",
        )
    if installed is None or gone is None or content.installed_basis is InstalledBasis.PREVIOUS:
        return
    slack = timedelta(days=CHANGEOVER_DAYS)
    if gone.earliest > installed.latest + slack:
        yield _problem(
            "previous_gone",
            "previous-gone-after-installed",
            f"The previous heater went {_when(gone)}, but this one was installed {_when(installed)}, long before.",
            f"Correct one of the dates, {_OR_REASON}.",
        )
    if gone.latest < installed.earliest - slack:
        yield _problem(
            "previous_gone",
            "previous-gone-before-installed",
            f"The previous heater went {_when(gone)}, but this one was only installed {_when(installed)}.",
            f"Correct one of the dates, {_OR_REASON}.",
        )


def _warranty(content: Content) -> Iterator[Problem]:
    installed, years, end = content.installed, content.warranty_years, content.warranty_end
    if years is not None and not 0 < years <= LONGEST_WARRANTY_YEARS:
        yield _problem(
            "warranty_years",
            "warranty-term",
            f"A warranty of {years:g} years is not usual; 6, 9 and 12 are.",
            "Check the label or leave it open, or say why it is right.",
        )
    if installed is not None and end is not None and end < installed.earliest:
        yield _problem(
            "warranty_end",
            "warranty-ends-before-installed",
            f"The warranty ended on {end.isoformat()}, before the heater was installed ({_short(installed)}).",
            f"Correct one of the dates, {_OR_REASON}.",
        )


def _tank(content: Content) -> Iterator[Problem]:
    gallons = content.tank_gallons
    if content.kind is HeaterKind.TANKLESS:
        if gallons is not None and gallons > 0:
            yield _problem(
                "tank_gallons",
                "tankless-with-tank",
                f"A tankless heater has no tank, but a tank of {gallons:g} gallons is given.",
                f"Correct the kind or leave the size open, {_OR_REASON}.",
            )
        if isinstance(content.last_anode, Dated) or content.anode_work is not None:
            yield _problem(
                "last_anode",
                "tankless-with-anode",
                "A tankless heater has no anode rod, but work on one is given.",
                f"Correct the kind or leave the anode rod open, {_OR_REASON}.",
            )
    elif gallons is not None and not TANK_GALLONS[0] <= gallons <= TANK_GALLONS[1]:
        yield _problem(
            "tank_gallons",
            "tank-size",
            f"A tank of {gallons:g} gallons is hard to believe; homes have {TANK_GALLONS[0]:g} to {TANK_GALLONS[1]:g}.",
            "Check the label or leave it open, or say why it is right.",
        )


def _code(content: Content) -> Iterator[Problem]:
    installed = content.installed
    if installed is None or content.installed_basis is not InstalledBasis.STATED:
        return
    # A code whose readings all disagree with the house is a note elsewhere: it may be misread.
    fitting = [reading for reading in content.code_readings if reading.fits]
    since = add_months(installed.earliest, -CODE_SLACK_MONTHS)
    if not fitting or any(r.made.earliest <= installed.latest and r.made.latest >= since for r in fitting):
        return
    said = " or ".join(dict.fromkeys(describe(reading.made) for reading in fitting[:3]))
    yield _problem(
        "date_code",
        "code-against-date",
        f'The code "{content.date_code}" says made in {said}, which does not go with an installation '
        f"{_when(installed)} (usually up to {STOCK_MONTHS} months later).",
        f"Check the code and the date, {_OR_REASON}.",
    )


def _when(dated: Dated) -> str:
    """A window with its preposition: "on May 12, 2009", "in 2009"."""
    return f"{'on' if dated.earliest == dated.latest else 'in'} {_short(dated)}"


def _short(dated: Dated) -> str:
    """A window in words; windows wider than a month by their years."""
    if (dated.latest - dated.earliest).days <= 31:
        return describe(dated)
    first, last = dated.earliest.year, dated.latest.year
    return str(first) if first == last else f"{first} to {last}"
