"""The vocabulary of the knowledge base: traits, value schemes and their concepts, read once."""

import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from importlib.resources import files
from pathlib import Path
from types import MappingProxyType

from pyoxigraph import Literal, RdfFormat, parse

from kb.errors import UnknownTrait
from kb.model import Concept, Trait, TraitId
from kb.namespaces import BASE, PREFIXES

SKOS = PREFIXES["skos"]
RDFS = PREFIXES["rdfs"]
TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
MATCHES = ("exactMatch", "closeMatch", "broadMatch", "narrowMatch", "relatedMatch")


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """All traits by id, and the concepts of each value scheme by id."""

    traits: Mapping[TraitId, Trait]
    concepts: Mapping[str, Mapping[str, Concept]]

    def trait(self, trait_id: str) -> Trait:
        """The trait of that id. Raises UnknownTrait with the nearest ids."""
        found = self.traits.get(TraitId(trait_id))
        if found is None:
            raise UnknownTrait(trait_id, tuple(difflib.get_close_matches(trait_id, self.traits, n=3)))
        return found


@cache
def load_vocabulary() -> Vocabulary:
    """The vocabulary that comes with the package (the same for every store)."""
    return read_vocabulary(Path(str(files("kb") / "vocabulary")))


def read_vocabulary(folder: Path) -> Vocabulary:
    """All ``*.ttl`` of one folder as traits and schemes, traits in the order of their ids."""
    subjects: dict[str, dict[str, list[str]]] = {}
    for path in sorted(folder.glob("*.ttl")):
        for quad in parse(path.read_bytes(), format=RdfFormat.TURTLE):
            node = quad.object
            if isinstance(node, Literal) and node.language not in {None, "en"}:
                continue
            values = subjects.setdefault(str(quad.subject.value), {}).setdefault(quad.predicate.value, [])
            values.append(node.value)
    traits = {
        TraitId(subject.removeprefix(f"{BASE}trait.")): _trait(subject, properties)
        for subject, properties in sorted(subjects.items())
        if f"{BASE}Trait" in properties.get(TYPE, ())
    }
    concepts: dict[str, dict[str, Concept]] = {}
    for subject, properties in subjects.items():
        for scheme in properties.get(f"{SKOS}inScheme", ()):
            concept = _concept(subject, scheme.removeprefix(f"{BASE}scheme."), properties)
            concepts.setdefault(concept.scheme, {})[concept.id] = concept
    return Vocabulary(
        MappingProxyType(traits),
        MappingProxyType({name: MappingProxyType(found) for name, found in sorted(concepts.items())}),
    )


def _one(properties: Mapping[str, list[str]], name: str) -> str | None:
    values = properties.get(name)
    return values[0] if values else None


def _range(properties: Mapping[str, list[str]], kind: str) -> tuple[Decimal, Decimal] | None:
    names = (
        (f"{BASE}min{kind}", f"{BASE}max{kind}")
        if kind == "Allowed"
        else (f"{BASE}usualMin", f"{BASE}usualMax")
    )
    low, high = (_one(properties, name) for name in names)
    return None if low is None or high is None else (Decimal(low), Decimal(high))


def _matches(properties: Mapping[str, list[str]]) -> tuple[tuple[str, str], ...]:
    return tuple((match, iri) for match in MATCHES for iri in sorted(properties.get(SKOS + match, ())))


def _trait(subject: str, properties: Mapping[str, list[str]]) -> Trait:
    kind = properties[f"{BASE}valueKind"][0]
    if kind not in {"number", "concept", "window"}:
        raise ValueError(f"{subject}: value kind {kind}")
    scheme = _one(properties, f"{BASE}valueScheme")
    return Trait(
        id=TraitId(subject.removeprefix(f"{BASE}trait.")),
        label=properties[f"{RDFS}label"][0],
        definition=properties[f"{SKOS}definition"][0],
        kind=kind,  # type: ignore[arg-type]
        unit=_one(properties, f"{BASE}unit"),
        unit_label=_one(properties, f"{BASE}unitLabel"),
        allowed=_range(properties, "Allowed"),
        usual=_range(properties, "Usual"),
        scheme=scheme.removeprefix(f"{BASE}scheme.") if scheme else None,
        adoption=properties[f"{BASE}adoptionRule"][0],
        matches=_matches(properties),
    )


def _concept(subject: str, scheme: str, properties: Mapping[str, list[str]]) -> Concept:
    return Concept(
        scheme=scheme,
        id=subject.removeprefix(f"{BASE}{scheme}."),
        label=properties[f"{SKOS}prefLabel"][0],
        definition=_one(properties, f"{SKOS}definition") or "",
        matches=_matches(properties),
    )
