"""Buying the next heater: a list to take along, the price, the size, tank or tankless with the gas line."""

import streamlit as st

from survey_app.advice import buying, sizing
from survey_app.prices import PriceList, SizeClass, size_class
from survey_app.records import HeaterKind, Place
from survey_app.reports.buying_list import buying_list_pdf
from survey_app.reports.home_record import named
from survey_app.ui import session, widgets
from survey_app.ui.buying_forms import figure, first_hour_form, gas_line_form, tell

say = session.say()
survey = session.survey()
standing = session.one_home().standing() if session.actor().home_id else None
heater = standing.heater if standing else None

st.title(say("buying-title"))
if standing:
    widgets.show_first_things(standing.comes_first)
tell(say("buying-lead"))
today = heater.kind if heater else HeaterKind.UNKNOWN
kinds, places = list(buying.CHOICES), list(Place)
kind = st.selectbox(
    say("buying-kind"),
    kinds,
    kinds.index(today) if today in kinds else 0,
    format_func=lambda k: named(say, "kind", k),
    key="buying.kind",
)
size = st.selectbox(
    say("buying-size"),
    list(SizeClass),
    list(SizeClass).index(size_class(heater.tank_gallons if heater else None)),
    format_func=lambda s: say("price-size-large" if s is SizeClass.LARGE else "price-size-usual"),
    key="buying.size",
)
place = st.selectbox(
    say("buying-place"),
    places,
    places.index(heater.place if heater else Place.UNKNOWN),
    format_func=lambda p: named(say, "place", p),
    key="buying.place",
)

st.header(say("buying-head-list"))
tell(say("buying-list-lead"))
often, more = st.container(), st.expander(say("buying-more"))
for item, (what, why) in zip(buying.specification(kind, place), buying.spec_rows(kind, place, say), strict=True):
    (more if item.seldom else often).checkbox(f"**{what}**  \n{why}", key=f"buying.tick.{item.key}")
take_along = st.container()

st.header(say("buying-head-price"))
offered = figure(say("buying-offer"), "buying.offer", None, high=999_999.0, step=25.0)
try:
    tell(*buying.price_sentences(PriceList(survey.settings()).at(kind, size or SizeClass.USUAL), offered, say))
except buying.UnusablePrice as unusable:
    st.error(str(unusable))

st.header(say("sizing-head"))
tell(say("sizing-lead"))
need = first_hour_form(say)
if need:
    tell(*sizing.sizing_sentences(need, heater.tank_gallons if heater else None, today, say))
paper = buying_list_pdf(kind, place, survey.state().community, say, as_of=survey.today, need=need)
take_along.download_button(
    say("buying-take"), paper, "water-heater-list.pdf", "application/pdf", width="stretch", key="buying.pdf"
)

st.header(say("buying-head-tankless"))
tell(*say.lines("buying-tankless"))
st.header(say("gasline-head"))
tell(*say.lines("gasline-lead"))
with st.expander(say("gasline-open")):
    verdict = gas_line_form(say)
    if verdict:
        st.info(verdict.sentences(say)[0])
        tell(*verdict.sentences(say)[1:], say("gasline-source"))

st.header(say("buying-head-setpoint"))
tell(*buying.setpoint_sentences(say))
widgets.cautions()
