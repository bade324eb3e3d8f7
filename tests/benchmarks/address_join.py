"""How well are messy typed addresses joined to parcels? Run it; it prints tables.

``python tests/benchmarks/address_join.py [--seeds 5] [--answers DIR]``

Three sources of mess:

1. an invented community written here (3,000 homes, 3,000 typed rows, 8 % of the rows
   without a parcel), with streets planted to be confused and several errors in one row;
2. the project's synthetic community, when ``--answers`` names a folder that
   ``python -m synthetic_community`` wrote (its truth is in ``truth/answers_join.csv``);
3. a real county's parcel file, when it is beside the project (``../shared/data``), its
   single-family homes typed as messily as in 1.

"house on file" rows whose wrong number happens to be another existing house cannot be
told from right ones by anyone who sees the address alone; they count as wrong here and
are shown apart.
"""

from __future__ import annotations

import argparse
import csv
import random
import re
import sys
import time
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
if str(ROOT) not in sys.path:
    sys.path.insert(0, str(ROOT))

from geo.addresses import AddressBook, Match, MatchStatus, parse  # noqa: E402
from geo.parcels import read_parcels  # noqa: E402

COUNTY = ROOT.parent / "shared" / "data" / "county_parcels" / "parcels.geojson"
NAMES = [
    "ALDEN",
    "ALDER",
    "ASPEN",
    "ASTER",
    "BRIAR",
    "BRIER",
    "BROOK",
    "BROOKS",
    "CEDAR",
    "CEDER",
    "CINDER",
    "CLOVER",
    "CLEVER",
    "CORAL",
    "CORRAL",
    "DALTON",
    "DAYTON",
    "DELL",
    "DALE",
    "ELDER",
    "FALCON",
    "FALLON",
    "FERN",
    "GARNET",
    "GARRETT",
    "GRANITE",
    "HAZEL",
    "HERON",
    "HERRON",
    "HOLLY",
    "HOLLOW",
    "IRIS",
    "IVORY",
    "IVY",
    "JUNIPER",
    "KESTREL",
    "KIRBY",
    "LARK",
    "LARCH",
    "LAUREL",
    "LAWRENCE",
    "LINDEN",
    "LINDON",
    "LYNDEN",
    "MARLIN",
    "MERLIN",
    "MARTIN",
    "MEADOW",
    "MESA",
    "MILL",
    "MILLS",
    "MOSS",
    "NUTMEG",
    "OAK",
    "OAT",
    "OLIVE",
    "ORCHARD",
    "OSPREY",
    "PARTRIDGE",
    "PINE",
    "PINES",
    "POPLAR",
    "QUAIL",
    "QUARRY",
    "RAVEN",
    "REED",
    "REID",
    "ROWAN",
    "SAGE",
    "SORREL",
    "SPRUCE",
    "STERLING",
    "STIRLING",
    "STONE",
    "SUMAC",
    "TAMARIND",
    "TEAL",
    "THISTLE",
    "VALE",
    "VIOLET",
    "WALNUT",
    "WILLOW",
    "WILSON",
    "WREN",
    "YARROW",
    "ZINNIA",
]
LONG = [
    "EAGLE CREST",
    "FOX HOLLOW",
    "COURT HOUSE",
    "NORTH POINT",
    "OLD MILL",
    "MOUNT HOPE",
    "SAINT JAMES",
    "MCALLISTER",
    "ONEIL",
    "LAKE VIEW",
    "TIMBER RIDGE",
    "QUAIL RUN",
    "SILVER SPRING",
    "VIA SERENA",
]
ODD = [
    "1ST|ST",
    "2ND|ST",
    "3RD|AVE",
    "14TH|AVE",
    "21ST|ST",
    "STATE ROUTE 9|",
    "COUNTY ROAD 12|",
    "AVENUE B|",
    "AVENUE C|",
    "WEST|LN",
    "COURT|ST",
    "MAIN AVENUE|DR",
    "BROADWAY|",
]
SUFFIX = {
    "ST": ["STREET", "St.", "st", "Str"],
    "AVE": ["AVENUE", "Av", "Ave.", "AVE"],
    "DR": ["DRIVE", "Dr.", "Drv"],
    "LN": ["LANE", "Ln."],
    "CT": ["COURT", "Ct.", "crt"],
    "CIR": ["CIRCLE", "Cir.", "Circ"],
    "PL": ["PLACE", "Pl."],
    "WAY": ["WAY", "Wy"],
    "RD": ["ROAD", "Rd."],
    "BLVD": ["BOULEVARD", "Blvd."],
    "TER": ["TERRACE", "Terr"],
    "LOOP": ["LOOP", "Loop"],
    "PKWY": ["PARKWAY", "Pky"],
    "HWY": ["HIGHWAY", "Hwy."],
}
WORDS = {
    "N": "North",
    "S": "South",
    "E": "East",
    "W": "West",
    "NE": "Northeast",
    "NW": "N.W.",
    "SE": "South East",
    "SW": "Southwest",
}
SPOKEN = {
    "1ST": ["First", "1"],
    "2ND": ["Second", "2"],
    "3RD": ["Third"],
    "14TH": ["Fourteenth", "14"],
    "21ST": ["Twenty-First", "Twenty First"],
    "SAINT": ["St.", "St"],
    "MCALLISTER": ["Mc Allister", "MacAllister"],
    "ONEIL": ["O'Neil", "O Neil", "O'Neill"],
    "STATE ROUTE 9": ["SR 9", "State Rte 9", "SR9", "Hwy 9", "St. Rt. 9"],
    "COUNTY ROAD 12": ["CR 12", "Co Rd 12", "County Rd. 12"],
    "AVENUE B": ["Ave B", "Ave. B"],
    "MOUNT HOPE": ["Mt Hope", "Mt. Hope"],
    "LAKE VIEW": ["Lakeview"],
    "TIMBER RIDGE": ["Timber Rdg", "Timberridge"],
    "NORTH POINT": ["N Point", "Northpoint", "North Pt"],
}
KEYS = dict(zip("QWERTYUIOPASDFGHJKLZXCVBNM", "WESTRUYOUOSADFGHLKJXZCVBN", strict=False))
KEYS |= {"A": "S", "E": "R", "I": "U", "O": "I", "L": "K", "M": "N", "N": "M"}
CITY = ["Brookhaven Falls", "Cedar Park", "Anytown", "Glen Rose"]


@dataclass(frozen=True)
class Home:
    """A home as the parcel file has it."""

    place_id: str
    number: str
    pre: str
    name: str
    suffix: str
    post: str
    unit: str

    def line(self) -> str:
        """The county's way to write it."""
        parts = [self.number, self.pre, self.name, self.suffix, self.post, f"UNIT {self.unit}" if self.unit else ""]
        return " ".join(p for p in parts if p)


def community(rng: random.Random, size: int) -> list[Home]:
    """Homes on about a hundred streets, many of which sound like another."""
    streets: list[tuple[str, str, str, str]] = []
    kinds = list(SUFFIX)[:11]
    for name in [*NAMES, *LONG]:
        suffix = rng.choice(kinds)
        twin = rng.random()
        if twin < 0.12:
            streets += [("N", name, suffix, ""), ("S", name, suffix, "")]
        elif twin < 0.20:
            streets += [("", name, suffix, "E"), ("", name, suffix, "W")]
        elif twin < 0.32:
            streets += [("", name, suffix, ""), ("", name, rng.choice([k for k in kinds if k != suffix]), "")]
        elif twin < 0.40:
            streets.append((rng.choice("NSEW"), name, suffix, ""))
        elif twin < 0.48:
            streets.append(("", name, suffix, rng.choice(["N", "S", "NW", "SE"])))
        else:
            streets.append(("", name, suffix, ""))
    streets += [("", *odd.split("|"), "") for odd in ODD]  # type: ignore[misc]
    weights = [rng.uniform(0.3, 2.0) for _ in streets]
    homes: list[Home] = []
    taken: set[str] = set()
    spot = {s: rng.choice([100, 200, 1000, 2400, 10200]) + rng.randrange(0, 20) for s in streets}
    while len(homes) < size:
        street = rng.choices(streets, weights)[0]
        spot[street] += rng.choice([1, 2, 2, 3, 4, 4, 6, 8])
        number = str(spot[street])
        draw = rng.random()
        units = [""]
        if draw < 0.025:
            units = ["A", "B"]
        elif draw < 0.035:
            units = [str(k) for k in range(1, rng.choice([4, 6, 8]) + 1)]
        elif draw < 0.04:
            number += " 1/2"
        for unit in units:
            home = Home(f"P{len(homes):05d}", number, street[0], street[1], street[2], street[3], unit)
            if home.line() not in taken and len(homes) < size:
                taken.add(home.line())
                homes.append(home)
    return homes


def misspell(rng: random.Random, word: str) -> str:
    """One slip of a finger or of the ear."""
    letters = [i for i, c in enumerate(word) if c.isalpha()]
    if len(letters) < 3:
        return word
    i = rng.choice(letters[1:] if rng.random() < 0.9 else letters)
    kind = rng.randrange(6)
    if kind == 0 and i + 1 < len(word):
        return word[:i] + word[i + 1] + word[i] + word[i + 2 :]
    if kind == 1:
        return word[:i] + word[i + 1 :]
    if kind == 2:
        return word[:i] + word[i] + word[i:]
    if kind == 3:
        return word[:i] + KEYS.get(word[i].upper(), "E") + word[i + 1 :]
    for old, new in rng.sample(
        [
            ("IE", "EI"),
            ("LL", "L"),
            ("TT", "T"),
            ("EY", "Y"),
            ("C", "K"),
            ("PH", "F"),
            ("Y", "IE"),
            ("ER", "OR"),
            ("OW", "O"),
            ("A", "E"),
            ("S", "Z"),
        ],
        11,
    ):
        if old in word[1:]:
            at = word.index(old, 1)
            return word[:at] + new + word[at + len(old) :]
    return word[:i] + word[i + 1 :]


def typed(rng: random.Random, home: Home) -> tuple[str, bool]:
    """What a person writes for a home, and whether the house number is wrong in it."""
    number, unit, name, wrong = home.number, home.unit, home.name, False
    if rng.random() < 0.02:
        digits = re.match(r"\d+", number).group()  # type: ignore[union-attr]
        while (new := slip_of_number(rng, digits)) == digits or not new.strip("0"):
            pass
        number, wrong = new + number[len(digits) :], True
    elif "0" in number[1:] and rng.random() < 0.02:
        number = number[0] + number[1:].replace("0", "O", 1)
    elif rng.random() < 0.003:
        number = ""
    for plain, ways in SPOKEN.items():
        if re.search(rf"\b{plain}\b", name) and rng.random() < 0.6:
            name = re.sub(rf"\b{plain}\b", rng.choice(ways), name)
            break
    draw = rng.random()
    if draw < 0.15:
        name = misspell(rng, name)
    if draw < 0.035:
        name = misspell(rng, name)
    if rng.random() < 0.02 and " " in name:
        name = name.replace(" ", "", 1)
    suffix = home.suffix
    draw = rng.random()
    if draw < 0.13:
        suffix = ""
    elif draw < 0.20 and suffix:
        suffix = rng.choice([k for k in SUFFIX if k != suffix])
    if suffix and rng.random() < 0.6:
        suffix = rng.choice(SUFFIX.get(suffix, [suffix]))
    pre, post = home.pre, home.post
    draw = rng.random()
    if draw < 0.12:
        pre = post = ""
    elif draw < 0.25:
        pre, post = post, pre
    elif draw < 0.26:
        pre = rng.choice("NSEW") if not (pre or post) else pre
    pre, post = (WORDS[d] if d and rng.random() < 0.4 else d for d in (pre, post))
    front = back = ""
    if unit and rng.random() > 0.08:
        way = rng.randrange(8)
        if way == 0 and unit.isalpha():
            number += rng.choice(["-", "", " "]) + unit
        elif way == 1:
            front = rng.choice([f"Unit {unit}, ", f"#{unit} ", f"Apt {unit}, "])
        else:
            back = rng.choice(
                [f" #{unit}", f" # {unit}", f", Apt {unit}", f" apt. {unit}", f" Unit {unit}", f", unit #{unit}"]
            )
    elif not unit and rng.random() < 0.004:
        back = rng.choice([" #1", " Apt A", " rear"])
    line = " ".join(p for p in (number, pre, name, suffix, post) if p) + back
    draw = rng.random()
    city = rng.choice(CITY)
    if draw < 0.10:
        line += f", {city}"
    elif draw < 0.16:
        line += f", {city}, WA 98000"
    elif draw < 0.20:
        line += f" {city} WA 98000-1234"
    elif draw < 0.22:
        line += f" {city}"
    elif draw < 0.23:
        line += f" {city} WA"
    elif draw < 0.235:
        line = f"PO Box {rng.randrange(1, 999)}, {line}"
    elif draw < 0.24:
        line = f"we live at {line}"
    elif draw < 0.245:
        line += " (green door)"
    line = front + line
    case = rng.random()
    line = line.lower() if case < 0.3 else line.title() if case < 0.7 else line
    if rng.random() < 0.06:
        line = "  " + line.replace(" ", "  ", 1) + " ."
    return line, wrong


def slip_of_number(rng: random.Random, digits: str) -> str:
    """Another digit, two digits exchanged, one left out, one too many."""
    i = rng.randrange(len(digits))
    kind = rng.random()
    if kind < 0.5:
        return digits[:i] + rng.choice("0123456789") + digits[i + 1 :]
    if kind < 0.75 and len(digits) > 1:
        i = rng.randrange(len(digits) - 1)
        return digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :]
    if kind < 0.9 and len(digits) > 1:
        return digits[:i] + digits[i + 1 :]
    return digits[:i] + rng.choice("0123456789") + digits[i:]


@dataclass(frozen=True)
class Result:
    """Counts of one run."""

    rows: int
    with_parcel: int
    automatic: int
    wrong: int
    wrong_number_on_file: int
    right: int
    in_review: int
    review: int
    seconds: float

    def row(self, label: str) -> str:
        """One line of the table."""
        precision = 1 - self.wrong / max(1, self.automatic)
        visible = 1 - (self.wrong - self.wrong_number_on_file) / max(1, self.automatic)
        return (
            f"{label:<26}{self.rows:>6}{precision:>10.4f}{self.wrong:>7}{visible:>11.4f}"
            f"{self.right / self.with_parcel:>9.4f}{(self.right + self.in_review) / self.with_parcel:>11.4f}"
            f"{self.review / self.rows:>8.3f}{self.seconds:>8.2f}"
        )


HEAD = (
    f"{'':<26}{'rows':>6}{'precision':>10}{'wrong':>7}{'w/o number':>11}"
    f"{'recall':>9}{'w/ review':>11}{'review':>8}{'s':>8}"
)


def score(matches: list[Match], truth: list[str], slips: list[bool], seconds: float) -> Result:
    """Compare matches with the truth ("" = no parcel)."""
    automatic = [m.status is MatchStatus.CERTAIN for m in matches]
    wrong = [a and m.place_id != t for a, m, t in zip(automatic, matches, truth, strict=True)]
    right = sum(a and m.place_id == t for a, m, t in zip(automatic, matches, truth, strict=True))
    review = [m.status is MatchStatus.DOUBTFUL for m in matches]
    listed = sum(
        d and any(c.place_id == t for c in m.candidates) for d, m, t in zip(review, matches, truth, strict=True) if t
    )
    return Result(
        rows=len(matches),
        with_parcel=sum(bool(t) for t in truth),
        automatic=sum(automatic),
        wrong=sum(wrong),
        wrong_number_on_file=sum(w and s for w, s in zip(wrong, slips, strict=True)),
        right=right,
        in_review=listed,
        review=sum(review),
        seconds=seconds,
    )


def run_invented(seed: int, size: int = 3_000, show: int = 0) -> Result:
    """One invented community of `size` homes on file and as many typed rows, 8 % of them without a parcel."""
    rng = random.Random(seed)
    homes = community(rng, int(size * 1.09))
    rng.shuffle(homes)
    on_file, absent = homes[:size], homes[size:]
    absent_streets = [
        Home("", str(rng.randrange(100, 3000)), "", n, "ST", "", "") for n in ("BIRCH", "COTTON", "EMBER", "FLINT")
    ]
    rows: list[tuple[str, str, bool]] = []
    for _ in range(size):
        draw = rng.random()
        if draw < 0.08:
            home = rng.choice(absent if draw < 0.055 else absent_streets)
            rows.append((typed(rng, home)[0], "", False))
        else:
            home = rng.choice(on_file)
            text, slip = typed(rng, home)
            rows.append((text, home.place_id, slip))
    return _run([(h.place_id, h.line()) for h in on_file], rows, show)


def run_county(seed: int, show: int = 0) -> Result:
    """The real file's single-family homes (LANDUSE_CD 11) typed messily; the book holds every parcel."""
    parcels = read_parcels(COUNTY).parcels
    book = [(str(i), str(a)) for i, a in zip(parcels["parcel_id"], parcels["address"], strict=True)]
    single = parcels[(parcels["land_use"] == "11") & parcels["has_number"]]
    rng = random.Random(seed)
    rows: list[tuple[str, str, bool]] = []
    for place_id, address in zip(single["parcel_id"], single["address"], strict=True):
        p = parse(str(address))
        home = Home(str(place_id), p.house(), p.predirection, p.name, p.suffix, p.postdirection, p.unit_id())
        text, slip = typed(rng, home)
        rows.append((text, str(place_id), slip))
    return _run(book, rows, show)


def run_folder(folder: Path, show: int = 0) -> Result:
    """The synthetic community's own answers against its own truth."""
    frame = read_parcels(folder / "parcels.geojson").parcels
    book = [
        (f"{i}/{u}" if u else str(i), f"{a} UNIT {u}" if u else str(a))
        for i, a, units in zip(frame["parcel_id"], frame["address"], frame["units"], strict=True)
        for u in (units or ("",))
    ]
    with (folder / "answers.csv").open(encoding="utf-8-sig", newline="") as file:
        answers = list(csv.DictReader(file))
    with (folder / "truth" / "answers_join.csv").open(encoding="utf-8-sig", newline="") as file:
        truth = list(csv.DictReader(file))
    known = {place for place, _ in book}
    rows: list[tuple[str, str, bool]] = []
    for answer, true in zip(answers, truth, strict=True):
        place = f"{true['parcel_no']}/{true['unit']}" if true["unit"] else true["parcel_no"]
        slip = "address:number_wrong" in true["mess"].split(";")
        rows.append((answer["address"], place if place in known else "", slip))
    return _run(book, rows, show)


def _run(book: list[tuple[str, str]], rows: list[tuple[str, str, bool]], show: int) -> Result:
    start = time.perf_counter()
    matches = AddressBook(book).match_all([r[0] for r in rows])
    seconds = time.perf_counter() - start
    names = dict(book)
    for match, (_, true_id, slip) in zip(matches, rows, strict=True):
        bad = match.status is MatchStatus.CERTAIN and match.place_id != true_id
        offered = any(c.place_id == true_id for c in match.candidates)
        lost = bool(true_id) and match.status is not MatchStatus.CERTAIN and not offered
        if (bad or lost) and show > 0:
            show -= 1
            found = names.get(match.place_id or "", "")
            label = "WRONG" if bad else "lost "
            print(
                f"  {label} {match.typed!r} truth {names.get(true_id, '(not on file)')!r} "
                f"got {found!r} slip={slip} | {match.why}"
            )
    return score(matches, [r[1] for r in rows], [r[2] for r in rows], seconds)


def main() -> None:
    """Print the tables."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--seeds", type=int, default=5)
    options.add_argument(
        "--answers", type=Path, nargs="*", default=[], help="folder written by python -m synthetic_community"
    )
    options.add_argument("--show", type=int, default=0, help="print that many wrong or lost rows per run")
    chosen = options.parse_args()
    print(HEAD)
    for seed in range(1, chosen.seeds + 1):
        print(run_invented(seed, show=chosen.show).row(f"invented, seed {seed}"))
    if COUNTY.exists():
        for seed in range(1, chosen.seeds + 1):
            print(run_county(seed, show=chosen.show).row(f"county homes, seed {seed}"))
    else:
        print("county homes: not run, the county's file is not beside the project")
    for folder in chosen.answers:
        print(run_folder(folder, show=chosen.show).row(f"synthetic, {folder.name}"))


if __name__ == "__main__":
    main()
