"""The group purchase over the records: request, bids, rounds, replies, what was installed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from survey_app.access import Actor, NotAllowed, Role
from survey_app.purchase.bid_sheet import read_bids
from survey_app.purchase.households import PurchaseRound
from survey_app.records import EndCause, HeaterKind, Interest
from survey_app.reports.bid_papers import chart_of_bids, comparison_rows, request_pdf, scope_rows
from survey_app.survey import AskedRounds, PurchaseRounds, Survey, open_store
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
    assert any(r["of that gaps filled, USD"] > 0 for r in rows)
    assert {r["contractor"] for r in rows} == {b.contractor for b in bought.bids()}
    assert len(scope_rows(bought.bids())) == 18
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
    assert home.offer() is None
    found = other.offer()
    assert found is not None
    assert (found.says, found.limit_usd, found.price_usd) == (Interest.YES, 100.0, None)


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
    assert [e.home_id for _, e in bought.installed()] == [home_id]
    assert bought.undo_installed(home_id) == 1
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

    assert home_id not in str(row["formed"])
    assert open_store(data).offer_replies(home_id) == []
    latest = bought.latest()
    assert latest is not None
    assert home_id not in {p.home_id for p in latest.rounds.purchases}
