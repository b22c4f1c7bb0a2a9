"""Numbers as people type them: read where they can mean one thing only, refused with how to mend them."""

import re
from decimal import Decimal

from kb.errors import BadParameter
from kb.exchange.cells import BadCell, decimal, shortened
from kb.model import Trait
from kb.units import convert, unit

MONTH = r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*"
DATES = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        rf"{MONTH}[-. /]?\d{{1,4}}",
        rf"\d{{1,4}}[-. /]?{MONTH}(?:[-. /]?\d{{2,4}})?",
        r"\d{1,2}[./]\d{1,2}[./]\d{2,4}",
        r"\d{4}-\d{1,2}-\d{1,2}(?:[T ].*)?",
    )
)
COMMA = re.compile(r"[+-]?\d+,\d+")
WITH_UNIT = re.compile(r"[+-]?\d+(?:[.,]\d+)?\s*[^\d\s.,+-]+.*")
PRINTED = re.compile(r"([+-]?\d+(?:\.\d+)?)\s*([^\d\s]\S*)")
SPAN = re.compile(r"[+-]?\d+(?:[.,]\d+)?\s*(?:-|–|—|to|\.\.)\s*[+-]?\d+(?:[.,]\d+)?")


def is_month(cell: str) -> bool:
    """Whether a spreadsheet may have made this of a range: ``1-2`` becomes ``Jan-02`` or ``02. Jan``."""
    return any(pattern.fullmatch(cell.strip()) for pattern in DATES)


def number(cell: str, *, comma: bool = False) -> Decimal | None:
    """The number in a cell, None where it is empty. Raises BadCell.

    ``comma``: the whole file writes decimals with a comma; a point is then refused.
    """
    text = cell.strip()
    if not text:
        return None
    if is_month(text):
        raise BadCell(
            f"'{shortened(text)}' is a date; a spreadsheet makes one of a range such as 1-2",
            "set the column to text, and write the lower end in low and the upper in high",
        )
    if SPAN.fullmatch(text):
        raise BadCell(f"'{shortened(text)}' is a range", "write its lower end in low and its upper in high")
    if comma and COMMA.fullmatch(text):
        return decimal(text.replace(",", "."))
    if comma and "." in text:
        raise BadCell(
            f"'{shortened(text)}' has a decimal point in a file of decimal commas", "write one kind"
        )
    if "," in text:
        raise BadCell(
            f"'{shortened(text)}' has a comma, which may mean decimals or thousands",
            "write a decimal point and no separator of thousands, or say --decimal comma for the whole file",
        )
    if WITH_UNIT.fullmatch(text):
        raise BadCell(
            f"'{shortened(text)}' holds more than a number",
            "write the number alone, and its unit in the column unit",
        )
    return decimal(text)


def contradiction(printed: str, value: Decimal, given: str) -> str | None:
    """The unit that the printed words give this very number, where it is another than the one given.

    ``45 cm`` printed, with 45 in the column and m as its unit, was copied without its unit.
    """
    found = PRINTED.fullmatch(printed.strip())
    if found is None or Decimal(found[1]) != value:
        return None
    try:
        said, meant = unit(found[2]), unit(given)
    except BadParameter:
        return None
    return said.label if said.kind == meant.kind and said != meant else None


def to_unit_of(trait: Trait, value: Decimal, given: str) -> Decimal:
    """The value in the unit of its trait; ``given`` is the unit as printed. Raises BadCell."""
    label = trait.unit_label or ""
    if not given and label:
        raise BadCell("is empty", f"write the unit of the value ({label})")
    if given in {label, trait.unit}:
        return value
    if trait.unit is None:
        raise BadCell(f"'{shortened(given)}' is given for {trait.id}, which has no unit", "leave it empty")
    try:
        known = unit(given)
        if trait.kind != "number" or known.kind == "ratio":
            raise BadCell(f"'{shortened(given)}' is no unit of {trait.id}", f"write {label}")
        return convert(value, known.iri, trait.unit)
    except BadParameter:
        raise BadCell(
            f"'{shortened(given)}' is no unit of {trait.id}",
            f"write {label}, or a unit that can be turned into it",
        ) from None
