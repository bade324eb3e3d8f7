"""The volunteer sets whom homes call when a heater leaks, on the page of settings."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

import survey_app.ui
from survey_app.access import Actor, Role
from survey_app.settings import read_settings, with_contacts, write_settings
from survey_app.survey import Survey, open_store

APP = Path(survey_app.ui.__file__).with_name("app.py")


def test_contacts_are_kept_shown_to_residents_and_carried_by_the_file(
    data: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Typed once by the volunteer, then on "leaking now" for everybody; the exported file holds them."""
    monkeypatch.setenv("HEATER_SURVEY_DATA", str(data))
    st.cache_data.clear()
    st.cache_resource.clear()
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.button(key="welcome.volunteer").click().run()
    at.switch_page("volunteer/community_settings.py").run()
    at.text_input(key="contacts.water_utility").input("  Water,\t555-0102 ")
    at.button(key="contacts.keep").click().run()

    assert [e.value for e in at.error] == []
    assert any("Cards printed before" in s.value for s in at.success)
    survey = Survey(open_store(data), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2))
    kept = survey.settings()
    assert kept.contacts.water_utility == "Water, 555-0102"
    assert read_settings(write_settings(kept)) == kept
    assert with_contacts(kept, {}) == kept
    at.button(key="head.sign_out").click().run()
    at.switch_page("resident/leaking_now.py").run()
    html = "\n".join(str(e.proto.body) for e in at.get("html"))
    assert '<a href="tel:5550102">Water, 555-0102</a>' in html
