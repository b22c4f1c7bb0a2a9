"""Time inside a bed: who goes on alone, and what still stands from the year before."""

from dataclasses import replace

from kb.mixture.answers.course_words import weeks_after
from kb.mixture.answers.judgement import judge_planting
from kb.mixture.judging.planting import Member, Planting, stand_of
from kb.mixture.results import PlantingAnswer
from kb.mixture.site import REFERENCE_SITE
from tests.mixture.judged import bed
from tests.mixture.profiles import about, chosen, invented, season, woody

SHORT = invented("short-crop", activity=season(16, 18, 26, 28, end_driver="fixed"))
LONG = invented("long-crop", activity=season(16, 20, 38, 42))
SPRING = invented(
    "spring-crop",
    activity=season(11, 13, 19, 21, end_driver="fixed"),
    tender=chosen("no"),
    nitrogen_demand_g_m2=about(25),
    height_m=LONG.height_m,
)
OVER = invented(
    "winter-crop",
    activity=season(38, 41, 16, 20, end_driver="fixed"),
    tender=chosen("no"),
    nitrogen_demand_g_m2=about(25),
    height_m=LONG.height_m,
)


def planted(clear_week: float | None) -> PlantingAnswer:
    members = (Member(SPRING, 1.0, sow_week=11), Member(OVER, 1.0, sow_week=38, clear_week=clear_week))
    return judge_planting(Planting(members, REFERENCE_SITE, frozenset()), draws=0)


def test_the_weeks_that_one_has_alone_are_said() -> None:
    """Pigeon pea goes on for months after sorghum (intercropping research of the dry tropics)."""
    said = " ".join(reason.text for reason in bed(SHORT, LONG).reasons)
    stand = stand_of(Planting((Member(LONG, 0.5), Member(SHORT, 0.5)), REFERENCE_SITE, frozenset()), draws=0)
    long, short = (subject.likely for subject in stand.subjects)
    weeks = weeks_after(long, short)

    assert 10 < weeks < 20
    assert f"long crop has {weeks} weeks to itself after short crop is off the ground" in said
    assert 0 == weeks_after(short, long) == weeks_after(long, long)


def test_a_shrub_that_is_grown_for_a_season_goes_on_and_a_tree_is_no_news() -> None:
    """Pigeon pea is a shrub in leaf all year (intercropping research of the dry tropics)."""
    shrub, tree = woody("shrub-crop", "shrub", 2.0), woody("tree-crop", "tree", 6.0)
    said = [" ".join(reason.text for reason in bed(SHORT, one).reasons) for one in (shrub, tree)]

    assert ["shrub crop has" in said[0], "to itself" in said[1]] == [True, False]


def test_what_was_sown_the_year_before_is_said_and_clearing_it_is_the_way_out() -> None:
    """Corn salad is off the bed before the spinach of spring (kitchen garden manuals: three crops a year)."""
    standing = planted(None)
    limiting = standing.limiting
    assert limiting is not None
    assert "sown the year before, still standing" in limiting.text
    way = next(found for found in standing.conditions if found.kind == "season")

    assert "winter crop is cleared by week 11" == way.text
    assert (standing.verdict, planted(11).verdict) == (way.verdict_if_unmet, way.verdict_if_met)
    assert not any(found.kind == "season" for found in planted(11).conditions)


def test_crops_of_one_autumn_are_not_called_last_years() -> None:
    """Garlic and broad beans of one autumn meet all winter (kitchen garden manuals)."""
    other = replace(OVER, id="other-crop", name="other crop")
    said = " ".join(reason.text for reason in bed(OVER, other).reasons)

    assert "year before" not in said
