"""Communities with known truth, written without any code of the model under study.

A world draws a neighborhood, lets its heaters live, fail, be replaced and be
looked after from the construction of each house to six years after the survey,
and hands over what a survey would see of it. The laws of life are not only the
ones that the model can represent:

=========== ==========================================================================
weibull     the textbook law
lognormal   a hazard that stops rising: the old ones left are the tough ones
two batches 80% good heaters (gamma, shape 7) and 20% from a bad batch (gamma, shape 3,
            six tenths of the life)
steps       a hazard that is constant within 0-5, 5-9, 9-13 and 13+ years, rising
=========== ==========================================================================

All lives are scaled to a stated median. Rates, shares and effects are inventions
of this simulation, not published figures.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from scipy.special import gammainc, log_ndtr

from survey_app.records import (
    Dated,
    EndCause,
    Heater,
    HeaterKind,
    Home,
    ServiceKind,
    ServiceRecord,
    Tri,
)

AS_OF = date(2026, 1, 1)
_TODAY = 2026.0


@dataclass(frozen=True, kw_only=True)
class World:
    """What is true, and how it is asked about."""

    law: str = "weibull"
    homes: tuple[int, int] = (300, 3000)
    built: tuple[int, int] = (1975, 2019)
    phases: tuple[int, int] = (3, 6)
    phase_sd: float = 0.0
    leak_odds: float = 1.35
    response: float = 0.45
    know_history: float = 0.6
    report: str = "histories"
    median_years: float = 12.2
    median_log_sd: float = 0.18


@dataclass(frozen=True, eq=False)
class Truth:
    """What the survey cannot see.

    ``failures`` has one row per home and the number of failures within 1, 3 and 5 years;
    ``oracle`` is each home's chance of a failure within a year under the true law.
    """

    failures: np.ndarray
    oracle: np.ndarray
    answered: np.ndarray
    median_years: float
    age_years: np.ndarray
    warranty_years: np.ndarray


@dataclass(frozen=True, eq=False)
class Community:
    """A world's records, and its truth in the order of the homes."""

    homes: tuple[Home, ...]
    heaters: tuple[Heater, ...]
    services: tuple[ServiceRecord, ...]
    truth: Truth


class _Life:
    """A law of life in its own terms: cumulative hazard of scaled age, and draws."""

    def __init__(self, law: str, median: float, shape: float) -> None:
        self.law, self.shape = law, shape
        grid = np.linspace(1e-6, 8.0, 40001)
        raw = self._raw(grid)
        middle = float(np.interp(math.log(2), raw, grid))
        self._grid, self._hazard = grid / middle * median, raw

    def _raw(self, x: np.ndarray) -> np.ndarray:
        if self.law == "weibull":
            return x**self.shape
        if self.law == "lognormal":
            return -log_ndtr(-np.log(x) * self.shape / 1.2825)
        if self.law == "two batches":
            good, bad = 1 - gammainc(7.0, 7.0 * x), 1 - gammainc(3.0, 3.0 * x / 0.6)
            return -np.log(np.maximum(0.8 * good + 0.2 * bad, 1e-280))
        if self.law == "steps":
            edges, rates = np.array([0, 0.4, 0.72, 1.05]), np.array([0.12, 0.5, 1.1, 2.0])
            upper = np.append(edges[1:], np.inf)
            return (np.clip(x[:, None], edges, upper) - edges) @ rates
        raise ValueError(f"No law {self.law!r}.")

    def cumulative(self, age: np.ndarray) -> np.ndarray:
        return np.interp(age, self._grid, self._hazard)

    def draw(self, rng: np.random.Generator) -> float:
        return float(np.interp(rng.exponential(), self._hazard, self._grid))


@dataclass(slots=True)
class _Unit:
    installed: float
    ended: float
    cause: str
    life_factor: float
    long_warranty: bool
    anode: float
    flush: float


def _early_age(rng: np.random.Generator) -> float:
    """Age at which the owner would replace a working heater: .8, 2.5 and 5.5% a year."""
    left = rng.exponential()
    for start, stop, rate in ((0.0, 6.0, 0.008), (6.0, 10.0, 0.025), (10.0, math.inf, 0.055)):
        if left < (stop - start) * rate:
            return start + left / rate
        left -= (stop - start) * rate
    return math.inf


def _early_hazard(age: np.ndarray) -> np.ndarray:
    return 0.008 * np.clip(age, 0, 6) + 0.025 * np.clip(age - 6, 0, 4) + 0.055 * np.clip(age - 10, 0, None)


def _day(t: float) -> date:
    return AS_OF + timedelta(days=round((t - _TODAY) * 365.25))


def _within(t: float, half: float, rng: np.random.Generator, floor: float) -> Dated:
    """A window of half width `half` years that holds `t` somewhere inside, not after the survey."""
    if half == 0:
        return Dated.on(_day(t))
    middle = t + rng.uniform(-half, half)
    low, high = max(middle - half, floor), min(middle + half, _TODAY - 1 / 365.25)
    return Dated(earliest=_day(min(low, t)), latest=_day(max(high, t)))


def _year_of(t: float) -> Dated:
    year = int(t)
    latest = min(date(year, 12, 31), AS_OF - timedelta(days=1))
    return Dated(earliest=date(year, 1, 1), latest=max(latest, _day(t)))


def build(world: World, seed: int) -> Community:
    """One community of `world`."""
    rng = np.random.default_rng(seed)
    median = world.median_years * math.exp(rng.normal(0, world.median_log_sd))
    shape = 2.6 * math.exp(rng.normal(0, 0.18))
    life = _Life(world.law, median, shape)
    long_effect, anode_effect = rng.normal(0.12, 0.04), rng.normal(0.08, 0.05)
    flush_effect, softener_effect = rng.normal(0.02, 0.03), rng.normal(-0.04, 0.05)
    count = round(math.exp(rng.uniform(math.log(world.homes[0]), math.log(world.homes[1]))))
    phases = int(rng.integers(world.phases[0], world.phases[1] + 1))
    first = np.sort(rng.integers(world.built[0], world.built[1] - 1, phases))
    effect = rng.normal(0, world.phase_sd, phases) if world.phase_sd else np.zeros(phases)
    phase_of = rng.integers(0, phases, count)

    homes, heaters, services = [], [], []
    failures = np.zeros((count, 3))
    oracle, answered = np.zeros(count), np.zeros(count, bool)
    ages, warranties = np.zeros(count), np.zeros(count)
    for i in range(count):
        phase = int(phase_of[i])
        year = int(min(first[phase] + rng.integers(0, 3), world.built[1]))
        built = year + rng.uniform(0.05, 0.95)
        softener = rng.random() < 0.25
        units: list[_Unit] = []
        at = built
        while at < _TODAY + 6:
            long = rng.random() < 0.3
            factor = math.exp(effect[phase] + long_effect * long + softener_effect * softener)
            ages_at_act = [
                rng.uniform(3, 6) if rng.random() < 0.25 else math.inf,
                rng.uniform(1, 5) if rng.random() < 0.4 else math.inf,
            ]
            lived = life.draw(rng) * factor
            for act, gain in sorted(zip(ages_at_act, (anode_effect, flush_effect), strict=True)):
                if lived > act:
                    lived = act + (lived - act) * math.exp(gain)
            early = _early_age(rng)
            end = at + min(lived, early)
            cause = "failed" if lived < early else "early"
            acts = [at + a if a < min(lived, early) else math.inf for a in ages_at_act]
            units.append(_Unit(at, end, cause, factor, long, *acts))
            at = end
        for unit in units:
            if unit.cause == "failed" and unit.ended > _TODAY:
                failures[i] += unit.ended <= _TODAY + np.array([1, 3, 5])
        current = next(u for u in units if u.installed <= _TODAY < u.ended)
        ages[i], warranties[i] = _TODAY - current.installed, 9.0 if current.long_warranty else 6.0
        oracle[i] = _chance(life, current, anode_effect, flush_effect)
        leak = any(u.cause == "failed" and _TODAY - 5 <= u.ended <= _TODAY for u in units)
        odds = world.response / (1 - world.response) * (world.leak_odds if leak else 1.0)
        answered[i] = rng.random() < odds / (1 + odds)
        moved = max(built, _TODAY - rng.exponential(10.0))
        knows = rng.random() < world.know_history
        home_id = f"h{i:05d}"
        homes.append(
            Home(
                home_id=home_id,
                parcel_id=f"p{i:05d}",
                address=f"{i} Sample Street",
                street="Sample Street",
                phase_id=f"phase {phase + 1}",
                built_year=year,
                moved_in=_year_of(moved) if answered[i] and knows else None,
                softener=(Tri.YES if softener else Tri.NO) if answered[i] else Tri.UNKNOWN,
            )
        )
        if answered[i]:
            told, acts_told = _tell(world, rng, home_id, units, built, moved, knows)
            heaters += told
            services += acts_told
    typical = median * math.exp(0.3 * long_effect + 0.25 * softener_effect + float(effect[phase_of].mean()))
    truth = Truth(failures, oracle, answered, typical, ages, warranties)
    return Community(tuple(homes), tuple(heaters), tuple(services), truth)


def _chance(life: _Life, unit: _Unit, anode: float, flush: float) -> float:
    """Chance that the heater in service fails within a year, before it is replaced, month by month."""
    time = _TODAY + np.arange(13) / 12
    used = time - unit.installed
    for act, gain in sorted(((unit.anode, anode), (unit.flush, flush))):
        if act <= _TODAY:
            before = np.interp(act, time, used) if act >= time[0] else None
            lived = act - unit.installed if before is None else before
            used = np.where(used > lived, lived + (used - lived) * math.exp(-gain), used)
    hazard = life.cumulative(used / unit.life_factor)
    early = _early_hazard(time - unit.installed)
    stay = np.exp(-(hazard - hazard[0]) - (early - early[0]))
    step_fail, step_early = np.diff(hazard), np.diff(early)
    share = np.divide(step_fail, step_fail + step_early, out=np.zeros(12), where=step_fail + step_early > 0)
    return float(((stay[:-1] - stay[1:]) * share).sum())


def _tell(
    world: World,
    rng: np.random.Generator,
    home_id: str,
    units: list[_Unit],
    built: float,
    moved: float,
    knows: bool,
) -> tuple[list[Heater], list[ServiceRecord]]:
    """What the household answers."""
    past = [u for u in units if u.installed <= _TODAY]
    current = past[-1]
    seen = [u for u in past if u.ended > moved] if knows else [current]
    heaters, services = [], []
    if world.report == "form":
        seen = [current]
    for order, unit in enumerate(seen):
        heater_id = f"{home_id}-{order}"
        chance = rng.random()
        half = 2.0 if chance < 0.25 else 0.0
        installed = _within(unit.installed, half, rng, built)
        if world.report == "form" and chance > 0.65:
            installed = _year_of(unit.installed)
        over = unit.ended <= _TODAY
        number = None
        if world.report == "form" and knows and moved <= built:
            number = min(len(past), 3)
        heaters.append(
            Heater(
                heater_id=heater_id,
                home_id=home_id,
                sequence=order + 2,
                kind=HeaterKind.GAS_STORAGE,
                installed=installed,
                number_in_home=number,
                warranty_years=9.0 if unit.long_warranty else 6.0,
                removed=Dated.on(_day(unit.ended)) if over else None,
                end_cause=(EndCause.FAILED if unit.cause == "failed" else EndCause.REPLACED) if over else None,
            )
        )
        acts = ((unit.anode, ServiceKind.ANODE_CHANGE), (unit.flush, ServiceKind.FLUSH))
        for when, kind in acts:
            if when <= min(_TODAY, unit.ended):
                record = f"{heater_id}-{kind.name}"
                services.append(
                    ServiceRecord(record_id=record, heater_id=heater_id, kind=kind, done=Dated.on(_day(when)))
                )
    if world.report == "form" and knows and len(past) > 1 and past[-2].ended > moved:
        before = past[-2]
        cause = EndCause.FAILED if before.cause == "failed" else EndCause.REPLACED
        gone = _year_of(before.ended) if rng.random() < 0.6 else Dated.on(_day(before.ended))
        heaters.append(
            Heater(
                heater_id=f"{home_id}-before",
                home_id=home_id,
                sequence=1,
                kind=HeaterKind.GAS_STORAGE,
                removed=gone,
                end_cause=cause,
            )
        )
    return heaters, services
