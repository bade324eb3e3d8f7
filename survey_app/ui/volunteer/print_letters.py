"""Letters with private codes: for all homes, or again for some; the codes before stop working."""

import streamlit as st

from survey_app.reports.letters import UnusableAddress, letters_pdf, survey_address
from survey_app.texts import LANGUAGES, texts
from survey_app.ui import session
from survey_app.ui.literal import literal

st.title("Print letters")
st.markdown(
    "A sheet for each home: the letter with its private code in front, the paper form on the back, in walking order. "
    "New codes make the old ones useless. The file holds every code: print it, send it, delete it."
)
survey = session.survey()
address = st.text_input(
    "Where the survey is reached", key="letters.address", placeholder="https://survey.example.org", max_chars=200
)
names = {a: k for k, a in survey.home_addresses().items()}
some = st.multiselect("Only these homes, to print again (open: all)", sorted(names), key="letters.some")
language = st.radio("Language", list(LANGUAGES), format_func=LANGUAGES.get, key="letters.language", horizontal=True)
try:
    address = survey_address(address) if address.strip() else ""
except UnusableAddress as unusable:
    st.error(literal(unusable))
    address = ""
if st.button("Make new codes and the letters", type="primary", key="letters.go", disabled=not address):
    bar = st.progress(0.0, "Making codes …")
    issued = survey.issue_codes(
        [names[a] for a in some] or None, progress=lambda done, of: bar.progress(done / max(1, of))
    )
    with st.spinner("Writing the letters …"):
        paper = letters_pdf(issued, survey.state().community, address, texts(language))
    bar.empty()
    st.success(f"Letters made: {len(issued)}. The codes are shown in this file alone.")
    st.download_button("Get the letters (PDF)", paper, "letters.pdf", "application/pdf", key="letters.save")
