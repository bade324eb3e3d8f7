"""What a failure costs a household: amounts of the community, the household's own, and what lessens the damage.

A failed heater costs the planned price and the premium for haste. A share of
failures leak; a share of leaks do damage; how much depends on where the heater
stands, on what catches the water, and on whether anybody is home. What catches
water is counted as making damage *rarer*, not smaller, so that an insured
household, which pays at most its deductible, gains by it too.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from enum import StrEnum
from typing import Any

from survey_app.prices import BOUNDS_USD, PriceList, SizeClass, size_class
from survey_app.records import HeaterKind, Place, Tri
from survey_app.settings import Settings, bounds
from survey_app.standing import Standing

__all__ = [
    "Amounts",
    "Catch",
    "DamageGroup",
    "Household",
    "Outcome",
    "amounts_in_use",
    "household_of",
    "limits",
    "outcomes",
]

PLANNED = "planned_price_usd"
"""The one amount that is no setting: it comes from the price list."""


def limits(name: str) -> tuple[float, float]:
    """Least and largest value that an amount may have."""
    return BOUNDS_USD if name == PLANNED else bounds(name)


class DamageGroup(StrEnum):
    """Places that are alike in what a leak does there."""

    GARAGE = "garage"
    BASEMENT = "basement"
    INSIDE = "inside"


_GROUPS: dict[Place, DamageGroup] = {
    Place.GARAGE: DamageGroup.GARAGE,
    Place.OUTSIDE: DamageGroup.GARAGE,
    Place.BASEMENT: DamageGroup.BASEMENT,
    Place.CLOSET: DamageGroup.INSIDE,
    Place.UPPER_FLOOR: DamageGroup.INSIDE,
    Place.ATTIC: DamageGroup.INSIDE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Amounts:
    """Amounts, shares and prices behind a decision; every field but the first is the setting of the same name.

    Dollars, shares from 0 to 1, a discount rate a year, years. Each default's source, unit and plausible range are
    in :class:`survey_app.settings.Settings`. `planned_price_usd` is a row of the price list, :mod:`survey_app.prices`.
    """

    planned_price_usd: float
    emergency_premium_usd: float
    leak_share: float
    damage_chance_garage: float
    damage_usd_garage: float
    damage_chance_basement: float
    damage_usd_basement: float
    damage_chance_inside: float
    damage_usd_inside: float
    away_damage_factor: float
    factor_pan: float
    factor_alarm: float
    factor_pan_drain: float
    factor_pan_drain_alarm: float
    factor_shutoff: float
    alarm_price_usd: float
    shutoff_price_usd: float
    mitigation_lasts_years: float
    discount_rate: float
    deductible_usd: float

    def __post_init__(self) -> None:
        wrong = []
        for field in fields(self):
            least, most = limits(field.name)
            value = getattr(self, field.name)
            if not least <= value <= most:
                wrong.append(f"{field.name} = {value:g} is not between {least:g} and {most:g}.")
        if wrong:
            raise ValueError(" ".join([*wrong, "Change these amounts."]))

    @classmethod
    def from_settings(
        cls, settings: Settings, kind: HeaterKind = HeaterKind.UNKNOWN, size: SizeClass = SizeClass.USUAL
    ) -> Amounts:
        """The community's amounts for a heater of this kind and size."""
        others = {field.name: getattr(settings, field.name) for field in fields(cls) if field.name != PLANNED}
        return cls(planned_price_usd=PriceList(settings).at(kind, size).usual_usd, **others)

    def changed(self, values: Mapping[str, float]) -> Amounts:
        """These amounts with some of them changed.

        Raises
        ------
        ValueError
            Naming every amount that is out of its bounds.
        """
        changes: dict[str, Any] = dict(values)
        return replace(self, **changes)

    def damage(self, group: DamageGroup) -> tuple[float, float]:
        """Chance that a leak does damage in this group of places, and the damage in dollars."""
        chance, dollars = f"damage_chance_{group}", f"damage_usd_{group}"
        return float(getattr(self, chance)), float(getattr(self, dollars))


@dataclass(frozen=True, slots=True)
class Catch:
    """What lessens the damage of a leak. A pan that is not known to be piped to a drain counts as not piped."""

    pan: bool = False
    drain: bool = False
    alarm: bool = False
    shutoff: bool = False

    def with_more(self, other: Catch) -> Catch:
        """What is there once the other is added."""
        return Catch(
            self.pan or other.pan, self.drain or other.drain, self.alarm or other.alarm, self.shutoff or other.shutoff
        )

    def damage_left(self, amounts: Amounts, *, somebody_home: bool = True) -> float:
        """Share of the damage that is left: that of the best combination at hand, never more than without.

        An alarm that nobody hears counts for nothing.
        """
        alarm = self.alarm and somebody_home
        at_hand = [
            1.0,
            *([amounts.factor_pan] if self.pan else []),
            *([amounts.factor_alarm] if alarm else []),
            *([amounts.factor_pan_drain] if self.pan and self.drain else []),
            *([amounts.factor_pan_drain_alarm] if self.pan and self.drain and alarm else []),
            *([amounts.factor_shutoff] if self.shutoff else []),
        ]
        return min(at_hand)

    def price(self, amounts: Amounts, have: Catch) -> float:
        """Dollars to add the alarm and the shut-off that are here to what the household has; no pan is ever added."""
        return (amounts.alarm_price_usd if self.alarm and not have.alarm else 0.0) + (
            amounts.shutoff_price_usd if self.shutoff and not have.shutoff else 0.0
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Household:
    """What one household tells for itself.

    Parameters
    ----------
    kind, size, place
        The heater, and where it stands; a place that is not known is counted as a third of each group.
    has
        What catches the water today.
    insured
        Whether the policy pays for sudden water damage. "Not sure" is counted as no: only the policy knows.
    days_empty
        Days a year on which nobody is home, 0 to 365.
    """

    kind: HeaterKind = HeaterKind.UNKNOWN
    size: SizeClass = SizeClass.USUAL
    place: Place = Place.UNKNOWN
    has: Catch = Catch()
    insured: Tri = Tri.UNKNOWN
    days_empty: float = 0.0

    def __post_init__(self) -> None:
        if not 0 <= self.days_empty <= 365:
            raise ValueError(f"Days empty = {self.days_empty:g} is not between 0 and 365. Change it.")

    @property
    def groups(self) -> tuple[DamageGroup, ...]:
        """The group of its place, or all of them where the place is not known."""
        return (_GROUPS[self.place],) if self.place in _GROUPS else tuple(DamageGroup)


@dataclass(frozen=True, slots=True)
class Outcome:
    """One way a failure may end: its chance given a failure, and what it costs beyond the planned price."""

    chance: float
    extra_usd: float


def household_of(standing: Standing, *, drained: Tri = Tri.UNKNOWN) -> Household:
    """What the answers say about a household; `drained` says whether its pan is piped to a drain."""
    heater = standing.heater
    if heater is None:
        return Household()
    has = Catch(
        heater.pan is Tri.YES,
        heater.pan is Tri.YES and drained is Tri.YES,
        heater.leak_alarm is Tri.YES,
        heater.auto_shutoff is Tri.YES,
    )
    return Household(kind=heater.kind, size=size_class(heater.tank_gallons), place=heater.place, has=has)


def outcomes(amounts: Amounts, household: Household, has: Catch) -> tuple[Outcome, ...]:
    """Every way a failure may end for this household if it had `has`.

    Returns
    -------
    tuple of Outcome
        Chances sum to one. The first is a failure without damage.
    """
    away = household.days_empty / 365
    found: list[Outcome] = []
    for home, share in ((True, 1 - away), (False, away)):
        if share == 0:
            continue
        left = has.damage_left(amounts, somebody_home=home)
        for group in household.groups:
            chance, damage = amounts.damage(group)
            damage *= 1.0 if home else amounts.away_damage_factor
            own = min(damage, amounts.deductible_usd) if household.insured is Tri.YES else damage
            found.append(
                Outcome(
                    share * amounts.leak_share * chance * left / len(household.groups),
                    amounts.emergency_premium_usd + own,
                )
            )
    dry = 1 - sum(o.chance for o in found)
    return (Outcome(dry, amounts.emergency_premium_usd), *found)


def amounts_in_use(household: Household) -> tuple[str, ...]:
    """Names of the amounts that bear on this household's answer, in the order people are asked."""
    names = ["planned_price_usd", "emergency_premium_usd", "leak_share"]
    for group in household.groups:
        names += [f"damage_chance_{group}", f"damage_usd_{group}"]
    if household.insured is Tri.YES:
        names.append("deductible_usd")
    if household.days_empty > 0:
        names.append("away_damage_factor")
    has = household.has
    if has.pan and not has.drain:
        names.append("factor_pan")
    names += ["factor_alarm"]
    if has.pan and has.drain:
        names += ["factor_pan_drain", "factor_pan_drain_alarm"]
    names.append("factor_shutoff")
    if not has.alarm:
        names.append("alarm_price_usd")
    if not has.shutoff:
        names.append("shutoff_price_usd")
    return (*names, "mitigation_lasts_years", "discount_rate")
