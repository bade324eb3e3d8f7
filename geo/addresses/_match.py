"""Which place a typed address means: certain, in doubt, or none.

The house number and the street are treated differently. A wrong number is
another house, so it is never corrected: a number one slip away is only ever a
candidate for a person to look at. A misspelt street usually is the street that
resembles it, unless another street of the neighborhood resembles it as much.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from geo.addresses._abbreviations import SPELLED, SPELLED_SUFFIX
from geo.addresses._parse import Address, is_box, parse

__all__ = ["AddressBook", "Candidate", "Differs", "Doubt", "Match", "MatchStatus"]

CERTAIN_FROM = 85.0
"""Score from which a match is taken without asking."""
DOUBTFUL_FROM = 60.0
"""Score from which a place is worth showing to a person."""
MARGIN = 8.0
"""How far the best must be ahead of the next for the match to be taken without asking."""
CERTAIN_ALONE_FROM, FAR_AHEAD = 82.0, 20.0
"""A misspelling a little worse is taken too where nothing contradicts and no other home comes near."""
_OTHER_FIGURES = 70.0
_RESCUE_NAME = 80.0
_SHOWN = 12

_MISSING_DIRECTION, _OTHER_DIRECTION = 6.0, 25.0
_MISSING_SUFFIX, _OTHER_SUFFIX = 6.0, 22.0
_NEEDLESS_UNIT, _MISSING_UNIT, _OTHER_UNIT = 10.0, 2.0, 40.0


class MatchStatus(StrEnum):
    """How sure a match is."""

    CERTAIN = "certain"
    DOUBTFUL = "doubtful"
    NONE = "none"


class Doubt(StrEnum):
    """Why an address was not taken without asking, each with its sentence."""

    EMPTY = "No address was given."
    BOX = "A post office box is not a home's address."
    NO_NUMBER = "There is no house number; these homes are on a street like that."
    NO_NUMBER_NO_STREET = "There is no house number, and no street here is called that."
    NO_HOME = "No home here has this number on a street like this."
    ONE_SLIP = "No home has this number on that street; these are one slip away."
    ALIKE = "Several homes fit alike."
    UNIT_MISSING = "The unit is missing, and several homes share the number."
    SAME_ADDRESS = "Several parcels have this very address."
    DIFFERS = "The nearest home differs"


class Differs(StrEnum):
    """What differs between an address as typed and a home's own, in words."""

    SPELLING = "the street is spelled differently"
    TYPE_MISSING = "the street type is missing"
    TYPE = "the street type differs"
    DIRECTION_MISSING = "the direction is missing"
    DIRECTION = "the direction differs"
    FIGURE = "the number or letter in the street's name differs"
    UNIT_NEEDLESS = "a unit is given, and the home has none"
    UNIT_MISSING = "the unit is missing"
    UNIT = "the unit differs"


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A place that a typed address may mean; ``score`` is 0 to 100, ``why`` says what differs."""

    place_id: str
    address: str
    score: float
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """What a typed address means. ``place_id`` is set only when it is certain.

    ``why`` is a sentence. ``doubt`` and, for the nearest home, ``differs`` say the
    same as data, for another language.
    """

    typed: str
    status: MatchStatus
    place_id: str | None
    candidates: tuple[Candidate, ...]
    why: str
    doubt: Doubt | None = None
    differs: tuple[Differs, ...] = ()


@dataclass(frozen=True, slots=True)
class _Place:
    place_id: str
    address: Address
    shown: str
    has_siblings: bool
    marks: tuple[str, ...]
    spelled: str


class AddressBook:
    """The addresses of a neighborhood, ready to be asked.

    Parameters
    ----------
    places
        Pairs of a place's id and its address on one line, unit included.
    """

    def __init__(self, places: Sequence[tuple[str, str]]) -> None:
        parsed = sorted(((place_id, parse(text)) for place_id, text in places), key=lambda p: (p[1].display(), p[0]))
        houses: dict[str, int] = {}
        for _, address in parsed:
            houses[_house_key(address)] = houses.get(_house_key(address), 0) + 1
        self._by_key: dict[str, list[_Place]] = {}
        self._by_number: dict[str, list[_Place]] = {}
        self._by_name: dict[str, list[_Place]] = {}
        self._places: list[_Place] = []
        for place_id, address in parsed:
            siblings = houses[_house_key(address)] > 1
            place = _Place(place_id, address, address.display(), siblings, _marks(address.name), _spelled(address, ""))
            self._places.append(place)
            self._by_key.setdefault(address.key(), []).append(place)
            self._by_number.setdefault(_number(address), []).append(place)
            self._by_name.setdefault(_solid(address.name), []).append(place)
        self._names = list(self._by_name)
        # "Quiet Park Ridge Cir" typed without its "Cir" looks like a street "Quiet Park" of type Ridge.
        self._names_ending_in_a_type = {
            (_solid(read.name), read.suffix): place.address.name
            for place in self._places
            for read in [parse(f"1 {place.address.name}")]
            if read.suffix
        }
        self._streets = {p.address.street() for p in self._places}
        self._name_scores: dict[str, dict[str, float]] = {}

    def match_all(self, typed: Sequence[str], progress: Callable[[int, int], None] | None = None) -> list[Match]:
        """The match of each typed address, in order; `progress` is told how many of how many are done."""
        found = []
        for number, text in enumerate(typed, start=1):
            found.append(self.match(text))
            if progress is not None and (number % 200 == 0 or number == len(typed)):
                progress(number, len(typed))
        return found

    def match(self, typed: str) -> Match:
        """Which place a typed address means.

        Parameters
        ----------
        typed
            One line as a person wrote it.

        Returns
        -------
        Match
            Certain with one place; doubtful with candidates, best first; or none.
        """
        address = self._read(typed)
        if not typed.strip():
            return _none(typed, Doubt.EMPTY)
        if is_box(typed):
            return _none(typed, Doubt.BOX)
        if not address.number:
            near = self._without_number(address)
            if near:
                return _doubt(typed, near, Doubt.NO_NUMBER)
            return _none(typed, Doubt.NO_NUMBER_NO_STREET)
        exact = self._by_key.get(address.key(), [])
        if len(exact) == 1 and not self._unit_left_out(address, exact[0]):
            return Match(
                typed=typed,
                status=MatchStatus.CERTAIN,
                place_id=exact[0].place_id,
                candidates=(),
                why="The address is the parcel file's own.",
            )
        return self._close_match(typed, address)

    def suggest(self, typed: str, limit: int = 8) -> list[Candidate]:
        """Places whose address resembles what has been typed so far, best first.

        Parameters
        ----------
        typed
            The beginning of an address, or all of it with mistakes.
        limit
            How many at most.
        """
        address = self._read(typed)
        solid = _solid(address.street())
        if not address.number and not solid:
            return []
        ranked: list[tuple[float, str, _Place]] = []
        for place in self._number_begins(address.number) if address.number else self._places:
            score = 100.0 if not solid else _begins(solid, place)
            if address.number and _number(place.address) != _number(address):
                score -= 12
            if address.unit_id() and address.unit_id() != place.address.unit_id():
                score -= 10
            if score >= DOUBTFUL_FROM:
                ranked.append((-score, place.shown, place))
        if len(ranked) < limit and address.number:
            known = {place.place_id for _, _, place in ranked}
            ranked += [(-s, p.shown, p) for s, p, _ in self._one_slip(address) if p.place_id not in known]
        ranked.sort(key=lambda r: (r[0], r[1]))
        return [
            Candidate(place_id=p.place_id, address=p.shown, score=round(-s, 1), why="") for s, _, p in ranked[:limit]
        ]

    # ---- inside ---------------------------------------------------------

    def _read(self, typed: str) -> Address:
        """The typed line as an address of this neighborhood, without what people add around it."""
        address = self._without_rest(typed)
        if address.key() in self._by_key:
            return address
        mended = mend(typed)
        if mended == typed:
            return address
        other = self._without_rest(mended)
        if not address.number:
            return other
        if other.house_key() == address.house_key() and not address.unit_id():
            return other  # the unit was hidden
        return other if self._near(other) and not self._near(address) else address

    def _near(self, address: Address) -> bool:
        """Whether a home here has this number on a street like this."""
        mine = _solid(address.name)
        places = self._by_number.get(_number(address), [])
        return any(self._name_score(mine, _solid(place.address.name)) >= _RESCUE_NAME for place in places)

    def _without_rest(self, typed: str) -> Address:
        """The line as an address, cut short where that makes a street of this neighborhood (city, remarks)."""
        address = self._with_whole_name(parse(typed))
        if _solid(address.name) in self._by_name or not address.number:
            return address
        words = typed.replace(",", " ").split()
        best, best_like = address, self._likeness_to_any(address)
        if best_like >= _RESCUE_NAME:
            return best
        for end in range(len(words) - 1, max(1, len(words) - 6), -1):
            shorter = self._with_whole_name(parse(" ".join(words[:end])))
            like = self._likeness_to_any(shorter)
            if like > best_like + 1:
                unit = shorter.unit or address.unit
                best, best_like = replace(shorter, unit=unit), like
        return best

    def _with_whole_name(self, address: Address) -> Address:
        """The address with its street type put back into the name where the name here ends in such a word."""
        whole = self._names_ending_in_a_type.get((_solid(address.name), address.suffix))
        if whole is None or address.street() in self._streets:
            return address
        return replace(address, name=whole, suffix="")

    def _likeness_to_any(self, address: Address) -> float:
        mine = _solid(address.name)
        if not mine:
            return 0.0
        near = process.extract(mine, self._names, scorer=fuzz.ratio, limit=3, score_cutoff=60)
        return max((self._name_score(mine, name) for name, _, _ in near), default=0.0)

    def _close_match(self, typed: str, address: Address) -> Match:
        scored = [(s, p, w) for p in self._by_number.get(_number(address), []) for s, w in [self._score(address, p)]]
        scored = sorted((x for x in scored if x[0] >= DOUBTFUL_FROM), key=lambda x: (-x[0], x[1].shown, x[1].place_id))
        if scored:
            best, place, why = scored[0]
            lead = best - scored[1][0] if len(scored) > 1 else 100.0
            enough = best >= CERTAIN_FROM and lead >= MARGIN
            enough |= best >= CERTAIN_ALONE_FROM and lead >= FAR_AHEAD and not _contradicts(address, place.address)
            settled = enough and not self._unit_left_out(address, place)
            if settled and not self._another_street(address, place):
                return Match(
                    typed=typed,
                    status=MatchStatus.CERTAIN,
                    place_id=place.place_id,
                    candidates=(),
                    why=f"No other home comes close; {why}.",
                )
        slips = self._one_slip(address) if not scored or scored[0][0] < 95 else []
        seen = {p.place_id for _, p, _ in scored}
        every = scored + [x for x in slips if x[1].place_id not in seen]
        if not every:
            return _none(typed, Doubt.NO_HOME)
        every.sort(key=lambda x: (-x[0], x[1].shown, x[1].place_id))
        if not scored:
            doubt = Doubt.ONE_SLIP
        elif len(scored) > 1 and scored[0][0] - scored[1][0] < MARGIN:
            doubt = Doubt.ALIKE
            if scored[0][1].address.unit_id() and self._unit_left_out(address, scored[0][1]):
                doubt = Doubt.UNIT_MISSING
            elif scored[0][1].address.key() == scored[1][1].address.key() == address.key():
                doubt = Doubt.SAME_ADDRESS
        else:
            return _doubt(typed, every, Doubt.DIFFERS, self._compare(address, scored[0][1])[1])
        return _doubt(typed, every, doubt)

    def _score(self, typed: Address, place: _Place) -> tuple[float, str]:
        """How well a place with the same number fits, 0 to 100, and what differs in words."""
        score, differs = self._compare(typed, place)
        return score, _in_words(differs)

    def _compare(self, typed: Address, place: _Place) -> tuple[float, list[Differs]]:
        """How well a place with the same number fits, 0 to 100, and what differs."""
        own = place.address
        score = self._name_score(_solid(typed.name), _solid(own.name))
        notes = [] if score == 100 else [Differs.SPELLING]
        # A suffix misspelt beyond recognition stays in the name: compare the whole street as well.
        bare = _solid(f"{own.predirection}{own.name}{own.postdirection}")
        street = _solid(typed.street())
        whole = max(fuzz.ratio(street, _solid(own.street())) - 3, fuzz.ratio(street, bare) - 3 - _MISSING_SUFFIX)
        penalty = 0.0
        if typed.suffix != own.suffix:
            missing = not typed.suffix or not own.suffix
            penalty += _MISSING_SUFFIX if missing else _OTHER_SUFFIX
            notes.append(Differs.TYPE_MISSING if missing else Differs.TYPE)
        mine, theirs = _directions(typed), _directions(own)
        if mine != theirs:
            missing = not mine or not theirs
            penalty += _MISSING_DIRECTION if missing else _OTHER_DIRECTION
            notes.append(Differs.DIRECTION_MISSING if missing else Differs.DIRECTION)
        score -= penalty
        if (
            typed.suffix != own.suffix
            and not (typed.suffix and own.suffix)
            and whole > score
            and (mine == theirs or not mine)
        ):
            score, notes = whole, [Differs.SPELLING]
        if score < CERTAIN_FROM and _sounds_like(typed, place):
            missing = typed.suffix != own.suffix
            score, notes = 100.0 - _MISSING_SUFFIX * missing, [Differs.TYPE_MISSING] if missing else []
        elif score < CERTAIN_FROM and typed.suffix and OSA.distance(_spelled(typed, typed.suffix), place.spelled) <= 2:
            # "Gleen Loop" for "Glen Loop Ln": the type typed is the name's last word.
            score = self._name_score(_spelled(typed, typed.suffix), place.spelled) - _MISSING_SUFFIX
            notes = [Differs.SPELLING, Differs.TYPE_MISSING]
        elif _marks(typed.name) != place.marks and score > _OTHER_FIGURES:
            score, notes = _OTHER_FIGURES, [Differs.FIGURE]
        unit, other = typed.unit_id(), own.unit_id()
        if unit != other:
            score -= _NEEDLESS_UNIT if not other else _MISSING_UNIT if not unit else _OTHER_UNIT
            notes.append(Differs.UNIT_NEEDLESS if not other else Differs.UNIT_MISSING if not unit else Differs.UNIT)
        return score, notes

    def _name_score(self, typed: str, own: str) -> float:
        if typed == own:
            return 100.0
        known = self._name_scores.setdefault(typed, {})
        if own not in known:
            known[own] = _likeness(typed, own)
        return known[own]

    def _another_street(self, typed: Address, place: _Place) -> bool:
        """Whether the street as typed may well be another one of this neighborhood, where the number does not exist."""
        mine, own = _solid(typed.name), _solid(place.address.name)
        if mine == own:
            # "12 Alder Ln" is no slip for "12 Alder Ct" where there is an Alder Ln.
            return typed.street() != place.address.street() and typed.street() in self._streets
        if mine in self._by_name:
            return True
        score = self._name_score(mine, own)
        near = process.extract(mine, self._names, scorer=fuzz.ratio, limit=4, score_cutoff=70)
        return any(name != own and self._name_score(mine, name) > score - MARGIN / 2 for name, _, _ in near)

    def _unit_left_out(self, typed: Address, place: _Place) -> bool:
        """Where there is a unit, its number has to be said: "unit B" alone on file still means there is an A."""
        return (place.has_siblings or bool(place.address.unit_id())) and not typed.unit_id()

    def _one_slip(self, typed: Address) -> list[tuple[float, _Place, str]]:
        """Places on streets like the one typed whose number is one slip of the pen away."""
        mine = _solid(typed.name)
        found = []
        for name, like, _ in process.extract(mine, self._names, scorer=fuzz.ratio, limit=4, score_cutoff=_RESCUE_NAME):
            for place in self._by_name[name]:
                if place.address.number == typed.number or OSA.distance(place.address.number, typed.number) != 1:
                    continue
                score = like - 30 - (0 if place.address.suffix == typed.suffix else 4)
                found.append((float(score), place, f"its number is {place.address.house()}"))
        return sorted(found, key=lambda x: (-x[0], x[1].shown))[:_SHOWN]

    def _without_number(self, typed: Address) -> list[tuple[float, _Place, str]]:
        """The few homes of a street named without a number; none where the street is long."""
        places = [p for p in self._by_name.get(_solid(typed.name), []) if typed.name]
        places = [p for p in places if not typed.suffix or p.address.suffix == typed.suffix]
        return [(50.0, p, "on that street") for p in places] if len(places) <= _SHOWN else []

    def _number_begins(self, number: str) -> Iterable[_Place]:
        return [p for n, places in self._by_number.items() if n.startswith(number) for p in places]


_MENDS = tuple(
    (re.compile(pattern, re.IGNORECASE), to)
    for pattern, to in (
        (r"^\W*([\dlIO]*\d[\dlIO]*|[lI][\dlIO]+)(?=[\s\-])", lambda m: _digits(m.group())),  # "ll29", "94O"
        (r"^(?!\W*(?:unit|apt|ste|suite|p\W*o\b|#))[a-z'’:,. ]+?(?=\d)", ""),  # "my address is 225"
        (r"(?<=[a-z\d])\s*[-,]\s*([a-z])(?=\s*(?:[,;]|$))", r" UNIT \1"),  # "Stone Wall W, A"
        (r"^\W*(\d+\w?)\s*[.,]\s*(?=\w)", r"\1 "),  # "1339, Hollintan Rd Unit A"
        (r"^\W*#\s*(?=\d)", ""),  # "#1625 B Bramblehall Cir"
    )
)


def mend(typed: str) -> str:
    """Another way to read a line that names no home as it stands: letters for figures, words before the number."""
    for pattern, to in _MENDS:
        typed = pattern.sub(to, typed)  # type: ignore[arg-type]
    return typed


def _digits(text: str) -> str:
    return text.translate(str.maketrans("lLIiOo", "111100"))


def _number(address: Address) -> str:
    """House number with its fraction; a letter counts as the unit."""
    return address.number + (address.number_suffix if "/" in address.number_suffix else "")


def _house_key(address: Address) -> str:
    return f"{_number(address)}|{address.street()}"


def _marks(name: str) -> tuple[str, ...]:
    """Figures and lone letters of a street's name: 106th is no slip for 109th, nor Avenue B for Avenue C."""
    return tuple(re.findall(r"\d+|\b[A-Z]\b", name))


def _contradicts(typed: Address, own: Address) -> bool:
    """Whether a part that both have differs, or a unit is named where there is none."""
    mine, theirs = _directions(typed), _directions(own)
    if typed.unit_id() and not own.unit_id():
        return True
    return bool((typed.suffix and own.suffix and typed.suffix != own.suffix) or (mine and theirs and mine != theirs))


def _spelled(address: Address, suffix: str) -> str:
    """The name solid with its directions, and maybe its type, spelled out: "N Point" and "Northpoint" are one."""
    before, after = (SPELLED.get(d, "") for d in (address.predirection, address.postdirection))
    name = SPELLED.get(address.name, address.name)
    return _solid(f"{after}{before}{name}{SPELLED_SUFFIX.get(suffix, suffix)}")


def _sounds_like(typed: Address, place: _Place) -> bool:
    """Whether the streets read aloud are one, a word having been taken for a direction or a type in one of them.

    "North Pt" may be "North Point Pl" without its type, "Northpoint Pl" is it in full.
    """
    if typed.suffix and _spelled(typed, typed.suffix) == place.spelled:
        return True
    same_type = not typed.suffix or typed.suffix == place.address.suffix
    return same_type and _spelled(typed, "") == place.spelled


def _solid(text: str) -> str:
    return text.replace(" ", "")


def _directions(address: Address) -> tuple[str, ...]:
    """Directions wherever they stand: "N Oak" and "Oak N" are taken for one street unless both exist."""
    return tuple(sorted(d for d in (address.predirection, address.postdirection) if d))


def _likeness(a: str, b: str) -> float:
    """Likeness of two street names, 0 to 100: one slip in a name of ten letters costs about six."""
    if not a or not b:
        return 0.0
    slips = OSA.distance(a, b)
    return max(0.0, 100.0 - 60.0 * slips / max(len(a), len(b), 4)) if slips <= 3 else fuzz.ratio(a, b) - 10


def _begins(solid: str, place: _Place) -> float:
    street, name = _solid(place.address.street()), _solid(place.address.name)
    if street.startswith(solid) or name.startswith(solid):
        return 100.0
    return max(fuzz.ratio(solid, street), fuzz.ratio(solid, name), fuzz.ratio(solid, street[: len(solid)]))


def _in_words(differs: Sequence[Differs]) -> str:
    return ", ".join(differs) or "the same but for its writing"


def _doubt(
    typed: str, scored: Sequence[tuple[float, _Place, str]], doubt: Doubt, differs: Sequence[Differs] = ()
) -> Match:
    top = scored[0][0]
    return Match(
        typed=typed,
        status=MatchStatus.DOUBTFUL,
        place_id=None,
        candidates=tuple(
            Candidate(place_id=p.place_id, address=p.shown, score=round(s, 1), why=w)
            for s, p, w in scored[:_SHOWN]
            if s >= top - 45
        ),
        why=f"{doubt}: {_in_words(differs)}." if doubt is Doubt.DIFFERS else str(doubt),
        doubt=doubt,
        differs=tuple(differs),
    )


def _none(typed: str, doubt: Doubt) -> Match:
    return Match(typed=typed, status=MatchStatus.NONE, place_id=None, candidates=(), why=str(doubt), doubt=doubt)
