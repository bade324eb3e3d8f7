"""Handing the survey to the next volunteer: what is left to do, the list to sign, the year's archive."""

import streamlit as st

from survey_app.reports.archive import archive_bytes, hand_over_pdf
from survey_app.survey.year_end import Done
from survey_app.ui import session
from survey_app.ui.literal import literal

PAGES = {
    "Who may sign in": "volunteer/who_may_sign_in.py",
    "Decide doubtful addresses": "volunteer/decide_addresses.py",
    "Settle differences": "volunteer/settle_differences.py",
    "Close a service day": "committee/close_a_day.py",
    "Set up, Old answers": "volunteer/set_up.py",
    "Print letters": "volunteer/print_letters.py",
}

st.title("Hand over")
survey = session.survey()
year_end = survey.year_end()
steps = year_end.checklist()
left = [s for s in steps if s.done is Done.NO]
st.markdown(
    f"Still to do, by the records: {len(left)} of {len(steps)}. Some only you can know. "
    "Each line says how it should be."
)
for state_of, head in ((Done.NO, "To do"), (Done.BY_HAND, "Look yourself"), (Done.YES, "Done")):
    lines = [f"- **{s.what}.** {literal(s.found)}. *{s.where}*" for s in steps if s.done is state_of]
    if lines:
        st.header(head)
        st.markdown("\n".join(lines).replace("..", "."))
    if state_of is Done.NO:
        for where in sorted({s.where for s in left} & set(PAGES)):
            st.page_link(PAGES[where], label=where)
state = survey.state()
st.download_button(
    "The list to print and sign (PDF)",
    hand_over_pdf(steps, state.community, survey.now),
    "hand_over.pdf",
    "application/pdf",
    key="hand.list",
)
st.header("The year's archive")
st.markdown(
    "All records in formats that need no program of ours: tables, a map layer for any GIS, the settings. It holds "
    "everything personal, but no code and no password. To bring a survey back to life use a backup instead: "
    "`heater-survey backup` while the app runs, `heater-survey restore` on the other machine."
)
if st.button("Make the archive", key="hand.archive"):
    with st.spinner("Writing the archive …"):
        made = archive_bytes(year_end.content())
    name = f"survey_{survey.today:%Y-%m-%d}.zip"
    st.download_button(f"Get {name}", made, name, "application/zip", key="hand.archive.save", on_click="ignore")
