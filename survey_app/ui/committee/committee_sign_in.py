"""The committee's door."""

import streamlit as st

from survey_app.access import Role
from survey_app.ui import session
from survey_app.ui.sign_in import sign_in_form

st.title("Committee")
if sign_in_form("committee", Role.COMMITTEE):
    session.go("committee/neighborhood_map.py")
