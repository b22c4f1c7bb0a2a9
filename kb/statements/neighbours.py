"""Neighbours that a published statement names against a crop, since they keep one of its enemies going.

That an enemy is serious on one plant and lives on the other says little: the other may hardly pass it on. A
source that asks to clear the one round the other says more, and counts for more, as it does of forerunners
(`kb.statements.forerunners`). ``vocabulary/neighbours.csv`` has a row for every two with what its source
prints; what a source names by its family or genus ("weeds in the mallow family") is listed for those of it
that it names as hosts.
"""

from functools import cache

from kb.statements.advised import Named, against, named_against

FILE = "neighbours.csv"


@cache
def neighbours() -> Named:
    """By enemy and crop: the neighbours that a source wants away, each with who says so, in words."""
    return named_against(FILE, "keeper", "crop")


def wanted_away(enemy: str, plant: str) -> tuple[tuple[str, str], ...]:
    """The same for one enemy and one crop; a cultivar, group or stock is of its species."""
    return against(neighbours(), enemy, plant)
