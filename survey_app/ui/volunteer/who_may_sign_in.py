"""Who may sign in: accounts, invitations, and private codes taken back."""

import streamlit as st

from geo.addresses import readable
from survey_app.access import Role
from survey_app.survey import SignInRefused
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

st.title("Who may sign in")
survey = session.survey()
rights = survey.sign_in_rights()
widgets.told("accounts")
st.markdown(
    "Volunteers see and change everything, and can invite others. The committee sees groups of homes. Invite people "
    "instead of giving them a password: then nobody but they ever knew it."
)
accounts = rights.accounts()
widgets.show_rows([{"name": name, "door": str(role)} for name, role in accounts])
st.header("Invite")
with st.form("invite", border=False):
    name = st.text_input("Name, or e-mail where your organization's sign-in is used", key="invite.name", max_chars=100)
    role = st.radio("Door", [Role.COMMITTEE, Role.VOLUNTEER], format_func=str, key="invite.role", horizontal=True)
    if st.form_submit_button("Make an invitation", type="primary", key="invite.go"):
        try:
            session.keep("invited", (name.strip(), rights.invite(name, role)))
        except SignInRefused as refused:
            st.error(literal(refused))
if (made := session.kept("invited")) is not None:
    st.success(f"For {literal(made[0])}, seven days, once:")
    st.code(made[1], language=None)
    st.markdown("Hand it over in person or by telephone. It is used at the door under “I have an invitation”.")
    if st.button("I have handed it over", key="invite.done"):
        session.keep("invited", None)
        st.rerun()
for waiting in rights.invitations():
    by = f"{literal(waiting.name)}, {waiting.role}, by {literal(waiting.made_by)}"
    st.markdown(f"- {by}, until {waiting.expires_at:%d %b %Y, %H:%M}")
    if st.button("Withdraw", key=f"invite.withdraw.{waiting.locator}"):
        rights.withdraw(waiting.locator)
        st.rerun()
st.header("Remove an account")
others = [n for n, _ in accounts if n != session.actor().name]
gone = st.selectbox("Account", others, index=None, key="accounts.gone", placeholder="Choose one")
if st.button("Remove it", key="accounts.remove", disabled=gone is None) and gone is not None:
    try:
        rights.remove_account(gone)
        widgets.tell("accounts", f"Removed: {literal(gone)}, and signed out everywhere.")
    except SignInRefused as refused:
        st.error(literal(refused))
st.header("Private codes of homes")
without = set(rights.without_code())
addresses = survey.sign_in_rights().home_addresses()
st.markdown(f"{len(addresses) - len(without)} of {len(addresses)} homes have a code that works.")
names = {readable(a): k for k, a in addresses.items() if k not in without}
lost = st.multiselect("Codes that others may have seen", sorted(names), key="codes.lost")
left, right = st.columns(2)
if left.button("Make them useless", key="codes.revoke", disabled=not lost, width="stretch"):
    widgets.tell("accounts", f"Codes that no longer open anything: {rights.revoke_codes([names[a] for a in lost])}.")
right.page_link("volunteer/print_letters.py", label="Print letters with new codes")
