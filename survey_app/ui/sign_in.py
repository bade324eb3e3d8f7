"""Signing in with an account, by an invitation or by the organization's own sign-in, and naming the first account."""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

from survey_app.access import Actor, Role
from survey_app.survey import Doors, SignInRefused
from survey_app.ui import session
from survey_app.ui.literal import literal

__all__ = ["sign_in_form"]


def sign_in_form(form: str, role: Role) -> bool:
    """The fields to sign in; returns whether somebody has just come in by this door."""
    doors = session.doors()
    if doors.is_open_demo():
        st.info("This is the synthetic demo, so this door stands open.")
        if st.button("Step in", key=f"{form}.step_in", type="primary", width="stretch"):
            session.enter(doors.step_in(role))
            return True
        return False
    first = doors.needs_first_account()
    if first and role is not Role.VOLUNTEER:
        st.info("Nobody has set this survey up yet. The volunteer names the first account.")
        return False
    if first:
        st.info("Nobody has an account yet. Make the first one: it can do everything, so choose its password well.")
    code = ""
    with st.form(form, border=False):
        if first:
            code = st.text_input(
                "Set-up code: the terminal shows it where the app was started",
                key=f"{form}.set_up",
                max_chars=40,
                autocomplete="off",
            )
        name = st.text_input("Name", key=f"{form}.name", max_chars=100, autocomplete="username")
        password = st.text_input("Password", key=f"{form}.password", type="password", max_chars=200)
        sent = st.form_submit_button(
            "Make the first account" if first else "Sign in", type="primary", width="stretch", key=f"{form}.go"
        )
    if sent:
        now = session.now()
        if first:
            return _in(lambda: doors.create_first_account(code, name, password, now=now))
        return _in(lambda: doors.sign_in(name, password, now=now))
    return False if first else _organization(form, doors) or _invited(form, doors)


def _organization(form: str, doors: Doors) -> bool:
    """The organization's own sign-in, where the community has one."""
    if not session.can_ask_organization():
        return False
    found = session.vouched_for()
    if found is None:
        if st.button("Sign in with your organization", key=f"{form}.organization", width="stretch"):
            st.login()
        return False
    email, verified = found
    if st.button(f"Go on as {literal(email)}", key=f"{form}.organization.go", width="stretch"):
        return _in(lambda: doors.enter_by_email(email, verified=verified, now=session.now()))
    if st.button("Not you? Sign out of your organization", key=f"{form}.organization.out", width="stretch"):
        st.logout()
    return False


def _invited(form: str, doors: Doors) -> bool:
    """Making one's own account with an invitation."""
    with st.expander("I have an invitation"), st.form(f"{form}.invited", border=False):
        code = st.text_input("Its code", key=f"{form}.invited.code", max_chars=40, autocomplete="off")
        name = st.text_input("The name it was made for", key=f"{form}.invited.name", max_chars=100)
        password = st.text_input(
            "A password of your own, 12 characters or more", type="password", key=f"{form}.invited.new", max_chars=200
        )
        if st.form_submit_button("Make my account", width="stretch", key=f"{form}.invited.go"):
            return _in(lambda: doors.accept_invitation(code, name, password, now=session.now()))
    return False


def _in(way: Callable[[], Actor]) -> bool:
    try:
        who = way()
    except SignInRefused as refused:
        st.error(literal(refused))
        return False
    session.enter(who)
    return True
