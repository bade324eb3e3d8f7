"""Ten years under each policy: cost, failures, floods, with intervals and a plot."""

import streamlit as st

from survey_app.economics import words
from survey_app.prices import PriceList
from survey_app.records import HeaterKind
from survey_app.reports.policy_report import (
    MEASURES,
    chart_of_policies,
    policy_rows,
    policy_sentences,
    what_it_rests_on,
)
from survey_app.texts import ENGLISH
from survey_app.ui import session, shared_pages, widgets
from survey_app.ui.literal import literal

AMOUNTS = (
    *("planned_price_usd", "emergency_premium_usd", "leak_share"),
    *(f"damage_{what}_{where}" for where in ("inside", "basement", "garage") for what in ("chance", "usd")),
    *("factor_alarm", "factor_shutoff", "alarm_price_usd", "shutoff_price_usd", "mitigation_lasts_years"),
    "discount_rate",
)


def plain(text: str) -> str:
    return text.replace("$", "\\$")  # a dollar sign, not the start of a formula


widgets.wide()
st.title("Ten years: what a policy costs")
st.markdown(
    "What would all homes together pay in ten years if everybody waited, if heaters were replaced at twice their "
    "warranty or at the best age, if every home got an alarm and an automatic shut-off, or if a group round were held "
    "every year?"
)
usual, gas = session.survey().figures().amounts(), PriceList(session.survey().settings()).at(HeaterKind.GAS_STORAGE)
typed: dict[str, float | None] = {}
with st.expander("The amounts behind it: change them on this page alone"), st.form("policies", border=False):
    for name in AMOUNTS:
        least, most, default = *words.amount_limits(name), words.as_typed(usual, name)
        label = plain(words.amount_label(ENGLISH, name))
        typed[name] = st.number_input(label, least, most, default, format="%g", key=f"policies.{name}")
        source = words.price_source(ENGLISH, gas) if name == AMOUNTS[0] else words.amount_source(ENGLISH, name)
        st.markdown(plain(source))
    st.markdown("The price of a new heater is that of a gas tank of the usual size; the price list's others follow it.")
    percent = st.number_input("How many percent a group round takes off", 0, 60, 15, key="policies.discount")
    st.markdown("An assumption, no source for water heaters: edit it.")
    follow = st.number_input("Of 100 homes, how many do what the policy says", 0, 100, 100, key="policies.follow")
    st.form_submit_button("Work it out with these", width="stretch")
amounts = words.from_typed(usual, typed)
if amounts != usual:
    st.info("These are not the amounts of the community's settings.")
try:
    found = shared_pages.policies(percent / 100, follow / 100, amounts)
except ValueError as why:
    st.info(literal(why))
    st.stop()
if found.refusal:
    st.warning(literal(found.refusal))
measure = st.selectbox("What to draw", list(MEASURES), format_func=lambda m: MEASURES[m], key="policies.measure")
st.vega_lite_chart(chart_of_policies(found, measure), width="stretch")
st.markdown("Diamond: the mean. Bar: in 90 of 100 cases it lies within. The figure above it is the mean.")
for sentence in policy_sentences(found):
    st.markdown(f"- {literal(sentence)}")
widgets.show_rows(policy_rows(found))
st.header("What it rests on")
for sentence in what_it_rests_on(found, minimum=session.survey().settings().public_minimum_answers):
    st.markdown(f"- {literal(sentence)}")
widgets.caution_line()
