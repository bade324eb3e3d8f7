"""A community's settings: read, written, explained, refused with sentences."""

import pytest
from hypothesis import given
from hypothesis import strategies as some

from survey_app.settings import (
    Settings,
    UnusableSettings,
    bounds,
    choices,
    explain,
    read_settings,
    with_value,
    write_settings,
)


def test_written_settings_read_back_the_same() -> None:
    """What is written as TOML reads back as it was, and an empty file is the defaults."""
    changed = Settings(default_warranty_years=9, public_minimum_answers=15)

    assert changed == read_settings(write_settings(changed))
    assert Settings() == read_settings("")


def test_every_setting_says_where_it_comes_from_and_what_it_changes() -> None:
    """No default without a source and an effect."""
    for row in explain(Settings()):
        assert row["source"], row["setting"]
        assert row["effect"], row["setting"]


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("flush_every_years = -1", "flush_every_years"),
        ("flush_evry_years = 1", "There is no setting 'flush_evry_years'"),
        ("default_warranty_years = 'six'", "default_warranty_years"),
        ("public_minimum_answers = 1", "public_minimum_answers"),
        ("this is not toml", "not valid TOML"),
    ],
)
def test_settings_that_cannot_be_used_are_refused_by_name(text: str, sentence: str) -> None:
    """The sentence names the line that is wrong."""
    with pytest.raises(UnusableSettings, match=sentence):
        read_settings(text)


def test_all_wrong_lines_are_told_at_once() -> None:
    """Two mistakes give two sentences in one refusal."""
    with pytest.raises(UnusableSettings) as refusal:
        read_settings("flush_every_years = -1\nanode_every_years = 99")

    assert "flush_every_years" in str(refusal.value)
    assert "anode_every_years" in str(refusal.value)


@given(some.data())
def test_any_possible_value_survives_the_file(data: some.DataObject) -> None:
    """Every digit of whatever a setting may hold is written and read back: files lose nothing."""
    values = {}
    for name in (row["setting"] for row in explain(Settings())):
        info = Settings.model_fields[name]
        if words := choices(name):
            values[name] = data.draw(some.sampled_from(words))
            continue
        least, most = bounds(name)
        number = (
            some.integers(int(least), int(most))
            if info.annotation is int
            else some.floats(least, min(most, 1e9), allow_nan=False).map(lambda x: float(f"{x:.12g}"))
        )
        values[name] = data.draw(number.filter(lambda x, a=least, b=most: a <= x <= b))
    settings = Settings.model_validate(values)

    assert read_settings(write_settings(settings)) == settings


@pytest.mark.parametrize(
    "typed",
    ["", "soon", "2\nanode_every_years = 9", "nan", "inf", "-1", "=1+1", "<script>", "1e999", '""', "1; drop table"],
)
def test_hostile_or_impossible_values_are_refused_in_a_sentence(typed: str) -> None:
    """Nothing typed into one setting reaches another, and no number that is none is taken."""
    with pytest.raises(UnusableSettings):
        with_value(Settings(), "flush_every_years", typed)


def test_a_typed_value_changes_one_setting_alone() -> None:
    """Thousands with a comma are read; every other setting stays."""
    changed = with_value(Settings(), "deductible_usd", " 1,250 ")

    assert changed.deductible_usd == 1250
    assert changed.model_copy(update={"deductible_usd": Settings().deductible_usd}) == Settings()
