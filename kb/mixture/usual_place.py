"""What is said of the crown edge where no distance was given, and the word of the ground nearer the trunk."""

from dataclasses import replace

from kb.mixture.enemy_book import EnemyBook
from kb.mixture.pair import found_of, judge_first, prepare, word_of
from kb.mixture.place import HALFWAY, place_for
from kb.mixture.profile import Profile
from kb.mixture.reasons import limiting
from kb.mixture.results import PairAnswer
from kb.mixture.site import Arrangement, Site
from kb.mixture.subject import prepare_likely_tree


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
    place = place_for(tree, site, inside)
    first = prepare_likely_tree(tree, arrangement.tree, site, place.given)
    second = prepare(plant, place, sow_week=inside.sow_week_b, age_years=inside.age_b_years, draws=0)
    judged = judge_first(first, second, place, book)
    word = word_of(judged)
    if word == told.verdict:
        return told
    limit = limiting(found_of(first, second, place, judged))
    why = "." if limit is None else f": {limit.text}"
    said = (
        f"That is said of the crown edge, {arrangement.distance_m:.1f} m from the trunk; halfway to it, at "
        f"{inside.distance_m:.1f} m, the word is {word}{why}"
    )
    return replace(told, saying=f"{told.saying} {said}")
