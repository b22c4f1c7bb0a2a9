"""What is said of the crown edge where no distance was given, and the word of the ground nearer the trunk."""

from dataclasses import replace

from kb.mixture.enemy_book import EnemyBook
from kb.mixture.other_trees import findings_of, judged_beneath
from kb.mixture.pair import found_under
from kb.mixture.place import HALFWAY
from kb.mixture.profile import Profile
from kb.mixture.reasons import limiting
from kb.mixture.results import PairAnswer
from kb.mixture.site import Arrangement, Site
from kb.mixture.subject import prepare_likely


def beside(
    tree: Profile,
    plant: Profile,
    site: Site,
    arrangement: Arrangement,
    told: PairAnswer,
    book: EnemyBook | None = None,
) -> PairAnswer:
    """The answer at the crown edge, its saying with the word halfway to the trunk where that differs.

    By the likely values: the word is what is compared.
    """
    if arrangement.tree is None or arrangement.distance_m is None:
        return told
    inside = replace(arrangement, distance_m=HALFWAY * arrangement.tree.crown_radius_m)
    sow, age = inside.sow_week_b, inside.age_b_years
    second = prepare_likely(plant, site, inside.given, sow_week=sow, age_years=age)
    beneath = judged_beneath(tree, second, site, inside, book)
    if beneath is not None and beneath.word == told.verdict:
        return told
    if beneath is None:
        found = found_under(tree, arrangement.tree, second, site, inside, book)
    else:
        found = findings_of(beneath, tree, second, site, inside, arrangement.tree)
    if found.verdict == told.verdict:
        return told
    limit = limiting(found)
    why = "." if limit is None else f": {limit.text}"
    said = (
        f"That is said of the crown edge, {arrangement.distance_m:.1f} m from the trunk; halfway to it, at "
        f"{inside.distance_m:.1f} m, the word is {found.verdict}{why}"
    )
    return replace(told, saying=f"{told.saying} {said}")
