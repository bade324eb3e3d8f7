"""Letters with private codes: for all homes, or again for some; the codes before stop working."""

from datetime import timedelta

import streamlit as st

from geo.addresses import readable
from survey_app.reports.letters import Sender, UnusableAddress, letters_pdf, survey_address
from survey_app.texts import LANGUAGES, texts
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

st.title("Print letters")
st.markdown(
    "A sheet for each home: the letter with its private code in front, the paper form on the back. The sheets are "
    "numbered in walking order; a home keeps its number when its letter is printed again, and homes that are added "
    "later stand between their neighbors (412.5 between 412 and 413).\n\n"
    "New codes make the old ones useless. The file holds every code: print it, send it, delete it."
)
survey = session.survey()
widgets.need_homes(survey)
address = st.text_input(
    "Where the survey is reached", key="letters.address", placeholder="https://survey.example.org", max_chars=200
)
ask = st.text_input(
    "Whom people can ask, and where they bring the paper form",
    key="letters.ask",
    placeholder="a name, with a phone number, an e-mail or a door",
    max_chars=200,
)
until = st.date_input("Please answer by", session.now().date() + timedelta(days=21), key="letters.until")
names = {readable(a): k for k, a in survey.sign_in_rights().home_addresses().items()}
some = st.multiselect("Only these homes, to print again (open: all)", sorted(names), key="letters.some")
without = survey.sign_in_rights().without_code()
if not some and 0 < len(without) < len(names):
    label = f"Only the homes that have no code that works ({len(without)}): new ones, and those taken back"
    if st.checkbox(label, key="letters.without"):
        mine = set(without)
        some = [a for a, home_id in names.items() if home_id in mine]
language = st.radio("Language", list(LANGUAGES), format_func=LANGUAGES.get, key="letters.language", horizontal=True)
anew = not some and st.checkbox(
    "Walk the community anew and give every home a new number (when many homes or streets have changed; paper forms "
    "that are still out then carry old numbers)",
    key="letters.anew",
)
try:
    address = survey_address(address) if address.strip() else ""
except UnusableAddress as unusable:
    st.error(literal(unusable))
    address = ""
sure = bool(some) or widgets.sure_of_new_codes(survey, "letters")
ready = bool(address and ask.strip() and until and sure)
if st.button("Make new codes and the letters", type="primary", key="letters.go", disabled=not ready):
    with st.spinner("Walking the community …"):
        sheets = survey.sheets().number_anew() if anew else survey.sheets().numbers()
    bar = st.progress(0.0, "Making codes …")
    issued = survey.sign_in_rights().issue_codes(
        [names[a] for a in some] or None, progress=lambda done, of: bar.progress(done / max(1, of))
    )
    sender = Sender(address=address, ask=ask, until=until, keep_years=survey.settings().keep_answers_years)
    with st.spinner("Writing the letters …"):
        paper = letters_pdf(issued, sheets, survey.state().community, sender, texts(language))
    bar.empty()
    st.success(f"Letters made: {len(issued)}. The codes are shown in this file alone.")
    # The page stays as it is when the file is fetched: codes that got lost on the way would have to be made anew.
    st.download_button(
        "Get the letters (PDF)", paper, "letters.pdf", "application/pdf", key="letters.save", on_click="ignore"
    )
    st.markdown("**Next:** print on both sides, hand them out in the order of the sheets, and look here who answered.")
    st.page_link("volunteer/who_answered.py", label="Who answered, and doors to knock at")
