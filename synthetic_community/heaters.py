"""The true lives of the heaters: a law, and histories drawn from it.

Every home's heaters are drawn from the day its house was finished to well past
today, with draws that do not depend on `as_of`: the same seed looked at on a
later day shows the same lives a little further on, so that a forecast made on
one day can be judged on another.

A heater's life without any care is Weibull, stretched by what it is and where
it stands; an act of care stretches what is *left* of its life from the day of
the act (so that a heater cannot profit from care it did not live to see). A
household may replace it before it fails. The numbers in `Law` are invented for
this community, in the range that published stock surveys leave open; they are
nobody's measurement.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from synthetic_community.streets import Layout

__all__ = ["HeaterTable", "HomeTable", "Law", "ServiceTable", "World", "day", "live", "number_of"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Strings = NDArray[np.str_]

DAYS_PER_YEAR = 365.25
_GENERATIONS = 60
_EPOCH = date(1970, 1, 1).toordinal()

PLACES = ("basement", "garage", "closet", "upper floor", "attic", "other")
_PLACE_SHARE = (0.58, 0.19, 0.13, 0.05, 0.02, 0.03)


@dataclass(frozen=True, slots=True)
class Law:
    """The true law, every parameter of it.

    Life without care, in years: ``eta * exp(shift) * E ** (1 / beta)`` with E
    standard exponential. ``shift`` adds `long_warranty` (9 or 12 years),
    `softener`, `tankless`, and for a house's first heater the effect of its
    phase's batch (normal, standard deviation `batch_sd`). From the first
    change of the anode on, what is left of the life is multiplied by
    ``exp(anode)``; from the first flush of a habit on, by
    ``exp(flush_per_level * level)`` (level 1 now and then, 2 every year).
    """

    eta_years: float = 14.0
    beta: float = 2.6
    long_warranty: float = 0.12
    softener: float = -0.04
    tankless: float = 0.30
    anode: float = 0.08
    flush_per_level: float = 0.02
    batch_sd: float = 0.08
    proactive_per_year: tuple[float, float, float] = (0.008, 0.025, 0.055)
    proactive_age_cuts: tuple[float, float] = (6.0, 10.0)
    converted_when_failed: float = 0.04
    converted_when_replaced: float = 0.16
    response_share: float = 0.475
    response_odds_leak_5y: float = 1.35
    response_odds_rental: float = 0.4
    tenure_mean_years: float = 10.0
    tenure_mean_years_rental: float = 3.0


@dataclass(frozen=True, slots=True)
class HomeTable:
    """One entry per home; days count from 1970-01-01."""

    home_id: Strings
    lot: Ints
    unit: Strings
    phase: Ints
    completed: Ints
    moved_in: Ints
    rental: NDArray[np.bool_]
    softener: NDArray[np.bool_]
    place: Strings
    pan: NDArray[np.bool_]
    leak_alarm: NDArray[np.bool_]
    auto_shutoff: NDArray[np.bool_]
    expansion_tank: NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class HeaterTable:
    """One entry per heater that ever stood in a home up to `as_of`, home by home, oldest first.

    `removed` is -1 for the one in service. `fails` is the day the heater
    fails if nobody replaces it before, `quits` the day its household replaces
    it if it has not failed: the earlier of the two ends it. `shift` is the
    sum of the effects on log-life that hold from the first day.
    """

    home: Ints
    sequence: Ints
    kind: Strings
    gallons: Ints
    warranty: Ints
    made: Ints
    installed: Ints
    removed: Ints
    cause: Strings
    shift: Floats
    anode_renewed: Ints
    flush_level: Ints
    flush_from: Ints
    fails: Ints
    quits: Ints


@dataclass(frozen=True, slots=True)
class ServiceTable:
    """Dated acts, in the order of heaters and days. `heater` is a row of `HeaterTable`."""

    heater: Ints
    day: Ints
    act: Strings
    finding: Strings


@dataclass(frozen=True, slots=True)
class World:
    """What is true of the community on one day."""

    law: Law
    batch: Floats
    as_of: date
    homes: HomeTable
    heaters: HeaterTable
    service: ServiceTable
    answers: NDArray[np.bool_]
    leaked_lately: NDArray[np.bool_]


def day(number: int) -> date:
    """The date of a day counted from 1970-01-01."""
    return date.fromordinal(int(number) + _EPOCH)


def number_of(when: date) -> int:
    """Days from 1970-01-01 to a date."""
    return when.toordinal() - _EPOCH


def live(layout: Layout, seed: int, as_of: date, law: Law | None = None) -> World:
    """Draw the community's homes and heaters as they are on a day.

    Parameters
    ----------
    layout
        The ground.
    seed
        Same seed, same lives.
    as_of
        The day of looking; at least a year after the last house was finished.
    law
        The true law; the default is `Law()`.

    Raises
    ------
    ValueError
        When `as_of` is before the last phase has been lived in for a year.
    """
    law = law or Law()
    first_possible = date(max(p.last_year for p in layout.phases) + 2, 1, 1)
    if as_of < first_possible:
        raise ValueError(
            f"The date {as_of} is too early: the last house is finished in {first_possible.year - 2}, "
            f"so use {first_possible} or later."
        )
    today = number_of(as_of)
    homes = _homes(layout, law, np.random.default_rng([seed, 3]), today)
    batch_rng = np.random.default_rng([seed, 4])
    batch = np.round(batch_rng.normal(0.0, law.batch_sd, len(layout.phases)), 4)
    heaters = _succession(homes, batch, law, np.random.default_rng([seed, 5]), today)
    service = _acts(heaters, today, np.random.default_rng([seed, 6]))
    lately = number_of(date(as_of.year - 5, as_of.month, min(as_of.day, 28)))
    leaked = np.zeros(len(homes.home_id), dtype=bool)
    leaked[heaters.home[(heaters.cause == "failed") & (heaters.removed >= lately)]] = True
    answers = _respond(homes, leaked, law, np.random.default_rng([seed, 7]))
    return World(law, batch, as_of, homes, heaters, service, answers, leaked)


def _homes(layout: Layout, law: Law, rng: np.random.Generator, today: int) -> HomeTable:
    lot = [i for i, x in enumerate(layout.lots) for _ in range(x.homes)]
    unit = [u for x in layout.lots for u in (x.units or ("",))]
    n = len(lot)
    phase = np.array([layout.lots[i].phase for i in lot])
    first = np.array([number_of(date(p.first_year, 2, 1)) for p in layout.phases])
    last = np.array([number_of(date(p.last_year, 12, 10)) for p in layout.phases])
    part = np.array([layout.lots[i].built_fraction for i in lot])
    jitter = rng.normal(0, 45, len(layout.lots))[lot]
    completed = np.clip(first[phase] + part * (last - first)[phase] + jitter, first[phase], last[phase])
    completed = completed.astype(np.int64)
    duplex = np.array([bool(u) for u in unit])
    rental = rng.random(n) < np.where(duplex, 0.3, 0.09)
    # A home's people move at random; the draws go on past any day of looking.
    mean = np.where(rental, law.tenure_mean_years_rental, law.tenure_mean_years) * DAYS_PER_YEAR
    stays = rng.exponential(1.0, (n, 40)) * mean[:, None]
    begins = completed[:, None] + np.concatenate([np.zeros((n, 1)), np.cumsum(stays, axis=1)], axis=1)
    begins[:, 0] += rng.integers(3, 75, n)
    moved_in = np.where(begins <= today - 20, begins, -np.inf).max(axis=1)
    moved_in = np.where(np.isfinite(moved_in), moved_in, begins[:, 0]).astype(np.int64)
    place = rng.choice(PLACES, n, p=_PLACE_SHARE)
    inside = ~np.isin(place, ("basement", "garage"))
    return HomeTable(
        home_id=np.array([f"H{i + 1:05d}" for i in range(n)]),
        lot=np.array(lot),
        unit=np.array(unit),
        phase=phase,
        completed=completed,
        moved_in=moved_in,
        rental=rental,
        softener=rng.random(n) < 0.38,
        place=place,
        pan=rng.random(n) < np.where(inside, 0.6, 0.12),
        leak_alarm=rng.random(n) < 0.14,
        auto_shutoff=rng.random(n) < 0.05,
        expansion_tank=rng.random(n) < 0.3,
    )


def _quit_age(law: Law, rng: np.random.Generator, n: int) -> Floats:
    """Ages at which households would replace a working heater: piecewise constant hazard."""
    target = rng.exponential(1.0, n)
    low, middle, high = law.proactive_per_year
    a, b = law.proactive_age_cuts
    at_a, at_b = low * a, low * a + middle * (b - a)
    return np.where(
        target < at_a,
        target / low,
        np.where(target < at_b, a + (target - at_a) / middle, b + (target - at_b) / high),
    )


def _succession(homes: HomeTable, batch: Floats, law: Law, rng: np.random.Generator, today: int) -> HeaterTable:
    """Generation after generation; the draws of a generation are for all homes, needed or not."""
    n = len(homes.home_id)
    installed = homes.completed - rng.integers(5, 50, n)
    u = rng.random(n)
    kind = np.where(u < 0.8, "gas storage", np.where(u < 0.97, "electric storage", "tankless")).astype("<U17")
    gallons = np.where(kind == "tankless", 0, rng.choice([40, 50, 75], n, p=[0.45, 0.5, 0.05]))
    warranty = np.where(kind == "tankless", 12, 6)
    careful = rng.beta(0.6, 1.4, n)
    alive = np.ones(n, dtype=bool)
    columns: dict[str, list[NDArray[np.generic]]] = {}
    for sequence in range(1, _GENERATIONS + 1):
        tank = kind != "tankless"
        exponential = rng.exponential(1.0, n)
        shift = (
            law.long_warranty * ((warranty >= 9) & tank)
            + law.softener * homes.softener
            + law.tankless * ~tank
            + (batch[homes.phase] if sequence == 1 else 0.0)
        )
        plain = law.eta_years * np.exp(shift) * exponential ** (1 / law.beta)
        quit_age = _quit_age(law, rng, n)
        u = rng.random((8, n))
        level = np.where(u[0] < 0.10 * (0.3 + 2 * careful), 2, np.where(u[1] < 0.24 * (0.3 + 2 * careful), 1, 0))
        flush_age = np.where(level > 0, 0.8 + 4.0 * u[2] ** 2, np.inf)
        anode_age = np.where(tank & (u[3] < 0.15 * (0.2 + 2.2 * careful)), 3.0 + 4.5 * u[4], np.inf)
        life = plain
        for which in (0, 1):
            age = np.minimum(anode_age, flush_age) if which == 0 else np.maximum(anode_age, flush_age)
            is_anode = (age == anode_age) & np.isfinite(age)
            gain = np.where(is_anode, law.anode, law.flush_per_level * level)
            both = np.where(np.isfinite(age), age, 1e9)
            life = np.where(life > both, both + (life - both) * np.exp(gain), life)
        fails = installed + np.maximum(30, np.round(life * DAYS_PER_YEAR)).astype(np.int64)
        quits = installed + np.maximum(45, np.round(quit_age * DAYS_PER_YEAR)).astype(np.int64)
        end = np.minimum(fails, quits)
        failed = fails <= quits
        converts = tank & (u[5] < np.where(failed, law.converted_when_failed, law.converted_when_replaced))
        cause = np.where(failed, "failed", np.where(converts, "converted", "replaced before failing"))
        anode_day = np.where(
            np.isfinite(anode_age), installed + np.where(np.isfinite(anode_age), anode_age, 0) * DAYS_PER_YEAR, 1e8
        )
        flush_day = np.where(level > 0, installed + np.where(level > 0, flush_age, 0) * DAYS_PER_YEAR, 1e8)
        gap = np.where(failed, np.where(converts, rng.integers(7, 15, n), rng.integers(0, 4, n)), 0)
        following = end + gap
        # A home is never without a heater on the day of looking: the new one is in by then.
        following = np.where((end <= today) & (following > today), today, following)
        gone = end <= today
        row = {
            "home": np.arange(n),
            "sequence": np.full(n, sequence),
            "kind": kind,
            "gallons": gallons,
            "warranty": warranty,
            "made": installed - rng.integers(20, 170, n),
            "installed": installed,
            "removed": np.where(gone, end, -1),
            "cause": np.where(gone, cause, ""),
            "shift": shift,
            "anode_renewed": anode_day.astype(np.int64),
            "flush_level": level,
            "flush_from": flush_day.astype(np.int64),
            "fails": fails,
            "quits": quits,
        }
        for key, values in row.items():
            columns.setdefault(key, []).append(values[alive])
        alive = alive & gone
        installed = following
        kind, gallons, warranty = _next_unit(kind, gallons, converts, installed, u[6], u[7], rng)
        if not alive.any():
            break
    else:
        if alive.any():
            raise AssertionError("More heaters in one home than the simulation allows for.")
    flat = {key: np.concatenate(parts) for key, parts in columns.items()}
    order = np.lexsort((flat["sequence"], flat["home"]))
    table = {key: values[order] for key, values in flat.items()}
    return HeaterTable(**table)  # type: ignore[arg-type]


def _next_unit(
    kind: Strings,
    gallons: Ints,
    converts: NDArray[np.bool_],
    installed: Ints,
    u: Floats,
    v: Floats,
    rng: np.random.Generator,
) -> tuple[Strings, Ints, Ints]:
    """What comes after: mostly the same again, with better warranties, fewer conversions."""
    n = len(kind)
    heat_pump = (kind == "electric storage") & (installed > number_of(date(2014, 1, 1))) & (u < 0.2)
    new = np.where(converts, "tankless", np.where(heat_pump, "heat pump storage", kind)).astype("<U17")
    bigger = rng.random(n) < 0.12
    size = np.where(bigger | (gallons == 0), 50, gallons)
    size = np.where(new == "tankless", 0, np.where(new == "heat pump storage", np.where(v < 0.6, 50, 65), size))
    term = np.where(v < 0.52, 6, np.where(v < 0.73, 9, 12))
    term = np.where(new == "tankless", 12, np.where(new == "heat pump storage", 10, term))
    return new, size, term


def _acts(heaters: HeaterTable, today: int, rng: np.random.Generator) -> ServiceTable:
    """The acts of care that were done up to today, in order."""
    until = np.where(heaters.removed >= 0, heaters.removed, today + 1)
    rows: list[tuple[int, int, str, str]] = []
    n = len(heaters.home)
    start = rng.integers(0, 2**31, n)
    tank = heaters.kind != "tankless"
    for i in np.flatnonzero((heaters.flush_from < until) | (heaters.anode_renewed < until)):
        own = np.random.default_rng(int(start[i]))
        when, stop = int(heaters.flush_from[i]), int(until[i])
        every = 365 if heaters.flush_level[i] == 2 else 3 * 365
        while when < stop:
            rows.append((int(i), when, "flush", str(own.choice(["clear", "some grit", "grit", "white grit"]))))
            if own.random() < 0.35:
                rows.append((int(i), when, "relief valve test", str(own.choice(["closed tight", "dripped after"]))))
            when += every + int(own.integers(-70, 71))
        when = int(heaters.anode_renewed[i])
        while when < stop:
            rows.append((int(i), when, "anode change", str(own.choice(["half gone", "mostly gone", "wire only"]))))
            when += int(own.integers(1100, 1700))
        # A check that found the rod good enough, some time before it was changed.
        if tank[i] and heaters.anode_renewed[i] < stop and own.random() < 0.25:
            before = int(heaters.anode_renewed[i]) - int(own.integers(300, 700))
            if before > heaters.installed[i]:
                rows.append((int(i), before, "anode check", "half left"))
    part = rng.random(n) < 0.06
    share = rng.random(n)
    for i in np.flatnonzero(part):
        when = int(heaters.installed[i] + share[i] * 12 * DAYS_PER_YEAR)
        if when < until[i]:
            rows.append((int(i), when, "part replaced", "burner part" if tank[i] else "flow sensor"))
    rows.sort()
    return ServiceTable(
        heater=np.array([r[0] for r in rows], dtype=np.int64),
        day=np.array([r[1] for r in rows], dtype=np.int64),
        act=np.array([r[2] for r in rows]),
        finding=np.array([r[3] for r in rows]),
    )


def _respond(homes: HomeTable, leaked: NDArray[np.bool_], law: Law, rng: np.random.Generator) -> NDArray[np.bool_]:
    """Who answers: odds raised by a recent leak, lowered in rentals; the mean share is the law's."""
    log_odds = np.log(law.response_odds_leak_5y) * leaked + np.log(law.response_odds_rental) * homes.rental
    low, high = -6.0, 6.0
    for _ in range(60):
        middle = (low + high) / 2
        if float((1 / (1 + np.exp(-(middle + log_odds)))).mean()) < law.response_share:
            low = middle
        else:
            high = middle
    return np.asarray(rng.random(len(log_odds)) < 1 / (1 + np.exp(-(low + log_odds))))
