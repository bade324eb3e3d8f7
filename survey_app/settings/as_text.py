"""Settings as people read, type and file them."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping

from pydantic import ValidationError

from survey_app.contacts import Contacts
from survey_app.errors import SurveyError
from survey_app.records import Tri
from survey_app.settings.defaults import Settings

__all__ = [
    "UnusableSettings",
    "bounds",
    "choices",
    "explain",
    "in_words",
    "plausible",
    "read_settings",
    "values_of",
    "with_contacts",
    "with_value",
    "with_values",
    "write_settings",
]


class UnusableSettings(SurveyError, ValueError):
    """Settings that cannot be used; the message names each line and the remedy."""


def in_words(name: str) -> str:
    """A setting's name as people read it.

    Examples
    --------
    >>> in_words("contacts.gas_utility")
    'contacts: gas utility'
    """
    return name.replace(".", ": ").replace("_", " ")


def explain(settings: Settings) -> list[dict[str, str]]:
    """Every setting but the contacts as a row for people: name, value, unit, default, range, source, effect.

    Returns
    -------
    list of dict
        In the order of the class; `range` is what is plausible, where that is told.
    """
    rows = []
    for key, info in Settings.model_fields.items():
        if key == "contacts":
            continue
        extra = info.json_schema_extra if isinstance(info.json_schema_extra, dict) else {}
        rows.append(
            {
                "setting": key,
                "value": _as_typed(getattr(settings, key)),
                "unit": str(extra.get("unit", "")),
                "default": _as_typed(info.default),
                "range": f"{extra['low']:g} to {extra['high']:g}" if "low" in extra else "",
                "source": str(extra.get("source", "")),
                "effect": info.description or "",
            }
        )
    return rows


def _as_typed(value: float | Tri) -> str:
    return str(value) if isinstance(value, Tri) else f"{value:.15g}"


def values_of(settings: Settings) -> dict[str, str]:
    """Every value as text by its name, the contacts as ``contacts.<name>``: to compare two settings."""
    figures = {row["setting"]: row["value"] for row in explain(settings)}
    return figures | {f"contacts.{name}": str(line) for name, line in settings.contacts}


def choices(name: str) -> tuple[str, ...]:
    """The words that the setting `name` may be; empty where it is a figure or no setting at all."""
    info = Settings.model_fields.get(name)
    return tuple(str(word) for word in Tri) if info is not None and info.annotation is Tri else ()


def bounds(name: str) -> tuple[float, float]:
    """Least and largest value that the setting `name` may have.

    Raises
    ------
    KeyError
        When there is no such setting.
    """
    least, most = 0.0, float("inf")
    for limit in Settings.model_fields[name].metadata:
        least, most = float(getattr(limit, "ge", least)), float(getattr(limit, "le", most))
    return least, most


def plausible(name: str) -> tuple[float, float] | None:
    """From what to what the setting `name` is plausible; None where that is not told."""
    extra = Settings.model_fields[name].json_schema_extra
    if not isinstance(extra, dict) or "low" not in extra:
        return None
    return float(str(extra["low"])), float(str(extra["high"]))


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
    return _checked(values)


def with_value(settings: Settings, name: str, typed: str) -> Settings:
    """The settings with one of them as a person typed it.

    Raises
    ------
    UnusableSettings
        When it is not a number, or not one this setting may have; where the setting is a word, when it is none of
        its :func:`choices`.
    """
    if words := choices(name):
        word = typed.strip().lower()
        if word not in words:
            raise UnusableSettings(f"'{typed.strip()[:30]}' cannot be chosen here. Write one of: {', '.join(words)}.")
        return _checked({**settings.model_dump(), name: word})
    try:
        value = float(typed.strip().replace(",", ""))
    except ValueError:
        raise UnusableSettings(f"'{typed.strip()[:30]}' is not a number. Write it in figures, like 6 or 0.5.") from None
    return _checked({**settings.model_dump(), name: value})


def with_values(settings: Settings, values: Mapping[str, float]) -> Settings:
    """The settings with several of them changed together.

    Raises
    ------
    UnusableSettings
        When one of them may not have that value.
    """
    return _checked({**settings.model_dump(), **values})


def with_contacts(settings: Settings, typed: Mapping[str, str]) -> Settings:
    """The settings with the contacts as a person typed them, by the names of :class:`Contacts`.

    Raises
    ------
    UnusableSettings
        When one of them is too long, or is none.
    """
    return _checked({**settings.model_dump(), "contacts": {**settings.contacts.model_dump(), **typed}})


_BEFORE: Mapping[str, tuple[float, tuple[str, ...]]] = {
    "planned_price_usd": (1275.0, ("own_price_gas_usual_usd", "own_price_electric_usual_usd")),
    "planned_price_heat_pump_usd": (3170.0, ("own_price_heat_pump_usual_usd",)),
    "planned_price_tankless_usd": (3000.0, ("own_price_tankless_usual_usd",)),
    "pan_drain_price_usd": (250.0, ()),
}
"""Settings of older files: the default each had, and what it is today. A price that differs is the community's own; a
default that was written down with the rest never was. A pan is no longer priced: none is put under a standing tank."""


def _by_todays_names(values: Mapping[str, object]) -> dict[str, object]:
    found = {name: value for name, value in values.items() if name not in _BEFORE}
    for old, (default, names) in _BEFORE.items():
        if old in values and values[old] != default:
            found = dict.fromkeys(names, values[old]) | found
    return found


def _checked(values: Mapping[str, object]) -> Settings:
    try:
        return Settings.model_validate(_by_todays_names(values))
    except ValidationError as error:
        figures = [name for name in Settings.model_fields if name != "contacts"]
        known = ", ".join([*figures, *(f"contacts.{name}" for name in Contacts.model_fields)])
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
            f"# Default {row['default']}{' ' if row['unit'] else ''}{row['unit']}: {row['source']}.",
            f"{row['setting']} = {json.dumps(row['value']) if choices(row['setting']) else row['value']}",
        ]
    lines += [
        "",
        "# Whom homes call when a heater leaks: on the page Leaking now and on its card.",
        '# Name and number in quotes; "" leaves a blank line to write on.',
        "[contacts]",
        # A JSON string is a TOML basic string too.
        *(f"{name} = {json.dumps(line, ensure_ascii=False)}" for name, line in settings.contacts),
    ]
    return "\n".join(lines) + "\n"
