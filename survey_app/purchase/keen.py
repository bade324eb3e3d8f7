"""Homes that want to buy together: what each wants, and what the rounds rest on."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from survey_app.histories import wishes_of
from survey_app.purchase.offers import YES_HOLDS_WITHIN_USD
from survey_app.purchase.scope import USUAL_SIZES, HomeNeed, need_of_heater, need_of_kind
from survey_app.records import Answer, Heater, HeaterKind, Home, Interest, OfferReply, Tri
from survey_app.standing import Standing

__all__ = ["KEEN", "Keen", "about_the_forming", "asked_to_take_part", "holds_up_to", "keen_homes", "wanted"]

KEEN = (Interest.YES, Interest.MAYBE)
"""Words that count as wanting to take part."""
_USUAL_FROM, _USUAL_TO = USUAL_SIZES


@dataclass(frozen=True, slots=True, kw_only=True)
class Keen:
    """A home that wants to take part: what a complete job takes there, what it said in the survey and since."""

    home: Standing
    need: HomeNeed
    wish: Interest
    reply: OfferReply | None

    @property
    def changes(self) -> bool:
        """Whether it asked for another kind of heater than stands there."""
        return self.home.heater is not None and self.need.kind is not self.home.heater.kind

    @property
    def home_id(self) -> str:
        """The home."""
        return self.home.home.home_id

    @property
    def firm(self) -> Interest:
        """Its reply to an offer; not sure where it has not replied."""
        return self.reply.says if self.reply else Interest.UNKNOWN

    @property
    def says(self) -> Interest:
        """Its reply, else what it said in the survey."""
        return self.firm if self.reply else self.wish

    @property
    def limit_usd(self) -> float | None:
        """The most it pays: what it named, else what the price it said yes to may rise to."""
        if self.reply is None:
            return None
        if self.reply.limit_usd is None and self.firm is Interest.YES:
            return holds_up_to(self.reply.price_usd)
        return self.reply.limit_usd


def holds_up_to(price_usd: float | None) -> float | None:
    """The price up to which a yes holds that named no limit."""
    return None if price_usd is None else price_usd + YES_HOLDS_WITHIN_USD


def wanted(heater: Heater, reply: OfferReply | None, *, closed_system: Tri = Tri.UNKNOWN) -> HomeNeed:
    """What the home is to be priced for: its own kind of heater, or the one it asked to change to."""
    asked = reply.wants_kind if reply else None
    if asked:
        return need_of_kind(heater, asked, closed_system=closed_system)
    return need_of_heater(heater, closed_system=closed_system)


def keen_homes(
    standings: Iterable[Standing],
    answers: Mapping[str, Sequence[Answer]],
    replies: Mapping[str, OfferReply],
    *,
    done: Collection[str],
    closed_system: Tri = Tri.UNKNOWN,
) -> list[Keen]:
    """Homes with a heater that say yes or maybe, by their reply or else by the survey.

    Parameters
    ----------
    standings
        Where every home stands.
    answers, replies
        What each home answered and replied, by its id.
    done
        Homes that have bought.
    closed_system
        Whether the community's water lines are closed, by its settings.
    """
    found = []
    for home in standings:
        home_id = home.home.home_id
        told = answers.get(home_id)
        if home.heater is None or home_id in done or (told is None and home_id not in replies):
            continue
        wish = wishes_of(home.home, told).group_purchase if told else Interest.UNKNOWN
        reply = replies.get(home_id)
        one = Keen(home=home, need=wanted(home.heater, reply, closed_system=closed_system), wish=wish, reply=reply)
        if one.says in KEEN:
            found.append(one)
    return found


def asked_to_take_part(
    homes: Iterable[Home], answers: Mapping[str, Sequence[Answer]], replies: Mapping[str, OfferReply]
) -> set[str]:
    """Homes whose last word on buying together, by their reply or else by the survey, is yes or maybe."""
    wish = {h.home_id: wishes_of(h, answers[h.home_id]).group_purchase for h in homes if h.home_id in answers}
    said = {home_id: reply.says for home_id, reply in replies.items()}
    return {k for k, word in {**wish, **said}.items() if word in KEEN}


def about_the_forming(weighed: Sequence[Keen], waiting: Mapping[HeaterKind, int]) -> list[str]:
    """What the rounds rest on, said aloud.

    Parameters
    ----------
    weighed
        The homes that were weighed.
    waiting
        Homes that were left out because no bid is for their kind of heater, by kind.
    """
    said = [
        "Alone means: the settings' planned price for the same kind of heater, and the scope's assumed price of what "
        "the home needs besides (pan, expansion tank, alarm, hard access). Haste is not in it: it counts as loss while "
        "waiting, by each home's own chance to fail until the middle of the round."
    ]
    if waiting:
        count = sum(waiting.values())
        are = "home is" if count == 1 else "homes are"
        which = ", ".join(f"{n} {kind}" for kind, n in sorted(waiting.items()))
        said.append(f"{count} interested {are} left out: no bid is for their kind of heater ({which}).")
    if sizes := sum(k.need.kind.has_tank and not _USUAL_FROM <= k.need.gallons <= _USUAL_TO for k in weighed):
        said.append(
            f"Homes with a tank of another size than {_USUAL_FROM:g} to {_USUAL_TO:g} gallons: {sizes}. The price "
            "alone is by size class, a bid has one price for all sizes: ask the contractors before anybody signs."
        )
    if changing := sum(k.changes for k in weighed):
        said.append(
            f"Homes that asked to change to another kind of heater: {changing}. What the change itself takes (gas "
            "line, flue, circuit) is in no price here: the contractor has to settle it with the owner."
        )
    if unknown := sum(k.need.kind is HeaterKind.UNKNOWN for k in weighed):
        said.append(f"Homes that do not know their kind of heater: {unknown}. They count as gas tanks.")
    return said
