"""Who answered, who is late, and what the answers say of the whole community."""

import streamlit as st

from geo.addresses import readable
from survey_app.reports.as_upload import rows_bytes
from survey_app.reports.response_report import answers_chart, estimate_sentence, group_rows, rate_rows, rate_sentence
from survey_app.response import Contacted
from survey_app.ui import session, shared_pages, widgets
from survey_app.ui.literal import literal

st.title("Who answered")
survey = session.survey()
widgets.need_homes(survey)
widgets.told("answered")
found = survey.responses()
rates = found.rates()
st.markdown(rate_sentence(rates))
try:
    st.markdown(estimate_sentence(found.past_twice()))
except ValueError as few:
    st.info(literal(few))
part = st.segmented_control(
    "Show", ["By phase", "By street", "Over time", "Every rate"], default="By phase", key="answered.part"
)
if part == "By street":
    st.markdown("The streets with most homes still silent come first.")
    widgets.show_rows(group_rows(found.by_street(), "street"))
elif part == "Over time":
    days = found.over_time_by_phase()
    if days:
        st.vega_lite_chart(answers_chart(days))
        total = found.over_time()
        widgets.show_rows([{"by": str(day), "homes that have answered": n} for day, n in reversed(total)])
    trend = found.early_and_late()
    st.markdown(trend.sentence if trend else "Too few answers to compare the early with the late ones: 30 are needed.")
elif part == "Every rate":
    widgets.show_rows(rate_rows(rates))
    widgets.show_rows([{"outcome": str(k), "homes": n} for k, n in rates.counts.items()])
else:
    widgets.show_rows(group_rows(found.by_phase(), "phase"))
st.header("Doors to knock at")
left, right = st.columns(2)
phases = ["all phases", *(p.group for p in found.by_phase())]
phase = left.selectbox("Where", phases, key="answered.phase")
doors = right.number_input("Most doors in one walk", 5, 200, 40, key="answered.doors")
walk = shared_pages.walk(None if phase == "all phases" else phase, int(doors))
rows = [
    {"walk": s.walk, "door": s.stop, "address": readable(s.address), "meters from the last": s.meters, "tried": s.tried,
     "last try": s.last}
    for s in walk.stops
]  # fmt: skip
if not rows:
    st.success("Every home here has answered, or its last visit leaves no more to do.")
    st.stop()
saved = 1 - walk.meters / walk.meters_by_address if walk.meters_by_address else 0.0
st.markdown(
    f"**{len(rows):,} doors in {walk.stops[-1].walk} walks, {walk.meters / 1000:.1f} km ({walk.meters / 1609.344:.1f} "
    f"miles) in all.** In the order of their addresses it would be {walk.meters_by_address / 1000:.1f} km: {saved:.0%} "
    "saved. Ways along the streets, crossings counted; going up to the door is not."
)
widgets.show_rows(rows)
columns = {k: k for k in rows[0]}
st.download_button("The walking list", rows_bytes("walk.xlsx", rows, columns), "walk.xlsx", key="answered.walk")
names = {readable(s.address): s.home_id for s in walk.stops}
st.subheader("Note what came of a visit")
with st.form("note", border=False):
    where = st.selectbox("Home", list(names), index=None, key="answered.home")
    outcome = st.radio("What came of it", list(Contacted), index=None, format_func=str, key="answered.outcome")
    words = st.text_input("Anything to remember", key="answered.words", max_chars=300)
    if st.form_submit_button("Note it", width="stretch"):
        if where is None or outcome is None:
            st.warning("Choose the home and what came of it; then note it.")
        else:
            found.note(names[where], outcome, on=survey.today, words=words.strip())
            widgets.tell("answered", f"Noted: {literal(where)}, {outcome}. The change log can take it back.")
