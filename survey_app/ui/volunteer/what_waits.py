"""Where the survey stands, and what waits for the volunteer."""

import streamlit as st

from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

st.title("Where the survey stands")
survey = session.survey()
found = survey.coverage()
if not found.whole.homes:
    st.info("There are no homes yet. Load the county's parcel file first.")
    st.page_link("volunteer/set_up.py", label="Set up: load parcels")
else:
    st.markdown(f"**{found.whole.answered} of {found.whole.homes} homes have answered** ({found.whole.share:.0%}).")
    st.progress(found.whole.share)
    waiting = survey.answers().doubtful()
    if waiting:
        st.page_link(
            "volunteer/decide_addresses.py", label=f"{len(waiting)} answers wait for you to decide the address"
        )
    if unread := len(survey.plates().waiting()):
        st.page_link("volunteer/read_plates.py", label=f"Homes that sent a photo of the label, not read yet: {unread}")
    differing = session.disagreements()
    if differing:
        st.markdown(f"**{len(differing)} homes have answers that disagree.** The newest one counts until you decide:")
        for home, sentences in differing[:50]:
            st.markdown(f"- {literal(home.address)}: {literal(' '.join(sentences))}")
    st.header("Where every home stands")
    widgets.show_rows([{"standing": k, "homes": n} for k, n in survey.totals().items()])
    st.header("By phase")
    widgets.show_rows(
        [
            {"phase": s.group, "homes": s.homes, "answered": s.answered, "share": f"{s.share:.0%}"}
            for s in found.by_phase
        ]
    )
    st.header("By street, fewest answers first")
    late = sorted(found.by_street, key=lambda s: (s.share, s.group))
    widgets.show_rows(
        [{"street": s.group, "homes": s.homes, "answered": s.answered, "share": f"{s.share:.0%}"} for s in late]
    )
