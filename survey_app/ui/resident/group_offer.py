"""One home's offer in the group purchase: what is in it, take it or not, and the household's own yes, maybe or no."""

from dataclasses import replace

import streamlit as st

from survey_app.economics import words
from survey_app.purchase import offer_words
from survey_app.ui import home_decision, session, widgets
from survey_app.ui.literal import literal, plain
from survey_app.ui.offer_reply import reply_form
from survey_app.ui.reported_here import show_reported
from survey_app.ui.ways_picture import ways_picture

say = session.say()


def take_or_not(price: float) -> None:
    st.header(say("offer-decide-head"))
    on_file = home_decision.prices(home, standing)
    asked = replace(home_decision.asked(standing, on_file), offer_usd=price)  # this page is about the price on file
    verdict = home_decision.weighed(home, standing, asked)
    unsure = home_decision.default_line(standing, on_file)
    st.markdown(plain(*words.summary_lines(say, verdict, home.odds()), unsure))
    if verdict.refused is None:
        st.html(ways_picture(say, words.way_rows(say, verdict)))
        st.markdown(plain(*words.neutral_lines(say, verdict), say("offer-decide-help")))
    st.page_link("resident/replace_or_wait.py", label=say("door-decide"), width="stretch")


st.title(say("offer-title"))
st.markdown(say("offer-lead"))
if session.actor().home_id is None:
    st.markdown(say("door-open-first"))
    st.page_link("resident/my_heater.py", label=say("decision-open"), width="stretch")
else:
    home = session.one_home()
    standing, found = home.standing(), home.offer()
    show_reported(standing, home)
    if found is None:
        st.info(say("offer-none"))
        st.page_link("resident/answer_for_my_home.py", label=say("door-answer"), width="stretch")
    else:
        if session.kept("offer.sent"):
            st.success(say("offer-sent"))
            session.keep("offer.sent", None)
        st.markdown(plain(*offer_words.price_lines(say, found, literal)))
        counted = found.round
        if found.price_usd is not None:
            st.progress(min(1.0, counted.yes / counted.needed), offer_words.state_line(say, found))
        elif found.why_not not in ("bought", "other-kind"):
            st.markdown(offer_words.state_line(say, found))
        if found.lines:
            st.header(say("offer-in-head"))
            st.markdown(plain(*offer_words.held_lines(say, found), between="\n"))
        st.markdown(f"**{say('offer-contract')}**")
        if found.price_usd is not None and standing.odds_stand:
            take_or_not(found.price_usd)
        if found.why_not != "bought" and (found.why_not != "other-kind" or found.other_kinds):
            reply_form(home, found)
    widgets.caution_line()
