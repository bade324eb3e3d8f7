"""Who is for a service day: eligible or not and why, how long it takes, what to know before.

The rules are the trade's cautions with their reasons (common practice, no
source); what a job asks for stands in `jobs`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from survey_app.records import Interest, Place, Symptom, Wishes
from survey_app.reported import named
from survey_app.service_days.jobs import Fitness, Job
from survey_app.settings import Settings
from survey_app.standing import CareState, Standing
from survey_app.symptoms import Crew, crew_while, strictest_crew
from survey_app.texts import ENGLISH, Texts

__all__ = ["Candidate", "candidates", "job_minutes"]

_HARD_TO_REACH = frozenset({Place.ATTIC, Place.CLOSET, Place.UPPER_FLOOR})
_USUAL_GALLONS = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One home, looked at for a service day.

    Parameters
    ----------
    home_id, address, street, contact, remarks
        The home and how to reach its people.
    fitness, reasons
        Whether it is for this day, and every reason in a sentence.
    interest, asked_on
        What its people said, and when they first did.
    weekdays, half_day
        When it suits; empty where any day does.
    minutes
        On site.
    worth_usd
        Lost if it waits a year: low, mean, high (90%).
    care_states
        How urgent each act is.
    cautions
        What the crew must know before: its orders.
    for_people
        What the people of the home must know before; none of the crew's orders.
    """

    home_id: str
    address: str
    street: str
    contact: str
    remarks: str
    fitness: Fitness
    reasons: tuple[str, ...]
    interest: Interest
    asked_on: date | None
    weekdays: tuple[str, ...]
    half_day: str
    minutes: int
    worth_usd: tuple[float, float, float]
    care_states: Mapping[str, CareState]
    cautions: tuple[str, ...]
    for_people: tuple[str, ...]
    kind: str
    tank_gallons: float | None
    place: str
    age_years: float | None


def job_minutes(job: Job, gallons: float | None, place: Place, settings: Settings) -> int:
    """Minutes on site: the job's usual time, more for a large tank (it drains longer) and a place hard to reach.

    Parameters
    ----------
    job
        What the crew comes for.
    gallons
        Size of the tank; 50 where nobody knows.
    place
        Where it stands.
    settings
        Usual times.
    """
    usual: float = getattr(settings, job.minutes)
    size = 1.0 - job.drains + job.drains * (gallons or _USUAL_GALLONS) / _USUAL_GALLONS
    reach = settings.hard_to_reach_minutes if place in _HARD_TO_REACH else 0.0
    return max(15, math.ceil((usual * size + reach) / 5) * 5)


def candidates(
    standings: Sequence[Standing],
    wishes: Mapping[str, Wishes],
    job: Job,
    *,
    settings: Settings,
    worth: Mapping[str, tuple[float, float, float]],
    say: Texts = ENGLISH,
) -> list[Candidate]:
    """Every home that has a heater on file, looked at for one job.

    Parameters
    ----------
    standings
        Where every home stands today.
    wishes
        What each home said, by home id.
    job
        What the crew comes for.
    settings
        Times and rules.
    worth
        From :func:`.worth_of_homes`, by home id; zero where absent.
    say
        The language.

    Returns
    -------
    list of Candidate
        In the order of `standings`; homes without a heater on file are left out.
    """
    return [
        _candidate(found, wishes.get(found.home.home_id), job, settings, worth, say)
        for found in standings
        if found.heater is not None
    ]


def _candidate(
    found: Standing,
    wish: Wishes | None,
    job: Job,
    settings: Settings,
    worth: Mapping[str, tuple[float, float, float]],
    say: Texts,
) -> Candidate:
    heater = found.heater
    assert heater is not None
    wish = wish or Wishes(home_id=found.home.home_id)
    states = {care.what: care.state for care in found.cares}
    fitness, reasons = _fitness(found, job, states, say)
    told = _cautions(found, job, states)
    return Candidate(
        home_id=found.home.home_id,
        address=found.home.address,
        street=found.home.street,
        contact=wish.contact,
        remarks=wish.remarks,
        fitness=fitness,
        reasons=tuple(reasons),
        interest=job.interest(wish),
        asked_on=wish.asked_on,
        weekdays=wish.weekdays,
        half_day=str(wish.half_day),
        minutes=job_minutes(job, heater.tank_gallons, heater.place, settings),
        worth_usd=worth.get(found.home.home_id, (0.0, 0.0, 0.0)),
        care_states={act.care: states.get(act.care, CareState.UNKNOWN) for act in job.acts},
        cautions=tuple(say(key) for key in told),
        for_people=tuple(say(f"{key}.people") for key in told if say.has(f"{key}.people")),
        kind=str(heater.kind),
        tank_gallons=heater.tank_gallons,
        place=str(heater.place),
        age_years=found.age_years[1] if found.age_years else None,
    )


def _fitness(found: Standing, job: Job, states: Mapping[str, CareState], say: Texts) -> tuple[Fitness, list[str]]:
    heater = found.heater
    assert heater is not None
    if not heater.kind.has_tank and all(act.needs_tank for act in job.acts):
        return Fitness.NO, [say("days-no-tank")]
    reported = [report.what for report in found.reported]
    if strictest_crew(reported) is Crew.STAYS_AWAY:
        wrong = [what for what in reported if crew_while(what) is Crew.STAYS_AWAY]
        return Fitness.NO, [say("days-something-wrong", what=_named(wrong, say))]
    each = [
        (Fitness.NO, "days-no-tank")
        if act.needs_tank and not heater.kind.has_tank
        else act.fits(found, states.get(act.care, CareState.UNKNOWN))
        for act in job.acts
    ]
    best = min((fit for fit, _ in each), key=list(Fitness).index)
    reasons = [say(key) for _, key in each]
    first = [what for what in reported if crew_while(what) is Crew.CONTRACTOR_FIRST]
    if first and best is not Fitness.NO:
        return Fitness.ASK, [say("days-look-first", what=_named(first, say)), *reasons]
    return best, reasons


def _named(reported: Sequence[str], say: Texts) -> str:
    return "; ".join(named(what, say) for what in reported)


def _cautions(found: Standing, job: Job, states: Mapping[str, CareState]) -> tuple[str, ...]:
    """The cautions of a visit by their messages: the message is the crew's, its ``.people`` the home's."""
    heater = found.heater
    assert heater is not None
    told = [c.key for act in job.acts for c in act.risks if c.holds(heater.kind, states.get(act.care))]
    if found.warranty_multiple and found.warranty_multiple[1] < 1:
        told.append("days-caution-in-warranty")
    told += [c.key for act in job.acts for c in act.cautions if c.holds(heater.kind, states.get(act.care))]
    if Symptom.RELIEF_DRIPS in heater.symptoms:
        told.append("days-caution-relief-drips")
    if Symptom.RUMBLE in heater.symptoms:
        told.append("days-caution-rumble")
    return tuple(dict.fromkeys(told))
