"""``traitbed outcomes`` over an invented table of the invented planting; no row is a measurement."""

import json
from pathlib import Path

import pytest

from tests.api.invented import BEAN_ID
from tests.cli.conftest import Command

HEADER = "species_a,species_b,common_a,common_b,study,doi,design,partial_ler_a,partial_ler_b,ler"
INVENTED = (
    "Fictaria fabulosa,Inventa herbacea,,,invented:1,,Additive,0.3,0.9,1.2",
    "Inventa herbacea,Fictaria fabulosa,,,invented:2,,Replacement,0.9,0.4,1.3",
    "Inventa herbacea,Fictaria fabulosa,,,doi:10.1016/j.fcr.2012.07.014,,,0.4,0.8,1.2",
    "Inventa herbacea,Fictaria radicosa,,,invented:2,,Additive,0.6,0.5,1.1",
    "Inventa herbacea,Inventa arborea,,trial tree,invented:1,,,0.5,0.9,1.4",
    "Fictaria sp.,Inventa herbacea,trialwort,,invented:3,,,0.5,0.9,1.4",
    "Inventa herbacea,Inventa vetusta,,,invented:3,,,0.5,0.5,1.0",
    "Fictaria radicosa,Fictaria fabulosa,,,invented:4,,,,,1.0",
)


@pytest.fixture
def invented_table(tmp_path: Path) -> Path:
    """A table marked invented, in the shape of the real one."""
    file = tmp_path / "invented.csv"
    file.write_text("\n".join([HEADER, *INVENTED]) + "\n", encoding="utf-8")
    return file


def test_the_shape_is_that_of_the_contract(traitbed: Command, invented_table: Path) -> None:
    """Keys and counts as `interface` names them; order of the two plants means nothing."""
    answer = json.loads(traitbed("outcomes", str(invented_table), "--json").out)

    assert {"all", "new_studies", "baselines", "not_judged", "question", "dataset_version"} <= set(answer)
    assert (2, 4) == (answer["all"]["n_pairs"], answer["all"]["n_study_pairs"])
    assert {"value", "low", "high"} == set(answer["all"]["sign"]) == set(answer["all"]["rho"])
    assert {"value", "n", "p"} <= set(answer["all"]["concordance"])
    assert all({"sign", "rho"} <= set(found) for found in answer["baselines"].values())
    # By height and legume the bean loses to the herb (right in two studies, wrong in one) and the herb,
    # the lower, to the root (wrong).
    assert 0.5 == answer["all"]["sign"]["value"]


def test_studies_that_gave_constants_are_left_out_once(traitbed: Command, invented_table: Path) -> None:
    """The study whose DOI is among those of the constants counts in one set and not in the other."""
    answer = json.loads(traitbed("outcomes", str(invented_table), "--json").out)

    assert 3 == answer["new_studies"]["n_study_pairs"]
    assert 1 < len(answer["new_studies"]["baselines"])


def test_what_could_not_be_judged_is_told_with_why(traitbed: Command, invented_table: Path) -> None:
    """Woody, unknown or ambiguous, the same plant twice, nothing measured: each once with its reason."""
    told = json.loads(traitbed("outcomes", str(invented_table), "--json").out)["not_judged"]
    why = {" ".join(entry["pair"]): entry["why"] for entry in told}

    assert 4 == len(told)
    assert any("woody" in reason for reason in why.values())
    assert any("No plant is called 'Fictaria sp.'" in reason for reason in why.values())
    assert any("the same plant" in reason for reason in why.values())
    assert any("neither" in reason or "both partial LERs" in reason for reason in why.values())


def test_it_reads_as_text(traitbed: Command, invented_table: Path) -> None:
    """Every baseline, both sets and the nulls, with what was assumed."""
    out = " ".join(traitbed("outcomes", str(invented_table)).out.split())

    for words in (
        "Every study: 4 study-pairs of 2 pairs",
        "Studies that gave no constants: 3 study-pairs",
        "taller wins",
        "deeper wins",
        "leaving one pair out",
        "replacement designs",
        "What such data do not show",
        "Not judged: 4 pairs",
    ):
        assert words in out


@pytest.mark.parametrize(
    ("content", "told"),
    [(None, "there is no file"), ("a,b\n1,2\n", "lacks the columns"), (HEADER, "holds no rows")],
)
def test_a_bad_file_is_one_line(traitbed: Command, tmp_path: Path, content: str | None, told: str) -> None:
    """Exit code 2, what is wrong and where."""
    file = tmp_path / "bad.csv"
    if content is not None:
        file.write_text(content, encoding="utf-8")
    said = traitbed("outcomes", str(file))

    assert (2, 1) == (said.code, len(said.err.splitlines()))
    assert told in said.err


def test_the_pair_answer_says_who_is_suppressed(traitbed: Command) -> None:
    """Without days to full cover the answer says so and by what it was found."""
    answer = json.loads(traitbed("pair", BEAN_ID, "fictaria-radicosa", "--json").out)

    assert BEAN_ID == answer["suppressed"]
    assert "about 3 in 4" in answer["suppressed_note"]
    assert "are not on record; height, root depth, and which is a legume" in answer["suppressed_note"]
