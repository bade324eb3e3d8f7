"""One bid typed by hand: the same rows as a sheet of bids, read and checked in the same way."""

from __future__ import annotations

import csv
import io
from datetime import date

import streamlit as st

from survey_app.purchase.bid_sheet import BidSheet
from survey_app.purchase.bids import OFFERED, TANK_KINDS
from survey_app.purchase.scope import SCOPE
from survey_app.reports.as_upload import bids_from_upload
from survey_app.survey.purchase_rounds import PurchaseRounds

__all__ = ["bid_form"]

_STEPS = 4


def bid_form(rounds: PurchaseRounds, today: date) -> BidSheet | None:
    """The form; the sheet it makes on the run in which it was sent, else None."""
    with st.form("bid", border=False):
        contractor = st.text_input("Contractor", key="bid.contractor", max_chars=120)
        st.markdown("Price of one home, complete, by the number of homes (leave later steps open)")
        steps = []
        for i in range(_STEPS):
            left, right = st.columns(2)
            count = left.text_input(f"Step {i + 1}: from homes", "1" if i == 0 else "", key=f"bid.from.{i}")
            price = right.text_input(f"Step {i + 1}: dollars a home", key=f"bid.usd.{i}")
            steps.append((count, price))
        heaters = st.multiselect(
            "The price is for these heaters", OFFERED, list(TANK_KINDS[:2]), format_func=str, key="bid.kinds"
        )
        kind = st.radio("A step's price holds for", ["all units", "incremental"], key="bid.kind", horizontal=True)
        left, right = st.columns(2)
        mobilization = left.text_input("Charge for each day, dollars", key="bid.mobilization")
        least = right.text_input("Fewest homes a day", key="bid.least")
        week = left.text_input("Heaters a week, at most", key="bid.week")
        warranty = right.text_input("Years of warranty on labor", key="bid.warranty")
        valid = left.date_input("Valid until", None, key="bid.valid")
        license_number = right.text_input("License number", key="bid.license", max_chars=60)
        license_seen = left.date_input("License seen in writing on", None, key="bid.license_seen")
        insured = left.date_input("Insurance certificate until", None, key="bid.insured")
        insurance_seen = right.date_input("Insurance certificate seen on", None, key="bid.insurance_seen")
        st.markdown("The scope, item by item. What is left open counts as missing.")
        answers = []
        for item in SCOPE:
            left, right = st.columns([2, 1])
            says = left.selectbox(item.label, ["included", "extra", "missing"], index=None, key=f"bid.item.{item.key}")
            answers.append(
                (item.key, says, right.text_input(f"Extra for {item.key}, USD", key=f"bid.extra.{item.key}"))
            )
        if not st.form_submit_button("Check and keep this bid", type="primary", width="stretch"):
            return None
    rows = [(contractor, "price step", "", n, usd) for n, usd in steps if usd.strip()]
    rows.append((contractor, "step kind", kind, "", ""))
    rows.append((contractor, "heater kinds", ", ".join(map(str, heaters)), "", ""))
    for name, value in (("minimum homes per day", least), ("units per week", week), ("labor warranty years", warranty)):
        rows += [(contractor, name, value, "", "")] if value.strip() else []
    rows += [(contractor, "mobilization per day", "", "", mobilization)] if mobilization.strip() else []
    for name, day in (
        ("valid until", valid),
        ("license seen on", license_seen),
        ("insurance until", insured),
        ("insurance seen on", insurance_seen),
    ):
        rows += [(contractor, name, day.isoformat(), "", "")] if day else []
    rows += [(contractor, "license number", license_number, "", "")] if license_number.strip() else []
    rows += [(contractor, key, says or "missing", "", usd if says == "extra" else "") for key, says, usd in answers]
    text = io.StringIO()
    csv.writer(text).writerows([("contractor", "item", "answer", "from homes", "price"), *rows])
    return bids_from_upload("typed.csv", text.getvalue().encode(), today, rounds.bids())
