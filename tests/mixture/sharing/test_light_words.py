"""Whose doing a loss of light is: a neighbour's, the place's, or both (design: the right reason first)."""

from dataclasses import replace

import pytest

from kb.mixture.answers.judgement import judge_planting
from kb.mixture.answers.pair import judge_pair
from kb.mixture.judging.planting import Member, Planting
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.base import shipped

DIM = replace(REFERENCE_SITE, open_light=0.4)
HALVES = Arrangement(setting="bed", share_a=0.5, share_b=0.5, sow_week_a=16, sow_week_b=16)


def test_a_dim_place_is_not_laid_to_the_neighbour() -> None:
    """Two leaf crops of one height hardly shade each other: the place costs them light (common practice)."""
    said = judge_pair(shipped("lettuce"), shipped("spinach"), DIM, HALVES)

    assert said.limiting is not None
    assert said.limiting.text.startswith("The light of this place, about 40 % of that in the open, costs ")
    assert "Shade of" not in said.limiting.text


def test_in_the_open_the_neighbour_is_named_as_before() -> None:
    """Tall maize over lettuce in full sun: the shade is the maize's."""
    said = judge_pair(shipped("maize"), shipped("lettuce"), REFERENCE_SITE, HALVES)
    texts = " ".join(reason.text for reason in said.reasons)

    assert "of this place" not in texts


@pytest.mark.parametrize("light", [0.15, 0.3, 0.4])
def test_pair_and_planting_say_the_same_of_light(light: float) -> None:
    """A pair is a planting of two: one sentence for one loss."""
    site = replace(REFERENCE_SITE, open_light=light)
    a, b = shipped("lettuce"), shipped("parsley")
    pair = judge_pair(a, b, site, HALVES)
    planting = judge_planting(Planting((Member(a, 0.5, sow_week=16), Member(b, 0.5, sow_week=16)), site))

    assert pair.limiting is not None
    assert planting.limiting is not None
    assert pair.limiting.text == planting.limiting.text
