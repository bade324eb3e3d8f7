"""Every home as a table, to sort, search and save."""

import streamlit as st

from survey_app.ui import session, widgets

widgets.wide()
st.title("List of every home")
table, workbook = session.home_table()
typed = st.text_input("Show only addresses with", key="list.search", max_chars=100).strip().upper()
rows = [row for row in table if typed in row["address"].upper()]
st.markdown(f"{len(rows)} homes")
widgets.show_rows(rows)
st.download_button("Save as spreadsheet", workbook, "standing.xlsx", key="list.save")
