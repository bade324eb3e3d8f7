"""Who answered, who is late, and what the answers say of the whole community."""

import streamlit as st

from survey_app.reports.as_upload import rows_bytes
from survey_app.response_rates import Contacted
from survey_app.ui import session, widgets

st.title("Who answered")
survey = session.survey()
found = survey.responses()
rates = found.rates()


def percent(value: float | None) -> str:
    return "–" if value is None else f"{100 * value:.1f} %"


st.markdown(
    f"Response rate RR1 **{percent(rates.rr1)}**, RR3 {percent(rates.rr3)}, with partial answers RR2 "
    f"{percent(rates.rr2)}; cooperation {percent(rates.coop1)}, refusal {percent(rates.ref1)}, contact "
    f"{percent(rates.con1)}. By the AAPOR Standard Definitions; of homes nobody reached, {percent(rates.e)} are taken "
    "as lived in."
)
try:
    twice = found.past_twice()
    st.markdown(
        f"**About {twice.total:.0f} of {twice.homes} homes ({percent(twice.share)}, between {percent(twice.low)} and "
        f"{percent(twice.high)}) have a heater past twice its warranty.** Weighed by phase; the interval is of 95 in "
        "100, and holds if those who answered are like their phase."
    )
    if twice.left_out:
        st.markdown("Not in it, for want of answers: " + ", ".join(twice.left_out) + ".")
except ValueError as few:
    st.info(str(few))
st.header("What became of each home")
widgets.show_rows([{"outcome": str(k), "homes": n} for k, n in rates.counts.items()])
st.header("By phase")
widgets.show_rows(
    [
        {
            "phase": p.phase,
            "homes": p.homes,
            "answered": p.answered,
            "RR1": percent(p.rr1),
            "answers for ±5 points": p.needed,
            "still missing": max(0, p.needed - p.answered),
        }
        for p in found.by_phase()
    ]
)
days = [{"day": d.isoformat(), "homes": n} for d, n in found.over_time()]
if days:
    st.header("Answers so far")
    chart = {
        "data": {"values": days},
        "mark": {"type": "line", "interpolate": "step-after", "color": "#1D4865", "strokeWidth": 2.5},
        "encoding": {
            "x": {"field": "day", "type": "temporal", "title": None},
            "y": {"field": "homes", "type": "quantitative", "title": "homes that have answered"},
        },
        "height": 220,
    }
    st.vega_lite_chart(chart, width="stretch")
st.header("Doors to knock at")
walk = found.walk()
rows = [{"street": w.street, "address": w.address, "tried": w.tried, "last try": w.last} for w in walk]
st.markdown(f"{len(rows)} homes, street by street: up the odd side, back down the even one.")
widgets.show_rows(rows)
columns = {"street": "the street", "address": "the home", "tried": "times tried", "last try": "what came of it"}
st.download_button("The walking list", rows_bytes("walk.xlsx", rows, columns), "walk.xlsx", key="answered.walk")
names = {w.address: w.home_id for w in walk}
with st.form("note", border=False):
    where = st.selectbox("Home", list(names), index=None, key="answered.home")
    outcome = st.radio("What came of it", list(Contacted), format_func=str, key="answered.outcome")
    words = st.text_input("Anything to remember", key="answered.words", max_chars=300)
    if st.form_submit_button("Note it", width="stretch") and where is not None and outcome is not None:
        found.note(names[where], outcome, on=survey.today, words=words.strip())
        st.rerun()
