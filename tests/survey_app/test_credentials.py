"""Private codes and passwords."""

import pytest

from survey_app import credentials


def test_a_code_reads_back_however_it_is_typed() -> None:
    """Lower case, spaces and missing hyphens open the same home."""
    code = credentials.new_code(set())

    assert code == credentials.read_code(str(code))
    assert code == credentials.read_code(str(code).lower().replace("-", " "))
    assert code == credentials.read_code(str(code).replace("-", ""))


@pytest.mark.parametrize("text", ["", "ABCD", "ABCD-EFGHJ-KMNP", "ABCD-EFGHJ-KMNP0", "ABCD-EFGHJ-KMNPQ-R", "é" * 14])
def test_what_cannot_be_a_code_is_none(text: str) -> None:
    """Wrong length, and letters that no code has."""
    assert credentials.read_code(text) is None


def test_the_secret_part_is_long_enough_to_resist_guessing() -> None:
    """Ten of 31 letters: 49.5 bits, computed, not believed."""
    assert 49 < credentials.SECRET_BITS < 50
    codes = [credentials.new_code(set()) for _ in range(200)]
    assert len({code.secret for code in codes}) == 200


def test_a_hash_knows_its_secret_and_no_other() -> None:
    """Argon2id with the first of the parameters in OWASP's Password Storage Cheat Sheet (m=19456, t=2, p=1)."""
    stored = credentials.hash_secret("four unrelated words")

    assert stored.startswith("$argon2id$v=19$m=19456,t=2,p=1$")
    assert credentials.is_secret(stored, "four unrelated words")
    assert not credentials.is_secret(stored, "four unrelated word")
    assert not credentials.is_secret(None, "four unrelated words")
    assert not credentials.is_secret("garbage", "four unrelated words")


@pytest.mark.parametrize(
    ("tries", "refused"),
    [
        ((4, 4, 4, 4), False),
        ((5, 5, 5, 5), True),
        ((0, 14, 0, 14), False),
        ((0, 15, 0, 15), True),
        ((0, 0, 19, 19), False),
        ((0, 0, 20, 20), True),
        ((0, 0, 2, 10_000), False),
        ((0, 0, 3, 500), True),
    ],
)
def test_tries_are_refused_at_their_limits_and_not_before(tries: tuple[int, int, int, int], refused: bool) -> None:
    """By name from one place, by name from anywhere, by place; many in all leave every place three."""
    of_subject_from_here, of_subject, from_here, in_all = tries
    found = credentials.Tries(
        of_subject_from_here=of_subject_from_here, of_subject=of_subject, from_here=from_here, in_all=in_all
    )

    assert credentials.too_many(found) is refused


def test_short_passwords_are_refused_with_a_hint() -> None:
    """Length counts; the sentence says how."""
    assert "12 characters" in (credentials.weak_password("short") or "")
    assert credentials.weak_password("aaaaaaaaaaaaaa")
    assert credentials.weak_password("correct horse battery") is None
