"""Print how often each verdict falls: ``python -m tests.competency.matrix [COUNT] [SEED]``.

A seeded sample of all pairs of food plants of the shipped base, half the ground each in a bed at the
reference site, and of all plants 2 m from every tree. By verdict, by group of plants, and by what
holds them back. No expectation is held against it: it is read by a person.
"""

import random
import sys
from collections import Counter
from collections.abc import Iterable

from api.answers.candidates import others_for
from api.questions import Leaving
from kb.mixture.answers.pair import judge_pair
from kb.mixture.bodies.growth import tree_at
from kb.mixture.profile import Profile
from kb.mixture.results import ORDER, PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement
from kb.repository import open_repository
from kb.snapshot import Snapshot

COUNT, SEED = 3000, 1
WORDS = (*reversed(ORDER), "like")
FEWEST = 30
"""Groups with fewer answers than this are left out of the table."""
BED = Arrangement(share_a=0.5, share_b=0.5)

Judged = tuple[Profile, Profile, PairAnswer]


def food_plants(snapshot: Snapshot) -> tuple[Profile, ...]:
    """The plants that a list of candidates ranks."""
    return others_for(snapshot, next(iter(snapshot.plants)), Leaving())[0]


def in_beds(snapshot: Snapshot, plants: tuple[Profile, ...], count: int, seed: int) -> list[Judged]:
    draw, found = random.Random(seed), []  # noqa: S311 - a sample, no secret
    for _ in range(count):
        a, b = draw.sample(plants, 2)
        answer = judge_pair(a, b, REFERENCE_SITE, BED, draws=0, book=snapshot.enemy_book)
        found.append((a, b, answer))
    return found


def under_trees(snapshot: Snapshot, plants: tuple[Profile, ...], count: int, seed: int) -> list[Judged]:
    draw, found = random.Random(seed), []  # noqa: S311 - a sample, no secret
    trees = [plant for plant in plants if plant.growth_form.value == "tree"]
    for _ in range(count):
        a, b = draw.choice(trees), draw.choice(plants)
        place = Arrangement("under", tree=tree_at(a, None), distance_m=2.0)
        answer = judge_pair(a, b, REFERENCE_SITE, place, draws=0, book=snapshot.enemy_book)
        found.append((a, b, answer))
    return found


def line(name: str, said: Counter[str]) -> str:
    total = sum(said.values())
    shares = "".join(f"{100 * said[word] / total:9.0f} %" for word in WORDS)
    return f"{name[:28]:28}{total:7}{shares}\n"


def by_group(snapshot: Snapshot, found: Iterable[Judged]) -> dict[str, Counter[str]]:
    """Verdicts by the group of either plant of a pair."""
    groups: dict[str, Counter[str]] = {}
    members = {str(plant_id): plant.groups for plant_id, plant in snapshot.plants.items()}
    for a, b, answer in found:
        for group in {*members[a.id], *members[b.id]}:
            groups.setdefault(group, Counter())[answer.verdict] += 1
    return groups


def report(title: str, snapshot: Snapshot, found: list[Judged]) -> None:
    out = sys.stdout.write
    out(f"{title}\n{'':28}{'pairs':>7}{''.join(f'{word:>11}' for word in WORDS)}\n")
    out(line("all", Counter(answer.verdict for *_, answer in found)))
    for group, said in sorted(by_group(snapshot, found).items()):
        if sum(said.values()) >= FEWEST:
            out(line(group, said))
    held = Counter((answer.verdict, answer.limiting.kind) for *_, answer in found if answer.limiting)
    for word in WORDS:
        kinds = [(kind, n) for (said, kind), n in held.most_common() if said == word]
        if kinds:
            out(f"  {word} held by: {', '.join(f'{kind} {n}' for kind, n in kinds)}\n")
    lifted = sum(
        answer.verdict == "avoid" and any(c.verdict_if_met != "avoid" for c in answer.conditions)
        for *_, answer in found
    )
    out(f"  to avoid, but lifted by what one condition asks: {lifted}\n\n")


def main(arguments: list[str]) -> None:
    """Both tables, of so many pairs each."""
    count, seed = [int(text) for text in arguments] + [COUNT, SEED][len(arguments) :]
    snapshot = open_repository().snapshot()
    plants = food_plants(snapshot)
    report("In a bed, half the ground each", snapshot, in_beds(snapshot, plants, count, seed))
    report("2 m from a full-grown tree", snapshot, under_trees(snapshot, plants, count, seed))
    sys.stdout.write(f"{len(plants)} plants, seed {seed}, data set {snapshot.version}\n")


if __name__ == "__main__":
    main(sys.argv[1:])
