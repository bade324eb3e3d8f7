"""A home asks by telephone or letter: its data as a file, their deletion, a code that no longer opens it."""

import streamlit as st

from geo.addresses import readable
from survey_app.reports.home_record import record_pdf
from survey_app.texts import ENGLISH
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal
from survey_app.ui.reported_here import show_reported

st.title("A home's request")
st.markdown(
    "For people who ask by telephone, letter or at the door. Make sure that you speak with somebody who lives there: "
    "hand the file over at the door, or send it to the address itself."
)
survey = session.survey()
widgets.need_homes(survey)
widgets.told("request")
names = {readable(a): k for k, a in survey.sign_in_rights().home_addresses().items()}
address = st.selectbox("Home", sorted(names), index=None, key="request.home", placeholder="Type its address")
if address is not None:
    home = survey.one_home(names[address])
    record = home.record()
    st.markdown(
        f"On file: answers {len(record.answers)}, heaters {len(record.heaters)}, acts on them {len(record.services)}."
    )
    show_reported(record.standing, home, to_people=False)
    st.download_button(
        "What is on file, to print (PDF)",
        record_pdf(record, ENGLISH),
        "home.pdf",
        "application/pdf",
        key="request.pdf",
        on_click="ignore",
    )
    st.download_button(
        "Everything on file, for a computer (JSON)",
        home.export,
        "home.json",
        "application/json",
        key="request.export",
        on_click="ignore",
    )
    st.header("Delete")
    st.markdown(
        "Deletes what its people told, and what crews and volunteers noted. The address stays: it is the county's. "
        "Counts of earlier reports stay. Backups and archives made before are not reached: delete those yourself."
    )
    sure = st.checkbox("Yes, they asked for it, and I know it cannot be undone", key="request.sure")
    left, right = st.columns(2)
    if left.button("Delete it", key="request.delete", disabled=not sure, width="stretch"):
        gone = home.forget()
        widgets.tell("request", f"Deleted for {literal(address)}. Answers: {gone}, and all that followed from them.")
    if right.button("Make its code useless", key="request.revoke", width="stretch"):
        count = survey.sign_in_rights().revoke_codes([home.home_id])
        widgets.tell("request", f"Codes that no longer open anything: {count}. Print letters makes a new one.")
