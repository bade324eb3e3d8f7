"""What a service day needs on paper and in calendars: content as plain data once, then PDF and iCalendar."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any

from icalendar import Alarm, Calendar, Event

from geo.addresses import readable
from survey_app.records import Community
from survey_app.reports.as_pdf import pdf
from survey_app.reports.home_record import LITERS_PER_GALLON, calendar_bytes, named
from survey_app.service_days import Asked, Candidate, Outcome, PlannedVisit, ServicePlan, TooFew, clock
from survey_app.texts import Texts

__all__ = [
    "ServicePapers",
    "call_rows",
    "day_rows",
    "day_sheets_pdf",
    "does_it_pay",
    "notices_pdf",
    "promised",
    "too_few_pdf",
    "visit_calendar",
]

_WINDOW_S = 45 * 60
"""A crew is promised within this long of the planned time, either way."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ServicePapers:
    """A plan with the homes it is about.

    Parameters
    ----------
    community
        Whose it is.
    plan
        The plan.
    homes
        Every home of the plan as it was looked at, by home id.
    outcomes
        What became of each visit so far, by home id.
    call
        Whom the homes call about their visit: the volunteer, as the settings tell; "" where nobody is named.
    with_contacts
        Whether phones, e-mails and remarks are in it: for the volunteer alone.
    """

    community: Community
    plan: ServicePlan
    homes: Mapping[str, Candidate]
    outcomes: Mapping[str, Outcome]
    with_contacts: bool
    call: str = ""

    def name(self, home_id: str) -> str:
        """A home's address as people read it; its id where it is not on file any more."""
        return readable(self.homes[home_id].address) if home_id in self.homes else home_id

    def worth(self, home_id: str) -> str:
        """What is lost if the home waits a year, in dollars, with its 90% range: by effects that nobody measured."""
        if home_id not in self.homes:
            return ""
        low, mean, high = self.homes[home_id].worth_usd
        return f"{mean:,.0f} ({low:,.0f} to {high:,.0f})"


def does_it_pay(papers: ServicePapers, say: Texts) -> str:
    """In one breath: what a visit brings by what is known, what speaks for it all the same, and for whom most.

    The figure is the mean over the planned homes whose worth is known, with the mean of their 90% ranges: the effect
    that it hangs on is the same one for all of them.
    """
    planned = {v.home_id for v in papers.plan.visits}
    worths = [h.worth_usd for k, h in papers.homes.items() if k in planned and h.worth_usd != (0.0, 0.0, 0.0)]
    if not worths:
        return say("days-pays")
    low, mean, high = (sum(w[i] for w in worths) / len(worths) for i in range(3))
    key = "days-pays-not" if low <= 0 else "days-pays-some"
    figure = say(key, mean=say.usd(mean), low=say.usd(low), high=say.usd(high))
    why = [f"days-pays-why-{act.care}" for act in papers.plan.asked.job.acts]
    return " ".join([figure, *(say(key) for key in why if say.has(key)), say("days-pays-most")])


def day_rows(papers: ServicePapers, say: Texts) -> list[dict[str, Any]]:
    """Every visit as a row for people: day, crew, order, time, address, heater, place, cautions, outcome.

    How to reach the people and what they remarked are in it where the papers are the volunteer's.
    """
    rows = []
    for day in papers.plan.days:
        for visit in papers.plan.on(day):
            home = papers.homes.get(visit.home_id)
            if home is None:
                continue
            rows.append(
                {
                    "day": day.isoformat(),
                    "crew": visit.crew,
                    "order": visit.order,
                    "from": clock(visit.arrive_s),
                    "to": clock(visit.leave_s),
                    "address": readable(home.address),
                    "heater": _tank(home, say),
                    "place": named(say, "place", home.place),
                    **({"contact": home.contact, "remarks": home.remarks} if papers.with_contacts else {}),
                    "know before": " ".join(home.cautions),
                    "confirmed": "yes" if visit.home_id in papers.plan.asked.confirmed else "no",
                    "outcome": str(papers.outcomes.get(visit.home_id, Outcome.PLANNED)),
                    "home_id": visit.home_id,
                }
            )
    return rows


def call_rows(papers: ServicePapers) -> list[dict[str, Any]]:
    """Homes to call: planned, still open and not confirmed; and homes where the contractor decides first."""
    rows = []
    planned = {v.home_id: v for v in papers.plan.visits}
    for home_id, home in papers.homes.items():
        visit = planned.get(home_id)
        open_visit = papers.outcomes.get(home_id, Outcome.PLANNED) is Outcome.PLANNED
        if visit is not None and open_visit and home_id not in papers.plan.asked.confirmed:
            why = "planned, not confirmed"
        elif visit is None and home.fitness == "contractor decides first":
            why = "; ".join(home.reasons)
        else:
            continue
        day = f"{visit.on:%a %d %b}, {clock(visit.arrive_s)}" if visit else ""
        contact = home.contact if papers.with_contacts else "ask the volunteer"
        row = {"address": readable(home.address), "contact": contact, "day": day, "why": why}
        when = (visit.on, visit.arrive_s) if visit else (date.max, 0)
        rows.append((when, row["address"], row))
    return [row for _, _, row in sorted(rows, key=lambda r: r[:2])]


def day_sheets_pdf(papers: ServicePapers, say: Texts, *, on: date | None = None) -> bytes:
    """A sheet for each crew and day, with space to write what was found.

    Parameters
    ----------
    papers
        The plan with its homes.
    say
        The language.
    on
        One day; all of them when None.
    """
    sheets = []
    for day in papers.plan.days if on is None else (on,):
        for crew in sorted({v.crew for v in papers.plan.on(day)}):
            visits = [v for v in papers.plan.on(day) if v.crew == crew and v.home_id in papers.homes]
            sheets.append(_sheet(papers, day, crew, visits, say))
    return pdf(
        "day_sheets",
        {
            **_head(papers, say),
            "title": f"{say('paper-day-sheet')}: {say(papers.plan.asked.job.title)}",
            "law": say("paper-crew-law"),
            "know": say("paper-know"),
            "note": say("paper-note"),
            "outcomes": _ticks(say("paper-note-outcome")),
            "why": say("paper-note-why"),
            "findings": [say(f"found-{found.replace(' ', '-')}") for found in papers.plan.asked.job.findings],
            "more": say("paper-note-more"),
            "sheets": sheets,
        },
    )


def _ticks(line: str) -> list[str]:
    return [part.strip() for part in line.split("    ") if part.strip()]


def _sheet(papers: ServicePapers, day: date, crew: int, visits: Sequence[PlannedVisit], say: Texts) -> dict[str, Any]:
    asked = papers.plan.asked
    return {
        "head": f"{say.weekday_day(day)} · {say('paper-crew', n=crew)} · {say('paper-homes', n=len(visits))}",
        "hours": say("paper-start", when=clock(asked.start_s), until=clock(asked.end_s)),
        "visits": [
            {
                "time": f"{clock(v.arrive_s)} – {clock(v.leave_s)}",
                "order": v.order,
                "address": readable(papers.homes[v.home_id].address),
                "lines": _about(papers.homes[v.home_id], say, with_contacts=papers.with_contacts),
                "cautions": list(papers.homes[v.home_id].cautions),
            }
            for v in visits
        ],
    }


def _about(home: Candidate, say: Texts, *, with_contacts: bool) -> list[str]:
    reach = say("paper-contact", contact=home.contact) if home.contact else say("paper-no-contact")
    lines = [
        _tank(home, say),
        say("paper-place", place=named(say, "place", home.place)),
        reach if with_contacts else say("paper-contact-kept"),
    ]
    return [*lines, say("paper-remark", remark=home.remarks)] if home.remarks else lines


def _tank(home: Candidate, say: Texts) -> str:
    gallons = home.tank_gallons
    size = (
        say("paper-gallons", gallons=say.number(gallons), liters=say.number(gallons * LITERS_PER_GALLON))
        if gallons
        else say("paper-size-unknown")
    )
    age = say("paper-age", years=say.number(home.age_years)) if home.age_years is not None else say("paper-age-unknown")
    return say("paper-tank", kind=named(say, "kind", home.kind), size=size, age=age)


def notices_pdf(papers: ServicePapers, say: Texts) -> bytes:
    """A door notice for every planned home, a page each, in driving order."""
    pages, who = [], papers.plan.asked.contractor
    for day in papers.plan.days:
        for visit in papers.plan.on(day):
            home = papers.homes.get(visit.home_id)
            if home is None:
                continue
            start, end = promised(visit, papers.plan.asked)
            usd = papers.plan.asked.home_usd(len(papers.plan.on(day)))
            pages.append(
                {
                    "to": say("paper-notice-dear", address=readable(home.address)),
                    "when": say("paper-notice-when", **{"day": say.weekday_day(day), "from": start, "to": end}),
                    "price": say("paper-notice-price", usd=say.usd(usd)) if usd else say("paper-notice-price-open"),
                    "cautions": list(home.for_people),
                }
            )
    return pdf(
        "notices",
        {
            **_head(papers, say),
            "title": say(f"{papers.plan.asked.job.title}.notice"),
            "why": say("paper-notice-why"),
            "ready_head": say("paper-notice-ready-head"),
            "ready": say.lines("paper-notice-ready"),
            "before_head": say("paper-notice-before-head"),
            "who": say("paper-notice-who", who=who) if who else say("paper-notice-who-open"),
            "cannot": say("paper-notice-cannot"),
            "call": say("paper-notice-call", who=papers.call) if papers.call else "",
            "contract": say("paper-notice-contract"),
            "by": say("paper-notice-by"),
            "cautions_head": say("care-cautions-head"),
            "usual": [say("care-cautions-short")],
            "pages": pages,
        },
    )


def too_few_pdf(papers: ServicePapers, lacking: TooFew, say: Texts) -> bytes:
    """The letter to the streets that would fill a day: it names streets and no home."""
    streets = ", ".join(readable(s) for s in lacking.streets)
    return pdf(
        "letter",
        {
            **_head(papers, say),
            "title": say("paper-few-title", missing=lacking.missing),
            "paragraphs": [
                say("paper-few-body", streets=streets, day=say.day(lacking.on), missing=lacking.missing),
                say("paper-few-how"),
                say("paper-notice-contract"),
            ],
            "by": say("paper-notice-by"),
            "cautions_head": say("care-cautions-head"),
            "usual": [say("care-cautions-short")],
        },
    )


def visit_calendar(papers: ServicePapers, home_ids: Sequence[str], say: Texts, *, now: datetime) -> bytes:
    """Visits as a calendar (RFC 5545): one home's own, or a crew's whole day; local times, an alarm the day before."""
    calendar = Calendar()
    calendar.add("prodid", "-//Neighborhood water heater survey//EN")
    calendar.add("version", "2.0")
    wanted = set(home_ids)
    for visit in papers.plan.visits:
        home = papers.homes.get(visit.home_id)
        if visit.home_id not in wanted or home is None:
            continue
        start, end = _promised(visit, papers.plan.asked)
        event = Event()
        event.add("uid", f"visit-{papers.plan.plan_id}-{visit.home_id.replace('/', '-')}@water-heater-survey.invalid")
        event.add("dtstamp", now)
        event.add("dtstart", _moment(visit.on, start))
        event.add("dtend", _moment(visit.on, end))
        event.add("summary", say("ics-visit"))
        event.add("location", readable(home.address))
        body = say("ics-visit-body", **{"address": readable(home.address), "from": clock(start), "to": clock(end)})
        event.add("description", "\n".join([body, *say.lines("paper-notice-ready"), say("care-cautions-short")]))
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", say("ics-visit"))
        alarm.add("trigger", timedelta(days=-1))
        event.add_component(alarm)
        calendar.add_component(event)
    return calendar_bytes(calendar)


def promised(visit: PlannedVisit, asked: Asked) -> tuple[str, str]:
    """From when to when a home is told to expect the crew, as people read it."""
    start, end = _promised(visit, asked)
    return clock(start), clock(end)


def _promised(visit: PlannedVisit, asked: Asked) -> tuple[int, int]:
    """The arrival a home is promised, in seconds after midnight: a window, never before work begins."""
    return max(asked.start_s, visit.arrive_s - _WINDOW_S), visit.arrive_s + _WINDOW_S


def _moment(day: date, seconds: int) -> datetime:
    return datetime.combine(day, time()) + timedelta(seconds=seconds)


def _head(papers: ServicePapers, say: Texts) -> dict[str, Any]:
    return {
        "lang": say.language,
        "community": papers.community.name,
        "synthetic": say("paper-synthetic") if papers.community.synthetic else "",
    }
