"""Finding the plant that a name means: never by guessing.

A name is compared after folding (case, accents, the hybrid sign, quotes and hyphens do not count).
An id beats an accepted name beats a synonym beats a common name; two plants on the same step make
the name ambiguous, and the choices are offered. Only where no step knows a name it is read as written
otherwise: joined or apart (black currant, blackcurrant), and an English plural as its singular.
"""

import difflib
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from kb.errors import AmbiguousPlant, Choice, UnknownPlant
from kb.model import Plant, PlantId

STEPS = ("accepted name", "synonym", "common name")
NEAREST = 5


def fold(name: str) -> str:
    """The form in which names are compared: ``Fragaria × ananassa`` -> ``fragaria ananassa``."""
    plain = unicodedata.normalize("NFKD", name.replace("×", " ")).casefold()
    text = unicodedata.normalize("NFKD", plain)  # folding case can leave composed characters behind
    kept = "".join(c if c.isalnum() else " " for c in text if not unicodedata.combining(c))
    return " ".join(word for word in kept.split() if word != "x")


def _by_length(name: str) -> tuple[int, str]:
    return len(name), name


def singulars(folded: str) -> tuple[str, ...]:
    """What a folded name may be the English plural of: ``cherries`` -> ``cherry``, ``leeks`` -> ``leek``."""
    endings = (("ies", "y"), ("oes", "o"), ("ches", "ch"), ("shes", "sh"), ("ves", "f"), ("s", ""))
    return tuple(
        folded.removesuffix(plural) + single
        for plural, single in endings
        if folded.endswith(plural) and not folded.endswith("ss")
    )


@dataclass(frozen=True)
class NameIndex:
    """All names of all plants, folded, by the step on which they count."""

    ids: frozenset[PlantId]
    by_step: tuple[Mapping[str, tuple[PlantId, ...]], ...]
    spellings: Mapping[str, str] = field(repr=False)
    """A folded name -> one way of writing it, for offering."""
    accepted: Mapping[PlantId, str] = field(repr=False)
    english: Mapping[PlantId, tuple[str, ...]] = field(repr=False)

    @classmethod
    def of(cls, plants: Iterable[Plant]) -> "NameIndex":
        steps: tuple[dict[str, set[PlantId]], ...] = ({}, {}, {})
        spellings: dict[str, str] = {}
        accepted: dict[PlantId, str] = {}
        english: dict[PlantId, tuple[str, ...]] = {}
        for plant in plants:
            accepted[plant.id] = plant.scientific_name
            english[plant.id] = tuple(
                one.name for one in plant.common_names if one.lang.partition("-")[0] == "en"
            )
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
            frozenset(accepted),
            tuple({name: tuple(sorted(found)) for name, found in step.items()} for step in steps),
            spellings,
            accepted,
            english,
        )

    def resolve(self, name: str) -> PlantId:
        """The one plant that goes by this name. Raises UnknownPlant or AmbiguousPlant."""
        found = self.named(name)
        if len(found) == 1:
            return found[0]
        if found:
            raise AmbiguousPlant(name, tuple(self.choice(plant) for plant in found))
        raise UnknownPlant(name, self.nearest(name))

    def named(self, name: str) -> tuple[PlantId, ...]:
        """All plants that a name can mean, by id; none where it is unknown."""
        plant_id = PlantId(name.strip().lower())
        return (plant_id,) if plant_id in self.ids else self._means(fold(name))

    def choice(self, plant_id: PlantId) -> Choice:
        """A plant as it is offered: by its first English name that means no other one, where it has one."""
        names = self.english.get(plant_id, ())
        own = next((name for name in names if self._means(fold(name)) == (plant_id,)), None)
        return Choice(plant_id, own, self.accepted.get(plant_id, plant_id))

    def meanings(self, name: str) -> tuple[Choice, ...]:
        """All plants that go by this name, scientific or common; none where nobody does."""
        return tuple(self.choice(plant) for plant in self._means(fold(name)))

    def _means(self, folded: str) -> tuple[PlantId, ...]:
        return next((found for found in self._readings(folded) if found), ())

    def _readings(self, folded: str) -> Iterator[tuple[PlantId, ...]]:
        """Who goes by a folded name, step by step; then by the same word written otherwise."""
        for written in (folded, *singulars(folded)):
            for step in self.by_step:
                yield step.get(written, ())
            yield self._joined.get(written.replace(" ", ""), ())

    @cached_property
    def _joined(self) -> Mapping[str, tuple[PlantId, ...]]:
        """Names without their gaps -> the plants that go by any of them."""
        found: dict[str, set[PlantId]] = {}
        for step in self.by_step:
            for name, plants in step.items():
                found.setdefault(name.replace(" ", ""), set()).update(plants)
        return {name: tuple(sorted(plants)) for name, plants in found.items()}

    def nearest(self, name: str) -> tuple[str, ...]:
        """Names a person may have meant, one a plant.

        Those that hold its words come first, then those whose words it holds (wheat, of spring wheat), then
        those spelt alike; where there are none, those that begin with a word spelt alike (Menta: Mentha ...).
        """
        folded = fold(name)
        if not folded:
            return ()
        whole = [known for known in self.spellings if f" {folded} " in f" {known} "]
        within = [known for known in self.spellings if f" {known} " in f" {folded} "]
        alike = difflib.get_close_matches(folded, self.spellings, n=2 * NEAREST, cutoff=0.7)
        if not (whole or within or alike):
            heads = {known.partition(" ")[0] for known in self.spellings}
            close = difflib.get_close_matches(folded.partition(" ")[0], sorted(heads), n=1, cutoff=0.8)
            alike = sorted((k for k in self.spellings if k.partition(" ")[0] in close), key=_by_length)
        offered: dict[tuple[PlantId, ...], str] = {}
        shortest, longest = sorted(whole, key=_by_length), sorted(within, key=_by_length, reverse=True)
        for known in [*shortest, *longest, *alike]:
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
