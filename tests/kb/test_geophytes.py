"""Seasons of bulbs, corms and tubers of which none is on record."""

from collections.abc import Iterator
from functools import cache

import pytest

from kb.geophytes import LEAVES_OUT_WEEK, StandInCourse, geophyte_course
from kb.known_values import KnownValues
from kb.mixture.profile import Profile
from kb.model import Record
from kb.repository import open_repository
from tests.kb.test_table import a_record, profile_of

LATE_SUMMER = ("28", "32")


@cache
def _observed_in_spring() -> tuple[tuple[Profile, StandInCourse], ...]:
    """Lasting geophytes of the base that flower before trees leaf and have weeks of leaf on record."""
    return tuple(_both())


def _both() -> Iterator[tuple[Profile, StandInCourse]]:
    snapshot = open_repository().snapshot()
    records = {record.iri: record for plant in snapshot.plants.values() for record in plant.records}
    by_id = {record.id: record for record in records.values()}
    for profile in snapshot.profiles():
        values = KnownValues(snapshot.adopted(profile.id), by_id)
        course = geophyte_course(values, profile.growth_form.value or "herb")
        early = profile.flowers is not None and profile.flowers.start < LEAVES_OUT_WEEK
        if course is not None and early and profile.leaf.origin == "cited":
            yield profile, course


def test_the_stand_in_meets_leaf_weeks_that_were_observed():
    """Beside the leaf weeks of a network of botanic gardens (PhenObs), which the stand-in does not see.

    Of the corners of these spring plants eight in ten lie within the doubt, as an interval of 10-90 % has it;
    the herb of summer, which stood in before, met none of their ends.
    """
    seen = _observed_in_spring()
    missed = [
        abs(known - stood)
        for profile, course in seen
        for known, stood in (
            (profile.leaf.start, course.corners[0]),
            (profile.leaf.end, course.corners[3]),
        )
    ]

    assert len(seen) >= 9
    assert sum(weeks <= 4 for weeks in missed) >= 0.8 * len(missed)
    assert all(profile.leaf.end < 26 for profile, _ in seen)


def bulb(*records: Record, store: str = "bulb") -> Profile:
    return profile_of(
        a_record("growth-form", concept="herb"),
        a_record("life-cycle", concept="perennial"),
        a_record("life-form", concept="geophyte"),
        a_record("storage-organ", concept=store),
        *records,
    )


def test_a_bulb_of_spring_is_gone_by_midsummer():
    """Woodland ecology: the flora of the floor that flowers before the trees leaf dies down by June."""
    course = bulb(a_record("flowering-window", ("12", "15"))).activity

    assert 26 >= course.end > 20 > course.start
    assert "form" == course.origin
    assert not course.known


def test_a_corm_that_flowers_in_autumn_is_in_leaf_through_the_winter():
    """Saffron growing: in leaf from October (week 40) to April (week 18), bare in summer."""
    corm = bulb(a_record("flowering-window", ("40", "44")), store="corm").activity
    listed_as_tuber = bulb(
        a_record("flowering-window", ("40", "44")), a_record("family", concept="Iridaceae"), store="tuber"
    ).activity

    assert (corm.start, corm.end) == (listed_as_tuber.start, listed_as_tuber.end)
    assert 40 <= corm.start <= 44
    assert 14 <= corm.end <= 20


@pytest.mark.parametrize("flowering", [(), (a_record("flowering-window", LATE_SUMMER),)])
def test_where_nothing_tells_the_course_the_doubt_spans_both(flowering):
    """`trade` 4.14: a missing value is an interval; it reaches from the spring course to the summer one."""
    course = bulb(*flowering).activity
    summer = profile_of(a_record("growth-form", concept="herb")).activity

    assert course.doubt_weeks > summer.doubt_weeks
    assert course.start - course.doubt_weeks < 6
    assert course.end + course.doubt_weeks > 40


@pytest.mark.parametrize(
    "other",
    [
        (a_record("life-form", concept="hydrophyte"), a_record("storage-organ", concept="tuber")),
        (a_record("life-form", concept="geophyte"), a_record("storage-organ", concept="rhizome")),
        (a_record("life-cycle", concept="annual"), a_record("storage-organ", concept="bulb")),
        (a_record("tender", concept="frost-tender"), a_record("storage-organ", concept="corm")),
    ],
    ids=["plant of the water", "rootstock", "crop of one season", "tender"],
)
def test_other_stores_keep_the_season_of_their_form(other):
    """Coltsfoot flowers in March from a rhizome and is in leaf until autumn; arrowhead stands in summer."""
    herb = a_record("growth-form", concept="herb")
    early = a_record("flowering-window", ("12", "15"))

    assert profile_of(herb).activity.end == profile_of(herb, early, *other).activity.end


def test_a_season_on_record_counts_before_any_stand_in():
    """What was observed is taken, whatever its store and flower would say."""
    course = bulb(a_record("flowering-window", ("12", "15")), a_record("leaf-window", ("10", "40"))).activity

    assert (10.0, 41.0, "cited") == (course.start, course.end, course.origin)
