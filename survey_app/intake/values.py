"""One cell or one field read: choices, lists of choices and numbers, as people spell them.

The spellings are data of each question; here is only how they are tried: the
stored value or its label, then the synonyms, then words that settle it, then
the labels of other languages. What none of these explains is unreadable, with
the answers there are.
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from survey_app.intake.kinds import Question
from survey_app.intake.questions import question
from survey_app.intake.spellings import NOT_SURE_WORDS, WEEKDAYS
from survey_app.texts import ENGLISH, LANGUAGES, Message, texts

__all__ = ["ReadChoice", "ReadNumber", "plain", "read_choice", "read_choices", "read_number", "simplify"]

LONGEST_NOTE = 60
SHORTEST_GUESSED = 5
"""Letters a word must have before a misspelling of it is guessed at."""
CLOSE_ENOUGH = 0.84
"""Share of letters that must agree (`difflib`), chosen so that one wrong or doubled letter in six passes."""
_NUMBER_WORDS = {
    word: str(number)
    for number, word in enumerate(
        ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]
    )
}
_NUMBER_WORDS |= {"fifteen": "15", "thirty": "30", "forty": "40", "fourty": "40", "fifty": "50", "sixty": "60"}
_HEDGES = re.compile(
    r"\b(?:about|approx(?:imately)?|around|circa|roughly|maybe|probably|i think|think|guess)\b\.?|[~≈]"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadChoice:
    """What was chosen.

    ``values`` is empty where it was left open or "not sure" (a question whose
    choices include "not sure" then still has an empty tuple). ``wrong`` holds
    the parts that could not be read, ``noted`` what misspelled words were taken for.
    """

    values: tuple[str, ...] = ()
    wrong: tuple[str, ...] = ()
    noted: tuple[Message, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadNumber:
    """A number in the question's own unit; ``value`` None where open or unreadable (then ``wrong``)."""

    value: float | None = None
    wrong: bool = False
    noted: Message | None = None

    @property
    def note(self) -> str:
        """What was assumed on the way, in English."""
        return self.noted.said(ENGLISH) if self.noted else ""


def plain(text: str) -> str:
    """A text with its spaces put right and nothing unprintable left in it, as it is kept."""
    normal = unicodedata.normalize("NFC", text).replace("\u00a0", " ").replace("\u200b", "").replace("\ufeff", "")
    printable = "".join(sign if sign in "\n\t" or unicodedata.category(sign)[0] != "C" else " " for sign in normal)
    return re.sub(r"[ \t]+", " ", printable).strip()


def simplify(text: str) -> str:
    """A text as it is compared: no case, no doubled spaces, plain quotes, no full stop or "?" at its end."""
    folded = unicodedata.normalize("NFKC", text).casefold().replace("’", "'").replace("_", " ")
    folded = re.sub(r"\s+", " ", folded).strip(" \t'\"")
    shorter = folded.rstrip(".!?, ")
    return shorter or folded


def read_choice(key: str, text: str) -> ReadChoice:
    """Read one answer to a question with choices.

    Examples
    --------
    >>> read_choice("kind", "Natural gas tank").values
    ('gas storage',)
    >>> read_choice("pan", "idk").values
    ()
    """
    return _choice_cached(key, text)


@lru_cache(maxsize=20_000)
def _choice_cached(key: str, text: str) -> ReadChoice:
    asked = question(key)
    word = simplify(text)
    if not word or word in NOT_SURE_WORDS:
        return ReadChoice()
    value, note = _match(asked, word), None
    if value is None:
        value = _labels_elsewhere(key).get(word)
    if value is None:
        value, note = _match_misspelled(asked, word)
    if value is None:
        return ReadChoice(wrong=(text.strip(),))
    if not value or value in NOT_SURE_WORDS:
        return ReadChoice()
    return ReadChoice(values=(value,), noted=(note,) if note else ())


def read_choices(key: str, text: str) -> ReadChoice:
    """Read a list of answers, separated by semicolons, commas or line breaks.

    Returns
    -------
    ReadChoice
        The values in the order of the question's choices, each once.

    Examples
    --------
    >>> read_choices("weekdays", "Sat, tuesdays").values
    ('tue', 'sat')
    """
    return _choices_cached(key, text)


@lru_cache(maxsize=20_000)
def _choices_cached(key: str, text: str) -> ReadChoice:
    asked = question(key)
    whole = simplify(text)
    if not whole or whole in NOT_SURE_WORDS:
        return ReadChoice()
    if (value := _match(asked, whole, keywords=False)) is not None:
        return ReadChoice(values=_in_order(asked, value.split(";") if value else []))
    found: list[str] = []
    wrong: list[str] = []
    notes: list[Message] = []
    for part in _parts(asked, text):
        word = simplify(part)
        if not word or word in NOT_SURE_WORDS:
            continue
        value = _match(asked, word)
        if value is None and key == "weekdays":
            value = _days(word)
        if value is None:
            value = _labels_elsewhere(key).get(word)
        if value is None:
            value, note = _match_misspelled(asked, word)
            notes += [note] if note else []
        if value is None:
            wrong.append(part.strip())
        elif value:
            found.extend(value.split(";"))
    if wrong and (value := _labels_elsewhere(key).get(whole)) is not None:
        return ReadChoice(values=(value,))  # one label with a comma in it
    return ReadChoice(values=_in_order(asked, found), wrong=tuple(dict.fromkeys(wrong)), noted=tuple(notes))


def read_number(key: str, text: str) -> ReadNumber:
    """Read a number with or without its unit: "50 gal", "about 6 yrs", "40-50" (the middle).

    Examples
    --------
    >>> read_number("warranty_years", "72 months").value
    6.0
    """
    return _number_cached(key, text)


@lru_cache(maxsize=20_000)
def _number_cached(key: str, text: str) -> ReadNumber:
    spelled = question(key).spelled
    units = spelled.units
    word = simplify(text)
    if not word or word in NOT_SURE_WORDS:
        return ReadNumber()
    if word in spelled.answers:
        return ReadNumber(noted=Message.of("typed-not-known", typed=text.strip()[:LONGEST_NOTE]))
    word = _HEDGES.sub(" ", word)
    word = re.sub(r"(?<![a-z])[a-z]+(?![a-z])", lambda m: _NUMBER_WORDS.get(m[0], m[0]), word)
    number = r"([0-9]{1,6}(?:,[0-9]{3})?(?:\.[0-9]{1,4})?)"
    match = re.fullmatch(rf"\s*{number}\s*(?:(?:-|–|to|or|/)\s*{number})?\s*-?\s*([a-z. ]*)\s*", word)
    if match is None:
        return ReadNumber(wrong=True)
    low, high, unit = match.groups()
    # "6 year warranty" and "50 gal tank": what follows the unit word is passed over.
    unit_words = unit.replace(".", " ").split()
    factor = 1.0
    if unit_words:
        if unit_words[0] not in units:
            return ReadNumber(wrong=True)
        factor = units[unit_words[0]]
    values = [float(one.replace(",", "")) * factor for one in (low, high) if one]
    note = Message.of("typed-middle", typed=text.strip()[:LONGEST_NOTE]) if len(values) == 2 else None
    return ReadNumber(value=round(sum(values) / len(values), 2), noted=note)


def _match(asked: Question, word: str, *, keywords: bool = True) -> str | None:
    """The stored value a word stands for; "" for an answer that leaves the question open; None if unknown."""
    exact, by_words = _tables(asked.key)
    if word in exact:
        return exact[word]
    if not keywords:
        return None
    words = re.findall(r"[a-z0-9']+", word)
    if asked.key == "weekdays":
        return words[0][:3] if len(words) == 1 and words[0][:3] in WEEKDAYS and len(words[0]) > 3 else None
    if re.search(r"\bnot sure\b|\bdon'?t know\b|\bno idea\b|\bcan'?t tell\b|\bunknown\b|\bunsure\b", word):
        return ""
    have = set(words)
    for needed, value in by_words:
        if needed <= have:
            return value
    return None


@lru_cache(maxsize=100)
def _tables(key: str) -> tuple[dict[str, str], tuple[tuple[frozenset[str], str], ...]]:
    asked = question(key)
    exact = {simplify(spelling): str(value) for spelling, value in asked.spelled.answers.items()}
    exact |= {simplify(asked.label(value)): str(value) for value in asked.values}
    exact |= {simplify(value): str(value) for value in asked.values}
    by_words = tuple((frozenset(words.split()), str(value)) for words, value in asked.spelled.words)
    return exact, by_words


@lru_cache(maxsize=100)
def _labels_elsewhere(key: str) -> dict[str, str]:
    """The stored value of each label of the other languages, read only where English explains nothing."""
    asked = question(key)
    others = [texts(language) for language in LANGUAGES if language != ENGLISH.language]
    return {simplify(asked.label(value, say)): str(value) for say in others for value in asked.values}


def _parts(asked: Question, text: str) -> list[str]:
    parts = re.split(r"[;\n|]", text)
    if asked.key == "weekdays":
        parts = [piece for part in parts for piece in re.split(r"[,/&+]|\band\b|\bor\b", part)]
        spaced = [part.split() for part in parts]
        if all(simplify(piece)[:3] in WEEKDAYS for pieces in spaced for piece in pieces):
            return [piece for pieces in spaced for piece in pieces]
        return parts
    return [piece for part in parts for piece in part.split(",")]


def _match_misspelled(asked: Question, word: str) -> tuple[str | None, Message | None]:
    """The value a misspelled word stands for ("garrage"), with a note; short words are not guessed at."""
    exact, by_words = _tables(asked.key)
    known = {one for spelling in exact for one in spelling.split()} | {one for words, _ in by_words for one in words}
    vocabulary = sorted(one for one in known if len(one) >= SHORTEST_GUESSED)
    changed = word
    for typed in re.findall(rf"[a-z]{{{SHORTEST_GUESSED},30}}", word[:200]):
        close = difflib.get_close_matches(typed, vocabulary, n=1, cutoff=CLOSE_ENOUGH)
        if close and close[0] != typed:
            changed = changed.replace(typed, close[0])
    value = _match(asked, changed) if changed != word else None
    if not value:
        return value, None
    return value, Message.of("typed-misspelled", typed=word[:LONGEST_NOTE], read=changed[:LONGEST_NOTE])


def _days(word: str) -> str | None:
    """Read "mon-wed" and "not Tuesday"."""
    if except_one := re.fullmatch(r"(?:any (?:day )?)?(?:not|no|except|but not) (?:on )?([a-z]{3})[a-z]*", word):
        return ";".join(day for day in WEEKDAYS if day != except_one[1]) if except_one[1] in WEEKDAYS else None
    match = re.fullmatch(r"([a-z]{3})[a-z]*\s*(?:-|to|through|thru)\s*([a-z]{3})[a-z]*", word)
    if match is None or match[1] not in WEEKDAYS or match[2] not in WEEKDAYS:
        return None
    first, last = WEEKDAYS.index(match[1]), WEEKDAYS.index(match[2])
    return ";".join(WEEKDAYS[first : last + 1]) if first <= last else None


def _in_order(asked: Question, found: list[str]) -> tuple[str, ...]:
    return tuple(value for value in asked.values if value in found)
