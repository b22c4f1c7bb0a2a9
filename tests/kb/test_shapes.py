"""Every shape has an example that holds and one that breaks, and two engines agree on all of them."""

import re
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pyoxigraph
import pyshacl
import pytest
import rdflib
from pyoxigraph import RdfFormat, Store

from kb.model import Plant, PlantId, Trait, TraitId
from kb.namespaces import BASE, TCS, iri
from kb.repository import open_repository
from kb.soundness.cross_checks import ask, queries
from kb.soundness.findings import Finding, local_name
from kb.soundness.mini_graph import MiniGraph
from kb.soundness.shacl_engine import validate_with_pyshacl
from kb.soundness.shape_checks import judge
from kb.soundness.shape_library import compiled_shapes, shapes_rdf, to_rdflib, vocabulary_graph
from kb.soundness.shape_reading import Shape, read_shapes
from kb.turtle import decimal_literal, plant_graph, source_graph
from kb.validate import validate_graph
from kb.vocabulary_store import Vocabulary, load_vocabulary

ROOT = Path(__file__).parents[2]
DATA = ROOT / "tests" / "data"
WORLD = DATA / "valid" / "world.ttl"
VALID = sorted((DATA / "valid").glob("*.ttl"))
INVALID = sorted((DATA / "invalid").glob("*.ttl"))
REPORTED = sorted((DATA / "reported").glob("*.ttl"))
BREAKS = re.compile(r"^# breaks: (.+)$", re.MULTILINE)
REPORTS = re.compile(r"^# reports: (.+)$", re.MULTILINE)
TRAITS = tuple(load_vocabulary().traits.values())


def name_of(path: Path) -> str:
    """Give the test's id for an example."""
    return path.stem


def quads_of(path: Path) -> list[pyoxigraph.Quad]:
    """Read one example."""
    return list(pyoxigraph.parse(path.read_bytes(), format=RdfFormat.TURTLE))


def expected_breaks(path: Path) -> set[str]:
    """Read what the comment at the head of an example says it breaks."""
    return set(BREAKS.findall(path.read_text(encoding="utf-8")))


def broken(findings: tuple[Finding, ...]) -> set[str]:
    """Put findings into the words of the examples' comments."""
    return {f"{found.shape} {found.component} {found.path or '-'}" for found in findings}


def plain(*paths: Path) -> tuple[Finding, ...]:
    """Judge some examples by the compiled shapes."""
    graph = MiniGraph(context=vocabulary_graph())
    for path in paths:
        graph.add_quads(quads_of(path))
    return validate_graph(graph, load_vocabulary())


def across(room: str, *paths: Path) -> set[str]:
    """Name the queries of a room that find something in some examples."""
    store = Store()
    for path in paths:
        store.extend(quads_of(path))
    return {query.name for query, rows in ask(store, room) if rows}


@pytest.fixture(scope="module")
def by_engine() -> dict[str, tuple[Finding, ...]]:
    """All examples judged by pySHACL in one run: each gets names of its own by a suffix."""
    graph = rdflib.Graph()
    for number, path in enumerate((*VALID, *INVALID)):
        quads = quads_of(path)
        mark = "" if path == WORLD else f"-e{number}"
        own = {quad.subject.value for quad in quads if isinstance(quad.subject, pyoxigraph.NamedNode)}
        for quad in quads:
            subject, value = (
                rdflib.URIRef(f"{term.value}{mark}") if term.value in own else to_rdflib(term)
                for term in (quad.subject, quad.object)
                if not isinstance(term, pyoxigraph.Triple)
            )
            graph.add((subject, rdflib.URIRef(quad.predicate.value), value))
    found: dict[str, list[Finding]] = {}
    for finding in validate_with_pyshacl(graph):
        mark_found = re.search(r"-e(\d+)$", finding.subject or "")
        key = "world" if mark_found is None else (*VALID, *INVALID)[int(mark_found[1])].stem
        found.setdefault(key, []).append(finding)
    return {key: tuple(findings) for key, findings in found.items()}


def comparable(findings: tuple[Finding, ...]) -> Counter[tuple[str | None, ...]]:
    """Count findings without the suffix that tells examples apart."""
    return Counter(
        (
            re.sub(r"-e\d+$", "", found.subject or ""),
            found.path,
            found.severity,
            found.message,
            found.shape,
            found.component,
        )
        for found in findings
    )


@pytest.mark.parametrize("path", VALID, ids=name_of)
def test_valid_examples_break_nothing(path: Path) -> None:
    """A record as it should be passes every shape and every rule that joins records."""
    assert () == plain(*{WORLD, path})
    assert set() == across("checks", *{WORLD, path})


@pytest.mark.parametrize("path", INVALID, ids=name_of)
def test_invalid_examples_break_what_they_name(path: Path) -> None:
    """An example breaks exactly the constraints that its first lines name, and nothing else."""
    expected = expected_breaks(path)

    found = broken(plain(WORLD, path)) | {f"checks/{name}" for name in across("checks", WORLD, path)}

    assert expected
    assert expected == found


@pytest.mark.parametrize("path", [*VALID, *INVALID], ids=name_of)
def test_plain_checks_judge_as_pyshacl_does(path: Path, by_engine: dict[str, tuple[Finding, ...]]) -> None:
    """The compiled shapes and the SHACL engine give the same findings, word for word."""
    of_world = comparable(plain(WORLD))

    assert comparable(by_engine.get(path.stem, ())) == comparable(plain(*{WORLD, path})) - of_world


@pytest.mark.parametrize("path", REPORTED, ids=name_of)
def test_reports_find_their_example(path: Path) -> None:
    """A report finds its own example, no other does, and nothing of it is a violation."""
    expected = set(REPORTS.findall(path.read_text(encoding="utf-8")))

    assert expected == across("reports", WORLD, path)
    assert set() == across("checks", WORLD, path)
    assert not [found for found in plain(WORLD, path) if found.severity == "violation"]


def test_every_rule_has_an_example_that_breaks_it() -> None:
    """No property shape, node shape, check or report is without its example."""
    shapes = shapes_rdf(load_vocabulary())
    from_vocabulary = re.compile(r"^shape\.(trait|in-scheme)-(?!measured|mapped)")
    able = {
        local_name(str(shape))
        for shape in shapes.subjects(rdflib.SH.message)
        if not from_vocabulary.match(local_name(str(shape)))
    }
    expected = able | {f"checks/{query.name}" for query in queries("checks")}
    broken_somewhere = {line.split()[0] for path in INVALID for line in expected_breaks(path)}
    reported = {REPORTS.findall(path.read_text(encoding="utf-8"))[0] for path in REPORTED}

    assert len(able) > 90
    assert expected == {shape for shape in broken_somewhere if not from_vocabulary.match(shape)}
    assert {query.name for query in queries("reports")} == reported


def test_every_sort_of_shape_from_the_vocabulary_has_an_example() -> None:
    """Range, unit, scheme and sort of value are each broken by an example."""
    endings = {line.split()[0].rpartition(".")[2] for path in INVALID for line in expected_breaks(path)}
    values = ("minValue", "likelyValue", "maxValue")

    assert {"unit", "scheme", "values", "step", *(f"allowed-{value}" for value in values)} <= endings


def test_shapes_are_shapes() -> None:
    """The shapes themselves conform to the W3C's shapes for shapes (SHACL appendix C).

    Of the shapes that follow from the vocabulary, one trait of each sort is enough: all are made alike.
    """
    names = ("rooting-depth", "light-indicator-1-9", "leaf-window", "growth-form")
    some = {TraitId(name): load_vocabulary().trait(name) for name in names}
    shapes = shapes_rdf(Vocabulary(some, load_vocabulary().concepts))

    conforms, _, text = pyshacl.validate(rdflib.Graph(), shacl_graph=shapes, meta_shacl=True)

    assert conforms, text


def test_every_shape_says_how_to_mend() -> None:
    """What can be broken has a plain message of its own; SHACL's own wording never reaches a person."""

    def silent(shape: Shape) -> list[str]:
        own = [shape.iri] if shape.checks and not shape.message else []
        return own + [iri for nested in shape.properties for iri in silent(nested)]

    assert [] == [iri for shape in compiled_shapes(load_vocabulary()) for iri in silent(shape)]


@pytest.mark.parametrize("constraint", ["sh:equals tb:b", "sh:qualifiedMinCount 1", "sh:minExclusive 1"])
def test_a_constraint_that_is_not_read_is_refused(constraint: str) -> None:
    """The compiled checks never skip a constraint in silence."""
    graph = rdflib.Graph().parse(
        data=f"""PREFIX sh: <http://www.w3.org/ns/shacl#> PREFIX tb: <{BASE}>
        tb:s a sh:NodeShape ; sh:targetClass tb:T ; sh:property [ sh:path tb:a ; {constraint} ] .""",
        format="turtle",
    )

    with pytest.raises(ValueError, match="is not read here"):
        read_shapes(graph)


def test_a_path_that_is_not_read_is_refused() -> None:
    """Only a property or its inverse is read as a path."""
    graph = rdflib.Graph().parse(
        data=f"""PREFIX sh: <http://www.w3.org/ns/shacl#> PREFIX tb: <{BASE}>
        tb:s a sh:NodeShape ; sh:targetClass tb:T ;
            sh:property [ sh:path ( tb:a tb:b ) ; sh:minCount 1 ] .""",
        format="turtle",
    )

    with pytest.raises(ValueError, match="only a property or its inverse"):
        read_shapes(graph)


def test_own_traits_are_judged_by_their_own_ranges() -> None:
    """A vocabulary other than the shipped one brings the shapes of its own traits."""
    height = load_vocabulary().trait("mature-height")
    narrow = replace(height, allowed=(Decimal(1), Decimal(2)), usual=None, unit=None)
    vocabulary = Vocabulary({narrow.id: narrow}, load_vocabulary().concepts)

    found = validate_graph(record(height, Decimal(3)), vocabulary)

    assert ["shape.trait-mature-height.allowed-likelyValue"] == [finding.shape for finding in found]


def test_an_open_shape_lets_other_properties_be() -> None:
    """Closed false is no constraint; closed true counts the shape's own properties as known."""
    graph = rdflib.Graph().parse(
        data=f"""PREFIX sh: <http://www.w3.org/ns/shacl#> PREFIX tb: <{BASE}>
        tb:open a sh:NodeShape ; sh:targetSubjectsOf tb:a ; sh:closed false .
        tb:shut a sh:NodeShape ; sh:targetSubjectsOf tb:a ; sh:closed true ;
            sh:property [ sh:path tb:a ] .""",
        format="turtle",
    )
    mini = MiniGraph()
    mini.add_quads(
        pyoxigraph.parse(f"<{BASE}s> <{BASE}a> 1 ; <{BASE}b> 2 .".encode(), format=RdfFormat.TURTLE)
    )

    assert [(f"{BASE}shut", f"{BASE}b")] == [(b.shape, b.path) for b in judge(mini, read_shapes(graph))]


def record(trait: Trait, value: Decimal) -> MiniGraph:
    """Make an invented record of one trait with one likely value in the trait's unit."""
    text = f"""PREFIX dwciri: <http://rs.tdwg.org/dwc/iri/> PREFIX tb: <{BASE}>
        tb:record.invented dwciri:measurementType tb:trait.{trait.id} ;
            tb:likelyValue {decimal_literal(value)} ; dwciri:measurementUnit <{trait.unit}> ;
            tb:numberKind tb:number-kind.single ."""
    graph = MiniGraph(context=vocabulary_graph())
    graph.add_quads(pyoxigraph.parse(text.encode(), format=RdfFormat.TURTLE))
    return graph


@pytest.mark.parametrize("trait", [trait for trait in TRAITS if trait.kind == "number"], ids=lambda t: t.id)
def test_every_number_is_held_to_its_range(trait: Trait) -> None:
    """The bounds themselves pass, a hundredth beyond them does not; the usual range only warns."""
    assert trait.allowed is not None
    assert trait.usual is not None
    step = Decimal("0.01")
    verdicts = {
        value: {found.severity for found in validate_graph(record(trait, value), load_vocabulary())}
        for value in (*trait.allowed, trait.allowed[0] - step, trait.allowed[1] + step, *trait.usual)
    }

    assert all("violation" not in verdicts[value] for value in trait.allowed)
    assert all("violation" in verdicts[v] for v in (trait.allowed[0] - step, trait.allowed[1] + step))
    assert all(not verdicts[value] for value in trait.usual)


# Values printed in open data sets that are known to be wrong (centimetres as metres, a minus sign, one
# tundra plot); the data set is named beside each. Read in those data sets' own files.
WRONG = [
    ("mature-height", "82.51", "warning", "BROT 2.0, A15852, Calluna vulgaris"),
    ("mature-height", "85.75", "warning", "BROT 2.0, A15861, Rosmarinus officinalis"),
    ("rooting-depth", "0.007", "warning", "GRooT 7704, Vaccinium myrtillus"),
    ("crown-width", "-1", "violation", "urban tree database TS3, code of a missing crown (second-hand)"),
]


@pytest.mark.parametrize(("trait", "value", "severity", "where"), WRONG, ids=str)
def test_known_wrong_values_are_caught(trait: str, value: str, severity: str, where: str) -> None:
    """A value that is wrong in a published data set is refused or asked about."""
    found = validate_graph(record(load_vocabulary().trait(trait), Decimal(value)), load_vocabulary())

    assert severity in {finding.severity for finding in found}, where


def test_plain_checks_judge_the_real_base_as_pyshacl_does() -> None:
    """On plants of the shipped base that hold every trait and kind of number, both engines agree."""
    snapshot = open_repository().snapshot()
    plants = sorted(snapshot.plants.values(), key=lambda plant: plant.id)
    wanted = {(record.trait, record.number_kind) for plant in plants for record in plant.records}
    chosen: dict[PlantId, Plant] = {}
    while wanted:
        best = max(plants, key=lambda p: len({(r.trait, r.number_kind) for r in p.records} & wanted))
        wanted -= {(record.trait, record.number_kind) for record in best.records}
        chosen[best.id] = best
    graph = rdflib.Graph()
    for plant in chosen.values():
        graph += plant_graph(plant)
        if plant.parent is not None and plant.parent not in chosen:
            graph.add((rdflib.URIRef(iri("plant", plant.parent)), rdflib.RDF.type, TCS.TaxonConcept))
    known = {
        *(record.source for plant in chosen.values() for record in plant.records),
        *(caution.source for plant in chosen.values() for caution in plant.cautions),
        *(plant.according_to for plant in chosen.values()),
    }
    for key in known:
        graph += source_graph(snapshot.sources[key])
    mini = MiniGraph(context=vocabulary_graph())
    mini.add_rdflib(graph)

    found = comparable(validate_graph(mini, load_vocabulary()))

    assert found == comparable(validate_with_pyshacl(graph))
    assert sum(len(plant.records) for plant in chosen.values()) > 200
