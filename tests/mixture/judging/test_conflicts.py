"""Hard conflicts, what lifts them, and what only asks for care; all plants invented."""

from dataclasses import replace

import pytest

from kb.mixture.profile import Span
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Site, Tree
from tests.mixture.meetings import BAMBOO, DUG, LOW, bed, condition, under
from tests.mixture.profiles import (
    BULB,
    CLIMBER,
    COVER,
    SMALL_TREE,
    TAPROOT,
    about,
    chosen,
    invented,
    lasting,
    season,
    woody,
)


def spread_text(answer: PairAnswer) -> str:
    """What is said of spreading, first."""
    return next(reason.text for reason in answer.reasons if reason.kind == "spread")


INVADER = lasting("invader", spread=chosen("invades", "record:invader.spread"), height_m=about(0.6))
RUNNER = lasting("runner", spread=chosen("runs"), height_m=about(0.3))
VINE = woody(
    "vine", "climber-woody", 9.0, support_mode=chosen("twiner"), reach_m=about(9, record="record:vine.reach")
)


def test_an_invader_over_runs_low_neighbours_unless_fenced_in() -> None:
    """Avoid, unless a barrier is given; with it the pair is judged by what they feel."""
    answer, fenced = bed(INVADER, LOW), bed(INVADER, LOW, "barrier")

    assert (answer.verdict, fenced.verdict) == ("avoid", "good")
    assert answer.limiting is not None
    assert answer.limiting.of == "low"
    assert "record:invader.spread" in answer.limiting.records
    lifted = condition(answer, "spread")
    assert (lifted.given, lifted.met, lifted.verdict_if_met, lifted.verdict_if_unmet) == (
        "barrier",
        None,
        "good",
        "avoid",
    )
    assert condition(fenced, "spread").met is True


def test_an_invader_does_not_over_run_what_stands_high_above_it() -> None:
    """Neither a lasting plant twice its height nor a tree overhead; an annual of any height it does."""
    high = lasting("high", height_m=about(1.5))
    annual = invented("annual", height_m=about(1.5))

    assert bed(INVADER, high).verdict != "avoid"
    assert under(SMALL_TREE, INVADER, 2.5).verdict != "avoid"
    assert bed(INVADER, annual).verdict == "avoid"


def test_runners_are_yearly_work_and_no_more() -> None:
    """A plant that runs caps the verdict at workable (recurring labour, `computation-notes` 3)."""
    assert bed(RUNNER, LOW).verdict == "workable"
    assert bed(RUNNER, LOW, "barrier").verdict == "good"


def test_a_running_root_form_stands_in_for_a_missing_record_of_spread() -> None:
    """Where nothing is on record on spread, a rhizome counts as running."""
    rhizome = lasting("rhizome", spread=chosen(None), root_form=chosen("rhizome"), height_m=about(0.4))
    tuft = lasting("tuft", spread=chosen(None), height_m=about(0.4))

    assert bed(rhizome, LOW).verdict == "workable"
    assert bed(tuft, LOW).verdict == "good"
    assert any("keep its place" in note for note in bed(tuft, LOW).notes)
    assert not any("keep its place" in note for note in bed(rhizome, LOW).notes)


@pytest.mark.parametrize(
    ("organ", "words", "given"),
    [
        ("rhizome", "by rhizomes", "barrier"),
        ("suckering", "suckers", "barrier"),
        ("tuber", "tubers left behind", "barrier"),
        ("stolon", "cut back", None),
        ("bulb", "from seed and offsets", None),
    ],
)
def test_each_organ_has_its_own_words_and_remedy(organ: str, words: str, given: str | None) -> None:
    """A barrier in the ground holds what runs in it, not runners above it or seed (common practice)."""
    answer = bed(replace(RUNNER, travels_by=chosen(organ)), LOW)

    assert "workable" == answer.verdict
    assert words in spread_text(answer)
    assert ([given] if given else []) == [one.given for one in answer.conditions if one.kind == "spread"]


def test_suckers_of_a_tree_are_mown_and_not_fenced() -> None:
    """Tree roots go below any barrier in the ground: suckers are mown or pulled (common practice)."""
    tree = woody("pawlonia", "tree", 10.0, spread=chosen("runs"), travels_by=chosen("suckering"))

    answer = bed(tree, invented("corn"))

    assert "suckers" in spread_text(answer)
    assert not any(one.given == "barrier" for one in answer.conditions)


def test_cutting_an_invader_back_all_season_is_workable_and_said() -> None:
    """Labour that recurs caps at workable (`computation-notes` 3), and is the reason where it holds."""
    creeper = replace(INVADER, travels_by=chosen("stolon"))

    loose, cut = bed(creeper, LOW), bed(creeper, LOW, "mown")

    assert ("avoid", "workable") == (loose.verdict, cut.verdict)
    assert "workable" == condition(loose, "spread").verdict_if_met
    assert cut.limiting is not None
    assert "cut or mown off" in cut.limiting.text


def test_a_tall_running_cane_shuts_herbs_out() -> None:
    """Running bamboo among herbs: as an invader, barrier 60 cm deep; mint 30 cm (`trade` J22)."""
    bamboo = replace(BAMBOO, height_m=about(8))
    low_grass = replace(bamboo, id="low-grass", height_m=about(1.5))

    assert ("avoid", "poor") == (bed(bamboo, LOW).verdict, bed(low_grass, LOW).verdict)
    assert "60 cm" in condition(bed(bamboo, LOW), "spread").text
    assert "30 cm" in condition(bed(INVADER, LOW), "spread").text
    assert "avoid" != bed(bamboo, woody("tree", "tree", 7.0)).verdict


def test_a_carpet_is_wanted_in_a_sward_and_cut_back_under_a_crop() -> None:
    """White clover with ryegrass is a ley; under cabbage it is a living mulch (common practice)."""
    carpet = lasting("carpet", spread=chosen("runs"), travels_by=chosen("stolon"), height_m=about(0.2))
    carpet = replace(carpet, nitrogen_fixing=chosen("yes"))
    grass = lasting("grass", growth_form=chosen("graminoid"), height_m=about(0.35))
    crop = invented("crop", height_m=about(0.5))

    assert "good" == bed(carpet, grass).verdict
    assert "workable" == bed(carpet, crop).verdict
    assert "covers the ground" in spread_text(bed(carpet, crop))
    assert not any(one.given == "barrier" for one in bed(carpet, crop).conditions)


def test_a_spread_that_stands_in_says_so() -> None:
    """What the genus does is told as that, to be checked first, and never as a record (`trade` 4.14)."""
    borrowed = replace(RUNNER, spread=chosen("runs", origin="genus"))

    text = spread_text(bed(borrowed, LOW))

    assert "check first" in text
    assert "genus" in text
    assert "check first" not in spread_text(bed(RUNNER, LOW))


def test_a_carpet_between_herbs_is_wanted_where_all_is_mown() -> None:
    """White clover with plantain and chicory in a mown ley (advice on herbal leys); a bed is weeded of it."""
    carpet = lasting("carpet", spread=chosen("runs"), travels_by=chosen("stolon"), height_m=about(0.2))
    herb, crop = lasting("herb", height_m=about(0.19)), invented("crop", height_m=about(0.5))

    assert ("workable", "good") == (bed(carpet, herb).verdict, bed(carpet, herb, "mown").verdict)
    assert "mowing keeps both" in spread_text(bed(carpet, herb, "mown"))
    assert "workable" == bed(carpet, crop, "mown").verdict


def test_no_common_ph_is_a_conflict_and_a_narrow_one_is_not() -> None:
    """Ranges that share 0.2 or less are apart, unless in a bed of its own; a little more is care."""
    sour = replace(LOW, soil_ph=Span(4.0, 6.2, "cited"))
    just = replace(LOW, soil_ph=Span(4.0, 6.3, "cited"))

    apart = bed(sour, TAPROOT)
    assert apart.verdict == "avoid"
    assert "separate bed" in condition(apart, "ph").text
    assert condition(apart, "ph").verdict_if_met == "good"
    assert bed(just, TAPROOT).verdict == "good"
    assert any(reason.kind == "ph" for reason in bed(just, TAPROOT).reasons)
    assert "given that the soil has a pH of 6 to 6.3" in bed(just, TAPROOT).saying
    assert "given that" not in bed(just, TAPROOT, site=Site(soil_ph=6.2)).saying


def test_a_rule_that_rests_on_one_study_is_not_sure() -> None:
    """No soil suits both (`trade` 4.8), which no draw moves: sure by two studies, fairly sure by one."""
    sour = replace(TAPROOT, soil_ph=Span(4.0, 5.2, "cited"))
    limed, once = (replace(BULB, soil_ph=Span(6.2, 7.8, "cited", (), thin)) for thin in (False, True))

    assert [(bed(sour, b).sureness.word, bed(sour, b).sureness.by_rule) for b in (limed, once)] == [
        ("sure", True),
        ("fairly sure", True),
    ]
    assert "little is on record" in bed(sour, once).saying


def test_no_rule_is_named_where_losses_decide() -> None:
    """Two that fit are held by nothing."""
    assert not bed(TAPROOT, BULB).sureness.by_rule


def test_moisture_more_than_half_a_class_apart_is_a_conflict() -> None:
    """A gap above 0.5 is hard; ranges that touch are not (`trade` 4.8)."""
    wet, moist = (replace(LOW, moisture=Span(low, 9, "cited")) for low in (6.6, 6.0))

    assert bed(wet, TAPROOT, site=Site(moisture=6)).verdict == "avoid"
    just = bed(moist, TAPROOT, site=Site(moisture=5.9))
    assert just.verdict == "workable", "the site is a little dry for it; the two still meet"
    assert not any("bears." in condition.text for condition in just.conditions)


def test_moisture_of_one_study_is_a_strong_warning_within_its_doubt() -> None:
    """Ends of one published range are in doubt by a class (`trade` 3.2): poor and no hard conflict (4.13).

    So of ground that lies so far outside. By two studies, or further out, it is a conflict as ever.
    """

    def beside(high: float, *, thin: bool) -> PairAnswer:
        dry = replace(BULB, moisture=Span(2.0, high, "cited", (), thin))
        return bed(replace(TAPROOT, moisture=Span(5.0, 9.0, "cited")), dry)

    words = [beside(4.0, thin=True), beside(4.0, thin=False), beside(3.9, thin=True)]
    assert ["poor", "avoid", "avoid"] == [answer.verdict for answer in words]
    assert "no ground is known to suit both" in words[0].saying
    assert "no ground suits both" in words[1].saying

    wet = replace(REFERENCE_SITE, moisture=6.5)
    alone = [replace(BULB, moisture=Span(2.0, 5.0, "cited", (), thin)) for thin in (True, False)]
    assert ["poor", "avoid"] == [bed(plant, TAPROOT, site=wet).verdict for plant in alone]


def test_each_plant_is_held_against_the_site() -> None:
    """Soil far outside a plant's pH is to avoid, a little outside workable; dry ground can be watered."""
    assert bed(LOW, TAPROOT, site=Site(soil_ph=5.0)).verdict == "avoid"
    assert bed(LOW, TAPROOT, site=Site(soil_ph=5.8)).verdict == "workable"
    assert bed(LOW, TAPROOT, site=Site(soil_ph=6.5)).verdict == "good"

    dry = Site(moisture=2)
    assert bed(LOW, TAPROOT, site=dry).verdict == "avoid"
    assert bed(LOW, TAPROOT, "irrigated", site=dry).verdict == "good"
    assert bed(LOW, TAPROOT, site=Site(moisture=8)).verdict == "avoid", "wet ground is not mended by water"


def test_too_dark_to_keep_is_a_conflict_not_a_low_crop() -> None:
    """Light under what it survives in most of its weeks: avoid, and say so of keeping, not cropping."""
    dense = Tree(14, 5, 2.5, 6.0, stand="closed")
    lover = lasting("lover", light_to_survive=about(0.5), activity=season(18, 24, 34, 40))
    answer = under(SMALL_TREE, lover, 2.5, size=dense)

    assert answer.verdict == "avoid"
    assert answer.limiting is not None
    assert "too dark here to keep" in answer.limiting.text


def test_two_conflicts_are_not_lifted_by_mending_one() -> None:
    """A barrier alone does not make good what the soils forbid, and its condition says so."""
    sour = replace(INVADER, soil_ph=Span(4.0, 5.0, "cited"))
    answer = bed(sour, LOW)

    assert bed(sour, LOW, "barrier").verdict == "avoid"
    assert condition(answer, "spread").verdict_if_met == "avoid"


@pytest.mark.parametrize(
    "given", ["frame", "barrier", "mulch", "irrigated", "fed", "pruned", "mown", "careful-lifting"]
)
def test_what_is_given_never_makes_a_verdict_worse(given: str) -> None:
    """Whatever the gardener provides, no pair reads worse for it."""
    words = ["avoid", "poor", "workable", "good"]
    for one, other in ((INVADER, LOW), (DUG, LOW), (CLIMBER, LOW), (COVER, TAPROOT), (SMALL_TREE, VINE)):
        assert words.index(bed(one, other, given).verdict) >= words.index(bed(one, other).verdict)


def test_ranges_that_touch_are_not_told_as_apart() -> None:
    """From pH 5.5 to 7 and from 6.8 to 7.5 some ground suits both; the span is what is too narrow."""
    one = replace(LOW, soil_ph=Span(5.5, 7.0, "cited"))
    touching, apart = (replace(TAPROOT, soil_ph=Span(low, 7.5, "cited")) for low in (6.8, 7.2))

    assert "they meet at pH 6.8 to 7 only" in bed(one, touching).saying
    assert "no soil suits both" in bed(one, apart).saying
