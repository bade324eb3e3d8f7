"""The flush and the anode, explained: when to leave it alone, the order of work, how long it takes, what it says."""

import streamlit as st

from survey_app.advice import draining, flushing
from survey_app.records import HeaterKind
from survey_app.reports.home_record import named
from survey_app.symptoms import Crew, strictest_crew
from survey_app.ui import session, widgets
from survey_app.ui.buying_forms import figure, tell
from survey_app.ui.reported_here import show_reported

say = session.say()
home = session.one_home() if session.actor().home_id else None
found = home.standing() if home else None
reported = [report.what for report in found.reported] if found else []
heater = found.heater if found else None
old = session.survey().settings().never_flushed_caution_years


def told(key: str) -> str:
    return say(f"flushing-not-{key}", years=say.number(old))


st.title(say("flushing-title"))
if found:
    show_reported(found, home)
tell(say("flushing-lead"))
tell(say("days-pays"))
kinds = list(HeaterKind)
kind = st.selectbox(
    say("flushing-kind"),
    kinds,
    kinds.index(heater.kind if heater else HeaterKind.UNKNOWN),
    format_func=lambda k: named(say, "kind", k),
    key="flushing.kind",
)
st.header(say("flushing-head-not"))
if found and heater:
    flushed = any(care.what == "flush" and care.last for care in found.cares)
    age = found.age_years[1] if found.age_years else None
    shown = flushing.reasons_not_to(heater, age, flushed=flushed, caution_years=old, reported=reported)
    if shown:
        st.warning("\n\n".join([f"**{say('flushing-not-home')}**", *map(told, shown)]))
tell(say("flushing-not-lead"))
tell("\n".join(f"- {told(key)}" for key in flushing.NOT_YOURSELF))
# Before the work, not after it.
widgets.cautions()

if kind is HeaterKind.TANKLESS:
    st.info(say("flushing-tankless"))
elif strictest_crew(reported) is not Crew.COMES:
    # No steps for somebody whose heater nobody should touch before it was looked at.
    st.warning(say("flushing-not-now"))
else:
    st.header(say("flushing-head-steps"))
    tell(say("flushing-steps-lead"))
    steps = [step.replace("\n", "  \n    ") for step in flushing.flush_steps(kind, say)]
    tell("\n".join(f"{n}. {step}" for n, step in enumerate(steps, 1)))
    st.header(say("flushing-head-drain"))
    tell(say("flushing-drain-lead"))
    size = heater.tank_gallons if heater and heater.tank_gallons else 50.0
    gallons = figure(say("flushing-gallons"), "flushing.gallons", min(size, 500.0), high=999.0, step=5.0)
    bores = draining.VALVE_BORES_IN
    valve = st.radio(
        say("flushing-valve"), list(bores), format_func=lambda b: say(f"flushing-valve-{b}"), key="flushing.valve"
    )
    feet = figure(say("flushing-hose"), "flushing.hose", 25.0, high=999.0, step=5.0)
    below = figure(say("flushing-below"), "flushing.below", 18.0, high=999.0, step=6.0)
    try:
        hose = draining.Hose(length_ft=feet or 0.0, end_below_in=below or 0.0)
        tell(*draining.drain_sentences(gallons or 0.0, bores[str(valve)], hose, say))
    except draining.UnusableDraining as unusable:
        st.error(str(unusable))
    st.header(say("flushing-head-findings"))
    tell("\n".join(f"- **{seen}:** {says}" for seen, says in flushing.finding_rows(say)))
    st.header(say("flushing-head-anode"))
    tell(*flushing.anode_sentences(say))
st.header(say("flushing-head-relief"))
tell(*flushing.relief_valve_sentences(say), draining.expansion_sentence(50.0, say=say))
st.header(say("flushing-head-away"))
tell("\n".join(f"- {line}" for line in say.lines("flushing-away")))
