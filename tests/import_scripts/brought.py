"""What the tests of bringing in share: an invented store, and rows for it."""

import csv
import io
from datetime import date
from pathlib import Path
from typing import Any

from import_scripts.exchange.bring import Wishes, bring_archive, bring_csv
from import_scripts.exchange.gathered import Brought
from kb.repository import Repository
from tests.kb.invented import PLANT

DAY = date(2026, 11, 26)
ROW = {
    "plant": PLANT.id,
    "trait": "mature-height",
    "low": "",
    "likely": "4.5",
    "high": "",
    "concept": "",
    "unit": "m",
    "number_kind": "single",
    "conditions": "age=10 years",
    "verbatim": "4.5 m high",
    "name_as_printed": "Inventa exemplaris",
    "source": "invented-book",
    "locator": "p. 7",
    "basis": "read-in-source",
}
"""One sound row of an invented plant."""


def table(*rows: dict[str, str], delimiter: str = ",", without: str = "") -> str:
    """Give a table of rows, each ``ROW`` with some cells changed."""
    whole = [{**ROW, **row} for row in rows]
    columns = [name for name in dict.fromkeys(name for row in whole for name in row) if name != without]
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, columns, delimiter=delimiter, extrasaction="ignore")
    writer.writeheader()
    writer.writerows(whole)
    return text.getvalue()


def brought(path: Path, content: str | bytes, store: Repository, **wishes: Any) -> Brought:
    """Write a table and bring it in."""
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    read = bring_archive if path.suffix == ".zip" else bring_csv
    return read(path, store, DAY, Wishes(**wishes))[0]


def told(report: Brought) -> list[str]:
    """Give the refusals of a report, one text each."""
    return [f"{one.row}: {one.reason}; {one.mend}" for one in (*report.refused, *report.unmatched)]
