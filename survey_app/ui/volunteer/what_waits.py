"""Where the survey stands, and what waits for the volunteer."""

import streamlit as st

from geo.addresses import readable
from survey_app.ui import session, shared_pages, widgets
from survey_app.ui.literal import literal

st.title("Where the survey stands")
survey = session.survey()
found = survey.figures().coverage()
if not found.whole.homes:
    st.markdown(
        "The list of pages follows a year's work: prepare, letters and doors, collect, check, keep and hand over."
    )
    widgets.need_homes(survey)
else:
    st.markdown(f"**{found.whole.answered} of {found.whole.homes} homes have answered** ({found.whole.share:.0%}).")
    st.progress(found.whole.share)
    if len(survey.sign_in_rights().without_code()) == found.whole.homes:
        st.page_link("volunteer/print_letters.py", label="No letter has been printed yet: print letters")
    waiting = survey.answers().doubtful()
    if waiting:
        st.page_link(
            "volunteer/decide_addresses.py", label=f"Answers that wait for you to decide the address: {len(waiting)}"
        )
    if unread := len(survey.plates().waiting()):
        st.page_link("volunteer/read_plates.py", label=f"Homes that sent a photo of the label, not read yet: {unread}")
    differing = shared_pages.disagreements()
    if differing:
        st.page_link(
            "volunteer/settle_differences.py", label=f"Homes with answers that contradict one another: {len(differing)}"
        )
        st.markdown("A later answer counts until you decide:")
        for home, sentences in differing[:5]:
            st.markdown(f"- {literal(readable(home.address))}: {literal(' '.join(sentences))}")
    st.header("Where every home stands")
    widgets.show_rows([{"standing": k, "homes": n} for k, n in survey.figures().totals().items()])
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
        [
            {"street": readable(s.group), "homes": s.homes, "answered": s.answered, "share": f"{s.share:.0%}"}
            for s in late
        ]
    )
