"""Leaking now: everything on one screen at once, readable after the network has gone."""

import streamlit as st

from survey_app.advice.leaking import EMERGENCY_NUMBER, Energy, leak_steps
from survey_app.records import HeaterKind
from survey_app.reports.leak_card import leak_card_html
from survey_app.ui import session, widgets
from survey_app.ui.leak_contacts import call_list


def as_list(lines: tuple[str, ...] | list[str]) -> str:
    return "\n".join(f"- {line}" for line in lines)


say = session.say()
settings = session.survey().settings()
at_home = session.one_home().standing() if session.actor().home_id else None
st.title(say("leaking-title"))
st.markdown(f"**{say('leaking-lead')}**")
# The two calls that cannot wait for the end of the page.
st.html(
    f'<p class="calls"><a href="tel:{EMERGENCY_NUMBER}">{say("leaking-call-emergency")}: {EMERGENCY_NUMBER}</a> '
    f'<a href="#who-to-call">{say("leaking-calls-head")}</a></p>'
)
if at_home and at_home.heater and at_home.heater.kind is not HeaterKind.UNKNOWN:
    st.markdown(say("leaking-on-file", kind=say(f"kind-{at_home.heater.kind.replace(' ', '-')}")))
for step in leak_steps(say):
    st.header(f"{step.number}. {step.title}")
    st.markdown(as_list(step.lines))
    for energy in Energy:
        if energy in step.variants:
            st.markdown(f"**{say(f'leaking-{energy}')}**\n\n{as_list(step.variants[energy])}")
st.header(say("leaking-calls-head"), anchor="who-to-call")
call_list(say, settings)
for part in ("find", "photos", "not"):
    st.header(say(f"leaking-{part}-head"))
    st.markdown(as_list(say.lines(f"leaking-{part}")))
st.markdown(say("leaking-insurer"))
widgets.cautions()
st.markdown(say("leaking-card-help"))
# A download that reruns nothing: the page stays as it is.
st.download_button(
    say("leaking-card"),
    leak_card_html(at_home, say, settings.contacts.known(), synthetic=session.survey().state().community.synthetic),
    file_name="leak-card.html",
    mime="text/html",
    key="leaking.card",
    on_click="ignore",
    width="stretch",
)
st.page_link("resident/something_is_wrong.py", label=say("leaking-wrong"), width="stretch")
