"""What the verdict becomes when a gardener's word is given, or taken back: asked again, not guessed.

Most words lift limits and nothing else (`limits.ceiling_with`). Those of `MOVES_MORE` also change
what the plants find: water and feeding bring more of it, and a climber on a host that is now safe from it
is carried. For them the whole set is judged again by its likely values.
"""

from collections.abc import Mapping, Sequence

from kb.mixture.altered import altered
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.ground.root_draw import taken_alone
from kb.mixture.ground.share import CARE, FED, IRRIGATED, Supply
from kb.mixture.judging.bonds import Ground
from kb.mixture.judging.judged import Judged, eased_on, judge_set
from kb.mixture.kept import KeptBy
from kb.mixture.limits import ceiling_of
from kb.mixture.relatedness import ENEMY_WEIGHT
from kb.mixture.results import Verdict
from kb.mixture.sharing.place import Place, Soil, open_soil
from kb.mixture.sharing.subject import Subject
from kb.mixture.sharing.variants import Variants
from kb.mixture.stress import held, verdict_of

MOVES_MORE = frozenset({"frame", "pruned"}) | CARE
KEPT = 32
_SUPPLIED: KeptBy[Variants] = KeptBy(KEPT)


def verdicts_again(
    subjects: Sequence[Subject], grounds: Sequence[Ground], judged: Judged, book: EnemyBook | None
) -> Mapping[str, Verdict]:
    """The verdict with each such word turned round, of the words that the limits found ask for.

    And of the care that would bring more of what the plant that feels most goes without.
    """
    asked = {limit.given for limit in judged.limits if limit.given is not None} & MOVES_MORE
    wanted = _care_wanted(judged) - grounds[0].spot.place.given
    known = {bond.places: bond for bond in judged.bonds}
    found: dict[str, Verdict] = {}
    for word in sorted(asked | wanted):
        terms = _turned(subjects, grounds, word)
        if word in asked:
            again = judge_set(*terms, book, known)
            found[word] = _verdict(again, again.stress)
        else:
            # Care that no limit asks for moves none: only what the plants feel is another.
            found[word] = _verdict(judged, held(eased_on(judged, *terms)[0], ceiling_of(judged.limits)))
    return found


def _care_wanted(judged: Judged) -> frozenset[str]:
    """Feeding or water, where want of it is what is felt most and the plants do not fit well."""
    if judged.like or verdict_of(judged.eased) == "good":
        return frozenset()
    plant, felt = int(judged.each.argmax()), judged.felt
    lost = float(felt.roots[0, plant])
    if lost < max(float(felt.light[0, plant]), ENEMY_WEIGHT * float(judged.shared[plant])):
        return frozenset()
    dry = float(felt.by_roots.water[0, plant]) >= float(felt.by_roots.nitrate[0, plant])
    return frozenset({IRRIGATED if dry else FED})


def _verdict(judged: Judged, stress: float) -> Verdict:
    alone = judged.one_species or len(judged.each) == 1
    return "like" if alone and ceiling_of(judged.limits) == "good" else verdict_of(stress)


def _turned(
    subjects: Sequence[Subject], grounds: Sequence[Ground], word: str
) -> tuple[list[Subject], list[Ground]]:
    """The same set with a word given, or taken back where it was given; likely values alone."""
    there = [altered(g, spot=altered(g.spot, place=_turned_place(g.spot.place, word))) for g in grounds]
    supply = there[0].spot.place.fine.open
    again = []
    for subject in subjects:
        likely = _supplied(subject.likely, supply, word) if word in CARE else subject.likely
        again.append(altered(subject, likely=likely, rows=likely, draws=0))
    return again, there


def _turned_place(place: Place, word: str) -> Place:
    given = place.given ^ {word}
    if word not in CARE:
        return altered(place, given=given)
    supply = open_soil(place.site, fine=True, given=given)
    left = None if place.ground is None else place.ground.left(supply.scarcity, given)
    return altered(place, given=given, fine=Soil(supply, left))


def _supplied(plant: Variants, supply: Supply, word: str) -> Variants:
    """The plant with what a stand of it gets of a supply that another word of `CARE` makes.

    Kept by both: what grows beneath a tree is the same beneath one of any size.
    """
    return _SUPPLIED.of((plant, supply), (word,), lambda: _with_its_stand(plant, supply, word))


def _with_its_stand(plant: Variants, supply: Supply, word: str) -> Variants:
    if word == IRRIGATED:
        return altered(plant, sole_water=taken_alone(plant.water, supply.water))
    return altered(plant, sole_nitrate=taken_alone(plant.nitrate, supply.nitrate))
