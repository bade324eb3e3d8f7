"""Records to rows and back, for every table alike: the columns follow from the fields of the record.

A field holds text, a number, a day, a moment, bytes, yes or no, one of an
enumeration, or any of these or None: that is one column of the same name. A
:class:`~survey_app.records.Dated` is two, its earliest and latest day, and a third
for the evidence where the table says so. Tuples and mappings are one column of
JSON. A record within a record has its columns among the others'.
"""

from __future__ import annotations

import typing
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, is_dataclass
from datetime import date, datetime
from enum import Enum
from typing import Any, Generic, TypeVar

import sqlalchemy as sa

from survey_app.plain_data import field_kinds, reader_of, to_plain, without_none
from survey_app.records import Dated, DateEvidence

__all__ = ["Kept", "Row"]

Row = Mapping[str, Any]
R = TypeVar("R")

_NATIVE: Mapping[type, type[sa.types.TypeEngine[Any]]] = {
    str: sa.String,
    int: sa.Integer,
    float: sa.Float,
    bool: sa.Boolean,
    datetime: sa.DateTime,
    date: sa.Date,
    bytes: sa.LargeBinary,
}


@dataclass(frozen=True, slots=True)
class _Part:
    """One field of a record: its columns, and the way there and back."""

    name: str
    columns: tuple[tuple[str, type[sa.types.TypeEngine[Any]], bool], ...]
    """Name, type, whether it may be empty."""
    to_values: Callable[[Any], tuple[Any, ...]]
    of_values: Callable[[Sequence[Any], int], Any]
    """The field from a row's values, its first column at this place."""


class Kept(Generic[R]):
    """A table and the record that each of its rows is.

    Parameters
    ----------
    record
        The frozen dataclass.
    name, metadata
        The table's.
    key
        Its primary key: fields of the record, or a column of its own that no record knows.
    refers
        Fields that name a row of another table, each with that table's key.
    indexed
        Fields with an index.
    renamed
        Columns that are not called as their field.
    evidence
        Fields of a rough date whose evidence is kept, too.
    long_text
        Columns of text that the database holds as such; any other holds text of any length as well.
    counted
        Whether the database gives the key.
    more
        Indices over several columns.
    """

    def __init__(
        self,
        record: type[R],
        name: str,
        metadata: sa.MetaData,
        *,
        key: Sequence[str],
        refers: Mapping[str, str] = {},
        indexed: Iterable[str] = (),
        renamed: Mapping[str, str] = {},
        evidence: Iterable[str] = (),
        long_text: Iterable[str] = (),
        counted: bool = False,
        more: Sequence[sa.Index] = (),
    ) -> None:
        self.record_type = record
        self._parts = _parts(record, renamed, frozenset(evidence))
        told = [column for part in self._parts for column in part.columns]
        self.names = tuple(name for name, _, _ in told)
        own_key = [sa.Column(k, sa.Integer, primary_key=True) for k in key if k not in self.names]
        columns = [
            sa.Column(
                column,
                sa.Text() if column in set(long_text) else kind(),
                *([sa.ForeignKey(refers[column])] if column in refers else []),
                primary_key=column in key,
                autoincrement=True if counted and column in key else "auto",
                nullable=optional,
                index=True if column in set(indexed) else None,
            )
            for column, kind, optional in told
        ]
        self.table = sa.Table(name, metadata, *own_key, *columns, *more)
        self.c = self.table.c
        self.columns = tuple(self.c[n] for n in self.names)
        self.keys = tuple(key)

    def row(self, record: R) -> dict[str, Any]:
        """A record as a row."""
        values = [v for part in self._parts for v in part.to_values(getattr(record, part.name))]
        return dict(zip(self.names, values, strict=True))

    def of_values(self, values: Sequence[Any]) -> R:
        """A row's values, in the order of :attr:`columns`, as a record."""
        return _built(self.record_type, self._parts, values, 0)

    def of_row(self, row: Row) -> R:
        """A row as a record; columns that no field has are passed over."""
        return self.of_values([row[name] for name in self.names])


def _built(record: type[R], parts: Sequence[_Part], values: Sequence[Any], start: int) -> R:
    told = {}
    for part in parts:
        told[part.name] = part.of_values(values, start)
        start += len(part.columns)
    return record(**told)


def _parts(record: type, renamed: Mapping[str, str], evidence: frozenset[str]) -> tuple[_Part, ...]:
    return tuple(
        _part(name, renamed.get(name, name), kind, name in evidence) for name, kind in field_kinds(record).items()
    )


def _part(name: str, column: str, told: Any, with_evidence: bool) -> _Part:
    if told is Any:
        return _Part(name, ((column, sa.JSON, True),), lambda value: (to_plain(value),), _at)
    kind, optional = without_none(told)
    if kind is Dated:
        return _rough_date(name, column, optional, with_evidence)
    if is_dataclass(kind):
        return _record_within(name, typing.cast(type, kind))
    if isinstance(kind, type) and issubclass(kind, Enum):
        of_text: Mapping[Any, Any] = {**{member.value: member for member in kind}, None: None}
        return _Part(
            name,
            ((column, sa.String, optional),),
            lambda value: (None if value is None else value.value,),
            lambda values, at: of_text[values[at]],
        )
    if kind in _NATIVE:
        return _Part(name, ((column, _NATIVE[kind], optional),), lambda value: (value,), _at)
    read = reader_of(told)
    return _Part(
        name,
        ((column, sa.JSON, optional),),
        lambda value: (to_plain(value),),
        lambda values, at: read(values[at]),
    )


def _at(values: Sequence[Any], at: int) -> Any:
    return values[at]


def _rough_date(name: str, stem: str, optional: bool, with_evidence: bool) -> _Part:
    columns: list[tuple[str, type[sa.types.TypeEngine[Any]], bool]] = [
        (f"{stem}_earliest", sa.Date, optional),
        (f"{stem}_latest", sa.Date, optional),
    ]
    if with_evidence:
        columns.append((f"{stem}_evidence", sa.String, True))

    def to_values(value: Dated | None) -> tuple[Any, ...]:
        if value is None:
            return (None,) * len(columns)
        told = (value.earliest, value.latest, value.evidence and value.evidence.value)
        return told[: len(columns)]

    def of_values(values: Sequence[Any], at: int) -> Dated | None:
        earliest, latest = values[at], values[at + 1]
        if earliest is None or latest is None:
            return None
        evidence = values[at + 2] if with_evidence else None
        return Dated(earliest=earliest, latest=latest, evidence=DateEvidence(evidence) if evidence else None)

    return _Part(name, tuple(columns), to_values, of_values)


def _record_within(name: str, record: type) -> _Part:
    parts = _parts(record, {}, frozenset())

    def to_values(value: Any) -> tuple[Any, ...]:
        return tuple(v for part in parts for v in part.to_values(getattr(value, part.name)))

    return _Part(
        name,
        tuple(column for part in parts for column in part.columns),
        to_values,
        lambda values, at: _built(record, parts, values, at),
    )
