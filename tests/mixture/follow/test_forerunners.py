"""A forerunner that a source names against a crop, and a place on a list of hosts, are two things.

Expectations: PNW Plant Disease Management Handbook (Verticillium wilt of strawberry, spinach and raspberry),
the rotation table of the University of Connecticut, UC IPM (cane fruits), AHDB and Plant Disease 72:883
(take-all).
"""

from dataclasses import replace

import pytest

from kb.mixture.answers.succession import judge_follow
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.hosts import Agent, Host
from kb.mixture.follow.grown_after import ROTATION_YEARS, FollowOn
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE
from kb.statements.forerunners import FILE, forerunners
from tests.mixture.profiles import invented, season
from tests.mixture.real import shipped

PLANTS = {plant.id: plant for plant in shipped()[0]}
FIRST = invented("early-crop", activity=season(12, 16, 24, 28))
THEN = invented("late-crop", activity=season(20, 26, 36, 40))
ADVICE = "an invented guide advises against it"


def follows(first: str, then: str, **asked: object) -> PairAnswer:
    said = FollowOn(**asked)  # type: ignore[arg-type]
    return judge_follow(PLANTS[first], PLANTS[then], REFERENCE_SITE, said, book=shipped()[1], draws=0)


def invented_answer(second: Host, **asked: object) -> PairAnswer:
    rot = Agent("invented-rot", "invented rot", "soil", (Host(FIRST.id, "main", "serious"), second))
    book = EnemyBook.of((rot,), [(p.id, p.genus, p.family.value) for p in (FIRST, THEN)])
    said = FollowOn(**asked)  # type: ignore[arg-type]
    return judge_follow(FIRST, THEN, REFERENCE_SITE, said, book=book, draws=0)


def test_advice_against_a_forerunner_counts_more_than_a_list() -> None:
    """Strangers, both serious hosts: workable by the list (`trade` 4.6), poor against advice (judgement)."""
    listed = Host(THEN.id, "main", "serious")
    advised = replace(listed, not_after=((FIRST.id, ADVICE),))

    assert "workable" == invented_answer(listed).verdict
    assert "poor" == invented_answer(advised).verdict
    assert ADVICE in invented_answer(advised).saying
    assert "good" == invented_answer(advised, given=frozenset({"clean-ground"})).verdict


def test_advice_needs_a_crop_that_is_known_to_suffer() -> None:
    """Of a crop that is hardly harmed the advice makes nothing poor (judgement: as of kin)."""
    hardly = Host(THEN.id, "main", "slight", not_after=((FIRST.id, ADVICE),))

    assert "good" == invented_answer(hardly).verdict


@pytest.mark.parametrize("first", ["solanum-tuberosum", "solanum-lycopersicum", "solanum-melongena"])
def test_strawberry_after_the_potato_family(first: str) -> None:
    """PNW handbook, Strawberry - Verticillium wilt, Cause: not after solanaceous crops that showed it."""
    soon = follows(first, "fragaria-x-ananassa")

    assert "poor" == soon.verdict
    assert "Verticillium wilt" in soon.saying
    assert "handbook of plant diseases" in soon.saying
    assert {"clean-ground"} <= {c.given for c in soon.conditions if c.verdict_if_met == "good"}
    assert "good" == follows(first, "fragaria-x-ananassa", given=frozenset({"clean-ground"})).verdict


def test_the_years_between_end_it() -> None:
    """The rotation table of the University of Connecticut asks for four years between these crops."""
    by_years = [follows("solanum-tuberosum", "fragaria-x-ananassa", gap_years=y).verdict for y in (1, 3, 4)]

    assert ["poor", "workable", "good"] == by_years
    assert 3 == ROTATION_YEARS


def test_black_raspberry_suffers_and_red_hardly() -> None:
    """PNW handbook, Raspberry: particularly serious in black, rarely red; UC IPM: not after tomatoes."""
    black, red = (follows("solanum-lycopersicum", f"rubus-{kind}") for kind in ("occidentalis", "idaeus"))

    assert ("poor", "workable") == (black.verdict, red.verdict)


@pytest.mark.parametrize("first", ["solanum-tuberosum", "fragaria-x-ananassa"])
def test_spinach_is_picked_before_the_wilt_shows(first: str) -> None:
    """PNW handbook, Spinach - Verticillium wilt, Symptoms: not seen in fresh market or processing crops."""
    said = follows(first, "spinacia-oleracea", clear_week_a=27, sow_week_b=32)

    assert "good" == said.verdict
    assert "Verticillium" not in said.saying
    assert any("Verticillium wilt" in note for note in said.notes)


@pytest.mark.parametrize(
    ("first", "then", "expected"),
    [
        ("triticum-aestivum", "hordeum-vulgare", "workable"),
        ("triticum-aestivum", "triticum-aestivum", "poor"),
        ("hordeum-vulgare", "triticum-aestivum", "poor"),
    ],
)
def test_take_all_is_told_of_a_second_cereal(first: str, then: str, expected: str) -> None:
    """AHDB: the most important disease of wheat in the UK; barley less hit (Plant Disease 72:883)."""
    said = follows(first, then)

    assert expected == said.verdict
    assert "take-all" in said.saying


def test_oats_break_take_all() -> None:
    """AHDB and Plant Disease 72:883: oats are not susceptible."""
    assert "take-all" not in follows("avena-sativa", "triticum-aestivum").saying


def test_every_forerunner_and_crop_is_here_and_both_are_hosts() -> None:
    """A row of the list about plants that are no hosts here would do nothing (the shipped base)."""
    lists = {a.id: {h.plant: h for h in a.hosts} for a in shipped()[1].agents}
    rows = [(enemy, then, first) for (enemy, then), named in forerunners().items() for first, _ in named]

    assert rows, FILE
    for enemy, then, first in rows:
        assert {then, first} <= set(PLANTS)
        assert "serious" == lists[enemy][then].harm
        assert lists[enemy][first].role in {"main", "side"}
