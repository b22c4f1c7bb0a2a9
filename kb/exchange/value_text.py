"""A record's value as one text for people and for tools that know one value a row."""

from kb.exchange.cells import cell_of
from kb.model import Record


def value_text(record: Record, *, window: bool) -> str:
    """The value in the unit of the trait: ``1.2-1.8``, ``0.6``, ``>= 0.6``, ``tree | shrub``.

    A window reads first week, last week; one that only begins or ends reads ``from 14`` or ``to 20``.
    The likely value stands in brackets where the ends do too.
    """
    if record.concepts:
        return " | ".join(record.concepts)
    low, likely, high = (cell_of(value) for value in (record.low, record.likely, record.high))
    if low and high:
        span = low if low == high else f"{low}-{high}"
        return f"{span} ({likely})" if likely else span
    return likely or _one_end(low, high, window=window, kind=record.number_kind)


def _one_end(low: str, high: str, *, window: bool, kind: str) -> str:
    if window:
        return f"from {low}" if low else f"to {high}"
    before = {"floor": ">= " if low else "", "ceiling": "<= " if high else ""}.get(kind, "")
    return f"{before}{low or high}"
