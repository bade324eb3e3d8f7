"""What one home is offered, from values alone: no records, no forming of rounds."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from survey_app.purchase.bids import Bid, Offered, PriceStep, ScopeOffer
from survey_app.purchase.home_offer import BidOnFile, offer_to
from survey_app.purchase.households import PurchaseRound
from survey_app.purchase.keen import about_the_forming, keen_homes
from survey_app.purchase.offers import Offer
from survey_app.purchase.plan import Alone, AskedRounds, FormedRounds, Order, Purchase, Rounds, WhyAlone
from survey_app.purchase.scope import SCOPE_KEYS
from survey_app.records import Heater, HeaterKind, Home, Interest, OfferReply, Place
from survey_app.settings import Settings
from survey_app.standing import Standing, standing

MADE = datetime(2026, 5, 2, 9, 30)
TODAY = MADE.date()
HOMES = tuple(f"H{n}" for n in range(12))


def at_home(home_id: str, kind: HeaterKind = HeaterKind.GAS_STORAGE) -> Standing:
    """Where a home with one heater stands."""
    home = Home(
        home_id=home_id,
        parcel_id=home_id,
        address=f"{home_id} Fern St",
        street="FERN ST",
        phase_id=None,
        built_year=2010,
    )
    heater = Heater(
        heater_id=f"{home_id}/heater-1", home_id=home_id, sequence=1, kind=kind, tank_gallons=50.0, place=Place.GARAGE
    )
    return standing(home, [heater], [], answered=True, settings=Settings(), as_of=TODAY)


def bid(**changed: object) -> Bid:
    """A bid with two steps: 2,000 dollars, from 10 homes on 1,800."""
    made = Bid(
        contractor="C1",
        steps=(PriceStep(from_homes=1, price_usd=2000.0), PriceStep(from_homes=10, price_usd=1800.0)),
        scope=tuple(ScopeOffer(item=item, offered=Offered.INCLUDED) for item in SCOPE_KEYS),
        kinds=(HeaterKind.GAS_STORAGE,),
    )
    return replace(made, **changed)  # type: ignore[arg-type]


def formed(*, alone: WhyAlone | None = None) -> FormedRounds:
    """Twelve homes in one order at 1,800 dollars each; or H0 alone and eleven in the order."""
    inside = HOMES if alone is None else HOMES[1:]
    order = Order(
        contractor="C1",
        round_name="R1",
        homes=inside,
        bid_usd=1800.0 * len(inside),
        extras_usd=0.0,
        mobilization_usd=0.0,
        days=(inside,),
        groups_per_day=1.0,
    )
    places = tuple(
        Purchase(
            home_id=h,
            group="FERN ST",
            contractor="C1",
            round_name="R1",
            price_usd=1800.0,
            waiting_loss_usd=0.0,
            alone_usd=2400.0,
            kind=HeaterKind.GAS_STORAGE,
        )
        for h in inside
    )
    return FormedRounds(
        plan_id="P",
        made_at=MADE,
        made_by="carl",
        asked=AskedRounds(rounds=(PurchaseRound(name="R1", begins=TODAY + timedelta(days=40), weeks=4),), needed=5),
        rounds=Rounds(
            as_of=TODAY,
            interested=len(HOMES),
            orders=(order,),
            set_aside=(),
            single_bid="C1",
            purchases=places,
            alone=() if alone is None else (Alone(home_id="H0", group="FERN ST", alone_usd=2400.0, reason=alone),),
            total_usd=0.0,
            alone_total_usd=0.0,
            single_bid_total_usd=0.0,
            gap=None,
            nodes=0,
            fairness=None,
            edges=(),
            sentences=(),
        ),
    )


def reply(home_id: str = "H0", says: Interest = Interest.YES, **changed: object) -> OfferReply:
    """What a home said."""
    said = OfferReply(home_id=home_id, says=says, limit_usd=None, latest=None, at=MADE)
    return replace(said, **changed)  # type: ignore[arg-type]


def offered(
    rounds: FormedRounds,
    *replies: OfferReply,
    home: Standing | None = None,
    on_file: Bid | None = None,
    put_at: datetime = MADE,
    has_bought: bool = False,
) -> Offer:
    """The offer to H0 of twelve, by one bid."""
    kept = {"C1": BidOnFile(bid=on_file or bid(), put_at=put_at)}
    said = {r.home_id: r for r in replies}
    found = offer_to(home or at_home("H0"), rounds, kept, said, Settings(), has_bought=has_bought)
    assert found is not None
    return found


def test_a_home_in_a_round_is_told_its_price_and_what_it_hangs_on() -> None:
    """Twelve at 1,800: it holds from the tenth home on; with the five the round needs it is 2,000 (hand-worked)."""
    found = offered(formed(), reply("H3"), reply("H4", Interest.NO), reply("somebody else"))

    assert (found.price_usd, found.why_not, found.changed) == (1800.0, "", False)
    assert (found.holds_from, found.needed_usd) == (10, 2000.0)
    assert (found.round.needed, found.round.yes, found.round.no, found.round.open) == (5, 1, 1, 10)
    assert (found.round_name, found.begins) == ("R1", TODAY + timedelta(days=40))


def test_a_bid_that_was_changed_since_promises_nothing() -> None:
    """The price is still told, marked as changed; what it hangs on is not, since it hung on the bid before."""
    found = offered(formed(), put_at=MADE + timedelta(days=1))

    assert (found.changed, found.price_usd) == (True, 1800.0)
    assert (found.holds_from, found.needed_usd) == (None, None)


def test_a_heater_without_an_offer_for_its_kind_leaves_the_round() -> None:
    """Corrected to a heat pump: no bid is for one; with a bid for both kinds the forming has to count it first."""
    pump = at_home("H0", HeaterKind.HEAT_PUMP_STORAGE)
    both = bid(kinds=(HeaterKind.GAS_STORAGE, HeaterKind.HEAT_PUMP_STORAGE))

    assert (offered(formed(), home=pump).price_usd, offered(formed(), home=pump).why_not) == (None, "other-kind")
    assert offered(formed(), home=pump, on_file=both).why_not == "kind-changed"


@pytest.mark.parametrize(
    ("reason", "said", "has_bought", "why"),
    [
        (WhyAlone.NO_ROOM, None, True, "bought"),
        (WhyAlone.NO_ROOM, reply(says=Interest.NO), False, "said-no"),
        (WhyAlone.OTHER_KIND, None, False, "not-yet"),
        (WhyAlone.CHEAPER_ALONE, None, False, "cheaper-alone"),
        (WhyAlone.NO_ROOM, reply(limit_usd=5000.0), False, "no-room"),
        (WhyAlone.NO_ROOM, reply(limit_usd=1000.0), False, "over-limit"),
        (WhyAlone.NO_ROOM, reply(price_usd=1000.0), False, "over-limit"),
    ],
)
def test_a_home_outside_is_told_the_first_reason_that_holds(
    reason: WhyAlone, said: OfferReply | None, has_bought: bool, why: str
) -> None:
    """What it did itself comes before what the forming found; a limit below what it would come to is said as such."""
    found = offered(formed(alone=reason), *([said] if said else []), has_bought=has_bought)

    assert found.why_not == why
    assert found.price_usd is None
    assert found.about_usd is not None
    assert found.about_usd >= 1800.0


def test_who_wants_to_take_part_and_what_the_rounds_rest_on() -> None:
    """A reply counts before the survey's word, who has bought is out, and a wish for another kind is said aloud."""
    homes = [at_home(h) for h in ("H0", "H1", "H2", "H3")]
    replies = {
        "H0": reply("H0", wants_kind=HeaterKind.HEAT_PUMP_STORAGE),
        "H1": reply("H1", Interest.NO),
        "H2": reply("H2", Interest.MAYBE),
    }
    keen = keen_homes(homes, {}, replies, done={"H2"})

    assert [(k.home_id, k.need.kind, k.changes) for k in keen] == [("H0", HeaterKind.HEAT_PUMP_STORAGE, True)]
    said = about_the_forming(keen, {HeaterKind.TANKLESS: 2})
    assert any("2 interested homes are left out" in s and str(HeaterKind.TANKLESS) in s for s in said)
    assert any("asked to change to another kind of heater: 1." in s for s in said)
    assert not any("another size" in s or "do not know" in s for s in said)
    assert len(about_the_forming([], {})) == 1


def test_a_yes_without_a_limit_holds_a_little_above_the_price_it_was_said_to() -> None:
    """A named limit stands as it is; a maybe binds nobody."""
    (yes,) = keen_homes([at_home("H0")], {}, {"H0": reply(price_usd=1800.0)}, done=())
    (named,) = keen_homes([at_home("H0")], {}, {"H0": reply(price_usd=1800.0, limit_usd=1850.0)}, done=())
    (maybe,) = keen_homes([at_home("H0")], {}, {"H0": reply(says=Interest.MAYBE, price_usd=1800.0)}, done=())

    assert (yes.limit_usd, named.limit_usd, maybe.limit_usd) == (1825.0, 1850.0, None)
