"""Invitation letters: the home's private code, a QR to the survey, who sees what, and the paper form on the back.

The QR leads to the survey's start and does not hold the code: an address with a
secret in it is kept by browsers, servers and whoever is sent the link (OWASP
Session Management Cheat Sheet: no secrets in URLs). The code is typed once.
"""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from typing import Any

import segno

from geo.addresses import readable
from survey_app.intake import QUESTIONS, SECTIONS, Widget
from survey_app.records import Community, Home
from survey_app.reports.as_pdf import pdf
from survey_app.texts import Texts

__all__ = ["in_walking_order", "letters_pdf", "paper_form"]


def in_walking_order(homes: Sequence[Home]) -> list[Home]:
    """Homes by street, up the odd side and back down the even one: each street is walked once."""

    def place(home: Home) -> tuple[str, int, int, str]:
        found = re.match(r"\d+", home.address)
        number = int(found.group()) if found else 0
        even = number % 2 == 0
        return home.street, int(even), -number if even else number, home.address

    return sorted(homes, key=place)


def paper_form(say: Texts) -> list[dict[str, Any]]:
    """The questions of the form as they stand on paper: sections with questions and their choices."""
    sections = []
    for section in SECTIONS:
        asked = [q for q in QUESTIONS if q.section is section and q.of_resident and q.key != "address"]
        if asked:
            sections.append(
                {
                    "head": str(section),
                    "questions": [
                        {
                            "text": q.text,
                            "choices": [c.label for c in q.choices]
                            if q.widget in (Widget.CHOICE, Widget.CHOICES)
                            else [],
                        }
                        for q in asked
                    ],
                }
            )
    return sections


def letters_pdf(issued: Sequence[tuple[Home, str]], community: Community, address: str, say: Texts) -> bytes:
    """One sheet a home: the letter in front, the paper form on the back, in walking order.

    Parameters
    ----------
    issued
        Homes with their new codes in plain text.
    community
        Whose survey it is.
    address
        Where the survey is reached, printed and in the QR.
    say
        The language.
    """
    picture = io.BytesIO()
    segno.make(address, error="m").save(picture, kind="svg", scale=4, border=2)
    code_of = {home.home_id: code for home, code in issued}
    homes = in_walking_order([home for home, _ in issued])
    return pdf(
        "letters",
        {
            "lang": say.language,
            "community": community.name,
            "synthetic": say("paper-synthetic") if community.synthetic else "",
            "title": say("letter-title"),
            "paragraphs": say.lines("letter-body"),
            "how": say("letter-how", address=address),
            "code_head": say("letter-code"),
            "privacy_head": say("letter-privacy-head"),
            "privacy": say.lines("letter-privacy"),
            "paper": say("letter-paper"),
            "first": say("letter-first"),
            "form_head": say("letter-form"),
            "form": paper_form(say),
            "letters": [
                {"to": say("paper-notice-dear", address=readable(h.address)), "code": code_of[h.home_id]} for h in homes
            ],
        },
        pictures={"qr.svg": picture.getvalue()},
    )
