"""Bids side by side on the same complete job, and where their order changes."""

import streamlit as st

from survey_app.prices import PriceList, price_line
from survey_app.purchase.bid_sheet import UnusableBidFile
from survey_app.reports.as_upload import bid_mend_bytes, bids_from_upload
from survey_app.reports.bid_papers import chart_of_bids, comparison_rows, kinds_words, scope_rows
from survey_app.texts import ENGLISH
from survey_app.ui import session, widgets
from survey_app.ui.bid_entry import bid_form
from survey_app.ui.literal import literal, plain

widgets.wide()
st.title("Bids side by side")
survey = session.survey()
rounds = survey.purchase_rounds()
upload = st.file_uploader("A sheet of bids (.csv or .xlsx)", type=["csv", "xlsx"], key="compare.file")
if upload is not None and st.button("Take these bids", type="primary", key="compare.take"):
    try:
        sheet = bids_from_upload(upload.name, upload.getvalue(), survey.today, rounds.bids())
        rounds.put_bids(sheet.bids)
        session.keep("compare.sheet", sheet)
    except (UnusableBidFile, ValueError) as why:
        session.keep("compare.sheet", None)
        st.error(literal(why))
with st.expander("Or type one bid"):
    try:
        typed = bid_form(rounds, survey.today)
        if typed is not None:
            rounds.put_bids(typed.bids)
            session.keep("compare.sheet", typed)
    except (UnusableBidFile, ValueError) as why:
        st.error(literal(why))
if (sheet := session.kept("compare.sheet")) is not None:
    st.success(f"{len(sheet.bids)} bids are on file. {len(sheet.rejected)} rows need mending.")
    for note in (*sheet.notes, *(p.sentence for p in sheet.problems)):
        st.markdown(f"- {literal(note)}")
    if sheet.rejected:
        mend = bid_mend_bytes(sheet)
        st.download_button("Get the rows to mend", mend, "bids_to_mend.xlsx", key="compare.mend")
bids = rounds.bids()
if not bids:
    st.info("There is no bid yet. Ask for bids, enter what comes back in the sheet, and bring it here.")
    st.page_link("committee/ask_for_bids.py", label="Ask for bids", width="stretch")
    st.stop()
prices = PriceList(survey.settings())
st.markdown(plain(ENGLISH("price-complete")))
for kinds in rounds.kinds():
    # Bids for other kinds of heater are another job: each kind is compared by itself.
    found = rounds.compare(up_to=60, kinds=kinds)
    st.header(f"Bids for {kinds_words(kinds)}")
    for kind in kinds:
        st.markdown(f"Alone: {plain(price_line(prices.at(kind)))}")
    for sentence in found.sentences:
        st.markdown(f"- {literal(sentence)}")
    for caution in found.cautions:
        st.warning(literal(caution))
    st.vega_lite_chart(chart_of_bids(found, 60), width="stretch")
    widgets.show_rows(comparison_rows(found))
    if len(found.crossings) > 1:
        st.markdown("**Where the order changes**")
        order = [{"from homes on": c.from_homes, "cheapest first": ", ".join(c.order)} for c in found.crossings]
        widgets.show_rows(order)
st.header("Item by item")
widgets.show_rows(scope_rows(bids))
gone = st.selectbox("Take a bid off", [b.contractor for b in bids], index=None, key="compare.drop")
if gone is not None and st.button(f"Take {literal(gone)} off", key="compare.drop.go"):
    rounds.drop_bid(gone)
    st.rerun()
st.page_link("committee/form_rounds.py", label="Form rounds", width="stretch")
widgets.caution_line()
