"""Frozen dataclasses as plain lists and back, by their type hints: small and quick to read.

A dataclass becomes the list of its fields in order; tuples become lists, decimals and dates text.
Only what JSON can hold is ever read back, so a file cannot do anything but be wrong.
"""

from collections.abc import Callable
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, NewType, Union, get_args, get_origin, get_type_hints

Convert = Callable[[Any], Any]
_decimal = cache(Decimal)
_day = cache(date.fromisoformat)
PLAIN: dict[Any, Convert | None] = {**dict.fromkeys((str, int, float, bool)), Decimal: _decimal, date: _day}


def packed(value: Any) -> Any:
    """A value made of frozen dataclasses, tuples, decimals and dates as plain lists and text."""
    if is_dataclass(value):
        kind: Any = type(value)
        return [packed(getattr(value, name)) for name in _names(kind)]
    if isinstance(value, tuple):
        return [packed(entry) for entry in value]
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    return value


@cache
def _names(kind: Any) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))


@cache
def unpacker(kind: Any) -> Convert | None:
    """What turns the plain form of a type back; None where nothing needs to be done.

    Raises TypeError for a type it does not know, so that a new kind of field is noticed at once.
    """
    if isinstance(kind, NewType):
        return unpacker(kind.__supertype__)
    if kind in PLAIN:
        return PLAIN[kind]
    origin = Union if get_origin(kind) is UnionType else get_origin(kind)
    if origin in _MAKERS:
        return _MAKERS[origin](kind)
    if is_dataclass(kind):
        return _dataclass(kind)
    raise TypeError(f"{kind} cannot be kept as plain text")


def _optional(kind: Any) -> Convert | None:
    inner = [arg for arg in get_args(kind) if arg is not NoneType]
    if len(inner) != 1:
        raise TypeError(f"{kind} cannot be told apart in plain text")
    convert = unpacker(inner[0])
    if convert is None:
        return None
    return lambda value: None if value is None else convert(value)


def _tuple(kind: Any) -> Convert:
    parts = get_args(kind)
    if len(parts) == 2 and parts[1] is Ellipsis:
        convert = unpacker(parts[0])
        return tuple if convert is None else lambda value: tuple(map(convert, value))
    converts = [unpacker(part) for part in parts]
    if not any(converts):
        return tuple
    return lambda value: tuple(
        entry if convert is None else convert(entry) for convert, entry in zip(converts, value, strict=True)
    )


def _dataclass(kind: Any) -> Convert:
    hints = get_type_hints(kind)
    converts = [
        (place, convert)
        for place, name in enumerate(_names(kind))
        if (convert := unpacker(hints[name])) is not None
    ]

    def build(row: Any) -> Any:
        for place, convert in converts:
            row[place] = convert(row[place])
        return kind(*row)

    return build


_MAKERS: dict[Any, Callable[[Any], Convert | None]] = {
    Literal: lambda _: None,
    Union: _optional,
    tuple: _tuple,
}
