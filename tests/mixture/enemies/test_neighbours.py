"""A neighbour that a source wants away from a crop, and a place on a list of hosts, are two things.

Expectations: Michigan State University Extension and the plant clinic of Cornell University, fact sheets on
hollyhock rust (mallows keep it and infect hollyhocks; weeds among them to be cleared). NIAB on fire blight.
"""

from dataclasses import replace

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.hosts import Agent, Host, Mode
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement
from kb.statements.neighbours import FILE, neighbours
from tests.mixture.profiles import chosen, lasting
from tests.mixture.real import shipped

PLANTS = {plant.id: plant for plant in shipped()[0]}
CROP = lasting("crop", family=chosen("Unaceae"))
KEEPER = lasting("keeper", family=chosen("Unaceae"))
ADVICE = "an invented guide wants it away"


def beside(a: str, b: str) -> PairAnswer:
    halves = Arrangement(share_a=0.5, share_b=0.5)
    return judge_pair(PLANTS[a], PLANTS[b], REFERENCE_SITE, halves, book=shipped()[1], draws=0)


def invented_answer(crop: Host, mode: Mode = "leaf") -> PairAnswer:
    rust = Agent("invented-rust", "invented rust", mode, (crop, Host(KEEPER.id, "main", None)))
    book = EnemyBook.of((rust,), [(p.id, p.genus, p.family.value) for p in (CROP, KEEPER)])
    halves = Arrangement(share_a=0.5, share_b=0.5)
    return judge_pair(CROP, KEEPER, REFERENCE_SITE, halves, book=book, draws=0)


def test_advice_against_a_neighbour_counts_more_than_a_list() -> None:
    """Serious on one, no word on the other: workable; poor where a source wants it away (judgement)."""
    listed = Host(CROP.id, "main", "serious")
    advised = replace(listed, not_beside=((KEEPER.id, ADVICE),))
    answer = invented_answer(advised)

    assert ("workable", "poor") == (invented_answer(listed).verdict, answer.verdict)
    assert ADVICE in answer.saying
    apart = next(found for found in answer.conditions if found.kind == "enemies")
    assert "keeper stands well apart from crop" in apart.text
    assert "good" == apart.verdict_if_met


def test_advice_needs_a_crop_that_is_known_to_suffer_and_an_enemy_that_passes() -> None:
    """Of a crop that is hardly harmed, or of an enemy of the ground, it makes nothing poor (judgement)."""
    slight = Host(CROP.id, "main", "slight", not_beside=((KEEPER.id, ADVICE),))
    serious = replace(slight, harm="serious")

    assert "workable" == invented_answer(slight).verdict
    assert "poor" != invented_answer(serious, "soil").verdict


@pytest.mark.parametrize("mallow", ["malva-sylvestris", "malva-moschata", "malva-verticillata"])
def test_mallows_beside_hollyhocks(mallow: str) -> None:
    """MSU Extension: hosts Alcea, Althaea, Lavatera, Malva; Cornell: a reservoir that infects hollyhocks."""
    answer = beside("alcea-rosea", mallow)

    assert "poor" == answer.verdict
    assert "rust" in answer.saying.casefold()
    assert "Michigan State University" in answer.saying
    assert answer.verdict == beside(mallow, "alcea-rosea").verdict


@pytest.mark.parametrize("fruit", ["pyrus-communis", "malus-domestica"])
def test_hawthorn_beside_pome_fruit(fruit: str) -> None:
    """NIAB, Prevention and control of fireblight: replace nearby hawthorns; wild cherry is no host of it."""
    answer = beside(fruit, "crataegus-monogyna")
    told = " ".join(found.text for found in answer.reasons)

    assert answer.verdict in {"poor", "avoid"}
    assert "fire blight lives on hawthorn" in told.casefold()
    assert "fire blight" not in beside(fruit, "prunus-avium").saying


def test_mallow_beside_others_and_marsh_mallow_beside_hollyhock_are_no_such_case() -> None:
    """Marsh mallow is on the same list of hosts, but nobody asks to clear it (MSU Extension)."""
    assert "apart" not in beside("alcea-rosea", "althaea-officinalis").saying
    assert "rust" not in beside("malva-sylvestris", "achillea-millefolium").saying


def test_every_keeper_and_crop_is_here_and_both_are_hosts() -> None:
    """A row of the list about plants that are no hosts here would do nothing (the shipped base)."""
    lists = {a.id: {h.plant: h for h in a.hosts} for a in shipped()[1].agents}
    rows = [(enemy, crop, keeper) for (enemy, crop), named in neighbours().items() for keeper, _ in named]

    assert rows, FILE
    for enemy, crop, keeper in rows:
        assert {crop, keeper} <= set(PLANTS)
        assert "serious" == lists[enemy][crop].harm
        assert lists[enemy][keeper].role in {"main", "side"}
