"""Winters in degrees, frost in every month, and buds that need a winter."""

from dataclasses import replace

import pytest

from kb.mixture.answers.succession import judge_follow
from kb.mixture.follow.grown_after import FollowOn
from kb.mixture.profile import Estimate
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.weeks.warmth import guessed_winter_c
from kb.mixture.weeks.winter import winter_c
from tests.mixture.judged import bed
from tests.mixture.profiles import chosen, lasting, season

COLD = replace(REFERENCE_SITE, winter_min_c=-20.0)
FROST_FREE = Site(latitude=30.0, last_frost_day=None, first_frost_day=None)
OTHER = lasting("other", hardiness_c=Estimate(-45, -40, -35, "cited", ("record:other.hardiness",)))


def bearing(degrees: float, origin="cited", **changes):
    """An invented shrub, its buds in the air, that bears so many degrees of frost."""
    records = ("record:hardy.hardiness",)
    plain = {"growth_form": chosen("shrub")}
    bears = Estimate(degrees - 4, degrees, degrees + 4, origin, records)
    return lasting("hardy", hardiness_c=bears, **(plain | changes))


def winter(answer: PairAnswer) -> tuple[str, ...]:
    return tuple(c.text for c in answer.conditions if c.kind == "hardiness")


@pytest.mark.parametrize(
    ("bears", "verdict", "word"),
    [
        (-12.0, "avoid", "nearly every winter"),
        (-21.0, "poor", "about one winter in 3"),
        (-24.0, "workable", "11"),
    ],
)
def test_hardiness_is_judged_in_degrees(bears, verdict, word):
    """Winters to -20 that differ by 3 degrees: normal tails 0.996, 0.37, 0.09 (a printed table)."""
    answer = bed(bearing(bears), OTHER, site=COLD)

    assert verdict == answer.verdict
    assert answer.limiting is not None
    assert ("hardiness", ("record:hardy.hardiness",)) == (answer.limiting.kind, answer.limiting.records)
    assert f"{bears:.0f} °C".replace("-", "−") in answer.limiting.text
    assert "−20 °C" in answer.limiting.text
    assert word in answer.limiting.text


def test_a_plant_that_bears_far_more_is_not_praised():
    """Nothing reassures: no word on hardiness where the winters are no danger."""
    answer = bed(bearing(-35.0), OTHER, site=COLD)

    assert () == winter(answer)
    assert not any("hardiness" == reason.kind for reason in (*answer.reasons, *answer.benefits))


@pytest.mark.parametrize("plant", [bearing(-18.0), bearing(-18.0, growth_form=chosen("herb"))])
def test_colder_winters_never_lift_a_verdict(plant):
    """Step by step colder, from -5 to -40 degrees: the word stays or falls."""
    order = ["avoid", "poor", "workable", "good"]
    said = [
        order.index(bed(plant, OTHER, site=replace(COLD, winter_min_c=-float(cold))).verdict)
        for cold in range(5, 41, 5)
    ]

    assert sorted(said, reverse=True) == said
    assert said[0] > said[-1]


@pytest.mark.parametrize(
    ("coldest", "verdict", "otherwise"), [(-30.0, "workable", "avoid"), (-45.0, "avoid", "avoid")]
)
def test_buds_at_the_ground_winter_under_straw_or_snow(coldest, verdict, otherwise):
    """Strawberries are grown in the prairies under straw and snow (soft fruit handbooks of cold countries).

    Air 7 degrees colder than the plant bears is a condition; air colder by 20 is beyond any mulch.
    """
    herb = bearing(-25.0, growth_form=chosen("herb"))
    site = replace(COLD, winter_min_c=coldest)
    other = replace(OTHER, hardiness_c=Estimate(-75, -70, -65, "cited", ("record:other.hardiness",)))
    answer, mulched = (bed(herb, other, site=site, given=frozenset(words)) for words in ((), ("mulch",)))
    told = next(c for c in answer.conditions if c.kind == "hardiness")

    assert (verdict, verdict) == (answer.verdict, mulched.verdict)
    assert otherwise == told.verdict_if_unmet
    assert ("mulch" == told.given) == (verdict == "workable")
    assert ("workable" == verdict) == ("lasting snow" in told.text)


def test_the_same_cold_kills_a_shrub_whose_buds_stand_in_the_air():
    """Rosemary is not saved by straw about its foot (common practice: it is taken in)."""
    site = replace(COLD, winter_min_c=-30.0)

    assert "avoid" == bed(bearing(-25.0), OTHER, site=site, given=frozenset({"mulch"})).verdict


def test_a_herb_in_one_hard_winter_of_many_is_covered_then():
    """One winter in 11 is colder: workable, good where it is mulched (`hardiness` in degrees, above)."""
    herb = bearing(-24.0, growth_form=chosen("herb"))
    bare, mulched = (bed(herb, OTHER, site=COLD, given=frozenset(words)) for words in ((), ("mulch",)))

    assert ("workable", "good") == (bare.verdict, mulched.verdict)


def test_a_guessed_winter_asks_and_never_avoids():
    """Nobody said how cold it gets: what could be killed is to be checked, not refused."""
    answer = bed(bearing(-10.0), OTHER, site=REFERENCE_SITE)

    assert "good" == answer.verdict
    assert any(text.startswith("check first: ") and "rough guess: −8 °C" in text for text in winter(answer))
    assert "poor" == bed(bearing(-4.0), OTHER, site=REFERENCE_SITE).verdict
    herb = bearing(-4.0, growth_form=chosen("herb"))
    assert "workable" == bed(herb, OTHER, site=REFERENCE_SITE).verdict


def test_an_unknown_hardiness_is_asked_where_cold_could_kill():
    """Not on record: a note at a mild site, a thing to check where somebody said how cold it gets."""
    unknown = lasting("unknown")

    mild, cold = (bed(unknown, OTHER, site=site) for site in (REFERENCE_SITE, COLD))

    assert () == winter(mild)
    assert any("How cold a winter it bears is not on record" in note for note in mild.notes)
    assert any("check first" in text for text in winter(cold))
    assert mild.score.likely == pytest.approx(cold.score.likely)


def test_a_crop_of_the_tropics_is_not_good_where_winters_freeze_until_its_hardiness_is_on_record():
    """Ginger rots in the cold wet ground of a northern winter (handbooks of spices): unknown is no good news.

    Where no frost comes, under cover, and of a plant that is listed for no tropics, nothing is held back.
    """
    ginger = lasting("ginger", winters=chosen("none"))
    frozen, warm = (bed(ginger, OTHER, site=site) for site in (REFERENCE_SITE, FROST_FREE))
    recorded = bed(bearing(-25.0, winters=chosen("none")), OTHER, site=REFERENCE_SITE)

    assert ("poor", "good", "good") == (frozen.verdict, warm.verdict, recorded.verdict)
    assert any("crop of the tropics" in text and "not on record" in text for text in winter(frozen))
    assert {"good"} == {c.verdict_if_met for c in frozen.conditions if c.kind == "hardiness"}
    assert frozen.sureness.word != "sure"
    assert not any("not judged" in note and "ginger" in note for note in frozen.notes)


def test_what_follows_is_judged_against_the_winters_too():
    """Grown after another, a plant that the winters kill is one to avoid all the same."""
    after = judge_follow(OTHER, bearing(-12.0), COLD, FollowOn())

    assert "avoid" == after.verdict
    assert any("hardiness" == condition.kind for condition in after.conditions)
    guess = judge_follow(OTHER, bearing(-10.0), REFERENCE_SITE, FollowOn())
    assert any("check first" in condition.text for condition in guess.conditions)


def test_winters_do_not_matter_to_a_crop_of_one_season():
    """An annual is gone before winter, whatever it bears."""
    annual = replace(bearing(-2.0), life_cycle=chosen("annual"))

    assert "good" == bed(annual, OTHER, site=COLD).verdict


def test_frost_in_every_month_kills_a_tender_annual_too():
    """Where no month is free of frost, covering it all year is the only way."""
    arctic = replace(REFERENCE_SITE, last_frost_day=172, first_frost_day=172, frost_every_month=True)
    tender = lasting("tender-one", life_cycle=chosen("annual"), tender=chosen("yes", "record:tender"))

    answer = bed(tender, OTHER, site=arctic)

    assert "avoid" == answer.verdict
    assert any("in every month" in reason.text for reason in answer.reasons)


def test_buds_that_need_a_winter_say_so_where_there_is_none():
    """Apple-like plants at a frost-free place: poor, unless a kind bred for it (common practice)."""
    apple_like = bearing(-30.0, activity=season(16, 20, 42, 45, start_driver="chill"))

    assert "poor" == bed(apple_like, OTHER, site=FROST_FREE).verdict
    assert "good" == bed(apple_like, OTHER).verdict


def test_the_guess_is_colder_towards_the_pole_and_with_a_shorter_summer():
    """A rough guess, labelled as one: -8 at the reference site, never above freezing with frost."""
    short = replace(REFERENCE_SITE, last_frost_day=160, first_frost_day=250)

    assert -8.0 == guessed_winter_c(REFERENCE_SITE)
    assert guessed_winter_c(short) < -8
    assert guessed_winter_c(replace(short, latitude=65.0)) < guessed_winter_c(short)
    assert guessed_winter_c(Site(latitude=25.0, last_frost_day=20, first_frost_day=345)) < 0
    assert (-8.0, True) == winter_c(REFERENCE_SITE)
    assert (-20.0, False) == winter_c(COLD)


def test_clay_is_a_thing_to_check_for_plants_of_dry_ground():
    """Heavy ground lies wet in winter (`trade` 4.8, common practice); the verdict is not held down by it."""
    dry = replace(bearing(-40.0), moisture=replace(OTHER.moisture, low=2.0, high=4.5))
    clay, loam = (bed(dry, OTHER, site=Site(moisture=4, soil_texture=kind)) for kind in ("clay", "loam"))

    assert any("drainage" in condition.text for condition in clay.conditions)
    assert not any("drainage" in condition.text for condition in loam.conditions)
    assert clay.verdict == loam.verdict
