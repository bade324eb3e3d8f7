"""What the front door hands back: reports of loading, importing and submitting."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from survey_app.errors import SurveyError

if TYPE_CHECKING:
    from geo.addresses import Candidate
    from geo.parcels import Notice
    from survey_app.csv_import import Imported
    from survey_app.intake import Checked
    from survey_app.joins import Join, JoinState
    from survey_app.records import Answer
    from survey_app.standing import Standing
    from survey_app.store import CommunityState

__all__ = ["DoubtfulAnswer", "Glance", "HomesWouldGo", "ImportReport", "LoadReport", "SignInRefused", "Submission"]


class HomesWouldGo(SurveyError, ValueError):
    """A parcel file lacks homes that the survey has; nothing was changed. ``addresses`` are those that would go."""

    def __init__(self, addresses: tuple[str, ...]) -> None:
        self.addresses = addresses
        named = "; ".join(addresses[:3]) + (" …" if len(addresses) > 3 else "")
        super().__init__(
            f"Homes of this survey that are not in that file: {len(addresses)} ({named}). Nothing was changed: loading "
            "it would take them out, with their private codes. Load the whole community's file; or, if they are no "
            "homes here, say that they go."
        )


class SignInRefused(SurveyError, PermissionError):
    """A sign-in that was not accepted; the message says what to do, never which part was wrong.

    Parameters
    ----------
    message
        The sentence, in English.
    key
        The message of :mod:`survey_app.texts` that says the same in every language, "" where only volunteers meet it.
    """

    def __init__(self, message: str, key: str = "") -> None:
        super().__init__(message)
        self.key = key


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadReport:
    """What loading a parcel file did."""

    parcels: int
    homes: int
    phases: int
    repaired: tuple[Notice, ...]
    refused: tuple[Notice, ...]
    assumed: tuple[str, ...]
    kept_without_parcel: tuple[str, ...]
    """Homes with answers that the new file no longer has: kept, for the volunteer to look at."""


def notice_groups(notices: Iterable[Notice]) -> list[tuple[str, int, list[dict[str, str]]]]:
    """Notices of one kind together, the most frequent first: the kind, how many, and a row for each."""
    kinds: dict[str, list[Notice]] = {}
    for notice in notices:
        kinds.setdefault(notice.kind or notice.what, []).append(notice)
    return [
        (kind, len(some), [{"parcel": n.parcel_id or "?", "what": n.what, "to do": n.remedy} for n in some])
        for kind, some in sorted(kinds.items(), key=lambda item: -len(item[1]))
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Glance:
    """The community, how fresh its data are, how many homes there are and how many have answered, of one moment."""

    state: CommunityState
    homes: int
    answered: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Submission:
    """What became of one answer: stored or not, and every problem found."""

    stored: bool
    checked: Checked
    join: Join | None
    standing: Standing | None
    """Where the home stands by this answer alone; None when it was not stored."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportReport:
    """What an import did. ``needs_eye`` says whether anything waits for the volunteer."""

    rows: int
    new: int
    already_there: int
    joined: int
    doubtful: int
    no_such_home: int
    homes: int
    imported: Imported

    @property
    def needs_eye(self) -> bool:
        """Whether rows went to the mend file or to the list of doubtful addresses."""
        return bool(self.imported.rejected) or self.doubtful > 0 or self.no_such_home > 0


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubtfulAnswer:
    """An answer that waits for the volunteer to say which home it is for."""

    answer: Answer
    state: JoinState
    why: str
    candidates: tuple[Candidate, ...]
