"""The ground under plants: how deep it is, how moist, and what a class of reaction says; all invented."""

from dataclasses import replace

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.bodies.digging import chance_of_reaching
from kb.mixture.profile import Estimate, Profile, Span
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from tests.mixture.profiles import BULB, TAPROOT, about, invented, lasting, woody

LOW = lasting("low", height_m=about(0.3))
SPREADER = lasting("spreader", height_m=about(0.35))
ROOT_CROP = invented("root-crop", dug_depth_m=Estimate(0.25, 0.3, 0.35, "cited", ("record:root-crop.dug",)))
DEPTHS = (("deep", 0.9), ("less", 0.3))


def bed(a: Profile, b: Profile, site: Site = REFERENCE_SITE, *given: str) -> PairAnswer:
    return judge_pair(a, b, site, Arrangement(share_a=0.5, share_b=0.5, given=frozenset(given)))


def _with_class(plant: Profile, likely: float) -> Profile:
    return replace(plant, reaction_class=Estimate(likely, likely, likely, "cited"))


def of_class(plant: Profile, likely: float) -> Profile:
    """A plant whose reaction is on record as a class alone."""
    found = Estimate(likely, likely, likely, "cited", (f"record:{plant.id}.class",))
    ends = (3.0, 7.5) if likely <= 3.5 else (5.5, 7.5)
    return replace(plant, soil_ph=Span(*ends, "assumed"), reaction_class=found)


@pytest.mark.parametrize(("low", "word"), [(6.8, "avoid"), (6.3, "poor"), (6.0, "workable"), (5.2, "good")])
def test_ranges_of_moisture_that_do_not_meet_are_a_conflict_by_their_gap(low: float, word: str) -> None:
    """Bog and dry bank share no bed; plants of neighbouring moisture do, with care (common practice)."""
    wet = replace(LOW, moisture=Span(low, 9, "cited"))
    dry = replace(SPREADER, moisture=Span(2, 6, "cited"))
    found = bed(wet, dry, Site(moisture=min(6.0, max(5.4, low - 0.1))))

    assert found.verdict == word
    assert any("moister ground than spreader bears" in r.text for r in found.reasons) == (low > 6)


def test_watering_does_not_bring_two_ranges_of_moisture_together() -> None:
    """Water given to the one runs under the other: a taro bed is no place for oregano (common practice)."""
    wet = replace(LOW, moisture=Span(6.4, 9, "cited"))
    dry = replace(SPREADER, moisture=Span(2, 6, "cited"))

    assert bed(wet, dry, Site(moisture=6), "irrigated").verdict == "poor"


def test_a_plant_of_acid_ground_and_one_of_lime_are_a_strong_warning() -> None:
    """Heather and traveller's joy are planted apart in every garden book; no pH of theirs is needed."""
    sour, sweet = of_class(LOW, 1.5), of_class(SPREADER, 7.5)
    found = bed(sour, sweet)

    assert found.verdict == "poor"
    assert any("check first" in c.text and "classes 1.5 and 7.5 of 9" in c.text for c in found.conditions)
    assert found.sureness.word != "sure"


def test_classes_near_each_other_and_known_ranges_of_ph_ask_nothing() -> None:
    """Where ranges of pH are on record, the class of a scale adds nothing to them (`trade` 4.8)."""
    sour, near, sweet = of_class(LOW, 3.0), of_class(SPREADER, 6.0), of_class(SPREADER, 8.0)
    measured = (replace(plant, soil_ph=Span(5.5, 7.5, "cited")) for plant in (sour, sweet))

    assert not any(c.kind == "ph" for c in bed(sour, near).conditions)
    assert not any(c.kind == "ph" for c in bed(*measured).conditions)


def test_a_wide_known_ph_is_not_overruled_by_classes() -> None:
    """Crowberry (class 2) is on record for pH 3.9 to 8.2: it bears ground of class 7 (`trade` 4.8)."""
    sour, sweet = of_class(LOW, 2.0), of_class(SPREADER, 7.0)
    wide = replace(sour, soil_ph=Span(3.9, 8.2, "cited"))

    assert not any(c.kind == "ph" for c in bed(wide, sweet).conditions)
    assert any(c.kind == "ph" for c in bed(sour, sweet).conditions)


def test_an_acid_class_alone_is_asked_about_on_sweet_soil_and_not_refused_on_sour() -> None:
    """A heath plant on soil of pH 4.5 is at home; on pH 7 a gardener asks first (common practice)."""
    heath = of_class(LOW, 1.5)
    partner = replace(SPREADER, soil_ph=Span(4.0, 7.5, "cited"))
    sour, sweet = (bed(heath, partner, Site(soil_ph=ph)) for ph in (4.5, 7.0))

    assert not any(c.kind == "ph" for c in sour.conditions)
    assert any("found on acid ground (class 1.5 of 9)" in c.text for c in sweet.conditions)


def test_a_known_ph_beside_an_acid_class_alone_is_asked_about() -> None:
    """Fig beside cloudberry: what the second bears is not on record, and garden ground is no guess."""
    limed = replace(SPREADER, soil_ph=Span(6.0, 8.0, "cited"))
    found, far = (bed(of_class(LOW, 1.5), plant) for plant in (limed, _with_class(limed, 7.3)))

    assert any("what pH it bears is not on record" in c.text for c in found.conditions)
    assert far.verdict == "poor"


@pytest.mark.parametrize(("depth_m", "word"), [(0.1, "poor"), (0.4, "good"), (2.2, "good")])
def test_a_root_crop_needs_soil_as_deep_as_its_root(depth_m: float, word: str) -> None:
    """Long carrots, parsnips and scorzonera need 25 to 40 cm of soil (handbooks of vegetables)."""
    crop = replace(ROOT_CROP, root_d95_m=about(0.7))
    shallow = replace(BULB, root_d95_m=about(0.15), root_d50_m=about(0.05))
    found = bed(crop, shallow, Site(soil_depth_m=depth_m))

    assert found.verdict == word
    assert any("raised bed" in c.text for c in found.conditions) == (word == "poor")


@pytest.mark.parametrize(("depth_m", "held"), [(0.2, True), (0.5, True), (1.0, False)])
def test_a_tree_needs_more_soil_than_a_herb(depth_m: float, held: bool) -> None:
    """Trees on roofs stand in 0.6 to 1 m of soil, herbs in 0.2 to 0.4 m (common practice)."""
    tree = woody("low-tree", height_m=4.0, root_d95_m=about(1.5), root_d50_m=about(0.35))
    herb = replace(TAPROOT, root_d95_m=about(0.35), root_d50_m=about(0.1))
    found = judge_pair(tree, herb, Site(soil_depth_m=depth_m), Arrangement(share_a=0.5, share_b=0.5))
    deeper = [c for c in found.conditions if "raised bed" in c.text]

    assert bool(deeper) == held
    assert not any("herb" in c.text for c in deeper)


def test_soil_made_deep_enough_serves_both() -> None:
    """A bed filled for the deeper of two is deep enough for the other: one condition, and it holds."""
    deep, less = (lasting(name, root_d95_m=about(d), root_d50_m=about(d / 4)) for name, d in DEPTHS)
    found = bed(deep, less, Site(soil_depth_m=0.1))
    deeper = [c for c in found.conditions if "deep enough" in c.text]

    assert (found.verdict, len(deeper)) == ("poor", 1)
    assert deeper[0].verdict_if_met == bed(deep, less, Site(soil_depth_m=0.45)).verdict


def test_a_guessed_depth_says_that_it_is_a_guess() -> None:
    """What stands in is no better than what is known, and says so (`trade` 4.14)."""
    known = lasting("known", root_d95_m=about(0.8), root_d50_m=about(0.2))
    guessed = replace(known, root_d95_m=about(0.8, "form"), root_d50_m=about(0.2, "form"))
    first, second = (bed(plant, BULB, Site(soil_depth_m=0.15)) for plant in (known, guessed))

    assert first.verdict == second.verdict == "poor"
    assert any("as far as can be told from its kind" in reason.text for reason in second.reasons)


@pytest.mark.parametrize(
    ("best", "borne", "word"),
    [((6.6, 7.4), True, "workable"), ((6.6, 7.4), False, "poor"), ((7.4, 8), True, "avoid")],
)
def test_where_two_plants_do_best_is_no_limit_of_what_they_bear(
    best: tuple[float, float], borne: bool, word: str
) -> None:
    """Bananas are interplanted with cassava, of unlike best pH, all over west Africa (crop handbooks).

    Beside a plant whose limits are on record it stays a strong warning, and far apart a conflict.
    """
    sour = replace(LOW, soil_ph=Span(4.6, 5.9, "cited", (), thin=True, found=borne))
    limy = replace(SPREADER, soil_ph=Span(best[0] - 0.5, best[1] + 0.5, "cited", (), True, best, found=True))
    found = bed(sour, limy)

    assert word == found.verdict
    assert f"does best at pH {best[0]:.2g} to {best[1]:.2g}" in found.saying
    assert (word == "workable") == any("check first" in c.text for c in found.conditions)
    assert ("no soil is known to suit both" in found.saying) == (word == "workable")


@pytest.mark.parametrize(
    ("depth_m", "word", "chance"),
    [(0.10, "good", 0.01), (0.15, "workable", 0.5), (0.20, "poor", 0.90), (0.25, "avoid", 0.99)],
)
def test_a_recalled_depth_on_the_threshold_asks_and_does_not_decide(
    depth_m: float, word: str, chance: float
) -> None:
    """Beets are pulled among chives, potatoes are dug and end them (common practice of vegetable handbooks).

    Of a depth of 15 cm, known to a quarter either way, half the draws reach 15 cm: a check (`trade` 4.14).
    By hand: 10 cm is 2.33 standard deviations short of it (1 %), 20 cm 1.28 beyond (90 %: little confidence:
    poor at best, `trade` 4.13), 25 cm 2.28 (99 %).
    """
    dug = Estimate(depth_m * 0.75, depth_m, depth_m * 1.25, "recalled", ("record:root.dug",))
    shallow = replace(LOW, root_d50_m=about(0.1), root_d95_m=about(0.4))
    found = bed(replace(ROOT_CROP, dug_depth_m=dug), shallow)

    assert word == found.verdict
    assert pytest.approx(chance, abs=0.01) == chance_of_reaching(dug)
    assert (word == "workable") == any(
        c.text.startswith("check first: Digging for root crop") for c in found.conditions
    )
    assert (word == "avoid") == ("a rule decides" in found.saying)


def test_a_depth_that_stands_in_never_makes_a_pair_to_avoid() -> None:
    """However deep a usual depth is taken to be: poor, and asked about (`trade` 4.13, 4.14)."""
    shallow = replace(LOW, root_d50_m=about(0.1), root_d95_m=about(0.4))
    guessed, read = (
        bed(replace(ROOT_CROP, dug_depth_m=Estimate(0.2, 0.25, 0.35, origin)), shallow)
        for origin in ("form", "cited")
    )

    assert ("poor", "avoid") == (guessed.verdict, read.verdict)
    assert any(c.text.startswith("check first, for this is not on record") for c in guessed.conditions)


def test_no_answer_is_surer_than_the_depth_that_its_rule_rests_on() -> None:
    """A depth of 20 cm that may be 10 to 30 reaches a spade's 15 cm in 70 % of draws (by hand: z = 0.53)."""
    doubtful = Estimate(0.1, 0.2, 0.3, "cited", ("record:root.dug",))
    shallow = replace(LOW, root_d50_m=about(0.1), root_d95_m=about(0.4))
    found = bed(replace(ROOT_CROP, dug_depth_m=doubtful), shallow)

    assert pytest.approx(0.70, abs=0.01) == chance_of_reaching(doubtful)
    assert ("avoid", "fairly sure", False) == (found.verdict, found.sureness.word, found.sureness.by_rule)
    assert "harvest-disturbance" == found.sureness.deciding_trait
    assert "depth dug at harvest of root crop would change it most" in found.saying


@pytest.mark.parametrize(
    ("ph", "thin", "word"),
    [(7.7, True, "workable"), (8.2, True, "poor"), (8.2, False, "avoid"), (8.6, True, "avoid")],
)
def test_one_study_of_the_ph_warns_and_refuses_only_far_beyond_it(ph: float, thin: bool, word: str) -> None:
    """A conflict of little confidence is poor at best (`trade` 4.13); an end is in doubt by 0.4 (3.2)."""
    plant = replace(LOW, soil_ph=Span(6.0, 7.5, "cited", thin=thin))
    other = replace(SPREADER, soil_ph=Span(6.0, 9.0, "cited"))

    assert word == bed(plant, other, Site(soil_ph=ph)).verdict


@pytest.mark.parametrize(
    ("soil_ph", "word"), [(7.5, "good"), (7.7, "workable"), (7.95, "poor"), (8.1, "avoid"), (5.3, "poor")]
)
def test_ground_outside_a_range_of_ph_counts_by_how_far_it_is_outside(soil_ph: float, word: str) -> None:
    """Lime chlorosis grows with pH (handbooks): no cliff from workable to avoid between 8.0 and 8.1."""
    plant = replace(LOW, soil_ph=Span(5.7, 7.5, "cited"))
    other = replace(SPREADER, soil_ph=Span(4.0, 9.0, "cited"))

    assert word == bed(plant, other, Site(soil_ph=soil_ph)).verdict


def test_what_is_outside_the_range_is_said_by_how_far_and_by_what_it_rests_on() -> None:
    """Words and word agree: workable is a little beyond; of a find nobody says that it is what it bears."""
    other = replace(SPREADER, soil_ph=Span(4.0, 9.0, "cited"))
    told = replace(LOW, soil_ph=Span(5.7, 7.5, "cited"))
    found = replace(LOW, soil_ph=Span(5.7, 7.5, "cited", found=True))

    assert "a little beyond what low bears" in bed(told, other, Site(soil_ph=7.7)).saying
    assert "outside what low is taken to bear" in bed(found, other, Site(soil_ph=7.9)).saying
