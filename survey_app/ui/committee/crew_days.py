"""A plan of service days: the map, the order, who waits and why; papers; and what to change when real days change."""

import streamlit as st

from geo.addresses import readable
from survey_app.reports.as_upload import rows_bytes
from survey_app.reports.service_papers import too_few_pdf, visit_calendar
from survey_app.texts import ENGLISH
from survey_app.ui import session, widgets
from survey_app.ui.crew_day_changes import change_form
from survey_app.ui.literal import literal

widgets.wide()
st.title("Service days: see and change")
rounds = session.survey().service_rounds()
plans = {p.plan_id: p for p in rounds.plans()}
if not plans:
    st.info("No service days are planned yet.")
    st.page_link("committee/plan_crew_days.py", label="Plan service days", width="stretch")
    st.stop()
ids = list(plans)
kept = session.kept("days.plan")
chosen = st.selectbox(
    "Which plan",
    ids,
    index=ids.index(kept) if kept in ids else 0,
    format_func=lambda k: (
        f"{plans[k].asked.job}, {plans[k].days[0] if plans[k].days else 'no day'}: {len(plans[k].visits)} homes "
        f"(made {plans[k].made_at:%d %b %Y, %H:%M})"
    ),
    key="days.which",
)
session.keep("days.plan", chosen)
plan = plans[chosen]
rows, calls, sheets, notices, calendar = session.days_papers(chosen)
money = plan.costs_usd
st.markdown(
    f"**{len(plan.visits)} homes on {len(plan.days)} days**, {len(plan.waiting)} wait. Driving counts for "
    f"\\${money['travel']:,.0f}, crew-days for \\${money['crew_days']:,.0f}, what waits for "
    f"\\${money['unserved']:,.0f}. Found by: {literal(plan.method)}; ways measured along {literal(plan.network)}."
)
for sentence in plan.sentences:
    st.markdown(f"- {literal(sentence)}")
papers = rounds.papers(plan, weighed=True)
for lacking in plan.too_few:
    streets = literal(" and ".join(map(readable, lacking.streets)))
    st.warning(f"{lacking.on:%a %d %b}: too few for a day. {lacking.missing} more on {streets} would fill it.")
    letter = too_few_pdf(papers, lacking, ENGLISH)
    st.download_button("The letter to send them", letter, f"join_{lacking.on}.pdf", key=f"days.few.{lacking.on}")
if plan.moved:
    st.header("What moved")
    widgets.show_rows(
        [
            {
                "address": papers.name(m.home_id),
                "before": str(m.before or "waited"),
                "after": str(m.after or "waits"),
                "why": m.why,
            }
            for m in plan.moved
        ]
    )
st.iframe(session.days_map_page(chosen), height=620)
st.header("Homes by day")
widgets.show_rows([{k: v for k, v in r.items() if k != "home_id"} for r in rows])
columns = {k: k for k in rows[0]} if rows else {"day": "day"}
call_columns = {"address": "the home", "contact": "how to reach it", "day": "when", "why": "why to call"}
with st.container(horizontal=True):
    st.download_button("Day sheets for the crews (PDF)", sheets, "day_sheets.pdf", key="days.sheets")
    st.download_button("Door notices (PDF)", notices, "door_notices.pdf", key="days.notices")
    st.download_button("Homes to call", rows_bytes("calls.csv", calls, call_columns), "calls.csv", key="days.calls")
    st.download_button("Every visit (xlsx)", rows_bytes("v.xlsx", rows, columns), "visits.xlsx", key="days.rows")
    st.download_button("Calendar of all visits", calendar, "visits.ics", "text/calendar", key="days.ics")
planned = {papers.name(v.home_id): v.home_id for v in plan.visits}
one = st.selectbox("Calendar file for one home", sorted(planned), index=None, key="days.one")
if one is not None:
    made = visit_calendar(papers, [planned[one]], ENGLISH, now=session.now())
    st.download_button(f"Calendar of {literal(one)}", made, "visit.ics", "text/calendar", key="days.one.ics")
if plan.waiting:
    st.header("Who waits, and what each would need")
    widgets.show_rows(
        [
            {"address": papers.name(w.home_id), "why": w.reason, "lost in a year, USD": papers.worth(w.home_id)}
            for w in plan.waiting
        ]
    )
change_form(rounds, plan, papers)
widgets.cautions()
