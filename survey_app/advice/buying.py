"""Buying the next heater: what to ask for and why, what it should cost, tank or tankless, how hot to set it.

What to ask for is common practice, no source, unless an item names the code or
document it comes from, with its edition where one is known, and how it is known
(:class:`Known`); codes differ from place to place and year to year, so the local code
and the maker's instructions always go first. The words are in
``texts/*/buying.ftl``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from survey_app.errors import SurveyError
from survey_app.prices import BOUNDS_USD, Price, judged, price_line, source_line
from survey_app.records import HeaterKind, Place
from survey_app.texts import ENGLISH, Texts

__all__ = [
    "ADULT_BURN_SECONDS",
    "CHOICES",
    "SPECIFICATION",
    "Known",
    "SpecItem",
    "UnusablePrice",
    "price_sentences",
    "setpoint_sentences",
    "spec_rows",
    "specification",
]

_GAS, _ELECTRIC, _HEAT_PUMP = HeaterKind.GAS_STORAGE, HeaterKind.ELECTRIC_STORAGE, HeaterKind.HEAT_PUMP_STORAGE
_TANKLESS = HeaterKind.TANKLESS
_TANKS = frozenset({_GAS, _ELECTRIC, _HEAT_PUMP})
_ALL = _TANKS | {_TANKLESS}
CHOICES = (_GAS, _ELECTRIC, _HEAT_PUMP)
"""Kinds of tank one can choose from."""
_PRACTICE = ""


class Known(StrEnum):
    """How a source is known: its own text was read, others quote it, or from memory."""

    READ = "read"
    QUOTED = "quoted"
    MEMORY = "memory"


@dataclass(frozen=True, slots=True)
class SpecItem:
    """One thing to ask for; its words are the message ``buying-spec-<key>`` and that message's ``why``.

    Parameters
    ----------
    key
        Its name.
    kinds
        The kinds of heater it is for.
    source
        The code or document it comes from; "" for common practice.
    places
        Where it matters; empty for everywhere.
    known
        How the source is known.
    seldom
        Whether it is for few homes, or for after the purchase: told last, and folded where there is little room.
    """

    key: str
    kinds: frozenset[HeaterKind] = _TANKS
    source: str = _PRACTICE
    places: frozenset[Place] = frozenset()
    known: Known = Known.READ
    seldom: bool = False


_INSIDE = frozenset({Place.CLOSET, Place.UPPER_FLOOR, Place.ATTIC, Place.BASEMENT})
_GAS_ONLY = frozenset({_GAS})
_BURNERS = frozenset({_GAS, _TANKLESS})
SPECIFICATION: tuple[SpecItem, ...] = (
    SpecItem("warranty"),
    SpecItem("first-hour"),
    SpecItem("anode-port"),
    SpecItem("anode-rod"),
    SpecItem("drain-valve", source="IRC 2015 P2801.2"),
    SpecItem("pan-metal", _GAS_ONLY, "IRC 2015 P2801.6, P2801.6.1; IPC 504.7.2"),
    SpecItem("pan", frozenset({_ELECTRIC, _HEAT_PUMP}), "IRC 2015 P2801.6, P2801.6.1; IPC 504.7.2"),
    SpecItem("service-valves", frozenset({_TANKLESS})),
    SpecItem("connectors", _ALL),
    SpecItem("expansion-tank", source="IRC 2021 P2903.3.1, P2903.4; UPC 608.2, 608.3 (2015 on)", known=Known.QUOTED),
    SpecItem("relief-valve", source="IRC P2804.3, P2804.4; IRC 2012 P2803.6.1"),
    SpecItem("leak-alarm", _ALL),
    SpecItem("gas-valve", _BURNERS, "IFGC 409.5, IRC G2420.5 (2006-2018)", known=Known.QUOTED),
    SpecItem("excess-flow", _BURNERS),
    # The sections' own text was read; of IFGC and IRC the edition was not on it.
    SpecItem("sediment-trap", _BURNERS, "IFGC 408.4, IRC G2419.4; UPC 2009 1212.7"),
    SpecItem("flue", _BURNERS),
    SpecItem("garage-height", _GAS_ONLY, "IRC 2006 P2801.6, M1307.3", frozenset({Place.GARAGE})),
    SpecItem("circuit", frozenset({_ELECTRIC, _HEAT_PUMP})),
    SpecItem("air-room", frozenset({_HEAT_PUMP})),
    SpecItem("condensate", frozenset({_HEAT_PUMP, _GAS, _TANKLESS})),
    SpecItem("fit", source="75 FR 20112 (16 April 2010)", known=Known.MEMORY),
    SpecItem("permit", _ALL),
    SpecItem("whole-price", _ALL),
    SpecItem("papers", _ALL),
    # The release is on vapors and on what resists them; that nothing of the kind is stored there is common practice.
    SpecItem("clear-space", _BURNERS, "CPSC, 8 July 2003"),
    SpecItem("straps", source="UPC 507.2", seldom=True),
    SpecItem("gas-tube", _BURNERS, "IFGC 310.1.1, IRC G2411.1.1", known=Known.MEMORY, seldom=True),
    SpecItem("register", _ALL, seldom=True),
)
"""Everything to ask for, in the order of the list to take along."""


def specification(kind: HeaterKind, place: Place = Place.UNKNOWN) -> tuple[SpecItem, ...]:
    """What to ask for when a heater of this kind is bought for this place.

    Parameters
    ----------
    kind
        One of :data:`CHOICES`, or tankless, which has none of a tank's parts; for any other the list holds what all
        tanks share.
    place
        Where it will stand; where nobody knows, nothing is left out.
    """
    if kind in _ALL:
        fits = [i for i in SPECIFICATION if kind in i.kinds]
    else:
        fits = [i for i in SPECIFICATION if i.kinds >= _TANKS]
    known = place not in (Place.UNKNOWN, Place.OTHER)
    return tuple(i for i in fits if not (i.places and known and place not in i.places))


def spec_rows(kind: HeaterKind, place: Place = Place.UNKNOWN, say: Texts = ENGLISH) -> list[tuple[str, str]]:
    """The same in words: what to ask for, and why (with the code or document that it comes from)."""
    rows = []
    for item in specification(kind, place):
        source = say(f"buying-source-{item.known}", source=item.source) if item.source else ""
        extra = say("buying-spec-pan-inside") if item.key in ("pan", "pan-metal") and place in _INSIDE else ""
        rows.append(
            (
                say(f"buying-spec-{item.key}"),
                " ".join(filter(None, (say(f"buying-spec-{item.key}.why"), extra, source))),
            )
        )
    return rows


class UnusablePrice(SurveyError, ValueError):
    """Prices that cannot be true; the message names each and the remedy."""


def price_sentences(price: Price, offer_usd: float | None = None, say: Texts = ENGLISH) -> list[str]:
    """The row of the price list with its source and what is in it, and what an offer looks like beside it.

    An offer is judged by prices here alone. Beside a national figure it is not: places differ by more than offers do.

    Raises
    ------
    UnusablePrice
        When the offer is no price of a heater.
    """
    said = [price_line(price, say), say("price-complete"), source_line(price, say)]
    if not price.is_own:
        said.append(say("price-not-here"))
    said.append(say("buying-hurry"))
    if offer_usd is None:
        return said
    least, most = BOUNDS_USD
    if not least <= offer_usd <= most:
        raise UnusablePrice(say("buying-bad-price", least=say.usd(least), most=say.usd(most)))
    found = judged(offer_usd, price)
    key = f"buying-offer-{found}" if found else "buying-offer-open-own" if price.is_own else "buying-offer-open"
    return [*said, say(key, usd=say.usd(offer_usd))]


ADULT_BURN_SECONDS: Mapping[int, float] = {150: 2, 140: 6, 130: 30, 120: 300}
"""Seconds to a third-degree burn of an adult by water temperature in °F (CPSC, Tap Water Scalds, Document 5098)."""


def setpoint_sentences(say: Texts = ENGLISH) -> list[str]:
    """How hot to set it: the advice, how fast water burns, and what speaks for hotter water with a mixing valve."""
    said = [say("buying-setpoint")]
    for fahrenheit, seconds in ADULT_BURN_SECONDS.items():
        celsius = round((fahrenheit - 32) / 1.8)
        minutes = round(seconds / 60)
        said.append(
            say("buying-burn-minutes", fahrenheit=fahrenheit, celsius=celsius, minutes=minutes)
            if seconds >= 60
            else say("buying-burn-seconds", fahrenheit=fahrenheit, celsius=celsius, seconds=round(seconds))
        )
    return [*said, *say.lines("buying-setpoint-more")]
