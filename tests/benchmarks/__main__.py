"""Print how long things take, each beside a plain baseline: ``python -m tests.benchmarks``."""

import resource
import sys
from dataclasses import replace
from functools import partial

import numpy as np
from flask import Flask
from pyoxigraph import RdfFormat, parse

from api.app import create_app
from kb.files import PLANTS, turtle_files
from kb.mixture.candidates import rank_candidates
from kb.mixture.climate import daily_rain
from kb.mixture.judgement import judge_planting
from kb.mixture.light import light_near_tree
from kb.mixture.pair import judge_pair
from kb.mixture.planting import Member, Planting
from kb.mixture.roots import LAYER_EDGES_M
from kb.mixture.season import WEEKS, activity_by_week
from kb.mixture.site import Arrangement, Site, Tree
from kb.mixture.under import plants_under
from kb.mixture.water import scarcity_spread
from kb.repository import FilesRepository, open_repository, shipped_base
from kb.snapshot import Snapshot
from tests.benchmarks.measuring import Figure, compare, report

SITE = Site()
GRID = 50
RAYS_A_MONTH = 120
"""Sun and sky directions a place and month, roughly as the light module takes them."""


def cold_start() -> Figure:
    """Loading the shipped base to names, adopted values and profiles, beside parsing the same files."""
    base = shipped_base()
    texts = [path.read_bytes() for path in turtle_files(base, PLANTS)]

    def load() -> object:
        return FilesRepository(base, None).snapshot().profiles()

    def bare_parse() -> object:
        return sum(1 for text in texts for _ in parse(text, format=RdfFormat.TURTLE))

    return compare("cold start of the shipped base", load, "bare parse of its files", bare_parse, rounds=5)


def one_pair(snapshot: Snapshot) -> Figure:
    """A pair with its 60 draws of doubt, beside one numpy pass over arrays of its size."""
    first, second = (snapshot.profile(snapshot.resolve(name)) for name in ("carrot", "onion"))
    arrays = np.random.default_rng(1).random((2, 61, len(LAYER_EDGES_M) - 1, WEEKS))
    return compare(
        "one pair in a bed, 60 draws",
        lambda: judge_pair(first, second, SITE, Arrangement()),
        "min and sum over 2 × 61 layers × weeks",
        lambda: np.minimum(arrays[0], arrays[1]).sum(),
        rounds=30,
    )


def plantings(snapshot: Snapshot) -> list[Figure]:
    """Plantings of 5 and of 200 kinds, beside one pair of the same plants in the same run."""
    kinds = [snapshot.profile(plant) for plant in snapshot.plants]
    known = [profile for profile in kinds if profile.height_m.known][:200]

    def judged(count: int) -> object:
        members = tuple(Member(profile, 1 / count) for profile in known[:count])
        return judge_planting(Planting(members, SITE), book=snapshot.enemy_book)

    def pair() -> object:
        halves = Arrangement(share_a=0.5, share_b=0.5)
        return judge_pair(known[0], known[1], SITE, halves, book=snapshot.enemy_book)

    return [
        compare(
            f"a planting of {count} kinds", partial(judged, count), "one pair of them", pair, rounds=rounds
        )
        for count, rounds in ((5, 15), (200, 3))
    ]


def candidates(snapshot: Snapshot) -> Figure:
    """All candidates for one plant, beside a numpy sum of the same profiles' bytes."""
    first = snapshot.profile(snapshot.resolve("carrot"))
    others = snapshot.profiles()
    index = np.random.default_rng(1).random((len(others), len(LAYER_EDGES_M) - 1 + WEEKS))
    return compare(
        f"candidates for one plant among {len(others)}, 60 draws each",
        lambda: rank_candidates(first, others, SITE, Arrangement()),
        "sum of the profiles' layers and weeks",
        index.sum,
        rounds=3,
    )


def light_grid(snapshot: Snapshot) -> Figure:
    """Light on 50 × 50 places by month near one tree, beside one exponential a ray."""
    apple = snapshot.profile(snapshot.resolve("apple"))
    leaf = activity_by_week(apple.leaf, SITE)
    east, north = np.meshgrid(np.linspace(-8, 8, GRID), np.linspace(-8, 8, GRID))
    rays = np.random.default_rng(1).random((GRID * GRID, RAYS_A_MONTH * 12), dtype=np.float32)
    tree = Tree(6.0, 3.0, 1.5, 2.5)
    return compare(
        "light on 50 × 50 places × 12 months, one tree",
        lambda: light_near_tree(tree, leaf, SITE, east_m=east, north_m=north),
        f"one exponential a ray ({rays.size / 1e6:.1f} million)",
        lambda: np.exp(rays),
        rounds=7,
    )


def water_of_a_site(snapshot: Snapshot) -> Figure:
    """Scarcity by week at a site not asked for before, beside a bare pass of numpy over as many days."""
    del snapshot
    depths = iter(np.linspace(0.3, 1.1, 1000))
    rain = daily_rain(SITE.latitude)
    return compare(
        f"water balance of a site, {len(rain)} years, uncached",
        lambda: scarcity_spread(replace(SITE, soil_depth_m=float(next(depths)))),
        f"one minimum a day over {len(rain)} years, twice",
        lambda: [np.minimum(year[:, day], 10.0) for year in (rain, rain) for day in range(year.shape[1])],
        rounds=15,
    )


def under_tree(snapshot: Snapshot) -> Figure:
    """What fits under a tree (4 rings × 4 sides, now), beside the light of its 50 × 50 grid."""
    apple = snapshot.profile(snapshot.resolve("apple"))
    leaf = activity_by_week(apple.leaf, SITE)
    east, north = np.meshgrid(np.linspace(-8, 8, GRID), np.linspace(-8, 8, GRID))
    tree = Tree(6.0, 3.0, 1.5, 2.5)
    others = [profile for profile in snapshot.profiles() if profile.id != apple.id]
    return compare(
        f"under a tree: 16 places × {len(others)} plants",
        lambda: plants_under(apple, tree, others, SITE),
        "light on 50 × 50 places × 12 months",
        lambda: light_near_tree(tree, leaf, SITE, east_m=east, north_m=north),
        rounds=3,
    )


def over_http(snapshot: Snapshot) -> Figure:
    """A warm pair answer over HTTP, beside an empty reply of the same size from the same framework."""
    del snapshot
    client = create_app(open_repository()).test_client()
    address = "/pairs.json?a=carrot&b=onion"
    size = len(client.get(address).data)
    empty = Flask("baseline")
    body = b" " * size
    empty.add_url_rule("/", "home", lambda: body)
    plain = empty.test_client()
    return compare(
        "HTTP, a pair already asked",
        lambda: client.get(address).data,
        f"an empty reply of {size} bytes",
        lambda: plain.get("/").data,
        rounds=50,
    )


def main() -> None:
    """Run all and print the table with the memory in use."""
    snapshot = open_repository().snapshot()
    figures = [cold_start()]
    figures += [
        task(snapshot) for task in (one_pair, candidates, light_grid, water_of_a_site, under_tree, over_http)
    ]
    figures += plantings(snapshot)
    report(figures)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    sys.stdout.write(
        f"{len(snapshot.plants)} plants, data set {snapshot.version}; peak memory {peak:.0f} MB\n"
    )


if __name__ == "__main__":
    main()
