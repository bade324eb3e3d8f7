"""Every public method of every front door, called by everybody: who gets in, who is refused, and what leaks.

A method that is new and not in the table fails here until somebody has said who may call it.
"""

from __future__ import annotations

import dataclasses
import importlib
import inspect
import pkgutil
from collections.abc import Callable, Mapping
from datetime import date, datetime, timedelta
from enum import Enum
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

import survey_app.survey as doors_of
from geo.parcels import read_parcels
from survey_app.access import Actor, NotAllowed, Role
from survey_app.csv_import import read_rows
from survey_app.purchase.bid_sheet import read_bids
from survey_app.purchase.households import PurchaseRound
from survey_app.purchase.plan import AskedRounds
from survey_app.records import AnswerChannel, HeaterKind, Interest, OfferReply, Symptom
from survey_app.response import Contacted
from survey_app.service_days import FLUSH, FLUSH_AND_ANODE, Asked
from survey_app.settings import Settings
from survey_app.survey import Doors, SignInRefused, Store, Survey, open_store
from survey_app.survey.answers import Answers
from survey_app.survey.change_log import ChangeLog
from survey_app.survey.context import Context
from survey_app.survey.differences import Differences
from survey_app.survey.figures import CommunityFigures
from survey_app.survey.foresight import Foresight
from survey_app.survey.one_home import OneHome
from survey_app.survey.paper_forms import PaperForms
from survey_app.survey.plates import Plates
from survey_app.survey.purchase_rounds import PurchaseRounds
from survey_app.survey.responses import Responses
from survey_app.survey.service_rounds import ServiceRounds
from survey_app.survey.set_up import SetUp
from survey_app.survey.sheets import Sheets
from survey_app.survey.sign_in_rights import SignInRights
from survey_app.survey.year_end import YearEnd

NOW = datetime(2026, 5, 2, 9, 30)
A_REPLY = OfferReply(home_id="", says=Interest.MAYBE, limit_usd=None, latest=None, at=NOW)
PASSWORD = "three unrelated words"
REACH, SAID = "zebra-4711@example.org", "quagga-0815 remark"


@dataclasses.dataclass(frozen=True)
class World:
    """A community to call methods on."""

    store: Store
    mine: str
    """The home whose code the resident holds. It said yes to everything, and left words and a way to reach it."""
    silent: str
    """A home that answered, left the same, and said no to everything."""
    plan_id: str
    invented: Path


@pytest.fixture(scope="module")
def world(demo_data: Path, invented: Path, tmp_path_factory: pytest.TempPathFactory) -> World:
    """A shut community with service days planned, rounds formed, and two homes whose words are looked for."""
    import shutil

    place = tmp_path_factory.mktemp("called") / "data"
    shutil.copytree(demo_data, place)
    store = open_store(place)
    survey = Survey(store, Actor(name="vera", role=Role.VOLUNTEER), now=NOW)
    survey.set_up().name_community("Fernhill (synthetic)", synthetic=True, open_doors=False)
    survey.sign_in_rights().create_account("vera", PASSWORD, Role.VOLUNTEER)
    standings = survey.standings()
    mine, silent = [s.home for s in standings if not s.answered][:2]
    for home, word in ((mine, "yes"), (silent, "no")):
        given = {
            "address": home.address,
            "kind": "gas storage",
            "installed": "2016",
            "tank_gallons": "50",
            "place": "garage",
            "last_flush": "never",
            "consent": "yes",
            "contact": REACH,
            "remarks": SAID,
        } | dict.fromkeys(("flush_day", "anode_day", "group_purchase"), word)
        assert survey.answers().submit(given, channel=AnswerChannel.PAPER, home_id=home.home_id).stored
    days = tuple(date(2026, 5, 11) + timedelta(days=i) for i in range(5))
    plan = survey.service_rounds().plan(Asked(job=FLUSH_AND_ANODE, dates=days, min_homes=2, iterations=100))
    rounds = survey.purchase_rounds()
    rounds.put_bids(read_bids(invented / "bids.csv", as_of=NOW.date()).bids)
    times = (PurchaseRound(name="R1", begins=NOW.date() + timedelta(days=40), weeks=4),)
    rounds.form(AskedRounds(rounds=times, needed=5))
    rounds.record_installed(silent.home_id, NOW.date(), kind=HeaterKind.GAS_STORAGE, gallons=50.0, warranty_years=6.0)
    return World(store=store, mine=mine.home_id, silent=silent.home_id, plan_id=plan.plan_id, invented=invented)


def actors(w: World) -> dict[str, Actor]:
    """Everybody: visitor, resident with the code of one home, committee, volunteer."""
    return {
        "visitor": Actor(name="nobody", role=Role.RESIDENT),
        "resident": Actor(name="rita", role=Role.RESIDENT, home_id=w.mine),
        "committee": Actor(name="carl", role=Role.COMMITTEE),
        "volunteer": Actor(name="vera", role=Role.VOLUNTEER),
    }


ALL = frozenset({"visitor", "resident", "committee", "volunteer"})
ANSWER = ALL - {"committee"}
HOME = frozenset({"resident", "volunteer"})
KNOWN = ALL - {"visitor"}
BOARD = frozenset({"committee", "volunteer"})
RUN = frozenset({"volunteer"})
NOBODY: frozenset[str] = frozenset()

Call = Callable[[Any, World], object]
Row = tuple[frozenset[str], Call]


def given(w: World) -> dict[str, str]:
    """A short answer."""
    home = next(h for h in w.store.homes() if h.home_id == w.mine)
    return {"address": home.address, "kind": "gas storage", "consent": "yes"}


SURVEY: Mapping[str, Row] = {
    "state": (ALL, lambda s, w: s.state()),
    "at_a_glance": (ALL, lambda s, w: s.at_a_glance()),
    "how_many": (ALL, lambda s, w: s.how_many()),
    "settings": (ALL, lambda s, w: s.settings()),
    "today": (ALL, lambda s, w: s.today),
    "home_address": (ALL, lambda s, w: s.home_address(w.mine)),
    "life_fit": (KNOWN, lambda s, w: s.life_fit()),
    "standings": (RUN, lambda s, w: s.standings()),
    # its parts: answering, for oneself or for a neighbor without a telephone
    "answers": (ANSWER, lambda s, w: s.answers()),
    "one_home": (HOME, lambda s, w: s.one_home(w.mine)),
    # figures
    "figures": (BOARD, lambda s, w: s.figures()),
    "foresight": (BOARD, lambda s, w: s.foresight()),
    "service_rounds": (BOARD, lambda s, w: s.service_rounds()),
    "purchase_rounds": (BOARD, lambda s, w: s.purchase_rounds()),
    # running it
    "responses": (RUN, lambda s, w: s.responses()),
    "sheets": (RUN, lambda s, w: s.sheets()),
    "paper_forms": (RUN, lambda s, w: s.paper_forms()),
    "plates": (RUN, lambda s, w: s.plates()),
    "change_log": (RUN, lambda s, w: s.change_log()),
    "year_end": (RUN, lambda s, w: s.year_end()),
    "differences": (RUN, lambda s, w: s.differences()),
    "set_up": (RUN, lambda s, w: s.set_up()),
    "sign_in_rights": (RUN, lambda s, w: s.sign_in_rights()),
}
FIGURES: Mapping[str, Row] = {
    "amounts": (BOARD, lambda f, w: f.amounts()),
    "published": (BOARD, lambda f, w: f.published()),
    "public_map": (BOARD, lambda f, w: f.public_map()),
    "policies": (BOARD, lambda f, w: f.policies(draws=20)),
    "board_report": (BOARD, lambda f, w: f.board_report()),
    "totals": (RUN, lambda f, w: f.totals()),
    "coverage": (RUN, lambda f, w: f.coverage()),
    "whole_map": (RUN, lambda f, w: f.whole_map()),
    "outlines": (RUN, lambda f, w: f.outlines()),
}
SET_UP: Mapping[str, Row] = {
    "load_parcels": (RUN, lambda s, w: s.load_parcels(read_parcels(w.invented / "parcels.geojson"))),
    "load_streets": (RUN, lambda s, w: s.load_streets([])),
    "name_community": (RUN, lambda s, w: s.name_community("Fernhill (synthetic)", synthetic=True)),
    "change_settings": (RUN, lambda s, w: s.change_settings(Settings())),
}
ANSWERS: Mapping[str, Row] = {
    "suggest": (ANSWER, lambda a, w: a.suggest("1")),
    "check_answer": (ANSWER, lambda a, w: a.check_answer(given(w), home_id=w.silent)),
    "submit": (ANSWER, lambda a, w: a.submit(given(w), channel=AnswerChannel.FORM, home_id=w.mine)),
    "doubtful": (RUN, lambda a, w: a.doubtful()),
    "accept": (RUN, lambda a, w: a.accept("no such answer", w.mine)),
    "set_aside": (RUN, lambda a, w: a.set_aside("no such answer")),
    "import_answers": (RUN, lambda a, w: a.import_answers(read_rows(w.invented / "answers.csv"))),
}
FORESIGHT: Mapping[str, Row] = {
    "forecast": (BOARD, lambda f, w: f.forecast()),
    "losses_map": (BOARD, lambda f, w: f.losses_map()),
    "look_back": (BOARD, lambda f, w: f.look_back(f.years_ago(2))),
    "years_ago": (BOARD, lambda f, w: f.years_ago(1)),
    "records_not_used": (RUN, lambda f, w: f.records_not_used()),
    "what_would_help": (RUN, lambda f, w: f.what_would_help()),
}
SHEETS: Mapping[str, Row] = {
    "numbers": (RUN, lambda s, w: s.numbers()),
    "number_anew": (RUN, lambda s, w: s.number_anew()),
}
PAPER: Mapping[str, Row] = {
    "waiting": (RUN, lambda p, w: p.waiting()),
    "find": (RUN, lambda p, w: p.find("1")),
    "read": (RUN, lambda p, w: p.read({"kind": "g"}, "1 Fern St")),
    "store": (RUN, lambda p, w: p.store(given(w), home_id=w.mine, overruled={}, answer_id="paper-1")),
}
PLATES: Mapping[str, Row] = {
    "waiting": (RUN, lambda p, w: p.waiting()),
    "photos": (RUN, lambda p, w: p.photos(w.mine)),
    "meanings": (RUN, lambda p, w: p.meanings(w.mine, "0610")),
    "put_reading": (RUN, lambda p, w: p.put_reading(w.mine, {"installed": "2016"}, answer_id="plate-1")),
    "cannot_be_read": (RUN, lambda p, w: p.cannot_be_read(w.mine)),
}
LOG: Mapping[str, Row] = {
    "entries": (RUN, lambda c, w: c.entries()),
    "acts": (RUN, lambda c, w: c.acts(limit=5)),
    "undo": (RUN, lambda c, w: c.undo(10_000_000)),
}
ONE_HOME: Mapping[str, Row] = {
    name: (HOME, call)
    for name, call in {
        "home": lambda h, w: h.home(),
        "today": lambda h, w: h.today(),
        "standing": lambda h, w: h.standing(),
        "latest_given": lambda h, w: h.latest_given(),
        "lives": lambda h, w: h.lives(),
        "odds": lambda h, w: h.odds(),
        "record": lambda h, w: h.record(),
        "export": lambda h, w: h.export(),
        "visits": lambda h, w: h.visits(),
        "confirm_visit": lambda h, w: h.confirm_visit("no such plan"),
        "cancel_visit": lambda h, w: h.cancel_visit("no such plan"),
        "offer": lambda h, w: h.offer(),
        "reply_to_offer": lambda h, w: h.reply_to_offer(Interest.MAYBE),
        "report_symptom": lambda h, w: h.report_symptom(Symptom.RUSTY_WATER),
        "settle": lambda h, w: h.settle(Symptom.RUSTY_WATER, on=h.today(), looked_at=True),
        "reports": lambda h, w: h.reports(),
        "take_back": lambda h, w: h.take_back("no such answer"),
        "taken_back": lambda h, w: h.taken_back(),
        "bring_back": lambda h, w: h.bring_back("no such answer"),
        "take_back_reply": lambda h, w: h.take_back_reply(),
        "put_back_reply": lambda h, w: h.put_back_reply(A_REPLY),
        "photos": lambda h, w: h.photos(),
        "add_photo": lambda h, w: h.add_photo(b"no photo"),
        "remove_photo": lambda h, w: h.remove_photo("no such photo"),
        "forget": lambda h, w: "called for another home alone",
    }.items()
}
SERVICE: Mapping[str, Row] = {
    name: (BOARD, call)
    for name, call in {
        "candidates": lambda r, w: r.candidates(FLUSH),
        "interested": lambda r, w: r.interested(FLUSH),
        "place_of": lambda r, w: r.place_of("no such street"),
        "plan": lambda r, w: r.plan(Asked(job=FLUSH, dates=(date(2026, 6, 1),), min_homes=2, iterations=20)),
        "change": lambda r, w: r.change(w.plan_id, r.get(w.plan_id).asked),
        "reorder": lambda r, w: r.reorder("no such plan", NOW.date(), 1, []),
        "confirm": lambda r, w: r.confirm(w.plan_id, [w.mine]),
        "plans": lambda r, w: r.plans(),
        "get": lambda r, w: r.get(w.plan_id),
        "papers": lambda r, w: r.papers(r.get(w.plan_id)),
        "map_of_days": lambda r, w: r.map_of_days(r.get(w.plan_id)),
        "close": lambda r, w: r.close(w.plan_id, []),
        "read_closings": lambda r, w: r.read_closings(w.plan_id, [{"home_id": w.silent, "outcome": "done"}]),
    }.items()
}
PURCHASE: Mapping[str, Row] = {
    **{
        name: (BOARD, call)
        for name, call in {
            "request": lambda r, w: r.request(),
            "bids": lambda r, w: r.bids(),
            "put_bids": lambda r, w: r.put_bids(r.bids()),
            "drop_bid": lambda r, w: r.drop_bid("no such contractor"),
            "compare": lambda r, w: r.compare(),
            "form": lambda r, w: r.form(r.latest().asked),
            "latest": lambda r, w: r.latest(),
            "interested": lambda r, w: r.interested(),
            "threshold": lambda r, w: r.threshold(5),
            "states": lambda r, w: r.states(),
            "buyers": lambda r, w: r.buyers(),
            "next_steps": lambda r, w: r.next_steps(),
            "addresses": lambda r, w: r.addresses([w.mine, "no such home"]),
            "record_installed": lambda r, w: r.record_installed(
                w.mine, NOW.date() + timedelta(days=9), kind=HeaterKind.GAS_STORAGE, gallons=50.0, warranty_years=6.0
            ),
            "undo_installed": lambda r, w: r.undo_installed("no such event"),
            "installed": lambda r, w: r.installed(),
            "kinds": lambda r, w: r.kinds(),
            "waiting_kinds": lambda r, w: r.waiting_kinds(),
        }.items()
    },
    # Nobody on the committee reads a household's offer or says yes for a neighbor; OneHome asks for its own.
    "offer": (RUN, lambda r, w: r.offer(w.mine, SimpleNamespace(heater=None))),
    "reply": (RUN, lambda r, w: r.reply(w.mine, Interest.YES, limit_usd=None, latest=None)),
    "take_back_reply": (RUN, lambda r, w: r.take_back_reply(w.mine)),
    "put_back_reply": (RUN, lambda r, w: r.put_back_reply(w.mine, A_REPLY)),
}
RESPONSES: Mapping[str, Row] = {
    name: (RUN, call)
    for name, call in {
        "dispositions": lambda r, w: r.dispositions(),
        "rates": lambda r, w: r.rates(),
        "by_phase": lambda r, w: r.by_phase(),
        "by_street": lambda r, w: r.by_street(),
        "over_time": lambda r, w: r.over_time(),
        "over_time_by_phase": lambda r, w: r.over_time_by_phase(),
        "early_and_late": lambda r, w: r.early_and_late(),
        "past_twice": lambda r, w: r.past_twice(),
        "late": lambda r, w: r.late(),
        "walk": lambda r, w: r.walk(),
        "note": lambda r, w: r.note("no such home", next(iter(Contacted)), on=NOW.date()),
    }.items()
}
DIFFERENCES: Mapping[str, Row] = {
    name: (RUN, call)
    for name, call in {
        "all": lambda d, w: d.all(),
        "keep": lambda d, w: d.keep("no such home", "no such answer"),
        "leave_both": lambda d, w: d.leave_both("no such home"),
        "look_again": lambda d, w: d.look_again("no such home"),
        "left_as_they_are": lambda d, w: d.left_as_they_are(),
        "set_aside": lambda d, w: d.set_aside("no such answer"),
        "set_aside_so_far": lambda d, w: d.set_aside_so_far(),
        "bring_back": lambda d, w: d.bring_back("no such answer"),
    }.items()
}
RIGHTS: Mapping[str, Row] = {
    name: (RUN, call)
    for name, call in {
        "accounts": lambda r, w: r.accounts(),
        "invitations": lambda r, w: r.invitations(),
        "invite": lambda r, w: r.invite("dora", Role.COMMITTEE),
        "withdraw": lambda r, w: r.withdraw("no such code"),
        "issue_codes": lambda r, w: r.issue_codes([w.mine]),
        "home_addresses": lambda r, w: r.home_addresses(),
        "create_account": lambda r, w: r.create_account("newer", PASSWORD, Role.COMMITTEE),
        "remove_account": lambda r, w: r.remove_account("nobody"),
        "revoke_codes": lambda r, w: r.revoke_codes([w.mine]),
        "without_code": lambda r, w: r.without_code(),
    }.items()
}
YEAR: Mapping[str, Row] = {
    name: (RUN, call)
    for name, call in {
        "note_backup": lambda y, w: y.note_backup("b.zip"),
        "content": lambda y, w: y.content(),
        "checklist": lambda y, w: y.checklist(),
        "too_old": lambda y, w: y.too_old(),
        "forget_too_old": lambda y, w: y.forget_too_old(),
    }.items()
}
TABLE: Mapping[type, tuple[Callable[[Context, World], object], Mapping[str, Row]]] = {
    Survey: (lambda c, w: Survey(c.store, c.actor, now=c.now), SURVEY),
    CommunityFigures: (lambda c, w: CommunityFigures(c), FIGURES),
    SetUp: (lambda c, w: SetUp(c), SET_UP),
    Answers: (lambda c, w: Answers(c), ANSWERS),
    Foresight: (lambda c, w: Foresight(c), FORESIGHT),
    Sheets: (lambda c, w: Sheets(c), SHEETS),
    PaperForms: (lambda c, w: PaperForms(c), PAPER),
    Plates: (lambda c, w: Plates(c), PLATES),
    ChangeLog: (lambda c, w: ChangeLog(c), LOG),
    OneHome: (lambda c, w: OneHome(c, w.mine), ONE_HOME),
    ServiceRounds: (lambda c, w: ServiceRounds(c), SERVICE),
    PurchaseRounds: (lambda c, w: PurchaseRounds(c), PURCHASE),
    Responses: (lambda c, w: Responses(c), RESPONSES),
    Differences: (lambda c, w: Differences(c), DIFFERENCES),
    SignInRights: (lambda c, w: SignInRights(c), RIGHTS),
    YearEnd: (lambda c, w: YearEnd(c), YEAR),
}
"""Each class is made directly, not by the front door's method: its own check must hold, too."""

DOORS: Mapping[str, Call] = {
    "needs_first_account": lambda d, w: d.needs_first_account(),
    "is_open_demo": lambda d, w: d.is_open_demo(),
    "set_up_code": lambda d, w: d.set_up_code(now=NOW),
    "create_first_account": lambda d, w: d.create_first_account("ABCD-EFGHJ-KMNPQ", "m", PASSWORD, now=NOW),
    "sign_in": lambda d, w: d.sign_in("vera", "a wrong password", now=NOW),
    "open_home": lambda d, w: d.open_home("ABCD-EFGHJ-KMNPQ", now=NOW),
    "accept_invitation": lambda d, w: d.accept_invitation("ABCD-EFGHJ-KMNPQ", "m", PASSWORD, now=NOW),
    "enter_by_email": lambda d, w: d.enter_by_email("m@example.org", verified=True, now=NOW),
    "change_password": lambda d, w: d.change_password(actors(w)["volunteer"], "wrong", "another long one", now=NOW),
    "stamp": lambda d, w: d.stamp(Actor(name="made up", role=Role.VOLUNTEER)),
    "step_in": lambda d, w: d.step_in(Role.VOLUNTEER),
    "step_into_a_home": lambda d, w: d.step_into_a_home(),
}
"""What somebody without any secret asks of the doors of a community that is no open demo."""


def public(of: type) -> set[str]:
    """The public methods and properties of a class."""
    return {name for name, _ in inspect.getmembers(of) if not name.startswith("_")}


@pytest.mark.parametrize("of", [*TABLE, Doors], ids=lambda c: c.__name__)
def test_every_public_method_stands_in_the_table(of: type) -> None:
    """A method that nobody has thought about fails here, and so does one that is gone."""
    assert public(of) == set(DOORS if of is Doors else TABLE[of][1])


def test_every_class_that_opens_the_records_stands_in_the_table() -> None:
    """All that `survey_app.survey` hands out, or holds in any module and makes of a context, stands in the table."""
    known = {*TABLE, Doors, Store, Context}
    for name in doors_of.__all__:
        thing = getattr(doors_of, name)
        if inspect.isclass(thing) and thing not in known:
            value = dataclasses.is_dataclass(thing) or issubclass(thing, (Enum, Exception))
            assert value, f"{name} is new: say in the table who may call it"
    parts = set()
    for found in pkgutil.iter_modules(doors_of.__path__, "survey_app.survey."):
        module = importlib.import_module(found.name)
        for thing in vars(module).values():
            if inspect.isclass(thing) and thing.__module__ == found.name:
                asks = inspect.signature(thing.__init__).parameters.values()
                parts |= {thing} if any("Context" in str(p.annotation) for p in asks) else set()
    assert parts == set(TABLE) - {Survey}


def called(make: Callable[[Context, World], object], call: Call, context: Context, w: World) -> tuple[bool, object]:
    """Whether somebody gets in, and what they are told; an error about what was asked means that they were in."""
    try:
        return True, call(make(context, w), w)
    except NotAllowed:
        return False, None
    except (LookupError, ValueError, SignInRefused) as error:
        return True, str(error)


def deep(value: object) -> str:
    """Everything in a value as text, arrays and nested records too."""
    if isinstance(value, np.ndarray):
        return " ".join(map(str, value.ravel())) if value.dtype.kind in "OUS" else ""
    if isinstance(value, Mapping):
        return " ".join(f"{deep(k)} {deep(v)}" for k, v in value.items())
    if isinstance(value, (list, tuple, set, frozenset)):
        return " ".join(map(deep, value))
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return " ".join(deep(getattr(value, f.name)) for f in dataclasses.fields(value))
    return value.decode("latin-1") if isinstance(value, bytes) else str(value)


MAY_NAME_IT = {"home_address", "suggest"}  # an address alone is public
ECHOES = {"read_closings"}  # says back the home id that was asked with, and nothing the records add to it
NO_PAGE_SHOWS_IT = {"life_fit"}  # what odds are worked out from: it names home ids, and no screen or file is made of it


@pytest.mark.parametrize("of", TABLE, ids=lambda c: c.__name__)
def test_everybody_gets_in_where_they_belong_and_nowhere_else(of: type, world: World) -> None:
    """Each method by each actor; a refusal writes nothing.

    What the committee is told holds no phone, no remark and no home that said no; what a visitor or a resident is told
    holds no neighbor.
    """
    make, rows = TABLE[of]
    address = next(h.address for h in world.store.homes() if h.home_id == world.silent)
    wrong = []
    for who, actor in actors(world).items():
        for name, (may, call) in rows.items():
            before = world.store.state().data_version
            got_in, told = called(make, call, Context(world.store, actor, NOW), world)
            if got_in != (who in may):
                wrong.append(f"{who} {'gets into' if got_in else 'is refused'} {of.__name__}.{name}")
            if not got_in and world.store.state().data_version != before:
                wrong.append(f"{of.__name__}.{name} refused {who} and wrote all the same")
            if who == "volunteer" or not got_in or name in NO_PAGE_SHOWS_IT:
                continue
            text = deep(told)
            if who != "resident":  # the resident's own words are theirs to read
                wrong += [f"{of.__name__}.{name} tells {who} {word}" for word in (REACH, SAID) if word in text]
            if name not in MAY_NAME_IT:
                secret = (address,) if name in ECHOES else (world.silent, address)
                found = [word for word in secret if word in text]
                wrong += [f"{of.__name__}.{name} tells {who} of {word}" for word in found]
    assert wrong == []


@pytest.mark.parametrize("name", [*ONE_HOME, "the class itself"])
def test_a_neighbor_visitor_and_committee_reach_nothing_of_another_home(name: str, world: World) -> None:
    """Another home's id in the place of one's own, whatever is asked of it."""
    for who, actor in actors(world).items():
        if who == "volunteer":
            continue
        survey, context = Survey(world.store, actor, now=NOW), Context(world.store, actor, NOW)
        for way in (lambda s=survey: s.one_home(world.silent), lambda c=context: OneHome(c, world.silent)):
            with pytest.raises(NotAllowed):
                ONE_HOME.get(name, (HOME, lambda h, w: h.forget()))[1](way(), world)
        for rounds in (ServiceRounds, PurchaseRounds):
            with pytest.raises(NotAllowed):
                rounds(context, for_home=world.silent)


def test_the_doors_give_nothing_to_somebody_without_a_secret(world: World) -> None:
    """Every method of the doors with made-up words: refused, or a plain no."""
    said = {}
    for name, call in DOORS.items():
        try:
            said[name] = call(Doors(world.store, source=f"for {name}"), world)
        except SignInRefused as refusal:
            said[name] = str(refusal)
        assert not isinstance(said[name], Actor), name
    plain = {k: said[k] for k in ("needs_first_account", "is_open_demo", "set_up_code", "stamp")}
    assert plain == {"needs_first_account": False, "is_open_demo": False, "set_up_code": None, "stamp": ""}
