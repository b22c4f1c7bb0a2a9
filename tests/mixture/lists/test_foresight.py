"""Promises of what is said of a whole list at once: no pair falls below it, so none is left out wrongly."""

from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture.answers.pair import judge_first, prepare, prepare_first
from kb.mixture.lists.foresight import SLACK, held_stress, least_stress
from kb.mixture.lists.screening import LIKE_STRESS
from kb.mixture.profile import Activity, Profile
from kb.mixture.season import activity_by_week, seasons_of, until_frosts_are_over
from kb.mixture.sharing.place import place_for
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from kb.repository import open_repository
from kb.snapshot import Snapshot
from tests.mixture.profiles import activities, profiles, sites, trees

SMALL_SHARE = 0.05
GIVEN: st.SearchStrategy[frozenset[str]] = st.frozensets(
    st.sampled_from(["frame", "mown", "irrigated", "mulch", "barrier", "clean-ground", "pruned"])
)


@st.composite
def standings(draw: st.DrawFn) -> Arrangement:
    """Any bed, and any place under any tree."""
    weeks, ages = st.none() | st.floats(1, 52.9), st.none() | st.floats(0, 60)
    if draw(st.booleans()):
        return Arrangement(
            "under",
            tree=draw(trees()),
            distance_m=draw(st.floats(0, 20)),
            side=draw(st.sampled_from([None, "N", "E", "S", "W"])),
            sow_week_b=draw(weeks),
            age_b_years=draw(ages),
            given=draw(GIVEN),
        )
    return Arrangement(
        share_a=draw(st.floats(SMALL_SHARE, 1)),
        share_b=draw(st.floats(SMALL_SHARE, 1)),
        sow_week_a=draw(weeks),
        sow_week_b=draw(weeks),
        age_a_years=draw(ages),
        age_b_years=draw(ages),
        given=draw(GIVEN),
    )


def held_against(
    a: Profile, others: list[Profile], site: Site, standing: Arrangement, snapshot: Snapshot | None = None
) -> list[float]:
    """How far each likely K' is above what was said of the pair and its limits; a twin is middling."""
    book = None if snapshot is None else snapshot.enemy_book
    place = place_for(a, site, standing)
    first = prepare_first(a, place, standing, draws=0)
    sow, age = standing.sow_week_b, standing.age_b_years
    least = least_stress(first, others, place, sow_week=sow, age_years=age, book=book)
    above = []
    for other, without in zip(others, least.tolist(), strict=True):
        low = held_stress(first, other, place, without, sow_week=sow, age_years=age, book=book)
        second = prepare(other, place, sow_week=sow, age_years=age, draws=0)
        judged = judge_first(first, second, place, book)
        counts = min(judged.stress, LIKE_STRESS) if judged.one_species else judged.stress
        assert without[0] <= low
        above.append(counts - low)
    return above


@cache
def shipped() -> Snapshot:
    return open_repository().snapshot()


@given(profiles("a"), st.lists(profiles(), min_size=1, max_size=4), sites(), standings())
@settings(max_examples=60, deadline=None)
def test_no_pair_of_random_plants_falls_below(
    a: Profile, others: list[Profile], site: Site, standing: Arrangement
) -> None:
    """Whatever the plants, the place and how they stand, twins too."""
    others = [*(replace(other, id=f"p{i}") for i, other in enumerate(others)), replace(a, id="a.twin")]

    assert min(held_against(a, others, site, standing)) >= 0.0


@given(st.integers(0, 10_000), sites(), standings())
@settings(max_examples=12, deadline=None)
def test_no_pair_of_real_plants_falls_below(turn: int, site: Site, standing: Arrangement) -> None:
    """With their named enemies, at random places."""
    snapshot = shipped()
    plants = list(snapshot.profiles())
    a = plants[turn * 31 % len(plants)]

    assert min(held_against(a, plants[turn % 61 :: 61], site, standing, snapshot)) >= 0.0


@pytest.mark.parametrize("week", [1.0, 12.0, 41.0])
def test_a_crop_of_several_sowings_is_foreseen_as_the_one_that_is_meant(week: float) -> None:
    """Wheat, barley, beans and onions of spring and of autumn: a named week chooses for the bound too."""
    snapshot = shipped()
    others = [plant for plant in snapshot.profiles() if plant.sowings]
    a = snapshot.profile(snapshot.resolve("allium-moly"))

    assert len(others) >= 8
    assert min(held_against(a, others, REFERENCE_SITE, Arrangement(sow_week_b=week), snapshot)) >= 0.0


@pytest.mark.parametrize("standing", [Arrangement(), Arrangement("under")])
def test_where_nothing_lifts_and_nothing_holds_it_is_the_stress_itself(standing: Arrangement) -> None:
    """It is worth having: for most plants under or beside one that gives nothing it misses by its slack."""
    snapshot = shipped()
    a = snapshot.profile(snapshot.resolve("zea-mays" if standing.setting == "bed" else "malus-domestica"))
    above = held_against(a, list(snapshot.profiles())[::7], REFERENCE_SITE, standing, snapshot)

    exact = [gap for gap in above if gap <= 2 * SLACK]
    assert len(exact) >= len(above) / 3


@given(activities(), sites(), sites(), st.none() | st.floats(1, 52.9))
@settings(max_examples=40, deadline=None)
def test_seasons_hang_on_what_is_kept_of_a_site(
    activity: Activity, site: Site, other: Site, sow: float | None
) -> None:
    """Ground, moisture and light of another place move no season: its years may be shared."""
    elsewhere = replace(
        other,
        latitude=site.latitude,
        last_frost_day=site.last_frost_day,
        first_frost_day=site.first_frost_day,
        frost_sd_days=site.frost_sd_days,
        frost_every_month=site.frost_every_month,
        wet_months=site.wet_months,
    )
    expected = activity_by_week(activity, elsewhere, sow_week=sow)
    waits = until_frosts_are_over(activity, elsewhere)

    assert seasons_of(site) == seasons_of(elsewhere)
    assert (expected == activity_by_week(activity, seasons_of(site), sow_week=sow)).all()
    assert waits == until_frosts_are_over(activity, seasons_of(site))
