"""A resident's answer: which home, what stands there, sent."""

import streamlit as st

from survey_app.joins import JoinState
from survey_app.records import AnswerChannel
from survey_app.ui import session, widgets
from survey_app.ui.answer_form import answer_form

st.title("Tell us about your heater")
st.markdown(
    "Three minutes, standing in front of it. **Not sure is a good answer**, and everything but the address may stay "
    "open. Your answers are seen by the volunteer who runs the survey; the neighbors and the committee see only "
    "figures for many homes together."
)
if session.kept("sent") is None:
    sent = answer_form(session.survey(), AnswerChannel.FORM, "answer", home_id=session.actor().home_id)
    if sent is not None:
        session.keep("sent", sent)
        st.rerun()
else:
    result = session.kept("sent")
    if result.checked.content is not None:
        widgets.show_first_things(result.checked.content.symptoms)
    st.success("Thank you. Your answer is stored.")
    if result.join is not None and result.join.state is not JoinState.JOINED:
        st.info(f"The volunteer will look at the address: {result.join.why}")
    if result.standing is not None:
        st.markdown("**By what you told us:**")
        widgets.show_standing(result.standing)
    for note in result.checked.notes:
        st.markdown(f"- {note.what} {note.remedy}")
    if st.button("Answer for another home", key="answered.again"):
        session.keep("sent", None)
        st.rerun()
