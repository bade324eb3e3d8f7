"""Spanish dates put into the English that the forms read: "mayo de 2009", "hace 10 años", "nunca".

Only words that mean a date in Spanish and nothing in English are touched, so
an English text passes through unchanged.
"""

from __future__ import annotations

import re
from collections.abc import Callable

__all__ = ["in_english"]

_MONTHS = (
    *("enero", "febrero", "marzo", "abril", "mayo", "junio"),
    *("julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre"),
)
_ENGLISH = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
_SHORT = {"ene": "jan", "abr": "apr", "ago": "aug", "dic": "dec", "setiembre": "september"}
_NUMBERS = dict(
    zip(
        ("un", "una", "dos", "tres", "cuatro", "cinco", "seis", "siete", "ocho", "nueve", "diez", "quince", "veinte"),
        (1, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 15, 20),
        strict=True,
    )
)
_UNITS = {"año": "year", "años": "years", "mes": "month", "meses": "months", "semanas": "weeks", "semana": "week"}
_AMOUNT = r"(\d+|" + "|".join(_NUMBERS) + r")"

_WHOLE = {
    "nunca": "never",
    "no se ha hecho": "never",
    "no sé": "not sure",
    "no se": "not sure",
    "no se sabe": "not sure",
    "no recuerdo": "not sure",
    "no me acuerdo": "not sure",
    "el año pasado": "last year",
    "este año": "this year",
}


def _ago(found: re.Match[str]) -> str:
    about, amount, unit = found.groups()
    number = _NUMBERS.get(amount, amount)
    return f"{'about ' if about else ''}{number} {_UNITS[unit]} ago"


_STEPS: tuple[tuple[re.Pattern[str], str | Callable[[re.Match[str]], str]], ...] = (
    (
        re.compile(r"\bhace\s+(unos|unas|como|más o menos|casi)?\s*" + _AMOUNT + r"\s+(" + "|".join(_UNITS) + r")\b"),
        _ago,
    ),
    (re.compile(r"\b(?:hacia|alrededor de|aproximadamente en|aproximadamente|cerca de|más o menos en)\b"), "about"),
    (re.compile(r"\b(?:más o menos|mas o menos)\b"), "about"),
    (re.compile(r"\bantes de(?:l)?\b"), "before"),
    (re.compile(r"\b(?:después|despues) de(?:l)?\b"), "after"),
    (re.compile(r"\bentre\s+(.+?)\s+y\s+(.+)$"), r"between \1 and \2"),
    (re.compile(r"\b(?:principios|comienzos) de(?:l)?\b"), "beginning of"),
    (re.compile(r"\bmediados de(?:l)?\b"), "mid"),
    (re.compile(r"\b(?:finales|fines|fin) de(?:l)?\b"), "end of"),
    (re.compile(r"\bprimavera\b"), "spring"),
    (re.compile(r"\bverano\b"), "summer"),
    (re.compile(r"\botoño\b"), "fall"),
    (re.compile(r"\binvierno\b"), "winter"),
    *((re.compile(rf"\b{spanish}\b"), english) for spanish, english in zip(_MONTHS, _ENGLISH, strict=True)),
    *((re.compile(rf"\b{spanish}\b"), english) for spanish, english in _SHORT.items()),
)


def in_english(text: str) -> str:
    """A cleaned, case-folded text with its Spanish date words in English; other texts unchanged."""
    if text in _WHOLE:
        return _WHOLE[text]
    said = text
    for pattern, english in _STEPS:
        # "10 years ago" is English: the short month "ago" is read only in a text without its years.
        if english == "aug" and re.search(r"(?:\b|\d)(?:years?|yrs?|months?|mos?|weeks?|wks?|days?)\b", said):
            continue
        said = pattern.sub(english, said)
    if said == text:
        return text
    said = re.sub(r"\b(?:el|la|en|a|del?)\s+(?=\d|[a-z])", "", said) if "end of" not in said else said
    return re.sub(r"\s+", " ", said).strip()
