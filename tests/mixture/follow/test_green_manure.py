"""When a green manure is turned in where nobody says so: green, and in time for what follows."""

from dataclasses import replace

import pytest

from kb.mixture.follow.grown_after import FollowOn, Timing, timing
from kb.mixture.profile import Activity, Profile
from kb.mixture.site import REFERENCE_SITE
from tests.mixture.follow.test_grown_after import FIRST, THEN, after, book
from tests.mixture.profiles import chosen, season

RYE = replace(
    FIRST,
    id="winter-cover",
    growth_form=chosen("graminoid"),
    activity=season(38, 14, 24, 30),
    flowers=Activity(22, 22, 25, 25, False, 2, "cited", ("r",), "spring-heat", "fixed"),
)
"""A hardy cereal from September to July that flowers in late May, like rye."""
MUSTARD = replace(
    RYE, id="quick-cover", growth_form=chosen("herb"), activity=season(14, 18, 24, 28), flowers=None
)


def when(cover: Profile, **asked: object) -> Timing:
    return timing(cover, THEN, REFERENCE_SITE, FollowOn(use_a="dug-in", **asked))  # type: ignore[arg-type]


def test_a_cover_is_turned_in_as_it_flowers_not_when_it_is_ripe() -> None:
    """Rye: at flowering in late May, its seed is ripe in late July (handbooks on cover crops)."""
    time = when(RYE, gap_weeks=4)

    assert (22, 26) == (time.clear_week, time.start_week)
    assert 30 == timing(RYE, THEN, REFERENCE_SITE, FollowOn()).clear_week


def test_what_follows_may_call_for_it_sooner() -> None:
    """Three weeks before the sowing, after a grass (common practice); flowering would be too late."""
    asked, own = when(RYE, sow_week_b=18), when(RYE)

    assert (15, 3.0) == (asked.clear_week, asked.gap_weeks)
    assert (17, 20) == (own.clear_week, own.start_week)


def test_a_sowing_right_after_that_of_the_cover_is_the_next_one() -> None:
    """Nothing is dug in within six weeks of its sowing: it waits for flowering and the crop for next time."""
    assert 22 == when(RYE, sow_week_b=42).clear_week


def test_without_a_date_of_flowering_it_is_turned_in_when_it_covers_the_ground() -> None:
    """FAO-56, chapter 6: effective full cover comes as many crops begin to flower; six weeks at least."""
    assert ("cover", 20) == ((time := when(MUSTARD, gap_weeks=3)).green.taken_from, time.clear_week)  # type: ignore[union-attr]
    assert "cover" == when(replace(RYE, life_cycle=chosen("biennial")), gap_weeks=3).green.taken_from  # type: ignore[union-attr]


def test_a_cover_sown_late_keeps_its_pace() -> None:
    """Eight weeks later sown, eight weeks later in flower."""
    spring = replace(MUSTARD, flowers=replace(RYE.flowers, start=22, full=22))  # type: ignore[type-var]

    assert [22, 30] == [when(spring, gap_weeks=3, sow_week_a=week).clear_week for week in (None, 22)]


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"gap_weeks": 3}, "as its flowering begins, about week 22"),
        ({}, "3 weeks before late crop starts, while it is green, about week 17"),
        ({"clear_week_a": 18}, None),
    ],
)
def test_what_was_assumed_is_said(asked: dict[str, object], told: str | None) -> None:
    """Nothing is taken in silence; a week that was named needs no note."""
    notes = [
        note for note in after(RYE, use_a="dug-in", held=book(), **asked).notes if "was not said" in note
    ]

    assert ([] if told is None else [told]) == [told for note in notes if told is not None and told in note]
    assert (told is None) == (not notes)


def test_ripe_crops_stay_as_they_are() -> None:
    """What is harvested, or left standing, is on the ground to the end of its growth."""
    for use in ("harvested", "left"):
        time = timing(RYE, THEN, REFERENCE_SITE, FollowOn(use_a=use))  # type: ignore[arg-type]

        assert (30, None) == (time.clear_week, time.green)
