"""Out and in again: nothing is lost. What a form does not hold is named here.

``csv`` holds records with their sources; plants, cautions, decisions, pests and diseases are in ``dwca``.
A source that nothing cites is in neither; the linked data hold all. Adopted values are in none: they are
computed from the records.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pyoxigraph
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pyoxigraph import RdfFormat
from rdflib import Graph

from api.answers.exports import export_pieces
from api.answers.linked import jsonld, nodes
from import_scripts.exchange.archive_meta import read_meta
from import_scripts.exchange.archive_zip import StrangeZip
from import_scripts.exchange.bring import Wishes, bring_archive, bring_csv
from import_scripts.exchange.gathered import Brought, Gathered
from import_scripts.exchange.joining import joined
from import_scripts.exchange.matching import Decided, Matcher
from import_scripts.exchange.own_archive import OwnReader
from import_scripts.exchange.record_file import Reading, read_records
from kb.exchange.graphs import turtle, whole
from kb.model import Caution, Plant, Record, canonical
from kb.repository import MemoryRepository, open_repository
from kb.snapshot import Snapshot
from kb.soundness.shape_library import to_oxigraph
from kb.statements.curation_model import Observation, Review, Withdrawal
from kb.statements.search_model import Search
from kb.turtle import plant_graph
from tests.kb.invented import CAUTION, DECISION, PLANT, RECORD, SOURCE

DAY = date(2027, 1, 1)
TEXT = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1).map(str.strip).filter(bool)
"""Any words; space at either end of a cell does not count."""
NUMBER = st.decimals(Decimal("0.01"), Decimal(70), places=2)
KEY = st.from_regex(r"[a-z]{1,8}", fullmatch=True)


@st.composite
def records(draw: st.DrawFn) -> Record:
    """Give any record of the invented plant that a source could state."""
    low, likely, high = sorted(draw(st.tuples(NUMBER, NUMBER, NUMBER)))
    return replace(
        RECORD,
        low=draw(st.sampled_from([low, None])),
        likely=likely,
        high=draw(st.sampled_from([high, None])),
        number_kind=draw(st.sampled_from(["single", "mean", "range", "floor", "ceiling"])),
        conditions=tuple(sorted(draw(st.dictionaries(KEY, TEXT, max_size=3)).items())),
        verbatim=draw(TEXT),
        name_as_printed=draw(TEXT),
        locator=draw(TEXT),
        note=draw(st.none() | TEXT),
        entered_by=draw(TEXT),
        entered_on=draw(st.dates()),
    )


def read_back(
    file: Path, plants: tuple[Plant, ...], sources: bool, snapshot: Snapshot | None = None
) -> Gathered:
    """Give what a file states, before it is held against the rules of the base."""
    data = snapshot or MemoryRepository(plants, (SOURCE,) if sources else ()).snapshot()
    gathered, report = Gathered(), Brought("test")
    if file.suffix == ".csv":
        matcher = Matcher(data.plants.values(), data.names, Decided())
        text = file.read_bytes().decode()
        read_records(text, file.name, Reading(data.vocabulary, data.sources, matcher), gathered, report)
    else:
        with StrangeZip(file) as archive:
            OwnReader(data, gathered, report, add_plants=True).read(archive, read_meta(archive))
    assert [] == report.refused == report.unmatched
    return gathered


@given(records())
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=25)
@pytest.mark.parametrize("form", ["csv", "dwca"])
def test_any_record_comes_back_as_it_was(tmp_path: Path, form: str, record: Record) -> None:
    """Whatever marks stand in its words, by table and by archive."""
    bare = replace(PLANT, records=(), cautions=(), decisions=())
    snapshot = Snapshot("invented", {PLANT.id: replace(bare, records=(record,))}, {SOURCE.key: SOURCE})
    file = tmp_path / f"out.{form.replace('dwca', 'zip')}"
    file.write_bytes(b"".join(export_pieces(snapshot, form, adopted=False)))

    gathered = read_back(file, (bare,) if form == "csv" else (), sources=form == "csv")

    assert [record] == [said for _, said in gathered.statements]


@given(
    st.builds(
        replace, st.just(CAUTION), text=TEXT, part=st.none() | TEXT, verbatim=TEXT, place=st.none() | TEXT
    )
)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=12)
def test_any_caution_comes_back_as_it_was(tmp_path: Path, caution: Caution) -> None:
    """A warning that loses a word may hurt somebody."""
    snapshot = Snapshot("invented", {PLANT.id: replace(PLANT, cautions=(caution,))}, {SOURCE.key: SOURCE})
    file = tmp_path / "out.zip"
    file.write_bytes(b"".join(export_pieces(snapshot, "dwca", adopted=False)))

    said = [one for _, one in read_back(file, (), sources=False).statements]

    assert [RECORD, caution, DECISION] == said


OBSERVATION = Observation(
    id="inventa-exemplaris.rooting-depth.observer.1001",
    plant=PLANT.id,
    trait=RECORD.trait,
    low=None,
    likely=Decimal("1.4"),
    high=None,
    concepts=(),
    verbatim="about 1.4 m | dug",
    observer="an invented observer",
    observed_on=date(2026, 5, 1),
    place="an invented valley",
    age_years=Decimal(8),
    stock=None,
    procedure="dug with a spade",
    quality="measured",
    quality_note=None,
    entered_on=date(2026, 11, 26),
)
ACT = {
    "plant": PLANT.id,
    "decided_by": "an invented curator",
    "decided_on": date(2026, 11, 26),
    "why": 'a, "b"',
}
CURATED = replace(
    PLANT,
    observations=(OBSERVATION,),
    withdrawals=(Withdrawal("inventa-exemplaris.1001", withdraws=f"observation.{OBSERVATION.id}", **ACT),),
    reviews=(Review("inventa-exemplaris.1001", caution=CAUTION.id, verdict="keep", **ACT),),
    searches=(
        Search(
            id="inventa-exemplaris.invented.1",
            plant=PLANT.id,
            searched_by="an invented searcher",
            searched_on=date(2026, 11, 26),
            queries=("Inventa poison | sap", "Inventa toxic"),
            pages=(),
            outcome="nothing-found",
        ),
    ),
)


def test_what_curators_and_observers_added_comes_back(tmp_path: Path) -> None:
    """Observations, withdrawals, reviews of cautions, and searches that found nothing."""
    snapshot = Snapshot("invented", {PLANT.id: CURATED}, {SOURCE.key: SOURCE})
    file = tmp_path / "out.zip"
    file.write_bytes(b"".join(export_pieces(snapshot, "dwca", adopted=False)))

    gathered = read_back(file, (), sources=False)

    assert statements(snapshot) == {said for _, said in gathered.statements}
    places = [(place, said) for place, said in gathered.statements]
    assert canonical(CURATED) == joined(PLANT.bare(), places, [], DAY).plant


@pytest.fixture(scope="module")
def shipped() -> Snapshot:
    return open_repository(None).snapshot()


@pytest.fixture(scope="module")
def some(shipped: Snapshot) -> Snapshot:
    """A part of the base that has everything in it: a level below the species, decisions, enemies."""
    chosen = {
        "juglans-nigra",
        "allium-cepa",
        "brassica-oleracea",
        "brassica-oleracea.capitata-group",
        "malus-domestica",
        "crotalaria-juncea",
    }
    return Snapshot(
        "part",
        {plant_id: plant for plant_id, plant in shipped.plants.items() if plant_id in chosen},
        shipped.sources,
        enemies={
            key: replace(enemy, statements=said)
            for key, enemy in shipped.enemies.items()
            if (said := tuple(one for one in enemy.statements if one.plant in chosen))
        },
        emissions={
            key: replace(
                emission, statements=tuple(one for one in emission.statements if one.plant in chosen)
            )
            for key, emission in shipped.emissions.items()
            if emission.emitter in chosen
        },
    )


def test_an_archive_fills_an_empty_store(some: Snapshot, tmp_path: Path) -> None:
    """Plants, names, records, cautions, decisions, pests, diseases and emissions are all there again."""
    file = tmp_path / "out.zip"
    file.write_bytes(b"".join(export_pieces(some, "dwca", adopted=False)))
    store = MemoryRepository()

    report = bring_archive(file, store, DAY, Wishes(add_plants=True))[0]
    again = bring_archive(file, store, DAY, Wishes(add_plants=True))[0]

    there = store.snapshot()
    assert [] == report.refused == report.unmatched
    assert dict(some.plants) == dict(there.plants)
    assert dict(some.enemies) == dict(there.enemies)
    assert dict(some.emissions) == dict(there.emissions)
    assert {one.acts_through for one in there.emissions.values()} == {"living", "residues"}
    assert all(some.sources[key] == source for key, source in there.sources.items())
    assert any(plant.decisions for plant in some.plants.values())
    assert (False, []) == (again.kept, again.added)


def test_a_table_brings_back_every_record(some: Snapshot, tmp_path: Path) -> None:
    """Into a store that knows the plants and nothing of them."""
    file = tmp_path / "out.csv"
    file.write_bytes(b"".join(export_pieces(some, "csv", adopted=False)))
    bare = tuple(plant.bare() for plant in some.plants.values())
    named = tuple(some.sources[key] for key in {plant.according_to for plant in bare} | {"taxa"})
    store = MemoryRepository(bare, named)

    report = bring_csv(file, store, DAY, Wishes())[0]

    assert [] == report.refused == report.unmatched
    there = store.snapshot().plants
    assert {key: plant.records for key, plant in some.plants.items()} == {
        key: plant.records for key, plant in there.items()
    }


def statements(snapshot: Snapshot) -> set[object]:
    said: set[object] = set()
    for plant in snapshot.plants.values():
        said |= {*plant.records, *plant.cautions, *plant.decisions}
        said |= {*plant.observations, *plant.withdrawals, *plant.reviews, *plant.searches}
    return {*said, *snapshot.statements()}


def test_the_whole_base_reads_back_from_its_archive(shipped: Snapshot, tmp_path: Path) -> None:
    """Every plant and every statement, word for word."""
    file = tmp_path / "out.zip"
    file.write_bytes(b"".join(export_pieces(shipped, "dwca", adopted=False)))

    gathered = read_back(file, (), sources=False)

    assert statements(shipped) == {said for _, said in gathered.statements}
    bare = {key: plant.bare() for key, plant in shipped.plants.items()}
    assert bare == {key: plant for key, (_, plant) in gathered.plants.items()}


def test_the_whole_base_reads_back_from_its_table(shipped: Snapshot, tmp_path: Path) -> None:
    """Every record."""
    file = tmp_path / "out.csv"
    file.write_bytes(b"".join(export_pieces(shipped, "csv", adopted=False)))

    gathered = read_back(file, (), sources=True, snapshot=shipped)

    assert {said for said in statements(shipped) if isinstance(said, Record)} == {
        said for _, said in gathered.statements
    }


def triples(data: bytes, form: RdfFormat) -> Iterator[str]:
    return (str(quad.triple) for quad in pyoxigraph.parse(data, format=form))


def test_linked_data_hold_every_triple(shipped: Snapshot) -> None:
    """Turtle and JSON-LD of every twelfth plant, read by Oxigraph, give the very graph that went out."""
    part = Snapshot(
        "part",
        dict(list(shipped.plants.items())[::12]),
        shipped.sources,
        enemies=dict(list(shipped.enemies.items())[::12]),
        emissions=shipped.emissions,
    )
    graphs = list(whole(part))
    stated = {
        str(pyoxigraph.Triple(*map(to_oxigraph, triple)))  # type: ignore[arg-type]
        for graph in graphs
        for triple in graph
    }

    assert len(stated) > 20_000
    assert stated == set(triples("".join(turtle(graphs)).encode(), RdfFormat.TURTLE))
    assert stated == set(triples(b"".join(jsonld(graphs)), RdfFormat.JSON_LD))


def test_what_curators_added_has_plain_names_in_the_linked_data() -> None:
    """Every property and kind is a word of the context; the triples are those of the graph."""
    graph = plant_graph(CURATED)
    written = b"".join(jsonld([graph]))

    words = {word for node in nodes(graph) for word in (*node, *node.get("type", ()))}
    assert set() == {word for word in words if ":" in word}
    assert set(graph) == set(Graph().parse(data=written, format="json-ld"))
