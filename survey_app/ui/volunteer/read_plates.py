"""Photographs of data plates that homes sent, read one by one."""

import streamlit as st

from geo.addresses import readable
from survey_app.ui import plate_photos, session, widgets
from survey_app.ui.literal import literal

st.title("Read photos of labels")
plates = session.survey().plates()
if done := session.kept("plates.done"):
    st.success(done)
homes = {readable(h.address): h.home_id for h in plates.waiting()}
if not homes:
    st.success("Nothing waits: every photo that was sent has been looked at.")
    st.page_link("volunteer/what_waits.py", label="Where the survey stands")
    st.stop()
st.markdown(f"**Homes that wait: {len(homes)}.** Type only what you can read; leave the rest open.")
address = str(st.selectbox("Home", list(homes), key="plates.home"))
home_id = homes[address]
for photo in plates.photos(home_id):
    plate_photos.picture(photo)
form = f"plates.{home_id}"
given = plate_photos.reading(plates, form, home_id)
last = session.kept(form)
reasons = widgets.problems(last, form, {}) if last else {}
left, right = st.columns(2)
if left.button("Put it on file", type="primary", key=f"{form}.put", width="stretch", disabled=not any(given.values())):
    found = plates.put_reading(home_id, given, overruled=reasons, answer_id=session.draft(form)["answer_id"])
    if found.stored:
        session.clear_draft(form)
        session.keep("plates.done", f"On file for {literal(address)}.")
    else:
        session.keep(form, found.checked.problems)
    st.rerun()
if right.button("It cannot be read", key=f"{form}.cannot", width="stretch"):
    plates.cannot_be_read(home_id)
    session.keep(
        "plates.done", f"The people of {literal(address)} are asked for another photo, on their page My record."
    )
    st.rerun()
