"""What a new heater costs: the one table behind every page, paper and command.

By kind and size class, each with low, usual and high. Where the community has
entered its own prices they are called "here", and an offer can be judged by
them. Until then the national figure stands there, called that with its year,
and judges no offer: what a job costs differs between places by more than
between good and bad offers. What "complete" holds is the message
``price-complete``; what a home needs besides is in :mod:`survey_app.purchase.scope`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from survey_app.records import HeaterKind
from survey_app.settings import Settings
from survey_app.texts import ENGLISH, Texts

__all__ = [
    "BOUNDS_USD",
    "LARGE_ABOVE_GALLONS",
    "Basis",
    "Judged",
    "Price",
    "PriceList",
    "SizeClass",
    "basis_words",
    "heater_words",
    "judged",
    "list_rows",
    "price_line",
    "setting_names",
    "size_class",
    "source_line",
]

LARGE_ABOVE_GALLONS = 55.0
"""Where the federal standard parts its classes (10 CFR 430.32(d), from memory: to 55 gallons, and over 55)."""
BOUNDS_USD = (100.0, 50_000.0)
"""Least and most that a complete job may cost before it counts as a slip of the pen."""


class SizeClass(StrEnum):
    """Sizes that are priced alike; a unit without a tank has one class."""

    USUAL = "up to 55 gallons"
    LARGE = "over 55 gallons"


class Basis(StrEnum):
    """What a price rests on; each is the end of a message's name."""

    HERE = "here"
    FROM_HERE = "from-here"
    """The community's price for the smaller tank, times what a larger one is assumed to cost."""
    NATIONAL = "national"
    FROM_NATIONAL = "from-national"
    ASSUMED = "assumed"
    """No public figure was found, and the community has none."""


class Judged(StrEnum):
    """An offer against the prices here."""

    BELOW = "below"
    WITHIN = "within"
    ABOVE = "above"


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """One row of the table, in US dollars: a complete job, planned ahead, before what only some homes need.

    Parameters
    ----------
    kind, size
        The heater.
    low_usd, usual_usd, high_usd
        From what to what it is usual.
    basis
        What it rests on.
    year
        The year of the figures; None where nobody told it.
    quotes
        Own figures behind it: an offer is judged by three of them.
    """

    kind: HeaterKind
    size: SizeClass
    low_usd: float
    usual_usd: float
    high_usd: float
    basis: Basis
    year: int | None
    quotes: int = 0

    @property
    def is_own(self) -> bool:
        """Whether it comes from this community."""
        return self.basis in (Basis.HERE, Basis.FROM_HERE)

    @property
    def judges(self) -> bool:
        """Whether an offer can be held against it."""
        return self.basis is Basis.HERE and self.quotes == 3


_GAS, _ELECTRIC = HeaterKind.GAS_STORAGE, HeaterKind.ELECTRIC_STORAGE
_HEAT_PUMP, _TANKLESS = HeaterKind.HEAT_PUMP_STORAGE, HeaterKind.TANKLESS
_NAMES = {_GAS: "gas", _ELECTRIC: "electric", _HEAT_PUMP: "heat_pump", _TANKLESS: "tankless"}
_YEAR = 2023
# Usual: NREL, Buildings Annual Technology Baseline, replacement, 2023 dollars, as cited in the open model inputs of a
# US Department of Energy laboratory (heat pump: the efficient unit). Low and high: gas, program records of two dear
# counties; heat pump, the same table's minimum unit and those records; electric and tankless are assumptions, with no
# source.
_NATIONAL: Mapping[HeaterKind, tuple[float, float, float]] = {
    _GAS: (2000.0, 2245.0, 4000.0),
    _ELECTRIC: (1000.0, 1518.0, 3000.0),
    _HEAT_PUMP: (2643.0, 3170.0, 7000.0),
    _TANKLESS: (1800.0, 3000.0, 4500.0),
}


def size_class(gallons: float | None) -> SizeClass:
    """The size class of a tank; one that nobody knows counts as usual."""
    return SizeClass.LARGE if gallons is not None and gallons > LARGE_ABOVE_GALLONS else SizeClass.USUAL


@dataclass(frozen=True, slots=True)
class PriceList:
    """The table of a community: its own prices, and the national figures where it has none."""

    settings: Settings

    def at(self, kind: HeaterKind, size: SizeClass = SizeClass.USUAL) -> Price:
        """The price of a heater; a kind that nobody knows counts as gas."""
        kind = kind if kind in _NAMES else _GAS
        size = size if kind.has_tank else SizeClass.USUAL
        own = self._own(kind, size)
        if own is not None:
            return own
        if size is SizeClass.LARGE:
            smaller = self.at(kind)
            times = self.settings.larger_tank_times
            return Price(
                kind=kind,
                size=size,
                low_usd=smaller.low_usd * times,
                usual_usd=smaller.usual_usd * times,
                high_usd=smaller.high_usd * times,
                basis=Basis.FROM_HERE if smaller.is_own else Basis.FROM_NATIONAL,
                year=smaller.year,
            )
        low, usual, high = _NATIONAL[kind]
        basis = Basis.ASSUMED if kind is _TANKLESS else Basis.NATIONAL
        year = None if basis is Basis.ASSUMED else _YEAR
        return Price(kind=kind, size=size, low_usd=low, usual_usd=usual, high_usd=high, basis=basis, year=year)

    def for_gallons(self, kind: HeaterKind, gallons: float | None) -> Price:
        """The price of a heater of so many gallons; None where nobody knows."""
        return self.at(kind, size_class(gallons))

    def rows(self) -> tuple[Price, ...]:
        """The whole table."""
        tanks = [self.at(kind, size) for kind in (_GAS, _ELECTRIC, _HEAT_PUMP) for size in SizeClass]
        return (*tanks, self.at(_TANKLESS))

    def of_kinds(self) -> tuple[Price, ...]:
        """One row a kind, for who has not told the kind: the usual size."""
        return tuple(self.at(kind) for kind in _NAMES)

    def _own(self, kind: HeaterKind, size: SizeClass) -> Price | None:
        names = setting_names(kind, size)
        low, usual, high = (float(getattr(self.settings, name)) for name in names)
        given = sorted(usd for usd in (low, usual, high) if usd > 0)
        if not given:
            return None
        return Price(
            kind=kind,
            size=size,
            low_usd=given[0],
            usual_usd=given[len(given) // 2],
            high_usd=given[-1],
            basis=Basis.HERE,
            year=self.settings.own_prices_year or None,
            quotes=len(given),
        )


def setting_names(kind: HeaterKind, size: SizeClass) -> tuple[str, str, str]:
    """Where the settings keep the community's own price: low, usual, high."""
    name = _NAMES[kind] + ("_large" if size is SizeClass.LARGE and kind.has_tank else "")
    return f"own_price_{name}_low_usd", f"own_price_{name}_usual_usd", f"own_price_{name}_high_usd"


def judged(usd: float, price: Price) -> Judged | None:
    """A complete price for the job of every home against the prices here; None where there are too few of them."""
    if not price.judges:
        return None
    if usd < price.low_usd:
        return Judged.BELOW
    return Judged.ABOVE if usd > price.high_usd else Judged.WITHIN


def heater_words(price: Price, say: Texts = ENGLISH) -> str:
    """The heater of a row, within a sentence."""
    kind = say(f"offer-kind-{price.kind.replace(' ', '-')}")
    if not price.kind.has_tank:
        return kind
    size = say("price-size-large" if price.size is SizeClass.LARGE else "price-size-usual")
    return f"{kind} {size}"


def basis_words(price: Price, say: Texts = ENGLISH) -> str:
    """What a price rests on, within a sentence: the national figure of its year, or a price here."""
    key = f"price-basis-{price.basis}"
    return say(key, year=str(price.year)) if price.year else say(f"{key}-undated")


def list_rows(table: PriceList) -> list[dict[str, str | float]]:
    """The whole table as plain rows."""
    return [
        {
            "heater": heater_words(price),
            "low, USD": round(price.low_usd, 2),
            "usual, USD": round(price.usual_usd, 2),
            "high, USD": round(price.high_usd, 2),
            "what it is": basis_words(price),
        }
        for price in table.rows()
    ]


def price_line(price: Price, say: Texts = ENGLISH) -> str:
    """A row as one sentence: the heater, the usual price, from what to what, and what it rests on."""
    low, high = say.usd(price.low_usd), say.usd(price.high_usd)
    key = "price-line" if low != high else "price-line-one"
    usual, basis = say.usd(price.usual_usd), basis_words(price, say)
    told = heater_words(price, say)
    if low == high:
        return say(key, heater=told, usual=usual, basis=basis)
    return say(key, heater=told, usual=usual, low=low, high=high, basis=basis)


def source_line(price: Price, say: Texts = ENGLISH) -> str:
    """Where the figures of a row come from."""
    base = {Basis.FROM_NATIONAL: Basis.NATIONAL, Basis.FROM_HERE: Basis.HERE}.get(price.basis, price.basis)
    if base is Basis.NATIONAL:
        return say(f"price-source-national-{price.kind.replace(' ', '-')}")
    return say(f"price-source-{base}")
