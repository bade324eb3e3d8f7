"""`PurchaseRounds`: bids, their comparison, rounds, offers, and what was bought."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from survey_app.access import Action, Role
from survey_app.errors import NotThere
from survey_app.plain_data import from_plain, to_plain
from survey_app.purchase.bids import TANK_KINDS, Bid, check_bid
from survey_app.purchase.buyers import (
    buyer_rows,
    kinds_of,
    next_steps,
    order_states,
    served_kinds,
    waiting_kinds,
)
from survey_app.purchase.compare import Comparison, side_by_side
from survey_app.purchase.home_offer import BidOnFile, offer_to
from survey_app.purchase.installed import BOUGHT, bought, installed_event
from survey_app.purchase.keen import Keen, about_the_forming, asked_to_take_part, keen_homes
from survey_app.purchase.offers import Bought, BuyerRow, Offer, OrderState
from survey_app.purchase.plan import AskedRounds, FormedRounds, Order, Rounds
from survey_app.purchase.request import BidRequest, bid_request
from survey_app.purchase.rounds import form_rounds
from survey_app.purchase.thresholds import NextStep, Threshold, threshold
from survey_app.purchase.weighing import households
from survey_app.records import Event, HeaterKind, Interest, OfferReply
from survey_app.standing import Standing
from survey_app.store import KeptBid, KeptRounds
from survey_app.survey.context import Context
from survey_app.survey.rereading import reread

__all__ = ["PurchaseRounds"]


class PurchaseRounds:
    """The group purchase of one survey, for the committee and the volunteer.

    Parameters
    ----------
    context
        The records, who asks and when.
    for_home
        The home whose people ask, by way of :class:`OneHome`; None for those who organize.

    Raises
    ------
    NotAllowed
        When this actor may not organize the purchase, or that home is not theirs.
    """

    def __init__(self, context: Context, *, for_home: str | None = None) -> None:
        if for_home is None:
            context.require(Action.PLAN_PURCHASE)
        else:
            context.require(Action.READ_HOME, for_home)
        self._context = context
        self._found: tuple[int, list[Keen]] | None = None

    # ---- request and bids -------------------------------------------------------

    def request(self, *, by_when: date | None = None, bids_until: date | None = None) -> BidRequest:
        """What every bidder is asked alike; counts and groups, no home."""
        homes = [(k.home.home.street, k.need) for k in self._keen()]
        return bid_request(homes, as_of=self._context.today, by_when=by_when, bids_until=bids_until)

    def bids(self) -> list[Bid]:
        """Every bid on file."""
        with self._context.read() as records:
            return [from_plain(Bid, kept.content) for kept in records.bids()]

    def put_bids(self, bids: Sequence[Bid]) -> int:
        """Keep bids that can be used; one of the same contractor replaces the one before.

        A bid that is on file as it is, is left alone, even where it has expired since.

        Returns
        -------
        int
            How many were new or changed.

        Raises
        ------
        ValueError
            With every fatal fault of every new or changed bid, a sentence each.
        """
        today, known = self._context.today, self.bids()
        fresh = [bid for bid in bids if bid not in known]
        wrong = [
            f"{bid.contractor or 'A bid'}: {f.what} {f.remedy}"
            for bid in fresh
            for f in check_bid(bid, as_of=today)
            if f.fatal
        ]
        if wrong:
            raise ValueError(" ".join(wrong))
        if not fresh:
            return 0
        now, who = self._context.now, self._context.actor.name
        with self._context.write("keep bids") as write:
            return write.put(
                [KeptBid(contractor=b.contractor, content=to_plain(b), put_at=now, put_by=who) for b in fresh]
            )

    def drop_bid(self, contractor: str) -> None:
        """Take a bid off the list; it stays in the change log."""
        with self._context.write("drop a bid") as write:
            write.drop(KeptBid, "contractor", [contractor])

    def kinds(self) -> list[tuple[HeaterKind, ...]]:
        """Kinds of heater that bids on file are for: bids of one entry are for the same, the tanks first."""
        return kinds_of(self.bids())

    def waiting_kinds(self) -> dict[HeaterKind, int]:
        """Kinds of heater that interested homes have (or ask for) and no bid that can be used is for, with counts."""
        with self._context.read():
            return waiting_kinds(self._keen(), served_kinds(self.bids(), as_of=self._context.today))

    def compare(
        self,
        *,
        counts: Sequence[int] = (10, 30, 60),
        up_to: int | None = None,
        kinds: tuple[HeaterKind, ...] | None = None,
    ) -> Comparison:
        """The bids side by side on the same complete job, for the homes whose kind of heater the price is for.

        Bids for other kinds of heater are another job: `kinds`, one of :meth:`kinds`, says which are compared (None:
        the first).
        """
        with self._context.read():
            formed, bids, keen = self.latest(), self.bids(), self._keen()
            kinds = next(iter(self.kinds()), TANK_KINDS) if kinds is None else kinds
        needs = [k.need for k in keen if k.need.kind in kinds]
        today = self._context.today
        ends = max((r.ends for r in formed.asked.rounds), default=today) if formed else today
        return side_by_side(
            [bid for bid in bids if bid.kinds == kinds],
            needs,
            as_of=today,
            counts=counts,
            up_to=up_to,
            work_until=max(ends, today),
        )

    # ---- rounds -------------------------------------------------------------------

    def form(self, asked: AskedRounds) -> FormedRounds:
        """Form the rounds that cost the households least in all, and keep them.

        Raises
        ------
        UnusableRounds
            When the rounds contradict themselves; every problem at once.
        """
        today = self._context.today
        with self._context.read():
            keen, bids = self._keen(), self.bids()
            fitted, settings = self._context.life_fit(), self._context.settings()
        served = served_kinds(bids, as_of=today)
        covered = [k for k in keen if not served or k.need.kind in served]
        made = form_rounds(
            households(asked, covered, fitted, settings, today=today),
            bids,
            asked.rounds,
            as_of=today,
            with_maybe=asked.with_maybe,
        )
        waiting = waiting_kinds(keen, served)
        made = replace(made, sentences=(*made.sentences, *about_the_forming(covered, waiting)))
        formed = FormedRounds(
            plan_id=uuid.uuid4().hex,
            made_at=self._context.now,
            made_by=self._context.actor.name,
            asked=asked,
            rounds=made,
            other_kinds=len(keen) - len(covered),
        )
        with self._context.write("form purchase rounds") as write:
            write.put([_kept(formed)])
            write.log("purchase_plan", formed.plan_id)
        return formed

    def latest(self) -> FormedRounds | None:
        """The rounds as they were last formed."""
        with self._context.read() as records:
            kept = next(iter(records.purchase_plans(limit=1)), None)
        return None if kept is None else _formed(kept)

    def interested(self) -> tuple[int, int]:
        """How many homes say yes and maybe to buying together now, by their reply or else by the survey."""
        said = [k.says for k in self._keen()]
        return said.count(Interest.YES), said.count(Interest.MAYBE)

    def threshold(self, needed: int) -> Threshold:
        """Replies to an offer against the number at which a round goes ahead; a wish in the survey is no firm yes."""
        return threshold(needed, list(self._replies().values()))

    def states(self) -> list[OrderState]:
        """Each order of the rounds as they were last formed: how many of its homes have said a firm yes."""
        with self._context.read():
            formed, said = self.latest(), self._replies()
        return order_states(formed, said) if formed else []

    def buyers(self) -> list[BuyerRow]:
        """The homes of the rounds as they were last formed, by round, bid, crew-day and street.

        The committee is shown only those that still say yes or maybe.
        """
        with self._context.read():
            formed, said = self.latest(), self._replies()
            if formed is None:
                return []
            address = self.addresses([p.home_id for p in formed.rounds.purchases])
        return buyer_rows(formed, address, said)

    def next_steps(self) -> list[NextStep]:
        """What the next price step of each bid would take, by how many whose heater it is for say yes now."""
        with self._context.read():
            return next_steps(self.bids(), self._keen())

    def addresses(self, home_ids: Sequence[str]) -> dict[str, str]:
        """Addresses of homes that want to take part or have bought; for the volunteer, of any."""
        with self._context.read():
            if self._context.actor.role is Role.VOLUNTEER:
                known = self._all_addresses()
            else:
                known = {k.home_id: k.home.home.address for k in self._keen()}
                known |= {b.home_id: b.address for b in self.installed()}
        return {k: known[k] for k in home_ids if k in known}

    # ---- one home -------------------------------------------------------------------

    def offer(self, home_id: str, home: Standing) -> Offer | None:
        """What one home is offered by the rounds as they stand; see :func:`survey_app.purchase.home_offer.offer_to`."""
        self._context.require(Action.READ_HOME, home_id)
        with self._context.read() as records:
            formed, replies, settings = self.latest(), self._told(), self._context.settings()
            on_file = {
                kept.contractor: BidOnFile(bid=from_plain(Bid, kept.content), put_at=kept.put_at)
                for kept in records.bids()
            }
            has_bought = any(e.event_id.startswith(BOUGHT) for e in records.events(home_id))
        return offer_to(home, formed, on_file, replies, settings, has_bought=has_bought) if formed else None

    def reply(
        self,
        home_id: str,
        says: Interest,
        *,
        limit_usd: float | None,
        latest: date | None,
        to: Offer | None = None,
        wants: HeaterKind | None = None,
    ) -> None:
        """Note what a home says to its offer; nothing in it is binding.

        A yes without a limit is a yes at the price it was said to, and to none above that by more than
        `YES_HOLDS_WITHIN_USD`.

        Parameters
        ----------
        home_id, says
            Who says what.
        limit_usd, latest
            The most it would pay a complete job, and by when it wants it.
        to
            The offer as it was shown.
        wants
            The kind of heater it asks for instead of its own; None for its own. The price of an offer for another kind
            is then no price that it was said to.

        Raises
        ------
        NotAllowed
            When the home is not this actor's: nobody says yes for a neighbor.
        """
        self._context.require(Action.CHANGE_HOME, home_id)
        priced = to is not None and (wants or to.now_kind) is to.kind
        reply = OfferReply(
            home_id=home_id,
            says=says,
            limit_usd=limit_usd,
            latest=latest,
            at=self._context.now,
            plan_id=to.plan_id if to else None,
            price_usd=to.price_usd if to and priced else None,
            wants_kind=wants,
        )
        with self._context.write("reply to an offer") as write:
            write.put([reply])

    def take_back_reply(self, home_id: str) -> OfferReply | None:
        """Drop what a home said to its offer; what it said, or None when it had said nothing."""
        self._context.require(Action.CHANGE_HOME, home_id)
        with self._context.read() as records:
            said = next(iter(records.offer_replies(home_id)), None)
        if said is not None:
            with self._context.write("take back a reply") as write:
                write.drop(OfferReply, "home_id", [home_id])
        return said

    def put_back_reply(self, home_id: str, said: OfferReply) -> None:
        """Note again what this home had said before it took that back."""
        self._context.require(Action.CHANGE_HOME, home_id)
        with self._context.write("bring back a reply") as write:
            write.put([replace(said, home_id=home_id)])

    # ---- what was bought ---------------------------------------------------------------

    def record_installed(
        self,
        home_id: str,
        on: date,
        *,
        kind: HeaterKind,
        gallons: float | None,
        warranty_years: float | None,
        contractor: str = "",
        had_failed: bool = False,
    ) -> None:
        """Put a new heater on file: the old one ends as replaced before failing, unless it had failed.

        Recording the same home and day again corrects it.

        Raises
        ------
        NotThere
            When the survey has no such home, or the committee names one that did not ask to take part.
        ValueError
            When a figure is impossible, the day lies ahead, or the heater on file is newer than that day.
        """
        with self._context.read() as records:
            homes, heaters = records.homes(home_id), records.heaters(home_id)
        if not homes:
            raise NotThere("That home is not in this survey. Choose one from the list.")
        if not self.addresses([home_id]):
            raise NotThere("That home did not ask to take part. The volunteer can put its new heater on file.")
        now = next((h for h in reversed(heaters) if h.in_service), None)
        event = installed_event(
            home_id,
            on,
            kind=kind,
            gallons=gallons,
            warranty_years=warranty_years,
            contractor=contractor,
            had_failed=had_failed,
            told_by=self._context.actor.name,
            today=self._context.today,
            now=now,
        )
        with self._context.write("record a new heater") as write:
            write.put([event])
            reread(write, {home_id})

    def undo_installed(self, event_id: str) -> bool:
        """Take back a heater that was put on file here; returns whether there was one."""
        mine = next((b for b in self.installed() if b.event_id == event_id), None)
        if mine is None:
            return False
        with self._context.write("undo a new heater") as write:
            write.drop(Event, "event_id", [event_id])
            reread(write, {mine.home_id})
        return True

    def installed(self) -> list[Bought]:
        """Heaters put on file here, newest first; replacements told in other ways are not listed.

        The committee is shown those of homes that asked to take part.
        """
        with self._context.read() as records:
            events = self._bought()
            if self._context.actor.role is not Role.VOLUNTEER:
                asked = asked_to_take_part(records.homes(), self._context.answers_by_home(), self._told())
                events = [e for e in events if e.home_id in asked]
            address = self._all_addresses() if events else {}
        return bought(events, address)

    # ---- inside ---------------------------------------------------------------------------

    def _bought(self) -> list[Event]:
        with self._context.read() as records:
            return [e for e in records.events() if e.event_id.startswith(BOUGHT)]

    def _all_addresses(self) -> dict[str, str]:
        with self._context.read() as records:
            return {h.home_id: h.address for h in records.homes()}

    def _keen(self) -> list[Keen]:
        """Homes that say yes or maybe and have not bought yet; worked out once for each state of the data."""
        with self._context.read() as records:
            version = records.state().data_version
            if self._found is None or self._found[0] != version:
                self._found = (version, self._look())
            return self._found[1]

    def _look(self) -> list[Keen]:
        with self._context.read():
            answers, standings, replies = self._context.answers_by_home(), self._context.standings(), self._told()
            done, closed = {e.home_id for e in self._bought()}, self._context.settings().closed_system
        return keen_homes(standings, answers, replies, done=done, closed_system=closed)

    def _told(self) -> dict[str, OfferReply]:
        """What homes replied to their offer, by home id."""
        with self._context.read() as records:
            return {said.home_id: said for said in records.offer_replies()}

    def _replies(self) -> dict[str, Interest]:
        return {home_id: reply.says for home_id, reply in self._told().items()}


def _kept(formed: FormedRounds) -> KeptRounds:
    # How many homes each order had when it was formed: one that is deleted later leaves the price as it was.
    beside = {"sizes": [len(one.homes) for one in formed.rounds.orders], "other_kinds": formed.other_kinds}
    return KeptRounds(
        plan_id=formed.plan_id,
        made_at=formed.made_at,
        made_by=formed.made_by,
        asked=to_plain(formed.asked),
        formed={**to_plain(formed.rounds), **beside},
    )


def _formed(kept: KeptRounds) -> FormedRounds:
    rounds, sizes = from_plain(Rounds, kept.formed), kept.formed.get("sizes")
    if sizes is not None:
        rounds = replace(rounds, orders=tuple(map(_as_formed, rounds.orders, sizes)))
    return FormedRounds(
        plan_id=kept.plan_id,
        made_at=kept.made_at,
        made_by=kept.made_by,
        asked=from_plain(AskedRounds, kept.asked),
        rounds=rounds,
        other_kinds=int(kept.formed.get("other_kinds", 0)),
    )


def _as_formed(order: Order, size: int) -> Order:
    """An order some of whose homes were deleted since, at the price a home had when it was formed."""
    return replace(order, bid_usd=order.bid_usd * len(order.homes) / size) if len(order.homes) != size else order
