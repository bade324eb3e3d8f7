"""Orders of doors that save steps: the numbers on the letters, and the lists of doors to knock at.

A number is given once and stays with its home: through reprints, new codes and
new parcels. Homes that come later stand between their neighbors on the way with
a decimal (412.5 between 412 and 413), so that a pile in the order of its numbers
is still a walk; homes that go leave a gap.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

import numpy as np

from geo.walking import parts_to_walk, put_in, shortest_walk, walk_length, walks_of
from survey_app.records import ContactNote, Home
from survey_app.service_days import Ground, ways_between

__all__ = [
    "Walk",
    "WalkStop",
    "by_address",
    "by_street",
    "house_number",
    "in_walking_order",
    "numbers_between",
    "sheet_numbers",
    "walk_of",
]

_MOST_AT_ONCE = 4000
"""Homes in one matrix of distances: 16 million pairs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkStop:
    """A door to knock at.

    Parameters
    ----------
    walk, stop
        Which walk, and the how-manieth door of it, both from 1.
    meters
        From the door before; zero for the first of a walk.
    tried, last
        How often it was tried, and what came of the last try.
    """

    home_id: str
    address: str
    street: str
    phase: str
    walk: int
    stop: int
    meters: int
    tried: int
    last: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """Doors to knock at in an order that saves steps.

    Parameters
    ----------
    stops
        In order.
    meters, meters_by_address
        Length of the whole way, and of the same list in the order of the addresses.
    rests_on
        What the distances rest on.
    """

    stops: tuple[WalkStop, ...]
    meters: int
    meters_by_address: int
    rests_on: tuple[str, ...]


def by_address(homes: Iterable[Home]) -> list[Home]:
    """Homes in the order of their addresses: 2 before 10."""
    return sorted(homes, key=lambda h: (h.street, house_number(h), h.address))


def by_street(homes: Sequence[Home]) -> list[Home]:
    """Homes by street, up the odd side and back down the even one: each street is walked once."""

    def place(home: Home) -> tuple[str, int, int, str]:
        number = house_number(home)
        even = number % 2 == 0
        return home.street, int(even), -number if even else number, home.address

    return sorted(homes, key=place)


def house_number(home: Home) -> int:
    """The number that a home's address begins with; 0 where there is none."""
    found = re.match(r"\d+", home.address)
    return int(found.group()) if found else 0


def _natural(text: str) -> tuple[tuple[int, str], ...]:
    """A key that sorts 2 before 10."""
    return tuple((int(part), "") if part.isdigit() else (0, part) for part in re.split(r"(\d+)", text))


def in_walking_order(homes: Sequence[Home], ground: Ground, before: Sequence[str] = ()) -> list[Home]:
    """Homes in an order that saves steps on foot; the same homes and streets give the same order.

    Parameters
    ----------
    homes
        All of them.
    ground
        Where they stand.
    before
        Home ids in an order that is to be kept; the other homes are put in between.
    """
    # Homes of one parcel are one place, by address: 2 before 10.
    units = {
        parcel: sorted(group, key=lambda h: (_natural(h.address), h.home_id))
        for parcel, group in groupby(sorted(homes, key=lambda h: (h.parcel_id, h.home_id)), lambda h: h.parcel_id)
    }
    doors = by_street([group[0] for group in units.values()])
    if len(doors) < 2:
        return [home for group in units.values() for home in group]
    lon, lat = np.array([ground.where[h.home_id] for h in doors]).T
    kept = {home_id: i for i, home_id in enumerate(before)}
    first = {
        h.parcel_id: min((kept[u.home_id] for u in units[h.parcel_id] if u.home_id in kept), default=-1) for h in doors
    }
    order: list[int] = []
    east = float(np.cos(np.radians(lat.mean())))
    for unsorted in parts_to_walk(lon * east, lat, _MOST_AT_ONCE):
        part = np.sort(unsorted)  # by street again
        some = [doors[i] for i in part]
        travel, _, _, _ = ways_between(
            ground,
            lon[part].tolist(),
            lat[part].tolist(),
            [h.street for h in some],
            [h.address for h in some],
            on_foot=True,
        )
        old = sorted((i for i, h in enumerate(some) if first[h.parcel_id] >= 0), key=lambda i: first[some[i].parcel_id])
        if old:
            new = [i for i in range(len(some)) if first[some[i].parcel_id] < 0]
            walk = put_in(travel.metres, np.array(old), new)
        else:
            walk = shortest_walk(travel.metres, start=np.arange(len(some)))
            if order:  # begin at the end that is nearer to where the part before has ended
                away = np.hypot((lon[part] - lon[order[-1]]) * east, lat[part] - lat[order[-1]])
                walk = walk[::-1] if away[walk[-1]] < away[walk[0]] else walk
        order += [int(part[i]) for i in walk]
    return [home for i in order for home in units[doors[i].parcel_id]]


def numbers_between(low: Decimal, high: Decimal | None, count: int) -> list[Decimal]:
    """The shortest numbers that stand between two others, spread evenly; whole ones where nothing comes after.

    Examples
    --------
    >>> [str(n) for n in numbers_between(Decimal(412), Decimal(413), 1)]
    ['412.5']
    >>> [str(n) for n in numbers_between(Decimal("412.5"), Decimal("412.6"), 2)]
    ['412.53', '412.56']
    >>> [str(n) for n in numbers_between(Decimal("7.5"), None, 2)]
    ['8', '9']
    """
    if high is None:
        return [Decimal(int(low) + k) for k in range(1, count + 1)]
    places = 0
    while True:
        step = Decimal(1).scaleb(-places)
        first = int(low / step // 1) + 1
        room = -int(-high / step // 1) - first
        if room >= count:
            return [step * (first + (k + 1) * (room + 1) // (count + 1) - 1) for k in range(count)]
        places += 1


def sheet_numbers(homes: Sequence[Home], ground: Ground, have: Mapping[str, str]) -> dict[str, str]:
    """Every home's number by its id, in walking order; numbers that are given stay.

    Parameters
    ----------
    homes, ground
        All homes, and where they stand.
    have
        The numbers that homes have, in the order of the numbers; {} numbers all anew.
    """
    ordered = in_walking_order(homes, ground, list(have))
    # Units of one parcel may stand apart from how they were numbered: what has a number keeps its place.
    given: list[tuple[Decimal, str]] = [(Decimal(number), home_id) for home_id, number in have.items()]
    last = Decimal(0)
    for is_new, group in groupby(ordered, lambda h: h.home_id not in have):
        some = [h.home_id for h in group]
        if is_new:
            high = min((n for n, _ in given if n > last), default=None)
            fresh = numbers_between(last, high, len(some))
            given += zip(fresh, some, strict=True)
            last = fresh[-1]
        else:
            last = Decimal(have[some[-1]])
    return {home_id: f"{number.normalize():f}" for number, home_id in sorted(given)}


def walk_of(homes: Sequence[Home], ground: Ground, notes: Iterable[ContactNote], *, doors: int) -> Walk:
    """Homes in an order that saves steps, cut into walks.

    Parameters
    ----------
    homes
        The doors, in the order of their addresses.
    ground
        Where they stand.
    notes
        Attempts to reach any home, oldest first.
    doors
        Most doors in a walk.
    """
    if not homes:
        return Walk(stops=(), meters=0, meters_by_address=0, rests_on=())
    at = [ground.where[h.home_id] for h in homes]
    travel, _, _, rests_on = ways_between(
        ground,
        [p[0] for p in at],
        [p[1] for p in at],
        [h.street for h in homes],
        [h.address for h in homes],
        on_foot=True,
    )
    by_id = {h.home_id: i for i, h in enumerate(homes)}
    as_streets = np.array([by_id[h.home_id] for h in by_street(homes)])
    order = shortest_walk(travel.metres, start=as_streets)
    tried: dict[str, list[ContactNote]] = {}
    for note in notes:
        tried.setdefault(note.home_id, []).append(note)
    stops = []
    for w, part in enumerate(walks_of(order, doors), start=1):
        for k, i in enumerate(part):
            home = homes[int(i)]
            mine = tried.get(home.home_id, [])
            stops.append(
                WalkStop(
                    home_id=home.home_id,
                    address=home.address,
                    street=home.street,
                    phase=home.phase_id or "no phase",
                    walk=w,
                    stop=k + 1,
                    meters=int(travel.metres[part[k - 1], i]) if k else 0,
                    tried=len(mine),
                    last=str(mine[-1].outcome) if mine else "",
                )
            )
    return Walk(
        stops=tuple(stops),
        meters=walk_length(travel.metres, order),
        meters_by_address=walk_length(travel.metres, np.arange(len(homes))),
        rests_on=rests_on,
    )
