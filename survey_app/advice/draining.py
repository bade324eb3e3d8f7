"""How long a tank takes to drain, and how much its water swells when heated.

A tank that empties under its own head follows Torricelli's law with a falling
level: the time from height h0 to h1 above the outlet is::

    t = A / (Cd * a) * (sqrt(2 * h0 / g) - sqrt(2 * h1 / g))

with A the area of the water, a that of the outlet and Cd the outlet's
coefficient (0.6 for a sharp edge). A hose adds resistance, but where it runs
downhill also head. What of this is assumed is said beside each number; no
published time for a tank was found, so that the time is set against the trade's
10 to 15 minutes for 40 to 50 gallons (common practice, no source).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from survey_app.errors import SurveyError
from survey_app.texts import ENGLISH, Texts

__all__ = [
    "COMMON_GALLONS",
    "COMMON_MINUTES",
    "VALVE_BORES_IN",
    "Hose",
    "UnusableDraining",
    "drain_seconds",
    "drain_sentences",
    "expansion_gallons",
    "expansion_sentence",
    "expansion_tank_gallons",
    "tank_drain_minutes",
    "tank_shape_m",
    "water_density",
]

COMMON_MINUTES = (10.0, 15.0)
COMMON_GALLONS = (40.0, 50.0)
"""What the trade says: minutes through a clear valve for tanks of this size (common practice, no source)."""
VALVE_BORES_IN = {"clear": 0.75, "narrow": 0.375, "clogged": 0.25}
"""Free width in inches: a full-port valve (IRC 2015 P2801.2 asks for an inlet of 3/4 inch); others: our guess."""

_GRAVITY = 9.80665
_FOOT, _INCH, _GALLON = 0.3048, 0.0254, 3.785411784e-3
_HEIGHT_PER_WIDTH = 2.7
"""The water in a common tall tank, height over width: our assumption (50 gallons: 1.21 m high, 0.45 m wide)."""
_SHARP_EDGE = 0.6
_FRICTION = 0.025
"""Darcy factor of a smooth hose at a Reynolds number of about 25,000, by Blasius: 0.316 / Re^0.25."""


class UnusableDraining(SurveyError, ValueError):
    """Figures that cannot be true; the message names each and the remedy."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hose:
    """The hose on the drain valve.

    Parameters
    ----------
    length_ft
        Its length in feet.
    bore_in
        Its inside width in inches; 5/8 is the common garden hose (common practice, no source).
    end_below_in
        How far its end lies below the tank's bottom, in inches. A gas heater in a garage often stands on 18 inches
        (IRC 2006 P2801.6 keeps its ignition that far above the floor).
    """

    length_ft: float = 25.0
    bore_in: float = 0.625
    end_below_in: float = 18.0


def drain_seconds(
    water_area_m2: float,
    outlet_area_m2: float,
    start_m: float,
    end_m: float = 0.0,
    *,
    coefficient: float = _SHARP_EDGE,
    gravity: float = _GRAVITY,
) -> float:
    """Seconds for the level to fall from `start_m` to `end_m` above the outlet, both in meters (Torricelli).

    Parameters
    ----------
    water_area_m2, outlet_area_m2
        Areas of the water's surface and of the outlet.
    start_m, end_m
        Heights of the water above the outlet, or above the end of the hose.
    coefficient
        Cd, between 0 and 1.
    gravity
        m/s^2; textbooks take 9.81.

    Raises
    ------
    UnusableDraining
        When the figures are not those of a tank that empties.
    """
    figures = (water_area_m2, outlet_area_m2, gravity, start_m)
    if not all(math.isfinite(f) and f > 0 for f in figures) or not 0 <= end_m <= start_m or not 0 < coefficient <= 1:
        raise UnusableDraining(ENGLISH("flushing-bad-outlet"))
    fall = math.sqrt(2 * start_m / gravity) - math.sqrt(2 * end_m / gravity)
    return water_area_m2 / (coefficient * outlet_area_m2) * fall


def tank_shape_m(gallons: float) -> tuple[float, float]:
    """Height and width in meters of the water in a tall tank: a cylinder 2.7 times as high as wide (our assumption)."""
    width = (4 * gallons * _GALLON / (math.pi * _HEIGHT_PER_WIDTH)) ** (1 / 3)
    return _HEIGHT_PER_WIDTH * width, width


def tank_drain_minutes(
    gallons: float,
    valve_bore_in: float = VALVE_BORES_IN["clear"],
    *,
    hose: Hose | None = None,
    coefficient: float = _SHARP_EDGE,
    say: Texts = ENGLISH,
) -> float:
    """Minutes until a full tank is empty, with its cold inlet closed and a hot tap open.

    Parameters
    ----------
    gallons
        The tank's size.
    valve_bore_in
        Free width of the drain valve, inches.
    hose
        The hose on it; None for water that falls straight out of the valve.
    coefficient
        Cd of the valve. Valve and hose in a row make one outlet, each loss counted at its own area:
        1/(Cd a)^2 = (1/Cd_valve^2 - 1)/a_valve^2 + (1 + f L/d)/a_hose^2.
    say
        The language of errors.

    Raises
    ------
    UnusableDraining
        When figures cannot be true, with one sentence for each.
    """
    problems = []
    if not 1 <= gallons <= 500:
        problems.append(say("flushing-bad-gallons"))
    if not 0.05 <= valve_bore_in <= 3:
        problems.append(say("flushing-bad-valve"))
    if not 0 < coefficient <= 1:
        problems.append(say("flushing-bad-outlet"))
    if hose and not (0 <= hose.length_ft <= 300 and 0.2 <= hose.bore_in <= 3 and 0 <= hose.end_below_in <= 240):
        problems.append(say("flushing-bad-hose"))
    if problems:
        raise UnusableDraining(" ".join(problems))
    height, width = tank_shape_m(gallons)
    valve = _circle_m2(valve_bore_in)
    outlet, below = coefficient * valve, 0.0
    if hose:
        below = hose.end_below_in * _INCH
        wall = 1 + _FRICTION * hose.length_ft * _FOOT / (hose.bore_in * _INCH)
        losses = (1 / coefficient**2 - 1) / valve**2 + wall / _circle_m2(hose.bore_in) ** 2
        outlet = 1 / math.sqrt(losses)
    # The coefficient is already in `outlet`.
    return drain_seconds(math.pi * width**2 / 4, outlet, height + below, below, coefficient=1.0) / 60


def drain_sentences(gallons: float, valve_bore_in: float, hose: Hose | None = None, say: Texts = ENGLISH) -> list[str]:
    """The time in words, with the trade's own beside it and what it rests on."""
    minutes = tank_drain_minutes(gallons, valve_bore_in, hose=hose, say=say)
    said = [say("flushing-drain-time", gallons=say.number(gallons), minutes=round(minutes))]
    low, high = (say.number(m) for m in COMMON_MINUTES)
    said.append(say("flushing-drain-common", low=low, high=high))
    if minutes > COMMON_MINUTES[1]:
        said.append(say("flushing-drain-long"))
    return [*said, say("flushing-drain-assumed")]


def expansion_sentence(gallons: float, cold_f: float = 50.0, hot_f: float = 120.0, say: Texts = ENGLISH) -> str:
    """How much the tank's water swells when it is heated, in words."""
    more = say.number(expansion_gallons(gallons, cold_f, hot_f), 1)
    return say("flushing-expansion", cold=round(cold_f), hot=round(hot_f), gallons=say.number(gallons), more=more)


def water_density(celsius: float) -> float:
    """Density of water in kg/m^3 between 0 and 100 °C at normal pressure.

    G. S. Kell, J. Chem. Eng. Data 20 (1975) 97: coefficients from memory; the
    tests hold them to 999.7, 995.0 and 983.2 at 10, 32.2 and 60 °C.
    """
    if not 0 <= celsius <= 100:
        raise UnusableDraining(ENGLISH("flushing-bad-temperature"))
    t = celsius
    above = 999.83952 + t * (
        16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - 280.54253e-12 * t)))
    )
    return above / (1 + 16.879850e-3 * t)


def expansion_gallons(gallons: float, cold_f: float, hot_f: float) -> float:
    """How much larger a tank's water gets when heated from `cold_f` to `hot_f` (°F), in gallons."""
    if not gallons > 0 or not 32 <= cold_f <= hot_f <= 212:
        raise UnusableDraining(ENGLISH("flushing-bad-temperature"))
    cold, hot = (water_density((f - 32) / 1.8) for f in (cold_f, hot_f))
    return gallons * (cold / hot - 1)


def expansion_tank_gallons(accepts_gallons: float, line_psi: float, limit_psi: float, air_psi: float = 14.7) -> float:
    """Size of an expansion tank that takes `accepts_gallons` between two gauge pressures (Boyle).

    Parameters
    ----------
    accepts_gallons
        The water it must take in.
    line_psi, limit_psi
        The house's pressure, to which its air is charged, and the highest allowed, both by the gauge.
    air_psi
        Pressure of the air.

    Raises
    ------
    UnusableDraining
        When the limit is not above the house's pressure.
    """
    if not accepts_gallons > 0 or not 0 <= line_psi < limit_psi:
        raise UnusableDraining(ENGLISH("flushing-bad-pressure"))
    return accepts_gallons / (1 - (line_psi + air_psi) / (limit_psi + air_psi))


def _circle_m2(bore_in: float) -> float:
    return math.pi * (bore_in * _INCH) ** 2 / 4
