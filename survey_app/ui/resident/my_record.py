"""Everything on file for one home: seen, corrected, printed, put in a calendar, deleted."""

import streamlit as st

from geo.addresses import readable
from survey_app.reports.home_record import answer_line, due_calendar, record_parts, record_pdf
from survey_app.ui import plate_photos, session, widgets
from survey_app.ui.literal import literal
from survey_app.ui.reported_here import show_reported

say = session.say()
st.title(say("record-title"))
if session.actor().home_id is None:
    st.markdown(say("door-open-first"))
    st.page_link("resident/my_heater.py", label=say("decision-open"), width="stretch")
    st.stop()
home = session.one_home()
record = home.record()
if session.kept("record.gone") is not None:
    st.success(say("record-deleted", n=session.kept("record.gone")))
st.markdown(say("record-lead"))
st.header(literal(readable(record.home.address)))
if not record.answers and not record.heaters:
    st.info(say("record-nothing"))
show_reported(record.standing, home)
for part in record_parts(record, say):
    st.header(part.heading)
    st.markdown(
        "\n".join(f"- **{label}:** {literal(value)}" if label else f"- {literal(value)}" for label, value in part.lines)
    )
st.header(say("record-correct"))
st.markdown(say("record-correct-help"))
st.page_link("resident/answer_for_my_home.py", label=say("door-answer"), width="stretch")
st.download_button(
    say("record-print"),
    record_pdf(record, say),
    file_name="water-heater-record.pdf",
    mime="application/pdf",
    width="stretch",
    key="record.pdf",
)
st.download_button(
    say("record-export"), home.export, "water-heater.json", "application/json", width="stretch", key="record.json"
)
calendar = due_calendar(record, say, now=session.now())
if calendar is None:
    st.markdown(say("record-calendar-none"))
else:
    st.download_button(
        say("record-calendar"), calendar, "water-heater.ics", "text/calendar", width="stretch", key="record.ics"
    )
    st.markdown(say("record-calendar-help"))
plate_photos.show(home)
if record.answers or home.taken_back():
    st.header(say("record-answers"))
for answer in reversed(record.answers):
    st.markdown(answer_line(answer, say))
    if widgets.asked_first(
        "record", answer.answer_id, say("record-take-back"), say("record-take-back-sure"), say("record-take-back-yes")
    ):
        home.take_back(answer.answer_id)
        st.rerun()
for answer in home.taken_back():
    st.info(say("record-took-back", day=say.day(answer.answered_on)))
    if st.button(say("record-bring-back"), key=f"record.bring.{answer.answer_id}", width="stretch"):
        home.bring_back(answer.answer_id)
        st.rerun()
st.header(say("record-delete"))
st.markdown(say("record-delete-help"))
sure = st.checkbox(say("record-delete-sure"), key="record.sure")
if st.button(say("record-delete"), key="record.delete", disabled=not sure):
    session.keep("record.gone", home.forget())
    session.keep("offer.taken", None)  # else an undo would bring back what was deleted
    session.clear_draft("answer")
    session.clear_draft("decision")
    st.rerun()
widgets.caution_line()
