"""A plan of service days: the map, the order, who waits and why; papers; and what to change when real days change."""

import streamlit as st

from survey_app.reports.service_papers import does_it_pay
from survey_app.texts import ENGLISH
from survey_app.ui import session, shared_pages, widgets
from survey_app.ui.crew_day_changes import change_form
from survey_app.ui.crew_day_papers import letters_to_fill_days, papers_to_save
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
papers, rows, calls, sheets, notices, calendar = shared_pages.days_papers(chosen)
money = plan.costs_usd
st.markdown(
    f"**{len(plan.visits)} homes on {len(plan.days)} days**, {len(plan.waiting)} wait. Driving counts for "
    f"\\${money['travel']:,.0f}, crew-days for \\${money['crew_days']:,.0f}, what waits for "
    f"\\${money['unserved']:,.0f}. How the days were found: {literal(plan.method)}; ways measured along "
    f"{literal(plan.network)}."
)
for sentence in plan.sentences:
    st.markdown(f"- {literal(sentence)}")
st.markdown(literal(does_it_pay(papers, ENGLISH)))
letters_to_fill_days(papers)
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
st.iframe(shared_pages.days_map_page(chosen), height=620)
st.header("Homes by day")
widgets.show_rows([{"address": r["address"], **{k: v for k, v in r.items() if k != "home_id"}} for r in rows])
papers_to_save(papers, rows, calls, sheets, notices, calendar)
if plan.waiting:
    st.header("Who waits, and what each would need")
    widgets.show_rows(
        [
            {
                "address": papers.name(w.home_id),
                "why": w.reason,
                "lost by waiting a year, USD (90% interval)": papers.worth(w.home_id),
            }
            for w in plan.waiting
        ]
    )
change_form(rounds, plan, papers)
widgets.cautions()
