"""Private codes and passwords."""

from datetime import datetime

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


def test_the_fifth_wrong_try_locks() -> None:
    """Four wrong tries count, the fifth locks for a quarter of an hour and starts the count anew."""
    now = datetime(2026, 5, 2, 9)

    assert credentials.lock_state(3, now) == (4, None)
    assert (0, datetime(2026, 5, 2, 9, 15)) == credentials.lock_state(4, now)


def test_short_passwords_are_refused_with_a_hint() -> None:
    """Length counts; the sentence says how."""
    assert "12 characters" in (credentials.weak_password("short") or "")
    assert credentials.weak_password("aaaaaaaaaaaaaa")
    assert credentials.weak_password("correct horse battery") is None
