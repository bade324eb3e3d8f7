"""The map of every home. Private: it never leaves the volunteer's hands."""

import streamlit as st

from survey_app.ui import shared_pages, widgets

widgets.wide()
st.title("Map of every home")
st.markdown("This map shows single homes. Keep it to yourself; the committee's map shows groups of homes only.")
page = shared_pages.whole_map_page()
st.iframe(page, height=760)
st.download_button("Save this map", page, "map_for_the_volunteer.html", "text/html", key="map.save")
