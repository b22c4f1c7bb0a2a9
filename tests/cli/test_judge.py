"""The command that judges a whole planting."""

import json
from pathlib import Path

import pytest

from tests.api.invented import BEAN_ID, HERB_ID, ROOT_ID, TREE_ID
from tests.cli.conftest import Command

THREE = ("judge", HERB_ID, ROOT_ID, BEAN_ID)


def test_a_planting_is_told_in_the_order_a_person_needs(traitbed: Command) -> None:
    """Cautions, the verdict, what each gets, jobs, gaps, pairs, evidence, within 80 columns."""
    said = traitbed(*THREE, "--share", "0.4", "--share", "-", "--share", "0.3")

    order = [
        "Cautions",
        "Squeezed out",
        "What each goes without",
        "Light at the leaf",
        "Root layers",
        "Jobs, and who does them",
        "Gaps",
        "The pairs in it",
        "Measures that describe",
        "As understood",
    ]
    assert 0 == said.code
    assert sorted(order, key=said.out.index) == order
    assert max(map(len, said.out.splitlines())) <= 80


def test_json_and_plan_are_the_answer_over_http(traitbed: Command, tmp_path: Path) -> None:
    """The plan that an answer carries, saved and read back, gives the same judgement."""
    first = json.loads(traitbed(*THREE, "--soil-depth-m", "0.5", "--json").out)
    plan = tmp_path / "plan.json"
    plan.write_text(json.dumps(first["plan"]), encoding="utf-8")
    again = json.loads(traitbed("judge", "--plan", str(plan), "--json").out)

    assert (first["verdict"], first["score"], first["members"]) == (
        again["verdict"],
        again["score"],
        again["members"],
    )


def test_a_tree_overhead_is_shown(traitbed: Command) -> None:
    """Its size as understood, and the words on digging."""
    out = traitbed("judge", HERB_ID, "--tree", TREE_ID, "--height-m", "6", "--distance-m", "2").out

    assert "buried cables" in out
    assert "under trial tree, 6 m high" in out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((), "NAME is missing"),
        ((HERB_ID, "nonesuch"), "number 2: No plant is called 'nonesuch'"),
        ((HERB_ID, ROOT_ID, "--share", "0.5"), "--share is given once for 2 plants"),
        ((HERB_ID, "--share-a", "0.5"), "--share-a"),
        ((HERB_ID, "--plan", "nowhere.json"), "holds the whole question"),
        (("--plan", "nowhere.json"), "cannot be read"),
    ],
)
def test_bad_questions_are_one_line(traitbed: Command, arguments: tuple[str, ...], said: str) -> None:
    """Exit code 2, what is wrong and how to mend it, on one line."""
    answer = traitbed("judge", *arguments)

    assert 2 == answer.code
    assert said in answer.err
    assert 1 == len(answer.err.strip().splitlines())


def test_a_fault_in_a_plan_is_told_by_its_place(traitbed: Command, tmp_path: Path) -> None:
    """The place in the file, and what is wrong there."""
    plan = tmp_path / "plan.json"
    plan.write_text('{"plants": [{"plant": "trial herb", "share": 3}]}', encoding="utf-8")
    answer = traitbed("judge", "--plan", str(plan))

    assert 2 == answer.code
    assert "/plants/0/share of the plan 3 is out of range" in answer.err
