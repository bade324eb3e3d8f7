"""Ask for bids: how many homes would buy, of what kind, and one neutral request for every contractor."""

from datetime import timedelta

import streamlit as st

from survey_app.reports.as_upload import bid_template_bytes
from survey_app.reports.bid_papers import group_name, request_pdf
from survey_app.texts import ENGLISH
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

st.title("Ask for bids")
survey = session.survey()
left, right = st.columns(2)
until = left.date_input("Bids are asked for by", survey.today + timedelta(days=28), key="bids.until")
by_when = right.date_input("Work to be done by", survey.today + timedelta(days=180), key="bids.by")
rounds = survey.purchase_rounds()
request = rounds.request(by_when=by_when, bids_until=until)
for sentence in request.sentences:
    st.markdown(f"- {literal(sentence)}")
if request.homes:
    st.header("What is asked for")
    widgets.show_rows(
        [
            {
                "kind": str(x.kind),
                "gallons": f"{x.gallons:g}" if x.gallons else "no tank",
                "vent pipe today": str(x.venting),
                "place": str(x.place),
                "homes": x.homes,
            }
            for x in request.lots
        ]
    )
    st.header("Where")
    widgets.show_rows([{"street or group": group_name(name), "homes": n} for name, n in request.groups])
    st.header("The scope of a complete job")
    widgets.show_rows(
        [
            {"homes": r.homes_certain, "perhaps": r.homes_unsure, "item": r.label, "why": r.item.why}
            for r in request.scope
        ]
    )
    paper = request_pdf(request, survey.state().community, ENGLISH)
    st.download_button(
        "The request for every contractor (PDF)", paper, "bid_request.pdf", key="bids.request", width="stretch"
    )
st.download_button(
    "A sheet to enter bids (xlsx)", bid_template_bytes(), "bids.xlsx", key="bids.template", width="stretch"
)
st.page_link("committee/bids_side_by_side.py", label="Bids side by side", width="stretch")
widgets.caution_line()
