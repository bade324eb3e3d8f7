"""Settings as a file: to keep with the minutes, and to take from there."""

from __future__ import annotations

import streamlit as st

from survey_app.settings import Settings, UnusableSettings, in_words, read_settings, values_of, write_settings
from survey_app.survey import Survey
from survey_app.ui import widgets
from survey_app.ui.literal import literal

__all__ = ["settings_file"]


def settings_file(survey: Survey, settings: Settings) -> None:
    """Offer the settings as a file, and take one after showing what it would change."""
    st.header("As a file")
    st.markdown(
        "Keep the file with the minutes of the meeting that decided it. Each line says what it changes and why."
    )
    st.download_button("Settings as a file (TOML)", write_settings(settings), "settings.toml", key="settings.save")
    upload = st.file_uploader("Settings from a file", type=["toml"], key="settings.file")
    taken: Settings | None = None
    if upload is not None:
        try:
            taken = read_settings(upload.getvalue().decode("utf-8", errors="replace"))
            new = values_of(taken)
            differ = [
                {"setting": in_words(k), "now": v, "in the file": new[k]}
                for k, v in values_of(settings).items()
                if v != new[k]
            ]
            st.markdown(f"{len(differ)} settings would change. What the file leaves out goes back to its default.")
            widgets.show_rows(differ)
        except UnusableSettings as unusable:
            st.error(literal(unusable))
    if taken is not None and st.button("Take the settings of this file", key="settings.take"):
        survey.set_up().change_settings(taken)
        widgets.tell("settings", "The settings of the file are kept. The changes are in the log.")
