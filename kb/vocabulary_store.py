"""The vocabulary of the knowledge base: traits, value schemes and their concepts, read once."""

import difflib
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from importlib.resources import files
from pathlib import Path
from types import MappingProxyType
from typing import get_args

from pyoxigraph import Literal, RdfFormat, parse

from kb.errors import BadFile, UnknownTrait
from kb.model import Concept, Trait, TraitId, TraitKind
from kb.namespaces import BASE, PREFIXES

SKOS = PREFIXES["skos"]
RDFS = PREFIXES["rdfs"]
TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
MATCHES = ("exactMatch", "closeMatch", "broadMatch", "narrowMatch", "relatedMatch")
KINDS: tuple[TraitKind, ...] = get_args(TraitKind)

Properties = dict[str, list[str]]
Subjects = dict[str, Properties]


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """All traits by id, and the concepts of each value scheme by id.

    ``other_names`` are the alternative names of concepts in each scheme (lower case) with their ids:
    ``other_names["family"]["compositae"] == "Asteraceae"``.
    """

    traits: Mapping[TraitId, Trait]
    concepts: Mapping[str, Mapping[str, Concept]]
    other_names: Mapping[str, Mapping[str, str]] = field(default_factory=dict)

    def trait(self, trait_id: str) -> Trait:
        """The trait of that id. Raises UnknownTrait with the nearest ids."""
        found = self.traits.get(TraitId(trait_id))
        if found is None:
            raise UnknownTrait(trait_id, tuple(difflib.get_close_matches(trait_id, self.traits, n=3)))
        return found

    def concept(self, scheme: str, name: str) -> Concept | None:
        """The concept of a scheme by its id, label or an alternative name; None where there is none."""
        known = self.concepts.get(scheme, {})
        return known.get(name) or known.get(self.other_names.get(scheme, {}).get(name.lower(), ""))


@cache
def load_vocabulary() -> Vocabulary:
    """The vocabulary that comes with the package (the same for every store)."""
    return read_vocabulary(Path(str(files("kb") / "vocabulary")))


def trait(trait_id: str) -> Trait:
    """The trait of that id in the shipped vocabulary. Raises UnknownTrait with the nearest ids."""
    return load_vocabulary().trait(trait_id)


def read_vocabulary(folder: Path) -> Vocabulary:
    """All ``*.ttl`` of one folder as traits and schemes, traits in the order of their ids.

    Raises BadFile where a file is not Turtle or a trait or concept lacks what it must have.
    """
    subjects: Subjects = {}
    for path in sorted(folder.glob("*.ttl")):
        _read_file(path, subjects)
    traits: dict[TraitId, Trait] = {}
    concepts: dict[str, dict[str, Concept]] = {}
    others: dict[str, dict[str, str]] = {}
    for subject, properties in sorted(subjects.items()):
        if f"{BASE}Trait" in properties.get(TYPE, ()):
            found = _trait(subject, properties)
            traits[found.id] = found
        for scheme in properties.get(f"{SKOS}inScheme", ()):
            concept = _concept(subject, scheme.removeprefix(f"{BASE}scheme."), properties)
            concepts.setdefault(concept.scheme, {})[concept.id] = concept
            names = (concept.id, concept.label, *properties.get(f"{SKOS}altLabel", ()))
            others.setdefault(concept.scheme, {}).update({name.lower(): concept.id for name in names})
    return Vocabulary(
        MappingProxyType(traits),
        MappingProxyType({name: MappingProxyType(found) for name, found in concepts.items()}),
        MappingProxyType({name: MappingProxyType(found) for name, found in others.items()}),
    )


def _read_file(path: Path, subjects: Subjects) -> None:
    """Add the triples of one file; of texts in several languages the English one is kept."""
    try:
        for quad in parse(path.read_bytes(), format=RdfFormat.TURTLE):
            node = quad.object
            if isinstance(node, Literal) and node.language not in {None, "en"}:
                continue
            values = subjects.setdefault(str(quad.subject.value), {}).setdefault(quad.predicate.value, [])
            values.append(node.value)
    except SyntaxError as fault:
        raise BadFile(path.name, fault.lineno, f"is not Turtle: {fault.msg}. Mend that line.") from None


def _one(properties: Properties, name: str) -> str | None:
    values = properties.get(name)
    return values[0] if values else None


def _needed(subject: str, properties: Properties, name: str) -> str:
    value = _one(properties, name)
    if value is None:
        raise BadFile("the vocabulary", None, f"<{subject}> has no <{name}>; add it")
    return value


def _range(properties: Properties, low: str, high: str) -> tuple[Decimal, Decimal] | None:
    bounds = _one(properties, BASE + low), _one(properties, BASE + high)
    return None if bounds[0] is None or bounds[1] is None else (Decimal(bounds[0]), Decimal(bounds[1]))


def _matches(properties: Properties) -> tuple[tuple[str, str], ...]:
    return tuple((match, iri) for match in MATCHES for iri in sorted(properties.get(SKOS + match, ())))


def _trait(subject: str, properties: Properties) -> Trait:
    stated = _needed(subject, properties, f"{BASE}valueKind")
    kind = next((known for known in KINDS if known == stated), None)
    if kind is None:
        raise BadFile("the vocabulary", None, f"<{subject}>: '{stated}' is none of {', '.join(KINDS)}")
    scheme = _one(properties, f"{BASE}valueScheme")
    return Trait(
        id=TraitId(subject.removeprefix(f"{BASE}trait.")),
        label=_needed(subject, properties, f"{RDFS}label"),
        definition=_needed(subject, properties, f"{SKOS}definition"),
        kind=kind,
        unit=_one(properties, f"{BASE}unit"),
        unit_label=_one(properties, f"{BASE}unitLabel"),
        allowed=_range(properties, "minAllowed", "maxAllowed"),
        usual=_range(properties, "usualMin", "usualMax"),
        scheme=scheme.removeprefix(f"{BASE}scheme.") if scheme else None,
        adoption=_needed(subject, properties, f"{BASE}adoptionRule"),
        matches=_matches(properties),
    )


def _concept(subject: str, scheme: str, properties: Properties) -> Concept:
    return Concept(
        scheme=scheme,
        id=subject.removeprefix(f"{BASE}{scheme}."),
        label=_needed(subject, properties, f"{SKOS}prefLabel"),
        definition=_needed(subject, properties, f"{SKOS}definition"),
        matches=_matches(properties),
    )
