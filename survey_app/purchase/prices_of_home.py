"""The two prices of one home: the same complete job alone and in the group. Every page that tells them asks here."""

from __future__ import annotations

from dataclasses import dataclass

from survey_app.prices import Price, PriceList, price_line
from survey_app.purchase.offers import Offer
from survey_app.purchase.scope import HomeNeed, extras_alone, need_of_kind, price_alone
from survey_app.records import Heater, HeaterKind
from survey_app.settings import Settings
from survey_app.texts import Texts

__all__ = ["HomePrices", "complete_usd", "own_lines", "price_of_need", "prices_of_home"]


@dataclass(frozen=True, slots=True, kw_only=True)
class HomePrices:
    """What a new heater costs one home.

    Parameters
    ----------
    kind
        The kind of heater that all prices are for.
    price
        Its row of the price list.
    certain_usd, possible_usd
        What this home needs besides, and what it may need: an answer that decides it is missing.
    own_usd
        The complete job bought alone: all three.
    group_usd
        Its price in the group purchase as it stands; None where it is in no round.
    """

    kind: HeaterKind
    price: Price
    certain_usd: float
    possible_usd: float
    own_usd: float
    group_usd: float | None

    @property
    def planned_usd(self) -> float:
        """The usual price of the job that every home needs."""
        return self.price.usual_usd


def price_of_need(settings: Settings, need: HomeNeed) -> Price:
    """The row of the price list for what a home needs."""
    return PriceList(settings).for_gallons(need.kind, need.gallons)


def complete_usd(settings: Settings, need: HomeNeed) -> float:
    """What a complete job costs a home that buys alone, by the price list."""
    return price_alone(need, price_of_need(settings, need).usual_usd)


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
    if heater is None:
        price, extras = PriceList(settings).at(kind), (0.0, 0.0)
    else:
        need = need_of_kind(heater, kind, closed_system=settings.closed_system)
        price, extras = price_of_need(settings, need), extras_alone(need)
    return HomePrices(
        kind=kind,
        price=price,
        certain_usd=extras[0],
        possible_usd=extras[1],
        own_usd=price.usual_usd + sum(extras),
        group_usd=offer.price_usd if offer else None,
    )


def own_lines(say: Texts, price: Price, certain_usd: float, possible_usd: float) -> list[str]:
    """A home's own complete price in its parts: the row of the list, what is certain besides, and what is possible."""
    lines = [price_line(price, say)]
    if not price.is_own:
        lines.append(say("price-not-here"))
    if certain_usd >= 1:
        lines.append(say("price-besides-certain", usd=say.usd(certain_usd)))
    if possible_usd >= 1:
        lines.append(say("price-besides-possible", usd=say.usd(possible_usd)))
    return [*lines, say("price-besides-assumed")] if certain_usd + possible_usd >= 1 else lines
