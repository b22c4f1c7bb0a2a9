"""Promises of the answer on a whole planting, all plants invented."""

from dataclasses import replace

import pytest

from kb.mixture.answers.judgement import judge_planting
from kb.mixture.enemies.hosts import Agent
from kb.mixture.ground.fixed import FROM_AIR
from kb.mixture.judging.planting import Member, Planting, stand_of
from kb.mixture.sharing.nitrogen import SAME_SEASON
from kb.mixture.sharing.place import area, ring_round
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.weeks.calendar import bloom_weeks, growing_weeks, in_order, runs
from tests.mixture.enemies.test_harm import book, hosts
from tests.mixture.planted import answered, beneath, member, together
from tests.mixture.profiles import (
    BULB,
    CLIMBER,
    COVER,
    SMALL_TREE_HERE,
    SPRING_BULB,
    TALL_GRASS,
    TAPROOT,
    about,
    chosen,
    invented,
    lasting,
    season,
)

TRAILER = invented("trailer", height_m=about(0.5), leaf_area_index=about(3.5))


def test_a_climber_needs_one_host_in_the_group() -> None:
    """Beside a low crop it needs a frame; with a tall firm one in the set it does not (`trade` 4.10)."""
    two, three = (
        answered((CLIMBER, 0.3), (TRAILER, 0.4)),
        answered((CLIMBER, 0.3), (TRAILER, 0.4), (TALL_GRASS, 0.4)),
    )

    assert "avoid" == two.verdict
    assert "support" == two.conflicts[0].kind
    assert not any(conflict.kind == "support" and conflict.ceiling == "avoid" for conflict in three.conflicts)
    assert [("tallgrass", "carries climber")] == [
        (doer.plant, doer.text) for job in three.jobs if job.job == "support" for doer in job.by
    ]


def test_a_climber_without_a_host_asks_for_one_frame() -> None:
    """Two neighbours that do not carry it are told once, not twice; given, the frame lifts it."""
    short = replace(CLIMBER, reach_m=about(1.9))
    bare = answered((short, 0.2), (TRAILER, 0.3), (TAPROOT, 0.3))
    framed = answered((short, 0.2), (TRAILER, 0.3), (TAPROOT, 0.3), given=("frame",))

    assert 1 == sum(conflict.kind == "support" for conflict in bare.conflicts)
    assert "none of its neighbours" in next(c.text for c in bare.conflicts if c.kind == "support")
    assert ("avoid", True) == (bare.verdict, framed.verdict != "avoid")


def test_each_gram_of_nitrogen_goes_once() -> None:
    """What a fixer gives is split among those that go without, and never more than it has."""
    takers = [invented(f"taker{i}", nitrogen_demand_g_m2=about(30)) for i in range(3)]
    one = answered((CLIMBER, 0.4), (takers[0], 0.3))
    many = answered((CLIMBER, 0.4), *((taker, 0.3) for taker in takers))
    fixed = FROM_AIR * CLIMBER.nitrogen_demand_g_m2.likely * 0.4

    assert SAME_SEASON[1] * fixed == pytest.approx(sum(gift.g_per_m2[1] for gift in one.nitrogen))
    assert SAME_SEASON[1] * fixed == pytest.approx(sum(gift.g_per_m2[1] for gift in many.nitrogen))
    assert 3 == len(many.nitrogen)


def test_an_enemy_counts_once_for_a_plant() -> None:
    """A pest shared with two neighbours weighs as one shared with one; another pest adds."""
    fly = Agent("fly", "fly", "flying", hosts(TAPROOT.id, BULB.id, TRAILER.id))
    moth = Agent("moth", "moth", "flying", hosts(TAPROOT.id, TRAILER.id))
    two = together((TAPROOT, 0.3), (BULB, 0.3))
    three = together((TAPROOT, 0.3), (BULB, 0.3), (TRAILER, 0.3))

    def shared(planting: Planting, *agents: Agent) -> float:
        return member(judge_planting(planting, book=book(*agents)), TAPROOT.id).loss.enemies

    assert shared(two, fly) == shared(three, fly)
    assert shared(three, fly, moth) >= shared(three, fly)


def test_who_is_squeezed_out_and_by_whom() -> None:
    """A low sun lover under a tall dense crop is named as squeezed out, with whose doing it is."""
    tall = replace(TALL_GRASS, leaf_area_index=about(6))
    answer = answered((tall, 1.0), (replace(TRAILER, light_to_crop_full=about(0.95)), 0.6), (BULB, 0.1))
    squeezed = member(answer, "trailer")

    assert squeezed.squeezed
    assert squeezed.why is not None
    assert ("light", True) == (squeezed.why.kind, "tallgrass" in squeezed.why.text)
    assert not member(answer, "tallgrass").squeezed
    assert answer.verdict == squeezed.verdict
    assert 1.7 == pytest.approx(answer.ground)
    assert any("1.70" in note for note in answer.notes)


def test_plants_that_share_too_little_are_told_so() -> None:
    """Thin stands that grow at different times feel nothing of each other, and the answer says it."""
    early = invented("early", activity=season(6, 8, 14, 16), leaf=season(6, 8, 14, 16))
    answer = answered((early, 0.1), (TAPROOT, 0.1))

    assert any("too little ground" in reason.text for reason in answer.reasons)
    assert not any("too little ground" in r.text for r in answered((TALL_GRASS, 1.0), (TAPROOT, 0.8)).reasons)


def test_the_site_is_judged_for_one_plant_too() -> None:
    """A plant alone on soil that it does not bear is one to avoid, not like with like."""
    sour = Site(soil_ph=4.0)

    assert "avoid" == answered((TAPROOT, 0.5), site=sour).verdict
    assert "like" == answered((TAPROOT, 0.5)).verdict


def test_rings_round_a_tree_are_judged_each_in_its_place() -> None:
    """Farther out there is more light; what stands in one ring takes nothing from the other."""
    near, far = Member(COVER, 0.6, distance_m=0.8), Member(SPRING_BULB, 0.6, distance_m=2.4)
    both = judge_planting(beneath(near, far))
    alone = judge_planting(beneath(far))

    assert member(both, "springbulb").loss == member(alone, "springbulb").loss
    assert member(both, "smalltree").loss.roots >= member(alone, "smalltree").loss.roots


def test_plants_whose_rings_overlap_share_one_ring() -> None:
    """Orchard teaching: a guild has plants at 1.5, 2 and 2.5 m from one trunk, not a ring's width apart.

    Each takes the ground it would have in a ring of its own, so of the wider ring the less.
    """
    near, far = Member(COVER, 0.4, distance_m=1.5), Member(SPRING_BULB, 0.4, distance_m=2.0)
    stand = stand_of(beneath(near, far), draws=0)

    (ground,) = stand.grounds
    own = [area(*ring_round(distance)) * 0.4 for distance in (1.5, 2.0)]
    joint = area(0.9, 2.6)
    assert (0.9, 2.6) == (ground.spot.place.from_m, ground.spot.place.to_m)
    assert sorted(each / joint for each in own) == pytest.approx(sorted(ground.spot.shares[1:]))
    assert any("share one ring" in note for note in judge_planting(beneath(near, far)).notes)


def test_a_joint_ring_of_rings_that_just_meet_holds_as_much_as_the_two() -> None:
    """Sums of areas (Euclid): at 1.2 m apart nothing overlaps, a little closer hardly anything does."""
    apart, closer = (
        [
            stand_of(
                beneath(Member(COVER, 0.5, distance_m=1.2), Member(SPRING_BULB, 0.5, distance_m=far)), draws=0
            )
        ]
        for far in (2.4, 2.399)
    )

    planted = [sum(ground.spot.planted for ground in stand.grounds) for stand in (*apart, *closer)]
    assert planted[0] == pytest.approx(planted[1], rel=0.03)


def test_each_of_a_joint_ring_is_judged_where_it_stands() -> None:
    """Fruit growing handbooks: a bare strip of 1 m, so what stands at 0.8 m breaks it and at 1.5 m not."""
    young = replace(SMALL_TREE_HERE, planted_years=3)
    near, far = Member(COVER, 0.3, distance_m=0.8), Member(SPRING_BULB, 0.3, distance_m=1.5)

    told = [limit.text for limit in stand_of(beneath(near, far, tree=young), draws=0).judged.limits]

    within = [text for text in told if "within 1 m" in text]
    assert [True] == [COVER.name in text for text in within]


def test_beneath_a_tree_the_plants_shade_each_other_too() -> None:
    """A low plant under a tree gets less light when a taller one stands beside it there."""
    low, tall = (
        Member(TRAILER, 0.5, distance_m=1.2),
        Member(lasting("bush", height_m=about(1.2)), 0.5, distance_m=1.2),
    )
    alone, beside = (judge_planting(beneath(*members)) for members in ((low,), (low, tall)))
    july = 6

    before, after = (member(answer, "trailer").light[july] for answer in (alone, beside))
    assert before is not None
    assert after is not None
    assert after < before


def test_a_crop_cleared_early_makes_room() -> None:
    """Cleared in summer, a crop takes no more from a later one, and asks for less itself."""
    late = invented("late", activity=season(24, 30, 40, 45), leaf=season(24, 30, 40, 45))
    whole = judge_planting(Planting((Member(TAPROOT, 0.9), Member(late, 0.9)), REFERENCE_SITE))
    cut = judge_planting(Planting((Member(TAPROOT, 0.9, clear_week=26), Member(late, 0.9)), REFERENCE_SITE))

    assert member(cut, "late").loss.roots < member(whole, "late").loss.roots
    assert member(cut, "taproot").light[8] is None


def test_layers_say_what_each_gets() -> None:
    """Wants over the layers sum to 1, what is taken of a layer too; none finds more than it asks."""
    answer = answered((TAPROOT, 0.7), (BULB, 0.7))

    for one in answer.members:
        assert 1 == pytest.approx(sum(layer.wants for layer in one.layers))
        assert all(layer.gets is None or 0 <= layer.gets <= 1 + 1e-9 for layer in one.layers)
    for band in range(4):
        assert 1 == pytest.approx(sum(one.layers[band].of_taken for one in answer.members))
    assert member(answer, "taproot").layers[3].wants > member(answer, "bulb").layers[3].wants


def test_jobs_and_gaps_come_with_their_weeks_and_records() -> None:
    """Flowers in spring fill the early third; the weeks without any are named; unknown windows are said."""
    window = season(12, 12, 18, 18, records=("record:taproot.flowering-window",))
    blooms = Member(replace(TAPROOT, flowers=window), 0.5)
    answer = judge_planting(Planting((blooms, Member(BULB, 0.5)), REFERENCE_SITE))
    jobs = {job.job: job.by for job in answer.jobs}
    gap = next(gap for gap in answer.gaps if gap.kind == "flowers")

    assert ["taproot"] == [doer.plant for doer in jobs["early flowers"]]
    assert ("record:taproot.flowering-window",) == jobs["early flowers"][0].records
    assert not jobs["late flowers"]
    assert ["bulb", "taproot"] == [doer.plant for doer in jobs["food"]]
    assert all("not" in doer.text for doer in jobs["food"])
    assert not any(first <= 15 <= last for first, last in gap.weeks)
    assert ("bulb",) == gap.unknown
    assert 6 == answer.measures.weeks_in_flower


def test_weeks_that_are_looked_at_move_with_the_frosts() -> None:
    """Weeks 9 to 46 for cover at the reference site (`trade` 5.1); half a year on in the south."""
    south = Site(latitude=-51, last_frost_day=312.5, first_frost_day=105.5)

    assert ((9, 46),) == runs(growing_weeks(REFERENCE_SITE))
    assert ((10, 43),) == runs(bloom_weeks(REFERENCE_SITE))
    assert 35 == in_order(growing_weeks(south))[0]
    assert ((1, 52),) == runs(growing_weeks(Site(latitude=5, last_frost_day=None, first_frost_day=None)))


@pytest.mark.parametrize(
    ("members", "said"),
    [
        ((), "at least one"),
        (tuple(Member(invented(f"p{i}"), 0.1) for i in range(201)), "at most 200"),
        ((Member(TAPROOT, 0.0),), "above 0"),
        ((Member(TAPROOT, 0.7), Member(TAPROOT, 0.7)), "full stand"),
    ],
    ids=["none", "too many", "no ground", "more than a full stand"],
)
def test_plantings_that_cannot_be_are_refused(members: tuple[Member, ...], said: str) -> None:
    """With a sentence that says what is wrong."""
    with pytest.raises(ValueError, match=said):
        judge_planting(Planting(members, REFERENCE_SITE))


def test_families_that_are_not_on_record_keep_a_planting_unsure() -> None:
    """What could matter for any two of the set and is not computed makes the whole unsure."""
    kin = [invented(f"kin{i}", family=chosen("Oneaceae")) for i in range(3)]

    assert "unsure" == answered(*((plant, 0.3) for plant in kin)).sureness.word
