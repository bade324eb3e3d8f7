"""Scope, request, completed bids, side by side, thresholds."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey_app.purchase.bids import Bid, Offered, PriceStep, ScopeOffer, StepKind
from survey_app.purchase.compare import complete, offer_lines, side_by_side
from survey_app.purchase.request import ELSEWHERE, bid_request
from survey_app.purchase.scope import SCOPE, SCOPE_KEYS, Usual, gap_prices, need_of_heater, need_of_kind, scope_item
from survey_app.purchase.thresholds import next_step, smallest_number_below, threshold
from survey_app.records import Heater, HeaterKind, Interest, Place, Tri, Venting

TODAY = date(2026, 11, 25)
FULL = tuple(ScopeOffer(item=key, offered=Offered.INCLUDED) for key in SCOPE_KEYS)


def heater(**facts: object) -> Heater:
    """A gas heater in the garage with everything there, unless told otherwise."""
    own: dict[str, object] = {
        "kind": HeaterKind.GAS_STORAGE,
        "place": Place.GARAGE,
        "pan": Tri.YES,
        "expansion_tank": Tri.YES,
        "leak_alarm": Tri.YES,
        "tank_gallons": 40.0,
    }
    return Heater(heater_id="x", home_id="x", sequence=1, **(own | facts))  # type: ignore[arg-type]


def bid(name: str, *steps: tuple[int, float], leaves_out: tuple[str, ...] = (), **terms: object) -> Bid:
    """A bid that includes everything but some items."""
    scope = tuple(one for one in FULL if one.item not in leaves_out)
    own = {"scope": scope} | terms
    return Bid(contractor=name, steps=tuple(PriceStep(from_homes=n, price_usd=p) for n, p in steps), **own)  # type: ignore[arg-type]


# --- scope -------------------------------------------------------------------------------------------------------


def test_every_item_says_why_who_and_where_its_price_comes_from() -> None:
    """The list is complete as data; only tank and labor have no price to assume."""
    assert all(item.why and item.which and "no source" in item.source for item in SCOPE)
    assert [item.key for item in SCOPE if item.gap_usd is None] == ["tank", "labor"]
    assert len(set(SCOPE_KEYS)) == len(SCOPE)


@pytest.mark.parametrize(
    ("facts", "terms", "needed", "unsure"),
    [
        ({}, {}, {"gas connector", "vent work"}, set()),
        ({"kind": HeaterKind.ELECTRIC_STORAGE}, {}, {"electrical"}, set()),
        ({"kind": HeaterKind.HEAT_PUMP_STORAGE}, {}, {"electrical", "condensate drain"}, set()),
        ({"kind": HeaterKind.UNKNOWN}, {}, set(), {"gas connector", "vent work"}),
        ({"pan": Tri.NO}, {}, {"gas connector", "vent work", "drain pan"}, set()),
        ({"pan": Tri.UNKNOWN}, {}, {"gas connector", "vent work"}, {"drain pan"}),
        (
            {"pan": Tri.NO, "place": Place.ATTIC},
            {},
            {"gas connector", "vent work", "drain pan", "pan drain", "hard access"},
            set(),
        ),
        ({"pan": Tri.NO, "place": Place.OUTSIDE}, {}, {"gas connector", "vent work"}, set()),
        ({"expansion_tank": Tri.NO}, {}, {"gas connector", "vent work"}, {"expansion tank"}),
        (
            {"expansion_tank": Tri.NO},
            {"closed_system": Tri.YES},
            {"gas connector", "vent work", "expansion tank"},
            set(),
        ),
        ({"expansion_tank": Tri.NO}, {"closed_system": Tri.NO}, {"gas connector", "vent work"}, set()),
        ({"leak_alarm": Tri.NO, "auto_shutoff": Tri.NO}, {}, {"gas connector", "vent work", "leak alarm"}, set()),
        ({"leak_alarm": Tri.NO, "auto_shutoff": Tri.YES}, {}, {"gas connector", "vent work"}, set()),
    ],
)
def test_need_follows_the_homes_answers(
    facts: dict[str, object], terms: dict[str, Tri], needed: set[str], unsure: set[str]
) -> None:
    """What is certain, and what hangs on an answer nobody gave, beyond what every home needs."""
    need = need_of_heater(heater(**facts), **terms)  # type: ignore[arg-type]
    every = {item.key for item in SCOPE if item.usual is Usual.EVERY_HOME}
    assert need.needed - every == needed
    assert need.unsure == unsure


def test_own_gap_prices_are_checked_all_at_once() -> None:
    """An unknown item, one that cannot be assumed, and a negative price."""
    assert gap_prices({"permit": 250.0})["permit"] == 250.0
    with pytest.raises(ValueError, match="garden") as caught:
        gap_prices({"garden": 1.0, "tank": 500.0, "permit": -1.0})
    assert "'tank' has no price" in str(caught.value)
    assert "0 or more" in str(caught.value)
    with pytest.raises(KeyError, match="The items are"):
        scope_item("garden")


# --- request -----------------------------------------------------------------------------------------------------


def test_request_counts_homes_and_names_none() -> None:
    """Lots, items certain and not sure, groups; a group of two homes is not named."""
    gas, unsure = need_of_heater(heater()), need_of_heater(heater(pan=Tri.UNKNOWN, place=Place.CLOSET))
    homes = [("Alder Court", gas)] * 4 + [("Birch Lane", unsure)] * 2 + [("Cedar Way", unsure)] * 3
    request = bid_request(homes, as_of=TODAY, by_when=date(2027, 6, 30))
    assert [(lot.place, lot.homes) for lot in request.lots] == [(Place.CLOSET, 5), (Place.GARAGE, 4)]
    assert request.groups == (("Alder Court", 4), ("Cedar Way", 3), (ELSEWHERE, 2))
    counted = {one.item.key: (one.homes_certain, one.homes_unsure) for one in request.scope}
    assert counted["permit"] == (9, 0)
    assert counted["drain pan"] == (0, 5)
    assert "Birch" not in repr(request)
    assert any("2027-06-30" in said for said in request.sentences)


def test_request_without_homes_says_so() -> None:
    """Nobody is interested: a sentence."""
    request = bid_request([], as_of=TODAY)
    assert (request.homes, request.lots, request.groups) == (0, (), ())
    assert "nothing to ask a bid for" in request.sentences[0]


# --- completed bids ----------------------------------------------------------------------------------------------


def test_gaps_are_priced_for_the_homes_that_need_them() -> None:
    """By hand: permit left out (100 assumed) for both homes, pan an extra at 45 for the one without: 100 and 145."""
    needs = [need_of_heater(heater()), need_of_heater(heater(pan=Tri.NO))]
    own = bid("A", (1, 1000.0), leaves_out=("permit", "drain pan"))
    own = replace(own, scope=(*own.scope, ScopeOffer(item="drain pan", offered=Offered.EXTRA, extra_usd=45.0)))
    done = complete(own, needs, as_of=TODAY)
    assert done.own_usd == (100.0, 145.0)
    assert {gap.item: (gap.usd, gap.homes, gap.assumed) for gap in done.gaps} == {
        "permit": (100.0, 2, True),
        "drain pan": (45.0, 1, False),
    }
    assert "100.00 dollars a home are assumed, counted for 2 homes" in done.gaps[0].sentence
    assert complete(own, needs, as_of=TODAY, assumed_usd={"permit": 0.0}).own_usd == (0.0, 45.0)


def test_extra_without_a_price_is_filled_by_the_assumption() -> None:
    """The bid says extra, and no more."""
    own = replace(bid("A", (1, 1000.0), leaves_out=("permit",)))
    own = replace(own, scope=(*own.scope, ScopeOffer(item="permit", offered=Offered.EXTRA)))
    (gap,) = complete(own, [need_of_heater(heater())], as_of=TODAY).gaps
    assert (gap.usd, gap.assumed) == (100.0, True)
    assert "gives no price for the extra" in gap.sentence


@pytest.mark.parametrize("item", ["tank", "labor"])
def test_bid_without_tank_or_labor_cannot_be_completed(item: str) -> None:
    """No assumption stands in for either, whether or not a home is known."""
    for needs in ([], [need_of_heater(heater())]):
        done = complete(bid("A", (1, 1000.0), leaves_out=(item,)), needs, as_of=TODAY)
        assert f"leaves out the {item}" in done.why_not


def test_offer_lines_add_up_to_what_the_homes_own_scope_costs() -> None:
    """Included, extra, assumed and unsure lines of one home; their sum is the home's own part of the complete price."""
    need = need_of_heater(heater(pan=Tri.UNKNOWN))
    own = bid("A", (1, 1000.0), leaves_out=("permit", "drain pan"))
    own = replace(own, scope=(*own.scope, ScopeOffer(item="permit", offered=Offered.EXTRA, extra_usd=80.0)))
    lines = {one.item: one for one in offer_lines(own, need)}
    assert set(lines) == need.priced
    assert (lines["tank"].included, lines["tank"].usd) == (True, 0.0)
    assert (lines["permit"].usd, lines["permit"].assumed, lines["permit"].unsure) == (80.0, False, False)
    assert (lines["drain pan"].usd, lines["drain pan"].assumed, lines["drain pan"].unsure) == (40.0, True, True)
    assert complete(own, [need], as_of=TODAY).own_usd == (sum(one.usd or 0.0 for one in lines.values()),)


def test_two_bids_of_one_contractor_stand_side_by_side() -> None:
    """The second is marked by its number."""
    result = side_by_side([bid("A", (1, 1000.0)), bid("A", (1, 900.0))], [], as_of=TODAY, counts=(10,))
    assert [cell.contractor for cell in result.table[10]] == ["A", "A (bid 2)"]
    assert result.crossings[0].order == ("A (bid 2)", "A")


# --- side by side ------------------------------------------------------------------------------------------------


def test_order_changes_where_hand_arithmetic_says() -> None:
    """A 1,300 flat; B 1,400, from 20 homes on 1,250; C incremental 1,500, from 11 on 1,200.

    All units: B passes A at 20. C at n >= 11 costs 15,000 + 1,200 (n - 10) = 3,000 + 1,200 n: below A (1,300 n) from
    31 homes on (at 30 both are 39,000), below B (1,250 n) from 61 on (at 60 both are 75,000). B against C below 20:
    3,000 + 1,200 n < 1,400 n from 16 homes on (at 15 both are 21,000).
    """
    bids = [
        bid("A", (1, 1300.0)),
        bid("B", (1, 1400.0), (20, 1250.0)),
        bid("C", (1, 1500.0), (11, 1200.0), step_kind=StepKind.INCREMENTAL),
    ]
    result = side_by_side(bids, [need_of_heater(heater())], as_of=TODAY, counts=(10, 30, 60), up_to=80)
    found = [(one.from_homes, "".join(one.order), one.leads) for one in result.crossings]
    assert found == [
        (1, "ABC", True),
        (16, "ACB", False),
        (20, "BAC", True),
        (31, "BCA", False),
        (61, "CBA", True),
    ]
    cells = {(n, cell.contractor): cell.total_usd for n, row in result.table.items() for cell in row}
    assert cells[10, "A"] == 13000
    assert cells[30, "C"] == 39000
    assert cells[60, "B"] == 75000
    assert "From 61 homes on C is the cheapest." in result.sentences
    # 18 homes at 1,400 cost 25,200; 20 at 1,250 only 25,000.
    assert [(one.homes, one.more_homes) for one in result.anomalies["B"]] == [(18, 20)]


def test_bids_are_compared_on_the_same_complete_job() -> None:
    """A looks cheaper by 50 dollars, but leaves out permit and tax (100 and 64 assumed): complete, B is."""
    needs = [need_of_heater(heater())] * 3
    cheap, whole = bid("A", (1, 1000.0), leaves_out=("permit", "sales tax")), bid("B", (1, 1050.0))
    result = side_by_side([cheap, whole], needs, as_of=TODAY, counts=(10,))
    a, b = result.table[10]
    assert (a.home_usd, a.gaps_home_usd, b.home_usd) == (1164.0, 164.0, 1050.0)
    assert "At 10 homes B is the cheapest: 1,050.00 dollars a home complete, 10,500 in all." in result.sentences
    assert any("permit; 100.00 dollars a home are assumed" in said for said in result.sentences)


def test_bid_that_does_not_hold_at_a_number_says_why() -> None:
    """From 20 homes on: no price at 10."""
    result = side_by_side([bid("A", (20, 1000.0))], [need_of_heater(heater())], as_of=TODAY, counts=(10, 20))
    (at_ten,), (at_twenty,) = result.table[10], result.table[20]
    assert at_ten.total_usd is None
    assert "begins at 20" in at_ten.why_not
    assert at_twenty.total_usd == 20000
    assert "At 10 homes no bid holds." in result.sentences


def test_nothing_to_compare_is_said_in_a_sentence() -> None:
    """No bid; only an expired one; no home."""
    assert "no bid yet" in side_by_side([], [], as_of=TODAY).sentences[0]
    expired = side_by_side([bid("A", (1, 9.0), valid_until=date(2026, 1, 1))], [], as_of=TODAY)
    assert expired.sentences[-1] == "No bid can be compared yet."
    assert "expired" in expired.sentences[0]
    assert any("No home is interested" in s for s in side_by_side([bid("A", (1, 9.0))], [], as_of=TODAY).sentences)


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 60), st.floats(0.5, 1.0), st.lists(st.sampled_from(SCOPE_KEYS[2:]), unique=True, max_size=6))
def test_lower_price_or_fuller_scope_never_costs_more(homes: int, factor: float, left_out: list[str]) -> None:
    """A bid with lower steps, or with one item more included, is never dearer, complete, at any number of homes."""
    needs = [need_of_heater(heater(pan=Tri.NO, place=Place.ATTIC)), need_of_heater(heater())]
    before = bid("A", (1, 1500.0), (8, 1300.0), leaves_out=tuple(left_out), mobilization_usd_per_day=90.0)
    lower = replace(before, steps=tuple(replace(one, price_usd=one.price_usd * factor) for one in before.steps))
    fuller = replace(before, scope=(*before.scope, *(one for one in FULL if one.item in left_out[:1])))

    def price(own: Bid) -> float:
        (cell,) = side_by_side([own], needs, as_of=TODAY, counts=(homes,)).table[homes]
        assert cell.home_usd is not None
        return cell.home_usd

    assert price(lower) <= price(before) + 1e-9
    assert price(fuller) <= price(before) + 1e-9


# --- thresholds --------------------------------------------------------------------------------------------------


def test_threshold_counts_firm_yes_alone() -> None:
    """17 of 20: three are lacking, whatever the maybes; with two maybes even they are too few."""
    said = [Interest.YES] * 17 + [Interest.MAYBE] * 6 + [Interest.NO] * 4 + [Interest.UNKNOWN] * 3
    state = threshold(20, said)
    assert (state.yes, state.maybe, state.no, state.open, state.lacking) == (17, 6, 4, 3, 3)
    assert not state.goes_ahead
    assert state.share_of_maybe == 0.5
    assert state.sentence == "The round goes ahead at 20; 17 have said yes, 6 maybe. 3 more are needed."
    few = threshold(20, [Interest.YES] * 17 + [Interest.MAYBE] * 2)
    assert few.share_of_maybe is None
    assert few.sentence.endswith("Even with every maybe there are too few.")
    waits = threshold(20, [Interest.YES] * 17 + [Interest.MAYBE] * 2 + [Interest.UNKNOWN] * 9)
    assert waits.sentence.endswith("3 more are needed.")
    small = threshold(10, [Interest.YES] + [Interest.UNKNOWN] * 7 + [Interest.NO] * 5)
    assert small.sentence.endswith("Even with all 8 that have not said no there are too few.")
    assert (small.possible, waits.possible) == (8, 28)


def test_threshold_at_its_edges() -> None:
    """Exactly reached, one lacking, nobody asked, and a threshold that is none."""
    assert threshold(2, [Interest.YES] * 2).sentence == "The round goes ahead at 2; 2 have said yes. It goes ahead."
    assert threshold(2, [Interest.YES]).sentence == "The round goes ahead at 2; 1 has said yes. 1 more is needed."
    assert threshold(1, []).lacking == 1
    with pytest.raises(ValueError, match="Give 1 or more"):
        threshold(0, [])


def test_next_step_tells_what_one_more_home_changes() -> None:
    """17 firm yes, a step at 20: three more, from 1,100 to 1,000; above the last step there is none."""
    own = bid("A", (5, 1100.0), (20, 1000.0))
    ahead = next_step(own, 17)
    assert ahead is not None
    assert ahead.sentence == "A: 3 more homes and the price falls from 1,100.00 to 1,000.00 dollars a home."
    first = next_step(own, 4)
    assert first is not None
    assert first.sentence == "A: 1 more home and the bid holds, at 1,100.00 dollars a home."
    assert next_step(own, 20) is None


def test_smallest_number_below_a_price_allows_for_a_new_day() -> None:
    """By hand, 1,000 a home, 90 a day of three: shares 1,090, 1,045, 1,030, 1,045, 1,036, 1,030, 1,038.57, ...

    At or below 1,040 for good only from 5 homes on: 3 homes reach it, 4 lose it again.
    """
    own = bid("A", (1, 1000.0), homes_per_day=3, mobilization_usd_per_day=90.0)
    assert smallest_number_below(own, 1040.0, most=30) == 5
    assert smallest_number_below(own, 1045.0, most=30) == 2
    assert smallest_number_below(own, 999.0, most=30) is None


def test_venting_is_the_answers_and_none_without_a_flame() -> None:
    """Electric heaters are asked for without a vent; "no pipe" of an electric tank is not said of a gas one wanted."""
    electric = heater(kind=HeaterKind.ELECTRIC_STORAGE, venting=Venting.NONE)
    assert need_of_heater(heater(venting=Venting.IN_A_PIPE)).venting is Venting.IN_A_PIPE
    assert need_of_heater(replace(electric, venting=Venting.METAL)).venting is Venting.NONE
    assert need_of_kind(electric, HeaterKind.GAS_STORAGE).venting is Venting.UNKNOWN
    assert need_of_kind(heater(venting=Venting.METAL), HeaterKind.TANKLESS).venting is Venting.METAL


@pytest.mark.parametrize(
    ("kind", "venting", "certain", "perhaps"),
    [
        (HeaterKind.GAS_STORAGE, Venting.METAL, False, False),
        (HeaterKind.GAS_STORAGE, Venting.UNKNOWN, False, False),
        (HeaterKind.GAS_STORAGE, Venting.PLASTIC, False, True),
        (HeaterKind.ELECTRIC_STORAGE, Venting.PLASTIC, False, False),
        (HeaterKind.HEAT_PUMP_STORAGE, Venting.UNKNOWN, True, False),
        (HeaterKind.TANKLESS, Venting.PLASTIC, True, False),
        (HeaterKind.TANKLESS, Venting.UNKNOWN, False, True),
        (HeaterKind.TANKLESS, Venting.METAL, False, False),
        (HeaterKind.TANKLESS, Venting.NONE, False, False),
    ],
)
def test_a_condensate_drain_is_for_what_condenses(
    kind: HeaterKind, venting: Venting, certain: bool, perhaps: bool
) -> None:
    """A heat pump; a gas heater by its vent pipe, of which a tank's plastic one leaves it open."""
    need = need_of_heater(heater(kind=kind, venting=venting))
    assert ("condensate drain" in need.needed, "condensate drain" in need.unsure) == (certain, perhaps)


TANKS_ALONE = ("anode", "full-port", "a tank:", "9 to 12 year", "temperature and pressure")


@pytest.mark.parametrize("kind", list(HeaterKind))
def test_a_tankless_heater_is_asked_for_without_a_tanks_parts(kind: HeaterKind) -> None:
    """Of a tank: anode, ball valve as drain, both halves of the relief valve.

    Of a tankless: none of these, nor a pan, its drain, an expansion tank. A request with both kinds of home tells both.
    """
    bare = heater(kind=kind, pan=Tri.NO, expansion_tank=Tri.NO, place=Place.ATTIC, leak_alarm=Tri.NO)
    need = need_of_heater(bare, closed_system=Tri.YES)
    request = bid_request([("A", need)] * 3, as_of=TODAY)
    asked = " ".join(row.label for row in request.scope if row.homes_certain or row.homes_unsure)

    assert all((words in asked) is kind.has_tank for words in TANKS_ALONE)
    assert ("tankless:" in asked) is (kind is HeaterKind.TANKLESS)
    assert all((key in need.priced) is kind.has_tank for key in ("drain pan", "pan drain", "expansion tank"))
    assert ("flexible gas tube (CSST) bonded" in asked) is ("gas connector" in need.priced)
    both = bid_request([("A", need), ("A", need_of_heater(heater(kind=HeaterKind.TANKLESS)))], as_of=TODAY)
    assert any("tankless:" in row.label for row in both.scope)


def test_the_request_tells_homes_apart_by_their_vent_pipe() -> None:
    """Like heaters with unlike pipes are different lots, with counts: on the paper, too."""
    homes = [("A", need_of_heater(heater(venting=v))) for v in (Venting.METAL, Venting.METAL, Venting.PLASTIC)]
    request = bid_request(homes, as_of=TODAY)
    assert {lot.venting: lot.homes for lot in request.lots} == {Venting.METAL: 2, Venting.PLASTIC: 1}
    assert any("vent pipe" in line for line in request.asked)
    assert any("pays the labor" in line for line in request.asked)
