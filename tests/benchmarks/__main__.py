"""Print how long things take, each beside a plain baseline: ``python -m tests.benchmarks``."""

import os
import resource
import sys
import tempfile
from dataclasses import replace

import numpy as np
from flask import Flask
from pyoxigraph import RdfFormat, parse

from api.app import create_app
from kb.mixture.answers.pair import judge, judge_pair, prepare
from kb.mixture.ground.roots import LAYER_EDGES_M
from kb.mixture.ground.water import scarcity_spread
from kb.mixture.kernels import SERVED, warm
from kb.mixture.light.near_tree import light_near_tree
from kb.mixture.limits import ceiling_of
from kb.mixture.lists.candidates import rank_candidates
from kb.mixture.lists.under import plants_under
from kb.mixture.season import WEEKS, activity_by_week
from kb.mixture.sharing.place import place_in_bed
from kb.mixture.site import Arrangement, Site, Tree
from kb.mixture.weeks.climate import daily_rain
from kb.repository import FilesRepository, open_repository, shipped_base
from kb.snapshot import Snapshot
from kb.stores.cache import CACHE_VARIABLE, OFF
from kb.stores.files import PLANTS, turtle_files
from tests.benchmarks.long_lists import light_among_trees, long_lists, many_draws
from tests.benchmarks.measuring import Figure, compare, report
from tests.benchmarks.plantings import plantings

SITE = Site()
GRID = 50


def cold_start() -> list[Figure]:
    """Loading the shipped base to names, adopted values and profiles, beside parsing the same files."""
    base = shipped_base()
    texts = [path.read_bytes() for path in turtle_files(base, PLANTS)]

    def load() -> object:
        return FilesRepository(base, None).snapshot().profiles()

    def bare_parse() -> object:
        return sum(1 for text in texts for _ in parse(text, format=RdfFormat.TURTLE))

    figures = []
    for way, cache in (("from its files", OFF), ("from the cache", None)):
        with tempfile.TemporaryDirectory() as folder:
            os.environ[CACHE_VARIABLE] = cache or folder
            figures.append(
                compare(
                    f"cold start of the shipped base {way}",
                    load,
                    "bare parse of its files",
                    bare_parse,
                    rounds=5,
                )
            )
    return figures


def one_pair(snapshot: Snapshot) -> list[Figure]:
    """A pair with its 60 draws of doubt, site and plants ready, beside one numpy pass over its arrays.

    Once all that is reckoned (stress by roots, light and enemies, limits, the verdict, the cautious score),
    once with what is said of it.
    """
    first, second = (snapshot.profile(snapshot.resolve(name)) for name in ("carrot", "onion"))
    place = place_in_bed(SITE, Arrangement())
    ready = [prepare(profile, place) for profile in (first, second)]
    arrays = [
        array
        for subject in ready
        for plant in (subject.likely, subject.rows)
        for array in (plant.water.demand(), plant.nitrate.demand(), plant.activity, plant.leaf_area)
    ]
    size = sum(array.nbytes for array in arrays)

    def reckoned() -> object:
        judged = judge(*ready, place, snapshot.enemy_book)
        return ceiling_of(judged.limits), judged.cautious

    return [
        compare(
            f"one pair in a bed, 60 draws, {what}",
            run,
            f"sum of the same arrays ({size / 1e6:.1f} MB)",
            lambda: [array.sum() for array in arrays],
            rounds=30,
        )
        for what, run in (
            ("verdict and scores", reckoned),
            (
                "with its reasons in words",
                lambda: judge_pair(first, second, SITE, Arrangement(), book=snapshot.enemy_book),
            ),
        )
    ]


def candidates(snapshot: Snapshot) -> list[Figure]:
    """All candidates for one plant, beside every pair judged by its likely values, and numpy sums.

    The sums are over as many bytes as the profiles' layers and weeks have.
    """
    first = snapshot.profile(snapshot.resolve("carrot"))
    others = [profile for profile in snapshot.profiles() if profile.id != first.id]
    index = np.random.default_rng(1).random((len(others), len(LAYER_EDGES_M) - 1 + WEEKS))

    def ranked(shown: int) -> object:
        return rank_candidates(first, others, SITE, Arrangement(), book=snapshot.enemy_book)[:shown]

    def every_pair() -> None:
        place = place_in_bed(SITE, Arrangement())
        one = prepare(first, place, draws=0)
        for other in others:
            judge(one, prepare(other, place, draws=0), place, snapshot.enemy_book)

    sums = [
        compare(
            f"candidates for one plant among {len(others)}, {what}",
            lambda shown=shown: ranked(shown),
            "sum of the profiles' layers and weeks",
            index.sum,
            rounds=3,
        )
        for shown, what in (
            (0, "what none falls below"),
            (20, "20 with draws"),
            (len(others), "all with draws"),
        )
    ]
    plain = compare(
        f"candidates for one plant among {len(others)}, 20 with draws",
        lambda: ranked(20),
        "every pair judged by its likely values",
        every_pair,
        rounds=3,
    )
    return [*sums, plain]


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


def changed_slider(snapshot: Snapshot) -> list[Figure]:
    """Another soil depth, week or tree over HTTP, never asked before, beside the same answer served again."""
    del snapshot
    client = create_app(open_repository()).test_client()
    weeks = [f"{a}&sow_week_b={b}" for b in range(10, 20) for a in range(11, 21)]
    figures = []
    for name, address, values, rounds in (
        (
            "a pair with another soil depth",
            "/pairs.json?a=carrot&b=onion&soil_depth_m=",
            _between(0.4, 1.1),
            15,
        ),
        ("a pair with another sowing week", "/pairs.json?a=carrot&b=onion&sow_week_a=", weeks, 15),
        (
            "a pair under a tree of another age",
            "/pairs.json?a=apple&b=chives&setting=under&age_years=",
            _between(5, 15),
            15,
        ),
        (
            "candidates with another soil depth",
            "/plants/daucus-carota/candidates.json?soil_depth_m=",
            _between(0.4, 1.1),
            3,
        ),
        (
            "what fits under an apple of another height",
            "/plants/malus-domestica/under.json?height_m=",
            _between(4, 7),
            3,
        ),
    ):
        first, *others = values
        asked = iter(others)
        figures.append(
            compare(
                f"HTTP, {name}",
                lambda address=address, asked=asked: client.get(f"{address}{next(asked)}").data,
                "the same answer again",
                lambda address=address, first=first: client.get(f"{address}{first}").data,
                rounds=rounds,
            )
        )
    return figures


def _between(least: float, most: float) -> list[str]:
    return [str(value) for value in np.linspace(least, most, 100).round(4).tolist()]


def main() -> None:
    """Run all and print the table with the memory in use."""
    figures = cold_start()
    os.environ[CACHE_VARIABLE] = OFF
    snapshot = open_repository().snapshot()
    warm(*SERVED)  # as the service does when it starts
    figures += one_pair(snapshot)
    figures += candidates(snapshot)
    figures += [water_of_a_site(snapshot), under_tree(snapshot), over_http(snapshot)]
    figures += changed_slider(snapshot)
    figures += light_among_trees(snapshot)
    figures.append(many_draws(snapshot))
    figures += plantings(snapshot)
    figures += long_lists(snapshot)
    report(figures)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    sys.stdout.write(
        f"{len(snapshot.plants)} plants, data set {snapshot.version}; peak memory {peak:.0f} MB\n"
    )


if __name__ == "__main__":
    main()
