"""Promises of the ranked list."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture.answers.pair import answer, judge, judge_pair, prepare, prepare_first, rank_of
from kb.mixture.lists.candidates import rank_candidates
from kb.mixture.profile import Profile, Span
from kb.mixture.sharing.place import place_for
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.profiles import (
    BULB,
    CLIMBER,
    COVER,
    SMALL_TREE,
    SMALL_TREE_HERE,
    SPRING_BULB,
    TALL_GRASS,
    TAPROOT,
    about,
    chosen,
    invented,
    lasting,
    profiles,
)

HALVES = Arrangement(share_a=0.5, share_b=0.5)
SOUR = lasting("sour", soil_ph=Span(3.5, 4.5, "cited"))
KIN = invented("kin", family=chosen("Taprootaceae"))
SHADE = lasting("shade", height_m=about(2.5), leaf_area_index=about(6))
OTHERS = (SOUR, KIN, SHADE, BULB, TALL_GRASS, CLIMBER, SPRING_BULB, COVER)


def test_the_order_is_by_the_cautious_score_with_conflicts_last() -> None:
    """Best first; whatever is to avoid stands below everything that is not."""
    ranked = rank_candidates(TAPROOT, OTHERS, REFERENCE_SITE, HALVES)
    place = place_for(TAPROOT, REFERENCE_SITE, HALVES)
    first = prepare_first(TAPROOT, place, HALVES, draws=60)
    plants = {other.id: other for other in OTHERS}
    order = [
        (row.verdict == "avoid", -judge(first, prepare(plants[row.b], place), place).cautious)
        for row in ranked
    ]

    assert sorted(order) == order
    assert ranked[-1].b in {"sour", "climber"}
    assert {row.b for row in ranked} == set(plants)


def test_each_row_is_the_answer_on_that_pair() -> None:
    """The list says nothing else than the pair asked by itself, in a bed, a hedge and under a tree."""
    tree = Arrangement("under", tree=SMALL_TREE_HERE, distance_m=1.5, side="N")
    hedge = Arrangement("hedge", share_a=0.5, share_b=0.5, kept_m=1.5)
    for subject, arrangement in ((TAPROOT, HALVES), (SHADE, hedge), (SMALL_TREE, tree)):
        ranked = rank_candidates(subject, OTHERS, REFERENCE_SITE, arrangement)
        plants = {other.id: other for other in OTHERS}
        for row in ranked:
            assert judge_pair(subject, plants[row.b], REFERENCE_SITE, arrangement) == row


def test_equals_stand_in_the_order_of_their_ids() -> None:
    """The order does not depend on how the plants were handed in."""
    same = [replace(BULB, id=name) for name in ("c", "a", "b")]

    forward = rank_candidates(TAPROOT, same, REFERENCE_SITE, HALVES)
    backward = rank_candidates(TAPROOT, same[::-1], REFERENCE_SITE, HALVES)

    assert [row.b for row in forward] == ["a", "b", "c"] == [row.b for row in backward]


def test_like_with_like_stands_in_the_middle() -> None:
    """A twin is neither the best neighbour nor one to avoid."""
    twin = replace(TAPROOT, id="taproot.early-group")
    ranked = rank_candidates(TAPROOT, (SOUR, twin, BULB), REFERENCE_SITE, HALVES)

    assert [row.b for row in ranked] == ["bulb", "taproot.early-group", "sour"]


def test_a_plant_of_unknown_roots_does_not_pass_its_known_twin() -> None:
    """Of two plants alike in all that is likely, the better known one comes first."""
    known = invented("zz-known", root_d95_m=about(0.8), root_d50_m=about(0.2))
    vague = replace(known, id="aa-vague", root_d95_m=about(0.8, "genus"), root_d50_m=about(0.2, "form"))
    tight = replace(HALVES, share_a=0.9, share_b=0.9)

    ranked = rank_candidates(TAPROOT, (vague, known), REFERENCE_SITE, tight)

    assert [row.b for row in ranked] == ["zz-known", "aa-vague"]


def test_no_candidates_no_answers() -> None:
    """An empty list is answered with an empty list."""
    assert tuple(rank_candidates(TAPROOT, (), REFERENCE_SITE, HALVES)) == ()


@given(
    st.lists(profiles(), min_size=1, max_size=6),
    st.integers(1, 6),
    st.booleans(),
)
@settings(max_examples=25, deadline=None)
def test_looking_only_as_far_as_asked_changes_nothing(
    others: list[Profile], count: int, beneath: bool
) -> None:
    """The first rows, whoever is left out by the bound, are those of every pair judged in full."""
    tree = Arrangement("under", tree=SMALL_TREE_HERE, distance_m=1.5, side="N")
    subject, arrangement = (SMALL_TREE, tree) if beneath else (TAPROOT, HALVES)
    others = [*(replace(other, id=f"p{i}") for i, other in enumerate(others)), replace(TAPROOT, id="twin")]
    place = place_for(subject, REFERENCE_SITE, arrangement)
    first = prepare_first(subject, place, arrangement, draws=60)
    rows = []
    for other in others:
        second = prepare(other, place)
        judged = judge(first, second, place)
        row = answer(first, second, place, judged)
        rows.append((rank_of(row.b, judged), row))
    expected = [row for _, row in sorted(rows, key=lambda entry: entry[0])]

    assert expected[:count] == list(rank_candidates(subject, others, REFERENCE_SITE, arrangement)[:count])
    assert expected == list(rank_candidates(subject, others, REFERENCE_SITE, arrangement))
