"""A resident's own home, opened with the private code from its letter."""

import streamlit as st

from geo.addresses import readable
from survey_app.survey import SignInRefused
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

say = session.say()
st.title(say("door-my-heater-title"))
who = session.actor()
if who.home_id is None:
    st.markdown(say("door-code-help"))
    with st.form("code", border=False):
        code = st.text_input(say("door-code"), key="code.text", placeholder="ABCD-EFGHJ-KMNPQ", max_chars=40)
        if st.form_submit_button(say("door-code-open"), type="primary", width="stretch"):
            try:
                session.enter(session.doors().open_home(code, now=session.now()))
                st.rerun()
            except SignInRefused as refused:
                st.error(literal(refused))
    st.page_link("resident/answer_for_my_home.py", label=say("door-no-letter"), width="stretch")
else:
    home = session.one_home()
    st.markdown(f"### {literal(readable(home.home().address))}")
    widgets.show_visits(home)
    widgets.show_standing(home.standing())
    odds = home.odds()
    if odds is not None:
        widgets.show_odds(odds)
    elif home.standing().heater is not None and home.standing().age_years is None:
        st.markdown(say("odds-none"))
    st.page_link("resident/replace_or_wait.py", label=say("door-decide"), width="stretch")
    st.page_link("resident/group_offer.py", label=say("door-offer"), width="stretch")
    st.page_link("resident/my_record.py", label=say("door-record"), width="stretch")
    st.page_link("resident/answer_for_my_home.py", label=say("door-answer"), width="stretch")
    widgets.cautions()
