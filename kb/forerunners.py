"""Forerunners that a published statement names against a crop, for one enemy in the ground.

That two crops stand on one list of hosts says little across families: the list of Verticillium wilt alone
crosses fourteen (`trade` 4.6). A source that advises against this crop after that one says more, and counts
for more. ``vocabulary/forerunners.csv`` has a row for every two with what its source prints; one that is
named by its family ("solanaceous crops") is listed for those of the family that are common crops.
"""

import csv
from functools import cache
from importlib.resources import files

from kb.errors import SourceFault

FILE = "forerunners.csv"
COLUMNS = ("enemy", "first", "then", "says", "source", "url", "locator", "verbatim")


@cache
def forerunners() -> dict[tuple[str, str], tuple[tuple[str, str], ...]]:
    """By enemy and crop: the forerunners advised against, each with who says so, in words."""
    found: dict[tuple[str, str], dict[str, str]] = {}
    with (files("kb") / "vocabulary" / FILE).open(encoding="utf-8") as text:
        reader = csv.DictReader(text, strict=True)
        if tuple(reader.fieldnames or ()) != COLUMNS:
            raise SourceFault(FILE, f"line 1: the columns must be {', '.join(COLUMNS)}")
        for row in reader:
            found.setdefault((row["enemy"], row["then"]), {})[row["first"]] = row["says"]
    return {key: tuple(sorted(named.items())) for key, named in found.items()}


def advised_against(enemy: str, plant: str) -> tuple[tuple[str, str], ...]:
    """The same for one enemy and one crop; a cultivar, group or stock is of its species."""
    return forerunners().get((enemy, plant.partition(".")[0]), ())
