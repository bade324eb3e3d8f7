"""Where the triage ends: one outcome on the screen."""

from __future__ import annotations

import streamlit as st

from survey_app.advice.triage import Outcome, explain
from survey_app.texts import Texts
from survey_app.ui import home_decision, session
from survey_app.ui.literal import literal

__all__ = ["tell"]


def tell(outcome: Outcome, say: Texts) -> None:
    """The whole outcome: what comes first, what to do, whose work it is; in an emergency no money."""
    found = explain(outcome, say, heaters=home_decision.heater_prices() if outcome.prices else ())
    st.header(found.title)
    for first in found.first:
        st.html(f'<div class="first" role="alert"><b>{say("triage-head-first")}</b><br>{first}</div>')
    if not outcome.emergency:
        st.markdown(f"**{found.fate}**")
    if outcome.leaking:
        st.page_link("resident/leaking_now.py", label=say("triage-leaking"), width="stretch")
    yours = "\n".join(f"{n}. {line}" for n, line in enumerate(found.yours, 1))
    parts = {"why": found.why, "yours": yours, "theirs": found.theirs}
    # In danger one acts first and reads the cause later.
    for part in ("yours", "theirs", "why") if outcome.urgent else ("why", "yours", "theirs"):
        st.markdown(f"**{say(f'triage-head-{part}')}**\n\n{parts[part]}")
    if not outcome.emergency:
        # A dollar sign would begin a formula.
        costs = "\n".join(f"- {c}" for c in found.cost).replace("$", "\\$")
        st.markdown(f"**{say('triage-head-cost')}**\n\n{costs}")
        st.markdown(f"**{say('triage-head-standing')}**\n\n{found.standing}")
        _record(outcome, say)
    st.markdown(f"**{say('triage-head-cautions')}**\n\n" + "\n".join(f"- {line}" for line in found.cautions))
    if outcome.emergency and outcome.symptom is not None:
        # Nobody stands before a danger to fill in a record: this comes last, folded, for afterwards.
        with st.expander(say("triage-after")):
            st.markdown(say("triage-after-why"))
            _record(outcome, say)


def _record(outcome: Outcome, say: Texts) -> None:
    if outcome.symptom is None:
        return
    if session.actor().home_id is None:
        st.page_link("resident/answer_for_my_home.py", label=say("triage-record-form"), width="stretch")
        return
    home, place = session.one_home(), st.empty()
    heater = home.standing().heater
    recorded = heater is not None and outcome.symptom in heater.symptoms
    if not recorded and place.button(say("triage-record"), key="triage.record", type="primary"):
        sent = home.report_symptom(outcome.symptom)
        recorded = sent.stored
        for problem in () if recorded else sent.checked.blocking:
            st.error(literal(problem.sentence))
    if recorded:
        place.success(say("triage-recorded"))
