"""Closing a service day: what became of each visit, on a phone or as a sheet."""

import streamlit as st

from survey_app.csv_import import UnusableAnswerFile
from survey_app.reports.as_upload import rows_bytes, rows_from_upload
from survey_app.service_days import Closing, Outcome, closing_columns
from survey_app.ui import session, shared_pages, widgets
from survey_app.ui.literal import literal

st.title("Close a service day")
st.markdown("What was done and found goes into each home's record. Closing a visit again corrects it.")
rounds = session.survey().service_rounds()
plans = {p.plan_id: p for p in rounds.plans() if p.visits}
if not plans:
    st.info("No service days are planned yet.")
    st.stop()
kept = session.kept("days.plan")
ids = list(plans)
chosen = st.selectbox(
    "Which plan",
    ids,
    index=ids.index(kept) if kept in ids else 0,
    format_func=lambda k: f"{plans[k].asked.job}, from {plans[k].days[0]}: {len(plans[k].visits)} homes",
    key="close.plan",
)
plan = plans[chosen]
columns = closing_columns(plan.asked.job)
rows = shared_pages.days_papers(chosen)[1]
when = st.selectbox("Which day", list(plan.days), format_func=lambda d: f"{d:%a %d %b %Y}", key="close.day")
mine = [r for r in rows if r["day"] == when.isoformat()]
if when > session.survey().today:
    st.info("This day lies ahead. Close its visits once the crew has been there.")
done = sum(r["outcome"] != Outcome.PLANNED for r in mine)
st.progress(done / max(1, len(mine)), f"{done} of {len(mine)} visits closed")
for row in mine:
    key = row["home_id"]
    head = f"{row['order']}. {literal(row['address'])} ({row['from']}), crew {row['crew']}: {row['outcome']}"
    with st.expander(head), st.form(f"close.{key}", border=False):
        outcome = st.radio(
            "What became of it", [o for o in Outcome if o is not Outcome.PLANNED], index=None, key=f"close.o.{key}"
        )
        findings = st.multiselect("What was found", list(plan.asked.job.findings), key=f"close.f.{key}")
        why = st.text_input("If it was not done: why", key=f"close.w.{key}", max_chars=300)
        notes = st.text_input("Anything else", key=f"close.n.{key}", max_chars=300)
        if st.form_submit_button("Close this visit", width="stretch"):
            if outcome is None or (outcome is Outcome.NOT_DONE and not why.strip()):
                st.error("Say what became of it; and if it was not done, why.")
            else:
                found = Closing(
                    home_id=key, outcome=outcome, why=why.strip(), findings=tuple(findings), notes=notes.strip()
                )
                rounds.close(chosen, [found])
                st.rerun()
st.header("Or as a spreadsheet")
blank = [{"home_id": r["home_id"], "address": r["address"]} for r in mine]
st.download_button("Get the day's sheet", rows_bytes("day.xlsx", blank, columns), f"day_{when}.xlsx", key="close.sheet")
upload = st.file_uploader("The filled sheet (.csv or .xlsx)", type=["csv", "xlsx"], key="close.file")
if upload is not None and st.button("Close the visits in this sheet", key="close.go"):
    try:
        given = rows_from_upload(upload.name, upload.getvalue(), columns)
        good, problems = rounds.read_closings(chosen, given)
        st.success(f"Visits closed: {rounds.close(chosen, good)}.")
        for problem in problems:
            st.warning(literal(problem.sentence))
    except UnusableAnswerFile as unusable:
        st.error(literal(unusable))
missed = [r["address"] for r in mine if r["outcome"] == Outcome.NOBODY_HOME]
if missed:
    st.markdown(
        "Nobody was home at: " + literal("; ".join(missed)) + ". They are on the waiting list of the next plan."
    )
widgets.cautions()
