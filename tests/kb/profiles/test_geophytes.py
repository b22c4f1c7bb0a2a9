"""Seasons of bulbs, corms and tubers of which none is on record."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from kb.mixture.profile import Profile
from kb.model import Record, TraitId
from kb.profiles.geophytes import FADED_WEEKS, LEAVES_OUT_WEEK, StandInCourse, geophyte_course
from kb.profiles.known_values import KnownValues
from kb.repository import open_repository
from tests.kb.test_table import a_record, profile_of

LATE_SUMMER = ("28", "32")


@cache
def _observed_in_spring() -> tuple[tuple[float, float, StandInCourse], ...]:
    """Lasting geophytes of the base that flower before trees leaf: first leaf, fading, what stands in."""
    return tuple(_both())


def _both() -> Iterator[tuple[float, float, StandInCourse]]:
    snapshot = open_repository().snapshot()
    by_id = {record.id: record for plant in snapshot.plants.values() for record in plant.records}
    for profile in snapshot.profiles():
        values = KnownValues(snapshot.adopted(profile.id), by_id)
        early = profile.flowers is not None and profile.flowers.start < LEAVES_OUT_WEEK
        fades, leaf = values.fades(), values.adopted.get(TraitId("leaf-window"))
        unseen = KnownValues(
            {trait: value for trait, value in values.adopted.items() if trait != "leaf-window"}, by_id
        )
        course = geophyte_course(unseen, profile.growth_form.value or "herb")
        if course is not None and early and fades is not None and leaf is not None and leaf.low is not None:
            yield leaf.low, fades, course


def test_the_stand_in_meets_leaf_weeks_that_were_observed():
    """Beside the weeks of a network of botanic gardens (PhenObs), which the stand-in is not shown here.

    Of the corners of these spring plants eight in ten lie within the doubt, as an interval of 10-90 % has it,
    the end beside the weeks from the first yellow leaf on; the herb of summer met none of their ends.
    """
    seen = _observed_in_spring()
    ends = [(fades, course.corners[3]) for _, fades, course in seen]
    missed = [abs(first - course.corners[0]) for first, _, course in seen]
    missed += [max(fades - end, end - fades - FADED_WEEKS, 0.0) for fades, end in ends]

    assert len(seen) >= 9
    assert sum(weeks <= 4 for weeks in missed) >= 0.8 * len(missed)
    assert all(fades < 26 for _, fades, _ in seen)


def test_what_flowers_and_yellows_before_midsummer_is_of_spring_whatever_its_store():
    """Wood anemone, a rhizome, is gone by midsummer; coltsfoot yellows in September (PhenObs)."""
    early = a_record("flowering-window", ("12", "15"))

    def seen_to_fade(week: str) -> Profile:
        leaf = replace(a_record("leaf-window", ("10", None)), conditions=(("senescence-from", week),))
        return bulb(early, leaf, store="rhizome")

    anemone, coltsfoot = seen_to_fade("22.8").leaf, seen_to_fade("35.6").leaf
    herb = profile_of(a_record("growth-form", concept="herb")).leaf

    assert 22.8 <= anemone.end <= 26
    assert herb.end == coltsfoot.end
    assert {("form", 10.0)} == {(leaf.origin, leaf.start) for leaf in (anemone, coltsfoot)}


def test_an_onset_of_senescence_is_a_floor_of_the_end_and_no_end():
    """Chives and dandelion yellow a leaf in summer and are cut to October; archangel yellows in November.

    The protocol of the gardens notes the first day on which it was seen on one plant (Nordt et al. 2021).
    """

    def faded(week: str) -> Profile:
        leaf = replace(a_record("leaf-window", ("8", None)), conditions=(("senescence-from", week),))
        return profile_of(a_record("growth-form", concept="herb"), leaf)

    usual = profile_of(a_record("growth-form", concept="herb")).leaf.end

    assert (usual, 45.6) == (faded("25.7").leaf.end, faded("45.6").leaf.end)
    assert usual == faded("25.7").activity.end, "no growth without a leaf"


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
