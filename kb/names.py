"""Finding the plant that a name means: never by guessing.

A name is compared after folding (case, accents, the hybrid sign, quotes and hyphens do not count).
An id beats an accepted name beats a synonym beats a common name; two plants on the same step make
the name ambiguous, and the choices are offered.
"""

import difflib
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from kb.errors import AmbiguousPlant, UnknownPlant
from kb.model import Plant, PlantId

STEPS = ("accepted name", "synonym", "common name")
NEAREST = 5


def fold(name: str) -> str:
    """The form in which names are compared: ``Fragaria × ananassa`` -> ``fragaria ananassa``."""
    plain = unicodedata.normalize("NFKD", name.replace("×", " ")).casefold()
    text = unicodedata.normalize("NFKD", plain)  # folding case can leave composed characters behind
    kept = "".join(c if c.isalnum() else " " for c in text if not unicodedata.combining(c))
    return " ".join(word for word in kept.split() if word != "x")


@dataclass(frozen=True)
class NameIndex:
    """All names of all plants, folded, by the step on which they count."""

    ids: frozenset[PlantId]
    by_step: tuple[Mapping[str, tuple[PlantId, ...]], ...]
    spellings: Mapping[str, str] = field(repr=False)
    """A folded name -> one way of writing it, for offering."""

    @classmethod
    def of(cls, plants: Iterable[Plant]) -> "NameIndex":
        steps: tuple[dict[str, set[PlantId]], ...] = ({}, {}, {})
        spellings: dict[str, str] = {}
        ids: set[PlantId] = set()
        for plant in plants:
            ids.add(plant.id)
            names = (
                (plant.scientific_name,),
                tuple(name.name for name in plant.synonyms),
                tuple(name.name for name in plant.common_names),
            )
            for step, given in zip(steps, names, strict=True):
                for name in given:
                    step.setdefault(fold(name), set()).add(plant.id)
                    spellings.setdefault(fold(name), name)
        return cls(
            frozenset(ids),
            tuple({name: tuple(sorted(found)) for name, found in step.items()} for step in steps),
            spellings,
        )

    def resolve(self, name: str) -> PlantId:
        """The one plant that goes by this name. Raises UnknownPlant or AmbiguousPlant."""
        plant_id = PlantId(name.strip().lower())
        if plant_id in self.ids:
            return plant_id
        folded = fold(name)
        for step in self.by_step:
            found = step.get(folded, ())
            if len(found) == 1:
                return found[0]
            if found:
                raise AmbiguousPlant(name, tuple(found))
        raise UnknownPlant(name, self.nearest(name))

    def nearest(self, name: str) -> tuple[str, ...]:
        """Names a person may have meant, one a plant: those that hold its words, then those spelt alike."""
        folded = fold(name)
        if not folded:
            return ()
        whole = [known for known in self.spellings if f" {folded} " in f" {known} "]
        alike = difflib.get_close_matches(folded, self.spellings, n=2 * NEAREST, cutoff=0.7)
        offered: dict[tuple[PlantId, ...], str] = {}
        for known in [*sorted(whole, key=lambda known: (len(known), known)), *alike]:
            meant = next(step[known] for step in self.by_step if known in step)
            offered.setdefault(meant, self.spellings[known])
        return tuple(offered.values())[:NEAREST]

    def search(self, words: str) -> tuple[PlantId, ...]:
        """All plants with a name that holds every word (or its beginning), in order of id."""
        wanted = fold(words).split()
        found: set[PlantId] = set()
        for step in self.by_step:
            for name, plants in step.items():
                parts = name.split()
                if all(any(part.startswith(word) for part in parts) for word in wanted):
                    found.update(plants)
        return tuple(sorted(found))
