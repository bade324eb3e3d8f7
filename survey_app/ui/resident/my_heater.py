"""A resident's own home, opened with the private code from its letter."""

import streamlit as st

from geo.addresses import readable
from survey_app.survey import SignInRefused
from survey_app.ui import session, widgets

st.title("My heater")
who = session.actor()
if who.home_id is None:
    st.markdown("Your letter has a private code. It opens your home, and no other.")
    with st.form("code", border=False):
        code = st.text_input("Private code", key="code.text", placeholder="ABCD-EFGHJ-KMNPQ", max_chars=40)
        if st.form_submit_button("Open my home", type="primary", width="stretch"):
            try:
                session.enter(session.doors().open_home(code, now=session.now()))
                st.rerun()
            except SignInRefused as refused:
                st.error(str(refused))
    st.page_link(
        "resident/answer_for_my_home.py", label="No letter? Tell us about your heater without a code", width="stretch"
    )
else:
    survey = session.survey()
    st.markdown(f"### {readable(survey.home_address(who.home_id))}")
    widgets.show_standing(survey.standing_of(who.home_id))
    st.page_link("resident/answer_for_my_home.py", label="Answer, or correct an answer", width="stretch")
