"""`PurchaseRounds`: bids, their comparison, rounds, offers, and what was bought."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from pydantic import TypeAdapter

from survey_app.economics import Amounts, household_of, mean_extra_usd, outcomes
from survey_app.forecast import LifeFit, chance_within
from survey_app.histories import wishes_of
from survey_app.lifetime import lives_of_home
from survey_app.purchase.bids import Bid, check_bid
from survey_app.purchase.compare import Comparison, OfferLine, offer_lines, side_by_side
from survey_app.purchase.households import Household, PurchaseRound
from survey_app.purchase.request import BidRequest, bid_request
from survey_app.purchase.rounds import Rounds, form_rounds
from survey_app.purchase.scope import HomeNeed, need_of_heater
from survey_app.purchase.thresholds import NextStep, Threshold, next_step, threshold
from survey_app.records import DAYS_PER_YEAR, EndCause, Event, EventKind, HeaterKind, Interest
from survey_app.service_days import thinned
from survey_app.standing import Standing
from survey_app.store import tables

if TYPE_CHECKING:
    from survey_app.survey.front import Survey

__all__ = ["AskedRounds", "FormedRounds", "Offer", "PurchaseRounds"]

_KEEN = (Interest.YES, Interest.MAYBE)


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedRounds:
    """What the committee asked for.

    Parameters
    ----------
    rounds
        The rounds in time.
    with_maybe
        Whether a maybe counts as a yes.
    needed
        Homes at which the first round goes ahead.
    """

    rounds: tuple[PurchaseRound, ...]
    with_maybe: bool = True
    needed: int = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class FormedRounds:
    """Rounds as they were formed, by whom and when."""

    plan_id: str
    made_at: datetime
    made_by: str
    asked: AskedRounds
    rounds: Rounds


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """What one home is offered.

    ``price_usd`` is its complete price by the rounds as they stand, None where
    no round suits it; ``reason`` says why not, then.
    """

    contractor: str
    round_name: str
    begins: date | None
    price_usd: float | None
    alone_usd: float
    reason: str
    lines: tuple[OfferLine, ...]
    round: Threshold
    says: Interest
    limit_usd: float | None
    latest: date | None


_BID = TypeAdapter(Bid)
_ASKED = TypeAdapter(AskedRounds)
_ROUNDS = TypeAdapter(Rounds)


class PurchaseRounds:
    """The group purchase of one survey. Made by :meth:`Survey.purchase_rounds`, which checks who asks."""

    def __init__(self, survey: Survey) -> None:
        self._survey, self._store = survey, survey._store

    # ---- request and bids -------------------------------------------------------

    def request(self, *, by_when: date | None = None, bids_until: date | None = None) -> BidRequest:
        """What every bidder is asked alike; counts and groups, no home."""
        homes = [(h.home.street, need) for h, need in self._keen()]
        return bid_request(homes, as_of=self._survey.today, by_when=by_when, bids_until=bids_until)

    def bids(self) -> list[Bid]:
        """Every bid on file."""
        return [_BID.validate_python(row["content"]) for row in self._store.bids()]

    def put_bids(self, bids: Sequence[Bid]) -> int:
        """Keep bids that can be used; one of the same contractor replaces the one before.

        Raises
        ------
        ValueError
            With every fatal fault of every bid, a sentence each.
        """
        today = self._survey.today
        wrong = [
            f"{bid.contractor or 'A bid'}: {f.what} {f.remedy}"
            for bid in bids
            for f in check_bid(bid, as_of=today)
            if f.fatal
        ]
        if wrong:
            raise ValueError(" ".join(wrong))
        rows = [
            {
                "contractor": bid.contractor,
                "content": _BID.dump_python(bid, mode="json"),
                "put_at": self._survey.now,
                "put_by": self._survey.actor.name,
            }
            for bid in bids
        ]
        with self._survey._writing("keep bids") as write:
            return int(write.put(tables.bid, rows))

    def drop_bid(self, contractor: str) -> None:
        """Take a bid off the list; it stays in the change log."""
        with self._survey._writing("drop a bid") as write:
            write.drop(tables.bid, "contractor", [contractor])

    def compare(self, *, counts: Sequence[int] = (10, 30, 60), up_to: int | None = None) -> Comparison:
        """The bids side by side on the same complete job."""
        needs = [need for _, need in self._keen()]
        return side_by_side(self.bids(), needs, as_of=self._survey.today, counts=counts, up_to=up_to)

    # ---- rounds -------------------------------------------------------------------

    def form(self, asked: AskedRounds) -> FormedRounds:
        """Form the rounds that cost the households least in all, and keep them.

        Raises
        ------
        UnusableRounds
            When the rounds contradict themselves; every problem at once.
        """
        made = form_rounds(
            self._households(asked), self.bids(), asked.rounds, as_of=self._survey.today, with_maybe=asked.with_maybe
        )
        plan_id = uuid.uuid4().hex
        with self._survey._writing("form purchase rounds") as write:
            write.put(
                tables.purchase_plan,
                [
                    {
                        "plan_id": plan_id,
                        "made_at": self._survey.now,
                        "made_by": self._survey.actor.name,
                        "asked": _ASKED.dump_python(asked, mode="json"),
                        "formed": _ROUNDS.dump_python(made, mode="json"),
                    }
                ],
            )
            write.log("purchase_plan", plan_id)
        return FormedRounds(
            plan_id=plan_id, made_at=self._survey.now, made_by=self._survey.actor.name, asked=asked, rounds=made
        )

    def latest(self) -> FormedRounds | None:
        """The rounds as they were last formed."""
        row = next(iter(self._store.purchase_plans()), None)
        if row is None:
            return None
        return FormedRounds(
            plan_id=row["plan_id"],
            made_at=row["made_at"],
            made_by=row["made_by"],
            asked=_ASKED.validate_python(row["asked"]),
            rounds=_ROUNDS.validate_python(row["formed"]),
        )

    def threshold(self, needed: int) -> Threshold:
        """How many have said yes, against the number at which a round goes ahead."""
        return threshold(needed, [interest for _, interest in self._said()])

    def next_steps(self) -> list[NextStep]:
        """What the next price step of each bid would take."""
        yes = sum(i is Interest.YES for _, i in self._said())
        return [step for bid in self.bids() if (step := next_step(bid, yes)) is not None]

    def addresses(self, home_ids: Sequence[str]) -> dict[str, str]:
        """Addresses of homes that asked to take part."""
        keen = {h.home.home_id: h.home.address for h, _ in self._keen()}
        return {k: keen[k] for k in home_ids if k in keen}

    # ---- one home -------------------------------------------------------------------

    def offer(self, home_id: str) -> Offer | None:
        """What one home is offered by the rounds as they stand; None where it did not ask or nothing is formed."""
        formed = self.latest()
        found = next(((h, need) for h, need in self._keen() if h.home.home_id == home_id), None)
        if formed is None or found is None:
            return None
        reply = next(iter(self._store.offer_replies(home_id)), None)
        bought = next((p for p in formed.rounds.purchases if p.home_id == home_id), None)
        alone = next((a for a in formed.rounds.alone if a.home_id == home_id), None)
        bid = next((b for b in self.bids() if bought is not None and b.contractor == bought.contractor), None)
        begins = {r.name: r.begins for r in formed.asked.rounds}
        said = dict(self._said())
        return Offer(
            contractor=bought.contractor if bought else "",
            round_name=bought.round_name if bought else "",
            begins=begins.get(bought.round_name) if bought else None,
            price_usd=bought.price_usd if bought else None,
            alone_usd=bought.alone_usd if bought else (alone.alone_usd if alone else self._alone_usd(found[0])),
            reason=alone.reason if alone else "",
            lines=offer_lines(bid, found[1]) if bid is not None else (),
            round=self.threshold(formed.asked.needed),
            says=said.get(home_id, Interest.UNKNOWN),
            limit_usd=reply["limit_usd"] if reply else None,
            latest=reply["latest"] if reply else None,
        )

    def reply(self, home_id: str, says: Interest, *, limit_usd: float | None, latest: date | None) -> None:
        """Note what a home says to its offer; nothing in it is binding."""
        row = {
            "home_id": home_id,
            "says": str(says),
            "limit_usd": limit_usd,
            "latest": latest,
            "at": self._survey.now,
        }
        with self._survey._writing("reply to an offer") as write:
            write.put(tables.offer_reply, [row])

    # ---- what was bought ---------------------------------------------------------------

    def record_installed(
        self,
        home_id: str,
        on: date,
        *,
        kind: HeaterKind,
        gallons: float | None,
        warranty_years: float | None,
        had_failed: bool = False,
    ) -> None:
        """Put a new heater on file: the old one ends as replaced before failing, unless it had failed.

        Raises
        ------
        LookupError
            When the survey has no such home.
        ValueError
            When the day lies ahead.
        """
        if not self._store.homes(home_id):
            raise LookupError("That home is not in this survey. Choose one from the list.")
        if on > self._survey.today:
            raise ValueError(f"{on.isoformat()} lies ahead. Put a heater on file once it is installed.")
        event = Event(
            event_id=f"bought-{uuid.uuid5(uuid.NAMESPACE_OID, f'{home_id}/{on.isoformat()}').hex}",
            home_id=home_id,
            kind=EventKind.REPLACEMENT,
            on=on,
            told_by=self._survey.actor.name,
            kind_of_heater=kind,
            tank_gallons=gallons,
            warranty_years=warranty_years,
            end_cause=EndCause.FAILED if had_failed else EndCause.REPLACED,
        )
        with self._survey._writing("record a new heater") as write:
            write.put_events([event])
            self._survey._reread(write, {home_id})

    def undo_installed(self, home_id: str) -> int:
        """Take back the newest new heater put on file for a home; returns how many were taken back."""
        mine = [e for e in self._store.events(home_id) if e.kind is EventKind.REPLACEMENT]
        if not mine:
            return 0
        with self._survey._writing("undo a new heater") as write:
            gone = write.drop(tables.event, "event_id", [mine[-1].event_id])
            self._survey._reread(write, {home_id})
        return int(gone)

    def installed(self) -> list[tuple[str, Event]]:
        """Heaters put on file here, newest first, with the home's address."""
        address = {h.home_id: h.address for h in self._store.homes()}
        bought = [e for e in self._store.events() if e.kind is EventKind.REPLACEMENT]
        return [(address.get(e.home_id, ""), e) for e in sorted(bought, key=lambda e: e.on, reverse=True)]

    # ---- inside ---------------------------------------------------------------------------

    def _wanted(self) -> dict[str, Interest]:
        """What each home says to buying together: its reply to the offer, else its answer."""
        answers = self._survey._answers_by_home(None)
        told = {h.home_id: wishes_of(h, answers[h.home_id]) for h in self._store.homes() if h.home_id in answers}
        said = {k: w.group_purchase for k, w in told.items()}
        said.update({r["home_id"]: Interest(r["says"]) for r in self._store.offer_replies()})
        return said

    def _keen(self) -> list[tuple[Standing, HomeNeed]]:
        """Homes that said yes or maybe, with what a complete job takes there."""
        wanted = self._wanted()
        return [
            (s, need_of_heater(s.heater))
            for s in self._survey._standings()
            if wanted.get(s.home.home_id) in _KEEN and s.heater is not None
        ]

    def _said(self) -> list[tuple[str, Interest]]:
        return [(k, i) for k, i in self._wanted().items() if i is not Interest.UNKNOWN]

    def _alone_usd(self, home: Standing) -> float:
        heater = home.heater
        assert heater is not None
        return Amounts.from_settings(self._survey.settings(), heater.kind).planned_price_usd

    def _households(self, asked: AskedRounds) -> list[Household]:
        fitted = self._survey.life_fit()
        wanted = self._wanted()
        replies = {r["home_id"]: r for r in self._store.offer_replies()}
        middles = [(r.begins - self._survey.today).days / DAYS_PER_YEAR + r.weeks * 7 / 2 / DAYS_PER_YEAR
                   for r in asked.rounds]  # fmt: skip
        known: dict[object, tuple[float, ...]] = {}
        found = []
        for home, need in self._keen():
            reply: Mapping[str, object] = replies.get(home.home.home_id, {})
            limit, latest = reply.get("limit_usd"), reply.get("latest")
            found.append(
                Household(
                    home_id=home.home.home_id,
                    group=home.home.street,
                    needs=need,
                    outside_price_usd=self._alone_usd(home),
                    waiting_loss_usd_per_round=self._waiting(home, middles, fitted, known),
                    limit_price_usd=float(limit) if isinstance(limit, (int, float)) else None,
                    latest=latest if isinstance(latest, date) else None,
                    interest=wanted[home.home.home_id],
                )
            )
        return found

    def _waiting(
        self, home: Standing, middles: Sequence[float], fitted: LifeFit, known: dict[object, tuple[float, ...]]
    ) -> tuple[float, ...]:
        """Expected loss until the middle of each round: chance to fail until then times what that costs extra."""
        heater = home.heater
        assert heater is not None
        house = household_of(home)
        age = round(home.age_years[1] * 2) if home.age_years else None
        key = (age, heater.kind, heater.warranty_years, home.home.phase_id, home.home.softener, house)
        if key not in known:
            amounts = Amounts.from_settings(self._survey.settings(), heater.kind)
            extra = mean_extra_usd(outcomes(amounts, house, house.has))
            losses = []
            for years in middles:
                ahead = max(0.0, years)
                if ahead == 0.0:
                    losses.append(0.0)
                elif home.age_years is None:
                    losses.append(min(1.0, fitted.average * ahead) * extra)
                else:
                    lives = [thinned(d) for d in lives_of_home(fitted.posterior, home.home.home_id)]
                    losses.append(chance_within(lives, home.age_years, ahead).mean * extra)
            # Later rounds never lose less, whatever the draws say in the last digit.
            known[key] = tuple(max(losses[: i + 1]) for i in range(len(losses)))
        return known[key]
