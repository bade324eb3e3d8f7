"""The group purchase over the records: request, bids, rounds, replies, what was installed."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from survey_app.access import Actor, NotAllowed, Role
from survey_app.purchase.bid_sheet import read_bids
from survey_app.purchase.bids import Bid, Offered, PriceStep
from survey_app.purchase.households import PurchaseRound
from survey_app.purchase.offer_words import price_lines
from survey_app.purchase.plan import AskedRounds
from survey_app.purchase.prices_of_home import prices_of_home
from survey_app.purchase.scope import need_of_heater, price_alone
from survey_app.records import AnswerChannel, EndCause, Heater, HeaterKind, Interest, Place, Tri, Venting
from survey_app.reports.bid_papers import chart_of_bids, comparison_rows, request_pdf, scope_rows
from survey_app.settings import with_value
from survey_app.store import Reading
from survey_app.survey import Survey, open_store
from survey_app.survey.context import Context
from survey_app.survey.purchase_rounds import PurchaseRounds
from survey_app.texts import texts

NOW = datetime(2026, 5, 2, 9, 30)


def front(place: Path, role: Role = Role.VOLUNTEER) -> Survey:
    """The survey as a volunteer or a committee member."""
    return Survey(open_store(place), Actor(name=str(role), role=role), now=NOW)


@pytest.fixture
def bought(data: Path, invented: Path) -> PurchaseRounds:
    """The group purchase with the three synthetic bids on file."""
    rounds = front(data).purchase_rounds()
    sheet = read_bids(invented / "bids.csv", as_of=NOW.date())
    assert sheet.problems == ()
    assert rounds.put_bids(sheet.bids) == 3
    return rounds


def asked(**more: object) -> AskedRounds:
    """Two rounds a quarter apart."""
    first = NOW.date() + timedelta(days=40)
    times = tuple(PurchaseRound(name=f"R{i}", begins=first + timedelta(weeks=13 * i), weeks=4) for i in range(2))
    return AskedRounds(**{"rounds": times, "needed": 5, **more})  # type: ignore[arg-type]


def test_the_residents_door_plans_no_purchase(data: Path) -> None:
    """A visitor or a home with its code sees no bid and no neighbor's offer."""
    for home in (None, "x"):
        who = Actor(name="r", role=Role.RESIDENT, home_id=home)
        with pytest.raises(NotAllowed):
            Survey(open_store(data), who, now=NOW).purchase_rounds()


def test_the_request_counts_keen_homes_and_names_none(data: Path, bought: PurchaseRounds) -> None:
    """Kinds, places and groups with numbers; a group of one or two homes is told with the others."""
    request = bought.request(by_when=date(2026, 9, 1))
    paper = request_pdf(request, front(data).state().community, texts("en"))

    assert request.homes == sum(lot.homes for lot in request.lots) > 0
    assert sum(n for _, n in request.groups) == request.homes
    assert all(n >= 3 for name, n in request.groups if name != "elsewhere in the community")
    assert paper.startswith(b"%PDF")
    addresses = {s.home.address for s in front(data).standings()}
    assert not any(a in str(request) for a in addresses)


def test_bids_survive_the_store_and_a_new_one_replaces_the_old(bought: PurchaseRounds) -> None:
    """What is read back is what was kept; the same contractor has one bid; one taken off is gone."""
    bids = bought.bids()
    cheaper = replace(bids[0], labor_warranty_years=5)
    bought.put_bids([cheaper])

    assert {b.contractor for b in bought.bids()} == {b.contractor for b in bids}
    assert next(b for b in bought.bids() if b.contractor == cheaper.contractor).labor_warranty_years == 5
    bought.drop_bid(cheaper.contractor)
    assert cheaper.contractor not in {b.contractor for b in bought.bids()}


def test_a_bid_that_cannot_be_used_is_refused_with_every_fault(bought: PurchaseRounds) -> None:
    """An expired bid is said to be, and nothing is stored."""
    old = replace(bought.bids()[0], contractor="Late", valid_until=date(2020, 1, 1))
    with pytest.raises(ValueError, match="expired on 2020-01-01"):
        bought.put_bids([old])
    assert "Late" not in {b.contractor for b in bought.bids()}


def test_the_comparison_is_of_the_same_complete_job(bought: PurchaseRounds) -> None:
    """A row for each bid and number, the gaps shown; a line for each bid in the plot, dashed as well as colored."""
    found = bought.compare(up_to=60)
    rows = comparison_rows(found)

    assert {r["homes"] for r in rows} == {10, 30, 60}
    assert any(r["of that assumed for what it leaves out, USD"] > 0 for r in rows)
    assert {r["contractor"] for r in rows} == {b.contractor for b in bought.bids()}
    assert len(scope_rows(bought.bids())) == 19
    chart = chart_of_bids(found, 60)
    assert "strokeDash" in chart["encoding"]
    assert {p["contractor"] for p in chart["data"]["values"]} == {b.contractor for b in bought.bids()}


def test_rounds_leave_nobody_worse_off_and_are_kept(bought: PurchaseRounds) -> None:
    """Each buyer's price with its waiting loss is at most the price alone; the rounds are read back as formed."""
    formed = bought.form(asked())

    assert formed.rounds.purchases
    assert all(p.price_usd + p.waiting_loss_usd <= p.alone_usd + 0.01 for p in formed.rounds.purchases)
    assert bought.latest() == formed
    assert formed.rounds.total_usd <= formed.rounds.alone_total_usd + 0.01


def test_without_bids_or_homes_there_is_a_sentence_and_no_fault(data: Path) -> None:
    """Nothing to form: everybody alone, said in words."""
    rounds = front(data).purchase_rounds()
    formed = rounds.form(asked())
    assert formed.rounds.orders == ()
    assert formed.rounds.sentences
    empty = rounds.compare()
    assert "There is no bid yet" in empty.sentences[0]


def test_a_homes_reply_counts_before_its_answer_and_binds_nobody(data: Path, bought: PurchaseRounds) -> None:
    """A no takes a home out of the next forming; a limit below every price leaves it alone."""
    formed = bought.form(asked())
    first, second = (p.home_id for p in formed.rounds.purchases[:2])
    home = Survey(open_store(data), Actor(name="h", role=Role.RESIDENT, home_id=first), now=NOW).one_home(first)
    offer = home.offer()
    assert offer is not None
    assert offer.price_usd == next(p.price_usd for p in formed.rounds.purchases if p.home_id == first)
    assert {line.item for line in offer.lines} >= {"tank", "labor", "permit"}
    home.reply_to_offer(Interest.NO)
    other = Survey(open_store(data), Actor(name="h", role=Role.RESIDENT, home_id=second), now=NOW).one_home(second)
    other.reply_to_offer(Interest.YES, limit_usd=100.0, latest=date(2027, 1, 1))
    later = Survey(open_store(data), Actor(name="v", role=Role.VOLUNTEER), now=NOW + timedelta(minutes=1))
    again = later.purchase_rounds().form(asked()).rounds

    assert first not in {p.home_id for p in again.purchases} | {a.home_id for a in again.alone}
    assert second in {a.home_id for a in again.alone}
    mine = home.offer()
    assert mine is not None
    assert (mine.says, mine.price_usd, mine.why_not) == (Interest.NO, None, "said-no")
    found = other.offer()
    assert found is not None
    assert (found.says, found.limit_usd, found.price_usd) == (Interest.YES, 100.0, None)
    assert found.why_not == "over-limit"


def test_a_home_cannot_reply_for_another(data: Path) -> None:
    """A private code opens its own home alone."""
    mine, other = [s.home.home_id for s in front(data).standings() if s.answered][:2]
    survey = Survey(open_store(data), Actor(name="h", role=Role.RESIDENT, home_id=mine), now=NOW)
    with pytest.raises(NotAllowed):
        survey.one_home(other)


def test_what_was_installed_ends_the_old_heater_as_replaced_and_can_be_undone(
    data: Path, bought: PurchaseRounds
) -> None:
    """The forecast's records follow: the old one replaced before failing, the new one in warranty; undo brings back."""
    home_id = bought.form(asked()).rounds.purchases[0].home_id
    before = front(data).one_home(home_id).record().heaters
    bought.record_installed(home_id, date(2026, 4, 20), kind=HeaterKind.GAS_STORAGE, gallons=50, warranty_years=9)
    old, new = front(data).one_home(home_id).record().heaters[-2:]

    assert old.end_cause is EndCause.REPLACED
    assert new.in_service
    assert new.warranty_years == 9
    (done,) = bought.installed()
    assert (done.home_id, done.warranty_until) == (home_id, date(2035, 4, 20))
    assert bought.undo_installed(done.event_id)
    assert not bought.undo_installed(done.event_id)
    assert front(data).one_home(home_id).record().heaters == before
    with pytest.raises(ValueError, match="lies ahead"):
        bought.record_installed(home_id, date(2027, 1, 1), kind=HeaterKind.UNKNOWN, gallons=None, warranty_years=None)
    with pytest.raises(LookupError, match="not in this survey"):
        bought.record_installed("nowhere", date(2026, 1, 1), kind=HeaterKind.UNKNOWN, gallons=None, warranty_years=None)


def test_deleting_a_homes_data_takes_it_out_of_the_rounds(data: Path, bought: PurchaseRounds) -> None:
    """Neither its reply nor its place in a round is left."""
    home_id = bought.form(asked()).rounds.purchases[0].home_id
    bought.reply(home_id, Interest.YES, limit_usd=900.0, latest=None)
    front(data).one_home(home_id).forget()
    row = open_store(data).purchase_plans()[0]

    assert home_id not in str(row.formed)
    assert open_store(data).offer_replies(home_id) == []
    latest = bought.latest()
    assert latest is not None
    assert home_id not in {p.home_id for p in latest.rounds.purchases}


def later(place: Path, role: Role = Role.VOLUNTEER, *, minutes: int = 1) -> Survey:
    """The survey some minutes on."""
    return Survey(open_store(place), Actor(name=str(role), role=role), now=NOW + timedelta(minutes=minutes))


def test_a_wish_in_the_survey_is_no_firm_yes(data: Path, bought: PurchaseRounds) -> None:
    """The threshold counts replies to an offer alone, by the homes of the order; a maybe is no yes."""
    formed = bought.form(asked(needed=2))
    yes, maybe = bought.interested()
    assert yes + maybe > 0
    assert bought.threshold(2).yes == 0
    first, second, third = (p.home_id for p in formed.rounds.purchases[:3])
    bought.reply(first, Interest.YES, limit_usd=None, latest=None)
    bought.reply(second, Interest.MAYBE, limit_usd=None, latest=None)
    bought.reply(third, Interest.YES, limit_usd=None, latest=None)

    assert (bought.threshold(2).yes, bought.threshold(2).maybe) == (2, 1)
    assert sum(s.state.yes for s in bought.states()) == 2
    assert all(s.homes == s.state.yes + s.state.maybe + s.state.no + s.state.open for s in bought.states())
    firm = bought.form(asked(firm_only=True, with_maybe=False))
    assert {p.home_id for p in firm.rounds.purchases} | {a.home_id for a in firm.rounds.alone} == {first, third}


def test_a_yes_holds_at_the_price_it_was_said_to_and_no_higher_one(data: Path, bought: PurchaseRounds) -> None:
    """20 dollars more and the yes holds; 60 more leave the home out, and its door says why; a limit named counts."""
    formed = bought.form(asked())
    one, two = (p.home_id for p in formed.rounds.purchases[:2])
    for home_id, limit in ((one, None), (two, 5000.0)):
        home = front(data).one_home(home_id)
        home.reply_to_offer(Interest.YES, limit_usd=limit, to=home.offer())

    def dearer(usd: float) -> list[Bid]:
        return [replace(b, steps=tuple(replace(s, price_usd=s.price_usd + usd) for s in b.steps)) for b in first]

    first = bought.bids()
    bought.put_bids(dearer(20))
    assert one in {p.home_id for p in bought.form(asked()).rounds.purchases}
    bought.put_bids(dearer(60))
    again = later(data).purchase_rounds().form(asked()).rounds

    assert one in {a.home_id for a in again.alone}
    offer = later(data).one_home(one).offer()
    assert offer is not None
    assert offer.why_not == "over-limit"
    assert offer.about_usd is not None
    assert two in {p.home_id for p in again.purchases}


def test_a_home_is_told_from_how_many_homes_on_its_price_holds(data: Path, bought: PurchaseRounds) -> None:
    """The number is the edge of the step: there the price is the same, one home below it is dearer or the bid ends."""
    formed = bought.form(asked(needed=5))
    bids = {b.contractor: b for b in bought.bids()}
    for place in formed.rounds.purchases[::5]:
        offer = front(data).one_home(place.home_id).offer()
        assert offer is not None
        assert offer.holds_from is not None
        bid = bids[place.contractor]
        order = next(o for o in formed.rounds.orders if place.home_id in o.homes)
        own = place.price_usd - order.shared_usd
        assert bid.home_usd(offer.holds_from) <= order.shared_usd + 0.01
        below = offer.holds_from - 1
        assert below == 0 or bid.why_not(below) or bid.home_usd(below) > order.shared_usd
        if offer.needed_usd is not None:
            assert offer.needed_usd == pytest.approx(own + bid.home_usd(5))


def test_a_home_is_told_when_the_bids_have_changed_since(data: Path, bought: PurchaseRounds) -> None:
    """A bid taken off or put anew after the forming: the offer says that its price may change."""
    place = bought.form(asked()).rounds.purchases[0]
    found = front(data).one_home(place.home_id).offer()
    assert found is not None
    assert not found.changed
    later(data).purchase_rounds().drop_bid(place.contractor)
    found = front(data).one_home(place.home_id).offer()
    assert found is not None
    assert (found.changed, found.lines) == (True, ())


def home_with(place: Path, kind: HeaterKind) -> str:
    """A home with such a heater; a silent one tells of it where there is none."""
    standings = front(place).standings()
    found = next((s.home.home_id for s in standings if s.heater and s.heater.kind is kind), None)
    if found is None:
        home = next(s.home for s in standings if not s.answered)
        given = {"address": home.address, "kind": str(kind), "installed": "2015", "place": "garage", "consent": "yes"}
        front(place).answers().submit(given, channel=AnswerChannel.PAPER, home_id=home.home_id)
        found = home.home_id
    return found


def test_a_vent_pipe_and_a_closed_system_reach_the_request_and_the_price(data: Path) -> None:
    """From the form and the settings to the bid request and to what is priced.

    The pipe that was answered is in the request; an expansion tank is asked for with certainty once the community says
    that its lines are closed, not at all where they are open, and the price alone follows.
    """
    volunteer = front(data)
    home = next(s.home for s in volunteer.standings() if not s.answered)
    given = {"address": home.address, "kind": "gas storage", "installed": "2015", "place": "garage", "consent": "yes"}
    given |= {"venting": "pipe in pipe", "expansion_tank": "no", "group_purchase": "yes"}
    assert volunteer.answers().submit(given, channel=AnswerChannel.FORM, home_id=home.home_id).stored
    heater = next(s.heater for s in later(data).standings() if s.home.home_id == home.home_id)
    counted, alone = {}, {}
    for word in Tri:
        volunteer.set_up().change_settings(with_value(volunteer.settings(), "closed_system", str(word)))
        request = later(data).purchase_rounds().request()
        counted[word] = next((x.homes_certain, x.homes_unsure) for x in request.scope if x.item.key == "expansion tank")
        alone[word] = prices_of_home(volunteer.settings(), heater, None).own_usd

    assert any(lot.venting is Venting.IN_A_PIPE and lot.kind is HeaterKind.GAS_STORAGE for lot in request.lots)
    assert counted[Tri.YES][0] >= 1
    assert counted[Tri.NO] == (0, 0)
    assert counted[Tri.UNKNOWN] == (0, sum(counted[Tri.YES]))
    assert alone[Tri.YES] == alone[Tri.UNKNOWN] == alone[Tri.NO] + 120


def with_kind(bid: Bid, kind: HeaterKind, usd: float) -> Bid:
    """A bid of one flat price for one kind of heater, everything in it."""
    scope = tuple(replace(one, offered=Offered.INCLUDED, extra_usd=None) for one in bid.scope)
    steps = (PriceStep(from_homes=1, price_usd=usd),)
    return replace(bid, contractor=f"{kind} only", kinds=(kind,), steps=steps, scope=scope, mobilization_usd_per_day=0)


@pytest.mark.parametrize("kind", [HeaterKind.TANKLESS, HeaterKind.HEAT_PUMP_STORAGE])
def test_a_price_for_tanks_is_not_offered_to_other_heaters(
    data: Path, bought: PurchaseRounds, kind: HeaterKind
) -> None:
    """Such a home is left out, counted by kind, told its own price alone and that no bid is for it; until there is one.

    The price alone of each kind is the settings' own: 3,170 for a heat pump, 3,000 tankless, plus what the home needs.
    """
    other = home_with(data, kind)
    bought.reply(other, Interest.YES, limit_usd=None, latest=None)
    formed = bought.form(asked())
    planned = {HeaterKind.TANKLESS: 3000.0, HeaterKind.HEAT_PUMP_STORAGE: 3170.0}[kind]

    assert formed.other_kinds == sum(bought.waiting_kinds().values()) >= 1
    assert bought.waiting_kinds()[kind] >= 1
    assert other not in {p.home_id for p in formed.rounds.purchases} | {a.home_id for a in formed.rounds.alone}
    assert any("no bid is for their kind of heater" in s and str(kind) in s for s in formed.rounds.sentences)
    offer = front(data).one_home(other).offer()
    assert offer is not None
    assert (offer.why_not, offer.about_usd, offer.price_usd, offer.kind) == ("other-kind", None, None, kind)
    assert planned <= offer.alone_usd <= planned + 600
    bought.put_bids([with_kind(bought.bids()[0], kind, planned - 300)])
    offer = front(data).one_home(other).offer()
    assert offer is not None
    assert offer.why_not == "not-yet"
    for place in formed.rounds.purchases[:6]:
        bought.reply(place.home_id, Interest.YES, limit_usd=None, latest=None)
    waits = front(data).one_home(other).offer()
    assert waits is not None
    assert waits.round.yes == 0  # six tanks' yes bring no round of its own kind nearer
    again = later(data).purchase_rounds().form(asked()).rounds
    mine = next(p for p in again.purchases if p.home_id == other)
    assert (mine.contractor, mine.kind) == (f"{kind} only", kind)
    assert {p.kind for p in again.purchases if p.contractor != mine.contractor}.isdisjoint({kind})
    found = later(data).one_home(other).offer()
    assert found is not None
    assert found.price_usd == pytest.approx(planned - 300)
    assert found.alone_usd - (found.price_usd or 0) < 1000


def test_a_home_that_asks_to_change_its_kind_is_told_both_prices(data: Path, bought: PurchaseRounds) -> None:
    """Only then may a heat-pump home be in a round at a tank's price: tank beside tank, its own kind named too."""
    home_id = home_with(data, HeaterKind.HEAT_PUMP_STORAGE)
    bought.form(asked())
    home = front(data).one_home(home_id)
    before = home.offer()
    assert before is not None
    assert before.other_kinds == (HeaterKind.GAS_STORAGE, HeaterKind.ELECTRIC_STORAGE)
    home.reply_to_offer(Interest.YES, limit_usd=None, to=before, wants=HeaterKind.ELECTRIC_STORAGE)
    formed = later(data).purchase_rounds().form(asked()).rounds
    place = next(p for p in formed.purchases if p.home_id == home_id)
    offer = later(data).one_home(home_id).offer()

    assert offer is not None
    assert (offer.wants, offer.kind, offer.now_kind) == (
        True,
        HeaterKind.ELECTRIC_STORAGE,
        HeaterKind.HEAT_PUMP_STORAGE,
    )
    assert place.kind is HeaterKind.ELECTRIC_STORAGE
    # The two prices alone differ by two rows of the price list alone (the condensate drain is in the planned one).
    assert offer.now_alone_usd - offer.alone_usd == pytest.approx(3170 - 1518)
    assert place.alone_usd == offer.alone_usd
    assert place.saving_usd < 700
    assert any("asked to change to another kind" in s for s in formed.sentences)
    words = " ".join(price_lines(texts("en"), offer))
    assert "from heat pump tank to electric tank" in words
    assert "The contractor must settle it with you first" in words
    home.reply_to_offer(Interest.YES)
    back = later(data, minutes=2).one_home(home_id).offer()
    assert back is not None
    assert (back.why_not, back.wants, back.price_usd) == ("other-kind", False, None)


def test_a_corrected_kind_takes_a_home_out_of_its_old_price(data: Path, bought: PurchaseRounds) -> None:
    """A plan made when the home was on file as a tank offers it nothing once it says heat pump or tankless."""
    place = bought.form(asked()).rounds.purchases[0]
    standing = front(data).one_home(place.home_id).standing()
    assert standing.heater is not None
    for kind, why in ((HeaterKind.TANKLESS, "other-kind"), (HeaterKind.GAS_STORAGE, "")):
        told = replace(standing, heater=replace(standing.heater, kind=kind))
        offer = bought.offer(place.home_id, told)
        assert offer is not None
        assert offer.why_not == (why if kind is not place.kind else "")
        assert (offer.price_usd is None) == (why != "")


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_tankless_home_is_told_that_the_gas_line_is_the_contractors_to_settle(
    data: Path, bought: PurchaseRounds, language: str
) -> None:
    """Beside its price alone, in both languages; a gas tank is told nothing of it."""
    bought.form(asked())
    told = {}
    for kind in (HeaterKind.TANKLESS, HeaterKind.GAS_STORAGE):
        offer = front(data).one_home(home_with(data, kind)).offer()
        assert offer is not None
        told[kind] = " ".join(price_lines(texts(language), offer))
    line = {"en": "If the gas line or the flue must change", "es": "cambiar la línea de gas"}[language]
    assert line in told[HeaterKind.TANKLESS]
    assert line not in told[HeaterKind.GAS_STORAGE]


def test_rounds_formed_before_a_price_named_its_kind_are_read_and_offer_no_unlike_price(
    data: Path, bought: PurchaseRounds
) -> None:
    """A plan on file that put a heat-pump home at a tank's price is not shown it; a tank's home keeps its offer."""
    place, other = bought.form(asked()).rounds.purchases[:2]
    with sqlite3.connect(data / "survey.sqlite") as db:
        ((plan, formed, said),) = db.execute("select plan_id, formed, asked from purchase_plan").fetchall()
        old, before = json.loads(formed), json.loads(said)
        for one in old["purchases"]:
            del one["kind"]
        before["kinds"] = [str(kind) for kind in HeaterKind]
        db.execute(
            "update purchase_plan set formed=?, asked=? where plan_id=?", (json.dumps(old), json.dumps(before), plan)
        )
    db.close()
    again = later(data).purchase_rounds()
    told = front(data).one_home(place.home_id).standing()
    assert told.heater is not None
    pump = again.offer(place.home_id, replace(told, heater=replace(told.heater, kind=HeaterKind.HEAT_PUMP_STORAGE)))
    tank = later(data).one_home(other.home_id).offer()
    assert pump is not None
    assert tank is not None
    assert (pump.price_usd, pump.why_not) == (None, "other-kind")
    assert tank.price_usd == other.price_usd


def test_an_offer_works_out_one_home_alone(data: Path, bought: PurchaseRounds, monkeypatch: pytest.MonkeyPatch) -> None:
    """No other home's standing is read and no law of life fitted for it: what makes a page cheap keeps it private."""
    home_id = bought.form(asked()).rounds.purchases[0].home_id
    who = Actor(name="h", role=Role.RESIDENT, home_id=home_id)
    survey = Survey(open_store(data), who, now=NOW)
    read: list[object] = []
    heaters = Reading.heaters

    def watched(records: Reading, *given: object) -> object:
        read.append(given)
        return heaters(records, *given)  # type: ignore[arg-type]

    def never(*_: object, **__: object) -> object:
        raise AssertionError("An offer must not look at all homes.")

    monkeypatch.setattr(Reading, "heaters", watched)
    for name in ("standings", "answers_by_home", "life_fit"):
        monkeypatch.setattr(Context, name, never)
    offer = survey.one_home(home_id).offer()
    assert offer is not None
    assert offer.price_usd is not None
    assert set(read) == {(home_id,)}


def test_bids_for_other_kinds_are_compared_by_themselves(bought: PurchaseRounds) -> None:
    """A heat pump's price stands beside no tank's; each table holds the bids of its kind alone."""
    pump = with_kind(bought.bids()[0], HeaterKind.HEAT_PUMP_STORAGE, 2900)
    tanks = {b.contractor for b in bought.bids()}
    bought.put_bids([pump])
    first, second = bought.kinds()
    assert {b.bid.contractor for b in bought.compare(kinds=first).bids} == tanks
    assert {b.bid.contractor for b in bought.compare(kinds=second).bids} == {pump.contractor}
    assert bought.compare().bids == bought.compare(kinds=first).bids


def test_alone_is_the_same_complete_job(bought: PurchaseRounds) -> None:
    """Two homes that differ by what they need besides differ by the scope's prices of just that (hand-worked)."""
    bare = Heater(
        heater_id="h/heater-1",
        home_id="h",
        sequence=1,
        kind=HeaterKind.GAS_STORAGE,
        place=Place.GARAGE,
        pan=Tri.YES,
        expansion_tank=Tri.YES,
        leak_alarm=Tri.YES,
    )
    # Pan 40, expansion tank 120 and alarm 60 in a garage; in an attic also the pan's drain 110 and hard access 120.
    lacking = replace(bare, pan=Tri.NO, expansion_tank=Tri.UNKNOWN, leak_alarm=Tri.UNKNOWN)
    assert price_alone(need_of_heater(bare), 1275) == 1275
    assert price_alone(need_of_heater(lacking), 1275) == 1275 + 40 + 120 + 60
    assert price_alone(need_of_heater(replace(lacking, place=Place.ATTIC)), 1275) == 1275 + 450


def test_a_bid_that_expired_on_file_does_not_block_a_new_one(data: Path, bought: PurchaseRounds) -> None:
    """A year on the old bids are past; a new one is taken all the same, and the old ones are said to have expired."""
    year_on = Survey(
        open_store(data), Actor(name="v", role=Role.VOLUNTEER), now=NOW + timedelta(days=365)
    ).purchase_rounds()
    new = replace(year_on.bids()[0], contractor="New", valid_until=date(2028, 1, 1))

    assert year_on.put_bids([*year_on.bids(), new]) == 1
    found = year_on.compare()
    assert len(found.set_aside) == 3
    assert all("expired" in s for s in found.set_aside)


def test_insurance_that_ends_before_the_work_is_a_caution(bought: PurchaseRounds) -> None:
    """The certificate has to reach the last day of the last round."""
    bought.put_bids([replace(bought.bids()[0], insurance_until=date(2026, 6, 1))])
    assert not any("before the work does" in c for c in bought.compare().cautions)
    bought.form(asked())
    assert any("ends on 2026-06-01, before the work does" in c for c in bought.compare().cautions)


def test_who_bought_is_asked_no_more(data: Path, bought: PurchaseRounds) -> None:
    """A home whose new heater is on file is in no later round; its door says why; undone, it is back."""
    home_id = bought.form(asked()).rounds.purchases[0].home_id
    bought.record_installed(home_id, date(2026, 4, 20), kind=HeaterKind.GAS_STORAGE, gallons=50, warranty_years=9)
    again = later(data).purchase_rounds().form(asked()).rounds
    assert home_id not in {p.home_id for p in again.purchases} | {a.home_id for a in again.alone}
    offer = front(data).one_home(home_id).offer()
    assert offer is not None
    assert offer.why_not == "bought"
    bought.undo_installed(bought.installed()[0].event_id)
    last = later(data, minutes=2).purchase_rounds().form(asked()).rounds
    assert home_id in {p.home_id for p in last.purchases} | {a.home_id for a in last.alone}


def test_an_impossible_installation_is_refused_with_every_fault(data: Path, bought: PurchaseRounds) -> None:
    """Size, warranty and a day before the heater on file went in: all at once, and nothing is stored."""
    home_id = next(s.home.home_id for s in front(data).standings() if s.heater and s.heater.installed and s.age_years)
    with pytest.raises(ValueError, match=r"no size of a tank.*not possible.*went in after 1950-01-01"):
        bought.record_installed(home_id, date(1950, 1, 1), kind=HeaterKind.GAS_STORAGE, gallons=-4, warranty_years=99)
    assert bought.installed() == []


def test_the_old_heater_ends_as_failed_where_it_had(data: Path, bought: PurchaseRounds) -> None:
    """The cause is what was told; recording the same day again corrects it."""
    home_id = bought.form(asked()).rounds.purchases[0].home_id
    facts = {"kind": HeaterKind.GAS_STORAGE, "gallons": 40.0, "warranty_years": None, "had_failed": True}
    bought.record_installed(home_id, date(2026, 4, 20), **facts)  # type: ignore[arg-type]
    assert front(data).one_home(home_id).record().heaters[-2].end_cause is EndCause.FAILED
    bought.record_installed(home_id, date(2026, 4, 20), **{**facts, "had_failed": False})  # type: ignore[arg-type]
    assert front(data).one_home(home_id).record().heaters[-2].end_cause is EndCause.REPLACED
    assert len(bought.installed()) == 1


def test_the_committee_sees_and_changes_only_homes_that_asked(data: Path, bought: PurchaseRounds) -> None:
    """A home that says no leaves the committee's list at once; a home that never asked cannot be put on file by it."""
    formed = bought.form(asked())
    gone = formed.rounds.purchases[0].home_id
    bought.reply(gone, Interest.NO, limit_usd=None, latest=None)
    board = front(data, Role.COMMITTEE).purchase_rounds()

    assert gone not in {row.home_id for row in board.buyers()}
    assert len(board.buyers()) == len(formed.rounds.purchases) - 1
    assert board.addresses([gone]) == {}
    silent = next(s.home.home_id for s in front(data).standings() if not s.answered)
    with pytest.raises(LookupError, match="did not ask to take part"):
        board.record_installed(silent, date(2026, 4, 1), kind=HeaterKind.UNKNOWN, gallons=None, warranty_years=None)


def test_homes_are_listed_by_crew_day_with_neighbors_together(bought: PurchaseRounds) -> None:
    """Every buyer once, on the day of its order, no day above what the bid does in a day."""
    formed = bought.form(asked())
    rows = bought.buyers()

    assert sorted(r.home_id for r in rows) == sorted(p.home_id for p in formed.rounds.purchases)
    most = {b.contractor: b.day_size for b in bought.bids()}
    for order in formed.rounds.orders:
        mine = [r for r in rows if (r.contractor, r.round_name) == (order.contractor, order.round_name)]
        assert {r.crew_day for r in mine} == set(range(1, len(order.days) + 1))
        assert all(sum(r.crew_day == n for r in mine) <= most[order.contractor] for n in range(1, len(order.days) + 1))


def test_a_deleted_home_does_not_change_what_the_others_were_told(data: Path, bought: PurchaseRounds) -> None:
    """The share a home pays is kept as it was formed."""
    formed = bought.form(asked())
    order = formed.rounds.orders[0]
    front(data).one_home(order.homes[0]).forget()
    latest = bought.latest()

    assert latest is not None
    assert len(latest.rounds.orders[0].homes) == len(order.homes) - 1
    assert latest.rounds.orders[0].shared_usd == pytest.approx(order.shared_usd)


def test_the_chart_of_bids_is_read_without_color_and_on_a_phone(data: Path, invented: Path) -> None:
    """Every contractor's line has dashes of its own, and the names stand below the plot, not beside it."""
    rounds = front(data).purchase_rounds()
    rounds.put_bids(read_bids(invented / "bids.csv", as_of=NOW.date()).bids)
    found = rounds.compare(up_to=60)
    chart = chart_of_bids(found, 60)
    names = {row["contractor"] for row in chart["data"]["values"]}
    dashes = chart["encoding"]["strokeDash"]["scale"]["range"]

    assert len(names) >= 2
    assert len({tuple(d) for d in dashes}) == len(dashes) >= len(names)
    assert chart["encoding"]["color"]["legend"]["orient"] == "bottom"
