"""Replace now, wait, or the household's call: the verdict first, then what it rests on and what can be changed."""

from dataclasses import replace

import streamlit as st

from survey_app.economics import Amounts, Household, Tolerance, amounts_in_use, decide, household_of, words
from survey_app.records import Symptom, Tri
from survey_app.ui import session, widgets
from survey_app.ui.literal import plain

say = session.say()


def choose(key: str, labels: dict[str, str], question: str) -> str:
    told, last = {value: plain(label) for value, label in labels.items()}, len(labels) - 1
    return st.radio(plain(question), list(told), last, format_func=lambda value: told[value], key=f"decision.{key}")


def ask_household(found: Household) -> Household:
    answers = {str(t): say(f"decision-{str(t).replace(' ', '-')}") for t in Tri}
    drain = found.has.pan and choose("drained", answers, say("decision-drained")) == Tri.YES
    insured = Tri(choose("insured", answers, say("decision-insured")))
    st.markdown(say("decision-insured-help"))
    days = st.number_input(say("decision-days-empty"), 0, 365, 0, key="decision.days_empty")
    st.markdown(say("decision-days-empty-help"))
    return replace(found, has=replace(found.has, drain=drain), insured=insured, days_empty=float(days or 0))


def ask_amounts(amounts: Amounts, household: Household) -> Amounts:
    typed: dict[str, float | None] = {}
    with st.expander(say("decision-amounts-head")):
        st.markdown(say("decision-amounts-help"))
        for name in amounts_in_use(household):
            least, most, default = *words.amount_limits(name), words.as_typed(amounts, name)
            label = plain(words.amount_label(say, name))
            typed[name] = st.number_input(label, least, most, default, format="%g", key=f"decision.{name}")
            st.markdown(plain(words.amount_source(say, name, household.kind)))
    return words.from_typed(amounts, typed)


st.title(say("decision-title"))
if session.actor().home_id is None:
    st.markdown(f"{say('decision-lead')} {say('decision-open-first')}")
    st.page_link("resident/my_heater.py", label=say("decision-open"), width="stretch")
else:
    home = session.one_home()
    standing, odds = home.standing(), home.odds()
    widgets.show_first_things(standing.comes_first)
    if standing.heater is not None and Symptom.LEAK in standing.heater.symptoms:
        st.warning(say("decision-leak-first"))
    top = st.container()
    st.header(say("decision-household-head"))
    household = ask_household(household_of(standing))
    feeling = choose("risk", words.risk_labels(say), words.risk_question(say))
    offer = st.number_input(say("decision-offer"), 1.0, 50000.0, None, format="%g", key="decision.offer")
    st.markdown(say("decision-offer-help"))
    amounts = ask_amounts(Amounts.from_settings(session.survey().settings(), household.kind), household)
    tolerance = Tolerance(feeling) if feeling else None
    found = decide(home.lives()[0], standing.age_years, amounts, household, tolerance=tolerance, offer_usd=offer)
    with top:
        st.markdown(plain(*words.summary_lines(say, found, odds)))
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
    widgets.cautions()
