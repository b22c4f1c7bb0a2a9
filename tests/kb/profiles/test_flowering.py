"""Weeks in flower, and what drives a season, from what is on record."""

from dataclasses import replace

import pytest

from kb.mixture.season import DAYS_PER_WEEK
from kb.mixture.site import REFERENCE_SITE
from kb.mixture.weeks.as_grown import leaf_by_week
from kb.profiles.flowering import CLASS_DOUBT_WEEKS, CLASS_MIDDLE_MONTH, DATE_DOUBT_WEEKS, MONTHS_A_CLASS
from kb.repository import open_repository
from tests.kb.test_table import a_record, profile_of


@pytest.mark.parametrize(
    ("flowering_class", "first_month", "last_month"),
    [("1", 1, 3), ("15", 9, 10)],
    ids=["Corylus avellana", "Hedera helix"],
)
def test_classes_lie_where_another_flora_has_the_months(flowering_class, first_month, last_month):
    """Classes of Tyler et al. 2021 beside the months of a French table (`data` section 6), to a month."""
    flowers = profile_of(a_record("flowering-class-1-15", flowering_class)).flowers

    assert flowers is not None
    middle = (flowers.start + 1) * DAYS_PER_WEEK / 30.4 + 1
    assert first_month - 1 <= middle <= last_month + 2
    assert "cited" == flowers.origin


def test_class_seven_is_the_middle_of_june():
    """Month 6.0 of the rule is mid June (`data` section 4): weeks 22 to 26 hold the 15th, week 24."""
    flowers = profile_of(a_record("flowering-class-1-15", "7")).flowers

    assert flowers is not None
    assert flowers.start < 15 / 7 + 151 / 7 + 1 < flowers.end


def test_the_records_tell_how_a_class_is_taken():
    """Month 2.5 + p/2 with 6.0 mid June (`data` section 4): class 8 is the turn of June and July."""
    plants = open_repository(None).snapshot().plants.values()
    notes = {r.note for p in plants for r in p.records if r.trait == "flowering-class-1-15"}
    rule = f"month {CLASS_MIDDLE_MONTH} + class/{1 / MONTHS_A_CLASS:.0f} with 6.0 the middle of June"

    assert notes
    assert [] == [note for note in notes if rule not in (note or "")]


def test_a_window_with_both_ends_is_taken_as_it_is():
    """Recorded weeks come with their record and what they are; a class beside them is not needed."""
    flowers = profile_of(
        a_record("flowering-window", ("18", "23")), a_record("flowering-class-1-15", "12")
    ).flowers

    assert flowers is not None
    assert (18.0, 23.0, "cited") == (flowers.start, flowers.end, flowers.origin)
    assert 1 == len(flowers.records)
    assert profile_of(a_record("mature-height", "0.5")).flowers is None


@pytest.mark.parametrize(
    "word", ["Bloom Period Early Spring", "Flowering spring\N{EN DASH}fall", "in late summer"]
)
def test_a_season_s_name_gives_way_to_dates_and_to_a_flora_s_class(word: str):
    """Lucerne: "Spring" in the United States' characteristics, class 7 to 8 in the flora of Sweden, June on.

    FAO-56 and every flora of Europe have it in flower from June (common teaching); a name stands only alone.
    """
    named = replace(a_record("flowering-window", ("9", "22")), verbatim=word)
    dated = replace(a_record("flowering-window", ("23", "35")), verbatim="June to August")
    a_class = a_record("flowering-class-1-15", "7.5")

    alone, beside, classed = (
        profile_of(*told).flowers for told in ((named,), (named, dated), (named, a_class))
    )

    assert alone is not None
    assert (9.0, CLASS_DOUBT_WEEKS) == (alone.start, alone.doubt_weeks)
    assert beside is not None
    assert (23.0, 35.0, DATE_DOUBT_WEEKS) == (beside.start, beside.end, beside.doubt_weeks)
    assert classed is not None
    assert classed.start > 20
    assert CLASS_DOUBT_WEEKS == classed.doubt_weeks


def test_months_of_practice_decide_before_the_name_of_a_season():
    """Quince: "Early Spring" in the United States' characteristics; Rostock has May and June."""
    named = replace(a_record("flowering-window", ("9", "13")), verbatim="Bloom Period Early Spring")
    recalled = replace(
        a_record("flowering-window", ("18", "21"), basis="recalled"), verbatim="in flower in May"
    )

    flowers = profile_of(named, recalled).flowers

    assert flowers is not None
    assert (18.0, 21.0) == (flowers.start, flowers.end)


def test_half_evergreens_keep_part_of_their_leaf_in_winter():
    """Merriam-Webster: having "persistent foliage during part of the winter or dry season"."""
    shrub = a_record("growth-form", concept="shrub")
    half, bare = (
        leaf_by_week(profile_of(shrub, a_record("leaf-retention", concept=kept)), REFERENCE_SITE)
        for kept in ("semi-evergreen", "deciduous")
    )

    mid_december, at_its_best = 49, 26
    assert 0.0 == bare[mid_december]
    assert 0.1 < half[mid_december] < 0.5
    assert bare[at_its_best] == half[at_its_best]
    assert half.sum() > bare.sum()


def test_hardy_woody_plants_that_drop_their_leaves_need_a_winter():
    """Their start waits for chill; of those that bear little frost, and of evergreens, it does not."""
    wood = (a_record("growth-form", concept="tree"), a_record("growth-window", ("16", "44")))
    bare = a_record("leaf-retention", concept="deciduous")

    assert "chill" == profile_of(*wood, bare, a_record("hardiness", "-25")).activity.start_driver
    assert "spring-heat" == profile_of(*wood, bare, a_record("hardiness", "-8")).activity.start_driver
    assert "spring-heat" == profile_of(*wood, bare).activity.start_driver
    hardy = profile_of(*wood, a_record("hardiness", "-25"))
    assert "spring-heat" == hardy.activity.start_driver
    assert hardy.hardiness_c is not None
    assert -25.0 == hardy.hardiness_c.likely


def test_bulbs_follow_the_length_of_the_day():
    """A herb with a bulb ends by day length; another hardy herb by its own dates."""
    herb = (a_record("growth-form", concept="herb"), a_record("growth-window", ("12", "30")))

    assert "day-length" == profile_of(*herb, a_record("root-form", concept="bulb")).activity.end_driver
    assert "fixed" == profile_of(*herb).activity.end_driver
