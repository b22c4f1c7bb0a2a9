"""Follow-ons that handbooks warn of, and what a list of a group or a rise on the wind may and may not say."""

from dataclasses import replace

import pytest

from kb.mixture.answers.succession import judge_follow
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.hosts import Agent, Host
from kb.mixture.follow.grown_after import FollowOn
from kb.mixture.follow.leftover import Ground, State, Waiting, waiting
from kb.mixture.profile import Choice, Profile
from kb.mixture.results import Verdict
from kb.mixture.site import REFERENCE_SITE
from tests.mixture.profiles import invented, season
from tests.mixture.real import shipped

FIRST = invented("early-crop", activity=season(12, 16, 24, 28))
THEN = invented("late-crop", activity=season(20, 26, 36, 40))
GROUP = replace(THEN, id="late-crop.round-group")
KNOWN = {plant.id: plant for plant in shipped()[0]}


def book(*agents: Agent, plants: tuple[Profile, ...] = (FIRST, THEN, GROUP)) -> EnemyBook:
    return EnemyBook.of(agents, [(p.id, p.genus, p.family.value) for p in plants])


def held(agent: str, first: str, then: str, years: float) -> tuple[State, Verdict] | None:
    """What one enemy does to one real crop after another, so many years apart."""
    found = waiting(KNOWN[first], KNOWN[then], Ground(years, frozenset(), frozenset()), shipped()[1])
    said: list[Waiting] = [one for one in found if one.agent.id == agent]
    return (said[0].state, said[0].ceiling) if said else None


@pytest.mark.parametrize(
    ("agent", "first", "then", "years", "expected"),
    [
        # Saskatchewan Pulse Growers 2019: pea and lentil most susceptible; ministry 2021: six to eight years
        ("aphanomyces-euteiches", "pisum-sativum", "lens-culinaris", 1, ("held", "poor")),
        ("aphanomyces-euteiches", "lens-culinaris", "pisum-sativum", 5, ("held", "workable")),
        # the same sheet: chickpea and broad bean resist
        ("aphanomyces-euteiches", "pisum-sativum", "vicia-faba", 1, None),
        ("aphanomyces-euteiches", "pisum-sativum", "cicer-arietinum", 1, None),
        # PGRO: five years between peas and beans, as a precaution
        ("root-rots-of-pea", "pisum-sativum", "vicia-faba", 4, ("held", "workable")),
        ("root-rots-of-pea", "pisum-sativum", "vicia-faba", 6, ("rested", "workable")),
        # NC State: destructive on pepper and cucurbits; Kentucky: four years between cucurbits
        ("phytophthora-capsici", "capsicum-annuum", "cucurbita-pepo.pumpkin-group", 1, ("held", "workable")),
        ("phytophthora-capsici", "cucurbita-maxima", "cucumis-sativus", 1, ("held", "poor")),
        ("phytophthora-capsici", "cucurbita-maxima", "cucumis-sativus", 4, ("rested", "workable")),
        # UC IPM: two years out of susceptible crops before beans
        ("sclerotinia-sclerotiorum", "lactuca-sativa", "phaseolus-vulgaris", 1, ("held", "workable")),
        ("sclerotinia-sclerotiorum", "lactuca-sativa", "phaseolus-vulgaris", 2, ("rested", "workable")),
        # PNW handbook, celery: "only grasses, cereals, and onion are not affected"
        ("sclerotinia-sclerotiorum", "allium-cepa", "lactuca-sativa", 1, None),
        # RHS: five to six years between potatoes or tomatoes
        ("globodera", "solanum-tuberosum", "solanum-lycopersicum", 5, ("held", "workable")),
        ("globodera", "solanum-tuberosum", "solanum-lycopersicum", 6, ("rested", "workable")),
        # Iowa State: two years between crucifers, radish usually highly resistant
        ("black-rot-of-cabbage", "raphanus-sativus", "brassica-oleracea.capitata-group", 1, None),
    ],
)
def test_what_handbooks_print_of_a_follow_on_is_held(
    agent: str, first: str, then: str, years: float, expected: tuple[State, Verdict] | None
) -> None:
    """Harm, years and rotation as the handbook named beside each prints them."""
    assert expected == held(agent, first, then, years)


def test_a_list_of_the_group_does_not_hide_what_is_printed_of_the_species() -> None:
    """A group whose list prints no harm takes its species' harm and longer rotation; its own harm stands.

    NC State has the blight destructive on squash and pumpkin; a bare list of hosts names the pumpkin too.
    """
    species = Host(THEN.id, "main", "serious", gap_years=4.0, records=("record:late-crop.enemy",))
    bare = Host(GROUP.id, "main", None, gap_years=2.0, records=("record:round.enemy",))

    def of(group: Host) -> Host:
        return {agent.id: host for agent, host in book(rot(species, group)).listing(GROUP)}["rot"]

    filled, own, resists = of(bare), of(replace(bare, harm="slight")), of(replace(bare, role="resistant"))

    assert ("serious", 4.0) == (filled.harm, filled.gap_years)
    assert ("record:round.enemy", "record:late-crop.enemy") == filled.records
    assert ("slight", 4.0) == (own.harm, own.gap_years)
    assert (None, 2.0) == (resists.harm, resists.gap_years)


def rot(*hosts: Host, **changes: object) -> Agent:
    return Agent("rot", "rot", "soil", hosts, **changes)  # type: ignore[arg-type]


def on_both(**changes: object) -> Agent:
    """Serious on both crops, in the ground for up to ten years."""
    hosts = (Host(FIRST.id, "main", "serious"), Host(THEN.id, "main", "serious"))
    return rot(*hosts, years=(None, 10.0), **changes)


def test_what_rises_on_the_wind_is_nothing_between_neighbours_of_a_year() -> None:
    """White mould comes of resting bodies that lay through a winter (PNW handbook, lettuce: drop)."""
    in_ground = book(on_both()).shared_enemies(FIRST, THEN, REFERENCE_SITE)
    on_wind = book(on_both(airborne=True)).shared_enemies(FIRST, THEN, REFERENCE_SITE)

    assert ["workable"] == [agent.ceiling for agent in in_ground.agents]
    assert [(None, 0.0)] == [(agent.ceiling, agent.v) for agent in on_wind.agents]


@pytest.mark.parametrize(("years", "verdict"), [(1, "workable"), (2, "workable"), (3, "good")])
def test_it_waits_for_followers_as_long_as_rotation_asks(years: int, verdict: str) -> None:
    """Three years where no rotation is printed (`trade` 5.3), though its life is longer."""
    held_by = book(on_both(airborne=True))
    after = judge_follow(FIRST, THEN, REFERENCE_SITE, FollowOn(gap_years=years), book=held_by)
    without_wind = judge_follow(FIRST, THEN, REFERENCE_SITE, FollowOn(gap_years=years), book=book(on_both()))

    assert verdict == after.verdict
    assert "workable" == without_wind.verdict


def test_ground_that_is_known_to_have_it_is_poor_and_not_to_be_avoided() -> None:
    """Rotation does not prevent it and only lowers what the soil holds (UC IPM, Celery: Pink Rot)."""
    asked = FollowOn(sow_week_b=30, history=frozenset({"rot"}))
    words = [
        judge_follow(FIRST, THEN, REFERENCE_SITE, asked, book=book(on_both(airborne=wind))).verdict
        for wind in (True, False)
    ]

    assert ["poor", "avoid"] == words


def test_white_mould_waits_in_the_ground_and_comes_on_the_wind() -> None:
    """UC IPM prints both of it; onion mildew, whose life in the ground nobody prints, is of the wind."""
    agents = {agent.id: agent for agent in shipped()[1].agents}
    mould, mildew = agents["sclerotinia-sclerotiorum"], agents["peronospora-destructor"]

    assert ("soil", True) == (mould.mode, mould.airborne)
    assert ("leaf", False) == (mildew.mode, mildew.airborne)


@pytest.mark.parametrize(("gap", "verdict"), [(6.0, "workable"), (None, "good")])
def test_a_nematode_holds_inside_the_rotation_that_is_printed_for_both(
    gap: float | None, verdict: str
) -> None:
    """Potato cyst nematodes: five to six years between potatoes or tomatoes (RHS); without one, named."""
    hosts = [Host(plant.id, "main", "serious", gap_years=gap) for plant in (FIRST, THEN)]
    worm = book(rot(*hosts, nematode=True))
    other = replace(THEN, family=Choice("Otheraceae", "cited"))

    said = judge_follow(FIRST, other, REFERENCE_SITE, FollowOn(gap_years=4), book=worm)

    assert verdict == said.verdict
