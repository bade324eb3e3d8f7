"""The committee's map: groups of homes, never one."""

import streamlit as st

from survey_app.ui import shared_pages, widgets

widgets.wide()
st.title("Neighborhood map")
st.markdown(
    "What share of the heaters whose age is known is past twice its warranty, by groups of streets. No single home can "
    "be made out."
)
page = shared_pages.public_map_page()
st.iframe(page, height=760)
st.download_button("Save this map to publish", page, "neighborhood_map.html", "text/html", key="public.save")
