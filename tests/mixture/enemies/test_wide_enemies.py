"""Enemies of plants of many families: counted a step less than others, and never pressing below workable."""

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.harm import harm_between
from kb.mixture.enemies.hosts import LIVE_ON, Agent, Host
from kb.mixture.enemies.named import MOST, OTHER, SERIOUS
from kb.mixture.enemies.wide_feeders import MANY_FAMILIES
from kb.mixture.judging.bonds import Bond, shared_by
from kb.mixture.limits import Meeting
from kb.mixture.profile import Choice
from kb.mixture.relatedness import ENEMY_WEIGHT, relation
from kb.mixture.site import REFERENCE_SITE, Arrangement
from kb.mixture.stress import verdict_of
from tests.mixture.profiles import invented
from tests.mixture.real import shipped

FAMILIES = ("Rosaceae", "Poaceae", "Fabaceae", "Solanaceae", "Rutaceae", "Vitaceae")
PLANTS = tuple(
    invented(f"plant{place}", genus=f"genus{place}", family=Choice(family, "cited"))
    for place, family in enumerate(FAMILIES)
)
COUSINS = tuple(
    invented(f"cousin{place}", genus=f"cousins{place}", family=Choice("Rosaceae", "cited"))
    for place in (0, 1)
)
EVERYBODY = (*PLANTS, *COUSINS)
MEETING = Meeting(REFERENCE_SITE, "bed", frozenset())
KNOWN = {plant.id: plant for plant in shipped()[0]}


def eats(name: str, kinds: int, harm: str | None = "serious") -> Agent:
    """A flying agent of so many families, the first two of its hosts harmed as said, cousins badly."""
    hosts = [Host(p.id, "main", harm if at < 2 else None) for at, p in enumerate(PLANTS[:kinds])]  # type: ignore[arg-type]
    return Agent(name, name, "flying", (*hosts, *(Host(p.id, "main", "serious") for p in COUSINS)))


def book(*agents: Agent) -> EnemyBook:
    return EnemyBook.of(agents, [(p.id, p.genus, p.family.value) for p in EVERYBODY])


@pytest.mark.parametrize(
    ("kinds", "harm", "v"),
    [
        (MANY_FAMILIES - 1, "serious", SERIOUS),
        (MANY_FAMILIES - 1, "moderate", OTHER),
        (MANY_FAMILIES, "serious", OTHER),
        (MANY_FAMILIES, "moderate", 0.0),
    ],
)
def test_what_eats_everything_counts_a_step_less(kinds: int, harm: str, v: float) -> None:
    """The steps of `trade` 4.6 (0.6 serious, 0.3 other); one less for many families is judgement."""
    found = book(eats("beetle", kinds, harm)).shared_enemies(PLANTS[0], PLANTS[1], REFERENCE_SITE)

    assert [v] == [agent.v for agent in found.agents]


@pytest.mark.parametrize("count", [1, 2, 5, 12])
def test_however_many_of_them_leave_kin_and_strangers_workable(count: int) -> None:
    """A wide-host disease is a warning that caps the verdict at workable (`trade` 4.6), asked either way."""
    several = book(*(eats(f"beetle{number}", MANY_FAMILIES) for number in range(count)))

    for one, other in ((PLANTS[0], PLANTS[1]), COUSINS):
        found = several.shared_enemies(one, other, REFERENCE_SITE)
        kin = 0.45 if one.family.value == other.family.value else 0.05
        assert max(kin, min(MOST["none"], 1 - (1 - OTHER) ** count)) == pytest.approx(found.value)
        assert "workable" == verdict_of(ENEMY_WEIGHT * found.value)
        places = [several.plants.index(one.id), several.plants.index(other.id)]
        assert found.value == pytest.approx(max(kin, float(several.named[places[0], places[1]])))


def test_in_a_whole_planting_they_are_bounded_alike() -> None:
    """Each agent once, over all neighbours (`computation-notes` 4): by these no further than workable."""
    several = book(*(eats(f"beetle{number}", MANY_FAMILIES) for number in range(6)))
    bonds = [
        Bond((0, at), relation(one, other), MEETING, harm_between(one, other, MEETING, several))
        for at, (one, other) in enumerate(((COUSINS[0], COUSINS[1]), (COUSINS[0], PLANTS[0])), 1)
    ]

    assert MOST["none"] == pytest.approx(shared_by(bonds))
    assert shared_by(bonds[:1]) == pytest.approx(several.shared_enemies(*COUSINS, REFERENCE_SITE).value)


def test_one_of_few_families_still_presses_kin_further() -> None:
    """The bound is for those of many families alone: a serious pest of two cousins goes above it."""
    found = book(eats("weevil", 2), eats("beetle", MANY_FAMILIES))

    assert found.shared_enemies(*COUSINS, REFERENCE_SITE).value == pytest.approx(
        1 - (1 - SERIOUS) * (1 - OTHER), abs=0.15
    )
    assert found.shared_enemies(*COUSINS, REFERENCE_SITE).value > MOST["none"]


def test_the_caterpillar_of_maize_and_tomato_is_said() -> None:
    """Corn earworm and tomato fruitworm are one (Oklahoma State University Extension)."""
    answer = judge_pair(
        KNOWN["zea-mays"],
        KNOWN["solanum-lycopersicum"],
        REFERENCE_SITE,
        Arrangement(share_a=0.5, share_b=0.5, given=frozenset({"fed"})),  # unfed, tomato lacks nitrogen too
        book=shipped()[1],
    )

    assert "workable" == answer.verdict
    assert "corn earworm" in " ".join(reason.text for reason in answer.reasons)


@pytest.mark.parametrize(
    ("one", "other", "enemy"),
    [
        ("prunus-persica", "solanum-tuberosum", "myzus-persicae"),  # Virginia Tech, CROPROTECT
        ("prunus-persica", "solanum-tuberosum", "verticillium-dahliae"),  # UC IPM, Cornell
        ("ribes-nigrum", "lactuca-sativa", "nasonovia-ribisnigri"),  # AHDB
        ("malus-domestica", "plantago-lanceolata", "dysaphis-plantaginea"),  # INRA
        ("salix-alba", "daucus-carota", "cavariella-aegopodii"),  # AHDB
        ("prunus-padus", "avena-sativa", "rhopalosiphum-padi"),  # Leather et al. 1989
        ("anemone-nemorosa", "prunus-domestica", "tranzschelia-pruni-spinosae"),  # plant protection, Hamburg
        ("arachis-hypogaea", "solanum-lycopersicum", "sclerotium-rolfsii"),  # APS
        (
            "phaseolus-vulgaris",
            "beta-vulgaris.altissima-group",
            "rhizoctonia-solani-ag-2-2",
        ),  # Engelkes, Windels
        ("fragaria-x-ananassa", "solanum-melongena", "tetranychus-urticae"),  # Virginia Tech, UMass
    ],
)
def test_well_published_enemies_that_two_crops_share_are_named(one: str, other: str, enemy: str) -> None:
    """Each is on record for both at the service named beside it."""
    found = shipped()[1].shared_enemies(KNOWN[one], KNOWN[other], REFERENCE_SITE)

    assert enemy in [agent.agent for agent in found.agents]


def test_no_crop_is_poor_beside_a_stranger_for_wide_feeders_alone() -> None:
    """Of every two plants of two families, those with nothing but wide feeders between them stay workable."""
    shared = shipped()[1]
    wide = {agent.id for agent in shared.agents if agent.wide}
    crops = [
        KNOWN[name]
        for name in ("zea-mays", "glycine-max", "malus-domestica", "capsicum-annuum", "arachis-hypogaea")
    ]

    assert wide >= {"helicoverpa", "halyomorpha-halys", "tetranychus-urticae", "tomato-spotted-wilt-virus"}
    assert all(
        len({host.plant for host in agent.hosts if host.role in LIVE_ON}) >= MANY_FAMILIES
        for agent in shared.agents
        if agent.wide
    )
    for one in crops:
        for other in crops:
            if one.family.value != other.family.value:
                assert shared.shared_enemies(one, other, REFERENCE_SITE).value <= MOST["none"]
