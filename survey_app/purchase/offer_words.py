"""One home's offer in words, in its language."""

from __future__ import annotations

from collections.abc import Callable

from survey_app.purchase.compare import OfferLine
from survey_app.purchase.offers import YES_HOLDS_WITHIN_USD, Offer
from survey_app.records import Interest
from survey_app.texts import Texts

__all__ = ["ANSWERS", "held_lines", "price_lines", "said_lines", "state_line"]

ANSWERS = {Interest.YES: "offer-yes", Interest.MAYBE: "offer-maybe", Interest.NO: "offer-no"}
"""What a home may say, each with its message."""


def price_lines(say: Texts, offer: Offer, shown: Callable[[str], str] = str) -> list[str]:
    """The price and whose it is, or why the home is in no round; and what the same job costs alone.

    `shown` makes a contractor's name fit for where the lines are shown.
    """
    lines = []
    if offer.price_usd is not None and offer.begins is not None:
        lines.append(
            say(
                "offer-price",
                price=say.usd(offer.price_usd),
                contractor=shown(offer.contractor),
                round=shown(offer.round_name),
                begins=say.day(offer.begins),
            )
        )
        if offer.holds_from is not None and offer.holds_from > 1:
            lines.append(say("offer-holds", homes=offer.holds_from))
        if offer.needed_usd is not None and offer.needed_usd > offer.price_usd + 0.5:
            lines[-1] += " " + say("offer-at-needed", needed=offer.round.needed, price=say.usd(offer.needed_usd))
        lines += [say("offer-changed")] if offer.changed else []
    else:
        lines.append(say(f"offer-why-{offer.why_not}"))
        lines += [say("offer-about", about=say.usd(offer.about_usd))] if offer.about_usd is not None else []
    return [*lines, say("offer-alone-price", alone=say.usd(offer.alone_usd))]


def state_line(say: Texts, offer: Offer) -> str:
    """How many have said yes, and how many it takes."""
    counted = offer.round
    key = "offer-round" if offer.price_usd is not None else "offer-round-all"
    state = say(key, needed=counted.needed, yes=counted.yes, maybe=counted.maybe)
    more = say("offer-round-ahead") if counted.goes_ahead else say("offer-round-lacking", lacking=counted.lacking)
    return f"{state} {more}"


def held_lines(say: Texts, offer: Offer) -> list[str]:
    """What the price holds and what comes on top, as a list in Markdown."""
    return [f"- **{say('offer-item-' + x.item.replace(' ', '-'))}:** {_how(say, x)}" for x in offer.lines]


def _how(say: Texts, line: OfferLine) -> str:
    if line.usd is None:
        how = say("offer-unknown")
    elif line.included:
        how = say("offer-in")
    else:
        how = say("offer-assumed" if line.assumed else "offer-extra", usd=say.usd(line.usd))
    return f"{how} ({say('offer-unsure')})" if line.unsure else how


def said_lines(say: Texts, offer: Offer) -> list[str]:
    """What the home has said so far, and to which price; empty where it has not replied."""
    if offer.says not in ANSWERS:
        return []
    lines = [say("offer-now", says=say(ANSWERS[offer.says]))]
    if offer.says is Interest.YES and offer.said_to_usd is not None and offer.limit_usd is None:
        lines.append(say("offer-yes-to", price=say.usd(offer.said_to_usd), more=say.usd(YES_HOLDS_WITHIN_USD)))
    return lines
