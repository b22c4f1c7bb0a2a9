"""Compiled loops beside their floors: very long lists, draws of many plants, light among trees.

They may use all processors and are timed by the clock on the wall; the floors are one thread of numpy.
"""

import sys
import time

import numpy as np

from kb.mixture.compiled.light import shares
from kb.mixture.in_parts import in_parts
from kb.mixture.light.near_tree import LEAF_EXTINCTION, light_near_tree
from kb.mixture.light.sun import sky_at
from kb.mixture.lists.index import Plants, index_of, plants_of
from kb.mixture.lists.sweep import Query
from kb.mixture.season import MONTH_WEIGHTS, activity_by_week
from kb.mixture.sharing.variants import Variants, plant_variants
from kb.mixture.site import Site, Tree
from kb.snapshot import Snapshot
from tests.benchmarks.measuring import Figure, compare
from tests.benchmarks.synthetic import ground_of, made_from, real_plants, usual_place

SIZES = (500, 5_000, 50_000, 400_000)
SUBJECTS = ("daucus-carota", "solanum-lycopersicum", "asparagus-officinalis")
DRAWS, CANDIDATES = 200, 500
GRID = 50
TREE = Tree(6.0, 3.0, 1.5, 2.5)


def long_lists(snapshot: Snapshot) -> list[Figure]:
    """The exact best 20 of one plant among synthetic taxa, beside a numpy sum of the index's bytes."""
    place = usual_place()
    real, ground = real_plants(snapshot, place), ground_of(place)
    ids = list(snapshot.plants)
    figures = []
    for count in SIZES:
        start = time.perf_counter()
        index = index_of(made_from(real, count), ground)
        built = time.perf_counter() - start
        floor = np.ones(index.nbytes // 4, dtype=np.float32)
        for subject in SUBJECTS:
            place_of_it = ids.index(subject)
            a = real.only(slice(place_of_it, place_of_it + 1))
            query = Query(index, a, ground)
            query.best()
            figures.append(
                compare(
                    f"best 20 of {count:,} for {subject} ({query.reckoned} in full)",
                    lambda index=index, a=a: Query(index, a, ground).best(),
                    f"sum of the index, {index.nbytes / 1e6:.1f} MB",
                    floor.sum,
                    rounds=15 if count < 100_000 else 5,
                    clock=time.perf_counter,
                )
            )
        sys.stderr.write(f"index of {count:,} built in {built:.1f} s\n")
    return figures


def many_draws(snapshot: Snapshot) -> Figure:
    """200 joint draws of one plant and 500 others, the whole formula, beside one sum over the draws."""
    place, ground = usual_place(), ground_of(usual_place())
    profiles = list(snapshot.profiles())[: CANDIDATES + 1]
    supply = place.coarse.open
    variants = [plant_variants(profile, place.site, supply, draws=DRAWS) for profile in profiles]
    likely = plants_of(profiles, variants)
    drawn = [_rows_of(likely.only(slice(i, i + 1)), every) for i, every in enumerate(variants)]
    first, others = drawn[0], drawn[1:]
    by_draw = [_joined([plant.only(slice(i, i + 1)) for plant in others]) for i in range(DRAWS)]
    queries = [
        Query(index_of(plants, ground), first.only(slice(i, i + 1)), ground)
        for i, plants in enumerate(by_draw)
    ]
    everyone = np.arange(len(others))
    sums = np.ones((DRAWS, len(others), 15 + 52), dtype=np.float32)

    def drawn_stress(start: int, stop: int) -> None:
        for query in queries[start:stop]:
            query.near(everyone)

    return compare(
        f"{DRAWS} draws × {len(others)} candidates, parameters to K'",
        lambda: in_parts(DRAWS, 1, drawn_stress),
        f"one sum over the draws ({sums.nbytes / 1e6:.0f} MB)",
        sums.sum,
        rounds=9,
        clock=time.perf_counter,
    )


def _rows_of(plant: Plants, every: Variants) -> Plants:
    """The draws of one plant as rows of many."""
    rows = slice(1, 1 + DRAWS)
    shape = np.repeat(plant.shape, DRAWS, axis=0)
    names = ("d50", None, None, None, "height", "base", "extinction", "crop_zero", "crop_full")
    for column, name in enumerate(names):
        if name is not None:
            shape[:, column] = getattr(every, name)[rows]
    repeated = {
        name: np.repeat(getattr(plant, name), DRAWS, axis=0) for name in ("kin", "fixer", "known", "annual")
    }
    activity, leaf = every.activity[rows].astype(np.float32), every.leaf_area[rows].astype(np.float32)
    return Plants(activity=activity, leaf=leaf, shape=shape, **repeated)


def _joined(plants: list[Plants]) -> Plants:
    names = ("activity", "leaf", "shape", "kin", "fixer", "known", "annual")
    return Plants(*(np.concatenate([getattr(plant, name) for plant in plants]) for name in names))


def light_among_trees(snapshot: Snapshot) -> list[Figure]:
    """Light on 50 × 50 places by month, beside one exponential a ray: one tree, and ten."""
    leaf = activity_by_week(snapshot.profile(snapshot.resolve("apple")).leaf, Site())
    east, north = np.meshgrid(np.linspace(-8, 8, GRID), np.linspace(-8, 8, GRID))
    sky = sky_at(Site().latitude)
    area = np.clip(MONTH_WEIGHTS @ leaf, 0.16, 1.0)
    rays = (len(sky.sun) + len(sky.sky) * len(np.unique(area.astype(np.float32)))) * GRID * GRID
    floor = np.random.default_rng(1).random(rays, dtype=np.float32)
    places = np.stack([east.ravel(), north.ravel(), np.zeros(GRID * GRID)], axis=1).astype(np.float32)
    thick = TREE.height_m - TREE.crown_base_m
    depth = -LEAF_EXTINCTION * 1.5 * TREE.leaf_area_index / thick
    crowns = np.array(
        [(x, x / 3, TREE.crown_radius_m, thick, TREE.crown_base_m, depth) for x in np.linspace(-9, 9, 10)]
    )
    exponential = f"one exponential a ray ({rays / 1e6:.1f} million)"
    ten = compare(
        "light on 50 × 50 places × 12 months, ten trees",
        lambda: shares(crowns, area, sky, places),
        exponential,
        lambda: np.exp(floor),
        rounds=15,
        clock=time.perf_counter,
    )
    return [
        compare(
            "light on 50 × 50 places × 12 months, one tree",
            lambda: light_near_tree(TREE, leaf, Site(), east_m=east, north_m=north),
            exponential,
            lambda: np.exp(floor),
            rounds=15,
            clock=time.perf_counter,
        ),
        Figure(f"{ten.name}, per tree", ten.baseline, ten.took_ms / len(crowns), ten.baseline_ms),
    ]
