"""Properties of whole plantings over random invented plants (`computation-notes` 4, Tests)."""

from collections.abc import Sequence
from dataclasses import asdict, replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture.answers.judgement import judge_planting
from kb.mixture.answers.pair import judge_pair
from kb.mixture.judging.gets import BANDS_M
from kb.mixture.judging.planting import Member, Overhead, Planting, stand_of
from kb.mixture.profile import Profile
from kb.mixture.results import PairAnswer, PlantingAnswer
from kb.mixture.sharing.place import open_soil
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site, Tree
from tests.mixture.planted import got, together
from tests.mixture.profiles import SMALL_TREE, invented, profiles, sites, trees

SHARES = st.floats(0.05, 0.9)


@st.composite
def plantings(draw: st.DrawFn, least: int = 2, most: int = 5) -> Planting:
    """Any two to five legal plants on any shares of one bed."""
    count = draw(st.integers(least, most))
    return together(*((draw(profiles(f"p{i}")), draw(SHARES)) for i in range(count)), site=draw(sites()))


def assert_alike(one: PlantingAnswer, other: PlantingAnswer) -> None:
    """Every number alike to rounding."""
    assert asdict(one.score) == pytest.approx(asdict(other.score), abs=1e-6)
    assert [m.name for m in one.members] == [m.name for m in other.members]
    for left, right in zip(one.members, other.members, strict=True):
        assert asdict(left.loss) == pytest.approx(asdict(right.loss), abs=1e-9)
    assert one.conditions == other.conditions


@given(planting=plantings(), data=st.data())
@settings(max_examples=15, deadline=None)
def test_order_never_matters(planting: Planting, data: st.DataObject) -> None:
    """Named in any order, a planting has the same answer, to the last digit and word."""
    shuffled = data.draw(st.permutations(planting.members))

    assert judge_planting(planting) == judge_planting(replace(planting, members=tuple(shuffled)))


@given(planting=plantings(), part=st.floats(0.05, 0.95))
@settings(max_examples=15, deadline=None)
def test_splitting_a_plant_changes_nothing(planting: Planting, part: float) -> None:
    """A plant named in two parts is the one plant: nothing depends on how it was written down."""
    first, *rest = planting.members
    parts = (replace(first, share=first.share * part), replace(first, share=first.share * (1 - part)))

    whole, parted = judge_planting(planting), judge_planting(replace(planting, members=(*parts, *rest)))

    assert (whole.verdict, whole.saying) == (parted.verdict, parted.saying)
    assert_alike(whole, parted)


@given(planting=plantings(least=2, most=5))
@settings(max_examples=25, deadline=None)
def test_adding_a_plant_never_raises_what_another_gets(planting: Planting) -> None:
    """Shares held, one more plant leaves no other more of its light or of any root layer."""
    all_of_them, ids = got(planting)
    fewer, those = got(replace(planting, members=planting.members[:-1]))

    for place, plant in enumerate(those):
        here = ids.index(plant)
        lit = np.isfinite(fewer.light[place])
        assert np.all(all_of_them.light[here][lit] <= fewer.light[place][lit] + 1e-9)
        assert np.all(all_of_them.taken[here] <= fewer.taken[place] * (1 + 1e-9) + 1e-12)


@given(planting=plantings())
@settings(max_examples=25, deadline=None)
def test_no_more_is_taken_than_the_ground_gives(planting: Planting) -> None:
    """In every layer the plants together take no more water than there is, and none more than it asks."""
    shares, _ = got(planting)
    supply = open_soil(planting.site, fine=True, given=frozenset())
    tops = np.append(BANDS_M, np.inf)
    within = [
        float(supply.water[(supply.edges[1:] > top) & (supply.edges[:-1] < end)].sum())
        for top, end in pairwise(tops)
    ]

    assert np.all(shares.taken.sum(axis=0) <= np.array(within) * (1 + 1e-9) + 1e-12)
    assert np.all(shares.taken <= shares.asked * (1 + 1e-9))
    assert np.all(shares.light[np.isfinite(shares.light)] <= 1 + 1e-9)


@given(plant=profiles("clone"), parts=st.lists(st.floats(0.1, 1), min_size=2, max_size=5), site=sites())
@settings(max_examples=25, deadline=None)
def test_clones_that_fill_the_ground_lose_nothing(plant: Profile, parts: Sequence[float], site: Site) -> None:
    """Cultivars alike in every trait, on shares that sum to 1, each get what a stand of their own would."""
    total = sum(parts)
    clones = [(replace(plant, id=f"clone.cv-{i}"), part / total) for i, part in enumerate(parts)]
    judged = stand_of(together(*clones, site=site), draws=0).judged

    assert pytest.approx(0.0, abs=1e-9) == float(judged.felt.roots[0].max())
    grows = clones[0][0].activity.evergreen or float(judged.felt.light[0].max()) < 1
    if grows and site.open_light == 1:
        assert pytest.approx(0.0, abs=1e-9) == float(judged.felt.light[0].max())


def assert_agrees(planting: PlantingAnswer, pair: PairAnswer) -> None:
    """A planting of two says of them what the pair says; sums may run in two orders."""
    assert asdict(pair.score) == pytest.approx(asdict(planting.score), abs=1e-9)
    assert pair.sureness == planting.sureness
    assert set(pair.conditions) == set(planting.conditions)
    losses = {m.name: m.loss for m in planting.members}
    assert {k: asdict(v) for k, v in pair.loss.items()} == {
        k: pytest.approx(asdict(losses[k]), abs=1e-12) for k in losses
    }
    assert (pair.limiting is None) == (planting.limiting is None)
    if pair.limiting is not None and planting.limiting is not None and pair.limiting.kind != "enemies":
        assert (pair.limiting.of, pair.limiting.kind) == (planting.limiting.of, planting.limiting.kind)
    if planting.worst_pair is not None:
        assert planting.worst_pair.verdict == pair.verdict
        assert planting.worst_pair.score == pytest.approx(pair.score.likely, abs=1e-9)


@given(a=profiles("a"), b=profiles("b"), site=sites(), shares=st.tuples(SHARES, SHARES))
@settings(max_examples=25, deadline=None)
def test_a_pair_is_the_planting_of_two(
    a: Profile, b: Profile, site: Site, shares: tuple[float, float]
) -> None:
    """Two in a bed: verdict, score, losses, sureness and conditions are those of the pair."""
    pair = judge_pair(a, b, site, Arrangement(share_a=shares[0], share_b=shares[1]))

    planting = judge_planting(together((a, shares[0]), (b, shares[1]), site=site))

    assert pair.verdict == planting.verdict
    assert_agrees(planting, pair)


@given(tree=trees(), b=profiles("b"), distance_m=st.floats(0.1, 20), share=SHARES)
@settings(max_examples=20, deadline=None)
def test_a_pair_under_a_tree_is_a_planting_of_two(
    tree: Tree, b: Profile, distance_m: float, share: float
) -> None:
    """The same under any tree, at any distance."""
    arrangement = Arrangement("under", tree=tree, distance_m=distance_m, share_b=share)
    planting = Planting(
        (Member(b, share, distance_m=distance_m),), REFERENCE_SITE, overhead=Overhead(SMALL_TREE, tree)
    )

    pair, judged = judge_pair(SMALL_TREE, b, REFERENCE_SITE, arrangement), judge_planting(planting)

    assert pair.verdict == judged.verdict
    assert_agrees(judged, pair)


def test_the_smallest_and_the_largest_planting() -> None:
    """One plant alone gains and loses nothing; 200 kinds get an answer whose every number is one."""
    one = judge_planting(together((invented("only"), 0.7)))
    many = judge_planting(together(*((invented(f"p{i}-x"), 0.005) for i in range(200))))

    assert ("like", ()) == (one.verdict, one.pairs)
    assert 0 == one.members[0].loss.all
    assert 200 == len(many.members)
    assert all(np.isfinite(list(asdict(m.loss).values())).all() for m in many.members)
    assert many.worst_pair is not None
    assert any("200 kinds" in note for note in many.notes)
