"""Take a price, replace on one's own, or wait: the verdict and the three ways, then what can be changed, then why."""

import streamlit as st

from survey_app.economics import OVER_YEARS, words
from survey_app.records import Symptom
from survey_app.ui import home_decision, session, widgets
from survey_app.ui.literal import plain
from survey_app.ui.reported_here import show_reported
from survey_app.ui.ways_picture import ways_picture

say = session.say()
st.title(say("decision-title"))
if session.actor().home_id is None:
    st.markdown(f"{say('decision-lead')} {say('decision-open-first')}")
    st.page_link("resident/my_heater.py", label=say("decision-open"), width="stretch")
else:
    home = session.one_home()
    standing, odds = home.standing(), home.odds()
    show_reported(standing, home)
    if standing.heater is not None and Symptom.LEAK in standing.heater.symptoms:
        st.warning(say("decision-leak-first"))
    if not standing.odds_stand:
        st.page_link("resident/buy_the_next_one.py", label=say("nav-buy"), width="stretch")
        st.page_link("resident/group_offer.py", label=say("door-offer"), width="stretch")
        widgets.cautions()
        st.stop()
    on_file = home_decision.prices(home, standing)
    top = st.container()
    home_decision.ask_prices(on_file)
    with st.expander(say("decision-household-head")):
        home_decision.ask_household(standing, on_file)
    with st.expander(say("decision-amounts-head")):
        home_decision.ask_amounts(standing, on_file)
    found = home_decision.weighed(home, standing, home_decision.asked(standing, on_file))
    with top:
        summary = words.summary_lines(say, found, odds)
        notes = home_decision.other_kind_line(standing, on_file), home_decision.default_line(standing, on_file)
        st.markdown(plain(*summary, *notes))
        if found.refused is None:
            st.header(say("decision-ways-head", years=say.number(OVER_YEARS)))
            st.html(ways_picture(say, words.way_rows(say, found)))
            st.markdown(plain(*words.ways_lines(say, found)))
    if found.refused is None:
        left, right = st.columns(2)
        left.markdown(plain(*words.neutral_lines(say, found)))
        right.markdown(plain(*words.personal_lines(say, found)))
        st.header(say("decision-catch-head"))
        st.markdown(say("decision-catch-help"))
        st.markdown(plain(*words.mitigation_rows(say, found), between="\n"))
        with st.expander(say("decision-details-head")):
            st.markdown(plain(*words.detail_lines(say, found)))
        st.markdown(plain(*words.rests_on_lines(say, found, odds), between="\n"))
    st.page_link("resident/answer_for_my_home.py", label=say("decision-answer"), width="stretch")
    widgets.caution_line()
