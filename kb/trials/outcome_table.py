"""Measured outcomes of growing two plants together, read from a CSV table.

One row a pair, study and design: the printed names, the yields in mixture over those alone
(partial land equivalent ratios), and their sum (LER). What is not as expected is an error with its
line; nothing is guessed or dropped.
"""

import csv
import math
from dataclasses import dataclass
from pathlib import Path

from kb.errors import BadFile

REQUIRED = ("species_a", "species_b", "study", "partial_ler_a", "partial_ler_b", "ler")
OPTIONAL = ("common_a", "common_b", "doi", "design", "n")


@dataclass(frozen=True, slots=True)
class OutcomeRow:
    """One row as printed; ratios are None where the cell is empty, ``line`` is its line in the file."""

    line: int
    species: tuple[str, str]
    common: tuple[str, str]
    study: str
    doi: str
    design: str
    partial_ler: tuple[float | None, float | None]
    ler: float | None


def read_outcomes(path: Path) -> tuple[OutcomeRow, ...]:
    """Every row of the table. Raises BadFile with the line of the first thing that is wrong."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as fault:
        raise BadFile(str(path), None, f"cannot be read ({fault.strerror})") from None
    except UnicodeDecodeError:
        raise BadFile(str(path), None, "is not UTF-8 text; save it as CSV in UTF-8") from None
    reader = csv.DictReader(text.splitlines(), restkey="beyond", strict=True)
    try:
        _check_header(path, reader.fieldnames)
        rows = tuple(_row(path, reader.line_num, cells) for cells in reader)
    except csv.Error as fault:
        raise BadFile(str(path), reader.line_num, f"is not CSV: {fault}") from None
    if not rows:
        raise BadFile(str(path), None, "holds no rows below its header")
    return rows


def _check_header(path: Path, header: object) -> None:
    names = list(header) if isinstance(header, list) else []
    missing = [name for name in REQUIRED if name not in names]
    if missing:
        raise BadFile(
            str(path), 1, f"lacks the columns {', '.join(missing)}; needed are {', '.join(REQUIRED)}"
        )
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise BadFile(str(path), 1, f"holds the columns {', '.join(twice)} more than once")


def _row(path: Path, line: int, cells: dict[str, str]) -> OutcomeRow:
    if "beyond" in cells:
        raise BadFile(str(path), line, "has more cells than the header has columns")
    if any(value is None for value in cells.values()):
        raise BadFile(str(path), line, "has fewer cells than the header has columns")
    for name in ("species_a", "species_b", "study"):
        if not cells[name].strip():
            raise BadFile(str(path), line, f"{name} is empty")
    return OutcomeRow(
        line=line,
        species=(cells["species_a"].strip(), cells["species_b"].strip()),
        common=(cells.get("common_a", "").strip(), cells.get("common_b", "").strip()),
        study=cells["study"].strip(),
        doi=cells.get("doi", "").strip(),
        design=cells.get("design", "").strip(),
        partial_ler=(_ratio(path, line, cells, "partial_ler_a"), _ratio(path, line, cells, "partial_ler_b")),
        ler=_ratio(path, line, cells, "ler"),
    )


def _ratio(path: Path, line: int, cells: dict[str, str], name: str) -> float | None:
    text = cells[name].strip()
    if not text:
        return None
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not math.isfinite(value) or value < 0:
        raise BadFile(str(path), line, f"{name} is '{text}'; give a ratio of 0 or more, or leave it empty")
    return value
