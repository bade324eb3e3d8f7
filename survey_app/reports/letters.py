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
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import segno

from geo.addresses import readable
from survey_app.errors import SurveyError
from survey_app.intake import QUESTIONS, SECTIONS
from survey_app.records import Community, Home
from survey_app.reports.as_pdf import pdf
from survey_app.texts import LANGUAGES, NEEDS_REVIEW, Texts, texts

__all__ = ["Sender", "UnusableAddress", "letters_pdf", "paper_form", "survey_address"]

_CODE_PAGE = "my_heater"
"""Where the app asks for a private code; a test holds this to the page's name."""


class UnusableAddress(SurveyError, ValueError):
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Sender:
    """What every letter says of the survey.

    Parameters
    ----------
    address
        Where the survey is reached, printed and in the QR.
    ask
        Whom to ask and where to bring the paper: a name with a phone number, an e-mail or a door.
    until
        The day by which answers are hoped for.
    keep_years
        After how many years answers are deleted.
    """

    address: str
    ask: str
    until: date
    keep_years: float

    def __post_init__(self) -> None:
        if not self.ask.strip():
            raise UnusableAddress("Say whom people can ask: a name with a phone number, an e-mail or a door.")


def paper_form(say: Texts) -> list[dict[str, Any]]:
    """The questions of the form as they stand on paper, in this language: sections with questions and their choices."""
    sections = []
    for section in SECTIONS:
        asked = [q for q in QUESTIONS if q.section is section and q.of_resident and q.key != "address"]
        questions = [
            {
                "text": q.text(say),
                "choices": [{"code": c.short, "words": q.label(c.value, say)} for c in q.choices],
            }
            for q in asked
        ]
        if questions:
            sections.append({"head": section.head(say), "questions": questions})
    return sections


def letters_pdf(
    issued: Sequence[tuple[Home, str]],
    sheets: Mapping[str, str],
    community: Community,
    sender: Sender,
    say: Texts,
) -> bytes:
    """One sheet a home: the letter in front, the paper form on the back, in the order of the sheets' numbers.

    Parameters
    ----------
    issued
        Homes with their new codes in plain text.
    sheets
        Every home's sheet number by its id, in walking order; printed on both sides.
    community
        Whose survey it is.
    sender
        What every letter says of the survey.
    say
        The language; the others are named in a line of their own.

    Raises
    ------
    UnusableAddress
        See :func:`survey_address`.
    """
    address = survey_address(sender.address)
    picture = io.BytesIO()
    segno.make(f"{address}/{_CODE_PAGE}", error="m").save(picture, kind="svg", scale=4, border=2)
    place = {home_id: i for i, home_id in enumerate(sheets)}
    until = say.day(sender.until)
    return pdf(
        "letters",
        {
            "lang": say.language,
            "community": community.name,
            "synthetic": say("paper-synthetic") if community.synthetic else "",
            "from": say("letter-from"),
            "title": say("letter-title"),
            "paragraphs": say.lines("letter-body"),
            "until": say("letter-until", day=until),
            "how_head": say("letter-how-head"),
            "how": say.lines("letter-how", address=address),
            "code_head": say("letter-code"),
            "code_signs": say("letter-code-signs"),
            "privacy_head": say("letter-privacy-head"),
            "privacy": say.lines("letter-privacy", years=say.number(sender.keep_years)),
            "paper_head": say("letter-paper-head"),
            "paper": say("letter-paper"),
            "ask_head": say("letter-ask"),
            "ask": sender.ask.strip(),
            "others": [_in_short(texts(o), sender) for o in LANGUAGES if o != say.language],
            "first": say("letter-first"),
            "form_head": say("letter-form"),
            "look": say("letter-look"),
            "bring": say("letter-bring", day=until),
            "review": say("door-review") if say.language in NEEDS_REVIEW else "",
            "form": paper_form(say),
            "letters": [
                {
                    "to": say("paper-notice-dear", address=readable(home.address)),
                    "code": code,
                    "sheet": say("letter-sheet", number=sheets[home.home_id]),
                }
                for home, code in sorted(issued, key=lambda pair: place[pair[0].home_id])
            ],
        },
        pictures={"qr.svg": picture.getvalue()},
    )


def _in_short(say: Texts, sender: Sender) -> dict[str, Any]:
    """The letter in a few lines of another language, the safety of the home included."""
    return {
        "lang": say.language,
        "title": say("letter-title"),
        "words": say.lines("letter-other", day=say.day(sender.until)),
        "first": say("letter-first"),
        "review": say("door-review") if say.language in NEEDS_REVIEW else "",
    }
