"""How long whole plantings take, beside one pair of the same plants in the same run."""

from functools import partial

from kb.mixture.answers.judgement import judge_planting
from kb.mixture.answers.pair import judge_pair
from kb.mixture.judging.planting import Member, Planting
from kb.mixture.site import Arrangement, Site
from kb.snapshot import Snapshot
from tests.benchmarks.measuring import Figure, compare

HALVES = Arrangement(share_a=0.5, share_b=0.5)


def plantings(snapshot: Snapshot) -> list[Figure]:
    """Plantings of 5 and of 200 kinds on equal shares."""
    kinds = [snapshot.profile(plant) for plant in snapshot.plants]
    known = [profile for profile in kinds if profile.height_m.known][:200]

    def judged(count: int) -> object:
        members = tuple(Member(profile, 1 / count) for profile in known[:count])
        return judge_planting(Planting(members, Site()), book=snapshot.enemy_book)

    def pair() -> object:
        return judge_pair(known[0], known[1], Site(), HALVES, book=snapshot.enemy_book)

    return [
        compare(
            f"a planting of {count} kinds", partial(judged, count), "one pair of them", pair, rounds=rounds
        )
        for count, rounds in ((5, 15), (200, 3))
    ]
