"""A community's settings: read, written, explained, refused with sentences."""

import pytest

from survey_app.settings import Settings, UnusableSettings, explain, read_settings, write_settings


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
