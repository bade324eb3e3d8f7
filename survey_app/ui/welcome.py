"""Three doors."""

import streamlit as st

from survey_app.access import Role
from survey_app.ui import session

st.title("How old is your water heater?")
st.markdown(
    "Most heaters here went in together and are growing old together. This survey finds out which ones are past their "
    "warranty, so that neighbors can have them looked after, or replaced, before they leak."
)
st.html(
    '<div class="first"><b>Smell gas?</b> Leave now, and call the gas utility or the emergency number from outside.<br>'
    "<b>Water on the floor?</b> Close the cold water at the heater or at the house main. Shut off the gas at the "
    "heater, or the breaker if it is electric. The water can be scalding. Everything else can wait.</div>"
)
st.page_link(
    "resident/answer_for_my_home.py",
    label="**I live here.** Tell us about my heater: three minutes",
    icon=":material/home:",
    width="stretch",
)
st.page_link(
    "resident/my_heater.py",
    label="**I live here and have a letter.** See how my heater stands",
    icon=":material/mail:",
    width="stretch",
)
doors = session.doors()
if doors.is_open_demo():
    if st.button("Open the volunteer's door (demo: no password)", key="welcome.volunteer", width="stretch"):
        session.enter(doors.step_in(Role.VOLUNTEER))
        session.go("volunteer/what_waits.py")
    if st.button("Open the committee's door (demo: no password)", key="welcome.committee", width="stretch"):
        session.enter(doors.step_in(Role.COMMITTEE))
        session.go("committee/neighborhood_map.py")
else:
    st.page_link(
        "volunteer/volunteer_sign_in.py",
        label="**I run the survey** (volunteer)",
        icon=":material/checklist:",
        width="stretch",
    )
    st.page_link(
        "committee/committee_sign_in.py", label="**I am on the committee**", icon=":material/map:", width="stretch"
    )
