"""Plants of dry ground beside those of moist, and what runs beside a small shrub."""

from dataclasses import replace

import pytest

from kb.mixture.profile import Estimate, Span
from kb.mixture.results import PairAnswer
from kb.mixture.site import Site
from tests.mixture.judged import bed
from tests.mixture.profiles import about, chosen, lasting, woody

SHRUB = woody(
    "lowshrub",
    "subshrub",
    1.4,
    crown_width_m=about(0.7),
    crown_base_m=Estimate(0.05, 0.07, 0.1, "form"),
)
MINT = lasting("mintlike", height_m=about(0.6), spread=chosen("invades"), travels_by=chosen("rhizome"))


def kinds(answer: PairAnswer) -> set[str]:
    return {condition.kind for condition in answer.conditions}


@pytest.mark.parametrize(
    ("dry", "moist", "verdict"),
    [((1, 5), (5, 9), "workable"), ((2, 5), (5, 8), "good"), ((1, 6), (5, 10), "good")],
)
def test_ranges_that_touch_by_their_widening_alone_are_workable_at_best(dry, moist, verdict):
    """Herb growing handbooks set plants of dry and of moist ground apart; `trade` 4.8: touching, care.

    Middles four steps apart touch where neither does best; middles three apart, or a step in common, are held
    by nothing.
    """
    one, other = (
        lasting(name, moisture=Span(*ends, "cited")) for name, ends in (("dry", dry), ("moist", moist))
    )
    answer = bed(one, other, site=Site(moisture=5.0))

    assert verdict == answer.verdict
    assert ("water" in kinds(answer)) == (verdict == "workable")


def test_the_middles_never_lift_what_lies_apart():
    """Step by step the moister range moves away: the word stays or falls (`trade` 4.8)."""
    order = ["avoid", "poor", "workable", "good"]
    dry = lasting("dry", moisture=Span(1, 5, "cited"))
    said = [
        order.index(
            bed(dry, lasting("moist", moisture=Span(low, low + 4, "cited")), site=Site(moisture=5.0)).verdict
        )
        for low in (3.0, 4.0, 4.4, 4.6, 5.0, 5.3, 5.6, 7.0)
    ]

    assert sorted(said, reverse=True) == said
    assert [3, 2, 1, 0] == sorted(set(said), reverse=True)


def test_what_runs_comes_up_among_the_branches_of_a_small_shrub():
    """Mint beside rosemary or sage: yearly work that a barrier lifts (herb growing handbooks: in a pot)."""
    answer, fenced = bed(SHRUB, MINT), bed(SHRUB, MINT, given=frozenset({"barrier"}))

    assert ("workable", "good") == (answer.verdict, fenced.verdict)
    assert ["barrier"] == [c.given for c in answer.conditions if c.kind == "spread"]


@pytest.mark.parametrize(
    ("shrub", "runner"),
    [
        (SHRUB, replace(MINT, height_m=about(0.25))),
        (replace(SHRUB, height_m=about(3.0)), replace(MINT, height_m=about(0.9))),
        (replace(SHRUB, crown_base_m=Estimate(0.6, 0.7, 0.8, "form")), MINT),
    ],
    ids=["a carpet below it", "a large shrub", "a shrub on a leg"],
)
def test_larger_shrubs_and_carpets_ask_for_no_such_work(shrub, runner):
    """Lingonberry or clover under bushes is a wanted ground cover (soft fruit handbooks)."""
    assert "spread" not in kinds(bed(shrub, runner))
