"""Form rounds: which homes buy from whom and when; who has said yes; what each saves; what happens at the edge."""

from datetime import timedelta

import streamlit as st

from survey_app.purchase.households import PurchaseRound, UnusableRounds
from survey_app.purchase.plan import AskedRounds
from survey_app.reports.as_upload import rows_bytes
from survey_app.reports.bid_papers import alone_rows, buyer_rows, edge_lines, state_rows
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

widgets.wide()
st.title("Form rounds")
survey = session.survey()
rounds = survey.purchase_rounds()
yes, maybe = rounds.interested()
st.markdown(
    f"**{yes}** homes say yes and **{maybe}** maybe to buying together, by their reply to an offer or else by the "
    "survey. Form the rounds from these first; each home then sees its own price and says a firm yes, maybe or no."
)
for step in rounds.next_steps():
    st.markdown(f"- {literal(step.sentence)}")
if waiting := rounds.waiting_kinds():
    kinds = ", ".join(f"{n} {kind}" for kind, n in waiting.items())
    st.info(
        f"{sum(waiting.values())} of them wait: no bid on file is for their kind of heater ({kinds}). They are in no "
        "round and are told so. Ask for bids for their kind, or leave it to each of them to ask for another kind."
    )
with st.form("rounds", border=False):
    left, middle, right = st.columns(3)
    count = left.number_input("How many rounds", 1, 6, 2, key="rounds.count")
    weeks = middle.number_input("Weeks of each", 1, 26, 4, key="rounds.weeks")
    apart = right.number_input("Weeks from one to the next", 1, 52, 13, key="rounds.apart")
    left, right = st.columns(2)
    first = left.date_input("The first begins", survey.today + timedelta(days=60), key="rounds.first")
    needed = right.number_input("A round goes ahead at so many firm yes", 1, 500, 10, key="rounds.needed")
    with_maybe = st.checkbox("Count a maybe as a yes", value=True, key="rounds.maybe")
    firm = st.checkbox("Count firm replies alone, not what was said in the survey", key="rounds.firm")
    go = st.form_submit_button("Form the rounds", type="primary", width="stretch")
if go:
    times = tuple(
        PurchaseRound(name=f"Round {i + 1}", begins=first + timedelta(weeks=int(apart) * i), weeks=int(weeks))
        for i in range(int(count))
    )
    asked = AskedRounds(rounds=times, with_maybe=with_maybe, needed=int(needed), firm_only=firm)
    try:
        with st.spinner("Looking for the rounds that cost the households least …"):
            rounds.form(asked)
    except UnusableRounds as why:
        st.error(literal(why))
formed = rounds.latest()
if formed is not None:
    st.header(f"Formed on {formed.made_at:%d %B %Y}")
    for one in rounds.states():
        st.markdown(f"- **{literal(one.round_name)}, {literal(one.contractor)}:** {literal(one.state.sentence)}")
    widgets.show_rows(state_rows(rounds.states()))
    for sentence in formed.rounds.sentences:
        st.markdown(f"- {literal(sentence)}")
    if formed.rounds.edges:
        st.header("If homes drop out")
        for line in edge_lines(formed.rounds.edges):
            st.markdown(f"- {literal(line)}")
    rows = buyer_rows(rounds.buyers())
    if rows:
        st.header("Homes by round, crew-day and street")
        widgets.show_rows(rows)
        sheet = rows_bytes("rounds.xlsx", rows, {k: k for k in rows[0]})
        st.download_button("This list (xlsx)", sheet, "rounds.xlsx", key="rounds.sheet")
        st.markdown("It names homes and is for organizing this purchase alone.")
    if formed.rounds.alone:
        st.header("Who does better alone, or waits")
        address = rounds.addresses([a.home_id for a in formed.rounds.alone])
        widgets.show_rows(alone_rows(formed.rounds.alone, address))
st.page_link("committee/new_heaters.py", label="Put new heaters on file", width="stretch")
widgets.caution_line()
