"""Records to observations: one home's chain of heaters after another.

What contradicts itself is set aside with a sentence; nothing is repaired.
"""

from __future__ import annotations

import math
import statistics
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Literal

import numpy as np

from survey_app.records import (
    DAYS_PER_YEAR,
    Dated,
    EndCause,
    Heater,
    HeaterKind,
    Home,
    ServiceKind,
    ServiceRecord,
    Spell,
    Tri,
)

from .laws import Floats
from .observations import EARLY, FAILED, IN_SERVICE, NO_START, UNKNOWN, HomeState, Ints, Observations, Problem

__all__ = ["observations", "rewind", "spells"]

OLDEST_CREDIBLE_YEARS = 45.0
"""Common practice, no source: a maintained tank can reach 30 years; beyond this the date is doubted."""

_ENDS = {
    EndCause.FAILED: FAILED,
    EndCause.REPLACED: EARLY,
    EndCause.CONVERTED: EARLY,
    EndCause.UNKNOWN: UNKNOWN,
}
_LONG_AGO_YEARS = 40.0  # where no construction year is known: long enough for the renewal rate to settle
_GAP_YEARS = 1.0  # by how much one heater's end and the next one's beginning may differ


@dataclass(slots=True)
class _Link:
    """One heater of a home's chain while it is being read."""

    heater: Heater | None
    began: tuple[float, float] | None
    ended: tuple[float, float] | None
    end: int
    number: int | None


class _Reader:
    """Turns one home after another into rows; holds what has been read so far."""

    def __init__(self, as_of: date, history: Literal["socket", "move-in"]) -> None:
        self.as_of = as_of
        self.today = as_of.toordinal()
        self.history = history
        self.problems: list[Problem] = []
        self.heater_ids: list[str] = []
        self.rows: list[tuple[float, ...]] = []
        self.known_history = 0

    def years(self, when: Dated) -> tuple[float, float]:
        first = when.earliest.toordinal()
        # What is told of today has happened: it counts as the day that has just passed, not as one that lies ahead.
        low = (first - self.today - (first == self.today)) / DAYS_PER_YEAR
        high = (when.latest.toordinal() + 1 - self.today) / DAYS_PER_YEAR
        return low, min(high, 0.0) if low < 0 else high

    def built(self, year: int | None) -> float:
        if year is None:
            return math.nan
        return min(year + 0.5 - (self.as_of.year + (self.as_of.timetuple().tm_yday - 1) / 365.25), -0.02)

    def say(self, home: Home, heater: Heater | None, sentence: str) -> None:
        where = f"Home {home.home_id}" + (f", heater {heater.heater_id}" if heater is not None else "")
        self.problems.append(Problem(home.home_id, heater.heater_id if heater else None, f"{where}: {sentence}"))

    def links(self, home: Home, heaters: list[Heater], built: float, built_known: bool) -> list[_Link]:
        """The home's heaters in order, with what contradicts itself taken out."""
        chain: list[_Link] = []
        for position, heater in enumerate(heaters):
            link = self._link(home, heater, built, built_known)
            if link is None:
                continue
            if link.ended is None and link.end != IN_SERVICE:
                following = heaters[position + 1] if position + 1 < len(heaters) else None
                if following is None or following.installed is None:
                    self.say(
                        home,
                        heater,
                        "it has left service, but nobody says when. Set aside; ask for the year.",
                    )
                    continue
                link.ended = self.years(following.installed)
            if link.end == IN_SERVICE and position + 1 < len(heaters):
                self.say(
                    home,
                    heater,
                    "it is said to be in service, and so is a newer one. Only the newest is used; "
                    "ask when the older one went.",
                )
                continue
            if link.began is not None and link.ended is not None and link.ended[1] < link.began[0]:
                self.say(
                    home,
                    heater,
                    "it is said to have left service before it was installed. Its dates are set aside; ask again.",
                )
                continue
            chain.append(link)
        return chain

    def _link(self, home: Home, heater: Heater, built: float, built_known: bool) -> _Link | None:
        began = self.years(heater.installed) if heater.installed is not None else None
        ended = self.years(heater.removed) if heater.removed is not None else None
        end = IN_SERVICE if heater.in_service else _ENDS[heater.end_cause or EndCause.UNKNOWN]
        if began is not None and began[0] >= 0:
            self.say(home, heater, f"it is said to be installed after {self.as_of}. Set aside; check the date.")
            began = None
            if end != IN_SERVICE:
                return None
        if ended is not None and ended[0] >= 0:
            self.say(
                home,
                heater,
                f"it is said to leave service after {self.as_of}. Taken as still in service; check the date.",
            )
            ended, end = None, IN_SERVICE
        if began is not None and (ended or (0.0, 0.0))[1] - began[1] > OLDEST_CREDIBLE_YEARS:
            self.say(
                home,
                heater,
                f"its dates make it more than {OLDEST_CREDIBLE_YEARS:.0f} years old. Its installation date "
                "is set aside; look at the data plate.",
            )
            began = None
        if began is not None and built_known and began[1] < built - 1.5:
            self.say(
                home,
                heater,
                "it is said to be older than the house. Its installation date is set aside; check both years.",
            )
            began = None
        if began is None and heater.number_in_home == 1 and built_known:
            began = (built - 0.5, min(built + 0.5, 0.0))
        return _Link(heater, began, ended, end, heater.number_in_home)

    def read(self, home: Home, heaters: list[Heater], built: float, built_known: bool) -> tuple[int, int]:
        """Add the home's rows; returns its state and the row of the heater in service (-1: none)."""
        chain = self.links(home, heaters, built, built_known)
        if any(link.end != IN_SERVICE for link in chain):
            self.known_history += 1
        if not chain:
            return HomeState.AGE_UNKNOWN, -1
        last = chain[-1]
        if last.end != IN_SERVICE:
            last = _Link(None, None, None, IN_SERVICE, None)
            chain.append(last)
        tankless = last.heater is not None and last.heater.kind is HeaterKind.TANKLESS
        self._join(home, chain)
        chain = self._from_last_break(home, chain)
        opening = self._opening(chain, built, built_known)
        row = -1
        for link in chain:
            if link.began is None:
                continue
            if link.heater is not None and link.heater.kind is HeaterKind.TANKLESS:
                if opening[0] == NO_START or link is not chain[-1]:
                    continue
                link.ended, link.end = link.began, IN_SERVICE  # only its predecessor's end is used
            row = self._add(home, link, built, opening)
            opening = (NO_START, False, False)
        if tankless:
            return HomeState.NO_TANK, -1
        return (HomeState.AGE_KNOWN, row) if last.began is not None else (HomeState.AGE_UNKNOWN, -1)

    def _join(self, home: Home, chain: list[_Link]) -> None:
        """A heater without a date began when the one before it ended."""
        for before, after in pairwise(chain):
            if before.ended is None:
                continue
            if after.began is None:
                after.began = before.ended
            else:
                low, high = max(after.began[0], before.ended[0]), min(after.began[1], before.ended[1])
                if low < high:
                    after.began = before.ended = (low, high)

    def _from_last_break(self, home: Home, chain: list[_Link]) -> list[_Link]:
        """The part of the chain after the last place where one heater's end and the next one's start disagree."""
        keep = 0
        for i, (before, after) in enumerate(pairwise(chain)):
            if before.ended is None or after.began is None:
                continue
            early = before.ended[0] - after.began[1]
            late = after.began[0] - before.ended[1]
            if max(early, late) > _GAP_YEARS:
                what = "overlap" if early > late else "leave a gap of more than a year"
                self.say(
                    home,
                    after.heater,
                    f"its installation and the end of the heater before it {what}. What came before is set "
                    "aside; ask for both dates.",
                )
                keep = i + 1
        return chain[keep:]

    def _opening(self, chain: list[_Link], built: float, built_known: bool) -> tuple[int, bool, bool]:
        """How the first dated row begins: its start, whether known from construction, whether maybe original.

        May put the original heater in front of the chain.
        """
        first = next((i for i, link in enumerate(chain) if link.began is not None), None)
        if first is None or not math.isfinite(built):
            return NO_START, False, False
        link = chain[first]
        assert link.began is not None
        house = (built - 0.5, min(built + 0.5, 0.0))
        house_age = sum(link.began) / 2 - built
        includes_house = first == 0 and link.number is None and built_known and link.began[0] < house[1]
        if link.number == 1 or (includes_house and link.began[1] - built < 1.5):
            low, high = max(link.began[0], house[0]), min(link.began[1], house[1])
            if low < high and built_known:
                link.began = (low, high)
            return NO_START, True, False
        if first == 0 and link.number == 2 and built_known and house_age > 1.0:
            chain.insert(
                0, _Link(None, (house[0], min(house[1], max(link.began[0], house[0]))), link.began, UNKNOWN, 1)
            )
            return NO_START, True, False
        before = chain[first - 1].ended if first > 0 else None
        if before is not None and link.number == 2 and built_known and before[0] > house[1]:
            chain[first - 1].began = house
            return NO_START, True, False
        later = link.number is not None and link.number >= 3
        cause = chain[first - 1].end if first > 0 else UNKNOWN
        if includes_house:  # a later installation cannot have come before the house
            link.began = (max(link.began[0], house[0]), link.began[1])
        return {FAILED: 2, EARLY: 4, UNKNOWN: 0}.get(cause, 0) + int(later), True, includes_house

    def _add(self, home: Home, link: _Link, built: float, opening: tuple[int, bool, bool]) -> int:
        assert link.began is not None
        start, complete, maybe_original = opening
        watched = -math.inf
        if self.history == "move-in" and start in (0, 1) and home.moved_in is not None:
            moved = sum(self.years(home.moved_in)) / 2
            if moved > sum(link.began) / 2 and (link.ended is None or moved < link.ended[1]):
                start, complete, maybe_original, watched = NO_START, False, False, moved
        ended = (0.0, 0.0) if link.ended is None else link.ended
        self.heater_ids.append(link.heater.heater_id if link.heater is not None else f"{home.home_id} (unnamed)")
        self.rows.append((*link.began, *ended, link.end, watched, start, built, complete, maybe_original))
        return len(self.rows) - 1


def observations(
    homes: Iterable[Home],
    heaters: Iterable[Heater],
    services: Iterable[ServiceRecord] = (),
    *,
    as_of: date,
    long_warranty_years: float = 9.0,
    history: Literal["socket", "move-in"] = "socket",
) -> Observations:
    """Read the records into observations.

    Parameters
    ----------
    homes
        Every home of the community, those that have not answered included.
    heaters, services
        What the answers say.
    as_of
        The day up to which the records are taken; nothing later is read as having happened.
    long_warranty_years
        From this term on a warranty counts as long.
    history
        ``"socket"``: each chain is used back to the construction of the house, with the
        renewal term where its first part is unknown. ``"move-in"``: a heater that was there
        when the people came counts from that day only (left truncation).

    Returns
    -------
    Observations
        Possibly without a row; `problems` lists what was set aside, `refusal` says when
        the rest must not be fitted.
    """
    home_list = sorted(homes, key=lambda h: h.home_id)
    by_home: dict[str, list[Heater]] = defaultdict(list)
    for heater in heaters:
        by_home[heater.home_id].append(heater)
    reader = _Reader(as_of, history)
    phases = tuple(sorted({h.phase_id for h in home_list if h.phase_id is not None}))
    phase_of = {p: i for i, p in enumerate(phases)}
    built_of, fallback = _construction_years(home_list, reader)

    state, row_of, rows_home = [], [], []
    for index, home in enumerate(home_list):
        mine = sorted(by_home.get(home.home_id, ()), key=lambda h: h.sequence)
        if not mine:
            state.append(HomeState.SILENT)
            row_of.append(-1)
            continue
        built = built_of[index]
        known = math.isfinite(built)
        before = len(reader.rows)
        code, row = reader.read(home, mine, built if known else fallback(home), known)
        state.append(code)
        row_of.append(row)
        rows_home.extend([index] * (len(reader.rows) - before))

    table = np.array(reader.rows, dtype=np.float64).reshape(-1, 10)
    home_index = np.array(rows_home, dtype=np.int64)
    by_id = {h.heater_id: h for group in by_home.values() for h in group}
    row_heaters = [by_id.get(h) for h in reader.heater_ids]
    factors, names = _factors(home_list, home_index, row_heaters, long_warranty_years)
    anode, flush = _acts(reader, home_list, home_index, row_heaters, services)
    home_phase = np.array([phase_of.get(h.phase_id or "", -1) for h in home_list], dtype=np.int64)
    result = Observations(
        as_of=as_of,
        heater_ids=tuple(reader.heater_ids),
        home=home_index,
        phase=home_phase[home_index],
        phases=phases,
        began=table[:, 0:2],
        ended=table[:, 2:4],
        end=table[:, 4].astype(np.int64),
        watched_from=table[:, 5],
        start=table[:, 6].astype(np.int64),
        built=table[:, 7],
        from_construction=table[:, 8].astype(bool),
        maybe_original=table[:, 9].astype(bool),
        anode_from=anode,
        flush_from=flush,
        factors=factors,
        factor_names=names,
        weight=np.ones(len(table)),
        home_ids=tuple(h.home_id for h in home_list),
        home_phase=home_phase,
        home_built=np.array(
            [fallback(h) if not math.isfinite(b) else b for h, b in zip(home_list, built_of, strict=True)]
        ),
        home_state=np.array(state, dtype=np.int64),
        home_row=np.array(row_of, dtype=np.int64),
        known_history=reader.known_history,
        problems=tuple(reader.problems),
    )
    return replace(result, refusal=_refusal(result, any(map(math.isfinite, built_of))))


def _construction_years(home_list: list[Home], reader: _Reader) -> tuple[list[float], _Fallback]:
    """When each house was finished (nan: unknown), and what to assume where that is unknown."""
    known: list[float] = []
    by_phase: dict[str | None, list[int]] = defaultdict(list)
    for home in home_list:
        if home.built_year is not None and home.built_year > reader.as_of.year:
            reader.say(
                home,
                None,
                f"its construction year {home.built_year} is in the future. It is left out; check the county's record.",
            )
            known.append(math.nan)
            continue
        known.append(reader.built(home.built_year))
        if home.built_year is not None:
            by_phase[home.phase_id].append(home.built_year)
    return known, _Fallback(by_phase, reader)


class _Fallback:
    """The construction time assumed for a home without one: its phase's middle, or the community's."""

    def __init__(self, by_phase: dict[str | None, list[int]], reader: _Reader) -> None:
        self._phase = {p: reader.built(int(statistics.median(v))) for p, v in by_phase.items() if p is not None}
        everyone = [year for years in by_phase.values() for year in years]
        self._everyone = reader.built(int(statistics.median(everyone))) if everyone else -_LONG_AGO_YEARS

    def __call__(self, home: Home) -> float:
        return self._phase.get(home.phase_id or "", self._everyone)


def _refusal(found: Observations, any_built: bool) -> str | None:
    """Why the rows must not be fitted, or None."""
    if len(found) == 0:
        return (
            "No answer dates a heater yet, so there is nothing local to learn from: "
            "what follows is the published prior alone."
        )
    nothing_ended = not (found.end != IN_SERVICE).any() and not np.isin(found.start, (2, 3, 4, 5)).any()
    if nothing_ended and not any_built and not np.isfinite(found.watched_from).any():
        return (
            "Only today's heaters are known: no construction year, no earlier heater, no move-in date. "
            "Heaters that already failed cannot be seen in that, so counting the survivors would promise far "
            "too few losses. Add construction years or ask when the previous heater went and why; "
            "until then what follows is the published prior alone."
        )
    return None


def _factors(
    home_list: list[Home], home_index: Ints, row_heaters: list[Heater | None], long_years: float
) -> tuple[Floats, tuple[str, ...]]:
    """What does not change during a life, one column each, only those that vary."""
    n = len(home_index)
    columns: dict[str, Floats] = {}

    def centered(name: str, known: list[float | None]) -> None:
        seen = [v for v in known if v is not None]
        if seen and 0 < (middle := sum(seen) / len(seen)) < 1:
            columns[name] = np.array([0.0 if v is None else v - middle for v in known])

    centered(
        "long warranty",
        [None if h is None or h.warranty_years is None else float(h.warranty_years >= long_years) for h in row_heaters],
    )
    tri = {Tri.YES: 1.0, Tri.NO: 0.0}
    centered("softener", [tri.get(home_list[i].softener) for i in home_index])
    for kind in (HeaterKind.ELECTRIC_STORAGE, HeaterKind.HEAT_PUMP_STORAGE):
        flags = np.array([h is not None and h.kind is kind for h in row_heaters], dtype=np.float64)
        if flags.any():
            columns[kind.value] = flags
    table = np.column_stack(list(columns.values())) if columns else np.zeros((n, 0))
    return table, tuple(columns)


def _acts(
    reader: _Reader,
    home_list: list[Home],
    home_index: Ints,
    row_heaters: list[Heater | None],
    services: Iterable[ServiceRecord],
) -> tuple[Floats, Floats]:
    """The first dated anode change and flush of each row; inf where there is none."""
    row = {h.heater_id: i for i, h in enumerate(row_heaters) if h is not None}
    n = len(home_index)
    first = {ServiceKind.ANODE_CHANGE: np.full(n, np.inf), ServiceKind.FLUSH: np.full(n, np.inf)}
    for act in services:
        i = row.get(act.heater_id)
        if i is None or act.kind not in first:
            continue
        when = sum(reader.years(act.done)) / 2
        low, high = reader.rows[i][0], reader.rows[i][3]
        if when < low - 0.1 or when > high + 0.1:
            reader.say(
                home_list[home_index[i]],
                row_heaters[i],
                f"a {act.kind.value} is dated outside the heater's time in service. The act is set aside; "
                "check both dates.",
            )
            continue
        first[act.kind][i] = min(first[act.kind][i], when)
    return first[ServiceKind.ANODE_CHANGE], first[ServiceKind.FLUSH]


def spells(
    homes: Iterable[Home],
    heaters: Iterable[Heater],
    services: Iterable[ServiceRecord] = (),
    *,
    as_of: date,
) -> tuple[Spell, ...]:
    """The spells that are used, as records for a person to read.

    Parameters
    ----------
    homes, heaters, services, as_of
        As for :func:`observations`.

    Returns
    -------
    tuple of Spell
        By home, oldest first; empty when nothing can be used. ``observed_from`` is the
        installation, or the day the people moved in when that is later.
    """
    home_list = list(homes)
    found = observations(home_list, heaters, services, as_of=as_of)
    moved = {h.home_id: h.moved_in for h in home_list}
    causes = {FAILED: EndCause.FAILED, EARLY: EndCause.REPLACED, UNKNOWN: EndCause.UNKNOWN}

    def day(years: float) -> date:
        return as_of + timedelta(days=round(years * DAYS_PER_YEAR))

    result = []
    for i in range(len(found)):
        home_id = found.home_ids[found.home[i]]
        installed = Dated(earliest=day(found.began[i, 0]), latest=day(found.began[i, 1]))
        came = moved[home_id]
        ended = None
        if found.end[i] != IN_SERVICE:
            ended = Dated(earliest=day(found.ended[i, 0]), latest=day(found.ended[i, 1]))
        result.append(
            Spell(
                heater_id=found.heater_ids[i],
                home_id=home_id,
                installed=installed,
                observed_from=installed.best if came is None else max(installed.best, came.best),
                ended=ended,
                end_cause=causes.get(int(found.end[i])),
            )
        )
    return tuple(result)


def rewind(
    homes: Iterable[Home],
    heaters: Iterable[Heater],
    services: Iterable[ServiceRecord],
    *,
    as_of: date,
) -> tuple[tuple[Home, ...], tuple[Heater, ...], tuple[ServiceRecord, ...]]:
    """The records as they would have stood on an earlier day.

    Parameters
    ----------
    homes, heaters, services
        Today's records.
    as_of
        The earlier day. Heaters installed later are dropped, ends that came later undone,
        and warranties, kinds and softeners left as they are.

    Returns
    -------
    (homes, heaters, services)
        Homes built later are dropped; people who moved in later had no history to tell.
    """
    past_homes = tuple(
        replace(h, moved_in=None) if h.moved_in is not None and h.moved_in.best > as_of else h
        for h in homes
        if h.built_year is None or h.built_year <= as_of.year
    )
    kept = {h.home_id for h in past_homes}
    past_heaters = []
    for heater in heaters:
        if heater.home_id not in kept or (heater.installed is not None and heater.installed.best > as_of):
            continue
        if heater.removed is not None and heater.removed.best > as_of:
            heater = replace(heater, removed=None, end_cause=None)
        past_heaters.append(replace(heater, symptoms=()))
    ids = {h.heater_id for h in past_heaters}
    return (
        past_homes,
        tuple(past_heaters),
        tuple(s for s in services if s.heater_id in ids and s.done.best <= as_of),
    )
