"""What the survey keeps, why, who sees it and how long, in plain words, from the list in `survey_app.privacy`."""

import streamlit as st

from survey_app.privacy import KEPT
from survey_app.ui import session

say = session.say()
settings = session.survey().settings()
st.title(say("privacy-title"))
st.markdown(say("privacy-lead"))
for kept in KEPT:
    key = f"privacy-{kept.key}"
    st.markdown(
        f"**{say(key)}.**  \n{say('privacy-why')}: {say(f'{key}.why')}.  \n{say('privacy-who')}: {say(f'{key}.who')}."
    )
years = f"{settings.keep_answers_years:g}"
st.markdown(f"**{say('privacy-long')}:** {say('privacy-until-deleted', years=years)}")
st.markdown(say("privacy-published", below=settings.public_minimum_answers - 1))
st.markdown(say("privacy-not-sold"))
st.page_link("resident/my_record.py", label=say("door-record"), width="stretch")
