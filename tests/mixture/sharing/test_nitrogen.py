"""Nitrogen given by one plant to the other; kinship; what is named as not computed. Plants invented."""

from dataclasses import replace

import numpy as np
import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.ground.roots import DRAW_EDGES_M
from kb.mixture.ground.share import supply_at
from kb.mixture.profile import Profile
from kb.mixture.relatedness import relation
from kb.mixture.results import PairAnswer
from kb.mixture.sharing.nitrogen import giving, most_benefit
from kb.mixture.sharing.variants import plant_variants
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.profiles import (
    BULB,
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

FIXER = invented(
    "fixer", family=chosen("Fabaceae"), nitrogen_fixing=chosen("yes"), nitrogen_demand_g_m2=about(20)
)
HUNGRY = invented("hungry", nitrogen_demand_g_m2=about(20), activity=season(20, 28, 38, 43))

SUPPLY = supply_at(REFERENCE_SITE, DRAW_EDGES_M)


def bed(a: Profile, b: Profile, *given: str) -> PairAnswer:
    return judge_pair(a, b, REFERENCE_SITE, Arrangement(share_a=0.5, share_b=0.5, given=frozenset(given)))


def test_a_gift_is_told_with_its_amount_and_time() -> None:
    """An annual fixer gives at most a tenth of what it fixes in its season.

    20 g/m2 x 0.7 from air x half the ground x 0-10 % (`trade` 4.7, from memory there).
    """
    gift = bed(FIXER, HUNGRY).nitrogen

    assert gift is not None
    assert (gift.giver, gift.taker) == ("fixer", "hungry")
    assert gift.g_per_m2 == pytest.approx((0.0, 0.7))
    assert "dug in" in gift.when
    assert gift == bed(HUNGRY, FIXER).nitrogen


def test_lasting_cover_that_is_cut_gives_more() -> None:
    """Mown and left lying year after year: 5-20 % at once, 30-50 % of what was cut the year before on top.

    20 g/m2 x 0.7 from air x half the ground x (.05 + .8 x .3 to .2 + .5), worked by hand from `trade` 4.7.
    """
    cover = replace(COVER, nitrogen_demand_g_m2=about(20))
    left, cut = bed(cover, HUNGRY).nitrogen, bed(cover, HUNGRY, "mown").nitrogen

    assert left is not None
    assert cut is not None
    assert cut.g_per_m2 == pytest.approx((2.03, 4.9))
    assert left.g_per_m2[1] < cut.g_per_m2[1]
    assert "cut and left" in cut.when


def test_only_a_recorded_fixer_gives_and_none_takes_from_its_like() -> None:
    """Unknown is not yes; two fixers give each other nothing."""
    unknown = replace(FIXER, nitrogen_fixing=chosen(None))
    guessed = replace(FIXER, nitrogen_fixing=chosen("yes", origin="form"))
    other = replace(FIXER, id="second", genus="second-genus")

    assert bed(unknown, HUNGRY).nitrogen is None
    assert bed(guessed, HUNGRY).nitrogen is None
    assert bed(FIXER, other).nitrogen is None


def test_a_gift_counts_only_as_far_as_it_comes_in_time() -> None:
    """A fixer that is over before its neighbour's peak helps it more than one that follows."""
    before = replace(FIXER, activity=season(8, 12, 20, 24), leaf=season(8, 12, 20, 24))
    after = replace(FIXER, activity=season(36, 40, 44, 47, end_driver="fixed"))

    assert "some of it in time" in (bed(before, HUNGRY).nitrogen or pytest.fail("no gift")).when
    assert "little of it in time" in (bed(after, HUNGRY).nitrogen or pytest.fail("no gift")).when


def test_a_fixer_leaves_the_soils_nitrogen_to_the_other() -> None:
    """Beside a fixer a hungry crop loses less nitrogen than beside its like that does not fix."""
    eater = replace(FIXER, nitrogen_fixing=chosen("no"))
    full = Arrangement(share_a=0.8, share_b=0.8)
    with_fixer, with_eater = (
        judge_pair(plant, HUNGRY, REFERENCE_SITE, full).loss["hungry"].roots for plant in (FIXER, eater)
    )

    assert with_fixer <= with_eater
    assert any("leaves most of the soil's nitrogen" in reason.text for reason in bed(FIXER, HUNGRY).benefits)


@pytest.mark.parametrize(
    ("changes", "kinship", "shared"),
    [
        # The steps of `trade` 4.6 (judgement); family unknown counts as the same.
        ({"id": "taproot.late-group"}, "species", 1.0),
        ({"genus": TAPROOT.genus}, "genus", 0.55),
        ({"family": TAPROOT.family}, "family", 0.45),
        ({"family": chosen(None)}, "unknown", 0.45),
        ({}, "none", 0.05),
    ],
)
def test_kinship_is_graded(changes: dict[str, object], kinship: str, shared: float) -> None:
    """The nearer related, the more enemies are taken as shared; both ways the same."""
    other = replace(BULB, **changes)  # type: ignore[arg-type]
    found = relation(TAPROOT, other)

    assert (kinship, shared) == (found.kinship, found.shared)
    assert found == relation(other, TAPROOT)


def test_one_genus_is_said_and_not_yet_a_conflict() -> None:
    """Cousins with no shared enemy named are workable, and unsure (common practice: a ley of two clovers)."""
    answer = bed(TAPROOT, replace(BULB, genus=TAPROOT.genus))

    assert (answer.verdict, answer.sureness.word) == ("workable", "unsure")
    assert answer.limiting is not None
    assert answer.limiting.kind == "family"
    assert "one genus" in answer.limiting.text


@pytest.mark.parametrize(
    ("one", "other", "named"),
    [
        (
            replace(SMALL_TREE, family=chosen("Pinaceae")),
            lasting("currant", family=chosen("Grossulariaceae")),
            "Rusts",
        ),
        (
            lasting("runner", family=chosen("Rosaceae")),
            invented("fruit", family=chosen("Solanaceae")),
            "Wilts of the soil",
        ),
        (SMALL_TREE, woody("bush", "shrub", 1.6), "Two woody crowns are reckoned as if"),
    ],
)
def test_what_could_matter_and_is_not_computed_is_named(one: Profile, other: Profile, named: str) -> None:
    """Such a mechanism stands in the notes, and the answer is unsure for it."""
    answer = bed(one, other)

    assert any(note.startswith(named) for note in answer.notes)
    assert answer.sureness.word == "unsure"


def test_a_second_hindrance_is_said_too() -> None:
    """Two things in the way: the saying names the second after the first."""
    runner = lasting(
        "creeper",
        spread=chosen("runs"),
        height_m=about(0.4),
        soil_ph=replace(TAPROOT.soil_ph, low=3.5, high=5),
    )
    answer = bed(runner, TAPROOT)

    assert answer.verdict == "avoid"
    assert "no soil suits both" in answer.saying
    assert "reeper runs into taproot" in answer.saying


def test_a_need_met_but_for_rounding_takes_no_gift() -> None:
    """Whether a sum of uptakes ends a hair above or below the need must not decide a benefit."""
    giver, taker = (plant_variants(plant, REFERENCE_SITE, SUPPLY, draws=0) for plant in (FIXER, HUNGRY))
    rows = (np.zeros(3, dtype=np.intp), np.zeros(3, dtype=np.intp))
    unmet = np.array([0.0, 3e-15, 1.0])

    gift = giving(giver, taker, share=0.5, unmet=unmet, part=np.ones(3), given=frozenset(), rows=rows)

    assert [0.0, 0.0] == gift.benefit[:2].tolist()
    assert gift.benefit[2] > 0
    assert most_benefit(FIXER, frozenset(), fixed=7.0, share=0.5, unmet=3e-15) == 0


def test_feeding_lifts_what_want_of_nitrogen_holds_down() -> None:
    """A cereal's many roots take a herb's nitrogen; fed ground gives both more (common practice: manure)."""
    hungry = replace(TAPROOT, nitrogen_demand_g_m2=about(28), root_d50_m=about(0.15), root_d95_m=about(0.6))
    hungry = replace(hungry, growth_form=chosen("graminoid"))
    modest = replace(BULB, nitrogen_demand_g_m2=about(15), activity=hungry.activity, leaf=hungry.leaf)
    modest = replace(modest, root_d50_m=hungry.root_d50_m, root_d95_m=hungry.root_d95_m)
    plain, fed = (bed(hungry, modest, *words) for words in ((), ("fed",)))
    (offered,) = [one for one in plain.conditions if one.given == "fed"]

    assert (offered.verdict_if_unmet, offered.verdict_if_met) == (plain.verdict, fed.verdict)
    assert plain.verdict != fed.verdict
    assert "unless the ground is fed" in plain.saying
    assert not [one for one in fed.conditions if one.given == "fed"]


def test_a_gift_that_nobody_would_see_is_no_merit() -> None:
    """Under 1 kg/ha (0.1 g/m2) is below what any field trial tells apart; the amount stays in the answer."""
    tiny = replace(FIXER, nitrogen_demand_g_m2=about(1.0))
    large, small = (judge_pair(one, TAPROOT, REFERENCE_SITE, Arrangement()) for one in (FIXER, tiny))

    for said, named in ((large, True), (small, False)):
        assert said.nitrogen is not None
        assert named == (said.nitrogen.g_per_m2[1] >= 0.1)
        assert named == any(" of nitrogen: " in benefit.text for benefit in said.benefits)
