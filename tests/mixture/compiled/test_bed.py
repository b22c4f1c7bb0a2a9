"""Light of two in a bed, soil and exponentials, compiled: plain numpy is the reference."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture import kernels
from kb.mixture.answers.pair import judge_pair, prepare
from kb.mixture.bodies.growth import tree_at
from kb.mixture.compiled.exponential import exp, expm1
from kb.mixture.ground import water
from kb.mixture.ground.roots import DRAW_EDGES_M, LAYER_EDGES_M, growing_profile
from kb.mixture.ground.water import scarcity_drawn, scarcity_spread
from kb.mixture.profile import Profile
from kb.mixture.season import FloatArray
from kb.mixture.sharing.felt import light_felt, mean_light, roots_felt, rows_of, spot_of_two
from kb.mixture.sharing.place import place_in_bed
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from tests.mixture.forgetting import forget_stands
from tests.mixture.profiles import BULB, SMALL_TREE, TAPROOT, profiles

REHEARSED = (
    ("bed", "beneath"),
    ("bed", "two"),
    ("beneath", "felt"),
    ("beneath", "ground"),
    ("ring", "shares"),
    ("roots", "alike"),
    ("roots", "felt"),
    ("roots", "felt_beneath"),
    ("roots", "one"),
    ("roots", "two"),
    ("soil", "scarce"),
    ("soil", "standing"),
    ("soil", "growing"),
    ("soil", "grown_tree"),
    ("stress", "stressed"),
)


def _forget() -> None:
    """Leave no loop warm, and no plant or soil kept that one way or the other has reckoned."""
    kernels._READY.clear()
    forget_stands()


@pytest.fixture(scope="module", autouse=True)
def _nothing_left_warm() -> Iterator[None]:
    _forget()
    yield
    _forget()


def both_ways(found: Callable[[], Any]) -> tuple[Any, Any]:
    """The answer of the plain way and of the compiled one."""
    _forget()
    plain = found()
    _forget()
    kernels.warm(*kernels.SERVED)
    return plain, found()


@pytest.mark.parametrize("x", [0.0, -1e-12, -1e-3, -0.34, -0.35, -1.0, -17.0, -699.0, -1e6])
def test_the_exponential_less_one_is_that_of_numpy(x: float) -> None:
    """To the last bits, small numbers and large ones."""
    assert float(np.expm1(x)) == pytest.approx(float(expm1(x)), rel=4e-16, abs=0)


@pytest.mark.parametrize("x", [0.0, 1e-9, -1e-9, 0.35, 1.0, -3.7, 25.0, -300.0, 499.0])
def test_the_exponential_is_that_of_numpy(x: float) -> None:
    """To the last bits."""
    assert float(np.exp(x)) == pytest.approx(float(exp(x)), rel=4e-16, abs=0)


@settings(max_examples=40, deadline=None)
@given(profiles("first"), profiles("second"), st.floats(0.05, 1.0), st.floats(0.1, 1.0))
def test_both_ways_lose_the_same_light(
    first: Profile, second: Profile, share: float, open_light: float
) -> None:
    """Any two kinds on any shares, in sun and shade: loss of crop and dark weeks of every draw."""
    here = place_in_bed(
        replace(REFERENCE_SITE, open_light=open_light), Arrangement(share_a=share, share_b=0.7)
    )
    plants = [prepare(plant, here).rows for plant in (first, second)]
    rows = rows_of(60, again=[not p.profile.root_d95_m.known for p in plants])

    plain, fast = both_ways(lambda: light_felt(plants, rows, spot_of_two(here)))

    assert plain.loss == pytest.approx(fast.loss, abs=1e-12)
    assert plain.dark == pytest.approx(fast.dark, abs=1e-12)


@settings(max_examples=40, deadline=None)
@given(profiles("first"), profiles("second"), st.floats(0.05, 1.0), st.sampled_from([0.06, 0.4, 1.1, 2.2]))
def test_both_ways_feel_the_same_by_roots(
    first: Profile, second: Profile, share: float, soil_depth_m: float
) -> None:
    """Any two kinds, fixers too, on any shares of any soil: water, nitrate, relief and unmet nitrogen."""
    here = place_in_bed(
        replace(REFERENCE_SITE, soil_depth_m=soil_depth_m), Arrangement(share_a=share, share_b=0.7)
    )
    plants = [prepare(plant, here).rows for plant in (first, second)]
    rows = rows_of(60, again=[not p.profile.root_d95_m.known for p in plants])

    plain, fast = both_ways(lambda: roots_felt(plants, rows, spot_of_two(here), here.coarse))

    for name in ("water", "nitrate", "roots", "relief", "unmet"):
        assert getattr(plain, name) == pytest.approx(getattr(fast, name), abs=1e-11), name


@settings(max_examples=40, deadline=None)
@given(profiles("first"), profiles("second"), st.floats(0.05, 1.0), st.floats(0.1, 1.0))
def test_both_ways_find_the_same_light(
    first: Profile, second: Profile, share: float, open_light: float
) -> None:
    """The mean light over each one's growing, in sun and shade; also of what never grows."""
    here = place_in_bed(
        replace(REFERENCE_SITE, open_light=open_light), Arrangement(share_a=share, share_b=0.7)
    )
    plants = [prepare(plant, here).likely for plant in (first, second)]

    plain, fast = both_ways(lambda: mean_light(plants, spot_of_two(here)))

    assert plain == pytest.approx(fast, abs=1e-12)


@settings(max_examples=40, deadline=None)
@given(
    st.integers(0, 10_000),
    st.sampled_from([0.05, 0.4, 1.0, 2.2, 3.0]),
    st.sampled_from([DRAW_EDGES_M, LAYER_EDGES_M]),
    st.sampled_from([1, 52]),
)
def test_both_ways_have_the_same_roots(seed: int, soil_depth_m: float, edges: FloatArray, weeks: int) -> None:
    """Skins of soil over deep roots, soil without a bottom, roots that grow and roots that stay."""
    draw = np.random.default_rng(seed)
    d50 = draw.uniform(0.03, 4.0, 5)
    d95 = d50 * draw.uniform(1.25, 12, 5)
    growth = np.minimum(1.0, draw.uniform(0.25, 1.5, (5, weeks)))

    plain, fast = both_ways(lambda: growing_profile(d50, d95, growth, soil_depth_m=soil_depth_m, edges=edges))

    assert plain == pytest.approx(fast, abs=1e-13)


@settings(max_examples=40, deadline=None)
@given(
    st.integers(0, 10_000),
    st.sampled_from([0.05, 0.4, 1.2, 2.2]),
    st.sampled_from([51.0, -33.0, 8.0, 68.0]),
    st.floats(1, 12),
)
def test_scarcity_is_the_same_to_the_last_bit(
    seed: int, soil_depth_m: float, latitude: float, moisture: float
) -> None:
    """Any store that any covers draw on, in sampled years anywhere."""
    site = Site(latitude=latitude, soil_depth_m=soil_depth_m, moisture=moisture)
    draw = np.random.default_rng(seed).uniform(0, 1.2, 52)

    plain, fast = both_ways(lambda: (scarcity_spread(site), scarcity_drawn(site, draw)))

    for name in ("mean", "wet_year", "dry_year"):
        assert np.array_equal(getattr(plain[0], name), getattr(fast[0], name)), name
    assert np.array_equal(plain[1], fast[1])


def test_a_store_that_holds_nothing_is_the_same_both_ways() -> None:
    """Bare rock: what rain falls in a week is all there is."""
    asked = (water._weather(51.0, ()), np.ones(52), 0.0, 1.0)
    kernels.warm(*kernels.SERVED)
    weather = asked[0]
    fast = kernels.ready("soil").scarce(
        weather.demand, asked[1], weather.rain, water.WEEK_STARTS, weather.weekly_demand,
        weather.weekly_rain, (0.0, 0.0, water.LASTS_DAYS), 1.0, water.LEAST_SCARCE, water.SCARCEST,
    )  # fmt: skip

    assert np.array_equal(water._omega(*asked), fast)


def test_a_pair_is_the_same_with_all_loops_of_a_service() -> None:
    """Verdict and words as they are, numbers to 12 digits."""
    plain, fast = both_ways(
        lambda: judge_pair(TAPROOT, BULB, Site(soil_depth_m=0.71), Arrangement(share_a=0.5, share_b=0.5))
    )

    for name in ("verdict", "conditions", "reasons", "benefits", "limiting", "sureness", "notes"):
        assert getattr(plain, name) == getattr(fast, name)
    for name in ("likely", "low", "high"):
        assert getattr(plain.score, name) == pytest.approx(
            getattr(fast.score, name),
            abs=1e-10,
        )


def test_a_service_compiles_nothing_after_it_is_warm() -> None:
    """Every loop has been rehearsed with the kinds of arrays that questions bring."""
    kernels.warm(*kernels.SERVED)
    loops = [getattr(kernels.ready(name), loop) for name, loop in REHEARSED]
    rehearsed = [list(loop.signatures) for loop in loops]

    tree = tree_at(SMALL_TREE, 6.3)
    judge_pair(TAPROOT, BULB, Site(soil_depth_m=0.73), Arrangement())
    judge_pair(SMALL_TREE, BULB, Site(soil_depth_m=0.73), Arrangement("under", tree=tree, distance_m=1.5))

    assert rehearsed == [loop.signatures for loop in loops]
