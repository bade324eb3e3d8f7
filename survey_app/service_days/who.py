"""Who is for a service day: eligible or not and why, what serving the home is worth, how long it takes.

The rules are the trade's cautions with their reasons (common practice, no
source). Worth is the dollars lost if the home waits a year for the next round;
since nobody has measured what a flush or an anode does for a tank's life, it
carries the uncertainty of that effect, which includes none.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

import numpy as np

from survey_app.lifetime import LifeDraws
from survey_app.lifetime.laws import Floats
from survey_app.records import HeaterKind, Interest, Place, Symptom, Wishes
from survey_app.settings import Settings
from survey_app.standing import CareState, Standing
from survey_app.texts import ENGLISH, Texts

__all__ = ["ActEffect", "Candidate", "Fitness", "Job", "candidates", "job_minutes", "thinned", "worth_of_serving"]

_NOT_FOR_A_SERVICE_DAY = frozenset(
    {Symptom.GAS_SMELL, Symptom.RELIEF_OPENED, Symptom.SAFETY_SWITCH, Symptom.LEAK, Symptom.RUSTY_WATER}
)
_HARD_TO_REACH = frozenset({Place.ATTIC, Place.CLOSET, Place.UPPER_FLOOR})
_USUAL_GALLONS = 50.0
_YEARS_AHEAD = 40.0


class Job(StrEnum):
    """What a crew comes for."""

    FLUSH = "flush"
    ANODE = "anode"
    BOTH = "flush and anode"

    @property
    def acts(self) -> tuple[str, ...]:
        """The kinds of care it is made of, as a standing names them."""
        return ("flush", "anode") if self is Job.BOTH else (str(self),)


class Fitness(StrEnum):
    """Whether a home is for this service day."""

    YES = "yes"
    ASK = "contractor decides first"
    NO = "no"


@dataclass(frozen=True, slots=True, kw_only=True)
class ActEffect:
    """What is believed of an act's effect: log factor on the remaining life, with its standard deviation."""

    mean: float
    sd: float


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
        What the crew and the people must know before.
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
    usual = {Job.FLUSH: settings.flush_minutes, Job.ANODE: settings.anode_minutes, Job.BOTH: settings.both_minutes}[job]
    # A flush is about half draining, which grows with the tank; an anode is not.
    share = 0.0 if job is Job.ANODE else 0.5
    size = 1.0 - share + share * (gallons or _USUAL_GALLONS) / _USUAL_GALLONS
    reach = settings.hard_to_reach_minutes if place in _HARD_TO_REACH else 0.0
    return max(15, math.ceil((usual * size + reach) / 5) * 5)


def worth_of_serving(
    lives: Sequence[LifeDraws],
    age_years: float,
    effect: ActEffect,
    *,
    still_possible: float,
    usd_per_year: float,
    failure_extra_usd: float,
    discount: float,
) -> tuple[float, float, float]:
    """Dollars lost if an act waits a year: what it brings now, less what it will bring then if it still can.

    It brings added years of the unit (a factor on the mean remaining life) and
    a smaller chance of an emergency within the year.

    Parameters
    ----------
    lives
        Plausible laws of this heater's life.
    age_years
        Age today.
    effect
        What is believed of the act.
    still_possible
        Chance that the act can still be done in a year (below one where its window closes).
    usd_per_year
        What a year of a heater costs: price over mean life.
    failure_extra_usd
        What a failure costs above a planned replacement.
    discount
        Yearly discount rate.

    Returns
    -------
    tuple of float
        Low, mean and high over the 90% range of the effect; the low end may be below zero.
    """
    ahead = np.linspace(0.0, _YEARS_AHEAD, 81)
    remaining = np.zeros(2)
    chance = np.zeros(2)
    kept = total = 0.0
    for draws in lives:
        weight = draws.weights
        for i, age in enumerate((max(age_years, 1e-6), age_years + 1.0)):
            alive = draws.survival(age + ahead)
            share: Floats = alive / np.maximum(alive[:, :1], 1e-300)
            remaining[i] += float(weight @ np.trapezoid(share, ahead, axis=1))
            chance[i] += float(weight @ (1.0 - share[:, 2]))
        kept += float(weight @ (1.0 - _within_a_year(draws, age_years)))
        total += float(weight.sum())
    remaining, chance, kept = remaining / total, chance / total, kept / total

    def brings(i: int, log_factor: float) -> float:
        years = (math.exp(log_factor) - 1.0) * remaining[i]
        return float(years * usd_per_year + chance[i] * (1.0 - math.exp(-log_factor)) * failure_extra_usd)

    later = kept * still_possible / (1.0 + discount)
    spread = 1.645 * effect.sd
    low, mean, high = (
        brings(0, e) - later * brings(1, e) for e in (effect.mean - spread, effect.mean, effect.mean + spread)
    )
    return low, mean, high


def thinned(draws: LifeDraws, count: int = 64) -> LifeDraws:
    """The same laws by fewer draws of equal weight, taken evenly along the weights: fast, and the same every time."""
    total = float(draws.weights.sum())
    if len(draws.weights) <= count or total <= 0:
        return draws
    edges = np.cumsum(draws.weights) / total
    chosen = np.minimum(np.searchsorted(edges, (np.arange(count) + 0.5) / count), len(edges) - 1)
    return LifeDraws(draws.law, draws.log_median[chosen], draws.shape[chosen], np.full(count, total / count))


def _within_a_year(draws: LifeDraws, age: float) -> Floats:
    alive = draws.survival(np.array([max(age, 1e-6), age + 1.0]))
    return np.asarray(1.0 - alive[:, 1] / np.maximum(alive[:, 0], 1e-300))


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
        From :func:`worth_of_serving`, by home id; zero where absent.
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
    wanted = {Job.FLUSH: (wish.flush_day,), Job.ANODE: (wish.anode_day,), Job.BOTH: (wish.flush_day, wish.anode_day)}
    return Candidate(
        home_id=found.home.home_id,
        address=found.home.address,
        street=found.home.street,
        contact=wish.contact,
        remarks=wish.remarks,
        fitness=fitness,
        reasons=tuple(reasons),
        interest=_keener(wanted[job]),
        asked_on=wish.asked_on,
        weekdays=wish.weekdays,
        half_day=str(wish.half_day),
        minutes=job_minutes(job, heater.tank_gallons, heater.place, settings),
        worth_usd=worth.get(found.home.home_id, (0.0, 0.0, 0.0)),
        care_states={what: states.get(what, CareState.UNKNOWN) for what in job.acts},
        cautions=tuple(_cautions(found, job, states, say)),
        kind=str(heater.kind),
        tank_gallons=heater.tank_gallons,
        place=str(heater.place),
        age_years=found.age_years[1] if found.age_years else None,
    )


def _keener(wishes: Sequence[Interest]) -> Interest:
    order = (Interest.YES, Interest.MAYBE, Interest.UNKNOWN, Interest.NO)
    return min(wishes, key=order.index)


def _fitness(found: Standing, job: Job, states: Mapping[str, CareState], say: Texts) -> tuple[Fitness, list[str]]:
    heater = found.heater
    assert heater is not None
    if not heater.kind.has_tank:
        return Fitness.NO, [say("days-no-tank")]
    wrong = [s for s in heater.symptoms if s in _NOT_FOR_A_SERVICE_DAY]
    if wrong:
        named = "; ".join(say(f"symptom-{str(s).replace(' ', '-')}") for s in wrong)
        return Fitness.NO, [say("days-something-wrong", what=named)]
    each = [_act_fitness(what, states.get(what, CareState.UNKNOWN), found) for what in job.acts]
    best = min((fit for fit, _ in each), key=list(Fitness).index)
    return best, [say(key) for _, key in each]


_FLUSH = {
    CareState.DUE: (Fitness.YES, "days-flush-due"),
    CareState.FINE: (Fitness.NO, "days-flush-fine"),
    CareState.ASK: (Fitness.ASK, "days-flush-never"),
    CareState.UNKNOWN: (Fitness.YES, "days-flush-unknown"),
}
_ANODE = {
    CareState.DUE: (Fitness.YES, "days-anode-due"),
    CareState.CLOSING: (Fitness.YES, "days-anode-closing"),
    CareState.FINE: (Fitness.NO, "days-anode-fine"),
    CareState.LATE: (Fitness.ASK, "days-anode-late"),
    CareState.UNKNOWN: (Fitness.ASK, "days-anode-unknown"),
}


def _act_fitness(what: str, state: CareState, found: Standing) -> tuple[Fitness, str]:
    if what == "flush":
        if state is CareState.UNKNOWN and found.age_years is None:
            return Fitness.ASK, "days-flush-no-age"
        if state is CareState.UNKNOWN and found.age_years is not None and found.age_years[2] < 1.0:
            return _FLUSH[CareState.FINE]
        return _FLUSH.get(state, (Fitness.ASK, "days-flush-no-age"))
    return _ANODE.get(state, (Fitness.ASK, "days-anode-unknown"))


def _cautions(found: Standing, job: Job, states: Mapping[str, CareState], say: Texts) -> list[str]:
    heater = found.heater
    assert heater is not None
    told = []
    if "flush" in job.acts and states.get("flush") is CareState.ASK:
        told.append(say("days-caution-never-flushed"))
    if "anode" in job.acts and states.get("anode") in (CareState.LATE, CareState.UNKNOWN):
        told.append(say("days-caution-seized"))
    if found.warranty_multiple and found.warranty_multiple[1] < 1:
        told.append(say("days-caution-in-warranty"))
    if "flush" in job.acts:
        told.append(say("days-caution-flush"))
        if heater.kind is not HeaterKind.GAS_STORAGE:
            told.append(say("days-caution-electric"))
        if heater.kind in (HeaterKind.GAS_STORAGE, HeaterKind.UNKNOWN):
            told.append(say("days-caution-gas"))
    if "anode" in job.acts:
        told.append(say("days-caution-hidden-rod"))
    if Symptom.RELIEF_DRIPS in heater.symptoms:
        told.append(say("days-caution-relief-drips"))
    if Symptom.RUMBLE in heater.symptoms:
        told.append(say("days-caution-rumble"))
    return told
