"""One answer checked: what it says, and everything wrong with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey_app.intake import (
    KEYS,
    NEVER,
    OVERRULE_ALL,
    QUESTIONS,
    Checked,
    InstalledBasis,
    Severity,
    answer_id_of,
    check,
    content_of,
    question,
    read_choice,
    read_choices,
    read_number,
    reading,
    to_history,
)
from survey_app.records import (
    Answer,
    AnswerChannel,
    Dated,
    DateEvidence,
    EndCause,
    HeaterKind,
    Interest,
    Place,
    ServiceKind,
    Symptom,
    Tri,
)
from survey_app.symptoms import handling
from survey_app.texts import LANGUAGES, Texts, texts

TODAY = date(2026, 11, 25)
AT = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
ADDRESS = "12 Sample Street"


def _check(
    texts: Mapping[str, str] | None = None,
    /,
    *,
    house_year: int | None = None,
    overruled: Mapping[str, str] | None = None,
    today: date = TODAY,
    **more: str,
) -> Checked:
    return check(
        {"address": ADDRESS, "consent": "yes", **(texts or {}), **more},
        channel=AnswerChannel.FORM,
        today=today,
        house_year=house_year,
        submitted_by="resident",
        submitted_at=AT,
        overruled=overruled,
    )


def _keys(checked: Checked, severity: Severity | None = None) -> set[str]:
    return {p.key for p in checked.problems if severity is None or p.severity is severity}


# ---- the questions -------------------------------------------------------


def test_questions_cover_the_template_in_order() -> None:
    """The columns of the import are the questions, each once, the address first and alone required."""
    assert KEYS[0] == "address"
    assert len(set(KEYS)) == len(KEYS)
    assert [q.key for q in QUESTIONS if q.required] == ["address"]
    assert {"heater_number", "previous_gone", "previous_end", "moved_in", "consent", "answered_on"} <= set(KEYS)


def test_questions_are_asked_section_by_section() -> None:
    """A section is not left and entered again, so that a form can be drawn from the list."""
    sections = [q.section for q in QUESTIONS]
    assert len(list(dict.fromkeys(sections))) == sum(
        1 for a, b in zip([None, *sections], sections, strict=False) if a != b
    )


def test_every_stored_value_and_label_and_synonym_is_understood() -> None:
    """Data and reading agree: whatever the lists contain is read, and to a stored value or to "left open"."""
    for one in QUESTIONS:
        if not one.choices:
            continue
        read = read_choice if one.one_of else read_choices
        for value in one.values:
            expected = () if value in ("not sure", "unknown") and one.one_of else (value,)
            assert read(one.key, value).values == expected, (one.key, value)
            for language in LANGUAGES:
                label = one.label(value, texts(language)).upper()
                assert read(one.key, label).values == expected, (one.key, label)
        for spelling in one.spelled.answers:
            assert not read(one.key, spelling).wrong, (one.key, spelling)


def test_spellings_lead_to_stored_values() -> None:
    """No spelling leads to a value that is no choice of its question."""
    for asked in QUESTIONS:
        if asked.choices:
            stored = {*asked.values, "", "not sure"}
            assert {v for value in asked.spelled.answers.values() for v in value.split(";")} <= stored, asked.key
            assert {value for _, value in asked.spelled.words} <= stored, asked.key


def test_question_names_the_keys_there_are_when_unknown() -> None:
    """A mistyped key is answered with the list to choose from."""
    with pytest.raises(KeyError, match="tank_gallons"):
        question("tank_size")


@pytest.mark.parametrize(
    ("key", "text", "value"),
    [
        ("kind", "Gas", "gas storage"),
        ("kind", "natural gas tank", "gas storage"),
        ("kind", "50 gal propane", "gas storage"),
        ("kind", "elec", "electric storage"),
        ("kind", "HPWH", "heat pump storage"),
        ("kind", "Hybrid electric", "heat pump storage"),
        ("kind", "tankless gas", "tankless"),
        ("kind", "on-demand", "tankless"),
        ("place", "Hall closet", "closet"),
        ("place", "in the garage", "garage"),
        ("place", "garrage", "garage"),
        ("place", "basment", "basement"),
        ("pan", "Y", "yes"),
        ("pan", "yes, piped outside", "yes"),
        ("pan", "no pan", "no"),
        ("softener", "TRUE", "yes"),
        ("heater_number", "1st", "first"),
        ("heater_number", "original", "first"),
        ("heater_number", "4", "third or later"),
        ("previous_end", "it leaked", "failed"),
        ("previous_end", "replaced before it leaked", "replaced before failing"),
        ("previous_end", "went tankless", "converted"),
        ("anode_work", "new rod", "changed"),
        ("installed_evidence", "Invoice from the plumber", "permit or invoice"),
        ("installed_evidence", "sticker", "data plate"),
        ("flush_day", "depends on price", "maybe"),
    ],
)
def test_read_choice_understands_usual_spellings(key: str, text: str, value: str) -> None:
    """What people write for a choice is read as the stored value."""
    assert read_choice(key, text).values == (value,)


@pytest.mark.parametrize("text", ["idk", "?", "not sure", "I don't know", "n/a", "unknown", ""])
@pytest.mark.parametrize("key", [q.key for q in QUESTIONS if q.one_of])
def test_not_sure_is_an_answer_to_every_choice(key: str, text: str) -> None:
    """Not sure leaves a question open; it is never an error."""
    read = read_choice(key, text)
    assert (read.values, read.wrong) == ((), ())


@pytest.mark.parametrize("text", ["banana", "none of your business", "zzz", "gass pump"])
def test_read_choice_says_what_it_cannot_read(text: str) -> None:
    """An answer that is none of the choices is not guessed at."""
    read = read_choice("installed_evidence", text)
    assert read.values == ()
    assert read.wrong == (text,)


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("mon;wed", "mon wed"),
        ("Monday, Wednesdays", "mon wed"),
        ("Sat and Sun", "sat sun"),
        ("weekends", "sat sun"),
        ("weekdays", "mon tue wed thu fri"),
        ("M-F", "mon tue wed thu fri"),
        ("tue to thu", "tue wed thu"),
        ("any", "mon tue wed thu fri sat sun"),
        ("not Tuesday", "mon wed thu fri sat sun"),
        ("tue thu", "tue thu"),
        ("fri;mon;fri", "mon fri"),
    ],
)
def test_read_choices_understands_weekdays(text: str, days: str) -> None:
    """Lists, spans and exceptions become days in the week's order, each once."""
    assert read_choices("weekdays", text).values == tuple(days.split())


@pytest.mark.parametrize(
    ("key", "text", "value"),
    [
        ("tank_gallons", "50 gal", 50.0),
        ("tank_gallons", "50gal.", 50.0),
        ("tank_gallons", "about 40", 40.0),
        ("tank_gallons", "40-50", 45.0),
        ("tank_gallons", "fifty gallons", 50.0),
        ("tank_gallons", "189 liters", 49.93),
        ("warranty_years", "6 yr", 6.0),
        ("warranty_years", "6-year warranty", 6.0),
        ("warranty_years", "six years", 6.0),
        ("warranty_years", "72 months", 6.0),
    ],
)
def test_read_number_takes_units_and_words(key: str, text: str, value: float) -> None:
    """Numbers come with units, words and ranges (189 L by NIST Handbook 44: 1 gal = 3.785411784 L)."""
    assert read_number(key, text).value == value


@pytest.mark.parametrize("text", ["no sé", "No sé.", "no se", "No lo sé"])
def test_a_number_may_be_not_known_in_spanish(text: str) -> None:
    """The Spanish form says that "No sé" is a good answer: it leaves the question open."""
    read = read_number("tank_gallons", text)
    assert (read.value, read.wrong) == (None, False)


@pytest.mark.parametrize("text", ["-5", "50 apples", "1e9", "fifty-ish things", "٥٠"])
def test_read_number_refuses_what_is_no_number_of_this_kind(text: str) -> None:
    """A negative size or a foreign unit is told, not read as something else."""
    assert read_number("tank_gallons", text).wrong


# ---- errors, all at once -------------------------------------------------


def test_an_answer_with_the_address_alone_is_taken() -> None:
    """Everything but the address may be left open."""
    checked = check(
        {"address": ADDRESS},
        channel=AnswerChannel.PAPER,
        today=TODAY,
        house_year=None,
        submitted_by="volunteer",
        submitted_at=AT,
    )
    assert checked.answer is not None
    assert checked.answer.given == {"address": ADDRESS}
    assert checked.answer.answered_on == TODAY
    assert checked.content is not None
    assert checked.content.installed is None
    assert not checked.must_settle


@pytest.mark.parametrize("address", ["", "   ", "\u200b", "\x00\x07"])
def test_a_missing_address_is_an_error_with_a_remedy(address: str) -> None:
    """Without an address there is nothing to keep."""
    checked = _check(address=address)
    assert checked.answer is None
    assert checked.content is None
    assert _keys(checked) == {"address-missing"}
    assert not checked.problems[0].overrulable


def test_all_unreadable_fields_are_told_at_once() -> None:
    """Nobody is sent through the form twice: every problem comes in the first reply, each with its remedy."""
    checked = _check(
        kind="banana", tank_gallons="big", installed="after the flood", pan="perhaps not", moved_in="12 May"
    )
    unreadable = {"kind-unreadable", "tank_gallons-unreadable", "installed-unreadable", "pan-unreadable"}
    assert unreadable | {"moved_in-unreadable"} <= _keys(checked, Severity.ERROR)
    assert checked.must_settle
    assert all(problem.remedy for problem in checked.blocking)


def test_an_unreadable_field_can_be_overruled_and_is_then_left_open() -> None:
    """The volunteer may keep an answer whose paper nobody can decipher; the text stays as given."""
    checked = _check(place="smudge", overruled={"place-unreadable": "illegible on the paper"})
    assert checked.answer is not None
    assert checked.answer.given["place"] == "smudge"
    assert checked.answer.overruled == {"place-unreadable": "illegible on the paper"}
    assert checked.content is not None
    assert "place" not in checked.content.said


def test_unreadable_weekdays_are_only_noted() -> None:
    """Nothing rests on the weekdays, so they reject no answer."""
    checked = _check(weekdays="evenings")
    assert not checked.must_settle
    assert "weekdays-unreadable" in _keys(checked, Severity.NOTE)


def test_not_sure_everywhere_is_a_valid_answer() -> None:
    """Somebody who knows nothing can still take part."""
    texts = {key: "not sure" for key in KEYS if key not in ("address", "contact", "remarks", "date_code")}
    checked = _check(texts)
    assert checked.answer is not None
    assert not _keys(checked, Severity.ERROR)


def test_a_full_answer_is_understood() -> None:
    """Every field of a complete answer arrives as its value."""
    checked = _check(
        house_year=2005,
        kind="Gas",
        tank_gallons="50 gal",
        installed="5/2015",
        installed_evidence="receipt",
        warranty_years="6 yr",
        warranty_end="May 2021",
        place="attic",
        pan="y",
        leak_alarm="n",
        auto_shutoff="idk",
        softener="yes",
        expansion_tank="no",
        last_flush="2024",
        last_anode="never",
        relief_valve_test="2023",
        symptoms="rumbling; rusty water",
        heater_number="2nd",
        previous_gone="May 2015",
        previous_end="leaked",
        moved_in="2010",
        flush_day="yes",
        anode_day="maybe",
        group_purchase="no",
        weekdays="weekends",
        contact="name@example.org",
        answered_on="2026-10-01",
        remarks="Knock loudly.",
    )
    assert checked.answer is not None
    content = checked.content
    assert content is not None
    assert content.kind is HeaterKind.GAS_STORAGE
    assert content.tank_gallons == 50
    assert content.installed == Dated(
        earliest=date(2015, 5, 1), latest=date(2015, 5, 31), evidence=DateEvidence.DOCUMENT
    )
    assert (content.warranty_years, content.warranty_end) == (6, date(2021, 5, 16))
    assert content.symptoms == (Symptom.RUSTY_WATER, Symptom.RUMBLE)
    assert content.number_in_home == 2
    assert content.previous_end is EndCause.FAILED
    assert content.answered_on == date(2026, 10, 1)
    expected = {
        "place": Place.ATTIC,
        "pan": Tri.YES,
        "leak_alarm": Tri.NO,
        "softener": Tri.YES,
        "expansion_tank": Tri.NO,
        "last_flush": Dated(earliest=date(2024, 1, 1), latest=date(2024, 12, 31)),
        "last_anode": NEVER,
        "flush_day": Interest.YES,
        "anode_day": Interest.MAYBE,
        "group_purchase": Interest.NO,
        "weekdays": ("sat", "sun"),
        "remarks": "Knock loudly.",
    }
    assert {key: content.said[key] for key in expected} == expected
    assert "auto_shutoff" not in content.said, "what nobody knows is left open"


def test_relative_dates_count_from_the_day_of_the_answer() -> None:
    """On a form answered in 2025 and entered in 2026, "last year" is 2024."""
    content = _check(last_flush="last year", answered_on="2025-03-01").content
    assert content is not None
    assert content.said["last_flush"] == Dated(earliest=date(2024, 1, 1), latest=date(2024, 12, 31))


# ---- contradictions ------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "texts"),
    [
        ("installed-before-house", {"installed": "2001"}),
        ("installed-before-house", {"installed": "about 2001"}),
        ("installed-in-future", {"installed": "2031"}),
        ("first-but-previous", {"heater_number": "first", "previous_gone": "2012"}),
        ("first-but-previous", {"heater_number": "first", "previous_end": "failed"}),
        ("first-but-later-than-house", {"heater_number": "first", "installed": "2015"}),
        ("later-heater-dated-by-house", {"heater_number": "2", "installed": "2006", "installed_evidence": "house"}),
        ("last_flush-before-installed", {"installed": "2015", "last_flush": "2012"}),
        ("last_flush-in-future", {"last_flush": "2028"}),
        ("last_anode-before-installed", {"installed": "2015", "last_anode": "May 2014"}),
        ("last_anode-in-future", {"last_anode": "12/30/2026"}),
        ("relief_valve_test-before-installed", {"installed": "2015", "relief_valve_test": "2010"}),
        ("relief_valve_test-in-future", {"relief_valve_test": "2030"}),
        ("previous-gone-after-installed", {"installed": "2012", "previous_gone": "2019"}),
        ("previous-gone-before-installed", {"installed": "2019", "previous_gone": "2012"}),
        ("previous-gone-before-house", {"previous_gone": "2001"}),
        ("previous_gone-in-future", {"previous_gone": "2028"}),
        ("moved-in-before-house", {"moved_in": "1999"}),
        ("moved_in-in-future", {"moved_in": "2029"}),
        ("warranty-ends-before-installed", {"installed": "2015", "warranty_end": "2012"}),
        ("warranty-term", {"warranty_years": "25"}),
        ("warranty-term", {"warranty_years": "0"}),
        ("tankless-with-tank", {"kind": "tankless", "tank_gallons": "50"}),
        ("tankless-with-anode", {"kind": "tankless", "last_anode": "2020"}),
        ("tank-size", {"tank_gallons": "500"}),
        ("tank-size", {"tank_gallons": "5"}),
        ("code-against-date", {"installed": "2019", "date_code": "0609"}),
        ("anode-never-but-work", {"last_anode": "never", "anode_work": "changed"}),
        ("answered-in-future", {"answered_on": "2027-01-01"}),
    ],
)
def test_a_contradiction_is_told_and_can_be_overruled(key: str, texts: dict[str, str]) -> None:
    """Each contradiction blocks, says what to do, and passes with a reason, which is kept with the answer."""
    checked = _check(texts, house_year=2006)
    assert key in _keys(checked, Severity.CONTRADICTION)
    assert checked.answer is None
    problem = next(p for p in checked.problems if p.key == key)
    assert problem.what.endswith(".")
    assert problem.remedy.endswith(".")

    overruled = _check(texts, house_year=2006, overruled=dict.fromkeys(_keys(checked), "That is how it was."))
    assert overruled.answer is not None
    assert overruled.answer.overruled[key] == "That is how it was."


@pytest.mark.parametrize(
    "texts",
    [
        {"installed": "2005"},
        {"installed": "about 2004"},
        {"installed": "2006", "heater_number": "first"},
        {"installed": "2008", "heater_number": "first"},
        {"installed": "about 2010", "heater_number": "first"},
        {"installed": "2015", "last_flush": "2015"},
        {"installed": "about 2015", "last_flush": "2013"},
        {"installed": "2015", "previous_gone": "2014", "heater_number": "2"},
        {"installed": "2015", "previous_gone": "2016", "heater_number": "2"},
        {"heater_number": "first", "previous_end": "unknown"},
        {"heater_number": "first", "previous_gone": "n/a"},
        {"heater_number": "first", "previous_gone": "none"},
        {"kind": "tankless", "last_flush": "2020", "last_anode": "never"},
        {"installed": "2009", "date_code": "0609"},
        {"installed": "2010", "date_code": "0609"},
        {"installed": "Mar 2015", "installed_evidence": "data plate", "warranty_end": "2021"},
        {"tank_gallons": "130", "warranty_years": "15"},
        {"installed": "this year"},
    ],
)
def test_dates_that_can_be_true_together_are_no_contradiction(texts: dict[str, str]) -> None:
    """Windows that touch, and the slack for stock, empty houses and records a year off, cause no false alarm."""
    assert _keys(_check(texts, house_year=2006), Severity.CONTRADICTION) == set()


def test_all_contradictions_are_told_at_once() -> None:
    """A muddled answer gets every contradiction in one reply."""
    checked = _check(
        house_year=2006,
        kind="tankless",
        tank_gallons="50",
        installed="2001",
        last_flush="1999",
        moved_in="1990",
        warranty_years="30",
    )
    assert {
        "tankless-with-tank",
        "installed-before-house",
        "last_flush-before-installed",
        "moved-in-before-house",
        "warranty-term",
    } <= _keys(checked, Severity.CONTRADICTION)


def test_a_blank_reason_overrules_nothing() -> None:
    """A contradiction is set aside by a reason, not by ticking it away."""
    for reason in ("", "   ", "\u200b"):
        assert _check(tank_gallons="500", overruled={"tank-size": reason}).answer is None


def test_one_reason_can_stand_for_all() -> None:
    """In a mend file one cell overrules everything in its row; the address stays required."""
    texts = {"installed": "2001", "tank_gallons": "500", "place": "smudge"}
    checked = _check(texts, house_year=2006, overruled={OVERRULE_ALL: "asked twice"})
    assert checked.answer is not None
    assert set(checked.answer.overruled) == {"installed-before-house", "tank-size", "place-unreadable"}
    assert _check(address="", overruled={OVERRULE_ALL: "asked twice"}).answer is None


def test_an_overruled_future_date_is_left_open() -> None:
    """No reason makes a heater be installed after today: the text is kept, the date does not go on."""
    checked = _check(installed="2031", overruled={OVERRULE_ALL: "planned"})
    assert checked.answer is not None
    assert checked.content is not None
    assert checked.content.installed is None
    assert checked.content.installed_basis is None


# ---- the installation date -----------------------------------------------


def test_a_first_heater_without_a_date_is_as_old_as_the_house() -> None:
    """The year the house was finished stands in, with its evidence and a note."""
    checked = _check(house_year=2006, heater_number="first")
    assert checked.content is not None
    assert checked.content.installed == Dated(
        earliest=date(2006, 1, 1), latest=date(2006, 12, 31), evidence=DateEvidence.HOUSE_COMPLETION
    )
    assert checked.content.installed_basis is InstalledBasis.HOUSE
    assert "installed-from-house" in _keys(checked, Severity.NOTE)


@pytest.mark.parametrize("words", ["original", "came with the house", "Same as house"])
def test_words_for_the_house_count_as_its_year(words: str) -> None:
    """The word "original" names the house instead of a date."""
    content = _check(house_year=2006, installed=words).content
    assert content is not None
    assert content.installed_basis is InstalledBasis.HOUSE


def test_a_later_heater_is_never_dated_by_the_house() -> None:
    """Only the first heater is as old as the house."""
    content = _check(house_year=2006, heater_number="second").content
    assert content is not None
    assert content.installed is None


def test_a_single_reading_of_the_code_is_taken_as_probable() -> None:
    """With one year that fits a code alone, it stands in for an open date, and the note says "probably"."""
    checked = _check(house_year=2015, date_code="4815")
    assert checked.content is not None
    assert checked.content.installed_basis is InstalledBasis.CODE
    assert checked.content.installed is not None
    assert checked.content.installed.evidence is DateEvidence.DATE_CODE
    note = next(p for p in checked.problems if p.key == "installed-from-code")
    assert "probably" in note.what


def test_several_readings_of_the_code_are_offered_and_none_is_picked() -> None:
    """The person picks; until then the date stays open."""
    checked = _check(house_year=2005, date_code="0609")
    assert checked.content is not None
    assert checked.content.installed is None
    assert len([r for r in checked.content.code_readings if r.fits]) == 4
    assert "code-has-several-readings" in _keys(checked, Severity.NOTE)


@pytest.mark.parametrize(
    ("code", "told"),
    [
        ("48150123", {}),  # a serial number may follow a form that is not known
        ("B48150123", {}),
        ("FA", {"heater_number": "second"}),  # a letter means what its maker's table says
        ("1315", {}),  # week 13 of 2015, or day 315 of 2021
    ],
)
def test_what_may_mean_another_year_is_never_taken_unasked(code: str, told: dict[str, str]) -> None:
    """A serial number, a year's letter and a code with two years date no heater: the person is asked."""
    checked = _check(told, house_year=2005 if code == "FA" else 2015, date_code=code)
    assert checked.answer is not None
    assert checked.content is not None
    assert checked.content.installed is None
    assert _keys(checked) & {"code-has-one-reading", "code-has-several-readings"}


def test_a_letters_year_is_taken_where_the_first_heater_confirms_it() -> None:
    """F is 2009 on the usual cycle: taken for the first heater of a house of 2009, as that and the house agree."""
    checked = _check(house_year=2009, heater_number="first", date_code="FA")
    assert checked.content is not None
    assert checked.content.installed_basis is InstalledBasis.CODE


def test_a_serial_number_never_outranks_the_house() -> None:
    """The first heater's date stays the house's, whatever a serial number may mean."""
    checked = _check(house_year=2015, heater_number="first", date_code="48150123")
    assert checked.content is not None
    assert checked.content.installed_basis is InstalledBasis.HOUSE


def test_a_picked_reading_counts_from_the_date_of_manufacture() -> None:
    """Picking puts the reading into the date with the evidence "date code": the window reaches a year on."""
    pick = _check(house_year=2005, date_code="0609").content
    assert pick is not None
    reading = next(r for r in pick.code_readings if r.made.earliest == date(2009, 6, 1))
    checked = _check(house_year=2005, date_code="0609", installed=reading.as_typed, installed_evidence="date code")
    assert checked.answer is not None
    assert checked.content is not None
    assert checked.content.installed == reading.window


def test_a_code_that_fits_no_year_of_the_house_is_noted() -> None:
    """A misread code is no contradiction, but the person is told."""
    checked = _check(house_year=2020, date_code="0609")
    assert checked.answer is not None
    assert "code-without-reading" in _keys(checked, Severity.NOTE)


def test_an_open_date_is_taken_from_when_the_previous_heater_went() -> None:
    """The old heater's end is the new one's beginning, from memory."""
    content = _check(heater_number="second", previous_gone="May 2016").content
    assert content is not None
    assert content.installed == Dated(earliest=date(2016, 5, 1), latest=date(2016, 5, 31), evidence=DateEvidence.MEMORY)
    assert content.installed_basis is InstalledBasis.PREVIOUS


# ---- from memory, and what is asked about ---------------------------------


def _installed(house_year: int | None = None, **told: str) -> tuple[str, str]:
    content = _check(house_year=house_year, **told).content
    assert content is not None
    assert content.installed is not None
    return content.installed.earliest.isoformat(), content.installed.latest.isoformat()


@pytest.mark.parametrize(
    ("told", "window"),
    [
        ("2016", ("2014-01-01", "2018-12-31")),
        ("2017", ("2016-01-01", "2018-12-31")),
        ("5 years ago", ("2020-05-25", "2023-05-25")),
        ("12 years ago", ("2012-11-25", "2016-11-25")),
        ("2025", ("2025-01-01", "2025-12-31")),
        ("2024", ("2023-01-01", "2025-12-31")),
        ("May 2012", ("2012-05-01", "2012-05-31")),
        ("2012 or 2013", ("2012-01-01", "2013-12-31")),
        ("about 2012", ("2010-01-01", "2014-12-31")),
    ],
)
@pytest.mark.parametrize("evidence", ["memory", ""])
def test_a_year_from_memory_may_be_off_by_one_or_two(told: str, window: tuple[str, str], evidence: str) -> None:
    """A bare year, or years ago, is wider by a year either way, by two where it is ten years ago or more."""
    assert _installed(installed=told, installed_evidence=evidence) == window


@pytest.mark.parametrize("evidence", ["permit or invoice", "data plate", "house completion"])
def test_a_year_on_paper_is_that_year(evidence: str) -> None:
    """What was written down when it was done is not widened by anybody's memory."""
    first, last = _installed(installed="2012", installed_evidence=evidence)
    assert first >= "2011-10-01"
    assert last <= "2013-12-31"


def test_the_house_says_the_same_as_memory() -> None:
    """The first heater's year that is also the house's needs no widening; and no year begins before the house."""
    assert _installed(2012, installed="2012", heater_number="first") == ("2012-01-01", "2012-12-31")
    assert _installed(2011, installed="2012", heater_number="second") == ("2010-10-01", "2014-12-31")


def test_what_memory_allows_hides_no_contradiction() -> None:
    """Dates are held against one another as they were told: next year has not come, whatever a year may be off."""
    assert "installed-in-future" in _keys(_check(installed="2027", installed_evidence="memory"))
    assert "installed-before-house" in _keys(_check(installed="2004", house_year=2006))
    assert "last_flush-before-installed" in _keys(_check(installed="2015", last_flush="2014"))


def test_a_date_from_the_heater_before_is_from_memory_too() -> None:
    """The installation taken from when the heater before it went is as wide as that memory."""
    assert _installed(previous_gone="2012", heater_number="second") == ("2010-01-01", "2014-12-31")


@pytest.mark.parametrize(
    ("field", "told"), [("installed", "15"), ("installed", "about 15"), ("moved_in", "18"), ("previous_gone", "12")]
)
def test_two_digits_are_asked_about_at_their_own_field(field: str, told: str) -> None:
    """15 may be 2015 or 15 years ago: neither is taken unasked, and a reason takes the year."""
    checked = _check({field: told})
    (asked,) = [p for p in checked.blocking if p.key == f"{field}-year-or-age"]
    assert asked.field == field
    assert f"{told.split()[-1]} years ago" in asked.remedy
    settled = _check({field: told}, overruled={asked.key: "the year"})
    assert settled.answer is not None
    assert settled.content is not None
    assert settled.content.said[field].best.year == 2000 + int(told.split()[-1])  # type: ignore[union-attr]


@pytest.mark.parametrize("told", ["'15", "2015", "15 years ago", "13", "05", "98"])
def test_two_digits_that_can_mean_one_thing_are_taken(told: str) -> None:
    """An apostrophe is a year's; 13 is 2013 either way; nobody says 05 or 98 for an age."""
    assert _check(installed=told).answer is not None


def test_an_age_before_the_house_is_not_asked_about() -> None:
    """15 years ago there was no house of 2014: 15 is the year."""
    assert _check(installed="15", house_year=2014).answer is not None
    assert _check(installed="15", house_year=2010).answer is None


@pytest.mark.parametrize(
    ("key", "field", "house_year", "told"),
    [
        ("warranty-ends-late", "warranty_end", None, {"warranty_end": "2090"}),
        ("warranty-ends-late", "warranty_end", None, {"warranty_end": "2030", "installed": "2010"}),
        ("first-heater-very-old", "heater_number", 1978, {"heater_number": "first"}),
        ("first-heater-very-old", "installed", 1978, {"installed": "came with the house"}),
        ("heater-very-old", "installed", None, {"installed": "1985"}),
        ("heater-very-old", "previous_gone", None, {"previous_gone": "1985"}),
        ("first-lasted-long", "heater_number", 1980, {"heater_number": "second", "installed": "2019"}),
        ("first-lasted-long", "heater_number", 1980, {"heater_number": "second", "previous_gone": "2019"}),
        ("first-but-code-later", "heater_number", 2006, {"heater_number": "first", "date_code": "4815"}),
    ],
)
def test_what_hardly_ever_is_gets_asked_about_where_it_was_told(
    key: str, field: str, house_year: int | None, told: dict[str, str]
) -> None:
    """It keeps the answer until it is corrected or a reason is given, and the reason is kept."""
    checked = _check(told, house_year=house_year)
    assert (key, field) in {(p.key, p.field) for p in checked.blocking}
    settled = _check(told, house_year=house_year, overruled={OVERRULE_ALL: "so it is"})
    assert settled.answer is not None
    assert settled.answer.overruled[key] == "so it is"


@pytest.mark.parametrize(
    ("house_year", "told"),
    [
        (None, {"warranty_end": "2038", "installed": "2026-10-01"}),
        (1998, {"heater_number": "first"}),
        (1998, {"heater_number": "second", "installed": "2024"}),
        (None, {"installed": "1997"}),
        (2006, {"heater_number": "first", "date_code": "0507"}),
    ],
)
def test_what_is_rare_but_happens_is_taken(house_year: int | None, told: dict[str, str]) -> None:
    """A 12-year warranty, an original heater of 28 years: no question."""
    assert _check(told, house_year=house_year).blocking == ()


# ---- safety and consent --------------------------------------------------


@pytest.mark.parametrize("symptom", [s for s in Symptom if handling(s).comes_first])
def test_safety_comes_first_and_does_not_block(symptom: Symptom) -> None:
    """A danger is told before anything else, names the licensed contractor, and never holds up the answer."""
    checked = _check(symptoms=f"{symptom}; rumbling or popping", warranty_years="6-12")
    first = checked.problems[0]
    assert first.key == f"safety:{symptom}"
    assert first.severity is Severity.NOTE
    assert "licensed contractor" in first.remedy
    assert checked.answer is not None


def test_a_smell_of_gas_says_leave_and_call_from_outside() -> None:
    """The caution for gas: out first, nothing switched, the call from outside (PHMSA; `texts/en/terms.ftl`)."""
    remedy = _check(symptoms="gas smell").problems[0].remedy
    places = [remedy.index(words) for words in ("Go out now", "Switch nothing", "gas utility", "from outside")]
    assert places == sorted(places)


def test_safety_is_told_even_where_other_fields_are_wrong() -> None:
    """A rejected answer still shows the danger first."""
    checked = _check(symptoms="gas smell, banana", tank_gallons="900")
    assert checked.answer is None
    assert checked.problems[0].key == "safety:smell of gas"


def test_refused_consent_keeps_the_address_and_nothing_else() -> None:
    """With a no to consent, what else was typed is neither read nor kept."""
    checked = _check(consent="no", kind="banana", contact="555-0100", installed="2015", remarks="private")
    assert checked.answer is not None
    assert set(checked.answer.given) == {"address", "consent"}
    assert checked.content is not None
    assert checked.content.refused
    assert checked.content.installed is None
    history = to_history(checked.content, home_id="h", answer_id="a", built_year=2000, answered_on=TODAY)
    assert history.heaters == ()


def test_open_consent_is_noted() -> None:
    """Consent left open is no consent: the volunteer is reminded to ask."""
    checked = _check(consent="")
    assert "consent-open" in _keys(checked, Severity.NOTE)
    assert checked.content is not None
    assert checked.content.consent is Tri.UNKNOWN


# ---- properties ----------------------------------------------------------


def test_the_id_follows_from_the_content() -> None:
    """Case, spacing and order change nothing; any word does."""
    one = answer_id_of({"address": "12 Sample  Street", "kind": "Gas"})
    assert one == answer_id_of({"kind": "gas ", "address": "12 SAMPLE street", "pan": "  "})
    assert one != answer_id_of({"address": "13 Sample Street", "kind": "Gas"})


_typed = st.one_of(
    st.text(max_size=30),
    st.sampled_from(
        ["2009", "about 2012", "never", "no", "yes", "first", "second", "gas", "tankless", "50", "2031", "6"]
    ),
    st.sampled_from(
        ["failed", "0609", "none", "rumbling", "data plate", "?", "05/12/2010", "10 years ago", "1999", "house"]
    ),
)


@settings(max_examples=300, deadline=None)
@given(st.dictionaries(st.sampled_from(KEYS), _typed), st.one_of(st.none(), st.integers(0, 3000)), st.text(max_size=5))
def test_check_never_raises_and_its_parts_agree(texts: dict[str, str], house_year: int | None, reason: str) -> None:
    """On any texts: an answer exists exactly when nothing blocks, notes never block, and a history can be made."""
    checked = _check(texts, house_year=house_year, overruled={OVERRULE_ALL: reason})
    assert (checked.answer is None) == bool(checked.blocking)
    assert all(p.what and p.key and (p.remedy or p.severity is Severity.NOTE) for p in checked.problems)
    if checked.content is None:
        return
    history = to_history(
        checked.content, home_id="h", answer_id="a", built_year=house_year if house_year else None, answered_on=TODAY
    )
    ids = {heater.heater_id for heater in history.heaters}
    assert [h.sequence for h in history.heaters] == list(range(1, len(history.heaters) + 1))
    assert {record.heater_id for record in history.services} <= ids
    if history.heaters:
        assert history.heaters[-1].in_service
        assert not any(h.in_service for h in history.heaters[:-1])


@settings(max_examples=150, deadline=None)
@given(st.dictionaries(st.sampled_from(KEYS), _typed), st.one_of(st.none(), st.integers(1990, 2026)))
def test_overruling_everything_takes_every_answer_with_an_address(
    texts: dict[str, str], house_year: int | None
) -> None:
    """With a reason, nothing but a missing address keeps an answer out, and its history holds no future date."""
    texts = {**texts, "address": ADDRESS}
    checked = _check(texts, house_year=house_year, overruled={OVERRULE_ALL: "because"})
    assert checked.answer is not None
    assert checked.content is not None
    for field in ("installed", "last_flush", "last_anode", "relief_valve_test", "previous_gone", "moved_in"):
        value = checked.content.said.get(field)
        assert not isinstance(value, Dated) or value.earliest <= TODAY


# ---- reading -------------------------------------------------------------


def _stored(**texts: str) -> Answer:
    answer = _check(texts, overruled={OVERRULE_ALL: "so it is"}).answer
    assert answer is not None
    return answer


def test_a_stored_answer_is_read_without_a_sentence_being_formed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Thousands are read for a map or a plan, where nobody is told anything; what they say is what the check said."""
    given_ = {"installed": "about 2012", "last_flush": "2028", "tank_gallons": "900", "symptoms": "leak", "kind": "zz"}
    expected = _check(given_, overruled={OVERRULE_ALL: "so it is"}).content
    answer = _stored(**given_)
    reading._understood.cache_clear()
    monkeypatch.setattr(Texts, "__call__", lambda *_, **__: pytest.fail("a sentence was formed"))

    assert content_of(answer, house_year=None) == expected


def test_an_answer_is_read_once_however_often_it_is_asked_for() -> None:
    """Checked, stored and read for its home: one reading; another house or another word is another one."""
    reading._understood.cache_clear()
    answer = _stored(installed="2012", contact="555-0100")
    assert content_of(answer, house_year=None) == _check(answer.given).content
    assert reading._understood.cache_info().misses == 1
    content_of(answer, house_year=2011)
    content_of(replace(answer, given={**answer.given, "installed": "2013"}), house_year=None)
    assert reading._understood.cache_info().misses == 3


def test_what_is_remembered_of_an_answer_says_nothing_of_whose_it_is() -> None:
    """Two households that say the same share a reading, and each keeps its address, phone and remarks."""
    reading._understood.cache_clear()
    one = _stored(installed="2012", contact="555-0100", remarks="gate")
    other = _stored(installed="2012", contact="555-0199", address="13 Sample Street")
    read = [content_of(answer, house_year=None) for answer in (one, other)]

    assert reading._understood.cache_info().misses == 1
    assert [c.said.get("contact") for c in read if c] == ["555-0100", "555-0199"]
    assert [c.said.get("remarks") for c in read if c] == ["gate", None]
    assert [c.address for c in read if c] == [ADDRESS, "13 Sample Street"]


def test_a_day_named_by_its_month_is_the_middle_of_it() -> None:
    """A form answered in May 2025 speaks of the sixteenth: read once, not a second time from that day on."""
    content = _check(answered_on="May 2025", last_flush="last year").content
    assert content is not None
    assert content.answered_on == date(2025, 5, 16)
    assert content.said["last_flush"] == Dated(earliest=date(2024, 1, 1), latest=date(2024, 12, 31))


# ---- history -------------------------------------------------------------


def _history(house_year: int | None = 2005, **texts: str):  # type: ignore[no-untyped-def]
    content = _check(texts, house_year=house_year, overruled={OVERRULE_ALL: "so it was"}).content
    assert content is not None
    return to_history(content, home_id="H7", answer_id="A1", built_year=house_year, answered_on=content.answered_on)


def test_history_of_a_first_heater_is_one_heater() -> None:
    """The first heater has sequence 1 and no predecessor."""
    history = _history(installed="2006", heater_number="first", kind="gas")
    (heater,) = history.heaters
    assert (heater.sequence, heater.number_in_home, heater.in_service) == (1, 1, True)
    assert heater.kind is HeaterKind.GAS_STORAGE


def test_history_of_a_second_heater_tells_of_the_first() -> None:
    """The first was installed with the house, ended when the person said, for the cause they gave."""
    history = _history(
        installed="2016", heater_number="second", previous_gone="May 2016", previous_end="failed", moved_in="2010"
    )
    first, second = history.heaters
    assert first.installed == Dated(
        earliest=date(2005, 1, 1), latest=date(2005, 12, 31), evidence=DateEvidence.HOUSE_COMPLETION
    )
    assert first.removed == Dated(earliest=date(2016, 5, 1), latest=date(2016, 5, 31))
    assert first.end_cause is EndCause.FAILED
    assert (first.sequence, first.number_in_home) == (1, 1)
    assert (second.sequence, second.number_in_home, second.in_service) == (2, 2, True)
    assert history.home["moved_in"] == Dated(earliest=date(2010, 1, 1), latest=date(2010, 12, 31))


def test_history_dates_an_undated_end_by_the_next_installation() -> None:
    """A second heater installed in 2016, by memory, means that the first left around then; its cause stays unknown."""
    first, _ = _history(installed="2016", heater_number="second").heaters
    assert first.removed == Dated(earliest=date(2014, 1, 1), latest=date(2018, 12, 31))
    assert first.end_cause is EndCause.UNKNOWN


def test_history_of_a_third_heater_leaves_the_second_undated() -> None:
    """Whoever came before the third was not installed with the house, and nobody said when."""
    previous, current = _history(installed="2018", heater_number="4th", previous_end="leaked").heaters
    assert previous.installed is None
    assert previous.number_in_home is None
    assert previous.end_cause is EndCause.FAILED
    assert current.number_in_home == 3


def test_history_without_any_date_still_knows_that_one_ended() -> None:
    """An end without a date is an end: the heater before is not in service."""
    previous, _ = _history(house_year=None, previous_end="failed").heaters
    assert previous.removed is None
    assert not previous.in_service


def test_history_keeps_acts_on_the_heater_they_were_done_to() -> None:
    """A flush before the installation, overruled, belongs to the heater before; without one it is dropped."""
    with_previous = _history(installed="2016", heater_number="second", last_flush="2012", last_anode="2020")
    by_kind = {record.kind: record.heater_id for record in with_previous.services}
    assert by_kind[ServiceKind.FLUSH] == with_previous.heaters[0].heater_id
    assert by_kind[ServiceKind.ANODE_CHECK] == with_previous.heaters[1].heater_id
    assert _history(installed="2016", last_flush="2012").services == ()


def test_history_tells_changed_from_checked_anodes_and_never_from_silence() -> None:
    """A changed anode is a change, never is kept on the heater, and silence is neither."""
    changed = _history(installed="2016", last_anode="2020", anode_work="changed", last_flush="never")
    assert [r.kind for r in changed.services] == [ServiceKind.ANODE_CHANGE]
    assert changed.heaters[-1].never_done == (ServiceKind.FLUSH,)
    assert _history(installed="2016").heaters[-1].never_done == ()
    assert set(_history(last_anode="never").heaters[-1].never_done) == {
        ServiceKind.ANODE_CHECK,
        ServiceKind.ANODE_CHANGE,
    }


def test_history_is_the_same_every_time() -> None:
    """Ids follow from home and answer, so that reading an answer twice makes no second heater."""
    texts = {"installed": "2016", "heater_number": "second", "last_flush": "2020"}
    assert _history(**texts) == _history(**texts)
    heater_ids = [heater.heater_id for heater in _history(**texts).heaters]
    assert heater_ids == ["H7/heater-1", "H7/heater-2"]
