"""One home's offer in the group purchase: what is in it, keep or take, and the household's own yes, maybe or no."""

import streamlit as st

from survey_app.economics import Amounts, decide, household_of, words
from survey_app.purchase import offer_words
from survey_app.purchase.offers import Offer
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

say = session.say()


def plain(*lines: str, between: str = "\n\n") -> str:
    return between.join(lines).replace("$", "\\$")  # a dollar sign, not the start of a formula


def keep_or_take(offer: Offer, price: float) -> None:
    st.header(say("offer-decide-head"))
    household = household_of(standing)
    amounts = Amounts.from_settings(session.survey().settings(), household.kind)
    amounts = amounts.changed({"planned_price_usd": offer.alone_usd})  # the same complete job, bought alone
    verdict = decide(home.lives()[0], standing.age_years, amounts, household, offer_usd=price)
    st.markdown(plain(*words.summary_lines(say, verdict, home.odds())))
    if verdict.refused is None:
        st.markdown(plain(*words.neutral_lines(say, verdict), say("offer-decide-help")))
    st.page_link("resident/replace_or_wait.py", label=say("door-decide"), width="stretch")


def reply_form(offer: Offer) -> None:
    st.header(say("offer-reply-head"))
    st.markdown(say("offer-reply-help"))
    if told := offer_words.said_lines(say, offer):
        st.info(plain(*told))
    answers, today = offer_words.ANSWERS, home.today()
    with st.form("offer", border=False):
        head = say("offer-reply-head")
        choice = st.radio(head, list(answers), index=None, format_func=lambda i: say(answers[i]), key="offer.says")
        limit = st.number_input(say("offer-limit"), 1.0, 50000.0, offer.limit_usd, format="%g", key="offer.limit")
        kept = offer.latest if offer.latest and offer.latest >= today else None
        latest = st.date_input(say("offer-latest"), kept, min_value=today, key="offer.latest")
        sent = st.form_submit_button(say("offer-send"), type="primary", width="stretch")
    if sent and choice is None:
        st.error(say("offer-choose"))
    if sent and choice is not None:
        home.reply_to_offer(choice, limit_usd=limit, latest=latest, to=offer)
        session.keep("offer.sent", True)
        st.rerun()


st.title(say("offer-title"))
st.markdown(say("offer-lead"))
if session.actor().home_id is None:
    st.markdown(say("door-open-first"))
    st.page_link("resident/my_heater.py", label=say("door-my-heater"), width="stretch")
else:
    home = session.one_home()
    standing, found = home.standing(), home.offer()
    widgets.show_first_things(standing.comes_first)
    if found is None:
        st.info(say("offer-none"))
        st.page_link("resident/answer_for_my_home.py", label=say("door-answer"), width="stretch")
    else:
        if session.kept("offer.sent"):
            st.success(say("offer-sent"))
            session.keep("offer.sent", None)
        st.markdown(plain(*offer_words.price_lines(say, found, literal)))
        counted = found.round
        st.progress(min(1.0, counted.yes / counted.needed), offer_words.state_line(say, found))
        if found.lines:
            st.header(say("offer-in-head"))
            st.markdown(plain(*offer_words.held_lines(say, found), between="\n"))
        st.markdown(f"**{say('offer-contract')}**")
        if found.price_usd is not None:
            keep_or_take(found, found.price_usd)
        if found.why_not not in ("bought", "other-kind"):
            reply_form(found)
    widgets.cautions()
