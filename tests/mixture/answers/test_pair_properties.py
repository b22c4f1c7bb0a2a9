"""Properties of the answer on two plants, over random invented ones.

They are those of `trade` 4.16 as `computation-notes` 4 corrects it.
"""

import math
from dataclasses import asdict, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture.answers.pair import judge, judge_pair, prepare, prepare_first
from kb.mixture.profile import Profile
from kb.mixture.sharing.place import place_for
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site, Tree
from tests.mixture.judged import bed, under
from tests.mixture.profiles import (
    SMALL_TREE,
    SMALL_TREE_HERE,
    about,
    invented,
    profiles,
    sites,
    trees,
)


def numbers(value: Any) -> list[float]:
    """Every number in an answer."""
    if isinstance(value, dict):
        return [number for part in value.values() for number in numbers(part)]
    if isinstance(value, list | tuple):
        return [number for part in value for number in numbers(part)]
    return [float(value)] if isinstance(value, int | float) and not isinstance(value, bool) else []


def cautious(a: Profile, b: Profile, site: Site, arrangement: Arrangement) -> float:
    place = place_for(a, site, arrangement)
    return judge(prepare_first(a, place, arrangement, draws=60), prepare(b, place), place).cautious


@given(a=profiles("a"), b=profiles("b"), site=sites())
@settings(max_examples=40, deadline=None)
def test_the_order_of_the_two_does_not_matter_in_a_bed(a: Profile, b: Profile, site: Site) -> None:
    """Asked the other way round, a bed gives the mirror of the answer, to the last word."""
    one, other = bed(a, b, site), bed(b, a, site)

    assert one.verdict == other.verdict
    assert {key: asdict(loss) for key, loss in one.loss.items()} == {
        key: pytest.approx(asdict(loss), abs=1e-9) for key, loss in other.loss.items()
    }
    assert asdict(one.score) == pytest.approx(asdict(other.score), abs=1e-9)
    assert one.saying == other.saying
    assert (one.conditions, one.suppressed, one.limiting) == (
        other.conditions,
        other.suppressed,
        other.limiting,
    )


@given(
    a=profiles("a"), b=profiles("b"), site=sites(), shares=st.tuples(st.floats(0.01, 1), st.floats(0.01, 1))
)
@settings(max_examples=40, deadline=None)
def test_legal_extremes_never_give_a_number_that_is_none(
    a: Profile, b: Profile, site: Site, shares: tuple[float, float]
) -> None:
    """Losses stay in 0-1 and scores in 0-100, and none is NaN, whatever legal plants stand there."""
    answer = judge_pair(a, b, site, Arrangement(share_a=shares[0], share_b=shares[1]))

    assert all(math.isfinite(number) for number in numbers(asdict(answer)))
    assert all(0 <= part <= 1 for loss in answer.loss.values() for part in asdict(loss).values())
    assert 0 <= answer.score.low <= answer.score.likely <= answer.score.high <= 100


@given(tree=trees(), b=profiles("b"), site=sites(), distance_m=st.floats(0, 40))
@settings(max_examples=40, deadline=None)
def test_legal_extremes_under_a_tree(tree: Tree, b: Profile, site: Site, distance_m: float) -> None:
    """The same under any tree that can stand, at any distance."""
    arrangement = Arrangement("under", tree=tree, distance_m=distance_m)
    answer = judge_pair(SMALL_TREE, b, site, arrangement)

    assert all(math.isfinite(number) for number in numbers(asdict(answer)))
    assert all(0 <= part <= 1 for loss in answer.loss.values() for part in asdict(loss).values())


@given(
    d95=st.floats(0.1, 2.5),
    ratio=st.floats(2, 6),
    other=st.floats(0.1, 2.5),
    origin=st.sampled_from(["form", "genus"]),
)
@settings(max_examples=60, deadline=None)
def test_an_unknown_root_depth_never_climbs(d95: float, ratio: float, other: float, origin: Any) -> None:
    """Take away what is known of a root depth, and the score that ranks never rises (`trade` 4.14)."""
    known = invented("a", root_d95_m=about(d95), root_d50_m=about(d95 / ratio))
    unknown = replace(known, root_d95_m=about(d95, origin), root_d50_m=about(d95 / ratio, origin))
    b = invented("b", root_d95_m=about(other), root_d50_m=about(other / 4))
    arrangement = Arrangement(share_a=0.6, share_b=0.6)

    before = cautious(known, b, REFERENCE_SITE, arrangement)
    assert cautious(unknown, b, REFERENCE_SITE, arrangement) <= before + 1e-9


@given(d95=st.floats(0.1, 2.5), other=st.floats(0.1, 2.5), times=st.floats(1.05, 2))
@settings(max_examples=40, deadline=None)
def test_an_unknown_root_depth_never_betters_the_word(d95: float, other: float, times: float) -> None:
    """However well a depth was known, not knowing it betters no verdict.

    The score that ranks rises by less than 1.5 points, and by none where the record was good to a
    quarter (above).
    """
    known = invented("a", root_d95_m=about(d95, times=times), root_d50_m=about(d95 / 4, times=times))
    unknown = replace(known, root_d95_m=about(d95, "form"), root_d50_m=about(d95 / 4, "form"))
    b = invented("b", root_d95_m=about(other), root_d50_m=about(other / 4))
    arrangement = Arrangement(share_a=0.7, share_b=0.7)
    words = ["avoid", "poor", "workable", "good"]

    with_it, without = (judge_pair(plant, b, REFERENCE_SITE, arrangement) for plant in (known, unknown))

    assert words.index(without.verdict) <= words.index(with_it.verdict)
    before = cautious(known, b, REFERENCE_SITE, arrangement)
    assert cautious(unknown, b, REFERENCE_SITE, arrangement) < before + 1.5


@given(near=st.floats(0.5, 3), step=st.floats(0, 3), seed=profiles("b"))
@settings(max_examples=40, deadline=None)
def test_farther_from_the_trunk_roots_never_cost_more(near: float, step: float, seed: Profile) -> None:
    """Beyond half a crown radius, a plant loses no more to the tree's roots the farther it stands."""
    radius = SMALL_TREE_HERE.crown_radius_m
    losses = [under(seed, x * radius).loss["b"].roots for x in (near, near + step)]

    assert losses[1] <= losses[0] + 1e-6  # below it is what sums in another order leave
