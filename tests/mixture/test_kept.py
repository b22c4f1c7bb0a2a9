"""What is kept from question to question: found of the very same things, bounded, and of no other soil."""

from dataclasses import fields, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture import kernels
from kb.mixture.answers import flowers, site_notes
from kb.mixture.answers.pair import judge_pair
from kb.mixture.bodies.growth import tree_at
from kb.mixture.judging import easing, harm_notes, merits, set_limits, unknowns
from kb.mixture.kept import KeptBy
from kb.mixture.profile import Profile
from kb.mixture.sharing import light_kept
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site, SiteRule, above_ground, rules_of
from kb.mixture.weeks import sowing
from tests.mixture.forgetting import forget_stands
from tests.mixture.profiles import chosen, profiles

OTHERS: dict[str, Any] = {
    "latitude": 48.0,
    "last_frost_day": 120.0,
    "first_frost_day": 280.0,
    "frost_sd_days": 9.0,
    "frost_every_month": True,
    "winter_min_c": -11.0,
    "wet_months": (5, 6),
    "soil_texture": "clay",
    "soil_ph": 6.1,
    "moisture": 7.0,
    "open_light": 0.6,
    "place": "DE",
    "audience": "school",
}


def _forget() -> None:
    forget_stands()
    for found in (
        light_kept._FELT,
        light_kept._MEANS,
        easing._OF_TWO,
        set_limits._BUT_DEPTH,
        set_limits._OWN,
        site_notes._NOTES,
        merits._OUT_OF_LEAF,
        unknowns._LEFT_OUT,
        unknowns._STAND_INS,
        harm_notes._NOTES,
        flowers._REASONS,
        sowing._LIMITS,
    ):
        found.clear()


@pytest.fixture(scope="module", autouse=True)
def _warmed() -> Any:
    """As a service: only there is light kept."""
    ready = dict(kernels._READY)
    kernels.warm(*kernels.SERVED)
    yield
    kernels._READY.clear()
    kernels._READY.update(ready)
    _forget()


def test_the_same_things_are_found_and_equal_ones_are_not() -> None:
    """By identity, since equal profiles may be of two bases; by value beside it."""
    kept: KeptBy[int] = KeptBy(4)
    one, other, made = ["x"], ["x"], iter(range(9))

    def make() -> int:
        return next(made)

    assert [0, 0, 1, 2] == [
        kept.of(*key, make) for key in (((one,), ()), ((one,), ()), ((other,), ()), ((one,), (1,)))
    ]


def test_no_more_is_kept_than_was_said_and_what_is_asked_for_stays() -> None:
    """The one that nobody asked for longest goes."""
    kept: KeptBy[str] = KeptBy(2)
    for name in ("a", "b", "a", "c"):
        kept.of((), (name,), lambda name=name: name)  # type: ignore[misc]

    assert ("a", "remade") == (kept.of((), ("a",), lambda: "remade"), kept.of((), ("b",), lambda: "remade"))


def test_what_fails_is_not_kept() -> None:
    """The next one asks again."""
    kept: KeptBy[float] = KeptBy(2)
    with pytest.raises(ZeroDivisionError):
        kept.of((), ("x",), lambda: 1 / 0)

    assert kept.of((), ("x",), lambda: 2.0) == 2.0


@pytest.mark.parametrize(
    "name", [one.name for one in fields(Site) if one.name not in {"soil_depth_m", "rules"}]
)
def test_a_site_above_ground_is_all_of_it_but_the_depth_of_its_soil(name: str) -> None:
    """Any other field makes another key; a new field of the site must be put in here."""
    other = replace(REFERENCE_SITE, **{name: OTHERS[name]})

    assert above_ground(REFERENCE_SITE) != above_ground(other)
    assert above_ground(other) == above_ground(replace(other, soil_depth_m=0.3))


def test_rules_are_themselves_and_none_are_all_the_same() -> None:
    """Two sites are equal whatever rules they have, so the rules are told beside them."""
    rules = {"onion": (SiteRule("law", "x", (), "avoid"),)}

    assert rules_of(replace(REFERENCE_SITE, rules=rules)) is rules
    assert rules_of(Site()) is rules_of(Site(soil_depth_m=1.0))


@settings(max_examples=25, deadline=None)
@given(
    profiles("first"),
    profiles("second"),
    st.lists(st.sampled_from([0.08, 0.2, 0.45, 0.9, 2.2]), min_size=2, max_size=3, unique=True),
    st.sampled_from([{}, {"latitude": 47.0}, {"soil_ph": 5.0}, {"moisture": 8.5}, {"open_light": 0.5}]),
    st.sampled_from([frozenset(), frozenset({"irrigated"}), frozenset({"fed", "careful-lifting"})]),
)
def test_a_soil_moved_after_others_answers_as_if_it_were_the_first(
    first: Profile, second: Profile, depths: list[float], there: dict[str, Any], given: frozenset[str]
) -> None:
    """Any two kinds: whatever was asked before of other soils, sites and deeds, each answer is the same."""
    arrangement = Arrangement(share_a=0.5, share_b=0.5, given=given)
    sites = [replace(REFERENCE_SITE, soil_depth_m=depth, **there) for depth in depths]
    alone = []
    for site in sites:
        _forget()
        alone.append(judge_pair(first, second, site, arrangement, fuller=True))

    _forget()
    judge_pair(first, second, replace(REFERENCE_SITE, soil_depth_m=0.7), Arrangement())
    in_turn = [judge_pair(first, second, site, arrangement, fuller=True) for site in sites]

    assert alone == in_turn


@settings(max_examples=15, deadline=None)
@given(
    profiles("first"),
    profiles("second"),
    st.lists(st.sampled_from([0.4, 3.0, 6.5, 12.0, 40.0]), min_size=2, max_size=3, unique=True),
    st.sampled_from([{}, {"latitude": 47.0}, {"soil_ph": 5.0}, {"soil_depth_m": 0.4}]),
    st.sampled_from([frozenset(), frozenset({"irrigated"}), frozenset({"fed", "mulch"})]),
)
def test_a_tree_of_another_age_answers_as_if_it_were_the_first(
    first: Profile, second: Profile, ages: list[float], there: dict[str, Any], given: frozenset[str]
) -> None:
    """Any two kinds: what is kept of a tree whatever its size makes no answer another one."""
    tree, site = replace(first, growth_form=chosen("tree"), life_cycle=chosen("perennial")), Site(**there)
    arrangements = [
        Arrangement("under", tree=tree_at(tree, age), distance_m=1.5, age_a_years=age, given=given)
        for age in ages
    ]
    alone = []
    for arrangement in arrangements:
        _forget()
        alone.append(judge_pair(tree, second, site, arrangement))

    _forget()
    judge_pair(tree, second, REFERENCE_SITE, Arrangement("under", tree=tree_at(tree, 9.0), distance_m=1.0))
    in_turn = [judge_pair(tree, second, site, arrangement) for arrangement in arrangements]

    assert alone == in_turn


@settings(max_examples=15, deadline=None)
@given(profiles("first"), profiles("second"), st.lists(st.integers(1, 52), min_size=2, max_size=3))
def test_a_week_moved_after_others_answers_as_if_it_were_the_first(
    first: Profile, second: Profile, weeks: list[int]
) -> None:
    """Any crop beside any kind: what other weeks hold against it is not said of this one."""
    crop = replace(first, life_cycle=chosen("annual"))
    alone = []
    for week in weeks:
        _forget()
        alone.append(judge_pair(crop, second, REFERENCE_SITE, Arrangement(sow_week_a=week)))

    _forget()
    in_turn = [judge_pair(crop, second, REFERENCE_SITE, Arrangement(sow_week_a=week)) for week in weeks]

    assert alone == in_turn
