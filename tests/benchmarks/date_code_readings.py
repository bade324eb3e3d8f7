"""How often the right year stands among the first three readings of a serial number, and what is taken unasked.

Run from the project root::

    python tests/benchmarks/date_code_readings.py [--serials 20000] [--seed 1]

Simulated serial numbers in the ten generic forms of `survey_app/date_codes/forms.py`, in equal shares; half of them
begin with one or two letters of the factory, four to eight digits of a running number follow. The reader is told the
house's year and nothing else. Houses were finished from 1985 to 2023; a heater goes in with the house and each next one
when the one before it is lost; it was made up to a year before. How long heaters live is not the law that the reader
supposes: lognormal with a median of 12 years. Two more worlds show what rests on that: lives of 9 years, and heaters
made on any day since the house was finished, which leaves many at 30 years and more. What is simulated is common
practice, no source.

*Ideal* is what nobody can surpass who does not know the form: the chance of each year given the characters, counted
over every day, form and place that could have printed them, with the world's own ages. Where it is below 1, codes of
different years are the same characters.
"""

from __future__ import annotations

import argparse
import math
import random
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache

from survey_app.date_codes import Beside, probable, readings, years

TODAY = date(2026, 11, 25)
BUILT = (1985, 2023)
FACTORY_LETTERS = {0: 0.5, 1: 0.25, 2: 0.25}
RUNNING_DIGITS = range(4, 9)
ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
MONTHS = "ABCDEFGHJKLM"
LEFT_OUT = ("IOQRUV", "IOQUV", "IOQU", "IOQ")
A_IS = 1984
FORMS = ("YYWW", "WWYY", "MMYY", "YYMM", "YWW", "YDDD", "YYDDD", "month letter", "two letters", "year letter")
WORLDS = ("lives of 12 years", "lives of 9 years", "any day since the house")


def codes(form: str, made: date) -> dict[str, float]:
    """What a form prints for a day, and how often where it prints different things; the year is that of the form."""
    iso = made.isocalendar()
    year, week_year = f"{made.year % 100:02}", f"{iso.year % 100:02}"
    week, month, day = f"{iso.week:02}", f"{made.month:02}", f"{made.timetuple().tm_yday:03}"
    letter = MONTHS[made.month - 1]
    plain = {
        "YYWW": week_year + week,
        "WWYY": week + week_year,
        "MMYY": month + year,
        "YYMM": year + month,
        "YWW": week_year[1] + week,
        "YDDD": year[1] + day,
        "YYDDD": year + day,
        "two letters": year_letter(made.year, LEFT_OUT[0]) + letter,
    }
    if form in plain:
        return {plain[form]: 1.0}
    if form == "month letter":
        return {letter + year: 0.5, letter + year[1]: 0.5}
    found: dict[str, float] = defaultdict(float)
    for left_out, share in zip(LEFT_OUT, (0.4, 0.2, 0.2, 0.2), strict=True):
        found[year_letter(made.year, left_out) + month] += share / 2
        found[year_letter(iso.year, left_out) + week] += share / 2
    return found


def year_of(form: str, code: str, made: date) -> int:
    """The year that a code names: weeks belong to the year of ISO 8601."""
    by_week = form in ("YYWW", "WWYY", "YWW") or (form == "year letter" and code[1:] != f"{made.month:02}")
    return made.isocalendar().year if by_week else made.year


def year_letter(year: int, left_out: str) -> str:
    """The letter of a year where these letters are left out."""
    letters = [letter for letter in ALPHABET if letter not in left_out]
    return letters[(year - A_IS) % len(letters)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """One simulated serial number and what is true of it."""

    form: str
    code: str
    serial: str
    year: int
    house_year: int
    first: bool


def heater(world: str, house_year: int, rng: random.Random) -> tuple[date, bool]:
    """The day the heater in service was made, and whether it is the house's first."""
    if world == WORLDS[2]:
        since = date(house_year, 1, 1)
        return since + timedelta(days=rng.randrange((TODAY - since).days + 1)), False
    median = 12 if world == WORLDS[0] else 9
    installed, first = date(house_year, 1, 1) + timedelta(days=rng.randrange(365)), True
    while True:
        lost = installed + timedelta(days=365.25 * rng.lognormvariate(math.log(median), 0.45))
        if lost > TODAY:
            break
        installed, first = lost, False
    return installed - timedelta(days=min(365, rng.expovariate(1 / 60))), first


def plates(world: str, count: int, seed: int) -> Iterator[Plate]:
    """Serial numbers of the ten forms in turn."""
    rng = random.Random(seed)
    for i in range(count):
        form, house_year = FORMS[i % len(FORMS)], rng.randint(*BUILT)
        made, first = heater(world, house_year, rng)
        printed = codes(form, made)
        code = rng.choices(list(printed), list(printed.values()))[0]
        before = rng.choices(list(FACTORY_LETTERS), list(FACTORY_LETTERS.values()))[0]
        letters = "".join(rng.choices(ALPHABET, k=before))
        running = "".join(rng.choices("0123456789", k=rng.choice(RUNNING_DIGITS)))
        yield Plate(
            form=form,
            code=code,
            serial=letters + code + running,
            year=year_of(form, code, made),
            house_year=house_year,
            first=first,
        )


# ---- what nobody can surpass


@cache
def printed_in() -> Mapping[str, Mapping[tuple[str, int], float]]:
    """Of each code: every form and year that can print it, and the share of that year's days on which it does."""
    found: dict[str, dict[tuple[str, int], float]] = defaultdict(lambda: defaultdict(float))
    day = date(BUILT[0] - 2, 1, 1)
    while day <= TODAY:
        for form in FORMS:
            for code, share in codes(form, day).items():
                found[code][form, year_of(form, code, day)] += share / 365.25
        day += timedelta(days=1)
    return found


@cache
def ages(world: str) -> Mapping[int, Counter[int]]:
    """How many of simulated heaters were made in each year, by the house's year."""
    rng = random.Random(20)
    return {
        built: Counter(heater(world, built, rng)[0].year for _ in range(4000))
        for built in range(BUILT[0], BUILT[1] + 1)
    }


def ideal(world: str, plate: Plate) -> list[int]:
    """Years by their chance given the characters and the house's year; how often each is right is the world's own."""
    made = ages(world)[plate.house_year]
    chance: dict[int, float] = defaultdict(float)
    for before, share in FACTORY_LETTERS.items():
        if not plate.serial[:before].isalpha() and before:
            continue
        for width in (2, 3, 4, 5):
            code, after = plate.serial[before : before + width], plate.serial[before + width :]
            if len(after) not in RUNNING_DIGITS or not after.isdigit():
                continue
            by_chance = share * 26.0**-before * 10.0 ** -len(after)
            for (_, year), often in printed_in().get(code, {}).items():
                chance[year] += by_chance * often * made[year]
    return sorted(chance, key=lambda year: -chance[year])


# ---- the measure


@dataclass(slots=True)
class Measured:
    """What was found over many serial numbers."""

    serials: Counter[str]
    first_three: Counter[str]
    first: Counter[str]
    shown: Counter[str]
    ideal: Counter[str]
    taken: int = 0
    taken_wrong: int = 0
    one_year: int = 0

    def share(self, counted: Counter[str], form: str | None = None) -> float:
        """A count as a share of the serials of one form, or of all."""
        if form is not None:
            return counted[form] / self.serials[form]
        return sum(counted.values()) / sum(self.serials.values())


def measure(
    world: str, count: int, seed: int, *, alone: bool = False, told: bool = False, with_ideal: bool = False
) -> Measured:
    """Read simulated serials.

    Parameters
    ----------
    world
        One of `WORLDS`.
    count, seed
        How many, and from which random numbers.
    alone
        Whether the code is typed alone, without factory letters and running number.
    told
        Whether the reader also hears if it is the house's first heater.
    with_ideal
        Whether the best possible reader reads them as well.
    """
    found = Measured(*(Counter() for _ in range(5)))
    for plate in plates(world, count, seed):
        beside = Beside(first=plate.first) if told else Beside()
        read = readings(plate.code if alone else plate.serial, house_year=plate.house_year, today=TODAY, beside=beside)
        in_order = [reading.year for reading in years(read)]
        found.serials[plate.form] += 1
        found.first[plate.form] += in_order[:1] == [plate.year]
        found.first_three[plate.form] += plate.year in in_order[:3]
        found.shown[plate.form] += plate.year in in_order[:6]
        found.one_year += len(in_order) == 1
        if (taken := probable(read)) is not None:
            found.taken += 1
            found.taken_wrong += taken.year != plate.year
        if with_ideal:
            found.ideal[plate.form] += plate.year in ideal(world, plate)[:3]
    return found


def by_chance(count: int, seed: int) -> tuple[float, int]:
    """Running numbers that hold no date: the share that one year fits all the same, and how many are taken unasked."""
    rng = random.Random(seed)
    one_year = taken = 0
    for _ in range(count):
        number = "".join(rng.choices("0123456789", k=8))
        read = readings(number, house_year=rng.randint(*BUILT), today=TODAY)
        one_year += len(years(read)) == 1
        taken += probable(read) is not None
    return one_year / count, taken


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--serials", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    for world in WORLDS:
        found = measure(world, asked.serials, asked.seed, with_ideal=True)
        print(f"\n{world}: {asked.serials} serials, seed {asked.seed}")
        print(f"{'':14}{'first':>8}{'first 3':>9}{'first 6':>9}{'ideal 3':>9}")
        for form in (*FORMS, None):
            counted = (found.first, found.first_three, found.shown, found.ideal)
            print(f"{form or 'all':14}" + "".join(f"{found.share(one, form):9.4f}" for one in counted))
        print(
            f"one year fits: {found.one_year / asked.serials:.4f}; taken unasked: {found.taken}, of them wrong:",
            end=" ",
        )
        print(found.taken_wrong)
        for words, how in (("code alone", {"alone": True}), ("first heater or not is told", {"told": True})):
            more = measure(world, asked.serials, asked.seed, **how)
            rates = f"first 3: {more.share(more.first_three):.4f}; taken unasked: {more.taken / asked.serials:.4f}"
            print(f"{words}: {rates}, wrong: {more.taken_wrong / asked.serials:.4f}")
    one_year, taken = by_chance(asked.serials, asked.seed)
    print(f"\nnumbers without a date: one year fits {one_year:.4f}; taken unasked: {taken}")


if __name__ == "__main__":
    main()
