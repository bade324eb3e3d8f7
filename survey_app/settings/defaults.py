"""Every setting of a community, with its default, where that comes from and what it changes."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

from survey_app.contacts import Contacts
from survey_app.records import Tri

__all__ = ["Settings"]

_TRADE = "common practice, no source"
_EDIT = "illustrative input, no source: edit it"
_WEAK = (
    "our assumption: edit it. Evidence is weak: no trial was found; an insurer's estimate of 2011 says that up to "
    "93% of water damage could have been prevented or lessened by shut-off (its own, affluent customers)"
)
_PAN_WEAK = "our assumption, no source: edit it; no study of pans was found"
_OLD_AVERAGES = (
    "for comparison, averages of insurance claims in old dollars: 4,444 after the deductible for failed water heaters "
    "(IBHS claim study, claims of about 2005 to 2009, as quoted by insurers) and 11,098 for water damage and freezing "
    "of every kind (Insurance Information Institute, Average Homeowners Losses, 2015-2019)"
)


def _setting(
    default: Any,
    *,
    source: str,
    effect: str,
    unit: str,
    ge: float,
    le: float,
    low: float | None = None,
    high: float | None = None,
) -> Any:
    """One setting: refused outside `ge` to `le`; `low` to `high` is what is plausible, where that is worth saying."""
    extra: dict[str, Any] = {"source": source, "unit": unit}
    if low is not None and high is not None:
        extra |= {"low": low, "high": high}
    return Field(default=default, ge=ge, le=le, description=effect, json_schema_extra=extra)


def _own(which: str, heater: str) -> Any:
    """One of the three figures of the community's own price; 0 where it has none."""
    return _setting(
        0.0,
        source="the community's own, from three local quotes or bills; 0: none yet, then the national figure is shown",
        unit="USD",
        effect=f"What {heater} costs here, complete and planned ahead: {which} of three quotes, before what only some "
        "homes need.",
        ge=0,
        le=50000,
    )


class Settings(BaseModel):
    """What a community decides once: intervals, warranty default, privacy, what things cost."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    default_warranty_years: float = _setting(
        6.0,
        source=_TRADE,
        unit="years",
        effect="Warranty term assumed where nobody knows it: short builder-grade terms are the rule here.",
        ge=1,
        le=15,
    )
    longest_usual_warranty_years: float = _setting(
        12.0,
        source="common practice, no source: 6 years on builder-grade units, 9 to 12 on better ones",
        unit="years",
        effect="A class that would be another with a term up to this one is called probable where the term is assumed.",
        ge=1,
        le=20,
    )
    flush_every_years: float = _setting(
        1.0,
        source=_TRADE,
        unit="years",
        effect="A deep flush falls due this long after the last one.",
        ge=0.25,
        le=10,
    )
    anode_every_years: float = _setting(
        4.0,
        source=_TRADE,
        unit="years",
        effect="The anode falls due for a look this long after the last work.",
        ge=1,
        le=10,
    )
    anode_every_years_softened: float = _setting(
        3.0,
        source=_TRADE,
        unit="years",
        effect="The same where a water softener is in use: softened water eats anodes faster.",
        ge=0.5,
        le=10,
    )
    anode_first_within_years: float = _setting(
        5.0,
        source=_TRADE,
        unit="years",
        effect="The first anode change should come before this age; later the plug may have seized.",
        ge=2,
        le=10,
    )
    relief_test_every_years: float = _setting(
        1.0,
        source=_TRADE,
        unit="years",
        effect="The relief valve falls due for its test this long after the last.",
        ge=0.25,
        le=5,
    )
    relief_inspect_every_years: float = _setting(
        3.0,
        source="National Board of Boiler and Pressure Vessel Inspectors, BULLETIN, Summer 1993: "
        "a valve in service for more than three years is taken out and looked at",
        unit="years",
        effect="A relief valve of this age or more is for a licensed contractor to inspect, not only to test.",
        ge=1,
        le=10,
    )
    never_flushed_caution_years: float = _setting(
        8.0,
        source=_TRADE,
        unit="years",
        effect="A tank that was never flushed by this age may leak once disturbed: a contractor decides.",
        ge=3,
        le=20,
    )
    flush_minutes: float = _setting(
        75.0,
        source="common practice, no source: a deep flush takes 60 to 90 minutes on site",
        unit="minutes",
        effect="Time a crew needs for a flush of a 50 gallon tank; larger tanks drain longer.",
        ge=15,
        le=300,
    )
    anode_minutes: float = _setting(
        60.0,
        source="common practice, no source: an anode takes 45 to 75 minutes on site",
        unit="minutes",
        effect="Time a crew needs to check or change an anode.",
        ge=15,
        le=300,
    )
    both_minutes: float = _setting(
        105.0,
        source="common practice, no source: flush and anode together take 90 to 120 minutes on site",
        unit="minutes",
        effect="Time a crew needs for both in one visit.",
        ge=15,
        le=400,
    )
    hard_to_reach_minutes: float = _setting(
        15.0,
        source="assumption, no source: edit it",
        unit="minutes",
        effect="Added for a heater in an attic, a closet or on an upper floor.",
        ge=0,
        le=120,
    )
    crew_hour_usd: float = _setting(
        90.0,
        source="assumption, no source: edit it",
        unit="dollars an hour",
        effect="What an hour of a crew's driving counts for when days are planned.",
        ge=0,
        le=1000,
    )
    crew_day_usd: float = _setting(
        50.0,
        source="assumption, no source: edit it",
        unit="dollars a crew and day",
        effect="What it counts for to send one more crew on a day.",
        ge=0,
        le=5000,
    )
    crew_minimum_homes: int = _setting(
        5,
        source="common practice, no source: a crew wants full days; ask the contractor for the real minimum",
        unit="homes a day",
        effect="No day is opened for fewer homes.",
        ge=1,
        le=50,
    )
    request_worth_usd: float = _setting(
        60.0,
        source="assumption, no source: edit it",
        unit="dollars a home",
        effect="What serving a home that asked counts for, besides what it saves.",
        ge=0,
        le=2000,
    )
    neglected_first_usd: float = _setting(
        40.0,
        source="assumption, no source: edit it",
        unit="dollars a home",
        effect="What a never served old heater counts for besides, once the contractor has agreed: it comes first.",
        ge=0,
        le=2000,
    )
    anode_still_comes_out: float = _setting(
        0.5,
        source="assumption, no source: edit it",
        unit="share",
        effect="Chance that an anode still comes out a year after the good time for its first change has closed.",
        ge=0,
        le=1,
    )
    public_minimum_answers: int = _setting(
        11,
        source="CMS Cell Size Suppression Policy (ResDAC), 26 January 2024: cells of 1 to 10 are never shown",
        unit="answers",
        effect="Streets with fewer answers are joined with neighbors or not shown on anything published.",
        ge=3,
        le=100,
    )
    keep_answers_years: float = _setting(
        10.0,
        source="assumption, no source: edit it",
        unit="years",
        effect="Answers older than this are offered for deletion to the volunteer.",
        ge=1,
        le=50,
    )
    session_hours: float = _setting(
        12.0, source=_TRADE, unit="hours", effect="A sign-in ends after this time.", ge=0.25, le=72
    )
    idle_minutes: float = _setting(
        30.0,
        source="OWASP Session Management Cheat Sheet: 15 to 30 minutes for applications of low risk (from memory)",
        unit="minutes",
        effect="A sign-in ends after so long without a touch.",
        ge=2,
        le=720,
    )
    # What a heater costs here. The table that all pages read, with the national figures, is survey_app/prices.py.
    own_price_gas_low_usd: float = _own("low", "a gas tank of up to 55 gallons")
    own_price_gas_usual_usd: float = _own("usual", "a gas tank of up to 55 gallons")
    own_price_gas_high_usd: float = _own("high", "a gas tank of up to 55 gallons")
    own_price_gas_large_low_usd: float = _own("low", "a larger gas tank")
    own_price_gas_large_usual_usd: float = _own("usual", "a larger gas tank")
    own_price_gas_large_high_usd: float = _own("high", "a larger gas tank")
    own_price_electric_low_usd: float = _own("low", "an electric tank of up to 55 gallons")
    own_price_electric_usual_usd: float = _own("usual", "an electric tank of up to 55 gallons")
    own_price_electric_high_usd: float = _own("high", "an electric tank of up to 55 gallons")
    own_price_electric_large_low_usd: float = _own("low", "a larger electric tank")
    own_price_electric_large_usual_usd: float = _own("usual", "a larger electric tank")
    own_price_electric_large_high_usd: float = _own("high", "a larger electric tank")
    own_price_heat_pump_low_usd: float = _own("low", "a heat pump tank of up to 55 gallons")
    own_price_heat_pump_usual_usd: float = _own("usual", "a heat pump tank of up to 55 gallons")
    own_price_heat_pump_high_usd: float = _own("high", "a heat pump tank of up to 55 gallons")
    own_price_heat_pump_large_low_usd: float = _own("low", "a larger heat pump tank")
    own_price_heat_pump_large_usual_usd: float = _own("usual", "a larger heat pump tank")
    own_price_heat_pump_large_high_usd: float = _own("high", "a larger heat pump tank")
    own_price_tankless_low_usd: float = _own("low", "a tankless unit")
    own_price_tankless_usual_usd: float = _own("usual", "a tankless unit")
    own_price_tankless_high_usd: float = _own("high", "a tankless unit")
    own_prices_year: int = _setting(
        0,
        source="0: not told",
        unit="year",
        effect="The year that the community's own prices are of; it stands beside them.",
        ge=0,
        le=2200,
    )
    larger_tank_times: float = _setting(
        1.3,
        source="assumption, no source: edit it; no public figure by size was found",
        unit="times",
        effect="What a tank of more than 55 gallons costs beside a smaller one, where the community has no own price.",
        ge=1,
        le=3,
        low=1.0,
        high=1.8,
    )
    emergency_premium_usd: float = _setting(
        400.0,
        source="common practice, no source: an emergency call costs more; the amount is illustrative: edit it",
        unit="USD",
        effect="What a replacement in a hurry costs on top of a planned one.",
        ge=0,
        le=5000,
        low=100,
        high=1000,
    )
    leak_share: float = _setting(
        0.69,
        source="our assumption, no source: edit it. Of all heaters that fail nobody has published the share that leak. "
        "Of insurance claims for water heaters 69% were a leak or a burst (IBHS closed-claim study, about 2007 to "
        "2010, as quoted by insurers); who only lost hot water claims nothing, so the share of all failures may be "
        "lower",
        unit="share",
        effect="Of all heaters that fail, how many leak or burst; the others stop without water.",
        ge=0,
        le=1,
        low=0.5,
        high=0.9,
    )
    damage_chance_garage: float = _setting(
        0.15,
        source=_EDIT,
        unit="share",
        effect="Chance that a leak does damage, heater in a garage or outside.",
        ge=0,
        le=1,
        low=0.05,
        high=0.3,
    )
    damage_usd_garage: float = _setting(
        800.0,
        source=_EDIT,
        unit="USD",
        effect="That damage.",
        ge=0,
        le=200000,
        low=300,
        high=3000,
    )
    damage_chance_basement: float = _setting(
        0.35,
        source=_EDIT,
        unit="share",
        effect="Chance that a leak does damage, heater in a basement.",
        ge=0,
        le=1,
        low=0.15,
        high=0.6,
    )
    damage_usd_basement: float = _setting(
        2500.0,
        source=_EDIT,
        unit="USD",
        effect="That damage.",
        ge=0,
        le=200000,
        low=1000,
        high=10000,
    )
    damage_chance_inside: float = _setting(
        0.75,
        source=_EDIT,
        unit="share",
        effect="Chance that a leak does damage, heater in a closet, on an upper floor or in an attic.",
        ge=0,
        le=1,
        low=0.4,
        high=0.95,
    )
    damage_usd_inside: float = _setting(
        9000.0,
        source=f"{_EDIT}; {_OLD_AVERAGES}",
        unit="USD",
        effect="That damage.",
        ge=0,
        le=200000,
        low=3000,
        high=25000,
    )
    away_damage_factor: float = _setting(
        2.0,
        source=_EDIT,
        unit="times",
        effect="How much larger the damage is when nobody is home; an alarm then counts for nothing: nobody hears it.",
        ge=1,
        le=20,
        low=1,
        high=5,
    )
    factor_pan: float = _setting(
        0.9,
        source=f"{_EDIT}; a pan without a drain holds a few gallons",
        unit="share",
        effect="Damage that is left with a pan that has no drain.",
        ge=0,
        le=1,
        low=0.7,
        high=1.0,
    )
    factor_alarm: float = _setting(
        0.7,
        source=f"{_EDIT}; the same step as from a pan with drain (.5) to one with an alarm too (.35)",
        unit="share",
        effect="Damage that is left with a leak alarm alone.",
        ge=0,
        le=1,
        low=0.4,
        high=1.0,
    )
    factor_pan_drain: float = _setting(
        0.5,
        source=_PAN_WEAK,
        unit="share",
        effect="Damage that is left with a pan piped to a drain.",
        ge=0,
        le=1,
        low=0.2,
        high=0.8,
    )
    factor_pan_drain_alarm: float = _setting(
        0.35,
        source=_PAN_WEAK,
        unit="share",
        effect="Damage that is left with such a pan and a leak alarm.",
        ge=0,
        le=1,
        low=0.1,
        high=0.7,
    )
    factor_shutoff: float = _setting(
        0.2,
        source=_WEAK,
        unit="share",
        effect="Damage that is left with an automatic shut-off.",
        ge=0,
        le=1,
        low=0.07,
        high=0.5,
    )
    alarm_price_usd: float = _setting(
        25.0,
        source=_EDIT,
        unit="USD",
        effect="Price of a leak alarm.",
        ge=0,
        le=5000,
        low=10,
        high=80,
    )
    shutoff_price_usd: float = _setting(
        400.0,
        source=_EDIT,
        unit="USD",
        effect="Price of an automatic shut-off, fitted.",
        ge=0,
        le=10000,
        low=150,
        high=1000,
    )
    mitigation_lasts_years: float = _setting(
        10.0,
        source=_EDIT,
        unit="years",
        effect="How long a pan, an alarm or a shut-off is counted on before it is bought again.",
        ge=1,
        le=40,
        low=5,
        high=20,
    )
    discount_rate: float = _setting(
        0.03,
        source="illustrative input; US DOE Federal Energy Management Program, Energy Cost Calculator for Electric and "
        "Gas Water Heaters, uses 3.2%",
        unit="a year",
        effect="What a dollar a year from now is worth less today.",
        ge=0,
        le=0.2,
        low=0,
        high=0.08,
    )
    deductible_usd: float = _setting(
        1000.0,
        source=f"{_EDIT}: the policy says",
        unit="USD",
        effect="What a household pays itself of an insured damage.",
        ge=0,
        le=50000,
        low=500,
        high=5000,
    )
    closed_system: Tri = Field(
        default=Tri.UNKNOWN,
        description="Whether the homes' water lines have a check valve, a backflow preventer or a pressure regulator: "
        "an expansion tank is then part of a new tank's price, without one it is not; not sure counts it as perhaps.",
        json_schema_extra={
            "source": "nobody has said yet: ask the water utility or a licensed contractor. That a closed system needs "
            "an expansion tank: UPC 608.3 (2015 on, as quoted), IRC P2903.4 (from memory)",
            "unit": "",
        },
    )
    contacts: Contacts = Contacts()
    """Whom to call when a heater leaks: text, so told and changed apart from the figures."""
