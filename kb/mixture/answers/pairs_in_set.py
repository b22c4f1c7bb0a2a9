"""The pairs of a planting, each as the two would do without the others, on the same shares.

A climber that a third plant carries has its support all the same: bean and squash fit because of the maize
(`trade` J19).
"""

from dataclasses import replace

import numpy as np

from kb.mixture.answers.pair import answer, judge
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.judging.bonds import Ground
from kb.mixture.judging.planting import Stand
from kb.mixture.results import PairInSet
from kb.mixture.sharing.place import Place

MOST_PAIRED = 24
"""In a larger planting pairs are judged among so many plants: those that conflicts are about, then those
that feel most."""


def pairs_of(stand: Stand, book: EnemyBook | None = None) -> tuple[PairInSet, ...]:
    """Every two plants that stand on one ground, the worst first; of a large planting only the worst."""
    looked = set(looked_at(stand))
    found = []
    for ground in stand.grounds:
        here = [place for place in ground.members if place in looked]
        for at, i in enumerate(here):
            for j in here[at + 1 :]:
                stress, pair = _pair(stand, ground, i, j, book)
                found.append((-round(stress, 9), pair.a, pair.b, pair))
    found.sort(key=lambda row: row[:3])
    return tuple(pair for *_, pair in found)


def looked_at(stand: Stand) -> tuple[int, ...]:
    """The places of the plants whose pairs are judged."""
    named = {limit.of for limit in stand.judged.limits if not limit.lifted}
    felt = stand.judged.eased_each
    order = sorted(
        range(len(felt)), key=lambda i: (stand.profiles[i].id not in named, -round(float(felt[i]), 9), i)
    )
    return tuple(sorted(order[:MOST_PAIRED]))


def _pair(stand: Stand, ground: Ground, i: int, j: int, book: EnemyBook | None) -> tuple[float, PairInSet]:
    place = _of_two(ground, i, j)
    one, other = (replace(stand.subjects[place], draws=0) for place in (i, j))
    carried = _carried(stand, i, j)
    if carried:
        place = replace(place, given=place.given | {"frame"})
    judged = judge(one, other, place, book)
    said = answer(one, other, place, judged, book)
    text = said.limiting.text if said.limiting is not None else said.reasons[0].text
    text = " ".join((text, *carried))
    stress = 0.5 if said.verdict == "like" else judged.stress
    return stress, PairInSet(said.a, said.b, said.verdict, said.score.likely, text)


def _carried(stand: Stand, i: int, j: int) -> tuple[str, ...]:
    """Which of two plants a third carries, in words."""
    found = {}
    for support in stand.judged.supports:
        climber, host = support.places
        if support.carried and climber in (i, j) and host not in (i, j):
            found[climber] = f"Here {stand.profiles[host].name} carries {stand.profiles[climber].name}."
    return tuple(found.values())


def _of_two(ground: Ground, i: int, j: int) -> Place:
    """The ground with the shares of two alone; two beneath a tree are judged as in a bed there."""
    place, shares = ground.spot.place, dict(zip(ground.members, ground.spot.shares, strict=True))
    two = replace(place, share_a=shares[i], share_b=shares[j])
    if not ground.spot.under:
        return two
    if i == ground.members[0]:
        beneath = min(1.0, float(np.sum(ground.spot.shares[1:])))
        return replace(two, planted=ground.spot.planted * shares[j] / beneath)
    return replace(two, setting="bed", tree=None, from_m=None, to_m=None, light=None, planted=1.0)
