"""Answers that contradict one another, side by side: keep one, or let both stand; everything can be undone."""

import streamlit as st

from geo.addresses import readable
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

st.title("Settle differences")
found = session.survey().differences()
every = found.all()
st.markdown(
    f"Homes whose answers contradict one another: {len(every)}. A later answer wins where they differ; set one "
    "aside if it is wrong. Nothing is lost: what is set aside stands below and can be brought back."
)
if not every:
    st.success("Nothing waits.")
for difference in every[:50]:
    with st.expander(literal(readable(difference.home.address))):
        for sentence in difference.sentences:
            st.markdown(f"- {literal(sentence)}")
        heads = [f"{n}. {a.answered_on:%d %b %Y}, {a.channel}" for n, a in enumerate(difference.answers, 1)]
        widgets.show_rows(
            [{"question": text, **dict(zip(heads, said, strict=True))} for text, said in difference.lines]
        )
        for n, answer in enumerate(difference.answers, 1):
            if st.button(f"Keep answer {n} alone", key=f"differ.keep.{answer.answer_id}"):
                found.keep(difference.home.home_id, answer.answer_id)
                st.rerun()
        if st.button("Leave all as they are", key=f"differ.leave.{difference.home.home_id}"):
            found.leave_both(difference.home.home_id)
            st.rerun()
if len(every) > 50:
    st.markdown(f"{len(every) - 50} more come when these are settled.")
aside = found.set_aside_so_far()
if aside:
    st.header("Set aside")
for one in aside[:50]:
    st.markdown(f"- {literal(readable(one.address))}: the answer of {one.answer.answered_on:%d %b %Y}")
    if st.button("Bring it back", key=f"differ.back.{one.answer.answer_id}"):
        found.bring_back(one.answer.answer_id)
        st.rerun()
left = found.left_as_they_are()
if left:
    st.header("Left as they are")
for home_id, address in left[:50]:
    st.markdown(f"- {literal(readable(address))}")
    if st.button("Look at it again", key=f"differ.again.{home_id}"):
        found.look_again(home_id)
        st.rerun()
