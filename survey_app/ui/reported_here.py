"""What was reported of a home's heater: it leads every page about that home until it is said to be settled."""

from __future__ import annotations

import streamlit as st

from survey_app.advice.triage import TREE, path_to
from survey_app.errors import SurveyError
from survey_app.records import Report, Symptom
from survey_app.reported import settled_words, told_line
from survey_app.standing import Standing
from survey_app.survey import OneHome
from survey_app.symptoms import FINDINGS, handling
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

__all__ = ["show_reported"]


def show_reported(found: Standing, home: OneHome | None = None, *, to_people: bool = True) -> None:
    """What stands, the most pressing first, each with what to do now and a way to say that it is settled.

    Parameters
    ----------
    found
        Where the home stands.
    home
        The open home; None where nobody may say that it is settled.
    to_people
        Whether the people of the home are at the screen, and not the volunteer.
    """
    say = session.say()
    if to_people:
        widgets.show_first_things(found.comes_first)
    if session.kept("reported.settled") and home is not None:
        session.keep("reported.settled", None)
        st.success(say("reported-thanks"))
    seen = set(map(str, Symptom))
    forbid = [r.what for r in found.reported if r.what in seen and not handling(Symptom(r.what)).odds]
    for report in found.reported:
        with st.container(border=True):
            st.markdown(f"**{literal(told_line(report, say, to_people=to_people))}**")
            if to_people:
                _next_step(report)
            if report.what in forbid[:1]:
                st.markdown(say("reported-no-odds"))
            if home is not None:
                _settle(report, found, home)


def _next_step(report: Report) -> None:
    """The page of the triage that says what to do; that of a leak where water runs."""
    say = session.say()
    row = next((r for r in FINDINGS if r.finding == report.what), None)
    outcome = row.outcome if row is not None else handling(Symptom(report.what)).outcome
    if outcome is None:
        st.markdown(say("reported-next-anode"))
        st.page_link("resident/flush_and_anode.py", label=say("nav-flush"), width="stretch")
        return
    if TREE.outcomes[outcome].leaking:
        st.page_link("resident/leaking_now.py", label=say("triage-leaking"), width="stretch")
    if st.button(say("reported-next"), key=f"reported.next.{report.what}", type="primary", width="stretch"):
        session.draft("triage")["path"] = path_to(outcome)
        st.switch_page("resident/something_is_wrong.py")


def _settle(report: Report, found: Standing, home: OneHome) -> None:
    say, key = session.say(), f"reported.{home.home_id}.{report.what}"
    with st.expander(say("reported-settled")), st.form(key, border=False):
        st.markdown(say("reported-settled-help"))
        on = st.date_input(
            say("reported-when"), found.as_of, report.on, found.as_of, format="YYYY-MM-DD", key=f"{key}.on"
        )
        tick = settled_words(report.what, say)
        looked_at = st.checkbox(tick, key=f"{key}.tick") if tick else False
        if st.form_submit_button(say("reported-send"), key=f"{key}.send", width="stretch"):
            try:
                home.settle(report.what, on=on, looked_at=looked_at)
            except SurveyError as wrong:
                st.error(literal(wrong))
            else:
                session.keep("reported.settled", True)
                st.rerun()
