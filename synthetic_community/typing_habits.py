"""How people write addresses, dates and choices, and what goes wrong when they do.

Each function returns the text and the names of the kinds of mess it holds, so
that a check of the import can say which kind it fails on. Nothing here is
unfair on purpose: a person who knows the streets can tell nearly every home,
and a row that nobody could join is named ``ambiguous``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from synthetic_community.names import SUFFIX_WORDS, TWIN_ENDINGS, Address, NameBook, StreetName

__all__ = [
    "CITY",
    "STATE",
    "ZIP",
    "Gazetteer",
    "date_code",
    "shifted",
    "type_address",
    "type_choice",
    "type_date",
    "type_nowhere",
]

CITY, STATE, ZIP = "Pellmarsh", "WI", "53000"

_ODD_SUFFIX: dict[str, tuple[str, ...]] = {
    "Ave": ("Av", "Aven", "Ave.", "Avnue"),
    "Blvd": ("Boul", "Bvd", "Blvd.", "Bl"),
    "Cir": ("Circ", "Crcl", "Cr.", "Cirlce"),
    "Ct": ("Crt", "Ct.", "Cort", "Crt."),
    "Cv": ("Cv.", "Cov"),
    "Dr": ("Drv", "Dr.", "Drv."),
    "Ln": ("La", "Ln.", "Lne", "Lan"),
    "Loop": ("Lp", "Loop."),
    "Path": ("Pth", "Path."),
    "Pkwy": ("Pky", "Prkwy", "Pkwy.", "Park Way"),
    "Pl": ("Plc", "Pl.", "Plce"),
    "Pt": ("Pt.", "Pnt"),
    "Rd": ("Rd.", "Roa"),
    "Rdg": ("Rg", "Rdge"),
    "Run": ("Run.", "Rn"),
    "St": ("Str", "St.", "Strt", "Stret"),
    "Ter": ("Terr", "Terr.", "Terace"),
    "Trl": ("Tr", "Trl.", "Trial"),
    "Way": ("Wy", "Way."),
    "Xing": ("Crssng", "X-ing", "Crossing."),
}
_DIRECTION_WORDS = {
    "N": "North",
    "S": "South",
    "E": "East",
    "W": "West",
    "NE": "Northeast",
    "NW": "Northwest",
    "SE": "Southeast",
    "SW": "Southwest",
}
_ORDINAL_WORDS = {
    "1st": "First",
    "2nd": "Second",
    "3rd": "Third",
    "4th": "Fourth",
    "5th": "Fifth",
    "6th": "Sixth",
    "7th": "Seventh",
    "8th": "Eighth",
    "9th": "Ninth",
    "10th": "Tenth",
    "11th": "Eleventh",
    "12th": "Twelfth",
}
_KEYBOARD = {
    "a": "sqz",
    "b": "vn",
    "c": "xv",
    "d": "sf",
    "e": "wr",
    "f": "dg",
    "g": "fh",
    "h": "gj",
    "i": "uo",
    "k": "jl",
    "l": "k",
    "m": "n",
    "n": "bm",
    "o": "ip",
    "p": "o",
    "r": "et",
    "s": "ad",
    "t": "ry",
    "u": "yi",
    "w": "qe",
    "y": "tu",
}
_MONTH_NAMES = "January February March April May June July August September October November December"
_MONTHS = tuple(_MONTH_NAMES.split())


@dataclass(frozen=True, slots=True)
class Gazetteer:
    """What exists: for telling whether a slip has made an address mean another home."""

    numbers: frozenset[tuple[int, str]]
    """(house number, folded street text)"""
    stems: frozenset[str]
    stems_by_number: Mapping[int, frozenset[str]]
    """Which stems a house number occurs on."""
    by_stem: Counter[tuple[int, str]]
    """Parcels by (number, folded stem)."""
    by_stem_suffix: Counter[tuple[int, str]]
    """Parcels by (number, folded stem and suffix)."""
    by_stem_direction: Counter[tuple[int, str]]
    """Parcels by (number, folded stem and directions)."""

    @classmethod
    def of(cls, addresses: Iterable[Address]) -> Gazetteer:
        """Collect the addresses of all parcels with homes."""
        known = list(addresses)
        by_number: dict[int, set[str]] = {}
        for a in known:
            by_number.setdefault(a.number, set()).add(a.street.stem.lower())
        return cls(
            numbers=frozenset((a.number, a.street.text.lower()) for a in known),
            stems=frozenset(a.street.stem.lower() for a in known),
            stems_by_number={number: frozenset(stems) for number, stems in by_number.items()},
            by_stem=Counter((a.number, a.street.stem.lower()) for a in known),
            by_stem_suffix=Counter((a.number, f"{a.street.stem} {a.street.suffix}".lower()) for a in known),
            by_stem_direction=Counter((a.number, _with_direction(a.street)) for a in known),
        )

    def numbers_of_stem(self, number: int, stem: str) -> bool:
        """Whether any street with this stem has this number."""
        return self.by_stem[number, stem.lower()] > 0


def _with_direction(street: StreetName) -> str:
    return f"{street.before}|{street.stem}|{street.after}".lower()


def _one_of(rng: np.random.Generator, options: Iterable[str]) -> str:
    choices = tuple(options)
    return choices[int(rng.integers(len(choices)))]


def _slip(word: str, rng: np.random.Generator) -> str:
    """One slip of the hand in a word: transposed, dropped, doubled or wrong letter."""
    spots = [i for i in range(1, len(word)) if word[i].isalpha()]
    if len(word) < 4 or not spots:
        return word
    i = spots[int(rng.integers(len(spots)))]
    how = int(rng.integers(4))
    if how == 0 and i + 1 < len(word) and word[i + 1].isalpha() and word[i] != word[i + 1]:
        return word[:i] + word[i + 1] + word[i] + word[i + 2 :]
    if how == 1:
        return word[:i] + word[i + 1 :]
    if how == 2:
        return word[:i] + word[i] + word[i:]
    near = _KEYBOARD.get(word[i].lower(), "e")
    return word[:i] + near[int(rng.integers(len(near)))] + word[i + 1 :]


def _edits(one: str, other: str) -> int:
    """Edit distance with transpositions of neighbors (optimal string alignment)."""
    rows = [list(range(len(other) + 1))]
    for i, a in enumerate(one, 1):
        row = [i]
        for j, b in enumerate(other, 1):
            best = min(row[-1] + 1, rows[-1][j] + 1, rows[-1][j - 1] + (a != b))
            if i > 1 and j > 1 and a == other[j - 2] and one[i - 2] == b:
                best = min(best, rows[-2][j - 2] + 1)
            row.append(best)
        rows.append(row)
    return rows[-1][-1]


def _mess_stem(address: Address, places: Gazetteer, rng: np.random.Generator) -> tuple[str, list[str]]:
    stem = address.street.stem
    u = rng.random()
    if stem in _ORDINAL_WORDS:
        if u < 0.18:
            return _ORDINAL_WORDS[stem], ["ordinal_spelled"]
        if u < 0.24:
            return stem[:-2] + " " + stem[-2:], ["ordinal_split"]
        if u < 0.29:
            return stem[:-2], ["ordinal_bare"]
        return stem, []
    if u < 0.14:
        for _ in range(12):
            out = _slip(stem, rng)
            twice = rng.random() < 0.12 and len(stem) >= 8
            if twice:
                out = _slip(out, rng)
            # Fair: with this house number, no other street is as near to what was typed.
            rivals = places.stems_by_number[address.number] - {stem.lower()}
            own = _edits(out.lower(), stem.lower())
            if (
                out != stem
                and out.lower() not in places.stems
                and all(_edits(out.lower(), rival) > own for rival in rivals)
            ):
                return out, ["typo_twice" if twice else "typo"]
        return stem, []
    if u < 0.17 and " " in stem:
        return stem.replace(" ", "", 1), ["words_joined"]
    if u < 0.17:
        for pair in TWIN_ENDINGS:
            for ending in pair:
                if stem.endswith(ending) and len(stem) > len(ending) + 2:
                    return stem[: -len(ending)] + " " + ending, ["word_split"]
    for long, short in (("Saint ", _one_of(rng, ("St ", "St. "))), ("Mount ", "Mt "), ("Fort ", "Ft ")):
        if stem.startswith(long) and rng.random() < 0.5:
            return short + stem[len(long) :], ["saint_short"]
    if "'" in stem and rng.random() < 0.6:
        return stem.replace("'", _one_of(rng, ("", "’"))), ["apostrophe"]
    return stem, []


def _mess_suffix(address: Address, places: Gazetteer, rng: np.random.Generator) -> tuple[str, list[str]]:
    street = address.street
    suffix = street.suffix
    u = rng.random()
    if u < 0.12:
        alike = places.by_stem_direction[address.number, _with_direction(street)]
        return "", ["suffix_dropped", *(["ambiguous"] if alike > 1 else [])]
    if u < 0.20:
        return _one_of(rng, _ODD_SUFFIX[suffix]), ["suffix_odd"]
    if u < 0.36:
        return SUFFIX_WORDS[suffix], ["suffix_spelled"] if SUFFIX_WORDS[suffix] != suffix else []
    if u < 0.375 and places.by_stem[address.number, street.stem.lower()] == 1:
        other = _one_of(rng, (s for s in ("Ct", "Ln", "Dr", "Cir", "Pl", "Way") if s != suffix))
        return other, ["suffix_wrong"]
    return suffix, []


def _mess_direction(address: Address, places: Gazetteer, rng: np.random.Generator) -> tuple[str, str, list[str]]:
    street = address.street
    before, after = street.before, street.after
    if not before and not after:
        return before, after, []
    u = rng.random()
    given = before or after
    if u < 0.12:
        alike = places.by_stem_suffix[address.number, f"{street.stem} {street.suffix}".lower()]
        return "", "", ["direction_dropped", *(["ambiguous"] if alike > 1 else [])]
    if u < 0.25:
        return after, before, ["direction_moved"]
    tags: list[str] = []
    if u < 0.42:
        word = _DIRECTION_WORDS[given]
        if len(given) == 2 and rng.random() < 0.3:
            word = f"{_DIRECTION_WORDS[given[0]]} {_DIRECTION_WORDS[given[1]]}"
        given, tags = word, ["direction_spelled"]
    elif u < 0.52:
        given, tags = ".".join(given) + ".", ["direction_dotted"]
    elif u < 0.55 and len(given) == 2:
        given, tags = " ".join(given), ["direction_split"]
    return (given, "", tags) if before else ("", given, tags)


def _wrong_number(address: Address, places: Gazetteer, rng: np.random.Generator) -> str:
    """A house number with one slip, that no street of this stem has."""
    right = str(address.number)
    for _ in range(30):
        digits = list(right)
        i = int(rng.integers(len(digits)))
        if rng.random() < 0.4 and i + 1 < len(digits):
            digits[i], digits[i + 1] = digits[i + 1], digits[i]
        else:
            digits[i] = str(int(rng.integers(0 if i else 1, 10)))
        out = "".join(digits)
        if out != right and out[0] != "0" and not places.numbers_of_stem(int(out), address.street.stem):
            return out
    return right


def type_address(address: Address, places: Gazetteer, rng: np.random.Generator) -> tuple[str, list[str]]:
    """Write a home's address as a resident might.

    Returns
    -------
    (text, kinds of mess)
        The kinds are empty for a plainly written address. ``ambiguous`` among
        them means that what is left fits more than one home.
    """
    stem, tags = _mess_stem(address, places, rng)
    suffix, more = _mess_suffix(address, places, rng)
    before, after, turned = _mess_direction(address, places, rng)
    tags += more + turned
    if "suffix_dropped" in tags and "direction_dropped" in tags:
        tags = [t for t in tags if t != "ambiguous"]
        if places.by_stem[address.number, address.street.stem.lower()] > 1:
            tags.append("ambiguous")
    number = str(address.number)
    if rng.random() < 0.02:
        wrong = _wrong_number(address, places, rng)
        if wrong != number:
            number, tags = wrong, [*tags, "number_wrong"]
    elif rng.random() < 0.006 and ("0" in number or "1" in number):
        number = number.replace("0", "O") if "0" in number else number.replace("1", "l")
        tags.append("number_letters")
    elif rng.random() < 0.012:
        number += _one_of(rng, (",", " -", "."))
        tags.append("number_punctuated")
    elif rng.random() < 0.008:
        number = _one_of(rng, ("No. ", "#", "Nr ")) + number
        tags.append("number_marked")
    parts = [number, before, stem, suffix, after]
    text = " ".join(p for p in parts if p)
    if address.unit:
        text, unit_tags = _type_unit(text, number, address.unit, rng)
        tags += unit_tags
    return _dress(text, tags, rng)


def _type_unit(text: str, number: str, unit: str, rng: np.random.Generator) -> tuple[str, list[str]]:
    u = rng.random()
    if u < 0.08:
        return text, ["unit_missing", "ambiguous"]
    if u < 0.2:
        return f"{number}{_one_of(rng, ('-', '', ' '))}{unit}{text[len(number) :]}", ["unit_on_number"]
    if u < 0.26:
        return f"Unit {unit}, {text}", ["unit_first"]
    form = _one_of(
        rng,
        (" Unit {}", ", Unit {}", " #{}", " # {}", " Apt {}", " apt. {}", "-{}", ", {}", " unit{}", " Ste {}", " ({})"),
    )
    return text + form.format(unit), ["unit_form"] if form != " Unit {}" else []


def _dress(text: str, tags: list[str], rng: np.random.Generator) -> tuple[str, list[str]]:
    """Tails, case, spaces: what a person can read past and a program must."""
    u = rng.random()
    if u < 0.2:
        city = _slip(CITY, rng) if rng.random() < 0.08 else CITY
        tail = _one_of(
            rng,
            (
                f", {city}, {STATE} {ZIP}",
                f" {city} {STATE}",
                f", {city}",
                f", {city} {STATE} {ZIP}-0000",
                f" {ZIP}",
                f", {city}, Wisconsin",
                f"\n{city}, {STATE} {ZIP}",
                f", {city}, {STATE}, USA",
            ),
        )
        text, tags = text + tail, [*tags, "tail"]
    elif u < 0.215:
        text += _one_of(rng, (" (corner house)", " - blue door", " (back gate)", " / rented out"))
        tags = [*tags, "comment"]
    elif u < 0.225:
        text = _one_of(rng, ("Lot 14, ", "Home: ", "my address is ", "Residence at ")) + text
        tags = [*tags, "lead"]
    u = rng.random()
    if u < 0.12:
        text, tags = text.upper(), [*tags, "upper"]
    elif u < 0.30:
        text, tags = text.lower(), [*tags, "lower"]
    elif u < 0.315:
        text, tags = text.swapcase(), [*tags, "swapped_case"]
    u = rng.random()
    if u < 0.04:
        text, tags = text.replace(" ", "  ", 1), [*tags, "spaces"]
    elif u < 0.07:
        text, tags = _one_of(rng, (" ", "\t")) + text + " ", [*tags, "spaces"]
    elif u < 0.085:
        text, tags = text.replace(" ", "\u00a0"), [*tags, "spaces"]
    elif u < 0.095 and text.partition(" ")[2][:1].isalpha():
        text, tags = text.replace(" ", "", 1), [*tags, "space_missing"]
    elif u < 0.135:
        text, tags = text + _one_of(rng, (",", ".", ", ", ";")), [*tags, "trailing"]
    return text, tags


def type_nowhere(
    places: Gazetteer, streets: list[StreetName], book: NameBook, rng: np.random.Generator
) -> tuple[str, list[str]]:
    """An address that belongs to no home of the community, or no address at all."""
    u = rng.random()
    if u < 0.35:
        street = streets[int(rng.integers(len(streets)))]
        number = int(rng.integers(3000, 9000))
        return _dress(f"{number} {street.text}", ["nowhere_number"], rng)
    if u < 0.75:
        return _dress(f"{int(rng.integers(100, 2000))} {book.outsider().text}", ["nowhere_street"], rng)
    if u < 0.87:
        return f"PO Box {int(rng.integers(10, 900))}", ["nowhere_box"]
    if u < 0.95:
        return _one_of(rng, ("Clubhouse", "the pool house", "pond cottage?")), ["nowhere_common"]
    return _one_of(rng, ("same as last time", "n/a", "see above", "???")), ["nowhere_words"]


# ---------------------------------------------------------------------------
# Dates and choices


def type_date(
    when: date,
    rng: np.random.Generator,
    *,
    known: str,
    as_of: date,
) -> tuple[str, list[str]]:
    """Write a date as people do.

    Parameters
    ----------
    when
        The true day.
    known
        How well it is known: ``day``, ``month``, ``year`` or ``vague`` (may be off by up to two years).
    as_of
        The day of writing, for "10 years ago".
    """
    u = rng.random()
    if known == "day":
        if u < 0.34:
            return when.isoformat(), []
        if u < 0.62:
            return f"{when.month:02d}/{when.day:02d}/{when.year}", []
        if u < 0.72:
            return f"{when.month}/{when.day}/{when.year % 100:02d}", ["two_digit_year"]
        if u < 0.82:
            return f"{_MONTHS[when.month - 1]} {when.day}, {when.year}", []
        if u < 0.88:
            return f"{when.day}.{when.month}.{when.year}", []
        if u < 0.93:
            return f"{when.day} {_MONTHS[when.month - 1][:3]} {when.year}", []
        if u < 0.955 and when.day <= 12 and when.day != when.month:
            return f"{when.day:02d}/{when.month:02d}/{when.year}", ["day_month_swapped"]
        if u < 0.97:
            return f"{when.year}/{when.month:02d}/{when.day:02d}", []
        return f"{_MONTHS[when.month - 1][:3].lower()} {when.day} {when.year} ", ["stray_space"]
    if known == "month":
        if u < 0.35:
            return f"{when.month}/{when.year}", []
        if u < 0.65:
            return f"{_MONTHS[when.month - 1]} {when.year}", []
        if u < 0.8:
            return f"{_MONTHS[when.month - 1][:3]} {when.year}", []
        if u < 0.86:
            return f"{when.year}-{when.month:02d}", []
        if u < 0.93:
            season = ("winter", "spring", "summer", "fall")[(when.month % 12) // 3]
            return f"{season} {when.year}", ["season"]
        if u < 0.97:
            return f"{when.month:02d}/{when.year % 100:02d}", ["two_digit_year"]
        return f"late {when.year}" if when.month > 8 else f"early {when.year}", ["part_of_year"]
    if known == "year":
        if u < 0.8:
            return str(when.year), []
        if u < 0.9:
            return f"{when.year}.", ["trailing"]
        return f"in {when.year}", ["words"]
    off = int(rng.integers(-2, 3))
    year = min(when.year + off, as_of.year)
    if u < 0.35:
        return _one_of(rng, (f"about {year}", f"approx. {year}", f"~{year}", f"around {year}", f"ca {year}")), ["about"]
    if u < 0.5:
        return f"{year}?", ["question_mark"]
    if u < 0.68:
        first = year - int(rng.integers(1, 3))
        second = min(first + int(rng.integers(1, 4)), as_of.year)
        if second <= first:
            first = second - 1
        join = _one_of(rng, ("-", " - ", " or ", " to ", "–"))
        return f"{first}{join}{second if rng.random() < 0.8 else f'{second % 100:02d}'}", ["range"]
    ago = max(1, as_of.year - year)
    if u < 0.9:
        return _one_of(rng, (f"{ago} yrs ago", f"{ago} years ago", f"about {ago} years ago", f"{ago}+ years")), ["ago"]
    if u < 0.95:
        return f"'{year % 100:02d}", ["two_digit_year"]
    return _one_of(rng, ("don't remember", "before we came", "no idea", "long ago", "?")), ["unreadable"]


_CHOICE_SLIPS: dict[str, tuple[str, ...]] = {
    "gas storage": ("Gas", "gas tank", "Gas Storage ", "natural gas", "GAS STORAGE"),
    "electric storage": ("elec", "Electric", "electric tank", "electric  storage"),
    "heat pump storage": ("heat pump", "Heat-pump", "hybrid"),
    "tankless": ("Tankless", "on demand", "tankless gas", "tank less"),
    "yes": ("Yes", "Y", "y", "yep", "x", "YES", "true"),
    "no": ("No", "N", "n", "none", "NO", "false"),
    "not sure": ("idk", "don't know", "?", "unsure", "Not Sure"),
    "basement": ("Basement", "bsmt", "cellar", "basment"),
    "garage": ("Garage", "in garage", "garrage"),
    "closet": ("hall closet", "Closet", "utility closet"),
    "upper floor": ("2nd floor", "upstairs", "Upper Floor"),
    "attic": ("Attic", "attic "),
    "failed": ("leaked", "Failed", "it leaked", "burst"),
    "replaced before failing": ("replaced", "upgraded", "replaced before it failed"),
    "converted": ("went tankless", "Converted"),
    "first": ("1st", "1", "original", "First"),
    "second": ("2nd", "2", "Second"),
    "third or later": ("3rd", "3", "third"),
}


def type_choice(value: str, rng: np.random.Generator, share: float = 0.07) -> tuple[str, list[str]]:
    """Write a choice: mostly one of the template's own words, sometimes people's."""
    if rng.random() >= share or value not in _CHOICE_SLIPS:
        return value, []
    return _one_of(rng, _CHOICE_SLIPS[value]), ["free_choice"]


def date_code(made: date, rng: np.random.Generator) -> tuple[str, list[str]]:
    """What is printed on the plate for a month or week of making, in one of the generic forms."""
    year = f"{made.year % 100:02d}"
    week = made.isocalendar()
    forms = (
        (f"{made.month:02d}{year}", "code_mmyy"),
        (f"{year}{made.month:02d}", "code_yymm"),
        (f"{week.year % 100:02d}{week.week:02d}", "code_yyww"),
        ("ABCDEFGHJKLM"[made.month - 1] + year, "code_letter"),
    )
    text, tag = forms[int(rng.integers(4))]
    if rng.random() < 0.06:
        return text.lower() + _one_of(rng, ("?", "xx", " (worn)")), [tag, "code_worn"]
    return text, [tag]


def shifted(when: date, days: float) -> date:
    """A day so many days later."""
    return when + timedelta(days=round(days))
