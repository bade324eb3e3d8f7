"""A community's settings: every default with where it comes from and what it changes.

The defaults are facts of the trade or published figures; a community that knows
better changes them, and the change is logged. Read and written as TOML, so that
a volunteer can keep the file with the minutes of the meeting that decided it.
"""

from survey_app.settings.as_text import (
    UnusableSettings,
    bounds,
    choices,
    explain,
    in_words,
    plausible,
    read_settings,
    values_of,
    with_contacts,
    with_value,
    with_values,
    write_settings,
)
from survey_app.settings.defaults import Settings

__all__ = [
    "Settings",
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
