"""Promises of what several things that stand against a pair do to its place in a list."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.mixture.bodies.growth import tree_from_measure
from kb.mixture.limits import Limit, holds_of
from kb.mixture.lists.under import RINGS, plants_under
from kb.mixture.results import ORDER, Verdict
from kb.mixture.site import REFERENCE_SITE
from kb.mixture.stress import counted, held_by_counts, held_down, held_in_turn, one_in_turn, verdict_of
from kb.repository import open_repository

HELD = ("avoid", "poor", "workable")
SOUR = replace(REFERENCE_SITE, soil_ph=5.0)


def limit(of: str, kind: str, ceiling: Verdict) -> Limit:
    return Limit(kind=kind, of=of, text=f"{of} {kind}", records=(), ceiling=ceiling)  # type: ignore[arg-type]


@given(st.floats(0, 1), st.lists(st.sampled_from(HELD), max_size=5))
def test_the_word_is_that_of_the_hardest(stress: float, words: list[Verdict]) -> None:
    """However many things stand against a pair, the verdict is the worst of what it feels and of them."""
    holds = tuple(sorted(words, key=ORDER.index, reverse=True))

    found = one_in_turn(stress, holds)

    assert min([verdict_of(stress), *words], key=ORDER.index) == verdict_of(found)
    assert found == pytest.approx(float(held_in_turn(np.array([stress]), holds)[0]), abs=1e-15)
    assert found == pytest.approx(float(held_by_counts(np.array([stress]), counted([holds]))[0]), abs=1e-15)
    assert all(float(held_down(np.array(stress), word)) <= found + 1e-15 for word in holds)


@given(st.floats(0, 1), st.floats(0, 1), st.lists(st.sampled_from(HELD), max_size=4))
def test_what_feels_less_stands_no_lower(one: float, other: float, words: list[Verdict]) -> None:
    """Of two that the same things hold, the one that feels less comes first, or they are equal."""
    holds = tuple(sorted(words, key=ORDER.index, reverse=True))
    low, high = sorted((one, other))

    assert one_in_turn(low, holds) <= one_in_turn(high, holds)


def test_a_second_thing_shows_through_and_a_sixth_of_one_kind_does_not() -> None:
    """What is known of one plant's enemies, many or few, holds once: no price on a full record."""
    site = limit("tree", "ph", "workable")
    enemies = [limit("herb", "enemies", "workable") for _ in range(5)]

    alone, also, many = (holds_of(some) for some in ([site], [site, enemies[0]], [site, *enemies]))

    assert ("workable",) == alone
    assert ("workable", "workable") == also == many
    assert one_in_turn(0.1, alone) < one_in_turn(0.1, also) < 0.4


def test_on_acid_ground_plants_of_acid_ground_come_first_though_the_tree_itself_is_out_of_place() -> None:
    """Sweet cherry at pH 5 is to avoid, so is every row; what bears such ground and its winters still leads.

    Outside: reaction values of Ellenberg et al. (1991), 1 very acid to 9 lime, on record beside the pH by
    which is judged; and that frost kills cacao, coffee and pineapple (common knowledge).
    """
    snapshot = open_repository().snapshot()
    cherry = snapshot.profile("prunus-avium")
    tree, _ = tree_from_measure(cherry)
    others = [p for p in snapshot.profiles() if p.id != cherry.id]

    found = plants_under(
        cherry,
        tree,
        others,
        SOUR,
        rings=RINGS[2:3],
        sides=("N",),
        limit=20,
        draws=20,
        book=snapshot.enemy_book,
    )

    shown = [snapshot.profile(row.b) for row, _ in found[0].plants]
    assert {"avoid"} == {row.verdict for row, _ in found[0].plants}
    assert {"theobroma-cacao", "coffea-arabica", "ananas-comosus"}.isdisjoint(p.id for p in shown)
    classes = [p.reaction_class.likely for p in shown if p.reaction_class is not None]
    every = [p.reaction_class.likely for p in others if p.reaction_class is not None]
    assert np.mean(classes) <= np.mean(every) - 1
