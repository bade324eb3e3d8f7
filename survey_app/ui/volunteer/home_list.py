"""Every home as a table, to sort, search and save."""

import streamlit as st

from geo.addresses import readable
from survey_app.ui import session, shared_pages, widgets

widgets.wide()
st.title("List of every home")
widgets.need_homes(session.survey())
table, workbook = shared_pages.home_table()
typed = st.text_input("Show only addresses with", key="list.search", max_chars=100).strip().upper()
rows = [row for row in table if typed in row["address"].upper()]
open_reports = [row for row in rows if row["reported"]]
rows = [*open_reports, *(row for row in rows if not row["reported"])]
st.markdown(f"{len(rows)} homes. With something reported that is not settled, first in the list: {len(open_reports)}.")
# The address first, as people read it, and no keys: a phone shows the first two columns.
FIRST, KEYS = ("address", "standing", "reported", "age_years", "warranty_years"), ("home_id", "parcel_id", "street")
order = [*FIRST, *(k for k in (rows[0] if rows else ()) if k not in (*FIRST, *KEYS))]
widgets.show_rows(
    [{k.replace("_", " "): readable(row[k]) if k == "address" else row[k] for k in order} for row in rows]
)
st.download_button("Save as spreadsheet", workbook, "standing.xlsx", key="list.save")
