"""Whom to call when it leaks: the volunteer's form for the numbers, and the list in which a tap dials."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

import streamlit as st

from survey_app.advice.leaking import calls
from survey_app.contacts import CONTACT_LENGTH, dialed
from survey_app.settings import Settings, UnusableSettings, with_contacts
from survey_app.ui import widgets

if TYPE_CHECKING:
    from survey_app.survey import Survey
    from survey_app.texts import Texts

__all__ = ["call_list", "contact_form", "contact_line"]


def contact_form(survey: Survey, settings: Settings) -> None:
    """The volunteer's fields for the community's numbers."""
    st.header("Whom to call when a heater leaks")
    st.markdown(
        "Name and number of each. Every home sees them on the page Leaking now, where a tap dials, and on its card. "
        "What is left empty is a blank line to write on. Everybody can read them: ask before you name a neighbor."
    )
    with st.form("contacts", border=False):
        typed = {
            name: st.text_input(
                "HOA volunteer" if name == "volunteer" else name.replace("_", " ").capitalize(),
                line,
                key=f"contacts.{name}",
                max_chars=CONTACT_LENGTH,
            )
            for name, line in settings.contacts
        }
        if st.form_submit_button("Keep these contacts", key="contacts.keep", width="stretch"):
            try:
                survey.set_up().change_settings(with_contacts(settings, typed))
                widgets.tell(
                    "settings", "Kept. The change is in the log. Cards printed before still have the old numbers."
                )
            except UnusableSettings as unusable:
                st.error(str(unusable))


def contact_line(line: str) -> str:
    """One contact as HTML: its text, never its markup; a tap dials where there is a number."""
    number = dialed(line)
    return f'<a href="tel:{number}">{escape(line)}</a>' if number else f"<b>{escape(line)}</b>"


def call_list(say: Texts, settings: Settings) -> None:
    """Whom to call, each with its number, or a blank to write on where the community has set none."""
    rows = "".join(
        f"<li><b>{escape(call.who)}</b> · {escape(call.why)}:<br>"
        + (contact_line(call.number) if call.number else escape(say("leaking-call-blank")))
        + "</li>"
        for call in calls(say, settings.contacts.known())
    )
    # As HTML, not Markdown: what somebody typed must not become a picture from elsewhere, a formula or a link.
    st.html(f'<ul class="calls">{rows}</ul>')
