"""Three doors."""

import streamlit as st

from survey_app.access import Role
from survey_app.ui import session

say = session.say()
st.title(say("welcome-title"))
# Three taps, in sight on a phone without scrolling; the way to help stands above them on every page.
st.page_link("resident/my_heater.py", label=say("welcome-letter"), icon=":material/mail:", width="stretch")
st.page_link("resident/answer_for_my_home.py", label=say("welcome-answer"), icon=":material/home:", width="stretch")
st.page_link("resident/something_is_wrong.py", label=say("welcome-wrong"), icon=":material/build:", width="stretch")
st.html(f'<div class="first">{say("welcome-gas")}<br>{say("welcome-water")}</div>')
st.markdown(say("welcome-lead"))
doors = session.doors()
if doors.is_open_demo():
    if st.button(say("welcome-demo-home"), key="welcome.home", width="stretch"):
        session.enter(doors.step_into_a_home())
        session.go("resident/my_heater.py")
    if st.button(say("welcome-demo-volunteer"), key="welcome.volunteer", width="stretch"):
        session.enter(doors.step_in(Role.VOLUNTEER))
        session.go("volunteer/what_waits.py")
    if st.button(say("welcome-demo-committee"), key="welcome.committee", width="stretch"):
        session.enter(doors.step_in(Role.COMMITTEE))
        session.go("committee/neighborhood_map.py")
else:
    st.page_link(
        "volunteer/volunteer_sign_in.py",
        label=say("welcome-volunteer"),
        icon=":material/checklist:",
        width="stretch",
    )
    st.page_link(
        "committee/committee_sign_in.py", label=say("welcome-committee"), icon=":material/map:", width="stretch"
    )
