"""The sweep over a long list gives what judging every plant gives. Plain numpy is the reference."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture import in_parts as in_parts_module
from kb.mixture.answers.pair import judge, prepare
from kb.mixture.compiled.near import NEAR
from kb.mixture.lists import sweep
from kb.mixture.lists.index import Ground, Plants, index_of, plants_of, stress
from kb.mixture.lists.screening import LIKE_STRESS
from kb.mixture.lists.sweep import TOP, Query
from kb.mixture.profile import Profile
from kb.mixture.relatedness import relation
from kb.mixture.sharing.place import Place, place_in_bed
from kb.mixture.sharing.variants import plant_variants
from kb.mixture.site import Arrangement, Site
from kb.mixture.stress import near_limit, with_benefits
from tests.benchmarks.synthetic import ground_of, made_from
from tests.mixture.profiles import (
    BULB,
    CLIMBER,
    COVER,
    SMALL_TREE,
    SPRING_BULB,
    TALL_GRASS,
    TAPROOT,
    about,
    chosen,
    invented,
    lasting,
    profiles,
)

FIXER = invented("fixer", nitrogen_fixing=chosen("yes"))
SHADY = lasting("shady", family=chosen(None))
KIN = invented("kin", family=TAPROOT.family)
STRANGE = lasting("strange", root_d95_m=about(0.7, "form"))
SORTS = [TAPROOT, BULB, CLIMBER, COVER, SMALL_TREE, SPRING_BULB, TALL_GRASS, FIXER, SHADY, KIN]


def bed(soil_depth_m: float = 2.2, share_a: float = 0.5, share_b: float = 0.5, *given_: str) -> Place:
    """Give a bed at the reference site on this soil."""
    arrangement = Arrangement(share_a=share_a, share_b=share_b, given=frozenset(given_))
    return place_in_bed(Site(soil_depth_m=soil_depth_m), arrangement)


def ready(some: list[Profile], place: Place) -> Plants:
    """Give their likely values at that place."""
    return plants_of(
        some, [plant_variants(profile, place.site, place.coarse.open, draws=0) for profile in some]
    )


def best_of(values: np.ndarray) -> list[int]:
    """All plants sorted in full, equals in their order: what the sweep must give."""
    return np.lexsort([np.arange(len(values)), np.round(values, 9)])[:TOP].tolist()


@given(
    st.integers(0, 2**32 - 1),
    st.integers(21, 60),
    st.sampled_from(range(len(SORTS))),
    st.sampled_from([0.25, 0.6, 2.2]),
    st.sampled_from([(0.5, 0.5), (0.8, 0.2), (0.3, 0.9), (1.0, 1.0)]),
    st.booleans(),
)
@settings(max_examples=12, deadline=None)
def test_pruning_never_changes_the_best(
    seed: int, count: int, subject: int, soil_m: float, shares: tuple[float, float], irrigated: bool
) -> None:
    """On any soil and shares the bound is never above K', and the best 20 are those of a full sort."""
    place = bed(soil_m, *shares, *(["irrigated"] if irrigated else []))
    real, ground = ready(SORTS, place), ground_of(place)
    index = index_of(made_from(real, count, seed=seed), ground)
    a = real.only(slice(subject, subject + 1))
    full = stress(index.plants, a, ground)
    for compiled in (True, False):
        query = Query(index, a, ground, compiled=compiled)
        places, values = query.best()

        assert (query.bounds() <= full + 1e-6).all()
        assert best_of(full) == places.tolist()
        assert full[places] == pytest.approx(values, abs=1e-12)


@given(
    st.integers(0, 2**32 - 1),
    st.sampled_from(range(len(SORTS))),
    st.sampled_from([0.3, 2.2]),
    st.floats(0.0, 1.0),
    st.lists(st.integers(0, 99), max_size=20, unique=True),
)
@settings(max_examples=25, deadline=None)
def test_what_is_turned_away_early_is_above_the_limit(
    seed: int, subject: int, soil_m: float, where: float, reckoned: list[int]
) -> None:
    """Some groups of cells turn away no plant that all would keep, whatever the limit; the kept are told."""
    place = bed(soil_m)
    real, ground = ready(SORTS, place), ground_of(place)
    index = index_of(made_from(real, 100, seed=seed), ground)
    query = Query(index, real.only(slice(subject, subject + 1)), ground)
    low = query.bounds()
    limit, but = float(np.quantile(low, where)), np.sort(np.array(reckoned, dtype=np.int64))
    ((places, kept),) = query._under(limit**4, but)
    sure = np.setdiff1d(np.flatnonzero(low < limit - 1e-9), but)

    assert set(sure.tolist()) <= set(places.tolist())
    assert not set(but.tolist()) & set(places.tolist())
    assert low[places] == pytest.approx(kept**0.25, abs=1e-9)
    assert (kept <= limit**4).all()


@pytest.mark.parametrize(("sample", "look", "next_look"), [(1, 1, 1), (7, 20, 3), (500, 500, 500)])
@pytest.mark.parametrize("least_part", [40, 10_000])
def test_no_matter_which_are_looked_at_first_or_by_whom(
    monkeypatch: pytest.MonkeyPatch, sample: int, look: int, next_look: int, least_part: int
) -> None:
    """However many are sampled and reckoned at a time, by one processor or several: the best are the same."""
    for name, value in zip(
        ("SAMPLE", "LOOK", "NEXT_LOOK", "LEAST_PART"), (sample, look, next_look, least_part), strict=True
    ):
        monkeypatch.setattr(sweep, name, value)
    monkeypatch.setattr(in_parts_module, "processors", lambda: 3)
    place = bed(0.6)
    real, ground = ready([*SORTS, STRANGE], place), ground_of(place)
    index = index_of(made_from(real, 300), ground)
    for subject in range(len(real)):
        a = real.only(slice(subject, subject + 1))
        places, values = Query(index, a, ground).best()
        full = stress(index.plants, a, ground)

        assert best_of(full) == places.tolist()
        assert full[places] == pytest.approx(values, abs=1e-12)


def test_equals_come_in_their_order() -> None:
    """Of plants that are all the same the first are the best, with and without compiled loops."""
    place = bed()
    real, ground = ready([TAPROOT, STRANGE], place), ground_of(place)
    index = index_of(real.only(np.ones(150, dtype=np.int64)), ground)
    for compiled in (True, False):
        places, values = Query(index, real.only(slice(0, 1)), ground, compiled=compiled).best()

        assert list(range(TOP)) == places.tolist()
        assert values == pytest.approx(values[0], abs=1e-12)


@given(profiles(), profiles())
@settings(max_examples=40, deadline=None)
def test_the_formula_is_that_of_the_service(a: Profile, b: Profile) -> None:
    """K' of the index equals that of roots, light, kin and relief as a pair is judged."""
    place, kin = bed(), relation(a, b)
    coarse = replace(place, fine=place.coarse)
    felt = judge(prepare(a, coarse, draws=0), prepare(b, coarse, draws=0), coarse).felt
    each = near_limit(felt.roots[:1], felt.light[:1], kin.shared)
    known = all(p.root_d95_m.known and p.activity.known for p in (a, b))
    relief = felt.by_roots.relief[:1] if known else np.zeros(1)
    expected = with_benefits(each.max(axis=1), relief)[0]
    both = ready([a, b], place)
    found = stress(both.only(slice(1, 2)), both.only(slice(0, 1)), ground_of(place))[0]

    assert (LIKE_STRESS if kin.kinship == "species" else expected) == pytest.approx(found, abs=2e-4)


def test_the_compiled_formula_equals_its_twin() -> None:
    """Every sort against every other, in each soil: to rounding."""
    for place in (bed(), bed(0.3), bed(0.9, 0.2, 0.9)):
        real, ground = ready(SORTS, place), ground_of(place)
        index = index_of(real, ground)
        everyone = np.arange(len(SORTS))
        for subject in everyone:
            a = real.only(slice(subject, subject + 1))
            plain, fast = (Query(index, a, ground, compiled=way) for way in (False, True))

            assert plain.exact(everyone) == pytest.approx(fast.exact(everyone), abs=1e-12)
            assert plain.table == pytest.approx(fast.table, abs=1e-5)
            assert plain.bounds() == pytest.approx(fast.bounds(), abs=1e-5)


@given(
    st.integers(0, 2**32 - 1),
    st.sampled_from(range(len(SORTS))),
    st.sampled_from([0.1, 0.25, 0.6, 2.2]),
    st.sampled_from([(0.5, 0.5), (0.8, 0.2), (0.3, 0.9), (1.0, 1.0)]),
)
@settings(max_examples=25, deadline=None)
def test_single_precision_is_within_a_tenth_of_what_it_is_trusted_with(
    seed: int, subject: int, soil_m: float, shares: tuple[float, float]
) -> None:
    """K' in singles beside plain numpy in doubles, for plants made from the sorts, in a skin of soil too."""
    place = bed(soil_m, *shares)
    real, ground = ready(SORTS, place), ground_of(place)
    index = index_of(made_from(real, 60, seed=seed), ground)
    query = Query(index, real.only(slice(subject, subject + 1)), ground)
    full = stress(index.plants, query.a, ground)
    rough = query.near(np.arange(60))
    limited = query.near(np.arange(60), float(np.median(full)))

    assert rough == pytest.approx(full, abs=NEAR / 10)
    assert limited[full < np.median(full)] == pytest.approx(full[full < np.median(full)], abs=NEAR / 10)
    assert (limited >= full - NEAR / 10).all()


@given(st.integers(0, 2**32 - 1), st.integers(0, 51), st.integers(0, 20), st.sampled_from(range(len(SORTS))))
@settings(max_examples=25, deadline=None)
def test_single_precision_holds_for_any_course_of_the_year(
    seed: int, shift: int, gap: int, subject: int
) -> None:
    """Seasons over the new year, with weeks of rest between, and none at all; roots that grow and others."""
    place = bed(0.6)
    real, ground = ready(SORTS, place), ground_of(place)
    plants = made_from(real, 30, seed=seed)
    moved = np.roll(plants.activity, shift, axis=1)
    moved[:20, 25 : 25 + gap] = 0
    moved[28:] = 0
    grown = replace(
        plants, activity=moved, leaf=np.roll(plants.leaf, shift, axis=1), annual=plants.annual.copy()
    )
    grown.annual[::2] = True
    query = Query(index_of(grown, ground), real.only(slice(subject, subject + 1)), ground)
    full = stress(grown, query.a, ground)

    assert query.near(np.arange(30)) == pytest.approx(full, abs=NEAR / 10)
    assert query.exact(np.arange(30)) == pytest.approx(full, abs=1e-9)


def test_what_singles_cannot_tell_is_left_to_doubles() -> None:
    """Of roots that all lie metres below a skin of soil no single is left: told in doubles."""
    place = bed(0.02)
    deep = lasting("deep", root_d95_m=about(9.0), root_d50_m=about(7.5))
    real, ground = ready([deep, COVER], place), ground_of(place)
    query = Query(index_of(real, ground), real.only(slice(1, 2)), ground)

    assert query.near(np.arange(2)) == pytest.approx(stress(real, query.a, ground), abs=NEAR)


def test_the_sweep_leaves_most_plants_alone() -> None:
    """Of 3,000 made from the sorts fewer than half are reckoned in full."""
    place = bed()
    real = ready(SORTS, place)
    index = index_of(made_from(real, 3000), ground_of(place))
    query = Query(index, real.only(slice(0, 1)), ground_of(place))
    query.best()

    assert query.reckoned < 1500


def test_a_short_list_comes_whole() -> None:
    """Fewer plants than asked for are all there; shares belong to the question, not to the index."""
    place = bed()
    real = ready(SORTS, place)
    index = index_of(real, ground_of(place))
    other = ground_of(bed(2.2, 0.9, 0.1))
    places, values = Query(index, real.only(slice(1, 2)), other).best()

    assert set(range(len(SORTS))) == set(places.tolist())
    assert sorted(values) == list(values)
    assert isinstance(other, Ground)
