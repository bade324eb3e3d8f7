"""The committee's figures, with small groups left out."""

import streamlit as st

from survey_app.reports.standing_table import chart_of_classes
from survey_app.ui import session, shared_pages, widgets

st.title("Figures")
survey = session.survey()
minimum = survey.settings().public_minimum_answers
figures = shared_pages.published_figures()
st.markdown(f"Groups of 1 to {minimum - 1} homes are not shown, so that nobody's home can be made out.")
st.header("Where the heaters stand")
widgets.show_rows([{"standing": k, "homes": "not shown" if n is None else n} for k, n in figures.classes.items()])
st.vega_lite_chart(chart_of_classes(figures.classes), width="stretch")
st.header("Answers by phase")
widgets.show_rows(
    [{"phase": s.group, "homes": s.homes, "answered": "not shown" if n is None else n} for s, n in figures.phases]
)
widgets.caution_line()
