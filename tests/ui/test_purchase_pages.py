"""The group purchase on the screen: request, bids, rounds for the committee; the offer for a home."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pypdfium2
import pytest
from streamlit.testing.v1 import AppTest

import survey_app.ui
from survey_app.access import Actor, Role
from survey_app.economics import Verdict
from survey_app.purchase.bid_sheet import read_bids
from survey_app.purchase.bids import TANK_KINDS
from survey_app.purchase.households import PurchaseRound
from survey_app.purchase.plan import AskedRounds
from survey_app.records import EndCause, HeaterKind, Interest
from survey_app.reports.home_record import record_pdf
from survey_app.survey import Survey, open_store
from survey_app.survey.purchase_rounds import PurchaseRounds
from survey_app.texts import texts

APP = Path(survey_app.ui.__file__).with_name("app.py")


def front(place: Path) -> Survey:
    """The records as the volunteer sees them, today."""
    return Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime.now())


def opened(page: str) -> AppTest:
    """The app with the committee come in, on a page."""
    at = AppTest.from_file(str(APP), default_timeout=120).run()
    at.button(key="welcome.committee").click().run()
    at.switch_page(f"committee/{page}.py").run()
    return at


def errors(at: AppTest) -> list[str]:
    """What went wrong on the page."""
    return [e.value for e in at.error] + [e.message for e in at.exception]


def said(at: AppTest) -> str:
    """Everything a person reads on the page."""
    kinds = ("title", "header", "markdown", "info", "success", "warning", "error")
    return "\n".join(str(e.value) for kind in kinds for e in at.get(kind))


def with_bids(place: Path, invented: Path) -> PurchaseRounds:
    """The synthetic bids on file; they hold from the community's day, so they are read as of today."""
    rounds = front(place).purchase_rounds()
    sheet = read_bids(invented / "bids.csv", as_of=datetime(2026, 5, 2).date())
    day = front(place).today + timedelta(days=300)
    rounds.put_bids([replace(b, valid_until=day) for b in sheet.bids])
    return rounds


def test_the_committee_makes_the_request(place: Path) -> None:
    """Counts, groups and scope; the paper and the sheet to download."""
    at = opened("ask_for_bids")

    assert errors(at) == []
    assert "homes are interested" in said(at)
    labels = {str(b.proto.label) for b in at.get("download_button")}
    assert {"The request for every contractor (PDF)", "A sheet to enter bids (xlsx)"} <= labels


def test_bids_come_in_as_a_sheet_and_bad_rows_are_handed_back(place: Path) -> None:
    """Dollar signs and thousands separators are read; a falling count and a negative price are said with their row."""
    sheet = (
        b"contractor,item,answer,from homes,price\n"
        b'Good,price step,,1,"$1,234.00"\nGood,tank,included,,\nGood,labor,included,,\n'
        b"Bad,price step,,1,-5\nBad,tank,included,,\nBad,labor,included,,\n"
    )
    at = opened("bids_side_by_side")
    at.file_uploader(key="compare.file").upload("bids.csv", sheet, "text/csv").run()
    at.button(key="compare.take").click().run()

    assert errors(at) == []
    assert [b.contractor for b in front(place).purchase_rounds().bids()] == ["Good"]
    assert "bids.csv, row 5" in said(at), "under the name the person knows"
    assert "1,234.00" in said(at)
    assert "Work on a heater can hurt" in said(at)


def test_rounds_are_formed_and_a_new_heater_goes_on_file(place: Path, invented: Path) -> None:
    """From the form to the list of buyers, and from the list to the home's record."""
    with_bids(place, invented)
    at = opened("form_rounds")
    send(at, "rounds")
    assert errors(at) == []
    formed = front(place).purchase_rounds().latest()
    assert formed is not None
    assert formed.rounds.purchases
    text = said(at)
    assert "Nobody pays more than alone" in text
    assert "A round goes ahead" not in text
    assert "The round goes ahead at 10; 0 have said yes" in text
    assert "If homes drop out" in text
    assert {"This list (xlsx)"} <= {str(b.proto.label) for b in at.get("download_button")}
    at.switch_page("committee/new_heaters.py").run()
    send(at, "installed")
    assert errors(at) == ["Say which home and which kind of heater."]
    box = at.selectbox(key="installed.home")
    box.set_value(box.proto.options and formed.rounds.purchases[0].home_id)
    at.selectbox(key="installed.kind").set_value(HeaterKind.GAS_STORAGE)
    at.number_input(key="installed.years").set_value(9.0)
    send(at, "installed")

    assert errors(at) == []
    assert "on file." in said(at)
    (done,) = front(place).purchase_rounds().installed()
    assert done.contractor == formed.rounds.purchases[0].contractor
    record = front(place).one_home(done.home_id).record()
    assert record.heaters[-2].end_cause is EndCause.REPLACED
    at.selectbox(key="installed.wrong").set_value(done.event_id).run()
    at.button(key="installed.undo").click().run()
    assert errors(at) == []
    assert front(place).purchase_rounds().installed() == []
    assert front(place).one_home(done.home_id).record().heaters[-1].in_service


def send(at: AppTest, form: str) -> None:
    """Send a form."""
    next(b for b in at.button if b.form_id == form).click().run()


def test_a_home_reads_its_offer_and_says_no(place: Path, invented: Path) -> None:
    """Price, what is in it, keep or take, the state of the round; the no is kept and nothing is binding."""
    rounds = with_bids(place, invented)
    first = front(place).today + timedelta(days=30)
    times = (PurchaseRound(name="R1", begins=first, weeks=4),)
    home_id = rounds.form(AskedRounds(rounds=times, needed=3)).rounds.purchases[0].home_id
    ((_, code),) = front(place).sign_in_rights().issue_codes([home_id])
    at = AppTest.from_file(str(APP), default_timeout=120).run()
    at.switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    at.button[-1].click().run()
    at.switch_page("resident/group_offer.py").run()
    text = said(at)

    assert errors(at) == []
    assert "Your full price would be about" in text
    assert "The contract is between you and the contractor" in text
    mine = rounds.latest().rounds.purchases[0]  # type: ignore[union-attr]
    # What it costs alone is a national figure: it stands there as such, and the offer is not called cheaper by it.
    assert f"costs about ${round(mine.alone_usd):,} (" in text.replace("\\", "")
    assert "national figure of 2023" in text
    assert "The group price is about" not in text
    assert "The group's price may look better or worse than it is" in text
    assert "What the price holds" in text
    assert "Work on a heater can hurt" in text
    at.radio(key="offer.says").set_value(Interest.NO)
    next(b for b in at.button if b.form_id == "offer").click().run()
    assert errors(at) == []
    replies = open_store(place).offer_replies(home_id)
    assert [r.says for r in replies] == ["no"]
    assert "So far you said: No, thank you" in said(at)
    at.radio(key="offer.says").set_value(Interest.YES)
    send(at, "offer")
    (reply,) = open_store(place).offer_replies(home_id)
    assert (reply.says, reply.limit_usd) == ("yes", None)
    assert reply.price_usd == rounds.latest().rounds.purchases[0].price_usd  # type: ignore[union-attr]
    assert "Your yes was to" in said(at)
    assert "1 have said yes" in str([e.proto.text for e in at.get("progress")])
    # Taken back by a second yes, and said again exactly as it was.
    at.button(key="offer.no.mine").click().run()
    assert open_store(place).offer_replies(home_id) == [reply]
    at.button(key="offer.sure.mine").click().run()
    assert open_store(place).offer_replies(home_id) == []
    assert "Only your answer counts now" in said(at)
    at.button(key="offer.bring").click().run()
    assert errors(at) == []
    assert open_store(place).offer_replies(home_id) == [reply]
    assert "offer.bring" not in [b.key for b in at.button]


def test_a_reply_without_a_choice_is_not_taken_and_says_so(place: Path, invented: Path) -> None:
    """In Spanish, for a home outside every round: why, and what the price would be about; nothing in English."""
    rounds = with_bids(place, invented)
    first = front(place).today + timedelta(days=30)
    formed = rounds.form(AskedRounds(rounds=(PurchaseRound(name="R1", begins=first, weeks=4),), needed=3))
    inside = {p.home_id for p in formed.rounds.purchases} | {a.home_id for a in formed.rounds.alone}
    home_id = next(
        s.home.home_id
        for s in front(place).standings()
        if s.heater and s.heater.kind in TANK_KINDS and s.home.home_id not in inside
    )
    ((_, code),) = front(place).sign_in_rights().issue_codes([home_id])
    at = AppTest.from_file(str(APP), default_timeout=120).run()
    at.button(key="head.language.es").click().run()
    at.switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    at.button[-1].click().run()
    at.switch_page("resident/group_offer.py").run()
    text = said(at)

    assert errors(at) == []
    assert "todavía no está en el plan" in text
    assert "Si su casa participara" in text
    assert "De las casas previstas para su tipo de calentador" in text
    assert list(at.get("progress")) == []
    assert "home" not in text.lower().split()
    send(at, "offer")
    assert errors(at) == ["Elija primero sí, tal vez o no."]
    assert open_store(place).offer_replies(home_id) == []


def test_a_tankless_home_is_told_that_no_bid_is_for_it_and_may_ask_for_another_kind(
    place: Path, invented: Path
) -> None:
    """No tank's price is shown it, no count of tanks' yes; a yes to a gas tank is kept with that kind."""
    rounds = with_bids(place, invented)
    first = front(place).today + timedelta(days=30)
    rounds.form(AskedRounds(rounds=(PurchaseRound(name="R1", begins=first, weeks=4),), needed=3))
    home_id = next(
        s.home.home_id for s in front(place).standings() if s.heater and s.heater.kind is HeaterKind.TANKLESS
    )
    ((_, code),) = front(place).sign_in_rights().issue_codes([home_id])
    at = AppTest.from_file(str(APP), default_timeout=120).run()
    at.switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    at.button[-1].click().run()
    at.switch_page("resident/group_offer.py").run()
    text = said(at)

    assert errors(at) == []
    assert "No bid is for your kind of heater (tankless unit)" in text
    assert "There are bids for other kinds: gas tank, electric tank" in text
    assert "The contractor must settle it with you first" in text
    assert "If your home joined" not in text
    assert "have said yes" not in text + str([e.proto.text for e in at.get("progress")])
    at.selectbox(key="offer.wants").set_value(HeaterKind.GAS_STORAGE)
    at.radio(key="offer.says").set_value(Interest.YES)
    send(at, "offer")
    assert errors(at) == []
    (reply,) = open_store(place).offer_replies(home_id)
    assert (reply.says, reply.wants_kind, reply.price_usd) == ("yes", "gas storage", None)
    text = said(at)
    assert "You asked to change from tankless unit to gas tank" in text
    assert "So far you said: Yes, I would join." in text
    assert "If your home joined" in text


def test_the_offer_is_drawn_again_without_weighing_it_again(
    place: Path, invented: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One weighing for three drawings; a change of the records weighs anew."""
    import survey_app.economics

    rounds = with_bids(place, invented)
    first = front(place).today + timedelta(days=30)
    formed = rounds.form(AskedRounds(rounds=(PurchaseRound(name="R1", begins=first, weeks=4),), needed=3))
    ((_, code),) = front(place).sign_in_rights().issue_codes([formed.rounds.purchases[0].home_id])
    weighed: list[object] = []
    usual = survey_app.economics.decide

    def counted(*given: object, **more: object) -> object:
        weighed.append(given)
        return usual(*given, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(survey_app.economics, "decide", counted)
    at = AppTest.from_file(str(APP), default_timeout=120).run()
    at.switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    at.button[-1].click().run()
    at.switch_page("resident/group_offer.py").run().run().run()
    assert errors(at) == []
    assert len(weighed) == 1
    rounds.reply(formed.rounds.purchases[1].home_id, Interest.YES, limit_usd=None, latest=None)
    at.run()
    assert len(weighed) == 2


def test_nobody_is_shown_what_was_worked_out_for_another_home(place: Path, invented: Path) -> None:
    """Two homes one after the other on one screen: each reads its own price and its own verdict, drawn again the same.

    The verdict is kept with the screen, so that the page is drawn again without working it out; the key holds the home.
    """
    rounds = with_bids(place, invented)
    first = front(place).today + timedelta(days=30)
    formed = rounds.form(AskedRounds(rounds=(PurchaseRound(name="R1", begins=first, weeks=4),), needed=3))
    ages = {s.home.home_id: s.age_years for s in front(place).standings()}
    known = [p for p in formed.rounds.purchases if ages[p.home_id]]
    two = min(known, key=lambda p: ages[p.home_id] or 0), max(known, key=lambda p: ages[p.home_id] or 0)
    codes = {h.home_id: code for h, code in front(place).sign_in_rights().issue_codes([p.home_id for p in two])}
    at = AppTest.from_file(str(APP), default_timeout=120).run()
    read = []
    for home in two:
        at.switch_page("resident/my_heater.py").run()
        if read:
            at.button(key="head.sign_out").click().run()
            at.switch_page("resident/my_heater.py").run()
        at.text_input(key="code.text").input(codes[home.home_id])
        at.button[-1].click().run()
        at.switch_page("resident/group_offer.py").run()
        assert errors(at) == []
        read.append(said(at))
        at.run()
        assert said(at) == read[-1]
        assert f"{round(home.price_usd):,}" in read[-1]
    verdicts = [[line for line in text.splitlines() if "cases the gain of replacing it now" in line] for text in read]
    assert verdicts[0]
    assert verdicts[1]
    assert verdicts[0] != verdicts[1]


def opened_home(place: Path, home_id: str) -> AppTest:
    """The app with one home opened by its code, on *My heater*."""
    ((_, code),) = front(place).sign_in_rights().issue_codes([home_id])
    at = AppTest.from_file(str(APP), default_timeout=120).run()
    at.switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    at.button[-1].click().run()
    assert errors(at) == []
    return at


def plainly(at: AppTest) -> str:
    """What a person reads, dollar signs as they are seen."""
    return said(at).replace("\\$", "$").replace("&#36;", "$")


def test_one_home_reads_the_same_price_and_verdict_on_every_page(place: Path, invented: Path) -> None:
    """My heater, Replace or wait, Buying together, the record on paper: one price, one verdict, one chance.

    The price of the group stands in the field already; an amount typed on one page counts on the other; the record's
    paper and My heater name neither price nor verdict, so they cannot differ.
    """
    rounds = with_bids(place, invented)
    first = front(place).today + timedelta(days=30)
    formed = rounds.form(AskedRounds(rounds=(PurchaseRound(name="R1", begins=first, weeks=4),), needed=3))
    homes = {s.home.home_id: s for s in front(place).standings()}
    bought = [p for p in formed.rounds.purchases if homes[p.home_id].age_years and not homes[p.home_id].comes_first]
    mine = max(bought, key=lambda p: homes[p.home_id].age_years or (0, 0, 0))
    at = opened_home(place, mine.home_id)
    verdicts = [texts("en")(f"decision-verdict-{v}") for v in Verdict if v is not Verdict.YOUR_CALL]
    (of_100,) = re.findall(r"Of 100 heaters like yours, about \*\*([\d.]+)\*\*", plainly(at))
    assert "$" not in plainly(at)
    at.switch_page("resident/replace_or_wait.py").run()
    decided = plainly(at)
    assert errors(at) == []
    assert at.number_input(key="decision.offer").value == mine.price_usd
    assert at.number_input(key="decision.planned_price_usd").value == mine.alone_usd
    assert f"Of 100 heaters like yours, about {of_100} fail" in decided
    verdict = next(line for line in decided.splitlines() if "The money" in line)
    assert f"${mine.price_usd:,.0f}" in verdict
    at.switch_page("resident/group_offer.py").run()
    offered = plainly(at)
    assert errors(at) == []
    assert verdict in offered.splitlines()
    assert f"Your full price would be about **${mine.price_usd:,.0f}**" in offered
    assert f"costs about ${mine.alone_usd:,.0f}" in offered
    # Their own price and their insurance, typed on one page, are weighed on the other.
    at.switch_page("resident/replace_or_wait.py").run()
    at.number_input(key="decision.planned_price_usd").set_value(mine.price_usd - 100).run()
    at.radio(key="decision.insured").set_value("yes").run()
    other = next(line for line in plainly(at).splitlines() if "The money" in line)
    assert other != verdict
    assert "$100 more than your own price" in other
    at.switch_page("resident/group_offer.py").run()
    assert other in plainly(at).splitlines()
    paper = record_pdf(front(place).one_home(mine.home_id).record(), texts("en"))
    shown = "".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(paper))
    assert homes[mine.home_id].home.address.split()[0] in shown
    assert "$" not in shown
    assert not [v for v in verdicts if v in shown]


@pytest.mark.parametrize("page", ["ask_for_bids", "bids_side_by_side", "form_rounds", "new_heaters"])
def test_a_visitor_is_not_let_in(place: Path, page: str) -> None:
    """Without signing in the pages of the purchase are not there."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    with pytest.raises(ValueError, match="Could not find a navigation page"):
        at.switch_page(f"committee/{page}.py")


def test_ten_years_are_played_for_the_committee(place: Path) -> None:
    """Each policy with its interval, a plot and a table; another discount plays again."""
    at = opened("ten_years")
    assert errors(at) == []
    text = said(at)
    assert text.count("than waiting") >= 4
    assert "What it rests on" in text
    assert "not the amounts of the community" not in text
    at.number_input(key="policies.discount").set_value(30)
    at.number_input(key="policies.planned_price_usd").set_value(2000.0)
    next(b for b in at.button if b.form_id == "policies").click().run()

    assert errors(at) == []
    assert "not the amounts of the community" in said(at)
    assert "gas 2,000 (over 55 gallons 2,600)" in said(at)
    assert "a group round 30% less" in said(at)
    at.selectbox(key="policies.measure").set_value("flooded").run()
    assert errors(at) == []


def test_a_bid_is_typed_by_hand_and_checked_like_a_sheet(place: Path) -> None:
    """Dollar signs are read; a bid without tank or price is not kept and says why."""
    at = opened("bids_side_by_side")
    at.text_input(key="bid.contractor").input("By Hand")
    at.text_input(key="bid.usd.0").input("$1,180.00")
    at.text_input(key="bid.from.1").input("10")
    at.text_input(key="bid.usd.1").input("1090")
    at.selectbox(key="bid.item.sales tax").set_value("extra")
    at.text_input(key="bid.extra.sales tax").input("70")
    next(b for b in at.button if b.form_id == "bid").click().run()
    assert errors(at) == []
    (bid,) = front(place).purchase_rounds().bids()

    assert [(s.from_homes, s.price_usd) for s in bid.steps] == [(1, 1180.0), (10, 1090.0)]
    assert bid.offer("sales tax").extra_usd == 70
    at.text_input(key="bid.contractor").input("No Price")
    at.text_input(key="bid.usd.0").input("-5")
    next(b for b in at.button if b.form_id == "bid").click().run()
    assert [b.contractor for b in front(place).purchase_rounds().bids()] == ["By Hand"]
    assert "need mending" in said(at)
