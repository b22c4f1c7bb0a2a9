"""Kin that a published statement says seldom trouble each other: there the family rule is wrong.

`trade` 4.6 asks for the list in both directions. Strangers that share an enemy all the same are on the lists
of named enemies (Verticillium wilt crosses fourteen families) and need no entry here; kin that seldom trouble
each other stand in ``vocabulary/kin-exceptions.csv``, a row for every two species with what its source prints
of their pests or diseases. That they are planted together is no such statement.
"""

import csv
from functools import cache
from importlib.resources import files

from kb.errors import SourceFault

FILE = "kin-exceptions.csv"
COLUMNS = ("one", "other", "says", "source", "url", "locator", "verbatim")


@cache
def kin_exceptions() -> dict[str, tuple[tuple[str, str], ...]]:
    """By species: the kin that the rule is wrong of, each with why, in words that name the source."""
    found: dict[str, dict[str, str]] = {}
    with (files("kb") / "vocabulary" / FILE).open(encoding="utf-8") as text:
        reader = csv.DictReader(text, strict=True)
        if tuple(reader.fieldnames or ()) != COLUMNS:
            raise SourceFault(FILE, f"line 1: the columns must be {', '.join(COLUMNS)}")
        for row in reader:
            for one, other in ((row["one"], row["other"]), (row["other"], row["one"])):
                found.setdefault(one, {})[other] = row["says"]
    return {plant: tuple(sorted(kin.items())) for plant, kin in found.items()}


def apart_from(plant: str) -> tuple[tuple[str, str], ...]:
    """The same for one plant; a cultivar, group or stock is of its species."""
    return kin_exceptions().get(plant.partition(".")[0], ())
