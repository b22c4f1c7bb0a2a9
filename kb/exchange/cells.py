"""Cells of a table: values of our dataclasses as text, and back by the type of their field.

Lists stand in one cell with ``|`` between; a ``|`` or backslash inside an entry has a backslash before
it. An empty cell is "not there" (None, or an empty list). Nothing is rounded.
"""

import re
from collections.abc import Iterable
from dataclasses import fields
from datetime import date
from decimal import Decimal, InvalidOperation
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

SEPARATOR = "|"


class BadCell(ValueError):
    """One cell that cannot be read; ``str()`` says what is wrong, ``mend`` how to mend it."""

    def __init__(self, detail: str, mend: str) -> None:
        super().__init__(detail)
        self.mend = mend


def cell_of(value: object) -> str:
    """The value as a cell. Decimals have no exponent, dates are ISO 8601, pairs read ``key=value``."""
    if value is None:
        return ""
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        return joined("=".join(one) if isinstance(one, tuple) else str(one) for one in value)
    return str(value)


def joined(values: Iterable[str]) -> str:
    """Several texts in one cell."""
    return SEPARATOR.join(map(_guarded, values))


def _guarded(text: str) -> str:
    """The text with a backslash before what would be read otherwise: ``|``, backslash, outer space."""
    inner = text.strip()
    before, _, after = text.partition(inner) if inner else (text, "", "")
    kept = inner.replace("\\", "\\\\").replace(SEPARATOR, "\\|")
    return "".join(f"\\{c}" for c in before) + kept + "".join(f"\\{c}" for c in after)


def parted(cell: str) -> tuple[str, ...]:
    """The texts of one cell; spaces round the separator do not count.

    >>> parted("tree | shrub")
    ('tree', 'shrub')
    """
    if not cell.strip():
        return ()
    pieces = re.findall(r"\\.|\\$|[^\\]", cell, re.DOTALL)
    parts: list[list[str]] = [[]]
    for piece in pieces:
        if piece == SEPARATOR:
            parts.append([])
        else:
            parts[-1].append(piece)
    return tuple("".join(one.removeprefix("\\") or one for one in _trimmed(part)) for part in parts)


def _trimmed(pieces: list[str]) -> list[str]:
    """The pieces without unguarded space at either end."""
    filled = [place for place, piece in enumerate(pieces) if not piece.isspace()]
    return pieces[filled[0] : filled[-1] + 1] if filled else []


@cache
def hints_of(kind: type) -> dict[str, Any]:
    """The type of each field of a dataclass."""
    known = get_type_hints(kind)
    return {field.name: known[field.name] for field in fields(kind)}


def value_of(cell: str, hint: Any) -> Any:
    """The value that a cell holds, for a field of that type. Raises BadCell."""
    origin = get_origin(hint)
    if origin in {Union, UnionType}:
        if cell == "":
            return None
        return value_of(cell, next(one for one in get_args(hint) if one is not NoneType))
    if origin is tuple:
        return _several(cell, get_args(hint)[0])
    if cell == "":
        raise BadCell("is empty", "fill it in")
    if origin is Literal:
        allowed = get_args(hint)
        if cell not in allowed:
            raise BadCell(f"'{shortened(cell)}' is not known", f"write one of {', '.join(allowed)}")
        return cell
    hint = getattr(hint, "__supertype__", hint)
    return _READERS[hint](cell)


def _several(cell: str, one: Any) -> tuple[Any, ...]:
    if get_origin(one) is not tuple:
        return tuple(value_of(text, one) for text in parted(cell))
    pairs = []
    for text in parted(cell):
        key, equals, value = text.partition("=")
        if not equals or not key.strip():
            raise BadCell(f"'{shortened(text)}' is no pair", "write key=value, with | between several")
        pairs.append((key.strip(), value.strip()))
    return tuple(pairs)


def decimal(cell: str) -> Decimal:
    """An exact number as we write it: digits with a decimal point. Raises BadCell."""
    try:
        number = Decimal(cell)
    except InvalidOperation:
        number = Decimal("NaN")
    if not number.is_finite() or not re.fullmatch(r"[+-]?\d+(\.\d+)?", cell):
        raise BadCell(f"'{shortened(cell)}' is no number", "write digits with a decimal point, such as 0.45")
    return number


def whole(cell: str) -> int:
    """A whole number. Raises BadCell."""
    if not re.fullmatch(r"\d{1,9}", cell):
        raise BadCell(f"'{shortened(cell)}' is no whole number", "write digits only")
    return int(cell)


def day(cell: str) -> date:
    """A date as ISO 8601 has it. Raises BadCell."""
    try:
        return date.fromisoformat(cell)
    except ValueError:
        raise BadCell(
            f"'{shortened(cell)}' is no date of the form year-month-day", "write it like 2026-11-25"
        ) from None


def shortened(text: str, most: int = 60) -> str:
    """A cell as a message quotes it: on one line, not too long."""
    line = " ".join(text.split())
    return line if len(line) <= most else f"{line[:most]}..."


_READERS: dict[Any, Any] = {str: str, Decimal: decimal, int: whole, date: day}
