"""Tables of ``vocabulary`` in which published statements name one plant against another, for one enemy."""

import csv
from importlib.resources import files

from kb.errors import SourceFault

Named = dict[tuple[str, str], tuple[tuple[str, str], ...]]
"""By enemy and crop: the plants that a source names against it, each with who says so, in words."""
SAID = ("says", "source", "url", "locator", "verbatim")


def named_against(file: str, other: str, crop: str) -> Named:
    """The rows of a table of the enemy, ``other``, ``crop`` and what `SAID` lists, in this order.

    Raises SourceFault where the columns are others.
    """
    columns = ("enemy", other, crop, *SAID)
    found: dict[tuple[str, str], dict[str, str]] = {}
    with (files("kb") / "vocabulary" / file).open(encoding="utf-8") as text:
        reader = csv.DictReader(text, strict=True)
        if tuple(reader.fieldnames or ()) != columns:
            raise SourceFault(file, f"line 1: the columns must be {', '.join(columns)}")
        for row in reader:
            found.setdefault((row["enemy"], row[crop]), {})[row[other]] = row["says"]
    return {key: tuple(sorted(named.items())) for key, named in found.items()}


def against(named: Named, enemy: str, plant: str) -> tuple[tuple[str, str], ...]:
    """Those of one enemy and one crop; a cultivar, group or stock is of its species."""
    return named.get((enemy, plant.partition(".")[0]), ())
