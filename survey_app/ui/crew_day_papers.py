"""The papers of a plan of service days: letters that would fill a day, sheets, notices, calls and calendars."""

from __future__ import annotations

from typing import Any

import streamlit as st

from geo.addresses import readable
from survey_app.reports.as_upload import rows_bytes
from survey_app.reports.service_papers import ServicePapers, too_few_pdf, visit_calendar
from survey_app.texts import ENGLISH
from survey_app.ui import session
from survey_app.ui.literal import literal

__all__ = ["letters_to_fill_days", "papers_to_save"]

_CALLS = {"address": "the home", "contact": "how to reach it", "day": "when", "why": "why to call"}


def letters_to_fill_days(papers: ServicePapers) -> None:
    """Days with too few homes, and the letter to the streets that would fill each."""
    for lacking in papers.plan.too_few:
        streets = literal(" and ".join(map(readable, lacking.streets)))
        st.warning(f"{lacking.on:%a %d %b}: too few for a day. {lacking.missing} more on {streets} would fill it.")
        letter = too_few_pdf(papers, lacking, ENGLISH)
        st.download_button("The letter to send them", letter, f"join_{lacking.on}.pdf", key=f"days.few.{lacking.on}")


def papers_to_save(
    papers: ServicePapers,
    rows: list[dict[str, Any]],
    calls: list[dict[str, Any]],
    sheets: bytes,
    notices: bytes,
    calendar: bytes,
) -> None:
    """Every paper of the plan as a file, and the calendar file of one home."""
    columns = {k: k for k in rows[0]} if rows else {"day": "day"}
    with st.container(horizontal=True):
        st.download_button("Day sheets for the crews (PDF)", sheets, "day_sheets.pdf", key="days.sheets")
        st.download_button("Door notices (PDF)", notices, "door_notices.pdf", key="days.notices")
        st.download_button("Homes to call", rows_bytes("calls.csv", calls, _CALLS), "calls.csv", key="days.calls")
        st.download_button("Every visit (xlsx)", rows_bytes("v.xlsx", rows, columns), "visits.xlsx", key="days.rows")
        st.download_button("Calendar of all visits", calendar, "visits.ics", "text/calendar", key="days.ics")
    if not papers.with_contacts:
        st.markdown("Phones, e-mails and remarks are the volunteer's: signed in here, they get these papers with them.")
    planned = {papers.name(v.home_id): v.home_id for v in papers.plan.visits}
    one = st.selectbox("Calendar file for one home", sorted(planned), index=None, key="days.one")
    if one is not None:
        made = visit_calendar(papers, [planned[one]], ENGLISH, now=session.now())
        st.download_button(f"Calendar of {literal(one)}", made, "visit.ics", "text/calendar", key="days.one.ics")
