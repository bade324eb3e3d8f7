"""Which place does a typed address mean? Certain, doubtful, or none, with the reason in words.

A typed street is compared with the streets that exist, a typed number with the
numbers on them. Streets may be misspelt; a number may not: a house number that
does not exist is at most a proposal for a person to look at.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray
from rapidfuzz import process
from rapidfuzz.distance import OSA

from geo.addresses._abbreviations import DIRECTIONS, SUFFIXES
from geo.addresses._parse import Address, expand, is_box, parse, street_of

__all__ = ["AddressBook", "Candidate", "Match", "MatchStatus"]

# Costs, in "edits" (one wrong letter costs 1). Common practice, no source; tuned on an invented
# mess and checked on others (tests/benchmarks/address_join.py).
SUFFIX_LEFT_OUT = 0.5
SUFFIX_OTHER = 1.1
DIRECTION_LEFT_OUT = 0.5
DIRECTION_ADDED = 0.8
DIRECTION_PARTLY = 1.5  # N for NW
DIRECTION_OPPOSED = 3.0
DIRECTION_MOVED = 0.05
SOUNDS_ALIKE = 0.6
"""Added to the distance between spellings reduced to how they sound."""
NUMBER_OFF = 1.5
REVIEW_COST = 3.8
"""A street further away than this is not proposed."""
MARGIN = 0.6
"""A second street this near the best, with a house of that number, makes the match doubtful."""
RESCUE_COST = 1.4
"""Streets up to this cost are searched for a house number one edit away."""
MOST_CANDIDATES = 8


class MatchStatus(StrEnum):
    """How sure a match is; only `CERTAIN` may be used without a person looking."""

    CERTAIN = "certain"
    DOUBTFUL = "doubtful"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A place that may be meant; ``score`` is 100 for an exact match and falls with every difference."""

    place_id: str
    address: str
    score: float
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """What became of one typed address.

    ``place_id`` is set only when the status is certain. ``candidates`` are best
    first; ``why`` is a sentence for the person who decides.
    """

    typed: str
    status: MatchStatus
    place_id: str | None
    candidates: tuple[Candidate, ...]
    why: str


@dataclass(slots=True)
class _Place:
    place_id: str
    address: str
    unit: str


@dataclass(slots=True)
class _Street:
    parts: Address
    label: str
    directions: frozenset[str]
    squeezed: str
    houses: dict[str, list[_Place]] = field(default_factory=dict)
    low: int = 0
    high: int = 0

    def covers(self, number: str) -> bool:
        """Whether a house of this number could stand here though the file has none."""
        figures = _figures(number)
        return figures is not None and self.low - 2 <= figures <= self.high + 2


@dataclass(frozen=True, slots=True)
class _Near:
    """A known street beside a typed one."""

    street: int
    cost: float
    edits: float
    notes: tuple[str, ...]
    contradicts: bool
    """The direction speaks against it, or too much of the name differs to be sure."""


class AddressBook:
    """The addresses of a community, built once, asked often.

    Parameters
    ----------
    places
        (place id, address) pairs; several homes in one house are told apart by a
        unit in the address. Addresses without a house number cannot be matched and
        are left out. The order does not matter.

    Examples
    --------
    >>> book = AddressBook([("a", "104 N OAK ST"), ("b", "106 N OAK ST")])
    >>> book.match("104 north oke street").place_id
    'a'
    """

    def __init__(self, places: Sequence[tuple[str, str]]) -> None:
        self._streets: list[_Street] = []
        by_label: dict[str, int] = {}
        for place_id, text in sorted(set(places)):
            for parts in expand(text):
                house = _house(parts)
                if not house:
                    continue
                label = _street_key(parts)
                if label not in by_label:
                    by_label[label] = len(self._streets)
                    self._streets.append(_new_street(parts))
                houses = self._streets[by_label[label]].houses
                houses.setdefault(house, []).append(_Place(place_id, text.strip(), parts.unit_id()))
        for street in self._streets:
            numbers = [n for n in map(_figures, street.houses) if n is not None]
            street.low, street.high = (min(numbers), max(numbers)) if numbers else (0, -1)
        self._by_label = by_label
        self._names = sorted({s.squeezed for s in self._streets})
        self._sounds = [_sound(n) for n in self._names]
        self._by_name: dict[str, list[int]] = {}
        for i, street in enumerate(self._streets):
            self._by_name.setdefault(street.squeezed, []).append(i)
        self._near_cache: dict[str, tuple[_Near, ...]] = {}

    def __len__(self) -> int:
        return len({p.place_id for s in self._streets for ps in s.houses.values() for p in ps})

    def streets(self) -> list[str]:
        """The streets there are, in the post office's spelling, in order of the alphabet."""
        return sorted({s.parts.street() for s in self._streets})

    def match_all(
        self, typed: Sequence[str], progress: Callable[[float, str], None] | None = None
    ) -> list[Match]:
        """Match many; the same as :meth:`match` for each, in the same order."""
        found: list[Match] = []
        for i, text in enumerate(typed):
            if progress is not None and i % 250 == 0:
                progress(i / len(typed), "matching addresses")
            found.append(self.match(text))
        return found

    def match(self, typed: str) -> Match:
        """Find the one place a typed address means.

        Returns
        -------
        Match
            ``CERTAIN`` only when one place fits and nothing competes with it: the house
            number is as typed (or written in another way), the street is the typed one or
            a misspelling of it alone, and no unit is left open.
        """
        if is_box(typed):
            return _none(typed, "A post office box is not a house; ask for the street address.")
        parts = parse(typed)
        house = _house(parts)
        if not house:
            return self._without_number(typed, parts)
        if not parts.name:
            return _none(typed, "There is a number but no street.")
        best = self._decide(typed, parts, house, self._near(parts))
        if best.status is MatchStatus.CERTAIN:
            return best
        # A city typed without a comma looks like part of the street: try with words taken off the end.
        for shorter in _shortened(parts):
            near = self._near(shorter)
            if near and near[0].edits == 0 and near[0].cost <= DIRECTION_LEFT_OUT and shorter.suffix:
                retry = self._decide(typed, shorter, house, near)
                if retry.status is not MatchStatus.NONE:
                    return retry
        return best

    def suggest(self, typed: str, limit: int = 8) -> list[Candidate]:
        """Places whose address begins like what has been typed so far, nearest first.

        For type-ahead on a form: "10", "104 oa", "oak". Where nothing begins that
        way the candidates of :meth:`match` are offered.
        """
        words = re.sub(r"[^0-9A-Z/ -]", " ", typed.upper()).split()
        if not words:
            return []
        number = words.pop(0) if words[0][0].isdigit() else ""
        street = "".join(words)
        loose = _street_key(street_of(tuple(words))) if words else ""
        found: list[tuple[tuple[int, int, str, int, str], Candidate]] = []
        for s in self._streets:
            if words and not _begins(s, words, street, loose):
                continue
            for house, places in s.houses.items():
                if number and not house.startswith(number):
                    continue
                for place in places:
                    exact = house == number
                    rank = (0 if exact else 1, len(house), s.label, _figures(house) or 0, place.address)
                    why = "begins as typed" if not exact else "has this number"
                    found.append((rank, Candidate(place_id=place.place_id, address=place.address, score=100.0 if exact else 90.0, why=why)))
        if not found and number and words:
            return list(self.match(typed).candidates[:limit])
        found.sort(key=lambda pair: (*pair[0], pair[1].place_id))
        return [candidate for _, candidate in found[:limit]]

    # How one typed address is decided.

    def _without_number(self, typed: str, parts: Address) -> Match:
        if not typed.strip():
            return _none(typed, "Nothing was typed.")
        if parts.name:
            near = self._near(parts)
            if near and near[0].cost <= RESCUE_COST:
                street = self._streets[near[0].street]
                places = [p for ps in street.houses.values() for p in ps]
                if len(places) == 1:
                    one = Candidate(
                        place_id=places[0].place_id,
                        address=places[0].address,
                        score=_score(near[0].cost + NUMBER_OFF),
                        why="the only house on that street",
                    )
                    return _doubtful(typed, [one], "There is no house number; that street has one house.")
        return _none(typed, "There is no house number, and only a house can be matched.")

    def _decide(self, typed: str, parts: Address, house: str, near: tuple[_Near, ...]) -> Match:
        here = [n for n in near if house in self._streets[n.street].houses]
        if not here or here[0].cost > REVIEW_COST:
            return self._rescue(typed, house, near)
        best = here[0]
        competing = [n for n in here[1:] if n.cost <= best.cost + (MARGIN if best.cost < 1 else 1.0)]
        places, unit_trouble = self._at(best, house, parts.unit_id())
        candidates = self._candidates(here, house, parts.unit_id())
        if competing:
            also = self._streets[competing[0].street].parts.street()
            return _doubtful(typed, candidates, f"Number {house} stands on {self._street(best)} and on {also}.")
        missing = self._better_street_without(best, house, near)
        if missing is not None:
            street = self._street(missing)
            extra = self._rescued(house, near, {c.place_id for c in candidates})
            return _doubtful(
                typed,
                [*candidates, *extra],
                f"{street} fits as well or better, but no {house} is known there; {house} {self._street(best)} is.",
            )
        if best.contradicts or best.cost > _allowed(parts, best):
            extra = self._rescued(house, near, {c.place_id for c in candidates}) if best.edits else []
            return _doubtful(typed, [*candidates, *extra], f"Nearest is {self._told(best, house)}.")
        if unit_trouble:
            return _doubtful(typed, candidates, unit_trouble)
        place = places[0]
        why = "The address fits exactly." if not best.notes else f"The only fit: {self._told(best, house)}."
        return Match(
            typed=typed, status=MatchStatus.CERTAIN, place_id=place.place_id, candidates=tuple(candidates[:1]), why=why
        )

    def _rescue(self, typed: str, house: str, near: tuple[_Near, ...]) -> Match:
        found = self._rescued(house, near, set())
        if found:
            return _doubtful(
                typed, found, f"No {house} is known on {self._street(near[0])}; these numbers differ in one figure."
            )
        if near and near[0].cost <= RESCUE_COST:
            return _none(typed, f"{self._street(near[0])} is known, but no {house} nor a number like it.")
        return _none(typed, "No such street is known, nor one like it with that number.")

    def _rescued(self, house: str, near: tuple[_Near, ...], already: set[str]) -> list[Candidate]:
        """Houses on the typed street whose number is one edit away: proposals, never answers."""
        found: list[tuple[float, int, Candidate]] = []
        figures = _figures(house) or 0
        for n in near:
            if n.cost > min(RESCUE_COST, near[0].cost + MARGIN):
                break
            for other, places in self._streets[n.street].houses.items():
                if OSA.distance(house, other, score_cutoff=1) != 1:
                    continue
                for place in places:
                    if place.place_id not in already:
                        already.add(place.place_id)
                        why = f"number {other} instead of {house}"
                        one = Candidate(
                            place_id=place.place_id, address=place.address, score=_score(n.cost + NUMBER_OFF), why=why
                        )
                        found.append((n.cost, abs((_figures(other) or 0) - figures), one))
        found.sort(key=lambda f: (f[0], f[1], f[2].address, f[2].place_id))
        return [one for _, _, one in found[:MOST_CANDIDATES]]

    def _better_street_without(self, best: _Near, house: str, near: tuple[_Near, ...]) -> _Near | None:
        """A street at least as near as the best one that lacks the number but could have it."""
        for n in near:
            if n.cost > best.cost + 0.1:
                return None
            street = self._streets[n.street]
            if n.street == best.street or house in street.houses:
                continue
            exact_name = n.edits == 0 and best.edits > 0
            if exact_name or street.covers(house):
                return n
        return None

    def _at(self, near: _Near, house: str, unit: str) -> tuple[list[_Place], str]:
        """The places at a house that fit the unit, and what is unclear about them ("" when nothing is)."""
        places = self._streets[near.street].houses[house]
        fitting = [p for p in places if p.unit == unit]
        whole = f"{house} {self._street(near)}"
        if len({p.place_id for p in fitting}) > 1:
            return fitting, f"{len(fitting)} places have the address {whole}{' ' + unit if unit else ''}."
        if not unit and len(places) > 1:
            return fitting or places, f"{whole} has several homes and no unit was typed."
        if not unit and not fitting:
            return places, f"{whole} is known only with unit {places[0].unit}, and no unit was typed."
        if fitting:
            return fitting, ""
        if len(places) == 1 and not places[0].unit:
            return places, f"{whole} is known as one home, without a unit {unit}."
        return places, f"{whole} has no unit {unit} in the parcel file."

    def _candidates(self, here: list[_Near], house: str, unit: str) -> list[Candidate]:
        listed: dict[str, Candidate] = {}
        for n in here[:MOST_CANDIDATES]:
            if n.cost > REVIEW_COST:
                break
            for place in self._streets[n.street].houses[house]:
                cost = n.cost + (0 if place.unit == unit else 0.5)
                notes = [*n.notes]
                if place.unit != unit:
                    notes.append(f"unit {place.unit}" if place.unit else "no unit in the parcel file")
                why = "; ".join(notes) or "fits exactly"
                if place.place_id not in listed:
                    listed[place.place_id] = Candidate(
                        place_id=place.place_id, address=place.address, score=_score(cost), why=why
                    )
        ordered = sorted(listed.values(), key=lambda c: (-c.score, c.address, c.place_id))
        return ordered[: max(MOST_CANDIDATES, sum(c.score >= 90 for c in ordered))]

    def _street(self, near: _Near) -> str:
        return self._streets[near.street].parts.street()

    def _told(self, near: _Near, house: str) -> str:
        notes = f" ({'; '.join(near.notes)})" if near.notes else ""
        return f"{house} {self._street(near)}{notes}"

    # How a typed street is compared with the streets there are.

    def _near(self, parts: Address) -> tuple[_Near, ...]:
        label = _street_key(parts)
        if label not in self._near_cache:
            if len(self._near_cache) > 100_000:
                self._near_cache.clear()
            self._near_cache[label] = self._compare(parts)
        return self._near_cache[label]

    def _compare(self, parts: Address) -> tuple[_Near, ...]:
        """Known streets within reach of a typed one, nearest first."""
        if not self._names:
            return ()
        typed = _new_street(parts)
        readings = [(typed, self._edits(typed.squeezed))]
        if parts.suffix:  # "EAGLE GLEN" for EAGLE GLEN CT: the suffix may be part of the name
            whole = _whole_name(parts)
            readings.append((whole, self._edits(whole.squeezed)))
        best: dict[int, _Near] = {}
        for reading, edits in readings:
            for k in np.flatnonzero(edits <= REVIEW_COST):
                for i in self._by_name[self._names[k]]:
                    near = _beside(reading, self._streets[i], i, float(edits[k]))
                    if near.cost <= REVIEW_COST and (i not in best or near.cost < best[i].cost):
                        best[i] = near
        return tuple(sorted(best.values(), key=lambda n: (n.cost, self._streets[n.street].label)))

    def _edits(self, name: str) -> NDArray[np.float64]:
        """Edits between a typed name and every known name; infinite where figures or short names differ."""
        spelled = process.cdist([name], self._names, scorer=OSA.distance, dtype=np.int32)[0].astype(float)
        sounded = process.cdist([_sound(name)], self._sounds, scorer=OSA.distance, dtype=np.int32)[0]
        edits = np.minimum(spelled, sounded + SOUNDS_ALIKE)
        edits[spelled == 0] = 0.0
        for k in np.flatnonzero((edits > 0) & (edits <= REVIEW_COST)):
            other = self._names[k]
            if not _comparable(name, other):
                edits[k] = np.inf
            elif edits[k] > max(1.0, 0.45 * max(len(name), len(other))):
                edits[k] = np.inf
        for k, other in enumerate(self._names):
            # "PENN" for PENNSYLVANIA, "MLK" is beyond us.
            short, long = sorted((name, other), key=len)
            if edits[k] > 2.2 and len(short) >= 4 and long.startswith(short) and not any(c.isdigit() for c in long):
                edits[k] = 2.2
        return edits


def _house(parts: Address) -> str:
    fraction = f" {parts.number_suffix}" if "/" in parts.number_suffix else ""
    return parts.number + fraction if parts.number else ""


def _figures(house: str) -> int | None:
    found = re.match(r"\d+", house)
    return int(found.group()) if found else None


def _street_key(parts: Address) -> str:
    return "|".join((parts.predirection, parts.name.replace(" ", ""), parts.suffix, parts.postdirection))


def _new_street(parts: Address) -> _Street:
    return _Street(
        parts=parts,
        label=_street_key(parts),
        directions=frozenset(d for d in (parts.predirection, parts.postdirection) if d),
        squeezed=parts.name.replace(" ", ""),
    )


def _whole_name(parts: Address) -> _Street:
    """The same street with its last word read as part of the name: no suffix was typed."""
    words = tuple(f"{parts.name} {parts.suffix}".split())
    longer = street_of((*words, "ST"))
    return _new_street(
        Address(
            predirection=parts.predirection,
            name=longer.name,
            suffix="",
            postdirection=parts.postdirection,
        )
    )


def _shortened(parts: Address) -> list[Address]:
    """The address with one to four words off the end of its street; directions are never taken off."""
    if parts.raw.count(",") and not parts.suffix:
        pass
    words = [w for w in (parts.name.split() + ([parts.suffix] if parts.suffix else [])) if w]
    if parts.postdirection:
        words.append(parts.postdirection)
    found: list[Address] = []
    for cut in range(1, min(5, len(words) - 1)):
        gone = words[-cut]
        if gone in DIRECTIONS and cut == 1 and not found and len(words) > 2 and words[-2] in SUFFIXES:
            break
        street = street_of(tuple([*([parts.predirection] if parts.predirection else []), *words[:-cut]]))
        found.append(street)
    return found


def _beside(typed: _Street, known: _Street, index: int, edits: float) -> _Near:
    """What stands between a typed street and a known one."""
    cost = edits
    notes: list[str] = []
    contradicts = False
    if edits > 0:
        notes.append(f"'{typed.parts.name.title()}' for {known.parts.name.title()}")
        first_differs = typed.squeezed[:1] != known.squeezed[:1]
        contradicts = edits > _name_allowance(known.squeezed) or (first_differs and len(known.squeezed) < 6)
    if typed.parts.suffix != known.parts.suffix:
        if not typed.parts.suffix:
            cost += SUFFIX_LEFT_OUT
            notes.append(f"{known.parts.suffix} left out")
        elif not known.parts.suffix:
            cost += SUFFIX_LEFT_OUT
            notes.append(f"{typed.parts.suffix} added")
        else:
            cost += SUFFIX_OTHER
            notes.append(f"{typed.parts.suffix} for {known.parts.suffix}")
    direction, note = _direction_cost(typed, known)
    if note:
        notes.append(note)
    cost += direction
    contradicts = contradicts or direction >= DIRECTION_PARTLY
    return _Near(index, round(cost, 3), edits, tuple(notes), contradicts)


def _direction_cost(typed: _Street, known: _Street) -> tuple[float, str]:
    if typed.directions == known.directions:
        moved = typed.parts.predirection != known.parts.predirection
        return (DIRECTION_MOVED, "") if moved else (0.0, "")
    shown = "/".join(sorted(known.directions))
    told = "/".join(sorted(typed.directions))
    if not typed.directions:
        return DIRECTION_LEFT_OUT, f"{shown} left out"
    if not known.directions:
        return DIRECTION_ADDED, f"{told} added"
    if typed.directions < known.directions:
        return DIRECTION_LEFT_OUT, f"{shown} left out in part"
    if any(set(a) & set(b) for a in typed.directions for b in known.directions):
        return DIRECTION_PARTLY, f"{told} for {shown}"
    return DIRECTION_OPPOSED, f"{told} for {shown}"


def _comparable(name: str, other: str) -> bool:
    """Figures in street names are like house numbers: 106TH is not 109TH; A ST is not B ST."""
    if any(c.isdigit() for c in name + other):
        return re.findall(r"\d+", name) == re.findall(r"\d+", other)
    return min(len(name), len(other)) >= 3


def _name_allowance(name: str) -> float:
    """Edits that still mean the same name, where nothing competes."""
    if len(name) <= 3:
        return 0.0
    return 1.0 if len(name) <= 5 else 1.6 if len(name) == 6 else 2.0 if len(name) <= 10 else 3.0


def _allowed(parts: Address, near: _Near) -> float:
    """The total cost below which a lone candidate is certain: less slack where the name is wrong as well."""
    return near.edits + (SUFFIX_OTHER + DIRECTION_LEFT_OUT + 0.1 if near.edits < 1.7 else SUFFIX_OTHER)


_SOUND = (
    (r"PH", "F"),
    (r"GH(?=T)|(?<=.)GH", ""),
    (r"CK|C(?=[AOUKLRT])|C$|Q", "K"),
    (r"C(?=[EIY])|Z", "S"),
    (r"^KN", "N"),
    (r"^WR", "R"),
    (r"WH", "W"),
    (r"EIGH|AY|EY|AI|EI", "E"),
    (r"EE|EA|IE|Y", "I"),
    (r"OO|OU|OW", "O"),
    (r"(.)\1+", r"\1"),
    (r"(?<=...)E$", ""),
)


def _sound(name: str) -> str:
    """A spelling reduced to about how it sounds (common practice, no source)."""
    if any(c.isdigit() for c in name):
        return name
    for pattern, into in _SOUND:
        name = re.sub(pattern, into, name)
    return name


def _begins(street: _Street, words: list[str], squeezed: str, loose: str) -> bool:
    shown = street.parts.street().split()
    if "".join(shown).startswith(squeezed) or street.squeezed.startswith(squeezed):
        return True
    if loose and street.label.startswith(loose.rstrip("|")):
        return True
    parts = street_of(tuple(words))
    same = parts.name and street.squeezed.startswith(parts.name.replace(" ", ""))
    if not same or (parts.suffix and parts.suffix != street.parts.suffix):
        return False
    typed = {d for d in (parts.predirection, parts.postdirection) if d}
    return not typed or bool(typed & street.directions)


def _score(cost: float) -> float:
    return round(max(0.0, 100.0 - 15.0 * cost), 1)


def _none(typed: str, why: str) -> Match:
    return Match(typed=typed, status=MatchStatus.NONE, place_id=None, candidates=(), why=why)


def _doubtful(typed: str, candidates: list[Candidate], why: str) -> Match:
    return Match(typed=typed, status=MatchStatus.DOUBTFUL, place_id=None, candidates=tuple(candidates), why=why)


def counts(matches: Sequence[Match]) -> Counter[MatchStatus]:
    """How many matches have each status."""
    return Counter(m.status for m in matches)
