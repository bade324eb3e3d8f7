"""New heaters on file: who bought what, installed when, in warranty until when."""

import streamlit as st

from geo.addresses import readable
from survey_app.errors import NotThere
from survey_app.records import HeaterKind
from survey_app.reports.bid_papers import bought_rows
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

st.title("New heaters on file")
st.markdown(
    "Once a heater is in, put it on file. The old one then ends as *replaced before failing*, which the forecast "
    "depends on, and the home's door shows the new one and its warranty."
)
survey = session.survey()
rounds = survey.purchase_rounds()
rows = {row.home_id: row for row in rounds.buyers()}
done = rounds.installed()
if said := session.kept("installed.said"):
    st.success(literal(said))
    session.keep("installed.said", None)
waiting = [home_id for home_id in rows if home_id not in {b.home_id for b in done}]
if waiting:
    with st.form("installed", border=False):
        where = st.selectbox(
            "Home", waiting, index=None, format_func=lambda k: readable(rows[k].address), key="installed.home"
        )
        when = st.date_input("Installed on", survey.today, max_value=survey.today, key="installed.on")
        kind = st.selectbox("Kind", list(HeaterKind), index=None, key="installed.kind")
        gallons = st.number_input("Gallons (open: not known, or no tank)", 1.0, 200.0, None, key="installed.gallons")
        years = st.number_input("Warranty, years (open: not known)", 1.0, 30.0, None, key="installed.years")
        failed = st.checkbox("The old one had failed before", key="installed.failed")
        sent = st.form_submit_button("Put it on file", type="primary", width="stretch")
    if sent and (where is None or kind is None):
        st.error("Say which home and which kind of heater.")
    elif sent:
        try:
            rounds.record_installed(
                str(where),
                when,
                kind=HeaterKind(str(kind)),
                gallons=gallons,
                warranty_years=years,
                contractor=rows[str(where)].contractor,
                had_failed=failed,
            )
            session.keep("installed.said", f"{readable(rows[str(where)].address)}: on file.")
            st.rerun()
        except (NotThere, ValueError) as why:
            st.error(literal(why))
else:
    st.info("No home of the rounds waits for its new heater.")
    st.page_link("committee/form_rounds.py", label="Form rounds", width="stretch")
if done:
    st.header(f"On file: {len(done)}")
    widgets.show_rows(bought_rows(done))
    wrong = st.selectbox(
        "Take one back",
        [b.event_id for b in done],
        index=None,
        format_func=lambda k: next(f"{readable(b.address)}, {b.on:%d %b %Y}" for b in done if b.event_id == k),
        key="installed.wrong",
    )
    if wrong is not None and st.button("Take it back: the old heater is in service again", key="installed.undo"):
        rounds.undo_installed(wrong)
        st.rerun()
widgets.caution_line()
