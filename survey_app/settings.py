"""A community's settings: every default with where it comes from and what it changes.

The defaults are facts of the trade or published figures; a community that knows
better changes them, and the change is logged. Read and written as TOML, so that
a volunteer can keep the file with the minutes of the meeting that decided it.
"""

from __future__ import annotations

import tomllib
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError

__all__ = ["Settings", "UnusableSettings", "explain", "read_settings", "write_settings"]

_TRADE = "common practice, no source"


class UnusableSettings(ValueError):
    """Settings that cannot be used; the message names each line and the remedy."""


def _setting(default: Any, *, source: str, effect: str, unit: str, ge: float, le: float) -> Any:
    return Field(
        default=default,
        ge=ge,
        le=le,
        description=effect,
        json_schema_extra={"source": source, "unit": unit},
    )


class Settings(BaseModel):
    """What a community decides once: intervals, warranty default, privacy."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    default_warranty_years: float = _setting(
        6.0,
        source=_TRADE,
        unit="years",
        effect="Warranty term assumed where nobody knows it: short builder-grade terms are the rule here.",
        ge=1,
        le=15,
    )
    flush_every_years: float = _setting(
        1.0,
        source=_TRADE,
        unit="years",
        effect="A deep flush falls due this long after the last one.",
        ge=0.25,
        le=10,
    )
    anode_every_years: float = _setting(
        4.0,
        source=_TRADE,
        unit="years",
        effect="The anode falls due for a look this long after the last work.",
        ge=1,
        le=10,
    )
    anode_every_years_softened: float = _setting(
        3.0,
        source=_TRADE,
        unit="years",
        effect="The same where a water softener is in use: softened water eats anodes faster.",
        ge=0.5,
        le=10,
    )
    anode_first_within_years: float = _setting(
        5.0,
        source=_TRADE,
        unit="years",
        effect="The first anode change should come before this age; later the plug may have seized.",
        ge=2,
        le=10,
    )
    relief_test_every_years: float = _setting(
        1.0,
        source=_TRADE,
        unit="years",
        effect="The relief valve falls due for its test this long after the last.",
        ge=0.25,
        le=5,
    )
    relief_inspect_every_years: float = _setting(
        3.0,
        source="National Board of Boiler and Pressure Vessel Inspectors, BULLETIN, Summer 1993: "
        "a valve in service for more than three years is taken out and looked at",
        unit="years",
        effect="A relief valve of this age or more is for a licensed contractor to inspect, not only to test.",
        ge=1,
        le=10,
    )
    never_flushed_caution_years: float = _setting(
        8.0,
        source=_TRADE,
        unit="years",
        effect="A tank that was never flushed by this age may leak once disturbed: a contractor decides.",
        ge=3,
        le=20,
    )
    public_minimum_answers: int = _setting(
        11,
        source="CMS Cell Size Suppression Policy (ResDAC), 26 January 2024: cells of 1 to 10 are never shown",
        unit="answers",
        effect="Streets with fewer answers are joined with neighbors or not shown on anything published.",
        ge=3,
        le=100,
    )
    session_hours: float = _setting(
        12.0, source=_TRADE, unit="hours", effect="A sign-in ends after this time.", ge=0.25, le=72
    )


def explain(settings: Settings) -> list[dict[str, str]]:
    """Every setting as a row for people: name, value, unit, default, source, effect.

    Returns
    -------
    list of dict
        In the order of the class.
    """
    rows = []
    for key, info in Settings.model_fields.items():
        extra = info.json_schema_extra if isinstance(info.json_schema_extra, dict) else {}
        rows.append(
            {
                "setting": key,
                "value": f"{getattr(settings, key):g}",
                "unit": str(extra.get("unit", "")),
                "default": f"{info.default:g}",
                "source": str(extra.get("source", "")),
                "effect": info.description or "",
            }
        )
    return rows


def read_settings(text: str) -> Settings:
    """Read settings from TOML.

    Raises
    ------
    UnusableSettings
        With one sentence for every line that cannot be used.
    """
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise UnusableSettings(f"The settings file is not valid TOML: {error}. Mend that line.") from None
    try:
        return Settings.model_validate(values)
    except ValidationError as error:
        known = ", ".join(Settings.model_fields)
        sentences = []
        for problem in error.errors():
            name = ".".join(str(part) for part in problem["loc"])
            if problem["type"] == "extra_forbidden":
                sentences.append(f"There is no setting '{name}'. The settings are: {known}.")
            else:
                sentences.append(f"Setting '{name}' = {problem['input']!r}: {problem['msg']}.")
        raise UnusableSettings(" ".join(sentences)) from None


def write_settings(settings: Settings) -> str:
    """Settings as TOML, each with its effect and source as a comment."""
    lines = ["# Settings of this community. Each line says what it changes and where the default comes from."]
    for row in explain(settings):
        lines += [
            "",
            f"# {row['effect']}",
            f"# Default {row['default']} {row['unit']}: {row['source']}.",
            f"{row['setting']} = {row['value']}",
        ]
    return "\n".join(lines) + "\n"
