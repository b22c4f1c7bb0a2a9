"""From a printed name to a plant: by decision, or by equality with a name on record.

Spelling likeness is never used: a name that equals no accepted name, synonym or decided label
stays unmatched and goes to the report.
"""

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib.resources import files

from kb.errors import SourceFault
from kb.model import Plant, PlantId
from kb.names import fold

DECISION_COLUMNS = ("label", "plant", "scope", "decided", "note")


@dataclass(frozen=True)
class PlantNames:
    """The scientific names of the plants of a store, and nothing softer."""

    ids: frozenset[PlantId]
    accepted: Mapping[str, frozenset[PlantId]]
    synonyms: Mapping[str, frozenset[PlantId]]

    @classmethod
    def of(cls, plants: Iterable[Plant]) -> "PlantNames":
        accepted: dict[str, set[PlantId]] = {}
        synonyms: dict[str, set[PlantId]] = {}
        ids = set()
        for plant in plants:
            ids.add(plant.id)
            accepted.setdefault(fold(plant.scientific_name), set()).add(plant.id)
            for synonym in plant.synonyms:
                synonyms.setdefault(fold(synonym.name), set()).add(plant.id)
        return cls(
            frozenset(ids),
            {name: frozenset(found) for name, found in accepted.items()},
            {name: frozenset(found) for name, found in synonyms.items()},
        )

    def match(self, printed: str) -> PlantId | None:
        """The one plant whose accepted name, else synonym, equals the printed name.

        Case, accents and the hybrid sign do not count; a name of two plants matches none.
        """
        folded = fold(printed)
        for names in (self.accepted, self.synonyms):
            found = names.get(folded, frozenset())
            if found:
                return next(iter(found)) if len(found) == 1 else None
        return None

    def genus(self, printed: str) -> tuple[PlantId, ...]:
        """All plants whose accepted name begins with that genus."""
        genus = fold(printed)
        return tuple(
            sorted(
                plant
                for name, plants in self.accepted.items()
                if name.split()[0] == genus
                for plant in plants
            )
        )


BELOW_SPECIES = frozenset({"subsp.", "ssp.", "var.", "f.", "cvs.", "agg.", "aggr."})


def binomial(printed: str) -> str:
    """Genus and epithet of a name printed with its author; a name below the species stays whole.

    ``Acer campestre L.`` -> ``Acer campestre``; ``Mentha × piperita L.`` -> ``Mentha × piperita``.
    """
    words = printed.split()
    if BELOW_SPECIES & {word.strip("()") for word in words} or len(words) < 2:
        return printed
    if words[1] in {"×", "x"}:
        return " ".join(words[:3])
    if words[1] == "sect.":
        return " ".join(words[:3])
    return " ".join(words[:2])


@dataclass(frozen=True, slots=True)
class Decision:
    """Which plant a printed label means, in one source. ``scope`` is ``crop`` or ``group``.

    ``group`` says that the printed row covers several species, so that the value is no
    measurement of this one. An empty plant means: decided to leave the label out, see the note.
    """

    label: str
    plant: PlantId | None
    scope: str
    decided: str
    note: str


def decisions(package: str) -> dict[str, tuple[Decision, ...]]:
    """The decisions in ``mapping.csv`` of an importer's package, by folded label."""
    path = files(package).joinpath("mapping.csv")
    found: dict[str, list[Decision]] = {}
    with path.open(encoding="utf-8") as text:
        reader = csv.DictReader(text, strict=True)
        if tuple(reader.fieldnames or ()) != DECISION_COLUMNS:
            raise SourceFault(
                f"{package}/mapping.csv", f"line 1: the columns must be {', '.join(DECISION_COLUMNS)}"
            )
        for line in reader:
            decision = Decision(
                line["label"],
                PlantId(line["plant"]) if line["plant"] else None,
                line["scope"] or "crop",
                line["decided"],
                line["note"],
            )
            found.setdefault(fold(decision.label), []).append(decision)
    return {label: tuple(decided) for label, decided in found.items()}
