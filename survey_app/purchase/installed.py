"""New heaters of the group purchase as events: checked, made, and listed."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from survey_app.purchase.offers import Bought
from survey_app.records import DAYS_PER_YEAR, EndCause, Event, EventKind, Heater, HeaterKind
from survey_app.standing import add_years

__all__ = ["BOUGHT", "bought", "installed_event"]

BOUGHT = "bought-"
"""How the names of events begin that put a heater of the group purchase on file."""

_MOST_GALLONS = 200.0
_MOST_WARRANTY_YEARS = 30.0
_BY = "Group purchase: "


def installed_event(
    home_id: str,
    on: date,
    *,
    kind: HeaterKind,
    gallons: float | None,
    warranty_years: float | None,
    contractor: str,
    had_failed: bool,
    told_by: str,
    today: date,
    now: Heater | None,
) -> Event:
    """A replacement at a home; the same home and day give the same event, which corrects it.

    Parameters
    ----------
    home_id, on, kind, gallons, warranty_years, contractor, had_failed
        What went in, where and when, and whether the old heater had failed.
    told_by, today
        Who says so, and the day of it.
    now
        The heater on file as the one in service, if any.

    Raises
    ------
    ValueError
        When a figure is impossible, the day lies ahead, or the heater on file is newer than that day.
    """
    wrong = []
    if on > today:
        wrong.append(f"{on.isoformat()} lies ahead. Put a heater on file once it is installed.")
    if gallons is not None and not 0 < gallons <= _MOST_GALLONS:
        wrong.append(f"{gallons:g} gallons is no size of a tank. Give 1 to {_MOST_GALLONS:g}, or leave it out.")
    if warranty_years is not None and not 0 < warranty_years <= _MOST_WARRANTY_YEARS:
        wrong.append(
            f"A warranty of {warranty_years:g} years is not possible. Give up to {_MOST_WARRANTY_YEARS:g}, "
            "or leave it out."
        )
    if now is not None and now.installed is not None and now.installed.earliest > on:
        wrong.append(
            f"The heater on file went in after {on.isoformat()} (by {now.installed.latest.isoformat()}). "
            "Check the day, or correct the home's answer first."
        )
    if wrong:
        raise ValueError(" ".join(wrong))
    return Event(
        event_id=f"{BOUGHT}{uuid.uuid5(uuid.NAMESPACE_OID, f'{home_id}/{on.isoformat()}').hex}",
        home_id=home_id,
        kind=EventKind.REPLACEMENT,
        on=on,
        told_by=told_by,
        findings=f"{_BY}{contractor}" if contractor else "",
        kind_of_heater=kind,
        tank_gallons=gallons,
        warranty_years=warranty_years,
        end_cause=EndCause.FAILED if had_failed else EndCause.REPLACED,
    )


def bought(events: Iterable[Event], address: Mapping[str, str]) -> list[Bought]:
    """Events of new heaters as they are listed, newest first; `address` by home id."""
    return [
        Bought(
            event_id=e.event_id,
            home_id=e.home_id,
            address=address.get(e.home_id, ""),
            on=e.on,
            kind=e.kind_of_heater,
            tank_gallons=e.tank_gallons,
            warranty_until=_warranty_end(e.on, e.warranty_years),
            contractor=e.findings.removeprefix(_BY),
            had_failed=e.end_cause is EndCause.FAILED,
        )
        for e in sorted(events, key=lambda e: (e.on, e.event_id), reverse=True)
    ]


def _warranty_end(installed_on: date, years: float | None) -> date | None:
    """The last day of a warranty, None where its term is not known."""
    if years is None:
        return None
    whole = int(years)
    return add_years(installed_on, whole) + timedelta(days=round((years - whole) * DAYS_PER_YEAR))
