"""One home's offer in words, in its language."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from survey_app.prices import basis_words
from survey_app.purchase.compare import OfferLine
from survey_app.purchase.offers import YES_HOLDS_WITHIN_USD, Offer
from survey_app.purchase.prices_of_home import own_lines
from survey_app.purchase.scope import USUAL_SIZES
from survey_app.records import HeaterKind, Interest
from survey_app.texts import Texts

__all__ = [
    "ANSWERS",
    "answer_words",
    "held_lines",
    "kind_words",
    "price_lines",
    "said_lines",
    "state_line",
    "wish_words",
]

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
        lines.append(say(f"offer-why-{offer.why_not}", kind=kind_words(say, offer.kind)))
        if offer.why_not == "cheaper-alone" and not offer.alone_price.is_own:
            lines[-1] += " " + say("price-default-to-blame", basis=basis_words(offer.alone_price, say))
        if offer.why_not == "other-kind" and offer.other_kinds:
            others = ", ".join(kind_words(say, kind) for kind in offer.other_kinds if kind is not offer.kind)
            lines.append(say("offer-other-kinds", kinds=others))
        lines += [say("offer-about", about=say.usd(offer.about_usd))] if offer.about_usd is not None else []
    kind = kind_words(say, HeaterKind.GAS_STORAGE if offer.kind is HeaterKind.UNKNOWN else offer.kind)
    lines.append(say("offer-alone-price", kind=kind, alone=say.usd(offer.alone_usd)))
    # A national figure judges no offer.
    if offer.price_usd is not None and offer.alone_price.is_own and offer.alone_usd - offer.price_usd >= 1:
        lines[-1] += " " + say("offer-less", less=say.usd(offer.alone_usd - offer.price_usd))
    lines += own_lines(say, offer.alone_price, offer.certain_usd, offer.possible_usd)
    return [*lines, *_about_the_kind(say, offer)] if offer.why_not != "bought" else lines


def _about_the_kind(say: Texts, offer: Offer) -> list[str]:
    """What both prices are for, and what may come on top of either."""
    lines, now = [], kind_words(say, offer.now_kind)
    if offer.wants:
        alone = say.usd(offer.now_alone_usd)
        lines.append(say("offer-change", now=now, wanted=kind_words(say, offer.kind), alone=alone))
        lines.append(say("offer-change-extra"))
    elif offer.kind is HeaterKind.TANKLESS:
        lines.append(say("offer-tankless-extra"))
    elif offer.kind is HeaterKind.UNKNOWN:
        lines.append(say("offer-kind-unknown"))
    least, most = USUAL_SIZES
    if offer.kind.has_tank and offer.gallons and not least <= offer.gallons <= most:
        lines.append(say("offer-size", gallons=say.number(offer.gallons)))
    return lines


def kind_words(say: Texts, kind: HeaterKind) -> str:
    """A kind of heater within a sentence."""
    return say("offer-kind-unknown-kind" if kind is HeaterKind.UNKNOWN else f"offer-kind-{kind.replace(' ', '-')}")


def wish_words(say: Texts, offer: Offer, kind: HeaterKind | None) -> str:
    """One choice of the kind of heater a home wants; None for its own."""
    return say("offer-wants-same", kind=kind_words(say, offer.now_kind)) if kind is None else kind_words(say, kind)


def state_line(say: Texts, offer: Offer) -> str:
    """How many have said yes, and how many it takes."""
    counted = offer.round
    key = "offer-round" if offer.price_usd is not None else "offer-round-all"
    state = say(key, needed=counted.needed, yes=counted.yes, maybe=counted.maybe)
    if offer.price_usd is None:
        # The homes of several rounds together: their number does not say whether one of them goes ahead.
        return state
    more = say("offer-round-ahead") if counted.goes_ahead else say("offer-round-lacking", lacking=counted.lacking)
    if counted.possible < counted.needed:
        more += " " + say("offer-round-too-few", homes=counted.possible)
    return f"{state} {more}"


def held_lines(say: Texts, offer: Offer) -> list[str]:
    """What the price holds and what comes on top, as a list in Markdown; then the sums that are not quoted, apart."""
    lines = [f"- **{say(_item(offer, x))}:** {_how(say, x)}" for x in offer.lines]
    return [*lines, "", _sums(say, offer.lines), "", say("price-complete")] if lines else []


def _sums(say: Texts, lines: Sequence[OfferLine]) -> str:
    """What comes on top of the shared price: quoted, assumed, and what hangs on an answer that is missing."""
    extra = [line for line in lines if not line.included and line.usd is not None]
    sums = {
        "quoted": sum(x.usd or 0.0 for x in extra if not x.assumed and not x.unsure),
        "assumed": sum(x.usd or 0.0 for x in extra if x.assumed and not x.unsure),
        "possible": sum(x.usd or 0.0 for x in extra if x.unsure),
    }
    return say("price-quoted-extras", **{name: say.usd(usd) for name, usd in sums.items()})


_OWN_WORDS = frozenset({"tank", "ball valve"})
"""Items that are something else on a tankless unit."""


def _item(offer: Offer, line: OfferLine) -> str:
    more = "-tankless" if offer.kind is HeaterKind.TANKLESS and line.item in _OWN_WORDS else ""
    return f"offer-item-{line.item.replace(' ', '-')}{more}"


def _how(say: Texts, line: OfferLine) -> str:
    if line.usd is None:
        how = say("offer-unknown")
    elif line.included:
        how = say("offer-in")
    else:
        how = say("offer-assumed" if line.assumed else "offer-extra", usd=say.usd(line.usd))
    return f"{how} ({say('offer-unsure')})" if line.unsure else how


def answer_words(say: Texts, *, priced: bool) -> dict[Interest, str]:
    """What a home may say, in words; without a price a yes is to none."""
    words = {says: say(message) for says, message in ANSWERS.items()}
    return words if priced else words | {Interest.YES: say("offer-yes-open")}


def said_lines(say: Texts, offer: Offer) -> list[str]:
    """What the home has said so far, and to which price; empty where it has not replied."""
    if offer.says not in ANSWERS:
        return []
    lines = [say("offer-now", says=answer_words(say, priced=offer.said_to_usd is not None)[offer.says])]
    if offer.says is Interest.YES and offer.said_to_usd is not None and offer.limit_usd is None:
        lines.append(say("offer-yes-to", price=say.usd(offer.said_to_usd), more=say.usd(YES_HOLDS_WITHIN_USD)))
    return lines
