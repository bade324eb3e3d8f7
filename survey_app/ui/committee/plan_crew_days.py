"""Plan service days: what for, when, with how many crews; the tool chooses homes, days and order."""

from datetime import time, timedelta

import streamlit as st

from survey_app.service_days import JOBS, Asked, CannotPlan, job_named, read_prices
from survey_app.texts import ENGLISH
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

st.title("Plan service days")
st.markdown(
    "You have found a contractor who comes for full days. Say when and with how many crews; you get the days, the "
    "homes of each, and an order a crew can drive. Only homes that said they would join are planned."
)
survey = session.survey()
rounds = survey.service_rounds()
offered = [job.name for job in JOBS]
job = job_named(st.radio("What for?", offered, format_func=str.capitalize, key="days.job", horizontal=True))
found = rounds.interested(job)
st.markdown(found.sentence)
st.markdown(ENGLISH("days-pays"))
with st.form("days", border=False):
    left, right = st.columns(2)
    first = left.date_input("First day", survey.today + timedelta(days=14), key="days.first")
    count = right.number_input("How many days, at most", 1, 60, 5, key="days.count")
    names = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
    weekdays = st.multiselect("On which weekdays", names, list(names[:5]), key="days.weekdays")
    left, right = st.columns(2)
    start = left.time_input("Work begins", time(8), key="days.start", step=900)
    end = right.time_input("Work ends", time(17), key="days.end", step=900)
    left, right = st.columns(2)
    crews = left.number_input("Crews on each day", 1, 20, 1, key="days.crews")
    lunch = right.number_input("Lunch break, minutes", 0, 120, 30, key="days.lunch")
    left, right = st.columns(2)
    least = left.number_input(
        "Fewest homes for a crew to come", 1, 100, survey.settings().crew_minimum_homes, key="days.least"
    )
    most = right.number_input("Most homes a day (0: no limit)", 0, 200, 0, key="days.most")
    prices = st.text_input(
        "Price of one home: one figure, or by homes a day, such as 1: 150, 10: 130, 20: 115", key="days.prices"
    )
    contractor = st.text_input(
        "Who comes: the contractor's name and phone, as the homes are to read it", key="days.contractor", max_chars=120
    )
    begin = st.text_input("Where the crews start: an address here (blank: the middle of the homes)", key="days.begin")
    maybe = st.checkbox("Plan for homes that said maybe, too (they count half)", value=True, key="days.maybe")
    go = st.form_submit_button("Plan the days", type="primary", width="stretch")
if go:
    days = [first + timedelta(days=i) for i in range(400)]
    dates = tuple(d for d in days if names[d.weekday()] in weekdays)[: int(count)]
    bar = st.progress(0.0, "Planning …")
    try:
        steps, one_price = read_prices(prices)
        made = rounds.plan(
            Asked(
                job=job,
                dates=dates,
                crews=int(crews),
                start_s=start.hour * 3600 + start.minute * 60,
                end_s=end.hour * 3600 + end.minute * 60,
                lunch_s=int(lunch) * 60,
                min_homes=int(least),
                max_homes=int(most),
                price_steps=steps,
                price_usd=one_price,
                contractor=contractor.strip(),
                maybe_too=maybe,
                start_place=rounds.place_of(begin) if begin.strip() else None,
            ),
            progress=lambda share, words: bar.progress(min(1.0, share), words.capitalize()),
        )
        session.keep("days.plan", made.plan_id)
        session.go("committee/crew_days.py")
    except ValueError as why:
        bar.empty()
        if not isinstance(why, CannotPlan):
            st.error(literal(why))
            st.stop()
        for sentence in why.problems or ("Nothing can be planned with these days and hours.",):
            st.error(literal(sentence))
widgets.cautions()
