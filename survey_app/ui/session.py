"""The only holder of session state: who is at this screen, what is on it, and the records it works with.

What several screens may share is made in :mod:`survey_app.ui.shared_pages`.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any, TypeVar

import streamlit as st

from survey_app.access import Actor, Role
from survey_app.errors import NotThere
from survey_app.store_place import data_place
from survey_app.survey import Doors, Survey, open_store
from survey_app.texts import ENGLISH, LANGUAGES, Texts, texts

if TYPE_CHECKING:
    from survey_app.forecast import LifeFit
    from survey_app.survey import OneHome, Store

__all__ = [
    "actor",
    "can_ask_organization",
    "clear_draft",
    "doors",
    "draft",
    "enter",
    "field",
    "go",
    "has_ended",
    "keep",
    "kept",
    "leave",
    "life_fit",
    "now",
    "of_this_home",
    "once",
    "one_home",
    "say",
    "speak",
    "state_of_data",
    "stay_in",
    "survey",
    "vouched_for",
    "where_to",
]

Made = TypeVar("Made")
_VISITOR = Actor(name="resident without code", role=Role.RESIDENT)


def now() -> datetime:
    """The moment of this run; two taps in one second keep their order."""
    return datetime.now()


@st.cache_resource(max_entries=4, show_spinner="Opening the records …")
def _store(place: str) -> Store:
    return open_store(place, now=now())


def store() -> Store:
    """The open records of the data folder."""
    return _store(str(data_place(os.environ)))


def doors() -> Doors:
    """Where people sign in; tries are counted by the address of the connection.

    Behind a web server on the same machine that address comes from its ``X-Forwarded-For``, which the server here
    believes from this machine alone.
    """
    address = st.context.ip_address
    return Doors(store(), source=address if isinstance(address, str) else "this machine")


def actor() -> Actor:
    """Who is at the screen: whoever signed in, or a visitor.

    A sign-in ends by its age, by a pause, and as soon as what let the person in is not what it was: a removed account,
    another password, a revoked code. All of it is kept on the server; a browser holds nothing that could be forged.
    """
    signed: Actor | None = st.session_state.get("actor")
    until: datetime | None = st.session_state.get("signed_in_until")
    seen: datetime | None = st.session_state.get("seen_at")
    if signed is None or until is None or seen is None:
        return _VISITOR
    idle = timedelta(minutes=Survey(store(), signed, now=now()).settings().idle_minutes)
    stamp = doors().stamp(signed)
    if now() >= until or now() - seen >= idle or not stamp or st.session_state.get("stamp") != stamp:
        leave()
        st.session_state["ended"] = True
        return _VISITOR
    st.session_state["seen_at"] = now()
    return signed


def has_ended() -> bool:
    """Whether a sign-in has ended by itself since this was last asked, so that the page can say so."""
    return bool(st.session_state.pop("ended", False))


def enter(who: Actor) -> None:
    """Remember who signed in; what somebody else signed in before had on the screen is forgotten."""
    if "actor" in st.session_state:
        _forget()
    st.session_state["actor"] = who
    hours = Survey(store(), who, now=now()).settings().session_hours
    st.session_state["signed_in_until"] = now() + timedelta(hours=hours)
    st.session_state["seen_at"] = now()
    st.session_state["stamp"] = doors().stamp(who)


def stay_in(who: Actor) -> None:
    """Let this screen stay signed in after its own person has changed the password; every other one is out."""
    st.session_state["stamp"] = doors().stamp(who)


def can_ask_organization() -> bool:
    """Whether the community has its own sign-in (OpenID Connect): ``[auth]`` in the app's secrets."""
    return st.secrets.load_if_toml_exists() and "auth" in st.secrets


def vouched_for() -> tuple[str, bool] | None:
    """The e-mail that the organization's own sign-in gives, and whether it is verified; None where nobody is."""
    if not can_ask_organization() or not st.user.is_logged_in:
        return None
    return str(st.user.get("email", "")), st.user.get("email_verified") is True


def leave() -> None:
    """Sign out and forget what was on the screen, but for the language; an organization's sign-in ends with it."""
    _forget()
    if vouched_for() is not None:
        st.logout()


def _forget() -> None:
    for key in [k for k in st.session_state if k != "language"]:
        del st.session_state[key]


def survey() -> Survey:
    """The survey as this person may use it."""
    return Survey(store(), actor(), now=now())


def say() -> Texts:
    """The words of the language chosen at this screen, else of the phone's own language where there is one."""
    chosen: str | None = st.session_state.get("language")
    if chosen is None:
        phone = (st.context.locale or "").partition("-")[0].lower()
        chosen = phone if phone in LANGUAGES else ENGLISH.language
    return texts(chosen)


def speak(language: str) -> None:
    """Choose the language of this screen."""
    st.session_state["language"] = language


def draft(form: str) -> dict[str, Any]:
    """What has been typed into a form and not yet sent."""
    found: dict[str, Any] = st.session_state.setdefault(f"draft.{form}", {})
    return found


def field(key: str) -> Any:
    """What a field holds before this run has drawn it (a pressed button: True); None where it was not on the screen."""
    return st.session_state.get(key)


def clear_draft(form: str) -> None:
    """Forget a form's draft and its fields."""
    for key in [k for k in st.session_state if str(k).startswith((f"draft.{form}", f"{form}."))]:
        del st.session_state[key]


def keep(name: str, value: Any) -> None:
    """Keep a result on the screen until it is replaced."""
    st.session_state[f"kept.{name}"] = value


def kept(name: str) -> Any:
    """A kept result, or None."""
    return st.session_state.get(f"kept.{name}")


def once(name: str, make: Callable[[], Made]) -> Made:
    """Something made once for this screen and used again by its later runs."""
    found: Made | None = st.session_state.get(f"once.{name}")
    if found is None:
        found = st.session_state[f"once.{name}"] = make()
    return found


def of_this_home(name: str, make: Callable[[], Made], *given: object) -> Made:
    """Something about the home that is open here, worked out once for this screen, this state of the data and `given`.

    It is kept with the screen and never shared: nobody is shown what was worked out for another home.
    """
    key = (actor().home_id, *state_of_data(survey()), *given)
    last: tuple[object, Made] | None = st.session_state.get(f"home.{name}")
    if last is None or last[0] != key:
        last = st.session_state[f"home.{name}"] = (key, make())
    return last[1]


_FIT_SERVES = timedelta(minutes=10)
"""A fit serves this long although answers come in: no home's odds change by one neighbor's answer."""


@st.cache_resource(max_entries=4)
def _fits(place: str) -> dict[str, tuple[int, datetime, LifeFit]]:
    """The latest fit of the lives of one data folder, for every screen of this server."""
    return {}


def one_home() -> OneHome:
    """The home that this person's code has opened."""
    who = actor()
    if who.home_id is None:
        raise NotThere(say()("door-open-first"))
    found = survey()
    return found.one_home(who.home_id, say=say(), fit=lambda: life_fit(found))


def life_fit(found: Survey) -> LifeFit:
    """What the answers say about lives: this server's latest fit, or a new one where that is too old."""
    fits, version, moment = _fits(str(data_place(os.environ))), found.state().data_version, now()
    last = fits.get("last")
    if last is None or (last[0] != version and not timedelta(0) <= moment - last[1] < _FIT_SERVES):
        with st.spinner(""):
            last = fits["last"] = (version, moment, found.life_fit())
    return last[2]


def state_of_data(found: Survey) -> tuple[str, int, str]:
    """What every result that is kept depends on besides whose view it is: the place, the data version, the day."""
    return str(data_place(os.environ)), found.state().data_version, str(found.today)


def go(page: str) -> None:
    """Go to another page after the doors have changed: the new pages are known from the next run on."""
    st.session_state["go_to"] = page
    st.rerun()


def where_to() -> str | None:
    """A page that was asked for while it was not yet open, once."""
    target: str | None = st.session_state.pop("go_to", None)
    return target
