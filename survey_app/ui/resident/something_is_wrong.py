"""Something is wrong: one question at a time, what is dangerous first and at hand at every step."""

import streamlit as st

from survey_app.advice.triage import Outcome, Question, interrupts, option_text, step
from survey_app.ui import session
from survey_app.ui.triage_outcome import tell

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


def dangers() -> None:
    with st.container(border=True):
        st.markdown(f"**{say('triage-box')}**")
        with st.container(horizontal=True):
            for danger in interrupts():
                answer(f"now.{danger.key}", say(f"triage-now.{danger.key}"), (danger.key,), small=True)


here = step(path)
emergency = isinstance(here, Outcome) and here.emergency
st.title(say("triage-title"))
if not path:
    st.markdown(say("triage-lead"))
elif not emergency:
    dangers()
if isinstance(here, Question):
    ask(here)
else:
    tell(here, say)
if emergency:
    dangers()
if path:
    said = [option_text(q.key, a, say) for n, a in enumerate(path) if isinstance(q := step(path[:n]), Question)]
    st.markdown(say("triage-so-far", answers=" · ".join(said)))
    answer("back", say("triage-back"), path[:-1])
    answer("again", say("triage-again"), ())
