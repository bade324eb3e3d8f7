"""The changes a real day brings: who confirmed, who cancelled, who is ill, rain, a day set by hand, another order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import streamlit as st

from geo.addresses import readable
from survey_app.reports.service_papers import ServicePapers
from survey_app.service_days import CannotPlan, ServicePlan
from survey_app.survey.service_rounds import ServiceRounds
from survey_app.texts import ENGLISH
from survey_app.ui import session
from survey_app.ui.literal import literal

__all__ = ["change_form"]


def change_form(rounds: ServiceRounds, plan: ServicePlan, papers: ServicePapers) -> None:
    """Every change, each with its own button; the plan is made again around what is fixed."""
    st.header("Change the plan")
    st.markdown(
        "Homes that confirmed stay on their day. Everything else moves as little as it can, and you are told what."
    )
    name = {k: readable(c.address) for k, c in papers.homes.items()}
    planned = sorted({v.home_id for v in plan.visits}, key=lambda k: name.get(k, k))
    waiting = sorted((w.home_id for w in plan.waiting), key=lambda k: name.get(k, k))
    asked, days = plan.asked, list(plan.asked.dates)

    def shown(home_id: str) -> str:
        return name.get(home_id, home_id)

    def day(value: date) -> str:
        return f"{value:%a %d %b %Y}"

    with st.expander("Homes that confirmed their day"):
        loose = [h for h in planned if h not in asked.confirmed]
        some = st.multiselect("Which", loose, format_func=shown, key="change.confirm")
        if st.button("They confirmed", key="change.confirm.go", disabled=not some):
            _done(lambda: rounds.confirm(plan.plan_id, some))
        freed = st.multiselect("Free a home again", sorted(asked.confirmed), format_func=shown, key="change.free")
        if st.button("Free them", key="change.free.go", disabled=not freed):
            left = {h: d for h, d in asked.confirmed.items() if h not in freed}
            _done(lambda: rounds.change(plan.plan_id, replace(asked, confirmed=left)))
    with st.expander("A home cancels"):
        some = st.multiselect("Which", [*planned, *waiting], format_func=shown, key="change.cancel")
        if st.button("Take them off the plan", key="change.cancel.go", disabled=not some):
            _done(lambda: rounds.change(plan.plan_id, replace(asked, cancelled=(*asked.cancelled, *some))))
    with st.expander("A crew is ill, or rain"):
        when = st.selectbox("Day", days, format_func=day, key="change.off.day")
        gone = st.number_input("Crews that do not come", 0, asked.crews, asked.crews, key="change.off.crews")
        if st.button("Plan again without them", key="change.off.go"):
            off = {**asked.off, when: int(gone)}
            _done(lambda: rounds.change(plan.plan_id, replace(asked, off=off)))
    with st.expander("Set a home to a day, or keep it from one"):
        home = st.selectbox("Home", [*planned, *waiting], format_func=shown, key="change.pin.home")
        when = st.selectbox("Day", days, format_func=day, key="change.pin.day")
        if st.button("On this day and no other", key="change.pin.go", disabled=home is None):
            _done(lambda: rounds.change(plan.plan_id, replace(asked, pinned={**asked.pinned, str(home): when})))
        if st.button("Not on this day", key="change.forbid.go", disabled=home is None):
            kept = {**asked.forbidden, str(home): (*asked.forbidden.get(str(home), ()), when)}
            _done(lambda: rounds.change(plan.plan_id, replace(asked, forbidden=kept)))
    with st.expander("The contractor agrees to a home where the rules ask first"):
        some = st.multiselect("Which", waiting, format_func=shown, key="change.agree")
        st.markdown("Tell the people before the day why the contractor had to decide:")
        for risk in (risk for act in asked.job.acts for risk in act.risks):
            st.markdown(f"- {literal(ENGLISH(risk.key))}")
        if st.button("The contractor agrees", key="change.agree.go", disabled=not some):
            more = tuple(dict.fromkeys([*asked.contractor_agreed, *some]))
            _done(lambda: rounds.change(plan.plan_id, replace(asked, contractor_agreed=more)))
    with st.expander("Another order on one crew's day"):
        routes = sorted({(v.on, v.crew) for v in plan.visits})
        one = st.selectbox(
            "Day and crew", routes, format_func=lambda r: f"{day(r[0])}, crew {r[1]}", key="change.order.day"
        )
        if one is not None:
            mine = [v.home_id for v in plan.on(one[0]) if v.crew == one[1]]
            st.markdown("Pick the homes in the order in which they shall be driven.")
            order = st.multiselect("Order", mine, format_func=shown, key=f"change.order.{one[0]}.{one[1]}")
            if st.button("Drive in this order", key="change.order.go", disabled=len(order) != len(mine)):
                _done(lambda: rounds.reorder(plan.plan_id, one[0], one[1], order))


def _done(change: Callable[[], ServicePlan]) -> None:
    """Make the change and show the plan anew; what cannot be done is said."""
    try:
        with st.spinner("Planning around what is fixed …"):
            session.keep("days.plan", change().plan_id)
    except CannotPlan as why:
        for sentence in why.problems:
            st.error(literal(sentence))
        return
    st.rerun()
