"""Small line drawings of the vent pipes, our own, beside the question which one it is."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from html import escape

from survey_app.intake import Question
from survey_app.records import Venting
from survey_app.texts import Texts

__all__ = ["vent_pictures"]

_TANK = '<rect x="30" y="62" width="44" height="54" rx="6"/>'
_DRAWN: Mapping[Venting, str] = {
    # A hood open at its sides, and a thin metal pipe straight up.
    Venting.METAL: _TANK + '<path d="M46 62v-6M58 62v-6M38 56h28l-8-12h-12zM46 44V4M58 44V4M46 30h12M46 16h12"/>',
    # A box with a fan on top, and a smooth thick pipe that turns to the side.
    Venting.PLASTIC: _TANK
    + '<rect x="36" y="40" width="32" height="22"/><circle cx="52" cy="51" r="8"/>'
    + '<path d="M52 43v16M44 51h16M44 40V12q0-4 4-4h66M60 40V26q0-2 2-2h52"/>',
    # One pipe inside another, out through the wall.
    Venting.IN_A_PIPE: _TANK
    + '<path d="M38 62V24q0-12 12-12h58M66 62V44q0-4 4-4h38M47 62V28q0-7 7-7h62M57 62V38q0-7 7-7h52"/>'
    + '<path d="M96 2v10M96 40v76M102 2v10M102 40v76"/>',
}


def vent_pictures(question: Question, say: Texts) -> str:
    """The drawings as HTML, over the words of each choice, which say the same: a screen reader skips the drawings."""
    return '<div class="vents">' + "".join(_figure(venting, question, say) for venting in _DRAWN) + "</div>"


def _figure(venting: Venting, question: Question, say: Texts) -> str:
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 120" fill="none" stroke="#1f2a33" stroke-width="2.5">'
        f"{_DRAWN[venting]}</svg>"
    )
    # As an image: the page takes no drawing within its own text.
    source = "data:image/svg+xml;base64," + base64.b64encode(svg.encode()).decode()
    words = escape(question.label(venting, say))
    return f'<figure><img src="{source}" alt="" width="110" height="110"><figcaption>{words}</figcaption></figure>'
