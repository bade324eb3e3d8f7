"""The report to the board, on paper."""

import streamlit as st

from survey_app.ui import shared_pages

st.title("Report to the board")
st.markdown(
    "Where the heaters stand, who answered, what will be lost, what policies cost and which service days were held: "
    "everything in it may be published. No home is named, and no count from 1 to 10 is shown."
)
st.download_button(
    "Get the report (PDF)",
    shared_pages.board_paper(),
    "board_report.pdf",
    "application/pdf",
    key="board.save",
    width="stretch",
)
