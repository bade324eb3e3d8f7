"""What a complete replacement holds, item by item, and which homes need which item.

Bids differ in what they leave out. The list is the same for every bidder, so
that bids come back comparable; where a bid leaves an item out, its price here
fills the gap, and is shown as an assumption. No default price has a published
source: each is an assumption for the community to change.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from survey_app.records import Heater, HeaterKind, Place, Tri, Venting

__all__ = [
    "SCOPE",
    "SCOPE_KEYS",
    "USUAL_SIZES",
    "HomeNeed",
    "ScopeItem",
    "Usual",
    "extras_alone",
    "gap_prices",
    "need_of_heater",
    "need_of_kind",
    "price_alone",
    "scope_item",
]

ASSUMPTION = "editable assumption, no source"
TRADE = "common practice, no source"
USUAL_SIZES = (40.0, 50.0)
"""Gallons that bids are taken to be for."""
USUAL_GALLONS = 50.0
"""Size asked for where nobody knows the tank's (common practice, no source)."""


class Usual(StrEnum):
    """Whether an item belongs to every job."""

    EVERY_HOME = "every home"
    SOME_HOMES = "some homes"


@dataclass(frozen=True, slots=True, kw_only=True)
class ScopeItem:
    """One line of the scope.

    Parameters
    ----------
    key
        Its name in sheets.
    label
        What the bidder is asked for.
    why
        Why it is asked.
    usual
        Whether every home needs it.
    which
        Which homes need it, in words.
    gap_usd
        What fills the gap, a home, where a bid leaves it out; None where no
        assumption can stand in for a price (the tank, the labor).
    specified
        What a tank and what a tankless heater are asked for here, where they differ.
    source
        Where the item and its price come from.
    """

    key: str
    label: str
    why: str
    usual: Usual
    which: str
    gap_usd: float | None
    specified: tuple[str, str] | None = None
    source: str = f"item: {TRADE}; price: {ASSUMPTION}"

    def asked_for(self, kinds: Collection[HeaterKind]) -> str:
        """What a bidder is asked for when the homes have these kinds of heater: never a tank's parts for a tankless."""
        if self.specified is None:
            return self.label
        tank, tankless = self.specified
        words = [tank] if any(kind.has_tank for kind in kinds) else []
        words += [tankless] if HeaterKind.TANKLESS in kinds else []
        return "; ".join([self.label, *words])


def _every(
    key: str, label: str, why: str, gap_usd: float | None, specified: tuple[str, str] | None = None
) -> ScopeItem:
    return ScopeItem(
        key=key,
        label=label,
        why=why,
        usual=Usual.EVERY_HOME,
        which="every home",
        gap_usd=gap_usd,
        specified=specified,
    )


def _some(key: str, label: str, why: str, which: str, gap_usd: float) -> ScopeItem:
    return ScopeItem(key=key, label=label, why=why, usual=Usual.SOME_HOMES, which=which, gap_usd=gap_usd)


SCOPE: tuple[ScopeItem, ...] = (
    _every(
        "tank",
        "heater as specified for its kind, its height and width checked against its place",
        "The heater makes most of the difference between bids. Tanks made since 2015 are taller or wider for the same "
        "gallons (more insulation, by the US standard of 16 April 2015; from memory).",
        None,
        (
            "a tank: 9 to 12 year warranty, anode with a port of its own (magnesium, aluminum-zinc or powered, to suit "
            "the water)",
            "tankless: the years of warranty on its heat exchanger told",
        ),
    ),
    _every(
        "labor",
        "labor of a licensed contractor, start-up included",
        "Work on gas, venting and the relief valve belongs to a licensed contractor.",
        None,
    ),
    _every(
        "permit",
        "permit and inspection",
        "Most places ask for them; the inspection protects the owner.",
        100.0,
    ),
    _every("haul away", "old heater drained and hauled away", "Left out, it is the owner's to carry.", 50.0),
    _every(
        "water connectors",
        "corrugated stainless or copper water connectors, dielectric unions where unlike metals meet",
        "A braided hose has rubber inside, which ages. Copper on steel corrodes.",
        40.0,
    ),
    _every(
        "ball valve",
        "valves to clean the heater by, and a working cold shut-off",
        "Without them it cannot be rid of sediment or scale.",
        35.0,
        (
            "a tank: a 3/4 inch full-port ball valve as drain",
            "tankless: service valves with hose ports on cold and hot",
        ),
    ),
    _every(
        "relief valve",
        "new relief valve with its discharge pipe as local code asks",
        "It is the heater's last safety, and belongs to the new one.",
        30.0,
        ("a tank: temperature and pressure", "tankless: pressure"),
    ),
    _some(
        "gas connector",
        "gas connector with excess-flow valve, shut-off and sediment trap as local code asks, leak test; yellow "
        "flexible gas tube (CSST) bonded",
        "The valve closes when the connector tears. Lightning can burn holes into tube that is not bonded "
        "(IFGC 310.1.1, IRC G2411.1.1: from memory).",
        "homes with gas",
        50.0,
    ),
    _some(
        "vent work",
        "flue or vent connection checked and renewed as needed, draft test",
        "A blocked or loose flue is a danger to life.",
        "homes with gas",
        75.0,
    ),
    _some(
        "electrical",
        "electrical connection and disconnect as local code asks",
        "An electric heater is connected by the rules of the day it goes in.",
        "homes with electric or heat pump heaters",
        60.0,
    ),
    _some(
        "condensate drain",
        "condensate drain of a heat pump or a condensing gas heater, its acid water neutralized where code asks",
        "Both make water that has to run off.",
        "homes with heat pump heaters; gas with a plastic vent, tankless: not sure",
        75.0,
    ),
    _some(
        "drain pan",
        "drain pan under the heater",
        "It catches a slow leak before the floor does.",
        "homes without a pan, or not sure of one",
        40.0,
    ),
    _some(
        "pan drain",
        "pan drain piped to where water may run",
        "A pan without a drain holds a slow leak only.",
        "homes that get a pan, indoors",
        110.0,
    ),
    _some(
        "expansion tank",
        "expansion tank, its charge set to the house pressure",
        "A closed system (check valve or pressure regulator) needs one.",
        "homes on a closed system without one",
        120.0,
    ),
    _some(
        "leak alarm",
        "leak alarm or automatic shut-off",
        "It turns a flood into a puddle.",
        "homes without an alarm or a shut-off",
        60.0,
    ),
    _some(
        "hard access",
        "extra work where the heater stands in an attic or on an upper floor",
        "Two people and a stair take longer.",
        "homes with the heater in the attic or on an upper floor",
        120.0,
    ),
    _every(
        "code upgrades",
        "other work that today's local code asks for (straps, clearances, venting air)",
        "Local code decides; an allowance a home keeps the surprise out of the price.",
        100.0,
    ),
    _every(
        "sales tax",
        "sales tax",
        "A price before tax is not the price paid. The assumption is about 8% on 800 dollars of materials.",
        64.0,
    ),
)
SCOPE_KEYS: tuple[str, ...] = tuple(item.key for item in SCOPE)
_BY_KEY = {item.key: item for item in SCOPE}
_UP_STAIRS = (Place.ATTIC, Place.UPPER_FLOOR)


def scope_item(key: str) -> ScopeItem:
    """The item of that name.

    Raises
    ------
    KeyError
        When the scope has no such item; the message names those there are.
    """
    try:
        return _BY_KEY[key]
    except KeyError:
        raise KeyError(f"The scope has no item '{key}'. The items are: {', '.join(SCOPE_KEYS)}.") from None


def gap_prices(changed: Mapping[str, float] | None = None) -> dict[str, float]:
    """The price of every item that an assumption may fill, dollars a home.

    Parameters
    ----------
    changed
        The community's own prices, by item.

    Raises
    ------
    ValueError
        With a sentence for every price that cannot be used.
    """
    own = dict(changed or {})
    known = {item.key: item.gap_usd for item in SCOPE if item.gap_usd is not None}
    wrong = [
        f"'{key}' has no price to assume. Those that have one are: {', '.join(known)}."
        for key in own
        if key not in known
    ]
    wrong += [
        f"The assumed price of '{key}' is {value}. Give dollars a home, 0 or more."
        for key, value in own.items()
        if key in known and not (math.isfinite(value) and value >= 0)
    ]
    if wrong:
        raise ValueError(" ".join(wrong))
    return known | own


@dataclass(frozen=True, slots=True, kw_only=True)
class HomeNeed:
    """What one home needs, from its own answers.

    Parameters
    ----------
    kind, gallons, venting, place
        Like for like with what stands there; 0 gallons for a unit without a tank. The venting is today's.
    needed
        Items that are certain.
    unsure
        Items that hang on an answer nobody has given: they are priced as if
        needed, and the bidder is told how many there are.
    """

    kind: HeaterKind
    gallons: float
    venting: Venting
    place: Place
    needed: frozenset[str]
    unsure: frozenset[str] = frozenset()

    @property
    def priced(self) -> frozenset[str]:
        """Every item that a complete price for this home holds."""
        return self.needed | self.unsure


def need_of_heater(heater: Heater, *, closed_system: Tri = Tri.UNKNOWN) -> HomeNeed:
    """What replacing this heater, like for like, takes.

    A tankless heater is asked for as tankless; a kind nobody knows is priced as
    gas, the fuller scope, with its items not sure. A pan or an expansion tank
    that is there stays and is checked. The answer's vent pipe goes to the
    bidder: it decides which heater fits without new pipework.

    Parameters
    ----------
    heater
        The heater in the home today.
    closed_system
        Whether the community's homes have a check valve or a pressure
        regulator: without one no expansion tank is needed.
    """
    needed = {item.key for item in SCOPE if item.usual is Usual.EVERY_HOME}
    unsure: set[str] = set()
    venting = heater.venting
    electric = heater.kind in (HeaterKind.ELECTRIC_STORAGE, HeaterKind.HEAT_PUMP_STORAGE)
    gas = {"gas connector", "vent work"}
    if heater.kind is HeaterKind.GAS_STORAGE:
        needed |= gas
    elif electric:
        needed.add("electrical")
        venting = Venting.NONE
    elif heater.kind is HeaterKind.TANKLESS and venting is Venting.NONE:
        unsure.add("electrical")
    else:
        unsure |= gas
    _condensate(heater, needed, unsure)
    if heater.kind.has_tank:
        _water_safety(heater, closed_system, needed, unsure)
    if heater.place in _UP_STAIRS:
        needed.add("hard access")
    return HomeNeed(
        kind=heater.kind,
        gallons=(heater.tank_gallons or USUAL_GALLONS) if heater.kind.has_tank else 0.0,
        venting=venting,
        place=heater.place,
        needed=frozenset(needed),
        unsure=frozenset(unsure - needed),
    )


_BY_KIND = frozenset({"gas connector", "vent work", "electrical", "condensate drain"})
"""Items of some homes that a planned price for the kind of heater holds already."""


def price_alone(need: HomeNeed, planned_usd: float) -> float:
    """What the same complete job costs a home that buys alone, planned ahead.

    The planned price of its kind, and the scope's assumed price of what this home needs besides: pan and its drain,
    expansion tank, alarm, hard access. A bid's gaps are filled with the same prices, so that like is set beside like.
    No premium for haste is in it: that belongs to the expected loss while waiting, and would be counted twice.

    Parameters
    ----------
    need
        What the home needs.
    planned_usd
        Price of a planned replacement of its kind, like for like.
    """
    return planned_usd + sum(extras_alone(need))


def extras_alone(need: HomeNeed) -> tuple[float, float]:
    """What this home needs besides the job of every home, by the scope's assumed prices: certain, and possible.

    What hangs on an answer that nobody has given is possible.
    """
    besides = [item for item in SCOPE if item.usual is Usual.SOME_HOMES and item.key not in _BY_KIND]
    certain = sum(item.gap_usd or 0.0 for item in besides if item.key in need.needed)
    return certain, sum(item.gap_usd or 0.0 for item in besides if item.key in need.unsure)


def need_of_kind(heater: Heater, wanted: HeaterKind, *, closed_system: Tri = Tri.UNKNOWN) -> HomeNeed:
    """What a heater of another kind takes in place of this one; what the change itself takes is not in any scope."""
    if wanted is not heater.kind and heater.venting is Venting.NONE:
        # "No pipe" was said of an electric heater: of one that burns gas it says nothing.
        heater = replace(heater, venting=Venting.UNKNOWN)
    return need_of_heater(replace(heater, kind=wanted), closed_system=closed_system)


def _condensate(heater: Heater, needed: set[str], unsure: set[str]) -> None:
    """A heat pump's water, and that of a gas heater which gets so much out of its gas that the steam condenses.

    A plastic vent is what a condensing heater has, but a power-vented tank has one as well (common practice, no
    source): a tankless with one condenses, of a tank it is not sure.
    """
    if heater.kind is HeaterKind.HEAT_PUMP_STORAGE:
        needed.add("condensate drain")
    elif heater.kind is HeaterKind.TANKLESS and heater.venting is not Venting.NONE:
        if heater.venting is Venting.PLASTIC:
            needed.add("condensate drain")
        elif heater.venting is not Venting.METAL:
            unsure.add("condensate drain")
    elif heater.kind is HeaterKind.GAS_STORAGE and heater.venting in (Venting.PLASTIC, Venting.IN_A_PIPE):
        unsure.add("condensate drain")


def _water_safety(heater: Heater, closed_system: Tri, needed: set[str], unsure: set[str]) -> None:
    """Pan, its drain, expansion tank and alarm."""
    if heater.place is not Place.OUTSIDE and heater.pan is not Tri.YES:
        sure = heater.pan is Tri.NO
        (needed if sure else unsure).add("drain pan")
        if heater.place is not Place.GARAGE:
            (needed if sure and heater.place is not Place.UNKNOWN else unsure).add("pan drain")
    if heater.expansion_tank is not Tri.YES and closed_system is not Tri.NO:
        sure = heater.expansion_tank is Tri.NO and closed_system is Tri.YES
        (needed if sure else unsure).add("expansion tank")
    if Tri.YES not in (heater.leak_alarm, heater.auto_shutoff):
        sure = heater.leak_alarm is Tri.NO and heater.auto_shutoff is not Tri.UNKNOWN
        (needed if sure else unsure).add("leak alarm")
