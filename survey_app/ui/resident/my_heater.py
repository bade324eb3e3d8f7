"""A resident's own home, opened with the private code from its letter."""

import streamlit as st

from geo.addresses import readable
from survey_app.survey import SignInRefused
from survey_app.ui import session, widgets
from survey_app.ui.leak_contacts import contact_line
from survey_app.ui.literal import literal
from survey_app.ui.reported_here import show_reported

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
                st.error(say(refused.key) if refused.key else literal(refused))
    st.markdown(say("door-stay"))
    st.markdown(f"**{say('door-lost-letter')}**")
    if volunteer := session.survey().settings().contacts.volunteer:
        st.html(f'<p class="calls">{say("leaking-call-volunteer")}: {contact_line(volunteer)}</p>')
    st.page_link("resident/answer_for_my_home.py", label=say("door-no-letter"), width="stretch")
else:
    home = session.one_home()
    found = home.standing()
    st.header(literal(readable(home.home().address)))
    show_reported(found, home)
    st.markdown(say("door-stay"))
    widgets.show_visits(home)
    widgets.show_standing(found)
    if found.heater is None:
        st.page_link("resident/answer_for_my_home.py", label=f"**{say('door-answer-new')}**", width="stretch")
    odds = home.odds()
    if odds is not None:
        widgets.show_odds(odds)
    elif found.heater is not None and found.age_years is None:
        st.markdown(say("odds-none"))
    st.page_link("resident/replace_or_wait.py", label=say("door-decide"), width="stretch")
    st.page_link("resident/group_offer.py", label=say("door-offer"), width="stretch")
    st.page_link("resident/my_record.py", label=say("door-record"), width="stretch")
    if found.heater is not None:
        st.page_link("resident/answer_for_my_home.py", label=say("door-answer"), width="stretch")
    widgets.cautions()
