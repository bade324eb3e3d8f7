"""Leaking now: everything on one screen at once, readable after the network has gone."""

import streamlit as st

from survey_app.advice.leaking import Energy, calls, leak_steps
from survey_app.records import HeaterKind
from survey_app.reports.leak_card import leak_card_html
from survey_app.ui import session, widgets

# When the server is out of reach Streamlit lays a window over the page and makes the rest inert until it is closed.
# Here the page itself is what counts: the window is closed as soon as it opens, while the connection is lost.
_STAY_READABLE = """<script>
(() => {
  if (window.leakPageStaysReadable) return;
  window.leakPageStaysReadable = true;
  new MutationObserver(() => {
    const close = document.querySelector('[data-testid="stDialog"] [role="dialog"] button[aria-label="Close"]');
    const lost = document.querySelector('[data-testid="stStatusWidget"]');
    if (close && lost && location.pathname.includes("leaking_now")) close.click();
  }).observe(document.body, { childList: true, subtree: true });
})();
</script>"""


def as_list(lines: tuple[str, ...] | list[str]) -> str:
    return "\n".join(f"- {line}" for line in lines)


say = session.say()
at_home = session.one_home().standing() if session.actor().home_id else None
st.title(say("leaking-title"))
st.html(_STAY_READABLE, unsafe_allow_javascript=True)
st.markdown(f"**{say('leaking-lead')}**")
if at_home and at_home.heater and at_home.heater.kind is not HeaterKind.UNKNOWN:
    st.markdown(say("leaking-on-file", kind=say(f"kind-{at_home.heater.kind.replace(' ', '-')}")))
for step in leak_steps(say):
    st.header(f"{step.number}. {step.title}")
    st.markdown(as_list(step.lines))
    for energy in Energy:
        if energy in step.variants:
            st.markdown(f"**{say(f'leaking-{energy}')}**\n\n{as_list(step.variants[energy])}")
st.header(say("leaking-calls-head"))
st.markdown(as_list([f"**{c.who}** · {c.why}: {c.number or say('leaking-call-blank')}" for c in calls(say)]))
for part in ("find", "photos", "not"):
    st.header(say(f"leaking-{part}-head"))
    st.markdown(as_list(say.lines(f"leaking-{part}")))
st.markdown(say("leaking-insurer"))
widgets.cautions()
st.markdown(say("leaking-card-help"))
# A download that reruns nothing: the page stays as it is.
st.download_button(
    say("leaking-card"),
    leak_card_html(at_home, say, synthetic=session.survey().state().community.synthetic),
    file_name="leak-card.html",
    mime="text/html",
    key="leaking.card",
    on_click="ignore",
    width="stretch",
)
st.page_link("resident/something_is_wrong.py", label=say("leaking-wrong"), width="stretch")
