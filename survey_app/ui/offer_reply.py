"""A household's word on its offer: what it would pay, by when, for which kind; changed and taken back."""

from __future__ import annotations

import streamlit as st

from survey_app.purchase import offer_words
from survey_app.purchase.offers import Offer
from survey_app.records import HeaterKind, Interest
from survey_app.survey.one_home import OneHome
from survey_app.texts import Texts
from survey_app.ui import session, widgets
from survey_app.ui.literal import plain

__all__ = ["reply_form"]


def reply_form(home: OneHome, offer: Offer) -> None:
    """What the household says to its offer; what was said before can be changed or taken back."""
    say = session.say()
    st.header(say("offer-reply-head"))
    st.markdown(say("offer-reply-help"))
    if told := offer_words.said_lines(say, offer):
        st.info(plain(*told))
    answers, today = offer_words.answer_words(say, priced=offer.price_usd is not None), home.today()
    most = "offer-limit" if offer.price_usd is not None else "offer-limit-open"
    with st.form("offer", border=False):
        wants = _wanted_kind(say, offer) if offer.other_kinds or offer.wants else None
        head = say("offer-reply-head")
        choice = st.radio(head, list(answers), index=None, format_func=answers.__getitem__, key="offer.says")
        limit = st.number_input(say(most), 1.0, 50000.0, offer.limit_usd, format="%g", key="offer.limit")
        kept = offer.latest if offer.latest and offer.latest >= today else None
        latest = st.date_input(say("offer-latest"), kept, min_value=today, key="offer.latest")
        sent = st.form_submit_button(say("offer-send"), type="primary", width="stretch")
    if sent and choice is None:
        st.error(say("offer-choose"))
    elif sent:
        home.reply_to_offer(Interest(str(choice)), limit_usd=limit, latest=latest, to=offer, wants=wants)
        session.keep("offer.sent", True)
        session.keep("offer.taken", None)
        st.rerun()
    _take_back(home, said=bool(told))


def _take_back(home: OneHome, *, said: bool) -> None:
    say = session.say()
    words = (say("offer-take-back"), say("offer-take-back-sure"), say("offer-take-back-yes"))
    if said and widgets.asked_first("offer", "mine", *words):
        session.keep("offer.taken", home.take_back_reply())
        st.rerun()
    taken = session.kept("offer.taken")
    if taken is not None:
        st.info(say("offer-taken-back"))
        if st.button(say("offer-bring-back"), key="offer.bring", width="stretch"):
            home.put_back_reply(taken)
            session.keep("offer.taken", None)
            st.rerun()


def _wanted_kind(say: Texts, offer: Offer) -> HeaterKind | None:
    """Which kind of heater it wants; None for its own."""
    asked = offer.kind if offer.wants else None
    kinds: list[HeaterKind | None] = [None, *offer.other_kinds]
    kinds += [] if asked in kinds else [asked]
    found = st.selectbox(
        say("offer-wants"),
        kinds,
        kinds.index(asked),
        format_func=lambda kind: offer_words.wish_words(say, offer, kind),
        key="offer.wants",
    )
    st.markdown(say("offer-wants-help"))
    return found
