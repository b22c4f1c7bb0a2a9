"""Which verdicts change between two versions, and what did it: held against judging by hand."""

from dataclasses import fields, replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture.answers.pair import judge_pair
from kb.mixture.lists.verdict_changes import PARTS, Known, pairs_to_try, verdict_changes
from kb.mixture.lists.worth import arrangement_of
from kb.mixture.profile import Profile, Sown, Span
from kb.mixture.results import ORDER
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.profiles import (
    BULB,
    COVER,
    SMALL_TREE,
    SPRING_BULB,
    TALL_GRASS,
    TAPROOT,
    about,
    chosen,
    profiles,
)

ALL = (TAPROOT, BULB, TALL_GRASS, SPRING_BULB, SMALL_TREE, COVER)
SOUR = replace(BULB, soil_ph=Span(3.8, 4.6, "cited", ("record:bulb.sour",)))


def known(*plants: Profile) -> Known:
    return Known({plant.id: plant for plant in plants})


def test_parts_hold_every_field_once() -> None:
    """Asked what did it, no field of a profile is left out but its names and the height it is cut to."""
    listed = [name for part in PARTS.values() for name in part]

    apart = {"id", "name", "scientific_name", "genus", "kept_m"}
    assert sorted({f.name for f in fields(Profile)} - apart) == sorted(listed)


def test_a_version_changes_no_verdict_of_its_own() -> None:
    """The same profiles twice: every pair keeps its word."""
    pairs = pairs_to_try(ALL, 50)
    found = verdict_changes(known(*ALL), known(*ALL), pairs, REFERENCE_SITE)

    assert () == found.changed
    assert len(pairs) == found.tried == sum(found.counts.values())
    assert all(was == now for was, now in found.counts)


def test_what_did_it_is_found_with_its_record() -> None:
    """A bulb that wants sour soil cannot stand with a taproot any more, and the new record is named."""
    old, new = known(TAPROOT, BULB), known(TAPROOT, SOUR)
    (change,) = verdict_changes(old, new, [("taproot", "bulb")], REFERENCE_SITE).changed

    assert ("avoid", True, "ph") == (change.after, change.worse, change.limiting and change.limiting.kind)
    assert [("bulb", "ph", ("record:bulb.sour",))] == [(d.plant, d.part, d.records) for d in change.did_it]


def test_the_other_way_round_it_is_better() -> None:
    """Old and new are not the same: what got worse gets better when they change places."""
    pair = [("taproot", "bulb")]
    worse = verdict_changes(known(TAPROOT, BULB), known(TAPROOT, SOUR), pair, REFERENCE_SITE).changed[0]
    better = verdict_changes(known(TAPROOT, SOUR), known(TAPROOT, BULB), pair, REFERENCE_SITE).changed[0]

    assert (worse.before, worse.after) == (better.after, better.before)
    assert (True, False) == (worse.worse, better.worse)


def test_worse_comes_before_better() -> None:
    """All that got worse is listed first, the worst word first."""
    gone_sour = {p.id: replace(p, soil_ph=Span(3.8, 4.6, "cited", ("r",))) for p in (TALL_GRASS, COVER)}
    old = known(TAPROOT, SOUR, TALL_GRASS, COVER)
    new = known(TAPROOT, BULB, *gone_sour.values())
    pairs = [("taproot", "bulb"), ("taproot", "tallgrass"), ("taproot", "cover")]
    found = verdict_changes(old, new, pairs, REFERENCE_SITE).changed

    assert [True, True, False] == [change.worse for change in found]


@settings(max_examples=12, deadline=None)
@given(profiles("one"), profiles("other"), profiles("other"))
def test_every_word_is_that_of_judging_by_hand(a: Profile, b: Profile, later: Profile) -> None:
    """Both words of any pair of any two versions are those that `judge_pair` gives."""
    under = a.growth_form.value == "tree"
    found = verdict_changes(known(a, b), known(a, later), [("one", "other")], REFERENCE_SITE)
    by_hand = tuple(
        judge_pair(a, other, REFERENCE_SITE, arrangement_of(a, under=under), draws=0).verdict
        for other in (b, later)
    )

    assert {by_hand: 1} == found.counts
    assert [by_hand] * (by_hand[0] != by_hand[1]) == [(c.before, c.after) for c in found.changed]


def test_pairs_are_the_same_every_time_and_never_more_than_asked() -> None:
    """The draw is fixed; nobody is paired with itself or twice with the same plant."""
    pairs = pairs_to_try(ALL, 7)

    assert pairs == pairs_to_try(ALL, 7)
    assert 7 == len(pairs) == len({frozenset(pair) for pair in pairs})
    assert all(a != b for a, b in pairs)


@pytest.mark.parametrize("count", [1, 15, 500])
def test_all_pairs_are_tried_where_more_are_asked(count: int) -> None:
    """Six plants make at most fifteen pairs."""
    assert min(count, 15) == len(pairs_to_try(ALL, count))


def test_a_tree_of_today_is_judged_as_one_in_both() -> None:
    """What is a tree only now stands over the other in both versions, so that one question is asked."""
    before = replace(SMALL_TREE, growth_form=chosen("shrub"), height_m=about(4.5))
    found = verdict_changes(
        known(before, SPRING_BULB),
        known(SMALL_TREE, SPRING_BULB),
        [("smalltree", "springbulb")],
        REFERENCE_SITE,
    )
    arrangement = arrangement_of(before, under=True)
    by_hand = judge_pair(before, SPRING_BULB, REFERENCE_SITE, arrangement, draws=0).verdict

    assert [by_hand] == [was for was, _ in found.counts]
    assert isinstance(arrangement, Arrangement)
    assert by_hand in ORDER
    assert st is not None


def test_kin_that_do_well_together_after_all_did_it() -> None:
    """Statements on kin stand in a table and are no records: what did it is told all the same."""
    kin = replace(BULB, family=TAPROOT.family)
    cleared = replace(TAPROOT, kin_exceptions=((str(kin.id), "seldom share a disease"),))
    (change,) = verdict_changes(
        known(TAPROOT, kin), known(cleared, kin), [("taproot", "bulb")], REFERENCE_SITE
    ).changed

    assert not change.worse
    assert [("taproot", "family")] == [(d.plant, d.part) for d in change.did_it]


def test_a_season_of_several_sowings_names_the_records_of_each() -> None:
    """A crop with a further time of sowing, moved: the season did it, with the records of each sowing."""
    late = replace(BULB.activity, start=20.0, full=24.0, records=("record:bulb.late",))
    spring = SPRING_BULB.activity
    moved = replace(TALL_GRASS, activity=spring, leaf=spring, sowings=(Sown(late, late),))
    pair = [(SMALL_TREE.id, TALL_GRASS.id)]
    (change,) = verdict_changes(
        known(SMALL_TREE, TALL_GRASS), known(SMALL_TREE, moved), pair, REFERENCE_SITE
    ).changed
    (did,) = change.did_it

    assert (TALL_GRASS.id, "season") == (did.plant, did.part)
    assert {*spring.records, "record:bulb.late"} == set(did.records)
