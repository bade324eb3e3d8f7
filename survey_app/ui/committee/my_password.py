"""One's own password, for volunteers and the committee."""

import streamlit as st

from survey_app.survey import SignInRefused
from survey_app.ui import session
from survey_app.ui.literal import literal

st.title("My password")
st.markdown(
    "At least 12 characters: three or four unrelated words are easy to remember. Every other screen where you are "
    "signed in is signed out by it."
)
with st.form("password", border=False):
    old = st.text_input("The password now", type="password", key="password.old", max_chars=200)
    new = st.text_input("The new one", type="password", key="password.new", max_chars=200, autocomplete="new-password")
    again = st.text_input(
        "The new one again", type="password", key="password.again", max_chars=200, autocomplete="new-password"
    )
    sent = st.form_submit_button("Change it", type="primary", key="password.go")
if sent and new != again:
    st.error("The two new ones differ. Type them again.")
elif sent:
    try:
        who = session.actor()
        session.doors().change_password(who, old, new, now=session.now())
        session.stay_in(who)
        st.success("Your password is changed.")
    except SignInRefused as refused:
        st.error(literal(refused))
