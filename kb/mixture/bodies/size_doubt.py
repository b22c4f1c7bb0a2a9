"""A tree known by its age alone: whether the word hangs on how large it really is.

Trees of one kind and age differ, and kinds differ from their curve (`growth.PACE_LOG_SD`). Where nothing of
the tree was measured, it is judged again one standard deviation smaller and larger, by the likely values;
where another word comes out, the answer says so and is fairly sure at most.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp

from kb.mixture.altered import altered
from kb.mixture.bodies.growth import PACE_LOG_SD
from kb.mixture.results import ORDER, Verdict
from kb.mixture.site import Tree

BEYOND = 1 / 6
"""Share of trees beyond one standard deviation on one side: at least so many give the other word."""
SIZES = (("smaller", exp(-PACE_LOG_SD)), ("larger", exp(PACE_LOG_SD)))
EDGE_M = 1e-6
"""A plant so near the edge of the crown stands at it, and moves with it."""


@dataclass(frozen=True, slots=True)
class SizeDoubt:
    """The other words, worst first, and the share of trees for which the word told is too much to say."""

    words: tuple[Verdict, ...]
    share: float
    note: str


def other_sizes(tree: Tree | None, word: Verdict) -> dict[str, Tree]:
    """The sizes at which a tree is judged again, by what they are called; none where it was measured."""
    if tree is None or not tree.by_age or word == "like":
        return {}
    return {name: of_size(tree, times) for name, times in SIZES}


def size_doubt(tree: Tree | None, word: Verdict, found: Mapping[str, Verdict]) -> SizeDoubt | None:
    """What of the verdict hangs on the size of the tree, by the words at `other_sizes`; None for nothing."""
    other = {name: verdict for name, verdict in found.items() if verdict != word}
    if tree is None or not other:
        return None
    heights = {name: tree.height_m * times for name, times in SIZES}
    told = " and ".join(f"{verdict} if it is {heights[name]:.1f} m high" for name, verdict in other.items())
    note = (
        f"The size of the tree is told by age alone; measure it, since it decides: {word} at "
        f"{tree.height_m:.1f} m, {told}."
    )
    words = tuple(verdict for verdict in ORDER if verdict in other.values())
    return SizeDoubt(words, BEYOND * len(other), note)


def of_size(tree: Tree, times: float) -> Tree:
    """The same tree, larger or smaller in every length."""
    return altered(
        tree,
        height_m=tree.height_m * times,
        crown_radius_m=tree.crown_radius_m * times,
        crown_base_m=tree.crown_base_m * times,
        roots_80_m=None if tree.roots_80_m is None else tree.roots_80_m * times,
        ends_m=None if tree.ends_m is None else tree.ends_m * times,
    )


def moved_with(tree: Tree, other: Tree, distance_m: float | None) -> float | None:
    """How far from the other trunk (m) a plant stands: at the edge of the crown, where it stood there."""
    at_edge = distance_m is not None and abs(distance_m - tree.crown_radius_m) < EDGE_M
    return other.crown_radius_m if at_edge else distance_m
