"""What the pages' tests share."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
import streamlit as st
from streamlit.components.v2 import manifest_scanner


@pytest.fixture(scope="session", autouse=True)
def packages_looked_through_once() -> Iterator[None]:
    """For each `AppTest` Streamlit reads what every installed package says of itself; none of it changes meanwhile."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(manifest_scanner, "scan_component_manifests", cache(manifest_scanner.scan_component_manifests))
        yield


@pytest.fixture
def place(data: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The data folder the app opens; caches of other tests are forgotten."""
    monkeypatch.setenv("HEATER_SURVEY_DATA", str(data))
    st.cache_data.clear()
    st.cache_resource.clear()
    return data
