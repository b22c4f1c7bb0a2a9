"""What is said of the crown edge where no distance was given, and the word of the ground nearer the trunk."""

from dataclasses import replace

from kb.mixture.answers.reasons import limiting
from kb.mixture.judging.findings import Findings
from kb.mixture.results import PairAnswer
from kb.mixture.sharing.place import HALFWAY
from kb.mixture.site import Arrangement, Tree


def nearer(tree: Tree) -> float:
    """How far from the trunk (m) the ground is whose word is told beside that of the crown edge."""
    return HALFWAY * tree.crown_radius_m


def beside(told: PairAnswer, arrangement: Arrangement, found: Findings) -> PairAnswer:
    """The answer at the crown edge, its saying with another word, which was found nearer the trunk.

    By the likely values: the word is what is compared.
    """
    if arrangement.tree is None or arrangement.distance_m is None:
        return told
    limit = limiting(found)
    why = "." if limit is None else f": {limit.text}"
    said = (
        f"That is said of the crown edge, {arrangement.distance_m:.1f} m from the trunk; halfway to it, at "
        f"{nearer(arrangement.tree):.1f} m, the word is {found.verdict}{why}"
    )
    return replace(told, saying=f"{told.saying} {said}")
