"""What is wrong in an answer, in every language: no message missing, no English left, the same things found."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import survey_app
from geo.addresses import AddressBook, Differs, Doubt
from survey_app.date_codes import readings
from survey_app.intake import KEYS, QUESTIONS, Checked, Lands, check
from survey_app.intake.reading import ASKED_YEAR_OR_AGE, HAPPENED
from survey_app.intake.wording import message_of
from survey_app.joins import Join, JoinState, join_all
from survey_app.records import AnswerChannel, Dated, Symptom
from survey_app.symptoms import handling
from survey_app.texts import ENGLISH, LANGUAGES, Texts, message_keys, texts
from survey_app.typed_dates import DateReading, describe, read_date

TODAY = date(2026, 11, 25)
PACKAGE = Path(survey_app.__file__).parent
SPANISH = texts("es")
_PLACES = re.compile(r"\{\s*\$([a-z_]+)")
_ENGLISH_WORDS = re.compile(r"\b(?:the|is|was|and|of|or|it|to|say|date|year|installed)\b", re.IGNORECASE)
"""Words that every English sentence here has one of, and no Spanish one."""


def _check(given_: Mapping[str, str], say: Texts, house_year: int | None = 2006) -> Checked:
    return check(
        {"address": "12 Sample Street", **given_},
        channel=AnswerChannel.FORM,
        today=TODAY,
        house_year=house_year,
        submitted_by="resident",
        submitted_at=datetime(2026, 11, 25, tzinfo=UTC),
        say=say,
    )


# ---- every key has its message -------------------------------------------

_EXPANDED = {
    "-in-future": [f"{key}-in-future" for key in HAPPENED],
    "-before-installed": [f"{one.key}-before-installed" for one in QUESTIONS if one.lands is Lands.ACT],
    "-unreadable": ["kind-unreadable"],
    "-read-as": ["kind-read-as"],
    "-year-or-age": [f"{key}-year-or-age" for key in ASKED_YEAR_OR_AGE],
    "safety:": [f"safety:{s}" for s in Symptom if handling(s).comes_first or s is Symptom.LEAK],
}
"""The keys that a key with a part of its own stands for, by the part it always has."""


def _keys_in_code() -> Iterator[tuple[str, str]]:
    """Every key of a problem that the code can tell, with where it stands."""
    for name in ("check.py", "contradictions.py", "reading.py"):
        for node in ast.walk(ast.parse((PACKAGE / "intake" / name).read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            if (
                called not in ("note", "_find", "_problem", "of")
                or len(node.args) < 2
                or isinstance(node.args[1], ast.Name)
            ):
                continue
            where, key = f"{name}, line {node.lineno}", node.args[1]
            if isinstance(key, ast.Constant):
                yield str(key.value), where
                continue
            assert isinstance(key, ast.JoinedStr), where
            fixed = "".join(part.value for part in key.values if isinstance(part, ast.Constant))
            assert fixed in _EXPANDED, f"{where}: say in this test what the key stands for"
            for one in _EXPANDED[fixed]:
                yield one, where


def test_every_problem_that_can_be_told_has_its_message_in_every_language() -> None:
    """A new problem without its sentence, in any language, fails here and not on a resident's phone."""
    keys = dict(_keys_in_code())

    assert len(keys) > 40
    for language in LANGUAGES:
        there = message_keys(language)
        assert [(key, where) for key, where in keys.items() if message_of(key) not in there] == [], language


def test_every_message_of_a_problem_belongs_to_one() -> None:
    """No sentence is kept that nothing says."""
    said = {message_of(key) for key, _ in _keys_in_code()}
    parts = set(re.findall(r'"(problem-[a-z_-]+)"', "".join(p.read_text() for p in (PACKAGE / "intake").glob("*.py"))))
    there = {key.partition(".")[0] for key in message_keys("en") if key.startswith("problem-")}

    assert there == (said | parts) & there
    assert there - said - parts == set()


def test_every_message_kept_for_later_exists_and_gets_its_values() -> None:
    """What is noted while a date or a number is read: each message is there and is given exactly its values."""
    patterns, seen = message_keys("en"), set()
    for path in [*(PACKAGE / "typed_dates").glob("*.py"), PACKAGE / "intake" / "values.py"]:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or ast.unparse(node.func) not in ("_m", "Message.of", "Message"):
                continue
            first = node.args[0]
            for name in [first.body, first.orelse] if isinstance(first, ast.IfExp) else [first]:
                assert isinstance(name, ast.Constant), ast.unparse(node)
                seen.add(name.value)
                assert {k.arg for k in node.keywords} == set(_PLACES.findall(patterns[str(name.value)])), name.value

    assert seen == {key for key in patterns if key.startswith("typed-")}


# ---- what is said --------------------------------------------------------

WRONG: list[dict[str, str]] = [
    {"installed": "2001"},
    {"installed": "15", "moved_in": "18"},
    {"installed": "1988", "warranty_end": "2090-01-01"},
    {"heater_number": "second", "installed": "2020"},
    {"heater_number": "first", "date_code": "4815"},
    {"installed": "05/12/2001", "last_flush": "1999-03-04"},
    {"installed": "2031", "last_flush": "2028", "last_anode": "12/30/2026", "relief_valve_test": "2030"},
    {"previous_gone": "2028", "moved_in": "2029", "answered_on": "2027-01-01"},
    {"heater_number": "first", "previous_gone": "2012"},
    {"heater_number": "first", "installed": "2015"},
    {"heater_number": "second", "installed": "2006", "installed_evidence": "house completion"},
    {"installed": "2015", "last_flush": "2012", "last_anode": "May 2014", "relief_valve_test": "2010"},
    {"installed": "2012", "previous_gone": "2019"},
    {"installed": "2019", "previous_gone": "2012-2013"},
    {"previous_gone": "2001", "moved_in": "1999"},
    {"installed": "2015", "warranty_end": "2012", "warranty_years": "25"},
    {"installed": "2015", "warranty_end": "2030", "warranty_years": "6"},
    {"kind": "tankless", "tank_gallons": "50", "last_anode": "2020"},
    {"tank_gallons": "500", "consent": ""},
    {"installed": "2019", "date_code": "0609"},
    {"date_code": "0619"},
    {"date_code": "4815"},
    {"date_code": "48151234"},
    {"date_code": "zz"},
    {"date_code": "JUNE 2009"},
    {"heater_number": "first"},
    {"previous_gone": "2012"},
    {"last_anode": "never", "anode_work": "changed"},
    {"last_anode": "", "anode_work": "checked"},
    {"symptoms": "none; smell of gas; relief valve has opened; burner safety switch has tripped"},
    {"symptoms": "carbon monoxide alarm or illness; soot or a bad flue"},
    {"symptoms": "water on or under the heater"},
    {"consent": "no"},
    {"installed": "30/30/2010", "tank_gallons": "q", "kind": "q", "symptoms": "q", "weekdays": "q"},
    {"moved_in": "never"},
    {"warranty_years": "6-8 years", "tank_gallons": "lifetime", "place": "garrage", "last_flush": "Feb 30 2010"},
]


@pytest.mark.parametrize("texts_", WRONG, ids=lambda t: ",".join(f"{k}={v}" for k, v in t.items())[:60])
@pytest.mark.parametrize("house_year", [2006, 1975, None])
def test_a_spanish_answer_is_told_nothing_in_english(texts_: dict[str, str], house_year: int | None) -> None:
    """Every sentence is another than the English one, and no English word stands in it."""
    spanish, english = (_check({"consent": "yes", **texts_}, say, house_year).problems for say in (SPANISH, ENGLISH))
    typed = sorted(map(re.escape, filter(None, texts_.values())), key=len, reverse=True)

    assert [p.key for p in spanish] == [p.key for p in english]
    for there, here in zip(spanish, english, strict=True):
        assert there.what != here.what
        assert bool(there.remedy) is bool(here.remedy)
        # What the person typed is shown as it was typed.
        words = re.sub(rf'"(?:{"|".join(typed)}|[a-z ]+)"', "", there.sentence)
        assert _ENGLISH_WORDS.findall(words) == [], there.sentence


def test_the_wrong_answers_above_meet_nearly_every_problem() -> None:
    """The sentences looked at above are those there are."""
    told = [_check({"consent": "yes", **one}, SPANISH, house).problems for one in WRONG for house in (2006, 1975)]
    met = {message_of(p.key) for problems in told for p in problems}
    able = {message_of(key) for key, _ in _keys_in_code()}

    # No answer here is without its address.
    assert able - met == {"problem-address-missing"}


def test_dates_and_sizes_are_written_as_the_language_writes_them() -> None:
    """The English is that of the sheets, the Spanish that of a letter."""

    def told(say: Texts, key: str, **given_: str) -> str:
        return next(p.what for p in _check({"consent": "yes", **given_}, say).problems if p.key == key)

    end = {"installed": "5/2015", "warranty_end": "2012-05-03"}
    assert "on 2012-05-03, before the heater was installed (May 2015)" in told(
        ENGLISH, "warranty-ends-before-installed", **end
    )
    assert "el 3 de mayo de 2012, antes de que se instalara el calentador (mayo de 2015)" in told(
        SPANISH, "warranty-ends-before-installed", **end
    )
    assert "500 gallons" in told(ENGLISH, "tank-size", tank_gallons="500")
    assert "500 galones" in told(SPANISH, "tank-size", tank_gallons="500")
    assert "febrero de 2010 no tiene día 30" in told(SPANISH, "installed-unreadable", installed="Feb 30 2010")


_typed = st.one_of(
    st.text(max_size=30),
    st.sampled_from(["2009", "about 2012", "never", "first", "second", "tankless", "500", "2031", "failed", "0609"]),
    st.sampled_from(["none", "data plate", "05/12/2010", "10 years ago", "1999", "house", "2010-2012", "no"]),
)


@settings(max_examples=150, deadline=None)
@given(st.dictionaries(st.sampled_from(KEYS), _typed), st.one_of(st.none(), st.integers(1990, 2026)))
def test_the_language_changes_what_is_said_and_nothing_that_is_found(
    texts_: dict[str, str], house_year: int | None
) -> None:
    """On any texts: the same content, the same problems, the same answer to store."""
    spanish, english = (_check(texts_, say, house_year) for say in (SPANISH, ENGLISH))

    assert spanish.content == english.content
    assert spanish.answer == english.answer
    for there, here in zip(spanish.problems, english.problems, strict=True):
        assert (there.key, there.field, there.severity, there.overrulable, there.blocking) == (
            here.key,
            here.field,
            here.severity,
            here.overrulable,
            here.blocking,
        )


# ---- windows, codes, addresses -------------------------------------------


@pytest.mark.parametrize(
    ("first", "last", "english", "spanish"),
    [
        (date(2009, 5, 12), date(2009, 5, 12), "May 12, 2009", "12 de mayo de 2009"),
        (date(2009, 5, 1), date(2009, 5, 31), "May 2009", "mayo de 2009"),
        (date(2009, 1, 1), date(2009, 12, 31), "2009", "2009"),
        (date(2009, 1, 1), date(2011, 12, 31), "2009 to 2011", "2009–2011"),
        (date(2009, 3, 1), date(2009, 5, 31), "March 2009 to May 2009", "marzo de 2009 a mayo de 2009"),
        (date(2009, 5, 4), date(2009, 5, 10), "the week of May 4, 2009", "la semana del 4 de mayo de 2009"),
    ],
)
def test_a_window_is_described_in_each_language(first: date, last: date, english: str, spanish: str) -> None:
    """The same window, in words of either language."""
    window = Dated(earliest=first, latest=last)

    assert (describe(window), describe(window, SPANISH)) == (english, spanish)


def test_every_reading_of_a_code_has_its_words_in_spanish() -> None:
    """However a code is read, the line to choose from has no English in it, and picks the same date."""
    codes = ("0619", "A0506", "9910A12345", "G05", "K", "X3", "AB1205123", "JUNE 2009", "2002", "06 09 1234", "12B345")
    codes += ("FA12345", "A9", "12B", "1215", "12151234")
    found = [r for code in codes for r in readings(code, house_year=None, today=TODAY)]
    forms = {form for r in found for form, _ in r.forms}

    assert forms == {key.removeprefix("code-form-") for key in message_keys("en") if key.startswith("code-form-")}
    assert {where for r in found for _, where in r.forms} == {"", "start", "inside"}
    for reading in found:
        words = reading.words_in(SPANISH)
        assert not re.search(r"\b(?:year|month|week|letter|the|serial|date|or)\b", words), words
        assert reading.words_in(ENGLISH) == reading.words


def test_what_the_remedy_for_a_date_shows_can_be_read() -> None:
    """Every example in the Spanish remedy is understood when it is typed."""
    remedy = read_date("gato", today=TODAY).to_write
    assert remedy is not None
    examples = re.findall(r'"([^"]+)"', remedy.said(SPANISH))

    assert len(examples) == 6
    assert [e for e in examples if read_date(e, today=TODAY).kind is DateReading.UNREADABLE] == []


def test_every_reason_why_an_address_waits_is_told_in_the_residents_language() -> None:
    """Each doubt and each difference has its words; the English are those that the volunteers read."""
    for doubt in Doubt:
        for differs in [(), *((one,) for one in Differs)] if doubt is Doubt.DIFFERS else [()]:
            how = ", ".join(differs) or "the same but for its writing"
            why = f"{doubt}: {how}." if doubt is Doubt.DIFFERS else str(doubt)
            join = Join(state=JoinState.DOUBTFUL, home_id=None, why=why, doubt=doubt, differs=differs)
            assert join.why_waits(ENGLISH) == why
            assert not re.search(r"\b(?:the|is|no home|street|unit)\b", join.why_waits(SPANISH))


def test_an_address_that_is_not_joined_says_why_in_each_language() -> None:
    """From the typed line to the sentence: nearest home, no home, and a second answer."""
    book = AddressBook([("a", "12 Alder Court"), ("b", "13 Alder Court Unit A"), ("c", "13 Alder Court Unit B")])
    typed = ("12 Alder Lane", "99 Nowhere Boulevard", "13 Alder Court", "")
    joins = join_all(book, typed)

    assert JoinState.JOINED not in {join.state for join in joins}
    assert [join.why_waits(ENGLISH) for join in joins] == [join.why for join in joins]
    assert joins[0].why_waits(SPANISH) == "La casa más parecida no es igual: el tipo de calle es otro."
    second = Join(state=JoinState.SECOND, home_id=None, why="")
    assert second.why_waits(SPANISH) == SPANISH("waits-second")
    with pytest.raises(ValueError, match="waits for nobody"):
        Join(state=JoinState.JOINED, home_id="a", why="").why_waits(SPANISH)
