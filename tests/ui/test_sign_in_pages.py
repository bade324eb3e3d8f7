"""Signing in on the screen: sessions end when they should, nothing a browser sends makes one, invitations work."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from types import SimpleNamespace

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

import survey_app.ui
from geo.addresses import readable
from survey_app.access import Actor, Role
from survey_app.survey import Survey, open_store
from survey_app.ui import session

APP = Path(survey_app.ui.__file__).with_name("app.py")
PASSWORD = "three unrelated words"


@pytest.fixture
def place(data: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A community whose doors are shut, with a volunteer and a committee member."""
    monkeypatch.setenv("HEATER_SURVEY_DATA", str(data))
    st.cache_data.clear()
    st.cache_resource.clear()
    survey = front(data)
    survey.set_up().name_community("Fernhill (synthetic)", synthetic=True, open_doors=False)
    survey.sign_in_rights().create_account("vera", PASSWORD, Role.VOLUNTEER)
    survey.sign_in_rights().create_account("carla", PASSWORD, Role.COMMITTEE)
    return data


def front(place: Path) -> Survey:
    """The records as a volunteer sees them."""
    return Survey(open_store(place), Actor(name="helper", role=Role.VOLUNTEER), now=datetime.now())


def signed_in(name: str = "vera", door: str = "volunteer") -> AppTest:
    """The app with somebody signed in by name and password."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.switch_page(f"{door}/{door}_sign_in.py").run()
    at.text_input(key=f"{door}.name").input(name)
    at.text_input(key=f"{door}.password").input(PASSWORD)
    at.button(key=f"{door}.go").click().run()
    assert said_wrong(at) == []
    return at


def said_wrong(at: AppTest) -> list[str]:
    """What went wrong on the page."""
    return [e.value for e in at.error] + [e.message for e in at.exception]


def is_inside(at: AppTest) -> bool:
    """Whether somebody is signed in at this screen, as its next run sees it."""
    at.run()
    return any(b.key == "head.sign_out" for b in at.button)


def shift(monkeypatch: pytest.MonkeyPatch, by: timedelta) -> None:
    """Let time pass."""
    monkeypatch.setattr(session, "now", lambda: datetime.now() + by)


def test_a_sign_in_ends_after_a_pause_and_after_its_whole_time(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Thirty minutes without a touch end it; touched every twenty minutes it lasts twelve hours and no longer."""
    at = signed_in()
    assert is_inside(at)
    shift(monkeypatch, timedelta(minutes=31))
    assert not is_inside(at)

    shift(monkeypatch, timedelta())
    at = signed_in()
    for minutes in range(20, 12 * 60, 20):
        shift(monkeypatch, timedelta(minutes=minutes))
        assert is_inside(at)
    shift(monkeypatch, timedelta(hours=12, minutes=1))
    assert not is_inside(at)


def test_a_removed_account_is_out_at_its_next_touch(place: Path) -> None:
    """No page of the committee opens after the volunteer has removed the account."""
    at = signed_in("carla", "committee")
    assert is_inside(at)
    front(place).sign_in_rights().remove_account("carla")
    assert not is_inside(at)
    with pytest.raises(ValueError, match="Could not find"):
        at.switch_page("committee/neighborhood_map.py")


def test_a_revoked_code_closes_the_home_that_it_had_opened(place: Path) -> None:
    """The screen that a code had opened shows the home no more, and the code does not open it again."""
    ((home, code),) = front(place).sign_in_rights().issue_codes([open_store(place).homes()[0].home_id])
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    next(b for b in at.button if "code" in str(b.form_id)).click().run()
    assert is_inside(at)
    front(place).sign_in_rights().revoke_codes([home.home_id])
    assert not is_inside(at)
    at.text_input(key="code.text").input(code)
    next(b for b in at.button if "code" in str(b.form_id)).click().run()
    assert any("not known" in e.value for e in at.error)


@pytest.mark.parametrize(
    "query",
    [
        {"actor": "volunteer"},
        {"home_id": "R-1", "home": "R-2"},
        {"code": "ABCD-EFGHJ-KMNPQ"},
        {"signed_in_until": "2999-01-01", "stamp": "", "role": "volunteer"},
    ],
)
def test_nothing_in_the_address_bar_opens_a_door(place: Path, query: dict[str, str]) -> None:
    """Parameters that look like a sign-in are not read: a visitor stays a visitor."""
    at = AppTest.from_file(str(APP), default_timeout=60)
    for key, value in query.items():
        at.query_params[key] = value
    at.run()
    assert not is_inside(at)
    with pytest.raises(ValueError, match="Could not find"):
        at.switch_page("volunteer/home_list.py")


def test_a_made_up_sign_in_without_its_mark_is_thrown_out(place: Path) -> None:
    """Even an actor put into the session's memory is refused where the mark of a real account is missing."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.session_state["actor"] = Actor(name="vera", role=Role.VOLUNTEER)
    at.session_state["signed_in_until"] = datetime(2999, 1, 1)
    at.session_state["seen_at"] = datetime.now()
    at.session_state["stamp"] = "0" * 64
    assert not is_inside(at)


def test_a_volunteer_invites_and_the_invited_person_comes_in(place: Path) -> None:
    """The code is shown once, makes the account at the door, and is gone."""
    at = signed_in()
    at.switch_page("volunteer/who_may_sign_in.py").run()
    at.text_input(key="invite.name").input("dora")
    at.button(key="invite.go").click().run()
    assert said_wrong(at) == []
    code = at.get("code")[0].value
    at.button(key="invite.done").click().run()
    assert not at.get("code")

    guest = AppTest.from_file(str(APP), default_timeout=60).run()
    guest.switch_page("committee/committee_sign_in.py").run()
    guest.text_input(key="committee.invited.code").input(code)
    guest.text_input(key="committee.invited.name").input("dora")
    guest.text_input(key="committee.invited.new").input("five very unrelated words")
    guest.button(key="committee.invited.go").click().run()
    assert said_wrong(guest) == []
    assert is_inside(guest)
    assert ("dora", "committee") in open_store(place).account_names()


def test_the_volunteer_withdraws_removes_and_revokes_on_the_page(place: Path) -> None:
    """Each button does what it says, and the last volunteer cannot be removed."""
    ((home, _),) = front(place).sign_in_rights().issue_codes([open_store(place).homes()[0].home_id])
    front(place).sign_in_rights().invite("dora", Role.COMMITTEE)
    at = signed_in()
    at.switch_page("volunteer/who_may_sign_in.py").run()
    assert any("1 of 120 homes" in m.value for m in at.markdown)
    next(b for b in at.button if str(b.key).startswith("invite.withdraw.")).click().run()
    assert front(place).sign_in_rights().invitations() == []
    at.selectbox(key="accounts.gone").select("carla").run()
    at.button(key="accounts.remove").click().run()
    assert open_store(place).account_names() == [("vera", "volunteer")]
    box = at.multiselect(key="codes.lost")
    box.select(box.options[0]).run()
    at.button(key="codes.revoke").click().run()
    assert said_wrong(at) == []
    assert home.home_id in front(place).sign_in_rights().without_code()


def test_the_organizations_sign_in_is_there_only_where_it_is_set_up(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By default there is no such button; with [auth] there is, and a verified e-mail with an account comes in."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.switch_page("volunteer/volunteer_sign_in.py").run()
    assert not [b for b in at.button if "organization" in str(b.key)]

    front(place).sign_in_rights().invite("dora@example.org", Role.VOLUNTEER)
    monkeypatch.setattr(session, "can_ask_organization", lambda: True)
    out: list[bool] = []
    monkeypatch.setattr(st, "logout", lambda: out.append(True))
    person = SimpleNamespace(is_logged_in=True, get=lambda key, default=None: told.get(key, default))
    monkeypatch.setattr(st, "user", person)
    told: dict[str, object] = {"email": "dora@example.org", "email_verified": "true"}
    at.run()
    at.button(key="volunteer.organization.go").click().run()
    assert any("vouch" in e.value for e in at.error), "a text is not a yes"
    told["email_verified"] = True
    at.button(key="volunteer.organization.go").click().run()
    assert said_wrong(at) == []
    assert is_inside(at)
    at.button(key="head.sign_out").click().run()
    assert out == [True]


def test_the_volunteer_hands_over_on_the_page(place: Path) -> None:
    """The list shows what is left; the archive is made on a word and handed out."""
    at = signed_in()
    at.switch_page("volunteer/hand_over.py").run()
    assert said_wrong(at) == []
    assert any("Still to do" in m.value for m in at.markdown)
    at.button(key="hand.archive").click().run()
    assert said_wrong(at) == []
    labels = {str(b.proto.label) for b in at.get("download_button")}
    assert any(label.startswith("Get survey_") for label in labels)


def test_a_homes_request_is_answered_on_the_page(place: Path) -> None:
    """Its data are handed out, its code revoked, its data deleted only after a word that one is sure."""
    survey = front(place)
    home = next(s.home for s in survey.standings() if s.answered)
    survey.sign_in_rights().issue_codes([home.home_id])
    at = signed_in()
    at.switch_page("volunteer/homes_request.py").run()
    at.selectbox(key="request.home").select(readable(home.address)).run()
    assert said_wrong(at) == []
    assert at.button(key="request.delete").disabled
    at.button(key="request.revoke").click().run()
    assert home.home_id in survey.sign_in_rights().without_code()
    at.checkbox(key="request.sure").check().run()
    at.button(key="request.delete").click().run()
    assert said_wrong(at) == []
    assert open_store(place).answers(home_ids=[home.home_id]) == []


def test_anybody_with_an_account_changes_their_password_and_stays(place: Path) -> None:
    """A slip, a wrong old one and a weak new one are refused; this screen stays signed in, another one does not."""
    other = signed_in("carla", "committee")
    at = signed_in("carla", "committee")
    at.switch_page("committee/my_password.py").run()
    for old, new, again, told in (
        (PASSWORD, "four other unrelated words", "four other words", "differ"),
        ("wrong", "four other unrelated words", "four other unrelated words", "another one"),
        (PASSWORD, "short", "short", "12 characters"),
    ):
        at.text_input(key="password.old").input(old)
        at.text_input(key="password.new").input(new)
        at.text_input(key="password.again").input(again)
        at.button(key="password.go").click().run()
        assert any(told in e.value for e in at.error), told
    at.text_input(key="password.old").input(PASSWORD)
    at.text_input(key="password.new").input("four other unrelated words")
    at.text_input(key="password.again").input("four other unrelated words")
    at.button(key="password.go").click().run()
    assert said_wrong(at) == []
    assert is_inside(at)
    assert not is_inside(other)
