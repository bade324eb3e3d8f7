"""An earlier forecast against what happened since."""

import streamlit as st

from survey_app.reports.forecast_report import calibration_rows, chart_of_calibration
from survey_app.ui import shared_pages, widgets
from survey_app.ui.literal import literal

st.title("Was the forecast right?")
st.markdown(
    "The forecast as it would have been made on an earlier day, from what was known then, against what has "
    "happened since."
)

years_ago = st.slider("Years back", 1, 8, 3, key="past.years")
found = shared_pages.look_back(years_ago)
for sentence in found.sentences:
    st.markdown(f"- {literal(sentence)}")
if found.homes:
    rows = calibration_rows(found)
    st.vega_lite_chart(chart_of_calibration(rows), width="stretch")
    st.markdown(
        ":small[Bar: the 90 % interval that was forecast. Diamond: what happened; where it is missing, the count is "
        "too small to be told.]"
    )
    widgets.show_rows(rows)
