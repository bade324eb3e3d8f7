"""Answers whose home is in doubt, decided one by one."""

import streamlit as st

from geo.addresses import readable
from survey_app.intake import QUESTIONS
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

st.title("Decide doubtful addresses")
survey = session.survey()
widgets.told("decide")
waiting = survey.answers().doubtful()
if not waiting:
    st.success("Nothing waits. Every answer is joined to its home or set aside.")
    st.page_link("volunteer/settle_differences.py", label="Next: settle differences")
else:
    st.markdown(f"**Answers that wait: {len(waiting)}.** None of them counts until you decide.")
    names = {w.answer.answer_id: w.answer.address_as_typed or "(no address)" for w in waiting}
    chosen = st.selectbox("Answer", list(names), format_func=lambda k: names[k], key="decide.answer")
    item = next(w for w in waiting if w.answer.answer_id == chosen)
    typed = literal(item.answer.address_as_typed)
    st.markdown(f"Typed: **{typed}** · {item.state} · answered {item.answer.answered_on:%d %B %Y}")
    st.markdown(literal(item.why))
    options = {c.place_id: f"{readable(c.address)} ({c.why})" for c in item.candidates}
    typed = st.text_input("Look for another home", key=f"decide.search.{chosen}", max_chars=200)
    if typed:
        options |= {c.place_id: readable(c.address) for c in survey.answers().suggest(typed)}
    home = st.radio(
        "It is for", list(options), format_func=lambda k: literal(options[k]), index=None, key=f"decide.home.{chosen}"
    )
    left, right = st.columns(2)
    if left.button("Join it to this home", type="primary", disabled=home is None, key=f"decide.yes.{chosen}"):
        survey.answers().accept(item.answer.answer_id, str(home))
        widgets.tell(
            "decide", f"Joined to {literal(options[str(home)].split(' (')[0])}. The change log can take it back."
        )
    if right.button("It is for none of our homes: set it aside", key=f"decide.no.{chosen}"):
        survey.answers().set_aside(item.answer.answer_id)
        widgets.tell("decide", "Set aside. The change log can take it back.")
    given = item.answer.given
    shown = [(q.text(), q.label(given[q.key])) for q in QUESTIONS if q.key != "address" and given.get(q.key)]
    st.markdown("\n".join(f"- {text} **{literal(answer)}**" for text, answer in shown))
