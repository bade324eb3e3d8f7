"""Paper forms, typed in one after another by keyboard alone, in the order of the sheets or by number, code, address."""

import streamlit as st

from survey_app.joins import JoinState
from survey_app.ui import paper_entry, session, widgets
from survey_app.ui.literal import literal

widgets.wide()
st.title("Enter a paper form")
widgets.need_homes(session.survey())
if (last := session.kept("paper")) is not None:
    st.success(f"Stored: {literal(last.checked.answer.address_as_typed)}.")
    if last.join.state is not JoinState.JOINED:
        st.info(f"It waits under “Decide doubtful addresses”: {literal(last.join.why)}")
st.markdown(
    "Type the letter in the box that is ticked, and the next question comes by itself. Tab goes on after what is "
    "written, and over what is blank; Shift and Tab go back; / does for ?. **Enter stores the form** and "
    "goes on to the next sheet."
)
turn = session.kept("paper.turn") or 0
named = paper_entry.which_home(session.survey(), turn, after=session.kept("paper.after"))
if named is None:
    st.stop()
sent = paper_entry.paper_form(session.survey(), turn, named)
if sent is not None:
    session.keep("paper", sent)
    session.keep("paper.after", named.home_id or session.kept("paper.after"))
    session.keep("paper.turn", turn + 1)
    st.rerun()
