"""The volunteer's door."""

import streamlit as st

from survey_app.access import Role
from survey_app.ui import session
from survey_app.ui.sign_in import sign_in_form

st.title("Volunteer")
if sign_in_form("volunteer", Role.VOLUNTEER):
    session.go("volunteer/what_waits.py")
