"""The two prices of one home: the same complete job alone and in the group. Every page that tells them asks here."""

from __future__ import annotations

from dataclasses import dataclass

from survey_app.economics import Amounts
from survey_app.purchase.offers import Offer
from survey_app.purchase.scope import HomeNeed, need_of_heater, price_alone
from survey_app.records import Heater, HeaterKind
from survey_app.settings import Settings

__all__ = ["HomePrices", "complete_usd", "prices_of_home"]


@dataclass(frozen=True, slots=True, kw_only=True)
class HomePrices:
    """What a new heater costs one home.

    Parameters
    ----------
    kind
        The kind of heater that all prices are for.
    planned_usd
        The community's price of a planned replacement of that kind.
    own_usd
        The complete job bought alone: the same, and what this home needs besides.
    group_usd
        Its price in the group purchase as it stands; None where it is in no round.
    """

    kind: HeaterKind
    planned_usd: float
    own_usd: float
    group_usd: float | None


def complete_usd(settings: Settings, need: HomeNeed) -> float:
    """What a complete job costs a home that buys alone, by the community's prices."""
    return price_alone(need, Amounts.from_settings(settings, need.kind).planned_price_usd)


def prices_of_home(settings: Settings, heater: Heater | None, offer: Offer | None) -> HomePrices:
    """What a new heater costs the home where this one stands.

    Parameters
    ----------
    settings
        The community's.
    heater
        The heater in service; None where none is on file.
    offer
        What the home is offered; None without one. Where it asked for another kind of heater, all prices are for that.
    """
    kind = offer.kind if offer else heater.kind if heater else HeaterKind.UNKNOWN
    planned = Amounts.from_settings(settings, kind).planned_price_usd
    own = offer.alone_usd if offer else planned
    if heater is not None and offer is None:
        own = complete_usd(settings, need_of_heater(heater, closed_system=settings.closed_system))
    return HomePrices(kind=kind, planned_usd=planned, own_usd=own, group_usd=offer.price_usd if offer else None)
