"""Climbers and hosts: who carries whom, who is smothered, and what lifts it; all plants invented."""

from dataclasses import replace

from kb.mixture.profile import Estimate
from kb.mixture.site import Tree
from tests.mixture.profiles import (
    CLIMBER,
    SMALL_TREE,
    TALL_GRASS,
    TAPROOT,
    about,
    chosen,
    invented,
    woody,
)
from tests.mixture.test_conflicts import VINE, bed, condition, under


def test_a_firm_tall_early_host_carries_a_climber() -> None:
    """Maize-like hosts help; the climber gives nothing away in the verdict."""
    answer = bed(TALL_GRASS, CLIMBER)

    assert answer.verdict == "good"
    assert answer.benefits[0].kind == "support"
    assert not any(condition.kind == "support" for condition in answer.conditions)


def test_a_host_needs_a_head_start() -> None:
    """Sown together, the climber pulls its annual host down: workable, and good two weeks later."""
    together = bed(TALL_GRASS, CLIMBER, sow_week_a=19, sow_week_b=19)
    later = bed(TALL_GRASS, CLIMBER, sow_week_a=19, sow_week_b=22)

    assert (together.verdict, later.verdict) == ("workable", "good")
    assert condition(together, "support").met is False
    assert condition(together, "support").verdict_if_met == "good"


def test_a_tall_climber_without_a_host_needs_a_frame() -> None:
    """No host: avoid, unless it gets a frame of its own."""
    low = invented("bush", height_m=about(0.7))

    assert (bed(CLIMBER, low).verdict, bed(CLIMBER, low, "frame").verdict) == ("avoid", "good")
    assert condition(bed(CLIMBER, low), "support").given == "frame"
    assert not any(benefit.kind == "support" for benefit in bed(CLIMBER, low).benefits)


def test_a_short_climber_is_good_given_sticks() -> None:
    """A missing frame is a condition, not a conflict, where sticks do (`computation-notes` 3)."""
    short = replace(CLIMBER, reach_m=about(1.1), height_m=about(1.1))
    answer = bed(short, invented("cabbagelike", height_m=about(0.4)))

    assert answer.verdict == "good"
    assert "given that climber gets sticks" in answer.saying
    assert condition(answer, "support").verdict_if_unmet == "workable"


def test_a_lasting_climber_that_stays_low_smothers_nobody() -> None:
    """A vetch of half a metre asks for sticks at most, lasting or not."""
    vetch = replace(CLIMBER, life_cycle=chosen("perennial"), reach_m=about(0.5), height_m=about(0.5))

    assert bed(vetch, TAPROOT).verdict == "good"
    assert bed(TALL_GRASS, vetch).verdict == "good"


def test_a_lodging_grass_carries_nothing() -> None:
    """A soft host of a metre is no host for a climber of two."""
    soft = replace(TALL_GRASS, id="soft", height_m=about(1.4))

    assert bed(soft, CLIMBER).verdict == "avoid"


def test_a_lasting_climber_smothers_a_lower_host() -> None:
    """A vine of 9 m on a tree of 4.5 m is to avoid unless pruned hard every year, the old exception.

    (`trade` T04.) One of 14 m is not kept by pruning; a frame of its own lifts either.
    """
    answer, rampant = bed(SMALL_TREE, VINE), replace(VINE, reach_m=about(14.0))

    assert answer.verdict == "avoid"
    assert answer.limiting is not None
    assert answer.limiting.of == "smalltree"
    assert bed(SMALL_TREE, VINE, "pruned").verdict == "workable"
    assert bed(SMALL_TREE, rampant, "pruned").verdict == "avoid"
    assert bed(SMALL_TREE, VINE, "frame").verdict in {"good", "workable"}
    assert bed(SMALL_TREE, rampant, "frame").verdict in {"good", "workable"}


def test_a_lasting_climber_on_a_high_host_must_be_pruned() -> None:
    """On a host higher than itself it is workable when pruned every year, and else to avoid."""
    tall = woody("tall", height_m=16.0)
    size = Tree(16, 6, 3, 3)

    assert under(tall, VINE, 7.0, size=size).verdict == "avoid"
    assert under(tall, VINE, 7.0, "pruned", size=size).verdict == "workable"


def test_a_low_climber_cannot_lay_hold_of_a_crown_above_its_reach() -> None:
    """A vetch of 1 m is not carried by a tree whose branches begin at 3 m, and smothers nothing of it.

    Where the branches come down into its reach it is carried.
    """
    vetch = replace(CLIMBER, reach_m=about(1.0), height_m=about(1.0))
    high, low = Tree(9, 4, 3, 2.5), Tree(9, 4, 0.5, 2.5)
    tree = woody("appletree", height_m=9.0)

    above, within = under(tree, vetch, 2.0, size=high), under(tree, vetch, 2.0, size=low)

    assert "sticks" in condition(above, "support").text
    assert not any(benefit.kind == "support" for benefit in above.benefits)
    assert any(benefit.kind == "support" for benefit in within.benefits)
    beyond = under(tree, vetch, 6.0, size=low)
    assert not any(benefit.kind == "support" for benefit in beyond.benefits)


def test_a_low_climber_that_dies_back_does_not_smother_a_tree() -> None:
    """A lasting vetch of 1.2 m needs no yearly pruning in a bush of 4.5 m; a vine of 4 m does.

    `trade` 4.10 asks for pruning of woody climbers; one that covers more than half of its host counts too.
    """
    vetch = replace(CLIMBER, life_cycle=chosen("perennial"), reach_m=about(1.2), height_m=about(1.2))
    hop = replace(vetch, reach_m=about(4.0), height_m=about(4.0))
    bush = woody("bush", "shrub", 4.5, crown_base_m=Estimate(0.1, 0.2, 0.3, "form"))

    assert not any(c.given == "pruned" for c in bed(bush, vetch).conditions)
    assert "pruned" == condition(bed(bush, hop), "support").given
