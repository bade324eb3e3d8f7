"""Numbers that a community knows by heart: whom its homes call when a heater leaks.

They are typed by the volunteer and read by everybody, so a contact is one short
line of plain text: no control character and no mark that turns the direction of
writing can hide what stands there.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping

from pydantic import BaseModel, ConfigDict, field_validator

__all__ = ["CONTACT_LENGTH", "Contacts", "dialed"]

CONTACT_LENGTH = 80
"""Letters that fit a line of the printed card."""


class Contacts(BaseModel):
    """Name and number of whom to call, each one line of text; "" leaves a blank line to write on.

    The emergency number is not here: it is the country's. The insurer is not here: each household has its own.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    gas_utility: str = ""
    electric_utility: str = ""
    water_utility: str = ""
    contractor: str = ""
    volunteer: str = ""

    @field_validator("*", mode="before")
    @classmethod
    def _one_line(cls, typed: object) -> str:
        if not isinstance(typed, str):
            raise ValueError("a contact is text in quotes, such as a name and a number")
        # Every space, line break and tab is one space; invisible characters go.
        shown = "".join(" " if c.isspace() else c for c in typed if c.isspace() or unicodedata.category(c)[0] != "C")
        line = " ".join(shown.split())
        if len(line) > CONTACT_LENGTH:
            raise ValueError(f"a contact has at most {CONTACT_LENGTH} letters, so that it fits a line of the card")
        return line

    def known(self) -> Mapping[str, str]:
        """Those that are set, by the names of :data:`survey_app.advice.leaking.CONTACTS`."""
        return {name.replace("_", "-"): str(line) for name, line in self if line}


_DIALED = re.compile(r"(?<![\d/])\+?\(?\d[\d ().\-]*\d")


def dialed(line: str) -> str:
    """What a phone dials for a contact: the first run of 3 to 15 digits, "" where there is none.

    Fifteen digits are the most a number has, the country's code included (ITU-T E.164).
    """
    for found in _DIALED.finditer(line):
        digits = re.sub(r"\D", "", found.group())
        if 3 <= len(digits) <= 15 and digits.isascii():
            return ("+" if found.group().startswith("+") else "") + digits
    return ""
