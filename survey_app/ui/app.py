"""Entry of the app: finds out who is at the screen and shows that person's pages."""

import logging

import streamlit as st

from survey_app.access import NotAllowed, Role
from survey_app.survey import SignInRefused, UnusableData
from survey_app.ui import session, widgets

st.set_page_config(page_title="Water heater survey", layout="centered")
widgets.style()

DOORS = [st.Page("welcome.py", title="Start", default=True)]
RESIDENT = [
    st.Page("resident/answer_for_my_home.py", title="Tell us about your heater"),
    st.Page("resident/my_heater.py", title="My heater"),
]
VOLUNTEER_DOOR = [st.Page("volunteer/volunteer_sign_in.py", title="Volunteer: sign in")]
VOLUNTEER = [
    st.Page("volunteer/what_waits.py", title="Where the survey stands"),
    st.Page("volunteer/enter_paper.py", title="Enter a paper form"),
    st.Page("volunteer/import_sheet.py", title="Import a spreadsheet"),
    st.Page("volunteer/decide_addresses.py", title="Decide doubtful addresses"),
    st.Page("volunteer/whole_map.py", title="Map of every home"),
    st.Page("volunteer/home_list.py", title="List of every home"),
    st.Page("volunteer/answers_that_help.py", title="Answers that would help most"),
    st.Page("volunteer/set_up.py", title="Set up"),
]
COMMITTEE_DOOR = [st.Page("committee/committee_sign_in.py", title="Committee: sign in")]
COMMITTEE = [
    st.Page("committee/neighborhood_map.py", title="Neighborhood map"),
    st.Page("committee/neighborhood_figures.py", title="Figures"),
    st.Page("committee/foresee_losses.py", title="What we will lose"),
    st.Page("committee/forecast_against_facts.py", title="Was the forecast right?"),
]

try:
    who = session.actor()
    pages = {"": DOORS, "Resident": RESIDENT}
    if who.role is Role.VOLUNTEER:
        pages |= {"Volunteer": VOLUNTEER, "Committee": COMMITTEE}
    elif who.role is Role.COMMITTEE:
        pages |= {"Volunteer": VOLUNTEER_DOOR, "Committee": COMMITTEE}
    else:
        pages |= {"Volunteer": VOLUNTEER_DOOR, "Committee": COMMITTEE_DOOR}
    page = st.navigation(pages)
    if (target := session.where_to()) is not None:
        st.switch_page(target)
    widgets.page_head(session.survey(), who)
    page.run()
except (NotAllowed, SignInRefused, UnusableData, LookupError) as error:
    st.error(str(error.args[0]) if error.args else "That is not possible here.")
except Exception:
    # People get a sentence; the details go to the log of whoever runs the server.
    logging.getLogger("survey_app.ui").exception("page failed")
    st.error("Something went wrong on this page. Nothing that was stored is lost. Reload it, or tell the volunteer.")
