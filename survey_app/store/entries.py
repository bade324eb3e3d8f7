"""What is kept beside the words of the survey: how answers were joined, plans as documents, sign-in, the change log."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from survey_app.records import Answer, Community

__all__ = [
    "AccessCode",
    "Account",
    "Change",
    "CommunityState",
    "JoinCandidate",
    "KeptBid",
    "KeptInvitation",
    "KeptRounds",
    "KeptServicePlan",
    "Sheet",
    "SignInTry",
    "StoredAnswer",
    "StreetLine",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class CommunityState:
    """The community's one row: what it is and how fresh its data are.

    ``reading_version`` is which reading of the answers the homes' heaters and acts follow; 0 where it is not known or
    not the same for all.
    """

    community: Community
    open_doors: bool
    settings: str
    reading_version: int
    data_version: int
    changed_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class StreetLine:
    """A street's line, well-known binary in WGS 84."""

    street_id: int
    name: str
    kind: str
    line_wkb: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredAnswer:
    """An answer and how it was joined to its home."""

    answer: Answer
    join_state: str
    join_why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinCandidate:
    """A home that a doubtful answer may be for."""

    answer_id: str
    home_id: str
    score: float
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptServicePlan:
    """A plan of service days as it is kept: what was asked and what was planned, as plain data."""

    plan_id: str
    job: str
    made_at: datetime
    made_by: str
    asked: Mapping[str, Any]
    planned: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptBid:
    """A contractor's bid as it is kept, as plain data, and who put it there when."""

    contractor: str
    content: Mapping[str, Any]
    put_at: datetime
    put_by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptRounds:
    """Purchase rounds as they were formed: what was asked and what was formed, as plain data."""

    plan_id: str
    made_at: datetime
    made_by: str
    asked: Mapping[str, Any]
    formed: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The number printed on a home's letter."""

    home_id: str
    number: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One entry of the change log: who did what when, and the subject before and after in JSON's types."""

    change_id: int
    at: datetime
    who: str
    action: str
    subject_kind: str
    subject_id: str
    before: Any = None
    after: Any = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """Who may sign in with a password, of which only the hash is kept."""

    name: str
    role: str
    password_hash: str
    created_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptInvitation:
    """An invitation to make an account, by the public first part of its code; of the rest only the hash is kept."""

    locator: str
    code_hash: str
    name: str
    role: str
    made_at: datetime
    made_by: str
    expires_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class SignInTry:
    """A try to sign in that is not known to be right: digests of what was tried, and from where."""

    try_id: int
    at: datetime
    subject: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AccessCode:
    """A home's private code, by its public first part; of the rest only the hash is kept."""

    locator: str
    home_id: str
    code_hash: str
    issued_at: datetime
    revoked_at: datetime | None = None
