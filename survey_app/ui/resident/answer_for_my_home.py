"""A resident's answer: which home, what stands there, sent."""

import streamlit as st

from geo.addresses import readable
from survey_app.joins import JoinState
from survey_app.ui import session, widgets
from survey_app.ui.answer_form import answer_form
from survey_app.ui.literal import literal
from survey_app.ui.reported_here import show_reported

say = session.say()
st.title(say("nav-answer"))
if session.kept("sent") is None:
    home_id, asking = session.actor().home_id, st.container()
    if home_id is not None:
        st.header(literal(readable(session.survey().home_address(home_id))))
    sent = answer_form(session.survey(), "answer", home_id=home_id)
    if sent is None:
        asking.markdown(say("form-lead"))
    else:
        session.keep("sent", sent)
if (result := session.kept("sent")) is not None:
    if result.standing is not None:
        mine = session.one_home() if session.actor().home_id is not None else None
        show_reported(mine.standing() if mine else result.standing, mine)
    elif result.checked.content is not None:
        widgets.show_first_things(result.checked.content.symptoms)
    widgets.to_top(result.checked.answer.answer_id if result.checked.answer else "sent")
    st.success(say("form-thanks"))
    if result.join is not None and result.join.state is not JoinState.JOINED:
        st.info(say("form-address-waits", why=result.join.why_waits(say)))
    if result.standing is not None:
        st.markdown(f"**{say('form-by-what-you-told')}**")
        widgets.show_standing(result.standing)
        widgets.cautions()
    # The sentence on open consent speaks to the volunteer; these people are asked themselves.
    notes = [
        say("form-consent-open") if n.field == "consent" else f"{literal(n.what)} {literal(n.remedy)}"
        for n in result.checked.notes
    ]
    st.markdown("\n".join(f"- {note}" for note in notes))
    if st.button(say("form-another"), key="answered.again"):
        session.keep("sent", None)
        st.rerun()
