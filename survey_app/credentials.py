"""Private codes and passwords: made, hashed, checked.

Hashing is Argon2id with 19 MiB of memory, two passes and one lane, the first of
the choices in OWASP's Password Storage Cheat Sheet. A private code has a public
first part that finds its home and a secret part of ten letters out of 31, which
is 49 bits.
"""

from __future__ import annotations

import hashlib
import math
import re
import secrets
from dataclasses import dataclass
from datetime import timedelta

from argon2 import PasswordHasher
from argon2.exceptions import Argon2Error, InvalidHashError

__all__ = [
    "INVITATION_LASTS",
    "KEEP_TRIES",
    "LOCK_AFTER",
    "SECRET_BITS",
    "TRY_WINDOW",
    "PrivateCode",
    "Tries",
    "hash_secret",
    "is_secret",
    "new_code",
    "read_code",
    "stamp",
    "too_many",
    "unusable_hash",
    "weak_password",
]

_LETTERS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"  # none that are taken for one another on paper
_LOCATOR, _SECRET = 4, 10
SECRET_BITS = _SECRET * math.log2(len(_LETTERS))
LOCK_AFTER = 5
TRY_WINDOW = timedelta(minutes=15)
KEEP_TRIES = timedelta(hours=1)
INVITATION_LASTS = timedelta(days=7)

_hasher = PasswordHasher(time_cost=2, memory_cost=19 * 1024, parallelism=1)
_NOBODY = _hasher.hash(secrets.token_hex(16))  # checked when there is no such account: same time either way


@dataclass(frozen=True, slots=True, kw_only=True)
class PrivateCode:
    """A home's private code: the part that finds the home, and the secret."""

    locator: str
    secret: str

    def __str__(self) -> str:
        return f"{self.locator}-{self.secret[:5]}-{self.secret[5:]}"


def new_code(taken: set[str]) -> PrivateCode:
    """A fresh code whose locator is not in `taken`."""
    while True:
        locator = "".join(secrets.choice(_LETTERS) for _ in range(_LOCATOR))
        if locator not in taken:
            return PrivateCode(locator=locator, secret="".join(secrets.choice(_LETTERS) for _ in range(_SECRET)))


def read_code(text: str) -> PrivateCode | None:
    """A code as a person types it (any case, any spacing); None when it cannot be one."""
    letters = re.sub(r"[\s\-‐–—.]", "", text).upper()
    if len(letters) != _LOCATOR + _SECRET or any(letter not in _LETTERS for letter in letters):
        return None
    return PrivateCode(locator=letters[:_LOCATOR], secret=letters[_LOCATOR:])


def hash_secret(secret: str) -> str:
    """The Argon2id hash of a password or of a code's secret."""
    return _hasher.hash(secret)


def unusable_hash() -> str:
    """The hash of a secret that nobody knows: for accounts that come in by their organization's sign-in alone."""
    return _hasher.hash(secrets.token_urlsafe(32))


def is_secret(stored_hash: str | None, secret: str) -> bool:
    """Whether `secret` has this hash; takes as long when there is none to compare with."""
    try:
        return _hasher.verify(stored_hash or _NOBODY, secret) and stored_hash is not None
    except (Argon2Error, InvalidHashError):
        return False


@dataclass(frozen=True, slots=True, kw_only=True)
class Tries:
    """Wrong tries of late: at one name or code from one place, at it from anywhere, from one place, in all."""

    of_subject_from_here: int
    of_subject: int
    from_here: int
    in_all: int


def too_many(tries: Tries) -> bool:
    """Whether one more try is refused.

    Five wrong tries for one name or code from one place, fifteen from anywhere,
    twenty of one place for whatever names. Five hundred in all do not close the
    doors, which would let a stranger lock everybody out; each place then has
    three. OWASP Authentication Cheat Sheet, "Account Lockout", asks for a
    threshold, a window and a duration, and names that danger; the numbers are
    ours.
    """
    return (
        tries.of_subject_from_here >= LOCK_AFTER
        or tries.of_subject >= 3 * LOCK_AFTER
        or tries.from_here >= (20 if tries.in_all < 500 else 3)
    )


def stamp(*hashes: str) -> str:
    """A mark of the secrets that let somebody in: it changes when they do, and tells nothing of them."""
    return hashlib.sha256("|".join(hashes).encode()).hexdigest()


def weak_password(password: str) -> str | None:
    """Why a password is refused; None when it will do.

    Length alone counts, as NIST SP 800-63B section 5.1.1.2 (from memory) advises.
    """
    if len(password) < 12:
        return "Use at least 12 characters: three or four unrelated words are easy to remember."
    if len(set(password)) < 5:
        return "Use more than a few different characters."
    return None
