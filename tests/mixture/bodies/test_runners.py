"""What runs beside what: graded by the neighbour, with two ways out; and what digging does to either."""

from dataclasses import replace
from typing import Any

import pytest

from kb.mixture.profile import Profile
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Site
from tests.mixture import base, judged
from tests.mixture.profiles import about, chosen, invented, lasting, season, woody
from tests.mixture.real import shipped

INVADER = lasting("invader", spread=chosen("invades"), travels_by=chosen("rhizome"), height_m=about(0.45))
RUNNER = lasting("runner", spread=chosen("runs"), travels_by=chosen("stolon"), height_m=about(0.45))
WET = replace(REFERENCE_SITE, moisture=9.0)
TREE = woody("tree", "tree", 7.0)
SUCKERS = woody("suckerer", "shrub", 4.0, spread=chosen("invades"), travels_by=chosen("suckering"))
CROWN = lasting(
    "crown",
    root_d50_m=about(0.35),
    root_d95_m=about(1.4),
    travels_by=chosen("rhizome"),
    spread=chosen("clump"),
)
SHALLOW = replace(CROWN, id="shallow", root_d50_m=about(0.2), root_d95_m=about(0.8))
TUBER = invented("tuber", dug_depth_m=about(0.25, times=1.1), root_form=chosen("tuber"))
ROOT = replace(TUBER, id="root", root_form=chosen("tap"))


def bed(a: Profile, b: Profile, *given: str, site: Site = REFERENCE_SITE, **changes: Any) -> PairAnswer:
    return judged.bed(a, b, site, given=frozenset(given), **changes)


def ways(answer: PairAnswer) -> dict[str | None, str]:
    """What lifts a spread, by the word for it, and to which verdict."""
    return {one.given: one.verdict_if_met for one in answer.conditions if one.kind == "spread"}


def test_two_runners_of_one_height_hold_each_other() -> None:
    """Water mint and watercress share spring margins (wetland vegetation textbooks): cut back every year.

    Strawberry, which mint overtops, goes under (`trade` B19), and so does a herb that stays.
    """
    low = replace(RUNNER, id="low-runner", height_m=about(0.2))
    stays = replace(RUNNER, id="stays", spread=chosen("clump"))
    guessed = replace(RUNNER, id="guessed", spread=chosen("runs", origin="genus"))

    assert "workable" == bed(INVADER, RUNNER).verdict
    assert ["avoid"] * 3 == [bed(INVADER, other).verdict for other in (low, stays, guessed)]


def test_suckers_between_grown_trees_are_mown() -> None:
    """Suckers between orchard trees are mown (common practice); a young or a lower tree is over-run."""
    grown = bed(SUCKERS, TREE, age_a_years=8, age_b_years=12)
    young = bed(SUCKERS, replace(TREE, height_m=about(3.0)), age_a_years=8, age_b_years=12)

    assert "avoid" not in grown.verdict
    assert any("mown every year" in reason.text for reason in grown.reasons)
    assert "avoid" == young.verdict


@pytest.mark.parametrize(
    ("low", "word"),
    [("bluebell", "workable"), ("woodruff", "workable"), ("wild strawberry", "avoid"), ("chives", "avoid")],
)
def test_what_lives_in_a_thicket_is_not_shut_out_by_its_suckers(low: str, word: str) -> None:
    """Woodland herbs grow below blackthorn scrub (bluebells in scrub: from memory); others go under."""
    found = judged.bed(base.shipped("blackthorn"), base.shipped(low))

    assert word == found.verdict
    assert any("suckers" in reason.text for reason in found.reasons)


@pytest.mark.parametrize(("green", "word"), [(False, "workable"), (True, "avoid")])
def test_bulbs_of_spring_come_up_through_what_runs_unless_it_is_a_thicket_all_winter(
    green: bool, word: str
) -> None:
    """Bluebells grow among bracken, daffodils among cranesbills (common practice); none under salal."""
    bulb = lasting(
        "bulb",
        root_form=chosen("bulb"),
        height_m=about(0.3),
        activity=season(6, 9, 17, 23),
        leaf=season(6, 9, 17, 23),
    )
    over = replace(INVADER, leaf=replace(INVADER.leaf, evergreen=green))
    late = replace(bulb, id="late", activity=season(14, 18, 36, 42))

    assert word == bed(over, bulb).verdict
    assert "avoid" == bed(over, late).verdict


@pytest.mark.parametrize(
    ("tall", "low", "word"),
    [
        ("raspberry", "strawberry", "poor"),
        ("tansy", "wild strawberry", "poor"),
        ("yarrow", "chives", "workable"),
    ],
)
def test_what_stands_high_over_a_low_bed_is_a_work_of_all_summer(tall: str, low: str, word: str) -> None:
    """Raspberry canes come up all over a strawberry bed (common practice: handbooks keep them apart)."""
    found = judged.bed(base.shipped(tall), base.shipped(low))

    assert word == found.verdict
    assert word == "workable" or {"mown": "workable"}.items() <= ways(found).items()


def test_mowing_is_the_second_way_and_promises_what_asking_again_gives() -> None:
    """A barrier, or cutting off all season: labour that recurs caps at workable (`computation-notes` 3)."""
    herb = lasting("herb", height_m=about(0.3))
    loose = bed(INVADER, herb)

    assert {"barrier": "good", "mown": "workable"} == ways(loose)
    assert ["good", "workable"] == [bed(INVADER, herb, given).verdict for given in ("barrier", "mown")]
    assert "good" == bed(INVADER, herb, "barrier", "mown").verdict


def test_no_barrier_is_sunk_into_wet_ground() -> None:
    """A sunk barrier stands in ground that is dug, not in water (common practice): there it is cut."""
    herb = lasting("herb", height_m=about(0.3), moisture=replace(INVADER.moisture, low=1.0, high=12.0))
    wet = bed(replace(INVADER, moisture=herb.moisture), herb, site=WET)

    assert {"mown": "workable"} == ways(wet)


@pytest.mark.parametrize("lasting_one", [CROWN, SHALLOW], ids=["crown", "feeders"])
def test_crowns_and_feeders_bear_the_same_and_pulling_is_milder_than_forking(lasting_one) -> None:
    """No fork over asparagus crowns; carrots are pulled between plants (vegetable handbooks)."""
    forked, pulled = bed(TUBER, lasting_one), bed(ROOT, lasting_one)

    assert ("avoid", "poor") == (forked.verdict, pulled.verdict)
    lifted = [bed(one, lasting_one, "careful-lifting").verdict for one in (TUBER, ROOT)]
    assert ["workable", "workable"] == lifted


def test_long_roots_are_dug_out_and_woody_nets_spare_none() -> None:
    """Horseradish and salsify go below a spade; parsnip under a plum is to avoid (`trade` T06)."""
    long = replace(ROOT, dug_depth_m=about(0.4, times=1.1))
    shrub = woody("shrub", "shrub", 2.0, root_d50_m=about(0.15), root_d95_m=about(0.5))

    assert ["avoid", "avoid"] == [bed(long, SHALLOW).verdict, bed(ROOT, shrub).verdict]


def test_a_thicket_round_a_fruit_tree_keeps_the_pickers_out() -> None:
    """Orchard restoration guides: brambles are cleared from the foot of fruit trees before all else.

    Below trees that nobody picks, and where it is low or mown, it is no matter.
    """
    picked = replace(TREE, picked=chosen("yes"))
    thicket = replace(INVADER, height_m=about(1.5), growth_form=chosen("cane"))

    assert "poor" == bed(picked, thicket).verdict
    assert {"mown": "workable"} == ways(bed(picked, thicket))
    assert "workable" == bed(picked, thicket, "mown").verdict
    assert not ways(bed(TREE, thicket))
    assert not ways(bed(picked, INVADER))


def test_canes_that_arch_root_at_their_tips() -> None:
    """Fruit handbooks: brambles root at the tips, over any barrier, and raspberries sucker."""
    known = {plant.id: plant for plant in shipped()[0]}

    assert "stolon" == known["rubus-fruticosus"].travels_by.value
    assert "suckering" == known["rubus-idaeus"].travels_by.value
    shrub = woody("shrub", "shrub", 1.3)
    assert not any("barrier" in one.text for one in bed(shrub, known["rubus-fruticosus"]).conditions)
