"""The release note on the command line: warnings first, old before new, nothing half-written.

Every plant, source and number here is invented (`tests.api.invented`).
"""

import json
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from api.answers.change_words import PARTS as PART_WORDS
from api.answers.change_words import count_words, short_source
from api.answers.changes import PART_TRAITS
from kb.mixture.lists.verdict_changes import ENEMIES, PARTS
from kb.model import PlantId
from kb.repository import FilesRepository
from kb.versions.opened import open_version
from kb.vocabulary_store import load_vocabulary
from tests.api.invented import HERB_ID, ROOT, ROOT_ID, TREE, TREE_ID, caution, number
from tests.cli.conftest import Command

Made = Callable[..., Path]
DEPTH = "effective-rooting-depth"


@pytest.fixture
def older(base: Path, tmp_path: Path) -> Path:
    """A checkout of yesterday: the invented base, standing by itself since it has a vocabulary."""
    folder = tmp_path / "older"
    shutil.copytree(base, folder)
    (folder / "vocabulary").mkdir()
    return folder


@pytest.fixture
def newer(older: Path, tmp_path: Path) -> Path:
    """The same a day later: one warning gone, one added, one depth moved by another study."""
    folder = tmp_path / "newer"
    shutil.copytree(older, folder)
    store = FilesRepository(None, folder)
    store.put_plant(
        replace(ROOT, cautions=(*ROOT.cautions[1:], caution(ROOT_ID, "thorn", "Invented: it pricks.")))
    )
    deep = replace(
        number(TREE_ID, DEPTH, "3.0", None, "5.0"),
        id=f"{TREE_ID}.{DEPTH}.invented.2",
        conditions=(("study", "deep pit"),),
    )
    deeper = replace(deep, id=f"{TREE_ID}.{DEPTH}.invented.3", conditions=(("study", "deeper pit"),))
    store.put_plant(replace(TREE, records=(*TREE.records, deep, deeper)))
    return folder


def asked(traitbed: Command, *arguments: Any) -> dict[str, Any]:
    """Give the answer as JSON."""
    answer: dict[str, Any] = json.loads(traitbed("changes", *arguments, "--json").out)
    return answer


def test_warnings_come_first_and_what_is_gone_before_what_is_new(
    traitbed: Command, older: Path, newer: Path
) -> None:
    """The lost warning stands before the new one, and both before any value or verdict."""
    said = traitbed("changes", older, newer)
    places = [
        said.out.index(words)
        for words in (
            "No longer in the files, though nobody retired it.",
            "it pricks",
            "IN SHORT",
            "Effective rooting",
        )
    ]

    assert 0 == said.code
    assert sorted(places) == places
    assert "is no proof that a plant is safe" in " ".join(said.out.split())


def test_a_value_is_told_from_old_to_new_with_unit_and_cause(
    traitbed: Command, older: Path, newer: Path
) -> None:
    """Two pits of 3 to 5 m beside one of 1.0 to 1.8 m move the depth from 1.3 to about 2.7 m.

    By hand: sqrt(1.0 x 1.8) = 1.342, sqrt(3 x 5) = 3.873; the mean of logarithms of three studies is
    (1.342 x 3.873 x 3.873)^(1/3) = 2.720. They are told in steps of a quarter of their doubt.
    """
    (plant,) = (one for one in asked(traitbed, older, newer)["plants"] if one["plant"] == TREE_ID)
    (value,) = (one for one in plant["values"] if one["trait"] == DEPTH)

    assert (1.342, 2.72) == (value["before"]["likely"], value["after"]["likely"])
    assert value["text"].startswith("Effective rooting depth: 1.4 (0.8 to 2.2) → 2.5 m (1.5 to 5)")
    assert "because two studies were added (Invented for the tests" in value["text"]


def test_order_is_not_symmetric(traitbed: Command, older: Path, newer: Path) -> None:
    """The other way round the added warning is the one that is gone."""
    there, back = asked(traitbed, older, newer), asked(traitbed, newer, older)

    assert [("gone", "livestock"), ("added", "thorn")] == [(c["event"], c["kind"]) for c in there["cautions"]]
    assert [("gone", "thorn"), ("added", "livestock")] == [(c["event"], c["kind"]) for c in back["cautions"]]
    assert [there["versions"]["old"], there["versions"]["new"]] == [
        back["versions"]["new"],
        back["versions"]["old"],
    ]


def test_an_untouched_version_says_that_nothing_changed(
    traitbed: Command, older: Path, tmp_path: Path
) -> None:
    """A copy of a folder differs in nothing; no pair is judged."""
    shutil.copytree(older, tmp_path / "copy")
    said = traitbed("changes", older, tmp_path / "copy")

    assert (0, True) == (said.code, said.out.rstrip().endswith("Nothing changed."))
    assert "Judging" not in said.err
    assert "WARNINGS" not in said.out


def test_without_new_the_store_in_use_is_the_newer_one(
    traitbed: Command, older: Path, base: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """OLD alone is held against the shipped base, or the store that is named."""
    own = tmp_path / "own"
    FilesRepository(base, own).put_plant(
        replace(TREE, cautions=(*TREE.cautions, caution(TREE_ID, "thorn", "Invented: it pricks.")))
    )

    assert not asked(traitbed, older)["changed"]
    assert ["added"] == [c["event"] for c in asked(traitbed, older, "--store", own)["cautions"]]
    monkeypatch.setenv("TRAITBED_STORE", str(own))
    assert ["added"] == [c["event"] for c in asked(traitbed, older)["cautions"]]
    assert ["gone"] == [c["event"] for c in asked(traitbed, own, base)["cautions"]]


def test_verdicts_are_counted_and_each_change_is_listed(traitbed: Command, older: Path, newer: Path) -> None:
    """The table adds up to the pairs tried, and every pair off the diagonal is listed."""
    verdicts = asked(traitbed, older, newer)["verdicts"]
    moved = sum(row["pairs"] for row in verdicts["table"] if row["from"] != row["to"])

    assert verdicts["tried"] == sum(row["pairs"] for row in verdicts["table"])
    assert moved == len(verdicts["changed"])
    assert asked(traitbed, older, newer, "--pairs", "0")["verdicts"] is None
    assert 2 == asked(traitbed, older, newer, "--pairs", "2")["verdicts"]["tried"]


def test_markdown_is_whole_and_takes_nothing_for_markup(
    traitbed: Command, older: Path, newer: Path, tmp_path: Path
) -> None:
    """What a record says is text: its brackets and stars do not become links or bold print."""
    store = FilesRepository(None, newer)
    store.put_plant(replace(TREE, cautions=(caution(TREE_ID, "toxic", "*Stones* <b> [bitter](x) | #1."),)))
    out = tmp_path / "note.md"
    said = traitbed("changes", older, newer, "--out", out)
    text = out.read_text(encoding="utf-8")

    assert (0, "") == (said.code, said.out)
    assert text.startswith("# What changed in the knowledge base\n")
    assert r"\*Stones\* \<b\> \[bitter\](x) \| \#1." in text
    assert "\n\n\n" not in text
    assert ["note.md"] == [path.name for path in tmp_path.iterdir() if path.is_file()]


def test_brief_leaves_out_plant_by_plant_and_no_warning(traitbed: Command, older: Path, newer: Path) -> None:
    """The short note keeps every warning."""
    said = traitbed("changes", older, newer, "--brief").out

    assert "PLANT BY PLANT" not in said
    assert "it pricks" in said


def test_a_broken_file_is_named_and_its_plant_left_out_of_both(
    traitbed: Command, older: Path, newer: Path
) -> None:
    """A file that cannot be read is no change: its plant is not said to be gone, and the rest is compared."""
    path = newer / "plants" / "fictaria" / "radicosa.ttl"
    path.write_text("no Turtle at all", encoding="utf-8")
    answer = asked(traitbed, older, newer)

    assert [("new", "plants/fictaria/radicosa.ttl", ROOT_ID)] == [
        (one["side"], one["file"], one["plant"]) for one in answer["left_out"]
    ]
    assert ([], []) == (answer["fates"], answer["cautions"])
    assert [TREE_ID] == [one["plant"] for one in answer["plants"]]
    assert f"Nothing is said here about {ROOT_ID}." in " ".join(traitbed("changes", older, newer).out.split())


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("{older}", "{older}"), "OLD and NEW are the same folder"),
        (("{older}/../older", "{older}"), "OLD and NEW are the same folder"),
        (("{base}",), "OLD and NEW are the same folder"),
        (("{older}/nothing",), "is no folder"),
        (("{older}/plants/inventa/arborea.ttl",), "is no folder"),
        (("{older}/plants",), "holds no plants/; name one that holds plants/"),
        (("{outer}",), "holds no plants/; name '"),
        (("{older}", "{newer}", "--store", "{base}"), "Name the newer version once"),
        (("{older}", "{newer}", "--json", "--out", "x.md"), "--out is for readable text"),
        (("{older}", "{newer}", "--json", "--brief"), "--brief is for readable text"),
        (("{older}", "{newer}", "--out", "note.txt"), "ends in .md"),
        (("{older}", "{newer}", "--out", "{older}/none/note.md"), "cannot be written"),
        (("{older}", "{newer}", "--pairs", "-1"), "--pairs"),
        (("{older}", "{newer}", "--pairs", "many"), "--pairs"),
        ((), "Missing argument"),
    ],
)
def test_bad_input_is_one_line_and_exit_code_2(
    traitbed: Command,
    older: Path,
    newer: Path,
    base: Path,
    tmp_path: Path,
    arguments: tuple[str, ...],
    said: str,
) -> None:
    """What is wrong is said, and nothing is written."""
    outer = tmp_path / "outer"
    shutil.copytree(older, outer / "kb")
    given = [a.format(older=older, newer=newer, base=base, outer=outer) for a in arguments]
    found = traitbed("changes", *given)
    lines = [line for line in found.err.splitlines() if line.startswith("traitbed: ")]

    assert (2, "", 1) == (found.code, found.out, len(lines))
    assert said in lines[0]
    assert not (older / "none").exists()


def test_how_each_version_was_read_is_said(
    traitbed: Command, older: Path, base: Path, tmp_path: Path
) -> None:
    """A base by itself and records of one's own are told apart, never guessed in silence."""
    own = tmp_path / "own"
    FilesRepository(base, own).put_plant(TREE)
    versions = asked(traitbed, older, own)["versions"]

    assert ["a base by itself", "records of one's own over the shipped base"] == [
        versions[side]["how"] for side in ("old", "new")
    ]
    assert HERB_ID in open_version(str(own)).snapshot.plants
    assert PlantId(TREE_ID) in open_version(str(older)).snapshot.plants


def test_a_verdict_that_moved_by_a_stand_in_says_so(traitbed: Command, older: Path, newer: Path) -> None:
    """The false herb has no depth on record: that of its genus stands in, and it is the genus that moved."""
    changed = {
        (change["a"], change["b"]): change for change in asked(traitbed, older, newer)["verdicts"]["changed"]
    }
    change = changed["fictaria-radicosa", "inventa-falsa"]

    assert [("roots", [])] == [(did["part"], did["records"]) for did in change["did_it"]]
    assert change["did_it"][0]["text"].endswith("not on record: a guess from its near kin or its form moved")


@pytest.mark.parametrize(
    ("citation", "name"),
    [
        ("Made, A.B., Up, C.D., Else, E. (1901) A tale of roots", "Made and others (1901)"),
        ("Made AB (1901) A tale of roots. Invented Journal 1: 2-3", "Made (1901)"),
        ("Made AB & Up CD (1901a) A tale of roots", "Made and others (1901a)"),
        ("Invented Office: a leaflet on rust. The town of Nowhere", "Invented Office"),
        ("A list of plants that nobody wrote, with more words than anyone wants to read at once",
         "A list of plants that nobody wrote, with more words than …"),
    ],
)  # fmt: skip
def test_a_source_is_named_in_a_few_words(citation: str, name: str) -> None:
    """First author and year, else who or what it is; never a whole citation within a sentence."""
    assert name == short_source(citation)


def test_numbers_to_twelve_are_words() -> None:
    """Counts read as a person would say them."""
    assert ["no records", "one record", "twelve records", "2 318 records"] == [
        count_words(count, "record") for count in (0, 1, 12, 2318)
    ]


def test_every_part_of_a_plant_has_words_and_traits() -> None:
    """What did it can always be said, and its traits are in the vocabulary."""
    traits = {trait for named in PART_TRAITS.values() for trait in named}

    assert set(PARTS) == set(PART_WORDS) == set(PART_TRAITS)
    assert ENEMIES not in PARTS
    assert set() == traits - set(load_vocabulary().traits)
