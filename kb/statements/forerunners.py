"""Forerunners that a published statement names against a crop, for one enemy in the ground.

That two crops stand on one list of hosts says little across families: the list of Verticillium wilt alone
crosses fourteen (`trade` 4.6). A source that advises against this crop after that one says more, and counts
for more. ``vocabulary/forerunners.csv`` has a row for every two with what its source prints; one that is
named by its family ("solanaceous crops") is listed for those of the family that are common crops.
"""

from functools import cache

from kb.statements.advised import Named, against, named_against

FILE = "forerunners.csv"


@cache
def forerunners() -> Named:
    """By enemy and crop: the forerunners advised against, each with who says so, in words."""
    return named_against(FILE, "first", "then")


def advised_against(enemy: str, plant: str) -> tuple[tuple[str, str], ...]:
    """The same for one enemy and one crop; a cultivar, group or stock is of its species."""
    return against(forerunners(), enemy, plant)
