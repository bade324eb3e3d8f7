"""Values as plain data, the types of JSON, and back: by the fields of the dataclass, one way for every document.

A row of a table in the code is kept by its ``name``: its class finds it again with
``named``. What is kept from an earlier version is read, too: a field that it lacks
has its default, one that is not known any more is passed over.
"""

from __future__ import annotations

import types
import typing
from collections.abc import Callable, Mapping, Sequence
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, datetime
from enum import Enum
from functools import cache
from typing import Any, TypeVar

__all__ = ["field_kinds", "from_plain", "reader_of", "to_plain", "without_none"]

_Reader = Callable[[Any], Any]
_T = TypeVar("_T")


def to_plain(value: Any) -> Any:
    """A value as plain data: enumerations by their values, days in ISO 8601, tuples as lists, records as mappings."""
    if isinstance(value, Enum):
        return value.value
    if hasattr(type(value), "named"):
        return value.name
    if value is None or isinstance(value, (str, int, float, bool)):
        return value
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {to_plain(k): to_plain(v) for k, v in value.items()}
    if isinstance(value, (list, tuple, set, frozenset)):
        return [to_plain(v) for v in value]
    if is_dataclass(value):
        return {f.name: to_plain(getattr(value, f.name)) for f in fields(value)}
    raise TypeError(f"A {type(value).__name__} is no plain data and cannot be kept as such.")


def from_plain(kind: type[_T], value: Any) -> _T:
    """The value of a type that :func:`to_plain` made plain data of.

    Raises
    ------
    ValueError
        When the data are not of that type.
    """
    try:
        return typing.cast(_T, reader_of(typing.cast(Any, kind))(value))
    except (KeyError, TypeError, AttributeError) as error:
        raise ValueError(f"These data are no {getattr(kind, '__name__', kind)}: {error}") from error


@cache
def field_kinds(record: type) -> Mapping[str, Any]:
    """The type of each field of a dataclass, in their order."""
    told = typing.get_type_hints(record)
    return {f.name: told[f.name] for f in fields(record)}


def without_none(kind: Any) -> tuple[Any, bool]:
    """A type, and whether None is allowed beside it."""
    if typing.get_origin(kind) in (typing.Union, types.UnionType):
        others = [k for k in typing.get_args(kind) if k is not types.NoneType]
        if len(others) == 1 and len(others) < len(typing.get_args(kind)):
            return others[0], True
        raise TypeError(f"{kind}: a field holds one type, and None at most beside it.")
    return kind, False


@cache
def reader_of(kind: Any, /) -> _Reader:
    """What makes a value of a type from plain data."""
    kind, optional = without_none(kind)
    read = _reader(kind)
    return (lambda value: None if value is None else read(value)) if optional else read


def _reader(kind: Any) -> _Reader:
    origin, parts = typing.get_origin(kind), typing.get_args(kind)
    if origin is tuple:
        return _tuple_reader(parts)
    if origin in (list, Sequence):
        one = reader_of(parts[0])
        return lambda values: [one(v) for v in values]
    if isinstance(origin, type) and issubclass(origin, Mapping):
        key, one = reader_of(parts[0]), reader_of(parts[1])
        return lambda values: {key(k): one(v) for k, v in values.items()}
    if kind in (Any, str, bool):
        return _as_it_is
    if kind in (int, float):
        return typing.cast(_Reader, kind)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return typing.cast(_Reader, kind)
    if isinstance(kind, type) and issubclass(kind, (date, datetime)):
        return kind.fromisoformat
    if hasattr(kind, "named"):
        return typing.cast(_Reader, kind.named)
    if is_dataclass(kind):
        return _record_reader(typing.cast(type, kind))
    raise TypeError(f"{kind} cannot be read from plain data.")


def _as_it_is(value: Any) -> Any:
    return value


def _tuple_reader(parts: tuple[Any, ...]) -> _Reader:
    if len(parts) == 2 and parts[1] is Ellipsis:
        one = reader_of(parts[0])
        return lambda values: tuple([one(v) for v in values])
    each = [reader_of(part) for part in parts]
    return lambda values: tuple([read(v) for read, v in zip(each, values, strict=True)])


def _record_reader(record: type) -> _Reader:
    readers = {name: reader_of(kind) for name, kind in field_kinds(record).items()}
    required = {f.name for f in fields(record) if f.default is MISSING and f.default_factory is MISSING}

    def read(told: Mapping[str, Any]) -> Any:
        missing = required - told.keys()
        if missing:
            raise KeyError(", ".join(sorted(missing)))
        return record(**{name: one(told[name]) for name, one in readers.items() if name in told})

    return read
