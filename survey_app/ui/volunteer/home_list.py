"""Every home as a table, to sort, search and save."""

import streamlit as st

from survey_app.reports.as_upload import standing_bytes
from survey_app.reports.standing_table import standing_rows
from survey_app.ui import session, widgets

widgets.wide()
st.title("List of every home")
survey = session.survey()
found = survey.standings()
typed = st.text_input("Show only addresses with", key="list.search", max_chars=100).strip().upper()
rows = [row for row in standing_rows(found) if typed in row["address"].upper()]
st.markdown(f"{len(rows)} homes")
widgets.show_rows(rows)
st.download_button("Save as spreadsheet", standing_bytes(found), "standing.xlsx", key="list.save")
