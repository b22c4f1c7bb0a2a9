"""Woody crowns that want one space, and shrubs that a young tree leaves below it."""

from kb.mixture.answers.pair import judge_pair
from kb.mixture.bodies.growth import tree_from_measure
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.base import base, shipped
from tests.mixture.meetings import under
from tests.mixture.profiles import SMALL_TREE, chosen, woody


def beside_young(
    tree: str, shrub: str, distance_m: float, *, height_m: float, years: float | None = 6.0
) -> PairAnswer:
    """A shrub of the same age beside a tree of this height, its crown a third as wide to each side."""
    profile = shipped(tree)
    standing, _ = tree_from_measure(
        profile, height_m=height_m, crown_radius_m=0.35 * height_m, age_years=years
    )
    asked = Arrangement(setting="under", tree=standing, distance_m=distance_m, age_b_years=6.0)
    return judge_pair(profile, shipped(shrub), REFERENCE_SITE, asked, book=base().enemy_book, draws=0)


def text_of(answer: PairAnswer) -> str:
    """All reasons in one text."""
    return " ".join(reason.text for reason in answer.reasons)


def test_two_crowns_do_not_fill_one_space() -> None:
    """A second tree planted into a crown is to avoid; beyond both crowns it is not."""
    second = woody("second", height_m=5.0, family=chosen("Otheraceae"))

    assert under(SMALL_TREE, second, 2.0).verdict == "avoid"
    assert under(SMALL_TREE, second, 6.0).verdict != "avoid"


def test_a_nurse_shrub_beside_a_young_timber_tree_is_outgrown() -> None:
    """Black walnut with autumn olive 8 feet away in the row grew best of the mixtures.

    Southern Illinois, ages 14 and 18 (Northern Journal of Applied Forestry 6: 129-132, 1989, abstract); in
    other plots walnut was by far the largest with it (Canadian Journal of Forest Research 14: 864-868, 1984,
    abstract). It has to be kept off the tree until then (common practice).
    """
    answer = beside_young("juglans-nigra", "elaeagnus-umbellata", 2.44, height_m=4.0)

    assert answer.verdict == "workable"
    assert "cut it back" in text_of(answer)
    assert {reason.kind for reason in answer.benefits} >= {"nitrogen"}


def test_it_has_to_stand_beside_the_crown_of_a_tree_that_is_ahead_and_ends_far_above() -> None:
    """Judgement: under its crown, above it, or beside a tree that stays low, two crowns want one space."""
    nurse, walnut = "elaeagnus-umbellata", "juglans-nigra"

    assert beside_young(walnut, nurse, 1.0, height_m=4.0).verdict == "avoid", "beneath the crown"
    assert beside_young(walnut, nurse, 2.44, height_m=2.5).verdict == "avoid", "the shrub is taller"
    assert beside_young(walnut, nurse, 2.44, height_m=4.0, years=None).verdict == "avoid", "a small old tree"
    assert beside_young("prunus-persica", nurse, 2.44, height_m=4.0).verdict == "avoid", "peach stays low"


def test_a_bamboo_is_no_herb_beneath_a_tree() -> None:
    """Its culms stand all year and overtop hazel and apple; a grass of meadows is in nobody's crown.

    Moso bamboo has culms of 4 to 20 m and more, cocksfoot of 0.3 to 1.4 m (grass floras, from memory).
    """
    hazel, _ = tree_from_measure(shipped("corylus-avellana"))
    beneath = Arrangement(setting="under", tree=hazel, distance_m=1.5)

    found = {
        name: judge_pair(
            shipped("corylus-avellana"),
            shipped(name),
            REFERENCE_SITE,
            beneath,
            book=base().enemy_book,
            draws=0,
        )
        for name in ("phyllostachys-edulis", "phyllostachys-nigra", "dactylis-glomerata")
    }

    assert {"avoid"} == {found[name].verdict for name in ("phyllostachys-edulis", "phyllostachys-nigra")}
    assert "two crowns cannot fill one space" in text_of(found["phyllostachys-nigra"])
    assert "two crowns" not in text_of(found["dactylis-glomerata"])
