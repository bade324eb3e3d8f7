"""What is personal in the survey: what is kept, why, who sees it, how long; the page and the tests read this list."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

__all__ = ["KEPT", "NOT_PERSONAL", "Kept"]


@dataclass(frozen=True, slots=True)
class Kept:
    """One kind of personal data: the tables that hold it; its words are the messages ``privacy-<key>`` and more."""

    key: str
    tables: tuple[str, ...]


KEPT: tuple[Kept, ...] = (
    Kept("answers", ("answer", "join_candidate")),
    Kept("heaters", ("heater", "service_record", "event")),
    Kept("photos", ("plate_photo",)),
    Kept("home", ("home",)),
    Kept("visits", ("visit", "service_plan")),
    Kept("offers", ("offer_reply", "purchase_plan")),
    Kept("notes", ("contact_note",)),
    Kept("code", ("access_code",)),
    Kept("accounts", ("account", "invitation")),
    Kept("tries", ("sign_in_try",)),
    Kept("log", ("change_log",)),
)
"""Every table that holds something about a person or a home."""

NOT_PERSONAL: Mapping[str, str] = {
    "community": "the community's name and settings",
    "phase": "building phases",
    "parcel": "the county's public record of land",
    "street": "street lines",
    "sheet": "the order in which letters are handed out",
    "bid": "contractors' offers",
    "alembic_version": "the step of the tables",
}
"""Every other table, and why it is not."""
