"""Every question of the list, from the form to the archive, in every language.

Nothing here knows a single question but the address and the consent: a new one is walked through as it stands in the
list, and needs no line of its own.
"""

from __future__ import annotations

import csv
import dataclasses
import io
import itertools
import re
import typing
import zipfile
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path

import openpyxl
import pypdfium2
import pytest

from geo.parcels import read_parcels
from survey_app import records
from survey_app.access import Actor, Role
from survey_app.csv_import import check_rows, read_rows, write_template
from survey_app.histories import wishes_of
from survey_app.intake import (
    KEYS,
    NEVER,
    OVERRULE_ALL,
    QUESTIONS,
    Kind,
    Lands,
    Question,
    Said,
    check,
    from_short,
    one_key,
    short_codes,
)
from survey_app.records import AnswerChannel, Heater, Home, Tri, Wishes
from survey_app.reports.archive import archive_bytes
from survey_app.reports.home_record import record_parts
from survey_app.reports.letters import Sender, letters_pdf, paper_form
from survey_app.survey import Store, Survey, open_store
from survey_app.survey.one_home import OneHome
from survey_app.texts import LANGUAGES, texts

TODAY = date(2026, 5, 2)
NOW = datetime(2026, 5, 2, 9, 30)
WRITTEN = {Kind.NUMBER: "12", Kind.DATE: "May 2016", Kind.DONE: "May 2016", Kind.CODE: "0519", Kind.TEXT: "by the gate"}
"""What is written in answer to a question that is not answered by choosing."""
NEITHER = {"not sure", "unknown"}
"""Stored values that leave a question open."""
SPELLED = {
    Kind.YES_NO: {
        "yep": "yes",
        "y": "yes",
        "1": "yes",
        "sí": "yes",
        "Yes!": "yes",
        "TRUE": "yes",
        "nope": "no",
        "0": "no",
    },
    Kind.INTEREST: {"yep": "yes", "sí": "yes", "depends": "maybe", "nope": "no"},
}
"""Spellings that every import meets, whatever the question."""
RECORD_OF = {Lands.HEATER: Heater, Lands.HOME: Home, Lands.WISHES: Wishes}
ASKED = [q for q in QUESTIONS if q.key != "address"]
EACH = pytest.mark.parametrize("asked", ASKED, ids=[q.key for q in ASKED])
SPOKEN = pytest.mark.parametrize("language", LANGUAGES)


def written(asked: Question) -> list[str]:
    """Every answer that can be given: each stored value, or what one writes."""
    if asked.choices:
        return [str(value) for value in asked.values]
    return [WRITTEN[asked.kind], *(["never"] if asked.never else [])]


def understood(asked: Question, text: str) -> Said | None:
    """What an answer to this question alone says; nothing may stand in its way."""
    checked = check(
        {"address": "12 Sample Street", "consent": "yes", asked.key: text},
        channel=AnswerChannel.FORM,
        today=TODAY,
        house_year=None,
        submitted_by="resident",
        submitted_at=NOW,
    )
    assert checked.answer is not None, checked.problems
    assert checked.answer.given[asked.key] == text
    assert checked.content is not None
    return checked.content.answered_on if asked.key == "answered_on" else checked.content.said.get(asked.key)


def front(place: Path | Store) -> Survey:
    """The survey as the volunteer."""
    store = place if isinstance(place, Store) else open_store(place)
    return Survey(store, Actor(name="vera", role=Role.VOLUNTEER), now=NOW)


def own(place: Path | Store, home_id: str) -> OneHome:
    """A home as its own people see it."""
    store = place if isinstance(place, Store) else open_store(place)
    return Survey(store, Actor(name="resident", role=Role.RESIDENT, home_id=home_id), now=NOW).one_home(home_id)


def squeezed(text: str) -> str:
    """A text without spaces, hyphens and the signs that letters on paper are joined to."""
    return re.sub(r"[\s\u00ad-]", "", text).replace("ﬁ", "fi").replace("ﬂ", "fl").replace("ﬀ", "ff")


# ---- the form ------------------------------------------------------------


@EACH
def test_each_answer_of_the_form_is_understood(asked: Question) -> None:
    """A value that is chosen, or written, says itself; "not sure" leaves the question open; blank says nothing."""
    for text in written(asked):
        said = understood(asked, text)
        if asked.one_of:
            assert said == (None if text in NEITHER else text)
        elif asked.any_of:
            assert said == (() if text == "none" else (text,))
        elif text == "never":
            assert said == NEVER
        else:
            assert said is not None
    assert (
        asked.key == "consent" or understood(asked, "not sure") in (None, TODAY) or asked.kind in (Kind.TEXT, Kind.CODE)
    )


@EACH
def test_what_is_said_is_of_the_kind_of_the_field_where_it_lands(asked: Question) -> None:
    """The record has a field of the question's name that may be left out, and takes each answer as its own word."""
    if asked.lands is Lands.ACT:
        assert asked.act is not None
        return
    if asked.lands is None:
        return
    record = RECORD_OF[asked.lands]
    field = next(f for f in dataclasses.fields(record) if f.name == asked.key)
    kind = typing.get_type_hints(record, vars(records))[asked.key]
    default = field.default
    assert default is not dataclasses.MISSING
    if asked.one_of:
        assert isinstance(kind, type)
        assert issubclass(kind, StrEnum)
        assert {type(value) for value in asked.values} == {kind}
        assert {str(value) for value in asked.values} == {str(value) for value in kind}, "each has its box"
    for text in written(asked):
        said = understood(asked, text)
        assert said is None or isinstance(said, tuple if asked.any_of else kind)


# ---- paper and letters ---------------------------------------------------


@EACH
def test_each_letter_of_the_paper_form_stands_for_its_answer(asked: Question) -> None:
    """One key an answer, each its own; typed in either case, it means what was ticked."""
    codes = short_codes(asked.key)
    assert list(codes) == [str(value) for value in asked.values]
    assert len(set(codes.values())) == len(codes)
    assert one_key(asked) == (bool(codes) and not asked.any_of)
    for value, code in codes.items():
        assert len(code) == 1
        assert from_short(asked.key, code) == from_short(asked.key, code.upper()) == value


@SPOKEN
def test_the_letter_asks_every_question_on_one_sheet(data: Path, language: str) -> None:
    """Front and back, however many questions there are; each with its choices, in the letter's language."""
    say, survey = texts(language), front(data)
    issued = survey.sign_in_rights().issue_codes([open_store(data).homes()[0].home_id])
    sender = Sender(address="https://survey.example.org", ask="Vera", until=date(2026, 5, 23), keep_years=10)
    made = letters_pdf(issued, survey.sheets().numbers(), survey.state().community, sender, say)
    document = pypdfium2.PdfDocument(made)
    try:
        pages = [squeezed(page.get_textpage().get_text_range()) for page in document]
    finally:
        document.close()
    printed = {q["text"]: [c["words"] for c in q["choices"]] for s in paper_form(say) for q in s["questions"]}

    assert len(pages) == 2
    for asked in ASKED:
        if asked.of_resident:
            assert printed[asked.text(say)] == [asked.label(value, say) for value in asked.values]
            for words in (asked.text(say), *printed[asked.text(say)]):
                assert squeezed(words) in pages[1], (asked.key, words)


# ---- sheets --------------------------------------------------------------


@EACH
@SPOKEN
@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_a_sheet_with_the_question_over_its_column_is_read(
    asked: Question, language: str, ending: str, tmp_path: Path
) -> None:
    """By key or in the question's own words; values, labels of the language and usual spellings in the cells."""
    say = texts(language)
    cells = {text: text for text in written(asked)} | {asked.label(v, say): str(v) for v in asked.values}
    cells |= {spelling: value for spelling, value in SPELLED.get(asked.kind, {}).items() if value in asked.values}
    for header in (asked.key, asked.text(say), asked.text(say).upper()):
        rows = [["address", header], *([f"{i} Sample Street", cell] for i, cell in enumerate(cells, start=1))]
        file = tmp_path / f"answers.{ending}"
        if ending == "csv":
            with file.open("w", encoding="utf-8", newline="") as handle:
                csv.writer(handle).writerows(rows)
        else:
            book = openpyxl.Workbook()
            for row in rows:
                book.active.append(row)
            book.save(file)
        sheet = read_rows(file)
        assert sheet.unknown_columns == ()
        read = check_rows(sheet, today=TODAY, house_year_of=lambda _: None, submitted_at=NOW)
        assert read.rejected == ()
        assert len(read.accepted) == len(cells)
        for checked, (cell, value) in zip(read.accepted, cells.items(), strict=True):
            assert checked.content is not None
            found = checked.content.answered_on if asked.key == "answered_on" else checked.content.said.get(asked.key)
            assert found == understood(asked, value), cell


def test_template_and_dictionary_have_every_question(tmp_path: Path) -> None:
    """A column each, in order, and a line that says what may be written."""
    answers, dictionary = write_template(tmp_path / "template.csv")
    with answers.open(encoding="utf-8-sig", newline="") as handle:
        assert next(csv.reader(handle)) == list(KEYS)
    with dictionary.open(encoding="utf-8-sig", newline="") as handle:
        lines = {line["column"]: line for line in csv.DictReader(handle)}
    for asked in QUESTIONS:
        assert lines[asked.key]["question"] == asked.text()
        assert all(value in lines[asked.key]["how to answer"] for value in asked.values)


# ---- records, archive, the home's own paper -------------------------------


def test_every_answer_is_in_its_place_after_the_records_were_closed(invented: Path, tmp_path: Path) -> None:
    """Typed from paper by its letter, each at a home of its own; then the records are opened again."""
    cases = [(asked, text) for asked in ASKED for text in written(asked)]
    for turn in itertools.count():
        store = open_store(tmp_path / str(turn))
        front(store).set_up().load_parcels(read_parcels(invented / "parcels.geojson"))
        homes = store.homes()
        some, cases = cases[: len(homes)], cases[len(homes) :]
        forms = front(store).paper_forms()
        for i, (home, (asked, text)) in enumerate(zip(homes, some, strict=False)):
            typed = {"consent": "y", asked.key: short_codes(asked.key).get(text, text)}
            given = forms.read(typed, home.address)
            reasons = {OVERRULE_ALL: "so it is"}
            done = forms.store(given, home_id=home.home_id, overruled=reasons, answer_id=f"walk-{i}")
            assert done.stored, (asked.key, text, done.checked.problems)
        store.close()
        store = open_store(tmp_path / str(turn))
        for i, (home, (asked, text)) in enumerate(zip(store.homes(), some, strict=False)):
            _is_there(store, home, f"walk-{i}", asked, text)
        store.close()
        if not cases:
            break


def _is_there(store: Store, home: Home, answer_id: str, asked: Question, text: str) -> None:
    stored = next(s.answer for s in store.answers() if s.answer.answer_id == answer_id)
    assert stored.given[asked.key] == text
    said = understood(asked, text)
    if asked.key == "consent" and text == Tri.NO:
        assert store.heaters(home.home_id) == []
        return
    heater = store.heaters(home.home_id)[-1]
    if asked.lands is Lands.ACT:
        acts = [s.kind for s in store.services(home.home_id)]
        assert asked.act in (heater.never_done if said == NEVER else acts)
    elif asked.lands is not None:
        wishes = wishes_of(home, [stored])
        record = {Lands.HEATER: heater, Lands.HOME: home, Lands.WISHES: wishes}[asked.lands]
        field = next(f for f in dataclasses.fields(record) if f.name == asked.key)
        expected = field.default if said is None else said
        assert getattr(record, asked.key) == expected, (asked.key, text)
        assert type(getattr(record, asked.key)) is type(expected)


@SPOKEN
def test_a_homes_record_shows_what_was_chosen(data: Path, language: str) -> None:
    """Every choice about the heater or the home, by its short name, in the language of whoever reads it."""
    say, survey = texts(language), front(data)
    home = open_store(data).homes()[0]
    own(data, home.home_id).forget()
    shown = [q for q in ASKED if q.one_of and q.lands in (Lands.HEATER, Lands.HOME)]
    given = {"address": home.address, "consent": "yes", **{q.key: str(q.values[0]) for q in shown}}
    assert survey.answers().submit(given, channel=AnswerChannel.PAPER, home_id=home.home_id).stored
    (now, *_) = record_parts(own(data, home.home_id).record(), say)
    lines = dict(now.lines)
    for asked in shown:
        line = {"kind": "record-kind", "place": "record-place"}.get(asked.key)
        words = lines[say(line) if line else asked.short(say)]
        assert line or words.casefold() == asked.label(asked.values[0], say).casefold()


def test_the_archive_has_a_column_for_every_question_and_field(data: Path) -> None:
    """What was typed beside what it was read as."""
    survey = front(data)
    with zipfile.ZipFile(io.BytesIO(archive_bytes(survey.year_end().content()))) as bundle:
        columns = {
            name: next(csv.reader(io.StringIO(bundle.read(f"{name}.csv").decode("utf-8-sig"))))
            for name in ("answers", "heaters", "homes")
        }
    assert {q.key for q in QUESTIONS} <= set(columns["answers"])
    for where, table in ((Lands.HEATER, "heaters"), (Lands.HOME, "homes")):
        for asked in ASKED:
            if asked.lands is where:
                assert {asked.key, f"{asked.key}_earliest"} & set(columns[table]), asked.key
