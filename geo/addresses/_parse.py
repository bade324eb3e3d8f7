"""One typed line -> the parts of an address, in the post office's abbreviations."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, replace
from functools import lru_cache

from geo.addresses._abbreviations import (
    DIRECTIONS,
    ORDINALS,
    SPELLED,
    STANDING_UNITS,
    SUFFIX_WORDS,
    SUFFIXES,
    UNITS,
)

__all__ = ["Address", "expand", "is_box", "mend_letters", "parse", "street_of", "street_words"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Address:
    """The parts of an address, upper case, abbreviated as USPS Publication 28 does.

    Every part may be empty. ``number`` has no leading zeros; ``number_suffix``
    is a fraction (``1/2``) or a letter written against the number (``1204-B``).
    ``unit`` keeps its designator when one was typed (``APT 4``, ``# 4``, ``REAR``).
    """

    number: str = ""
    number_suffix: str = ""
    predirection: str = ""
    name: str = ""
    suffix: str = ""
    postdirection: str = ""
    unit: str = ""
    raw: str = ""

    def street(self) -> str:
        """The street alone, as in ``N MAIN AVENUE DR``."""
        return " ".join(p for p in (self.predirection, self.name, self.suffix, self.postdirection) if p)

    def house(self) -> str:
        """The number with its fraction or letter: ``12 1/2``, ``1204-B``."""
        joint = " " if "/" in self.number_suffix else "-"
        return f"{self.number}{joint}{self.number_suffix}" if self.number_suffix else self.number

    def unit_id(self) -> str:
        """The unit without its designator, a letter at the number counted as one: ``APT 4`` -> ``4``."""
        words = [w for w in self.unit.split() if w not in UNIT_MARKS]
        if self.number_suffix and "/" not in self.number_suffix:
            words.insert(0, self.number_suffix)
        return "-".join(words)

    def house_key(self) -> str:
        """Equal for the units of one house: number with fraction, and street."""
        fraction = self.number_suffix if "/" in self.number_suffix else ""
        parts = (self.number + fraction, self.predirection, self.name.replace(" ", ""), self.suffix)
        return "|".join((*parts, self.postdirection))

    def key(self) -> str:
        """Equal for two ways of writing the same address; spaces inside the name do not count."""
        return f"{self.house_key()}|{self.unit_id()}"

    def display(self) -> str:
        """The address on one line: ``104 N OAK ST APT 4``."""
        return " ".join(p for p in (self.house(), self.street(), self.unit) if p)


UNIT_MARKS = frozenset({*UNITS.values(), "#", "NO"})
_NO_NUMBER = frozenset({"XXX", "XX", "XXXX", "TBD", "UNKNOWN", "UNDETERMINED", "NONE", "NA"})
_HIGHWAY = re.compile(
    r"^(?P<kind>"
    r"(?P<state>S ?R|S ?H|(STATE|ST) (ROUTE|RTE|RT|ROAD|RD|HIGHWAY|HWY|HIWAY|HYW))"
    r"|(?P<county>C ?R|(COUNTY|CNTY|CO) (ROUTE|RTE|RT|ROAD|RD|HIGHWAY|HWY))"
    r"|(?P<us>U ?S( (ROUTE|RTE|RT|HIGHWAY|HWY))?)"
    r"|(?P<interstate>INTERSTATE|I)"
    r"|(?P<highway>HIGHWAY|HWY|HIWAY|HYW)"
    r"|(?P<route>ROUTE|RTE|RT)"
    r") ?-?(?P<number>\d{1,4}[A-Z]?)(?= |$)"
)
# USPS Publication 28, Appendix F, spells highways out: "STATE ROUTE 39", "COUNTY ROAD 441", "US HIGHWAY 70".
_HIGHWAY_NAMES = {
    "state": "STATE ROUTE",
    "county": "COUNTY ROAD",
    "us": "US HIGHWAY",
    "interstate": "INTERSTATE",
    "highway": "HIGHWAY",
    "route": "ROUTE",
}
_STATES = frozenset(
    [
        "AL",
        "AK",
        "AZ",
        "AR",
        "CA",
        "CO",
        "CT",
        "DE",
        "DC",
        "FL",
        "GA",
        "HI",
        "ID",
        "IL",
        "IN",
        "IA",
        "KS",
        "KY",
        "LA",
        "ME",
        "MD",
        "MA",
        "MI",
        "MN",
        "MS",
        "MO",
        "MT",
        "NE",
        "NV",
        "NH",
        "NJ",
        "NM",
        "NY",
        "NC",
        "ND",
        "OH",
        "OK",
        "OR",
        "PA",
        "RI",
        "SC",
        "SD",
        "TN",
        "TX",
        "UT",
        "VT",
        "VA",
        "WA",
        "WV",
        "WI",
        "WY",
    ]
)
_STATE_NAMES = (
    "ALABAMA|ALASKA|ARIZONA|ARKANSAS|CALIFORNIA|COLORADO|CONNECTICUT|DELAWARE|FLORIDA|GEORGIA|HAWAII|IDAHO|"
    "ILLINOIS|INDIANA|IOWA|KANSAS|KENTUCKY|LOUISIANA|MAINE|MARYLAND|MASSACHUSETTS|MICHIGAN|MINNESOTA|"
    "MISSISSIPPI|MISSOURI|MONTANA|NEBRASKA|NEVADA|NEW HAMPSHIRE|NEW JERSEY|NEW MEXICO|NEW YORK|"
    "NORTH CAROLINA|NORTH DAKOTA|OHIO|OKLAHOMA|OREGON|PENNSYLVANIA|RHODE ISLAND|SOUTH CAROLINA|"
    "SOUTH DAKOTA|TENNESSEE|TEXAS|UTAH|VERMONT|VIRGINIA|WASHINGTON|WEST VIRGINIA|WISCONSIN|WYOMING"
)
_ZIP = re.compile(r"(?<=\S) (\d{5}-\d{4}|\d{5})$")
_STATE_AND_ZIP = re.compile(rf"(?<=\S) ({'|'.join(sorted(_STATES))}|{_STATE_NAMES}) \d{{5}}(-\d{{4}})?$")
_COUNTRY = re.compile(r"(?<=\S) (USA|U S A|UNITED STATES( OF AMERICA)?)$")
_BOX = re.compile(r"\b(P ?O ?(BOX|BX|B)|POST OFFICE BOX|POBOX|(?<!\w)BOX) ?#? ?\w+$|^(P ?O ?BOX|POST OFFICE BOX)\b")
_NUMBER = re.compile(r"(?P<number>\d{1,6})(-?(?P<letter>[A-Z])|-(?P<more>\d{1,4}))?$")
_GRID = re.compile(r"[NSEW]\d+[NSEW]\d+$")
_FRACTION = re.compile(r"\d/\d$")
_RANGE = re.compile(
    r"(?P<first>\d+)(?: ?-?(?P<a>[A-Z]))? (?:TO|THRU|THROUGH|AND|&) "
    r"(?P<last>\d+)(?: ?-?(?P<b>[A-Z]))? (?P<street>(?!TO |THRU |THROUGH |AND |& ).+)"
)
_BREAKS = re.compile(r"[\r\n;|\t]+")
_STRANGE = re.compile(r"[^0-9A-Z,#&/\-. ]+")
_HYPHENS = re.compile(r" ?- (?=\D|$)|(?<= )-")
# What people write in a way that hides the parts: (pattern, what it stands for), in this order.
_SLIPS = (
    (re.compile(r"\((?:UNIT |APT |# ?)?([A-Z]|\d{1,3})\)"), r" UNIT \1 "),  # "Oak St (B)"
    (re.compile(r"\([^)]*\)"), " "),  # "(green door)"
    (re.compile(r"^\W*LOT \w+ ?, ?(?=\d)"), ""),  # "Lot 14, 12 Oak St": the lot is not a unit
    (
        re.compile(r"^\W*(?:#|NO\.? |NR\.? |NUMBER |HOUSE )+ ?(?=\d+[A-Z]? [A-Z]{2})(?!.*\D\d+ [A-Z])"),
        "",
    ),  # "#316 Oak St"
    (re.compile(r"^(\d+)(?!(?:ST|ND|RD|TH)\b)(?=[A-Z]{2})(?![OIL]+\b)"), r"\1 "),  # "230Oak St"
    (re.compile(r"(?<=[A-Z0-9] )(1[1-3]|\d?[04-9]) (TH)(?= [A-Z])"), r"\1\2"),  # "1203 4 th St"
    (re.compile(r"(?<=[A-Z0-9] )(?!1[1-3])(\d?1(?= ST)|\d?2(?= ND)|\d?3(?= RD)) (ST|ND|RD)(?= [A-Z])"), r"\1\2"),
    (re.compile(r"\b(UNIT|APT|STE|SUITE|APARTMENT)([A-Z]|\d{1,3})(?= *(?:,|$))"), r"\1 \2"),  # "unitB"
    (re.compile(r"(?<=[A-Z]{2}) ?[-,] ?([A-DF-MO-RT-VX-Z])(?= *(?:,|$))"), r" UNIT \1"),  # "Oak St-A", "Oak St, A"
    (re.compile(r" / .*$"), ""),  # "Oak St / rented out"
)
_UNIT_LIST = re.compile(
    rf"(?P<head>.+?) (?P<mark>{'|'.join([*UNITS, '#'])}) ?(?P<ids>\w+(?: ?(?:, |&| AND |/) ?\w+)+)$"
)
_ORDINAL = re.compile(r"(\d+)(ST|ND|RD|TH)$")
_GLUED_SUFFIXES = re.compile(r"(ST|AV|AVE)(CT|PL|DR|LN|WAY|CIR)$")
_DIGIT_BY_LETTER = re.compile(r"(?<![0-9A-Za-z])(?=[A-Za-z]*\d)[0-9OILoil]+(?:[A-Za-z]{2})?(?![0-9A-Za-z])")
_LETTERS_IN_NUMBER = re.compile(r"^(?=.*\d)[0-9OIL]+(ST|ND|RD|TH)?$")
_COMMON_TYPES = frozenset(
    ["AVE", "BLVD", "CIR", "CT", "DR", "HWY", "LN", "LOOP", "PKWY", "PL", "RD", "ST", "TER", "TRL", "WAY", "XING"]
)
# Interior words that look like a suffix but are, in a name, more often something else.
_KEEP_IN_NAME = frozenset({"LA", "VIA", "KEY", "IS", "ARC", "UN", "CEN", "EXP", "TR", "PR"})
_FIRST_WORDS = {"ST": "SAINT", "STE": "SAINTE", "STA": "SANTA", "STO": "SANTO", "DR": "DOCTOR", "FT": "FORT"}


def mend_letters(text: str) -> str:
    """Figures for the letters O, I and L typed inside a number: ``1O9TH`` -> ``109TH``.

    Only where a figure stands on both sides (O) or follows (O, I, L): ``12O`` and
    ``12L`` may be units and stay as they are.

    Examples
    --------
    >>> mend_letters("43116 1O9TH AV E")
    '43116 109TH AV E'
    """
    return _DIGIT_BY_LETTER.sub(lambda word: _mend_word(word.group()), text)


def _mend_word(word: str) -> str:
    upper = word.upper()
    if not _LETTERS_IN_NUMBER.match(upper) or upper.isdigit() or _ORDINAL.match(upper):
        return word
    ending = re.search(r"(ST|ND|RD|TH)$", upper)
    digits = upper[: ending.start()] if ending else upper
    mended = re.sub(r"O(?=\d)|(?<=\d)O(?=[\dO])", "0", digits)
    mended = re.sub(r"[IL](?=\d)", "1", mended)
    if ending:
        mended = mended.replace("O", "0").replace("I", "1").replace("L", "1")
    return mended + word[len(digits) :] if mended != digits else word


@lru_cache(maxsize=65_536)
def parse(text: str) -> Address:
    """Take an address apart; never raises, whatever was typed.

    Parts that cannot be recognized are left in ``name``. A typed line with no
    house number has ``number`` empty; a post office box has everything empty
    except ``raw``. City, state and ZIP Code are dropped.

    Examples
    --------
    >>> parse("104 north Main Avenue Drive, Apt. 4, Anytown WA 98000").display()
    '104 N MAIN AVENUE DR APT 4'
    """
    return expand(text)[0]


def street_words(text: str) -> tuple[str, ...]:
    """The words of a typed line that are left for the street, as typed: number, units, ZIP Code taken off."""
    return _pieces((_several(_plain(text)) or [text])[0])[3]


@lru_cache(maxsize=65_536)
def _pieces(text: str) -> tuple[str, str, str, tuple[str, ...]]:
    """(number, its fraction or letter, units, the words left for the street)."""
    lines, units = _segments(text)
    if not lines:
        return "", "", " ".join(units), ()
    number, number_suffix, words = _take_number(lines[0].split())
    words, more_units = _take_units(words)
    if number and not words and len(lines) > 1:  # "104, Oak St"
        words, further = _take_units(_without_tail(f"1 {lines[1]}").split()[1:])
        more_units = [*more_units, *further]
    return number, number_suffix, " ".join([*more_units, *units]), tuple(words)


def _parse_one(text: str) -> Address:
    number, number_suffix, unit, words = _pieces(text)
    return replace(street_of(words), number=number, number_suffix=number_suffix, unit=unit, raw=text)


def readable(address: str) -> str:
    """An address in capitals as people like to read it.

    Examples
    --------
    >>> readable("104 N 1ST ST SW UNIT B")
    '104 N 1st St SW Unit B'
    """
    kept = set(DIRECTIONS.values())
    return " ".join(w if w in kept else w.lower() if w[:1].isdigit() else w.capitalize() for w in address.split())


def expand(text: str) -> tuple[Address, ...]:
    """Every address that one line of a county's file stands for; at least one.

    ``101 TO 113 MAIN ST`` stands for its two ends, ``183 OAK LN UNIT A & B`` for
    two units, ``193 A TO 193 B OAK LN`` for 193-A and 193-B.
    """
    several = _several(_plain(text))
    return tuple(replace(_parse_one(one), raw=text) for one in several) or (_parse_one(text),)


def _several(plain: str) -> list[str]:
    """The addresses a line lists, or nothing when it is one address."""
    ends = _RANGE.match(plain)
    if ends:
        first = f"{ends['first']}{'-' + ends['a'] if ends['a'] else ''} {ends['street']}"
        last = f"{ends['last']}{'-' + ends['b'] if ends['b'] else ''} {ends['street']}"
        return [first, last]
    units = _UNIT_LIST.match(plain)
    if units and not _FRACTION.match(units["ids"]):
        identifiers = re.split(r" ?(?:, |&|\bAND\b|/) ?", units["ids"])
        if all(_is_identifier(i) for i in identifiers):
            return [f"{units['head']} {units['mark']} {i}" for i in identifiers]
    return []


def is_box(text: str) -> bool:
    """Whether the line names a post office box and no street."""
    return bool(_BOX.search(_plain(text))) and not _segments(text)[0]


@lru_cache(maxsize=65_536)
def _plain(text: str) -> str:
    """Upper case, no accents, no points or apostrophes, one space between words, commas kept."""
    if text.isascii():
        text = text.upper()
    else:
        text = re.sub(r"[½¼¾]", lambda m: {"½": " 1/2", "¼": " 1/4", "¾": " 3/4"}[m.group()], text)
        text = unicodedata.normalize("NFKD", text).upper()
        # Upper case can bring marks of its own: take them off after it.
        text = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))
        text = re.sub(r"[‐-―−]", "-", text.replace("⁄", "/").replace("’", ""))
    text = text.replace("'", "").replace("`", "").replace("_", "-").replace("#", " # ")
    if "." in text:
        text = re.sub(r"(?<!\d)\.|\.(?!\d)", ". ", text)
        text = re.sub(r"\b([NSEW])\. ([NSEW])\. ", r"\1\2 ", text).replace(". ", " ")
    text = " ".join(_BREAKS.sub(",", text).split())
    for slip, meant in _SLIPS:
        text = slip.sub(meant, text)
    text = _STRANGE.sub(" ", text)
    if "-" in text:
        text = _HYPHENS.sub(" ", text)
    text = mend_letters(text)
    return ", ".join(p for p in (" ".join(piece.split()) for piece in text.split(",")) if p).strip(" ,-.")


def _segments(text: str) -> tuple[list[str], list[str]]:
    """The lines that can hold a street, the one with the house number first, and the units beside them."""
    plain = _plain(text)
    plain = _COUNTRY.sub("", plain)
    kept: list[str] = []
    units: list[str] = []
    for piece in plain.split(", "):
        words = piece.split()
        if not words or _BOX.search(piece):
            continue
        rest, found = _take_units(words, alone=True)
        if found and not rest:
            units += found
        elif (found and not kept and not rest[0][0].isdigit() and words[0] in (*UNITS, "#")) or (
            found and words[0] in (*UNITS, "#")
        ):
            units += found
            kept.append(" ".join(rest))
        else:
            kept.append(piece)
    if not kept:
        return [], units
    start = next((i for i, piece in enumerate(kept) if _starts_with_number(piece.split())), None)
    if start is None:
        kept[0] = _from_first_number(kept[0])
        start = 0
    kept = kept[start:]
    kept[0] = _without_tail(kept[0])
    return kept, units


def _starts_with_number(words: list[str]) -> bool:
    return bool(words) and (words[0] in _NO_NUMBER or _is_number(words[0]))


def _is_number(word: str) -> bool:
    return bool(_NUMBER.match(word) or _GRID.match(word)) and not _ORDINAL.match(word)


def _from_first_number(piece: str) -> str:
    """Bring a number that is not in front to the front: "we live at 104 Oak St", "Oak St 104"."""
    words = piece.split()
    for i in range(1, len(words)):
        if not re.fullmatch(r"\d{1,6}(-?[A-Z])?", words[i]) or _HIGHWAY.search(" ".join(words[max(0, i - 2) : i + 1])):
            continue
        if _HIGHWAY.match(" ".join(words[i - 1 : i + 1])) or words[i - 1] in UNITS or words[i - 1] == "#":
            continue
        behind = words[i + 1 :]
        if any(w in SUFFIXES for w in behind) or (behind and not any(w in SUFFIXES for w in words[1:i])):
            return " ".join(words[i:])
        if not behind and len(words) > 1:
            return " ".join([words[i], *words[:i]])
        if behind and all(w in DIRECTIONS for w in behind):
            return " ".join([words[i], *words[:i], *behind])
    return piece


def _without_tail(piece: str) -> str:
    """Drop "<state> <ZIP>" or a lone ZIP Code; a city before it is found by :func:`street_of`'s callers."""
    if _STATE_AND_ZIP.search(piece):
        return _without_city(_STATE_AND_ZIP.sub("", piece))
    if _ZIP.search(piece) and len(piece.split()) >= 3 and not _HIGHWAY.search(" ".join(piece.split()[1:])):
        return _without_city(_ZIP.sub("", piece))
    words = piece.split()
    if len(words) > 4 and words[-1] in _STATES and words[-1] not in SUFFIXES and words[-1] not in DIRECTIONS:
        return _without_city(" ".join(words[:-1]))
    return piece


def _without_city(piece: str) -> str:
    """After a state or ZIP Code was found: drop the words after the street's suffix and direction."""
    words = piece.split()
    ends = [i for i in range(2, len(words)) if words[i] in SUFFIXES]
    if not ends:
        return piece
    # A common type ends the street where it first stands; "MOUNT" or "LAKE" may be in the name: the last of them.
    end = next((i for i in ends if SUFFIXES[words[i]] in _COMMON_TYPES and not _is_saint(words, i)), ends[-1]) + 1
    if end < len(words) and words[end] in SUFFIXES and all(w in DIRECTIONS for w in words[end + 1 :]):
        end += 1  # "MAIN AVENUE DR", but not "OAK LN GLEN FALLS"
    if end < len(words) and words[end] in DIRECTIONS:
        end += 1
    units = _take_units(words[end:], alone=True)[1]
    return " ".join([*words[:end], *units])


def _is_saint(words: list[str], i: int) -> bool:
    """Whether ST is Saint: right after the number or a direction, as in "104 N ST JAMES PL"."""
    return words[i] == "ST" and i + 1 < len(words) and (i == 1 or words[i - 1] in DIRECTIONS)


def _take_number(words: list[str]) -> tuple[str, str, list[str]]:
    """(number, fraction or letter, the other words)."""
    while words and words[0] in _NO_NUMBER:
        words = words[1:]
    if not words:
        return "", "", words
    head, rest = words[0], words[1:]
    if _GRID.match(head):
        return head, "", rest
    match = _NUMBER.match(head)
    if not match or _ORDINAL.match(head):
        return "", "", words
    if not rest:  # a number alone, or a street that is only a number: nothing to join
        return match["number"].lstrip("0"), "", rest
    number, letter = match["number"].lstrip("0"), match["letter"] or ""
    if match["more"]:
        number = f"{number}-{match['more']}"
    if rest and _FRACTION.match(rest[0]):
        return number, rest[0], rest[1:]
    lone = rest[0]
    if not letter and len(lone) == 1 and lone.isalpha() and lone not in (*DIRECTIONS, "O") and len(rest) > 2:
        # "1204 B OAK ST" is 1204-B; "1204 B ST" is a street called B; "5 O NEIL CT" is O'Neil.
        letter, rest = lone, rest[1:]
    return number, letter, rest


def _take_units(words: list[str], *, alone: bool = False) -> tuple[list[str], list[str]]:
    """Split off units: (words without them, the units). `alone`: the words are a piece of their own."""
    kept: list[str] = []
    units: list[str] = []
    i = 0
    while i < len(words):
        word = words[i]
        following = words[i + 1] if i + 1 < len(words) else ""
        if word == "#" or (word in UNITS and (kept or alone) and _is_identifier(following)):
            identifier = following.replace("#", "")
            if following == "#" and i + 2 < len(words):
                identifier, i = words[i + 2], i + 1
            if identifier:
                units.append(f"{UNITS.get(word, '#')} {identifier.lstrip('0') or identifier}")
            i += 2
        elif word in UNITS and len(kept) >= 2 and i == len(words) - 1 and word not in SUFFIXES:
            i += 1  # "104 OAK ST APT": the identifier was forgotten
        elif word in STANDING_UNITS and (alone or len(kept) >= 2) and i == len(words) - 1:
            units.append(STANDING_UNITS[word])
            i += 1
        else:
            kept.append(word)
            i += 1
    return kept, units


def _is_identifier(word: str) -> bool:
    if word == "#":
        return True
    return bool(re.fullmatch(r"\d+[A-Z]?|[A-Z]|[A-Z]-?\d+|\d+-[A-Z0-9]+", word))


@lru_cache(maxsize=65_536)
def street_of(words: tuple[str, ...]) -> Address:
    """The street parts of words that hold a street and nothing else (number and unit left empty)."""
    tokens = list(words)
    pre, tokens = _take_predirection(tokens)
    highway = _HIGHWAY.match(" ".join(tokens))
    if highway and not (highway["interstate"] == "I" and len(tokens) == 1):
        kind = next(k for k in _HIGHWAY_NAMES if highway[k])
        rest = " ".join(tokens)[highway.end() :].split()
        post = DIRECTIONS[rest.pop()] if rest and rest[-1] in DIRECTIONS else ""
        name = " ".join([_HIGHWAY_NAMES[kind], highway["number"], *rest])
        return Address(predirection=pre, name=name, postdirection=post)
    tokens = [part for token in tokens for part in _unglue(token)]
    post, tokens = _take_postdirection(tokens)
    suffix = ""
    if len(tokens) >= 2 and tokens[-1] in SUFFIXES and not (len(tokens) == 2 and _is_lettered(tokens)):
        suffix = SUFFIXES[tokens.pop()]
    return Address(predirection=pre, name=_street_name(tokens, suffix), suffix=suffix, postdirection=post)


def _unglue(token: str) -> list[str]:
    """Counties write "429TH STCT" for the court off 429th Street."""
    match = _GLUED_SUFFIXES.fullmatch(token)
    return [match[1], match[2]] if match else [token]


def _is_lettered(tokens: list[str]) -> bool:
    """Avenue B, Avenue N: the type stands first and the letter is the name."""
    return tokens[0] in ("AVENUE", "AVE", "AV") and (len(tokens[1]) == 1 or tokens[1].isdigit())


def _names_something(tokens: list[str]) -> bool:
    """Whether the words still hold a name when a direction before them is taken away."""
    left = [t for t in tokens if t not in DIRECTIONS]
    return bool(left) and not (len(left) == 1 and left[0] in SUFFIXES and tokens[0] == left[0])


def _take_predirection(tokens: list[str]) -> tuple[str, list[str]]:
    if len(tokens) < 2 or tokens[0] not in DIRECTIONS:
        return "", tokens
    first = DIRECTIONS[tokens[0]]
    second = DIRECTIONS.get(tokens[1], "")
    if first in "NS" and second in ("E", "W") and _names_something(tokens[2:]):
        return first + second, tokens[2:]
    if _names_something(tokens[1:]):
        return first, tokens[1:]
    if second and len(tokens) >= 3 and tokens[2] in SUFFIXES:  # "S WEST ST": the second is the name
        return first, tokens[1:]
    return "", tokens


def _take_postdirection(tokens: list[str]) -> tuple[str, list[str]]:
    if len(tokens) < 2 or tokens[-1] not in DIRECTIONS or (len(tokens) == 2 and _is_lettered(tokens)):
        return "", tokens
    last = DIRECTIONS[tokens[-1]]
    before = DIRECTIONS.get(tokens[-2], "")
    if len(tokens) >= 3 and before in ("N", "S") and last in ("E", "W"):
        return before + last, tokens[:-2]
    return last, tokens[:-1]


def _street_name(tokens: list[str], suffix: str) -> str:
    """The name in full words: figures for ordinals, inner suffixes spelled out (Pub. 28 section 234.2)."""
    out: list[str] = []
    i = 0
    while i < len(tokens):
        token = tokens[i].replace("-", "") if tokens[i].replace("-", "") in ORDINALS else tokens[i]
        following = tokens[i + 1] if i + 1 < len(tokens) else ""
        if token + following in ORDINALS and following:
            out.append(ORDINALS[token + following])
            i += 2
            continue
        if token in ORDINALS:
            out.append(ORDINALS[token])
        elif token in ("MC", "MAC", "O") and len(following) >= 3 and following.isalpha() and following not in SUFFIXES:
            out.append(token + following)
            i += 2
            continue
        elif token in _FIRST_WORDS and following and (i == 0 or token == "ST"):
            out.append(_FIRST_WORDS[token])
        elif token in SPELLED and len(tokens) > 1 and not _is_lettered(tokens):
            out.append(SPELLED[token])
        elif token.isdigit() and len(tokens) == 1:
            out.append(token + _ordinal_ending(int(token)))
        elif token in SUFFIX_WORDS and (len(tokens) > 1 or not suffix) and token not in _KEEP_IN_NAME:
            out.append(SUFFIX_WORDS[token])
        else:
            out += [part for part in token.split("-") if part] or [token]
        i += 1
    return " ".join(out).strip()


def _ordinal_ending(number: int) -> str:
    if number % 100 in (11, 12, 13):
        return "TH"
    return {1: "ST", 2: "ND", 3: "RD"}.get(number % 10, "TH")
