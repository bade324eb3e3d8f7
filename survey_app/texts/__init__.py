"""The words people read, by language: one file per subject, in Fluent's open format (``en/*.ftl``, ``es/*.ftl``).

English is complete; another language is a folder beside it. A message that a
translation lacks is shown in English, and a test says which ones are missing.
Values go into messages as text already written for the language: numbers,
months and dollars by the methods of :class:`Texts`, so that a page never builds
a sentence of its own.

Nothing is read before it is used, a file when one of its messages is first asked
for: most commands need a few messages, some none. Fluent and Babel are imported
then, too. So a message may name no message of another file, but any of the terms
in ``terms.ftl``, which hold what must be said in the same words everywhere.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from functools import cache, cached_property
from importlib.resources import files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fluent.runtime import FluentBundle

__all__ = ["ENGLISH", "LANGUAGES", "NEEDS_REVIEW", "Message", "Texts", "message_keys", "texts"]

LANGUAGES = {"en": "English", "es": "Español"}
"""Languages of the resident's door, each by its own name."""
NEEDS_REVIEW = frozenset({"es"})
"""Translations that no native speaker has reviewed yet; the pages say so."""
_LOCALES = {"en": "en_US", "es": "es_US"}

_LONGEST = 2500
"""Signs in one value of a message: `MAX_PART_LENGTH` of fluent.runtime."""
_TERMS = "terms.ftl"
_MESSAGE = re.compile(r"^([A-Za-z][\w-]*) *=", re.MULTILINE)
"""Where a message begins; the lines it goes on in are indented."""


class Texts:
    """Everything the tool says in one language.

    Parameters
    ----------
    language
        A key of :data:`LANGUAGES`.

    Raises
    ------
    ValueError
        When there is no such language.
    """

    def __init__(self, language: str) -> None:
        if language not in LANGUAGES:
            raise ValueError(f"There is no language '{language}'. There are: {', '.join(LANGUAGES)}.")
        self.language = language
        self._locale = _LOCALES[language]
        self._read = [_read(name) for name in dict.fromkeys((language, "en"))]

    def __call__(self, key: str, **values: str | int | float) -> str:
        """The message `key` with its values.

        Raises
        ------
        LookupError
            When no language has the message: a fault of the program.
        """
        message_id, _, attribute = key.partition(".")
        for bundle in (read.bundle_with(message_id) for read in self._read):
            if bundle is None:
                continue
            message = bundle.get_message(message_id)
            pattern = message.attributes.get(attribute) if attribute else message.value
            if pattern is None:
                continue
            said, errors = bundle.format_pattern(pattern, {name: _short(value) for name, value in values.items()})
            if errors:
                raise LookupError(f"Message '{key}' ({self.language}) could not be formed: {errors[0]}.")
            return str(said)
        raise LookupError(f"There is no message '{key}'.")

    def has(self, key: str) -> bool:
        """Whether there is such a message in this language or in English."""
        message_id, _, attribute = key.partition(".")
        return any(
            bundle is not None and (not attribute or attribute in bundle.get_message(message_id).attributes)
            for bundle in (read.bundle_with(message_id) for read in self._read)
        )

    def lines(self, key: str, **values: str | int | float) -> list[str]:
        """The message `key`, one entry per line: a list of steps or reasons."""
        return [line.strip() for line in self(key, **values).splitlines() if line.strip()]

    def month(self, day: date) -> str:
        """A month and its year, such as "May 2009"."""
        from babel.dates import format_skeleton

        return str(format_skeleton("yMMMM", day, locale=self._locale))

    def day(self, day: date) -> str:
        """A day in full."""
        from babel.dates import format_date

        return str(format_date(day, "long", locale=self._locale))

    def weekday_day(self, day: date) -> str:
        """A day in full with its weekday: what somebody at the door needs."""
        from babel.dates import format_date

        return str(format_date(day, "full", locale=self._locale))

    def usd(self, dollars: float, *, cents: bool = False) -> str:
        """An amount in dollars, whole unless `cents`."""
        from babel.numbers import format_currency

        pattern = "¤#,##0.00" if cents else "¤#,##0"
        amount = float(dollars)
        # A rounded zero has no sign.
        shown = 0.0 if round(amount, 2 if cents else 0) == 0 else amount
        return str(format_currency(shown, "USD", format=pattern, locale="en_US", currency_digits=False))

    def number(self, value: float, decimals: int = 0) -> str:
        """A number with the language's own separators."""
        from babel.numbers import format_decimal

        shown = format_decimal(round(float(value), decimals), format="#,##0." + "0" * decimals, locale=self._locale)
        return str(shown) if decimals else str(shown).rstrip(".,")

    def numbers(self, *values: float) -> tuple[str, ...]:
        """Numbers of one range with as few decimals, three at most, as tell its ends apart and show none as zero."""
        for decimals in range(4):
            shown = tuple(self.number(value, decimals) for value in values)
            told = [round(float(value), decimals) for value in values]
            apart = min(told) != max(told) or min(values) == max(values)
            if apart and all(told[i] or not values[i] for i in range(len(values))):
                break
        return shown


@dataclass(frozen=True, slots=True)
class Message:
    """A sentence not yet said: what is found out once may be told in any language.

    ``values`` are pairs of a name and a value. A day is written as the language
    writes it; one named "month" by its month and year alone.
    """

    key: str
    values: tuple[tuple[str, str | date], ...] = ()

    @classmethod
    def of(cls, key: str, **values: str | date) -> Message:
        """The message `key` with these values."""
        return cls(key, tuple(values.items()))

    def said(self, say: Texts) -> str:
        """The sentence in one language."""
        written = {
            name: value if isinstance(value, str) else say.month(value) if name == "month" else say.day(value)
            for name, value in self.values
        }
        return say(self.key, **written)


def _short(value: str | int | float) -> str | int | float:
    """A value that fits a message: the runtime takes no more signs, and nobody's long remark may stop a paper."""
    return value[: _LONGEST - 1] + "…" if isinstance(value, str) and len(value) > _LONGEST else value


@cache
def texts(language: str = "en") -> Texts:
    """The words of one language, read once."""
    return Texts(language)


def message_keys(language: str) -> dict[str, str]:
    """Every message and attribute of one language with its pattern as written, for tests and translators."""
    from fluent.syntax import FluentParser, ast
    from fluent.syntax.serializer import FluentSerializer

    found: dict[str, str] = {}
    serialize = FluentSerializer()
    for name, text in _sources(language):
        for entry in FluentParser(with_spans=True).parse(text).body:
            if isinstance(entry, ast.Junk):
                line = text.count("\n", 0, entry.span.start if entry.span else 0) + 1
                raise ValueError(
                    f"{language}/{name}, line {line}: this is not a message: {(entry.content or '')[:60]!r}."
                )
            if isinstance(entry, ast.Message):
                written = serialize.serialize_entry(entry)
                if entry.id.name in found:
                    raise ValueError(f"{language}/{name}: message '{entry.id.name}' is there twice.")
                if entry.value is not None:
                    found[entry.id.name] = written
                for attribute in entry.attributes:
                    found[f"{entry.id.name}.{attribute.id.name}"] = written
    return found


def _sources(language: str) -> list[tuple[str, str]]:
    folder = files(__package__) / language
    names = sorted((p for p in folder.iterdir() if p.name.endswith(".ftl")), key=lambda p: p.name)
    return [(p.name, p.read_text(encoding="utf-8")) for p in names]


class _Read:
    """What has been read of one language."""

    def __init__(self, language: str) -> None:
        self._language = language
        self._files_read: set[str] = set()

    @cached_property
    def _file_of(self) -> dict[str, tuple[str, str]]:
        """The name and text of the file of each message."""
        return {
            message_id: (name, text) for name, text in _sources(self._language) for message_id in _MESSAGE.findall(text)
        }

    @cached_property
    def _bundle(self) -> FluentBundle:
        from fluent.runtime import FluentBundle, FluentResource

        bundle = FluentBundle([_LOCALES[self._language].replace("_", "-")], use_isolating=False)
        for name, text in _sources(self._language):
            if name == _TERMS:
                bundle.add_resource(FluentResource(text))
        return bundle

    def bundle_with(self, message_id: str) -> FluentBundle | None:
        """The messages read so far, this one among them; None where this language has none of that name."""
        found = self._file_of.get(message_id)
        if found is None:
            return None
        name, text = found
        if name not in self._files_read:
            from fluent.runtime import FluentResource

            self._bundle.add_resource(FluentResource(text))
            # Marked only when it is in: another screen's thread may ask meanwhile, and reading twice does no harm.
            self._files_read.add(name)
        return self._bundle if self._bundle.has_message(message_id) else None


@cache
def _read(language: str) -> _Read:
    return _Read(language)


ENGLISH = texts("en")
