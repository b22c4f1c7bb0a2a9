"""Promises of the one allocation, for sets of two to six invented plants (`computation-notes` 4, Tests)."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture.ground.roots import DRAW_EDGES_M, LAYER_EDGES_M
from kb.mixture.ground.share import (
    NITRATE_G_M2_YEAR,
    alone,
    captured_light,
    loss_of,
    relative_uptake,
    relief_of,
    sharing,
    supply_at,
    under_leaf,
    uptake,
    uptake_by_roots,
)
from kb.mixture.light.near_tree import bed_light
from kb.mixture.season import WEEKS
from kb.mixture.site import REFERENCE_SITE, Site

SUPPLY = supply_at(REFERENCE_SITE, DRAW_EDGES_M)
LAYERS = len(DRAW_EDGES_M) - 1
SEEDS = st.integers(0, 2**32 - 1)


def plants(seed: int, count: int | None = None) -> tuple[np.ndarray, np.ndarray]:
    """Random full demands (n, layers, weeks) and ground shares (n,)."""
    random = np.random.default_rng(seed)
    count = count or int(random.integers(2, 7))
    by_layer = random.dirichlet(np.ones(LAYERS), count)
    by_week = random.random((count, WEEKS)) * (random.random((count, WEEKS)) < 0.6)
    return by_layer[:, :, None] * by_week[:, None, :], random.random(count) * 0.9 + 0.05


def taken(demands: np.ndarray, shares: np.ndarray) -> np.ndarray:
    return uptake(demands * shares[:, None, None], SUPPLY.water)


@given(seed=SEEDS)
@settings(deadline=None)
def test_no_more_is_taken_than_there_is(seed: int) -> None:
    """In all, uptake is at most the supply and at most what was asked."""
    demands, shares = plants(seed)
    asked = demands * shares[:, None, None]
    together = np.minimum(asked.sum(axis=0), SUPPLY.water).sum()

    assert taken(demands, shares).sum() <= together * (1 + 1e-12)
    assert np.all(taken(demands, shares) <= asked.sum(axis=(1, 2)) * (1 + 1e-12))


@given(seed=SEEDS)
@settings(deadline=None)
def test_adding_a_plant_never_raises_what_another_gets(seed: int) -> None:
    """Shares held, one more plant leaves each of the others with no more."""
    demands, shares = plants(seed)

    assert np.all(taken(demands, shares)[:-1] <= taken(demands[:-1], shares[:-1]) * (1 + 1e-12))


@given(seed=SEEDS)
@settings(deadline=None)
def test_order_and_splitting_change_nothing(seed: int) -> None:
    """The same plants in another order, or one of them as two halves, get the same."""
    demands, shares = plants(seed)
    once = taken(demands, shares)
    halves = np.concatenate([shares[:1] / 2, shares[:1] / 2, shares[1:]])
    split = taken(np.concatenate([demands[:1], demands]), halves)

    assert once[::-1] == pytest.approx(taken(demands[::-1], shares[::-1]), rel=1e-12)
    assert once[0] == pytest.approx(split[0] + split[1], rel=1e-12)
    assert once[1:] == pytest.approx(split[2:], rel=1e-12)


@given(seed=SEEDS, count=st.integers(2, 6))
@settings(deadline=None)
def test_clones_that_fill_the_ground_lose_nothing(seed: int, count: int) -> None:
    """Like with like on shares that sum to 1: each gets what its own stand would, exactly."""
    demand = plants(seed, 1)[0]
    clones, shares = np.repeat(demand, count, axis=0), np.full(count, 1 / count)
    relative = relative_uptake(taken(clones, shares), alone(clones, SUPPLY.water), shares)

    assert pytest.approx(1.0, rel=1e-12) == relative
    assert pytest.approx(0.0, abs=1e-12) == loss_of(relative)
    assert pytest.approx(0.0, abs=1e-12) == float(relief_of(relative))


@given(seed=SEEDS, less=st.floats(0.05, 1))
@settings(deadline=None)
def test_less_supply_never_means_more_uptake(seed: int, less: float) -> None:
    """A drier ground gives nobody more (that it lowers no score is not promised: relief can grow)."""
    demands, shares = plants(seed)
    asked = demands * shares[:, None, None]

    assert np.all(uptake(asked, SUPPLY.water * less) <= uptake(asked, SUPPLY.water) * (1 + 1e-12))


def rooted(seed: int, count: int | None = None) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Random full demands, what a unit of their roots asks (n,), and ground shares; of nitrate."""
    demands, shares = plants(seed, count)
    random = np.random.default_rng(seed + 1)
    return demands * 3 * random.random((len(shares), 1, 1)), random.random(len(shares)) + 0.05, shares


def eaten(demands: np.ndarray, hunger: np.ndarray, shares: np.ndarray, times: float = 1.0) -> np.ndarray:
    return uptake_by_roots(demands * shares[:, None, None], hunger, SUPPLY.nitrate * times)


@given(seed=SEEDS)
@settings(deadline=None)
def test_by_roots_no_more_is_taken_than_there_is_and_what_is_asked_for_is_not_left(seed: int) -> None:
    """In each cell all is taken that is asked for, up to what is there; nobody gets more than it asks."""
    demands, hunger, shares = rooted(seed)
    asked = demands * shares[:, None, None]
    together = np.minimum(asked.sum(axis=0), SUPPLY.nitrate).sum()

    assert eaten(demands, hunger, shares).sum() == pytest.approx(together, rel=1e-9)
    assert np.all(eaten(demands, hunger, shares) <= asked.sum(axis=(1, 2)) * (1 + 1e-12))


@given(seed=SEEDS, less=st.floats(0.05, 1))
@settings(deadline=None)
def test_by_roots_more_plants_or_less_supply_give_nobody_more(seed: int, less: float) -> None:
    """Shares held, one more plant leaves each of the others with no more; so does a poorer soil."""
    demands, hunger, shares = rooted(seed)
    all_of_them = eaten(demands, hunger, shares)

    assert np.all(all_of_them[:-1] <= eaten(demands[:-1], hunger[:-1], shares[:-1]) * (1 + 1e-9))
    assert np.all(eaten(demands, hunger, shares, less) <= all_of_them * (1 + 1e-9))


@given(seed=SEEDS)
@settings(deadline=None)
def test_by_roots_order_and_splitting_change_nothing(seed: int) -> None:
    """The same plants in another order, or one of them as two halves, get the same."""
    demands, hunger, shares = rooted(seed)
    once = eaten(demands, hunger, shares)
    halves = np.concatenate([shares[:1] / 2, shares[:1] / 2, shares[1:]])
    split = eaten(np.concatenate([demands[:1], demands]), np.concatenate([hunger[:1], hunger]), halves)

    assert once[::-1] == pytest.approx(eaten(demands[::-1], hunger[::-1], shares[::-1]), rel=1e-9)
    assert once[0] == pytest.approx(split[0] + split[1], rel=1e-9)
    assert once[1:] == pytest.approx(split[2:], rel=1e-9)


@given(seed=SEEDS, modest=st.floats(0.05, 1))
@settings(deadline=None)
def test_one_that_asks_less_of_like_roots_is_not_the_one_that_starves(seed: int, modest: float) -> None:
    """Roots alike in place and season on two halves: neither gets less than half its stand, the lesser first.

    Where nitrogen is short the plant that lives on less of it wins (Tilman and Wedin 1991, Ecology 72:
    1038-1049, abstract).
    """
    demand, halves = plants(seed, 1)[0], np.array([0.5, 0.5])
    demands, hunger = np.concatenate([demand, modest * demand]), np.array([1.0, modest])
    sole = alone(demands, SUPPLY.nitrate)
    relative = relative_uptake(eaten(demands, hunger, halves), sole, halves)

    assert np.all(relative >= 1 - 1e-9)
    assert eaten(demands, hunger, halves).sum() <= SUPPLY.nitrate.sum() * (1 + 1e-9)


@given(seed=SEEDS)
@settings(deadline=None)
def test_sharing_is_a_share_and_whole_with_itself(seed: int) -> None:
    """Sharing lies in 0-1, is the same both ways, and is 1 for a plant with itself."""
    one, other = plants(seed, 2)[0]
    both = sharing((one, other), SUPPLY.scarcity)

    assert 0 <= both <= 1
    assert both == sharing((other, one), SUPPLY.scarcity)
    assert pytest.approx(1.0) == sharing((one, one), SUPPLY.scarcity)


def test_a_plant_without_a_season_shares_nothing() -> None:
    """No demand at all gives 0, not a division by nothing; and no loss."""
    demand = plants(1, 1)[0]
    none = np.zeros_like(demand)

    assert sharing((none[0], demand[0]), SUPPLY.scarcity) == 0.0
    relative = relative_uptake(taken(none, np.ones(1)), alone(none, SUPPLY.water), np.ones(1))
    assert relative.tolist() == [1.0]


def random_bed(seed: int) -> tuple[np.ndarray, ...]:
    random = np.random.default_rng(seed)
    count = int(random.integers(2, 7))
    heights = random.random(count) * 3 + 0.1
    return (
        random.random((count, WEEKS)) * 5 * (random.random((count, WEEKS)) < 0.7),
        heights,
        heights * random.random(count) * 0.8,
        random.random(count) * 0.5 + 0.3,
        random.random(count) * 0.9 + 0.05,
    )


@given(seed=SEEDS)
@settings(deadline=None)
def test_many_beds_at_once_are_single_beds(seed: int) -> None:
    """The batched reckoning of light is that of `light.bed_light`, plant by plant and week by week."""
    bed = random_bed(seed)
    leaf, heights, bases, extinctions, shares = bed
    twice = captured_light(
        np.stack([leaf, leaf * 0.5]),
        np.stack([heights, heights]),
        np.stack([bases, bases]),
        np.stack([extinctions, extinctions]),
        shares,
    )

    assert bed_light(*bed) == pytest.approx(twice[0], rel=1e-9)
    assert bed_light(leaf * 0.5, heights, bases, extinctions, shares) == pytest.approx(twice[1], rel=1e-9)


@given(seed=SEEDS)
@settings(deadline=None)
def test_adding_a_plant_never_raises_light(seed: int) -> None:
    """One more plant in the bed leaves each of the others with no more light, and never above 1."""
    leaf, heights, bases, extinctions, shares = random_bed(seed)
    all_of_them = captured_light(leaf, heights, bases, extinctions, shares)
    without = captured_light(leaf[:-1], heights[:-1], bases[:-1], extinctions[:-1], shares[:-1])

    assert np.all(all_of_them[:-1] <= without + 1e-9)
    assert np.all(all_of_them <= 1)


@pytest.mark.parametrize("depth", [0.1, 0.4, 1.2, 2.2, 3.0])
def test_supply_lies_within_the_soil(depth: float) -> None:
    """Half of the water is even to 1.2 m or the soil's bottom; nitrate sums to the year's release."""
    supply = supply_at(Site(soil_depth_m=depth), LAYER_EDGES_M)
    below = LAYER_EDGES_M[:-1] >= depth

    assert np.all(supply.water[below] == 0)
    assert np.all(supply.nitrate[below] == 0)
    assert NITRATE_G_M2_YEAR == pytest.approx(supply.nitrate.sum())
    weekly = (1 - supply.scarcity) / supply.scarcity
    assert weekly == pytest.approx(supply.water.sum(axis=0))


def test_a_crown_keeps_a_fifth_of_the_rain_in_full_leaf() -> None:
    """Interception counts once, as supply; a bare crown keeps nothing (`computation-notes` 1.6)."""
    leaf = np.concatenate([np.zeros(26), np.ones(26)])
    beneath = SUPPLY.drawn_down(under_leaf(leaf))

    assert SUPPLY.water[:, 0].tolist() == beneath.water[:, 0].tolist()
    assert 0.8 * SUPPLY.water[:, -1] == pytest.approx(beneath.water[:, -1])


def test_irrigation_fills_the_dry_weeks_only() -> None:
    """Irrigated, no week gives less than two full covers ask; wet weeks stay as they are."""
    wet = supply_at(REFERENCE_SITE, DRAW_EDGES_M, care=frozenset({"irrigated"}))

    assert np.all(wet.water.sum(axis=0) >= 2 - 1e-9)
    assert np.all(wet.water >= SUPPLY.water - 1e-12)
    assert SUPPLY.scarcity.max() > 1 / 3
    assert wet.scarcity.min() == SUPPLY.scarcity.min()


def test_nitrate_comes_in_the_warm_half_of_the_year_on_either_side_of_the_equator() -> None:
    """Summer gives more than winter, turned by half a year in the south."""
    north = supply_at(Site(latitude=45), DRAW_EDGES_M).nitrate.sum(axis=0)
    south = supply_at(Site(latitude=-45, last_frost_day=312, first_frost_day=105), DRAW_EDGES_M).nitrate.sum(
        axis=0
    )

    assert north[28] > 1.5 * north[3]
    assert north == pytest.approx(np.roll(south, 26), rel=0.02)
