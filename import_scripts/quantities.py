"""Printed values to numbers in canonical units: exact decimals, and weeks of the year."""

from calendar import monthrange
from datetime import date
from decimal import Decimal, InvalidOperation

MISSING = frozenset({"", "NA", "NaN", "na", "None", "-"})
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
YEAR = 2025
"""A year without a leap day: dates without a year are counted in it."""

METRES = {
    "m": Decimal(1),
    "cm": Decimal("0.01"),
    "mm": Decimal("0.001"),
    "ft": Decimal("0.3048"),
    "in": Decimal("0.0254"),
}
"""Exact factors (the international foot and inch of 1959)."""


def number(text: str) -> Decimal | None:
    """The printed number, exactly as printed; None where the cell says that there is none."""
    text = text.strip()
    if text in MISSING:
        return None
    try:
        value = Decimal(text)
    except InvalidOperation:
        return None
    return value if value.is_finite() else None


def metres(text: str, unit: str) -> Decimal | None:
    """A printed length in metres, by an exact factor."""
    value = number(text)
    return None if value is None else value * METRES[unit]


def rounded(value: Decimal, places: int) -> Decimal:
    """A number computed here, rounded half even to so many places."""
    return value.quantize(Decimal(1).scaleb(-places))


def week_of_day(day: Decimal) -> Decimal:
    """Day of year 1-365 to a week of 1-53: 1 January is 1.0, one week later 2.0 (one decimal)."""
    return rounded(1 + (day - 1) / 7, 1)


def week_of_date(month: int, day: int) -> Decimal:
    """A day and month to a week of 1-53."""
    return week_of_day(Decimal(date(YEAR, month, day).timetuple().tm_yday))


def month_start(month: int) -> Decimal:
    """The week in which a month (1-12) begins."""
    return week_of_date(month, 1)


def month_end(month: int) -> Decimal:
    """The week in which a month (1-12) ends."""
    return week_of_date(month, monthrange(YEAR, month)[1])
