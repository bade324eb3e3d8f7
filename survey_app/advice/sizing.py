"""How large the next heater should be: the first-hour worksheet, and what today's tank gives.

The first-hour rating on a heater's label is the hot water in gallons that it
gives in its busiest hour, starting full and hot. What a home needs in that hour
is added up from a published worksheet. Editions differ, so each
:class:`Worksheet` carries its edition, what is known of its date and of how it
was read, and its figures together, and they are never mixed. The words are in ``texts/*/sizing.ftl``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from survey_app.errors import SurveyError
from survey_app.records import HeaterKind
from survey_app.texts import ENGLISH, Texts

__all__ = [
    "DRAW_BINS",
    "LONG_SHOWER",
    "WORKSHEETS",
    "Comparison",
    "DrawBin",
    "FirstHourNeed",
    "UnusableSizing",
    "Worksheet",
    "compare_with_tank",
    "draw_bin",
    "first_hour_need",
    "rough_first_hour",
    "sizing_sentences",
]

_BAND_GALLONS = 2.0
"""A rating within this of the need will do: the worksheet's own example asks 44 to 48 for a need of 46."""
_MOST_TIMES = 100.0
_CLOSE = 0.15
"""A rough figure within this share of the need settles nothing: our choice, for a rule of thumb."""


class UnusableSizing(SurveyError, ValueError):
    """Figures that cannot be true; the message names each and the remedy."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Worksheet:
    """One edition of a published worksheet: gallons of hot water a use, with where they come from.

    Parameters
    ----------
    key
        Its name.
    edition
        The document.
    gallons
        Hot water of each use.
    verified
        Whether its own page, or a copy of it, was read; else its figures are as others quote them or from memory.
    """

    key: str
    edition: str
    gallons: Mapping[str, float]
    verified: bool = True

    @property
    def uses(self) -> Mapping[str, float]:
        """The uses that can be counted: the edition's own, and a long shower as :data:`LONG_SHOWER` of its showers.

        The edition that is not verified has long showers already.
        """
        if not self.verified:
            return self.gallons
        long = {"long-shower": LONG_SHOWER * self.gallons["shower"]}
        return {"shower": self.gallons["shower"]} | long | dict(self.gallons)


LONG_SHOWER = 2.0
"""Showers that a long one counts for: our choice, no source."""


WORKSHEETS: Mapping[str, Worksheet] = {
    w.key: w
    for w in (
        Worksheet(
            key="energy-savers",
            edition="US Department of Energy, Energy Savers, first-hour worksheet, older edition",
            gallons={
                "shower": 12.0,
                "bath": 9.0,
                "shave": 2.0,
                "hands-face": 4.0,
                "shampoo": 4.0,
                "hand-dishes": 4.0,
                "dishwasher": 14.0,
                "food": 5.0,
                "clothes-washer": 32.0,
            },
        ),
        Worksheet(
            key="femp",
            edition="US Department of Energy, Federal Energy Management Program, "
            "Energy Cost Calculator for Electric and Gas Water Heaters, assumptions",
            gallons={
                "shower": 10.0,
                "clothes-washer": 7.0,
                "dishwasher": 6.0,
                "kitchen-tap-minute": 2.0,
                "bath-tap-minute": 0.5,
            },
        ),
        Worksheet(
            # Shower and shave as others quote the page; dishwasher and clothes washer (25, of front-loaders 15) from
            # memory. What else the page counts is not known here.
            key="energy-gov",
            edition="US Department of Energy, energy.gov, Sizing a New Water Heater",
            gallons={"shower": 20.0, "shave": 2.0, "dishwasher": 7.0, "clothes-washer": 25.0},
            verified=False,
        ),
    )
}
"""The worksheets by their keys; the first is used unless told otherwise."""


@dataclass(frozen=True, slots=True)
class DrawBin:
    """One class of use of the US test procedure: from which first-hour rating on, and the gallons a day of its test."""

    key: str
    from_gallons: float
    gallons_a_day: float


DRAW_BINS: tuple[DrawBin, ...] = (
    DrawBin("very-small", 0.0, 10.0),
    DrawBin("low", 18.0, 38.0),
    DrawBin("medium", 51.0, 55.0),
    DrawBin("high", 75.0, 84.0),
)
"""Classes for the uniform energy factor: from memory (10 CFR 430, subpart B, appendix E); check before quoting."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstHourNeed:
    """What a home needs in its busiest hour, and the ratings to ask for.

    Parameters
    ----------
    gallons
        The worksheet's sum.
    ask_low, ask_high
        The first-hour ratings that fit, gallons.
    worksheet
        The edition it rests on.
    """

    gallons: float
    ask_low: float
    ask_high: float
    worksheet: Worksheet


class Comparison(StrEnum):
    """Today's tank against the need, by a rule of thumb."""

    ENOUGH = "enough"
    CLOSE = "close"
    SHORT = "short"
    UNKNOWN = "not known"


def first_hour_need(
    uses: Mapping[str, float], worksheet: Worksheet = WORKSHEETS["energy-savers"], say: Texts = ENGLISH
) -> FirstHourNeed:
    """Add up the busiest hour.

    Parameters
    ----------
    uses
        How often each use of the worksheet comes in that hour (for taps of the second edition: minutes).
    worksheet
        The edition.
    say
        The language of errors.

    Raises
    ------
    UnusableSizing
        When a use is not on the worksheet or its count is not between 0 and 100, with one sentence for each.
    """
    problems = []
    for use, times in uses.items():
        if use not in worksheet.uses:
            known = ", ".join(worksheet.uses)
            problems.append(say("sizing-bad-use", use=use, known=known))
        elif not 0 <= times <= _MOST_TIMES:
            problems.append(say("sizing-bad-times", use=say(f"sizing-use-{use}"), most=say.number(_MOST_TIMES)))
    if problems:
        raise UnusableSizing(" ".join(problems))
    total = math.fsum(times * worksheet.uses[use] for use, times in uses.items())
    return FirstHourNeed(
        gallons=total,
        ask_low=max(0.0, total - _BAND_GALLONS),
        ask_high=total + _BAND_GALLONS,
        worksheet=worksheet,
    )


def draw_bin(first_hour_gallons: float) -> DrawBin:
    """The class of use in which a heater of this first-hour rating is tested (see :data:`DRAW_BINS`)."""
    if not first_hour_gallons >= 0:
        raise UnusableSizing(ENGLISH("sizing-bad-rating"))
    return next(b for b in reversed(DRAW_BINS) if first_hour_gallons >= b.from_gallons)


_USABLE_SHARE = 0.7
"""Share of a tank that comes out hot before the cold mixes in: common practice, no source."""
_POUNDS_PER_GALLON, _RISE_F = 8.34, 90.0
_HEAT_INTO_WATER: Mapping[HeaterKind, float] = {
    # 38,000 Btu/h: 40 gallon tanks of the Battelle rig (Study on Benefits of Removal of Water Hardness, 2009), times a
    # recovery efficiency of 0.76 (from memory).
    HeaterKind.GAS_STORAGE: 38_000 * 0.76,
    # An element of 4,500 W at 3.412 Btu/h a watt; 0.98 from memory.
    HeaterKind.ELECTRIC_STORAGE: 4_500 * 3.412 * 0.98,
}


def rough_first_hour(tank_gallons: float, kind: HeaterKind) -> float | None:
    """About what a tank gives in its busiest hour, gallons: a rule of thumb, for tanks whose label is gone.

    Seven tenths of the tank, and what the burner or the element heats by 90 °F
    in an hour at 8.34 lb a gallon. None for kinds it does not fit: a heat pump
    heats more slowly by an amount only its label tells.
    """
    heat = _HEAT_INTO_WATER.get(kind)
    if heat is None:
        return None
    if not 0 < tank_gallons <= 500:
        raise UnusableSizing(ENGLISH("sizing-bad-tank"))
    return _USABLE_SHARE * tank_gallons + heat / (_POUNDS_PER_GALLON * _RISE_F)


def compare_with_tank(need: FirstHourNeed, tank_gallons: float | None, kind: HeaterKind) -> Comparison:
    """Whether today's tank gives what the worksheet asks; within 15 parts of 100 nothing is settled."""
    rough = rough_first_hour(tank_gallons, kind) if tank_gallons else None
    if rough is None:
        return Comparison.UNKNOWN
    if rough >= need.gallons * (1 + _CLOSE):
        return Comparison.ENOUGH
    return Comparison.CLOSE if rough >= need.gallons * (1 - _CLOSE) else Comparison.SHORT


def sizing_sentences(
    need: FirstHourNeed, tank_gallons: float | None, kind: HeaterKind, say: Texts = ENGLISH
) -> list[str]:
    """The need, what to ask for, and today's tank beside it, in words."""
    if need.gallons == 0:
        return [say("sizing-nothing-yet")]
    low, high = say.number(need.ask_low), say.number(need.ask_high)
    liters = say.number(need.gallons * 3.785411784)
    said = [
        say("sizing-need", gallons=say.number(need.gallons), liters=liters),
        say("sizing-ask", low=low, high=high),
    ]
    rough = rough_first_hour(tank_gallons, kind) if tank_gallons else None
    if rough is not None and tank_gallons:
        said.append(say("sizing-tank-gives", tank=say.number(tank_gallons), rough=say.number(rough)))
    said.append(say(f"sizing-tank-{compare_with_tank(need, tank_gallons, kind).replace(' ', '-')}"))
    tested = draw_bin(need.gallons)
    said += [
        say("sizing-draw", bin=say(f"sizing-bin-{tested.key}"), gallons=say.number(tested.gallons_a_day)),
        say("sizing-draw-memory"),
    ]
    said.append(say("sizing-source", edition=need.worksheet.edition, dated=say(f"sizing-dated-{need.worksheet.key}")))
    return said if need.worksheet.verified else [*said, say("sizing-unverified")]
