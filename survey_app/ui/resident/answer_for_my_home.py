"""A resident's answer: which home, what stands there, sent."""

import streamlit as st

from survey_app.joins import JoinState
from survey_app.records import AnswerChannel
from survey_app.ui import session, widgets
from survey_app.ui.answer_form import answer_form
from survey_app.ui.literal import literal

say = session.say()
st.title(say("nav-answer"))
st.markdown(say("form-lead"))
if session.kept("sent") is None:
    sent = answer_form(session.survey(), AnswerChannel.FORM, "answer", home_id=session.actor().home_id)
    if sent is not None:
        session.keep("sent", sent)
if (result := session.kept("sent")) is not None:
    if result.checked.content is not None:
        widgets.show_first_things(result.checked.content.symptoms)
    st.success(say("form-thanks"))
    if result.join is not None and result.join.state is not JoinState.JOINED:
        st.info(say("form-address-waits", why=literal(result.join.why)))
    if result.standing is not None:
        st.markdown(f"**{say('form-by-what-you-told')}**")
        widgets.show_standing(result.standing)
        widgets.cautions()
    for note in result.checked.notes:
        st.markdown(f"- {literal(note.what)} {literal(note.remedy)}")
    if st.button(say("form-another"), key="answered.again"):
        session.keep("sent", None)
        st.rerun()
