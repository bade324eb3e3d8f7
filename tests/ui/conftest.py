"""What the pages' tests share."""

from __future__ import annotations

from pathlib import Path

import pytest
import streamlit as st


@pytest.fixture
def place(data: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The data folder the app opens; caches of other tests are forgotten."""
    monkeypatch.setenv("HEATER_SURVEY_DATA", str(data))
    st.cache_data.clear()
    st.cache_resource.clear()
    return data
