"""Named enemies of a pair: what counts, what is hard, what lifts it, and what never changes the sign."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.mixture.enemies.countries import recorded_in
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.hosts import Agent, Host, Mode
from kb.mixture.enemies.named import OTHER as OTHER_V
from kb.mixture.enemies.named import SERIOUS
from kb.mixture.profile import Profile
from kb.mixture.site import Site
from tests.mixture.profiles import invented

SITE = Site()
MODES: tuple[Mode, ...] = ("leaf", "air", "flying", "vector", "alternate", "soil", "stock", "replant")
ONE, OTHER, THIRD = invented("arula"), invented("belta"), invented("cilma")


def agent(name: str = "invented-rot", mode: Mode = "leaf", *hosts: Host, **changes: object) -> Agent:
    """One invented agent."""
    return Agent(name, name.replace("-", " "), mode, hosts, **changes)  # type: ignore[arg-type]


def host(profile: Profile, **changes: object) -> Host:
    """A main host that it harms badly, unless said otherwise."""
    plain = Host(profile.id, "main", "serious", records=(f"record:{profile.id}.enemy",))
    return replace(plain, **changes)  # type: ignore[arg-type]


def book(*agents: Agent, profiles: tuple[Profile, ...] = (ONE, OTHER, THIRD)) -> EnemyBook:
    return EnemyBook.of(agents, [(p.id, p.genus, p.family.value) for p in profiles])


def test_a_serious_wind_borne_leaf_disease_of_both_is_hard() -> None:
    """Late blight on tomato and potato: avoid (`trade` 6.1 B16; `computation-notes` 1.17)."""
    found = book(agent("late-blight", "leaf", host(ONE), host(OTHER))).shared_enemies(ONE, OTHER, SITE)

    assert found.hard
    assert found.value == pytest.approx(0.55)  # no more than two families share
    assert found.agents[0].records == ("record:arula.enemy", "record:belta.enemy")
    assert "resists late blight" in (found.lift or "")


@pytest.mark.parametrize(
    "change",
    [{"role": "side"}, {"harm": "moderate"}, {"harm": None}, {"contested": True}],
    ids=["side host", "moderate", "harm not printed", "sources disagree"],
)
def test_it_is_hard_only_where_both_are_surely_and_badly_hit(change: dict[str, object]) -> None:
    """A side host, lesser harm or a disputed host makes no hard conflict."""
    found = book(agent("blight", "leaf", host(ONE), host(OTHER, **change))).shared_enemies(ONE, OTHER, SITE)

    assert not found.hard


@pytest.mark.parametrize(
    ("distance_m", "verdict", "value"),
    [(0.0, "avoid", 0.55), (304.0, "avoid", 0.55), (305.0, "workable", 0.3), (805.0, None, 0.05)],
)
def test_a_rust_of_two_hosts_is_lifted_by_the_printed_distance(
    distance_m: float, verdict: str | None, value: float
) -> None:
    """White pine blister rust: '1,000 ft and preferably 0.5 mile' (Pacific Northwest handbook)."""
    apart = (305.0, 805.0)
    rust = agent(
        "rust",
        "alternate",
        host(ONE, role="alternate", apart_m=apart),
        host(OTHER, apart_m=apart),
        rust=True,
    )

    found = book(rust).shared_enemies(ONE, OTHER, SITE, distance_m=distance_m)

    assert [s.ceiling for s in found.agents] == ([] if verdict is None else [verdict])
    assert found.value == pytest.approx(value)
    if verdict:
        assert "305 m apart, better 805 m" in (found.lift or "")


def test_two_hosts_of_one_kind_do_not_pass_a_rust_to_each_other() -> None:
    """Two pines share no blister rust without a currant between them."""
    rust = agent("rust", "alternate", host(ONE, role="alternate"), host(OTHER, role="alternate"), rust=True)

    found = book(rust).shared_enemies(ONE, OTHER, SITE)

    assert found.value == pytest.approx(0.05)
    assert not found.hard


def test_what_lives_in_the_ground_is_a_condition_and_no_loss() -> None:
    """Verticillium on strawberry and tomato: workable, not on ground with a history (`trade` 6.2 T02)."""
    wilt = agent("wilt", "soil", host(ONE), host(OTHER), years=(10.0, None))

    found = book(wilt).shared_enemies(ONE, OTHER, SITE)

    assert found.value == pytest.approx(0.05)
    assert [(s.ceiling, s.given) for s in found.agents] == [("workable", "clean-ground")]
    assert "the last crops here stayed free of wilt" in (found.condition or "")
    assert "10 years or more" in found.agents[0].text


def test_ground_that_is_known_to_hold_it_is_said() -> None:
    """A slight soil disease caps nothing until the gardener says that this ground has it."""
    wilt = agent("wilt", "soil", host(ONE, harm="slight"), host(OTHER, role="side", harm=None))

    unknown = book(wilt).shared_enemies(ONE, OTHER, SITE)
    known = book(wilt).shared_enemies(ONE, OTHER, SITE, history=("wilt",))

    assert [s.ceiling for s in unknown.agents] == [None]
    assert [(s.ceiling, s.in_ground) for s in known.agents] == [("workable", True)]


def test_nematodes_are_named_and_hold_nothing() -> None:
    """However many nematodes two crops share, neither e nor the verdict moves; they come last."""
    worms = [agent(f"worm-{n}", "soil", host(ONE), host(OTHER), nematode=True) for n in range(12)]
    wilt = agent("wilt", "soil", host(ONE), host(OTHER))

    found = book(*worms, wilt).shared_enemies(ONE, OTHER, SITE)

    assert found.value == pytest.approx(0.05)
    assert found.agents[0].agent == "wilt"
    assert {s.ceiling for s in found.agents[1:]} == {None}


def test_a_host_without_printed_harm_is_named_and_not_counted() -> None:
    """A long list of harmless guests must not punish a plant that is well written about (notes 1.15)."""
    fly = agent("fly", "flying", host(ONE, harm=None), host(OTHER, harm=None))

    found = book(fly).shared_enemies(ONE, OTHER, SITE)

    assert [(s.agent, s.v) for s in found.agents] == [("fly", 0.0)]
    assert found.value == pytest.approx(0.05)


def test_shares_combine_each_agent_once() -> None:
    """Give e = 1 - (1 - .56)(1 - .3) within a family, at most the step of one genus (`notes` 1.15)."""
    kin = replace(OTHER, family=ONE.family)
    one = agent("moth", "flying", host(ONE), host(kin))
    two = agent("canker", "air", host(ONE), host(kin, role="side", harm=None))

    alone = book(two, profiles=(ONE, kin)).shared_enemies(ONE, kin, SITE)
    both = book(one, two, profiles=(ONE, kin)).shared_enemies(ONE, kin, SITE)

    assert alone.value == pytest.approx(0.45)  # the step of one family is the larger
    assert both.value == pytest.approx(1 - (1 - SERIOUS) * (1 - OTHER_V))


def test_a_group_has_the_list_of_its_species() -> None:
    """A statement on the species holds for each of its groups; one on the group goes before it."""
    group = invented("arula.red-group", genus=ONE.genus)
    blight = agent("blight", "leaf", host(ONE), host(group, role="resistant"), host(OTHER))
    moth = agent("moth", "flying", host(ONE), host(OTHER))

    found = book(blight, moth, profiles=(ONE, group, OTHER)).shared_enemies(group, OTHER, SITE)

    assert [s.agent for s in found.agents] == ["moth"]
    assert found.borrowed == ()


def test_no_list_is_no_good_news() -> None:
    """A plant without a list takes the worst of its listed genus, and never a hard conflict by it."""
    cousin = invented("arula-minor", genus=ONE.genus)
    blight = agent("blight", "leaf", host(ONE), host(OTHER))

    found = book(blight, profiles=(ONE, OTHER, cousin)).shared_enemies(cousin, OTHER, SITE)

    assert found.value == pytest.approx(0.55)
    assert found.borrowed == ("arula-minor",)
    assert not found.hard


def test_a_plant_lends_no_list_against_itself() -> None:
    """Blueberry with lingonberry, the heath bed of soft-fruit teaching: kinship, not one's list with itself.

    Another listed mate of the genus still lends its own (`computation-notes` 1.15).
    """
    cousin, mate = invented("arula-minor", genus=ONE.genus), invented("arula-major", genus=ONE.genus)
    blight, rust = agent("blight", "leaf", host(ONE)), agent("rust", "leaf", host(ONE), host(mate))

    alone = book(blight, rust, profiles=(ONE, OTHER, cousin)).shared_enemies(cousin, ONE, SITE)
    lent = book(blight, rust, profiles=(ONE, OTHER, cousin, mate)).shared_enemies(cousin, ONE, SITE)
    kin = book(agent("mite", "flying", host(OTHER)), profiles=(ONE, OTHER, cousin))

    assert alone.value == kin.shared_enemies(cousin, ONE, SITE).value
    assert lent.value == pytest.approx(SERIOUS)
    assert alone.value < lent.value


def test_a_family_stands_in_by_its_mean() -> None:
    """Without a listed relative in the genus, the mean of the listed family stands in."""
    kin = invented("dorma", family=ONE.family)
    unlisted = invented("elfa", family=ONE.family)
    moth = agent("moth", "flying", host(ONE), host(OTHER))
    mite = agent("mite", "flying", host(kin))

    found = book(moth, mite, profiles=(ONE, OTHER, kin, unlisted)).shared_enemies(unlisted, OTHER, SITE)

    assert found.value == pytest.approx(SERIOUS / 2)  # the mean of that and 0


KIN = replace(invented("dorla"), family=ONE.family)


def test_a_family_that_a_source_names_makes_its_members_hosts() -> None:
    """Clubroot attacks the cabbage family: a member without a record is a host through it, and says so."""
    rot = agent("club-root", "soil", host(ONE), host(OTHER), families=(host(ONE),))
    held = book(rot, agent("own", "air", host(KIN)), profiles=(ONE, OTHER, KIN))

    found = held.shared_enemies(KIN, OTHER, SITE).agents

    assert ["club-root"] == [one.agent for one in found]
    assert ("workable", "clean-ground") == (found[0].ceiling, found[0].given)
    assert "not recorded for dorla itself" in found[0].text
    assert "record:arula.enemy" in found[0].records
    assert held.listed(KIN.id)


def test_its_own_word_counts_before_its_family() -> None:
    """A kin on record as no host is none, whatever its family (until shown otherwise, it is one)."""
    free = host(KIN, role="non-host", harm=None)
    rot = agent("club-root", "soil", host(ONE), host(OTHER), free, families=(host(ONE),))

    assert () == book(rot, profiles=(ONE, OTHER, KIN)).shared_enemies(KIN, OTHER, SITE).agents


def test_kin_make_no_hard_conflict() -> None:
    """A host through its family may be none: a blight that is hard for two named hosts is not here."""
    blight = agent("leaf-blight", "leaf", host(ONE), host(OTHER), families=(host(ONE),))
    held = book(blight, agent("own", "air", host(KIN)), profiles=(ONE, OTHER, KIN))

    assert held.shared_enemies(ONE, OTHER, SITE).hard
    assert not held.shared_enemies(KIN, OTHER, SITE).hard


def test_a_plant_without_a_list_has_the_ground_enemies_of_its_genus() -> None:
    """No list, then the nearest listed relative's (`computation-notes` 1.15), as one after another."""
    unlisted = replace(invented("efla"), genus=ONE.genus)
    rot = agent("club-root", "soil", host(ONE), host(OTHER))
    held = book(rot, profiles=(ONE, OTHER, unlisted))

    assert not held.listed(unlisted.id)
    assert "workable" == held.shared_enemies(unlisted, OTHER, SITE).agents[0].ceiling
    assert ["club-root"] == [found.id for found, _ in held.listing(unlisted)]


def test_a_list_that_is_silent_is_no_word_that_it_is_safe() -> None:
    """Cabbage, turnip and rape are hosts of one wilt (Pacific Northwest handbook): mustard greens may be."""
    mates = [
        replace(invented(name), genus=ONE.genus, family=ONE.family) for name in ("efla", "ganna", "hilda")
    ]
    wilt = agent("wilt", "soil", host(mates[0]), host(mates[1]))
    own = agent("own", "air", host(mates[2]))
    lone = agent("lone-rot", "soil", host(mates[0]))
    held = book(wilt, own, lone, profiles=(ONE, OTHER, *mates))

    assert ["own", "wilt"] == [found.id for found, _ in held.listing(mates[2])]
    assert "genus" in str(next(of.through for found, of in held.listing(mates[2]) if found.id == "wilt"))


@pytest.mark.parametrize(("role", "hosts"), [("main", ["worm"]), ("non-host", [])])
def test_a_species_is_a_host_of_what_its_groups_agree_on(role: str, hosts: list[str]) -> None:
    """Beet cyst nematode is on record for cabbage and kale (Dutch nematode scheme): so for cole crops."""
    one, two = (Host(f"{ONE.id}.{group}", "main", "moderate") for group in ("kale-group", "head-group"))
    worm = agent("worm", "soil", one, replace(two, role=role), nematode=True)
    held = book(worm, agent("own", "air", host(ONE)))

    found = {listed.id: of for listed, of in held.listing(ONE)}

    assert ["own", *hosts] == sorted(found)
    assert all("groups" in (found[name].through or "") for name in hosts)


def test_a_printed_rotation_makes_a_condition() -> None:
    """Raspberry is in the rotation row of potato (Connecticut table, Verticillium wilt, 4 years)."""
    apart = {"role": "side", "harm": None, "gap_years": 4.0}
    in_row = book(agent("wilt", "soil", host(ONE, gap_years=4.0), host(OTHER, **apart)))
    named_only = book(agent("wilt", "soil", host(ONE), host(OTHER, role="side", harm=None)))

    assert "workable" == in_row.shared_enemies(ONE, OTHER, SITE).agents[0].ceiling
    assert named_only.shared_enemies(ONE, OTHER, SITE).agents[0].ceiling is None


def test_where_a_statement_was_made_is_told() -> None:
    """The country of the site is looked for among the regions that the statements print."""
    blight = agent("blight", "leaf", host(ONE, regions=("Washington, USA",)), host(OTHER))

    here = book(blight).shared_enemies(ONE, OTHER, replace(SITE, place="US-WA"))
    there = book(blight).shared_enemies(ONE, OTHER, replace(SITE, place="GB"))

    assert (here.agents[0].recorded_here, there.agents[0].recorded_here) == (True, False)
    assert here.value == there.value
    assert recorded_in(("worldwide",), "JP")
    assert not recorded_in(("worldwide",), None)


def test_one_species_shares_all_with_itself() -> None:
    """Like with like: e = 1, and no agent is held against it."""
    found = book(agent("blight", "leaf", host(ONE))).shared_enemies(ONE, replace(ONE), SITE)

    assert (found.value, found.agents) == (1.0, ())


HOSTS = st.builds(
    Host,
    plant=st.just(""),
    role=st.sampled_from(("main", "side", "alternate", "resistant", "non-host")),
    harm=st.sampled_from(("serious", "moderate", "slight", None)),
    contested=st.booleans(),
    apart_m=st.none() | st.tuples(st.floats(0, 500), st.floats(500, 1000)),
)


@st.composite
def agents(draw: st.DrawFn, name: str) -> Agent:
    """Any agent that lists the first two plants."""
    hosts = tuple(replace(draw(HOSTS), plant=profile.id) for profile in (ONE, OTHER))
    flags = {"rust": draw(st.booleans()), "nematode": draw(st.booleans())}
    return agent(name, draw(st.sampled_from(MODES)), *hosts, **flags)


LISTS = st.integers(1, 5).flatmap(lambda n: st.tuples(*(agents(f"agent-{i}") for i in range(n))))
DISTANCES = st.none() | st.floats(0, 1500)


@given(LISTS, DISTANCES)
def test_order_never_matters(some: tuple[Agent, ...], distance_m: float | None) -> None:
    """The same answer whichever plant comes first, and whatever the order of the agents."""
    forward = book(*some).shared_enemies(ONE, OTHER, SITE, distance_m=distance_m)
    backward = book(*reversed(some)).shared_enemies(OTHER, ONE, SITE, distance_m=distance_m)

    assert forward == backward
    assert 0 <= forward.value <= 1


@given(LISTS, agents("one-more"), DISTANCES)
def test_one_enemy_more_never_lowers_e(
    some: tuple[Agent, ...], more: Agent, distance_m: float | None
) -> None:
    """Between two plants that have lists, a further agent raises e or leaves it, and lifts nothing."""
    before = book(*some).shared_enemies(ONE, OTHER, SITE, distance_m=distance_m)
    after = book(*some, more).shared_enemies(ONE, OTHER, SITE, distance_m=distance_m)

    assert after.value >= before.value - 1e-12
    assert {s.agent for s in before.agents} <= {s.agent for s in after.agents}
    assert after.hard or not before.hard


@given(LISTS, st.floats(0, 1500), st.floats(0, 1500))
def test_distance_never_raises_e(some: tuple[Agent, ...], one_m: float, other_m: float) -> None:
    """Further apart is never worse, in e or in what it holds the verdict to."""
    near, far = (
        book(*some).shared_enemies(ONE, OTHER, SITE, distance_m=distance_m)
        for distance_m in sorted((one_m, other_m))
    )

    assert far.value <= near.value + 1e-12
    assert near.hard or not far.hard
    assert {s.agent for s in far.agents} <= {s.agent for s in near.agents}


@given(LISTS)
def test_the_matrix_says_what_the_pair_says(some: tuple[Agent, ...]) -> None:
    """For many plants at once e is that of each pair, and no pair that is held down is passed over."""
    whole = book(*some)
    pair = whole.shared_enemies(ONE, OTHER, SITE)

    assert whole.row(ONE, (OTHER,)) == pytest.approx([pair.value])
    assert np.array_equal(whole.named, whole.named.T)
    assert whole.holds(ONE, OTHER) or all(s.ceiling is None for s in pair.agents)
