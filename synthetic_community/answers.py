"""What the residents answer, and how they write it.

About half of the homes answer, over the four months before `as_of`. A resident
knows what happened since moving in, and of the time before only what the
heater's plate says or that it is the house's first. The sheet is what a
volunteer would hand over: typed by many hands, with everything that goes wrong
in such sheets; `Row.mess` says what went wrong in each row.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from synthetic_community.heaters import DAYS_PER_YEAR, World, day, number_of
from synthetic_community.names import NameBook
from synthetic_community.streets import Layout
from synthetic_community.typing_habits import (
    Gazetteer,
    date_code,
    shifted,
    type_address,
    type_choice,
    type_date,
    type_nowhere,
)

__all__ = ["COLUMNS", "Row", "write_answers"]

COLUMNS = (
    "address",
    "kind",
    "tank_gallons",
    "installed",
    "installed_evidence",
    "date_code",
    "warranty_years",
    "warranty_end",
    "place",
    "pan",
    "leak_alarm",
    "auto_shutoff",
    "softener",
    "expansion_tank",
    "last_flush",
    "last_anode",
    "anode_work",
    "relief_valve_test",
    "symptoms",
    "heater_number",
    "previous_gone",
    "previous_end",
    "moved_in",
    "flush_day",
    "anode_day",
    "group_purchase",
    "weekdays",
    "consent",
    "contact",
    "answered_on",
    "remarks",
)

_REMARKS = (
    "Thanks for organizing this!",
    "Please call before coming, the dog is loud.",
    "Tank is boxed in behind shelves, hard to reach.",
    "We leave for the winter in December.",
    "Not sure about the dates, the papers are in storage.",
    "The previous owner did the work himself.",
    "Replaced the burner part once.",
    "Drain valve looks corroded",
    "Señor y señora prefieren español, por favor.",
    "Wasser läuft langsam, Zufluss prüfen",
    "¿Cuánto cuesta? 📞 after 5 pm",
    "naïve question: is a flush worth it?",
    'He said "six years", she said "nine"; see the papers, line 2',
    "two lines\nof remark",
)
_HOSTILE = (
    "=1+1",
    "<script>alert(1)</script>",
    "+15550100",
    "@SUM(A1:A9)",
    "-2+3",
    '=HYPERLINK("http://example.org","click")',
    "'; DROP TABLE answers; --",
    "{{7*7}}",
)
_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the sheet, and the truth about it (`home` is None where the address is no home's)."""

    values: dict[str, str]
    home: int | None
    typed_by: int | None
    """The home that answered, also when its address cannot be told from the row."""
    heater: int | None
    mess: tuple[str, ...]


@dataclass(slots=True)
class _Sheet:
    world: World
    layout: Layout
    places: Gazetteer
    book: NameBook
    rng: np.random.Generator
    heaters_of: list[list[int]]
    acts_of: dict[int, list[int]]


def write_answers(world: World, layout: Layout, seed: int) -> list[Row]:
    """Fill in the sheet.

    Parameters
    ----------
    world, layout
        The truth.
    seed
        Same seed, same sheet.

    Returns
    -------
    list of Row
        In the order of the answering days.
    """
    rng = np.random.default_rng([seed, 8, number_of(world.as_of)])
    heaters_of: list[list[int]] = [[] for _ in world.homes.home_id]
    for i, home in enumerate(world.heaters.home):
        heaters_of[int(home)].append(i)
    acts_of: dict[int, list[int]] = {}
    for k, i in enumerate(world.service.heater):
        acts_of.setdefault(int(i), []).append(k)
    sheet = _Sheet(
        world=world,
        layout=layout,
        places=Gazetteer.of(lot.address for lot in layout.lots),
        book=NameBook(rng),
        rng=rng,
        heaters_of=heaters_of,
        acts_of=acts_of,
    )
    dated: list[tuple[int, int, Row]] = []
    streets = list(dict.fromkeys(lot.address.street for lot in layout.lots))
    today = number_of(world.as_of)
    for home in np.flatnonzero(world.answers):
        # Most come early; late ones trickle in until the day of looking.
        when = today - int(121 * rng.beta(2.2, 1.3))
        when = max(when, int(world.homes.moved_in[home]) + 3)
        when = min(when, today)
        row = _answer(sheet, int(home), when)
        dated.append((when, len(dated), row))
        u = rng.random()
        if u < 0.03:
            again = min(today, when + int(rng.integers(1, 40)))
            dated.append((again, len(dated), _again(sheet, row, int(home), again)))
        u = rng.random()
        if u < 0.026:
            text, tags = type_nowhere(sheet.places, streets, sheet.book, rng)
            copy = dict(_answer(sheet, int(home), when).values) | {"address": text, "contact": ""}
            dated.append((when, len(dated), Row(copy, None, None, None, tuple(f"address:{tag}" for tag in tags))))
    dated.sort(key=lambda item: (item[0], item[1]))
    return [row for _, _, row in dated]


def _again(sheet: _Sheet, first: Row, home: int, when: int) -> Row:
    """The same home a second time: word for word, or afresh, sometimes against what it said before."""
    rng = sheet.rng
    u = rng.random()
    if u < 0.2:
        return Row(first.values, first.home, first.typed_by, first.heater, (*first.mess, "duplicate_same"))
    row = _answer(sheet, home, when)
    if u < 0.6:
        return Row(row.values, row.home, row.typed_by, row.heater, (*row.mess, "duplicate"))
    values = dict(row.values)
    wrong = int(rng.integers(4, 9))
    installed = day(int(sheet.world.heaters.installed[row.heater])) if row.heater is not None else day(when)
    values["installed"] = str(max(sheet.world.as_of.year - 25, installed.year - wrong))
    values["installed_evidence"] = "memory"
    values["kind"] = "electric storage" if values["kind"] != "electric storage" else "gas storage"
    kept = tuple(t for t in row.mess if not t.startswith(("installed:", "kind:")))
    return Row(values, row.home, row.typed_by, row.heater, (*kept, "duplicate_contradicting"))


def _answer(sheet: _Sheet, home: int, when: int) -> Row:
    world, rng = sheet.world, sheet.rng
    homes, heaters = world.homes, world.heaters
    mess: list[str] = []
    values = dict.fromkeys(COLUMNS, "")

    def put(column: str, written: tuple[str, list[str]]) -> None:
        values[column] = written[0]
        mess.extend(f"{column}:{tag}" for tag in written[1])

    lot = sheet.layout.lots[int(homes.lot[home])]
    belongs: int | None = home
    text, tags = type_address(lot.address.with_unit(str(homes.unit[home])), sheet.places, rng)
    if rng.random() < 0.003:
        text, tags, belongs = "", ["blank"], None
    put("address", (text, tags))

    today = day(when)
    owned = [i for i in sheet.heaters_of[home] if heaters.installed[i] <= when]
    i = owned[-1]
    if heaters.removed[i] >= 0:
        mess.append("replaced_after_answering")
    moved = int(homes.moved_in[home])
    saw_it = int(heaters.installed[i]) >= moved
    first_owner = moved - int(homes.completed[home]) < 120
    # Some answer in a hurry: half of what is not asked for by name is left blank.
    hurry = 0.35 if rng.random() < 0.2 else 0.0

    def asked(share: float) -> bool:
        return bool(rng.random() < share * (1 - hurry))

    kind = str(heaters.kind[i])
    tank = kind != "tankless"
    put("kind", type_choice(kind, rng) if asked(0.95) else (("unknown", []) if rng.random() < 0.3 else ("", [])))
    if tank and asked(0.75):
        gallons = int(heaters.gallons[i])
        put("tank_gallons", (f"{gallons} gal", ["unit"]) if rng.random() < 0.05 else (str(gallons), []))
    _put_installed(sheet, put, i, home, saw_it, first_owner, today, asked)
    if asked(0.5 if saw_it else 0.3):
        put("warranty_years", _type_warranty(int(heaters.warranty[i]), rng))
    elif saw_it and asked(0.12):
        ends = shifted(day(int(heaters.installed[i])), int(heaters.warranty[i]) * DAYS_PER_YEAR)
        put("warranty_end", type_date(ends, rng, known="day", as_of=today))

    for column, value in (
        ("pan", homes.pan),
        ("leak_alarm", homes.leak_alarm),
        ("auto_shutoff", homes.auto_shutoff),
        ("softener", homes.softener),
        ("expansion_tank", homes.expansion_tank),
    ):
        if asked(0.86):
            unsure = {"expansion_tank": 0.3, "pan": 0.1}.get(column, 0.06)
            word = "not sure" if rng.random() < unsure else ("yes" if value[home] else "no")
            put(column, type_choice(word, rng, 0.04))
    if asked(0.93):
        put("place", type_choice(str(homes.place[home]), rng))
    if asked(0.6):
        put("moved_in", type_date(day(moved), rng, known=_knows(rng, (0.25, 0.45, 0.22)), as_of=today))
    _put_care(sheet, put, i, moved, when, today, tank, asked)
    put("symptoms", _symptoms(int(heaters.fails[i]) - when, rng) if asked(0.85) else ("", []))
    _put_previous(sheet, put, owned, moved, first_owner, today, asked)
    _put_wishes(put, rng, asked, old=(when - int(heaters.installed[i])) / DAYS_PER_YEAR > 8)
    _put_last(put, rng, lot.address.number, today, asked)
    return Row(values, belongs, home, i, tuple(mess))


Put = Callable[[str, tuple[str, list[str]]], None]
Asked = Callable[[float], bool]


def _knows(rng: np.random.Generator, shares: tuple[float, float, float]) -> str:
    u = rng.random()
    if u < shares[0]:
        return "day"
    if u < shares[0] + shares[1]:
        return "month"
    return "year" if u < sum(shares) else "vague"


def _put_installed(
    sheet: _Sheet, put: Put, i: int, home: int, saw_it: bool, first_owner: bool, today: date, asked: Asked
) -> None:
    world, rng = sheet.world, sheet.rng
    installed = day(int(world.heaters.installed[i]))
    made = day(int(world.heaters.made[i]))
    original = int(world.heaters.sequence[i]) == 1
    u = rng.random()
    if rng.random() < 0.006:
        future = today + timedelta(days=int(rng.integers(40, 900)))
        put("installed", (future.isoformat(), ["future"]))
        put("installed_evidence", ("memory", []))
        return
    if rng.random() < 0.006 and not original:
        finished = day(int(world.homes.completed[home])).year
        put("installed", (str(finished - int(rng.integers(2, 6))), ["before_house"]))
        put("installed_evidence", ("memory", []))
        return
    if original and (first_owner or u < 0.5):
        finished_on = day(int(world.homes.completed[home]))
        put("installed", type_date(finished_on, rng, known=_knows(rng, (0.1, 0.25, 0.65)), as_of=today))
        put("installed_evidence", ("house completion", []))
    elif saw_it:
        if u < 0.32:
            put("installed", type_date(installed, rng, known="day", as_of=today))
            put("installed_evidence", ("permit or invoice", []))
        elif u < 0.45:
            put("installed", type_date(made, rng, known="month", as_of=today))
            put("installed_evidence", ("data plate", []))
        elif u < 0.95:
            put("installed", type_date(installed, rng, known=_knows(rng, (0.06, 0.34, 0.3)), as_of=today))
            put("installed_evidence", ("memory", []))
    elif u < 0.3:
        put("installed", type_date(made, rng, known="month", as_of=today))
        put("installed_evidence", ("data plate", []))
    elif u < 0.5:
        code, tags = date_code(made, rng)
        put("date_code", (code, tags))
        put("installed_evidence", ("date code", []))
        if rng.random() < 0.5:
            put("installed", type_date(made, rng, known="year", as_of=today))
    elif u < 0.8:
        put("installed", type_date(installed, rng, known="vague", as_of=today))
        put("installed_evidence", ("memory", []))
    if asked(0.12) and u >= 0.5:
        put("date_code", date_code(made, rng))


def _type_warranty(years: int, rng: np.random.Generator) -> tuple[str, list[str]]:
    u = rng.random()
    if u < 0.82:
        return str(years), []
    if u < 0.93:
        unit = ("yr", "years", "yrs.", "y")[int(rng.integers(4))]
        return f"{years} {unit}", ["unit"]
    if u < 0.96:
        return "lifetime", ["unreadable"]
    if u < 0.98:
        return f"{years}/1", ["two_terms"]
    return "expired", ["unreadable"]


def _put_care(sheet: _Sheet, put: Put, i: int, moved: int, when: int, today: date, tank: bool, asked: Asked) -> None:
    """The latest act of each kind that the household was there for."""
    service, rng = sheet.world.service, sheet.rng
    last: dict[str, int] = {}
    for k in sheet.acts_of.get(i, []):
        if moved <= service.day[k] <= when:
            last[str(service.act[k])] = int(service.day[k])
    saw_it = int(sheet.world.heaters.installed[i]) >= moved
    for column, acts in (
        ("last_flush", ("flush",)),
        ("last_anode", ("anode change", "anode check")),
        ("relief_valve_test", ("relief valve test",)),
    ):
        if not tank and column == "last_anode":
            continue
        done = max((last[a] for a in acts if a in last), default=None)
        if done is not None:
            if asked(0.92):
                put(column, type_date(day(done), rng, known=_knows(rng, (0.3, 0.4, 0.2)), as_of=today))
                if column == "last_anode" and asked(0.9):
                    put("anode_work", ("changed" if last.get("anode change") == done else "checked", []))
        elif asked(0.7 if saw_it else 0.3):
            put(column, ("Never", ["case"]) if rng.random() < 0.08 else ("never", []))


def _symptoms(days_left: int, rng: np.random.Generator) -> tuple[str, list[str]]:
    """What they see: more of it in the last year of a heater's life."""
    near = days_left < 400
    found = [
        name
        for name, usual, late in (
            ("water on or under the heater", 0.006, 0.16),
            ("rusty hot water", 0.02, 0.14),
            ("rumbling or popping", 0.07, 0.2),
            ("hot water smells", 0.03, 0.05),
            ("hot water runs out early", 0.05, 0.12),
            ("relief valve drips", 0.02, 0.06),
            ("pilot will not stay lit", 0.01, 0.04),
            ("no hot water", 0.002, 0.02),
            ("relief valve has opened", 0.002, 0.006),
            ("burner safety switch has tripped", 0.002, 0.006),
            ("smell of gas", 0.001, 0.002),
        )
        if rng.random() < (late if near else usual)
    ]
    if not found:
        return ("None", ["case"]) if rng.random() < 0.04 else ("none", [])
    u = rng.random()
    if u < 0.06:
        return "; ".join(found).capitalize(), ["separator"]
    if u < 0.1:
        return "makes noises", ["free_choice"]
    return ";".join(found), []


def _put_previous(
    sheet: _Sheet, put: Put, owned: list[int], moved: int, first_owner: bool, today: date, asked: Asked
) -> None:
    heaters, rng = sheet.world.heaters, sheet.rng
    i = owned[-1]
    sequence = int(heaters.sequence[i])
    word = ("first", "second", "third or later")[min(sequence, 3) - 1]
    sure = first_owner or sequence == 1 or rng.random() < 0.35
    if asked(0.85):
        put("heater_number", type_choice(word if sure else "not sure", rng, 0.05))
    if len(owned) < 2:
        return
    before = owned[-2]
    gone = int(heaters.removed[before])
    if gone < moved:
        # Before their time: a few were told.
        if rng.random() < 0.08 and asked(1.0):
            put("previous_gone", type_date(day(gone), rng, known="vague", as_of=today))
            put("previous_end", ("unknown", []))
        return
    if asked(0.82):
        put("previous_gone", type_date(day(gone), rng, known=_knows(rng, (0.2, 0.4, 0.25)), as_of=today))
        if rng.random() < 0.95:
            cause = str(heaters.cause[before])
            put("previous_end", ("unknown", []) if rng.random() < 0.05 else type_choice(cause, rng, 0.06))


def _put_wishes(put: Put, rng: np.random.Generator, asked: Asked, old: bool) -> None:
    for column, yes in (("flush_day", 0.42), ("anode_day", 0.3), ("group_purchase", 0.38 if old else 0.14)):
        if asked(0.88):
            word = str(rng.choice(["yes", "maybe", "no", "not sure"], p=[yes, 0.24, 0.70 - yes, 0.06]))
            put(column, type_choice(word, rng, 0.03))
    if asked(0.6):
        if rng.random() < 0.06:
            put(
                "weekdays",
                (str(rng.choice(["any", "weekends", "Sat, Sun", "not Tuesday", "evenings"])), ["free_choice"]),
            )
        else:
            n = int(rng.integers(1, 5))
            days = sorted(int(d) for d in rng.choice(7, n, replace=False))
            put("weekdays", (";".join(_WEEKDAYS[d] for d in days), []))


def _put_last(put: Put, rng: np.random.Generator, number: int, today: date, asked: Asked) -> None:
    u = rng.random()
    put("consent", type_choice("yes" if u < 0.86 else "no", rng, 0.03) if u < 0.96 else ("", []))
    if asked(0.7):
        if rng.random() < 0.6:
            put("contact", (f"home{number}.{int(rng.integers(10, 99))}@example.org", []))
        else:
            # 555-0100 to 555-0199 are set aside for fiction in the North American numbering plan.
            style = ("555-01{:02d}", "(000) 555-01{:02d}", "000.555.01{:02d}")[int(rng.integers(3))]
            put("contact", (style.format(int(rng.integers(100))), []))
    if rng.random() < 0.98:
        known = rng.random()
        if known < 0.75:
            put("answered_on", (today.isoformat(), []))
        else:
            put("answered_on", type_date(today, rng, known="day", as_of=today))
    if rng.random() < 0.12:
        put("remarks", (_REMARKS[int(rng.integers(len(_REMARKS)))], ["remark"]))
    elif rng.random() < 0.012:
        put("remarks", (_HOSTILE[int(rng.integers(len(_HOSTILE)))], ["hostile"]))
