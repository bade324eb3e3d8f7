"""Set up: the community's name, parcels, streets, what heaters cost here, private codes, what is too old."""

import streamlit as st

from survey_app.reports.as_upload import codes_bytes
from survey_app.ui import session, widgets
from survey_app.ui.map_files import parcels_part, streets_part
from survey_app.ui.price_form import price_form

st.title("Set up")
widgets.told("setup")
survey = session.survey()
state = survey.state()
part = st.segmented_control(
    "What",
    ["Name", "Parcels", "Streets", "Prices", "Codes", "Old answers"],
    default="Parcels",
    key="setup.part",
)
if part == "Name":
    name = st.text_input("Name of the community", state.community.name, key="setup.name", max_chars=150)
    if st.button("Keep this name", key="setup.name.go") and name.strip():
        survey.set_up().name_community(name.strip(), synthetic=state.community.synthetic, open_doors=state.open_doors)
        widgets.tell("setup", "The name is kept.")
elif part == "Parcels":
    parcels_part(survey)
elif part == "Streets":
    streets_part(survey)
elif part == "Prices":
    price_form(survey, survey.settings(), "setup")
elif part == "Codes":
    st.markdown(
        "A private code for every home, as a list: for letters written elsewhere. **Print letters** makes codes of its "
        "own. New codes make the old ones useless, those of letters already handed out too. They are shown this once."
    )
    st.page_link("volunteer/print_letters.py", label="Print letters")
    sure = widgets.sure_of_new_codes(survey, "setup")
    if st.button("Make new codes for every home", key="setup.codes", disabled=not sure):
        bar = st.progress(0.0, "Making codes …")
        codes = survey.sign_in_rights().issue_codes(progress=lambda done, of: bar.progress(done / of))
        st.download_button(
            "Get the codes (keep this file safe)",
            codes_bytes(codes),
            "codes.csv",
            key="setup.codes.save",
            on_click="ignore",  # the page stays, should the file get lost on its way
        )
elif part == "Old answers":
    aged = survey.year_end().too_old()
    years = survey.settings().keep_answers_years
    st.markdown(f"{len(aged)} homes answered last more than {years:g} years ago. Deleting cannot be undone.")
    sure = st.checkbox("Yes, delete what they told", key="setup.old.sure")
    if st.button("Delete what is too old", key="setup.old.go", disabled=not (sure and aged)):
        widgets.tell("setup", f"{survey.year_end().forget_too_old()} homes forgotten.")
