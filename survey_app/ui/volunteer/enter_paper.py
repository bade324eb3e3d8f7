"""Paper forms, typed in one after another, in the order of the letters or by address."""

import streamlit as st

from geo.addresses import readable
from survey_app.joins import JoinState
from survey_app.records import AnswerChannel
from survey_app.ui import session
from survey_app.ui.answer_form import answer_form
from survey_app.ui.literal import literal

st.title("Enter a paper form")
st.markdown("The questions come in the order of the form. Tab moves on, arrow keys choose, Enter sends.")
if (last := session.kept("paper")) is not None:
    st.success(f"Stored: {literal(last.checked.answer.address_as_typed)}.")
    if last.join.state is not JoinState.JOINED:
        st.info(f"It waits under “Decide doubtful addresses”: {literal(last.join.why)}")
survey = session.survey()
in_order = st.toggle("In the order of the letters: the next home without an answer comes by itself", key="paper.order")
home_id = None
if in_order:
    waiting = survey.homes_to_enter(after=session.kept("paper.after"))
    if not waiting:
        st.info("Every home has answered.")
        st.stop()
    names = {h.home_id: readable(h.address) for h in waiting}
    home_id = st.selectbox("Home", list(names), format_func=lambda k: names[k], key=f"paper.home.{len(waiting)}")
sent = answer_form(survey, AnswerChannel.PAPER, f"paper_form.{home_id}" if home_id else "paper_form", home_id=home_id)
if sent is not None:
    session.keep("paper", sent)
    session.keep("paper.after", home_id)
    st.rerun()
