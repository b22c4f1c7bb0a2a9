"""From statements to agents: modes, worst words, carriers, and the textbook pairs on real records."""

from dataclasses import replace

import pytest

from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.hosts import Agent, Mode
from kb.mixture.site import Site
from kb.model import PlantId
from kb.repository import open_repository
from kb.snapshot import Snapshot
from kb.statements.enemy_model import EmissionId, EnemyId
from kb.statements.enemy_table import agent_of, agents_of, emitter_of


@pytest.fixture(scope="module")
def snapshot() -> Snapshot:
    return open_repository(None).snapshot()


@pytest.fixture(scope="module")
def book(snapshot: Snapshot) -> EnemyBook:
    plants = [(p.id, p.genus, p.family.value) for p in snapshot.profiles()]
    return EnemyBook.of(agents_of(snapshot.enemies.values()), plants)


def named(snapshot: Snapshot, enemy: str) -> Agent:
    return agent_of(snapshot.enemies[EnemyId(enemy)])


@pytest.mark.parametrize(
    ("enemy", "mode"),
    [
        ("phytophthora-infestans", "leaf"),
        ("erwinia-amylovora", "air"),
        ("psila-rosae", "flying"),
        ("cucumber-mosaic-virus", "vector"),
        ("cronartium-ribicola", "alternate"),
        ("agriotes", "soil"),
        ("tipula", "soil"),
        ("phorodon-humuli", "alternate"),
        ("verticillium-dahliae", "soil"),
        ("plasmodiophora-brassicae", "soil"),
        ("stromatinia-cepivora", "soil"),
        ("armillaria-mellea", "soil"),
        ("meloidogyne-hapla", "soil"),
        ("tobacco-rattle-virus", "soil"),
        ("agrobacterium-tumefaciens", "stock"),
        ("apple-replant-disease", "replant"),
    ],
)
def test_how_each_passes(snapshot: Snapshot, enemy: str, mode: Mode) -> None:
    """Modes follow `trade` 4.6: leaves on the wind, alternate hosts, soil, replant (common practice)."""
    assert named(snapshot, enemy).mode == mode


def test_statements_on_one_plant_are_taken_together(snapshot: Snapshot) -> None:
    """The worst role and harm count; where sources disagree on the role, the host is contested."""
    hosts = {host.plant: host for host in named(snapshot, "puccinia-allii").hosts}

    leek, garlic = hosts["allium-ampeloprasum.porrum-group"], hosts["allium-sativum"]
    assert (leek.role, leek.harm, leek.contested, len(leek.records)) == ("main", "serious", True, 2)
    assert (garlic.role, garlic.contested) == ("main", False)


def test_a_crop_that_a_nematode_only_breeds_on_is_no_host(snapshot: Snapshot) -> None:
    """Of 876 rows of one table only those with real damage make an agent a shared enemy."""
    worm = snapshot.enemies[EnemyId("pratylenchus-penetrans")]
    bred = {s.plant for s in worm.statements if s.role in {"main", "side"}}
    hurt = {s.plant for s in worm.statements if s.role in {"main", "side"} and s.severity}

    live_on = {host.plant for host in agent_of(worm).hosts if host.role in {"main", "side"}}

    assert hurt == live_on < bred


def test_a_rejected_statement_does_not_count(snapshot: Snapshot) -> None:
    """What a curator rejected is gone from the lists."""
    blight = snapshot.enemies[EnemyId("phytophthora-infestans")]
    rejected = tuple(replace(said, standing="rejected") for said in blight.statements)

    assert agent_of(replace(blight, statements=rejected)).hosts == ()


@pytest.mark.parametrize(
    ("one", "other", "agent"),
    [
        ("solanum-lycopersicum", "solanum-tuberosum", "phytophthora-infestans"),  # `trade` B16
        ("pinus-strobus", "ribes-nigrum", "cronartium-ribicola"),  # `trade` B18
        ("pyrus-communis", "juniperus-sabina", "gymnosporangium-sabinae"),  # Washington State, 1,000 ft
        ("triticum-aestivum", "berberis-vulgaris", "puccinia-graminis"),  # barberry laws of the USA
    ],
)
def test_pairs_that_practice_keeps_apart(
    snapshot: Snapshot, book: EnemyBook, one: str, other: str, agent: str
) -> None:
    """The pairs that handbooks and laws keep apart are hard, with their records and what lifts them."""
    found = book.shared_enemies(
        snapshot.profile(PlantId(one)), snapshot.profile(PlantId(other)), Site(), distance_m=100
    )

    assert found.agents[0].agent == agent
    assert found.hard
    assert found.lift
    assert found.agents[0].records
    assert all(snapshot.record(record).plant in {one, other} for record in found.agents[0].records)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("fragaria-x-ananassa", "solanum-lycopersicum"),  # `trade` T02
        ("mentha-x-piperita", "fragaria-x-ananassa"),  # `trade` B19: both carry wilt
    ],
)
def test_verticillium_crosses_families_as_a_condition(
    snapshot: Snapshot, book: EnemyBook, one: str, other: str
) -> None:
    """Strangers by family share a wilt of the soil: workable, on ground without a history."""
    found = book.shared_enemies(snapshot.profile(PlantId(one)), snapshot.profile(PlantId(other)), Site())

    assert not found.hard
    assert "Verticillium" in (found.condition or "")
    assert found.value == pytest.approx(0.05)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("malus-domestica", "rubus-idaeus"),  # `trade` T01: one family, few shared troubles
        ("daucus-carota", "allium-cepa"),  # `trade` B04
        ("zea-mays", "phaseolus-vulgaris"),  # `trade` B01
    ],
)
def test_good_neighbours_stay_free_of_enemies(
    snapshot: Snapshot, book: EnemyBook, one: str, other: str
) -> None:
    """Long lists of nematodes and harmless guests hold nothing against pairs that practice likes."""
    found = book.shared_enemies(snapshot.profile(PlantId(one)), snapshot.profile(PlantId(other)), Site())

    assert all(shared.v == 0 and shared.ceiling is None for shared in found.agents)


def test_hard_pairs_are_few(snapshot: Snapshot, book: EnemyBook) -> None:
    """Of a quarter of a million pairs only the handful that records support is hard."""
    profiles = snapshot.profiles()
    hard = [
        (a.id, b.id)
        for i, a in enumerate(profiles)
        for b in profiles[i + 1 :]
        if book.holds(a, b) and book.shared_enemies(a, b, Site()).hard
    ]

    assert 4 <= len(hard) < 40


def test_dishes_outvote_nothing(snapshot: Snapshot) -> None:
    """Alder near black walnut: two field trials and a list count (Rietveld 1983), the dish does not."""
    alder = emitter_of(snapshot.emissions[EmissionId("juglone")]).on("alnus-glutinosa")

    assert alder is not None
    assert (alder.sensitive, alder.tolerant, alder.grade, alder.reported) == (3, 0, "A", True)
    assert len(alder.records) == 4


def test_wormwood_tells_of_plants_it_does_not_name(snapshot: Snapshot) -> None:
    """Funke 1943: eighteen species sown beside the hedge, of which the abstract names lovage alone."""
    wormwood = emitter_of(snapshot.emissions[EmissionId("wormwood-washings")])

    assert wormwood.on("foeniculum-vulgare") is None
    assert wormwood.others is not None
    assert wormwood.others.grade == "A"
    assert wormwood.reach_m == (1.0, 1.0)


def test_walnut_lists_count_sources_not_rows(snapshot: Snapshot) -> None:
    """Tomato is on three lists near black walnut, carrot on one as tolerant (evidence tables)."""
    emitter = emitter_of(snapshot.emissions[EmissionId("juglone")])

    tomato, carrot = emitter.on("solanum-lycopersicum"), emitter.on("daucus-carota")
    assert (emitter.plant, emitter.strength) == ("juglans-nigra", 3)
    assert tomato is not None
    assert (tomato.sensitive, tomato.tolerant, tomato.grade, tomato.reported) == (3, 0, "D", True)
    assert carrot is not None
    assert (carrot.sensitive, carrot.tolerant) == (0, 1)
    cabbage = emitter.on("brassica-oleracea.capitata-group")
    assert cabbage is not None
    assert cabbage.sensitive == 2
