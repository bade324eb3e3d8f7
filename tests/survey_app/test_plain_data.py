"""Documents to plain data and back: what is kept is read for good, whatever version wrote it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

import pytest

from survey_app.plain_data import from_plain, to_plain
from survey_app.records import Dated, DateEvidence, HeaterKind
from survey_app.service_days import FLUSH, Asked, UnknownJob


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """A record with a field of each kind."""

    day: date
    at: datetime
    kind: HeaterKind | None = None
    window: Dated | None = None
    pairs: tuple[tuple[int, float], ...] = ()
    by_day: Mapping[date, int] = field(default_factory=dict)
    words: str = ""


FULL = Note(
    day=date(2026, 5, 2),
    at=datetime(2026, 5, 2, 9, 30),
    kind=HeaterKind.TANKLESS,
    window=Dated.on(date(2020, 1, 1), DateEvidence.MEMORY),
    pairs=((1, 150.0), (10, 130.5)),
    by_day={date(2026, 5, 3): 2},
    words="grit",
)


def test_every_kind_of_field_survives_json() -> None:
    """Days, moments, choices, windows, pairs and days as keys come back as they were."""
    assert from_plain(Note, json.loads(json.dumps(to_plain(FULL)))) == FULL


def test_what_an_earlier_version_lacks_has_its_default_and_what_it_had_more_is_passed_over() -> None:
    """A document with one field less and one that nobody knows any more is read."""
    told = {name: value for name, value in to_plain(FULL).items() if name != "pairs"}

    assert from_plain(Note, {**told, "color": "green"}).pairs == ()


@pytest.mark.parametrize("wrong", [{}, {"day": "soon", "at": "2026-05-02"}, {"day": None, "at": "2026-05-02"}])
def test_data_of_another_type_are_refused_as_such(wrong: Mapping[str, object]) -> None:
    """A field that must be there, a day that is none: one kind of error, never half a record."""
    with pytest.raises(ValueError, match=r"Note|isoformat"):
        from_plain(Note, wrong)


def test_a_row_of_a_table_is_kept_by_its_name() -> None:
    """A job is its name in a plan; one that is not in the table any more is told."""
    asked = to_plain(Asked(job=FLUSH, dates=(date(2026, 9, 1),)))

    assert asked["job"] == "flush"
    assert from_plain(Asked, asked).job is FLUSH
    with pytest.raises(UnknownJob):
        from_plain(Asked, {**asked, "job": "paint"})
