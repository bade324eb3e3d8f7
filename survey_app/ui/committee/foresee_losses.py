"""How many heaters the neighborhood will lose, and how sure that is."""

import streamlit as st

from survey_app.reports.forecast_report import fan_chart, fan_rows, phase_rows, weighing_rows
from survey_app.ui import session, shared_pages, widgets
from survey_app.ui.literal import literal

st.title("What we will lose")
survey = session.survey()
found = shared_pages.forecast()
if found.refusal:
    st.warning(literal(found.refusal))
for horizon in found.horizons:
    span = "the next year" if horizon.years == 1 else f"the next {horizon.years:g} years"
    count = horizon.everyone
    st.markdown(
        f"In **{span}** about **{count.mean:.0f} heaters** in {count.homes:,} homes will be lost; with 90% certainty "
        f"between {count.low} and {count.high}."
    )
st.markdown("Lost means that it fails. One that is replaced before it fails is not counted, nor are tankless heaters.")
st.vega_lite_chart(fan_chart(found), width="stretch")
st.markdown(":small[Line: expected number lost in all. Band: 90 % interval. A new heater that fails counts again.]")
part = st.segmented_control(
    "Show", ["By phase", "By year", "On the map", "What it rests on"], default="By phase", key="losses.part"
)
if part == "By phase":
    years = st.radio(
        "Within",
        [h.years for h in found.horizons],
        format_func=lambda y: f"{y:g} year{'' if y == 1 else 's'}",
        horizontal=True,
        key="losses.years",
    )
    widgets.show_rows(phase_rows(found, years, minimum=survey.settings().public_minimum_answers))
elif part == "By year":
    widgets.show_rows(fan_rows(found))
elif part == "On the map":
    st.iframe(shared_pages.losses_map_page(), height=760)
else:
    for sentence in found.sentences:
        st.markdown(f"- {literal(sentence)}")
    st.markdown("**Published figures and our answers, side by side**")
    widgets.show_rows(weighing_rows(found))
widgets.caution_line()
