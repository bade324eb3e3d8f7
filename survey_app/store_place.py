"""Where the records are: one rule for the app and the commands."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

__all__ = ["PLACE_VARIABLE", "data_place"]

PLACE_VARIABLE = "HEATER_SURVEY_DATA"


def data_place(environment: Mapping[str, str]) -> str | Path:
    """The data folder or database URL: the variable, or ``heater-survey-data`` in the person's home folder."""
    named = environment.get(PLACE_VARIABLE, "").strip()
    return named if named else Path.home() / "heater-survey-data"
