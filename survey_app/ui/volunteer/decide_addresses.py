"""Answers whose home is in doubt, decided one by one."""

import streamlit as st

from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

st.title("Decide doubtful addresses")
survey = session.survey()
waiting = survey.answers().doubtful()
if not waiting:
    st.success("Nothing waits. Every answer is joined to its home or set aside.")
else:
    st.markdown(f"**{len(waiting)} answers wait.** None of them counts until you decide.")
    names = {w.answer.answer_id: w.answer.address_as_typed or "(no address)" for w in waiting}
    chosen = st.selectbox("Answer", list(names), format_func=lambda k: names[k], key="decide.answer")
    item = next(w for w in waiting if w.answer.answer_id == chosen)
    typed = literal(item.answer.address_as_typed)
    st.markdown(f"Typed: **{typed}** · {item.state} · answered {item.answer.answered_on:%d %B %Y}")
    st.markdown(literal(item.why))
    options = {c.place_id: f"{c.address} ({c.why})" for c in item.candidates}
    typed = st.text_input("Look for another home", key=f"decide.search.{chosen}", max_chars=200)
    if typed:
        options |= {c.place_id: c.address for c in survey.answers().suggest(typed)}
    home = st.radio(
        "It is for", list(options), format_func=lambda k: literal(options[k]), index=None, key=f"decide.home.{chosen}"
    )
    left, right = st.columns(2)
    if left.button("Join it to this home", type="primary", disabled=home is None, key=f"decide.yes.{chosen}"):
        survey.answers().accept(item.answer.answer_id, str(home))
        st.rerun()
    if right.button("It is for none of our homes: set it aside", key=f"decide.no.{chosen}"):
        survey.answers().set_aside(item.answer.answer_id)
        st.rerun()
    shown = {key: text for key, text in item.answer.given.items() if text and key != "address"}
    widgets.show_rows([{"question": key, "answer": text} for key, text in shown.items()])
