"""Signing in with an account, and naming the first one."""

from __future__ import annotations

import streamlit as st

from survey_app.access import Role
from survey_app.survey import SignInRefused
from survey_app.ui import session

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
    with st.form(form, border=False):
        name = st.text_input("Name", key=f"{form}.name", max_chars=100, autocomplete="username")
        password = st.text_input("Password", key=f"{form}.password", type="password", max_chars=200)
        if not st.form_submit_button("Make the first account" if first else "Sign in", type="primary", width="stretch"):
            return False
    try:
        now = session.now()
        who = doors.create_first_account(name, password, now=now) if first else doors.sign_in(name, password, now=now)
    except SignInRefused as refused:
        st.error(str(refused))
        return False
    session.enter(who)
    return True
