"""Something is wrong: one question at a time, what is dangerous first and at hand at every step."""

import streamlit as st

from survey_app.advice.triage import Outcome, Question, explain, interrupts, option_text, step
from survey_app.ui import session

say = session.say()
path: tuple[str, ...] = session.draft("triage").setdefault("path", ())


def take(*answers: str) -> None:
    session.draft("triage")["path"] = answers


def answer(key: str, label: str, to: tuple[str, ...], *, small: bool = False) -> None:
    st.button(label, key=f"triage.{key}", on_click=take, args=to, width="content" if small else "stretch")


def ask(question: Question) -> None:
    st.header(say(f"triage-ask-{question.key}"))
    for option in question.options:
        danger = not path and option in interrupts()
        key = f"now.{option.key}" if danger else f"{question.key}.{option.key}"
        answer(key, option_text(question.key, option.key, say), (*path, option.key))


def tell(outcome: Outcome) -> None:
    found = explain(outcome, say)
    st.header(found.title)
    for first in found.first:
        st.html(f'<div class="first" role="alert"><b>{say("triage-head-first")}</b><br>{first}</div>')
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
        record(outcome)
    st.markdown(f"**{say('triage-head-cautions')}**\n\n" + "\n".join(f"- {line}" for line in found.cautions))
    if outcome.emergency and outcome.symptom is not None:
        # Nobody stands before a danger to fill in a record: this comes last, folded, for afterwards.
        with st.expander(say("triage-after")):
            st.markdown(say("triage-after-why"))
            record(outcome)


def record(outcome: Outcome) -> None:
    if outcome.symptom is None:
        return
    if session.actor().home_id is None:
        st.page_link("resident/answer_for_my_home.py", label=say("triage-record-form"), width="stretch")
        return
    recorded, place = session.draft("triage").setdefault("recorded", set()), st.empty()
    if outcome.symptom not in recorded and place.button(say("triage-record"), key="triage.record", type="primary"):
        session.one_home().report_symptom(outcome.symptom)
        recorded.add(outcome.symptom)
    if outcome.symptom in recorded:
        place.success(say("triage-recorded"))


st.title(say("triage-title"))
if path:
    with st.container(border=True):
        st.markdown(f"**{say('triage-box')}**")
        with st.container(horizontal=True):
            for danger in interrupts():
                answer(f"now.{danger.key}", say(f"triage-now.{danger.key}"), (danger.key,), small=True)
else:
    st.markdown(say("triage-lead"))
if isinstance(here := step(path), Question):
    ask(here)
else:
    tell(here)
if path:
    said = [option_text(q.key, a, say) for n, a in enumerate(path) if isinstance(q := step(path[:n]), Question)]
    st.markdown(say("triage-so-far", answers=" · ".join(said)))
    answer("back", say("triage-back"), path[:-1])
    answer("again", say("triage-again"), ())
