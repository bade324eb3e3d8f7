"""Hostile words in every field, looked for on every page: nothing of them is markup, and no browser calls out.

A picture in Markdown makes the reader's browser fetch it, so a remark with one would tell a stranger when the volunteer
reads it, and from where (OWASP Cross Site Scripting Prevention Cheat Sheet: output is encoded for where it goes).
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
import streamlit as st
from google.protobuf.json_format import MessageToDict
from markdown_it import MarkdownIt
from streamlit.testing.v1 import AppTest

import survey_app.ui
from survey_app.access import Actor, Role
from survey_app.intake import question
from survey_app.purchase.bid_sheet import read_bids
from survey_app.purchase.households import PurchaseRound
from survey_app.purchase.plan import AskedRounds
from survey_app.records import AnswerChannel, HeaterKind, Phase
from survey_app.response import Contacted
from survey_app.service_days import FLUSH_AND_ANODE, Asked, Closing, Outcome
from survey_app.survey import Doors, Survey, open_store
from survey_app.texts import LANGUAGES, texts
from survey_app.ui.vent_pictures import vent_pictures

APP = Path(survey_app.ui.__file__).with_name("app.py")
OUT = "192.0.2.9"  # an address of documentation (RFC 5737): nobody's
BAD = f"![p](http://{OUT}/p.png) <img src=x onerror=alert(1)> :red[r] $y$ **b** `c` [l](javascript:alert(2))"
SHORT = f"![p](http://{OUT}/q) $y$ <b>"
PAGES = [
    *("volunteer/" + f.stem + ".py" for f in sorted(APP.parent.glob("volunteer/*.py"))),
    *("committee/" + f.stem + ".py" for f in sorted(APP.parent.glob("committee/*.py"))),
    *("resident/" + f.stem + ".py" for f in sorted(APP.parent.glob("resident/*.py"))),
]
DOORS = {"volunteer/volunteer_sign_in.py", "committee/committee_sign_in.py"}


@pytest.fixture(scope="module")
def poisoned(demo_data: Path, invented: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The community with hostile words wherever somebody can write some."""
    place = tmp_path_factory.mktemp("poisoned") / "data"
    shutil.copytree(demo_data, place)
    store = open_store(place)
    now = datetime.now()
    survey = Survey(store, Actor(name=f"vera {SHORT}", role=Role.VOLUNTEER), now=now)
    survey.set_up().name_community(f"Fernhill {SHORT}", synthetic=True, open_doors=True)
    poison_places(survey)
    mine = Doors(store).step_into_a_home().home_id
    told = [s.home for s in survey.standings() if s.answered and s.home.home_id != mine]
    for home in [*told[:3], next(h for h in store.homes() if h.home_id == mine)]:
        given = {
            **dict.fromkeys(("remarks", "contact", "maker_words", "symptoms_words"), BAD),
            "address": home.address,
            "kind": "gas storage",
            "consent": "yes",
            "place": "garage",
            **dict.fromkeys(("flush_day", "anode_day", "group_purchase"), "yes"),
        }
        for installed in ("2012", "2019"):
            sent = survey.answers().submit(
                {**given, "installed": installed},
                channel=AnswerChannel.PAPER,
                home_id=home.home_id,
                overruled=dict.fromkeys(("age", "installed", "house_year", "life"), SHORT),
            )
            assert sent.stored, sent.checked.blocking
    stranger = Survey(store, Actor(name=SHORT, role=Role.RESIDENT), now=now)
    for address in (BAD, f"12 {SHORT}", told[0].address):
        assert (
            stranger.answers()
            .submit({"address": address, "consent": "yes", "remarks": BAD, "contact": BAD}, channel=AnswerChannel.FORM)
            .stored
        )
    survey.differences().set_aside(store.answers(home_ids=[told[2].home_id])[0].answer.answer_id)
    survey.differences().leave_both(told[1].home_id)
    survey.sign_in_rights().create_account(f"carla {SHORT}", "three unrelated words", Role.COMMITTEE)
    survey.sign_in_rights().invite(f"dora {SHORT}", Role.VOLUNTEER)
    survey.responses().note(told[0].home_id, next(iter(Contacted)), on=survey.today, words=BAD)
    days = tuple(survey.today + timedelta(days=i) for i in range(1, 8))
    rounds = survey.service_rounds()
    plan = rounds.plan(Asked(job=FLUSH_AND_ANODE, dates=days, min_homes=2, iterations=50))
    nobody = [v.home_id for v in plan.visits][:2]
    closings = [Closing(home_id=h, outcome=Outcome.NOBODY_HOME, why=BAD, notes=BAD) for h in nobody]
    rounds.close(plan.plan_id, [*closings[:1], replace(closings[1], outcome=Outcome.DONE)])
    purchase = survey.purchase_rounds()
    bids = read_bids(invented / "bids.csv", as_of=date(2026, 5, 2)).bids
    until = survey.today + timedelta(days=300)
    purchase.put_bids([replace(b, contractor=f"{b.contractor} {SHORT}", valid_until=until) for b in bids])
    times = (PurchaseRound(name=f"R1 {SHORT}", begins=survey.today + timedelta(days=40), weeks=4),)
    formed = purchase.form(AskedRounds(rounds=times, needed=3))
    buyer = formed.rounds.purchases[0]
    purchase.record_installed(
        buyer.home_id,
        survey.today,
        kind=HeaterKind.GAS_STORAGE,
        gallons=50.0,
        warranty_years=6.0,
        contractor=buyer.contractor,
    )
    store.close()
    st.cache_data.clear()
    st.cache_resource.clear()
    return place


def poison_places(survey: Survey) -> None:
    """Streets, phases and addresses as a county's file could hold them, past every reader's care."""
    store = survey._context.store
    homes = store.homes()
    with store.writing(who="p", action="poison", at=survey.now) as write:
        write.put([Phase(**{**_fields(p), "phase_id": f"{p.phase_id} {SHORT}"}) for p in store.phases()])
        write.put(
            [
                replace(
                    h,
                    address=f"{h.address} {SHORT}",
                    street=f"{h.street} {SHORT}",
                    phase_id=f"{h.phase_id} {SHORT}" if h.phase_id else None,
                )
                for h in homes
            ]
        )


def _fields(value: Any) -> dict[str, Any]:
    return {name: getattr(value, name) for name in value.__dataclass_fields__}


@pytest.fixture
def place(poisoned: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The poisoned folder as the one that the app opens; what a page has worked out serves the next, as in the app."""
    monkeypatch.setenv("HEATER_SURVEY_DATA", str(poisoned))
    return poisoned


def opened(page: str) -> AppTest:
    """A page, with its person come in by the open demo's door."""
    at = AppTest.from_file(str(APP), default_timeout=120).run()
    role = page.split("/")[0]
    if page not in DOORS:
        at.button(key={"resident": "welcome.home"}.get(role, f"welcome.{role}")).click().run()
    return at.switch_page(page).run()


# ---- what a browser makes of it -------------------------------------------------------

_MARKDOWN = MarkdownIt("commonmark")
# What Streamlit shows as Markdown, by kind of element; of a kind that is not here every field with words counts.
# Options of select boxes, values of fields, tables drawn on a canvas, code and pages in frames of their own are words.
_SHOWN = {
    "markdown": ("body",),
    "alert": ("body",),
    "heading": ("body", "help"),
    "button": ("label", "help"),
    "checkbox": ("label", "help"),
    "radio": ("label", "help", "options", "captions"),
    "button_group": ("label", "help", "options"),
    "selectbox": ("label", "help"),
    "multiselect": ("label", "help"),
    "text_input": ("label", "help"),
    "number_input": ("label", "help"),
    "date_input": ("label", "help"),
    "time_input": ("label", "help"),
    "file_uploader": ("label", "help"),
    "download_button": ("label", "help"),
    "page_link": ("label", "help"),
    "progress": ("text",),
    "expandable": ("label",),
}
_ANY = ("body", "label", "help", "text", "options")
_NOT_MARKDOWN = {"code", "html", "iframe"}


def pieces(at: AppTest) -> Iterator[tuple[str, Any]]:
    """Every element and container on the screen, with its message."""
    waiting = [at._tree]
    while waiting:
        node = waiting.pop()
        waiting += list(getattr(node, "children", {}).values())
        yield str(node.type), getattr(node, "proto", None)


def strings(value: Any) -> Iterator[str]:
    """Every text in a message's content."""
    if isinstance(value, Mapping):
        for part in value.values():
            yield from strings(part)
    elif isinstance(value, list):
        for part in value:
            yield from strings(part)
    elif isinstance(value, str):
        yield value


def shown_as_markdown(at: AppTest) -> list[tuple[str, str]]:
    """Every text on the screen that Streamlit reads as Markdown, with the kind of its element."""
    found = []
    for kind, proto in pieces(at):
        if proto is None:
            continue
        content = MessageToDict(proto, preserving_proto_field_name=True)
        kind = "expandable" if "expandable" in content else kind
        for name in () if kind in _NOT_MARKDOWN else _SHOWN.get(kind, _ANY):
            part = content[kind].get(name) if kind == "expandable" else content.get(name)
            found += [(kind, text) for text in strings(part)]
    return found


def live(text: str) -> list[str]:
    """What in a Markdown text is alive: pictures, links to the hostile places, Streamlit's colors, formulas, bold."""
    alive = []
    for token in _MARKDOWN.parse(text):
        for inner in token.children or ():
            if inner.type == "image":
                alive.append(f"picture {inner.attrs.get('src')}")
            if inner.type == "link_open" and (OUT in str(inner.attrs) or "javascript" in str(inner.attrs)):
                alive.append(f"link {inner.attrs}")
    bare = text.replace("\\\\", "")
    for sign in ("$y$", ":red[", "**b**", "`c`"):
        at = bare.lower().find(sign)
        if at >= 0 and (at == 0 or bare[at - 1] != "\\"):
            alive.append(f"markup {sign}")
    return alive


_OUR_DRAWINGS = [vent_pictures(question("venting"), texts(language)) for language in LANGUAGES]
"""The drawings that the form itself shows, to the letter: anything else with a picture in it is somebody's."""


def lives_on(at: AppTest) -> list[str]:
    """Everything hostile that is alive on the screen."""
    found = []
    for kind, text in shown_as_markdown(at):
        found += [f"{kind}: {what} in {text[:150]!r}" for what in live(text)]
    for kind, proto in pieces(at):
        if kind == "html":
            body = str(proto.body)
            for ours in _OUR_DRAWINGS:
                body = body.replace(ours, "")
            body = body.lower()
            found += [f"html: {body[:150]}" for bad in ("<img", "alert(") if bad in body]
        if kind in ("arrow_table", "table"):
            found.append(f"{kind}: its cells are read as Markdown")
    return found


def test_the_measure_sees_what_is_alive() -> None:
    """The words as they are have a picture, a link, a color, a formula, bold and code; escaped they have none."""
    assert len(live(BAD)) >= 5
    assert live("all is well: $5 and a [page](https://example.org)") == []


@pytest.mark.parametrize("page", [p for p in PAGES if p not in DOORS])
def test_hostile_words_on_a_page_are_words(place: Path, page: str) -> None:
    """No picture, link, color, formula or tag of theirs is alive; the page opens."""
    at = opened(page)

    assert [e.message for e in at.exception] == []
    assert not [e.value for e in at.error if "went wrong" in e.value]
    assert at.title
    assert lives_on(at) == []


def test_the_pages_did_show_the_words(place: Path) -> None:
    """The test above is not empty: on the pages that name homes and people the words are there, as words."""
    for page in ("volunteer/decide_addresses.py", "volunteer/who_may_sign_in.py", "volunteer/settle_differences.py",
                 "volunteer/what_waits.py", "committee/form_rounds.py", "committee/close_a_day.py",
                 "committee/bids_side_by_side.py", "resident/my_record.py", "resident/my_heater.py"):  # fmt: skip
        shown = [text for _, text in shown_as_markdown(opened(page)) if OUT in text]
        assert len(shown) >= 2, page


# ---- what somebody brings as a file -------------------------------------------------------


def test_a_sheet_with_hostile_headers_names_and_cells_is_told_in_words(place: Path) -> None:
    """The file's name, a header nobody knows, a row that cannot be read: in notes, problems and the mend file."""
    at = opened("volunteer/import_sheet.py")
    sheet = f'address,kind,"{BAD}"\n"{BAD}",banana {SHORT},x\n"1 Nowhere {SHORT}",gas,y\n'
    at.file_uploader(key="import.file").upload(f"{SHORT.replace('/', '')}.csv", sheet.encode(), "text/csv").run()
    at.button(key="import.go").click().run()
    assert lives_on(at) == []
    assert any(OUT in text for _, text in shown_as_markdown(at)), "the unknown header is named"
    to_mend = [text for _, text in shown_as_markdown(at) if "**Row 2.**" in text]
    assert any(OUT in text for text in to_mend), "and so are the rows to mend"

    no_address = f'"{BAD}",other\n1,2\n'
    at.file_uploader(key="import.file").upload(f"{SHORT.replace('/', '')}.csv", no_address.encode(), "text/csv").run()
    at.button(key="import.go").click().run()
    assert any(OUT in e.value for e in at.error), "the refusal quotes the file"
    assert lives_on(at) == []


def test_hostile_bids_closings_and_parcels_are_told_in_words(place: Path) -> None:
    """A contractor's name, an item nobody knows, a home id, a parcel number: quoted, never alive."""
    at = opened("committee/bids_side_by_side.py")
    bids = f'contractor,item,answer,from homes,price\n"X {SHORT}",price step,,1,abc {SHORT}\n"X {SHORT}","{BAD}",,,\n'
    at.file_uploader(key="compare.file").upload("b.csv", bids.encode(), "text/csv").run()
    at.button(key="compare.take").click().run()
    assert lives_on(at) == []
    assert any(OUT in text for _, text in shown_as_markdown(at))

    at = opened("committee/close_a_day.py")
    rows = f'home_id,address,outcome\n"{SHORT}","{BAD}","{BAD}"\n'
    at.file_uploader(key="close.file").upload("d.csv", rows.encode(), "text/csv").run()
    at.button(key="close.go").click().run()
    assert any(OUT in e.value for e in at.warning)
    assert lives_on(at) == []

    at = opened("volunteer/set_up.py")
    square = [[[-100.0, 40.0], [-100.0, 40.001], [-99.999, 40.001], [-99.999, 40.0], [-100.0, 40.0]]]
    parcel = {
        "type": "Feature",
        "geometry": {"type": "Polygon", "coordinates": square},
        "properties": {"APN": f"P {SHORT}", "SITUS": f"12 {SHORT} ST", "SUBDIV": BAD, SHORT: "x"},
    }
    file = json.dumps({"type": "FeatureCollection", "features": [parcel]}).encode()
    at.file_uploader(key="setup.parcels").upload("p.geojson", file, "application/json").run()
    at.button(key="setup.parcels.go").click().run()
    assert [e.message for e in at.exception] == []
    assert lives_on(at) == []


def test_what_a_stranger_types_at_a_door_or_in_the_form_is_said_back_in_words(place: Path) -> None:
    """A name at the door, an answer that cannot be read, an address that is none of ours."""
    at = opened("resident/answer_for_my_home.py")
    at.button(key="head.sign_out").click().run()
    at.switch_page("resident/answer_for_my_home.py").run()
    at.text_input(key="answer.address_typed").input(f"1 {BAD}").run()
    at.radio(key="answer.address_pick").set_value(at.radio(key="answer.address_pick").options[-1]).run()
    for field in [f for f in at.text_input if str(f.key).startswith("answer.") and f.key != "answer.address_typed"]:
        field.input(BAD)
    next(b for b in at.button if b.label == "Send").click().run()
    assert [e.message for e in at.exception] == []
    assert lives_on(at) == []
    assert any(OUT in text for _, text in shown_as_markdown(at)), "what cannot be read is quoted"
