"""Form rounds: which homes buy from whom and when; what each saves; what was installed goes on file."""

from datetime import timedelta

import streamlit as st

from survey_app.purchase.households import PurchaseRound, UnusableRounds
from survey_app.records import HeaterKind
from survey_app.survey import AskedRounds
from survey_app.ui import session, widgets

widgets.wide()
st.title("Form rounds")
survey = session.survey()
rounds = survey.purchase_rounds()
left, middle, right = st.columns(3)
count = left.number_input("How many rounds", 1, 6, 2, key="rounds.count")
weeks = middle.number_input("Weeks of each", 1, 26, 4, key="rounds.weeks")
apart = right.number_input("Weeks from one to the next", 1, 52, 13, key="rounds.apart")
left, right = st.columns(2)
first = left.date_input("The first begins", survey.today + timedelta(days=60), key="rounds.first")
needed = right.number_input("It goes ahead at so many homes", 1, 500, 10, key="rounds.needed")
maybe = st.checkbox("Count a maybe as a yes", value=True, key="rounds.maybe")
st.markdown(rounds.threshold(int(needed)).sentence)
for step in rounds.next_steps():
    st.markdown(f"- {step.sentence}".replace("$", "\\$"))
if st.button("Form the rounds", type="primary", key="rounds.go", width="stretch"):
    times = tuple(
        PurchaseRound(name=f"Round {i + 1}", begins=first + timedelta(weeks=int(apart) * i), weeks=int(weeks))
        for i in range(int(count))
    )
    try:
        with st.spinner("Looking for the rounds that cost the households least …"):
            rounds.form(AskedRounds(rounds=times, with_maybe=maybe, needed=int(needed)))
        st.rerun()
    except UnusableRounds as why:
        st.error(str(why))
formed = rounds.latest()
if formed is not None:
    made = formed.rounds
    st.header(f"Formed on {formed.made_at:%d %B %Y}")
    for sentence in made.sentences:
        st.markdown(f"- {sentence}".replace("$", "\\$"))
    if made.fairness is not None:
        fair = made.fairness
        st.markdown(
            f"Saving of a household: \\${fair.least_saving_usd:,.0f} to \\${fair.most_saving_usd:,.0f}, half of them "
            f"\\${fair.median_saving_usd:,.0f} or more; nobody pays more than alone."
        )
    for edge in made.edges:
        st.markdown(f"- {edge.sentence}".replace("$", "\\$"))
    address = rounds.addresses([*(p.home_id for p in made.purchases), *(a.home_id for a in made.alone)])
    widgets.show_rows(
        [
            {
                "round": p.round_name,
                "contractor": p.contractor,
                "street": p.group,
                "address": address.get(p.home_id, ""),
                "price, USD": round(p.price_usd, 2),
                "saves, USD": round(p.saving_usd, 2),
            }
            for p in made.purchases
        ]
    )
    if made.alone:
        st.header("Who does better alone, or waits")
        widgets.show_rows([{"address": address.get(a.home_id, ""), "why": a.reason} for a in made.alone])
    st.header("What was installed")
    st.markdown("On file, the old heater ends as replaced before failing: the forecast depends on it.")
    names = {address[p.home_id]: p.home_id for p in made.purchases if p.home_id in address}
    with st.form("installed", border=False):
        where = st.selectbox("Home", sorted(names), index=None, key="installed.home")
        when = st.date_input("Installed on", survey.today, key="installed.on")
        kind = HeaterKind(st.selectbox("Kind", [str(k) for k in HeaterKind], key="installed.kind"))
        gallons = st.number_input("Gallons (0: none)", 0.0, 200.0, 50.0, key="installed.gallons")
        years = st.number_input("Warranty, years", 0.0, 20.0, 9.0, key="installed.years")
        failed = st.checkbox("The old one had failed already", key="installed.failed")
        if st.form_submit_button("Put it on file", width="stretch") and where is not None:
            try:
                size, term = gallons or None, years or None
                rounds.record_installed(
                    names[where], when, kind=kind, gallons=size, warranty_years=term, had_failed=failed
                )
                st.success(f"{where}: on file.")
            except (LookupError, ValueError) as why:
                st.error(str(why))
    for place, event in rounds.installed()[:20]:
        st.markdown(f"- {place}: {event.kind_of_heater}, {event.on:%d %B %Y}")
        if st.button("Take this back", key=f"installed.undo.{event.event_id}"):
            rounds.undo_installed(event.home_id)
            st.rerun()
widgets.cautions()
