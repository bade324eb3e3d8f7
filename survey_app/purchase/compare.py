"""Bids made comparable: gaps filled to a complete job, side by side, and where their order changes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from survey_app.purchase.bids import Anomaly, Bid, Offered, ScopeOffer, anomalies, cautions, check_bid
from survey_app.purchase.scope import SCOPE, HomeNeed, Usual, gap_prices

__all__ = [
    "Cell",
    "Comparison",
    "CompletedBid",
    "Crossing",
    "Gap",
    "OfferLine",
    "complete",
    "each_named_once",
    "offer_lines",
    "side_by_side",
]

COUNTS = (10, 30, 60)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """An item that the bid's price does not hold.

    Parameters
    ----------
    item
        Its key in the scope.
    usd
        What it adds to a home that needs it.
    homes
        How many of the homes it was counted for.
    assumed
        Whether ``usd`` is an assumption (the bid leaves the item out) or the bid's own extra.
    sentence
        What was done about it.
    """

    item: str
    usd: float
    homes: int
    assumed: bool
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CompletedBid:
    """A bid with every gap of its scope priced.

    ``own_usd`` is what each home's own scope adds to the shared price, in the
    order of the homes; ``why_not`` says why the bid cannot be completed or
    used, "" when it can.
    """

    bid: Bid
    gaps: tuple[Gap, ...]
    own_usd: tuple[float, ...]
    why_not: str

    @property
    def mean_own_usd(self) -> float:
        """What the gaps add to a home on average."""
        return sum(self.own_usd) / len(self.own_usd) if self.own_usd else 0.0


def complete(
    bid: Bid,
    needs: Sequence[HomeNeed],
    *,
    as_of: date,
    assumed_usd: Mapping[str, float] | None = None,
) -> CompletedBid:
    """Price what a bid leaves out, home by home.

    An extra counts at the bid's own price for the homes that need it; a missing
    item, or an extra without a price, at the scope's assumption. A bid without
    tank or labor cannot be completed, nor one with a fatal finding.

    Parameters
    ----------
    bid
        The bid.
    needs
        What each home needs.
    as_of
        Today, for its validity.
    assumed_usd
        The community's own prices for gaps.

    Raises
    ------
    ValueError
        When an own price for a gap cannot be used.
    """
    prices = gap_prices(assumed_usd)
    fatal = [f"{one.what} {one.remedy}" for one in check_bid(bid, as_of=as_of) if one.fatal]
    own = [0.0] * len(needs)
    gaps: list[Gap] = []
    for item in SCOPE:
        offer = bid.offer(item.key)
        if offer.offered is Offered.INCLUDED:
            continue
        homes = [i for i, need in enumerate(needs) if item.key in need.priced]
        if not homes and not (item.gap_usd is None and item.usual is Usual.EVERY_HOME):
            continue
        usd, stated = _gap_usd(offer, prices)
        if usd is None:
            fatal.append(
                f"It leaves out the {item.key}, for which no assumption can stand in. Ask for a price that holds it."
            )
            continue
        for i in homes:
            own[i] += usd
        gaps.append(
            Gap(
                item=item.key,
                usd=usd,
                homes=len(homes),
                assumed=not stated,
                sentence=_gap_words(bid, item.key, usd, len(homes), stated, offer.offered),
            )
        )
    why = f"{bid.contractor or 'A bid'} is set aside. {' '.join(fatal)}" if fatal else ""
    return CompletedBid(bid=bid, gaps=tuple(gaps), own_usd=tuple(own), why_not=why)


def _gap_usd(offer: ScopeOffer, prices: Mapping[str, float]) -> tuple[float | None, bool]:
    """What a gap adds, None where nothing can stand in for it, and whether the bid itself states it."""
    if offer.offered is Offered.EXTRA and offer.extra_usd is not None:
        return offer.extra_usd, True
    return prices.get(offer.item), False


def each_named_once(bids: Sequence[Bid]) -> list[Bid]:
    """The bids, a second one of the same contractor marked by its number, so that they can be told apart."""
    seen: Counter[str] = Counter()
    named = []
    for bid in bids:
        seen[bid.contractor] += 1
        again = seen[bid.contractor]
        named.append(bid if again == 1 else replace(bid, contractor=f"{bid.contractor} (bid {again})"))
    return named


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferLine:
    """One item of one home's offer.

    ``included`` in the shared price; else ``usd`` is what it adds for this
    home, None where the bid cannot be completed; ``assumed`` where the bid does
    not state that amount; ``unsure`` where an answer is missing that decides
    whether the home needs it at all.
    """

    item: str
    label: str
    included: bool
    usd: float | None
    assumed: bool
    unsure: bool


def offer_lines(bid: Bid, need: HomeNeed, *, assumed_usd: Mapping[str, float] | None = None) -> tuple[OfferLine, ...]:
    """What one home's complete price holds, and what it does not: the items it needs, in the scope's order.

    Raises
    ------
    ValueError
        When an own price for a gap cannot be used.
    """
    prices = gap_prices(assumed_usd)
    lines = []
    for item in SCOPE:
        if item.key not in need.priced:
            continue
        offer = bid.offer(item.key)
        included = offer.offered is Offered.INCLUDED
        usd, stated = (0.0, True) if included else _gap_usd(offer, prices)
        lines.append(
            OfferLine(
                item=item.key,
                label=item.label,
                included=included,
                usd=usd,
                assumed=not stated,
                unsure=item.key in need.unsure,
            )
        )
    return tuple(lines)


def _gap_words(bid: Bid, item: str, usd: float, homes: int, stated: bool, offered: Offered) -> str:
    where = "1 home" if homes == 1 else f"{homes} homes"
    if stated:
        return f"{bid.contractor} asks {usd:,.2f} dollars extra for {item}; counted for {where}."
    how = "leaves out" if offered is Offered.MISSING else "gives no price for the extra"
    return f"{bid.contractor} {how} {item}; {usd:,.2f} dollars a home are assumed, counted for {where}."


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One bid at one number of homes; the amounts are None where it does not hold, and ``why_not`` says why."""

    contractor: str
    homes: int
    home_usd: float | None
    total_usd: float | None
    gaps_home_usd: float
    why_not: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """From this number of homes on the bids stand in this order, cheapest first, without those that do not hold."""

    from_homes: int
    order: tuple[str, ...]
    leads: bool
    """Whether the cheapest changed, and not only those behind it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Bids side by side.

    ``table`` maps a number of homes to its cells, in the order of the bids;
    ``crossings`` begins with the order at one home.
    """

    bids: tuple[CompletedBid, ...]
    set_aside: tuple[str, ...]
    table: Mapping[int, tuple[Cell, ...]]
    crossings: tuple[Crossing, ...]
    anomalies: Mapping[str, tuple[Anomaly, ...]]
    cautions: tuple[str, ...]
    sentences: tuple[str, ...]


def side_by_side(
    bids: Sequence[Bid],
    needs: Sequence[HomeNeed],
    *,
    as_of: date,
    counts: Sequence[int] = COUNTS,
    up_to: int | None = None,
    assumed_usd: Mapping[str, float] | None = None,
    work_until: date | None = None,
) -> Comparison:
    """Compare the complete price of every bid, a home and in total.

    A number of homes means so many homes with the average need of those given,
    so that the bids are compared on the same job.

    Parameters
    ----------
    bids
        The bids; those that cannot be used are named with the reason.
    needs
        What the interested homes need.
    as_of
        Today.
    counts
        Numbers of homes for the table.
    up_to
        Crossings are looked for from 1 to this number (None: the largest of `counts`).
    assumed_usd
        The community's own prices for gaps.
    work_until
        The last day of work, for the insurance.
    """
    finished = [complete(bid, needs, as_of=as_of, assumed_usd=assumed_usd) for bid in each_named_once(bids)]
    usable = [one for one in finished if not one.why_not]
    table = {n: tuple(_cell(one, n) for one in usable) for n in counts if n >= 1}
    last = max([*table, 1]) if up_to is None else up_to
    crossings = _crossings(usable, last)
    odd = {one.bid.contractor: found for one in usable if (found := anomalies(one.bid))}
    set_aside = tuple(one.why_not for one in finished if one.why_not)
    asks = tuple(said for one in usable for said in cautions(one.bid, work_until=work_until))
    return Comparison(
        bids=tuple(finished),
        set_aside=set_aside,
        table=table,
        crossings=crossings,
        anomalies=odd,
        cautions=asks,
        sentences=_sentences(usable, len(bids), len(needs), table, crossings, odd, set_aside),
    )


def _cell(one: CompletedBid, homes: int) -> Cell:
    why, gaps = one.bid.why_not(homes), one.mean_own_usd
    total = None if why else one.bid.total_usd(homes) + homes * gaps
    return Cell(
        contractor=one.bid.contractor,
        homes=homes,
        home_usd=None if total is None else total / homes,
        total_usd=total,
        gaps_home_usd=gaps,
        why_not=why,
    )


def _crossings(usable: Sequence[CompletedBid], last: int) -> tuple[Crossing, ...]:
    """Every change of order; bids equal to the cent keep the order they had."""
    found: list[Crossing] = []
    before: tuple[str, ...] = ()
    for n in range(1, last + 1):
        cells = [cell for cell in (_cell(one, n) for one in usable) if cell.total_usd is not None]
        had = {name: k for k, name in enumerate(before)}
        cells.sort(key=lambda cell: (round(cell.total_usd or 0.0, 2), had.get(cell.contractor, len(had))))
        order = tuple(cell.contractor for cell in cells)
        if order != before and order:
            found.append(Crossing(from_homes=n, order=order, leads=order[:1] != before[:1]))
        before = order
    return tuple(found)


def _sentences(
    usable: Sequence[CompletedBid],
    bids: int,
    homes: int,
    table: Mapping[int, tuple[Cell, ...]],
    crossings: Sequence[Crossing],
    odd: Mapping[str, tuple[Anomaly, ...]],
    set_aside: Sequence[str],
) -> tuple[str, ...]:
    said = list(set_aside)
    if not bids:
        return ("There is no bid yet. Send the request to contractors, and enter what they offer.",)
    if not usable:
        return (*said, "No bid can be compared yet.")
    if not homes:
        said.append("No home is interested yet: the bids are compared without the gaps of any home.")
    for n, cells in table.items():
        held = sorted((cell for cell in cells if cell.total_usd is not None), key=lambda cell: cell.total_usd or 0.0)
        if held:
            first = held[0]
            said.append(
                f"At {n} homes {first.contractor} is the cheapest: {first.home_usd:,.2f} dollars a home complete, "
                f"{first.total_usd:,.0f} in all."
            )
        else:
            said.append(f"At {n} homes no bid holds.")
    leaders = [one for one in crossings if one.leads]
    if len(usable) > 1:
        said += [f"From {one.from_homes} homes on {one.order[0]} is the cheapest." for one in leaders[1:]]
        if len(leaders) == 1:
            said.append(f"{leaders[0].order[0]} is the cheapest at every number of homes looked at.")
    said += [f"{name}: {one.sentence}" for name, found in odd.items() for one in found]
    assumed = [gap.sentence for one in usable for gap in one.gaps if gap.assumed]
    return (*said, *assumed)
