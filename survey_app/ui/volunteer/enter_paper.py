"""Paper forms, typed in one after another."""

import streamlit as st

from survey_app.joins import JoinState
from survey_app.records import AnswerChannel
from survey_app.ui import session
from survey_app.ui.answer_form import answer_form

st.title("Enter a paper form")
st.markdown("The questions come in the order of the form. Tab moves on, arrow keys choose, Enter sends.")
if (last := session.kept("paper")) is not None:
    st.success(f"Stored: {last.checked.answer.address_as_typed}.")
    if last.join.state is not JoinState.JOINED:
        st.info(f"It waits under “Decide doubtful addresses”: {last.join.why}")
sent = answer_form(session.survey(), AnswerChannel.PAPER, "paper_form")
if sent is not None:
    session.keep("paper", sent)
    st.rerun()
