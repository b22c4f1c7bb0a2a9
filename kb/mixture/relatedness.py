"""How likely two plants are to share enemies, from how closely they are related.

The chance that an enemy of one attacks the other falls with kinship (Gilbert & Webb 2007; Parker
2015, as `trade` 4.6 cites them); the steps are judgement and stand in until named enemies are
computed. Kinship alone is never a hard conflict.

A step for the genus of 0.8, as `trade` 4.6 has it, put a cousin below a plant's own kind: losses by roots
and light are told against a stand of its own, where every enemy is shared, and like with like stands in
the middle (0.5). Cousins stand between the family and that, at 0.7 x 0.55; the enemies they are known to
share, named one by one, go above it. After one another, where the ground carries the enemy over, the step
of `trade` holds (`follow`).
"""

from dataclasses import dataclass
from typing import Literal

from kb.mixture.profile import Profile

Kinship = Literal["species", "genus", "family", "none", "unknown"]

SHARED_ENEMIES: dict[Kinship, float] = {
    "species": 1.0,
    "genus": 0.55,
    "family": 0.45,
    "none": 0.05,
    "unknown": 0.45,
}
"""``unknown`` counts as the same family: not knowing must not look like good news. The step of the
same order (0.15) is left out, since no plant has its order here: two families count as unrelated."""
EXCEPTED = 0.15
"""The same of kin of which a published statement says that they do well together (`trade` 4.6 demands the
list): the step of the same order, next below the family. After one another it changes nothing."""
CARRIED_OVER: dict[Kinship, float] = SHARED_ENEMIES | {"genus": 0.8}
"""The same where one follows the other on the ground (`trade` 4.6)."""
ENEMY_WEIGHT = 0.7
"""A shared enemy may come and may not: it weighs 0.7 of a sure loss (`computation-notes` 1.13)."""


@dataclass(frozen=True, slots=True)
class Relation:
    """``shared`` is e, the chance that they share enemies, 0-1.

    ``exception`` says why the rule of their kin is wrong of these two; None where it holds.
    """

    kinship: Kinship
    shared: float
    records: tuple[str, ...]
    exception: str | None = None


def same_species(a: Profile, b: Profile) -> bool:
    """Whether two plants are of one species; a cultivar, group or stock is of its species."""
    return species_of(a) == species_of(b)


def relation(a: Profile, b: Profile) -> Relation:
    """How two plants are related; the same whichever comes first."""
    kinship = _kinship(a, b)
    first, second = (a, b) if a.id <= b.id else (b, a)
    records = tuple(dict.fromkeys((*first.family.records, *second.family.records)))
    exception = dict(a.kin_exceptions).get(species_of(b)) if kinship in {"genus", "family"} else None
    shared = SHARED_ENEMIES[kinship] if exception is None else EXCEPTED
    return Relation(kinship, shared, records, exception)


def species_of(plant: Profile) -> str:
    """The species of a plant: a cultivar, group or stock is of its species."""
    return plant.id.partition(".")[0]


def _kinship(a: Profile, b: Profile) -> Kinship:
    if same_species(a, b):
        return "species"
    if a.genus == b.genus:
        return "genus"
    if a.family.value is None or b.family.value is None:
        return "unknown"
    return "family" if a.family.value == b.family.value else "none"
