"""Whom to call when a heater leaks: typed by the volunteer, kept in the settings, dialed on a phone."""

from __future__ import annotations

import unicodedata
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as some

from survey_app.access import Actor, NotAllowed, Role
from survey_app.advice.leaking import CONTACTS, calls
from survey_app.contacts import CONTACT_LENGTH, Contacts, dialed
from survey_app.settings import (
    Settings,
    UnusableSettings,
    read_settings,
    values_of,
    with_contacts,
    with_value,
    write_settings,
)
from survey_app.survey import Survey, open_store


@given(line=some.text(max_size=CONTACT_LENGTH))
def test_any_text_survives_the_settings_file_as_one_visible_line(line: str) -> None:
    """Quotes, backslashes, brackets, line breaks: the file reads back the same, and no line hides a character."""
    settings = with_contacts(Settings(), {"gas_utility": line, "contractor": 'x"\n[contacts]\nvolunteer = "y'})
    kept = settings.contacts.gas_utility

    assert read_settings(write_settings(settings)) == settings
    assert settings.contacts.volunteer == ""
    assert kept == " ".join(kept.split())
    assert not any(unicodedata.category(c)[0] == "C" for c in kept)


def test_changing_a_figure_leaves_the_contacts_and_the_other_way_round() -> None:
    """Neither half of the settings forgets the other."""
    first = with_contacts(with_value(Settings(), "deductible_usd", "750"), {"water_utility": "Water: 555-0102"})
    second = with_contacts(with_value(first, "deductible_usd", "800"), {"volunteer": "Vera, 555-0104"})

    assert second.contacts == Contacts(water_utility="Water: 555-0102", volunteer="Vera, 555-0104")
    assert second.deductible_usd == 800


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("[contacts]\nplumber = '555-0100'", "There is no setting 'contacts.plumber'.*contacts.gas_utility"),
        ("[contacts]\ngas_utility = 5550100", "contacts.gas_utility.*text in quotes"),
        (f"[contacts]\ngas_utility = '{'5' * 81}'", "contacts.gas_utility.*at most 80"),
        ("contacts = 1", "contacts"),
    ],
)
def test_contacts_that_cannot_be_used_are_refused_by_name(text: str, sentence: str) -> None:
    """A wrong name, a number without quotes, a whole paragraph: each gets its sentence."""
    with pytest.raises(UnusableSettings, match=sentence):
        read_settings(text)


def test_every_contact_of_the_settings_has_its_place_on_the_card() -> None:
    """No number is kept that nobody is shown; only the emergency number and the household's own insurer are not set."""
    settings = with_contacts(Settings(), {name: f"{name} 555-0100" for name in Contacts.model_fields})
    shown = {call.key: call.number for call in calls(contacts=settings.contacts.known())}

    assert {key for key, number in shown.items() if number.endswith("555-0100")} == set(CONTACTS) - {
        "emergency",
        "insurer",
    }
    assert shown["emergency"] == "911"
    assert shown["insurer"] == ""


@pytest.mark.parametrize(
    ("line", "number"),
    [
        ("911", "911"),
        ("Lakeshore Gas, 555-0101, day and night", "5550101"),
        ("+1 (555) 555-0101", "+15555550101"),
        ("24/7 555-0101", "5550101"),
        ("Open 8-5: 555.0101 ext. 4", "5550101"),
        ("ask at the office", ""),
        ("unit 12", ""),
        ("1" * 16, ""),
        ("javascript:alert(1)", ""),
        ("٥٥٥٠١٠١", ""),
    ],
)
def test_what_a_phone_dials_is_digits_alone(line: str, number: str) -> None:
    """Hours and unit numbers are passed over; what is no number is not dialed. common practice, no source."""
    assert dialed(line) == number


@given(line=some.text())
def test_no_text_gets_anything_but_digits_into_a_phone_link(line: str) -> None:
    """Whatever is typed, the link holds ASCII digits with at most a plus before them."""
    found = dialed(line)

    assert found == "" or (found.removeprefix("+").isascii() and found.removeprefix("+").isdigit())


def test_a_change_of_contacts_is_logged_and_is_the_volunteers_alone(data: Path) -> None:
    """The log names the one contact that changed, with what stood there before."""
    store = open_store(data)
    volunteer = Survey(store, Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2, 12))
    volunteer.set_up().change_settings(with_contacts(volunteer.settings(), {"gas_utility": "Gas 555-0101"}))
    volunteer.set_up().change_settings(with_contacts(volunteer.settings(), {"gas_utility": "Gas 555-0109"}))
    logged = [c for c in volunteer.change_log().entries() if c.subject_kind == "setting"]

    assert [(c.subject_id, c.before, c.after) for c in logged[:2]] == [
        ("contacts.gas_utility", "Gas 555-0101", "Gas 555-0109"),
        ("contacts.gas_utility", "", "Gas 555-0101"),
    ]
    assert values_of(volunteer.settings())["contacts.gas_utility"] == "Gas 555-0109"
    resident = Survey(store, Actor(name="resident", role=Role.RESIDENT, home_id="1"), now=datetime(2026, 5, 2, 12))
    with pytest.raises(NotAllowed):
        resident.set_up().change_settings(Settings())
