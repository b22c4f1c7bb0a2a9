"""Climbers and hosts: who carries whom, who is smothered, and what lifts it; all plants invented."""

from dataclasses import replace

from kb.mixture.profile import Estimate, Profile
from kb.mixture.site import Tree
from tests.mixture.judging.test_conflicts import VINE, bed, condition, under
from tests.mixture.planted import answered
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
    # The weeks are the program's own as often as the gardener's: nothing is said of what was said.
    assert condition(together, "support").met is None
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


STRAW = invented("straw", growth_form=chosen("graminoid"), height_m=about(1.0))
VETCH = replace(CLIMBER, id="vetch", support_mode=chosen("tendril"), reach_m=about(1.1), height_m=about(0.9))


def carried(climber: Profile, host: Profile) -> bool:
    return any(benefit.kind == "support" for benefit in bed(climber, host).benefits)


def test_straw_props_a_climber_hardly_taller_than_itself() -> None:
    """Rye holds up vetch and oat pea, drilled together (common practice: forage handbooks).

    No sticks and no head start are asked for; a pole bean is not for oats (`trade` 4.10), nor a vetch for a
    crop of half its height.
    """
    together = bed(STRAW, VETCH, sow_week_a=19, sow_week_b=19)

    assert ("good", True) == (together.verdict, carried(VETCH, STRAW))
    assert not any(c.kind == "support" for c in together.conditions)
    assert "avoid" == bed(STRAW, CLIMBER).verdict
    assert not carried(VETCH, replace(STRAW, height_m=about(0.5)))


def test_what_props_is_straw_or_a_tall_stalk_and_what_is_propped_lays_hold_of_many() -> None:
    """A twiner hangs on one stalk (`trade` 4.10); a leafy herb of the climber's height is no prop.

    Common practice: hemp and sunflower prop, beet and clover do not; of a lasting herb or a biennial the
    height is that of its flowers. A vine printed as reaching less than its own length is as long as that.
    """
    stalk = invented("stalk", height_m=about(1.3))

    assert carried(VETCH, stalk)
    assert not carried(replace(VETCH, support_mode=chosen("twiner")), STRAW)
    assert not carried(VETCH, invented("leafy", height_m=about(1.0)))
    assert not carried(VETCH, replace(stalk, life_cycle=chosen("perennial")))
    assert not carried(replace(VETCH, reach_m=about(0.7), height_m=about(1.8)), STRAW)


def test_a_lasting_vetch_does_not_weigh_on_the_grass_that_props_it() -> None:
    """Meadow peas in tall grass (common practice): both come up anew each spring, and nobody prunes them."""
    vetch, grass = (replace(plant, life_cycle=chosen("perennial")) for plant in (VETCH, STRAW))

    assert not any(c.kind == "support" for c in bed(grass, vetch).conditions)


def test_a_lasting_climber_is_good_given_a_frame_beside_what_nobody_takes_for_its_host() -> None:
    """Vineyards have their trellis (common practice): a condition, not a conflict (`computation-notes` 3).

    Beside a firm plant that is too low for it the conflict stays: there it would climb.
    """
    low, firm = invented("low", height_m=about(0.2)), replace(TALL_GRASS, height_m=about(2.5))
    bare, framed = bed(VINE, low), bed(VINE, low, "frame")

    assert ("good", "good") == (bare.verdict, framed.verdict)
    assert "given that vine gets a frame" in bare.saying
    for answer in (bare, framed):
        assert ("good", "avoid") == (
            condition(answer, "support").verdict_if_met,
            condition(answer, "support").verdict_if_unmet,
        )
    assert "avoid" == bed(VINE, firm).verdict


def test_in_a_group_the_neighbour_that_it_would_take_for_its_host_decides() -> None:
    """Hop beside clover and maize: clover does not make maize safe (`trade` 4.10: the whole group)."""
    hop = replace(VINE, growth_form=chosen("climber-herbaceous"), reach_m=about(5.3), height_m=about(5.3))
    low = invented("low", height_m=about(0.2))
    maize = replace(TALL_GRASS, height_m=about(2.0))

    for order in ((hop, low, maize), (maize, hop, low)):
        found = answered(*((plant, 0.3) for plant in order)).conflicts
        assert ["avoid"] == [c.ceiling for c in found if c.kind == "support"]
    assert "avoid" != answered((hop, 0.5), (low, 0.5)).verdict


def test_what_is_taken_for_granted_is_said_beside_what_else_is_asked() -> None:
    """A vine among what it needs fenced off from is not called workable without a word of its frame."""
    running = replace(VINE, spread=chosen("runs"), travels_by=chosen("rhizome"))
    answer = bed(running, invented("low", height_m=about(0.2)))

    assert "workable, unless vine stands inside a barrier" in answer.saying.lower()
    assert "It is taken that vine gets a frame" in answer.saying


def test_a_root_clinger_keeps_to_the_trunk_of_a_taller_tree() -> None:
    """Pepper on living posts, ivy in tall trees (common practice): yearly work, where a twiner smothers.

    It smothers what is lower than itself all the same (`computation-notes` 3).
    """
    clinger = replace(VINE, support_mode=chosen("root-clinger"))
    tall, size = woody("tall", height_m=16.0), Tree(16, 6, 3, 3)

    assert ("workable", "avoid") == tuple(under(tall, v, 7.0, size=size).verdict for v in (clinger, VINE))
    assert "trunk" in next(r.text for r in bed(tall, clinger).reasons if r.kind == "support")
    assert "avoid" == bed(SMALL_TREE, clinger).verdict


def test_a_scrambler_stays_in_the_lower_branches_of_a_far_taller_host() -> None:
    """A bramble or rose at the foot of a tree (common practice) is cut back, and does not smother it.

    A twiner of that reach winds round what it meets (honeysuckle in young trees, common practice).
    """
    rose = replace(VINE, support_mode=chosen("scrambler"), reach_m=about(2.0), height_m=about(2.0))
    bush = woody("bush", "shrub", 5.0, crown_base_m=Estimate(0.1, 0.2, 0.3, "form"))
    texts = [r.text for r in bed(bush, rose).reasons if r.kind == "support"]

    assert ["vine grows into the lower branches of bush: it has to be cut back every year."] == texts[:1]
    assert not any(gain.kind == "support" for gain in bed(bush, rose).benefits)
    assert "pruned" == condition(bed(bush, replace(rose, support_mode=chosen("twiner"))), "support").given


def test_tubers_lifted_from_under_stakes_are_no_vine_that_smothers() -> None:
    """Yams beside cassava (root crop handbooks): staked and lifted every year, never pruned.

    A frame is taken for granted and said; the same vine left in the ground smothers a shrub. Set in a week of
    its own it is judged alike.
    """
    yam = replace(
        VINE,
        growth_form=chosen("climber-herbaceous"),
        reach_m=about(3.0),
        dug_depth_m=about(0.2, record="record:vine.harvest-disturbance"),
    )
    bush = woody("bush", "shrub", 1.3, root_d50_m=about(0.4), crown_base_m=Estimate(0.05, 0.1, 0.2, "form"))
    left = replace(yam, dug_depth_m=Estimate(0.0, 0.0, 0.0, "cited"))
    answers = [bed(bush, plant) for plant in (yam, replace(yam, life_cycle=chosen("annual")))]

    for answer in answers:
        asked = condition(answer, "support")
        assert ("frame", "avoid") == (asked.given, asked.verdict_if_unmet)
        assert "avoid" != answer.verdict
    assert "avoid" == bed(bush, left).verdict


def test_an_annual_that_scrambles_is_turned_aside_and_not_lost() -> None:
    """Nasturtiums are let trail over the ground, pole beans need poles (kitchen-garden manuals)."""
    long = replace(CLIMBER, reach_m=about(2.0))
    scrambler = replace(long, support_mode=chosen("scrambler"))
    trailing, twining = bed(scrambler, TAPROOT), bed(long, TAPROOT)
    way = condition(trailing, "support")

    assert trailing.verdict in {"good", "workable"}
    assert "turned aside" in way.text
    assert ("good", "workable") == (way.verdict_if_met, way.verdict_if_unmet)
    assert "avoid" == twining.verdict


GRAPE = replace(
    VINE,
    growth_form=chosen("climber-woody"),
    support_mode=chosen("tendril"),
    height_m=about(1.9),
    reach_m=about(7.0),
    grown_height_m=about(1.9),
)


def test_a_vine_that_is_cut_to_crop_is_given_its_cutting() -> None:
    """Viticulture: a vine is pruned every year or it is no crop; fig and vine are old neighbours."""
    answer = bed(woody("fig", height_m=4.0), GRAPE)
    way = condition(answer, "support")

    assert "workable" == answer.verdict
    assert "given that" in answer.saying
    assert ("workable", "avoid") == (way.verdict_if_met, way.verdict_if_unmet)
    assert bed(woody("fig", height_m=4.0), GRAPE, "pruned").verdict == answer.verdict


def test_a_twiner_or_a_vine_on_its_host_is_not() -> None:
    """`trade` T04: a hardy kiwi on a small apple is refused unless its pruning is promised."""
    twiner = replace(GRAPE, support_mode=chosen("twiner"))
    wild = replace(GRAPE, grown_height_m=None)

    assert "avoid" == bed(woody("fig", height_m=4.0), twiner).verdict
    assert "avoid" == bed(woody("fig", height_m=4.0), wild).verdict
    assert "avoid" == under(SMALL_TREE, replace(GRAPE, reach_m=about(12.0)), 1.2).verdict


def test_a_bean_over_the_top_of_a_low_shrub_is_no_gain_and_one_in_a_tall_one_is() -> None:
    """Borne by both, it ends in a tangle over the lower, where neither is picked with ease.

    Common practice: beans climb poles, maize and the rods of a coppice, nobody sows them to currant bushes; a
    stalk that ends with them loses nothing (`trade` 4.10).
    """
    bean = replace(CLIMBER, reach_m=about(2.2))
    low, tall = (woody(f"shrub{height}", "shrub", height) for height in (1.5, 4.0))

    kinds = {
        plant.id: {benefit.kind for benefit in bed(plant, bean).benefits} for plant in (low, tall, TALL_GRASS)
    }

    assert "support" not in kinds[low.id]
    assert "support" in kinds[tall.id]
    assert "support" in kinds[TALL_GRASS.id]
    assert not any(one.kind == "support" for one in bed(low, bean).conditions), "it needs no frame of its own"
