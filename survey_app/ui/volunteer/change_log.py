"""Who did what and when, newest first, with the way back."""

import streamlit as st

from geo.addresses import readable
from survey_app.survey.change_log import CannotUndo
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

SHOWN = 60

st.title("Change log")
survey = session.survey()
log = survey.change_log()
st.markdown(
    "Every change of the records, newest first. Undoing puts back what was there before, and is itself an entry that "
    "can be undone. Answers whose coming in is undone are set aside, never deleted."
)
widgets.told("log")
addresses = {readable(a): k for k, a in survey.sign_in_rights().home_addresses().items()}
only = st.selectbox("Only about", sorted(addresses), index=None, placeholder="Any home", key="log.home")
acts = log.acts(limit=SHOWN, home_id=addresses[only] if only else None)
if not acts:
    st.info("Nothing has been changed yet.")
    st.stop()
widgets.show_rows(
    [
        {"no.": a.act_id, "did": a.action, "what": a.what, "when": f"{a.at:%d %b %Y, %H:%M}", "who": a.who}
        | {"homes": "; ".join(readable(x) for x in a.addresses)}
        for a in acts
    ]
)
if len(acts) == SHOWN:
    st.markdown(f"The newest {SHOWN}. Older ones: choose a home, or see the archive's list of changes.")
st.header("Undo")
by_number = {a.act_id: a for a in acts}
number = st.selectbox(
    "Entry",
    list(by_number),
    format_func=lambda k: f"{k}: {by_number[k].action}, {by_number[k].who}, {by_number[k].at:%d %b %Y, %H:%M}",
    key=f"log.act.{session.kept('log.turn') or 0}",
    index=None,
    placeholder="Choose an entry",
)
if number is None:
    st.stop()
act = by_number[number]
st.markdown(literal(f"{act.action}. {act.what}. {'; '.join(readable(x) for x in act.addresses)}"))
if act.why_not:
    st.info(act.why_not)
elif st.button("Undo this", type="primary", key=f"log.undo.{number}"):
    try:
        log.undo(number)
    except CannotUndo as reason:
        st.error(literal(reason))
    else:
        # Another field each time, so that none still names what is undone: a second tap on it could only fail.
        session.keep("log.turn", (session.kept("log.turn") or 0) + 1)
        widgets.tell("log", f"Taken back: {literal(act.action)} of {act.at:%d %b %Y, %H:%M}.")
