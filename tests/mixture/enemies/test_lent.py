"""A plant without a list of pests: whose list stands in and what it names (computation-notes 1.15)."""

from dataclasses import replace

from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.harm import Harm
from kb.mixture.enemies.hosts import Agent, Host
from kb.mixture.judging.findings import Two
from kb.mixture.judging.lent_words import lent_reason, no_list, no_list_of
from kb.mixture.judging.unknowns import doubts_of
from kb.mixture.profile import Profile
from kb.mixture.relatedness import relation
from kb.mixture.site import Site
from tests.mixture.profiles import invented

LEEK, ONION = invented("arula-leek"), invented("belta")
MATE = replace(invented("arula-mate"), genus=LEEK.genus)
COUSIN = replace(invented("arula-cousin"), genus=LEEK.genus)
LONE = replace(invented("dorma"), family=replace(ONION.family, value="Lonaceae"))
PLANTS = (LEEK, ONION, MATE, COUSIN, LONE)


def fly(*plants: Profile) -> Agent:
    hosts = (Host(plant.id, "main", "serious", records=(f"record:{plant.id}.enemy",)) for plant in plants)
    return Agent("onion-fly", "onion fly", "flying", tuple(hosts))


def two(a: Profile, b: Profile, *agents: Agent) -> Two:
    plants = [(p.id, p.genus, p.family.value) for p in PLANTS]
    book = EnemyBook.of(agents, plants, names={p.id: p.name for p in PLANTS})
    found = book.shared_enemies(a, b, Site())
    return Two((a, b), relation(a, b), Harm(found.value, (), found), "bed")


def test_the_relative_and_what_its_list_names_are_said() -> None:
    """Ramsons beside onions: no list of its own, so 'as leek has it', as handbooks of alliums treat them."""
    pair = two(COUSIN, ONION, fly(LEEK, ONION))
    said = lent_reason(pair)

    assert said is not None
    assert said.text == (
        f"{COUSIN.name} and {ONION.name} may share onion fly, going by the list of {LEEK.name}: "
        f"{COUSIN.name} has none on record."
    )
    assert said.records == ("record:arula-leek.enemy", "record:belta.enemy")
    assert no_list(pair).endswith(f"that of {LEEK.name} stands in; harmful to both there: onion fly.")


def test_two_cousins_without_lists_borrow_of_two_others() -> None:
    """A list is not held against itself (soft-fruit teaching: cousins share what two listed kinds share)."""
    pair = two(COUSIN, invented("arula-fourth", genus=LEEK.genus), fly(LEEK, MATE))

    assert pair.harm.loan is not None
    assert not pair.harm.loan.agents  # the fourth is in no book, so nobody lends to it

    known = two(COUSIN, ONION, fly(LEEK), Agent("mite", "mite", "flying", fly(ONION).hosts))
    assert no_list(known).endswith("stands in; nothing there harms both.")


def test_where_nobody_lends_kinship_alone_counts_and_says_so() -> None:
    """Not knowing is told, never left out (common practice of reports)."""
    pair = two(LONE, ONION, fly(LEEK, ONION))

    assert lent_reason(pair) is None
    assert no_list(pair).endswith(f"for {LONE.name}: no relative lends one, so kinship alone counts.")


def test_one_line_names_all_without_a_list() -> None:
    """A planting of many without lists says it once (plain writing, common practice)."""
    pairs = [two(COUSIN, ONION, fly(LEEK, ONION)), two(LONE, ONION, fly(LEEK, ONION))]
    said = no_list_of(pairs)

    assert said.count("No list") == 1
    assert f"that of {LEEK.name} stands in for {COUSIN.name}" in said
    assert f"no relative lends one for {LONE.name}" in said


def test_a_missing_list_makes_the_worst_word_no_less_sure() -> None:
    """A list could only add to what is to avoid already (common sense of any check list)."""
    notes = (no_list(two(COUSIN, ONION, fly(LEEK, ONION))), "Check first.")

    assert doubts_of(notes, "avoid", ()) == notes[1:]
    assert doubts_of(notes, "poor", ()) == notes
