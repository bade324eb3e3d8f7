"""One home's offer in the group purchase: what is in it, keep or take, and the household's own yes, maybe or no."""

import streamlit as st

from survey_app.economics import Amounts, decide, household_of, words
from survey_app.records import Interest
from survey_app.ui import session, widgets

say = session.say()
st.title(say("offer-title"))
st.markdown(say("offer-lead"))
if session.actor().home_id is None:
    st.markdown(say("door-open-first"))
    st.page_link("resident/my_heater.py", label=say("door-my-heater"), width="stretch")
    st.stop()
home = session.one_home()
found = home.offer()
if found is None:
    st.info(say("offer-none"))
    st.page_link("resident/answer_for_my_home.py", label=say("door-answer"), width="stretch")
    st.stop()


def plain(text: str) -> str:
    return text.replace("$", "\\$")  # a dollar sign, not the start of a formula


alone = say.usd(found.alone_usd)
if found.price_usd is not None and found.begins is not None:
    facts = {"contractor": found.contractor, "round": found.round_name, "begins": say.day(found.begins)}
    st.markdown(plain(say("offer-price", price=say.usd(found.price_usd), alone=alone, **facts)))
else:
    st.markdown(plain(say("offer-alone", reason=found.reason, alone=alone)))
counted = found.round
st.progress(min(1.0, counted.yes / counted.needed))
state = say("offer-round", needed=counted.needed, yes=counted.yes, maybe=counted.maybe)
more = say("offer-round-ahead") if counted.goes_ahead else say("offer-round-lacking", lacking=counted.lacking)
st.markdown(f"{state} {more}")
if found.lines:
    st.header(say("offer-in-head"))
    rows = []
    for line in found.lines:
        usd = say.usd(line.usd or 0.0)
        how = say("offer-in") if line.included else say("offer-assumed" if line.assumed else "offer-extra", usd=usd)
        if line.usd is None:
            how = say("offer-unknown")
        unsure = f" ({say('offer-unsure')})" if line.unsure else ""
        rows.append(f"- **{say('offer-item-' + line.item.replace(' ', '-'))}:** {how}{unsure}")
    st.markdown(plain("\n".join(rows)))
st.markdown(f"**{say('offer-contract')}**")
standing = home.standing()
widgets.show_first_things(standing.comes_first)
if found.price_usd is not None:
    st.header(say("offer-decide-head"))
    household = household_of(standing)
    amounts = Amounts.from_settings(session.survey().settings(), household.kind)
    verdict = decide(home.lives()[0], standing.age_years, amounts, household, offer_usd=found.price_usd)
    st.markdown(plain("\n\n".join(words.summary_lines(say, verdict, home.odds()))))
    if verdict.refused is None:
        st.markdown(plain("\n\n".join(words.neutral_lines(say, verdict))))
    st.page_link("resident/replace_or_wait.py", label=say("door-decide"), width="stretch")
st.header(say("offer-reply-head"))
st.markdown(say("offer-reply-help"))
answers = {Interest.YES: "offer-yes", Interest.MAYBE: "offer-maybe", Interest.NO: "offer-no"}
if found.says in answers:
    st.markdown(say("offer-now", says=say(answers[found.says])))
with st.form("offer", border=False):
    choice = st.radio(
        say("offer-reply-head"), list(answers), index=None, format_func=lambda i: say(answers[i]), key="offer.says"
    )
    limit = st.number_input(say("offer-limit"), 1.0, 50000.0, found.limit_usd, format="%g", key="offer.limit")
    latest = st.date_input(say("offer-latest"), found.latest, key="offer.latest")
    if st.form_submit_button(say("offer-send"), type="primary", width="stretch") and choice is not None:
        home.reply_to_offer(choice, limit_usd=limit, latest=latest)
        st.success(say("offer-sent"))
widgets.cautions()
