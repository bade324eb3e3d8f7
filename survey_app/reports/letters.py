"""Invitation letters: the home's private code, a QR to the survey, who sees what, and the paper form on the back.

The QR leads to the page that asks for the code and does not hold the code: an
address with a secret in it is kept by browsers, servers and whoever is sent the
link (OWASP Session Management Cheat Sheet: no secrets in URLs). What stands
behind a ``#`` would not be sent, but the browser keeps it all the same, and a
photograph of the square would open the home. The code is typed once.
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
from survey_app.texts import NEEDS_REVIEW, Texts

__all__ = ["UnusableAddress", "in_walking_order", "letters_pdf", "paper_form", "survey_address"]

_CODE_PAGE = "my_heater"
"""Where the app asks for a private code; a test holds this to the page's name."""


class UnusableAddress(ValueError):
    """An address that letters cannot send people to; the message says what to do."""


def survey_address(typed: str) -> str:
    """The address of the survey as it is printed, without a stroke at its end.

    Raises
    ------
    UnusableAddress
        Unless it is https (codes and passwords must not travel in the clear; http only for a trial on a machine or a
        local network by number) and has neither a query nor a part behind ``#``.
    """
    text = typed.strip().rstrip("/")
    if not re.fullmatch(r"https?://[A-Za-z0-9.-]+(:\d{1,5})?(/[A-Za-z0-9._~/-]*)?", text):
        raise UnusableAddress("Write the survey's address like https://survey.example.org, with nothing behind it.")
    host = text.split("/")[2].partition(":")[0]
    if text.startswith("http:") and host != "localhost" and not re.fullmatch(r"[\d.]+", host):
        raise UnusableAddress("Letters need an address that begins with https: private codes must not travel openly.")
    return text


def in_walking_order(homes: Sequence[Home]) -> list[Home]:
    """Homes by street, up the odd side and back down the even one: each street is walked once."""

    def place(home: Home) -> tuple[str, int, int, str]:
        found = re.match(r"\d+", home.address)
        number = int(found.group()) if found else 0
        even = number % 2 == 0
        return home.street, int(even), -number if even else number, home.address

    return sorted(homes, key=place)


def paper_form(say: Texts) -> list[dict[str, Any]]:
    """The questions of the form as they stand on paper, in this language: sections with questions and their choices."""

    def word(key: str, own: str) -> str:
        return say(key) if say.has(key) else own

    sections = []
    for section in SECTIONS:
        asked = [q for q in QUESTIONS if q.section is section and q.of_resident and q.key != "address"]
        if asked:
            sections.append(
                {
                    "head": word(f"q-section-{section.name.lower()}", str(section)),
                    "questions": [
                        {
                            "text": word(f"q-{q.key}", q.text),
                            "choices": [
                                word(f"q-{q.key}.{c.value.replace(' ', '-')}", c.label)
                                for c in (q.choices if q.widget in (Widget.CHOICE, Widget.CHOICES) else ())
                            ],
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

    Raises
    ------
    UnusableAddress
        See :func:`survey_address`.
    """
    address = survey_address(address)
    picture = io.BytesIO()
    segno.make(f"{address}/{_CODE_PAGE}", error="m").save(picture, kind="svg", scale=4, border=2)
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
            "look": say("letter-look"),
            "review": say("door-review") if say.language in NEEDS_REVIEW else "",
            "form": paper_form(say),
            "letters": [
                {"to": say("paper-notice-dear", address=readable(h.address)), "code": code_of[h.home_id]} for h in homes
            ],
        },
        pictures={"qr.svg": picture.getvalue()},
    )
