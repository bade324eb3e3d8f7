"""What a heater costs here: the volunteer's form for the community's own prices, and the whole table."""

from __future__ import annotations

from typing import TYPE_CHECKING

import streamlit as st

from survey_app.prices import PriceList, heater_words, list_rows, price_line, setting_names, source_line
from survey_app.settings import Settings, UnusableSettings, with_values
from survey_app.texts import ENGLISH
from survey_app.ui import widgets
from survey_app.ui.literal import plain

if TYPE_CHECKING:
    from survey_app.survey import Survey

__all__ = ["price_form"]


def price_form(survey: Survey, settings: Settings, told: str) -> None:
    """The price list as it stands, and three quotes for one row of it; `told` is where the page says what was done."""
    table = PriceList(settings)
    st.header("What a new heater costs here")
    st.markdown(
        "Ask three contractors in your area for one complete, planned job each, and enter the three prices. Until then "
        "every page shows the national figure, calls it that, and judges no offer."
    )
    st.markdown(plain(ENGLISH("price-complete")))
    widgets.show_rows(list_rows(table))
    rows = {heater_words(price): price for price in table.rows()}
    price = rows[st.selectbox("Heater", list(rows), key="prices.row") or next(iter(rows))]
    st.markdown(plain(price_line(price), source_line(price)))
    names = setting_names(price.kind, price.size)
    with st.form("prices", border=False):
        columns = st.columns(3)
        typed = {
            name: column.number_input(
                f"{which.capitalize()} of three quotes, in dollars",
                0.0,
                50_000.0,
                float(getattr(settings, name)),
                25.0,
                "%g",
                key=f"prices.{name}.{getattr(settings, name):g}",
            )
            for which, name, column in zip(("lowest", "middle", "highest"), names, columns, strict=True)
        }
        year = st.number_input(
            "Year of the quotes", 0, 2200, settings.own_prices_year or survey.today.year, key="prices.year"
        )
        st.markdown("0 means none. One price alone is shown as the price here; it takes three to judge an offer.")
        if st.form_submit_button("Keep these prices", key="prices.keep", width="stretch"):
            try:
                survey.set_up().change_settings(with_values(settings, {**typed, "own_prices_year": year}))
                widgets.tell(told, "The prices are kept. The change is in the log.")
            except UnusableSettings as unusable:
                st.error(plain(str(unusable)))
