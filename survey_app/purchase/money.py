"""Prices and numbers of homes as spreadsheets write them."""

from __future__ import annotations

import re
from dataclasses import dataclass

from survey_app.intake import plain, simplify

__all__ = ["ReadAmount", "ReadRange", "read_count", "read_usd"]

_SIGNS = re.compile(r"us\s*\$|\$|usd|us dollars?|dollars?|€|eur(?:os?)?|£|gbp|¥|cad|aud|chf")
_FOREIGN = re.compile(r"€|eur|£|gbp|¥|cad|aud|chf")
_PER = re.compile(r"(?:/|per|a|an)\s*(?:home|house|unit|heater|day|each|job)\b|\beach\b|\bea\b\.?|\bflat\b")
_FREE = {"free", "no charge", "none", "n/c", "nc", "at no charge", "no extra charge"}
_SPACES = "\u00a0\u202f\u2009\u2007 '’"
_BIG = 1e9


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadAmount:
    """A number; ``value`` None where the cell is open or unreadable (then ``wrong`` says why)."""

    value: float | None = None
    wrong: str = ""
    note: str = ""


def read_usd(text: str) -> ReadAmount:
    """Read a price.

    Currency signs, thousands separators of any country and words such as "per
    home" are understood. A single separator before three digits sets off
    thousands ("1.275" is 1,275, with a note), since prices have two decimals.

    Examples
    --------
    >>> read_usd("$1,275.00").value, read_usd("1.275,00 €").value, read_usd("1 275").value
    (1275.0, 1275.0, 1275.0)
    >>> read_usd("(100)").wrong
    'is negative'
    """
    word = simplify(plain(text)).replace("−", "-")
    if not word:
        return ReadAmount()
    if word in _FREE:
        return ReadAmount(value=0.0)
    if "%" in word:
        return ReadAmount(wrong="is a share, not an amount in dollars")
    note = ""
    if foreign := _FOREIGN.search(word):
        note = f"It is marked {foreign[0].upper()}; the number was taken as US dollars."
    word = _SIGNS.sub(" ", _PER.sub(" ", word)).strip()
    negative = bool(re.fullmatch(r"\(.*\)|-.*|.*-", word))
    word = word.strip("()-+ \t")
    value, more = _number(word)
    if value is None:
        return ReadAmount(wrong="cannot be read as a price")
    if negative and value:
        return ReadAmount(wrong="is negative")
    return ReadAmount(value=round(value, 2), note=" ".join(part for part in (note, more) if part))


def _number(word: str) -> tuple[float | None, str]:
    """A plain number with whatever separators; None when it is none."""
    word = word.strip()
    if not re.fullmatch(rf"[0-9][0-9.,{_SPACES}]*|[.,][0-9]+", word) or len(word) > 30:
        return None, ""
    last = max(word.rfind("."), word.rfind(","))
    note = ""
    if last < 0:
        whole, cents = word, ""
    else:
        sign, tail = word[last], word[last + 1 :]
        both = "." in word and "," in word
        # 4 or more digits before a lone separator cannot be thousands.
        lone = not both and word.count(sign) == 1
        before = len(re.sub(r"[^0-9]", "", word[:last]))
        thousands = not both and len(tail) == 3 and (not lone or 1 <= before <= 3) and word[:last] != "0"
        if not both and not lone:
            thousands = True
        if thousands:
            whole, cents = word, ""
            if lone and sign == ".":
                note = f'"{word}" was read as {word.replace(".", ",")}: prices have two decimals.'
        else:
            whole, cents = word[:last], tail
    groups = re.split(rf"[.,{_SPACES}]", whole)
    if len(groups) > 1 and not (1 <= len(groups[0]) <= 3 and all(len(one) == 3 for one in groups[1:])):
        return None, ""
    if len({sign for sign in whole if not sign.isdigit()}) > 1 or (cents and not cents.isdigit()):
        return None, ""
    if last >= 0 and word[last] == "," and len(cents) > 2:
        return None, ""
    value = float(f"{''.join(groups) or '0'}.{cents or '0'}")
    return (value, note) if value < _BIG else (None, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadRange:
    """A number of homes, with the end where the cell gave a range."""

    first: int | None = None
    last: int | None = None
    wrong: str = ""


def read_count(text: str) -> ReadRange:
    """Read a number of homes: "10", "10+", "10 or more", "from 10", "5-9", "5 to 9 homes".

    Examples
    --------
    >>> read_count("5 - 9 homes").first, read_count("5 - 9 homes").last
    (5, 9)
    """
    word = simplify(plain(text))
    if not word:
        return ReadRange()
    word = re.sub(r"\b(?:homes?|houses?|units?|heaters?|from|on|at least|jobs?|starting at)\b|≥|>=", " ", word)
    word = re.sub(r"\bor more\b|\band (?:more|up|above|over)\b|\+", " ", word).strip()
    match = re.fullmatch(
        r"(-?[0-9]{1,3}(?:,?[0-9]{3})?)(?:\.0+)?\s*(?:(?:-|–|—|to|through|thru)\s*([0-9]{1,6}))?", word
    )
    if match is None:
        return ReadRange(wrong="cannot be read as a number of homes")
    first, last = int(match[1].replace(",", "")), int(match[2]) if match[2] else None
    if first < 0:
        return ReadRange(wrong="is negative")
    if last is not None and last < first:
        return ReadRange(wrong="ends before it begins")
    return ReadRange(first=first, last=last)
