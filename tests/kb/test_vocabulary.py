"""The vocabulary says what every trait and value is, in what unit, and what open term it answers to."""

import re
from pathlib import Path

import pyoxigraph
import pytest
from pyoxigraph import BlankNode, RdfFormat

from kb.adopt import RULES
from kb.errors import BadFile, UnknownTrait
from kb.model import Basis, CautionKind, DecisionRole, NumberKind, Standing, Trait
from kb.namespaces import BASE
from kb.soundness.shape_library import vocabulary_graph
from kb.units import unit
from kb.validate import validate_graph
from kb.vocabulary_store import load_vocabulary, read_vocabulary, trait

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "kb" / "vocabulary"
VOCABULARY = load_vocabulary()
TRAITS = list(VOCABULARY.traits.values())

# The ids that scripts may rely on.
PROMISED = [
    "family", "life-cycle", "growth-form", "rooting-depth", "effective-rooting-depth", "root-form",
    "root-spread", "mature-height", "crown-width", "crown-base", "leaf-area-index", "light-extinction",
    "root-length", "heat-to-harvest",
    "leaf-retention", "light-to-survive", "light-to-crop", "nitrogen-fixation", "fixing-partner",
    "nitrogen-uptake", "water-use", "depletion-fraction", "leaf-window", "flowering-window",
    "growth-window", "harvest-window", "cycle-length", "soil-reaction", "moisture", "fertility",
    "hardiness", "spread", "support-mode", "reach",
]  # fmt: skip

# International Code of Nomenclature for algae, fungi, and plants (Shenzhen, 2018), Article 18.5.
ALTERNATIVE_FAMILIES = {
    "Compositae": "Asteraceae",
    "Cruciferae": "Brassicaceae",
    "Gramineae": "Poaceae",
    "Guttiferae": "Clusiaceae",
    "Labiatae": "Lamiaceae",
    "Leguminosae": "Fabaceae",
    "Palmae": "Arecaceae",
    "Umbelliferae": "Apiaceae",
}

# Where a match may point, and how an IRI there looks.
OPEN_TERMS = re.compile(
    r"http://purl[.]obolibrary[.]org/obo/(TO|PO|PPO|FLOPO|PATO|GO)_\d{7}"
    r"|https://w3id[.]org/APD/traits/(trait_\d{7}|[a-z][a-z0-9_-]+)"
    r"|http://vocabs[.]lter-europe[.]net/EnvThes/\d{5}"
    r"|http://eol[.]org/schema/terms/[A-Za-z]+"
    r"|http://rs[.]tdwg[.]org/(dwc/terms|dwcdoe/values)/[a-z0-9]+"
)


def test_every_promised_trait_is_there() -> None:
    """No id that the interface promises is missing."""
    assert [] == [name for name in PROMISED if name not in VOCABULARY.traits]


@pytest.mark.parametrize("one", TRAITS, ids=lambda one: one.id)
def test_every_trait_is_complete(one: Trait) -> None:
    """Definition, rule of adoption, and unit with ranges or a scheme with values."""
    assert len(one.definition) > 20
    assert one.definition.endswith(".")
    assert one.adoption in RULES
    if one.kind == "concept":
        assert one.scheme is not None
        assert len(VOCABULARY.concepts[one.scheme]) >= 2
    else:
        assert one.allowed is not None
        assert one.usual is not None
        assert one.allowed[0] <= one.usual[0] < one.usual[1] <= one.allowed[1]


@pytest.mark.parametrize("one", [one for one in TRAITS if one.unit], ids=lambda one: one.id)
def test_units_agree_with_the_table(one: Trait) -> None:
    """The UCUM code beside a trait's unit is the one of the units table (QUDT's own pair)."""
    subject = vocabulary_graph().subjects
    node = next(term for term in subject if term.value == f"{BASE}trait.{one.id}")

    assert one.unit is not None
    assert [unit(one.unit).ucum] == [value.value for value in subject[node][f"{BASE}ucumCode"]]


@pytest.mark.parametrize("one", TRAITS, ids=lambda one: one.id)
def test_every_trait_is_mapped_or_says_why_not(one: Trait) -> None:
    """An exact or close open term, or a note on why none is near enough; every IRI is well formed."""
    graph = vocabulary_graph()
    node = next(term for term in graph.subjects if term.value == f"{BASE}trait.{one.id}")
    near = [iri for relation, iri in one.matches if relation in {"exactMatch", "closeMatch"}]

    assert near or graph.values(node, f"{BASE}mappingNote")
    assert [] == [iri for _, iri in one.matches if not OPEN_TERMS.fullmatch(iri)]


def test_every_value_is_explained_and_well_mapped() -> None:
    """Each concept has a sentence of its own, and its matches point into open vocabularies."""
    values = [concept for scheme in VOCABULARY.concepts.values() for concept in scheme.values()]

    assert len(values) > 200
    assert [] == [value.id for value in values if not value.definition.endswith(".")]
    assert [] == [iri for value in values for _, iri in value.matches if not OPEN_TERMS.fullmatch(iri)]


# minAllowedValue and maxAllowedValue of the AusTraits Plant Dictionary 2.1.0 (Wenk et al. 2024, Scientific
# Data), read in its own file: plant vegetative height, height of a climbing plant (m).
@pytest.mark.parametrize(("name", "low", "high"), [("mature-height", 0.001, 130), ("reach", 0.1, 100)])
def test_ranges_lie_within_those_of_the_exact_match(name: str, low: float, high: float) -> None:
    """A trait that claims to be the same as an open one allows nothing that the open one refuses."""
    allowed = trait(name).allowed

    assert allowed is not None
    assert low <= allowed[0] < allowed[1] <= high


@pytest.mark.parametrize(("alternative", "regular"), ALTERNATIVE_FAMILIES.items())
def test_families_answer_to_their_alternative_names(alternative: str, regular: str) -> None:
    """Both names that the code of nomenclature allows lead to one concept."""
    found = VOCABULARY.concept("family", alternative)

    assert found is not None
    assert regular == found.id
    assert found == VOCABULARY.concept("family", regular)


def test_both_views_of_the_elders_are_kept() -> None:
    """Adoxaceae and Viburnaceae are two concepts that point to each other; neither is rewritten."""
    graph = vocabulary_graph()
    pairs = {
        (term.value.rpartition(".")[2], value.value.rpartition(".")[2])
        for term, properties in graph.subjects.items()
        for value in properties.get("http://www.w3.org/2004/02/skos/core#related", ())
    }

    assert {("Adoxaceae", "Viburnaceae"), ("Viburnaceae", "Adoxaceae")} == pairs


@pytest.mark.parametrize(
    ("scheme", "values"),
    [
        ("number-kind", NumberKind),
        ("basis", Basis),
        ("standing", Standing),
        ("caution-kind", CautionKind),
        ("role", DecisionRole),
    ],
)
def test_closed_lists_are_those_of_the_model(scheme: str, values: object) -> None:
    """The vocabulary and the dataclasses name the same values."""
    assert set(values.__args__) == set(VOCABULARY.concepts[scheme])  # type: ignore[attr-defined]


def test_the_vocabulary_meets_its_own_shapes() -> None:
    """Every trait and value conforms to shapes/vocabulary.ttl."""
    assert () == validate_graph(vocabulary_graph(), VOCABULARY)


def test_no_node_is_without_a_name() -> None:
    """The vocabulary holds no blank node, so its files differ only where something changed."""
    quads = [
        quad
        for path in FOLDER.glob("*.ttl")
        for quad in pyoxigraph.parse(path.read_bytes(), format=RdfFormat.TURTLE)
    ]

    assert len(quads) > 1000
    assert [] == [quad for quad in quads if BlankNode in {type(quad.subject), type(quad.object)}]


def test_every_property_in_use_is_declared() -> None:
    """Whatever property the files use is explained in the vocabulary, borrowed ones with their use."""
    declared = {
        quad.subject.value
        for path in FOLDER.glob("*.ttl")
        for quad in pyoxigraph.parse(path.read_bytes(), format=RdfFormat.TURTLE)
        if quad.object.value == "http://www.w3.org/1999/02/22-rdf-syntax-ns#Property"
    }
    files = [*(ROOT / "kb" / "plants").rglob("*.ttl"), *(ROOT / "kb" / "sources").glob("*.ttl")]
    used = {
        quad.predicate.value
        for path in files
        for quad in pyoxigraph.parse(path.read_bytes(), format=RdfFormat.TURTLE)
    }

    assert len(used) > 20
    assert {"http://www.w3.org/1999/02/22-rdf-syntax-ns#type"} == used - declared


def test_an_unknown_trait_names_the_nearest() -> None:
    """A misspelt id is answered with the ids that look like it."""
    with pytest.raises(UnknownTrait, match="rooting-depth"):
        trait("root-depth")


def test_an_unknown_value_is_none() -> None:
    """A name that no concept goes by is not guessed."""
    assert VOCABULARY.concept("family", "Rosacea") is None
    assert VOCABULARY.concept("no-such-scheme", "tree") is None


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("tb:trait.x a tb:Trait", "line 2"),
        ('tb:trait.x a tb:Trait ; tb:valueKind "text" .', "'text' is none of number, concept, window"),
        ('tb:trait.x a tb:Trait ; tb:valueKind "number" .', "has no <.*label>"),
    ],
)
def test_a_broken_vocabulary_is_refused(tmp_path: Path, text: str, words: str) -> None:
    """A file that is no Turtle, or a trait without what it needs, is named with what to mend."""
    (tmp_path / "traits.ttl").write_text(f"PREFIX tb: <{BASE}>\n{text}", encoding="utf-8")

    with pytest.raises(BadFile, match=words):
        read_vocabulary(tmp_path)


def test_other_languages_are_passed_over(tmp_path: Path) -> None:
    """The English label is read, whatever other languages stand beside it."""
    (tmp_path / "traits.ttl").write_text(
        f"""PREFIX rdfs: <http://www.w3.org/2000/01/rdf-schema#>
        PREFIX skos: <http://www.w3.org/2004/02/skos/core#>
        PREFIX tb: <{BASE}>
        tb:trait.x a tb:Trait ; rdfs:label "Breite"@de , "width"@en ; skos:definition "A width."@en ;
            tb:valueKind "number" ; tb:adoptionRule "majority" .""",
        encoding="utf-8",
    )

    assert "width" == read_vocabulary(tmp_path).trait("x").label
