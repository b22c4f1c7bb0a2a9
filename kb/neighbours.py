"""Neighbours that a published statement names against a crop, since they keep one of its enemies going.

That an enemy is serious on one plant and lives on the other says little: the other may hardly pass it on. A
source that asks to clear the one round the other says more, and counts for more, as it does of forerunners
(`kb.forerunners`). ``vocabulary/neighbours.csv`` has a row for every two with what its source prints; what a
source names by its family or genus ("weeds in the mallow family") is listed for those of it that it names as
hosts.
"""

import csv
from functools import cache
from importlib.resources import files

from kb.errors import SourceFault

FILE = "neighbours.csv"
COLUMNS = ("enemy", "keeper", "crop", "says", "source", "url", "locator", "verbatim")


@cache
def neighbours() -> dict[tuple[str, str], tuple[tuple[str, str], ...]]:
    """By enemy and crop: the neighbours that a source wants away, each with who says so, in words."""
    found: dict[tuple[str, str], dict[str, str]] = {}
    with (files("kb") / "vocabulary" / FILE).open(encoding="utf-8") as text:
        reader = csv.DictReader(text, strict=True)
        if tuple(reader.fieldnames or ()) != COLUMNS:
            raise SourceFault(FILE, f"line 1: the columns must be {', '.join(COLUMNS)}")
        for row in reader:
            found.setdefault((row["enemy"], row["crop"]), {})[row["keeper"]] = row["says"]
    return {key: tuple(sorted(named.items())) for key, named in found.items()}


def wanted_away(enemy: str, plant: str) -> tuple[tuple[str, str], ...]:
    """The same for one enemy and one crop; a cultivar, group or stock is of its species."""
    return neighbours().get((enemy, plant.partition(".")[0]), ())
