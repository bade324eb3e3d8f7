"""Which answers would make the forecast surer."""

import streamlit as st

from survey_app.ui import session, shared_pages, widgets
from survey_app.ui.literal import literal

st.title("Answers that would help most")
widgets.need_homes(session.survey())
helped, check = shared_pages.what_would_help()
for sentence in helped.sentences:
    st.markdown(f"- {literal(sentence)}")
widgets.show_rows(
    [
        {
            "phase": m.phase or "no phase",
            "homes without an answer": m.silent,
            "more answers": m.answers,
            "interval then, plus or minus": round(m.plus_minus, 1),
        }
        for m in helped.by_phase
    ]
)
st.markdown(
    f"**{helped.without_date}** homes answered but do not know their heater's age, and **{helped.without_history}** "
    "know only today's heater: a call about “when did the one before go, and did it leak?” is worth the most."
)
aside = session.survey().foresight().records_not_used()
if aside:
    with st.expander(f"{len(aside)} records could not be used for the forecast"):
        for sentence in aside:
            st.markdown(f"- {literal(sentence)}")
st.header("Do people answer because of a leak?")
st.markdown(literal(check.sentence))
