"""Whose loss of light is told."""

from dataclasses import replace

from kb.mixture.answers.pair import judge_pair
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from tests.mixture.profiles import SMALL_TREE, TALL_GRASS, about, invented

SUN = invented("sun", light_to_crop_zero=about(0.3), light_to_crop_full=about(0.95))


def test_shade_that_costs_something_is_always_among_the_reasons() -> None:
    """A loss in the table has its sentence: the reasons hold what tells most (common practice)."""
    answer = judge_pair(SMALL_TREE, SUN, REFERENCE_SITE, Arrangement("under", distance_m=0.8), draws=0)

    assert answer.loss[SUN.id].light >= 0.05
    assert any(reason.kind == "light" and SUN.name in reason.text for reason in answer.reasons)


def test_of_two_that_lose_alike_the_same_is_named_either_way() -> None:
    """A bed has no first plant (`computation-notes` 4): two of one build, asked in either order."""
    a, b = (replace(TALL_GRASS, id=name, name=name, genus=f"{name}-genus") for name in ("a", "b"))
    full = Arrangement(share_a=1.0, share_b=1.0)
    one, other = (judge_pair(first, second, Site(), full) for first, second in ((a, b), (b, a)))

    assert "Shade of b costs a" in one.saying
    assert one.saying == other.saying
