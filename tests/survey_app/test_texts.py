"""Every word people read, in every language: complete, with the same values, and readable at twelve."""

from __future__ import annotations

import ast as python
import re
import warnings
from datetime import date
from functools import cache
from pathlib import Path

import pytest
import textstat
from fluent.runtime import FluentResource

import survey_app
from survey_app.intake import QUESTIONS, SECTIONS
from survey_app.records import Interest, Tri
from survey_app.texts import LANGUAGES, Texts, _Read, message_keys, texts

HIGHEST_GRADE = 6.5
"""Flesch-Kincaid grade that a child of about twelve reads (U.S. grade 6 is ages 11 to 12)."""
_PLACES = re.compile(r"\{\s*\$([a-z_]+)")
_FTL = Path(survey_app.__file__).with_name("texts")


def test_every_message_is_there_in_every_language_with_the_same_values() -> None:
    """A translation lacks nothing, adds nothing, and uses the values that the English is given."""
    english = message_keys("en")
    for language in LANGUAGES:
        found = message_keys(language)
        missing = sorted(set(english) - set(found))
        extra = sorted(set(found) - set(english))
        assert missing == [], language
        assert extra == [], language
        for key, pattern in english.items():
            assert set(_PLACES.findall(found[key])) == set(_PLACES.findall(pattern)), (language, key)


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_question_and_every_choice_has_its_words(language: str) -> None:
    """No form asks with a key, nor offers a stored value; what is chosen differs within a question."""
    say, there = texts(language), message_keys(language)
    for question in QUESTIONS:
        assert f"q-{question.key}" in there
        assert question.text(say)
        labels = [question.label(value, say) for value in question.values]
        assert len(set(labels)) == len(labels), question.key
    for section in SECTIONS:
        assert section.head(say)


def test_every_message_of_the_questions_belongs_to_one() -> None:
    """No words are kept of a question or a choice that is not there."""
    own = {f"q-{q.key}{part}" for q in QUESTIONS for part in ("", ".help", ".short")}
    own |= {f"q-{q.key}.{value.replace(' ', '-')}" for q in QUESTIONS for value in q.values}
    shared = {f"{of}.{v.replace(' ', '-')}" for of, vs in (("q-yes-no", Tri), ("q-interest", Interest)) for v in vs}

    there = {key for key in message_keys("en") if key.startswith("q-") and not key.startswith("q-section-")}
    assert there - own - shared == set()


def _said_in_code() -> set[str]:
    """Every message named as a plain string in a call of ``say`` in the program."""
    found: set[str] = set()
    for path in Path(survey_app.__file__).parent.rglob("*.py"):
        for node in python.walk(python.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, python.Call) or not node.args or not isinstance(node.args[0], python.Constant):
                continue
            function = node.func.value if isinstance(node.func, python.Attribute) else node.func
            name = function.id if isinstance(function, python.Name) else ""
            lines = isinstance(node.func, python.Attribute) and node.func.attr == "lines"
            if (name == "say" or lines) and isinstance(node.args[0].value, str) and "-" in node.args[0].value:
                found.add(node.args[0].value)
    return found


def test_every_message_the_program_names_exists() -> None:
    """No page fails for a misspelled message."""
    named = _said_in_code()

    assert len(named) > 100
    assert [key for key in sorted(named) if not texts("en").has(key)] == []


def _prose(path: Path) -> str:
    """A file's messages as sentences: markup, values and short labels left out."""
    sentences = []
    for written in message_keys(path.parent.name).values():
        body = written.split("=", 1)[1] if "=" in written else written
        body = re.sub(r"\{[^{}]*->(.*?)\*\[other\](.*?)\n\s*\}", r"\2", body, flags=re.DOTALL)
        body = re.sub(r"\{[^{}]*\}", "9", re.sub(r"<[^>]+>|\*\*|^\s*\.\w+ =", " ", body, flags=re.MULTILINE))
        for line in body.splitlines():
            if len(line.split()) >= 5:
                sentences.append(line.strip().rstrip(".:") + ".")
    return "\n".join(sentences)


@pytest.mark.parametrize("path", sorted((_FTL / "en").glob("*.ftl")), ids=lambda p: p.stem)
def test_a_child_of_twelve_can_read_it(
    path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Short sentences, everyday words: the Flesch-Kincaid grade of each subject, measured and printed."""
    monkeypatch.setattr("survey_app.texts._sources", lambda language: [(path.name, path.read_text(encoding="utf-8"))])
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        grade = textstat.flesch_kincaid_grade(_prose(path))
    with capsys.disabled():
        print(f"\n{path.name}: Flesch-Kincaid grade {grade:.1f}", end="")

    assert grade <= HIGHEST_GRADE


def test_values_are_written_as_the_language_writes_them() -> None:
    """Months and numbers by the language; dollars as printed here; a rounded zero has no sign."""
    english, spanish = texts("en"), texts("es")

    assert english.month(date(2026, 11, 3)) == "November 2026"
    assert spanish.day(date(2026, 11, 3)) == "3 de noviembre de 2026"
    assert english.usd(1234.6) == "$1,235"
    assert english.usd(-0.3) == "$0"
    assert english.number(1234.56, 1) == "1,234.6"


def test_a_file_is_read_when_one_of_its_messages_is_first_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """Saying one message of two files reads one file; a wrong line in the other stops only what it holds."""
    sources = [("one.ftl", "greeting = Hello\n    .short = Hi\n"), ("two.ftl", "parting = { $nobody }\nlast = Bye\n")]
    monkeypatch.setattr("survey_app.texts._sources", lambda language: sources)
    parsed = []
    monkeypatch.setattr("fluent.runtime.FluentResource", lambda text: parsed.append(text) or FluentResource(text))
    monkeypatch.setattr("survey_app.texts._read", cache(_Read))
    say = Texts("en")

    assert parsed == []
    assert say.has("greeting.short")
    assert not say.has("greeting.long")
    assert not say.has("farewell")
    assert [say("greeting"), say("greeting.short")] == ["Hello", "Hi"]
    assert parsed == [sources[0][1]]
    assert say("last") == "Bye"
    assert parsed == [text for _, text in sources]


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_message_is_found_by_its_name_and_names_no_other(language: str) -> None:
    """The quick look for names finds what the parser finds; a message that named one of another file might miss it.

    Terms may be named: those of `terms.ftl`, which is read first, and those of a message's own file.
    """
    say = texts(language)
    for key, written in message_keys(language).items():
        assert say.has(key), key
        assert not re.search(r"\{\s*[a-zA-Z][\w-]*(\.[\w-]+)?\s*\}", written), key
    shared = re.findall(r"^(-[\w-]+) =", (_FTL / language / "terms.ftl").read_text(encoding="utf-8"), re.MULTILINE)
    assert shared
    for path in (_FTL / language).glob("*.ftl"):
        written = path.read_text(encoding="utf-8")
        own = re.findall(r"^(-[\w-]+) =", written, re.MULTILINE)
        assert set(re.findall(r"\{\s*(-[\w-]+)\s*\}", written)) <= {*shared, *own}, path.name


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ((20.3, 13.2, 27.4), ("20", "13", "27")),
        ((1.2, 1.1, 1.4), ("1.2", "1.1", "1.4")),
        ((0.4, 0.2, 0.9), ("0.4", "0.2", "0.9")),
        ((0.03, 0.01, 0.06), ("0.03", "0.01", "0.06")),
        ((12.0, 11.96, 12.04), ("12.00", "11.96", "12.04")),
        ((5.0, 5.0, 5.0), ("5", "5", "5")),
        ((0.0, 0.0, 3.0), ("0", "0", "3")),
    ],
)
def test_a_range_is_told_with_as_few_decimals_as_keep_its_ends_apart(
    values: tuple[float, ...], told: tuple[str, ...]
) -> None:
    """Never "about 1, between 1 and 1", and no chance above nothing as 0; what is the same all over stays whole."""
    assert texts("en").numbers(*values) == told


def test_a_missing_message_or_language_is_told() -> None:
    """A fault of the program is named, not shown as an empty line."""
    with pytest.raises(LookupError, match="no-such-message"):
        texts("en")("no-such-message")
    with pytest.raises(ValueError, match="There is no language 'xx'"):
        Texts("xx")
