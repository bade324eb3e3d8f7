"""Ten years under each policy: cost, failures, floods, with intervals and a plot."""

import streamlit as st

from survey_app.reports.policy_report import chart_of_policies, policy_rows
from survey_app.ui import session, widgets

widgets.wide()
st.title("Ten years: what a policy costs")
st.markdown(
    "What would the whole community pay in ten years if nobody did anything, if heaters were replaced at twice their "
    "warranty or at the best age, if every home got a pan with a drain and an alarm, or if a group round were held "
    "every year? All of it is estimated, with how sure that is."
)
percent = st.slider("A group round is cheaper by, percent (an assumption)", 0, 40, 15, key="policies.discount")
try:
    found = session.policies(percent / 100)
except ValueError as why:
    st.info(str(why))
    st.stop()
for outcome in found.outcomes:
    st.markdown(f"- {outcome.sentence}".replace("$", "\\$"))
st.vega_lite_chart(chart_of_policies(found), width="stretch")
st.markdown(":small[Dot: the mean. Bar: in 90 of 100 cases the cost lies within it. Differences are surer than costs.]")
widgets.show_rows(policy_rows(found))
st.header("What it rests on")
for sentence in found.sentences:
    st.markdown(f"- {sentence}".replace("$", "\\$"))
widgets.cautions()
