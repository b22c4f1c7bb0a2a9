"""Enemies, host statements and the walnut lists, held against the compilation and its traps."""

import csv
from datetime import date
from decimal import Decimal
from pathlib import Path
from shutil import copytree

import pytest

from import_scripts.enemies.importer import IMPORTER
from import_scripts.run import run
from kb.repository import FilesRepository, MemoryRepository, open_repository
from kb.snapshot import Snapshot
from kb.statements.enemy_model import EmissionId, EnemyId, HostStatement

DAY = date(2026, 1, 2)


@pytest.fixture(scope="module")
def shipped() -> Snapshot:
    return open_repository(None).snapshot()


def said(snapshot: Snapshot, enemy: str, plant: str, source: str = "") -> list[HostStatement]:
    return [
        statement
        for statement in snapshot.enemies[EnemyId(enemy)].statements
        if statement.plant == plant and statement.source.startswith(source)
    ]


def changed(folder: Path, file: str, row: int, **cells: str) -> Path:
    """A copy of the carried input with some cells of one row (counted from 0) changed."""
    copy = folder / "data"
    copytree(IMPORTER.carried, copy)
    with (copy / file).open(encoding="utf-8", newline="") as text:
        rows = list(csv.DictReader(text))
    rows[row].update(cells)
    with (copy / file).open("w", encoding="utf-8", newline="") as text:
        writer = csv.DictWriter(text, rows[0].keys(), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
    return copy


def test_the_shipped_enemies_are_what_the_importer_makes(store: MemoryRepository, shipped: Snapshot) -> None:
    """Importing the carried tables gives the statements that ship, whatever the day."""
    report = run(IMPORTER, None, store, DAY)
    made = store.snapshot()

    assert report.refused == []
    assert set(made.enemies) == set(shipped.enemies)
    for enemy_id, enemy in made.enemies.items():
        assert [s.id for s in enemy.statements] == [s.id for s in shipped.enemies[enemy_id].statements]
        assert enemy.attacks == shipped.enemies[enemy_id].attacks
    assert run(IMPORTER, None, store, date(2027, 1, 1)).as_dict()["enemies_written"] == []


def test_running_twice_changes_no_byte(tmp_path: Path, shipped: Snapshot) -> None:
    """A second run over the same folder writes nothing and keeps the first date."""
    for plant in ("solanum-lycopersicum", "solanum-tuberosum"):
        assert plant in shipped.plants
    store = FilesRepository(None, tmp_path)
    for plant_id in ("malus-domestica", "juglans-nigra", "solanum-tuberosum"):
        path = Path("plants", plant_id.partition("-")[0], f"{plant_id.partition('-')[2]}.ttl")
        (tmp_path / path).parent.mkdir(parents=True)
        (tmp_path / path).write_bytes((Path(__file__).parents[2] / "kb" / path).read_bytes())
    run(IMPORTER, None, store, DAY)
    before = {path: path.read_bytes() for path in (tmp_path / "enemies").iterdir()}

    again = run(IMPORTER, None, store, date(2027, 1, 1))

    assert len(before) > 10
    assert {path: path.read_bytes() for path in (tmp_path / "enemies").iterdir()} == before
    assert again.added == again.enemies_written == []


def test_there_are_enemies_enough_with_hosts(shipped: Snapshot) -> None:
    """At least 45 named enemies that are no nematodes have hosts here (the project's own aim)."""
    with_hosts = [
        enemy
        for enemy in shipped.enemies.values()
        if enemy.kind != "nematode" and any(s.role in {"main", "side", "alternate"} for s in enemy.statements)
    ]

    assert len(with_hosts) >= 45
    for name in (
        "cronartium-ribicola",
        "verticillium-dahliae",
        "plasmodiophora-brassicae",
        "stromatinia-cepivora",
        "phytophthora-infestans",
        "erwinia-amylovora",
        "armillaria-mellea",
        "podosphaera-leucotricha",
        "cucumber-mosaic-virus",
        "apple-replant-disease",
    ):
        assert EnemyId(name) in shipped.enemies


def test_a_distance_says_what_it_is_a_distance_of(shipped: Snapshot) -> None:
    """The four sorts of printed distance are told apart (README of the compilation, 'distance_m mixes')."""
    rust = said(shipped, "cronartium-ribicola", "ribes-nigrum", "pnw-wpbr-ribes")
    fly = said(shipped, "delia-antiqua", "allium-cepa", "umass-onionmaggot")
    beetle = said(shipped, "leptinotarsa-decemlineata", "solanum-tuberosum", "boiteau2008")
    flea = said(shipped, "phyllotreta", "brassica-oleracea", "george2019")
    rot = said(shipped, "stromatinia-cepivora", "allium-cepa", "ucipm-whiterot")

    # "1,000 ft and preferably 0.5 mile", Pacific Northwest handbook: 305 and 805 m.
    assert [s.distance_m for s in rust] == [(Decimal(305), Decimal(805))]
    assert [s.distance_meaning for s in rust] == ["between-hosts"]
    # "travel up to one mile", University of Massachusetts: 1,609 m.
    assert [(s.distance_m, s.distance_meaning) for s in fly] == [((None, Decimal(1609)), "flight")]
    assert {s.distance_meaning for s in beetle} == {"rotation"}
    assert [s.distance_meaning for s in flea] == ["gap"]
    assert "root-reach" in {s.distance_meaning for s in rot}
    for statement in shipped.statements():
        if isinstance(statement, HostStatement):
            assert (statement.distance_m is None) == (statement.distance_meaning is None)


def test_years_in_the_ground_and_years_between_crops_are_apart(shipped: Snapshot) -> None:
    """Clubroot lasts 10 years or longer (Pacific Northwest handbook); 7 years is a rotation (Connecticut)."""
    lasting = said(shipped, "plasmodiophora-brassicae", "brassica-oleracea", "pnw-clubroot")
    between = said(shipped, "plasmodiophora-brassicae", "brassica-oleracea", "uconn-rotation")

    assert [(s.years, s.years_meaning) for s in lasting] == [((Decimal(10), None), "survival")]
    assert {(s.years, s.years_meaning) for s in between} == {((Decimal(7), Decimal(7)), "rotation")}
    assert shipped.enemies[EnemyId("plasmodiophora-brassicae")].persistence == (Decimal(10), None)


def test_garlic_rust_keeps_both_of_its_regions(shipped: Snapshot) -> None:
    """Garlic rust of California does not infect leek, that of Europe does: both rows stay (README, traps)."""
    leek = said(shipped, "puccinia-allii", "allium-ampeloprasum.porrum-group")

    assert {(s.role, s.region) for s in leek} == {
        ("main", "worldwide"),
        ("non-host", "California isolates only"),
    }


def test_a_carrier_of_spores_is_no_host(shipped: Snapshot) -> None:
    """Potato carries clubroot spores in soil and is not a host (README, traps)."""
    assert {s.role for s in said(shipped, "plasmodiophora-brassicae", "solanum-tuberosum")} == {"non-host"}


def test_one_work_has_one_vote(shipped: Snapshot) -> None:
    """A work that two compilations key differently is one source, and says a thing once."""
    tomato = said(shipped, "verticillium-dahliae", "solanum-lycopersicum", "pnw-vert-intro")

    assert len(tomato) == 1
    assert not {"pnw-disease-handbook", "uc-leaflet-2703", "uconn-ipm-rotation"} & {
        s.source for s in shipped.statements()
    }


def test_a_source_that_names_a_family_says_so(shipped: Snapshot) -> None:
    """Printed for the family: "cruciferous hosts" (handbook), "Cabbage-related plants" (rotation table)."""
    wilt = said(shipped, "verticillium-longisporum", "brassica-rapa")
    club = said(shipped, "plasmodiophora-brassicae", "brassica-oleracea", "uconn")
    turnip = said(shipped, "plasmodiophora-brassicae", "brassica-rapa", "uconn")

    assert ["cruciferous hosts"] == [one.name_as_printed for one in wilt if one.scope == "family"]
    assert ["family"] == [one.scope for one in club]
    assert "taken as its family" in (club[0].note or "")
    assert ["taxon"] == [one.scope for one in turnip]


def test_brambles_are_more_than_raspberry(shipped: Snapshot) -> None:
    """The rotation table prints "brambles" in the row of eggplant: raspberries and blackberries."""
    for plant in ("rubus-idaeus", "rubus-fruticosus", "rubus-occidentalis"):
        rows = said(shipped, "verticillium-dahliae", plant, "uconn")
        assert ["rotation"] == [one.years_meaning for one in rows]


def test_a_bulb_bed_is_not_read_as_onions(shipped: Snapshot) -> None:
    """'Allium' in the Dutch nematode table is flower bulbs: its rows go to no plant (decided)."""
    assert not [
        s
        for s in shipped.statements()
        if s.name_as_printed == "Allium spp." and s.locator.endswith("crop rows allium")
    ]


def test_walnut_lists_carry_their_grade_and_disagreement(shipped: Snapshot) -> None:
    """Tomato is on three lists, all grade D; a list is never better than advice (evidence README)."""
    listed = shipped.emissions[EmissionId("juglone")].statements
    tomato = [s for s in listed if s.plant == "solanum-lycopersicum"]

    assert {s.source for s in tomato} == {
        "morton-arboretum-sheet",
        "ohio-state-extension-column",
        "funt-martin-osu-hyg-1148",
    }
    assert {s.grade for s in tomato} == {"D"}
    assert {s.listed_as for s in listed if s.plant == "daucus-carota"} == {"tolerant"}


def graded(snapshot: Snapshot, emission: str, plant: str) -> set[tuple[str, str]]:
    """Grade and listing of every statement on a plant and an emission."""
    said = snapshot.emissions[EmissionId(emission)].statements
    return {(s.grade, s.listed_as) for s in said if s.plant == plant}


@pytest.mark.parametrize(
    ("emission", "plant", "said"),
    [
        # Funke 1943, Blumea 5: lovage was killed beside a hedge of wormwood.
        ("wormwood-washings", "levisticum-officinale", {("A", "sensitive")}),
        # Rietveld 1983: alders among black walnuts died after 8-13 years.
        ("juglone", "alnus-glutinosa", {("A", "sensitive"), ("C", "sensitive"), ("D", "sensitive")}),
        # Funt and Martin, Ohio State HYG-1148: black walnut and butternut; tomato "may be injured or killed".
        ("butternut-juglone", "solanum-lycopersicum", {("D", "sensitive")}),
        # Adhikari 2018: 35-64 % fewer lucerne seedlings after rye.
        ("rye-residues", "medicago-sativa", {("A", "sensitive")}),
        # Shafer and Garrison 1986; Blok and Bollen 1993: asparagus roots on asparagus, in pots.
        ("asparagus-roots", "asparagus-officinalis", {("B", "sensitive")}),
        # Reinhardt 1993: tomato was not inhibited in ground that had carried sweet potato.
        ("sweet-potato-residues", "solanum-lycopersicum", {("B", "tolerant")}),
        # Summers 2009: half to three quarters of the lettuces planted into sudex died.
        ("sorghum-residues", "lactuca-sativa", {("A", "sensitive")}),
    ],
)
def test_emissions_say_what_the_papers_say(
    shipped: Snapshot, emission: str, plant: str, said: set[tuple[str, str]]
) -> None:
    """Grades and listings, read again in the abstracts of the papers named beside each."""
    assert graded(shipped, emission, plant) == said


def test_the_reach_belongs_to_the_emission(shipped: Snapshot) -> None:
    """18-24 m round black walnut (`trade` 4.9), 100 cm round a wormwood hedge (Funke 1943), else none."""
    reach = {key: one.reach_m for key, one in shipped.emissions.items() if one.reach_m is not None}

    assert reach == {"juglone": (18, 24), "wormwood-washings": (1, 1)}


@pytest.mark.parametrize(
    ("file", "cells", "word"),
    [
        ("emission_statements.csv", {"emission": "smoke"}, "the emission 'smoke' is not in emissions.csv"),
        ("emission_statements.csv", {"grade": "E"}, "grade 'E' is not known"),
        ("emissions.csv", {"reach_low_m": "far"}, "a reach is no number of metres"),
    ],
)
def test_a_wrong_emission_row_is_refused(
    tmp_path: Path, store: MemoryRepository, file: str, cells: dict[str, str], word: str
) -> None:
    """A cell outside its closed list is named with its line and how to mend it."""
    report = run(IMPORTER, changed(tmp_path, file, 0, **cells), store, DAY)

    assert word in {r.file: r.reason for r in reversed(report.refused)}[file]


def test_every_statement_opens_by_its_iri_and_has_its_source(shipped: Snapshot) -> None:
    """Each statement is found by its IRI, is about a plant that is here and cites a source that is here."""
    statements = shipped.statements()

    assert len({s.iri for s in statements}) == len(statements)
    for statement in statements:
        assert shipped.record(statement.iri) is statement
        assert statement.plant in shipped.plants
        assert statement.source in shipped.sources


@pytest.mark.parametrize(
    ("cells", "word"),
    [
        ({"role": "chief"}, "role 'chief' is not one of main"),
        ({"severity": "awful"}, "severity 'awful' is not one of serious"),
        ({"spreads_by": "gossip"}, "spreads_by 'gossip' is not one of air"),
        ({"distance_m": "far"}, "distance_m 'far' is no number or range"),
        ({"distance_m": "12"}, "what the distance of psu_stonefruit2 means is not decided"),
        ({"enemy": "an unnamed rot"}, "the enemy 'an unnamed rot' is not decided"),
    ],
)
def test_a_row_that_is_wrong_is_refused_by_line(
    tmp_path: Path, store: MemoryRepository, cells: dict[str, str], word: str
) -> None:
    """One wrong cell costs one row, which the report names with what to do; the rest goes in."""
    report = run(IMPORTER, changed(tmp_path, "enemies.csv", 0, **cells), store, DAY)

    assert [(r.file, r.row) for r in report.refused] == [("enemies.csv", 2)]
    assert word in report.refused[0].reason
    assert report.refused[0].mend
    assert len(report.added) > 1000


def test_a_change_upstream_is_a_revision(tmp_path: Path, store: MemoryRepository) -> None:
    """A source that now says otherwise leaves the old statement and adds a revision of it."""
    run(IMPORTER, None, store, DAY)

    report = run(IMPORTER, changed(tmp_path, "enemies.csv", 0, severity="serious"), store, DAY)

    old, new = report.changed[0]
    assert (report.added, len(report.changed), new) == ([], 1, f"{old}.r2")
    kept = store.snapshot().record(new)
    assert isinstance(kept, HostStatement)
    assert (kept.severity, kept.revises) == ("serious", old)
